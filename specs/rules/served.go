package rules

import (
	"slices"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/templates"
)

// Served says which checks a requirement sheet serves.
type Served struct {
	Serves []*Check // judged with what the sheet states
	Idle   []*Check // don't arise for this machine
	Lacks  []Lack   // can't be judged before the sheet says more
}

// A Lack is a check that a sheet leaves open, and the facts that it would have
// to state, by path; where the check can't name them, none.
type Lack struct {
	*Check
	Facts []specs.Fact
	Want  check.Fact // what it asks of the maker
}

// ServedBy looks at a sheet beside a site that answers every question: the demo's.
func ServedBy(m *specs.Machine) (Served, error) {
	s, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		return Served{}, err
	}
	if err := s.Apply(map[string]string{ask.Machine.Key.Path(): m.Key, ask.Machine.Supply.Path(): "unknown"}); err != nil {
		return Served{}, err
	}
	var all Served
	for _, f := range Judge(s, m, check.Options{Today: s.Site.SurveyedOn}).Findings {
		switch {
		case f.Unsaid != nil, f.Verdict == Missing && f.Action.Name == "silent.action":
			all.Lacks = append(all.Lacks, Lack{f.Check, slices.Clone(f.Unsaid), f.Want})
		case f.Verdict == NA:
			all.Idle = append(all.Idle, f.Check)
		default:
			all.Serves = append(all.Serves, f.Check)
		}
	}
	return all, nil
}
