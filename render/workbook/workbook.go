// Package workbook writes the sign-off workbook of a packet and reads
// sign-offs back. Start with Build and Read; what is written and read is
// render/signoff's Book.
//
// People type on the trades' sheets and nowhere else; the other sheets show it
// by formula. A hidden sheet holds what the program must know when the
// workbook comes back, row by row, so that nothing depends on where a row or a column stands.
package workbook

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/templates"
)

// Options of a workbook.
type Options struct {
	Paper string        // "letter" or "a4"
	Book  *signoff.Book // with what was carried over; nil: nothing is signed yet
}

// Columns of a trade's sheet: what was found, then what people write.
var (
	shown = []string{"ID", "Verdict", "Item", "What to do", "Required", "Found", "By when"}
	// wide are the widths of shown, signoff.Columns and Earlier.
	wide = []float64{6.5, 10.5, 16, 30, 16, 16, 10.5, 11, 14, 14, 11, 11.5, 11.5, 14, 20, 30}
)

const (
	earlierColumn = "Earlier sign-off"

	sheetSummary = "Summary"
	sheetAll     = "All items"
	sheetCalc    = "Calculations"
	sheetEarlier = "Earlier sign-offs"
	sheetLoose   = "Kept notes"
	sheetLists   = "Lists"
	sheetMeta    = "Meta"

	headRow = 3 // of every table
	slack   = 20
)

func tradeSheet(t check.Trade) string { return strings.ToUpper(string(t[:1])) + string(t[1:]) }

// Build makes the workbook of one revision. Same report, same book: same bytes.
func Build(r *words.Report, o Options) ([]byte, error) {
	book := signoff.New(r.Report, r.Report, Words(r), nil)
	if o.Book != nil {
		book = *o.Book
	}
	words, err := templates.BookWords()
	if err != nil {
		return nil, err
	}
	words = templates.In(r.Say.Region(), words)
	b := &builder{writer: newWriter(), r: r, book: book, paper: o.Paper, words: words}
	b.sheets()
	b.summary()
	for _, t := range check.Trades {
		b.trade(t)
	}
	b.all()
	b.calculations()
	b.earlier()
	b.loose()
	b.lists()
	b.meta()
	b.f.SetActiveSheet(0)
	day := "2000-01-01"
	if r.Today.Known() {
		day = r.Today.String()
	}
	b.try(b.f.SetDocProps(&excelize.DocProperties{Creator: "firstfill", LastModifiedBy: "firstfill", Created: day + "T00:00:00Z", Modified: day + "T00:00:00Z",
		Title: cells.Fit(cells.Clean("Sign-off: "+book.Label()), 200)}))
	full := true
	b.try(b.f.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &full}))
	return b.bytes()
}

type builder struct {
	*writer
	r     *words.Report
	book  signoff.Book
	paper string
	words *templates.Workbook
}

// sheets makes them all first, in their order, since formulas name them.
func (b *builder) sheets() {
	b.sheet(sheetSummary)
	for _, t := range check.Trades {
		b.sheet(tradeSheet(t))
	}
	b.sheet(sheetAll)
	b.sheet(sheetCalc)
	if len(b.book.Earlier) > 0 {
		b.sheet(sheetEarlier)
	}
	if len(b.book.Loose) > 0 {
		b.sheet(sheetLoose)
	}
	b.sheet(sheetLists)
	b.sheet(sheetMeta)
}

// region gives a text of the program's own in the reader's English.
func (b *builder) region(text string) string { return b.r.Say.Region().Text(text) }

func (b *builder) of(t check.Trade) []signoff.Item {
	var items []signoff.Item
	for _, it := range b.book.Items {
		if it.Trade == t {
			items = append(items, it)
		}
	}
	return items
}

// titles are the two lines above a trade's table.
func titles(b signoff.Book, t check.Trade, words *templates.Workbook) [2]string {
	n := 0
	for _, it := range b.Items {
		if it.Trade == t {
			n++
		}
	}
	caution := words.Cautions[string(t)]
	if n == 0 {
		caution = "Nothing is to be worked off by the " + string(t) + "."
	}
	return [2]string{tradeSheet(t) + ": " + strings.TrimSpace(b.Reference+" "+b.Site) + ", " + b.MachineName + ", revision " + b.Revision, caution}
}

func (b *builder) trade(t check.Trade) {
	sheet, items := tradeSheet(t), b.of(t)
	lines := titles(b.book, t, b.words)
	b.text(sheet, 1, 1, lines[0], "title")
	b.text(sheet, 1, 2, lines[1], "caution")
	first := len(shown) + 1
	names := append(append(slices.Clone(shown), signoff.Columns...), earlierColumn)
	for i, name := range names {
		style := "head"
		if i >= len(shown) && i < len(names)-1 {
			style = "typed"
		}
		b.text(sheet, i+1, headRow, b.region(name), style)
	}
	anyEarlier := false
	for i, it := range items {
		row := headRow + 1 + i
		for c, s := range []string{it.ID, it.Verdict.String(), it.Title, it.Action, it.Want, it.Have, it.Stage} {
			style := "cell"
			if c < 2 {
				style = "bold"
			}
			b.text(sheet, c+1, row, cells.Fit(s, cells.Max-1), style)
		}
		m := it.Mark
		if s, ok := signoff.ParseStatus(m.Status); ok {
			m.Status = string(s)
		}
		for c, name := range signoff.Columns {
			text := *m.Field(name)
			switch {
			case name == "Date" || name == "Due":
				b.date(sheet, first+c, row, text, "inDay")
			case name == "Reading" && len(it.Asks) == 0 && text == "":
				b.put(sheet, first+c, row, "", "off")
			default:
				b.put(sheet, first+c, row, text, "in")
			}
		}
		earlier := b.book.EarlierOf(it.ID)
		anyEarlier = anyEarlier || earlier != ""
		b.text(sheet, len(names), row, cells.Fit(earlier, 2000), "cell")
	}
	b.widths(sheet, wide...)
	if !anyEarlier {
		b.try(b.f.SetColVisible(sheet, cells.Column(len(names)), false))
	}
	last := headRow + len(items)
	if len(items) > 0 {
		b.rulesOf(sheet, headRow+1, last)
		b.try(b.f.AutoFilter(sheet, "A3:"+cells.At(len(names), last), nil))
	}
	b.page(sheet, headRow, len(names), max(last, headRow+1), "B4")
	b.protect(sheet)
}

// columnOf is the letter of a sign-off column.
func columnOf(name string) string {
	return cells.Column(len(shown) + 1 + slices.Index(signoff.Columns, name))
}

// rulesOf adds the validations and the conditional formats of a trade's table.
func (b *builder) rulesOf(sheet string, from, to int) {
	span := func(name string) string {
		c := columnOf(name)
		return fmt.Sprintf("%s%d:%s%d", c, from, c, to)
	}
	status := excelize.NewDataValidation(true)
	status.Sqref = span("Status")
	status.SetSqrefDropList(fmt.Sprintf("%s!$A$2:$A$%d", sheetLists, 1+len(signoff.Statuses)))
	status.SetError(excelize.DataValidationErrorStyleStop, "Status", "Choose open, in progress, done or not needed.")
	status.SetInput("Status", "open, in progress, done, or not needed (then say why in the note)")
	b.try(b.f.AddDataValidation(sheet, status))
	for _, name := range []string{"Date", "Due"} {
		v := excelize.NewDataValidation(true)
		v.Sqref = span(name)
		b.try(v.SetRange("DATE(1990,1,1)", "DATE(2200,12,31)", excelize.DataValidationTypeDate, excelize.DataValidationOperatorBetween))
		v.SetError(excelize.DataValidationErrorStyleWarning, name, "Write a date, as 2026-11-25.")
		v.SetInput(name, map[string]string{"Date": "The day on which it was done: year-month-day", "Due": "The day for which it is promised: year-month-day"}[name])
		b.try(b.f.AddDataValidation(sheet, v))
	}
	for _, p := range [][2]string{
		{"Done by", "First name and surname of the person who did it and answers for it"},
		{"License", "Number of the license, where the work needs one"},
		{"Reading", "What was measured or found out, with its unit: 62 psi. Several: in the order asked, separated by semicolons; ? leaves one out"},
	} {
		v := excelize.NewDataValidation(true)
		v.Sqref = span(p[0])
		b.try(v.SetRange(0, cells.Max, excelize.DataValidationTypeTextLength, excelize.DataValidationOperatorBetween))
		v.SetInput(b.region(p[0]), b.region(p[1]))
		b.try(b.f.AddDataValidation(sheet, v))
	}
	table := fmt.Sprintf("A%d:%s%d", from, columnOf("Note"), to)
	s, by, date, due, reading := columnOf("Status"), columnOf("Done by"), columnOf("Date"), columnOf("Due"), columnOf("Reading")
	good := fmt.Sprintf(`AND($%[1]s%[5]d="done",LEN(TRIM($%[2]s%[5]d))>1,ISNUMBER($%[3]s%[5]d),OR($B%[5]d<>"MISSING",LEN(TRIM($%[4]s%[5]d&$%[6]s%[5]d))>0))`, s, by, date, reading, from, columnOf("Note"))
	b.paint(sheet, table, good, "", "E2F0E2")
	b.paint(sheet, span("Done by"), fmt.Sprintf(`AND(OR($%[1]s%[3]d="done",$%[1]s%[3]d="not needed"),LEN(TRIM($%[2]s%[3]d))<2)`, s, by, from), "", "F8CBAD")
	b.paint(sheet, span("Date"), fmt.Sprintf(`AND(OR($%[1]s%[3]d="done",$%[1]s%[3]d="not needed"),NOT(ISNUMBER($%[2]s%[3]d)))`, s, date, from), "", "F8CBAD")
	b.paint(sheet, span("Date"), fmt.Sprintf(`AND(ISNUMBER($%[1]s%[2]d),$%[1]s%[2]d>TODAY())`, date, from), "", "F8CBAD")
	b.paint(sheet, span("Due"), fmt.Sprintf(`AND($%[1]s%[3]d<>"done",$%[1]s%[3]d<>"not needed",ISNUMBER($%[2]s%[3]d),$%[2]s%[3]d<TODAY())`, s, due, from), "9C0006", "FFC7CE")
	b.paint(sheet, span("Reading"), fmt.Sprintf(`AND($%[1]s%[3]d="done",$B%[3]d="MISSING",LEN(TRIM($%[2]s%[3]d&$%[4]s%[3]d))=0)`, s, reading, from, columnOf("Note")), "", "F8CBAD")
	b.verdicts(sheet, fmt.Sprintf("B%d:B%d", from, to), "B", from)
}

// verdicts colours a column of verdicts; the word itself says the same.
func (b *builder) verdicts(sheet, span, col string, from int) {
	for _, p := range [][3]string{{"FIX", "9C0006", "FFC7CE"}, {"MISSING", "7F4A00", "FFE3B3"}, {"CONFIRM", "1F4E79", "DCE9F7"}, {"OK", "1E5B2E", ""}} {
		b.paint(sheet, span, fmt.Sprintf(`$%s%d="%s"`, col, from, p[0]), p[1], p[2])
	}
}

func (b *builder) paint(sheet, span, formula, ink, paper string) {
	s := &excelize.Style{}
	if ink != "" {
		s.Font = &excelize.Font{Color: ink, Bold: true}
	}
	if paper != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{paper}}
	}
	id, err := b.f.NewConditionalStyle(s)
	b.try(err)
	b.try(b.f.SetConditionalFormat(sheet, span, []excelize.ConditionalFormatOptions{{Type: "formula", Criteria: formula, Format: &id}}))
}

// page sets how a sheet prints and which part of it stays in sight.
func (b *builder) page(sheet string, repeat, cols, rows int, corner string) {
	fitTo, one, zero, orientation, size := true, 1, 0, "landscape", 1
	if b.paper == "a4" {
		size = 9
	}
	b.try(b.f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fitTo}))
	b.try(b.f.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &orientation, Size: &size, FitToWidth: &one, FitToHeight: &zero}))
	side, top, bottom, band := 0.4, 0.5, 0.7, 0.3
	b.try(b.f.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &bottom, Header: &band, Footer: &band}))
	b.try(b.f.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&8" + b.words.Footer + "&R&8&A, page &P of &N"}))
	b.try(b.f.SetSheetDimension(sheet, "A1:"+cells.At(cols, rows)))
	quoted := "'" + sheet + "'"
	if repeat > 0 {
		b.try(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$%d:$%d", quoted, repeat, repeat), Scope: sheet}))
	}
	b.try(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("%s!$A$1:$%s$%d", quoted, cells.Column(cols), rows), Scope: sheet}))
	if corner != "" {
		b.try(cells.Freeze(b.f, sheet, corner))
	}
}

// protect locks all but the cells to type in, without a password: against slips, not intent.
func (b *builder) protect(sheet string) {
	b.try(b.f.ProtectSheet(sheet, &excelize.SheetProtectionOptions{SelectLockedCells: true, SelectUnlockedCells: true,
		FormatCells: true, FormatColumns: true, FormatRows: true, Sort: true, AutoFilter: true, InsertRows: true}))
}

// span is where a column of a trade's table lies, with room for rows that people insert.
func (b *builder) span(t check.Trade, col string) string {
	return fmt.Sprintf("%s!$%s$%d:$%s$%d", tradeSheet(t), col, headRow+1, col, headRow+slack+len(b.of(t)))
}

// counts of one trade, as the formulas count them.
type counts struct {
	all, inProgress, signed, done, notNeeded, blocks int
	next                                             string
}

func (b *builder) count(t check.Trade) counts {
	var n counts
	for _, it := range b.of(t) {
		n.all++
		status, ok := signoff.ParseStatus(it.Mark.Status)
		_, dated := serial(it.Mark.Date)
		signed := ok && status == signoff.Done && len([]rune(it.Mark.By)) >= 2 && dated
		switch {
		case !ok:
		case status == signoff.InProgress:
			n.inProgress++
		case status == signoff.Done:
			n.done++
		case status == signoff.NotNeeded:
			n.notNeeded++
		}
		if signed {
			n.signed++
		}
		if it.Verdict.Blocks() && !signed {
			n.blocks++
		}
		if _, dated := serial(it.Mark.Due); dated && (!ok || status == signoff.Open || status == signoff.InProgress) && (n.next == "" || it.Mark.Due < n.next) {
			n.next = it.Mark.Due
		}
	}
	return n
}

func dayShown(day string) string {
	if n, ok := serial(day); ok {
		return strconv.Itoa(n)
	}
	return ""
}

func (b *builder) summary() {
	const sheet = sheetSummary
	b.text(sheet, 1, 1, "Summary of sign-offs", "title")
	b.text(sheet, 1, 2, strings.TrimSpace(b.book.Reference+" "+b.book.Site), "strong")
	b.text(sheet, 1, 3, fmt.Sprintf("%s (%s), revision %s of %s, answers %s", b.book.MachineName, b.book.Machine, b.book.Revision, b.book.Date, b.book.Digest), "plain")
	const head = 6
	names := []string{"Trade", "To work off", "Open", "In progress", "Signed", "Done, not signed", "Not needed", "Signed, share", "Still block", "Next date"}
	for i, n := range names {
		b.text(sheet, i+1, head, n, "head")
	}
	total := counts{}
	for i, t := range check.Trades {
		row := head + 1 + i
		n := b.count(t)
		b.text(sheet, 1, row, tradeSheet(t), "bold")
		st, by, date, due, vd := b.span(t, columnOf("Status")), b.span(t, columnOf("Done by")), b.span(t, columnOf("Date")), b.span(t, columnOf("Due")), b.span(t, "B")
		signed := func(verdict string) string {
			return fmt.Sprintf(`COUNTIFS(%s,"%s",%s,"done",%s,"??*",%s,">0")`, vd, verdict, st, by, date)
		}
		live := func(col int, f string, shown int, style string) {
			b.formula(sheet, col, row, f, strconv.Itoa(shown), style)
		}
		works := fmt.Sprintf(`(COUNTIF(%[1]s,"FIX")+COUNTIF(%[1]s,"MISSING")+COUNTIF(%[1]s,"CONFIRM"))`, vd)
		live(2, works, n.all, "number")
		live(3, fmt.Sprintf("B%[1]d-D%[1]d-E%[1]d-F%[1]d-G%[1]d", row), n.all-n.inProgress-n.done-n.notNeeded, "number")
		live(4, fmt.Sprintf(`COUNTIFS(%s,"?*",%s,"in progress")`, vd, st), n.inProgress, "number")
		live(5, signed("?*"), n.signed, "number")
		live(6, fmt.Sprintf(`COUNTIFS(%s,"?*",%s,"done")-E%d`, vd, st, row), n.done-n.signed, "number")
		live(7, fmt.Sprintf(`COUNTIFS(%s,"?*",%s,"not needed")`, vd, st), n.notNeeded, "number")
		b.formula(sheet, 8, row, fmt.Sprintf(`IF(B%[1]d=0,"",E%[1]d/B%[1]d)`, row), share(n.signed, n.all), "share")
		live(9, fmt.Sprintf(`COUNTIF(%[1]s,"FIX")+COUNTIF(%[1]s,"MISSING")-%[2]s-%[3]s`, vd, signed("FIX"), signed("MISSING")), n.blocks, "number")
		min := func(status string) string {
			return fmt.Sprintf(`_xlfn.MINIFS(%s,%s,"%s",%s,">0")`, due, st, status, due)
		}
		// Two counts rather than one "<>", so that blank rows don't count.
		open, hand := min("open"), min("in progress")
		b.formula(sheet, 10, row, fmt.Sprintf(`IF(%[1]s+%[2]s=0,"",IF(%[1]s=0,%[2]s,IF(%[2]s=0,%[1]s,MIN(%[1]s,%[2]s))))`, open, hand), dayShown(n.next), "day")
		total.all += n.all
		total.inProgress += n.inProgress
		total.signed += n.signed
		total.done += n.done
		total.notNeeded += n.notNeeded
		total.blocks += n.blocks
		if n.next != "" && (total.next == "" || n.next < total.next) {
			total.next = n.next
		}
	}
	row, from, to := head+1+len(check.Trades), head+1, head+len(check.Trades)
	b.text(sheet, 1, row, "All trades", "bold")
	sums := []int{total.all, total.all - total.inProgress - total.done - total.notNeeded, total.inProgress, total.signed, total.done - total.signed, total.notNeeded}
	for i, n := range append(sums, 0, total.blocks) {
		if col := cells.Column(i + 2); col != "H" {
			b.formula(sheet, i+2, row, fmt.Sprintf("SUM(%s%d:%s%d)", col, from, col, to), strconv.Itoa(n), "total")
		}
	}
	b.formula(sheet, 8, row, fmt.Sprintf(`IF(B%[1]d=0,"",E%[1]d/B%[1]d)`, row), share(total.signed, total.all), "shareT")
	b.formula(sheet, 10, row, fmt.Sprintf(`IF(COUNT(J%[1]d:J%[2]d)=0,"",MIN(J%[1]d:J%[2]d))`, from, to), dayShown(total.next), "dayT")
	sentence := "Nothing blocks the first fill."
	if total.blocks > 0 {
		sentence = fmt.Sprintf("Not ready: %d of %d items still block the first fill.", total.blocks, total.all)
	}
	b.formula(sheet, 1, 4, fmt.Sprintf(`IF(I%[1]d=0,"Nothing blocks the first fill.","Not ready: "&I%[1]d&" of "&B%[1]d&" items still block the first fill.")`, row), sentence, "strong")
	b.paint(sheet, "A4", fmt.Sprintf("$I$%d>0", row), "9C0006", "")
	b.paint(sheet, "A4", fmt.Sprintf("$I$%d=0", row), "1E5B2E", "")
	b.paint(sheet, fmt.Sprintf("J%d:J%d", from, row), fmt.Sprintf("AND(ISNUMBER($J%[1]d),$J%[1]d<TODAY())", from), "9C0006", "FFC7CE")
	row += 2
	b.text(sheet, 1, row, "Machine is delivered on", "plain")
	if n, ok := serial(b.book.Delivery.String()); ok {
		b.number(sheet, 2, row, float64(n), "dayL")
		left := ""
		if b.r.Today.Known() {
			left = daysLeft(b.r.Today.DaysUntil(b.book.Delivery))
		}
		b.formula(sheet, 3, row, fmt.Sprintf(`IF(B%[1]d-TODAY()=1,"in 1 day",IF(B%[1]d>=TODAY(),"in "&(B%[1]d-TODAY())&" days",(TODAY()-B%[1]d)&" days ago"))`, row), left, "plain")
	} else {
		b.text(sheet, 2, row, "not said", "plain")
	}
	row += 2
	for i, n := range []string{"Found by the survey", "FIX", "MISSING", "CONFIRM", "OK", "N/A"} {
		b.text(sheet, i+1, row, n, "head")
	}
	every := b.everything()
	col := func(c string) string {
		return fmt.Sprintf("'%s'!$%s$%d:$%s$%d", sheetAll, c, headRow+1, c, headRow+max(1, len(every)))
	}
	start := row + 1
	for _, t := range check.Trades {
		row++
		b.text(sheet, 1, row, tradeSheet(t), "bold")
		for i, v := range check.Verdicts {
			n := 0
			for _, it := range every {
				if it.Trade == t && it.Verdict == v {
					n++
				}
			}
			b.formula(sheet, i+2, row, fmt.Sprintf(`COUNTIFS(%s,"%s",%s,"%s")`, col("B"), t, col("D"), v), strconv.Itoa(n), "number")
		}
	}
	row++
	b.text(sheet, 1, row, "All trades", "bold")
	for i, v := range check.Verdicts {
		n := 0
		for _, it := range every {
			if it.Verdict == v {
				n++
			}
		}
		c := cells.Column(i + 2)
		b.formula(sheet, i+2, row, fmt.Sprintf("SUM(%s%d:%s%d)", c, start, c, row-1), strconv.Itoa(n), "total")
	}
	row++
	for _, s := range b.words.Guide {
		row++
		style := "para"
		if strings.HasSuffix(s, ":") {
			style = "strong"
		}
		b.try(b.f.MergeCell(sheet, cells.At(1, row), cells.At(len(names), row)))
		b.text(sheet, 1, row, s, style)
		b.grow(sheet, row, s, 128)
	}
	b.widths(sheet, 25, 12, 12, 12, 12, 12, 12, 12, 12, 13)
	b.page(sheet, 0, len(names), row, "")
	b.protect(sheet)
}

func share(n, of int) string {
	if of == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(n)/float64(of), 'f', -1, 64)
}

func daysLeft(n int) string {
	switch {
	case n == 1:
		return "in 1 day"
	case n >= 0:
		return fmt.Sprintf("in %d days", n)
	}
	return fmt.Sprintf("%d days ago", -n)
}

// everything is every finding in the order of trades, those to be worked off first.
func (b *builder) everything() []signoff.Item {
	var all []signoff.Item
	for _, t := range check.Trades {
		for _, list := range [][]signoff.Item{b.book.Items, b.book.Rest} {
			for _, it := range list {
				if it.Trade == t {
					all = append(all, it)
				}
			}
		}
	}
	return all
}

func (b *builder) all() {
	const sheet = sheetAll
	b.text(sheet, 1, 1, "All items", "title")
	b.text(sheet, 1, 2, "This sheet only shows. Sign-offs are typed on the trades' sheets; status, name and date come from there by formula.", "plain")
	names := []string{"ID", "Trade", "By when", "Verdict", "Item", "What to do", "Required", "Found", "Margin", "Status", "Signed by", "Date", "Source"}
	for i, n := range names {
		b.text(sheet, i+1, headRow, n, "head")
	}
	row := headRow
	for _, it := range b.everything() {
		row++
		for c, s := range []string{it.ID, string(it.Trade), it.Stage, it.Verdict.String(), it.Title, it.Action, it.Want, it.Have, it.Margin} {
			style := "cell"
			if c == 0 || c == 3 {
				style = "bold"
			}
			b.text(sheet, c+1, row, cells.Fit(s, cells.Max-1), style)
		}
		b.text(sheet, len(names), row, cells.Fit(it.Source, cells.Max-1), "cut")
		if !it.Work() {
			for c := 10; c <= 12; c++ {
				b.put(sheet, c, row, "", "off")
			}
			continue
		}
		from := func(name string) string {
			return fmt.Sprintf("INDEX(%s,MATCH($A%d,%s,0))", b.span(it.Trade, columnOf(name)), row, b.span(it.Trade, "A"))
		}
		m := it.Mark
		if s, ok := signoff.ParseStatus(m.Status); ok {
			m.Status = string(s)
		}
		b.formula(sheet, 10, row, fmt.Sprintf(`IFERROR(%s&"","row deleted")`, from("Status")), m.Status, "bold")
		b.formula(sheet, 11, row, fmt.Sprintf(`IFERROR(%s&"","")`, from("Done by")), m.By, "cell")
		day := m.Date
		if n, ok := serial(m.Date); ok {
			day = strconv.Itoa(n)
		}
		b.formula(sheet, 12, row, fmt.Sprintf(`IFERROR(IF(%[1]s="","",%[1]s),"")`, from("Date")), day, "day")
	}
	b.widths(sheet, 6.5, 11, 11, 10.5, 18, 30, 17, 17, 14, 11, 14, 11.5, 36)
	if row > headRow {
		b.verdicts(sheet, fmt.Sprintf("D%d:D%d", headRow+1, row), "D", headRow+1)
		b.paint(sheet, fmt.Sprintf("J%d:J%d", headRow+1, row), fmt.Sprintf(`$J%d="done"`, headRow+1), "1E5B2E", "E2F0E2")
		b.try(b.f.AutoFilter(sheet, "A3:"+cells.At(len(names), row), nil))
	}
	b.page(sheet, headRow, len(names), max(row, headRow+1), "B4")
	b.protect(sheet)
}

func (b *builder) calculations() {
	const sheet = sheetCalc
	b.text(sheet, 1, 1, "Calculations behind the findings", "title")
	b.text(sheet, 1, 2, "Each line is one value of a check's working; \"firstfill explain ID\" prints the formula with its range of validity.", "plain")
	names := []string{"ID", "Item", "Verdict", "Symbol", "Meaning", "Value", "Source"}
	for i, n := range names {
		b.text(sheet, i+1, headRow, n, "head")
	}
	row := headRow
	for _, f := range b.r.Findings {
		for i, s := range f.Working {
			row++
			title, source := "", "" // once a check
			if i == 0 {
				title, source = f.Title, f.Source
			}
			for c, t := range []string{f.ID, title, f.Verdict.String(), s.Symbol, s.Meaning, s.Value} {
				b.text(sheet, c+1, row, cells.Fit(t, cells.Max-1), "cell")
			}
			b.text(sheet, len(names), row, cells.Fit(source, cells.Max-1), "cut")
		}
	}
	end := row
	if len(b.r.Assumed) > 0 {
		row += 2
		b.text(sheet, 1, row, "Uncertainty assumed because none was written with the reading", "strong")
		row++
		for i, n := range []string{"", "Reading", "", "Instrument", "Answer", "Assumed", ""} {
			b.text(sheet, i+1, row, n, "head")
		}
		for _, a := range b.r.Assumed {
			row++
			for c, t := range []string{"", a.Value, "", a.Instrument, b.asked(a.Path), a.Spread, ""} {
				b.text(sheet, c+1, row, t, "cell")
			}
		}
	}
	b.widths(sheet, 6.5, 32, 10.5, 14, 44, 22, 50)
	if end > headRow {
		b.try(b.f.AutoFilter(sheet, "A3:"+cells.At(len(names), end), nil))
	}
	b.page(sheet, headRow, len(names), max(row, headRow+1), "B4")
	b.protect(sheet)
}

// asked is the question of an answer, or its path when there is none.
func (b *builder) asked(path string) string {
	if !survey.HasField(path) {
		return path
	}
	return b.r.Say.Question(path)
}

func (b *builder) earlier() {
	if len(b.book.Earlier) == 0 {
		return
	}
	const sheet = sheetEarlier
	b.text(sheet, 1, 1, "Earlier sign-offs", "title")
	b.text(sheet, 1, 2, "Kept as they were written. They no longer stand, for the reason in the column \"What became of it\".", "plain")
	names := []string{"ID", "Trade", "Item", "Revision", "What became of it", "What changed", "Status then", "Signed by", "Company", "License", "Date", "Due", "Reading", "Note"}
	for i, n := range names {
		b.text(sheet, i+1, headRow, b.region(n), "head")
	}
	row := headRow
	for _, e := range b.book.Earlier {
		row++
		m := e.Mark
		for c, s := range []string{e.ID, string(e.Trade), e.Title, e.Revision, string(e.Outcome), e.Change, m.Status, m.By, m.Company, m.Licence, m.Date, m.Due, m.Reading, m.Note} {
			b.text(sheet, c+1, row, cells.Fit(s, cells.Max-1), "cell")
		}
	}
	b.widths(sheet, 6.5, 11, 16, 9, 15, 30, 11, 14, 14, 11, 11.5, 11.5, 14, 22)
	b.try(b.f.AutoFilter(sheet, "A3:"+cells.At(len(names), row), nil))
	b.page(sheet, headRow, len(names), row, "B4")
	b.protect(sheet)
}

func (b *builder) loose() {
	if len(b.book.Loose) == 0 {
		return
	}
	const sheet = sheetLoose
	b.text(sheet, 1, 1, "Kept notes", "title")
	b.text(sheet, 1, 2, "Written beside the tables or on sheets of people's own in an earlier copy of this workbook, and kept here.", "plain")
	for i, n := range []string{"Revision", "Where it stood", "Beside item", "Text"} {
		b.text(sheet, i+1, headRow, n, "head")
	}
	row := headRow
	for _, l := range b.book.Loose {
		row++
		for c, s := range []string{l.Revision, l.Where, l.ID, l.Text} {
			b.text(sheet, c+1, row, cells.Fit(s, cells.Max-1), "cell")
		}
	}
	b.widths(sheet, 10, 26, 14, 100)
	b.page(sheet, headRow, 4, row, "A4")
	b.protect(sheet)
}

func (b *builder) lists() {
	b.text(sheetLists, 1, 1, "Lists", "strong")
	for i, s := range signoff.Statuses {
		b.text(sheetLists, 1, i+2, string(s), "")
	}
	b.try(b.f.SetSheetVisible(sheetLists, false))
	b.protect(sheetLists)
}

// magic stands in the first cell of the hidden sheet.
const magic = "firstfill sign-off workbook"

// metaVersion is the version of the hidden sheet.
const metaVersion = 1

// kinds of rows on the hidden sheet.
const (
	kindBook    = "book"
	kindWork    = "work"
	kindRest    = "rest"
	kindEarlier = "earlier"
	kindLoose   = "loose"
	kindOwn     = "own"
	kindSum     = "sum"
)

func (b *builder) meta() {
	const sheet = sheetMeta
	row := 1
	h := sha256.New()
	put := func(kind string, parts ...string) {
		for i, s := range append([]string{kind}, parts...) {
			b.try(b.f.SetCellStr(sheet, cells.At(i+1, row), s))
		}
		fmt.Fprintf(h, "%q %q\n", kind, parts)
		row++
	}
	put(magic, strconv.Itoa(metaVersion))
	put(kindBook, encode(b.book)...)
	for _, it := range b.book.Items {
		it.Issued = it.Mark
		put(kindWork, encode(it)...)
	}
	for _, it := range b.book.Rest {
		put(kindRest, encode(it)...)
	}
	for _, e := range b.book.Earlier {
		put(kindEarlier, encode(e)...)
	}
	for _, l := range b.book.Loose {
		put(kindLoose, encode(l)...)
	}
	// What the program wrote on the sheets that only show, so that what people add there is seen.
	for _, name := range b.order {
		if name == sheetMeta || slices.ContainsFunc(check.Trades, func(t check.Trade) bool { return tradeSheet(t) == name }) {
			continue
		}
		var sums []string
		for text := range b.own[name] {
			sums = append(sums, print(text))
		}
		slices.Sort(sums)
		put(kindOwn, append([]string{print(b.firstCell(name)), name}, encode(slices.Compact(sums))...)...)
	}
	put(kindSum, hex.EncodeToString(h.Sum(nil)))
	b.try(b.f.SetSheetVisible(sheet, false))
	b.protect(sheet)
}

func (b *builder) firstCell(sheet string) string {
	v, err := b.f.GetCellValue(sheet, "A1")
	b.try(err)
	return normal(v)
}

// print is a short fingerprint of a cell's text.
func print(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])[:10]
}

// normal folds white space, which office programs change when they save.
func normal(s string) string { return strings.Join(strings.Fields(s), " ") }
