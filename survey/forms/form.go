// Package forms is the questionnaire as a workbook to fill in: written and read
// back. Start with Write and Load.
package forms

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"firstfill/survey"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

// The columns of a question sheet, and the rows of a list sheet.
const (
	colMark, colAsk, colAnswer, colUnit, colNote, colHow, colExample, colPath = "A", "B", "C", "D", "E", "F", "G", "H"

	cautionRow = 3  // of question sheets
	headRow    = 4  // of both kinds of sheet; answers follow
	nameRow    = 3  // list sheets: field names, hidden
	listRows   = 14 // items that there is room for, at least
	metaName   = "Form"
)

// listSheets names the sheets of lists; a list that isn't here has no sheet.
var listSheets = map[string]string{
	"power.other_loads":  "Loads on the circuit",
	"heater.other_draws": "Hot-water draws",
	"drain.shares":       "Shared receptor",
	"demand.glasses":     "Glasses",
	"space.path":         "Way to the door",
	"photos":             "Photos",
}

// xlsxWriter keeps the first error of many calls.
type xlsxWriter struct {
	f       *excelize.File
	err     error
	numbers map[string]int // of the questions

	title, fill, cautions string // whose part it is, how to fill it in, what to heed
}

func (w *xlsxWriter) do(err error) {
	if w.err == nil {
		w.err = err
	}
}

func (w *xlsxWriter) style(s *excelize.Style) int {
	id, err := w.f.NewStyle(s)
	w.do(err)
	return id
}

func (w *xlsxWriter) text(sheet, cell, text string) {
	w.do(w.f.SetCellStr(sheet, cell, text))
}

// Write makes a form to be filled in with any spreadsheet program, one sheet a
// station of the walk, with what is known filled in.
func Write(f survey.FormFor) ([]byte, error) {
	said, err := templates.SurveyWords()
	if err != nil {
		return nil, err
	}
	part := said.Part(string(f.Part), templates.For(f.Units))
	s := f.Known
	w := &xlsxWriter{f: excelize.NewFile()}
	defer w.f.Close()
	st := formStyles{
		caution: w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Bold: true, Size: 9}}),
		title:   w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Bold: true, Size: 14}}),
		head:    w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Bold: true, Size: 10}, Border: under2, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"}}),
		text:    w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Size: 10}, Alignment: &excelize.Alignment{Indent: 1, WrapText: true, Vertical: "top"}}),
		group:   w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Bold: true, Size: 10}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E8E8E8"}}}),
		answer:  w.style(&excelize.Style{Font: &excelize.Font{Family: formFont, Size: 10}, NumFmt: 49, Border: boxed, Protection: &excelize.Protection{Locked: false}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFFBE0"}}}),
	}
	w.do(w.f.SetDefaultFont(formFont))
	w.numbers = f.Numbers()
	w.fill, w.cautions = templates.For(f.Units).Text(said.Workbook), strings.Join(part.Cautions, " ")
	if f.Part != survey.Whole {
		w.title = part.Title + ": "
		w.questions("This site", survey.Naming(), f, s, st)
	}
	for _, station := range survey.Stations {
		plain, lists := survey.AskedAt(station.Key, f)
		if len(plain) > 0 {
			w.questions(station.Name, plain, f, s, st)
		}
		for _, l := range lists {
			if name := listSheets[l.Path]; name != "" {
				w.list(name, l, f, s, st)
			}
		}
	}
	w.do(w.f.DeleteSheet("Sheet1"))
	_, err = w.f.NewSheet(metaName)
	w.do(err)
	w.text(metaName, "A1", "firstfill form")
	w.text(metaName, "B1", strconv.Itoa(survey.Version))
	w.text(metaName, "A2", "machine")
	w.text(metaName, "B2", f.Key)
	w.do(w.f.SetSheetVisible(metaName, false))
	w.f.SetActiveSheet(0)
	w.do(w.f.SetDocProps(&excelize.DocProperties{Creator: "firstfill", Title: "Site questionnaire", Created: "2000-01-01T00:00:00Z", Modified: "2000-01-01T00:00:00Z"}))
	var b bytes.Buffer
	w.do(w.f.Write(&b))
	return b.Bytes(), w.err
}

// formFont is one that every spreadsheet program has or replaces by one of the same widths.
const formFont = "Arial"

// formWidths are the columns' widths of a question sheet, in characters.
var formWidths = map[string]float64{colMark: 6, colAsk: 40, colAnswer: 22, colUnit: 8, colNote: 26, colHow: 40, colExample: 30}

// listWidth is the width of every column of a list sheet.
const listWidth = 19.0

// tall sets a row's height to what its longest wrapped text needs; programs
// don't all do that by themselves.
func (w *xlsxWriter) tall(sheet string, row int, texts map[string]float64) {
	lines := 1
	for text, width := range texts {
		n := 0
		for _, l := range strings.Split(text, "\n") {
			n += 1 + int(float64(len([]rune(l)))*0.93/width)
		}
		lines = max(lines, n)
	}
	w.do(w.f.SetRowHeight(sheet, row, 3+13.2*float64(lines)))
}

type formStyles struct{ title, head, text, group, answer, caution int }

var (
	boxed  = []excelize.Border{{Type: "left", Color: "808080", Style: 1}, {Type: "right", Color: "808080", Style: 1}, {Type: "top", Color: "808080", Style: 1}, {Type: "bottom", Color: "808080", Style: 1}}
	under2 = []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}
)

func (w *xlsxWriter) sheet(name, title, sub string, st formStyles) {
	_, err := w.f.NewSheet(name)
	w.do(err)
	w.text(name, "B1", title)
	w.do(w.f.SetCellStyle(name, "B1", "B1", st.title))
	w.text(name, "B2", sub)
	fit, one, zero, land := true, 1, 0, "landscape"
	w.do(w.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}))
	w.do(w.f.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &land, FitToWidth: &one, FitToHeight: &zero}))
	w.do(w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", name, headRow, headRow), Scope: name}))
	w.do(w.f.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: headRow, TopLeftCell: fmt.Sprintf("A%d", headRow+1), ActivePane: "bottomLeft"}))
}

func (w *xlsxWriter) protect(name string) {
	w.do(w.f.ProtectSheet(name, &excelize.SheetProtectionOptions{SelectLockedCells: true, SelectUnlockedCells: true, FormatColumns: true, FormatRows: true}))
}

func (w *xlsxWriter) questions(name string, fs []survey.Field, f survey.FormFor, s *survey.Survey, st formStyles) {
	sub := w.fill
	if f.Name != "" {
		sub = "For " + f.Name + ". " + sub
	}
	w.sheet(name, w.title+name, sub, st)
	w.text(name, cell(colAsk, cautionRow), w.cautions)
	w.do(w.f.SetCellStyle(name, cell(colAsk, cautionRow), cell(colAsk, cautionRow), st.caution))
	for i, h := range []string{"", "Question", "Answer", "Unit", "Remark", "Where and how", "Example or answers", "Name"} {
		w.text(name, fmt.Sprintf("%c%d", 'A'+i, headRow), h)
	}
	w.do(w.f.SetCellStyle(name, cell(colMark, headRow), cell(colPath, headRow), st.head))
	row, group := headRow, ""
	region := templates.For(f.Units)
	for _, q := range fs {
		q = q.In(f.Units)
		q.Ask, q.How = region.Text(q.Ask), region.Text(q.How)
		if g := q.Group(); g != group {
			group = g
			row++
			w.text(name, cell(colAsk, row), g)
			w.do(w.f.SetCellStyle(name, cell(colMark, row), cell(colExample, row), st.group))
		}
		row++
		w.text(name, cell(colMark, row), w.mark(f, q))
		w.text(name, cell(colAsk, row), q.Ask)
		w.text(name, cell(colUnit, row), q.Unit(f.Units))
		w.text(name, cell(colHow, row), q.How)
		w.text(name, cell(colPath, row), q.Path)
		w.do(w.f.SetCellStyle(name, cell(colMark, row), cell(colPath, row), st.text))
		w.do(w.f.SetCellStyle(name, cell(colAnswer, row), cell(colAnswer, row), st.answer))
		w.do(w.f.SetCellStyle(name, cell(colNote, row), cell(colNote, row), st.answer))
		w.dropDown(name, cell(colAnswer, row), q)
		shown, note := "", ""
		switch {
		case s != nil:
			a := s.Answer(q.Path)
			shown, note = a.Text, a.Note
			if a.Source != "" {
				note = strings.TrimSpace(note + "\nsource: " + a.Source)
			}
		case q.Path == "machine.key":
			shown = f.Key
		}
		w.text(name, cell(colAnswer, row), shown)
		w.text(name, cell(colNote, row), note)
		examples := q.Example
		if len(q.Choices) > 0 {
			examples = strings.Join(q.Choices, ", ")
		}
		w.text(name, cell(colExample, row), examples)
		w.tall(name, row, map[string]float64{q.Ask: formWidths[colAsk], q.How: formWidths[colHow], examples: formWidths[colExample], shown: formWidths[colAnswer], note: formWidths[colNote]})
	}
	row += 2
	w.text(name, cell(colAsk, row), "■ the machine can't be started before this is known.")
	for col, width := range formWidths {
		w.do(w.f.SetColWidth(name, col, col, width))
	}
	w.do(w.f.SetColVisible(name, colPath, false))
	w.protect(name)
}

// mark is a question's number, with a square where the machine can't be started
// before it is answered.
func (w *xlsxWriter) mark(f survey.FormFor, q survey.Field) string {
	var parts []string
	if n := w.numbers[q.Path]; n > 0 {
		parts = append(parts, strconv.Itoa(n))
	}
	if f.Weight(q) == survey.Blocks {
		parts = append(parts, "■")
	}
	return strings.Join(parts, " ")
}

func cell(col string, row int) string { return col + strconv.Itoa(row) }

// dropDown offers a question's closed list of answers in a cell. The list may
// be typed over, so that unknown and pasted text get through to the reader.
func (w *xlsxWriter) dropDown(sheet, at string, q survey.Field) {
	words := q.Choices
	if q.YesNo() {
		words = []string{"yes", "no"}
	}
	if len(words) == 0 {
		return
	}
	words = append(append([]string(nil), words...), "unknown")
	v := excelize.NewDataValidation(true)
	v.Sqref = at
	if len(strings.Join(words, ",")) > 250 {
		return // the form's limit; the answers stand in the example column
	}
	w.do(v.SetDropList(words))
	title, text := "Not one of the answers", "Choose from the list, or write unknown."
	v.SetError(excelize.DataValidationErrorStyleWarning, title, text)
	w.do(w.f.AddDataValidation(sheet, v))
}

func (w *xlsxWriter) list(name string, l survey.Field, f survey.FormFor, s *survey.Survey, st formStyles) {
	region := templates.For(f.Units)
	w.sheet(name, region.Text(l.Ask), "One item a line. If there is nothing to list, write yes in the box: nothing to list.", st)
	fs := survey.Members(l)
	listRows := listRows // as many more as there are items
	for s != nil && s.Has(fmt.Sprintf("%s[%d]", l.Path, listRows)) {
		listRows++
	}
	heads := map[string]float64{}
	w.text(name, cell("A", nameRow), l.Path)
	w.text(name, cell("A", headRow), "")
	for i, q := range fs {
		q = q.In(f.Units)
		col, err := excelize.ColumnNumberToName(i + 2)
		w.do(err)
		w.text(name, cell(col, nameRow), q.Name)
		head := region.Text(q.Ask)
		if u := q.Unit(f.Units); u != "" {
			head += " [" + u + "]"
		}
		if q.How != "" {
			head += "\n" + region.Text(q.How)
		}
		if q.Example != "" {
			head += "\nas " + q.Example
		}
		w.text(name, cell(col, headRow), head)
		w.do(w.f.SetColWidth(name, col, col, listWidth))
		heads[head] = listWidth
		for r := headRow + 1; r <= headRow+listRows; r++ {
			w.dropDown(name, cell(col, r), q)
			if s != nil {
				w.text(name, cell(col, r), s.Answer(fmt.Sprintf("%s[%d].%s", l.Path, r-headRow-1, q.Name)).Text)
			}
		}
	}
	last, err := excelize.ColumnNumberToName(len(fs) + 2)
	w.do(err)
	w.text(name, cell(last, nameRow), itemRemark)
	w.text(name, cell(last, headRow), "Remark")
	w.do(w.f.SetColWidth(name, last, last, formWidths[colNote]))
	for r := headRow + 1; s != nil && r <= headRow+listRows; r++ {
		w.text(name, cell(last, r), remarkOf(s, fmt.Sprintf("%s[%d]", l.Path, r-headRow-1), fs))
	}
	w.do(w.f.SetCellStyle(name, cell("A", headRow), cell(last, headRow), st.head))
	w.do(w.f.SetCellStyle(name, cell("B", headRow+1), cell(last, headRow+listRows), st.answer))
	w.tall(name, headRow, heads)
	for r := headRow + 1; r <= headRow+listRows; r++ {
		w.do(w.f.SetRowHeight(name, r, 18))
		w.do(w.f.SetCellInt(name, cell("A", r), int64(r-headRow)))
	}
	w.do(w.f.SetColWidth(name, "A", "A", 4))
	row := headRow + listRows + 2
	w.text(name, cell("A", row), "[]")
	w.text(name, cell("B", row), "nothing to list")
	w.do(w.f.SetCellStyle(name, cell("C", row), cell("C", row), st.answer))
	w.dropDown(name, cell("C", row), survey.Field{Choices: []string{"yes"}})
	if s != nil && s.Answer(l.Path).Text == doc.EmptyList {
		w.text(name, cell("C", row), "yes")
	}
	w.do(w.f.SetRowVisible(name, nameRow, false))
	w.protect(name)
}

// itemRemark is the name of the column of remarks on a list sheet.
const itemRemark = "remark"

// remarkOf writes the notes and sources of an item's answers into one box, each behind
// its answer's name; the reader takes them apart again.
func remarkOf(s *survey.Survey, item string, fs []survey.Field) string {
	var lines []string
	for _, q := range fs {
		a := s.Answer(item + "." + q.Name)
		if a.Note != "" {
			lines = append(lines, q.Name+": "+a.Note)
		}
		if a.Source != "" {
			lines = append(lines, q.Name+" source: "+a.Source)
		}
	}
	return strings.Join(lines, "\n")
}
