package trade

import "math"

// DeadLegGal returns the cold water standing in a hot branch, the sum of
// volume per foot times length; NaN for a negative part. Source: Geometry.
// Example: 50 ft of 0.785 in bore: 1.257 gal.
func DeadLegGal(idIn, lengthFt float64) float64 {
	if !notNegative(lengthFt) {
		return math.NaN()
	}
	return GalPerFt(idIn) * lengthFt
}

// DeadLegWaitS returns the seconds until hot water has displaced a dead leg.
//
//	t = 60 V / Q
//
// gal and gpm; the heat that the pipe itself takes, and mixing, lengthen it
// and are left out. NaN for a negative volume or a flow that is not positive.
// Source: Geometry. Example: 1.257 gal at 2 gpm: 37.7 s.
func DeadLegWaitS(volumeGal, flowGPM float64) float64 {
	if !notNegative(volumeGal) || !positive(flowGPM) {
		return math.NaN()
	}
	return 60 * volumeGal / flowGPM
}

// DeadLegFills returns how many fills of a machine a dead leg spoils: its
// volume over the fill volume. NaN for a negative volume or a fill that is not
// positive. Above 1, a whole fill arrives at the temperature of the pipe.
// Source: Geometry.
func DeadLegFills(volumeGal, fillGal float64) float64 {
	if !notNegative(volumeGal) || !positive(fillGal) {
		return math.NaN()
	}
	return volumeGal / fillGal
}
