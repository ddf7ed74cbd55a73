// Package surveytest makes sites for tests: random but plausible ones, and the
// same site written in other units. Start with Lay.
package surveytest

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"

	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Lay writes random answers over a site: as a surveyor may find them, at the
// ends of what is plausible, missing, exact or within an uncertainty, in either
// system of units. It returns what was laid, and nil where the answers can't
// stand together.
func Lay(r *rand.Rand, s *survey.Survey) (*survey.Survey, map[string]string) {
	set := map[string]string{}
	n := 1 + r.IntN(12)
	if r.IntN(6) == 0 {
		n = 20 + r.IntN(60) // a site where little is as it should be
	}
	for range n {
		f := plain[r.IntN(len(plain))]
		if text := Answer(r, f); text != "" {
			set[f.Path] = text
		}
	}
	if r.IntN(3) == 0 {
		layList(r, set)
	}
	laid := s.Clone()
	if laid.Apply(set) != nil {
		return nil, set
	}
	return laid, set
}

// plain are the questions that may be laid; lists are those of groups.
var plain, lists = func() (plain, lists []survey.Field) {
	for _, f := range survey.Fields() {
		switch f.Section {
		case "site", "notes", "photos", "choices", "survey":
			continue
		}
		switch {
		case f.List:
			lists = append(lists, f)
		case strings.Contains(f.Path, "[]") || f.Path == "machine.key" || f.Path == "machine.supply":
		default:
			plain = append(plain, f)
		}
	}
	return plain, lists
}()

// Plain are the questions outside lists, those of the office left out.
func Plain() []survey.Field { return plain }

// layList writes one list anew: none, or up to three items.
func layList(r *rand.Rand, set map[string]string) {
	l := lists[r.IntN(len(lists))]
	set[l.Path] = doc.EmptyList
	for i := range r.IntN(4) {
		for _, f := range survey.Members(l) {
			text := Answer(r, f)
			if f.Name == "name" {
				text = fmt.Sprintf("item %d", i+1)
			}
			if f.Needed && text == "unknown" {
				text = f.Example
			}
			if text != "" {
				set[strings.ReplaceAll(f.Path, "[]", fmt.Sprintf("[%d]", i))] = text
			}
		}
	}
}

// receptacles are answers to the one question of names that has no closed list.
var receptacles = []string{"none", "NEMA 5-15", "NEMA 5-20", "NEMA 6-15", "NEMA 6-20", "NEMA 6-30", "NEMA 6-50", "NEMA L6-20", "NEMA L6-30", "NEMA 10-30", "NEMA 14-30", "NEMA 14-50", "NEMA 15-30", "NEMA 15-50",
	"BS 1363", "CEE 7/4", "IEC 60309 230 V 16 A 2P+E", "IEC 60309 230 V 32 A 2P+E", "IEC 60309 400 V 16 A 3P+N+E", "IEC 60309 400 V 32 A 3P+N+E"}

// breakers are ratings that one finds, A.
var breakers = []float64{6, 10, 15, 16, 20, 25, 30, 32, 35, 40, 50, 60, 63, 70, 80, 100}

// Answer is a random answer to one question, empty where it has no range.
func Answer(r *rand.Rand, f survey.Field) string {
	if r.IntN(10) == 0 {
		return "unknown"
	}
	switch {
	case len(f.Choices) > 0:
		return f.Choices[r.IntN(len(f.Choices))]
	case f.Path == "power.receptacle":
		return receptacles[r.IntN(len(receptacles))]
	case f.Path == "power.breaker":
		return fmt.Sprintf("%g A", breakers[r.IntN(len(breakers))])
	case f.Path == "power.phases":
		return []string{"1", "3"}[r.IntN(2)]
	}
	switch f.Type {
	case reflect.TypeFor[survey.YesNo]():
		return []string{"yes", "no"}[r.IntN(2)]
	case reflect.TypeFor[quantity.PipeSize]():
		all := (quantity.PipeSize{}).All()
		return all[r.IntN(min(9, len(all)))].String()
	case reflect.TypeFor[quantity.WireSize]():
		wires := []string{"14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG", "1.5 mm²", "2.5 mm²", "4 mm²", "6 mm²", "10 mm²", "16 mm²"}
		return wires[r.IntN(len(wires))]
	case reflect.TypeFor[survey.Count](), reflect.TypeFor[survey.Number]():
		eg, err := strconv.ParseFloat(f.Example, 64)
		if err != nil {
			return ""
		}
		x := eg * 2.5 * r.Float64()
		if f.Type == reflect.TypeFor[survey.Count]() {
			if eg < 8 {
				return strconv.Itoa(r.IntN(9))
			}
			return strconv.Itoa(int(x))
		}
		return fmt.Sprintf("%.3g", x)
	}
	low, high, ok := Range(f)
	if !ok {
		return ""
	}
	x := low + (high-low)*r.Float64()
	switch r.IntN(8) {
	case 0:
		x = low
	case 1:
		x = high
	case 2, 3, 4: // near what the question gives as its example
		if eg, ok := Base(f, f.Example); ok {
			x = min(high, max(low, eg+(high-low)*(r.Float64()-0.5)/4))
		}
	case 5: // small things are more often found than large ones
		x = low + (high-low)*r.Float64()*r.Float64()
	}
	text := Text(f, x, quantity.System(r.IntN(2)), 4)
	_, unit, _ := strings.Cut(text, " ")
	switch r.IntN(10) {
	case 0:
		return text + " ± 0 " + unit
	case 1:
		return fmt.Sprintf("%s ± %.2f %s", text, 0.1*r.Float64()*Size(f, (high-low)/4, unit), unit)
	}
	return text
}

// A based quantity compares across units.
type based interface {
	quantity.Adjustable
	Base() float64
}

// Base is a text read as the field's quantity, in its dimension's base unit.
func Base(f survey.Field, text string) (float64, bool) {
	q, ok := f.Zero().(based)
	if !ok || q.UnmarshalText([]byte(text)) != nil || !q.Known() {
		return 0, false
	}
	return q.Base(), true
}

// Range is the field's plausible range in base units.
func Range(f survey.Field) (low, high float64, ok bool) {
	a, b, ok := strings.Cut(f.Sane, "..")
	if !ok {
		return 0, 0, false
	}
	low, ok = Base(f, a)
	if !ok {
		return 0, 0, false
	}
	high, ok = Base(f, b)
	return low, high, ok
}

// Size is a difference in base units as one in the unit named.
func Size(f survey.Field, diff float64, unit string) float64 {
	zero, _ := Base(f, "0 "+unit)
	one, _ := Base(f, "1 "+unit)
	return diff / (one - zero)
}

// Text writes a value in base units in the field's customary unit of a system,
// with so many digits; 0: twelve, which is closer than two readings are told apart.
func Text(f survey.Field, base float64, u quantity.System, digits int) string {
	unit := f.Unit(u)
	zero, _ := Base(f, "0 "+unit)
	x := Size(f, base-zero, unit)
	if digits == 0 {
		digits = 12
	}
	return plainly(x, digits) + " " + unit
}

// plainly writes a number with so many digits, trailing zeros left out.
func plainly(x float64, digits int) string {
	text := strconv.FormatFloat(x, 'f', decimals(x, digits), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// decimals is how many places show so many digits of x.
func decimals(x float64, digits int) int {
	for ; x >= 1 || x <= -1; x /= 10 {
		digits--
	}
	return max(0, digits)
}

// InUnits is the site with every quantity written in one system of units, to
// twelve digits; an uncertainty that was written goes with it.
func InUnits(s *survey.Survey, u quantity.System) (*survey.Survey, error) {
	set := map[string]string{}
	for _, a := range s.Answers() {
		if a.Unknown() || !survey.HasField(a.Path) {
			continue
		}
		f := survey.FieldAt(a.Path)
		q, ok := f.Zero().(based)
		if !ok || q.UnmarshalText([]byte(a.Text)) != nil || !q.Known() {
			continue
		}
		text := Text(f, q.Base(), u, 0)
		if spread, ok := q.(interface{ SpreadStated() bool }); ok && spread.SpreadStated() {
			text += " ± " + plainly(spreadIn(f, q, u), 12) + " " + f.Unit(u)
		}
		set[a.Path] = text
	}
	c := s.Clone()
	return c, c.Apply(set)
}

// spreadIn is a quantity's half-width in the field's customary unit.
func spreadIn(f survey.Field, q based, u quantity.System) float64 {
	at := q.Base()
	up, _ := f.Zero().(based)
	reflect.ValueOf(up).Elem().Set(reflect.ValueOf(q).Elem())
	up.Nudge(1)
	return Size(f, up.Base()-at, f.Unit(u))
}
