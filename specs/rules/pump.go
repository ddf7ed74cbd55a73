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
	Assumes:  []survey.Ref{ask.Drain.Connection},
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
	pipe := &Check{Skip: noStandpipe, Run: runStandpipe}
	good := c.Run(pipe).Verdict != Fix
rims:
	for _, rim := range lengths(c, d.RimHeight.Of(c).In(quantity.Inch)-0.01, 0, 1, 25) {
		for _, set := range movedRims(c, rim) {
			maps.Copy(set, lift)
			after, err := c.With(set)
			if err == nil && after.Passes(k) && !(good && after.Run(pipe).Verdict == Fix) {
				changes = append(changes, set)
				break rims
			}
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
	Assumes:  []survey.Ref{ask.Drain.AirGap, ask.Drain.Connection},
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
		over := check.Fact{Value: depth}.In(check.Say("D-25.above"))
		var out Outcome
		switch hose.State() {
		case trade.HoseRuns:
			out = check.Choice(false, have, over, check.Say("D-25.raise", "depth", depth), d.Lift, d.HighLoop)
		case trade.HoseSiphons:
			out = siphons(c, have, over, ended)
		default:
			out = spare(check.Choice(true, have, over, nil, d.Lift, d.HighLoop), quantity.GapOf(lift, depth).Base(), quantity.GapOf(lift, depth))
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

// standpipes are the least changes of the standpipe that meet the code: its rim
// moves with it, its trap does, or both move and its height stays.
func standpipes(c *Case) []map[string]string {
	d, k := ask.Drain, &Check{Run: runStandpipe}
	rule := standpipeRule(c)
	heights := lengths(c, rule.MinIn, rule.MaxIn, 1, 10)
	now := d.Standpipe.Of(c).In(quantity.Inch)
	if now > rule.MinIn {
		heights = lengths(c, rule.MaxIn, rule.MinIn, 1, 10)
	}
	in := func(length string) float64 { return quantity.MustParse[quantity.Length](length).In(quantity.Inch) }
	rim := d.RimHeight.Of(c)
	var sets []map[string]string
	first := func(texts []string, set func(text string) map[string]string) {
		for _, text := range texts {
			if after, err := c.With(set(text)); err == nil && after.Passes(k) {
				sets = append(sets, set(text))
				return
			}
		}
	}
	if !rim.Known() {
		first(heights, func(h string) map[string]string { return map[string]string{d.Standpipe.Path(): h} })
		return sets
	}
	first(heights, func(h string) map[string]string {
		return map[string]string{d.Standpipe.Path(): h, d.RimHeight.Path(): writeLength(c, rim.In(quantity.Inch)+in(h)-now)}
	})
	first(heights, func(h string) map[string]string {
		if trapHigh(c, rim.In(quantity.Inch)-in(h)) {
			return map[string]string{d.Standpipe.Path(): h}
		}
		return nil
	})
	if rule.TrapMaxIn > 0 {
		first(lengths(c, now+rule.TrapMinIn, now+rule.TrapMaxIn, 1, 10), func(r string) map[string]string {
			return map[string]string{d.RimHeight.Path(): r}
		})
	}
	return sets
}

// trapHigh says whether a trap whose weir stands so many inches above the floor
// has all of its depth above it, where the floor needn't be opened for it.
func trapHigh(c *Case, weir float64) bool {
	bore, _ := drainBore(ask.Drain.OutletOf.Of(c), ask.Drain.Outlet.Of(c))
	return weir >= trade.TrapDepthIn(bore, trade.TrapSealMinIn)
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
	have, rule := d.Standpipe.Of(c), standpipeRule(c)
	low, high := codeLeast(have, rule.MinIn), codeMost(have, rule.MaxIn)
	out := check.Within(have, low, high, check.Say("D-22.build", "low", low), check.Say("D-22.cut", "high", high), d.Standpipe)
	if gone, lacks := c.Lacking(d.RimHeight); lacks && rule.TrapMaxIn > 0 && out.Verdict == OK {
		return gone
	}
	if rim := d.RimHeight.Of(c); rim.Known() && rule.TrapMaxIn > 0 {
		trap := standpipeTrap(c, drainIn(rim.In(quantity.Inch)-have.In(quantity.Inch)), rule)
		if out.Working = trap.Working; trap.Verdict < out.Verdict {
			out = trap
		}
	}
	return drainUnlessMet(c, out, check.Say("rule.standpipe"))
}

// standpipeTrap judges the height of a standpipe's trap above the floor, where
// the code bounds it. The code doesn't say which point of the trap it means:
// one whose weir is too low, or whose lowest point is too high, is wrong by any
// reading; between, the authority says.
func standpipeTrap(c *Case, weir quantity.Length, rule trade.Standpipe) Outcome {
	d := ask.Drain
	low, high := codeLeast(weir, rule.TrapMinIn), codeMost(weir, rule.TrapMaxIn)
	out := check.Within(weir, low, high, check.Say("D-22.trap-low", "low", low), check.Say("D-22.trap-high", "high", high), d.RimHeight, d.Standpipe)
	out.Have, out.Want = out.Have.In(check.Say("D-22.trap")), out.Want.In(check.Say("D-22.trap"))
	out.Working = []Step{entry("h_r", check.Say("step.rim"), d.RimHeight.Of(c)), entry("h_s", check.Say("step.standpipe"), d.Standpipe.Of(c)), entry("h_r - h_s", check.Say("step.weir"), weir)}
	bore, _ := drainBore(d.OutletOf.Of(c), d.Outlet.Of(c))
	if bottom := weir.In(quantity.Inch) - trade.TrapDepthIn(bore, trade.TrapSealMinIn); out.Verdict == Fix && weir.Cmp(high) > 0 && bottom <= rule.TrapMaxIn {
		out.Verdict = Confirm
	}
	return out
}

// standpipeRule is the code's; of a code without tables here, the narrower of
// the model codes, as far as both agree.
func standpipeRule(c *Case) trade.Standpipe {
	s, err := trade.StandpipeHeights(drainFamily(c))
	if err != nil {
		s, _ = trade.StandpipeHeights(trade.UPC)
		s.TrapMinIn, s.TrapMaxIn = 0, 0
	}
	return s
}

// movedRims set the receptor's rim to a height: a standpipe is cut with it, or
// its trap goes down too where it stays above the floor.
func movedRims(c *Case, rim string) []map[string]string {
	d := ask.Drain
	set := map[string]string{d.RimHeight.Path(): rim}
	if d.Receptor.Of(c) != "standpipe" || !d.Standpipe.Known(c) {
		return []map[string]string{set}
	}
	to, pipe := quantity.MustParse[quantity.Length](rim).In(quantity.Inch), d.Standpipe.Of(c).In(quantity.Inch)
	cut := map[string]string{d.RimHeight.Path(): rim, d.Standpipe.Path(): writeLength(c, pipe+to-d.RimHeight.Of(c).In(quantity.Inch))}
	if trapHigh(c, to-pipe) {
		return []map[string]string{cut, set}
	}
	return []map[string]string{cut}
}

// writeLength writes a length in inches as a trade would: to 1/8 in, or to the millimetre.
func writeLength(c *Case, inches float64) string {
	if metric(c) {
		return quantity.Millimetre.Write(math.Round(inches * 25.4))
	}
	return quantity.Inch.Write(math.Round(8*inches) / 8)
}
