package trade

import (
	"math"
	"testing"
)

// Source: FDA Food Code 2022 numbering, in state copies of the model text
// (Delaware for 4-501.110, Washington for the rest); the concentration column
// of chlorine from memory.
func TestFoodCodeTemperatures(t *testing.T) {
	for _, c := range []struct {
		kind           WasherKind
		wash, manifold float64 // manifold 0: no hot-water rinse
	}{
		{StationarySingleTemp, 165, 165}, {StationaryDualTemp, 150, 180}, {ConveyorSingleTank, 160, 180}, {ConveyorMultiTank, 150, 180}, {ChemicalSpray, 120, 0},
	} {
		near(t, c.kind.String()+" wash", value[float64](t)(WashMinF(c.kind)), c.wash, 0)
		m, err := ManifoldMinF(c.kind)
		if c.manifold == 0 {
			fails(t, c.kind.String(), err, ErrRange)
		} else {
			ok(t, c.kind.String(), err)
			near(t, c.kind.String()+" manifold", m, c.manifold, 0)
			same(t, "below the ceiling", m < ManifoldMaxF, true)
		}
		same(t, c.kind.String()+" pressure rule", RinsePressureApplies(c.kind, false), c.manifold != 0)
		same(t, c.kind.String()+" pumped", RinsePressureApplies(c.kind, true), false)
	}
	_, err := WashMinF(0)
	fails(t, "no kind", err, ErrRange)
	_, err = ManifoldMinF(9)
	fails(t, "no kind", err, ErrRange)
	same(t, "no kind", RinsePressureApplies(0, false), false)
	// The code prints both scales; its Celsius is rounded.
	for _, c := range [][2]float64{{165, 74}, {150, 66}, {160, 71}, {120, 49}, {171, 77}, {194, 90}, {180, 82}, {100, 38}, {75, 24}, {55, 13}, {68, 20}} {
		near(t, "printed Celsius", (c[0]-32)/1.8, c[1], 0.6)
	}
	near(t, "manifold ceiling", ManifoldMaxF, 194, 0)
	for _, c := range []struct {
		psi  float64
		want bool
	}{{4.9, false}, {5, true}, {15, true}, {30, true}, {30.1, false}, {math.NaN(), false}} {
		same(t, "rinse pressure", RinsePressureOK(c.psi), c.want)
	}
	// 35 to 200 kPa as printed.
	near(t, "low in kPa", RinsePressureMinPSI*PaPerPSI/1000, 35, 0.6)
	near(t, "high in kPa", RinsePressureMaxPSI*PaPerPSI/1000, 200, 7)
}

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
	for _, c := range []struct{ mgL, pH, temp, want float64 }{
		{50, 10, 100, 7}, {50, 8, 75, 7}, {30, 7, 120, 10}, {100, 9, 60, 10}, {100, 9, 100, 7}, {100, 9, 80, 10}, {100, 8, 80, 7}, {100, 8, 74, 10},
	} {
		near(t, "contact", value[float64](t)(ChlorineContactS(c.mgL, c.pH, c.temp)), c.want, 0)
	}
	_, err := ChlorineContactS(50, 9, 99)
	fails(t, "too cold", err, ErrRange)
	_, err = ChlorineContactS(10, 9, 99)
	fails(t, "too thin", err, ErrRange)
	for s, want := range map[Sanitizer]float64{Chlorine: 55, Iodine: 68, Quat: 75} {
		near(t, "floor", value[float64](t)(SanitizerFloorF(s)), want, 0)
	}
	_, err = SanitizerFloorF(0)
	fails(t, "no sanitizer", err, ErrRange)
}
