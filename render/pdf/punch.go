package pdf

import (
	"fmt"
	"strings"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/survey"
)

// measure is the block of answers to get next; there is none when nothing is asked.
func (s *sheets) measure() {
	list := s.r.ToMeasure()
	if len(list) == 0 {
		return
	}
	s.Heading(1, s.w.Headings.Measure)
	s.Need(58) // words, head and the first rows
	s.Paragraph(s.w.Sentences.MeasureHow)
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Ask, Flex: 1.25}, {Head: c.How, Flex: 1.25}, {Head: c.Point, Width: 24}, {Head: c.Answer, Width: 46},
	}}
	station := ""
	for _, m := range list {
		if m.Station != station {
			station = m.Station
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(station)}})
		}
		f := survey.FieldAt(m.Path)
		ask := page.Cell{Text: upperFirst(m.Question), Bold: true, Tick: true, Note: m.Path, Size: 9}
		how := []string{}
		if f.How != "" {
			how = append(how, upperFirst(f.How)+".")
		}
		if tool, ok := survey.Instruments[f.Tool]; ok {
			how = append(how, fmt.Sprintf("With a %s.", tool.Name))
		}
		if len(f.Choices) > 0 {
			how = append(how, "One of: "+strings.Join(f.Choices, ", ")+".")
		}
		answer := page.Cell{Lines: 1}
		if !m.Missing {
			answer.Text = "now " + s.r.Survey.ReadingText(m.Path, s.r.Units)
		}
		ids := page.Cell{Text: strings.Join(m.IDs, ", ")}
		if len(m.IDs) > 0 {
			ids.Link = findingAnchor(m.IDs[0])
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{ask, page.T(strings.Join(how, " ")), ids, answer}})
	}
	s.Table(t)
}

// punchList lists every open point across the trades, what blocks first first.
func (s *sheets) punchList() {
	s.start(s.w.Headings.Punch)
	s.Anchor("punch")
	s.Title(s.w.Headings.Punch, siteName(s.r)+", "+machineName(s.r), "REVISION "+s.rev)
	if len(s.path) == 0 {
		s.Paragraph(s.w.Sentences.Ready)
		return
	}
	s.Paragraph(s.w.Sentences.PunchHow)
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Point, Width: 28}, {Head: c.Do}, {Head: c.Who, Width: 22},
		{Head: c.Sheet, Width: 11, Align: page.Centre}, {Head: c.Initials, Width: 25},
	}}
	last := check.Stage(-1)
	for _, st := range s.path {
		if st.stage != last {
			last = st.stage
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(s.stageName(last))}})
		}
		f := st.f
		to := findingAnchor(f.ID)
		t.Rows = append(t.Rows, page.Row{MinHeight: 9, Cells: []page.Cell{
			{Verdict: verdict(f.Verdict), Text: f.ID, Tick: true, Bold: true, Size: 9.5, Link: to},
			{Text: upperFirst(f.Title), Bold: true, Note: upperFirst(f.Action), Link: to, Field: f.ID},
			page.T(s.tradeName(f.Trade)), page.Go(s.PageOf(to), to), {},
		}})
	}
	s.Table(t)
}
