package rules

import (
	"errors"
	"firstfill/specs/check"
	"firstfill/survey"
	"fmt"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// A dump is what the machine gives off at its peak.
type dump struct {
	gpm   float64
	steps []Step
	at    string // where the sheet states it
}

// dumpHere computes the machine's peak discharge; what is the empty string, or
// what the requirement sheet lacks. The line's own friction is left out, which
// errs on the safe side.
func dumpHere(c *Case) (d dump, what string) {
	m := c.Machine.Drain
	if m.Kind == "pump" {
		if !m.PumpFlow.Known() {
			return d, "the flow of the drain pump"
		}
		q := m.PumpFlow.In(quantity.GPM)
		return dump{gpm: q, at: "drain.pump_flow", steps: []Step{{"Q_m", check.Say("dump-here.step"), m.PumpFlow}}}, ""
	}
	if !m.OutletSize.Known() || !m.TankDepth.Known() {
		return d, "the size of the drain outlet and the depth of water above it"
	}
	cd, cdText := m.Discharge, any(check.Say("dump-here.cdtext"))
	if cd == 0 {
		cd, cdText = trade.CdSharp, check.Say("dump-here.cdtext2")
	}
	area := m.TankArea.In(quantity.SquareFoot)
	if !m.TankArea.Known() {
		area = 100 // the peak doesn't depend on it
	}
	r, err := trade.Dump{TankFt2: area, OutletIn: m.OutletSize.Inches(), Cd: cd, StartIn: m.TankDepth.In(quantity.Inch)}.Run()
	if err != nil {
		return d, "a tank that its outlet can drain"
	}
	d = dump{gpm: r.PeakGPM, at: "drain.outlet_size", steps: []Step{
		{"d_o", check.Say("dump-here.step2"), m.OutletSize},
		{"h", check.Say("dump-here.step3"), m.TankDepth},
		{"C_d", cdText, check.Figure{Value: cd, Decimals: 3}},
		{"Q_m", check.Say("dump-here.step4"), drainGPM(r.PeakGPM)},
	}}
	if m.TankArea.Known() {
		d.steps = append(d.steps, Step{"t", check.Say("dump-here.step5"), quantity.New(r.TimeS, quantity.Second)})
	}
	return d, ""
}

// capacities are what a pipe carries at its slope.
type capacities struct {
	bore, n, slope               float64
	half, twoThirds, full, depth float64 // gpm; depth over bore at the flow asked for, NaN when it can't carry it
	fps                          float64 // at that flow
	steps                        []Step
}

func carries(c *Case, material string, size quantity.PipeSize, slope, gpm float64, slopeText any) (capacities, error) {
	pipe, note := drainPipe(material)
	n, err := trade.ManningNOf(pipe)
	if err != nil {
		return capacities{}, err
	}
	bore, boreText := drainBore(material, size)
	k := capacities{bore: bore, n: n.Design, slope: slope}
	for _, f := range []struct {
		depth float64
		gpm   *float64
	}{{trade.HalfFull, &k.half}, {trade.TwoThirdsFull, &k.twoThirds}, {trade.FullBore, &k.full}} {
		flow, err := trade.Manning(bore, n.Design, slope, f.depth)
		if err != nil {
			return capacities{}, err
		}
		*f.gpm = flow.FlowGPM
	}
	k.steps = []Step{
		{"d", boreText, drainIn(bore)},
		{"n", check.Say("carries.step", "pipe", check.Quote(pipe), "note", note), check.Figure{Value: n.Design, Decimals: 3}},
		{"S", slopeText, quantity.New(slope, quantity.InchPerFoot)},
	}
	k.depth, err = trade.ManningDepth(bore, n.Design, slope, gpm)
	if err != nil {
		if !errors.Is(err, trade.ErrCannot) {
			return capacities{}, err
		}
		k.depth = math.NaN()
	} else if flow, err := trade.Manning(bore, n.Design, slope, k.depth); err == nil {
		k.fps = flow.VelocityFPS
		k.steps = append(k.steps, Step{"y/d", check.Say("carries.step2"), check.Share(k.depth)},
			Step{"V", check.Say("carries.step3"), quantity.New(k.fps, quantity.FootPerSecond)})
	}
	k.steps = append(k.steps,
		Step{"Q half", check.Say("carries.step4"), drainGPM(k.half)},
		Step{"Q two-thirds", check.Say("carries.step5"), drainGPM(k.twoThirds)},
		Step{"Q full", check.Say("carries.step6"), drainGPM(k.full)})
	return k, nil
}

// DrainLineFlow compares the peak of the dump with what the line carries.
var DrainLineFlow = &Check{
	ID:      "D-07",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "peak discharge against what the drain line carries",
	Why:     "The tank empties fastest at the start. A line that can't take the peak by its own slope runs full and backs up: the tank drains slowly and the line gurgles. The line is open at both ends and unvented, so its full bore is the limit; half full, the design basis of vented branches, is shown beside it.",
	Formula: "Q_m = C_d (pi/4) d_o^2 sqrt(2 g h); V = (1.486/n) R^(2/3) S^(1/2), Q = A V (ft, s); limit: Q_m + Q_c <= Q full",
	Range:   "gravity drains; steady flow at the peak, friction in the line left out of the peak (safe side)",
	Sources: []trade.Source{trade.ManningEq, trade.ManningNMem, trade.ManningN, trade.NSPCAppK, trade.Torricelli, trade.OrificeCd, trade.IPC704_1, trade.UPC708},
	After:   []*Check{DrainLineSize},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Size.Path(): "1-1/2 in", ask.Drain.Material.Path(): "pvc", ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "Q full = 12.9 gpm (48.7 L/min)"},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		peak, what := dumpHere(c)
		if what != "" {
			return c.Silent(check.Quote(what))
		}
		if out, lacks := c.Lacking(ask.Codes.Plumbing, ask.Drain.Size, ask.Drain.Material, ask.Drain.Tempering); lacks {
			return out
		}
		d := ask.Drain
		total := peak.gpm + d.Tempering.Of(c).In(quantity.GPM)
		slope, slopeText := drainSlope(c, d.Size.Of(c))
		k, err := carries(c, d.Material.Of(c), d.Size.Of(c), slope, total, slopeText)
		if err != nil {
			return c.Silent(check.Say("D-07.sheet"))
		}
		steps := append(peak.steps, Step{"Q_c", check.Say("D-07.step"), d.Tempering.Of(c)})
		steps = append(append(steps, k.steps...), Step{"Q", check.Say("D-07.step2"), drainGPM(total)})
		out := check.UpTo(drainGPM(total), drainGPM(k.full), check.Say("D-07.do", "draingpm", drainGPM(math.Max(0, k.full-d.Tempering.Of(c).In(quantity.GPM)))),
			ask.Drain.Size, ask.Drain.Material, ask.Drain.Tempering)
		out.Want = out.Want.Also(check.Say("D-07.also", "size", d.Size.Of(c), "new", quantity.New(slope, quantity.InchPerFoot)))
		// The height may allow a steeper line than the code's least.
		if out.Verdict == Fix {
			need := slope * (total / k.full) * (total / k.full) // Q grows with the root of S
			if steep := slopeHere(c); steep >= need {
				out.Verdict = Confirm
				out.Action = check.PhraseOf(check.Say("D-07.do2", "new", quantity.New(math.Ceil(100*need)/100, quantity.InchPerFoot), "action", out.Action))
				steps = append(steps, Step{"S_need", check.Say("D-07.step3"), quantity.New(need, quantity.InchPerFoot)},
					Step{"S_here", check.Say("D-07.step4"), quantity.New(steep, quantity.InchPerFoot)})
			}
		}
		out.Working = steps
		return c.OnSheet(out, peak.at)
	},
	Remedies: func(c *Case, k *Check) []Remedy { return drainLarger(c, k) },
}

// DrainReceptorFlow compares everything that drains into the receptor with what its outlet carries.
var DrainReceptorFlow = &Check{
	ID:      "D-08",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "peak discharge, with all else that drains there, against the receptor's outlet",
	Why:     "A receptor that takes in more than its outlet carries floods the floor behind the bar. It must take the peaks of all that drain into it. Its outlet is a vented sanitary branch, designed half full.",
	Formula: "Q = Q_m + Q_c + sum of shares; Q half and Q full by Manning at the least slope; meets: Q <= Q half, to confirm up to Q full",
	Range:   "all peaks at once; the water standing in the receptor is left out (safe side)",
	Sources: []trade.Source{receptorRule, receptorUPC, trade.NSPCAppK, trade.ManningEq, trade.ManningNMem, trade.Torricelli},
	After:   []*Check{DrainReceptorOutlet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "Q half = 19.5 gpm (73.9 L/min)"},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		peak, what := dumpHere(c)
		if what != "" {
			return c.Silent(check.Quote(what))
		}
		d := ask.Drain
		need := []survey.Ref{ask.Codes.Plumbing, ask.Drain.Outlet, ask.Drain.OutletOf, ask.Drain.Shares, ask.Drain.Tempering}
		for i := range d.Shares.Of(c) {
			need = append(need, ask.Drain.Shares.Flow.At(i))
		}
		if out, lacks := c.Lacking(need...); lacks {
			return out
		}
		total := peak.gpm + d.Tempering.Of(c).In(quantity.GPM)
		steps := append(peak.steps, Step{"Q_c", check.Say("D-07.step"), d.Tempering.Of(c)})
		for i, s := range d.Shares.Of(c) {
			total += s.Flow.In(quantity.GPM)
			steps = append(steps, Step{fmt.Sprintf("Q_%d", i+1), check.Say("D-08.step", "name", check.Quote(s.Name)), s.Flow})
		}
		slope, slopeText := drainSlope(c, d.Outlet.Of(c))
		k, err := carries(c, d.OutletOf.Of(c), d.Outlet.Of(c), slope, total, slopeText)
		if err != nil {
			return c.Silent(check.Say("D-07.sheet"))
		}
		action := any(check.Say("D-08.action"))
		out := check.UpTo(drainGPM(total), drainGPM(k.half), action, ask.Drain.Shares, ask.Drain.Outlet, ask.Drain.Tempering)
		out.Want = out.Want.Also(check.Say("D-08.also", "outlet", d.Outlet.Of(c)))
		out.Working = append(append(steps, k.steps...), Step{"Q", check.Say("D-08.step2"), drainGPM(total)})
		if full := drainGPM(k.full); out.Verdict == Fix && drainGPM(total).Cmp(full) <= 0 {
			out.Verdict = Confirm
			out.Action = check.PhraseOf(check.Say("D-08.do", "full", full, "action", action))
		}
		return c.OnSheet(out, peak.at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		rs := c.Offer(k, ask.Drain.Outlet, drainSizes(ask.Drain.Outlet.Of(c)), nil, func(v any) any {
			return check.Say("D-08.way", "mustparse", v)
		})
		if len(ask.Drain.Shares.Of(c)) > 0 {
			rs = append(rs, c.Offer(k, ask.Drain.Shares, []string{"[]"}, nil, func(any) any {
				return check.Say("D-08.way2")
			})...)
		}
		return rs
	},
}

// mixUses is every answer that the temperature of the discharge may rest on.

// mixHere is the temperature of the discharge after cold water is mixed in.
// When the discharge is no hotter than the limit without any, no answer is
// needed. ok is false when out says what is missing.
func mixHere(c *Case, limitF float64) (mixF float64, steps []Step, out Outcome, ok bool) {
	hot := c.Machine.Drain.Temperature
	if !hot.Known() {
		hot = c.Machine.Wash.Temp
	}
	if !hot.Known() {
		return 0, nil, c.Silent(check.Say("mix-here.sheet")), false
	}
	hotF := hot.In(quantity.Fahrenheit)
	steps = []Step{{"T_h", check.Say("mix-here.step"), hot}}
	cold := ask.Drain.Tempering.Of(c)
	if hotF <= limitF && !(cold.In(quantity.GPM) > 0) {
		return hotF, steps, out, true
	}
	need := []survey.Ref{ask.Drain.Tempering}
	if cold.In(quantity.GPM) > 0 {
		need = append(need, ask.Water.Cold.Summer)
	}
	if out, lacks := c.Lacking(need...); lacks {
		if hotF <= limitF {
			return hotF, steps, Outcome{}, true
		}
		return 0, nil, out, false
	}
	if cold.In(quantity.GPM) == 0 {
		return hotF, append(steps, Step{"Q_c", check.Say("mix-here.step2"), cold}), out, true
	}
	peak, what := dumpHere(c)
	if what != "" {
		if hotF <= limitF {
			return hotF, steps, Outcome{}, true
		}
		return 0, nil, c.Silent(check.Quote(what)), false
	}
	tc := ask.Water.Cold.Summer.Of(c)
	if today := ask.Water.Cold.Temperature.Of(c); today.Cmp(tc) > 0 {
		tc = today
	}
	coldF := tc.In(quantity.Fahrenheit)
	mixF = trade.MixedTemp(peak.gpm, hotF, cold.In(quantity.GPM), coldF)
	steps = append(steps, peak.steps...)
	steps = append(steps, Step{"T_c", check.Say("mix-here.step3"), tc}, Step{"Q_c", check.Say("mix-here.step4"), cold})
	if share, err := trade.ColdPerHot(hotF, coldF, limitF); err == nil && share > 0 {
		steps = append(steps, Step{"Q_c,min", check.Say("mix-here.step5"), drainGPM(share * peak.gpm)})
	}
	return mixF, steps, out, true
}

// heatAction is what to do about too hot a discharge.
func heatAction(c *Case, limitF float64, other any) any {
	hot, tc := c.Machine.Drain.Temperature, ask.Water.Cold.Summer.Of(c)
	if !hot.Known() {
		hot = c.Machine.Wash.Temp
	}
	peak, what := dumpHere(c)
	limit := any(quantity.New(limitF, quantity.Fahrenheit))
	text := any(check.Say("heat-action.text", "limit", limit))
	if what == "" && tc.Known() {
		if share, err := trade.ColdPerHot(hot.In(quantity.Fahrenheit), tc.In(quantity.Fahrenheit), limitF); err == nil {
			text = check.Say("heat-action.text2", "draingpm", drainGPM(share*peak.gpm), "limit", limit)
		}
	}
	return check.Say("heat-action.is", "text", text, "other", other)
}

// temperings are candidate flows of cold water, in steps of 1/2 gpm.
func temperings(c *Case) []string {
	from := 0.0
	if now := ask.Drain.Tempering.Of(c); now.Known() {
		from = now.In(quantity.GPM)
	}
	return check.Ladder(math.Floor(2*from+1)/2, 30, 0.5, quantity.GPM)
}

func offerTempering(c *Case, k *Check) []Remedy {
	return c.Offer(k, ask.Drain.Tempering, temperings(c), nil, func(v any) any {
		return check.Say("offer-tempering.way", "draingpm", v)
	})
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
	ID:      "D-09",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "discharge temperature against the drain pipes' material",
	Why:     "Plastic drain pipe softens and its joints open above its service temperature. The limits are those of the pipe; check the joints and gaskets too.",
	Formula: "T = (Q_m T_h + Q_c T_c) / (Q_m + Q_c); Q_c,min = Q_m (T_h - T_max) / (T_max - T_c)",
	Range:   "cold water mixed in at the machine's outlet at the peak of the dump; equal density",
	Sources: []trade.Source{trade.DWVPlastic, trade.DWVCPVC, trade.DWVMetal, trade.MixingBalance},
	After:   []*Check{DrainSewerHeat},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: OK, Shows: "T = 130 °F (54.4 °C)"},
	Run: func(c *Case) Outcome {
		d := ask.Drain
		lowest := pipeHeat("").MaxF
		limitF, at, name := pipeHeat(d.Material.Of(c)).MaxF, ask.Drain.Material, any(check.Say("D-09.name"))
		if o := pipeHeat(d.OutletOf.Of(c)).MaxF; o < limitF && d.Receptor.Of(c) != "none" {
			limitF, at, name = o, ask.Drain.OutletOf, check.Say("D-09.name2")
		}
		mix, steps, out, ok := mixHere(c, limitF)
		if !ok {
			return out
		}
		if mix > lowest {
			need := []survey.Ref{ask.Drain.Material}
			if d.Receptor.Of(c) != "none" {
				need = append(need, ask.Drain.OutletOf)
			}
			if out, lacks := c.Lacking(need...); lacks {
				return out
			}
		}
		out = check.UpTo(quantity.New(mix, quantity.Fahrenheit), quantity.New(limitF, quantity.Fahrenheit),
			heatAction(c, limitF, check.Say("D-09.do", "name", name)), at, ask.Drain.Tempering)
		out.Working = append(steps, Step{"T", check.Say("D-09.step"), quantity.New(mix, quantity.Fahrenheit)},
			Step{"T_max", check.Say("D-09.step2", "name", name), quantity.New(limitF, quantity.Fahrenheit)})
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		rs := offerTempering(c, k)
		for _, of := range [][2]string{{"cpvc", "CPVC"}, {"copper", "copper"}, {"cast-iron", "cast iron"}} {
			m, name := of[0], any(check.Quote(of[1]))
			set, change := map[string]string{}, any(check.Phrase{})
			if pipeHeat(m).MaxF > pipeHeat(d.Material.Of(c)).MaxF {
				set[ask.Drain.Material.Path()], change = m, check.Say("D-09.change")
			}
			if pipeHeat(m).MaxF > pipeHeat(d.OutletOf.Of(c)).MaxF {
				set[ask.Drain.OutletOf.Path()] = m
				if !unsaid(change) {
					change = check.Say("D-09.more", "before", change)
				}
				change = check.Say("D-09.more2", "before", change)
			}
			if len(set) > 0 {
				rs = append(rs, Remedy{Change: check.Say("D-09.way", "change", change, "name", name), Set: set})
			}
		}
		return rs
	},
}

// DrainSewerHeat compares the discharge's temperature with the sewer's limit.
var DrainSewerHeat = &Check{
	ID:      "D-10",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "discharge temperature against the sewer's limit",
	Why:     "Codes bound the temperature of what enters the building's drains; a sewer-use ordinance may set a lower limit. Ask for the local one.",
	Formula: "T = (Q_m T_h + Q_c T_c) / (Q_m + Q_c); Q_c,min = Q_m (T_h - T_max) / (T_max - T_c)",
	Range:   "cold water mixed in at the machine's outlet at the peak of the dump; equal density",
	Sources: []trade.Source{trade.IPC701_7, trade.UPC810_1, trade.MixingBalance},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Tempering.Path(): "0 gpm"}, Verdict: Fix, Shows: "T = 150 °F (65.6 °C)"},
	Run: func(c *Case) Outcome {
		limit, text := ask.Codes.SewerLimit.Of(c), any(check.Say("D-10.text"))
		if !limit.Known() {
			limit, text = quantity.New(trade.SewerLimitF, quantity.Fahrenheit), check.Say("D-10.text2")
		}
		limitF := limit.In(quantity.Fahrenheit)
		mix, steps, out, ok := mixHere(c, limitF)
		if !ok {
			return out
		}
		have := quantity.New(mix, quantity.Fahrenheit)
		out = check.UpTo(have, limit, heatAction(c, limitF, check.Phrase{}), ask.Drain.Tempering, ask.Codes.SewerLimit)
		out.Working = append(steps, Step{"T", check.Say("D-09.step"), have}, Step{"T_max", text, limit})
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy { return offerTempering(c, k) },
}
