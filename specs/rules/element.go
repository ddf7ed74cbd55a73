package rules

import (
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// heaterAt is the heater's power at a voltage.
func heaterAt(c *Case, p quantity.Power, v quantity.Voltage) quantity.Power {
	return quantity.New(trade.HeaterPowerW(p.In(quantity.Watt), c.Supply.HeaterVolts.In(quantity.Volt), v.In(quantity.Volt)), quantity.Watt)
}

// HeaterOutput compares the heater's power with what the plate's range implies.
var HeaterOutput = &Check{
	ID:      "E-23",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Subject: check.Supply,
	Sources: []trade.Source{sheet, trade.JouleLaw},
	After:   []*Check{PlateVoltage},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V"}, Verdict: OK, Shows: "P/P_r = 75.1 %"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case !c.Supply.HeaterPower.Known():
			return check.Say("heater.none")
		case !c.Supply.VoltageMin.Known() && !c.Supply.VoltageMax.Known():
			return check.Say("E-23.no-range")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		s := c.Supply
		if !s.HeaterVolts.Known() {
			return c.Silent(check.Say("silent.heater-voltage", "option", check.Quote(s.Name)))
		}
		p, least, most := heaterAt(c, s.HeaterPower, v), heaterAt(c, s.HeaterPower, s.VoltageMin), heaterAt(c, s.HeaterPower, s.VoltageMax)
		share := check.Share(p.In(quantity.Watt) / s.HeaterPower.In(quantity.Watt))
		name := "E-23.another"
		if _, other := suitingOption(c); other {
			name = "E-23.order"
		}
		action := doubtful(c, check.Say(name, "volts", v, "rated", s.HeaterVolts, "share", share))
		out := check.Within(p, least, most, action, action, path)
		if out.Have.Value != nil {
			out.Have = out.Have.In(check.Say("E-23.of-rated", "share", share))
		}
		out.Working = []Step{
			entry("V", check.Say("step.site-voltage"), v),
			entry("P_r", check.Say("step.rated-power", "volts", s.HeaterVolts), s.HeaterPower),
			entry("P/P_r", check.Say("step.power-share"), share),
			entry("P", check.Say("step.power"), p),
			entry("P_min", check.Say("step.power-least"), least),
			entry("P_max", check.Say("step.power-most"), most),
		}
		out.Result = p
		return onPlate(c, out, "heater_power")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return voltageRemedies(c) },
}

// HeaterSubdivision asks how a large heater is subdivided.
var HeaterSubdivision = &Check{
	ID:      "E-32",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Subject: check.Machine,
	Sources: []trade.Source{trade.NEC422_11F, sheet},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "dunlin-u24", Verdict: OK, Shows: "I_h = 28.8 A"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case !onNEC(c):
			return check.Say("nec.only")
		case !c.Supply.HeaterPower.Known():
			return check.Say("heater.none")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		s := c.Supply
		if !s.HeaterVolts.Known() {
			return c.Silent(check.Say("silent.heater-voltage", "option", check.Quote(s.Name)))
		}
		amps := trade.LineCurrentA(s.HeaterPower.In(quantity.Watt), s.HeaterVolts.In(quantity.Volt), s.Phases, 1)
		parts, err := trade.HeaterSubdivisions(amps)
		if err != nil {
			return c.Silent(check.Say("silent.heater-voltage", "option", check.Quote(s.Name)))
		}
		out := check.UpTo(powerAmps(amps), powerAmps(trade.SubdivideAboveA), check.Say("E-32.ask", "parts", parts))
		if out.Verdict == Fix {
			out.Verdict = Confirm // the sheet doesn't say how the heater is built
		}
		out.Working = []Step{entry("I_h", check.Say("step.heater-rated", "power", s.HeaterPower, "volts", s.HeaterVolts), powerAmps(amps)), entry("n_h", check.Say("step.heater-parts"), parts)}
		return onPlate(c, out, "heater_power")
	},
}

// heatKept is the share of the heater's energy that stays in the water; the
// rest warms pan and room. Common practice, no source.
const heatKept = 0.85

// A fill is the water that the tank is filled with.
type fill struct {
	from quantity.Temperature // reckoned with
	best quantity.Temperature // the warmest that it may be, where from is assumed
	at   survey.Ref
	note check.Phrase
}

// fillStart is the temperature at which the tank is filled; at is nil where
// the sheet doesn't say which supply fills it.
func fillStart(c *Case) (f fill) {
	w := ask.Water
	hot, cold := w.Hot.Temperature.Of(c), w.Cold.Temperature.Of(c)
	switch c.Machine.Water.Fill {
	case "hot":
		return fill{hot, hot, w.Hot.Temperature, check.Say("fill.hot")}
	case "cold":
		if winter := w.Cold.Winter.Of(c); winter.Known() {
			return fill{winter, winter, w.Cold.Winter, check.Say("fill.coldest")}
		}
		return fill{cold, cold, w.Cold.Temperature, check.Say("fill.cold")}
	case "mixed":
		switch {
		case !hot.Known():
			return fill{at: w.Hot.Temperature}
		case !cold.Known():
			return fill{at: w.Cold.Temperature}
		}
		// The cooler the fill the longer the wait; how it mixes isn't known.
		mean := (hot.In(quantity.Fahrenheit) + cold.In(quantity.Fahrenheit)) / 2
		return fill{quantity.New(mean, quantity.Fahrenheit), hot, w.Hot.Temperature, check.Say("fill.mixed")}
	}
	return f
}

// HeatUpTime compares the time to wash temperature with the sheet's limit.
var HeatUpTime = &Check{
	ID:      "E-24",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Subject: check.Machine,
	Sources: []trade.Source{sheet, trade.HeatUpBalance, trade.JouleLaw, {Document: "15 % of the heat goes to pan and room", Mark: trade.CommonPractice}},
	After:   []*Check{PlateVoltage, HeaterOutput, HotTemperature},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.LineToNeutral.Path(): "230 ± 0 V", ask.Water.Cold.Winter.Path(): "10 ± 0 °C"}, Verdict: OK, Shows: "t = 16.6 min"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case !c.Machine.Wash.HeatUpMax.Known():
			return check.Say("E-24.no-limit")
		case !c.Machine.Wash.Heater.Known() && !c.Supply.HeaterPower.Known():
			return check.Say("heater.none")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		start := fillStart(c)
		if start.at == nil {
			return c.Silent(check.Say("E-24.which-supply"))
		}
		if out, lacks := c.Lacking(path, start.at); lacks {
			return out
		}
		m := c.Machine
		volume := m.Wash.TankVolume
		if !volume.Known() {
			volume = m.Water.FillVolume
		}
		heater := m.Wash.Heater
		if !heater.Known() {
			heater = c.Supply.HeaterPower
		}
		switch {
		case !volume.Known():
			return c.Silent(check.Say("E-24.volume"))
		case !m.Wash.Temp.Known():
			return c.Silent(check.Say("E-24.wash"))
		case !c.Supply.HeaterVolts.Known():
			return c.Silent(check.Say("silent.heater-voltage", "option", check.Quote(c.Supply.Name)))
		}
		p := heaterAt(c, heater, v)
		time := func(from quantity.Temperature, kept float64) quantity.Time {
			return quantity.New(trade.HeatUpMin(volume.In(quantity.Gallon), from.In(quantity.Fahrenheit), m.Wash.Temp.In(quantity.Fahrenheit), p.In(quantity.Kilowatt), kept), quantity.Minute)
		}
		t := time(start.from, heatKept)
		if !t.Known() {
			return c.Silent(check.Say("E-24.reckon"))
		}
		name := "E-24.hotter"
		if m.Water.Fill == "cold" {
			name = "E-24.tell"
		}
		if _, other := suitingOption(c); other && v.In(quantity.Volt) < 0.95*c.Supply.HeaterVolts.In(quantity.Volt) {
			name += "-or-order"
		}
		action := check.Say(name, "start", start.from, "volts", v, "time", t, "wash", m.Wash.Temp)
		out := check.UpTo(t, m.Wash.HeatUpMax, action, path, start.at)
		if best := time(start.best, 1); out.Verdict == Fix && best.Known() && best.Cmp(m.Wash.HeatUpMax) <= 0 {
			out.Verdict, out.Action = Confirm, check.Say("E-24.assumed", "time", t, "best", best)
		}
		out.Working = []Step{
			entry("P", check.Say("step.tank-heater", "power", heater, "rated", c.Supply.HeaterVolts, "volts", v), p),
			entry("T_1", check.Say("step.fill", "from", start.note), start.from),
			entry("T_w", check.Say("step.wash"), m.Wash.Temp),
			entry("V_t", check.Say("step.tank"), volume),
			entry("η", check.Say("step.heat-kept"), check.Figure{Value: heatKept, Decimals: 2}),
			entry("t", check.Say("step.heat-up"), check.Figure{Value: t.In(quantity.Minute), Decimals: 1, Unit: "min"}),
			entry("t_max", check.Say("step.sheet-limit"), m.Wash.HeatUpMax),
		}
		out.Result = t
		return c.OnSheet(out, "wash.heat_up_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		rs := voltageRemedies(c)
		if fillStart(c).at == ask.Water.Hot.Temperature {
			rs = append(rs, hotter(c, k)...)
		}
		return rs
	},
}
