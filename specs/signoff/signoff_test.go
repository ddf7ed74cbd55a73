package signoff

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
)

var today = survey.DateOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

func TestParseDate(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"", ""}, {"2026-11-20", "2026-11-20"}, {" 2026-11-20 ", "2026-11-20"}, {"2026/11/20", "2026-11-20"}, {"2026-1-2", "2026-01-02"},
		{"2026-11-20T00:00:00", "2026-11-20"}, {"2026-11-20 14:30", "2026-11-20"}, {"20261120", "2026-11-20"},
		{"20.11.2026", "2026-11-20"}, {"3.4.2026", "2026-04-03"}, {"20/11/2026", "2026-11-20"}, {"11/20/2026", "2026-11-20"}, {"4/4/2026", "2026-04-04"},
		{"20 Nov 2026", "2026-11-20"}, {"Nov 20, 2026", "2026-11-20"}, {"november 20 2026", "2026-11-20"}, {"20 November 2026", "2026-11-20"}, {"20-Nov-2026", "2026-11-20"},
		{"2028-02-29", "2028-02-29"},
		{"03/04/2026", "?"}, {"2026-02-29", "?"}, {"2026-13-01", "?"}, {"20.11.26", "?"}, {"11/26", "?"}, {"next week", "?"}, {"1889-01-01", "?"}, {"46085", "?"}, {"2026-11", "?"}, {"2026.11-20", "?"},
	} {
		got, err := ParseDate(tt.in)
		if err != nil {
			got = "?"
		}
		if got != tt.want {
			t.Errorf("%q: got %q (%v), want %q", tt.in, got, err, tt.want)
		}
	}
}

func TestPerson(t *testing.T) {
	for name, ok := range map[string]bool{
		"Pat Doe": true, "Al": true, "O'Neill": true, "李伟": true, "Bob": true, "J. Roe": true, "PAT DOE": true, "Jean-Luc": true, "Zoë": true,
		"": false, " ": false, "x": false, "J.D.": false, "JD": false, "P D": false, "12345": false, "--": false, "J D": false,
	} {
		if got := notAPerson(name) == ""; got != ok {
			t.Errorf("%q: got %v (%s), want %v", name, got, notAPerson(name), ok)
		}
	}
}

func TestNextRevision(t *testing.T) {
	rev := "A"
	var all []string
	for range 26*27 + 2 {
		next := NextRevision(rev)
		if CompareRevisions(rev, next) >= 0 {
			t.Fatalf("%s doesn't come before %s", rev, next)
		}
		all = append(all, next)
		rev = next
	}
	for i, want := range map[int]string{0: "B", 24: "Z", 25: "AA", 26: "AB", 51: "BA", 701: "AAA", 702: "AAB"} {
		if all[i] != want {
			t.Errorf("%d: got %s, want %s", i, all[i], want)
		}
	}
}

func item(id string, v check.Verdict, m Mark) Item {
	return Item{ID: id, Trade: check.Plumber, Title: "title of " + id, Verdict: v, Have: "have", Want: "want", Basis: Basis{Want: "want", Have: "have"}, Mark: m}
}

func book(rev string, items ...Item) Book {
	b := Book{Site: "The Crooked Spoon", Reference: "BW-0417", Machine: "avocet-r36", Revision: rev}
	for _, it := range items {
		if it.Work() {
			b.Items = append(b.Items, it)
		} else {
			b.Rest = append(b.Rest, it)
		}
	}
	return b
}

var signed = Mark{Status: "done", By: "Pat Doe", Company: "Example Plumbing", Licence: "P-0000", Date: "2026-11-20", Note: "tested"}

func TestJudge(t *testing.T) {
	missing := item("W-01", check.Missing, Mark{})
	missing.Asks, missing.Want = []string{"water.cold.flow"}, "flow"
	with := func(it Item, m Mark) Item { it.Mark = m; return it }
	change := func(m Mark, f func(*Mark)) Mark { f(&m); return m }
	twice := item("W-02", check.Fix, signed)
	twice.Others = []Mark{{Status: "open", By: "Sam Roe"}}
	lacking := item("W-02", check.Fix, signed)
	lacking.Blank = []string{"Note"}
	for _, tt := range []struct {
		name   string
		it     Item
		state  State
		blocks bool
		fault  string
	}{
		{"untouched", item("W-02", check.Fix, Mark{}), IsOpen, true, ""},
		{"untouched, to confirm", item("W-02", check.Confirm, Mark{}), IsOpen, false, ""},
		{"in progress", item("W-02", check.Fix, Mark{Status: "In  Progress", Due: "2026-12-01"}), IsInProgress, true, ""},
		{"signed", item("W-02", check.Fix, signed), IsSigned, false, ""},
		{"signed today", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Date = "2026-11-25" })), IsSigned, false, ""},
		{"signed tomorrow", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Date = "2026-11-26" })), IsOpen, true, "lies after 2026-11-25"},
		{"no name", item("W-02", check.Fix, change(signed, func(m *Mark) { m.By = "" })), IsOpen, true, "nobody's name"},
		{"initials", item("W-02", check.Fix, change(signed, func(m *Mark) { m.By = "PD" })), IsOpen, true, "doesn't name a person"},
		{"no date", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Date = "" })), IsOpen, true, "no date"},
		{"bad date", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Date = "03/04/2026" })), IsOpen, true, "may be two dates"},
		{"own word for a status", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Status = "fixed!" })), IsOpen, true, "is not a status"},
		{"signed without a status", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Status = "" })), IsOpen, true, "the status says open"},
		{"not needed blocks all the same", item("W-02", check.Fix, change(signed, func(m *Mark) { m.Status = "not needed" })), IsNotNeeded, true, ""},
		{"not needed, to confirm", item("W-02", check.Confirm, change(signed, func(m *Mark) { m.Status = "not needed" })), IsNotNeeded, false, ""},
		{"not needed, no reason", item("W-02", check.Confirm, change(signed, func(m *Mark) { m.Status, m.Note = "not needed", "" })), IsOpen, false, "doesn't say why"},
		{"missing without the reading", with(missing, signed), IsOpen, true, "the reading isn't given"},
		{"missing with the reading", with(missing, change(signed, func(m *Mark) { m.Reading = "4 gpm" })), IsSigned, false, ""},
		{"missing, a reading without its unit", with(missing, change(signed, func(m *Mark) { m.Reading = "4" })), IsOpen, true, "the reading can't be used: \"4\" has no unit"},
		{"missing, a reading of another kind", with(missing, change(signed, func(m *Mark) { m.Reading = "4 V" })), IsOpen, true, "is a voltage, not a flow"},
		{"missing, still unknown", with(missing, change(signed, func(m *Mark) { m.Reading = "Unknown" })), IsOpen, true, "\"Unknown\" is no reading"},
		{"too many readings", with(missing, change(signed, func(m *Mark) { m.Reading = "4 gpm; 5 gpm" })), IsOpen, true, "1 reading is asked for, 2 readings given"},
		{"the sheet is silent, a note answers", item("W-02", check.Missing, signed), IsSigned, false, ""},
		{"the sheet is silent, no note", item("W-02", check.Missing, change(signed, func(m *Mark) { m.Note = "" })), IsOpen, true, "write it in the note"},
		{"two rows", twice, IsOpen, true, "also written, in another row or copy"},
		{"a column is gone", lacking, IsOpen, true, "isn't found"},
		{"bad due", item("W-02", check.Fix, Mark{Status: "in progress", Due: "soon"}), IsInProgress, true, "due:"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := Judge(book("A", tt.it), today)
			j := p.Items[0]
			if j.State != tt.state || j.Blocks != tt.blocks || tt.fault == "" && len(j.Faults) > 0 || !strings.Contains(strings.Join(j.Faults, "\n"), tt.fault) {
				t.Errorf("got %s, blocks %v, %q; want %s, %v, %q", j.State, j.Blocks, j.Faults, tt.state, tt.blocks, tt.fault)
			}
			if p.Total[tt.state] != 1 || p.Counts[check.Plumber][tt.state] != 1 {
				t.Errorf("counts: %v %v", p.Total, p.Counts)
			}
		})
	}
	// A reading that two items ask for is written once.
	other := missing
	other.ID = "W-03"
	p := Judge(book("A", with(missing, change(signed, func(m *Mark) { m.Reading = "4 gpm" })), with(other, signed)), today)
	if p.Total[IsSigned] != 2 {
		t.Errorf("got %v", p.Total)
	}
}

func TestCarry(t *testing.T) {
	inProgress := Mark{Status: "in progress", Due: "2026-12-01", Note: "ordered"}
	planned := func(id, set string) Item {
		it := item(id, check.Fix, Mark{})
		it.Basis.Plan = []Answer{{"power.breaker", set}}
		return it
	}
	limited := func(id, place string) Item {
		it := item(id, check.Fix, Mark{})
		it.Basis.Limit = place
		return it
	}
	old := book("A", item("W-01", check.Fix, signed), item("W-02", check.Fix, signed), item("W-03", check.Fix, signed), item("W-04", check.Fix, inProgress),
		item("W-05", check.Missing, signed), item("W-06", check.Fix, Mark{}), item("W-08", check.Fix, signed), planned("W-09", "40 A"), item("W-10", check.OK, Mark{}), limited("W-11", "machines/a.yaml"))
	old.Item("W-09").Mark, old.Item("W-11").Mark = Mark{Status: "finished", By: "Pat Doe"}, signed
	old.Sum = "sum of A"
	now := func(id string, v check.Verdict, have, want string) Item {
		it := item(id, v, Mark{})
		it.Have, it.Want, it.Basis = have, want, Basis{Have: have, Want: want}
		return it
	}
	next := book("B", now("W-01", check.Fix, "have", "want"), now("W-02", check.Fix, "other", "want"), now("W-03", check.OK, "other", "want"),
		now("W-04", check.Fix, "have", "other"), now("W-05", check.Fix, "have", "want"), now("W-06", check.Fix, "other", "want"), now("W-07", check.Fix, "have", "want"), now("W-08", check.Fix, "have", "other"), planned("W-09", "45 A"), now("W-10", check.Fix, "have", "want"), limited("W-11", "machines/b.yaml"))
	got := Carry(old, next)
	for id, want := range map[string]Mark{"W-01": signed, "W-02": signed, "W-04": inProgress, "W-05": {}, "W-06": {}, "W-07": {}, "W-08": {}, "W-09": {}, "W-10": {}, "W-11": {}} {
		if it := got.Item(id); it.Mark != want || it.Issued != want {
			t.Errorf("%s: got %+v, want %+v", id, it.Mark, want)
		}
	}
	type kept struct {
		id, rev, change string
		o               Outcome
		m               Mark
	}
	var all []kept
	for _, e := range got.Earlier {
		all = append(all, kept{e.ID, e.Revision, e.Change, e.Outcome, e.Mark})
	}
	want := []kept{
		{"W-03", "A", "FIX became OK; found was have, is now other", Closed, signed},
		{"W-05", "A", "MISSING became FIX", Reopened, signed},
		{"W-08", "A", "required was want, is now other", Reopened, signed},
		{"W-09", "A", "planned breaker or fuse rating was 40 A, is now 45 A", Reopened, Mark{Status: "finished", By: "Pat Doe"}},
		{"W-11", "A", "the limit's place was machines/a.yaml, is now machines/b.yaml", Reopened, signed},
	}
	if !reflect.DeepEqual(all, want) {
		t.Errorf("got\n%v\nwant\n%v", all, want)
	}
	states := map[string]State{}
	for _, j := range Judge(got, today).Items {
		states[j.ID] = j.State
	}
	for id, s := range map[string]State{"W-01": IsSigned, "W-02": IsSigned, "W-04": IsInProgress, "W-05": IsReopened, "W-06": IsOpen, "W-07": IsOpen, "W-09": IsReopened} {
		if states[id] != s {
			t.Errorf("%s: got %s, want %s", id, states[id], s)
		}
	}
	if len(old.Items[1].Mark.Status) == 0 || next.Items[0].Mark != (Mark{}) {
		t.Error("Carry changed what it was given")
	}
	// A second time, everything that was kept is kept, once.
	if again := Carry(got, got); !reflect.DeepEqual(again.Earlier, got.Earlier) {
		t.Errorf("carried again: %v", again.Earlier)
	}
}

func TestCarryByHand(t *testing.T) {
	issued := func(id string, m Mark) Item {
		it := item(id, check.Fix, m)
		it.Issued = signed
		return it
	}
	longer := signed
	longer.By = "Pat Doering" // holds "Pat Doe" as letters, but it is another name
	gone := issued("W-01", Mark{})
	gone.Gone = true
	more := signed
	more.Note += ", twice"
	twice := issued("W-04", signed)
	twice.Others = []Mark{{Status: "open", Note: "not so"}}
	old := book("A", gone, issued("W-02", Mark{Status: "open"}), issued("W-03", more), twice, issued("W-05", longer))
	got := Carry(old, book("A", item("W-01", check.Fix, Mark{}), item("W-02", check.Fix, Mark{}), item("W-03", check.Fix, Mark{}), item("W-04", check.Fix, Mark{}), item("W-05", check.Fix, Mark{})))
	var outcomes []string
	for _, e := range got.Earlier {
		outcomes = append(outcomes, e.ID+" "+string(e.Outcome)+" "+e.Mark.Note)
	}
	want := []string{"W-01 row deleted by hand tested", "W-02 changed by hand tested", "W-04 two rows disagree tested", "W-04 two rows disagree not so", "W-05 changed by hand tested"}
	if !slices.Equal(outcomes, want) {
		t.Errorf("got %q, want %q", outcomes, want)
	}
	if got.Item("W-03").Mark != more {
		t.Errorf("got %v", got.Item("W-03").Mark)
	}
}

func TestMergeAndLate(t *testing.T) {
	a := book("A", item("W-01", check.Fix, signed), item("W-02", check.Fix, Mark{}), item("W-03", check.Fix, signed))
	b := book("A", item("W-01", check.Fix, Mark{}), item("W-02", check.Fix, signed), item("W-03", check.Fix, Mark{Status: "in progress"}))
	a.Sum, b.Sum = "a", "b"
	b.Loose = []Loose{{Revision: "A", Text: "a note"}}
	m := Merge(a, b)
	if m.Item("W-01").Mark != signed || m.Item("W-02").Mark != signed || len(m.Item("W-03").Others) != 1 || len(m.Loose) != 1 || !slices.Contains(m.Absorbed, "b") {
		t.Errorf("got %+v", m)
	}
	// What still says what it was issued with gives way, whichever comes first.
	issued := func(m, was Mark) Book { it := item("W-01", check.Fix, m); it.Issued = was; return book("A", it) }
	inProgress := Mark{Status: "in progress", Note: "ordered"}
	for _, pair := range [][2]Book{{issued(signed, inProgress), issued(inProgress, inProgress)}, {issued(inProgress, inProgress), issued(signed, inProgress)}} {
		m := Merge(pair[0], pair[1])
		if it := m.Item("W-01"); it.Mark != signed || len(it.Others) > 0 {
			t.Errorf("got %+v", it)
		}
	}
	next := Carry(a, book("B", item("W-01", check.Fix, Mark{}), item("W-02", check.Fix, Mark{}), item("W-03", check.Fix, Mark{})))
	if ids := next.Late(a); ids != nil {
		t.Errorf("what was carried over is late: %v", ids)
	}
	if ids := next.Late(b); !slices.Equal(ids, []string{"W-02", ""}) {
		t.Errorf("got %v", ids)
	}
	if ids := next.Late(b); ids != nil {
		t.Errorf("a second time: %v", ids)
	}
	if e := next.Earlier[0]; e.Outcome != TooLate || e.ID != "W-02" || e.Mark != signed {
		t.Errorf("got %+v", e)
	}
}

func TestReadings(t *testing.T) {
	it := item("W-01", check.Missing, Mark{By: "Pat Doe", Date: "2026-11-20"})
	it.Asks = []string{"water.cold.flow", "water.cold.static_pressure"}
	for _, tt := range []struct{ in, want string }{
		{"", ""}, {"4 gpm; 62 psi", "water.cold.flow=4 gpm|water.cold.static_pressure=62 psi"}, {"?; 62 psi", "water.cold.static_pressure=62 psi"},
		{"water.cold.static_pressure = 62 psi", "water.cold.static_pressure=62 psi"}, {"4 gpm\n62 psi", "water.cold.flow=4 gpm|water.cold.static_pressure=62 psi"},
		{"4 gpm", "error"}, {"water.hot.flow = 4 gpm; 3", "error"},
	} {
		it.Mark.Reading = tt.in
		rs, err := it.Readings()
		var parts []string
		for _, r := range rs {
			parts = append(parts, r.Path+"="+r.Value)
		}
		got := strings.Join(parts, "|")
		if err != nil {
			got = "error"
		}
		if got != tt.want {
			t.Errorf("%q: got %q (%v), want %q", tt.in, got, err, tt.want)
		}
	}
}

func TestDiff(t *testing.T) {
	a := book("A", item("W-01", check.Fix, Mark{}), item("W-02", check.OK, Mark{}), item("W-03", check.Fix, signed))
	b := book("B", item("W-01", check.Fix, signed), item("W-02", check.Fix, Mark{}), item("W-04", check.OK, Mark{}))
	b.Items[0].Basis.Have, b.Items[0].Have = "other", "other"
	var got []string
	for _, d := range Diff(a, b) {
		got = append(got, d.ID+" "+d.What+": "+d.Before+" -> "+d.After)
	}
	want := []string{"W-01 found: have -> other", "W-01 status: open -> done", "W-01 done by:  -> Pat Doe", "W-01 company:  -> Example Plumbing", "W-01 license:  -> P-0000",
		"W-01 date:  -> 2026-11-20", "W-01 note:  -> tested", "W-02 verdict: OK -> FIX", "W-02 status:  -> open", "W-04 check:  -> title of W-04", "W-03 check: title of W-03 -> "}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if ds := Diff(b, b); len(ds) > 0 {
		t.Errorf("a book differs from itself: %v", ds)
	}
}

// TestPrint holds fingerprints independent of units and date, and dependent on answers.
func TestPrint(t *testing.T) {
	text := "survey: 1\nsite: {name: A, surveyed_on: 2026-11-02, delivery_on: 2026-12-14}\nmachine: {key: avocet-r36}\ndrain: {receptor: none, run_length: 30 ft}\nwater: {cold: {static_pressure: 12 psi}}\n"
	books := func(text string, o check.Options) Book {
		s, problems := survey.Load("site.yaml", []byte(text))
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		m, err := specs.Builtin().Machine("avocet-r36")
		if err != nil {
			t.Fatal(err)
		}
		r := rules.Judge(s, m, o).Report(false)
		return New(r, Base(r), plainly, nil)
	}
	us := books(text, check.Options{Today: today})
	if len(us.Items) < 5 {
		t.Fatalf("%d items", len(us.Items))
	}
	later := books(text, check.Options{Today: survey.DateOf(today.Time().AddDate(0, 3, 0))})
	for _, it := range us.Items {
		if late := later.Item(it.ID); it.Basis.Want != late.Basis.Want || it.Basis.Have != late.Basis.Have {
			t.Errorf("%s: %+v, %+v", it.ID, it.Basis, late.Basis)
		}
	}
	if !us.SameFindings(later) {
		t.Error("the same answers on another day count as other findings")
	}
	other := books(strings.Replace(text, "12 psi", "14 psi", 1), check.Options{Today: today})
	if us.SameFindings(other) {
		t.Error("another reading counts as the same")
	}
}

// plainly words a finding without a wording table.
func plainly(f *check.Finding) Words {
	return Words{Title: f.ID, Have: f.Have.Key(), Want: f.Want.Key(), Action: f.Action.Name}
}

// TestMarkWith adds what another mark says, and never writes over a word.
func TestMarkWith(t *testing.T) {
	done := Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20"}
	for _, tt := range []struct {
		name      string
		was, says Mark
		want      Mark
		ok        bool
	}{
		{"onto a blank row", Mark{}, done, done, true},
		{"the same again", done, done, done, true},
		{"a note more", done, Mark{Note: "ordered"}, Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20", Note: "ordered"}, true},
		{"open gives way", Mark{Status: "open", Note: "ordered"}, done, Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20", Note: "ordered"}, true},
		{"the status in other letters", done, Mark{Status: " Done"}, done, true},
		{"another name", done, Mark{By: "Sam Roe"}, done, false},
		{"another status", done, Mark{Status: "in progress"}, done, false},
		{"another date", done, Mark{Date: "2026-11-21"}, done, false},
	} {
		got, ok := tt.was.With(tt.says)
		if ok != tt.ok || got != tt.want {
			t.Errorf("%s: got %+v, %v", tt.name, got, ok)
		}
	}
}
