package rules

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// staticMax compares a line's static pressure with the machine's limit.
func staticMax(id string, line waterLine, after ...string) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   string(line) + " static pressure against the machine's maximum",
		Why:     "Above it the machine's valves and hoses may leak or burst when nothing runs.",
		Formula: "p = the static pressure in psi, or the setting of a regulator on the line when that is lower",
		Sources: []trade.Source{sheet},
		Uses:    line.paths("static_pressure", "regulator"),
		After:   after,
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("static_pressure"): "62 psi", line.at("regulator"): "0 psi"}, Verdict: OK, Shows: "p = 62 psi (427 kPa)"},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.StaticMax.Known() }, "maximum of static pressure"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.at("static_pressure")); lacks {
				return out
			}
			found, inlet := line.of(c)
			have := regulated(found.Static, found.Regulator)
			out := atMost(c, have, inlet.StaticMax,
				fmt.Sprintf("fit a pressure regulator on the %s line and set it well below %s", line, show(c, inlet.StaticMax)), line.at("static_pressure"))
			out.Working = []Step{{"p", "static pressure at the connection", show(c, have)}, {"p_max", "the machine's maximum", show(c, inlet.StaticMax)}}
			return c.onSheet(out, line.at("static_pressure_max"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			limit := inlet.StaticMax.In(quantity.PSI)
			top := math.Floor(min(limit, trade.MaxStaticPSI)/5) * 5
			return c.offer(k, line.at("regulator"), ladder(top, 20, 5, quantity.PSI), nil, func(v string) string {
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
		Uses:    append(line.paths("static_pressure"), "codes.pressure_limit"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("static_pressure"): "84 ± 0 psi", "codes.pressure_limit": "unknown"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.at("static_pressure")); lacks {
				return out
			}
			found, _ := line.of(c)
			limit, meaning := c.Survey.Codes.PressureLimit, "local limit as answered"
			if !limit.Known() {
				limit, meaning = psi(trade.MaxStaticPSI), "the model codes' limit (assumed: no local limit was answered)"
			}
			out := atMost(c, found.Static, limit,
				fmt.Sprintf("fit a pressure-reducing valve with a strainer on the building's service, set to %s or less; the system is closed then and needs thermal-expansion control at the water heater", show(c, limit)),
				line.at("static_pressure"))
			out.Working = []Step{{"p", "static pressure as read", show(c, found.Static)}, {"p_max", meaning, show(c, limit)}}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			limit := trade.MaxStaticPSI
			if l := c.Survey.Codes.PressureLimit; l.Known() {
				limit = l.In(quantity.PSI)
			}
			var rs []Remedy
			for s := math.Floor(min(limit, 200)/5) * 5; s >= 40; s -= 5 {
				rs = append(rs, Remedy{
					Change: fmt.Sprintf("fit a pressure-reducing valve with a strainer on the building's service, set to %s, with thermal-expansion control at the water heater; then read all pressures again", show(c, psi(s))),
					Set:    reducedTo(c, s),
				})
			}
			return c.offerFirst(k, rs)
		},
	}
}

// reducedTo is what the questionnaire would hold behind a pressure-reducing
// valve on the service. The pipes lose as much at the flow read as before.
func reducedTo(c *Case, setting float64) map[string]string {
	set := map[string]string{}
	for _, l := range waterLines {
		found, inlet := l.of(c)
		static := found.Static.In(quantity.PSI)
		if !inlet.Used || !(static > setting) {
			continue
		}
		set[l.at("static_pressure")] = quantity.PSI.Write(setting)
		if found.Flowing.Known() {
			set[l.at("flowing_pressure")] = quantity.PSI.Write(max(0, math.Floor(10*(found.Flowing.In(quantity.PSI)-(static-setting)))/10))
		}
	}
	if c.Machine.Water.Hot.Used {
		set["water.closed_system"], set["water.expansion_tank"] = "yes", "yes"
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
	counts := []int{found.Elbows.N(), found.Elbows45.N(), found.TeesRun.N(), found.TeesBranch.N(), found.Valves.N()}
	for i, f := range supplyFittings {
		ft, src := equivalentFt(t, f.kind)
		p.fittingsFt += float64(counts[i]) * ft
		if i == 0 {
			p.fittingSource = src
		}
	}
	p.lengthFt = found.RunLength.In(quantity.Foot) + p.fittingsFt
	_, p.coefficient, _, err = trade.CValue(t.Material)
	if err != nil {
		return p, err
	}
	rough, err := trade.RoughnessMM(t.Material)
	if err != nil {
		return p, err
	}
	p.tempF = found.Temperature.In(quantity.Fahrenheit)
	if !found.Temperature.Known() {
		p.tempF = map[waterLine]float64{coldLine: 60, hotLine: 140}[l]
	}
	p.friction = trade.HazenWilliamsPSI(flowGPM, p.coefficient, t.ID, p.lengthFt)
	p.tempF = min(max(p.tempF, 33), 211) // liquid water, for the cross-check alone
	p.darcy = trade.DarcyPSI(flowGPM, t.ID, p.lengthFt, rough, p.tempF)
	p.rise = trade.ElevationPSI(found.Rise.In(quantity.Foot))
	p.devices = found.DeviceLoss.In(quantity.PSI)
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
	test := trade.FlowTest{StaticPSI: found.Static.In(quantity.PSI), ResidualPSI: found.Flowing.In(quantity.PSI), FlowGPM: found.Flow.In(quantity.GPM)}
	pressure = min(test.StaticPSI, test.ResidualPSI)
	if test.ResidualPSI < test.StaticPSI {
		var err error
		if pressure, err = test.ResidualAt(flowGPM); err != nil {
			pressure = 0 // the flow would draw it to nothing
		}
	}
	steps = []Step{
		{"Q", "flow that the machine draws", show(c, quantity.New(flowGPM, quantity.GPM))},
		{"p_s", "static pressure", show(c, found.Static)},
		{"p_1", "flowing pressure", show(c, found.Flowing)},
		{"Q_1", "flow at which it was read", show(c, found.Flow)},
		{"p_Q", "left at Q where it was read", inPSI(c, pressure)},
	}
	extrapolated = test.Caution(flowGPM).TooFar
	if r := found.Regulator.In(quantity.PSI); r > 0 {
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
func inletPressure(id string, line waterLine, after ...string) *Check {
	needed := line.paths("static_pressure", "flowing_pressure", "flow", "regulator", "pipe_material", "pipe_size", "run_length",
		"elbows", "elbows_45", "tees_run", "tees_branch", "valves", "rise", "device_loss")
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
		Uses:    append(needed, line.at("temperature")),
		After:   after,
		Example: inletExample(line),
		Applies: line.needs(func(i *specs.Inlet) bool { return i.FlowingMin.Known() || i.FlowingMax.Known() }, "range of flowing pressure"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(needed...); lacks {
				return out
			}
			found, inlet := line.of(c)
			if !inlet.Flow.Known() {
				return c.silent("the flow that the " + string(line) + " inlet draws")
			}
			if over := found.Flowing.In(quantity.PSI) - found.Static.In(quantity.PSI); over > contradictionPSI {
				return ask(show(c, found.Flowing)+" flowing, "+show(c, found.Static)+" static", "a flowing pressure below the static one",
					"read both pressures again at the same point: the flowing pressure can't be above the static one", line.paths("flowing_pressure", "static_pressure")...)
			}
			if !(found.Flow.In(quantity.GPM) > 0) {
				return ask(show(c, found.Flow)+" at the flowing pressure", "a flow above 0", "read the flowing pressure again while water runs, and the flow with it: seconds to fill a 1 gal jug, 60 / seconds = gpm", line.paths("flow", "flowing_pressure")...)
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			flow := inlet.Flow.In(quantity.GPM)
			left, steps, extrapolated := line.left(c, flow)
			loss, err := line.loss(c, tube, flow)
			if err != nil {
				return ask("no result: "+err.Error(), "a pressure at the inlet", "let the plumber work out the pressure left at the inlet", line.at("pipe_size"))
			}
			have := psi(left - loss.total())
			want := rangeText(c, inlet.FlowingMin, inlet.FlowingMax)
			out = between(c, have, inlet.FlowingMin, inlet.FlowingMax,
				fmt.Sprintf("bring at least %s to the machine at %s: a larger pipe, fewer or easier devices, or a booster pump", show(c, inlet.FlowingMin), show(c, inlet.Flow)),
				fmt.Sprintf("fit a pressure regulator on the %s line so that no more than %s is left while the machine fills", line, show(c, inlet.FlowingMax)),
				line.paths("static_pressure", "flowing_pressure", "flow", "pipe_size", "run_length", "device_loss")...)
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
				out.Have = "nothing: the losses exceed what is there by " + show(c, have.Times(-1))
			}
			if out.Verdict == OK && extrapolated {
				out.Verdict = Confirm
				out.Action = fmt.Sprintf("read the flowing pressure again while at least %s runs: the machine draws more than the reading covers", show(c, inlet.Flow))
			}
			return c.onSheet(out, endOf(line.at("flowing_pressure"), have, inlet.FlowingMin, inlet.FlowingMax))
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
	verb, settings := "fit a pressure regulator set to ", ladder(math.Floor(min(found.Static.In(quantity.PSI), trade.MaxStaticPSI)/5)*5, 15, 5, quantity.PSI)
	if r := found.Regulator.In(quantity.PSI); r > 0 {
		verb, settings = "set the regulator to ", slices.Concat(ladder(r+5, trade.MaxStaticPSI, 5, quantity.PSI), ladder(max(r-5, 15), 15, 5, quantity.PSI))
	}
	rs = append(rs, c.offer(k, line.at("regulator"), settings, nil, func(v string) string { return "on the " + string(line) + " line, " + verb + shown(c, quantity.PSI, v) })...)
	if d := found.DeviceLoss.In(quantity.PSI); d >= 1 {
		rs = append(rs, c.offer(k, line.at("device_loss"), ladder(math.Ceil(d)-1, 0, 1, quantity.PSI), nil, func(v string) string {
			return fmt.Sprintf("choose devices on the %s line that lose no more than %s in all at the machine's flow", line, shown(c, quantity.PSI, v))
		})...)
	}
	// A pump holds its pressure up to the machine's flow at least.
	var pumps []Remedy
	for p := math.Ceil(found.Flowing.In(quantity.PSI)/5+1) * 5; p <= 75; p += 5 {
		text := quantity.PSI.Write(p)
		pumps = append(pumps, Remedy{
			Change: fmt.Sprintf("fit a listed booster pump on the %s line that holds %s at %s", line, shown(c, quantity.PSI, text), show(c, inlet.Flow)),
			Set: map[string]string{line.at("static_pressure"): text, line.at("flowing_pressure"): text, line.at("flow"): quantity.GPM.Write(inlet.Flow.In(quantity.GPM)),
				line.at("regulator"): "0 psi"},
		})
	}
	return append(rs, c.offerFirst(k, pumps)...)
}

// pipeVelocity compares the speed of the water in a line with the guidance for
// its material and temperature.
func pipeVelocity(id string, line waterLine, after ...string) *Check {
	uses := line.paths("pipe_material", "pipe_size")
	if line == hotLine {
		uses = append(uses, line.at("temperature"), "heater.set_point")
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
		Uses:    uses,
		After:   after,
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("pipe_material"): "copper-L", line.at("pipe_size"): "1/2 in", "heater.set_point": "140 °F"}, Verdict: OK, Shows: "v = 3.44 ft/s"},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.paths("pipe_material", "pipe_size")...); lacks {
				return out
			}
			found, inlet := line.of(c)
			hot := c.Survey.Heater.SetPoint // what the pipe carries routinely
			if !hot.Known() {
				hot = found.Temperature
			}
			if line == hotLine && !hot.Known() {
				out, _ := c.lacking("heater.set_point")
				return out
			}
			if !inlet.Flow.Known() {
				return c.silent("the flow that the " + string(line) + " inlet draws")
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			limit, err := trade.VelocityLimit(tube.Material, line == hotLine, hot.In(quantity.Fahrenheit))
			if err != nil {
				return ask(show(c, hot), "a temperature that the guidance covers", "let the plumber judge the speed of the water in this line", line.at("pipe_size"))
			}
			v := trade.VelocityFPS(inlet.Flow.In(quantity.GPM), tube.ID)
			have, low, high := quantity.New(v, quantity.FootPerSecond), quantity.New(limit.Low, quantity.FootPerSecond), quantity.New(limit.High, quantity.FootPerSecond)
			action := fmt.Sprintf("run the %s line in the next larger size, so that its water moves at no more than %s", line, show(c, high))
			out = atMost(c, have, high, action, line.paths("pipe_size", "pipe_material")...)
			if out.Verdict == OK && have.Cmp(low) > 0 {
				out = atMost(c, have, low, "", line.paths("pipe_size", "pipe_material")...)
				out.Verdict = Confirm
				out.Action = fmt.Sprintf("let the plumber confirm %s in this pipe; the guidance runs from %s to %s", show(c, have), show(c, low), show(c, high))
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
		Uses:    line.paths("pipe_size"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("pipe_size"): "3/8 in"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.PipeSize.Known() }, "size of the supply pipe"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.at("pipe_size")); lacks {
				return out
			}
			found, inlet := line.of(c)
			out := choice(found.Size.Cmp(inlet.PipeSize) >= 0, found.Size.Show(c.Units), "at least "+inlet.PipeSize.Show(c.Units),
				fmt.Sprintf("run the %s line to the machine in %s", line, inlet.PipeSize.Show(c.Units)), line.at("pipe_size"))
			return c.onSheet(out, line.at("pipe_size"))
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
	Uses:    []string{"water.hot.pipe_material", "water.hot.temperature", "heater.set_point"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.hot.pipe_material": "pvc"}, Verdict: Fix},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("water.hot.pipe_material", "water.hot.temperature"); lacks {
			return out
		}
		line := c.Survey.Water.Hot
		hottest := line.Temperature
		if sp := c.Survey.Heater.SetPoint; sp.Known() && sp.Cmp(hottest) > 0 {
			hottest = sp
		}
		material := supplyMaterials[line.Material]
		limit, err := trade.SupplyTempLimit(material)
		if err != nil {
			return ask(line.Material, "a material of the tables", "let the plumber confirm that this pipe may carry hot water", "water.hot.pipe_material")
		}
		replace := "replace the hot line's " + line.Material + " by copper, CPVC or PEX marked for its temperature"
		if allowed, _ := trade.HotWaterAllowed(material); !allowed {
			out := choice(false, line.Material, "pipe accepted for hot water", replace, "water.hot.pipe_material")
			out.Working = []Step{{"material", limit.Note + " (" + limit.Source.String() + ")", line.Material}}
			return out
		}
		out := atMost(c, hottest, fahrenheit(limit.MaxF), replace, "water.hot.pipe_material", "water.hot.temperature")
		out.Have = line.Material + " at " + out.Have
		out.Working = []Step{
			{"t", "hottest water: the heater's set point or what was measured, the higher", show(c, hottest)},
			{"t_max", "of " + string(material) + ": " + limit.Note + " (" + limit.Source.String() + ")", show(c, fahrenheit(limit.MaxF))},
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "water.hot.pipe_material", []string{"copper-L"}, nil, func(string) string { return "run the hot line in copper, type L" })
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
	Uses:    []string{"water.hot.from_heater", "water.hot.pipe_material", "water.hot.pipe_size", "codes.plumbing"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.hot.from_heater": "35 ± 0 ft", "water.hot.pipe_material": "copper-L", "water.hot.pipe_size": "3/4 in"}, Verdict: OK, Shows: "V = 0.88 gal"},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("water.hot.from_heater"); lacks {
			return out
		}
		line, inlet := hotLine.of(c)
		limit := quantity.New(hotLengthFt, quantity.Foot)
		out := atMost(c, line.FromHeater, limit,
			fmt.Sprintf("bring the recirculation loop or a heater within %s of the machine, along the pipe", show(c, limit)), "water.hot.from_heater")
		out.Working = []Step{{"L", "hot pipe from the heater or the loop", show(c, line.FromHeater)}}
		if tube, _, ok := hotLine.tube(c); ok && line.Size.Known() {
			gal := trade.DeadLegGal(tube.ID, line.FromHeater.In(quantity.Foot))
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
		if out.Verdict == Fix && c.Survey.Codes.Plumbing != "ipc" {
			if missing, lacks := c.lacking("codes.plumbing"); lacks {
				return missing
			}
			out.Verdict = Confirm
			out.Action = "ask the authority whether a hot pipe of this length needs recirculation under its code; the model code's limit is " + show(c, limit)
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "water.hot.from_heater", ladder(hotLengthFt, 5, 5, quantity.Foot), nil, func(v string) string {
			return "bring the recirculation loop to within " + shown(c, quantity.Foot, v) + " of the machine, along the pipe"
		})
	},
}

// hotLengthFt is the longest hot pipe from its source to what needs hot
// water. Source: IPC 607.2, 2015 and later, as a code council article quotes it.
const hotLengthFt = 50.0
