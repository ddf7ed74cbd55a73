package pdf

import (
	"fmt"
	"slices"
	"strings"

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

// calculations is the sheet on which every computed finding is worked.
func (s *sheets) calculations() {
	r := s.r
	s.start(s.w.Headings.Calculations)
	s.Title(s.w.Headings.Calculations, siteName(r)+", "+machineName(r), "REVISION "+s.rev)
	s.Paragraph(s.w.Sentences.CalcHow)
	s.uncertainty()

	var cited citations
	var missing []string
	s.Need(80)
	s.Columns(2, columnGap)
	subject := byte(0)
	for _, f := range r.Findings {
		if f.Verdict == check.Missing {
			missing = append(missing, f.ID)
		}
		if !computed(f) {
			continue
		}
		if f.ID[0] != subject {
			subject = f.ID[0]
			s.Heading(1, subjectName(subject))
		}
		s.calculation(f, &cited)
	}
	if len(missing) > 0 {
		s.Paragraph(templates.Fill(s.w.Sentences.NotComputed, "ids", strings.Join(missing, ", ")))
	}
	if len(cited.list) > 0 {
		s.Heading(1, s.w.Headings.Sources)
		st := page.Style{Size: 7.5, Leading: 1.28}
		for i, src := range cited.list {
			tight(s.Doc, "source", st, []float64{9, s.Width() - 9}, []bool{false, false}, fmt.Sprintf("[%d]", i+1), upperFirst(src))
		}
	}
	s.EndColumns()
}

// subjectName is what a check's letter stands for.
func subjectName(letter byte) string {
	switch letter {
	case 'E':
		return "Power"
	case 'W':
		return "Water"
	case 'D':
		return "Drain"
	case 'S':
		return "Space and delivery"
	case 'C':
		return "Chemicals"
	case 'T':
		return "Throughput"
	case 'R':
		return "Records"
	}
	return string(letter)
}

// working is the style of a line of working.
var working = page.Style{Size: 8, Leading: 1.3}

// columnGap is the air between the two columns of calculations, in millimetres.
const columnGap = 8.0

// calculation is one finding's working: formula, steps, result against limit.
func (s *sheets) calculation(f *words.Told, cited *citations) {
	bold := []bool{true, false, true}
	strong := working
	strong.Bold = true
	symbol, value := 8.0, 14.0
	for _, w := range f.Working {
		symbol = max(symbol, min(17, page.TextWidth(s.Clean(f.ID, w.Symbol), strong)+2.5))
		value = max(value, min(32, page.TextWidth(s.Clean(f.ID, w.Value), strong)+2.5))
	}
	widths := []float64{symbol, s.Width() - symbol - value, value}
	lead := ""
	if f.Check != nil {
		lead = f.Formula
		if f.Holds != "" {
			lead = join("\n", lead, templates.Fill(s.w.Sentences.Range, "text", f.Holds))
		}
	}
	mark := page.VerdictWidth(3.5, verdict(f.Verdict)) + 5
	outcome := join("\n", upperFirst(join("; ", with("found {}", f.Have), with("required {}", f.Want))), f.Margin)
	note := join("\n", s.uncertain(f), with("sources {}", cited.cite(f)))
	result := page.Table{Columns: []page.Column{{Width: mark}, {}}, Size: 8, Tight: true, Rows: []page.Row{{Cells: []page.Cell{
		{Verdict: verdict(f.Verdict)},
		{Text: outcome, Bold: true, Note: note, Field: f.ID},
	}}}}

	// A short working stays in one piece; of a long one, its head keeps some
	// lines and its result keeps the last two.
	height := func(text string, w float64, st page.Style) float64 {
		return lineHeight(st) * float64(len(page.Wrap(text, w, st)))
	}
	lines := make([]float64, len(f.Working))
	h, end := 0.0, 4.0
	for i, w := range f.Working {
		lines[i] = max(height(w.Symbol, widths[0]-2, strong), height(w.Meaning, widths[1]-2, working), height(w.Value, widths[2]-2, strong))
		h += lines[i]
	}
	for _, l := range lines[max(0, len(lines)-2):] {
		end += l
	}
	room := s.Width() - mark - 4
	end += height(outcome, room, strong) + height(note, room, working)
	if lead != "" {
		h += 2 + height(lead, s.Width(), working)
	}
	s.AnchoredHeading(3, f.ID+"  "+upperFirst(f.Title), calcAnchor(f.ID))
	s.Need(min(h+end, shortWorking))
	if lead != "" {
		s.StyledParagraph(s.Clean(f.ID, lead), working)
	}
	for i, w := range f.Working {
		if i == max(0, len(lines)-2) {
			s.Need(min(end, shortWorking))
		}
		tight(s.Doc, f.ID, working, widths, bold, w.Symbol, w.Meaning, w.Value)
	}
	s.Space(1)
	s.Table(result)
}

// shortWorking is the height of a working that is not divided, in millimetres.
const shortWorking = 62.0

// uncertain words the worst and the best case of a finding.
func (s *sheets) uncertain(f *words.Told) string {
	if f.Worst == "" {
		return ""
	}
	return templates.Fill(s.w.Sentences.Uncertain, "worst", f.Worst, "best", f.Best)
}

// uncertainty says how it is treated, and lists what was assumed of each instrument.
func (s *sheets) uncertainty() {
	s.Heading(1, s.w.Headings.Uncertainty)
	for _, p := range s.w.Uncertainty {
		s.Paragraph(p)
	}
	type group struct{ spread, source, readings string }
	var names []string
	groups := map[string]*group{}
	for _, a := range s.r.Assumed {
		g := groups[a.Instrument]
		if g == nil {
			g = &group{spread: "± " + a.Spread, source: instrumentSource(a.Instrument)}
			groups[a.Instrument] = g
			names = append(names, a.Instrument)
		}
		g.readings = join("; ", g.readings, survey.Question(a.Path)+"\u00a0"+strings.ReplaceAll(a.Value, " ", "\u00a0"))
	}
	if len(names) == 0 {
		return
	}
	slices.Sort(names)
	c := s.w.Columns
	t := page.Table{Size: 8, Columns: []page.Column{{Head: c.Instrument, Width: 38}, {Head: c.Spread, Width: 22}, {Head: c.Readings}}}
	for _, n := range names {
		g := groups[n]
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: upperFirst(n), Bold: true, Note: g.source}, page.B(g.spread), page.T(upperFirst(g.readings))}})
	}
	s.Table(t)
}

func instrumentSource(name string) string {
	for _, i := range survey.Instruments {
		if i.Name == name {
			return i.Source
		}
	}
	return ""
}

// photos prints the survey's pictures with their captions.
func (s *sheets) photos() {
	if len(s.o.Photos) == 0 {
		return
	}
	s.start(s.w.Headings.Photos)
	s.Title(s.w.Headings.Photos, siteName(s.r), "REVISION "+s.rev)
	var list []page.Photo
	for i, p := range s.o.Photos {
		caption := p.Caption
		if caption == "" {
			caption = p.Name
		}
		list = append(list, page.Photo{Name: p.Name, Caption: caption, Data: p.Data, Ref: plain(i + 1)})
	}
	s.Photos(list...)
}

// inOrder lists what is in order and what does not arise, short.
func (s *sheets) inOrder() {
	list := func(heading string, v check.Verdict) {
		var items []string
		for _, f := range s.r.Findings {
			if f.Verdict == v {
				items = append(items, f.ID+"\u00a0"+f.Title)
			}
		}
		if len(items) > 0 {
			s.StyledParagraph(heading+": "+strings.Join(items, "; ")+".", page.Small)
		}
	}
	list(s.w.Headings.InOrder, check.OK)
	list(s.w.Headings.NotHere, check.NA)
}
