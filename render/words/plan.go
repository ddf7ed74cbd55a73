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

// Rests words the answers in doubt that a step rests on, and those that aren't
// read for the worst of which it is sized; empty where there are none.
func (r Reader) Rests(rests, worst []string) []string {
	var texts []string
	for _, open := range []struct {
		name  string
		paths []string
	}{{"plan.worst", worst}, {"plan.rests", rests}} {
		if len(open.paths) == 0 {
			continue
		}
		var asks check.Listed
		for _, path := range open.paths {
			asks = append(asks, check.Question(path))
		}
		texts = append(texts, r.Say(check.Say(open.name, "questions", asks)))
	}
	return texts
}

// Others words the other plans for the whole site: how each is chosen, how its
// work compares, and what is done instead. It is empty where there are none.
func (r Reader) Others(p *plan.Plan) string {
	alts := p.Alternatives()
	if len(alts) == 0 {
		return ""
	}
	said := make([]string, len(alts))
	for i, a := range alts {
		name, more := "other.same", int(a.More)
		switch {
		case more > 0:
			name = "other.more"
		case more < 0:
			name, more = "other.less", -more
		}
		said[i] = r.Say(check.Say(name, "id", check.Quote(a.ID), "do", a.Do, "more", more, "way", check.Quote(a.Way)))
	}
	return r.Say(check.Say("other.head", "work", int(p.Work), "others", check.Quote(strings.Join(said, "; "))))
}
