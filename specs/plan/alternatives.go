package plan

import (
	"cmp"
	"maps"
	"slices"

	"firstfill/specs/check"
	"firstfill/survey"
)

// An Alternative is another plan for the whole site, in which one fault is
// cured another way.
type Alternative struct {
	ID   string       // the fault
	Way  string       // how it is cured; "ID=Way" chooses it
	Do   check.Phrase // what is done instead
	Set  map[string]string
	Work check.Work // of the whole plan
	More check.Work // than this plan's, below zero where it is less
}

// maxAlternatives bounds how many are shown side by side.
const maxAlternatives = 3

// maxTried bounds how many other ways are planned to find them.
const maxTried = 16

// Alternatives are plans nearly as good, or whose choice is the owner's: those
// that cure one of the faults in another way, leave no more standing, and cost
// at most twice the work or the work of another trade. What was chosen already
// stays chosen. The least work first.
func (p *Plan) Alternatives() []Alternative {
	if p.alternatives != nil {
		return p.alternatives
	}
	s := &search{found: p.Found, machines: p.options.Machines}
	start := &state{site: p.Found, offers: map[*check.Check]*offers{}}
	all := []Alternative{}
	own := p.trades()
	stand := len(unpapered(p.Built).Open(check.Fix))
	tried := 0
	for _, f := range start.taken() {
		o, id := s.offersOf(start, f), f.ID
		if len(o.options) < 2 {
			continue
		}
		var ways []string
		for _, x := range o.options {
			if slices.Contains(ways, x.way) {
				continue // of two that change the same things the search takes the better
			}
			ways = append(ways, x.way)
			if tried == maxTried {
				break
			}
			if covers(p.Set, x.remedy.Set) {
				continue // that is what the plan does
			}
			tried++
			other := p.otherwise(id, x.way)
			if len(unpapered(other.Built).Open(check.Fix)) > stand || !covers(other.Set, x.remedy.Set) || maps.Equal(other.Set, p.Set) ||
				slices.ContainsFunc(all, func(a Alternative) bool { return maps.Equal(a.Set, other.Set) }) {
				continue
			}
			if other.Work > 2*p.Work && maps.Equal(own, other.trades()) {
				continue
			}
			all = append(all, Alternative{ID: id, Way: x.way, Do: check.PhraseOf(x.remedy.Change), Set: other.Set, Work: other.Work, More: other.Work - p.Work})
		}
	}
	slices.SortStableFunc(all, func(a, b Alternative) int {
		return cmp.Or(cmp.Compare(a.Work, b.Work), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Way, b.Way))
	})
	p.alternatives = all[:min(len(all), maxAlternatives)]
	return p.alternatives
}

// otherwise is what would be built with one more choice.
func (p *Plan) otherwise(id, way string) *Plan {
	o := p.options
	o.Choices = withAll(o.Choices, map[string]string{id: way})
	return lay(p.Found, o)
}

// unpapered is a judged site without the checks of the record, which read
// every answer.
func unpapered(j *check.Judged) *check.Judged {
	return j.Only(func(f *check.Finding) bool { return f.Reads != survey.Every() })
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

// trades are those that have work.
func (p *Plan) trades() map[check.Trade]bool {
	m := map[check.Trade]bool{}
	for _, o := range p.ways {
		job, _ := p.jobOf(o)
		m[jobs[job].trade] = true
	}
	return m
}
