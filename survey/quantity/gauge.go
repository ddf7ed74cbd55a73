package quantity

import (
	"math"
	"strconv"
	"strings"
)

// A Way says to which side a figure is rounded.
type Way int

// The ways. A least is rounded up and a most down, so that what is built to
// the printed figure meets the limit.
const (
	Nearest Way = iota
	Up
	Down
)

// steps of a tape, a gauge, a meter as they are read, by dimension and system.
var gauges = map[string][2]struct {
	unit *unit
	step float64
}{
	"pressure":               {{PSI.unit, 1}, {Kilopascal.unit, 5}},
	"temperature":            {{Fahrenheit.unit, 1}, {Celsius.unit, 1}},
	"temperature difference": {{FahrenheitDiff.unit, 1}, {CelsiusDiff.unit, 1}},
	"voltage":                {{Volt.unit, 1}, {Volt.unit, 1}},
	"current":                {{Ampere.unit, 0.1}, {Ampere.unit, 0.1}},
	"resistance":             {{Ohm.unit, 0.01}, {Ohm.unit, 0.01}},
	"power":                  {{Kilowatt.unit, 0.1}, {Kilowatt.unit, 0.1}},
	"frequency":              {{Hertz.unit, 1}, {Hertz.unit, 1}},
	"flow":                   {{GPM.unit, 0.1}, {LPM.unit, 0.1}},
	"mass":                   {{Pound.unit, 1}, {Kilogram.unit, 1}},
	"volume":                 {{Gallon.unit, 0.1}, {Litre.unit, 0.1}},
	"hardness":               {{GrainPerGallon.unit, 0.1}, {HardnessMgL.unit, 1}},
	"concentration":          {{MgPerL.unit, 1}, {MgPerL.unit, 1}},
	"slope":                  {{InchPerFoot.unit, 1.0 / 16}, {Percent.unit, 0.1}},
	"speed":                  {{FootPerSecond.unit, 0.1}, {MetrePerSecond.unit, 0.1}},
	"floor load":             {{PSF.unit, 1}, {KNPerM2.unit, 0.1}},
}

// Gauge prints q in one system alone, as a tape or a gauge reads: inches in
// eighths, whole psi, volts and millimetres. The user's own words stand when
// they are of that system and state no spread.
func (q Of[D]) Gauge(s System, w Way) string {
	if !q.Known() {
		return unknownText
	}
	if q.text != "" && !q.stated && !q.rough && w == Nearest && (q.u.sys == s || q.u.sys == both) {
		if v := toStep(q.base()/Inch.unit.factor, 1.0/16, Nearest); q.dim().name == "length" && s == US && strings.Contains(q.text, ".") && math.Abs(v*Inch.unit.factor-q.base()) < 1e-6 {
			text, _ := mixed(v) // a tape has no decimals
			return text + " in"
		}
		return q.text
	}
	b := q.base()
	d := q.dim()
	if d.name == "length" {
		return gaugeLength(b, s, w)
	}
	g, ok := gauges[d.name]
	if !ok {
		text, _ := q.rendered(s, 0)
		return text
	}
	u := g[s].unit
	v := toStep(u.from(b), g[s].step, w)
	if d.name == "slope" && s == US {
		text, _ := mixed(v)
		return text + " " + u.name
	}
	return plain(v, 1) + " " + u.name
}

func gaugeLength(mm float64, s System, w Way) string {
	if s == SI {
		if math.Abs(mm) >= 10_000 {
			return plain(toStep(mm/1000, 0.1, w), 1) + " m"
		}
		return plain(toStep(mm, 1, w), 0) + " mm"
	}
	in := toStep(mm/mmPerInch, 1.0/8, w)
	if math.Abs(in) < 120 {
		text, _ := mixed(in)
		return text + " in"
	}
	feet := math.Trunc(in / 12)
	text := plain(feet, 0) + " ft"
	if rest := math.Abs(in - 12*feet); rest > 0 {
		part, _ := mixed(rest)
		text += " " + part + " in"
	}
	return text
}

// toStep rounds to a multiple of step; a hair beyond one still counts as it.
func toStep(v, step float64, w Way) float64 {
	const hair = 1e-6
	n := v / step
	switch w {
	case Up:
		n = math.Ceil(n - hair)
	case Down:
		n = math.Floor(n + hair)
	default:
		n = math.Round(n)
	}
	return n * step
}

func plain(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}
