package plan

import (
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// An order says in one line what of a job belongs together, every part of
// it once and as it will be, whatever the ways were that led to it. It
// gives nothing where the step changes no part of it; covered are the answers
// that it speaks for.
type order func(b *building) (do []check.Phrase, covered []survey.Ref)

// orders are the lines of each job. What none of them says, a thing says, and
// what no thing says, the remedy's own words.
var orders = map[Job][]order{
	"circuit":    {company, circuit, spaces},
	"cold-line":  {func(b *building) ([]check.Phrase, []survey.Ref) { return b.line(survey.Ask.Water.Cold) }},
	"hot-line":   {func(b *building) ([]check.Phrase, []survey.Ref) { return b.line(survey.Ask.Water.Hot) }},
	"hot-water":  {draws, loop},
	"drain-line": {cooling},
	"receptor":   {standpipe},
}

// Parts are what a step does, the parts of its orders one by one.
func (st Step) Parts() []check.Phrase {
	var parts []check.Phrase
	for _, do := range st.Do {
		if !strings.HasPrefix(do.Name, "order.line") {
			parts = append(parts, do)
			continue
		}
		for _, b := range do.Blanks {
			list, _ := b.Value.(check.List)
			switch b.Name {
			case "parts":
				for _, x := range list {
					parts = append(parts, check.PhraseOf(x))
				}
			case "stays":
				parts = append(parts, check.Say("order.stays", "parts", list))
			}
		}
	}
	return parts
}

// A building is a step that is being put into words.
type building struct {
	found, built *check.Judged
	set          map[string]string // what is to be said
	ways         []option          // that led to it
}

// sets says whether one of some answers is to be said.
func (b *building) sets(of ...survey.Ref) bool {
	for _, a := range of {
		if _, ok := b.set[a.Path()]; ok {
			return true
		}
	}
	return false
}

// led says whether a way that led to the step changes an answer and is at
// least so much work.
func (b *building) led(a survey.Ref, least check.Work) bool {
	for _, o := range b.ways {
		if _, ok := o.remedy.Set[a.Path()]; ok && o.work >= least {
			return true
		}
	}
	return false
}

func (b *building) line(l survey.LineAnswers) (do []check.Phrase, covered []survey.Ref) {
	parts := []struct {
		at    survey.Ref
		there bool // as it will be
		say   check.Phrase
	}{
		{l.Regulator, l.Regulator.Of(b.built).In(quantity.PSI) > 0, b.regulator(l)},
		{l.CheckValve, l.CheckValve.Of(b.built) == survey.Yes, check.Say("order.check-valve")},
		{l.Backflow, l.Backflow.Of(b.built) != "" && l.Backflow.Of(b.built) != "none", b.backflow(l)},
		{l.ShutOff, l.ShutOff.Of(b.built) == survey.Yes, check.Say("order.shut-off")},
		{l.Size, l.Size.Known(b.built), check.Say("order.pipe", "size", l.Size.Of(b.built))},
		{l.Thread, l.Thread.Known(b.built) && l.Thread.Of(b.built) != "none", check.Say("order.thread", "thread", check.Word(l.Thread.Of(b.built)))},
	}
	var change, stay check.List
	for _, x := range parts {
		switch {
		case b.sets(x.at):
			covered = append(covered, x.at)
			if x.there {
				change = append(change, x.say)
			}
		case x.there:
			stay = append(stay, x.say)
		}
	}
	if len(change) == 0 {
		return nil, nil
	}
	if b.sets(l.Backflow) {
		covered = append(covered, l.Spill, l.DeviceAbove)
		if b.sets(l.DeviceLoss) {
			change = append(change, check.Say("order.devices-lose", "loss", l.DeviceLoss.Of(b.built)))
			covered = append(covered, l.DeviceLoss)
		}
	}
	if len(stay) > 0 {
		return []check.Phrase{check.Say("order.line-stays", "parts", change, "stays", stay)}, covered
	}
	return []check.Phrase{check.Say("order.line", "parts", change)}, covered
}

// regulator says a line's regulator: reset where one is there that stays.
func (b *building) regulator(l survey.LineAnswers) check.Phrase {
	name := "order.regulator"
	switch {
	case !b.sets(l.Regulator):
		name = "order.regulator-stays"
	case !(l.Regulator.Of(b.found).In(quantity.PSI) > 0):
	case b.led(l.Regulator, check.Device):
		name = "order.regulator-replaced"
	default:
		name = "order.regulator-reset"
	}
	return check.Say(name, "set", l.Regulator.Of(b.built))
}

// backflow says a line's backflow device, with its height where that counts.
func (b *building) backflow(l survey.LineAnswers) check.Phrase {
	device := check.Word(l.Backflow.Of(b.built))
	switch {
	case !b.sets(l.Backflow):
		return check.Say("order.backflow-stays", "device", device)
	case b.sets(l.DeviceAbove):
		return check.Say("order.backflow-above", "device", device, "height", ruled(l.DeviceAbove.Of(b.built)))
	case b.sets(l.Spill):
		return check.Say("order.backflow-drain", "device", device)
	}
	return check.Say("order.backflow", "device", device)
}

// company says what becomes of the other loads on the circuit: another circuit
// takes them, or the machine gets its own.
func company(b *building) (do []check.Phrase, covered []survey.Ref) {
	p := survey.Ask.Power
	if !b.sets(p.Dedicated, p.OtherLoads) {
		return nil, nil
	}
	covered = []survey.Ref{p.Dedicated, p.OtherLoads}
	if b.led(p.Dedicated, check.NewCircuit) {
		return []check.Phrase{check.Say("circuit.new")}, covered
	}
	var names check.Listed
	for _, l := range p.OtherLoads.Of(b.found) {
		names = append(names, check.Quote(l.Name))
	}
	if len(names) == 0 {
		return []check.Phrase{check.Say("order.alone")}, covered
	}
	return []check.Phrase{check.Say("order.move", "others", names)}, covered
}

// circuit says the whole circuit, the parts that stay too: breaker, wire and
// ground must fit each other.
func circuit(b *building) (do []check.Phrase, covered []survey.Ref) {
	p, s := survey.Ask.Power, b.built
	own := b.sets(p.Dedicated) && b.led(p.Dedicated, check.NewCircuit)
	parts := []survey.Ref{p.Breaker, p.BreakerPoles, p.BreakerVolts, p.Interrupting, p.Conductor, p.ConductorOf, p.Insulation, p.WetInsulation,
		p.Neutral, p.Ground, p.GroundOf, p.Conduit, p.Bundled}
	gfci := p.GFCI.Of(s) == "breaker" && nec(s.Case)
	if gfci {
		parts = append(parts, p.GFCI)
	}
	if !own && !b.sets(parts...) {
		return nil, nil
	}
	var l check.List
	poles := p.BreakerPoles.Of(s).N()
	if !p.BreakerPoles.Known(s) {
		poles = lines(s)
	}
	switch {
	case p.Breaker.Known(s) && gfci:
		l = append(l, check.Say("circuit.breaker-gfci", "amps", p.Breaker.Of(s), "poles", poles))
	case p.Breaker.Known(s):
		l = append(l, check.Say("circuit.breaker", "amps", p.Breaker.Of(s), "poles", poles))
	case b.sets(p.BreakerPoles):
		l = append(l, check.Say("order.poles", "poles", poles))
	}
	if b.sets(p.BreakerVolts) {
		l = append(l, check.Say("order.marked", "volts", check.Word(p.BreakerVolts.Of(s))))
	}
	if b.sets(p.Interrupting) {
		l = append(l, check.Say("order.interrupting", "amps", p.Interrupting.Of(s)))
	}
	if p.Conductor.Known(s) {
		if metal := p.ConductorOf.Of(s); metal != "" {
			l = append(l, check.Say("order.wires", "n", lines(s), "wire", p.Conductor.Of(s), "metal", check.Word(metal)))
		} else {
			l = append(l, check.Say("order.wires-any", "n", lines(s), "wire", p.Conductor.Of(s)))
		}
	}
	if p.Insulation.Known(s) && (own || b.sets(p.Conductor, p.Insulation)) {
		l = append(l, check.Say("order.insulation", "t", check.Word(p.Insulation.Of(s))))
	}
	if b.sets(p.WetInsulation) {
		l = append(l, check.Say("order.wet", "t", check.Word(p.WetInsulation.Of(s))))
	}
	if p.Neutral.Of(s) == survey.Yes && (b.sets(p.Neutral) || s.Supply.Neutral) {
		l = append(l, check.Say("circuit.neutral"))
	}
	if p.GroundOf.Of(s) == "conduit" {
		l = append(l, check.Say("order.ground-conduit"))
	} else if p.Ground.Known(s) {
		l = append(l, check.Say("order.ground"+suffix(s.Case, p.GroundOf.Of(s)), "wire", p.Ground.Of(s), "metal", check.Word(p.GroundOf.Of(s))))
	}
	if b.sets(p.Conduit) {
		l = append(l, check.Say("order.run-in", "conduit", check.Word(p.Conduit.Of(s))))
	}
	if b.sets(p.Bundled) {
		l = append(l, check.Say("order.bundled", "n", p.Bundled.Of(s).N()))
	}
	if p.RunLength.Known(s) {
		l = append(l, check.Say("order.run", "length", p.RunLength.Of(s)))
	}
	return []check.Phrase{check.Say("order.line", "parts", l)}, parts
}

// suffix of a grounding conductor's wording: as the code enforced calls it, its
// metal where it isn't copper.
func suffix(c *check.Case, metal string) string {
	name := ""
	if !nec(c) {
		name = "-protective"
	}
	if metal != "" && metal != "copper" {
		name += "-of"
	}
	return name
}

// nec says whether the site is wired by the NEC.
func nec(c *check.Case) bool {
	if code := c.Survey.Codes.Electrical; code != "" {
		return strings.HasPrefix(code, "nec")
	}
	return c.Machine.Basis == "nec"
}

// lines is the number of line conductors at the chosen supply option.
func lines(s *check.Judged) int {
	switch {
	case s.Supply.Phases == 3:
		return 3
	case s.Volts() == survey.Ask.Power.LineToNeutral:
		return 1
	}
	return 2
}

// draws says which other uses of hot water go to another hour.
func draws(b *building) (do []check.Phrase, covered []survey.Ref) {
	var names check.Listed
	for i, d := range b.found.Survey.Heater.OtherDraws {
		at := survey.Ask.Heater.OtherDraws.Flow.At(i)
		if b.sets(at) && at.Of(b.built).In(quantity.GPM) == 0 {
			names = append(names, check.Say("order.draw", "name", check.Quote(d.Name), "flow", d.Flow))
			covered = append(covered, at)
		}
	}
	if len(names) == 0 {
		return nil, nil
	}
	return []check.Phrase{check.Say("order.draws", "names", names)}, covered
}

// loop says a recirculation loop that comes nearer and keeps the heater's
// warmth as one thing.
func loop(b *building) (do []check.Phrase, covered []survey.Ref) {
	hot, set := survey.Ask.Water.Hot, survey.Ask.Heater.SetPoint
	if !b.sets(hot.FromHeater) || !b.sets(hot.Temperature) {
		return nil, nil
	}
	for _, o := range b.ways {
		if o.remedy.Set[hot.Temperature.Path()] != b.set[hot.Temperature.Path()] {
			continue
		}
		name := ""
		switch inner(check.PhraseOf(o.remedy.Change)).Name {
		case "hot.nearer":
			name = "order.loop"
		case "hot.nearer-hotter":
			name = "order.loop-hotter"
		default:
			return nil, nil
		}
		return []check.Phrase{check.Say("way.scald", "way", check.Say(name, "length", hot.FromHeater.Of(b.built), "at", set.Of(b.built), "t", hot.Temperature.Of(b.built)))},
			[]survey.Ref{hot.FromHeater, hot.Temperature, set}
	}
	return nil, nil
}

// inner is what a caution is put around.
func inner(p check.Phrase) check.Phrase {
	for _, x := range p.Blanks {
		if way, ok := x.Value.(check.Phrase); ok && p.Name == "way.scald" {
			return way
		}
	}
	return p
}

// cooling says the branch of cold water that cools the discharge.
func cooling(b *building) (do []check.Phrase, covered []survey.Ref) {
	d, s := survey.Ask.Drain, b.built
	parts := []survey.Ref{d.Tempering, d.TemperLine, d.TemperValve, d.TemperShut, d.TemperGuard, d.TemperSpill}
	if !b.sets(parts...) || d.Tempering.Of(s).In(quantity.GPM) == 0 {
		return nil, nil
	}
	var l check.List
	if b.sets(d.TemperLine) {
		l = append(l, check.Say("order.cooling-line"))
	}
	if d.TemperShut.Of(s) == survey.Yes {
		l = append(l, check.Say("order.shut-off"))
	}
	switch g := d.TemperGuard.Of(s); {
	case g == "" || g == "none":
	case b.sets(d.TemperGuard, d.TemperSpill) && g == "reduced-pressure":
		l = append(l, check.Say("order.cooling-guard", "device", check.Word(g)))
	default:
		l = append(l, check.Word(g))
	}
	if v := d.TemperValve.Of(s); v != "" && v != "none" {
		l = append(l, check.Word(v))
	}
	return []check.Phrase{check.Say("order.cooling", "flow", d.Tempering.Of(s), "parts", l)}, parts
}

// spaces says the row of spaces that the circuit takes in the panel.
func spaces(b *building) (do []check.Phrase, covered []survey.Ref) {
	p := survey.Ask.Power
	if !b.sets(p.PanelSpaces, p.Adjacent) {
		return nil, nil
	}
	return []check.Phrase{check.Say("order.spaces", "n", p.Adjacent.Of(b.built).N())}, []survey.Ref{p.PanelSpaces, p.Adjacent}
}

// standpipe says where a standpipe's rim and its trap weir will be: which of
// them moves isn't to be guessed.
func standpipe(b *building) (do []check.Phrase, covered []survey.Ref) {
	d, s := survey.Ask.Drain, b.built
	if !b.sets(d.Standpipe, d.RimHeight) || d.Receptor.Of(s) != "standpipe" || !d.Standpipe.Known(s) || !d.RimHeight.Known(s) {
		return nil, nil
	}
	rim, pipe := ruled(d.RimHeight.Of(s)), ruled(d.Standpipe.Of(s))
	return []check.Phrase{check.Say("order.standpipe", "rim", rim, "weir", ruled(rim.Minus(pipe)), "height", pipe)}, []survey.Ref{d.Standpipe, d.RimHeight}
}

// implied are answers that a step needn't say, since they are what another
// answer's change, in the same remedy, leads to.
var implied = func() map[string]survey.Ref {
	m := map[string]survey.Ref{}
	for _, l := range []survey.LineAnswers{survey.Ask.Water.Cold, survey.Ask.Water.Hot} {
		for _, a := range []survey.Ref{l.Static, l.Flowing, l.GaugeAt} {
			m[a.Path()] = l.Regulator
		}
	}
	return m
}()
