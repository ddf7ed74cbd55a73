// Package drawing draws a site to scale: the front elevation and the plan with
// the machine, its connections and its drain, what was found in solid lines and what
// is required in dashed ones. It shows the answers, the requirement sheet and the
// findings; it computes nothing but places on paper.
package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A Drawing is a canvas with the words that belong under it.
type Drawing struct {
	Title  string
	Canvas *page.Canvas
	Legend []string // what each conflict mark stands for
	Note   string   // what could not be drawn, because it isn't known
}

// A drawer draws one report.
type drawer struct {
	trade  check.Trade // whose conflicts are marked; empty: everybody's
	r      *words.Report
	s      *survey.Survey
	c      *page.Canvas
	marks  []mark
	absent []string

	letters []string // what the letters of the required places stand for
}

// A mark is a place where something found conflicts with what is required.
type mark struct {
	x, y float64
	ids  []string
}

func mm(l quantity.Length) float64 { return l.In(quantity.Millimetre) }

// text shows a length in the report's first units alone, for a dimension.
func (d *drawer) text(l quantity.Length) string {
	if d.r.Units == quantity.SI {
		return l.SI()
	}
	return l.US()
}

// dim makes the text of a drawn distance.
func (d *drawer) dim(x float64) string { return d.text(quantity.New(x, quantity.Millimetre)) }

// lack notes an answer that the drawing would need.
func (d *drawer) lack(l quantity.Length, what string) bool {
	if l.Known() {
		return false
	}
	d.absent = append(d.absent, what)
	return true
}

// conflict marks a place when a finding about one of the answers is a FIX.
func (d *drawer) conflict(x, y float64, paths ...string) {
	var ids []string
	for _, f := range d.r.Findings {
		if f.Verdict != check.Fix || slices.Contains(ids, f.ID) || d.trade != "" && f.Trade != d.trade {
			continue
		}
		if slices.ContainsFunc(survey.Paths(f.At), func(at string) bool {
			return slices.ContainsFunc(paths, func(p string) bool { return at == p || strings.HasPrefix(at, p+".") })
		}) && !d.marked(f.ID) {
			ids = append(ids, f.ID)
		}
	}
	if len(ids) > 0 {
		d.marks = append(d.marks, mark{x, y, ids})
		d.c.Conflict(x, y, len(d.marks))
	}
}

func (d *drawer) marked(id string) bool {
	return slices.ContainsFunc(d.marks, func(m mark) bool { return slices.Contains(m.ids, id) })
}

func (d *drawer) done(title string) Drawing {
	out := Drawing{Title: title, Canvas: d.c}
	for i, m := range d.marks {
		var names []string
		for _, id := range m.ids {
			names = append(names, id+" "+d.r.Finding(id).Title)
		}
		out.Legend = append(out.Legend, fmt.Sprintf("%d: %s", i+1, strings.Join(names, "; ")))
	}
	out.Note = "Solid: found. Dashed: required. The machine is drawn in the middle of its opening."
	if len(d.letters) > 0 {
		out.Note += " A letter in dashes: where the machine takes " + strings.Join(d.letters, ", ") + "."
	}
	if len(d.absent) > 0 {
		out.Note += " Not drawn, because it isn't known: " + strings.Join(d.absent, ", ") + "."
	}
	return out
}

// drawable says whether a size is one that a drawing can show.
func drawable(l quantity.Length) bool {
	x := math.Abs(mm(l))
	return l.Known() && x < 20_000
}

// Elevation is the front view: opening and counter, machine, connections,
// drain line at its fall, heights above finished floor and distances from the
// machine's left edge. Conflicts of one trade are marked, or of all when none is named.
func Elevation(r *words.Report, trade check.Trade) Drawing {
	m, s := r.Machine, r.Survey
	w, h := mm(m.Space.Width), mm(m.Space.Height)
	if !drawable(m.Space.Width) || !drawable(m.Space.Height) {
		return Drawing{Title: "Front elevation", Note: "not drawn: the requirement sheet doesn't state the machine's size"}
	}
	up := 0.0
	if drawable(s.Machine.RaisedBy) {
		up = mm(s.Machine.RaisedBy)
	}
	c := page.NewCanvas(w, h+up)
	d := &drawer{trade: trade, r: r, s: s, c: c}

	left, right := d.spanX(w)
	// Floor, and what is below it.
	c.Line(left-80, 0, right+80, 0, page.Thick)
	c.Hatch(left-80, -45, right-left+160, 45)

	d.opening(w, h+up)
	c.Rect(0, up, w, h, page.Medium)
	c.Name(w/2, up+h*0.72, m.Name)
	if up > 0 {
		c.Rect(0, 0, w, up, page.Thin)
		c.DimV(0, up, w, d.dim(up), page.RightSide)
	}
	c.DimH(0, w, h+up, d.text(m.Space.Width), page.Top)
	c.DimV(up, up+h, 0, d.text(m.Space.Height), page.LeftSide)

	d.connections(up)
	d.drainLine(up)
	c.ScaleBar(unit(r.Units))
	return d.done("Front elevation")
}

// spanX is how far the drawing reaches to either side of the machine.
func (d *drawer) spanX(w float64) (left, right float64) {
	left, right = 0, w
	for _, x := range []quantity.Length{d.s.Power.OutletFromLeft, d.s.Water.Cold.FromLeft, d.s.Water.Hot.FromLeft, d.s.Drain.FromLeft} {
		if drawable(x) {
			left, right = min(left, mm(x)), max(right, mm(x))
		}
	}
	return left, right
}

// opening draws the opening under the counter, found solid and required dashed.
func (d *drawer) opening(w, top float64) {
	sp, m := d.s.Space, d.r.Machine.Space
	side, above := 0.0, 0.0
	if m.SideGap.Known() {
		side = mm(m.SideGap)
	}
	if m.TopGap.Known() {
		above = mm(m.TopGap)
	}
	needH := top + above
	// Required: the machine with its clearances.
	for _, l := range [][4]float64{{-side, 0, -side, needH}, {-side, needH, w + side, needH}, {w + side, needH, w + side, 0}} {
		d.c.Dashed(l[0], l[1], l[2], l[3])
	}
	if d.lack(sp.Width, "width of the opening") || !drawable(sp.Width) {
		return
	}
	// The machine stands in the middle of the opening, as the drawing assumes.
	gap := (mm(sp.Width) - w) / 2
	x0, x1 := -gap, w+gap
	if d.lack(sp.Height, "height of the opening") || !drawable(sp.Height) {
		return
	}
	y := mm(sp.Height)
	d.c.Line(x0, 0, x0, y, page.Medium)
	d.c.Line(x1, 0, x1, y, page.Medium)
	d.c.Line(x0, y, x1, y, page.Medium)
	thick := 35.0
	if drawable(sp.Counter) && mm(sp.Counter) > y {
		thick = mm(sp.Counter) - y
		d.c.DimV(0, y+thick, x1, d.text(sp.Counter), page.RightSide)
	}
	d.c.Hatch(x0-30, y, x1-x0+60, thick)
	d.c.Rect(x0-30, y, x1-x0+60, thick, page.Thin)
	d.c.DimH(x0, x1, y+thick, d.text(sp.Width), page.Top)
	d.c.DimV(0, y, x1, d.text(sp.Height), page.RightSide)
	d.conflict(x1, y*0.5, "space.opening_width")
	d.conflict(w/2, y, "space.opening_height", "space.counter_height")
}

// A point of supply: found on the wall, required on the machine.
type supply struct {
	name         string
	height, left quantity.Length // found
	mHeight, mX  quantity.Length // on the machine
	what, letter string          // what arrives there, and what stands for it
	trade        check.Trade
	paths        []string
}

func (d *drawer) connections(up float64) {
	m, s := d.r.Machine, d.s
	all := []supply{{
		name: "receptacle", what: "power", letter: "P", trade: check.Electrician, height: s.Power.OutletHeight, left: s.Power.OutletFromLeft,
		mHeight: m.Power.EntryHeight, mX: m.Power.EntryLeft,
		paths: []string{"power.receptacle", "power.receptacle_distance", "power.outlet_height", "power.outlet_from_left", "power.dedicated", "power.other_loads"},
	}}
	if m.Power.Connection != "cord" {
		all[0].name = "junction box"
	}
	if m.Water.Cold.Used {
		all = append(all, supply{name: "cold water", what: "cold water", letter: "C", trade: check.Plumber, height: s.Water.Cold.Height, left: s.Water.Cold.FromLeft,
			mHeight: m.Water.Cold.Height, mX: m.Water.Cold.FromLeft, paths: []string{"water.cold"}})
	}
	if m.Water.Hot.Used {
		all = append(all, supply{name: "hot water", what: "hot water", letter: "H", trade: check.Plumber, height: s.Water.Hot.Height, left: s.Water.Hot.FromLeft,
			mHeight: m.Water.Hot.Height, mX: m.Water.Hot.FromLeft, paths: []string{"water.hot", "heater"}})
	}
	for _, p := range all {
		own := d.owns(p.trade)
		if own && drawable(p.mHeight) && drawable(p.mX) {
			d.c.Symbol(mm(p.mX), mm(p.mHeight)+up, page.Symbol{Square: p.trade == check.Electrician, Dash: true, Letter: p.letter})
			d.letters = append(d.letters, p.letter+" "+p.what)
		}
		if !p.height.Known() || !p.left.Known() || !drawable(p.height) || !drawable(p.left) {
			if own {
				d.absent = append(d.absent, "place of the "+p.name)
			}
			continue
		}
		x, y := mm(p.left), mm(p.height)
		d.c.Symbol(x, y, page.Symbol{Square: p.trade == check.Electrician, Cross: p.trade == check.Plumber})
		if !own {
			d.c.Label(x, y, p.name)
			continue
		}
		d.c.Label(x, y, fmt.Sprintf("%s, %s high", p.name, d.text(p.height)))
		if x != 0 {
			d.c.DimH(min(0, x), max(0, x), min(y, 0), d.text(p.left), page.Bottom)
		}
		d.conflict(x, y, p.paths...)
	}
}

// owns says whether a trade's places are dimensioned on this drawing; another
// trade's are only named.
func (d *drawer) owns(t check.Trade) bool { return d.trade == "" || d.trade == t }

// drainLine draws the outlet, the line to the receptor and the receptor. The
// solid line runs from the outlet to the end that was found or planned, the
// dashed one falls as the check requires.
func (d *drawer) drainLine(up float64) {
	m, s := d.r.Machine, d.s
	if !drawable(m.Drain.OutletHeight) || !drawable(m.Drain.OutletLeft) {
		return
	}
	ox, oy := mm(m.Drain.OutletLeft), mm(m.Drain.OutletHeight)+up
	d.c.Circle(ox, oy, 20, page.Medium)
	own := d.owns(check.Plumber)
	if own {
		d.c.Label(ox, oy, "drain outlet, "+d.dim(oy)+" high")
	} else {
		d.c.Label(ox, oy, "drain outlet")
	}
	if d.lack(s.Drain.FromLeft, "place of the receptor") || !drawable(s.Drain.FromLeft) {
		return
	}
	if d.lack(s.Drain.RimHeight, "height of the receptor's rim") || !drawable(s.Drain.RimHeight) {
		return
	}
	rx, rim := mm(s.Drain.FromLeft), d.rim()
	const half, deep = 110.0, 120.0
	d.c.Polyline(page.Medium, false,
		page.Point{X: rx - half, Y: rim}, page.Point{X: rx - half*0.8, Y: rim - deep}, page.Point{X: rx + half*0.8, Y: rim - deep}, page.Point{X: rx + half, Y: rim})
	name := strings.ReplaceAll(s.Drain.Receptor, "-", " ")
	if name == "" {
		name = "receptor"
	}
	if own {
		name = fmt.Sprintf("%s, rim %s", name, d.text(s.Drain.RimHeight))
	}
	d.c.Label(rx+half, rim, name)
	if own && rx != 0 {
		d.c.DimH(min(0, rx), max(0, rx), min(rim, 0), d.text(s.Drain.FromLeft), page.Bottom)
	}
	if m.Drain.Kind == "pump" {
		top := oy
		if drawable(s.Drain.Lift) {
			top += mm(s.Drain.Lift)
		}
		d.c.Polyline(page.Medium, false, page.Point{X: ox, Y: oy}, page.Point{X: ox, Y: top}, page.Point{X: rx, Y: top}, page.Point{X: rx, Y: rim + 40})
		if own && top > oy {
			d.c.DimV(oy, top, ox, d.text(s.Drain.Lift), page.LeftSide)
		}
		d.conflict(rx, rim, "drain")
		return
	}
	end, found := d.lineEnd()
	if found {
		d.c.Line(ox, oy, rx, end, page.Medium)
		d.c.Line(rx, end, rx, rim, page.Thin)
		if own && end > rim {
			d.c.DimV(rim, end, rx+half, d.dim(end-rim), page.RightSide)
		}
	}
	if drop, ok := d.fall(); ok && own {
		d.c.Dashed(ox, oy, rx, oy-drop)
	}
	d.conflict(rx, rim, "drain", "machine.raised_by")
}

// rim is the height of the receptor's rim above the floor at the machine.
func (d *drawer) rim() float64 {
	rim := mm(d.s.Drain.RimHeight)
	if drawable(d.s.Drain.FloorFalls) {
		rim -= mm(d.s.Drain.FloorFalls)
	}
	return rim
}

// lineEnd is the height of the line's end above the floor at the machine: the
// rim and the air gap that was found or that the check plans.
func (d *drawer) lineEnd() (float64, bool) {
	s := d.s.Drain
	rim := d.rim()
	if drawable(s.AirGap) {
		return rim + mm(s.AirGap), true
	}
	if gap, ok := d.stepLength(rules.DrainFall, "g"); ok {
		return rim + gap, true
	}
	return 0, false
}

// fall is the fall that the check requires over the line's length.
func (d *drawer) fall() (float64, bool) { return d.stepLength(rules.DrainFall, "F_min") }

// stepLength reads a length from a finding's working, as the check computed it.
func (d *drawer) stepLength(k *check.Check, symbol string) (float64, bool) {
	f := d.r.Finding(k.ID)
	if f == nil {
		return 0, false
	}
	for _, st := range f.Outcome.Working {
		if st.Symbol == symbol {
			q, ok := st.Value.(quantity.Length)
			if !ok || !drawable(q) {
				return 0, false
			}
			return mm(q), true
		}
	}
	return 0, false
}

// Plan is the view from above: opening, machine, clearances in front and behind.
// Conflicts are marked as by Elevation.
func Plan(r *words.Report, trade check.Trade) Drawing {
	m, s := r.Machine.Space, r.Survey
	if !drawable(m.Width) || !drawable(m.Depth) {
		return Drawing{Title: "Plan", Note: "not drawn: the requirement sheet doesn't state the machine's size"}
	}
	w, dep := mm(m.Width), mm(m.Depth)
	front := 0.0
	if m.FrontGap.Known() {
		front = mm(m.FrontGap)
	}
	c := page.NewCanvas(w, dep)
	d := &drawer{trade: trade, r: r, s: s, c: c}
	back := 0.0
	if m.BackGap.Known() {
		back = mm(m.BackGap)
	}
	c.Rect(0, 0, w, dep, page.Medium)
	c.Name(w/2, dep/2, r.Machine.Name)
	c.DimH(0, w, dep, d.text(m.Width), page.Top)
	c.DimV(0, dep, 0, d.text(m.Depth), page.LeftSide)
	if front > 0 {
		c.Polyline(page.Dashed, true, page.Point{X: 0, Y: 0}, page.Point{X: w, Y: 0}, page.Point{X: w, Y: -front}, page.Point{X: 0, Y: -front})
		c.Name(w/2, -front/2, "keep clear")
		c.DimV(-front, 0, 0, d.text(m.FrontGap), page.LeftSide)
	}
	if !d.lack(s.Space.Width, "width of the opening") && !d.lack(s.Space.Depth, "depth of the opening") && drawable(s.Space.Width) && drawable(s.Space.Depth) {
		gap := (mm(s.Space.Width) - w) / 2
		x0, x1 := -gap, w+gap
		wall := mm(s.Space.Depth)
		// The opening's front edge is the machine's front; the wall is where the depth ends.
		c.Line(x0, 0, x0, wall, page.Medium)
		c.Line(x1, 0, x1, wall, page.Medium)
		c.Line(x0-60, wall, x1+60, wall, page.Thick)
		c.Hatch(x0-60, wall, x1-x0+120, 45)
		c.DimV(0, wall, x1, d.text(s.Space.Depth), page.RightSide)
		d.conflict(w/2, wall, "space.opening_depth")
		d.conflict(x1, dep/2, "space.opening_width", "space.service_clearance")
	}
	if back > 0 {
		c.Dashed(0, dep+back, w, dep+back)
	}
	if !d.lack(s.Space.Front, "clear floor in front") && drawable(s.Space.Front) {
		y := -mm(s.Space.Front)
		c.Line(-60, y, w+60, y, page.Medium)
		c.DimV(y, 0, w, d.text(s.Space.Front), page.RightSide)
		d.conflict(w/2, y, "space.front_clearance")
	}
	c.ScaleBar(unit(r.Units))
	return d.done("Plan")
}

// Machine is the front view of a machine by its requirement sheet: its size,
// and where each connection lies, before any survey.
func Machine(m *specs.Machine, u quantity.System) Drawing {
	w, h := mm(m.Space.Width), mm(m.Space.Height)
	if !drawable(m.Space.Width) || !drawable(m.Space.Height) {
		return Drawing{Title: "Front view", Note: "not drawn: the requirement sheet doesn't state the machine's size"}
	}
	c := page.NewCanvas(w, h)
	d := &drawer{r: &words.Report{Units: u, Say: words.Reader{Units: u}, Report: &check.Report{Machine: m, Survey: &survey.Survey{}}}, s: &survey.Survey{}, c: c}
	c.Line(-80, 0, w+80, 0, page.Thick)
	c.Hatch(-80, -45, w+160, 45)
	c.Rect(0, 0, w, h, page.Medium)
	c.Name(w/2, h*0.72, m.Name)
	c.DimH(0, w, h, d.text(m.Space.Width), page.Top)
	c.DimV(0, h, w, d.text(m.Space.Height), page.RightSide)
	points := []struct {
		name         string
		used, dims   bool // the water's places stand in its table
		height, left quantity.Length
	}{
		{"power", true, true, m.Power.EntryHeight, m.Power.EntryLeft},
		{"cold water", m.Water.Cold.Used, false, m.Water.Cold.Height, m.Water.Cold.FromLeft},
		{"hot water", m.Water.Hot.Used, false, m.Water.Hot.Height, m.Water.Hot.FromLeft},
		{"drain outlet", true, true, m.Drain.OutletHeight, m.Drain.OutletLeft},
	}
	for _, p := range points {
		if !p.used || !drawable(p.height) || !drawable(p.left) {
			continue
		}
		x, y := mm(p.left), mm(p.height)
		c.Circle(x, y, 14, page.Medium)
		c.Label(x, y, p.name)
		if p.dims {
			c.DimH(0, x, 0, d.text(p.left), page.Bottom)
			c.DimV(0, y, 0, d.text(p.height), page.LeftSide)
		}
	}
	out := d.done("Front view")
	out.Note = "Heights above finished floor, distances from the machine's left edge."
	return out
}

// unit is the scale bar's unit.
func unit(u quantity.System) string {
	if u == quantity.SI {
		return "mm"
	}
	return "in"
}
