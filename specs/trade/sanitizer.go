package trade

import (
	"fmt"
)

// ChlorineMinMgL is the least strength of chlorine for which the Food Code has a
// row. Source: FoodCodeChlorine (read in secondary texts).
const ChlorineMinMgL = 25.0

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
// FoodCodeChlorine (read in secondary texts). Example: 50 mg/L at pH 8: 75 F.
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

// DipsBelow reports whether a target with its tolerance can fall below a
// floor, although the target itself does not: 50 mg/L give or take 5 against a
// floor of 50. False for NaN. The tolerance is a positive number.
func DipsBelow(target, tolerance, floor float64) bool {
	return target >= floor && target-tolerance < floor && tolerance > 0
}
