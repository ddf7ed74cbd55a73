package workbook

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// told says whether a notice holds a text.
func told(ns []signoff.Notice, text string) bool {
	return slices.ContainsFunc(ns, func(n signoff.Notice) bool { return strings.Contains(n.String(), text) })
}

func TestWhatPeopleDo(t *testing.T) {
	r := mixed(t)
	fresh := build(t, r, nil)
	signed := func(f *excelize.File, sheet, id string) {
		set(t, f, sheet, id, "Status", "done")
		set(t, f, sheet, id, "Done by", "Pat Doe")
		set(t, f, sheet, id, "Date", 46346) // 2026-11-20
	}
	want := signoff.Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20"}
	for _, tt := range []struct {
		name   string
		change func(f *excelize.File)
		notice string // expected, empty: none
		loose  string // expected among the kept notes
	}{
		{"nothing else", func(f *excelize.File) {}, "", ""},
		{"rows inserted above the table and within", func(f *excelize.File) {
			must(t, f.InsertRows("Electrician", 1, 2))
			must(t, f.InsertRows("Electrician", 6, 3))
		}, "", ""},
		{"own row without an id", func(f *excelize.File) {
			must(t, f.InsertRows("Electrician", 4, 1))
			must(t, f.SetCellStr("Electrician", "D4", "call the landlord"))
		}, "", "call the landlord"},
		{"column inserted and filled", func(f *excelize.File) {
			must(t, f.InsertCols("Electrician", "C", 1))
			must(t, f.SetCellStr("Electrician", "C3", "mine"))
			must(t, f.SetCellStr("Electrician", "C4", "beside"))
		}, "", "beside"},
		{"columns hidden, rows hidden, sheet renamed", func(f *excelize.File) {
			must(t, f.SetColVisible("Electrician", "A:G", false))
			must(t, f.SetRowVisible("Electrician", 4, false))
			must(t, f.SetSheetName("Electrician", "Example Electric"))
			must(t, f.SetSheetName("Summary", "Overview"))
		}, "", ""},
		{"locked column deleted", func(f *excelize.File) { must(t, f.RemoveCol("Electrician", "C")) }, "", ""},
		{"sign-off column deleted", func(f *excelize.File) { must(t, f.RemoveCol("Electrician", columnOf("Note"))) }, "columns not found on this sheet: note", ""},
		{"date as text", func(f *excelize.File) { set(t, f, "Electrician", "E-01", "Date", "20 Nov 2026") }, "", ""},
		{"id retyped", func(f *excelize.File) {
			must(t, f.SetCellStr("Electrician", at(t, f, "Electrician", "E-01", "ID"), " e\u201101 "))
		}, "", ""},
		{"row deleted", func(f *excelize.File) { must(t, f.RemoveRow("Plumber", 4)) }, "W-01: its row isn't there any more", ""},
		{"sheet deleted", func(f *excelize.File) { must(t, f.DeleteSheet("Builder")) }, "S-01: its row isn't there any more", ""},
		{"unknown id", func(f *excelize.File) {
			must(t, f.SetCellStr("Plumber", at(t, f, "Plumber", "W-01", "ID"), "W-77"))
		}, `there is no item "W-77"`, "W-77 | MISSING"},
		{"finding edited", func(f *excelize.File) { set(t, f, "Electrician", "E-01", "Found", "25 A, really") }, "found was edited by hand", `Found changed to "25 A, really"`},
		{"row copied as it is", func(f *excelize.File) { must(t, f.DuplicateRow("Electrician", 4)) }, "second row; it says nothing else", ""},
		{"row copied and changed", func(f *excelize.File) {
			must(t, f.DuplicateRow("Electrician", 4))
			must(t, f.SetCellStr("Electrician", columnOf("Done by")+"5", "Sam Roe"))
		}, "the item has a second row that says something else than Electrician!A4", ""},
		{"sheet of one's own", func(f *excelize.File) {
			_, err := f.NewSheet("My list")
			must(t, err)
			must(t, f.SetCellStr("My list", "B2", "order pipe"))
		}, "", "order pipe"},
		{"note on the summary", func(f *excelize.File) { must(t, f.SetCellStr("Summary", "L3", "Friday?")) }, "", "Friday?"},
		{"remark on a cell", func(f *excelize.File) {
			must(t, f.AddComment("Electrician", excelize.Comment{Cell: "D4", Author: "Sam", Paragraph: []excelize.RichTextRun{{Text: "which breaker?"}}}))
		}, "", "which breaker?"},
		{"formula never calculated", func(f *excelize.File) {
			must(t, f.SetCellFormula("Plumber", at(t, f, "Plumber", "W-02", "Date"), "TODAY()"))
		}, "a formula without a value stands under \"date\"", ""},
		{"heading lost", func(f *excelize.File) { must(t, f.SetCellStr("Builder", "A3", "No.")) }, "S-01: its row isn't there any more", "put S-01 right"},
		{"filtered", func(f *excelize.File) {
			must(t, f.AutoFilter("Electrician", "A3:P5", []excelize.AutoFilterOptions{{Column: "B", Expression: "x == FIX"}}))
		}, "", ""},
		{"far-off cell", func(f *excelize.File) { must(t, f.SetCellStr("Owner", "ZZ900", "far")) }, "what stands behind column KN isn't read", ""},
		{"1904 dates", func(f *excelize.File) {
			yes := true
			must(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
			set(t, f, "Electrician", "E-01", "Date", 46346-1462)
		}, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b, ns := read(t, edit(t, fresh, func(f *excelize.File) {
				signed(f, "Electrician", "E-01")
				tt.change(f)
			}))
			if got := b.Item("E-01").Mark; got != want {
				t.Errorf("got %+v, want %+v", got, want)
			}
			if tt.notice == "" && len(ns) > 0 || !told(ns, tt.notice) && tt.notice != "" {
				t.Errorf("got notices %v, want %q", ns, tt.notice)
			}
			var loose []string
			for _, l := range b.Loose {
				loose = append(loose, l.Text)
			}
			if tt.loose == "" && len(loose) > 0 || !strings.Contains(strings.Join(loose, "\n"), tt.loose) {
				t.Errorf("got notes %q, want %q", loose, tt.loose)
			}
			if len(b.Items) != 6 {
				t.Errorf("%d items", len(b.Items))
			}
		})
	}
}

// words are all words on the sheets that people see.
func wordsIn(t *testing.T, data []byte) map[string]bool {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	must(t, err)
	defer f.Close()
	found := map[string]bool{}
	for _, s := range f.GetSheetList() {
		if visible, err := f.GetSheetVisible(s); err != nil || !visible {
			continue
		}
		rows, err := f.GetRows(s, excelize.Options{RawCellValue: true})
		must(t, err)
		for _, row := range rows {
			for _, v := range row {
				for _, w := range strings.FieldsFunc(v, func(r rune) bool { return !(r >= '0' && r <= '9' || r >= 'a' && r <= 'z') }) {
					if strings.HasPrefix(w, "word") {
						found[w] = true
					}
				}
			}
		}
	}
	return found
}

// TestNothingLost edits, sorts, deletes and surveys again at random. Whatever
// stands in a workbook when a packet is issued from it must stand in every later one.
func TestNothingLost(t *testing.T) {
	runs, rounds := 8, 10
	if testing.Short() {
		runs = 3
	}
	edits, carried := 0, 0
	for seed := range runs {
		rng := rand.New(rand.NewPCG(uint64(seed), 7))
		state := map[string]*check.Finding{}
		ids := []string{"E-01", "E-02", "E-03", "W-01", "W-02", "W-03", "W-04", "S-01", "S-02", "C-01", "R-01"}
		resurvey := func() *words.Report {
			var fs []*check.Finding
			for _, id := range ids {
				f, ok := state[id]
				if !ok || rng.IntN(4) == 0 {
					trade := map[byte]check.Trade{'E': check.Electrician, 'W': check.Plumber, 'S': check.Builder, 'C': check.Owner, 'R': check.Supplier}[id[0]]
					f = finding(id, trade, check.Verdict(rng.IntN(5)), fmt.Sprint(rng.IntN(3), " psi"), fmt.Sprint(rng.IntN(3), " psi"))
					state[id] = f
				}
				if rng.IntN(12) > 0 {
					fs = append(fs, f)
				}
			}
			return report(t, fs...)
		}
		r := resurvey()
		book := newBook(r)
		data := build(t, r, &book)
		n := 0
		word := func() string { n++; return fmt.Sprintf("word%dx%d", seed, n) }
		all := map[string]bool{}
		for round := range rounds {
			var log []string
			data = edit(t, data, func(f *excelize.File) {
				for range 2 + rng.IntN(9) {
					edits++
					log = append(log, scribble(t, f, rng, word))
				}
			})
			maps.Copy(all, wordsIn(t, data))
			old, _ := read(t, data)
			before := maps.Clone(state)
			r = resurvey()
			next := newBook(r)
			next.Revision = old.Revision
			if !maps.EqualFunc(before, state, func(a, b *check.Finding) bool {
				return a.Have.Key() == b.Have.Key() && a.Want.Key() == b.Want.Key() && a.Verdict == b.Verdict
			}) {
				next.Revision = signoff.NextRevision(old.Revision)
			}
			next = signoff.Carry(old, next)
			data = build(t, r, &next)
			now := wordsIn(t, data)
			for w := range all {
				if !now[w] {
					t.Fatalf("seed %d, round %d: %s is lost after %v", seed, round, w, log)
				}
				carried++
			}
			// What is read back is what was written.
			again, ns := read(t, data)
			if len(ns) > 0 || len(again.Loose) != len(next.Loose) || len(again.Earlier) != len(next.Earlier) {
				t.Fatalf("seed %d, round %d: a fresh workbook gives %v, %d of %d notes, %d of %d earlier", seed, round, ns, len(again.Loose), len(next.Loose), len(again.Earlier), len(next.Earlier))
			}
		}
	}
	t.Logf("%d edits; words looked for %d times", edits, carried)
	if carried < 1000 && !testing.Short() {
		t.Errorf("only %d words were looked for", carried)
	}
}

// scribble makes one random edit, as people do, and says which.
func scribble(t *testing.T, f *excelize.File, rng *rand.Rand, word func() string) string {
	var sheets []string
	for _, s := range f.GetSheetList() {
		if v, err := f.GetCellValue(s, "A3"); err == nil && v != "" && s != sheetAll && s != sheetCalc && s != sheetEarlier && s != sheetLoose && s != sheetLists && s != sheetMeta && s != sheetSummary {
			sheets = append(sheets, s)
		}
	}
	if len(sheets) == 0 {
		must(t, f.SetCellStr(sheetSummary, fmt.Sprintf("N%d", 1+rng.IntN(9)), word()))
		return "summary"
	}
	sheet := sheets[rng.IntN(len(sheets))]
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	must(t, err)
	if len(rows) <= headRow {
		must(t, f.SetCellStr(sheet, fmt.Sprintf("T%d", 1+rng.IntN(9)), word()))
		return "empty sheet " + sheet
	}
	row := headRow + 1 + rng.IntN(len(rows)-headRow)
	heads := rows[headRow-1]
	col := func(name string) int { return slices.Index(heads, name) + 1 }
	put := func(c, r int, v any) {
		if c > 0 {
			must(t, f.SetCellValue(sheet, cells.At(c, r), v))
		}
	}
	swap := func(a, b func(i int) string, n int) {
		for i := 1; i <= n; i++ {
			x, err := f.GetCellValue(sheet, a(i), excelize.Options{RawCellValue: true})
			must(t, err)
			y, err := f.GetCellValue(sheet, b(i), excelize.Options{RawCellValue: true})
			must(t, err)
			must(t, f.SetCellStr(sheet, a(i), y))
			must(t, f.SetCellStr(sheet, b(i), x))
		}
	}
	switch k := rng.IntN(20); k {
	case 0, 1, 2, 3, 4, 5:
		name := []string{"Done by", "Company", "License", "Reading", "Note", "Date", "Due"}[rng.IntN(7)]
		put(col(name), row, word())
		return sheet + " type " + name
	case 6, 7, 8:
		put(col("Status"), row, []string{"done", "Done", "in progress", "open", "not needed", "finished"}[rng.IntN(6)])
		put(col("Done by"), row, "Pat "+word())
		put(col("Date"), row, []any{46346, "2026-11-20", "yesterday"}[rng.IntN(3)])
		return sheet + " sign"
	case 9:
		other := headRow + 1 + rng.IntN(len(rows)-headRow)
		if other != row {
			swap(func(i int) string { return cells.At(i, row) }, func(i int) string { return cells.At(i, other) }, len(heads)+4)
		}
		return sheet + " sort"
	case 10:
		a, b := 1+rng.IntN(len(heads)), 1+rng.IntN(len(heads))
		if a != b {
			swap(func(i int) string { return cells.At(a, headRow-1+i) }, func(i int) string { return cells.At(b, headRow-1+i) }, len(rows)-headRow+1)
		}
		return sheet + " move column"
	case 11:
		must(t, f.RemoveRow(sheet, row))
		return sheet + " delete row"
	case 12:
		must(t, f.InsertRows(sheet, row, 1))
		put(4, row, word())
		return sheet + " own row"
	case 13:
		put(len(heads)+1+rng.IntN(3), row, word())
		return sheet + " note beside"
	case 14:
		put(1+rng.IntN(5), len(rows)+3, word())
		return sheet + " note below"
	case 15:
		must(t, f.DuplicateRow(sheet, row))
		put(col("Note"), row+1, word())
		return sheet + " copied row"
	case 16:
		must(t, f.SetSheetName(sheet, word()))
		return sheet + " renamed"
	case 17:
		name := signoff.Columns[rng.IntN(len(signoff.Columns))]
		put(col(name), row, "")
		return sheet + " clear " + name
	case 18:
		put(col("ID"), row, word())
		return sheet + " id overwritten"
	default:
		s := word()
		_, err := f.NewSheet(s)
		must(t, err)
		must(t, f.SetCellStr(s, "C5", word()))
		return "own sheet"
	}
}

// repack changes one part of a workbook.
func repack(t testing.TB, data []byte, change func(name string, content []byte) []byte) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	must(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, e := range in.File {
		r, err := e.Open()
		must(t, err)
		var b bytes.Buffer
		_, err = b.ReadFrom(r)
		must(t, err)
		to, err := w.Create(e.Name)
		must(t, err)
		_, err = to.Write(change(e.Name, b.Bytes()))
		must(t, err)
	}
	must(t, w.Close())
	return out.Bytes()
}

func part(name string, f func(string) string) func(string, []byte) []byte {
	return func(n string, content []byte) []byte {
		if n != name {
			return content
		}
		return []byte(f(string(content)))
	}
}

func TestHostile(t *testing.T) {
	fresh := build(t, mixed(t), nil)
	foreign := excelize.NewFile()
	plain, err := foreign.WriteToBuffer()
	must(t, err)
	electrician := "xl/worksheets/sheet2.xml"
	for _, tt := range []struct {
		name string
		data []byte
		err  string // part of the error; empty: it is read, with a notice
		tell string
	}{
		{"empty", nil, "can't be read as an .xlsx workbook", ""},
		{"text", []byte("ID,Status\nE-01,done\n"), "can't be read as an .xlsx workbook", ""},
		{"cut off", fresh[:len(fresh)/2], "can't be read as an .xlsx workbook", ""},
		{"too big", make([]byte, MaxBytes+1), "at most", ""},
		{"another program's workbook", plain.Bytes(), "not a sign-off workbook", ""},
		{"unzips to 80 MB", repack(t, fresh, part(electrician, func(s string) string { return s + strings.Repeat(" ", 80<<20) })), "unzip size exceeds", ""},
		{"entity bomb", repack(t, fresh, part(electrician, func(s string) string {
			return `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>` + strings.Replace(s, "<sheetData>", "<sheetData>&b;", 1)
		})), "", "its row isn't there any more"},
		{"negative shared string", repack(t, fresh, part(electrician, func(s string) string { return strings.ReplaceAll(s, `t="s"><v>`, `t="s"><v>-`) })), "", "its row isn't there any more"},
		{"row number far out", repack(t, fresh, part(electrician, func(s string) string { return strings.Replace(s, `<row r="4"`, `<row r="99999999"`, 1) })), "", "?"},
		{"last cell of the sheet", edit(t, fresh, func(f *excelize.File) { must(t, f.SetCellStr("Electrician", "XFD1048576", "x")) }), "", "?"},
		{"hidden sheet edited", edit(t, fresh, func(f *excelize.File) { must(t, f.SetCellStr("Meta", "A4", "rest")) }), "damaged or was edited", ""},
		{"hidden sheet cut", edit(t, fresh, func(f *excelize.File) { must(t, f.RemoveRow("Meta", 3)) }), "damaged or was edited", ""},
		{"hidden sheet gone", edit(t, fresh, func(f *excelize.File) { must(t, f.DeleteSheet("Meta")) }), "its hidden sheet is gone", ""},
		{"of a later version", edit(t, fresh, func(f *excelize.File) { must(t, f.SetCellStr("Meta", "B1", "9")) }), "version \"9\"", ""},
		{"200 sheets", edit(t, fresh, func(f *excelize.File) {
			for i := range 200 {
				_, err := f.NewSheet(fmt.Sprint("s", i))
				must(t, err)
			}
		}), "at most 60 are read", ""},
		{"many rows", edit(t, fresh, func(f *excelize.File) {
			for i := range 7000 {
				must(t, f.SetCellInt("Owner", fmt.Sprintf("A%d", 10+i), int64(i)))
			}
		}), "", "isn't read"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			start := time.Now()
			b, ns, err := Read("x.xlsx", tt.data)
			if d := time.Since(start); d > 20*time.Second {
				t.Errorf("took %v", d)
			}
			switch {
			case tt.err != "":
				if err == nil || !strings.Contains(err.Error(), tt.err) || !strings.HasPrefix(err.Error(), "reading x.xlsx: ") {
					t.Errorf("got %v, want %q", err, tt.err)
				}
			case tt.tell == "?": // either is right, so long as it isn't silence
				if err == nil && len(ns) == 0 {
					t.Errorf("read without a word: %v", b.Items)
				}
			case err != nil || !told(ns, tt.tell):
				t.Errorf("got %v and %v, want %q", err, ns, tt.tell)
			}
		})
	}
	if _, _, err := Read("x.xlsx", plain.Bytes()); !errors.Is(err, ErrForeign) {
		t.Errorf("got %v", err)
	}
}

// TestDamaged flips bytes of a workbook: whatever comes of it, nothing panics and
// no sign-off is read that wasn't written.
func TestDamaged(t *testing.T) {
	data := build(t, mixed(t), nil)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 80 {
		bad := slices.Clone(data)
		for range 1 + rng.IntN(8) {
			bad[rng.IntN(len(bad))] = byte(rng.IntN(256))
		}
		b, _, err := Read("x.xlsx", bad)
		if err != nil {
			continue
		}
		for _, it := range b.Items {
			if it.Mark.Closes() && it.Mark.Status == "done" {
				t.Fatalf("%s is signed: %+v", it.ID, it.Mark)
			}
		}
	}
}

// FuzzRead reads a file of any bytes or, more telling, a workbook of ours in which any
// bytes stand where a trade's sheet was.
func FuzzRead(f *testing.F) {
	fresh := build(f, report(f, finding("E-01", check.Electrician, check.Fix, "15 A", "20 A")), nil)
	f.Add(true, []byte("PK\x03\x04"))
	f.Add(true, []byte(""))
	const start, end = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`, `</sheetData></worksheet>`
	text := func(at, s string) string { return `<c r="` + at + `" t="inlineStr"><is><t>` + s + `</t></is></c>` }
	head := `<row r="1">` + text("A1", "ID") + text("B1", "Status") + text("C1", "Done by") + text("D1", "Date") + text("E1", "Note") + `</row>`
	for _, rows := range []string{
		head + `<row r="2">` + text("A2", "E-01") + text("B2", "done") + text("C2", "Pat Doe") + `<c r="D2"><v>46346</v></c></row>`,
		head + `<row r="2">` + text("A2", "E-01") + `</row><row r="3">` + text("A3", "E-01") + text("B3", "open") + text("E3", "x") + `</row><row r="9">` + text("F9", "y") + `</row>`,
		head + `<row r="2">` + text("A2", "E-02") + `<c r="D2"><f>1+1</f></c></row>`, `<row r="5">` + text("Z5", "E-01") + `<c r="A5" t="s"><v>-1</v></c></row>`, "",
	} {
		f.Add(false, []byte(start+rows+end))
	}
	f.Fuzz(func(t *testing.T, raw bool, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		if !raw {
			sheet := data
			data = repack(t, fresh, part("xl/worksheets/sheet2.xml", func(string) string { return string(sheet) }))
		}
		start := time.Now()
		b, _, err := Read("x.xlsx", data)
		if d := time.Since(start); d > 10*time.Second {
			t.Fatalf("took %v", d)
		}
		if err != nil {
			return
		}
		if b.Revision != "A" || len(b.Items) != 1 || b.Items[0].ID != "E-01" || b.Items[0].Verdict != check.Fix {
			t.Fatalf("the hidden sheet holds revision A and E-01, got %+v", b)
		}
		// What was read can be carried, judged and written.
		next := signoff.Carry(b, b)
		signoff.Judge(next, today)
		if _, err := Build(report(t, finding("E-01", check.Electrician, check.Fix, "15 A", "20 A")), Options{Book: &next}); err != nil {
			t.Fatalf("what was read can't be written: %v", err)
		}
	})
}
