package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Hardness compares the water at the machine with the sheet's range.
var Hardness = &Check{
	ID:      "W-22",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "hardness at the machine",
	Why:     "Hard water scales the heater and spots glasses; water softened to nothing foams and etches them.",
	Sources: []trade.Source{sheet, trade.USGSHardness},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.Hardness.Path(): "171.2 ± 0 mg/L"}, Verdict: Fix, Shows: "class = hard"},
	Applies: func(c *Case) string {
		if w := c.Machine.Water; !w.HardnessMin.Known() && !w.HardnessMax.Known() {
			return "the requirement sheet sets no hardness"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Treatment.Hardness); lacks {
			return out
		}
		have, w := ask.Treatment.Hardness.Of(c), c.Machine.Water
		out := check.Within(have, w.HardnessMin, w.HardnessMax,
			check.Say("W-22.do", "hardnessmin", w.HardnessMin),
			check.Say("W-22.do2", "hardnessmax", w.HardnessMax), ask.Treatment.Hardness)
		name, err := trade.HardnessClass(have.In(quantity.HardnessMgL))
		class := any(check.Word(name))
		if err != nil {
			class = check.Say("W-22.class")
		}
		out.Working = []Step{
			{"H", check.Say("W-22.step"), have},
			{"class", check.Say("W-22.step2", "usgshardness", trade.USGSHardness), class},
			{"range", check.Say("W-13.step"), check.Range(w.HardnessMin, w.HardnessMax)},
		}
		return c.OnSheet(out, endOf("water.hardness", have, w.HardnessMin, w.HardnessMax))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		t, w := ask.Treatment, c.Machine.Water
		low, high := 0.5, 30.0
		if w.HardnessMin.Known() {
			low = w.HardnessMin.In(quantity.GrainPerGallon)
		}
		if w.HardnessMax.Known() {
			high = w.HardnessMax.In(quantity.GrainPerGallon)
		}
		// Aim at the middle of the range: strips are coarse.
		aim := []string{quantity.GrainPerGallon.Write(math.Round((low+high)/2*2) / 2)}
		if t.Hardness.Of(c).In(quantity.GrainPerGallon) < low {
			return c.Offer(k, ask.Treatment.Hardness, aim, nil, func(v any) any {
				return check.Say("W-22.way", "grainpergallon", written(quantity.GrainPerGallon, v))
			})
		}
		set := map[string]string{}
		change := "set the softener so that a strip reads %s at the machine"
		if t.Softener.Of(c) != survey.Yes {
			change = "fit a softener sized for the machine (W-24), blended so that a strip reads %s at the machine"
			set = softenerFor(c)
		}
		return c.Offer(k, ask.Treatment.Hardness, aim, set, func(v any) any { return check.Quote(fmt.Sprintf(change, v)) })
	},
}

// softenerFor is what the questionnaire would hold with a softener sized for
// the machine and regenerated every third day.
func softenerFor(c *Case) map[string]string {
	t := ask.Treatment
	set := map[string]string{ask.Treatment.Softener.Path(): "yes"}
	raw := t.RawHardness.Of(c)
	if !raw.Known() {
		raw = t.Hardness.Of(c)
		set[ask.Treatment.RawHardness.Path()] = raw.Text()
	}
	days := 3.0
	perDay, ok := waterPerDay(c)
	if !ok || math.IsNaN(raw.In(quantity.GrainPerGallon)) {
		return set
	}
	iron := 0.0
	if t.Iron.Of(c).Known() {
		iron = t.Iron.Of(c).In(quantity.MgPerL)
	}
	load := trade.SoftenerGrainsPerDay(perDay, raw.In(quantity.GrainPerGallon)+raw.Spread(quantity.GrainPerGallon), iron+t.Iron.Of(c).Spread(quantity.MgPerL))
	grains := math.Ceil(trade.SoftenerCapacityGrains(load, days, softenerYield)/5000) * 5000
	set[ask.Treatment.Days.Path()] = number(days, 0)
	set[ask.Treatment.Grains.Path()] = number(max(grains, 5000), 0)
	return set
}

// softenerYield is the share of the nominal capacity that a softener gives,
// the middle of 0.75 to 0.85. Common practice, no source.
const softenerYield = 0.8

// waterPerDay is what the machine uses in a day, in gal.
func waterPerDay(c *Case) (gal float64, ok bool) {
	d, m := ask.Demand, c.Machine
	if !d.Hours.Of(c).Known() || !d.Fills.Of(c).Known() || !m.Rinse.Consumption.Known() || !m.Water.FillVolume.Known() {
		return 0, false
	}
	return m.Rinse.Consumption.In(quantity.GPH)*d.Hours.Of(c).Value() + float64(d.Fills.Of(c).N())*m.Water.FillVolume.In(quantity.Gallon), true
}

// DissolvedSolids compares the total dissolved solids with the sheet's maximum.
var DissolvedSolids = &Check{
	ID:      "W-23",
	Trade:   Owner,
	Stage:   BeforeOrder,
	Title:   "total dissolved solids",
	Why:     "What is dissolved stays on the glass as spots when the water dries; softening doesn't take it out.",
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.TDS.Path(): "620 mg/L"}, Verdict: Fix, Shows: "TDS = 620 mg/L"},
	Applies: func(c *Case) string {
		if !c.Machine.Water.TDSMax.Known() {
			return "the requirement sheet sets no maximum of dissolved solids"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Treatment.TDS); lacks {
			return out
		}
		limit := c.Machine.Water.TDSMax
		out := check.UpTo(ask.Treatment.TDS.Of(c), limit, check.Say("W-23.do", "limit", limit), ask.Treatment.TDS)
		out.Working = []Step{{"TDS", check.Say("W-23.step"), ask.Treatment.TDS.Of(c)}, {"TDS_max", check.Say("static-max.step2"), limit}}
		return c.OnSheet(out, "water.tds_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		top := math.Floor(c.Machine.Water.TDSMax.In(quantity.MgPerL)/50) * 50
		return c.Offer(k, ask.Treatment.TDS, check.Ladder(top, 50, 50, quantity.MgPerL), nil, func(v any) any {
			return check.Say("W-23.way", "v", v)
		})
	},
}

// SoftenerSize compares the softener's capacity with what the machine's water loads it with.
var SoftenerSize = &Check{
	ID:      "W-24",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "softener's capacity between regenerations",
	Why:     "A softener that is used up before it regenerates lets hard water through without a sign.",
	Formula: "G = (Q_r t + n V_fill)(H + 4 Fe) d / 0.8; G in grains, Q_r in gph, t in h/day, n fills/day, V_fill in gal, H in gpg, Fe in mg/L, d days between regenerations",
	Range:   "the machine's own water; whatever else the softener serves must be added. 4 per mg/L of iron (3 to 5 in use) and a yield of 0.8 (0.75 to 0.85) are assumed",
	Sources: []trade.Source{trade.SoftenerSizing, trade.HardnessUnits, sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.Softener.Path(): "yes", ask.Treatment.Grains.Path(): "20000", ask.Treatment.Days.Path(): "3", ask.Treatment.RawHardness.Path(): "12 ± 0 gpg", ask.Treatment.Iron.Path(): "0 mg/L",
		ask.Demand.Hours.Path(): "8", ask.Demand.Fills.Path(): "3"}, Verdict: OK, Shows: "g = 3024 grains"},
	Applies: func(c *Case) string {
		if ask.Treatment.Softener.Of(c) == survey.No {
			return "there is no softener"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Treatment.Softener); lacks {
			return out
		}
		if out, lacks := c.Lacking(ask.Treatment.Grains, ask.Treatment.Days, ask.Treatment.RawHardness, ask.Treatment.Iron, ask.Demand.Hours, ask.Demand.Fills); lacks {
			return out
		}
		t := ask.Treatment
		perDay, ok := waterPerDay(c)
		if !ok {
			return c.Silent(check.Say("W-24.sheet"))
		}
		load := trade.SoftenerGrainsPerDay(perDay, t.RawHardness.Of(c).In(quantity.GrainPerGallon), t.Iron.Of(c).In(quantity.MgPerL))
		needed := trade.SoftenerCapacityGrains(load, float64(t.Days.Of(c).N()), softenerYield)
		if math.IsNaN(needed) {
			return check.Rule(check.Say("W-24.have", "days", t.Days.Of(c)), check.Say("W-24.want"), check.Say("W-24.do"), ask.Treatment.Days)
		}
		spare := float64(t.Grains.Of(c).N()) - needed
		out := check.Choice(spare >= 0, check.Figure{Value: float64(t.Grains.Of(c).N()), Decimals: 0, Unit: "grains"}, check.Say("W-24.want2", "ceil", check.Figure{Value: math.Ceil(needed), Decimals: 0}),
			check.Say("W-24.do2", "ceil", check.Figure{Value: math.Ceil(needed), Decimals: 0}, "days", t.Days.Of(c)), ask.Treatment.Grains, ask.Treatment.Days, ask.Treatment.RawHardness)
		out.Margin = Margin{Gap: check.Figure{Value: math.Floor(spare), Unit: "grains"}, Side: check.Say("margin.spare"), Value: spare}
		if spare < 0 {
			out.Margin.Gap, out.Margin.Side = check.Figure{Value: math.Ceil(-spare), Unit: "grains"}, check.Say("margin.short")
		}
		out.Working = []Step{
			{"V", check.Say("W-24.step"), check.Figure{Value: perDay, Decimals: 0, Unit: "gal"}},
			{"H", check.Say("W-24.step2"), t.RawHardness.Of(c)},
			{"Fe", check.Say("W-24.step3"), t.Iron.Of(c)},
			{"g", check.Say("W-24.step4"), check.Figure{Value: load, Decimals: 0, Unit: "grains"}},
			{"d", check.Say("W-24.step5"), t.Days.Of(c)},
			{"G", check.Say("W-24.step6"), check.Figure{Value: needed, Decimals: 0, Unit: "grains"}},
			{"G_have", check.Say("W-24.step7"), check.Figure{Value: float64(t.Grains.Of(c).N()), Decimals: 0, Unit: "grains"}},
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		t := ask.Treatment
		var rs []Remedy
		var days, grains []string
		for d := t.Days.Of(c).N() - 1; d >= 1; d-- {
			days = append(days, number(float64(d), 0))
		}
		rs = append(rs, c.Offer(k, ask.Treatment.Days, days, nil, func(v any) any {
			return check.Say("W-24.way", "v", v)
		})...)
		for g := t.Grains.Of(c).N()/5000*5000 + 5000; g <= 100000; g += 5000 {
			grains = append(grains, number(float64(g), 0))
		}
		return append(rs, c.Offer(k, ask.Treatment.Grains, grains, nil, func(v any) any { return check.Say("W-24.way2", "v", v) })...)
	},
}
