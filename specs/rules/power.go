package rules

import (
	"fmt"
	"maps"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

var power = []*Check{
	SupplySystem, SupplyLabel, PlateVoltage, SupplyPhases, SupplyFrequency, SupplyNeutral,
	OwnCircuit, DedicatedCircuit, MinimumBreaker, MaximumBreaker, BreakerSize, BreakerPoles,
	ConductorAmpacity, ConductorProtection, GroundConductor, VoltageDrop, VoltageUnderLoad,
	ReceptacleFits, ReceptacleRating, CordReach, ExtensionCord, DisconnectMeans, GroundFault,
	HeaterOutput, HeatUpTime, PanelSpaces, PanelClearance, CodeBasis,
}

// What follows is shared by the checks of power.

func powerAmps(x float64) quantity.Current  { return quantity.New(x, quantity.Ampere) }
func powerVolts(x float64) quantity.Voltage { return quantity.New(x, quantity.Volt) }

// onNEC says whether the machine is built for the North American code.
func onNEC(c *Case) bool { return c.Machine.Basis == "nec" }

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
// stands in where editions agree but for a 10 A step; ok is false then.
func necEdition(c *Case) (e trade.Edition, ok bool) {
	switch ask.Codes.Electrical.Of(c) {
	case "nec-2014":
		return trade.NEC2014, true
	case "nec-2017":
		return trade.NEC2017, true
	case "nec-2020":
		return trade.NEC2020, true
	case "nec-2023":
		return trade.NEC2023, true
	}
	return trade.NEC2020, false
}

// breakerSizes lists the standard ratings of the machine's basis, smallest first.
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

// loadedConductors is the number of conductors of this circuit that carry its
// current: a neutral that carries the whole of it counts.
func loadedConductors(c *Case) int { return max(2, lineConductors(c)) }

// A draw is the current that the machine takes at the site's voltage.
type draw struct {
	heater, motor, run float64 // A
	steps              []Step
}

// drawUses are the answers that drawOf reads.

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
	site := v.In(quantity.Volt)
	d.steps = []Step{{"V", "site's voltage at this supply option", show(c, v)}}
	if !s.HeaterPower.Known() {
		if !s.RatedCurrent.Known() {
			return d, c.Silent("the rated current of supply option " + s.Name), true
		}
		d.run = s.RatedCurrent.In(quantity.Ampere)
		d.steps = append(d.steps, Step{"I_b", "rated current on the plate", show(c, s.RatedCurrent)})
		return d, out, false
	}
	if !s.HeaterVolts.Known() {
		return d, c.Silent("the rated voltage of the heater of supply option " + s.Name), true
	}
	rated := s.HeaterVolts.In(quantity.Volt)
	d.heater = trade.HeaterCurrentA(trade.LineCurrentA(s.HeaterPower.In(quantity.Watt), rated, s.Phases, 1), rated, site)
	d.steps = append(d.steps, Step{"I_h", fmt.Sprintf("heater of %s at %s, on the site's voltage", show(c, s.HeaterPower), show(c, s.HeaterVolts)), show(c, powerAmps(d.heater))})
	if s.MotorCurrent.In(quantity.Ampere) > 0 {
		d.motor = s.MotorCurrent.In(quantity.Ampere)
		note := "motors, pumps and controls, as on the sheet"
		if mv := s.MotorVolts.In(quantity.Volt); mv > 0 {
			d.motor = trade.MotorCurrentA(d.motor, mv, min(max(site, 0.9*mv), 1.1*mv))
			note = fmt.Sprintf("motors, pumps and controls of %s at %s, constant power assumed within 0.9 to 1.1 of it", show(c, s.MotorCurrent), show(c, s.MotorVolts))
		}
		d.steps = append(d.steps, Step{"I_m", note, show(c, powerAmps(d.motor))})
	}
	d.run = d.heater + d.motor
	d.steps = append(d.steps, Step{"I_b", "running current, I_h + I_m, assumed in phase", show(c, powerAmps(d.run))})
	return d, out, false
}

// minimumOf is the least circuit that may feed the machine, in ampere: the
// plate's minimum circuit; without one 125 % of a continuous load on the NEC
// basis; never less than the running current.
func minimumOf(c *Case, d draw) (amps float64, field string, step Step) {
	s := c.Supply
	why := "minimum circuit on the plate"
	switch {
	case s.MinCircuit.Known():
		amps, field = s.MinCircuit.In(quantity.Ampere), "min_circuit"
	default:
		amps, field, why = d.run, "heater_power", "running current"
		if s.RatedCurrent.Known() {
			amps, field, why = s.RatedCurrent.In(quantity.Ampere), "rated_current", "rated current on the plate"
		}
		if s.Continuous && onNEC(c) {
			full := ask.Power.FullRated.Of(c).String() == "yes"
			amps = trade.MinimumCircuit(amps, 0, full)
			if full {
				why = "100 % of the " + why + ", the breaker assembly is listed for it"
			} else {
				why = "125 % of the " + why + ", a continuous load"
			}
		}
	}
	if d.run > amps {
		amps, why = d.run, "running current, above the plate's figure at this voltage"
	}
	return amps, field, Step{"I_min", "least circuit: " + why, show(c, powerAmps(amps))}
}

// otherOptions offers the machine's other supply options.
func otherOptions(c *Case) []Remedy {
	var rs []Remedy
	for _, s := range c.Machine.Power.Supplies {
		if s.Name != c.Supply.Name {
			rs = append(rs, Remedy{Change: "order the machine in its supply option " + s.Name, Set: map[string]string{ask.Machine.Supply.Path(): s.Name}})
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
		if g, known := groundNeeded(after); known && ask.Power.Ground.Of(c).Known() && ask.Power.Ground.Of(c).Cmp(g) < 0 {
			all[ask.Power.Ground.Path()] = g.String()
		}
		return all, true
	}
	return nil, false
}

// upsized offers the next larger conductor that cures the check.
func upsized(c *Case, k *Check, set map[string]string) []Remedy {
	was := ask.Power.Conductor.Of(c)
	cures := func(after *Case) bool { return after.Passes(k) }
	all, ok := refit(c, set, was.Next(), cures)
	if !ok {
		return nil
	}
	return []Remedy{{Change: wireWords(c, all), Set: all}}
}

// wireWords says a change of conductors.
func wireWords(c *Case, set map[string]string) string {
	var parts []string
	if w, ok := set[ask.Power.Conductor.Path()]; ok {
		parts = append(parts, fmt.Sprintf("pull %s conductors instead of %s", w, ask.Power.Conductor.Of(c)))
	}
	if g, ok := set[ask.Power.Ground.Path()]; ok {
		parts = append(parts, fmt.Sprintf("a grounding (protective) conductor of %s instead of %s", g, ask.Power.Ground.Of(c)))
	}
	return strings.Join(parts, " and ")
}

// worse returns the outcome of the smaller margin.
func worse(a, b Outcome) Outcome {
	if b.Margin.Value < a.Margin.Value {
		return b
	}
	return a
}
