package rules

import (
	"slices"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// ownCircuitWanted says whether the present circuit can't stay shared: its sum
// is too much, or the machine's sheet asks for a circuit of its own.
func ownCircuitWanted(c *Case) bool {
	return shared(c) && (c.Machine.Power.Dedicated || runOwnCircuit(c).Verdict != OK)
}

// newPoles is how many more single-pole spaces the machine's circuit takes: all
// of a new one where the present circuit can't stay shared, else the poles it lacks.
func newPoles(c *Case) int {
	if ownCircuitWanted(c) {
		return lineConductors(c)
	}
	return max(0, lineConductors(c)-ask.Power.BreakerPoles.Of(c).N())
}

// circuitGrows says whether the machine's circuit must be new or larger than
// the one that is there.
func circuitGrows(c *Case) bool {
	p := ask.Power
	return p.Dedicated.Known(c) && p.BreakerPoles.Known(c) && newPoles(c) > 0 || p.Breaker.Known(c) && runMinimum(c).Verdict == Fix
}

// withRoom adds to a change that gives the breaker more poles the spaces for
// them, where the panel is known to have too few.
func withRoom(c *Case, set map[string]string) map[string]string {
	p := ask.Power
	if _, grows := set[p.BreakerPoles.Path()]; !grows || !p.BreakerPoles.Known(c) || shared(c) && ownCircuitWanted(c) {
		return set
	}
	n := newPoles(c)
	if free := p.PanelSpaces.Of(c).N(); !p.PanelSpaces.Known(c) || free >= n && !(p.Adjacent.Known(c) && p.Adjacent.Of(c).N() < n) {
		return set
	}
	row := lineConductors(c)
	set[p.PanelSpaces.Path()], set[p.Adjacent.Path()] = itoa(max(row, p.PanelSpaces.Of(c).N())), itoa(row)
	return set
}

// roomFor words the spaces that a change makes in the panel.
func roomFor(c *Case, set map[string]string) (check.Phrase, bool) {
	if _, ok := set[ask.Power.PanelSpaces.Path()]; !ok {
		return check.Phrase{}, false
	}
	return check.Say("circuit.room", "n", lineConductors(c)), true
}

// PanelSpaces asks for room in the panel where a circuit must be added.
var PanelSpaces = &Check{
	ID:      "E-25",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Panel,
	Sources: []trade.Source{trade.NEC422_30, {Document: "One space for each pole, side by side", Mark: trade.CommonPractice}},
	After:   []*Check{OwnCircuit, DedicatedCircuit, BreakerPoles},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", "power.other_loads[0].name": "ice machine", "power.other_loads[0].current": "12 A", ask.Power.PanelSpaces.Path(): "1"}, Verdict: Fix, Shows: "n_new = 2"},
	Skip: func(c *Case) check.Phrase {
		p := ask.Power
		if p.Dedicated.Known(c) && p.BreakerPoles.Known(c) && newPoles(c) == 0 {
			return check.Say("E-25.there")
		}
		return check.Phrase{}
	},
	Run: perOption(func(c *Case) Outcome {
		p := ask.Power
		need := []survey.Ref{p.Dedicated}
		if !ownCircuitWanted(c) {
			need = append(need, p.BreakerPoles)
		}
		if out, lacks := c.Lacking(append(need, p.PanelSpaces)...); lacks {
			return out
		}
		have, want := p.PanelSpaces.Of(c).N(), newPoles(c)
		at := []survey.Ref{p.PanelSpaces, p.Adjacent, p.Dedicated}
		row, rowKnown := p.Adjacent.Of(c).N(), p.Adjacent.Known(c)
		// A pole that joins those already there needs a space beside them, or a
		// row for all of them.
		wantRow := want
		if !ownCircuitWanted(c) && want > 0 && p.BreakerPoles.Of(c).N() > 0 {
			wantRow = lineConductors(c)
		}
		spaces := min(have, max(row, 0))
		if !rowKnown {
			spaces = have
		}
		atLeast, room := check.Say("E-25.at-least", "n", want), check.Say("E-25.room", "n", want)
		if want == 1 {
			atLeast, room = check.Say("E-25.at-least-one"), check.Say("E-25.room-one")
		}
		out := check.Choice(have >= want && (!rowKnown || row >= want), check.Say("E-25.spaces", "n", spaces), atLeast, room, at...)
		out = spare(out, float64(spaces-want), max(spaces-want, want-spaces))
		switch {
		case out.Verdict != OK || wantRow < 2:
		case !rowKnown:
			out.Verdict, out.Action = Confirm, check.Say("E-25.beside", "n", wantRow)
		case row < wantRow:
			out.Verdict, out.Action = Confirm, check.Say("E-25.join", "n", wantRow)
		}
		out.Working = []Step{entry("n_new", check.Say("step.new-poles"), want), entry("n_free", check.Say("step.free-spaces"), have)}
		if rowKnown {
			out.Working = append(out.Working, entry("n_row", check.Say("step.free-row"), row))
		}
		return out
	}),
	Remedies: func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		n := newPoles(c)
		row := n
		if !ownCircuitWanted(c) {
			row = lineConductors(c)
		}
		free := check.Say("E-25.free", "n", row)
		if row == 1 {
			free = check.Say("E-25.free-one")
		}
		return []Remedy{{Change: free, Work: check.NewCircuit,
			Set: map[string]string{p.PanelSpaces.Path(): itoa(max(n, row, p.PanelSpaces.Of(c).N())), p.Adjacent.Path(): itoa(max(n, row))}}}
	},
}

// PanelCapacity asks for the electrician's load calculation where the circuit
// is new or larger.
var PanelCapacity = &Check{
	ID:      "E-30",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Panel,
	Sources: []trade.Source{{Document: "NEC", Edition: "2023", Clause: "220.87 and 408.30", Mark: trade.FromMemory}, {Document: "IEC", Clause: "60364-1 clause 311", Mark: trade.FromMemory}},
	After:   []*Check{DedicatedCircuit, MinimumBreaker},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.Breaker.Path(): "30 A", ask.Power.LoadFits.Path(): "exceeds"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if ask.Power.Breaker.Known(c) && !circuitGrows(c) {
			return check.Say("E-30.there")
		}
		return check.Phrase{}
	},
	Run: perOption(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Breaker); lacks {
			return out
		}
		d, out, bad := drawOf(c)
		if bad {
			return out
		}
		need, _, _ := minimumOf(c, d)
		at := []survey.Ref{p.LoadFits, p.PanelMain, p.Breaker}
		main := p.PanelMain.Of(c)
		var have any = check.Say("E-30.no-main")
		if main.Known() {
			have = check.Say("E-30.main", "amps", main)
		}
		want := check.Say("E-30.want", "amps", powerAmps(need))
		switch fits := p.LoadFits.Of(c); {
		case main.Known() && main.Cmp(powerAmps(need)) < 0, fits == "exceeds":
			out = check.Choice(false, have, want, check.Say("E-30.larger", "amps", powerAmps(need)), at...)
		case fits == "fits":
			out = check.Choice(true, have, want, nil, at...)
			if main.Known() {
				out = above(out, main, powerAmps(need))
			}
		default:
			out = check.Rule(have, want, check.Say("E-30.calculate", "amps", powerAmps(need)), at...)
		}
		out.Working = []Step{entry("I_min", check.Say("step.circuit-to-add"), powerAmps(need))}
		return out
	}),
	Remedies: func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		d, _, bad := drawOf(c)
		if bad {
			return nil
		}
		need, _, _ := minimumOf(c, d)
		set := map[string]string{p.LoadFits.Path(): "fits"}
		if main := p.PanelMain.Of(c); main.Known() && main.Cmp(powerAmps(need)) < 0 {
			if i := slices.IndexFunc(breakerSizes(c), func(a float64) bool { return a >= need }); i >= 0 {
				set[p.PanelMain.Path()] = quantity.Ampere.Write(breakerSizes(c)[i])
			}
		}
		return []Remedy{{Change: check.Say("E-30.larger", "amps", powerAmps(need)), Work: check.FloorWork, Set: set}}
	},
}

// FaultCurrent compares what a short circuit brings with what the breaker can break.
var FaultCurrent = &Check{
	ID:      "E-31",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Panel,
	Sources: []trade.Source{trade.NEC110_9, trade.NEC240_83C, trade.IECInterrupt},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.FaultCurrent.Path(): "12000 A"}, Verdict: Fix, Shows: "I_k = 12000 A"},
	Skip: func(c *Case) check.Phrase {
		p := ask.Power
		if p.Breaker.Known(c) && !p.FaultCurrent.Known(c) && !circuitGrows(c) {
			return check.Say("E-31.there")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Breaker); lacks {
			return out
		}
		at := []survey.Ref{p.FaultCurrent, p.Interrupting}
		fault, rating := p.FaultCurrent.Of(c), p.Interrupting.Of(c)
		if !fault.Known() {
			return check.Rule(check.Say("E-31.unknown"), check.Say("E-31.want"), check.Say("E-31.ask"), at...)
		}
		steps := []Step{entry("I_k", check.Say("step.fault-current"), fault)}
		if !rating.Known() {
			if !onNEC(c) || fault.Cmp(powerAmps(trade.UnmarkedInterruptingA)) > 0 {
				out := check.Rule(check.Say("E-31.unread"), check.Fact{Value: fault, Bound: check.AtLeast}, check.Say("E-31.read", "amps", fault), at...)
				out.Working = steps
				return out
			}
			rating = powerAmps(trade.UnmarkedInterruptingA)
		}
		out := check.From(rating, fault, check.Say("E-31.fit", "amps", fault), at...)
		out.Working = append(steps, entry("I_cn", check.Say("step.interrupting"), rating))
		return out
	}),
	Remedies: settled(func(c *Case, k *Check) []Remedy {
		var texts []string
		for _, a := range trade.InterruptingRatings() {
			if powerAmps(a).Cmp(ask.Power.FaultCurrent.Of(c)) >= 0 {
				texts = append(texts, quantity.Ampere.Write(a))
			}
		}
		rs := c.Offer(k, ask.Power.Interrupting, texts, nil, func(v any) any {
			return check.Say("E-31.fit", "amps", v)
		})
		for i := range rs {
			rs[i].Work = check.Device
		}
		return rs
	}),
}

// workConditions are the working-space conditions that the surface opposite
// the panel makes possible, the least first (NEC Table 110.26(A)(1)).
func workConditions(c *Case) []int {
	switch ask.Power.Opposite.Of(c) {
	case "clear":
		return []int{1}
	case "grounded":
		return []int{2}
	case "live":
		return []int{3}
	}
	return []int{1, 2, 3}
}

// workDepths are the least and the greatest depth that the panel may want.
func workDepths(c *Case, ground float64) (least, greatest float64, err error) {
	conditions := workConditions(c)
	if least, err = trade.WorkspaceDepthIn(ground, conditions[0]); err != nil {
		return 0, 0, err
	}
	greatest, err = trade.WorkspaceDepthIn(ground, conditions[len(conditions)-1])
	return least, greatest, err
}

// PanelClearance judges the working space in front of the panel.
var PanelClearance = &Check{
	ID:      "E-26",
	Trade:   Owner,
	Stage:   RoughIn,
	Subject: check.Panel,
	Sources: []trade.Source{trade.NEC110_26, trade.NEC110_26Cond},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.PanelDepth.Path(): "30 in"}, Verdict: Fix, Shows: "D = 36 in (914 mm)"},
	Skip: func(c *Case) check.Phrase {
		if !onNEC(c) {
			return check.Say("E-26.local")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.PanelDepth, p.PanelWidth, p.PanelHeight); lacks {
			return out
		}
		ground, ok := voltsToGround(c)
		if !ok {
			out, _ := c.Lacking(p.LineToNeutral)
			return out
		}
		least, greatest, err := workDepths(c, ground)
		if err != nil {
			return check.Rule(check.Say("E-26.to-ground", "volts", powerVolts(ground)), check.Say("E-26.to-600"), check.Say("E-26.ask"), p.LineToNeutral)
		}
		action := check.Say("E-26.clear", "depth", inches(greatest), "width", inches(trade.WorkspaceMinWidthIn), "height", inches(trade.WorkspaceHeightIn))
		part := func(have survey.Answer[quantity.Length], want float64, name string) Outcome {
			out := check.From(have.Of(c), inches(want), action, have)
			out.Have, out.Want = out.Have.In(check.Say("E-26."+name)), out.Want.In(check.Say("E-26."+name))
			return out
		}
		depth := part(p.PanelDepth, least, "depth")
		if least < greatest && depth.Verdict == OK && p.PanelDepth.Of(c).Cmp(inches(greatest)) < 0 {
			depth.Verdict = Confirm
			depth.Want = check.Range(inches(least), inches(greatest)).In(check.Say("E-26.depth"))
			depth.Action = check.Say("E-26.opposite", "least", inches(least), "greatest", inches(greatest))
			depth.At = append(depth.At, p.Opposite)
		}
		rest := worse(part(p.PanelWidth, trade.WorkspaceMinWidthIn, "width"), part(p.PanelHeight, trade.WorkspaceHeightIn, "height"))
		out := worse(depth, rest)
		if rest.Verdict == OK && depth.Verdict == Confirm {
			out = depth
		}
		note := "step.work-depth"
		if least < greatest {
			note = "step.work-depth-unknown"
		}
		out.Working = []Step{
			entry("V_g", check.Say("step.to-ground"), powerVolts(ground)),
			entry("D", check.Say(note, "greatest", inches(greatest)), inches(least)),
			entry("W", check.Say("step.work-width"), inches(trade.WorkspaceMinWidthIn)),
			entry("H", check.Say("step.work-height"), inches(trade.WorkspaceHeightIn)),
		}
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		ground, _ := voltsToGround(c)
		_, deep, err := workDepths(c, ground)
		if err != nil {
			return nil
		}
		p := ask.Power
		set := map[string]string{}
		var parts check.List
		add := func(have survey.Answer[quantity.Length], want float64, name string) {
			// An inch more, so that the tape's own error doesn't matter.
			if have.Of(c).In(quantity.Inch) < want+0.5 {
				set[have.Path()] = quantity.Inch.Write(want + 1)
				parts = append(parts, check.Say("E-26."+name, "value", inches(want+1)))
			}
		}
		add(p.PanelDepth, deep, "depth")
		add(p.PanelWidth, trade.WorkspaceMinWidthIn, "width")
		add(p.PanelHeight, trade.WorkspaceHeightIn, "height")
		return []Remedy{{Change: check.Say("E-26.clear-to", "parts", parts), Work: check.Adjusting, Set: set}}
	},
}

func inches(x float64) quantity.Length { return quantity.New(x, quantity.Inch) }

// CodeBasis compares the code enforced with the one the machine is built for.
var CodeBasis = &Check{
	ID:      "E-27",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{sheet, {Document: "A machine goes to the region it is built for", Mark: trade.CommonPractice}},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Codes.Electrical.Path(): "nec-2023"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Codes.Electrical); lacks {
			return out
		}
		code := check.Word(ask.Codes.Electrical.Of(c))
		want := "E-27.iec"
		if c.Machine.Basis == "nec" {
			want = "E-27.nec"
		}
		return c.OnSheet(check.Choice(onNEC(c) == (c.Machine.Basis == "nec"), code, check.Say(want), check.Say("E-27.order", "code", code), ask.Codes.Electrical), "basis")
	},
}
