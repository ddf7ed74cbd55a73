package rules

import (
	"firstfill/specs/check"
	"fmt"
	"strconv"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// wireOf checks that the conductor is of the family and range that the
// tables of the machine's basis hold.
func wireOf(c *Case) (w quantity.WireSize, metal trade.Metal, out Outcome, bad bool) {
	if out, lacks := c.Lacking(ask.Power.Conductor, ask.Power.ConductorOf); lacks {
		return w, 0, out, true
	}
	w = ask.Power.Conductor.Of(c)
	metal = trade.Copper
	if ask.Power.ConductorOf.Of(c) == "aluminium" {
		metal = trade.Aluminum
	}
	if w.Metric() == onNEC(c) {
		family := any(pick(onNEC(c), check.Say("wire-of.family"), check.Say("wire-of.family2")))
		return w, metal, check.Rule(w, family, check.Say("wire-of.do", "w", w, "family", family), ask.Power.Conductor), true
	}
	if !onNEC(c) && metal != trade.Copper {
		return w, metal, check.Rule(check.Say("wire-of.have"), check.Say("wire-of.want"), check.Say("wire-of.do2"), ask.Power.ConductorOf), true
	}
	least, most := "14 AWG", "1/0 AWG"
	if metal == trade.Aluminum {
		least = "12 AWG"
	}
	if !onNEC(c) {
		least, most = "1.5 mm²", "16 mm²"
	}
	if w.Cmp(quantity.MustParse[quantity.WireSize](least)) < 0 {
		return w, metal, check.Choice(false, w, check.Say("wire-of.want2", "least", check.Quote(least)), check.Say("wire-of.do3", "least", check.Quote(least)), ask.Power.Conductor), true
	}
	if w.Cmp(quantity.MustParse[quantity.WireSize](most)) > 0 {
		return w, metal, check.Rule(w, check.Say("wire-of.want3", "most", check.Quote(most)), check.Say("wire-of.do4", "most", check.Quote(most)), ask.Power.Conductor), true
	}
	return w, metal, out, false
}

// A capacity is what the conductor carries, A.
type capacity struct {
	derated  float64 // after ambient and bundling
	terminal float64 // by the terminals' column, without them
	usable   float64 // the smaller
	steps    []Step
}

// capacityOf rates a conductor size where it lies.
func capacityOf(c *Case, w quantity.WireSize, metal trade.Metal) (carry capacity, out Outcome, bad bool) {
	need := []survey.Ref{ask.Power.Insulation, ask.Power.Ambient, ask.Power.Bundled}
	if !onNEC(c) {
		need = append(need, ask.Power.Conduit)
	}
	if out, lacks := c.Lacking(need...); lacks {
		return carry, out, true
	}
	p := ask.Power
	rated, _ := strconv.Atoi(p.Insulation.Of(c))
	ambient := p.Ambient.Of(c).In(quantity.Celsius)
	bundled := max(p.Bundled.Of(c).N(), loadedConductors(c))
	wire := any(check.Say("capacity-of.wire", "w", w, "metal", metal))
	if !onNEC(c) {
		if rated < 70 {
			return carry, check.Rule(check.Say("capacity-of.have", "insulation", check.Word(p.Insulation.Of(c))), check.Say("capacity-of.want"), check.Say("capacity-of.do"), ask.Power.Insulation), true
		}
		loaded := loadedConductors(c)
		table, err := trade.IECAmpacity(w.MM2(), trade.Multicore, loaded)
		how := any(check.Say("capacity-of.how"))
		if p.Conduit.Of(c) != "cable" {
			table, err = trade.IECConduitAmpacity(w.MM2(), loaded)
			how = check.Say("capacity-of.how2")
		}
		group, gerr := trade.IECGroupingFactor((bundled + loaded - 1) / loaded)
		if err != nil || gerr != nil {
			return carry, check.Rule(wire, check.Say("capacity-of.want2"), check.Say("capacity-of.do2"), ask.Power.Conductor, ask.Power.Bundled), true
		}
		air := trade.IECAmbientFactor(ambient, 70)
		carry.derated = table * air * group
		carry.terminal, carry.usable = carry.derated, carry.derated
		carry.steps = []Step{
			{"I_t", check.Say("capacity-of.step", "wire", wire, "loaded", loaded, "how", how), powerAmps(table)},
			{"C_a", check.Say("capacity-of.step2", "ambient", check.Figure{Value: ambient, Decimals: 1}, "ambient2", p.Ambient.Of(c)), check.Figure{Value: air, Decimals: 3}},
			{"C_g", check.Say("capacity-of.step3", "bundled", bundled), check.Figure{Value: group, Decimals: 2}},
			{"I_z", check.Say("capacity-of.step4"), powerAmps(carry.usable)},
		}
		return carry, out, false
	}
	column := trade.Column(rated)
	if rated == 70 {
		column = trade.Col60
	}
	size := p.Breaker.Of(c).In(quantity.Ampere)
	if !p.Breaker.Of(c).Known() {
		size = 100
	}
	terminal, err := trade.TerminalColumn(size, p.Terminals.Of(c) == "75")
	if err != nil {
		terminal = trade.Col60
	}
	terminal = min(terminal, column)
	base, err := trade.Ampacity(w.AWG(), metal, column)
	if err != nil {
		return carry, check.Rule(wire, check.Say("capacity-of.want2"), check.Say("capacity-of.do3"), ask.Power.Conductor), true
	}
	carry.terminal, _ = trade.Ampacity(w.AWG(), metal, terminal)
	air, err := trade.AmbientFactor(ambient, column)
	if err != nil {
		air = 0 // the table allows no current at this ambient
	}
	group, err := trade.BundlingFactor(bundled)
	if err != nil {
		group = 0
	}
	carry.derated = base * air * group
	carry.usable = min(carry.derated, carry.terminal)
	marked := any(check.Say("capacity-of.marked", "int", int(terminal)))
	if p.Terminals.Of(c) == "" {
		marked = check.Say("capacity-of.more", "before", marked)
	}
	carry.steps = []Step{
		{"I_t", check.Say("capacity-of.step5", "wire", wire, "int", int(column)), powerAmps(base)},
		{"f_a", check.Say("capacity-of.step6", "ambient", p.Ambient.Of(c)), check.Figure{Value: air, Decimals: 2}},
		{"f_n", check.Say("capacity-of.step3", "bundled", bundled), check.Figure{Value: group, Decimals: 2}},
		{"I_d", check.Say("capacity-of.step7"), powerAmps(carry.derated)},
		{"I_term", check.Say("capacity-of.step8", "wire", wire, "marked", marked), powerAmps(carry.terminal)},
		{"I_z", check.Say("capacity-of.step9"), powerAmps(carry.usable)},
	}
	return carry, out, false
}

func runAmpacity(c *Case) Outcome {
	w, metal, out, bad := wireOf(c)
	if bad {
		return out
	}
	carry, out, bad := capacityOf(c, w, metal)
	if bad {
		return out
	}
	d, out, bad := drawOf(c)
	if bad {
		return out
	}
	need, field, step := minimumOf(c, d)
	action := any(check.Say("run-ampacity.action", "w", w, "metal", metal, "usable", powerAmps(carry.usable)))
	if next := any(check.Quote(firstWire(c, w, func(w quantity.WireSize) bool {
		carry, _, bad := capacityOf(c, w, metal)
		return !bad && carry.terminal >= need && carry.derated >= d.run
	}))); !unsaid(next) {
		action = check.Say("run-ampacity.action2", "next", next, "metal", metal, "w", w, "usable", powerAmps(carry.usable))
	}
	at := []survey.Ref{ask.Power.Conductor, ask.Power.ConductorOf, ask.Power.Insulation, ask.Power.Ambient, ask.Power.Bundled}
	byTerminal := check.From(powerAmps(carry.terminal), powerAmps(need), action, at...)
	byTerminal.Have = byTerminal.Have.In(check.Say("wire.carries", "wire", w, "metal", check.Word(metal.String())))
	byTerminal.Want = byTerminal.Want.Also(check.Say("run-ampacity.also"))
	byLoad := check.From(powerAmps(carry.derated), powerAmps(d.run), action, at...)
	byLoad.Have = byLoad.Have.In(check.Say("wire.carries-derated", "wire", w, "metal", check.Word(metal.String())))
	byLoad.Want = byLoad.Want.Also(check.Say("run-ampacity.also2"))
	out = worse(byTerminal, byLoad)
	out.Working = append(append(append([]Step{}, d.steps...), step), carry.steps...)
	return onPlate(c, out, field)
}

// firstWire is the first larger size that will do, empty when none will.
func firstWire(c *Case, w quantity.WireSize, does func(quantity.WireSize) bool) string {
	for w = w.Next(); w.Known(); w = w.Next() {
		if does(w) {
			return w.String()
		}
	}
	return ""
}

// ConductorAmpacity compares what the conductor carries with the load.
var ConductorAmpacity = &Check{
	ID:      "E-12",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "conductor against the machine's load",
	Why:     "Conductors that are too thin, too hot or packed too closely overheat inside the wall.",
	Formula: "NEC: I_t (insulation column) × f_a × f_n ≥ I_b, and I_term (terminal column) ≥ I_min; IEC: I_t × C_a × C_g ≥ the larger of I_b and I_min; A",
	Range:   "copper 14 to 1/0 AWG, aluminium 12 to 1/0 AWG, copper 1.5 to 16 mm²; base 30 °C (86 °F), three current-carrying conductors (IEC: one circuit)",
	Sources: []trade.Source{trade.NEC310_16, trade.NEC310Ambient, trade.NEC310Bundle, trade.NEC110_14C, trade.NEC210_20, trade.IECCables, trade.IECMethodB2, trade.IECAmbient, trade.IECGrouping},
	After:   []*Check{PlateVoltage},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Conductor.Path(): "12 AWG", ask.Power.Ambient.Path(): "40 ± 0 °C", ask.Power.Bundled.Path(): "3"}, Verdict: OK, Shows: "I_d = 22 A"},
	Run:     runAmpacity,
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(append(upsized(c, k, map[string]string{}), unbundled(c, k)...), insulated(c, k)...)
	},
}

// unbundled offers a conduit of its own, with larger conductors where that
// alone isn't enough.
func unbundled(c *Case, k *Check) []Remedy {
	n := loadedConductors(c)
	if ask.Power.Bundled.Of(c).N() <= n {
		return nil
	}
	set := map[string]string{ask.Power.Bundled.Path(): fmt.Sprint(n)}
	if after, err := c.With(set); err == nil && after.Passes(k) {
		return []Remedy{{Change: check.Say("unbundled.way"), Set: set}}
	}
	rs := upsized(c, k, set)
	for i := range rs {
		rs[i].Change = check.Say("circuit.change", "parts", check.List{check.Raw(check.Say("unbundled.way")), rs[i].Change})
	}
	return rs
}

// insulated offers conductors of the same size with better insulation.
func insulated(c *Case, k *Check) []Remedy {
	if !onNEC(c) {
		return nil // the metric table here is that of 70 °C
	}
	var better []string
	for _, rated := range []string{"75", "90"} {
		if rated > ask.Power.Insulation.Of(c) {
			better = append(better, rated)
		}
	}
	return c.Offer(k, ask.Power.Insulation, better, nil, func(v any) any {
		return check.Say("insulated.way", "conductor", ask.Power.Conductor.Of(c), "v", v)
	})
}

// protectionLimit is the largest breaker that may protect a conductor.
func protectionLimit(c *Case, w quantity.WireSize, metal trade.Metal, carry capacity) (float64, error) {
	if !onNEC(c) {
		return carry.usable, nil
	}
	e, _ := necEdition(c)
	several := c.Machine.Power.Connection == "cord" && ask.Power.Dedicated.Of(c) != survey.Yes
	return trade.MaxProtection(w.AWG(), metal, carry.usable, several, e)
}

func runProtection(c *Case) Outcome {
	if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
		return out
	}
	w, metal, out, bad := wireOf(c)
	if bad {
		return out
	}
	carry, out, bad := capacityOf(c, w, metal)
	if bad {
		return out
	}
	n := ask.Power.Breaker.Of(c)
	at := []survey.Ref{ask.Power.Breaker, ask.Power.Conductor, ask.Power.ConductorOf, ask.Power.Insulation, ask.Power.Ambient, ask.Power.Bundled}
	limit, err := protectionLimit(c, w, metal, carry)
	if err != nil {
		out = check.Choice(false, check.Say("run-protection.have", "w", w, "metal", metal, "usable", powerAmps(carry.usable)), check.Say("run-protection.want"), check.Say("run-protection.do"), at...)
		out.Working = carry.steps
		return out
	}
	action := any(check.Say("run-protection.action", "limit", powerAmps(limit), "w", w, "metal", metal))
	if next := any(check.Quote(firstWire(c, w, func(w quantity.WireSize) bool {
		carry, _, bad := capacityOf(c, w, metal)
		limit, err := protectionLimit(c, w, metal, carry)
		return !bad && err == nil && powerAmps(limit).Cmp(n) >= 0
	}))); !unsaid(next) {
		action = check.Say("run-protection.action2", "next", next, "metal", metal, "n", n, "limit", powerAmps(limit))
	}
	out = check.UpTo(n, powerAmps(limit), action, at...)
	out.Want = out.Want.Also(check.Say("run-protection.also", "w", w, "metal", metal))
	note := any(check.Say("run-protection.note"))
	if !onNEC(c) {
		note = check.Say("run-protection.note2")
	}
	out.Working = append(append([]Step{}, carry.steps...), Step{"I_lim", note, powerAmps(limit)}, Step{"I_n", check.Say("run-protection.step"), n})
	return out
}

// ConductorProtection compares the breaker with what the conductor stands.
var ConductorProtection = &Check{
	ID:      "E-13",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "breaker against the conductor it protects",
	Why:     "A breaker larger than the conductor lets it burn before it trips.",
	Formula: "NEC: I_n ≤ I_z, or the next standard size up (one outlet only), and ≤ 15 / 20 / 30 A for 14 / 12 / 10 AWG copper (aluminium 12 / 10 AWG: 15 / 25 A); IEC: I_n ≤ I_z; A",
	Range:   "as for the conductor's load",
	Sources: []trade.Source{trade.NEC240_4D, trade.NEC240_4B, trade.NEC240_6, trade.NEC310_16, trade.NEC310Ambient, trade.NEC310Bundle, trade.NEC110_14C, trade.IECOverload, trade.IECCables, trade.IECMethodB2, trade.IECAmbient, trade.IECGrouping},
	After:   []*Check{ConductorAmpacity},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Conductor.Path(): "14 AWG"}, Verdict: Fix, Shows: "I_lim = 15 A"},
	Run:     runProtection,
	Remedies: func(c *Case, k *Check) []Remedy {
		rs := append(append(upsized(c, k, map[string]string{}), unbundled(c, k)...), insulated(c, k)...)
		if d, _, bad := drawOf(c); !bad {
			need, _, _ := minimumOf(c, d)
			rs = append(rs, smallerBreaker(c, k, need)...)
		}
		return rs
	},
}

// leastWire is the smallest conductor that the breaker may have where this one
// lies; it is the base from which the grounding conductor grows.
func leastWire(c *Case, metal trade.Metal) (gauge string, ok bool) {
	for _, g := range trade.Gauges() {
		w := quantity.MustParse[quantity.WireSize](g + " AWG")
		carry, _, bad := capacityOf(c, w, metal)
		if bad {
			continue
		}
		if limit, err := protectionLimit(c, w, metal, carry); err == nil && powerAmps(limit).Cmp(ask.Power.Breaker.Of(c)) >= 0 {
			return g, true
		}
	}
	return "", false
}

// groundSize is the least grounding (protective) conductor, with its steps.
func groundSize(c *Case) (g quantity.WireSize, steps []Step, out Outcome, bad bool) {
	w, metal, out, bad := wireOf(c)
	if bad {
		return g, nil, out, true
	}
	if !onNEC(c) {
		g = quantity.MustParse[quantity.WireSize](number(trade.ProtectiveMM2(w.MM2()), 1) + " mm²")
		return g, []Step{{"S_PE", check.Say("ground-size.step", "w", w), g}}, out, false
	}
	if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
		return g, nil, out, true
	}
	n := ask.Power.Breaker.Of(c).In(quantity.Ampere)
	base, err := trade.EGC(n, metal)
	if err != nil {
		return g, nil, check.Rule(ask.Power.Breaker.Of(c), check.Say("ground-size.want"), check.Say("ground-size.do"), ask.Power.Breaker), true
	}
	steps = []Step{{"EGC", check.Say("ground-size.step2", "breaker", ask.Power.Breaker.Of(c), "metal", metal), check.Say("ground-size.value", "base", check.Quote(base))}}
	least, err := trade.GaugeForBreaker(n, metal, trade.Col75, true, trade.NEC2020)
	if order, e := trade.CompareGauges(w.AWG(), least); err == nil && e == nil && order > 0 {
		// Larger than the breaker needs: how much of it is for heat decides.
		if _, out, bad := capacityOf(c, w, metal); bad {
			return g, nil, out, true
		}
		if l, ok := leastWire(c, metal); ok {
			least = l
		}
		if up, err := trade.EGCUpsized(n, metal, least, w.AWG()); err == nil {
			base = up
			steps = append(steps, Step{"EGC_up", check.Say("ground-size.step3", "least", check.Quote(least), "w", w), check.Say("ground-size.value", "base", check.Quote(base))})
		}
	}
	g = quantity.MustParse[quantity.WireSize](base + " AWG")
	if g.Cmp(w) > 0 {
		g = w // never larger than the circuit conductors
	}
	return g, steps, out, false
}

func groundNeeded(c *Case) (quantity.WireSize, bool) {
	g, _, _, bad := groundSize(c)
	return g, !bad
}

// GroundConductor sizes the equipment grounding (protective) conductor.
var GroundConductor = &Check{
	ID:      "E-14",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "equipment grounding (protective) conductor",
	Why:     "It must carry a fault until the breaker trips; wet hands touch this machine.",
	Formula: "NEC: table by breaker; with circuit conductors larger than needed EGC_up = EGC × cmil(pulled) / cmil(needed), not above the circuit conductors; IEC: S_PE = S up to 16 mm²",
	Range:   "breakers to 200 A; line conductors to 1/0 AWG or 16 mm²",
	Sources: []trade.Source{trade.NEC250_122, trade.NEC250_122B, trade.IECProtective},
	After:   []*Check{ConductorAmpacity},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.Conductor.Path(): "6 AWG", ask.Power.Breaker.Path(): "45 A"}, Verdict: OK, Shows: "EGC_up = 8 AWG"},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Ground); lacks {
			return out
		}
		need, steps, out, bad := groundSize(c)
		if bad {
			return out
		}
		have := ask.Power.Ground.Of(c)
		at := []survey.Ref{ask.Power.Ground, ask.Power.Conductor, ask.Power.Breaker}
		switch {
		case have.Metric() == onNEC(c):
			out = check.Rule(have, check.Say("E-14.want", "need", need), check.Say("E-14.do"), at...)
		case !onNEC(c) && have.Cmp(need) < 0:
			out = check.Rule(have, check.Say("E-14.want2", "need", need), check.Say("E-14.do2", "have", have, "need", need), at...)
		default:
			out = check.Choice(have.Cmp(need) >= 0, have, check.Say("E-14.want", "need", need), check.Say("E-14.do3", "need", need, "have", have), at...)
		}
		out.Working = steps
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		g, ok := groundNeeded(c)
		if !ok {
			return nil
		}
		return []Remedy{{Change: check.Say("E-14.way", "g", g), Set: map[string]string{ask.Power.Ground.Path(): g.String()}}}
	},
}
