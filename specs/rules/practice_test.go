package rules

import (
	"testing"

	"firstfill/survey/quantity"
)

// TestPracticeAndCode holds the checks against facts of the trade (common
// practice, no source) about a small rotary bar washer, and shows where
// practice and code part. The machine is testdata/machines/bar-rotary.yaml.
func TestPracticeAndCode(t *testing.T) {
	tests := []struct {
		name string
		set  set
		id   string
		want Verdict
	}{
		// 25 to 95 psi at the inlet; no regulator needed until pressure exceeds 95 psi.
		{"25 psi at the inlet will do", set{"water.cold.static_pressure": "40 ± 0 psi", "water.cold.flowing_pressure": "40 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-05", OK},
		{"90 psi static passes the machine", set{"water.cold.static_pressure": "90 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-01", OK},
		{"95 psi static passes the machine", set{"water.cold.static_pressure": "95 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-01", OK},
		{"96 psi static needs a regulator for the machine", set{"water.cold.static_pressure": "96 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-01", Fix},
		// The building code (IPC 604.8) asks for a regulator above 80 psi all the same.
		{"90 psi static needs a regulator by the building code", set{"water.cold.static_pressure": "90 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-03", Fix},
		{"80 psi static is within the building code", set{"water.cold.static_pressure": "80 ± 0 psi", "water.cold.regulator": "0 psi"}, "W-03", OK},
		// A check valve on each line close to the machine.
		{"no check valve on the cold line", set{"water.cold.check_valve": "no"}, "W-25", Fix},
		{"no check valve on the hot line", set{"water.hot.check_valve": "no"}, "W-26", Fix},
		{"a check valve is no backflow device", set{"water.cold.backflow": "check-valve"}, "W-28", Fix},
		// 3/4 in garden-hose connections with hoses of about 6 ft.
		{"garden-hose thread", set{"water.cold.connection": "3/4 GHT"}, "W-34", OK},
		{"pipe thread doesn't take the hose", set{"water.cold.connection": "3/4 NPT"}, "W-34", Fix},
		{"5 ft is within the hose", set{"water.cold.hose_distance": "5 ft"}, "W-36", OK},
		{"7 ft is beyond it", set{"water.cold.hose_distance": "7 ft"}, "W-36", Fix},
		// 208-230 V on a 15 A, 250 V receptacle, cord about 6 ft.
		{"NEMA 6-15", set{"power.receptacle": "NEMA 6-15", "power.breaker": "15 A"}, "E-17", OK},
		{"NEMA 5-15", set{"power.receptacle": "NEMA 5-15"}, "E-17", Fix},
		{"208 V", set{"power.line_to_line": "208 ± 0 V", "power.system": "208Y/120"}, "E-03", OK},
		{"5 ft is within the cord", set{"power.receptacle_distance": "5 ft"}, "E-19", OK},
		{"7 ft is beyond it", set{"power.receptacle_distance": "7 ft"}, "E-19", Fix},
		// The tank is at 150 to 155 °F; PVC takes 140 °F (from memory), copper more.
		{"PVC under a tank that dumps at 155 °F", set{"drain.pipe_material": "pvc", "drain.tempering_flow": "0 gpm"}, "D-09", Fix},
		{"copper under it", set{"drain.pipe_material": "copper", "drain.receptor_outlet_material": "cast-iron", "drain.tempering_flow": "0 gpm"}, "D-09", OK},
	}
	m := machine(t, "bar-rotary")
	if got := m.Throughput.Revolution.In(quantity.Minute); got < 1.2 || got > 1.8 {
		t.Errorf("one turn takes %v min, practice says about a minute and a half", got)
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, _ := row{machine: "bar-rotary", set: tt.set}.laid(t)
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(tt.id)}, NoRemedy: true}).Findings[0]
			if f.Verdict != tt.want {
				t.Errorf("%s: got %v, want %v; have %q, want %q, working %v", tt.id, f.Verdict, tt.want, f.Have, f.Want, f.Working)
			}
		})
	}
}

// TestRinseMix sees the final rinse mixed to 75 °F from cold and hot: common
// practice, no source, so that glasses don't crack, cold water usually being colder.
func TestRinseMix(t *testing.T) {
	s, m := row{machine: "bar-rotary"}.laid(t)
	if got := m.Rinse.Target.In(quantity.Fahrenheit); got != 75 {
		t.Errorf("the rinse aims at %v °F, want 75", got)
	}
	f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID("W-16")}}).Findings[0]
	if f.Verdict != OK {
		t.Errorf("mixing in winter: got %v, have %q, want %q", f.Verdict, f.Have, f.Want)
	}
}
