package rules

import (
	"fmt"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// shared says whether the circuit isn't known to serve the machine alone.
func shared(c *Case) bool {
	return c.Survey.Power.Dedicated != survey.Yes || len(c.Survey.Power.OtherLoads) > 0
}

// newPoles is how many more single-pole spaces the machine's circuit takes: all
// of a new one where the present circuit can't be shared, else the poles it lacks.
func newPoles(c *Case) int {
	p := c.Survey.Power
	if shared(c) && runOwnCircuit(c).Verdict != OK {
		return lineConductors(c)
	}
	return max(0, lineConductors(c)-p.BreakerPoles.N())
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
	Uses:    append([]string{"power.panel_spaces", "power.breaker_poles"}, ownCircuitUses...),
	After:   []string{"E-07", "E-11"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"power.dedicated": "no", "power.other_loads[0].name": "ice machine", "power.other_loads[0].current": "12 A", "power.panel_spaces": "1"}, Verdict: Fix, Shows: "n_new = 2"},
	Applies: func(c *Case) string {
		p := c.Survey.Power
		if p.Dedicated.Known() && p.BreakerPoles.Known() && newPoles(c) == 0 {
			return "the machine's circuit is there already, with all its poles"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		need := []string{"power.dedicated"}
		if !shared(c) || runOwnCircuit(c).Verdict == OK {
			need = append(need, "power.breaker_poles")
		}
		if out, lacks := c.lacking(append(need, "power.panel_spaces")...); lacks {
			return out
		}
		have, want := c.Survey.Power.PanelSpaces.N(), newPoles(c)
		action := fmt.Sprintf("have the electrician make room for %d more poles: free a space or add a sub-panel", want-have)
		out := choice(have >= want, spaces(have), "at least "+spaces(want), action, "power.panel_spaces", "power.dedicated")
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
		return []Remedy{{Change: fmt.Sprintf("free %s in the panel, or add a sub-panel with them", spaces(n)), Set: map[string]string{"power.panel_spaces": fmt.Sprint(n)}}}
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
	Uses:    []string{"power.panel_clear_depth", "power.panel_clear_width", "power.panel_clear_height", "power.line_to_neutral", "power.high_leg_to_neutral", "power.line_to_line", "power.system"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"power.panel_clear_depth": "30 in"}, Verdict: Fix, Shows: "D = 36 in (914 mm)"},
	Applies: func(c *Case) string {
		if !onNEC(c) {
			return "this rule is of the NEC; the local rules say what a distribution board needs"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		paths := []string{"power.panel_clear_depth", "power.panel_clear_width", "power.panel_clear_height"}
		if out, lacks := c.lacking(paths...); lacks {
			return out
		}
		ground, ok := voltsToGround(c)
		if !ok {
			out, _ := c.lacking("power.line_to_neutral")
			return out
		}
		condition := 1
		if ground > 150 {
			condition = workCondition
		}
		deep, err := trade.WorkspaceDepthIn(ground, condition)
		if err != nil {
			return ask(show(c, powerVolts(ground))+" to ground", "up to 600 V", "have the electrician say what working space the panel needs", "power.line_to_neutral")
		}
		p := c.Survey.Power
		inches := func(x float64) quantity.Length { return quantity.New(x, quantity.Inch) }
		action := fmt.Sprintf("clear the space in front of the panel to a depth of %s, a width of %s and a height of %s, and keep it clear",
			show(c, inches(deep)), show(c, inches(trade.WorkspaceMinWidthIn)), show(c, inches(trade.WorkspaceHeightIn)))
		part := func(have quantity.Length, want float64, what, path string) Outcome {
			out := atLeast(c, have, inches(want), action, path)
			out.Have, out.Want = what+" "+out.Have, out.Want+" of "+what
			return out
		}
		out := worse(part(p.PanelDepth, deep, "depth", paths[0]), worse(
			part(p.PanelWidth, trade.WorkspaceMinWidthIn, "width", paths[1]),
			part(p.PanelHeight, trade.WorkspaceHeightIn, "height", paths[2])))
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
		p := c.Survey.Power
		set := map[string]string{}
		short := ""
		add := func(have quantity.Length, want float64, path, what string) {
			// An inch more, so that the tape's own error doesn't matter.
			if have.In(quantity.Inch) < want+0.5 {
				set[path] = quantity.Inch.Write(want + 1)
				if short != "" {
					short += ", "
				}
				short += quantity.Inch.Write(want+1) + " " + what
			}
		}
		add(p.PanelDepth, deep, "power.panel_clear_depth", "deep")
		add(p.PanelWidth, trade.WorkspaceMinWidthIn, "power.panel_clear_width", "wide")
		add(p.PanelHeight, trade.WorkspaceHeightIn, "power.panel_clear_height", "high")
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
	Uses:    []string{"codes.electrical"},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{"codes.electrical": "nec-2023"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("codes.electrical"); lacks {
			return out
		}
		_, nec := necEdition(c)
		want := map[bool]string{true: "an edition of the NEC", false: "IEC 60364 or a national form of it"}[onNEC(c)]
		return c.onSheet(choice(nec == onNEC(c), c.Survey.Codes.Electrical, want,
			"order a machine built for "+c.Survey.Codes.Electrical+", or ask the authority whether it accepts this one", "codes.electrical"), "basis")
	},
}
