package rules

import (
	"math/rand/v2"
	"testing"

	"firstfill/specs/check"
)

// TestCausesBothWays sees over random sites that wherever a fault names another
// as its cause, one of that one's remedies does cure it, and the first of them
// doesn't make it worse.
func TestCausesBothWays(t *testing.T) {
	named, told := 0, map[string]bool{}
	see := func(name string, j *check.Judged) {
		report := j.Report(true)
		for _, f := range report.Findings {
			if f.Cause == "" {
				continue
			}
			named++
			pair, cured := f.Cause+" "+f.ID, false
			for i, rem := range report.Finding(f.Cause).Remedies {
				after, err := j.Having(rem.Set)
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				g := after.Of(f.Check)
				cured = cured || g.Verdict > Missing
				if i == 0 && (g.Verdict == Missing || g.Verdict == Fix && g.Margin.Value < f.Margin.Value) && !told[pair] {
					told[pair] = true
					t.Errorf("%s: %s names %s as its cause, whose first remedy %v makes it worse: %v, %v before, %v after; %v", name, f.ID, f.Cause, rem.Set, f.Have, f.Margin.Value, g.Margin.Value, g.Have)
				}
			}
			if !cured && !told[pair] {
				told[pair] = true
				t.Errorf("%s: %s names %s as its cause, and none of its %d remedies cures it", name, f.ID, f.Cause, len(report.Finding(f.Cause).Remedies))
			}
		}
	}
	for name, s := range sites(t) {
		see(name, Judge(s, machine(t, s.Machine.Key), check.Options{Today: today}))
	}
	randomSites(t, 12, func(_ *rand.Rand, a aSite) { see(a.String(), a.judged(a.survey)) })
	t.Logf("%d causes named", named)
	if named < 4 {
		t.Errorf("only %d causes named", named)
	}
}

// TestHighLegFirst sees a 120 V machine on the high leg moved off it, and not
// given a breaker for 208 V to ground.
func TestHighLegFirst(t *testing.T) {
	s, m := row{machine: "sanderling-u24p", set: set{"power.system": "high-leg-delta", "power.line_to_neutral": "120 V", "power.high_leg_to_neutral": "208 V", "power.line_to_line": "240 V", "power.on_high_leg": "yes"}}.laid(t)
	if f := Evaluate(s, m, Options{Today: today}).Finding("E-11"); f.Verdict != Fix || f.Cause != "E-06" {
		t.Errorf("%v, cause %q: %s", f.Verdict, f.Cause, f.Action)
	}
}
