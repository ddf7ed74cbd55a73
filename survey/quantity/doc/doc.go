// Package doc reads what people write, a YAML or JSON document or a form's
// cells, as a flat list of entries with their places, and fills Go structs
// from it. It finds every fault in one pass instead of stopping at the first,
// which is why it doesn't decode straight into structs. Start with ReadYAML and Fill.
package doc

import (
	"fmt"
	"sort"
	"strings"
)

// A Pos says where something was written: file:line:col, or a cell of a form.
type Pos struct {
	File string
	Line int
	Col  int
	Cell string // "Water!C14" in a workbook form, else empty
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
}

// Unknown says whether the entry is written as not known.
func (e Entry) Unknown() bool {
	switch strings.ToLower(e.Text) {
	case "unknown", "?", "n/k", "not known":
		return true
	}
	return false
}

// A Problem is one fault in the input: where, which answer, what, and how to write it.
type Problem struct {
	Pos     Pos
	Path    string
	Message string
}

func (p Problem) Error() string {
	var b strings.Builder
	if s := p.Pos.String(); s != "" {
		b.WriteString(s + ": ")
	}
	if p.Path != "" {
		b.WriteString(p.Path + ": ")
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
		if a.Pos.Line != b.Pos.Line {
			return a.Pos.Line < b.Pos.Line
		}
		if a.Pos.Col != b.Pos.Col {
			return a.Pos.Col < b.Pos.Col
		}
		return a.Path < b.Path
	})
}

// Err returns nil when there are no problems, else the problems as an error.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}
