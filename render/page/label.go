package page

import (
	"fmt"
	"math"
)

type label struct {
	at   Point
	text string
	kind labelKind
	area [2]Point // of a name that must not stand in another's: its corners

	lines  []string
	box    Rect
	leader bool
	ax, ay float64 // the anchor on paper
	lx, ly float64 // the leader's end at the text
	hidden bool
}

type labelKind int

const (
	beside labelKind = iota // a text beside its point
	inside                  // a name in an area, centred at its point
	marked                  // a conflict mark beside its point
	pinned                  // a name that says nothing anywhere else, and is left out where it has no room
)

var noteStyle = Style{Size: 8, Leading: 1.2}

func (k labelKind) style() Style {
	st := noteStyle
	st.Bold = k == inside || k == pinned
	return st
}

// Label names a point; the text stands beside it, with a leader where it has
// to move away.
func (c *Canvas) Label(x, y float64, text string) { c.label(label{at: Point{x, y}, text: text}) }

// Name writes text centred at a point, in an area.
func (c *Canvas) Name(x, y float64, text string) {
	c.label(label{at: Point{x, y}, text: text, kind: inside})
}

// NameIn writes text centred at a point of a rectangle given by its low and high
// corner; outside it, where it would name another thing, only with a leader.
func (c *Canvas) NameIn(x, y float64, low, high Point, text string) {
	c.label(label{at: Point{x, y}, text: text, kind: inside, area: [2]Point{low, high}})
}

// NameHere writes text centred at a point or a little under it, such as the
// side of a thing, which would mislead elsewhere. Without room it is left out.
func (c *Canvas) NameHere(x, y float64, text string) {
	c.label(label{at: Point{x, y}, text: text, kind: pinned})
}

// Conflict marks a place where two things cannot both be: a bold cross in a
// circle, with a number or two to look up.
func (c *Canvas) Conflict(x, y float64, ref string) {
	c.label(label{at: Point{x, y}, text: ref, kind: marked})
}

func (c *Canvas) label(l label) {
	if c.grow(l.at.X, l.at.Y) {
		c.labels = append(c.labels, l)
	}
}

const (
	markSize = 4.4 // the circle of a conflict mark
	markNum  = 4.0 // the box of its number
	markGap  = 0.5
)

// placeLabels finds a place for names first, which belong in their area, then
// for labels, then for marks, which are small. None covers a point that another names.
func (l *layout) placeLabels() {
	t := &l.c.taken
	for i := range l.c.labels {
		if lb := &l.c.labels[i]; lb.kind != inside && lb.kind != pinned {
			t.points = append(t.points, Rect{X: l.px(lb.at.X), Y: l.py(lb.at.Y)}.grown(0.6))
		}
	}
	for _, kind := range []labelKind{inside, pinned, beside, marked} {
		for i := range l.c.labels {
			if lb := &l.c.labels[i]; lb.kind == kind {
				l.placeLabel(lb)
			}
		}
	}
}

// placeLabel seats a label, or a letter in its place; else it is hidden.
func (l *layout) placeLabel(lb *label) {
	c := l.c
	lb.ax, lb.ay = l.px(lb.at.X), l.py(lb.at.Y)
	text := l.d.oneLine("drawing", lb.text)
	if lb.kind == marked {
		lb.lines = []string{text}
		if !l.seat(lb, true) {
			l.leaveOut(lb, say("drawing.conflict", "n", text))
		}
		return
	}
	if lb.kind == pinned {
		lb.lines = []string{text}
		lb.hidden = !l.seat(lb, false)
		return
	}
	full := l.d.Clean("drawing", lb.text)
	for _, try := range []struct {
		width   float64 // narrower, it fits between more lines
		leaders bool
	}{{42, lb.kind != inside}, {26, false}, {16, false}, {42, true}, {26, true}} {
		lb.lines = l.d.wrap(full, min(try.width, l.r.W*0.45), lb.kind.style())
		if l.seat(lb, try.leaders) {
			return
		}
	}
	before := len(c.keys)
	if lb.lines = []string{c.key(text)}; l.seat(lb, true) {
		return
	}
	c.keys = c.keys[:before]
	l.leaveOut(lb, text)
}

func (l *layout) leaveOut(lb *label, text string) {
	lb.hidden = true
	l.c.hidden = append(l.c.hidden, text)
}

// size of a label on paper.
func (lb *label) size() (w, h float64) {
	if lb.kind == marked {
		return markSize + markGap + max(markNum, TextWidth(lb.text, Bold)+1.6), markSize
	}
	st := lb.kind.style()
	for _, s := range lb.lines {
		w = max(w, TextWidth(s, st))
	}
	return w, float64(len(lb.lines))*st.line() + 0.2
}

// A seat is a place for a label, dearer the farther from its point.
type seat struct {
	x, y, cost float64
	leader     bool
}

// seat puts a label in the cheapest place that is free; away from its point
// only with a leader.
func (l *layout) seat(lb *label, leaders bool) bool {
	c := l.c
	w, h := lb.size()
	if w == 0 {
		return true
	}
	var best *seat
	for _, s := range l.seats(lb, w, h) {
		if s.leader && !leaders || best != nil && s.cost >= best.cost {
			continue
		}
		box := Rect{s.x, s.y, w, h}
		if !box.within(l.r) || !c.taken.free(box) {
			continue
		}
		x, y := box.nearest(lb.ax, lb.ay)
		if s.leader && !c.taken.clear(segment{lb.ax, lb.ay, x, y}) {
			continue
		}
		if s.cost += l.outside(box); best == nil || s.cost < best.cost {
			best = &s
		}
	}
	if best == nil {
		return false
	}
	lb.box, lb.leader = Rect{best.x, best.y, w, h}, best.leader
	lb.lx, lb.ly = lb.box.nearest(lb.ax, lb.ay)
	if lb.leader {
		c.taken.lines = append(c.taken.lines, segment{lb.ax, lb.ay, lb.lx, lb.ly})
	}
	name := fmt.Sprintf("label %q", lb.text)
	if lb.kind == marked {
		name = fmt.Sprintf("conflict mark %q", lb.text)
	}
	c.taken.texts = append(c.taken.texts, namedBox{lb.box, name, false})
	return true
}

// seats are the places for a label: in the middle of its area, beside its
// point on all sides, or on rings around it with a leader.
func (l *layout) seats(lb *label, w, h float64) []seat {
	var all []seat
	if lb.kind == inside {
		for _, o := range []float64{0, -2, 2, -4, 4, -6, 6, -9, 9, -13, 13} {
			s := seat{lb.ax - w/2, lb.ay - h/2 + o, math.Abs(o) * 0.3, false}
			if low, high := lb.area[0], lb.area[1]; low == high || (Rect{s.x, s.y, w, h}).within(Rect{l.px(low.X), l.py(high.Y), l.px(high.X) - l.px(low.X), l.py(low.Y) - l.py(high.Y)}) {
				all = append(all, s)
			}
		}
	} else if lb.kind == pinned {
		for _, o := range []float64{0, 1, -1, 2, -2, 3, 4, 5, 6, 8} {
			all = append(all, seat{lb.ax - w/2, lb.ay - h/2 + o, math.Abs(o), false})
		}
	} else {
		near := 2.0
		if s, ok := l.signAt(lb.ax, lb.ay); ok {
			near = s.W/2 + airText + 0.3
		}
		left, right, above, below := lb.ax-near-w, lb.ax+near, lb.ay-near-h, lb.ay+near
		all = append(all,
			seat{right, lb.ay - h/2, 0, false}, seat{right - near*0.4, above, 0.2, false},
			seat{left, lb.ay - h/2, 0.4, false}, seat{left + near*0.4, above, 0.5, false},
			seat{lb.ax - w/2, above, 0.6, false}, seat{right - near*0.4, below, 0.6, false},
			seat{left + near*0.4, below, 0.8, false}, seat{lb.ax - w/2, below, 0.9, false})
	}
	for ring := 4.0; ring <= 90; ring += 2.5 {
		for a := 0.0; a < 360; a += 15 {
			dx, dy := polar(ring, a+ring) // turned a little each ring, so that gaps are found
			all = append(all, seat{hung(lb.ax, dx, w, ring), hung(lb.ay, -dy, h, ring), 3 + ring*0.35, true})
		}
	}
	return all
}

// hung is where a box begins that hangs by its nearest edge on a point of a
// ring, d away from the middle at.
func hung(at, d, size, ring float64) float64 {
	switch {
	case d > ring*0.35:
		return at + d
	case d < -ring*0.35:
		return at + d - size
	}
	return at + d - size/2
}

// signAt is the symbol that stands at a point.
func (l *layout) signAt(x, y float64) (Rect, bool) {
	for _, s := range l.c.taken.signs {
		if (segment{x, y, x, y}).crosses(s) {
			return s, true
		}
	}
	return Rect{}, false
}

// outside is the price of a place outside the drawing, dearest among the
// dimension lines.
func (l *layout) outside(b Rect) float64 {
	cost := 0.0
	for s, by := range [4]float64{l.draw.Y - b.Y, b.Y + b.H - l.draw.Y - l.draw.H, l.draw.X - b.X, b.X + b.W - l.draw.X - l.draw.W} {
		if by <= 1 || l.lanes[s] == 0 {
			continue
		}
		cost += 6
		size := b.H
		if s >= int(LeftSide) {
			size = b.W
		}
		if by-size < dimGap+float64(l.lanes[s])*l.depth[s] {
			cost += 14
		}
	}
	return cost
}
