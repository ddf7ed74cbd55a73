package rules

import (
	"firstfill/specs/check"
	"fmt"
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
	gapText := "air gap: the larger of 2 d and 1 in"
	f.gap = least
	if g := d.AirGap.Of(c).In(quantity.Inch); g > least {
		f.gap, gapText = g, "air gap as stated; 2 d or 1 in is the least"
	}
	if d.Connection.Of(c) == "air-break" {
		f.gap, gapText = 0, "an air break keeps no gap"
	}
	var slopeText string
	f.slope, slopeText = drainSlope(c, d.Size.Of(c))
	raised, falls := ask.Machine.RaisedBy.Of(c), d.FloorFalls.Of(c)
	f.outlet = m.OutletHeight.In(quantity.Inch) + raised.In(quantity.Inch) + falls.In(quantity.Inch)
	f.rim = d.RimHeight.Of(c).In(quantity.Inch)
	f.runFt = d.RunLength.Of(c).In(quantity.Foot)
	f.available = f.outlet - f.rim - f.gap
	f.required = f.slope * f.runFt
	f.steps = []Step{
		{"h_o", "outlet's invert above the floor it stands on", show(c, m.OutletHeight)},
		{"r", "stand or plinth under the machine", show(c, raised)},
		{"f", "floor lower at the receptor by", show(c, falls)},
		{"h_r", "flood rim above finished floor", show(c, d.RimHeight.Of(c))},
		{"d", boreText, show(c, drainIn(bore))},
		{"g", gapText, show(c, drainIn(f.gap))},
		{"S", slopeText, quantity.New(f.slope, quantity.InchPerFoot).Show(c.Units)},
		{"L", "run from outlet to receptor", show(c, d.RunLength.Of(c))},
		{"L_max", "longest run that still falls enough", show(c, drainFt(math.Max(0, f.available/f.slope)))},
		{"F", "fall available", show(c, drainIn(f.available))},
		{"F_min", "fall required", show(c, drainIn(f.required))},
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
			return c.Silent("the height of the drain outlet")
		}
		if out, lacks := c.Lacking(append([]survey.Ref{ask.Codes.Plumbing}, fallAnswers...)...); lacks {
			return out
		}
		f := fallHere(c)
		spare := drainIn(f.available - f.required)
		var action string
		raise := show(c, drainIn(math.Ceil(-4*spare.In(quantity.Inch))/4))
		if f.available <= 0 {
			action = fmt.Sprintf("raise the machine by at least %s, or choose one with a drain pump: the outlet lies %s below the end of the line that the air gap allows", raise, show(c, drainIn(-f.available)))
		} else {
			action = fmt.Sprintf("shorten the line to at most %s or raise the machine by at least %s", show(c, drainFt(f.available/f.slope)), raise)
		}
		if f.rim > 0 {
			action = "lower the receptor's rim, or " + action
		}
		out := check.From(drainIn(f.available), drainIn(f.required), action, fallAnswers...)
		out.Have = out.Have.Also(" of fall")
		out.Want = out.Want.Also(" of fall")
		out.Working = f.steps
		if f.available <= 0 {
			return out // no code makes water run uphill
		}
		if out.Verdict == OK && f.rim < 0 && f.available+f.rim < f.required {
			out.Verdict = Confirm
			out.Action = check.PhraseOf("see that the line ends inside the recess with the gap in sight above the flood rim; if water reaches the floor first, the rim counts as 0 in and the fall is too small")
		}
		return drainByAuthority(c, out, "the least slope of a "+ask.Drain.Size.Of(c).String()+" indirect waste line")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		rs := c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v string) any {
			return "shorten the drain line to " + drainLengthText(c, v) + ", by moving the machine or the receptor"
		})
		bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
		if least := roomyGap(bore); d.AirGap.Of(c).In(quantity.Inch) > least {
			rs = append(rs, c.Offer(k, ask.Drain.AirGap, []string{quantity.Inch.Write(least)}, nil, func(v string) any {
				return "build the air gap no larger than " + drainLengthText(c, v)
			})...)
		}
		if rim := d.RimHeight.Of(c).In(quantity.Inch); rim > 0 {
			rs = append(rs, c.Offer(k, ask.Drain.RimHeight, check.Ladder(math.Ceil(2*rim-1)/2, 0, 0.5, quantity.Inch), nil, func(v string) any {
				return "lower the receptor's rim to " + drainLengthText(c, v) + " above finished floor"
			})...)
		}
		return append(rs, c.Offer(k, ask.Machine.RaisedBy, drainRaise(c), nil, func(v string) any {
			return "set the machine on a stand of " + drainLengthText(c, v)
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
		steps := []Step{{"d", text, show(c, drainIn(bore))}}
		if !d.AirGap.Of(c).Known() {
			out := check.Rule("not measured, or not built yet", "at least "+show(c, least), "leave "+show(c, drainIn(math.Ceil(4*least.In(quantity.Inch))/4))+" between the line's end and the flood rim, and write the measured gap down", ask.Drain.AirGap)
			out.Working = append(steps, Step{"g_min", "the larger of 2 d and 1 in", show(c, least)})
			return out
		}
		out := check.From(d.AirGap.Of(c), least, "end the line at least "+show(c, least)+" above the receptor's flood rim", ask.Drain.AirGap, ask.Drain.Size)
		out.Working = append(steps, Step{"g", "air gap as stated", show(c, d.AirGap.Of(c))}, Step{"g_min", "the larger of 2 d and 1 in", show(c, least)})
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		now := ask.Drain.AirGap.Of(c).In(quantity.Inch)
		return c.Offer(k, ask.Drain.AirGap, check.Ladder(math.Floor(4*now+1)/4, 12, 0.25, quantity.Inch), nil, func(v string) any {
			return "end the line " + drainLengthText(c, v) + " above the flood rim"
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
		free, bound, want := 30.0, 54.0, "a trap, or a line of at most 30 in horizontally and 54 in in all"
		if family == trade.UPC {
			free, bound, want = 60, 60, "a trap, or a line of at most 5 ft"
		}
		in := length.In(quantity.Inch)
		if ask.Drain.Trap.Of(c) == survey.Yes {
			return drainByAuthority(c, check.Choice(true, "a trap on the line", want, "", trap), "traps on indirect waste lines")
		}
		if in > free+1e-6 {
			if out, lacks := c.Lacking(trap); lacks {
				return out
			}
		}
		out := check.UpTo(length, drainIn(free), "fit a trap on the drain line close to the machine, or shorten the line to at most "+show(c, drainIn(free)), run, trap)
		out.Have = out.Have.Also(" without a trap")
		out.Want = check.FactOf(want)
		if out.Verdict == Fix && in <= bound+1e-6 {
			out.Verdict = Confirm
			out.Action = check.PhraseOf("measure how much of the line is horizontal: over " + show(c, drainIn(free)) + ", fit a trap on it")
		}
		return drainByAuthority(c, out, "traps on indirect waste lines")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(c.Offer(k, ask.Drain.Trap, []string{"yes"}, nil, func(string) any {
			return "fit a trap on the drain line close to the machine"
		}), c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v string) any {
			return "shorten the drain line to " + drainLengthText(c, v) + ", so that it needs no trap"
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
		_, l := quantity.Distinct(length, limit, c.Units)
		out := check.UpTo(length, limit, "bring the receptor nearer, so that the line is shorter than "+l, ask.Drain.RunLength)
		out.Verdict = check.Met(length.Cmp(limit) < 0)
		if length.Cmp(limit) == 0 {
			out.Margin.Text = "at the limit, which the line must stay below"
		}
		if out.Verdict == Fix && drainFamily(c) == trade.IPC {
			out.Verdict = Confirm
			out.Action = check.PhraseOf("ask the authority having jurisdiction: the IPC itself sets no maximum, but cities that use it stop at " + l)
		}
		return drainByAuthority(c, out, "the longest indirect waste line")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.RunLength, drainShorter(c), nil, func(v string) any {
			return "bring the receptor nearer, so that the line measures " + drainLengthText(c, v)
		})
	},
}
