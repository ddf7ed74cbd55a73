package page

import (
	"fmt"
	"math"
	"slices"

	"firstfill/templates"
)

// Inch in millimetres.
const Inch = 25.4

// Pen is how a line of a drawing looks.
type Pen struct {
	Width float64 // millimetres on paper; 0.25 when zero
	Grey  int     // per cent towards white
	Dash  bool    // what is hidden
	Chain bool    // long and short dashes: room to keep, no edge of a thing
}

// The pens of a drawing: what was found is thin, what is planned bold, what is
// hidden dashed.
var (
	Thin         = Pen{Width: 0.15}
	Medium       = Pen{Width: 0.3}
	Strong       = Pen{Width: 0.5}
	Thick        = Pen{Width: 0.6}
	Dashed       = Pen{Width: 0.25, Dash: true}
	StrongDashed = Pen{Width: 0.5, Dash: true}
	Phantom      = Pen{Width: 0.2, Chain: true}
)

// Point is a place in the drawn world, in millimetres, y upwards.
type Point struct{ X, Y float64 }

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

// Canvas is a scale drawing: shapes in world millimetres, dimensions in lanes
// outside it, labels and conflict marks placed where they cover nothing. It is
// filled first and laid out when it is drawn.
type Canvas struct {
	bounds struct{ x0, y0, x1, y1 float64 }
	shapes []shape
	dims   []dimension
	labels []label
	bar    string // unit of the scale bar, "" none
	barIn  Rect   // the line at whose end it is drawn; none: under the drawing
	bad    bool   // a number was not finite

	// The last layout.
	taken  taken
	hidden []string
	keys   []string
	first  int // letter of the first key: those before it stand on a drawing beside this one
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
	Dash   bool   // where it is hidden
	Thin   bool   // as found, where another is planned
	Cross  bool   // through it: a point of supply
	Letter string // inside; left out where it would lie on another text
	Datum  bool   // a filled triangle under the point, from which distances count
}

const (
	symbolHalf = 1.9 // half a symbol's width on paper, with a letter
	symbolBare = 1.3 // and without
	symbolText = 7.0 // points
)

func (s Symbol) half() float64 {
	if s.Letter != "" {
		return symbolHalf
	}
	return symbolBare
}

// box is a symbol's place on paper.
func (s Symbol) box(x, y float64) Rect {
	h := s.half()
	if s.Datum {
		return Rect{x - h, y, 2 * h, 2 * h}
	}
	return Rect{x - h, y - h, 2 * h, 2 * h}
}

// Symbol draws a small sign at a point.
func (c *Canvas) Symbol(x, y float64, s Symbol) {
	if c.grow(x, y) {
		c.shapes = append(c.shapes, shape{kind: 's', pts: []Point{{x, y}}, symbol: s})
	}
}

// ScaleBar adds a bar under the drawing, in "mm" or "in".
func (c *Canvas) ScaleBar(unit string) { c.bar = unit }

// Keys lists the texts for which a letter stands in the last layout, in the
// order of the letters. [Doc.Draw] prints them under the drawing.
func (c *Canvas) Keys() []string { return slices.Clone(c.keys) }

// key gives the letter that stands for a text.
func (c *Canvas) key(text string) string {
	i := slices.Index(c.keys, text)
	if i < 0 {
		i = len(c.keys)
		c.keys = append(c.keys, text)
	}
	return keyLetter(c.first + i)
}

// keyLetter is a small letter: capitals stand in symbols.
func keyLetter(i int) string {
	s := string(rune('a' + i%26))
	if i >= 26 {
		s += fmt.Sprint(i / 26)
	}
	return s
}

// Hidden lists the texts that found no place at all in the last layout.
// [Doc.Draw] prints them under the drawing.
func (c *Canvas) Hidden() []string { return slices.Clone(c.hidden) }

// Collisions describes every overlap of the last layout: text on text, on a
// symbol, on a line, on hatching, and one dimension line on another.
func (c *Canvas) Collisions() []string { return c.taken.collisions() }

// say words what the kit itself says of a drawing, from templates/checks.
func say(name string, pairs ...string) string {
	all, err := templates.Phrases()
	if err != nil {
		panic(err)
	}
	return templates.Fill(all[name], pairs...)
}
