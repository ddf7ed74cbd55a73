package surveytest

import (
	"math"
	"math/rand/v2"
	"testing"

	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

func demo(t *testing.T) *survey.Survey {
	t.Helper()
	s, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestLay sees that nearly all random answers can be laid, and that every
// question gets some.
func TestLay(t *testing.T) {
	s, r := demo(t), rand.New(rand.NewPCG(1, 1))
	asked, refused := map[string]bool{}, 0
	const n = 600
	for range n {
		laid, set := Lay(r, s)
		if laid == nil {
			refused++
			continue
		}
		for path := range set {
			asked[path] = true
		}
	}
	if refused > n/50 {
		t.Errorf("%d of %d sites can't be laid", refused, n)
	}
	for _, f := range Plain() {
		if !asked[f.Path] && (len(f.Choices) > 0 || f.Sane != "" || f.YesNo()) {
			t.Errorf("%s is never laid", f.Path)
		}
	}
}

// TestInUnits sees a site in each system at the same values.
func TestInUnits(t *testing.T) {
	s := demo(t)
	for _, u := range []quantity.System{quantity.US, quantity.SI} {
		c, err := InUnits(s, u)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, a := range s.Answers() {
			f := survey.FieldAt(a.Path)
			if was, ok := Base(f, a.Text); ok {
				seen++
				now, ok := Base(f, c.Answer(a.Path).Text)
				if !ok || math.Abs(now-was) > 1e-9*math.Max(1, math.Abs(was)) {
					t.Errorf("%s: %s became %s", a.Path, a.Text, c.Answer(a.Path).Text)
				}
			}
		}
		if seen < 50 {
			t.Errorf("only %d quantities", seen)
		}
	}
}
