// Package terminal shows a report as text, 80 columns wide where nobody says
// otherwise. It computes nothing.
package terminal

import (
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Width is the widest line that is written where the terminal's isn't known, in columns.
const Width = 80

// Widths between which a terminal's own is taken: a narrower one can't hold the
// columns, and a wider line is hard to read.
const (
	narrowest = 60
	widest    = 110
)

// Options of a listing.
type Options struct {
	Color bool            // ANSI colours
	All   bool            // every finding in full, with its working, sources and other ways
	Trade check.Trade     // only this trade's; empty: all
	Units quantity.System // which are shown first
	Width int             // of the terminal, in columns; 0 where it isn't known

	Unread doc.Problems // answers that can't be read
}

// Report writes where a site stands: its state, what looks odd, the plan in
// order, and what to measure next; with All every finding too.
func Report(w io.Writer, p *plan.Plan, o Options) error {
	r := p.Report()
	if o.All {
		r = p.Proven()
	}
	t := &printer{color: o.Color, width: Width, say: words.Reader{Units: o.Units}, machine: p.Found.Machine, all: o.All}
	if o.Width > 0 {
		t.width = min(max(o.Width, narrowest), widest)
	}
	t.head(r, p)
	t.unread(o.Unread)
	t.doubts(r)
	t.plan(p, o.Trade)
	t.measure(p)
	if o.All {
		t.alternatives(p)
		for _, trade := range check.Trades {
			if o.Trade == "" || o.Trade == trade {
				t.trade(r, trade)
			}
		}
	} else {
		t.settled(r)
	}
	t.para("", "Survey result, not a design or permit document. Local code, the authority having jurisdiction and licensed trades decide.")
	_, err := io.WriteString(w, t.b.String())
	return err
}

type printer struct {
	b       strings.Builder
	color   bool
	width   int
	say     words.Reader
	machine *specs.Machine
	all     bool // everything is printed
}

func (p *printer) line(s string) { p.b.WriteString(strings.TrimRight(s, " ") + "\n") }

// para writes text wrapped to the width, its first line behind head, the
// others indented as far.
func (p *printer) para(head, text string) {
	head = Plain(head)
	if Columns(head) > p.width/2 {
		head, text = "", head+text
	}
	indent := strings.Repeat(" ", Columns(head))
	for i, l := range Wrap(text, p.width-len(indent)) {
		if i == 0 {
			p.line(head + l)
			continue
		}
		p.line(indent + l)
	}
}

var colours = map[check.Verdict]string{
	check.Fix: "1;31", check.Missing: "1;35", check.Confirm: "33", check.OK: "32", check.NA: "2",
}

func (p *printer) paint(v check.Verdict, s string) string {
	if !p.color {
		return s
	}
	return "\x1b[" + colours[v] + "m" + s + "\x1b[0m"
}

func (p *printer) head(r *check.Report, pl *plan.Plan) {
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
	if d := site.DeliveryOn; d.Known() {
		p.para("", fmt.Sprintf("Delivery %s.", d))
	}
	p.line("")
	if state := check.Sentence(r); Columns(state) <= p.width {
		p.line(p.paint(r.Verdict, state))
	} else {
		p.para("", state)
	}
	p.line("")
}

// unread lists answers that can't be read, a line each.
func (p *printer) unread(problems doc.Problems) {
	if len(problems) == 0 {
		return
	}
	p.line("CAN'T BE READ, counts as not answered")
	for i, u := range problems {
		if i == mostUnread {
			p.para("  x ", fmt.Sprintf("and %d more, each named on standard error", len(problems)-i))
			break
		}
		p.para("  x ", u.Message+" ("+u.Path+")")
	}
	p.line("")
}

const mostUnread = 12

// doubts lists answers that look odd, a line each.
func (p *printer) doubts(r *check.Report) {
	for _, part := range []struct {
		head   string
		doubts []survey.Doubt
	}{
		{"LOOKS ODD, read again before anything is built on it", r.Survey.Doubts()},
		{"READ ROUGHLY, with a wider uncertainty", r.Survey.Roughs(p.say.Units)},
	} {
		if len(part.doubts) == 0 {
			continue
		}
		p.line(part.head)
		for _, d := range part.doubts {
			p.para("  ? ", d.Text+" ("+d.Paths[0]+")")
		}
		p.line("")
	}
}

// plan lists the steps by stage.
func (p *printer) plan(pl *plan.Plan, only check.Trade) {
	holds := pl.Held()
	if len(pl.Steps) == 0 && len(pl.Stands) == 0 && len(holds) == 0 {
		return
	}
	p.line("THE PLAN, in the order in which things must be done")
	stage := check.Stage(-1)
	for _, st := range pl.Steps {
		if only != "" && st.Trade != only {
			continue
		}
		if st.Stage != stage {
			stage = st.Stage
			p.line("  " + p.say.Stage(stage))
		}
		p.para(fmt.Sprintf("  %2d %-12s ", st.N, st.Trade), p.say.Step(st)+"  ["+strings.Join(st.Cures, " ")+"]")
		if len(st.Doubts) > 0 {
			p.para(strings.Repeat(" ", 18), p.say.Say(check.Say("plan.doubts", "ids", check.Quote(strings.Join(st.Doubts, ", ")))))
		}
		for _, text := range p.say.Rests(st.Rests, st.Worst) {
			p.para(strings.Repeat(" ", 18), text)
		}
	}
	p.holds(holds, only)
	for _, st := range pl.Stands {
		p.para("   ! ", st.ID+" stands: "+p.say.Say(st.Why))
	}
	p.line("")
}

// holds lists what isn't built before something is known. Of a trade that
// waits for many answers they are counted: they stand under what to measure next.
func (p *printer) holds(holds []plan.Hold, only check.Trade) {
	waits := map[check.Trade][]string{}
	for _, h := range holds {
		if h.Why.Name == "held.unread" {
			waits[h.Trade] = append(waits[h.Trade], h.At...)
		}
	}
	head, counted := "  "+p.say.Say(check.Say("held.head")), map[check.Trade]bool{}
	for _, h := range holds {
		if only != "" && h.Trade != only || counted[h.Trade] && h.Why.Name == "held.unread" {
			continue
		}
		if head != "" {
			p.line(head)
			head = ""
		}
		text, ids := p.say.Say(h.Why), h.IDs
		if at := slices.Compact(slices.Sorted(slices.Values(waits[h.Trade]))); h.Why.Name == "held.unread" && len(at) > fewAnswers && !p.all {
			counted[h.Trade], ids = true, nil
			text = p.say.Say(check.Say("held.many", "n", len(at)))
		}
		if len(ids) > 0 {
			text += "  [" + strings.Join(ids, " ") + "]"
		}
		p.para(fmt.Sprintf("   ~ %-12s ", h.Trade), text)
	}
}

// fewAnswers is how many unread answers a trade's holds name.
const fewAnswers = 6

// alternatives shows other plans beside the one that is printed.
func (p *printer) alternatives(pl *plan.Plan) {
	if others := p.say.Others(pl); others != "" {
		p.para("", others)
	}
}

// trade writes a trade's findings in full, the gravest first.
func (p *printer) trade(r *check.Report, t check.Trade) {
	p.line(strings.ToUpper(string(t)))
	for _, v := range check.Verdicts {
		for _, f := range r.For(t) {
			if f.Verdict == v {
				p.finding(f)
			}
		}
	}
	p.line("")
}

func (p *printer) finding(f *check.Finding) {
	t := p.say.Tell(f, p.machine)
	word := fmt.Sprintf("  %-8s", f.Verdict)
	for i, l := range Wrap(t.Title, p.width-17) {
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
	row("found", t.Have)
	if f.Verdict == check.Confirm && t.Worst != "" {
		row("", "within the readings' uncertainty: "+t.Worst+" to "+t.Best)
	}
	row("wanted", t.Want)
	row("margin", t.Margin)
	row("do", t.Action)
	if f.Cause != "" {
		row("", "goes away once "+f.Cause+" is put right")
	}
	for _, way := range t.Remedies {
		row("way", way.Change)
	}
	for _, l := range t.Working {
		row("", l.Symbol+" = "+l.Value+"  "+l.Meaning)
	}
	if f.Verdict != check.NA {
		row("source", t.Source)
	}
}

func (p *printer) measure(pl *plan.Plan) {
	ms := pl.ToMeasure()
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
		switch {
		case len(m.IDs) == 0:
			how = "read again"
		case !m.Missing:
			how = "read more exactly"
		}
		p.para("    - ", fmt.Sprintf("%s: %s (%s)", how, p.say.Question(m.Path), strings.Join(append([]string{m.Path}, m.IDs...), ", ")))
	}
	p.line("")
}

func (p *printer) settled(r *check.Report) {
	confirm := ""
	for _, f := range r.Findings {
		if f.Verdict == check.Confirm {
			confirm += " " + f.ID
		}
	}
	if confirm != "" {
		p.para("To confirm: ", confirm[1:])
	}
	p.para("", fmt.Sprintf("Checked OK: %d. N/A: %d. --all shows every finding with its working, and other plans for the whole site; --trade one trade's.", r.Counts[check.OK], r.Counts[check.NA]))
	p.line("")
}

// Wrap breaks text into lines of at most width columns, at blanks; a longer
// word is cut. A no-break space joins. What could steer a terminal is taken out.
func Wrap(text string, width int) []string {
	var lines []string
	for _, par := range strings.Split(Plain(text), "\n") {
		line, used := "", 0
		for _, word := range wordsOf(par) {
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
