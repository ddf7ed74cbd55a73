package plan_test

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity"
	"firstfill/survey/surveytest"
)

// TestSameOnBothForms writes each site's answers on the form in US units and on
// the one in SI, as a workbook and as YAML, reads the four back, and sees the
// same verdicts and the same plan: which answers it sets, in which steps, and
// what it cures. The figures that it sets are whole in the form's own units.
func TestSameOnBothForms(t *testing.T) {
	all := sites(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var first []string
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				s, err := surveytest.InUnits(all[name], u)
				if err != nil {
					t.Fatal(err)
				}
				form := survey.FormFor{Key: s.Machine.Key, Units: u, Known: s}
				book, err := forms.Write(form)
				if err != nil {
					t.Fatal(err)
				}
				back, problems := forms.Load("form.xlsx", book)
				if err := problems.Err(); err != nil {
					t.Fatal(err)
				}
				text, problems := survey.Load("form.yaml", survey.WriteYAML(form, survey.FormWords{}))
				if err := problems.Err(); err != nil {
					t.Fatal(err)
				}
				for kind, read := range map[string]*survey.Survey{"workbook": back, "YAML": text} {
					got := gist(plan.Find(judge(t, read), plan.Options{}))
					if first == nil {
						first = got
					}
					if !slices.Equal(got, first) {
						t.Errorf("%s in %v units:\n%s\nthe first form:\n%s", kind, u, strings.Join(got, "\n"), strings.Join(first, "\n"))
					}
				}
			}
		})
	}
}

// gist is what a report and its plan say without figures.
func gist(p *plan.Plan) (lines []string) {
	var b bytes.Buffer
	for _, f := range p.Found.Findings {
		b.WriteString(f.ID + " " + f.Verdict.String() + "; ")
	}
	lines = append(lines, b.String())
	for _, st := range p.Steps {
		lines = append(lines, string(st.Job)+": "+strings.Join(slices.Sorted(maps.Keys(st.Set)), " ")+" cures "+strings.Join(st.Cures, " "))
	}
	for _, st := range p.Stands {
		lines = append(lines, "stands "+st.ID)
	}
	return append(lines, p.Built.Report(false).Verdict.String())
}
