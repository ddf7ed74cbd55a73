// Package trade holds the published tables and pure formulas that a site
// survey for a glass washer is checked with: conductors and circuits,
// receptacles, water pipe, mixing and heating, sanitising, drainage, space
// and throughput.
//
// Start with the file of your topic: each one opens with its tables, each
// table names its [Source], and each formula's comment gives the equation,
// the units, the range of validity, the source and a worked value that a test
// repeats.
//
// # Conventions
//
// Every quantity is a float64 with its unit in the name (flowGPM, idIn,
// lengthFt); pipe sizes and wire gauges are the trade's strings ("1-1/2",
// "12", "1/0"). A formula of plain numbers returns NaN outside its range of
// validity, NaN in gives NaN out. A table look-up, and any calculation that
// can be impossible for a reason worth telling, returns an error:
// [ErrNotTabulated] when the table has no such row, [ErrRange] when a number
// is outside the table or the rule, [ErrCannot] when the physics forbids it.
// Nothing here is rounded.
//
// # What it is not
//
// The figures come from model codes, standards and handbooks. The code that a
// jurisdiction has adopted, its amendments and the authority having
// jurisdiction govern. Nothing here is a design or a permit document, and
// work on power, hot water and chemicals belongs to licensed trades.
package trade

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Errors that callers may test for with errors.Is.
var (
	// ErrNotTabulated reports a size, gauge or item that the table lacks.
	ErrNotTabulated = errors.New("not tabulated")
	// ErrRange reports a number outside the range of the table or rule.
	ErrRange = errors.New("out of range")
	// ErrCannot reports a state that cannot be reached at all, such as
	// mixing to a temperature outside the two supplies.
	ErrCannot = errors.New("cannot be reached")
)

// Unit factors, exact unless said otherwise.
const (
	InPerFt     = 12.0
	MPerFt      = 0.3048
	MPerIn      = 0.0254
	In3PerGal   = 231.0       // US gallon, exact
	LPerGal     = 3.785411784 // US gallon, exact
	GPMPerCFS   = 1728.0 * 60 / In3PerGal
	WPerBtuH    = 0.29307107017 // international table Btu
	BtuHPerKW   = 3412.14163312794
	KgPerLb     = 0.45359237 // exact
	GravityMS2  = 9.80665    // standard gravity, exact
	GravityFtS2 = GravityMS2 / MPerFt
	PaPerPSI    = 6894.757293168
	MgPerGrain  = 64.79891 // exact
)

// NominalIn turns a nominal size such as "1-1/2", "3/4" or "2" into inches.
// It accepts only the trade's own notation: whole, fraction, or whole-fraction.
func NominalIn(nominal string) (float64, error) {
	bad := fmt.Errorf("nominal size %q: want a form such as 3/4, 2 or 1-1/2: %w", nominal, ErrNotTabulated)
	whole, frac, mixed := strings.Cut(nominal, "-")
	if !mixed {
		if strings.Contains(nominal, "/") {
			whole, frac = "0", nominal
		} else {
			frac = ""
		}
	}
	w, err := digits(whole)
	if err != nil {
		return 0, bad
	}
	size := float64(w)
	if frac != "" {
		ns, ds, ok := strings.Cut(frac, "/")
		n, err1 := digits(ns)
		d, err2 := digits(ds)
		if !ok || err1 != nil || err2 != nil || d == 0 || n >= d {
			return 0, bad
		}
		size += float64(n) / float64(d)
	} else if mixed {
		return 0, bad
	}
	if size <= 0 {
		return 0, bad
	}
	return size, nil
}

func digits(s string) (int, error) {
	if s == "" || strings.Trim(s, "0123456789") != "" || len(s) > 4 {
		return 0, ErrNotTabulated
	}
	return strconv.Atoi(s)
}

// positive reports whether every number is finite and above zero.
func positive(xs ...float64) bool {
	for _, x := range xs {
		if !(x > 0) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// notNegative reports whether every number is finite and at least zero.
func notNegative(xs ...float64) bool {
	for _, x := range xs {
		if !(x >= 0) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// finite reports whether no number is NaN or infinite.
func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// rangeError names the value that was refused and the range wanted.
func rangeError(what string, got float64, want string) error {
	return fmt.Errorf("%s is %v, want %s: %w", what, got, want, ErrRange)
}

func noRow(table, key string) error {
	return fmt.Errorf("%s has no row for %q: %w", table, key, ErrNotTabulated)
}
