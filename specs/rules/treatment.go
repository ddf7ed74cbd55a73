package rules

import (
	"math"
	"strconv"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// Hardness compares the water at the machine with the sheet's range.
var Hardness = &Check{
	ID:      "W-22",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Quality,
	Sources: []trade.Source{sheet, trade.USGSHardness},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.Hardness.Path(): "171.2 ± 0 mg/L"}, Verdict: Fix, Shows: "class = hard"},
	Skip: func(c *Case) check.Phrase {
		if w := c.Machine.Water; !w.HardnessMin.Known() && !w.HardnessMax.Known() {
			return check.Say("sheet.none", "what", check.Say("sheet.hardness"))
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Treatment.Hardness); lacks {
			return out
		}
		have, w := ask.Treatment.Hardness.Of(c), c.Machine.Water
		out := check.Within(have, w.HardnessMin, w.HardnessMax, check.Say("W-22.blend", "least", w.HardnessMin), check.Say("W-22.soften", "most", w.HardnessMax), ask.Treatment.Hardness)
		class := any(check.Say("W-22.no-class"))
		if name, err := trade.HardnessClass(have.In(quantity.HardnessMgL)); err == nil {
			class = check.Word(name)
		}
		out.Working = []Step{
			entry("H", check.Say("W-22.step"), have),
			entry("class", check.Say("W-22.class", "source", trade.USGSHardness), class),
			entry("range", check.Say("sheet.range"), check.Range(w.HardnessMin, w.HardnessMax)),
		}
		return heeding(c, c.OnSheet(out, endOf("water.hardness", have, w.HardnessMin, w.HardnessMax)), hardnessDoubt)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		if !hardnessDoubt(c).Zero() {
			return nil
		}
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
		if !writtenIn(t.Hardness.Of(c), "gpg") {
			aim[0] = quantity.HardnessMgL.Write(math.Round((low+high)/2*trade.MgLPerGPG/5) * 5)
		}
		set, name, work := map[string]string{}, "W-22.set-softener", check.Adjusting
		switch {
		case t.Hardness.Of(c).In(quantity.GrainPerGallon) < low:
			name = "W-22.open-blending"
		case t.Softener.Of(c) != survey.Yes:
			set, name, work = softenerFor(c), "W-22.fit-softener", check.Fitting+check.Device
		}
		return working(work, c.Offer(k, t.Hardness, aim, set, func(v any) any {
			return check.Say(name, "hardness", v, "grains", check.Quote(set[t.Grains.Path()]), "days", check.Quote(set[t.Days.Path()]))
		}))
	},
}

// hardnessDoubt says why the hardness must be read again: no softener makes water harder.
func hardnessDoubt(c *Case) check.Phrase {
	t := ask.Treatment
	at, raw := t.Hardness.Of(c), t.RawHardness.Of(c)
	if at.Known() && raw.Known() && at.In(quantity.GrainPerGallon)-at.Spread(quantity.GrainPerGallon) > raw.In(quantity.GrainPerGallon)+raw.Spread(quantity.GrainPerGallon) {
		return check.Say("W-22.harder", "at", at, "raw", raw)
	}
	return plausible(t.Hardness)(c)
}

// softenerFor is what the questionnaire would hold with a softener for the
// machine alone, regenerated every third day.
func softenerFor(c *Case) map[string]string {
	t := ask.Treatment
	set := map[string]string{t.Softener.Path(): "yes", t.Others.Path(): "0 gal"}
	raw := t.RawHardness.Of(c)
	if !raw.Known() {
		raw = t.Hardness.Of(c)
		set[t.RawHardness.Path()] = raw.Text()
	}
	const days = 3
	perDay, ok := waterPerDay(c)
	if !ok || math.IsNaN(raw.In(quantity.GrainPerGallon)) {
		return set
	}
	iron := 0.0
	if t.Iron.Known(c) {
		iron = t.Iron.Of(c).In(quantity.MgPerL)
	}
	load := trade.SoftenerGrainsPerDay(perDay, raw.In(quantity.GrainPerGallon)+raw.Spread(quantity.GrainPerGallon), iron+t.Iron.Of(c).Spread(quantity.MgPerL))
	grains := math.Ceil(trade.SoftenerCapacityGrains(load, days, softenerYield)/5000) * 5000
	set[t.Days.Path()] = strconv.Itoa(days)
	set[t.Grains.Path()] = strconv.Itoa(int(max(grains, 5000)))
	return set
}

// softenerYield is the share of the nominal capacity that a softener gives,
// the middle of 0.75 to 0.85. Common practice, no source.
const softenerYield = 0.8

// waterPerDay is what the machine uses in a day, in gal.
func waterPerDay(c *Case) (gal float64, ok bool) {
	d, m := ask.Demand, c.Machine
	if !d.Hours.Known(c) || !d.Fills.Known(c) || !m.Rinse.Consumption.Known() || !m.Water.FillVolume.Known() {
		return 0, false
	}
	return m.Rinse.Consumption.In(quantity.GPH)*d.Hours.Of(c).Value() + float64(d.Fills.Of(c).N())*m.Water.FillVolume.In(quantity.Gallon), true
}

// DissolvedSolids compares the total dissolved solids with the sheet's maximum.
var DissolvedSolids = &Check{
	ID:      "W-23",
	Trade:   Owner,
	Stage:   BeforeOrder,
	Subject: check.Quality,
	Sources: []trade.Source{sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.TDS.Path(): "620 mg/L"}, Verdict: Fix, Shows: "TDS = 620 mg/L"},
	Skip: func(c *Case) check.Phrase {
		if !c.Machine.Water.TDSMax.Known() {
			return check.Say("sheet.none", "what", check.Say("sheet.solids"))
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		tds := ask.Treatment.TDS
		if out, lacks := c.Lacking(tds); lacks {
			return out
		}
		limit := c.Machine.Water.TDSMax
		out := check.UpTo(tds.Of(c), limit, check.Say("W-23.fit", "limit", limit), tds)
		out.Working = []Step{entry("TDS", check.Say("W-23.step"), tds.Of(c)), entry("TDS_max", check.Say("sheet.maximum"), limit)}
		return heeding(c, c.OnSheet(out, "water.tds_max"), plausible(tds))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		if absurd(c, ask.Treatment.TDS) {
			return nil
		}
		top := math.Floor(c.Machine.Water.TDSMax.In(quantity.MgPerL)/50) * 50
		return working(check.Fitting+check.Device, c.Offer(k, ask.Treatment.TDS, check.Ladder(top, 50, 50, quantity.MgPerL), nil, func(v any) any {
			return check.Say("W-23.fit", "limit", v)
		}))
	},
}

// SoftenerSize compares the softener's capacity with what all its water loads it with.
var SoftenerSize = &Check{
	ID:      "W-24",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Quality,
	Sources: []trade.Source{trade.SoftenerSizing, trade.HardnessUnits, sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Treatment.Softener.Path(): "yes", ask.Treatment.Grains.Path(): "20000", ask.Treatment.Days.Path(): "3", ask.Treatment.RawHardness.Path(): "12 ± 0 gpg", ask.Treatment.Iron.Path(): "0 mg/L",
		ask.Treatment.Others.Path(): "0 gal", ask.Demand.Hours.Path(): "8", ask.Demand.Fills.Path(): "3"}, Verdict: OK, Shows: "g = 3024 grains"},
	Skip: func(c *Case) check.Phrase {
		if ask.Treatment.Softener.Of(c) == survey.No {
			return check.Say("W-24.no-softener")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		t := ask.Treatment
		if out, lacks := c.Lacking(t.Softener); lacks {
			return out
		}
		if out, lacks := c.Lacking(t.Grains, t.Days, t.RawHardness, t.Iron, ask.Demand.Hours, ask.Demand.Fills); lacks {
			return out
		}
		perDay, ok := waterPerDay(c)
		if !ok {
			return c.Silent(check.Say("W-24.sheet"))
		}
		others := 0.0
		if t.Others.Known(c) {
			others = t.Others.Of(c).In(quantity.Gallon)
		}
		load := trade.SoftenerGrainsPerDay(perDay+others, t.RawHardness.Of(c).In(quantity.GrainPerGallon), t.Iron.Of(c).In(quantity.MgPerL))
		needed := trade.SoftenerCapacityGrains(load, float64(t.Days.Of(c).N()), softenerYield)
		if math.IsNaN(needed) {
			return check.Rule(check.Say("W-24.days", "days", t.Days.Of(c)), check.Say("W-24.a-day"), check.Say("W-24.read-days"), t.Days)
		}
		spare := float64(t.Grains.Of(c).N()) - needed
		least := grains(math.Ceil(needed))
		out := check.Choice(spare >= 0, grains(float64(t.Grains.Of(c).N())), check.Fact{Value: least, Bound: check.AtLeast}, check.Say("W-24.larger", "least", least, "days", t.Days.Of(c)), t.Grains, t.Days, t.RawHardness)
		out.Margin = Margin{Gap: grains(math.Floor(spare)), Side: check.Say("margin.spare"), Value: spare}
		if spare < 0 {
			out.Margin.Gap, out.Margin.Side = grains(math.Ceil(-spare)), check.Say("margin.short")
		}
		out.Working = []Step{entry("V", check.Say("W-24.water"), gallons(perDay))}
		if t.Others.Known(c) {
			out.Working = append(out.Working, entry("V_o", check.Say("W-24.others"), t.Others.Of(c)))
			out.At = append(out.At, t.Others)
		} else if out.Verdict == OK {
			out.Verdict, out.Action, out.At = Confirm, check.Say("W-24.ask-others", "question", check.Question(t.Others.Path()), "spare", grains(math.Floor(spare))), append(out.At, t.Others)
		}
		out.Working = append(out.Working,
			entry("H", check.Say("W-24.hardness"), t.RawHardness.Of(c)),
			entry("Fe", check.Say("W-24.iron"), t.Iron.Of(c)),
			entry("g", check.Say("W-24.load"), grains(load)),
			entry("d", check.Say("W-24.between"), t.Days.Of(c)),
			entry("G", check.Say("W-24.needed"), grains(needed)),
			entry("G_have", check.Say("W-24.plate"), grains(float64(t.Grains.Of(c).N()))))
		return heeding(c, out, plausible(t.RawHardness))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		t := ask.Treatment
		if absurd(c, t.RawHardness) {
			return nil
		}
		set := map[string]string{}
		if !t.Others.Known(c) {
			set[t.Others.Path()] = "0 gal" // the remedy says so
		}
		var days, sizes []string
		for d := t.Days.Of(c).N() - 1; d >= 1; d-- {
			days = append(days, strconv.Itoa(d))
		}
		for g := t.Grains.Of(c).N()/5000*5000 + 5000; g <= 100000; g += 5000 {
			sizes = append(sizes, strconv.Itoa(g))
		}
		alone := ""
		if len(set) > 0 {
			alone = "-alone"
		}
		rs := working(check.Adjusting, c.Offer(k, t.Days, days, set, func(v any) any { return check.Say("W-24.oftener"+alone, "days", v) }))
		return append(rs, working(check.Device, c.Offer(k, t.Grains, sizes, set, func(v any) any { return check.Say("W-24.fit"+alone, "grains", v) }))...)
	},
}

// grains and gallons are whole numbers of them.
func grains(g float64) check.Figure { return check.Figure{Value: g, Unit: "grains"} }

func gallons(g float64) check.Twin {
	return check.Twin{US: check.Figure{Value: g, Unit: "gal"}, SI: check.Figure{Value: quantity.New(g, quantity.Gallon).In(quantity.Litre), Unit: "L"}}
}
