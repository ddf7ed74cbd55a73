package rules

var throughputEstimate = set{"demand.peak_glasses_per_hour": "unknown", "demand.seats": "120", "demand.drinks_per_seat_hour": "1.5", "demand.glasses_per_drink": "1.2"}

// The Avocet R36 reaches 3600 / 90 s × 36 × 0.7 = 1008 glasses an hour.
var throughputRows = []row{
	{id: "T-01", name: "just below", set: set{"demand.peak_glasses_per_hour": "1007"}, want: OK},
	{id: "T-01", name: "at", set: set{"demand.peak_glasses_per_hour": "1008"}, want: OK, margin: "0 glasses an hour to spare"},
	{id: "T-01", name: "just above", set: set{"demand.peak_glasses_per_hour": "1009"}, want: Fix, margin: "1 glass an hour short"},
	{id: "T-01", name: "estimate", set: throughputEstimate, source: "our own reference note, recomputed: 120 × 1.5 × 1.2 = 216", want: OK, shows: "N peak = 216 glasses"},
	{id: "T-01", name: "estimate too high for the machine", set: set{"demand.peak_glasses_per_hour": "unknown", "demand.seats": "400", "demand.drinks_per_seat_hour": "3", "demand.glasses_per_drink": "1"}, want: Confirm},
	{id: "T-01", name: "batch: 2 min cycle and 30 s to load make 24 racks of 25, met", machine: "dunlin-u24", set: set{"demand.peak_glasses_per_hour": "600"}, source: "trade magazine on undercounter capacity, the sanitation standard's rating: 24 racks an hour, not 30 (120 s / 150 s = 0.8)",
		spec: set{"throughput.handling_factor": "0.8"}, want: OK, shows: "N = 600 glasses"},
	{id: "T-01", name: "batch: one glass more than 24 racks of 25", machine: "dunlin-u24", set: set{"demand.peak_glasses_per_hour": "601"}, source: "the same", spec: set{"throughput.handling_factor": "0.8"}, want: Fix},
	{id: "T-01", name: "no handling factor on the sheet", set: set{"demand.peak_glasses_per_hour": "600"}, spec: set{"throughput.handling_factor": "unknown"}, source: "common practice, no source", want: OK, shows: "k = 0.7"},
	{id: "T-01", name: "sheet silent", spec: set{"throughput.revolution": "unknown"}, want: Missing},
	{id: "T-01", name: "missing", set: set{"demand.peak_glasses_per_hour": "unknown", "demand.seats": "unknown"}, want: Missing},

	{id: "T-02", name: "just below", set: set{"demand.glasses[0].height": "10.9 ± 0 in"}, want: OK},
	{id: "T-02", name: "at", set: set{"demand.glasses[0].height": "11 ± 0 in"}, want: OK},
	{id: "T-02", name: "just above", set: set{"demand.glasses[0].height": "11.1 ± 0 in"}, want: Fix, have: "pint"},
	{id: "T-02", name: "within the tape's uncertainty", set: set{"demand.glasses[0].height": "11 in"}, want: Confirm},
	{id: "T-02", name: "in mm", set: set{"demand.glasses[0].height": "280 ± 0 mm"}, want: Fix},
	{id: "T-02", name: "missing", set: set{"demand.glasses[1].height": "unknown"}, want: Missing},
	{id: "T-02", name: "no kinds", set: set{"demand.glasses": "[]"}, want: Missing},
	{id: "T-02", name: "no limit on the sheet", spec: set{"throughput.glass_height_max": "none"}, want: NA},

	{id: "T-03", name: "just below", set: set{"demand.glasses[2].diameter": "4.4 ± 0 in"}, want: OK},
	{id: "T-03", name: "at", set: set{"demand.glasses[2].diameter": "4.5 ± 0 in"}, want: OK},
	{id: "T-03", name: "just above", set: set{"demand.glasses[2].diameter": "4.6 ± 0 in"}, want: Fix, have: "rocks"},
	{id: "T-03", name: "within the tape's uncertainty", set: set{"demand.glasses[2].diameter": "4-1/2 in"}, want: Confirm},
	{id: "T-03", name: "in mm", set: set{"demand.glasses[2].diameter": "115 ± 0 mm"}, want: Fix},
	{id: "T-03", name: "missing", set: set{"demand.glasses[0].diameter": "unknown"}, want: Missing},

	// 600 an hour × 25 min / 60 = 250 glasses away at once.
	{id: "T-04", name: "just below", set: set{"demand.glasses[0].stock": "249", "demand.glasses[1].stock": "0", "demand.glasses[2].stock": "0"}, want: Fix, margin: "1 glass short"},
	{id: "T-04", name: "at", set: set{"demand.glasses[0].stock": "250", "demand.glasses[1].stock": "0", "demand.glasses[2].stock": "0"}, want: OK, margin: "0 glasses to spare"},
	{id: "T-04", name: "just above", set: set{"demand.glasses[0].stock": "251", "demand.glasses[1].stock": "0", "demand.glasses[2].stock": "0"}, want: OK},
	{id: "T-04", name: "2 glasses per seat of 100, used up in an hour", set: set{"demand.peak_glasses_per_hour": "200", "demand.turnaround": "60 min", "demand.glasses[0].stock": "200", "demand.glasses[1].stock": "0", "demand.glasses[2].stock": "0"},
		source: "trade article on glass stock: 2 per seat, 100 seats", want: OK, margin: "0 glasses to spare"},
	{id: "T-04", name: "within the turnaround's uncertainty", set: set{"demand.turnaround": "100 ± 10 min"}, want: Confirm},
	{id: "T-04", name: "turnaround in hours", set: set{"demand.turnaround": "2 h"}, want: Fix},
	{id: "T-04", name: "estimated peak", set: throughputEstimate, want: OK, shows: "N peak t / 60 = 90 glasses"},
	{id: "T-04", name: "missing turnaround", set: set{"demand.turnaround": "unknown"}, want: Missing},
	{id: "T-04", name: "missing stock", set: set{"demand.glasses[1].stock": "unknown"}, want: Missing},
}
