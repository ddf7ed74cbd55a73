package pdf

import (
	"fmt"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/templates"
)

// summary is the first page: verdict, trades, path to ready.
func (s *sheets) summary() {
	r, site := s.r, s.r.Survey.Site
	s.start(s.w.Headings.Summary)
	s.letterhead()
	s.Title(siteName(r), machineName(r), "REVISION "+s.rev)
	s.verdictLine()
	s.StyledParagraph(s.deliveryText(), page.Style{Size: 10.5})
	s.KeyValue(3,
		page.KV{Key: "Address", Value: site.Address, Field: "site.address"},
		page.KV{Key: "Contact on site", Value: join(", ", site.Contact, site.Phone), Field: "site.contact"},
		page.KV{Key: "Surveyed", Value: join(", ", site.SurveyedBy, site.SurveyedOn.String()), Field: "site.surveyed_by"},
		page.KV{Key: "Codes enforced", Value: join(", ", words.Word(s.r.Survey.Codes.Electrical), words.Word(s.r.Survey.Codes.Plumbing), s.r.Survey.Codes.PlumbingEdition), Field: "codes"},
		page.KV{Key: "Authority having jurisdiction", Value: s.r.Survey.Codes.Authority, Field: "codes.authority"},
		page.KV{Key: "Delivery", Value: site.DeliveryOn.String(), Field: "site.delivery_on"},
	)
	s.Heading(2, s.w.Headings.Trades)
	s.tradeStrip()
	if len(s.r.Plan.Steps) > 0 {
		s.Heading(2, s.w.Headings.Path)
		s.pathTable()
	}
}

// verdictLine says the verdict large.
func (s *sheets) verdictLine() {
	const size = 8.4
	s.Need(size + 6)
	w := s.Verdict(s.Left(), s.Y(), size, verdict(s.r.Verdict))
	box := page.Rect{X: s.Left() + w + 5, Y: s.Y() + 0.6, W: s.Width() - w - 5, H: 40}
	h := s.TextBox(box, check.Sentence(s.r.Report), page.Style{Size: 15, Bold: true, Leading: 1.2})
	s.Advance(max(size, h+0.6) + 3)
}

// deliveryText says when delivery is and what blocks it.
func (s *sheets) deliveryText() string {
	t := s.w.Sentences
	on, today := s.r.Survey.Site.DeliveryOn, s.r.Today
	text := t.DeliveryNone
	if on.Known() {
		switch n := today.DaysUntil(on); {
		case n == 0:
			text = templates.Fill(t.DeliveryToday, "date", on.String())
		case n < 0:
			text = templates.Fill(t.DeliveryGone, "date", on.String(), "n", plural(-n, "day", "days"))
		default:
			text = templates.Fill(t.DeliveryIn, "date", on.String(), "n", plural(n, "day", "days"))
		}
	}
	var before, start []string
	for _, f := range s.r.Findings {
		switch {
		case !f.Verdict.Blocks():
		case f.Stage < check.BeforeStart:
			before = append(before, f.ID)
		default:
			start = append(start, f.ID)
		}
	}
	if len(before) > 0 {
		text += " " + templates.Fill(t.BlocksBefore, "n", plural(len(before), "point", "points"), "ids", idList(before))
	} else {
		text += " " + t.BlocksNone
	}
	if len(start) > 0 {
		text += " " + upperFirst(templates.Fill(t.BlocksStart, "n", plural(len(start), "point", "points"), "ids", idList(start)))
	}
	if len(before)+len(start) == 0 {
		text += " " + t.Ready
	}
	return text
}

// idList lists ids, at most 16 of them.
func idList(ids []string) string {
	const most = 16
	if len(ids) > most {
		return strings.Join(ids[:most], ", ") + fmt.Sprintf(" and %d more", len(ids)-most)
	}
	return strings.Join(ids, ", ")
}

// join puts what is known together.
func join(sep string, parts ...string) string {
	var known []string
	for _, p := range parts {
		if strings.TrimSpace(p) != "" {
			known = append(known, p)
		}
	}
	return strings.Join(known, sep)
}

// company is who the survey names for a trade.
func company(s *survey.Survey, t check.Trade) string {
	switch t {
	case check.Electrician:
		return s.Site.Electrician
	case check.Plumber:
		return s.Site.Plumber
	case check.Builder:
		return s.Site.Builder
	case check.Owner:
		return s.Site.Contact
	}
	return ""
}

// counts tallies a trade's findings; worst is N/A when it has none.
func counts(fs []*words.Told) (n map[check.Verdict]int, worst check.Verdict) {
	n, worst = map[check.Verdict]int{}, check.NA
	for _, f := range fs {
		n[f.Verdict]++
		worst = min(worst, f.Verdict)
	}
	return n, worst
}

// tradeStrip is a row per trade with its counts, its page and a line to sign.
func (s *sheets) tradeStrip() {
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{
		{Head: c.Trade, Width: 27}, {Head: c.State, Width: 27},
		{Head: "FIX", Width: 11, Align: page.Centre}, {Head: "MISSING", Width: 15, Align: page.Centre},
		{Head: "CONFIRM", Width: 16, Align: page.Centre}, {Head: "OK", Width: 11, Align: page.Centre},
		{Head: c.Sheet, Width: 11, Align: page.Centre}, {Head: c.Signs},
	}}
	for _, tr := range check.Trades {
		n, worst := counts(s.r.For(tr))
		row := page.Row{Cells: []page.Cell{
			{Text: s.tradeName(tr), Bold: true, Size: 9.5, Link: tradeAnchor(tr)},
			{Verdict: verdict(worst), Link: tradeAnchor(tr)},
		}}
		for _, v := range []check.Verdict{check.Fix, check.Missing, check.Confirm, check.OK} {
			cell := page.Cell{Text: "–", Size: 10}
			if n[v] > 0 {
				cell = page.Cell{Text: fmt.Sprint(n[v]), Bold: v < check.OK, Size: 10}
			}
			row.Cells = append(row.Cells, cell)
		}
		row.Cells = append(row.Cells,
			page.Cell{Text: s.PageOf(tradeAnchor(tr)), Link: tradeAnchor(tr), Size: 10},
			page.Cell{Text: company(s.r.Survey, tr), Field: "site." + string(tr)})
		t.Rows = append(t.Rows, row)
	}
	s.Table(t)
}

// pathTable lists the plan's steps, and what nothing here cures.
func (s *sheets) pathTable() {
	say := words.Reader{Units: s.r.Units, Gauge: true}
	c := s.w.Columns
	t := page.Table{Tight: true, Columns: []page.Column{
		{Head: c.Step, Width: 10, Align: page.Right}, {Head: c.Do}, {Head: c.Who, Width: 24}, {Head: c.Sheet, Width: 12, Align: page.Right},
	}}
	last := check.Stage(-1)
	for _, st := range s.r.Plan.Steps {
		if st.Stage != last {
			last = st.Stage
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(s.stageName(last))}})
		}
		to := tradeAnchor(st.Trade)
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			page.T(fmt.Sprint(st.N)), page.Go(upperFirst(say.Say(check.Say("job."+string(st.Job))))+"  ["+strings.Join(st.Cures, " ")+"]", to), page.T(s.tradeName(st.Trade)), page.Go(s.PageOf(to), to),
		}})
	}
	for _, st := range s.r.Plan.Stands {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Verdict: page.Fix}, page.T(st.ID + ": " + say.Say(st.Why))}})
	}
	s.Table(t)
}
