package rules

import (
	"math/rand/v2"
	"slices"
	"testing"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/surveytest"
)

// noDefaults are answers that may be left out without anything being assumed:
// another answer, the code or the delivery says what holds then.
var noDefaults = map[string]string{
	"codes.pressure_limit":         "the model codes' own limit holds where no local one does",
	"codes.sewer_limit":            "the same",
	"heater.recovery":              "computed from the input where the plate gives that",
	"space.unpacked_outside":       "it is delivered in its crate, and carried in so unless somebody unpacks it",
	"demand.peak_glasses_per_hour": "seats and drinks say it",
	"power.line_to_neutral":        "a supply labeled a delta has none",
	"drain.tempering_line":         "a cold connection that is none says so",
}

// TestDefaultIsNoFault leaves out one answer at a time and sees that no check
// is FIX without it that another answer would make better: such a FIX rests on
// what was assumed in its place.
func TestDefaultIsNoFault(t *testing.T) {
	tried, told := 0, map[string]bool{}
	try := func(r *rand.Rand, a aSite) {
		j := a.judged(a.survey)
		for _, f := range surveytest.Plain() {
			if !a.survey.Known(f.Path) || noDefaults[f.Path] != "" {
				continue
			}
			without, err := j.Having(set{f.Path: "unknown"})
			if err != nil {
				continue
			}
			tried++
			for _, g := range without.Open(Fix) {
				if !slices.Contains(g.Reads.Paths(), f.Path) || told[g.ID+f.Path] {
					continue
				}
				if text, v := betterWith(r, j, f, g.Check); text != "" {
					told[g.ID+f.Path] = true
					t.Errorf("%v: %s is FIX without %s and %v with %s: %v, want %v", a, g.ID, f.Path, v, text, g.Have, g.Want)
				}
			}
		}
	}
	randomSites(t, 11, try)
	if tried < 20**generated {
		t.Errorf("only %d answers left out", tried)
	}
}

// betterWith finds an answer to a question with which a check is OK or to be confirmed.
func betterWith(r *rand.Rand, j *check.Judged, f survey.Field, k *Check) (text string, v Verdict) {
	texts := []string{j.Survey.Answer(f.Path).Text, f.Example}
	for range 6 {
		texts = append(texts, surveytest.Answer(r, f))
	}
	for _, text := range texts {
		if text == "" || text == "unknown" {
			continue
		}
		after, err := j.Having(set{f.Path: text})
		if err != nil {
			continue
		}
		if v := after.Of(k).Verdict; v == OK {
			return text, v
		}
	}
	return "", 0
}
