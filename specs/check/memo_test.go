package check_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
)

// TestRememberedIsJudged tries changes one on another, back and forth, and
// sees that what is remembered of a site is what judging it afresh says.
func TestRememberedIsJudged(t *testing.T) {
	for _, name := range []string{"block_water", "block_drain", "block_power", "block_way", "block_iec"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sites", name+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		s, problems := survey.Load(name, data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		m, err := specs.Builtin().Machine(s.Machine.Key)
		if err != nil {
			t.Fatal(err)
		}
		found := rules.Judge(s, m, check.Options{})
		tries := []map[string]string{}
		for _, f := range found.Open(check.Fix) {
			for _, r := range found.Prove(f) {
				tries = append(tries, r.Set)
			}
		}
		if len(tries) == 0 {
			t.Fatalf("%s: no change to try", name)
		}
		r := rand.New(rand.NewPCG(1, 1))
		for range 30 {
			now, set := found, map[string]string{}
			for range 1 + r.IntN(3) {
				try := tries[r.IntN(len(tries))]
				if now, err = now.Having(try); err != nil {
					t.Fatal(err)
				}
				for path, text := range try {
					set[path] = text
				}
			}
			fresh := rules.Judge(now.Survey, m, check.Options{})
			for i, f := range now.Findings {
				if !reflect.DeepEqual(f.Outcome.Have, fresh.Findings[i].Have) || f.Verdict != fresh.Findings[i].Verdict || f.Reads != fresh.Findings[i].Reads {
					t.Errorf("%s with %v: %s remembered as %v %+v, judged afresh %v %+v", name, set, f.ID, f.Verdict, f.Have, fresh.Findings[i].Verdict, fresh.Findings[i].Have)
				}
				if f.Verdict != check.NA && now.Passes(f.Check) != fresh.Passes(f.Check) {
					t.Errorf("%s with %v: %s is remembered to pass and doesn't, or the other way round", name, set, f.ID)
				}
			}
		}
	}
}
