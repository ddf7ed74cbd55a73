package workbook

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var today = survey.DateOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

// check is a check of our own for hand-made findings.
func checkOf(id string, t check.Trade) *check.Check {
	return &check.Check{ID: id, Trade: t, Stage: check.RoughIn}
}

func finding(id string, t check.Trade, v check.Verdict, have, want string) *check.Finding {
	f := &check.Finding{Check: checkOf(id, t), Outcome: check.Outcome{Verdict: v, Have: check.FactOf(check.Quote(have)), Want: check.FactOf(check.Quote(want)), Margin: check.NoMargin}}
	if v < check.OK {
		f.Action = check.Say("value", "value", check.Quote("put "+id+" right"))
	}
	if v == check.Missing {
		f.At = []survey.Ref{survey.Ask.Water.Cold.Static}
	}
	f.Working = []check.Step{{Symbol: "I", Meaning: check.Quote("current of " + id), Value: check.Quote("16 A")}}
	return f
}

// report is a hand-made report of every trade and verdict.
func report(t testing.TB, fs ...*check.Finding) *words.Report {
	t.Helper()
	s, problems := survey.Load("site.yaml", []byte("survey: 1\nsite: {name: The Crooked Spoon, reference: BW-0417, delivery_on: 2026-12-14}\nmachine: {key: avocet-r36}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine("avocet-r36")
	if err != nil {
		t.Fatal(err)
	}
	r := &check.Report{Survey: s, Machine: m, Today: today, Counts: map[check.Verdict]int{}, Findings: fs}
	for _, f := range fs {
		r.Counts[f.Verdict]++
	}
	return words.Tells(r, quantity.US)
}

func mixed(t testing.TB) *words.Report {
	return report(t,
		finding("E-01", check.Electrician, check.Fix, "15 A", "at least 20 A"),
		finding("E-02", check.Electrician, check.Confirm, "203 V", "at least 202 V"),
		finding("E-03", check.Electrician, check.OK, "yes", "yes"),
		finding("W-01", check.Plumber, check.Missing, "not answered", "static pressure"),
		finding("W-02", check.Plumber, check.Fix, "12 psi", "at least 20 psi"),
		finding("D-01", check.Plumber, check.NA, "no drain pump", ""),
		finding("S-01", check.Builder, check.Fix, "24 in", "at least 25 in"),
		finding("C-01", check.Owner, check.Confirm, "not said", "data sheets"),
		finding("R-01", check.Supplier, check.OK, "23 days", "at most 60 days"))
}

func build(t testing.TB, r *words.Report, b *signoff.Book) []byte {
	t.Helper()
	data, err := Build(r, Options{Paper: "letter", Book: b})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func read(t testing.TB, data []byte) (signoff.Book, []signoff.Notice) {
	t.Helper()
	b, ns, err := Read("book.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	return b, ns
}

// edit opens a workbook, lets f change it and saves it.
func edit(t testing.TB, data []byte, change func(f *excelize.File)) []byte {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	change(f)
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// at is the cell of an item's column, found as a person would.
func at(t testing.TB, f *excelize.File, sheet, id, name string) string {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	col, idCol := 0, 0
	for i, row := range rows {
		for j, v := range row {
			if v == name {
				col = j + 1
			}
			if v == "ID" {
				idCol = j
			}
		}
		if idCol < len(row) && row[idCol] == id && col > 0 {
			return cells.At(col, i+1)
		}
	}
	t.Fatalf("%s: no cell for %s %s", sheet, id, name)
	return ""
}

func set(t testing.TB, f *excelize.File, sheet, id, name string, v any) {
	t.Helper()
	if err := f.SetCellValue(sheet, at(t, f, sheet, id, name), v); err != nil {
		t.Fatal(err)
	}
}

// site evaluates one of the repository's sites.
func site(t testing.TB, name string, set map[string]string) *words.Report {
	t.Helper()
	file := filepath.Join("..", "..", "testdata", "sites", name+".yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := survey.Load(name+".yaml", data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if err := s.Apply(set); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine(s.Machine.Key)
	if err != nil {
		t.Fatal(err)
	}
	return words.Tells(rules.Judge(s, m, check.Options{Today: today}).Report(true), quantity.US)
}

func bookOf(r *words.Report) signoff.Book { return newBook(r) }

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("set LOOK to a folder to write workbooks to look at")
	}
	for _, name := range []string{"block_missing", "block_power"} {
		r := site(t, name, nil)
		b := bookOf(r)
		if err := os.WriteFile(filepath.Join(dir, name+".xlsx"), build(t, r, &b), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	r := site(t, "block_power", nil)
	b := bookOf(r)
	for i := range b.Items {
		if i%2 == 0 {
			b.Items[i].Mark = signoff.Mark{Status: "done", By: "Pat Doe", Company: "Example Electric", Licence: "E-0000", Date: "2026-11-20", Note: "fitted and tested"}
		} else {
			b.Items[i].Mark = signoff.Mark{Status: "in progress", Due: "2026-12-01"}
		}
	}
	next := b
	next.Items = append([]signoff.Item{}, b.Items...)
	for i := range next.Items {
		next.Items[i].Mark = signoff.Mark{}
		if i%4 == 0 {
			next.Items[i].Basis.Have = "something else"
			next.Items[i].Have = "something else"
		}
	}
	next.Revision = "B"
	b.Loose = append(b.Loose, signoff.Loose{Revision: "A", Where: "Electrician!R7", ID: "E-03", Text: "called, no answer"})
	c := signoff.Carry(b, next)
	if err := os.WriteFile(filepath.Join(dir, "carried.xlsx"), build(t, r, &c), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestRoundTrip(t *testing.T) {
	r := mixed(t)
	data := build(t, r, nil)
	b, ns := read(t, data)
	if len(ns) > 0 {
		t.Errorf("an untouched workbook gives notices: %v", ns)
	}
	if len(b.Items) != 6 || len(b.Rest) != 3 || b.Touched() {
		t.Fatalf("got %d items, %d others, touched %v", len(b.Items), len(b.Rest), b.Touched())
	}
	want := map[string]signoff.Mark{
		"E-01": {Status: "done", By: "Pat Doe", Company: "Example Electric", Licence: "=E-0000", Date: "2026-11-20", Note: "+1 breaker\n@panel -new"},
		"W-01": {Status: "in progress", Due: "2026-12-01", Reading: "62 psi"},
		"S-01": {Status: "not needed", By: "李伟", Date: "next week", Note: "_x0041_ stays, ½ in, 𝄞 too"},
	}
	data = edit(t, data, func(f *excelize.File) {
		for id, m := range want {
			it := b.Item(id)
			for _, name := range signoff.Columns {
				v := *m.Field(name)
				if v == "" {
					continue
				}
				if name == "Date" && v[0] == '2' || name == "Due" {
					n, _ := serial(v)
					set(t, f, tradeSheet(it.Trade), id, name, n)
					continue
				}
				set(t, f, tradeSheet(it.Trade), id, name, cells.Escape(v))
			}
		}
	})
	b, ns = read(t, data)
	for id, m := range want {
		if got := b.Item(id).Mark; got != m {
			t.Errorf("%s: got %+v, want %+v", id, got, m)
		}
	}
	if len(ns) > 0 {
		t.Errorf("unexpected notices: %v", ns)
	}
	// Written out again and read again, every word is there.
	next := signoff.Carry(b, newBook(r))
	again, ns := read(t, build(t, r, &next))
	for id, m := range want {
		if got := again.Item(id).Mark; got != m {
			t.Errorf("written again, %s: got %+v, want %+v", id, got, m)
		}
	}
	if len(ns) > 0 || len(again.Loose) > 0 {
		t.Errorf("written again: %v %v", ns, again.Loose)
	}
}

func TestSameBytes(t *testing.T) {
	first := build(t, mixed(t), nil)
	for range 10 {
		if !bytes.Equal(first, build(t, mixed(t), nil)) {
			t.Fatal("the same report gives other bytes")
		}
	}
}

// TestCached compares what is written into formula cells with what the formulas give.
func TestCached(t *testing.T) {
	r := mixed(t)
	b := newBook(r)
	b.Items[0].Mark = signoff.Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20"}
	b.Items[1].Mark = signoff.Mark{Status: "done", By: "P", Date: "2026-11-20"}
	b.Items[2].Mark = signoff.Mark{Status: "in progress", Due: "2026-12-03"}
	b.Items[3].Mark = signoff.Mark{Status: "open", Due: "2026-12-01"}
	b.Items[4].Mark = signoff.Mark{Status: "not needed", By: "Pat Doe", Date: "soon"}
	data := build(t, r, &b)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n := 0
	for _, sheet := range []string{sheetSummary, sheetAll} {
		for row := 1; row < 60; row++ {
			for col := 1; col < 15; col++ {
				at := cells.At(col, row)
				formula, err := f.GetCellFormula(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				if formula == "" || strings.Contains(formula, "TODAY()") {
					continue
				}
				n++
				got, err := f.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatal(err)
				}
				want, err := f.CalcCellValue(sheet, at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Errorf("%s!%s: %s: %v", sheet, at, formula, err)
				}
				x, errX := strconv.ParseFloat(got, 64)
				y, errY := strconv.ParseFloat(want, 64)
				if got != want && (errX != nil || errY != nil || math.Abs(x-y) > 1e-9) {
					t.Errorf("%s!%s: got %q, the formula gives %q: %s", sheet, at, got, want, formula)
				}
			}
		}
	}
	if n < 80 {
		t.Errorf("only %d formulas were compared", n)
	}
	if v, _ := f.GetCellValue(sheetSummary, "A4"); v != "Not ready: 3 of 6 items still block the first fill." {
		t.Errorf("got %q", v)
	}
}

// newBook is the book of a report, nothing signed, based on the report itself.
func newBook(r *words.Report) signoff.Book {
	return signoff.New(r.Report, r.Report, Words(r), nil)
}
