package trade

import (
	"math"
	"testing"
)

// Source: computed from the air-gap rule (IPC 802.3.1, ASME A112.1.2) and
// plane geometry, fall_check.csv.
func TestFallCheck(t *testing.T) {
	for _, row := range table(t, "fall_check.csv", 14) {
		f := Fall{
			OutletIn: num(t, row, "outlet_invert_above_floor_in"), RimIn: num(t, row, "receptor_rim_above_floor_in"), OpeningIn: num(t, row, "effective_opening_in"),
			AirBreak: row["termination"] == "break", RunFt: num(t, row, "run_ft"), SlopeInPerFt: num(t, row, "slope_in_per_ft"),
		}
		r := value[FallResult](t)(f.Check())
		near(t, row["case"]+" gap", r.GapIn, num(t, row, "required_gap_in"), 0.0005)
		near(t, row["case"]+" available", r.AvailableIn, num(t, row, "available_fall_in"), 0.0005)
		near(t, row["case"]+" required", r.RequiredIn, num(t, row, "required_fall_in"), 0.0005)
		near(t, row["case"]+" spare", r.SpareIn, num(t, row, "spare_in"), 0.0005)
		same(t, row["case"]+" result", r.OK, row["gravity_result"] == "PASS")
		near(t, row["case"]+" longest run", r.MaxRunFt, num(t, row, "max_run_ft"), 0.005)
	}
	for name, f := range map[string]Fall{
		"no opening":   {8, 0, 0, false, 6, 0.25},
		"no slope":     {8, 0, 1.5, false, 6, 0},
		"negative run": {8, 0, 1.5, false, -1, 0.25},
		"NaN outlet":   {math.NaN(), 0, 1.5, false, 6, 0.25},
		"infinite rim": {8, math.Inf(1), 1.5, false, 6, 0.25},
	} {
		_, err := f.Check()
		fails(t, name, err, ErrRange)
	}
	r := value[FallResult](t)(Fall{5.5, 0, 1.5, false, 10.0 - 1e-9, 0.25}.Check())
	same(t, "just enough", r.OK, true)
	r = value[FallResult](t)(Fall{5.499, 0, 1.5, false, 10, 0.25}.Check())
	same(t, "just too little", r.OK, false)
	// A decimal boundary that binary fractions miss: 3.1 - 1.0 - 2.1.
	r = value[FallResult](t)(Fall{3.1, 0, 0.4, false, 8.4, 0.25}.Check())
	same(t, "decimal boundary", r.OK, true)
	near(t, "no run needed", value[FallResult](t)(Fall{4, 0, 1.5, false, 0, 0.25}.Check()).RequiredIn, 0, 0)
}

// Sources: ASME A112.1.2, IPC 802.3.1, NSPC and UPC 801 (1 in minimum).
func TestAirGap(t *testing.T) {
	for _, c := range [][2]float64{{1.5, 3}, {1, 2}, {0.375, 1}, {0.5, 1}, {0.51, 1.02}, {1.61, 3.22}, {3, 6}} {
		near(t, "gap", AirGapIn(c[0]), c[1], 1e-12)
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		isNaN(t, "gap", AirGapIn(v))
	}
}
