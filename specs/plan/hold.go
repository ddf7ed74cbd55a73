package plan

import (
	"slices"

	"firstfill/specs/check"
	"firstfill/survey"
)

// Holds says why a trade must not build yet; nothing when it may: the supply
// option isn't settled, an answer that its work rests on isn't read, or a
// fault stands that nothing here cures.
func (p *Plan) Holds(t check.Trade) []check.Phrase {
	var why []check.Phrase
	if t == check.Electrician || t == check.Supplier {
		switch name, changes := p.Change(survey.Ask.Machine.Supply); {
		case changes:
			why = append(why, check.Say("hold.option-change", "option", check.Quote(name), "step", p.stepThatSets(survey.Ask.Machine.Supply)))
		case !survey.Ask.Machine.Supply.Known(p.Found.Survey) && len(p.Found.Machine.Power.Supplies) > 1:
			why = append(why, check.Say("hold.option-open"))
		}
	}
	var unread check.Listed
	for _, path := range p.Unread(t) {
		unread = append(unread, check.Question(path))
	}
	if len(unread) > 0 {
		why = append(why, check.Say("hold.unread", "questions", unread))
	}
	for _, st := range p.Stands {
		if f := p.Report().Finding(st.ID); f != nil && f.Trade == t {
			why = append(why, check.Say("hold.stands", "id", check.Quote(st.ID), "why", st.Why))
		}
	}
	return why
}

// Unread are the answers that a trade's work rests on and that aren't there, in walking order.
func (p *Plan) Unread(t check.Trade) []string {
	var paths []string
	for _, f := range p.Built.Findings {
		if f.Verdict != check.Missing || f.Trade != t || f.Stage >= check.BeforeStart {
			continue
		}
		for _, path := range survey.Paths(f.At) {
			if !slices.Contains(paths, path) {
				paths = append(paths, path)
			}
		}
	}
	slices.SortStableFunc(paths, func(a, b string) int { return survey.Order(a) - survey.Order(b) })
	return paths
}
