package trade

import (
	"fmt"
	"testing"
)

// Published single figures, each beside its source. A second copy by hand:
// it catches a slip of the pen in a constant that no formula uses.
func TestPublishedConstants(t *testing.T) {
	for _, c := range []struct {
		source    string
		got, want float64
	}{
		{"IPC 604.8", MaxStaticPSI, 80},
		{"IPC Appendix E E103.2.2", CodePSIPerFt, 0.433},
		{"water safety guidance, storage", LegionellaStorageF, 140},
		{"ASSE 1070 set point ceiling", HandWashLimitF, 120},
		{"team convention, north", WinterMainsNorthF, 40},
		{"team rule, pressure difference", PressureImbalanceLimit, 0.20},
		{"ASSE 1001-2008 scope", AVBAboveRimIn, 6},
		{"Food Code 4-203.13, from memory, accuracy", GaugeAccuracyPSI, 2},
		{"common practice, feed lift", FeedLiftHighFt, 6},
		{"common practice, feed line", FeedLineHighFt, 10},
		{"common practice, crate", CrateHandClearance, 2},
		{"ASCE 7 Table 4.3-1, from memory", FloorLiveLoadPSF, 100},
		{"common practice, derating", DerateRacks, 0.70},
		{"IPC 1002.4", TrapSealMinIn, 2},
		{"IPC 1002.4", TrapSealMaxIn, 4},
		{"textbooks, from memory, sharp-edged", CdSharp, 0.61},
		{"NEC informational notes, branch", NECBranchDropPct, 3},
		{"IEC 60364-4-41, from memory", RCDForIECmA, 30},
		{"Food Code 4-501.114, iodine low", IodineMinMgL, 12.5},
		{"Food Code 4-501.114, iodine high", IodineMaxMgL, 25},
	} {
		near(t, c.source, c.got, c.want, 0)
	}
	same(t, "UPC 703.2 footnote", WasherBranchMin, "2")
	same(t, "IPC 604.9, from memory", WaterHammerArrester, "ASSE 1010")
	// Sources: engineering tables of n (new cast iron 0.012, copper 0.011);
	// plastics and iron in service from memory.
	for _, c := range []struct {
		m              Drainpipe
		smooth, design float64
	}{{PVCDWV, 0.009, 0.011}, {ABSDWV, 0.009, 0.011}, {CPVCDrain, 0.009, 0.011}, {CopperDWV, 0.011, 0.011}, {CastIron, 0.012, 0.013}} {
		r := value[ManningRange](t)(ManningNOf(c.m))
		near(t, string(c.m)+" smooth", r.Smooth, c.smooth, 0)
		near(t, string(c.m)+" design", r.Design, c.design, 0)
	}
	// Source: NFPA 13 C-values: lower figures from memory.
	for m, want := range map[Material]float64{CopperK: 140, CopperL: 140, CopperM: 140, PEX: 140, PVC40: 140, CPVC: 140, Steel40: 100} {
		_, low, _, err := CValue(m)
		ok(t, string(m), err)
		near(t, string(m)+" lower C", low, want, 0)
	}
	near(t, "PEX roughness, upper end", value[float64](t)(RoughnessMM(PEX)), 0.007, 0)
	v := value[MixingValve](t)(PickMixingValve(MixAtSource, 120))
	same(t, "ASSE 1017 outlet range", [2]float64{v.OutMinF, v.OutMaxF}, [2]float64{105, 120})
}

// The widest readings that count as a system: ANSI C84.1 range B utilization
// minimum and service maximum (from memory), 10 percent of 230 and 400 V.
func TestSystemWindows(t *testing.T) {
	for _, c := range []struct {
		s              System
		ll, ln         [2]float64
		lineToLine, ph float64
	}{
		{Single120, [2]float64{}, [2]float64{104, 127}, 0, 1},
		{Split120_240, [2]float64{208, 254}, [2]float64{104, 127}, 240, 1},
		{Wye208Y120, [2]float64{180, 220}, [2]float64{104, 127}, 208, 3},
		{Wye208Single, [2]float64{180, 220}, [2]float64{104, 127}, 208, 1},
		{HighLeg240, [2]float64{208, 254}, [2]float64{104, 127}, 240, 3},
		{Delta240, [2]float64{208, 254}, [2]float64{}, 240, 3},
		{Wye480Y277, [2]float64{416, 508}, [2]float64{240, 293}, 480, 3},
		{Delta480, [2]float64{416, 508}, [2]float64{}, 480, 3},
		{Single230, [2]float64{}, [2]float64{207, 253}, 0, 1},
		{Wye400Y230, [2]float64{360, 440}, [2]float64{207, 253}, 400, 3},
	} {
		i, found := c.s.Info()
		same(t, c.s.String(), found, true)
		same(t, i.Name+" line to line", [2]float64{i.LLMin, i.LLMax}, c.ll)
		same(t, i.Name+" line to neutral", [2]float64{i.LNMin, i.LNMax}, c.ln)
		near(t, i.Name+" nominal", i.LineLineV, c.lineToLine, 0)
		near(t, i.Name+" phases", float64(i.Phases), c.ph, 0)
		// The edges themselves belong to the system, a tenth of a volt more does not.
		at := func(v float64) bool {
			r := Readings{Legs: i.Legs, NoN: !i.Neutral}
			if i.LineLineV > 0 {
				r.LL = []float64{v}
			} else {
				r.LN = []float64{v}
			}
			for _, got := range value[Recognition](t)(Recognize(r)).Candidates {
				if got == c.s {
					return true
				}
			}
			return false
		}
		w := c.ll
		if i.LineLineV == 0 {
			w = c.ln
		}
		same(t, fmt.Sprint(i.Name, " edges"), [4]bool{at(w[0]), at(w[1]), at(w[0] - 0.1), at(w[1] + 0.1)}, [4]bool{true, true, false, false})
	}
	// High-leg readings, 120 V x sqrt 3 at the tolerance of the 120 V legs.
	for _, c := range []struct {
		v    float64
		want int
	}{{180, 1}, {220, 1}, {179.9, 0}, {220.1, 0}} {
		got := value[Recognition](t)(Recognize(Readings{LL: []float64{240, 240, 240}, LN: []float64{120, c.v, 120}}))
		same(t, "high leg", len(got.Candidates), c.want)
	}
}

// Highest voltages of the receptacle ratings.
func TestReceptacleVoltage(t *testing.T) {
	for _, r := range Receptacles() {
		want := map[string]float64{"125 V": 125, "250 V": 250, "125/250 V": 250, "120/208 V": 208, "200-250 V": 250, "380-415 V": 415}[r.Rating]
		near(t, r.Config, r.MaxV, want, 0)
	}
}
