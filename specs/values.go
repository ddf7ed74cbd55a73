package specs

import (
	"fmt"
	"reflect"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// A Value is one line of a requirement sheet, for printing.
type Value struct {
	Path   string
	Label  string // the path's last part in words
	Text   string
	Source string // its own, empty when it is the sheet's
}

// A Group is the lines of one section of a requirement sheet.
type Group struct {
	Name   string
	Values []Value
}

// Values lists what a sheet states, by section, in the sheet's order.
func (m *Machine) Values(u quantity.System) []Group {
	var groups []Group
	v := reflect.ValueOf(m).Elem()
	for i := range v.NumField() {
		name := doc.Name(v.Type().Field(i))
		if name == "" || doc.IsLeaf(v.Field(i).Type()) {
			continue
		}
		g := Group{Name: name}
		m.values(v.Field(i), name, "", u, &g)
		if len(g.Values) > 0 {
			groups = append(groups, g)
		}
	}
	return groups
}

func (m *Machine) values(v reflect.Value, path, label string, u quantity.System, g *Group) {
	switch {
	case doc.IsLeaf(v.Type()):
		text := leafText(v, u)
		if text != "" {
			g.Values = append(g.Values, Value{path, label, text, m.answers[path].Source})
		}
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			m.values(v.Index(i), fmt.Sprintf("%s[%d]", path, i), label, u, g)
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			name := doc.Name(v.Type().Field(i))
			if name == "" {
				continue
			}
			words := strings.ReplaceAll(name, "_", " ")
			if label != "" {
				words = label + " " + words
			}
			m.values(v.Field(i), path+"."+name, words, u, g)
		}
	}
}

func leafText(v reflect.Value, u quantity.System) string {
	switch x := v.Addr().Interface().(type) {
	case quantity.Quantity:
		if !x.Known() {
			return ""
		}
		return x.Show(u)
	case interface {
		Known() bool
		fmt.Stringer
	}:
		if !x.Known() {
			return ""
		}
		return x.String()
	}
	if v.Kind() == reflect.Bool {
		if v.Bool() {
			return "yes"
		}
		return "no"
	}
	if v.IsZero() {
		return ""
	}
	return fmt.Sprint(v.Interface())
}
