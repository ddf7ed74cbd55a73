// Package doc reads what people write, a YAML or JSON document or a form's
// cells, as a flat list of entries with their places, and fills Go structs
// from it. It finds every fault in one pass instead of stopping at the first,
// which is why it doesn't decode straight into structs. Start with ReadYAML and Fill.
package doc

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"sort"
	"strings"
	"unicode"
)

// A Pos says where something was written: file:line:col, or a cell of a form.
type Pos struct {
	File string
	Line int
	Col  int
	Cell string // "Water!C14" in a workbook form, else empty
	Page int    // which of a workbook's sheets, for their order
}

func (p Pos) String() string {
	switch {
	case p.Cell != "" && p.File != "":
		return p.File + ":" + p.Cell
	case p.Cell != "":
		return p.Cell
	case p.Line == 0:
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// An Entry is one answer as written.
type Entry struct {
	Path   string // "water.cold.static_pressure", "space.path[2].clear_width"
	Text   string // trimmed, never empty
	Note   string // remark written beside the answer
	Source string // where the answer comes from, if written beside it
	Pos    Pos
	Hidden bool // it stands behind a #, as "#12" does: a comment to YAML, an answer to who wrote it
}

// unknown are the words people write for an answer they don't have, in lower
// case without full stops and with single blanks.
var unknown = map[string]bool{}

func init() {
	for word := range strings.SplitSeq(`unknown, unk, ?, ??, ???, not known, none known, n/k, nk, n/a, na, not applicable, not available,
		don't know, dont know, do not know, doesn't know, dk, d/k, no idea, not sure, unsure, can't say, cannot say, can't tell, cannot tell,
		can't see, cannot see, not visible, not accessible, not measured, not read, not checked, not taken, not found, not stated, not given, not marked,
		tbd, to be determined, tbc, to be confirmed, tba, to be advised, to be announced, to follow, pending, to do, todo,
		-, --, ---, –, —, …`, ",") {
		unknown[strings.TrimSpace(word)] = true
	}
}

// AnyCase is a regular expression for a text as people write it: in capitals or
// not, with other blanks and dashes, or none, between its words. It is of the
// dialect that JSON Schema asks for, which has no flags.
func AnyCase(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.TrimSpace(text) {
		switch upper, lower := unicode.ToUpper(r), unicode.ToLower(r); {
		case unicode.IsSpace(r) || r == '-' || r == '_':
			gap = true
			continue
		case r == '\'':
			b.WriteString("['’‘]?")
			continue
		default:
			if gap {
				b.WriteString(`[\s_\-–—]*`)
				gap = false
			}
			if upper != lower {
				b.WriteString("[" + string(upper) + string(lower) + "]")
			} else {
				b.WriteString(regexp.QuoteMeta(string(r)))
			}
		}
	}
	if gap && b.Len() == 0 {
		return `[\-_]+`
	}
	return b.String()
}

// UnknownPattern is a regular expression of the words for an answer that people
// don't have, as JSON Schema wants it.
func UnknownPattern() string {
	var words []string
	for _, w := range slices.Sorted(maps.Keys(unknown)) {
		words = append(words, AnyCase(w))
	}
	return `^\s*(?:` + strings.Join(words, "|") + `)\s*\.*\s*$`
}

var curly = strings.NewReplacer("’", "'", "‘", "'", ".", "")

// Unknown says whether the entry is written as not known: "unknown", "n/a",
// "don't know", "TBD", "?" and their like.
func (e Entry) Unknown() bool {
	const longest = 30
	if len(e.Text) > longest || e.Text != "" && '0' <= e.Text[0] && e.Text[0] <= '9' {
		return false
	}
	if unknown[e.Text] {
		return true
	}
	word := strings.Join(strings.Fields(strings.ToLower(curly.Replace(e.Text))), " ")
	return unknown[word] || word == "" && e.Text != "" // full stops alone
}

// A Problem is one fault in the input: where, which answer, what, and how to write it.
type Problem struct {
	Pos     Pos
	Path    string
	Message string
	Reach   Reach
}

// Reach is how much of an input a problem spoils.
type Reach int

// The reaches.
const (
	Whole   Reach = iota // the input can't be used
	Dropped              // one answer isn't read and its text isn't kept; all else stands
	Kept                 // one answer can't be read and counts as unknown; its text is kept as written
)

func (p Problem) Error() string {
	const maxShown = 80 // bytes of a path; those of the questionnaire are shorter
	var b strings.Builder
	if s := p.Pos.String(); s != "" {
		b.WriteString(s + ": ")
	}
	if p.Path != "" {
		path := p.Path
		if len(path) > maxShown {
			path = strings.ToValidUTF8(path[:maxShown], "") + "…"
		}
		b.WriteString(path + ": ")
	}
	b.WriteString(p.Message)
	return b.String()
}

// Problems is every fault of one input, in the order of their places.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Sort orders the problems by place, then path.
func (ps Problems) Sort() {
	sort.SliceStable(ps, func(i, j int) bool {
		a, b := ps[i], ps[j]
		if a.Pos.Page != b.Pos.Page {
			return a.Pos.Page < b.Pos.Page
		}
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line < b.Pos.Line
		}
		if a.Pos.Col != b.Pos.Col {
			return a.Pos.Col < b.Pos.Col
		}
		return a.Path < b.Path
	})
}

// Split parts the problems that spoil the whole input from those that leave
// one answer unknown.
func (ps Problems) Split() (whole, single Problems) {
	for _, p := range ps {
		if p.Reach == Whole {
			whole = append(whole, p)
		} else {
			single = append(single, p)
		}
	}
	return whole, single
}

// Err returns nil when there are no problems, else the problems as an error.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}
