package rules

import (
	"maps"
	"math"
	"slices"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// systemLabels are the panel labels of the questionnaire and the system each means.
var systemLabels = map[string]trade.System{
	"208Y/120": trade.Wye208Y120, "120/240": trade.Split120_240, "240-delta": trade.Delta240,
	"high-leg-delta": trade.HighLeg240, "480Y/277": trade.Wye480Y277, "400Y/230": trade.Wye400Y230, "230": trade.Single230,
}

// labelOf is the panel label of a system; a part of a system carries its label.
func labelOf(s trade.System) string {
	switch s {
	case trade.Single120:
		return "120/240"
	case trade.Wye208Single:
		return "208Y/120"
	}
	for label, t := range systemLabels {
		if t == s {
			return label
		}
	}
	return s.String()
}

// systemsOf recognizes the supply: the labels of all systems that explain the
// readings. A machine between one line and neutral needs that reading alone; a
// delta without a neutral has no line-to-neutral reading.
func systemsOf(c *Case) (labels []string, at []survey.Ref, out Outcome, bad bool) {
	p := ask.Power
	_, path := volts(c)
	delta := p.System.Of(c) == "240-delta" && !p.LineToNeutral.Known(c)
	switch {
	case path == p.LineToNeutral:
		at = []survey.Ref{path}
	case delta:
		at = []survey.Ref{p.LineToLine}
	case onNEC(c):
		at = []survey.Ref{p.LineToLine, p.LineToNeutral, p.HighLeg}
	default:
		at = []survey.Ref{p.LineToLine, p.LineToNeutral}
	}
	if out, lacks := c.Lacking(at...); lacks {
		return nil, at, out, true
	}
	r := trade.Readings{NoN: delta}
	if p.LineToLine.Known(c) {
		r.LL = []float64{p.LineToLine.Of(c).In(quantity.Volt)}
	}
	if p.LineToNeutral.Known(c) {
		low := p.LineToNeutral.Of(c).In(quantity.Volt)
		high, middle := low, low
		if p.HighLeg.Known(c) {
			high = p.HighLeg.Of(c).In(quantity.Volt)
		}
		if p.MiddleLeg.Known(c) {
			middle = p.MiddleLeg.Of(c).In(quantity.Volt)
		}
		switch {
		case p.Phases.Of(c).N() == 3:
			r.Legs, r.LN = 3, []float64{low, middle, high}
		case p.HighLeg.Known(c):
			r.LN = []float64{low, high}
		default:
			r.LN = []float64{low}
		}
	}
	found, err := trade.Recognize(r)
	if err != nil {
		return nil, at, check.Rule(readings(c), check.Say("E-01.voltages"), check.Say("E-01.unreadable"), at...), true
	}
	candidates := found.Candidates
	if len(candidates) == 0 {
		candidates = shifted(c)
	}
	// Every leg was read and none is high: no high-leg delta.
	if p.HighLeg.Known(c) && found.HighLeg < 0 {
		candidates = slices.DeleteFunc(candidates, func(s trade.System) bool { return s == trade.HighLeg240 })
	}
	for _, s := range candidates {
		if l := labelOf(s); !slices.Contains(labels, l) {
			labels = append(labels, l)
		}
	}
	// Where readings of two regions overlap the frequency tells them apart.
	if len(labels) > 1 && p.Frequency.Known(c) {
		fifty := p.Frequency.Of(c).In(quantity.Hertz) < 55
		labels = slices.DeleteFunc(labels, func(l string) bool { return fifty != (l == "400Y/230" || l == "230") })
	}
	return labels, at, out, false
}

// shifted names the system whose neutral has come loose: its lines are right,
// and its legs lie unequal about a neutral that has wandered between them,
// further than any sound supply lets it.
func shifted(c *Case) []trade.System {
	p := ask.Power
	line, low, high := p.LineToLine.Of(c), p.LineToNeutral.Of(c), p.HighLeg.Of(c)
	if !line.Known() || !low.Known() || !high.Known() || high.Minus(low).In(quantity.Volt) < trade.LegToleranceV(low.In(quantity.Volt)) {
		return nil
	}
	for _, s := range []trade.System{trade.Split120_240, trade.Wye208Y120, trade.Wye480Y277, trade.Wye400Y230} {
		info, _ := s.Info()
		fits := s == trade.Split120_240 && addUp(low, high, line) || s != trade.Split120_240 && p.Phases.Of(c).N() == 3
		for _, v := range lineVolts(c) {
			volts := v.Of(c).In(quantity.Volt)
			fits = fits && volts >= info.LLMin && volts <= info.LLMax
		}
		if fits && high.Cmp(line) < 0 {
			return []trade.System{s}
		}
	}
	return nil
}

// addUp says whether two legs make up the line voltage, as those on either
// side of a neutral do.
func addUp(a, b, line quantity.Voltage) bool {
	return line.Known() && math.Abs(a.Plus(b).Minus(line).In(quantity.Volt)) < trade.LineToleranceV(line.In(quantity.Volt))
}

// lineVolts are the line-to-line voltages that were read at the machine's
// lines: one, or the three of a three-phase supply.
func lineVolts(c *Case) []survey.Answer[quantity.Voltage] {
	p := ask.Power
	read := []survey.Answer[quantity.Voltage]{p.LineToLine}
	if c.Supply.Phases == 3 {
		read = append(read, p.LineBC, p.LineCA)
	}
	return slices.DeleteFunc(read, func(a survey.Answer[quantity.Voltage]) bool { return !a.Known(c) })
}

// either joins the names of systems by "or".
func either(labels []string) any {
	if len(labels) == 0 {
		return check.Say("system.none")
	}
	var all any = check.Word(labels[0])
	for _, l := range labels[1:] {
		all = check.Say("either", "this", all, "that", check.Word(l))
	}
	return all
}

// sameLeg says whether a machine between one line and neutral finds the same
// voltage in all these systems.
func sameLeg(c *Case, labels []string) bool {
	if _, path := volts(c); path != ask.Power.LineToNeutral {
		return false
	}
	volts := map[float64]bool{}
	for _, l := range labels {
		info, _ := systemLabels[l].Info()
		volts[info.LineNeutralV] = true
	}
	return len(volts) == 1
}

// voltsToGround is the highest voltage to ground among the legs, as read.
func voltsToGround(c *Case) (v float64, ok bool) {
	p := ask.Power
	switch {
	case p.HighLeg.Known(c) && p.LineToNeutral.Known(c):
		return max(p.HighLeg.Of(c).In(quantity.Volt), p.LineToNeutral.Of(c).In(quantity.Volt)), true
	case p.LineToNeutral.Known(c):
		return p.LineToNeutral.Of(c).In(quantity.Volt), true
	case p.System.Of(c) == "240-delta" && p.LineToLine.Known(c):
		return p.LineToLine.Of(c).In(quantity.Volt), true
	}
	return 0, false
}

// highLeg says whether one leg reads far above the others to neutral.
func highLeg(c *Case) bool {
	p := ask.Power
	return p.HighLeg.Known(c) && p.LineToNeutral.Known(c) && p.HighLeg.Of(c).In(quantity.Volt) > 1.55*p.LineToNeutral.Of(c).In(quantity.Volt) &&
		!addUp(p.LineToNeutral.Of(c), p.HighLeg.Of(c), p.LineToLine.Of(c))
}

// legsUnequal says what is odd about the legs against each other: a failing
// neutral shifts one up and the other down, and they no longer add up to the
// line voltage. The zero Phrase says that nothing is.
func legsUnequal(c *Case, labels []string) check.Phrase {
	p := ask.Power
	low, high, line := p.LineToNeutral.Of(c), p.HighLeg.Of(c), p.LineToLine.Of(c)
	if !low.Known() || len(labels) == 0 {
		return check.Phrase{}
	}
	a, b := low.In(quantity.Volt), high.In(quantity.Volt)
	far := func(x, y, tolerance float64) bool { return math.Abs(x-y) >= tolerance-1e-9 }
	lineTolerance := trade.LineToleranceV(line.In(quantity.Volt))
	switch {
	case highLeg(c):
		// Two legs from a center tap, the third √3 times as far from it.
		if far(b, trade.HighLegToNeutralV(a), trade.LegToleranceV(b)) || line.Known() && far(line.In(quantity.Volt), 2*a, lineTolerance) {
			return check.Say("legs.sum", "readings", readings(c))
		}
		return check.Phrase{}
	case !high.Known():
		b = a
	case far(a, b, trade.LegToleranceV(a)):
		return check.Say("legs.unequal", "low", low, "high", high)
	}
	if m := p.MiddleLeg.Of(c); m.Known() && (far(a, m.In(quantity.Volt), trade.LegToleranceV(a)) || far(b, m.In(quantity.Volt), trade.LegToleranceV(a))) {
		return check.Say("legs.unequal", "low", low, "high", m)
	}
	if line.Known() {
		least, most := math.Sqrt(3)*a, math.Sqrt(3)*b
		if slices.Contains(labels, "120/240") {
			least, most = a+b, a+b
		}
		if l := line.In(quantity.Volt); l <= least-lineTolerance+1e-9 || l >= most+lineTolerance-1e-9 {
			return check.Say("legs.sum", "readings", readings(c))
		}
	}
	return check.Phrase{}
}

// readings lists the voltages read.
func readings(c *Case) check.List {
	p := ask.Power
	var list check.List
	add := func(v quantity.Voltage, name string) {
		if v.Known() {
			list = append(list, check.Say("reading."+name, "volts", v))
		}
	}
	add(p.LineToLine.Of(c), "line-to-line")
	add(p.LineToNeutral.Of(c), "line-to-neutral")
	add(p.MiddleLeg.Of(c), "middle-leg")
	if p.HighLeg.Known(c) && p.HighLeg.Of(c).Cmp(p.LineToNeutral.Of(c)) != 0 {
		add(p.HighLeg.Of(c), "high-leg")
	}
	return list
}

// voltageInDoubt says whether the machine's own voltage fits no supply, or is
// contradicted by the other readings: then nothing that rests on it is worth
// an order of work before it is read again. Unequal legs put the voltage
// between one of them and neutral in doubt, not the one between two lines.
func voltageInDoubt(c *Case) bool {
	labels, _, _, bad := systemsOf(c)
	if bad {
		return false
	}
	_, path := volts(c)
	odd := legsUnequal(c, labels)
	return len(labels) == 0 || odd.Name == "legs.sum" || !odd.Zero() && path == ask.Power.LineToNeutral
}

// doubtful replaces an order of work by "measure again first" while the
// voltages are in doubt.
func doubtful(c *Case, action check.Phrase) check.Phrase {
	if voltageInDoubt(c) {
		return check.Say("voltage.doubt", "readings", readings(c))
	}
	return action
}

// SupplySystem names the supply from its readings.
var SupplySystem = &Check{
	ID:      "E-01",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{trade.ANSIC84, trade.IEC60038, trade.HighLegVolts, trade.LegPractice},
	Assumes: []survey.Ref{ask.Power.LineToLine, ask.Power.LineToNeutral, ask.Power.HighLeg, ask.Power.MiddleLeg, ask.Power.Phases, ask.Power.Frequency},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "208 V", ask.Power.LineToNeutral.Path(): "120 V", ask.Power.HighLeg.Path(): "120 V"}, Verdict: OK, Shows: "V_LL/V_LN = 1.73"},
	Run: func(c *Case) Outcome {
		labels, at, out, bad := systemsOf(c)
		if bad {
			return out
		}
		p := ask.Power
		var working []Step
		if p.LineToLine.Known(c) && p.LineToNeutral.Known(c) {
			working = append(working, entry("V_LL/V_LN", check.Say("step.ratio"), check.Figure{Value: p.LineToLine.Of(c).In(quantity.Volt) / p.LineToNeutral.Of(c).In(quantity.Volt), Decimals: 2}))
		}
		working = append(working, entry("system", check.Say("step.systems"), either(labels)))
		odd := legsUnequal(c, labels)
		switch {
		case len(labels) == 0:
			out = check.Choice(false, readings(c), check.Say("E-01.known"), check.Say("E-01.none", "readings", readings(c)), at...)
		case !odd.Zero():
			out = check.Rule(odd, check.Say("E-01.equal"), check.Say("E-01.neutral"), append(at, p.HighLeg)...)
		case len(labels) == 1 || sameLeg(c, labels):
			out = check.Choice(true, either(labels), check.Say("E-01.known"), nil, at...)
		default:
			out = check.Rule(check.Say("E-01.by", "systems", either(labels), "readings", readings(c)), check.Say("E-01.one"), check.Say("E-01.which", "systems", either(labels)), at...)
		}
		out.Working, out.Result = working, labels
		return out
	},
}

// SupplyLabel compares the panel's label with what was read.
var SupplyLabel = &Check{
	ID:      "E-02",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{trade.ANSIC84, trade.IEC60038, trade.HighLegVolts},
	After:   []*Check{SupplySystem},
	Assumes: []survey.Ref{ask.Power.LineToLine, ask.Power.LineToNeutral, ask.Power.HighLeg, ask.Power.MiddleLeg, ask.Power.Phases, ask.Power.Frequency},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.System.Path(): "120/240"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !ask.Power.System.Known(c) {
			return check.Say("E-02.no-label")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		labels, at, out, bad := systemsOf(c)
		if bad {
			return out
		}
		label := ask.Power.System.Of(c)
		at = append([]survey.Ref{ask.Power.System}, at...)
		ok := slices.Contains(labels, label) || len(labels) > 0 && sameLeg(c, append([]string{label}, labels...))
		return check.Choice(ok, check.Say("E-02.label", "label", check.Word(label)), check.Say("E-01.by", "systems", either(labels), "readings", readings(c)),
			doubtful(c, check.Say("E-02.settle", "label", check.Word(label), "readings", readings(c))), at...)
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		labels, _, _, _ := systemsOf(c)
		if voltageInDoubt(c) {
			return nil
		}
		var rs []Remedy
		for _, l := range labels {
			rs = append(rs, Remedy{Change: check.Say("E-02.relabel", "label", check.Word(l)), Work: check.Noting, Set: map[string]string{ask.Power.System.Path(): l}})
		}
		return rs
	},
}

// suits says whether a supply option may be connected to the site's supply, as
// far as that was read.
func suits(c *Case, s *specs.Supply) bool {
	if p := ask.Power.Phases.Of(c); p.Known() && p.N() != s.Phases {
		return false
	}
	return feeds(c, s)
}

// feeds says whether voltage and frequency suit a supply option, whatever the
// phases. Each line of three counts.
func feeds(c *Case, s *specs.Supply) bool {
	p := ask.Power
	read := []survey.Answer[quantity.Voltage]{check.VoltsAt(c.Machine, s)}
	if !read[0].Known(c) {
		return false
	}
	if s.Phases == 3 {
		read = append(read, p.LineBC, p.LineCA)
	}
	for _, a := range read {
		if v := a.Of(c); v.Known() && (s.VoltageMin.Known() && v.Cmp(s.VoltageMin) < 0 || s.VoltageMax.Known() && v.Cmp(s.VoltageMax) > 0) {
			return false
		}
	}
	f := p.Frequency.Of(c)
	return !f.Known() || !s.Frequency.Known() || math.Abs(f.In(quantity.Hertz)-s.Frequency.In(quantity.Hertz)) <= 1
}

// suitingOption is the option that the site's supply suits, where the one
// ordered may not be connected to it.
func suitingOption(c *Case) (option string, ok bool) {
	if v := c.Volts().Of(c); !v.Known() || suits(c, c.Supply) {
		return "", false
	}
	for i := range c.Machine.Power.Supplies {
		if s := &c.Machine.Power.Supplies[i]; s.Name != c.Supply.Name && suits(c, s) {
			return s.Name, true
		}
	}
	return "", false
}

// noOption says whether none of the machine's supply options may be connected
// to the site's supply, as read: its voltage is the utility's to mend, its
// frequency and a phase that isn't there nobody's. A single-phase circuit can
// be taken from three phases. Readings in doubt are read again first, and a
// reading within its uncertainty of a limit is the voltage check's to settle.
func noOption(c *Case) bool {
	if c.Moved() || !c.Volts().Known(c) || voltageInDoubt(c) {
		return false
	}
	three := ask.Power.Phases.Of(c).N() == 3
	return !slices.ContainsFunc(c.Machine.Power.Supplies, func(s specs.Supply) bool {
		return suits(c, &s) || three && s.Phases == 1 && feeds(c, &s)
	})
}

// optionOpen says whether the supply option is still to be settled: what hangs
// on it is no order of work before.
func optionOpen(c *Case) bool {
	_, open := suitingOption(c)
	return open || noOption(c)
}

// perOption judges what hangs on the supply option by the one that may be
// connected. While another was ordered a verdict waits for it to be settled,
// unless both options say the same; while none may be connected it waits
// unless nothing is wrong with any of them, at the voltage read and at the
// supply's nominal one.
func perOption(run func(*Case) Outcome) func(*Case) Outcome {
	return func(c *Case) Outcome {
		out := run(c)
		option, ok := suitingOption(c)
		if !ok {
			if out.Verdict != Missing && noOption(c) && (out.Verdict != OK || !everyOption(c, run)) {
				return waiting(check.Rule(out.Have, out.Want, check.Say("supply.wait-none"), append(out.At, ask.Machine.Supply, c.Volts())...))
			}
			return out
		}
		after, err := c.With(map[string]string{ask.Machine.Supply.Path(): option})
		if err != nil {
			return out
		}
		then := run(after)
		name := check.Quote(option)
		switch {
		case then.Verdict != out.Verdict:
			return waiting(check.Rule(then.Have, then.Want, check.Say("supply.wait", "option", name), append(then.At, ask.Machine.Supply)...))
		case !then.Action.Zero():
			then.Action = check.Say("supply.first", "option", name, "action", then.Action)
		}
		return then
	}
}

func waiting(out Outcome) Outcome {
	out.Waits = true
	return out
}

// onceSettled says of what is wrong whichever option is connected that it is
// put right once the supply is settled, while no option suits it.
func onceSettled(run func(*Case) Outcome) func(*Case) Outcome {
	return func(c *Case) Outcome {
		out := run(c)
		if out.Verdict == Fix && noOption(c) {
			out.Action = check.Say("supply.settle", "action", out.Action)
		}
		return out
	}
}

// settled offers no work while no option suits the supply.
func settled(remedies func(*Case, *Check) []Remedy) func(*Case, *Check) []Remedy {
	return func(c *Case, k *Check) []Remedy {
		if noOption(c) {
			return nil
		}
		return remedies(c, k)
	}
}

// everyOption says whether a rule is met with each of the machine's supply
// options, at the voltage read and at the nominal one.
func everyOption(c *Case, run func(*Case) Outcome) bool {
	for _, s := range c.Machine.Power.Supplies {
		set := map[string]string{ask.Machine.Supply.Path(): s.Name}
		for range 2 {
			after, err := c.With(set)
			if err != nil || run(after).Verdict != OK {
				return false
			}
			maps.Copy(set, nominalReadings(c))
		}
	}
	return true
}

// anotherSupply advises another supply option where the machine has one, else
// another machine.
func anotherSupply(c *Case, v quantity.Voltage) check.Phrase {
	if option, ok := suitingOption(c); ok {
		return check.Say("supply.suiting-option", "option", check.Quote(c.Supply.Name), "volts", v, "other", check.Quote(option))
	}
	name := check.Quote(c.Supply.Name)
	if after, err := c.With(nominalReadings(c)); err == nil && feeds(after, after.Supply) {
		nominal, _ := volts(after)
		return check.Say("supply.ask-utility", "option", name, "volts", v, "nominal", nominal)
	}
	return check.Say("supply.another-machine", "option", name, "volts", v)
}

// PlateVoltage compares the site's voltage with the plate's range.
var PlateVoltage = &Check{
	ID:      "E-03",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{sheet},
	Assumes: []survey.Ref{ask.Power.Phases},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "241 V"}, Verdict: Fix, Shows: "V = 241 V"},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		s := c.Supply
		if !s.VoltageMin.Known() && !s.VoltageMax.Known() {
			return c.Silent(check.Say("silent.voltage-range", "option", check.Quote(s.Name)))
		}
		out := check.Within(v, s.VoltageMin, s.VoltageMax, anotherSupply(c, v), anotherSupply(c, v), path)
		if path == ask.Power.LineToLine {
			out = everyLine(c, out)
		} else {
			out = eitherLeg(c, out)
		}
		if out.Verdict == Fix {
			out.Action = doubtful(c, out.Action)
		}
		out.Working = []Step{entry("V", check.Say("step.site-voltage-read"), v), entry("V_min", check.Say("step.plate-least"), s.VoltageMin), entry("V_max", check.Say("step.plate-most"), s.VoltageMax)}
		return onPlate(c, out, "voltage_min")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return voltageRemedies(c) },
}

// everyLine judges the other two lines of a three-phase supply as well, and
// returns the worst. A line that is off by itself is a fault of the supply, not
// a machine ordered for another one.
func everyLine(c *Case, first Outcome) Outcome {
	out, s := first, c.Supply
	for _, a := range lineVolts(c)[1:] {
		v, legs := a.Of(c), "C-A"
		if a == ask.Power.LineBC {
			legs = "B-C"
		}
		action := anotherSupply(c, v)
		if first.Verdict != Fix {
			action = check.Say("E-03.one-line", "legs", check.Quote(legs), "volts", v)
		}
		one := check.Within(v, s.VoltageMin, s.VoltageMax, action, action, a)
		one.Have = one.Have.In(check.Say("E-03.legs", "legs", check.Quote(legs)))
		out = worse(out, one)
	}
	return out
}

// eitherLeg judges a machine between one line and neutral on the highest leg
// too, where the legs aren't alike, since nobody asked which of them feeds it.
// The high leg of a delta is the neutral check's.
func eitherLeg(c *Case, lowest Outcome) Outcome {
	p, s := ask.Power, c.Supply
	low, high := p.LineToNeutral.Of(c), p.HighLeg.Of(c)
	if !high.Known() || high.Cmp(low) <= 0 || highLeg(c) {
		return lowest
	}
	highest := check.Within(high, s.VoltageMin, s.VoltageMax, nil, nil, p.HighLeg)
	highest.Have = highest.Have.In(check.Say("E-03.highest"))
	if lowest.Verdict == OK && highest.Verdict == Fix {
		return check.Rule(highest.Have, highest.Want, check.Say("E-03.leg", "low", low, "high", high), p.HighLeg, p.LineToNeutral)
	}
	if lowest.Verdict == OK {
		return worse(lowest, highest)
	}
	return lowest
}

// voltageRemedies are the machine's other options, and a supply within the
// plate's range brought back to its nominal voltage; none while the voltages
// must be read again. One that is outside is the utility's to mend: nothing is
// planned upon that before it is done and read again.
func voltageRemedies(c *Case) []Remedy {
	if voltageInDoubt(c) {
		return nil
	}
	rs := otherOptions(c)
	if suits(c, c.Supply) {
		rs = append(rs, atNominal(c)...)
	}
	return rs
}

// nominalSystem is the one system that the readings tell of.
func nominalSystem(c *Case) (info trade.SystemInfo, ok bool) {
	labels, _, _, bad := systemsOf(c)
	if bad || len(labels) == 0 || len(labels) > 1 && !sameLeg(c, labels) {
		return info, false
	}
	return systemLabels[labels[0]].Info()
}

// nominalReadings are the voltages that were read, each at its nominal value.
func nominalReadings(c *Case) map[string]string {
	set := map[string]string{}
	info, ok := nominalSystem(c)
	if !ok {
		return set
	}
	put := func(answer survey.Answer[quantity.Voltage], volts float64) {
		if answer.Known(c) && volts > 0 {
			set[answer.Path()] = quantity.Volt.Write(volts)
		}
	}
	p := ask.Power
	put(p.LineToLine, info.LineLineV)
	put(p.LineBC, info.LineLineV)
	put(p.LineCA, info.LineLineV)
	put(p.LineToNeutral, info.LineNeutralV)
	put(p.MiddleLeg, info.LineNeutralV)
	put(p.HighLeg, info.VoltsToGround)
	return set
}

// atNominal offers to bring a supply that is off its nominal voltage back to it.
func atNominal(c *Case) []Remedy {
	info, ok := nominalSystem(c)
	v, path := volts(c)
	p := ask.Power
	nominal := info.LineLineV
	if path == p.LineToNeutral {
		nominal = info.LineNeutralV
	}
	if !ok || nominal == 0 {
		return nil
	}
	off := math.Abs(v.In(quantity.Volt)/nominal - 1)
	if path != p.LineToNeutral {
		for _, a := range lineVolts(c) {
			if d := math.Abs(a.Of(c).In(quantity.Volt)/nominal - 1); d > off {
				v, off = a.Of(c), d
			}
		}
	}
	if off < 0.01 {
		return nil
	}
	return []Remedy{{Change: check.Say("supply.to-nominal", "nominal", powerVolts(nominal), "read", v), Beside: check.Say("supply.nominal", "nominal", path),
		Work: check.NewCircuit, Set: nominalReadings(c)}}
}

// SupplyPhases compares phases at the machine.
var SupplyPhases = &Check{
	ID:      "E-04",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "godwit-c44", Given: map[string]string{ask.Power.Phases.Path(): "1"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Phases); lacks {
			return out
		}
		have, want := ask.Power.Phases.Of(c).N(), c.Supply.Phases
		action := check.Say("E-04.bring", "phases", want)
		if want == 3 {
			action = check.Say("E-04.bring-three")
		}
		return onPlate(c, check.Choice(have == want, check.Say("E-04.phases", "phases", have), check.Say("E-04.phases", "phases", want), action, ask.Power.Phases), "phases")
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		rs := otherOptions(c)
		if want := c.Supply.Phases; want == 1 && ask.Power.Phases.Of(c).N() == 3 {
			n := lineConductors(c)
			rs = append(rs, Remedy{Change: check.Say("E-04.single", "poles", n), Work: check.NewCircuit,
				Set: map[string]string{ask.Power.Phases.Path(): "1", ask.Power.BreakerPoles.Path(): itoa(n)}})
		}
		return rs
	},
}

// SupplyFrequency compares frequencies.
var SupplyFrequency = &Check{
	ID:      "E-05",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{sheet, {Document: "Within 1 Hz counts as the plate's frequency", Mark: trade.CommonPractice}},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.Frequency.Path(): "60 Hz"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !c.Supply.Frequency.Known() {
			return check.Say("E-05.none")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Frequency); lacks {
			return out
		}
		f, have := c.Supply.Frequency, ask.Power.Frequency.Of(c)
		one := quantity.New(1, quantity.Hertz)
		action := check.Say("E-05.another", "hertz", have)
		if slices.ContainsFunc(c.Machine.Power.Supplies, func(s specs.Supply) bool {
			return s.Frequency.Known() && math.Abs(s.Frequency.Minus(have).In(quantity.Hertz)) <= 1
		}) {
			action = check.Say("E-05.order", "hertz", have)
		}
		return onPlate(c, check.Within(have, f.Minus(one), f.Plus(one), action, action, ask.Power.Frequency), "frequency")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return otherOptions(c) },
}

// SupplyNeutral asks for a neutral where the machine uses one.
var SupplyNeutral = &Check{
	ID:      "E-06",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Supply,
	Sources: []trade.Source{sheet, trade.NECHighLeg},
	Example: Example{Machine: "knot-c400", Given: map[string]string{ask.Power.Neutral.Path(): "no"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !c.Supply.Neutral {
			return check.Say("E-06.unused")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Neutral); lacks {
			return out
		}
		yes := p.Neutral.Of(c) == survey.Yes
		have := check.Say("E-06.there")
		if !yes {
			have = check.Say("E-06.lacking")
		}
		out := check.Choice(yes, have, check.Say("E-06.there"), check.Say("E-06.run"), p.Neutral)
		if out.Verdict == OK && onNEC(c) {
			if out, lacks := c.Lacking(p.LineToNeutral, p.HighLeg); lacks {
				return out
			}
			at := []survey.Ref{p.Neutral, p.LineToNeutral, p.HighLeg, p.OnHighLeg}
			on := p.OnHighLeg.Of(c)
			switch {
			case !highLeg(c):
			case c.Supply.Phases == 3:
				out = check.Choice(false, readings(c), check.Say("E-06.alike"), check.Say("E-06.delta", "volts", p.HighLeg.Of(c)), at...)
			case on == survey.Yes:
				out = check.Choice(false, check.Say("E-06.on-high", "volts", p.HighLeg.Of(c)), check.Say("E-06.not-high"), check.Say("E-06.move", "volts", p.LineToNeutral.Of(c)), at...)
			case on != survey.No:
				out = check.Rule(readings(c), check.Say("E-06.not-high"), check.Say("E-06.ask-high"), at...)
			}
		}
		return onPlate(c, out, "neutral")
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		if p.OnHighLeg.Of(c) == survey.Yes && c.Supply.Phases == 1 {
			return []Remedy{{Change: check.Say("E-06.move", "volts", p.LineToNeutral.Of(c)), Work: check.Device, Set: map[string]string{p.OnHighLeg.Path(): "no", p.Neutral.Path(): "yes"}}}
		}
		return append([]Remedy{{Change: check.Say("E-06.run"), Work: check.PipeOrWire, Set: map[string]string{p.Neutral.Path(): "yes"}}}, otherOptions(c)...)
	}),
}

// unbalanceLimit is the unbalance of a three-phase supply from which motors
// and the supply itself are looked at.
func unbalanceLimit(c *Case) float64 {
	if onNEC(c) {
		return trade.UnbalanceANSI
	}
	return trade.UnbalanceEN
}

// PhaseBalance compares the three line voltages of a three-phase supply.
var PhaseBalance = &Check{
	ID:      "E-29",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{trade.NEMAUnbalance, trade.ANSIUnbalance, trade.EN50160Balance, trade.NegativeSequence},
	After:   []*Check{SupplySystem},
	Example: Example{Machine: "godwit-c44", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V", ask.Power.LineBC.Path(): "214 ± 0 V", ask.Power.LineCA.Path(): "202 ± 0 V"}, Verdict: OK, Shows: "u = 2.9 %"},
	Skip: func(c *Case) check.Phrase {
		if c.Supply.Phases != 3 {
			return check.Say("E-29.single")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		p := ask.Power
		at := []survey.Ref{p.LineToLine, p.LineBC, p.LineCA}
		if out, lacks := c.Lacking(p.LineToLine); lacks {
			return out
		}
		limit := unbalanceLimit(c)
		want := check.Fact{Value: check.Share(limit), Bound: check.AtMost}
		if !p.LineBC.Known(c) || !p.LineCA.Known(c) {
			return check.Rule(check.Say("E-29.unread"), want, check.Say("E-29.read"), at...)
		}
		a, b, d := p.LineToLine.Of(c).In(quantity.Volt), p.LineBC.Of(c).In(quantity.Volt), p.LineCA.Of(c).In(quantity.Volt)
		u, how := trade.VoltageUnbalance(a, b, d), "step.unbalance"
		if !onNEC(c) {
			u, how = trade.UnbalanceFactor(a, b, d), "step.negative-sequence"
		}
		if math.IsNaN(u) {
			return check.Choice(false, readings(c), want, check.Say("E-29.lost"), at...)
		}
		out := Outcome{Verdict: OK, At: at, Have: check.Fact{Value: check.Share(u)}, Want: want,
			Margin: Margin{Value: limit - u, Gap: check.Share(math.Abs(limit - u)), Side: check.Say("margin.below")}}
		if u > limit {
			out.Verdict, out.Action, out.Margin.Side = Confirm, check.Say("E-29.unbalanced"), check.Say("margin.over")
		}
		out.Working = []Step{entry("V_AB", check.Say("step.line", "legs", check.Quote("A-B")), p.LineToLine.Of(c)), entry("V_BC", check.Say("step.line", "legs", check.Quote("B-C")), p.LineBC.Of(c)),
			entry("V_CA", check.Say("step.line", "legs", check.Quote("C-A")), p.LineCA.Of(c)), entry("V_mean", check.Say("step.mean"), powerVolts((a+b+d)/3)), entry("u", check.Say(how), check.Share(u))}
		return out
	},
}
