package terminal

import (
	"fmt"
	"io"

	"firstfill/specs"
	"firstfill/survey/quantity"
)

// Machines lists machines, one a line.
func Machines(w io.Writer, ms []*specs.Machine) {
	p := &printer{}
	for _, m := range ms {
		p.para(fmt.Sprintf("%-16s ", m.Key), fmt.Sprintf("%s, %s: %s", m.Name, m.Maker, m.Summary))
	}
	io.WriteString(w, p.b.String())
}

// Machine shows one requirement sheet.
func Machine(w io.Writer, m *specs.Machine, u quantity.System) {
	p := &printer{}
	p.para("", fmt.Sprintf("%s (%s), %s, %s", m.Name, m.Key, m.Kind, m.Maker))
	p.para("", m.Summary)
	p.para("source: ", m.Source)
	for _, g := range m.Values(u) {
		p.line("")
		p.line(g.Name)
		for _, v := range g.Values {
			text := v.Text
			if v.Source != "" {
				text += "  [" + v.Source + "]"
			}
			p.para(fmt.Sprintf("  %-34s ", v.Label), text)
		}
	}
	io.WriteString(w, p.b.String())
}
