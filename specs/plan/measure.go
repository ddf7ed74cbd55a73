package plan

import (
	"slices"

	"firstfill/specs/check"
	"firstfill/survey"
)

// A Measure is one answer to get next, with the findings that hang on it.
type Measure struct {
	Path     string
	Question string
	Station  string   // name of the station of the walk
	Missing  bool     // not answered; else to be read again, or more exactly
	IDs      []string // findings that it would settle; none where it only looks odd
}

// ToMeasure lists the answers that are missing, unsettled or odd, in walking
// order: those of the site as found, and those on which it depends whether the
// site as planned is right.
func (p *Plan) ToMeasure() []Measure {
	var ms []Measure
	add := func(path string, missing bool, ids ...string) {
		i := slices.IndexFunc(ms, func(m Measure) bool { return m.Path == path })
		if i < 0 {
			i = len(ms)
			ms = append(ms, Measure{Path: path, Question: survey.Question(path), Station: survey.Station(path)})
		}
		ms[i].Missing = ms[i].Missing || missing
		for _, id := range ids {
			if !slices.Contains(ms[i].IDs, id) {
				ms[i].IDs = append(ms[i].IDs, id)
			}
		}
	}
	for _, d := range p.Found.Survey.Doubts() {
		add(d.Paths[0], false)
	}
	for _, f := range p.Found.Findings {
		switch {
		case f.Verdict == check.Missing:
			for _, path := range survey.Paths(f.At) {
				add(path, true, f.ID)
			}
		case f.Verdict == check.Confirm && f.Settle != "":
			add(f.Settle, false, f.ID)
		}
		for _, path := range f.Doubt {
			add(path, false, f.ID)
		}
	}
	for _, f := range p.Built.Findings {
		if _, planned := p.Set[f.Settle]; f.Verdict == check.Confirm && f.Settle != "" && !planned {
			add(f.Settle, false, f.ID)
		}
	}
	slices.SortStableFunc(ms, func(a, b Measure) int { return survey.Order(a.Path) - survey.Order(b.Path) })
	return ms
}
