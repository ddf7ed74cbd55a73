package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"firstfill/specs/signoff"
)

// desk is a folder in which a test works as a user would.
type desk struct {
	*testing.T
	dir      string
	out, err bytes.Buffer
}

func newDesk(t *testing.T) *desk { return &desk{T: t, dir: t.TempDir()} }

func (d *desk) path(name string) string { return filepath.Join(d.dir, name) }

// run runs the command and wants an exit code.
func (d *desk) run(want int, args ...string) {
	d.Helper()
	d.out.Reset()
	d.err.Reset()
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "DIR", d.dir)
	}
	if got := run(args, strings.NewReader(""), &d.out, &d.err); got != want {
		if strings.Contains(d.err.String(), "laying out the sheets: not written yet") {
			d.Skip("the printed sheets aren't written yet")
		}
		d.Fatalf("%v: got exit code %d, want %d\n%s%s", args, got, want, d.out.String(), d.err.String())
	}
}

func (d *desk) says(b *bytes.Buffer, texts ...string) {
	d.Helper()
	for _, text := range texts {
		if !strings.Contains(b.String(), text) {
			d.Errorf("%q isn't said:\n%s", text, b.String())
		}
	}
}

// site writes a site of the repository into the folder, with other text in places.
func (d *desk) site(name, from string, pairs ...string) string {
	d.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sites", from+".yaml"))
	if err != nil {
		d.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			d.Fatalf("%s doesn't hold %q", from, pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	if err := os.WriteFile(d.path(name), []byte(text), 0o644); err != nil {
		d.Fatal(err)
	}
	return d.path(name)
}

// fill types into the sign-off cells of an item.
func (d *desk) fill(file, id string, cells ...string) {
	d.Helper()
	f, err := excelize.OpenFile(d.path(file))
	if err != nil {
		d.Fatal(err)
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			d.Fatal(err)
		}
		if len(rows) < 3 || !slices.Contains(rows[2], "Done by") {
			continue
		}
		for i, row := range rows {
			if len(row) == 0 || row[0] != id {
				continue
			}
			for k := 0; k < len(cells); k += 2 {
				at, err := excelize.CoordinatesToCellName(1+slices.Index(rows[2], cells[k]), i+1)
				if err != nil {
					d.Fatal(err)
				}
				if err := f.SetCellStr(sheet, at, cells[k+1]); err != nil {
					d.Fatal(err)
				}
			}
			if err := f.Save(); err != nil {
				d.Fatal(err)
			}
			return
		}
	}
	d.Fatalf("%s: there is no row %s", file, id)
}

func (d *desk) book(file string) signoff.Book {
	d.Helper()
	f, err := readBook(d.path(file))
	if err != nil {
		d.Fatal(err)
	}
	return f.Book
}

func (d *desk) files(dir string) []string {
	d.Helper()
	es, err := os.ReadDir(d.path(dir))
	if err != nil {
		d.Fatal(err)
	}
	var names []string
	for _, e := range es {
		names = append(names, e.Name())
	}
	return names
}

const on = "--date=2026-11-25"

// TestRevisions is the life of one site: survey, sign-offs, printing again, survey again.
func TestRevisions(t *testing.T) {
	d := newDesk(t)
	site := d.site("site.yaml", "block_power")
	d.run(0, "packet", site, "-o", "DIR/out", on)
	const a, b = "out/bw-0521-A-signoff.xlsx", "out/bw-0521-B-signoff.xlsx"
	if got := d.files("out"); !slices.Equal(got, []string{"bw-0521-A-calc.pdf", "bw-0521-A-signoff.xlsx", "bw-0521-A.pdf"}) {
		t.Fatalf("got %v", got)
	}
	first := d.book(a)
	if len(first.Items) < 5 {
		t.Fatalf("%d items", len(first.Items))
	}

	// The same answers again: refused, and nothing is touched.
	before, _ := os.ReadFile(d.path(a))
	d.run(2, "packet", site, "-o", "DIR/out", on)
	d.says(&d.err, "bw-0521-A-signoff.xlsx is there, with the same answers", "--replace")
	if after, _ := os.ReadFile(d.path(a)); !bytes.Equal(before, after) {
		t.Error("the workbook was touched")
	}
	// With --replace: the same revision, the same bytes, also in other units and on another day the same fingerprints.
	d.run(0, "packet", site, "-o", "DIR/out", on, "--replace")
	if after := d.book(a); after.Revision != "A" || slices.Contains(d.files("out"), "replaced") {
		t.Errorf("got revision %s, %v", after.Revision, d.files("out"))
	}

	// Sign-offs, then printed again in other units on a later day.
	signed := first.Items[0].ID
	other := first.Items[1].ID
	d.fill(a, signed, "Status", "done", "Done by", "Pat Doe", "Company", "Example Electric", "Date", "2026-11-20", "Note", "=2 spaces left")
	d.fill(a, other, "Status", "in progress", "Due", "2026-12-03")
	d.run(2, "packet", site, "-o", "DIR/out", on)
	d.run(0, "packet", site, "-o", "DIR/out", "--date=2026-11-28", "--units=si", "--replace")
	d.says(&d.err, "2 sign-offs carried over, 0 reopened, 0 closed by re-survey", "the replaced workbook is kept as")
	again := d.book(a)
	if m := again.Item(signed).Mark; m.By != "Pat Doe" || m.Note != "=2 spaces left" || m.Status != "done" {
		t.Errorf("got %+v", m)
	}
	if got := d.files("out/replaced"); len(got) != 1 {
		t.Errorf("got %v", got)
	}
	// Once more with nothing written since: the same bytes, and no further copy kept.
	before, _ = os.ReadFile(d.path(a))
	d.run(0, "packet", site, "-o", "DIR/out", "--date=2026-11-28", "--units=si", "--replace")
	if after, _ := os.ReadFile(d.path(a)); !bytes.Equal(before, after) || len(d.files("out/replaced")) != 1 {
		t.Errorf("an untouched workbook was rewritten otherwise; kept: %v", d.files("out/replaced"))
	}

	// Signed off is what signoff says, in every format.
	d.run(1, "signoff", d.path(a), on)
	d.says(&d.out, "BW-0521 The Blown Fuse, dunlin-u24, revision A", "signed", "Pat Doe, Example Electric, 2026-11-20", "in progress", "Next date: 2026-12-03.", "Not ready:")
	d.run(1, "signoff", d.path(a), on, "--format=json")
	var js struct {
		Format    int
		Workbooks []struct {
			Site   struct{ Revision string }
			Counts map[string]int
			Blocks int
			Items  []struct {
				ID, State string
				Blocks    bool
			}
		}
	}
	if err := json.Unmarshal(d.out.Bytes(), &js); err != nil || js.Format != 1 || len(js.Workbooks) != 1 || js.Workbooks[0].Counts["signed"] != 1 || js.Workbooks[0].Counts["in progress"] != 1 || js.Workbooks[0].Site.Revision != "A" {
		t.Errorf("got %+v, %v", js, err)
	}
	d.run(1, "signoff", d.path(a), on, "--format=csv")
	rows, err := csv.NewReader(&d.out).ReadAll()
	if err != nil || len(rows) != 1+len(first.Items) || rows[1][6] != signed || rows[1][18] != "'=2 spaces left" {
		t.Errorf("got %q, %v", rows, err)
	}
	// Before the signature's day it doesn't count.
	d.run(1, "signoff", d.path(a), "--date=2026-11-19")
	d.says(&d.out, "done, but its date 2026-11-20 lies after 2026-11-19")

	// A re-survey: the answer that the signed item rests on isn't known any more.
	data, err := os.ReadFile(site)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.NewReplacer("line_to_line: 241 V", "line_to_line: unknown", "surveyed_on: 2026-11-02", "surveyed_on: 2026-11-24").Replace(string(data))
	if changed == string(data) {
		t.Fatal("the site has other answers than this test")
	}
	if err := os.WriteFile(site, []byte(changed), 0o644); err != nil {
		t.Fatal(err)
	}
	d.run(0, "packet", site, "-o", "DIR/out", on)
	d.says(&d.err, "the questionnaire says revision A; revision A is there with other answers, so this is revision B", "revision B after A: ", "1 reopened")
	next := d.book(b)
	if next.Revision != "B" || !next.Item(signed).Mark.Empty() || next.Item(other).Mark.Due != "2026-12-03" {
		t.Errorf("got %+v", next.Item(signed))
	}
	if e := next.EarlierOf(signed); !strings.Contains(e, "Pat Doe") || !strings.Contains(e, "reopened: ") {
		t.Errorf("got %q", e)
	}
	d.run(1, "signoff", d.path(b), on)
	d.says(&d.out, "reopened", "earlier: revision A: done, Pat Doe")
	d.run(1, "signoff", d.path(a), on)
	d.says(&d.err, "is revision A; a later one is there")
	d.run(0, "signoff", "--diff", d.path(a), d.path(b))
	d.says(&d.out, "from revision A to B", signed, "done by: Pat Doe -> nothing")
	d.run(2, "signoff", "--diff", d.path(a))

	// Written into A too late: kept, not counted.
	d.fill(a, other, "Status", "done", "Done by", "Late Lee", "Date", "2026-11-24")
	d.run(0, "packet", site, "-o", "DIR/out", on, "--replace")
	d.says(&d.err, "written into revision A after revision B was issued, kept but not counted: "+other)
	if e := d.book(b).EarlierOf(other); !strings.Contains(e, "Late Lee") {
		t.Errorf("got %q", e)
	}
	d.run(0, "packet", site, "-o", "DIR/out", on, "--replace")
	if strings.Contains(d.err.String(), "after revision B was issued") {
		t.Errorf("said twice: %s", d.err.String())
	}
}

// TestCopies joins copies that trades sent back, and refuses what can't be read.
func TestCopies(t *testing.T) {
	d := newDesk(t)
	site := d.site("site.yaml", "block_power")
	d.run(0, "packet", site, "-o", "DIR/out", on)
	const a, theirs = "out/bw-0521-A-signoff.xlsx", "out/from the electrician.xlsx"
	data, err := os.ReadFile(d.path(a))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(d.path(theirs), data, 0o644); err != nil {
		t.Fatal(err)
	}
	items := d.book(a).Items
	d.fill(a, items[0].ID, "Status", "done", "Done by", "Pat Doe", "Date", "2026-11-20")
	d.fill(theirs, items[1].ID, "Status", "done", "Done by", "Sam Roe", "Date", "2026-11-21")
	d.run(0, "packet", site, "-o", "DIR/out", on, "--replace")
	if b := d.book(a); b.Items[0].Mark.By != "Pat Doe" || b.Items[1].Mark.By != "Sam Roe" {
		t.Errorf("got %+v", b.Items[:2])
	}
	// Their copy is taken in once: a later change here stands against it.
	d.fill(a, items[1].ID, "Done by", "Kim Poe")
	d.run(0, "packet", site, "-o", "DIR/out", on, "--replace")
	if b := d.book(a); b.Items[1].Mark.By != "Kim Poe" || !strings.Contains(b.EarlierOf(items[1].ID), "Sam Roe") {
		t.Errorf("got %+v, %v", b.Items[1].Mark, b.Earlier)
	}
	// A workbook of this name that can't be read stops everything.
	if err := os.WriteFile(d.path(a), []byte("spilled"), 0o644); err != nil {
		t.Fatal(err)
	}
	d.run(2, "packet", site, "-o", "DIR/out", on, "--replace")
	d.says(&d.err, "has the name of an earlier revision of this site, but can't be used")
	if data, _ := os.ReadFile(d.path(a)); string(data) != "spilled" {
		t.Error("the file was touched")
	}
}

// TestUpdate takes signed readings back into the questionnaire.
func TestUpdate(t *testing.T) {
	d := newDesk(t)
	site := d.site("site.yaml", "block_missing")
	d.run(0, "packet", site, "-o", "DIR/out", on)
	const a = "out/bw-0526-A-signoff.xlsx"
	var one, two, choice signoff.Item // items that ask for one answer each
	seen := map[string]bool{}
	for _, it := range d.book(a).Items {
		if len(it.Asks) != 1 || seen[it.Asks[0]] {
			continue
		}
		seen[it.Asks[0]] = true
		switch it.Asks[0] {
		case "drain.pipe_size":
			one = it
		case "power.frequency":
			two = it
		case "codes.electrical":
			choice = it
		}
	}
	if one.ID == "" || two.ID == "" || choice.ID == "" {
		t.Fatal("the site asks for other answers than this test")
	}
	sign := []string{"Status", "done", "Done by", "Pat Doe", "Company", "Example Plumbing", "Date", "2026-11-20"}
	// Done without the reading asks for it.
	d.fill(a, one.ID, sign...)
	d.run(1, "signoff", d.path(a), on)
	d.says(&d.out, "done, but the reading isn't given; write it in the reading column")
	// A reading that can't be read is refused at its cell, and nothing is written.
	d.fill(a, one.ID, "Reading", "quite big")
	before, _ := os.ReadFile(site)
	d.run(2, "signoff", d.path(a), "--update", site, on)
	d.says(&d.err, "bw-0526-A-signoff.xlsx:Plumber!N", "drain.pipe_size: ", "quite big")
	// An unsigned one is left.
	d.fill(a, one.ID, "Reading", "1-1/2 in")
	d.fill(a, choice.ID, append(slices.Clone(sign), "Reading", "nec-2023")...)
	d.fill(a, two.ID, "Reading", "60 Hz")
	if after, _ := os.ReadFile(site); !bytes.Equal(before, after) {
		t.Error("the questionnaire was touched")
	}
	d.run(0, "signoff", d.path(a), "--update", site, on)
	d.says(&d.err, "the reading isn't signed, so it is not taken: \"60 Hz\"", "2 readings taken back")
	after, _ := os.ReadFile(site)
	x, y := strings.Split(string(before), "\n"), strings.Split(string(after), "\n")
	if len(x) != len(y) {
		t.Fatalf("%d lines became %d", len(x), len(y))
	}
	var lines []string
	for i := range x {
		if x[i] != y[i] {
			lines = append(lines, strings.TrimSpace(y[i]))
		}
	}
	want := []string{
		`electrical: {value: nec-2023, source: "sign-off ` + choice.ID + `, revision A, Pat Doe, Example Plumbing, 2026-11-20"}`,
		`pipe_size: {value: 1-1/2 in, source: "sign-off ` + one.ID + `, revision A, Pat Doe, Example Plumbing, 2026-11-20"}`,
	}
	if !slices.Equal(lines, want) {
		t.Errorf("got %q, want %q", lines, want)
	}
	// Again: nothing to do. Against an answer that has changed since: refused.
	d.run(0, "signoff", d.path(a), "--update", site, on)
	d.says(&d.out, "No reading to take back.")
	d.fill(a, one.ID, "Reading", "2 in")
	d.run(2, "signoff", d.path(a), "--update", site, on)
	d.says(&d.err, "was written against nothing, but the questionnaire now says")
	// Another site's questionnaire.
	d.run(2, "signoff", d.path(a), "--update", d.site("other.yaml", "block_power"), on)
	d.says(&d.err, "is of BW-0526 The Half Told Tale")
	d.run(2, "signoff", d.path(a), "--update", d.path(a), on)
	d.says(&d.err, ".yaml or .json")
	// The next revision: the answered items are closed by re-survey or judged anew.
	d.run(0, "packet", site, "-o", "DIR/out", on)
	b := d.book("out/bw-0526-B-signoff.xlsx")
	if e := b.EarlierOf(choice.ID); !strings.Contains(e, "Pat Doe") {
		t.Errorf("got %q", e)
	}
}

// TestWriteAll holds "all files or none".
func TestWriteAll(t *testing.T) {
	d := newDesk(t)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.WriteFile(d.path("b"), []byte("theirs"), 0o644))
	p := &issue{}
	if err := p.write(d.dir, []product{{"a", []byte("1")}, {"b", []byte("2")}}); err == nil {
		t.Error("an existing file was overwritten")
	}
	if got := d.files("."); !slices.Equal(got, []string{"b"}) {
		t.Errorf("got %v", got)
	}
	// The second can't be renamed: the first is taken back.
	must(os.MkdirAll(d.path("c/x"), 0o755))
	p.Replace = true
	if err := p.write(d.dir, []product{{"b", []byte("ours")}, {"c", []byte("2")}}); err == nil {
		t.Error("a folder was overwritten")
	}
	if data, _ := os.ReadFile(d.path("b")); string(data) != "theirs" {
		t.Errorf("got %q", data)
	}
	if got := d.files("."); !slices.Equal(got, []string{"b", "c"}) {
		t.Errorf("got %v", got)
	}
}

// TestSignoffFaults names files that can't be read.
func TestSignoffFaults(t *testing.T) {
	d := newDesk(t)
	d.run(2, "signoff", "DIR/nowhere.xlsx")
	d.says(&d.err, "there is no such file")
	if err := os.WriteFile(d.path("x.xlsx"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	d.run(2, "signoff", "DIR/x.xlsx")
	d.says(&d.err, "can't be read as an .xlsx workbook")
}
