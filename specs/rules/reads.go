package rules

import (
	"strings"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
)

// Reads lists the answers that a check reads on a site where every question is
// answered as its example shows, for any of the built-in machines, in the
// questionnaire's order.
func Reads(k *Check) []string {
	var all survey.Bits
	for _, m := range specs.Builtin().Machines() {
		s := exampleSite(m.Key)
		f := check.Evaluate([]*Check{k}, s, m, check.Options{Today: s.Site.SurveyedOn}).Findings[0]
		all.Join(f.Reads)
	}
	return all.Paths()
}

// exampleSite answers every question with its example.
func exampleSite(key string) *survey.Survey {
	s, problems := survey.Load("example", []byte("survey: 1\nsite: {name: example}\nmachine: {key: "+key+"}\n"))
	if err := problems.Err(); err != nil {
		panic("rules: " + err.Error())
	}
	set := map[string]string{}
	for _, f := range survey.Fields() {
		if f.Example != "" && !f.List && f.Path != "machine.key" && f.Path != "machine.supply" {
			set[strings.ReplaceAll(f.Path, "[]", "[0]")] = f.Example
		}
	}
	if err := s.Apply(set); err != nil {
		panic("rules: the examples of the questions: " + err.Error())
	}
	return s
}
