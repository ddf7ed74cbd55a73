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
}
