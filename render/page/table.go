package page

import (
	"fmt"
	"strings"
)

// Column is one column of a table.
type Column struct {
	Head  string
	Width float64 // millimetres; 0 shares what the others leave
	Flex  float64 // share of what is left, 1 when zero
	Align Align
}

// Cell is one field of a table. Its parts are printed from top to bottom:
// verdict, text (with a tick box before it), note, writing lines.
type Cell struct {
	Text    string
	Was     string // an earlier text, struck through, before the text
	Bold    bool
	Size    float64 // points; the table's size when zero
	Note    string  // small print under the text
	Verdict Verdict
	Tick    bool   // a box to tick, before the text
	Lines   int    // blank writing lines
	Link    string // anchor the cell leads to
	Field   string // named in warnings
}

// T is a cell of text, B of bold text, TN of text with a note, Go of a link.
func T(text string) Cell      { return Cell{Text: text} }
func B(text string) Cell      { return Cell{Text: text, Bold: true} }
func TN(text, n string) Cell  { return Cell{Text: text, Note: n} }
func Go(text, to string) Cell { return Cell{Text: text, Link: to} }

// Row is one row of a table.
type Row struct {
	Cells     []Cell
	Group     bool    // a heading inside the table: its first cell spans all columns and stays with the next row
	Anchor    string  // name for references
	MinHeight float64 // millimetres
	Bar       bool    // a bar beside the row: it changed since the revision before
}

// Table is a table with a header row that is repeated on each page.
type Table struct {
	Columns []Column
	Rows    []Row
	Size    float64 // points; 8.5 when zero
	Lines   bool    // also rule between the columns, for forms to fill in
	Tight   bool    // less air, for long lists of one-line rows
}

const (
	cellPadX = 1.7
	cellPadY = 1.45
)

// padY is the air above and below a row's text.
func (t Table) padY() float64 {
	if t.Tight {
		return 0.4
	}
	return cellPadY
}

// piece is one unbreakable strip of a cell.
type piece struct {
	h    float64
	draw func(x, y, w float64)
}

type laidRow struct {
	cells  [][]piece
	h      float64
	group  bool
	bar    bool
	anchor string
}

// Table prints a table. A row goes to the next page rather than being cut,
// unless it is taller than about a third of a page; the first and the last two
// rows stay together, and so does a group heading with its first row.
func (d *Doc) Table(t Table) {
	if len(t.Columns) == 0 {
		return
	}
	if t.Size == 0 {
		t.Size = cellStyle.Size
	}
	widths := d.columns(t.Columns)
	head, headH := d.tableHead(t, widths)
	rows := make([]laidRow, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = d.layRow(t, r, widths)
	}
	n := len(rows)
	if n == 0 {
		d.reserve(headH)
		d.drawHead(t, head, headH, widths)
		d.y += 3.5
		return
	}

	body := d.BodyHeight() - headH
	tall := body * 0.36
	glue := make([]bool, n) // row i stays with row i+1
	for i := range rows {
		if i+1 < n && (rows[i].group || i == 0 || i == n-2) {
			glue[i] = true
		}
	}
	headDone := false
	newPage := func() {
		d.closeTable()
		d.newPage()
		d.drawHead(t, head, headH, widths)
	}
	for i := 0; i < n; {
		end := i + 1
		for end < n && glue[end-1] {
			end++
		}
		need := 0.0
		for k, r := range rows[i:end] {
			need += min(r.h, tall)
			if k == 0 && r.h > tall {
				break
			}
		}
		if need > body {
			need = min(rows[i].h, tall)
			end = i + 1
		}
		if !headDone {
			d.reserve(headH + need)
			d.drawHead(t, head, headH, widths)
			headDone = true
		} else if d.y+need > d.bot+0.001 {
			newPage()
		}
		for ; i < end; i++ {
			r := rows[i]
			if d.y+r.h > d.bot+0.001 && r.h <= tall {
				newPage()
			}
			if r.anchor != "" {
				d.setAnchor(r.anchor)
			}
			d.drawRow(t, r, widths, newPage)
		}
	}
	d.closeTable()
	d.y += 3
}

// columns shares the width of the body out.
func (d *Doc) columns(cols []Column) []float64 {
	total := d.Width()
	widths := make([]float64, len(cols))
	fixed, flex := 0.0, 0.0
	for i, c := range cols {
		if c.Width > 0 {
			widths[i] = c.Width
			fixed += c.Width
		} else {
			if c.Flex <= 0 {
				c.Flex = 1
			}
			widths[i] = -c.Flex
			flex += c.Flex
		}
	}
	const least = 12.0
	room := total - fixed
	if flex > 0 && room < least*flex || flex == 0 && fixed > total+0.01 {
		d.Warn("", fmt.Sprintf("table columns of %.0f mm do not fit %.0f mm and were narrowed", fixed, total))
		want := total
		if flex > 0 {
			want = total * 0.6
		}
		scale := want / fixed
		for i := range widths {
			if widths[i] > 0 {
				widths[i] *= scale
			}
		}
		room = total - want
	}
	for i := range widths {
		if widths[i] < 0 {
			widths[i] = room * -widths[i] / flex
		}
	}
	return widths
}

var tableHeadStyle = Style{Size: 7.5, Bold: true, Leading: 1.22}

func (d *Doc) tableHead(t Table, widths []float64) ([][]string, float64) {
	out := make([][]string, len(widths))
	most := 0
	for i, c := range t.Columns {
		w := max(1, widths[i]-2*cellPadX)
		out[i] = d.wrap(d.Clean("column", c.Head), w, tableHeadStyle)
		if len(out[i]) > 4 {
			out[i] = append(out[i][:3:3], d.fit(strings.Join(out[i][3:], " "), w, tableHeadStyle))
		}
		if c.Head != "" {
			most = max(most, len(out[i]))
		}
	}
	if most == 0 {
		return out, 0.4
	}
	return out, float64(most)*tableHeadStyle.line() + 1.6
}

func (d *Doc) drawHead(t Table, head [][]string, h float64, widths []float64) {
	x := d.left
	if h > 1 {
		d.tint()
		d.pdf.Rect(d.left, d.y, d.Width(), h, "F")
	}
	for i, lines := range head {
		st := tableHeadStyle
		st.Align = t.Columns[i].Align
		y := d.y + h - 0.8 - float64(len(lines))*st.line() // stand on the rule
		for _, s := range lines {
			d.drawLine(s, Rect{x + cellPadX, y, widths[i] - 2*cellPadX, st.line()}, st)
			y += st.line()
		}
		x += widths[i]
	}
	d.y += h
	d.stroke(0.4, 0)
	d.pdf.Line(d.left, d.y, d.left+d.Width(), d.y)
}

func (d *Doc) layRow(t Table, r Row, widths []float64) laidRow {
	out := laidRow{group: r.Group, bar: r.Bar, anchor: r.Anchor}
	if r.Group {
		c := Cell{}
		if len(r.Cells) > 0 {
			c = r.Cells[0]
		}
		c.Bold = true
		out.cells = [][]piece{d.layCell(t, c, d.Width()-2*cellPadX, Left)}
	} else {
		if len(r.Cells) > len(widths) {
			d.Warn("", fmt.Sprintf("table row has %d cells for %d columns", len(r.Cells), len(widths)))
		}
		for i, w := range widths {
			var c Cell
			if i < len(r.Cells) {
				c = r.Cells[i]
			}
			out.cells = append(out.cells, d.layCell(t, c, max(1, w-2*cellPadX), t.Columns[i].Align))
		}
	}
	for _, c := range out.cells {
		h := 0.0
		for _, p := range c {
			h += p.h
		}
		out.h = max(out.h, h)
	}
	out.h = max(out.h+2*t.padY(), r.MinHeight, 5)
	return out
}

func (d *Doc) layCell(t Table, c Cell, w float64, align Align) []piece {
	var out []piece
	st := cellStyle
	st.Size, st.Bold, st.Align = t.Size, c.Bold, align
	if c.Size > 0 {
		st.Size = c.Size
	}
	text := func(s string, st Style, indent float64, box bool) piece {
		return piece{st.line(), func(x, y, w float64) {
			if box {
				d.TickBox(x+0.1, y+(st.line()-3.6)/2, 3.6)
			}
			r := Rect{x + indent, y, w - indent, st.line()}
			d.drawLine(s, r, st)
			if c.Link != "" {
				d.link(c.Link, Rect{x, y, w, st.line()})
			}
		}}
	}
	if c.Verdict != "" {
		v := c.Verdict
		size := 4.0
		if t.Tight {
			size = 3.5
		}
		for size > 2 && VerdictWidth(size, v) > w {
			size -= 0.1
		}
		out = append(out, piece{size + 0.4, func(x, y, w float64) {
			d.Verdict(x, y, size, v)
			if c.Link != "" {
				d.link(c.Link, Rect{x, y, w, size})
			}
		}})
	}
	indent := 0.0
	if c.Tick {
		indent = min(5.4, w/2)
	}
	if s := d.Clean(c.Field, c.Was); s != "" {
		old := st
		old.Bold = false
		for _, l := range d.wrap(s, w, old) {
			out = append(out, piece{old.line(), func(x, y, w float64) {
				d.drawLine(l, Rect{x, y, w, old.line()}, old)
				d.stroke(0.3, 0)
				mid := y + old.line()*0.52
				d.pdf.Line(x, mid, x+TextWidth(l, old), mid)
			}})
		}
	}
	if s := d.Clean(c.Field, c.Text); s != "" || c.Tick {
		for i, l := range d.wrap(s, max(0.5, w-indent), st) {
			p := text(l, st, indent, c.Tick && i == 0)
			if c.Tick && i == 0 {
				p.h = max(p.h, 4.2)
			}
			out = append(out, p)
		}
	}
	if s := d.Clean(c.Field, c.Note); s != "" {
		ns := cellNote
		ns.Align = align
		for _, l := range d.wrap(s, max(0.5, w-indent), ns) {
			out = append(out, text(l, ns, indent, false))
		}
	}
	for range c.Lines {
		out = append(out, piece{writeLine - 1, func(x, y, w float64) {
			d.stroke(0.2, 35)
			d.pdf.Line(x, y+writeLine-2, x+w, y+writeLine-2)
		}})
	}
	return out
}

// drawRow prints a row, over page breaks if it is taller than what is left.
func (d *Doc) drawRow(t Table, r laidRow, widths []float64, newPage func()) {
	next := make([]int, len(r.cells))
	minH := r.h
	for {
		avail := d.bot - d.y - 2*t.padY()
		whole := r.h <= d.bot-d.y+0.001
		used := 0.0
		done := true
		take := make([]int, len(r.cells))
		for i, c := range r.cells {
			h := 0.0
			k := next[i]
			for k < len(c) && (whole || h+c[k].h <= avail+0.001) {
				h += c[k].h
				k++
			}
			if k < len(c) && k-next[i] < 2 && len(c)-next[i] > 2 && d.y > bodyTop+30 {
				k, h = next[i], 0 // leave no single line behind
			}
			take[i] = k
			used = max(used, h)
			if k < len(c) {
				done = false
			}
		}
		if used == 0 && !done && d.y > bodyTop+30 {
			newPage()
			continue
		}
		if used == 0 && !done { // a strip taller than a page: draw it and be seen in Overflows
			for i, c := range r.cells {
				if next[i] < len(c) {
					take[i] = next[i] + 1
					used = max(used, c[next[i]].h)
				}
			}
		}
		h := used + 2*t.padY()
		if whole {
			h = minH
		}
		h = max(h, 5)
		if r.group {
			d.fill(94)
			d.pdf.Rect(d.left, d.y, d.Width(), h, "F")
		}
		x := d.left
		for i, c := range r.cells {
			w := d.Width()
			if !r.group {
				w = widths[i]
			}
			y := d.y + t.padY()
			for _, p := range c[next[i]:take[i]] {
				p.draw(x+cellPadX, y, w-2*cellPadX)
				y += p.h
			}
			if t.Lines && i > 0 {
				d.stroke(0.15, 45)
				d.pdf.Line(x, d.y, x, d.y+h)
			}
			x += w
		}
		if r.bar {
			d.fill(0)
			d.pdf.Rect(d.left-2.2, d.y+0.3, 1.2, h-0.6, "F")
		}
		d.y += h
		d.stroke(0.15, 45)
		d.pdf.Line(d.left, d.y, d.left+d.Width(), d.y)
		copy(next, take)
		rest := 0.0
		for i, c := range r.cells {
			ch := 0.0
			for _, p := range c[next[i]:] {
				ch += p.h
			}
			rest = max(rest, ch)
		}
		if rest == 0 {
			return
		}
		r.h = rest + 2*t.padY()
		minH = r.h
		newPage()
	}
}

func (d *Doc) closeTable() {
	d.stroke(0.3, 0)
	d.pdf.Line(d.left, d.y, d.left+d.Width(), d.y)
}
