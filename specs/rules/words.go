package rules

import (
	"fmt"
	"math"
	"strings"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// The helpers here carry the wording, so that all findings sound alike and
// rounding never makes a near miss look like a match.

// lacking returns a MISSING outcome when one of the answers isn't known.
func (c *Case) lacking(paths ...string) (Outcome, bool) {
	var gone []string
	for _, p := range paths {
		if !c.Survey.Known(p) {
			gone = append(gone, p)
		}
	}
	if len(gone) == 0 {
		return Outcome{}, false
	}
	asks := make([]string, len(gone))
	for i, p := range gone {
		asks[i] = survey.Question(p)
	}
	return Outcome{Verdict: Missing, At: gone, Have: "not answered", Want: strings.Join(asks, "; "),
		Action: "find out: " + strings.Join(asks, "; "), Margin: Margin{Value: math.NaN()}}, true
}

// silent is the outcome when the requirement sheet doesn't state what is needed.
func (c *Case) silent(what string) Outcome {
	return Outcome{Verdict: Missing, Have: "the requirement sheet doesn't say", Want: what,
		Action: "ask the machine's maker for " + what, Margin: Margin{Value: math.NaN()}}
}

// verdict turns a condition into OK or FIX.
func verdict(ok bool) Verdict {
	if ok {
		return OK
	}
	return Fix
}

// atMost judges have against an upper limit; at the limit is OK.
// action is what to do when it is exceeded.
func atMost[D quantity.Dimension](c *Case, have, limit quantity.Of[D], action string, at ...string) Outcome {
	if !have.Known() || !limit.Known() {
		return noResult(at)
	}
	h, l := quantity.Distinct(have, limit, c.Units)
	return limited(c, have.Cmp(limit) <= 0, quantity.GapOf(limit, have), h, "at most "+l, "below the limit", "over the limit", action, at)
}

// atLeast judges have against a lower limit; at the limit is OK.
func atLeast[D quantity.Dimension](c *Case, have, limit quantity.Of[D], action string, at ...string) Outcome {
	if !have.Known() || !limit.Known() {
		return noResult(at)
	}
	h, l := quantity.Distinct(have, limit, c.Units)
	return limited(c, have.Cmp(limit) >= 0, quantity.GapOf(have, limit), h, "at least "+l, "to spare", "short", action, at)
}

// between judges have against both limits; at a limit is OK. An unknown limit doesn't bind.
func between[D quantity.Dimension](c *Case, have, low, high quantity.Of[D], tooLow, tooHigh string, at ...string) Outcome {
	switch {
	case !low.Known():
		return atMost(c, have, high, tooHigh, at...)
	case !high.Known():
		return atLeast(c, have, low, tooLow, at...)
	}
	if !have.Known() {
		return noResult(at)
	}
	a, b := atLeast(c, have, low, tooLow, at...), atMost(c, have, high, tooHigh, at...)
	out := a
	if b.Margin.Value < a.Margin.Value {
		out = b
	}
	_, l := quantity.Distinct(have, low, c.Units)
	_, h := quantity.Distinct(have, high, c.Units)
	out.Want = l + " to " + h
	return out
}

// noResult is the outcome when the answers allow no computation: a voltage of
// 0 V, say. It neither meets the requirement nor fails it.
func noResult(at []string) Outcome {
	asks := make([]string, len(at))
	for i, p := range at {
		asks[i] = lowerFirst(survey.Question(p))
	}
	action := "read the answers again"
	if len(asks) > 0 {
		action += ": " + strings.Join(asks, "; ")
	}
	return ask("no result: an answer is outside what can be computed", "answers that give a result", action, at...)
}

func limited(c *Case, ok bool, margin quantity.Gap, have, want, inside, outside, action string, at []string) Outcome {
	out := Outcome{Verdict: verdict(ok), At: at, Have: have, Want: want, Margin: marginOf(c, margin, inside, outside)}
	if !ok {
		out.Action = action
	}
	return out
}

// marginOf words a margin: "12 psi below the limit", "1.5 in short".
func marginOf(c *Case, gap quantity.Gap, inside, outside string) Margin {
	if gap.Base() < 0 {
		return Margin{Text: gap.Show(c.Units) + " " + outside, Value: gap.Base()}
	}
	return Margin{Text: gap.Show(c.Units) + " " + inside, Value: gap.Base()}
}

// choice judges an answer of words: it has no margin.
func choice(ok bool, have, want, action string, at ...string) Outcome {
	out := Outcome{Verdict: verdict(ok), At: at, Have: have, Want: want, Margin: Margin{Value: math.NaN()}}
	if !ok {
		out.Action = action
	}
	return out
}

// ask is an outcome that somebody with authority must rule on.
func ask(have, want, action string, at ...string) Outcome {
	return Outcome{Verdict: Confirm, At: at, Have: have, Want: want, Action: action, Margin: Margin{Value: math.NaN()}}
}

// percent prints a share with one decimal.
func percent(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	return fmt.Sprintf("%.1f %%", 100*x)
}

// number prints a plain number with the given decimals, without trailing zeros.
func number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// show prints a quantity in the case's units.
func show[D quantity.Dimension](c *Case, q quantity.Of[D]) string { return q.Show(c.Units) }

// supplyVoltage picks the voltage at which a supply option works: line to
// neutral for a 120 V machine and for single phase on the IEC basis, else line
// to line. It returns the answer's path too.
func supplyVoltage(s *survey.Survey, m *specs.Machine, p *specs.Supply) (quantity.Voltage, string) {
	if p.Phases == 1 && (m.Basis == "iec" || p.VoltageMax.Known() && p.VoltageMax.In(quantity.Volt) < 150) {
		return s.Power.LineToNeutral, "power.line_to_neutral"
	}
	return s.Power.LineToLine, "power.line_to_line"
}

// volts is the site's voltage at the chosen supply option, and its path.
func (c *Case) volts() (quantity.Voltage, string) {
	return supplyVoltage(c.Survey, c.Machine, c.Supply)
}

// onSheet notes that the limit stands on the requirement sheet, and where.
func (c *Case) onSheet(out Outcome, path string) Outcome {
	out.Source = c.Machine.Name + " " + path + ": " + c.Machine.SourceOf(path)
	return out
}
