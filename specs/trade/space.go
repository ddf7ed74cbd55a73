package trade

import (
	"fmt"
	"math"
)

// Doors and routes, inches. Sources: ADA404, ADA403 (from memory).
const (
	DoorClearMinIn     = 32.0
	DoorClearDeepIn    = 36.0 // where the passage is deeper than 24 in
	DoorDeepFromIn     = 24.0
	CrateHandClearance = 2.0 // in total, DoorPractice (common practice, no source)
)

// DoorClearRequiredIn returns the clear width wanted of a doorway by the depth
// of its passage: 32 in, or 36 in when deeper than 24 in. NaN for a negative
// depth. Source: ADA404 (from memory).
func DoorClearRequiredIn(passageDepthIn float64) float64 {
	switch {
	case !notNegative(passageDepthIn):
		return math.NaN()
	case passageDepthIn > DoorDeepFromIn:
		return DoorClearDeepIn
	}
	return DoorClearMinIn
}

// Cleaning clearances, inches. Source: FoodCode4_402.
const (
	FloorLegIn       = 6.0 // floor-mounted, not easily movable
	FloorLegNearIn   = 4.0 // no floor point more than 6 in from access
	FloorLegReachIn  = 6.0 // the reach that permits 4 in
	CounterLegFullIn = 4.0 // counter-mounted
	CounterLeg20In   = 3.0 // to 20 in deep
	CounterLeg3In    = 2.0 // to 3 in deep
	CounterDepth20In = 20.0
	CounterDepth3In  = 3.0
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

// CounterLegRequiredIn returns the leg height of counter-mounted equipment by
// its depth: 2 in to 3 in deep, 3 in to 20 in deep, else 4 in. NaN unless
// positive. Source: FoodCode4_402.
func CounterLegRequiredIn(depthIn float64) float64 {
	switch {
	case !positive(depthIn):
		return math.NaN()
	case depthIn <= CounterDepth3In:
		return CounterLeg3In
	case depthIn <= CounterDepth20In:
		return CounterLeg20In
	}
	return CounterLegFullIn
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

// TiltHeightIn returns the height that a crate needs while it is tipped
// upright: the diagonal of the side that turns, sqrt(a^2 + b^2). NaN unless
// both are positive. Source: Geometry. Example: 30 by 40 in: 50 in.
func TiltHeightIn(aIn, bIn float64) float64 {
	if !positive(aIn, bIn) {
		return math.NaN()
	}
	return math.Hypot(aIn, bIn)
}

// FitsOpening reports whether a box face p x q passes an opening a x b,
// upright or turned in its plane.
//
//	p >= q, a >= b:  p <= a and q <= b,  or
//	q <= b and ((a+b)/(p+q))^2 + ((a-b)/(p-q))^2 >= 2   when p > a
//
// Inches, clearances already taken off the opening. ErrRange unless all are
// positive. Source: RectInRect. Example: 9 x 4 does not fit in 8 x 6.
func FitsOpening(pIn, qIn, aIn, bIn float64) (bool, error) {
	if !positive(pIn, qIn, aIn, bIn) {
		return false, fmt.Errorf("face %v x %v in, opening %v x %v in: %w", pIn, qIn, aIn, bIn, ErrRange)
	}
	p, q := math.Max(pIn, qIn), math.Min(pIn, qIn)
	a, b := math.Max(aIn, bIn), math.Min(aIn, bIn)
	if q > b {
		return false, nil
	}
	if p <= a {
		return true, nil
	}
	u, v := (a+b)/(p+q), (a-b)/(p-q)
	return u*u+v*v >= 2, nil
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
// without turning, see [FitsCorner]. Source: LadderProblem (read in a copy for
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

// FitsCorner reports whether a box of length and width passes the corner of
// two corridors: by turning, or by changing direction without turning (as long
// as it fits lengthwise in one and crosswise in the other). Inches. ErrRange
// unless all are positive. Source: [CornerLengthIn].
func FitsCorner(lengthIn, widthIn, corridorAIn, corridorBIn float64) (bool, error) {
	if !positive(lengthIn, widthIn, corridorAIn, corridorBIn) {
		return false, fmt.Errorf("box %v x %v in, corridors %v and %v in: %w", lengthIn, widthIn, corridorAIn, corridorBIn, ErrRange)
	}
	l, w := math.Max(lengthIn, widthIn), math.Min(lengthIn, widthIn)
	small, large := math.Min(corridorAIn, corridorBIn), math.Max(corridorAIn, corridorBIn)
	if w > small {
		return false, nil
	}
	if l <= large {
		return true, nil
	}
	return l <= CornerLengthIn(corridorAIn, corridorBIn, w), nil
}
