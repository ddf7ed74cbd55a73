package rules

import (
	"slices"

	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Options fix what a report depends on in these tests.
type Options struct {
	Today     survey.Date
	Units     quantity.System
	NoRemedy  bool
	OnlyCheck []*Check
}

// A told finding is one in words, as a US or an SI reader gets it.
type told struct {
	*check.Finding
	Have, Want, Margin, Action, Worst, Best, Source string
	Working                                         []toldStep
	Remedies                                        []toldRemedy
}

type toldStep struct{ Symbol, Meaning, Value string }

type toldRemedy struct {
	Change        string
	Set           map[string]string
	Breaks, Cures []string
}

// Verdicts that the tests ask for by their bare names.
type Verdict = check.Verdict

var Trades = check.Trades

type report struct {
	Findings []told
	Judged   *check.Judged
}

// Finding returns the finding of that id.
func (r report) Finding(id string) *told {
	i := slices.IndexFunc(r.Findings, func(f told) bool { return f.ID == id })
	if i < 0 {
		return nil
	}
	return &r.Findings[i]
}

// Evaluate judges a site and words every finding.
func Evaluate(s *survey.Survey, m *specs.Machine, o Options) report {
	checks := o.OnlyCheck
	if checks == nil {
		checks = All
	}
	say := words.Reader{Units: o.Units}
	j := check.Evaluate(checks, s, m, check.Options{Today: o.Today})
	findings := j.Findings
	if !o.NoRemedy {
		findings = j.Report(true).Findings
	}
	r := report{Judged: j}
	for _, f := range findings {
		t := told{Finding: f, Margin: say.Margin(f.Margin), Action: say.Action(f), Worst: say.Fact(f.Worst), Best: say.Fact(f.Best),
			Source: words.Source(f, func(path string) string { return m.Name + " " + path + ": " + m.SourceOf(path) })}
		t.Have, t.Want = say.Found(&f.Outcome)
		for _, st := range f.Outcome.Working {
			t.Working = append(t.Working, toldStep{st.Symbol, say.Value(st.Meaning), say.Value(st.Value)})
		}
		for _, rem := range f.Remedies {
			t.Remedies = append(t.Remedies, toldRemedy{say.Value(rem.Change), rem.Set, rem.Breaks, rem.Cures})
		}
		r.Findings = append(r.Findings, t)
	}
	return r
}
