package drawing

import (
	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Way is the delivery path as found, from the curb to the bar: every door,
// turn, stair and elevator as clear as it was measured, to one scale, and in it
// what is carried through, standing on its narrower side. Where the height
// wasn't measured the opening has no top.
func Way(r *words.Report) Drawing {
	const title = "drawing.way"
	d := newDrawer(r, check.Supplier)
	load := loadOf(d.m.Space.CrateWidth, d.m.Space.CrateDepth, d.m.Space.CrateHeight, "drawing.crate")
	if d.found.Space.Unpacked == survey.Yes {
		load = loadOf(d.m.Space.Width, d.m.Space.Depth, d.m.Space.Height, "drawing.unpacked")
	}
	if !drawable(load.wide) || !drawable(load.high) {
		return Drawing{Title: d.say(title), Notes: []string{d.say("drawing.sizeless")}, reader: d.reader}
	}
	if len(d.found.Space.Path) == 0 {
		return Drawing{Title: d.say(title), Notes: []string{d.say("drawing.no-way")}, reader: d.reader}
	}
	w, h := mm(load.wide), mm(load.high)
	d.c = page.NewCanvas(1, h)
	x := 0.0
	for i, p := range d.found.Space.Path {
		clear := max(w, 300)
		if drawable(p.Width) {
			clear = mm(p.Width)
		}
		x = d.passage(i, p, x, max(clear, w), clear, w, h)
	}
	d.c.Line(-wayApart/2, 0, x-wayApart/2, 0, page.Thick)
	d.notes = append(d.notes, d.say(load.name, "width", length(w), "height", length(h)))
	d.scaleBar()
	return d.done(title)
}

// wayApart is the room between two passages of the drawing.
const wayApart = 700.0

type load struct {
	wide, high quantity.Length
	name       string
}

// loadOf is what is carried, by the narrower of its sides.
func loadOf(a, b, high quantity.Length, name string) load {
	if drawable(b) && b.Cmp(a) < 0 {
		a = b
	}
	return load{a, high, name}
}

// passage draws one passage from x and gives where the next begins.
func (d *drawer) passage(i int, p survey.Passage, x, room, clear, w, h float64) float64 {
	mid := x + room/2
	d.c.Rect(mid-w/2, 0, w, h, page.Phantom)
	left, right := mid-clear/2, mid+clear/2
	top := h + 350
	if drawable(p.Height) {
		top = mm(p.Height)
		d.c.Line(left, top, right, top, page.Strong)
		d.c.DimV(0, top, right, d.tape(p.Height), page.RightSide)
	}
	if drawable(p.Width) {
		d.c.Line(left, 0, left, top, page.Strong)
		d.c.Line(right, 0, right, top, page.Strong)
		d.c.DimH(left, right, 0, d.tape(p.Width), page.Bottom)
	} else {
		d.lacks("way-width")
	}
	name := p.Name
	if name == "" {
		name = d.say("drawing.way-" + p.Kind)
	}
	d.c.Name(mid, max(h, top)+180, name)
	at := ask.Space.Path
	d.conflict(mid, h/2, of(at.Width.At(i), at.Height.At(i), at.After.At(i), at.Depth.At(i), at.Capacity.At(i)))
	return x + room + wayApart
}
