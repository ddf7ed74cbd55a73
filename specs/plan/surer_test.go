package plan_test

import (
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
)

// TestNoDoubtOfTheFigure sees that no check which wasn't in doubt as found is in
// doubt as planned where another figure of what is built anyway would settle it
// and make nothing else graver.
func TestNoDoubtOfTheFigure(t *testing.T) {
	all := sites(t)
	looked := 0
	look := func(name string, p *plan.Plan) {
		for i, f := range p.Built.Findings {
			if f.Verdict != check.Confirm || p.Found.Findings[i].Verdict == check.Confirm || f.Check.Remedies == nil {
				continue
			}
			looked++
			for _, r := range f.Check.Remedies(p.Built.Case, f.Check) {
				planned := true
				for path := range r.Set {
					_, ok := p.Set[path]
					planned = planned && ok
				}
				if !planned {
					continue
				}
				after, err := p.Built.Having(r.Set)
				if err != nil || after.Findings[i].Verdict != check.OK {
					continue
				}
				graver := false
				for k, g := range after.Findings {
					graver = graver || g.ID[0] != 'R' && g.Verdict < p.Built.Findings[k].Verdict
				}
				if !graver {
					t.Errorf("%s: %s is CONFIRM as planned, and OK with %v", name, f.ID, r.Set)
				}
			}
		}
	}
	for name, s := range all {
		look(name, plan.Find(judge(t, s), plan.Options{}))
	}
	n := 60
	if testing.Short() {
		n = 20
	}
	for i := range n {
		if rs := random(t, all, i); rs.site != nil {
			look(rs.String(), plan.Find(rules.Judge(rs.site, rs.machine, check.Options{Today: today}), plan.Options{}))
		}
	}
	if looked < 3 {
		t.Errorf("only %d checks in doubt", looked)
	}
}
