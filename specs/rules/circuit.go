package rules

import (
	"maps"
	"math"
	"slices"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// OwnCircuit judges a circuit that serves other things too.
var OwnCircuit = &Check{
	ID:       "E-07",
	Trade:    Electrician,
	Stage:    RoughIn,
	Subject:  check.Circuit,
	Sources:  []trade.Source{trade.NEC210_23, trade.NEC210_20, trade.IECOverload},
	Assumes:  []survey.Ref{ask.Codes.Electrical},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", ask.Power.LineToLine.Path(): "240 ± 0 V", "power.other_loads[0].name": "glass froster", "power.other_loads[0].current": "3.5 A", "power.other_loads[0].continuous": "no"}, Verdict: OK, Shows: "ΣI = 15.8 A"},
	Run:      perOption(runOwnCircuit),
	Remedies: aloneRemedy,
}

// DedicatedCircuit asks for a circuit of the machine's own where its sheet does,
// however little else hangs on it.
var DedicatedCircuit = &Check{
	ID:      "E-28",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{sheet, trade.NEC422_10},
	After:   []*Check{OwnCircuit},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Dedicated.Path(): "no", "power.other_loads[0].name": "back-bar cooler", "power.other_loads[0].current": "4.5 A"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !c.Machine.Power.Dedicated {
			return check.Say("E-28.not-asked")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Dedicated); lacks {
			return out
		}
		have := check.Say("circuit.alone")
		if shared(c) {
			have = check.Say("circuit.shared", "others", othersWithCurrents(c))
		}
		out := check.Choice(!shared(c), have, check.Say("circuit.alone"), check.Say("circuit.move", "others", others(c)), ask.Power.Dedicated, ask.Power.OtherLoads)
		return c.OnSheet(out, "power.dedicated_circuit")
	}),
	Remedies: settled(aloneRemedy),
}

// shared says whether the circuit isn't known to serve the machine alone.
func shared(c *Case) bool {
	return ask.Power.Dedicated.Of(c) != survey.Yes || len(ask.Power.OtherLoads.Of(c)) > 0
}

// aloneRemedy clears the circuit of everything else, or brings the machine one
// of its own: as large as it needs, with all that belongs to it.
func aloneRemedy(c *Case, k *Check) []Remedy {
	p := ask.Power
	alone := map[string]string{p.Dedicated.Path(): "yes", p.OtherLoads.Path(): "[]"}
	rs := []Remedy{{Change: check.Say("circuit.move-alone", "others", others(c)), Work: check.PipeOrWire, Set: alone}}
	d, _, bad := drawOf(c)
	n := lineConductors(c)
	if bad || optionOpen(c) || p.PanelSpaces.Known(c) && p.PanelSpaces.Of(c).N() < n || p.Adjacent.Known(c) && p.Adjacent.Of(c).N() < n {
		return rs
	}
	need, _, _ := minimumOf(c, d)
	sizes := breakersBetween(c, need)
	if a := p.Breaker.Of(c).In(quantity.Ampere); slices.Contains(sizes, a) {
		sizes = []float64{a} // as large as the present one, if that will do
	}
	for _, a := range sizes {
		set, ok := rebuilt(c, a, func(after *Case) bool { return met(after, runMinimum) })
		if !ok {
			continue
		}
		maps.Copy(set, alone)
		for _, r := range []survey.Ref{p.BreakerPoles, p.Conductor, p.Ground} {
			if _, given := set[r.Path()]; !given && r.Known(c) {
				set[r.Path()] = asWritten(c, r)
			}
		}
		if c.Supply.Neutral {
			set[p.Neutral.Path()] = "yes"
		}
		return append(rs, Remedy{Change: check.Say("circuit.own", "change", wireWords(c, set), "poles", n), Beside: check.Say("circuit.new"), Work: check.NewCircuit, Set: set})
	}
	return rs
}

// asWritten is an answer as the questionnaire would write it.
func asWritten(c *Case, r survey.Ref) string {
	switch v := r.Value(c).(type) {
	case survey.Count:
		return itoa(v.N())
	case quantity.WireSize:
		return v.String()
	}
	return ""
}

// otherLoad counts the other loads: as they are, and with those that run for
// three hours or more at 125 %, first where that is known, then wherever it isn't known not to.
func otherLoad(c *Case) (plain, known, worst float64) {
	factor := 1.25
	if !onNEC(c) || fullRated(c) {
		factor = 1
	}
	for _, l := range ask.Power.OtherLoads.Of(c) {
		a := l.Current.In(quantity.Ampere)
		plain += a
		switch l.Continuous {
		case survey.Yes:
			known, worst = known+factor*a, worst+factor*a
		case survey.No:
			known, worst = known+a, worst+a
		default:
			known, worst = known+a, worst+factor*a
		}
	}
	return plain, known, worst
}

func runOwnCircuit(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(p.Dedicated); lacks {
		return out
	}
	if !shared(c) {
		return check.Choice(true, check.Say("circuit.alone"), check.Say("E-07.carries-all"), nil, p.Dedicated)
	}
	need := []survey.Ref{p.Breaker, p.OtherLoads}
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
	n := p.Breaker.Of(c)
	action := check.Say("circuit.move", "others", others(c))
	at := append([]survey.Ref{p.Dedicated}, need...)
	machine := d.run
	if onNEC(c) && c.Supply.Continuous {
		machine = trade.MinimumCircuit(d.run, 0, fullRated(c))
	}
	plain, known, worst := otherLoad(c)
	steps := append(d.steps, entry("I_other", check.Say("step.other-loads"), powerAmps(plain)))
	if known != plain {
		steps = append(steps, entry("I_long", check.Say("step.other-loads-long"), powerAmps(known)))
	}
	total := machine + known
	steps = append(steps, entry("ΣI", check.Say("step.sum", "factor", check.Figure{Value: machine / d.run, Decimals: 2}), powerAmps(total)), entry("I_n", check.Say("step.breaker"), n))
	out = check.UpTo(powerAmps(total), n, action, at...)
	if out.Have.Value != nil {
		out.Have = out.Have.In(check.Say("E-07.in-all"))
	}
	switch amps := n.In(quantity.Ampere); {
	case !onNEC(c):
	case amps > 30:
		out = check.Choice(false, check.Say("E-07.large", "amps", n, "others", others(c)), check.Say("E-07.over-30"), action, at...)
	default:
		share, name := math.NaN(), "E-07.half"
		if byCord(c) {
			name = "E-07.cord"
			if x, err := trade.CordLoadLimit(amps); err == nil {
				share = x
			}
		} else if x, err := trade.FastenedLoadLimit(amps); err == nil {
			share = x
		}
		if share > 0 {
			steps = append(steps, entry("I_share", check.Say(name+"-share"), powerAmps(share)))
			own := check.UpTo(powerAmps(d.run), powerAmps(share), action, at...)
			if own.Have.Value != nil {
				own.Have, own.Want = own.Have.In(check.Say("E-07.machine")), own.Want.In(check.Say(name))
			}
			out = worse(out, own)
		}
	}
	if out.Verdict == OK && powerAmps(machine+worst).Cmp(n) > 0 {
		steps = append(steps, entry("ΣI_long", check.Say("step.sum-long"), powerAmps(machine+worst)))
		out = check.Rule(check.Fact{Value: powerAmps(machine + worst)}.In(check.Say("E-07.if-long")), check.Fact{Value: n, Bound: check.AtMost}, check.Say("E-07.ask-long", "others", others(c)), at...)
	}
	out.Working = steps
	return out
}

// others lists the other loads by name.
func others(c *Case) any {
	loads := ask.Power.OtherLoads.Of(c)
	if len(loads) == 0 {
		return check.Say("circuit.others")
	}
	list := make(check.List, len(loads))
	for i, l := range loads {
		list[i] = check.Quote(l.Name)
	}
	return list
}

// othersWithCurrents lists the other loads with what they draw.
func othersWithCurrents(c *Case) any {
	loads := ask.Power.OtherLoads.Of(c)
	if len(loads) == 0 {
		return check.Say("circuit.others")
	}
	list := make(check.List, len(loads))
	for i, l := range loads {
		list[i] = check.Quote(l.Name)
		if l.Current.Known() {
			list[i] = check.Say("circuit.other", "name", check.Quote(l.Name), "amps", l.Current)
		}
	}
	return list
}

// MinimumBreaker compares the breaker with the machine's minimum circuit.
var MinimumBreaker = &Check{
	ID:      "E-08",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{sheet, trade.NEC210_20, trade.NEC100Rated, trade.NEC422_10, trade.IECOverload, trade.JouleLaw, trade.MotorEstimate},
	After:   []*Check{PlateVoltage},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Phases},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V", ask.Power.Breaker.Path(): "40 A"}, Verdict: Fix, Shows: "I_b = 33.3 A"},
	Run:     perOption(runMinimum),
	Remedies: func(c *Case, k *Check) []Remedy {
		d, _, bad := drawOf(c)
		if bad || voltageInDoubt(c) || optionOpen(c) {
			return nil
		}
		need, _, _ := minimumOf(c, d)
		for _, a := range breakersBetween(c, need) {
			if set, ok := rebuilt(c, a, func(after *Case) bool { return after.Passes(k) }); ok {
				return []Remedy{{Change: wireWords(c, set), Work: circuitWork(set), Set: set}}
			}
		}
		return nil
	},
}

func runMinimum(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(p.Breaker); lacks {
		return out
	}
	d, out, bad := drawOf(c)
	if bad {
		return out
	}
	need, field, step := minimumOf(c, d)
	action := check.Say("E-08.none", "amps", powerAmps(need))
	if sizes := breakersBetween(c, need); len(sizes) > 0 {
		action = check.Say("E-08.circuit", "amps", powerAmps(sizes[0]))
	}
	have := p.Breaker.Of(c)
	out = check.From(have, powerAmps(need), doubtful(c, action), p.Breaker)
	if out.Verdict == Fix && p.FullRated.Of(c) == survey.Yes && !fullRated(c) {
		if full, _, _ := minimumWith(c, d, true); have.Cmp(powerAmps(full)) >= 0 {
			out.Verdict, out.Action = Confirm, check.Say("E-08.listed", "amps", have, "need", powerAmps(need))
			out.At = append(out.At, p.FullRated)
		}
	}
	// Heater and motors add up to less than their sum, by how much isn't known:
	// what only the sum exceeds is no fault.
	apart := d
	apart.run = math.Hypot(d.heater, d.motor)
	if least, _, _ := minimumOf(c, apart); out.Verdict == Fix && d.heater > 0 && have.Cmp(powerAmps(least)) >= 0 {
		out.Verdict, out.Action = Confirm, check.Say("E-08.in-phase", "least", powerAmps(least), "need", powerAmps(need))
	}
	out.Working = append(d.steps, step, entry("I_n", check.Say("step.breaker"), have))
	out.Result = powerAmps(need)
	return onPlate(c, out, field)
}

// MaximumBreaker compares the breaker with the plate's maximum.
var MaximumBreaker = &Check{
	ID:      "E-09",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{sheet, trade.NEC422_11E},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Phases},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Breaker.Path(): "25 A"}, Verdict: Fix, Shows: "I_max = 20 A"},
	Skip: func(c *Case) check.Phrase {
		if _, _, ok := largestBreaker(c); !ok {
			return check.Say("E-09.none")
		}
		return check.Phrase{}
	},
	Run: perOption(func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
			return out
		}
		limit, plate, known := largestBreaker(c)
		if !known {
			return check.Choice(true, ask.Power.Breaker.Of(c), check.Say("E-09.none"), nil, ask.Power.Breaker)
		}
		have := ask.Power.Breaker.Of(c)
		action := check.Say("E-09.smaller", "amps", limit)
		if a, ok := smallerSize(c); ok {
			action = check.Say("E-09.replace", "was", have, "amps", powerAmps(a))
		}
		out := check.UpTo(have, limit, action, ask.Power.Breaker)
		note := check.Say("step.max-plate")
		if !plate {
			note = check.Say("step.max-422")
		}
		out.Working = []Step{entry("I_n", check.Say("step.breaker"), have), entry("I_max", note, limit)}
		if !plate {
			return out
		}
		return onPlate(c, out, "max_breaker")
	}),
	Remedies: func(c *Case, k *Check) []Remedy {
		need := 0.0
		if optionOpen(c) {
			return nil
		}
		if d, _, bad := drawOf(c); !bad {
			need, _, _ = minimumOf(c, d)
		}
		return smallerBreaker(c, k, need)
	},
}

// smallerSize is the largest standard rating below the breaker's that still
// carries the machine and is allowed before it.
func smallerSize(c *Case) (amps float64, ok bool) {
	need := 0.0
	if d, _, bad := drawOf(c); !bad {
		need, _, _ = minimumOf(c, d)
	}
	for _, a := range slices.Backward(breakersBetween(c, need)) {
		if powerAmps(a).Cmp(ask.Power.Breaker.Of(c)) < 0 {
			return a, true
		}
	}
	return 0, false
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
	rs := c.Offer(k, ask.Power.Breaker, texts, nil, func(v any) any {
		return wireWords(c, map[string]string{ask.Power.Breaker.Path(): v.(quantity.Current).Text()})
	})
	for i := range rs {
		rs[i].Work = check.Device
	}
	return rs
}

// BreakerSize asks whether the rating read is one that is made.
var BreakerSize = &Check{
	ID:      "E-10",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC240_6, trade.IEC60898},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Breaker.Path(): "22 A"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
			return out
		}
		have := ask.Power.Breaker.Of(c)
		sizes := breakerSizes(c)
		want := check.Say("E-10.standard")
		for i, a := range sizes {
			if have.Cmp(powerAmps(a)) == 0 {
				return check.Choice(true, have, want, nil, ask.Power.Breaker)
			}
			if i+1 < len(sizes) && a < have.In(quantity.Ampere) && have.In(quantity.Ampere) < sizes[i+1] {
				want = check.Say("E-10.nearest", "below", powerAmps(a), "above", powerAmps(sizes[i+1]))
			}
		}
		return check.Rule(have, want, check.Say("E-10.read", "amps", have), ask.Power.Breaker)
	},
}

// BreakerPoles compares the breaker's poles with the lines to switch, and its
// marked voltage with theirs.
var BreakerPoles = &Check{
	ID:      "E-11",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NEC422_30, trade.NEC240_85, trade.NECHighLeg, trade.IECIsolation},
	After:   []*Check{SupplyPhases, SupplyNeutral},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Phases},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.BreakerPoles.Path(): "1"}, Verdict: Fix, Shows: "n = 2"},
	Run: func(c *Case) Outcome {
		out := perOption(runPoles)(c)
		if out.Verdict == Confirm && onNEC(c) && noOption(c) {
			// The marking is wrong for the site, whatever is connected.
			if wrong, is := breakerVoltage(c, lineConductors(c)); is && wrong.Verdict == Fix {
				return onceSettled(func(*Case) Outcome { return wrong })(c)
			}
		}
		return out
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		if optionOpen(c) {
			return nil
		}
		p := ask.Power
		n := lineConductors(c)
		set := map[string]string{p.BreakerPoles.Path(): itoa(n)}
		if v, ok := breakerMarking(c, n); ok && p.BreakerVolts.Known(c) {
			set[p.BreakerVolts.Path()] = v
			return []Remedy{fitting(c, fitBreaker(n, v), set)}
		}
		return []Remedy{fitting(c, fitBreaker(n, ""), set)}
	},
}

// fitBreaker says which breaker to fit; more than one pole needs a common trip.
func fitBreaker(poles int, marking string) check.Phrase {
	switch {
	case poles == 1 && marking == "":
		return check.Say("E-11.fit-one")
	case poles == 1:
		return check.Say("E-11.fit-one-volts", "marking", check.Word(marking))
	case marking == "":
		return check.Say("E-11.fit", "poles", poles)
	}
	return check.Say("E-11.fit-volts", "poles", poles, "marking", check.Word(marking))
}

// fitting is the remedy of another breaker, with the room that it takes.
func fitting(c *Case, change check.Phrase, set map[string]string) Remedy {
	set = withRoom(c, set)
	if room, more := roomFor(c, set); more {
		return Remedy{Change: check.Say("circuit.change", "parts", check.List{change, room}), Work: check.NewCircuit, Set: set}
	}
	return Remedy{Change: change, Work: check.Device, Set: set}
}

func runPoles(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(p.BreakerPoles); lacks {
		return out
	}
	have, want := p.BreakerPoles.Of(c).N(), lineConductors(c)
	most := want
	wanted := check.Say("E-11.poles", "poles", want)
	if !onNEC(c) {
		most++ // the neutral may be switched too
		wanted = check.Say("E-11.poles-or", "poles", want, "more", most)
	}
	found := check.Say("E-11.poles", "poles", have)
	out := check.Choice(have >= want, found, wanted, fitBreaker(want, ""), p.BreakerPoles)
	switch {
	case have > most:
		out = check.Rule(found, wanted, check.Say("E-11.which", "poles", have, "want", want), p.BreakerPoles)
	case out.Verdict == OK && onNEC(c):
		if wrong, is := breakerVoltage(c, want); is {
			out = wrong
		}
	}
	out.Working = append(out.Working, entry("n", check.Say("step.lines", "option", check.Quote(c.Supply.Name)), want))
	return out
}

// A circuitVoltage is the nominal voltage between a circuit's lines and to ground, V.
type circuitVoltage struct{ lines, ground float64 }

// circuitVolts are the nominal voltages of the machine's circuit between its
// lines and to ground; sure is false while a high leg may be one of them.
func circuitVolts(c *Case, lines int) (v circuitVoltage, sure, ok bool) {
	labels, _, _, bad := systemsOf(c)
	if bad || len(labels) != 1 {
		return v, false, false
	}
	info, ok := systemLabels[labels[0]].Info()
	if !ok {
		return v, false, false
	}
	v = circuitVoltage{info.LineLineV, info.LineNeutralV}
	if v.ground == 0 {
		v.ground = info.VoltsToGround
	}
	sure = true
	if labels[0] == "high-leg-delta" {
		switch on := ask.Power.OnHighLeg.Of(c); {
		case lines == 3 || on == survey.Yes:
			v.ground = info.VoltsToGround
		case on != survey.No:
			v.ground, sure = info.VoltsToGround, false
		}
	}
	if lines == 1 {
		v.lines = v.ground
	}
	return v, sure, true
}

// breakerMarking is the lowest marking of a breaker for the machine's circuit.
func breakerMarking(c *Case, lines int) (string, bool) {
	v, _, ok := circuitVolts(c, lines)
	if !ok {
		return "", false
	}
	return trade.BreakerMarking(v.lines, v.ground, lines)
}

// breakerVoltage judges the voltage marked on the breaker (NEC 240.85); wrong
// is false when there is nothing to say.
func breakerVoltage(c *Case, lines int) (out Outcome, wrong bool) {
	p := ask.Power
	at := []survey.Ref{p.BreakerPoles, p.BreakerVolts, p.HighLeg, p.OnHighLeg}
	v, sure, ok := circuitVolts(c, lines)
	if !ok {
		return out, false
	}
	want := check.Say("E-11.rating", "lines", powerVolts(v.lines), "ground", powerVolts(v.ground))
	marked := p.BreakerVolts.Of(c)
	m, known := trade.FindBreakerVoltage(marked)
	fitting, _ := breakerMarking(c, lines)
	switch {
	case known && m.Carries(v.lines, v.ground):
		return out, false
	case known && (sure || m.Line < v.lines):
		return check.Choice(false, check.Say("E-11.marked", "marking", check.Word(marked)), want, fitBreaker(lines, fitting), at...), true
	case !known && v.ground <= 120:
		return out, false // any breaker of the trade carries it
	}
	have := check.Say("E-11.unmarked")
	if known {
		have = check.Say("E-11.marked", "marking", check.Word(marked))
	}
	return check.Rule(have, want, check.Say("E-11.slash", "marking", check.Word(fitting), "ground", powerVolts(v.ground)), at...), true
}
