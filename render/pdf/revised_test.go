package pdf

import (
	"slices"
	"strings"
	"testing"

	"firstfill/render/words"
	"firstfill/render/workbook"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/specs/signoff"
	"firstfill/survey/quantity"
)

// TestRevisionOnPaper prints revision B of the demo after the floor sink was
// measured again, 2 in higher: the fall's row has a bar and the old value struck
// before the new one, who signed what stands on the plumber's sheet, and the
// fall, for which a stand of 4 in was signed, reopened because it is 5-3/4 in now.
func TestRevisionOnPaper(t *testing.T) {
	list := sites(t)
	first := list[len(list)-1]
	settings, err := first.survey.Settings(map[string]string{"drain.rim_height": "6 in", "site.revision": "B"})
	if err != nil {
		t.Fatal(err)
	}
	again, _, err := first.survey.With(settings...)
	if err != nil {
		t.Fatal(err)
	}
	book := func(r *words.Report) signoff.Book {
		b := signoff.New(r.Report, signoff.Base(r.Report), workbook.Words(r), r.Plan.Planned())
		b.Show = workbook.Show(r)
		return b
	}
	before := book(first.report(quantity.US))
	signed := signoff.Mark{Status: "done", By: "Pat Doe", Company: "Example Plumbing", Date: "2026-11-20"}
	for _, id := range []string{"D-03", "W-26"} {
		it := before.Item(id)
		if it == nil {
			t.Fatalf("the demo has no item %s", id)
		}
		it.Mark = signed
	}
	r := words.Planned(plan.Find(rules.Judge(again, first.machine, check.Options{Today: today}), plan.Options{}), quantity.US)
	now := signoff.Carry(before, book(r))
	o := Options{Revision: "B", Before: &before, Now: &now}
	d, err := tradeDoc(r, check.Plumber, o)
	fit(t, "revision B", d, err)
	text := strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(textOf(d), "\n"), "\u00a0", " ")), " ")
	for _, want := range []string{
		"REVISION B", "Outlet 2-1/8 in too low Outlet 4-1/8 in too low",
		"Done, Pat Doe, Example Plumbing, 2026-11-20: W-26 check valve on the hot line",
		"D-03 gravity fall from outlet to receptor, revision A: done, Pat Doe, Example Plumbing, 2026-11-20; reopened:", "was 4 in, is now 5-3/4 in", "flood rim above finished floor was 4 in, is now 6 in",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("revision B doesn't say %q:\n%s", want, text)
		}
	}
	for _, raw := range []string{"drain.rim_height", "machine.raised_by"} {
		if strings.Contains(text, raw) {
			t.Errorf("revision B prints the path %s", raw)
		}
	}

	s := &sheets{r: r, o: o, to: words.Reader{Gauge: true}, now: changes(o.Before, o.Now)}
	rows, _ := s.lines(check.Plumber, check.DrainLine)
	for _, l := range rows {
		if got, want := l.changed(), slices.Contains(l.ids, "D-03"); got != want {
			t.Errorf("the row %q has a bar: %v, want %v", l.label, got, want)
		}
		if need := s.cells(l)[0]; need.Was != "" {
			t.Errorf("the row %q strikes %q, which is required still", l.label, need.Was)
		}
	}
	if len(rows) < 5 {
		t.Errorf("only %d rows of the drain line", len(rows))
	}

	// The first revision has neither.
	d, err = tradeDoc(first.report(quantity.US), check.Plumber, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(textOf(d), "\n"); strings.Contains(text, "Signed, and reopened") || strings.Contains(text, "2.13 in") {
		t.Error("revision A tells of an earlier one")
	}
}
