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

// ColdPerHotMass is [ColdPerHot] by mass with the heat content of water.
//
//	cold/hot = (h(Th) - h(Tt)) / (h(Tt) - h(Tc))
//
// h from [WaterEnthalpyBtuLb]; ErrRange outside 32 to 212 F. Source: IAPWSIF97.
// Example: 180, 60, 140: 0.5010.
func ColdPerHotMass(hotF, coldF, targetF float64) (float64, error) {
	if err := temperCheck(hotF, coldF, targetF); err != nil {
		return 0, err
	}
	h, c, t := WaterEnthalpyBtuLb(hotF), WaterEnthalpyBtuLb(coldF), WaterEnthalpyBtuLb(targetF)
	if !finite(h, c, t) {
		return 0, fmt.Errorf("tempering %v with %v to %v F, want 32 to 212 F: %w", hotF, coldF, targetF, ErrRange)
	}
	return math.Max(0, (h-t)/(t-c)), nil
}

// ColdPerHotVolume is [ColdPerHotMass] by volume, with the densities of hot
// and cold water. Source: IAPWSIF97. Example: 180, 60, 140: 0.4867.
func ColdPerHotVolume(hotF, coldF, targetF float64) (float64, error) {
	m, err := ColdPerHotMass(hotF, coldF, targetF)
	if err != nil {
		return 0, err
	}
	return m * WaterDensityKgM3(hotF) / WaterDensityKgM3(coldF), nil
}

// BtuHPerKWTrade is the trade's rounded 3412 Btu/h per kW.
const BtuHPerKWTrade = 3412.0

// RecoveryElectricGPH returns what an electric heater recovers.
//
//	gph = kW x 3412 x eff / (8.33 dT)
//
// kW, degrees F; NaN unless all are positive and eff <= 1. Source:
// HeaterRecovery. Example: 4.5 kW, 80 F, 1: 23.04 gph. The trade's
// short form W/(2.42 dT) reads 0.9 percent high.
func RecoveryElectricGPH(kW, riseF, efficiency float64) float64 {
	return RecoveryGasGPH(kW*BtuHPerKWTrade, riseF, efficiency)
}

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

// ShortGasFactor is the divisor of the short gas formula, 8.33/0.757. Source:
// HeaterRecovery; CAHotWater uses it too.
const ShortGasFactor = 11.0

// HeaterInputBtuH returns the gas input that delivers a demand, the inverse of
// [RecoveryGasGPH]. Source: HeaterRecovery, CAHotWater. Example: 481 gph, 60 F,
// 0.97: 247,839 Btu/h.
func HeaterInputBtuH(gph, riseF, efficiency float64) float64 {
	if !positive(gph, riseF, efficiency) || efficiency > 1 {
		return math.NaN()
	}
	return gph * riseF * SimpleLbGal / efficiency
}

// BoosterKW returns the power that raises a flow of water.
//
//	kW = gph x 8.33 x dT / (3412 x eff)
//
// NaN unless all are positive and eff <= 1. Source: HeaterRecovery. Example: 1
// gph, 60 F, 0.98: 0.1495 kW.
func BoosterKW(gph, riseF, efficiency float64) float64 {
	return HeaterInputBtuH(gph, riseF, efficiency) / BtuHPerKWTrade
}

// RiseF returns the temperature rise that a heater gives a flow, the inverse
// of [BoosterKW]: dT = kW x 3412 x eff / (8.33 gph). NaN unless all are
// positive and eff <= 1.
func RiseF(kW, gph, efficiency float64) float64 {
	if !positive(kW, gph, efficiency) || efficiency > 1 {
		return math.NaN()
	}
	return kW * BtuHPerKWTrade * efficiency / (SimpleLbGal * gph)
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

// HeatUpExactMin is [HeatUpMin] with the water's own density at the starting
// temperature and its enthalpy.
//
//	t = 60 x gal x rho(T1) x (h(T2) - h(T1)) / (3412.14 x kW x eff)
//
// The volume is measured at the start. NaN outside 32 to 212 F. Source:
// IAPWSIF97. Example: 4 gal, 120 to 150 F, 2 kW: 8.694 min.
func HeatUpExactMin(gal, startF, endF, kW, efficiency float64) float64 {
	if !positive(gal, kW, efficiency) || efficiency > 1 {
		return math.NaN()
	}
	rise := WaterEnthalpyBtuLb(endF) - WaterEnthalpyBtuLb(startF)
	t := 60 * gal * WaterDensityLbGal(startF) * rise / (BtuHPerKW * kW * efficiency)
	if math.IsNaN(t) {
		return t
	}
	return math.Max(0, t)
}

// HeatUpWithLossMin is [HeatUpMin] with a steady heat loss.
//
//	t = 60 x gal x 8.33 x dT / (3412.14 x (kW - kW(loss)))
//
// ErrCannot when the loss eats the heater. Source: HeatUpBalance. Example: the
// published 125 kg, 20 to 60 C, 2 kW less 0.15 kW: 11,351 s.
func HeatUpWithLossMin(gal, startF, endF, kW, lossKW float64) (float64, error) {
	if !positive(gal, kW) || !notNegative(lossKW) || !finite(startF, endF) {
		return 0, fmt.Errorf("heating %v gal with %v kW less %v kW: %w", gal, kW, lossKW, ErrRange)
	}
	if endF <= startF {
		return 0, nil
	}
	if lossKW >= kW {
		return 0, fmt.Errorf("a loss of %v kW against a heater of %v kW: %w", lossKW, kW, ErrCannot)
	}
	return HeatUpMin(gal, startF, endF, kW-lossKW, 1), nil
}

// Winter cold-water temperatures to assume when unmeasured, degrees F. Source:
// MainsDefault (common practice, no source); mark such a figure as assumed.
const (
	WinterMainsNorthF = 40.0
	WinterMainsMidF   = 50.0
	WinterMainsSouthF = 60.0
)

// Hot-water temperatures, degrees F. Sources: Legionella,
// ASSE1070, ASHRAESupply (from memory).
const (
	LegionellaStorageF = 140.0
	LegionellaGrowLowF = 77.0
	LegionellaGrowTopF = 108.0
	HandWashLimitF     = 120.0 // ASSE 1070 set point ceiling
	WashSupplyF        = 140.0 // from memory
	FinalRinseSupplyF  = 180.0 // hot-water sanitising; from memory
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

// MixingValves returns the types of valve.
func MixingValves() []MixingValve { return append([]MixingValve(nil), mixingValves...) }

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

// TemperFlow returns the cold flow that brings a hot discharge down to a limit
// and the flow of both, gpm.
//
//	cold = hot x (Th - Tt) / (Tt - Tc),  total = hot + cold
//
// The cold line must carry the first and the receptor the second. Use the
// warmest cold water of the year. ErrRange for a flow that isn't positive,
// ErrCannot as [ColdPerHot]. Source: MixingBalance (derived). Example: 19.1
// gpm at 160 F to 140 F with 60 F: 4.775 and 23.875 gpm.
func TemperFlow(hotGPM, hotF, coldF, limitF float64) (coldGPM, totalGPM float64, err error) {
	if !positive(hotGPM) {
		return 0, 0, rangeError("flow", hotGPM, "more than 0 gpm")
	}
	share, err := ColdPerHot(hotF, coldF, limitF)
	if err != nil {
		return 0, 0, err
	}
	return hotGPM * share, hotGPM * (1 + share), nil
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

// Sudden temperature change of a glass, degrees F. Sources: ASTMC149 (from
// memory: usual pass level for soda-lime containers, which bar glasses are
// not), GlassShock (common practice, no source).
const (
	ContainerShockF = 75.6 // 42 C
	GlassCautionF   = 72.0 // 40 C
)

// GlassShockF returns the sudden change that a glass sees, |water - glass|;
// NaN for NaN. A caution, not a limit: chips, wear and thick stems lower it,
// tempered glass takes more. Source: GlassShock. Example: 140 F water, 40 F
// glass: 100 F.
func GlassShockF(waterF, glassF float64) float64 { return math.Abs(waterF - glassF) }
