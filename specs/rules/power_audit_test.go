package rules

import (
	"strings"
	"testing"
)

// A master electrician's audit of the checks of power: what he would stop, and
// what he would strike out of the advice.
var powerAuditRows = []row{
	// A neutral that has come loose: the legs lie further apart than any sound supply lets them.
	{id: "E-01", name: "loose neutral, 90 and 150 V", want: Confirm, have: "unequal legs", set: legs("240 ± 0 V", "90 ± 0 V", "150 ± 0 V"), source: "legs on either side of a loose neutral add up to the line: Kirchhoff's voltage law"},
	{id: "E-01", name: "loose neutral, 112 and 128 V, beyond 127 V", machine: "sanderling-u24p", want: Confirm, have: "unequal legs", set: set{"power.system": "120/240", "power.line_to_line": "240 ± 0 V", "power.line_to_neutral": "112 ± 0 V", "power.high_leg_to_neutral": "128 ± 0 V"}},
	{id: "E-02", name: "loose neutral, label right", want: OK, set: set{"power.system": "120/240", "power.line_to_line": "240 ± 0 V", "power.line_to_neutral": "90 ± 0 V", "power.high_leg_to_neutral": "150 ± 0 V"}},
	{id: "E-01", name: "loose neutral of a wye", machine: "godwit-c44", want: Confirm, have: "unequal legs", set: set{"power.line_to_neutral": "95 ± 0 V", "power.middle_leg_to_neutral": "122 ± 0 V", "power.high_leg_to_neutral": "145 ± 0 V"}},
	{id: "E-01", name: "loose neutral, metric", machine: "knot-c400", want: Confirm, have: "unequal legs", set: set{"power.line_to_neutral": "190 ± 0 V", "power.middle_leg_to_neutral": "235 ± 0 V", "power.high_leg_to_neutral": "270 ± 0 V"}},
	{id: "E-01", name: "legs of nothing known", want: Fix, set: legs("240 ± 0 V", "60 ± 0 V", "100 ± 0 V")},

	// Every line of a three-phase supply against the plate, 191 to 220 V.
	{id: "E-03", name: "third line just below the maximum", machine: "godwit-c44", want: OK, set: lines("208 ± 0 V", "208 ± 0 V", "219.9 ± 0 V")},
	{id: "E-03", name: "third line at the maximum", machine: "godwit-c44", want: OK, set: lines("208 ± 0 V", "208 ± 0 V", "220 ± 0 V"), margin: "0 V below the limit"},
	{id: "E-03", name: "third line just above", machine: "godwit-c44", want: Fix, have: "C-A", set: lines("208 ± 0 V", "208 ± 0 V", "220.1 ± 0 V")},
	{id: "E-03", name: "a lost phase", machine: "godwit-c44", want: Fix, have: "legs C-A", set: lines("208 ± 0 V", "120 ± 0 V", "118 ± 0 V")},
	{id: "E-03", name: "third line in kilovolts", machine: "knot-c400", want: Fix, have: "B-C", set: lines("400 ± 0 V", "0.43 ± 0 kV", "400 ± 0 V")},
	{id: "E-16", name: "the weakest line counts", machine: "godwit-c44", want: Fix, set: lines("208 ± 0 V", "191.5 ± 0 V", "208 ± 0 V")},

	// Within reach: NEC 210.8 readily accessible, 404.8(A) 6 ft 7 in (from memory).
	{id: "E-22", name: "GFCI receptacle at 79 in", want: OK, set: set{"power.ground_fault_protection": "receptacle", "power.outlet_from_left": "-10 in", "power.outlet_height": "79 ± 0 in"}},
	{id: "E-22", name: "GFCI receptacle above reach", want: Fix, have: "ladder", set: set{"power.ground_fault_protection": "receptacle", "power.outlet_from_left": "-10 in", "power.outlet_height": "79.1 ± 0 in"}},
	{id: "E-22", name: "GFCI receptacle above reach, in metres", want: Fix, set: set{"power.ground_fault_protection": "receptacle", "power.outlet_from_left": "-0.3 m", "power.outlet_height": "2.4 m"}},
	{id: "E-21", name: "plug, sheet without an outline", want: Missing, spec: set{"space.width": "unknown"}},
	{id: "E-22", name: "GFCI receptacle, sheet without an outline", want: Missing, set: set{"power.ground_fault_protection": "receptacle"}, spec: set{"space.height": "unknown"}},

	// The grounding conductor's own metal under the devices' screws (NEC 110.14, from memory).
	{id: "E-34", name: "copper circuit, aluminum ground, devices for copper", want: Fix, have: "aluminum ground", set: set{"power.ground_material": "aluminium", "power.ground": "10 AWG", "power.devices_take": "copper"}},
	{id: "E-34", name: "copper circuit, aluminum ground, devices for both", want: OK, set: set{"power.ground_material": "aluminium", "power.ground": "10 AWG", "power.devices_take": "copper-aluminium"}},
	{id: "E-34", name: "aluminum ground, marks not read", want: Missing, set: set{"power.ground_material": "aluminium", "power.ground": "10 AWG", "power.devices_take": "unknown"}},

	// The smallest breaker that carries the machine is 45 A: the wire gives way, not the breaker.
	{id: "E-13", name: "no smaller breaker carries the machine", machine: "dunlin-u24", want: Fix, have: "40 A", margin: "5 A short", set: laidIn("8 AWG", "60", "30 ± 0 °C", "2", set{"power.breaker": "45 A", "power.terminals": "60"}),
		source: "NEC Table 310.16, 8 AWG copper, 60 °C: 40 A (published in two places); the sheet's minimum circuit of 42 A"},

	// No option of the machine suits the supply: what hangs on it waits, and nothing is pulled.
	{id: "E-03", name: "above the only option, the utility's to mend", want: Fix, action: "nominal 240 V", set: legs("253 ± 0 V", "126.5 ± 0 V", "126.5 ± 0 V")},
	{id: "E-08", name: "no option suits the supply", machine: "dunlin-u24", want: Confirm, action: "wait for the supply option", set: set{"power.breaker": "30 A", "power.system": "120/240", "power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"}},
	{id: "E-08", name: "at the plate's maximum it doesn't wait", machine: "dunlin-u24", want: Fix, set: set{"machine.supply": "240 V", "power.breaker": "30 A", "power.system": "120/240", "power.line_to_line": "252 ± 0 V", "power.line_to_neutral": "126 ± 0 V", "power.high_leg_to_neutral": "126 ± 0 V"}},
	{id: "E-08", name: "no option suits, and right with each at any voltage", want: OK, set: legs("253 ± 0 V", "126.5 ± 0 V", "126.5 ± 0 V")},
	{id: "E-08", name: "breaker not read, no option suits", want: Missing, set: set{"power.breaker": "unknown", "power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"}},
	{id: "E-08", name: "voltage between the two options", machine: "dunlin-u24", want: Confirm, action: "wait for the supply option", set: set{"power.system": "120/240", "power.line_to_line": "227 ± 0 V", "power.line_to_neutral": "113.5 ± 0 V", "power.high_leg_to_neutral": "113.5 ± 0 V", "power.breaker": "30 A"}},
	{id: "E-09", name: "no option suits the supply", want: Confirm, action: "wait for the supply option", set: set{"power.breaker": "25 A", "power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"}},
	{id: "E-12", name: "no option suits the supply", machine: "dunlin-u24", want: Confirm, action: "wait for the supply option", set: set{"power.conductor": "14 AWG", "power.system": "120/240", "power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"}},
	{id: "E-13", name: "no option suits the supply", want: Confirm, action: "wait for the supply option", set: set{"power.conductor": "14 AWG", "power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"}},
	{id: "E-17", name: "wrong frequency: nothing on site mends it", machine: "turnstone-u50", want: Confirm, action: "wait for the supply option", set: set{"power.frequency": "60 Hz", "power.receptacle": "type G"}},
	{id: "E-17", name: "58.9 Hz is not 60", want: Confirm, action: "wait for the supply option", set: set{"power.frequency": "58.9 ± 0 Hz", "power.receptacle": "NEMA 5-15"}},
	{id: "E-28", name: "no option suits: first the supply", want: Fix, action: "settle the supply first", set: sharedWith("4.5 A", set{"power.line_to_line": "253 ± 0 V", "power.line_to_neutral": "126.5 ± 0 V", "power.high_leg_to_neutral": "126.5 ± 0 V"})},
	{id: "E-08", name: "three-phase machine, no third phase", machine: "godwit-c44", want: Confirm, action: "wait for the supply option", set: set{"power.phases": "1", "power.breaker": "15 A"}},
	{id: "E-08", name: "one leg pair above the plate", machine: "godwit-c44", want: Confirm, action: "wait for the supply option", set: set{"power.breaker": "15 A", "power.line_to_line": "208 ± 0 V", "power.line_to_line_bc": "208 ± 0 V", "power.line_to_line_ca": "220.1 ± 0 V"}},
	{id: "E-08", name: "single-phase machine on three phases: a circuit of one is taken from them", machine: "dunlin-u24", want: Fix, set: set{"power.phases": "3", "power.breaker": "30 A"}},
	{id: "E-11", name: "240 V breaker on 480 V, no option suits", machine: "godwit-c44", want: Fix, action: "settle the supply first", set: set{"power.breaker_voltage": "240", "power.line_to_line": "480 ± 0 V", "power.line_to_line_bc": "480 ± 0 V", "power.line_to_line_ca": "480 ± 0 V", "power.line_to_neutral": "277 ± 0 V", "power.middle_leg_to_neutral": "277 ± 0 V", "power.high_leg_to_neutral": "277 ± 0 V"}},

	// Flexible metal conduit as the ground: NEC 250.118(5) and (6), their text in an electricians' forum and a course's summary.
	{id: "E-14", name: "flexible conduit behind 20 A", want: Confirm, action: "6 ft", set: set{"power.ground_material": "conduit", "power.ground": "unknown", "power.conduit": "flexible"}},
	{id: "E-14", name: "flexible conduit behind 25 A", want: Fix, have: "flexible metal", margin: "5 A over the limit", set: set{"power.ground_material": "conduit", "power.ground": "unknown", "power.conduit": "flexible", "power.breaker": "25 A"}},
	{id: "E-14", name: "flexible conduit, breaker not read", want: Missing, set: set{"power.ground_material": "conduit", "power.conduit": "flexible", "power.breaker": "unknown"}},
	{id: "E-14", name: "liquidtight behind 20 A", want: Confirm, action: "no larger than 1-1/4 in", set: set{"power.ground_material": "conduit", "power.conduit": "liquidtight"}},
	{id: "E-14", name: "liquidtight behind 60 A", machine: "dunlin-u24", want: Confirm, action: "3/4 to 1-1/4 in", set: set{"power.ground_material": "conduit", "power.conduit": "liquidtight", "power.breaker": "60 A"}},
	{id: "E-14", name: "liquidtight behind 70 A", machine: "dunlin-u24", want: Fix, margin: "10 A over the limit", set: set{"power.ground_material": "conduit", "power.conduit": "liquidtight", "power.breaker": "70 A"}},
	{id: "E-14", name: "plastic conduit never", want: Fix, have: "PVC", set: set{"power.ground_material": "conduit", "power.conduit": "pvc"}},
	{id: "E-14", name: "a wire in flexible conduit", want: OK, set: set{"power.conduit": "flexible"}},
	{id: "E-14", name: "flexible conduit, metric", machine: "knot-c400", want: Confirm, set: set{"power.ground_material": "conduit", "power.conduit": "flexible"}},

	// Aluminum near earth: NEC 250.120(B), its text in an electricians' forum: 18 in.
	{id: "E-14", name: "aluminum ground in a wet run", want: Confirm, action: "18 in", set: set{"power.ground_material": "aluminium", "power.ground": "10 AWG", "power.run_place": "wet"}},
	{id: "E-14", name: "aluminum ground in a dry run", want: OK, set: set{"power.ground_material": "aluminium", "power.ground": "10 AWG", "power.run_place": "dry"}},
	{id: "E-14", name: "copper ground in a wet run", want: OK, set: set{"power.run_place": "wet"}},
	{id: "E-14", name: "aluminum ground too small in a wet run", want: Fix, set: set{"power.ground_material": "aluminium", "power.ground": "12 AWG", "power.run_place": "wet"}},

	// One leg to neutral, 108 to 127 V on the plate: either may feed the machine.
	{id: "E-03", name: "highest leg at the maximum", machine: "sanderling-u24p", want: OK, have: "highest leg", margin: "0 V below the limit", set: set{"power.line_to_neutral": "124 ± 0 V", "power.high_leg_to_neutral": "127 ± 0 V", "power.line_to_line": "251 ± 0 V"}},
	{id: "E-03", name: "highest leg above it", machine: "sanderling-u24p", want: Confirm, have: "128", action: "124", set: set{"power.line_to_neutral": "124 ± 0 V", "power.high_leg_to_neutral": "128 ± 0 V", "power.line_to_line": "252 ± 0 V"}},
	{id: "E-03", name: "both legs above it", machine: "sanderling-u24p", want: Fix, set: set{"power.line_to_neutral": "127.5 ± 0 V", "power.high_leg_to_neutral": "128 ± 0 V", "power.line_to_line": "255.5 ± 0 V"}},
	{id: "E-03", name: "lowest leg below the minimum", machine: "sanderling-u24p", want: Fix, set: set{"power.line_to_neutral": "107.9 ± 0 V", "power.high_leg_to_neutral": "112 ± 0 V", "power.line_to_line": "220 ± 0 V"}},

	// Fault loop: BS 7671 Table 41.3 as two trade sites print it, C16 1.37 Ω and 1.10 Ω cold, B16 2.73 Ω.
	{id: "E-36", name: "C16, just below 80 %", machine: "turnstone-u50", want: OK, set: set{"power.fault_loop": "1.09 ± 0 Ω"}, shows: "Z_max = 1.37 Ω"},
	{id: "E-36", name: "C16, measured cold just above 80 %", machine: "turnstone-u50", want: Confirm, action: "80 %", set: set{"power.fault_loop": "1.10 ± 0 Ω"}},
	{id: "E-36", name: "C16, just below the limit without a device", machine: "turnstone-u50", want: Confirm, set: set{"power.fault_loop": "1.365 ± 0 Ω", "power.ground_fault_protection": "none"}},
	{id: "E-36", name: "C16, just above the limit without a device", machine: "turnstone-u50", want: Fix, set: set{"power.fault_loop": "1.37 ± 0 Ω", "power.ground_fault_protection": "none"}, source: "0.95 × 230 V / 160 A = 1.3656 Ω"},
	{id: "E-36", name: "C16, above the limit behind a device of 30 mA", machine: "turnstone-u50", want: Confirm, action: "in the breaker's place", set: set{"power.fault_loop": "1.37 ± 0 Ω"}},
	{id: "E-36", name: "B16 trips on more", machine: "turnstone-u50", want: OK, set: set{"power.breaker_curve": "B", "power.fault_loop": "2.18 ± 0 Ω"}, shows: "Z_max = 2.73 Ω"},
	{id: "E-36", name: "D16 on less, in milliohms", machine: "turnstone-u50", want: Fix, set: set{"power.breaker_curve": "D", "power.fault_loop": "690 ± 0 mΩ", "power.ground_fault_protection": "none"}, shows: "Z_max = 0.68 Ω"},
	{id: "E-36", name: "three phases, C32", machine: "knot-c400", want: OK, set: set{"power.fault_loop": "0.54 ± 0 Ω"}, shows: "Z_max = 0.68 Ω"},
	{id: "E-36", name: "not measured: advice", machine: "turnstone-u50", want: Confirm, action: "measure", set: set{"power.fault_loop": "unknown"}},
	{id: "E-36", name: "curve not read: advice", machine: "turnstone-u50", want: Confirm, action: "curve", set: set{"power.breaker_curve": "unknown"}},
	{id: "E-36", name: "TT, R_A × 30 mA just below 50 V", machine: "turnstone-u50", want: Confirm, action: "dry summer", set: set{"power.earthing": "TT", "power.fault_loop": "1666 ± 0 Ω"}, source: "BS 7671 Table 41.5, read in a secondary text"},
	{id: "E-36", name: "TT, just above", machine: "turnstone-u50", want: Fix, set: set{"power.earthing": "TT", "power.fault_loop": "1667 ± 0 Ω"}},
	{id: "E-36", name: "TT, a steady electrode", machine: "turnstone-u50", want: OK, set: set{"power.earthing": "TT", "power.fault_loop": "200 ± 0 Ω"}},
	{id: "E-36", name: "TT, not measured", machine: "turnstone-u50", want: Confirm, action: "electrode", set: set{"power.earthing": "TT", "power.fault_loop": "unknown"}},
	{id: "E-36", name: "TT, device not of 30 mA", machine: "turnstone-u50", want: Confirm, set: set{"power.earthing": "TT", "power.ground_fault_protection": "rcd-other"}},
	{id: "E-36", name: "earthing not known", machine: "turnstone-u50", want: Confirm, set: set{"power.earthing": "unknown"}},
	{id: "E-36", name: "IT", machine: "turnstone-u50", want: Confirm, set: set{"power.earthing": "IT"}},
	{id: "E-36", name: "NEC site", want: NA},
	{id: "E-36", name: "missing", machine: "turnstone-u50", want: Missing, set: set{"power.breaker": "unknown"}},

	// Plugs by whatever name the surveyor writes down.
	{id: "E-17", name: "duplex of another family", want: Fix, set: set{"power.receptacle": "NEMA 5-15 duplex"}},
	{id: "E-17", name: "duplex that takes the plug", want: OK, set: set{"power.receptacle": "NEMA 6-20R duplex receptacle"}},
	{id: "E-17", name: "duplex too small", want: Fix, set: set{"power.receptacle": "6-15R single"}},
	{id: "E-17", name: "locking of California's numbers", want: Fix, set: set{"power.receptacle": "CS6365"}},
	{id: "E-17", name: "a junction box takes no plug", want: Fix, have: "no receptacle", set: set{"power.receptacle": "hard-wired"}},
	{id: "E-17", name: "by the letters of the world's plugs, G", machine: "turnstone-u50", want: Fix, set: set{"power.receptacle": "type G"}},
	{id: "E-17", name: "by the letters of the world's plugs, F", machine: "turnstone-u50", want: Fix, set: set{"power.receptacle": "Type F"}},
	{id: "E-17", name: "13 A socket", machine: "turnstone-u50", want: Fix, set: set{"power.receptacle": "13 A switched socket"}},
	{id: "E-18", name: "duplex, rating read from its name", want: Fix, set: set{"power.receptacle": "NEMA 6-15 duplex"}},
}

// TestAdviceFits sees that advice names what can be done: no other option of a
// machine that has none, no receptacle at a hard-wired machine, no smaller
// breaker than carries the machine.
func TestAdviceFits(t *testing.T) {
	tests := []struct {
		name    string
		machine string
		set     set
		id      string
		says    string
		never   string
	}{
		{"60 Hz, one option of 50 Hz", "turnstone-u50", set{"power.frequency": "60 Hz"}, "E-05", "another machine", "order the machine for"},
		{"heater of the only option", "avocet-r36", set{"power.system": "208Y/120", "power.line_to_line": "195 ± 0 V", "power.line_to_neutral": "113 V", "power.high_leg_to_neutral": "113 V"}, "E-23", "another machine", "order the machine with"},
		{"heater of another option", "dunlin-u24", set{"power.system": "120/240", "power.line_to_line": "240 ± 0 V"}, "E-23", "order the machine with", "another machine"},
		{"aluminum at a hard-wired machine", "dunlin-u24", aluminium("copper", nil), "E-34", "join copper", "receptacle"},
		{"wire too small for the least breaker", "dunlin-u24", laidIn("8 AWG", "60", "30 ± 0 °C", "2", set{"power.breaker": "45 A", "power.terminals": "60"}), "E-13", "45 A breaker", "at most 40 A"},
		{"a lost phase", "godwit-c44", lines("208 ± 0 V", "120 ± 0 V", "118 ± 0 V"), "E-03", "connect nothing", "order"},
		{"voltage in doubt", "dunlin-u24", set{"power.line_to_line": "300 ± 0 V", "power.conductor": "10 AWG"}, "E-12", "reading in doubt", "pull"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, m := row{machine: tt.machine, set: tt.set}.laid(t)
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(tt.id)}}).Findings[0]
			if f.Verdict != Fix {
				t.Fatalf("%s: %v, want FIX; have %q", tt.id, f.Verdict, f.Have)
			}
			if all := f.Action + " " + f.Want; !strings.Contains(all, tt.says) || strings.Contains(all, tt.never) {
				t.Errorf("%s says %q, wants %q; want it to say %q and never %q", tt.id, f.Action, f.Want, tt.says, tt.never)
			}
		})
	}
}
