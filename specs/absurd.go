package specs

import (
	"fmt"
	"reflect"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// absurd finds values that no machine has: a least above its most, and none of
// what every machine takes or is.
func (m *Machine) absurd(file string) doc.Problems {
	var problems doc.Problems
	add := func(path, format string, args ...any) {
		problems = append(problems, doc.Problem{Pos: m.place(file, path), Path: path, Message: fmt.Sprintf(format, args...)})
	}
	known := map[string]measured{}
	m.leaves(reflect.ValueOf(m).Elem(), "", func(path string, leaf any) {
		q, ok := leaf.(measured)
		if !ok || !q.Known() {
			return
		}
		known[path] = q
		last := path[strings.LastIndexByte(path, '.')+1:]
		if q.Base() == 0 && never(q, path, last) {
			add(path, "%s can't be: no machine has none of it; leave it out, or write unknown, where the sheet doesn't say", q.Text())
		}
	})
	for path, least := range known {
		highest := ""
		if stem, ok := strings.CutSuffix(path, "_min"); ok {
			highest = stem + "_max"
		} else if stem, ok := strings.CutSuffix(path, "min_circuit"); ok {
			highest = stem + "max_breaker"
		}
		if most, ok := known[highest]; ok && least.Base() > most.Base() {
			add(path, "%s is above %s, %s; were the two swapped?", least.Text(), highest[strings.LastIndexByte(highest, '.')+1:], most.Text())
		}
	}
	problems.Sort()
	return problems
}

// measured is a quantity with its value in base units.
type measured interface {
	quantity.Quantity
	Base() float64
}

// never says whether a quantity of that name can't be nothing: what is a
// machine's size, mass, voltage, current, power, frequency or flow. Clearances,
// places and least values may be.
func never(q measured, path, name string) bool {
	switch name {
	case "width", "depth", "height", "mass":
		return strings.HasPrefix(path, "space.")
	case "crate_width", "crate_depth", "crate_height", "crate_mass", "fill_volume", "tank_volume", "consumption", "per_cycle", "flow", "pump_flow", "revolution", "cord_length", "hose_length", "tube_length":
		return true
	}
	switch q.Dimension() {
	case "voltage", "frequency":
		return true
	case "current":
		return name != "motor_current"
	case "pressure", "hardness", "concentration":
		return strings.HasSuffix(name, "_max")
	}
	return false
}

// leaves visits every value of a sheet with its path.
func (m *Machine) leaves(v reflect.Value, path string, visit func(path string, leaf any)) {
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		name := doc.Name(sf)
		if name == "" {
			continue
		}
		if path != "" {
			name = path + "." + name
		}
		switch {
		case doc.IsLeaf(sf.Type):
			visit(name, v.Field(i).Addr().Interface())
		case sf.Type.Kind() == reflect.Slice:
			for n := range v.Field(i).Len() {
				m.leaves(v.Field(i).Index(n), fmt.Sprintf("%s[%d]", name, n), visit)
			}
		default:
			m.leaves(v.Field(i), name, visit)
		}
	}
}
