package plan_test

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"firstfill/render/words"
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
			case r.Mark == plan.Read: // see TestLimitsOfUnread
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
			if r.Need.Zero() && r.Mark != plan.Read {
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

// TestLimitsOfUnread gives the limit of an answer that isn't read where it is
// known without it: the sheet's own range, and the table's length for the
// trap's size (IPC Table 909.1: 2 in, 8 ft; 3 in, 12 ft). A limit that hangs on
// the answer itself is left open.
func TestLimitsOfUnread(t *testing.T) {
	p := plan.Find(judge(t, sites(t)["demo"]), plan.Options{})
	want := map[string]bool{"W-22": true, "D-14": true}
	for _, r := range rowsOf(p) {
		if r.Mark != plan.Read {
			continue
		}
		if !want[r.Check.ID] || r.Need.Zero() {
			t.Errorf("the row of %s, which isn't read, needs %+v", r.Check.ID, r.Need)
		}
		delete(want, r.Check.ID)
		if r.Check.ID == "D-14" {
			if text := (words.Reader{Gauge: true}).Fact(r.Need); !strings.Contains(text, "12 ft") {
				t.Errorf("D-14 needs %q, want 12 ft of a 3 in trap", text)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("no rows for %v", want)
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

// TestPlaceMark: the demo's back door takes the machine without its crate only,
// the bar door takes it crated, and a door narrower than the machine stays open.
func TestPlaceMark(t *testing.T) {
	demo := sites(t)["demo"]
	for _, tt := range []struct {
		set  map[string]string
		want []string
	}{
		{nil, []string{"change", "keep", "keep"}},
		{map[string]string{"space.path[2].clear_width": "20 in"}, []string{"change", "keep", "open"}},
	} {
		s := demo.Clone()
		if err := s.Apply(tt.set); err != nil {
			t.Fatal(err)
		}
		p := plan.Find(judge(t, s), plan.Options{})
		if tt.set != nil { // the door stays as it is
			built := p.Built.Survey.Clone()
			built.Space.Path[2].Width = s.Space.Path[2].Width
			p.Built = judge(t, built)
		}
		for i, want := range tt.want {
			got := "open"
			if mark, ok := p.PlaceMark([]string{"S-05"}, i); ok {
				got = map[plan.Mark]string{plan.Keep: "keep", plan.Change: "change"}[mark]
			}
			if got != want && s.Space.Path[i].Kind == "door" {
				t.Errorf("%v: place %d, %s: got %s, want %s", tt.set, i, s.Space.Path[i].Name, got, want)
			}
		}
	}
}

func TestStricter(t *testing.T) {
	hot, warm := check.Fact{Value: quantity.MustParse[quantity.Temperature]("212 °F"), Bound: check.AtMost}, check.Fact{Value: quantity.MustParse[quantity.Temperature]("60 °C"), Bound: check.AtMost}
	high, low := check.Fact{Value: quantity.MustParse[quantity.Length]("4 in"), Bound: check.AtLeast}, check.Fact{Value: quantity.MustParse[quantity.Length]("50 mm"), Bound: check.AtLeast}
	for _, tt := range []struct {
		a, b       check.Fact
		second, ok bool
	}{
		{hot, warm, true, true}, {warm, hot, false, true}, {hot, hot, false, true},
		{high, low, false, true}, {low, high, true, true},
		{hot, high, false, false}, {check.Fact{}, hot, false, false},
		{check.Fact{Value: hot.Value}, warm, false, false}, // a value and a limit
	} {
		if second, ok := plan.Stricter(tt.a, tt.b); second != tt.second || ok != tt.ok {
			t.Errorf("%v, %v: got %v, %v", tt.a.Value, tt.b.Value, second, ok)
		}
	}
}
