package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// OwnCircuit judges a circuit that serves other things too.
var OwnCircuit = &Check{
	ID:       "E-07",
	Trade:    Electrician,
	Stage:    RoughIn,
	Title:    "circuit shared with other loads",
	Why:      "A shared circuit trips in the busiest hour, when the heater and everything else run together.",
	Formula:  "NEC: I_b ≤ 0.80 I_n by cord (15, 20, 30 A circuit), ≤ 0.50 I_n fastened in place (15, 20 A); all: k I_b + Σ I_other ≤ I_n, k = 1.25 for a continuous load under the NEC, else 1.00; currents in A",
	Range:    "NEC branch circuits to 30 A; larger ones aren't shared with portable loads; other loads counted as not continuous",
	Sources:  []trade.Source{trade.NEC210_23, trade.NEC210_20, trade.IECOverload},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", ask.Power.LineToLine.Path(): "240 ± 0 V", "power.other_loads[0].name": "glass froster", "power.other_loads[0].current": "3.5 A"}, Verdict: OK, Shows: "ΣI = 15.8 A"},
	Run:      runOwnCircuit,
	Remedies: aloneRemedy,
}

// DedicatedCircuit asks for a circuit of the machine's own where its sheet does,
// however little else hangs on it.
var DedicatedCircuit = &Check{
	ID:      "E-28",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "circuit of its own, as the machine's sheet asks",
	Why:     "Whatever else hangs on the circuit, today's load is not tomorrow's; the machine's maker asks for a circuit that nothing can be plugged into.",
	Sources: []trade.Source{sheet, {Document: "NEC", Edition: "2023", Clause: "422.10(A)", Mark: trade.FromMemory}},
	After:   []*Check{OwnCircuit},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", "power.other_loads[0].name": "back-bar cooler", "power.other_loads[0].current": "4.5 A"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if !c.Machine.Power.Dedicated {
			return "the requirement sheet asks for no circuit of the machine's own"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Dedicated); lacks {
			return out
		}
		p := ask.Power
		have := "serves the machine alone"
		if p.Dedicated.Of(c) == survey.No || len(p.OtherLoads.Of(c)) > 0 {
			have = "shared with " + otherNames(c)
		}
		for _, l := range p.OtherLoads.Of(c) {
			if l.Current.Known() {
				have += ", " + show(c, l.Current)
			}
		}
		out := check.Choice(p.Dedicated.Of(c) == survey.Yes && len(p.OtherLoads.Of(c)) == 0, have, "a circuit that serves the machine alone",
			"move "+otherNames(c)+" to another circuit, or bring the machine a circuit of its own", ask.Power.Dedicated, ask.Power.OtherLoads)
		return c.OnSheet(out, "power.dedicated_circuit")
	},
	Remedies: aloneRemedy,
}

// aloneRemedy clears the circuit of everything else.
func aloneRemedy(c *Case, _ *Check) []Remedy {
	return []Remedy{{Change: "move " + otherNames(c) + " to another circuit so that this one serves the machine alone",
		Set: map[string]string{ask.Power.Dedicated.Path(): "yes", ask.Power.OtherLoads.Path(): "[]"}}}
}

func runOwnCircuit(c *Case) Outcome {
	if out, lacks := c.Lacking(ask.Power.Dedicated); lacks {
		return out
	}
	p := ask.Power
	if p.Dedicated.Of(c) == survey.Yes && len(p.OtherLoads.Of(c)) == 0 {
		return check.Choice(true, "serves the machine alone", "a circuit that carries all on it", "", ask.Power.Dedicated)
	}
	need := []survey.Ref{ask.Power.Breaker, ask.Power.OtherLoads}
	for i := range p.OtherLoads.Of(c) {
		need = append(need, p.OtherLoads.Current.At(i))
	}
	if out, lacks := c.Lacking(need...); lacks {
		return out
	}
	d, out, bad := drawOf(c)
	if bad {
		return out
	}
	others := 0.0
	for _, l := range p.OtherLoads.Of(c) {
		others += l.Current.In(quantity.Ampere)
	}
	n := p.Breaker.Of(c).In(quantity.Ampere)
	action := "move " + otherNames(c) + " to another circuit, or bring the machine a circuit of its own"
	at := append([]survey.Ref{ask.Power.Dedicated}, need...)
	machine := d.run
	steps := append(d.steps, Step{"I_other", "the other loads together", show(c, powerAmps(others))})
	if onNEC(c) && c.Supply.Continuous {
		machine = trade.MinimumCircuit(d.run, 0, p.FullRated.Of(c) == survey.Yes)
	}
	total := machine + others
	steps = append(steps, Step{"ΣI", fmt.Sprintf("%s × I_b + I_other", number(machine/d.run, 2)), show(c, powerAmps(total))}, Step{"I_n", "breaker", show(c, p.Breaker.Of(c))})
	out = check.UpTo(powerAmps(total), p.Breaker.Of(c), action, at...)
	out.Have = out.Have.Also(" in all")
	switch {
	case !onNEC(c):
	case n > 30:
		out = check.Choice(false, show(c, p.Breaker.Of(c))+" circuit with "+otherNames(c), "a circuit over 30 A that serves the machine alone", action, at...)
	default:
		share, what := math.NaN(), ""
		if c.Machine.Power.Connection == "cord" {
			if x, err := trade.CordLoadLimit(n); err == nil {
				share, what = x, "80 % of the circuit, for one load by cord"
			}
		} else if x, err := trade.FastenedLoadLimit(n); err == nil {
			share, what = x, "50 % of the circuit, for equipment fastened in place beside other loads"
		}
		if share > 0 {
			steps = append(steps, Step{"I_share", what, show(c, powerAmps(share))})
			own := check.UpTo(powerAmps(d.run), powerAmps(share), action, at...)
			own.Have = own.Have.Also(" for the machine")
			own.Want = own.Want.Also(", " + what)
			out = worse(out, own)
		}
	}
	out.Working = steps
	return out
}

// otherNames lists the other loads by name.
func otherNames(c *Case) string {
	var names []string
	for _, l := range ask.Power.OtherLoads.Of(c) {
		names = append(names, l.Name)
	}
	if len(names) == 0 {
		return "the other loads"
	}
	return strings.Join(names, ", ")
}

// MinimumBreaker compares the breaker with the machine's minimum circuit.
var MinimumBreaker = &Check{
	ID:      "E-08",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "breaker against the machine's minimum circuit",
	Why:     "A smaller breaker trips while the heater and the pumps run together.",
	Formula: "I_n ≥ I_min; I_min = minimum circuit on the plate, else 1.25 I of a continuous load under the NEC (1.00 for a breaker assembly listed for 100 %); at least I_b = I_h + I_m with I_h = P / V_r × V / V_r (three phase: / √3) and I_m = I_r × V_r / V; A, V, W",
	Range:   "resistance heaters; motors between 0.9 and 1.1 of their rated voltage",
	Sources: []trade.Source{sheet, trade.NEC210_20, trade.NEC100Rated, trade.NEC422_10, trade.IECOverload, trade.JouleLaw, trade.MotorEstimate},
	After:   []*Check{PlateVoltage},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V", ask.Power.Breaker.Path(): "40 A"}, Verdict: Fix, Shows: "I_b = 33.3 A"},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
			return out
		}
		d, out, bad := drawOf(c)
		if bad {
			return out
		}
		need, field, step := minimumOf(c, d)
		action := fmt.Sprintf("give the machine a circuit of at least %s", show(c, powerAmps(need)))
		if sizes := breakersBetween(c, need); len(sizes) > 0 {
			action = fmt.Sprintf("give the machine a %s circuit, breaker and conductors both", show(c, powerAmps(sizes[0])))
		}
		out = check.From(ask.Power.Breaker.Of(c), powerAmps(need), action, ask.Power.Breaker)
		out.Working = append(d.steps, step, Step{"I_n", "breaker", show(c, ask.Power.Breaker.Of(c))})
		return onPlate(c, out, field)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d, _, bad := drawOf(c)
		if bad {
			return nil
		}
		need, _, _ := minimumOf(c, d)
		for _, a := range breakersBetween(c, need) {
			set := map[string]string{ask.Power.Breaker.Path(): quantity.Ampere.Write(a)}
			change := "fit a " + show(c, powerAmps(a)) + " breaker"
			cures := func(after *Case) bool { return after.Passes(k) }
			after, err := c.With(set)
			if err != nil || !cures(after) {
				continue
			}
			if all, ok := refit(c, set, ask.Power.Conductor.Of(c), cures); ok {
				set = all
				if words := wireWords(c, all); words != "" {
					change += ", " + words
				}
			}
			if r, ok := largerReceptacle(c, a); ok {
				set[ask.Power.Receptacle.Path()] = r
				change += ", fit a receptacle " + r
			}
			return []Remedy{{Change: change, Set: set}}
		}
		return nil
	},
}

// breakersBetween lists standard ratings from need up to the plate's maximum.
func breakersBetween(c *Case, need float64) []float64 {
	top := c.Supply.MaxBreaker
	return slices.DeleteFunc(slices.Clone(breakerSizes(c)), func(a float64) bool {
		return a < need || top.Known() && powerAmps(a).Cmp(top) > 0
	})
}

// MaximumBreaker compares the breaker with the plate's maximum.
var MaximumBreaker = &Check{
	ID:      "E-09",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "breaker against the plate's maximum",
	Why:     "A larger breaker doesn't protect the wiring and controls inside the machine.",
	Sources: []trade.Source{sheet, trade.NEC422_11E},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Breaker.Path(): "25 A"}, Verdict: Fix, Shows: "I_max = 20 A"},
	Applies: func(c *Case) string {
		if !c.Supply.MaxBreaker.Known() {
			return "the requirement sheet sets no maximum overcurrent protection"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
			return out
		}
		limit := c.Supply.MaxBreaker
		out := check.UpTo(ask.Power.Breaker.Of(c), limit, "replace the breaker by one of at most "+show(c, limit), ask.Power.Breaker)
		out.Working = []Step{{"I_n", "breaker", show(c, ask.Power.Breaker.Of(c))}, {"I_max", "maximum overcurrent protection on the plate", show(c, limit)}}
		return onPlate(c, out, "max_breaker")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		need := 0.0
		if d, _, bad := drawOf(c); !bad {
			need, _, _ = minimumOf(c, d)
		}
		return smallerBreaker(c, k, need)
	},
}

// smallerBreaker offers the largest standard rating that cures the check and
// still carries the machine.
func smallerBreaker(c *Case, k *Check, need float64) []Remedy {
	var texts []string
	for _, a := range slices.Backward(breakersBetween(c, need)) {
		if powerAmps(a).Cmp(ask.Power.Breaker.Of(c)) < 0 {
			texts = append(texts, quantity.Ampere.Write(a))
		}
	}
	return c.Offer(k, ask.Power.Breaker, texts, nil, func(v string) any {
		return fmt.Sprintf("replace the %s breaker by one of %s", show(c, ask.Power.Breaker.Of(c)), v)
	})
}

// BreakerSize asks whether the rating read is one that is made.
var BreakerSize = &Check{
	ID:      "E-10",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "breaker of a standard rating",
	Why:     "A rating that isn't on the list was most likely misread, and every other check rests on it.",
	Sources: []trade.Source{trade.NEC240_6, trade.IEC60898},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Breaker.Path(): "22 A"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
			return out
		}
		have := ask.Power.Breaker.Of(c)
		var near []string
		for i, a := range breakerSizes(c) {
			if have.Cmp(powerAmps(a)) == 0 {
				return check.Choice(true, show(c, have), "a standard rating", "", ask.Power.Breaker)
			}
			if sizes := breakerSizes(c); i+1 < len(sizes) && a < have.In(quantity.Ampere) && have.In(quantity.Ampere) < sizes[i+1] {
				near = []string{show(c, powerAmps(a)), show(c, powerAmps(sizes[i+1]))}
			}
		}
		want := "a standard rating"
		if near != nil {
			want += "; the nearest are " + strings.Join(near, " and ")
		}
		return check.Rule(show(c, have), want, "read the breaker's handle again; "+show(c, have)+" is no standard rating", ask.Power.Breaker)
	},
}

// BreakerPoles compares the breaker's poles with the lines to switch.
var BreakerPoles = &Check{
	ID:      "E-11",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "poles of the breaker",
	Why:     "Every line conductor of the machine must open together; with a pole too few it stays live when switched off.",
	Sources: []trade.Source{trade.NEC422_30, trade.NECHighLeg, trade.IECIsolation},
	After:   []*Check{SupplyPhases},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.BreakerPoles.Path(): "1"}, Verdict: Fix, Shows: "n = 2"},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.BreakerPoles); lacks {
			return out
		}
		have, want := ask.Power.BreakerPoles.Of(c).N(), lineConductors(c)
		most := want
		if !onNEC(c) {
			most++ // the neutral may be switched too
		}
		text := fmt.Sprintf("%d-pole", want)
		if most > want {
			text += fmt.Sprintf(" or %d-pole with the neutral", most)
		}
		out := check.Choice(have >= want, fmt.Sprintf("%d-pole", have), text, fmt.Sprintf("fit a %d-pole breaker with a common trip", want), ask.Power.BreakerPoles)
		switch {
		case have > most:
			out = check.Rule(fmt.Sprintf("%d-pole", have), text, fmt.Sprintf("have the electrician say which of the %d poles feed the machine; it takes %d", have, want), ask.Power.BreakerPoles)
		case out.Verdict == OK && want > 1 && highLeg(c):
			out = check.Rule(fmt.Sprintf("%d-pole on a supply with a high leg", have), "a breaker of the full line-to-line voltage", "have the electrician confirm that the breaker is not of a slash rating (120/240 V); such a one may not switch the high leg", ask.Power.BreakerPoles, ask.Power.HighLeg)
		}
		out.Working = []Step{{"n", "line conductors of supply option " + c.Supply.Name, fmt.Sprint(want)}}
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		n := fmt.Sprint(lineConductors(c))
		return []Remedy{{Change: "fit a " + n + "-pole breaker with a common trip", Set: map[string]string{ask.Power.BreakerPoles.Path(): n}}}
	},
}
