package drawing

import (
	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Machine is the front view of a machine by its requirement sheet: its size,
// and where each connection lies, before any survey. Distances count from its
// left edge.
func Machine(m *specs.Machine, u quantity.System) Drawing {
	const title = "drawing.front-view"
	d := newDrawer(&words.Report{Units: u, Report: &check.Report{Machine: m, Survey: &survey.Survey{}}}, "")
	if !drawable(m.Space.Width) || !drawable(m.Space.Height) {
		return d.sizeless(title)
	}
	const tail = 80.0 // of the floor beyond the machine
	w, h := mm(m.Space.Width), mm(m.Space.Height)
	d.c = page.NewCanvas(w, h)
	d.c.Line(-tail, 0, w+tail, 0, page.Thick)
	d.c.Hatch(-tail, -slab, w+2*tail, slab)
	d.c.Rect(0, 0, w, h, page.Medium)
	d.c.NameIn(w/2, h*0.72, page.Point{}, page.Point{X: w, Y: h}, m.Name)
	d.c.DimH(0, w, h, d.tape(length(w)), page.Top)
	d.c.DimV(0, h, w, d.tape(length(h)), page.RightSide)
	for _, p := range []struct {
		name         string
		used, dims   bool // the water's places stand in its table
		height, left quantity.Length
	}{
		{"power", true, true, m.Power.EntryHeight, m.Power.EntryLeft},
		{"cold", m.Water.Cold.Used, false, m.Water.Cold.Height, m.Water.Cold.FromLeft},
		{"hot", m.Water.Hot.Used, false, m.Water.Hot.Height, m.Water.Hot.FromLeft},
		{"drain-outlet", true, true, m.Drain.OutletHeight, m.Drain.OutletLeft},
	} {
		if !p.used || !drawable(p.height) || !drawable(p.left) {
			continue
		}
		x, y := mm(p.left), mm(p.height)
		d.c.Circle(x, y, 14, page.Medium)
		d.c.Label(x, y, d.say("drawing."+p.name))
		if p.dims {
			d.c.DimH(0, x, 0, d.tape(length(x)), page.Bottom)
			d.c.DimV(0, y, 0, d.tape(length(y)), page.LeftSide)
		}
	}
	d.notes = append(d.notes, d.say("drawing.machine-note"))
	return d.done(title)
}
