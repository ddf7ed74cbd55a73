package trade

import "math"

// GlassesPerHourRotary returns what a rotary or carousel washer turns out.
//
//	N = 3600 / T x positions x fill
//
// T seconds per revolution, positions on the carousel, fill the share that is
// loaded, above 0 and at most 1. NaN outside. Source: Geometry. Example: 120
// s, 30 positions, all loaded: 900 per hour.
func GlassesPerHourRotary(revolutionS float64, positions int, fill float64) float64 {
	if !positive(revolutionS) || positions < 1 || !(fill > 0 && fill <= 1) {
		return math.NaN()
	}
	return 3600 / revolutionS * float64(positions) * fill
}

// RacksPerHour returns the racks of a batch washer with the time to swap them.
//
//	n = 3600 / (cycle + handling)
//
// seconds; NaN for a cycle that is not positive or a negative handling time. A
// rating printed by a maker has no handling time in it. Source: Geometry.
// Example: 90 s and 30 s: 30 per hour.
func RacksPerHour(cycleS, handlingS float64) float64 {
	if !positive(cycleS) || !notNegative(handlingS) {
		return math.NaN()
	}
	return 3600 / (cycleS + handlingS)
}

// GlassesPerHourRacks returns what a batch washer turns out: racks per hour
// times glasses per rack times the share of each rack that is filled. NaN
// outside. Source: Geometry. Example: 90 s, 30 s, 25 glasses, 0.7: 525.
func GlassesPerHourRacks(cycleS, handlingS float64, perRack int, fill float64) float64 {
	if perRack < 1 || !(fill > 0 && fill <= 1) {
		return math.NaN()
	}
	return RacksPerHour(cycleS, handlingS) * float64(perRack) * fill
}

// PeakGlassesPerHour returns the glasses used in the busiest hour.
//
//	N = seats x drinks per seat-hour x glasses per drink
//
// NaN for negative values. All three are the owner's to say; drinks per seat
// run from 1 to 3 (RackPractice, common practice, no source). Example: 120 x
// 1.5 x 1.2: 216.
func PeakGlassesPerHour(seats, drinksPerSeatHour, glassesPerDrink float64) float64 {
	if !notNegative(seats, drinksPerSeatHour, glassesPerDrink) {
		return math.NaN()
	}
	return seats * drinksPerSeatHour * glassesPerDrink
}

// DerateRacks is the share of a printed rack rating to plan with. Source:
// RackPractice (common practice, no source).
const DerateRacks = 0.70

// StockTurnoverMin returns the minutes until a stock of glasses has to be
// washed once through at a rate of use.
//
//	t = 60 x stock / use
//
// NaN for a negative stock or a use that is not positive. Source: Geometry.
// Example: 240 glasses at 216 per hour: 66.7 min.
func StockTurnoverMin(stock, usePerHour float64) float64 {
	if !notNegative(stock) || !positive(usePerHour) {
		return math.NaN()
	}
	return 60 * stock / usePerHour
}
