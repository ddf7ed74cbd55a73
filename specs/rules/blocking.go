package rules

import (
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
)

// Blocking returns the answers without which the checks of a machine can't
// say that it can be started. It starts from a blank questionnaire and answers
// what is found missing with each question's example, until no more is missed:
// some answers are only asked for once others are known.
func Blocking(m *specs.Machine) map[string]bool {
	s, problems := survey.Load("blank", []byte("survey: 1\nsite: {name: blank}\nmachine: {key: "+m.Key+"}\n"))
	if err := problems.Err(); err != nil {
		panic("rules: " + err.Error())
	}
	blocks := map[string]bool{}
	for {
		set := map[string]string{}
		for _, f := range Judge(s, m, check.Options{}).Findings {
			if f.Verdict != Missing {
				continue
			}
			for _, path := range survey.Paths(f.At) {
				if !blocks[path] {
					blocks[path] = true
					field := survey.FieldAt(path)
					if field.List {
						set[path] = "[]"
					} else if field.Example != "" {
						set[path] = field.Example
					}
				}
			}
		}
		if len(set) == 0 || s.Apply(set) != nil {
			return blocks
		}
	}
}
