package rules

import (
	"maps"
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// pumpOnly is why a check of a pumped hose doesn't arise.
func pumpOnly(c *Case) check.Phrase {
	if c.Machine.Drain.Kind != "pump" {
		return check.Say("drain.gravity")
	}
	return check.Phrase{}
}

// DrainPumpLift compares the hose's highest point with what the pump can lift.
var DrainPumpLift = &Check{
	ID:       "D-21",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{sheet, trade.AirGapRule, gapUPC, pumpHose},
	Example:  Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.RimHeight.Path(): "34 in"}, Verdict: Fix, Shows: "H = 31-1/2 in (800 mm)"},
	Skip:     pumpOnly,
	Run:      runPumpLift,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, lessLift(c)...) },
}

// lessLift are the ways to less lift: the hose hung lower, else the receptor
// lower or the machine raised, and the hose with it.
func lessLift(c *Case) []map[string]string {
	d, k := ask.Drain, &Check{Run: runPumpLift}
	lifts := lengths(c, c.Machine.Drain.PumpLift.In(quantity.Inch), 0, 0.5, 10)
	lower := firstOf(c, k, d.Lift, lifts, nil)
	if _, lacks := c.Lacking(fallAnswers...); lacks || len(lower) > 0 || len(lifts) == 0 {
		return lower
	}
	lift := map[string]string{d.Lift.Path(): lifts[min(len(lifts)-1, 2)]}
	var changes []map[string]string
	for _, rim := range lengths(c, d.RimHeight.Of(c).In(quantity.Inch)-0.01, 0, 1, 25) {
		set := movedRim(c, rim)
		maps.Copy(set, lift)
		if after, err := c.With(set); err == nil && after.Passes(k) {
			changes = append(changes, set)
			break
		}
	}
	return append(changes, firstOf(c, k, ask.Machine.RaisedBy, stands(c), lift)...)
}

func runPumpLift(c *Case) Outcome {
	limit := c.Machine.Drain.PumpLift
	if !limit.Known() {
		return c.Silent(check.Say("silent.pump-lift"))
	}
	if out, lacks := c.Lacking(ask.Drain.Lift); lacks {
		return out
	}
	lift := ask.Drain.Lift.Of(c)
	steps := []Step{entry("lift", check.Say("step.lift"), lift)}
	at := []survey.Ref{ask.Drain.Lift}
	var fall any // where the hose ends, for drawings
	if _, lacks := c.Lacking(fallAnswers...); !lacks && c.Machine.Drain.OutletHeight.Known() {
		f := fallHere(c)
		fall = f
		end, outlet := f.Rim.In(quantity.Inch)+f.Gap.In(quantity.Inch), f.Outlet.In(quantity.Inch)
		steps = append(steps, entry("h_r + g", check.Say("step.hose-end"), drainIn(end)), entry("h_o + r + f", check.Say("step.pump-outlet"), drainIn(outlet)))
		if need := drainIn(end - outlet); need.Cmp(lift) > 0 {
			lift = need
			at = append(at, ask.Drain.RimHeight, ask.Machine.RaisedBy)
		}
	}
	out := check.UpTo(lift, limit, check.Say("D-21.lower", "limit", limit), at...)
	out.Working = append(steps, entry("H", check.Say("step.pump-must"), lift), entry("H_max", check.Say("step.pump-can"), limit))
	out.Result = fall
	return c.OnSheet(out, "drain.pump_lift_max")
}

// lowEnd is what an inspector's page says of dishwashers: an air gap must be
// used where the hose ends less than 18 in above the floor, to prevent siphoning.
var lowEnd = trade.Source{Document: "Home inspectors' guidance", Clause: "a drain hose that ends low is vented against siphoning", Mark: trade.ReadCopy}

// DrainHighLoop asks that a pumped hose rises above the tank's water.
var DrainHighLoop = &Check{
	ID:       "D-25",
	Trade:    Plumber,
	Stage:    BeforeStart,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.SiphonLaw, lowEnd, pumpHose},
	Example:  Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.HighLoop.Path(): "no"}, Verdict: Fix},
	Skip:     pumpOnly,
	Run:      runHighLoop,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, loops(c)...) },
}

// loops hang the hose in a loop, above the tank's water where its depth is
// known, with an air vent at its top where its end lies so low that it would
// siphon all the same.
func loops(c *Case) []map[string]string {
	d, depth, k := ask.Drain, c.Machine.Drain.TankDepth, &Check{Run: runHighLoop}
	set := map[string]string{}
	if d.HighLoop.Of(c) != survey.Yes {
		set[d.HighLoop.Path()] = "yes"
	}
	hung := func() []map[string]string {
		if depth.Known() && d.Lift.Known(c) && d.Lift.Of(c).Cmp(depth) <= 0 {
			in := depth.In(quantity.Inch)
			return firstOf(c, k, d.Lift, lengths(c, in+1, in+24, 1, 25), set)
		}
		if after, err := c.With(set); len(set) > 0 && err == nil && after.Passes(k) {
			return []map[string]string{maps.Clone(set)}
		}
		return nil
	}
	if sets := hung(); sets != nil {
		return sets
	}
	set[d.HoseVent.Path()] = "yes"
	return hung()
}

// hoseEnd is the height of the hose's end above the pump's outlet, in; where
// the answers don't say, not ok.
func hoseEnd(c *Case) (in float64, ok bool) {
	if _, lacks := c.Lacking(fallAnswers...); lacks || !c.Machine.Drain.OutletHeight.Known() {
		return 0, false
	}
	f := fallHere(c)
	return f.Rim.In(quantity.Inch) + f.Gap.In(quantity.Inch) - f.Outlet.In(quantity.Inch), true
}

func runHighLoop(c *Case) Outcome {
	d, want := ask.Drain, check.Say("D-25.want")
	end, ended := hoseEnd(c)
	vented := d.HoseVent.Of(c) == survey.Yes
	var steps []Step
	if ended {
		steps = append(steps, entry("E", check.Say("step.hose-end-pump"), drainIn(end)))
	}
	if depth := c.Machine.Drain.TankDepth; depth.Known() && d.Lift.Known(c) {
		lift := d.Lift.Of(c)
		// Heights above the pump's outlet; an end that isn't known may lie below everything.
		hose := trade.Hose{WaterIn: depth.In(quantity.Inch), TopIn: lift.In(quantity.Inch), EndIn: depth.In(quantity.Inch) - 1, AirIn: vented}
		if ended {
			hose.EndIn = end
		}
		steps = append([]Step{entry("H", check.Say("step.lift"), lift), entry("h", check.Say("step.tank-depth"), depth)}, steps...)
		have := check.Fact{Value: lift}.In(check.Say("D-25.top"))
		above := check.Fact{Value: depth}.In(check.Say("D-25.above"))
		var out Outcome
		switch hose.State() {
		case trade.HoseRuns:
			out = check.Choice(false, have, above, check.Say("D-25.raise", "depth", depth), d.Lift, d.HighLoop)
		case trade.HoseSiphons:
			out = siphons(c, have, above, ended)
		default:
			out = check.Choice(true, have, above, nil, d.Lift, d.HighLoop)
		}
		out.Working = steps
		if out.Verdict != OK || d.HighLoop.Of(c) != survey.No {
			return c.OnSheet(out, "drain.tank_depth")
		}
	}
	switch d.HighLoop.Of(c) {
	case survey.Yes:
		out := check.Choice(true, check.Say("D-25.there"), want, nil, d.HighLoop)
		if ended && end <= 0 && !vented { // at the outlet or below it: below the water, however deep that is
			out = siphons(c, check.Say("D-25.low-end", "below", drainIn(-end)), check.Say("D-25.vent-want"), true)
		}
		out.Working = steps
		return out
	case survey.No:
		return check.Choice(false, check.Say("D-25.lacking"), want, check.Say("D-25.clip"), d.HighLoop)
	}
	if out, lacks := c.Lacking(d.Lift); lacks {
		return out
	}
	return check.Rule(check.Say("D-25.unseen"), want, check.Say("D-25.see"), d.HighLoop)
}

// siphons is the outcome of a hose that rises above the water and ends below
// it: without an air vent it siphons the tank, and unseen it may. Where its end
// isn't known either, it is for the plumber to see.
func siphons(c *Case, have, want any, ended bool) Outcome {
	d := ask.Drain
	if ended && d.HoseVent.Of(c) == survey.No {
		return check.Choice(false, have, want, check.Say("D-25.air"), d.HoseVent, d.Lift, d.HighLoop, d.RimHeight)
	}
	return check.Rule(have, want, check.Say("D-25.air"), d.HoseVent, d.Lift, d.HighLoop, d.RimHeight)
}

// DrainStandpipe bounds the height of a standpipe above its trap.
var DrainStandpipe = &Check{
	ID:       "D-22",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.Receptor,
	Sources:  []trade.Source{trade.IPC802_4_3, trade.UPC804_1},
	Example:  Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Standpipe.Path(): "36 in"}, Verdict: Fix},
	Skip:     noStandpipe,
	Run:      runStandpipe,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, standpipes(c)...) },
}

// standpipes is the least change of the standpipe that meets the code; its rim moves with it.
func standpipes(c *Case) []map[string]string {
	d, k := ask.Drain, &Check{Run: runStandpipe}
	low, high := standpipeLimits(c)
	heights := lengths(c, low, high, 1, 10)
	if d.Standpipe.Of(c).In(quantity.Inch) > high {
		heights = lengths(c, high, low, 1, 10)
	}
	for _, h := range heights {
		set := map[string]string{d.Standpipe.Path(): h}
		if d.RimHeight.Known(c) {
			set[d.RimHeight.Path()] = writeLength(c, d.RimHeight.Of(c).In(quantity.Inch)+quantity.MustParse[quantity.Length](h).In(quantity.Inch)-d.Standpipe.Of(c).In(quantity.Inch))
		}
		if after, err := c.With(set); err == nil && after.Passes(k) {
			return []map[string]string{set}
		}
	}
	return nil
}

// noStandpipe is why a standpipe's height doesn't matter.
func noStandpipe(c *Case) check.Phrase {
	if r := ask.Drain.Receptor.Of(c); r != "" && r != "standpipe" {
		return check.Say("D-22.other")
	}
	return check.Phrase{}
}

func runStandpipe(c *Case) Outcome {
	d := ask.Drain
	if out, lacks := c.Lacking(d.Receptor, d.Standpipe, ask.Codes.Plumbing); lacks {
		return out
	}
	have := d.Standpipe.Of(c)
	least, most := standpipeLimits(c)
	low, high := codeLeast(have, least), codeMost(have, most)
	out := check.Within(have, low, high, check.Say("D-22.build", "low", low), check.Say("D-22.cut", "high", high), d.Standpipe)
	return drainUnlessMet(c, out, check.Say("rule.standpipe"))
}

// standpipeLimits are the code's, in; of a code without tables here, the narrower of the model codes.
func standpipeLimits(c *Case) (low, high float64) {
	s, err := trade.StandpipeHeights(drainFamily(c))
	if err != nil {
		s, _ = trade.StandpipeHeights(trade.UPC)
	}
	return s.MinIn, s.MaxIn
}

// movedRim sets the receptor's rim to a height, and cuts a standpipe with it.
func movedRim(c *Case, rim string) map[string]string {
	d := ask.Drain
	set := map[string]string{d.RimHeight.Path(): rim}
	if d.Receptor.Of(c) == "standpipe" && d.Standpipe.Known(c) {
		by := quantity.MustParse[quantity.Length](rim).In(quantity.Inch) - d.RimHeight.Of(c).In(quantity.Inch)
		set[d.Standpipe.Path()] = writeLength(c, d.Standpipe.Of(c).In(quantity.Inch)+by)
	}
	return set
}

// writeLength writes a length in inches as a trade would: to 1/8 in, or to the millimetre.
func writeLength(c *Case, inches float64) string {
	if metric(c) {
		return quantity.Millimetre.Write(math.Round(inches * 25.4))
	}
	return quantity.Inch.Write(math.Round(8*inches) / 8)
}
