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
		family := map[bool]string{true: "a gauge (AWG)", false: "a metric size (mm²)"}[onNEC(c)]
		return w, metal, check.Rule(w.String(), family, "read the jacket again; if it is "+w.String()+", have the electrician rate the circuit, since this code's tables go by "+family, ask.Power.Conductor), true
	}
	if !onNEC(c) && metal != trade.Copper {
		return w, metal, check.Rule("aluminium", "copper, as tabulated here", "have the electrician rate the aluminium circuit by its own table", ask.Power.ConductorOf), true
	}
	least, most := "14 AWG", "1/0 AWG"
	if metal == trade.Aluminum {
		least = "12 AWG"
	}
	if !onNEC(c) {
		least, most = "1.5 mm²", "16 mm²"
	}
	if w.Cmp(quantity.MustParse[quantity.WireSize](least)) < 0 {
		return w, metal, check.Choice(false, w.String(), "at least "+least, "pull conductors of at least "+least, ask.Power.Conductor), true
	}
	if w.Cmp(quantity.MustParse[quantity.WireSize](most)) > 0 {
		return w, metal, check.Rule(w.String(), "up to "+most+", as tabulated here", "have the electrician confirm the circuit; the tables here end at "+most, ask.Power.Conductor), true
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
	wire := w.String() + " " + metal.String()
	if !onNEC(c) {
		if rated < 70 {
			return carry, check.Rule("insulation of "+p.Insulation.Of(c)+" °C", "70 °C or more, as tabulated here", "have the electrician rate the circuit by its own table", ask.Power.Insulation), true
		}
		loaded := loadedConductors(c)
		table, err := trade.IECAmpacity(w.MM2(), trade.Multicore, loaded)
		how := "clipped direct, method C"
		if p.Conduit.Of(c) != "cable" {
			table, err = trade.IECConduitAmpacity(w.MM2(), loaded)
			how = "in conduit, method B2"
		}
		group, gerr := trade.IECGroupingFactor((bundled + loaded - 1) / loaded)
		if err != nil || gerr != nil {
			return carry, check.Rule(wire, "a case of the tables here", "have the electrician rate the circuit by the full tables", ask.Power.Conductor, ask.Power.Bundled), true
		}
		air := trade.IECAmbientFactor(ambient, 70)
		carry.derated = table * air * group
		carry.terminal, carry.usable = carry.derated, carry.derated
		carry.steps = []Step{
			{"I_t", fmt.Sprintf("%s with %d loaded conductors, %s, 70 °C insulation, at 30 °C", wire, loaded, how), show(c, powerAmps(table))},
			{"C_a", "√((70 − " + number(ambient, 1) + ") / 40), ambient " + show(c, p.Ambient.Of(c)), number(air, 3)},
			{"C_g", fmt.Sprintf("%d current-carrying conductors together", bundled), number(group, 2)},
			{"I_z", "I_t × C_a × C_g", show(c, powerAmps(carry.usable))},
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
		return carry, check.Rule(wire, "a case of the tables here", "have the electrician rate the circuit", ask.Power.Conductor), true
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
	marked := fmt.Sprintf("terminals, %d °C column", int(terminal))
	if p.Terminals.Of(c) == "" {
		marked += " assumed, not marked"
	}
	carry.steps = []Step{
		{"I_t", fmt.Sprintf("%s, %d °C column, at 30 °C", wire, int(column)), show(c, powerAmps(base))},
		{"f_a", "ambient " + show(c, p.Ambient.Of(c)), number(air, 2)},
		{"f_n", fmt.Sprintf("%d current-carrying conductors together", bundled), number(group, 2)},
		{"I_d", "derated, I_t × f_a × f_n", show(c, powerAmps(carry.derated))},
		{"I_term", wire + " at its " + marked, show(c, powerAmps(carry.terminal))},
		{"I_z", "usable, the smaller of I_d and I_term", show(c, powerAmps(carry.usable))},
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
	action := fmt.Sprintf("pull larger conductors: %s %s is good for %s here", w, metal, show(c, powerAmps(carry.usable)))
	if next := firstWire(c, w, func(w quantity.WireSize) bool {
		carry, _, bad := capacityOf(c, w, metal)
		return !bad && carry.terminal >= need && carry.derated >= d.run
	}); next != "" {
		action = fmt.Sprintf("pull %s %s instead of %s, which is good for %s here", next, metal, w, show(c, powerAmps(carry.usable)))
	}
	at := []survey.Ref{ask.Power.Conductor, ask.Power.ConductorOf, ask.Power.Insulation, ask.Power.Ambient, ask.Power.Bundled}
	byTerminal := check.From(powerAmps(carry.terminal), powerAmps(need), action, at...)
	byTerminal.Have = byTerminal.Have.In(check.Say("wire.carries", "wire", w, "metal", check.Word(metal.String())))
	byTerminal.Want = byTerminal.Want.Also(" (minimum circuit)")
	byLoad := check.From(powerAmps(carry.derated), powerAmps(d.run), action, at...)
	byLoad.Have = byLoad.Have.In(check.Say("wire.carries-derated", "wire", w, "metal", check.Word(metal.String())))
	byLoad.Want = byLoad.Want.Also(" (running current)")
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
	const change = "run the circuit in a conduit of its own"
	set := map[string]string{ask.Power.Bundled.Path(): fmt.Sprint(n)}
	if after, err := c.With(set); err == nil && after.Passes(k) {
		return []Remedy{{Change: change, Set: set}}
	}
	rs := upsized(c, k, set)
	for i := range rs {
		rs[i].Change = check.Say("circuit.change", "parts", check.List{check.Raw(change), rs[i].Change})
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
	return c.Offer(k, ask.Power.Insulation, better, nil, func(v string) any {
		return fmt.Sprintf("pull %s conductors with insulation of %s °C", ask.Power.Conductor.Of(c), v)
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
		out = check.Choice(false, fmt.Sprintf("%s %s, good for %s", w, metal, show(c, powerAmps(carry.usable))), "a conductor that a standard breaker protects", "pull larger conductors or run them cooler and fewer together", at...)
		out.Working = carry.steps
		return out
	}
	action := fmt.Sprintf("pull larger conductors: a breaker of at most %s protects %s %s here", show(c, powerAmps(limit)), w, metal)
	if next := firstWire(c, w, func(w quantity.WireSize) bool {
		carry, _, bad := capacityOf(c, w, metal)
		limit, err := protectionLimit(c, w, metal, carry)
		return !bad && err == nil && powerAmps(limit).Cmp(n) >= 0
	}); next != "" {
		action = fmt.Sprintf("pull %s %s behind the %s breaker, or fit one of at most %s", next, metal, show(c, n), show(c, powerAmps(limit)))
	}
	out = check.UpTo(n, powerAmps(limit), action, at...)
	out.Want = out.Want.Also(fmt.Sprintf(" on %s %s", w, metal))
	note := "largest breaker for it: usable ampacity, next standard size up where allowed, small-conductor limit"
	if !onNEC(c) {
		note = "largest breaker for it, I_z"
	}
	out.Working = append(append([]Step{}, carry.steps...), Step{"I_lim", note, show(c, powerAmps(limit))}, Step{"I_n", "breaker", show(c, n)})
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
		return g, []Step{{"S_PE", "protective conductor of a line conductor of " + w.String(), g.String()}}, out, false
	}
	if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
		return g, nil, out, true
	}
	n := ask.Power.Breaker.Of(c).In(quantity.Ampere)
	base, err := trade.EGC(n, metal)
	if err != nil {
		return g, nil, check.Rule(show(c, ask.Power.Breaker.Of(c)), "up to 200 A, as tabulated here", "have the electrician size the grounding conductor", ask.Power.Breaker), true
	}
	steps = []Step{{"EGC", fmt.Sprintf("least for a %s breaker, %v as the circuit conductors assumed", show(c, ask.Power.Breaker.Of(c)), metal), base + " AWG"}}
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
			steps = append(steps, Step{"EGC_up", fmt.Sprintf("grown as the circuit conductors, from %s AWG needed to %s pulled, by circular mils", least, w), base + " AWG"})
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
			out = check.Rule(have.String(), "at least "+need.String(), "read the grounding conductor's size again, or have the electrician rate it", at...)
		case !onNEC(c) && have.Cmp(need) < 0:
			out = check.Rule(have.String(), "at least "+need.String()+", or proved by calculation", "have the electrician prove the "+have.String()+" protective conductor by calculation, or pull "+need.String(), at...)
		default:
			out = check.Choice(have.Cmp(need) >= 0, have.String(), "at least "+need.String(), fmt.Sprintf("pull a %s grounding conductor instead of %s", need, have), at...)
		}
		out.Working = steps
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		g, ok := groundNeeded(c)
		if !ok {
			return nil
		}
		return []Remedy{{Change: fmt.Sprintf("pull a %s grounding conductor", g), Set: map[string]string{ask.Power.Ground.Path(): g.String()}}}
	},
}
