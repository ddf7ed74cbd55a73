package rules

import (
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// smallMotorVA stands for 1/8 hp where the sheet gives no horsepower: a motor
// circuit of less is assumed to hold none larger. Common practice, no source.
const smallMotorVA = 300

// largeMotor says whether the machine's motors are assumed over 1/8 hp.
func largeMotor(c *Case) bool {
	s := c.Supply
	v := s.MotorVolts
	if !v.Known() {
		v = s.VoltageMax
	}
	return s.MotorCurrent.Known() && trade.LinePowerW(s.MotorCurrent.In(quantity.Ampere), v.In(quantity.Volt), s.Phases, 1) > smallMotorVA
}

// DisconnectMeans judges the means of disconnect.
var DisconnectMeans = &Check{
	ID:      "E-21",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "means of disconnect",
	Why:     "Whoever opens the machine must be able to cut it off and keep it off.",
	Range:   "motors over 1/8 hp are assumed where motors and controls draw more than 300 VA (common practice, no source)",
	Sources: []trade.Source{trade.NEC422_31, trade.NEC422_31Edit, trade.IECIsolation},
	Uses:    []string{"power.disconnect", "codes.electrical"},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{"power.disconnect": "none"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("power.disconnect"); lacks {
			return out
		}
		have := c.Survey.Power.Disconnect
		const at = "power.disconnect"
		if c.Machine.Power.Connection == "cord" {
			return choice(have != "none", have, "an accessible plug, or a switch in sight", "set the receptacle where the plug can be reached with the machine in place, or fit a switch in sight", at)
		}
		want := "a switch or breaker in sight of the machine, or a breaker that can be locked off"
		action := "fit a switch in sight of the machine, or a permanent lock-off on the breaker"
		switch {
		case have == "none", have == "plug":
			return choice(false, have, want, action, at)
		case have == "lockable-breaker" && onNEC(c) && largeMotor(c):
			e, known := necEdition(c)
			if !known {
				if out, lacks := c.lacking("codes.electrical"); lacks {
					return out
				}
				return ask(have, want, "ask the authority whether a locked breaker may serve; "+c.Survey.Codes.Electrical+" is no edition of this machine's code", at, "codes.electrical")
			}
			if e == trade.NEC2014 {
				return choice(false, have, "a switch or breaker in sight of a machine with a motor over 1/8 hp (2014 edition)", "fit a switch in sight of the machine", at, "codes.electrical")
			}
		}
		return choice(true, have, want, "", at)
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		if c.Machine.Power.Connection == "cord" {
			return []Remedy{{Change: "set the receptacle where the plug can be reached", Set: map[string]string{"power.disconnect": "plug"}}}
		}
		return []Remedy{
			{Change: "fit a switch in sight of the machine", Set: map[string]string{"power.disconnect": "switch-in-sight"}},
			{Change: "fit a permanent lock-off on the breaker", Set: map[string]string{"power.disconnect": "lockable-breaker"}},
		}
	},
}

// nominalVolts is the nominal voltage at the machine by the readings, for
// rules whose limits are nominal.
func nominalVolts(c *Case) float64 {
	v, path := c.volts()
	labels, _, _, bad := systemsOf(c)
	if !bad && len(labels) > 0 {
		if info, ok := systemLabels[labels[0]].Info(); ok {
			if path == "power.line_to_neutral" {
				return info.LineNeutralV
			}
			return info.LineLineV
		}
	}
	return v.In(quantity.Volt)
}

// circuitToGround is the highest voltage to ground of the machine's own
// circuit, as read. A circuit of one or two legs counts as lying on the low
// ones, where the rule reaches it.
func circuitToGround(c *Case) float64 {
	if p := c.Survey.Power; c.Supply.Phases == 1 && p.LineToNeutral.Known() {
		return p.LineToNeutral.In(quantity.Volt)
	}
	v, _ := voltsToGround(c)
	return v
}

// GroundFault asks for ground-fault protection by the edition enforced.
var GroundFault = &Check{
	ID:      "E-22",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "ground-fault protection by the code enforced",
	Why:     "Water, metal and bare hands meet at a bar; the code says where a few milliamperes must trip the circuit. Whether it covers a commercial glass washer is often the authority's to say.",
	Formula: "NEC: by edition, connection, place, phases, voltage to ground (to 150 V) and circuit rating; IEC: 30 mA for socket outlets to 32 A",
	Range:   "outlets that are not in a dwelling",
	Sources: []trade.Source{trade.NECGFCI2014, trade.NECGFCI2017, trade.NECGFCI2020, trade.NECGFCI2023, trade.IECResidual},
	Uses:    append([]string{"codes.electrical", "power.ground_fault_protection", "power.breaker", "power.near_sink"}, systemUses...),
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"codes.electrical": "nec-2023", "power.ground_fault_protection": "none"}, Verdict: Fix, Shows: "V_g = 120 V"},
	Run:     runGroundFault,
	Remedies: func(c *Case, _ *Check) []Remedy {
		if !onNEC(c) {
			return []Remedy{{Change: "protect the circuit by a residual-current device of 30 mA", Set: map[string]string{"power.ground_fault_protection": "rcd-30ma"}}}
		}
		rs := []Remedy{{Change: "fit a GFCI breaker", Set: map[string]string{"power.ground_fault_protection": "breaker"}}}
		if c.Machine.Power.Connection == "cord" {
			rs = append(rs, Remedy{Change: "fit a GFCI receptacle, where one of this configuration is made", Set: map[string]string{"power.ground_fault_protection": "receptacle"}})
		}
		return rs
	},
}

func runGroundFault(c *Case) Outcome {
	have := c.Survey.Power.GFCI
	cord := c.Machine.Power.Connection == "cord"
	const at = "power.ground_fault_protection"
	if !onNEC(c) {
		if out, lacks := c.lacking(at, "power.breaker"); lacks {
			return out
		}
		n := c.Survey.Power.Breaker
		steps := []Step{{"I_Δn", "rated residual current wanted", number(trade.RCDForIECmA, 0) + " mA"}, {"V_g", "voltage to earth", "230 V"}}
		if v, ok := voltsToGround(c); ok {
			steps[1].Value = show(c, powerVolts(v))
		}
		want := "a residual-current device of 30 mA"
		fine := have == "rcd-30ma"
		out := choice(fine, have, want, "protect the circuit by a residual-current device of 30 mA", at)
		switch {
		case have == "breaker" || have == "receptacle" && cord:
			out = ask("in the "+have+", its residual current not stated", want, "read the residual current (I_Δn) off the "+have+": 30 mA or less is wanted; then answer rcd-30ma or rcd-other", at)
		case !fine && (!cord || n.In(quantity.Ampere) > 32):
			out = ask(have, want+", where the rules ask for one", "ask the electrician whether this circuit needs a residual-current device of 30 mA", at, "power.breaker")
		}
		out.Working = steps
		return out
	}
	if out, lacks := c.lacking("codes.electrical"); lacks {
		return out
	}
	edition, known := necEdition(c)
	if !known {
		return ask(c.Survey.Codes.Electrical, "an edition of the NEC", "ask the authority which rule of ground-fault protection holds for this machine", "codes.electrical")
	}
	if _, _, out, bad := systemsOf(c); bad {
		return out
	}
	if out, lacks := c.lacking("power.breaker"); lacks {
		return out
	}
	ground := circuitToGround(c)
	q := trade.GFCIQuery{Edition: edition, HardWired: !cord, Phases: c.Supply.Phases, Volts: nominalVolts(c), VoltsToGround: ground, Amps: c.Survey.Power.Breaker.In(quantity.Ampere)}
	rule := func(l trade.Location) trade.GFCIRuling {
		q.Location = l
		r, err := trade.GFCI(q)
		if err != nil {
			return trade.GFCIRuling{Answer: trade.GFCIAskAHJ, Why: err.Error()}
		}
		return r
	}
	near, away := rule(trade.KitchenOrSink), rule(trade.BeverageArea)
	r := away
	if c.Survey.Power.NearSink == survey.Yes {
		r = near
	}
	steps := []Step{
		{"edition", "code enforced", c.Survey.Codes.Electrical},
		{"V_g", "highest voltage to ground of the circuit", show(c, powerVolts(ground))},
		{"I_n", "circuit rating", show(c, c.Survey.Power.Breaker)},
	}
	protected := have == "breaker" || have == "receptacle" && cord
	paths := []string{at, "codes.electrical", "power.breaker"}
	if near.Answer == trade.GFCINotRequired && away.Answer == trade.GFCINotRequired {
		out := choice(true, "not required here", "as the code enforced asks: "+near.Why, "", paths...)
		out.Working = append(steps, Step{"rule", near.Why, near.Answer.String()})
		return out
	}
	if out, lacks := c.lacking(at); lacks {
		return out
	}
	if !protected && near.Answer != away.Answer {
		if out, lacks := c.lacking("power.near_sink"); lacks {
			return out
		}
		paths = append(paths, "power.near_sink")
	}
	want := "GFCI protection: " + r.Why
	var out Outcome
	switch {
	case protected:
		out = choice(true, have, "GFCI protection", "", paths...)
	case r.Answer == trade.GFCIRequired:
		out = choice(false, have, want, "protect the circuit by a GFCI (class A, 4 to 6 mA)", paths...)
	case r.Answer == trade.GFCIAskAHJ:
		out = ask(have, "GFCI protection, or the authority's word that none is needed: "+r.Why, "ask the authority having jurisdiction whether this machine needs GFCI protection", paths...)
	default:
		out = choice(true, have, "as the code enforced asks: "+r.Why, "", paths...)
	}
	out.Working = append(steps, Step{"rule", r.Why, r.Answer.String()})
	return out
}
