package survey

import (
	"fmt"
	"regexp"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// AskedAt returns the plain questions of a station that a form holds, and the
// lists answered there.
func AskedAt(key string, f FormFor) (plain, lists []Field) {
	for _, q := range Fields() {
		if q.Walk != key || !f.Holds(q) {
			continue
		}
		if q.List {
			lists = append(lists, q)
		} else {
			plain = append(plain, q)
		}
	}
	return plain, lists
}

// Has says whether anything was written at or below a path.
func (s *Survey) Has(path string) bool {
	for p := range s.answers() {
		if under(p, path) {
			return true
		}
	}
	return false
}

// Members returns the fields of a list's items.
func Members(list Field) []Field {
	var fs []Field
	for _, q := range Fields() {
		if strings.HasPrefix(q.Path, list.Path+"[].") {
			fs = append(fs, q)
		}
	}
	return fs
}

// Unit is the customary unit of a measured answer in a system, empty for others.
func (f Field) Unit(u quantity.System) string {
	q, ok := f.Zero().(quantity.Adjustable)
	if !ok || f.Example == "" || q.UnmarshalText([]byte(f.Example)) != nil {
		return ""
	}
	text := q.(interface{ US() string }).US()
	if u == quantity.SI {
		text = f.In(u).Example
	}
	return text[strings.LastIndexByte(text, ' ')+1:]
}

// Group names the group that a question lies in.
func (q Field) Group() string {
	parts := strings.Split(q.Path, ".")
	if len(parts) == 1 {
		return "General"
	}
	words := strings.ReplaceAll(strings.Join(parts[:len(parts)-1], ", "), "_", " ")
	switch words {
	case "water, cold":
		words = "cold water"
	case "water, hot":
		words = "hot water"
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// YesNo says whether the question is answered with yes or no.
func (f Field) YesNo() bool {
	_, ok := f.Zero().(*YesNo)
	return ok
}

// Plain says whether the answer is a plain number, a nominal size or a date: short, without a unit of its own.
func (f Field) Plain() bool {
	switch f.Zero().(type) {
	case *Count, *Number, *Date, *quantity.PipeSize, *quantity.WireSize:
		return true
	}
	return false
}

// Zero returns a pointer to an empty answer of the field's type, nil for a list.
func (f Field) Zero() any {
	if f.Type == nil || !doc.IsLeaf(f.Type) {
		return nil
	}
	return newOf(f.Type)
}

// bare matches a number, a fraction or a mixed number without a unit, an
// uncertainty behind it or not.
var bare = regexp.MustCompile(`^-?[0-9]+([.][0-9]+)?([ -][0-9]+)?(/[0-9]+)?( ?(±|\+/-) ?[0-9.]+(/[0-9]+)?)?$`)

// WithUnit writes the unit behind a bare number typed into a box that shows it. A number
// outside what is plausible in that unit is left bare, so that the reader asks for its unit.
func (f Field) WithUnit(text, unit string) (string, error) {
	number, rough := quantity.Unroughed(text)
	if unit == "" || !bare.MatchString(number) {
		return text, nil
	}
	full := number + " " + unit
	if rough {
		full = "about " + full
	}
	if q, low, high, ok := f.sane(full); ok && (q < low || q > high) {
		return full, fmt.Errorf("%s %s is outside what is plausible here (%s); if it is right, write the unit behind it", text, unit, strings.Replace(f.Sane, "..", " to ", 1))
	}
	return full, nil
}
