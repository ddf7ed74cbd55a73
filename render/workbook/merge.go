package workbook

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/specs/signoff"
)

// Merge writes what several copies of one revision's workbook hold into the
// first of them, and reads it back: the file holds every word of every copy, or
// there is an error. What disagrees stands in rows of its own below the table,
// under the item's id, where it counts for nothing until somebody chooses;
// notes from outside the tables stand there too, with where they stood.
func Merge(name string, data []byte, copies []signoff.Book) ([]byte, error) {
	own, _, err := Read(name, data)
	if err != nil {
		return nil, err
	}
	merged := own
	for _, c := range copies {
		merged = signoff.Merge(merged, c)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	defer f.Close()
	m := merger{f: f, last: map[string]int{}}
	for _, it := range merged.Items {
		was := own.Item(it.ID)
		if was == nil || was.Where == "" {
			if !it.Mark.Empty() {
				return nil, fmt.Errorf("%s has no row for %s, of which another copy says: %s", name, it.ID, it.Mark)
			}
			continue
		}
		if it.Mark != was.Mark {
			m.write(was.Cells, 0, it.Mark)
		}
		for _, o := range it.Others {
			if !slices.Contains(was.Others, o) {
				m.below(*was, o)
			}
		}
	}
	for _, l := range merged.Loose {
		if !slices.Contains(own.Loose, l) {
			m.note(l)
		}
	}
	if m.err == nil {
		m.err = f.UpdateLinkedValue() // the sheets that show the others are worked out anew
	}
	if m.err != nil {
		return nil, fmt.Errorf("joining into %s: %w", name, m.err)
	}
	out, err := m.bytes()
	if err != nil {
		return nil, fmt.Errorf("joining into %s: %w", name, err)
	}
	back, _, err := Read(name, out)
	if err != nil {
		return nil, fmt.Errorf("reading what was joined: %w", err)
	}
	return out, holdsAll(back, append([]signoff.Book{own}, copies...))
}

// holdsAll is nil when a book holds every word that people wrote in the copies.
func holdsAll(book signoff.Book, copies []signoff.Book) error {
	for _, c := range copies {
		for _, it := range c.Items {
			for _, m := range append([]signoff.Mark{it.Mark}, it.Others...) {
				got := book.Item(it.ID)
				if m.Empty() || got != nil && (got.Mark.Keeps(m) || slices.ContainsFunc(got.Others, func(o signoff.Mark) bool { return o.Keeps(m) })) {
					continue
				}
				return fmt.Errorf("%s would be lost of %s", m, it.ID)
			}
		}
		for _, l := range c.Loose {
			if !slices.ContainsFunc(book.Loose, func(o signoff.Loose) bool { return strings.Contains(o.Text, l.Text) }) {
				return fmt.Errorf("the note %q of %s would be lost", l.Text, l.Where)
			}
		}
	}
	return nil
}

// A merger writes into a workbook; the first error stops it.
type merger struct {
	f    *excelize.File
	last map[string]int // the lowest row that is taken, by sheet
	err  error
}

func (m *merger) do(err error) {
	if m.err == nil {
		m.err = err
	}
}

// write puts a mark into the cells of an item's columns, or into the same
// columns of another row.
func (m *merger) write(places map[string]string, row int, mark signoff.Mark) {
	for _, column := range signoff.Columns {
		sheet, at, ok := strings.Cut(places[column], "!")
		text := *mark.Field(column)
		if !ok || text == "" && row > 0 {
			continue
		}
		if row > 0 {
			col, _, err := excelize.CellNameToCoordinates(at)
			if err != nil {
				m.do(err)
				continue
			}
			at = cells.At(col, row)
		}
		if n, isDay := serial(text); isDay && (column == "Date" || column == "Due") && row == 0 {
			m.do(m.f.SetCellInt(sheet, at, int64(n)))
			continue
		}
		m.do(m.f.SetCellStr(sheet, at, cells.Escape(cells.Clean(text))))
	}
}

// next is the next free row of a sheet, below all that stands there.
func (m *merger) next(sheet string) int {
	if m.last[sheet] == 0 {
		rows, err := m.f.GetRows(sheet)
		m.do(err)
		m.last[sheet] = len(rows)
	}
	m.last[sheet]++
	return m.last[sheet]
}

// below adds a row that says something else of an item.
func (m *merger) below(it signoff.Item, mark signoff.Mark) {
	sheet, at, _ := strings.Cut(it.Where, "!")
	col, _, err := excelize.CellNameToCoordinates(at)
	if err != nil {
		m.do(err)
		return
	}
	row := m.next(sheet)
	m.do(m.f.SetCellStr(sheet, cells.At(col, row), it.ID))
	m.write(it.Cells, row, mark)
}

// note adds a row with what stood outside the tables of another copy.
func (m *merger) note(l signoff.Loose) {
	sheet, _, _ := strings.Cut(l.Where, "!")
	if i, err := m.f.GetSheetIndex(sheet); err != nil || i < 0 {
		sheet = m.f.GetSheetName(m.f.GetActiveSheetIndex())
	}
	text := l.Where + ": " + l.Text
	if l.ID != "" {
		text = l.ID + ", " + text
	}
	m.do(m.f.SetCellStr(sheet, cells.At(3, m.next(sheet)), cells.Escape(cells.Clean(text))))
}

// An Entry is what somebody typed of one item from paper.
type Entry struct {
	Where string // "ticks.csv:3"
	ID    string
	Mark  signoff.Mark
}

// Enter writes what was typed from paper into a workbook, and reads it back.
// Where other words stand already nothing is written over: the entry gets a row
// of its own, and its place is among the conflicts.
func Enter(name string, data []byte, entries []Entry) (out []byte, conflicts []string, err error) {
	own, _, err := Read(name, data)
	if err != nil {
		return nil, nil, err
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		return nil, nil, fmt.Errorf("reading %s: %w", name, err)
	}
	defer f.Close()
	m := merger{f: f, last: map[string]int{}}
	for _, e := range entries {
		it := own.Item(e.ID)
		if it == nil || it.Where == "" {
			return nil, nil, fmt.Errorf("%s: %s has no row %q to be worked off", e.Where, name, e.ID)
		}
		together, ok := it.Mark.With(e.Mark)
		if !ok {
			conflicts = append(conflicts, e.Where)
			m.below(*it, e.Mark)
			continue
		}
		it.Mark = together
		m.write(it.Cells, 0, together)
	}
	if m.err == nil {
		m.err = f.UpdateLinkedValue()
	}
	if m.err != nil {
		return nil, nil, fmt.Errorf("writing into %s: %w", name, m.err)
	}
	if out, err = m.bytes(); err != nil {
		return nil, nil, fmt.Errorf("writing into %s: %w", name, err)
	}
	back, _, err := Read(name, out)
	if err != nil {
		return nil, nil, fmt.Errorf("reading what was written: %w", err)
	}
	before, _, err := Read(name, data)
	if err != nil {
		return nil, nil, err
	}
	typed := signoff.Book{}
	for _, e := range entries {
		typed.Items = append(typed.Items, signoff.Item{ID: e.ID, Mark: e.Mark})
	}
	return out, conflicts, holdsAll(back, []signoff.Book{before, typed})
}

func (m *merger) bytes() ([]byte, error) {
	var b bytes.Buffer
	if err := m.f.Write(&b); err != nil {
		return nil, err
	}
	return (&writer{}).fill(b.Bytes())
}
