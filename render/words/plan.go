package words

import (
	"strings"

	"firstfill/specs/check"
	"firstfill/specs/plan"
)

// Stage words a stage: "At rough-in".
func (r Reader) Stage(s check.Stage) string { return r.Say(check.Say("stage." + s.String())) }

// Step words a step of the plan on one line: "circuit: 45 A breaker, …".
func (r Reader) Step(st plan.Step) string {
	parts := make([]string, len(st.Do))
	for i, p := range st.Do {
		parts[i] = r.Say(p)
	}
	return r.Say(check.Say("job."+string(st.Job))) + ": " + strings.Join(parts, "; ")
}

// Label is what a check's row on a trade's sheet is called, and whether it has
// one; own says that it stands there even where nothing is to be done. Rows of
// one subject with the same label are one row.
func (r Reader) Label(id string) (label string, own, ok bool) {
	if label, ok = r.phrase("row." + id); ok {
		return label, true, true
	}
	label, ok = r.phrase("also." + id)
	return label, false, ok
}

// Rests words the answers in doubt that a step rests on; empty where there are none.
func (r Reader) Rests(paths []string) string {
	if len(paths) == 0 {
		return ""
	}
	var asks check.Listed
	for _, path := range paths {
		asks = append(asks, check.Question(path))
	}
	return r.Say(check.Say("plan.rests", "questions", asks))
}
