package rules_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/surveytest"
)

// TestWhatIsReadIsRecorded lays random answers over a site that may have random
// answers already, and judges it afresh: a check none of whose recorded answers
// changed says what it said.
func TestWhatIsReadIsRecorded(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", "[bp]*.yaml"))
	if err != nil || len(files) < 10 {
		t.Fatalf("too few sites: %v, %v", files, err)
	}
	var bases []*survey.Survey
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s, problems := survey.Load(file, data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		bases = append(bases, s)
	}
	rounds := 300
	if testing.Short() {
		rounds = 40
	}
	say := words.Reader{Units: quantity.US}
	unread, read, moved := map[string]int{}, map[string]int{}, map[string]int{}
	for i := range rounds {
		r := rand.New(rand.NewPCG(19, uint64(i)))
		site := bases[r.IntN(len(bases))]
		if r.IntN(2) == 0 {
			if laid, _ := surveytest.Lay(r, site); laid != nil {
				site = laid
			}
		}
		m, err := specs.Builtin().Machine(site.Machine.Key)
		if err != nil {
			t.Fatal(err)
		}
		other, set := surveytest.Lay(r, site)
		if other == nil {
			continue
		}
		before, after := rules.Judge(site, m, check.Options{}), rules.Judge(other, m, check.Options{})
		if before.Supply != after.Supply {
			continue // every check may rest on the option that suits what was read
		}
		var changed survey.Bits
		for path := range set {
			changed.AddPath(path)
		}
		for k, f := range before.Findings {
			g := after.Findings[k]
			same := f.Verdict == g.Verdict && reflect.DeepEqual(f.Have, g.Have) && reflect.DeepEqual(f.Want, g.Want) && say.Say(f.Action) == say.Say(g.Action)
			if f.Reads.Meets(changed) {
				read[f.ID]++
				if !same {
					moved[f.ID]++
				}
				continue
			}
			unread[f.ID]++
			if !same {
				t.Errorf("round %d: %s was %v %+v and is %v %+v, though none of what it read was changed: %v", i, f.ID, f.Verdict, f.Have, g.Verdict, g.Have, set)
			}
		}
	}
	still := 0
	for _, k := range rules.All {
		if k.ID[0] != 'R' && unread[k.ID] == 0 {
			t.Errorf("%s was never left alone", k.ID)
		}
		if read[k.ID] > 0 && moved[k.ID] == 0 {
			still++
		}
	}
	if still > len(rules.All)/5 {
		t.Errorf("%d checks never moved with what they read: too little to see that reads count", still)
	}
	t.Logf("%d rounds, %d checks; %d never moved", rounds, len(rules.All), still)
}
