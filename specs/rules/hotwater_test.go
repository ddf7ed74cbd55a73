package rules

// hotwaterRows are what two trade audits would strike out about hot water and
// the sanitizing solution.
var hotwaterRows = []row{
	// Joule's law: (V / Vr)²; 208 V on a 240 V booster leaves 75.1 % of its rise.
	{id: "W-15", name: "booster below its rated voltage", machine: "dunlin-u24", want: Fix, shows: "Δt_V = 54.1 °F", source: "Joule's law: 60 °F × (197.6 / 208)²",
		set: set{"water.hot.temperature": "122 ± 0 °F", "power.line_to_line": "197.6 ± 0 V"}},
	{id: "W-15", name: "booster above its rated voltage gives no more", machine: "dunlin-u24", want: Fix,
		set: set{"water.hot.temperature": "119 ± 0 °F", "power.line_to_line": "228 ± 0 V"}, source: "its thermostat ends it: common practice, no source"},

	{id: "C-02", name: "chlorine at the no-rinse limit, sheet silent", want: OK, spec: set{"chemicals.concentration_max": "unknown"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "200 ± 0 mg/L"}, source: "40 CFR 180.940 (from memory): 200 ppm available chlorine"},
	{id: "C-02", name: "chlorine above the no-rinse limit, sheet silent", want: Fix, spec: set{"chemicals.concentration_max": "unknown"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "201 ± 0 mg/L"}, source: "the same"},
	{id: "C-02", name: "a sheet that allows more can't raise the limit", want: Fix, spec: set{"chemicals.concentration_max": "300 mg/L"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "250 ± 0 mg/L"}, source: "the same"},
	{id: "C-02", name: "quat above any label", machine: "godwit-c44", want: Fix, spec: set{"chemicals.concentration_max": "600 mg/L"},
		set: set{"chemicals.sanitizer": "quat", "chemicals.concentration": "401 ± 0 mg/L"}, source: "40 CFR 180.940 (from memory): at most 400 ppm for some compounds"},

	{id: "C-08", name: "iodine in alkaline water", want: Fix, set: set{"chemicals.sanitizer": "iodine", "chemicals.concentration": "18 mg/L", "chemicals.ph": "7.5"}, source: "FDA Food Code 4-501.114(B): pH 5.0 or less, or as the maker's label says"},
	{id: "C-08", name: "iodine at its pH", want: OK, set: set{"chemicals.sanitizer": "iodine", "chemicals.concentration": "18 mg/L", "chemicals.ph": "5"}, source: "the same", shows: "pH_max = 5"},
	{id: "C-08", name: "iodine just above it", want: Fix, set: set{"chemicals.sanitizer": "iodine", "chemicals.concentration": "18 mg/L", "chemicals.ph": "5.1"}, source: "the same"},
	{id: "C-08", name: "iodine, pH not read", want: Missing, set: set{"chemicals.sanitizer": "iodine", "chemicals.concentration": "18 mg/L", "chemicals.ph": "unknown"}},
	{id: "C-08", name: "quat at its hardness", machine: "godwit-c44", want: OK, set: set{"chemicals.sanitizer": "quat", "treatment.hardness": "500 ± 0 mg/L"}, source: "FDA Food Code 4-501.114(C): 500 mg/L or less, or as the label says"},
	{id: "C-08", name: "quat in harder water", machine: "godwit-c44", want: Fix, set: set{"chemicals.sanitizer": "quat", "treatment.hardness": "501 ± 0 mg/L"}, source: "the same"},
	{id: "C-08", name: "quat in hard water by the grain", machine: "godwit-c44", want: Fix, set: set{"chemicals.sanitizer": "quat", "treatment.hardness": "29.4 ± 0 gpg"}, source: "the same; 1 gpg = 17.118 mg/L"},
	{id: "C-08", name: "quat within the strip's uncertainty", machine: "godwit-c44", want: Confirm, set: set{"chemicals.sanitizer": "quat", "treatment.hardness": "480 mg/L"}},
	{id: "C-08", name: "chlorine so acid that it gasses", want: Fix, action: "stop dosing", set: set{"chemicals.sanitizer": "chlorine", "chemicals.ph": "5.9"}, source: "food safety guidance (read in a secondary text): below pH 6 chlorine escapes as a gas"},
	{id: "C-08", name: "chlorine at its least pH", want: OK, set: set{"chemicals.sanitizer": "chlorine", "chemicals.ph": "6"}, source: "the same", shows: "pH_min = 6"},
	{id: "C-08", name: "chlorine, pH not read", want: Missing, set: set{"chemicals.sanitizer": "chlorine", "chemicals.ph": "unknown"}},
	{id: "C-08", name: "no sanitizer planned", want: NA, set: set{"chemicals.sanitizer": "none"}},

	{id: "W-19", name: "too alkaline, the water not at fault", want: Fix, action: "pH from 9 to 8 or less", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "9"}, source: "FDA Food Code 4-501.114(A): 100 °F to pH 10, 75 °F to pH 8"},
	{id: "W-19", name: "far too alkaline", want: Fix, action: "the water isn't at fault", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "10.5"}, source: "the same"},
	{id: "W-19", name: "too weak, the water not at fault", want: Fix, action: "raise the dose from 40", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "40 ± 0 mg/L", "chemicals.ph": "7.5"}, source: "the same: 120 °F at 25 to 49 mg/L, 75 °F from 50"},
	{id: "W-19", name: "too cold for any strength", machine: "turnstone-u50", want: Fix, action: "bring the final rinse to at least 55 °F", set: set{"water.cold.winter_temperature": "10 ± 0 °C"}, source: "the same: 55 °F at 100 mg/L"},

	{id: "W-39", name: "stored just below", want: Confirm, action: "too cool", set: set{"heater.set_point": "139.9 °F"}, source: "water safety guidance (read in a secondary text): stored at 140 °F"},
	{id: "W-39", name: "stored at", want: OK, set: set{"heater.set_point": "140 °F"}, source: "the same"},
	{id: "W-39", name: "stored just above", want: OK, set: set{"heater.set_point": "140.1 °F"}, source: "the same"},
	{id: "W-39", name: "stored in °C", want: Confirm, set: set{"heater.set_point": "59 °C"}, source: "the same"},
	{id: "W-39", name: "hand sinks not told", want: Confirm, action: "scald hazard", set: set{"heater.sinks_limited": "unknown"}, source: "ASSE 1070 (read in a secondary text): at most 120 °F"},
	{id: "W-39", name: "hand sinks without valves", want: Confirm, action: "ASSE 1070", set: set{"heater.sinks_limited": "no"}, source: "the same"},
	{id: "W-39", name: "cool store and hot sinks", want: Confirm, action: "too cool a store", set: set{"heater.set_point": "130 °F", "heater.sinks_limited": "no"}},
	{id: "W-39", name: "tankless at a hand sink's limit", want: OK, set: set{"heater.kind": "instantaneous", "heater.storage": "0 gal", "heater.set_point": "120 °F", "heater.sinks_limited": "no"}, source: "ASSE 1070: exactly 120 °F does"},
	{id: "W-39", name: "missing", want: Missing, set: set{"heater.set_point": "unknown"}},
	{id: "W-39", name: "no hot water taken", machine: "turnstone-u50", want: NA},

	{id: "W-19", name: "a target at the floor that may fall below it", want: Confirm, spec: set{"rinse.temperature": "75 °F", "rinse.temperature_min": "65 °F"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "7.5"}, source: "FDA Food Code 4-501.114(A): 75 °F at 50 mg/L and pH to 8"},
	{id: "W-19", name: "the same, its limits leave room for a dose that clears both", machine: "turnstone-u50", want: Confirm, action: "the chlorine to 115 mg/L", spec: set{"rinse.temperature": "75 °F", "rinse.temperature_min": "65 °F", "chemicals.concentration_min": "50 mg/L", "water.mixing_valve": "yes", "water.hot.used": "yes"},
		set: set{"chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "7.5", "water.hot.temperature": "50 °C"}, source: "the same: 100 mg/L from 55 °F; a test strip's 10 % (common practice, no source) below 115 is 103.5"},
	{id: "W-19", name: "the same, at most 100 mg/L: no dose clears both", want: Confirm, action: "set the sanitizer up for a colder rinse", spec: set{"rinse.temperature": "75 °F", "rinse.temperature_min": "65 °F"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "7.5"}, source: "the same; 100 mg/L is the machine's most"},
	{id: "W-19", name: "colder, up to 127 mg/L: a dose of 115 clears both", machine: "turnstone-u50", want: Fix, action: "to 115 mg/L", spec: set{"chemicals.concentration_max": "127 mg/L"}, set: set{"chemicals.concentration": "75 ± 0 mg/L", "water.cold.winter_temperature": "18 ± 0 °C"}, source: "115 mg/L with 10 % is 126.5"},
	{id: "W-19", name: "colder, up to 126 mg/L: none does", machine: "turnstone-u50", want: Fix, action: "bring the final rinse to at least 75 °F", spec: set{"chemicals.concentration_max": "126 mg/L"}, set: set{"chemicals.concentration": "75 ± 0 mg/L", "water.cold.winter_temperature": "18 ± 0 °C"}, source: "the same"},
	{id: "W-19", name: "a target at the floor that can't fall below it", want: OK, spec: set{"rinse.temperature": "75 °F", "rinse.temperature_min": "75 °F"},
		set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 ± 0 mg/L", "chemicals.ph": "7.5"}, source: "the same"},

	// 40 gph and 0.7 × 80 gal over 4 h sustain 54 gph: specs/trade RushGPH, derived.
	{id: "W-38", name: "coldest water not told: at 80 °F it would do", machine: "sanderling-u24p", want: Missing, source: "mixing balance (derived): 40 gph × 90 °F over the rise is 36 gph at 40 °F and 60 at 80",
		set: set{"heater.storage": "10 gal", "heater.recovery": "40 gph", "heater.recovery_rise": "90 °F", "heater.set_point": "140 °F", "water.cold.winter_temperature": "unknown", "water.cold.summer_temperature": "unknown", "demand.rush": "4 h"}},
	{id: "W-38", name: "a long rush outlasts the tank", machine: "sanderling-u24p", want: Fix, shows: "Q = 54 gph", source: "mixing balance (derived)",
		set: rush("40 gph", "4 h", "60 gph")},
	{id: "W-38", name: "the same rush in its first hour", machine: "sanderling-u24p", want: OK, shows: "Q = 96 gph", source: "the same", set: rush("40 gph", "1 h", "60 gph")},
	{id: "W-38", name: "a heater that recovers as fast as it gives", machine: "sanderling-u24p", want: OK, set: rush("120 gph", "8 h", "60 gph")},
	{id: "W-38", name: "in L/h", machine: "sanderling-u24p", want: Fix, set: rush("151 L/h", "4 h", "227 L/h")},
	{id: "W-38", name: "length not known", machine: "sanderling-u24p", want: Missing, set: rush("40 gph", "unknown", "60 gph")},
	{id: "W-38", name: "within the readings' uncertainty", machine: "sanderling-u24p", want: Confirm, set: over(rush("40 gph", "4 h", "20 gph"), set{"water.cold.winter_temperature": "50 ± 9 °F"})},
	{id: "W-38", name: "no store", machine: "sanderling-u24p", want: NA, set: over(rush("40 gph", "4 h", "60 gph"), set{"heater.storage": "0 gal"})},
}

// rush is a heater of 80 gal with a recovery, a rush and another draw.
func rush(recovery, length, draw string) set {
	return set{"heater.kind": "gas", "heater.storage": "80 gal", "heater.recovery": recovery, "heater.recovery_rise": "90 °F", "heater.set_point": "140 °F",
		"water.cold.winter_temperature": "50 ± 0 °F", "demand.rush": length, "heater.other_draws[0].name": "sink", "heater.other_draws[0].flow": draw}
}
