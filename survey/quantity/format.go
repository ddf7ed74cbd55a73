package quantity

import (
	"math"
	"strconv"
	"strings"
)

// style writes a number for print and gives the value it then reads as. With
// extra decimals above 0, fractions give way to decimals.
type style func(v float64, extra int) (text string, reads float64)

// decimals is the style of n decimals at most.
func decimals(n int) style {
	return func(v float64, extra int) (string, float64) { return rounded(v, n+extra) }
}

// coarse is the style of whole numbers from limit up and one decimal below.
func coarse(limit float64) style {
	return func(v float64, extra int) (string, float64) {
		if math.Abs(v) < limit {
			extra++
		}
		return rounded(v, extra)
	}
}

// significant is the style of three significant digits, at most six decimals
// and no rounding left of the point.
func significant(v float64, extra int) (string, float64) {
	n := 6
	if v != 0 {
		n = min(max(2-int(math.Floor(math.Log10(math.Abs(v)))), 0), n)
	}
	return rounded(v, n+extra)
}

// rounded writes v with at most n decimals, no trailing zeros and no -0.
func rounded(v float64, n int) (string, float64) {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	reads, _ := strconv.ParseFloat(s, 64) // FormatFloat wrote it
	return s, reads
}

// Lengths within snap of a sixteenth print as a fraction.
const (
	sixteenths = 16
	snap       = 0.002 // in
)

// fraction is the style of inches: "3/4", "1-1/2", and two decimals for what
// is not near a sixteenth.
func fraction(v float64, extra int) (string, float64) {
	if extra > 0 || math.Abs(v-toSixteenth(v)) > snap {
		return rounded(v, 2+max(extra-1, 0))
	}
	return mixed(v)
}

func toSixteenth(v float64) float64 { return math.Round(v*sixteenths) / sixteenths }

// mixed writes v to the nearest sixteenth, as "1-1/2".
func mixed(v float64) (string, float64) {
	n, reads, sign := math.Round(v*sixteenths), toSixteenth(v), ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, num, den := int(n)/sixteenths, int(n)%sixteenths, sixteenths
	if num == 0 {
		return sign + strconv.Itoa(whole), reads
	}
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	part := strconv.Itoa(num) + "/" + strconv.Itoa(den)
	if whole > 0 {
		part = strconv.Itoa(whole) + "-" + part
	}
	return sign + part, reads
}

// feetInches prints US lengths: inches below 10 ft; above, feet and inches to
// the sixteenth. It is no unit that can be written.
var feetInches = &unit{factor: mmPerInch, style: func(v float64, extra int) (string, float64) {
	if math.Abs(v) < 120-snap {
		s, reads := fraction(v, extra)
		return s + " in", reads
	}
	write := mixed
	if extra > 0 {
		write = func(v float64) (string, float64) { return fraction(v, extra) }
	}
	_, reads := write(v)
	feet := math.Trunc(reads / 12)
	s, _ := rounded(feet, 0)
	s += " ft"
	if in, rest := write(math.Abs(reads - 12*feet)); rest != 0 {
		s += " " + in + " in"
	}
	return s, reads
}}

// render writes b base units in unit u, and gives the base value it reads as.
func (u *unit) render(b float64, extra int) (string, float64) {
	write := u.style
	if write == nil {
		write = significant
	}
	s, reads := write(u.from(b), extra)
	if u.name != "" {
		s += " " + u.name
	}
	return s, u.base(reads)
}

// form writes q in system s: in the user's own words if those are of that
// system, else converted and rounded with extra more decimals.
func (q Of[D]) form(s System, extra int) string {
	if q.text != "" && (q.u.sys == s || q.u.sys == both) {
		return q.text
	}
	text, _ := q.rendered(s, extra)
	return text
}

func (q Of[D]) rendered(s System, extra int) (string, float64) {
	b := q.base()
	return q.dim().print[s](b).render(b, extra)
}

func (q Of[D]) show(s System, extra int) string {
	if !q.Known() {
		return unknownText
	}
	first, second := q.form(s, extra), q.form(s.other(), extra)
	if first == second {
		return first
	}
	return first + " (" + second + ")"
}

const unknownText = "unknown"

// Text gives the value as it was written, trimmed; for a computed value the
// US form, for an unknown one nothing.
func (q Of[D]) Text() string {
	switch {
	case !q.Known():
		return ""
	case q.text != "":
		return q.text
	}
	return q.US()
}

// String is Show(US).
func (q Of[D]) String() string { return q.Show(US) }

// US gives the value in US units, as "55 psi"; the user's own words if they
// are in such. An unknown value prints as "unknown".
func (q Of[D]) US() string {
	if !q.Known() {
		return unknownText
	}
	return q.form(US, 0)
}

// SI gives the value in SI units, as "379 kPa", like US.
func (q Of[D]) SI() string {
	if !q.Known() {
		return unknownText
	}
	return q.form(SI, 0)
}

// Show gives the value in both systems, s first: "55 psi (379 kPa)". What the
// user wrote stands as he wrote it; what is converted is rounded. A dimension
// with one form only prints once.
func (q Of[D]) Show(s System) string { return q.show(s, 0) }

// ShowIn gives the value in unit u alone, rounded for print.
func (q Of[D]) ShowIn(u Unit[D]) string {
	if !q.Known() || u.unit == nil {
		return unknownText
	}
	s, _ := u.render(q.base(), 0)
	return s
}

// SpreadText gives the half-width in system s, as "± 2 psi"; nothing if there
// is none. A spread too small to print in the usual digits gets more.
func (q Of[D]) SpreadText(s System) string {
	if !q.Known() || q.half == 0 {
		return ""
	}
	d := q.dim()
	if d.diff != nil {
		d = d.diff
	}
	u := d.print[s](q.half)
	for extra := 0; ; extra++ {
		if text, reads := u.render(q.half, extra); reads != 0 || extra == maxExtra {
			return "± " + text
		}
	}
}

// maxExtra bounds the search for digits; unequal values part well before it,
// see the tolerances of Cmp.
const maxExtra = 15

// Distinct shows a and b as Show does, with as many decimals as it takes for
// unequal values to print unequal, and in the right order, in both systems: a
// near miss never reads as a hit. Values that Cmp calls equal are shown as is.
func Distinct[D dimension](a, b Of[D], s System) (string, string) {
	extra := 0
	if order := a.Cmp(b); order != 0 && a.Known() && b.Known() {
		for extra < maxExtra && !(parted(a, b, US, extra, order) && parted(a, b, SI, extra, order)) {
			extra++
		}
	}
	return a.show(s, extra), b.show(s, extra)
}

// parted reports whether a and b read in the given order when rendered in s.
func parted[D dimension](a, b Of[D], s System, extra, order int) bool {
	_, x := a.rendered(s, extra)
	_, y := b.rendered(s, extra)
	gap := float64(order) * (x - y)
	return gap > 1e-12*max(math.Abs(x), math.Abs(y))
}

// pair is a quantity that can be told apart from another of its dimension in print.
type pair interface {
	distinct(other any, s System) (string, string, bool)
}

func (q Of[D]) distinct(other any, s System) (string, string, bool) {
	o, ok := other.(Of[D])
	if !ok || !q.Known() || !o.Known() {
		return "", "", false
	}
	a, b := Distinct(q, o, s)
	return a, b, true
}

// DistinctAny is Distinct for values whose dimension isn't known to the caller;
// ok is false when they aren't two known values of one dimension.
func DistinctAny(a, b any, s System) (first, second string, ok bool) {
	p, isPair := a.(pair)
	if !isPair {
		return "", "", false
	}
	return p.distinct(b, s)
}
