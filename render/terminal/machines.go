package terminal

import (
	"fmt"
	"io"
	"strings"

	"firstfill/specs"
	"firstfill/survey/quantity"
)

// Machines lists machines, one a line.
func Machines(w io.Writer, ms []*specs.Machine) {
	p := &printer{width: Width}
	for _, m := range ms {
		p.para(fmt.Sprintf("%-16s ", m.Key), fmt.Sprintf("%s, %s: %s", m.Name, m.Maker, m.Summary))
	}
	io.WriteString(w, p.b.String())
}

// Machine shows one requirement sheet.
func Machine(w io.Writer, m *specs.Machine, u quantity.System) {
	p := &printer{width: Width}
	p.para("", fmt.Sprintf("%s (%s), %s, %s", m.Name, m.Key, m.Kind, m.Maker))
	p.para("", m.Summary)
	p.para("source: ", m.Source)
	for _, g := range m.Values(u) {
		p.line("")
		p.line(g.Name)
		item := ""
		for i, v := range g.Values {
			head, _, listed := strings.Cut(v.Path, "]") // the item of a list in which the value stands
			if !listed {
				head = ""
			}
			if head != item && i > 0 {
				p.line("")
			}
			item = head
			text := v.Text
			if v.Source != "" {
				text += "  [" + v.Source + "]"
			}
			p.para(fmt.Sprintf("  %-34s ", v.Label), text)
		}
	}
	io.WriteString(w, p.b.String())
}
