package rules

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"firstfill/survey/quantity"
)

// over lays more answers over a set.
func over(base set, more set) set {
	all := maps.Clone(base)
	maps.Copy(all, more)
	return all
}

// twoLines gives the same rows to the cold line's check and the hot line's.
// "LINE" in a path stands for the line's name.
func twoLines(coldID, hotID string, rows ...row) []row {
	var all []row
	for id, line := range map[string]string{coldID: "cold", hotID: "hot"} {
		put := func(s set) set {
			filled := set{}
			for path, text := range s {
				filled[strings.ReplaceAll(path, "LINE", line)] = text
			}
			return filled
		}
		for _, r := range rows {
			r.id, r.set = id, put(r.set)
			if r.spec != nil {
				r.spec = put(r.spec)
			}
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b row) int { return strings.Compare(a.id, b.id) })
	return all
}

// Sources of expected values outside this program.
const (
	codeElevation   = "IPC Appendix E E103.2.2 (confirmed in state and city copies): 20 ft at 0.433 psi/ft is 8.66 psi"
	irrigationTable = "irrigation tutorial, copper friction table (confirmed): 3/4 in type L at 4 gpm loses 2.05 psi/100 ft; C 140 gives 2.03"
	sprinklerCurve  = "sprinkler water-supply reference (confirmed): static 85, residual 72 psi at 1100 gpm, 20 psi left at 2623 gpm (printed 2618 from a rounded power); here a thousandth of both flows"
	copperSpeed     = "Copper Development Association guidance as an engineering reference repeats it (confirmed): cold 8, hot to 140 °F 5, above 2 to 3 ft/s"
	codeSpeed       = "IRC 2018 Appendix P note (confirmed): above 5 to 8 ft/s is not usually recommended"
	codeStatic      = "IPC 604.8 (80 psi confirmed)"
	cityStatic      = "an adopted city code 604.10.1.3 (confirmed): acts above 100 psi only"
	codeHotLength   = "code council journal on IPC 607.2 (confirmed): not greater than 50 ft"
	mixProblem      = "physics forum (confirmed): 3500 L at 40 °C from 10 and 100 °C takes 1166 L hot, a share of 33.3 %"
	foodCode        = "FDA Food Code 4-501.114 in state copies (temperatures confirmed, concentration column from memory)"
	electricGuide   = "water heater reference guide (confirmed): 4500 W from 40 to 120 °F recovers 23 gph"
	gasGuide        = "water heater recovery reference page (confirmed): 40,000 Btu/h at 0.80 from 50 to 120 °F recovers 54.88 gph"
	firstHourGuide  = "two first-hour guides (confirmed): 70 % of a 50 gal tank, 35 gal, leaves hot"
	softenerGuide   = "softener sizing forum (confirmed): 300 gal a day at 10 gpg is 3000 grains"
	gaugePractice   = "a gauge is believed before a tag that it belies: common practice, no source"
	wellPractice    = "a pressure switch of 40/60 psi swings between them: common practice, no source"
	insertTable     = "PEX installation manual, crimped brass fittings (read in a secondary text): 1/2 in elbow 9.4 ft, tee run 2.2, tee branch 10.4"
	upcClosed       = "UPC 2015 608.3 as an inspectors' forum quotes it (read in a secondary text): independent of the type of water heater used"
	ipcClosed       = "IPC 607.3 as a code forum quotes it (read in a secondary text): where a storage water heater is supplied"
	breakerHeight   = "12 in above the highest point downstream: ASSE 1020 and 1056 (from memory)"
	breakerIndoors  = "a code library on pressure vacuum breakers (read in a secondary text): indoors only where provisions for spillage are provided"
	reliefDrain     = "a city code's 608.13 (read in a secondary text): the relief opening shall discharge by air gap"
	coolingPipe     = "bare 3/4 in copper loses 60 W/m at 55 °C above the air (engineering reference table, read in a secondary text); Newton's law of cooling"
	changedOver     = "hot water can't be colder than the cold: derived"
	upcSpeeds       = "UPC 610.12 (from memory); an article on sizing (read in a secondary text): the codes' values are 5 ft/s hot, 8 ft/s cold"
	dishwasherList  = "ASSE 1004-2024 scope (confirmed)"
	usgsClasses     = "USGS hardness classes (confirmed)"
)

// inletBase is a run without any loss: what is read is what arrives.
var inletBase = set{"water.LINE.static_pressure": "62 ± 0 psi", "water.LINE.flowing_pressure": "40 ± 0 psi", "water.LINE.flow": "2.5 ± 0 gpm", "water.LINE.regulator": "0 psi",
	"water.LINE.pipe_material": "copper-L", "water.LINE.pipe_size": "3/4 in", "water.LINE.run_length": "0 ft", "water.LINE.elbows": "0", "water.LINE.elbows_45": "0",
	"water.LINE.tees_run": "0", "water.LINE.tees_branch": "0", "water.LINE.valves": "0", "water.LINE.rise": "0 ± 0 ft", "water.LINE.device_loss": "0 psi", "water.LINE.temperature": "60 ± 0 °F"}

var inletSpec = set{"water.LINE.flow": "2.5 gpm", "water.LINE.flowing_pressure_min": "20 psi", "water.LINE.flowing_pressure_max": "80 psi"}

// peakBase is a site whose heater has to give 26.4 gal, all by recovery: 24 gph
// of rinse and a fill of 2.4 gal.
var peakBase = set{"heater.kind": "gas", "heater.storage": "0 gal", "heater.other_draws": "[]", "heater.recovery": "26.4 gph", "heater.recovery_rise": "100 °F", "heater.set_point": "140 °F",
	"water.cold.winter_temperature": "40 ± 0 °F", "water.hot.temperature": "130 ± 0 °F"}

var softBase = set{"treatment.softener": "yes", "treatment.softener_days": "3", "treatment.softener_grains": "11250", "treatment.raw_hardness": "10 ± 0 gpg", "treatment.iron": "0 mg/L", "treatment.softener_others": "0 gal",
	"demand.hours_per_day": "10", "demand.fills_per_day": "0"}

var softSpec = set{"rinse.consumption": "30 gph"}

func floorRow(name, sanitizer, strength, pH, winter string, want Verdict, shows string) row {
	return row{id: "W-19", name: name, machine: "turnstone-u50", source: foodCode, want: want, shows: shows, set: set{"chemicals.sanitizer": sanitizer, "chemicals.concentration": strength,
		"chemicals.ph": pH, "water.cold.winter_temperature": winter}}
}

// still is a pair of static pressures without readings at flow.
func still(cold, hot string) set {
	return set{"water.cold.static_pressure": cold, "water.hot.static_pressure": hot, "water.cold.flowing_pressure": "unknown"}
}

func deviceRow(device string, want Verdict, have string) row {
	return row{name: device, set: set{"water.LINE.backflow": device}, want: want, have: have, source: dishwasherList}
}

func placedRow(name string, want Verdict, source string, answers set) row {
	return row{name: name, set: answers, want: want, source: source}
}

var waterRows = slices.Concat(
	twoLines("W-01", "W-02",
		row{name: "just below", set: set{"water.LINE.static_pressure": "94.9 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: OK},
		row{name: "at", set: set{"water.LINE.static_pressure": "95 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: OK, margin: "0 psi (0 kPa) below the limit"},
		row{name: "just above", set: set{"water.LINE.static_pressure": "95.1 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix},
		row{name: "above, read ahead of the regulator", set: set{"water.LINE.static_pressure": "104 ± 0 psi", "water.LINE.regulator": "60 ± 0 psi", "water.LINE.gauge_at": "before-regulator"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: OK, have: "60"},
		row{name: "above the tag, gauge's place not told", set: set{"water.LINE.static_pressure": "104 ± 0 psi", "water.LINE.regulator": "60 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix, have: "104", source: gaugePractice},
		row{name: "within the maximum, above the tag, gauge's place not told", set: set{"water.LINE.static_pressure": "80 ± 0 psi", "water.LINE.regulator": "60 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Confirm, have: "80", source: gaugePractice},
		row{name: "a regulator that lets through", set: set{"water.LINE.static_pressure": "104 ± 0 psi", "water.LINE.regulator": "60 ± 0 psi", "water.LINE.gauge_at": "behind-regulator"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix, have: "104", source: gaugePractice},
		row{name: "as the tag says, within the gauges", set: set{"water.LINE.static_pressure": "64 ± 0 psi", "water.LINE.regulator": "60 ± 0 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: OK},
		row{name: "a well that stops above the maximum", set: set{"water.LINE.static_pressure": "56 ± 0 psi", "water.well_cut_in": "40 psi", "water.well_cut_out": "96 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix, have: "96", source: wellPractice},
		row{name: "a well behind a regulator", set: set{"water.LINE.static_pressure": "50 ± 0 psi", "water.LINE.regulator": "50 ± 0 psi", "water.LINE.gauge_at": "behind-regulator", "water.well_cut_out": "96 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: OK, have: "50"},
		row{name: "regulator set above the limit", set: set{"water.LINE.static_pressure": "104 ± 0 psi", "water.LINE.regulator": "99 ± 0 psi", "water.LINE.gauge_at": "before-regulator"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix, have: "99"},
		row{name: "within the gauge's uncertainty", set: set{"water.LINE.static_pressure": "94 psi"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Confirm},
		row{name: "in bar", set: set{"water.LINE.static_pressure": "7 ± 0 bar"}, spec: set{"water.LINE.static_pressure_max": "95 psi"}, want: Fix},
		row{name: "no maximum on the sheet", spec: set{"water.LINE.static_pressure_max": "none"}, want: NA},
		row{name: "missing", set: set{"water.LINE.static_pressure": "unknown"}, want: Missing},
	),
	twoLines("W-03", "W-04",
		row{name: "just below", set: set{"water.LINE.static_pressure": "79.9 ± 0 psi", "codes.pressure_limit": "unknown"}, source: codeStatic, want: OK},
		row{name: "at", set: set{"water.LINE.static_pressure": "80 ± 0 psi", "codes.pressure_limit": "unknown"}, source: codeStatic, want: OK},
		row{name: "just above", set: set{"water.LINE.static_pressure": "80.1 ± 0 psi", "codes.pressure_limit": "unknown"}, source: codeStatic, want: Fix},
		row{name: "just above in kPa", set: set{"water.LINE.static_pressure": "552 ± 0 kPa", "codes.pressure_limit": "unknown"}, source: codeStatic, want: Fix},
		row{name: "only a well's swing takes it above", set: set{"water.cold.static_pressure": "70 ± 0 psi", "water.hot.static_pressure": "70 ± 0 psi", "water.well_cut_in": "60 psi", "water.well_cut_out": "85 psi", "codes.pressure_limit": "unknown"}, want: Fix, have: "85", source: wellPractice},
		row{name: "the machine's own regulator doesn't count", set: set{"water.LINE.static_pressure": "90 ± 0 psi", "water.LINE.regulator": "50 psi", "codes.pressure_limit": "unknown"}, want: Fix},
		row{name: "local limit", set: set{"water.LINE.static_pressure": "99 ± 0 psi", "codes.pressure_limit": "100 psi"}, source: cityStatic, want: OK},
		row{name: "a pressure that can't be", set: set{"water.LINE.static_pressure": "427 psi", "codes.pressure_limit": "unknown"}, want: Fix, have: "427"},
		row{name: "a flowing pressure far above the static one", set: set{"water.LINE.static_pressure": "90 psi", "water.LINE.flowing_pressure": "120 psi", "codes.pressure_limit": "unknown"}, want: Fix},
		row{name: "above a tag is above the limit either way", set: set{"water.LINE.static_pressure": "90 ± 0 psi", "water.LINE.regulator": "50 psi", "water.LINE.gauge_at": "behind-regulator", "codes.pressure_limit": "unknown"}, want: Fix},
		row{name: "a well that stops above the limit", set: set{"water.LINE.static_pressure": "62 ± 0 psi", "water.well_cut_out": "81 psi", "codes.pressure_limit": "unknown"}, want: Fix, have: "81", source: wellPractice},
		row{name: "within the gauge's uncertainty", set: set{"water.LINE.static_pressure": "79 ± 2 psi", "codes.pressure_limit": "unknown"}, want: Confirm},
		row{name: "missing", set: set{"water.LINE.static_pressure": "unknown"}, want: Missing},
	),
	twoLines("W-05", "W-06",
		row{name: "just below", set: over(inletBase, set{"water.LINE.flowing_pressure": "19.9 ± 0 psi"}), spec: inletSpec, want: Fix},
		row{name: "at", set: over(inletBase, set{"water.LINE.flowing_pressure": "20 ± 0 psi"}), spec: inletSpec, want: OK, margin: "0 psi (0 kPa) to spare"},
		row{name: "just above", set: over(inletBase, set{"water.LINE.flowing_pressure": "20.1 ± 0 psi"}), spec: inletSpec, want: OK},
		row{name: "at the maximum", set: over(inletBase, set{"water.LINE.static_pressure": "90 ± 0 psi", "water.LINE.flowing_pressure": "80 ± 0 psi"}), spec: inletSpec, want: OK},
		row{name: "over the maximum", set: over(inletBase, set{"water.LINE.static_pressure": "90 ± 0 psi", "water.LINE.flowing_pressure": "80.1 ± 0 psi"}), spec: inletSpec, want: Fix},
		row{name: "in bar", set: over(inletBase, set{"water.LINE.flowing_pressure": "1.4 ± 0 bar"}), spec: inletSpec, want: OK, have: "20.3 psi"},
		row{name: "within the gauge's uncertainty", set: over(inletBase, set{"water.LINE.flowing_pressure": "21 ± 2 psi"}), spec: inletSpec, want: Confirm},
		row{name: "rise", set: over(inletBase, set{"water.LINE.rise": "20 ± 0 ft"}), spec: inletSpec, want: OK, shows: "p_z = 8.66 psi", source: codeElevation},
		row{name: "friction", set: over(inletBase, set{"water.LINE.flow": "4 ± 0 gpm", "water.LINE.run_length": "100 ± 0 ft"}), spec: over(inletSpec, set{"water.LINE.flow": "4 gpm"}), want: OK, shows: "p_f = 2.03 psi", source: irrigationTable},
		row{name: "too much friction", set: over(inletBase, set{"water.LINE.run_length": "200 ± 0 ft", "water.LINE.pipe_size": "1/2 in", "water.LINE.flow": "4 ± 0 gpm"}), spec: over(inletSpec, set{"water.LINE.flow": "4 gpm"}), want: Fix},
		row{name: "curve", set: over(inletBase, set{"water.LINE.static_pressure": "85 ± 0 psi", "water.LINE.flowing_pressure": "72 ± 0 psi", "water.LINE.flow": "1.1 ± 0 gpm"}), spec: over(inletSpec, set{"water.LINE.flow": "2.6232 gpm", "water.LINE.flowing_pressure_min": "19 psi"}),
			want: Confirm, shows: "p_Q = 20 psi", source: sprinklerCurve},
		row{name: "read at less than the machine draws", set: over(inletBase, set{"water.LINE.flow": "1.5 ± 0 gpm", "water.LINE.flowing_pressure": "58 ± 0 psi"}), spec: inletSpec, want: Confirm},
		row{name: "flow beyond the curve", set: over(inletBase, set{"water.LINE.flow": "0.5 ± 0 gpm"}), spec: inletSpec, want: Fix, have: "0 psi"},
		row{name: "no drop seen", set: over(inletBase, set{"water.LINE.flowing_pressure": "62 ± 0 psi"}), spec: inletSpec, want: OK, shows: "p_Q = 62 psi"},
		row{name: "readings contradict each other", set: over(inletBase, set{"water.LINE.flowing_pressure": "70 ± 0 psi"}), spec: inletSpec, want: Confirm, have: "70"},
		row{name: "regulator caps", set: over(inletBase, set{"water.LINE.regulator": "30 ± 0 psi", "water.LINE.gauge_at": "before-regulator", "water.LINE.regulator_fall_off": "0 psi"}), spec: inletSpec, want: OK, shows: "p_r = 30 psi"},
		row{name: "regulator falls off", set: over(inletBase, set{"water.LINE.regulator": "30 ± 0 psi", "water.LINE.gauge_at": "before-regulator", "water.LINE.regulator_fall_off": "11 psi"}), spec: inletSpec, want: Fix, have: "19"},
		row{name: "fall-off not known, either way enough", set: over(inletBase, set{"water.LINE.regulator": "30 ± 0 psi", "water.LINE.gauge_at": "before-regulator"}), spec: inletSpec, want: OK, shows: "p_fall = 20 psi (138 kPa)"},
		row{name: "fall-off not known decides", set: over(inletBase, set{"water.LINE.regulator": "29 ± 0 psi", "water.LINE.gauge_at": "before-regulator"}), spec: inletSpec, want: Confirm},
		row{name: "above the tag, which decides", set: over(inletBase, set{"water.LINE.regulator": "15 ± 0 psi"}), spec: inletSpec, want: Confirm, source: gaugePractice},
		row{name: "regulator too low", set: over(inletBase, set{"water.LINE.regulator": "19.9 ± 0 psi", "water.LINE.gauge_at": "before-regulator"}), spec: inletSpec, want: Fix},
		row{name: "read behind a regulator at less than the machine draws", set: over(inletBase, set{"water.LINE.regulator": "62 ± 0 psi", "water.LINE.flow": "2 ± 0 gpm"}), spec: inletSpec, want: Confirm},
		row{name: "read in the morning, the bar not told", set: over(inletBase, set{"water.read_busy": "unknown", "water.read_at": "Tuesday 10:00"}), spec: inletSpec, want: Confirm, action: "say whether"},
		row{name: "nothing told of when it was read", set: over(inletBase, set{"water.read_busy": "unknown", "water.read_at": "unknown"}), spec: inletSpec, want: Confirm, action: "say whether"},
		row{name: "read in the evening", set: over(inletBase, set{"water.read_busy": "unknown", "water.read_at": "Friday 19:30"}), spec: inletSpec, want: OK},
		row{name: "read at 8 pm", set: over(inletBase, set{"water.read_busy": "unknown", "water.read_at": "8 pm"}), spec: inletSpec, want: OK},
		row{name: "above the tag, whose fall-off decides", set: over(inletBase, set{"water.LINE.regulator": "25 ± 0 psi"}), spec: inletSpec, want: Confirm, shows: "p_tag = 15 psi (103 kPa)", source: "a fall-off of 10 psi: common practice, no source"},
		row{name: "readings of a closed bar", set: over(inletBase, set{"water.read_busy": "no"}), spec: inletSpec, want: Confirm},
		row{name: "readings of a closed bar, as told", set: over(inletBase, set{"water.read_busy": "unknown", "water.read_at": "Tuesday 10:00, bar closed"}), spec: inletSpec, want: Confirm},
		row{name: "a closed bar's reading that fails already", set: over(inletBase, set{"water.read_busy": "no", "water.LINE.flowing_pressure": "19 ± 0 psi"}), spec: inletSpec, want: Fix},
		row{name: "a well that starts too low", set: over(inletBase, set{"water.well_cut_in": "41.9 psi", "water.well_cut_out": "62 psi"}), spec: inletSpec, want: Fix, have: "19.9", source: wellPractice},
		row{name: "a well that starts high enough", set: over(inletBase, set{"water.well_cut_in": "42 psi", "water.well_cut_out": "62 psi"}), spec: inletSpec, want: OK, shows: "p_in = 20 psi (138 kPa)", source: wellPractice},
		row{name: "a well that stops too high", set: over(inletBase, set{"water.well_cut_out": "103 psi"}), spec: inletSpec, want: Fix, have: "81", source: wellPractice},
		row{name: "behind an air gap, no pump", set: over(inletBase, set{"water.LINE.backflow": "air-gap", "water.LINE.break_tank": "no"}), spec: inletSpec, want: Fix, have: "nothing"},
		row{name: "behind an air gap, pump not told", set: over(inletBase, set{"water.LINE.backflow": "air-gap"}), spec: inletSpec, want: Confirm},
		row{name: "behind an air gap with its pump", set: over(inletBase, set{"water.LINE.backflow": "air-gap", "water.LINE.break_tank": "yes"}), spec: inletSpec, want: OK},
		row{name: "hot and cold together decide", set: over(inletBase, set{"water.read_together": "no"}), spec: inletSpec, want: Confirm, shows: "p_2 = 0 psi (0 kPa)"},
		row{name: "hot and cold together, either way enough", set: over(inletBase, set{"water.read_together": "unknown", "water.LINE.flow": "5 ± 0 gpm"}), spec: inletSpec, want: OK, shows: "p_2 = 40 psi (276 kPa)"},
		row{name: "fittings not counted, usual", set: over(inletBase, set{"water.LINE.elbows": "unknown", "water.LINE.run_length": "100 ± 0 ft", "water.LINE.crooked": "usual"}), spec: inletSpec, want: OK, shows: "L_fit = 50 ft", source: "50 % of the run, common practice, no source"},
		row{name: "fittings not counted, a short run", set: over(inletBase, set{"water.LINE.elbows": "unknown", "water.LINE.run_length": "2 ± 0 ft", "water.LINE.crooked": "straight"}), spec: inletSpec, want: OK, shows: "L_fit = 7 ft", source: "two elbows of 2 ft and a branch tee of 3 ft, a ball valve of nothing: IPC Appendix E, soldered fittings of 3/4 in, testdata/reference/fittings_solder.csv"},
		row{name: "fittings not counted, and they decide", set: over(inletBase, set{"water.LINE.elbows": "unknown", "water.LINE.run_length": "100 ± 0 ft", "water.LINE.crooked": "crooked", "water.LINE.pipe_size": "1/2 in", "water.LINE.flowing_pressure": "28 ± 0 psi"}), spec: inletSpec, want: Confirm, action: "count the elbows"},
		row{name: "fittings not counted, too little without any", set: over(inletBase, set{"water.LINE.elbows": "unknown", "water.LINE.run_length": "100 ± 0 ft", "water.LINE.crooked": "straight", "water.LINE.flowing_pressure": "21 ± 0 psi", "water.LINE.pipe_size": "1/2 in"}), spec: inletSpec, want: Fix},
		row{name: "neither counted nor looked at", set: over(inletBase, set{"water.LINE.elbows": "unknown"}), spec: inletSpec, want: Missing, have: ""},
		row{name: "insert fittings", set: over(inletBase, set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in", "water.LINE.pipe_fittings": "insert", "water.LINE.elbows": "10"}), spec: inletSpec, want: OK, shows: "L_fit = 94 ft", source: insertTable},
		row{name: "insert fittings decide, not told", set: over(inletBase, set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in", "water.LINE.elbows": "20", "water.LINE.flowing_pressure": "28 ± 0 psi"}), spec: inletSpec, want: Confirm, source: insertTable},
		row{name: "insert fittings lose too much", set: over(inletBase, set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in", "water.LINE.pipe_fittings": "insert", "water.LINE.elbows": "20", "water.LINE.flowing_pressure": "28 ± 0 psi"}), spec: inletSpec, want: Fix, source: insertTable},
		row{name: "full-bore fittings", set: over(inletBase, set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in", "water.LINE.pipe_fittings": "full-bore", "water.LINE.elbows": "20", "water.LINE.flowing_pressure": "28 ± 0 psi"}), spec: inletSpec, want: OK},
		row{name: "a size without a table", set: over(inletBase, set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "2 in"}), spec: inletSpec, want: Confirm},
		row{name: "the sheet states no flow", set: inletBase, spec: set{"water.LINE.flow": "unknown"}, want: Missing, have: "sheet"},
		row{name: "the sheet sets no range", spec: set{"water.LINE.flowing_pressure_min": "none", "water.LINE.flowing_pressure_max": "none"}, want: NA},
		row{name: "missing", set: set{"water.LINE.flow": "unknown"}, want: Missing},
	),
	twoLines("W-07", "W-08",
		row{name: "plastic, cautious", set: set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in"}, spec: set{"water.LINE.flow": "2.7 gpm"}, want: OK, source: codeSpeed},
		row{name: "plastic, between", set: set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in"}, spec: set{"water.LINE.flow": "2.8 gpm"}, want: Confirm, source: codeSpeed},
		row{name: "plastic, too fast", set: set{"water.LINE.pipe_material": "pex", "water.LINE.pipe_size": "1/2 in"}, spec: set{"water.LINE.flow": "4.5 gpm"}, want: Confirm, source: codeSpeed},
		row{name: "missing", set: set{"water.LINE.pipe_size": "unknown"}, want: Missing},
		row{name: "the sheet states no flow", spec: set{"water.LINE.flow": "unknown"}, want: Missing},
	),
	[]row{
		{id: "W-01", name: "a cold regulator that lets through less than the machine bears", set: set{"water.cold.static_pressure": "80 ± 0 psi", "water.cold.regulator": "60 ± 0 psi", "water.cold.gauge_at": "behind-regulator"}, want: Fix, have: "80", action: "reset or replace", source: gaugePractice},
		{id: "W-02", name: "a hot one, which the heater may lift", set: set{"water.hot.static_pressure": "80 ± 0 psi", "water.hot.regulator": "60 ± 0 psi", "water.hot.gauge_at": "behind-regulator"}, want: Confirm, have: "80", action: "thermal-expansion", source: gaugePractice},
		{id: "W-07", name: "copper just below", set: set{"water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "1/2 in"}, spec: set{"water.cold.flow": "5.816 gpm"}, want: OK, source: copperSpeed},
		{id: "W-07", name: "copper at", set: set{"water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "1/2 in"}, spec: set{"water.cold.flow": "5.8169239975 gpm"}, want: OK, shows: "v = 8 ft/s", source: copperSpeed},
		{id: "W-07", name: "copper just above", set: set{"water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "1/2 in"}, spec: set{"water.cold.flow": "5.818 gpm"}, want: Confirm, source: copperSpeed},
		{id: "W-07", name: "in L/min and DN", set: set{"water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "DN 15"}, spec: set{"water.cold.flow": "23 L/min"}, want: Confirm, source: copperSpeed},
		{id: "W-08", name: "copper just below", set: set{"water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "140 °F"}, spec: set{"water.hot.flow": "3.635 gpm"}, want: OK, source: copperSpeed},
		{id: "W-08", name: "copper just above", set: set{"water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "60 °C"}, spec: set{"water.hot.flow": "3.636 gpm"}, want: Confirm, source: copperSpeed},
		{id: "W-08", name: "hotter, slow", set: set{"water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "150 °F"}, spec: set{"water.hot.flow": "1.45 gpm"}, want: OK, source: copperSpeed},
		{id: "W-08", name: "hotter, between", set: set{"water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "150 °F"}, spec: set{"water.hot.flow": "1.5 gpm"}, want: Confirm, source: copperSpeed},
		{id: "W-08", name: "hotter, too fast", set: set{"water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "150 °F"}, spec: set{"water.hot.flow": "2.2 gpm"}, want: Confirm, source: copperSpeed},
		{id: "W-07", name: "copper under the UPC, at", set: set{"codes.plumbing": "upc", "water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "1/2 in"}, spec: set{"water.cold.flow": "5.8169239975 gpm"}, want: OK, source: upcSpeeds},
		{id: "W-07", name: "copper under the UPC, just above", set: set{"codes.plumbing": "upc", "water.cold.pipe_material": "copper-L", "water.cold.pipe_size": "1/2 in"}, spec: set{"water.cold.flow": "5.818 gpm"}, want: Fix, source: upcSpeeds},
		{id: "W-08", name: "copper under the UPC, just above", set: set{"codes.plumbing": "upc", "water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "140 °F"}, spec: set{"water.hot.flow": "3.636 gpm"}, want: Fix, source: upcSpeeds},
		{id: "W-08", name: "hotter copper under the UPC, by guidance alone", set: set{"codes.plumbing": "upc", "water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "1/2 in", "heater.set_point": "150 °F"}, spec: set{"water.hot.flow": "2.2 gpm"}, want: Confirm, source: copperSpeed},
		{id: "W-08", name: "temperature unknown", set: set{"heater.set_point": "unknown", "water.hot.temperature": "unknown"}, want: Missing},
	},
	twoLines("W-09", "W-10",
		row{name: "just below", set: set{"water.LINE.pipe_size": "3/8 in"}, spec: set{"water.LINE.pipe_size": "1/2 in"}, want: Fix},
		row{name: "at", set: set{"water.LINE.pipe_size": "1/2 in"}, spec: set{"water.LINE.pipe_size": "1/2 in"}, want: OK},
		row{name: "just above", set: set{"water.LINE.pipe_size": "5/8 in"}, spec: set{"water.LINE.pipe_size": "1/2 in"}, want: OK},
		row{name: "at in DN", set: set{"water.LINE.pipe_size": "DN 15"}, spec: set{"water.LINE.pipe_size": "1/2 in"}, want: OK},
		row{name: "no size on the sheet", spec: set{"water.LINE.pipe_size": "none"}, want: NA},
		row{name: "missing", set: set{"water.LINE.pipe_size": "unknown"}, want: Missing},
	),
	[]row{
		{id: "W-11", name: "copper", set: set{"water.hot.pipe_material": "copper-M"}, want: OK},
		{id: "W-11", name: "pvc", set: set{"water.hot.pipe_material": "pvc"}, want: Fix, source: "ASTM D1785 (from memory)"},
		{id: "W-11", name: "pex just below", set: set{"water.hot.pipe_material": "pex", "heater.set_point": "179.9 °F"}, want: OK, source: "ASTM F876 (from memory)"},
		{id: "W-11", name: "pex at", set: set{"water.hot.pipe_material": "pex", "heater.set_point": "180 °F"}, want: OK},
		{id: "W-11", name: "pex just above", set: set{"water.hot.pipe_material": "pex", "heater.set_point": "180.1 °F"}, want: Fix},
		{id: "W-11", name: "cpvc in °C", set: set{"water.hot.pipe_material": "cpvc", "water.hot.temperature": "83 ± 0 °C", "heater.set_point": "83 ± 0 °C"}, want: Fix},
		{id: "W-11", name: "within the thermometer's uncertainty", set: set{"water.hot.pipe_material": "pex", "water.hot.temperature": "179 ± 2 °F"}, want: Confirm},
		{id: "W-11", name: "missing", set: set{"water.hot.pipe_material": "unknown"}, want: Missing},
		{id: "W-11", name: "no hot water taken", machine: "turnstone-u50", want: NA},

		{id: "W-12", name: "just below", set: set{"water.hot.from_heater": "49.9 ± 0 ft"}, want: OK, source: codeHotLength},
		{id: "W-12", name: "at", set: set{"water.hot.from_heater": "50 ± 0 ft"}, want: OK, source: codeHotLength, shows: "V = 1.26 gal"},
		{id: "W-12", name: "just above", set: set{"water.hot.from_heater": "50.1 ± 0 ft"}, want: Fix, source: codeHotLength},
		{id: "W-12", name: "just above in m", set: set{"water.hot.from_heater": "15.3 ± 0 m"}, want: Fix, source: codeHotLength},
		{id: "W-12", name: "within the tape's uncertainty", set: set{"water.hot.from_heater": "49.5 ± 1 ft"}, want: Confirm},
		{id: "W-12", name: "long under another code", set: set{"water.hot.from_heater": "60 ± 0 ft", "codes.plumbing": "upc"}, want: Confirm},
		{id: "W-12", name: "long, code unknown", set: set{"water.hot.from_heater": "60 ± 0 ft", "codes.plumbing": "unknown"}, want: Missing},
		{id: "W-12", name: "a cycle's water cools in the pipe between cycles", machine: "sanderling-u24p", set: set{"water.hot.from_heater": "45 ± 0 ft", "demand.peak_glasses_per_hour": "90"}, want: Confirm, shows: "t_c = 16.7 min"},
		{id: "W-12", name: "a cycle's water stays warm in the rush", machine: "sanderling-u24p", set: set{"water.hot.from_heater": "45 ± 0 ft", "water.hot.temperature": "140 ± 0 °F", "space.room_temperature": "72 ± 0 °F"}, want: OK, shows: "V/V_cycle = 141.4 %", source: "45 ft of 0.02514 gal/ft, by geometry, over 0.8 gal"},
		{id: "W-12", name: "nearly a cycle's water cools", machine: "sanderling-u24p", set: set{"water.hot.from_heater": "31 ± 0 ft", "demand.peak_glasses_per_hour": "90", "space.room_temperature": "72 ± 0 °F"}, want: Confirm, shows: "t_in = 96.3 °F (35.7 °C)", source: coolingPipe},
		{id: "W-12", name: "a little of a cycle's water cools", machine: "sanderling-u24p", set: set{"water.hot.from_heater": "5 ± 0 ft", "demand.peak_glasses_per_hour": "90"}, want: OK},
		{id: "W-12", name: "a booster's feed cools in the pipe, in °C and m", machine: "dunlin-u24", set: set{"water.hot.from_heater": "14 ± 0 m", "water.hot.temperature": "55 ± 0 °C", "demand.peak_glasses_per_hour": "75"}, want: Confirm, action: "insulate"},
		{id: "W-12", name: "missing", set: set{"water.hot.from_heater": "unknown"}, want: Missing},

		{id: "W-13", name: "winter just below", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "12.9 ± 0 °C"}, want: Fix},
		{id: "W-13", name: "winter at", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "13 ± 0 °C"}, want: OK},
		{id: "W-13", name: "winter just above", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "13.1 ± 0 °C"}, want: OK},
		{id: "W-13", name: "summer at", machine: "turnstone-u50", set: set{"water.cold.summer_temperature": "30 ± 0 °C"}, want: OK},
		{id: "W-13", name: "summer above", machine: "turnstone-u50", set: set{"water.cold.summer_temperature": "86.1 ± 0 °F"}, want: Fix},
		{id: "W-13", name: "today colder than the winter answered", machine: "turnstone-u50", set: set{"water.cold.temperature": "10 ± 0 °C"}, want: Fix, have: "10"},
		{id: "W-13", name: "within the thermometer's uncertainty", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "14 ± 2 °C"}, want: Confirm},
		{id: "W-13", name: "only the low end on the sheet", machine: "turnstone-u50", set: set{"water.cold.summer_temperature": "unknown"}, spec: set{"water.cold.temperature_max": "unknown"}, want: OK},
		{id: "W-13", name: "missing", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "unknown"}, want: Missing},

		{id: "W-14", name: "just below", set: set{"water.hot.temperature": "109.9 ± 0 °F"}, want: Fix},
		{id: "W-14", name: "at", set: set{"water.hot.temperature": "110 ± 0 °F"}, want: OK},
		{id: "W-14", name: "just above", set: set{"water.hot.temperature": "110.1 ± 0 °F"}, want: OK},
		{id: "W-14", name: "at the maximum", set: set{"water.hot.temperature": "150 ± 0 °F"}, want: OK},
		{id: "W-14", name: "over the maximum in °C", set: set{"water.hot.temperature": "65.6 ± 0 °C", "heater.set_point": "66 °C"}, want: Fix},
		{id: "W-14", name: "hot and cold changed over", set: set{"water.hot.temperature": "58 ± 0 °F", "water.cold.temperature": "130 ± 0 °F"}, want: Fix, action: "reading in doubt", source: changedOver},
		{id: "W-14", name: "hotter than its heater", set: set{"water.hot.temperature": "155 ± 0 °F", "heater.set_point": "140 °F"}, want: Fix, action: "reading in doubt", source: "thermostats swing by 10 °F: common practice, no source"},
		{id: "W-14", name: "within the thermometer's uncertainty", set: set{"water.hot.temperature": "112 ± 3 °F"}, want: Confirm},
		{id: "W-14", name: "missing", set: set{"water.hot.temperature": "unknown"}, want: Missing},

		{id: "W-15", name: "just below", machine: "dunlin-u24", set: set{"water.hot.temperature": "119.9 ± 0 °F"}, want: Fix},
		{id: "W-15", name: "at", machine: "dunlin-u24", set: set{"water.hot.temperature": "120 ± 0 °F", "power.line_to_line": "208 ± 0 V"}, want: OK, shows: "t + Δt = 180 °F (82.2 °C)", source: "FDA Food Code 4-501.112 (confirmed): 180 °F at the manifold"},
		{id: "W-15", name: "just above", machine: "dunlin-u24", set: set{"water.hot.temperature": "120.1 ± 0 °F", "power.line_to_line": "208 ± 0 V"}, want: OK},
		{id: "W-15", name: "in °C", machine: "dunlin-u24", set: set{"water.hot.temperature": "48 ± 0 °C"}, want: Fix},
		{id: "W-15", name: "from the rise alone", machine: "dunlin-u24", set: set{"water.hot.temperature": "119.9 ± 0 °F"}, spec: set{"rinse.booster_feed_min": "unknown"}, want: Fix},
		{id: "W-15", name: "within the thermometer's uncertainty", machine: "dunlin-u24", set: set{"water.hot.temperature": "121 ± 3 °F"}, want: Confirm},
		{id: "W-15", name: "no booster", want: NA},
		{id: "W-15", name: "missing", machine: "dunlin-u24", set: set{"water.hot.temperature": "unknown"}, want: Missing},

		{id: "W-16", name: "published mix", set: set{"water.cold.winter_temperature": "10 ± 0 °C", "water.hot.temperature": "100 ± 0 °C"}, spec: set{"rinse.temperature": "40 °C"}, want: OK, shows: "h = 33.3 %", source: mixProblem},
		{id: "W-16", name: "hot at the target", set: set{"water.hot.temperature": "75 ± 0 °F"}, want: OK, shows: "h = 100.0 %"},
		{id: "W-16", name: "hot just below, in the sheet's range", set: set{"water.hot.temperature": "74.9 ± 0 °F"}, want: Confirm},
		{id: "W-16", name: "hot just above", set: set{"water.hot.temperature": "75.1 ± 0 °F"}, want: OK},
		{id: "W-16", name: "hot below the sheet's range", set: set{"water.hot.temperature": "67.9 ± 0 °F"}, want: Fix},
		{id: "W-16", name: "hot colder than the cold, in °C", set: set{"water.hot.temperature": "8 ± 0 °C"}, want: Fix, have: "cold"},
		{id: "W-16", name: "within the thermometer's uncertainty", set: set{"water.hot.temperature": "69 ± 3 °F"}, want: Confirm},
		{id: "W-16", name: "the sheet states no target", spec: set{"rinse.temperature": "unknown"}, want: Missing},
		{id: "W-16", name: "no mixing", machine: "dunlin-u24", want: NA},
		{id: "W-16", name: "missing", set: set{"water.cold.winter_temperature": "unknown"}, want: Missing},

		{id: "W-17", name: "published mix", set: set{"water.cold.summer_temperature": "10 ± 0 °C", "water.hot.temperature": "100 ± 0 °C"}, spec: set{"rinse.temperature": "40 °C"}, want: OK, shows: "h = 33.3 %", source: mixProblem},
		{id: "W-17", name: "cold just below", set: set{"water.cold.summer_temperature": "74.9 ± 0 °F"}, want: OK},
		{id: "W-17", name: "cold at the target", set: set{"water.cold.summer_temperature": "75 ± 0 °F"}, want: OK, shows: "h = 0.0 %"},
		{id: "W-17", name: "cold just above, in the sheet's range", set: set{"water.cold.summer_temperature": "75.1 ± 0 °F"}, want: Confirm},
		{id: "W-17", name: "cold at the end of the sheet's range", set: set{"water.cold.summer_temperature": "85 ± 0 °F"}, want: Confirm},
		{id: "W-17", name: "cold above the sheet's range", set: set{"water.cold.summer_temperature": "85.1 ± 0 °F"}, want: Fix},
		{id: "W-17", name: "in °C", set: set{"water.cold.summer_temperature": "30 ± 0 °C"}, want: Fix},
		{id: "W-17", name: "within the thermometer's uncertainty", set: set{"water.cold.summer_temperature": "84 ± 3 °F"}, want: Confirm},
		{id: "W-17", name: "missing", set: set{"water.cold.summer_temperature": "unknown"}, want: Missing},

		{id: "W-18", name: "just below", spec: set{"wash.temperature": "146.9 °F", "rinse.temperature_min": "unknown"}, want: OK, source: "common practice, no source; 40 °C (72 °F) below ASTM C149's usual 42 °C (from memory)"},
		{id: "W-18", name: "at", spec: set{"wash.temperature": "147 °F", "rinse.temperature_min": "unknown"}, want: OK, shows: "Δt = 72 °F"},
		{id: "W-18", name: "just above", spec: set{"wash.temperature": "147.1 °F", "rinse.temperature_min": "unknown"}, want: Confirm},
		{id: "W-18", name: "what the sheet itself accepts", spec: set{"wash.temperature": "150 °F", "rinse.temperature_min": "68 °F"}, want: OK, shows: "Δt_max = 82 °F"},
		{id: "W-18", name: "hot too cool for the mix", set: set{"water.hot.temperature": "66 ± 0 °F"}, want: Confirm},
		{id: "W-18", name: "cold rinse in °C", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "12.9 ± 0 °C"}, want: Confirm},
		{id: "W-18", name: "hot rinse", machine: "dunlin-u24", want: NA},
		{id: "W-18", name: "missing", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "unknown"}, want: Missing},
	},
	[]row{
		floorRow("chlorine 50 mg/L, pH 8, just below", "chlorine", "50 ± 0 mg/L", "8", "74.9 ± 0 °F", Fix, "t_min = 75 °F (23.9 °C)"),
		floorRow("chlorine 50 mg/L, pH 8, at", "chlorine", "50 ± 0 mg/L", "8", "75 ± 0 °F", OK, "t_min = 75 °F (23.9 °C)"),
		floorRow("chlorine 50 mg/L, pH 8, just above", "chlorine", "50 ± 0 mg/L", "8", "75.1 ± 0 °F", OK, "t_min = 75 °F (23.9 °C)"),
		floorRow("chlorine 50 mg/L, pH 8.1", "chlorine", "50 ± 0 mg/L", "8.1", "80 ± 0 °F", Fix, "t_min = 100 °F (37.8 °C)"),
		floorRow("chlorine 49 mg/L", "chlorine", "49 ± 0 mg/L", "7", "80 ± 0 °F", Fix, "t_min = 120 °F (48.9 °C)"),
		floorRow("chlorine 100 mg/L", "chlorine", "100 ± 0 mg/L", "10", "13 ± 0 °C", OK, "t_min = 55 °F (12.8 °C)"),
		floorRow("chlorine 100 mg/L, colder", "chlorine", "100 ± 0 mg/L", "10", "12.7 ± 0 °C", Fix, "t_min = 55 °F (12.8 °C)"),
		floorRow("chlorine 24 mg/L", "chlorine", "24 ± 0 mg/L", "7", "80 ± 0 °F", Fix, ""),
		floorRow("chlorine at pH 10.1", "chlorine", "100 ± 0 mg/L", "10.1", "80 ± 0 °F", Fix, ""),
		floorRow("strength within the strip's uncertainty", "chlorine", "105 ± 10 mg/L", "7", "60 ± 0 °F", Confirm, ""),
		floorRow("iodine just below", "iodine", "18 mg/L", "4.6", "67.9 ± 0 °F", Fix, "t_min = 68 °F (20 °C)"),
		floorRow("iodine at", "iodine", "18 mg/L", "4.6", "20 ± 0 °C", OK, "t_min = 68 °F (20 °C)"),
		floorRow("quat just below", "quat", "200 mg/L", "7", "74.9 ± 0 °F", Fix, "t_min = 75 °F (23.9 °C)"),
		floorRow("quat at", "quat", "200 mg/L", "7", "75 ± 0 °F", OK, ""),
		floorRow("none", "none", "75 mg/L", "7", "75 ± 0 °F", Fix, ""),
		floorRow("missing strength", "chlorine", "unknown", "7", "75 ± 0 °F", Missing, ""),
		floorRow("missing pH", "chlorine", "75 mg/L", "unknown", "75 ± 0 °F", Missing, ""),
		floorRow("missing sanitizer", "unknown", "75 mg/L", "7", "75 ± 0 °F", Missing, ""),
		{id: "W-19", name: "mixed rinse", set: set{"chemicals.sanitizer": "iodine"}, want: OK, shows: "t_rinse = 75 °F (23.9 °C)"},
		{id: "W-19", name: "hot rinse", machine: "godwit-c44", set: set{"water.hot.temperature": "140 ± 0 °F"}, want: OK, shows: "t_rinse = 140 ± 0 °F (60 °C)"},
		{id: "W-19", name: "sanitizes with hot water", machine: "dunlin-u24", want: NA},

		{id: "W-20", name: "just below", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "26.3 gph"}), want: Fix},
		{id: "W-20", name: "at", machine: "sanderling-u24p", set: peakBase, want: OK, margin: "0 gal (0 L) to spare"},
		{id: "W-20", name: "just above", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "26.5 gph"}), want: OK},
		{id: "W-20", name: "in L/h", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "99 L/h"}), want: Fix},
		{id: "W-20", name: "within the thermometer's uncertainty", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "26.5 gph", "water.cold.winter_temperature": "40 ± 3 °F"}), want: Confirm},
		{id: "W-20", name: "electric recovery", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "electric", "heater.recovery": "unknown", "heater.input": "4500 W", "heater.efficiency": "1", "heater.set_point": "120 °F"}), want: Fix, shows: "R = 23 gph", source: electricGuide},
		{id: "W-20", name: "gas recovery", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "unknown", "heater.input": "40000 Btu/h", "heater.efficiency": "0.80", "heater.set_point": "120 °F", "water.cold.winter_temperature": "50 ± 0 °F"}),
			want: OK, shows: "R = 54.9 gph", source: gasGuide},
		{id: "W-20", name: "usable storage", machine: "sanderling-u24p", set: over(peakBase, set{"heater.storage": "50 gal", "heater.recovery": "30 gph"}), want: OK, shows: "V = 65 gal", source: firstHourGuide},
		{id: "W-20", name: "efficiency assumed", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "unknown", "heater.input": "40000 Btu/h", "heater.efficiency": "unknown"}), want: OK, shows: "η = 0.8"},
		{id: "W-20", name: "a heat pump's input says nothing", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "heat-pump", "heater.recovery": "unknown", "heater.efficiency": "unknown"}), want: Missing},
		{id: "W-20", name: "an efficiency above 1", machine: "sanderling-u24p", set: over(peakBase, set{"heater.recovery": "unknown", "heater.input": "9 kW", "heater.efficiency": "3.2"}), want: Confirm},
		{id: "W-20", name: "set point below the cold water", machine: "sanderling-u24p", set: over(peakBase, set{"heater.set_point": "100 °F", "water.cold.winter_temperature": "101 ± 0 °F"}), want: Confirm},
		{id: "W-20", name: "winter assumed where the machine takes no cold", machine: "sanderling-u24p", set: over(peakBase, set{"water.cold.winter_temperature": "unknown"}), want: OK, shows: "t_c = 40 °F (4.4 °C)"},
		{id: "W-20", name: "other draws", machine: "sanderling-u24p", set: over(peakBase, set{"heater.other_draws[0].name": "sink", "heater.other_draws[0].flow": "42 gph"}), want: Fix, shows: "Σ = 42 gph"},
		{id: "W-20", name: "a draw without a flow", machine: "sanderling-u24p", set: over(peakBase, set{"heater.other_draws[0].name": "sink", "heater.other_draws[0].flow": "unknown"}), want: Missing},
		{id: "W-20", name: "mixed rinse takes its share", set: set{"water.cold.winter_temperature": "50 ± 0 °F", "water.hot.temperature": "150 ± 0 °F"}, want: OK, shows: "Q_r = 7.5 gph"},
		{id: "W-20", name: "missing", machine: "sanderling-u24p", set: over(peakBase, set{"heater.storage": "unknown"}), want: Missing},
		{id: "W-20", name: "no hot water taken", machine: "turnstone-u50", want: NA},

		{id: "W-21", name: "just below", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "149.9 gph"}), want: Fix},
		{id: "W-21", name: "at", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "150 gph"}), want: OK, shows: "R/60 = 2.5 gpm"},
		{id: "W-21", name: "just above", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "150.1 gph"}), want: OK},
		{id: "W-21", name: "in L/min", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "9.4 L/min"}), want: Fix},
		{id: "W-21", name: "gas recovery", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "unknown", "heater.input": "40000 Btu/h", "heater.efficiency": "0.80", "heater.set_point": "120 °F", "water.cold.winter_temperature": "50 ± 0 °F"}),
			want: Fix, shows: "R = 54.9 gph", source: gasGuide},
		{id: "W-21", name: "within the thermometer's uncertainty", machine: "sanderling-u24p", set: over(peakBase, set{"heater.kind": "instantaneous", "heater.recovery": "151 gph", "water.cold.winter_temperature": "40 ± 3 °F"}), want: Confirm},
		{id: "W-21", name: "stores hot water", want: NA},
		{id: "W-21", name: "missing", machine: "sanderling-u24p", set: set{"heater.storage": "unknown"}, want: Missing},

		{id: "W-22", name: "just below the maximum", set: set{"treatment.hardness": "5.9 ± 0 gpg"}, want: OK},
		{id: "W-22", name: "at the maximum", set: set{"treatment.hardness": "6 ± 0 gpg"}, want: OK},
		{id: "W-22", name: "just above the maximum", set: set{"treatment.hardness": "6.1 ± 0 gpg"}, want: Fix},
		{id: "W-22", name: "at the minimum", set: set{"treatment.hardness": "1 ± 0 gpg"}, want: OK},
		{id: "W-22", name: "below the minimum", set: set{"treatment.hardness": "0.9 ± 0 gpg"}, want: Fix},
		{id: "W-22", name: "in mg/L", set: set{"treatment.hardness": "103 ± 0 mg/L"}, want: Fix, shows: "class = moderately hard", source: usgsClasses},
		{id: "W-22", name: "within the strip's uncertainty", set: set{"treatment.hardness": "5.8 ± 0.5 gpg"}, want: Confirm},
		{id: "W-22", name: "harder than the water before the softener", set: set{"treatment.hardness": "12 gpg", "treatment.raw_hardness": "9 gpg"}, want: Fix},
		{id: "W-22", name: "a hardness that can't be", set: set{"treatment.hardness": "120 gpg", "treatment.raw_hardness": "unknown"}, want: Fix},
		{id: "W-22", name: "missing", set: set{"treatment.hardness": "unknown"}, want: Missing},

		{id: "W-23", name: "just below", set: set{"treatment.tds": "349 ± 0 mg/L"}, want: OK},
		{id: "W-23", name: "at", set: set{"treatment.tds": "350 ± 0 ppm"}, want: OK},
		{id: "W-23", name: "just above", set: set{"treatment.tds": "351 ± 0 mg/L"}, want: Fix},
		{id: "W-23", name: "within the meter's uncertainty", set: set{"treatment.tds": "345 ± 10 mg/L"}, want: Confirm},
		{id: "W-23", name: "missing", set: set{"treatment.tds": "unknown"}, want: Missing},

		{id: "W-24", name: "just below", set: over(softBase, set{"treatment.softener_grains": "11249"}), spec: softSpec, want: Fix, margin: "1 grains short"},
		{id: "W-24", name: "at", set: softBase, spec: softSpec, want: OK, shows: "g = 3000 grains", source: softenerGuide},
		{id: "W-24", name: "just above", set: over(softBase, set{"treatment.softener_grains": "11251"}), spec: softSpec, want: OK},
		{id: "W-24", name: "in mg/L", set: over(softBase, set{"treatment.raw_hardness": "172 ± 0 mg/L"}), spec: softSpec, want: Fix},
		{id: "W-24", name: "iron counts four times", set: over(softBase, set{"treatment.iron": "1 mg/L"}), spec: softSpec, want: Fix, shows: "g = 4200 grains"},
		{id: "W-24", name: "within the strip's uncertainty", set: over(softBase, set{"treatment.softener_grains": "11500", "treatment.raw_hardness": "10 ± 1 gpg"}), spec: softSpec, want: Confirm},
		{id: "W-24", name: "what else it feeds counts", set: over(softBase, set{"treatment.softener_others": "300 gal"}), spec: softSpec, want: Fix, shows: "g = 6000 grains", source: "twice the water of the softener sizing forum's example (confirmed)"},
		{id: "W-24", name: "what else it feeds not known", set: over(softBase, set{"treatment.softener_others": "unknown"}), spec: softSpec, want: Confirm},
		{id: "W-24", name: "too small for the machine alone", set: over(softBase, set{"treatment.softener_others": "unknown", "treatment.softener_grains": "11249"}), spec: softSpec, want: Fix},
		{id: "W-24", name: "no days", set: over(softBase, set{"treatment.softener_days": "0"}), spec: softSpec, want: Confirm},
		{id: "W-24", name: "no softener", set: set{"treatment.softener": "no"}, want: NA},
		{id: "W-24", name: "missing", set: set{"treatment.softener": "unknown"}, want: Missing},
		{id: "W-24", name: "missing capacity", set: set{"treatment.softener_grains": "unknown"}, want: Missing},

		{id: "W-27", name: "just below", set: still("60 ± 0 psi", "48.1 ± 0 psi"), want: OK, source: "common practice, no source"},
		{id: "W-27", name: "at", set: still("60 ± 0 psi", "48 ± 0 psi"), want: OK, shows: "δ = 20.0 %"},
		{id: "W-27", name: "just above", set: still("60 ± 0 psi", "47.9 ± 0 psi"), want: Confirm},
		{id: "W-27", name: "hot higher, in kPa", set: still("300 ± 0 kPa", "410 ± 0 kPa"), want: Confirm},
		{id: "W-27", name: "evened by a regulator", set: over(still("90 ± 0 psi", "60 ± 0 psi"), set{"water.cold.regulator": "60 ± 0 psi", "water.cold.gauge_at": "before-regulator"}), want: OK},
		{id: "W-27", name: "evened only by a tag that the gauge belies", set: over(still("90 ± 0 psi", "60 ± 0 psi"), set{"water.cold.regulator": "60 ± 0 psi"}), want: Confirm, have: "90", source: gaugePractice},
		{id: "W-27", name: "within the gauges' uncertainty", set: still("60 ± 2 psi", "49 ± 2 psi"), want: Confirm},
		{id: "W-27", name: "alike at rest, apart while it draws", set: set{"water.cold.static_pressure": "60 ± 0 psi", "water.hot.static_pressure": "60 ± 0 psi", "water.hot.flowing_pressure": "40 ± 0 psi", "water.hot.flow": "2.5 ± 0 gpm"}, want: Confirm, have: "while the machine draws"},
		{id: "W-27", name: "read in a closed bar", set: over(still("60 ± 0 psi", "60 ± 0 psi"), set{"water.read_busy": "no"}), want: Confirm, action: "busy evening"},
		{id: "W-27", name: "apart behind a regulator that lets through", set: over(still("90 ± 0 psi", "60 ± 0 psi"), set{"water.cold.regulator": "60 ± 0 psi", "water.cold.gauge_at": "behind-regulator"}), want: Confirm, action: "reset or replace", source: gaugePractice},
		{id: "W-27", name: "missing", set: set{"water.hot.static_pressure": "unknown"}, want: Missing},
	},
	twoLines("W-25", "W-26",
		row{name: "fitted", set: set{"water.LINE.check_valve": "yes"}, want: OK},
		row{name: "not fitted", set: set{"water.LINE.check_valve": "no"}, want: Fix},
		row{name: "missing", set: set{"water.LINE.check_valve": "unknown"}, want: Missing},
		row{name: "not asked for", set: set{"water.LINE.check_valve": "no"}, spec: set{"water.LINE.check_valve": "no"}, want: NA},
	),
	twoLines("W-28", "W-29",
		deviceRow("air-gap", Confirm, "air gap"), deviceRow("reduced-pressure", OK, "ASSE 1013"), deviceRow("pressure-vacuum-breaker", Confirm, "ASSE 1020"), deviceRow("spill-resistant-vacuum-breaker", Confirm, "ASSE 1056"),
		placedRow("air gap with tank and pump", OK, dishwasherList, set{"water.LINE.backflow": "air-gap", "water.LINE.break_tank": "yes"}),
		placedRow("air gap, nothing behind it", Fix, "behind an air gap there is no pressure: common practice, no source", set{"water.LINE.backflow": "air-gap", "water.LINE.break_tank": "no"}),
		placedRow("pressure breaker just below", Fix, breakerHeight, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "11.9 ± 0 in"}),
		placedRow("pressure breaker at", OK, breakerHeight, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "12 ± 0 in"}),
		placedRow("pressure breaker just above, in mm", OK, breakerHeight, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "306 ± 0 mm"}),
		placedRow("pressure breaker within the tape's uncertainty", Confirm, breakerHeight, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "12 ± 1/8 in"}),
		placedRow("pressure breaker below what it feeds", Fix, breakerHeight, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "-10 in"}),
		placedRow("spill-resistant breaker high enough", OK, breakerHeight, set{"water.LINE.backflow": "spill-resistant-vacuum-breaker", "water.LINE.backflow_height": "13 in"}),
		placedRow("pressure breaker, hot and cold meeting behind it without a check valve", Confirm, "a pressure breaker takes no back-pressure: ASSE 1020 (IPC Table 608.1, from memory)", set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "13 in", "water.LINE.check_valve": "no"}),
		placedRow("pressure breaker with nowhere to spill", Fix, breakerIndoors, set{"water.LINE.backflow": "pressure-vacuum-breaker", "water.LINE.backflow_height": "13 in", "water.LINE.backflow_drain": "no"}),
		placedRow("atmospheric breaker too low", Fix, "6 in above the flood rim: a city code (read in a secondary text)", set{"water.LINE.backflow": "atmospheric-vacuum-breaker", "water.LINE.backflow_height": "5 in"}),
		placedRow("reduced pressure without a drain", Fix, reliefDrain, set{"water.LINE.backflow": "reduced-pressure", "water.LINE.backflow_drain": "no"}),
		placedRow("reduced pressure, drain not told", Confirm, reliefDrain, set{"water.LINE.backflow": "reduced-pressure", "water.LINE.backflow_drain": "unknown"}),
		deviceRow("atmospheric-vacuum-breaker", Confirm, "continuous"), deviceRow("hose-vacuum-breaker", Confirm, "continuous"),
		deviceRow("double-check", Confirm, "low hazard"), deviceRow("dual-check", Confirm, "low hazard"), deviceRow("intermediate-vent", Confirm, "low hazard"),
		deviceRow("check-valve", Fix, "no backflow preventer"), deviceRow("none", Fix, "none"), deviceRow("unknown", Missing, ""),
		row{name: "verified built-in air gap", set: set{"water.LINE.backflow": "unknown"}, spec: set{"water.built_in_air_gap": "verified"}, want: OK, have: "built into the machine", source: "IPC 409.2 in a city copy (confirmed)"},
	),
	[]row{
		{id: "W-30", name: "open system", set: set{"water.closed_system": "no", "water.expansion_tank": "unknown"}, want: OK},
		{id: "W-30", name: "closed with a tank", set: set{"water.closed_system": "yes", "water.expansion_tank": "yes"}, want: OK, source: "IPC 607.3 in a city copy (confirmed)"},
		{id: "W-30", name: "closed without", set: set{"water.closed_system": "yes", "water.expansion_tank": "no"}, want: Fix, source: "IPC 607.3 in a city copy (confirmed)"},
		{id: "W-30", name: "tankless under the IPC", set: set{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.kind": "instantaneous", "heater.storage": "0 gal"}, want: OK, source: ipcClosed},
		{id: "W-30", name: "tankless under the UPC", set: set{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.kind": "instantaneous", "heater.storage": "0 gal", "codes.plumbing": "upc"}, want: Fix, source: upcClosed},
		{id: "W-30", name: "tankless under another code", set: set{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.kind": "instantaneous", "heater.storage": "0 gal", "codes.plumbing": "other"}, want: Confirm},
		{id: "W-30", name: "instantaneous, storage not told", set: set{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.kind": "instantaneous", "heater.storage": "unknown"}, want: Missing, source: ipcClosed},
		{id: "W-30", name: "instantaneous with a buffer tank", set: set{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.kind": "instantaneous", "heater.storage": "20 gal"}, want: Fix, source: ipcClosed},
		{id: "W-30", name: "missing", set: set{"water.closed_system": "unknown"}, want: Missing},
		{id: "W-30", name: "closed, tank unknown", set: set{"water.closed_system": "yes", "water.expansion_tank": "unknown"}, want: Missing},

		{id: "W-31", name: "fitted", set: set{"water.hammer_arrester": "yes"}, want: OK},
		{id: "W-31", name: "not fitted", set: set{"water.hammer_arrester": "no"}, want: Fix, source: "IPC 604.9 (from memory)"},
		{id: "W-31", name: "slow valves", set: set{"water.hammer_arrester": "no"}, spec: set{"water.quick_closing_valves": "no"}, want: NA},
		{id: "W-31", name: "missing", set: set{"water.hammer_arrester": "unknown"}, want: Missing},
	},
	twoLines("W-32", "W-33",
		row{name: "there", set: set{"water.LINE.shut_off": "yes"}, want: OK},
		row{name: "not there", set: set{"water.LINE.shut_off": "no"}, want: Fix},
		row{name: "missing", set: set{"water.LINE.shut_off": "unknown"}, want: Missing},
	),
	twoLines("W-34", "W-35",
		row{name: "the same", set: set{"water.LINE.connection": "3/4 GHT"}, want: OK},
		row{name: "pipe thread on hose thread", set: set{"water.LINE.connection": "3/4 NPT"}, want: Fix, source: "ASME B1.20.7 (from memory): 11.5 straight threads per inch, 3/4 NPT has 14 on a taper"},
		row{name: "parallel thread on hose thread", set: set{"water.LINE.connection": "3/4 BSP"}, want: Fix},
		row{name: "none", set: set{"water.LINE.connection": "none"}, want: Fix, have: "no connection"},
		row{name: "no thread on the sheet", spec: set{"water.LINE.connection": "none"}, want: NA},
		row{name: "missing", set: set{"water.LINE.connection": "unknown"}, want: Missing},
	),
	twoLines("W-36", "W-37",
		row{name: "just below", set: set{"water.LINE.hose_distance": "71.9 ± 0 in"}, want: OK},
		row{name: "at", set: set{"water.LINE.hose_distance": "72 ± 0 in"}, want: OK},
		row{name: "just above", set: set{"water.LINE.hose_distance": "72.1 ± 0 in"}, want: Fix},
		row{name: "in m", set: set{"water.LINE.hose_distance": "1.83 ± 0 m"}, want: Fix},
		row{name: "within the tape's uncertainty", set: set{"water.LINE.hose_distance": "72 ± 1/8 in"}, want: Confirm},
		row{name: "no hose on the sheet", spec: set{"water.LINE.hose_length": "none"}, want: NA},
		row{name: "missing", set: set{"water.LINE.hose_distance": "unknown"}, want: Missing},
	),
)

// unsettled lists faults of water that no change cures before something is
// read again, with the reason.
var unsettled = map[string]string{
	"above the tag, gauge's place not told":       "where the gauge stood must be said first",
	"a closed bar's reading that fails already":   "what the evening leaves must be read first",
	"a pressure that can't be":                    "the pressure must be read again",
	"a flowing pressure far above the static one": "both must be read again",
	"harder than the water before the softener":   "both must be read again",
	"a hardness that can't be":                    "the hardness must be read again",
	"hot and cold changed over":                   "both must be read again",
	"hotter than its heater":                      "both must be read again",
	"hot colder than the cold, in °C":             "both must be read again",
}

// TestWaterCures sees that every row that fails is offered a change that cures
// it, unless a reading is in doubt: then none, and the reading is asked for.
func TestWaterCures(t *testing.T) {
	t.Parallel()
	for _, r := range waterRows {
		if r.want != Fix {
			continue
		}
		t.Run(r.id+" "+r.name, func(t *testing.T) {
			s, m := r.laid(t)
			rep := Evaluate(s, m, Options{Today: today, Units: quantity.US, OnlyCheck: []*Check{ByID(r.id)}})
			f := rep.Findings[0]
			if why, known := unsettled[r.name]; known != (len(f.Remedies) == 0) {
				t.Errorf("%d remedies, unsettled: %v (%s): have %s, want %s", len(f.Remedies), known, why, f.Have, f.Want)
			} else if known && !strings.Contains(r.name, "closed bar") && !strings.HasPrefix(f.Action, "reading in doubt") {
				t.Errorf("action %q doesn't ask for the reading", f.Action)
			}
			for i, rem := range f.Finding.Remedies {
				if rem.Work == 0 && (r.id < "W-13" || r.id > "W-21") {
					t.Errorf("%q doesn't say how much work it is", f.Remedies[i].Change)
				}
			}
		})
	}
}

// TestOneRegulator sees too much pressure cured by one valve with one value,
// whichever check asks for it, and no check of the pressures left failing by it.
func TestOneRegulator(t *testing.T) {
	pressures := []string{"W-01", "W-02", "W-03", "W-04", "W-05", "W-06", "W-27"}
	for _, tt := range []struct {
		name     string
		machine  string
		set      set
		asks     []string // checks that ask for it
		valve    string   // what their remedy says
		building bool
	}{
		{"main of 110 psi", "avocet-r36", set{"water.cold.static_pressure": "110 psi", "water.cold.flowing_pressure": "105 psi"}, []string{"W-01", "W-03", "W-05"}, "building's service", true},
		{"main of 110 psi on both lines", "avocet-r36", set{"water.cold.static_pressure": "110 psi", "water.cold.flowing_pressure": "105 psi", "water.hot.static_pressure": "110 psi", "water.hot.flowing_pressure": "104 psi"},
			[]string{"W-01", "W-02", "W-03", "W-04", "W-05", "W-06"}, "building's service", true},
		{"metric main of 9 bar", "knot-c400", set{"water.cold.static_pressure": "9 bar", "water.cold.flowing_pressure": "8.5 bar"}, []string{"W-01", "W-03", "W-05"}, "building's service", true},
		{"within the building's limit, too much for the machine", "dunlin-u24", set{"water.hot.static_pressure": "97 psi", "water.hot.flowing_pressure": "95 psi", "codes.pressure_limit": "100 psi"}, []string{"W-02", "W-06"}, "on the hot line", false},
		{"a regulator set too high", "dunlin-u24", set{"water.hot.static_pressure": "78 psi", "water.hot.flowing_pressure": "78 psi", "water.hot.regulator": "78 psi", "water.hot.gauge_at": "behind-regulator"}, []string{"W-06"}, "set the hot line's regulator to", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, m := row{machine: tt.machine, set: tt.set}.laid(t)
			before := Evaluate(s, m, Options{Today: today})
			said := map[string]bool{}
			for _, id := range tt.asks {
				f := before.Finding(id)
				if f.Verdict != Fix || len(f.Remedies) == 0 {
					t.Errorf("%s is %v with %d remedies", id, f.Verdict, len(f.Remedies))
					continue
				}
				said[f.Remedies[0].Change] = true
				if !strings.Contains(f.Remedies[0].Change, tt.valve) {
					t.Errorf("%s: %q doesn't say %q", id, f.Remedies[0].Change, tt.valve)
				}
				changed := s.Clone()
				if err := changed.Apply(f.Remedies[0].Set); err != nil {
					t.Fatal(err)
				}
				after := Evaluate(changed, m, Options{Today: today, NoRemedy: true})
				for _, other := range pressures {
					if v := after.Finding(other).Verdict; v != OK && v != NA {
						t.Errorf("%s: %q leaves %s %v", id, f.Remedies[0].Change, other, v)
					}
				}
			}
			if len(said) != 1 {
				t.Errorf("%d ways are told: %v", len(said), said)
			}
		})
	}
}

// TestHotPipeBears sees no remedy that runs hot water in pipe that isn't for it:
// PVC never (ASTM D1785, from memory), PEX and CPVC to 180 °F (ASTM F876 and
// D2846, from memory).
func TestHotPipeBears(t *testing.T) {
	seen := 0
	for _, tt := range []struct{ material, setPoint string }{{"pvc", "140 °F"}, {"pex", "185 °F"}, {"cpvc", "185 °F"}} {
		s, m := row{set: set{"water.hot.pipe_material": tt.material, "water.hot.pipe_size": "3/8 in", "heater.set_point": tt.setPoint, "water.hot.run_length": "200 ft", "codes.plumbing": "upc"}}.laid(t)
		for _, f := range Evaluate(s, m, Options{Today: today}).Findings {
			for _, rem := range f.Remedies {
				if _, sized := rem.Set["water.hot.pipe_size"]; !sized {
					continue
				}
				seen++
				if got := rem.Set["water.hot.pipe_material"]; got != "copper-L" {
					t.Errorf("%s at %s, %s: %q stays in %q", tt.material, tt.setPoint, f.ID, rem.Change, got)
				}
			}
		}
	}
	if seen < 3 {
		t.Errorf("only %d remedies change the pipe's size", seen)
	}
}

// TestWorseWater makes one reading worse after the other, on passing sites, and
// sees that its check's verdict never gets better.
func TestWorseWater(t *testing.T) {
	t.Parallel()
	merit := map[Verdict]int{Fix: 0, Confirm: 1, OK: 2}
	open := set{"water.cold.flowing_pressure_max": "unknown", "water.hot.flowing_pressure_max": "unknown", "water.hardness_min": "unknown"}
	judged := 0
	for _, key := range []string{"avocet-r36", "knot-c400", "sanderling-u24p", "turnstone-u50"} {
		name, s := key, site(t, "pass_"+key)
		m, err := machine(t, key).With(open)
		if err != nil {
			t.Fatal(err)
		}
		for _, tt := range []struct {
			id, path string
			texts    []string // from good to bad
		}{
			{"W-01", "water.cold.static_pressure", []string{"50 psi", "79 psi", "90 psi", "94 psi", "96 psi", "140 psi"}},
			{"W-04", "water.hot.static_pressure", []string{"60 psi", "78 psi", "79 psi", "80 psi", "82 psi", "600 kPa", "9 bar"}},
			{"W-03", "water.well_cut_out", []string{"50 psi", "79 psi", "80 psi", "81 psi", "110 psi"}},
			{"W-05", "water.cold.device_loss", []string{"0 psi", "5 psi", "100 kPa", "20 psi", "30 psi", "40 psi"}},
			{"W-06", "water.hot.rise", []string{"-10 ft", "0 ft", "20 ft", "12 m", "60 ft", "90 ft"}},
			{"W-06", "water.hot.flowing_pressure", []string{"55 psi", "50 psi", "40 psi", "30 psi", "20 psi", "5 psi"}},
			{"W-05", "water.well_cut_in", []string{"60 psi", "50 psi", "40 psi", "30 psi", "15 psi"}},
			{"W-12", "water.hot.from_heater", []string{"5 ft", "40 ft", "49 ft", "15 m", "51 ft", "200 ft"}},
			{"W-22", "treatment.hardness", []string{"1 gpg", "3 gpg", "5 gpg", "100 mg/L", "7 gpg", "50 gpg"}},
			{"W-23", "treatment.tds", []string{"10 mg/L", "300 mg/L", "349 mg/L", "400 mg/L", "3000 mg/L"}},
			{"W-24", "treatment.softener_others", []string{"0 gal", "100 gal", "1000 L", "900 gal", "5000 gal"}},
			{"W-28", "water.cold.backflow_height", []string{"40 in", "13 in", "12 in", "300 mm", "0 in", "-20 in"}},
			{"W-36", "water.cold.hose_distance", []string{"1 ft", "4 ft", "1.5 m", "6 ft", "7 ft", "20 ft"}},
		} {
			last := 2
			for i, text := range tt.texts {
				changed := s.Clone()
				if err := changed.Apply(set{tt.path: text}); err != nil {
					t.Fatal(err)
				}
				f := Evaluate(changed, m, Options{Today: today, NoRemedy: true, OnlyCheck: []*Check{ByID(tt.id)}}).Findings[0]
				now, counts := merit[f.Verdict]
				if !counts {
					continue
				}
				judged++
				if i > 0 && now > last {
					t.Errorf("%s: %s %v at %s of %s, better than before; have %s, want %s", name, tt.id, f.Verdict, text, tt.path, f.Have, f.Want)
				}
				last = now
			}
		}
	}
	if judged < 150 {
		t.Errorf("only %d findings were judged", judged)
	}
}

// TestWaterWays sees what cures some faults, and what must never be told.
func TestWaterWays(t *testing.T) {
	for _, tt := range []struct {
		row        row
		first      string // part of the first remedy
		never      string // part of no remedy
		sets, want string // an answer that the first remedy sets
	}{
		{row{id: "W-14", machine: "dunlin-u24", set: set{"water.hot.temperature": "110 °F", "heater.set_point": "142 °F"}}, "insulate the hot pipe and circulate", "set the water heater", "water.hot.temperature", "125 °F"},
		{row{id: "W-14", machine: "dunlin-u24", set: set{"water.hot.temperature": "110 °F", "heater.set_point": "115 °F"}}, "set the water heater to 140 °F", "", "heater.set_point", "140 °F"},
		{row{id: "W-14", machine: "dunlin-u24", set: set{"water.hot.temperature": "90 °F", "heater.set_point": "125 °F"}}, "insulate and circulate the hot pipe, and set", "", "heater.set_point", "140 °F"},
		{row{id: "W-14", machine: "dunlin-u24", set: set{"water.hot.temperature": "100 °F", "heater.set_point": "165 °F"}}, "insulate", "set the water heater", "", ""},
		{row{id: "W-14", machine: "knot-c400", set: set{"water.hot.temperature": "42 °C", "heater.set_point": "61 °C"}}, "insulate", "set the water heater", "water.hot.temperature", "50 °C"},
		{row{id: "W-14", machine: "godwit-c44", set: set{"water.hot.temperature": "150 °F", "heater.set_point": "142 °F"}}, "ASSE 1017", "", "water.hot.temperature", "120 °F"},
		{row{id: "W-13", machine: "turnstone-u50", set: set{"water.cold.winter_temperature": "8 °C"}}, "own sheet", "listed mixing valve", "water.cold.winter_temperature", "15 °C"},
		{row{id: "W-09", set: set{"water.cold.pipe_material": "pvc", "water.cold.pipe_size": "3/8 in"}}, "copper", "PVC", "water.cold.pipe_material", "copper-L"},
		{row{id: "W-10", set: set{"water.hot.pipe_material": "pvc", "water.hot.pipe_size": "3/8 in"}}, "copper", "PVC", "water.hot.pipe_material", "copper-L"},
		{row{id: "W-03", set: set{"water.cold.static_pressure": "70 psi", "water.hot.static_pressure": "70 psi", "water.well_cut_in": "60 psi", "water.well_cut_out": "85 psi"}}, "well pump's switch", "", "water.well_cut_out", "80 psi"},
		{row{id: "W-01", set: set{"water.cold.static_pressure": "78 psi", "water.cold.flowing_pressure": "70 psi", "water.cold.regulator": "60 psi", "water.cold.gauge_at": "behind-regulator"}}, "replace the cold line's regulator by one set to 60 psi", "", "water.cold.regulator", "60 psi"},
		{row{id: "W-28", set: set{"water.cold.backflow": "pressure-vacuum-breaker", "water.cold.backflow_height": "14 in", "water.cold.backflow_drain": "no"}}, "lead the relief or spillage", "", "water.cold.backflow_drain", "yes"},
		{row{id: "W-28", set: set{"water.cold.backflow": "air-gap", "water.cold.break_tank": "no"}}, "fit a tank and a listed pump", "or take another", "water.cold.break_tank", "yes"},
		{row{id: "W-19", machine: "knot-c400", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "75 mg/L", "chemicals.ph": "9"}}, "pH to 7.8", "", "chemicals.ph", "7.8"},
		{row{id: "W-19", machine: "knot-c400", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "40 mg/L"}}, "chlorine to 60 mg/L", "", "chemicals.concentration", "60 mg/L"},
		{row{id: "W-19", set: set{"chemicals.sanitizer": "chlorine", "chemicals.concentration": "40 mg/L"}}, "change to iodine", "", "chemicals.ph", "5"},
		{row{id: "W-19", machine: "turnstone-u50", set: set{"chemicals.concentration": "75 mg/L", "water.cold.winter_temperature": "18 °C"}}, "chlorine to 115 mg/L", "", "chemicals.concentration", "115 mg/L"},
		{row{id: "W-19", machine: "turnstone-u50", spec: set{"chemicals.concentration_max": "126 mg/L"}, set: set{"chemicals.concentration": "75 mg/L", "water.cold.winter_temperature": "18 °C"}}, "warm the machine's cold line", "set the chlorine", "", ""},
		{row{id: "C-01", set: set{"chemicals.sanitizer": "quat", "chemicals.ph": "4"}}, "supply chlorine", "", "chemicals.ph", "7.5"},
		{row{id: "D-08", set: set{"drain.tempering_flow": "14 gpm", "drain.receptor_outlet": "2 in"}}, "mix 1.5 gpm", "", "drain.tempering_flow", "1.5 gpm"},
		{row{id: "D-23", set: set{"drain.tempering_flow": "14 gpm", "water.cold.static_pressure": "50 ± 0 psi", "water.cold.flowing_pressure": "30 ± 0 psi"}}, "mix 1.5 gpm", "", "drain.tempering_flow", "1.5 gpm"},
		{row{id: "D-25", machine: "turnstone-u50", set: set{"drain.hose_vent": "no"}}, "air vent", "", "drain.hose_vent", "yes"},
	} {
		s, m := tt.row.laid(t)
		f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(tt.row.id)}}).Findings[0]
		if f.Verdict != Fix || len(f.Remedies) == 0 {
			t.Errorf("%s %v: %v with %d remedies: %s, want %s", tt.row.id, tt.row.set, f.Verdict, len(f.Remedies), f.Have, f.Want)
			continue
		}
		if got := f.Remedies[0]; !strings.Contains(got.Change, tt.first) || tt.sets != "" && got.Set[tt.sets] != tt.want {
			t.Errorf("%s %v: first %q sets %v, want %q and %s %s", tt.row.id, tt.row.set, got.Change, got.Set, tt.first, tt.sets, tt.want)
		}
		for _, r := range f.Remedies {
			if tt.never != "" && strings.Contains(r.Change, tt.never) {
				t.Errorf("%s %v: %q must never be told", tt.row.id, tt.row.set, r.Change)
			}
		}
	}
}

// TestWaterCites sees that the working of a site under the UPC names no clause of the IPC.
func TestWaterCites(t *testing.T) {
	for _, key := range []string{"avocet-r36", "godwit-c44", "turnstone-u50"} {
		s, m := row{machine: key, set: set{"codes.plumbing": "upc"}}.laid(t)
		for _, f := range Evaluate(s, m, Options{Today: today, OnlyCheck: water, NoRemedy: true}).Findings {
			for _, step := range f.Working {
				if strings.Contains(step.Meaning, "IPC") {
					t.Errorf("%s %s: %s is %q", key, f.ID, step.Symbol, step.Meaning)
				}
			}
		}
	}
}
