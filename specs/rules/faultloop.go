package rules

import (
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// FaultLoop compares the measured path of a fault to earth with what lets the
// circuit's devices cut it off in time.
var FaultLoop = &Check{
	ID:      "E-36",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.GroundFault,
	Sources: []trade.Source{trade.FaultLoopTN, trade.FaultLoopIE, trade.IECCurves, trade.FaultLoopCold, trade.FaultLoopTT},
	After:   []*Check{ResidualDevice},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.Breaker.Path(): "16 A", ask.Power.BreakerCurve.Path(): "B", ask.Power.FaultLoop.Path(): "2 Ω"}, Verdict: OK, Shows: "Z_max = 2.73 Ω"},
	Skip: func(c *Case) check.Phrase {
		if onNEC(c) {
			return check.Say("iec.only")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Breaker); lacks {
			return out
		}
		switch earthing := p.Earthing.Of(c); earthing {
		case "TT":
			return electrode(c)
		case "TN-S", "TN-C-S":
			return loopImpedance(c)
		case "IT":
			return check.Rule(check.Say("E-36.it"), check.Say("E-36.want"), check.Say("E-33.ask-it"), p.Earthing)
		}
		return check.Rule(check.Say("E-33.no-earthing"), check.Say("E-36.want"), check.Say("E-33.ask-earthing"), p.Earthing)
	}),
}

// loopImpedance judges the breaker of a TN system. What it doesn't cut off in
// time a residual-current device may: that is the electrician's to rule on.
func loopImpedance(c *Case) Outcome {
	p := ask.Power
	at := []survey.Ref{p.FaultLoop, p.BreakerCurve, p.Breaker, p.Earthing, p.GFCI}
	z, curve, breaker := p.FaultLoop.Of(c), p.BreakerCurve.Of(c), p.Breaker.Of(c)
	if !z.Known() || curve == "" {
		return check.Rule(check.Say("E-36.unmeasured"), check.Say("E-36.want"), check.Say("E-36.measure", "breaker", breaker), at...)
	}
	u0 := 230.0
	if info, ok := nominalSystem(c); ok && info.LineNeutralV > 0 {
		u0 = info.LineNeutralV
	}
	most, err := trade.MaxLoopOhm(u0, breaker.In(quantity.Ampere), curve)
	if err != nil {
		return check.NoResult(at)
	}
	limit, cold := quantity.New(most, quantity.Ohm), quantity.New(trade.LoopColdShare*most, quantity.Ohm)
	out := check.UpTo(z, limit, check.Say("E-36.lower", "z", z, "limit", limit), at...)
	switch {
	case out.Verdict == Fix && (p.GFCI.Of(c) == "rcd-30ma" || p.GFCI.Of(c) == "rcd-other"):
		out.Verdict, out.Action = Confirm, check.Say("E-36.residual", "limit", limit)
	case out.Verdict == OK && z.Cmp(cold) > 0:
		out.Verdict, out.Action = Confirm, check.Say("E-36.cold", "cold", cold, "limit", limit)
	}
	out.Working = []Step{
		entry("U_0", check.Say("step.nominal-to-earth"), powerVolts(u0)),
		entry("I_n", check.Say("step.breaker-curve", "curve", check.Quote(curve)), breaker),
		entry("Z_max", check.Say("step.loop-limit"), check.Figure{Value: most, Decimals: 2, Unit: "Ω"}),
		entry("Z_s", check.Say("step.loop"), z),
	}
	return out
}

// electrode judges the earth electrode of a TT system against its
// residual-current device.
func electrode(c *Case) Outcome {
	p := ask.Power
	at := []survey.Ref{p.FaultLoop, p.GFCI, p.Earthing}
	r := p.FaultLoop.Of(c)
	switch {
	case p.GFCI.Of(c) != "rcd-30ma":
		return check.Rule(check.Say("E-36.which"), check.Say("E-36.want"), check.Say("E-36.ask-which"), at...)
	case !r.Known():
		return check.Rule(check.Say("E-36.unmeasured"), check.Say("E-36.want"), check.Say("E-36.measure-electrode"), at...)
	}
	most := trade.MaxElectrodeOhm(trade.RCDForIECmA)
	limit, steady := quantity.New(most, quantity.Ohm), quantity.New(trade.ElectrodeSteady, quantity.Ohm)
	out := check.UpTo(r, limit, check.Say("E-36.electrode", "r", r, "limit", limit), at...)
	if out.Verdict == OK && r.Cmp(steady) > 0 {
		out.Verdict, out.Action = Confirm, check.Say("E-36.steady", "steady", steady)
	}
	out.Working = []Step{
		entry("I_Δn", check.Say("step.residual"), check.Figure{Value: trade.RCDForIECmA, Unit: "mA"}),
		entry("R_max", check.Say("step.electrode-limit"), limit),
		entry("R_A", check.Say("step.electrode"), r),
	}
	return out
}
