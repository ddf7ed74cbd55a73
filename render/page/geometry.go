package page

import "math"

// segment is a straight line on paper.
type segment struct{ x0, y0, x1, y1 float64 }

// in is the part of a segment that lies in a rectangle, from t0 to t1 of its
// length; t0 lies above t1 when none does.
func (s segment) in(r Rect) (t0, t1 float64) {
	t0, t1 = 0, 1
	dx, dy := s.x1-s.x0, s.y1-s.y0
	for _, e := range [4][2]float64{{-dx, s.x0 - r.X}, {dx, r.X + r.W - s.x0}, {-dy, s.y0 - r.Y}, {dy, r.Y + r.H - s.y0}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return 1, 0
			}
			continue
		}
		if t := q / p; p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	return t0, t1
}

// crosses says whether a segment meets a rectangle.
func (s segment) crosses(r Rect) bool {
	t0, t1 := s.in(r)
	return t0 <= t1
}

// along says whether two level or two upright segments lie on each other.
func (s segment) along(o segment, tol float64) bool {
	level := s.y0 == s.y1 && o.y0 == o.y1 && math.Abs(s.y0-o.y0) < 0.3 && s.x1 > o.x0+tol && o.x1 > s.x0+tol
	upright := s.x0 == s.x1 && o.x0 == o.x1 && math.Abs(s.x0-o.x0) < 0.3 && s.y1 > o.y0+tol && o.y1 > s.y0+tol
	return level || upright
}

// grown is a rectangle with air around it; negative air shrinks it.
func (r Rect) grown(air float64) Rect {
	return Rect{r.X - air, r.Y - air, r.W + 2*air, r.H + 2*air}
}

// meets says whether two rectangles overlap.
func (r Rect) meets(o Rect) bool {
	return r.X+r.W > o.X && o.X+o.W > r.X && r.Y+r.H > o.Y && o.Y+o.H > r.Y
}

// within says whether a rectangle lies in another.
func (r Rect) within(o Rect) bool {
	return r.X >= o.X && r.Y >= o.Y && r.X+r.W <= o.X+o.W && r.Y+r.H <= o.Y+o.H
}

// nearest is the point of a rectangle that lies nearest to another point.
func (r Rect) nearest(x, y float64) (float64, float64) {
	return max(r.X, min(x, r.X+r.W)), max(r.Y, min(y, r.Y+r.H))
}

func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.Abs(x) > 1e7 {
			return false
		}
	}
	return true
}
