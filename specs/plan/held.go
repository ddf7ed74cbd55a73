package plan

import (
	"cmp"
	"maps"
	"reflect"
	"slices"
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
)

// A Hold is what can't be sized yet, since an answer is missing or the supply
// option isn't settled. Nothing of it is built before.
type Hold struct {
	Trade   check.Trade
	Subject check.Subject
	Stage   check.Stage // by when it must be known
	At      []string    // answers that it waits for, in the questionnaire's order
	IDs     []string    // checks that can't be judged without
	Why     check.Phrase
	Right   bool // the plan is right whatever the answer will be: it is to be read, and nothing waits for it
}

// ofOption says whether a hold is that of the supply option, for which the
// supplier and the electrician wait.
func (h Hold) ofOption() bool {
	return h.Subject == check.Supply && slices.Contains(h.At, survey.Ask.Machine.Supply.Path())
}

// For says whether a trade waits for it.
func (h Hold) For(t check.Trade) bool {
	return h.Trade == t || h.ofOption() && (t == check.Electrician || t == check.Supplier)
}

// Holds says why a trade must not build yet, in sentences for its sheet;
// nothing when it may: what is on hold for it before the machine is started,
// and the faults that nothing here cures.
func (p *Plan) Holds(t check.Trade) []check.Phrase {
	var why []check.Phrase
	var unread []string
	for _, h := range p.Held() {
		switch {
		case !h.For(t) || h.Right || h.Stage >= check.BeforeStart:
		case h.ofOption():
			why = append(why, h.Why)
		default:
			unread = append(unread, h.At...)
		}
	}
	if len(unread) > 0 {
		why = append(why, check.Say("held.unread", "questions", questions(unread)))
	}
	for _, st := range p.Stands {
		if f := p.Report().Finding(st.ID); f != nil && f.Trade == t {
			why = append(why, check.Say("hold.stands", "id", check.Quote(st.ID), "why", st.Why))
		}
	}
	return why
}

// questions are the wordings of answers, each once, in walking order.
func questions(paths []string) check.Listed {
	slices.SortStableFunc(paths, func(a, b string) int { return cmp.Or(survey.Order(a)-survey.Order(b), strings.Compare(a, b)) })
	var asks check.Listed
	for _, path := range slices.Compact(paths) {
		asks = append(asks, check.Question(path))
	}
	return asks
}

// Held is what the plan leaves open, by trade and subject: first the supply
// option, then what waits for an answer.
func (p *Plan) Held() []Hold {
	if p.held == nil {
		p.held = append(p.unsettled(), p.waiting()...)
	}
	return p.held
}

// unsettled is the hold of a supply option that nobody has settled: the
// circuit is reckoned for the one that suits what was read.
func (p *Plan) unsettled() []Hold {
	option := survey.Ask.Machine.Supply
	var ids []string
	for _, f := range p.Built.Findings {
		if f.Verdict == check.Confirm && slices.ContainsFunc(f.At, func(a survey.Ref) bool { return a.Path() == option.Path() }) {
			ids = append(ids, f.ID)
		}
	}
	slices.Sort(ids)
	name := check.Quote(p.Built.Supply.Name)
	h := Hold{Trade: check.Supplier, Subject: check.Supply, At: []string{option.Path()}, IDs: ids}
	switch _, changes := p.Change(option); {
	case changes:
		h.Why = check.Say("held.option-change", "option", name, "step", p.stepThatSets(option))
	case p.Built.Survey.Machine.Supply == "" && len(p.Built.Machine.Power.Supplies) > 1:
		h.Why = check.Say("held.option", "option", name)
	case len(ids) > 0:
		h.Trade, h.Why = check.Electrician, check.Say("held.supply", "option", name)
	default:
		return nil
	}
	return []Hold{h}
}

// waiting are the holds of missing answers: one for each that the rest can be
// built without knowing, and one for all others of a subject.
func (p *Plan) waiting() []Hold {
	byQuestion, paths := p.missing()
	type key struct {
		trade   check.Trade
		subject check.Subject
	}
	groups := map[key]*Hold{}
	var holds []Hold
	for _, path := range paths {
		fs := byQuestion[path]
		if way, ok := p.whatever(path, fs); ok && way.Set == nil {
			h := Hold{Trade: fs[0].Trade, Subject: fs[0].Subject, Stage: fs[0].Stage, At: []string{path}, Why: check.Say("held.whatever", "question", check.Question(path)), Right: true}
			for _, f := range fs {
				h.IDs, h.Stage = append(h.IDs, f.ID), min(h.Stage, f.Stage)
			}
			slices.Sort(h.IDs)
			holds = append(holds, h)
			continue
		}
		for _, f := range fs {
			k := key{f.Trade, f.Subject}
			h := groups[k]
			if h == nil {
				h = &Hold{Trade: f.Trade, Subject: f.Subject, Stage: f.Stage}
				groups[k] = h
			}
			h.Stage = min(h.Stage, f.Stage)
			if !slices.Contains(h.At, path) {
				h.At = append(h.At, path)
			}
			if !slices.Contains(h.IDs, f.ID) {
				h.IDs = append(h.IDs, f.ID)
			}
		}
	}
	for _, h := range groups {
		slices.Sort(h.IDs)
		h.Why = check.Say("held.unread", "questions", questions(h.At))
		holds = append(holds, *h)
	}
	slices.SortFunc(holds, func(a, b Hold) int {
		return cmp.Or(cmp.Compare(slices.Index(check.Trades, a.Trade), slices.Index(check.Trades, b.Trade)),
			slices.Compare(a.IDs, b.IDs), slices.Compare(a.At, b.At))
	})
	return holds
}

// whatever says whether the plan is right whatever a missing answer out of a
// closed list will be, or with one more change, way, that is right with each of them.
func (p *Plan) whatever(path string, waiting []*check.Finding) (way check.Remedy, ok bool) {
	f := survey.FieldAt(path)
	var answers []string
	if len(f.Choices) > 0 || f.YesNo() {
		answers = likely(f)
	}
	if len(answers) == 0 || len(answers) > 6 {
		return way, false
	}
	var ways []check.Remedy
	for _, text := range answers {
		c, err := p.Built.Case.With(map[string]string{path: text})
		if err != nil {
			return way, false
		}
		for _, w := range waiting {
			switch then := c.Judge(w.Check); then.Verdict {
			case check.Missing, check.Confirm:
				return way, false // that answer alone doesn't settle it
			case check.Fix:
				cures, _ := c.Ways(then)
				if len(cures) == 0 {
					return way, false
				}
				ways = append(ways, cures...)
			}
		}
	}
	if len(ways) == 0 {
		return way, true
	}
	slices.SortStableFunc(ways, func(a, b check.Remedy) int { return cmp.Compare(workOf(a), workOf(b)) })
	for _, r := range ways {
		if _, asked := r.Set[path]; !asked && workOf(r) <= check.Fitting && p.safe(r, path, answers, waiting) {
			return r, true
		}
	}
	return way, false
}

// forWorst adds to the plan what is right whatever a missing answer will be,
// sized for the worst that it can be.
func (p *Plan) forWorst(s *search) {
	byQuestion, paths := p.missing()
	for _, path := range paths {
		way, ok := p.whatever(path, byQuestion[path])
		if !ok || way.Set == nil {
			continue
		}
		o, err := s.optionOf(p.Built.Case, byQuestion[path][0].Check, way)
		if err != nil {
			continue
		}
		built, err := p.Built.Having(way.Set)
		if err != nil {
			continue
		}
		o.worst = path
		p.ways, p.Built = append(p.ways, o), built
		for path, text := range way.Set {
			if !isSo(p.Found.Survey, path, text) {
				p.Set[path] = text
			}
		}
	}
}

// missing are the findings that wait for answers, by question, and the
// questions in walking order.
func (p *Plan) missing() (byQuestion map[string][]*check.Finding, paths []string) {
	byQuestion = map[string][]*check.Finding{}
	for _, f := range p.Built.Open(check.Missing) {
		if f.Reads == survey.Every() {
			continue // papers
		}
		for _, path := range survey.Paths(f.At) {
			byQuestion[path] = append(byQuestion[path], f)
		}
	}
	paths = slices.SortedFunc(maps.Keys(byQuestion), func(a, b string) int { return cmp.Or(survey.Order(a)-survey.Order(b), strings.Compare(a, b)) })
	return byQuestion, paths
}

// safe says whether a change leaves what waits right with each of some
// answers, and brings no fault with any.
func (p *Plan) safe(r check.Remedy, path string, answers []string, waiting []*check.Finding) bool {
	for _, text := range answers {
		before, err := p.Built.Having(map[string]string{path: text})
		if err != nil {
			return false
		}
		after, err := before.Having(r.Set)
		if err != nil {
			return false
		}
		for i, f := range after.Findings {
			waits := slices.ContainsFunc(waiting, func(w *check.Finding) bool { return w.ID == f.ID })
			if f.Verdict.Blocks() && (waits || !before.Findings[i].Verdict.Blocks()) || f.Verdict == check.Confirm && before.Findings[i].Verdict == check.OK {
				return false
			}
		}
	}
	return true
}

// rests names in every step the answers in doubt that it rests on: those with
// which what it cures comes out otherwise, missing or to be read more exactly.
func (p *Plan) rests() {
	type doubt struct {
		path  string
		moves func(c *check.Case, g *check.Finding) bool
	}
	var doubts []doubt
	for _, f := range p.Built.Findings {
		switch {
		case f.Verdict == check.Confirm && f.Settle != "":
			doubts = append(doubts, doubt{f.Settle, func(c *check.Case, g *check.Finding) bool { return sways(c, g, f.Settle) }})
		case f.Verdict == check.Missing && f.Reads != survey.Every():
			for _, path := range survey.Paths(f.At) {
				doubts = append(doubts, doubt{path, func(c *check.Case, g *check.Finding) bool { return undoes(c, g, path) }})
			}
		}
	}
	doubts = slices.DeleteFunc(doubts, func(d doubt) bool { _, planned := p.Set[d.path]; return planned })
	if len(doubts) == 0 {
		return
	}
	slices.SortStableFunc(doubts, func(a, b doubt) int {
		return cmp.Or(survey.Order(a.path)-survey.Order(b.path), strings.Compare(a.path, b.path))
	})
	p.Built.Each(len(p.Steps), func(c *check.Case, i int) {
		st := &p.Steps[i]
		for _, d := range doubts {
			if slices.Contains(st.Rests, d.path) {
				continue
			}
			var bit survey.Bits
			bit.AddPath(d.path)
			if slices.ContainsFunc(p.Built.Findings, func(g *check.Finding) bool {
				return g.Reads.Meets(bit) && slices.Contains(st.Cures, g.ID) && d.moves(c, g)
			}) {
				st.Rests = append(st.Rests, d.path)
			}
		}
	})
}

// sways says whether what a check finds or asks for moves with a reading, within its uncertainty.
func sways(c *check.Case, g *check.Finding, path string) bool {
	var bit survey.Bits
	bit.AddPath(path)
	for _, in := range c.Survey.Uncertain(bit) {
		if in.Path != path {
			continue
		}
		for _, end := range []float64{-1, +1} {
			undo := in.Set(end)
			out := c.Run(g.Check)
			undo()
			if out.Verdict != g.Verdict || !reflect.DeepEqual(out.Have.Value, g.Have.Value) || !reflect.DeepEqual(out.Want.Value, g.Want.Value) {
				return true
			}
		}
	}
	return false
}

// undoes says whether a check that is right as planned isn't with some answer to a question.
func undoes(c *check.Case, g *check.Finding, path string) bool {
	for _, text := range likely(survey.FieldAt(path)) {
		if then, err := c.With(map[string]string{path: text}); err == nil && then.Judge(g.Check).Verdict.Blocks() {
			return true
		}
	}
	return false
}
