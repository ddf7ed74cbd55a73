package page

import "fmt"

// taken is the paper that a drawing has taken so far.
type taken struct {
	texts    []namedBox // texts and conflict marks
	signs    []Rect     // symbols
	points   []Rect     // that labels name
	lines    []segment  // every line that no text may lie on
	dimLines []segment  // of these, the dimension lines
	hatched  []Rect
}

type namedBox struct {
	Rect
	name   string
	letter bool // in a symbol, before what lies behind it
}

// Air around a text: to the next text or symbol, to a dimension line, to any
// other line or hatching.
const airText, airDim, airLine = 0.7, 0.9, 0.5

// free says whether a text may lie in a box: off every other text, symbol,
// line and hatching.
func (t *taken) free(b Rect) bool {
	near := b.grown(airText)
	for _, o := range t.texts {
		if near.meets(o.Rect) {
			return false
		}
	}
	for _, o := range t.signs {
		if near.meets(o) {
			return false
		}
	}
	for _, o := range t.points {
		if b.meets(o) {
			return false
		}
	}
	for _, o := range t.hatched {
		if b.meets(o) {
			return false
		}
	}
	near = b.grown(airDim)
	for _, s := range t.dimLines {
		if s.crosses(near) {
			return false
		}
	}
	near = b.grown(airLine)
	for _, s := range t.lines {
		if s.crosses(near) {
			return false
		}
	}
	return true
}

// clear says whether a leader crosses no text and no symbol but the one it
// starts from.
func (t *taken) clear(lead segment) bool {
	for _, o := range t.texts {
		if !o.letter && lead.crosses(o.grown(0.2)) {
			return false
		}
	}
	for _, o := range t.signs {
		if lead.crosses(o) && !(segment{lead.x0, lead.y0, lead.x0, lead.y0}).crosses(o) {
			return false
		}
	}
	return true
}

// collisions describes every overlap: text on text, on a symbol, on a line or
// on hatching, and one dimension line on another.
func (t *taken) collisions() []string {
	var out []string
	const tol = 0.05
	for i, a := range t.texts {
		box := a.grown(-tol)
		for _, b := range t.texts[i+1:] {
			if box.meets(b.Rect) {
				out = append(out, fmt.Sprintf("%s overlaps %s", a.name, b.name))
			}
		}
		if a.letter {
			continue
		}
		for _, b := range t.signs {
			if box.meets(b) {
				out = append(out, fmt.Sprintf("%s lies on a symbol", a.name))
			}
		}
		for _, b := range t.hatched {
			if box.meets(b) {
				out = append(out, fmt.Sprintf("%s lies on hatching", a.name))
			}
		}
		for _, s := range t.lines {
			if s.crosses(box) {
				out = append(out, fmt.Sprintf("%s lies on a line", a.name))
				break
			}
		}
	}
	for i, a := range t.dimLines {
		for _, b := range t.dimLines[i+1:] {
			if a.along(b, tol) {
				out = append(out, fmt.Sprintf("dimension lines lie on each other at %.1f,%.1f", b.x0, b.y0))
			}
		}
	}
	return out
}
