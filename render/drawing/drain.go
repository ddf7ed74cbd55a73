package drawing

import (
	"math"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Sizes of signs that aren't surveyed, in millimetres.
const (
	receptorHalf = 110.0 // half a receptor's width
	bowlDepth    = 120.0
	pipeHalf     = 28.0
	trapDepth    = 90.0
	crossed      = 32.0 // half the cross over a line that can't drain
	dip          = 40.0 // of a line that ends inside its receptor
)

// drain draws the line as it will run: its end above the rim by the air gap,
// its fall along the run; thin as found, where that differs.
func (e *elevation) drain() {
	m := e.m.Drain
	if !drawable(m.OutletHeight) || !drawable(m.OutletLeft) {
		e.lacks("drain-place")
		return
	}
	out := point{e.place(m.OutletLeft), mm(m.OutletHeight) + e.up}
	e.c.Symbol(out.x, out.y, page.Symbol{Dash: true, Letter: "D"})
	e.c.Label(out.x, out.y, e.say("drawing.outlet", "height", length(out.y)))
	e.letters = once(e.letters, e.say("drawing.letter-D"))
	e.distance(out.x, out.y)

	s := e.built.Drain
	if s.Receptor == "none" {
		e.notes = append(e.notes, e.say("drawing.no-receptor"))
		return
	}
	if e.lack(s.FromLeft, "receptor-place") || e.lack(s.RimHeight, "rim-height") {
		return
	}
	end := e.receptor(e.built, false)
	found, built, haveFound, haveBuilt := e.falls()
	if haveFound && (!haveBuilt || differs(found, built) || moved(e.found, e.built)) && drawable(e.found.Drain.FromLeft) {
		e.foundLine(found)
	}
	if !haveBuilt {
		e.lacks("fall")
	} else if m.Kind == "pump" {
		e.hose(out, end, built)
	} else {
		e.gravity(out, end, built)
	}
	at := under("drain")
	e.conflict(end.x, end.y, either(at, of(ask.Machine.RaisedBy)))
}

func differs(a, b rules.Fall) bool {
	return a.Outlet.Cmp(b.Outlet) != 0 || a.Rim.Cmp(b.Rim) != 0 || a.Gap.Cmp(b.Gap) != 0
}

// moved says whether the receptor lies elsewhere under the plan.
func moved(found, built *survey.Survey) bool {
	return found.Drain.FromLeft.Cmp(built.Drain.FromLeft) != 0 || found.Drain.RimHeight.Cmp(built.Drain.RimHeight) != 0
}

// receptor draws the receptor at its rim, what is in the floor hidden, and
// gives the middle of its rim.
func (e *elevation) receptor(s *survey.Survey, found bool) point {
	d := s.Drain
	ground := 0.0
	if drawable(d.FloorFalls) {
		ground = -mm(d.FloorFalls)
	}
	x, rim := e.place(d.FromLeft), mm(d.RimHeight)+ground
	pen := page.Medium
	if found {
		pen = page.Thin
	}
	floor := []region{{math.Inf(-1), math.Inf(-1), math.Inf(1), ground}}
	for _, run := range receptorShape(d.Receptor, x, rim, ground, d.Standpipe) {
		e.line(pen, floor, run...)
	}
	if found {
		return point{x, rim}
	}
	name := "drawing.rim"
	if d.Receptor != "" {
		name = "drawing.rim-" + d.Receptor
	}
	high := length(mm(d.RimHeight))
	switch {
	case mm(d.RimHeight) < -0.5:
		e.c.Label(e.axis.at(x-receptorHalf*0.6), rim, e.say(name, "rim", check.Say("drawing.rim-below", "by", length(-mm(d.RimHeight)))))
	case mm(d.RimHeight) < 0.5:
		e.c.Label(e.axis.at(x-receptorHalf*0.6), rim, e.say(name, "rim", check.Say("drawing.rim-flush")))
	default:
		e.c.Label(e.axis.at(x-receptorHalf*0.6), rim, e.say(name, "rim", check.Say("drawing.rim-above", "by", high)))
	}
	if d.Receptor == "standpipe" && drawable(d.Standpipe) {
		e.c.DimV(rim-mm(d.Standpipe), rim, e.axis.at(x+pipeHalf), e.say("drawing.standpipe", "height", length(mm(d.Standpipe))), page.RightSide)
	}
	e.distance(x, min(rim, ground))
	return point{x, rim}
}

// receptorShape are the lines of a receptor of some kind.
func receptorShape(kind string, x, rim, ground float64, standpipe quantity.Length) [][]point {
	half, deep := receptorHalf, bowlDepth
	switch kind {
	case "standpipe", "hub":
		weir := min(rim, ground) - trapDepth
		if drawable(standpipe) {
			weir = rim - mm(standpipe)
		}
		low := weir - trapDepth
		near := []point{{x - pipeHalf, rim}, {x - pipeHalf, low}, {x + 5*pipeHalf, low}, {x + 5*pipeHalf, weir - 2*pipeHalf}, {x + 8*pipeHalf, weir - 2*pipeHalf}}
		far := []point{{x + pipeHalf, rim}, {x + pipeHalf, low + 2*pipeHalf}, {x + 3*pipeHalf, low + 2*pipeHalf}, {x + 3*pipeHalf, weir}, {x + 8*pipeHalf, weir}}
		runs := [][]point{near, far}
		if kind == "hub" { // a bell at its mouth
			runs = append(runs, []point{{x - pipeHalf, rim - 60}, {x - 2*pipeHalf, rim - 60}, {x - 2*pipeHalf, rim}, {x + 2*pipeHalf, rim}, {x + 2*pipeHalf, rim - 60}, {x + pipeHalf, rim - 60}})
		}
		return runs
	case "floor-drain":
		half, deep = 90, 70
	case "trapped-sink":
		half, deep = 190, 210
	}
	return [][]point{{
		{x - half, rim}, {x - half*0.85, rim - deep}, {x - pipeHalf, rim - deep}, {x - pipeHalf, rim - deep - trapDepth},
	}, {
		{x + half, rim}, {x + half*0.85, rim - deep}, {x + pipeHalf, rim - deep}, {x + pipeHalf, rim - deep - trapDepth},
	}, {
		{x - half*0.85, rim - deep}, {x + half*0.85, rim - deep},
	}}
}

// lineEnd is where a line ends: above the rim by its gap, or inside the receptor.
func lineEnd(rim point, f rules.Fall) point {
	if mm(f.Gap) == 0 {
		return point{rim.x, rim.y - dip}
	}
	return point{rim.x, rim.y + mm(f.Gap)}
}

// gravity draws the line as planned. It falls as it must and turns down over
// the receptor; one that can't fall enough runs straight to where it must end,
// uphill if need be, and says so.
func (e *elevation) gravity(out, rim point, f rules.Fall) {
	end := lineEnd(rim, f)
	e.gap(rim, end, f)
	hidden := []region{e.body}
	if f.Available.Cmp(f.Required) < 0 {
		e.line(page.Strong, hidden, out, end)
		e.tooFlat(out, end, f, "drawing.too-flat", "drawing.uphill")
		return
	}
	bend := point{end.x, out.y - mm(f.Required)}
	e.line(page.Strong, hidden, out, bend, end)
	e.c.Label(e.axis.at(e.along(out, bend)), at(out, bend, e.along(out, bend)),
		e.say("drawing.falls", "size", e.nominal(e.built.Drain.Size), "fall", e.rounded(f.Required, quantity.Up)))
}

// foundLine draws the line as it would run to the receptor as found.
func (e *elevation) foundLine(f rules.Fall) {
	d := e.found.Drain
	if !drawable(d.RimHeight) {
		return
	}
	rim := point{e.place(d.FromLeft), mm(f.Rim)}
	lower := 0.0
	if drawable(d.FloorFalls) {
		lower = mm(d.FloorFalls)
	}
	rim.y -= lower
	if moved(e.found, e.built) {
		rim = e.receptor(e.found, true)
	}
	if e.m.Drain.Kind == "pump" {
		return
	}
	out, end := point{e.place(e.m.Drain.OutletLeft), mm(f.Outlet) - lower}, lineEnd(rim, f)
	hidden := []region{e.body, {e.jamb, 0, e.body.x1, e.up}}
	if f.Available.Cmp(f.Required) >= 0 {
		bend := point{end.x, out.y - mm(f.Required)}
		e.line(page.Thin, hidden, out, bend, end)
		return
	}
	e.line(page.Thin, hidden, out, end)
	e.tooFlat(out, end, f, "drawing.found-flat", "drawing.found-uphill")
}

// tooFlat says by how much a line falls too little, or runs uphill.
func (e *elevation) tooFlat(out, end point, f rules.Fall, flat, uphill string) {
	x := e.along(out, end)
	text := e.say(flat, "by", e.rounded(f.Available, quantity.Down), "need", e.rounded(f.Required, quantity.Up))
	if mm(f.Available) <= 0 {
		text = e.say(uphill, "by", e.rounded(length(-mm(f.Available)), quantity.Nearest))
		// Crossed out, so that it looks wrong at a glance.
		c := page.Point{X: e.axis.at(x), Y: at(out, end, x)}
		for _, s := range []float64{-1, 1} {
			e.c.Line(c.X-crossed, c.Y-s*crossed, c.X+crossed, c.Y+s*crossed, page.Strong)
		}
	}
	e.c.Label(e.axis.at(x), at(out, end, x), text)
}

// along is the place on a line for its label: beyond the machine, before the end.
func (e *elevation) along(p, q point) float64 {
	x := (p.x + 2*q.x) / 3
	if q.x > e.body.x1 {
		x = max(x, (max(p.x, e.body.x1)+q.x)/2)
	}
	return e.axis.shown(x)
}

// at is the height of a straight line at a place.
func at(p, q point, x float64) float64 {
	if p.x == q.x {
		return (p.y + q.y) / 2
	}
	return p.y + (x-p.x)/(q.x-p.x)*(q.y-p.y)
}

// gap dimensions the air gap, as the table says it.
func (e *elevation) gap(rim, end point, f rules.Fall) {
	if mm(f.Gap) == 0 {
		return
	}
	x := e.axis.at(rim.x)
	e.c.Line(x-pipeHalf*1.6, end.y, x+pipeHalf*1.6, end.y, page.Strong)
	e.c.DimV(rim.y, end.y, x+receptorHalf, e.say("drawing.gap", "gap", e.rounded(f.Gap, quantity.Up)), page.RightSide)
}

// hose draws the pump's hose: up to the loop, over, and down to its end.
func (e *elevation) hose(out, rim point, f rules.Fall) {
	end := lineEnd(rim, f)
	top := max(out.y, end.y) + 150
	lift := e.built.Drain.Lift
	if !e.lack(lift, "lift") {
		top = max(out.y+mm(lift), end.y+20)
	}
	e.gap(rim, end, f)
	hidden := []region{e.body}
	r := min(90, (top-max(out.y, end.y))/2, math.Abs(end.x-out.x)/2)
	e.line(page.Strong, hidden, rounded(r, out, point{out.x, top}, point{end.x, top}, end)...)
	if drawable(lift) {
		e.c.DimV(out.y, top, out.x, e.say("drawing.rise", "lift", length(mm(lift))), page.LeftSide)
		x := (max(out.x, min(e.body.x1, end.x)) + end.x) / 2
		e.c.Label(e.axis.at(x), top, e.say("drawing.loop"))
	}
}

// rounded is a run of lines with its corners rounded.
func rounded(r float64, pts ...point) []point {
	out := []point{pts[0]}
	for i := 1; i+1 < len(pts); i++ {
		p, c, q := pts[i-1], pts[i], pts[i+1]
		a, b := toward(c, p, r), toward(c, q, r)
		for k := 0; k <= 8; k++ { // a curve through the corner's two ends
			t := float64(k) / 8
			u := 1 - t
			out = append(out, point{u*u*a.x + 2*u*t*c.x + t*t*b.x, u*u*a.y + 2*u*t*c.y + t*t*b.y})
		}
	}
	return append(out, pts[len(pts)-1])
}

// toward is the point r from c on the way to p.
func toward(c, p point, r float64) point {
	l := math.Hypot(p.x-c.x, p.y-c.y)
	if l == 0 {
		return c
	}
	t := min(r, l) / l
	return point{c.x + t*(p.x-c.x), c.y + t*(p.y-c.y)}
}
