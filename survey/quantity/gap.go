package quantity

// Dimension is the constraint of functions over any dimension outside this package.
type Dimension interface{ dimension }

// Base gives the value in the dimension's base unit (mm, kPa, °C, L/min and
// the like), NaN-free: 0 if unknown.
func (q Of[D]) Base() float64 {
	if !q.Known() {
		return 0
	}
	return q.base()
}

// A Gap is how far one value lies above another; for temperatures it is in
// degrees of difference.
type Gap struct {
	base float64
	dim  *dim
}

// GapOf gives how far a lies above b. Unknown values count as their zero.
func GapOf[D Dimension](a, b Of[D]) Gap {
	d := a.dim()
	if d.diff != nil {
		d = d.diff
	}
	g := Gap{a.Base() - b.Base(), d}
	if a.Cmp(b) == 0 {
		g.base = 0
	}
	return g
}

// Base gives the gap in base units, negative when a lies below b, and 0 when
// the two are equal as Cmp has it.
func (g Gap) Base() float64 { return g.base }

// Show gives the gap's size without its sign, in both systems. A gap that is
// not 0 never prints as 0.
func (g Gap) Show(s System) string {
	first, second := g.size(s), g.size(s.other())
	if first == second {
		return first
	}
	return first + " (" + second + ")"
}

func (g Gap) size(s System) string {
	b := g.base
	if b < 0 {
		b = -b
	}
	u := g.dim.print[s](b)
	for extra := 0; ; extra++ {
		if text, reads := u.render(b, extra); b == 0 || reads != 0 || extra == maxExtra {
			return text
		}
	}
}

// Write gives x of unit u as text that Parse reads back to within 1e-6 of u.
func (u Unit[D]) Write(x float64) string {
	s, _ := rounded(x, 6)
	return s + " " + u.name
}
