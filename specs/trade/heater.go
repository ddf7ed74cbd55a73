package trade

import "math"

// Efficiency of a water heater whose plate doesn't state one: the share of the
// input that reaches the water. Source: HeaterDefaults (common practice, no
// source). Mark a figure from them as assumed.
const (
	ElectricHeaterEfficiency = 0.98
	GasHeaterEfficiency      = 0.80
)

// HeaterDefaults is the source of the efficiencies assumed.
var HeaterDefaults = Source{"A water heater without a plate passes on 98 percent (electric) or 80 percent (gas) of its input", "", "", CommonPractice}

// RushHours returns how long a storage heater keeps up with a draw.
//
//	t = storage x usable / (draw - recovery), +Inf when it recovers as fast
//
// gal, gph, hours; NaN for negative values or a usable share outside 0 to 1.
// Source: MixingBalance (derived); the usable share is [UsableShare]. Example:
// 80 gal, 0.7, 40 gph against 75 gph: 1.6 h.
func RushHours(storageGal, usable, recoveryGPH, drawGPH float64) float64 {
	switch {
	case !notNegative(storageGal, recoveryGPH, drawGPH) || !(usable > 0 && usable <= 1):
		return math.NaN()
	case drawGPH <= recoveryGPH:
		return math.Inf(1)
	}
	return storageGal * usable / (drawGPH - recoveryGPH)
}

// RushGPH returns the draw that a storage heater sustains through a rush: its
// recovery and an even share of its store.
//
//	gph = recovery + storage x usable / hours
//
// In the first hour that is [FirstHourGal]; over a long evening it falls to
// the recovery. Units as [RushHours]; NaN unless the hours are positive.
// Example: 80 gal, 0.7, 40 gph, 4 h: 54 gph.
func RushGPH(storageGal, usable, recoveryGPH, hours float64) float64 {
	if !notNegative(storageGal, recoveryGPH) || !positive(hours) || !(usable > 0 && usable <= 1) {
		return math.NaN()
	}
	return recoveryGPH + storageGal*usable/hours
}

// HeaterLimits are the highest temperatures that each part of a hot-water
// supply may be told, degrees F. Zero or NaN is a limit that isn't there.
type HeaterLimits struct {
	PlateF float64 // the heater's own
	ValveF float64 // hot inlet of the mixing valve after it
	PipeF  float64 // the weakest pipe, see [SupplyTempLimit]
	CodeF  float64 // the adopted code or the authority
}

// A HeaterBound names the part that limits a set point.
type HeaterBound int

const (
	NoHeaterBound HeaterBound = iota
	PlateBound
	ValveBound
	PipeBound
	CodeBound
)

// Ceiling returns the highest temperature that a heater may be told and what
// sets it; NaN and NoHeaterBound when no limit is known. A tie goes to the
// earlier field. Before a heater is told more, insulate, circulate or bring it
// nearer.
func (l HeaterLimits) Ceiling() (float64, HeaterBound) {
	best, which := math.NaN(), NoHeaterBound
	for i, f := range []float64{l.PlateF, l.ValveF, l.PipeF, l.CodeF} {
		if positive(f) && !(f >= best) {
			best, which = f, HeaterBound(i+1)
		}
	}
	return best, which
}

// StorageTooCool reports whether stored water stands below what keeps
// legionella from growing: a caution. False for NaN. Source: Legionella.
func StorageTooCool(storageF float64) bool { return storageF < LegionellaStorageF }

// HandSinkTooHot reports whether water at a hand sink needs limiting: a
// caution. False for NaN. Source: ASSE1070. Exactly 120 F does not.
func HandSinkTooHot(outletF float64) bool { return outletF > HandWashLimitF }
