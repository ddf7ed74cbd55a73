// Package terminal shows a report as text in 80 columns. It computes nothing.
package terminal

import (
	"fmt"
	"io"
	"strings"

	"firstfill/specs/rules"
)

// Width is the widest line that is written, in columns.
const Width = 80

// Options of a listing.
type Options struct {
	Color bool // ANSI colours
	All   bool // OK and N/A in full too
}

// Report writes the punch list of one site.
func Report(w io.Writer, r *rules.Report, o Options) error {
	p := &printer{color: o.Color}
	p.head(r)
	for _, t := range rules.Trades {
		p.trade(r, t, o.All)
	}
	p.measure(r)
	p.settled(r, o.All)
	p.para("", "Survey result, not a design or permit document. Local code, the authority having jurisdiction and licensed trades decide.")
	_, err := io.WriteString(w, p.b.String())
	return err
}

type printer struct {
	b     strings.Builder
	color bool
}

func (p *printer) line(s string) { p.b.WriteString(strings.TrimRight(s, " ") + "\n") }

// para writes text wrapped to the width, its first line behind head, the
// others indented as far.
func (p *printer) para(head, text string) {
	head = Plain(head)
	if Columns(head) > Width/2 {
		head, text = "", head+text
	}
	indent := strings.Repeat(" ", Columns(head))
	for i, l := range Wrap(text, Width-len(indent)) {
		if i == 0 {
			p.line(head + l)
			continue
		}
		p.line(indent + l)
	}
}

var colours = map[rules.Verdict]string{
	rules.Fix: "1;31", rules.Missing: "1;35", rules.Confirm: "33", rules.OK: "32", rules.NA: "2",
}

func (p *printer) paint(v rules.Verdict, s string) string {
	if !p.color {
		return s
	}
	return "\x1b[" + colours[v] + "m" + s + "\x1b[0m"
}

func (p *printer) head(r *rules.Report) {
	site := r.Survey.Site
	name := site.Name
	if site.Reference != "" {
		name += " (" + site.Reference + ")"
	}
	p.para("", name)
	machine := r.Machine.Name
	if r.Supply != nil && r.Supply.Name != "" {
		machine += ", " + r.Supply.Name
	}
	p.para("", fmt.Sprintf("%s; revision %s, answers %s, %s", machine, r.Survey.Revision(), r.Survey.Digest(), r.Today))
	p.line("")
	p.para("", rules.Sentence(r))
	p.line("")
}

func (p *printer) trade(r *rules.Report, t rules.Trade, all bool) {
	var shown []rules.Finding
	for _, f := range r.For(t) {
		if f.Verdict <= rules.Confirm || all {
			shown = append(shown, f)
		}
	}
	if len(shown) == 0 {
		return
	}
	p.line(strings.ToUpper(string(t)))
	for _, v := range rules.Verdicts {
		for _, f := range shown {
			if f.Verdict == v {
				p.finding(f)
			}
		}
	}
	p.line("")
}

func (p *printer) finding(f rules.Finding) {
	word := fmt.Sprintf("  %-8s", f.Verdict)
	for i, l := range Wrap(f.Title, Width-17) {
		if i == 0 {
			p.line(p.paint(f.Verdict, word) + f.ID + "   " + l)
			continue
		}
		p.line(strings.Repeat(" ", 17) + l)
	}
	row := func(label, text string) {
		if text != "" {
			p.para(fmt.Sprintf("          %-7s", label), text)
		}
	}
	row("found", f.Have)
	if f.Verdict == rules.Confirm && f.Worst != "" {
		row("", "within the readings' uncertainty: "+f.Worst+" to "+f.Best)
	}
	row("wanted", f.Want)
	row("margin", f.Margin)
	row("do", f.Action)
	for _, rem := range f.Remedies {
		if rem.Change != f.Action {
			row("remedy", rem.Change)
		}
	}
	if f.Verdict != rules.NA {
		row("source", f.Source)
	}
}

func (p *printer) measure(r *rules.Report) {
	ms := r.ToMeasure()
	if len(ms) == 0 {
		return
	}
	p.line("WHAT TO MEASURE NEXT, in walking order")
	station := ""
	for _, m := range ms {
		if m.Station != station {
			station = m.Station
			p.line("  " + station)
		}
		how := "find out"
		if !m.Missing {
			how = "read more exactly"
		}
		p.para("    - ", fmt.Sprintf("%s: %s (%s; %s)", how, m.Question, m.Path, strings.Join(m.IDs, ", ")))
	}
	if n := r.Counts[rules.Fix]; n > 0 {
		p.para("  ", fmt.Sprintf("Whatever these turn out to be, %d to fix already block the start.", n))
	} else {
		p.para("  ", "Nothing that is known so far blocks the start; these answers decide.")
	}
	p.line("")
}

func (p *printer) settled(r *rules.Report, all bool) {
	if all {
		return
	}
	for _, v := range []rules.Verdict{rules.OK, rules.NA} {
		var ids []string
		for _, f := range r.Findings {
			if f.Verdict == v {
				ids = append(ids, f.ID)
			}
		}
		if len(ids) > 0 {
			p.para(fmt.Sprintf("%-4s", v)+" ", strings.Join(ids, " "))
		}
	}
	p.line("")
}

// Wrap breaks text into lines of at most width columns, at blanks; a longer
// word is cut. A no-break space joins. What could steer a terminal is taken out.
func Wrap(text string, width int) []string {
	var lines []string
	for _, par := range strings.Split(Plain(text), "\n") {
		line, used := "", 0
		for _, word := range words(par) {
			n := Columns(word)
			for n > width {
				if line != "" {
					lines = append(lines, line)
					line, used = "", 0
				}
				at := cut(word, width)
				lines = append(lines, word[:at])
				word = word[at:]
				n = Columns(word)
			}
			switch {
			case word == "":
			case line == "":
				line, used = word, n
			case used+1+n <= width:
				line, used = line+" "+word, used+1+n
			default:
				lines = append(lines, line)
				line, used = word, n
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// cut returns how many bytes of a word fit into a width; at least one character.
func cut(word string, width int) int {
	n := 0
	for i, r := range word {
		if n += columns(r); n > width && i > 0 {
			return i
		}
	}
	return len(word)
}

// Fold breaks every line that is wider than the width. Its columns stay; what
// follows stands two columns behind the line's own first word.
func Fold(text string) string {
	lines := strings.Split(Plain(text), "\n")
	var out []string
	for _, l := range lines {
		if Columns(l) <= Width {
			out = append(out, l)
			continue
		}
		indent := l[:min(len(l)-len(strings.TrimLeft(l, " ")), Width/2)]
		at := cut(l, Width)
		if l[at] != ' ' {
			if blank := strings.LastIndexByte(l[:at], ' '); blank > len(indent) {
				at = blank
			}
		}
		out = append(out, strings.TrimRight(l[:at], " "))
		for _, part := range Wrap(l[at:], Width-len(indent)-2) {
			if part != "" {
				out = append(out, indent+"  "+part)
			}
		}
	}
	return strings.Join(out, "\n")
}
