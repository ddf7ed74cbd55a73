// Package cells holds what every workbook that we write needs of its cells:
// their names, and text that fits into them and stays what it is.
package cells

import (
	"regexp"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// Max is how many UTF-16 units a cell holds; the library cuts silently behind it.
const Max = 32_767

// At names a cell by column and row, both from 1: At(2, 3) is "B3".
func At(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		panic("cells: " + err.Error()) // columns and rows are ours
	}
	return name
}

// Column names a column, from 1.
func Column(col int) string {
	name, err := excelize.ColumnNumberToName(col)
	if err != nil {
		panic("cells: " + err.Error())
	}
	return name
}

// Clean makes text fit for a cell: no control characters but line feeds, valid
// UTF-8, nothing that XML can't hold.
func Clean(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t', r == '\r', r == '\u202f', r == '\u2028', r == '\u2029':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff, r == '\ufeff':
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// Escape keeps a literal such as _x0041_ from being read as the letter that it
// stands for in this file format: its first underscore is written as _x005F_.
func Escape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		if s[i] == '_' && escaped.MatchString(s[i:]) {
			b.WriteString("_x005F")
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

var escaped = regexp.MustCompile(`^_x[0-9a-fA-F]{4}_`)

// Fit cuts text to fewer than so many UTF-16 units, for a cell that only shows what is kept elsewhere.
func Fit(s string, units int) string {
	n := 0
	for i, r := range s {
		n += utf16.RuneLen(r)
		if n >= units {
			return s[:i] + "…"
		}
	}
	return s
}

// Freeze keeps the rows above and the columns left of a cell in sight.
func Freeze(f *excelize.File, sheet, corner string) error {
	col, row, err := excelize.CellNameToCoordinates(corner)
	if err != nil {
		return err
	}
	pane := "bottomRight"
	if col == 1 {
		pane = "bottomLeft"
	}
	return f.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: col - 1, YSplit: row - 1, TopLeftCell: corner, ActivePane: pane,
		Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}}})
}
