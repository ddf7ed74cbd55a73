package trade

import (
	"math"
	"testing"
)

// Sources: published answers to the longest ladder round a corner, and the
// formula L = (a^(2/3) + b^(2/3))^(3/2) printed by several calculus pages.
func TestLadderCorner(t *testing.T) {
	for _, c := range []struct {
		source    string
		a, b, l   float64
		tolerance float64
	}{
		{"puzzle page on the moving ladder, halls 2 and 3, by computer", 2, 3, 7.0234824, 5e-8},
		{"calculus question page, halls 3 and 4 ft", 4, 3, 9.87, 0.005},
		{"same puzzle page, equal halls: 2 a sqrt 2", 1, 1, 2 * math.Sqrt2, 1e-9},
		{"interactive textbook figure, halls 5 and 3 ft, by the formula", 5, 3, math.Pow(math.Pow(5, 2.0/3)+math.Pow(3, 2.0/3), 1.5), 1e-9},
	} {
		near(t, c.source, CornerLengthIn(c.a, c.b, 0), c.l, c.tolerance)
	}
	for a := 20.0; a <= 80; a += 7 {
		for b := 20.0; b <= 80; b += 11 {
			rel(t, "formula", CornerLengthIn(a, b, 0), math.Pow(math.Pow(a, 2.0/3)+math.Pow(b, 2.0/3), 1.5), 1e-9)
		}
	}
}

// Source: brute force over angles in 0.01 degree steps, an independent search.
func TestBoxCorner(t *testing.T) {
	for _, c := range [][3]float64{{36, 48, 24}, {36, 36, 30}, {60, 60, 30}, {30, 90, 29}, {44, 32, 10}} {
		least := math.Inf(1)
		for i := 1; i < 9000; i++ {
			s, cos := math.Sincos(float64(i) / 100 * math.Pi / 180)
			least = math.Min(least, (c[0]*s+c[1]*cos-c[2])/(s*cos))
		}
		l := CornerLengthIn(c[0], c[1], c[2])
		rel(t, "brute force", l, least, 1e-6)
		same(t, "never longer than the ladder", l < CornerLengthIn(c[0], c[1], 0), true)
		near(t, "either way round", CornerLengthIn(c[1], c[0], c[2]), l, 1e-6)
	}
	// Equal corridors: 2 sqrt 2 a - 2 w by symmetry at 45 degrees.
	near(t, "60, 60, 30", CornerLengthIn(60, 60, 30), 2*math.Sqrt2*60-60, 1e-9)
	// The largest rectangle round a unit corner by turning has area 1: width
	// 1/sqrt 2 and length sqrt 2.
	near(t, "area", CornerLengthIn(1, 1, math.Sqrt2/2)*math.Sqrt2/2, 1, 1e-9)
	for _, c := range [][3]float64{{0, 48, 1}, {36, 48, 36}, {36, 48, -1}, {math.NaN(), 48, 1}, {36, math.Inf(1), 1}} {
		isNaN(t, "no corner", CornerLengthIn(c[0], c[1], c[2]))
	}
	for _, c := range []struct {
		l, w, a, b float64
		want       bool
	}{
		{30, 28, 36, 36, true}, {40, 30, 36, 36, true}, {41.82, 30, 36, 36, true}, {41.83, 30, 36, 36, false}, {48, 30, 36, 48, true}, {28, 30, 36, 36, true},
		{40, 37, 36, 60, false}, {109, 30, 60, 60, true}, {110, 30, 60, 60, false}, {36, 36, 36, 36, true},
	} {
		same(t, "fits", value[bool](t)(FitsCorner(c.l, c.w, c.a, c.b)), c.want)
	}
	_, err := FitsCorner(0, 30, 36, 36)
	fails(t, "no box", err, ErrRange)
}

// Source: Wetzel, "Rectangles in rectangles", Mathematics Magazine 73 (2000):
// 9 x 4 does not fit in 8 x 6 although area, diagonal, perimeter and thickness
// would allow it. The rest against a brute-force turn in 0.01 degree steps.
func TestRectangleInRectangle(t *testing.T) {
	same(t, "Wetzel's counter-example", value[bool](t)(FitsOpening(9, 4, 8, 6)), false)
	brute := func(p, q, a, b float64) (fits bool, margin float64) {
		margin = math.Inf(-1)
		for i := 0; i <= 9000; i++ {
			s, c := math.Sincos(float64(i) / 100 * math.Pi / 180)
			w, h := p*c+q*s, p*s+q*c
			margin = math.Max(margin, math.Min(a-w, b-h))
		}
		return margin >= 0, margin
	}
	checked := 0
	for p := 10.0; p <= 60; p += 3.7 {
		for q := 2.0; q <= p; q += 3.1 {
			for _, o := range [][2]float64{{30, 20}, {40, 40}, {33, 80}, {50, 12}} {
				want, margin := brute(p, q, math.Max(o[0], o[1]), math.Min(o[0], o[1]))
				if math.Abs(margin) < 0.01 {
					continue // too near for the brute force
				}
				checked++
				same(t, "turned in its plane", value[bool](t)(FitsOpening(q, p, o[0], o[1])), want)
			}
		}
	}
	if checked < 300 {
		t.Errorf("only %d cases", checked)
	}
	same(t, "exactly its size", value[bool](t)(FitsOpening(30, 20, 20, 30)), true)
	same(t, "a shade over", value[bool](t)(FitsOpening(30.001, 20, 20, 30)), false)
	same(t, "a square a shade over", value[bool](t)(FitsOpening(20.001, 20.001, 30, 20)), false)
	_, err := FitsOpening(30, 20, 0, 30)
	fails(t, "no opening", err, ErrRange)
}
