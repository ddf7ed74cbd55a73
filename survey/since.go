package survey

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"firstfill/survey/quantity/doc"
)

// A later is an answer that came after the questionnaire was read.
type later struct {
	id         int
	path, text string
	stated     bool // its uncertainty was written too
	list       bool // an emptied list: the answers of its items are gone
}

// order puts a list before its items.
func (w later) order(o later) int {
	return cmp.Or(cmp.Compare(w.id, o.id), cmp.Compare(w.path, o.path))
}

// write puts a setting into the answer and notes it. What was written since is
// the survey's own.
func (s *Survey) write(e Setting) error {
	w := later{id: e.at.id, path: e.at.path, text: e.text, list: e.at.list}
	since := s.since
	if e.at.list {
		if e.text != doc.EmptyList {
			return fmt.Errorf("a list can only be emptied")
		}
		v := reflect.ValueOf(e.at.ptr(s)).Elem()
		v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		since = slices.DeleteFunc(since, func(o later) bool { return o.id == w.id })
	} else {
		stated, err := s.read(e)
		if err != nil {
			return err
		}
		w.stated = stated
	}
	at, again := slices.BinarySearchFunc(since, w, later.order)
	if again {
		since[at] = w
	} else {
		since = slices.Insert(since, at, w)
	}
	s.since, s.merged = since, nil
	return nil
}

// answers is everything written, by path. The map is shared: do not write to it.
func (s *Survey) answers() doc.Answers {
	if len(s.since) == 0 {
		return s.loaded
	}
	if s.merged == nil {
		s.merged = maps.Clone(s.loaded)
		for _, w := range s.since {
			if w.list {
				maps.DeleteFunc(s.merged, func(p string, _ doc.Entry) bool { return p != w.path && under(p, w.path) })
			}
			a := s.merged[w.path]
			a.Path, a.Text = w.path, w.text
			s.merged[w.path] = a
		}
	}
	return s.merged
}

// isStated says whether the surveyor wrote the answer's uncertainty.
func (s *Survey) isStated(path string) bool {
	for _, w := range s.since {
		if w.path == path {
			return w.stated
		}
	}
	return s.stated[path]
}

// Spell appends to a text what was written into a set of answers since the
// questionnaire was read: copies of one survey that spell alike hold the same
// answers there.
func (s *Survey) Spell(text []byte, of Bits) []byte {
	for _, w := range s.since {
		if of.Has(w.id) {
			text = binary.AppendUvarint(text, uint64(w.id))
			text = append(append(text, w.path...), '=')
			text = append(append(text, w.text...), 0)
		}
	}
	return text
}
