package trade

import (
	"fmt"
	"math"
)

// HotFraction returns the share of hot water in a mix.
//
//	f = (Tmix - Tcold) / (Thot - Tcold)
//
// Degrees F (or C throughout). Wants Thot > Tcold and Tcold <= Tmix <= Thot:
// ErrCannot outside, since no mix of the two gets there. By volume the simple
// form is within 1.5 percent over 40 to 140 F. Source: MixingBalance. Example:
// 40 from 10 and 100 C: 1/3.
func HotFraction(hotT, coldT, mixT float64) (float64, error) {
	if !finite(hotT, coldT, mixT) {
		return 0, fmt.Errorf("mixing %v and %v to %v: %w", hotT, coldT, mixT, ErrRange)
	}
	if hotT <= coldT {
		return 0, fmt.Errorf("the hot supply at %v is no warmer than the cold at %v: %w", hotT, coldT, ErrCannot)
	}
	if mixT < coldT || mixT > hotT {
		return 0, fmt.Errorf("a mix at %v from supplies at %v and %v: %w", mixT, coldT, hotT, ErrCannot)
	}
	return (mixT - coldT) / (hotT - coldT), nil
}

// MixedTemp returns the temperature of two flows joined, in the unit given.
//
//	T = (Qh Th + Qc Tc) / (Qh + Qc)
//
// NaN unless both flows are at least zero and one is positive. Source:
// MixingBalance. Example: 1 gpm at 140 and 1 at 60 F: 100 F.
func MixedTemp(hotFlow, hotT, coldFlow, coldT float64) float64 {
	if !notNegative(hotFlow, coldFlow) || !finite(hotT, coldT) || hotFlow+coldFlow == 0 {
		return math.NaN()
	}
	return (hotFlow*hotT + coldFlow*coldT) / (hotFlow + coldFlow)
}

// temperCheck validates tempering a hot discharge down to a target.
func temperCheck(hotF, coldF, targetF float64) error {
	if !finite(hotF, coldF, targetF) {
		return fmt.Errorf("tempering %v with %v to %v F: %w", hotF, coldF, targetF, ErrRange)
	}
	if coldF >= targetF {
		return fmt.Errorf("cold water at %v F cannot temper to %v F: %w", coldF, targetF, ErrCannot)
	}
	return nil
}

// ColdPerHot returns how much cold water brings a unit of hot discharge down
// to a target, in equal measure of volume or mass.
//
//	cold/hot = (Th - Tt) / (Tt - Tc)
//
// Degrees F; zero when the discharge is no warmer than the target. ErrCannot
// when the cold water is not below the target. By volume it asks 1.5 to 3.5
// percent more than the exact figure, the safe side. Use the warmest cold
// water of the year. Source: MixingBalance. Example: 180, 60, 140: 0.5.
func ColdPerHot(hotF, coldF, targetF float64) (float64, error) {
	if err := temperCheck(hotF, coldF, targetF); err != nil {
		return 0, err
	}
	return math.Max(0, (hotF-targetF)/(targetF-coldF)), nil
}

// BtuHPerKWTrade is the trade's rounded 3412 Btu/h per kW.
const BtuHPerKWTrade = 3412.0

// RecoveryGasGPH returns what a gas heater recovers.
//
//	gph = Btu/h x eff / (8.33 dT)
//
// Input rating in Btu/h, degrees F; NaN unless all are positive and eff <= 1.
// Source: HeaterRecovery. Example: 40,000 Btu/h, 70 F, 0.80: 54.88
// gph. The short form Btu/h/(11.0 dT) hides an efficiency of 0.757.
func RecoveryGasGPH(inputBtuH, riseF, efficiency float64) float64 {
	if !positive(inputBtuH, riseF, efficiency) || efficiency > 1 {
		return math.NaN()
	}
	return inputBtuH * efficiency / (SimpleLbGal * riseF)
}

// FirstHourGal returns the hot water that a storage heater gives in the first
// hour.
//
//	V = storage x usable + recovery x 1 h
//
// gal and gph; the usable share, above 0 and at most 1, is what leaves the
// tank before the temperature falls, about 0.7 (common practice, no source).
// NaN outside. Example: 50 gal, 0.7, 40 gph: 75 gal.
func FirstHourGal(storageGal, usable, recoveryGPH float64) float64 {
	if !notNegative(storageGal, recoveryGPH) || !(usable > 0 && usable <= 1) {
		return math.NaN()
	}
	return storageGal*usable + recoveryGPH
}

// UsableShare is the share of a storage tank that leaves at temperature.
// Common practice, no source.
const UsableShare = 0.7

// HeatUpMin returns the time to heat still water, the trade's simple form.
//
//	t = 60 x gal x 8.33 x dT / (3412.14 x kW x eff)
//
// Minutes, degrees F. No heat goes into the pan or the room: add 10 to 20
// percent (common practice, no source). Zero when the water is already hot;
// NaN unless volume, power and efficiency are positive and eff <= 1. Source:
// HeatUpBalance. Example: 4 gal, 60 to 150 F, 2 kW, 1: 26.37 min.
func HeatUpMin(gal, startF, endF, kW, efficiency float64) float64 {
	if !positive(gal, kW, efficiency) || efficiency > 1 || !finite(startF, endF) {
		return math.NaN()
	}
	return math.Max(0, 60*gal*SimpleLbGal*(endF-startF)/(BtuHPerKW*kW*efficiency))
}

// WinterMainsNorthF is the cold water to assume in winter when it wasn't
// measured, degrees F, the coldest of what is assumed by region. Source:
// MainsDefault (common practice, no source); mark such a figure as assumed.
const WinterMainsNorthF = 40.0

// Hot-water temperatures, degrees F. Sources: Legionella, ASSE1070.
const (
	LegionellaStorageF = 140.0
	HandWashLimitF     = 120.0 // ASSE 1070 set point ceiling
)

// A MixingPurpose is what a mixing or limiting valve is for.
type MixingPurpose int

const (
	MixAtSource   MixingPurpose = iota + 1 // the hot water of a whole system, at the heater
	MixAtSink                              // limits one hand sink, lavatory or bath
	MixForWashers                          // one tempered line to a row of showers or lavatories
)

// A MixingValve is a type of valve and the range that its standard promises,
// degrees F. Zero is a figure that wasn't read.
type MixingValve struct {
	Standard           string
	Purpose            MixingPurpose
	OutMinF, OutMaxF   float64 // set points that every valve of the standard reaches
	HotMinF, HotMaxF   float64
	ColdMinF, ColdMaxF float64
	HotAboveSetF       float64 // the hot supply stands at least this above the set point
	ScaldProtection    bool
	Source             Source
}

// mixingValves: ASSE 1017 controls temperature and is no scald protection;
// ASSE 1070 limits and is no protection against a sudden change. The least set
// point of ASSE 1070 and the range of ASSE 1069 are from a chart that compares
// the 2004 and 2005 editions. Sources: ASSE1017, ASSE1070, ASSE1069 (read in
// secondary texts).
var mixingValves = []MixingValve{
	{"ASSE 1017", MixAtSource, 105, 120, 125, 180, 35, 80, 20, false, ASSE1017},
	{"ASSE 1070", MixAtSink, 105, 120, 0, 0, 0, 0, 0, true, ASSE1070},
	{"ASSE 1069", MixForWashers, 100, 115, 0, 0, 0, 0, 0, true, ASSE1069},
}

// PickMixingValve returns the type of valve for a purpose and a set point. It
// refuses with ErrRange a set point outside what the standard promises: above
// it the valve's own sheet must give the range, and above 120 F nothing may be
// set at a hand sink. Example: at the source, 120 F: ASSE 1017; at a hand
// sink, 110 F: ASSE 1070.
func PickMixingValve(purpose MixingPurpose, setF float64) (MixingValve, error) {
	for _, v := range mixingValves {
		if v.Purpose != purpose {
			continue
		}
		if !(setF >= v.OutMinF && setF <= v.OutMaxF) {
			return v, rangeError("set point of a valve to "+v.Standard, setF, fmt.Sprintf("%v to %v F", v.OutMinF, v.OutMaxF))
		}
		return v, nil
	}
	return MixingValve{}, rangeError("purpose of a mixing valve", float64(purpose), "source, sink or washers")
}

// Suits reports whether the supplies lie in the valve's range for a set point:
// nil when they do, ErrRange naming what doesn't. A range that the standard
// wasn't read for is not checked. Example: ASSE 1017 at 120 F wants hot water
// of 140 F.
func (v MixingValve) Suits(setF, hotF, coldF float64) error {
	if v.HotMaxF > 0 && !(hotF >= v.HotMinF && hotF <= v.HotMaxF) {
		return rangeError("hot supply of a valve to "+v.Standard, hotF, fmt.Sprintf("%v to %v F", v.HotMinF, v.HotMaxF))
	}
	if v.ColdMaxF > 0 && !(coldF >= v.ColdMinF && coldF <= v.ColdMaxF) {
		return rangeError("cold supply of a valve to "+v.Standard, coldF, fmt.Sprintf("%v to %v F", v.ColdMinF, v.ColdMaxF))
	}
	if v.HotAboveSetF > 0 && !(hotF-setF >= v.HotAboveSetF) {
		return rangeError("hot supply above the set point", hotF-setF, fmt.Sprintf("at least %v F", v.HotAboveSetF))
	}
	return nil
}

// TemperFlow returns the cold flow that brings a hot discharge down to a
// limit, gpm.
//
//	cold = hot x (Th - Tt) / (Tt - Tc)
//
// Use the warmest cold water of the year. ErrRange for a flow that isn't
// positive, ErrCannot as [ColdPerHot]. Source: MixingBalance (derived).
// Example: 19.1 gpm at 160 F to 140 F with 60 F: 4.775 gpm.
func TemperFlow(hotGPM, hotF, coldF, limitF float64) (coldGPM float64, err error) {
	if !positive(hotGPM) {
		return 0, rangeError("flow", hotGPM, "more than 0 gpm")
	}
	share, err := ColdPerHot(hotF, coldF, limitF)
	if err != nil {
		return 0, err
	}
	return hotGPM * share, nil
}

// PressureImbalance returns the difference between hot and cold pressure as a
// share of the higher; NaN unless both are positive. Above about 0.2 the flows
// disturb each other at a common valve. Source: PressureDiff (common practice,
// no source). Example: 60 and 45 psi: 0.25.
func PressureImbalance(hotPSI, coldPSI float64) float64 {
	if !positive(hotPSI, coldPSI) {
		return math.NaN()
	}
	return math.Abs(hotPSI-coldPSI) / math.Max(hotPSI, coldPSI)
}

// PressureImbalanceLimit is the share above which to flag. Common practice, no
// source.
const PressureImbalanceLimit = 0.20

// GlassCautionF is the sudden temperature change that bar glasses are spared,
// degrees F (40 C). Source: GlassShock (common practice, no source).
const GlassCautionF = 72.0

// GlassShockF returns the sudden change that a glass sees, |water - glass|;
// NaN for NaN. A caution, not a limit: chips, wear and thick stems lower it,
// tempered glass takes more. Source: GlassShock. Example: 140 F water, 40 F
// glass: 100 F.
func GlassShockF(waterF, glassF float64) float64 { return math.Abs(waterF - glassF) }
