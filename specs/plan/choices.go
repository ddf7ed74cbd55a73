package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"firstfill/specs/check"
)

// A Misfit is a choice that the site doesn't offer.
type Misfit struct {
	ID, Way string
	Verdict check.Verdict // of the finding, where there is one
	Known   bool          // there is such a check
	Ways    []string      // that the finding does offer
}

func (m Misfit) Error() string {
	switch {
	case !m.Known:
		return fmt.Sprintf("there is no check %q to choose a way for; write it as D-03=machine.raised_by", m.ID)
	case m.Verdict != check.Fix:
		return fmt.Sprintf("%s is %s here: there is nothing to choose", m.ID, m.Verdict)
	case len(m.Ways) == 0:
		return fmt.Sprintf("%s has no way that could be chosen", m.ID)
	}
	return fmt.Sprintf("%s has no way %q; it has %s", m.ID, m.Way, strings.Join(m.Ways, ", "))
}

// Misfits are the choices, by check id, that a judged site doesn't offer, in
// the order of their ids. The search passes over them.
func Misfits(found *check.Judged, choices map[string]string) []Misfit {
	s := &search{found: found}
	start := &state{site: found, offers: map[*check.Check]*offers{}}
	var list []Misfit
	for _, id := range slices.Sorted(maps.Keys(choices)) {
		m := Misfit{ID: id, Way: choices[id]}
		for _, f := range found.Findings {
			if f.ID != id {
				continue
			}
			m.Known, m.Verdict = true, f.Verdict
			if f.Verdict == check.Fix {
				for _, o := range s.offersOf(start, f).options {
					m.Ways = append(m.Ways, o.way)
				}
			}
		}
		if !slices.Contains(m.Ways, m.Way) {
			list = append(list, m)
		}
	}
	return list
}
