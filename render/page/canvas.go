package page

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Inch in millimetres.
const Inch = 25.4

// Pen is how a line of a drawing looks.
type Pen struct {
	Width float64 // millimetres on paper; 0.25 when zero
	Grey  int     // per cent towards white
	Dash  bool
}

// The pens of a drawing.
var (
	Thin   = Pen{Width: 0.18, Grey: 25}
	Medium = Pen{Width: 0.3}
	Thick  = Pen{Width: 0.6}
	Dashed = Pen{Width: 0.25, Dash: true}
)

// Point is a place in the drawn world, in millimetres, y upwards.
type Point struct{ X, Y float64 }

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

type shape struct {
	kind   byte // p path, h hatch, s symbol
	symbol Symbol
	plain  bool // a symbol whose letter finds no room
	pts    []Point
	closed bool
	fill   int // grey of the filling, -1 none
	arrow  bool
	pen    Pen
}

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
	masked     bool
	lineAcross float64
}

type label struct {
	at     Point
	text   string
	area   bool // centred at the point rather than beside it
	mark   bool
	bold   bool
	lines  []string
	box    Rect
	leader bool
	lx, ly float64 // the leader's end at the text
	ax, ay float64 // the anchor on paper
	mask   bool
	cx     float64 // centre of a mark's circle
	cy     float64
	hidden bool
}

// Canvas is a scale drawing: shapes in world millimetres, dimensions in lanes
// outside it, labels and conflict marks placed where they cover nothing. It is
// filled first and laid out when it is drawn.
type Canvas struct {
	bounds struct{ x0, y0, x1, y1 float64 }
	shapes []shape
	dims   []dimension
	labels []label
	bar    string // unit of the scale bar, "" none
	bad    bool   // a number was not finite

	// The last layout.
	boxes   []namedBox
	strokes []segment
	dimSegs []segment
	hidden  []string
	keys    []string
}

type namedBox struct {
	Rect
	name string
}

type segment struct {
	x0, y0, x1, y1 float64
	heavy          bool // must not be crossed if it can be helped
}

// NewCanvas makes a drawing of a world from 0,0 (bottom left) to w,h.
// Shapes outside widen it.
func NewCanvas(w, h float64) *Canvas {
	c := new(Canvas)
	c.bounds.x1, c.bounds.y1 = max(w, 1), max(h, 1)
	if !finite(w, h) {
		c.bounds.x1, c.bounds.y1 = 1, 1
	}
	return c
}

func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.Abs(x) > 1e7 {
			return false
		}
	}
	return true
}

func (c *Canvas) grow(x, y float64) bool {
	if !finite(x, y) {
		c.bad = true
		return false
	}
	c.bounds.x0, c.bounds.x1 = min(c.bounds.x0, x), max(c.bounds.x1, x)
	c.bounds.y0, c.bounds.y1 = min(c.bounds.y0, y), max(c.bounds.y1, y)
	return true
}

// Line draws a line.
func (c *Canvas) Line(x0, y0, x1, y1 float64, pen Pen) {
	c.path(pen, false, false, -1, []Point{{x0, y0}, {x1, y1}})
}

// Dashed draws a dashed line.
func (c *Canvas) Dashed(x0, y0, x1, y1 float64) { c.Line(x0, y0, x1, y1, Dashed) }

// Arrow draws a line with a head at its end.
func (c *Canvas) Arrow(x0, y0, x1, y1 float64, pen Pen) {
	c.path(pen, false, true, -1, []Point{{x0, y0}, {x1, y1}})
}

// Rect draws a rectangle from its bottom left corner.
func (c *Canvas) Rect(x, y, w, h float64, pen Pen) {
	c.path(pen, true, false, -1, []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}})
}

// Block draws a filled rectangle; grey is per cent towards white.
func (c *Canvas) Block(x, y, w, h float64, grey int, pen Pen) {
	c.path(pen, true, false, grey, []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}})
}

// Polyline draws a run of lines, closed to a polygon if wanted.
func (c *Canvas) Polyline(pen Pen, closed bool, pts ...Point) { c.path(pen, closed, false, -1, pts) }

func (c *Canvas) path(pen Pen, closed, arrow bool, fill int, pts []Point) {
	for _, p := range pts {
		if !c.grow(p.X, p.Y) {
			return
		}
	}
	if len(pts) > 1 {
		c.shapes = append(c.shapes, shape{kind: 'p', pts: pts, closed: closed, arrow: arrow, fill: fill, pen: pen})
	}
}

// Circle draws a circle.
func (c *Canvas) Circle(x, y, r float64, pen Pen) { c.Arc(x, y, r, 0, 360, pen) }

// Arc draws part of a circle, from one angle to another against the clock, in
// degrees from the right.
func (c *Canvas) Arc(x, y, r, from, to float64, pen Pen) {
	if !finite(x, y, r, from, to) || r <= 0 {
		c.bad = true
		return
	}
	from, to = math.Mod(from, 360), math.Mod(from, 360)+max(-360, min(360, to-from))
	n := max(6, int(math.Abs(to-from)/6))
	pts := make([]Point, n+1)
	for i := range pts {
		dx, dy := polar(r, from+(to-from)*float64(i)/float64(n))
		pts[i] = Point{x + dx, y + dy}
	}
	c.path(pen, false, false, -1, pts)
}

// Hatch fills a rectangle with slanting lines, as drawings show what is solid
// or must be kept clear.
func (c *Canvas) Hatch(x, y, w, h float64) {
	if c.grow(x, y) && c.grow(x+w, y+h) && w > 0 && h > 0 {
		c.shapes = append(c.shapes, shape{kind: 'h', pts: []Point{{x, y}, {x + w, y + h}}, pen: Thin})
	}
}

// Symbol is a small sign of one size on paper, whatever the scale.
type Symbol struct {
	Square bool   // rather than a circle
	Dash   bool   // where it is required rather than found
	Cross  bool   // through a circle
	Letter string // inside; left out where it would lie on another text
}

const (
	symbolHalf = 1.7 // half a symbol's width on paper, with a letter
	symbolBare = 1.2 // and without
	symbolText = 6.5 // points
)

func (s Symbol) half() float64 {
	if s.Letter != "" {
		return symbolHalf
	}
	return symbolBare
}

// Symbol draws a small sign at a point.
func (c *Canvas) Symbol(x, y float64, s Symbol) {
	if c.grow(x, y) {
		c.shapes = append(c.shapes, shape{kind: 's', pts: []Point{{x, y}}, symbol: s, pen: Medium})
	}
}

// Label names a point; the text stands beside it, with a leader where it has
// to move away.
func (c *Canvas) Label(x, y float64, text string) { c.label(label{at: Point{x, y}, text: text}) }

// Name writes text centred at a point, in an area.
func (c *Canvas) Name(x, y float64, text string) {
	c.label(label{at: Point{x, y}, text: text, area: true, bold: true})
}

// Conflict marks a place where two things cannot both be: a bold cross in a
// circle, with the number of the finding.
func (c *Canvas) Conflict(x, y float64, number int) {
	c.label(label{at: Point{x, y}, text: fmt.Sprint(number), mark: true})
}

func (c *Canvas) label(l label) {
	if c.grow(l.at.X, l.at.Y) {
		c.labels = append(c.labels, l)
	}
}

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

// ScaleBar adds a bar under the drawing, in "mm" or "in".
func (c *Canvas) ScaleBar(unit string) { c.bar = unit }

// Keys lists the texts for which a letter stands in the last layout, in the
// order of the letters. [Doc.Draw] prints them under the drawing.
func (c *Canvas) Keys() []string { return append([]string(nil), c.keys...) }

// key gives the letter that stands for a text.
func (c *Canvas) key(text string) string {
	i := slices.Index(c.keys, text)
	if i < 0 {
		i = len(c.keys)
		c.keys = append(c.keys, text)
	}
	return keyLetter(i)
}

func keyLetter(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		s += fmt.Sprint(i / 26)
	}
	return s
}

// Hidden lists the texts that found no place at all in the last layout.
// [Doc.Draw] prints them under the drawing.
func (c *Canvas) Hidden() []string { return append([]string(nil), c.hidden...) }

// Collisions describes every overlap of the last layout: text on text, text on
// a dimension line, and one dimension line on another.
func (c *Canvas) Collisions() []string {
	var out []string
	const tol = 0.05
	for i, a := range c.boxes {
		for _, b := range c.boxes[i+1:] {
			if a.X+a.W > b.X+tol && b.X+b.W > a.X+tol && a.Y+a.H > b.Y+tol && b.Y+b.H > a.Y+tol {
				out = append(out, fmt.Sprintf("%s overlaps %s", a.name, b.name))
			}
		}
		for _, s := range c.dimSegs {
			if s.crosses(Rect{a.X + tol, a.Y + tol, a.W - 2*tol, a.H - 2*tol}) {
				out = append(out, fmt.Sprintf("%s lies on a dimension line", a.name))
			}
		}
	}
	for i, a := range c.dimSegs {
		for _, b := range c.dimSegs[i+1:] {
			level := a.y0 == a.y1 && b.y0 == b.y1 && math.Abs(a.y0-b.y0) < 0.3 && a.x1 > b.x0+tol && b.x1 > a.x0+tol
			upright := a.x0 == a.x1 && b.x0 == b.x1 && math.Abs(a.x0-b.x0) < 0.3 && a.y1 > b.y0+tol && b.y1 > a.y0+tol
			if level || upright {
				out = append(out, fmt.Sprintf("dimension lines lie on each other at %.1f,%.1f", b.x0, b.y0))
			}
		}
	}
	return out
}

// crosses says whether a segment meets a rectangle.
func (s segment) crosses(r Rect) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := s.x1-s.x0, s.y1-s.y0
	for _, e := range [4][2]float64{{-dx, s.x0 - r.X}, {dx, r.X + r.W - s.x0}, {-dy, s.y0 - r.Y}, {dy, r.Y + r.H - s.y0}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return false
			}
			continue
		}
		if t := q / p; p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
		if t0 > t1 {
			return false
		}
	}
	return true
}

const (
	dimGap  = 3.6 // between the drawing and the first dimension line
	dimText = 8.0 // points
	over    = 1.2 // extension lines reach over the dimension line
	leadGap = 1.6
)

var noteStyle = Style{Size: 8, Leading: 1.2}

// layout is one attempt at placing everything.
type layout struct {
	c      *Canvas
	d      *Doc
	r      Rect // where it must stay
	k      float64
	ox, oy float64 // paper position of the world's bottom left
	draw   Rect    // the world on paper
	lanes  [4]int
	depth  [4]float64 // height of a lane
}

func (l *layout) px(x float64) float64 { return l.ox + (x-l.c.bounds.x0)*l.k }
func (l *layout) py(y float64) float64 { return l.oy - (y-l.c.bounds.y0)*l.k }

// Draw puts a drawing into the flow at the body's full width and the given
// height, and under it what found no place in it.
// A flat drawing takes less.
func (d *Doc) Draw(c *Canvas, height float64) {
	height = d.DrawnHeight(c, height)
	d.reserve(height)
	d.DrawIn(c, Rect{d.left, d.y, d.Width(), height})
	d.y += height + 2
	if len(c.keys) > 0 {
		text := ""
		for i, k := range c.keys {
			if i > 0 {
				text += "  ·  "
			}
			text += keyLetter(i) + "\u00a0=\u00a0" + k
		}
		d.flowLines(d.wrap(text, d.Width(), Small), 0, Small, "")
	}
	if h := c.hidden; len(h) > 0 {
		text := "Not shown for lack of room: " + h[0]
		for _, s := range h[1:] {
			text += "; " + s
		}
		d.flowLines(d.wrap(text, d.Width(), Small), 0, Small, "")
	}
	d.y += 2
}

// DrawnHeight is the height that Draw takes of the height it is given.
func (d *Doc) DrawnHeight(c *Canvas, height float64) float64 {
	height = min(height, d.BodyHeight()-10)
	l := d.layout(c, Rect{d.left, 0, d.Width(), height})
	l.fit()
	const air = 12 // for labels beside it
	used := l.draw.H
	for _, s := range []Side{Top, Bottom} {
		used += l.margin(s)
	}
	return height - max(0, l.r.H-used-air)
}

// layout starts a new layout of a drawing.
func (d *Doc) layout(c *Canvas, r Rect) *layout {
	c.hidden, c.keys, c.boxes, c.strokes, c.dimSegs = nil, nil, nil, nil, nil
	for i := range c.dims {
		c.dims[i].text = d.oneLine("drawing", c.dims[i].text)
		c.dims[i].hidden = false
	}
	for i := range c.labels {
		c.labels[i].hidden = false
	}
	l := &layout{c: c, d: d, r: r}
	if c.bar != "" {
		l.r.H -= 8
	}
	return l
}

// margin is the room that a side's dimensions take.
func (l *layout) margin(s Side) float64 {
	if l.lanes[s] > 0 {
		return dimGap + float64(l.lanes[s])*l.depth[s] + 1
	}
	return 1.5
}

// DrawIn lays a drawing out in a rectangle of the page and draws it.
func (d *Doc) DrawIn(c *Canvas, r Rect) {
	d.ensurePage()
	if c.bad {
		d.Warn("", "a drawing has a number that is not finite; that part is left out")
	}
	l := d.layout(c, r)
	l.fit()
	l.collectStrokes()
	l.placeSymbols()
	l.placeLabels()
	l.paint()
	if c.bar != "" {
		l.scaleBar(r)
	}
}

// fit finds the scale: the more lanes of dimensions, the smaller the drawing.
func (l *layout) fit() {
	c := l.c
	w, h := c.bounds.x1-c.bounds.x0, c.bounds.y1-c.bounds.y0
	size := dimText
	for {
		for s := range l.depth {
			l.depth[s] = size*mmPerPoint + 1.9
			l.lanes[s] = 0
			for i := range c.dims {
				if c.dims[i].side == Side(s) && !c.dims[i].hidden {
					l.lanes[s] = 1
				}
			}
		}
		for range 40 {
			var m [4]float64
			for s := range m {
				m[s] = l.margin(Side(s))
			}
			aw, ah := l.r.W-m[LeftSide]-m[RightSide], l.r.H-m[Top]-m[Bottom]
			if aw < l.r.W*0.2 || ah < l.r.H*0.2 {
				break
			}
			l.k = min(aw/w, ah/h)
			dw, dh := w*l.k, h*l.k
			l.ox = l.r.X + m[LeftSide] + (aw-dw)/2
			l.oy = l.r.Y + m[Top] + (ah-dh)/2 + dh
			l.draw = Rect{l.ox, l.oy - dh, dw, dh}
			more := false
			for s := range m {
				if n := l.pack(Side(s), size); n > l.lanes[s] {
					l.lanes[s] = n
					more = true
				}
			}
			if !more {
				return
			}
		}
		if size > 6.5 {
			size = 6.5
			continue
		}
		// Too many dimensions for the room: leave out the longest of the
		// fullest side, and say so.
		full := Top
		for s := range l.lanes {
			if l.lanes[s] > l.lanes[full] {
				full = Side(s)
			}
		}
		pick := -1
		for i, dm := range c.dims {
			if dm.side == full && !dm.hidden && (pick < 0 || dm.lane > c.dims[pick].lane) {
				pick = i
			}
		}
		if pick < 0 { // no room even without dimensions
			l.k = max(min(l.r.W/w, l.r.H/h)*0.9, 1e-9)
			l.ox, l.oy = l.r.X+(l.r.W-w*l.k)/2, l.r.Y+l.r.H-(l.r.H-h*l.k)/2
			l.draw = Rect{l.ox, l.oy - h*l.k, w * l.k, h * l.k}
			return
		}
		l.hide(&c.dims[pick])
	}
}

func (l *layout) hide(dm *dimension) {
	dm.hidden = true
	if dm.text != "" {
		l.c.hidden = append(l.c.hidden, dm.text)
	}
}

// pack puts the dimensions of one side into lanes and returns how many.
func (l *layout) pack(side Side, size float64) int {
	c := l.c
	var list []*dimension
	for i := range c.dims {
		if c.dims[i].side == side && !c.dims[i].hidden {
			list = append(list, &c.dims[i])
		}
	}
	if len(list) == 0 {
		return 0
	}
	st := Style{Size: size}
	lo, hi := l.r.X, l.r.X+l.r.W
	if side == LeftSide || side == RightSide {
		// Keep out of the corners that belong to the horizontal ones.
		lo, hi = l.r.Y, l.r.Y+l.r.H
		if l.lanes[Top] > 0 {
			lo = l.draw.Y - dimGap + 1
		}
		if l.lanes[Bottom] > 0 {
			hi = l.draw.Y + l.draw.H + dimGap - 1
		}
	}
	for _, dm := range list {
		dm.size = size
		if side == Top || side == Bottom {
			dm.pa, dm.pb = l.px(dm.a), l.px(dm.b)
		} else {
			dm.pa, dm.pb = l.py(dm.b), l.py(dm.a)
		}
	}
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		if d := (a.pb - a.pa) - (b.pb - b.pa); math.Abs(d) > 0.01 {
			return d < 0
		}
		return a.pa < b.pa-0.01
	})
	type taken struct{ la, lb, ta, tb float64 }
	var lanes [][]taken
	const pad = 1.0
	for i, dm := range list {
		tw := TextWidth(dm.text, st)
		for tw > hi-lo-0.2 && dm.size > 6 {
			dm.size -= 0.5
			tw = TextWidth(dm.text, Style{Size: dm.size})
		}
		dm.keyed = tw > hi-lo-0.2
		if dm.keyed {
			dm.size = size
			tw = TextWidth("M", st)
		}
		if tw > hi-lo-0.2 {
			l.hide(dm)
			continue
		}
		type option struct {
			ta      float64
			outside bool
		}
		var opts []option
		span := dm.pb - dm.pa
		mid := (dm.pa + dm.pb) / 2
		// A bound on the room may push the text of a dimension at the edge
		// to one side.
		if tw+1.6 <= span {
			opts = append(opts, option{mid - tw/2, false})
			for off := 1.5; tw/2+off+0.8 <= span/2; off += 1.5 {
				opts = append(opts, option{mid - tw/2 - off, false}, option{mid - tw/2 + off, false})
			}
		}
		out := []option{{dm.pb + leadGap, true}, {dm.pa - leadGap - tw, true}}
		placed := false
		for lane := 0; !placed; lane++ {
			if lane == len(lanes) {
				lanes = append(lanes, nil)
			}
			// Extension lines that pass this lane: of those in lanes
			// further out, and of those still to come.
			var ext []float64
			for _, o := range list[:i] {
				if !o.hidden && o.lane >= lane {
					ext = append(ext, o.pa, o.pb)
				}
			}
			for _, o := range list[i+1:] {
				ext = append(ext, o.pa, o.pb)
			}
			try := func(o option, strict bool) bool {
				ta, tb := o.ta, o.ta+tw
				if ta < lo-1e-9 || tb > hi+1e-9 {
					return false
				}
				la, lb := min(dm.pa, ta), max(dm.pb, tb)
				if tw == 0 {
					la, lb = dm.pa, dm.pb
				}
				for _, t := range lanes[lane] {
					if la < t.lb-0.02 && t.la < lb-0.02 { // lines overlap
						return false
					}
					if tw > 0 && ta < t.tb+pad && t.ta < tb+pad {
						return false
					}
					// Outside text keeps off the neighbour's arrows.
					if o.outside && ta < t.lb+pad && t.la < tb+pad {
						return false
					}
				}
				if strict {
					for _, x := range ext {
						if x > ta-0.4 && x < tb+0.4 {
							return false
						}
					}
				}
				dm.lane, dm.ta, dm.tb, dm.la, dm.lb = lane, ta, tb, la, lb
				lanes[lane] = append(lanes[lane], taken{la, lb, ta, tb})
				placed = true
				return true
			}
			all := append(append([]option(nil), opts...), out...)
			for _, strict := range []bool{true, false} {
				for _, o := range all {
					if try(o, strict) {
						break
					}
				}
				if placed {
					break
				}
			}
			if !placed && lane > len(list)+1 {
				// Neither side has room: centre it within the bounds over
				// its own line, in a lane of its own.
				ta := max(lo, min(mid-tw/2, hi-tw))
				dm.lane, dm.ta, dm.tb = len(lanes), ta, ta+tw
				dm.la, dm.lb = min(dm.pa, ta), max(dm.pb, ta+tw)
				lanes = append(lanes, []taken{{dm.la, dm.lb, dm.ta, dm.tb}})
				placed = true
			}
		}
	}
	// Empty lanes are closed up.
	used := map[int]int{}
	n := 0
	for i := range lanes {
		if len(lanes[i]) > 0 {
			used[i] = n
			n++
		}
	}
	for _, dm := range list {
		if !dm.hidden {
			dm.lane = used[dm.lane]
		}
	}
	// An extension line is broken where it must pass behind a text.
	for _, dm := range list {
		dm.masked = false
		for _, o := range list {
			if o != dm && !o.hidden && !dm.hidden && o.lane >= dm.lane {
				for _, x := range []float64{o.pa, o.pb} {
					if x > dm.ta-0.2 && x < dm.tb+0.2 {
						dm.masked = true
					}
				}
			}
		}
		dm.lineAcross = l.across(side, dm.lane)
	}
	return n
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
	if dm.side == Top || dm.side == Bottom {
		return Rect{dm.ta, dm.lineAcross - 0.55 - em, dm.tb - dm.ta, em}
	}
	return Rect{dm.lineAcross - 0.55 - em, dm.ta, em, dm.tb - dm.ta}
}

func (l *layout) collectStrokes() {
	c := l.c
	add := func(x0, y0, x1, y1 float64, heavy bool) {
		c.strokes = append(c.strokes, segment{x0, y0, x1, y1, heavy})
	}
	for _, s := range c.shapes {
		switch s.kind {
		case 'h':
			continue
		case 's':
			x, y, r := l.px(s.pts[0].X), l.py(s.pts[0].Y), s.symbol.half()
			add(x-r, y-r, x+r, y+r, false)
			add(x-r, y+r, x+r, y-r, false)
			continue
		}
		for i := 1; i < len(s.pts); i++ {
			add(l.px(s.pts[i-1].X), l.py(s.pts[i-1].Y), l.px(s.pts[i].X), l.py(s.pts[i].Y), false)
		}
		if n := len(s.pts); s.closed && n > 2 {
			add(l.px(s.pts[n-1].X), l.py(s.pts[n-1].Y), l.px(s.pts[0].X), l.py(s.pts[0].Y), false)
		}
	}
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
		t := dm.lineAcross
		if dm.side == Top || dm.side == Bottom {
			c.dimSegs = append(c.dimSegs, segment{dm.la, t, dm.lb, t, true})
			for _, x := range []float64{dm.pa, dm.pb} {
				add(x, l.py(dm.from), x, t, false)
			}
		} else {
			c.dimSegs = append(c.dimSegs, segment{t, dm.la, t, dm.lb, true})
			for _, y := range []float64{dm.pa, dm.pb} {
				add(l.px(dm.from), y, t, y, false)
			}
		}
		if dm.shown != "" {
			c.boxes = append(c.boxes, namedBox{dm.textBox(), fmt.Sprintf("dimension %q", dm.shown)})
		}
	}
	c.strokes = append(c.strokes, c.dimSegs...)
}

// placeSymbols takes the room of the symbols' letters, where there is any.
func (l *layout) placeSymbols() {
	c := l.c
	for i := range c.shapes {
		s := &c.shapes[i]
		if s.kind != 's' || s.symbol.Letter == "" {
			continue
		}
		x, y := l.px(s.pts[0].X), l.py(s.pts[0].Y)
		st := Style{Size: symbolText, Bold: true}
		w, h := TextWidth(s.symbol.Letter, st), symbolText*mmPerPoint
		b := Rect{x - w/2, y - h/2, w, h}
		s.plain = !l.free(b)
		if !s.plain {
			c.boxes = append(c.boxes, namedBox{b, fmt.Sprintf("symbol %q", s.symbol.Letter)})
		}
	}
}

// symbol draws a sign.
func (l *layout) symbol(s shape) {
	d := l.d
	x, y, r := l.px(s.pts[0].X), l.py(s.pts[0].Y), s.symbol.half()
	d.pen(Pen{Width: 0.3})
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
	if s.symbol.Cross {
		d.stroke(0.2, 0)
		d.pdf.Line(x-r, y, x+r, y)
		d.pdf.Line(x, y-r, x, y+r)
	}
	if s.symbol.Letter != "" && !s.plain {
		st := Style{Size: symbolText, Bold: true}
		w, h := TextWidth(s.symbol.Letter, st), symbolText*mmPerPoint
		d.drawAt(s.symbol.Letter, x-w/2, y-h/2, st, l.r)
	}
}

// placeLabels finds a place for marks first, then for names, then for labels.
func (l *layout) placeLabels() {
	c := l.c
	for pass := range 3 {
		for i := range c.labels {
			lb := &c.labels[i]
			switch {
			case lb.mark != (pass == 0), pass > 0 && lb.area != (pass == 1):
				continue
			}
			l.placeLabel(lb)
		}
	}
}

const (
	markSize = 5.4
	markNum  = 4.6
)

func (l *layout) placeLabel(lb *label) {
	lb.ax, lb.ay = l.px(lb.at.X), l.py(lb.at.Y)
	st := noteStyle
	st.Bold = lb.bold
	if lb.mark {
		lb.lines = []string{lb.text}
	} else {
		lb.lines = l.d.wrap(l.d.Clean("drawing", lb.text), min(42, l.r.W*0.45), st)
	}
	if l.seat(lb, st) {
		return
	}
	text := l.d.oneLine("drawing", lb.text)
	if lb.mark {
		text = "conflict " + text
	} else { // a letter may find room where the text does not
		before := len(l.c.keys)
		lb.lines = []string{l.c.key(text)}
		if l.seat(lb, st) {
			return
		}
		l.c.keys = l.c.keys[:before]
	}
	lb.hidden = true
	l.c.hidden = append(l.c.hidden, text)
}

// seat finds the best place for a label's lines.
func (l *layout) seat(lb *label, st Style) bool {
	c := l.c
	var w, h float64
	if lb.mark {
		w, h = markSize+0.6+max(markNum, TextWidth(lb.text, Bold)+1.6), markSize
	} else {
		for _, s := range lb.lines {
			w = max(w, TextWidth(s, st))
		}
		h = float64(len(lb.lines))*st.line() + 0.2
	}
	if w == 0 {
		return true
	}
	type cand struct {
		x, y float64
		cost float64
	}
	var cands []cand
	near := 2.0
	if lb.mark {
		near = 0
		// The circle sits on the point, the number beside it.
		cands = append(cands, cand{lb.ax - markSize/2, lb.ay - h/2, 0}, cand{lb.ax + markSize/2 - w, lb.ay - h/2, 1})
	}
	if lb.area {
		cands = append(cands, cand{lb.ax - w/2, lb.ay - h/2, 0})
		for _, o := range []float64{2, 4, 6, 9} {
			cands = append(cands, cand{lb.ax - w/2, lb.ay - h/2 - o, o * 0.3}, cand{lb.ax - w/2, lb.ay - h/2 + o, o * 0.3})
		}
	}
	if !lb.mark && !lb.area {
		cands = append(cands,
			cand{lb.ax + near, lb.ay - h/2, 0}, cand{lb.ax + near*0.7, lb.ay - h - near*0.5, 0.2},
			cand{lb.ax - near - w, lb.ay - h/2, 0.4}, cand{lb.ax - near*0.7 - w, lb.ay - h - near*0.5, 0.5},
			cand{lb.ax - w/2, lb.ay - h - near, 0.6}, cand{lb.ax + near*0.7, lb.ay + near*0.5, 0.6},
			cand{lb.ax - near*0.7 - w, lb.ay + near*0.5, 0.8}, cand{lb.ax - w/2, lb.ay + near, 0.9})
	}
	direct := len(cands)
	for ring := 5.0; ring <= 90; ring += 3.5 {
		for a := 0.0; a < 360; a += 18 {
			dx, dy := polar(ring, a+ring) // turned a little each ring, so that gaps are found
			x, y := lb.ax+dx, lb.ay-dy
			// The box hangs on the ring by its nearest edge.
			switch {
			case dx > ring*0.35:
			case dx < -ring*0.35:
				x -= w
			default:
				x -= w / 2
			}
			switch {
			case dy > ring*0.35:
				y -= h
			case dy < -ring*0.35:
			default:
				y -= h / 2
			}
			cands = append(cands, cand{x, y, 3 + ring*0.35})
		}
	}
	best, bestCost, bestHits := -1, math.Inf(1), 0
	for i, k := range cands {
		if k.cost >= bestCost {
			continue
		}
		box := Rect{k.x, k.y, w, h}
		if !l.free(box) {
			continue
		}
		hits := 0
		cost := k.cost + l.outside(box)
		grown := Rect{box.X - 0.6, box.Y - 0.6, w + 1.2, h + 1.2}
		if lb.mark { // rather not over another named point
			for _, o := range c.labels {
				x, y := l.px(o.at.X), l.py(o.at.Y)
				if o.at != lb.at && !o.area && x > grown.X-1 && x < grown.X+grown.W+1 && y > grown.Y-1 && y < grown.Y+grown.H+1 {
					cost += 2
				}
			}
		} else {
			for _, s := range c.strokes {
				if s.crosses(grown) {
					hits++
					cost += 4
					if s.heavy {
						cost += 40
					}
					if cost >= bestCost {
						break
					}
				}
			}
		}
		if i >= direct && cost < bestCost {
			lx, ly := nearest(box, lb.ax, lb.ay)
			lead := segment{lb.ax, lb.ay, lx, ly, false}
			for _, b := range c.boxes {
				if lead.crosses(b.Rect) {
					cost += 25
				}
			}
		}
		if cost < bestCost {
			best, bestCost, bestHits = i, cost, hits
		}
	}
	if best < 0 {
		return false
	}
	k := cands[best]
	lb.box = Rect{k.x, k.y, w, h}
	lb.mask = bestHits > 0
	lb.leader = best >= direct
	if lb.mark {
		lb.cx, lb.cy = k.x+markSize/2, k.y+h/2
		if best == 1 { // number at the left
			lb.cx = k.x + w - markSize/2
		}
	}
	lb.lx, lb.ly = nearest(lb.box, lb.ax, lb.ay)
	if lb.leader {
		c.strokes = append(c.strokes, segment{lb.ax, lb.ay, lb.lx, lb.ly, true})
	}
	kind := "label"
	if lb.mark {
		kind = "conflict mark"
	}
	c.boxes = append(c.boxes, namedBox{lb.box, fmt.Sprintf("%s %q", kind, lb.text)})
	return true
}

func nearest(r Rect, x, y float64) (float64, float64) {
	return max(r.X, min(x, r.X+r.W)), max(r.Y, min(y, r.Y+r.H))
}

// free says whether a box stays in the drawing's rectangle, off every other
// text and every dimension line.
func (l *layout) free(b Rect) bool {
	if b.X < l.r.X || b.Y < l.r.Y || b.X+b.W > l.r.X+l.r.W || b.Y+b.H > l.r.Y+l.r.H {
		return false
	}
	const air = 0.7
	for _, o := range l.c.boxes {
		if b.X+b.W+air > o.X && o.X+o.W+air > b.X && b.Y+b.H+air > o.Y && o.Y+o.H+air > b.Y {
			return false
		}
	}
	grown := Rect{b.X - 0.9, b.Y - 0.9, b.W + 1.8, b.H + 1.8}
	for _, s := range l.c.dimSegs {
		if s.crosses(grown) {
			return false
		}
	}
	return true
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

func (d *Doc) pen(p Pen) {
	if p.Width == 0 {
		p.Width = 0.25
	}
	d.stroke(p.Width, p.Grey)
	if p.Dash {
		d.pdf.SetDashPattern([]float64{1.8, 1.2}, 0)
	} else {
		d.pdf.SetDashPattern([]float64{}, 0)
	}
}

func (l *layout) paint() {
	c, d := l.c, l.d
	for _, s := range c.shapes {
		d.pen(s.pen)
		switch s.kind {
		case 'h':
			l.hatch(s)
			continue
		case 's':
			l.symbol(s)
			continue
		}
		xy := make([]float64, 0, 2*len(s.pts))
		for _, p := range s.pts {
			xy = append(xy, l.px(p.X), l.py(p.Y))
		}
		switch {
		case s.arrow:
			d.arrow(xy[0], xy[1], xy[2], xy[3], s.pen.norm().Width)
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
	d.pdf.SetDashPattern([]float64{}, 0)
	// Extension lines under everything, dimension lines over them.
	for i := range c.dims {
		if dm := &c.dims[i]; !dm.hidden {
			l.extensions(dm)
		}
	}
	for i := range c.dims {
		if dm := &c.dims[i]; !dm.hidden && dm.masked {
			b := dm.textBox()
			l.blank(Rect{b.X - 0.3, b.Y - 0.1, b.W + 0.6, b.H + 0.2})
		}
	}
	for i := range c.dims {
		if dm := &c.dims[i]; !dm.hidden {
			l.dimension(dm)
		}
	}
	for i := range c.labels {
		lb := &c.labels[i]
		if lb.hidden {
			continue
		}
		if lb.leader {
			d.stroke(0.2, 0)
			d.pdf.Line(lb.ax, lb.ay, lb.lx, lb.ly)
		}
		if lb.leader || !lb.area && !lb.mark {
			d.fill(0)
			d.pdf.Circle(lb.ax, lb.ay, 0.5, "F")
		}
	}
	for i := range c.labels {
		if lb := &c.labels[i]; !lb.hidden && len(lb.lines) > 0 {
			l.text(lb)
		}
	}
}

func (p Pen) norm() Pen {
	if p.Width == 0 {
		p.Width = 0.25
	}
	return p
}

func (l *layout) blank(r Rect) {
	l.d.pdf.SetFillColor(255, 255, 255)
	l.d.pdf.Rect(r.X, r.Y, r.W, r.H, "F")
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

func (l *layout) extensions(dm *dimension) {
	d := l.d
	d.stroke(0.13, 20)
	t := dm.lineAcross
	for _, p := range []float64{dm.pa, dm.pb} {
		switch dm.side {
		case Top:
			d.pdf.Line(p, min(l.py(dm.from)-0.8, l.draw.Y+0.01+l.draw.H), p, t-over)
		case Bottom:
			d.pdf.Line(p, l.py(dm.from)+0.8, p, t+over)
		case LeftSide:
			d.pdf.Line(l.px(dm.from)-0.8, p, t-over, p)
		default:
			d.pdf.Line(l.px(dm.from)+0.8, p, t+over, p)
		}
	}
}

func (l *layout) dimension(dm *dimension) {
	d := l.d
	t := dm.lineAcross
	line := func(a, b float64) {
		d.stroke(0.2, 0)
		if dm.side == Top || dm.side == Bottom {
			d.pdf.Line(a, t, b, t)
		} else {
			d.pdf.Line(t, a, t, b)
		}
	}
	head := func(at, dir float64) { // points to at, coming from dir
		d.fill(0)
		const n, m = 2.0, 0.42
		if dm.side == Top || dm.side == Bottom {
			d.poly("F", at, t, at-dir*n, t-m, at-dir*n, t+m)
		} else {
			d.poly("F", t, at, t-m, at-dir*n, t+m, at-dir*n)
		}
	}
	line(dm.la, dm.lb)
	if dm.pb-dm.pa >= 5 {
		head(dm.pa, -1)
		head(dm.pb, 1)
	} else { // too narrow for arrows: slanting ticks
		d.stroke(0.35, 0)
		for _, p := range []float64{dm.pa, dm.pb} {
			if dm.side == Top || dm.side == Bottom {
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
	if dm.side == Top || dm.side == Bottom {
		d.drawAt(dm.shown, b.X, b.Y, st, l.r)
	} else {
		d.drawTurned(dm.shown, b.X, b.Y, st, l.r)
	}
}

func (l *layout) text(lb *label) {
	d := l.d
	if lb.mark {
		d.stroke(0.75, 0)
		d.pdf.SetFillColor(255, 255, 255)
		r := markSize/2 - 0.4
		d.pdf.Circle(lb.cx, lb.cy, r, "FD")
		d.stroke(0.95, 0)
		a := r * 0.52
		d.pdf.Line(lb.cx-a, lb.cy-a, lb.cx+a, lb.cy+a)
		d.pdf.Line(lb.cx-a, lb.cy+a, lb.cx+a, lb.cy-a)
		w := lb.box.W - markSize - 0.6
		x := lb.box.X + markSize + 0.6
		if lb.cx > lb.box.X+lb.box.W/2 {
			x = lb.box.X
		}
		box := Rect{x, lb.box.Y + (lb.box.H-markNum)/2, w, markNum}
		d.fill(0)
		d.pdf.Rect(box.X, box.Y, box.W, box.H, "F")
		st := Bold
		st.white = true
		st.Align = Centre
		d.drawLine(lb.text, box, st)
		return
	}
	if lb.mask {
		l.blank(Rect{lb.box.X - 0.3, lb.box.Y - 0.1, lb.box.W + 0.6, lb.box.H + 0.2})
	}
	st := noteStyle
	st.Bold = lb.bold
	switch {
	case lb.area:
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

// scaleBar draws a bar at the bottom left of the drawing's rectangle. A bar
// stays true when the sheet is copied to another size.
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
	y := r.Y + r.H - 3.2
	d.stroke(0.2, 0)
	d.fill(0)
	d.pdf.Rect(r.X, y, w/2, 1.2, "FD")
	d.pdf.Rect(r.X+w/2, y, w/2, 1.2, "D")
	st := Style{Size: 7.5}
	s := fmt.Sprintf("%g %s", length, unit)
	box := Rect{r.X + w + 1.5, y + 0.6 - st.line()/2, TextWidth(s, st) + 0.1, st.line()}
	d.drawLine(s, box, st)
	d.placed[len(d.placed)-1].Box = r
	l.c.boxes = append(l.c.boxes, namedBox{Rect{box.X, box.Y, box.W, box.H}, "scale bar"})
}
