package trade

import "math"

// SoftenerGrainsPerDay returns the hardness that a softener takes out in a day.
//
//	grains = gal/day x (gpg + 4 x iron)
//
// Hardness in grains per gallon, iron in mg/L (3 to 5 are in use as its
// factor). NaN for negative values. Source: SoftenerSizing (common practice,
// no source). Example: 400 gal/day at 12 gpg: 4,800.
func SoftenerGrainsPerDay(galPerDay, gpg, ironMgL float64) float64 {
	if !notNegative(galPerDay, gpg, ironMgL) {
		return math.NaN()
	}
	return galPerDay * (gpg + 4*ironMgL)
}

// SoftenerCapacityGrains returns the nominal capacity to buy.
//
//	capacity = grains/day x days / efficiency
//
// Days between regenerations; efficiency 0.75 to 0.85 is usual, 1 gives the
// bare load. NaN outside 0 to 1 and for negative values. Source:
// SoftenerSizing. Example: 4,800 a day, 3 days, 1: 14,400 grains.
func SoftenerCapacityGrains(grainsPerDay, days, efficiency float64) float64 {
	if !notNegative(grainsPerDay) || !positive(days) || !(efficiency > 0 && efficiency <= 1) {
		return math.NaN()
	}
	return grainsPerDay * days / efficiency
}
