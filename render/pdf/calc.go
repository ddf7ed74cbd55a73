package pdf

import (
	"slices"
	"strings"

	"firstfill/render/drawing"
	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/templates"
)

// computed says whether a finding has something to check by hand.
func computed(f *words.Told) bool {
	return f.Verdict < check.NA && f.Verdict != check.Missing && len(f.Working) > 0
}

// calculations is the file in which every computed finding is worked.
func (s *sheets) calculations() {
	s.start(s.w.Headings.Calculations)
	s.title(s.w.Headings.Calculations, siteName(s.r)+" · "+machineName(s.r))
	s.StyledParagraph(s.w.Sentences.CalcHow, small)
	s.uncertainty()
	s.inOrder()

	tell := words.Reader{Units: s.r.Units, Alone: true}
	var cited citations
	formulas := map[string]string{} // the check that prints each
	var missing []string
	s.Columns(2, columnGap)
	subject := ""
	for _, f := range s.r.Report.Findings {
		if f.Verdict == check.Missing {
			missing = append(missing, f.ID)
		}
		told := tell.Tell(f, s.r.Machine)
		if !computed(&told) {
			continue
		}
		if f.ID[:1] != subject {
			subject = f.ID[:1]
			s.Heading(2, s.say("letter."+subject))
		}
		s.calculation(&told, &cited, formulas)
	}
	if len(missing) > 0 {
		s.StyledParagraph(templates.Fill(s.w.Sentences.NotComputed, "ids", strings.Join(missing, ", ")), small)
	}
	if len(cited.list) > 0 {
		s.Heading(2, s.w.Headings.Sources)
		var list []string
		for i, src := range cited.list {
			list = append(list, s.say("calc.source", "n", i+1, "source", quote(src)))
		}
		s.StyledParagraph(s.Clean("source", strings.Join(list, "; ")), page.Style{Size: 7.1, Leading: 1.18})
	}
	s.EndColumns()
	s.chains()
}

// small is the style of the calculations, which are an annex.
var small = page.Style{Size: 7.3, Leading: 1.18}

// columnGap is the air between the two columns of calculations, in millimetres.
const columnGap = 6.0

// calculation is one finding's working: formula, values, result against limit.
func (s *sheets) calculation(f *words.Told, cited *citations, formulas map[string]string) {
	head := s.say("calc.head", "id", quote(f.ID), "title", quote(upperFirst(f.Title)))
	lead := ""
	if f.Check != nil {
		lead = f.Formula
		if first, twice := formulas[lead]; twice && lead != "" {
			lead = s.say("calc.as-in", "id", quote(first))
		} else {
			formulas[lead] = f.ID
		}
	}
	var steps []string
	for _, w := range f.Working {
		steps = append(steps, s.say("calc.step", "symbol", quote(unbroken(w.Symbol)), "value", quote(unbroken(w.Value)), "meaning", quote(w.Meaning)))
	}
	outcome := s.say("calc.result", "verdict", quote(f.Verdict.String()), "have", quote(f.Have), "want", quote(f.Want))
	if f.Margin != "" {
		outcome = s.say("calc.margin", "result", quote(outcome), "margin", quote(f.Margin))
	}
	note := join(" ", s.uncertain(f), cited.cite(f))
	bold := small
	bold.Bold = true
	h := 0.0
	for _, p := range []struct {
		text string
		st   page.Style
	}{{lead, small}, {strings.Join(steps, "; "), small}, {outcome, bold}, {note, small}} {
		if p.text != "" {
			h += lineHeight(p.st)*float64(len(page.Wrap(s.Clean(f.ID, p.text), s.Width(), p.st))) + 0.4
		}
	}
	s.AnchoredHeading(3, head, calcAnchor(f.ID))
	s.Need(min(h, shortWorking))
	s.block(f.ID, lead, small)
	s.block(f.ID, strings.Join(steps, "; "), small)
	s.block(f.ID, tied(outcome), bold)
	s.block(f.ID, tied(note), small)
}

// block prints a paragraph with little air after it.
func (s *sheets) block(field, text string, st page.Style) {
	if text == "" {
		return
	}
	s.StyledParagraph(s.Clean(field, text), st)
	s.Space(-1.6)
}

// unbroken keeps a value on one line.
func unbroken(text string) string {
	if len(text) > 24 {
		return text
	}
	return strings.ReplaceAll(text, " ", "\u00a0")
}

// shortWorking is the height of a working that is not divided, in millimetres.
const shortWorking = 24.0

// uncertain words the worst and the best case of a finding.
func (s *sheets) uncertain(f *words.Told) string {
	if f.Worst == "" {
		return ""
	}
	return templates.Fill(s.w.Sentences.Uncertain, "worst", f.Worst, "best", f.Best)
}

// uncertainty says how it is treated, and lists what was assumed of each instrument.
func (s *sheets) uncertainty() {
	s.Heading(2, s.w.Headings.Uncertainty)
	for _, p := range s.w.Uncertainty {
		s.StyledParagraph(p, small)
	}
	type group struct{ spread, source string }
	var names []string
	groups := map[string]*group{}
	for _, a := range s.r.Assumed {
		g := groups[a.Instrument]
		if g == nil {
			g = &group{spread: a.Spread, source: survey.InstrumentSource(a.Instrument)}
			groups[a.Instrument] = g
			names = append(names, a.Instrument)
		}
	}
	slices.Sort(names)
	var list []string
	for _, n := range names {
		list = append(list, s.say("calc.instrument", "name", quote(n), "spread", quote(groups[n].spread), "source", quote(groups[n].source)))
	}
	if len(list) > 0 {
		s.StyledParagraph(s.Clean("instrument", s.say("calc.instruments", "list", quote(strings.Join(list, "; ")))), small)
	}
}

// inOrder lists what is in order and what does not arise, short.
func (s *sheets) inOrder() {
	list := func(heading string, v check.Verdict) {
		var items []string
		for _, f := range s.r.Findings {
			if f.Verdict == v && !computed(f) {
				items = append(items, f.ID+"\u00a0"+f.Title)
			}
		}
		if len(items) > 0 {
			s.StyledParagraph(s.say("calc.list", "heading", quote(heading), "items", quote(strings.Join(items, "; "))), small)
		}
	}
	list(s.w.Headings.InOrder, check.OK)
	list(s.w.Headings.NotHere, check.NA)
}

// chains are the supplies as they lose pressure or volts on their way.
func (s *sheets) chains() {
	const high = 46.0 // of one, with its heading
	for _, c := range drawing.Supplies(s.r) {
		if s.Room() < high {
			return // each of its values is worked above
		}
		s.Heading(3, c.Title)
		s.Chain(c.Nodes)
	}
}
