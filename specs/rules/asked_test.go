package rules

import (
	"math/rand/v2"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/surveytest"
)

// besides are answers with which a question arises at all.
var besides = map[string]set{
	"power.on_high_leg":          {"power.system": "high-leg-delta", "power.line_to_line": "240 V", "power.line_to_neutral": "120 V", "power.high_leg_to_neutral": "208 V", "power.phases": "3"},
	"water.cold.break_tank":      {"water.cold.backflow": "air-gap"},
	"water.hot.break_tank":       {"water.hot.backflow": "air-gap"},
	"water.hot.pipe_fittings":    {"water.hot.pipe_material": "pex"},
	"site.second_machine":        {"site.second_machine": "BW-0418"},
	"site.second_machine_shares": {"site.second_machine": "BW-0418", "site.second_machine_shares": "none"},
	"heater.input":               {"heater.recovery": "unknown", "heater.recovery_rise": "unknown"},
}

// TestAskedQuestionsDecide lays other answers to each question over the sites
// and sees that every question of a part moves a verdict somewhere, but those
// that are only told to people.
func TestAskedQuestionsDecide(t *testing.T) {
	t.Parallel()
	moved := map[string]bool{}
	try := func(j *check.Judged, f survey.Field, text string) bool {
		if f.List {
			text = "[]"
		}
		after, err := j.Having(map[string]string{f.Path: text})
		if err != nil {
			return false
		}
		for i, x := range after.Findings {
			if x.Verdict != j.Findings[i].Verdict {
				return true
			}
		}
		return false
	}
	visit := func(r *rand.Rand, s *survey.Survey, m *specs.Machine, tries int) {
		j := Judge(s, m, check.Options{Today: today})
		form := survey.FormFor{Traits: s.Codes.Traits(m.Traits())}
		for _, f := range form.Asked() {
			if f.By == survey.Nobody || f.Told || moved[f.Path] || f.Path == "machine.key" {
				continue
			}
			j := j
			if more := besides[f.Path]; more != nil {
				var err error
				if j, err = j.Having(more); err != nil {
					continue
				}
			}
			for range tries {
				if moved[f.Path] = try(j, f, surveytest.Answer(r, f)) || try(j, f, "unknown"); moved[f.Path] {
					break
				}
			}
		}
	}
	for name, s := range sites(t) {
		visit(rand.New(rand.NewPCG(12, uint64(len(name)))), s, machine(t, s.Machine.Key), 12)
	}
	still := func() (fs []survey.Field) {
		for _, f := range survey.Fields() {
			if (survey.FormFor{}).Asks(f) && f.By != survey.Nobody && !f.Told && !moved[f.Path] && f.Path != "machine.key" {
				fs = append(fs, f)
			}
		}
		return fs
	}
	for round := uint64(0); round < 30 && len(still()) > 0; round++ {
		randomSites(t, 12+round, func(r *rand.Rand, a aSite) { visit(r, a.survey, a.machine, 4) })
	}
	for _, f := range still() {
		t.Errorf("%s (%s) is asked, and no verdict hangs on it", f.Path, f.Ask)
	}
}
