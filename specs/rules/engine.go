package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Options fix what a report depends on beside the site and the machine.
type Options struct {
	Today     survey.Date
	Units     quantity.System
	NoRemedy  bool     // don't solve for remedies (a board of many sites)
	OnlyCheck []*Check // nil: All
}

// Evaluate runs the checks on one site. It is pure; a check that panics gives
// a CONFIRM finding that names the internal error, and the others go on.
//
// Uncertainty: each answer used carries a half-width, as written or its
// instrument's default. A check is run at its answers as read, then with each
// answer at either end of its interval, and last with all answers together at
// their worse and at their better end. That finds the true extremes wherever
// the margin rises or falls steadily in each answer. OK stands only if every
// run meets the requirement, FIX only if none does; else CONFIRM, naming the
// answer that moves the margin most.
func Evaluate(s *survey.Survey, m *specs.Machine, o Options) *Report {
	checks := o.OnlyCheck
	if checks == nil {
		checks = All
	}
	c := newCase(s, m, o)
	r := &Report{Survey: s, Machine: m, Supply: c.Supply, Units: o.Units, Today: o.Today, Counts: map[Verdict]int{}, Verdict: NA}
	for _, k := range checks {
		r.Findings = append(r.Findings, c.judge(k))
	}
	if !o.NoRemedy {
		c.remedy(r, checks)
	}
	causes(r)
	for i := range r.Findings {
		v := r.Findings[i].Verdict
		r.Counts[v]++
		r.Verdict = min(r.Verdict, v)
	}
	r.Assumed = assumed(s, checks)
	return r
}

func newCase(s *survey.Survey, m *specs.Machine, o Options) *Case {
	c := &Case{Survey: s.Clone(), Machine: m, Today: o.Today, Units: o.Units}
	c.Supply = chooseSupply(c.Survey, m)
	return c
}

// with returns the case with other answers tried in it.
func (c *Case) with(set map[string]string) (*Case, error) {
	s, err := c.Survey.Try(set)
	if err != nil {
		return nil, err
	}
	return newCase(s, c.Machine, Options{Today: c.Today, Units: c.Units}), nil
}

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
		v, _ := supplyVoltage(s, m, p)
		if !v.Known() || (s.Power.Phases.Known() && s.Power.Phases.N() != p.Phases) {
			continue
		}
		if v.Cmp(p.VoltageMin) >= 0 && v.Cmp(p.VoltageMax) <= 0 {
			return p
		}
	}
	return &m.Power.Supplies[0]
}

// judge runs one check over the uncertainty of its answers.
func (c *Case) judge(k *Check) (f Finding) {
	defer func() {
		if p := recover(); p != nil {
			f = Finding{Check: k, ID: k.ID, Trade: k.Trade, Title: k.Title, Verdict: Confirm,
				Have: fmt.Sprintf("internal error: %v", p), Want: "a result", Margin: "",
				Action: "report this site to the program's makers and check the point by hand", Source: sources(k, Outcome{})}
		}
	}()
	out := c.run(k)
	f = Finding{Check: k, ID: k.ID, Trade: k.Trade, Title: k.Title, Verdict: out.Verdict, At: out.At,
		Have: out.Have, Want: out.Want, Margin: out.Margin.Text, Action: out.Action,
		Working: out.Working, Source: sources(k, out)}
	if out.Verdict == NA || out.Verdict == Missing {
		return f
	}
	c.weigh(k, out, &f)
	return f
}

func (c *Case) run(k *Check) Outcome {
	if k.Applies != nil {
		if why := k.Applies(c); why != "" {
			return Outcome{Verdict: NA, Have: why, Margin: Margin{Value: math.NaN()}}
		}
	}
	return k.Run(c)
}

// merit orders outcomes of one check: higher is better.
func merit(o Outcome) float64 {
	if !math.IsNaN(o.Margin.Value) && o.Margin.Text != "" {
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

// weigh applies the uncertainty of the answers to a nominal outcome.
func (c *Case) weigh(k *Check, out Outcome, f *Finding) {
	type effect struct {
		path          string
		worse, better float64 // which end
		swing         float64
	}
	inputs := c.Survey.Adjustables(k.Uses)
	for _, in := range inputs {
		if impossible(in) {
			field := survey.FieldAt(in.Path)
			f.Verdict, f.Settle, f.Margin = Confirm, in.Path, ""
			f.Action = fmt.Sprintf("measure again: %s, which can't be %s", lowerFirst(field.Ask), c.Survey.ReadingText(in.Path, c.Units))
			return
		}
	}
	var effects []effect
	met, failed, ruled := 0, 0, 0
	var ruling string // what an authority must rule on, at an end of an interval
	tally := func(o Outcome) {
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
	tally(out)
	for _, in := range inputs {
		if in.Value.HalfWidth() == 0 {
			continue
		}
		var low, high Outcome
		in.At(-1, func() { low = c.run(k) })
		in.At(+1, func() { high = c.run(k) })
		tally(low)
		tally(high)
		e := effect{path: in.Path, worse: -1, better: +1, swing: math.Abs(merit(high) - merit(low))}
		if merit(high) < merit(low) {
			e.worse, e.better = +1, -1
		}
		if e.swing > 0 {
			effects = append(effects, e)
		}
	}
	if len(effects) == 0 && failed*met == 0 {
		return
	}
	together := func(pick func(effect) float64) Outcome {
		var undo []func()
		for _, in := range inputs {
			for _, e := range effects {
				if e.path == in.Path {
					undo = append(undo, in.Set(pick(e)))
				}
			}
		}
		o := c.run(k)
		tally(o)
		for _, u := range slices.Backward(undo) {
			u()
		}
		return o
	}
	worst := together(func(e effect) float64 { return e.worse })
	best := together(func(e effect) float64 { return e.better })
	if len(effects) > 0 && worst.Have != best.Have {
		f.Worst, f.Best = worst.Have, best.Have
	}
	switch {
	case failed == 0 && ruled == 0, met == 0:
		return
	case failed == 0:
		f.Verdict = Confirm
		if f.Action == "" {
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
			f.Settle = effects[0].path
			f.Action = c.settleText(effects[0].path, out.Action)
		}
	}
}

// impossible says whether an answer is below zero where nothing can be: a
// length of pipe, say. Temperatures are left to the doubts.
func impossible(in survey.Input) bool {
	sane := survey.FieldAt(in.Path).Sane
	return sane != "" && !strings.HasPrefix(sane, "-") && strings.HasPrefix(in.Value.Text(), "-") && in.Value.Dimension() != "temperature"
}

// settleText says which reading would settle a doubtful point.
func (c *Case) settleText(path, action string) string {
	field := survey.FieldAt(path)
	text := fmt.Sprintf("measure %s more exactly: at %s it may pass or fail", lowerFirst(field.Ask), c.Survey.ReadingText(path, c.Units))
	if action != "" {
		text += "; if it fails, " + lowerFirst(action)
	}
	return text
}

// assumed lists the default uncertainties that the checks relied on.
func assumed(s *survey.Survey, checks []*Check) []Assumption {
	seen := map[string]bool{}
	var as []Assumption
	for _, k := range checks {
		for _, in := range s.Adjustables(k.Uses) {
			if seen[in.Path] || in.Instrument == "" || in.Stated || in.Value.HalfWidth() == 0 {
				continue
			}
			seen[in.Path] = true
			as = append(as, Assumption{Path: in.Path, Value: in.Value.Text(), Spread: in.Spread, Instrument: in.Instrument})
		}
	}
	slices.SortFunc(as, func(a, b Assumption) int { return strings.Compare(a.Path, b.Path) })
	return as
}

// remedy fills in the proven remedies of every FIX.
func (c *Case) remedy(r *Report, checks []*Check) {
	failing := map[string]bool{}
	for _, f := range r.Findings {
		if f.Verdict == Fix {
			failing[f.ID] = true
		}
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Verdict != Fix || f.Check.Remedies == nil {
			continue
		}
		for _, rem := range f.Check.Remedies(c, f.Check) {
			changed := c.Survey.Clone()
			if changed.Apply(rem.Set) != nil {
				continue
			}
			after := newCase(changed, c.Machine, Options{Today: c.Today, Units: c.Units})
			if after.judge(f.Check).Verdict != OK {
				continue
			}
			for _, k := range checks {
				if k == f.Check {
					continue
				}
				v := after.judge(k).Verdict
				switch {
				case v == Fix && !failing[k.ID]:
					rem.Breaks = append(rem.Breaks, k.ID)
				case v == OK && failing[k.ID]:
					rem.Cures = append(rem.Cures, k.ID)
				}
			}
			if len(rem.Breaks) > 0 {
				rem.Change += " (but then " + strings.Join(rem.Breaks, ", ") + " must be put right too)"
			}
			f.Remedies = append(f.Remedies, rem)
		}
		// A remedy without a new fault comes first.
		slices.SortStableFunc(f.Remedies, func(a, b Remedy) int { return len(a.Breaks) - len(b.Breaks) })
	}
}

// causes names the earliest faulty check that a fault follows from, so that
// the cause is said once.
func causes(r *Report) {
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Verdict != Fix {
			continue
		}
		action := ""
		for _, id := range f.Check.After {
			cause := r.Finding(id)
			if cause == nil || cause.Verdict != Fix {
				continue
			}
			if slices.ContainsFunc(cause.Remedies, func(rem Remedy) bool { return slices.Contains(rem.Cures, f.ID) }) {
				f.Cause, action = id, fmt.Sprintf("goes away once %s (%s) is put right", id, cause.Title)
				break // proven: its remedy cures this fault too
			}
			if f.Cause == "" {
				f.Cause, action = id, fmt.Sprintf("put %s right first; then, if need be, %s", id, lowerFirst(f.Action))
			}
		}
		if action != "" {
			f.Action = action
		}
	}
}

func sources(k *Check, o Outcome) string {
	var parts []string
	if o.Source != "" {
		parts = append(parts, o.Source)
	}
	for _, s := range k.Sources {
		if t := s.String(); !slices.Contains(parts, t) {
			parts = append(parts, t)
		}
	}
	return strings.Join(parts, "; ")
}

func lowerFirst(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && (s[1] < 'A' || s[1] > 'Z') {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
