package trade

import (
	"math"
)

// CrateHandClearance is the room for hands round a crate, in total, inches.
// Source: DoorPractice (common practice, no source).
const CrateHandClearance = 2.0

// What small wheels pass. Sources: ADARamp, ADAThreshold, taken over to hand
// trucks by WheelPractice.
const (
	RampRun     = 12.0 // length along the slope for one of rise, at the least
	ThresholdIn = 0.5  // in, at the most
)

// Cleaning clearances, inches. Source: FoodCode4_402.
const (
	FloorLegIn      = 6.0 // floor-mounted, not easily movable
	FloorLegNearIn  = 4.0 // no floor point more than 6 in from access
	FloorLegReachIn = 6.0 // the reach that permits 4 in
)

// FloorLegRequiredIn returns the leg height of floor-mounted equipment that is
// neither movable nor sealed: 6 in, or 4 in when no floor point is more than
// 6 in from cleaning access. NaN for a negative reach. Source: FoodCode4_402.
func FloorLegRequiredIn(farthestReachIn float64) float64 {
	switch {
	case !notNegative(farthestReachIn):
		return math.NaN()
	case farthestReachIn <= FloorLegReachIn:
		return FloorLegNearIn
	}
	return FloorLegIn
}

// FloorLiveLoadPSF is the design live load of bars and restaurants. Source:
// ASCE7 (from memory).
const FloorLiveLoadPSF = 100.0

// FloorLoadPSF returns a weight over its footprint.
//
//	p = W / (w d / 144)
//
// lb, in, psf; NaN for a negative weight or a side that is not positive. A
// structural question goes to an engineer. Source: Geometry. Example: 323 lb
// on 24 x 25 in: 77.5 psf.
func FloorLoadPSF(weightLb, widthIn, depthIn float64) float64 {
	if !notNegative(weightLb) || !positive(widthIn, depthIn) {
		return math.NaN()
	}
	return weightLb / (widthIn * depthIn / (InPerFt * InPerFt))
}

// LegLoadLb returns the load of one of n legs, evenly shared; NaN for a
// negative weight or fewer than three legs. Source: Geometry. Example: 323 lb
// on 4: 80.75 lb.
func LegLoadLb(weightLb float64, legs int) float64 {
	if !notNegative(weightLb) || legs < 3 {
		return math.NaN()
	}
	return weightLb / float64(legs)
}

// CornerLengthIn returns the longest box of a given width that can be turned,
// upright, round the right-angled corner of two corridors.
//
// Put the outer walls on the axes and the inner corner at (a, b). A box whose
// long outer side touches both walls at angle t lies below the line
// x sin t + y cos t = L sin t cos t; its inner side clears the corner while
// a sin t + b cos t - L sin t cos t >= w. Hence
//
//	L = min over t of (a sin t + b cos t - w) / (sin t cos t)
//
// and with w = 0 the ladder's (a^(2/3) + b^(2/3))^(3/2). Inches, clearances
// already taken off the corridors. NaN unless all are positive (w may be zero)
// and w is less than both corridors. A box that fits crosswise may pass
// without turning. Source: LadderProblem (read in a copy for
// w = 0), Geometry. Example: corridors 36 and 48, width 0: 118.4 in; 60 and
// 60, width 30: 109.7 in.
func CornerLengthIn(corridorAIn, corridorBIn, widthIn float64) float64 {
	a, b, w := corridorAIn, corridorBIn, widthIn
	if !positive(a, b) || !notNegative(w) || w >= math.Min(a, b) {
		return math.NaN()
	}
	length := func(t float64) float64 {
		s, c := math.Sincos(t)
		return (a*s + b*c - w) / (s * c)
	}
	// The function falls, then rises: near both ends it tends to infinity
	// because w < a and w < b. Golden-section search between them.
	lo, hi := 1e-9, math.Pi/2-1e-9
	phi := (math.Sqrt(5) - 1) / 2
	x1, x2 := hi-phi*(hi-lo), lo+phi*(hi-lo)
	f1, f2 := length(x1), length(x2)
	for range 200 {
		if f1 < f2 {
			hi, x2, f2 = x2, x1, f1
			x1 = hi - phi*(hi-lo)
			f1 = length(x1)
		} else {
			lo, x1, f1 = x1, x2, f2
			x2 = lo + phi*(hi-lo)
			f2 = length(x2)
		}
	}
	return math.Min(f1, f2)
}
