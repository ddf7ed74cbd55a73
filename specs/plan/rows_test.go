package plan_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// TestRowsGiveTheirOwnNumber sees what each row asks for: what the check itself
// requires, or the planned value of what it judges. The fall's row once gave
// the height of the stand.
func TestRowsGiveTheirOwnNumber(t *testing.T) {
	all := sites(t)
	planned := 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		p := plan.Find(judge(t, all[name]), plan.Options{})
		for _, r := range rowsOf(p) {
			b := p.Built.Of(r.Check)
			switch {
			case reflect.DeepEqual(r.Need, b.Want):
			case r.Check.Builds != nil && reflect.DeepEqual(r.Need.Value, plan.Shown(r.Check.Builds, p.Built.Survey)):
				planned++
			case reflect.DeepEqual(r.Need.Value, b.Have.Value), sameLength(r.Need.Value, b.Have.Value):
				planned++
			case b.Have.Value == nil && slices.ContainsFunc(b.At, func(a survey.Ref) bool {
				w, word := plan.Shown(a, p.Built.Survey).(check.Word)
				return word && r.Need.Value == w
			}):
				planned++
			default:
				t.Errorf("%s: the row of %s needs %v; the check requires %v and judges %v", name, r.Check.ID, r.Need, b.Want, b.Have)
			}
			if r.Need.Zero() {
				t.Errorf("%s: the row of %s needs nothing", name, r.Check.ID)
			}
			switch {
			case r.Mark == plan.Stands && b.Verdict != check.Fix, r.Mark == plan.Read && b.Verdict != check.Missing:
				t.Errorf("%s: the row of %s is marked %v and is %v", name, r.Check.ID, r.Mark, b.Verdict)
			case (r.Mark == plan.Change || r.Mark == plan.Add) && (r.Step < 1 || r.Step > len(p.Steps)):
				t.Errorf("%s: the row of %s is changed in step %d of %d", name, r.Check.ID, r.Step, len(p.Steps))
			case r.Mark == plan.Keep && p.Found.Of(r.Check).Verdict == check.Fix:
				t.Errorf("%s: the row of %s is kept and was FIX", name, r.Check.ID)
			}
		}
	}
	if planned < 20 {
		t.Errorf("only %d rows give a planned value", planned)
	}
	demo := plan.Find(judge(t, all["demo"]), plan.Options{})
	for _, r := range rowsOf(demo) {
		if r.Check.ID == "D-03" && (r.Need.Bound != check.AtLeast || r.Mark != plan.Change || demo.Steps[r.Step-1].Job != "stand") {
			t.Errorf("the fall's row: %+v", r)
		}
	}
}

func rowsOf(p *plan.Plan) []plan.Row {
	var rows []plan.Row
	seen := map[check.Subject]bool{}
	for _, f := range p.Built.Findings {
		if !seen[f.Subject] {
			seen[f.Subject] = true
			rows = append(rows, p.Rows(f.Subject)...)
		}
	}
	return rows
}

// sameLength says whether two values are one length, however it is written.
func sameLength(x, y any) bool {
	a, ok := x.(quantity.Length)
	b, also := y.(quantity.Length)
	return ok && also && a.Cmp(b) == 0
}
