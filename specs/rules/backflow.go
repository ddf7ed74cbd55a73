package rules

import (
	"math"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// inletCheckValve sees the check valve that the sheet asks for.
func inletCheckValve(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().CheckValve.Path(): "no"}, Verdict: Fix},
		Skip:    line.needs(func(i *specs.Inlet) bool { return i.CheckValve }, "sheet.check-valve"),
		Run: func(c *Case) Outcome {
			out := yes(c, line.ask().CheckValve, check.Say("check-valve.fit", "line", line.word()))
			if out.Verdict == Fix {
				out.Have = check.FactOf(check.Say("check-valve.none", "hot", pressureAt(c, hotLine), "cold", pressureAt(c, coldLine)))
			}
			return c.OnSheet(out, line.at("check_valve"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return add(c, k, line.ask().CheckValve, check.Fitting, check.Say("check-valve.fit", "line", line.word()))
		},
	}
}

// pressureAt is a line's static pressure at the machine, or a phrase that it isn't known.
func pressureAt(c *Case, l waterLine) any {
	if p := l.static(c); p.Known() {
		return p
	}
	return check.Say("line.not-known")
}

// yes judges a question that wants yes.
func yes(c *Case, a survey.Answer[survey.YesNo], action check.Phrase) Outcome {
	if out, lacks := c.Lacking(a); lacks {
		return out
	}
	return check.Choice(a.Of(c) == survey.Yes, a.Of(c), check.Say("yes.want"), action, a)
}

// add offers the thing that a yes-or-no answer asks for.
func add(c *Case, k *Check, a survey.Answer[survey.YesNo], work check.Work, change check.Phrase) []Remedy {
	return working(work, c.Offer(k, a, []string{"yes"}, nil, func(any) any { return change }))
}

// PressureBalance compares hot and cold pressure at the mixing valve.
var PressureBalance = &Check{
	ID:      "W-27",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.BothLines,
	Sources: []trade.Source{trade.PressureDiff},
	After:   []*Check{ColdStaticMax, HotStaticMax, ColdBuilding, HotBuilding},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Static.Path(): "60 ± 0 psi", ask.Water.Hot.Static.Path(): "45 ± 0 psi", ask.Water.Cold.Flowing.Path(): "unknown", ask.Water.Cold.Regulator.Path(): "0 psi", ask.Water.Hot.Regulator.Path(): "0 psi"}, Verdict: Confirm, Shows: "δ = 25.0 %"},
	Skip:    skipBalance,
	Run:     runBalance,
}

func skipBalance(c *Case) check.Phrase {
	if !c.Machine.Water.MixValve {
		return check.Say("W-27.no-mixing")
	}
	return check.Phrase{}
}

func runBalance(c *Case) Outcome {
	if out, lacks := c.Lacking(ask.Water.Cold.Static, ask.Water.Hot.Static); lacks {
		return out
	}
	at := []survey.Ref{ask.Water.Cold.Static, ask.Water.Hot.Static}
	cold, hot := coldLine.static(c), hotLine.static(c)
	apart := trade.PressureImbalance(hot.In(quantity.PSI), cold.In(quantity.PSI))
	if math.IsNaN(apart) {
		return check.Rule(check.Say("W-27.both", "hot", hot, "cold", cold), check.Say("W-27.above-zero"), check.Say("W-27.read-again"), at...)
	}
	limit := check.Share(trade.PressureImbalanceLimit)
	steps := []Step{entry("p_c", check.Say("W-27.step-cold"), cold), entry("p_h", check.Say("W-27.step-hot"), hot),
		entry("δ", check.Say("W-27.step-apart"), check.Share(apart)), entry("δ_max", check.Say("W-27.step-level"), limit)}
	name := "W-27.apart"
	if c1, c2, both := bothArrive(c); both {
		flowing := trade.PressureImbalance(c2.In(quantity.PSI), c1.In(quantity.PSI))
		steps = append(steps, entry("p_cf", check.Say("W-27.step-cold-flowing"), c1), entry("p_hf", check.Say("W-27.step-hot-flowing"), c2), entry("δ_f", check.Say("W-27.step-apart-flowing"), check.Share(flowing)))
		if flowing > apart {
			name, apart, cold, hot = "W-27.apart-flowing", flowing, c1, c2
			at = append(at, ask.Water.Cold.Flowing, ask.Water.Hot.Flowing)
		}
	}
	over := apart > trade.PressureImbalanceLimit
	out := check.Choice(!over, check.Say(name, "hot", hot, "cold", cold, "apart", check.Share(apart)), check.Say("W-27.want", "level", limit), check.Phrase{}, at...)
	out.Margin = Margin{Gap: check.Share(math.Abs(trade.PressureImbalanceLimit - apart)), Side: check.Say("margin.below-flag"), Value: trade.PressureImbalanceLimit - apart}
	if over {
		out.Verdict = Confirm // a level to flag, no limit
		out.Margin.Side = check.Say("margin.over-flag")
		higher := coldLine
		if hot.Cmp(cold) > 0 {
			higher = hotLine
		}
		out.Action = check.Say(name+"-ask", "line", higher.word())
	}
	out.Working = steps
	if out.Verdict == OK && closedBar(c) {
		out.Verdict, out.Action = Confirm, check.Say("W-27.read-evening")
		out.At = append(out.At, ask.Water.ReadBusy)
	}
	for _, l := range waterLines {
		if out.Verdict != OK && l.failed(c) {
			set, _ := l.tag(c)
			out.Action = check.Say("line.regulator-failed", "line", l.word(), "static", l.ask().Static.Of(c), "set", set)
		}
		out = heeding(c, out, l.doubt)
	}
	return out
}

// bothArrive is what is left of both pressures while the machine draws, where
// the readings say and both are above 0.
func bothArrive(c *Case) (cold, hot quantity.Pressure, ok bool) {
	for _, l := range waterLines {
		if _, lacks := c.Lacking(flowAnswers[l]...); lacks {
			return cold, hot, false
		}
	}
	a, _, okCold := coldLine.arrive(c)
	b, _, okHot := hotLine.arrive(c)
	return a.left, b.left, okCold && okHot && a.left.Base() > 0 && b.left.Base() > 0
}

// backflowStandards gives the standard of each device of the questionnaire.
var backflowStandards = map[string]string{
	"air-gap": "ASME A112.1.2", "atmospheric-vacuum-breaker": "ASSE 1001", "hose-vacuum-breaker": "ASSE 1011",
	"pressure-vacuum-breaker": "ASSE 1020", "spill-resistant-vacuum-breaker": "ASSE 1056", "reduced-pressure": "ASSE 1013",
	"double-check": "ASSE 1015", "dual-check": "ASSE 1024", "intermediate-vent": "ASSE 1012",
}

// placeOf is what a device of the questionnaire asks of its place; nothing of
// a device that isn't one.
func placeOf(device string) trade.BackflowPlace {
	p, err := trade.FindBackflowPlace(backflowStandards[device])
	if err != nil {
		return trade.BackflowPlace{}
	}
	return p
}

var (
	backflowHeight = trade.Source{Document: "ASSE", Clause: "1020 and 1056, 12 in above the highest point downstream", Mark: trade.FromMemory}
	upcBackflow    = trade.Source{Document: "UPC", Clause: "603.2 and Table 603.2", Mark: trade.FromMemory}
)

// backflowDevice sees that a line is protected against backflow from the
// machine, by a device whose place lets it work. A check valve never counts.
func backflowDevice(id string, line waterLine) *Check {
	a := line.ask()
	return &Check{
		ID:       id,
		Trade:    Plumber,
		Stage:    RoughIn,
		Subject:  line.subject(),
		Sources:  []trade.Source{trade.IPC409_2, trade.ASSE1004, trade.IPC608_1, upcBackflow, backflowHeight},
		Example:  Example{Machine: "avocet-r36", Given: map[string]string{a.Backflow.Path(): "check-valve"}, Verdict: Fix},
		Skip:     line.skip,
		Run:      func(c *Case) Outcome { return runBackflow(c, line) },
		Remedies: func(c *Case, k *Check) []Remedy { return backflowRemedies(c, k, line) },
	}
}

func runBackflow(c *Case, line waterLine) Outcome {
	a := line.ask()
	if c.Machine.Water.AirGap == "verified" {
		out := check.Choice(true, check.Say("backflow.built-in"), check.Say("backflow.want-more"), check.Phrase{}, a.Backflow)
		return c.OnSheet(out, "water.built_in_air_gap")
	}
	if out, lacks := c.Lacking(a.Backflow); lacks {
		return out
	}
	want, fit := check.Say("backflow.want"), check.Say("backflow.fit", "line", line.word())
	answer := a.Backflow.Of(c)
	switch answer {
	case "none":
		return check.Choice(false, check.Say("backflow.none"), want, fit, a.Backflow)
	case "check-valve":
		return check.Choice(false, check.Say("backflow.check-valve"), want, fit, a.Backflow)
	}
	d, err := trade.FindBackflowDevice(backflowStandards[answer])
	if err != nil {
		return check.Rule(check.Word(answer), want, check.Say("backflow.accepts"), a.Backflow)
	}
	name := check.Say("backflow.device", "name", check.Word(answer), "standard", check.Quote(d.Standard))
	var out Outcome
	switch {
	case !d.HighHazard:
		out = check.Rule(check.Say("backflow.low-hazard", "device", name), want, check.Say("backflow.ask-low-hazard"), a.Backflow)
	case !d.ContinuousPressure && answer != "air-gap":
		out = check.Rule(check.Say("backflow.no-continuous", "device", name), want, check.Say("backflow.ask-continuous"), a.Backflow)
	default:
		out = check.Choice(true, name, want, check.Phrase{}, a.Backflow)
	}
	out.Working = []Step{
		entry("device", check.Say("backflow.step-label"), name),
		entry("hazard", check.Say("backflow.step-hazard", "source", ownCode(c, d.Source, upcBackflow)), pick(d.HighHazard, check.Say("backflow.high-and-low"), check.Say("backflow.low"))),
		entry("list", check.Say("backflow.step-list", "source", trade.ASSE1004), pick(d.CommercialWasher, check.Say("backflow.listed"), check.Say("backflow.unlisted"))),
	}
	if d.Testable {
		out.Working = append(out.Working, entry("test", check.Say("backflow.step-test"), check.Say("backflow.when-tested")))
	}
	placed := backflowPlace(c, line, name)
	placed.Working = append(out.Working, placed.Working...)
	out.Working = placed.Working
	if placed.Verdict < out.Verdict {
		return placed
	}
	if out.Verdict == OK {
		out.Margin = placed.Margin
	}
	return out
}

// A deviceSite is where a backflow device stands: the answers about its place.
type deviceSite struct {
	device survey.Answer[string]
	above  survey.Answer[quantity.Length]
	spill  survey.Answer[survey.YesNo]
	lead   check.Phrase // what to do where its spillage can't run away
}

// site is where the line's backflow device stands.
func (l waterLine) site() deviceSite {
	a := l.ask()
	return deviceSite{a.Backflow, a.DeviceAbove, a.Spill, check.Say("backflow.spill-fit", "line", l.word())}
}

// backflowPlace judges where a line's device stands: OK where its place lets it work.
func backflowPlace(c *Case, line waterLine, name check.Phrase) Outcome {
	a := line.ask()
	answer := a.Backflow.Of(c)
	ok := check.Choice(true, name, check.Say("backflow.want"), check.Phrase{}, a.Backflow)
	if placeOf(answer).TankAndPump {
		// Behind an air gap there is no pressure.
		want, fit := check.Say("backflow.tank-want"), check.Say("backflow.tank-fit", "line", line.word())
		switch a.BreakTank.Of(c) {
		case survey.Yes:
			return ok
		case survey.No:
			return check.Choice(false, check.Say("backflow.tank-none", "device", name), want, fit, a.Backflow, a.BreakTank)
		}
		return check.Rule(check.Say("backflow.tank-unknown", "device", name), want, check.Say("backflow.tank-ask", "line", line.word()), a.Backflow, a.BreakTank)
	}
	height := devicesHeight(c, line.site(), name)
	// A booster's water swells behind the device and pushes back; so does the
	// other line where hot and cold meet without a check valve between.
	crossed := c.Machine.Water.MixValve && a.CheckValve.Of(c) != survey.Yes
	if height.Verdict == OK && placeOf(answer).AboveOutletIn > 0 && (crossed || line == hotLine && c.Machine.Rinse.BoosterRise.Known()) {
		o := check.Rule(check.Say("backflow.pushed", "device", name), check.Say("backflow.want"), check.Say("backflow.ask-pushed"), a.Backflow)
		if crossed {
			o = check.Rule(check.Say("backflow.crossed", "device", name), check.Say("backflow.want"), check.Say("backflow.ask-crossed", "line", line.word()), a.Backflow, a.CheckValve)
		}
		o.Working = height.Working
		height = o
	}
	out := graver(height, devicesSpill(c, line.site(), name))
	out.Working = height.Working
	return out
}

// devicesHeight judges a device's height above what it feeds.
func devicesHeight(c *Case, d deviceSite, name check.Phrase) Outcome {
	ok := check.Choice(true, name, check.Say("backflow.want"), check.Phrase{}, d.device)
	p := placeOf(d.device.Of(c))
	if p.AboveOutletIn == 0 {
		return ok
	}
	least, high, above := quantity.New(p.AboveOutletIn, quantity.Inch), d.above.Of(c), check.Say("backflow.above-want")
	out := check.Rule(name, check.Fact{Value: least, Bound: check.AtLeast}.In(above), check.Say("backflow.above-ask", "question", check.Question(d.above.Path()), "least", least), d.device, d.above)
	if high.Known() {
		out = check.From(high, least, check.Say("backflow.raise", "least", least), d.device, d.above)
		out.Have, out.Want = out.Have.In(check.Say("backflow.above", "device", name)), out.Want.In(above)
		if out.Verdict == OK {
			out.Have, out.Want = ok.Have, ok.Want
		}
	}
	out.Working = []Step{entry("h_min", check.Say("backflow.step-above"), least)}
	return out
}

// devicesSpill judges whether what a device spills may run away.
func devicesSpill(c *Case, d deviceSite, name check.Phrase) Outcome {
	want := check.Say("backflow.spill-want")
	if !placeOf(d.device.Of(c)).Spills || d.spill.Of(c) == survey.Yes {
		return check.Choice(true, name, check.Say("backflow.want"), check.Phrase{}, d.device)
	}
	if d.spill.Of(c) == survey.No {
		return check.Choice(false, check.Say("backflow.spill-none", "device", name), want, d.lead, d.device, d.spill)
	}
	return check.Rule(check.Say("backflow.spill-unknown", "device", name), want, check.Say("backflow.spill-ask", "question", check.Question(d.spill.Path())), d.device, d.spill)
}

// backflowRemedies offers what the present device's place lacks, else another device.
func backflowRemedies(c *Case, k *Check, line waterLine) []Remedy {
	a := line.ask()
	answer := a.Backflow.Of(c)
	var rs []Remedy
	if answer == "air-gap" {
		rs = append(rs, add(c, k, a.BreakTank, check.PipeOrWire, check.Say("backflow.tank-way", "line", line.word()))...)
	}
	set := map[string]string{}
	p := placeOf(answer)
	high := writeLength(c, p.AboveOutletIn+2)
	name, work := "backflow.raise-to", check.Fitting
	if h := a.DeviceAbove.Of(c); p.AboveOutletIn > 0 && !(h.Known() && h.In(quantity.Inch) >= p.AboveOutletIn) {
		set[a.DeviceAbove.Path()] = high
	} else {
		name, work = "backflow.spill-fit", check.Accessory
	}
	if p.Spills {
		set[a.Spill.Path()] = "yes"
	}
	if len(set) > 0 {
		rs = append(rs, c.OfferFirst(k, []Remedy{{Change: check.Say(name, "line", line.word(), "height", quantity.MustParse[quantity.Length](high)), Work: work, Set: set}})...)
	}
	for _, d := range []struct {
		answer  string
		aboveIn float64
		work    check.Work
	}{{"reduced-pressure", 0, check.Fitting + check.Accessory}, {"spill-resistant-vacuum-breaker", trade.PressureBreakerIn + 2, check.Fitting + 2*check.Accessory}} {
		lossPSI := usualLossPSI[d.answer]
		if d.answer == answer {
			continue
		}
		set := map[string]string{a.Backflow.Path(): d.answer, a.Spill.Path(): "yes"}
		var way any = check.Say("backflow.way-"+d.answer, "line", line.word(), "height", quantity.New(d.aboveIn, quantity.Inch))
		if d.aboveIn > 0 {
			set[a.DeviceAbove.Path()] = writeLength(c, d.aboveIn)
		}
		if loss := a.DeviceLoss.Of(c); loss.Known() {
			more := max(0, lossPSI-leastLossPSI(answer))
			set[a.DeviceLoss.Path()] = lossText(loss, more)
			way = check.Say("backflow.with-loss", "way", way, "loss", psi(lossPSI))
		}
		rs = append(rs, c.OfferFirst(k, []Remedy{{Change: way, Work: d.work, Set: set}})...)
	}
	return rs
}

// usualLossPSI is what a device is taken to lose until its own curve is at
// hand. Common practice, no source.
var usualLossPSI = map[string]float64{"reduced-pressure": 12, "spill-resistant-vacuum-breaker": 5, "pressure-vacuum-breaker": 5}

// lossText writes a loss of pressure increased by some psi, in the loss's own unit.
func lossText(loss quantity.Pressure, morePSI float64) string {
	if writtenIn(loss, "psi") {
		return quantity.PSI.Write(loss.In(quantity.PSI) + morePSI)
	}
	return quantity.Kilopascal.Write(math.Ceil(loss.In(quantity.Kilopascal) + psi(morePSI).In(quantity.Kilopascal)))
}

// ThermalExpansion sees that a closed system has room for water that expands.
var ThermalExpansion = &Check{
	ID:      "W-30",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.IPC607_3, upcExpansion, trade.IAPWSIF97},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Closed.Path(): "yes", ask.Water.Expansion.Path(): "no", ask.Heater.Storage.Path(): "40 gal", ask.Heater.SetPoint.Path(): "140 °F", ask.Water.Cold.Winter.Path(): "90 ± 0 °F"}, Verdict: Fix, Shows: "ΔV = 0.48 gal"},
	Skip:    hotLine.skip,
	Run: func(c *Case) Outcome {
		code, h := ask.Codes.Plumbing.Of(c), ask.Heater
		tankless := h.Kind.Of(c) == "instantaneous" && !(h.Storage.Of(c).In(quantity.Gallon) > 0)
		alone := tankless && h.Storage.Known(c)
		heater := trade.StorageHeater
		if tankless {
			heater = trade.TanklessHeater
		}
		wanted := trade.NeedsExpansionControl(drainFamily(c), heater)
		if alone && !wanted && code == "ipc" {
			return check.Choice(true, check.Say("W-30.tankless"), check.Say("W-30.want-storage"), check.Phrase{}, h.Kind)
		}
		if out, lacks := c.Lacking(ask.Water.Closed); lacks {
			return out
		}
		if ask.Water.Closed.Of(c) != survey.Yes {
			return check.Choice(true, check.Say("W-30.open"), check.Say("W-30.want"), check.Phrase{}, ask.Water.Closed)
		}
		out := yes(c, ask.Water.Expansion, check.Say("W-30.fit"))
		if out.Verdict == Missing {
			return out
		}
		out.At = []survey.Ref{ask.Water.Closed, ask.Water.Expansion}
		if !wanted && !alone && out.Verdict == Fix {
			out, _ = c.Lacking(h.Storage) // a buffer tank would count
			return out
		}
		if !wanted && out.Verdict == Fix {
			out.Verdict, out.Action = Confirm, check.Say("W-30.ask-tankless")
		}
		cold := ask.Water.Cold.Winter.Of(c)
		if grows := trade.ExpansionGal(h.Storage.Of(c).In(quantity.Gallon), cold.In(quantity.Fahrenheit), h.SetPoint.Of(c).In(quantity.Fahrenheit)); grows > 0 {
			out.Working = []Step{entry("V", check.Say("W-30.storage"), h.Storage.Of(c)), entry("t", check.Say("W-30.warms"), check.Say("W-30.from-to", "cold", cold, "hot", h.SetPoint.Of(c))),
				entry("ΔV", check.Say("W-30.grows"), check.Figure{Value: grows, Decimals: 2, Unit: "gal"})}
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return add(c, k, ask.Water.Expansion, check.Fitting, check.Say("W-30.tank"))
	},
}

// upcExpansion is quoted in an inspectors' forum from the 2015 edition:
// "independent of the type of water heater used".
var upcExpansion = trade.Source{Document: "UPC", Edition: "2015 and later", Clause: "608.3", Mark: trade.ReadCopy}

// HammerArrester sees that quick-closing valves have arresters.
var HammerArrester = &Check{
	ID:      "W-31",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.BothLines,
	Sources: []trade.Source{trade.IPC604_9, {Document: "UPC", Clause: "609.10", Mark: trade.FromMemory}, sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Arrester.Path(): "no"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if !c.Machine.Water.QuickValves {
			return check.Say("W-31.slow")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		return yes(c, ask.Water.Arrester, check.Say("W-31.fit", "standard", check.Quote(trade.WaterHammerArrester)))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return add(c, k, ask.Water.Arrester, check.Fitting, check.Say("W-31.fit", "standard", check.Quote(trade.WaterHammerArrester)))
	},
}

// accessPractice is the source of shut-off valves and hoses.
var accessPractice = trade.Source{Document: "Shut-off valves and hoses", Mark: trade.CommonPractice}

// supplyShutOff sees that a line can be shut off at the machine.
func supplyShutOff(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{accessPractice},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().ShutOff.Path(): "no"}, Verdict: Fix},
		Skip:    line.skip,
		Run: func(c *Case) Outcome {
			return yes(c, line.ask().ShutOff, check.Say("shut-off.fit", "line", line.word()))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return add(c, k, line.ask().ShutOff, check.Fitting, check.Say("shut-off.fit", "line", line.word()))
		},
	}
}

// supplyThread compares the connection's thread with the machine's.
func supplyThread(id string, line waterLine) *Check {
	a := line.ask()
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet, trade.HoseThread},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{a.Thread.Path(): "3/4 NPT"}, Verdict: Fix},
		Skip:    line.needs(func(i *specs.Inlet) bool { return i.Connection != "" }, "sheet.thread"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(a.Thread); lacks {
				return out
			}
			_, inlet := line.of(c)
			wants := check.Word(inlet.Connection)
			have, action := any(check.Word(a.Thread.Of(c))), check.Say("thread.end-or-adapt", "line", line.word(), "thread", wants, "have", check.Word(a.Thread.Of(c)))
			if a.Thread.Of(c) == "none" {
				have, action = check.Say("thread.none"), check.Say("thread.bring", "line", line.word(), "thread", wants)
			}
			return c.OnSheet(check.Choice(a.Thread.Of(c) == inlet.Connection, have, wants, action, a.Thread), line.at("connection"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			name := "thread.end"
			if a.Thread.Of(c) == "none" {
				name = "thread.bring"
			}
			return working(check.Fitting, c.Offer(k, a.Thread, []string{inlet.Connection}, nil, func(v any) any {
				return check.Say(name, "line", line.word(), "thread", v)
			}))
		},
	}
}

// supplyHose sees that the machine's hose reaches its connection.
func supplyHose(id string, line waterLine) *Check {
	a := line.ask()
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{a.HoseRun.Path(): "9 ft"}, Verdict: Fix},
		Skip:    line.needs(func(i *specs.Inlet) bool { return i.HoseLength.Known() }, "sheet.hose"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(a.HoseRun); lacks {
				return out
			}
			_, inlet := line.of(c)
			out := check.UpTo(a.HoseRun.Of(c), inlet.HoseLength, check.Say("hose.nearer", "line", line.word(), "most", inlet.HoseLength), a.HoseRun)
			return c.OnSheet(out, line.at("hose_length"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			lengths := check.Ladder(math.Floor(inlet.HoseLength.In(quantity.Inch)/6)*6, 12, 6, quantity.Inch)
			if run := a.HoseRun.Of(c); !writtenIn(run, "in") && !writtenIn(run, "ft") {
				lengths = check.Ladder(math.Floor(inlet.HoseLength.In(quantity.Millimetre)/100)*100, 300, 100, quantity.Millimetre)
			}
			return working(check.PipeOrWire, c.Offer(k, a.HoseRun, lengths, nil, func(v any) any {
				return check.Say("hose.move", "line", line.word(), "most", v)
			}))
		},
	}
}
