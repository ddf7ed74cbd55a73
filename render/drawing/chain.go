package drawing

import (
	"math"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey/quantity"
)

// A Supply is a supply drawn as a chain from where it was read to the machine,
// with what is left at each point.
type Supply struct {
	Title string
	Nodes []page.Node
	ID    string // of the check that computed it
}

// marks of findings as the page kit draws them.
var verdicts = map[check.Verdict]page.Verdict{
	check.Fix: page.Fix, check.Missing: page.Missing, check.Confirm: page.Confirm, check.OK: page.OK, check.NA: page.NA,
}

// Supplies returns the chains that can be drawn as found: cold and hot water,
// and power. A chain whose check lacks an answer or doesn't arise is left out.
func Supplies(r *words.Report) []Supply {
	say := words.Reader{Units: r.Units, Gauge: true}
	var all []Supply
	for _, w := range []struct {
		title string
		of    *check.Check
	}{{"chain.cold", rules.ColdInlet}, {"chain.hot", rules.HotInlet}} {
		if f := r.Report.Finding(w.of.ID); f != nil {
			if p, ok := f.Result.(rules.Arrived); ok {
				all = append(all, Supply{say.Say(check.Say(w.title)), water(say, p, f.Verdict), f.ID})
			}
		}
	}
	if f := r.Report.Finding(rules.VoltageUnderLoad.ID); f != nil {
		if v, ok := f.Result.(rules.Dropped); ok {
			all = append(all, Supply{say.Say(check.Say("chain.power")), power(say, r, v, f.Verdict), f.ID})
		}
	}
	return all
}

// less is a loss with its sign, a gain with a plus; nothing has none.
func less[D quantity.Dimension](say words.Reader, lost quantity.Of[D]) check.Quote {
	text := say.Value(lost.Times(1))
	if lost.Base() < 0 {
		return check.Quote("+" + say.Value(lost.Times(-1)))
	}
	if math.Abs(lost.Base()) < 1e-9 {
		return check.Quote(text)
	}
	return check.Quote("−" + text)
}

func water(say words.Reader, p rules.Arrived, v check.Verdict) []page.Node {
	run := say.Say(check.Say("chain.pipe", "length", p.Length, "loss", less(say, p.Friction)))
	nodes := []page.Node{
		{Name: say.Say(check.Say("chain.read")), Value: say.Value(p.Static), Note: say.Say(check.Say("chain.static")), Edge: say.Say(check.Say("chain.flow", "flow", p.Flow))},
		{Name: say.Say(check.Say("chain.flowing")), Value: say.Value(p.Flowing), Edge: run},
	}
	if p.Regulated.Known() {
		nodes[1].Edge = ""
		nodes = append(nodes, page.Node{Name: say.Say(check.Say("chain.regulator")), Value: say.Value(p.Regulated), Edge: run})
	}
	return append(nodes,
		page.Node{Name: say.Say(check.Say("chain.rise")), Value: string(less(say, p.Rise) + "\n" + less(say, p.Devices)), Note: say.Say(check.Say("chain.rise-note"))},
		page.Node{Name: say.Say(check.Say("chain.inlet")), Value: say.Value(p.Left), Note: say.Say(check.Say("chain.want", "range", p.Want)), Verdict: verdicts[v]})
}

func power(say words.Reader, r *words.Report, v rules.Dropped, verdict check.Verdict) []page.Node {
	s := r.Survey.Power
	wire := check.Say("chain.wire", "size", s.Conductor, "material", check.Word(s.ConductorOf), "length", s.RunLength, "loss", less(say, v.Lost))
	return []page.Node{
		{Name: say.Say(check.Say("chain.panel")), Value: say.Value(v.Panel), Note: say.Say(check.Say("chain.breaker", "amps", s.Breaker)), Edge: say.Say(wire)},
		{Name: say.Say(check.Say("chain.machine")), Value: say.Value(v.Left), Note: say.Say(check.Say("chain.least", "volts", v.Least, "amps", v.Amps)), Verdict: verdicts[verdict]},
	}
}
