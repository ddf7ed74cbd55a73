package rules

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"firstfill/specs/check"
)

// byName are the checks whose OK names no margin, since it rests on a name or
// a yes, not on a number; of those that sometimes do, how what was found begins.
var byName = map[string]string{
	"E-01": "", "E-02": "", "E-04": "", "E-06": "", "E-10": "", "E-11": "", "E-17": "", "E-20": "", "E-21": "", "E-22": "", "E-27": "", "E-28": "", "E-33": "", "E-34": "", "E-35": "",
	"E-07": "circuit.alone", "E-30": "E-30.no-main",
	"E-18": "", // of a shared circuit: one of the two ratings that its breaker allows
	"W-25": "", "W-26": "", "W-30": "", "W-31": "", "W-32": "", "W-33": "", "W-34": "", "W-35": "",
	"W-28": "", "W-29": "", // only a vacuum breaker's height is measured
	"W-39": "", // without storage, where the sinks have their own valves
	"D-01": "", "D-02": "", "D-13": "", "D-16": "", "D-17": "", "D-18": "", "D-19": "", "D-20": "", "D-24": "",
	"D-11": "D-11.trap", "D-25": "D-25.there",
	"S-09": "", "S-14": "S-14.sealed", "S-19": "S-19.done", "S-15": "",
	"C-01": "", "C-05": "", "C-06": "", "C-07": "",
	"R-04": "", "R-05": "", "R-06": "", "R-07": "", "R-08": "",
}

// TestPassingNamesItsMargin sees that every OK says how much there is to
// spare, save where names are compared.
func TestPassingNamesItsMargin(t *testing.T) {
	told, named, spared := map[string]bool{}, map[string]bool{}, map[string]bool{}
	see := func(j *check.Judged) {
		for _, f := range j.Findings {
			if f.Verdict != OK {
				continue
			}
			if f.Margin.Gap != nil && !math.IsNaN(f.Margin.Value) {
				spared[f.ID] = true
				if f.Margin.Value < 0 && !told[f.ID] {
					told[f.ID] = true
					t.Errorf("%s is OK with %v to spare: %v", f.ID, f.Margin.Value, f.Have)
				}
				continue
			}
			named[f.ID] = true
			if begins, ok := byName[f.ID]; (!ok || !strings.HasPrefix(f.Have.Key(), begins)) && !told[f.ID] {
				told[f.ID] = true
				t.Errorf("%s is OK and names no margin: %s", f.ID, f.Have.Key())
			}
		}
	}
	for _, s := range sites(t) {
		see(Judge(s, machine(t, s.Machine.Key), check.Options{Today: today}))
	}
	randomSites(t, 9, func(_ *rand.Rand, a aSite) { see(a.judged(a.survey)) })
	if len(named) > len(byName) || len(spared) < 60 {
		t.Errorf("%d checks compare names, %d numbers", len(named), len(spared))
	}
}
