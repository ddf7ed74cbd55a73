package trade

import "testing"

// Sources: IPC Appendix E Tables E103.3(6) and E103.3(5), from memory,
// fittings_solder.csv and fittings_threaded.csv.
func TestIPCFittings(t *testing.T) {
	check := func(joint Joint, row map[string]string, cols map[string]Fitting) {
		for key, f := range cols {
			got, src, err := EquivalentFt(joint, f, row["nominal"])
			ok(t, row["nominal"]+" "+key, err)
			want := 0.0 // an empty cell is no allowance
			if row[key] != "" {
				want = num(t, row, key)
			}
			near(t, row["nominal"]+" "+key, got, want, 0)
			if src.Document != "IPC" {
				t.Errorf("%s: source %v", key, src)
			}
		}
	}
	for _, row := range table(t, "fittings_solder.csv", 5) {
		check(Soldered, row, map[string]Fitting{"ell90": Elbow90, "ell45": Elbow45, "tee_branch": TeeBranch, "tee_run": TeeRun, "ball": BallValve, "gate": GateValve, "check": CheckValve})
	}
	for _, row := range table(t, "fittings_threaded.csv", 4) {
		check(Threaded, row, map[string]Fitting{"ell90": Elbow90, "ell45": Elbow45, "tee_branch": TeeBranch, "tee_run": TeeRun, "gate": GateValve, "globe": GlobeValve, "angle": AngleValve})
	}
	// Source: PVC slip fitting table, an irrigation handbook page.
	for _, c := range []struct {
		nominal                 string
		ell90, branch, run, l45 float64
	}{{"1/2", 1.5, 4, 1.0, 0.8}, {"3/4", 2.0, 5, 1.4, 1.0}, {"1", 2.3, 6, 1.7, 1.4}} {
		for f, want := range map[Fitting]float64{Elbow90: c.ell90, TeeBranch: c.branch, TeeRun: c.run, Elbow45: c.l45} {
			got, _, err := EquivalentFt(PVCSlips, f, c.nominal)
			ok(t, c.nominal, err)
			near(t, c.nominal+" "+string(f), got, want, 0)
		}
	}
	_, _, err := EquivalentFt(Soldered, GlobeValve, "1/2")
	fails(t, "no column", err, ErrNotTabulated)
	_, _, err = EquivalentFt(Soldered, Elbow90, "2")
	fails(t, "no size", err, ErrNotTabulated)
	_, _, err = EquivalentFt("glued", Elbow90, "1/2")
	fails(t, "no table", err, ErrNotTabulated)
}

// Source: Crane TP-410 L/D (elbows and tees seen, valves from memory).
func TestCraneLD(t *testing.T) {
	for f, want := range map[Fitting]float64{
		Elbow90: 30, Elbow45: 16, TeeRun: 20, TeeBranch: 60, GateValve: 8, BallValve: 3,
		CheckValve: 100, CheckClearway: 50, GlobeValve: 340, AngleValve: 150,
	} {
		got, _, err := LengthOverDiameter(f)
		ok(t, string(f), err)
		near(t, string(f), got, want, 0)
	}
	_, _, err := LengthOverDiameter("wye")
	fails(t, "wye", err, ErrNotTabulated)
	near(t, "90 elbow in 3/4 L", EquivalentFtLD(30, 0.785), 1.9625, 1e-9)
	// The two families agree roughly: 1.96 against 2 ft of the solder table.
}
