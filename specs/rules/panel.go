package rules

import (
	"firstfill/specs/check"
	"fmt"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// shared says whether the circuit isn't known to serve the machine alone.
func shared(c *Case) bool {
	return ask.Power.Dedicated.Of(c) != survey.Yes || len(ask.Power.OtherLoads.Of(c)) > 0
}

// newPoles is how many more single-pole spaces the machine's circuit takes: all
// of a new one where the present circuit can't be shared, else the poles it lacks.
func newPoles(c *Case) int {
	p := ask.Power
	if shared(c) && runOwnCircuit(c).Verdict != OK {
		return lineConductors(c)
	}
	return max(0, lineConductors(c)-p.BreakerPoles.Of(c).N())
}

// PanelSpaces asks for room in the panel where a circuit must be added.
var PanelSpaces = &Check{
	ID:      "E-25",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "free spaces in the panel",
	Why:     "A circuit for the machine needs a place for its breaker; a full panel means another panel and another visit.",
	Formula: "spaces ≥ line conductors of the new circuit, less the poles already there",
	Range:   "asked where the circuit can't stay shared or its breaker has too few poles",
	Sources: []trade.Source{trade.NEC422_30, {Document: "One space for each pole", Mark: trade.CommonPractice}},
	After:   []*Check{OwnCircuit, BreakerPoles},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", "power.other_loads[0].name": "ice machine", "power.other_loads[0].current": "12 A", ask.Power.PanelSpaces.Path(): "1"}, Verdict: Fix, Shows: "n_new = 2"},
	Applies: func(c *Case) string {
		p := ask.Power
		if p.Dedicated.Of(c).Known() && p.BreakerPoles.Of(c).Known() && newPoles(c) == 0 {
			return "the machine's circuit is there already, with all its poles"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		need := []survey.Ref{ask.Power.Dedicated}
		if !shared(c) || runOwnCircuit(c).Verdict == OK {
			need = append(need, ask.Power.BreakerPoles)
		}
		if out, lacks := c.Lacking(append(need, ask.Power.PanelSpaces)...); lacks {
			return out
		}
		have, want := ask.Power.PanelSpaces.Of(c).N(), newPoles(c)
		action := fmt.Sprintf("have the electrician make room for %d more poles: free a space or add a sub-panel", want-have)
		out := check.Choice(have >= want, spaces(have), "at least "+spaces(want), action, ask.Power.PanelSpaces, ask.Power.Dedicated)
		out.Margin.Text = fmt.Sprintf("%d to spare", have-want)
		if have < want {
			out.Margin.Text = fmt.Sprintf("%d short", want-have)
		}
		out.Margin.Value = float64(have - want)
		out.Working = []Step{{"n_new", "poles to be added", fmt.Sprint(want)}, {"n_free", "single-pole spaces free", fmt.Sprint(have)}}
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		n := newPoles(c)
		return []Remedy{{Change: fmt.Sprintf("free %s in the panel, or add a sub-panel with them", spaces(n)), Set: map[string]string{ask.Power.PanelSpaces.Path(): fmt.Sprint(n)}}}
	},
}

func spaces(n int) string {
	if n == 1 {
		return "1 space"
	}
	return fmt.Sprintf("%d spaces", n)
}

// workCondition is the working-space condition taken above 150 V to ground:
// a grounded surface (masonry, tile) opposite the panel. It can't be read off
// the questionnaire.
const workCondition = 2

// PanelClearance judges the working space in front of the panel.
var PanelClearance = &Check{
	ID:      "E-26",
	Trade:   Owner,
	Stage:   RoughIn,
	Title:   "working space in front of the panel",
	Why:     "Electricians need room to work, and may refuse to open a panel with kegs in front of it.",
	Formula: "depth ≥ 36 in to 150 V to ground, 42 in above (condition 2 assumed: grounded wall opposite); width ≥ 30 in; height ≥ 78 in",
	Range:   "to 600 V to ground; the width and height of larger equipment govern",
	Sources: []trade.Source{trade.NEC110_26, trade.NEC110_26Cond},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.PanelDepth.Path(): "30 in"}, Verdict: Fix, Shows: "D = 36 in (914 mm)"},
	Applies: func(c *Case) string {
		if !onNEC(c) {
			return "this rule is of the NEC; the local rules say what a distribution board needs"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		paths := []survey.Ref{ask.Power.PanelDepth, ask.Power.PanelWidth, ask.Power.PanelHeight}
		if out, lacks := c.Lacking(paths...); lacks {
			return out
		}
		ground, ok := voltsToGround(c)
		if !ok {
			out, _ := c.Lacking(ask.Power.LineToNeutral)
			return out
		}
		condition := 1
		if ground > 150 {
			condition = workCondition
		}
		deep, err := trade.WorkspaceDepthIn(ground, condition)
		if err != nil {
			return check.Rule(show(c, powerVolts(ground))+" to ground", "up to 600 V", "have the electrician say what working space the panel needs", ask.Power.LineToNeutral)
		}
		p := ask.Power
		inches := func(x float64) quantity.Length { return quantity.New(x, quantity.Inch) }
		action := fmt.Sprintf("clear the space in front of the panel to a depth of %s, a width of %s and a height of %s, and keep it clear",
			show(c, inches(deep)), show(c, inches(trade.WorkspaceMinWidthIn)), show(c, inches(trade.WorkspaceHeightIn)))
		part := func(have quantity.Length, want float64, what string, path survey.Ref) Outcome {
			out := check.From(have, inches(want), action, path)
			out.Have, out.Want = out.Have.Also(" "+what), out.Want.Also(" of "+what)
			return out
		}
		out := worse(part(p.PanelDepth.Of(c), deep, "depth", paths[0]), worse(
			part(p.PanelWidth.Of(c), trade.WorkspaceMinWidthIn, "width", paths[1]),
			part(p.PanelHeight.Of(c), trade.WorkspaceHeightIn, "height", paths[2])))
		note := "depth wanted"
		if condition == workCondition {
			note += ", grounded wall opposite assumed"
		}
		out.Working = []Step{
			{"V_g", "highest voltage to ground", show(c, powerVolts(ground))},
			{"D", note, show(c, inches(deep))},
			{"W", "width wanted, or the panel's if wider", show(c, inches(trade.WorkspaceMinWidthIn))},
			{"H", "height wanted, or the panel's if higher", show(c, inches(trade.WorkspaceHeightIn))},
		}
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		ground, _ := voltsToGround(c)
		deep := 36.0
		if ground > 150 {
			deep, _ = trade.WorkspaceDepthIn(ground, workCondition)
		}
		p := ask.Power
		set := map[string]string{}
		short := ""
		add := func(have quantity.Length, want float64, path survey.Ref, what string) {
			// An inch more, so that the tape's own error doesn't matter.
			if have.In(quantity.Inch) < want+0.5 {
				set[path.Path()] = quantity.Inch.Write(want + 1)
				if short != "" {
					short += ", "
				}
				short += quantity.Inch.Write(want+1) + " " + what
			}
		}
		add(p.PanelDepth.Of(c), deep, ask.Power.PanelDepth, "deep")
		add(p.PanelWidth.Of(c), trade.WorkspaceMinWidthIn, ask.Power.PanelWidth, "wide")
		add(p.PanelHeight.Of(c), trade.WorkspaceHeightIn, ask.Power.PanelHeight, "high")
		return []Remedy{{Change: "clear the space in front of the panel: " + short, Set: set}}
	},
}

// CodeBasis compares the code enforced with the one the machine is built for.
var CodeBasis = &Check{
	ID:      "E-27",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Title:   "electrical code enforced against the machine's basis",
	Why:     "A machine built for another region's code has another plug, frequency and approval; an inspector may refuse it.",
	Sources: []trade.Source{sheet, {Document: "A machine goes to the region it is built for", Mark: trade.CommonPractice}},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Codes.Electrical.Path(): "nec-2023"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Codes.Electrical); lacks {
			return out
		}
		_, nec := necEdition(c)
		want := map[bool]string{true: "an edition of the NEC", false: "IEC 60364 or a national form of it"}[onNEC(c)]
		return c.OnSheet(check.Choice(nec == onNEC(c), ask.Codes.Electrical.Of(c), want,
			"order a machine built for "+ask.Codes.Electrical.Of(c)+", or ask the authority whether it accepts this one", ask.Codes.Electrical), "basis")
	},
}
