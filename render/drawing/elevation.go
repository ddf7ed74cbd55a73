package drawing

import (
	"math"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

const (
	slab   = 45.0 // thickness of the floor that is hatched
	shape  = 2.4  // the most that a drawing is wider than high
	border = 30.0 // of a counter beyond its opening
)

// Elevation is the front view: opening and counter, machine, and what concerns
// one trade, or all when none is named: the electrician's outlet, the
// plumber's connections and drain, the builder's sizes. Distances count from
// the opening's left jamb, or from the machine's edge when the opening isn't
// known, heights from the finished floor.
func Elevation(r *words.Report, trade check.Trade) Drawing {
	const title = "drawing.elevation"
	d := newDrawer(r, trade)
	if !drawable(d.m.Space.Width) || !drawable(d.m.Space.Height) {
		return d.sizeless(title)
	}
	w, h := mm(d.m.Space.Width), mm(d.m.Space.Height)
	e := elevation{drawer: d, body: region{d.jamb, d.up, d.jamb + w, d.up + h}}
	e.layOut()
	d.notes = append(d.notes, d.say(d.datum()+"-note"), d.say("drawing.lines"))
	e.floor()
	e.opening()
	e.machine()
	if d.shows(check.Electrician) {
		e.power()
	}
	if d.shows(check.Plumber) {
		e.water()
		e.drain()
	}
	d.scaleBar()
	return d.done(title)
}

type elevation struct {
	*drawer
	body region // the machine on its stand; it hides what is behind it
}

// layOut makes the paper: everything that stands somewhere is kept, the empty
// stretches between are left out where the drawing would be too wide.
func (e *elevation) layOut() {
	right := e.body.x1
	if !e.onEdge {
		right = max(right, mm(e.built.Space.Width))
	}
	a := &e.axis
	a.keep(min(0, e.jamb), right)
	for _, s := range []*survey.Survey{e.found, e.built} {
		if p := s.Power.OutletFromLeft; e.shows(check.Electrician) && drawable(p) {
			a.keep(e.place(p), e.place(p))
		}
		if !e.shows(check.Plumber) {
			continue
		}
		for _, p := range []quantity.Length{s.Water.Cold.FromLeft, s.Water.Hot.FromLeft} {
			if drawable(p) {
				a.keep(e.place(p), e.place(p))
			}
		}
		if p := s.Drain.FromLeft; drawable(p) {
			a.keep(e.place(p)-receptorHalf, e.place(p)+receptorHalf)
		}
	}
	top := e.body.y1
	if y := e.built.Space.Counter; drawable(y) {
		top = max(top, mm(y))
	}
	a.fold(shape * (top + slab))
	e.c = page.NewCanvas(1, top)
}

// floor draws the finished floor: level at the machine, falling to the
// receptor where it does, and the break lines through it.
func (e *elevation) floor() {
	left, right := e.axis.ends()
	ground, slabs := []point{{left, 0}, {right, 0}}, []stretch{{left, right}}
	if p := e.built.Drain.FromLeft; e.shows(check.Plumber) && drawable(p) {
		ground, slabs = e.ground(left, right, e.place(p), -e.lower())
	}
	e.line(page.Thick, nil, ground...)
	for _, s := range slabs {
		for _, part := range e.axis.parts(point{s.from, 0}, point{s.to, 0}) {
			x0, x1 := e.axis.at(part[0].x), e.axis.at(part[1].x)
			e.c.Hatch(x0, -slab, x1-x0, slab)
		}
	}
	for _, cut := range e.axis.cuts {
		for _, x := range []float64{cut.from, cut.to} {
			e.breakLine(e.axis.at(x))
		}
	}
	e.c.Symbol(0, -slab, page.Symbol{Datum: true})
	e.c.Label(0, -slab, e.say(e.datum()))
}

// ground is the floor with a receptor at x, where it lies low, and the
// stretches of it that are hatched. Between them it slopes, which a label says.
func (e *elevation) ground(left, right, x, low float64) (ground []point, slabs []stretch) {
	near, far := x-receptorHalf, x+receptorHalf
	if low == 0 {
		return []point{{left, 0}, {right, 0}}, []stretch{{left, near - 20}, {far + 20, right}}
	}
	foot := stretch{-border, e.body.x1 + border} // of the machine and its opening, which is level
	switch {
	case near > foot.to:
		ground, slabs = []point{{left, 0}, {foot.to, 0}, {near, low}, {right, low}}, []stretch{{left, foot.to}}
	case far < foot.from:
		ground, slabs = []point{{right, 0}, {foot.from, 0}, {far, low}, {left, low}}, []stretch{{foot.from, right}}
	default:
		ground, slabs = []point{{left, 0}, {near - receptorHalf, 0}, {near, low}, {far, low}, {far + receptorHalf, 0}, {right, 0}}, []stretch{{left, near - receptorHalf}, {far + receptorHalf, right}}
	}
	name := "drawing.floor-falls"
	if low > 0 {
		name = "drawing.floor-rises"
	}
	mid := e.axis.shown((ground[1].x + ground[2].x) / 2)
	e.c.Label(e.axis.at(mid), at(ground[1], ground[2], mid), e.say(name, "by", length(math.Abs(low))))
	return ground, slabs
}

// lower is how much lower the floor is at the receptor, as planned.
func (e *elevation) lower() float64 {
	if f := e.built.Drain.FloorFalls; drawable(f) {
		return mm(f)
	}
	return 0
}

// breakLine draws a break line: something is left out here.
func (e *elevation) breakLine(x float64) {
	const low, high, wide = -slab - 40, 420.0, 26.0
	mid := (low + high) / 2
	e.c.Polyline(page.Thin, false, page.Point{X: x, Y: low}, page.Point{X: x, Y: mid - 40}, page.Point{X: x - wide, Y: mid - 14},
		page.Point{X: x + wide, Y: mid + 14}, page.Point{X: x, Y: mid + 40}, page.Point{X: x, Y: high})
}

// opening draws the opening and the counter over it, planned, and thin as
// found where that differs. The builder's has its sizes.
func (e *elevation) opening() {
	builder := e.shows(check.Builder)
	was, is := e.found.Space, e.built.Space
	if !drawable(is.Width) || !drawable(is.Height) {
		if builder {
			e.lack(is.Width, "opening-width")
			e.lack(is.Height, "opening-height")
		}
		return
	}
	w, h := mm(is.Width), mm(is.Height)
	if drawable(was.Width) && drawable(was.Height) && (was.Width.Cmp(is.Width) != 0 || was.Height.Cmp(is.Height) != 0) {
		x0, x1, y := (w-mm(was.Width))/2, (w+mm(was.Width))/2, mm(was.Height)
		e.c.Polyline(page.Thin, false, page.Point{X: x0}, page.Point{X: x0, Y: y}, page.Point{X: x1, Y: y}, page.Point{X: x1})
		if builder {
			e.c.Label(x0+(x1-x0)*0.2, y, e.say("drawing.opening-found", "width", length(x1-x0), "height", length(y)))
		}
	}
	pen := page.Medium
	if builder {
		pen = page.Strong
	}
	e.c.Polyline(pen, false, page.Point{}, page.Point{Y: h}, page.Point{X: w, Y: h}, page.Point{X: w})
	thick := 35.0
	if drawable(is.Counter) && mm(is.Counter) > h {
		thick = mm(is.Counter) - h
	}
	e.c.Hatch(-border, h, w+2*border, thick)
	e.c.Rect(-border, h, w+2*border, thick, page.Thin)
	if !builder {
		return
	}
	e.c.DimH(0, w, h+thick, e.say("drawing.opening", "width", length(w)), page.Top)
	e.c.DimV(0, h, w, e.tape(length(h)), page.RightSide)
	if drawable(is.Counter) {
		e.c.DimV(0, h+thick, w+border, e.say("drawing.counter", "height", length(h+thick)), page.RightSide)
	}
	e.conflict(w, h/2, of(ask.Space.Width))
	e.conflict(w*0.7, h, of(ask.Space.Height, ask.Space.Counter))
}

// machine draws the machine on its stand. The builder's has its sizes and the
// room that it needs.
func (e *elevation) machine() {
	b := e.body
	w, h := b.x1-b.x0, b.y1-b.y0
	e.c.Rect(b.x0, b.y0, w, h, page.Medium)
	e.c.NameIn((b.x0+b.x1)/2, b.y0+h*0.72, page.Point{X: b.x0, Y: b.y0}, page.Point{X: b.x1, Y: b.y1}, e.m.Name)
	if e.up > 0 {
		e.c.Rect(b.x0, 0, w, e.up, page.Strong)
		e.c.DimV(0, e.up, b.x1, e.say("drawing.stand", "height", length(e.up)), page.RightSide)
	}
	if !e.shows(check.Builder) {
		return
	}
	e.c.DimH(b.x0, b.x1, 0, e.tape(length(w)), page.Bottom)
	e.c.DimV(b.y0, b.y1, min(b.x0, 0), e.tape(length(h)), page.LeftSide)
	side, above := 0.0, 0.0
	if g := e.m.Space.SideGap; drawable(g) {
		side = mm(g)
	}
	if g := e.m.Space.TopGap; drawable(g) {
		above = mm(g)
	}
	if side > 0 || above > 0 {
		e.c.Polyline(page.Phantom, false, page.Point{X: b.x0 - side}, page.Point{X: b.x0 - side, Y: b.y1 + above},
			page.Point{X: b.x1 + side, Y: b.y1 + above}, page.Point{X: b.x1 + side})
		e.notes = append(e.notes, e.say("drawing.room"))
	}
}

// A supplyPoint is where a supply comes out of the wall and where the machine takes it.
type supplyPoint struct {
	name, letter  string // of its phrases, and in the machine's symbol
	square        bool
	height, left  survey.Answer[quantity.Length]
	takesAt, from quantity.Length // on the machine: height and distance from its left edge
	about         func(path string) bool
	what          any // its kind
}

// power draws the electrician's outlet and where the machine takes it.
func (e *elevation) power() {
	p, m := ask.Power, e.m.Power
	s := supplyPoint{name: "receptacle", letter: "P", square: true, height: p.OutletHeight, left: p.OutletFromLeft, takesAt: m.EntryHeight, from: m.EntryLeft,
		about: of(p.Receptacle, p.ReceptacleRun, p.OutletHeight, p.OutletFromLeft, p.Dedicated, p.OtherLoads)}
	if kind := e.built.Power.Receptacle; kind != "" && kind != "none" {
		s.what = check.Quote(kind)
	} else {
		s.what = check.Say("drawing.receptacle")
	}
	if m.Connection != "cord" {
		s.name = "junction-box"
	}
	e.supply(s)
	if drawable(m.EntryHeight) && drawable(m.EntryLeft) {
		x, y := e.place(m.EntryLeft), mm(m.EntryHeight)+e.up
		e.c.Label(x, y, e.say("drawing.entry", "height", length(y)))
		e.distance(x, y)
	}
}

// water draws the plumber's connections and where the machine takes them.
func (e *elevation) water() {
	w := e.m.Water
	if w.Cold.Used {
		a := ask.Water.Cold
		e.supply(supplyPoint{name: "cold", letter: "C", height: a.Height, left: a.FromLeft, takesAt: w.Cold.Height, from: w.Cold.FromLeft, about: under("water.cold")})
	}
	if w.Hot.Used {
		a := ask.Water.Hot
		e.supply(supplyPoint{name: "hot", letter: "H", height: a.Height, left: a.FromLeft, takesAt: w.Hot.Height, from: w.Hot.FromLeft, about: under("water.hot", "heater")})
	}
}

// supply draws a point of supply as planned, thin as found where that was
// elsewhere, and the machine's own with its letter.
func (e *elevation) supply(s supplyPoint) {
	if drawable(s.takesAt) && drawable(s.from) {
		e.c.Symbol(e.axis.at(e.place(s.from)), mm(s.takesAt)+e.up, page.Symbol{Square: s.square, Dash: true, Letter: s.letter})
		e.letters = once(e.letters, e.say("drawing.letter-"+s.letter))
	}
	left, height := s.left.Of(e.built), s.height.Of(e.built)
	if !drawable(left) || !drawable(height) {
		e.lacks(s.name + "-place")
		return
	}
	x, y := e.place(left), mm(height)
	if l, h := s.left.Of(e.found), s.height.Of(e.found); drawable(l) && drawable(h) && (l.Cmp(left) != 0 || h.Cmp(height) != 0) {
		e.c.Symbol(e.axis.at(e.place(l)), mm(h), page.Symbol{Square: s.square, Cross: true, Thin: true})
		e.c.Label(e.axis.at(e.place(l)), mm(h), e.say("drawing.as-found"))
	}
	hidden := x > e.body.x0 && x < e.body.x1 && y > e.body.y0 && y < e.body.y1
	e.c.Symbol(e.axis.at(x), y, page.Symbol{Square: s.square, Cross: true, Dash: hidden})
	e.c.Label(e.axis.at(x), y, e.say("drawing."+s.name+"-at", "what", s.what, "height", length(y)))
	e.distance(x, y)
	e.conflict(x, y, s.about)
}
