package board

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	model "firstfill/specs/board"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/survey"
)

// hostile is a site whose text a spreadsheet program might run or a printer stumble over.
const hostile = `=HYPERLINK("x","y") 🍸 _x0041_`

func hostileFS(t testing.TB) fstest.MapFS {
	return fstest.MapFS{
		"-cmd.yaml": file1(siteText(t, "block_way", "name: The Narrow Stair", "name: '"+hostile+"'", "reference: BW-0524", `reference: "+1"`)),
		"@bad.yaml": file1("survey: 1\nsite: {name: \"@x\"}\n"),
	}
}

func TestCSVGuards(t *testing.T) {
	fsys := scenario(t)
	for n, f := range hostileFS(t) {
		fsys[n] = f
	}
	b := collect(t, fsys)
	var buf bytes.Buffer
	if err := WriteCSV(&buf, b); err != nil {
		t.Fatal(err)
	}
	recs, err := csv.NewReader(&buf).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(recs) != 1+len(b.Rows)+len(b.Notes) {
		t.Errorf("got %d lines, want one for each of %d rows and %d notes and the head", len(recs), len(b.Rows), len(b.Notes))
	}
	days := slices.Index(columns, "days")
	seen := false
	for _, rec := range recs {
		for i, s := range rec {
			if i != days && s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
				t.Errorf("column %s holds %q, which a spreadsheet program may run", columns[i], s)
			}
			seen = seen || s == "'"+hostile
		}
	}
	if !seen {
		t.Error("the hostile name isn't there")
	}
	if recs[1][days] != "-2" {
		t.Errorf("got %q days, want the number -2", recs[1][days])
	}
}

func TestJSON(t *testing.T) {
	b := collect(t, scenario(t))
	var buf bytes.Buffer
	if err := WriteJSON(&buf, b); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Format int
		Date   string
		Counts map[string]int
		Sites  []struct {
			Readiness, Reference string
			Days                 *int
			Blocking             []string
			Counts               struct{ Open, Blocks, Closed int }
			Trades               map[string]struct{ Open int }
			Items                []struct {
				ID, Verdict, State string
				Blocks             bool
			}
			Files []struct{ Path, Role string }
		}
		Notes []struct{ Fault bool }
	}
	if err := json.Unmarshal(buf.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Format != Format || got.Date != "2026-11-25" || len(got.Sites) != len(b.Rows) || len(got.Notes) != len(b.Notes) {
		t.Errorf("got format %d, %s, %d sites, %d notes", got.Format, got.Date, len(got.Sites), len(got.Notes))
	}
	for i, s := range got.Sites {
		r := b.Rows[i]
		open, blocking := 0, []string{}
		for _, n := range s.Trades {
			open += n.Open
		}
		for _, it := range s.Items {
			if it.Blocks {
				blocking = append(blocking, it.ID)
			}
		}
		if s.Reference != r.Reference || s.Counts.Open != open || s.Counts.Open != r.Total.Open || !slices.Equal(s.Blocking, blocking) || len(s.Blocking) != s.Counts.Blocks {
			t.Errorf("site %d: %+v isn't the row %+v", i, s, r)
		}
		if (s.Days != nil) != r.Delivery.Known() {
			t.Errorf("site %d: days are given without a delivery, or the reverse", i)
		}
	}
	if n := got.Counts["blocked"]; n != b.Counts[model.Blocked] {
		t.Errorf("got %d blocked, want %d", n, b.Counts[model.Blocked])
	}
}

func open(t testing.TB, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func TestWorkbook(t *testing.T) {
	fsys := scenario(t)
	for n, f := range hostileFS(t) {
		fsys[n] = f
	}
	b := collect(t, fsys)
	data, err := Workbook(b, "a4")
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	if got, want := f.GetSheetList(), []string{sheetSites, sheetChart, sheetFaults, sheetItems, sheetNotes, sheetNumbers}; !slices.Equal(got, want) {
		t.Fatalf("got sheets %v, want %v", got, want)
	}
	rows, err := f.GetRows(sheetSites, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	head := rows[headRow-1]
	for i, r := range b.Rows {
		get := func(name string) string {
			if k := slices.Index(head, name); k < len(rows[headRow+i]) {
				return rows[headRow+i][k]
			}
			return ""
		}
		want := map[string]string{"Readiness": string(r.Readiness), "Site": r.Site, "Reference": r.Reference, "Machine": r.Machine}
		if r.Readiness != model.Unreadable {
			want["Blocks"], want["Open"], want["Plumber"] = fmt.Sprint(r.Total.Blocks), fmt.Sprint(r.Total.Open), fmt.Sprint(r.Trades[check.Plumber].Open)
		}
		for name, text := range want {
			if got := get(name); got != text {
				t.Errorf("row %d, %s: got %q, want %q", i, name, got, text)
			}
		}
		if r.Delivery.Known() {
			// The day's number is read back with the library's own function.
			var n float64
			if _, err := fmt.Sscan(get("Delivery"), &n); err != nil {
				t.Fatal(err)
			}
			day, err := excelize.ExcelDateToTime(n, false)
			if err != nil || day.Format(time.DateOnly) != r.Delivery.String() {
				t.Errorf("row %d: got delivery %v (%v), want %v", i, day, err, r.Delivery)
			}
		}
	}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i := range rows {
			for j := range rows[i] {
				if formula, err := f.GetCellFormula(sheet, cells.At(j+1, i+1)); err != nil || formula != "" {
					t.Errorf("%s!%s holds the formula %q (%v)", sheet, cells.At(j+1, i+1), formula, err)
				}
			}
		}
		layout, err := f.GetPageLayout(sheet)
		if err != nil {
			t.Fatal(err)
		}
		want := "landscape"
		if sheet == sheetChart {
			want = "portrait"
		} else if p, err := f.GetPanes(sheet); err != nil || !p.Freeze || p.YSplit != headRow {
			t.Errorf("%s: the head isn't frozen: %+v, %v", sheet, p, err)
		}
		if *layout.Orientation != want || *layout.Size != 9 || *layout.FitToWidth != 1 {
			t.Errorf("%s prints %s, size %d, %d wide", sheet, *layout.Orientation, *layout.Size, *layout.FitToWidth)
		}
	}
	open, err := f.GetRows(sheetItems)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(open) - headRow; n != b.Total.Open {
		t.Errorf("the sheet of open items has %d rows, want %d", n, b.Total.Open)
	}
	if !strings.Contains(open[1][0], "isolate before work") || !strings.Contains(open[1][0], model.Disclaimer) {
		t.Errorf("no caution stands above the work: %q", open[1][0])
	}
	charts := 0
	f.Pkg.Range(func(k, _ any) bool {
		if strings.HasPrefix(k.(string), "xl/charts/chart") {
			charts++
		}
		return true
	})
	if charts != 2 {
		t.Errorf("got %d charts, want 2", charts)
	}
	numbers, err := f.GetRows(sheetNumbers)
	if err != nil {
		t.Fatal(err)
	}
	if last := numbers[len(numbers)-1]; last[0] != "All sites" || last[1+len(check.Trades)] != fmt.Sprint(b.Total.Open) {
		t.Errorf("got totals %v, want %d open", last, b.Total.Open)
	}
}

func TestEmptyBoard(t *testing.T) {
	for _, b := range []*model.Board{
		collect(t, fstest.MapFS{}),
		collect(t, fstest.MapFS{"x.yaml": file1("survey: 1")}),
		{Counts: map[model.Readiness]int{}},
	} {
		for name, data := range outputs(t, b) {
			if len(data) == 0 {
				t.Errorf("%s is empty", name)
			}
		}
	}
}

// TestPDF: no text leaves its place, the heads are repeated on every page of a
// table, and every row is printed, however long the names and however many the pages.
func TestPDF(t *testing.T) {
	fsys := many(t, 60, 11)
	for n, f := range hostileFS(t) {
		fsys[n] = f
	}
	fsys["long.yaml"] = file1(siteText(t, "block_missing", "name: The Half Told Tale", "name: "+strings.Repeat("Annexe", 10)+" of the Old Corn Exchange and Assembly Rooms"))
	b := collect(t, fsys)
	for _, paper := range []string{"letter", "a4"} {
		d, err := layOut(b, paper)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range d.Overflows() {
			t.Errorf("%s: %v", paper, o)
		}
		heads := map[int]bool{}
		text := map[string]int{}
		first, last := map[string]int{}, map[string]int{}
		for _, p := range d.Placed() {
			text[p.Text]++
			if p.Text == "Delivery" {
				heads[p.Page] = true
			}
			for _, group := range []string{"Blocked (", "Unreadable (", "Open items by trade and site"} {
				if strings.HasPrefix(p.Text, group) && first[group] == 0 {
					first[group] = p.Page
				}
			}
			last[p.Text] = p.Page
		}
		for page := first["Blocked ("]; page < first["Unreadable ("]; page++ {
			if !heads[page] {
				t.Errorf("%s: page %d has no heads", paper, page)
			}
		}
		if first["Unreadable ("]-first["Blocked ("] < 3 {
			t.Errorf("%s: the blocked sites take %d pages, too few for this test", paper, first["Unreadable ("]-first["Blocked ("])
		}
		all := ""
		for _, p := range d.Placed() {
			all += p.Text + " "
		}
		for _, r := range b.Rows {
			if r.Reference != "" && !strings.Contains(all, r.Reference) {
				t.Errorf("%s: %s isn't printed", paper, r.Name())
			}
		}
		said := false
		for _, w := range d.Warnings() {
			said = said || strings.Contains(w.String(), "U+1F378")
		}
		if !said {
			t.Errorf("%s: nothing says that a sign couldn't be printed: %v", paper, d.Warnings())
		}
	}
}

// TestBars: the chart's bars are as long as their numbers say.
func TestBars(t *testing.T) {
	b := &model.Board{Today: survey.DateOf(today.Time()), Counts: map[model.Readiness]int{model.Blocked: 2}, Trades: map[check.Trade]model.Tally{}, Rows: []model.Row{
		{Readiness: model.Blocked, Site: "one", Total: model.Tally{Open: 4, Blocks: 1}, Trades: map[check.Trade]model.Tally{check.Plumber: {Open: 4, Blocks: 1}}},
		{Readiness: model.Blocked, Site: "two", Total: model.Tally{Open: 2}, Trades: map[check.Trade]model.Tally{check.Plumber: {Open: 2}}},
	}}
	x := map[string]float64{}
	d, err := layOut(b, "letter")
	if err != nil {
		t.Fatal(err)
	}
	start := 0.0
	chart := false
	for _, p := range d.Placed() {
		chart = chart || p.Text == "Open items by trade and site"
		if chart && p.Text == "Plumber" && start == 0 {
			start = p.X
		}
		if _, ok := x[p.Text]; chart && !ok {
			x[p.Text] = p.X
		}
	}
	// The number stands 1 mm behind the bar's end: 4 items take twice as much as 2.
	four, two := x["4"]-start-1, x["2"]-start-1
	if start == 0 || four < 5 || two < 1 || four/two < 1.99 || four/two > 2.01 {
		t.Errorf("bars of 4 and 2 items are %.2f and %.2f mm long", four, two)
	}
	if page.TextWidth(fitted(strings.Repeat("Wide ", 40), 30, page.Small), page.Small) > 30 {
		t.Error("a label is wider than its place")
	}
}
