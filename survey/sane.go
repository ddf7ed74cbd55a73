package survey

import (
	"reflect"
	"strings"

	"firstfill/survey/quantity"
)

func newOf(t reflect.Type) any { return reflect.New(t).Interface() }

// base is the view of a quantity that compares across units.
type base interface {
	quantity.Adjustable
	Base() float64
}

// sane reads a text as the field's quantity, and the limits of its plausible
// range, all in base units. ok is false when the field has no range or the text can't be read.
func (f Field) sane(text string) (q, low, high float64, ok bool) {
	if f.Sane == "" {
		return 0, 0, 0, false
	}
	a, b, _ := strings.Cut(f.Sane, "..")
	var xs [3]float64
	for i, t := range []string{text, a, b} {
		v, is := f.Zero().(base)
		if !is || v.UnmarshalText([]byte(t)) != nil || !v.Known() {
			return 0, 0, 0, false
		}
		xs[i] = v.Base()
	}
	return xs[0], xs[1], xs[2], true
}
