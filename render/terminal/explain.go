package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"firstfill/specs/rules"
	"firstfill/survey"
)

// Checks lists the checks, one a line.
func Checks(w io.Writer, checks []*rules.Check) {
	p := &printer{}
	for _, k := range checks {
		p.para(fmt.Sprintf("%s  %-11s  ", k.ID, k.Trade), k.Title)
	}
	io.WriteString(w, p.b.String())
}

// Explain writes one check: why, formula, range, source, example, answers used.
func Explain(w io.Writer, k *rules.Check) {
	p := &printer{}
	p.para(k.ID+"  ", k.Title)
	p.line("")
	row := func(label, text string) {
		if text != "" {
			p.para(fmt.Sprintf("%-10s", label), text)
		}
	}
	row("trade", fmt.Sprintf("%s, at the latest %s", k.Trade, stage(k.Stage)))
	row("why", k.Why)
	row("formula", k.Formula)
	holds := k.Range
	if holds == "" && k.Formula != "" {
		holds = "every value of the answers used"
	}
	row("holds for", holds)
	for i, s := range k.Sources {
		label := ""
		if i == 0 {
			label = "source"
		}
		p.para(fmt.Sprintf("%-10s", label), s.String())
	}
	if len(k.After) > 0 {
		row("may come", "of "+strings.Join(k.After, ", "))
	}
	p.line("")
	e := k.Example
	p.line("example")
	p.para("  ", fmt.Sprintf("the passing site of %s, with", e.Machine))
	var paths []string
	for path := range e.Given {
		paths = append(paths, path)
	}
	slices.Sort(paths)
	for _, path := range paths {
		p.para("    ", path+": "+e.Given[path])
	}
	gives := e.Verdict.String()
	if e.Shows != "" {
		gives = e.Shows + "  ->  " + gives
	}
	p.para("  gives ", gives)
	p.line("")
	p.line("answers used")
	for _, path := range k.Uses {
		text := path
		if survey.HasField(path) {
			text += ": " + survey.Question(path)
		}
		p.para("  ", text)
	}
	io.WriteString(w, p.b.String())
}

func stage(s rules.Stage) string {
	if s == rules.RoughIn {
		return "at rough-in"
	}
	return s.String()
}
