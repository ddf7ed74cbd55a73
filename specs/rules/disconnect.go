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

// outletPlace are the answers that say where the receptacle is.
var outletPlace = []survey.Ref{ask.Power.OutletHeight, ask.Power.OutletFromLeft}

// reachIn is the greatest height above the floor at which a handle counts as
// within reach without a ladder, in. Source: trade.NEC404_8.
const reachIn = 79.0

// outletUnplaced is the outcome while it isn't known where the receptacle lies
// about the machine: an answer lacks, or the sheet says no outline.
func outletUnplaced(c *Case) (out Outcome, lacks bool) {
	if m := c.Machine.Space; !m.Width.Known() || !m.Height.Known() {
		return c.Silent(check.Say("silent.outline")), true
	}
	return c.Lacking(outletPlace...)
}

// outletHigh says whether the receptacle can't be reached without a ladder.
func outletHigh(c *Case) bool { return ask.Power.OutletHeight.Of(c).In(quantity.Inch) > reachIn }

// outletHidden says whether the receptacle lies behind the machine or within
// its outline, where nobody reaches it once the machine stands. The answers of
// outletPlace must be known.
func outletHidden(c *Case) bool {
	m, p := c.Machine.Space, ask.Power
	left := p.OutletFromLeft.Of(c).In(quantity.Inch)
	top := m.Height.In(quantity.Inch) + ask.Machine.RaisedBy.Of(c).In(quantity.Inch)
	return left > 0 && left < m.Width.In(quantity.Inch) && p.OutletHeight.Of(c).In(quantity.Inch) < top
}

// besideMachine moves the receptacle beside the machine: to the side where
// the cord enters, and by no more than the cord allows.
func besideMachine(c *Case) (set map[string]string, at quantity.Length) {
	entry, width := c.Machine.Power.EntryLeft.In(quantity.Inch), c.Machine.Space.Width.In(quantity.Inch)
	const beside = 6 // in, a hand's width from the machine's side
	x := -float64(beside)
	if entry > width/2 {
		x = width + beside
	}
	at = inches(x)
	text := quantity.Inch.Write(x)
	if !onNEC(c) {
		mm := float64(10 * int(at.In(quantity.Millimetre)/10))
		at, text = quantity.New(mm, quantity.Millimetre), quantity.Millimetre.Write(mm)
	}
	return map[string]string{ask.Power.OutletFromLeft.Path(): text}, at
}

// DisconnectMeans judges the means of disconnect.
var DisconnectMeans = &Check{
	ID:      "E-21",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Disconnect,
	Sources: []trade.Source{trade.NEC422_31, trade.NEC422_31Edit, {Document: "NEC", Edition: "2014", Clause: "422.31(C) exception and 422.34 (unit switch)", Mark: trade.ReadCopy}, trade.IECIsolation},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.Disconnect.Path(): "none"}, Verdict: Fix},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.Disconnect); lacks {
			return out
		}
		have := p.Disconnect.Of(c)
		found := check.Say("E-21.have", "means", check.Word(have))
		if byCord(c) {
			at := []survey.Ref{p.Disconnect}
			if have == "plug" {
				if out, lacks := outletUnplaced(c); lacks {
					return out
				}
				at = append(at, outletPlace...)
				if outletHidden(c) {
					return check.Choice(false, check.Say("E-21.behind"), check.Say("E-21.want-cord"), check.Say("E-21.beside"), at...)
				}
			}
			return check.Choice(have != "none", found, check.Say("E-21.want-cord"), check.Say("E-21.beside"), at...)
		}
		want := check.Say("E-21.want")
		switch {
		case have == "none", have == "plug":
			return check.Choice(false, found, want, check.Say("E-21.fit"), p.Disconnect)
		case have == "lockable-breaker" && onNEC(c) && largeMotor(c):
			e, known := necEdition(c)
			if !known {
				out, _ := c.Lacking(ask.Codes.Electrical)
				return out
			}
			if e == trade.NEC2014 {
				// That edition wants it in sight of a motor-operated appliance,
				// unless a unit switch with a marked off position cuts every line.
				at := []survey.Ref{p.Disconnect, ask.Codes.Electrical}
				want = check.Say("E-21.sight-2014")
				switch c.Machine.Power.UnitSwitch {
				case "yes":
					return check.Choice(true, check.Say("E-21.unit-switch"), want, nil, at...)
				case "no":
					return check.Choice(false, found, want, check.Say("E-21.fit-sight"), at...)
				}
				return check.Rule(found, want, check.Say("E-21.ask-unit"), at...)
			}
		}
		return check.Choice(true, found, want, nil, p.Disconnect)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		path := ask.Power.Disconnect.Path()
		sight := Remedy{Change: check.Say("E-21.fit-sight"), Work: check.Device, Set: map[string]string{path: "switch-in-sight"}}
		if byCord(c) {
			if _, lacks := outletUnplaced(c); lacks || !outletHidden(c) {
				return []Remedy{{Change: check.Say("E-21.use-plug"), Work: check.Adjusting, Set: map[string]string{path: "plug"}}, sight}
			}
			set, at := besideMachine(c)
			set[path] = "plug"
			return []Remedy{sight, {Change: check.Say("E-21.move-outlet", "at", at), Work: check.PipeOrWire, Set: set}}
		}
		return []Remedy{{Change: check.Say("E-21.lock-off"), Work: check.Accessory, Set: map[string]string{path: "lockable-breaker"}}, sight}
	}),
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
// ones, where the rule reaches it, unless it is known to lie on the high one.
func circuitToGround(c *Case) float64 {
	if p := ask.Power; c.Supply.Phases == 1 && p.LineToNeutral.Known(c) && !(highLeg(c) && p.OnHighLeg.Of(c) == survey.Yes) {
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
	Subject: check.GroundFault,
	Sources: []trade.Source{trade.NECGFCI2014, trade.NECGFCI2017, trade.NECGFCI2020, trade.NECGFCI2023, trade.NEC404_8, trade.IECResidual},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.HighLeg},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Codes.Electrical.Path(): "nec-2023", ask.Power.GFCI.Path(): "none"}, Verdict: Fix, Shows: "V_g = 120 V"},
	Run: onceSettled(func(c *Case) Outcome {
		if onNEC(c) {
			return runGFCI(c)
		}
		return runResidual(c)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		path := p.GFCI.Path()
		if !onNEC(c) {
			return []Remedy{{Change: check.Say("E-22.fit-rcd"), Work: check.Device, Set: map[string]string{path: "rcd-30ma"}}}
		}
		rs := []Remedy{{Change: check.Say("E-22.fit-breaker", "amps", p.Breaker.Of(c), "poles", max(lineConductors(c), p.BreakerPoles.Of(c).N())), Work: check.Device, Set: map[string]string{path: "breaker"}}}
		// A receptacle with the device in it is made to 20 A at 125 and 250 V.
		if _, lacks := outletUnplaced(c); byCord(c) && !lacks && !outletHigh(c) && p.Breaker.Of(c).In(quantity.Ampere) <= 20 && c.Supply.Phases == 1 {
			set := map[string]string{path: "receptacle"}
			change := check.Say("E-22.fit-receptacle")
			work := check.Device
			if outletHidden(c) {
				moved, at := besideMachine(c)
				moved[path] = "receptacle"
				set, change, work = moved, check.Say("E-22.fit-receptacle-at", "at", at), check.PipeOrWire
			}
			rs = append(rs, Remedy{Change: change, Work: work, Set: set})
		}
		return rs
	}),
}

// runResidual asks for a residual-current device by the IEC's rules.
func runResidual(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(p.GFCI, p.Breaker); lacks {
		return out
	}
	have := p.GFCI.Of(c)
	want := check.Say("E-22.want-rcd")
	found := check.Say("E-22.have", "device", check.Word(have))
	fine := have == "rcd-30ma"
	out := check.Choice(fine, found, want, check.Say("E-22.fit-rcd"), p.GFCI)
	switch {
	case have == "breaker" || have == "receptacle" && byCord(c):
		out = check.Rule(check.Say("E-22.unstated", "device", check.Word(have)), want, check.Say("E-22.read-rcd"), p.GFCI)
	case !fine && (!byCord(c) || p.Breaker.Of(c).In(quantity.Ampere) > 32):
		out = check.Rule(found, check.Say("E-22.want-rcd-if"), check.Say("E-22.ask-rcd"), p.GFCI, p.Breaker)
	}
	ground := 230.0
	if v, ok := voltsToGround(c); ok {
		ground = v
	}
	out.Working = []Step{entry("I_Δn", check.Say("step.residual"), check.Figure{Value: trade.RCDForIECmA, Unit: "mA"}), entry("V_g", check.Say("step.to-earth"), powerVolts(ground))}
	return out
}

// runGFCI asks for ground-fault protection by the edition of the NEC enforced.
func runGFCI(c *Case) Outcome {
	p := ask.Power
	if out, lacks := c.Lacking(ask.Codes.Electrical); lacks {
		return out
	}
	edition, _ := necEdition(c)
	if _, _, out, bad := systemsOf(c); bad {
		return out
	}
	if out, lacks := c.Lacking(p.Breaker); lacks {
		return out
	}
	ground := circuitToGround(c)
	q := trade.GFCIQuery{Edition: edition, HardWired: !byCord(c), Phases: c.Supply.Phases, Volts: nominalVolts(c), VoltsToGround: ground, Amps: p.Breaker.Of(c).In(quantity.Ampere)}
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
	if p.NearSink.Of(c) == survey.Yes {
		r = near
	}
	working := func(r trade.GFCIRuling) []Step {
		return []Step{
			editionStep(c),
			entry("V_g", check.Say("step.circuit-to-ground"), powerVolts(ground)),
			entry("I_n", check.Say("step.circuit-rating"), p.Breaker.Of(c)),
			entry("rule", check.Quote(r.Why), check.Quote(r.Answer.String())),
		}
	}
	at := []survey.Ref{p.GFCI, ask.Codes.Electrical, p.Breaker}
	if near.Answer == trade.GFCINotRequired && away.Answer == trade.GFCINotRequired {
		out := check.Choice(true, check.Say("E-22.not-required"), check.Say("E-22.as-asked", "why", check.Quote(near.Why)), nil, at...)
		out.Working = working(near)
		return out
	}
	if out, lacks := c.Lacking(p.GFCI); lacks {
		return out
	}
	have := p.GFCI.Of(c)
	inReceptacle := have == "receptacle" && byCord(c)
	if inReceptacle {
		if out, lacks := outletUnplaced(c); lacks {
			return out
		}
		at = append(at, outletPlace...)
	}
	hidden, high := inReceptacle && outletHidden(c), inReceptacle && outletHigh(c)
	protected := have == "breaker" || inReceptacle && !hidden && !high
	if !protected && near.Answer != away.Answer {
		if out, lacks := c.Lacking(p.NearSink); lacks {
			return out
		}
		at = append(at, p.NearSink)
	}
	found := check.Say("E-22.have", "device", check.Word(have))
	switch {
	case hidden:
		found = check.Say("E-22.hidden")
	case high:
		found = check.Say("E-22.high", "height", p.OutletHeight.Of(c))
	case have == "rcd-30ma" || have == "rcd-other":
		found = check.Say("E-22.no-class-a", "device", check.Word(have))
	}
	why := check.Quote(r.Why)
	var out Outcome
	switch {
	case protected:
		out = check.Choice(true, found, check.Say("E-22.want"), nil, at...)
	case r.Answer == trade.GFCIRequired:
		out = check.Choice(false, found, check.Say("E-22.want-why", "why", why), check.Say("E-22.fit"), at...)
	case r.Answer == trade.GFCIAskAHJ:
		out = check.Rule(found, check.Say("E-22.want-or-word", "why", why), check.Say("E-22.ask"), at...)
	default:
		out = check.Choice(true, found, check.Say("E-22.as-asked", "why", why), nil, at...)
	}
	out.Working = working(r)
	return out
}

// ResidualDevice judges the residual-current device's type and what the
// earthing system asks of it.
var ResidualDevice = &Check{
	ID:      "E-33",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.GroundFault,
	Sources: []trade.Source{{Document: "BS 7671", Edition: "2018 with amendment 2", Clause: "531.3.3", Mark: trade.FromMemory}, {Document: "IEC", Clause: "60364-4-41 clauses 411.4 to 411.6", Mark: trade.FromMemory}},
	After:   []*Check{GroundFault},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.Earthing.Path(): "TT", ask.Power.GFCI.Path(): "none"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if onNEC(c) {
			return check.Say("iec.only")
		}
		return check.Phrase{}
	},
	Run: onceSettled(func(c *Case) Outcome {
		p := ask.Power
		if out, lacks := c.Lacking(p.GFCI); lacks {
			return out
		}
		at := []survey.Ref{p.RCDType, p.Earthing, p.GFCI}
		kind, earthing := p.RCDType.Of(c), p.Earthing.Of(c)
		none := p.GFCI.Of(c) == "none"
		have := check.Say("E-33.have", "type", check.Word(kind), "earthing", check.Word(earthing))
		switch {
		case earthing == "":
			have = check.Say("E-33.no-earthing")
		case none:
			have = check.Say("E-33.no-device", "earthing", check.Word(earthing))
		case kind == "":
			have = check.Say("E-33.no-type", "earthing", check.Word(earthing))
		}
		want := check.Say("E-33.want")
		switch {
		case none && earthing == "TT":
			return check.Choice(false, have, want, check.Say("E-33.fit"), at...)
		case earthing == "":
			return check.Rule(have, want, check.Say("E-33.ask-earthing"), at...)
		case earthing == "IT":
			return check.Rule(have, want, check.Say("E-33.ask-it"), at...)
		case none:
			return check.Choice(true, have, want, nil, at...)
		case kind == "":
			return check.Rule(have, want, check.Say("E-33.ask-type"), at...)
		case kind == "AC":
			return check.Rule(have, want, check.Say("E-33.type-ac"), at...)
		}
		return check.Choice(true, have, want, nil, at...)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		p := ask.Power
		return []Remedy{{Change: check.Say("E-33.fit"), Work: check.Device, Set: map[string]string{p.GFCI.Path(): "rcd-30ma", p.RCDType.Path(): "A"}}}
	}),
}
