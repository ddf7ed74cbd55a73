package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/specs/signoff"
)

// writer makes cells and keeps the first error, so that callers need not look after each.
type writer struct {
	f      *excelize.File
	err    error
	styles map[string]int
	order  []string                     // sheets as made
	own    map[string]map[string]bool   // per sheet, the text that the program wrote
	cached map[string]map[string]string // per sheet and cell, the value shown until formulas are calculated
	texts  map[string][]placed          // per sheet, wrapped text, from which the heights of rows are estimated
}

// placed is text in a cell.
type placed struct {
	col, row int
	text     string
}

func newWriter() *writer {
	return &writer{f: excelize.NewFile(), styles: map[string]int{}, own: map[string]map[string]bool{}, cached: map[string]map[string]string{}, texts: map[string][]placed{}}
}

func (w *writer) try(err error) {
	if err != nil && w.err == nil {
		w.err = err
	}
}

func (w *writer) sheet(name string) {
	if len(w.order) == 0 {
		w.try(w.f.SetSheetName("Sheet1", name))
	} else {
		_, err := w.f.NewSheet(name)
		w.try(err)
	}
	w.order = append(w.order, name)
	w.own[name] = map[string]bool{}
	w.cached[name] = map[string]string{}
}

// text writes the program's own text.
func (w *writer) text(sheet string, col, row int, s, style string) {
	w.put(sheet, col, row, s, style)
	w.own[sheet][normal(cells.Clean(s))] = true
}

// put writes text that people wrote.
func (w *writer) put(sheet string, col, row int, s, style string) {
	at := cells.At(col, row)
	if s = cells.Clean(s); s != "" {
		w.try(w.f.SetCellStr(sheet, at, cells.Escape(s)))
	}
	w.style(sheet, at, at, style)
	if st := styles[style]; st != nil && st.Alignment != nil && st.Alignment.WrapText {
		w.texts[sheet] = append(w.texts[sheet], placed{col, row, s})
	}
}

func (w *writer) number(sheet string, col, row int, n float64, style string) {
	at := cells.At(col, row)
	w.try(w.f.SetCellFloat(sheet, at, n, -1, 64))
	w.style(sheet, at, at, style)
	w.own[sheet][strconv.FormatFloat(n, 'f', -1, 64)] = true
}

// date writes a day given as year-month-day as a date, anything else as text.
func (w *writer) date(sheet string, col, row int, day, style string) {
	at := cells.At(col, row)
	n, ok := serial(day)
	if !ok {
		w.put(sheet, col, row, day, style)
		return
	}
	w.try(w.f.SetCellInt(sheet, at, int64(n)))
	w.style(sheet, at, at, style)
}

var epoch = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

// serial is how workbooks count days.
func serial(day string) (int, bool) {
	iso, err := signoff.ParseDate(day)
	if err != nil || iso == "" || iso != day {
		return 0, false
	}
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return 0, false
	}
	return int(t.Sub(epoch).Hours() / 24), true
}

// formula writes a live formula; shown is what stands there until it is calculated.
func (w *writer) formula(sheet string, col, row int, formula, shown, style string) {
	at := cells.At(col, row)
	w.try(w.f.SetCellFormula(sheet, at, formula))
	w.style(sheet, at, at, style)
	w.cached[sheet][at] = shown
}

func (w *writer) style(sheet, from, to, style string) {
	if style == "" {
		return
	}
	id, ok := w.styles[style]
	if !ok {
		var err error
		id, err = w.f.NewStyle(styles[style])
		w.try(err)
		w.styles[style] = id
	}
	w.try(w.f.SetCellStyle(sheet, from, to, id))
}

// widths sets the widths of columns, and the heights of rows that follow from
// them: not every office program makes rows fit on opening.
func (w *writer) widths(sheet string, widths ...float64) {
	for i, x := range widths {
		w.try(w.f.SetColWidth(sheet, cells.Column(i+1), cells.Column(i+1), x))
	}
	high := map[int]int{}
	for _, p := range w.texts[sheet] {
		if p.col <= len(widths) {
			high[p.row] = max(high[p.row], lines(p.text, 1.12*widths[p.col-1]))
		}
	}
	for _, row := range slices.Sorted(maps.Keys(high)) {
		w.height(sheet, row, high[row])
	}
}

// grow makes one row high enough for text that runs over a width.
func (w *writer) grow(sheet string, row int, text string, width float64) {
	w.texts[sheet] = slices.DeleteFunc(w.texts[sheet], func(p placed) bool { return p.row == row })
	w.height(sheet, row, lines(text, width))
}

func (w *writer) height(sheet string, row, lines int) {
	w.try(w.f.SetRowHeight(sheet, row, min(409, 14.5*float64(lines)+3)))
}

// lines estimates into how many lines text wraps in a column.
func lines(text string, width float64) int {
	n := 0
	for _, para := range strings.Split(text, "\n") {
		n++
		used := 0.0 // characters in the line so far
		for _, word := range strings.Fields(para) {
			l := float64(len([]rune(word)))
			switch {
			case used == 0:
				used = l
			case used+1+l <= width-1:
				used += 1 + l
			default:
				n++
				used = l
			}
			for used > width {
				n++
				used -= width
			}
		}
	}
	return n
}

// bytes writes the file, with the values of formulas put in.
func (w *writer) bytes() ([]byte, error) {
	if w.err != nil {
		return nil, w.err
	}
	buf, err := w.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	if err := w.f.Close(); err != nil {
		return nil, err
	}
	return w.fill(buf.Bytes())
}

var formulaCell = regexp.MustCompile(`<c r="([A-Z]+[0-9]+)"([^>]*?)( t="str")?><f>([^<]*)</f></c>`)

// fill writes the cached values of formulas, which the library leaves empty: a
// program that only shows, as on a telephone, would show blanks.
func (w *writer) fill(data []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, entry := range in.File {
		r, err := entry.Open()
		if err != nil {
			return nil, err
		}
		content, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		if strings.HasPrefix(entry.Name, "xl/worksheets/sheet") {
			// The heights are estimates: office programs may fit them when a cell changes.
			content = bytes.ReplaceAll(content, []byte(` customHeight="true"`), nil)
			content = bytes.ReplaceAll(content, []byte(` customHeight="1"`), nil)
		}
		for i, name := range w.order {
			if entry.Name != fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1) || len(w.cached[name]) == 0 {
				continue
			}
			n := 0
			content = formulaCell.ReplaceAllFunc(content, func(c []byte) []byte {
				m := formulaCell.FindSubmatch(c)
				n++
				value, kind := w.cached[name][string(m[1])], ` t="str"`
				if _, err := strconv.ParseFloat(value, 64); err == nil {
					kind = ""
				}
				var v bytes.Buffer
				if err := xml.EscapeText(&v, []byte(cells.Escape(cells.Clean(value)))); err != nil {
					panic(err) // a buffer takes everything
				}
				return fmt.Appendf(nil, `<c r="%s"%s%s><f>%s</f><v>%s</v></c>`, m[1], m[2], kind, m[4], v.Bytes())
			})
			if n != len(w.cached[name]) {
				return nil, fmt.Errorf("sheet %s: %d formulas found, %d written", name, n, len(w.cached[name]))
			}
		}
		// The header is made anew, without a time, so that the same content gives the same bytes.
		to, err := z.CreateHeader(&zip.FileHeader{Name: entry.Name, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := to.Write(content); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func border(color string) []excelize.Border {
	var bs []excelize.Border
	for _, side := range []string{"left", "right", "top", "bottom"} {
		bs = append(bs, excelize.Border{Type: side, Color: color, Style: 1})
	}
	return bs
}

func fill(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

const (
	line   = "B8BDC4"
	ink    = "1F2A37"
	head   = "26455E"
	typing = "FFFBE6" // cells to type in
	face   = "Calibri"
)

var (
	dateFormat    = "yyyy-mm-dd"
	textFormat    = "@"
	percentFormat = "0%"
)

func styled(s excelize.Style) *excelize.Style {
	if s.Font == nil {
		s.Font = &excelize.Font{}
	}
	s.Font.Family = face
	if s.Font.Size == 0 {
		s.Font.Size = 11
	}
	if s.Font.Color == "" {
		s.Font.Color = ink
	}
	return &s
}

var (
	wrapped  = &excelize.Alignment{Vertical: "top", WrapText: true}
	centred  = &excelize.Alignment{Vertical: "top", Horizontal: "center"}
	unlocked = &excelize.Protection{Locked: false}
)

var styles = map[string]*excelize.Style{
	"title":   styled(excelize.Style{Font: &excelize.Font{Bold: true, Size: 16, Color: head}}),
	"strong":  styled(excelize.Style{Font: &excelize.Font{Bold: true, Size: 12}}),
	"plain":   styled(excelize.Style{Alignment: &excelize.Alignment{Vertical: "top"}}),
	"para":    styled(excelize.Style{Alignment: wrapped}),
	"caution": styled(excelize.Style{Font: &excelize.Font{Italic: true, Color: "8A3B12"}, Alignment: &excelize.Alignment{Vertical: "top"}}),
	"head":    styled(excelize.Style{Font: &excelize.Font{Bold: true, Color: "FFFFFF"}, Fill: fill(head), Border: border(line), Alignment: &excelize.Alignment{Vertical: "center", WrapText: true}}),
	"typed":   styled(excelize.Style{Font: &excelize.Font{Bold: true, Color: "FFFFFF"}, Fill: fill("7A5C00"), Border: border(line), Alignment: &excelize.Alignment{Vertical: "center", WrapText: true}}),
	"cell":    styled(excelize.Style{Border: border(line), Alignment: wrapped}),
	"cut":     styled(excelize.Style{Border: border(line), Alignment: &excelize.Alignment{Vertical: "top"}}),
	"bold":    styled(excelize.Style{Font: &excelize.Font{Bold: true}, Border: border(line), Alignment: wrapped}),
	"number":  styled(excelize.Style{Border: border(line), Alignment: centred}),
	"total":   styled(excelize.Style{Font: &excelize.Font{Bold: true}, Border: border(line), Alignment: centred, Fill: fill("E8EDF2")}),
	"share":   styled(excelize.Style{Border: border(line), Alignment: centred, CustomNumFmt: &percentFormat}),
	"shareT":  styled(excelize.Style{Font: &excelize.Font{Bold: true}, Border: border(line), Alignment: centred, Fill: fill("E8EDF2"), CustomNumFmt: &percentFormat}),
	"day":     styled(excelize.Style{Border: border(line), Alignment: centred, CustomNumFmt: &dateFormat}),
	"dayT":    styled(excelize.Style{Font: &excelize.Font{Bold: true}, Border: border(line), Alignment: centred, Fill: fill("E8EDF2"), CustomNumFmt: &dateFormat}),
	"dayL":    styled(excelize.Style{Alignment: &excelize.Alignment{Horizontal: "left"}, CustomNumFmt: &dateFormat}),
	"in":      styled(excelize.Style{Border: border(line), Alignment: wrapped, Protection: unlocked, Fill: fill(typing), CustomNumFmt: &textFormat}),
	"inDay":   styled(excelize.Style{Border: border(line), Alignment: &excelize.Alignment{Vertical: "top", Horizontal: "left"}, Protection: unlocked, Fill: fill(typing), CustomNumFmt: &dateFormat}),
	"off":     styled(excelize.Style{Border: border(line), Fill: fill("ECECEC")}),
}
