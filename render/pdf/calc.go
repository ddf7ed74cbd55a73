package pdf

import (
	"fmt"
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/templates"
)

// computed says whether a finding has something to check by hand.
func computed(f rules.Finding) bool {
	return f.Verdict < rules.NA && f.Verdict != rules.Missing && len(f.Working) > 0
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
	subject := byte(0)
	for _, f := range r.Findings {
		if f.Verdict == rules.Missing {
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
		st := page.Style{Size: 8, Leading: 1.34}
		for i, src := range cited.list {
			tight(s.Doc, "source", st, []float64{11, s.Width() - 11 - cellPad}, []bool{false, false}, fmt.Sprintf("[%d]", i+1), upperFirst(src))
		}
	}
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
var working = page.Style{Size: 8.5, Leading: 1.34}

// calculation is one finding's working: formula, steps, result against limit.
func (s *sheets) calculation(f rules.Finding, cited *citations) {
	widths := []float64{34, s.Width() - 34 - 50, 50 - cellPad}
	bold := []bool{true, false, true}
	lead := ""
	if f.Check != nil {
		lead = f.Check.Formula
		if f.Check.Range != "" {
			lead = join("\n", lead, templates.Fill(s.w.Sentences.Range, "text", f.Check.Range))
		}
	}
	result := page.Table{Columns: []page.Column{{Width: 34}, {}, {Width: 50}}, Rows: []page.Row{{Cells: []page.Cell{
		{Verdict: verdict(f.Verdict)},
		{Text: upperFirst(join("; ", with("found {}", f.Have), with("required {}", f.Want))), Bold: true, Note: s.uncertain(f), Field: f.ID},
		{Text: f.Margin, Bold: true, Note: with("sources {}", cited.cite(f)), Field: f.ID},
	}}}}

	// A working of ordinary length stays on one page.
	h := 24.0
	for _, w := range f.Working {
		h += lineHeight(working) * float64(max(len(page.Wrap(w.Symbol, widths[0]-2, working)), len(page.Wrap(w.Meaning, widths[1]-2, working)), len(page.Wrap(w.Value, widths[2]-2, working))))
	}
	if lead != "" {
		h += 2 + lineHeight(working)*float64(len(page.Wrap(lead, s.Width(), working)))
	}
	s.AnchoredHeading(3, f.ID+"  "+upperFirst(f.Title), calcAnchor(f.ID))
	s.Need(min(h, s.BodyHeight()*0.6))
	if lead != "" {
		s.StyledParagraph(s.Clean(f.ID, lead), working)
	}
	for _, w := range f.Working {
		tight(s.Doc, f.ID, working, widths, bold, w.Symbol, w.Meaning, w.Value)
	}
	s.Space(1)
	s.Table(result)
}

// uncertain words the worst and the best case of a finding.
func (s *sheets) uncertain(f rules.Finding) string {
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
