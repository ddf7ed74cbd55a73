package rules

import (
	"strings"
	"testing"
)

// aluminium lays aluminium conductors on devices marked so.
func aluminium(take string, more set) set {
	s := set{"power.conductor_material": "aluminium", "power.devices_take": take}
	for p, t := range more {
		s[p] = t
	}
	return s
}

var wiringRows = []row{
	// How the conductors lie.
	{id: "E-12", name: "NM cable: derated from 90 °C, never above the 60 °C column", want: OK, set: laidIn("12 AWG", "60", "40 ± 0 °C", "2", set{"power.conduit": "nm-cable"}), shows: "I_d = 27.3 A",
		source: "NEC 334.80 (read in a secondary text); Table 310.16, 12 AWG, 90 °C: 30 A, factor 0.91 at 40 °C (published)"},
	{id: "E-12", name: "NM cable: the 60 °C column binds", want: OK, set: laidIn("12 AWG", "90", "30 ± 0 °C", "2", set{"power.conduit": "nm-cable", "power.terminals": "75"}), shows: "I_term = 20 A", source: "NEC 334.80 (read in a secondary text)"},
	{id: "E-12", name: "wet run: insulation of 90 °C counts at its wet 75 °C", want: OK, set: laidIn("12 AWG", "90", "40 ± 0 °C", "2", set{"power.run_place": "wet", "power.wet_insulation": "75"}), shows: "I_d = 22 A",
		source: "NEC Table 310.4(1), XHHW (from memory)"},
	{id: "E-12", name: "metric, within insulation", machine: "knot-c400", want: OK, set: laidIn("10 mm²", "70", "30 ± 0 °C", "3", set{"power.conduit": "in-insulation"}), shows: "I_z = 39 A", source: "IEC 60364-5-52 Table B.52.4, method A2 (from memory)"},
	{id: "E-12", name: "metric, within insulation, too hot", machine: "knot-c400", want: Fix, set: laidIn("2.5 mm²", "70", "30 ± 0 °C", "3", set{"power.conduit": "in-insulation"}), spec: set{"power.supplies[0].min_circuit": "24 A"}, source: "17.5 A by method A2 (from memory)"},

	// The grounding conductor.
	{id: "E-14", name: "short by 21 circular mils of the proportion", machine: "dunlin-u24", want: Confirm, shows: "A_up = 26261 cmil", source: "NEC 250.122(B): 10380 × 105600 / 41740 = 26261, 6 AWG is 26240 (published)",
		set: laidIn("1/0 AWG", "75", "45 ± 0 °C", "4", set{"power.breaker": "60 A", "power.ground": "6 AWG"})},
	{id: "E-14", name: "of aluminum itself", want: Fix, set: set{"power.ground": "12 AWG", "power.ground_material": "aluminium"}, source: "NEC Table 250.122, 20 A: 10 AWG aluminum (published)"},
	{id: "E-14", name: "of aluminum, larger", want: OK, set: set{"power.ground": "10 AWG", "power.ground_material": "aluminium"}, source: "NEC Table 250.122, 20 A: 10 AWG aluminum (published)"},
	{id: "E-14", name: "copper ground of an aluminum circuit", want: OK, set: aluminium("copper-aluminium", set{"power.conductor": "10 AWG", "power.ground": "12 AWG", "power.ground_material": "copper"}), source: "NEC Table 250.122, 20 A: 12 AWG copper (published)"},
	{id: "E-14", name: "aluminum circuit, ground's metal not said", want: Confirm, set: aluminium("copper-aluminium", set{"power.conductor": "10 AWG", "power.ground": "12 AWG", "power.ground_material": "unknown"})},
	{id: "E-14", name: "steel conduit", want: OK, set: set{"power.ground_material": "conduit", "power.conduit": "steel", "power.ground": "unknown"}, source: "NEC 250.118 (from memory)"},
	{id: "E-14", name: "plastic conduit", want: Fix, set: set{"power.ground_material": "conduit", "power.conduit": "pvc"}},
	{id: "E-14", name: "aluminum conduit", want: Confirm, set: set{"power.ground_material": "conduit", "power.conduit": "aluminium"}},

	// Aluminum and wet runs.
	{id: "E-34", name: "copper", want: OK},
	{id: "E-34", name: "aluminum under devices for copper", want: Fix, set: aluminium("copper", nil), source: "NEC 110.14, 404.14(C), 406.3(C) (from memory)"},
	{id: "E-34", name: "aluminum under devices for it", want: OK, set: aluminium("copper-aluminium", nil)},
	{id: "E-34", name: "marks not read", want: Missing, set: aluminium("unknown", nil)},
	{id: "E-34", name: "metric site", machine: "knot-c400", want: NA},
	{id: "E-35", name: "dry", want: OK},
	{id: "E-35", name: "wet, dry insulation", want: Fix, set: set{"power.run_place": "wet", "power.wet_insulation": "none", "power.insulation": "90"}, source: "NEC Table 310.4(1), THHN (from memory)"},
	{id: "E-35", name: "wet, insulation for it", want: OK, set: set{"power.run_place": "wet", "power.wet_insulation": "75"}, source: "NEC Table 310.4(1), XHHW (from memory)"},
	{id: "E-35", name: "wet, mark not read", want: Missing, set: set{"power.run_place": "wet", "power.wet_insulation": "unknown", "power.insulation": "90"}},
	{id: "E-35", name: "NM cable, damp", want: Fix, set: set{"power.run_place": "damp", "power.conduit": "nm-cable"}, source: "NEC 334.12(B)(4) (from memory)"},
	{id: "E-35", name: "damp, dry insulation", want: OK, set: set{"power.run_place": "damp", "power.insulation": "90"}, source: "NEC Table 310.4(1): THHN for dry and damp places (from memory)"},
	{id: "E-35", name: "place not said, insulation of 90 °C", want: Confirm, set: set{"power.run_place": "unknown", "power.insulation": "90"}},
	{id: "E-35", name: "place not said, insulation of 75 °C", want: OK, set: set{"power.run_place": "unknown", "power.insulation": "75"}},
	{id: "E-35", name: "metric site", machine: "knot-c400", want: NA},

	// Drop.
	{id: "E-15", name: "the NEC's 3 % is advice", machine: "sanderling-u24p", want: Confirm, spec: twentyAmps, set: run120("12 AWG", "140 ± 0 ft"), source: "NEC 210.19 informational note (published)"},
	{id: "E-15", name: "a shared load counts", machine: "sanderling-u24p", want: Confirm, spec: set{"power.supplies[0].heater_power": "1.2 kW", "power.supplies[0].motor_current": "0 A"},
		set: set{"power.conductor": "12 AWG", "power.run_length": "100 ± 0 ft", "power.line_to_neutral": "120 ± 0 V", "power.dedicated": "no", "power.other_loads[0].name": "froster", "power.other_loads[0].current": "10 A"}, shows: "V_d = 7.92 V, 6.6 %"},
	{id: "E-15", name: "metric, drop ahead of the panel", machine: "turnstone-u50", want: Fix, spec: sixteenAt230, set: set{"power.drop_ahead": "7 ± 0 V", "power.run_length": "18 ± 0 m", "power.conductor": "2.5 mm²", "power.line_to_neutral": "230 ± 0 V"},
		source: "5.18 V and 7 V against 5 % from the origin, 11.5 V; IEC 60364-5-52 Table G.52.1 (published)"},
	{id: "E-15", name: "metric, drop ahead not said, above 3 %", machine: "turnstone-u50", want: Confirm, spec: sixteenAt230, set: set{"power.drop_ahead": "unknown", "power.run_length": "30 ± 0 m", "power.conductor": "2.5 mm²", "power.line_to_neutral": "230 ± 0 V"}},
	{id: "E-16", name: "a shared load counts", machine: "sanderling-u24p", want: Fix, shows: "V_m = 107.93 V", spec: set{"power.supplies[0].heater_power": "1.2 kW", "power.supplies[0].motor_current": "0 A", "power.supplies[0].voltage_min": "108 V"},
		set: set{"power.conductor": "12 AWG", "power.run_length": "152.4 ± 0 ft", "power.line_to_neutral": "120 ± 0 V", "power.dedicated": "no", "power.other_loads[0].name": "froster", "power.other_loads[0].current": "10 A"}},

	// Plugs that can't take the machine.
	{id: "E-17", name: "no ground contact, 30 A range outlet", want: Fix, set: set{"power.receptacle": "NEMA 10-30"}},
	{id: "E-17", name: "two slots", want: Fix, set: set{"power.receptacle": "1-15R"}},
	{id: "E-17", name: "locking", want: Fix, set: set{"power.receptacle": "NEMA L5-20"}},
	{id: "E-17", name: "locking of the machine's voltage", want: Fix, set: set{"power.receptacle": "NEMA L6-20"}},
	{id: "E-17", name: "British household", machine: "turnstone-u50", want: Fix, set: set{"power.receptacle": "BS 1363"}},
	{id: "E-17", name: "continental household", machine: "turnstone-u50", want: Fix, set: set{"power.receptacle": "CEE 7/3"}},
	{id: "E-17", name: "plug not on the sheet, no ground contact", want: Fix, spec: set{"power.supplies[0].plug": "unknown"}, set: set{"power.receptacle": "NEMA 10-30"}},
}

// TestSmallerBreakerCarries sees that no breaker is advised that the machine
// would trip.
func TestSmallerBreakerCarries(t *testing.T) {
	r := row{machine: "dunlin-u24", set: laidIn("8 AWG", "60", "30 ± 0 °C", "2", set{"power.breaker": "60 A", "power.terminals": "60"})}
	s, m := r.laid(t)
	f := Evaluate(s, m, Options{Today: today}).Finding("E-13")
	if f.Verdict != Fix {
		t.Fatalf("%v, want FIX", f.Verdict)
	}
	if strings.Contains(f.Action, "fit a breaker") {
		t.Error("a breaker below the machine's minimum circuit is advised")
	}
	if len(f.Remedies) == 0 {
		t.Fatal("no remedy")
	}
	for _, rem := range f.Remedies {
		after := s.Clone()
		if err := after.Apply(rem.Set); err != nil {
			t.Fatal(err)
		}
		again := Evaluate(after, m, Options{Today: today, NoRemedy: true})
		for _, id := range []string{"E-08", "E-12", "E-13", "E-14"} {
			if v := again.Finding(id).Verdict; v.Blocks() {
				t.Errorf("%v leaves %s at %v", rem.Set, id, v)
			}
		}
	}
}
