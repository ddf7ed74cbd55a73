package page

import "strings"

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
	keys := make([]string, len(c.keys))
	for i, k := range c.keys {
		keys[i] = keyLetter(c.first+i) + "\u00a0=\u00a0" + k
	}
	d.under(strings.Join(keys, "  ·  "))
	if h := c.hidden; len(h) > 0 {
		d.under(say("drawing.no-room", "texts", strings.Join(h, "; ")))
	}
	d.y += 2
}

// under prints a remark under a drawing.
func (d *Doc) under(text string) {
	if text != "" {
		d.flowLines(d.wrap(text, d.Width(), Small), 0, Small)
	}
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

// DrawIn lays a drawing out in a rectangle of the page and draws it.
func (d *Doc) DrawIn(c *Canvas, r Rect) {
	d.ensurePage()
	if c.bad {
		d.Warn("", say("drawing.not-finite"))
	}
	l := d.layout(c, r)
	l.fit()
	l.takeShapes()
	l.takeDimensions()
	l.takeLetters()
	l.placeLabels()
	l.paint()
	if c.bar != "" {
		l.scaleBar(r)
	}
}

// layout starts a new layout of a drawing.
func (d *Doc) layout(c *Canvas, r Rect) *layout {
	c.hidden, c.keys, c.taken = nil, nil, taken{}
	for i := range c.dims {
		c.dims[i].text = d.oneLine("drawing", c.dims[i].text)
		c.dims[i].hidden = false
	}
	for i := range c.labels {
		c.labels[i].hidden = false
	}
	l := &layout{c: c, d: d, r: r}
	if c.bar != "" && c.barIn == (Rect{}) {
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

// fit finds the scale: the more lanes of dimensions, the smaller the drawing.
// Where there is no room for all, first their text is set smaller, then the
// outermost of the fullest side are left out.
func (l *layout) fit() {
	for {
		for _, size := range dimSizes {
			if l.fitAt(size) {
				return
			}
		}
		full := Top
		for s := range l.lanes {
			if l.lanes[s] > l.lanes[full] {
				full = Side(s)
			}
		}
		dm := l.outermost(full)
		if dm == nil { // no room even without dimensions
			l.scale(0.9, [4]float64{})
			return
		}
		l.hide(dm)
	}
}

// fitAt packs the dimensions at a text size, with more and more lanes until
// they suffice; false when too little is left for the drawing.
func (l *layout) fitAt(size float64) bool {
	for s := range l.lanes {
		l.depth[s], l.lanes[s] = size*mmPerPoint+1.9, 0
	}
	for i := range l.c.dims {
		if dm := &l.c.dims[i]; !dm.hidden {
			l.lanes[dm.side] = 1
		}
	}
	for range 40 {
		var m [4]float64
		for s := range m {
			m[s] = l.margin(Side(s))
		}
		if l.r.W-m[LeftSide]-m[RightSide] < l.r.W*0.2 || l.r.H-m[Top]-m[Bottom] < l.r.H*0.2 {
			return false
		}
		l.scale(1, m)
		enough := true
		for s := range m {
			if n := l.pack(Side(s), size); n > l.lanes[s] {
				l.lanes[s], enough = n, false
			}
		}
		if enough {
			return true
		}
	}
	return false
}

// scale centres the drawing between margins, at a share of the largest scale.
func (l *layout) scale(share float64, m [4]float64) {
	b := l.c.bounds
	w, h := b.x1-b.x0, b.y1-b.y0
	aw, ah := l.r.W-m[LeftSide]-m[RightSide], l.r.H-m[Top]-m[Bottom]
	l.k = max(share*min(aw/w, ah/h), 1e-9)
	l.ox = l.r.X + m[LeftSide] + (aw-w*l.k)/2
	l.oy = l.r.Y + m[Top] + (ah-h*l.k)/2 + h*l.k
	l.draw = Rect{l.ox, l.oy - h*l.k, w * l.k, h * l.k}
}

// outermost is the dimension of a side in the lane farthest out.
func (l *layout) outermost(side Side) *dimension {
	var out *dimension
	for i := range l.c.dims {
		if dm := &l.c.dims[i]; dm.side == side && !dm.hidden && (out == nil || dm.lane > out.lane) {
			out = dm
		}
	}
	return out
}

func (l *layout) hide(dm *dimension) {
	dm.hidden = true
	if dm.text != "" {
		l.c.hidden = append(l.c.hidden, dm.text)
	}
}
