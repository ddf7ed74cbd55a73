package plan

import (
	"cmp"
	"slices"
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
)

// surer gives what the plan builds another figure where a check that wasn't in
// doubt before would be in doubt with the figure that it has, and one with
// which it isn't harms nothing else. It adds nothing to what is built.
func (p *Plan) surer(s *search) {
	doubtful := slices.Clone(p.Built.Findings)
	slices.SortFunc(doubtful, func(a, b *check.Finding) int { return strings.Compare(a.ID, b.ID) })
	for _, f := range doubtful {
		if f.Check.Remedies == nil || f.Reads == survey.Every() || p.Built.Of(f.Check).Verdict != check.Confirm || p.Found.Of(f.Check).Verdict == check.Confirm {
			continue
		}
		for _, o := range p.resized(s, f) {
			built, err := p.Built.Having(o.remedy.Set)
			if err != nil || built.Of(f.Check).Verdict != check.OK || worse(p.Built, built) {
				continue
			}
			p.ways, p.Built = append(p.ways, o), built
			for path, text := range o.remedy.Set {
				p.Set[path] = text
			}
			break
		}
	}
	p.ways = live(p.ways)
}

// resized are the ways to make a check sure that change nothing but figures
// of the plan, the least work first.
func (p *Plan) resized(s *search, f *check.Finding) []option {
	var ways []option
	for _, r := range f.Check.Remedies(p.Built.Case, f.Check) {
		planned := len(r.Set) > 0
		for path, text := range r.Set {
			_, ok := p.Set[path]
			planned = planned && ok && !isSo(p.Found.Survey, path, text)
		}
		if o, err := s.optionOf(p.Built.Case, f.Check, r); planned && err == nil {
			ways = append(ways, o)
		}
	}
	slices.SortStableFunc(ways, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.work, b.work), cmp.Compare(a.way, b.way))
	})
	return ways
}

// worse says whether a finding of a planned site is graver than before.
func worse(before, after *check.Judged) bool {
	for i, f := range after.Findings {
		if f.Reads != survey.Every() && f.Verdict < before.Findings[i].Verdict {
			return true
		}
	}
	return false
}
