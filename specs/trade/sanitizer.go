package trade

import (
	"fmt"
	"math"
)

// A WasherKind is a spray-type warewashing machine as the Food Code sorts them.
type WasherKind int

const (
	StationarySingleTemp WasherKind = iota + 1 // hot water sanitising
	StationaryDualTemp                         // hot water sanitising
	ConveyorSingleTank                         // hot water sanitising, dual temperature
	ConveyorMultiTank                          // hot water sanitising
	ChemicalSpray                              // chemical sanitising, any spray type
)

// String returns the kind in words.
func (k WasherKind) String() string {
	switch k {
	case StationarySingleTemp:
		return "stationary rack, single temperature, hot water sanitising"
	case StationaryDualTemp:
		return "stationary rack, dual temperature, hot water sanitising"
	case ConveyorSingleTank:
		return "single tank, conveyor, dual temperature, hot water sanitising"
	case ConveyorMultiTank:
		return "multitank, conveyor, multitemperature, hot water sanitising"
	case ChemicalSpray:
		return "chemical sanitising, spray type"
	}
	return "unknown kind of machine"
}

// WashMinF returns the least wash temperature in degrees F. The data plate may
// ask more. Source: FoodCode4_501_110. Example: chemical 120.
func WashMinF(kind WasherKind) (float64, error) {
	switch kind {
	case StationarySingleTemp:
		return 165, nil
	case StationaryDualTemp, ConveyorMultiTank:
		return 150, nil
	case ConveyorSingleTank:
		return 160, nil
	case ChemicalSpray:
		return 120, nil
	}
	return 0, rangeError("kind of machine", float64(kind), "one of the Food Code's")
}

// ManifoldMaxF is the hottest fresh sanitising rinse as it enters the manifold,
// degrees F. Source: FoodCode4_501_112.
const ManifoldMaxF = 194.0

// ManifoldMinF returns the least temperature of the fresh hot-water sanitising
// rinse at the manifold: 165 F for stationary rack single temperature, 180 F
// for the others. A chemical machine has none: ErrRange. Source:
// FoodCode4_501_112.
func ManifoldMinF(kind WasherKind) (float64, error) {
	switch kind {
	case StationarySingleTemp:
		return 165, nil
	case StationaryDualTemp, ConveyorSingleTank, ConveyorMultiTank:
		return 180, nil
	}
	return 0, fmt.Errorf("%v has no hot-water sanitising rinse: %w", kind, ErrRange)
}

// Flow pressure of the fresh hot-water sanitising rinse in psi, measured in
// the line at the rinse control valve. Some states still print 15 to 25.
// Source: FoodCode4_501_113.
const (
	RinsePressureMinPSI = 5.0
	RinsePressureMaxPSI = 30.0
)

// RinsePressureApplies reports whether the 5 to 30 psi rule covers a rinse: a
// fresh hot-water sanitising rinse only. It is no limit of the supply line and
// covers neither a chemical-sanitising nor a pumped rinse. Source:
// FoodCode4_501_113.
func RinsePressureApplies(kind WasherKind, pumped bool) bool {
	return kind >= StationarySingleTemp && kind <= ConveyorMultiTank && !pumped
}

// RinsePressureOK reports whether a flow pressure lies in the rule's range;
// NaN does not. The data plate's range holds as well. Source: FoodCode4_501_113.
func RinsePressureOK(psi float64) bool {
	return psi >= RinsePressureMinPSI && psi <= RinsePressureMaxPSI
}

// ChlorineMinF returns the least temperature in degrees F at which a chlorine
// solution sanitises.
//
//	mg/L     pH to 10   pH to 8
//	25-49    120        120
//	50-99    100         75
//	100       55         55
//
// Below 25 mg/L or above pH 10 no row applies: ErrRange. Above 100 mg/L the
// last row is taken; the label's upper limit is not checked. The registered
// label governs. Source: FoodCode4_501_114, concentrations
// FoodCodeChlorine (from memory). Example: 50 mg/L at pH 8: 75 F.
func ChlorineMinF(mgL, pH float64) (float64, error) {
	if !(mgL >= 25) || !finite(mgL) {
		return 0, rangeError("chlorine", mgL, "at least 25 mg/L")
	}
	if !(pH > 0 && pH <= 10) {
		return 0, rangeError("pH of the chlorine solution", pH, "no more than 10")
	}
	switch {
	case mgL < 50:
		return 120, nil
	case mgL >= 100:
		return 55, nil
	case pH <= 8:
		return 75, nil
	}
	return 100, nil
}

// ChlorineGasPH is the pH of a chlorine solution below which chlorine escapes
// as a gas, strength is lost and metal corrodes. Source: ChlorineGas (read in a
// secondary text).
const ChlorineGasPH = 6.0

// ChlorineFloorF is the temperature below which no chlorine row applies.
// Source: FoodCode4_501_114.
const ChlorineFloorF = 55.0

// ChlorineContactS returns the contact time of a chlorine solution in seconds:
// 7 for 50 mg/L at pH to 10 and 100 F, or pH to 8 and 75 F, otherwise 10.
// Source: FoodCode4_703_11. ErrRange where no row of
// [ChlorineMinF] allows the temperature.
func ChlorineContactS(mgL, pH, tempF float64) (float64, error) {
	min, err := ChlorineMinF(mgL, pH)
	if err != nil {
		return 0, err
	}
	if !(tempF >= min) {
		return 0, rangeError("temperature of the chlorine solution", tempF, fmt.Sprintf("at least %v F", min))
	}
	if mgL >= 50 && (pH <= 8 && tempF >= 75 || tempF >= 100) {
		return 7, nil
	}
	return 10, nil
}

// Limits of iodine and quaternary ammonium solutions. Source:
// FoodCode4_501_114.
const (
	IodineMinF         = 68.0
	IodineMaxPH        = 5.0 // or the maker's limit
	IodineMinMgL       = 12.5
	IodineMaxMgL       = 25.0
	QuatMinF           = 75.0
	QuatMaxHardnessMgL = 500.0 // or the label's limit; concentration per label
	GaugeAccuracyPSI   = 2.0   // FoodCode4_203_13, from memory
)

// A Sanitizer is a chemical that sanitises glasses.
type Sanitizer int

const (
	Chlorine Sanitizer = iota + 1
	Iodine
	Quat
)

// SanitizerFloorF returns the temperature in degrees F below which a chemical
// cannot sanitise whatever its strength: chlorine 55, iodine 68, quat 75. A
// cold-water rinse in winter may lie below. Source: FoodCode4_501_114.
func SanitizerFloorF(s Sanitizer) (float64, error) {
	switch s {
	case Chlorine:
		return ChlorineFloorF, nil
	case Iodine:
		return IodineMinF, nil
	case Quat:
		return QuatMinF, nil
	}
	return 0, rangeError("sanitizer", float64(s), "chlorine, iodine or quat")
}

// NoRinse returns the highest strength that may stay on a food-contact surface
// without a rinse, mg/L, and the highest that some registered labels allow.
//
//	chlorine 200 available, iodine 25 titratable, quat 200 active and 400 for
//	some compounds
//
// A machine's or a label's own limit can only be lower. Source: CFR180_940
// (from memory; the iodine figure is the Food Code's too).
func NoRinse(s Sanitizer) (maxMgL, labelMaxMgL float64, err error) {
	switch s {
	case Chlorine:
		return 200, 200, nil
	case Iodine:
		return 25, 25, nil
	case Quat:
		return 200, 400, nil
	}
	return 0, 0, rangeError("sanitizer", float64(s), "chlorine, iodine or quat")
}

// ChlorineNeedMgL returns the least chlorine that sanitises at a temperature
// and pH, the inverse of [ChlorineMinF].
//
//	120 F: 25;  100 F, or 75 F at pH to 8: 50;  55 F: 100 mg/L
//
// pH and temperature are those of the solution that reaches the glass, not of
// the tap. ErrCannot below 55 F or above pH 10, where no strength does.
// Source: FoodCode4_501_114, FoodCodeChlorine. Example: 70 F at pH 7.5: 100.
func ChlorineNeedMgL(pH, tempF float64) (float64, error) {
	if !(pH > 0) || !finite(pH, tempF) {
		return 0, fmt.Errorf("chlorine at pH %v and %v F: %w", pH, tempF, ErrRange)
	}
	if pH > 10 || tempF < ChlorineFloorF {
		return 0, fmt.Errorf("no strength of chlorine sanitises at pH %v and %v F: %w", pH, tempF, ErrCannot)
	}
	switch {
	case tempF >= 120:
		return 25, nil
	case tempF >= 100, pH <= 8 && tempF >= 75:
		return 50, nil
	}
	return 100, nil
}

// A Solution is a sanitizing solution as it reaches the glass. NaN is a value
// that isn't known.
type Solution struct {
	Sanitizer    Sanitizer
	MgL          float64
	PH           float64 // of the solution, not of the tap water
	TempF        float64
	HardnessMgL  float64
	LabelMinMgL  float64 // quat's least by its label; zero when the label wasn't read
	LabelMaxMgL  float64 // the label's or the sheet's own greatest; zero without
	LabelMaxPH   float64 // iodine's greatest by its label; zero without
	LabelMaxHard float64 // quat's greatest hardness by its label; zero without
}

// A SolutionFault is one rule that a solution breaks, or that cannot be judged
// because a value isn't known.
type SolutionFault struct {
	What    SolutionValue
	Got     float64 // NaN when not known
	Limit   float64
	AtLeast bool // the limit is a least value
}

// A SolutionValue is a property of a solution.
type SolutionValue int

const (
	SolutionStrength SolutionValue = iota + 1
	SolutionPH
	SolutionTemperature
	SolutionHardness
)

// Unknown reports whether the rule couldn't be judged.
func (f SolutionFault) Unknown() bool { return math.IsNaN(f.Got) }

// Faults returns what is wrong with a solution or cannot be judged, in the
// order strength, pH, temperature, hardness; none when it sanitises and needs
// no rinse.
//
//	chlorine: 25 to 200 mg/L, pH to 10, temperature by [ChlorineMinF]
//	iodine:   12.5 to 25 mg/L, pH to 5.0 or the label's, 68 F
//	quat:     label's least to 200 mg/L, hardness to 500 or the label's, 75 F
//
// A label may lower the greatest strength, and raise quat's to 400 mg/L. It
// may set iodine's pH and quat's hardness either way. A chlorine solution too
// alkaline or too weak for any row is faulted for that and not for its
// temperature, unless it is below 55 F; one whose pH isn't known has its
// temperature held against the more lenient column. Sources:
// FoodCode4_501_114, FoodCodeChlorine, CFR180_940.
func (s Solution) Faults() ([]SolutionFault, error) {
	most, label, err := NoRinse(s.Sanitizer)
	if err != nil {
		return nil, err
	}
	if s.LabelMaxMgL > 0 {
		most = math.Min(s.LabelMaxMgL, label)
	}
	var out []SolutionFault
	least := func(what SolutionValue, got, limit float64) {
		if !(got >= limit) {
			out = append(out, SolutionFault{what, got, limit, true})
		}
	}
	greatest := func(what SolutionValue, got, limit float64) {
		if !(got <= limit) {
			out = append(out, SolutionFault{what, got, limit, false})
		}
	}
	strength := func(floor float64) {
		if math.IsNaN(s.MgL) || s.MgL < floor {
			least(SolutionStrength, s.MgL, floor)
			return
		}
		greatest(SolutionStrength, s.MgL, most)
	}
	switch s.Sanitizer {
	case Chlorine:
		strength(25)
		greatest(SolutionPH, s.PH, 10)
		pH := s.PH
		if math.IsNaN(pH) {
			pH = 8
		}
		need, err := ChlorineMinF(s.MgL, pH)
		if err != nil {
			need = ChlorineFloorF
		}
		least(SolutionTemperature, s.TempF, need)
	case Iodine:
		strength(IodineMinMgL)
		limit := IodineMaxPH
		if s.LabelMaxPH > 0 {
			limit = s.LabelMaxPH
		}
		greatest(SolutionPH, s.PH, limit)
		least(SolutionTemperature, s.TempF, IodineMinF)
	case Quat:
		strength(s.LabelMinMgL)
		least(SolutionTemperature, s.TempF, QuatMinF)
		limit := QuatMaxHardnessMgL
		if s.LabelMaxHard > 0 {
			limit = s.LabelMaxHard
		}
		greatest(SolutionHardness, s.HardnessMgL, limit)
	}
	return out, nil
}

// DipsBelow reports whether a target with its tolerance can fall below a
// floor, although the target itself does not: 50 mg/L give or take 5 against a
// floor of 50. False for NaN. The tolerance is a positive number.
func DipsBelow(target, tolerance, floor float64) bool {
	return target >= floor && target-tolerance < floor && tolerance > 0
}
