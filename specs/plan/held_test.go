package plan_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// TestHeld sees that everything the planned site lacks an answer for is on hold
// once under its trade, and that a plan said to be right whatever the answer
// will be is: each answer is tried.
func TestHeld(t *testing.T) {
	whatever, worst := 0, 0
	all := sites(t)
	for name, set := range map[string]map[string]string{
		"demo": nil, "block_missing": nil, "block_drain": nil, "block_water": nil, "pass_avocet-r36": nil, "pass_godwit-c44": {"power.conductor_material": "unknown"},
		"pass_dunlin-u24": {"power.near_sink": "unknown", "power.ground_fault_protection": "none", "water.hot.check_valve": "unknown", "water.hammer_arrester": "unknown", "power.breaker": "unknown"},
	} {
		s := all[name]
		if err := s.Apply(set); err != nil {
			t.Fatal(err)
		}
		p := plan.Find(judge(t, s), plan.Options{})
		for _, f := range p.Built.Open(check.Missing) {
			if f.ID[0] == 'R' || len(f.At) == 0 {
				continue
			}
			for _, a := range f.At {
				if !slices.ContainsFunc(p.Held(), func(h plan.Hold) bool { return slices.Contains(h.At, a.Path()) && slices.Contains(h.IDs, f.ID) }) {
					t.Errorf("%s: %s waits for %s, and no hold says so", name, f.ID, a.Path())
				}
			}
		}
		right := func(paths, ids []string) {
			for _, path := range paths {
				for _, text := range answersTo(path) {
					with, err := p.Built.Having(map[string]string{path: text})
					if err != nil {
						t.Fatal(err)
					}
					for _, g := range with.Findings {
						if slices.Contains(ids, g.ID) && g.Verdict != check.OK && g.Verdict != check.NA {
							t.Errorf("%s: %s is %v with %s at %s, though that is said to be right whatever it is", name, g.ID, g.Verdict, path, text)
						}
					}
				}
			}
		}
		for _, h := range p.Held() {
			if h.Right {
				whatever++
				right(h.At, h.IDs)
			}
		}
		for _, st := range p.Steps {
			for _, path := range st.Worst {
				worst++
				right([]string{path}, st.Cures)
				undone := false
				for _, text := range answersTo(path) {
					without := maps.Clone(p.Set)
					for x := range st.Set {
						delete(without, x)
					}
					without[path] = text
					j, err := p.Found.Having(without)
					if err != nil {
						t.Fatal(err)
					}
					undone = undone || slices.ContainsFunc(j.Open(check.Fix), func(f *check.Finding) bool { return slices.Contains(st.Cures, f.ID) })
				}
				if !undone {
					t.Errorf("%s: step %d is sized for the worst of %s, and nothing fails without it", name, st.N, path)
				}
			}
		}
		if strings.HasPrefix(name, "pass_a") && len(p.Held()) > 0 {
			t.Errorf("%s lacks nothing and has on hold %v", name, p.Held())
		}
	}
	if whatever == 0 || worst == 0 {
		t.Errorf("%d holds whatever the answer, %d steps for the worst: nothing was tried", whatever, worst)
	}
}

// TestSupplyOptionOnHold sees that a circuit isn't built silently for an option that nobody chose.
func TestSupplyOptionOnHold(t *testing.T) {
	s := sites(t)["pass_dunlin-u24"]
	if err := s.Apply(map[string]string{"machine.supply": "unknown"}); err != nil {
		t.Fatal(err)
	}
	held := plan.Find(judge(t, s), plan.Options{}).Held()
	if len(held) != 1 || !slices.Equal(held[0].At, []string{"machine.supply"}) {
		t.Fatalf("on hold: %v", held)
	}
	if got, want := (words.Reader{Units: quantity.US}).Say(held[0].Why), "the supply option isn't settled: no circuit before it is ordered; reckoned here for 208 V"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestRests sees that a step rests on answers in doubt alone, and that each of
// them could undo what the step cures or move its number.
func TestRests(t *testing.T) {
	all := sites(t)
	rests := 0
	for i := range 60 {
		rs := random(t, all, i)
		if rs.site == nil {
			continue
		}
		p := plan.Find(rules.Judge(rs.site, rs.machine, check.Options{Today: today}), plan.Options{})
		doubtful := map[string]bool{}
		for _, f := range p.Built.Findings {
			switch f.Verdict {
			case check.Confirm:
				doubtful[f.Settle] = true
			case check.Missing:
				for _, a := range f.At {
					doubtful[a.Path()] = true
				}
			}
		}
		for _, st := range p.Steps {
			for _, path := range st.Rests {
				rests++
				var bit survey.Bits
				bit.AddPath(path)
				_, planned := p.Set[path]
				if planned || !doubtful[path] {
					t.Errorf("site %d: %s rests on %s, which isn't in doubt", i, st.Job, path)
				}
				if !slices.ContainsFunc(p.Built.Findings, func(f *check.Finding) bool { return slices.Contains(st.Cures, f.ID) && f.Reads.Meets(bit) }) {
					t.Errorf("site %d: %s rests on %s, which nothing that it cures reads", i, st.Job, path)
				}
			}
		}
	}
	if rests < 4 {
		t.Errorf("only %d answers in doubt on which a step rests", rests)
	}
	t.Logf("%d answers in doubt on which a step rests", rests)
}

// answersTo gives the answers that a question may have, where they are few.
func answersTo(path string) []string {
	f := survey.FieldAt(path)
	if f.YesNo() {
		return []string{"yes", "no"}
	}
	return f.Choices
}
