package rules

import (
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
var fallAnswers = []string{"machine.raised_by", "drain.rim_height", "drain.floor_falls", "drain.run_length", "drain.pipe_size"}

// fallUses is every answer that the fall may read.
var fallUses = append([]string{"drain.air_gap", "drain.pipe_material", "drain.connection", "codes.plumbing"}, fallAnswers...)

// fallHere computes the fall; the answers it needs must be known. The air gap
// is the stated one, but not less than the smallest allowed; an air break
// needs none. A line that ends any other way will have to get an air gap.
func (c *Case) fallHere() (f fall) {
	d, m := c.Survey.Drain, c.Machine.Drain
	bore, boreText := drainBore(d.Material, d.Size)
	least := trade.AirGapIn(bore)
	gapText := "air gap: the larger of 2 d and 1 in"
	f.gap = least
	if g := d.AirGap.In(quantity.Inch); g > least {
		f.gap, gapText = g, "air gap as stated; 2 d or 1 in is the least"
	}
	if d.Connection == "air-break" {
		f.gap, gapText = 0, "an air break keeps no gap"
	}
	var slopeText string
	f.slope, slopeText = c.drainSlope(d.Size)
	raised, falls := c.Survey.Machine.RaisedBy, d.FloorFalls
	f.outlet = m.OutletHeight.In(quantity.Inch) + raised.In(quantity.Inch) + falls.In(quantity.Inch)
	f.rim = d.RimHeight.In(quantity.Inch)
	f.runFt = d.RunLength.In(quantity.Foot)
	f.available = f.outlet - f.rim - f.gap
	f.required = f.slope * f.runFt
	f.steps = []Step{
		{"h_o", "outlet's invert above the floor it stands on", show(c, m.OutletHeight)},
		{"r", "stand or plinth under the machine", show(c, raised)},
		{"f", "floor lower at the receptor by", show(c, falls)},
		{"h_r", "flood rim above finished floor", show(c, d.RimHeight)},
		{"d", boreText, show(c, drainIn(bore))},
		{"g", gapText, show(c, drainIn(f.gap))},
		{"S", slopeText, quantity.New(f.slope, quantity.InchPerFoot).Show(c.Units)},
		{"L", "run from outlet to receptor", show(c, d.RunLength)},
		{"L_max", "longest run that still falls enough", show(c, drainFt(math.Max(0, f.available/f.slope)))},
		{"F", "fall available", show(c, drainIn(f.available))},
		{"F_min", "fall required", show(c, drainIn(f.required))},
	}
	return f
}

// slopeHere is the slope that height and run allow, 0 when it isn't known.
func (c *Case) slopeHere() float64 {
	if _, lacks := c.lacking(fallAnswers...); lacks || !c.Machine.Drain.OutletHeight.Known() {
		return 0
	}
	if f := c.fallHere(); f.runFt > 0 && f.available > 0 {
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
	Uses:    fallUses,
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.run_length": "20 ft"}, Verdict: Fix, Shows: "L_max = 14 ft (4267 mm)"},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if !c.Machine.Drain.OutletHeight.Known() {
			return c.silent("the height of the drain outlet")
		}
		if out, lacks := c.lacking(append([]string{"codes.plumbing"}, fallAnswers...)...); lacks {
			return out
		}
		f := c.fallHere()
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
		out := atLeast(c, drainIn(f.available), drainIn(f.required), action, fallAnswers...)
		out.Have += " of fall"
		out.Want += " of fall"
		out.Working = f.steps
		if f.available <= 0 {
			return out // no code makes water run uphill
		}
		if out.Verdict == OK && f.rim < 0 && f.available+f.rim < f.required {
			out.Verdict = Confirm
			out.Action = "see that the line ends inside the recess with the gap in sight above the flood rim; if water reaches the floor first, the rim counts as 0 in and the fall is too small"
		}
		return c.drainByAuthority(out, "the least slope of a "+c.Survey.Drain.Size.String()+" indirect waste line")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := c.Survey.Drain
		rs := c.offer(k, "drain.run_length", c.drainShorter(), nil, func(v string) string {
			return "shorten the drain line to " + c.drainLengthText(v) + ", by moving the machine or the receptor"
		})
		bore, _ := drainBore(d.Material, d.Size)
		if least := roomyGap(bore); d.AirGap.In(quantity.Inch) > least {
			rs = append(rs, c.offer(k, "drain.air_gap", []string{quantity.Inch.Write(least)}, nil, func(v string) string {
				return "build the air gap no larger than " + c.drainLengthText(v)
			})...)
		}
		if rim := d.RimHeight.In(quantity.Inch); rim > 0 {
			rs = append(rs, c.offer(k, "drain.rim_height", ladder(math.Ceil(2*rim-1)/2, 0, 0.5, quantity.Inch), nil, func(v string) string {
				return "lower the receptor's rim to " + c.drainLengthText(v) + " above finished floor"
			})...)
		}
		return append(rs, c.offer(k, "machine.raised_by", c.drainRaise(), nil, func(v string) string {
			return "set the machine on a stand of " + c.drainLengthText(v)
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
	Uses:    []string{"drain.connection", "drain.air_gap", "drain.pipe_size", "drain.pipe_material"},
	After:   []string{"D-01"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.pipe_material": "pvc", "drain.pipe_size": "1-1/2 in", "drain.air_gap": "3 ± 0 in"}, Verdict: Fix, Shows: "g_min = 3.22 in (82 mm)"},
	Applies: func(c *Case) string {
		switch c.Survey.Drain.Connection {
		case "air-break":
			return "the line ends in an air break; see D-01"
		case "direct":
			return "the line is joined directly; see D-01"
		}
		return noReceptor(c)
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.pipe_size"); lacks {
			return out
		}
		d := c.Survey.Drain
		bore, text := drainBore(d.Material, d.Size)
		least := drainIn(trade.AirGapIn(bore))
		steps := []Step{{"d", text, show(c, drainIn(bore))}}
		if !d.AirGap.Known() {
			out := ask("not measured, or not built yet", "at least "+show(c, least), "leave "+show(c, drainIn(math.Ceil(4*least.In(quantity.Inch))/4))+" between the line's end and the flood rim, and write the measured gap down", "drain.air_gap")
			out.Working = append(steps, Step{"g_min", "the larger of 2 d and 1 in", show(c, least)})
			return out
		}
		out := atLeast(c, d.AirGap, least, "end the line at least "+show(c, least)+" above the receptor's flood rim", "drain.air_gap", "drain.pipe_size")
		out.Working = append(steps, Step{"g", "air gap as stated", show(c, d.AirGap)}, Step{"g_min", "the larger of 2 d and 1 in", show(c, least)})
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		now := c.Survey.Drain.AirGap.In(quantity.Inch)
		return c.offer(k, "drain.air_gap", ladder(math.Floor(4*now+1)/4, 12, 0.25, quantity.Inch), nil, func(v string) string {
			return "end the line " + c.drainLengthText(v) + " above the flood rim"
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
	Uses:    []string{"drain.run_length", "drain.trap", "codes.plumbing"},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{"drain.run_length": "8 ft"}, Verdict: Fix},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.run_length", "codes.plumbing"); lacks {
			return out
		}
		const trap, run = "drain.trap", "drain.run_length"
		family, length := c.drainFamily(), c.Survey.Drain.RunLength
		// The length up to which no trap is needed, and that above which one is.
		free, bound, want := 30.0, 54.0, "a trap, or a line of at most 30 in horizontally and 54 in in all"
		if family == trade.UPC {
			free, bound, want = 60, 60, "a trap, or a line of at most 5 ft"
		}
		in := length.In(quantity.Inch)
		if c.Survey.Drain.Trap == survey.Yes {
			return c.drainByAuthority(choice(true, "a trap on the line", want, "", trap), "traps on indirect waste lines")
		}
		if in > free+1e-6 {
			if out, lacks := c.lacking(trap); lacks {
				return out
			}
		}
		out := atMost(c, length, drainIn(free), "fit a trap on the drain line close to the machine, or shorten the line to at most "+show(c, drainIn(free)), run, trap)
		out.Have += " without a trap"
		out.Want = want
		if out.Verdict == Fix && in <= bound+1e-6 {
			out.Verdict = Confirm
			out.Action = "measure how much of the line is horizontal: over " + show(c, drainIn(free)) + ", fit a trap on it"
		}
		return c.drainByAuthority(out, "traps on indirect waste lines")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(c.offer(k, "drain.trap", []string{"yes"}, nil, func(string) string {
			return "fit a trap on the drain line close to the machine"
		}), c.offer(k, "drain.run_length", c.drainShorter(), nil, func(v string) string {
			return "shorten the drain line to " + c.drainLengthText(v) + ", so that it needs no trap"
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
	Uses:    []string{"drain.run_length", "codes.plumbing"},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{"drain.run_length": "18 ft"}, Verdict: Fix},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.run_length", "codes.plumbing"); lacks {
			return out
		}
		length, limit := c.Survey.Drain.RunLength, drainFt(indirectMaxFt)
		h, l := quantity.Distinct(length, limit, c.Units)
		out := limited(c, length.Cmp(limit) < 0, quantity.GapOf(limit, length), h, "less than "+l, "below the limit", "over the limit",
			"bring the receptor nearer, so that the line is shorter than "+l, []string{"drain.run_length"})
		if length.Cmp(limit) == 0 {
			out.Margin.Text = "at the limit, which the line must stay below"
		}
		if out.Verdict == Fix && c.drainFamily() == trade.IPC {
			out.Verdict = Confirm
			out.Action = "ask the authority having jurisdiction: the IPC itself sets no maximum, but cities that use it stop at " + l
		}
		return c.drainByAuthority(out, "the longest indirect waste line")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.run_length", c.drainShorter(), nil, func(v string) string {
			return "bring the receptor nearer, so that the line measures " + c.drainLengthText(v)
		})
	},
}
