package rules

import (
	"errors"
	"math"
	"slices"
	"strings"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// staticMax compares a line's static pressure with the machine's limit.
func staticMax(id string, line waterLine, after ...*Check) *Check {
	a := line.ask()
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet},
		After:   after,
		Assumes: []survey.Ref{line.ask().Regulator},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{a.Static.Path(): "62 psi", a.Regulator.Path(): "0 psi"}, Verdict: OK, Shows: "p = 62 psi (427 kPa)"},
		Skip:    line.skipStatic,
		Run:     line.runStatic,
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			limit := min(inlet.StaticMax.In(quantity.PSI), buildingLimit(c).In(quantity.PSI))
			return append(wellLower(c, k, line, limit), line.reduced(c, k, inlet.StaticMax.In(quantity.PSI))...)
		},
	}
}

func (l waterLine) skipStatic(c *Case) check.Phrase {
	return l.needs(func(i *specs.Inlet) bool { return i.StaticMax.Known() }, "sheet.static-max")(c)
}

func (l waterLine) runStatic(c *Case) Outcome {
	a, inlet := l.of(c)
	if out, lacks := c.Lacking(a.Static); lacks {
		return out
	}
	have := l.static(c)
	out := check.UpTo(have, inlet.StaticMax, check.Say("line.regulator-needed", "line", l.word(), "limit", inlet.StaticMax), a.Static)
	if set, fitted := l.tag(c); fitted {
		out.At = append(out.At, a.Regulator, a.GaugeAt)
		if l.failed(c) {
			out.Action = check.Say("line.regulator-failed", "line", l.word(), "static", a.Static.Of(c), "set", set)
		}
		if l.aboveTag(c) && out.Verdict == OK {
			out.Verdict = Confirm // by its tag the regulator should hold less than was read
			if l.failed(c) {
				out.Verdict = Fix // what lets that through may let the whole main through
				out.Want = check.Fact{Value: set, Bound: check.AtMost}.In(check.Say("line.by-tag"))
				out.Margin = Margin{Value: set.In(quantity.PSI) - have.In(quantity.PSI), Gap: quantity.GapOf(set, have), Side: check.Phrase{Name: "margin.over"}}
				if l == hotLine {
					// Water that is heated behind the regulator swells: that alone may lift the gauge.
					out.Verdict, out.Action = Confirm, check.Say("line.regulator-or-expansion", "static", a.Static.Of(c), "set", set)
				}
			}
		}
	}
	out.Working = []Step{entry("p", check.Say("line.static"), have), entry("p_max", check.Say("sheet.maximum"), inlet.StaticMax)}
	out.Result = have
	return heeding(c, c.OnSheet(out, l.at("static_pressure_max")), l.doubt)
}

// subject is the line as the subject of its checks.
func (l waterLine) subject() check.Subject {
	if l == hotLine {
		return check.Hot
	}
	return check.Cold
}

// buildingPressure compares a line's static pressure with the building limit,
// whatever regulator the machine's own line has.
func buildingPressure(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{trade.IPC604_8, trade.UPC608_2},
		Assumes: []survey.Ref{line.ask().Regulator},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Static.Path(): "84 ± 0 psi", ask.Codes.PressureLimit.Path(): "unknown"}, Verdict: Fix},
		Skip:    line.skip,
		Run:     line.runBuilding,
		Remedies: func(c *Case, k *Check) []Remedy {
			limit := buildingLimit(c).In(quantity.PSI)
			return append(wellLower(c, k, line, limit), service(c, k, limit)...)
		},
	}
}

// buildingLimit is the highest static pressure allowed in the building.
func buildingLimit(c *Case) quantity.Pressure {
	if limit := ask.Codes.PressureLimit.Of(c); limit.Known() {
		return limit
	}
	return psi(trade.MaxStaticPSI)
}

func (l waterLine) runBuilding(c *Case) Outcome {
	a := l.ask()
	if out, lacks := c.Lacking(a.Static); lacks {
		return out
	}
	limit, meaning := buildingLimit(c), check.Say("building.limit-local")
	if !ask.Codes.PressureLimit.Known(c) {
		meaning = check.Say("building.limit-model")
	}
	have := l.read(c)
	out := check.UpTo(have, limit, check.Say("building.reduce", "limit", limit), a.Static)
	out.Working = []Step{entry("p", check.Say("line.static-read"), have), entry("p_max", meaning, limit)}
	return heeding(c, out, l.misread)
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

// supplyFittings are the fittings that the questionnaire counts, in its order.
var supplyFittings = []trade.Fitting{trade.Elbow90, trade.Elbow45, trade.TeeRun, trade.TeeBranch, trade.BallValve}

// insertCouplings are the feet of tube that lose as much as an insert coupling
// of PEX, by the same table as the other insert fittings.
var insertCouplings = map[string]float64{"3/8": 2.9, "1/2": 2.0, "3/4": 0.6, "1": 1.3}

// insertFt is the length of PEX tube that loses as much as a crimped brass
// insert fitting. 45° elbows and valves aren't in the table: half a 90° elbow,
// and a coupling, are taken (common practice, no source). A size without a row
// takes that of 1/2 in, the largest of its neighbors.
func insertFt(kind trade.Fitting, nominal string) float64 {
	if _, ok := insertCouplings[nominal]; !ok {
		nominal = "1/2"
	}
	of, share := kind, 1.0
	switch kind {
	case trade.Elbow45:
		of, share = trade.Elbow90, 0.5
	case trade.BallValve:
		return insertCouplings[nominal]
	}
	ft, _, err := trade.EquivalentFt(trade.PEXInserts, of, nominal)
	if err != nil {
		panic(err) // the table holds the others of supplyFittings
	}
	return share * ft
}

// insertSource is an installation manual of a maker of PEX tube, table
// "friction loss, equivalent feet of SDR-9 tube".
var insertSource = trade.Source{Document: "PEX installation manual", Clause: "equivalent feet of crimped brass insert fittings", Mark: trade.ReadCopy}

// equivalentFt is the length of tube that loses as much as a fitting: from the
// table of the tube's own joints, else by bores.
func equivalentFt(t trade.Tube, i int, insert bool) (float64, trade.Source) {
	kind := supplyFittings[i]
	if insert {
		return insertFt(kind, t.Nominal), insertSource
	}
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

// counts are the questions how many of each kind of supplyFittings a line has.
func (l waterLine) counts() []survey.Answer[survey.Count] {
	a := l.ask()
	return []survey.Answer[survey.Count]{a.Elbows, a.Elbows45, a.TeesRun, a.TeesBranch, a.Valves}
}

// counted says whether somebody counted a line's fittings.
func (l waterLine) counted(c *Case) bool {
	for _, a := range l.counts() {
		if !a.Known(c) {
			return false
		}
	}
	return true
}

// leastFittings are those that a run has at the least where nobody counted
// them: two elbows, the branch off the main, a valve. Common practice, no source.
var leastFittings = []int{2, 0, 0, 1, 1}

// crookedShare is the run's own length that its fittings stand for at the
// most, by how crooked it is, where nobody counted them.
var crookedShare = map[string]float64{"straight": 0.25, "usual": 0.5, "crooked": 1}

var crookedPractice = trade.Source{Document: "Fittings as a share of the run: 25 % straight, 50 % usual, 100 % crooked", Mark: trade.CommonPractice}

// fittings are how many of each kind of supplyFittings a line has.
func (l waterLine) fittings(c *Case) []int {
	if !l.counted(c) {
		return leastFittings
	}
	var n []int
	for _, a := range l.counts() {
		n = append(n, a.Of(c).N())
	}
	return n
}

// loss works out the losses of the line's run at a flow; insert: with insert
// fittings in the tube. Fittings that nobody counted are bounded from above.
func (l waterLine) loss(c *Case, t trade.Tube, flowGPM float64, insert bool) (p pressureLoss, err error) {
	found := l.ask()
	run := found.RunLength.Of(c).In(quantity.Foot)
	for i, n := range l.fittings(c) {
		ft, src := equivalentFt(t, i, insert)
		p.fittingsFt += float64(n) * ft
		if i == 0 {
			p.fittingSource = src
		}
	}
	if !l.counted(c) {
		p.fittingsFt, p.fittingSource = max(p.fittingsFt, crookedShare[found.Crooked.Of(c)]*run), crookedPractice
	}
	p.lengthFt = run + p.fittingsFt
	_, p.coefficient, _, err = trade.CValue(t.Material)
	if err != nil {
		return p, err
	}
	rough, err := trade.RoughnessMM(t.Material)
	if err != nil {
		return p, err
	}
	p.tempF = found.Temperature.Of(c).In(quantity.Fahrenheit)
	if !found.Temperature.Known(c) {
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

// An arrival is what is left of a line's pressure at the machine's inlet while
// the machine draws.
type arrival struct {
	Arrived
	left    quantity.Pressure
	may     []variant     // what it may be as well
	short   bool          // the readings don't cover the machine's flow
	working func() []Step // how it was worked out
}

// A variant is another pressure that may arrive: for want of an answer, which
// ask names, or, where there is nothing to ask, because it does so at times.
type variant struct {
	left         quantity.Pressure
	ask          check.Phrase
	symbol, name string // of its step
}

// flowAnswers are what arrive needs of each line.
var flowAnswers = map[waterLine][]survey.Ref{coldLine: flowAnswersOf(&ask.Water.Cold), hotLine: flowAnswersOf(&ask.Water.Hot)}

func flowAnswersOf(a *survey.LineAnswers) []survey.Ref {
	return []survey.Ref{a.Static, a.Flowing, a.Flow, a.Regulator, a.Material, a.Size, a.RunLength, a.Rise, a.DeviceLoss}
}

// arrive works out what arrives. Without a result, the outcome says why.
func (l waterLine) arrive(c *Case) (a arrival, out Outcome, ok bool) {
	found, inlet := l.of(c)
	if out, lacks := c.Lacking(flowAnswers[l]...); lacks {
		return a, out, false
	}
	if !l.counted(c) {
		if out, lacks := c.Lacking(found.Crooked); lacks {
			return a, out, false
		}
	}
	if !inlet.Flow.Known() {
		return a, c.Silent(check.Say("sheet.flow", "line", l.word())), false
	}
	static, flowing := found.Static.Of(c), found.Flowing.Of(c)
	if flowing.In(quantity.PSI)-static.In(quantity.PSI) > contradictionPSI {
		return a, check.Rule(check.Say("line.both-read", "flowing", flowing, "static", static), check.Say("line.below-static"), l.doubt(c), found.Flowing, found.Static), false
	}
	if !(found.Flow.Of(c).In(quantity.GPM) > 0) {
		return a, check.Rule(check.Say("line.at-flow", "flow", found.Flow.Of(c)), check.Say("line.a-flow"), check.Say("line.read-flow"), found.Flow, found.Flowing), false
	}
	tube, out, ok := l.tube(c)
	if !ok {
		return a, out, false
	}
	insert := tube.Material == trade.PEX && found.Fittings.Of(c) == "insert"
	flow := inlet.Flow.In(quantity.GPM)
	loss, err := l.loss(c, tube, flow, insert)
	if err != nil {
		return a, check.Rule(check.Say("line.no-result", "error", check.Figured(err)), check.Say("line.a-pressure"), check.Say("line.plumber-works-out"), found.Size), false
	}

	test := trade.FlowTest{StaticPSI: static.In(quantity.PSI), ResidualPSI: flowing.In(quantity.PSI), FlowGPM: found.Flow.Of(c).In(quantity.GPM)}
	set, fitted := l.tag(c)
	fallOff := found.FallOff.Of(c)
	held := math.Inf(1) // what a regulator behind the gauge lets through
	if fitted && l.ahead(c) {
		held = set.In(quantity.PSI)
		if fallOff.Known() {
			held -= fallOff.In(quantity.PSI)
		}
	}
	// curve is the pressure left where it was read, at a flow; at is that behind
	// a regulator, with the source's pressure higher by a shift.
	curve := func(gpm float64) float64 {
		if test.ResidualPSI >= test.StaticPSI {
			return test.StaticPSI
		}
		left, err := test.ResidualAt(gpm)
		if err != nil {
			return 0 // the flow would draw it to nothing
		}
		return left
	}
	at := func(gpm, shift float64) float64 { return min(curve(gpm)+shift, held) }
	arrives := func(p, lost float64) quantity.Pressure { return psi(p - lost) }
	began := at(flow, 0)
	left := arrives(began, loss.total())
	a.left = left
	a.Arrived = Arrived{
		Flow: inlet.Flow, Static: static, Flowing: psi(curve(flow)), Length: drainFt(loss.lengthFt),
		Friction: psi(loss.friction), Rise: psi(loss.rise), Devices: psi(loss.devices),
		Left: left, Want: check.Range(inlet.FlowingMin, inlet.FlowingMax),
	}
	if fitted && l.ahead(c) {
		a.Regulated = psi(began)
	}
	a.short = test.Caution(flow).TooFar
	if fitted && !l.ahead(c) {
		a.short = flow > test.FlowGPM // read behind the regulator: the curve doesn't hold across it
	}

	vary := func(symbol, name string, p float64, ask check.Phrase) {
		a.may = append(a.may, variant{arrives(p, loss.total()), ask, symbol, name})
	}
	if in := ask.Water.CutIn.Of(c); l.swings(c) && in.Known() && in.Cmp(static) < 0 {
		vary("p_in", "line.step-cut-in", at(flow, in.In(quantity.PSI)-test.StaticPSI), check.Phrase{})
	}
	if stop := ask.Water.CutOut.Of(c); l.swings(c) && stop.Known() && stop.Cmp(static) > 0 {
		vary("p_out", "line.step-cut-out", at(flow, stop.In(quantity.PSI)-test.StaticPSI), check.Phrase{})
	}
	if fitted && l.ahead(c) && !fallOff.Known() {
		vary("p_fall", "line.step-fall-off", min(began, held-trade.RegulatorFallPSI), check.Say("line.ask-fall-off", "line", l.word()))
	}
	if l.aboveTag(c) && !l.failed(c) {
		fall := trade.RegulatorFallPSI
		if fallOff.Known() {
			fall = fallOff.In(quantity.PSI)
		}
		vary("p_tag", "line.step-tag", min(began, set.In(quantity.PSI)-fall), l.doubt(c))
	}
	if other, both := l.drawnWith(c); both && ask.Water.Together.Of(c) != survey.Yes {
		vary("p_2", "line.step-together", at(flow+other, 0), check.Say("line.ask-together"))
	}
	if !l.counted(c) {
		straight := loss.friction * (loss.lengthFt - loss.fittingsFt) / loss.lengthFt
		a.may = append(a.may, variant{arrives(began, loss.total()-loss.friction+straight), check.Say("line.ask-counts", "line", l.word()), "p_0", "line.step-no-fittings"})
	}
	if tube.Material == trade.PEX && !found.Fittings.Known(c) {
		if more, err := l.loss(c, tube, flow, true); err == nil {
			a.may = append(a.may, variant{arrives(began, more.total()), check.Say("line.ask-fittings", "line", l.word()), "p_ins", "line.step-insert"})
		}
	}
	if c.Moved() { // nobody sees how it was worked out
		return a, Outcome{}, true
	}
	may := a.may
	a.working = func() []Step {
		steps := []Step{
			entry("Q", check.Say("step.machine-flow"), inlet.Flow),
			entry("p_s", check.Say("line.step-static"), static),
			entry("p_1", check.Say("line.step-flowing"), flowing),
			entry("Q_1", check.Say("line.step-flow"), found.Flow.Of(c)),
			entry("p_Q", check.Say("line.step-left"), inPSI(curve(flow))),
		}
		if fitted && l.ahead(c) {
			steps = append(steps, entry("p_r", check.Say("line.step-regulator"), inPSI(began)))
		}
		steps = append(steps, bore(tube),
			entry("C", check.Say("line.step-c"), check.Figure{Value: loss.coefficient}),
			entry("L_fit", check.Say("line.step-fittings", "source", ownCode(c, loss.fittingSource, upcSizing)), check.Figure{Value: loss.fittingsFt, Decimals: 2, Unit: "ft"}),
			entry("L", check.Say("line.step-length"), check.Figure{Value: loss.lengthFt, Decimals: 2, Unit: "ft"}),
			entry("p_f", check.Say("line.step-friction"), inPSI(loss.friction)),
			entry("p_DW", check.Say("line.step-darcy", "t", fahrenheit(loss.tempF)), inPSI(loss.darcy)),
			entry("p_z", check.Say("line.step-rise"), inPSI(loss.rise)),
			entry("p_d", check.Say("line.step-devices"), inPSI(loss.devices)))
		for _, v := range may {
			steps = append(steps, entry(v.symbol, check.Say(v.name, "source", insertSource), v.left))
		}
		return append(steps, entry("p", check.Say("line.step-arrives"), left))
	}
	return a, Outcome{}, true
}

// drawnWith is the flow that the machine draws from its other line at the same
// time: a mixing machine rinses with both.
func (l waterLine) drawnWith(c *Case) (gpm float64, both bool) {
	w := c.Machine.Water
	other := w.Hot
	if l == hotLine {
		other = w.Cold
	}
	if !w.MixValve || !other.Used || !other.Flow.Known() {
		return 0, false
	}
	return other.Flow.In(quantity.GPM), true
}

// inletPressure works out the pressure left at the machine's inlet while it fills.
func inletPressure(id string, line waterLine, after ...*Check) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet, trade.NFPA291, trade.HazenWilliams, trade.CValuesMemory, trade.IPCE103Solder, trade.IPCElevation, upcSizing,
			trade.FlowTeamRule, fallOffPractice, insertSource, crookedPractice},
		After:    after,
		Assumes:  []survey.Ref{line.ask().Regulator},
		Example:  inletExample(line),
		Skip:     line.skipInlet,
		Run:      line.runInlet,
		Remedies: func(c *Case, k *Check) []Remedy { return pressureRemedies(c, k, line) },
	}
}

// upcSizing is the UPC's like of the IPC's appendix on sizing.
var upcSizing = trade.Source{Document: "UPC", Clause: "Appendix A", Mark: trade.FromMemory}

func (l waterLine) skipInlet(c *Case) check.Phrase {
	return l.needs(func(i *specs.Inlet) bool { return i.FlowingMin.Known() || i.FlowingMax.Known() }, "sheet.flowing-range")(c)
}

func (l waterLine) runInlet(c *Case) Outcome {
	found, inlet := l.of(c)
	gap := l.behindGap(c)
	if gap && found.BreakTank.Of(c) == survey.No {
		out := check.Choice(false, check.Say("line.behind-gap"), check.Range(inlet.FlowingMin, inlet.FlowingMax), check.Say("backflow.tank-fit", "line", l.word()), found.Backflow, found.BreakTank)
		return c.OnSheet(out, endOf(l.at("flowing_pressure"), psi(0), inlet.FlowingMin, inlet.FlowingMax))
	}
	a, out, ok := l.arrive(c)
	if !ok {
		return out
	}
	judge := func(p quantity.Pressure) Outcome {
		out := check.Within(p, inlet.FlowingMin, inlet.FlowingMax,
			check.Say("line.bring", "least", inlet.FlowingMin, "flow", inlet.Flow),
			check.Say("line.hold", "line", l.word(), "most", inlet.FlowingMax),
			found.Static, found.Flowing, found.Flow, found.Size, found.RunLength, found.DeviceLoss)
		if _, fitted := l.tag(c); fitted {
			out.At = append(out.At, found.Regulator)
		}
		if p.In(quantity.PSI) < 0 {
			out.Have = check.FactOf(check.Say("line.nothing-left", "short", p.Times(-1)))
		}
		return c.OnSheet(out, endOf(l.at("flowing_pressure"), p, inlet.FlowingMin, inlet.FlowingMax))
	}
	out = judge(a.left)
	for _, v := range a.may {
		if v.ask.Zero() {
			out = graver(out, judge(v.left))
		}
	}
	for _, v := range a.may {
		if o := judge(v.left); !v.ask.Zero() && (o.Verdict == Fix) != (out.Verdict == Fix) && out.Verdict != Confirm {
			out.Verdict, out.Action = Confirm, v.ask
		}
	}
	switch {
	case out.Verdict != OK:
	case gap && found.BreakTank.Of(c) != survey.Yes:
		out.Verdict, out.Action = Confirm, check.Say("backflow.tank-ask", "line", l.word())
		out.At = append(out.At, found.BreakTank)
	case a.short:
		out.Verdict, out.Action = Confirm, check.Say("line.read-more", "flow", inlet.Flow)
	case closedBar(c):
		out.Verdict, out.Action = Confirm, check.Say("line.read-evening", "line", l.word())
	case !whenRead(c):
		out.Verdict, out.Action = Confirm, check.Say("line.read-when", "line", l.word())
		out.At = append(out.At, ask.Water.ReadBusy)
	}
	if a.working != nil {
		out.Working = append(a.working(), entry("p_range", check.Say("sheet.range"), check.Range(inlet.FlowingMin, inlet.FlowingMax)))
	}
	out.Result = a.Arrived
	return heeding(c, out, l.doubt)
}

// behindGap says whether the machine is fed through an air gap on its line,
// behind which nothing is left of the pressure.
func (l waterLine) behindGap(c *Case) bool {
	return c.Machine.Water.AirGap != "verified" && l.ask().Backflow.Of(c) == "air-gap"
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

// endOf names the end of a range on the sheet that a value is judged by.
func endOf[D quantity.Dimension](path string, have, low, high quantity.Of[D]) string {
	if !low.Known() || high.Known() && have.Cmp(high) > 0 {
		return path + "_max"
	}
	return path + "_min"
}

// pressureRemedies offers what brings the pressure at the inlet into its range.
func pressureRemedies(c *Case, k *Check, line waterLine) []Remedy {
	if line.behindGap(c) && line.ask().BreakTank.Of(c) == survey.No {
		return add(c, k, line.ask().BreakTank, check.PipeOrWire, check.Say("backflow.tank-way", "line", line.word()))
	}
	a, _, ok := line.arrive(c)
	if !ok || !line.doubt(c).Zero() {
		return nil
	}
	found, inlet := line.of(c)
	high := inlet.FlowingMax.Known() && a.left.Cmp(inlet.FlowingMax) > 0
	for _, v := range a.may {
		high = high || v.ask.Zero() && inlet.FlowingMax.Known() && v.left.Cmp(inlet.FlowingMax) > 0
	}
	if high {
		return line.reduced(c, k, line.read(c).In(quantity.PSI))
	}
	var rs []Remedy
	if set, fitted := line.tag(c); fitted {
		most := trade.MaxStaticPSI
		if line.ahead(c) {
			most = min(most, found.Static.Of(c).In(quantity.PSI))
		}
		higher := line.settings(c, most, set.In(quantity.PSI)+1)
		slices.Reverse(higher)
		rs = append(rs, line.regulators(c, k, higher)...)
	}
	if d := found.DeviceLoss.Of(c).In(quantity.PSI); d > leastLossPSI(found.Backflow.Of(c)) {
		for _, r := range c.Offer(k, found.DeviceLoss, check.Ladder(math.Ceil(d)-1, leastLossPSI(found.Backflow.Of(c)), 1, quantity.PSI), nil, func(v any) any {
			return check.Say("line.easier-devices", "line", line.word(), "loss", v)
		}) {
			r.Work = check.Device
			rs = append(rs, r)
		}
	}
	if ask.Water.CutIn.Known(c) || ask.Water.CutOut.Known(c) {
		rs = append(rs, wellSwitch(c, k, line)...)
	} else {
		rs = append(rs, boosterPump(c, k, line)...)
	}
	return append(rs, line.largerPipes(c, k)...)
}

// boosterPump offers a pump that holds its pressure up to the machine's flow at least.
func boosterPump(c *Case, k *Check, line waterLine) []Remedy {
	a, inlet := line.of(c)
	settings := line.settings(c, 75, math.Ceil(a.Flowing.Of(c).In(quantity.PSI)/5)*5+5)
	slices.Reverse(settings)
	var pumps []Remedy
	for _, text := range settings {
		pumps = append(pumps, Remedy{
			Change: check.Say("line.pump", "line", line.word(), "set", quantity.MustParse[quantity.Pressure](text), "flow", inlet.Flow),
			Work:   check.Fitting + check.Device,
			Set:    map[string]string{a.Static.Path(): text, a.Flowing.Path(): text, a.Flow.Path(): flowLike(text, inlet.Flow), a.Regulator.Path(): "0 psi"},
		})
	}
	return together(c, k, pumps)
}

// flowLike writes a flow in the system of a pressure's text, rounded up.
func flowLike(pressure string, q quantity.Flow) string {
	if strings.HasSuffix(pressure, "psi") {
		return quantity.GPM.Write(q.In(quantity.GPM))
	}
	return quantity.LPM.Write(math.Ceil(10*q.In(quantity.LPM)-1e-6) / 10)
}

// wellSwitch offers a well pump's switch set higher, to start at no more than
// what was read and to stop 20 psi above, as such switches mostly do (common
// practice, no source).
func wellSwitch(c *Case, k *Check, line waterLine) []Remedy {
	in, read := ask.Water.CutIn.Of(c), line.ask().Static.Of(c)
	if !in.Known() || !line.swings(c) {
		return nil
	}
	starts := line.settings(c, min(read.In(quantity.PSI), buildingLimit(c).In(quantity.PSI)-20), in.In(quantity.PSI)+1)
	slices.Reverse(starts)
	var rs []Remedy
	for _, text := range starts {
		start := quantity.MustParse[quantity.Pressure](text)
		stop := start.Plus(psi(20))
		if ask.Water.CutOut.Of(c).Known() && ask.Water.CutOut.Of(c).Cmp(stop) > 0 {
			stop = ask.Water.CutOut.Of(c)
		}
		rs = append(rs, Remedy{Change: check.Say("well.switch", "start", start, "stop", stop), Work: check.Adjusting,
			Set: map[string]string{ask.Water.CutIn.Path(): text, ask.Water.CutOut.Path(): writeLike(text, stop.In(quantity.PSI))}})
	}
	return together(c, k, rs)
}

// wellLower offers a well pump's switch set to stop lower, where its swing alone
// takes the pressure above a limit.
func wellLower(c *Case, k *Check, line waterLine, limitPSI float64) []Remedy {
	in, out := ask.Water.CutIn.Of(c), ask.Water.CutOut.Of(c)
	if !out.Known() || out.In(quantity.PSI) <= limitPSI || !line.swings(c) {
		return nil
	}
	for _, l := range waterLines {
		if _, inlet := l.of(c); inlet.Used && l.ask().Static.Of(c).In(quantity.PSI) > limitPSI {
			return nil
		}
	}
	var rs []Remedy
	for _, text := range line.settings(c, limitPSI, 40) {
		stop := quantity.MustParse[quantity.Pressure](text)
		start := stop.Minus(psi(20))
		if in.Known() && in.Cmp(start) < 0 {
			start = in
		}
		rs = append(rs, Remedy{Change: check.Say("well.switch", "start", start, "stop", stop), Work: check.Adjusting,
			Set: map[string]string{ask.Water.CutIn.Path(): writeLike(text, start.In(quantity.PSI)), ask.Water.CutOut.Path(): text}})
	}
	return together(c, k, rs)
}

// leastLossPSI is what the devices on a line lose at the least, by its backflow
// device: no other choice of devices takes that away. Common practice, no source.
func leastLossPSI(backflow string) float64 {
	switch backflow {
	case "", "none", "air-gap", "check-valve":
		return 0
	case "reduced-pressure":
		return 8
	}
	return 2
}

// pipeVelocity compares the speed of the water in a line with the guidance for
// its material and temperature. Guidance asks for a plumber's judgment, not
// for work: what starves the machine is judged by its pressure and pipe size.
// Under the UPC the limits for copper are a requirement.
func pipeVelocity(id string, line waterLine, after ...*Check) *Check {
	a := line.ask()
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{trade.CopperVelocity, trade.IPCVelocity, upcVelocity},
		After:   after,
		Example: Example{Machine: "avocet-r36", Given: map[string]string{a.Material.Path(): "copper-L", a.Size.Path(): "1/2 in", ask.Heater.SetPoint.Path(): "140 °F"}, Verdict: OK, Shows: "v = 3.44 ft/s"},
		Skip:    line.skip,
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(a.Material, a.Size); lacks {
				return out
			}
			_, inlet := line.of(c)
			hot := ask.Heater.SetPoint.Of(c) // what the pipe carries routinely
			if !hot.Known() {
				hot = a.Temperature.Of(c)
			}
			if line == hotLine && !hot.Known() {
				out, _ := c.Lacking(ask.Heater.SetPoint)
				return out
			}
			if !inlet.Flow.Known() {
				return c.Silent(check.Say("sheet.flow", "line", line.word()))
			}
			tube, out, ok := line.tube(c)
			if !ok {
				return out
			}
			limit, err := trade.VelocityLimit(tube.Material, line == hotLine, hot.In(quantity.Fahrenheit))
			if err != nil {
				return check.Rule(hot, check.Say("speed.covered"), check.Say("speed.judge"), a.Size)
			}
			v := trade.VelocityFPS(inlet.Flow.In(quantity.GPM), tube.ID)
			have, low, high := quantity.New(v, quantity.FootPerSecond), quantity.New(limit.Low, quantity.FootPerSecond), quantity.New(limit.High, quantity.FootPerSecond)
			out = check.UpTo(have, low, check.Phrase{}, a.Size, a.Material)
			switch rule := upcSpeed(c, line, tube.Material); {
			case rule.Known() && have.Cmp(rule) > 0:
				out = check.UpTo(have, rule, check.Say("speed.larger", "line", line.word(), "most", rule), a.Size, a.Material)
			case have.Cmp(high) > 0:
				out = check.UpTo(have, high, check.Phrase{}, a.Size, a.Material)
				out.Verdict, out.Action = Confirm, check.Say("speed.too-fast", "line", line.word(), "have", have, "high", high)
			case have.Cmp(low) > 0:
				out.Verdict, out.Action = Confirm, check.Say("speed.between", "have", have, "low", low, "high", high)
			}
			guidance := any(high)
			if limit.Low != limit.High {
				guidance = check.Range(low, high)
			}
			out.Working = []Step{
				entry("Q", check.Say("step.machine-flow"), inlet.Flow),
				bore(tube),
				entry("v", check.Say("speed.step"), check.Figure{Value: v, Decimals: 2, Unit: "ft/s"}),
				entry("v_max", check.Say("speed.guidance", "material", check.Word(a.Material.Of(c)), "line", line.word(), "source", ownCode(c, limit.Source, upcVelocity)), guidance),
			}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy { return line.largerPipes(c, k) },
	}
}

// upcVelocity: an engineering article of a valve maker says that the code sets
// 8 ft/s cold and 5 ft/s hot for copper; the clause is from memory.
var upcVelocity = trade.Source{Document: "UPC", Clause: "610.12", Mark: trade.FromMemory}

// upcSpeed is the fastest water that the UPC allows in copper; not known under another code.
func upcSpeed(c *Case, line waterLine, m trade.Material) (v quantity.Speed) {
	if ask.Codes.Plumbing.Of(c) != "upc" || m != trade.CopperK && m != trade.CopperL && m != trade.CopperM {
		return v
	}
	if line == hotLine {
		return quantity.New(5, quantity.FootPerSecond)
	}
	return quantity.New(8, quantity.FootPerSecond)
}

// supplySize compares a line's nominal size with the sheet's smallest.
func supplySize(id string, line waterLine) *Check {
	a := line.ask()
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: line.subject(),
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{a.Size.Path(): "3/8 in"}, Verdict: Fix},
		Skip:    line.needs(func(i *specs.Inlet) bool { return i.PipeSize.Known() }, "sheet.pipe-size"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(a.Size); lacks {
				return out
			}
			_, inlet := line.of(c)
			out := check.Choice(a.Size.Of(c).Cmp(inlet.PipeSize) >= 0, a.Size.Of(c), check.Fact{Value: inlet.PipeSize, Bound: check.AtLeast},
				check.Say("line.run-at-least", "line", line.word(), "size", inlet.PipeSize), a.Size)
			return c.OnSheet(sizeSpare(out, a.Size.Of(c), inlet.PipeSize), line.at("pipe_size"))
		},
		Remedies: func(c *Case, k *Check) []Remedy { return line.largerPipes(c, k) },
	}
}

// HotPipeMaterial sees that the hot pipe bears its water.
var HotPipeMaterial = &Check{
	ID:      "W-11",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Hot,
	Sources: []trade.Source{trade.ASTMD1785, trade.ASTMD2846, trade.ASTMF876, trade.DWVMetal},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Hot.Material.Path(): "pvc"}, Verdict: Fix},
	Skip:    hotLine.skip,
	Run: func(c *Case) Outcome {
		line := ask.Water.Hot
		if out, lacks := c.Lacking(line.Material); lacks {
			return out
		}
		name := check.Word(line.Material.Of(c))
		material := supplyMaterials[line.Material.Of(c)]
		limit, err := trade.SupplyTempLimit(material)
		if err != nil {
			return check.Rule(name, check.Say("W-11.known"), check.Say("W-11.ask"), line.Material)
		}
		replace := check.Say("W-11.replace", "material", name)
		if allowed, _ := trade.HotWaterAllowed(material); !allowed {
			out := check.Choice(false, name, check.Say("W-11.accepted"), replace, line.Material)
			out.Working = []Step{entry("material", check.Say("W-11.limit", "note", check.Quote(limit.Note), "source", limit.Source), name)}
			return out
		}
		if out, lacks := c.Lacking(line.Temperature); lacks {
			return out
		}
		hottest := hotLine.hottest(c)
		out := check.UpTo(hottest, fahrenheit(limit.MaxF), replace, line.Material, line.Temperature)
		out.Have = out.Have.In(check.Say("pair", "a", name))
		out.Working = []Step{
			entry("t", check.Say("W-11.hottest"), hottest),
			entry("t_max", check.Say("W-11.limit-of", "material", name, "note", check.Quote(limit.Note), "source", limit.Source), fahrenheit(limit.MaxF)),
		}
		return heeding(c, out, plausible(line.Temperature))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return working(check.PipeOrWire, c.Offer(k, ask.Water.Hot.Material, []string{"copper-L"}, nil, func(any) any { return check.Say("W-11.copper") }))
	},
}

// working notes how much work each of the remedies is.
func working(w check.Work, rs []Remedy) []Remedy {
	for i := range rs {
		rs[i].Work = w
	}
	return rs
}

// HotDeadLeg says how long hot water takes to arrive, and how much of what a
// cycle takes stands cooled in the pipe.
var HotDeadLeg = &Check{
	ID:      "W-12",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Hot,
	Sources: []trade.Source{{Document: "IPC", Edition: "2015 and later", Clause: "607.2", Mark: trade.ReadCopy}, {Document: "UPC", Clause: "sets no length", Mark: trade.FromMemory}, trade.Geometry, trade.CopperLoss, trade.NewtonCooling, trade.MixingBalance},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Hot.FromHeater.Path(): "35 ± 0 ft", ask.Water.Hot.Material.Path(): "copper-L", ask.Water.Hot.Size.Path(): "3/4 in"}, Verdict: OK, Shows: "V = 0.88 gal"},
	Skip:    hotLine.skip,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Hot.FromHeater); lacks {
			return out
		}
		line, inlet := hotLine.of(c)
		limit := quantity.New(hotLengthFt, quantity.Foot)
		out := check.UpTo(line.FromHeater.Of(c), limit, check.Say("W-12.nearer", "limit", limit), line.FromHeater)
		out.Working = []Step{entry("L", check.Say("W-12.length"), line.FromHeater.Of(c))}
		if tube, _, ok := hotLine.tube(c); ok {
			gal := trade.DeadLegGal(tube.ID, line.FromHeater.Of(c).In(quantity.Foot))
			out.Working = append(out.Working, bore(tube), entry("V", check.Say("W-12.volume"), check.Figure{Value: gal, Decimals: 2, Unit: "gal"}))
			if inlet.Flow.Known() {
				out.Working = append(out.Working, entry("t", check.Say("W-12.wait", "flow", inlet.Flow), check.Figure{Value: trade.DeadLegWaitS(gal, inlet.Flow.In(quantity.GPM)), Unit: "s"}))
			}
			if fill := c.Machine.Water.FillVolume; fill.Known() && c.Machine.Water.Fill != "cold" {
				out.Working = append(out.Working, entry("V/V_fill", check.Say("W-12.of-fill"), check.Share(trade.DeadLegFills(gal, fill.In(quantity.Gallon)))))
			}
			out = betweenCycles(c, out, tube, gal)
		}
		out.Working = append(out.Working, entry("L_max", check.Say("W-12.longest"), limit))
		if out.Verdict == Fix && ask.Codes.Plumbing.Of(c) != "ipc" {
			if missing, lacks := c.Lacking(ask.Codes.Plumbing); lacks {
				return missing
			}
			out.Verdict, out.Action = Confirm, check.Say("W-12.ask", "limit", limit)
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		lengths := check.Ladder(hotLengthFt, 5, 5, quantity.Foot)
		if !writtenIn(ask.Water.Hot.FromHeater.Of(c), "ft") && !writtenIn(ask.Water.Hot.FromHeater.Of(c), "in") {
			lengths = check.Ladder(15, 1, 1, quantity.Metre)
		}
		return working(check.NewCircuit, c.Offer(k, ask.Water.Hot.FromHeater, lengths, nil, func(v any) any { return check.Say("W-12.loop", "length", v) }))
	},
}

// betweenCycles compares what stands in the pipe with what one cycle takes, and
// works out how cool the cycle's water is for what cooled between two of them:
// in the busiest hour, in a bare pipe, since neither insulation nor a quieter
// hour is asked about. It asks for confirmation, never for work.
func betweenCycles(c *Case, out Outcome, tube trade.Tube, gal float64) Outcome {
	m, line := c.Machine, ask.Water.Hot
	cycle := m.Rinse.PerCycle.In(quantity.Gallon)
	if !(cycle > 0) {
		return out // a machine that runs on doesn't pause
	}
	share := check.Share(trade.DeadLegFills(gal, cycle))
	out.Working = append(out.Working, entry("V/V_cycle", check.Say("W-12.of-cycle"), share))
	peak := ask.Demand.Peak.Of(c)
	if !peak.Known() || peak.N() <= 0 || m.Throughput.PerRack <= 0 {
		return out
	}
	minutes := quantity.New(60*float64(m.Throughput.PerRack)/float64(peak.N()), quantity.Minute)
	out.Working = append(out.Working, entry("t_c", check.Say("W-12.between"), minutes))
	hot, least := line.Temperature.Of(c), m.Water.Hot.TempMin
	if !hot.Known() || !least.Known() {
		return out
	}
	room, meaning := ask.Space.RoomTemp.Of(c), check.Say("W-12.room")
	if !room.Known() {
		room, meaning = fahrenheit(roomF), check.Say("W-12.room-assumed")
	}
	size := tube.Nominal
	switch size { // the table lacks these: the next smaller, which cools sooner
	case "1/4", "3/8", "5/8":
		size = "1/2"
	}
	leg, err := trade.DeadLegF(size, false, tube.ID, hot.In(quantity.Fahrenheit), room.In(quantity.Fahrenheit), minutes.In(quantity.Minute))
	if err != nil {
		return out
	}
	intake := fahrenheit(trade.CycleIntakeF(gal, cycle, leg, hot.In(quantity.Fahrenheit)))
	out.Working = append(out.Working, entry("t_room", meaning, room), entry("t_leg", check.Say("W-12.leg", "source", trade.CopperLoss), fahrenheit(leg)), entry("t_in", check.Say("W-12.intake"), intake))
	if out.Verdict == OK && hot.Cmp(least) >= 0 && intake.Cmp(least) < 0 {
		out.Verdict, out.Action = Confirm, check.Say("W-12.cools", "share", share, "between", minutes, "intake", intake, "least", least)
		out.At = append(out.At, line.Temperature, ask.Demand.Peak)
	}
	return out
}

// roomF is the air that a hot pipe is taken to lie in where the room's
// temperature isn't known. Common practice, no source.
const roomF = 70.0

// hotLengthFt is the longest hot pipe from its source to what needs hot
// water. Source: IPC 607.2, 2015 and later, as a code council article quotes it.
const hotLengthFt = 50.0
