package rules

import (
	"errors"
	"maps"
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A dump is what the machine gives off at its peak.
type dump struct {
	gpm     float64
	assumed bool // the discharge coefficient isn't on the sheet
	steps   []Step
	at      string // where the sheet states it
}

// dumpHere computes the machine's peak discharge; lacks says what the
// requirement sheet doesn't state. The line's own friction is left out, which
// errs on the safe side.
func dumpHere(c *Case) (d dump, lacks check.Phrase) {
	m := c.Machine.Drain
	if m.Kind == "pump" {
		if !m.PumpFlow.Known() {
			return d, check.Say("silent.pump-flow")
		}
		return dump{gpm: m.PumpFlow.In(quantity.GPM), at: "drain.pump_flow", steps: []Step{entry("Q_m", check.Say("step.pump-flow"), m.PumpFlow)}}, lacks
	}
	if !m.OutletSize.Known() || !m.TankDepth.Known() {
		return d, check.Say("silent.outlet-and-depth")
	}
	cd, cdText := m.Discharge, check.Say("step.coefficient")
	if cd == 0 {
		cd, cdText, d.assumed = trade.CdSharp, check.Say("step.coefficient-assumed"), true
	}
	area := m.TankArea.In(quantity.SquareFoot)
	if !m.TankArea.Known() {
		area = 100 // the peak doesn't depend on it
	}
	r, err := trade.Dump{TankFt2: area, OutletIn: m.OutletSize.Inches(), Cd: cd, StartIn: m.TankDepth.In(quantity.Inch)}.Run()
	if err != nil {
		return d, check.Say("silent.tank")
	}
	d.gpm, d.at = r.PeakGPM, "drain.outlet_size"
	if c.Moved() { // nobody sees how it was worked out
		return d, lacks
	}
	d.steps = []Step{
		entry("d_o", check.Say("step.outlet-bore"), m.OutletSize),
		entry("h", check.Say("step.tank-depth"), m.TankDepth),
		entry("C_d", cdText, check.Figure{Value: cd, Decimals: 3}),
		entry("Q_m", check.Say("step.peak"), drainGPM(r.PeakGPM)),
	}
	if m.TankArea.Known() {
		d.steps = append(d.steps, entry("t", check.Say("step.drain-time"), quantity.New(r.TimeS, quantity.Second)))
	}
	return d, lacks
}

// An assumed coefficient gives no FIX: who made the machine must state it.
func (d dump) doubted(out Outcome) Outcome {
	if d.assumed && out.Verdict == Fix {
		out.Verdict, out.Action = Confirm, check.Say("drain.coefficient", "action", out.Action)
	}
	return out
}

// A carriage is what a pipe carries at its slope, gpm.
type carriage struct {
	half, twoThirds, full float64
	steps                 []Step
}

// carries computes what a pipe carries, and how full it runs at a flow.
func carries(material string, size quantity.PipeSize, slope, gpm float64, slopeText check.Phrase) (k carriage, err error) {
	pipe, note := drainPipe(material)
	n, err := trade.ManningNOf(pipe)
	if err != nil {
		return k, err
	}
	bore, boreText := drainBore(material, size)
	for _, f := range []struct {
		depth float64
		gpm   *float64
	}{{trade.HalfFull, &k.half}, {trade.TwoThirdsFull, &k.twoThirds}, {trade.FullBore, &k.full}} {
		flow, err := trade.Manning(bore, n.Design, slope, f.depth)
		if err != nil {
			return k, err
		}
		*f.gpm = flow.FlowGPM
	}
	k.steps = []Step{
		entry("d", boreText, drainIn(bore)),
		entry("n", check.Say("step.roughness", "pipe", check.Quote(pipe), "note", note), check.Figure{Value: n.Design, Decimals: 3}),
		entry("S", slopeText, drainSlopeOf(slope)),
	}
	switch depth, err := trade.ManningDepth(bore, n.Design, slope, gpm); {
	case err == nil:
		if flow, err := trade.Manning(bore, n.Design, slope, depth); err == nil {
			k.steps = append(k.steps, entry("y/d", check.Say("step.depth"), check.Share(depth)),
				entry("V", check.Say("step.velocity"), quantity.New(flow.VelocityFPS, quantity.FootPerSecond)))
		}
	case !errors.Is(err, trade.ErrCannot):
		return k, err
	}
	k.steps = append(k.steps,
		entry("Q half", check.Say("step.half"), drainGPM(k.half)),
		entry("Q two-thirds", check.Say("step.two-thirds"), drainGPM(k.twoThirds)),
		entry("Q full", check.Say("step.full"), drainGPM(k.full)))
	return k, nil
}

// DrainLineFlow compares the peak of the dump with what the line carries.
var DrainLineFlow = &Check{
	ID:      "D-07",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.ManningEq, trade.ManningNMem, trade.ManningN, trade.NSPCAppK, trade.Torricelli, trade.OrificeCd, trade.IPC704_1, trade.UPC708},
	After:   []*Check{DrainLineSize},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Size.Path(): "1-1/2 in", ask.Drain.Material.Path(): "pvc", ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "Q full = 12.9 gpm (48.7 L/min)"},
	Skip:    gravityOnly,
	Run:     runLineFlow,
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, oneOrOther(lessTempering(&Check{Skip: gravityOnly, Run: runLineFlow}), largerLine)(c)...)
	},
}

func runLineFlow(c *Case) Outcome {
	peak, lack := dumpHere(c)
	if !lack.Zero() {
		return c.Silent(lack)
	}
	d := ask.Drain
	if out, lacks := c.Lacking(ask.Codes.Plumbing, d.Size, d.Material, d.Tempering); lacks {
		return out
	}
	total := peak.gpm + d.Tempering.Of(c).In(quantity.GPM)
	slope, slopeText := drainSlope(c, d.Size.Of(c))
	k, err := carries(d.Material.Of(c), d.Size.Of(c), slope, total, slopeText)
	if err != nil {
		return c.Silent(check.Say("silent.flow"))
	}
	steps := append(peak.steps, entry("Q_c", check.Say("step.cooling"), d.Tempering.Of(c)))
	steps = append(append(steps, k.steps...), entry("Q", check.Say("step.line-peak"), drainGPM(total)))
	throttle := drainGPM(math.Max(0, k.full-d.Tempering.Of(c).In(quantity.GPM)))
	out := check.UpTo(drainGPM(total), drainGPM(k.full), check.Say("D-07.larger", "flow", throttle), d.Size, d.Material, d.Tempering)
	out.Want = out.Want.In(check.Say("D-07.in", "size", d.Size.Of(c), "slope", drainSlopeOf(slope)))
	// The height may allow a steeper line than the code's least.
	if out.Verdict == Fix {
		need := slope * (total / k.full) * (total / k.full) // Q grows with the root of S
		if steep := steepestHere(c); steep >= need {
			out.Verdict, out.Action = Confirm, check.Say("D-07.steeper", "slope", drainSlopeOf(math.Ceil(100*need)/100), "action", out.Action)
			steps = append(steps, entry("S_need", check.Say("step.slope-need"), drainSlopeOf(need)), entry("S_here", check.Say("step.slope-here"), drainSlopeOf(steep)))
		}
	}
	out.Working = steps
	return c.OnSheet(peak.doubted(out), peak.at)
}

// DrainReceptorFlow compares everything that drains into the receptor with what its outlet carries.
var DrainReceptorFlow = &Check{
	ID:      "D-08",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{receptorRule, receptorUPC, trade.NSPCAppK, trade.ManningEq, trade.ManningNMem, trade.Torricelli},
	After:   []*Check{DrainReceptorOutlet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "Q half = 19.5 gpm (73.9 L/min)"},
	Skip:    noReceptor,
	Run:     runReceptorFlow,
	Remedies: func(c *Case, k *Check) []Remedy {
		changes := oneOrOther(lessTempering(&Check{Skip: noReceptor, Run: runReceptorFlow}), oneOrOther(lessIntoLarger, largerOutlet))(c)
		if len(ask.Drain.Shares.Of(c)) > 0 {
			changes = append(changes, map[string]string{ask.Drain.Shares.Path(): "[]"})
		}
		return drainWays(c, k, changes...)
	},
}

func runReceptorFlow(c *Case) Outcome {
	peak, lack := dumpHere(c)
	if !lack.Zero() {
		return c.Silent(lack)
	}
	d := ask.Drain
	need := []survey.Ref{ask.Codes.Plumbing, d.Outlet, d.OutletOf, d.Shares, d.Tempering}
	for i := range d.Shares.Of(c) {
		need = append(need, d.Shares.Flow.At(i))
	}
	if out, lacks := c.Lacking(need...); lacks {
		return out
	}
	total := peak.gpm + d.Tempering.Of(c).In(quantity.GPM)
	steps := append(peak.steps, entry("Q_c", check.Say("step.cooling"), d.Tempering.Of(c)))
	for i, s := range d.Shares.Of(c) {
		total += s.Flow.In(quantity.GPM)
		steps = append(steps, entry("Q_"+itoa(i+1), check.Say("step.share", "name", check.Quote(s.Name)), s.Flow))
	}
	slope, slopeText := drainSlope(c, d.Outlet.Of(c))
	k, err := carries(d.OutletOf.Of(c), d.Outlet.Of(c), slope, total, slopeText)
	if err != nil {
		return c.Silent(check.Say("silent.flow"))
	}
	action := check.Say("D-08.larger")
	out := check.UpTo(drainGPM(total), drainGPM(k.half), action, d.Shares, d.Outlet, d.Tempering)
	out.Want = out.Want.In(check.Say("D-08.half", "size", d.Outlet.Of(c)))
	out.Working = append(append(steps, k.steps...), entry("Q", check.Say("step.sum-of-peaks"), drainGPM(total)))
	if full := drainGPM(k.full); out.Verdict == Fix && drainGPM(total).Cmp(full) <= 0 {
		out.Verdict, out.Action = Confirm, check.Say("D-08.confirm", "full", full, "action", action)
	}
	return c.OnSheet(peak.doubted(out), peak.at)
}

// hottest is the hottest discharge by the sheet: as stated there, else that of the wash.
func hottest(c *Case) quantity.Temperature {
	if t := c.Machine.Drain.Temperature; t.Known() {
		return t
	}
	return c.Machine.Wash.Temp
}

// mixHere is the temperature of the discharge after cold water is mixed in.
// When the discharge is no hotter than the limit without any, no answer is
// needed. ok is false when out says what is missing.
func mixHere(c *Case, limitF float64) (mixF float64, assumed bool, steps []Step, out Outcome, ok bool) {
	hot := hottest(c)
	if !hot.Known() {
		return 0, false, nil, c.Silent(check.Say("silent.discharge-temperature")), false
	}
	hotF := hot.In(quantity.Fahrenheit)
	steps = []Step{entry("T_h", check.Say("step.hottest"), hot)}
	cold := ask.Drain.Tempering.Of(c)
	if hotF <= limitF && !(cold.In(quantity.GPM) > 0) {
		return hotF, false, steps, out, true
	}
	need := []survey.Ref{ask.Drain.Tempering}
	if cold.In(quantity.GPM) > 0 {
		need = append(need, ask.Water.Cold.Summer)
	}
	if out, lacks := c.Lacking(need...); lacks {
		if hotF <= limitF {
			return hotF, false, steps, Outcome{}, true
		}
		return 0, false, nil, out, false
	}
	if cold.In(quantity.GPM) == 0 {
		return hotF, false, append(steps, entry("Q_c", check.Say("step.cooling-none"), cold)), out, true
	}
	peak, lack := dumpHere(c)
	if !lack.Zero() {
		if hotF <= limitF {
			return hotF, false, steps, Outcome{}, true
		}
		return 0, false, nil, c.Silent(lack), false
	}
	tc := ask.Water.Cold.Summer.Of(c)
	if today := ask.Water.Cold.Temperature.Of(c); today.Cmp(tc) > 0 {
		tc = today
	}
	coldF := tc.In(quantity.Fahrenheit)
	mixF = trade.MixedTemp(peak.gpm, hotF, cold.In(quantity.GPM), coldF)
	steps = append(steps, peak.steps...)
	steps = append(steps, entry("T_c", check.Say("step.cold-warmest"), tc), entry("Q_c", check.Say("step.cooling-outlet"), cold))
	if least, err := trade.TemperFlow(peak.gpm, hotF, coldF, limitF); err == nil && least > 0 {
		steps = append(steps, entry("Q_c,min", check.Say("step.cooling-least"), drainGPM(least)))
	}
	return mixF, peak.assumed, steps, out, true
}

// coolAction is what to do about too hot a discharge.
func coolAction(c *Case, limit quantity.Temperature) check.Phrase {
	tc := ask.Water.Cold.Summer.Of(c)
	if peak, lack := dumpHere(c); lack.Zero() && tc.Known() {
		if least, err := trade.TemperFlow(peak.gpm, hottest(c).In(quantity.Fahrenheit), tc.In(quantity.Fahrenheit), limit.In(quantity.Fahrenheit)); err == nil {
			return check.Say("drain.cool-by", "flow", drainGPM(least), "limit", limit)
		}
	}
	return check.Say("drain.cool", "limit", limit)
}

// coolings is the least flow of cold water with which the sewer's limit is met,
// in steps of 1/2 gpm or 2 L/min, with its line, valve, shut-off and backflow device.
func coolings(c *Case) []map[string]string { return coolingsFor(c, &Check{Run: runSewerHeat}) }

func coolingsFor(c *Case, k *Check) []map[string]string {
	d := ask.Drain
	from := d.Tempering.Of(c).In(quantity.GPM)
	if !d.Tempering.Known(c) {
		from = 0
	}
	flows := check.Ladder(math.Floor(2*from+1)/2, 30, 0.5, quantity.GPM)
	if metric(c) {
		flows = check.Ladder(math.Floor(from*3.785411784/2+1)*2, 120, 2, quantity.LPM)
	}
	return firstOf(c, k, d.Tempering, flows, coolingParts(c))
}

// coolingParts are the answers that water for cooling needs besides its flow,
// where they aren't right yet.
func coolingParts(c *Case) map[string]string {
	d, set := ask.Drain, map[string]string{}
	if d.TemperLine.Of(c) != survey.Yes {
		set[d.TemperLine.Path()] = "yes"
	}
	if d.TemperShut.Of(c) != survey.Yes {
		set[d.TemperShut.Path()] = "yes"
	}
	if v := d.TemperValve.Of(c); v != "thermostatic" && v != "solenoid" {
		set[d.TemperValve.Path()] = "thermostatic"
	}
	switch g := d.TemperGuard.Of(c); {
	case guarded(c).Verdict == OK:
	case g == "reduced-pressure":
		set[d.TemperSpill.Path()] = "yes"
	default:
		set[d.TemperGuard.Path()], set[d.TemperSpill.Path()] = "reduced-pressure", "yes"
	}
	return set
}

// pipeHeat is the hottest water that a drain material takes; of an unknown
// one, that of plastic, since none takes less.
func pipeHeat(material string) trade.TempLimit {
	pipe, _ := drainPipe(material)
	limit, err := trade.DrainTempLimit(pipe)
	if err != nil {
		panic("rules: " + err.Error())
	}
	return limit
}

// DrainPipeHeat compares the discharge's temperature with what the pipes take.
var DrainPipeHeat = &Check{
	ID:       "D-09",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.DWVPlastic, trade.DWVCPVC, trade.DWVMetal, trade.MixingBalance},
	After:    []*Check{DrainSewerHeat},
	Assumes:  []survey.Ref{ask.Drain.Receptor},
	Example:  Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "T = 130 °F (54.4 °C)"},
	Run:      runPipeHeat,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, heatproof(c)...) },
}

// heatproof are the ways to pipes that take the discharge: cooled, or of another material.
func heatproof(c *Case) []map[string]string {
	d := ask.Drain
	sets := coolingsFor(c, &Check{Run: runPipeHeat})
	for _, m := range []string{"cpvc", "copper", "cast-iron"} {
		set := map[string]string{}
		if pipeHeat(m).MaxF > pipeHeat(d.Material.Of(c)).MaxF {
			set[d.Material.Path()] = m
		}
		if pipeHeat(m).MaxF > pipeHeat(d.OutletOf.Of(c)).MaxF && d.Receptor.Of(c) != "none" {
			set[d.OutletOf.Path()] = m
		}
		if len(set) > 0 {
			sets = append(sets, maps.Clone(set))
		}
	}
	return sets
}

func runPipeHeat(c *Case) Outcome {
	d := ask.Drain
	lowest := pipeHeat("").MaxF
	limitF, at, name := pipeHeat(d.Material.Of(c)).MaxF, survey.Ref(d.Material), check.Say("drain.line")
	if o := pipeHeat(d.OutletOf.Of(c)).MaxF; o < limitF && d.Receptor.Of(c) != "none" {
		limitF, at, name = o, d.OutletOf, check.Say("drain.outlet")
	}
	mix, assumed, steps, out, ok := mixHere(c, limitF)
	if !ok {
		return out
	}
	if mix > lowest {
		need := []survey.Ref{d.Material}
		if d.Receptor.Of(c) != "none" {
			need = append(need, d.OutletOf)
		}
		if out, lacks := c.Lacking(need...); lacks {
			return out
		}
	}
	have, limit := quantity.New(mix, quantity.Fahrenheit), quantity.New(limitF, quantity.Fahrenheit)
	out = check.UpTo(have, limit, check.Say("D-09.cool", "cool", coolAction(c, limit), "part", name), at, d.Tempering)
	out.Working = append(steps, entry("T", check.Say("step.mixed"), have), entry("T_max", check.Say("step.service", "part", name), limit))
	return dump{assumed: assumed}.doubted(out)
}

// DrainSewerHeat compares the discharge's temperature with the sewer's limit.
var DrainSewerHeat = &Check{
	ID:       "D-10",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.IPC701_7, trade.UPC810_1, trade.MixingBalance},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: Fix, Shows: "T = 150 °F (65.6 °C)"},
	Run:      runSewerHeat,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, coolings(c)...) },
}

func runSewerHeat(c *Case) Outcome {
	limit, text := ask.Codes.SewerLimit.Of(c), check.Say("step.sewer-local")
	known := limit.Known()
	if !known {
		limit, text = quantity.New(trade.SewerLimitF, quantity.Fahrenheit), check.Say("step.sewer-model")
	}
	mix, assumed, steps, out, ok := mixHere(c, limit.In(quantity.Fahrenheit))
	if !ok {
		return out
	}
	have := quantity.New(mix, quantity.Fahrenheit)
	out = check.UpTo(have, limit, check.Say("D-10.cool", "cool", coolAction(c, limit)), ask.Drain.Tempering, ask.Codes.SewerLimit)
	if out.Verdict == Fix && !known && drainFamily(c) == "" {
		out.Verdict, out.Action = Confirm, check.Say("D-10.ask", "action", out.Action)
	}
	out.Working = append(steps, entry("T", check.Say("step.mixed"), have), entry("T_max", text, limit))
	return dump{assumed: assumed}.doubted(out)
}
