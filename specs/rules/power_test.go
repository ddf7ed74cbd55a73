package rules

import (
	"slices"
	"strings"
	"testing"
)

var powerRows = slices.Concat(voltageRows, circuitRows, conductorRows, dropRows, receptacleRows, disconnectRows, elementRows, panelRows)

// legs are the readings of a supply.
func legs(line, low, high string) set {
	return set{"power.line_to_line": line, "power.line_to_neutral": low, "power.high_leg_to_neutral": high}
}

// lines are the three line voltages.
func lines(ab, bc, ca string) set {
	return set{"power.line_to_line": ab, "power.line_to_line_bc": bc, "power.line_to_line_ca": ca}
}

var voltageRows = []row{
	{id: "E-01", name: "wye by its ratio", machine: "dunlin-u24", want: OK, have: "208Y/120", shows: "V_LL/V_LN = 1.73"},
	{id: "E-01", name: "split phase", want: OK, have: "120/240", shows: "V_LL/V_LN = 2", set: set{"power.line_to_line": "240 V", "power.line_to_neutral": "120 V", "power.high_leg_to_neutral": "120 V"}},
	{id: "E-01", name: "high leg of a delta, 120 V × √3", machine: "godwit-c44", want: OK, have: "delta with a high leg",
		source: "building-code forum: high leg of a 240 V delta reads about 208 V to neutral (published)",
		set:    set{"power.line_to_line": "240 V", "power.line_to_neutral": "120 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-01", name: "delta without a neutral", want: OK, have: "240 V delta", set: set{"power.system": "240-delta", "power.line_to_line": "240 V", "power.line_to_neutral": "unknown", "power.high_leg_to_neutral": "unknown"}},
	{id: "E-01", name: "480 V wye", machine: "godwit-c44", want: OK, have: "480Y/277", set: set{"power.line_to_line": "480 V", "power.line_to_neutral": "277 V", "power.middle_leg_to_neutral": "277 V", "power.high_leg_to_neutral": "277 V"}},
	{id: "E-01", name: "one leg to neutral is enough for a 120 V machine", machine: "sanderling-u24p", want: OK, set: set{"power.line_to_line": "unknown", "power.high_leg_to_neutral": "unknown"}},
	{id: "E-01", name: "400 V wye", machine: "knot-c400", want: OK, have: "400Y/230"},
	{id: "E-01", name: "415/240 V told from 480 V by 50 Hz", machine: "knot-c400", want: OK, have: "400Y/230", set: set{"power.line_to_line": "418 ± 0 V", "power.line_to_neutral": "241 ± 0 V", "power.middle_leg_to_neutral": "241 ± 0 V", "power.high_leg_to_neutral": "241 ± 0 V"}},
	{id: "E-01", name: "415/240 V without a frequency", machine: "knot-c400", want: Confirm, set: set{"power.line_to_line": "418 ± 0 V", "power.line_to_neutral": "241 ± 0 V", "power.middle_leg_to_neutral": "241 ± 0 V", "power.high_leg_to_neutral": "241 ± 0 V", "power.frequency": "unknown"}},
	{id: "E-01", name: "readings of no system", want: Fix, set: set{"power.line_to_line": "300 ± 0 V"}},
	{id: "E-01", name: "lowest reading that still fits, 180 V", machine: "dunlin-u24", want: OK, set: set{"power.line_to_line": "180 ± 0 V", "power.line_to_neutral": "104 ± 0 V", "power.high_leg_to_neutral": "104 ± 0 V"}},
	{id: "E-01", name: "just below it", machine: "dunlin-u24", want: Fix, set: set{"power.line_to_line": "179.9 ± 0 V", "power.line_to_neutral": "104 ± 0 V", "power.high_leg_to_neutral": "104 ± 0 V"}},
	{id: "E-01", name: "near it, within the meter's uncertainty", machine: "dunlin-u24", want: Confirm, set: set{"power.line_to_line": "181 V", "power.line_to_neutral": "105 ± 0 V", "power.high_leg_to_neutral": "105 ± 0 V"}},
	{id: "E-01", name: "in kilovolts", machine: "dunlin-u24", want: OK, have: "208Y/120", set: set{"power.line_to_line": "0.208 kV"}},
	{id: "E-01", name: "highest leg not read", want: Missing, set: set{"power.high_leg_to_neutral": "unknown"}},
	{id: "E-01", name: "missing", want: Missing, set: set{"power.line_to_line": "unknown"}},

	// Unequal legs (issue: a failing neutral). 5 V and 4 %: common practice, no source.
	{id: "E-01", name: "a failing neutral: 108 and 125 V", want: Confirm, have: "unequal legs", set: set{"power.line_to_line": "240 V", "power.line_to_neutral": "108 V", "power.high_leg_to_neutral": "125 V"}},
	{id: "E-01", name: "legs 4.9 V apart", want: OK, set: legs("240 ± 0 V", "117.6 ± 0 V", "122.5 ± 0 V")},
	{id: "E-01", name: "legs 5 V apart", want: Confirm, have: "unequal legs", set: legs("240 ± 0 V", "117.5 ± 0 V", "122.5 ± 0 V")},
	{id: "E-01", name: "legs 4.9 V apart, within the meter's uncertainty", want: Confirm, set: legs("240 ± 0 V", "117.6 V", "122.5 ± 0 V")},
	{id: "E-01", name: "legs alike that don't add up to the line", want: Confirm, have: "don't go with", set: legs("240 ± 0 V", "112 ± 0 V", "112 ± 0 V")},
	{id: "E-01", name: "legs that add up within the meters' tolerance", want: OK, set: legs("240 ± 0 V", "118 ± 0 V", "118 ± 0 V")},
	{id: "E-01", name: "one leg of a wye low", machine: "dunlin-u24", want: Confirm, have: "unequal legs", set: legs("208 ± 0 V", "112 ± 0 V", "121 ± 0 V")},
	{id: "E-01", name: "the third leg low", machine: "godwit-c44", want: Confirm, have: "unequal legs", set: set{"power.middle_leg_to_neutral": "113 V"}},
	{id: "E-01", name: "a high leg is no unequal leg", machine: "godwit-c44", want: OK, set: set{"power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-01", name: "a high leg that is too low", machine: "godwit-c44", want: Confirm, have: "don't go with", set: set{"power.line_to_line": "240 ± 0 V", "power.high_leg_to_neutral": "195 ± 0 V"}},
	{id: "E-01", name: "metric, 8 V of 230", machine: "knot-c400", want: OK, set: set{"power.line_to_neutral": "229 ± 0 V", "power.high_leg_to_neutral": "237 ± 0 V", "power.middle_leg_to_neutral": "233 ± 0 V"}},
	{id: "E-01", name: "metric, 12 V of 230", machine: "knot-c400", want: Confirm, set: set{"power.high_leg_to_neutral": "243 ± 0 V"}},

	{id: "E-29", name: "alike", machine: "godwit-c44", want: OK, shows: "u = 0.0 %"},
	{id: "E-29", name: "just below 3 %", machine: "godwit-c44", want: OK, set: lines("208 ± 0 V", "214 ± 0 V", "202 ± 0 V"), shows: "u = 2.9 %",
		source: "largest deviation from the mean, NEMA MG 1 (from memory): (214 − 208) / 208; limit of ANSI C84.1 (from memory)"},
	{id: "E-29", name: "just above 3 %: advice", machine: "godwit-c44", want: Confirm, set: lines("208 ± 0 V", "214.5 ± 0 V", "201.5 ± 0 V"), shows: "u = 3.1 %"},
	{id: "E-29", name: "metric, above 2 %", machine: "knot-c400", want: Confirm, set: lines("400 ± 0 V", "410 ± 0 V", "390 ± 0 V"), shows: "u = 2.9 %", source: "2 % of EN 50160 (from memory); negative sequence worked out from the phasors"},
	{id: "E-29", name: "metric, just below 2 %", machine: "knot-c400", want: OK, set: lines("400 ± 0 V", "406.9 ± 0 V", "393.1 ± 0 V"), shows: "u = 2.0 %", source: "1.992 % by symmetrical components"},
	{id: "E-29", name: "metric, just above 2 %, where the largest difference is 1.75 %", machine: "knot-c400", want: Confirm, set: lines("400 ± 0 V", "407 ± 0 V", "393 ± 0 V"), source: "2.021 % by symmetrical components"},
	{id: "E-29", name: "two lines not read", machine: "godwit-c44", want: Confirm, set: set{"power.line_to_line_bc": "unknown"}},
	{id: "E-29", name: "single phase", want: NA},
	{id: "E-29", name: "missing", machine: "godwit-c44", want: Missing, set: set{"power.line_to_line": "unknown"}},

	{id: "E-02", name: "label and readings agree", want: OK, set: set{"power.system": "120/240", "power.line_to_line": "240 V"}},
	{id: "E-02", name: "label of a wye on split-phase readings", want: Fix, set: set{"power.system": "208Y/120", "power.line_to_line": "240 V"}},
	{id: "E-02", name: "split-phase label on a high leg", machine: "godwit-c44", want: Fix, set: set{"power.system": "120/240", "power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-02", name: "one leg is the same in both", machine: "sanderling-u24p", want: OK, set: set{"power.system": "208Y/120", "power.line_to_line": "unknown", "power.high_leg_to_neutral": "unknown"}},
	{id: "E-02", name: "label that fits only at one end of the reading", machine: "dunlin-u24", want: Confirm, set: set{"power.line_to_line": "181 V", "power.line_to_neutral": "105 ± 0 V", "power.high_leg_to_neutral": "105 ± 0 V"}},
	{id: "E-02", name: "metric site", machine: "knot-c400", want: OK},
	{id: "E-02", name: "no label", want: NA, set: set{"power.system": "unknown"}},
	{id: "E-02", name: "missing", want: Missing, set: set{"power.line_to_line": "unknown"}},

	{id: "E-03", name: "just below the maximum", want: OK, set: set{"power.line_to_line": "251.9 ± 0 V"}},
	{id: "E-03", name: "at the maximum", want: OK, set: set{"power.line_to_line": "252 ± 0 V"}, margin: "0 V below the limit"},
	{id: "E-03", name: "just above the maximum", want: Fix, set: legs("252.1 ± 0 V", "126 V", "126 V")},
	{id: "E-03", name: "at the minimum", want: OK, set: set{"power.line_to_line": "198 ± 0 V"}},
	{id: "E-03", name: "just below the minimum", want: Fix, set: legs("197.9 ± 0 V", "114 V", "114 V")},
	{id: "E-03", name: "within the meter's uncertainty", want: Confirm, set: set{"power.line_to_line": "251 V"}},
	{id: "E-03", name: "240 V on the 208 V option", machine: "dunlin-u24", want: Fix, set: set{"power.line_to_line": "240 V"}, margin: "20 V over the limit"},
	{id: "E-03", name: "option not named, the one that suits is taken", machine: "dunlin-u24", want: OK, set: set{"machine.supply": "unknown", "power.line_to_line": "240 V"}},
	{id: "E-03", name: "line to neutral on 120 V", machine: "sanderling-u24p", want: OK, set: set{"power.line_to_neutral": "118 V"}},
	{id: "E-03", name: "in kilovolts", machine: "knot-c400", want: Fix, set: set{"power.line_to_line": "0.43 kV", "power.line_to_neutral": "248 V", "power.middle_leg_to_neutral": "248 V", "power.high_leg_to_neutral": "248 V"}},
	{id: "E-03", name: "missing", want: Missing, set: set{"power.line_to_line": "unknown"}},
	{id: "E-03", name: "sheet without a range", want: Missing, spec: set{"power.supplies[0].voltage_min": "unknown", "power.supplies[0].voltage_max": "unknown"}},

	{id: "E-04", name: "single phase", want: OK},
	{id: "E-04", name: "three phase", machine: "godwit-c44", want: OK},
	{id: "E-04", name: "three-phase machine on single phase", machine: "godwit-c44", want: Fix, set: set{"power.phases": "1"}},
	{id: "E-04", name: "single-phase machine on three", want: Fix, set: set{"power.phases": "3"}},
	{id: "E-04", name: "metric site", machine: "knot-c400", want: OK},
	{id: "E-04", name: "missing", want: Missing, set: set{"power.phases": "unknown"}},

	{id: "E-05", name: "as on the plate", want: OK, set: set{"power.frequency": "60 Hz"}},
	{id: "E-05", name: "at the edge of the same", want: OK, set: set{"power.frequency": "59 Hz"}},
	{id: "E-05", name: "just outside", want: Fix, set: set{"power.frequency": "58.9 Hz"}},
	{id: "E-05", name: "within a stated uncertainty", want: Confirm, set: set{"power.frequency": "59.2 ± 0.5 Hz"}},
	{id: "E-05", name: "60 Hz on a 50 Hz machine", machine: "turnstone-u50", want: Fix, set: set{"power.frequency": "60 Hz"}},
	{id: "E-05", name: "sheet says nothing", want: NA, spec: set{"power.supplies[0].frequency": "none"}},
	{id: "E-05", name: "missing", want: Missing, set: set{"power.frequency": "unknown"}},

	{id: "E-06", name: "not used", want: NA},
	{id: "E-06", name: "there", machine: "sanderling-u24p", want: OK},
	{id: "E-06", name: "not there", machine: "sanderling-u24p", want: Fix, set: set{"power.neutral": "no"}},
	{id: "E-06", name: "single-phase machine beside a high leg", machine: "sanderling-u24p", want: Confirm, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "unknown"}},
	{id: "E-06", name: "known to lie on the high leg", machine: "sanderling-u24p", want: Fix, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "yes"}},
	{id: "E-06", name: "known to lie on a low leg", machine: "sanderling-u24p", want: OK, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "no"}},
	{id: "E-06", name: "three-phase machine on a high leg", machine: "godwit-c44", want: Fix, spec: set{"power.supplies[0].neutral": "yes"}, set: set{"power.neutral": "yes", "power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-06", name: "metric site", machine: "knot-c400", want: OK},
	{id: "E-06", name: "highest leg not read", machine: "sanderling-u24p", want: Missing, set: set{"power.high_leg_to_neutral": "unknown"}},
	{id: "E-06", name: "missing", machine: "knot-c400", want: Missing, set: set{"power.neutral": "unknown"}},
}

// sharedWith is a shared circuit with one other load.
func sharedWith(amps string, more set) set {
	s := set{"power.dedicated": "no", "power.other_loads[0].name": "glass froster", "power.other_loads[0].current": amps, "power.other_loads[0].continuous": "no", "power.line_to_line": "240 ± 0 V"}
	for p, t := range more {
		s[p] = t
	}
	return s
}

// A machine of 16 A by cord on a 20 A circuit, for the 80 % rule.
var sixteenAmps = set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].rated_current": "16 A", "power.supplies[0].continuous": "no", "power.supplies[0].min_circuit": "unknown"}

var circuitRows = []row{
	{id: "E-07", name: "alone", want: OK},
	{id: "E-07", name: "80 % of a 20 A circuit by cord: 16 A, at", want: OK, spec: sixteenAmps, set: sharedWith("2 A", nil),
		source: "maximum load by breaker, 20 A allows 16 A: government design guide of basic NEC rules (published)", margin: "0 A below the limit", shows: "I_share = 16 A"},
	{id: "E-07", name: "just above 80 %", want: Fix, set: sharedWith("2 A", nil),
		spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].rated_current": "16.1 A", "power.supplies[0].continuous": "no"}},
	{id: "E-07", name: "just below the breaker in all, 1.25 of the machine", want: OK, set: sharedWith("7.68 A", nil), shows: "ΣI = 20 A"},
	{id: "E-07", name: "just above the breaker in all", want: Fix, set: sharedWith("7.69 A", nil)},
	{id: "E-07", name: "the other runs for hours: 125 % of it", want: Fix, set: sharedWith("7 A", set{"power.other_loads[0].continuous": "yes"}), shows: "I_long = 8.75 A", source: "NEC 210.20(A): 125 % of the continuous load"},
	{id: "E-07", name: "the other may run for hours", want: Confirm, set: sharedWith("7 A", set{"power.other_loads[0].continuous": "unknown"})},
	{id: "E-07", name: "the other may run for hours, and fits all the same", want: OK, set: sharedWith("6 A", set{"power.other_loads[0].continuous": "unknown"})},
	{id: "E-07", name: "near it, within the meter's uncertainty", want: Confirm, set: sharedWith("7.67 A", set{"power.line_to_line": "240 V"})},
	{id: "E-07", name: "fastened in place, 50 % of a 20 A circuit", machine: "dunlin-u24", want: Fix, set: sharedWith("1 A", set{"power.breaker": "20 A"}), shows: "I_share = 10 A"},
	{id: "E-07", name: "over 30 A serves nothing else", machine: "dunlin-u24", want: Fix, set: sharedWith("1 A", nil)},
	{id: "E-07", name: "metric, sum against the breaker, at", machine: "turnstone-u50", want: OK, set: sharedWith("5.1 A", set{"power.line_to_neutral": "230 ± 0 V"}),
		spec: set{"power.supplies[0].heater_power": "unknown"}, margin: "0 A below the limit"},
	{id: "E-07", name: "metric, just above", machine: "turnstone-u50", want: Fix, set: sharedWith("5.2 A", set{"power.line_to_neutral": "230 ± 0 V"}), spec: set{"power.supplies[0].heater_power": "unknown"}},
	{id: "E-07", name: "current of the other load not known", want: Missing, set: set{"power.dedicated": "no", "power.other_loads[0].name": "cooler"}},
	{id: "E-28", name: "alone", want: OK},
	{id: "E-28", name: "shared, however little", set: sharedWith("0.1 A", nil), want: Fix, have: "0.1 A"},
	{id: "E-28", name: "under the 2026 edition", set: sharedWith("0.1 A", set{"codes.electrical": "nec-2026"}), want: Fix},
	{id: "E-28", name: "said to be alone, and a load is listed", set: set{"power.other_loads[0].name": "till", "power.other_loads[0].current": "1 A"}, want: Fix},
	{id: "E-28", name: "metric", machine: "turnstone-u50", set: sharedWith("1 A", nil), want: Fix},
	{id: "E-28", name: "not asked for", set: sharedWith("1 A", nil), spec: set{"power.dedicated_circuit": "no"}, want: NA},
	{id: "E-28", name: "missing", set: set{"power.dedicated": "unknown"}, want: Missing},
	{id: "E-07", name: "missing", want: Missing, set: set{"power.dedicated": "unknown"}},

	{id: "E-08", name: "just below", want: Fix, set: set{"power.breaker": "12.4 A"}},
	{id: "E-08", name: "at", want: OK, set: set{"power.breaker": "12.5 A"}, margin: "0 A to spare"},
	{id: "E-08", name: "just above", want: OK, set: set{"power.breaker": "12.6 A"}},
	{id: "E-08", name: "125 % of 95 A: 118.75 A", want: OK, set: set{"power.breaker": "125 A"}, shows: "I_min = 119 A",
		source: "fire-engineering academy lesson, three conductor sizes: 95 A continuous gives 119 A, 125 A breaker (published)",
		spec:   set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].max_breaker": "unknown", "power.supplies[0].rated_current": "95 A"}},
	{id: "E-08", name: "125 % of 95 A on 110 A", want: Fix, set: set{"power.breaker": "110 A"},
		spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].max_breaker": "unknown", "power.supplies[0].rated_current": "95 A"}},
	{id: "E-08", name: "100 % of it when the assembly is listed so", want: OK, set: set{"power.breaker": "110 A", "power.breaker_listed_100_percent": "yes"}, shows: "I_min = 95 A",
		spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].max_breaker": "unknown", "power.supplies[0].rated_current": "95 A"}},
	{id: "E-08", name: "100 % claimed for a small breaker is a question", want: Confirm, set: set{"power.breaker": "15 A", "power.breaker_listed_100_percent": "yes"}, shows: "I_min = 17.5 A",
		source: "assemblies listed for 100 % begin near 100 A: common practice, no source", spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].rated_current": "14 A"}},
	{id: "E-08", name: "running current above the plate's, at one end of the reading", want: Confirm, set: set{"power.breaker": "15 A", "power.line_to_line": "240 V"},
		spec: set{"power.supplies[0].heater_power": "2.72 kW", "power.supplies[0].min_circuit": "14 A"}},
	{id: "E-08", name: "three phase: 6 kW at 208 V is 16.65 A", machine: "godwit-c44", want: OK, set: set{"power.line_to_line": "208 ± 0 V"}, shows: "I_h = 16.7 A"},
	{id: "E-08", name: "240 V heater on 208 V draws 0.8667 of its current", want: OK, set: set{"power.line_to_line": "208 ± 0 V"}, shows: "I_h = 5.42 A", source: "6.25 A × 208/240, Ohm's law"},
	{id: "E-08", name: "metric site, no 125 %", machine: "turnstone-u50", want: OK, spec: set{"power.supplies[0].min_circuit": "unknown"}, shows: "I_min = 10.9 A"},
	{id: "E-08", name: "too small only if heater and motors add up in phase", want: Confirm, set: set{"power.breaker": "9 A", "power.line_to_line": "240 ± 0 V"}, shows: "I_b = 9.85 A",
		source: "√(6.25² + 3.6²) = 7.21 A at the least, 9.85 A at the most: vector addition", spec: set{"power.supplies[0].min_circuit": "unknown", "power.supplies[0].rated_current": "unknown", "power.supplies[0].continuous": "no"}},
	{id: "E-08", name: "too small however they add up", want: Fix, set: set{"power.breaker": "7.2 A", "power.line_to_line": "240 ± 0 V"},
		spec: set{"power.supplies[0].min_circuit": "unknown", "power.supplies[0].rated_current": "unknown", "power.supplies[0].continuous": "no"}},
	{id: "E-08", name: "missing", want: Missing, set: set{"power.breaker": "unknown"}},
	{id: "E-08", name: "sheet without a load", want: Missing, spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].rated_current": "unknown"}},

	{id: "E-09", name: "just below", want: OK, set: set{"power.breaker": "19.9 A"}},
	{id: "E-09", name: "at", want: OK, set: set{"power.breaker": "20 A"}, margin: "0 A below the limit"},
	{id: "E-09", name: "just above", want: Fix, set: set{"power.breaker": "20.1 A"}},
	{id: "E-09", name: "within a stated uncertainty", want: Confirm, set: set{"power.breaker": "20 ± 5 A"}},
	{id: "E-09", name: "metric site", machine: "turnstone-u50", want: Fix, set: set{"power.breaker": "20 A"}},
	{id: "E-09", name: "sheet sets none: 20 A to 13.3 A rated", want: OK, spec: set{"power.supplies[0].max_breaker": "unknown"}, margin: "0 A below the limit", source: "NEC 422.11(E) (from memory)"},
	{id: "E-09", name: "sheet sets none, 25 A", want: Fix, set: set{"power.breaker": "25 A"}, spec: set{"power.supplies[0].max_breaker": "unknown"}},
	{id: "E-09", name: "sheet sets none: next size from 150 % of 14 A", want: OK, set: set{"power.breaker": "25 A"}, spec: set{"power.supplies[0].max_breaker": "unknown", "power.supplies[0].rated_current": "14 A"}, shows: "I_max = 25 A", source: "NEC 422.11(E) (from memory): 21 A, next standard size"},
	{id: "E-09", name: "sheet sets none, above it", want: Fix, set: set{"power.breaker": "30 A"}, spec: set{"power.supplies[0].max_breaker": "unknown", "power.supplies[0].rated_current": "14 A"}},
	{id: "E-09", name: "sheet sets none, metric", machine: "turnstone-u50", want: NA, spec: set{"power.supplies[0].max_breaker": "none"}},
	{id: "E-09", name: "missing", want: Missing, set: set{"power.breaker": "unknown"}},

	{id: "E-10", name: "standard", want: OK, set: set{"power.breaker": "45 A"}},
	{id: "E-10", name: "not standard", want: Confirm, set: set{"power.breaker": "22 A"}},
	{id: "E-10", name: "10 A since 2023", want: OK, set: set{"power.breaker": "10 A", "codes.electrical": "nec-2023"}},
	{id: "E-10", name: "10 A before", want: Confirm, set: set{"power.breaker": "10 A", "codes.electrical": "nec-2020"}},
	{id: "E-10", name: "metric site", machine: "knot-c400", want: OK, set: set{"power.breaker": "32 A"}, source: "preferred values of IEC 60898-1, public encyclopaedia page (published)"},
	{id: "E-10", name: "American rating on a metric site", machine: "knot-c400", want: Confirm, set: set{"power.breaker": "30 A"}},
	{id: "E-10", name: "missing", want: Missing, set: set{"power.breaker": "unknown"}},

	{id: "E-11", name: "two lines, two poles", want: OK, shows: "n = 2"},
	{id: "E-11", name: "one pole too few", want: Fix, set: set{"power.breaker_poles": "1"}},
	{id: "E-11", name: "one too many", want: Confirm, set: set{"power.breaker_poles": "3"}},
	{id: "E-11", name: "one line", machine: "sanderling-u24p", want: OK, shows: "n = 1"},
	{id: "E-11", name: "three lines", machine: "godwit-c44", want: OK, shows: "n = 3"},
	{id: "E-11", name: "three lines with a high leg, breaker's voltage not read", machine: "godwit-c44", want: Confirm, set: set{"power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V", "power.breaker_voltage": "unknown"}},
	// NEC 240.85 (from memory): a slash rating holds to its lower value to ground.
	{id: "E-11", name: "three lines with a high leg, straight rating", machine: "godwit-c44", want: OK, set: set{"power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-11", name: "three lines with a high leg, slash rating", machine: "godwit-c44", want: Fix, have: "120/240 V", set: set{"power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V", "power.breaker_voltage": "120/240"}},
	{id: "E-11", name: "two lines of a delta without neutral, slash rating", want: Fix, set: set{"power.system": "240-delta", "power.line_to_neutral": "unknown", "power.high_leg_to_neutral": "unknown"}},
	{id: "E-11", name: "the same, straight rating", want: OK, set: set{"power.system": "240-delta", "power.line_to_neutral": "unknown", "power.high_leg_to_neutral": "unknown", "power.breaker_voltage": "240"}},
	{id: "E-11", name: "two lines that may hold the high leg", want: Confirm, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "unknown"}},
	{id: "E-11", name: "two lines, one the high leg", want: Fix, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "yes"}},
	{id: "E-11", name: "the two low legs of a high-leg delta", want: OK, set: set{"power.high_leg_to_neutral": "208 V", "power.on_high_leg": "no"}},
	{id: "E-11", name: "a 240 V breaker on 480 V", machine: "godwit-c44", want: Fix, set: set{"power.line_to_line": "480 V", "power.line_to_neutral": "277 V", "power.middle_leg_to_neutral": "277 V", "power.high_leg_to_neutral": "277 V"}},
	{id: "E-11", name: "metric, neutral switched", machine: "knot-c400", want: OK, set: set{"power.breaker_poles": "4"}},
	{id: "E-11", name: "metric, pole too few", machine: "knot-c400", want: Fix, set: set{"power.breaker_poles": "2"}},
	{id: "E-11", name: "missing", want: Missing, set: set{"power.breaker_poles": "unknown"}},
}

// laidIn is a conductor with its surroundings made exact.
func laidIn(wire, insulation, ambient, n string, more set) set {
	s := set{"power.conductor": wire, "power.insulation": insulation, "power.ambient": ambient, "power.conductors_in_conduit": n}
	for p, t := range more {
		s[p] = t
	}
	return s
}

var conductorRows = []row{
	{id: "E-12", name: "12 AWG, 75 °C column at 40 °C: 22 A", want: OK, set: laidIn("12 AWG", "75", "40 ± 0 °C", "3", nil), shows: "I_d = 22 A",
		source: "ampacity guide page, 25 A × 0.88 = 22 A (published)"},
	{id: "E-12", name: "terminals: 8 AWG at 60 °C is 40 A, at the load", machine: "dunlin-u24", want: OK, set: laidIn("8 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "60"}), spec: set{"power.supplies[0].min_circuit": "40 A"}, margin: "0 A to spare",
		source: "NEC Table 310.16, 8 AWG copper, 60 °C: 40 A (published in two places)"},
	{id: "E-12", name: "just above the terminals' 40 A", machine: "dunlin-u24", want: Fix, set: laidIn("8 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "60"}), spec: set{"power.supplies[0].min_circuit": "40.1 A"}},
	{id: "E-12", name: "just below the terminals' 40 A", machine: "dunlin-u24", want: OK, set: laidIn("8 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "60"}), spec: set{"power.supplies[0].min_circuit": "39.9 A"}},
	{id: "E-12", name: "terminals marked 60 °C, or read and not marked", machine: "dunlin-u24", want: Fix, set: laidIn("8 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "60"}), source: "NEC 110.14(C)(1)(a), read in a secondary text: 60 °C column to 100 A unless marked; 8 AWG copper 40 A of 42"},
	{id: "E-12", name: "terminals not read: at 75 °C they would do", machine: "dunlin-u24", want: Missing, set: laidIn("8 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "unknown"}), source: "the same; 50 A in the 75 °C column"},
	{id: "E-12", name: "terminals not read: too small in either column", machine: "dunlin-u24", want: Fix, set: laidIn("10 AWG", "75", "30 ± 0 °C", "2", set{"power.terminals": "unknown"}), source: "NEC Table 310.16: 10 AWG copper 35 A at 75 °C"},
	{id: "E-12", name: "derated below the running current", machine: "dunlin-u24", want: Fix, set: laidIn("8 AWG", "75", "40 ± 0 °C", "8", nil), shows: "I_d = 30.8 A"},
	{id: "E-12", name: "95 A continuous: 1 AWG carries 118.75 A in the 75 °C column", want: OK, set: laidIn("1 AWG", "75", "30 ± 0 °C", "3", set{"power.breaker": "125 A"}),
		source: "fire-engineering academy lesson, three conductor sizes: 1 AWG (published)",
		spec:   set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].rated_current": "95 A"}},
	{id: "E-12", name: "95 A continuous: 2 AWG doesn't", want: Fix, set: laidIn("2 AWG", "75", "30 ± 0 °C", "3", set{"power.breaker": "125 A"}),
		spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].min_circuit": "unknown", "power.supplies[0].rated_current": "95 A"}},
	{id: "E-12", name: "ambient between two bands", machine: "dunlin-u24", want: Confirm, set: laidIn("8 AWG", "75", "40 °C", "5", nil), spec: set{"power.supplies[0].heater_power": "6.4 kW"}},
	{id: "E-12", name: "aluminium", want: OK, set: laidIn("10 AWG", "75", "30 ± 0 °C", "2", set{"power.conductor_material": "aluminium"}), shows: "I_t = 30 A", source: "NEC Table 310.16, 10 AWG aluminium, 75 °C (published)"},
	{id: "E-12", name: "too hot for the insulation", want: Fix, set: laidIn("12 AWG", "60", "57 ± 0 °C", "2", nil)},
	{id: "E-12", name: "too thin for any circuit", want: Fix, set: set{"power.conductor": "16 AWG"}},
	{id: "E-12", name: "beyond the tables", want: Confirm, set: set{"power.conductor": "2/0 AWG"}},
	{id: "E-12", name: "metric size on an AWG basis", want: Confirm, set: set{"power.conductor": "4 mm²"}},
	{id: "E-12", name: "metric, method C, at", machine: "knot-c400", want: OK, set: laidIn("2.5 mm²", "70", "30 ± 0 °C", "3", nil), spec: set{"power.supplies[0].min_circuit": "24 A"}, margin: "0 A to spare",
		source: "BS 7671 Table 4D2A, 2.5 mm², three loaded: 24 A (from memory)"},
	{id: "E-12", name: "metric, just above", machine: "knot-c400", want: Fix, set: laidIn("2.5 mm²", "70", "30 ± 0 °C", "3", nil), spec: set{"power.supplies[0].min_circuit": "24.1 A"}},
	{id: "E-12", name: "metric at 40 °C, factor 0.866", machine: "knot-c400", want: OK, set: laidIn("6 mm²", "70", "40 ± 0 °C", "3", nil), shows: "C_a = 0.866", source: "cable calculation documentation, 40 °C: 0.866 (published)"},
	{id: "E-12", name: "metric in conduit", machine: "knot-c400", want: OK, set: laidIn("4 mm²", "70", "30 ± 0 °C", "3", set{"power.conduit": "pvc"}), shows: "I_z = 27 A", source: "IEC 60364-5-52 Table B.52.4, method B2 (from memory)"},
	{id: "E-12", name: "metric aluminium", machine: "knot-c400", want: Confirm, set: set{"power.conductor_material": "aluminium"}},
	{id: "E-12", name: "insulation not known", want: Missing, set: set{"power.insulation": "unknown"}},
	{id: "E-12", name: "missing", want: Missing, set: set{"power.conductor": "unknown"}},

	{id: "E-13", name: "12 AWG, 20 A", want: OK, set: laidIn("12 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "20 A"}), margin: "0 A below the limit", source: "NEC 240.4(D), wire-table pages (published)"},
	{id: "E-13", name: "14 AWG, 20 A", want: Fix, set: laidIn("14 AWG", "90", "30 ± 0 °C", "2", set{"power.breaker": "20 A"}), shows: "I_lim = 15 A", source: "NEC 240.4(D), wire-table pages (published)"},
	{id: "E-13", name: "10 AWG, 30 A", want: OK, set: laidIn("10 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "30 A"}), shows: "I_lim = 30 A"},
	{id: "E-13", name: "10 AWG, 35 A", want: Fix, set: laidIn("10 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "35 A"})},
	{id: "E-13", name: "12 AWG aluminium, 20 A", want: Fix, set: laidIn("12 AWG", "75", "30 ± 0 °C", "2", set{"power.conductor_material": "aluminium"}), shows: "I_lim = 15 A"},
	{id: "E-13", name: "6 AWG, 75 °C, next size up 70 A", machine: "dunlin-u24", want: OK, set: laidIn("6 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "70 A"}), shows: "I_lim = 70 A"},
	{id: "E-13", name: "6 AWG, 80 A", machine: "dunlin-u24", want: Fix, set: laidIn("6 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "80 A"})},
	{id: "E-13", name: "8 AWG at 40 °C, several outlets: next size down", want: Fix, set: laidIn("8 AWG", "75", "40 ± 0 °C", "2", set{"power.breaker": "45 A", "power.dedicated": "no"}), shows: "I_lim = 40 A"},
	{id: "E-13", name: "ambient between two bands", machine: "dunlin-u24", want: Confirm, set: laidIn("8 AWG", "75", "40 °C", "4", set{"power.breaker": "40 A"})},
	{id: "E-13", name: "metric, at", machine: "knot-c400", want: OK, set: laidIn("4 mm²", "70", "30 ± 0 °C", "3", set{"power.breaker": "32 A"}), margin: "0 A below the limit", source: "BS 7671 Table 4D2A, 4 mm², three loaded: 32 A (from memory)"},
	{id: "E-13", name: "metric, two circuits bunched", machine: "knot-c400", want: Fix, set: laidIn("4 mm²", "70", "30 ± 0 °C", "6", set{"power.breaker": "32 A"}), shows: "C_g = 0.8"},
	{id: "E-13", name: "missing", want: Missing, set: set{"power.breaker": "unknown"}},

	{id: "E-14", name: "20 A: 12 AWG", want: OK, set: set{"power.ground": "12 AWG"}, source: "NEC Table 250.122, engineering page (published)"},
	{id: "E-14", name: "20 A: 14 AWG", want: Fix, set: set{"power.ground": "14 AWG"}},
	{id: "E-14", name: "larger than needed", want: OK, set: set{"power.ground": "10 AWG"}},
	{id: "E-14", name: "50 A, 8 AWG needed, 1 AWG pulled: 3 AWG", machine: "dunlin-u24", want: OK, shows: "EGC_up = 3 AWG",
		set: laidIn("1 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "50 A", "power.ground": "3 AWG"}), source: "250.122(B): 10380 × 83690 / 16510 = 52617 cmil, 3 AWG (published rule and areas, product computed here)"},
	{id: "E-14", name: "the same with 4 AWG", machine: "dunlin-u24", want: Fix, set: laidIn("1 AWG", "75", "30 ± 0 °C", "2", set{"power.breaker": "50 A", "power.ground": "4 AWG"})},
	{id: "E-14", name: "grown for heat only: the table's size is enough", want: OK, set: laidIn("10 AWG", "60", "45 ± 0 °C", "4", set{"power.ground": "12 AWG"})},
	{id: "E-14", name: "metric, as the line conductor", machine: "knot-c400", want: OK, shows: "S_PE = 6 mm²"},
	{id: "E-14", name: "metric, smaller: to be proved", machine: "knot-c400", want: Confirm, set: set{"power.ground": "4 mm²"}},
	{id: "E-14", name: "missing", want: Missing, set: set{"power.ground": "unknown"}},
}

// twentyAmps is a purely resistive 20 A load at 120 V.
var twentyAmps = set{"power.supplies[0].heater_power": "2.4 kW", "power.supplies[0].motor_current": "0 A"}

// sixteenAt230 is a purely resistive 16 A load at 230 V.
var sixteenAt230 = set{"power.supplies[0].heater_power": "3.68 kW", "power.supplies[0].motor_current": "0 A"}

func run120(wire, length string) set {
	return set{"power.conductor": wire, "power.run_length": length, "power.line_to_neutral": "120 ± 0 V"}
}

var dropRows = []row{
	{id: "E-15", name: "20 A, 120 V, 100 ft, 12 AWG: 7.9 V, 6.6 %", machine: "sanderling-u24p", want: Confirm, spec: twentyAmps, set: run120("12 AWG", "100 ± 0 ft"), shows: "V_d = 7.92 V, 6.6 %",
		source: "licence-exam lesson, voltage drop and Ohm's law: 7.9 V, 6.6 % by K 12.9 (published)"},
	{id: "E-15", name: "the same with 8 AWG: 3.1 V, 2.6 %, passes", machine: "sanderling-u24p", want: OK, spec: twentyAmps, set: run120("8 AWG", "100 ± 0 ft"), shows: "V_d = 3.11 V, 2.6 %",
		source: "the same lesson: 3.1 V, 2.6 % (published)"},
	{id: "E-15", name: "16 A, 18 m, 2.5 mm², 230 V: 5.18 V against 11.5 V", machine: "turnstone-u50", want: OK, spec: sixteenAt230, shows: "V_d = 5.18 V, 2.3 %",
		set:    set{"power.line_to_neutral": "230 ± 0 V", "power.run_length": "18 ± 0 m", "power.conductor": "2.5 mm²"},
		source: "wiring-inspection course lesson, voltage drop calculation: 5.18 V against 11.5 V (published)"},
	{id: "E-15", name: "the limit of that: 11.5 V", machine: "turnstone-u50", want: OK, spec: sixteenAt230, shows: "V_lim = 11.5 V",
		set: set{"power.line_to_neutral": "230 ± 0 V", "power.run_length": "18 ± 0 m"}, source: "UK reference pages, 5 % of 230 V (published)"},
	{id: "E-15", name: "just below 3 %", machine: "sanderling-u24p", want: OK, spec: twentyAmps, set: run120("12 AWG", "45.4 ± 0 ft")},
	{id: "E-15", name: "at 3 %", machine: "sanderling-u24p", want: OK, spec: twentyAmps, set: run120("10 AWG", "72.5806451613 ± 0 ft"), margin: "0 V below the limit"},
	{id: "E-15", name: "just above 3 %", machine: "sanderling-u24p", want: Confirm, spec: twentyAmps, set: run120("12 AWG", "45.5 ± 0 ft")},
	{id: "E-15", name: "within the tape's uncertainty", machine: "sanderling-u24p", want: Confirm, spec: twentyAmps, set: run120("12 AWG", "45 ft")},
	{id: "E-15", name: "run in metres", machine: "sanderling-u24p", want: Confirm, spec: twentyAmps, set: run120("12 AWG", "30 ± 0 m")},
	{id: "E-15", name: "three phase, 30 A, 100 ft, 10 AWG at 208 V: 6.44 V", machine: "godwit-c44", want: Confirm, shows: "V_d = 6.44 V, 3.1 %", source: "computed, not published",
		spec: set{"power.supplies[0].heater_power": "unknown", "power.supplies[0].rated_current": "30 A"}, set: set{"power.line_to_line": "208 ± 0 V", "power.conductor": "10 AWG", "power.run_length": "100 ± 0 ft"}},
	{id: "E-15", name: "three phase, 16 A, 30 m, 4 mm² at 400 V: 4.56 V", machine: "knot-c400", want: OK, shows: "V_d = 4.56 V, 1.1 %", source: "9.5 mV/A/m from memory, computed",
		spec: set{"power.supplies[0].heater_power": "unknown"}, set: set{"power.line_to_line": "400 ± 0 V", "power.conductor": "4 mm²", "power.run_length": "30 ± 0 m"}},
	{id: "E-15", name: "missing", want: Missing, set: set{"power.run_length": "unknown"}},

	{id: "E-16", name: "just above the minimum", machine: "sanderling-u24p", want: OK, spec: twentyAmps, set: run120("12 AWG", "151.5 ± 0 ft"), shows: "V_m = 108 V"},
	{id: "E-16", name: "at the minimum", machine: "sanderling-u24p", want: OK, margin: "0 V to spare", set: run120("12 AWG", "100 ± 0 ft"),
		spec: set{"power.supplies[0].heater_power": "2.4 kW", "power.supplies[0].motor_current": "0 A", "power.supplies[0].voltage_min": "112.08 V"}},
	{id: "E-16", name: "just below", machine: "sanderling-u24p", want: Fix, spec: twentyAmps, set: run120("12 AWG", "151.6 ± 0 ft")},
	{id: "E-16", name: "within the meter's uncertainty", want: Confirm, set: set{"power.line_to_line": "201 V"}},
	{id: "E-16", name: "read at rest, 3 % to spare", want: OK, set: set{"power.line_to_line": "240 ± 0 V", "power.read_under_load": "no"}},
	{id: "E-16", name: "read at rest, less to spare", want: Confirm, set: set{"power.line_to_line": "205 ± 0 V", "power.read_under_load": "no"}},
	{id: "E-16", name: "not said whether at rest, less to spare", want: Missing, set: set{"power.line_to_line": "205 ± 0 V", "power.read_under_load": "unknown"}},
	{id: "E-16", name: "metric site", machine: "knot-c400", want: Fix, set: set{"power.line_to_line": "380 ± 0 V", "power.run_length": "60 m", "power.conductor": "2.5 mm²", "power.line_to_neutral": "219 V", "power.high_leg_to_neutral": "219 V", "power.middle_leg_to_neutral": "219 V", "power.line_to_line_bc": "380 V", "power.line_to_line_ca": "380 V"}},
	{id: "E-16", name: "sheet sets no minimum", want: NA, spec: set{"power.supplies[0].voltage_min": "none"}},
	{id: "E-16", name: "missing", want: Missing, set: set{"power.run_length": "unknown"}},
}

var receptacleRows = []row{
	{id: "E-17", name: "the same", want: OK},
	{id: "E-17", name: "by its short name", want: OK, set: set{"power.receptacle": "6-20R"}},
	{id: "E-17", name: "15 A plug in the 20 A receptacle of its family", want: OK, spec: set{"power.supplies[0].plug": "NEMA 6-15"}},
	{id: "E-17", name: "20 A plug, 15 A receptacle", want: Fix, set: set{"power.receptacle": "NEMA 6-15"}},
	{id: "E-17", name: "another family", want: Fix, set: set{"power.receptacle": "NEMA 5-20"}},
	{id: "E-17", name: "none", want: Fix, set: set{"power.receptacle": "none"}},
	{id: "E-17", name: "a name that isn't known", want: Confirm, set: set{"power.receptacle": "an old three-pin one"}},
	{id: "E-17", name: "metric site", machine: "turnstone-u50", want: OK},
	{id: "E-17", name: "four pins don't take five", machine: "knot-c400", want: Fix, set: set{"power.receptacle": "IEC 60309 400 V 32 A 3P+E"}, source: "public encyclopaedia: red 3P+E does not mate with 3P+N+E (published)"},
	{id: "E-17", name: "by its colour", machine: "knot-c400", want: OK, set: set{"power.receptacle": "IEC 60309 red 32 A 3P+N+E"}},
	{id: "E-17", name: "plug not on the sheet, contacts suit", want: OK, spec: set{"power.supplies[0].plug": "unknown"}},
	{id: "E-17", name: "plug not on the sheet, contacts don't", want: Fix, spec: set{"power.supplies[0].plug": "unknown"}, set: set{"power.receptacle": "NEMA 5-20"}},
	{id: "E-17", name: "hard-wired", machine: "dunlin-u24", want: NA},
	{id: "E-17", name: "missing", want: Missing, set: set{"power.receptacle": "unknown"}},

	{id: "E-18", name: "at its breaker", want: OK, margin: "0 A to spare", source: "NEC 210.21(B)(1), trade magazine (published)"},
	{id: "E-18", name: "just below its breaker", want: Fix, set: set{"power.receptacle": "NEMA 6-15"}},
	{id: "E-18", name: "above its breaker", want: OK, set: set{"power.breaker": "15 A"}},
	{id: "E-18", name: "15 A receptacle among several on 20 A", want: OK, set: set{"power.receptacle": "NEMA 6-15", "power.dedicated": "no"}, source: "NEC Table 210.21(B)(3) (from memory)"},
	{id: "E-18", name: "20 A receptacle among several on 15 A", want: Fix, set: set{"power.breaker": "15 A", "power.dedicated": "no"}, source: "NEC Table 210.21(B)(3) (from memory)"},
	{id: "E-18", name: "metric site", machine: "turnstone-u50", want: Fix, set: set{"power.breaker": "20 A"}},
	{id: "E-18", name: "a name that isn't known", want: Confirm, set: set{"power.receptacle": "an old one"}},
	{id: "E-18", name: "none", want: NA, set: set{"power.receptacle": "none"}},
	{id: "E-18", name: "missing", want: Missing, set: set{"power.receptacle": "unknown"}},

	{id: "E-19", name: "just below", want: OK, set: set{"power.receptacle_distance": "71.9 ± 0 in"}},
	{id: "E-19", name: "at", want: OK, set: set{"power.receptacle_distance": "72 ± 0 in"}, margin: "0 in (0 mm) below the limit"},
	{id: "E-19", name: "just above", want: Fix, set: set{"power.receptacle_distance": "72.1 ± 0 in"}},
	{id: "E-19", name: "within the tape's uncertainty", want: Confirm, set: set{"power.receptacle_distance": "72 in"}},
	{id: "E-19", name: "in metres", want: Fix, set: set{"power.receptacle_distance": "2 m"}},
	{id: "E-19", name: "sheet doesn't say", want: Missing, spec: set{"power.cord_length": "unknown"}},
	{id: "E-19", name: "hard-wired", machine: "dunlin-u24", want: NA},
	{id: "E-19", name: "missing", want: Missing, set: set{"power.receptacle_distance": "unknown"}},

	{id: "E-20", name: "none", want: OK},
	{id: "E-20", name: "one", want: Fix, set: set{"power.extension_cord": "yes"}},
	{id: "E-20", name: "metric site", machine: "turnstone-u50", want: Fix, set: set{"power.extension_cord": "yes"}},
	{id: "E-20", name: "hard-wired", machine: "dunlin-u24", want: NA},
	{id: "E-20", name: "missing", want: Missing, set: set{"power.extension_cord": "unknown"}},
}

// outlet is an outlet for the ground-fault rule.
func outlet(edition, protection, sink string) set {
	return set{"codes.electrical": edition, "power.ground_fault_protection": protection, "power.near_sink": sink}
}

var disconnectRows = []row{
	{id: "E-21", name: "plug", want: OK},
	{id: "E-21", name: "cord without a reachable plug", want: Fix, set: set{"power.disconnect": "none"}},
	// NEC 422.33 (from memory): an accessible plug. The washer is 36 in wide and 33 in high, on 2 in.
	{id: "E-21", name: "plug behind the machine", want: Fix, have: "behind", set: set{"power.outlet_from_left": "10 in", "power.outlet_height": "18 in"}},
	{id: "E-21", name: "plug just within the machine's width", want: Fix, set: set{"power.outlet_from_left": "35.9 ± 0 in", "power.outlet_height": "18 in"}},
	{id: "E-21", name: "plug at the machine's side", want: OK, set: set{"power.outlet_from_left": "36 ± 0 in", "power.outlet_height": "18 in"}},
	{id: "E-21", name: "plug at the edge, within the tape's uncertainty", want: Confirm, set: set{"power.outlet_from_left": "36 in", "power.outlet_height": "18 in"}},
	{id: "E-21", name: "plug above the machine", want: OK, set: set{"power.outlet_from_left": "10 in", "power.outlet_height": "42 in"}},
	{id: "E-21", name: "plug behind, switch in sight", want: OK, set: set{"power.outlet_from_left": "10 in", "power.disconnect": "switch-in-sight"}},
	{id: "E-21", name: "metric, plug behind", machine: "turnstone-u50", want: Fix, set: set{"power.outlet_from_left": "200 mm", "power.outlet_height": "450 mm"}},
	{id: "E-21", name: "plug, place not known", want: Missing, set: set{"power.outlet_from_left": "unknown"}},
	{id: "E-21", name: "hard-wired, in sight", machine: "dunlin-u24", want: OK, set: set{"power.disconnect": "breaker-in-sight"}},
	{id: "E-21", name: "hard-wired, none", machine: "dunlin-u24", want: Fix, set: set{"power.disconnect": "none"}},
	{id: "E-21", name: "hard-wired, lockable, 2017", machine: "dunlin-u24", want: OK, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "nec-2017"}, source: "422.31(C) 2017, code-change summary and forum quotation (published)"},
	{id: "E-21", name: "hard-wired, lockable, 2014, large motor, no unit switch", machine: "dunlin-u24", want: Fix, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "nec-2014"}, spec: set{"power.unit_switch": "no"}, source: "422.31(C) 2014, forum quotation: in sight only (published)"},
	{id: "E-21", name: "the same with a unit switch", machine: "dunlin-u24", want: OK, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "nec-2014"}, spec: set{"power.unit_switch": "yes"}, source: "422.31(C) exception and 422.34, 2014 (from memory)"},
	{id: "E-21", name: "the same, sheet silent", machine: "dunlin-u24", want: Confirm, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "nec-2014"}},
	{id: "E-21", name: "hard-wired, lockable, 2014, small motor", machine: "dunlin-u24", want: OK, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "nec-2014"}, spec: set{"power.supplies[0].motor_current": "1 A"}},
	{id: "E-21", name: "hard-wired, lockable, edition not known", machine: "dunlin-u24", want: Missing, set: set{"power.disconnect": "lockable-breaker", "codes.electrical": "unknown"}},
	{id: "E-21", name: "metric site", machine: "knot-c400", want: OK},
	{id: "E-21", name: "missing", want: Missing, set: set{"power.disconnect": "unknown"}},

	{id: "E-22", name: "2023, receptacle near a sink, none", want: Fix, set: outlet("nec-2023", "none", "yes"), source: "210.8(B) 2023, three training pages: to 50 A and 150 V to ground (published)"},
	{id: "E-22", name: "2023, beverage area away from the sink, none", want: Fix, set: outlet("nec-2023", "none", "no"), source: "210.8(B) 2023, food and beverage areas added, one page (published)"},
	{id: "E-22", name: "2023, breaker", want: OK, set: outlet("nec-2023", "breaker", "yes")},
	{id: "E-22", name: "2026, read by the rules of 2023", want: Fix, set: outlet("nec-2026", "none", "yes"), shows: "edition = NEC 2026"},
	{id: "E-22", name: "2023, receptacle beside the machine", want: OK, set: outlet("nec-2023", "receptacle", "yes")},
	{id: "E-22", name: "2023, receptacle behind the machine", want: Fix, have: "behind", source: "NEC 210.8: in a readily accessible location",
		set: set{"codes.electrical": "nec-2023", "power.ground_fault_protection": "receptacle", "power.near_sink": "yes", "power.outlet_from_left": "10 in", "power.outlet_height": "18 in"}},
	{id: "E-22", name: "2017, receptacle behind the machine where none is required", want: OK,
		set: set{"codes.electrical": "nec-2017", "power.ground_fault_protection": "receptacle", "power.near_sink": "no", "power.outlet_from_left": "10 in", "power.outlet_height": "18 in"}},
	{id: "E-22", name: "2023, a 30 mA device is no class A", want: Fix, have: "no GFCI of class A", set: outlet("nec-2023", "rcd-30ma", "yes"), source: "UL 943 class A trips at 4 to 6 mA (published)"},
	{id: "E-22", name: "metric machine on an NEC site", machine: "turnstone-u50", want: Fix, set: set{"codes.electrical": "nec-2023", "power.ground_fault_protection": "rcd-30ma", "power.line_to_line": "208 V", "power.line_to_neutral": "120 V", "power.frequency": "60 Hz", "power.near_sink": "yes"}},
	{id: "E-22", name: "NEC machine on an IEC site", want: Confirm, have: "residual current not stated", set: outlet("iec-60364", "breaker", "yes")},
	{id: "E-22", name: "2020, away from the sink: the authority rules", want: Confirm, set: outlet("nec-2020", "none", "no")},
	{id: "E-22", name: "2017, near a sink, none", want: Fix, set: outlet("nec-2017", "none", "yes"), source: "210.8(B) 2017, two forum quotations (published)"},
	{id: "E-22", name: "2017, away from the sink", want: OK, set: outlet("nec-2017", "none", "no")},
	{id: "E-22", name: "2014, 240 V receptacle", want: OK, set: outlet("nec-2014", "none", "yes"), source: "210.8(B) 2014, 125 V 15 and 20 A receptacles only, magazine (published)"},
	{id: "E-22", name: "2014, 120 V receptacle near a sink", machine: "sanderling-u24p", want: Fix, set: outlet("nec-2014", "none", "yes")},
	{id: "E-22", name: "2023, hard-wired: the authority rules", machine: "dunlin-u24", want: Confirm, set: outlet("nec-2023", "none", "yes")},
	{id: "E-22", name: "2017, hard-wired", machine: "dunlin-u24", want: OK, set: outlet("nec-2017", "none", "yes")},
	{id: "E-22", name: "a high leg of 208 V to ground is out of scope", machine: "godwit-c44", want: OK, spec: set{"power.connection": "cord"},
		set: set{"codes.electrical": "nec-2017", "power.ground_fault_protection": "none", "power.near_sink": "yes", "power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-22", name: "a 120 V circuit beside a high leg is in scope", machine: "sanderling-u24p", want: Fix, shows: "V_g = 120 V",
		set: set{"codes.electrical": "nec-2017", "power.ground_fault_protection": "none", "power.near_sink": "yes", "power.high_leg_to_neutral": "208 V"}},
	{id: "E-22", name: "metric, 30 mA", machine: "turnstone-u50", want: OK},
	{id: "E-22", name: "metric, another", machine: "turnstone-u50", want: Fix, set: set{"power.ground_fault_protection": "rcd-other"}},
	{id: "E-22", name: "metric, hard-wired", machine: "turnstone-u50", want: Confirm, set: set{"power.ground_fault_protection": "none"}, spec: set{"power.connection": "hard-wired"}},
	{id: "E-22", name: "2020, none, distance to the sink not known", want: Missing, set: outlet("nec-2020", "none", "unknown")},
	{id: "E-22", name: "edition not known", want: Missing, set: outlet("unknown", "breaker", "yes")},
	{id: "E-22", name: "missing", want: Missing, set: outlet("nec-2023", "unknown", "yes")},

	{id: "E-33", name: "type A on TN-C-S", machine: "turnstone-u50", want: OK},
	{id: "E-33", name: "type AC", machine: "turnstone-u50", want: Confirm, set: set{"power.rcd_type": "AC"}, source: "BS 7671:2018 amendment 2, 531.3.3 (from memory)"},
	{id: "E-33", name: "type not read", machine: "turnstone-u50", want: Confirm, set: set{"power.rcd_type": "unknown"}},
	{id: "E-33", name: "TT without a device", machine: "turnstone-u50", want: Fix, set: set{"power.earthing": "TT", "power.ground_fault_protection": "none"}, source: "IEC 60364-4-41, 411.5 (from memory)"},
	{id: "E-33", name: "TN-S without a device", machine: "turnstone-u50", want: OK, set: set{"power.earthing": "TN-S", "power.ground_fault_protection": "none"}},
	{id: "E-33", name: "IT", machine: "turnstone-u50", want: Confirm, set: set{"power.earthing": "IT"}},
	{id: "E-33", name: "earthing not known", machine: "turnstone-u50", want: Confirm, set: set{"power.earthing": "unknown"}},
	{id: "E-33", name: "under the NEC", want: NA},
	{id: "E-33", name: "missing", machine: "turnstone-u50", want: Missing, set: set{"power.ground_fault_protection": "unknown"}},
}

var elementRows = []row{
	{id: "E-23", name: "240 V element on 208 V: 75.1 %", want: OK, set: set{"power.line_to_line": "208 ± 0 V"}, shows: "P/P_r = 75.1 %", source: "(208/240)² = 0.7511, Joule's law"},
	{id: "E-23", name: "208 V element on 240 V: 133.1 %", machine: "dunlin-u24", want: Fix, set: set{"power.line_to_line": "240 ± 0 V"}, shows: "P/P_r = 133.1 %", source: "(240/208)² = 1.3314, Joule's law"},
	{id: "E-23", name: "just below the plate's least", want: Fix, set: legs("197.9 ± 0 V", "114 V", "114 V")},
	{id: "E-23", name: "at the plate's least", want: OK, set: set{"power.line_to_line": "198 ± 0 V"}},
	{id: "E-23", name: "just above the plate's least", want: OK, set: set{"power.line_to_line": "198.1 ± 0 V"}},
	{id: "E-23", name: "within the meter's uncertainty", want: Confirm, set: set{"power.line_to_line": "199 V"}},
	{id: "E-23", name: "metric: 207 V on 230 V gives 81 %", machine: "turnstone-u50", want: Fix, set: set{"power.line_to_neutral": "207 ± 0 V", "power.line_to_line": "unknown"}, shows: "P/P_r = 81.0 %", source: "(207/230)² = 0.81, Joule's law"},
	{id: "E-23", name: "no heater", want: NA, spec: set{"power.supplies[0].heater_power": "none"}},
	{id: "E-23", name: "heater's voltage not on the sheet", want: Missing, spec: set{"power.supplies[0].heater_volts": "unknown"}},
	{id: "E-23", name: "missing", want: Missing, set: set{"power.line_to_line": "unknown"}},

	// Simple form, 4 gal from 60 to 150 °F with 2 kW: 26.37 min without loss, 31.0 min with 0.85 kept.
	{id: "E-24", name: "4 gal, 60 to 150 °F, 2 kW: 26.37 / 0.85 min", want: Fix, shows: "t = 31 min", source: "heat balance of 8.33 lb/gal, as in specs/trade; computed",
		set: set{"power.line_to_line": "240 ± 0 V", "water.hot.temperature": "60 ± 0 °F"}, spec: set{"wash.tank_heater": "2 kW"}},
	{id: "E-24", name: "just below", want: OK, set: set{"power.line_to_line": "240 ± 0 V", "water.hot.temperature": "60 ± 0 °F"}, spec: set{"wash.tank_heater": "2 kW", "wash.heat_up_max": "31.1 min"}},
	{id: "E-24", name: "just above without loss", want: Fix, set: set{"power.line_to_line": "240 ± 0 V", "water.hot.temperature": "60 ± 0 °F"}, spec: set{"wash.tank_heater": "2 kW", "wash.heat_up_max": "26.3 min"}},
	{id: "E-24", name: "at: nothing left to heat", want: OK, set: set{"water.hot.temperature": "150 ± 0 °F"}, spec: set{"wash.heat_up_max": "0 min"}, margin: "0 s below the limit"},
	{id: "E-24", name: "the same on 208 V takes 1.331 times as long", want: Fix, shows: "t = 41.3 min", source: "(240/208)² = 1.331, Joule's law",
		set: set{"power.line_to_line": "208 ± 0 V", "water.hot.temperature": "60 ± 0 °F"}, spec: set{"wash.tank_heater": "2 kW", "wash.heat_up_max": "35 min"}},
	{id: "E-24", name: "within the readings' uncertainty", want: Confirm, set: set{"water.hot.temperature": "60 °F"}, spec: set{"wash.tank_heater": "2 kW", "wash.heat_up_max": "31 min"}},
	{id: "E-24", name: "metric, cold fill", machine: "turnstone-u50", want: OK, set: set{"power.line_to_neutral": "230 ± 0 V", "water.cold.winter_temperature": "10 ± 0 °C"}},
	{id: "E-24", name: "sheet sets no limit", want: NA, spec: set{"wash.heat_up_max": "none"}},
	{id: "E-24", name: "missing", want: Missing, set: set{"water.hot.temperature": "unknown"}},
	// η is assumed: it never makes a FIX (4 gal, 60 to 150 °F, 2 kW take 26.4 min without loss).
	{id: "E-24", name: "too long only by the loss assumed", want: Confirm, shows: "t = 31 min", set: set{"power.line_to_line": "240 ± 0 V", "water.hot.temperature": "60 ± 0 °F"}, spec: set{"wash.tank_heater": "2 kW", "wash.heat_up_max": "31 min"}},

	{id: "E-32", name: "below 48 A", machine: "dunlin-u24", want: OK, shows: "I_h = 28.8 A"},
	{id: "E-32", name: "at 48 A", machine: "dunlin-u24", want: OK, spec: set{"power.supplies[0].heater_power": "9984 W"}, margin: "0 A below the limit", source: "NEC 422.11(F)(1) (from memory); 48 A × 208 V"},
	{id: "E-32", name: "above 48 A", machine: "dunlin-u24", want: Confirm, spec: set{"power.supplies[0].heater_power": "10 kW"}, shows: "n_h = 2"},
	{id: "E-32", name: "metric", machine: "turnstone-u50", want: NA},
	{id: "E-32", name: "heater's voltage not on the sheet", want: Missing, spec: set{"power.supplies[0].heater_volts": "unknown"}},
}

// crowded is a circuit that can't stay shared.
func crowded(spaces string) set {
	return set{"power.dedicated": "no", "power.other_loads[0].name": "ice machine", "power.other_loads[0].current": "12 A", "power.panel_spaces": spaces}
}

// with lays more answers over others.
func with(s, more set) set {
	for p, t := range more {
		s[p] = t
	}
	return s
}

// aboveHighLeg is the space in front of a panel with 208 V to ground.
func aboveHighLeg(depth, opposite string) set {
	return set{"power.line_to_line": "240 V", "power.high_leg_to_neutral": "208 V", "power.panel_clear_depth": depth, "power.panel_opposite": opposite}
}

var panelRows = []row{
	{id: "E-25", name: "circuit is there", want: NA},
	{id: "E-25", name: "just below", want: Fix, set: crowded("1")},
	{id: "E-25", name: "at", want: OK, set: crowded("2"), margin: "0 to spare"},
	{id: "E-25", name: "just above", want: OK, set: crowded("3")},
	{id: "E-25", name: "a pole too few", machine: "godwit-c44", want: Fix, set: set{"power.breaker_poles": "2", "power.panel_spaces": "0"}, shows: "n_new = 1"},
	{id: "E-25", name: "one pole more, no space", want: Fix, have: "0 free", action: "one pole beside the breaker", set: set{"power.breaker_poles": "1", "power.panel_spaces": "0", "power.panel_spaces_adjacent": "0"}, source: "one space for each pole: common practice, no source"},
	{id: "E-25", name: "free spaces apart", want: Fix, set: with(crowded("4"), set{"power.panel_spaces_adjacent": "1"}), source: "two poles with a common trip take neighboring spaces: common practice, no source"},
	{id: "E-25", name: "free spaces, perhaps apart", want: Confirm, set: with(crowded("4"), set{"power.panel_spaces_adjacent": "unknown"})},
	{id: "E-25", name: "the sheet's own circuit needs its spaces too", want: Fix, set: sharedWith("0.1 A", set{"power.panel_spaces": "1", "power.panel_spaces_adjacent": "1"}), shows: "n_new = 2"},
	{id: "E-25", name: "one pole, one space", machine: "sanderling-u24p", want: OK, set: with(crowded("1"), set{"power.panel_spaces_adjacent": "1"})},
	{id: "E-25", name: "metric site", machine: "turnstone-u50", want: OK, set: crowded("2")},
	{id: "E-25", name: "missing", want: Missing, set: crowded("unknown")},

	{id: "E-26", name: "just below 36 in", want: Fix, set: set{"power.panel_clear_depth": "35.9 ± 0 in"}, source: "NEC 110.26(A), 0 to 150 V to ground (published)"},
	{id: "E-26", name: "at 36 in", want: OK, set: set{"power.panel_clear_depth": "36 ± 0 in"}, margin: "0 in (0 mm) to spare"},
	{id: "E-26", name: "just above 36 in", want: OK, set: set{"power.panel_clear_depth": "36.1 ± 0 in"}},
	{id: "E-26", name: "within the tape's uncertainty", want: Confirm, set: set{"power.panel_clear_depth": "36 in"}},
	{id: "E-26", name: "in millimetres", want: Fix, set: set{"power.panel_clear_depth": "900 mm"}},
	{id: "E-26", name: "too narrow", want: Fix, set: set{"power.panel_clear_width": "29 in"}, have: "width"},
	{id: "E-26", name: "too low", want: Fix, set: set{"power.panel_clear_height": "77 in"}, have: "height"},
	{id: "E-26", name: "high leg, grounded wall opposite: 42 in", machine: "godwit-c44", want: Fix, set: aboveHighLeg("40 in", "grounded"), shows: "D = 42 in (1067 mm)", source: "NEC Table 110.26(A)(1), condition 2 (from memory)"},
	{id: "E-26", name: "high leg, nothing grounded opposite: 36 in", machine: "godwit-c44", want: OK, set: aboveHighLeg("40 in", "clear"), shows: "D = 36 in (914 mm)", source: "NEC Table 110.26(A)(1), condition 1 (from memory)"},
	{id: "E-26", name: "high leg, live parts opposite: 48 in", machine: "godwit-c44", want: Fix, set: aboveHighLeg("47 in", "live"), shows: "D = 48 in (1219 mm)", source: "NEC Table 110.26(A)(1), condition 3 (from memory)"},
	{id: "E-26", name: "high leg, opposite not known, between 36 and 48 in", machine: "godwit-c44", want: Confirm, set: aboveHighLeg("40 in", "unknown")},
	{id: "E-26", name: "high leg, opposite not known, below 36 in", machine: "godwit-c44", want: Fix, set: aboveHighLeg("35 in", "unknown")},
	{id: "E-26", name: "high leg, opposite not known, above 48 in", machine: "godwit-c44", want: OK, set: aboveHighLeg("49 in", "unknown")},
	{id: "E-26", name: "to 150 V the wall opposite doesn't matter", want: OK, set: set{"power.panel_opposite": "unknown", "power.panel_clear_depth": "37 in"}},
	{id: "E-26", name: "metric machine on an NEC site", machine: "turnstone-u50", want: Fix, set: set{"codes.electrical": "nec-2023", "power.line_to_neutral": "120 V", "power.panel_clear_depth": "30 in", "power.panel_clear_width": "40 in", "power.panel_clear_height": "80 in"}},
	{id: "E-26", name: "NEC machine on an IEC site", want: NA, set: set{"codes.electrical": "bs-7671"}},
	{id: "E-26", name: "metric site", machine: "knot-c400", want: NA},
	{id: "E-26", name: "missing", want: Missing, set: set{"power.panel_clear_depth": "unknown"}},

	{id: "E-27", name: "the same region", want: OK},
	{id: "E-27", name: "another region", want: Fix, set: set{"codes.electrical": "iec-60364"}},
	{id: "E-27", name: "metric site", machine: "turnstone-u50", want: OK, set: set{"codes.electrical": "bs-7671"}},
	{id: "E-27", name: "metric machine under the NEC", machine: "turnstone-u50", want: Fix, set: set{"codes.electrical": "nec-2023"}},
	{id: "E-27", name: "missing", want: Missing, set: set{"codes.electrical": "unknown"}},
	{id: "E-27", name: "the 2026 edition", want: OK, set: set{"codes.electrical": "nec-2026"}, have: "NEC 2026"},

	{id: "E-30", name: "the circuit is there", want: NA},
	{id: "E-30", name: "larger, and there is room", machine: "dunlin-u24", want: OK, set: set{"power.breaker": "30 A"}, shows: "I_min = 42 A"},
	{id: "E-30", name: "larger, and there is none", machine: "dunlin-u24", want: Fix, set: set{"power.breaker": "30 A", "power.load_calculation": "exceeds"}},
	{id: "E-30", name: "larger, not calculated", machine: "dunlin-u24", want: Confirm, set: set{"power.breaker": "30 A", "power.load_calculation": "unknown"}, have: "200 A main", source: "NEC 220.87 (from memory)"},
	{id: "E-30", name: "larger than the main", machine: "dunlin-u24", want: Fix, set: set{"power.breaker": "30 A", "power.panel_main": "40 A"}},
	{id: "E-30", name: "new, not calculated", want: Confirm, set: with(crowded("4"), set{"power.load_calculation": "unknown"})},
	{id: "E-30", name: "metric, new", machine: "turnstone-u50", want: OK, set: crowded("4")},
	{id: "E-30", name: "missing", want: Missing, set: set{"power.breaker": "unknown"}},

	{id: "E-31", name: "just below", want: OK, set: set{"power.fault_current": "9999 A"}, source: "NEC 110.9 (from memory)"},
	{id: "E-31", name: "at", want: OK, set: set{"power.fault_current": "10000 A"}, margin: "0 A to spare"},
	{id: "E-31", name: "just above", want: Fix, set: set{"power.fault_current": "10001 A"}},
	{id: "E-31", name: "within a stated uncertainty", want: Confirm, set: set{"power.fault_current": "10000 ± 500 A"}},
	{id: "E-31", name: "unmarked breaker to 5000 A", want: OK, set: set{"power.fault_current": "5000 A", "power.interrupting_rating": "unknown"}, source: "NEC 240.83(C) (from memory)"},
	{id: "E-31", name: "unmarked breaker above", want: Confirm, set: set{"power.fault_current": "5100 A", "power.interrupting_rating": "unknown"}},
	{id: "E-31", name: "new circuit, fault current not known", want: Confirm, set: with(crowded("4"), set{"power.fault_current": "unknown"})},
	{id: "E-31", name: "breaker stays, fault current not known", want: NA, set: set{"power.fault_current": "unknown"}},
	{id: "E-31", name: "metric", machine: "turnstone-u50", want: Fix, set: set{"power.fault_current": "7000 A"}},
	{id: "E-31", name: "missing", want: Missing, set: set{"power.breaker": "unknown", "power.fault_current": "unknown"}},
}

// incurable lists faults of power that no change of the questionnaire's
// answers cures, with the reason.
var incurable = map[string]string{
	"E-01 readings of no system":                     "the legs must be read again",
	"E-01 just below it":                             "the legs must be read again",
	"E-04 three-phase machine on single phase":       "the building has no third phase",
	"E-05 just outside":                              "nothing on site changes the frequency",
	"E-05 60 Hz on a 50 Hz machine":                  "nothing on site changes the frequency",
	"E-06 three-phase machine on a high leg":         "the building's supply is of another kind",
	"E-03 just above the maximum":                    "the supply is the utility's to mend",
	"E-03 just below the minimum":                    "the supply is the utility's to mend",
	"E-03 in kilovolts":                              "the supply is the utility's to mend",
	"E-23 just below the plate's least":              "the supply is the utility's to mend",
	"E-23 metric: 207 V on 230 V gives 81 %":         "the supply is the utility's to mend",
	"E-11 three lines with a high leg, slash rating": "no option suits the supply, which is settled first",
	"E-11 a 240 V breaker on 480 V":                  "no option suits the supply, which is settled first",
	"E-22 metric machine on an NEC site":             "no option suits the supply, which is settled first",
	"E-27 another region":                            "another machine must be ordered",
	"E-27 metric machine under the NEC":              "another machine must be ordered",
}

// TestPowerRemedies sees that every fault of power that can be cured offers a cure.
func TestPowerRemedies(t *testing.T) {
	t.Parallel()
	for _, r := range powerRows {
		if r.want != Fix {
			continue
		}
		s, m := r.laid(t)
		f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(r.id)}}).Findings[0]
		name := r.id + " " + r.name
		if why, known := incurable[name]; known == (len(f.Remedies) > 0) {
			t.Errorf("%s: %d remedies; listed as incurable: %v (%s)", name, len(f.Remedies), known, why)
		}
	}
}

// TestEveryEdition sees the passing sites under the NEC pass under each of its
// editions, and the others under each of the IEC's rules.
func TestEveryEdition(t *testing.T) {
	for name, s := range sites(t) {
		if !strings.HasPrefix(name, "pass_") {
			continue
		}
		m := machine(t, s.Machine.Key)
		codes := []string{"iec-60364", "bs-7671"}
		if m.Basis == "nec" {
			codes = []string{"nec-2014", "nec-2017", "nec-2020", "nec-2023", "nec-2026"}
		}
		for _, code := range codes {
			changed := s.Clone()
			if err := changed.Apply(set{"codes.electrical": code}); err != nil {
				t.Fatal(err)
			}
			for _, f := range Evaluate(changed, m, Options{Today: today, OnlyCheck: power, NoRemedy: true}).Findings {
				if f.Verdict.Blocks() {
					t.Errorf("%s under %s: %s %v: %s, want %s", name, code, f.ID, f.Verdict, f.Have, f.Want)
				}
			}
		}
	}
}

// TestWholeCircuit sees that a larger circuit is one remedy: breaker, poles,
// conductors and ground at their final values, within the plate's limits, so
// that no check of the circuit fails with it that did not before.
func TestWholeCircuit(t *testing.T) {
	s, m := row{machine: "dunlin-u24", set: set{"power.breaker": "30 A", "power.breaker_poles": "1", "power.conductor": "10 AWG", "power.ground": "12 AWG"}}.laid(t)
	f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID("E-08")}}).Findings[0]
	if f.Verdict != Fix || len(f.Remedies) != 1 {
		t.Fatalf("got %v with %d remedies, want FIX with one", f.Verdict, len(f.Remedies))
	}
	// 42 A at least and 50 A at most on the plate: 45 A; 8 AWG copper carries
	// 50 A at 75 °C (NEC Table 310.16), its ground is 10 AWG to 60 A (Table 250.122).
	want := set{"power.breaker": "45 A", "power.breaker_poles": "2", "power.conductor": "8 AWG", "power.ground": "10 AWG"}
	for path, text := range want {
		if got := f.Remedies[0].Set[path]; got != text {
			t.Errorf("%s: got %q, want %q", path, got, text)
		}
	}
	for _, part := range []string{"45 A 2-pole GFCI breaker", "8 AWG", "10 AWG"} {
		if !strings.Contains(f.Remedies[0].Change, part) {
			t.Errorf("%q doesn't say %q", f.Remedies[0].Change, part)
		}
	}
	if err := s.Apply(f.Remedies[0].Set); err != nil {
		t.Fatal(err)
	}
	for _, f := range Evaluate(s, m, Options{Today: today, OnlyCheck: power, NoRemedy: true}).Findings {
		if f.Verdict.Blocks() {
			t.Errorf("with it: %s %v: %s, want %s", f.ID, f.Verdict, f.Have, f.Want)
		}
	}
}

// TestDoubtIsNoOrder sees that voltages which contradict each other are to be
// measured again, and that nothing is ordered by them.
func TestDoubtIsNoOrder(t *testing.T) {
	for _, given := range []set{
		legs("300 ± 0 V", "120 V", "120 V"), // no system
		legs("260 ± 0 V", "120 V", "120 V"), // legs of another
	} {
		s, m := row{set: given}.laid(t)
		for _, id := range []string{"E-03", "E-23"} {
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(id)}}).Findings[0]
			if f.Verdict != Fix || len(f.Remedies) > 0 || !strings.Contains(f.Action, "reading in doubt") {
				t.Errorf("%s with %v: %v, action %q, %d remedies; want FIX without an order of work", id, given, f.Verdict, f.Action, len(f.Remedies))
			}
		}
	}
}

// TestOptionFirst sees that what hangs on the supply option waits while
// another was ordered than the one that suits the site.
func TestOptionFirst(t *testing.T) {
	// 240 V on the 208 V option: its 42 A are not what the 240 V one takes (36.1 A).
	s, m := row{machine: "dunlin-u24", set: set{"power.system": "120/240", "power.line_to_line": "240 ± 0 V", "power.breaker": "40 A"}}.laid(t)
	f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID("E-08")}}).Findings[0]
	if f.Verdict != Confirm || !strings.Contains(f.Action, "240 V") || len(f.Remedies) > 0 {
		t.Errorf("40 A: got %v, action %q; want it to wait for the 240 V option", f.Verdict, f.Action)
	}
	if err := s.Apply(set{"power.breaker": "30 A"}); err != nil {
		t.Fatal(err)
	}
	f = Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID("E-08")}}).Findings[0]
	if f.Verdict != Fix || !strings.Contains(f.Action, "order the supply option 240 V first") || !strings.Contains(f.Action, "40 A") {
		t.Errorf("30 A: got %v, action %q; want a FIX by the 240 V option", f.Verdict, f.Action)
	}
}

// TestPolesTakeSpaces sees that a way to more poles brings the spaces for them
// along where the panel has none, and only there.
func TestPolesTakeSpaces(t *testing.T) {
	for free, want := range map[string]string{"0": "2", "1": "", "unknown": ""} {
		for _, id := range []string{"E-11", "E-08"} {
			s, m := row{machine: "dunlin-u24", set: set{"power.breaker": "30 A", "power.breaker_poles": "1", "power.panel_spaces": free, "power.panel_spaces_adjacent": free}}.laid(t)
			f := Evaluate(s, m, Options{Today: today}).Finding(id)
			if len(f.Remedies) == 0 {
				t.Fatalf("%s with %s free: no remedy", id, free)
			}
			if got := f.Remedies[0].Set["power.panel_spaces_adjacent"]; got != want {
				t.Errorf("%s with %s free: a row of %q, want %q; %v", id, free, got, want, f.Remedies[0].Change)
			}
		}
	}
}
