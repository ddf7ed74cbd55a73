package rules

import (
	"math"
	"testing"

	"firstfill/survey/quantity"
)

// oneDoor and the like replace the way in by a single passage.
func oneDoor(width, height string) set {
	return set{"space.path": "[]", "space.path[0].kind": "door", "space.path[0].clear_width": width, "space.path[0].clear_height": height}
}

func oneTurn(before, after string) set {
	return set{"space.path": "[]", "space.path[0].kind": "turn", "space.path[0].clear_width": before, "space.path[0].width_after": after}
}

func oneStair(more set) set {
	s := set{"space.path": "[]", "space.path[0].kind": "stair", "space.path[0].clear_width": "48 ± 0 in", "space.path[0].steps": "8"}
	for p, v := range more {
		s[p] = v
	}
	return s
}

// oneWay is a way in of one passage of a kind.
func oneWay(kind string, more set) set {
	s := set{"space.path": "[]", "space.path[0].kind": kind}
	for name, v := range more {
		s["space.path[0]."+name] = v
	}
	return s
}

func oneLift(width, depth, height, capacity string) set {
	return set{"space.path": "[]", "space.path[0].kind": "lift", "space.path[0].clear_width": width, "space.path[0].clear_depth": depth,
		"space.path[0].clear_height": height, "space.path[0].capacity": capacity}
}

// goods says that nobody may ride in the lift.
func goods(s set) set {
	s["space.path[0].passengers"] = "no"
	return s
}

// The crate of the Avocet R36 is 40 x 29 x 40 in and weighs 265 lb; the machine
// itself is 36 x 25 x 33 in and weighs 210 lb.
var spaceRows = []row{
	{id: "S-01", name: "just below", set: set{"space.opening_width": "37.9 ± 0 in"}, want: Fix, margin: "0.1 in (2.5 mm) short"},
	{id: "S-01", name: "at", set: set{"space.opening_width": "38 ± 0 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-01", name: "just above", set: set{"space.opening_width": "38.1 ± 0 in"}, want: OK},
	{id: "S-01", name: "within the tape's uncertainty", set: set{"space.opening_width": "38 in"}, want: Confirm},
	{id: "S-01", name: "in mm", set: set{"space.opening_width": "965 ± 0 mm"}, want: Fix, have: "965 ± 0 mm"},
	{id: "S-01", name: "in mm, met", set: set{"space.opening_width": "966 ± 0 mm"}, want: OK},
	{id: "S-01", name: "missing", set: set{"space.opening_width": "unknown"}, want: Missing},
	{id: "S-01", name: "not on the sheet", spec: set{"space.width": "unknown"}, want: Missing, have: "the requirement sheet doesn't say"},
	{id: "S-01", name: "no side clearance on the sheet", set: set{"space.opening_width": "36 ± 0 in"}, spec: set{"space.clearance_side": "none"}, want: OK, shows: "g = none"},

	{id: "S-02", name: "just below, on a plinth", set: set{"space.opening_height": "35.9 ± 0 in", "machine.raised_by": "2 ± 0 in"}, want: Fix, shows: "h + r + g = 36 in (914 mm)"},
	{id: "S-02", name: "at, on a plinth", set: set{"space.opening_height": "36 ± 0 in", "machine.raised_by": "2 ± 0 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-02", name: "just above, on the floor", set: set{"space.opening_height": "34.1 ± 0 in", "machine.raised_by": "0 ± 0 in"}, want: OK},
	{id: "S-02", name: "stand not answered counts as none", set: set{"space.opening_height": "34 ± 0 in", "machine.raised_by": "unknown"}, want: OK, shows: "r = none"},
	{id: "S-02", name: "within both tapes' uncertainty", set: set{"space.opening_height": "36.2 in", "machine.raised_by": "2 in"}, want: Confirm},
	{id: "S-02", name: "clear of both tapes' uncertainty", set: set{"space.opening_height": "36.3 in", "machine.raised_by": "2 in"}, want: OK},
	{id: "S-02", name: "in mm", set: set{"space.opening_height": "900 ± 0 mm", "machine.raised_by": "50 ± 0 mm"}, want: Fix},
	{id: "S-02", name: "no stand is exact", set: set{"space.opening_height": "34 ± 0 in", "machine.raised_by": "0 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-02", name: "the counter's top lies lower: in doubt", set: set{"space.opening_height": "33 ± 0 in", "space.counter_height": "30 in"}, want: Fix},
	{id: "S-02", name: "missing", set: set{"space.opening_height": "unknown"}, want: Missing},

	{id: "S-03", name: "just below", set: set{"space.opening_depth": "26.9 ± 0 in"}, want: Fix},
	{id: "S-03", name: "at", set: set{"space.opening_depth": "27 ± 0 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-03", name: "just above", set: set{"space.opening_depth": "27.1 ± 0 in"}, want: OK},
	{id: "S-03", name: "within the tape's uncertainty", set: set{"space.opening_depth": "27 in"}, want: Confirm},
	{id: "S-03", name: "in mm", set: set{"space.opening_depth": "700 ± 0 mm"}, want: OK},
	{id: "S-03", name: "missing", set: set{"space.opening_depth": "unknown"}, want: Missing},

	{id: "S-04", name: "top below the underside", set: set{"space.counter_height": "37.9 ± 0 in", "space.opening_height": "38 ± 0 in"}, want: Fix},
	{id: "S-04", name: "no thickness", set: set{"space.counter_height": "38 ± 0 in", "space.opening_height": "38 ± 0 in"}, want: OK, shows: "t = 0 in (0 mm)"},
	{id: "S-04", name: "at the thickest", set: set{"space.counter_height": "44 ± 0 in", "space.opening_height": "38 ± 0 in"}, want: OK},
	{id: "S-04", name: "thicker than usual", set: set{"space.counter_height": "44.1 ± 0 in", "space.opening_height": "38 ± 0 in"}, want: Confirm},
	{id: "S-04", name: "within the tapes' uncertainty", set: set{"space.counter_height": "38.1 in", "space.opening_height": "38 in"}, want: Confirm},
	{id: "S-04", name: "in mm", set: set{"space.counter_height": "1000 ± 0 mm", "space.opening_height": "960 ± 0 mm"}, want: OK, shows: "t = 1.57 in (40 mm)"},
	{id: "S-04", name: "missing", set: set{"space.counter_height": "unknown"}, want: Missing},

	{id: "S-05", name: "just below", set: oneDoor("30.9 ± 0 in", "80 in"), want: Fix, margin: "0.1 in (2.5 mm) short"},
	{id: "S-05", name: "at", set: oneDoor("31 ± 0 in", "80 in"), want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-05", name: "just above", set: oneDoor("31.1 ± 0 in", "80 in"), want: OK},
	{id: "S-05", name: "within the tape's uncertainty", set: oneDoor("31.1 in", "80 in"), want: Confirm},
	{id: "S-05", name: "too low", set: oneDoor("60 in", "41.9 ± 0 in"), want: Fix, have: "clear height"},
	{id: "S-05", name: "in mm", set: oneDoor("780 ± 0 mm", "2000 mm"), want: Fix},
	{id: "S-05", name: "the worst of two", set: set{"space.path[2].clear_width": "30 ± 0 in"}, want: Fix, have: "bar door, double"},
	{id: "S-05", name: "missing width", set: oneDoor("unknown", "80 in"), want: Missing},
	{id: "S-05", name: "missing height", set: oneDoor("34 in", "unknown"), want: Missing},
	{id: "S-05", name: "unpacked outside", set: set{"space.path": "[]", "space.path[0].kind": "door", "space.path[0].clear_width": "27 ± 0 in", "space.path[0].clear_height": "80 in", "space.unpacked_outside": "yes"}, want: OK, shows: "w + 2 in = 27 in (686 mm)"},
	{id: "S-05", name: "crate may be tilted", set: oneDoor("60 in", "32 ± 0 in"), spec: set{"space.crate_may_tilt": "yes"}, want: OK, shows: "h + 2 in = 31 in (787 mm)"},
	{id: "S-05", name: "crate must stay upright", set: oneDoor("60 in", "32 ± 0 in"), want: Fix},
	{id: "S-05", name: "no door", set: oneTurn("60 in", "60 in"), want: NA},
	{id: "S-05", name: "crate not on the sheet", spec: set{"space.crate_depth": "unknown"}, want: Missing},

	// The ladder carried flat round a corner, w nearly 0. Hand clearance of 2 in
	// is taken off each corridor, so 2 in is added to the published ones.
	{id: "S-06", name: "published: corridors of 2 and 4, at most about 8-1/3", set: oneTurn("26 ± 0 in", "50 ± 0 in"), source: "encyclopedia article on fitting a sofa round a corner: corridors 2 and 4, about 8 and one third; 8.3235 recomputed (in feet: 99.88 in)",
		spec: set{"space.crate_width": "99.8 in", "space.crate_depth": "0.001 in", "space.crate_height": "20 in"}, want: OK},
	{id: "S-06", name: "published: corridors of 2 and 4, a longer one sticks", set: oneTurn("26 ± 0 in", "50 ± 0 in"), source: "the same, 8.4 ft",
		spec: set{"space.crate_width": "100.8 in", "space.crate_depth": "0.001 in", "space.crate_height": "20 in"}, want: Fix},
	{id: "S-06", name: "published: 8 m ladder from a 2 m corridor needs 3.75 m", set: oneTurn("2050.8 ± 0 mm", "3805.8 ± 0 mm"), source: "calculus exercise, ladder 8 m round a corner, second corridor 3.75 m (3.7459 recomputed); here 3.755 m",
		spec: set{"space.crate_width": "8 m", "space.crate_depth": "0.01 mm", "space.crate_height": "500 mm"}, want: OK},
	{id: "S-06", name: "published: 8 m ladder, 3.73 m is too narrow", set: oneTurn("2050.8 ± 0 mm", "3780.8 ± 0 mm"), source: "the same",
		spec: set{"space.crate_width": "8 m", "space.crate_depth": "0.01 mm", "space.crate_height": "500 mm"}, want: Fix},
	{id: "S-06", name: "sideways, just below", set: oneTurn("30.9 ± 0 in", "42 ± 0 in"), want: Fix},
	{id: "S-06", name: "sideways, at", set: oneTurn("31 ± 0 in", "42 ± 0 in"), want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-06", name: "sideways, just above", set: oneTurn("31.1 ± 0 in", "42.1 ± 0 in"), want: OK},
	{id: "S-06", name: "turned, at 45° (38 √2 - 29) × 2 = 49.48 in", set: oneTurn("40 ± 0 in", "40 ± 0 in"), want: OK, shows: "L = 49.48 in (1257 mm)"},
	{id: "S-06", name: "within the tape's uncertainty", set: oneTurn("31 in", "42 in"), want: Confirm},
	{id: "S-06", name: "in mm", set: oneTurn("850 ± 0 mm", "850 ± 0 mm"), want: Fix},
	{id: "S-06", name: "too low", set: set{"space.path[1].clear_height": "41 ± 0 in"}, want: Fix, have: "clear height"},
	{id: "S-06", name: "missing", set: oneTurn("60 in", "unknown"), want: Missing},
	{id: "S-06", name: "no turn", set: oneDoor("60 in", "80 in"), want: NA},

	{id: "S-07", name: "just below", set: oneStair(set{"space.path[0].clear_width": "30.9 ± 0 in"}), want: Fix},
	{id: "S-07", name: "at", set: oneStair(set{"space.path[0].clear_width": "31 ± 0 in"}), want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-07", name: "just above", set: oneStair(set{"space.path[0].clear_width": "31.1 ± 0 in"}), want: OK},
	{id: "S-07", name: "within the tape's uncertainty", set: oneStair(set{"space.path[0].clear_width": "31 in"}), want: Confirm},
	{id: "S-07", name: "landing too short", set: oneStair(set{"space.path[0].clear_depth": "30 ± 0 in"}), want: Fix, have: "landing"},
	{id: "S-07", name: "headroom too low", set: oneStair(set{"space.path[0].clear_height": "41 ± 0 in"}), want: Fix, have: "clear height"},
	{id: "S-07", name: "in mm", set: oneStair(set{"space.path[0].clear_width": "800 ± 0 mm"}), want: OK},
	{id: "S-07", name: "missing", set: oneStair(set{"space.path[0].clear_width": "unknown"}), want: Missing},
	{id: "S-07", name: "no stair", want: NA},

	{id: "S-08", name: "carries the crate, with nobody beside it", set: oneLift("60 in", "72 in", "80 in", "464 lb"), want: Confirm, have: "rated load"},
	{id: "S-08", name: "doesn't carry the crate", set: oneLift("60 in", "72 in", "80 in", "264 lb"), want: Fix, have: "rated load"},
	{id: "S-08", name: "a goods lift carries the crate alone", set: goods(oneLift("60 in", "72 in", "80 in", "265 lb")), source: "ASME A17.1, secondary text: nobody but who loads and operates rides on a freight elevator", want: OK, margin: "0 lb (0 kg) to spare"},
	{id: "S-08", name: "a goods lift too weak", set: goods(oneLift("60 in", "72 in", "80 in", "264 lb")), source: "the same", want: Fix},
	{id: "S-08", name: "narrow, and too weak for two", set: oneLift("30 ± 0 in", "72 in", "80 in", "300 lb"), want: Fix, have: "clear width"},
	{id: "S-08", name: "capacity at", set: oneLift("60 in", "72 in", "80 in", "465 lb"), want: OK, margin: "0 lb (0 kg) to spare"},
	{id: "S-08", name: "capacity just above", set: oneLift("60 in", "72 in", "80 in", "466 lb"), want: OK},
	{id: "S-08", name: "capacity in kg", set: oneLift("60 in", "72 in", "80 in", "120 kg"), want: Fix},
	{id: "S-08", name: "car at width and depth", set: oneLift("31 ± 0 in", "42 ± 0 in", "80 in", "1500 lb"), want: OK},
	{id: "S-08", name: "car too shallow", set: oneLift("31 ± 0 in", "41.9 ± 0 in", "80 in", "1500 lb"), want: Fix, have: "depth"},
	{id: "S-08", name: "car within the tape's uncertainty", set: oneLift("31 in", "42.5 in", "80 in", "1500 lb"), want: Confirm},
	{id: "S-08", name: "car too low", set: oneLift("60 in", "60 in", "41 ± 0 in", "1500 lb"), want: Fix, have: "clear height"},
	{id: "S-08", name: "missing", set: oneLift("60 in", "72 in", "80 in", "unknown"), want: Missing},
	{id: "S-08", name: "no lift", want: NA},

	{id: "S-09", name: "recorded", want: OK, have: "2 doors, 1 turn, 0 stairs and 0 elevators"},
	{id: "S-09", name: "missing", set: set{"space.path": "[]"}, want: Missing},
	{id: "S-09", name: "no door in it", set: oneTurn("60 in", "60 in"), want: Confirm},

	{id: "S-10", name: "just above", set: set{"space.floor_out_of_level": "2.1 ± 0 in"}, want: Fix},
	{id: "S-10", name: "at", set: set{"space.floor_out_of_level": "2 ± 0 in"}, want: OK, margin: "0 in (0 mm) below the limit"},
	{id: "S-10", name: "just below", set: set{"space.floor_out_of_level": "1.9 ± 0 in"}, want: OK},
	{id: "S-10", name: "within the level's uncertainty", set: set{"space.floor_out_of_level": "2 in"}, want: Confirm},
	{id: "S-10", name: "in mm", set: set{"space.floor_out_of_level": "52 ± 0 mm"}, want: Fix},
	{id: "S-10", name: "missing", set: set{"space.floor_out_of_level": "unknown"}, want: Missing},
	{id: "S-10", name: "legs not on the sheet", spec: set{"space.leg_max": "unknown"}, want: Missing},

	// 210 + 4 × 8.34 + 40 = 283.36 lb over 36 × 25 in = 6.25 ft²: 45.34 psf.
	{id: "S-11", name: "just above", set: set{"space.floor_capacity": "45 psf"}, want: Fix, shows: "p = 45.3 psf (2.17 kN/m²)"},
	{id: "S-11", name: "just below", set: set{"space.floor_capacity": "46 psf"}, want: OK},
	{id: "S-11", name: "at", set: set{"space.floor_capacity": "48 psf"}, spec: set{"space.mass": "176.6 lb", "wash.tank_volume": "10 gal"}, want: OK, margin: "0 psf (0 kN/m²) to spare"},
	{id: "S-11", name: "worked example: 250 + 33 + 40 lb on 24 × 25 in, 77.5 psf", set: set{"space.floor_capacity": "100 psf"}, source: "our own reference note, recomputed: 323 lb / 4.167 ft² = 77.52 psf; no published example found",
		spec: set{"space.mass": "250 lb", "wash.tank_volume": "3.9568 gal", "space.width": "24 in"}, want: OK, shows: "p = 77.5 psf (3.71 kN/m²)"},
	{id: "S-11", name: "in kN/m²", set: set{"space.floor_capacity": "2 kN/m²"}, want: Fix},
	{id: "S-11", name: "capacity not known, 100 psf assumed", set: set{"space.floor_capacity": "unknown"}, want: Confirm, shows: "p max = 100 psf (4.79 kN/m²)"},
	{id: "S-11", name: "missing on the sheet", spec: set{"space.mass": "unknown"}, want: Missing},

	{id: "S-12", name: "just below", set: set{"space.front_clearance": "29.9 ± 0 in"}, want: Fix},
	{id: "S-12", name: "at", set: set{"space.front_clearance": "30 ± 0 in"}, want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-12", name: "just above", set: set{"space.front_clearance": "30.1 ± 0 in"}, want: OK},
	{id: "S-12", name: "within the tape's uncertainty", set: set{"space.front_clearance": "30 in"}, want: Confirm},
	{id: "S-12", name: "in mm", set: set{"space.front_clearance": "760 ± 0 mm"}, want: Fix},
	{id: "S-12", name: "missing", set: set{"space.front_clearance": "unknown"}, want: Missing},
	{id: "S-12", name: "none on the sheet", spec: set{"space.clearance_front": "none"}, want: NA},

	{id: "S-13", name: "just below", set: set{"space.service_clearance": "3.9 ± 0 in"}, want: Fix},
	{id: "S-13", name: "at", set: set{"space.service_clearance": "4 ± 0 in"}, want: OK},
	{id: "S-13", name: "just above", set: set{"space.service_clearance": "4.1 ± 0 in"}, want: OK},
	{id: "S-13", name: "within the tape's uncertainty", set: set{"space.service_clearance": "4 in"}, want: Confirm},
	{id: "S-13", name: "in mm", set: set{"space.service_clearance": "100 ± 0 mm"}, want: Fix},
	{id: "S-13", name: "missing", set: set{"space.service_clearance": "unknown"}, want: Missing},

	{id: "S-14", name: "too low, whether it is sealed not told", set: set{"space.clear_beneath": "3 in", "space.sealed_to_floor": "unknown"}, want: Missing},
	{id: "S-14", name: "just below", set: set{"space.clear_beneath": "5.9 ± 0 in"}, source: "a state's health and safety code, food facilities: legs of at least six inches", want: Fix},
	{id: "S-14", name: "at", set: set{"space.clear_beneath": "6 ± 0 in"}, source: "the same", want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-14", name: "just above", set: set{"space.clear_beneath": "6.1 ± 0 in"}, want: OK},
	{id: "S-14", name: "within the tape's uncertainty", set: set{"space.clear_beneath": "6 in"}, want: Confirm},
	{id: "S-14", name: "in mm", set: set{"space.clear_beneath": "150 ± 0 mm"}, source: "FDA Food Code 4-402.12: 15 centimeters (6 inches)", want: OK, margin: "0 in (0 mm) to spare"},
	{id: "S-14", name: "in mm, just below", set: set{"space.clear_beneath": "149 ± 0 mm"}, source: "the same", want: Fix},
	{id: "S-14", name: "4 in where the floor is reached", set: set{"space.clear_beneath": "4 ± 0 in"}, spec: set{"space.depth": "6 in"}, source: "FDA Food Code 4-402.12, state copy", want: OK},
	{id: "S-14", name: "100 mm where the floor is reached", set: set{"space.clear_beneath": "100 ± 0 mm"}, spec: set{"space.depth": "6 in"}, source: "FDA Food Code 4-402.12: 10 centimeters (4 inches)", want: OK},
	{id: "S-14", name: "below 4 in where the floor is reached", set: set{"space.clear_beneath": "3.9 ± 0 in"}, spec: set{"space.depth": "6 in"}, want: Fix},
	{id: "S-14", name: "sealed", set: set{"space.clear_beneath": "0 in", "space.sealed_to_floor": "yes"}, want: OK},
	{id: "S-14", name: "missing", set: set{"space.clear_beneath": "unknown"}, want: Missing},

	{id: "S-15", name: "drawn off", set: set{"space.exhaust": "yes"}, want: OK},
	{id: "S-15", name: "not drawn off", set: set{"space.exhaust": "no"}, source: "ASHRAE Fundamentals, warewashing heat gain, from memory: 2280 + 4170 = 6450 Btu/h", want: Confirm, shows: "q = 6450 Btu/h"},
	{id: "S-15", name: "vapor, latent / 1050", set: set{"space.exhaust": "no"}, source: "latent heat of water, 4170 / 1050 = 3.971", want: Confirm, shows: "vapor = 3.97 lb (1.8 kg)"},
	{id: "S-15", name: "conveyor", machine: "godwit-c44", set: set{"space.exhaust": "no"}, source: "the same table", want: Confirm, shows: "q = 17940 Btu/h"},
	{id: "S-15", name: "no class on the sheet", set: set{"space.exhaust": "no"}, spec: set{"space.heat_class": "unknown"}, want: Confirm, have: "no estimate"},
	{id: "S-15", name: "missing", set: set{"space.exhaust": "unknown"}, want: Missing},

	{id: "S-16", name: "two people, at 2/3 of 2 × 51 lb", set: oneStair(nil), spec: set{"space.crate_mass": "68 lb"}, source: "NIOSH 94-110, load constant 51 lb; HSE team handling: two people two-thirds of the sum", want: OK, shows: "two people = 68 lb (30.8 kg)"},
	{id: "S-16", name: "just above two", set: oneStair(nil), spec: set{"space.crate_mass": "68.1 lb"}, source: "the same", want: Confirm},
	{id: "S-16", name: "three people, at half of 3 × 51 lb", set: oneStair(nil), spec: set{"space.crate_mass": "76.5 lb"}, source: "the same: three people half of the sum", want: Confirm, shows: "three people = 76.5 lb (34.7 kg)"},
	{id: "S-16", name: "four people, at half of 4 × 51 lb", set: oneStair(nil), spec: set{"space.crate_mass": "102 lb"}, source: "the same, four taken like three", want: Confirm, shows: "four people = 102 lb (46.3 kg)"},
	{id: "S-16", name: "in kg, just below two", set: oneStair(nil), spec: set{"space.crate_mass": "30 kg"}, want: OK},
	{id: "S-16", name: "crate of 265 lb", set: oneStair(nil), want: Confirm, have: "265 lb"},
	{id: "S-16", name: "unpacked outside", set: oneStair(set{"space.unpacked_outside": "yes"}), want: Confirm, have: "210 lb"},
	{id: "S-16", name: "missing", set: oneStair(set{"space.path[0].steps": "unknown"}), want: Missing},
	{id: "S-16", name: "no stair", want: NA},

	{id: "S-17", name: "1 in 12, the limit", set: oneWay("ramp", set{"clear_width": "40 in ± 0 in", "rise": "8 ± 0 in", "ramp_length": "96 ± 0 in"}), source: "2010 ADA Standards 405.2: at most 1:12 (from memory); its use for hand trucks is common practice, no source", want: OK, shows: "12 h = 96 in (2438 mm)"},
	{id: "S-17", name: "just steeper", set: oneWay("ramp", set{"clear_width": "40 in ± 0 in", "rise": "8 ± 0 in", "ramp_length": "95.9 ± 0 in"}), source: "the same", want: Confirm, shows: "12 h = 96 in (2438 mm)"},
	{id: "S-17", name: "within the tape", set: oneWay("ramp", set{"clear_width": "40 in ± 0 in", "rise": "8 ± 1/4 in", "ramp_length": "96 ± 0 in"}), want: Confirm},
	{id: "S-17", name: "steep, metric", set: oneWay("ramp", set{"clear_width": "1 m", "rise": "300 mm", "ramp_length": "2.4 m"}), want: Confirm, shows: "12 h = 11 ft 9-3/4 in (3600 mm)"},
	{id: "S-17", name: "level", set: oneWay("ramp", set{"clear_width": "40 in", "rise": "0 in", "ramp_length": "8 ft"}), want: OK},
	{id: "S-17", name: "too narrow for the crate", set: oneWay("ramp", set{"clear_width": "30 ± 0 in", "rise": "8 in", "ramp_length": "10 ft"}), want: Fix, shows: "w + 2 in = 31 in (787 mm)"},
	{id: "S-17", name: "rise missing", set: oneWay("ramp", set{"clear_width": "40 in", "ramp_length": "8 ft"}), want: Missing},
	{id: "S-17", name: "no ramp", want: NA},

	{id: "S-18", name: "half an inch, the limit", set: oneWay("threshold", set{"rise": "1/2 ± 0 in"}), source: "2010 ADA Standards 404.2.5: at most 1/2 in (from memory); its use for hand trucks is common practice, no source", want: OK},
	{id: "S-18", name: "just above", set: oneWay("threshold", set{"rise": "0.51 ± 0 in"}), source: "the same", want: Confirm, action: "lay a plate"},
	{id: "S-18", name: "within the tape", set: oneWay("threshold", set{"rise": "1/2 ± 1/8 in"}), want: Confirm},
	{id: "S-18", name: "in mm", set: oneWay("threshold", set{"rise": "12 ± 0 mm"}), want: OK},
	{id: "S-18", name: "missing", set: oneWay("threshold", nil), want: Missing},
	{id: "S-18", name: "no threshold", want: NA},

	{id: "S-19", name: "finished", set: set{"space.finished_floor": "yes"}, want: OK},
	{id: "S-19", name: "not said", set: set{"space.finished_floor": "unknown"}, want: NA},
	{id: "S-19", name: "room enough, to be measured again", set: set{"space.finished_floor": "no", "space.floor_to_come": "1 ± 0 in", "machine.raised_by": "0 in", "space.opening_height": "35 ± 0 in"}, want: Confirm, shows: "H - t = 34 in (864 mm)"},
	{id: "S-19", name: "opening left too low", set: set{"space.finished_floor": "no", "space.floor_to_come": "1 ± 0 in", "machine.raised_by": "0 in", "space.opening_height": "34.9 ± 0 in"}, source: "plane geometry", want: Fix},
	{id: "S-19", name: "in mm", set: set{"space.finished_floor": "no", "space.floor_to_come": "30 ± 0 mm", "machine.raised_by": "0 mm", "space.opening_height": "880 ± 0 mm"}, want: Fix},
	{id: "S-19", name: "thickness missing", set: set{"space.finished_floor": "no", "space.floor_to_come": "unknown"}, want: Missing},
}

// TestCornerRoom holds the corner's room against a plain search over angles,
// for turning and for moving on sideways.
func TestCornerRoom(t *testing.T) {
	for _, r := range []struct {
		l, w, a, b float64
		fits       bool
	}{
		{30, 28, 36, 36, true}, {40, 30, 36, 36, true}, {41.82, 30, 36, 36, true}, {41.83, 30, 36, 36, false}, {48, 30, 36, 48, true},
		{40, 37, 36, 60, false}, {109, 30, 60, 60, true}, {110, 30, 60, 60, false}, {36, 36, 36, 36, true},
	} {
		if room, _ := deliveryCorner(r.a, r.b, r.l, r.w); (room >= r.l-1e-9) != r.fits {
			t.Errorf("%v × %v in corridors of %v and %v: room %v, want fit %v", r.l, r.w, r.a, r.b, room, r.fits)
		}
	}
	n := 0
	for a := 20.0; a <= 80; a += 6 {
		for b := 20.0; b <= 80; b += 7 {
			for w := 10.0; w <= 60; w += 7 {
				for l := w; l <= 120; l += 9 {
					least := math.Inf(1)
					for k := 1; k < 900; k++ {
						s, c := math.Sincos(float64(k) / 900 * math.Pi / 2)
						least = math.Min(least, (a*s+b*c-w)/(s*c))
					}
					sideways := w <= math.Min(a, b) && l <= math.Max(a, b)
					turned := w <= math.Min(a, b) && l <= least
					room, how := deliveryCorner(a, b, l, w)
					if got := room >= l-1e-9; got != (sideways || turned) && math.Abs(l-least) > 0.02 {
						t.Errorf("corridors %v and %v, load %v × %v: room %v (%s), want sideways %v, turned %v", a, b, l, w, room, how, sideways, turned)
					}
					if how == cornerTurned && math.Abs(room-least) > 1e-3*least {
						t.Errorf("corridors %v and %v, width %v: room %v, by search %v", a, b, w, room, least)
					}
					n++
				}
			}
		}
	}
	if n < 1000 {
		t.Errorf("only %d corners tried", n)
	}
}

// TestWiden applies what widens each kind of passage and sees it pass, in either system of units.
func TestWiden(t *testing.T) {
	for _, r := range []struct {
		id  string
		set set
	}{
		{"S-05", oneDoor("28 in", "40 in")},
		{"S-06", oneTurn("30 in", "32 in")},
		{"S-06", oneTurn("25 in", "70 in")},
		{"S-07", oneStair(set{"space.path[0].clear_width": "26 in", "space.path[0].clear_depth": "30 in"})},
		{"S-08", oneLift("24 in", "36 in", "36 in", "1500 lb")},
	} {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			s, m := row{set: r.set}.laid(t)
			s.Space.Unpacked = 0
			f := Evaluate(s, m, Options{Today: today, Units: u, OnlyCheck: []*Check{ByID(r.id)}}).Findings[0]
			widened := false
			for _, rem := range f.Remedies {
				if _, unpack := rem.Set["space.unpacked_outside"]; !unpack {
					widened = true
				}
			}
			if f.Verdict != Fix || !widened {
				t.Errorf("%s %v: got %v with remedies %v, want a FIX that widening cures", r.id, r.set, f.Verdict, f.Remedies)
			}
		}
	}
}
