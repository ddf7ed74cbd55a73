package rules

import (
	"firstfill/specs/check"
	"firstfill/survey"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// heaterUses are the answers that the heater's output rests on.

// A recovery is what the building's water heater makes in an hour, in winter.
type recovery struct {
	gph, riseF float64
	steps      []Step
}

// heaterRecovery works out the recovery at the rise of winter; the outcome says what lacks.
func heaterRecovery(c *Case) (r recovery, out Outcome, lacks bool) {
	h := ask.Heater
	if out, lacks = c.Lacking(ask.Heater.SetPoint); lacks {
		return r, out, true
	}
	cold, meaning := ask.Water.Cold.Winter.Of(c), any(check.Say("heater-recovery.meaning"))
	if !cold.Known() {
		if c.Machine.Water.Cold.Used {
			out, lacks = c.Lacking(winter.answer)
			return r, out, lacks
		}
		cold, meaning = fahrenheit(trade.WinterMainsNorthF), check.Say("heater-recovery.meaning2")
	}
	r.riseF = h.SetPoint.Of(c).In(quantity.Fahrenheit) - cold.In(quantity.Fahrenheit)
	r.steps = []Step{entry("t_s", check.Say("heater-recovery.step"), h.SetPoint.Of(c)), entry("t_c", meaning, cold), entry("Δt", check.Say("heater-recovery.step2"), degrees(r.riseF))}
	if r.riseF <= 0 {
		return r, check.Rule(check.Say("heater-recovery.have", "setpoint", h.SetPoint.Of(c), "cold", cold), check.Say("heater-recovery.want"), check.Say("heater-recovery.do"), ask.Heater.SetPoint), true
	}
	if h.Recovery.Of(c).Known() {
		if out, lacks = c.Lacking(ask.Heater.RecoveryRise); lacks {
			return r, out, true
		}
		r.gph = h.Recovery.Of(c).In(quantity.GPH) * h.RecoveryRise.Of(c).In(quantity.FahrenheitDiff) / r.riseF
		r.steps = append(r.steps, entry("R_p", check.Say("heater-recovery.step3", "recoveryrise", h.RecoveryRise.Of(c)), h.Recovery.Of(c)), entry("R", check.Say("heater-recovery.step4"), inGPH(r.gph)))
		return r, out, false
	}
	if out, lacks = c.Lacking(ask.Heater.Input, ask.Heater.Kind); lacks {
		return r, out, true
	}
	efficiency, how := h.Efficiency.Of(c).Value(), any(check.Say("heater-recovery.how"))
	if !h.Efficiency.Of(c).Known() {
		switch h.Kind.Of(c) {
		case "electric":
			efficiency, how = trade.ElectricHeaterEfficiency, check.Say("heater-recovery.how2")
		case "gas", "instantaneous":
			efficiency, how = trade.GasHeaterEfficiency, check.Say("heater-recovery.how3")
		default: // a heat pump's or an exchanger's input says nothing of its output
			out, lacks = c.Lacking(ask.Heater.Recovery, ask.Heater.RecoveryRise)
			return r, out, lacks
		}
	}
	r.gph = trade.RecoveryGasGPH(h.Input.Of(c).In(quantity.BTUPerHour), r.riseF, efficiency)
	if math.IsNaN(r.gph) {
		return r, check.Rule(check.Say("heater-recovery.have2", "efficiency", check.Figure{Value: efficiency, Decimals: 2}, "input", h.Input.Of(c)), check.Say("heater-recovery.want2"), check.Say("heater-recovery.do2"), ask.Heater.Efficiency), true
	}
	r.steps = append(r.steps, entry("P", check.Say("heater-recovery.step5"), check.Say("heater-recovery.value", "input", h.Input.Of(c), "input2", check.Figure{Value: h.Input.Of(c).In(quantity.BTUPerHour), Decimals: 0})),
		entry("η", how, check.Figure{Value: efficiency, Decimals: 2}), entry("R", check.Say("heater-recovery.step4"), inGPH(r.gph)))
	return r, out, false
}

// hotShare is the share of hot water in what the machine uses, and why.
func hotShare(c *Case) (share float64, how any, needs []survey.Ref) {
	if !c.Machine.Water.MixValve || c.Machine.Rinse.Sanitizing == "hot-water" {
		if c.Machine.Water.Cold.Used && c.Machine.Water.Hot.Used {
			return 0, check.Say("hot-share.is"), nil
		}
		return 1, check.Say("hot-share.is2"), nil
	}
	return math.NaN(), check.Say("hot-share.is3"), []survey.Ref{winter.answer, ask.Water.Hot.Temperature}
}

// HotWaterPeak compares the hot water of the busiest hour with what the heater gives in it.
var HotWaterPeak = &Check{
	ID:      "W-20",
	Trade:   Plumber,
	Stage:   BeforeOrder,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.HeaterRecovery, {Document: "First-hour guides", Clause: "70 % of the storage", Mark: trade.ReadCopy}, trade.MixingBalance, trade.HeaterDefaults, trade.MainsDefault, sheet},
	Assumes: []survey.Ref{ask.Water.Cold.Winter, ask.Heater.Efficiency},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Heater.Storage.Path(): "50 gal", ask.Heater.Recovery.Path(): "unknown", ask.Heater.Input.Path(): "40000 Btu/h", ask.Heater.Efficiency.Path(): "0.80",
		ask.Heater.SetPoint.Path(): "120 °F", ask.Water.Cold.Winter.Path(): "50 ± 0 °F", ask.Water.Hot.Temperature.Path(): "118 °F"}, Verdict: OK, Shows: "R = 54.9 gph"},
	Skip: hotLine.skip,
	Run: func(c *Case) Outcome {
		share, how, needs := hotShare(c)
		if out, lacks := c.Lacking(append([]survey.Ref{ask.Heater.Storage, ask.Heater.OtherDraws}, needs...)...); lacks {
			return out
		}
		rec, out, lacks := heaterRecovery(c)
		if lacks {
			return out
		}
		steps := rec.steps
		m, h := c.Machine, ask.Heater
		if !m.Rinse.Consumption.Known() {
			return c.Silent(check.Say("W-20.sheet"))
		}
		if math.IsNaN(share) {
			cold, hot := ask.Water.Cold.Winter.Of(c).In(quantity.Fahrenheit), ask.Water.Hot.Temperature.Of(c).In(quantity.Fahrenheit)
			var err error
			if share, err = trade.HotFraction(hot, cold, m.Rinse.Target.In(quantity.Fahrenheit)); err != nil {
				share, how = 1, check.Say("W-20.how")
			}
		}
		rinse := share * m.Rinse.Consumption.In(quantity.GPH)
		if !m.Water.FillVolume.Known() {
			return c.Silent(check.Say("W-20.sheet2"))
		}
		fill := m.Water.FillVolume.In(quantity.Gallon) // filled hot, unless the sheet says otherwise
		switch m.Water.Fill {
		case "cold":
			fill = 0
		case "mixed":
			fill *= share
		}
		draws := 0.0
		for i, d := range h.OtherDraws.Of(c) {
			if out, lacks := c.Lacking(ask.Heater.OtherDraws.Flow.At(i)); lacks {
				return out
			}
			draws += d.Flow.In(quantity.GPH)
		}
		gives := trade.FirstHourGal(h.Storage.Of(c).In(quantity.Gallon), trade.UsableShare, rec.gph)
		wants := fill + rinse + draws
		out = check.From(quantity.New(gives, quantity.Gallon), quantity.New(wants, quantity.Gallon),
			check.Say("W-20.do", "new", quantity.New(wants-gives, quantity.Gallon)),
			ask.Heater.Storage, ask.Heater.Recovery, ask.Heater.Input, ask.Heater.OtherDraws)
		out.Working = append(steps,
			entry("S", check.Say("W-20.step"), h.Storage.Of(c)),
			entry("h", how, check.Share(share)),
			entry("Q_r", check.Say("W-20.step2"), inGPH(rinse)),
			entry("V_fill", check.Say("W-20.step3"), check.Figure{Value: fill, Decimals: 1, Unit: "gal"}),
			entry("Σ", check.Say("W-20.step4"), inGPH(draws)),
			entry("V", check.Say("W-20.step5"), check.Figure{Value: gives, Decimals: 1, Unit: "gal"}),
			entry("V_needed", check.Say("W-20.step6"), check.Figure{Value: wants, Decimals: 1, Unit: "gal"}))
		if steady := rinse + draws; steady > rec.gph {
			out.Working = append(out.Working, entry("t_tank", check.Say("W-20.step7"),
				check.Figure{Value: 60 * trade.RushHours(max(0, h.Storage.Of(c).In(quantity.Gallon)*trade.UsableShare-fill), 1, rec.gph, steady), Decimals: 0, Unit: "min"}))
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		h := ask.Heater
		s := h.Storage.Of(c).In(quantity.Gallon)
		rs := c.Offer(k, ask.Heater.Storage, check.Ladder(math.Floor(s/10)*10+10, math.Floor(s/10)*10+400, 10, quantity.Gallon), nil, func(v any) any {
			return check.Say("W-20.way", "gallon", written(quantity.Gallon, v))
		})
		if h.Recovery.Of(c).Known() {
			r := h.Recovery.Of(c).In(quantity.GPH)
			rs = append(rs, c.Offer(k, ask.Heater.Recovery, check.Ladder(math.Floor(r/10)*10+10, math.Floor(r/10)*10+400, 10, quantity.GPH), nil, func(v any) any {
				return check.Say("W-20.way2", "perhour", v, "recoveryrise", h.RecoveryRise.Of(c))
			})...)
		} else if h.Input.Of(c).Known() {
			step, unit := 10000.0, quantity.BTUPerHour
			if h.Kind.Of(c) == "electric" {
				step, unit = 1.5, quantity.Kilowatt
			}
			from := (math.Floor(h.Input.Of(c).In(unit)/step) + 1) * step
			rs = append(rs, c.Offer(k, ask.Heater.Input, check.Ladder(from, from+60*step, step, unit), nil, func(v any) any { return check.Say("W-20.way3", "v", v) })...)
		}
		for i, d := range h.OtherDraws.Of(c) {
			rs = append(rs, c.Offer(k, ask.Heater.OtherDraws.Flow.At(i), []string{"0 gph"}, nil, func(any) any {
				return check.Say("W-20.way4", "name", check.Quote(d.Name), "flow", d.Flow)
			})...)
		}
		return rs
	},
}

// HotWaterRush holds a storage heater against the whole rush, not its first hour alone.
var HotWaterRush = &Check{
	ID:      "W-38",
	Trade:   Plumber,
	Stage:   BeforeOrder,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.HeaterRecovery, trade.MixingBalance, sheet},
	After:   []*Check{HotWaterPeak},
	Assumes: []survey.Ref{ask.Water.Cold.Winter, ask.Heater.Efficiency},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Heater.Storage.Path(): "80 gal", ask.Heater.Recovery.Path(): "40 gph", ask.Heater.RecoveryRise.Path(): "90 °F",
		ask.Heater.SetPoint.Path(): "140 °F", ask.Water.Cold.Winter.Path(): "50 ± 0 °F", ask.Demand.Rush.Path(): "4 h"}, Verdict: OK, Shows: "Q = 54 gph"},
	Skip: func(c *Case) check.Phrase {
		if why := hotLine.skip(c); !why.Zero() {
			return why
		}
		if s := ask.Heater.Storage.Of(c); s.Known() && s.Base() == 0 {
			return check.Say("W-38.skip-demand")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		share, how, needs := hotShare(c)
		if out, lacks := c.Lacking(append([]survey.Ref{ask.Heater.Storage, ask.Heater.OtherDraws, ask.Demand.Rush}, needs...)...); lacks {
			return out
		}
		rec, out, lacks := heaterRecovery(c)
		if lacks {
			return out
		}
		if !c.Machine.Rinse.Consumption.Known() {
			return c.Silent(check.Say("W-20.sheet"))
		}
		if math.IsNaN(share) {
			var err error
			if share, err = trade.HotFraction(ask.Water.Hot.Temperature.Of(c).In(quantity.Fahrenheit), ask.Water.Cold.Winter.Of(c).In(quantity.Fahrenheit), c.Machine.Rinse.Target.In(quantity.Fahrenheit)); err != nil {
				share, how = 1, check.Say("W-20.how")
			}
		}
		draws := 0.0
		for i, d := range ask.Heater.OtherDraws.Of(c) {
			if out, lacks := c.Lacking(ask.Heater.OtherDraws.Flow.At(i)); lacks {
				return out
			}
			draws += d.Flow.In(quantity.GPH)
		}
		hours := max(1, ask.Demand.Rush.Of(c).In(quantity.Hour))
		gives := trade.RushGPH(ask.Heater.Storage.Of(c).In(quantity.Gallon), trade.UsableShare, rec.gph, hours)
		wants := share*c.Machine.Rinse.Consumption.In(quantity.GPH) + draws
		out = check.From(gph(gives), gph(wants), check.Say("W-38.do", "hours", ask.Demand.Rush.Of(c), "gives", inGPH(gives), "needs", inGPH(wants)),
			ask.Heater.Storage, ask.Heater.Recovery, ask.Heater.Input, ask.Heater.OtherDraws, ask.Demand.Rush)
		// By the hour, as heaters' plates and the working say it.
		out.Have, out.Want, out.Margin.Gap = check.FactOf(inGPH(gives)), check.Fact{Value: inGPH(wants), Bound: check.AtLeast}, inGPH(math.Abs(gives-wants))
		out.Working = append(rec.steps,
			entry("S", check.Say("W-20.step"), ask.Heater.Storage.Of(c)),
			entry("t", check.Say("W-38.hours"), ask.Demand.Rush.Of(c)),
			entry("h", how, check.Share(share)),
			entry("Q", check.Say("W-38.gives"), inGPH(gives)),
			entry("Q_needed", check.Say("W-38.need"), inGPH(wants)))
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		s := math.Floor(ask.Heater.Storage.Of(c).In(quantity.Gallon)/10) * 10
		return append(c.Offer(k, ask.Heater.Storage, check.Ladder(s+10, s+600, 10, quantity.Gallon), nil, func(v any) any { return check.Say("W-38.storage", "storage", v) }), HotWaterPeak.Remedies(c, k)...)
	},
}

// HotWaterStored cautions of stored water too cool against Legionella, and of
// water that scalds at hand sinks. Both are cautions, no limits of this machine.
var HotWaterStored = &Check{
	ID:      "W-39",
	Trade:   Plumber,
	Stage:   BeforeStart,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.Legionella, trade.ASSE1017, trade.ASSE1070},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Heater.SetPoint.Path(): "130 °F", ask.Heater.SinksLimited.Path(): "yes"}, Verdict: Confirm, Shows: "t_s = 130 °F (54.4 °C)"},
	Skip:    hotLine.skip,
	Run: func(c *Case) Outcome {
		h := ask.Heater
		if out, lacks := c.Lacking(h.SetPoint); lacks {
			return out
		}
		set, stored := h.SetPoint.Of(c), !(h.Storage.Known(c) && h.Storage.Of(c).Base() == 0)
		cool := stored && trade.StorageTooCool(set.In(quantity.Fahrenheit))
		hot, limited := trade.HandSinkTooHot(set.In(quantity.Fahrenheit)), h.SinksLimited.Of(c)
		storage, sink := fahrenheit(trade.LegionellaStorageF), fahrenheit(trade.HandWashLimitF)
		have, want := check.Say("W-39.have", "setpoint", set), check.Say("W-39.want", "storage", storage, "sink", sink)
		blanks := []any{"setpoint", set, "storage", storage, "sink", sink, "source", check.Quote("ASSE 1017"), "sinkvalve", check.Quote("ASSE 1070")}
		out := check.Choice(true, have, want, nil, h.SetPoint, h.SinksLimited)
		if stored {
			out = above(out, set, storage)
		} else if limited != survey.Yes {
			out = above(out, sink, set)
		}
		switch {
		case cool && hot && limited != survey.Yes:
			out = check.Rule(have, want, check.Say("W-39.both", blanks...), h.SetPoint, h.SinksLimited)
		case cool:
			out = check.Rule(have, want, check.Say("W-39.cool", blanks...), h.SetPoint)
		case hot && limited != survey.Yes:
			out = check.Rule(have, want, check.Say("W-39.hot", blanks...), h.SetPoint, h.SinksLimited)
		}
		out.Working = []Step{entry("t_s", check.Say("heater-recovery.step"), set), entry("t_store", check.Say("W-39.store", "source", trade.Legionella), storage), entry("t_sink", check.Say("W-39.sink", "source", trade.ASSE1070), sink)}
		return out
	},
}

// HotWaterOnDemand compares the machine's flow with a heater that stores nothing.
var HotWaterOnDemand = &Check{
	ID:      "W-21",
	Trade:   Plumber,
	Stage:   BeforeOrder,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.HeaterRecovery, trade.HeaterDefaults, trade.MainsDefault, sheet},
	Assumes: []survey.Ref{ask.Water.Cold.Winter, ask.Heater.Efficiency},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Heater.Kind.Path(): "instantaneous", ask.Heater.Storage.Path(): "0 gal", ask.Heater.Recovery.Path(): "unknown", ask.Heater.Input.Path(): "100000 Btu/h", ask.Heater.Efficiency.Path(): "0.80",
		ask.Heater.SetPoint.Path(): "130 °F", ask.Water.Cold.Winter.Path(): "50 ± 0 °F"}, Verdict: Fix, Shows: "R = 120 gph"},
	Skip: func(c *Case) check.Phrase {
		if why := hotLine.skip(c); !why.Zero() {
			return why
		}
		h := ask.Heater
		if h.Kind.Of(c) != "instantaneous" && h.Storage.Of(c).Known() && h.Storage.Of(c).In(quantity.Gallon) > 0 {
			return check.Say("W-21.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if ask.Heater.Kind.Of(c) != "instantaneous" {
			if out, lacks := c.Lacking(ask.Heater.Storage); lacks {
				return out
			}
		}
		rec, out, lacks := heaterRecovery(c)
		if lacks {
			return out
		}
		need := c.Machine.Water.Hot.Flow
		if !need.Known() {
			return c.Silent(check.Say("W-21.sheet"))
		}
		out = check.From(gph(rec.gph), need, check.Say("W-21.do", "need", need, "risef", degrees(rec.riseF)), ask.Heater.Input, ask.Heater.Recovery, ask.Heater.Storage)
		out.Working = append(rec.steps, entry("R/60", check.Say("W-21.step"), check.Figure{Value: rec.gph / 60, Decimals: 2, Unit: "gpm"}), entry("Q", check.Say("W-21.step2"), need))
		return c.OnSheet(out, "water.hot.flow")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		h := ask.Heater
		var rs []Remedy
		if h.Recovery.Of(c).Known() {
			r := math.Floor(h.Recovery.Of(c).In(quantity.GPH)/10)*10 + 10
			rs = c.Offer(k, ask.Heater.Recovery, check.Ladder(r, r+400, 10, quantity.GPH), nil, func(v any) any {
				return check.Say("W-21.way", "perhour", v, "recoveryrise", h.RecoveryRise.Of(c))
			})
		} else if h.Input.Of(c).Known() {
			from := math.Floor(h.Input.Of(c).In(quantity.BTUPerHour)/10000)*10000 + 10000
			rs = c.Offer(k, ask.Heater.Input, check.Ladder(from, from+400000, 10000, quantity.BTUPerHour), nil, func(v any) any { return check.Say("W-21.way2", "v", v) })
		}
		return rs
	},
}
