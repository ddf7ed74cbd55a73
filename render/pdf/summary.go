package pdf

import (
	"fmt"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/survey"
)

// summary is the first page: go or hold and what holds it, what must be
// settled before the truck leaves, the trades, what to measure next.
func (s *sheets) summary() {
	r, site := s.r, s.r.Survey.Site
	s.start(s.w.Headings.Summary)
	s.letterhead()
	s.title(siteName(r), machineName(r))
	s.goOrHold()
	s.KeyValue(3,
		page.KV{Key: s.say("head.address"), Value: site.Address, Field: "site.address"},
		page.KV{Key: s.say("head.contact"), Value: join(", ", site.Contact, site.Phone), Field: "site.contact"},
		page.KV{Key: s.say("head.surveyed"), Value: join(", ", site.SurveyedBy, site.SurveyedOn.String()), Field: "site.surveyed_by"},
		page.KV{Key: s.say("head.codes"), Value: join(", ", s.to.Word(r.Survey.Codes.Electrical), s.plumbing(r.Survey.Codes)), Field: "codes"},
		page.KV{Key: s.say("head.authority"), Value: r.Survey.Codes.Authority, Field: "codes.authority"},
		page.KV{Key: s.say("head.delivery"), Value: site.DeliveryOn.String(), Field: "site.delivery_on"},
	)
	s.Heading(2, s.w.Headings.Truck)
	s.beforeTruck()
	s.Heading(2, s.w.Headings.Trades)
	s.tradeStrip()
	s.illegible()
	s.measure()
	if notes := strings.TrimSpace(r.Survey.Notes); notes != "" {
		s.Heading(2, s.w.Headings.Notes)
		s.StyledParagraph(s.Clean("notes", notes), page.Style{Size: rowSize, Leading: 1.25})
	}
	s.revisions("")
	s.photos("")
}

// illegible lists the answers that can't be read: they count as not given, and
// what was written is mended in the questionnaire.
func (s *sheets) illegible() {
	if len(s.o.Unread) == 0 {
		return
	}
	s.Heading(2, s.say("unread.head"))
	for i, p := range s.o.Unread {
		if i == manyAnswers {
			s.StyledParagraph(s.say("unread.more", "n", len(s.o.Unread)-i), page.Style{Size: rowSize, Leading: 1.25})
			break
		}
		what := p.Path
		if survey.HasField(p.Path) {
			what = upperFirst(s.to.Question(p.Path))
		}
		s.StyledParagraph(s.Clean(p.Path, join(": ", what, p.Message)), page.Style{Size: rowSize, Leading: 1.25})
	}
}

// goOrHold says whether the machine can go to this site as it is.
func (s *sheets) goOrHold() {
	n := s.r.Counts
	var parts []string
	for _, v := range []check.Verdict{check.Fix, check.Missing, check.Confirm} {
		if n[v] > 0 {
			parts = append(parts, s.say("state."+strings.ToLower(v.String()), "n", n[v]))
		}
	}
	list := quote(strings.Join(parts, ", "))
	switch {
	case s.r.Verdict.Blocks():
		s.Banner(s.say("hold.word"), s.say("state.not-ready", "list", list), true)
	case len(parts) > 0:
		s.Banner(s.say("hold.go-word"), s.say("state.nothing-blocks", "list", list), false)
	default:
		s.Banner(s.say("hold.go-word"), s.say("state.ready"), false)
	}
}

// beforeTruck lists in running text what must be settled before delivery: the
// plan's steps, then what holds each trade.
func (s *sheets) beforeTruck() {
	style := page.Style{Size: 9.5, Leading: 1.25}
	var before, start []string
	for _, st := range s.r.Plan.Steps {
		text := s.say("truck.step", "n", st.N, "job", check.Say("job."+string(st.Job)))
		if st.Stage < check.BeforeStart {
			before = append(before, text)
		} else {
			start = append(start, text)
		}
	}
	if len(before) > 0 {
		s.StyledParagraph(s.say("truck.before", "list", quote(strings.Join(before, ", "))), style)
	}
	if len(start) > 0 {
		s.StyledParagraph(s.say("truck.start", "list", quote(strings.Join(start, ", "))), style)
	}
	held := false
	for _, t := range check.Trades {
		if why := s.why(t); len(why) > 0 {
			held = true
			s.StyledParagraph(s.say("truck.hold", "trade", quote(s.tradeName(t)), "why", quote(lowerFirst(strings.Join(why, " ")))), style)
		}
	}
	if len(before)+len(start) == 0 && !held {
		s.StyledParagraph(s.w.Sentences.Ready, style)
	}
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
		{Head: check.Fix.String(), Width: 11, Align: page.Centre}, {Head: check.Missing.String(), Width: 16, Align: page.Centre},
		{Head: check.Confirm.String(), Width: 17, Align: page.Centre}, {Head: check.OK.String(), Width: 11, Align: page.Centre},
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

// manyAnswers is how many missing answers are told one by one on a sheet that
// is not the one on which they are written in.
const manyAnswers = 12

// measure is the block of answers to get next; there is none when nothing is asked.
func (s *sheets) measure() {
	list := s.r.Plan.ToMeasure()
	if len(list) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Measure)
	if len(list) > manyAnswers { // each stands on its trade's sheet
		var parts []string
		for _, t := range check.Trades {
			if n := len(s.asks(t)); n > 0 {
				parts = append(parts, s.say("measure.trade", "trade", quote(s.tradeName(t)), "answers", quote(s.count(n, "count.answer")), "page", quote(s.PageOf(tradeAnchor(t)))))
			}
		}
		s.StyledParagraph(s.say("measure.many", "answers", quote(s.count(len(list), "count.answer")), "list", quote(strings.Join(parts, "; "))), page.Style{Size: 9.5, Leading: 1.25})
		return
	}
	c := s.w.Columns
	t := page.Table{Lines: true, Columns: []page.Column{{Head: c.Ask, Flex: 1.5}, {Head: c.Where, Width: 34}, {Head: c.Point, Width: 24}, {Head: c.Answer, Width: 46}}}
	for _, m := range list {
		answer := page.Cell{Size: 8}
		if !m.Missing {
			answer.Text = s.say("measure.now", "value", check.Read(s.r.Survey, m.Path))
		}
		t.Rows = append(t.Rows, page.Row{MinHeight: 7, Cells: []page.Cell{
			{Text: upperFirst(s.to.Question(m.Path)), Bold: true, Tick: true, Size: rowSize}, page.T(m.Station), page.T(strings.Join(m.IDs, ", ")), answer,
		}})
	}
	s.Table(t)
}
