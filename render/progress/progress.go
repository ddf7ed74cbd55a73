// Package progress shows where the sign-offs of workbooks stand, and what
// changed between two: as text in 80 columns, as JSON, and as CSV. Start with
// [Reports] and [Compare].
package progress

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"

	"firstfill/specs/signoff"
)

// A Printer writes itself in each format.
type Printer interface {
	Text(io.Writer) error
	JSON(io.Writer) error
	CSV(io.Writer) error
}

// A Report is one workbook with where its items stand.
type Report struct {
	signoff.Copy
	signoff.Progress
}

// Reports are the workbooks in the order in which they are printed.
type Reports []Report

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

func writeCSV(w io.Writer, rows [][]string) error { return csv.NewWriter(w).WriteAll(plainCells(rows)) }

// plainCells keeps spreadsheet programs from taking people's text for formulas.
func plainCells(rows [][]string) [][]string {
	for _, row := range rows {
		for i, s := range row {
			if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
				row[i] = "'" + s
			}
		}
	}
	return rows
}
