package specs

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"sync"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// A Fact is one thing that a requirement sheet may state.
type Fact struct {
	Path string // "water.hot.temperature_min"
	kind reflect.Type
	tag  reflect.StructTag
}

// Name is the fact in words: "water, hot: temperature min".
func (f Fact) Name() string {
	parts := strings.Split(f.Path, ".")
	last := strings.ReplaceAll(parts[len(parts)-1], "_", " ")
	if len(parts) == 1 {
		return last
	}
	return strings.ReplaceAll(strings.Join(parts[:len(parts)-1], ", "), "_", " ") + ": " + last
}

// YesNo says whether the fact is a yes or a no.
func (f Fact) YesNo() bool { return f.kind.Kind() == reflect.Bool }

// Unsaid are the facts that the sheet doesn't state, in its order: left out, or
// written as unknown. What is written as none is stated, and so is what has a
// usual value that is taken and told.
func (m *Machine) Unsaid() []Fact {
	if m.complete || m.answers == nil { // made in code, it states all that it holds
		return nil
	}
	var fs []Fact
	m.facts(reflect.ValueOf(m).Elem(), "", func(f Fact) {
		if a, ok := m.answers[f.Path]; f.tag.Get("absent") == "" && (!ok || a.Unknown()) {
			fs = append(fs, f)
		}
	})
	return fs
}

// facts visits what a sheet may state that a check may ask for.
func (m *Machine) facts(v reflect.Value, path string, visit func(Fact)) {
	for i := range v.NumField() {
		sf := v.Type().Field(i)
		name := doc.Name(sf)
		if name == "" || name == "extras" {
			continue
		}
		if path != "" {
			name = path + "." + name
		}
		switch {
		case doc.IsLeaf(sf.Type):
			if path != "" { // names and notes of the sheet itself are no facts
				visit(Fact{name, sf.Type, sf.Tag})
			}
		case sf.Type.Kind() == reflect.Slice:
			for n := range v.Field(i).Len() {
				m.facts(v.Field(i).Index(n), fmt.Sprintf("%s[%d]", name, n), visit)
			}
		default:
			m.facts(v.Field(i), name, visit)
		}
	}
}

// StandIns are texts that a fact might read, far apart: a verdict that isn't the
// same with all of them hangs on the fact.
func (f Fact) StandIns() []string {
	if q, ok := reflect.New(f.kind).Interface().(quantity.Adjustable); ok {
		unit := q.Units()[0]
		return []string{"0.001 " + unit, "1000000 " + unit}
	}
	switch reflect.New(f.kind).Interface().(type) {
	case *quantity.PipeSize:
		return []string{"1/4 in", "4 in"}
	}
	switch f.kind.Kind() {
	case reflect.Bool:
		return []string{"yes"}
	case reflect.Int, reflect.Float64:
		return []string{"1"}
	}
	if m := oneOf.FindStringSubmatch(f.tag.Get("validate")); m != nil {
		return strings.Fields(m[1])
	}
	return []string{"to be told"}
}

// nothing says whether an entry states that there is none of a quantity, a plug
// or a thread: no limit, no such part.
func nothing(e doc.Entry, f Fact) bool {
	if !strings.EqualFold(e.Text, "none") {
		return false
	}
	_, quantity := reflect.New(f.kind).Interface().(interface{ Known() bool })
	return quantity || f.kind.Kind() == reflect.String && f.tag.Get("validate") == "max=40"
}

// withoutNone parts the entries that state none of a quantity from those that
// are read into the sheet, whose supply options stand.
func (m *Machine) withoutNone(entries []doc.Entry) (read, none []doc.Entry) {
	var kinds map[string]Fact
	for _, e := range entries {
		path := strings.TrimSuffix(e.Path, ".value")
		if strings.EqualFold(e.Text, "none") {
			if kinds == nil {
				kinds = map[string]Fact{}
				m.facts(reflect.ValueOf(m).Elem(), "", func(f Fact) { kinds[f.Path] = f })
			}
			if fact, ok := kinds[path]; ok && nothing(e, fact) {
				none = append(none, e)
				continue
			}
		}
		if !strings.HasSuffix(e.Path, ".note") && !strings.HasSuffix(e.Path, ".source") {
			for _, c := range m.choicesAt(path) { // in any case
				if sameWord(c, e.Text) {
					e.Text = c
				}
			}
		}
		read = append(read, e)
	}
	return read, none
}

// fill reads entries into an empty sheet.
func (m *Machine) fill(entries []doc.Entry) doc.Problems {
	for _, e := range entries { // as many supply options as are written
		var n int
		if _, err := fmt.Sscanf(e.Path, "power.supplies[%d]", &n); err == nil && n >= 0 && n < 12 {
			for len(m.Power.Supplies) <= n {
				m.Power.Supplies = append(m.Power.Supplies, Supply{})
			}
		}
	}
	read, none := m.withoutNone(entries)
	m.Power.Supplies = nil
	answers, problems := doc.Fill(m, read)
	for _, e := range none {
		path := strings.TrimSuffix(e.Path, ".value")
		a := answers[path]
		a.Path, a.Text, a.Pos = path, e.Text, e.Pos
		answers[path] = a
	}
	m.answers = answers
	return problems
}

// choicesAt are the words of a value's closed list, nil where it has none.
func (m *Machine) choicesAt(path string) []string {
	return closedLists()[indexed.ReplaceAllString(path, "")]
}

var indexed = regexp.MustCompile(`\[[^\]]*\]`)

// closedLists are the words of every closed list of a sheet, by the path of its
// value without the numbers of its supply options.
var closedLists = sync.OnceValue(func() map[string][]string {
	lists := map[string][]string{}
	var visit func(t reflect.Type, path string)
	visit = func(t reflect.Type, path string) {
		for i := range t.NumField() {
			f := t.Field(i)
			name := doc.Name(f)
			if name == "" {
				continue
			}
			if path != "" {
				name = path + "." + name
			}
			if m := oneOf.FindStringSubmatch(f.Tag.Get("validate")); m != nil {
				lists[name] = strings.Fields(m[1])
			}
			inner := f.Type
			if inner.Kind() == reflect.Slice {
				inner = inner.Elem()
			}
			if inner.Kind() == reflect.Struct && !doc.IsLeaf(inner) {
				visit(inner, name)
			}
		}
	}
	visit(reflect.TypeFor[Machine](), "")
	return lists
})
