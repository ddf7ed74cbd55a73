package plan_test

import (
	"maps"
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
)

// TestAlternatives sees that each alternative is another plan, that choosing
// its way gives just that plan, and that it keeps what a plan promises; with
// what was chosen before still chosen.
func TestAlternatives(t *testing.T) {
	all := sites(t)
	shown := 0
	audit := func(name string, j *check.Judged, o plan.Options) []plan.Alternative {
		p := plan.Find(j, o)
		alts := p.Alternatives()
		for i, a := range alts {
			shown++
			choices := maps.Clone(o.Choices)
			if choices == nil {
				choices = map[string]string{}
			}
			choices[a.ID] = a.Way
			if misfits := plan.Misfits(j, choices); len(misfits) > 0 {
				t.Errorf("%s: %s=%s is offered and can't be chosen: %v", name, a.ID, a.Way, misfits)
			}
			q := plan.Find(j, plan.Options{Choices: choices})
			if !maps.Equal(q.Set, a.Set) || q.Work != a.Work || a.More != q.Work-p.Work {
				t.Errorf("%s: %s=%s is said to be %v, work %d; chosen it is %v, work %d", name, a.ID, a.Way, a.Set, a.Work, q.Set, q.Work)
			}
			if maps.Equal(a.Set, p.Set) {
				t.Errorf("%s: %s=%s is the plan itself", name, a.ID, a.Way)
			}
			for _, b := range alts[:i] {
				if maps.Equal(a.Set, b.Set) {
					t.Errorf("%s: %s=%s and %s=%s are one plan", name, a.ID, a.Way, b.ID, b.Way)
				}
			}
			if len(q.Stands) > len(p.Stands) {
				t.Errorf("%s: with %s=%s %v stand, else %v", name, a.ID, a.Way, q.Stands, p.Stands)
			}
			for _, fault := range prove(q) {
				t.Errorf("%s with %s=%s: %s", name, a.ID, a.Way, fault)
			}
		}
		return alts
	}
	for name, s := range all {
		j := judge(t, s)
		for _, a := range audit(name, j, plan.Options{}) {
			audit(name+" with "+a.ID+"="+a.Way, j, plan.Options{Choices: map[string]string{a.ID: a.Way}})
		}
	}
	n := 40
	if testing.Short() {
		n = 8
	}
	for i := range n {
		if rs := random(t, all, i); rs.site != nil {
			audit(rs.String(), rules.Judge(rs.site, rs.machine, check.Options{Today: today}), plan.Options{})
		}
	}
	if shown < 30 {
		t.Errorf("only %d alternatives", shown)
	}
	t.Logf("%d alternatives", shown)
}
