package pdf

import (
	"fmt"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
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
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{ask, page.T(strings.Join(how, " ")), ids, answer}})
	}
	s.Table(t)
}

// punchList lists the plan's steps, one line each, by stage, to tick and initial.
func (s *sheets) punchList() {
	s.start(s.w.Headings.Punch)
	s.Anchor("punch")
	s.Title(s.w.Headings.Punch, siteName(s.r)+", "+machineName(s.r), "REVISION "+s.rev)
	if len(s.r.Plan.Steps) == 0 {
		s.Paragraph(s.w.Sentences.Ready)
	} else {
		s.Paragraph(s.w.Sentences.PunchHow)
	}
	say := words.Reader{Units: s.r.Units, Gauge: true}
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Step, Width: 12}, {Head: c.Do}, {Head: c.Who, Width: 22}, {Head: c.Sheet, Width: 11, Align: page.Centre}, {Head: c.Initials, Width: 25},
	}}
	last := check.Stage(-1)
	for _, st := range s.r.Plan.Steps {
		if st.Stage != last {
			last = st.Stage
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(s.stageName(last))}})
		}
		row := s.stepRow(say, st)
		to := tradeAnchor(st.Trade)
		t.Rows = append(t.Rows, page.Row{MinHeight: 8, Cells: []page.Cell{row.Cells[0], row.Cells[1], page.T(s.tradeName(st.Trade)), page.Go(s.PageOf(to), to), {}}})
	}
	if len(t.Rows) > 0 {
		s.Table(t)
	}
	s.measure()
	if notes := strings.TrimSpace(s.r.Survey.Notes); notes != "" {
		s.Heading(2, s.w.Headings.Notes)
		s.Paragraph(s.Clean("notes", notes))
	}
}
