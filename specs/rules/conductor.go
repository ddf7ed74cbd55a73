package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"
	"slices"
	"strconv"
	"sync"

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
	if w.Cmp(wireSize(least)) < 0 {
		return w, metal, check.Choice(false, w, check.Say("wire-of.want2", "least", wireSize(least)), check.Say("wire-of.do3", "least", wireSize(least)), ask.Power.Conductor), true
	}
	if w.Cmp(wireSize(most)) > 0 {
		return w, metal, check.Rule(w, check.Say("wire-of.want3", "most", wireSize(most)), check.Say("wire-of.do4", "most", wireSize(most)), ask.Power.Conductor), true
	}
	return w, metal, out, false
}

// wireSize is a size of the tables, read once.
func wireSize(text string) quantity.WireSize {
	if w, ok := wireSizes.Load(text); ok {
		return w.(quantity.WireSize)
	}
	w := quantity.MustParse[quantity.WireSize](text)
	wireSizes.Store(text, w)
	return w
}

var wireSizes sync.Map // of quantity.WireSize, by text

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
	} else if ask.Power.RunPlace.Of(c) == "wet" && ask.Power.Insulation.Of(c) == "90" {
		need = append(need, ask.Power.WetInsulation)
	}
	if out, lacks := c.Lacking(need...); lacks {
		return carry, out, true
	}
	p := ask.Power
	rated, _ := strconv.Atoi(p.Insulation.Of(c))
	ambient := p.Ambient.Of(c).In(quantity.Celsius)
	bundled := max(p.Bundled.Of(c).N(), loadedConductors(c))
	wire := any(check.Say("capacity-of.wire", "w", w, "metal", check.Word(metal.String())))
	if !onNEC(c) {
		if rated < 70 {
			return carry, check.Rule(check.Say("capacity-of.have", "insulation", check.Word(p.Insulation.Of(c))), check.Say("capacity-of.want"), check.Say("capacity-of.do"), ask.Power.Insulation), true
		}
		loaded := loadedConductors(c)
		table, err := trade.IECAmpacity(w.MM2(), trade.Multicore, loaded)
		how := any(check.Say("capacity-of.how"))
		switch p.Conduit.Of(c) {
		case "cable", "nm-cable":
		case "in-insulation":
			table, err = trade.IECInsulatedAmpacity(w.MM2(), loaded)
			how = check.Say("capacity-of.how3")
		default:
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
			entry("I_t", check.Say("capacity-of.step", "wire", wire, "loaded", loaded, "how", how), powerAmps(table)),
			entry("C_a", check.Say("capacity-of.step2", "ambient", check.Figure{Value: ambient, Decimals: 1}, "ambient2", p.Ambient.Of(c)), check.Figure{Value: air, Decimals: 3}),
			entry("C_g", check.Say("capacity-of.step3", "bundled", bundled), check.Figure{Value: group, Decimals: 2}),
			entry("I_z", check.Say("capacity-of.step4"), powerAmps(carry.usable)),
		}
		return carry, out, false
	}
	// NM cable has conductors of 90 °C from which it is derated, but carries no
	// more than the 60 °C column allows (334.80).
	nm := p.Conduit.Of(c) == "nm-cable"
	if nm {
		rated = 90
	}
	if wet, err := strconv.Atoi(p.WetInsulation.Of(c)); err == nil && p.RunPlace.Of(c) == "wet" {
		rated = min(rated, wet)
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
	if nm {
		terminal = trade.Col60
	}
	d, err := trade.DeratedAmpacity(w.AWG(), metal, column, terminal, ambient, bundled)
	if err != nil {
		return carry, check.Rule(wire, check.Say("capacity-of.want2"), check.Say("capacity-of.do3"), ask.Power.Conductor), true
	}
	carry.terminal, carry.derated, carry.usable = d.TerminalA, d.DeratedA, d.UsableA
	marked := any(check.Say("capacity-of.marked", "int", int(terminal)))
	switch {
	case nm:
		marked = check.Say("capacity-of.nm")
	case p.Terminals.Of(c) == "":
		marked = check.Say("capacity-of.more", "before", marked)
	}
	carry.steps = []Step{
		entry("I_t", check.Say("capacity-of.step5", "wire", wire, "int", int(column)), powerAmps(d.BaseA)),
		entry("f_a", check.Say("capacity-of.step6", "ambient", p.Ambient.Of(c)), check.Figure{Value: d.AmbientFactor, Decimals: 2}),
		entry("f_n", check.Say("capacity-of.step3", "bundled", bundled), check.Figure{Value: d.BundlingFactor, Decimals: 2}),
		entry("I_d", check.Say("capacity-of.step7"), powerAmps(carry.derated)),
		entry("I_term", check.Say("capacity-of.step8", "wire", wire, "marked", marked), powerAmps(carry.terminal)),
		entry("I_z", check.Say("capacity-of.step9"), powerAmps(carry.usable)),
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
	made := check.Word(metal.String())
	action := doubtful(c, check.Say("run-ampacity.action", "w", w, "metal", made, "usable", powerAmps(carry.usable)))
	at := []survey.Ref{ask.Power.Conductor, ask.Power.ConductorOf, ask.Power.Insulation, ask.Power.Ambient, ask.Power.Bundled}
	byTerminal := check.From(powerAmps(carry.terminal), powerAmps(need), action, at...)
	byTerminal.Have = byTerminal.Have.In(check.Say("wire.carries", "wire", w, "metal", check.Word(metal.String())))
	byTerminal.Want = byTerminal.Want.In(check.Say("run-ampacity.least"))
	byLoad := check.From(powerAmps(carry.derated), powerAmps(d.run), action, at...)
	byLoad.Have = byLoad.Have.In(check.Say("wire.carries-derated", "wire", w, "metal", check.Word(metal.String())))
	byLoad.Want = byLoad.Want.In(check.Say("run-ampacity.running"))
	out = worse(byTerminal, byLoad)
	out.Working = append(append(append([]Step{}, d.steps...), step), carry.steps...)
	return onPlate(c, out, field)
}

// LeastWire is the smallest conductor that carries the machine and that the
// breaker protects, where this one lies and of its metal. ok is false where the
// circuit isn't known well enough, or where no tabulated size will do.
func LeastWire(c *Case) (w quantity.WireSize, ok bool) {
	have, _, _, bad := wireOf(c)
	if bad {
		return w, false
	}
	for _, w := range w.All() {
		if w.Metric() != have.Metric() {
			continue
		}
		if after, err := c.With(map[string]string{ask.Power.Conductor.Path(): w.String()}); err == nil && met(after, runAmpacity) && met(after, runProtection) {
			return w, true
		}
	}
	return w, false
}

// finalCircuit is what the circuit becomes once its wire is changed for a
// cause: the breaker too where this one won't stay, the conductors and the
// ground at their final sizes. ok is false when no tabulated size will do.
func finalCircuit(c *Case, from quantity.WireSize, also func(*Case) bool) (set map[string]string, ok bool) {
	if voltageInDoubt(c) || optionOpen(c) || !ask.Power.Breaker.Known(c) {
		return nil, false
	}
	d, _, bad := drawOf(c)
	if bad {
		return nil, false
	}
	need, _, _ := minimumOf(c, d)
	sizes := breakersBetween(c, need)
	if stays := slices.ContainsFunc(sizes, func(a float64) bool { return powerAmps(a).Cmp(ask.Power.Breaker.Of(c)) == 0 }); stays || len(sizes) == 0 {
		return refit(c, map[string]string{}, from, also)
	}
	if len(sizes) > 0 && powerAmps(sizes[0]).Cmp(ask.Power.Breaker.Of(c)) < 0 {
		slices.Reverse(sizes) // too large a breaker goes to the largest allowed, as its own check says
	}
	for _, a := range sizes {
		set, ok := rebuilt(c, a, func(*Case) bool { return true })
		if !ok {
			continue
		}
		if after, err := c.With(set); err == nil && also(after) {
			return set, true
		}
		if set, ok = refit(c, set, from, also); ok {
			return set, true
		}
	}
	return nil, false
}

// rewired offers that final circuit.
func rewired(c *Case, k *Check) []Remedy {
	from := ask.Power.Conductor.Of(c)
	set, ok := finalCircuit(c, from, func(after *Case) bool { return after.Passes(k) })
	if !ok || len(set) == 0 {
		return nil
	}
	return []Remedy{{Change: wireWords(c, set), Work: circuitWork(set), Set: set}}
}

// ConductorAmpacity compares what the conductor carries with the load.
var ConductorAmpacity = &Check{
	ID:      "E-12",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Builds:  ask.Power.Conductor,
	Sources: []trade.Source{trade.NEC310_16, trade.NEC310Ambient, trade.NEC310Bundle, trade.NEC110_14C, trade.NEC210_20, trade.NEC334_80, trade.NEC310_4, trade.IECCables, trade.IECMethodB2, trade.IECMethodA2, trade.IECAmbient, trade.IECGrouping},
	After:   []*Check{PlateVoltage},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Conduit, ask.Power.Terminals, ask.Power.Phases},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Conductor.Path(): "12 AWG", ask.Power.Ambient.Path(): "40 ± 0 °C", ask.Power.Bundled.Path(): "3"}, Verdict: OK, Shows: "I_d = 22 A"},
	Run:     perOption(runAmpacity),
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(append(rewired(c, k), unbundled(c, k)...), insulated(c, k)...)
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
		return []Remedy{{Change: check.Say("unbundled.way"), Work: check.PipeOrWire, Set: set}}
	}
	rs := upsized(c, k, set)
	for i := range rs {
		rs[i].Change = check.Say("circuit.change", "parts", check.List{check.Say("unbundled.way"), rs[i].Change})
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
	if ask.Power.Conduit.Of(c) == "nm-cable" {
		return nil
	}
	rs := c.Offer(k, ask.Power.Insulation, better, nil, func(v any) any {
		return check.Say("insulated.way", "conductor", ask.Power.Conductor.Of(c), "v", v)
	})
	for i := range rs {
		rs[i].Work = check.PipeOrWire
	}
	return rs
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
		out = check.Choice(false, check.Say("run-protection.have", "w", w, "metal", check.Word(metal.String()), "usable", powerAmps(carry.usable)), check.Say("run-protection.want"), check.Say("run-protection.do"), at...)
		out.Working = carry.steps
		return out
	}
	made := check.Word(metal.String())
	out = check.UpTo(n, powerAmps(limit), nil, at...)
	out.Want = out.Want.In(check.Say("run-protection.on", "w", w, "metal", made))
	switch a, fits := smallerSize(c); {
	case n.Cmp(powerAmps(limit)) <= 0:
	case fits && a <= limit:
		out.Action = check.Say("run-protection.either", "limit", powerAmps(limit), "w", w, "metal", made, "amps", powerAmps(a))
	default:
		// No smaller breaker carries the machine, so it is the wire that gives way.
		out = check.From(powerAmps(limit), n, check.Say("run-protection.action", "limit", powerAmps(limit), "w", w, "metal", made, "breaker", n), at...)
		out.Have, out.Want = out.Have.In(check.Say("run-protection.protects", "w", w, "metal", made)), out.Want.In(check.Say("run-protection.breaker"))
	}
	note := any(check.Say("run-protection.note"))
	if !onNEC(c) {
		note = check.Say("run-protection.note2")
	}
	out.Working = append(append([]Step{}, carry.steps...), entry("I_lim", note, powerAmps(limit)), entry("I_n", check.Say("run-protection.step"), n))
	return out
}

// ConductorProtection compares the breaker with what the conductor stands.
var ConductorProtection = &Check{
	ID:      "E-13",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC240_4D, trade.NEC240_4B, trade.NEC240_6, trade.NEC310_16, trade.NEC310Ambient, trade.NEC310Bundle, trade.NEC110_14C, trade.NEC334_80, trade.IECOverload, trade.IECCables, trade.IECMethodB2, trade.IECMethodA2, trade.IECAmbient, trade.IECGrouping},
	After:   []*Check{ConductorAmpacity},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Conduit, ask.Power.Terminals, ask.Power.Phases},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Conductor.Path(): "14 AWG"}, Verdict: Fix, Shows: "I_lim = 15 A"},
	Run:     perOption(runProtection),
	Remedies: func(c *Case, k *Check) []Remedy {
		rs := append(append(rewired(c, k), unbundled(c, k)...), insulated(c, k)...)
		if d, _, bad := drawOf(c); !bad && !optionOpen(c) && !voltageInDoubt(c) {
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
		w := wireSize(g + " AWG")
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

// A ground is the grounding (protective) conductor wanted.
type ground struct {
	metal trade.Metal
	table quantity.WireSize // by the breaker alone
	least quantity.WireSize // with what it must have grown by
	grown float64           // circular mils of the proportion, 0 where none applies
	steps []Step
}

// groundMetal is the metal of the grounding conductor; assumed is true where
// nobody said and that of the circuit conductors is taken.
func groundMetal(c *Case, wires trade.Metal) (m trade.Metal, assumed bool) {
	switch ask.Power.GroundOf.Of(c) {
	case "copper":
		return trade.Copper, false
	case "aluminium":
		return trade.Aluminum, false
	}
	return wires, true
}

// groundSize is the least grounding (protective) conductor of a metal.
func groundSize(c *Case, of trade.Metal) (g ground, out Outcome, bad bool) {
	w, wires, out, bad := wireOf(c)
	if bad {
		return g, out, true
	}
	g.metal = of
	if !onNEC(c) {
		g.least = wireSize(strconv.FormatFloat(math.Round(10*trade.ProtectiveMM2(w.MM2()))/10, 'f', -1, 64) + " mm²")
		g.table = g.least
		g.steps = []Step{entry("S_PE", check.Say("ground-size.step", "w", w), g.least)}
		return g, out, false
	}
	if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
		return g, out, true
	}
	breaker := ask.Power.Breaker.Of(c)
	n := breaker.In(quantity.Ampere)
	base, err := trade.EGC(n, of)
	if err != nil {
		return g, check.Rule(breaker, check.Say("ground-size.want"), check.Say("ground-size.do"), ask.Power.Breaker), true
	}
	g.table = wireSize(base + " AWG")
	g.steps = []Step{entry("EGC", check.Say("ground-size.step2", "breaker", breaker, "metal", check.Word(of.String())), g.table)}
	least, err := trade.GaugeForBreaker(n, wires, trade.Col75, true, trade.NEC2020)
	if order, e := trade.CompareGauges(w.AWG(), least); err == nil && e == nil && order > 0 {
		// Larger than the breaker needs: how much of it is for heat decides.
		if _, out, bad := capacityOf(c, w, wires); bad {
			return g, out, true
		}
		if l, ok := leastWire(c, wires); ok {
			least = l
		}
		if up, err := trade.EGCUpsized(n, of, least, w.AWG()); err == nil {
			base = up
			g.grown, _ = trade.EGCGrown(n, of, least, w.AWG())
			g.steps = append(g.steps, entry("EGC_up", check.Say("ground-size.step3", "least", wireSize(least+" AWG"), "w", w), wireSize(base+" AWG")),
				entry("A_up", check.Say("ground-size.step4", "least", wireSize(least+" AWG"), "w", w), check.Figure{Value: g.grown, Unit: "cmil"}))
		}
	}
	g.least = wireSize(base + " AWG")
	if of == wires && g.least.Cmp(w) > 0 {
		g.least = w // never larger than the circuit conductors
	}
	return g, out, false
}

// groundNeeded is the grounding conductor that the circuit wants.
func groundNeeded(c *Case) (quantity.WireSize, bool) {
	_, wires, _, bad := wireOf(c)
	if bad || ask.Power.GroundOf.Of(c) == "conduit" {
		return quantity.WireSize{}, false
	}
	metal, _ := groundMetal(c, wires)
	g, _, bad := groundSize(c, metal)
	return g.least, !bad
}

// roundedMils is the share of a proportion of circular mils by which the next
// smaller gauge may miss it before that is more than the tables' own rounding.
// Common practice, no source.
const roundedMils = 0.002

// nearlyGrown says by how much a conductor misses the proportion, where that is
// no more than rounding.
func nearlyGrown(have quantity.WireSize, g ground) (short float64, ok bool) {
	mils, err := trade.CircularMils(have.AWG())
	if err != nil || g.grown == 0 || have.Cmp(g.table) < 0 {
		return 0, false
	}
	return g.grown - mils, mils < g.grown && g.grown-mils <= roundedMils*g.grown
}

// runGround judges the grounding (protective) conductor.
func runGround(c *Case) Outcome {
	p := ask.Power
	at := []survey.Ref{p.Ground, p.GroundOf, p.Conductor, p.Breaker}
	if p.GroundOf.Of(c) == "conduit" {
		return groundByConduit(c)
	}
	if out, lacks := c.Lacking(p.Ground); lacks {
		return out
	}
	_, wires, out, bad := wireOf(c)
	if bad {
		return out
	}
	metal, assumed := groundMetal(c, wires)
	g, out, bad := groundSize(c, metal)
	if bad {
		return out
	}
	have, made := p.Ground.Of(c), check.Word(metal.String())
	want := check.Say("E-14.want", "need", g.least, "metal", made)
	rule := "E-14.table"
	if g.least.Cmp(g.table) > 0 {
		rule = "E-14.grown"
	}
	switch short, near := nearlyGrown(have, g); {
	case have.Metric() == onNEC(c):
		out = check.Rule(have, want, check.Say("E-14.do"), at...)
	case !onNEC(c) && metal == trade.Aluminum:
		out = check.Rule(check.Say("E-14.of", "have", have, "metal", made), check.Say("wire-of.want"), check.Say("E-14.prove", "have", have), at...)
	case !onNEC(c) && have.Cmp(g.least) < 0:
		out = check.Rule(have, check.Say("E-14.want2", "need", g.least), check.Say("E-14.do2", "have", have, "need", g.least), at...)
	case have.Cmp(g.least) >= 0 && onNEC(c) && metal == trade.Aluminum && p.RunPlace.Of(c) == "wet":
		out = check.Rule(check.Say("E-14.of-wet", "have", have, "metal", made), check.Say("E-14.earth-want", "metal", made), check.Say("E-14.earth-ask", "metal", made, "inches", inches(trade.AluminumFromEarthIn)), append(at, p.RunPlace)...)
	case have.Cmp(g.least) >= 0:
		out = wireSpare(check.Choice(true, have, want, nil, at...), have, g.least)
	case near:
		out = check.Rule(check.Say("E-14.of", "have", have, "metal", made), want,
			check.Say("E-14.rounded", "have", have, "need", g.least, "metal", made, "short", check.Figure{Value: short}, "grown", check.Figure{Value: g.grown}), at...)
	default:
		out = wireSpare(check.Choice(false, check.Say("E-14.of", "have", have, "metal", made), want, check.Say(rule, "need", g.least, "have", have, "metal", made), at...), have, g.least)
		if assumed && metal == trade.Aluminum {
			// A ground of copper may be smaller, and nobody said what it is.
			if cu, _, bad := groundSize(c, trade.Copper); !bad && have.Cmp(cu.least) >= 0 {
				out = check.Rule(have, want, check.Say("E-14.which", "need", g.least, "copper", cu.least), at...)
			}
		}
	}
	out.Working, out.Result = g.steps, g.least
	return out
}

// groundByConduit judges a circuit that its metal conduit grounds.
func groundByConduit(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(p.Conduit); lacks {
		return out
	}
	have, want := check.Say("E-14.conduit", "conduit", check.Word(p.Conduit.Of(c))), check.Say("E-14.conduit-want")
	switch conduit := p.Conduit.Of(c); {
	case conduit == "steel" && onNEC(c):
		return check.Choice(true, have, want, nil, p.GroundOf, p.Conduit)
	case conduit == "flexible" || conduit == "liquidtight":
		return groundByFlex(c, conduit, have)
	case conduit == "steel" || conduit == "aluminium":
		return check.Rule(have, want, check.Say("E-14.conduit-ask"), p.GroundOf, p.Conduit)
	}
	return check.Choice(false, have, want, check.Say("E-14.conduit-do"), p.GroundOf, p.Conduit)
}

// groundByFlex judges a circuit that flexible metal conduit grounds. Neither
// its trade size nor its fittings nor how much of the run it is are asked, so
// the electrician says the rest; where the breaker is too large for any of its
// sizes nothing but a wire will do.
func groundByFlex(c *Case, conduit string, have check.Phrase) Outcome {
	p := ask.Power
	at := []survey.Ref{p.GroundOf, p.Conduit, p.Breaker}
	if !onNEC(c) {
		return check.Rule(have, check.Say("E-14.conduit-want"), check.Say("E-14.conduit-ask"), at...)
	}
	if out, lacks := c.Lacking(p.Breaker); lacks {
		return out
	}
	most := powerAmps(trade.FlexGroundMaxA)
	if conduit == "liquidtight" {
		most = powerAmps(trade.LiquidtightGroundMaxA)
	}
	breaker := p.Breaker.Of(c)
	out := check.UpTo(breaker, most, check.Say("E-14.flex-do", "conduit", check.Word(conduit), "most", most), at...)
	if out.Have.Value != nil {
		out.Have, out.Want = out.Have.In(check.Say("E-14.flex-have", "conduit", check.Word(conduit))), out.Want.In(check.Say("E-14.flex-want"))
	}
	if out.Verdict == OK {
		ask := "E-14.flex-ask"
		if conduit == "liquidtight" && breaker.Cmp(powerAmps(trade.FlexGroundMaxA)) > 0 {
			ask = "E-14.liquidtight-ask"
		}
		out.Verdict, out.Action = Confirm, check.Say(ask, "conduit", check.Word(conduit))
	}
	return out
}

// GroundConductor sizes the equipment grounding (protective) conductor.
var GroundConductor = &Check{
	ID:      "E-14",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC250_122, trade.NEC250_122B, trade.NEC250_118, trade.NEC250_118Flex, trade.NEC250_120, trade.IECProtective},
	After:   []*Check{ConductorAmpacity},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.Conductor.Path(): "6 AWG", ask.Power.Breaker.Path(): "45 A"}, Verdict: OK, Shows: "EGC_up = 8 AWG"},
	Run:     perOption(runGround),
	Remedies: func(c *Case, k *Check) []Remedy {
		// With the breaker that the site will have, so that it is pulled once.
		if rs := rewired(c, k); len(rs) > 0 && rs[0].Set[ask.Power.Breaker.Path()] != "" {
			return rs
		}
		set := map[string]string{}
		if ask.Power.GroundOf.Of(c) == "conduit" {
			set[ask.Power.GroundOf.Path()] = "copper"
		}
		after, err := c.With(set)
		if err != nil {
			return nil
		}
		g, ok := groundNeeded(after)
		if !ok {
			return nil
		}
		set[ask.Power.Ground.Path()] = g.String()
		return []Remedy{{Change: check.Say("E-14.way", "g", g), Work: check.PipeOrWire, Set: set}}
	},
}

// DeviceMetal compares the conductors' metal with what the devices take.
var DeviceMetal = &Check{
	ID:      "E-34",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC110_14},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.ConductorOf.Path(): "aluminium", ask.Power.DevicesTake.Path(): "copper"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !onNEC(c) {
			return check.Say("nec.only")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.ConductorOf); lacks {
			return out
		}
		want := check.Say(wired(c, "E-34.want"))
		found := "E-34.have"
		if p.ConductorOf.Of(c) != "aluminium" {
			if p.GroundOf.Of(c) != "aluminium" {
				return check.Choice(true, check.Word(trade.Copper.String()), want, nil, p.ConductorOf)
			}
			found = "E-34.ground"
		}
		if out, lacks := c.Lacking(p.DevicesTake); lacks {
			return out
		}
		return check.Choice(p.DevicesTake.Of(c) == "copper-aluminium", check.Say(found, "take", check.Word(p.DevicesTake.Of(c))), want, check.Say(wired(c, "E-34.do")), p.ConductorOf, p.GroundOf, p.DevicesTake)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		devices := Remedy{Change: check.Say(wired(c, "E-34.way")), Work: check.Device, Set: map[string]string{p.DevicesTake.Path(): "copper-aluminium"}}
		copper := Remedy{Change: check.Say("E-34.way2", "wire", p.Conductor.Of(c)), Work: check.PipeOrWire, Set: map[string]string{p.ConductorOf.Path(): "copper"}}
		if p.ConductorOf.Of(c) != "aluminium" {
			copper = Remedy{Change: check.Say("E-34.way3", "wire", p.Ground.Of(c)), Work: check.PipeOrWire, Set: map[string]string{}}
		}
		if p.GroundOf.Of(c) == "aluminium" {
			copper.Set[p.GroundOf.Path()] = "copper"
		}
		return []Remedy{devices, copper}
	}),
}

// wired is the name of a wording, for a hard-wired machine its own: that one
// has a terminal block in place of a receptacle.
func wired(c *Case, name string) string {
	if byCord(c) {
		return name
	}
	return name + "-wired"
}

// WetRun compares the insulation with the place that the run lies in.
var WetRun = &Check{
	ID:      "E-35",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC310_4, trade.NEC334_12},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.RunPlace.Path(): "wet", ask.Power.WetInsulation.Path(): "none"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !onNEC(c) {
			return check.Say("nec.only")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Insulation); lacks {
			return out
		}
		place, nm := p.RunPlace.Of(c), p.Conduit.Of(c) == "nm-cable"
		stands := p.Insulation.Of(c) == "75" && !nm
		at := []survey.Ref{p.RunPlace, p.Conduit, p.Insulation, p.WetInsulation}
		have, want := check.Say("E-35.have", "place", check.Word(place), "insulation", insulationOf(c)), check.Say("E-35.want")
		switch {
		case place == "" && stands:
			return check.Choice(true, insulationOf(c), want, nil, at...)
		case place == "":
			return check.Rule(insulationOf(c), want, check.Say("E-35.where"), at...)
		case place == "dry" || place == "damp" && !nm:
			return check.Choice(true, have, want, nil, at...)
		case nm:
			return check.Choice(false, have, want, check.Say("E-35.no-nm"), at...)
		case p.WetInsulation.Of(c) == "" && stands:
			return check.Choice(true, have, want, nil, at...)
		}
		if out, lacks := c.Lacking(p.WetInsulation); lacks {
			return out
		}
		return check.Choice(p.WetInsulation.Of(c) != "none", have, want, check.Say("E-35.do"), at...)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		set := map[string]string{p.Insulation.Path(): "75", p.WetInsulation.Path(): "75"}
		change := check.Say("E-35.way", "wire", p.Conductor.Of(c))
		if p.Conduit.Of(c) == "nm-cable" {
			set[p.Conduit.Path()] = "pvc"
			change = check.Say("E-35.way2", "wire", p.Conductor.Of(c))
		}
		if all, ok := refit(c, set, p.Conductor.Of(c), func(*Case) bool { return true }); ok && all[p.Conductor.Path()] != "" {
			change, set = check.Say("circuit.change", "parts", check.List{change, wireWords(c, all)}), all
		}
		return []Remedy{{Change: change, Work: check.PipeOrWire, Set: set}}
	}),
}

// insulationOf names the conductors' insulation.
func insulationOf(c *Case) check.Phrase {
	if ask.Power.Conduit.Of(c) == "nm-cable" {
		return check.Say("E-35.nm")
	}
	return check.Say("E-35.rated", "degrees", check.Word(ask.Power.Insulation.Of(c)))
}
