package board

import (
	"bytes"
	model "firstfill/specs/board"
	"flag"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/terminal"
	"firstfill/render/words"
	"firstfill/render/workbook"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity"
)

var update = flag.Bool("update", false, "rewrite what tests compare against")

func day(text string) survey.Date {
	var d survey.Date
	if err := d.UnmarshalText([]byte(text)); err != nil {
		panic(err)
	}
	return d
}

var today = day("2026-11-25")

// siteText reads a site of the repository, with other text in places.
func siteText(t testing.TB, from string, pairs ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sites", from+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("%s doesn't hold %q", from, pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// packet makes the sign-off workbook of a questionnaire. sign writes into it
// what people would.
func packet(t testing.TB, yaml, revision, date string, sign func(*signoff.Book)) []byte {
	t.Helper()
	s, problems := survey.Load("site.yaml", []byte(yaml))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine(s.Machine.Key)
	if err != nil {
		t.Fatal(err)
	}
	r := rules.Judge(s, m, check.Options{Today: day(date)}).Report(false)
	b := signoff.New(r, signoff.Base(r), Words(quantity.US)(r), nil)
	b.Revision = revision
	if sign != nil {
		sign(&b)
	}
	data, err := workbook.Build(words.Tells(r, quantity.US), workbook.Options{Book: &b})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// done signs items; no ids signs all, with a reading or note where one is needed.
func done(ids ...string) func(*signoff.Book) {
	return func(b *signoff.Book) {
		for i := range b.Items {
			if it := &b.Items[i]; len(ids) == 0 || slices.Contains(ids, it.ID) {
				it.Mark = signoff.Mark{Status: "done", By: "Pat Example", Company: "Example Trades", Date: "2026-11-20", Note: "as agreed"}
			}
		}
	}
}

// typed signs an item in a workbook as a person would, in its cells.
func typed(t testing.TB, book []byte, id string) []byte {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) < 3 || !slices.Contains(rows[2], "Done by") {
			continue
		}
		for i, row := range rows {
			if len(row) == 0 || row[0] != id {
				continue
			}
			for column, text := range map[string]string{"Status": "done", "Done by": "Pat Example", "Date": "2026-11-20"} {
				if err := f.SetCellStr(sheet, cells.At(1+slices.Index(rows[2], column), i+1), text); err != nil {
					t.Fatal(err)
				}
			}
			buf, err := f.WriteToBuffer()
			if err != nil {
				t.Fatal(err)
			}
			return buf.Bytes()
		}
	}
	t.Fatalf("there is no row %s", id)
	return nil
}

func collect(t testing.TB, fsys fs.FS) *model.Board {
	t.Helper()
	b, err := gather(fsys, model.Options{Folder: "sites", Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func file1(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

// only wants one row and returns it.
func only(t testing.TB, b *model.Board) model.Row {
	t.Helper()
	if len(b.Rows) != 1 {
		t.Fatalf("got %d rows, want 1: %+v", len(b.Rows), b.Rows)
	}
	return b.Rows[0]
}

func role(r model.Row, path string) string {
	for _, f := range r.Files {
		if f.Path == path {
			return f.Role
		}
	}
	return ""
}

func remarks(t testing.TB, r model.Row, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if !strings.Contains(strings.Join(r.Remarks, "\n"), text) {
			t.Errorf("%q isn't remarked; there are %q", text, r.Remarks)
		}
	}
}

// accounted wants every file of a folder in exactly one row or note, and nothing else there.
func accounted(t testing.TB, b *model.Board, want []string) {
	t.Helper()
	n := map[string]int{}
	for _, r := range b.Rows {
		for _, f := range r.Files {
			n[f.Path]++
		}
	}
	for _, note := range b.Notes {
		for _, f := range note.Files {
			n[f]++
		}
	}
	for _, f := range want {
		times := 1
		if stem, sheet := strings.CutSuffix(f, ".pdf"); sheet && slices.Contains(want, stem+"-signoff.xlsx") {
			times = 0 // a packet's sheet beside its workbook
		}
		if n[f] != times {
			t.Errorf("%s stands in %d rows and notes, want %d", f, n[f], times)
		}
		delete(n, f)
	}
	for f := range n {
		t.Errorf("%s isn't a file of the folder", f)
	}
}

// blocksOf is what the engine says of a site, without the board.
func blocksOf(t testing.TB, yaml string) (ids []string) {
	t.Helper()
	s, problems := survey.Load("site.yaml", []byte(yaml))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine(s.Machine.Key)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rules.Judge(s, m, check.Options{Today: today}).Report(false).Findings {
		if f.Verdict.Blocks() {
			ids = append(ids, f.ID)
		}
	}
	return ids
}

func TestQuestionnaireAlone(t *testing.T) {
	for _, name := range []string{"block_way", "block_missing", "pass_knot-c400"} {
		yaml := siteText(t, name)
		r := only(t, collect(t, fstest.MapFS{"a.yaml": file1(yaml)}))
		if got, want := blockingIDs(r), blocksOf(t, yaml); !slices.Equal(got, want) {
			t.Errorf("%s: got %v blocking, want %v", name, got, want)
		}
		remarks(t, r, "no packet issued")
		if r.Days != 19 || r.Delivery != day("2026-12-14") {
			t.Errorf("%s: got delivery %v in %d days, want 2026-12-14 in 19", name, r.Delivery, r.Days)
		}
		if r.Oldest == nil || r.Oldest.Since != day("2026-11-02") || r.Oldest.Days != 23 || r.Oldest.Basis != "surveyed" {
			t.Errorf("%s: got oldest %+v, want since 2026-11-02, surveyed, 23 days", name, r.Oldest)
		}
		n := model.Tally{}
		for _, trade := range check.Trades {
			n.Add(r.Trades[trade])
		}
		if n != r.Total || n.Open+n.Closed != len(r.Items) {
			t.Errorf("%s: trades add up to %+v, total is %+v of %d items", name, n, r.Total, len(r.Items))
		}
	}
}

func TestSigned(t *testing.T) {
	yaml := siteText(t, "block_way")
	all := blocksOf(t, yaml)
	tests := []struct {
		name    string
		sign    func(*signoff.Book)
		blocks  int
		ready   model.Readiness
		remarks string
	}{
		{"nothing", nil, len(all), model.Blocked, ""},
		{"one", done(all[0]), len(all) - 1, model.Blocked, ""},
		{"all that blocks", done(all...), 0, model.ToConfirm, ""},
		{"everything", done(), 0, model.Ready, ""},
		{"without a name", func(b *signoff.Book) {
			done()(b)
			b.Item(all[0]).Mark.By = ""
		}, 1, model.Blocked, all[0] + ": done, but nobody's name is given"},
		{"in the future", func(b *signoff.Book) {
			done()(b)
			b.Item(all[1]).Mark.Date = "2027-01-01"
		}, 1, model.Blocked, all[1] + ": done, but its date 2027-01-01 lies after 2026-11-25"},
		{"not needed", func(b *signoff.Book) {
			done()(b)
			b.Item(all[2]).Mark.Status = "not needed"
		}, 1, model.Blocked, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := only(t, collect(t, fstest.MapFS{"a.yaml": file1(yaml), "p/a-signoff.xlsx": {Data: packet(t, yaml, "A", "2026-11-10", tt.sign)}}))
			if r.Total.Blocks != tt.blocks || r.Readiness != tt.ready {
				t.Errorf("got %d blocking, %s; want %d, %s", r.Total.Blocks, r.Readiness, tt.blocks, tt.ready)
			}
			if tt.remarks != "" {
				remarks(t, r, tt.remarks)
			} else if len(r.Remarks) > 0 {
				t.Errorf("got remarks %q, want none", r.Remarks)
			}
			if role(r, "a.yaml") != model.RoleSurvey || role(r, "p/a-signoff.xlsx") != model.RoleBook {
				t.Errorf("got files %v", r.Files)
			}
		})
	}
}

// TestResurvey: a signature doesn't outlive the verdict that it was given for;
// another number that is still too small reopens nothing.
func TestResurvey(t *testing.T) {
	old := siteText(t, "block_way")
	now := siteText(t, "block_way", "opening_width: 35 in", "opening_width: unknown")
	worse := siteText(t, "block_way", "opening_width: 35 in", "opening_width: 33 in")
	wide := slices.Contains(blocksOf(t, old), "S-01")
	if !wide {
		t.Fatal("S-01 doesn't block the old answers")
	}
	book := packet(t, old, "A", "2026-11-10", done())
	r := only(t, collect(t, fstest.MapFS{"a.yaml": file1(now), "a-A-signoff.xlsx": {Data: book}}))
	remarks(t, r, "re-survey not issued: the answers aren't those of revision A, issued 2026-11-10")
	if got := blockingIDs(r); !slices.Equal(got, []string{"S-01"}) {
		t.Errorf("got %v blocking, want S-01 alone: only its answer changed", got)
	}
	if i := slices.IndexFunc(r.Items, func(it model.Item) bool { return it.ID == "S-01" }); r.Items[i].State != signoff.IsReopened {
		t.Errorf("S-01 is %s, want reopened", r.Items[i].State)
	}
	r = only(t, collect(t, fstest.MapFS{"a.yaml": file1(worse), "a-A-signoff.xlsx": {Data: book}}))
	if got := blockingIDs(r); len(got) != 0 {
		t.Errorf("got %v blocking, want none: what is required and planned is the same", got)
	}
}

// TestWorkbookAlone: what the workbook says counts when the questionnaire isn't
// there, or is the one behind an earlier revision.
func TestWorkbookAlone(t *testing.T) {
	old := siteText(t, "block_way")
	now := siteText(t, "block_way", "opening_width: 35 in", "opening_width: 40 in", "delivery_on: 2026-12-14", "delivery_on: 2026-12-01")
	a, b := packet(t, old, "A", "2026-11-05", nil), packet(t, now, "B", "2026-11-15", nil)
	r := only(t, collect(t, fstest.MapFS{"b.xlsx": {Data: b}}))
	remarks(t, r, "no questionnaire here")
	if r.Revision != "B" || r.Days != 6 || !slices.Equal(blockingIDs(r), blocksOf(t, now)) {
		t.Errorf("got revision %s, %d days, %v blocking", r.Revision, r.Days, blockingIDs(r))
	}
	r = only(t, collect(t, fstest.MapFS{"b.xlsx": {Data: b}, "a.xlsx": {Data: a}, "a.yaml": file1(old)}))
	remarks(t, r, "the questionnaire holds the answers of an earlier revision; the workbook of revision B counts")
	if r.Revision != "B" || role(r, "a.yaml") != model.RoleOld || role(r, "a.xlsx") != model.RoleOldBook || !slices.Equal(blockingIDs(r), blocksOf(t, now)) {
		t.Errorf("got revision %s, files %v, %v blocking", r.Revision, r.Files, blockingIDs(r))
	}
	// With the questionnaire of the latest revision there too, it counts, whatever revision the old one claims.
	old = strings.Replace(old, "revision: A", "revision: C", 1)
	r = only(t, collect(t, fstest.MapFS{"b.xlsx": {Data: b}, "a.xlsx": {Data: a}, "a.yaml": file1(old), "b.yaml": file1(now)}))
	if role(r, "b.yaml") != model.RoleSurvey || role(r, "a.yaml") != model.RoleOld || len(r.Remarks) > 0 {
		t.Errorf("got files %v, remarks %q", r.Files, r.Remarks)
	}
}

func TestAges(t *testing.T) {
	old := siteText(t, "block_way")
	now := siteText(t, "block_way", "opening_width: 35 in", "opening_width: unknown", "surveyed_on: 2026-11-02", "surveyed_on: 2026-11-12")
	carried := func(first []byte) func(*signoff.Book) {
		return func(b *signoff.Book) {
			was, _, err := workbook.Read("a.xlsx", first)
			if err != nil {
				t.Fatal(err)
			}
			rev := b.Revision
			*b = signoff.Carry(was, *b)
			b.Revision = rev
		}
	}
	a := packet(t, old, "A", "2026-11-05", nil)
	aSigned := packet(t, old, "A", "2026-11-05", done("S-01"))
	b := packet(t, now, "B", "2026-11-15", carried(a))
	bSigned := packet(t, now, "B", "2026-11-15", carried(aSigned))
	late := packet(t, old, "A", "2026-12-24", nil)
	future := strings.Replace(old, "surveyed_on: 2026-11-02", "surveyed_on: 2026-12-24", 1)
	undated := strings.Replace(old, "surveyed_on: 2026-11-02", "surveyed_on: unknown", 1)
	tests := []struct {
		name, id, since, basis string
		fsys                   fstest.MapFS
	}{
		{"survey alone", "S-01", "2026-11-02", "surveyed", fstest.MapFS{"a.yaml": file1(old)}},
		{"survey without a date", "S-01", "", "", fstest.MapFS{"a.yaml": file1(undated)}},
		{"survey in the future", "S-01", "", "", fstest.MapFS{"a.yaml": file1(future)}},
		{"one packet", "S-01", "2026-11-05", "issued with revision A", fstest.MapFS{"a.yaml": file1(old), "a.xlsx": {Data: a}}},
		{"a packet of the future", "S-01", "", "", fstest.MapFS{"a.yaml": file1(old), "a.xlsx": {Data: late}}},
		{"two packets", "S-02", "2026-11-05", "issued with revision A", fstest.MapFS{"b.yaml": file1(now), "a.xlsx": {Data: a}, "b.xlsx": {Data: b}}},
		{"the later of two packets", "S-02", "2026-11-15", "issued with revision B", fstest.MapFS{"b.yaml": file1(now), "b.xlsx": {Data: b}}},
		{"signed in between, then reopened", "S-01", "2026-11-15", "issued with revision B", fstest.MapFS{"b.yaml": file1(now), "a.xlsx": {Data: aSigned}, "b.xlsx": {Data: bSigned}}},
		{"signed in a copy that isn't here, then reopened", "S-01", "2026-11-15", "issued with revision B", fstest.MapFS{"b.yaml": file1(now), "a.xlsx": {Data: a}, "b.xlsx": {Data: bSigned}}},
		{"reopened by a survey that isn't issued", "S-01", "2026-11-12", "surveyed", fstest.MapFS{"b.yaml": file1(now), "a.xlsx": {Data: aSigned}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := only(t, collect(t, tt.fsys))
			i := slices.IndexFunc(r.Items, func(it model.Item) bool { return it.ID == tt.id })
			if i < 0 || !r.Items[i].Open {
				t.Fatalf("%s isn't open", tt.id)
			}
			if it := r.Items[i]; it.Since.String() != tt.since || it.Basis != tt.basis {
				t.Errorf("got since %q, %q; want %q, %q", it.Since, it.Basis, tt.since, tt.basis)
			}
		})
	}
}

func TestSeveralQuestionnaires(t *testing.T) {
	base := siteText(t, "block_way")
	other := siteText(t, "block_way", "opening_width: 35 in", "opening_width: 60 in")
	with := func(yaml string, pairs ...string) *fstest.MapFile {
		for i := 0; i < len(pairs); i += 2 {
			if !strings.Contains(yaml, pairs[i]) {
				t.Fatalf("%q isn't there", pairs[i])
			}
			yaml = strings.Replace(yaml, pairs[i], pairs[i+1], 1)
		}
		return file1(yaml)
	}
	if len(blocksOf(t, base)) <= len(blocksOf(t, other)) {
		t.Fatal("the wider opening doesn't block less")
	}
	tests := []struct {
		name    string
		fsys    fstest.MapFS
		counts  string
		other   map[string]string
		remarks []string
	}{
		{"later revision", fstest.MapFS{"1.yaml": with(base, "revision: A", "revision: B"), "2.yaml": file1(base)}, "1.yaml", map[string]string{"2.yaml": model.RoleSame}, nil},
		{"AA comes after Z", fstest.MapFS{"1.yaml": with(base, "revision: A", "revision: Z"), "2.yaml": with(other, "revision: A", "revision: AA")}, "2.yaml", map[string]string{"1.yaml": model.RoleOld}, nil},
		{"later survey", fstest.MapFS{"1.yaml": with(base, "surveyed_on: 2026-11-02", "surveyed_on: 2026-11-09"), "2.yaml": file1(other)}, "1.yaml", map[string]string{"2.yaml": model.RoleOld}, nil},
		{"copy in a folder", fstest.MapFS{"1.yaml": file1(base), "x/2.yaml": file1(base)}, "1.yaml", map[string]string{"x/2.yaml": model.RoleSame}, nil},
		{"two that can't be ordered", fstest.MapFS{"1.yaml": file1(other), "2.yaml": file1(base)}, "2.yaml", map[string]string{"1.yaml": model.RoleRival},
			[]string{"1.yaml and 2.yaml say different things of one survey; 2.yaml counts, because it leaves more to do"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := only(t, collect(t, tt.fsys))
			if got := role(r, tt.counts); got != model.RoleSurvey {
				t.Errorf("%s is %q, want it to count: %v", tt.counts, got, r.Files)
			}
			for f, want := range tt.other {
				if got := role(r, f); got != want {
					t.Errorf("%s is %q, want %q", f, got, want)
				}
			}
			remarks(t, r, tt.remarks...)
			if !strings.Contains(further(r), "also here: ") {
				t.Errorf("the other file isn't said: %q", further(r))
			}
		})
	}
}

func TestSeveralWorkbooks(t *testing.T) {
	yaml := siteText(t, "block_way")
	all := blocksOf(t, yaml)
	blank := packet(t, yaml, "A", "2026-11-10", nil)
	one, two := typed(t, blank, all[0]), typed(t, blank, all[1])

	t.Run("each trade sent its copy back", func(t *testing.T) {
		r := only(t, collect(t, fstest.MapFS{"a.yaml": file1(yaml), "1.xlsx": {Data: one}, "2.xlsx": {Data: two}}))
		if r.Total.Blocks != len(all)-2 || role(r, "1.xlsx") != model.RoleBook || role(r, "2.xlsx") != model.RoleCopy {
			t.Errorf("got %d blocking of %d, files %v, remarks %q", r.Total.Blocks, len(all), r.Files, r.Remarks)
		}
	})
	t.Run("the same file twice", func(t *testing.T) {
		r := only(t, collect(t, fstest.MapFS{"1.xlsx": {Data: one}, "2.xlsx": {Data: one}}))
		if r.Total.Blocks != len(all)-1 || role(r, "2.xlsx") != model.RoleAgain {
			t.Errorf("got %d blocking of %d, files %v", r.Total.Blocks, len(all), r.Files)
		}
	})
	t.Run("a copy that was taken in, and taken back since", func(t *testing.T) {
		first, _, err := workbook.Read("1.xlsx", one)
		if err != nil {
			t.Fatal(err)
		}
		next := packet(t, yaml, "A", "2026-11-11", func(b *signoff.Book) { b.Absorbed = []string{first.Sum} })
		r := only(t, collect(t, fstest.MapFS{"replaced/1.xlsx": {Data: one}, "a.xlsx": {Data: next}}))
		if r.Total.Blocks != len(all) || role(r, "replaced/1.xlsx") != model.RoleTaken || role(r, "a.xlsx") != model.RoleBook {
			t.Errorf("got %d blocking of %d, files %v", r.Total.Blocks, len(all), r.Files)
		}
	})
	t.Run("one revision, different answers", func(t *testing.T) {
		other := packet(t, siteText(t, "block_way", "opening_width: 35 in", "opening_width: 60 in"), "A", "2026-11-20", nil)
		r := only(t, collect(t, fstest.MapFS{"a.yaml": file1(yaml), "1.xlsx": {Data: one}, "2.xlsx": {Data: other}}))
		remarks(t, r, "1.xlsx and 2.xlsx are both of revision A, with different answers; the first counts")
		if role(r, "1.xlsx") != model.RoleBook || role(r, "2.xlsx") != model.RoleRivalBook {
			t.Errorf("got files %v", r.Files)
		}
		r = only(t, collect(t, fstest.MapFS{"1.xlsx": {Data: one}, "2.xlsx": {Data: other}}))
		if role(r, "2.xlsx") != model.RoleBook || role(r, "1.xlsx") != model.RoleRivalBook {
			t.Errorf("without a questionnaire the later counts; got files %v", r.Files)
		}
	})
	t.Run("written into the older revision", func(t *testing.T) {
		b := packet(t, siteText(t, "block_way", "opening_width: 35 in", "opening_width: 34 in"), "B", "2026-11-12", nil)
		r := only(t, collect(t, fstest.MapFS{"1.xlsx": {Data: one}, "b.xlsx": {Data: b}}))
		remarks(t, r, "written into revision A after revision B was issued, not counted: "+all[0]+" (1.xlsx)")
		if r.Revision != "B" || r.Total.Closed != 0 {
			t.Errorf("got revision %s, %d signed", r.Revision, r.Total.Closed)
		}
	})
}

func TestWhichSite(t *testing.T) {
	with := func(pairs ...string) *fstest.MapFile { return file1(siteText(t, "pass_avocet-r36", pairs...)) }
	ref, name := "reference: BW-0501", "name: The Lantern Room"
	tests := []struct {
		name string
		fsys fstest.MapFS
		rows int
		said string // on some row
	}{
		{"same reference, written otherwise", fstest.MapFS{"1.yaml": with(), "2.yaml": with(ref, "reference: bw-0501")}, 1, ""},
		{"same reference, other name", fstest.MapFS{"1.yaml": with(), "2.yaml": with(name, "name: Lantern Room")}, 1, "files with this reference name different sites: "},
		{"same name, other reference", fstest.MapFS{"1.yaml": with(), "2.yaml": with(ref, "reference: BW-9999")}, 2, ""},
		{"no reference, same name", fstest.MapFS{"1.yaml": with(), "2.yaml": with(ref, "reference: unknown", name, "name: the  LANTERN room")}, 1, ""},
		{"no reference, name of two sites", fstest.MapFS{"1.yaml": with(), "2.yaml": with(ref, "reference: BW-9999"), "3.yaml": with(ref, "reference: unknown")}, 3, "it has no reference, and 2 other sites have its name"},
		{"two without reference", fstest.MapFS{"1.yaml": with(ref, "reference: unknown"), "2.yaml": with(ref, "reference: unknown")}, 1, ""},
		{"another machine at the same place", fstest.MapFS{"1.yaml": with(), "2.yaml": file1(siteText(t, "pass_dunlin-u24", "reference: BW-0502", "reference: BW-0501"))}, 2, "the same site is on the board with another machine too: "},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := collect(t, tt.fsys)
			if len(b.Rows) != tt.rows {
				t.Errorf("got %d rows, want %d: %+v", len(b.Rows), tt.rows, b.Rows)
			}
			said := ""
			for _, r := range b.Rows {
				said += strings.Join(r.Remarks, "\n") + "\n"
			}
			if !strings.Contains(said, tt.said) {
				t.Errorf("%q isn't said: %s", tt.said, said)
			}
			accounted(t, b, mapNames(tt.fsys))
		})
	}
}

func mapNames(m fstest.MapFS) []string {
	var names []string
	for n := range m {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// A brokenFS fails on some names, as a disk or a share would.
type brokenFS struct {
	fstest.MapFS
	bad map[string]error
}

func (f brokenFS) Open(name string) (fs.File, error) {
	if err := f.bad[name]; err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return f.MapFS.Open(name)
}

// One answer that can't be read counts as not answered: the site is judged, and the row says so.
func TestFaultyAnswer(t *testing.T) {
	b := collect(t, fstest.MapFS{"x.yaml": file1(siteText(t, "pass_dunlin-u24", "line_to_line: ", "line_to_line: some "))})
	if len(b.Rows) != 1 || b.Rows[0].Readiness != model.Blocked || b.Rows[0].Error != "" {
		t.Fatalf("got %+v, want one blocked site", b.Rows)
	}
	if !slices.ContainsFunc(b.Rows[0].Remarks, func(r string) bool {
		return strings.HasPrefix(r, "1 answer can't be read: line ") && strings.Contains(r, "power.line_to_line: ")
	}) {
		t.Errorf("the row doesn't say which answer can't be read: %q", b.Rows[0].Remarks)
	}
}

func TestOddFiles(t *testing.T) {
	good := siteText(t, "pass_avocet-r36")
	boardFile, err := Workbook(collect(t, fstest.MapFS{"a.yaml": file1(good)}), "letter")
	if err != nil {
		t.Fatal(err)
	}
	book := packet(t, good, "A", "2026-11-10", nil)
	damaged := slices.Clone(book)
	copy(damaged[len(damaged)/3:], "damaged damaged damaged damaged damaged damaged")
	sheet, err := os.ReadFile(filepath.Join("..", "..", "testdata", "machines", "bar-rotary.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	form, err := forms.Write(survey.FormFor{Known: &survey.Survey{}})
	if err != nil {
		t.Fatal(err)
	}
	const row, note, bad = "row", "note", "fault"
	tests := []struct {
		name string
		file string
		at   *fstest.MapFile
		kind string
		said string
	}{
		{"no machine", "x.yml", file1("survey: 1\nsite: {name: The Bare Bar}\n"), row, "this answer is needed"},
		{"unknown machine", "x.json", file1(`{"survey": 1, "site": {"name": "The Bare Bar"}, "machine": {"key": "teal-9"}}`), row, `there is no machine "teal-9"`},
		{"unknown supply", "x.yaml", file1("survey: 1\nsite: {name: The Bare Bar}\nmachine: {key: avocet-r36, supply: 12 V}\n"), row, "machine.supply"},
		{"no version", "x.yaml", file1("site: {name: The Bare Bar}\nmachine: {key: avocet-r36}\n"), row, "survey: 1"},
		{"not text", "x.yaml", file1("\x00\x01\x02\xff"), row, ""},
		{"empty", "x.yaml", file1(""), row, "it is empty"},
		{"too big", "x.yaml", file1(strings.Repeat("#", 20<<20+1)), row, "bytes"},
		{"no workbook", "x.xlsx", file1("hello"), row, "it isn't an .xlsx workbook"},
		{"cut workbook", "x.xlsx", &fstest.MapFile{Data: book[:len(book)/2]}, row, ""},
		{"damaged workbook", "x.xlsx", &fstest.MapFile{Data: damaged}, row, ""},
		{"blank form", "x.xlsx", &fstest.MapFile{Data: form}, row, "this answer is needed"},
		{"board", "board.xlsx", &fstest.MapFile{Data: boardFile}, note, "a board"},
		{"requirement sheet", "machine.yaml", &fstest.MapFile{Data: sheet}, note, "it isn't a questionnaire"},
		{"report", "check.json", file1(`{"format": 1, "site": {"name": "x", "reference": ""}, "machine": "avocet-r36", "verdict": "FIX"}`), note, "it isn't a questionnaire"},
		{"other document", "x.yaml", file1("colours: [red, green]\n"), note, "it isn't a questionnaire"},
		{"other kind", "x.pdf", file1("%PDF"), note, "other kinds of file"},
		{"lock file", "~$x.xlsx", file1("x"), note, "somebody may have the workbook open"},
		{"hidden", ".x.yaml", file1("x"), note, "hidden"},
		{"pipe", "x.yaml", &fstest.MapFile{Mode: fs.ModeNamedPipe}, bad, "not a plain file"},
		{"link to nowhere", "x.yaml", &fstest.MapFile{Mode: fs.ModeSymlink, Data: []byte("nowhere.yaml")}, bad, "leads nowhere"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fsys := fstest.MapFS{"good.yaml": file1(good), tt.file: tt.at}
			b := collect(t, fsys)
			accounted(t, b, mapNames(fsys))
			got, said := "", ""
			for _, r := range b.Rows {
				if role(r, tt.file) != "" {
					got, said = row, r.Error
					if r.Readiness != model.Unreadable {
						t.Errorf("it is %s, want unreadable", r.Readiness)
					}
				}
			}
			for _, n := range b.Notes {
				if slices.Contains(n.Files, tt.file) {
					got, said = map[bool]string{true: bad, false: note}[n.Fault], n.Text
				}
			}
			if got != tt.kind || !strings.Contains(said, tt.said) || said == "" {
				t.Errorf("got %s %q, want %s with %q", got, said, tt.kind, tt.said)
			}
			if b.Blocks() != (tt.kind != note) {
				t.Errorf("blocks: got %v, want %v", b.Blocks(), tt.kind != note)
			}
			if b.Counts[model.ToConfirm]+b.Counts[model.Ready] != 1 {
				t.Errorf("the good site isn't on the board: %v", b.Counts)
			}
		})
	}
}

func TestLinkToFile(t *testing.T) {
	fsys := fstest.MapFS{"keep/a.yaml": file1(siteText(t, "pass_avocet-r36")), "b.yaml": {Mode: fs.ModeSymlink, Data: []byte("keep/a.yaml")}}
	r := only(t, collect(t, fsys))
	if len(r.Files) != 2 {
		t.Errorf("got files %v, want both", r.Files)
	}
}

func TestUnreadable(t *testing.T) {
	fsys := brokenFS{fstest.MapFS{"a.yaml": file1(siteText(t, "pass_avocet-r36")), "b.yaml": file1("x"), "shut/c.yaml": file1("x")},
		map[string]error{"b.yaml": fs.ErrPermission, "shut": fs.ErrPermission}}
	b := collect(t, fsys)
	accounted(t, b, []string{"a.yaml", "b.yaml", "shut"})
	if len(b.Notes) != 1 || !b.Notes[0].Fault || !strings.Contains(b.Notes[0].Text, "the folder can't be read: permission denied") {
		t.Errorf("got notes %+v", b.Notes)
	}
	if b.Rows[0].Error != "permission denied" || !b.Blocks() {
		t.Errorf("got %+v", b.Rows[0])
	}
	fsys.bad["."] = fs.ErrPermission
	if _, err := gather(fsys, model.Options{Today: today}); err == nil {
		t.Error("a folder that can't be read at all is no error")
	}
}

func TestLimits(t *testing.T) {
	many := fstest.MapFS{}
	for i := range model.MaxFiles + 1 {
		many[fmt.Sprintf("%05d.yaml", i)] = &fstest.MapFile{}
	}
	if _, err := gather(many, model.Options{Today: today}); err == nil || !strings.Contains(err.Error(), "it holds more than 5000 questionnaires") {
		t.Errorf("too many files: got %v", err)
	}
	deep := strings.Repeat("d/", model.MaxDepth+1) + "a.yaml"
	b := collect(t, fstest.MapFS{deep: file1(siteText(t, "pass_avocet-r36"))})
	if len(b.Rows) != 0 || !b.Blocks() || !strings.Contains(b.Notes[0].Text, "more than 40 folders deep") {
		t.Errorf("too deep: got %+v, %+v", b.Rows, b.Notes)
	}
	deep = strings.Repeat("d/", model.MaxDepth) + "a.yaml"
	only(t, collect(t, fstest.MapFS{deep: file1(siteText(t, "pass_avocet-r36"))}))
	if b := collect(t, fstest.MapFS{"a.txt": file1("x")}); len(b.Rows) != 0 || b.Blocks() {
		t.Errorf("a folder without sites: got %+v", b)
	}
}

func TestOrder(t *testing.T) {
	fsys := fstest.MapFS{
		"broken.yaml": file1("survey: 1\n"),
	}
	for i, s := range []struct{ from, delivery string }{
		{"block_way", "2026-12-14"}, {"block_power", "2026-11-20"}, {"block_water", "2026-11-25"}, {"block_drain", "unknown"}, {"block_iec", "2026-12-14"},
		{"pass_avocet-r36", "2026-11-26"}, {"pass_dunlin-u24", "2026-11-24"},
	} {
		fsys[fmt.Sprintf("%d.yaml", i)] = file1(siteText(t, s.from, "delivery_on: 2026-12-14", "delivery_on: "+s.delivery))
	}
	b := collect(t, fsys)
	var got []string
	for _, r := range b.Rows {
		got = append(got, r.Files[0].Path)
	}
	// model.Blocked by delivery, of one day the one with more that blocks first, no date last; then what can't be read; then the others.
	want := []string{"1.yaml", "2.yaml", "4.yaml", "0.yaml", "3.yaml", "broken.yaml", "6.yaml", "5.yaml"}
	if !slices.Equal(got, want) {
		t.Errorf("got order %v, want %v", got, want)
	}
	if b.Rows[0].Days != -5 || b.Rows[1].Days != 0 {
		t.Errorf("got %d and %d days, want -5 and 0", b.Rows[0].Days, b.Rows[1].Days)
	}
	if got, want := b.Outlook(), "Next delivery to a site that isn't ready: 2026-11-25, BW-0522 The Dry Well (today). 2 sites are not ready although the delivery date is past."; got != want {
		t.Errorf("got outlook %q, want %q", got, want)
	}
	if got, want := b.Sentence(), "7 sites: 5 blocked, 2 to confirm; 1 file can't be read."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFaults(t *testing.T) {
	way, power := siteText(t, "block_way"), siteText(t, "block_power")
	fsys := fstest.MapFS{"1.yaml": file1(way), "2.yaml": file1(siteText(t, "block_way", "reference: BW-0524", "reference: BW-9924")), "3.yaml": file1(power), "x.yaml": file1("survey: 1"),
		"1.xlsx": {Data: packet(t, way, "A", "2026-11-10", done())}}
	b := collect(t, fsys)
	found := map[string]int{}
	for _, f := range b.Faults {
		found[f.ID] = f.Found()
	}
	want := map[string]int{}
	for _, y := range []string{way, way, power} {
		for _, id := range blocksOf(t, y) {
			want[id]++
		}
	}
	for id, n := range want {
		if found[id] != n {
			t.Errorf("%s: got %d sites, want %d", id, found[id], n)
		}
	}
	i := slices.IndexFunc(b.Faults, func(f model.Fault) bool { return f.ID == "S-01" })
	if f := b.Faults[i]; f.Fix != 2 || f.Open != 1 || f.Title == "" {
		t.Errorf("got %+v, want FIX at 2 sites and open at 1, since one is signed", f)
	}
	if !slices.IsSortedFunc(frequent(b, check.Builder, 99), func(x, y model.Fault) int { return y.Found() - x.Found() }) {
		t.Errorf("the builder's faults aren't in order: %+v", b.Faults)
	}
}

// scenario is a folder for the goldens: one of everything that a weekly meeting meets.
func scenario(t testing.TB) fstest.MapFS {
	way := siteText(t, "block_way", "delivery_on: 2026-12-14", "delivery_on: 2026-12-01")
	power := siteText(t, "block_power")
	moved := siteText(t, "block_power", "run_length: ", "run_length: 1")
	water := siteText(t, "block_water", "delivery_on: 2026-12-14", "delivery_on: 2026-11-23")
	inProgress := func(b *signoff.Book) {
		done("S-01", "S-02", "S-03")(b)
		b.Item("S-05").Mark = signoff.Mark{Status: "in progress", By: "Pat Example", Due: "2026-11-28"}
		b.Item("S-06").Mark = signoff.Mark{Status: "done", Date: "2026-11-21"}
	}
	return fstest.MapFS{
		"north/bw-0524.yaml":                  file1(way),
		"north/packet/bw-0524-A-signoff.xlsx": {Data: packet(t, way, "A", "2026-11-10", inProgress)},
		"north/packet/bw-0524-A.pdf":          file1("%PDF-1.3"),
		"north/bw-0521.yaml":                  file1(moved),
		"north/packet/bw-0521-A-signoff.xlsx": {Data: packet(t, power, "A", "2026-11-12", done())},
		"south/bw-0522.yaml":                  file1(water),
		"south/bw-0522 first visit.yaml":      file1(siteText(t, "block_water", "surveyed_on: 2026-11-02", "surveyed_on: 2026-10-20")),
		"south/bw-0501.yaml":                  file1(siteText(t, "pass_avocet-r36")),
		"south/bw-0501-A-signoff.xlsx":        {Data: packet(t, siteText(t, "pass_avocet-r36"), "A", "2026-11-12", done())},
		"south/bw-0506-A-signoff.xlsx":        {Data: packet(t, siteText(t, "pass_knot-c400"), "A", "2026-11-12", nil)},
		"south/long.yaml":                     file1(siteText(t, "pass_turnstone-u50", "name: Bar Velmo", "name: The Annexe Bar of the Old Corn Exchange and Assembly Rooms, Lower Ground Floor, Exampleton-by-the-Sea")),
		"south/bare.yaml":                     file1("survey: 1\nsite: {name: The Bare Bar, reference: BW-0531}\nmachine: {key: teal-9}\n"),
		"south/empty.xlsx":                    {},
		"gone.yaml":                           {Mode: fs.ModeSymlink, Data: []byte("moved.yaml")},
		"prices.csv":                          file1("a,b\n"),
		"north/~$bw-0524-A-signoff.xlsx":      file1("x"),
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; run with -update", err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the difference\ngot:\n%s", file, got)
	}
}

// outputs makes every form of a board.
func outputs(t testing.TB, b *model.Board) map[string][]byte {
	t.Helper()
	var text, json, csv bytes.Buffer
	for _, err := range []error{WriteText(&text, b, TextOptions{}), WriteJSON(&json, b), WriteCSV(&csv, b)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	x, err := Workbook(b, "letter")
	if err != nil {
		t.Fatal(err)
	}
	p, _, err := PDF(b, "letter")
	if err != nil {
		t.Fatal(err)
	}
	return map[string][]byte{"board.txt": text.Bytes(), "board.json": json.Bytes(), "board.csv": csv.Bytes(), "board.xlsx": x, "board.pdf": p}
}

// TestGolden compares the text in full and the others where they are text.
// Files of the board are left for the eye when FIRSTFILL_SPECIMENS names a folder.
func TestGolden(t *testing.T) {
	fsys := scenario(t)
	b := collect(t, fsys)
	accounted(t, b, mapNames(fsys))
	out := outputs(t, b)
	golden(t, "board.txt", out["board.txt"])
	golden(t, "board.csv", out["board.csv"])
	for i, l := range strings.Split(string(out["board.txt"]), "\n") {
		if n := utf8.RuneCountInString(l); n > terminal.Width {
			t.Errorf("line %d has %d columns: %s", i+1, n, l)
		}
	}
	if dir := os.Getenv("FIRSTFILL_SPECIMENS"); dir != "" {
		for name, data := range out {
			if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestColour(t *testing.T) {
	b := collect(t, fstest.MapFS{"a.yaml": file1(siteText(t, "block_way"))})
	var plain, coloured bytes.Buffer
	if err := WriteText(&plain, b, TextOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := WriteText(&coloured, b, TextOptions{Color: true}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(plain.String(), "\x1b") || !strings.Contains(coloured.String(), "\x1b[1;31mBLOCKED (1)\x1b[0m") {
		t.Error("colour where none is wanted, or none where it is")
	}
}

// many makes n sites of every kind with every kind of odd file between them.
func many(t testing.TB, n int, seed uint64) fstest.MapFS {
	rnd := rand.New(rand.NewPCG(seed, 1))
	kinds := []string{"block_way", "block_power", "block_water", "block_drain", "block_iec", "block_missing", "pass_avocet-r36", "pass_dunlin-u24", "pass_godwit-c44", "pass_knot-c400", "pass_sanderling-u24p", "pass_turnstone-u50"}
	texts := map[string]string{}
	for _, k := range kinds {
		texts[k] = siteText(t, k)
	}
	fsys := fstest.MapFS{}
	books := map[string][]byte{}
	for i := range n {
		k := kinds[rnd.IntN(len(kinds))]
		text := renamed(texts[k], i, rnd)
		dir := fmt.Sprintf("area %d/%04d/", i%7, i)
		ref := fmt.Sprintf("BN-%04d", i)
		switch rnd.IntN(8) {
		case 0: // a packet, nothing signed
			fsys[dir+ref+"-A-signoff.xlsx"] = &fstest.MapFile{Data: cached(t, books, text, k, nil)}
		case 1: // two questionnaires
			fsys[dir+"again.yaml"] = file1(strings.Replace(text, "surveyed_on: 2026-11-02", "surveyed_on: 2026-10-02", 1))
		case 2: // broken
			text = strings.Replace(text, "site:", "site: [", 1)
		case 3:
			fsys[dir+"photo.jpg"] = file1("x")
		case 4:
			fsys[dir+"gone.yml"] = &fstest.MapFile{Mode: fs.ModeSymlink, Data: []byte("moved.yml")}
		}
		fsys[dir+"site.yaml"] = file1(text)
	}
	return fsys
}

func cached(t testing.TB, books map[string][]byte, text, kind string, sign func(*signoff.Book)) []byte {
	if books[kind] == nil {
		books[kind] = packet(t, text, "A", "2026-11-10", sign)
	}
	return books[kind]
}

// renamed gives a site another name, reference and delivery.
func renamed(text string, i int, rnd *rand.Rand) string {
	lines := strings.Split(text, "\n")
	named := false
	for j, l := range lines {
		switch {
		case strings.HasPrefix(l, "  name: ") && !named:
			named = true
			lines[j] = fmt.Sprintf("%s %d", l, i)
		case strings.HasPrefix(l, "  reference: "):
			lines[j] = fmt.Sprintf("  reference: BN-%04d", i)
		case strings.HasPrefix(l, "  delivery_on: "):
			lines[j] = "  delivery_on: " + today.Time().Add(time.Duration(rnd.IntN(90)-10)*24*time.Hour).Format(time.DateOnly)
		}
	}
	return strings.Join(lines, "\n")
}

// TestMany: every file is accounted for, the order is one of trouble, and
// neither the number of workers nor chance changes a byte.
func TestMany(t *testing.T) {
	sites := 120
	if testing.Short() {
		sites = 40
	}
	fsys := many(t, sites, 7)
	var first map[string][]byte
	for _, workers := range []int{1, 5} {
		told := map[string]int{}
		b, err := gather(fsys, model.Options{Folder: "sites", Today: today, Workers: workers, Progress: func(stage string, done, total int) {
			if told[stage]++; done != told[stage] || done > total {
				t.Errorf("progress: %s, %d of %d, told %d times", stage, done, total, told[stage])
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		accounted(t, b, mapNames(fsys))
		if told["files read"] < sites || told["sites checked"] != b.Sites() {
			t.Errorf("progress was told so often: %v; there are %d sites", told, b.Sites())
		}
		for i := 1; i < len(b.Rows); i++ {
			x, y := b.Rows[i-1], b.Rows[i]
			if p, q := slices.Index(model.Readinesses, x.Readiness), slices.Index(model.Readinesses, y.Readiness); p > q || p == q && x.Delivery.Known() && y.Delivery.Known() && x.Delivery.DaysUntil(y.Delivery) < 0 {
				t.Errorf("%s %s %v stands before %s %s %v", x.Readiness, x.Name(), x.Delivery, y.Readiness, y.Name(), y.Delivery)
			}
		}
		sum := 0
		for _, n := range b.Counts {
			sum += n
		}
		if sum != len(b.Rows) || b.Sites() < sites*2/3 {
			t.Errorf("counts add up to %d, there are %d rows, %d of them sites", sum, len(b.Rows), b.Sites())
		}
		out := outputs(t, b)
		if first == nil {
			first = out
			continue
		}
		for name, data := range out {
			if !bytes.Equal(data, first[name]) {
				t.Errorf("%s differs from run to run (%d workers)", name, workers)
			}
		}
	}
}

// BenchmarkBoard: a thousand questionnaires, one in eight with a packet.
func BenchmarkBoard(b *testing.B) {
	dir := b.TempDir()
	for name, f := range many(b, 1000, 3) {
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			b.Fatal(err)
		}
		if f.Mode&fs.ModeSymlink != 0 {
			continue
		}
		if err := os.WriteFile(file, f.Data, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	fsys := os.DirFS(dir)
	b.Run("collect", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			collect(b, fsys)
		}
	})
	board := collect(b, fsys)
	b.Run("workbook", func(b *testing.B) {
		for b.Loop() {
			if _, err := Workbook(board, "letter"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("pdf", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := PDF(board, "letter"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("text", func(b *testing.B) {
		for b.Loop() {
			if err := WriteText(&bytes.Buffer{}, board, TextOptions{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// gather is Collect with the decoders of this package.
func gather(fsys fs.FS, o model.Options) (*model.Board, error) {
	o.Decode, o.Words = Decode, Words(quantity.US)
	return model.Collect(fsys, o)
}
