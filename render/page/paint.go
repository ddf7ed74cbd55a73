package page

import (
	"fmt"
)

// takeShapes takes the room of what is drawn: symbols cover the lines behind
// them.
func (l *layout) takeShapes() {
	t := &l.c.taken
	var strokes []segment
	for i := range l.c.shapes {
		s := &l.c.shapes[i]
		switch s.kind {
		case 'h':
			x0, y1, x1, y0 := l.px(s.pts[0].X), l.py(s.pts[0].Y), l.px(s.pts[1].X), l.py(s.pts[1].Y)
			t.hatched = append(t.hatched, Rect{x0, y0, x1 - x0, y1 - y0})
		case 's':
			t.signs = append(t.signs, s.symbol.box(l.px(s.pts[0].X), l.py(s.pts[0].Y)))
		case 'p':
			for k := 1; k < len(s.pts); k++ {
				strokes = append(strokes, l.stroke(s.pts[k-1], s.pts[k]))
			}
			if n := len(s.pts); s.closed && n > 2 {
				strokes = append(strokes, l.stroke(s.pts[n-1], s.pts[0]))
			}
		}
	}
	for _, s := range strokes {
		t.lines = append(t.lines, s.without(t.signs)...)
	}
}

func (l *layout) stroke(a, b Point) segment {
	return segment{l.px(a.X), l.py(a.Y), l.px(b.X), l.py(b.Y)}
}

// takeLetters takes the room of the symbols' letters, where there is any.
func (l *layout) takeLetters() {
	t := &l.c.taken
	n := 0
	for i := range l.c.shapes {
		s := &l.c.shapes[i]
		if s.kind != 's' {
			continue
		}
		if s.symbol.Letter == "" {
			n++
			continue
		}
		own := s.symbol.box(l.px(s.pts[0].X), l.py(s.pts[0].Y))
		b := letterBox(s.symbol.Letter, own)
		s.plain = !b.within(l.r)
		for _, o := range t.texts {
			s.plain = s.plain || b.grown(airText).meets(o.Rect)
		}
		for _, o := range t.signs[:n] { // another symbol, drawn before this one
			s.plain = s.plain || b.meets(o)
		}
		n++
		if !s.plain {
			t.texts = append(t.texts, namedBox{b, fmt.Sprintf("symbol %q", s.symbol.Letter), true})
		}
	}
}

// letterBox is the place of a letter in the middle of a symbol.
func letterBox(letter string, sign Rect) Rect {
	w, h := TextWidth(letter, symbolStyle), symbolText*mmPerPoint
	return Rect{sign.X + (sign.W-w)/2, sign.Y + (sign.H-h)/2, w, h}
}

var symbolStyle = Style{Size: symbolText, Bold: true}

// paint draws everything: lines, then what stands before them.
func (l *layout) paint() {
	c, d := l.c, l.d
	for _, s := range c.shapes {
		switch s.kind {
		case 'h':
			d.pen(s.pen)
			l.hatch(s)
		case 'p':
			l.path(s)
		}
	}
	d.pdf.SetDashPattern([]float64{}, 0)
	for i := range c.dims {
		if dm := &c.dims[i]; !dm.hidden {
			d.stroke(0.13, 0)
			for _, e := range dm.extensions {
				d.pdf.Line(e.x0, e.y0, e.x1, e.y1)
			}
		}
	}
	for i := range c.dims {
		if dm := &c.dims[i]; !dm.hidden {
			l.dimension(dm)
		}
	}
	for i := range c.labels {
		if lb := &c.labels[i]; !lb.hidden && len(lb.lines) > 0 {
			l.leader(lb)
		}
	}
	for _, plain := range []bool{true, false} { // a letter isn't covered by a symbol without one
		for _, s := range c.shapes {
			if s.kind == 's' && s.plain == plain {
				l.symbol(s)
			}
		}
	}
	for i := range c.labels {
		if lb := &c.labels[i]; !lb.hidden && len(lb.lines) > 0 {
			l.text(lb)
		}
	}
}

// path draws a run of lines.
func (l *layout) path(s shape) {
	d := l.d
	d.pen(s.pen)
	xy := make([]float64, 0, 2*len(s.pts))
	for _, p := range s.pts {
		xy = append(xy, l.px(p.X), l.py(p.Y))
	}
	switch {
	case s.arrow:
		d.arrow(xy[0], xy[1], xy[2], xy[3], s.pen.width())
	case s.closed && s.fill >= 0:
		d.fill(s.fill)
		d.poly("FD", xy...)
	case s.closed:
		d.poly("D", xy...)
	default:
		d.pdf.MoveTo(xy[0], xy[1])
		for i := 2; i < len(xy); i += 2 {
			d.pdf.LineTo(xy[i], xy[i+1])
		}
		d.pdf.DrawPath("D")
	}
}

func (p Pen) width() float64 {
	if p.Width == 0 {
		return 0.25
	}
	return p.Width
}

func (d *Doc) pen(p Pen) {
	d.stroke(p.width(), p.Grey)
	switch {
	case p.Dash:
		d.pdf.SetDashPattern([]float64{1.8, 1.2}, 0)
	case p.Chain:
		d.pdf.SetDashPattern([]float64{4, 0.9, 0.8, 0.9}, 0)
	default:
		d.pdf.SetDashPattern([]float64{}, 0)
	}
}

func (l *layout) hatch(s shape) {
	d := l.d
	x0, y1 := l.px(s.pts[0].X), l.py(s.pts[0].Y)
	x1, y0 := l.px(s.pts[1].X), l.py(s.pts[1].Y)
	w, h := x1-x0, y1-y0
	step := 2.2
	for o := step / 2; o < w+h; o += step {
		// From the left or bottom edge up to the top or right edge.
		ax, ay := x0, y0+o
		if o > h {
			ax, ay = x0+o-h, y1
		}
		bx, by := x0+o, y0
		if o > w {
			bx, by = x1, y0+o-w
		}
		d.pdf.Line(ax, ay, bx, by)
	}
}

// symbol draws a sign.
func (l *layout) symbol(s shape) {
	d := l.d
	x, y, r := l.px(s.pts[0].X), l.py(s.pts[0].Y), s.symbol.half()
	if s.symbol.Datum {
		d.fill(0)
		d.poly("F", x, y, x-r*0.8, y+r*1.6, x+r*0.8, y+r*1.6)
		return
	}
	d.stroke(0.35, 0)
	if s.symbol.Thin {
		d.stroke(0.15, 0)
	}
	if s.symbol.Dash {
		d.pdf.SetDashPattern([]float64{0.7, 0.45}, 0)
	}
	d.pdf.SetFillColor(255, 255, 255)
	if s.symbol.Square {
		d.pdf.Rect(x-r, y-r, 2*r, 2*r, "FD")
	} else {
		d.pdf.Circle(x, y, r, "FD")
	}
	d.pdf.SetDashPattern([]float64{}, 0)
	if s.symbol.Cross && s.symbol.Square { // the slots of a receptacle
		d.pdf.Line(x-r*0.35, y-r*0.5, x-r*0.35, y+r*0.5)
		d.pdf.Line(x+r*0.35, y-r*0.5, x+r*0.35, y+r*0.5)
	} else if s.symbol.Cross {
		d.pdf.Line(x-r, y, x+r, y)
		d.pdf.Line(x, y-r, x, y+r)
	}
	if s.symbol.Letter != "" && !s.plain {
		b := letterBox(s.symbol.Letter, s.symbol.box(x, y))
		d.drawAt(s.symbol.Letter, b.X, b.Y, symbolStyle, l.r)
	}
}

func (l *layout) dimension(dm *dimension) {
	d := l.d
	t := dm.lineAcross
	head := func(at, dir float64) { // points to at, coming from dir
		d.fill(0)
		const n, m = 2.0, 0.42
		if dm.side.level() {
			d.poly("F", at, t, at-dir*n, t-m, at-dir*n, t+m)
		} else {
			d.poly("F", t, at, t-m, at-dir*n, t+m, at-dir*n)
		}
	}
	ln := dm.line()
	d.stroke(0.2, 0)
	d.pdf.Line(ln.x0, ln.y0, ln.x1, ln.y1)
	if dm.pb-dm.pa >= 5 {
		head(dm.pa, -1)
		head(dm.pb, 1)
	} else { // too narrow for arrows: slanting ticks
		d.stroke(0.35, 0)
		for _, p := range []float64{dm.pa, dm.pb} {
			if dm.side.level() {
				d.pdf.Line(p-0.7, t+0.7, p+0.7, t-0.7)
			} else {
				d.pdf.Line(t-0.7, p+0.7, t+0.7, p-0.7)
			}
		}
	}
	if dm.shown == "" {
		return
	}
	b := dm.textBox()
	st := Style{Size: dm.size}
	if dm.side.level() {
		d.drawAt(dm.shown, b.X, b.Y, st, l.r)
	} else {
		d.drawTurned(dm.shown, b.X, b.Y, st, l.r)
	}
}

// leader draws the line from a label's point to its text, and a dot where the
// point has no symbol.
func (l *layout) leader(lb *label) {
	d := l.d
	if lb.leader {
		d.stroke(0.2, 0)
		d.pdf.Line(lb.ax, lb.ay, lb.lx, lb.ly)
	}
	if _, sign := l.signAt(lb.ax, lb.ay); !sign && (lb.leader || lb.kind != inside && lb.kind != pinned) {
		d.fill(0)
		d.pdf.Circle(lb.ax, lb.ay, 0.5, "F")
	}
}

// text writes a label or draws a mark.
func (l *layout) text(lb *label) {
	d := l.d
	if lb.kind == marked {
		l.mark(lb)
		return
	}
	st := lb.kind.style()
	switch {
	case lb.kind == inside || lb.kind == pinned:
		st.Align = Centre
	case lb.box.X+lb.box.W < lb.ax:
		st.Align = Right
	}
	for i, s := range lb.lines {
		y := lb.box.Y + 0.1 + float64(i)*st.line()
		d.drawLine(s, Rect{lb.box.X, y, lb.box.W, st.line()}, st)
		if s != "" {
			d.placed[len(d.placed)-1].Box = l.r
		}
	}
}

// mark draws a conflict mark: the cross in its circle, the number beside it,
// away from the point.
func (l *layout) mark(lb *label) {
	d, b := l.d, lb.box
	num := Rect{b.X + markSize + markGap, b.Y + (b.H-markNum)/2, b.W - markSize - markGap, markNum}
	x, y := b.X+markSize/2, b.Y+b.H/2
	if b.X+b.W <= lb.ax {
		num.X, x = b.X, b.X+b.W-markSize/2
	}
	r := markSize/2 - 0.3
	d.stroke(0.6, 0)
	d.pdf.SetFillColor(255, 255, 255)
	d.pdf.Circle(x, y, r, "FD")
	d.stroke(0.8, 0)
	a := r * 0.52
	d.pdf.Line(x-a, y-a, x+a, y+a)
	d.pdf.Line(x-a, y+a, x+a, y-a)
	d.fill(0)
	d.pdf.Rect(num.X, num.Y, num.W, num.H, "F")
	st := Bold
	st.white = true
	st.Align = Centre
	d.drawLine(lb.text, num, st)
}

// scaleBar draws a bar at the bottom left of the drawing's rectangle, or at the
// end of its title's line. A bar stays true when the sheet is copied to another
// size.
func (l *layout) scaleBar(r Rect) {
	d := l.d
	unit, per := "mm", 1.0
	if l.c.bar == "in" {
		unit, per = "in", Inch
	}
	length := 0.0
	for _, p := range []float64{1, 10, 100, 1000, 10000} {
		for _, m := range []float64{1, 2, 5} {
			if v := m * p; v*per*l.k <= 42 {
				length = v
			}
		}
	}
	if length == 0 {
		return
	}
	w := length * per * l.k
	st := Style{Size: 7.5}
	s := fmt.Sprintf("%g %s", length, unit)
	x, y := r.X, r.Y+r.H-3.2
	if in := l.c.barIn; in != (Rect{}) {
		r, x, y = in, in.X+in.W-w-1.6-TextWidth(s, st), in.Y+in.H/2-0.6
	}
	d.stroke(0.2, 0)
	d.fill(0)
	d.pdf.Rect(x, y, w/2, 1.2, "FD")
	d.pdf.Rect(x+w/2, y, w/2, 1.2, "D")
	box := Rect{x + w + 1.5, y + 0.6 - st.line()/2, TextWidth(s, st) + 0.1, st.line()}
	d.drawLine(s, box, st)
	d.placed[len(d.placed)-1].Box = r
	l.c.taken.texts = append(l.c.taken.texts, namedBox{Rect{box.X, box.Y, box.W, box.H}, "scale bar", false})
}
