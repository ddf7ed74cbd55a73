package rules

import (
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A Fall is what height and run give a gravity drain; heights are above the
// finished floor at the receptor. It is the result of DrainFall, and of
// DrainPumpLift, whose hose needs no fall.
type Fall struct {
	Outlet, Rim, Gap    quantity.Length // the machine's outlet, the flood rim, the air gap above it
	Available, Required quantity.Length
	Run, Longest        quantity.Length // of the line: as it is, and as it may be
	Slope               quantity.Slope  // the least
	Steepest            quantity.Slope  // that height and run allow; not known for a line without length
	steps               []Step
}

// fallAnswers are what the fall is computed from.
var fallAnswers = []survey.Ref{ask.Machine.RaisedBy, ask.Drain.RimHeight, ask.Drain.FloorFalls, ask.Drain.RunLength, ask.Drain.Size}

// fallHere computes the fall; the answers it needs must be known.
func fallHere(c *Case) Fall { return fallIn(c, ask.Drain.Material.Of(c)) }

// fallIn computes the fall in pipe of a material. The air gap is the stated
// one, but not less than the smallest allowed; an air break needs none. A line
// that ends any other way will have to get an air gap.
func fallIn(c *Case, material string) Fall {
	d, m := ask.Drain, c.Machine.Drain
	bore, boreText := drainBore(material, d.Size.Of(c))
	slope, slopeText := drainSlope(c, d.Size.Of(c))
	raised, falls, rim, run := ask.Machine.RaisedBy.Of(c), d.FloorFalls.Of(c), d.RimHeight.Of(c), d.RunLength.Of(c)
	outlet := m.OutletHeight.In(quantity.Inch) + raised.In(quantity.Inch) + falls.In(quantity.Inch)
	r := trade.Fall{
		OutletIn: outlet, RimIn: rim.In(quantity.Inch), OpeningIn: bore, GapIn: d.AirGap.Of(c).In(quantity.Inch),
		AirBreak: d.Connection.Of(c) == "air-break", RunFt: run.In(quantity.Foot), SlopeInPerFt: slope,
	}.Check()
	gapText := check.Say("step.gap-least")
	switch {
	case d.Connection.Of(c) == "air-break":
		gapText = check.Say("step.gap-break")
	case r.GapIn > trade.AirGapIn(bore):
		gapText = check.Say("step.gap-stated")
	}
	f := Fall{
		Outlet: drainIn(outlet), Rim: rim, Gap: drainIn(r.GapIn),
		Available: drainIn(r.AvailableIn), Required: drainIn(r.RequiredIn),
		Run: run, Longest: drainFt(r.MaxRunFt), Slope: drainSlopeOf(slope),
	}
	if !math.IsNaN(r.Steepest) {
		f.Steepest = drainSlopeOf(r.Steepest)
	}
	if c.Moved() { // nobody sees how it was worked out
		return f
	}
	f.steps = []Step{
		entry("h_o", check.Say("step.outlet"), m.OutletHeight),
		entry("r", check.Say("step.stand"), raised),
		entry("f", check.Say("step.floor-falls"), falls),
		entry("h_r", check.Say("step.rim"), rim),
		entry("d", boreText, drainIn(bore)),
		entry("g", gapText, f.Gap),
		entry("S", slopeText, f.Slope),
		entry("L", check.Say("step.run"), run),
		entry("L_max", check.Say("step.longest"), f.Longest),
		entry("F", check.Say("step.available"), f.Available),
		entry("F_min", check.Say("step.required"), f.Required),
	}
	return f
}

// steepestHere is the slope that height and run allow, in/ft; 0 when it isn't known.
func steepestHere(c *Case) float64 {
	if _, lacks := c.Lacking(fallAnswers...); lacks || !c.Machine.Drain.OutletHeight.Known() {
		return 0
	}
	if s := fallHere(c).Steepest; s.Known() {
		return s.In(quantity.InchPerFoot)
	}
	return 0
}

// DrainFall asks for enough fall from outlet to receptor.
var DrainFall = &Check{
	ID:       "D-03",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.IPC704_1, trade.UPC708, trade.AirGapRule, gapUPC, trade.BoreSch40, trade.BoreCopperDWV, trade.BoreNoHub},
	Assumes:  []survey.Ref{ask.Drain.Connection},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.RunLength.Path(): "20 ft"}, Verdict: Fix, Shows: "L_max = 14 ft (4267 mm)"},
	Skip:     gravityOnly,
	Run:      runFall,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, moreFall(c)...) },
}

func runFall(c *Case) Outcome {
	if !c.Machine.Drain.OutletHeight.Known() {
		return c.Silent(check.Say("silent.outlet-height"))
	}
	if out, lacks := c.Lacking(append([]survey.Ref{ask.Codes.Plumbing}, fallAnswers...)...); lacks {
		return out
	}
	f := fallHere(c)
	short := f.Required.In(quantity.Inch) - f.Available.In(quantity.Inch)
	raise := drainIn(math.Ceil(4*short) / 4)
	uphill := f.Available.In(quantity.Inch) <= 0
	action := check.Say("D-03.shorten", "run", f.Longest, "raise", raise)
	if uphill {
		action = check.Say("D-03.uphill", "raise", raise, "below", drainIn(-f.Available.In(quantity.Inch)))
	}
	if f.Rim.In(quantity.Inch) > 0 {
		action = check.Say("D-03.rim", "action", action)
	}
	out := check.From(f.Available, f.Required, action, fallAnswers...)
	out.Have, out.Want = out.Have.In(check.Say("D-03.fall")), out.Want.In(check.Say("D-03.fall"))
	if f.Available.In(quantity.Inch) < 0 {
		out.Have = check.Fact{Value: drainIn(-f.Available.In(quantity.Inch))}.In(check.Say("D-03.too-low"))
	}
	out.Working, out.Result = f.steps, f
	if out.Verdict == Fix && !ask.Drain.Material.Known(c) {
		if narrow := fallIn(c, narrowest); narrow.Available.Cmp(narrow.Required) >= 0 {
			out.Verdict, out.Action = Confirm, check.Say("drain.material", "action", action)
			out.At = append(out.At, ask.Drain.Material)
		}
	}
	if uphill {
		return out // no code makes water run uphill
	}
	if rim := f.Rim.In(quantity.Inch); out.Verdict == OK && rim < 0 && f.Available.In(quantity.Inch)+rim < f.Required.In(quantity.Inch) {
		out.Verdict, out.Action = Confirm, check.Say("D-03.recess")
	}
	return drainByAuthority(c, out, check.Say("rule.slope", "size", ask.Drain.Size.Of(c)))
}

// DrainAirGap asks for an air gap of twice the bore, 1 in at least.
var DrainAirGap = &Check{
	ID:       "D-04",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.AirGapRule, gapUPC, gapASME, trade.BoreSch40, trade.BoreCopperDWV, trade.BoreNoHub},
	After:    []*Check{DrainConnection},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Material.Path(): "pvc", ask.Drain.Size.Path(): "1-1/2 in", ask.Drain.AirGap.Path(): "3 ± 0 in"}, Verdict: Fix, Shows: "g_min = 3.22 in (82 mm)"},
	Skip:     noAirGap,
	Run:      runAirGap,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, widerGap(c)...) },
}

// noAirGap is why the size of the air gap doesn't matter.
func noAirGap(c *Case) check.Phrase {
	switch ask.Drain.Connection.Of(c) {
	case "air-break":
		return check.Say("D-04.break")
	case "direct":
		return check.Say("D-04.direct")
	}
	return noReceptor(c)
}

func runAirGap(c *Case) Outcome {
	d := ask.Drain
	if out, lacks := c.Lacking(d.Size); lacks {
		return out
	}
	bore, text := drainBore(d.Material.Of(c), d.Size.Of(c))
	least := drainIn(trade.AirGapIn(bore))
	steps := []Step{entry("d", text, drainIn(bore))}
	if !d.AirGap.Known(c) {
		out := check.Rule(check.Say("D-04.unbuilt"), check.Fact{Value: least, Bound: check.AtLeast}, check.Say("D-04.leave", "gap", check.Fact{Value: least, Bound: check.AtLeast}), d.AirGap)
		out.Working = append(steps, entry("g_min", check.Say("step.gap-rule"), least))
		return out
	}
	have, limit := d.AirGap.Of(c), least
	if least.In(quantity.Inch) == 1 {
		limit = codeLeast(have, 1)
	}
	action := check.Say("D-04.end", "gap", least)
	out := check.From(have, limit, action, d.AirGap, d.Size)
	if out.Verdict == Fix && !d.Material.Known(c) {
		if narrow, _ := drainBore(narrowest, d.Size.Of(c)); have.Cmp(drainIn(trade.AirGapIn(narrow))) >= 0 {
			out.Verdict, out.Action = Confirm, check.Say("drain.material", "action", action)
			out.At = append(out.At, d.Material)
		}
	}
	out.Working = append(steps, entry("g", check.Say("step.gap"), have), entry("g_min", check.Say("step.gap-rule"), least))
	return out
}

// DrainLineTrap asks for a trap on a long indirect line, and for room for it.
var DrainLineTrap = &Check{
	ID:      "D-11",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.IPC802_3, trade.UPC803_3, trade.IPC1002, sealUPC, trade.Geometry},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.RunLength.Path(): "8 ft", ask.Drain.Trap.Path(): "yes", ask.Drain.Size.Path(): "1-1/2 in", ask.Drain.Material.Path(): "cast-iron"}, Verdict: OK, Shows: "h_t = 3-1/2 in (89 mm)"},
	Skip:    gravityOnly,
	Run:     runLineTrap,
	Remedies: func(c *Case, k *Check) []Remedy {
		trap := map[string]string{ask.Drain.Trap.Path(): "yes"}
		changes := []map[string]string{trap}
		if after, err := c.With(trap); err == nil && !after.Passes(k) {
			changes = firstOf(c, k, ask.Machine.RaisedBy, stands(c), trap)
		}
		return drainWays(c, k, append(changes, firstOf(c, k, ask.Drain.RunLength, shorterRuns(c), nil)...)...)
	},
}

func runLineTrap(c *Case) Outcome {
	d := ask.Drain
	if out, lacks := c.Lacking(d.RunLength, ask.Codes.Plumbing); lacks {
		return out
	}
	length := d.RunLength.Of(c)
	rule := indirectRule(c)
	// The length up to which no trap is needed, and that above which one is:
	// how much of it is horizontal isn't asked.
	free, bound := codeMost(length, rule.HorizontalIn), codeMost(length, rule.DevelopedIn)
	want := check.Say("D-11.want-ipc", "horizontal", drainIn(rule.HorizontalIn), "all", drainIn(rule.DevelopedIn))
	if drainFamily(c) == trade.UPC {
		want = check.Say("D-11.want-upc", "all", drainFt(rule.DevelopedIn/trade.InPerFt))
	}
	if d.Trap.Of(c) == survey.Yes {
		out := check.Choice(true, check.Say("D-11.trap"), want, nil, d.Trap)
		if m := c.Machine.Drain; m.OutletHeight.Known() && d.Size.Known(c) {
			bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
			need := drainIn(trade.TrapDepthIn(bore, trade.TrapSealMinIn))
			height := drainIn(m.OutletHeight.In(quantity.Inch) + ask.Machine.RaisedBy.Of(c).In(quantity.Inch))
			if height.Cmp(need) < 0 {
				out = check.Rule(check.Fact{Value: height}.In(check.Say("D-11.height")), check.Fact{Value: need, Bound: check.AtLeast},
					check.Say("D-11.room", "raise", drainIn(math.Ceil(4*(need.In(quantity.Inch)-height.In(quantity.Inch)))/4)), d.Trap, ask.Machine.RaisedBy)
			}
			out = above(out, height, need)
			out.Working = []Step{entry("h_o + r", check.Say("step.outlet-raised"), height), entry("h_t", check.Say("step.trap-height"), need)}
		}
		return drainByAuthority(c, out, check.Say("rule.traps"))
	}
	if length.Cmp(free) > 0 {
		if out, lacks := c.Lacking(d.Trap); lacks {
			return out
		}
	}
	out := check.UpTo(length, free, check.Say("D-11.fit", "free", free), d.RunLength, d.Trap)
	out.Have, out.Want = out.Have.In(check.Say("D-11.bare")), check.FactOf(want)
	if out.Verdict == Fix && length.Cmp(bound) <= 0 {
		out.Verdict, out.Action = Confirm, check.Say("D-11.measure", "free", free)
	}
	return drainByAuthority(c, out, check.Say("rule.traps"))
}

// indirectRule is the trap rule of indirect lines; of a code without tables
// here, the IPC's, which asks for a trap first.
func indirectRule(c *Case) trade.IndirectLimits {
	rule, err := trade.IndirectWaste(drainFamily(c))
	if err != nil {
		rule, _ = trade.IndirectWaste(trade.IPC)
	}
	return rule
}

// indirectMax is the length that the UPC, and cities under the IPC, bound indirect lines by.
func indirectMax() quantity.Length {
	rule, _ := trade.IndirectWaste(trade.UPC)
	return drainFt(rule.TreatedIn / trade.InPerFt)
}

// DrainLineLength bounds the length of the indirect line.
var DrainLineLength = &Check{
	ID:      "D-12",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.UPC803_3, cityLength},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.RunLength.Path(): "18 ft"}, Verdict: Fix},
	Skip:    gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.RunLength, ask.Codes.Plumbing); lacks {
			return out
		}
		length, limit := ask.Drain.RunLength.Of(c), indirectMax()
		out := check.UpTo(length, limit, check.Say("D-12.nearer", "limit", limit), ask.Drain.RunLength)
		out.Want = check.Fact{Value: limit}.In(check.Say("D-12.want"))
		if length.Cmp(limit) == 0 {
			out.Verdict, out.Action = Fix, check.Say("D-12.nearer", "limit", limit)
			out.Margin.Side = check.Phrase{Name: "D-12.at"}
		}
		if out.Verdict == Fix && drainFamily(c) == trade.IPC {
			out.Verdict, out.Action = Confirm, check.Say("D-12.city", "limit", limit)
		}
		return drainByAuthority(c, out, check.Say("rule.length"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, firstOf(c, k, ask.Drain.RunLength, shorterRuns(c), nil)...)
	},
}
