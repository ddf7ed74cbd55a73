package forms

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

// Limits on a form that is read. Unzipping without them takes gigabytes.
const (
	maxFormBytes = 8 << 20
	maxFormRows  = 2000
	maxFormCols  = 60
)

// Is says whether data looks like a workbook, by its zip signature.
func Is(data []byte) bool { return bytes.HasPrefix(data, []byte("PK\x03\x04")) }

// Load reads a filled workbook form. A problem's place is a cell, "Water!C14".
// Answers are found by the hidden names on each sheet, never by position.
func Load(file string, data []byte) (s *survey.Survey, problems doc.Problems) {
	fault := func(format string, args ...any) doc.Problems {
		return doc.Problems{{Pos: doc.Pos{File: file}, Message: fmt.Sprintf(format, args...)}}
	}
	defer func() {
		if p := recover(); p != nil {
			s, problems = nil, fault("the workbook is damaged (%v)", p)
		}
	}()
	if len(data) > maxFormBytes {
		return nil, fault("the workbook has %d bytes; at most %d are read", len(data), maxFormBytes)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: 64 << 20, UnzipXMLSizeLimit: 16 << 20, RawCellValue: true})
	if err != nil {
		return nil, fault("the workbook can't be read: %v", err)
	}
	defer f.Close()
	r := &formReader{file: file, f: f, seen: map[string]string{}, asked: map[string]doc.Pos{}}
	for i, sheet := range f.GetSheetList() {
		r.page = i + 1
		r.sheet(sheet)
	}
	if r.known == 0 {
		return nil, fault("this workbook is not a filled questionnaire; make one with \"firstfill form --as xlsx\"")
	}
	entries := append([]doc.Entry{{Path: "survey", Text: strconv.Itoa(survey.Version), Pos: doc.Pos{File: file}}}, r.entries...)
	s, more := survey.Assemble(file, entries)
	for i, p := range more { // what is missing has no place of its own, but its question has
		if at, ok := r.asked[p.Path]; ok && p.Pos.Cell == "" {
			more[i].Pos = at
		}
	}
	problems = append(r.problems, more...)
	problems.Sort()
	return s, problems
}

type formReader struct {
	file     string
	f        *excelize.File
	entries  []doc.Entry
	problems doc.Problems
	page     int                // the sheet that is read, from 1
	known    int                // questions of ours that were found
	seen     map[string]string  // the cell of each answer by path
	asked    map[string]doc.Pos // where each question is answered
}

// fault says that one entry can't be taken; the others stand.
func (r *formReader) fault(pos doc.Pos, path, format string, args ...any) {
	r.problems = append(r.problems, doc.Problem{Pos: pos, Path: path, Message: fmt.Sprintf(format, args...), Reach: doc.Dropped})
}

func (r *formReader) at(sheet string, col, row int) doc.Pos {
	name, err := excelize.ColumnNumberToName(col)
	if err != nil {
		name = "?"
	}
	return doc.Pos{File: r.file, Cell: sheet + "!" + cell(name, row), Page: r.page, Line: row, Col: col}
}

// sheet reads one sheet: a question sheet has a column of paths under the
// heading Name, a list sheet its path in A3.
func (r *formReader) sheet(sheet string) {
	rows, err := r.rows(sheet)
	if err != nil {
		r.problems = append(r.problems, doc.Problem{Pos: doc.Pos{File: r.file, Cell: sheet, Page: r.page}, Message: fmt.Sprintf("the sheet can't be read: %v", err)})
		return
	}
	for i, row := range rows {
		head := map[string]int{}
		for j, c := range row {
			if _, dup := head[c]; !dup {
				head[c] = j
			}
		}
		_, hasAsk := head["Question"]
		name, hasName := head["Name"]
		answer, hasAnswer := head["Answer"]
		if hasAsk && hasName && hasAnswer {
			r.questions(sheet, rows[i+1:], i+2, name, answer, head)
			return
		}
		if len(row) > 1 && survey.HasField(row[0]) && survey.FieldAt(row[0]).List {
			r.list(sheet, survey.FieldAt(row[0]), row, rows[i+1:], i+2)
			return
		}
	}
}

// rows reads a sheet up to the limits; ragged rows are as they are.
func (r *formReader) rows(sheet string) ([][]string, error) {
	it, err := r.f.Rows(sheet)
	if err != nil {
		return nil, err
	}
	defer it.Close()
	var rows [][]string
	for it.Next() {
		if len(rows) >= maxFormRows {
			return nil, fmt.Errorf("more than %d rows", maxFormRows)
		}
		cols, err := it.Columns()
		if err != nil {
			return nil, err
		}
		rows = append(rows, cols[:min(len(cols), maxFormCols)])
	}
	return rows, it.Error()
}

func get(row []string, i int) string {
	if i < 0 || i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}

func (r *formReader) questions(sheet string, rows [][]string, first, name, answer int, head map[string]int) {
	col := func(h string) int {
		if i, ok := head[h]; ok {
			return i
		}
		return -1
	}
	unit, note := col("Unit"), col("Remark")
	for i, row := range rows {
		path := get(row, name)
		pos := r.at(sheet, answer+1, first+i)
		if path == "" {
			if text := get(row, answer); text != "" {
				r.fault(pos, "", "%q answers no question of this form; write it beside its question, or in a remark", text)
			}
			continue
		}
		if !survey.HasField(path) {
			r.fault(r.at(sheet, name+1, first+i), path, "there is no question of this name; was the hidden column changed?")
			continue
		}
		r.known++
		r.asked[path] = pos
		text := get(row, answer)
		if text != "" {
			if first, dup := r.seen[path]; dup {
				r.fault(pos, path, "answered twice; the first answer is in %s", first)
				r.entries = slices.DeleteFunc(r.entries, func(e doc.Entry) bool { return e.Path == path }) // nobody knows which holds
				continue
			}
			r.seen[path] = pos.Cell
		}
		if text == "" {
			if remark := get(row, note); remark != "" {
				r.entries = append(r.entries, doc.Entry{Path: path, Text: "unknown", Note: remark, Pos: pos})
			}
			continue
		}
		r.entry(survey.FieldAt(path), path, text, get(row, unit), get(row, note), pos)
	}
}

// entry takes one answer as typed; a bare number gets the unit shown beside it.
func (r *formReader) entry(f survey.Field, path, text, unit, note string, pos doc.Pos) {
	if _, ok := f.Zero().(*survey.Date); ok {
		text = dateText(text)
	}
	text, err := f.WithUnit(text, unit)
	if err != nil {
		r.fault(pos, path, "%v", err)
		return
	}
	e := doc.Entry{Path: path, Text: text, Note: note, Pos: pos}
	if before, after, ok := strings.Cut(note, "source: "); ok {
		e.Note, e.Source = strings.TrimSpace(before), strings.TrimSpace(after)
	}
	r.entries = append(r.entries, e)
}

// dateText turns a spreadsheet's day number into a date; other text stays.
func dateText(text string) string {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || n < 20_000 || n > 120_000 {
		return text
	}
	t, err := excelize.ExcelDateToTime(n, false)
	if err != nil {
		return text
	}
	return t.Format(time.DateOnly)
}

// list reads a list sheet: names in one row, headings with units below it, then items.
func (r *formReader) list(sheet string, l survey.Field, names []string, rows [][]string, first int) {
	r.known++
	if len(rows) == 0 {
		return
	}
	headings := rows[0]
	n := 0
	for i, row := range rows[1:] {
		line := first + 1 + i
		if get(row, 0) == "[]" || get(row, 1) == "nothing to list" {
			if strings.EqualFold(get(row, 2), "yes") {
				pos := r.at(sheet, 3, line)
				if n > 0 {
					r.fault(pos, l.Path, "it says nothing to list, and %d items are listed", n)
				} else {
					r.entries = append(r.entries, doc.Entry{Path: l.Path, Text: doc.EmptyList, Pos: pos})
				}
			}
			continue
		}
		any := false
		remark, remarkAt := "", doc.Pos{}
		start := len(r.entries)
		for j := 1; j < len(row); j++ {
			text := get(row, j)
			name := get(names, j)
			pos := r.at(sheet, j+1, line)
			switch {
			case text == "":
				continue
			case name == "":
				r.fault(pos, "", "%q stands in a column of its own; write it into a box of this list, or in a remark", text)
				continue
			case name == itemRemark:
				remark, remarkAt = text, pos
				continue
			}
			plain := l.Path + "[]." + name
			path := fmt.Sprintf("%s[%d].%s", l.Path, n, name)
			if !survey.HasField(plain) {
				r.fault(pos, path, "there is no question of this name; was the hidden row changed?")
				continue
			}
			any = true
			f := survey.FieldAt(plain)
			r.entry(f, path, text, bracketed(get(headings, j)), "", pos)
		}
		if remark != "" && !r.remark(r.entries[start:], remark) {
			r.fault(remarkAt, "", "the remark belongs to no item; describe the item in its boxes first")
		}
		if any {
			n++
		}
	}
}

// remark shares an item's remark out: a line that starts with an answer's name, or its name
// and "source", goes to that answer, all else to the one before it, at first to the item's first
// answer. It says whether there was an answer to take it.
func (r *formReader) remark(item []doc.Entry, text string) bool {
	if len(item) == 0 {
		return false
	}
	to := &item[0].Note
	for line := range strings.SplitSeq(text, "\n") {
		line = strings.TrimSpace(line)
		if head, rest, ok := strings.Cut(line, ": "); ok {
			name, source := strings.CutSuffix(head, " source")
			for i := range item {
				if strings.HasSuffix(item[i].Path, "]."+name) {
					line, to = rest, &item[i].Note
					if source {
						to = &item[i].Source
					}
				}
			}
		}
		if *to != "" {
			line = *to + "\n" + line
		}
		*to = line
	}
	return true
}

// bracketed returns the unit that a heading shows in brackets.
func bracketed(heading string) string {
	_, after, ok := strings.Cut(heading, "[")
	if !ok {
		return ""
	}
	unit, _, _ := strings.Cut(after, "]")
	return unit
}
