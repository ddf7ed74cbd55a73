package page

import (
	"math"

	"github.com/go-pdf/fpdf"
)

// Verdict is a result word. Each of the five has a shape of its own, so that a
// sheet is read without colour and at arm's length.
type Verdict string

// The five verdicts, worst first. Any other word is printed in a plain frame.
const (
	Fix     Verdict = "FIX"     // filled octagon, white word
	Missing Verdict = "MISSING" // diamond with a question mark
	Confirm Verdict = "CONFIRM" // triangle with an exclamation mark
	OK      Verdict = "OK"      // circle with a tick
	NA      Verdict = "N/A"     // dash
)

// Verdicts lists the five words, worst first.
var Verdicts = []Verdict{Fix, Missing, Confirm, OK, NA}

func wordStyle(size float64) Style {
	return Style{Size: size / mmPerPoint * 0.62, Bold: true}
}

// VerdictWidth is the width of a mark with its word.
func VerdictWidth(size float64, v Verdict) float64 {
	w := TextWidth(string(v), wordStyle(size))
	if v == Fix || !known(v) {
		return w + size*0.8
	}
	return size*1.25 + w
}

func known(v Verdict) bool {
	for _, k := range Verdicts {
		if k == v {
			return true
		}
	}
	return false
}

// Verdict draws shape and word with the top left corner at x, y; size is the
// shape's height in millimetres (4 suits a table). It returns the width used.
func (d *Doc) Verdict(x, y, size float64, v Verdict) float64 {
	v = Verdict(d.oneLine("verdict", string(v)))
	st := wordStyle(size)
	w := VerdictWidth(size, v)
	word := TextWidth(string(v), st)
	top := y + (size-st.em())/2 + st.em()*0.02
	switch {
	case v == Fix:
		d.octagon(x, y, w, size)
		st.white = true
		d.drawAt(string(v), x+(w-word)/2, top, st, Rect{x, y, w, size})
	case !known(v):
		d.stroke(0.3, 0)
		d.pdf.Rect(x, y, w, size, "D")
		d.drawAt(string(v), x+(w-word)/2, top, st, Rect{x, y, w, size})
	default:
		d.Mark(x, y, size, v)
		if v == NA || v == OK {
			st.Bold = false
			st.Grey = 20
		}
		d.drawAt(string(v), x+size*1.25, top, st, Rect{x, y, w, size})
	}
	return w
}

// Mark draws the shape alone in a square.
func (d *Doc) Mark(x, y, size float64, v Verdict) {
	d.ensurePage()
	cx, cy := x+size/2, y+size/2
	lw := size * 0.085
	switch v {
	case Fix:
		d.octagon(x, y, size, size)
		d.pdf.SetDrawColor(255, 255, 255)
		d.pdf.SetLineWidth(size * 0.13)
		a := size * 0.2
		d.pdf.Line(cx-a, cy-a, cx+a, cy+a)
		d.pdf.Line(cx-a, cy+a, cx+a, cy-a)
	case Missing:
		d.stroke(lw, 0)
		d.pdf.SetFillColor(255, 255, 255)
		r := size * 0.54
		d.poly("FD", cx, cy-r, cx+r, cy, cx, cy+r, cx-r, cy)
		d.glyph("?", cx, cy, size*0.66)
	case Confirm:
		d.stroke(lw, 0)
		d.pdf.SetFillColor(255, 255, 255)
		d.poly("FD", cx, y, x+size*1.02, y+size*0.93, x-size*0.02, y+size*0.93)
		d.glyph("!", cx, cy+size*0.13, size*0.56)
	case OK:
		d.stroke(lw, 0)
		d.pdf.SetFillColor(255, 255, 255)
		d.pdf.Circle(cx, cy, size*0.47, "FD")
		d.stroke(size*0.11, 0)
		d.pdf.MoveTo(cx-size*0.23, cy+size*0.01)
		d.pdf.LineTo(cx-size*0.06, cy+size*0.19)
		d.pdf.LineTo(cx+size*0.24, cy-size*0.19)
		d.pdf.DrawPath("D")
	case NA:
		d.stroke(size*0.11, 20)
		d.pdf.Line(cx-size*0.32, cy, cx+size*0.32, cy)
	default:
		d.stroke(lw, 0)
		d.pdf.Rect(x+size*0.06, y+size*0.06, size*0.88, size*0.88, "D")
	}
}

// octagon is a filled black rectangle with cut corners.
func (d *Doc) octagon(x, y, w, h float64) {
	c := h * 0.29
	d.fill(0)
	d.poly("F", x+c, y, x+w-c, y, x+w, y+c, x+w, y+h-c, x+w-c, y+h, x+c, y+h, x, y+h-c, x, y+c)
}

func (d *Doc) poly(style string, xy ...float64) {
	pts := make([]fpdf.PointType, len(xy)/2)
	for i := range pts {
		pts[i] = fpdf.PointType{X: xy[2*i], Y: xy[2*i+1]}
	}
	d.pdf.Polygon(pts, style)
}

// glyph prints one bold sign centred on a point. It is part of a mark and is
// not logged as text.
func (d *Doc) glyph(s string, cx, cy, em float64) {
	st := Style{Size: em / mmPerPoint, Bold: true}.norm()
	d.setFont(st)
	d.pdf.Text(cx-TextWidth(s, st)/2, cy+em*0.365, s)
}

// TickBox draws an empty box to be ticked by hand.
func (d *Doc) TickBox(x, y, size float64) {
	d.ensurePage()
	d.stroke(0.3, 0)
	d.pdf.Rect(x, y, size, size, "D")
}

// Balloon draws a short reference in a circle, as drawings number their parts.
func (d *Doc) Balloon(cx, cy, r float64, ref string) {
	d.ensurePage()
	ref = d.oneLine("reference", ref)
	st := Style{Size: r / mmPerPoint * 1.15, Bold: true}
	if w := TextWidth(ref, st); w > r*1.6 {
		st.Size *= r * 1.6 / w
	}
	d.stroke(0.3, 0)
	d.pdf.SetFillColor(255, 255, 255)
	d.pdf.Circle(cx, cy, r, "FD")
	w := TextWidth(ref, st)
	d.drawAt(ref, cx-w/2, cy-st.em()*0.395, st, Rect{cx - r, cy - r, 2 * r, 2 * r})
}

func (d *Doc) ensurePage() {
	if d.Pages() == 0 {
		d.newPage()
	}
}

func polar(r, deg float64) (x, y float64) {
	s, c := math.Sincos(deg * math.Pi / 180)
	return r * c, r * s
}
