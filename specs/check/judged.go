package check

import (
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey"
)

// A Judged is a site with every check's finding, kept so that a change is
// judged only where it reaches.
type Judged struct {
	*Case
	Checks   []*Check
	Findings []*Finding // one for each check, in order
}

// Evaluate judges a site by every check of a list.
func Evaluate(checks []*Check, s *survey.Survey, m *specs.Machine, o Options) *Judged {
	j := &Judged{Case: NewCase(s, m, o), Checks: checks, Findings: make([]*Finding, len(checks))}
	j.checks, j.silent = checks, &silent{}
	every := make([]int, len(checks))
	for i := range every {
		every[i] = i
	}
	j.judge(every)
	return j
}

// judge judges the checks of these places, several at once: each worker moves
// the answers of a survey of its own.
func (j *Judged) judge(places []int) {
	j.Case.each(len(places), 6, func(c *Case, n int) { j.Findings[places[n]] = c.Judge(j.Checks[places[n]]) })
}

// each does n things, several at once where there are at least few for each
// worker; each worker has a case of its own, whose answers it may move.
func (c *Case) each(n, few int, do func(c *Case, i int)) {
	workers := min(runtime.GOMAXPROCS(0), n/few)
	if workers < 2 {
		for i := range n {
			do(c, i)
		}
		return
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		own := *c
		own.Survey, own.reads = c.Survey.Clone(), nil
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(&own, i)
			}
		})
	}
	wg.Wait()
}

// Each does n things that judge the site, several at once; each worker has a
// case of its own.
func (j *Judged) Each(n int, do func(c *Case, i int)) { j.Case.each(n, 1, do) }

// With judges the site with other answers: the checks that read a changed
// answer, or all of them when the change chooses another supply option.
func (j *Judged) With(settings ...survey.Setting) (*Judged, error) {
	s, changed, err := j.Survey.With(settings...)
	if err != nil {
		return nil, err
	}
	n := &Judged{Case: j.on(s), Checks: j.Checks, Findings: slices.Clone(j.Findings)}
	if n.Machine != j.Machine {
		return Evaluate(j.Checks, s, n.Machine, j.options()), nil
	}
	var reached []int
	for i := range j.Checks {
		if n.Supply != j.Supply || j.Findings[i].Reads.Meets(changed) {
			reached = append(reached, i)
		}
	}
	n.judge(reached)
	return n, nil
}

// WithMachine judges the site with another machine.
func (j *Judged) WithMachine(m *specs.Machine) *Judged {
	return Evaluate(j.Checks, j.Survey, m, j.options())
}

// Open are the findings of a verdict.
func (j *Judged) Open(v Verdict) []*Finding {
	var fs []*Finding
	for _, f := range j.Findings {
		if f.Verdict == v {
			fs = append(fs, f)
		}
	}
	return fs
}

// Of is the finding of one check.
func (j *Judged) Of(k *Check) *Finding {
	for _, f := range j.Findings {
		if f.Check == k {
			return f
		}
	}
	return nil
}

// Ways gives the remedies of a finding that do cure it, and the answers from
// which they were worked out.
func (j *Judged) Ways(f *Finding) (proven []Remedy, reads survey.Bits) { return j.Case.Ways(f) }

// Ways is Judged.Ways.
func (c *Case) Ways(f *Finding) (proven []Remedy, reads survey.Bits) {
	if f.Verdict != Fix || f.Check.Remedies == nil || f.Doubt != nil {
		return nil, reads
	}
	reads = c.reading(func() {
		for _, r := range f.Check.Remedies(c, f.Check) {
			if after, err := c.With(r.Set); err == nil && after.Passes(f.Check) {
				proven = append(proven, r)
			}
		}
	})
	reads.Join(f.Reads)
	return proven, reads
}

// Prove gives the remedies of a finding that do cure it, each with what else
// it cures, breaks and puts in doubt; those without a new fault first.
func (j *Judged) Prove(f *Finding) []Remedy {
	if f.Verdict != Fix || f.Check.Remedies == nil || f.Doubt != nil {
		return nil
	}
	var proven []Remedy
	for _, r := range f.Check.Remedies(j.Case, f.Check) {
		settings, err := j.Survey.Settings(r.Set)
		if err != nil {
			continue
		}
		s, changed, err := j.Survey.With(settings...)
		if err != nil {
			continue
		}
		after := j.on(s)
		if !after.Passes(f.Check) {
			continue
		}
		for i, k := range j.Checks {
			if k == f.Check || after.Supply == j.Supply && !j.Findings[i].Reads.Meets(changed) {
				continue
			}
			was, now := j.Findings[i].Verdict, after.Judge(k).Verdict
			switch {
			case now == Fix && was != Fix:
				r.Breaks = append(r.Breaks, k.ID)
			case (now == OK || now == Confirm) && was == Fix:
				r.Cures = append(r.Cures, k.ID)
			case now == Confirm && was == OK:
				r.Doubts = append(r.Doubts, k.ID)
			}
		}
		proven = append(proven, r)
	}
	slices.SortStableFunc(proven, func(a, b Remedy) int { return len(a.Breaks) - len(b.Breaks) })
	return proven
}

// Report counts; with ways it proves the remedies of every FIX and names causes.
func (j *Judged) Report(ways bool) *Report {
	r := &Report{Survey: j.Survey, Machine: j.Machine, Supply: j.Supply, Today: j.Today, Counts: map[Verdict]int{}, Verdict: NA}
	for _, f := range j.Findings {
		own := *f
		own.Cites = j.Cites(f.Check)
		if f.Sheet != "" { // the value's own place on the sheet is cited
			own.Cites = slices.DeleteFunc(own.Cites, func(s trade.Source) bool { return s.Mark == 0 && s.Document == j.Machine.Source })
		}
		if ways {
			own.Remedies = j.Prove(f)
		}
		r.Findings = append(r.Findings, &own)
		r.Counts[f.Verdict]++
		r.Verdict = min(r.Verdict, f.Verdict)
	}
	causes(r)
	r.Assumed = j.assumed()
	return r
}

// causes names the faulty check that a fault follows from: one whose remedy is
// proven to cure it too. Without such a proof there is no cause.
func causes(r *Report) {
	for _, f := range r.Findings {
		if f.Verdict != Fix {
			continue
		}
		for _, k := range f.After {
			cause := r.Finding(k.ID)
			if cause == nil || cause.Verdict != Fix || cause.Cause == f.ID {
				continue
			}
			if slices.ContainsFunc(cause.Remedies, func(rem Remedy) bool { return slices.Contains(rem.Cures, f.ID) }) {
				f.Cause = k.ID
				break
			}
		}
	}
}

// assumed lists the default uncertainties that the checks relied on.
func (j *Judged) assumed() []Assumption {
	var all survey.Bits
	for _, f := range j.Findings {
		if f.Reads != survey.Every() {
			all.Join(f.Reads)
		}
	}
	var as []Assumption
	for _, in := range j.Survey.Uncertain(all) {
		if in.Instrument == "" || in.Stated || in.Value.HalfWidth() == 0 {
			continue
		}
		as = append(as, Assumption{Path: in.Path, Value: in.Value.Text(), Spread: in.Spread, Instrument: in.Instrument})
	}
	slices.SortFunc(as, func(a, b Assumption) int { return strings.Compare(a.Path, b.Path) })
	return as
}

// Having is With for answers by path.
func (j *Judged) Having(set map[string]string) (*Judged, error) {
	settings, err := j.Survey.Settings(set)
	if err != nil {
		return nil, err
	}
	return j.With(settings...)
}

// Only is the judged site with the checks whose findings are kept.
func (j *Judged) Only(keep func(*Finding) bool) *Judged {
	n := &Judged{Case: j.Case}
	for i, f := range j.Findings {
		if keep(f) {
			n.Checks, n.Findings = append(n.Checks, j.Checks[i]), append(n.Findings, f)
		}
	}
	return n
}

// Machines are those of the library, none where it isn't at hand.
func (c *Case) Machines() []*specs.Machine {
	if c.lib == nil {
		return nil
	}
	return c.lib()
}
