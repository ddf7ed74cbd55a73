package rules

import (
	"firstfill/specs/check"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A fall is what height and run give a gravity drain, in inches but for run and slope.
type fall struct {
	outlet, rim, gap    float64 // above the finished floor at the receptor
	available, required float64
	runFt, slope        float64
	steps               []Step
}

// fallAnswers are what the fall is computed from.
var fallAnswers = []survey.Ref{ask.Machine.RaisedBy, ask.Drain.RimHeight, ask.Drain.FloorFalls, ask.Drain.RunLength, ask.Drain.Size}

// fallUses is every answer that the fall may read.

// fallHere computes the fall; the answers it needs must be known. The air gap
// is the stated one, but not less than the smallest allowed; an air break
// needs none. A line that ends any other way will have to get an air gap.
func fallHere(c *Case) (f fall) {
	d, m := ask.Drain, c.Machine.Drain
	bore, boreText := drainBore(d.Material.Of(c), d.Size.Of(c))
	least := trade.AirGapIn(bore)
	gapText := any(check.Say("fall-here.gaptext"))
	f.gap = least
	if g := d.AirGap.Of(c).In(quantity.Inch); g > least {
		f.gap, gapText = g, check.Say("fall-here.gaptext2")
	}
	if d.Connection.Of(c) == "air-break" {
		f.gap, gapText = 0, check.Say("fall-here.gaptext3")
	}
	var slopeText any
	f.slope, slopeText = drainSlope(c, d.Size.Of(c))
	raised, falls := ask.Machine.RaisedBy.Of(c), d.FloorFalls.Of(c)
	f.outlet = m.OutletHeight.In(quantity.Inch) + raised.In(quantity.Inch) + falls.In(quantity.Inch)
	f.rim = d.RimHeight.Of(c).In(quantity.Inch)
	f.runFt = d.RunLength.Of(c).In(quantity.Foot)
	f.available = f.outlet - f.rim - f.gap
	f.required = f.slope * f.runFt
	f.steps = []Step{
		{"h_o", check.Say("fall-here.step"), m.OutletHeight},
		{"r", check.Say("fall-here.step2"), raised},
		{"f", check.Say("fall-here.step3"), falls},
		{"h_r", check.Say("fall-here.step4"), d.RimHeight.Of(c)},
		{"d", boreText, drainIn(bore)},
		{"g", gapText, drainIn(f.gap)},
		{"S", slopeText, quantity.New(f.slope, quantity.InchPerFoot)},
		{"L", check.Say("fall-here.step5"), d.RunLength.Of(c)},
		{"L_max", check.Say("fall-here.step6"), drainFt(math.Max(0, f.available/f.slope))},
		{"F", check.Say("fall-here.step7"), drainIn(f.available)},
		{"F_min", check.Say("fall-here.step8"), drainIn(f.required)},
	}
	return f
}

// slopeHere is the slope that height and run allow, 0 when it isn't known.
func slopeHere(c *Case) float64 {
	if _, lacks := c.Lacking(fallAnswers...); lacks || !c.Machine.Drain.OutletHeight.Known() {
		return 0
	}
	if f := fallHere(c); f.runFt > 0 && f.available > 0 {
		return f.available / f.runFt
	}
	return 0
}

// DrainFall asks for enough fall from outlet to receptor.
var DrainFall = &Check{
	ID:      "D-03",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "gravity fall from outlet to receptor",
	Why:     "A gravity drain needs its slope over the whole run and the air gap above the receptor. Without it the tank doesn't empty and the line blocks. Heights are to finished floor: measure again after flooring.",
	Formula: "F = (h_o + r + f) - (h_r + g) in; g = max(2 d, 1 in); F_min = S x L in, S in/ft, L ft; L_max = F / S",
	Range:   "gravity drains; all heights above the finished floor at the receptor",
	Sources: []trade.Source{trade.IPC704_1, trade.UPC708, trade.AirGapRule, trade.BoreSch40, trade.BoreCopperDWV, trade.BoreNoHub},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.RunLength.Path(): "20 ft"}, Verdict: Fix, Shows: "L_max = 14 ft (4267 mm)"},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if !c.Machine.Drain.OutletHeight.Known() {
			return c.Silent(check.Say("D-03.sheet"))
		}
		if out, lacks := c.Lacking(append([]survey.Ref{ask.Codes.Plumbing}, fallAnswers...)...); lacks {
			return out
		}
		f := fallHere(c)
		spare := drainIn(f.available - f.required)
		var action any
		raise := any(drainIn(math.Ceil(-4*spare.In(quantity.Inch)) / 4))
		if f.available <= 0 {
			action = check.Say("D-03.action", "raise", raise, "value", drainIn(-f.available))
		} else {
			action = check.Say("D-03.action2", "value", drainFt(f.available/f.slope), "raise", raise)
		}
		if f.rim > 0 {
			action = check.Say("D-03.action3", "action", action)
		}
		out := check.From(drainIn(f.available), drainIn(f.required), action, fallAnswers...)
		out.Have = out.Have.Also(check.Say("D-03.also"))
		out.Want = out.Want.Also(check.Say("D-03.also"))
		out.Working = f.steps
		if f.available <= 0 {
			return out // no code makes water run uphill
		}
		if out.Verdict == OK && f.rim < 0 && f.available+f.rim < f.required {
			out.Verdict = Confirm
			out.Action = check.PhraseOf(check.Say("D-03.do"))
		}
		return drainByAuthority(c, out, check.Say("D-03.arg", "size", ask.Drain.Size.Of(c)))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		rs := c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v any) any {
			return check.Say("D-03.way", "v", v)
		})
		bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
		if least := roomyGap(bore); d.AirGap.Of(c).In(quantity.Inch) > least {
			rs = append(rs, c.Offer(k, ask.Drain.AirGap, []string{quantity.Inch.Write(least)}, nil, func(v any) any {
				return check.Say("D-03.way2", "v", v)
			})...)
		}
		if rim := d.RimHeight.Of(c).In(quantity.Inch); rim > 0 {
			rs = append(rs, c.Offer(k, ask.Drain.RimHeight, check.Ladder(math.Ceil(2*rim-1)/2, 0, 0.5, quantity.Inch), nil, func(v any) any {
				return check.Say("D-03.way3", "v", v)
			})...)
		}
		return append(rs, c.Offer(k, ask.Machine.RaisedBy, drainRaise(c), nil, func(v any) any {
			return check.Say("D-03.way4", "v", v)
		})...)
	},
}

// DrainAirGap asks for an air gap of twice the bore, 1 in at least.
var DrainAirGap = &Check{
	ID:      "D-04",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "size of the air gap",
	Why:     "Too small a gap lets a backed-up receptor reach the end of the line and be drawn into the machine.",
	Formula: "g_min = max(2 d, 1 in), d = bore of the line's end in inches",
	Range:   "lines that end in an air gap",
	Sources: []trade.Source{trade.AirGapRule, trade.BoreSch40, trade.BoreCopperDWV, trade.BoreNoHub},
	After:   []*Check{DrainConnection},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Material.Path(): "pvc", ask.Drain.Size.Path(): "1-1/2 in", ask.Drain.AirGap.Path(): "3 ± 0 in"}, Verdict: Fix, Shows: "g_min = 3.22 in (82 mm)"},
	Applies: func(c *Case) string {
		switch ask.Drain.Connection.Of(c) {
		case "air-break":
			return "the line ends in an air break; see D-01"
		case "direct":
			return "the line is joined directly; see D-01"
		}
		return noReceptor(c)
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Size); lacks {
			return out
		}
		d := ask.Drain
		bore, text := drainBore(d.Material.Of(c), d.Size.Of(c))
		least := drainIn(trade.AirGapIn(bore))
		steps := []Step{{"d", text, drainIn(bore)}}
		if !d.AirGap.Of(c).Known() {
			out := check.Rule(check.Say("D-04.have"), check.Say("wire-of.want2", "least", least), check.Say("D-04.do", "value", drainIn(math.Ceil(4*least.In(quantity.Inch))/4)), ask.Drain.AirGap)
			out.Working = append(steps, Step{"g_min", check.Say("D-04.step"), least})
			return out
		}
		out := check.From(d.AirGap.Of(c), least, check.Say("D-04.do2", "least", least), ask.Drain.AirGap, ask.Drain.Size)
		out.Working = append(steps, Step{"g", check.Say("D-04.step2"), d.AirGap.Of(c)}, Step{"g_min", check.Say("D-04.step"), least})
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		now := ask.Drain.AirGap.Of(c).In(quantity.Inch)
		return c.Offer(k, ask.Drain.AirGap, check.Ladder(math.Floor(4*now+1)/4, 12, 0.25, quantity.Inch), nil, func(v any) any {
			return check.Say("D-04.way", "v", v)
		})
	},
}

// DrainLineTrap asks for a trap on a long indirect line.
var DrainLineTrap = &Check{
	ID:      "D-11",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "trap on the drain line by its length",
	Why:     "A long open line fouls and smells into the bar; a trap on it keeps the air out.",
	Sources: []trade.Source{trade.IPC802_3, trade.UPC803_3},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.RunLength.Path(): "8 ft"}, Verdict: Fix},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.RunLength, ask.Codes.Plumbing); lacks {
			return out
		}
		trap, run := ask.Drain.Trap, ask.Drain.RunLength
		family, length := drainFamily(c), ask.Drain.RunLength.Of(c)
		// The length up to which no trap is needed, and that above which one is.
		free, bound, want := 30.0, 54.0, any(check.Say("D-11.want"))
		if family == trade.UPC {
			free, bound, want = 60, 60, check.Say("D-11.want2")
		}
		in := length.In(quantity.Inch)
		if ask.Drain.Trap.Of(c) == survey.Yes {
			return drainByAuthority(c, check.Choice(true, check.Say("D-11.have"), want, check.Phrase{}, trap), check.Say("D-11.arg"))
		}
		if in > free+1e-6 {
			if out, lacks := c.Lacking(trap); lacks {
				return out
			}
		}
		out := check.UpTo(length, drainIn(free), check.Say("D-11.do", "free", drainIn(free)), run, trap)
		out.Have = out.Have.Also(check.Say("D-11.also"))
		out.Want = check.FactOf(want)
		if out.Verdict == Fix && in <= bound+1e-6 {
			out.Verdict = Confirm
			out.Action = check.PhraseOf(check.Say("D-11.do2", "free", drainIn(free)))
		}
		return drainByAuthority(c, out, check.Say("D-11.arg"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(c.Offer(k, ask.Drain.Trap, []string{"yes"}, nil, func(any) any {
			return check.Say("D-11.way")
		}), c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v any) any {
			return check.Say("D-11.way2", "v", v)
		})...)
	},
}

// indirectMaxFt is the length that the UPC, and cities under the IPC, bound indirect lines by.
const indirectMaxFt = 15

// DrainLineLength bounds the length of the indirect line.
var DrainLineLength = &Check{
	ID:      "D-12",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "developed length of the drain line",
	Why:     "Indirect lines can't be vented; beyond a length they must be plumbed another way.",
	Sources: []trade.Source{trade.UPC803_3, cityLength},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.RunLength.Path(): "18 ft"}, Verdict: Fix},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.RunLength, ask.Codes.Plumbing); lacks {
			return out
		}
		length, limit := ask.Drain.RunLength.Of(c), drainFt(indirectMaxFt)
		out := check.UpTo(length, limit, nil, ask.Drain.RunLength)
		out.Verdict, out.Want = check.Met(length.Cmp(limit) < 0), check.Fact{Value: limit}.In(check.Say("D-12.want"))
		if length.Cmp(limit) == 0 {
			out.Margin.Side = check.Say("D-12.at")
		}
		if out.Verdict == Fix {
			out.Action = check.Say("D-12.do", "l", limit)
		}
		if out.Verdict == Fix && drainFamily(c) == trade.IPC {
			out.Verdict = Confirm
			out.Action = check.PhraseOf(check.Say("D-12.do2", "l", limit))
		}
		return drainByAuthority(c, out, check.Say("D-12.arg"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v any) any {
			return check.Say("D-12.way", "v", v)
		})
	},
}
