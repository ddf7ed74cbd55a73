package rules

import (
	"errors"
	"firstfill/specs/check"
	"firstfill/survey"
	"fmt"
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
				fmt.Sprintf("fit a pressure regulator on the %s line and set it well below %s", line, show(c, inlet.StaticMax)), line.ask().Static)
			out.Working = []Step{{"p", "static pressure at the connection", show(c, have)}, {"p_max", "the machine's maximum", show(c, inlet.StaticMax)}}
			return c.OnSheet(out, line.at("static_pressure_max"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			limit := inlet.StaticMax.In(quantity.PSI)
			top := math.Floor(min(limit, trade.MaxStaticPSI)/5) * 5
			return c.Offer(k, line.ask().Regulator, check.Ladder(top, 20, 5, quantity.PSI), nil, func(v string) any {
				return fmt.Sprintf("fit a pressure regulator on the %s line and set it to %s", line, shown(c, quantity.PSI, v))
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
			limit, meaning := ask.Codes.PressureLimit.Of(c), "local limit as answered"
			if !limit.Known() {
				limit, meaning = psi(trade.MaxStaticPSI), "the model codes' limit (assumed: no local limit was answered)"
			}
			out := check.UpTo(found.Static.Of(c), limit,
				fmt.Sprintf("fit a pressure-reducing valve with a strainer on the building's service, set to %s or less; the system is closed then and needs thermal-expansion control at the water heater", show(c, limit)),
				line.ask().Static)
			out.Working = []Step{{"p", "static pressure as read", show(c, found.Static.Of(c))}, {"p_max", meaning, show(c, limit)}}
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
					Change: fmt.Sprintf("fit a pressure-reducing valve with a strainer on the building's service, set to %s, with thermal-expansion control at the water heater; then read all pressures again", show(c, psi(s))),
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
		{"Q", "flow that the machine draws", show(c, quantity.New(flowGPM, quantity.GPM))},
		{"p_s", "static pressure", show(c, found.Static.Of(c))},
		{"p_1", "flowing pressure", show(c, found.Flowing.Of(c))},
		{"Q_1", "flow at which it was read", show(c, found.Flow.Of(c))},
		{"p_Q", "left at Q where it was read", inPSI(c, pressure)},
	}
	extrapolated = test.Caution(flowGPM).TooFar
	if r := found.Regulator.Of(c).In(quantity.PSI); r > 0 {
		if r >= test.StaticPSI-contradictionPSI {
			// Read behind the regulator: the curve doesn't hold across it.
			extrapolated = flowGPM > test.FlowGPM
		}
		pressure = min(pressure, r)
		steps = append(steps, Step{"p_r", "behind the regulator; the curve is not valid across it, so its setting caps what is left (its own fall-off belongs to p_d)", inPSI(c, pressure)})
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
				return c.Silent("the flow that the " + string(line) + " inlet draws")
			}
			if over := found.Flowing.Of(c).In(quantity.PSI) - found.Static.Of(c).In(quantity.PSI); over > contradictionPSI {
				return check.Rule(show(c, found.Flowing.Of(c))+" flowing, "+show(c, found.Static.Of(c))+" static", "a flowing pressure below the static one",
					"read both pressures again at the same point: the flowing pressure can't be above the static one", []survey.Ref{line.ask().Flowing, line.ask().Static}...)
			}
			if !(found.Flow.Of(c).In(quantity.GPM) > 0) {
				return check.Rule(show(c, found.Flow.Of(c))+" at the flowing pressure", "a flow above 0", "read the flowing pressure again while water runs, and the flow with it: seconds to fill a 1 gal jug, 60 / seconds = gpm", []survey.Ref{line.ask().Flow, line.ask().Flowing}...)
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			flow := inlet.Flow.In(quantity.GPM)
			left, steps, extrapolated := line.left(c, flow)
			loss, err := line.loss(c, tube, flow)
			if err != nil {
				return check.Rule("no result: "+err.Error(), "a pressure at the inlet", "let the plumber work out the pressure left at the inlet", line.ask().Size)
			}
			have := psi(left - loss.total())
			want := rangeText(c, inlet.FlowingMin, inlet.FlowingMax)
			out = check.Within(have, inlet.FlowingMin, inlet.FlowingMax,
				fmt.Sprintf("bring at least %s to the machine at %s: a larger pipe, fewer or easier devices, or a booster pump", show(c, inlet.FlowingMin), show(c, inlet.Flow)),
				fmt.Sprintf("fit a pressure regulator on the %s line so that no more than %s is left while the machine fills", line, show(c, inlet.FlowingMax)),
				[]survey.Ref{line.ask().Static, line.ask().Flowing, line.ask().Flow, line.ask().Size, line.ask().RunLength, line.ask().DeviceLoss}...)
			out.Working = append(steps,
				Step{"d", "bore of " + tube.String() + " (" + tube.Source.String() + ")", number(tube.ID, 3) + " in"},
				Step{"C", "Hazen-Williams coefficient, the cautious value", number(loss.coefficient, 0)},
				Step{"L_fit", "length that the fittings stand for (" + loss.fittingSource.String() + ")", number(loss.fittingsFt, 2) + " ft"},
				Step{"L", "pipe and fittings", number(loss.lengthFt, 2) + " ft"},
				Step{"p_f", "friction", inPSI(c, loss.friction)},
				Step{"p_DW", fmt.Sprintf("cross-check: friction by Darcy-Weisbach at %s", fahrenheit(loss.tempF).Show(c.Units)), inPSI(c, loss.darcy)},
				Step{"p_z", "rise to the machine's inlet", inPSI(c, loss.rise)},
				Step{"p_d", "softener, filter, meter, backflow device", inPSI(c, loss.devices)},
				Step{"p", "left at the machine's inlet", show(c, have)},
				Step{"p_range", "the machine's range", want})
			if have.In(quantity.PSI) < 0 {
				out.Have = check.FactOf("nothing: the losses exceed what is there by " + show(c, have.Times(-1)))
			}
			if out.Verdict == OK && extrapolated {
				out.Verdict = Confirm
				out.Action = check.PhraseOf(fmt.Sprintf("read the flowing pressure again while at least %s runs: the machine draws more than the reading covers", show(c, inlet.Flow)))
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
	verb, settings := "fit a pressure regulator set to ", check.Ladder(math.Floor(min(found.Static.Of(c).In(quantity.PSI), trade.MaxStaticPSI)/5)*5, 15, 5, quantity.PSI)
	if r := found.Regulator.Of(c).In(quantity.PSI); r > 0 {
		verb, settings = "set the regulator to ", slices.Concat(check.Ladder(r+5, trade.MaxStaticPSI, 5, quantity.PSI), check.Ladder(max(r-5, 15), 15, 5, quantity.PSI))
	}
	rs = append(rs, c.Offer(k, line.ask().Regulator, settings, nil, func(v string) any { return "on the " + string(line) + " line, " + verb + shown(c, quantity.PSI, v) })...)
	if d := found.DeviceLoss.Of(c).In(quantity.PSI); d >= 1 {
		rs = append(rs, c.Offer(k, line.ask().DeviceLoss, check.Ladder(math.Ceil(d)-1, 0, 1, quantity.PSI), nil, func(v string) any {
			return fmt.Sprintf("choose devices on the %s line that lose no more than %s in all at the machine's flow", line, shown(c, quantity.PSI, v))
		})...)
	}
	// A pump holds its pressure up to the machine's flow at least.
	var pumps []Remedy
	for p := math.Ceil(found.Flowing.Of(c).In(quantity.PSI)/5+1) * 5; p <= 75; p += 5 {
		text := quantity.PSI.Write(p)
		pumps = append(pumps, Remedy{
			Change: fmt.Sprintf("fit a listed booster pump on the %s line that holds %s at %s", line, shown(c, quantity.PSI, text), show(c, inlet.Flow)),
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
				return c.Silent("the flow that the " + string(line) + " inlet draws")
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			limit, err := trade.VelocityLimit(tube.Material, line == hotLine, hot.In(quantity.Fahrenheit))
			if err != nil {
				return check.Rule(show(c, hot), "a temperature that the guidance covers", "let the plumber judge the speed of the water in this line", line.ask().Size)
			}
			v := trade.VelocityFPS(inlet.Flow.In(quantity.GPM), tube.ID)
			have, low, high := quantity.New(v, quantity.FootPerSecond), quantity.New(limit.Low, quantity.FootPerSecond), quantity.New(limit.High, quantity.FootPerSecond)
			action := fmt.Sprintf("run the %s line in the next larger size, so that its water moves at no more than %s", line, show(c, high))
			out = check.UpTo(have, high, action, []survey.Ref{line.ask().Size, line.ask().Material}...)
			if out.Verdict == OK && have.Cmp(low) > 0 {
				out = check.UpTo(have, low, "", []survey.Ref{line.ask().Size, line.ask().Material}...)
				out.Verdict = Confirm
				out.Action = check.PhraseOf(fmt.Sprintf("let the plumber confirm %s in this pipe; the guidance runs from %s to %s", show(c, have), show(c, low), show(c, high)))
			}
			out.Working = []Step{
				{"Q", "flow that the machine draws", show(c, inlet.Flow)},
				{"d", "bore of " + tube.String() + " (" + tube.Source.String() + ")", number(tube.ID, 3) + " in"},
				{"v", "speed of the water", number(v, 2) + " ft/s"},
				{"v_max", "guidance for " + string(tube.Material) + ", " + string(line) + " water (" + limit.Source.String() + ")", rangeOf(limit.Low, limit.High) + " ft/s"},
			}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy { return line.largerPipes(c, k) },
	}
}

// rangeOf prints a range of whole numbers, one number when both ends are equal.
func rangeOf(low, high float64) string {
	if low == high {
		return number(low, 0)
	}
	return number(low, 0) + " to " + number(high, 0)
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
			out := check.Choice(found.Size.Of(c).Cmp(inlet.PipeSize) >= 0, found.Size.Of(c).Show(c.Units), "at least "+inlet.PipeSize.Show(c.Units),
				fmt.Sprintf("run the %s line to the machine in %s", line, inlet.PipeSize.Show(c.Units)), line.ask().Size)
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
			return check.Rule(line.Material.Of(c), "a material of the tables", "let the plumber confirm that this pipe may carry hot water", ask.Water.Hot.Material)
		}
		replace := "replace the hot line's " + line.Material.Of(c) + " by copper, CPVC or PEX marked for its temperature"
		if allowed, _ := trade.HotWaterAllowed(material); !allowed {
			out := check.Choice(false, line.Material.Of(c), "pipe accepted for hot water", replace, ask.Water.Hot.Material)
			out.Working = []Step{{"material", limit.Note + " (" + limit.Source.String() + ")", line.Material.Of(c)}}
			return out
		}
		out := check.UpTo(hottest, fahrenheit(limit.MaxF), replace, ask.Water.Hot.Material, ask.Water.Hot.Temperature)
		out.Have = out.Have.In(check.Say("pair", "a", check.Word(line.Material.Of(c))))
		out.Working = []Step{
			{"t", "hottest water: the heater's set point or what was measured, the higher", show(c, hottest)},
			{"t_max", "of " + string(material) + ": " + limit.Note + " (" + limit.Source.String() + ")", show(c, fahrenheit(limit.MaxF))},
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Hot.Material, []string{"copper-L"}, nil, func(string) any { return "run the hot line in copper, type L" })
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
			fmt.Sprintf("bring the recirculation loop or a heater within %s of the machine, along the pipe", show(c, limit)), ask.Water.Hot.FromHeater)
		out.Working = []Step{{"L", "hot pipe from the heater or the loop", show(c, line.FromHeater.Of(c))}}
		if tube, _, ok := hotLine.tube(c); ok && line.Size.Of(c).Known() {
			gal := trade.DeadLegGal(tube.ID, line.FromHeater.Of(c).In(quantity.Foot))
			out.Working = append(out.Working,
				Step{"d", "bore of " + tube.String() + " (" + tube.Source.String() + ")", number(tube.ID, 3) + " in"},
				Step{"V", "cooled water in the pipe", number(gal, 2) + " gal"})
			if inlet.Flow.Known() {
				out.Working = append(out.Working, Step{"t", "until hot water arrives at " + show(c, inlet.Flow), number(trade.DeadLegWaitS(gal, inlet.Flow.In(quantity.GPM)), 0) + " s"})
			}
			if fill := c.Machine.Water.FillVolume; fill.Known() {
				out.Working = append(out.Working, Step{"V/V_fill", "share of the first fill", percent(trade.DeadLegFills(gal, fill.In(quantity.Gallon)))})
			}
		}
		out.Working = append(out.Working, Step{"L_max", "longest way", show(c, limit)})
		if out.Verdict == Fix && ask.Codes.Plumbing.Of(c) != "ipc" {
			if missing, lacks := c.Lacking(ask.Codes.Plumbing); lacks {
				return missing
			}
			out.Verdict = Confirm
			out.Action = check.PhraseOf("ask the authority whether a hot pipe of this length needs recirculation under its code; the model code's limit is " + show(c, limit))
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Hot.FromHeater, check.Ladder(hotLengthFt, 5, 5, quantity.Foot), nil, func(v string) any {
			return "bring the recirculation loop to within " + shown(c, quantity.Foot, v) + " of the machine, along the pipe"
		})
	},
}

// hotLengthFt is the longest hot pipe from its source to what needs hot
// water. Source: IPC 607.2, 2015 and later, as a code council article quotes it.
const hotLengthFt = 50.0
