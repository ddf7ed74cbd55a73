package survey

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"firstfill/survey/quantity/doc"
)

// A Conflict is an answer that a returned form gives otherwise than the site has
// it. The site's stays; what the form says stands in its remark.
type Conflict struct {
	Path      string
	Has, Says string
	Lost      bool // the form's is a list, which a remark can't hold: it must be entered by hand
}

func (c Conflict) String() string {
	s := fmt.Sprintf("%s: %s; the questionnaire has %s, the returned form says %s", c.Path, Question(c.Path), c.Has, c.Says)
	if c.Lost {
		return s + "; the questionnaire's list stays, join the two by hand"
	}
	return s + "; the questionnaire's answer stays, and the form's is noted beside it"
}

// Merge says what a returned form changes in a site's questionnaire: what the
// site lacks, remarks that it lacks, and, as remarks, what the form answers
// otherwise. name is the form's, for those remarks. A form of another site or
// machine is refused.
func Merge(site, back *Survey, name string) (changes []Change, conflicts []Conflict, err error) {
	for _, path := range naming {
		a, b := site.Answer(path), back.Answer(path)
		if given(a) && given(b) && !strings.EqualFold(a.Text, b.Text) {
			return nil, nil, fmt.Errorf("this form is of another site: %s is %q there and %q in the questionnaire", Question(path), b.Text, a.Text)
		}
	}
	lists := map[string]bool{}
	for _, e := range back.Answers() {
		if list, _, ok := strings.Cut(e.Path, "["); ok {
			lists[list] = true
			continue
		}
		if e.Path == "survey" || e.Path == "choices" {
			continue
		}
		if HasField(e.Path) && FieldAt(e.Path).List {
			lists[e.Path] = e.Text == doc.EmptyList || lists[e.Path]
			continue
		}
		a := site.Answer(e.Path)
		switch {
		case !given(e):
			if note := joined(a.Note, e.Note); note != a.Note {
				text := a.Text
				if text == "" {
					text = "unknown"
				}
				changes = append(changes, Change{Path: e.Path, Value: text, Note: note})
			}
		case !given(a):
			changes = append(changes, Change{Path: e.Path, Value: e.Text, Note: joined(a.Note, e.Note), Source: e.Source})
		case site.same(back, e.Path):
			if note := joined(a.Note, e.Note); note != a.Note {
				changes = append(changes, Change{Path: e.Path, Value: a.Text, Note: note})
			}
		default:
			said := e.Text
			if e.Note != "" {
				said += " (" + e.Note + ")"
			}
			note := joined(a.Note, fmt.Sprintf("%s says %s", name, said))
			conflicts = append(conflicts, Conflict{Path: e.Path, Has: a.Text, Says: e.Text})
			if note != a.Note {
				changes = append(changes, Change{Path: e.Path, Value: a.Text, Note: note})
			}
		}
	}
	for _, list := range slices.Sorted(maps.Keys(lists)) {
		if !lists[list] {
			continue
		}
		was, is := site.items(list), back.items(list)
		switch a := site.Answer(list); {
		case len(was) == 0 && len(is) == 0 && a.Text == doc.EmptyList, equalItems(was, is) && len(is) > 0:
		case len(was) == 0 && a.Text != doc.EmptyList && len(is) == 0:
			changes = append(changes, Change{Path: list, Value: doc.EmptyList})
		case len(was) == 0 && a.Text != doc.EmptyList:
			changes = append(changes, Change{Path: list, Items: is})
		default:
			conflicts = append(conflicts, Conflict{Path: list, Has: itemCount(len(was)), Says: itemCount(len(is)), Lost: true})
		}
	}
	return changes, conflicts, nil
}

func itemCount(n int) string {
	if n == 1 {
		return "1 item"
	}
	return fmt.Sprintf("%d items", n)
}

// given says whether an answer was given.
func given(e doc.Entry) bool { return e.Text != "" && !e.Unknown() }

// same says whether two surveys give the same answer, however it is spelled.
func (s *Survey) same(o *Survey, path string) bool {
	if s.Answer(path).Text == o.Answer(path).Text {
		return true
	}
	a, okA := s.leaf(path)
	b, okB := o.leaf(path)
	if !okA || !okB {
		return false
	}
	// What can't be read, or is in the surveyor's own words, is the same only by its text.
	return known(a.Addr().Interface()) && known(b.Addr().Interface()) && fmt.Sprint(a.Interface()) == fmt.Sprint(b.Interface())
}

// joined adds a remark to those that stand beside an answer already.
func joined(has, more string) string {
	switch {
	case more == "" || strings.Contains(has, more):
		return has
	case has == "":
		return more
	}
	return has + "; " + more
}

// items are a list's items as written, each answer with its name in Path.
func (s *Survey) items(list string) [][]doc.Entry {
	var all [][]doc.Entry
	for _, e := range s.Answers() {
		var n int
		rest, ok := strings.CutPrefix(e.Path, list+"[")
		if !ok {
			continue
		}
		number, name, ok := strings.Cut(rest, "].")
		if _, err := fmt.Sscanf(number, "%d", &n); !ok || err != nil {
			continue
		}
		for len(all) <= n {
			all = append(all, nil)
		}
		e.Path = name
		all[n] = append(all[n], e)
	}
	return all
}

func equalItems(a, b [][]doc.Entry) bool {
	return slices.EqualFunc(a, b, func(x, y []doc.Entry) bool {
		return slices.EqualFunc(x, y, func(p, q doc.Entry) bool {
			return p.Path == q.Path && p.Text == q.Text && p.Note == q.Note && p.Source == q.Source
		})
	})
}
