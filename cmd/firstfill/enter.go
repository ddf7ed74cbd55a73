package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/terminal"
	"firstfill/render/workbook"
	"firstfill/specs/signoff"
	"firstfill/survey/quantity/doc"
)

// entered are the columns of a table typed from paper, and where they go.
var entered = map[string]string{
	"id": "", "status": "Status", "name": "Done by", "done by": "Done by", "company": "Company", "license": "License", "licence": "License",
	"date": "Date", "due": "Due", "reading": "Reading", "note": "Note",
}

// maxEntered bounds a table typed from paper.
const maxEntered = 2000

// enter writes what was typed from a signed sheet into its workbook.
func (c *signoffCmd) enter(a *app, f found) (found, error) {
	name, data := "standard input", []byte(nil)
	var err error
	if c.Enter == "-" {
		data, err = doc.ReadAll(a.in, doc.MaxBytes)
	} else if name = c.Enter; true {
		data, err = readFile(c.Enter)
	}
	if err != nil {
		return f, err
	}
	entries, problems := typed(name, data)
	if len(problems) > 0 {
		return f, inputError{problems}
	}
	out, conflicts, err := workbook.Enter(f.File, f.data, entries)
	if err != nil {
		return f, inputError{fmt.Errorf("nothing is written: %w", err)}
	}
	file := c.Output
	if file == "" {
		file = f.File
		if err := setAside(f); err != nil {
			return f, err
		}
	}
	if err := write(file, out, c.Output == ""); err != nil {
		return f, err
	}
	for _, where := range conflicts {
		warn(a.err, "%s: other words stand in the workbook already; both are kept, neither counts until one is taken out", where)
	}
	talk(a.err, "written: %s, %s typed in", file, terminal.Plural(len(entries), "row", "rows"))
	again, err := readBook(file)
	if err != nil {
		return f, err
	}
	return again, nil
}

// setAside keeps a workbook in the folder replaced before it is written anew.
func setAside(f found) error {
	name := strings.TrimSuffix(filepath.Base(f.File), ".xlsx") + "-" + f.Book.Sum[:min(8, len(f.Book.Sum))] + ".xlsx"
	file := filepath.Join(filepath.Dir(f.File), "replaced", name)
	if old, err := os.ReadFile(file); err == nil && bytes.Equal(old, f.data) {
		return nil
	}
	return write(file, f.data, false)
}

// typed reads a table typed from paper. Every fault is told with its place.
func typed(name string, data []byte) (entries []workbook.Entry, problems doc.Problems) {
	fault := func(line, col int, format string, args ...any) {
		problems = append(problems, doc.Problem{Pos: doc.Pos{File: name, Line: line, Col: col}, Message: fmt.Sprintf(format, args...)})
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord, r.TrimLeadingSpace = -1, true
	rows, err := r.ReadAll()
	var broken *csv.ParseError
	switch {
	case errors.As(err, &broken):
		fault(broken.Line, broken.Column, "this isn't a table with commas: %v", broken.Err)
		return nil, problems
	case len(rows) < 2:
		fault(1, 1, "the table is empty; its first line is: id,status,name,date,reading,note")
		return nil, problems
	case len(rows) > maxEntered:
		fault(maxEntered, 1, "the table has more than %d rows", maxEntered)
		return nil, problems
	}
	var heads []string
	for j, h := range rows[0] {
		h = strings.ToLower(strings.TrimSpace(h))
		if _, ok := entered[h]; !ok {
			fault(1, j+1, "there is no column %q; there are id, status, name, company, license, date, due, reading and note", h)
		}
		heads = append(heads, h)
	}
	if !slices.Contains(heads, "id") {
		fault(1, 1, "the table has no column id")
	}
	for i, row := range rows[1:] {
		e := workbook.Entry{Where: fmt.Sprintf("%s:%d", name, i+2)}
		for j, v := range row {
			v = strings.TrimSpace(v)
			switch {
			case j >= len(heads):
				if v != "" {
					fault(i+2, j+1, "%q stands beside the table; write it in the note", v)
				}
			case heads[j] == "id":
				e.ID = strings.ToUpper(v)
			case entered[heads[j]] != "":
				*e.Mark.Field(entered[heads[j]]) = v
			}
		}
		_, known := signoff.ParseStatus(e.Mark.Status)
		_, dated := signoff.ParseDate(e.Mark.Date)
		_, due := signoff.ParseDate(e.Mark.Due)
		switch {
		case e.ID == "" && e.Mark.Empty():
			continue
		case e.ID == "":
			fault(i+2, 1, "the row has no id")
		case !known:
			fault(i+2, 1, "%q is not a status; write open, in progress, done or not needed", e.Mark.Status)
		case dated != nil:
			fault(i+2, 1, "date: %v", dated)
		case due != nil:
			fault(i+2, 1, "due: %v", due)
		}
		entries = append(entries, e)
	}
	return entries, problems
}
