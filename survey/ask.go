package survey

import (
	"encoding"
	"fmt"
	"math/bits"
	"reflect"
	"strings"
	"sync"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

//go:generate go run firstfill/survey/internal/askgen

// A Ref names one answer, or one list of answers. Ask holds one for every
// question, so that a mistyped one doesn't compile.
type Ref interface {
	Path() string        // as it is written in the questionnaire
	Known(r Reader) bool // whether the question was answered
	Value(r Reader) any  // the answer
}

// A Reader gives the survey that an answer is read from, and may note which
// answers are. A *Survey reads itself and notes nothing.
type Reader interface {
	Reading(id int) *Survey
}

// Reading gives the survey itself.
func (s *Survey) Reading(int) *Survey { return s }

// A question is what every answer of one question has in common.
type question struct {
	path string
	id   int // place among all, in the questionnaire's order; list items carry their list's
	list bool
	ptr  func(*Survey) any // pointer to the answer
}

// Path is the answer's path.
func (f *question) Path() string { return f.path }

// fields are all answers by id. The generated Ask fills them in.
var fields []*question

// An Answer is the answer to one question.
type Answer[T any] struct {
	*question
	at *func(*Survey) *T
}

func answer[T any](path string, at func(*Survey) *T) Answer[T] {
	f := &question{path: path, id: len(fields), ptr: func(s *Survey) any { return at(s) }}
	fields = append(fields, f)
	return Answer[T]{f, &at}
}

// Of reads the answer; its zero value is not known.
func (a Answer[T]) Of(r Reader) T { return *(*a.at)(r.Reading(a.id)) }

// Value reads the answer without its type.
func (a Answer[T]) Value(r Reader) any { return a.Of(r) }

// Known says whether the question was answered.
func (a Answer[T]) Known(r Reader) bool { return known(a.ptr(r.Reading(a.id))) }

// Be is the setting that writes v as the answer.
func (a Answer[T]) Be(v T) Setting { return Setting{a.question, textOf(any(v))} }

func textOf(v any) string {
	if s, ok := v.(string); ok {
		return s
	}
	text, err := v.(encoding.TextMarshaler).MarshalText()
	if err != nil {
		panic("survey: " + err.Error())
	}
	return string(text)
}

func known(p any) bool {
	switch x := p.(type) {
	case interface{ Known() bool }:
		return x.Known()
	case *string:
		return *x != ""
	}
	v := reflect.ValueOf(p).Elem()
	return v.Kind() == reflect.Slice && !v.IsNil()
}

// A List is the answer to a question that asks for a list of groups. It is
// known when it holds items or was written as an empty list.
type List[T any] struct{ Answer[[]T] }

func list[T any](path string, at func(*Survey) *[]T) List[T] {
	l := List[T]{answer(path, at)}
	l.list = true
	return l
}

// Empty is the setting that leaves the list without items.
func (l List[T]) Empty() Setting { return Setting{l.question, doc.EmptyList} }

// Holds says whether an answer lies in the list's item i.
func (l List[T]) Holds(i int, a Ref) bool {
	return strings.HasPrefix(a.Path(), fmt.Sprintf("%s[%d].", l.path, i))
}

// A Member is one question of a list's items.
type Member[T, V any] struct {
	list *question
	name string
	in   *func(*Survey) *[]T
	at   *func(*T) *V
}

func member[T, V any](l List[T], name string, at func(*T) *V) Member[T, V] {
	return Member[T, V]{l.question, name, l.at, &at}
}

// At is the answer of the list's item i, which must be there when it is read.
func (m Member[T, V]) At(i int) Answer[V] {
	at := func(s *Survey) *V { return (*m.at)(&(*(*m.in)(s))[i]) }
	f := &question{path: fmt.Sprintf("%s[%d].%s", m.list.path, i, m.name), id: m.list.id, ptr: func(s *Survey) any { return at(s) }}
	return Answer[V]{f, &at}
}

// Paths gives the paths of answers.
func Paths(refs []Ref) []string {
	paths := make([]string, len(refs))
	for i, r := range refs {
		paths[i] = r.Path()
	}
	return paths
}

// A Bits is a set of answers.
type Bits [6]uint64

// Add puts the answer of an id into the set; ids outside it are no answers.
func (b *Bits) Add(id int) {
	if id >= 0 && id < 64*len(b) {
		b[id/64] |= 1 << (id % 64)
	}
}

// AddPath puts the answer, or the list, in which a path lies into the set.
func (b *Bits) AddPath(path string) {
	if id, ok := idOf(path); ok {
		b.Add(id)
	}
}

// Join puts all of another set in.
func (b *Bits) Join(o Bits) {
	for i := range b {
		b[i] |= o[i]
	}
}

// Meets says whether the two sets have an answer in common.
func (b Bits) Meets(o Bits) bool {
	for i := range b {
		if b[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

// Has says whether the answer of an id is in the set.
func (b Bits) Has(id int) bool { return id >= 0 && id < 64*len(b) && b[id/64]&(1<<(id%64)) != 0 }

// Each visits the set in the questionnaire's order.
func (b Bits) Each(visit func(id int)) {
	for i, w := range b {
		for ; w != 0; w &= w - 1 {
			visit(64*i + bits.TrailingZeros64(w))
		}
	}
}

// Paths lists the set's answers by path, in the questionnaire's order.
func (b Bits) Paths() []string {
	var paths []string
	b.Each(func(id int) { paths = append(paths, fields[id].path) })
	return paths
}

// Every is the set of all answers.
func Every() Bits { return every() }

var every = sync.OnceValue(func() (b Bits) {
	for _, f := range fields {
		b.Add(f.id)
	}
	return b
})

// idOf finds the id of the answer, or of the list, that a path names or lies in.
func idOf(path string) (int, bool) {
	if i := strings.IndexByte(path, '['); i >= 0 {
		path = path[:i]
	}
	f, ok := fieldByPath(path)
	if !ok {
		return 0, false
	}
	return f.id, true
}

// A Setting is one answer to be written.
type Setting struct {
	at   *question
	text string
}

// Path is the answer's path.
func (e Setting) Path() string { return e.at.path }

// ID is the answer's, for sets of answers.
func (e Setting) ID() int { return e.at.id }

// Text is the answer as it would be written.
func (e Setting) Text() string { return e.text }

// With returns a copy with answers written into it as if they stood in the
// questionnaire, and the set of answers that were changed. Only what is
// written can fail: the error says what can't be read.
func (s *Survey) With(settings ...Setting) (*Survey, Bits, error) {
	c := s.Clone()
	c.since = append(make([]later, 0, len(s.since)+len(settings)), s.since...)
	var changed Bits
	for _, e := range settings {
		changed.Add(e.at.id)
		if err := c.write(e); err != nil {
			return nil, changed, fmt.Errorf("%s: %w", e.at.path, err)
		}
	}
	return c, changed, nil
}

// A reading is a text as it was read once, and whether its uncertainty was
// written; parsed is its key. Remedies try the same texts again and again.
type (
	parsed  string
	reading struct {
		value  reflect.Value
		stated bool
	}
)

// read puts a setting's text into the answer, with its instrument's uncertainty.
func (s *Survey) read(e Setting) (stated bool, err error) {
	switch p := e.at.ptr(s).(type) {
	case *string:
		*p = e.text
		if f := byPath()[generic(e.at.path)]; f != nil && len(f.Choices) > 0 {
			m, err := f.choice(e.text)
			*p = m.choice
			return false, err
		}
		if (doc.Entry{Text: e.text}).Unknown() {
			*p = ""
		}
	case encoding.TextUnmarshaler:
		key := e.at.path + "=" + e.text
		if s.asked != nil {
			if was, ok := s.asked.Load(parsed(key)); ok {
				reflect.ValueOf(p).Elem().Set(was.(reading).value)
				return was.(reading).stated, nil
			}
			defer func() {
				if err == nil {
					v := reflect.New(reflect.TypeOf(p).Elem()).Elem()
					v.Set(reflect.ValueOf(p).Elem())
					s.asked.Store(parsed(key), reading{v, stated})
				}
			}()
		}
		if (doc.Entry{Text: e.text}).Unknown() {
			reflect.ValueOf(p).Elem().SetZero()
			return false, nil
		}
		if err := p.UnmarshalText([]byte(e.text)); err != nil {
			return false, err
		}
		if q, ok := p.(quantity.Adjustable); ok {
			if q.SpreadStated() {
				return true, nil
			}
			if tool, ok := Instruments[FieldAt(e.at.path).Tool]; ok {
				return false, q.AssumeSpread(tool.Spread)
			}
		}
	}
	return false, nil
}

// Settings turns answers by path into settings, in the order of paths.
func (s *Survey) Settings(set map[string]string) ([]Setting, error) {
	var settings []Setting
	for _, path := range sortedKeys(set) {
		f, ok := fieldByPath(path)
		if !ok && s.inList(path) {
			f, _ = item(path)
		}
		if f == nil {
			return nil, fmt.Errorf("%s: there is no such answer", path)
		}
		settings = append(settings, Setting{f, set[path]})
	}
	return settings, nil
}

// Uncertain returns the known quantities among a set of answers, with their
// uncertainties, in the questionnaire's order. They point into s, so s must be
// a clone if they are moved.
func (s *Survey) Uncertain(of Bits) []Input {
	var ins []Input
	add := func(path string, p any) {
		if text, ok := p.(*string); ok && len(s.among) > 0 {
			if ways := s.Among(path); ways != nil {
				ins = append(ins, Input{Path: path, Value: &either{text, ways, s.textAt(path)}})
			}
			return
		}
		q, ok := p.(quantity.Adjustable)
		if !ok || !q.Known() {
			return
		}
		in := Input{Path: path, Value: q, Stated: s.isStated(path)}
		if tool, ok := Instruments[FieldAt(path).Tool]; ok {
			in.Instrument, in.Spread = tool.Name, tool.Spread
		}
		if rough := q.Rough(); rough != "" {
			in.Instrument, in.Spread = "estimate of a "+q.Dimension(), rough
		}
		ins = append(ins, in)
	}
	of.Each(func(id int) {
		f := fields[id]
		if !f.list {
			if HasField(f.path) {
				add(f.path, f.ptr(s))
			}
			return
		}
		walk(reflect.ValueOf(f.ptr(s)).Elem(), f.path, func(path string, leaf reflect.Value) { add(path, leaf.Addr().Interface()) })
	})
	return ins
}

// Unread lists the answers of a set that aren't known, by path.
func (s *Survey) Unread(of Bits) []string {
	var paths []string
	of.Each(func(id int) {
		if f := fields[id]; HasField(f.path) && !known(f.ptr(s)) {
			paths = append(paths, f.path)
		}
	})
	return paths
}

// Named is the answer, or the list, of a path that comes from outside: a file
// or a command. A path that names none is a programmer's error.
func Named(path string) Ref {
	if f, ok := fieldByPath(path); ok {
		return named{f}
	}
	f, ok := item(path)
	if !ok {
		panic("survey: there is no answer " + path)
	}
	return named{f}
}

type named struct{ *question }

// Known says whether the question was answered.
func (n named) Known(r Reader) bool { return known(n.ptr(r.Reading(n.id))) }

// Value reads the answer without its type.
func (n named) Value(r Reader) any {
	return reflect.ValueOf(n.ptr(r.Reading(n.id))).Elem().Interface()
}
