package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
)

// Checks lists the checks, one a line.
func Checks(w io.Writer, checks []*check.Check) {
	p := &printer{width: Width}
	for _, k := range checks {
		p.para(fmt.Sprintf("%s  %-11s  ", k.ID, k.Trade), p.say.About(k.ID).Title)
	}
	io.WriteString(w, p.b.String())
}

// Explain writes one check: why, formula, range, source, example, answers used.
// reads are the answers that it reads on one site or another.
func Explain(w io.Writer, k *check.Check, reads []string) {
	p := &printer{width: Width}
	about := p.say.About(k.ID)
	p.para(k.ID+"  ", about.Title)
	p.line("")
	row := func(label, text string) {
		if text != "" {
			p.para(fmt.Sprintf("%-10s", label), text)
		}
	}
	row("trade", fmt.Sprintf("%s, at the latest %s", k.Trade, stage(k.Stage)))
	row("why", about.Why)
	row("formula", about.Formula)
	holds := about.Holds
	if holds == "" && about.Formula != "" {
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
		var ids []string
		for _, a := range k.After {
			ids = append(ids, a.ID)
		}
		row("may come", "of "+strings.Join(ids, ", "))
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
	for _, path := range reads {
		text := path
		if survey.HasField(path) {
			text += ": " + p.say.Question(path)
		}
		p.para("  ", text)
	}
	io.WriteString(w, p.b.String())
}

func stage(s check.Stage) string { return words.Reader{}.Stage(s) }
