package rules

import (
	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

var water = []*Check{ColdStatic}

// The limits that come from the requirement sheet have this source; the sheet's
// own note is put before it by onSheet.
var sheet = trade.Source{Document: "machine requirement sheet", Mark: trade.Confirmed}

// ColdStatic compares the cold line's static pressure with the machine's limit.
var ColdStatic = &Check{
	ID:      "W-01",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "cold static pressure against the machine's maximum",
	Why:     "Above it the machine's valves and hoses may leak or burst when nothing runs.",
	Sources: []trade.Source{sheet},
	Uses:    []string{"water.cold.static_pressure", "water.cold.regulator"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.cold.static_pressure": "62 ± 0 psi"}, Verdict: OK, Shows: "p = 62 psi (427 kPa)"},
	Applies: func(c *Case) string {
		switch {
		case !c.Machine.Water.Cold.Used:
			return "the machine takes no cold water"
		case !c.Machine.Water.Cold.StaticMax.Known():
			return "the requirement sheet sets no maximum"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("water.cold.static_pressure"); lacks {
			return out
		}
		have := regulated(c.Survey.Water.Cold.Static, c.Survey.Water.Cold.Regulator)
		out := atMost(c, have, c.Machine.Water.Cold.StaticMax,
			"fit a pressure regulator on the cold line and set it below the maximum", "water.cold.static_pressure")
		out.Working = []Step{{"p", "static pressure at the connection", show(c, have)}}
		return c.onSheet(out, "water.cold.static_pressure_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		limit := c.Machine.Water.Cold.StaticMax.In(quantity.PSI)
		return c.offer(k, "water.cold.regulator", ladder(min(limit, 80), 20, 5, quantity.PSI), nil, func(v string) string {
			return "fit a pressure regulator on the cold line and set it to " + v
		})
	},
}

// regulated is the static pressure behind a regulator, if one is fitted and set below it.
func regulated(static, setting quantity.Pressure) quantity.Pressure {
	if setting.Known() && setting.In(quantity.PSI) > 0 && setting.Cmp(static) < 0 {
		return setting
	}
	return static
}
