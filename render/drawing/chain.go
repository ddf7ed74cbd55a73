package drawing

import (
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/rules"
)

// A Supply is a supply drawn as a chain from where it was read to the machine,
// with what is left at each point.
type Supply struct {
	Title string
	Nodes []page.Node
	ID    string // of the check that computed it
}

// The checks that compute what is left of the water pressure at the machine. Ids last.
const coldPressureLeft, hotPressureLeft = "W-05", "W-06"

// marks of findings as the page kit draws them.
var verdicts = map[check.Verdict]page.Verdict{
	check.Fix: page.Fix, check.Missing: page.Missing, check.Confirm: page.Confirm, check.OK: page.OK, check.NA: page.NA,
}

// working is the steps of a finding by symbol, as the check computed them.
func working(f *words.Told, say words.Reader) map[string]string {
	w := map[string]string{}
	for _, s := range f.Working {
		w[s.Symbol] = say.Value(s.Value)
	}
	return w
}

// Supplies returns the chains that can be drawn: cold and hot water, and power.
// A chain whose check lacks an answer or doesn't arise is left out.
func Supplies(r *words.Report) []Supply {
	var all []Supply
	for _, w := range []struct{ title, id string }{
		{"Cold water, while the machine fills", coldPressureLeft},
		{"Hot water, while the machine fills", hotPressureLeft},
	} {
		if nodes := waterChain(r, w.id); nodes != nil {
			all = append(all, Supply{w.title, nodes, w.id})
		}
	}
	if nodes := powerChain(r); nodes != nil {
		all = append(all, Supply{"Power, panel to machine", nodes, rules.VoltageUnderLoad.ID})
	}
	return all
}

// loss words what is lost on a stretch; nothing when the check didn't need it.
func loss(what, value string) string {
	if value == "" {
		return what
	}
	return what + ": " + minus(strings.TrimPrefix(value, "-"))
}

// minus turns a value's sign round, in both units; zero has none.
func minus(value string) string {
	switch {
	case value == "" || strings.HasPrefix(value, "0 "):
		return value
	case strings.HasPrefix(value, "-"):
		return strings.ReplaceAll("+"+value[1:], "(-", "(+")
	}
	return strings.ReplaceAll("−"+value, "(", "(−")
}

func waterChain(r *words.Report, id string) []page.Node {
	f := r.Finding(id)
	if f == nil {
		return nil
	}
	w := working(f, words.Reader{Units: r.Units})
	if w["p"] == "" || w["p_s"] == "" {
		return nil
	}
	nodes := []page.Node{{Name: "Where it was read, nothing running", Value: w["p_s"], Note: "static", Edge: "flow " + w["Q"]}}
	if w["p_Q"] != "" {
		nodes = append(nodes, page.Node{Name: "The same place, flowing", Value: w["p_Q"], Edge: loss("pipe and fittings, "+w["L"], w["p_f"])})
	}
	if w["p_r"] != "" {
		nodes[len(nodes)-1].Edge = ""
		nodes = append(nodes, page.Node{Name: "Behind the regulator", Value: w["p_r"], Edge: loss("pipe and fittings, "+w["L"], w["p_f"])})
	}
	nodes = append(nodes, page.Node{Name: "Rise and devices", Value: minus(w["p_z"]) + "\n" + minus(w["p_d"]), Note: "rise, then softener, filter, meter"})
	nodes = append(nodes, page.Node{Name: "Machine's inlet", Value: w["p"], Note: "wanted " + w["p_range"], Verdict: verdicts[f.Verdict]})
	return nodes
}

func powerChain(r *words.Report) []page.Node {
	f := r.Finding(rules.VoltageUnderLoad.ID)
	if f == nil {
		return nil
	}
	w := working(f, words.Reader{Units: r.Units})
	if w["V"] == "" || w["V_m"] == "" {
		return nil
	}
	s := r.Survey.Power
	wire := s.Conductor.String()
	if s.ConductorOf != "" {
		wire += " " + s.ConductorOf
	}
	nodes := []page.Node{
		{Name: "Panel", Value: w["V"], Note: "breaker " + s.Breaker.Text(), Edge: loss(wire+", "+w["L"], w["V_d"])},
		{Name: "Machine, under load", Value: w["V_m"], Note: "at least " + w["V_min"] + "; draws " + w["I_b"], Verdict: verdicts[f.Verdict]},
	}
	return nodes
}
