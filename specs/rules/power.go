package rules

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var power = []*Check{
	SupplySystem, SupplyLabel, PlateVoltage, SupplyPhases, SupplyFrequency, SupplyNeutral, PhaseBalance,
	OwnCircuit, DedicatedCircuit, MinimumBreaker, MaximumBreaker, BreakerSize, BreakerPoles,
	ConductorAmpacity, ConductorProtection, GroundConductor, DeviceMetal, WetRun, VoltageDrop, VoltageUnderLoad,
	ReceptacleFits, ReceptacleRating, CordReach, ExtensionCord, DisconnectMeans, GroundFault, ResidualDevice, FaultLoop,
	HeaterOutput, HeaterSubdivision, HeatUpTime, PanelSpaces, PanelCapacity, FaultCurrent, PanelClearance, CodeBasis,
}

// What follows is shared by the checks of power.

func powerAmps(x float64) quantity.Current  { return quantity.New(x, quantity.Ampere) }
func powerVolts(x float64) quantity.Voltage { return quantity.New(x, quantity.Volt) }

func itoa(n int) string { return strconv.Itoa(n) }

// onNEC says whether the North American code rules: the one enforced at the
// site, or, while that isn't known, the one the machine is built for.
func onNEC(c *Case) bool {
	if code := ask.Codes.Electrical.Of(c); code != "" {
		return strings.HasPrefix(code, "nec-")
	}
	return c.Machine.Basis == "nec"
}

// byCord says whether the machine is connected by cord and plug.
func byCord(c *Case) bool { return c.Machine.Power.Connection == "cord" }

// onPlate notes that the limit is a value of the chosen supply option.
func onPlate(c *Case, out Outcome, field string) Outcome {
	for i := range c.Machine.Power.Supplies {
		if c.Machine.Power.Supplies[i].Name == c.Supply.Name {
			return c.OnSheet(out, fmt.Sprintf("power.supplies[%d].%s", i, field))
		}
	}
	return out
}

// necEdition is the edition enforced. When it isn't known the 2020 edition
// stands in where editions agree but for a 10 A step; ok is false then. The
// rules of 2023 stand in for 2026, whose text was not at hand.
func necEdition(c *Case) (e trade.Edition, ok bool) {
	switch ask.Codes.Electrical.Of(c) {
	case "nec-2014":
		return trade.NEC2014, true
	case "nec-2017":
		return trade.NEC2017, true
	case "nec-2020":
		return trade.NEC2020, true
	case "nec-2023", "nec-2026":
		return trade.NEC2023, true
	}
	return trade.NEC2020, false
}

// editionStep names the edition whose rules are applied.
func editionStep(c *Case) Step {
	code := ask.Codes.Electrical.Of(c)
	if code == "nec-2026" {
		return entry("edition", check.Say("step.edition-2026"), check.Word(code))
	}
	return entry("edition", check.Say("step.edition"), check.Word(code))
}

// breakerSizes lists the standard ratings of the code that rules, smallest first.
func breakerSizes(c *Case) []float64 {
	if !onNEC(c) {
		return trade.IECRatings()
	}
	e, _ := necEdition(c)
	sizes, _ := trade.StandardRatings(e)
	return sizes
}

// lineConductors is the number of line conductors the supply option takes.
func lineConductors(c *Case) int {
	if c.Supply.Phases == 3 {
		return 3
	}
	if _, path := volts(c); path == ask.Power.LineToNeutral {
		return 1
	}
	return 2
}

// LineConductors is lineConductors for whoever prints the circuit.
func LineConductors(c *Case) int { return lineConductors(c) }

// loadedConductors is the number of conductors of this circuit that carry its
// current: a neutral that carries the whole of it counts.
func loadedConductors(c *Case) int { return max(2, lineConductors(c)) }

// A draw is the current that the machine takes at the site's voltage.
type draw struct {
	heater, motor, run float64 // A
	steps              []Step
}

// drawOf computes the running current at the site's voltage: the heater as a
// fixed resistance, the motors at constant power within 0.9 to 1.1 of their
// rated voltage and no further. Both are added as if in phase, the worst case.
// Without heater and motors on the sheet it is the rated current.
func drawOf(c *Case) (d draw, out Outcome, bad bool) {
	v, path := volts(c)
	if out, lacks := c.Lacking(path); lacks {
		return d, out, true
	}
	s := c.Supply
	option := check.Quote(s.Name)
	site := v.In(quantity.Volt)
	d.steps = []Step{entry("V", check.Say("step.site-voltage"), v)}
	if !s.HeaterPower.Known() {
		if !s.RatedCurrent.Known() {
			return d, c.Silent(check.Say("silent.rated-current", "option", option)), true
		}
		d.run = s.RatedCurrent.In(quantity.Ampere)
		d.steps = append(d.steps, entry("I_b", check.Say("step.rated-current"), s.RatedCurrent))
		return d, out, false
	}
	if !s.HeaterVolts.Known() {
		return d, c.Silent(check.Say("silent.heater-voltage", "option", option)), true
	}
	rated := s.HeaterVolts.In(quantity.Volt)
	d.heater = trade.HeaterCurrentA(trade.LineCurrentA(s.HeaterPower.In(quantity.Watt), rated, s.Phases, 1), rated, site)
	d.steps = append(d.steps, entry("I_h", check.Say("step.heater-current", "power", s.HeaterPower, "volts", s.HeaterVolts), powerAmps(d.heater)))
	if s.MotorCurrent.In(quantity.Ampere) > 0 {
		d.motor = s.MotorCurrent.In(quantity.Ampere)
		note := check.Say("step.motor-current-sheet")
		if mv := s.MotorVolts.In(quantity.Volt); mv > 0 {
			d.motor = trade.MotorCurrentA(d.motor, mv, min(max(site, 0.9*mv), 1.1*mv))
			note = check.Say("step.motor-current", "amps", s.MotorCurrent, "volts", s.MotorVolts)
		}
		d.steps = append(d.steps, entry("I_m", note, powerAmps(d.motor)))
	}
	d.run = d.heater + d.motor
	d.steps = append(d.steps, entry("I_b", check.Say("step.running-current"), powerAmps(d.run)))
	return d, out, false
}

// fullRated says whether the breaker may carry a continuous load to its full
// rating. One smaller than any that is made so, and said to be so, is counted
// at 80 % until its marking is shown.
func fullRated(c *Case) bool {
	p := ask.Power
	return p.FullRated.Of(c) == survey.Yes && !(p.Breaker.Known(c) && p.Breaker.Of(c).In(quantity.Ampere) < trade.FullRatedFromA)
}

// minimumOf is the least circuit that may feed the machine, in ampere: the
// plate's minimum circuit; without one 125 % of a continuous load under the
// NEC; never less than the running current.
func minimumOf(c *Case, d draw) (amps float64, field string, step Step) {
	return minimumWith(c, d, fullRated(c))
}

func minimumWith(c *Case, d draw, full bool) (amps float64, field string, step Step) {
	s := c.Supply
	why := check.Say("step.least-plate")
	switch {
	case s.MinCircuit.Known():
		amps, field = s.MinCircuit.In(quantity.Ampere), "min_circuit"
	default:
		var what check.Phrase
		amps, field, what = d.run, "heater_power", check.Say("step.least-running")
		if s.RatedCurrent.Known() {
			amps, field, what = s.RatedCurrent.In(quantity.Ampere), "rated_current", check.Say("step.least-rated")
		}
		why = what
		if s.Continuous && onNEC(c) {
			amps = trade.MinimumCircuit(amps, 0, full)
			why = check.Say("step.least-125", "what", what)
			if full {
				why = check.Say("step.least-100", "what", what)
			}
		}
	}
	if d.run > amps {
		amps, why = d.run, check.Say("step.least-above-plate")
	}
	return amps, field, entry("I_min", check.Say("step.least-circuit", "why", why), powerAmps(amps))
}

// largestBreaker is the most that may stand before the machine: the plate's
// maximum, and without one what the NEC allows an appliance (422.11(E)). ok is
// false where neither says.
func largestBreaker(c *Case) (limit quantity.Current, plate, ok bool) {
	s := c.Supply
	switch {
	case s.MaxBreaker.Known():
		return s.MaxBreaker, true, true
	case !onNEC(c):
		return limit, false, false
	}
	rated := s.RatedCurrent.In(quantity.Ampere)
	if !s.RatedCurrent.Known() {
		v := s.HeaterVolts.In(quantity.Volt)
		if !s.HeaterPower.Known() || !(v > 0) {
			return limit, false, false
		}
		rated = trade.LineCurrentA(s.HeaterPower.In(quantity.Watt), v, s.Phases, 1) + s.MotorCurrent.In(quantity.Ampere)
	}
	e, _ := necEdition(c)
	amps, err := trade.ApplianceOCPD(rated, 0, e)
	if err != nil {
		return limit, false, false
	}
	return powerAmps(amps), false, true
}

// breakersBetween lists standard ratings from need up to the largest allowed.
func breakersBetween(c *Case, need float64) []float64 {
	top, _, limited := largestBreaker(c)
	var sizes []float64
	for _, a := range breakerSizes(c) {
		if a >= need && (!limited || powerAmps(a).Cmp(top) <= 0) {
			sizes = append(sizes, a)
		}
	}
	return sizes
}

// otherOptions offers the machine's other supply options.
func otherOptions(c *Case) []Remedy {
	var rs []Remedy
	for _, s := range c.Machine.Power.Supplies {
		if s.Name != c.Supply.Name {
			rs = append(rs, Remedy{Change: check.Say("supply.option", "option", check.Quote(s.Name)), Work: check.OtherOption, Set: map[string]string{ask.Machine.Supply.Path(): s.Name}})
		}
	}
	return rs
}

// met says whether a rule is met, uncertainty counted, or can't be judged for
// want of an answer. It takes the judging half of a check, free of the check
// itself, so that remedies of one check can see to it that others are met too.
func met(c *Case, run func(*Case) Outcome) bool {
	v := c.Judge(&Check{Run: run}).Verdict
	return v != Fix && v != Confirm
}

// refit completes a change of the circuit: the conductor grows from the given
// size until it carries the load and is protected, the grounding conductor
// with it. ok is false when no tabulated size does.
func refit(c *Case, set map[string]string, from quantity.WireSize, also func(*Case) bool) (all map[string]string, ok bool) {
	for w := from; w.Known(); w = w.Next() {
		all = maps.Clone(set)
		if w.Cmp(ask.Power.Conductor.Of(c)) != 0 {
			all[ask.Power.Conductor.Path()] = w.String()
		}
		after, err := c.With(all)
		if err != nil || !met(after, runAmpacity) || !met(after, runProtection) || !also(after) {
			continue
		}
		if g, known := groundNeeded(after); known && ask.Power.Ground.Known(c) && ask.Power.Ground.Of(c).Cmp(g) < 0 {
			all[ask.Power.Ground.Path()] = g.String()
		}
		return all, true
	}
	return nil, false
}

// rebuilt completes a change of the breaker to a whole circuit: its poles, the
// conductors with their ground, and a receptacle that goes with it. ok is
// false when the conductors are known and none in the tables would do.
func rebuilt(c *Case, amps float64, also func(*Case) bool) (all map[string]string, ok bool) {
	p := ask.Power
	set := map[string]string{p.Breaker.Path(): quantity.Ampere.Write(amps)}
	if n := lineConductors(c); p.BreakerPoles.Known(c) && p.BreakerPoles.Of(c).N() < n {
		set[p.BreakerPoles.Path()] = itoa(n)
		set = withRoom(c, set)
	}
	if r, larger := largerReceptacle(c, amps); larger {
		set[p.Receptacle.Path()] = r
	}
	after, err := c.With(set)
	if err != nil || !also(after) {
		return nil, false
	}
	if !p.Conductor.Known(c) {
		return set, true
	}
	return refit(c, set, p.Conductor.Of(c), also)
}

// upsized offers the next larger conductor that cures the check.
func upsized(c *Case, k *Check, set map[string]string) []Remedy {
	was := ask.Power.Conductor.Of(c)
	cures := func(after *Case) bool { return after.Passes(k) }
	all, ok := refit(c, set, was.Next(), cures)
	if !ok {
		return nil
	}
	return []Remedy{{Change: wireWords(c, all), Work: check.PipeOrWire, Set: all}}
}

// wireWords says a change of the circuit: each part with its final value.
func wireWords(c *Case, set map[string]string) check.Phrase {
	p := ask.Power
	var parts check.List
	if b, ok := set[p.Breaker.Path()]; ok {
		poles := max(lineConductors(c), p.BreakerPoles.Of(c).N())
		name := "circuit.breaker"
		if onNEC(c) && p.GFCI.Of(c) == "breaker" {
			name = "circuit.breaker-gfci"
		}
		parts = append(parts, check.Say(name, "amps", quantity.MustParse[quantity.Current](b), "poles", poles))
	}
	if w, ok := set[p.Conductor.Path()]; ok {
		wire := wireSize(w)
		if metal := p.ConductorOf.Of(c); metal != "" {
			parts = append(parts, check.Say("circuit.conductors", "wire", wire, "metal", check.Word(metal)))
		} else {
			parts = append(parts, check.Say("circuit.conductors-any", "wire", wire))
		}
	}
	if set[p.Neutral.Path()] == "yes" {
		parts = append(parts, check.Say("circuit.neutral"))
	}
	if g, ok := set[p.Ground.Path()]; ok {
		parts = append(parts, check.Say("circuit.ground", "wire", wireSize(g)))
	}
	if r, ok := set[p.Receptacle.Path()]; ok {
		parts = append(parts, check.Say("circuit.receptacle", "receptacle", check.Quote(r)))
	}
	if room, more := roomFor(c, set); more {
		parts = append(parts, room)
	}
	return check.Say("circuit.change", "parts", parts)
}

// circuitWork is how much work a change of the circuit is.
func circuitWork(set map[string]string) check.Work {
	if _, ok := set[ask.Power.PanelSpaces.Path()]; ok {
		return check.NewCircuit
	}
	if _, ok := set[ask.Power.Conductor.Path()]; ok {
		return check.PipeOrWire
	}
	if _, ok := set[ask.Power.Ground.Path()]; ok {
		return check.PipeOrWire
	}
	return check.Device
}

// worse returns the outcome of the smaller margin.
func worse(a, b Outcome) Outcome {
	if b.Margin.Value < a.Margin.Value {
		return b
	}
	return a
}
