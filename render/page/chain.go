package page

import (
	"math"
	"strings"
)

// Node is one point of a supply chain.
type Node struct {
	Name    string  // in the box
	Value   string  // bold, under the box
	Note    string  // small, under the value
	Edge    string  // on the line to the next node
	Verdict Verdict // shape at the box's corner
	Link    string
}

// Chain prints a supply as boxes joined by arrows, each with its value under
// it, wrapping to further rows where the page is too narrow.
func (d *Doc) Chain(nodes []Node) {
	if len(nodes) == 0 {
		return
	}
	name := Style{Size: 8.5, Bold: true, Align: Centre, Leading: 1.22}
	val := Style{Size: 10, Bold: true, Align: Centre, Leading: 1.2}
	note := Style{Size: 7.5, Grey: 20, Align: Centre, Leading: 1.25}
	edgeSt := Style{Size: 7.5, Align: Centre, Leading: 1.2}
	type cell struct{ name, val, note, edge []string }
	const pad, minBox, maxBox, minGap, maxGap, indent = 2.2, 21.0, 34.0, 9.0, 30.0, 6.0
	words := func(s string, st Style) float64 {
		w := 0.0
		for _, l := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' }) {
			w = max(w, TextWidth(l, st))
		}
		return w
	}
	// All boxes are as wide as the widest needs, all gaps alike.
	box, gapLeast, gapWish := minBox, minGap, minGap
	clean := make([]Node, len(nodes))
	for i, n := range nodes {
		n.Name, n.Value, n.Note, n.Edge = d.Clean("chain", n.Name), d.Clean("chain", n.Value), d.Clean("chain", n.Note), d.oneLine("chain", n.Edge)
		clean[i] = n
		box = max(box, words(n.Name, name)+2*pad, words(n.Value, val), words(n.Note, note))
		for _, l := range strings.Split(n.Value, "\n") {
			if w := TextWidth(l, val) + 0.5; w <= maxBox {
				box = max(box, w)
			}
		}
		if i+1 < len(nodes) {
			gapLeast = max(gapLeast, words(n.Edge, edgeSt)+5)
			gapWish = max(gapWish, TextWidth(n.Edge, edgeSt)+5.5)
		}
	}
	box, gapLeast, gapWish = min(box, maxBox), min(gapLeast, maxGap), min(gapWish, maxGap)
	avail := d.Width() - indent - 4.5
	fits := func(gap, w float64) int { return max(1, int((w+gap)/(box+gap))) }
	per := len(nodes)
	gap := gapWish
	if fits(gapWish, d.Width()) < per && fits(gapLeast, d.Width()) < per {
		most := fits(gapWish, avail)
		n := (per + most - 1) / most
		per = (per + n - 1) / n // rows of like length
	}
	if per < len(nodes) {
		if per > 1 {
			gap = max(gapLeast, min(maxGap, (avail-float64(per)*box)/float64(per-1)))
		}
	} else if per > 1 {
		gap = min(maxGap, (d.Width()-float64(per)*box)/float64(per-1))
	}
	cells := make([]cell, len(nodes))
	// A text of more than six lines is cut in the drawing and printed whole
	// under it.
	var whole []string
	short := func(lines []string, full string) []string {
		if len(lines) <= 6 {
			return lines
		}
		whole = append(whole, full)
		return append(lines[:5:5], "… below")
	}
	for i, n := range clean {
		c := &cells[i]
		c.name = short(d.wrap(n.Name, box-2*pad, name), n.Name)
		if n.Value != "" {
			v := strings.Split(n.Value, "\n")
			for k := range v { // the other unit keeps together
				if TextWidth(v[k], val) > box {
					v[k] = strings.Replace(v[k], " (", "\n(", 1)
				}
			}
			c.val = short(d.wrap(strings.Join(v, "\n"), box, val), n.Name+": "+n.Value)
		}
		if n.Note != "" {
			c.note = short(d.wrap(n.Note, box, note), n.Name+": "+n.Note)
		}
		if n.Edge != "" && i+1 < len(nodes) {
			c.edge = short(d.wrap(n.Edge, gap-4.5, edgeSt), n.Name+" →: "+n.Edge)
		}
	}
	type span struct {
		from, to int
		w        float64
	}
	var rows []span
	for i := 0; i < len(nodes); i += per {
		to := min(i+per, len(nodes))
		rows = append(rows, span{i, to, float64(to-i)*(box+gap) - gap})
	}
	type rowSize struct{ above, boxH, below, turn float64 }
	sizes := make([]rowSize, len(rows))
	total := 0.0
	for ri, row := range rows {
		z := &sizes[ri]
		for i := row.from; i < row.to; i++ {
			c := cells[i]
			z.boxH = max(z.boxH, float64(len(c.name))*name.line()+2*pad, 10)
			z.below = max(z.below, float64(len(c.val))*val.line()+float64(len(c.note))*note.line())
		}
		for i := row.from; i+1 < row.to; i++ {
			z.above = max(z.above, float64(len(cells[i].edge))*edgeSt.line()-z.boxH/2+1.5)
		}
		for i := row.from; i < row.to; i++ {
			if nodes[i].Verdict != "" {
				z.above = max(z.above, 2.4)
			}
		}
		if ri+1 < len(rows) {
			z.turn = 4.5 + edgeSt.line()
		}
		total += z.above + z.boxH + 1.2 + z.below + z.turn
	}
	if total <= d.BodyHeight() {
		d.reserve(total)
	}
	page, low := 0, 0.0 // where the last row's line waits at the left edge
	for ri, row := range rows {
		z := sizes[ri]
		d.reserve(z.above + z.boxH + 1.2 + z.below + z.turn)
		x := marginX + indent
		if len(rows) == 1 {
			x = marginX + max(0, (d.Width()-row.w)/2)
		}
		top := d.y + z.above
		mid := top + z.boxH/2
		if ri > 0 && page == d.Pages() {
			d.stroke(0.35, 0)
			d.pdf.Line(marginX+0.2, low, marginX+0.2, mid)
			d.arrow(marginX+0.2, mid, x, mid, 0.35)
		}
		for i := row.from; i < row.to; i++ {
			c := cells[i]
			d.stroke(0.35, 0)
			d.pdf.SetFillColor(255, 255, 255)
			d.pdf.RoundedRect(x, top, box, z.boxH, 1.2, "1234", "FD")
			y := top + (z.boxH-float64(len(c.name))*name.line())/2
			for _, s := range c.name {
				d.drawLine(s, Rect{x + pad, y, box - 2*pad, name.line()}, name)
				y += name.line()
			}
			y = top + z.boxH + 1.2
			for _, s := range c.val {
				d.drawLine(s, Rect{x, y, box, val.line()}, val)
				y += val.line()
			}
			for _, s := range c.note {
				d.drawLine(s, Rect{x, y, box, note.line()}, note)
				y += note.line()
			}
			if v := nodes[i].Verdict; v != "" {
				d.Mark(x+box-5, top-2.4, 4.2, v)
			}
			d.link(nodes[i].Link, Rect{x, top, box, z.boxH})
			if i+1 < row.to {
				d.arrow(x+box, mid, x+box+gap, mid, 0.35)
				y := mid - 0.9 - float64(len(c.edge))*edgeSt.line()
				for _, s := range c.edge {
					d.drawLine(s, Rect{x + box + 2, y, gap - 4.5, edgeSt.line()}, edgeSt)
					y += edgeSt.line()
				}
			}
			x += box + gap
		}
		end := x - gap
		d.y += z.above + z.boxH + 1.2 + z.below
		if ri+1 < len(rows) { // the line goes down and back to the left
			right := min(marginX+d.Width()-0.2, end+4)
			page, low = d.Pages(), d.y+2.5+edgeSt.line()
			d.stroke(0.35, 0)
			d.pdf.Line(end, mid, right, mid)
			d.pdf.Line(right, mid, right, low)
			d.pdf.Line(right, low, marginX+0.2, low)
			if e := clean[row.to-1].Edge; e != "" {
				st := edgeSt
				st.Align = Left
				w := right - marginX - 6
				d.drawLine(d.fit(e, w, st), Rect{marginX + 6, low - 0.6 - st.line(), w, st.line()}, st)
			}
			d.y += z.turn
		}
	}
	d.y += 4
	for _, w := range whole {
		d.flowLines(d.wrap(w, d.Width(), Small), 0, Small)
		d.y += 1.5
	}
}

// arrow draws a line with a filled head at its end.
func (d *Doc) arrow(x0, y0, x1, y1, w float64) {
	l := math.Hypot(x1-x0, y1-y0)
	if l < 0.01 {
		return
	}
	ux, uy := (x1-x0)/l, (y1-y0)/l
	hl := min(2.4, l*0.6)
	hw := hl * 0.36
	d.stroke(w, 0)
	d.pdf.Line(x0, y0, x1-ux*hl*0.8, y1-uy*hl*0.8)
	d.fill(0)
	d.poly("F", x1, y1, x1-ux*hl-uy*hw, y1-uy*hl+ux*hw, x1-ux*hl+uy*hw, y1-uy*hl-ux*hw)
}
