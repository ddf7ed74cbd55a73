package rules

import (
	"firstfill/specs/check"
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
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.Disconnect.Path(): "none"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Disconnect); lacks {
			return out
		}
		have := ask.Power.Disconnect.Of(c)
		var at = ask.Power.Disconnect
		if c.Machine.Power.Connection == "cord" {
			return check.Choice(have != "none", have, "an accessible plug, or a switch in sight", "set the receptacle where the plug can be reached with the machine in place, or fit a switch in sight", at)
		}
		want := "a switch or breaker in sight of the machine, or a breaker that can be locked off"
		action := "fit a switch in sight of the machine, or a permanent lock-off on the breaker"
		switch {
		case have == "none", have == "plug":
			return check.Choice(false, have, want, action, at)
		case have == "lockable-breaker" && onNEC(c) && largeMotor(c):
			e, known := necEdition(c)
			if !known {
				if out, lacks := c.Lacking(ask.Codes.Electrical); lacks {
					return out
				}
				return check.Rule(have, want, "ask the authority whether a locked breaker may serve; "+ask.Codes.Electrical.Of(c)+" is no edition of this machine's code", at, ask.Codes.Electrical)
			}
			if e == trade.NEC2014 {
				return check.Choice(false, have, "a switch or breaker in sight of a machine with a motor over 1/8 hp (2014 edition)", "fit a switch in sight of the machine", at, ask.Codes.Electrical)
			}
		}
		return check.Choice(true, have, want, "", at)
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		if c.Machine.Power.Connection == "cord" {
			return []Remedy{{Change: "set the receptacle where the plug can be reached", Set: map[string]string{ask.Power.Disconnect.Path(): "plug"}}}
		}
		return []Remedy{
			{Change: "fit a switch in sight of the machine", Set: map[string]string{ask.Power.Disconnect.Path(): "switch-in-sight"}},
			{Change: "fit a permanent lock-off on the breaker", Set: map[string]string{ask.Power.Disconnect.Path(): "lockable-breaker"}},
		}
	},
}

// nominalVolts is the nominal voltage at the machine by the readings, for
// rules whose limits are nominal.
func nominalVolts(c *Case) float64 {
	v, path := volts(c)
	labels, _, _, bad := systemsOf(c)
	if !bad && len(labels) > 0 {
		if info, ok := systemLabels[labels[0]].Info(); ok {
			if path == ask.Power.LineToNeutral {
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
	if p := ask.Power; c.Supply.Phases == 1 && p.LineToNeutral.Of(c).Known() {
		return p.LineToNeutral.Of(c).In(quantity.Volt)
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
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Codes.Electrical.Path(): "nec-2023", ask.Power.GFCI.Path(): "none"}, Verdict: Fix, Shows: "V_g = 120 V"},
	Run:     runGroundFault,
	Remedies: func(c *Case, _ *Check) []Remedy {
		if !onNEC(c) {
			return []Remedy{{Change: "protect the circuit by a residual-current device of 30 mA", Set: map[string]string{ask.Power.GFCI.Path(): "rcd-30ma"}}}
		}
		rs := []Remedy{{Change: "fit a GFCI breaker", Set: map[string]string{ask.Power.GFCI.Path(): "breaker"}}}
		if c.Machine.Power.Connection == "cord" {
			rs = append(rs, Remedy{Change: "fit a GFCI receptacle, where one of this configuration is made", Set: map[string]string{ask.Power.GFCI.Path(): "receptacle"}})
		}
		return rs
	},
}

func runGroundFault(c *Case) Outcome {
	have := ask.Power.GFCI.Of(c)
	cord := c.Machine.Power.Connection == "cord"
	var at = ask.Power.GFCI
	if !onNEC(c) {
		if out, lacks := c.Lacking(at, ask.Power.Breaker); lacks {
			return out
		}
		n := ask.Power.Breaker.Of(c)
		steps := []Step{{"I_Δn", "rated residual current wanted", number(trade.RCDForIECmA, 0) + " mA"}, {"V_g", "voltage to earth", "230 V"}}
		if v, ok := voltsToGround(c); ok {
			steps[1].Value = show(c, powerVolts(v))
		}
		want := "a residual-current device of 30 mA"
		fine := have == "rcd-30ma"
		out := check.Choice(fine, have, want, "protect the circuit by a residual-current device of 30 mA", at)
		switch {
		case have == "breaker" || have == "receptacle" && cord:
			out = check.Rule("in the "+have+", its residual current not stated", want, "read the residual current (I_Δn) off the "+have+": 30 mA or less is wanted; then answer rcd-30ma or rcd-other", at)
		case !fine && (!cord || n.In(quantity.Ampere) > 32):
			out = check.Rule(have, want+", where the rules ask for one", "ask the electrician whether this circuit needs a residual-current device of 30 mA", at, ask.Power.Breaker)
		}
		out.Working = steps
		return out
	}
	if out, lacks := c.Lacking(ask.Codes.Electrical); lacks {
		return out
	}
	edition, known := necEdition(c)
	if !known {
		return check.Rule(ask.Codes.Electrical.Of(c), "an edition of the NEC", "ask the authority which rule of ground-fault protection holds for this machine", ask.Codes.Electrical)
	}
	if _, _, out, bad := systemsOf(c); bad {
		return out
	}
	if out, lacks := c.Lacking(ask.Power.Breaker); lacks {
		return out
	}
	ground := circuitToGround(c)
	q := trade.GFCIQuery{Edition: edition, HardWired: !cord, Phases: c.Supply.Phases, Volts: nominalVolts(c), VoltsToGround: ground, Amps: ask.Power.Breaker.Of(c).In(quantity.Ampere)}
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
	if ask.Power.NearSink.Of(c) == survey.Yes {
		r = near
	}
	steps := []Step{
		{"edition", "code enforced", ask.Codes.Electrical.Of(c)},
		{"V_g", "highest voltage to ground of the circuit", show(c, powerVolts(ground))},
		{"I_n", "circuit rating", show(c, ask.Power.Breaker.Of(c))},
	}
	protected := have == "breaker" || have == "receptacle" && cord
	paths := []survey.Ref{at, ask.Codes.Electrical, ask.Power.Breaker}
	if near.Answer == trade.GFCINotRequired && away.Answer == trade.GFCINotRequired {
		out := check.Choice(true, "not required here", "as the code enforced asks: "+near.Why, "", paths...)
		out.Working = append(steps, Step{"rule", near.Why, near.Answer.String()})
		return out
	}
	if out, lacks := c.Lacking(at); lacks {
		return out
	}
	if !protected && near.Answer != away.Answer {
		if out, lacks := c.Lacking(ask.Power.NearSink); lacks {
			return out
		}
		paths = append(paths, ask.Power.NearSink)
	}
	want := "GFCI protection: " + r.Why
	var out Outcome
	switch {
	case protected:
		out = check.Choice(true, have, "GFCI protection", "", paths...)
	case r.Answer == trade.GFCIRequired:
		out = check.Choice(false, have, want, "protect the circuit by a GFCI (class A, 4 to 6 mA)", paths...)
	case r.Answer == trade.GFCIAskAHJ:
		out = check.Rule(have, "GFCI protection, or the authority's word that none is needed: "+r.Why, "ask the authority having jurisdiction whether this machine needs GFCI protection", paths...)
	default:
		out = check.Choice(true, have, "as the code enforced asks: "+r.Why, "", paths...)
	}
	out.Working = append(steps, Step{"rule", r.Why, r.Answer.String()})
	return out
}
