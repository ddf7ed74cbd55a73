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
		r := f.Check()
		spare := r.AvailableIn - r.RequiredIn
		near(t, row["case"]+" gap", r.GapIn, num(t, row, "required_gap_in"), 0.0005)
		near(t, row["case"]+" available", r.AvailableIn, num(t, row, "available_fall_in"), 0.0005)
		near(t, row["case"]+" required", r.RequiredIn, num(t, row, "required_fall_in"), 0.0005)
		near(t, row["case"]+" spare", spare, num(t, row, "spare_in"), 0.0005)
		same(t, row["case"]+" result", spare >= -0.0005, row["gravity_result"] == "PASS")
		near(t, row["case"]+" longest run", r.MaxRunFt, num(t, row, "max_run_ft"), 0.005)
		if r.AvailableIn > 0 && f.RunFt > 0 {
			near(t, row["case"]+" steepest", r.Steepest*f.RunFt, r.AvailableIn, 1e-9)
		} else {
			isNaN(t, row["case"]+" steepest", r.Steepest)
		}
		// A wider gap as built takes as much more of the fall; a narrower one counts for nothing.
		if !f.AirBreak {
			f.GapIn = r.GapIn + 0.5
			near(t, row["case"]+" wider gap", f.Check().AvailableIn, r.AvailableIn-0.5, 1e-9)
			f.GapIn = r.GapIn - 0.5
			near(t, row["case"]+" narrower gap", f.Check().AvailableIn, r.AvailableIn, 0)
		}
	}
	for name, f := range map[string]Fall{
		"no opening":   {OutletIn: 8, RunFt: 6, SlopeInPerFt: 0.25},
		"no slope":     {OutletIn: 8, OpeningIn: 1.5, RunFt: 6},
		"negative run": {OutletIn: 8, OpeningIn: 1.5, RunFt: -1, SlopeInPerFt: 0.25},
		"NaN outlet":   {OutletIn: math.NaN(), OpeningIn: 1.5, RunFt: 6, SlopeInPerFt: 0.25},
		"infinite rim": {OutletIn: 8, RimIn: math.Inf(1), OpeningIn: 1.5, RunFt: 6, SlopeInPerFt: 0.25},
	} {
		isNaN(t, name, f.Check().AvailableIn)
	}
	near(t, "no run needed", Fall{OutletIn: 4, OpeningIn: 1.5, SlopeInPerFt: 0.25}.Check().RequiredIn, 0, 0)
	near(t, "a gap not known", Fall{OutletIn: 8, OpeningIn: 1.5, GapIn: math.NaN(), RunFt: 6, SlopeInPerFt: 0.25}.Check().GapIn, 3, 0)
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
