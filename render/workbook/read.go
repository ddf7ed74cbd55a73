package workbook

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/templates"
)

// Limits on what is read. A workbook of ours has about 100 KB.
const (
	MaxBytes   = 20 << 20
	maxUnzip   = 64 << 20
	maxPart    = 16 << 20
	maxSheets  = 60
	maxRows    = 5_000 // of one sheet
	maxColumns = 300
	maxCells   = 200_000 // of all sheets
	maxScanned = 3 << 20 // rows of all sheets, empty ones too: twice a sheet's last row and more
	maxLoose   = 2_000   // notes outside the sign-off cells
)

// ErrForeign says that a file isn't a sign-off workbook of this program.
var ErrForeign = errors.New("this is not a sign-off workbook written by firstfill, or its hidden sheet is gone")

// Read reads a sign-off workbook back, however its rows and columns were moved.
// The notices say what was found beside plain sign-offs; an error means that
// nothing of it can be believed. name stands in the notices.
func Read(name string, data []byte) (book signoff.Book, notices []signoff.Notice, err error) {
	defer func() {
		if p := recover(); p != nil {
			book, notices, err = signoff.Book{}, nil, fmt.Errorf("reading %s: it can't be read as a workbook (%v)", name, p)
		}
	}()
	wrap := func(err error) error { return fmt.Errorf("reading %s: %w", name, err) }
	if len(data) > MaxBytes {
		return book, nil, wrap(fmt.Errorf("the file has %d bytes; at most %d are read", len(data), MaxBytes))
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true, UnzipSizeLimit: maxUnzip, UnzipXMLSizeLimit: maxPart})
	if err != nil {
		return book, nil, wrap(fmt.Errorf("it can't be read as an .xlsx workbook: %w", err))
	}
	defer f.Close()
	sheets := f.GetSheetList()
	if len(sheets) > maxSheets {
		return book, nil, wrap(fmt.Errorf("it has %d sheets; at most %d are read", len(sheets), maxSheets))
	}
	words, err := templates.BookWords()
	if err != nil {
		return book, nil, err
	}
	r := &reader{f: f, name: name, words: words}
	if p, err := f.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		r.date1904 = *p.Date1904
	}
	meta := ""
	var pages []page
	for _, s := range sheets {
		p, err := r.load(s)
		if err != nil {
			return book, nil, wrap(fmt.Errorf("sheet %s: %w", s, err))
		}
		if meta == "" && p.at(1, 1) == magic {
			meta = s
			if err := r.meta(p); err != nil {
				return book, nil, wrap(err)
			}
			continue
		}
		pages = append(pages, p)
	}
	if meta == "" {
		return book, nil, wrap(ErrForeign)
	}
	for _, p := range pages {
		r.page(p)
	}
	r.close()
	sum := sha256.Sum256(data)
	r.book.Sum = hex.EncodeToString(sum[:])
	return r.book, r.notices, nil
}

type reader struct {
	f        *excelize.File
	name     string
	words    *templates.Workbook
	date1904 bool
	cells    int
	scanned  int
	book     signoff.Book
	own      map[string]map[string]bool // fingerprints by first cell, and by name, of sheets that only show
	seen     map[string]bool            // ids with a row
	full     bool                       // no more loose notes are taken
	notices  []signoff.Notice
}

// A page is a sheet's cells. Empty rows and cells may be left out.
type page struct {
	name string
	rows [][]string
}

func (p page) at(row, col int) string {
	if row > len(p.rows) || col > len(p.rows[row-1]) {
		return ""
	}
	return p.rows[row-1][col-1]
}

func (r *reader) notice(fault bool, where, id, format string, args ...any) {
	if where != "" {
		where = ":" + where
	}
	r.notices = append(r.notices, signoff.Notice{Fault: fault, Where: r.name + where, ID: id, Text: fmt.Sprintf(format, args...)})
}

// load reads the cells of a sheet within the limits.
func (r *reader) load(sheet string) (page, error) {
	p := page{name: sheet}
	rows, err := r.f.Rows(sheet)
	if err != nil {
		if errors.As(err, new(excelize.ErrSheetNotExist)) {
			return p, err
		}
		return p, nil // a sheet without cells, such as a chart
	}
	defer rows.Close()
	past := false
	for n := 1; rows.Next(); n++ {
		if r.scanned++; r.scanned > maxScanned {
			return p, fmt.Errorf("there are more than %d rows; a sign-off workbook is far smaller", maxScanned)
		}
		cols, err := rows.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return p, err
		}
		if len(cols) > maxColumns {
			if strings.Join(cols[maxColumns:], "") != "" {
				r.notice(true, fmt.Sprintf("%s!%s", sheet, cells.At(maxColumns+1, n)), "", "what stands behind column %s isn't read", cells.Column(maxColumns))
			}
			cols = cols[:maxColumns]
		}
		if n > maxRows {
			past = past || strings.Join(cols, "") != ""
			continue
		}
		if r.cells += len(cols); r.cells > maxCells {
			return p, fmt.Errorf("there are more than %d cells; a sign-off workbook is far smaller", maxCells)
		}
		p.rows = append(p.rows, slices.Clone(cols))
	}
	if past {
		r.notice(true, sheet, "", "what stands below row %d isn't read", maxRows)
	}
	return p, rows.Error()
}

// meta reads the hidden sheet.
func (r *reader) meta(p page) error {
	if v := p.at(1, 2); v != strconv.Itoa(metaVersion) {
		return fmt.Errorf("its hidden sheet has version %q; this program reads version %d", v, metaVersion)
	}
	r.own, r.seen = map[string]map[string]bool{}, map[string]bool{}
	h := sha256.New()
	sum, books := "", 0
	ids := map[string]bool{}
	for _, row := range p.rows {
		for len(row) > 0 && row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		if len(row) < 2 {
			continue
		}
		kind, parts := row[0], row[1:]
		if kind != kindSum {
			fmt.Fprintf(h, "%q %q\n", kind, parts)
		}
		var err error
		text := strings.Join(parts, "")
		switch kind {
		case magic:
		case kindBook:
			books++
			err = json.Unmarshal([]byte(text), &r.book)
		case kindWork, kindRest:
			var it signoff.Item
			if err = json.Unmarshal([]byte(text), &it); err != nil {
				break
			}
			if it.ID == "" || ids[it.ID] || !slices.Contains(check.Trades, it.Trade) {
				err = fmt.Errorf("item %q can't be read", it.ID)
				break
			}
			ids[it.ID] = true
			if kind == kindWork {
				r.book.Items = append(r.book.Items, it)
			} else {
				r.book.Rest = append(r.book.Rest, it)
			}
		case kindEarlier:
			var e signoff.Earlier
			err = json.Unmarshal([]byte(text), &e)
			r.book.Earlier = append(r.book.Earlier, e)
		case kindLoose:
			var l signoff.Loose
			err = json.Unmarshal([]byte(text), &l)
			r.book.Loose = append(r.book.Loose, l)
		case kindOwn:
			var sums []string
			err = json.Unmarshal([]byte(strings.Join(parts[min(2, len(parts)):], "")), &sums)
			set := map[string]bool{}
			for _, s := range sums {
				set[s] = true
			}
			r.own[parts[0]] = set
			if len(parts) > 1 {
				r.own["name "+parts[1]] = set
			}
		case kindSum:
			sum = text
		default:
			err = fmt.Errorf("row %q isn't known", kind)
		}
		if err != nil {
			return fmt.Errorf("its hidden sheet is damaged: %w", err)
		}
	}
	r.book.Notes = len(r.book.Loose)
	if books != 1 || r.book.Revision == "" || strings.Trim(r.book.Revision, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" || len(r.book.Revision) > 3 {
		return errors.New("its hidden sheet is damaged: site and revision can't be read")
	}
	if sum != hex.EncodeToString(h.Sum(nil)) {
		return errors.New("its hidden sheet is damaged or was edited; type the sign-offs into a fresh copy")
	}
	return nil
}

// heading folds a column's heading for comparison.
func heading(s string) string { return strings.ToLower(normal(s)) }

var headings = func() map[string]string {
	m := map[string]string{}
	for _, list := range [][]string{shown, signoff.Columns, {earlierColumn}} {
		for _, s := range list {
			m[heading(s)] = s
			m[heading(templates.British.Text(s))] = s
		}
	}
	return m
}()

// table says whether a row is the heading of a trade's table, and which column is which.
func table(row []string) (at map[int]string, ok bool) {
	at = map[int]string{}
	have := map[string]bool{}
	for i, c := range row {
		if name, known := headings[heading(c)]; known && !have[name] {
			at[i] = name
			have[name] = true
		}
	}
	n := 0
	for _, c := range signoff.Columns {
		if have[c] {
			n++
		}
	}
	return at, have["ID"] && n >= 4
}

// plainID folds an id as people may have retyped it.
func plainID(s string) string {
	s = strings.Map(func(r rune) rune {
		switch r {
		case '\u2010', '\u2011', '\u2012', '\u2013', '\u2212':
			return '-'
		}
		return r
	}, s)
	return strings.ToUpper(normal(s))
}

// page reads one sheet: sign-offs in tables, everything else as notes to keep.
func (r *reader) page(p page) {
	own, shows := r.own[print(normal(p.at(1, 1)))]
	if !shows {
		own, shows = r.own["name "+p.name]
	}
	for _, c := range r.comments(p.name) {
		r.loose(p.name+"!"+c.Cell, "", "remark: "+strings.TrimSpace(c.Author+" "+commentText(c)))
	}
	ours := map[string]bool{}
	for _, t := range check.Trades {
		for _, region := range []templates.Region{templates.US, templates.British} {
			for _, s := range titles(r.book, t, templates.In(region, r.words)) {
				ours[normal(cells.Clean(s))] = true
			}
		}
	}
	var at map[int]string
	for i, row := range p.rows {
		if !shows {
			if cols, ok := table(row); ok {
				at = cols
				r.others(p, i, row, cols)
				continue
			}
		}
		switch {
		case shows:
			for j, v := range row {
				if t := normal(v); t != "" && !own[print(t)] && !r.formula(p.name, i, j) {
					r.loose(where(p, i, j), "", v)
				}
			}
		case at == nil:
			for j, v := range row {
				if t := normal(v); t != "" && !ours[t] {
					r.loose(where(p, i, j), "", v)
				}
			}
		default:
			r.row(p, i, row, at)
		}
	}
}

func where(p page, i, j int) string { return p.name + "!" + cells.At(j+1, i+1) }

// others keeps headings that people added.
func (r *reader) others(p page, i int, row []string, at map[int]string) {
	for j, v := range row {
		if _, ours := at[j]; !ours && normal(v) != "" {
			r.loose(where(p, i, j), "", v)
		}
	}
}

// row reads one row below a table's heading.
func (r *reader) row(p page, i int, row []string, at map[int]string) {
	id, idCell := "", ""
	for j, v := range row {
		if at[j] == "ID" {
			id, idCell = plainID(v), where(p, i, j)
		}
	}
	var it *signoff.Item
	for k := range r.book.Items {
		if r.book.Items[k].ID == id {
			it = &r.book.Items[k]
		}
	}
	if it == nil {
		text := []string{}
		for _, v := range row {
			if normal(v) != "" {
				text = append(text, v)
			}
		}
		if len(text) == 0 {
			return
		}
		r.loose(fmt.Sprintf("%s!row %d", p.name, i+1), "", strings.Join(text, " | "))
		if id != "" {
			r.notice(true, idCell, "", "there is no item %q to be worked off in this workbook; its row is kept as a note and counts for nothing", id)
		}
		return
	}
	var m signoff.Mark
	places := map[string]string{}
	found := map[string]bool{}
	for _, j := range slices.Sorted(maps.Keys(at)) {
		name := at[j]
		found[name] = true
		v := ""
		if j < len(row) {
			v = row[j]
		}
		if field := m.Field(name); field != nil {
			*field = r.typed(p, i, j, name, v, it.ID)
			places[name] = where(p, i, j)
		}
	}
	var loose []string
	for j, v := range row {
		if normal(v) == "" {
			continue
		}
		name, known := at[j]
		if !known {
			r.loose(where(p, i, j), it.ID, v)
			continue
		}
		if is := r.expected(it, name); m.Field(name) == nil && name != "ID" && normal(v) != normal(cells.Clean(is)) {
			loose = append(loose, name)
			r.loose(where(p, i, j), it.ID, fmt.Sprintf("%s changed to %q", name, v))
		}
	}
	if len(loose) > 0 {
		r.notice(false, idCell, it.ID, "%s was edited by hand; what the survey says counts, the edit is kept as a note", strings.ToLower(strings.Join(loose, ", ")))
	}
	if !r.seen[it.ID] {
		r.seen[it.ID] = true
		it.Mark, it.Where, it.File, it.Cells = m, idCell, r.name, places
		for _, c := range signoff.Columns {
			if !found[c] {
				it.Blank = append(it.Blank, c)
			}
		}
		return
	}
	before := len(it.Others)
	it.Join(m)
	if len(it.Others) > before {
		r.notice(true, idCell, it.ID, "the item has a second row that says something else than %s; both are kept, neither counts", it.Where)
	} else {
		r.notice(false, idCell, it.ID, "the item has a second row; it says nothing else")
	}
}

// expected is what the program wrote into a locked column.
func (r *reader) expected(it *signoff.Item, name string) string {
	switch name {
	case "Verdict":
		return it.Verdict.String()
	case "Item":
		return cells.Fit(it.Title, cells.Max-1)
	case "What to do":
		return cells.Fit(it.Action, cells.Max-1)
	case "Required":
		return cells.Fit(it.Want, cells.Max-1)
	case "Found":
		return cells.Fit(it.Have, cells.Max-1)
	case "By when":
		return it.Stage
	case earlierColumn:
		return cells.Fit(r.book.EarlierOf(it.ID), 2000)
	}
	return ""
}

// typed reads one sign-off cell.
func (r *reader) typed(p page, i, j int, name, v, id string) string {
	v = strings.TrimSpace(cells.Clean(v))
	if v == "" {
		if r.formula(p.name, i, j) {
			r.notice(true, where(p, i, j), id, "a formula without a value stands under %q; open the workbook in an office program and save it, or type the value", strings.ToLower(name))
		}
		return ""
	}
	if name != "Date" && name != "Due" {
		return v
	}
	if n, err := strconv.ParseFloat(v, 64); err == nil {
		if iso, err := signoff.ParseDate(v); err == nil { // 20261125
			return iso
		}
		if n >= 32_000 && n < 120_000 || r.date1904 && n >= 30_000 && n < 120_000 {
			if t, err := excelize.ExcelDateToTime(n, r.date1904); err == nil {
				return t.Format(time.DateOnly)
			}
		}
		return v
	}
	if iso, err := signoff.ParseDate(v); err == nil {
		return iso
	}
	return v
}

func (r *reader) formula(sheet string, i, j int) bool {
	f, err := r.f.GetCellFormula(sheet, cells.At(j+1, i+1))
	return err == nil && f != ""
}

// loose keeps what people wrote outside the sign-off cells.
func (r *reader) loose(where, id, text string) {
	text = strings.TrimSpace(cells.Clean(text))
	if text == "" || r.full {
		return
	}
	l := signoff.Loose{Revision: r.book.Revision, Where: where, ID: id, Text: text}
	if slices.Contains(r.book.Loose, l) {
		return
	}
	if len(r.book.Loose) >= maxLoose {
		r.full = true
		r.notice(true, where, "", "more than %d notes stand outside the sign-off cells; those from here on aren't kept", maxLoose)
		return
	}
	r.book.Loose = append(r.book.Loose, l)
}

// comments reads the remarks attached to a sheet's cells.
func (r *reader) comments(sheet string) []excelize.Comment {
	cs, err := r.f.GetComments(sheet)
	if err != nil {
		return nil
	}
	slices.SortFunc(cs, func(a, b excelize.Comment) int { return strings.Compare(a.Cell, b.Cell) })
	return cs
}

func commentText(c excelize.Comment) string {
	text := c.Text
	for _, p := range c.Paragraph {
		text += p.Text
	}
	return text
}

// close looks for what is missing once all sheets are read.
func (r *reader) close() {
	for i := range r.book.Items {
		it := &r.book.Items[i]
		if r.seen[it.ID] {
			if len(it.Blank) > 0 {
				r.notice(true, it.Where, it.ID, "columns not found on this sheet: %s; what they held can't be read", strings.ToLower(strings.Join(it.Blank, ", ")))
			}
			continue
		}
		it.Gone = true
		it.File = r.name
		text := "its row isn't there any more; the item counts as open"
		if !it.Issued.Empty() {
			text += fmt.Sprintf(", and the sign-off that the workbook was issued with is kept: %s", it.Issued)
		}
		r.notice(true, "", it.ID, "%s", text)
	}
}
