package trade

import (
	"math"
	"testing"
)

// Source: FDA Food Code 4-501.114 in state copies (a Utah copy prints the same
// chlorine, iodine and quat figures); 40 CFR 180.940 limits from memory.
func TestSolution(t *testing.T) {
	nan := math.NaN()
	for s, want := range map[Sanitizer][2]float64{Chlorine: {200, 200}, Iodine: {25, 25}, Quat: {200, 400}} {
		a, b, err := NoRinse(s)
		ok(t, "no-rinse", err)
		near(t, "no-rinse", a, want[0], 0)
		near(t, "no-rinse by label", b, want[1], 0)
	}
	_, _, err := NoRinse(0)
	fails(t, "no sanitizer", err, ErrRange)
	_, err = Solution{}.Faults()
	fails(t, "no sanitizer", err, ErrRange)
	for _, c := range []struct {
		name string
		s    Solution
		want []SolutionFault
	}{
		{"chlorine, 50 at pH 8 and 75 F", Solution{Sanitizer: Chlorine, MgL: 50, PH: 8, TempF: 75}, nil},
		{"a degree colder", Solution{Sanitizer: Chlorine, MgL: 50, PH: 8, TempF: 74}, []SolutionFault{{SolutionTemperature, 74, 75, true}}},
		{"200 is allowed", Solution{Sanitizer: Chlorine, MgL: 200, PH: 8, TempF: 75}, nil},
		{"201 is not", Solution{Sanitizer: Chlorine, MgL: 201, PH: 8, TempF: 75}, []SolutionFault{{SolutionStrength, 201, 200, false}}},
		{"a label only lowers", Solution{Sanitizer: Chlorine, MgL: 150, PH: 8, TempF: 75, LabelMaxMgL: 100}, []SolutionFault{{SolutionStrength, 150, 100, false}}},
		{"and never raises chlorine", Solution{Sanitizer: Chlorine, MgL: 300, PH: 8, TempF: 75, LabelMaxMgL: 400}, []SolutionFault{{SolutionStrength, 300, 200, false}}},
		{"24.9 is too weak", Solution{Sanitizer: Chlorine, MgL: 24.9, PH: 7, TempF: 120}, []SolutionFault{{SolutionStrength, 24.9, 25, true}}},
		{"too alkaline isn't too cold", Solution{Sanitizer: Chlorine, MgL: 100, PH: 10.1, TempF: 60}, []SolutionFault{{SolutionPH, 10.1, 10, false}}},
		{"iodine", Solution{Sanitizer: Iodine, MgL: 12.5, PH: 5, TempF: 68}, nil},
		{"iodine pH", Solution{Sanitizer: Iodine, MgL: 20, PH: 5.1, TempF: 68}, []SolutionFault{{SolutionPH, 5.1, 5, false}}},
		{"iodine pH by label", Solution{Sanitizer: Iodine, MgL: 20, PH: 5.1, TempF: 68, LabelMaxPH: 6}, nil},
		{"iodine strength", Solution{Sanitizer: Iodine, MgL: 25.1, PH: 5, TempF: 67.9}, []SolutionFault{{SolutionStrength, 25.1, 25, false}, {SolutionTemperature, 67.9, 68, true}}},
		{"quat", Solution{Sanitizer: Quat, MgL: 200, TempF: 75, HardnessMgL: 500, LabelMinMgL: 150}, nil},
		{"quat by its label", Solution{Sanitizer: Quat, MgL: 400, TempF: 75, HardnessMgL: 400, LabelMinMgL: 150, LabelMaxMgL: 400}, nil},
		{"quat hard water", Solution{Sanitizer: Quat, MgL: 200, TempF: 75, HardnessMgL: 501}, []SolutionFault{{SolutionHardness, 501, 500, false}}},
		{"quat's label lowers it", Solution{Sanitizer: Quat, MgL: 200, TempF: 75, HardnessMgL: 300, LabelMaxHard: 250}, []SolutionFault{{SolutionHardness, 300, 250, false}}},
	} {
		got, err := c.s.Faults()
		ok(t, c.name, err)
		same(t, c.name, len(got), len(c.want))
		for i := range c.want {
			if i < len(got) {
				same(t, c.name, got[i], c.want[i])
			}
		}
	}
	got, err := Solution{Sanitizer: Chlorine, MgL: 50, PH: nan, TempF: 75}.Faults()
	ok(t, "pH not known", err)
	same(t, "pH not known", len(got) == 1 && got[0].What == SolutionPH && got[0].Unknown(), true)
	got, err = Solution{Sanitizer: Quat, MgL: nan, TempF: nan, HardnessMgL: nan}.Faults()
	ok(t, "nothing known", err)
	same(t, "nothing known", len(got), 3)
	for _, c := range [][3]float64{{7, 120, 25}, {10, 119.9, 50}, {10, 100, 50}, {8, 99.9, 50}, {8, 75, 50}, {8.1, 99.9, 100}, {8, 74.9, 100}, {10, 55, 100}} {
		mg := value[float64](t)(ChlorineNeedMgL(c[0], c[1]))
		near(t, "chlorine needed", mg, c[2], 0)
		same(t, "agrees with the table", value[float64](t)(ChlorineMinF(mg, c[0])) <= c[1], true)
	}
	for _, c := range [][2]float64{{7, 54.9}, {10.1, 120}} {
		_, err := ChlorineNeedMgL(c[0], c[1])
		fails(t, "no strength does", err, ErrCannot)
	}
	_, err = ChlorineNeedMgL(nan, 70)
	fails(t, "no pH", err, ErrRange)
	for _, c := range []struct {
		target, tol, floor float64
		want               bool
	}{{50, 5, 50, true}, {55, 5, 50, false}, {54.9, 5, 50, true}, {50, 0, 50, false}, {49, 5, 50, false}, {nan, 5, 50, false}} {
		same(t, "dips", DipsBelow(c.target, c.tol, c.floor), c.want)
	}
}

// Sources: scopes of ASSE 1001-2008 (6 in, 12 h, after the last valve) and
// ASSE 1056-2013 (12 in) on catalogue pages; city cross-connection rules (12 in
// for pressure vacuum breakers, 12 in above the floor and drained for
// reduced-pressure assemblies).
func TestBackflowPlace(t *testing.T) {
	for _, d := range BackflowDevices() {
		p := value[BackflowPlace](t)(FindBackflowPlace(d.Standard))
		if !d.LowHeadOnly {
			same(t, d.Name+": back-pressure", p.BackPressure, d.BackPressure)
		}
		same(t, d.Name+": relief", p.ReliefDrain, d.Relief)
		if d.Standard != "ASME A112.1.2" {
			same(t, d.Name+": continuous", math.IsInf(p.MaxHours, 1), d.ContinuousPressure)
		}
		same(t, d.Name+": height asked where it only breaks vacuum", p.AboveOutletIn > 0, !d.BackPressure)
		if p.Source.Document == "" {
			t.Errorf("%s has no source", d.Name)
		}
	}
	for _, c := range []struct {
		standard      string
		outlet, floor float64
		want          bool
	}{
		{"ASSE 1001", 6, math.NaN(), true}, {"ASSE 1001", 5.9, 99, false}, {"ASSE 1001", 152 / MMPerIn, 0, true}, {"ASSE 1001", math.NaN(), 99, false},
		{"ASSE 1020", 12, 0, true}, {"ASSE 1020", 11.9, 99, false}, {"ASSE 1056", 12, 0, true}, {"ASSE 1056", 6, 99, false},
		{"ASSE 1013", math.NaN(), 12, true}, {"ASSE 1013", 99, 11.9, false}, {"ASSE 1015", math.NaN(), math.NaN(), true},
	} {
		same(t, c.standard, value[BackflowPlace](t)(FindBackflowPlace(c.standard)).HighEnough(c.outlet, c.floor), c.want)
	}
	same(t, "an air gap needs tank and pump", value[BackflowPlace](t)(FindBackflowPlace("ASME A112.1.2")).TankAndPump, true)
	near(t, "hours", value[BackflowPlace](t)(FindBackflowPlace("ASSE 1001")).MaxHours, 12, 0)
	_, err := FindBackflowPlace("check valve")
	fails(t, "a check valve is none", err, ErrNotTabulated)
	same(t, "the cold line comes first", TemperNeeds()[0], TemperColdLine)
}

// Source: common practice, no source, for the fall-off; well pump guides for
// 20/40, 30/50 and 40/60 psi.
func TestRegulatorAndWell(t *testing.T) {
	lo, hi := RegulatorFlowPSI(60)
	near(t, "low", lo, 45, 0)
	near(t, "high", hi, 50, 0)
	lo, _ = RegulatorFlowPSI(12)
	near(t, "never below zero", lo, 0, 0)
	lo, _ = RegulatorFlowPSI(0)
	isNaN(t, "no setting", lo)
	near(t, "the main gives less", RegulatorGives(60, 40), 40, 0)
	near(t, "the regulator gives less", RegulatorGives(60, 70), 45, 0)
	isNaN(t, "no supply", RegulatorGives(60, -1))
	for _, c := range []struct {
		gauge, tag, tol float64
		state           RegulatorState
		judged          float64
	}{{60, 60, 2, RegulatorHolds, 60}, {62, 60, 2, RegulatorHolds, 62}, {62.1, 60, 2, RegulatorExceeded, 62.1}, {75, 60, 2, RegulatorExceeded, 75}, {50, 60, 2, RegulatorHolds, 60}, {60.1, 60, 0, RegulatorExceeded, 60.1}} {
		s, p := JudgeRegulator(c.gauge, c.tag, c.tol)
		same(t, "state", s, c.state)
		near(t, "judged at", p, c.judged, 0)
	}
	s, p := JudgeRegulator(math.NaN(), 60, 2)
	same(t, "no reading", s, RegulatorUnknown)
	isNaN(t, "no reading", p)
	for _, w := range []Well{{20, 40}, {30, 50}, {40, 60}} {
		same(t, "valid", w.Valid(), true)
		near(t, "differential", w.CutOutPSI-w.CutInPSI, 20, 0)
	}
	for _, c := range []struct {
		w           Well
		least, most float64
		low, high   bool
	}{{Well{30, 50}, 30, 50, true, true}, {Well{30, 50}, 35, 75, false, true}, {Well{40, 60}, 20, 55, true, false}, {Well{50, 30}, 10, 90, false, false}, {Well{math.NaN(), 50}, 10, 90, false, false}} {
		l, h := c.w.Within(c.least, c.most)
		same(t, "low", l, c.low)
		same(t, "high", h, c.high)
	}
	// Source: NFPA 291 extrapolation; with the test's own flow its residual.
	f := FlowTest{60, 50, 5}
	near(t, "alone", value[float64](t)(SharedMain(f, 5)), 50, 1e-9)
	near(t, "together", value[float64](t)(SharedMain(f, 4, 3)), 60-10*math.Pow(7.0/5, 1/0.54), 1e-9)
	_, err := SharedMain(f, 4, -1)
	fails(t, "negative", err, ErrRange)
	_, err = SharedMain(f, 20, 20)
	fails(t, "more than the main gives", err, ErrCannot)
	near(t, "flowing is worse", WorstImbalance(60, 60, 30, 50), 0.4, 1e-12)
	near(t, "static is worse", WorstImbalance(60, 30, 30, 30), 0.5, 1e-12)
	near(t, "static only", WorstImbalance(60, 45, math.NaN(), 30), 0.25, 1e-12)
	isNaN(t, "neither", WorstImbalance(math.NaN(), 1, 1, math.NaN()))
}
