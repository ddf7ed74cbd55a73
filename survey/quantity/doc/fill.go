package doc

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// maxItems bounds a list, so that "path[99999999]" can't ask for memory.
const maxItems = 500

// Answers holds the entries of one filled struct by path.
type Answers map[string]Entry

// Fill writes the entries into the struct that dst points to and returns them
// by path. Names come from yaml tags. A leaf is a type with UnmarshalText, or
// a string, int, float64 or bool. A leaf may also be written as a mapping with value, note
// and source. An entry that says unknown leaves the zero value.
// Every fault is returned; an entry with a fault leaves its field as it was.
func Fill(dst any, entries []Entry) (Answers, Problems) {
	answers := Answers{}
	var problems Problems
	root := reflect.ValueOf(dst).Elem()
	for _, e := range entries {
		if r := control(e.Path + e.Text + e.Note + e.Source); r != 0 {
			problems = append(problems, Problem{e.Pos, e.Path, fmt.Sprintf("a control character stands here (%U), which screens and printers would obey; take it out", r), Whole})
			continue
		}
		leaf, path, side, msg := locate(root, e.Path)
		if leaf.Kind() == reflect.Slice && path == e.Path && (e.Text == EmptyList || e.Unknown()) {
			if e.Text == EmptyList {
				leaf.Set(reflect.MakeSlice(leaf.Type(), 0, 0))
			}
			answers[path] = e
			continue
		}
		if msg != "" {
			problems = append(problems, Problem{e.Pos, e.Path, msg, Dropped})
			continue
		}
		kept := answers[path]
		kept.Path = path
		switch side {
		case "note":
			kept.Note = e.Text
		case "source":
			kept.Source = e.Text
		default:
			kept.Text = e.Text
			if e.Note != "" {
				kept.Note = e.Note
			}
			if e.Source != "" {
				kept.Source = e.Source
			}
			if side == "other" {
				kept.Text = "other: " + e.Text
			}
			if err := e.fill(leaf, path, kept.Text); err != nil {
				problems = append(problems, Problem{e.Pos, path, err.Error(), Kept})
			}
		}
		if kept.Pos.Line == 0 && kept.Pos.Cell == "" || side != "note" && side != "source" {
			kept.Pos = e.Pos
		}
		answers[path] = kept
	}
	problems.Sort()
	return answers, problems
}

// fill reads an entry's text into its leaf.
func (e Entry) fill(leaf reflect.Value, path, text string) error {
	if e.Unknown() {
		return nil
	}
	if e.Hidden && leaf.Kind() == reflect.String {
		return hidden(text)
	}
	err := set(leaf, text)
	if err != nil && e.Hidden {
		return hidden(text)
	}
	return err
}

func hidden(text string) error {
	return fmt.Errorf("what follows # is a comment in YAML, so this answer is empty; if it is the answer, write it in quotes, as %q, else put a blank behind the #", text)
}

// control finds a character that steers a terminal or turns the direction of
// what follows; zero when there is none. Tabs and line ends are blanks.
func control(text string) rune {
	for _, r := range text {
		switch {
		case r == '\t', r == '\n', r == '\r':
		case r < ' ', r >= 0x7f && r < 0xa0, r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069':
			return r
		}
	}
	return 0
}

var textType = reflect.TypeFor[encoding.TextUnmarshaler]()

// leaves remembers what IsLeaf found: asking a type for its methods is slow.
var leaves sync.Map // reflect.Type to bool

// IsLeaf says whether a type is one answer rather than a group of them.
func IsLeaf(t reflect.Type) bool {
	if known, ok := leaves.Load(t); ok {
		return known.(bool)
	}
	leaf := isLeaf(t)
	leaves.Store(t, leaf)
	return leaf
}

func isLeaf(t reflect.Type) bool {
	if reflect.PointerTo(t).Implements(textType) {
		return true
	}
	switch t.Kind() {
	case reflect.String, reflect.Int, reflect.Float64, reflect.Bool:
		return true
	}
	return false
}

// locate walks to the leaf that a path names. side is the rest of the path
// behind a leaf: value, note or source.
func locate(v reflect.Value, path string) (leaf reflect.Value, leafPath, side, msg string) {
	rest := path
	done := ""
	for rest != "" {
		if IsLeaf(v.Type()) {
			switch rest {
			case "value", "note", "source", "other":
				return v, done, rest, ""
			}
			return v, done, "", fmt.Sprintf("this is one answer; beside its value only note and source can be written, not %q", rest)
		}
		switch v.Kind() {
		case reflect.Slice:
			end := strings.IndexByte(rest, ']')
			if rest[0] != '[' || end < 0 {
				return v, done, "", "this is a list; write each item with a dash"
			}
			i, err := strconv.Atoi(rest[1:end])
			if err != nil || i < 0 || i >= maxItems {
				return v, done, "", fmt.Sprintf("a list holds at most %d items", maxItems)
			}
			for v.Len() <= i {
				v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
			}
			v = v.Index(i)
			done += rest[:end+1]
			rest = strings.TrimPrefix(rest[end+1:], ".")
		case reflect.Struct:
			name := rest
			if i := strings.IndexAny(rest, ".["); i >= 0 {
				name = rest[:i]
			}
			if rest[0] == '[' {
				return v, done, "", "a list stands here, one group of answers was expected"
			}
			f, names := field(v, name)
			if !f.IsValid() {
				return v, done, "", unknownName(name, names)
			}
			v = f
			if done != "" {
				done += "."
			}
			done += name
			rest = strings.TrimPrefix(rest[len(name):], ".")
		default:
			panic("doc: no answers can be read into " + v.Type().String())
		}
	}
	if !IsLeaf(v.Type()) {
		if v.Kind() == reflect.Slice {
			return v, done, "", "a single value stands here, a list was expected; write each item with a dash"
		}
		_, names := field(v, "")
		return v, done, "", "a single value stands here, a group was expected, with " + strings.Join(names, ", ")
	}
	return v, done, "", ""
}

// fieldNames remembers the yaml names of a struct's fields, in order.
var fieldNames sync.Map // reflect.Type to []string, empty where a field has no name

// field finds a struct's field by its yaml name and lists the names there are.
func field(v reflect.Value, name string) (found reflect.Value, names []string) {
	t := v.Type()
	known, ok := fieldNames.Load(t)
	if !ok {
		all := make([]string, t.NumField())
		for i := range all {
			all[i] = Name(t.Field(i))
		}
		known, _ = fieldNames.LoadOrStore(t, all)
	}
	for i, n := range known.([]string) {
		if n == "" {
			continue
		}
		if n == name {
			return v.Field(i), nil
		}
		names = append(names, n)
	}
	return found, names
}

// Name returns the yaml name of a struct field, empty when it has none.
func Name(f reflect.StructField) string {
	n, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	if n == "-" {
		return ""
	}
	return n
}

func unknownName(name string, names []string) string {
	if near := nearest(name, names); near != "" {
		return fmt.Sprintf("there is no answer of this name; did you mean %q?", near)
	}
	sorted := append([]string(nil), names...)
	sort.Strings(sorted)
	const most = 8
	more := ""
	if n := len(sorted) - most; n > 1 {
		sorted, more = sorted[:most], fmt.Sprintf(" and %d more (\"firstfill form\" shows them all)", n)
	}
	return "there is no answer of this name; there are " + strings.Join(sorted, ", ") + more
}

func nearest(name string, names []string) string {
	const longest = 60 // no name of ours is longer
	if len(name) > longest {
		return ""
	}
	best, at := "", 1+len(name)/3
	for _, n := range names {
		if d := distance(strings.ToLower(name), n); d <= at {
			best, at = n, d-1
		}
	}
	return best
}

// distance is the Levenshtein edit distance.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diag := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			diag, row[j] = row[j], min(row[j]+1, row[j-1]+1, diag+cost)
		}
	}
	return row[len(b)]
}

func set(leaf reflect.Value, text string) error {
	if u, ok := leaf.Addr().Interface().(encoding.TextUnmarshaler); ok {
		return u.UnmarshalText([]byte(text))
	}
	switch leaf.Kind() {
	case reflect.String:
		leaf.SetString(text)
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err != nil {
			return fmt.Errorf("%q is not a whole number; write it as \"3\"", text)
		}
		leaf.SetInt(int64(n))
	case reflect.Float64:
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%q is not a number; write it as \"0.8\"", text)
		}
		leaf.SetFloat(x)
	case reflect.Bool:
		switch strings.ToLower(text) {
		case "yes", "true":
			leaf.SetBool(true)
		case "no", "false":
			leaf.SetBool(false)
		default:
			return fmt.Errorf("%q is neither yes nor no", text)
		}
	}
	return nil
}
