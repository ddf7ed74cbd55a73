package rules

import (
	"slices"
	"testing"

	"firstfill/specs/check"
	"firstfill/survey"
)

// An answer in the surveyor's own words is judged as no check's answer: what
// hangs on it is for somebody to confirm, nothing that reads it is OK, and no
// fault is made up.
func TestOwnWords(t *testing.T) {
	judged := func(s *survey.Survey, path, text string) *check.Judged {
		s = s.Clone()
		if err := s.Apply(set{path: text}); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		return Judge(s, machine(t, s.Machine.Key), check.Options{Today: today})
	}
	for name, s := range sites(t) {
		if testing.Short() && name != "pass_avocet-r36" {
			continue
		}
		for _, f := range survey.Fields() {
			if len(f.Choices) == 0 || slices.Contains(f.Choices, "other") || !s.Known(f.Path) {
				continue
			}
			without, with := judged(s, f.Path, "unknown"), judged(s, f.Path, "other: something nobody has heard of")
			for i, got := range with.Findings {
				was := without.Findings[i]
				if got.Reads == survey.Every() {
					continue
				}
				hangs := slices.Contains(with.Survey.OwnWords(got.Reads), f.Path)
				want := was.Verdict
				if hangs && want == check.OK {
					want = check.Confirm
				}
				if hangs && want == check.Missing && onlyLacks(was, f.Path, without.Survey) {
					want = check.Confirm
				}
				if got.Verdict != want {
					t.Errorf("%s: %s with %s in own words: got %v, want %v (%v when unknown)", name, got.ID, f.Path, got.Verdict, want, was.Verdict)
				}
				if hangs && got.Verdict == check.Confirm && was.Verdict == check.Missing && (got.Action.Name != "words.action" || !slices.Contains(survey.Paths(got.At), f.Path)) {
					t.Errorf("%s: %s doesn't say whose words it hangs on: %v at %v", name, got.ID, got.Action, survey.Paths(got.At))
				}
			}
		}
	}
}

// onlyLacks says whether a MISSING finding lacks one answer and no other.
func onlyLacks(f *check.Finding, path string, s *survey.Survey) bool {
	lacks := 0
	for _, a := range f.At {
		if !a.Known(s) {
			if a.Path() != path {
				return false
			}
			lacks++
		}
	}
	return lacks > 0
}

// A word that may mean several answers gives what each of them gives, or
// somebody finds out which it is.
func TestSeveralMeanings(t *testing.T) {
	for _, c := range []struct {
		path, word string
		ways       []string
	}{
		{"water.hot.pipe_material", "Copper", []string{"copper-K", "copper-L", "copper-M"}},
		{"water.cold.pipe_material", "copper", []string{"copper-K", "copper-L", "copper-M"}},
		{"power.ground_fault_protection", "GFCI", []string{"receptacle", "breaker"}},
	} {
		for name, s := range sites(t) {
			judge := func(text string) *check.Judged {
				n := s.Clone()
				if err := n.Apply(set{c.path: text}); err != nil {
					t.Fatal(err)
				}
				return Judge(n, machine(t, n.Machine.Key), check.Options{Today: today})
			}
			word := judge(c.word)
			all := make([]*check.Judged, len(c.ways))
			for i, w := range c.ways {
				all[i] = judge(w)
			}
			for i, got := range word.Findings {
				if got.Reads == survey.Every() {
					continue
				}
				for k, j := range all {
					v := j.Findings[i].Verdict
					if got.Verdict == check.OK && v != check.OK || got.Verdict == check.Fix && v != check.Fix {
						t.Errorf("%s: %s is %v with %s %s, but %v with %s", name, got.ID, got.Verdict, c.path, c.word, v, c.ways[k])
					}
				}
			}
		}
	}
}
