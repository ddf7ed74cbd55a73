package plan_test

import (
	"maps"
	"slices"
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
)

// TestAnswersTakenAway takes one answer after another away from sites with many
// faults and proves the plan of what is left: some taken through all sites, and
// those that once led to a change that no step named.
func TestAnswersTakenAway(t *testing.T) {
	all := sites(t)
	type lack struct{ site, path string }
	lacks := []lack{{"block_water", "water.closed_system"}, {"block_water", "water.expansion_tank"}}
	stride := 20
	if testing.Short() {
		stride = 100
	}
	n := 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for _, f := range survey.Fields() {
			if n++; n%stride == 0 && !f.List && !f.Needed && f.Path != survey.Ask.Machine.Key.Path() {
				lacks = append(lacks, lack{name, f.Path})
			}
		}
	}
	missing := 0
	for _, l := range lacks {
		s := all[l.site].Clone()
		if s.Apply(map[string]string{l.path: "unknown"}) != nil {
			continue // an item of a list
		}
		j := judge(t, s)
		if len(j.Open(check.Missing)) > 0 {
			missing++
		}
		for _, fault := range prove(plan.Find(j, plan.Options{})) {
			t.Errorf("%s without %s: %s", l.site, l.path, fault)
		}
	}
	if missing < 5 {
		t.Errorf("only %d sites lack an answer", missing)
	}
}
