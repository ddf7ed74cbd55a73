package pdf

import (
	"strings"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/specs/plan"
)

// punchList lists the plan's steps, one line each, by stage, to tick and
// initial. What is done stands on the trade's own sheet.
func (s *sheets) punchList() {
	s.start(s.w.Headings.Punch)
	s.Anchor("punch")
	s.title(s.w.Headings.Punch, siteName(s.r)+" · "+machineName(s.r))
	switch c := s.r.Counts; {
	case len(s.r.Plan.Steps) > 0:
		s.Paragraph(s.w.Sentences.PunchHow)
	case c[check.Fix]+c[check.Missing]+c[check.Confirm] > 0:
		s.Paragraph(s.w.Sentences.NoSteps)
	default:
		s.Paragraph(s.w.Sentences.Ready)
	}
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Step, Width: 14}, {Head: c.Do}, {Head: c.Who, Width: 24}, {Head: c.Sheet, Width: 12, Align: page.Centre}, {Head: c.Initials, Width: 34},
	}}
	last := check.Stage(-1)
	for _, st := range s.r.Plan.Steps {
		if st.Stage != last {
			last = st.Stage
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(s.stageName(last))}})
		}
		to := tradeAnchor(st.Trade)
		t.Rows = append(t.Rows, page.Row{MinHeight: 8, Cells: []page.Cell{
			{Text: plain(st.N), Tick: true, Bold: true, Size: 9.5}, {Text: s.short(st), Size: 9.5, Field: string(st.Job)},
			{Text: s.tradeName(st.Trade), Size: rowSize}, page.Go(s.PageOf(to), to), {},
		}})
	}
	if len(t.Rows) > 0 {
		s.Table(t)
	}
	s.openPoints()
}

// short names a step by its job and by what it puts right.
func (s *sheets) short(st plan.Step) string {
	var what []string
	seen := map[string]bool{}
	for _, id := range st.Cures {
		label, _, ok := s.to.Label(id)
		if f := s.r.Finding(id); !ok && f != nil {
			label = f.Title
		}
		if !seen[label] {
			seen[label] = true
			what = append(what, label)
		}
	}
	return upperFirst(s.say("punch.line", "job", check.Say("job."+string(st.Job)), "what", quote(strings.Join(what, ", ")), "ids", quote(strings.Join(st.Cures, " "))))
}

// openPoints are, one line each, what must be read or ruled on, by whom and where it stands.
func (s *sheets) openPoints() {
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Point, Width: 25}, {Head: c.Open}, {Head: c.Who, Width: 24}, {Head: c.Sheet, Width: 12, Align: page.Centre}, {Head: c.Initials, Width: 34},
	}}
	stands := map[string]bool{}
	for _, st := range s.r.Plan.Stands {
		stands[st.ID] = true
	}
	many := s.r.Counts[check.Missing] > manyAnswers
	if many {
		for _, tr := range check.Trades {
			if n := len(s.asks(tr)); n > 0 {
				to := tradeAnchor(tr)
				t.Rows = append(t.Rows, page.Row{MinHeight: 7, Cells: []page.Cell{
					{Verdict: verdict(check.Missing)}, {Text: s.say("punch.read", "answers", quote(s.count(n, "count.answer"))), Size: rowSize},
					{Text: s.tradeName(tr), Size: rowSize}, page.Go(s.PageOf(to), to), {},
				}})
			}
		}
	}
	for _, f := range s.r.Findings {
		if many && f.Verdict == check.Missing {
			continue
		}
		if f.Verdict != check.Missing && f.Verdict != check.Confirm && !stands[f.ID] {
			continue
		}
		to := tradeAnchor(f.Trade)
		at := page.Go(s.PageOf(to), to)
		if f.Subject == check.Records {
			at = page.Cell{} // it stands on no trade's sheet
		}
		t.Rows = append(t.Rows, page.Row{MinHeight: 7, Cells: []page.Cell{
			{Verdict: verdict(f.Verdict)}, {Text: s.say("punch.open", "title", quote(upperFirst(f.Title)), "id", quote(f.ID)), Size: rowSize, Field: f.ID},
			{Text: s.tradeName(f.Trade), Size: rowSize}, at, {},
		}})
	}
	if len(t.Rows) > 0 {
		s.Heading(2, s.w.Headings.Open)
		s.Table(t)
	}
}
