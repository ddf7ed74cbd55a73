package plan

import (
	"cmp"
	"maps"
	"slices"

	"firstfill/specs/check"
)

// An Alternative is another plan for the whole site, in which one fault is
// cured another way.
type Alternative struct {
	ID   string       // the fault
	Way  string       // how it is cured; "ID=Way" chooses it
	Do   check.Phrase // what is done instead
	Plan *Plan
}

// maxAlternatives bounds how many are shown side by side.
const maxAlternatives = 3

// maxTried bounds how many other ways are planned to find them.
const maxTried = 16

// Alternatives are plans nearly as good, or whose choice is the owner's: those
// that cure one of the faults in another way, leave no more standing, and cost
// at most twice the work or the work of another trade. The least work first.
func (p *Plan) Alternatives() []Alternative {
	s := &search{found: p.Found}
	start := &state{site: p.Found, offers: map[*check.Check]*offers{}}
	var all []Alternative
	tried := 0
	for _, f := range start.taken() {
		o, id := s.offersOf(start, f), f.ID
		if len(o.options) < 2 {
			continue
		}
		for _, x := range o.options {
			if tried++; tried > maxTried {
				break
			}
			if covers(p.Set, x.remedy.Set) {
				continue // that is what the plan does
			}
			other := Find(p.Found, Options{Choices: map[string]string{id: x.way}})
			if len(other.Stands) > len(p.Stands) || !covers(other.Set, x.remedy.Set) || maps.Equal(other.Set, p.Set) {
				continue
			}
			if other.Work > 2*p.Work && sameTrades(p, other) {
				continue
			}
			all = append(all, Alternative{id, x.way, check.PhraseOf(x.remedy.Change), other})
		}
	}
	slices.SortStableFunc(all, func(a, b Alternative) int {
		return cmp.Or(cmp.Compare(a.Plan.Work, b.Plan.Work), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Way, b.Way))
	})
	return all[:min(len(all), maxAlternatives)]
}

// covers says whether a plan's answers hold all of a remedy's.
func covers(set, some map[string]string) bool {
	for path, text := range some {
		if set[path] != text {
			return false
		}
	}
	return true
}

func sameTrades(a, b *Plan) bool {
	trades := func(p *Plan) map[check.Trade]bool {
		m := map[check.Trade]bool{}
		for _, st := range p.Steps {
			m[st.Trade] = true
		}
		return m
	}
	return maps.Equal(trades(a), trades(b))
}
