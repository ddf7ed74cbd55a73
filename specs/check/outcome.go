package check

import (
	"fmt"
	"math"

	"firstfill/survey"
	"firstfill/survey/quantity"
)

// What the checks have in common: outcomes by comparison, so that all findings
// are alike.

// Question is the wording of a question, as the table of fields asks it.
func Question(path string) Phrase { return Say("question", "path", Quote(path)) }

// Read is an answer with the uncertainty that applies to it.
func Read(s *survey.Survey, path string) Reading {
	return Reading{s, path}
}

// A Reading is an answer of a survey, printed with its uncertainty: "62 psi ± 2 psi".
type Reading struct {
	Survey *survey.Survey
	Path   string
}

// Figured prints whatever an internal error holds.
func Figured(x any) Quote { return Quote(fmt.Sprint(x)) }

// Lacking returns a MISSING outcome when one of the answers isn't known.
func (c *Case) Lacking(answers ...survey.Ref) (Outcome, bool) {
	var gone []survey.Ref
	for _, a := range answers {
		if !a.Known(c) {
			gone = append(gone, a)
		}
	}
	if len(gone) == 0 {
		return Outcome{}, false
	}
	asks := make(List, len(gone))
	for i, a := range gone {
		asks[i] = Question(a.Path())
	}
	return Outcome{Verdict: Missing, At: gone, Have: FactOf(Say("missing.have")), Want: FactOf(Say("missing.want", "questions", asks)),
		Action: Say("missing.action", "questions", asks), Margin: NoMargin}, true
}

// NoMargin is the margin of an outcome that has none.
var NoMargin = Margin{Value: math.NaN()}

// Silent is the outcome when the requirement sheet doesn't state what is needed.
func (c *Case) Silent(what any) Outcome {
	return Outcome{Verdict: Missing, Have: FactOf(Say("silent.have")), Want: FactOf(what),
		Action: Say("silent.action", "what", what), Margin: NoMargin}
}

// Met turns a condition into OK or FIX.
func Met(ok bool) Verdict {
	if ok {
		return OK
	}
	return Fix
}

// UpTo judges have against an upper limit; at the limit is OK. action is what
// to do when it is exceeded.
func UpTo[D quantity.Dimension](have, limit quantity.Of[D], action any, at ...survey.Ref) Outcome {
	if !have.Known() || !limit.Known() {
		return NoResult(at)
	}
	return limited(have.Cmp(limit) <= 0, quantity.GapOf(limit, have), Fact{Value: have}, Fact{Value: limit, Bound: AtMost}, "margin.below", "margin.over", action, at)
}

// From judges have against a lower limit; at the limit is OK.
func From[D quantity.Dimension](have, limit quantity.Of[D], action any, at ...survey.Ref) Outcome {
	if !have.Known() || !limit.Known() {
		return NoResult(at)
	}
	return limited(have.Cmp(limit) >= 0, quantity.GapOf(have, limit), Fact{Value: have}, Fact{Value: limit, Bound: AtLeast}, "margin.spare", "margin.short", action, at)
}

// Within judges have against both limits; at a limit is OK. An unknown limit doesn't bind.
func Within[D quantity.Dimension](have, low, high quantity.Of[D], tooLow, tooHigh any, at ...survey.Ref) Outcome {
	switch {
	case !low.Known():
		return UpTo(have, high, tooHigh, at...)
	case !high.Known():
		return From(have, low, tooLow, at...)
	}
	if !have.Known() {
		return NoResult(at)
	}
	a, b := From(have, low, tooLow, at...), UpTo(have, high, tooHigh, at...)
	out := a
	if b.Margin.Value < a.Margin.Value {
		out = b
	}
	out.Want = Range(low, high)
	return out
}

// Range is the fact of two limits, of which one may be open.
func Range[D quantity.Dimension](low, high quantity.Of[D]) Fact {
	switch {
	case !low.Known():
		return Fact{Value: high, Bound: AtMost}
	case !high.Known():
		return Fact{Value: low, Bound: AtLeast}
	}
	return Fact{Value: low, Bound: Between, High: high}
}

// NoResult is the outcome when the answers allow no computation: a voltage of
// 0 V, say. It neither meets the requirement nor fails it.
func NoResult(at []survey.Ref) Outcome {
	asks := make(List, len(at))
	for i, a := range at {
		asks[i] = Question(a.Path())
	}
	action := Say("noresult.action")
	if len(asks) > 0 {
		action = Say("noresult.read", "questions", asks)
	}
	return Rule(Say("noresult.have"), Say("noresult.want"), action, at...)
}

func limited(ok bool, gap quantity.Gap, have, want Fact, inside, outside string, action any, at []survey.Ref) Outcome {
	out := Outcome{Verdict: Met(ok), At: at, Have: have, Want: want, Margin: Margin{Value: gap.Base(), Gap: gap, Side: Phrase{Name: inside}}}
	if gap.Base() < 0 {
		out.Margin.Side = Phrase{Name: outside}
	}
	if !ok {
		out.Action = PhraseOf(action)
	}
	return out
}

// Choice judges an answer of words: it has no margin.
func Choice(ok bool, have, want, action any, at ...survey.Ref) Outcome {
	out := Outcome{Verdict: Met(ok), At: at, Have: FactOf(have), Want: FactOf(want), Margin: NoMargin}
	if !ok {
		out.Action = PhraseOf(action)
	}
	return out
}

// Rule is an outcome that somebody with authority must rule on.
func Rule(have, want, action any, at ...survey.Ref) Outcome {
	return Outcome{Verdict: Confirm, At: at, Have: FactOf(have), Want: FactOf(want), Action: PhraseOf(action), Margin: NoMargin}
}

// OnSheet notes that the limit stands on the requirement sheet, and where.
func (c *Case) OnSheet(out Outcome, path string) Outcome {
	out.Sheet = path
	return out
}

// PhraseOf makes an action a phrase: what isn't one is said as it is.
func PhraseOf(x any) Phrase {
	switch x := x.(type) {
	case nil:
		return Phrase{}
	case Phrase:
		return x
	}
	return Say("value", "value", x)
}
