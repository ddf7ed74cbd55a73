package rules

import (
	"firstfill/specs/check"
	"firstfill/survey"
	"strings"
)

// OddAnswers asks about answers that can be read but look like a slip. They are
// questions, not faults: they stand until a note beside the answer confirms it.
var OddAnswers = &Check{
	ID:      "R-07",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Sources: recordSource,
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Winter.Path(): "70 ± 1 °F", ask.Water.Cold.Summer.Path(): "60 °F"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if _, all := statedReadings(c); all == 0 {
			return noReadings(c)
		}
		doubts := c.ReadsAll().Doubts()
		if len(doubts) == 0 {
			return check.Choice(true, check.Say("R-07.have"), check.Say("R-07.want"), check.Phrase{})
		}
		var at []survey.Ref
		var texts []string
		for _, d := range doubts {
			at = append(at, survey.Named(d.Paths[0]))
			texts = append(texts, d.Text)
		}
		have := any(check.Say("R-07.have2", "len", len(doubts), "join", check.Quote(strings.Join(texts, "; "))))
		return check.Rule(have, check.Say("R-07.want"), check.Say("R-07.do"), at...)
	},
}
