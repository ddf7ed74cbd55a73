package rules

import (
	"firstfill/specs/check"
	"maps"
	"math"
	"slices"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var chemicals = []*Check{SanitizerKind, SanitizerStrength, SolutionMade, ContainerPlace, ContainerLift, AcidApart, DataSheets, Eyewash}

var (
	oshaSDS     = trade.Source{Document: "OSHA 29 CFR", Clause: "1910.1200", Mark: trade.ReadCopy}
	oshaEyewash = trade.Source{Document: "OSHA 29 CFR", Clause: "1910.151(c)", Mark: trade.ReadCopy}
)

// What a dosing pump draws through when the requirement sheet says nothing.
// trade.ChemicalPractice: common practice, no source.
var (
	chemicalTubeUsual = quantity.New(trade.FeedLineHighFt, quantity.Foot)
	chemicalLiftUsual = quantity.New(trade.FeedLiftHighFt, quantity.Foot)
)

// notChemical says why a check of the sanitizer doesn't arise.
func notChemical(c *Case) check.Phrase {
	if !c.Machine.Has("chemical") {
		return check.Say("chemicals.skip")
	}
	return check.Phrase{}
}

// SanitizerKind compares the sanitizer with those that the machine doses.
var SanitizerKind = &Check{
	ID:      "C-01",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{sheet, trade.FoodCode4_501_114},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "quat"}, Verdict: Fix},
	Skip:    notChemical,
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.Sanitizer
		kinds := chemicalKinds(c)
		if len(kinds) == 0 {
			return c.Silent(check.Say("C-01.sheet"))
		}
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		have, want := ask.Chemicals.Sanitizer.Of(c), any(check.Quote(strings.Join(kinds, " or ")))
		out := check.Choice(slices.Contains(kinds, have), check.Quote(have), want,
			check.Say("C-01.do", "want", want, "have", check.Quote(have)), path)
		return c.OnSheet(out, "chemicals.sanitizers")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		for _, kind := range chemicalKinds(c) {
			set, pH := suitedPH(c, kind)
			set[ask.Chemicals.Sanitizer.Path()] = kind
			change := any(check.Say("C-01.change", "kind", check.Quote(kind)))
			low, high, _ := chemicalRange(c, kind)
			if low.Known() && high.Known() {
				x := math.Round((low.In(quantity.MgPerL) + high.In(quantity.MgPerL)) / 2)
				if kind == "chlorine" {
					// As strong as a test strip of 10 % can tell from the maximum:
					// the stronger solution sanitizes at the lower temperature.
					x = math.Max(math.Floor(high.In(quantity.MgPerL)/1.12), low.In(quantity.MgPerL))
				}
				if most, _, err := trade.NoRinse(trade.Quat); kind == "quat" && err == nil {
					x = math.Max(math.Min(x, math.Floor(most/1.12)), low.In(quantity.MgPerL)) // without asking for its label
				}
				set[ask.Chemicals.Concentration.Path()] = quantity.MgPerL.Write(x)
				change = check.Say("C-01.more", "before", change, "set", check.Quote(set[ask.Chemicals.Concentration.Path()]), "ph", pH)
			}
			rs = append(rs, Remedy{Change: change, Set: set})
		}
		return rs
	},
}

// suitedPH is the pH that a sanitizer of another kind needs, where the present
// one doesn't suit it, and how to say so: acid is for iodine, and drives gas
// out of chlorine.
func suitedPH(c *Case, kind string) (set map[string]string, say check.Phrase) {
	set = map[string]string{}
	pH := ask.Chemicals.PH.Of(c)
	switch {
	case kind == "iodine" && !(pH.Value() <= trade.IodineMaxPH):
		set[ask.Chemicals.PH.Path()] = "5"
		return set, check.Say("sanitizer-ph.most", "ph", check.Figure{Value: trade.IodineMaxPH, Decimals: 1})
	case kind == "chlorine" && pH.Known() && !(pH.Value() >= trade.ChlorineGasPH && pH.Value() <= 8):
		set[ask.Chemicals.PH.Path()] = "7.5"
		return set, check.Say("sanitizer-ph.between", "low", check.Figure{Value: trade.ChlorineGasPH, Decimals: 1}, "high", check.Figure{Value: 8, Decimals: 1})
	}
	return set, say
}

// chemicalKinds lists the sanitizers on the requirement sheet.
func chemicalKinds(c *Case) []string {
	return slices.DeleteFunc(strings.Fields(c.Machine.Chemicals.Sanitizers), func(s string) bool { return s == "none" })
}

// chemicalRange is the range of strengths for a sanitizer: the sheet's,
// narrowed by the Food Code. codes says which ends are the code's.
func chemicalRange(c *Case, kind string) (low, high quantity.Concentration, code string) {
	low, high = c.Machine.Chemicals.Minimum, c.Machine.Chemicals.Maximum
	narrow := func(min, max float64) {
		if m := quantity.New(min, quantity.MgPerL); !low.Known() || low.Cmp(m) < 0 {
			low, code = m, "lower limit"
		}
		if m := quantity.New(max, quantity.MgPerL); max > 0 && (!high.Known() || high.Cmp(m) > 0) {
			high = m
			if code != "" {
				code = "both limits"
			} else {
				code = "upper limit"
			}
		}
	}
	switch kind {
	case "chlorine":
		most, _, _ := trade.NoRinse(trade.Chlorine)
		narrow(trade.ChlorineMinMgL, most)
	case "iodine":
		narrow(trade.IodineMinMgL, trade.IodineMaxMgL)
	case "quat":
		// Some labels allow more than the general limit, none more than this.
		if _, most, err := trade.NoRinse(trade.Quat); err == nil && high.Known() && high.In(quantity.MgPerL) > most {
			high, code = quantity.New(most, quantity.MgPerL), "upper limit"
		}
	}
	return low, high, code
}

// SanitizerStrength compares the strength of the final rinse with the sheet and the Food Code.
var SanitizerStrength = &Check{
	ID:      "C-02",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{sheet, trade.FoodCode4_501_114, trade.FoodCodeChlorine, trade.CFR180_940},
	After:   []*Check{SanitizerKind},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "iodine", ask.Chemicals.Concentration.Path(): "30 ± 0 mg/L"}, Verdict: Fix, Shows: "c max = 25 mg/L"},
	Skip: func(c *Case) check.Phrase {
		switch {
		case !notChemical(c).Zero():
			return notChemical(c)
		case ask.Chemicals.Sanitizer.Of(c) == "none":
			return check.Say("C-02.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.Concentration
		if out, lacks := c.Lacking(path, ask.Chemicals.Sanitizer); lacks {
			return out
		}
		kind, have := ask.Chemicals.Sanitizer.Of(c), ask.Chemicals.Concentration.Of(c)
		low, high, code := chemicalRange(c, kind)
		if !low.Known() && !high.Known() {
			return c.Silent(check.Say("C-02.sheet"))
		}
		var tooLow, tooHigh any
		if low.Known() {
			tooLow = check.Say("C-02.toolow", "kind", check.Quote(kind), "low", low)
		}
		if high.Known() {
			tooHigh = check.Say("C-02.toohigh", "kind", check.Quote(kind), "high", high)
		}
		out := check.Within(have, low, high, tooLow, tooHigh, path)
		meaning := any(check.Say("C-02.meaning"))
		out.Working = []Step{entry("c", check.Say("C-02.step", "kind", check.Quote(kind)), have)}
		note := func(symbol string, what any, q quantity.Concentration, byCode bool) {
			if !q.Known() {
				return
			}
			from := any(meaning)
			if byCode {
				from = check.Say("C-02.from")
			}
			out.Working = append(out.Working, entry(symbol, check.Say("C-02.step2", "what", what, "from", from), q))
		}
		note("c min", check.Say("C-02.arg"), low, code == "lower limit" || code == "both limits")
		note("c max", check.Say("C-02.arg2"), high, code == "upper limit" || code == "both limits")
		if most, _, err := trade.NoRinse(trade.Quat); err == nil && kind == "quat" {
			label := quantity.New(most, quantity.MgPerL)
			out.Working = append(out.Working, entry("c label", check.Say("C-02.label"), label))
			if out.Verdict == OK && have.Cmp(label) > 0 {
				out.Verdict, out.Action = Confirm, check.Say("C-02.show-label", "most", label)
			}
		}
		return c.OnSheet(out, "chemicals.concentration_min")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		kind := ask.Chemicals.Sanitizer.Of(c)
		low, high, _ := chemicalRange(c, kind)
		if !low.Known() || !high.Known() {
			return nil
		}
		lo, hi := low.In(quantity.MgPerL), high.In(quantity.MgPerL)
		word := func(v any) any { return check.Say("C-02.way", "kind", check.Quote(kind), "v", v) }
		rs := c.Offer(k, ask.Chemicals.Concentration, check.Ladder(hi, lo, 2.5, quantity.MgPerL), nil, word)
		weakest := c.Offer(k, ask.Chemicals.Concentration, check.Ladder(lo, hi, 2.5, quantity.MgPerL), nil, word)
		if len(rs) > 0 && len(weakest) > 0 && !maps.Equal(rs[0].Set, weakest[0].Set) {
			rs = append(rs, weakest...)
		}
		return rs
	},
}

// SolutionMade holds the solution's pH and hardness against what its kind bears.
var SolutionMade = &Check{
	ID:      "C-08",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{trade.FoodCode4_501_114, trade.ChlorineGas},
	After:   []*Check{SanitizerKind},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "iodine", ask.Chemicals.Concentration.Path(): "18 mg/L", ask.Chemicals.PH.Path(): "7.5"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if why := notChemical(c); !why.Zero() {
			return why
		}
		switch ask.Chemicals.Sanitizer.Of(c) {
		case "none":
			return check.Say("C-02.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Chemicals.Sanitizer); lacks {
			return out
		}
		if ask.Chemicals.Sanitizer.Of(c) == "quat" {
			if out, lacks := c.Lacking(ask.Treatment.Hardness); lacks {
				return out
			}
			have, most := ask.Treatment.Hardness.Of(c), quantity.New(trade.QuatMaxHardnessMgL, quantity.HardnessMgL)
			out := check.UpTo(have, most, check.Say("C-08.hard-do", "limit", most), ask.Treatment.Hardness)
			out.Working = []Step{entry("H", check.Say("C-08.hard"), have), entry("H_max", check.Say("C-08.hard-max"), most)}
			return out
		}
		if out, lacks := c.Lacking(ask.Chemicals.PH); lacks {
			return out
		}
		if ask.Chemicals.Sanitizer.Of(c) == "chlorine" {
			return gassing(c)
		}
		pH, most := ask.Chemicals.PH.Of(c).Value(), trade.IodineMaxPH
		limit := check.Figure{Value: most, Decimals: 1}
		out := check.Choice(pH <= most, check.Figure{Value: pH, Decimals: 2}, check.Say("C-08.ph-want", "limit", limit), check.Say("C-08.ph-do", "limit", limit), ask.Chemicals.PH)
		out = phSpare(out, most-pH)
		out.Working = []Step{entry("pH", check.Say("C-08.ph"), check.Figure{Value: pH, Decimals: 2}), entry("pH_max", check.Say("C-08.ph-max"), limit)}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		if ask.Chemicals.Sanitizer.Of(c) == "quat" {
			rs := c.Offer(k, ask.Treatment.Hardness, []string{"300 mg/L", "120 mg/L"}, nil, func(v any) any { return check.Say("C-08.soften", "limit", v) })
			for i := range rs {
				rs[i].Work = check.Device
			}
			return rs
		}
		if ask.Chemicals.Sanitizer.Of(c) == "chlorine" {
			return c.Offer(k, ask.Chemicals.PH, []string{"7.5"}, nil, func(v any) any { return check.Say("C-08.acid", "v", v) })
		}
		return c.Offer(k, ask.Chemicals.PH, []string{"5", "4.5"}, nil, func(v any) any { return check.Say("C-08.acid", "v", v) })
	},
}

// gassing judges whether a chlorine solution is so acid that it gives off gas.
func gassing(c *Case) Outcome {
	pH, least := ask.Chemicals.PH.Of(c).Value(), trade.ChlorineGasPH
	limit := check.Figure{Value: least, Decimals: 1}
	out := check.Choice(pH >= least, check.Figure{Value: pH, Decimals: 2}, check.Say("C-08.gas-want", "limit", limit), check.Say("C-08.gas-do", "limit", limit), ask.Chemicals.PH)
	out = phSpare(out, pH-least)
	out.Working = []Step{entry("pH", check.Say("C-08.ph"), check.Figure{Value: pH, Decimals: 2}), entry("pH_min", check.Say("C-08.gas-min"), limit)}
	return out
}

// ContainerPlace compares the tube run from the containers with the machine's tubes.
var ContainerPlace = &Check{
	ID:      "C-03",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{sheet, trade.ChemicalPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.TubeRun.Path(): "7 ± 0 ft"}, Verdict: Fix, Shows: "l tube = 6 ft (1829 mm)"},
	Run: func(c *Case) Outcome {
		path, place := ask.Chemicals.TubeRun, ask.Chemicals.Place
		if out, lacks := c.Lacking(place, path); lacks {
			return out
		}
		have, limit, usual := ask.Chemicals.TubeRun.Of(c), c.Machine.Chemicals.TubeLength, false
		if !limit.Known() {
			limit, usual = chemicalTubeUsual, true
		}
		out := check.UpTo(have, limit, check.Say("C-03.do", "limit", limit), path, place)
		out.Working = []Step{entry("l", check.Say("C-03.step", "place", check.Word(ask.Chemicals.Place.Of(c))), have)}
		return chemicalLimit(c, out, entry("l tube", check.Say("C-03.step2"), limit), usual, "chemicals.tube_length")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		limit := c.Machine.Chemicals.TubeLength
		if !limit.Known() {
			limit = chemicalTubeUsual
		}
		return c.Offer(k, ask.Chemicals.TubeRun, spaceSteps(c, limit, quantity.New(0, quantity.Foot), 3, 100), nil, func(v any) any {
			return check.Say("C-03.way", "v", v)
		})
	},
}

// chemicalLimit notes where a limit comes from: the sheet, or common practice.
func chemicalLimit(c *Case, out Outcome, step Step, usual bool, path string) Outcome {
	if usual {
		step.Meaning = check.Say("chemical-limit.way")
		out.Working = append(out.Working, step)
		return out
	}
	out.Working = append(out.Working, step)
	return c.OnSheet(out, path)
}

// ContainerLift compares the suction lift with what the machine's pump draws.
var ContainerLift = &Check{
	ID:      "C-04",
	Trade:   Supplier,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{sheet, trade.ChemicalPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Lift.Path(): "5.5 ± 0 ft"}, Verdict: Fix, Shows: "h max = 5 ft (1524 mm)"},
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.Lift
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		have, limit, usual := ask.Chemicals.Lift.Of(c), c.Machine.Chemicals.LiftMax, false
		if !limit.Known() {
			limit, usual = chemicalLiftUsual, true
		}
		out := check.UpTo(have, limit, check.Say("C-04.do", "limit", limit), path)
		out.Working = []Step{entry("h", check.Say("C-04.step"), have)}
		return chemicalLimit(c, out, entry("h max", check.Say("C-04.step2"), limit), usual, "chemicals.lift_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		limit := c.Machine.Chemicals.LiftMax
		if !limit.Known() {
			limit = chemicalLiftUsual
		}
		return c.Offer(k, ask.Chemicals.Lift, spaceSteps(c, limit, quantity.New(0, quantity.Foot), 3, 100), nil, func(v any) any {
			return check.Say("C-04.way", "v", v)
		})
	},
}

// AcidApart asks for acid and ammonia away from chlorine.
var AcidApart = &Check{
	ID:      "C-05",
	Trade:   Owner,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{trade.EHSBleach},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "chlorine", ask.Chemicals.AcidBeside.Path(): "yes"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if why := notChemical(c); !why.Zero() {
			return why
		}
		if s := ask.Chemicals.Sanitizer.Of(c); s != "" && s != "chlorine" {
			return check.Say("C-05.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.AcidBeside
		if out, lacks := c.Lacking(path, ask.Chemicals.Sanitizer); lacks {
			return out
		}
		action := any(check.Say("C-05.action"))
		if c.Machine.Chemicals.AcidProduct {
			action = check.Say("C-05.more", "before", action)
		}
		beside := ask.Chemicals.AcidBeside.Of(c) == survey.Yes
		return check.Choice(!beside, pick(beside, check.Say("C-05.have"), check.Say("C-05.have2")), check.Say("C-05.have2"), action, path)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return []Remedy{{Change: check.Say("C-05.way"), Set: map[string]string{ask.Chemicals.AcidBeside.Path(): "no"}}}
	},
}

// DataSheets asks for the safety data sheets.
var DataSheets = &Check{
	ID:      "C-06",
	Trade:   Owner,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{oshaSDS},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.DataSheets.Path(): "no"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.DataSheets
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		ok := ask.Chemicals.DataSheets.Of(c) == survey.Yes
		return check.Choice(ok, pick(ok, check.Say("C-06.have"), check.Say("C-06.have2")), check.Say("C-06.want"),
			check.Say("C-06.do"), path)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return []Remedy{{Change: check.Say("C-06.way"), Set: map[string]string{ask.Chemicals.DataSheets.Path(): "yes"}}}
	},
}

// Eyewash asks for an eyewash where corrosive containers are changed.
var Eyewash = &Check{
	ID:      "C-07",
	Trade:   Owner,
	Stage:   BeforeStart,
	Subject: check.Sanitizer,
	Sources: []trade.Source{oshaEyewash, trade.EyewashZ358},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Chemicals.Sanitizer.Path(): "chlorine", ask.Chemicals.Eyewash.Path(): "no"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		var path = ask.Chemicals.Eyewash
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		switch {
		case ask.Chemicals.Eyewash.Of(c) == survey.Yes:
			return check.Choice(true, check.Say("C-06.have"), check.Say("C-07.want"), check.Phrase{}, path)
		case c.Machine.Has("chemical") && ask.Chemicals.Sanitizer.Of(c) == "chlorine", c.Machine.Chemicals.AcidProduct:
			return check.Choice(false, check.Say("C-07.have"), check.Say("C-07.want"), check.Say("C-07.do"), path)
		}
		return check.Rule(check.Say("C-07.have"), check.Say("C-07.want"), check.Say("C-07.do2"), path)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return []Remedy{{Change: check.Say("C-07.way"), Set: map[string]string{ask.Chemicals.Eyewash.Path(): "yes"}}}
	},
}
