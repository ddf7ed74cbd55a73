package survey

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// A meaning is what a text says as the answer to a question with a closed list
// of answers: one of them, a word that may be several of them, or something
// else in the surveyor's own words.
type meaning struct {
	choice string   // as it stands in the list; of several, the one taken
	among  []string // what the word may mean beside that
	words  string   // own words; no answer of the list
}

// choice reads a text as one of the question's answers. Letter case, blanks,
// dashes and inch marks don't matter, and the trade's other words for an
// answer are read too; see synonyms.
func (f Field) choice(text string) (meaning, error) {
	if (doc.Entry{Text: text}).Unknown() || slices.Contains(f.Choices, text) {
		if (doc.Entry{Text: text}).Unknown() && !slices.Contains(f.Choices, text) {
			text = ""
		}
		return meaning{choice: text}, nil
	}
	if m, ok := vocabulary(generic(f.Path))[folded(text)]; ok {
		return m, nil
	}
	if head, rest := cutOther(text); head {
		words := strings.Trim(rest, " \t:-–—,;()")
		switch {
		case slices.Contains(f.Choices, otherWord):
			return meaning{choice: otherWord}, nil
		case words != "":
			return meaning{words: words}, nil
		}
		return meaning{}, fmt.Errorf("say behind it what it is, as \"other: see the photo\"")
	}
	return meaning{}, fmt.Errorf("%q is not one of the answers; write %s, unknown, or your own words behind other, as %q",
		text, strings.Join(f.Choices, ", "), otherWord+": "+text)
}

// otherWord begins an answer in the surveyor's own words.
const otherWord = "other"

// cutOther says whether a text begins with the word "other", and what follows.
func cutOther(text string) (head bool, rest string) {
	if len(text) < len(otherWord) || !strings.EqualFold(text[:len(otherWord)], otherWord) {
		return false, ""
	}
	rest = text[len(otherWord):]
	return strings.IndexFunc(rest, unicode.IsLetter) != 0, rest
}

// folded is a text without what doesn't matter in a word: letter case, blanks,
// dashes, marks, and inches behind a number.
func folded(text string) string {
	text = strings.ToLower(strings.NewReplacer("½", "1/2", "¾", "3/4", "⅜", "3/8", "″", `"`, "”", `"`).Replace(text))
	words := strings.FieldsFunc(text, func(r rune) bool { return r != '/' && r != '.' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	var b strings.Builder
	for i, w := range words {
		if i > 0 && (w == "in" || w == "inch") && strings.IndexFunc(words[i-1], unicode.IsDigit) == 0 {
			continue
		}
		b.WriteString(strings.ReplaceAll(w, ".", ""))
	}
	return b.String()
}

// vocabularies holds the folded words of each question, made when it is first asked for.
var vocabularies sync.Map // generic path to map[string]meaning

// vocabulary is every word that means an answer of a question, folded.
func vocabulary(path string) map[string]meaning {
	if v, ok := vocabularies.Load(path); ok {
		return v.(map[string]meaning)
	}
	f := byPath()[path]
	words := map[string]meaning{}
	for _, s := range synonyms {
		if !s.counts(f.Choices, path) {
			continue
		}
		for w := range strings.SplitSeq(s.words, ",") {
			m := meaning{choice: s.choice}
			if s.or != "" {
				m.among = strings.Fields(s.or)
			}
			words[folded(w)] = m
		}
	}
	for _, c := range f.Choices {
		words[folded(c)] = meaning{choice: c}
	}
	vocabularies.Store(path, words)
	return words
}

// OtherWords are the trade's other words for the answers of a question, as the
// table writes them.
func (f Field) OtherWords() (words []string) {
	path := generic(f.Path)
	for _, s := range synonyms {
		if s.counts(f.Choices, path) {
			for w := range strings.SplitSeq(s.words, ",") {
				words = append(words, strings.TrimSpace(w))
			}
		}
	}
	return words
}

// choices reads every answer to a question with a closed list. What can't be
// read is a problem, and the answer unknown.
func (s *Survey) choices() doc.Problems {
	var problems doc.Problems
	for path, a := range s.loaded {
		f, ok := byPath()[generic(path)]
		if !ok || len(f.Choices) == 0 {
			continue
		}
		leaf, ok := s.leaf(path)
		if !ok || leaf.String() == "" {
			continue
		}
		m, err := f.choice(leaf.String())
		if err != nil {
			problems = append(problems, doc.Problem{Pos: a.Pos, Path: path, Message: err.Error(), Reach: doc.Kept})
		}
		leaf.SetString(m.choice)
		switch {
		case m.words != "":
			s.inWords = put(s.inWords, path, m.words)
		case m.among != nil:
			s.among = put(s.among, path, m.among)
		}
	}
	return problems
}

func put[T any](m map[string]T, path string, x T) map[string]T {
	if m == nil {
		m = map[string]T{}
	}
	m[path] = x
	return m
}

// own says whether an answer stands as it was read.
func (s *Survey) own(path string) bool {
	return !slices.ContainsFunc(s.since, func(w later) bool { return w.path == path || w.list && under(path, w.path) })
}

// OwnWords are the answers of a set that were written as "other" with the
// surveyor's own words: no check can judge them. They are in walking order.
func (s *Survey) OwnWords(of Bits) (paths []string) {
	for path := range s.inWords {
		if id, ok := idOf(path); ok && of.Has(id) && s.own(path) {
			paths = append(paths, path)
		}
	}
	slices.SortFunc(paths, func(a, b string) int { return Order(a) - Order(b) })
	return paths
}

// Among are the answers that a word may mean, the one taken first; nil where
// it means one.
func (s *Survey) Among(path string) []string {
	if ways := s.among[path]; ways != nil && s.own(path) {
		return append([]string{s.choiceAt(path)}, ways...)
	}
	return nil
}

func (s *Survey) choiceAt(path string) string {
	leaf, _ := s.leaf(path)
	return leaf.String()
}

// either is an answer whose word may mean several answers of its list, as an
// input that can be moved to the others.
type either struct {
	at   *string
	ways []string // the one taken first
	text string   // as written
}

func (e *either) Known() bool                       { return true }
func (e *either) Text() string                      { return e.text }
func (e *either) Show(quantity.System) string       { return e.text }
func (e *either) Dimension() string                 { return "choice" }
func (e *either) SpreadText(quantity.System) string { return strings.Join(e.ways, ", ") }
func (e *either) HalfWidth() float64                { return 1 }
func (e *either) SpreadStated() bool                { return false }
func (e *either) Rough() string                     { return "" }
func (e *either) Units() []string                   { return nil }
func (e *either) AssumeSpread(string) error         { return nil }
func (e *either) Nudge(k float64) {
	switch {
	case k < 0:
		*e.at = e.ways[1]
	case k > 0:
		*e.at = e.ways[len(e.ways)-1]
	default:
		*e.at = e.ways[0]
	}
}

// Moved sets the answer to another way; back puts it as it was.
func (e *either) Moved(k float64) (back func()) {
	was := *e.at
	e.Nudge(k)
	return func() { *e.at = was }
}

// UnmarshalText takes a way by its name.
func (e *either) UnmarshalText(text []byte) error {
	*e.at = string(text)
	return nil
}
