package pdf

import (
	"fmt"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/templates"
)

// trade is one trade's sheet. It holds nothing of the other trades and can be
// used alone.
func (s *sheets) trade(t check.Trade) {
	r, said := s.r, s.w.Trades[string(t)]
	fs := r.For(t)
	s.start(strings.ToUpper(s.tradeName(t)))
	s.Anchor(tradeAnchor(t))
	if s.alone {
		s.letterhead()
	}
	s.Title(said.Title, siteName(r), "REVISION "+s.rev)
	s.tradeHead(t, fs)

	s.numbers(t)
	s.extras(t)
	drawings(s.Doc, r, t)
	s.work(t)
	statement := templates.Fill(said.Statement, "revision", s.rev+", answers "+r.Survey.Digest())
	sign := page.SignOff{
		Title:     templates.Fill(s.w.SignOff.Title, "trade", strings.ToLower(s.tradeName(t))),
		Statement: statement,
		Company:   company(s.r.Survey, t), Field: "site." + string(t),
		Labels: page.SignOffLabels{
			Company: s.w.SignOff.Company, Licence: s.w.SignOff.Licence, Name: s.w.SignOff.Name,
			Signature: s.w.SignOff.Signature, Date: s.w.SignOff.Date,
		},
	}
	s.cautions(said.Cautions, s.SignOffHeight(sign))
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
		{Key: "Delivery", Value: site.DeliveryOn.String()},
	}
	switch t {
	case check.Electrician:
		kv = append(kv, page.KV{Key: "Electrical code enforced", Value: words.Word(codes.Electrical), Field: "codes.electrical"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	case check.Plumber:
		kv = append(kv, page.KV{Key: "Plumbing code enforced", Value: join(" ", words.Word(codes.Plumbing), codes.PlumbingEdition), Field: "codes.plumbing"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	default:
		kv = append(kv, page.KV{Key: "Surveyed", Value: join(", ", site.SurveyedBy, site.SurveyedOn.String()), Field: "site.surveyed_by"},
			page.KV{Key: "Authority having jurisdiction", Value: codes.Authority, Field: "codes.authority"})
	}
	s.KeyValue(3, kv...)
	s.tally(fs)
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
