package board

import (
	"archive/zip"
	"bytes"
	model "firstfill/specs/board"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/terminal"
	"firstfill/specs/check"
)

// boardName is a defined name by which a workbook is known as a board.
const boardName = "firstfill_board"

// Sheets of the workbook.
const (
	sheetSites  = "Sites"
	sheetChart  = "Chart"
	sheetFaults = "Frequent faults"
	sheetItems  = "Open items"
	sheetNotes  = "Not on the board"
	// sheetNumbers holds what the charts show.
	sheetNumbers = "Chart numbers"
)

// charted is how many sites the charts show; more can't be told apart.
const charted = 25

const headRow = 4 // of every table

// Caution stands above the list of work. It is the usual one: common practice, no source.
const Caution = "Work on power, hot water, chemicals and heavy machines can hurt: isolate before work, keep to labels and data sheets, lift with enough people. "

// Workbook makes the board as a workbook. Same board, same paper: same bytes.
func Workbook(b *model.Board, paper string) ([]byte, error) {
	w := &sheets{f: excelize.NewFile(), styles: map[string]int{}, paper: paper}
	defer w.f.Close()
	w.sites(b)
	w.open(sheetChart, "Open items by trade and site, "+b.Today.String(), "", nil, nil)
	w.faults(b)
	w.items(b)
	if len(b.Notes) > 0 {
		w.notes(b)
	}
	w.chart(b)
	w.try(w.f.SetDefinedName(&excelize.DefinedName{Name: boardName, RefersTo: sheetSites + "!$A$1"}))
	w.f.SetActiveSheet(0)
	day := b.Today.String()
	if day == "" {
		day = "2000-01-01"
	}
	w.try(w.f.SetDocProps(&excelize.DocProperties{Creator: "firstfill", LastModifiedBy: "firstfill", Created: day + "T00:00:00Z", Modified: day + "T00:00:00Z", Title: "Sites, " + day}))
	if w.err != nil {
		return nil, w.err
	}
	buf, err := w.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return settled(buf.Bytes())
}

var defaultType = regexp.MustCompile(`<Default [^>]*></Default>|<Default [^>]*/>`)

// settled puts the list of the file's content types in order: with a chart the
// library writes it in another order each time.
func settled(data []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, part := range in.File {
		if part.Name != "[Content_Types].xml" {
			if err := z.Copy(part); err != nil {
				return nil, err
			}
			continue
		}
		r, err := part.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		types := defaultType.FindAll(text, -1)
		slices.SortFunc(types, bytes.Compare)
		i := -1
		text = defaultType.ReplaceAllFunc(text, func([]byte) []byte { i++; return types[i] })
		w, err := z.CreateHeader(&zip.FileHeader{Name: part.Name, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(text); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// sheets makes cells and keeps the first error.
type sheets struct {
	f      *excelize.File
	err    error
	styles map[string]int
	made   int
	paper  string
}

func (w *sheets) try(err error) {
	if err != nil && w.err == nil {
		w.err = err
	}
}

// open starts a sheet with its title, a line under it and its columns.
func (w *sheets) open(name, title, under string, heads []string, widths []float64) {
	if w.made == 0 {
		w.try(w.f.SetSheetName("Sheet1", name))
	} else {
		_, err := w.f.NewSheet(name)
		w.try(err)
	}
	w.made++
	w.text(name, 1, 1, title, "title")
	w.text(name, 1, 2, under, "plain")
	for i, h := range heads {
		style := "head"
		if i < len(widths) && widths[i] < 9 {
			style = "headC"
		}
		w.text(name, i+1, headRow, h, style)
	}
	if len(heads) > 0 {
		w.try(w.f.SetRowHeight(name, headRow, 33))
	}
	for i, x := range widths {
		w.try(w.f.SetColWidth(name, cells.Column(i+1), cells.Column(i+1), x))
	}
}

// shut finishes a sheet: filter, what stays in sight, and how many columns are printed.
func (w *sheets) shut(name string, cols, printed, last int, corner string) {
	if last > headRow {
		w.try(w.f.AutoFilter(name, fmt.Sprintf("A%d:%s", headRow, cells.At(cols, last)), nil))
	}
	w.try(cells.Freeze(w.f, name, corner))
	w.print(name, printed, max(last, headRow+1), "landscape")
	w.try(w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", name, headRow, headRow), Scope: name}))
}

// print sets a sheet up to fit the width of the paper.
func (w *sheets) print(name string, cols, last int, orientation string) {
	fitTo, one, zero, size := true, 1, 0, 1
	if w.paper == "a4" {
		size = 9
	}
	w.try(w.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fitTo}))
	w.try(w.f.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &orientation, Size: &size, FitToWidth: &one, FitToHeight: &zero}))
	side, top, bottom, band := 0.4, 0.5, 0.7, 0.3
	w.try(w.f.SetPageMargins(name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &bottom, Header: &band, Footer: &band}))
	w.try(w.f.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&L&8" + model.Disclaimer + "&R&8&A, page &P of &N"}))
	w.try(w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("'%s'!$A$1:$%s$%d", name, cells.Column(cols), last), Scope: name}))
}

func (w *sheets) text(sheet string, col, row int, s, style string) {
	at := cells.At(col, row)
	if s = cellText(s); s != "" {
		w.try(w.f.SetCellStr(sheet, at, s))
	}
	w.style(sheet, at, style)
}

func (w *sheets) number(sheet string, col, row, n int, style string) {
	at := cells.At(col, row)
	w.try(w.f.SetCellInt(sheet, at, int64(n)))
	w.style(sheet, at, style)
}

// day writes a date as a date, and leaves one that isn't known empty.
func (w *sheets) day(sheet string, col, row int, t time.Time, style string) {
	at := cells.At(col, row)
	if !t.IsZero() {
		w.try(w.f.SetCellInt(sheet, at, int64(t.Sub(epoch).Hours()/24)))
	}
	w.style(sheet, at, style)
}

var epoch = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

func (w *sheets) style(sheet, at, style string) {
	id, ok := w.styles[style]
	if !ok {
		var err error
		id, err = w.f.NewStyle(cellStyles[style])
		w.try(err)
		w.styles[style] = id
	}
	w.try(w.f.SetCellStyle(sheet, at, at, id))
}

// high makes a row high enough for its longest text; not every office program
// does so on opening.
func (w *sheets) high(sheet string, row int, widths []float64, texts map[int]string) {
	n := 1
	for col, s := range texts {
		lines := 0
		for _, par := range strings.Split(s, "\n") {
			lines += 1 + int(float64(len([]rune(par)))/(1.05*widths[col-1]))
		}
		n = max(n, lines)
	}
	w.try(w.f.SetRowHeight(sheet, row, min(409, 14.5*float64(n)+3)))
}

func (w *sheets) sites(b *model.Board) {
	const name = sheetSites
	heads := []string{"Readiness", "Delivery", "Days", "Reference", "Site", "Blocks", "Open"}
	widths := []float64{11.5, 11.5, 6, 11, 24, 7, 6}
	for _, t := range check.Trades {
		heads = append(heads, title(string(t)))
		widths = append(widths, 4.5)
	}
	heads = append(heads, "Signed", "What blocks", "Oldest", "Open since", "Promised next", "Remarks")
	widths = append(widths, 8, 30, 8, 11.5, 11.5, 40)
	printed := len(heads) // the others are for the screen
	heads = append(heads, "Machine", "Revision", "Issued", "Files")
	widths = append(widths, 17, 9.5, 11.5, 60)
	w.open(name, "Sites: "+b.Folder+", "+b.Today.String(), strings.TrimSpace(b.Sentence()+" "+b.Outlook()), heads, widths)
	for i := range check.Trades {
		w.style(name, cells.At(8+i, headRow), "headUp")
	}
	w.try(w.f.SetRowHeight(name, headRow, 72))
	row := headRow
	for _, r := range b.Rows {
		row++
		col := 0
		put := func(do func(col int)) { col++; do(col) }
		text := func(s, style string) { put(func(c int) { w.text(name, c, row, s, style) }) }
		day := func(t time.Time) { put(func(c int) { w.day(name, c, row, t, "day") }) }
		num := func(n int, known bool) {
			put(func(c int) {
				if known {
					w.number(name, c, row, n, "number")
				} else {
					w.text(name, c, row, "", "number")
				}
			})
		}
		site := r.Readiness != model.Unreadable
		text(string(r.Readiness), "bold")
		day(r.Delivery.Time())
		num(r.Days, r.Delivery.Known())
		text(r.Reference, "cell")
		text(r.Site, "cell")
		num(r.Total.Blocks, site)
		num(r.Total.Open, site)
		for _, t := range check.Trades {
			num(r.Trades[t].Open, site)
		}
		num(r.Total.Closed, site)
		oldest, since := "", time.Time{}
		if r.Oldest != nil {
			oldest, since = r.Oldest.ID, r.Oldest.Since.Time()
		}
		remarks := r.Remarks
		for _, t := range []string{further(r), r.Error} {
			if t != "" {
				remarks = append([]string{t}, remarks...)
			}
		}
		var files []string
		for _, f := range r.Files {
			files = append(files, f.Path+" ("+f.Role+")")
		}
		tall := map[int]string{5: r.Site}
		wrapped := func(s string) { text(s, "cell"); tall[col] = s }
		wrapped(strings.Join(terminal.Wrap(r.BlockedBy(), 28), "\n")) // office programs would part E-03 at its hyphen
		text(oldest, "cell")
		day(since)
		day(promised(r.Next))
		wrapped(strings.Join(remarks, "\n"))
		text(r.Machine, "cell")
		text(r.Revision, "cell")
		day(r.Issued.Time())
		wrapped(strings.Join(files, "\n"))
		w.high(name, row, widths, tall)
	}
	if row > headRow {
		for _, p := range []struct {
			r          model.Readiness
			ink, paper string
		}{{model.Blocked, "9C0006", "FFC7CE"}, {model.Unreadable, "5B2C6F", "E8DAEF"}, {model.ToConfirm, "1F4E79", "DCE9F7"}, {model.Ready, "1E5B2E", "E2F0E2"}} {
			w.paint(name, fmt.Sprintf("A%d:A%d", headRow+1, row), fmt.Sprintf(`$A%d="%s"`, headRow+1, p.r), p.ink, p.paper)
		}
		w.paint(name, fmt.Sprintf("C%d:C%d", headRow+1, row), fmt.Sprintf(`AND(ISNUMBER($C%[1]d),$C%[1]d<=14,$A%[1]d<>"ready")`, headRow+1), "9C0006", "FFC7CE")
	}
	w.shut(name, len(heads), printed, row, cells.At(6, headRow+1))
}

// promised reads a day written year-month-day; no day gives the zero time.
func promised(day string) time.Time {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return time.Time{}
	}
	return t
}

func (w *sheets) paint(sheet, span, formula, ink, paper string) {
	id, err := w.f.NewConditionalStyle(&excelize.Style{Font: &excelize.Font{Color: ink, Bold: true}, Fill: solid(paper)})
	w.try(err)
	w.try(w.f.SetConditionalFormat(sheet, span, []excelize.ConditionalFormatOptions{{Type: "formula", Criteria: formula, Format: &id}}))
}

// shades of the trades differ in lightness, so that they are told apart without colour.
var shades = map[check.Trade]string{check.Electrician: "1B365D", check.Plumber: "3F7CAC", check.Builder: "B08A3C", check.Owner: "A9C4A4", check.Supplier: "E3DCCB"}

// chart makes the sheet of the charts and, behind the others, that of their numbers.
func (w *sheets) chart(b *model.Board) {
	const name = sheetNumbers
	heads := []string{"Site"}
	widths := []float64{44}
	for _, t := range check.Trades {
		heads = append(heads, title(string(t)))
		widths = append(widths, 12)
	}
	heads, widths = append(heads, "Open", "Blocks"), append(widths, 10, 10)
	shown, more := chartedFaults(b, charted)
	under := "The sites with open items, the most urgent first."
	if more > 0 {
		under = fmt.Sprintf("The %d most urgent of %d sites with open items; the others are on the sheet %s.", len(shown), len(shown)+more, sheetSites)
	}
	w.open(name, "Open items by trade and site, "+b.Today.String(), under, heads, widths)
	row := headRow
	line := func(label string, trades map[check.Trade]model.Tally, total model.Tally, style, styleN string) {
		row++
		w.text(name, 1, row, label, style)
		for i, t := range check.Trades {
			w.number(name, 2+i, row, trades[t].Open, styleN)
		}
		w.number(name, 2+len(check.Trades), row, total.Open, styleN)
		w.number(name, 3+len(check.Trades), row, total.Blocks, styleN)
	}
	for _, r := range shown {
		line(cut(r.Name(), 40), r.Trades, r.Total, "cell", "number")
	}
	last := row
	line("All sites", b.Trades, b.Total, "boldT", "numberT")
	w.shut(name, len(heads), len(heads), row, cells.At(2, headRow+1))
	w.text(sheetChart, 1, 2, under, "plain")

	at := 4
	if n := last - headRow; n > 0 {
		high := 150 + 24*n
		w.bars(cells.At(1, at), "Open items by trade and site", headRow+1, last, high)
		at += high/20 + 2
	}
	const high = 220
	w.bars(cells.At(1, at), "Open items of all sites by trade", row, row, high)
	w.print(sheetChart, 12, at+high/20+1, "portrait")
	one := 1
	w.try(w.f.SetPageLayout(sheetChart, &excelize.PageLayoutOptions{FitToHeight: &one}))
}

// bars adds a chart of stacked bars over rows of the numbers.
func (w *sheets) bars(at, heading string, from, to, height int) {
	span := func(col, from, to int) string {
		return fmt.Sprintf("'%s'!$%s$%d:$%s$%d", sheetNumbers, cells.Column(col), from, cells.Column(col), to)
	}
	var series []excelize.ChartSeries
	for i, t := range check.Trades {
		label := "FFFFFF"
		if t == check.Owner || t == check.Supplier {
			label = ink
		}
		series = append(series, excelize.ChartSeries{Name: fmt.Sprintf("'%s'!$%s$%d", sheetNumbers, cells.Column(2+i), headRow), Categories: span(1, from, to), Values: span(2+i, from, to),
			Fill: solid(shades[t]), Line: excelize.LineOptions{Type: excelize.LineNone}, DataLabel: excelize.ChartDataLabel{Font: excelize.Font{Size: 9, Color: label}}})
	}
	gap, over := uint(35), 100
	axis := excelize.Font{Size: 9, Color: ink}
	w.try(w.f.AddChart(sheetChart, at, &excelize.Chart{Type: excelize.BarStacked, Series: series,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: heading, Font: &excelize.Font{Size: 12, Bold: true, Color: ink}}}},
		Legend:    excelize.ChartLegend{Position: "bottom", Font: &axis},
		PlotArea:  excelize.ChartPlotArea{ShowVal: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "0;;;"}},
		XAxis:     excelize.ChartAxis{ReverseOrder: true, Font: axis},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, Font: axis},
		GapWidth:  &gap,
		Overlap:   &over,
		Dimension: excelize.ChartDimension{Width: 720, Height: uint(height)},
		Format:    excelize.GraphicOptions{AltText: heading},
	}))
}

func (w *sheets) faults(b *model.Board) {
	const name = sheetFaults
	heads := []string{"Trade", "ID", "Check", "Sites with FIX or MISSING", "FIX", "MISSING", "CONFIRM", "Still open"}
	widths := []float64{14, 8.5, 60, 14, 8.5, 10, 10, 10}
	w.open(name, "Most frequent faults, "+b.Today.String(), fmt.Sprintf("At how many of %s each check found something; the most frequent of each trade first.", model.Count(b.Sites(), "site", "sites")), heads, widths)
	row := headRow
	for _, f := range b.Faults {
		row++
		w.text(name, 1, row, string(f.Trade), "cell")
		w.text(name, 2, row, f.ID, "bold")
		w.text(name, 3, row, f.Title, "cell")
		for i, n := range []int{f.Found(), f.Fix, f.Missing, f.Confirm, f.Open} {
			w.number(name, 4+i, row, n, "number")
		}
	}
	w.shut(name, len(heads), len(heads), row, cells.At(1, headRow+1))
}

func (w *sheets) items(b *model.Board) {
	const name = sheetItems
	heads := []string{"Trade", "ID", "Verdict", "Blocks", "Delivery", "Reference", "Site", "Machine", "Item", "What to do", "State", "Due", "Open since"}
	widths := []float64{12, 8.5, 11, 8.5, 11.5, 12, 26, 15, 30, 56, 10.5, 11.5, 11.5}
	w.open(name, "Open items of all sites, "+b.Today.String(), Caution+model.Disclaimer, heads, widths)
	row := headRow
	for _, r := range b.Rows {
		for _, it := range r.Items {
			if !it.Open {
				continue
			}
			row++
			blocks := "no"
			if it.Blocks {
				blocks = "yes"
			}
			for i, s := range []string{string(it.Trade), it.ID, it.Verdict.String(), blocks, "", r.Reference, r.Site, r.Machine, it.Title, it.Action, string(it.State)} {
				w.text(name, 1+i, row, s, "cell")
			}
			w.day(name, 5, row, r.Delivery.Time(), "day")
			w.day(name, 12, row, promised(it.Due), "day")
			w.day(name, 13, row, it.Since.Time(), "day")
			w.high(name, row, widths, map[int]string{7: r.Site, 9: it.Title, 10: it.Action})
		}
	}
	w.shut(name, len(heads), len(heads), row, cells.At(3, headRow+1))
}

func (w *sheets) notes(b *model.Board) {
	const name = sheetNotes
	widths := []float64{10, 60, 80}
	w.open(name, "Not on the board", "Files and folders that are on no row. A fault means that a site may be missing.", []string{"Kind", "What", "Files"}, widths)
	row := headRow
	for _, n := range b.Notes {
		row++
		kind := "note"
		if n.Fault {
			kind = "fault"
		}
		files := named(n)
		w.text(name, 1, row, kind, "bold")
		w.text(name, 2, row, n.Text, "cell")
		w.text(name, 3, row, files, "cell")
		w.high(name, row, widths, map[int]string{2: n.Text, 3: files})
	}
	w.shut(name, 3, 3, row, cells.At(1, headRow+1))
}

// chartedFaults returns the most urgent sites with open items, and how many more there are.
func chartedFaults(b *model.Board, most int) (shown []model.Row, more int) {
	for _, r := range b.Rows {
		switch {
		case r.Total.Open == 0:
		case len(shown) == most:
			more++
		default:
			shown = append(shown, r)
		}
	}
	return shown, more
}

func title(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// cut shortens text to a number of runes.
func cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// cellText makes people's text fit for a cell. It is written as text, so it never becomes a formula.
func cellText(s string) string {
	var lines []string
	for _, l := range strings.Split(s, "\n") {
		lines = append(lines, terminal.OneLine(l))
	}
	return cells.Escape(cells.Fit(cells.Clean(strings.Join(lines, "\n")), cells.Max-1))
}

func solid(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

const (
	lineInk = "B8BDC4"
	ink     = "1F2A37"
	headInk = "26455E"
	pale    = "E8EDF2"
)

var dateFormat = "yyyy-mm-dd"

func frame() []excelize.Border {
	var bs []excelize.Border
	for _, side := range []string{"left", "right", "top", "bottom"} {
		bs = append(bs, excelize.Border{Type: side, Color: lineInk, Style: 1})
	}
	return bs
}

func faced(f excelize.Font) *excelize.Font {
	f.Family = "Calibri"
	if f.Size == 0 {
		f.Size = 11
	}
	if f.Color == "" {
		f.Color = ink
	}
	return &f
}

var (
	wrapText = &excelize.Alignment{Vertical: "top", WrapText: true}
	middle   = &excelize.Alignment{Vertical: "top", Horizontal: "center"}
)

var cellStyles = map[string]*excelize.Style{
	"title":   {Font: faced(excelize.Font{Bold: true, Size: 16, Color: headInk})},
	"plain":   {Font: faced(excelize.Font{}), Alignment: &excelize.Alignment{Vertical: "top"}},
	"head":    {Font: faced(excelize.Font{Bold: true, Color: "FFFFFF"}), Fill: solid(headInk), Border: frame(), Alignment: &excelize.Alignment{Vertical: "center", WrapText: true}},
	"headC":   {Font: faced(excelize.Font{Bold: true, Color: "FFFFFF"}), Fill: solid(headInk), Border: frame(), Alignment: &excelize.Alignment{Vertical: "center", Horizontal: "center", WrapText: true}},
	"headUp":  {Font: faced(excelize.Font{Bold: true, Color: "FFFFFF"}), Fill: solid(headInk), Border: frame(), Alignment: &excelize.Alignment{Vertical: "bottom", Horizontal: "center", TextRotation: 90}},
	"cell":    {Font: faced(excelize.Font{}), Border: frame(), Alignment: wrapText},
	"bold":    {Font: faced(excelize.Font{Bold: true}), Border: frame(), Alignment: wrapText},
	"boldT":   {Font: faced(excelize.Font{Bold: true}), Border: frame(), Alignment: wrapText, Fill: solid(pale)},
	"number":  {Font: faced(excelize.Font{}), Border: frame(), Alignment: middle},
	"numberT": {Font: faced(excelize.Font{Bold: true}), Border: frame(), Alignment: middle, Fill: solid(pale)},
	"day":     {Font: faced(excelize.Font{}), Border: frame(), Alignment: middle, CustomNumFmt: &dateFormat},
}
