package drawing

import (
	"math"
	"slices"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey/quantity"
)

// Plan is the view from above: opening, machine, the room that it needs behind
// and in front, the utilities of one trade, or of all when none or the builder
// is named. Depths count from the wall.
func Plan(r *words.Report, trade check.Trade) Drawing {
	const title = "drawing.plan"
	d := newDrawer(r, trade)
	if !drawable(d.m.Space.Width) || !drawable(d.m.Space.Depth) {
		return d.sizeless(title)
	}
	w, deep := mm(d.m.Space.Width), mm(d.m.Space.Depth)
	back, front := 0.0, 0.0
	if g := d.m.Space.BackGap; drawable(g) {
		back = mm(g)
	}
	if g := d.m.Space.FrontGap; drawable(g) {
		front = mm(g)
	}
	// The wall's face is at 0; all of it lies before the wall.
	p := above{drawer: d, body: region{d.jamb, -back - deep, d.jamb + w, -back}}
	p.layOut()
	d.notes = append(d.notes, d.say(d.datum()+"-plan"), d.say("drawing.wall"))
	p.opening()
	b := p.body
	d.c.Rect(b.x0, b.y0, w, deep, page.Medium)
	d.c.NameIn((b.x0+b.x1)/2, (b.y0+b.y1)/2, page.Point{X: b.x0, Y: b.y0}, page.Point{X: b.x1, Y: b.y1}, d.m.Name)
	d.c.NameHere((b.x0+b.x1)/2, b.y0+deep*0.12, d.say("drawing.front"))
	d.c.NameHere(b.x0+w*0.13, b.y0+deep*0.75, d.say("drawing.left"))
	d.c.DimV(b.y0, b.y1, b.x0, d.tape(length(deep)), page.LeftSide)
	if back > 0 {
		d.c.DimV(b.y1, 0, b.x0, d.say("drawing.behind", "gap", length(back)), page.LeftSide)
	}
	p.front(front)
	p.utilities()
	d.scaleBar()
	return d.done(title)
}

type above struct {
	*drawer
	body region
}

// beside is how close two symbols of the plan may stand, in millimetres.
const beside = 250.0

// utility is a point of the wall, by its letter.
type utility struct {
	trade  check.Trade
	letter string
	left   quantity.Length // site's, from the machine's left edge
	square bool
}

// all are the utilities that the machine uses, as planned.
func (p *above) all() []utility {
	s, m := p.built, p.m
	list := []utility{{check.Electrician, "P", s.Power.OutletFromLeft, true}}
	if m.Water.Cold.Used {
		list = append(list, utility{check.Plumber, "C", s.Water.Cold.FromLeft, false})
	}
	if m.Water.Hot.Used {
		list = append(list, utility{check.Plumber, "H", s.Water.Hot.FromLeft, false})
	}
	list = append(list, utility{check.Plumber, "R", s.Drain.FromLeft, false})
	var shown []utility
	for _, u := range list {
		if p.shows(u.trade) || p.trade == check.Builder {
			shown = append(shown, u)
		}
	}
	return shown
}

func (p *above) layOut() {
	right := p.body.x1
	if !p.onEdge {
		right = max(right, mm(p.built.Space.Width))
	}
	p.axis.keep(min(0, p.jamb), right)
	for _, u := range p.all() {
		if drawable(u.left) {
			p.axis.keep(p.place(u.left), p.place(u.left))
		}
	}
	p.axis.fold(1.6 * right)
	p.c = page.NewCanvas(1, 1)
}

// opening draws the wall and the opening's sides, as planned.
func (p *above) opening() {
	s, was := p.built.Space, p.found.Space
	left, right := p.axis.ends()
	for _, part := range p.axis.parts(point{left, 0}, point{right, 0}) {
		x0, x1 := p.axis.at(part[0].x), p.axis.at(part[1].x)
		p.c.Line(x0, 0, x1, 0, page.Thick)
		p.c.Hatch(x0, 0, x1-x0, slab)
	}
	for _, cut := range p.axis.cuts {
		for _, x := range []float64{cut.from, cut.to} {
			x = p.axis.at(x)
			p.c.Polyline(page.Thin, false, page.Point{X: x, Y: -120}, page.Point{X: x, Y: -50}, page.Point{X: x - 26, Y: -26}, page.Point{X: x + 26, Y: 10}, page.Point{X: x, Y: 35}, page.Point{X: x, Y: 110})
		}
	}
	if p.lack(s.Width, "opening-width") || p.lack(s.Depth, "opening-depth") {
		return
	}
	w, deep := mm(s.Width), mm(s.Depth)
	if drawable(was.Depth) && was.Depth.Cmp(s.Depth) != 0 {
		p.c.Line(0, -mm(was.Depth), w, -mm(was.Depth), page.Thin)
		p.c.Label(w*0.8, -mm(was.Depth), p.say("drawing.as-found"))
	}
	pen := page.Medium
	if p.shows(check.Builder) {
		pen = page.Strong
	}
	p.c.Line(0, 0, 0, -deep, pen)
	p.c.Line(w, 0, w, -deep, pen)
	p.c.DimV(-deep, 0, w, p.tape(length(deep)), page.RightSide)
	if p.shows(check.Builder) {
		p.c.DimH(0, w, slab, p.say("drawing.opening", "width", length(w)), page.Top)
	}
	p.conflict(w, -deep/2, of(ask.Space.Depth))
	p.conflict(w, -deep/2, of(ask.Space.Width, ask.Space.ServiceGap))
}

// front draws the room to keep in front of the machine, and what stands in it.
func (p *above) front(need float64) {
	b := p.body
	if need > 0 {
		p.c.Polyline(page.Phantom, false, page.Point{X: b.x0, Y: b.y0}, page.Point{X: b.x0, Y: b.y0 - need}, page.Point{X: b.x1, Y: b.y0 - need}, page.Point{X: b.x1, Y: b.y0})
		p.c.NameIn((b.x0+b.x1)/2, b.y0-need/2, page.Point{X: b.x0, Y: b.y0 - need}, page.Point{X: b.x1, Y: b.y0}, p.say("drawing.keep-clear"))
		p.c.DimV(b.y0-need, b.y0, b.x0, p.tape(length(need)), page.LeftSide)
	}
	clear := p.built.Space.Front
	if p.lack(clear, "clear-floor") {
		return
	}
	if y := b.y0 - mm(clear); mm(clear) < need || mm(clear) < need+600 {
		p.c.Line(b.x0-border, y, b.x1+border, y, page.Medium)
		p.c.DimV(y, b.y0, b.x1, p.say("drawing.clear", "depth", length(mm(clear))), page.RightSide)
		p.conflict((b.x0+b.x1)/2, y, of(ask.Space.Front))
	}
}

// utilities draws where the supplies come out of the wall, and the receptor.
// Where two would cover each other, the second stands back in the wall.
func (p *above) utilities() {
	last, back := math.Inf(-1), 0.0
	list := p.all()
	slices.SortStableFunc(list, func(a, b utility) int { return a.left.Cmp(b.left) })
	for _, u := range list {
		if !drawable(u.left) {
			p.lacks("place-" + u.letter)
			continue
		}
		p.letters = once(p.letters, p.say("drawing.plan-"+u.letter))
		x := p.place(u.left)
		if back = beside - back; x > last+beside {
			back = 0
		}
		last = x
		if back > 0 {
			p.c.Line(p.axis.at(x), 0, p.axis.at(x), back, page.Thin)
		}
		p.c.Symbol(p.axis.at(x), back, page.Symbol{Square: u.square, Letter: u.letter})
	}
}
