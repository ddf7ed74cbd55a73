package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var throughput = []*Check{GlassesPerHour, GlassHeights, GlassDiameters, GlassStock}

// throughputPeak is the glasses used in the busiest hour: stated, or else
// estimated. lacks names the answers to ask for when there is neither.
func throughputPeak(c *Case) (peak float64, estimated bool, steps []Step, lacks []survey.Ref) {
	d := ask.Demand
	if d.Peak.Of(c).Known() {
		return float64(d.Peak.Of(c).N()), false, []Step{entry("N peak", check.Say("throughput-peak.step"), glasses(float64(d.Peak.Of(c).N())))}, nil
	}
	if !d.Seats.Of(c).Known() || !d.Drinks.Of(c).Known() || !d.PerDrink.Of(c).Known() {
		return 0, false, nil, []survey.Ref{ask.Demand.Peak}
	}
	peak = trade.PeakGlassesPerHour(float64(d.Seats.Of(c).N()), d.Drinks.Of(c).Value(), d.PerDrink.Of(c).Value())
	return peak, true, []Step{
		entry("s", check.Say("throughput-peak.step2"), d.Seats.Of(c)),
		entry("d", check.Say("throughput-peak.step3"), d.Drinks.Of(c)),
		entry("g", check.Say("throughput-peak.step4"), d.PerDrink.Of(c)),
		entry("N peak", check.Say("throughput-peak.step5"), glasses(peak)),
	}, nil
}

var throughputDemand = []survey.Ref{ask.Demand.Peak, ask.Demand.Seats, ask.Demand.Drinks, ask.Demand.PerDrink}

// glasses is a number of glasses.
func glasses(n float64) check.Phrase {
	f := check.Figure{Value: n, Decimals: 1}
	if math.Abs(n-1) < 0.05 {
		return check.Say("glasses.one", "n", f)
	}
	return check.Say("glasses.many", "n", f)
}

// GlassesPerHour compares what the machine turns out with the busiest hour.
var GlassesPerHour = &Check{
	ID:      "T-01",
	Trade:   Owner,
	Stage:   BeforeOrder,
	Subject: check.Demand,
	Sources: []trade.Source{sheet, trade.Geometry, trade.RackPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Demand.Peak.Path(): "1100"}, Verdict: Fix, Shows: "N = 1008 glasses"},
	Run: func(c *Case) Outcome {
		t := c.Machine.Throughput
		share, note := t.Handling, any(check.Say("T-01.note"))
		if share == 0 {
			share, note = trade.DerateRacks, check.Say("T-01.note2")
		}
		var rate float64
		var steps []Step
		from := "throughput.revolution"
		switch {
		case t.Revolution.Known() && t.Positions > 0:
			rate = trade.GlassesPerHourRotary(t.Revolution.In(quantity.Second), t.Positions, share)
			steps = []Step{entry("T", check.Say("T-01.step"), t.Revolution), entry("n", check.Say("T-01.step2"), check.Figure{Value: float64(t.Positions), Decimals: 0})}
		case t.Cycle.Known() && t.PerRack > 0:
			rate = trade.GlassesPerHourRacks(t.Cycle.In(quantity.Second), 0, t.PerRack, share)
			from = "throughput.cycle"
			steps = []Step{entry("T", check.Say("T-01.step3"), t.Cycle), entry("n", check.Say("T-01.step4"), check.Figure{Value: float64(t.PerRack), Decimals: 0})}
		}
		if !(rate > 0) {
			return c.Silent(check.Say("T-01.sheet"))
		}
		peak, estimated, more, lacks := throughputPeak(c)
		if out, gone := c.Lacking(lacks...); gone {
			return out
		}
		action := any(check.Say("T-01.action", "throughputglasses", glasses(math.Ceil(peak)), "throughputglasses2", glasses(rate)))
		out := throughputAtLeast(rate, peak, true, action, throughputAt(c)...)
		if estimated {
			out.Want = out.Want.In(check.Say("T-01.also"))
			if out.Verdict == Fix {
				m := out.Margin
				out = check.Rule(out.Have, out.Want, check.Say("T-01.do", "throughputglasses", glasses(peak), "action", action), out.At...)
				out.Margin = m
			}
		}
		out.Working = append(steps, entry("k", note, check.Figure{Value: share, Decimals: 2}), entry("N", check.Say("T-01.step5"), glasses(rate)))
		out.Working = append(out.Working, more...)
		return c.OnSheet(out, from)
	},
}

// throughputAt names the answers that the peak rests on.
func throughputAt(c *Case) []survey.Ref {
	if ask.Demand.Peak.Of(c).Known() {
		return throughputDemand[:1]
	}
	return throughputDemand[1:]
}

// throughputAtLeast judges a count of glasses; at the limit is OK.
func throughputAtLeast(have, want float64, hourly bool, action any, at ...survey.Ref) Outcome {
	gap := have - want
	if math.Abs(gap) < 1e-9*math.Max(have, want) {
		gap = 0
	}
	of := func(n float64) any {
		if hourly {
			return check.Say("glasses.hour", "glasses", glasses(n))
		}
		return glasses(n)
	}
	out := check.Choice(gap >= 0, of(have), check.Fact{Value: of(want), Bound: check.AtLeast}, action, at...)
	out.Margin = Margin{Gap: of(math.Abs(gap)), Side: check.Say("margin.spare"), Value: gap}
	if gap < 0 {
		out.Margin.Side = check.Say("margin.short")
	}
	return out
}

// GlassHeights compares every kind of glass with the height that the machine takes.
var GlassHeights = throughputSize(&Check{
	ID:      "T-02",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"demand.glasses[1].height": "11.5 ± 0 in"}, Verdict: Fix, Shows: "h max = 11 in (279 mm)"},
}, "height", "h", "throughput.glass_height_max", check.Say("glass-heights.arg"),
	func(g survey.Glass) quantity.Length { return g.Height }, func(c *Case) quantity.Length { return c.Machine.Throughput.GlassHeight })

// GlassDiameters compares every kind of glass with the diameter that the machine takes.
var GlassDiameters = throughputSize(&Check{
	ID:      "T-03",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"demand.glasses[1].diameter": "5 ± 0 in"}, Verdict: Fix, Shows: "d max = 4-1/2 in (114 mm)"},
}, "diameter", "d", "throughput.glass_diameter_max", check.Say("glass-diameters.arg"),
	func(g survey.Glass) quantity.Length { return g.Diameter }, func(c *Case) quantity.Length { return c.Machine.Throughput.GlassWidth })

// throughputSize completes a check of one dimension of every kind of glass.
func throughputSize(k *Check, field string, symbol string, onSheet string, limitWord any, have func(survey.Glass) quantity.Length, most func(*Case) quantity.Length) *Check {
	k.Trade, k.Stage, k.Subject = Owner, BeforeOrder, check.Demand
	k.Sources = []trade.Source{sheet}
	k.Skip = func(c *Case) check.Phrase {
		if !most(c).Known() {
			return check.Say("glasses.skip")
		}
		return check.Phrase{}
	}
	k.Run = func(c *Case) Outcome {
		var list = ask.Demand.Glasses
		kinds := ask.Demand.Glasses.Of(c)
		if len(kinds) == 0 {
			return Outcome{Verdict: Missing, At: []survey.Ref{list}, Have: check.FactOf(check.Say("throughput-size.do")), Want: check.FactOf(check.Say("throughput-size.do2")),
				Action: check.Say("throughput-size.do3"), Margin: Margin{Value: math.NaN()}}
		}
		var paths []survey.Ref
		for i := range kinds {
			paths = append(paths, survey.Named(fmt.Sprintf("%s[%d].%s", list.Path(), i, field)))
		}
		if out, lacks := c.Lacking(paths...); lacks {
			return out
		}
		worst := 0
		var over []string
		for i, g := range kinds {
			if have(g).Cmp(have(kinds[worst])) > 0 {
				worst = i
			}
			if have(g).Cmp(most(c)) > 0 {
				over = append(over, g.Name)
			}
		}
		action := any(check.Say("throughput-size.action", "name", check.Quote(kinds[worst].Name), "limitword", limitWord, "most", most(c)))
		if len(over) > 1 {
			action = check.Say("throughput-size.more", "before", action, "recordlisted", listed(over))
		}
		out := check.UpTo(have(kinds[worst]), most(c), action, paths[worst])
		out.Have = out.Have.In(check.Say("pair", "a", check.Quote(kinds[worst].Name)))
		out.Working = []Step{
			entry(symbol, check.Say("throughput-size.step", "field", check.Quote(field), "name", check.Quote(kinds[worst].Name)), have(kinds[worst])),
			entry(symbol+" max", check.Say("throughput-size.step2"), most(c)),
		}
		return c.OnSheet(out, onSheet)
	}
	k.Remedies = func(c *Case, k *Check) []Remedy {
		// Down to what stays below the limit by a tape's uncertainty.
		text := quantity.Inch.Write(math.Floor((most(c).In(quantity.Inch)-tapeIn)*8+1e-9) / 8)
		if !onNEC(c) {
			text = quantity.Millimetre.Write(math.Floor(most(c).In(quantity.Millimetre) - tapeIn*25.4))
		}
		set := map[string]string{}
		var names []string
		for i, g := range ask.Demand.Glasses.Of(c) {
			if have(g).In(quantity.Inch)+tapeIn > most(c).In(quantity.Inch) {
				set[fmt.Sprintf("demand.glasses[%d].%s", i, field)] = text
				names = append(names, g.Name)
			}
		}
		return []Remedy{{Change: check.Say("throughput-size.way", "recordlisted", listed(names), "limitword", limitWord, "text", written(quantity.Inch, text)), Set: set}}
	}
	return k
}

// GlassStock compares the stock of glasses with those that are away being used and washed.
var GlassStock = &Check{
	ID:      "T-04",
	Trade:   Owner,
	Stage:   BeforeStart,
	Subject: check.Demand,
	Sources: []trade.Source{trade.Geometry, trade.ParStock},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Demand.Peak.Path(): "600", ask.Demand.Turnaround.Path(): "120 min"}, Verdict: Fix, Shows: "N peak t / 60 = 1200 glasses"},
	Run: func(c *Case) Outcome {
		var list = ask.Demand.Glasses
		kinds := ask.Demand.Glasses.Of(c)
		if len(kinds) == 0 {
			return Outcome{Verdict: Missing, At: []survey.Ref{list}, Have: check.FactOf(check.Say("throughput-size.do")), Want: check.FactOf(check.Say("T-04.do")),
				Action: check.Say("T-04.do2"), Margin: Margin{Value: math.NaN()}}
		}
		peak, estimated, steps, lacks := throughputPeak(c)
		lacks = append(lacks, ask.Demand.Turnaround)
		stock := 0.0
		for i, g := range kinds {
			lacks = append(lacks, ask.Demand.Glasses.Stock.At(i))
			stock += float64(g.Stock.N())
		}
		if out, gone := c.Lacking(lacks...); gone {
			return out
		}
		need := math.Ceil(peak*ask.Demand.Turnaround.Of(c).In(quantity.Minute)/60 - 1e-9)
		out := throughputAtLeast(stock, need, false, check.Say("T-04.arg", "throughputglasses", glasses(need-stock)), ask.Demand.Turnaround, list)
		if estimated {
			out.Want = out.Want.In(check.Say("T-01.also"))
		}
		out.Working = append([]Step{entry("S", check.Say("T-04.step"), glasses(stock)), entry("t", check.Say("T-04.step2"), ask.Demand.Turnaround.Of(c))}, steps...)
		out.Working = append(out.Working, entry("t S", check.Say("T-04.step3"), check.Figure{Value: trade.StockTurnoverMin(stock, peak), Decimals: 1, Unit: "min"}),
			entry("N peak t / 60", check.Say("T-04.step4"), glasses(need)))
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		kinds := ask.Demand.Glasses.Of(c)
		peak, _, _, _ := throughputPeak(c)
		if len(kinds) == 0 || !(peak > 0) {
			return nil
		}
		stock, most := 0, 0
		for i, g := range kinds {
			stock += g.Stock.N()
			if g.Stock.N() > kinds[most].Stock.N() {
				most = i
			}
		}
		need := int(math.Ceil(peak*(ask.Demand.Turnaround.Of(c).In(quantity.Minute)+ask.Demand.Turnaround.Of(c).Spread(quantity.Minute))/60 - 1e-9))
		more := (need - stock + 11) / 12 * 12 // by the dozen
		path := fmt.Sprintf("demand.glasses[%d].stock", most)
		rs := []Remedy{{Change: check.Say("T-04.way", "more", more, "name", check.Quote(kinds[most].Name)), Set: map[string]string{path: fmt.Sprint(kinds[most].Stock.N() + more)}}}
		minutes := math.Floor(trade.StockTurnoverMin(float64(stock), peak))
		if minutes >= 5 {
			t := quantity.Minute.Write(minutes)
			rs = append(rs, Remedy{Change: check.Say("T-04.way2", "t", check.Quote(t)), Set: map[string]string{ask.Demand.Turnaround.Path(): t}})
		}
		return rs
	},
}
