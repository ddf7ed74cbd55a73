// Package jsonreport writes a report as one JSON object of a fixed form. It computes nothing.
package jsonreport

import (
	"encoding/json"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"io"
	"slices"
)

// Format is the version of the form.
const Format = 1

type report struct {
	Format   int            `json:"format"`
	Site     site           `json:"site"`
	Machine  string         `json:"machine"`
	Verdict  check.Verdict  `json:"verdict"`
	Counts   map[string]int `json:"counts"`
	Findings []finding      `json:"findings"`
	Plan     planned        `json:"plan"`
	Doubts   []doubt        `json:"doubts"`
	Unread   []unread       `json:"unread"`
}

// An unread is an answer that can't be read and counts as not given.
type unread struct {
	At   string `json:"at"`
	Line int    `json:"line,omitempty"`
	Cell string `json:"cell,omitempty"`
	Why  string `json:"why"`
}

type planned struct {
	Steps   []planStep        `json:"steps"`
	Set     map[string]string `json:"set"`
	Stands  []stand           `json:"stands"`
	Holds   []hold            `json:"holds"`
	Measure []measure         `json:"measure"`
	Work    int               `json:"work"`   // a rank, no price
	Others  []other           `json:"others"` // plans that the owner may choose instead
}

// An other is another plan for the whole site: choose takes it, more is its
// work beyond this plan's.
type other struct {
	Choose string            `json:"choose"`
	Change string            `json:"change"`
	Set    map[string]string `json:"set"`
	Work   int               `json:"work"`
	More   int               `json:"more"`
}

type planStep struct {
	N      int               `json:"n"`
	Trade  check.Trade       `json:"trade"`
	Stage  check.Stage       `json:"stage"`
	Change string            `json:"change"`
	Set    map[string]string `json:"set"`
	Cures  []string          `json:"cures"`
	After  []int             `json:"after"`
	Doubts []string          `json:"doubts"`
	Rests  []string          `json:"rests"`
	Worst  []string          `json:"worst"`
}

type hold struct {
	Trade check.Trade `json:"trade"`
	At    []string    `json:"at"`
	IDs   []string    `json:"ids"`
	Why   string      `json:"why"`
	Right bool        `json:"right"` // the plan is right whatever the answer will be
}

type stand struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

type measure struct {
	At    string   `json:"at"`
	Hangs []string `json:"hangs"`
}

type doubt struct {
	At  string `json:"at"`
	Why string `json:"why"`
}

type site struct {
	Name      string `json:"name"`
	Reference string `json:"reference"`
	Revision  string `json:"revision"`
	Digest    string `json:"digest"`
}

type finding struct {
	ID       string        `json:"id"`
	Trade    check.Trade   `json:"trade"`
	Title    string        `json:"title"`
	Verdict  check.Verdict `json:"verdict"`
	At       []string      `json:"at"`
	Have     string        `json:"have"`
	Want     string        `json:"want"`
	Margin   string        `json:"margin"`
	Action   string        `json:"action"`
	Remedies []remedy      `json:"remedies"`
	Source   string        `json:"source"`
	Working  []step        `json:"working"`
}

type remedy struct {
	Change string            `json:"change"`
	Set    map[string]string `json:"set"`
}

type step struct {
	Symbol  string `json:"symbol"`
	Meaning string `json:"meaning"`
	Value   string `json:"value"`
}

// Write writes the report of a planned site, and the answers that can't be
// read, indented, with a line end.
func Write(w io.Writer, p *plan.Plan, unreads doc.Problems, units quantity.System) error {
	say := words.Reader{Units: units}
	r := p.Report()
	s := r.Survey
	out := report{Format: Format, Machine: r.Machine.Key, Verdict: r.Verdict, Counts: map[string]int{}, Findings: []finding{}, Doubts: []doubt{}, Unread: []unread{},
		Site: site{s.Site.Name, s.Site.Reference, s.Revision(), s.Digest()},
		Plan: planned{Steps: []planStep{}, Set: p.Set, Stands: []stand{}, Holds: []hold{}, Measure: []measure{}, Work: int(p.Work), Others: []other{}}}
	for _, v := range check.Verdicts {
		out.Counts[v.String()] = r.Counts[v]
	}
	for _, f := range p.Proven().Findings {
		t := say.Tell(f, r.Machine)
		g := finding{ID: f.ID, Trade: f.Trade, Title: t.Title, Verdict: f.Verdict, At: survey.Paths(f.At),
			Have: t.Have, Want: t.Want, Margin: t.Margin, Action: t.Action, Source: t.Source, Remedies: []remedy{}, Working: []step{}}
		for _, way := range t.Remedies {
			g.Remedies = append(g.Remedies, remedy(way))
		}
		for _, l := range t.Working {
			g.Working = append(g.Working, step{l.Symbol, l.Meaning, l.Value})
		}
		out.Findings = append(out.Findings, g)
	}
	for _, st := range p.Steps {
		out.Plan.Steps = append(out.Plan.Steps, planStep{st.N, st.Trade, st.Stage, say.Step(st), st.Set, st.Cures, append([]int{}, st.After...), append([]string{}, st.Doubts...), append([]string{}, st.Rests...), append([]string{}, st.Worst...)})
	}
	for _, st := range p.Stands {
		out.Plan.Stands = append(out.Plan.Stands, stand{st.ID, say.Say(st.Why)})
	}
	for _, h := range p.Held() {
		out.Plan.Holds = append(out.Plan.Holds, hold{h.Trade, h.At, append([]string{}, h.IDs...), say.Say(h.Why), h.Right})
	}
	for _, m := range p.ToMeasure() {
		out.Plan.Measure = append(out.Plan.Measure, measure{m.Path, append([]string{}, m.IDs...)})
	}
	for _, a := range p.Alternatives() {
		out.Plan.Others = append(out.Plan.Others, other{a.ID + "=" + a.Way, say.Say(a.Do), a.Set, int(a.Work), int(a.More)})
	}
	for _, d := range slices.Concat(s.Doubts(), s.Roughs(units)) {
		out.Doubts = append(out.Doubts, doubt{d.Paths[0], d.Text})
	}
	for _, u := range unreads {
		out.Unread = append(out.Unread, unread{u.Path, u.Pos.Line, u.Pos.Cell, u.Message})
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}
