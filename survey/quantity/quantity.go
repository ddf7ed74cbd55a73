// Package quantity holds the measured values of a site survey and of a
// requirement sheet: a number with a unit, how it was written, and how far it
// may be off.
//
// Start with Of, which is one value of one dimension (Length, Pressure and so
// on), and with Parse, which reads what a person wrote. PipeSize and WireSize
// are names, not measurements, and have types of their own.
//
// Conventions, everywhere in this package:
//
//   - pressures are gauge pressures; absolute readings are refused
//   - a gallon is the US gallon; imperial gallons are refused
//   - hardness is stated as calcium carbonate
//   - the zero value of every type is "unknown"
package quantity

import (
	"math"
)

// System says which family of units is printed first.
type System int

// The two families. A value in a unit common to both (V, A, Hz, s) prints the
// same way in either.
const (
	US System = iota // inch, psi, °F, gpm, gallon
	SI               // mm, kPa, °C, L/min, litre

	both // unit of either family
)

// other is the family printed second.
func (s System) other() System {
	if s == US {
		return SI
	}
	return US
}

// Of is a measured, stated or computed value of dimension D, perhaps with a
// half-width of uncertainty (a spread). The zero value is unknown. Values of
// two dimensions do not mix: adding a Length to a Pressure does not compile.
//
// Compare with Cmp, not ==: two spellings of one value are different structs.
type Of[D dimension] struct {
	v      float64 // value in u
	u      *unit   // unit it was written or computed in; nil when unknown
	text   string  // as written, trimmed; empty for a computed value
	half   float64 // half-width, base units of difference, never negative
	stated bool    // half was written by the user with ±
	rough  bool    // the user wrote "about", "~" and the like; half is what is taken for that
}

// The dimensions of a survey. See the unit variables for what each accepts.
type (
	Length        = Of[length]
	Area          = Of[area]
	Volume        = Of[volume]
	Mass          = Of[mass]
	Time          = Of[duration]
	Frequency     = Of[frequency]
	Pressure      = Of[pressure] // gauge
	FloorLoad     = Of[load]     // on an area
	Temperature   = Of[temperature]
	TempDiff      = Of[tempDiff] // a rise or a tolerance; no 32 offset
	Flow          = Of[flow]
	Speed         = Of[speed]
	Slope         = Of[slope]
	Voltage       = Of[voltage]
	Current       = Of[current]
	Resistance    = Of[resistance] // or impedance
	Power         = Of[power]
	Hardness      = Of[hardness] // as CaCO3
	Concentration = Of[concentration]
)

// Quantity is the view of an Of that does not know its dimension.
type Quantity interface {
	Known() bool
	Text() string
	Show(System) string
	Dimension() string
	SpreadText(System) string
}

// Adjustable is a Quantity whose spread and value can be changed in place; a
// pointer to any Of is one.
type Adjustable interface {
	Quantity
	AssumeSpread(text string) error
	Nudge(k float64)
	Moved(k float64) (back func())
	HalfWidth() float64
	SpreadStated() bool
	Rough() string
	UnmarshalText(text []byte) error
	Units() []string
}

// parser is a pointer to a type of this package that reads text.
type parser[Q any] interface {
	*Q
	parse(text string) error
}

// Parse reads one value of type Q, which is any Of, PipeSize or WireSize:
//
//	p, err := quantity.Parse[quantity.Pressure]("62 ± 2 psi")
//
// The text needs a unit, a point as decimal mark and no thousands mark. It may
// be a fraction ("3/4 in", "1-1/2 in", "½ in") or feet and inches
// ("10 ft 6 in"), and may state a spread after ± or +/- in a unit or as a
// percentage of the value. For a slope the percent sign is always the unit.
// "about 60 ft", "~60 ft", "60 ft approx." and "60 ft?" are 60 ft with a wider
// spread; see Rough.
// Lengths, temperatures, temperature differences and slopes may be negative.
// The error says what was found, what was wanted and how to write it.
func Parse[Q any, P parser[Q]](text string) (Q, error) {
	var q Q
	err := P(&q).parse(text)
	return q, err
}

// MustParse is Parse for tests and tables; it panics where Parse errs.
func MustParse[Q any, P parser[Q]](text string) Q {
	q, err := Parse[Q, P](text)
	if err != nil {
		panic("quantity: " + err.Error())
	}
	return q
}

// New gives the computed value of v in unit u, without spread. A v that is not
// finite, and the zero Unit, give an unknown value.
func New[D dimension](v float64, u Unit[D]) Of[D] {
	if u.unit == nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return Of[D]{}
	}
	return Of[D]{v: v + 0, u: u.unit} // + 0 turns -0 into 0
}

func (q Of[D]) dim() *dim { var d D; return d.info() }

func (q Of[D]) base() float64 { return q.u.base(q.v) }

// fromBase gives the computed value of b base units in the unit of q.
func (q Of[D]) fromBase(b float64) Of[D] {
	return New(q.u.from(b), Unit[D]{q.u})
}

// Known reports whether there is a value.
func (q Of[D]) Known() bool { return q.u != nil }

// Dimension names the dimension in lower case, as "pressure".
func (q Of[D]) Dimension() string { return q.dim().name }

// Units lists the units accepted, as printed, customary first.
func (q Of[D]) Units() []string {
	var names []string
	for _, u := range q.dim().units {
		names = append(names, u.name)
	}
	return names
}

// In gives the value in unit u, NaN if unknown. In the unit the value was
// written in it is exact, otherwise good to about 15 digits.
func (q Of[D]) In(u Unit[D]) float64 {
	switch {
	case !q.Known() || u.unit == nil:
		return math.NaN()
	case u.unit == q.u:
		return q.v
	}
	return u.from(q.base())
}

// Tolerances of Cmp; see there.
const (
	cmpRelative = 1e-9
	cmpAbsolute = 1e-9 // base units: mm, kPa, °C, L, L/min, W, …
)

// Cmp gives -1, 0 or +1 as q is less than, equal to or more than o. Values
// that differ by no more than 1e-9 of the larger, plus 1e-9 of the base unit
// (mm, kPa, °C, L/min and the like), are equal, so that 3/4 in is 0.75 in and
// 60 °C is 140 °F. Spreads play no part. An unknown value sorts before every
// known one and equals another unknown; ask Known first.
func (q Of[D]) Cmp(o Of[D]) int {
	if !q.Known() || !o.Known() {
		return compareBool(q.Known(), o.Known())
	}
	a, b := q.base(), o.base()
	if math.Abs(a-b) <= cmpRelative*max(math.Abs(a), math.Abs(b))+cmpAbsolute {
		return 0
	}
	if a < b {
		return -1
	}
	return 1
}

// compareBool orders false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// Plus gives q + o in the unit of q. Half-widths add, the worst case. The
// result is unknown if either is, or if the dimension is temperature: two
// temperatures have no sum; see Warmer.
func (q Of[D]) Plus(o Of[D]) Of[D] { return q.combine(o, 1) }

// Minus gives q - o in the unit of q, under the rules of Plus. For two
// temperatures see Difference.
func (q Of[D]) Minus(o Of[D]) Of[D] { return q.combine(o, -1) }

func (q Of[D]) combine(o Of[D], sign float64) Of[D] {
	if !q.Known() || !o.Known() || q.dim().diff != nil {
		return Of[D]{}
	}
	sum := q.fromBase(q.base() + sign*o.base())
	if sum.Known() {
		sum.half = q.half + o.half
	}
	return sum
}

// Times gives k·q in the unit of q, its spread scaled alike. The result is
// unknown if q is, if k is not finite, or if the dimension is temperature.
func (q Of[D]) Times(k float64) Of[D] {
	if !q.Known() || q.dim().diff != nil {
		return Of[D]{}
	}
	p := New(q.v*k, Unit[D]{q.u})
	if p.Known() {
		p.half = q.half * math.Abs(k)
	}
	return p
}

// Warmer gives the temperature d above t (below, for a negative d), in the
// scale of t. Half-widths add.
func Warmer(t Temperature, d TempDiff) Temperature {
	if !t.Known() || !d.Known() {
		return Temperature{}
	}
	w := t.fromBase(t.base() + d.base())
	w.half = t.half + d.half
	return w
}

// HalfWidth gives the spread in base units of difference (mm, kPa, °C, L/min
// and the like); 0 if there is none.
func (q Of[D]) HalfWidth() float64 { return q.half }

// Spread gives the half-width in the scale of u, 0 if there is none. For
// temperatures it is in degrees of difference, without the 32 of the scale.
func (q Of[D]) Spread(u Unit[D]) float64 {
	if u.unit == nil {
		return 0
	}
	return q.half / u.factor
}

// SpreadStated reports whether the spread was written with the value.
func (q Of[D]) SpreadStated() bool { return q.stated }

// WithSpread gives q with a half-width of half, in the scale of u and not
// counted as stated. The sign is ignored; a half that is not finite gives no
// spread. An unknown value stays as it is.
func (q Of[D]) WithSpread(half float64, u Unit[D]) Of[D] {
	if !q.Known() || u.unit == nil {
		return q
	}
	q.half, q.stated, q.rough = math.Abs(half)*u.factor, false, false
	if math.IsNaN(q.half) || math.IsInf(q.half, 0) {
		q.half = 0
	}
	return q
}

// AssumeSpread sets the half-width from a text such as "2 psi", "1 %" (of the
// value) or "1 % + 2 V" (their sum), unless the user stated one. The text is
// checked in every case. A percentage of a temperature has no meaning and is
// an error; for a slope the percent sign is the unit. An unknown value stays
// unknown, and none of a thing is exact. A value written with "about" keeps the
// wider of both.
func (q *Of[D]) AssumeSpread(text string) error {
	s, err := q.dim().spreadOf(text)
	if err != nil || !q.Known() || q.stated {
		return err
	}
	half := q.dim().assumed(s, q.v, q.u)
	if q.rough {
		half = max(half, q.half)
	}
	q.half = half
	return nil
}

// Rough is the half-width taken for a value that was written with "about" or
// the like, as text; empty for any other value.
func (q Of[D]) Rough() string {
	if !q.rough {
		return ""
	}
	return q.dim().roughSpread()
}

// Nudge moves the value by k half-widths and clears the spread: k = -1 gives
// the low end, +1 the high end. The result never goes below what the
// dimension allows (zero, or absolute zero). A k that is not finite only
// clears the spread.
func (q *Of[D]) Nudge(k float64) {
	if !q.Known() {
		return
	}
	by := k * q.half
	if math.IsNaN(by) || math.IsInf(by, 0) {
		by = 0
	}
	if by != 0 {
		floor := min(q.dim().floor, q.base()) // a computed value may lie lower
		*q = q.fromBase(max(q.base()+by, floor))
		return
	}
	if q.stated || q.rough {
		q.text = "" // it spells out the spread that is now gone
	}
	q.half, q.stated, q.rough = 0, false, false
}

// Moved is Nudge that can be undone: back puts the value as it was.
func (q *Of[D]) Moved(k float64) (back func()) {
	was := *q
	q.Nudge(k)
	return func() { *q = was }
}

// MarshalText gives Text; empty for an unknown value. A computed value is
// written as rounded for print, and an assumed spread is not written.
func (q Of[D]) MarshalText() ([]byte, error) { return []byte(q.Text()), nil }

// UnmarshalText is Parse in place, except that blank text gives an unknown
// value. On error q is unknown.
func (q *Of[D]) UnmarshalText(text []byte) error { return unmarshal(q, text) }

// unmarshal is the UnmarshalText of every type here.
func unmarshal[Q any, P parser[Q]](p P, text []byte) error {
	var unknown Q
	*p = unknown
	if trimmed(string(text)) == "" {
		return nil
	}
	return p.parse(string(text))
}

func (q *Of[D]) parse(text string) error {
	r, err := q.dim().parse(text)
	if err != nil {
		*q = Of[D]{}
		return err
	}
	*q = Of[D]{v: r.v, u: r.u, text: trimmed(text), half: r.half, stated: r.stated, rough: r.rough}
	return nil
}
