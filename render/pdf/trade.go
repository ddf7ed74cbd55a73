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

// trade is one trade's sheet. It holds nothing of the other trades and can be
// used alone.
func (s *sheets) trade(t check.Trade) {
	r, words := s.r, s.w.Trades[string(t)]
	fs := r.For(t)
	s.start(strings.ToUpper(s.tradeName(t)))
	s.Anchor(tradeAnchor(t))
	if s.alone {
		s.letterhead()
	}
	s.Title(words.Title, siteName(r), "REVISION "+s.rev)
	s.tradeHead(t, fs)

	s.Heading(1, s.w.Headings.Numbers)
	s.roughIn(t)
	drawings(s.Doc, r, t)

	var cited citations
	s.points(t, fs, &cited)
	s.inOrder(fs)
	if len(cited.list) > 0 {
		s.StyledParagraph(cited.run(s.w.Headings.Sources), page.Small)
	}
	statement := templates.Fill(words.Statement, "revision", s.rev+", answers "+r.Survey.Digest())
	sign := page.SignOff{
		Title:     templates.Fill(s.w.SignOff.Title, "trade", strings.ToLower(s.tradeName(t))),
		Statement: statement,
		Company:   company(s.r.Survey, t), Field: "site." + string(t),
		Labels: page.SignOffLabels{
			Company: s.w.SignOff.Company, Licence: s.w.SignOff.Licence, Name: s.w.SignOff.Name,
			Signature: s.w.SignOff.Signature, Date: s.w.SignOff.Date,
		},
	}
	s.cautions(words.Cautions, s.SignOffHeight(sign))
	s.SignOff(sign)
}

// cautions prints a trade's cautions before its sign-off, whose height is
// given. Where both don't fit on this page, the last cautions go over with the
// sign-off, so that it never stands alone.
func (s *sheets) cautions(texts []string, signOff float64) {
	room := s.Room()
	if s.CautionHeight(texts...)+signOff > room {
		k := len(texts) - 2
		for k > 1 && s.CautionHeight(texts[:k]...) > room {
			k--
		}
		if k > 1 {
			s.Caution(texts[:k]...)
			texts = texts[k:]
		}
		s.Need(s.CautionHeight(texts...) + signOff)
	}
	s.Caution(texts...)
}

// tradeHead says where, for which machine and by when.
func (s *sheets) tradeHead(t check.Trade, fs []*words.Told) {
	site, codes := s.r.Survey.Site, s.r.Survey.Codes
	kv := []page.KV{
		{Key: "Address", Value: site.Address, Field: "site.address"},
		{Key: "Contact on site", Value: join(", ", site.Contact, site.Phone), Field: "site.contact"},
		{Key: "Machine", Value: machineName(s.r)},
		{Key: "Delivery", Value: join(", ", site.DeliveryOn.String(), s.inDays())},
	}
	switch t {
	case check.Electrician:
		kv = append(kv, page.KV{Key: "Electrical code enforced", Value: codes.Electrical, Field: "codes.electrical"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	case check.Plumber:
		kv = append(kv, page.KV{Key: "Plumbing code enforced", Value: join(" ", codes.Plumbing, codes.PlumbingEdition), Field: "codes.plumbing"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	default:
		kv = append(kv, page.KV{Key: "Surveyed", Value: join(", ", site.SurveyedBy, site.SurveyedOn.String()), Field: "site.surveyed_by"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	}
	s.KeyValue(3, kv...)
	s.tally(fs)
}

// inDays is "in 19 days", empty when either date isn't known.
func (s *sheets) inDays() string {
	on := s.r.Survey.Site.DeliveryOn
	if !on.Known() || !s.r.Today.Known() {
		return ""
	}
	switch n := s.r.Today.DaysUntil(on); {
	case n == 0:
		return "today"
	case n < 0:
		return plural(-n, "day", "days") + " ago"
	default:
		return "in " + plural(n, "day", "days")
	}
}

// tally shows how many points of a trade stand where, in one line of marks.
func (s *sheets) tally(fs []*words.Told) {
	n, worst := counts(fs)
	if worst == check.NA {
		return
	}
	const size = 4.6
	s.Need(size + 3)
	x := s.Left()
	st := page.Style{Size: 11, Bold: true}
	for _, v := range []check.Verdict{check.Fix, check.Missing, check.Confirm, check.OK} {
		if n[v] == 0 {
			continue
		}
		text := fmt.Sprint(n[v])
		w := page.TextWidth(text, st)
		s.TextBox(page.Rect{X: x, Y: s.Y() - 0.35, W: w + 0.5, H: 6}, text, st)
		x += w + 1.6
		x += s.Verdict(x, s.Y(), size, verdict(v)) + 7
	}
	s.Advance(size + 2)
}

// points lists what is open: required, found, what to do, and what would cure it.
func (s *sheets) points(t check.Trade, fs []*words.Told, cited *citations) {
	s.Heading(1, s.w.Headings.Points)
	c := s.w.Columns
	table := page.Table{Columns: []page.Column{
		{Head: c.State, Width: 27}, {Head: c.Required, Flex: 1}, {Head: c.Found, Flex: 1}, {Head: c.Do, Flex: 2.1},
	}}
	for _, st := range s.path {
		if st.f.Trade != t {
			continue
		}
		f := st.f
		head := page.Cell{Text: f.ID + "  " + upperFirst(f.Title), Tick: true, Size: 9.5, Field: f.ID}
		if f.Check != nil {
			head.Note = f.Check.Why
		}
		table.Rows = append(table.Rows,
			page.Row{Group: true, Anchor: findingAnchor(f.ID), Cells: []page.Cell{head}},
			page.Row{Cells: []page.Cell{
				{Verdict: verdict(f.Verdict), Note: s.ref(f, cited)},
				{Text: f.Want, Field: f.ID},
				{Text: f.Have, Note: join("\n", f.Margin, s.remarks(f)), Field: f.ID},
				{Text: s.doText(f), Field: f.ID},
			}})
	}
	if len(table.Rows) == 0 {
		s.Paragraph(s.w.Sentences.NothingOpen)
		return
	}
	s.Table(table)
}

// ref names the sources of a finding and the page of its calculation.
func (s *sheets) ref(f *words.Told, cited *citations) string {
	text := cited.cite(f)
	if !s.alone && computed(f) {
		text = join("\n", text, "worked on page "+s.PageOf(calcAnchor(f.ID)))
	}
	return text
}

// remarks are what the surveyor wrote beside the answers.
func (s *sheets) remarks(f *words.Told) string {
	var notes []string
	for _, path := range survey.Paths(f.At) {
		if n := s.r.Survey.Answer(path).Note; n != "" && !slices.Contains(notes, n) {
			notes = append(notes, n)
		}
	}
	if len(notes) == 0 {
		return ""
	}
	return templates.Fill(s.w.Sentences.Remark, "text", strings.Join(notes, "; "))
}

// doText is the action and, under it, the changes that the checks proved.
func (s *sheets) doText(f *words.Told) string {
	lines := []string{upperFirst(f.Action)}
	var cures []string
	for _, rem := range f.Remedies {
		if !strings.HasPrefix(strings.ToLower(f.Action), strings.ToLower(rem.Change)) {
			cures = append(cures, "• "+rem.Change)
		}
	}
	switch len(cures) {
	case 0:
	case 1:
		lines = append(lines, s.w.Sentences.Cure)
	default:
		lines = append(lines, s.w.Sentences.Cures)
	}
	lines = append(lines, cures...)
	return join("\n", lines...)
}

// inOrder lists what is in order and what does not arise, short.
func (s *sheets) inOrder(fs []*words.Told) {
	list := func(heading string, v check.Verdict) {
		var items []string
		for _, f := range fs {
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
