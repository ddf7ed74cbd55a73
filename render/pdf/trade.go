package pdf

import (
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/templates"
)

// trade is one trade's sheet. It holds nothing of the other trades but whom to
// call, and can be used alone.
func (s *sheets) trade(t check.Trade) {
	said := s.w.Trades[string(t)]
	s.start(strings.ToUpper(s.tradeName(t)))
	s.Anchor(tradeAnchor(t))
	if s.alone {
		s.letterhead()
	}
	sub := siteName(s.r) + " · " + machineName(s.r)
	if t != check.Electrician && t != check.Plumber {
		sub = "" // site and machine stand in the header line
	}
	s.title(said.Title, sub)
	s.tradeHead(t)
	s.hold(t)
	switch t {
	case check.Electrician:
		s.StyledParagraph(s.circuit(), page.Style{Size: 10.5, Bold: true, Leading: 1.25})
		s.tables(t, nil, aside{})
		s.pictures(t)
	case check.Plumber:
		both, rest := s.twins(t, check.Cold, check.Hot, s.settings)
		s.tables(t, both, rest, check.Cold, check.Hot)
		s.pictures(t)
	case check.Builder:
		s.tables(t, nil, aside{})
		s.pictures(t)
	case check.Owner:
		s.tables(t, nil, aside{})
	case check.Supplier:
		s.order()
		ls, rest := s.wayIn()
		s.tables(t, ls, rest, check.Way)
	}
	s.work(t)
	s.readings(t)
	s.notes(t)
	s.closing(t)
	if t == check.Supplier {
		s.wayDrawn()
	}
	s.photos(t)
}

// hold says whether a trade may build, and what holds it.
func (s *sheets) hold(t check.Trade) {
	if why := s.why(t); len(why) > 0 {
		s.Banner(s.say("hold.word"), strings.Join(why, " "), true)
		return
	}
	n := 0
	for _, st := range s.r.Plan.Steps {
		if st.Trade == t {
			n++
		}
	}
	text := s.say("hold.go-none")
	if n > 0 {
		name := "hold.go"
		if t == check.Owner || t == check.Supplier { // who build nothing
			name = "hold.go-do"
		}
		text = s.say(name, "steps", quote(s.count(n, "count.step")))
	}
	s.Banner(s.say("hold.go-word"), text, false)
}

// fewQuestions is how many unread answers are named in a banner.
const fewQuestions = 4

// spelled is how many of the points that stand are told in full.
const spelled = 2

// why is what holds a trade, a sentence each. Of many points that stand, the
// first are told, which the others mostly hang on, and the others named.
func (s *sheets) why(t check.Trade) []string {
	var why, more []string
	told := 0
	for _, p := range s.r.Plan.Holds(t) {
		if p.Name == "hold.stands" {
			if told++; told > spelled {
				more = append(more, s.to.Value(p.Blanks[0].Value))
				continue
			}
		}
		if p.Name == "held.unread" {
			if l, ok := p.Blanks[0].Value.(check.Listed); ok && len(l) > fewQuestions {
				p = check.Say("held.unread-many", "n", len(l), "heading", check.Quote(s.w.Headings.Unread))
			}
		}
		why = append(why, upperFirst(s.phrase(p))+".")
	}
	if len(more) > 0 {
		why = append(why, s.say("hold.more", "ids", quote(strings.Join(more, ", "))))
	}
	return why
}

// tradeHead says where, whom to call, by when, and for the two trades that work
// to a code, by which one.
func (s *sheets) tradeHead(t check.Trade) {
	site, codes := s.r.Survey.Site, s.r.Survey.Codes
	code := ""
	switch t {
	case check.Electrician:
		code = s.to.Word(codes.Electrical)
	case check.Plumber:
		code = s.plumbing(codes)
	}
	kv := []page.KV{
		{Key: s.say("head.address"), Value: site.Address, Field: "site.address"},
		{Key: s.say("head.contact"), Value: join(", ", site.Contact, site.Phone), Field: "site.contact"},
		{Key: s.say("head.delivery"), Value: site.DeliveryOn.String()},
	}
	if code == "" {
		s.KeyValue(3, kv...)
		return
	}
	s.KeyValue(3, append(kv,
		page.KV{Key: s.say("head.code"), Value: code, Field: "codes"},
		page.KV{Key: s.say("head.authority"), Value: codes.Authority, Field: "codes.authority"},
		page.KV{Key: s.say("head.surveyed"), Value: join(", ", site.SurveyedBy, site.SurveyedOn.String()), Field: "site.surveyed_by"},
	)...)
}

// plumbing names the plumbing code with its edition; one of no table by its
// edition alone.
func (s *sheets) plumbing(c survey.Codes) string {
	if c.Plumbing == "other" && c.PlumbingEdition != "" {
		return c.PlumbingEdition
	}
	return join(" ", s.to.Word(c.Plumbing), c.PlumbingEdition)
}

// closing is the end of a part: hazards, sign-off, where it goes. The sign-off
// never stands alone: the last hazards go over with it.
func (s *sheets) closing(t check.Trade) {
	said := s.w.Trades[string(t)]
	sign := page.SignOff{
		Title:     templates.Fill(s.w.SignOff.Title, "trade", strings.ToLower(s.tradeName(t))),
		Statement: templates.Fill(said.Statement, "revision", s.say("sheet.revision-of", "revision", quote(s.rev), "digest", quote(s.r.Survey.Digest()))),
		Company:   company(s.r.Survey, t), Field: "site." + string(t),
		Labels: page.SignOffLabels{
			Company: s.w.SignOff.Company, Licence: s.w.SignOff.Licence, Name: s.w.SignOff.Name,
			Signature: s.w.SignOff.Signature, Date: s.w.SignOff.Date,
		},
	}
	var blocks []page.Signal
	for _, b := range []page.Signal{{Word: s.say("signal.warning"), Lethal: true, Texts: s.hazards(said.Warnings)}, {Word: s.say("signal.caution"), Texts: s.hazards(said.Cautions)}} {
		if len(b.Texts) > 0 {
			blocks = append(blocks, b)
		}
	}
	send := join(" ", s.say("send.back", "to", quote(s.sender())), s.others(t))
	small := page.Style{Size: 8, Leading: 1.25}
	end := s.SignOffHeight(sign) + 3 + lineHeight(small)*float64(len(page.Wrap(s.Clean("site", send), s.Width(), small)))
	for i, b := range blocks {
		if i == len(blocks)-1 {
			if need := s.SignalHeight(b) + end; need > s.Room() {
				s.Need(min(need, s.BodyHeight()))
			}
		}
		s.Signal(b)
	}
	s.SignOff(sign)
	s.StyledParagraph(s.Clean("site", send), small)
	if general := strings.Join(strings.Fields(s.r.Survey.Notes), " "); s.alone && general != "" {
		text := s.Clean("notes", s.say("note.survey", "note", quote(general)))
		if n := lineHeight(small) * float64(len(page.Wrap(text, s.Width(), small))); n < s.Room() {
			s.StyledParagraph(text, small)
		}
	}
}

// others names the other trades and whom to call there.
func (s *sheets) others(t check.Trade) string {
	var others []string
	for _, o := range check.Trades {
		if who := company(s.r.Survey, o); who != "" && o != t && o != check.Owner {
			others = append(others, s.say("contacts.one", "trade", quote(s.tradeName(o)), "who", quote(who)))
		}
	}
	if len(others) == 0 {
		return ""
	}
	return s.say("contacts.all", "list", quote(strings.Join(others, "; ")))
}

// sender is who hands the packet out and takes it back.
func (s *sheets) sender() string {
	if l := s.o.Letterhead; l != nil {
		return join(", ", append([]string{l.Name}, l.Lines...)...)
	}
	if by := s.r.Survey.Site.SurveyedBy; by != "" {
		return by
	}
	return s.say("build.blank")
}

// hazards are the hazards that this machine and its supply have.
func (s *sheets) hazards(list []templates.Hazard) []string {
	var texts []string
	for _, h := range list {
		if s.holds(h.Only) {
			texts = append(texts, s.figures(h.Text))
		}
	}
	return texts
}

// holds says whether all of some traits are the machine's, its supply's or the site's.
func (s *sheets) holds(only []string) bool {
	traits := s.r.Machine.Traits()
	p := s.supply()
	if p.Phases == 3 {
		traits = append(traits, "3-phase")
	} else {
		traits = append(traits, "1-phase")
	}
	if s.lineConductors() == 1 {
		traits = append(traits, "1-line")
	}
	if p.Neutral || s.r.Machine.Basis == "iec" {
		traits = append(traits, "neutral")
	}
	for _, o := range only {
		if not, ok := strings.CutPrefix(o, "not "); ok == slices.Contains(traits, strings.TrimPrefix(not, "not ")) {
			return false
		}
	}
	return true
}

// notes are the remarks that the surveyor wrote beside a trade's answers, what
// became of earlier sign-offs, and on a sheet alone the survey's own notes.
func (s *sheets) notes(t check.Trade) {
	var lines []string
	seen := map[string]bool{}
	for _, f := range s.r.For(t) {
		for _, at := range f.At {
			path := at.Path()
			if n := s.r.Survey.Answer(path).Note; n != "" && !seen[path] {
				seen[path] = true
				lines = append(lines, s.say("note.of", "question", check.Question(path), "note", quote(n)))
			}
		}
	}
	if len(lines) > 0 {
		s.Heading(2, s.w.Headings.Notes)
		for _, l := range lines {
			s.StyledParagraph(s.Clean("notes", upperFirst(l)), page.Style{Size: rowSize, Leading: 1.25})
		}
	}
	s.revisions(t)
}

// revisions tells what a trade signed and what of it reopened and why; the
// summary, for which no trade is named, only how many are signed.
func (s *sheets) revisions(t check.Trade) {
	if s.o.Now == nil {
		return
	}
	var lines []string
	var marks []string              // as they were written, in order
	signed := map[string][]string{} // what stands under the same mark
	n := 0
	for _, it := range s.o.Now.Items {
		if it.Mark.Empty() || t != "" && it.Trade != t {
			continue
		}
		n++
		mark := it.Mark.String()
		if signed[mark] == nil {
			marks = append(marks, mark)
		}
		signed[mark] = append(signed[mark], s.say("revised.point", "id", quote(it.ID), "title", quote(it.Title)))
	}
	if t == "" && n > 0 {
		lines = append(lines, s.say("revised.count", "n", n))
	} else {
		for _, mark := range marks {
			lines = append(lines, s.say("revised.signed", "mark", quote(mark), "points", quote(strings.Join(signed[mark], "; "))))
		}
	}
	for _, e := range s.o.Now.Earlier {
		if t == "" || e.Trade == t {
			lines = append(lines, s.say("revised.earlier", "id", quote(e.ID), "title", quote(e.Title), "revision", quote(e.Revision),
				"mark", quote(e.Mark.String()), "outcome", quote(string(e.Outcome)), "change", quote(e.Change)))
		}
	}
	if len(lines) == 0 {
		return
	}
	s.Heading(2, s.say("revised.heading"))
	for _, l := range lines {
		s.StyledParagraph(s.Clean("sign-offs", upperFirst(l)), page.Style{Size: rowSize, Leading: 1.25})
	}
}
