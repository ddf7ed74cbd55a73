package check

import (
	"math"
	"slices"
	"strings"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Options fix what a judgement depends on beside the site and the machine.
type Options struct {
	Today    survey.Date
	Machines func() []*specs.Machine // the library, read when another machine is looked for; nil: none
}

// NewCase lays a site beside a machine.
func NewCase(s *survey.Survey, m *specs.Machine, o Options) *Case {
	c := &Case{Survey: s.Clone(), Machine: m, Today: o.Today, lib: o.Machines, memo: newMemo()}
	c.Supply = chooseSupply(c.Survey, m)
	return c
}

func (c *Case) options() Options {
	return Options{Today: c.Today, Machines: c.lib}
}

// on returns the case with another survey.
func (c *Case) on(s *survey.Survey) *Case {
	n := *c
	n.Survey = s
	if s.Machine.Key != c.Machine.Key {
		for _, m := range c.Machines() {
			if m.Key == s.Machine.Key {
				n.Machine, n.silent = m, &silent{}
			}
		}
	}
	n.Supply = chooseSupply(s, n.Machine)
	return &n
}

// With returns the case with other answers tried in it.
func (c *Case) With(set map[string]string) (*Case, error) {
	settings, err := c.Survey.Settings(set)
	if err != nil {
		return nil, err
	}
	s, _, err := c.Survey.With(settings...)
	if err != nil {
		return nil, err
	}
	return c.on(s), nil
}

// Moved says whether the answers stand at an end of their uncertainty, and not
// as they were read.
func (c *Case) Moved() bool { return c.moved }

// chooseSupply takes the option that the questionnaire names, else the first
// whose phases and voltage suit what was read, else the first on the sheet.
func chooseSupply(s *survey.Survey, m *specs.Machine) *specs.Supply {
	if len(m.Power.Supplies) == 0 {
		return &specs.Supply{}
	}
	if s.Machine.Supply != "" {
		if p, err := m.SupplyNamed(s.Machine.Supply); err == nil {
			return p
		}
	}
	for i := range m.Power.Supplies {
		p := &m.Power.Supplies[i]
		v := VoltsAt(m, p).Of(s)
		if !v.Known() || (s.Power.Phases.Known() && s.Power.Phases.N() != p.Phases) {
			continue
		}
		// A limit that the sheet doesn't say rules nothing out.
		if (!p.VoltageMin.Known() || v.Cmp(p.VoltageMin) >= 0) && (!p.VoltageMax.Known() || v.Cmp(p.VoltageMax) <= 0) {
			return p
		}
	}
	return &m.Power.Supplies[0]
}

// VoltsAt picks the voltage at which a supply option works: line to neutral
// for a 120 V machine and for single phase on the IEC basis, else line to line.
func VoltsAt(m *specs.Machine, p *specs.Supply) survey.Answer[quantity.Voltage] {
	if p.Phases == 1 && (m.Basis == "iec" || p.VoltageMax.Known() && p.VoltageMax.In(quantity.Volt) < 150) {
		return survey.Ask.Power.LineToNeutral
	}
	return survey.Ask.Power.LineToLine
}

// Volts is the answer that holds the site's voltage at the chosen supply option.
func (c *Case) Volts() survey.Answer[quantity.Voltage] { return VoltsAt(c.Machine, c.Supply) }

// Judge runs one check over the uncertainty of its answers. It is pure; a
// check that panics gives a CONFIRM finding that names the internal error.
//
// Uncertainty: each answer that the check reads carries a half-width, as
// written or its instrument's default. The check is run at its answers as
// read, then with each answer at either end of its interval, and last with all
// answers together at their worse and at their better end. That finds the true
// extremes wherever the margin rises or falls steadily in each answer. OK
// stands only if every run meets the requirement, FIX only if none does; else
// CONFIRM, naming the answer that moves the margin most.
func (c *Case) Judge(k *Check) *Finding {
	if !c.remembers(k) {
		return c.judge(k)
	}
	f, reads, ok := recalled(c, c.memo.judged, k)
	if ok {
		c.joins(reads)
		return f
	}
	f = c.judge(k)
	remember(c, c.memo.judged, k, f, f.Reads)
	return f
}

func (c *Case) judge(k *Check) (f *Finding) {
	f = &Finding{Check: k}
	f.Reads = c.reading(func() {
		defer func() {
			if p := recover(); p != nil {
				f.Outcome = Outcome{Verdict: Confirm, Have: FactOf(Say("internal.error", "error", Figured(p))), Want: FactOf(Say("internal.result")),
					Action: Say("internal.action"), Margin: Margin{Value: math.NaN()}}
			}
		}()
		if f.Unsaid = c.lacks(k); f.Unsaid != nil {
			c.run(k) // for the answers that it reads
			facts := make(Listed, len(f.Unsaid))
			for i, u := range f.Unsaid {
				facts[i] = Quote(u.Name())
			}
			f.Outcome = c.Silent(facts)
			return
		}
		f.Outcome = c.run(k)
		if f.Verdict != NA && f.Verdict != Missing && !f.Waits {
			was := c.moved
			c.moved = true
			c.weigh(k, f)
			c.moved = was
		}
		if f.Verdict == Fix {
			c.doubt(k, f)
		}
	})
	c.inWords(f)
	return f
}

// inWords leaves a finding to whoever can rule on it that hangs on an answer in
// the surveyor's own words ("other: lead"): to the checks that is no answer of
// their list. A FIX stands whatever the words are, and so does what another
// missing answer keeps open.
func (c *Case) inWords(f *Finding) {
	if f.Verdict != Missing && f.Verdict != OK || f.Reads == survey.Every() {
		return
	}
	own := c.Survey.OwnWords(f.Reads)
	if len(own) == 0 {
		return
	}
	lacks := slices.DeleteFunc(slices.Clone(f.At), func(a survey.Ref) bool { return a.Known(c.Survey) || slices.Contains(own, a.Path()) })
	if f.Verdict == Missing && (len(lacks) > 0 || len(f.At) == 0) {
		return
	}
	asks, said := make(List, len(own)), make(List, len(own))
	for i, path := range own {
		asks[i], said[i] = Question(path), Quote(c.Survey.Answer(path).Text)
		if a := survey.Named(path); !slices.ContainsFunc(f.At, func(b survey.Ref) bool { return b.Path() == path }) {
			f.At = append(slices.Clone(f.At), a)
		}
	}
	if f.Verdict == Missing {
		f.Have = FactOf(Say("words.have", "said", said))
		f.Want = FactOf(Say("words.want", "questions", asks))
	}
	f.Verdict, f.Margin = Confirm, NoMargin
	f.Action = Say("words.action", "questions", asks, "said", said)
}

// doubt finds what a FIX rests on that has to be measured again first: answers
// out of all proportion, or that can't both be right, without which it might
// not be one. Each is tried at its question's example. Nothing is ordered then.
func (c *Case) doubt(k *Check, f *Finding) {
	if *c.reads == survey.Every() {
		return
	}
	for _, d := range c.Survey.InDoubt(*c.reads) {
		plain := map[string]string{}
		for _, p := range d.Paths {
			plain[p] = survey.FieldAt(p).Example
			c.reads.AddPath(p)
		}
		after, err := c.With(plain)
		if err != nil || after.run(k).Verdict == Fix {
			continue
		}
		f.Doubt = d.Paths
		asks := make(Listed, len(d.Paths))
		for i, p := range d.Paths {
			asks[i] = Question(p)
		}
		f.Action = Say("doubt.again", "why", Quote(d.Text), "questions", asks)
		return
	}
}

// Run is the outcome of a check at the answers as read.
func (c *Case) Run(k *Check) Outcome { return c.run(k) }

func (c *Case) run(k *Check) Outcome {
	if k.Skip != nil {
		if why := k.Skip(c); !why.Zero() {
			return Outcome{Verdict: NA, Have: FactOf(why), Margin: Margin{Value: math.NaN()}}
		}
	}
	out := k.Run(c)
	if out.Verdict == Fix && k.Assumes != nil {
		return c.unassumed(k, out)
	}
	return out
}

// Passes says whether the check is OK under uncertainty. It stops at the first
// run that isn't.
func (c *Case) Passes(k *Check) bool {
	if !c.remembers(k) {
		_, ok := c.passes(k)
		return ok
	}
	ok, reads, known := recalled(c, c.memo.passed, k)
	if known {
		c.joins(reads)
		return ok
	}
	f, ok := c.passes(k)
	remember(c, c.memo.passed, k, ok, f.Reads)
	if ok && !f.Waits { // every run was made that judging makes
		remember(c, c.memo.judged, k, f, f.Reads)
	}
	return ok
}

// passes gives the finding of a check that is OK under uncertainty.
func (c *Case) passes(k *Check) (f *Finding, ok bool) {
	f = &Finding{Check: k}
	f.Reads = c.reading(func() {
		defer func() {
			if recover() != nil {
				ok = false
			}
		}()
		f.Outcome = c.run(k)
		if ok = f.Verdict == OK && c.lacks(k) == nil; !ok {
			return
		}
		defer func() {
			if ok && *c.reads != survey.Every() && len(c.Survey.OwnWords(*c.reads)) > 0 {
				ok = false
			}
		}()
		was := c.moved
		c.moved = true
		ok = c.holds(k, f)
		c.moved = was
	})
	return f, ok
}

// holds says whether a check that is OK at the answers as read stays OK with
// each answer at either end, and with all at their worse and better ends. It
// stops at the first run that isn't.
func (c *Case) holds(k *Check, f *Finding) bool {
	var effects []effect
	if *c.reads == survey.Every() {
		return true // it judges what was written down, not how exact it is
	}
	var done survey.Bits
	for more := true; more; {
		more = false
		todo := *c.reads
		for i := range todo {
			todo[i] &^= done[i]
		}
		done.Join(todo)
		for _, in := range c.Survey.Uncertain(todo) {
			more = true
			if impossible(in) {
				return false
			}
			if in.Value.HalfWidth() == 0 {
				continue
			}
			var ends [2]float64
			for i, end := range [2]float64{-1, +1} {
				undo := in.Set(end)
				out := c.run(k)
				undo()
				if out.Verdict != OK {
					return false
				}
				ends[i] = merit(&out)
			}
			e := effect{in: in, worse: -1, better: +1, swing: math.Abs(ends[1] - ends[0])}
			if ends[1] < ends[0] {
				e.worse, e.better = +1, -1
			}
			if e.swing > 0 {
				effects = append(effects, e)
			}
		}
	}
	if len(effects) == 0 {
		return true
	}
	worst := c.together(k, effects, func(e effect) float64 { return e.worse })
	if worst.Verdict != OK {
		return false
	}
	best := c.together(k, effects, func(e effect) float64 { return e.better })
	f.Worst, f.Best = worst.Have, best.Have
	return best.Verdict == OK
}

// merit orders outcomes of one check: higher is better.
func merit(o *Outcome) float64 {
	if !math.IsNaN(o.Margin.Value) && o.Margin.Gap != nil {
		return o.Margin.Value
	}
	switch o.Verdict {
	case Fix:
		return -1
	case OK:
		return 1
	}
	return 0
}

// An effect is what one answer's uncertainty does to a check.
type effect struct {
	in            survey.Input
	worse, better float64 // which end
	swing         float64
}

// weigh applies the uncertainty of the answers to a nominal outcome.
func (c *Case) weigh(k *Check, f *Finding) {
	var effects []effect
	met, failed, ruled := 0, 0, 0
	var ruling Phrase // what an authority must rule on, at an end of an interval
	tally := func(o *Outcome) {
		switch o.Verdict {
		case Fix:
			failed++
		case OK:
			met++
		case Confirm:
			met++
			ruled++
			ruling = o.Action
		}
	}
	nominal := f.Outcome
	tally(&nominal)
	// The check's runs may read further answers; they are weighed too.
	if *c.reads == survey.Every() {
		return // it judges what was written down, not how exact it is
	}
	var done survey.Bits
	for more := true; more; {
		more = false
		todo := *c.reads
		for i := range todo {
			todo[i] &^= done[i]
		}
		done.Join(todo)
		for _, in := range c.Survey.Uncertain(todo) {
			more = true
			if impossible(in) {
				f.Verdict, f.Settle, f.Margin = Confirm, in.Path, Margin{Value: math.NaN()}
				f.Action = Say("settle.impossible", "question", Question(in.Path), "reading", Read(c.Survey, in.Path))
				return
			}
			if in.Value.HalfWidth() == 0 {
				continue
			}
			undo := in.Set(-1)
			low := c.run(k)
			undo()
			undo = in.Set(+1)
			high := c.run(k)
			undo()
			tally(&low)
			tally(&high)
			e := effect{in: in, worse: -1, better: +1, swing: math.Abs(merit(&high) - merit(&low))}
			if merit(&high) < merit(&low) {
				e.worse, e.better = +1, -1
			}
			if e.swing > 0 {
				effects = append(effects, e)
			}
		}
	}
	if len(effects) == 0 && failed*met == 0 {
		return
	}
	if len(effects) > 0 {
		worst := c.together(k, effects, func(e effect) float64 { return e.worse })
		best := c.together(k, effects, func(e effect) float64 { return e.better })
		tally(&worst)
		tally(&best)
		f.Worst, f.Best = worst.Have, best.Have
	}
	switch {
	case failed == 0 && ruled == 0, met == 0:
		return
	case failed == 0:
		f.Verdict = Confirm
		if f.Action.Zero() {
			f.Action = ruling
		}
	default:
		f.Verdict = Confirm
		slices.SortStableFunc(effects, func(a, b effect) int {
			switch {
			case a.swing > b.swing:
				return -1
			case a.swing < b.swing:
				return 1
			}
			return 0
		})
		if len(effects) > 0 {
			f.Settle = effects[0].in.Path
			f.Action = c.settle(f.Settle, nominal.Action)
		}
	}
}

// together runs a check with every answer at one of its ends.
func (c *Case) together(k *Check, effects []effect, end func(effect) float64) Outcome {
	undo := make([]func(), len(effects))
	for i, e := range effects {
		undo[i] = e.in.Set(end(e))
	}
	o := c.run(k)
	for _, u := range slices.Backward(undo) {
		u()
	}
	return o
}

// impossible says whether an answer is below zero where nothing can be: a
// length of pipe, say. Temperatures are left to the doubts.
func impossible(in survey.Input) bool {
	if !strings.HasPrefix(in.Value.Text(), "-") {
		return false
	}
	sane := survey.FieldAt(in.Path).Sane
	return sane != "" && !strings.HasPrefix(sane, "-") && in.Value.Dimension() != "temperature"
}

// settle says which reading would settle a doubtful point.
func (c *Case) settle(path string, action Phrase) Phrase {
	if ways := c.Survey.Among(path); ways != nil {
		words := make(Listed, len(ways))
		for i, w := range ways {
			words[i] = Word(w)
		}
		return Say("settle.among", "question", Question(path), "reading", Read(c.Survey, path), "ways", words)
	}
	if action.Zero() {
		return Say("settle.reading", "question", Question(path), "reading", Read(c.Survey, path))
	}
	return Say("settle.reading-else", "question", Question(path), "reading", Read(c.Survey, path), "action", action)
}
