package survey

import (
	"crypto/sha256"
	"encoding"
	"encoding/hex"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/go-playground/validator/v10"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Load reads a questionnaire written as YAML or JSON. file names it in
// messages. The problems are every fault found, sorted by place. With one that
// spoils the whole (doc.Whole) the survey isn't fit for checks; any other
// leaves its one answer unknown.
func Load(file string, data []byte) (*Survey, doc.Problems) {
	entries, problems := doc.ReadYAML(file, data)
	if entries == nil {
		return nil, problems
	}
	s, more := Assemble(file, entries)
	problems = append(problems, more...)
	problems.Sort()
	return s, problems
}

// Assemble builds a survey from entries, whatever they were written in.
func Assemble(file string, entries []doc.Entry) (*Survey, doc.Problems) {
	s := &Survey{stated: map[string]bool{}, asked: &sync.Map{}}
	var problems doc.Problems
	s.loaded, problems = doc.Fill(s, entries)
	for path := range s.answers() {
		if !HasField(path) && path != "survey" {
			problems = append(problems, doc.Problem{Pos: s.answers()[path].Pos, Path: path, Message: "this question doesn't arise here", Reach: doc.Dropped})
			delete(s.loaded, path)
		}
	}
	s.spread()
	problems = append(problems, s.choices()...)
	faulty := map[string]bool{}
	for i, p := range problems {
		faulty[p.Path] = true
		if needed[p.Path] {
			problems[i].Reach = doc.Whole
		}
	}
	for _, p := range s.shape(file) {
		if !faulty[p.Path] && s.inWords[p.Path] == "" { // what was written and can't be read isn't missing too
			problems = append(problems, p)
		}
	}
	return s, problems
}

// spread gives every measured answer without a stated uncertainty that of its instrument.
func (s *Survey) spread() {
	walk(reflect.ValueOf(s).Elem(), "", func(path string, leaf reflect.Value) {
		q, ok := leaf.Addr().Interface().(quantity.Adjustable)
		if !ok || !q.Known() || !HasField(path) {
			return
		}
		if s.stated[path] = q.SpreadStated(); s.stated[path] {
			return
		}
		if tool, ok := Instruments[FieldAt(path).Tool]; ok {
			if err := q.AssumeSpread(tool.Spread); err != nil {
				panic("survey: default uncertainty of " + path + ": " + err.Error())
			}
		}
	})
}

// shape runs the validator and turns its findings into problems with places.
func (s *Survey) shape(file string) doc.Problems {
	var problems doc.Problems
	for _, f := range doc.ShapeFaults(s) {
		_, path, _ := strings.Cut(f.Namespace(), ".")
		p := doc.Problem{Pos: s.place(file, path), Path: path, Message: shapeText(path, f)}
		if leaf, ok := s.leaf(path); ok && !needed[path] && leaf.Kind() != reflect.Slice {
			p.Reach = doc.Kept
			leaf.SetZero()
		}
		problems = append(problems, p)
	}
	return problems
}

// needed are the answers without which no site can be judged or filed.
var needed = map[string]bool{"survey": true, "site.name": true, "site.revision": true, "machine.key": true}

func shapeText(path string, f validator.FieldError) string {
	if path == "survey" {
		return fmt.Sprintf("the questionnaire must start with \"survey: %d\", the version of its form", Version)
	}
	found := fmt.Sprintf("%q", fmt.Sprint(f.Value()))
	switch f.Tag() {
	case "required":
		return fmt.Sprintf("this answer is needed; write it as %q", example(path))
	case "max":
		if f.Kind() == reflect.Slice {
			return fmt.Sprintf("this list is too long; at most %s items are read", f.Param())
		}
		return fmt.Sprintf("this text is too long; at most %s characters are read", f.Param())
	}
	return fmt.Sprintf("%s doesn't have the form wanted (%s); write it as %q", found, f.Tag(), example(path))
}

func example(path string) string {
	if f := FieldAt(path); f.Example != "" {
		return f.Example
	}
	return "..."
}

// place finds where an answer, or else its nearest written parent, stands.
func (s *Survey) place(file, path string) doc.Pos {
	for p := path; p != ""; p = parent(p) {
		if a, ok := s.answers()[p]; ok {
			return a.Pos
		}
		var first *doc.Pos
		for q, a := range s.answers() {
			if under(q, p) && (first == nil || a.Pos.Line < first.Line || a.Pos.Line == first.Line && a.Pos.Col < first.Col) {
				first = &a.Pos
			}
		}
		if first != nil {
			return *first
		}
	}
	return doc.Pos{File: file, Line: 1, Col: 1}
}

func parent(path string) string {
	i := strings.LastIndexAny(path, ".[")
	if i < 0 {
		return ""
	}
	return path[:i]
}

// Clone returns a copy that shares nothing that a check or a remedy changes.
func (s *Survey) Clone() *Survey {
	c := *s // what was read is never written after assembly but by Apply, which copies
	for _, f := range lists() {
		own := reflect.ValueOf(f.ptr(&c)).Elem()
		if n := own.Len(); n > 0 {
			items := reflect.MakeSlice(own.Type(), n, n)
			reflect.Copy(items, own)
			own.Set(items)
		}
	}
	return &c
}

// Apply writes answers into the survey as if they stood in the questionnaire:
// "unknown" forgets an answer, "[]" empties a list. Nothing is written when one
// of them can't be read.
func (s *Survey) Apply(set map[string]string) error {
	merged := map[string]doc.Entry{}
	for p, a := range s.answers() {
		merged[p] = a
	}
	for list, text := range set {
		if text == doc.EmptyList {
			for p := range merged {
				if under(p, list) {
					delete(merged, p)
				}
			}
		}
	}
	for p, text := range set {
		a := merged[p]
		a.Path, a.Text = p, text
		merged[p] = a
	}
	entries := make([]doc.Entry, 0, len(merged))
	for p, a := range merged {
		a.Path = p
		entries = append(entries, a)
	}
	slices.SortFunc(entries, func(a, b doc.Entry) int { return comparePaths(a.Path, b.Path) })
	next, problems := Assemble("set", entries)
	problems = slices.DeleteFunc(problems, func(p doc.Problem) bool { // what couldn't be read before stays as it is
		_, ours := set[p.Path]
		return p.Reach != doc.Whole && !ours
	})
	if err := problems.Err(); err != nil {
		return err
	}
	*s = *next
	return nil
}

// comparePaths orders paths so that list items come in their own order.
func comparePaths(a, b string) int {
	if len(a) != len(b) && strings.Contains(a, "[") && strings.Contains(b, "[") && generic(a) == generic(b) {
		return len(a) - len(b)
	}
	return strings.Compare(a, b)
}

// Known says whether the answer at a path was given. A list is known when it
// has items or was written as an empty list.
func (s *Survey) Known(path string) bool {
	leaf, ok := s.leaf(path)
	if !ok {
		return false
	}
	switch x := leaf.Addr().Interface().(type) {
	case interface{ Known() bool }:
		return x.Known()
	}
	if leaf.Kind() == reflect.Slice {
		return !leaf.IsNil()
	}
	return !leaf.IsZero()
}

// leaf finds an answer or a list.
func (s *Survey) leaf(path string) (reflect.Value, bool) {
	if at, ok := places()[path]; ok {
		return reflect.ValueOf(s).Elem().FieldByIndex(at), true
	}
	if f, ok := item(path); ok && s.inList(path) {
		return reflect.ValueOf(f.ptr(s)).Elem(), true
	}
	return reflect.Value{}, false
}

// inList says whether a path names an item that a list has.
func (s *Survey) inList(path string) bool {
	list, rest, ok := strings.Cut(path, "[")
	at, known := places()[list]
	if !ok || !known {
		return false
	}
	n, _, ok := strings.Cut(rest, "]")
	i, err := strconv.Atoi(n)
	return ok && err == nil && i >= 0 && i < reflect.ValueOf(s).Elem().FieldByIndex(at).Len()
}

// Readable says whether a text can be read as the answer at a path; the error says how to write it.
func Readable(path, text string) error {
	if !HasField(path) {
		return fmt.Errorf("there is no answer of this name")
	}
	f := FieldAt(path)
	if f.List {
		if text != doc.EmptyList {
			return fmt.Errorf("this is a list; write its items into the questionnaire by hand, or [] when there are none")
		}
		return nil
	}
	if (doc.Entry{Text: text}).Unknown() {
		return nil
	}
	if len(f.Choices) > 0 {
		_, err := f.choice(text)
		return err
	}
	if u, ok := f.Zero().(encoding.TextUnmarshaler); ok {
		return u.UnmarshalText([]byte(text))
	}
	return nil
}

// Answer returns what was written at a path; the zero entry when nothing was.
func (s *Survey) Answer(path string) doc.Entry { return s.answers()[path] }

// Answers returns everything written, in the order of paths.
func (s *Survey) Answers() []doc.Entry {
	list := make([]doc.Entry, 0, len(s.answers()))
	for _, a := range s.answers() {
		list = append(list, a)
	}
	slices.SortFunc(list, func(a, b doc.Entry) int { return comparePaths(a.Path, b.Path) })
	return list
}

// Value is an answer as it is written into a box: a reading in the units of one
// system alone and without its uncertainty, anything else as answered.
func (s *Survey) Value(path string, u quantity.System) string {
	leaf, ok := s.leaf(path)
	if !ok {
		return ""
	}
	q, ok := leaf.Addr().Interface().(interface{ US() string })
	if !ok {
		return s.answers()[path].Text
	}
	if si, ok := q.(interface{ SI() string }); ok && u == quantity.SI {
		return si.SI()
	}
	return q.US()
}

// ReadingText shows an answer with the uncertainty that applies to it: "62 psi ± 2 psi".
func (s *Survey) ReadingText(path string, u quantity.System) string {
	leaf, ok := s.leaf(path)
	if !ok {
		return ""
	}
	q, ok := leaf.Addr().Interface().(quantity.Quantity)
	if !ok {
		return s.answers()[path].Text
	}
	text := q.Show(u)
	if sp := q.SpreadText(u); sp != "" && !s.isStated(path) {
		text += " " + sp
	}
	return text
}

// plainText is an answer's text, out of a closed list as the list has it.
func (s *Survey) plainText(a doc.Entry) string {
	if f := byPath()[generic(a.Path)]; f != nil && len(f.Choices) > 0 {
		if m, err := f.choice(a.Text); err == nil && m.among == nil && m.words == "" {
			return m.choice
		}
	}
	return a.Text
}

// Holds says whether an answer was written as a text, as another word for it,
// or as the same value in other units.
func (s *Survey) Holds(path, text string) bool {
	a, ok := s.answers()[path]
	return ok && (a.Text == text || s.plainText(a) == text || sameValue(path, a.Text, text))
}

// sameValue says whether two texts of a quantity are the same value, of neither
// of which an uncertainty is written.
func sameValue(path, a, b string) bool {
	if !HasField(path) || strings.Contains(a+b, "±") {
		return false
	}
	if _, rough := quantity.Unroughed(a); rough {
		return false
	}
	type based interface {
		encoding.TextUnmarshaler
		Base() float64
		Known() bool
	}
	x, ok := FieldAt(path).Zero().(based)
	if !ok || x.UnmarshalText([]byte(a)) != nil {
		return false
	}
	y := FieldAt(path).Zero().(based)
	if y.UnmarshalText([]byte(b)) != nil || !x.Known() || !y.Known() {
		return false
	}
	return math.Abs(x.Base()-y.Base()) <= 1e-9*math.Max(math.Abs(x.Base()), math.Abs(y.Base()))
}

// Digest is a short fingerprint of the answers, notes included; the order and layout
// of the file don't matter, nor do answers written as unknown.
func (s *Survey) Digest() string {
	h := sha256.New()
	for _, a := range s.Answers() {
		if a.Unknown() || a.Text == "" || a.Path == "site.revision" {
			continue
		}
		fmt.Fprintf(h, "%q %q %q\n", a.Path, s.plainText(a), a.Note)
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}
