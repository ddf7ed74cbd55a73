// Package jsonreport writes a report as one JSON object of a fixed form. It computes nothing.
package jsonreport

import (
	"encoding/json"
	"io"

	"firstfill/specs/rules"
)

// Format is the version of the form.
const Format = 1

type report struct {
	Format   int            `json:"format"`
	Site     site           `json:"site"`
	Machine  string         `json:"machine"`
	Verdict  rules.Verdict  `json:"verdict"`
	Counts   map[string]int `json:"counts"`
	Findings []finding      `json:"findings"`
}

type site struct {
	Name      string `json:"name"`
	Reference string `json:"reference"`
	Revision  string `json:"revision"`
	Digest    string `json:"digest"`
}

type finding struct {
	ID       string        `json:"id"`
	Trade    rules.Trade   `json:"trade"`
	Title    string        `json:"title"`
	Verdict  rules.Verdict `json:"verdict"`
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

// Write writes the report, indented, with a line end.
func Write(w io.Writer, r *rules.Report) error {
	s := r.Survey
	out := report{Format: Format, Machine: r.Machine.Key, Verdict: r.Verdict, Counts: map[string]int{}, Findings: []finding{},
		Site: site{s.Site.Name, s.Site.Reference, s.Revision(), s.Digest()}}
	for _, v := range rules.Verdicts {
		out.Counts[v.String()] = r.Counts[v]
	}
	for _, f := range r.Findings {
		g := finding{ID: f.ID, Trade: f.Trade, Title: f.Title, Verdict: f.Verdict, At: append([]string{}, f.At...),
			Have: f.Have, Want: f.Want, Margin: f.Margin, Action: f.Action, Source: f.Source, Remedies: []remedy{}, Working: []step{}}
		for _, rem := range f.Remedies {
			g.Remedies = append(g.Remedies, remedy{rem.Change, rem.Set})
		}
		for _, st := range f.Working {
			g.Working = append(g.Working, step(st))
		}
		out.Findings = append(out.Findings, g)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}
