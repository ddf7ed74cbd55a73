package check

import (
	"slices"

	"firstfill/survey"
)

// A Measure is one answer to get next, with the findings that hang on it.
type Measure struct {
	Path     string
	Question string
	Station  string   // name of the station of the walk
	Missing  bool     // not answered; else to be read more exactly
	IDs      []string // findings that it would settle
}

// ToMeasure lists the answers that are missing or unsettled, in walking order.
func (r *Report) ToMeasure() []Measure {
	var ms []Measure
	add := func(path, id string, missing bool) {
		for i := range ms {
			if ms[i].Path == path {
				ms[i].Missing = ms[i].Missing || missing
				if !slices.Contains(ms[i].IDs, id) {
					ms[i].IDs = append(ms[i].IDs, id)
				}
				return
			}
		}
		ms = append(ms, Measure{Path: path, Question: survey.Question(path), Station: survey.Station(path), Missing: missing, IDs: []string{id}})
	}
	for _, f := range r.Findings {
		switch f.Verdict {
		case Missing:
			for _, p := range survey.Paths(f.At) {
				add(p, f.ID, true)
			}
		case Confirm:
			if f.Settle != "" {
				add(f.Settle, f.ID, false)
			}
		}
	}
	slices.SortStableFunc(ms, func(a, b Measure) int { return survey.Order(a.Path) - survey.Order(b.Path) })
	return ms
}
