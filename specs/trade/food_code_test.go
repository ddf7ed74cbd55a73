package trade

import (
	"math"
	"testing"
)

// Source: FDA Food Code 2022 numbering, in state copies of the model text
// (Delaware for 4-501.110, Washington for the rest); the concentration column
// of chlorine from memory.
func TestFoodCodeChlorine(t *testing.T) {
	for _, c := range []struct{ mgL, pH, want float64 }{
		{25, 10, 120}, {25, 8, 120}, {49, 10, 120}, {49.9, 7, 120},
		{50, 10, 100}, {50, 8.1, 100}, {50, 8, 75}, {99, 10, 100}, {99.9, 8, 75},
		{100, 10, 55}, {100, 8, 55}, {150, 9, 55},
	} {
		near(t, "chlorine floor", value[float64](t)(ChlorineMinF(c.mgL, c.pH)), c.want, 0)
	}
	for _, c := range [][2]float64{{24.9, 7}, {0, 7}, {math.NaN(), 7}, {math.Inf(1), 7}, {50, 10.1}, {50, 0}, {50, math.NaN()}} {
		_, err := ChlorineMinF(c[0], c[1])
		fails(t, "no row", err, ErrRange)
	}
	for s, want := range map[Sanitizer]float64{Chlorine: 55, Iodine: 68, Quat: 75} {
		near(t, "floor", value[float64](t)(SanitizerFloorF(s)), want, 0)
	}
	_, err := SanitizerFloorF(0)
	fails(t, "no sanitizer", err, ErrRange)
}
