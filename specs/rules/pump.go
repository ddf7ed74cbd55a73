package rules

import (
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// DrainPumpLift compares the hose's highest point with what the pump can lift.
var DrainPumpLift = &Check{
	ID:      "D-21",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "lift of the drain hose against the machine's pump",
	Why:     "Above its lift the pump stalls or runs back: the tank stays full and the next rinse overflows.",
	Formula: "H = max(lift measured, h_r + g - (h_o + r + f)) in",
	Range:   "machines with a drain pump; friction in the hose is left to the pump's own limit",
	Sources: []trade.Source{sheet, trade.AirGapRule, pumpHose},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.RimHeight.Path(): "34 in"}, Verdict: Fix, Shows: "H = 31-1/2 in (800 mm)"},
	Applies: func(c *Case) string {
		if c.Machine.Drain.Kind != "pump" {
			return "the machine drains by gravity"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		limit := c.Machine.Drain.PumpLift
		if !limit.Known() {
			return c.Silent(check.Say("D-21.sheet"))
		}
		if out, lacks := c.Lacking(ask.Drain.Lift); lacks {
			return out
		}
		lift := ask.Drain.Lift.Of(c)
		steps := []Step{{"lift", check.Say("D-21.step"), lift}}
		at := []survey.Ref{ask.Drain.Lift}
		if _, lacks := c.Lacking(fallAnswers...); !lacks && c.Machine.Drain.OutletHeight.Known() {
			f := fallHere(c)
			need := drainIn(f.rim + f.gap - f.outlet)
			steps = append(steps, Step{"h_r + g", check.Say("D-21.step2"), drainIn(f.rim + f.gap)},
				Step{"h_o + r + f", check.Say("D-21.step3"), drainIn(f.outlet)})
			if need.Cmp(lift) > 0 {
				lift = need
				at = append(at, ask.Drain.RimHeight, ask.Machine.RaisedBy)
			}
		}
		out := check.UpTo(lift, limit, check.Say("D-21.do", "limit", limit), at...)
		out.Working = append(steps, Step{"H", check.Say("D-21.step4"), lift}, Step{"H_max", check.Say("D-21.step5"), limit})
		return c.OnSheet(out, "drain.pump_lift_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		lifts := check.Ladder(math.Floor(2*c.Machine.Drain.PumpLift.In(quantity.Inch))/2, 0, 0.5, quantity.Inch)
		rs := c.Offer(k, ask.Drain.Lift, lifts, nil, func(v any) any {
			return check.Say("D-21.way", "v", v)
		})
		if _, lacks := c.Lacking(fallAnswers...); lacks || len(rs) > 0 {
			return rs
		}
		// The receptor itself is too high: lower it, or raise the machine, and the hose with it.
		lift := map[string]string{ask.Drain.Lift.Path(): lifts[min(len(lifts)-1, 2)]}
		rs = c.Offer(k, ask.Drain.RimHeight, check.Ladder(math.Floor(d.RimHeight.Of(c).In(quantity.Inch)), 0, 1, quantity.Inch), lift, func(v any) any {
			return check.Say("D-21.way2", "v", v)
		})
		return append(rs, c.Offer(k, ask.Machine.RaisedBy, drainRaise(c), lift, func(v any) any {
			return check.Say("D-03.way4", "v", v)
		})...)
	},
}

// DrainStandpipe bounds the height of a standpipe above its trap.
var DrainStandpipe = &Check{
	ID:      "D-22",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "height of the standpipe above its trap weir",
	Why:     "Too low and it overflows while the pump runs; too high and the fall breaks its trap seal.",
	Sources: []trade.Source{trade.IPC802_4_3, trade.UPC804_1},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Standpipe.Path(): "36 in"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if r := ask.Drain.Receptor.Of(c); r != "" && r != "standpipe" {
			return "the receptor is no standpipe"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Receptor, ask.Drain.Standpipe, ask.Codes.Plumbing); lacks {
			return out
		}
		low, high := standpipeLimits(c)
		out := check.Within(ask.Drain.Standpipe.Of(c), low, high,
			check.Say("D-22.do", "low", low), check.Say("D-22.do2", "high", high), ask.Drain.Standpipe)
		return drainUnlessMet(c, out, check.Say("D-22.arg"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		low, high := standpipeLimits(c)
		heights := check.Ladder(math.Ceil(low.In(quantity.Inch)), high.In(quantity.Inch), 1, quantity.Inch)
		if ask.Drain.Standpipe.Of(c).Cmp(high) > 0 {
			heights = check.Ladder(math.Floor(high.In(quantity.Inch)), low.In(quantity.Inch), 1, quantity.Inch)
		}
		return c.Offer(k, ask.Drain.Standpipe, heights, nil, func(v any) any {
			return check.Say("D-22.way", "v", v)
		})
	},
}

// standpipeLimits are the code's; of a code without tables here, the narrower of the model codes.
func standpipeLimits(c *Case) (low, high quantity.Length) {
	s, err := trade.StandpipeHeights(drainFamily(c))
	if err != nil {
		s, _ = trade.StandpipeHeights(trade.UPC)
	}
	return drainIn(s.MinIn), drainIn(s.MaxIn)
}
