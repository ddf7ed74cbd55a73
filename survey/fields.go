package survey

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// A Field is one question of the questionnaire, as its struct tags declare it.
// Within a list, Path holds "[]" for the item.
type Field struct {
	Path    string // "water.cold.static_pressure", "space.path[].clear_width"
	Section string // first part of the path
	Name    string // last part of the path
	Ask     string // the question
	How     string // where and how to measure
	Example string
	Tool    string       // key of Instruments, empty when nothing is measured
	Sane    string       // plausible range, "10 psi..150 psi"
	For     []string     // machine traits that raise the question; empty: all
	Walk    string       // station of the walk at which it is answered
	By      Part         // whose part of the form asks it
	Told    bool         // for those who come; no verdict hangs on it
	Choices []string     // accepted answers, if they are a closed list
	Needed  bool         // without it the questionnaire can't be read
	List    bool         // a list of groups; its members follow
	Type    reflect.Type // of the answer

	askSI, howSI, exampleSI string // for those who measure in SI, where they differ
}

// In is the question for those who measure in a system of units: its example
// in their units, and how it is measured with their tools.
func (f Field) In(u quantity.System) Field {
	if u != quantity.SI {
		return f
	}
	f.Ask, f.How = cmp.Or(f.askSI, f.Ask), cmp.Or(f.howSI, f.How)
	f.Example = cmp.Or(f.exampleSI, siExample(f), f.Example)
	return f
}

// siExample writes a question's example as metric trades do: runs in metres,
// what a heater gives and what is drawn from it in litres an hour. It is empty
// for what has no unit.
func siExample(f Field) string {
	switch q := f.Zero().(type) {
	case *quantity.Length:
		if strings.HasSuffix(f.Example, " ft") && q.UnmarshalText([]byte(f.Example)) == nil {
			return strconv.FormatFloat(math.Round(10*q.In(quantity.Metre))/10, 'f', -1, 64) + " m"
		}
	case *quantity.Flow:
		if strings.HasSuffix(f.Example, " gph") && q.UnmarshalText([]byte(f.Example)) == nil {
			return strconv.FormatFloat(math.Round(q.In(quantity.LPH)), 'f', -1, 64) + " L/h"
		}
	}
	q, ok := f.Zero().(quantity.Adjustable)
	if !ok || f.Example == "" || q.UnmarshalText([]byte(f.Example)) != nil {
		return ""
	}
	return q.(interface{ SI() string }).SI()
}

// Stations lists the stations of the walk in order, with their names.
var Stations = []struct{ Key, Name string }{
	{"office", "Before you go"},
	{"way", "The way in"},
	{"counter", "At the bar"},
	{"drain", "Drain"},
	{"water", "Water"},
	{"heater", "At the water heater"},
	{"panel", "At the panel"},
}

// Fields lists every question in the order of the questionnaire.
var Fields = sync.OnceValue(func() []Field {
	return collect(reflect.TypeFor[Survey](), Field{})
})

var byPath = sync.OnceValue(func() map[string]*Field {
	m := map[string]*Field{}
	fs := Fields()
	for i := range fs {
		m[fs[i].Path] = &fs[i]
	}
	return m
})

func collect(t reflect.Type, above Field) []Field {
	var fs []Field
	for i := range t.NumField() {
		sf := t.Field(i)
		name := doc.Name(sf)
		if name == "" {
			continue
		}
		f := above
		f.Name, f.Type = name, sf.Type
		f.Path = name
		if above.Path != "" {
			f.Path = above.Path + "." + name
		} else {
			f.Section = name
		}
		tag := sf.Tag.Get
		group := above.Ask
		f.Ask, f.How, f.Example, f.Tool, f.Sane = tag("ask"), tag("how"), tag("eg"), tag("tool"), tag("sane")
		if w := tag("walk"); w != "" {
			f.Walk = w
		}
		f.Told = tag("weight") == "told"
		f.askSI, f.howSI, f.exampleSI = tag("ask_si"), tag("how_si"), tag("eg_si")
		if by := tag("by"); by != "" {
			f.By = Part(by)
		}
		if tr := tag("for"); tr != "" {
			f.For = strings.Split(tr, ",") // instead of the group's
		}
		f.Needed = strings.Contains(tag("validate"), "required")
		f.Choices = choices(tag("validate"))
		switch {
		case doc.IsLeaf(sf.Type):
			if group != "" && above.Path == "water.cold" || above.Path == "water.hot" {
				f.Ask = group + ": " + lower(f.Ask)
			}
			if only := slices.Contains(f.For, "hot-only") && above.Path == "water.cold" || slices.Contains(f.For, "cold-only") && above.Path == "water.hot"; only {
				continue
			}
			f.List = false
			fs = append(fs, f)
		case sf.Type.Kind() == reflect.Slice:
			f.List = true
			fs = append(fs, f)
			item := f
			item.Path += "[]"
			item.List = false
			fs = append(fs, collect(sf.Type.Elem(), item)...)
		default:
			fs = append(fs, collect(sf.Type, f)...)
		}
	}
	return fs
}

var oneOf = regexp.MustCompile(`oneof=([^,]*)`)
var oneOfWord = regexp.MustCompile(`'[^']*'|\S+`)

func choices(validate string) []string {
	m := oneOf.FindStringSubmatch(validate)
	if m == nil {
		return nil
	}
	words := oneOfWord.FindAllString(m[1], -1)
	for i, w := range words {
		words[i] = strings.Trim(w, "'")
	}
	return words
}

func lower(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

var index = regexp.MustCompile(`\[\d+\]`)

// generic is a path with the indices of its lists left out.
func generic(path string) string {
	if !strings.Contains(path, "[") {
		return path
	}
	var b strings.Builder
	for {
		name, rest, ok := strings.Cut(path, "[")
		b.WriteString(name)
		if !ok {
			return b.String()
		}
		b.WriteByte('[')
		path = strings.TrimLeft(rest, "0123456789")
		if !strings.HasPrefix(path, "]") { // it isn't a number
			path = rest
		}
	}
}

// FieldAt returns the field that a path names; list indices are ignored. An
// unknown path is a programmer's error.
func FieldAt(path string) Field {
	f, ok := byPath()[generic(path)]
	if !ok {
		panic("survey: there is no field " + path)
	}
	return *f
}

// HasField says whether a path names a question or a list of questions.
func HasField(path string) bool {
	_, ok := byPath()[generic(path)]
	return ok
}

// Question returns the question that a path names, lower case, with the item's number in a list.
func Question(path string) string {
	f := FieldAt(path)
	q := lower(f.Ask)
	if m := index.FindString(path); m != "" {
		list := FieldAt(path[:strings.Index(path, "[")])
		n := 0
		fmt.Sscanf(m, "[%d]", &n)
		q = fmt.Sprintf("%s (%s, item %d)", q, lower(list.Ask), n+1)
	}
	return strings.TrimSuffix(q, "?")
}

// An Instrument is what an answer is measured with, and the half-width of
// uncertainty taken when none is written.
type Instrument struct {
	Name   string
	Spread string // as quantity's AssumeSpread reads it
	Source string
}

// Instruments by key. Users override each by writing "± …" behind the value.
var Instruments = map[string]Instrument{
	"gauge":       {"pressure gauge", "2 psi", "common practice, no source"},
	"thermometer": {"thermometer", "3 °F", "FDA Food Code 2022 4-203.12, ±3 °F (confirmed in a state copy)"},
	"tape":        {"tape measure", "1/8 in", "common practice, no source"},
	"tape-long":   {"tape along a run", "2 %", "common practice, no source"},
	"level":       {"level and tape", "1/8 in", "common practice, no source"},
	"voltmeter":   {"voltmeter", "1 %", "common practice, no source"},
	"bucket":      {"jug and watch", "5 %", "common practice, no source"},
	"strip":       {"test strip", "10 %", "common practice, no source"},
	"tds-meter":   {"conductivity meter", "5 %", "common practice, no source"},
}

// InstrumentSource is where the uncertainty of an instrument, by its name, comes
// from; that of an estimate, too.
func InstrumentSource(name string) string {
	for _, i := range Instruments {
		if i.Name == name {
			return i.Source
		}
	}
	return "common practice, no source"
}

// An Input is one adjustable answer of a survey.
type Input struct {
	Path       string
	Value      quantity.Adjustable
	Instrument string // name, when its default uncertainty applies
	Spread     string // that default, as text
	Stated     bool   // the uncertainty was written by the surveyor
}

// Set moves the answer by k half-widths and returns the function that puts it back.
func (in Input) Set(k float64) (undo func()) { return in.Value.Moved(k) }

// places tells where in the struct each answer and each list lies, list items left out.
var places = sync.OnceValue(func() map[string][]int {
	m := map[string][]int{}
	locate(reflect.TypeFor[Survey](), "", nil, m)
	return m
})

func locate(t reflect.Type, path string, at []int, m map[string][]int) {
	for i := range t.NumField() {
		f := t.Field(i)
		name := doc.Name(f)
		if name == "" {
			continue
		}
		sub := name
		if path != "" {
			sub = path + "." + name
		}
		here := append(slices.Clone(at), i)
		if doc.IsLeaf(f.Type) || f.Type.Kind() == reflect.Slice {
			m[sub] = here
		} else {
			locate(f.Type, sub, here, m)
		}
	}
}

// under says whether a path is the given one or lies below it.
func under(path, group string) bool {
	return path == group || strings.HasPrefix(path, group+".") || strings.HasPrefix(path, group+"[")
}

// walk visits every leaf of a struct with its path.
func walk(v reflect.Value, path string, visit func(path string, leaf reflect.Value)) {
	if doc.IsLeaf(v.Type()) {
		visit(path, v)
		return
	}
	switch v.Kind() {
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name := doc.Name(v.Type().Field(i))
			if name == "" {
				continue
			}
			sub := name
			if path != "" {
				sub = path + "." + name
			}
			walk(v.Field(i), sub, visit)
		}
	}
}

// Station returns the name of the station of the walk at which an answer is given.
func Station(path string) string {
	for _, st := range Stations {
		if st.Key == station(path) {
			return st.Name
		}
	}
	return ""
}

// station is the key of an answer's station; the way in is walked last.
func station(path string) string { return FieldAt(path).Walk }

// Order ranks an answer in walking order: by station, then by the questionnaire.
func Order(path string) int {
	key := station(path)
	rank := slices.IndexFunc(Stations, func(s struct{ Key, Name string }) bool { return s.Key == key })
	plain := generic(path)
	fs := Fields()
	return rank*len(fs) + slices.IndexFunc(fs, func(f Field) bool { return f.Path == plain })
}

// fieldByPath finds an answer or a list by its path, list items left out.
func fieldByPath(path string) (*question, bool) {
	f, ok := fieldIndex()[path]
	return f, ok
}

var fieldIndex = sync.OnceValue(func() map[string]*question {
	m := make(map[string]*question, len(fields))
	for _, f := range fields {
		m[f.path] = f
	}
	return m
})

// lists are the questions that ask for a list.
var lists = sync.OnceValue(func() []*question {
	return slices.DeleteFunc(slices.Clone(fields), func(f *question) bool { return !f.list })
})

// An ofItem is a question of a list's items: the list, and which field of an item it is.
type ofItem struct {
	list *question
	at   int
}

// members are the questions of lists' items, by their paths with "[]".
var members = sync.OnceValue(func() map[string]ofItem {
	m := map[string]ofItem{}
	for _, l := range lists() {
		t := reflect.TypeOf(l.ptr(&Survey{})).Elem().Elem()
		for i := range t.NumField() {
			if name := doc.Name(t.Field(i)); name != "" {
				m[l.path+"[]."+name] = ofItem{l, i}
			}
		}
	}
	return m
})

// item is the question that a path such as "space.path[1].kind" names. Where
// the list has no such item its answer is not known.
func item(path string) (*question, bool) {
	list, rest, _ := strings.Cut(path, "[")
	number, name, ok := strings.Cut(rest, "].")
	n, err := strconv.Atoi(number)
	m, known := members()[list+"[]."+name]
	if !ok || err != nil || n < 0 || !known {
		return nil, false
	}
	return &question{path: path, id: m.list.id, ptr: func(s *Survey) any {
		items := reflect.ValueOf(m.list.ptr(s)).Elem()
		if n >= items.Len() {
			return reflect.New(items.Type().Elem().Field(m.at).Type).Interface()
		}
		return items.Index(n).Field(m.at).Addr().Interface()
	}}, true
}

func sortedKeys(m map[string]string) []string { return slices.Sorted(maps.Keys(m)) }

// Traits are the traits by which a site raises questions: a machine's, with
// the electrical code enforced in the place of the machine's home code.
func (c Codes) Traits(machine []string) []string {
	code := "iec"
	switch {
	case c.Electrical == "":
		return machine
	case strings.HasPrefix(c.Electrical, "nec-"):
		code = "nec"
	}
	traits := slices.DeleteFunc(slices.Clone(machine), func(t string) bool { return t == "nec" || t == "iec" })
	return append(traits, code)
}
