package page

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-pdf/fpdf"
)

// SlotShape is the form of one opening of a receptacle.
type SlotShape int

// The openings.
const (
	VerticalSlot   SlotShape = iota // upright blade
	HorizontalSlot                  // blade lying
	TSlot                           // takes a blade either way
	LSlot                           // blade with a foot
	CurvedSlot                      // locking blade, follows the circle
	HookSlot                        // locking blade with a foot
	RoundHole
	GroundHole // round below, flat above
)

// Slot is one opening. X and Y are in units of the face's radius from its
// centre, y upwards; W and H too, 0 for the usual size. Turn rotates it, in
// degrees against the clock.
type Slot struct {
	Shape      SlotShape
	X, Y, W, H float64
	Turn       float64
	Label      string
	LabelTurn  float64 // direction of the label's leader, for an opening at the centre
}

// FaceSpec is a receptacle as seen from the front.
type FaceSpec struct {
	Name   string
	Note   string // "3-pole, 4-wire"
	Wires  int
	Square bool // a rounded square plate, else a round one
	Sleeve bool // pin-and-sleeve: a ring with a key notch
	Key    int  // clock position of the key notch, 12 at the top; 0 none
	Slots  []Slot
}

// Face draws a receptacle in a square of the given size, labels included.
func (d *Doc) Face(x, y, size float64, f FaceSpec) {
	d.ensurePage()
	st := Style{Size: max(7, min(9, size*0.24)), Bold: true}
	cx, cy := x+size/2, y+size/2
	dir := func(s Slot) float64 {
		if math.Hypot(s.X, s.Y) < 0.15 {
			return s.LabelTurn
		}
		return math.Atan2(s.Y, s.X) * 180 / math.Pi
	}
	// On a square plate a label stands beside its edge, level with its slot.
	beside := func(s Slot) bool { return f.Square && math.Abs(s.X) > 0.15 }
	labels := make([]string, len(f.Slots))
	r := size/2 - 1
	for i, s := range f.Slots {
		labels[i] = d.oneLine("face", s.Label)
		ux, uy := polar(1, dir(s))
		if beside(s) {
			ux, uy = math.Copysign(1, s.X), 0
		}
		w, h := TextWidth(labels[i], st), st.em()
		// The circle may touch the label's box no nearer than 1 mm, and the
		// box must stay in the square.
		r = min(r, (size/2-w)/max(math.Abs(ux), 0.01)-0.8, (size/2-h)/max(math.Abs(uy), 0.01)-0.8)
		r = min(r, size/2-1.4-math.Abs(ux)*w-math.Abs(uy)*h)
	}
	r = max(r, size*0.2)

	d.pdf.SetFillColor(255, 255, 255)
	d.stroke(0.45, 0)
	switch {
	case f.Sleeve:
		d.pdf.Circle(cx, cy, r, "FD")
		d.stroke(0.25, 0)
		d.pdf.Circle(cx, cy, r*0.86, "D")
		if f.Key > 0 {
			a := 90 - float64(f.Key)*30
			ux, uy := polar(1, a)
			d.pdf.SetLineCapStyle("butt")
			d.stroke(r*0.2, 0)
			d.pdf.Line(cx+ux*r*0.84, cy-uy*r*0.84, cx+ux*r*1.03, cy-uy*r*1.03)
		}
	case f.Square:
		d.pdf.RoundedRect(cx-r*0.94, cy-r*0.94, r*1.88, r*1.88, r*0.3, "1234", "FD")
	default:
		d.pdf.Circle(cx, cy, r, "FD")
	}
	for i, s := range f.Slots {
		d.slot(cx, cy, r, s)
		if labels[i] == "" {
			continue
		}
		ux, uy := polar(1, dir(s))
		w, h := TextWidth(labels[i], st), st.em()
		reach := r + 0.9 + math.Abs(ux)*w/2 + math.Abs(uy)*h/2
		lx, ly := cx+ux*reach, cy-uy*reach
		if beside(s) {
			lx, ly = cx+math.Copysign(r+0.9+w/2, s.X), cy-s.Y*r
		}
		if math.Hypot(s.X, s.Y) < 0.15 {
			d.stroke(0.2, 0)
			d.pdf.Line(cx+ux*r*0.2, cy-uy*r*0.2, cx+ux*(r+0.4), cy-uy*(r+0.4))
		}
		d.drawAt(labels[i], lx-w/2, ly-h/2, st, Rect{x - 0.05, y - 0.05, size + 0.1, size + 0.1})
	}
}

// slot draws one opening, filled.
func (d *Doc) slot(cx, cy, r float64, s Slot) {
	px, py := cx+s.X*r, cy-s.Y*r
	w, h := s.W*r, s.H*r
	def := func(dw, dh float64) {
		if w == 0 {
			w = dw * r
		}
		if h == 0 {
			h = dh * r
		}
	}
	d.fill(0)
	d.stroke(0.1, 0)
	sin, cos := math.Sincos(s.Turn * math.Pi / 180)
	shape := func(xy ...float64) {
		pts := make([]fpdf.PointType, len(xy)/2)
		for i := range pts {
			a, b := xy[2*i], xy[2*i+1]
			pts[i] = fpdf.PointType{X: px + a*cos - b*sin, Y: py - a*sin - b*cos}
		}
		d.pdf.Polygon(pts, "F")
	}
	box := func(x0, y0, x1, y1 float64) { shape(x0, y0, x1, y0, x1, y1, x0, y1) }
	switch s.Shape {
	case VerticalSlot:
		def(0.13, 0.42)
		box(-w/2, -h/2, w/2, h/2)
	case HorizontalSlot:
		def(0.42, 0.13)
		box(-w/2, -h/2, w/2, h/2)
	case TSlot:
		def(0.34, 0.42)
		t := 0.13 * r
		box(-t/2, -h/2, t/2, h/2)
		box(-w, -t/2, t/2, t/2)
	case LSlot:
		def(0.3, 0.42)
		t := 0.13 * r
		box(-t/2, -h/2, t/2, h/2)
		box(-t/2, h/2-t, w-t/2, h/2)
	case RoundHole:
		def(0.2, 0.2)
		d.pdf.Circle(px, py, w/2, "F")
	case GroundHole:
		def(0.24, 0.28)
		d.pdf.Circle(px, py, w/2, "F")
		box(-w/2, 0, w/2, h-w/2)
	case CurvedSlot, HookSlot:
		// W is the sweep in degrees here.
		sweep := s.W
		if sweep == 0 {
			sweep = 46
		}
		rad := math.Hypot(s.X, s.Y) * r
		mid := math.Atan2(s.Y, s.X) * 180 / math.Pi
		th := 0.12 * r
		var pts []fpdf.PointType
		const n = 14
		for i := 0; i <= n; i++ {
			ax, ay := polar(rad+th/2, mid-sweep/2+sweep*float64(i)/n)
			pts = append(pts, fpdf.PointType{X: cx + ax, Y: cy - ay})
		}
		for i := n; i >= 0; i-- {
			ax, ay := polar(rad-th/2, mid-sweep/2+sweep*float64(i)/n)
			pts = append(pts, fpdf.PointType{X: cx + ax, Y: cy - ay})
		}
		d.pdf.Polygon(pts, "F")
		if s.Shape == HookSlot {
			pts = pts[:0]
			for _, q := range [][2]float64{{rad + th/2, 0}, {rad - th*2, 0}, {rad - th*2, 1}, {rad + th/2, 1}} {
				ax, ay := polar(q[0], mid-sweep/2)
				bx, by := polar(th*q[1], mid-sweep/2+90)
				pts = append(pts, fpdf.PointType{X: cx + ax + bx, Y: cy - ay - by})
			}
			d.pdf.Polygon(pts, "F")
		}
	}
}

// NEMANames lists the faces that NEMAFace knows.
var NEMANames = []string{
	"5-15", "5-20", "6-15", "6-20", "6-30", "6-50", "L6-20", "L6-30",
	"14-30", "14-50", "L14-30", "15-30", "15-50", "L21-30",
}

// NEMAFace gives the face of a receptacle by its NEMA configuration, without
// the leading word ("L6-30"; a trailing R is accepted).
//
// Poles and wires are the meaning of the series number. The places and forms
// of the slots are from memory: good for recognition, not for measuring.
func NEMAFace(name string) (FaceSpec, bool) {
	key := strings.TrimSuffix(strings.ToUpper(strings.TrimSpace(name)), "R")
	key = strings.TrimSpace(strings.TrimPrefix(key, "NEMA"))
	slot := func(sh SlotShape, x, y float64, label string) Slot {
		return Slot{Shape: sh, X: x, Y: y, Label: label}
	}
	curved := func(sh SlotShape, deg float64, label string) Slot {
		x, y := polar(0.62, deg)
		return Slot{Shape: sh, X: x, Y: y, Label: label}
	}
	ground := slot(GroundHole, 0, -0.42, "G")
	f := FaceSpec{Name: "NEMA " + key + "R"}
	var poles int
	switch key {
	case "5-15":
		poles, f.Square = 2, true
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.36, Y: 0.24, H: 0.5, Label: "N"}, slot(VerticalSlot, 0.36, 0.24, "L1"), ground}
	case "5-20":
		poles, f.Square = 2, true
		f.Slots = []Slot{{Shape: TSlot, X: -0.34, Y: 0.24, H: 0.5, Label: "N"}, slot(VerticalSlot, 0.36, 0.24, "L1"), ground}
	case "6-15":
		poles, f.Square = 2, true
		f.Slots = []Slot{slot(HorizontalSlot, -0.4, 0.24, "L1"), slot(HorizontalSlot, 0.4, 0.24, "L2"), ground}
	case "6-20":
		poles, f.Square = 2, true
		f.Slots = []Slot{{Shape: TSlot, X: -0.34, Y: 0.24, H: 0.5, Label: "L1"}, slot(HorizontalSlot, 0.4, 0.24, "L2"), ground}
	case "6-30":
		poles = 2
		f.Slots = []Slot{slot(LSlot, -0.44, 0.14, "L1"), slot(VerticalSlot, 0.44, 0.14, "L2"), ground}
	case "6-50":
		poles = 2
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.42, Y: 0.14, H: 0.56, Label: "L1"}, {Shape: VerticalSlot, X: 0.42, Y: 0.14, H: 0.56, Label: "L2"}, ground}
	case "14-30":
		poles = 3
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.5, H: 0.5, Label: "L1"}, {Shape: VerticalSlot, X: 0.5, H: 0.5, Label: "L2"},
			{Shape: LSlot, Y: -0.48, Turn: 180, Label: "N"}, {Shape: GroundHole, Y: 0.48, Turn: 180, Label: "G"}}
	case "14-50":
		poles = 3
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.5, H: 0.56, Label: "L1"}, {Shape: VerticalSlot, X: 0.5, H: 0.56, Label: "L2"},
			{Shape: VerticalSlot, Y: -0.48, Label: "N"}, {Shape: GroundHole, Y: 0.48, Turn: 180, Label: "G"}}
	case "15-30":
		poles = 3
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.5, H: 0.5, Label: "L1"}, {Shape: VerticalSlot, X: 0.5, H: 0.5, Label: "L3"},
			{Shape: LSlot, Y: -0.46, Turn: 90, Label: "L2"}, {Shape: GroundHole, Y: 0.48, Turn: 180, Label: "G"}}
	case "15-50":
		poles = 3
		f.Slots = []Slot{{Shape: VerticalSlot, X: -0.5, H: 0.56, Label: "L1"}, {Shape: VerticalSlot, X: 0.5, H: 0.56, Label: "L3"},
			slot(HorizontalSlot, 0, -0.46, "L2"), {Shape: GroundHole, Y: 0.48, Turn: 180, Label: "G"}}
	case "L6-20", "L6-30":
		poles = 2
		f.Slots = []Slot{curved(CurvedSlot, 150, "L1"), curved(CurvedSlot, 30, "L2"), curved(HookSlot, 270, "G")}
	case "L14-30":
		poles = 3
		f.Slots = []Slot{curved(CurvedSlot, 180, "L1"), curved(CurvedSlot, 0, "L2"), curved(CurvedSlot, 270, "N"), curved(HookSlot, 90, "G")}
	case "L21-30":
		poles = 4
		f.Slots = []Slot{curved(CurvedSlot, 180, "L1"), curved(CurvedSlot, 90, "L2"), curved(CurvedSlot, 0, "L3"), curved(HookSlot, 270, "N"),
			{Shape: RoundHole, Label: "G", LabelTurn: 45}}
	default:
		return FaceSpec{}, false
	}
	f.Wires = poles + 1
	f.Note = fmt.Sprintf("%d-pole, %d-wire grounding", poles, f.Wires)
	return f, true
}

// IECNames lists the contact arrangements that IECFace knows.
var IECNames = []string{"2P+E", "3P+E", "3P+N+E"}

// IECFace gives the face of an IEC 60309-2 socket-outlet with its earth
// contact at the given hour. The main key stands at six o'clock and the hour
// of the earth contact is read from the front (EN 60309-2); even spacing of the
// contacts and their sizes are from memory.
func IECFace(poles string, hour int) (FaceSpec, bool) {
	var labels []string
	switch strings.ToUpper(strings.ReplaceAll(poles, " ", "")) {
	case "2P+E", "1P+N+E", "P+N+E":
		poles, labels = "2P+E", []string{"L1", "N"}
	case "3P+E":
		poles, labels = "3P+E", []string{"L1", "L2", "L3"}
	case "3P+N+E":
		poles, labels = "3P+N+E", []string{"L1", "L2", "L3", "N"}
	default:
		return FaceSpec{}, false
	}
	if hour < 1 || hour > 12 {
		return FaceSpec{}, false
	}
	n := len(labels) + 1
	f := FaceSpec{
		Name: "IEC 60309 " + poles, Sleeve: true, Key: 6, Wires: n,
		Note: fmt.Sprintf("earth at %dh, key at 6h", hour),
	}
	at := 90 - float64(hour)*30
	for i := range n {
		x, y := polar(0.54, at-float64(i)*360/float64(n)) // clockwise from earth
		s := Slot{Shape: RoundHole, X: x, Y: y, W: 0.25}
		if i == 0 {
			s.Label, s.W = "PE", 0.34
		} else {
			s.Label = labels[i-1]
		}
		f.Slots = append(f.Slots, s)
	}
	return f, true
}
