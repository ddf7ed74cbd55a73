// Package plan finds one buildable answer for the whole site: the cheapest set
// of changes that leaves no fault which a change can cure, each thing changed
// once, to its final value. Start with Find.
package plan

import (
	"maps"
	"reflect"
	"slices"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

// A Plan is what to build, and the site as it will be then.
type Plan struct {
	Found  *check.Judged // the site as it was found
	Built  *check.Judged // the site with the plan applied
	Steps  []Step        // in the order in which they are done
	Set    map[string]string
	Stands []Stand // faults that nothing here cures
	Work   check.Work

	Tried          int // states that the search looked at
	ways           []option
	report, proven *check.Report
	held           []Hold
	options        Options
	alternatives   []Alternative
}

// A Step is one job of one trade.
type Step struct {
	N      int
	Job    Job
	Trade  check.Trade
	Stage  check.Stage
	Do     []check.Phrase    // what is done, with its final values
	Set    map[string]string // answers as they will be
	Cures  []string          // ids that are FIX without this step; of one sized for the worst, with some answer to what isn't read
	After  []int             // steps that must be done before it
	Doubts []string          // ids that are OK as found and CONFIRM because of it
	Rests  []string          // answers in doubt that it rests on
	Worst  []string          // answers that aren't read, for the worst of which it is sized
	Work   check.Work
}

// A Stand is a fault that nothing here cures.
type Stand struct {
	ID  string
	Why check.Phrase
}

// Options say what may be proposed.
type Options struct {
	Machines bool              // the library's other machines may be proposed too
	Choices  map[string]string // by check id: the way that the owner chose, as Alternatives names it
}

// Find plans a judged site.
func Find(found *check.Judged, o Options) *Plan {
	p := lay(found, o)
	p.steps()
	p.stands()
	return p
}

// lay finds what to build; it isn't divided into steps yet.
func lay(found *check.Judged, o Options) *Plan {
	// Checks of the record read every answer and no remedy rests on them: they
	// are judged again once, on the planned site.
	s := &search{found: unpapered(found), choices: o.Choices, machines: o.Machines}
	goal := s.run()
	p := &Plan{Found: found, Tried: s.tried, options: o}
	p.ways, p.Built = s.clean(goal)
	p.Set = final(p.ways)
	maps.DeleteFunc(p.Set, func(path, text string) bool { return isSo(found.Survey, path, text) })
	if built, err := found.Having(p.Set); err == nil {
		p.Built = built
	}
	p.surer(s)
	p.forWorst(s)
	p.Work = cost(p.ways)
	return p
}

// isSo says whether an answer is as a change would have it: a remedy writes all
// that it makes sure of.
func isSo(s *survey.Survey, path, text string) bool {
	a := s.Answer(path)
	if text == doc.EmptyList {
		v := reflect.ValueOf(survey.Named(path).Value(s))
		return a.Text == text && v.Kind() == reflect.Slice && v.Len() == 0
	}
	return s.Holds(path, text)
}

// Report is what was found, without the remedies of each finding.
func (p *Plan) Report() *check.Report {
	if p.report == nil {
		p.report = p.Found.Report(false)
	}
	return p.report
}

// Proven is the report with every finding's own remedies, proven, and the
// causes that follow from them. It takes a while.
func (p *Plan) Proven() *check.Report {
	if p.proven == nil {
		p.proven = p.Found.Report(true)
	}
	return p.proven
}

// Change is the plan's answer at a path, and whether the plan changes it.
func (p *Plan) Change(a survey.Ref) (string, bool) {
	text, ok := p.Set[a.Path()]
	return text, ok
}

// StepOf is the step that cures a finding, nil when there is none.
func (p *Plan) StepOf(id string) *Step {
	for i := range p.Steps {
		if slices.Contains(p.Steps[i].Cures, id) {
			return &p.Steps[i]
		}
	}
	return nil
}

// Planned is what the plan builds for each finding that it cures, for
// signatures: of the answers that its step sets, those that the check reads.
func (p *Plan) Planned() map[string]map[string]string {
	planned := map[string]map[string]string{}
	for _, st := range p.Steps {
		settings, err := p.Built.Survey.Settings(st.Set)
		if err != nil {
			continue
		}
		for _, f := range p.Built.Findings {
			if !slices.Contains(st.Cures, f.ID) {
				continue
			}
			own := map[string]string{}
			for _, x := range settings {
				if f.Reads.Has(x.ID()) {
					own[x.Path()] = x.Text()
				}
			}
			planned[f.ID] = own
		}
	}
	return planned
}
