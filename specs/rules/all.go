package rules

import (
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/templates"
)

// All lists every check in the order of reports.
var All = check.MustRegister(worded, power, water, drain, space, chemicals, throughput, records)

// worded says whether the wording tables have a phrase of that name.
func worded(name string) bool {
	all, err := templates.Phrases()
	return err == nil && all[name] != ""
}

// ByID returns the check of that id, nil when there is none.
func ByID(id string) *Check {
	for _, c := range All {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// Judge judges a site by all checks.
func Judge(s *survey.Survey, m *specs.Machine, o check.Options) *check.Judged {
	return check.Evaluate(All, s, m, o)
}
