package page

import (
	"fmt"
	"math"
	"sort"
)

// Side is the side of a drawing on which a dimension stands.
type Side int

// The sides. Dimensions at the top and bottom are horizontal, at the left and
// right vertical.
const (
	Top Side = iota
	Bottom
	LeftSide
	RightSide
)

func (s Side) level() bool { return s == Top || s == Bottom }

type dimension struct {
	a, b   float64 // along the side
	from   float64 // where the extension lines start, across it
	side   Side
	text   string
	hidden bool // could not be placed
	keyed  bool // the text is too long for its room: a letter stands for it
	shown  string

	lane       int
	ta, tb     float64 // the text along the side, on paper
	la, lb     float64 // the line along the side, with the shelf under outside text
	pa, pb     float64 // the measured points on paper
	size       float64 // text size
	lineAcross float64
	extensions []segment // its extension lines, broken behind texts
}

const (
	dimGap   = 3.6 // between the drawing and the first dimension line
	over     = 1.2 // extension lines reach over the dimension line
	leadGap  = 1.6
	textAir  = 1.0 // between two texts in one lane
	smallest = 7.0 // points
)

// dimSizes are the sizes that a drawing's dimensions may have, in points.
var dimSizes = []float64{8, smallest}

// DimH adds a horizontal dimension between x0 and x1 at the top or bottom. Its
// extension lines start at y.
func (c *Canvas) DimH(x0, x1, y float64, text string, side Side) {
	if side != Top {
		side = Bottom
	}
	if c.grow(x0, y) && c.grow(x1, y) {
		c.dims = append(c.dims, dimension{a: min(x0, x1), b: max(x0, x1), from: y, side: side, text: text})
	}
}

// DimV adds a vertical dimension between y0 and y1 at the left or right. Its
// extension lines start at x.
func (c *Canvas) DimV(y0, y1, x float64, text string, side Side) {
	if side != RightSide {
		side = LeftSide
	}
	if c.grow(x, y0) && c.grow(x, y1) {
		c.dims = append(c.dims, dimension{a: min(y0, y1), b: max(y0, y1), from: x, side: side, text: text})
	}
}

// pack puts the dimensions of one side into lanes, the shortest next to the
// drawing, and returns how many lanes there are.
func (l *layout) pack(side Side, size float64) int {
	p := packer{room: l.along(side)}
	for i := range l.c.dims {
		dm := &l.c.dims[i]
		if dm.side != side || dm.hidden {
			continue
		}
		if side.level() {
			dm.pa, dm.pb = l.px(dm.a), l.px(dm.b)
		} else {
			dm.pa, dm.pb = l.py(dm.b), l.py(dm.a)
		}
		if !dm.set(size, p.room) {
			l.hide(dm)
			continue
		}
		p.todo = append(p.todo, dm)
	}
	sort.SliceStable(p.todo, func(i, j int) bool {
		a, b := p.todo[i], p.todo[j]
		if d := (a.pb - a.pa) - (b.pb - b.pa); math.Abs(d) > 0.01 {
			return d < 0
		}
		return a.pa < b.pa-0.01
	})
	for i := range p.todo {
		p.place(i)
	}
	for _, dm := range p.todo {
		dm.lineAcross = l.across(side, dm.lane)
	}
	return len(p.lanes)
}

// along is the room for a side's lines and texts: vertical ones keep out of
// the corners that belong to the horizontal ones.
func (l *layout) along(side Side) (room span) {
	if side.level() {
		return span{l.r.X, l.r.X + l.r.W}
	}
	room = span{l.r.Y, l.r.Y + l.r.H}
	if l.lanes[Top] > 0 {
		room.a = l.draw.Y - dimGap + 1
	}
	if l.lanes[Bottom] > 0 {
		room.b = l.draw.Y + l.draw.H + dimGap - 1
	}
	return room
}

// set chooses the text's size, or a letter in its place; false when not even
// that has room.
func (dm *dimension) set(size float64, room span) bool {
	dm.size, dm.keyed = size, false
	for dm.width() > room.len()-0.2 {
		switch {
		case dm.size > smallest:
			dm.size = smallest
		case !dm.keyed:
			dm.size, dm.keyed = size, true
		default:
			return false
		}
	}
	return true
}

// width of the text, or of the letter that stands for it.
func (dm *dimension) width() float64 {
	text := dm.text
	if dm.keyed {
		text = "M"
	}
	return TextWidth(text, Style{Size: dm.size})
}

// A span is a stretch along a side, on paper.
type span struct{ a, b float64 }

func (s span) len() float64 { return s.b - s.a }

// touches says whether two spans overlap, or come closer than air.
func (s span) touches(o span, air float64) bool { return s.a < o.b+air && o.a < s.b+air }

// packer puts the dimensions of one side into lanes.
type packer struct {
	room  span
	todo  []*dimension // shortest first; those before the one at hand are placed
	lanes [][]*dimension
}

// A spot is a place for a dimension's text along its line.
type spot struct {
	at      float64
	outside bool // beside the measured points rather than between them
}

// place gives a dimension the first lane in which its line and its text fit;
// first where no extension line would have to be broken for the text.
func (p *packer) place(i int) {
	dm := p.todo[i]
	spots := dm.spots()
	for lane := 0; lane <= len(p.lanes); lane++ {
		for _, whole := range []bool{true, false} {
			for _, s := range spots {
				if p.fits(i, lane, s) && !(whole && p.breaks(i, lane, s)) {
					p.take(i, lane, s.at)
					return
				}
			}
		}
	}
	// A lane of its own, the text pushed to where there is room.
	w := dm.width()
	p.take(i, len(p.lanes), max(p.room.a, min((dm.pa+dm.pb-w)/2, p.room.b-w)))
}

// spots are the places for the text: between the points, best in the middle,
// else beside them.
func (dm *dimension) spots() []spot {
	var all []spot
	w, long := dm.width(), dm.pb-dm.pa
	mid := (dm.pa + dm.pb - w) / 2
	if w+1.6 <= long {
		all = append(all, spot{mid, false})
		for off := 1.5; w/2+off+0.8 <= long/2; off += 1.5 {
			all = append(all, spot{mid - off, false}, spot{mid + off, false})
		}
	}
	return append(all, spot{dm.pb + leadGap, true}, spot{dm.pa - leadGap - w, true})
}

// reach is how far a dimension's line goes with its text at a place: under a
// text beside the points there is a shelf.
func (dm *dimension) reach(text span) span {
	if text.len() == 0 {
		return span{dm.pa, dm.pb}
	}
	return span{min(dm.pa, text.a), max(dm.pb, text.b)}
}

// fits says whether a dimension has room in a lane with its text at a spot.
func (p *packer) fits(i, lane int, s spot) bool {
	dm := p.todo[i]
	text := span{s.at, s.at + dm.width()}
	if text.a < p.room.a-1e-9 || text.b > p.room.b+1e-9 {
		return false
	}
	if lane == len(p.lanes) {
		return true
	}
	line := dm.reach(text)
	for _, o := range p.lanes[lane] {
		theirs, theirText := span{o.la, o.lb}, span{o.ta, o.tb}
		switch {
		case line.touches(theirs, -0.02):
			return false
		case text.len() > 0 && text.touches(theirText, textAir):
			return false
		case s.outside && text.touches(theirs, textAir): // off the neighbor's arrows
			return false
		}
	}
	return true
}

// breaks says whether an extension line would pass behind the text: of a
// dimension in this lane or further out, or of one that is still to come.
func (p *packer) breaks(i, lane int, s spot) bool {
	text := span{s.at, s.at + p.todo[i].width()}
	for k, o := range p.todo {
		if k == i || k < i && o.lane < lane {
			continue
		}
		for _, x := range []float64{o.pa, o.pb} {
			if x > text.a-0.4 && x < text.b+0.4 {
				return true
			}
		}
	}
	return false
}

func (p *packer) take(i, lane int, at float64) {
	dm := p.todo[i]
	if lane == len(p.lanes) {
		p.lanes = append(p.lanes, nil)
	}
	p.lanes[lane] = append(p.lanes[lane], dm)
	line := dm.reach(span{at, at + dm.width()})
	dm.lane, dm.ta, dm.tb, dm.la, dm.lb = lane, at, at+dm.width(), line.a, line.b
}

// across is the place of a lane's dimension line, across the side.
func (l *layout) across(side Side, lane int) float64 {
	depth := l.depth[side]
	text := depth - 1.2
	switch side {
	case Top:
		return l.draw.Y - dimGap - float64(lane)*depth
	case Bottom: // the text stands above its line, so the line is one text lower
		return l.draw.Y + l.draw.H + dimGap - 1 + text + float64(lane)*depth
	case LeftSide:
		return l.draw.X - dimGap - float64(lane)*depth
	default:
		return l.draw.X + l.draw.W + dimGap - 1 + text + float64(lane)*depth
	}
}

// textBox is the place of a dimension's text on paper.
func (dm *dimension) textBox() Rect {
	em := dm.size * mmPerPoint
	if dm.side.level() {
		return Rect{dm.ta, dm.lineAcross - 0.55 - em, dm.tb - dm.ta, em}
	}
	return Rect{dm.lineAcross - 0.55 - em, dm.ta, em, dm.tb - dm.ta}
}

// line is the dimension's line on paper.
func (dm *dimension) line() segment {
	if dm.side.level() {
		return segment{dm.la, dm.lineAcross, dm.lb, dm.lineAcross}
	}
	return segment{dm.lineAcross, dm.la, dm.lineAcross, dm.lb}
}

// extend is the extension line through one of the measured points.
func (l *layout) extend(dm *dimension, p float64) segment {
	t := dm.lineAcross
	switch dm.side {
	case Top:
		return segment{p, l.py(dm.from) - 0.8, p, t - over}
	case Bottom:
		return segment{p, l.py(dm.from) + 0.8, p, t + over}
	case LeftSide:
		return segment{l.px(dm.from) - 0.8, p, t - over, p}
	default:
		return segment{l.px(dm.from) + 0.8, p, t + over, p}
	}
}

// takeDimensions takes the room of all dimensions. An extension line is broken
// where it passes behind a text.
func (l *layout) takeDimensions() {
	c := l.c
	var texts []Rect
	for i := range c.dims {
		dm := &c.dims[i]
		if dm.hidden {
			continue
		}
		dm.shown = dm.text
		if dm.keyed {
			dm.shown = c.key(dm.text)
		}
		w := TextWidth(dm.shown, Style{Size: dm.size})
		dm.ta, dm.tb = (dm.ta+dm.tb-w)/2, (dm.ta+dm.tb+w)/2
		c.taken.dimLines = append(c.taken.dimLines, dm.line())
		c.taken.lines = append(c.taken.lines, dm.line())
		if dm.shown != "" {
			c.taken.texts = append(c.taken.texts, namedBox{dm.textBox(), fmt.Sprintf("dimension %q", dm.shown), false})
			texts = append(texts, dm.textBox().grown(0.3))
		}
	}
	for i := range c.dims {
		dm := &c.dims[i]
		dm.extensions = nil
		if dm.hidden {
			continue
		}
		for _, p := range []float64{dm.pa, dm.pb} {
			dm.extensions = append(dm.extensions, l.extend(dm, p).without(texts)...)
		}
		c.taken.lines = append(c.taken.lines, dm.extensions...)
	}
}

// without is a segment without the parts that lie in boxes.
func (s segment) without(boxes []Rect) []segment {
	parts := []segment{s}
	for _, b := range boxes {
		var left []segment
		for _, p := range parts {
			if !p.crosses(b) {
				left = append(left, p)
				continue
			}
			t0, t1 := p.in(b)
			at := func(t float64) (float64, float64) { return p.x0 + t*(p.x1-p.x0), p.y0 + t*(p.y1-p.y0) }
			if t0 > 0 {
				x, y := at(t0)
				left = append(left, segment{p.x0, p.y0, x, y})
			}
			if t1 < 1 {
				x, y := at(t1)
				left = append(left, segment{x, y, p.x1, p.y1})
			}
		}
		parts = left
	}
	return parts
}
