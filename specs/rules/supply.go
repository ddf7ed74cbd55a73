package rules

import (
	"errors"
	"firstfill/specs/check"
	"firstfill/survey"
	"math"
	"slices"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// staticMax compares a line's static pressure with the machine's limit.
func staticMax(id string, line waterLine, after ...*Check) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   string(line) + " static pressure against the machine's maximum",
		Why:     "Above it the machine's valves and hoses may leak or burst when nothing runs.",
		Formula: "p = the static pressure in psi, or the setting of a regulator on the line when that is lower",
		Sources: []trade.Source{sheet},
		After:   after,
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Static.Path(): "62 psi", line.ask().Regulator.Path(): "0 psi"}, Verdict: OK, Shows: "p = 62 psi (427 kPa)"},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.StaticMax.Known() }, "maximum of static pressure"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(line.ask().Static); lacks {
				return out
			}
			found, inlet := line.of(c)
			have := regulated(found.Static.Of(c), found.Regulator.Of(c))
			out := check.UpTo(have, inlet.StaticMax,
				check.Say("static-max.do", "line", check.Quote(line), "staticmax", inlet.StaticMax), line.ask().Static)
			out.Working = []Step{{"p", check.Say("static-max.step"), have}, {"p_max", check.Say("static-max.step2"), inlet.StaticMax}}
			return c.OnSheet(out, line.at("static_pressure_max"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			limit := inlet.StaticMax.In(quantity.PSI)
			top := math.Floor(min(limit, trade.MaxStaticPSI)/5) * 5
			return c.Offer(k, line.ask().Regulator, check.Ladder(top, 20, 5, quantity.PSI), nil, func(v any) any {
				return check.Say("static-max.way", "line", check.Quote(line), "psi", written(quantity.PSI, v))
			})
		},
	}
}

// buildingPressure compares a line's static pressure with the building limit,
// whatever regulator the machine's own line has.
func buildingPressure(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   string(line) + " static pressure against the building limit",
		Why:     "Above the limit the plumbing code asks for a pressure-reducing valve for the building, whatever the machine itself bears.",
		Sources: []trade.Source{trade.IPC604_8, trade.UPC608_2},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Static.Path(): "84 ± 0 psi", ask.Codes.PressureLimit.Path(): "unknown"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(line.ask().Static); lacks {
				return out
			}
			found, _ := line.of(c)
			limit, meaning := ask.Codes.PressureLimit.Of(c), any(check.Say("building-pressure.meaning"))
			if !limit.Known() {
				limit, meaning = psi(trade.MaxStaticPSI), check.Say("building-pressure.meaning2")
			}
			out := check.UpTo(found.Static.Of(c), limit,
				check.Say("building-pressure.do", "limit", limit),
				line.ask().Static)
			out.Working = []Step{{"p", check.Say("building-pressure.step"), found.Static.Of(c)}, {"p_max", meaning, limit}}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			limit := trade.MaxStaticPSI
			if l := ask.Codes.PressureLimit.Of(c); l.Known() {
				limit = l.In(quantity.PSI)
			}
			var rs []Remedy
			for s := math.Floor(min(limit, 200)/5) * 5; s >= 40; s -= 5 {
				rs = append(rs, Remedy{
					Change: check.Say("building-pressure.way", "s", psi(s)),
					Set:    reducedTo(c, s),
				})
			}
			return c.OfferFirst(k, rs)
		},
	}
}

// reducedTo is what the questionnaire would hold behind a pressure-reducing
// valve on the service. The pipes lose as much at the flow read as before.
func reducedTo(c *Case, setting float64) map[string]string {
	set := map[string]string{}
	for _, l := range waterLines {
		found, inlet := l.of(c)
		static := found.Static.Of(c).In(quantity.PSI)
		if !inlet.Used || !(static > setting) {
			continue
		}
		set[l.ask().Static.Path()] = quantity.PSI.Write(setting)
		if found.Flowing.Of(c).Known() {
			set[l.ask().Flowing.Path()] = quantity.PSI.Write(max(0, math.Floor(10*(found.Flowing.Of(c).In(quantity.PSI)-(static-setting)))/10))
		}
	}
	if c.Machine.Water.Hot.Used {
		set[ask.Water.Closed.Path()], set[ask.Water.Expansion.Path()] = "yes", "yes"
	}
	return set
}

// A pressureLoss is what the run from where the pressure was read to the
// machine's inlet takes away, in psi.
type pressureLoss struct {
	fittingsFt, lengthFt           float64
	friction, rise, devices, darcy float64
	coefficient, tempF             float64
	fittingSource                  trade.Source
}

func (p pressureLoss) total() float64 { return p.friction + p.rise + p.devices }

// supplyFittings are the fittings that the questionnaire counts.
var supplyFittings = []struct {
	kind trade.Fitting
	name string
}{
	{trade.Elbow90, "elbows"}, {trade.Elbow45, "elbows_45"}, {trade.TeeRun, "tees_run"}, {trade.TeeBranch, "tees_branch"}, {trade.BallValve, "valves"},
}

// equivalentFt is the length of tube that loses as much as a fitting: from the
// table of the tube's own joints, else by bores.
func equivalentFt(t trade.Tube, kind trade.Fitting) (float64, trade.Source) {
	joints := map[trade.Material]trade.Joint{
		trade.CopperK: trade.Soldered, trade.CopperL: trade.Soldered, trade.CopperM: trade.Soldered,
		trade.Steel40: trade.Threaded, trade.PVC40: trade.PVCSlips,
	}
	if j, ok := joints[t.Material]; ok {
		ft, src, err := trade.EquivalentFt(j, kind, t.Nominal)
		if err == nil {
			return ft, src
		}
	}
	ratio, src, err := trade.LengthOverDiameter(kind)
	if err != nil {
		panic(err) // the table holds every kind of supplyFittings
	}
	return trade.EquivalentFtLD(ratio, t.ID), src
}

// loss works out the losses of the line's run at a flow.
func (l waterLine) loss(c *Case, t trade.Tube, flowGPM float64) (p pressureLoss, err error) {
	found, _ := l.of(c)
	counts := []int{found.Elbows.Of(c).N(), found.Elbows45.Of(c).N(), found.TeesRun.Of(c).N(), found.TeesBranch.Of(c).N(), found.Valves.Of(c).N()}
	for i, f := range supplyFittings {
		ft, src := equivalentFt(t, f.kind)
		p.fittingsFt += float64(counts[i]) * ft
		if i == 0 {
			p.fittingSource = src
		}
	}
	p.lengthFt = found.RunLength.Of(c).In(quantity.Foot) + p.fittingsFt
	_, p.coefficient, _, err = trade.CValue(t.Material)
	if err != nil {
		return p, err
	}
	rough, err := trade.RoughnessMM(t.Material)
	if err != nil {
		return p, err
	}
	p.tempF = found.Temperature.Of(c).In(quantity.Fahrenheit)
	if !found.Temperature.Of(c).Known() {
		p.tempF = map[waterLine]float64{coldLine: 60, hotLine: 140}[l]
	}
	p.friction = trade.HazenWilliamsPSI(flowGPM, p.coefficient, t.ID, p.lengthFt)
	p.tempF = min(max(p.tempF, 33), 211) // liquid water, for the cross-check alone
	p.darcy = trade.DarcyPSI(flowGPM, t.ID, p.lengthFt, rough, p.tempF)
	p.rise = trade.ElevationPSI(found.Rise.Of(c).In(quantity.Foot))
	p.devices = found.DeviceLoss.Of(c).In(quantity.PSI)
	if math.IsNaN(p.total()) {
		return p, errors.New("the flow or the pipe is outside the formula's range")
	}
	return p, nil
}

// contradictionPSI is how far the flowing pressure may read above the static
// one before the readings contradict each other: two gauges off by 2 psi each.
const contradictionPSI = 2 * trade.GaugeAccuracyPSI

// left is the pressure left where it was read, at a flow, with how it was got.
func (l waterLine) left(c *Case, flowGPM float64) (pressure float64, steps []Step, extrapolated bool) {
	found, _ := l.of(c)
	test := trade.FlowTest{StaticPSI: found.Static.Of(c).In(quantity.PSI), ResidualPSI: found.Flowing.Of(c).In(quantity.PSI), FlowGPM: found.Flow.Of(c).In(quantity.GPM)}
	pressure = min(test.StaticPSI, test.ResidualPSI)
	if test.ResidualPSI < test.StaticPSI {
		var err error
		if pressure, err = test.ResidualAt(flowGPM); err != nil {
			pressure = 0 // the flow would draw it to nothing
		}
	}
	steps = []Step{
		{"Q", check.Say("W-21.step2"), quantity.New(flowGPM, quantity.GPM)},
		{"p_s", check.Say("left.step"), found.Static.Of(c)},
		{"p_1", check.Say("left.step2"), found.Flowing.Of(c)},
		{"Q_1", check.Say("left.step3"), found.Flow.Of(c)},
		{"p_Q", check.Say("left.step4"), inPSI(pressure)},
	}
	extrapolated = test.Caution(flowGPM).TooFar
	if r := found.Regulator.Of(c).In(quantity.PSI); r > 0 {
		if r >= test.StaticPSI-contradictionPSI {
			// Read behind the regulator: the curve doesn't hold across it.
			extrapolated = flowGPM > test.FlowGPM
		}
		pressure = min(pressure, r)
		steps = append(steps, Step{"p_r", check.Say("left.step5"), inPSI(pressure)})
	}
	return pressure, steps, extrapolated
}

// inletPressure works out the pressure left at the machine's inlet while it fills.
func inletPressure(id string, line waterLine, after ...*Check) *Check {
	l := line.ask()
	needed := []survey.Ref{l.Static, l.Flowing, l.Flow, l.Regulator, l.Material, l.Size, l.RunLength, l.Elbows, l.Elbows45, l.TeesRun, l.TeesBranch, l.Valves, l.Rise, l.DeviceLoss}
	return &Check{
		ID:    id,
		Trade: Plumber,
		Stage: RoughIn,
		Title: string(line) + " pressure left at the machine while it fills",
		Why:   "Static pressure says nothing about what is left while water runs; outside its range the machine fills and rinses too slowly or too hard.",
		Formula: "p = p_s − (p_s − p_1)(Q/Q_1)^1.852 − p_f − p_z − p_d, with p_f = 4.52 Q^1.852 L / (C^1.852 d^4.8704), " +
			"p_z = 0.433 z; pressures in psi, Q in gpm, d in in, L (pipe and fittings) and z in ft",
		Range: "the curve of both readings holds for plain pipe, not across a regulator, and to 1.5 times the flow read; friction for turbulent water near 60 °F with the cautious C, crossed by Darcy-Weisbach at the water's own temperature; insert fittings of plastic tube are narrower than the tube and lose more",
		Sources: []trade.Source{sheet, trade.NFPA291, trade.HazenWilliams, trade.CValuesMemory, trade.IPCE103Solder, trade.IPCElevation,
			trade.FlowTeamRule},
		After:   after,
		Example: inletExample(line),
		Applies: line.needs(func(i *specs.Inlet) bool { return i.FlowingMin.Known() || i.FlowingMax.Known() }, "range of flowing pressure"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(needed...); lacks {
				return out
			}
			found, inlet := line.of(c)
			if !inlet.Flow.Known() {
				return c.Silent(check.Say("inlet-pressure.sheet", "line", check.Word(line)))
			}
			if over := found.Flowing.Of(c).In(quantity.PSI) - found.Static.Of(c).In(quantity.PSI); over > contradictionPSI {
				return check.Rule(check.Say("inlet-pressure.have", "flowing", found.Flowing.Of(c), "static", found.Static.Of(c)), check.Say("inlet-pressure.want"),
					check.Say("inlet-pressure.do"), []survey.Ref{line.ask().Flowing, line.ask().Static}...)
			}
			if !(found.Flow.Of(c).In(quantity.GPM) > 0) {
				return check.Rule(check.Say("inlet-pressure.have2", "flow", found.Flow.Of(c)), check.Say("inlet-pressure.want2"), check.Say("inlet-pressure.do2"), []survey.Ref{line.ask().Flow, line.ask().Flowing}...)
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			flow := inlet.Flow.In(quantity.GPM)
			left, steps, extrapolated := line.left(c, flow)
			loss, err := line.loss(c, tube, flow)
			if err != nil {
				return check.Rule(check.Say("inlet-pressure.have3", "error", check.Quote(err.Error())), check.Say("inlet-pressure.want3"), check.Say("inlet-pressure.do3"), line.ask().Size)
			}
			have := psi(left - loss.total())
			want := any(check.Range(inlet.FlowingMin, inlet.FlowingMax))
			out = check.Within(have, inlet.FlowingMin, inlet.FlowingMax,
				check.Say("inlet-pressure.do4", "flowingmin", inlet.FlowingMin, "flow", inlet.Flow),
				check.Say("inlet-pressure.do5", "line", check.Quote(line), "flowingmax", inlet.FlowingMax),
				[]survey.Ref{line.ask().Static, line.ask().Flowing, line.ask().Flow, line.ask().Size, line.ask().RunLength, line.ask().DeviceLoss}...)
			out.Working = append(steps,
				Step{"d", check.Say("inlet-pressure.step", "tube", tube, "source", tube.Source), check.Figure{Value: tube.ID, Decimals: 3, Unit: "in"}},
				Step{"C", check.Say("inlet-pressure.step2"), check.Figure{Value: loss.coefficient, Decimals: 0}},
				Step{"L_fit", check.Say("inlet-pressure.step3", "fittingsource", loss.fittingSource), check.Figure{Value: loss.fittingsFt, Decimals: 2, Unit: "ft"}},
				Step{"L", check.Say("inlet-pressure.step4"), check.Figure{Value: loss.lengthFt, Decimals: 2, Unit: "ft"}},
				Step{"p_f", check.Say("inlet-pressure.step5"), inPSI(loss.friction)},
				Step{"p_DW", check.Say("inlet-pressure.step6", "tempf", fahrenheit(loss.tempF)), inPSI(loss.darcy)},
				Step{"p_z", check.Say("inlet-pressure.step7"), inPSI(loss.rise)},
				Step{"p_d", check.Say("inlet-pressure.step8"), inPSI(loss.devices)},
				Step{"p", check.Say("inlet-pressure.step9"), have},
				Step{"p_range", check.Say("W-13.step"), want})
			if have.In(quantity.PSI) < 0 {
				out.Have = check.FactOf(check.Say("inlet-pressure.do6", "have", have.Times(-1)))
			}
			if out.Verdict == OK && extrapolated {
				out.Verdict = Confirm
				out.Action = check.PhraseOf(check.Say("inlet-pressure.do7", "flow", inlet.Flow))
			}
			return c.OnSheet(out, endOf(line.at("flowing_pressure"), have, inlet.FlowingMin, inlet.FlowingMax))
		},
		Remedies: func(c *Case, k *Check) []Remedy { return pressureRemedies(c, k, line) },
	}
}

func inletExample(line waterLine) Example {
	given := map[string]string{}
	for name, text := range map[string]string{"static_pressure": "60 ± 0 psi", "flowing_pressure": "50 ± 0 psi", "flow": "3 ± 0 gpm", "regulator": "0 psi",
		"pipe_material": "copper-L", "pipe_size": "1/2 in", "run_length": "30 ± 0 ft", "elbows": "4", "elbows_45": "0", "tees_run": "0", "tees_branch": "1", "valves": "1",
		"rise": "4 ± 0 ft", "device_loss": "0 psi"} {
		given[line.at(name)] = text
	}
	return Example{Machine: "avocet-r36", Given: given, Verdict: OK, Shows: "p_f = 1.81 psi"}
}

// rangeText words a range of which one end may be open.
func rangeText[D quantity.Dimension](c *Case, low, high quantity.Of[D]) string {
	switch {
	case !low.Known():
		return "at most " + show(c, high)
	case !high.Known():
		return "at least " + show(c, low)
	}
	return show(c, low) + " to " + show(c, high)
}

// endOf names the end of a range on the sheet that a value is judged by.
func endOf[D quantity.Dimension](path string, have, low, high quantity.Of[D]) string {
	if !low.Known() || high.Known() && have.Cmp(high) > 0 {
		return path + "_max"
	}
	return path + "_min"
}

// pressureRemedies offers what brings the pressure at the inlet into its range.
func pressureRemedies(c *Case, k *Check, line waterLine) []Remedy {
	found, inlet := line.of(c)
	rs := line.largerPipes(c, k)
	// The highest setting within the range; an own regulator is first tried higher, then lower.
	verb, settings := any(check.Say("pressure-remedies.verb")), check.Ladder(math.Floor(min(found.Static.Of(c).In(quantity.PSI), trade.MaxStaticPSI)/5)*5, 15, 5, quantity.PSI)
	if r := found.Regulator.Of(c).In(quantity.PSI); r > 0 {
		verb, settings = check.Say("pressure-remedies.verb2"), slices.Concat(check.Ladder(r+5, trade.MaxStaticPSI, 5, quantity.PSI), check.Ladder(max(r-5, 15), 15, 5, quantity.PSI))
	}
	rs = append(rs, c.Offer(k, line.ask().Regulator, settings, nil, func(v any) any {
		return check.Say("pressure-remedies.way", "line", check.Word(line), "verb", verb, "psi", written(quantity.PSI, v))
	})...)
	if d := found.DeviceLoss.Of(c).In(quantity.PSI); d >= 1 {
		rs = append(rs, c.Offer(k, line.ask().DeviceLoss, check.Ladder(math.Ceil(d)-1, 0, 1, quantity.PSI), nil, func(v any) any {
			return check.Say("pressure-remedies.way2", "line", check.Quote(line), "psi", written(quantity.PSI, v))
		})...)
	}
	// A pump holds its pressure up to the machine's flow at least.
	var pumps []Remedy
	for p := math.Ceil(found.Flowing.Of(c).In(quantity.PSI)/5+1) * 5; p <= 75; p += 5 {
		text := quantity.PSI.Write(p)
		pumps = append(pumps, Remedy{
			Change: check.Say("pressure-remedies.way3", "line", check.Quote(line), "psi", written(quantity.PSI, text), "flow", inlet.Flow),
			Set: map[string]string{line.ask().Static.Path(): text, line.ask().Flowing.Path(): text, line.ask().Flow.Path(): quantity.GPM.Write(inlet.Flow.In(quantity.GPM)),
				line.ask().Regulator.Path(): "0 psi"},
		})
	}
	return append(rs, c.OfferFirst(k, pumps)...)
}

// pipeVelocity compares the speed of the water in a line with the guidance for
// its material and temperature.
func pipeVelocity(id string, line waterLine, after ...*Check) *Check {
	uses := []survey.Ref{line.ask().Material, line.ask().Size}
	if line == hotLine {
		uses = append(uses, line.ask().Temperature, ask.Heater.SetPoint)
	}
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   string(line) + " water's speed in the pipe",
		Why:     "Fast water is noisy, hammers when a valve shuts and wears copper thin, hot water the more.",
		Formula: "v = 0.4085 Q / d²; v in ft/s, Q in gpm, d in in",
		Range:   "the machine's own flow alone; other draws on the same pipe add to it",
		Sources: []trade.Source{trade.CopperVelocity, trade.IPCVelocity},
		After:   after,
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Material.Path(): "copper-L", line.ask().Size.Path(): "1/2 in", ask.Heater.SetPoint.Path(): "140 °F"}, Verdict: OK, Shows: "v = 3.44 ft/s"},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking([]survey.Ref{line.ask().Material, line.ask().Size}...); lacks {
				return out
			}
			found, inlet := line.of(c)
			hot := ask.Heater.SetPoint.Of(c) // what the pipe carries routinely
			if !hot.Known() {
				hot = found.Temperature.Of(c)
			}
			if line == hotLine && !hot.Known() {
				out, _ := c.Lacking(ask.Heater.SetPoint)
				return out
			}
			if !inlet.Flow.Known() {
				return c.Silent(check.Say("inlet-pressure.sheet", "line", check.Word(line)))
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			limit, err := trade.VelocityLimit(tube.Material, line == hotLine, hot.In(quantity.Fahrenheit))
			if err != nil {
				return check.Rule(hot, check.Say("pipe-velocity.want"), check.Say("pipe-velocity.do"), line.ask().Size)
			}
			v := trade.VelocityFPS(inlet.Flow.In(quantity.GPM), tube.ID)
			have, low, high := quantity.New(v, quantity.FootPerSecond), quantity.New(limit.Low, quantity.FootPerSecond), quantity.New(limit.High, quantity.FootPerSecond)
			action := any(check.Say("pipe-velocity.action", "line", check.Quote(line), "high", high))
			out = check.UpTo(have, high, action, []survey.Ref{line.ask().Size, line.ask().Material}...)
			if out.Verdict == OK && have.Cmp(low) > 0 {
				out = check.UpTo(have, low, check.Phrase{}, []survey.Ref{line.ask().Size, line.ask().Material}...)
				out.Verdict = Confirm
				out.Action = check.PhraseOf(check.Say("pipe-velocity.do2", "have", have, "low", low, "high", high))
			}
			out.Working = []Step{
				{"Q", check.Say("W-21.step2"), inlet.Flow},
				{"d", check.Say("inlet-pressure.step", "tube", tube, "source", tube.Source), check.Figure{Value: tube.ID, Decimals: 3, Unit: "in"}},
				{"v", check.Say("pipe-velocity.step"), check.Figure{Value: v, Decimals: 2, Unit: "ft/s"}},
				{"v_max", check.Say("pipe-velocity.step2", "material", check.Word(tube.Material), "line", check.Word(line), "source", limit.Source), check.Say("pipe-velocity.value", "rangeof", rangeOf(limit.Low, limit.High))},
			}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy { return line.largerPipes(c, k) },
	}
}

// rangeOf prints a range of whole numbers, one number when both ends are equal.
func rangeOf(low, high float64) any {
	if low == high {
		return check.Figure{Value: low, Decimals: 0}
	}
	return check.Say("range-of.is", "low", check.Figure{Value: low, Decimals: 0}, "high", check.Figure{Value: high, Decimals: 0})
}

// supplySize compares a line's nominal size with the sheet's smallest.
func supplySize(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   string(line) + " supply pipe's size",
		Why:     "A smaller pipe starves the machine while anything else runs.",
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Size.Path(): "3/8 in"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.PipeSize.Known() }, "size of the supply pipe"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(line.ask().Size); lacks {
				return out
			}
			found, inlet := line.of(c)
			out := check.Choice(found.Size.Of(c).Cmp(inlet.PipeSize) >= 0, found.Size.Of(c), check.Say("supply-size.want", "pipesize", inlet.PipeSize),
				check.Say("supply-size.do", "line", check.Quote(line), "pipesize", inlet.PipeSize), line.ask().Size)
			return c.OnSheet(out, line.at("pipe_size"))
		},
		Remedies: func(c *Case, k *Check) []Remedy { return line.largerPipes(c, k) },
	}
}

// HotPipeMaterial sees that the hot pipe bears its water.
var HotPipeMaterial = &Check{
	ID:      "W-11",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "hot pipe's material for its temperature",
	Why:     "Plastic pipe that isn't made for hot water softens, sags and bursts.",
	Sources: []trade.Source{trade.ASTMD1785, trade.ASTMD2846, trade.ASTMF876, trade.DWVMetal},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Hot.Material.Path(): "pvc"}, Verdict: Fix},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Hot.Material, ask.Water.Hot.Temperature); lacks {
			return out
		}
		line := ask.Water.Hot
		hottest := line.Temperature.Of(c)
		if sp := ask.Heater.SetPoint.Of(c); sp.Known() && sp.Cmp(hottest) > 0 {
			hottest = sp
		}
		material := supplyMaterials[line.Material.Of(c)]
		limit, err := trade.SupplyTempLimit(material)
		if err != nil {
			return check.Rule(check.Word(line.Material.Of(c)), check.Say("W-11.want"), check.Say("W-11.do"), ask.Water.Hot.Material)
		}
		replace := any(check.Say("W-11.replace", "material", check.Word(line.Material.Of(c))))
		if allowed, _ := trade.HotWaterAllowed(material); !allowed {
			out := check.Choice(false, check.Word(line.Material.Of(c)), check.Say("W-11.want2"), replace, ask.Water.Hot.Material)
			out.Working = []Step{{"material", check.Say("W-11.step", "note", check.Quote(limit.Note), "source", limit.Source), check.Word(line.Material.Of(c))}}
			return out
		}
		out := check.UpTo(hottest, fahrenheit(limit.MaxF), replace, ask.Water.Hot.Material, ask.Water.Hot.Temperature)
		out.Have = out.Have.In(check.Say("pair", "a", check.Word(line.Material.Of(c))))
		out.Working = []Step{
			{"t", check.Say("W-11.step2"), hottest},
			{"t_max", check.Say("W-11.step3", "material", check.Word(material), "note", check.Quote(limit.Note), "source", limit.Source), fahrenheit(limit.MaxF)},
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Hot.Material, []string{"copper-L"}, nil, func(any) any { return check.Say("W-11.way") })
	},
}

// HotDeadLeg says how long hot water takes to arrive.
var HotDeadLeg = &Check{
	ID:      "W-12",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "hot water's way from the heater",
	Why:     "What stands in the pipe has cooled and goes into the machine first: the first fill starts cold and sanitizing waits for the heater.",
	Formula: "V = π/4 d² · 12/231 · L; t = 60 V / Q; V in gal, d in in, L in ft, Q in gpm, t in s",
	Range:   "the pipe's whole length in the size and material of the run to the machine (assumed)",
	Sources: []trade.Source{{Document: "IPC", Edition: "2015 and later", Clause: "607.2", Mark: trade.Confirmed}, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Hot.FromHeater.Path(): "35 ± 0 ft", ask.Water.Hot.Material.Path(): "copper-L", ask.Water.Hot.Size.Path(): "3/4 in"}, Verdict: OK, Shows: "V = 0.88 gal"},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Hot.FromHeater); lacks {
			return out
		}
		line, inlet := hotLine.of(c)
		limit := quantity.New(hotLengthFt, quantity.Foot)
		out := check.UpTo(line.FromHeater.Of(c), limit,
			check.Say("W-12.do", "limit", limit), ask.Water.Hot.FromHeater)
		out.Working = []Step{{"L", check.Say("W-12.step"), line.FromHeater.Of(c)}}
		if tube, _, ok := hotLine.tube(c); ok && line.Size.Of(c).Known() {
			gal := trade.DeadLegGal(tube.ID, line.FromHeater.Of(c).In(quantity.Foot))
			out.Working = append(out.Working,
				Step{"d", check.Say("inlet-pressure.step", "tube", tube, "source", tube.Source), check.Figure{Value: tube.ID, Decimals: 3, Unit: "in"}},
				Step{"V", check.Say("W-12.step2"), check.Figure{Value: gal, Decimals: 2, Unit: "gal"}})
			if inlet.Flow.Known() {
				out.Working = append(out.Working, Step{"t", check.Say("W-12.step3", "flow", inlet.Flow), check.Figure{Value: trade.DeadLegWaitS(gal, inlet.Flow.In(quantity.GPM)), Decimals: 0, Unit: "s"}})
			}
			if fill := c.Machine.Water.FillVolume; fill.Known() {
				out.Working = append(out.Working, Step{"V/V_fill", check.Say("W-12.step4"), check.Share(trade.DeadLegFills(gal, fill.In(quantity.Gallon)))})
			}
		}
		out.Working = append(out.Working, Step{"L_max", check.Say("W-12.step5"), limit})
		if out.Verdict == Fix && ask.Codes.Plumbing.Of(c) != "ipc" {
			if missing, lacks := c.Lacking(ask.Codes.Plumbing); lacks {
				return missing
			}
			out.Verdict = Confirm
			out.Action = check.PhraseOf(check.Say("W-12.do2", "limit", limit))
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Hot.FromHeater, check.Ladder(hotLengthFt, 5, 5, quantity.Foot), nil, func(v any) any {
			return check.Say("W-12.way", "foot", written(quantity.Foot, v))
		})
	},
}

// hotLengthFt is the longest hot pipe from its source to what needs hot
// water. Source: IPC 607.2, 2015 and later, as a code council article quotes it.
const hotLengthFt = 50.0
