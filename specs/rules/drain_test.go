package rules

import (
	"maps"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
)

// Heights and runs read exactly, so that a row stands on one side of its limit.
func exact(more set) set {
	s := set{"machine.raised_by": "2 ± 0 in", "drain.rim_height": "0 ± 0 in", "drain.floor_falls": "0 ± 0 in",
		"drain.air_gap": "4.5 ± 0 in", "drain.run_length": "2 ± 0 ft"}
	maps.Copy(s, more)
	return s
}

// iron is a line of 1-1/2 in cast iron, whose bore of 1.50 in is that of the
// reference cases, with the least air gap and no stand.
func iron(more set) set {
	s := exact(set{"machine.raised_by": "0 ± 0 in", "drain.air_gap": "unknown", "drain.pipe_material": "cast-iron", "drain.pipe_size": "1-1/2 in"})
	maps.Copy(s, more)
	return s
}

// The sources of expected values. The reference tables in testdata/reference
// were computed apart from this program, each by a second method.
const (
	fallCases  = "testdata/reference/fall_check.csv: IPC Table 704.1 slopes, gap max(2 d, 1 in)"
	tankCases  = "testdata/reference/tank_drain.csv: drain-down integrated numerically"
	pipeCases  = "testdata/reference/manning_capacity.csv: Manning, chord integral"
	nspcK      = "NSPC 2009 Appendix K: full flow is 2.00 times half full"
	mixExample = "physics forum, mixing liquids: 3500 L at 40 °C from 10 and 100 °C takes 1166 L hot, so 2 cold per hot"
	coolBrew   = "article on cooling brewing water: 500 g at 100 °C and 115.3 g at 20 °C give 85 °C"
	temperRow  = "testdata/reference/temper_mix.csv: 180 °F with half as much at 60 °F gives 140 °F"
)

// upcTrap is in the code's illustrated manual, for clothes washers' standpipes.
const upcTrap = "UPC 2018 and 2024, 804.1, illustrated training manual: trap not below the floor, roughed in 6 to 18 in above it"

const pumped = "sanderling-u24p"

var drainRows = []row{
	{id: "D-01", name: "air gap", set: set{"drain.connection": "air-gap"}, want: OK},
	{id: "D-01", name: "air break, IPC", set: set{"drain.connection": "air-break"}, source: "IPC 2018 802.1.6 in a city's adoption: commercial dishwashing machines by air gap or air break", want: OK},
	{id: "D-01", name: "air break, UPC", machine: pumped, set: set{"drain.connection": "air-break"}, source: "UPC 2021 801.3.3, illustrated manual: food-handling equipment by air gap", want: Confirm},
	{id: "D-01", name: "air break, another code", set: set{"drain.connection": "air-break", "codes.plumbing": "other"}, want: Confirm},
	{id: "D-01", name: "direct", set: set{"drain.connection": "direct"}, want: Fix, have: "direct"},
	{id: "D-01", name: "direct from a pump", machine: pumped, set: set{"drain.connection": "direct"}, want: Fix},
	{id: "D-01", name: "missing", set: set{"drain.connection": "unknown"}, want: Missing},

	{id: "D-02", name: "floor sink", set: set{"drain.receptor": "floor-sink"}, want: OK},
	{id: "D-02", name: "standpipe for a pump", machine: pumped, set: set{"drain.receptor": "standpipe"}, want: OK},
	{id: "D-02", name: "standpipe for gravity", set: set{"drain.receptor": "standpipe"}, want: Confirm},
	{id: "D-02", name: "floor drain", set: set{"drain.receptor": "floor-drain"}, want: Confirm},
	{id: "D-02", name: "hub level with the floor", set: set{"drain.receptor": "hub", "drain.rim_height": "0 in"}, source: "IPC 802.4, from memory: an open hub at least 1 in above the floor", want: Fix, have: "open hub 0 in"},
	{id: "D-02", name: "hub, just below", set: set{"drain.receptor": "hub", "drain.rim_height": "0.9 ± 0 in"}, source: "the same", want: Fix},
	{id: "D-02", name: "hub, at", set: set{"drain.receptor": "hub", "drain.rim_height": "1 ± 0 in"}, source: "the same", want: Confirm},
	{id: "D-02", name: "hub as printed in millimetres", set: set{"drain.receptor": "hub", "drain.rim_height": "25 ± 0 mm"}, source: "the same, (25 mm)", want: Confirm},
	{id: "D-02", name: "hub, UPC", machine: pumped, set: set{"drain.receptor": "hub", "drain.rim_height": "0 in"}, want: Confirm},
	{id: "D-02", name: "sink", set: set{"drain.receptor": "trapped-sink"}, want: Confirm},
	{id: "D-02", name: "none", set: set{"drain.receptor": "none"}, want: Fix},
	{id: "D-02", name: "missing", set: set{"drain.receptor": "unknown"}, want: Missing},

	{id: "D-03", name: "just below the longest run", set: exact(set{"drain.run_length": "13.9 ± 0 ft"}), want: OK},
	{id: "D-03", name: "at the longest run", set: exact(set{"drain.run_length": "14 ± 0 ft"}), want: OK, margin: "0 in (0 mm) to spare"},
	{id: "D-03", name: "just above the longest run", set: exact(set{"drain.run_length": "14.1 ± 0 ft"}), want: Fix},
	{id: "D-03", name: "in metres", set: exact(set{"drain.run_length": "4.3 ± 0 m"}), want: Fix},
	{id: "D-03", name: "within the tape's uncertainty", set: set{"drain.run_length": "13 ft"}, want: Confirm},
	{id: "D-03", name: "8 in outlet, 6 ft", set: iron(set{"drain.run_length": "6 ± 0 ft"}), spec: set{"drain.outlet_height": "8 in"}, source: fallCases + ", F01", want: OK, margin: "3-1/2 in (89 mm) to spare", shows: "L_max = 20 ft (6096 mm)"},
	{id: "D-03", name: "4 in outlet, 10 ft", set: iron(set{"drain.run_length": "10 ± 0 ft"}), spec: set{"drain.outlet_height": "4 in"}, source: fallCases + ", F02", want: Fix, margin: "1-1/2 in (38 mm) short", shows: "L_max = 48 in (1219 mm)"},
	{id: "D-03", name: "outlet below the gap", set: iron(set{"drain.run_length": "3 ± 0 ft"}), spec: set{"drain.outlet_height": "2 in"}, source: fallCases + ", F04", want: Fix, margin: "1-3/4 in (44 mm) short", shows: "F = -1 in (-25 mm)"},
	{id: "D-03", name: "rim on a kerb", set: iron(set{"drain.run_length": "15 ± 0 ft", "drain.rim_height": "4 ± 0 in"}), spec: set{"drain.outlet_height": "12 in"}, source: fallCases + ", F13", want: OK, shows: "F_min = 3-3/4 in (95 mm)"},
	{id: "D-03", name: "bore of 1.61 in", set: iron(set{"drain.run_length": "11 ± 0 ft", "drain.pipe_material": "pvc"}), spec: set{"drain.outlet_height": "6 in"}, source: fallCases + ", F08", want: OK, shows: "g = 3.22 in (82 mm)"},
	{id: "D-03", name: "air break keeps no gap", set: iron(set{"drain.run_length": "10 ± 0 ft", "drain.connection": "air-break"}), spec: set{"drain.outlet_height": "4 in"}, source: fallCases + ", F09", want: OK, margin: "1-1/2 in (38 mm) to spare"},
	{id: "D-03", name: "floor lower at the receptor", set: iron(set{"drain.run_length": "10 ± 0 ft", "drain.floor_falls": "1.5 ± 0 in"}), spec: set{"drain.outlet_height": "4 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "D-03", name: "only the recess saves it", set: iron(set{"drain.run_length": "10 ± 0 ft", "drain.rim_height": "-2 ± 0 in"}), spec: set{"drain.outlet_height": "4 in"}, want: Confirm},
	{id: "D-03", name: "3 in pipe at 1/8", machine: "godwit-c44", set: set{"drain.run_length": "20 ft"}, want: OK, shows: "S = 1/8 in/ft (1.04 %)"},
	{id: "D-03", name: "3 in pipe, UPC", machine: "godwit-c44", set: set{"drain.run_length": "20 ft", "codes.plumbing": "upc"}, want: Fix, shows: "S = 1/4 in/ft (2.08 %)"},
	{id: "D-03", name: "another code", set: exact(set{"codes.plumbing": "other"}), want: Confirm},
	{id: "D-03", name: "another code, no fall at all", set: exact(set{"codes.plumbing": "other", "drain.rim_height": "6 ± 0 in"}), want: Fix},
	{id: "D-03", name: "how it ends not told: an air break would do", set: iron(set{"drain.run_length": "10 ± 0 ft", "drain.connection": "unknown"}), spec: set{"drain.outlet_height": "4 in"}, source: fallCases + ", F02 and F09", want: Missing},
	{id: "D-03", name: "pump", machine: pumped, want: NA},
	{id: "D-03", name: "no rim height", set: set{"drain.rim_height": "unknown"}, want: Missing},
	{id: "D-03", name: "no code", set: set{"codes.plumbing": "unknown"}, want: Missing},
	{id: "D-03", name: "sheet silent", spec: set{"drain.outlet_height": ""}, want: Missing},

	{id: "D-04", name: "just below", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.air_gap": "3.21 ± 0 in"}, want: Fix},
	{id: "D-04", name: "at", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.air_gap": "3.22 ± 0 in"}, source: fallCases + ", F08", want: OK, margin: "0 in (0 mm) to spare"},
	{id: "D-04", name: "just above", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.air_gap": "3.23 ± 0 in"}, want: OK},
	{id: "D-04", name: "within the tape's uncertainty", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.air_gap": "3-1/4 in"}, want: Confirm},
	{id: "D-04", name: "in millimetres", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "DN 40", "drain.air_gap": "81 ± 0 mm"}, want: Fix},
	{id: "D-04", name: "1 in governs", machine: pumped, set: set{"drain.pipe_material": "copper", "drain.pipe_size": "3/8 in", "drain.air_gap": "1 ± 0 in"}, source: fallCases + ", F05", want: OK, shows: "g_min = 1 in (25 mm)"},
	{id: "D-04", name: "1 in governs, less", machine: pumped, set: set{"drain.pipe_material": "copper", "drain.pipe_size": "3/8 in", "drain.air_gap": "0.98 ± 0 in"}, want: Fix},
	{id: "D-04", name: "1 in as printed in millimetres", machine: pumped, set: set{"drain.pipe_material": "copper", "drain.pipe_size": "3/8 in", "drain.air_gap": "25 ± 0 mm"}, source: "city adoption of IPC 802.3.1: not less than 1 inch (25 mm)", want: OK, shows: "g_min = 1 in (25 mm)"},
	{id: "D-04", name: "not measured", set: set{"drain.air_gap": "unknown"}, want: Confirm},
	{id: "D-04", name: "material unknown, the narrowest would do", set: set{"drain.pipe_material": "unknown", "drain.air_gap": "4.13 ± 0 in"}, want: Confirm, shows: "g_min = 4.13 in (105 mm)"},
	{id: "D-04", name: "material unknown, at the narrowest", set: set{"drain.pipe_material": "unknown", "drain.air_gap": "3.92 ± 0 in"}, source: "CISPI 301 bore of 2 in, from memory: 1.96 in", want: Confirm},
	{id: "D-04", name: "material unknown, too small for any", set: set{"drain.pipe_material": "unknown", "drain.air_gap": "3.91 ± 0 in"}, want: Fix},
	{id: "D-04", name: "direct", set: set{"drain.connection": "direct"}, want: NA},
	{id: "D-04", name: "missing", set: set{"drain.pipe_size": "unknown"}, want: Missing},

	{id: "D-05", name: "just below", set: set{"drain.pipe_size": "1-1/4 in"}, want: Fix, have: "1-1/4 in"},
	{id: "D-05", name: "at", set: set{"drain.pipe_size": "1-1/2 in"}, want: OK},
	{id: "D-05", name: "above", set: set{"drain.pipe_size": "2 in"}, want: OK},
	{id: "D-05", name: "metric name", set: set{"drain.pipe_size": "DN 32"}, want: Fix},
	{id: "D-05", name: "pump", machine: pumped, set: set{"drain.pipe_size": "1/2 in"}, want: Fix},
	{id: "D-05", name: "missing", set: set{"drain.pipe_size": "unknown"}, want: Missing},

	{id: "D-06", name: "UPC, below 2 in", machine: pumped, set: set{"drain.receptor_outlet": "1-1/2 in"}, source: "UPC Table 703.2 footnote: no washer of more than 1 DFU on 1-1/2 in", want: Fix},
	{id: "D-06", name: "UPC, at 2 in", machine: pumped, set: set{"drain.receptor_outlet": "2 in"}, want: OK},
	{id: "D-06", name: "IPC standpipe of 1-1/2 in", machine: pumped, set: set{"codes.plumbing": "ipc", "drain.receptor_outlet": "1-1/2 in"}, want: OK},
	{id: "D-06", name: "IPC floor sink of 1-1/2 in", machine: pumped, set: set{"codes.plumbing": "ipc", "drain.receptor": "floor-sink", "drain.receptor_outlet": "DN 40"}, source: "IPC Table 709.1, from memory: floor drain, 2 in trap", want: Fix},
	{id: "D-06", name: "smaller than the line", set: set{"drain.pipe_size": "3 in", "drain.receptor_outlet": "2-1/2 in"}, want: Fix, shows: "least = 3 in (DN 80)"},
	{id: "D-06", name: "as the line", set: set{"drain.pipe_size": "3 in", "drain.receptor_outlet": "3 in"}, want: OK},
	{id: "D-06", name: "no receptor", set: set{"drain.receptor": "none"}, want: NA},
	{id: "D-06", name: "missing", set: set{"drain.receptor_outlet": "unknown"}, want: Missing},

	// The Avocet's dump peaks at 7.732124 gpm; 1-1/2 in PVC at 1/4 in/ft carries 12.867681 gpm full.
	{id: "D-07", name: "just below", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "5.13 gpm"}), want: OK},
	{id: "D-07", name: "at", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "5.135556798234 gpm"}), want: OK, margin: "0 gpm (0 L/min) below the limit"},
	{id: "D-07", name: "just above", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "5.14 gpm"}), want: Fix},
	{id: "D-07", name: "in litres", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "20 L/min"}), want: Fix},
	{id: "D-07", name: "the height allows a steeper line", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.tempering_flow": "5.14 gpm"}), want: Confirm, shows: "S_here = 1-3/4 in/ft (14.6 %)"},
	{id: "D-07", name: "tempering within its uncertainty", set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "5.1 ± 0.1 gpm"}), want: Confirm},
	{id: "D-07", name: "peak of a dump", spec: set{"drain.tank_area": "1 ft²", "drain.tank_depth": "6 in", "drain.discharge_coefficient": "0.61"}, source: tankCases + ", T02: 19.058 gpm", want: OK, shows: "Q_m = 19.1 gpm (72.1 L/min)"},
	{id: "D-07", name: "time of a dump", spec: set{"drain.tank_area": "1 ft²", "drain.tank_depth": "6 in", "drain.discharge_coefficient": "0.61"}, source: tankCases + ", T02: 23.551 s", want: OK, shows: "t = 23.6 s"},
	{id: "D-07", name: "full bore", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in"}, source: pipeCases + ": 12.8677 gpm", want: OK, shows: "Q full = 12.9 gpm (48.7 L/min)"},
	{id: "D-07", name: "half of it", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in"}, source: nspcK, want: OK, shows: "Q half = 6.43 gpm (24.4 L/min)"},
	{id: "D-07", name: "two-thirds", set: set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in"}, source: pipeCases + ": 10.0867 gpm", want: OK, shows: "Q two-thirds = 10.1 gpm (38.2 L/min)"},
	{id: "D-07", name: "coefficient assumed", spec: set{"drain.discharge_coefficient": "unknown"}, want: OK, shows: "C_d = 0.61"},
	{id: "D-07", name: "coefficient assumed, too much", spec: set{"drain.discharge_coefficient": "unknown"}, set: exact(set{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.run_length": "14 ± 0 ft", "drain.tempering_flow": "20 gpm"}), want: Confirm},
	{id: "D-07", name: "pump", machine: pumped, want: NA},
	{id: "D-07", name: "missing", set: set{"drain.tempering_flow": "unknown"}, want: Missing},
	{id: "D-07", name: "sheet silent", spec: set{"drain.tank_depth": ""}, want: Missing},

	// 3 in cast iron at 1/8 in/ft carries 19.527509 gpm half full and 39.055018 gpm full.
	{id: "D-08", name: "just below half full", set: set{"drain.tempering_flow": "11.79 gpm"}, want: OK},
	{id: "D-08", name: "at half full", set: set{"drain.tempering_flow": "11.795385013870 gpm"}, source: pipeCases + ": 19.5275 gpm", want: OK, margin: "0 gpm (0 L/min) below the limit"},
	{id: "D-08", name: "just above half full", set: set{"drain.tempering_flow": "11.8 gpm"}, want: Confirm},
	{id: "D-08", name: "at full", set: set{"drain.tempering_flow": "31.322894184431 gpm"}, want: Confirm},
	{id: "D-08", name: "above full", set: set{"drain.tempering_flow": "25 gpm", "drain.shares": "unknown", "drain.shares[0].name": "hand sink", "drain.shares[0].flow": "6.33 gpm"}, want: Fix},
	{id: "D-08", name: "a share in litres", machine: pumped, set: set{"drain.shares": "unknown", "drain.shares[0].name": "three-compartment sink", "drain.shares[0].flow": "90 L/min"}, want: Fix, shows: "Q_1 = 23.8 gpm (90 L/min)"},
	{id: "D-08", name: "2 in cast iron, full", set: set{"drain.receptor_outlet": "2 in", "drain.tempering_flow": "0 gpm"}, source: pipeCases + ": 18.3977 gpm", want: OK, shows: "Q full = 18.4 gpm (69.6 L/min)"},
	{id: "D-08", name: "no receptor", set: set{"drain.receptor": "none"}, want: NA},
	{id: "D-08", name: "shares not asked", set: set{"drain.shares": "unknown"}, want: Missing},
	{id: "D-08", name: "a share's flow missing", set: set{"drain.shares": "unknown", "drain.shares[0].name": "ice machine"}, want: Missing},

	{id: "D-09", name: "just below", machine: pumped, spec: set{"drain.temperature": "139.9 °F"}, want: OK},
	{id: "D-09", name: "at", machine: pumped, spec: set{"drain.temperature": "140 °F"}, want: OK, margin: "0 °F (0 °C) below the limit"},
	{id: "D-09", name: "just above", machine: pumped, spec: set{"drain.temperature": "140.1 °F"}, want: Fix},
	{id: "D-09", name: "in Celsius", machine: pumped, spec: set{"drain.temperature": "61 °C"}, want: Fix},
	{id: "D-09", name: "metal line, plastic at the receptor", machine: pumped, spec: set{"drain.temperature": "150 °F"}, set: set{"drain.pipe_material": "copper"}, want: Fix},
	{id: "D-09", name: "metal throughout", machine: pumped, spec: set{"drain.temperature": "180 °F"}, set: set{"drain.pipe_material": "copper", "drain.receptor_outlet_material": "cast-iron"}, want: OK},
	{id: "D-09", name: "CPVC", machine: pumped, spec: set{"drain.temperature": "181 °F"}, set: set{"drain.pipe_material": "cpvc", "drain.receptor_outlet_material": "cast-iron"}, want: Fix, shows: "T_max = 180 °F (82.2 °C)"},
	{id: "D-09", name: "tempered", machine: pumped, spec: set{"drain.temperature": "180 °F"}, set: set{"drain.tempering_flow": "2 gpm", "water.cold.summer_temperature": "60 ± 0 °F", "water.cold.temperature": "58 ± 0 °F"}, source: temperRow, want: OK, shows: "T = 140 °F (60 °C)"},
	{id: "D-09", name: "tempered, within the thermometer's uncertainty", machine: pumped, spec: set{"drain.temperature": "180 °F"}, set: set{"drain.tempering_flow": "2 gpm", "water.cold.summer_temperature": "60 °F", "water.cold.temperature": "58 °F"}, want: Confirm},
	{id: "D-09", name: "cooled brewing water", machine: pumped, spec: set{"drain.temperature": "100 °C", "drain.pump_flow": "5 L/min"}, set: set{"drain.tempering_flow": "1.153 L/min", "water.cold.summer_temperature": "20 ± 0 °C", "water.cold.temperature": "20 ± 0 °C", "drain.pipe_material": "copper", "drain.receptor_outlet_material": "cast-iron"}, source: coolBrew, want: OK, shows: "T = 185 °F (85 °C)"},
	{id: "D-09", name: "tempering unknown", machine: pumped, spec: set{"drain.temperature": "150 °F"}, set: set{"drain.tempering_flow": "unknown"}, want: Missing},
	{id: "D-09", name: "tempering unknown but cool", machine: pumped, set: set{"drain.tempering_flow": "unknown"}, want: OK},
	{id: "D-09", name: "material unknown", machine: pumped, spec: set{"drain.temperature": "150 °F"}, set: set{"drain.pipe_material": "unknown"}, want: Missing},

	{id: "D-10", name: "just below", machine: pumped, set: set{"codes.sewer_limit": "130.1 °F"}, want: OK},
	{id: "D-10", name: "at", machine: pumped, set: set{"codes.sewer_limit": "130 °F"}, want: OK, margin: "0 °F (0 °C) below the limit"},
	{id: "D-10", name: "just above", machine: pumped, set: set{"codes.sewer_limit": "129.9 °F"}, want: Fix},
	{id: "D-10", name: "local limit of 120 °F", machine: pumped, set: set{"codes.sewer_limit": "120 °F"}, want: Fix, margin: "10 °F (5.6 °C) over the limit"},
	{id: "D-10", name: "no local limit known", machine: pumped, set: set{"codes.sewer_limit": "unknown"}, want: OK, shows: "T_max = 140 °F (60 °C)"},
	{id: "D-10", name: "2 cold per hot, at", machine: pumped, spec: set{"drain.temperature": "100 °C"}, set: set{"codes.sewer_limit": "40 °C", "drain.tempering_flow": "8 gpm", "water.cold.summer_temperature": "10 ± 0 °C", "water.cold.temperature": "10 ± 0 °C"}, source: mixExample, want: OK, shows: "T = 104 °F (40 °C)"},
	{id: "D-10", name: "2 cold per hot, just less", machine: pumped, spec: set{"drain.temperature": "100 °C"}, set: set{"codes.sewer_limit": "40 °C", "drain.tempering_flow": "7.98 gpm", "water.cold.summer_temperature": "10 ± 0 °C", "water.cold.temperature": "10 ± 0 °C"}, want: Fix},
	{id: "D-10", name: "within the thermometer's uncertainty", set: set{"drain.tempering_flow": "1.1 gpm"}, want: Confirm},
	{id: "D-10", name: "cold water too warm to cool", machine: pumped, spec: set{"drain.temperature": "150 °F"}, set: set{"codes.sewer_limit": "90 °F", "drain.tempering_flow": "8 gpm", "water.cold.summer_temperature": "92 ± 0 °F"}, want: Fix},
	{id: "D-10", name: "another code without a local limit", set: set{"codes.sewer_limit": "unknown", "codes.plumbing": "other", "drain.tempering_flow": "0 gpm"}, want: Confirm},
	{id: "D-10", name: "UPC without a local limit", set: set{"codes.sewer_limit": "unknown", "codes.plumbing": "upc", "drain.tempering_flow": "0 gpm"}, source: "UPC 810.1, exam text: 140 °F", want: Fix},
	{id: "D-10", name: "summer temperature missing", set: set{"water.cold.summer_temperature": "unknown"}, want: Missing},
	{id: "D-10", name: "tempering missing", set: set{"drain.tempering_flow": "unknown"}, want: Missing},

	{id: "D-11", name: "IPC, at 30 in", set: set{"drain.run_length": "30 ± 0 in"}, source: "IPC 802.3, city adoption: trap over 30 in horizontally or 54 in in all", want: OK, margin: "0 in (0 mm) below the limit"},
	{id: "D-11", name: "IPC, just over 30 in", set: set{"drain.run_length": "30.1 ± 0 in"}, want: Confirm},
	{id: "D-11", name: "IPC, at 54 in", set: set{"drain.run_length": "54 ± 0 in"}, want: Confirm},
	{id: "D-11", name: "IPC, just over 54 in", set: set{"drain.run_length": "54.1 ± 0 in"}, want: Fix},
	{id: "D-11", name: "IPC, in metres", set: set{"drain.run_length": "1.4 ± 0 m"}, want: Fix},
	{id: "D-11", name: "IPC, long with a trap", set: set{"drain.run_length": "8 ft", "drain.trap": "yes"}, want: OK},
	{id: "D-11", name: "UPC, just below 5 ft", machine: "dunlin-u24", set: set{"drain.run_length": "4.99 ± 0 ft"}, want: OK},
	{id: "D-11", name: "UPC, at 5 ft", machine: "dunlin-u24", set: set{"drain.run_length": "5 ± 0 ft"}, source: "UPC 803.3 (2019): over 5 ft and under 15 ft trapped", want: OK},
	{id: "D-11", name: "UPC, just over 5 ft", machine: "dunlin-u24", set: set{"drain.run_length": "5.01 ± 0 ft"}, want: Fix},
	{id: "D-11", name: "UPC, within the tape's uncertainty", machine: "dunlin-u24", set: set{"drain.run_length": "5 ft"}, want: Confirm},
	{id: "D-11", name: "another code", machine: "knot-c400", want: Confirm},
	{id: "D-11", name: "as printed in millimetres", set: set{"drain.run_length": "1372 ± 0 mm"}, source: "city adoption of IPC 802.3: 54 inches (1372 mm), which are 54.02 in", want: Confirm},
	{id: "D-11", name: "room for the trap, at", set: iron(set{"drain.trap": "yes", "drain.run_length": "8 ± 0 ft"}), spec: set{"drain.outlet_height": "3.5 in"}, source: "geometry: a seal of 2 in and a bore of 1.50 in hang below the outlet", want: OK, shows: "h_t = 3-1/2 in (89 mm)"},
	{id: "D-11", name: "room for the trap, just less", set: iron(set{"drain.trap": "yes", "drain.run_length": "8 ± 0 ft"}), spec: set{"drain.outlet_height": "3.4 in"}, source: "the same", want: Confirm},
	{id: "D-11", name: "short, trap not asked", set: set{"drain.trap": "unknown", "drain.run_length": "24 in"}, want: OK},
	{id: "D-11", name: "long, trap not asked", set: set{"drain.trap": "unknown", "drain.run_length": "6 ft"}, want: Missing},
	{id: "D-11", name: "missing", set: set{"drain.run_length": "unknown"}, want: Missing},

	{id: "D-12", name: "UPC, just below", machine: "dunlin-u24", set: set{"drain.run_length": "14.99 ± 0 ft"}, want: OK},
	{id: "D-12", name: "UPC, at", machine: "dunlin-u24", set: set{"drain.run_length": "15 ± 0 ft"}, source: "UPC 803.3 (2019): less than 15 ft", want: Fix},
	{id: "D-12", name: "UPC, just above", machine: "dunlin-u24", set: set{"drain.run_length": "15.01 ± 0 ft"}, want: Fix},
	{id: "D-12", name: "UPC, in metres", machine: "dunlin-u24", set: set{"drain.run_length": "4.6 ± 0 m"}, want: Fix},
	{id: "D-12", name: "UPC, within the tape's uncertainty", machine: "dunlin-u24", set: set{"drain.run_length": "15 ft"}, want: Confirm},
	{id: "D-12", name: "IPC, long", set: set{"drain.run_length": "18 ft"}, want: Confirm},
	{id: "D-12", name: "missing", set: set{"drain.run_length": "unknown"}, want: Missing},

	{id: "D-13", name: "both", want: OK},
	{id: "D-13", name: "no vent", set: set{"drain.vent": "no"}, want: Fix},
	{id: "D-13", name: "no trap", set: set{"drain.receptor_trapped": "no"}, want: Fix},
	{id: "D-13", name: "no trap, vent not asked", set: set{"drain.receptor_trapped": "no", "drain.vent": "unknown"}, want: Fix},
	{id: "D-13", name: "missing", set: set{"drain.vent": "unknown"}, want: Missing},

	{id: "D-14", name: "IPC 3 in, just below", set: set{"drain.trap_to_vent": "11.99 ± 0 ft"}, want: OK},
	{id: "D-14", name: "IPC 3 in, at", set: set{"drain.trap_to_vent": "12 ± 0 ft"}, source: "IPC Table 909.1: 3 in, 12 ft", want: OK, margin: "0 in (0 mm) below the limit"},
	{id: "D-14", name: "IPC 3 in, just above", set: set{"drain.trap_to_vent": "12.01 ± 0 ft"}, want: Fix},
	{id: "D-14", name: "IPC 2 in, at", set: set{"drain.receptor_outlet": "2 in", "drain.trap_to_vent": "8 ± 0 ft"}, source: "IPC Table 909.1: 2 in, 8 ft", want: OK},
	{id: "D-14", name: "UPC 2 in, at", machine: pumped, set: set{"drain.trap_to_vent": "5 ± 0 ft"}, source: "UPC Table 1002.2: 2 in, 5 ft", want: OK},
	{id: "D-14", name: "UPC 2 in, in metres", machine: pumped, set: set{"drain.trap_to_vent": "1.53 ± 0 m"}, want: Fix},
	{id: "D-14", name: "UPC 3 in, above", machine: pumped, set: set{"drain.receptor_outlet": "3 in", "drain.trap_to_vent": "6.1 ± 0 ft"}, source: "UPC Table 1002.2: 3 in, 6 ft", want: Fix},
	{id: "D-14", name: "two diameters, just below", machine: pumped, set: set{"drain.trap_to_vent": "4.13 ± 0 in"}, want: Fix},
	{id: "D-14", name: "two diameters, at", machine: pumped, set: set{"drain.trap_to_vent": "4.134 ± 0 in"}, want: OK},
	{id: "D-14", name: "within the tape's uncertainty", machine: pumped, set: set{"drain.trap_to_vent": "5 ft"}, want: Confirm},
	{id: "D-14", name: "another code, short arm", machine: "knot-c400", want: OK},
	{id: "D-14", name: "another code, long arm", machine: "knot-c400", set: set{"drain.trap_to_vent": "4 m"}, want: Confirm},
	{id: "D-14", name: "missing", set: set{"drain.trap_to_vent": "unknown"}, want: Missing},

	{id: "D-15", name: "just below", set: set{"drain.trap_seal": "1.99 in"}, want: Fix},
	{id: "D-15", name: "at the least", set: set{"drain.trap_seal": "2 in"}, source: "IPC 1002.4: 2 to 4 in", want: OK},
	{id: "D-15", name: "at the most", set: set{"drain.trap_seal": "4 in"}, want: OK},
	{id: "D-15", name: "just above", set: set{"drain.trap_seal": "4.02 in"}, want: Fix},
	{id: "D-15", name: "at the most as printed in millimetres", set: set{"drain.trap_seal": "102 mm"}, source: "IPC 1002.4: 4 inches (102 mm)", want: OK},
	{id: "D-15", name: "in millimetres", set: set{"drain.trap_seal": "50 mm"}, want: Fix},
	{id: "D-15", name: "in millimetres, another code", machine: "knot-c400", set: set{"drain.trap_seal": "50 mm"}, want: Confirm},
	{id: "D-15", name: "within the reading's uncertainty", set: set{"drain.trap_seal": "2 ± 1/4 in"}, want: Confirm},
	{id: "D-15", name: "missing", set: set{"drain.trap_seal": "unknown"}, want: Missing},

	{id: "D-16", name: "protected", want: OK},
	{id: "D-16", name: "not protected", set: set{"drain.trap_seal_protected": "no"}, want: Confirm},
	{id: "D-16", name: "missing", set: set{"drain.trap_seal_protected": "unknown"}, want: Missing},

	{id: "D-17", name: "strainer", want: OK},
	{id: "D-17", name: "none", set: set{"drain.strainer": "no"}, want: Fix},
	{id: "D-17", name: "standpipe", machine: pumped, want: NA},
	{id: "D-17", name: "missing", set: set{"drain.strainer": "unknown"}, want: Missing},

	{id: "D-18", name: "within reach", want: OK},
	{id: "D-18", name: "in a closet", set: set{"drain.accessible": "no"}, want: Fix},
	{id: "D-18", name: "missing", set: set{"drain.accessible": "unknown"}, want: Missing},

	{id: "D-19", name: "cleanouts", machine: "dunlin-u24", want: OK},
	{id: "D-19", name: "none, UPC", machine: "dunlin-u24", set: set{"drain.cleanouts": "no", "drain.elbows": "2"}, want: Fix, have: "2 changes"},
	{id: "D-19", name: "none, IPC", set: set{"drain.cleanouts": "no"}, want: Confirm},
	{id: "D-19", name: "straight", set: set{"drain.cleanouts": "no", "drain.elbows": "0"}, want: NA},
	{id: "D-19", name: "missing", set: set{"drain.cleanouts": "unknown"}, want: Missing},

	{id: "D-20", name: "falls", want: OK},
	{id: "D-20", name: "sags", set: set{"drain.falls_throughout": "no"}, want: Fix},
	{id: "D-20", name: "pump", machine: pumped, want: NA},
	{id: "D-20", name: "missing", set: set{"drain.falls_throughout": "unknown"}, want: Missing},

	{id: "D-21", name: "just below", machine: pumped, set: set{"drain.lift": "29.9 ± 0 in"}, want: OK},
	{id: "D-21", name: "at", machine: pumped, set: set{"drain.lift": "30 ± 0 in"}, want: OK, margin: "0 in (0 mm) below the limit"},
	{id: "D-21", name: "just above", machine: pumped, set: set{"drain.lift": "30.1 ± 0 in"}, want: Fix},
	{id: "D-21", name: "in millimetres", machine: pumped, set: set{"drain.lift": "770 ± 0 mm"}, want: Fix},
	{id: "D-21", name: "within the tape's uncertainty", machine: pumped, set: set{"drain.lift": "30 in"}, want: Confirm},
	{id: "D-21", name: "the receptor is higher than the hose was said to be", machine: pumped, set: set{"drain.rim_height": "34 ± 0 in", "drain.lift": "20 ± 0 in"}, want: Fix, shows: "H = 31-1/2 in (800 mm)"},
	{id: "D-21", name: "gravity", want: NA},
	{id: "D-21", name: "missing", machine: pumped, set: set{"drain.lift": "unknown"}, want: Missing},
	{id: "D-21", name: "sheet silent", machine: pumped, spec: set{"drain.pump_lift_max": ""}, want: Missing},

	{id: "D-23", name: "enough", want: OK, shows: "Q_20 = 13.2 gpm (49.8 L/min)"},
	{id: "D-23", name: "no cold line", set: set{"drain.tempering_line": "no"}, want: Fix, have: "no cold-water line"},
	{id: "D-23", name: "no cold connection", set: set{"drain.tempering_line": "unknown", "water.cold.connection": "none"}, want: Fix},
	{id: "D-23", name: "at what the line gives", set: set{"water.cold.static_pressure": "85 ± 0 psi", "water.cold.flowing_pressure": "72 ± 0 psi", "water.cold.flow": "1.1 ± 0 gpm", "drain.tempering_flow": "2.62 gpm", "drain.tempering_backflow": "air-gap"}, source: "NFPA 291 (2010) worked flow test: 85 psi static, 72 residual at 1100, 2623 at 20 psi; here a thousandth", want: OK, shows: "Q_20 = 2.62 gpm (9.93 L/min)"},
	{id: "D-23", name: "the same behind an assembly that loses 12 psi", set: set{"water.cold.static_pressure": "85 ± 0 psi", "water.cold.flowing_pressure": "72 ± 0 psi", "water.cold.flow": "1.1 ± 0 gpm", "drain.tempering_flow": "2.62 gpm"}, source: "the same formula to 32 psi: 1.1 (53 / 13)^0.54 = 2.35; 12 psi common practice, no source", want: Confirm, shows: "Q_g = 2.35 gpm (8.89 L/min)"},
	{id: "D-23", name: "just more than the line gives", set: set{"water.cold.static_pressure": "85 ± 0 psi", "water.cold.flowing_pressure": "72 ± 0 psi", "water.cold.flow": "1.1 ± 0 gpm", "drain.tempering_flow": "2.63 gpm"}, source: "the same", want: Fix},
	{id: "D-23", name: "more in litres", set: set{"water.cold.static_pressure": "85 ± 0 psi", "water.cold.flowing_pressure": "72 ± 0 psi", "water.cold.flow": "1.1 ± 0 gpm", "drain.tempering_flow": "10 L/min"}, source: "the same", want: Fix},
	{id: "D-23", name: "within the readings' uncertainty", set: set{"water.cold.static_pressure": "85 psi", "water.cold.flowing_pressure": "72 psi", "water.cold.flow": "1.1 gpm", "drain.tempering_flow": "2.6 gpm"}, want: Confirm},
	{id: "D-23", name: "too weak", set: set{"water.cold.static_pressure": "18 ± 0 psi", "water.cold.flowing_pressure": "12 ± 0 psi"}, want: Fix},
	{id: "D-23", name: "cold line not read", set: set{"water.cold.flow": "unknown"}, want: Confirm},
	{id: "D-23", name: "a hot-only machine, no cold line told", machine: "dunlin-u24", set: set{"drain.tempering_line": "unknown"}, want: Missing},
	{id: "D-23", name: "a well just before its pump starts", set: set{"water.cold.static_pressure": "62 ± 0 psi", "water.cold.flowing_pressure": "55 ± 0 psi", "water.cold.flow": "2 ± 0 gpm", "water.well_cut_in": "26 psi"}, source: "the same formula with both pressures 36 psi lower, 19 left at 2 gpm", want: Fix},
	{id: "D-23", name: "more than the cold pipe carries at its speed", set: set{"water.cold.pipe_size": "1/2 in", "drain.tempering_flow": "6 gpm"}, source: "Copper Development Association guidance as an engineering reference repeats it (read in a secondary text): 8 ft/s cold, 5.82 gpm in 1/2 in type L", want: Confirm, shows: "Q_v = 5.82 gpm (22 L/min)"},
	{id: "D-23", name: "read in a closed bar", set: set{"water.read_busy": "no"}, want: Confirm},
	{id: "D-23", name: "no cooling", set: set{"drain.tempering_flow": "0 gpm"}, want: NA},
	{id: "D-23", name: "missing", set: set{"drain.tempering_flow": "unknown"}, want: Missing},

	{id: "D-24", name: "all there", want: OK},
	{id: "D-24", name: "no device", set: set{"drain.tempering_backflow": "none"}, want: Fix},
	{id: "D-24", name: "check valve", set: set{"drain.tempering_backflow": "check-valve"}, want: Fix},
	{id: "D-24", name: "double check, for low hazard", set: set{"drain.tempering_backflow": "double-check"}, source: "IPC Table 608.1, hazard column from memory", want: Fix},
	{id: "D-24", name: "nowhere for its relief to go", set: set{"drain.tempering_backflow_drain": "no"}, source: "common practice, no source: a reduced-pressure assembly discharges at its relief port", want: Fix, action: "cooling water's device"},
	{id: "D-24", name: "its relief not told", set: set{"drain.tempering_backflow_drain": "unknown"}, want: Confirm},
	{id: "D-24", name: "an air gap spills nothing and needs no tank", set: set{"drain.tempering_backflow": "air-gap", "drain.tempering_backflow_drain": "unknown"}, want: OK},
	{id: "D-24", name: "vacuum breaker, whose height isn't known", set: set{"drain.tempering_backflow": "pressure-vacuum-breaker"}, want: Confirm},
	{id: "D-24", name: "vacuum breaker just too low", set: set{"drain.tempering_backflow": "pressure-vacuum-breaker", "drain.tempering_backflow_height": "11.9 ± 0 in"}, source: "an irrigation maker's guide (read in a secondary text): 12 in above the highest point downstream", want: Fix, margin: "0.1 in (2.5 mm) short"},
	{id: "D-24", name: "vacuum breaker at its height", set: set{"drain.tempering_backflow": "pressure-vacuum-breaker", "drain.tempering_backflow_height": "12 ± 0 in"}, source: "the same", want: OK},
	{id: "D-24", name: "vacuum breaker high enough, nowhere for its spillage", set: set{"drain.tempering_backflow": "spill-resistant-vacuum-breaker", "drain.tempering_backflow_height": "310 ± 0 mm", "drain.tempering_backflow_drain": "no"}, want: Fix},
	{id: "D-24", name: "atmospheric, high enough: last before the drain?", set: set{"drain.tempering_backflow": "atmospheric-vacuum-breaker", "drain.tempering_backflow_height": "7 ± 0 in", "drain.tempering_backflow_drain": "unknown"}, source: "ASSE 1001, read in a secondary text: 6 in above, downstream of the last valve", want: Confirm, action: "last thing before the drain"},
	{id: "D-24", name: "atmospheric, too low", set: set{"drain.tempering_backflow": "atmospheric-vacuum-breaker", "drain.tempering_backflow_height": "5 ± 0 in"}, source: "the same", want: Fix},
	{id: "D-24", name: "no valve", set: set{"drain.tempering_valve": "none"}, want: Fix},
	{id: "D-24", name: "hand valve", set: set{"drain.tempering_valve": "hand"}, want: Confirm},
	{id: "D-24", name: "no shut-off", set: set{"drain.tempering_shut_off": "no"}, want: Fix},
	{id: "D-24", name: "nothing read", set: set{"drain.tempering_backflow": "unknown", "drain.tempering_valve": "unknown", "drain.tempering_shut_off": "unknown"}, want: Confirm},
	{id: "D-24", name: "no cooling", set: set{"drain.tempering_flow": "0 gpm"}, want: NA},
	{id: "D-24", name: "missing", set: set{"drain.tempering_flow": "unknown"}, want: Missing},

	{id: "D-25", name: "loop", machine: pumped, want: OK},
	{id: "D-25", name: "no loop", machine: pumped, set: set{"drain.high_loop": "no"}, want: Fix},
	{id: "D-25", name: "not seen", machine: pumped, set: set{"drain.high_loop": "unknown"}, want: Confirm},
	{id: "D-25", name: "just above the tank's water", machine: pumped, set: set{"drain.lift": "6.1 ± 0 in", "drain.high_loop": "unknown"}, spec: set{"drain.tank_depth": "6 in"}, source: "geometry of a siphon", want: OK},
	{id: "D-25", name: "at the tank's water", machine: pumped, set: set{"drain.lift": "6 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink"}, spec: set{"drain.tank_depth": "6 in"}, source: "the same", want: Fix},
	{id: "D-25", name: "below it, whatever was said", machine: pumped, set: set{"drain.lift": "100 ± 0 mm", "drain.rim_height": "0 in", "drain.receptor": "floor-sink"}, spec: set{"drain.tank_depth": "6 in"}, source: "the same", want: Fix},
	{id: "D-25", name: "above the water, its end below: siphons once filled", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "unknown"}, spec: set{"drain.tank_depth": "9 in"}, source: "specs/trade Hose, geometry of a siphon", want: Confirm},
	{id: "D-25", name: "the same with a vent", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "yes"}, spec: set{"drain.tank_depth": "9 in"}, source: "the same", want: OK},
	{id: "D-25", name: "the same without one", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "no"}, spec: set{"drain.tank_depth": "9 in"}, source: "the same", want: Fix},
	{id: "D-25", name: "a loop, its end below the outlet, depth of water not stated", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "unknown"}, source: "home inspectors' guidance (read in a secondary text): a drain hose that ends low is vented against siphoning", want: Confirm},
	{id: "D-25", name: "the same, vented", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "yes"}, source: "the same", want: OK},
	{id: "D-25", name: "the same, no vent", machine: pumped, set: set{"drain.lift": "20 ± 0 in", "drain.rim_height": "0 in", "drain.receptor": "floor-sink", "drain.hose_vent": "no"}, source: "the same", want: Fix},
	{id: "D-25", name: "gravity", want: NA},
	{id: "D-25", name: "missing", machine: pumped, set: set{"drain.high_loop": "unknown", "drain.lift": "unknown"}, want: Missing},

	{id: "D-22", name: "UPC, just below the least", machine: pumped, set: set{"drain.standpipe_height": "17.9 ± 0 in"}, want: Fix},
	{id: "D-22", name: "UPC, its trap just too low", machine: pumped, set: set{"drain.rim_height": "28 ± 0 in", "drain.standpipe_height": "22.1 ± 0 in"}, source: upcTrap, want: Fix, have: "trap weir 5.9 in"},
	{id: "D-22", name: "UPC, its trap at the least", machine: pumped, set: set{"drain.rim_height": "28 ± 0 in", "drain.standpipe_height": "22 ± 0 in"}, source: upcTrap, want: OK},
	{id: "D-22", name: "UPC, its trap below the floor", machine: pumped, set: set{"drain.rim_height": "20 in", "drain.standpipe_height": "24 in"}, source: upcTrap, want: Fix},
	{id: "D-22", name: "UPC, its trap at the most", machine: pumped, set: set{"drain.rim_height": "38 ± 0 in", "drain.standpipe_height": "20 ± 0 in"}, source: upcTrap, want: OK},
	{id: "D-22", name: "UPC, its trap's weir above the most, its lowest point not", machine: pumped, set: set{"drain.rim_height": "40 ± 0 in", "drain.standpipe_height": "20 ± 0 in"}, source: upcTrap, want: Confirm},
	{id: "D-22", name: "UPC, all of its trap too high, metric", machine: pumped, set: set{"drain.rim_height": "1200 ± 0 mm", "drain.standpipe_height": "500 ± 0 mm"}, source: upcTrap, want: Fix},
	{id: "D-22", name: "IPC bounds no trap", machine: pumped, set: set{"drain.rim_height": "20 in", "drain.standpipe_height": "24 in", "codes.plumbing": "ipc"}, want: OK},
	{id: "D-22", name: "UPC, rim not measured", machine: pumped, set: set{"drain.rim_height": "unknown"}, want: Missing},
	{id: "D-22", name: "UPC, at the least", machine: pumped, set: set{"drain.standpipe_height": "18 ± 0 in"}, source: "UPC 804.1: 18 to 30 in above the trap", want: OK},
	{id: "D-22", name: "UPC, at the most", machine: pumped, set: set{"drain.standpipe_height": "30 ± 0 in", "drain.rim_height": "38 in"}, source: "UPC 804.1: 18 to 30 in above the trap", want: OK},
	{id: "D-22", name: "UPC, just above the most", machine: pumped, set: set{"drain.standpipe_height": "30.1 ± 0 in"}, want: Fix},
	{id: "D-22", name: "IPC, at the most", machine: pumped, set: set{"drain.standpipe_height": "42 ± 0 in", "codes.plumbing": "ipc"}, source: "IPC 802.4, read in a secondary text: 18 to 42 in", want: OK},
	{id: "D-22", name: "IPC, in millimetres", machine: pumped, set: set{"drain.standpipe_height": "1070 ± 0 mm", "codes.plumbing": "ipc"}, want: Fix},
	{id: "D-22", name: "IPC, as printed in millimetres", machine: pumped, set: set{"drain.standpipe_height": "1067 ± 0 mm", "codes.plumbing": "ipc"}, source: "42 inches (1067 mm), which are 42.01 in", want: OK},
	{id: "D-22", name: "UPC, as printed in millimetres", machine: pumped, set: set{"drain.standpipe_height": "457 ± 0 mm"}, source: "UPC 804.1: eighteen inches (457 mm), which are 17.99 in", want: OK},
	{id: "D-22", name: "within the tape's uncertainty", machine: pumped, set: set{"drain.standpipe_height": "30 in", "drain.rim_height": "38 in"}, want: Confirm},
	{id: "D-22", name: "another code, above", machine: pumped, set: set{"drain.standpipe_height": "36 in", "codes.plumbing": "other"}, want: Confirm},
	{id: "D-22", name: "missing", machine: pumped, set: set{"drain.standpipe_height": "unknown"}, want: Missing},
}

// TestDrainRemedies sees a proven remedy for every drain fault of the rows that
// work on site can cure.
func TestDrainRemedies(t *testing.T) {
	t.Parallel()
	incurable := map[string]string{
		"another code, no fall at all":       "the authority must rule on the slope, whatever is changed",
		"cold water too warm to cool":        "no flow of water at 92 °F brings the discharge to 90 °F",
		"too weak":                           "the building's pressure is no matter of the drain",
		"a well just before its pump starts": "less water would cool, and an assembly leaves nothing of 26 psi",
	}
	for _, r := range drainRows {
		if r.want != Fix {
			continue
		}
		t.Run(r.id+" "+r.name, func(t *testing.T) {
			s, m := r.laid(t)
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{ByID(r.id)}}).Findings[0]
			switch why, none := incurable[r.name]; {
			case none && len(f.Remedies) > 0:
				t.Errorf("%s, yet there is %q", why, f.Remedies[0].Change)
			case !none && len(f.Remedies) == 0:
				t.Errorf("no remedy; have %s, want %s", f.Have, f.Want)
			}
			for _, rem := range f.Remedies {
				t.Log(rem.Change, rem.Set)
			}
		})
	}
}

// TestOneDrain sees that the first remedies of a drain's faults fit each other:
// no answer is set to two values, and doing them all leaves no fault that one
// of them could cure, whatever comes together.
func TestOneDrain(t *testing.T) {
	t.Parallel()
	ids := []string{"D-03", "D-04", "D-05", "D-06", "D-07", "D-08", "D-09", "D-10", "D-11", "D-21", "D-22", "D-23", "D-24", "D-25"}
	var checks []*Check
	for _, id := range ids {
		checks = append(checks, ByID(id))
	}
	found, m := row{}.laid(t)
	n, faults := 0, 0
	for _, size := range []string{"1-1/4 in", "1-1/2 in", "2 in"} {
		for _, material := range []string{"pvc", "copper", "cast-iron"} {
			for _, run := range []string{"2 ft", "13 ft"} {
				for _, rim := range []string{"0 in", "3 in"} {
					for _, gap := range []string{"1 in", "6 in"} {
						for _, cold := range []string{"0 gpm", "6 gpm"} {
							n++
							code := []string{"ipc", "upc"}[n%2]
							faults += oneDrain(t, found.Clone(), m, checks, set{"drain.pipe_size": size, "drain.pipe_material": material, "drain.run_length": run, "drain.rim_height": rim, "drain.air_gap": gap,
								"drain.tempering_flow": cold, "codes.plumbing": code, "drain.receptor_outlet": "2 in", "drain.receptor_outlet_material": "pvc"})
						}
					}
				}
			}
		}
	}
	t.Logf("%d drains, %d faults", n, faults)
	if faults < n {
		t.Errorf("only %d faults on %d drains", faults, n)
	}
}

func oneDrain(t *testing.T, s *survey.Survey, m *specs.Machine, checks []*Check, laid set) (faults int) {
	if err := s.Apply(laid); err != nil {
		t.Fatal(err)
	}
	f := Evaluate(s, m, Options{Today: today, OnlyCheck: checks})
	all := set{}
	var cured []string
	for _, x := range f.Findings {
		if x.Verdict != Fix {
			continue
		}
		faults++
		if len(x.Remedies) == 0 {
			t.Errorf("%v: %s has no remedy: %s, want %s", laid, x.ID, x.Have, x.Want)
			continue
		}
		cured = append(cured, x.ID)
		for path, v := range x.Remedies[0].Set {
			if was, twice := all[path]; twice && was != v {
				t.Errorf("%v: %s is told %s and, by %s, %s", laid, path, was, x.ID, v)
			}
			all[path] = v
		}
	}
	if err := s.Apply(all); err != nil {
		t.Fatal(err)
	}
	for _, x := range Evaluate(s, m, Options{Today: today, OnlyCheck: checks, NoRemedy: true}).Findings {
		if x.Verdict == Fix {
			t.Errorf("%v: after %v (%v) %s is left: %s, want %s", laid, all, cured, x.ID, x.Have, x.Want)
		}
	}
	return faults
}

// TestStandUnderCounter sees that a stand that the counter doesn't allow comes
// with the counter raised, and behind the ways that leave it alone.
func TestStandUnderCounter(t *testing.T) {
	s, m := row{set: set{"drain.floor_falls": "-6 in", "space.opening_height": "37 in", "space.counter_height": "39 in"}}.laid(t)
	f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{DrainFall, OpeningHeight}})
	d := f.Finding("D-03")
	if d.Verdict != Fix || len(d.Remedies) == 0 || f.Finding("S-02").Verdict != OK {
		t.Fatalf("D-03 %v with %d remedies, S-02 %v", d.Verdict, len(d.Remedies), f.Finding("S-02").Verdict)
	}
	for _, rem := range d.Remedies {
		if len(rem.Breaks) > 0 {
			t.Errorf("%q breaks %v", rem.Change, rem.Breaks)
		}
		t.Log(rem.Change)
	}
}

// TestDrainCites sees that a site is told the clauses of its own plumbing code.
func TestDrainCites(t *testing.T) {
	for code, other := range map[string]string{"ipc": "UPC", "upc": "IPC"} {
		for _, key := range []string{"avocet-r36", pumped} {
			s, m := row{machine: key, set: set{"codes.plumbing": code}}.laid(t)
			j := check.Evaluate(drain, s, m, check.Options{Today: today})
			for _, f := range j.Report(false).Findings {
				for _, src := range f.Cites {
					if strings.HasPrefix(src.Document, other) {
						t.Errorf("%s at a site under the %s cites %v", f.ID, code, src)
					}
				}
			}
		}
	}
}

// TestStandpipeWays sees a standpipe's height cured by moving its rim, or by
// moving its trap where that stays above the floor, and as the pump allows.
func TestStandpipeWays(t *testing.T) {
	for _, r := range []struct {
		name  string
		set   set
		ways  []set // of D-22, beside others
		never bool  // its trap moved alone
	}{
		{"too short: rim up, or trap down", set{"codes.plumbing": "ipc", "drain.rim_height": "28 in", "drain.standpipe_height": "16 in"},
			[]set{{"drain.standpipe_height": "19 in", "drain.rim_height": "31 in"}, {"drain.standpipe_height": "19 in"}}, false},
		{"too short, its trap at the floor: rim up only", set{"codes.plumbing": "ipc", "drain.rim_height": "20 in", "drain.standpipe_height": "16 in"},
			[]set{{"drain.standpipe_height": "19 in", "drain.rim_height": "23 in"}}, true},
		{"too short, and the pump lifts no higher: trap down only", set{"codes.plumbing": "ipc", "drain.rim_height": "32 in", "drain.standpipe_height": "16 in"},
			[]set{{"drain.standpipe_height": "19 in"}}, false},
		{"UPC, trap too low: both up", set{"drain.rim_height": "22 in", "drain.standpipe_height": "18-1/2 in"},
			[]set{{"drain.rim_height": "25 in"}}, false},
	} {
		s, m := row{machine: pumped, set: r.set}.laid(t)
		f := Evaluate(s, m, Options{Today: today}).Finding("D-22")
		if f.Verdict != Fix {
			t.Errorf("%s: %v, have %s", r.name, f.Verdict, f.Have)
		}
		for _, want := range r.ways {
			found := false
			for _, rem := range f.Remedies {
				found = found || maps.Equal(rem.Set, want) && len(rem.Breaks) == 0
			}
			if !found {
				t.Errorf("%s: no way %v among %v", r.name, want, f.Remedies)
			}
		}
		for _, rem := range f.Remedies {
			if r.never && len(rem.Set) == 1 {
				t.Errorf("%s: offers %v", r.name, rem.Set)
			}
		}
	}
}
