package rules

import (
	"firstfill/specs/check"
	"firstfill/survey"
	"math"
	"slices"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// A season is when cold water is at one end of its yearly range.
type season struct {
	name   string
	answer survey.Ref
}

var (
	winter = season{"winter", ask.Water.Cold.Winter}
	summer = season{"summer", ask.Water.Cold.Summer}
)

// cold is the cold water's temperature in that season.
func (s season) cold(c *Case) quantity.Temperature {
	if s == winter {
		return ask.Water.Cold.Winter.Of(c)
	}
	return ask.Water.Cold.Summer.Of(c)
}

// What a water heater is asked for here at the most, and what a circulated and
// insulated pipe loses at the most. Common practice, no source: thermostats of
// storage heaters mostly end at 160 to 180 °F, relief valves open at 210 °F.
const (
	setPointMostF  = 160.0
	circulatedLoss = 10.0
)

// setPointPractice stands behind those two figures.
var setPointPractice = trade.Source{Document: "Heater set points to 160 °F; a circulated pipe loses 10 °F", Mark: trade.CommonPractice}

// heaterMost is the hottest that the heater may be told: what thermostats end
// at, and what the hot pipe bears.
func heaterMost(c *Case) float64 {
	limits := trade.HeaterLimits{PlateF: setPointMostF, ValveF: math.NaN(), PipeF: math.NaN(), CodeF: math.NaN()}
	if pipe, err := trade.SupplyTempLimit(supplyMaterials[ask.Water.Hot.Material.Of(c)]); err == nil {
		limits.PipeF = pipe.MaxF
	}
	most, _ := limits.Ceiling()
	return most
}

// hotter offers hotter water at the machine in steps of 5 °F or °C: first the
// heater's own water brought nearer; only where that isn't enough a hotter
// heater, within what it may be told, and with insulation where the pipe loses much.
func hotter(c *Case, k *Check) []Remedy {
	t, sp := ask.Water.Hot.Temperature.Of(c), ask.Heater.SetPoint.Of(c)
	if !t.Known() || !hotDoubt(c).Zero() {
		return nil
	}
	most := heaterMost(c) // never above what the machine itself bears
	if limit := c.Machine.Water.Hot.TempMax; limit.Known() {
		most = min(most, limit.In(quantity.Fahrenheit))
	}
	temps := warmer(t, most)
	if near := c.OfferFirst(k, nearer(c, temps)); len(near) > 0 {
		return near
	}
	if sp.Known() && sp.In(quantity.Fahrenheit)-t.In(quantity.Fahrenheit) > circulatedLoss {
		return c.OfferFirst(k, nearerAndHotter(c, temps))
	}
	return c.OfferFirst(k, setPoints(c, temps))
}

// warmer lists temperatures above one and up to a limit in °F, in steps of 5
// of the unit in which the reading was written.
func warmer(t quantity.Temperature, mostF float64) []string {
	unit, most := quantity.Fahrenheit, mostF
	if !writtenIn(t, "°F") {
		unit, most = quantity.Celsius, fahrenheit(mostF).In(quantity.Celsius)
	}
	from := math.Ceil((max(t.In(unit), 0)+0.5)/5) * 5
	if from > most {
		return nil
	}
	return check.Ladder(from, most, 5, unit)
}

// inUnitOf writes a temperature in °F in the unit of another one's text, whole degrees.
func inUnitOf(text string, f float64) string {
	if strings.HasSuffix(text, "°F") {
		return quantity.Fahrenheit.Write(math.Round(f))
	}
	return quantity.Celsius.Write(math.Round(fahrenheit(f).In(quantity.Celsius)))
}

// nearer are the remedies that bring the heater's own water to the machine:
// insulation and circulation, which come before a hotter heater.
func nearer(c *Case, temps []string) []Remedy {
	sp := ask.Heater.SetPoint.Of(c)
	var rs []Remedy
	for _, text := range temps {
		t := quantity.MustParse[quantity.Temperature](text)
		if !sp.Known() || t.In(quantity.Fahrenheit)+circulatedLoss > sp.In(quantity.Fahrenheit) {
			continue
		}
		rs = append(rs, Remedy{Change: check.Say("way.scald", "way", check.Say("hot.nearer", "setpoint", quantity.New(sp.In(quantity.Fahrenheit), quantity.Fahrenheit), "t", t)),
			Work: check.PipeOrWire, Set: map[string]string{ask.Water.Hot.Temperature.Path(): text}})
	}
	return rs
}

// nearerAndHotter are the remedies of a pipe that loses much behind a heater
// that is set too low: both are put right, the store to no less than is safe.
func nearerAndHotter(c *Case, temps []string) []Remedy {
	most := heaterMost(c)
	var rs []Remedy
	for _, text := range temps {
		t := quantity.MustParse[quantity.Temperature](text)
		at := math.Ceil(max(trade.LegionellaStorageF, t.In(quantity.Fahrenheit)+circulatedLoss))
		if at > most {
			continue
		}
		set := inUnitOf(text, at)
		rs = append(rs, Remedy{Change: check.Say("way.scald", "way", check.Say("hot.nearer-hotter", "at", quantity.MustParse[quantity.Temperature](set), "t", t)),
			Work: check.PipeOrWire + check.Adjusting, Set: map[string]string{ask.Water.Hot.Temperature.Path(): text, ask.Heater.SetPoint.Path(): set}})
	}
	return rs
}

// setPoints are the remedies that set the heater for each temperature at the
// machine. It is never set below what keeps its storage safe, and never above
// what it may be told: a mixing valve behind it cools instead.
func setPoints(c *Case, temps []string) []Remedy {
	now, sp := ask.Water.Hot.Temperature.Of(c), ask.Heater.SetPoint.Of(c)
	most, bears := heaterMost(c), math.Inf(1)
	if limit := c.Machine.Water.Hot.TempMax; limit.Known() {
		bears = limit.In(quantity.Fahrenheit)
	}
	var rs []Remedy
	for _, text := range temps {
		t := quantity.MustParse[quantity.Temperature](text)
		by := t.In(quantity.Fahrenheit) - now.In(quantity.Fahrenheit)
		at := math.Round(sp.In(quantity.Fahrenheit) + by)
		if up := trade.LegionellaStorageF - at; by > 0 && up > 0 && t.In(quantity.Fahrenheit)+up <= bears {
			// Stored no cooler than is safe, and the machine bears what arrives then.
			at, by = at+up, by+up
			text = inUnitOf(text, now.In(quantity.Fahrenheit)+by)
			t = quantity.MustParse[quantity.Temperature](text)
		}
		r := Remedy{Set: map[string]string{ask.Water.Hot.Temperature.Path(): text}, Work: check.Adjusting}
		switch {
		case sp.Known() && !(at >= trade.LegionellaStorageF):
			valve, err := trade.PickMixingValve(trade.MixAtSource, t.In(quantity.Fahrenheit))
			sink, none := trade.PickMixingValve(trade.MixAtSink, trade.HandWashLimitF)
			cold := 60.0 // within every valve's range, where it isn't known
			if w := ask.Water.Cold.Winter.Of(c); w.Known() {
				cold = w.In(quantity.Fahrenheit)
			}
			if err != nil || none != nil || valve.Suits(t.In(quantity.Fahrenheit), max(sp.In(quantity.Fahrenheit), trade.LegionellaStorageF), cold) != nil {
				continue // outside what the standard's valves promise
			}
			r.Work = check.Fitting
			name := "hot.mixing-valve"
			if sp.In(quantity.Fahrenheit) < trade.LegionellaStorageF {
				name = "hot.mixing-valve-store"
				r.Set[ask.Heater.SetPoint.Path()] = inUnitOf(text, trade.LegionellaStorageF)
			}
			r.Change = check.Say(name, "valve", check.Quote(valve.Standard), "t", t, "storage", fahrenheit(trade.LegionellaStorageF),
				"sink", fahrenheit(trade.HandWashLimitF), "sinkvalve", check.Quote(sink.Standard))
		case at > most:
			continue // hotter storage is no remedy for what the pipe loses
		case sp.Known():
			r.Set[ask.Heater.SetPoint.Path()] = inUnitOf(text, at)
			r.Change = check.Say("set-points.way3", "at", quantity.MustParse[quantity.Temperature](inUnitOf(text, at)), "t", t)
		default:
			r.Change = check.Say("set-points.way4", "t", t, "most", fahrenheit(most))
		}
		if by > 0 {
			r.Change = check.Say("way.scald", "way", r.Change)
		}
		rs = append(rs, r)
	}
	return rs
}

// hotDoubt says why the temperatures must be read again before anything is
// built on them: hot and cold changed over, or hot water hotter than its heater.
func hotDoubt(c *Case) check.Phrase {
	hot, cold, sp := ask.Water.Hot.Temperature.Of(c), ask.Water.Cold.Temperature.Of(c), ask.Heater.SetPoint.Of(c)
	switch {
	case hot.Known() && cold.Known() && hot.Cmp(cold) <= 0:
		return check.Say("hot.swapped", "hot", hot, "cold", cold)
	case hot.Known() && sp.Known() && hot.In(quantity.Fahrenheit) > sp.In(quantity.Fahrenheit)+hotterThanSetF:
		return check.Say("hot.above-set", "hot", hot, "setpoint", sp)
	}
	return plausible(ask.Water.Hot.Temperature)(c)
}

// hotterThanSetF is how far water may arrive above its heater's set point:
// thermostats swing by so much. Common practice, no source.
const hotterThanSetF = 10.0

// cooler lists the temperatures below that of the hot water, in steps of 5 °F or °C.
func cooler(now quantity.Temperature) []string {
	if !writtenIn(now, "°F") {
		return check.Ladder(math.Floor((min(now.In(quantity.Celsius), 121)-0.5)/5)*5, 40, 5, quantity.Celsius)
	}
	return check.Ladder(math.Floor((min(now.In(quantity.Fahrenheit), 251)-1)/5)*5, 100, 5, quantity.Fahrenheit)
}

// ColdTemperature compares the cold water of the whole year with the sheet's range.
var ColdTemperature = &Check{
	ID:      "W-13",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Cold,
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Water.Cold.Winter.Path(): "8 °C"}, Verdict: Fix, Shows: "t_winter = 46.4 °F (8 °C)"},
	Skip: func(c *Case) check.Phrase {
		if why := coldLine.skip(c); !why.Zero() {
			return why
		}
		if i := c.Machine.Water.Cold; !i.TempMin.Known() && !i.TempMax.Known() {
			return check.Say("W-13.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		inlet, line := c.Machine.Water.Cold, ask.Water.Cold
		var needed []survey.Ref
		if inlet.TempMin.Known() {
			needed = append(needed, winter.answer)
		}
		if inlet.TempMax.Known() {
			needed = append(needed, summer.answer)
		}
		if out, lacks := c.Lacking(needed...); lacks {
			return out
		}
		readings := []struct {
			symbol, meaning string
			path            survey.Ref
			t               quantity.Temperature
		}{
			{"t_winter", "coldest of the year", winter.answer, line.Winter.Of(c)},
			{"t_today", "on the day of the survey", ask.Water.Cold.Temperature, line.Temperature.Of(c)},
			{"t_summer", "warmest of the year", summer.answer, line.Summer.Of(c)},
		}
		var out Outcome
		var steps []Step
		for _, r := range readings {
			if !r.t.Known() {
				continue
			}
			o := check.Within(r.t, inlet.TempMin, inlet.TempMax,
				check.Say("W-13.do", "tempmin", inlet.TempMin),
				check.Say("W-13.do2", "tempmax", inlet.TempMax), r.path)
			o = c.OnSheet(o, endOf("water.cold.temperature", r.t, inlet.TempMin, inlet.TempMax))
			if len(steps) == 0 || graver(out, o).At[0] == r.path {
				out = o
			}
			steps = append(steps, entry(r.symbol, check.Quote(r.meaning), r.t))
		}
		out.Working = append(steps, entry("range", check.Say("W-13.step"), check.Range(inlet.TempMin, inlet.TempMax)))
		return heeding(c, out, coldDoubt)
	},
	Remedies: func(c *Case, k *Check) []Remedy { return append(tempered(c, k), chilled(c, k)...) },
}

// coldDoubt is hotDoubt for the cold water, which a hot line alone doesn't put in doubt.
func coldDoubt(c *Case) check.Phrase {
	if hot, cold := ask.Water.Hot.Temperature.Of(c), ask.Water.Cold.Temperature.Of(c); hot.Known() && cold.Known() && hot.Cmp(cold) <= 0 {
		return hotDoubt(c)
	}
	return check.Phrase{}
}

// tempered offers the cold line of a machine that doesn't mix itself warmed by
// hot water. Its set points lie below what the standards of mixing valves
// promise: the valve's own sheet must give the range, and the remedy says so.
func tempered(c *Case, k *Check) []Remedy {
	line := ask.Water.Cold
	t := line.Winter.Of(c)
	if c.Machine.Water.MixValve || !t.Known() || !hotDoubt(c).Zero() {
		return nil
	}
	var rs []Remedy
	for _, text := range warmer(t, 90) {
		to := quantity.MustParse[quantity.Temperature](text)
		set := map[string]string{winter.answer.Path(): text}
		for path, t := range map[string]quantity.Temperature{ask.Water.Cold.Temperature.Path(): line.Temperature.Of(c), summer.answer.Path(): line.Summer.Of(c)} {
			if t.Known() && t.Cmp(to) < 0 {
				set[path] = text
			}
		}
		name := "tempered.way"
		if _, err := trade.PickMixingValve(trade.MixAtSource, to.In(quantity.Fahrenheit)); err != nil {
			name = "tempered.way-below"
		}
		rs = append(rs, Remedy{Change: check.Say(name, "f", to), Work: check.Fitting + check.PipeOrWire, Set: set})
	}
	return c.OfferFirst(k, rs)
}

// chilled offers a chiller on the machine's cold line.
func chilled(c *Case, k *Check) []Remedy {
	line := ask.Water.Cold
	t := line.Summer.Of(c)
	if !t.Known() || !hotDoubt(c).Zero() {
		return nil
	}
	temps := check.Ladder(math.Floor((min(t.In(quantity.Fahrenheit), 121)-1)/5)*5, 40, 5, quantity.Fahrenheit)
	if !writtenIn(t, "°F") {
		temps = check.Ladder(math.Floor((min(t.In(quantity.Celsius), 49)-0.5)/5)*5, 5, 5, quantity.Celsius)
	}
	var rs []Remedy
	for _, text := range temps {
		to := quantity.MustParse[quantity.Temperature](text)
		set := map[string]string{summer.answer.Path(): text}
		for path, t := range map[string]quantity.Temperature{ask.Water.Cold.Temperature.Path(): line.Temperature.Of(c), winter.answer.Path(): line.Winter.Of(c)} {
			if t.Known() && t.Cmp(to) > 0 {
				set[path] = text
			}
		}
		rs = append(rs, Remedy{Change: check.Say("chilled.way", "f", to), Set: set})
	}
	return c.OfferFirst(k, rs)
}

// HotTemperature compares the hot water at the machine with the sheet's range.
var HotTemperature = &Check{
	ID:      "W-14",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Hot,
	Sources: []trade.Source{sheet, setPointPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Hot.Temperature.Path(): "104 °F"}, Verdict: Fix, Shows: "t = 104 °F (40 °C)"},
	Skip: func(c *Case) check.Phrase {
		if why := hotLine.skip(c); !why.Zero() {
			return why
		}
		if i := c.Machine.Water.Hot; !i.TempMin.Known() && !i.TempMax.Known() {
			return check.Say("W-14.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Hot.Temperature); lacks {
			return out
		}
		inlet, have := c.Machine.Water.Hot, ask.Water.Hot.Temperature.Of(c)
		out := check.Within(have, inlet.TempMin, inlet.TempMax,
			check.Say("W-14.do", "tempmin", inlet.TempMin),
			check.Say("W-14.do2", "tempmax", inlet.TempMax), ask.Water.Hot.Temperature)
		out.Working = []Step{entry("t", check.Say("W-14.step"), have), entry("range", check.Say("W-13.step"), check.Range(inlet.TempMin, inlet.TempMax))}
		return heeding(c, c.OnSheet(out, endOf("water.hot.temperature", have, inlet.TempMin, inlet.TempMax)), hotDoubt)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		now := ask.Water.Hot.Temperature.Of(c)
		if inlet := c.Machine.Water.Hot; inlet.TempMax.Known() && now.Cmp(inlet.TempMax) > 0 {
			if !hotDoubt(c).Zero() {
				return nil
			}
			return c.OfferFirst(k, setPoints(c, cooler(now)))
		}
		return hotter(c, k)
	},
}

// BoosterFeed compares the hot water with what the machine's booster needs.
var BoosterFeed = &Check{
	ID:      "W-15",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Hot,
	Sources: []trade.Source{sheet, trade.FoodCode4_501_112},
	After:   []*Check{HotTemperature},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Water.Hot.Temperature.Path(): "118 ± 0 °F"}, Verdict: Fix, Shows: "t + Δt = 178 °F (81.1 °C)"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case c.Machine.Rinse.Sanitizing != "hot-water" || !c.Machine.Rinse.BoosterRise.Known() && !c.Machine.Rinse.FeedMin.Known():
			return check.Say("W-15.skip")
		case !hotLine.skip(c).Zero():
			return check.Say("W-15.skip2")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Hot.Temperature); lacks {
			return out
		}
		r, have := c.Machine.Rinse, ask.Water.Hot.Temperature.Of(c)
		least, path := r.FeedMin, "rinse.booster_feed_min"
		if !least.Known() {
			if !r.TempMin.Known() {
				return c.Silent(check.Say("W-15.sheet"))
			}
			least, path = fahrenheit(r.TempMin.In(quantity.Fahrenheit)-r.BoosterRise.In(quantity.FahrenheitDiff)), "rinse.booster_rise"
		}
		rise := r.BoosterRise.In(quantity.FahrenheitDiff)
		if f := boosterShare(c); r.BoosterRise.Known() && f < 1 {
			// Less rise at a lower voltage asks for as much hotter a feed.
			least = fahrenheit(least.In(quantity.Fahrenheit) + rise*(1-f))
			rise *= f
		}
		out := check.From(have, least, check.Say("W-15.do", "least", least), ask.Water.Hot.Temperature)
		out.Working = []Step{entry("t", check.Say("W-15.step"), have)}
		if r.BoosterRise.Known() {
			out.Working = append(out.Working, entry("Δt", check.Say("W-15.step2"), r.BoosterRise))
			if f := boosterShare(c); f < 1 {
				out.Working = append(out.Working, entry("Δt_V", check.Say("W-15.site"), degrees(rise)))
			}
			out.Working = append(out.Working, entry("t + Δt", check.Say("W-15.step3"), fahrenheit(have.In(quantity.Fahrenheit)+rise)))
		}
		out.Working = append(out.Working, entry("t_min", check.Say("W-15.step4"), least))
		return heeding(c, c.OnSheet(out, path), hotDoubt)
	},
	Remedies: hotter,
}

// boosterShare is what the site's voltage leaves of the booster's rise: its
// square, at most all of it; all when a voltage isn't known.
func boosterShare(c *Case) float64 {
	v, _ := volts(c)
	if !v.Known() || !c.Supply.HeaterVolts.Known() {
		return 1
	}
	if !(v.In(quantity.Volt) > 0) {
		return 0
	}
	return min(1, trade.HeaterPowerW(1, c.Supply.HeaterVolts.In(quantity.Volt), v.In(quantity.Volt)))
}

// rinseMix sees whether hot and cold meet at the rinse temperature in a season.
func rinseMix(id string, s season, after ...*Check) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Subject: check.HeaterSide,
		Sources: []trade.Source{trade.MixingBalance, sheet, setPointPractice},
		After:   after,
		Example: Example{Machine: "knot-c400", Given: map[string]string{s.answer.Path(): "10 ± 0 °C", ask.Water.Hot.Temperature.Path(): "64 ± 0 °C"}, Verdict: OK, Shows: "h = 33.3 %"},
		Skip: func(c *Case) check.Phrase {
			if !c.Machine.Water.MixValve {
				return check.Say("rinse-mix.skip")
			}
			return check.Phrase{}
		},
		Run: func(c *Case) Outcome { return heeding(c, runMix(c, s), hotDoubt) },
		Remedies: func(c *Case, k *Check) []Remedy {
			rs := hotter(c, k)
			if s == summer {
				rs = append(rs, chilled(c, k)...)
			}
			return rs
		},
	}
}

// runMix is the Run of rinseMix.
func runMix(c *Case, s season) Outcome {
	if out, lacks := c.Lacking(s.answer, ask.Water.Hot.Temperature); lacks {
		return out
	}
	r := c.Machine.Rinse
	if !r.Target.Known() {
		return c.Silent(check.Say("rinse-mix.sheet"))
	}
	cold, hot := s.cold(c), ask.Water.Hot.Temperature.Of(c)
	tooCool := check.From(hot, r.Target, check.Say("rinse-mix.do", "target", r.Target), ask.Water.Hot.Temperature)
	tooWarm := check.UpTo(cold, r.Target, check.Say("rinse-mix.do2", "target", r.Target, "name", check.Word(s.name)), s.answer)
	out, reached := graver(tooCool, tooWarm), cold
	if tooCool.Verdict == Fix {
		reached = hot
	}
	out.Working = []Step{
		entry("t_m", check.Say("rinse-mix.step"), r.Target),
		entry("t_c", check.Say("rinse-mix.step2", "name", check.Word(s.name)), cold),
		entry("t_h", check.Say("W-15.step"), hot),
	}
	if hot.Cmp(cold) <= 0 {
		steps := out.Working
		out = check.Choice(false, check.Say("rinse-mix.have", "hot", hot, "cold", cold), check.Say("rinse-mix.want"),
			check.Say("rinse-mix.do3", "target", r.Target), ask.Water.Hot.Temperature, s.answer)
		out.Working = steps
		return c.OnSheet(out, "rinse.temperature")
	}
	share, err := trade.HotFraction(hot.In(quantity.Fahrenheit), cold.In(quantity.Fahrenheit), r.Target.In(quantity.Fahrenheit))
	if err != nil {
		out.Working = append(out.Working, entry("t_reached", check.Say("rinse-mix.step3"), reached), entry("range", check.Say("W-13.step"), check.Range(r.TempMin, r.TempMax)))
		inRange := r.TempMin.Known() && r.TempMax.Known() && reached.Cmp(r.TempMin) >= 0 && reached.Cmp(r.TempMax) <= 0
		if inRange {
			out.Verdict = Confirm
			out.Action = (check.Say("rinse-mix.do4", "reached", reached, "name", check.Word(s.name), "target", r.Target, "rangetext", check.Range(r.TempMin, r.TempMax)))
		}
		return c.OnSheet(out, "rinse.temperature")
	}
	out.Working = append(out.Working, entry("h", check.Say("rinse-mix.step4"), check.Share(share)))
	if use := r.Consumption; use.Known() {
		out.Working = append(out.Working, entry("Q_h", check.Say("W-20.step2"), inGPH(share*use.In(quantity.GPH))))
	}
	return c.OnSheet(out, "rinse.temperature")
}

// A rinse is the water that leaves the rinse arms in a season, as far as the
// supplies allow.
type rinse struct {
	needs []survey.Ref // answers that it rests on
	at    func() (quantity.Temperature, string)
}

// rinseIn says what the final rinse will be: what hot and cold mix to, else
// the water of the one line that feeds it. Of two lines that don't mix the cold
// one feeds the final rinse (assumed).
func rinseIn(c *Case, s season) rinse {
	w, hot := c.Machine.Water, ask.Water.Hot.Temperature.Of(c)
	switch {
	case c.Machine.Rinse.Sanitizing == "hot-water":
		return rinse{nil, func() (quantity.Temperature, string) { return c.Machine.Rinse.Target, "heated by the booster" }}
	case w.MixValve:
		return rinse{[]survey.Ref{s.answer, ask.Water.Hot.Temperature}, func() (quantity.Temperature, string) {
			cold, t := s.cold(c), c.Machine.Rinse.Target
			switch {
			case !t.Known(): // the sheet doesn't say what it aims at
				return t, ""
			case t.Cmp(cold) < 0:
				return cold, "the cold water of " + s.name + ", warmer than the rinse aimed at"
			case t.Cmp(hot) > 0:
				return hot, "all hot water, cooler than the rinse aimed at"
			}
			return t, "mixed from hot and cold"
		}}
	case w.Cold.Used:
		return rinse{[]survey.Ref{s.answer}, func() (quantity.Temperature, string) { return s.cold(c), "the cold water of " + s.name }}
	}
	return rinse{[]survey.Ref{ask.Water.Hot.Temperature}, func() (quantity.Temperature, string) { return hot, "the hot water at the machine" }}
}

// GlassShock warns of a rinse that is far colder than the washed glass.
var GlassShock = &Check{
	ID:      "W-18",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Machine,
	Sources: []trade.Source{trade.GlassShock, trade.ASTMC149, sheet},
	After:   []*Check{ColdTemperature, WinterMix},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Water.Cold.Winter.Path(): "10 ± 0 °C"}, Verdict: Confirm, Shows: "Δt = 81 °F"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case !c.Machine.Wash.Temp.Known():
			return check.Say("W-18.skip")
		case c.Machine.Rinse.Sanitizing == "hot-water":
			return check.Say("W-18.skip2")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		r := rinseIn(c, winter)
		if out, lacks := c.Lacking(r.needs...); lacks {
			return out
		}
		temp, how := r.at()
		if !temp.Known() {
			return c.Silent(check.Say("rinse-mix.sheet"))
		}
		wash := c.Machine.Wash.Temp
		diff := trade.GlassShockF(wash.In(quantity.Fahrenheit), min(temp.In(quantity.Fahrenheit), wash.In(quantity.Fahrenheit)))
		limit, meaning := trade.GlassCautionF, any(check.Say("W-18.meaning"))
		if least := c.Machine.Rinse.TempMin; least.Known() {
			if own := wash.In(quantity.Fahrenheit) - least.In(quantity.Fahrenheit); own > limit {
				limit, meaning = own, check.Say("W-18.meaning2")
			}
		}
		out := check.UpTo(quantity.New(diff, quantity.FahrenheitDiff), quantity.New(limit, quantity.FahrenheitDiff), check.Phrase{}, r.needs...)
		if out.Verdict == Fix {
			out.Verdict = Confirm
			out.Action = (check.Say("W-18.do", "diff", degrees(diff), "value", fahrenheit(wash.In(quantity.Fahrenheit)-limit)))
		}
		out.Working = []Step{
			entry("t_wash", check.Say("W-18.step"), wash),
			entry("t_rinse", check.Say("W-18.step2", "how", how), temp),
			entry("Δt", check.Say("W-18.step3"), degrees(diff)),
			entry("Δt_max", meaning, degrees(limit)),
		}
		return out
	},
}

// SanitizerTemperature sees that the rinse is warm enough for the sanitizer.
var SanitizerTemperature = &Check{
	ID:      "W-19",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.HeaterSide,
	Sources: []trade.Source{trade.FoodCode4_501_114, trade.FoodCodeChlorine},
	After:   []*Check{SanitizerKind, ColdTemperature, WinterMix, SanitizerStrength},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "chlorine", ask.Chemicals.Concentration.Path(): "75 ± 0 mg/L", ask.Chemicals.PH.Path(): "7.5", ask.Water.Cold.Winter.Path(): "18 ± 0 °C"}, Verdict: Fix, Shows: "t_min = 75 °F (23.9 °C)"},
	Skip: func(c *Case) check.Phrase {
		if c.Machine.Rinse.Sanitizing != "chemical" {
			return check.Say("W-19.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		ch, r := ask.Chemicals, rinseIn(c, winter)
		needed := append([]survey.Ref{ask.Chemicals.Sanitizer}, r.needs...)
		if ch.Sanitizer.Of(c) == "chlorine" {
			needed = append(needed, ask.Chemicals.Concentration, ask.Chemicals.PH)
		}
		if out, lacks := c.Lacking(needed...); lacks {
			return out
		}
		temp, how := r.at()
		if !temp.Known() {
			return c.Silent(check.Say("rinse-mix.sheet"))
		}
		floor, err := sanitizerFloor(ch.Sanitizer.Of(c), ch.Concentration.Of(c).In(quantity.MgPerL), ch.PH.Of(c).Value())
		if ch.Sanitizer.Of(c) == "none" {
			return check.Choice(false, check.Say("W-19.have"), check.Say("W-19.want"), check.Say("W-19.do"), ask.Chemicals.Sanitizer)
		}
		if err != nil {
			out := check.Choice(false, sanitizerText(c), check.Say("W-19.want2"), tooCold(c, temp, floor), needed...)
			out.Working = []Step{entry("t_rinse", check.Say("W-18.step2", "how", how), temp)}
			return out
		}
		out := check.From(temp, fahrenheit(floor), tooCold(c, temp, floor), needed...)
		out.Have = out.Have.In(check.Say("W-19.with", "with", sanitizerText(c)))
		if least := c.Machine.Rinse.TempMin; out.Verdict == OK && temp.Cmp(c.Machine.Rinse.Target) == 0 && least.Known() && least.In(quantity.Fahrenheit) < floor &&
			trade.DipsBelow(temp.In(quantity.Fahrenheit), temp.In(quantity.Fahrenheit)-least.In(quantity.Fahrenheit), floor) {
			out = check.Rule(check.Say("W-19.dips", "temp", temp, "least", least), check.Say("W-19.dips-want", "floor", fahrenheit(floor)),
				check.Say("W-19.dips-do", "least", least, "floor", fahrenheit(floor)), needed...)
			if more, ok := strongEnough(c, least.In(quantity.Fahrenheit)); ok {
				out.Action = check.Say("W-19.dips-dose", "least", least, "floor", fahrenheit(floor), "more", more)
			}
		}
		out.Working = []Step{
			entry("t_rinse", check.Say("W-18.step2", "how", how), temp),
			entry("sanitizer", check.Say("W-19.step"), sanitizerText(c)),
			entry("t_min", check.Say("W-19.step2"), fahrenheit(floor)),
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		ch := ask.Chemicals
		if ch.Sanitizer.Of(c) == "chlorine" {
			r := rinseIn(c, winter)
			if temp, _ := r.at(); temp.Known() {
				if more, ok := strongEnough(c, temp.In(quantity.Fahrenheit)); ok {
					rs = append(rs, c.Offer(k, ask.Chemicals.Concentration, []string{quantity.MgPerL.Write(more.In(quantity.MgPerL))}, nil, func(v any) any {
						return check.Say("W-19.way", "v", v)
					})...)
				}
			}
			if ch.PH.Of(c).Value() > 8 {
				rs = append(rs, c.Offer(k, ask.Chemicals.PH, []string{"7.8"}, nil, func(v any) any { return check.Say("W-19.way2", "v", v) })...)
			}
		}
		rs = append(append(rs, tempered(c, k)...), hotter(c, k)...)
		for _, other := range []struct{ name, strength string }{{"iodine", "18 mg/L"}, {"chlorine", "75 mg/L"}} {
			if other.name != ch.Sanitizer.Of(c) && slices.Contains(strings.Fields(c.Machine.Chemicals.Sanitizers), other.name) {
				set, pH := suitedPH(c, other.name)
				set[ask.Chemicals.Concentration.Path()] = other.strength
				rs = append(rs, c.Offer(k, ask.Chemicals.Sanitizer, []string{other.name}, set, func(v any) any {
					return check.Say("W-19.way3", "v", v, "strength", check.Quote(other.strength), "ph", pH)
				})...)
			}
		}
		return rs
	},
}

// tooCold is what to do about a rinse below the sanitizer's floor: what is
// wrong is put right, be it the solution's pH, its strength or the water.
func tooCold(c *Case, temp quantity.Temperature, floorF float64) check.Phrase {
	warm := check.Say("W-19.do3", "floor", fahrenheit(floorF))
	if ask.Chemicals.Sanitizer.Of(c) != "chlorine" {
		return warm
	}
	pH, mgL, t := ask.Chemicals.PH.Of(c).Value(), ask.Chemicals.Concentration.Of(c).In(quantity.MgPerL), temp.In(quantity.Fahrenheit)
	more, stronger := strongEnough(c, t)
	at := check.Figure{Value: pH, Decimals: 1}
	neutral, err := trade.ChlorineMinF(mgL, min(pH, 8))
	switch byPH := pH > 8 && err == nil && t >= neutral; {
	case byPH && stronger && pH <= 10:
		return check.Say("W-19.by-ph-or-strength", "ph", at, "floor", fahrenheit(floorF), "neutral", fahrenheit(neutral), "more", more)
	case byPH && pH <= 10:
		return check.Say("W-19.by-ph", "ph", at, "floor", fahrenheit(floorF), "neutral", fahrenheit(neutral))
	case byPH:
		return check.Say("W-19.too-alkaline", "ph", at)
	case stronger:
		return check.Say("W-19.by-strength", "strength", ask.Chemicals.Concentration.Of(c), "more", more, "temp", temp)
	case floorF > 0:
		return warm
	}
	return check.Say("W-19.do2")
}

// strongEnough is the least dose of chlorine, in steps of 5 mg/L and above the
// present one, that serves at a temperature: its band of a test strip's 10 %
// clears both the need and the limit, the machine's and the no-rinse one.
func strongEnough(c *Case, tempF float64) (quantity.Concentration, bool) {
	const strip = 0.1
	ch := ask.Chemicals
	low, high, _ := chemicalRange(c, "chlorine")
	need, err := trade.ChlorineNeedMgL(ch.PH.Of(c).Value(), tempF)
	if ch.Sanitizer.Of(c) != "chlorine" || err != nil || !high.Known() {
		return quantity.Concentration{}, false
	}
	need = max(need, low.In(quantity.MgPerL))
	dose := math.Ceil(need/(1-strip)/5) * 5
	ok := dose > ch.Concentration.Of(c).In(quantity.MgPerL) && dose*(1+strip) <= high.In(quantity.MgPerL)
	return quantity.New(dose, quantity.MgPerL), ok
}

// sanitizerFloor is the least temperature in °F of a sanitizer.
func sanitizerFloor(name string, mgL, pH float64) (float64, error) {
	switch name {
	case "chlorine":
		return trade.ChlorineMinF(mgL, pH)
	case "iodine":
		return trade.SanitizerFloorF(trade.Iodine)
	case "quat":
		return trade.SanitizerFloorF(trade.Quat)
	}
	return 0, trade.ErrNotTabulated
}

// sanitizerText words the sanitizer as set up: "chlorine, 75 mg/L, pH 7.4".
func sanitizerText(c *Case) any {
	ch := ask.Chemicals
	text := any(check.Word(ch.Sanitizer.Of(c)))
	if ch.Concentration.Of(c).Known() {
		text = check.Say("sanitizer-text.more", "before", text, "concentration", ch.Concentration.Of(c))
	}
	if ch.PH.Of(c).Known() {
		text = check.Say("sanitizer-text.more2", "before", text, "ph", ch.PH.Of(c))
	}
	return text
}
