package rules

import (
	"maps"
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Cold water that cools the discharge is a supply of its own: it needs a line
// that carries it, a valve that lets it in, a shut-off, and protection against
// the waste that it runs into.

// coolingPSI is what is to be left at the valve that lets cooling water in.
const coolingPSI = 20.0

var coolingPractice = trade.Source{Document: "Cooling water to a drain: 20 psi left at its valve, let in by itself, shut off within reach", Mark: trade.CommonPractice}

// noCooling is why the supply of cooling water doesn't matter.
func noCooling(c *Case) check.Phrase {
	if q := ask.Drain.Tempering.Of(c); q.Known() && q.In(quantity.GPM) == 0 {
		return check.Say("drain.no-cooling")
	}
	return check.Phrase{}
}

// DrainCoolingSupply compares the water that cools the discharge with what the cold line carries.
var DrainCoolingSupply = &Check{
	ID:      "D-23",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.NFPA291, trade.CopperVelocity, coolingPractice},
	Assumes: []survey.Ref{ask.Water.Cold.Regulator},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Static.Path(): "62 ± 0 psi", ask.Water.Cold.Flowing.Path(): "41 ± 0 psi", ask.Water.Cold.Flow.Path(): "2 ± 0 gpm", ask.Drain.Tempering.Path(): "3 gpm"}, Verdict: Fix, Shows: "Q_20 = 2.91 gpm (11 L/min)"},
	Skip:    noCooling,
	Run:     runCoolingSupply,
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, lessTempering(&Check{Skip: noCooling, Run: runCoolingSupply})(c)...)
	},
}

func runCoolingSupply(c *Case) Outcome {
	d, cold := ask.Drain, ask.Water.Cold
	if out, lacks := c.Lacking(d.Tempering); lacks {
		return out
	}
	need := d.Tempering.Of(c)
	bring := check.Say("D-23.bring", "flow", need, "left", quantity.New(coolingPSI, quantity.PSI))
	if line := d.TemperLine.Of(c); line == survey.No || line != survey.Yes && cold.Thread.Of(c) == "none" {
		return check.Choice(false, check.Say("D-23.none"), check.Fact{Value: need, Bound: check.AtLeast}.In(check.Say("D-23.want")), bring, d.TemperLine, d.Tempering)
	}
	if !c.Machine.Water.Cold.Used { // it has no cold line of its own that could be taken
		if out, lacks := c.Lacking(d.TemperLine); lacks {
			return out
		}
	}
	at := []survey.Ref{d.Tempering, cold.Static, cold.Flowing, cold.Flow}
	want := check.Fact{Value: need, Bound: check.AtLeast}.In(check.Say("D-23.want"))
	if _, lacks := c.Lacking(at...); lacks {
		return check.Rule(check.Say("D-23.unread"), want, bring, append(at, d.TemperLine)...)
	}
	lower := 0.0 // a well pump's pressure just before it starts lies lower by so much
	if in := ask.Water.CutIn.Of(c); coldLine.swings(c) && in.Known() && in.Cmp(cold.Static.Of(c)) < 0 {
		lower = cold.Static.Of(c).In(quantity.PSI) - in.In(quantity.PSI)
	}
	test := trade.FlowTest{StaticPSI: cold.Static.Of(c).In(quantity.PSI) - lower, ResidualPSI: cold.Flowing.Of(c).In(quantity.PSI) - lower, FlowGPM: cold.Flow.Of(c).In(quantity.GPM)}
	gives, err := test.FlowAt(coolingPSI)
	if err != nil {
		if test.ResidualPSI < coolingPSI {
			return check.Choice(false, check.Fact{Value: psi(test.StaticPSI)}.In(check.Say("D-23.weak")), want, bring, at...)
		}
		gives = test.FlowGPM // it didn't fall at that flow
	}
	out := check.From(drainGPM(gives), need, bring, at...)
	out.Want = out.Want.In(check.Say("D-23.want"))
	out.Working = []Step{entry("p_s", check.Say("step.cold-static"), cold.Static.Of(c)), entry("p_1", check.Say("step.cold-flowing"), cold.Flowing.Of(c)),
		entry("Q_1", check.Say("step.cold-flow"), cold.Flow.Of(c)), entry("Q_20", check.Say("step.cold-gives"), drainGPM(gives)), entry("Q_c", check.Say("step.cooling"), need)}
	if most, ok := coolingSpeed(c); ok {
		out.Working = append(out.Working, entry("Q_v", check.Say("step.cold-speed"), drainGPM(most)))
		if out.Verdict == OK && need.In(quantity.GPM) > most {
			out.Verdict, out.Action = Confirm, check.Say("D-23.branch", "flow", need, "most", drainGPM(most))
			out.At = append(out.At, cold.Size, cold.Material)
		}
	}
	if loss := usualLossPSI[d.TemperGuard.Of(c)]; out.Verdict == OK && loss > 0 {
		left, err := test.FlowAt(coolingPSI + loss)
		if err != nil && test.ResidualPSI >= coolingPSI+loss {
			left = test.FlowGPM // it didn't fall at that flow
		}
		out.Working = append(out.Working, entry("Q_g", check.Say("step.cold-behind", "loss", psi(loss)), drainGPM(left)))
		if drainGPM(left).Cmp(need) < 0 {
			out.Verdict, out.Action = Confirm, check.Say("D-23.guard", "device", check.Word(d.TemperGuard.Of(c)), "loss", psi(loss), "flow", drainGPM(left))
			out.At = append(out.At, d.TemperGuard)
		}
	}
	if out.Verdict == OK && closedBar(c) {
		out.Verdict, out.Action = Confirm, check.Say("line.read-evening", "line", coldLine.word())
		out.At = append(out.At, ask.Water.ReadBusy)
	}
	return heeding(c, out, coldLine.doubt)
}

// coolingSpeed is what the machine's cold line carries at the speed at which
// guidance ends, gpm; not ok where its pipe isn't known.
func coolingSpeed(c *Case) (gpm float64, ok bool) {
	cold := ask.Water.Cold
	if !cold.Size.Known(c) || !cold.Material.Known(c) {
		return 0, false
	}
	tube, _, ok := coldLine.tube(c)
	if !ok {
		return 0, false
	}
	limit, err := trade.VelocityLimit(tube.Material, false, 60)
	return trade.FlowAtVelocityGPM(limit.High, tube.ID), err == nil
}

// lessTempering is the least flow of cooling water that still cools enough and
// cures a check; nothing where less won't do.
func lessTempering(k *Check) func(*Case) []map[string]string {
	return func(c *Case) []map[string]string {
		for _, set := range coolEnough(c) {
			if after, err := c.With(set); err == nil && after.Passes(k) {
				return []map[string]string{set}
			}
		}
		return nil
	}
}

// coolEnough lists the lesser flows of cooling water that still cool the
// discharge enough for pipes and sewer, the least first.
func coolEnough(c *Case) []map[string]string {
	now := ask.Drain.Tempering.Of(c)
	if !(now.In(quantity.GPM) > 0) {
		return nil
	}
	flows := check.Ladder(0.5, math.Min(30, now.In(quantity.GPM)-0.1), 0.5, quantity.GPM)
	if metric(c) {
		flows = check.Ladder(2, math.Min(120, now.In(quantity.LPM)-0.5), 2, quantity.LPM)
	}
	for i, flow := range flows {
		after, err := c.With(map[string]string{ask.Drain.Tempering.Path(): flow})
		if err == nil && after.Passes(&Check{Run: runSewerHeat}) && after.Passes(&Check{Run: runPipeHeat}) {
			return eachOf(ask.Drain.Tempering, flows[i:]...) // more cools more
		}
	}
	return nil
}

// lessIntoLarger is the least flow of cooling water into a larger outlet, where
// that spares a still larger one.
func lessIntoLarger(c *Case) []map[string]string {
	less := coolEnough(c)
	if len(less) == 0 {
		return nil
	}
	after, err := c.With(less[0])
	if err != nil {
		return nil
	}
	sets := largerOutlet(after)
	if alone := largerOutlet(c); len(sets) == 0 || len(alone) > 0 && maps.Equal(sets[0], alone[0]) {
		return nil
	}
	for _, set := range sets {
		maps.Copy(set, less[0])
	}
	return sets
}

// coolingSite is where the cooling water's backflow device stands.
func coolingSite() deviceSite {
	d := ask.Drain
	return deviceSite{d.TemperGuard, d.TemperAbove, d.TemperSpill, check.Say("D-24.lead")}
}

// guarded judges the cooling water's backflow device: for high hazard, where
// its place lets it work. Behind an air gap the water falls into the drain; no
// pressure is wanted there.
func guarded(c *Case) Outcome {
	answer := ask.Drain.TemperGuard.Of(c)
	if answer == "" {
		return check.Rule(check.Say("D-24.guard-unread"), nil, check.Say("D-24.guard-read"), ask.Drain.TemperGuard)
	}
	name := check.Say("D-24.guard", "device", check.Word(answer))
	d, err := trade.FindBackflowDevice(backflowStandards[answer])
	if err != nil || !d.HighHazard {
		return check.Choice(false, name, nil, check.Say("D-24.guard-fit"), ask.Drain.TemperGuard)
	}
	out := devicesHeight(c, coolingSite(), name)
	if !d.ContinuousPressure && answer != "air-gap" && out.Verdict == OK {
		out = check.Rule(name, nil, check.Say("D-24.guard-last", "device", check.Word(answer)), ask.Drain.TemperGuard)
	}
	spill := devicesSpill(c, coolingSite(), name)
	working := out.Working
	out = graver(out, spill)
	out.Working = working
	return out
}

// DrainCoolingValve asks for the protection, the valve and the shut-off of the water that cools the discharge.
var DrainCoolingValve = &Check{
	ID:       "D-24",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{trade.IPC608_1, backflowUPC, backflowHeight, coolingPractice},
	After:    []*Check{DrainCoolingSupply},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.TemperGuard.Path(): "check-valve"}, Verdict: Fix},
	Skip:     noCooling,
	Run:      runCoolingValve,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k) },
}

var backflowUPC = trade.Source{Document: "UPC", Clause: "Table 603.2 (backflow devices by hazard)", Mark: trade.FromMemory}

func runCoolingValve(c *Case) Outcome {
	d := ask.Drain
	if out, lacks := c.Lacking(d.Tempering); lacks {
		return out
	}
	at := []survey.Ref{d.TemperGuard, d.TemperValve, d.TemperShut}
	verdict := OK
	var have, do check.List
	judge := func(v check.Verdict, found any, action check.Phrase) {
		have = append(have, found)
		if v != OK {
			do = append(do, action)
		}
		verdict = min(verdict, v)
	}
	guard := guarded(c)
	judge(guard.Verdict, guard.Have, guard.Action)
	at = append(at, guard.At[1:]...)
	switch valve := d.TemperValve.Of(c); valve {
	case "":
		judge(Confirm, check.Say("D-24.valve-unread"), check.Say("D-24.valve-read"))
	case "none":
		judge(Fix, check.Say("D-24.valve-none"), check.Say("D-24.valve-fit"))
	case "hand":
		judge(Confirm, check.Say("D-24.valve-hand"), check.Say("D-24.valve-open"))
	default:
		judge(OK, check.Say("D-24.valve", "kind", check.Word(valve)), check.Phrase{})
	}
	switch d.TemperShut.Of(c) {
	case survey.Yes:
		judge(OK, check.Say("D-24.shut"), check.Phrase{})
	case survey.No:
		judge(Fix, check.Say("D-24.shut-none"), check.Say("D-24.shut-fit"))
	default:
		judge(Confirm, check.Say("D-24.shut-unread"), check.Say("D-24.shut-read"))
	}
	out := Outcome{Verdict: verdict, At: at, Have: check.FactOf(check.Say("D-24.have", "parts", have)), Want: check.FactOf(check.Say("D-24.want")), Margin: guard.Margin, Working: guard.Working}
	if verdict != OK {
		out.Action = check.Say("D-24.do", "parts", do)
	}
	return out
}

// coolingLine brings what the cooling water lacks.
func coolingLine(c *Case) []map[string]string {
	if parts := coolingParts(c); len(parts) > 0 {
		return []map[string]string{parts}
	}
	return nil
}
