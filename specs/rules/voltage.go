package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// systemLabels are the panel labels of the questionnaire and the system each means.
var systemLabels = map[string]trade.System{
	"208Y/120": trade.Wye208Y120, "120/240": trade.Split120_240, "240-delta": trade.Delta240,
	"high-leg-delta": trade.HighLeg240, "480Y/277": trade.Wye480Y277, "400Y/230": trade.Wye400Y230, "230": trade.Single230,
}

// labelOf is the panel label of a system; a part of a system carries its label.
func labelOf(s trade.System) string {
	switch s {
	case trade.Single120:
		return "120/240"
	case trade.Wye208Single:
		return "208Y/120"
	}
	for label, t := range systemLabels {
		if t == s {
			return label
		}
	}
	return s.String()
}

// systemUses are the answers that systemsOf reads.

// systemsOf recognises the supply: the labels of all systems that explain the
// readings. A machine between one line and neutral needs that reading alone; a
// delta without a neutral has no line-to-neutral reading.
func systemsOf(c *Case) (labels []string, at []survey.Ref, out Outcome, bad bool) {
	p := ask.Power
	_, path := volts(c)
	delta := p.System.Of(c) == "240-delta" && !p.LineToNeutral.Of(c).Known()
	switch {
	case path == ask.Power.LineToNeutral:
		at = []survey.Ref{path}
	case delta:
		at = []survey.Ref{ask.Power.LineToLine}
	case onNEC(c):
		at = []survey.Ref{ask.Power.LineToLine, ask.Power.LineToNeutral, ask.Power.HighLeg}
	default:
		at = []survey.Ref{ask.Power.LineToLine, ask.Power.LineToNeutral}
	}
	if out, lacks := c.Lacking(at...); lacks {
		return nil, at, out, true
	}
	r := trade.Readings{NoN: delta}
	if p.LineToLine.Of(c).Known() {
		r.LL = []float64{p.LineToLine.Of(c).In(quantity.Volt)}
	}
	if p.LineToNeutral.Of(c).Known() {
		low := p.LineToNeutral.Of(c).In(quantity.Volt)
		high := low
		if p.HighLeg.Of(c).Known() {
			high = p.HighLeg.Of(c).In(quantity.Volt)
		}
		switch {
		case p.Phases.Of(c).N() == 3:
			r.Legs, r.LN = 3, []float64{low, low, high}
		case p.HighLeg.Of(c).Known():
			r.LN = []float64{low, high}
		default:
			r.LN = []float64{low}
		}
	}
	found, err := trade.Recognize(r)
	if err != nil {
		return nil, at, check.Rule(readingsText(c), "voltages of a supply system", "have the voltages read again: "+err.Error(), at...), true
	}
	candidates := found.Candidates
	// Every leg was read and none is high: no high-leg delta.
	if p.HighLeg.Of(c).Known() && found.HighLeg < 0 {
		candidates = slices.DeleteFunc(candidates, func(s trade.System) bool { return s == trade.HighLeg240 })
	}
	for _, s := range candidates {
		if l := labelOf(s); !slices.Contains(labels, l) {
			labels = append(labels, l)
		}
	}
	// Where readings of two regions overlap the frequency tells them apart.
	if len(labels) > 1 && p.Frequency.Of(c).Known() {
		fifty := p.Frequency.Of(c).In(quantity.Hertz) < 55
		labels = slices.DeleteFunc(labels, func(l string) bool { return fifty != (l == "400Y/230" || l == "230") })
	}
	return labels, at, out, false
}

// readingsText lists the voltages read.
func readingsText(c *Case) string {
	p := ask.Power
	var parts []string
	add := func(v quantity.Voltage, what string) {
		if v.Known() {
			parts = append(parts, show(c, v)+" "+what)
		}
	}
	add(p.LineToLine.Of(c), "line to line")
	add(p.LineToNeutral.Of(c), "line to neutral")
	if p.HighLeg.Of(c).Known() && p.HighLeg.Of(c).Cmp(p.LineToNeutral.Of(c)) != 0 {
		add(p.HighLeg.Of(c), "from the highest leg to neutral")
	}
	return strings.Join(parts, ", ")
}

// sameLeg says whether a machine between one line and neutral finds the same
// voltage in all these systems.
func sameLeg(c *Case, labels []string) bool {
	if _, path := volts(c); path != ask.Power.LineToNeutral {
		return false
	}
	volts := map[float64]bool{}
	for _, l := range labels {
		info, _ := systemLabels[l].Info()
		volts[info.LineNeutralV] = true
	}
	return len(volts) == 1
}

// voltsToGround is the highest voltage to ground among the legs, as read.
func voltsToGround(c *Case) (v float64, ok bool) {
	p := ask.Power
	switch {
	case p.HighLeg.Of(c).Known() && p.LineToNeutral.Of(c).Known():
		return max(p.HighLeg.Of(c).In(quantity.Volt), p.LineToNeutral.Of(c).In(quantity.Volt)), true
	case p.LineToNeutral.Of(c).Known():
		return p.LineToNeutral.Of(c).In(quantity.Volt), true
	case p.System.Of(c) == "240-delta" && p.LineToLine.Of(c).Known():
		return p.LineToLine.Of(c).In(quantity.Volt), true
	}
	return 0, false
}

// highLeg says whether one leg reads far above the others to neutral.
func highLeg(c *Case) bool {
	p := ask.Power
	return p.HighLeg.Of(c).Known() && p.LineToNeutral.Of(c).Known() && p.HighLeg.Of(c).In(quantity.Volt) > 1.3*p.LineToNeutral.Of(c).In(quantity.Volt)
}

// SupplySystem names the supply from its readings.
var SupplySystem = &Check{
	ID:      "E-01",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Title:   "supply system by its voltages",
	Why:     "Voltage to ground, neutral and the choice of supply option all hang on it; a delta with a high leg looks like a split-phase supply until every leg is read.",
	Formula: "line to line / line to neutral: √3 = wye, 2 = centre-tapped winding; a leg of √3 times the others to neutral = high-leg delta",
	Range:   "readings within the tolerances of the nominal systems",
	Sources: []trade.Source{trade.ANSIC84, trade.IEC60038, trade.HighLegVolts},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "208 V", ask.Power.LineToNeutral.Path(): "120 V", ask.Power.HighLeg.Path(): "120 V"}, Verdict: OK, Shows: "V_LL/V_LN = 1.73"},
	Run: func(c *Case) Outcome {
		labels, at, out, bad := systemsOf(c)
		if bad {
			return out
		}
		p := ask.Power
		var working []Step
		if p.LineToLine.Of(c).Known() && p.LineToNeutral.Of(c).Known() {
			working = append(working, Step{"V_LL/V_LN", "ratio of the readings", number(p.LineToLine.Of(c).In(quantity.Volt)/p.LineToNeutral.Of(c).In(quantity.Volt), 2)})
		}
		working = append(working, Step{"system", "systems that explain every reading", strings.Join(labels, ", ")})
		switch {
		case len(labels) == 0:
			out = check.Choice(false, readingsText(c), "voltages of a known supply system",
				"have a qualified person read every leg again and name the supply; "+readingsText(c)+" fits no system known here, so connect nothing to it", at...)
		case len(labels) == 1 || sameLeg(c, labels):
			out = check.Choice(true, strings.Join(labels, " or "), "a known supply system", "", at...)
		default:
			out = check.Rule(strings.Join(labels, " or ")+", by "+readingsText(c), "one supply system", "have the electrician read every leg and say which of "+strings.Join(labels, ", ")+" it is", at...)
		}
		out.Working = working
		return out
	},
}

// SupplyLabel compares the panel's label with what was read.
var SupplyLabel = &Check{
	ID:      "E-02",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Title:   "panel's label against the voltages read",
	Why:     "When they contradict each other one of them is wrong, and the machine would be ordered for the wrong supply.",
	Sources: []trade.Source{trade.ANSIC84, trade.IEC60038, trade.HighLegVolts},
	After:   []*Check{SupplySystem},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.System.Path(): "120/240"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if ask.Power.System.Of(c) == "" {
			return "no label was found on the panel"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		labels, at, out, bad := systemsOf(c)
		if bad {
			return out
		}
		label := ask.Power.System.Of(c)
		at = append([]survey.Ref{ask.Power.System}, at...)
		ok := slices.Contains(labels, label) || len(labels) > 0 && sameLeg(c, append([]string{label}, labels...))
		want := "no system known here, by " + readingsText(c)
		if len(labels) > 0 {
			want = strings.Join(labels, " or ") + ", by " + readingsText(c)
		}
		return check.Choice(ok, "label "+label, want, fmt.Sprintf("find out which is right, the label %s or the readings (%s), and correct the label before anything is ordered", label, readingsText(c)), at...)
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		labels, _, _, _ := systemsOf(c)
		var rs []Remedy
		for _, l := range labels {
			rs = append(rs, Remedy{Change: "relabel the panel " + l + " once an electrician has confirmed it", Set: map[string]string{ask.Power.System.Path(): l}})
		}
		return rs
	},
}

// PlateVoltage compares the site's voltage with the plate's range.
var PlateVoltage = &Check{
	ID:      "E-03",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Title:   "site's voltage against the machine's plate",
	Why:     "Below the range the heater is too weak and motors run hot; above it elements and controls burn out.",
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Power.LineToLine.Path(): "241 V"}, Verdict: Fix, Shows: "V = 241 V"},
	Run: func(c *Case) Outcome {
		v, path := volts(c)
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		s := c.Supply
		if !s.VoltageMin.Known() && !s.VoltageMax.Known() {
			return c.Silent("the voltage range of supply option " + s.Name)
		}
		action := fmt.Sprintf("don't connect the %s option to %s; order the option that suits the site, or have an electrician advise on the supply", s.Name, show(c, v))
		out := check.Within(v, s.VoltageMin, s.VoltageMax, action, action, path)
		out.Working = []Step{{"V", "site's voltage at this supply option, as read", show(c, v)}, {"V_min", "least on the plate", show(c, s.VoltageMin)}, {"V_max", "most on the plate", show(c, s.VoltageMax)}}
		return onPlate(c, out, "voltage_min")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return append(otherOptions(c), atNominal(c)...) },
}

// atNominal offers to bring a supply that is off its nominal voltage back to it.
func atNominal(c *Case) []Remedy {
	labels, _, _, bad := systemsOf(c)
	if bad || len(labels) == 0 || len(labels) > 1 && !sameLeg(c, labels) {
		return nil
	}
	info, ok := systemLabels[labels[0]].Info()
	v, path := volts(c)
	p := ask.Power
	nominal := info.LineLineV
	if path == ask.Power.LineToNeutral {
		nominal = info.LineNeutralV
	}
	if !ok || nominal == 0 || math.Abs(v.In(quantity.Volt)/nominal-1) < 0.01 {
		return nil
	}
	set := map[string]string{}
	put := func(known bool, path survey.Ref, volts float64) {
		if known && volts > 0 {
			set[path.Path()] = quantity.Volt.Write(volts)
		}
	}
	put(p.LineToLine.Of(c).Known(), ask.Power.LineToLine, info.LineLineV)
	put(p.LineToNeutral.Of(c).Known(), ask.Power.LineToNeutral, info.LineNeutralV)
	put(p.HighLeg.Of(c).Known(), ask.Power.HighLeg, info.VoltsToGround)
	return []Remedy{{Change: fmt.Sprintf("have the utility or the electrician bring the supply to its nominal %s; %s was read", show(c, powerVolts(nominal)), show(c, v)), Set: set}}
}

// SupplyPhases compares phases at the machine.
var SupplyPhases = &Check{
	ID:      "E-04",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Title:   "phases at the machine",
	Why:     "A three-phase machine can't run on single phase, and a single-phase one takes two legs or one of a three-phase panel, not three.",
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "godwit-c44", Given: map[string]string{ask.Power.Phases.Path(): "1"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Phases); lacks {
			return out
		}
		have, want := ask.Power.Phases.Of(c).N(), c.Supply.Phases
		action := fmt.Sprintf("bring a %d-phase circuit to the machine", want)
		if want == 3 {
			action += ", if the building has three phases; else order another machine"
		}
		return onPlate(c, check.Choice(have == want, fmt.Sprintf("%d-phase", have), fmt.Sprintf("%d-phase", want), action, ask.Power.Phases), "phases")
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		rs := otherOptions(c)
		if want := c.Supply.Phases; want == 1 && ask.Power.Phases.Of(c).N() == 3 {
			n := fmt.Sprint(lineConductors(c))
			rs = append(rs, Remedy{Change: "bring a single-phase circuit with a " + n + "-pole breaker from the three-phase panel", Set: map[string]string{ask.Power.Phases.Path(): "1", ask.Power.BreakerPoles.Path(): n}})
		}
		return rs
	},
}

// SupplyFrequency compares frequencies.
var SupplyFrequency = &Check{
	ID:      "E-05",
	Trade:   Electrician,
	Stage:   BeforeOrder,
	Title:   "frequency of the supply",
	Why:     "Pumps turn a fifth slower or faster on the wrong frequency, and transformers and motors overheat.",
	Range:   "within 1 Hz of the plate counts as the same",
	Sources: []trade.Source{sheet, {Document: "Within 1 Hz counts as the plate's frequency", Mark: trade.CommonPractice}},
	Example: Example{Machine: "turnstone-u50", Given: map[string]string{ask.Power.Frequency.Path(): "60 Hz"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if !c.Supply.Frequency.Known() {
			return "the requirement sheet sets no frequency"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Frequency); lacks {
			return out
		}
		f := c.Supply.Frequency
		one := quantity.New(1, quantity.Hertz)
		action := "order the machine for " + show(c, ask.Power.Frequency.Of(c)) + "; nothing on site changes the frequency"
		out := check.Within(ask.Power.Frequency.Of(c), f.Minus(one), f.Plus(one), action, action, ask.Power.Frequency)
		return onPlate(c, out, "frequency")
	},
	Remedies: func(c *Case, _ *Check) []Remedy { return otherOptions(c) },
}

// SupplyNeutral asks for a neutral where the machine uses one.
var SupplyNeutral = &Check{
	ID:      "E-06",
	Trade:   Electrician,
	Stage:   RoughIn,
	Title:   "neutral at the machine",
	Why:     "Controls or the whole machine run from line to neutral; the grounding conductor is never a substitute, and a high leg would put 208 V on 120 V parts.",
	Sources: []trade.Source{sheet, trade.NECHighLeg},
	Example: Example{Machine: "knot-c400", Given: map[string]string{ask.Power.Neutral.Path(): "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if !c.Supply.Neutral {
			return "the machine uses no neutral"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Neutral); lacks {
			return out
		}
		out := check.Choice(ask.Power.Neutral.Of(c) == survey.Yes, "neutral: "+ask.Power.Neutral.Of(c).String(), "a neutral run to the machine",
			"run a neutral of the circuit's size to the machine; never use the grounding conductor as neutral", ask.Power.Neutral)
		if out.Verdict == OK && onNEC(c) {
			if out, lacks := c.Lacking(ask.Power.LineToNeutral, ask.Power.HighLeg); lacks {
				return out
			}
			at := []survey.Ref{ask.Power.Neutral, ask.Power.LineToNeutral, ask.Power.HighLeg}
			switch {
			case highLeg(c) && c.Supply.Phases == 3:
				out = check.Choice(false, readingsText(c), "the same voltage from every leg to neutral", "don't connect the machine to this delta; its high leg has "+show(c, ask.Power.HighLeg.Of(c))+" to neutral", at...)
			case highLeg(c):
				out = check.Rule(readingsText(c), "a leg that is not the high leg", "have the electrician confirm that the circuit is not on the high leg (orange, usually phase B)", at...)
			}
		}
		return onPlate(c, out, "neutral")
	},
	Remedies: func(c *Case, _ *Check) []Remedy {
		return append([]Remedy{{Change: "run a neutral to the machine", Set: map[string]string{ask.Power.Neutral.Path(): "yes"}}}, otherOptions(c)...)
	},
}
