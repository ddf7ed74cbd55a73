package rules

import (
	"firstfill/specs/check"
	"fmt"

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
	Title:   "heater's output at the site's voltage",
	Why:     "A heater's power follows the square of the voltage: a 240 V element on 208 V gives three quarters of its power, and one of 208 V on 240 V a third too much.",
	Formula: "P = P_r (V / V_r)²; P in W, V in V, r = rated; between the values at the plate's least and most voltage",
	Range:   "fixed resistance, single or three phase",
	Sources: []trade.Source{sheet, trade.JouleLaw},
	After:   []*Check{PlateVoltage},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V"}, Verdict: OK, Shows: "P/P_r = 75.1 %"},
	Applies: func(c *Case) string {
		switch {
		case !c.Supply.HeaterPower.Known():
			return "the requirement sheet states no heater"
		case !c.Supply.VoltageMin.Known() && !c.Supply.VoltageMax.Known():
			return "the requirement sheet sets no voltage range"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		s := c.Supply
		if !s.HeaterVolts.Known() {
			return c.Silent("the rated voltage of the heater")
		}
		p, least, most := heaterAt(c, s.HeaterPower, v), heaterAt(c, s.HeaterPower, s.VoltageMin), heaterAt(c, s.HeaterPower, s.VoltageMax)
		share := percent(p.In(quantity.Watt) / s.HeaterPower.In(quantity.Watt))
		action := fmt.Sprintf("order the machine with a heater for %s; the one of %s gives %s of its power there", show(c, v), show(c, s.HeaterVolts), share)
		out := check.Within(p, least, most, action, action, path)
		out.Have = out.Have.Also(", " + share + " of rated")
		out.Working = []Step{
			{"V", "site's voltage at this supply option", show(c, v)},
			{"P_r", "rated power at " + show(c, s.HeaterVolts), show(c, s.HeaterPower)},
			{"P/P_r", "(V / V_r)²", share},
			{"P", "power at the site's voltage", show(c, p)},
			{"P_min", "power at the plate's least voltage", show(c, least)},
			{"P_max", "power at the plate's most voltage", show(c, most)},
		}
		return onPlate(c, out, "heater_power")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return append(otherOptions(c), atNominal(c)...) },
}

// heatKept is the share of the heater's energy that stays in the water; the
// rest warms pan and room. Common practice, no source.
const heatKept = 0.85

// fillStart is the temperature at which the tank is filled, and its answer.
func fillStart(c *Case) (t quantity.Temperature, path survey.Ref, note string) {
	w := ask.Water
	switch c.Machine.Water.Fill {
	case "hot":
		return w.Hot.Temperature.Of(c), ask.Water.Hot.Temperature, "hot supply"
	case "cold":
		if w.Cold.Winter.Of(c).Known() {
			return w.Cold.Winter.Of(c), ask.Water.Cold.Winter, "cold supply, coldest of the year"
		}
		return w.Cold.Temperature.Of(c), ask.Water.Cold.Temperature, "cold supply"
	case "mixed":
		// The cooler the fill the longer the wait; a valve that fails to mix gives the cold side.
		if w.Hot.Temperature.Of(c).Known() && w.Cold.Temperature.Of(c).Known() {
			mean := (w.Hot.Temperature.Of(c).In(quantity.Fahrenheit) + w.Cold.Temperature.Of(c).In(quantity.Fahrenheit)) / 2
			return quantity.New(mean, quantity.Fahrenheit), ask.Water.Hot.Temperature, "equal parts of hot and cold assumed"
		}
		if !w.Hot.Temperature.Of(c).Known() {
			return t, ask.Water.Hot.Temperature, ""
		}
		return t, ask.Water.Cold.Temperature, ""
	}
	return t, nil, ""
}

// HeatUpTime compares the time to wash temperature with the sheet's limit.
var HeatUpTime = &Check{
	ID:      "E-24",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Title:   "heat-up time of the tank at the site's voltage",
	Why:     "On a low voltage the bar waits for hot wash water after every fill.",
	Formula: "t = 60 V_t × 8.33 (T_w − T_1) / (3412 P η); t in min, V_t in gal, T in °F, P = P_r (V / V_r)² in kW, η the share of heat kept",
	Range:   "still water; η = 0.85 assumed (common practice, no source)",
	Sources: []trade.Source{sheet, trade.HeatUpBalance, trade.JouleLaw, {Document: "15 % of the heat goes to pan and room", Mark: trade.CommonPractice}},
	After:   []*Check{PlateVoltage, HeaterOutput, HotTemperature},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.LineToNeutral.Path(): "230 ± 0 V", ask.Water.Cold.Winter.Path(): "10 ± 0 °C"}, Verdict: OK, Shows: "t = 16.6 min"},
	Applies: func(c *Case) string {
		switch {
		case !c.Machine.Wash.HeatUpMax.Known():
			return "the requirement sheet sets no heat-up time"
		case !c.Machine.Wash.Heater.Known() && !c.Supply.HeaterPower.Known():
			return "the requirement sheet states no heater"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		start, from, note := fillStart(c)
		if from == nil {
			return c.Silent("which supply fills the tank")
		}
		if out, lacks := c.Lacking(path, from); lacks {
			return out
		}
		m := c.Machine
		volume := m.Wash.TankVolume
		if !volume.Known() {
			volume = m.Water.FillVolume
		}
		heater, field := m.Wash.Heater, "wash.tank_heater"
		if !heater.Known() {
			heater, field = c.Supply.HeaterPower, "power.supplies"
		}
		switch {
		case !volume.Known():
			return c.Silent("the volume of the wash tank")
		case !m.Wash.Temp.Known():
			return c.Silent("the temperature of the wash tank")
		case !c.Supply.HeaterVolts.Known():
			return c.Silent("the rated voltage of the heater")
		}
		p := heaterAt(c, heater, v)
		t := quantity.New(trade.HeatUpMin(volume.In(quantity.Gallon), start.In(quantity.Fahrenheit), m.Wash.Temp.In(quantity.Fahrenheit), p.In(quantity.Kilowatt), heatKept), quantity.Minute)
		if !t.Known() {
			return c.Silent("a heater and tank that can be reckoned with (" + field + ")")
		}
		action := fmt.Sprintf("fill the machine with hotter water than %s (%s)", show(c, start), scald)
		if m.Water.Fill == "cold" {
			action = "tell the bar of the wait"
		}
		if v.In(quantity.Volt) < 0.95*c.Supply.HeaterVolts.In(quantity.Volt) {
			action = fmt.Sprintf("order the machine with a heater for %s, or ", show(c, v)) + action
		}
		action += fmt.Sprintf("; the tank takes %s to %s", show(c, t), show(c, m.Wash.Temp))
		out := check.UpTo(t, m.Wash.HeatUpMax, action, path, from)
		out.Working = []Step{
			{"P", fmt.Sprintf("tank heater of %s at %s, on %s", show(c, heater), show(c, c.Supply.HeaterVolts), show(c, v)), show(c, p)},
			{"T_1", "fill: " + note, show(c, start)},
			{"T_w", "wash temperature", show(c, m.Wash.Temp)},
			{"V_t", "tank volume", show(c, volume)},
			{"η", "share of heat kept, assumed", number(heatKept, 2)},
			{"t", "heat-up time", number(t.In(quantity.Minute), 1) + " min"},
			{"t_max", "limit on the sheet", show(c, m.Wash.HeatUpMax)},
		}
		return c.OnSheet(out, "wash.heat_up_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		rs := append(otherOptions(c), atNominal(c)...)
		if _, from, _ := fillStart(c); from == ask.Water.Hot.Temperature {
			rs = append(rs, hotter(c, k)...)
		}
		return rs
	},
}
