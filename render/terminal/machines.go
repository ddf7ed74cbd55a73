package terminal

import (
	"fmt"
	"io"
	"strings"

	"firstfill/specs"
	"firstfill/specs/rules"
	"firstfill/survey/quantity"
)

// Machines lists machines, one a line.
func Machines(w io.Writer, ms []*specs.Machine) {
	p := &printer{width: Width}
	for _, m := range ms {
		p.para(fmt.Sprintf("%-16s ", m.Key), strings.TrimSuffix(fmt.Sprintf("%s, %s: %s", m.Name, m.Maker, m.Summary), ": "))
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

// Served says which checks a requirement sheet serves and lacks.
func Served(w io.Writer, file string, m *specs.Machine, hides bool, served rules.Served) {
	p := &printer{width: Width}
	p.para("", fmt.Sprintf("%s: %s (%s), no faults.", file, m.Name, m.Key))
	if hides {
		p.para("  ", "A built-in machine has this key: with --dir this sheet stands in its place.")
	}
	p.para("  ", fmt.Sprintf("Serves %s; %s for this machine.", Plural(len(served.Serves), "check", "checks"), Plural(len(served.Idle), "doesn't arise", "don't arise")))
	if len(served.Lacks) == 0 {
		io.WriteString(w, p.b.String())
		return
	}
	p.para("  ", fmt.Sprintf("Lacks what %s for; MISSING until the sheet says it, or says none where the maker has no such limit or part:", Plural(len(served.Lacks), "check asks", "checks ask")))
	for _, l := range served.Lacks {
		facts := make([]string, len(l.Facts))
		for i, f := range l.Facts {
			facts[i] = f.Path
		}
		text := strings.Join(facts, ", ")
		if text == "" {
			text = p.say.Fact(l.Want)
		}
		p.para("    "+l.ID+"  ", p.say.About(l.ID).Title+": "+text)
	}
	io.WriteString(w, p.b.String())
}
