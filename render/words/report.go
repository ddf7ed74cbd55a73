package words

import (
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey/quantity"
	"slices"
	"strings"
)

// A Report is a report in words.
type Report struct {
	*check.Report
	Say      Reader
	Units    quantity.System // which are shown first
	Plan     *plan.Plan      // nil when nothing was planned
	Findings []*Told
}

// Tells words a report for a reader.
func Tells(r *check.Report, units quantity.System) *Report {
	t := &Report{Report: r, Say: Reader{Units: units}, Units: units}
	for _, f := range r.Findings {
		told := t.Say.Tell(f, r.Machine)
		t.Findings = append(t.Findings, &told)
	}
	return t
}

// Gauged is the report for who reads a tape and a gauge: its figures stand in
// the reader's units alone. Its findings aren't told anew.
func (r *Report) Gauged() *Report {
	g := *r
	g.Say.Gauge = true
	return &g
}

// Finding returns the finding of that id, nil when there is none.
func (r *Report) Finding(id string) *Told {
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	return nil
}

// For returns the findings of one trade, in order.
func (r *Report) For(t check.Trade) []*Told {
	var fs []*Told
	for _, f := range r.Findings {
		if f.Trade == t {
			fs = append(fs, f)
		}
	}
	return fs
}

// Planned words what was found, with the plan of the site beside it.
func Planned(p *plan.Plan, units quantity.System) *Report {
	r := Tells(p.Report(), units)
	r.Plan = p
	return r
}

// Asked is what one finding asks for: what is needed, and what to do. Both come
// from the plan where a step of it cures the finding, so that everybody is told
// the same value; else they are the finding's own.
func (r *Report) Asked(t *Told) (need, do string) {
	if r.Plan == nil {
		return t.Want, t.Action
	}
	for _, st := range r.Plan.Stands {
		if st.ID == t.ID {
			return t.Want, r.Say.Say(st.Why)
		}
	}
	need = t.Want
	row, _ := r.Plan.RowOf(t.ID) // none where the check doesn't arise any more
	if row.Step > 0 {
		need = r.Say.Fact(row.Need)
	}
	var steps []string
	for _, st := range r.Plan.Steps {
		if st.N == row.Step || slices.Contains(st.Cures, t.ID) {
			steps = append(steps, r.Say.Say(check.Say("plan.do", "n", st.N, "step", check.Quote(r.Say.Step(st)))))
		}
	}
	if len(steps) == 0 {
		return need, t.Action
	}
	return need, strings.Join(steps, "; ")
}
