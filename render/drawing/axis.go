package drawing

import "slices"

// An axis is the horizontal one of a drawing: distances from the datum in
// millimetres, with the empty stretches left out between break lines.
type axis struct {
	kept []stretch // where something stands
	cuts []stretch // what is left out
}

type stretch struct{ from, to float64 }

const (
	air  = 160.0 // kept on either side of what stands somewhere
	slit = 45.0  // between two break lines
)

// keep notes that something stands from one place to another.
func (a *axis) keep(from, to float64) { a.kept = append(a.kept, stretch{from - air, to + air}) }

// merged are the kept stretches in order, those that touch joined.
func (a *axis) merged() []stretch {
	all := slices.Clone(a.kept)
	slices.SortFunc(all, func(a, b stretch) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	var out []stretch
	for _, s := range all {
		if n := len(out); n > 0 && s.from <= out[n-1].to+2*slit {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// fold leaves out the longest empty stretches, until the drawing is at most so
// wide or none is left.
func (a *axis) fold(most float64) {
	all := a.merged()
	if len(all) == 0 {
		return
	}
	width := all[len(all)-1].to - all[0].from
	var gaps []stretch
	for i := 1; i < len(all); i++ {
		gaps = append(gaps, stretch{all[i-1].to, all[i].from})
	}
	slices.SortFunc(gaps, func(a, b stretch) int { return int(b.to - b.from - (a.to - a.from)) })
	for _, g := range gaps {
		if width <= most {
			return
		}
		a.cuts = append(a.cuts, g)
		width -= g.to - g.from - slit
	}
}

// at is where a place lies on the drawing; the datum lies at 0.
func (a *axis) at(x float64) float64 {
	y := x
	for _, c := range a.cuts {
		lost := c.to - c.from - slit
		switch {
		case c.from >= 0 && x >= c.to:
			y -= lost
		case c.to <= 0 && x <= c.from:
			y += lost
		}
	}
	return y
}

// shown is the place nearest to one that isn't left out.
func (a *axis) shown(x float64) float64 {
	for _, c := range a.cuts {
		switch {
		case x > c.from && x <= (c.from+c.to)/2:
			return c.from - air/2
		case x > c.from && x < c.to:
			return c.to + air/2
		}
	}
	return x
}

// ends are the places where the drawing begins and ends.
func (a *axis) ends() (left, right float64) {
	all := a.merged()
	if len(all) == 0 {
		return 0, 0
	}
	return all[0].from, all[len(all)-1].to
}

// parts are the pieces of a straight line that aren't left out.
func (a *axis) parts(p, q point) [][2]point {
	at := func(x float64) point { return point{x, p.y + (x-p.x)/(q.x-p.x)*(q.y-p.y)} }
	parts := [][2]point{{p, q}}
	for _, c := range a.cuts {
		var left [][2]point
		for _, s := range parts {
			lo, hi := min(s[0].x, s[1].x), max(s[0].x, s[1].x)
			if hi <= c.from || lo >= c.to {
				left = append(left, s)
				continue
			}
			near, far := c.from, c.to
			if s[0].x > s[1].x {
				near, far = far, near
			}
			if lo < c.from && s[0].x < s[1].x || hi > c.to && s[0].x > s[1].x {
				left = append(left, [2]point{s[0], at(near)})
			}
			if hi > c.to && s[0].x < s[1].x || lo < c.from && s[0].x > s[1].x {
				left = append(left, [2]point{at(far), s[1]})
			}
		}
		parts = left
	}
	return parts
}

// A point lies x from the datum and y above the finished floor at the machine,
// in millimetres.
type point struct{ x, y float64 }

// A region hides what lies in it.
type region struct{ x0, y0, x1, y1 float64 }

// split cuts a line where it enters or leaves hidden regions.
func split(p, q point, hidden []region) (parts []hiddenPart) {
	ts := []float64{0, 1}
	dx, dy := q.x-p.x, q.y-p.y
	for _, r := range hidden {
		for _, e := range [][2]float64{{dx, r.x0 - p.x}, {dx, r.x1 - p.x}, {dy, r.y0 - p.y}, {dy, r.y1 - p.y}} {
			if e[0] != 0 {
				if t := e[1] / e[0]; t > 1e-9 && t < 1-1e-9 {
					ts = append(ts, t)
				}
			}
		}
	}
	slices.Sort(ts)
	at := func(t float64) point { return point{p.x + t*dx, p.y + t*dy} }
	for i := 1; i < len(ts); i++ {
		if ts[i]-ts[i-1] < 1e-9 {
			continue
		}
		mid := at((ts[i] + ts[i-1]) / 2)
		behind := slices.ContainsFunc(hidden, func(r region) bool {
			return mid.x > r.x0 && mid.x < r.x1 && mid.y > r.y0 && mid.y < r.y1
		})
		if n := len(parts); n > 0 && parts[n-1].hidden == behind {
			parts[n-1].q = at(ts[i])
			continue
		}
		parts = append(parts, hiddenPart{at(ts[i-1]), at(ts[i]), behind})
	}
	return parts
}

type hiddenPart struct {
	p, q   point
	hidden bool
}
