package rules

import (
	"maps"
	"strings"

	"firstfill/survey"
)

// unmeasured forgets every reading of an instrument outside lists, and empties
// the lists that hold readings.
var unmeasured = func() set {
	s := set{"space.path": "[]", "demand.glasses": "[]"}
	for _, f := range survey.Fields() {
		if f.Tool != "" && !strings.Contains(f.Path, "[]") {
			s[f.Path] = "unknown"
		}
	}
	return s
}()

// plain writes one reading without ± on top of unmeasured.
func plain(path, text string) set {
	s := maps.Clone(unmeasured)
	s[path] = text
	return s
}

// The date of every test is 2026-11-10.
var recordsRows = []row{
	{id: "R-01", name: "just below", set: set{"site.surveyed_on": "2026-08-13"}, want: OK, shows: "A = 89 days"},
	{id: "R-01", name: "at", set: set{"site.surveyed_on": "2026-08-12"}, want: OK, margin: "0 days to spare"},
	{id: "R-01", name: "just above", set: set{"site.surveyed_on": "2026-08-11"}, want: Confirm},
	{id: "R-01", name: "a year", set: set{"site.surveyed_on": "2025-11-10"}, want: Confirm, shows: "A = 365 days"},
	{id: "R-01", name: "more than a year", set: set{"site.surveyed_on": "2025-11-09"}, want: Fix},
	{id: "R-01", name: "dated today", set: set{"site.surveyed_on": "2026-11-10"}, want: OK},
	{id: "R-01", name: "dated tomorrow", set: set{"site.surveyed_on": "2026-11-11"}, want: Confirm},
	{id: "R-01", name: "missing", set: set{"site.surveyed_on": "unknown"}, want: Missing},

	{id: "R-02", name: "day before the survey", set: set{"site.surveyed_on": "2026-11-02", "site.delivery_on": "2026-11-01"}, want: Fix, margin: "1 day too early"},
	{id: "R-02", name: "delivery in the past", set: set{"site.surveyed_on": "2026-11-02", "site.delivery_on": "2026-11-09"}, want: Confirm},
	{id: "R-02", name: "delivered today", set: set{"site.delivery_on": "2026-11-10"}, want: OK, shows: "T left = 0 days"},
	{id: "R-02", name: "still to come", set: set{"site.delivery_on": "2026-11-11"}, want: OK, shows: "T left = 1 day"},
	{id: "R-02", name: "missing", set: set{"site.delivery_on": "unknown"}, want: Missing},

	{id: "R-03", name: "with a photograph", set: set{"photos": "[]", "photos[0].file": "panel.jpg"}, want: OK, have: "1 photograph"},
	{id: "R-03", name: "no photographs", set: set{"photos": "[]"}, want: Confirm},
	{id: "R-03", name: "missing", set: set{"site.surveyed_by": "unknown"}, want: Missing},

	{id: "R-04", name: "named", want: OK},
	{id: "R-04", name: "another plumbing code", set: set{"codes.plumbing": "other"}, want: Confirm},
	{id: "R-04", name: "sheet for another practice", set: set{"codes.electrical": "iec-60364"}, want: Confirm},
	{id: "R-04", name: "edition missing", set: set{"codes.plumbing_edition": "unknown"}, want: Missing},
	{id: "R-04", name: "authority missing", set: set{"codes.authority": "unknown"}, want: Missing},
	{id: "R-04", name: "electrical code missing", set: set{"codes.electrical": "unknown"}, want: Missing},

	{id: "R-05", name: "all named", want: OK},
	{id: "R-05", name: "no plumber", set: set{"site.plumber": "unknown"}, want: Confirm, have: "a licensed plumber"},
	{id: "R-05", name: "no telephone", set: set{"site.phone": "unknown"}, want: Confirm},
	{id: "R-05", name: "missing", set: set{"site.contact": "unknown"}, want: Missing},

	{id: "R-08", name: "one machine", want: NA},
	{id: "R-08", name: "nothing shared", set: set{"site.second_machine": "BW-0418", "site.second_machine_shares": "none"}, want: OK},
	{id: "R-08", name: "receptor shared and listed", set: set{"site.second_machine": "BW-0418", "site.second_machine_shares": "receptor", "drain.shares[0].name": "washer bw-0418", "drain.shares[0].flow": "4 gpm"}, want: OK},
	{id: "R-08", name: "receptor shared, another thing listed", set: set{"site.second_machine": "BW-0418", "site.second_machine_shares": "Receptor", "drain.shares[0].name": "ice machine", "drain.shares[0].flow": "1 gpm"}, want: Confirm, have: "receptor"},
	{id: "R-08", name: "circuit and heater, neither listed", set: set{"site.second_machine": "BW-0418", "site.second_machine_shares": "circuit and heater"}, want: Confirm, have: "circuit and heater"},
	{id: "R-08", name: "in other words", set: set{"site.second_machine": "BW-0418", "site.second_machine_shares": "the bar top"}, want: Confirm, have: "the bar top"},
	{id: "R-08", name: "not said", set: set{"site.second_machine": "BW-0418"}, want: Missing},

	{id: "R-06", name: "one states its own", set: plain("water.cold.static_pressure", "62 ± 1 psi"), want: OK, shows: "n = 1"},
	{id: "R-06", name: "none does", set: plain("water.cold.static_pressure", "62 psi"), want: Confirm, shows: "N = 1"},
	{id: "R-06", name: "missing", set: unmeasured, want: Missing},

	{id: "R-07", name: "plausible to the end of the range", set: plain("water.cold.static_pressure", "150 psi"), want: OK, have: "no odd answer"},
	{id: "R-07", name: "just beyond the range", set: plain("water.cold.static_pressure", "150.1 psi"), want: Confirm, have: "150.1 psi is outside what is plausible"},
	{id: "R-07", name: "bar written as psi", set: plain("water.cold.static_pressure", "3.8 psi"), want: Confirm, have: "was it 3.8 bar?"},
	{id: "R-07", name: "in kilopascal", set: plain("water.cold.static_pressure", "5500 kPa"), want: Confirm, have: "1 odd"},
	{id: "R-07", name: "missing", set: unmeasured, want: Missing},
}
