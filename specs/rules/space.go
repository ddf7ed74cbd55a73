package rules

import (
	"maps"
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var space = []*Check{
	OpeningWidth, OpeningHeight, OpeningDepth, CounterTop,
	DoorsWide, TurnsWide, StairsWide, LiftsFit, WayRecorded,
	FloorLevel, FloorCarries, FrontClear, ServiceClear, CleanBeneath, RoomHeat, StairCarry, RampsPass, ThresholdsPass, FloorFinished,
}

// OpeningWidth compares the opening's width with the machine and its side clearances.
var OpeningWidth = &Check{
	ID:      "S-01",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Opening,
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Width.Path(): "37 ± 0 in"}, Verdict: Fix, Shows: "w + 2 g = 38 in (965 mm)"},
	Run: func(c *Case) Outcome {
		m := c.Machine.Space
		if !m.Width.Known() {
			return c.Silent(check.Say("silent.width"))
		}
		have, need := ask.Space.Width, spaceSum(m.Width, m.SideGap, m.SideGap)
		return spaceAtLeast(c, have, need, check.Say("S-01.widen", "need", need), "space.width", entry("W", check.Say("step.opening-width"), have.Of(c)),
			entry("w", check.Say("step.machine-width"), m.Width), entry("g", check.Say("step.side-gap"), spaceGap(m.SideGap)),
			entry("w + 2 g", check.Say("step.width-need"), need))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return spaceEnlarge(c, k, ask.Space.Width, spaceSum(c.Machine.Space.Width, c.Machine.Space.SideGap, c.Machine.Space.SideGap), check.Carpentry)
	},
}

// OpeningHeight compares the opening's height with the machine, its stand and the clearance above.
var OpeningHeight = &Check{
	ID:      "S-02",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Opening,
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Height.Path(): "35 ± 0 in", ask.Machine.RaisedBy.Path(): "2 ± 0 in", ask.Space.Counter.Path(): "37 in"}, Verdict: Fix, Shows: "h + r + g = 36 in (914 mm)"},
	Run:     runOpeningHeight,
	Remedies: func(c *Case, k *Check) []Remedy {
		if heightInDoubt(c) {
			return nil
		}
		s, stand := ask.Space, ask.Machine.RaisedBy
		raised := stand.Of(c)
		var rs []Remedy
		if raised.Known() && raised.In(quantity.Inch) > 0 {
			for _, set := range firstOf(c, k, stand, lengths(c, raised.In(quantity.Inch), 0, 0.25, 5), nil) {
				rs = append(rs, spaceRemedy(c, stand, set, check.Device))
			}
		}
		for _, r := range spaceEnlarge(c, k, s.Height, openingHeightNeed(c), check.Carpentry) {
			maps.Copy(r.Set, counterWith(c, r.Set[s.Height.Path()]))
			rs = append(rs, r)
		}
		return rs
	},
}

// openingHeightNeed is the height that the opening must have.
func openingHeightNeed(c *Case) quantity.Length {
	m := c.Machine.Space
	return spaceSum(m.Height, ask.Machine.RaisedBy.Of(c), m.TopGap)
}

// counterWith raises the counter's top with its underside.
func counterWith(c *Case, opening string) map[string]string {
	s := ask.Space
	if !s.Counter.Known(c) || !s.Height.Known(c) {
		return nil
	}
	up := quantity.MustParse[quantity.Length](opening).In(quantity.Inch) - s.Height.Of(c).In(quantity.Inch)
	return map[string]string{s.Counter.Path(): writeLength(c, s.Counter.Of(c).In(quantity.Inch)+up)}
}

func runOpeningHeight(c *Case) Outcome {
	m, have, stand := c.Machine.Space, ask.Space.Height, ask.Machine.RaisedBy
	if !m.Height.Known() {
		return c.Silent(check.Say("silent.height"))
	}
	raised := stand.Of(c)
	need := openingHeightNeed(c)
	action := check.Say("S-02.raise", "need", need)
	if heightInDoubt(c) {
		action = check.Say("S-02.doubt")
	}
	out := spaceAtLeast(c, have, need, action, "space.height", entry("H", check.Say("step.opening-height"), have.Of(c)),
		entry("h", check.Say("step.machine-height"), m.Height), entry("r", check.Say("step.stand-or-plinth"), spaceGap(raised)),
		entry("g", check.Say("step.top-gap"), spaceGap(m.TopGap)), entry("h + r + g", check.Say("step.height-need"), need))
	if raised.Known() {
		out.At = append(out.At, stand)
	}
	return out
}

// heightInDoubt says whether the opening's height contradicts the counter's:
// then nothing is built by it before both are measured again.
func heightInDoubt(c *Case) bool {
	s := ask.Space
	return s.Counter.Known(c) && s.Height.Known(c) && s.Counter.Of(c).Cmp(s.Height.Of(c)) < 0
}

// OpeningDepth compares the opening's depth with the machine and the clearance behind it.
var OpeningDepth = &Check{
	ID:      "S-03",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Opening,
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Depth.Path(): "26 ± 0 in"}, Verdict: Fix, Shows: "d + g = 27 in (686 mm)"},
	Run: func(c *Case) Outcome {
		m, have := c.Machine.Space, ask.Space.Depth
		if !m.Depth.Known() {
			return c.Silent(check.Say("silent.depth"))
		}
		need := spaceSum(m.Depth, m.BackGap)
		return spaceAtLeast(c, have, need, check.Say("S-03.deepen", "need", need), "space.depth", entry("D", check.Say("step.opening-depth"), have.Of(c)),
			entry("d", check.Say("step.machine-depth"), m.Depth), entry("g", check.Say("step.back-gap"), spaceGap(m.BackGap)),
			entry("d + g", check.Say("step.depth-need"), need))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return spaceEnlarge(c, k, ask.Space.Depth, spaceSum(c.Machine.Space.Depth, c.Machine.Space.BackGap), check.Carpentry)
	},
}

// counterThickest is how thick a counter with its frame may be before the two
// heights are doubted. Common practice, no source.
var counterThickest = quantity.New(6, quantity.Inch)

// CounterTop sees that the counter's top lies above its underside.
var CounterTop = &Check{
	ID:      "S-04",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Opening,
	Sources: []trade.Source{trade.Geometry, trade.BarHeights},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Counter.Path(): "40 ± 0 in", ask.Space.Height.Path(): "38 ± 0 in"}, Verdict: OK, Shows: "t = 2 in (51 mm)"},
	Run: func(c *Case) Outcome {
		top, under := ask.Space.Counter, ask.Space.Height
		if out, lacks := c.Lacking(top, under); lacks {
			return out
		}
		t := spaceBare(top.Of(c)).Minus(spaceBare(under.Of(c)))
		out := check.Within(t, quantity.New(0, quantity.Inch), counterThickest, check.Say("S-04.again"), nil, top, under)
		out.Have = check.FactOf(check.Say("S-04.have", "counter", top.Of(c), "opening", under.Of(c)))
		out.Want = check.FactOf(check.Say("S-04.want", "thickest", counterThickest))
		if t.Cmp(counterThickest) > 0 {
			m := out.Margin
			out = check.Rule(out.Have, out.Want, check.Say("S-04.thick", "thick", t), top, under)
			out.Margin = m
		}
		out.Working = []Step{entry("C", check.Say("step.counter"), top.Of(c)), entry("H", check.Say("step.opening-height"), under.Of(c)), entry("t", check.Say("step.thickness"), t)}
		return out
	},
}

// FloorLevel compares the floor's unevenness with the travel of the legs.
var FloorLevel = &Check{
	ID:      "S-10",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Floor,
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.OutOfLevel.Path(): "1/2 ± 0 in"}, Verdict: OK, Shows: "b - a = 2 in (51 mm)"},
	Run: func(c *Case) Outcome {
		m, at := c.Machine.Space, ask.Space.OutOfLevel
		if !m.LegMin.Known() || !m.LegMax.Known() {
			return c.Silent(check.Say("silent.legs"))
		}
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		travel := m.LegMax.Minus(m.LegMin)
		out := check.UpTo(at.Of(c), travel, check.Say("S-10.level", "travel", travel), at)
		out.Working = []Step{entry("e", check.Say("step.unevenness"), at.Of(c)), entry("a", check.Say("step.legs-in"), m.LegMin),
			entry("b", check.Say("step.legs-out"), m.LegMax), entry("b - a", check.Say("step.legs-travel"), travel)}
		return c.OnSheet(out, "space.leg_max")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		at := ask.Space.OutOfLevel
		travel := c.Machine.Space.LegMax.In(quantity.Inch) - c.Machine.Space.LegMin.In(quantity.Inch)
		var rs []Remedy
		for _, set := range firstOf(c, k, at, lengths(c, travel, 0, 0.125, 1), nil) {
			rs = append(rs, spaceRemedy(c, at, set, check.Device))
		}
		return rs
	},
}

var waterWeight = trade.Source{Document: "Weight of water near room temperature", Mark: trade.Derived}

// waterLbGal is the weight of a gallon of water at 60 °F, so that the load is
// never taken too low. 231 in³ of 62.4 lb/ft³; derived.
const waterLbGal = 8.34

// FloorCarries compares the load of the full machine with the floor's capacity.
var FloorCarries = &Check{
	ID:      "S-11",
	Trade:   Builder,
	Stage:   BeforeOrder,
	Subject: check.Floor,
	Sources: []trade.Source{trade.Geometry, waterWeight, trade.ASCE7},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.FloorLoad.Path(): "40 psf"}, Verdict: Fix, Shows: "p = 45.3 psf (2.17 kN/m²)"},
	Run: func(c *Case) Outcome {
		m, at := c.Machine.Space, ask.Space.FloorLoad
		if !m.Mass.Known() || !m.Width.Known() || !m.Depth.Known() {
			return c.Silent(check.Say("silent.mass"))
		}
		racks, tank, total := any(check.Say("step.none-stated")), any(check.Say("step.none-stated")), m.Mass.In(quantity.Pound)
		if v := c.Machine.Wash.TankVolume; v.Known() {
			water := waterLbGal * v.In(quantity.Gallon)
			total += water
			tank = quantity.New(water, quantity.Pound)
		}
		if m.Racks.Known() {
			total += m.Racks.In(quantity.Pound)
			racks = m.Racks
		}
		load := quantity.New(trade.FloorLoadPSF(total, m.Width.In(quantity.Inch), m.Depth.In(quantity.Inch)), quantity.PSF)
		limit, meaning := at.Of(c), check.Say("step.floor-stated")
		assumed := !limit.Known()
		if assumed {
			limit, meaning = quantity.New(trade.FloorLiveLoadPSF, quantity.PSF), check.Say("step.floor-usual")
		}
		out := check.From(limit, load, check.Say("S-11.engineer", "load", load), at)
		if assumed {
			m := out.Margin
			out = check.Rule(out.Have.In(check.Say("S-11.assumed")), out.Want, check.Say("S-11.ask", "load", load), at)
			out.Margin = m
		}
		out.Working = []Step{
			entry("m", check.Say("step.machine-empty"), m.Mass),
			entry("8.34 V", check.Say("step.tank-water"), tank),
			entry("k", check.Say("step.racks"), racks),
			entry("w d", check.Say("step.base"), quantity.New(m.Width.In(quantity.Inch)*m.Depth.In(quantity.Inch), quantity.SquareInch)),
			entry("leg", check.Say("step.leg-load"), quantity.New(trade.LegLoadLb(total, 4), quantity.Pound)),
			entry("p", check.Say("step.floor-load"), load),
			entry("p max", meaning, limit),
		}
		return c.OnSheet(out, "space.mass")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		loads := check.Ladder(45, 500, 5, quantity.PSF)
		if metric(c) {
			loads = check.Ladder(2.25, 24, 0.25, quantity.KNPerM2)
		}
		var rs []Remedy
		for _, set := range firstOf(c, k, ask.Space.FloorLoad, loads, nil) {
			rs = append(rs, spaceRemedy(c, ask.Space.FloorLoad, set, check.FloorWork))
		}
		return rs
	},
}

// FrontClear compares the clear floor in front with what the sheet asks.
var FrontClear = spaceClearance(&Check{
	ID:      "S-12",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Room,
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Front.Path(): "28 ± 0 in"}, Verdict: Fix, Shows: "f = 30 in (762 mm)"},
}, "F", "f", ask.Space.Front, "space.clearance_front", func(c *Case) quantity.Length { return c.Machine.Space.FrontGap })

// ServiceClear compares the space at the service side with what the sheet asks.
var ServiceClear = spaceClearance(&Check{
	ID:      "S-13",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Subject: check.Room,
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.ServiceGap.Path(): "3 ± 0 in"}, Verdict: Fix, Shows: "v = 4 in (102 mm)"},
}, "V", "v", ask.Space.ServiceGap, "space.clearance_service", func(c *Case) quantity.Length { return c.Machine.Space.ServiceGap })

// spaceClearance completes a check of one clearance of the sheet.
func spaceClearance(k *Check, haveSymbol, wantSymbol string, at survey.Answer[quantity.Length], onSheet string, want func(*Case) quantity.Length) *Check {
	k.Sources = []trade.Source{sheet}
	k.Skip = func(c *Case) check.Phrase {
		if !want(c).Known() {
			return check.Say("space.no-clearance")
		}
		return check.Phrase{}
	}
	k.Run = func(c *Case) Outcome {
		need := want(c)
		return spaceAtLeast(c, at, need, check.Say("clear."+at.Path(), "need", need), onSheet, entry(haveSymbol, check.Question(at.Path()), at.Of(c)),
			entry(wantSymbol, check.Say("step.sheet-clearance"), need))
	}
	k.Remedies = func(c *Case, k *Check) []Remedy { return spaceEnlarge(c, k, at, want(c), check.Carpentry) }
	return k
}

// CleanBeneath asks for room to clean under the machine, or a sealed base.
var CleanBeneath = &Check{
	ID:      "S-14",
	Trade:   Builder,
	Stage:   BeforeStart,
	Subject: check.Floor,
	Sources: []trade.Source{trade.FoodCode4_402},
	Assumes: []survey.Ref{ask.Space.SealedBase},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Underneath.Path(): "5 ± 0 in", ask.Space.SealedBase.Path(): "no"}, Verdict: Fix, Shows: "B min = 6 in (152 mm)"},
	Run: func(c *Case) Outcome {
		at, sealed := ask.Space.Underneath, ask.Space.SealedBase
		if sealed.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("S-14.sealed"), check.Say("S-14.want"), nil, sealed)
		}
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		have, least := at.Of(c), spaceBeneath(c)
		need := leastPrinted(have, least, trade.PrintedMM(trade.FoodCodeCM, least))
		out := check.From(have, need, check.Say("S-14.legs", "need", drainIn(least)), at, sealed)
		out.Working = []Step{
			entry("B", check.Say("step.beneath"), have),
			entry("reach", check.Say("step.reach"), c.Machine.Space.Depth),
			entry("B min", check.Say("step.beneath-need"), drainIn(least)),
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		at, sealed := ask.Space.Underneath, ask.Space.SealedBase
		if m := c.Machine.Space; m.LegMin.Known() && m.LegMax.Known() {
			// Not above mid travel, at which the sheet states the machine's height.
			if need, mid := spaceBeneath(c), (m.LegMin.In(quantity.Inch)+m.LegMax.In(quantity.Inch))/2; need <= mid {
				for _, set := range firstOf(c, k, at, lengths(c, need, mid, 0.125, 1), nil) {
					rs = append(rs, spaceRemedy(c, at, set, check.Adjusting))
				}
			}
		}
		return append(rs, Remedy{Change: check.Say("way.space.sealed_to_floor"), Work: check.Device, Set: map[string]string{sealed.Path(): "yes"}})
	},
}

// spaceBeneath is the cleaning height that the Food Code asks under the machine, in.
func spaceBeneath(c *Case) float64 {
	reach := trade.FloorLegReachIn + 1 // depth not stated: the stricter rule
	if d := c.Machine.Space.Depth; d.Known() {
		reach = d.In(quantity.Inch)
	}
	return trade.FloorLegRequiredIn(reach)
}

// FloorFinished asks that heights stand above the floor that will be there.
// The questions ask for heights above the finished floor, so that it arises
// only where somebody says whether it is.
var FloorFinished = &Check{
	ID:      "S-19",
	Trade:   Builder,
	Stage:   RoughIn,
	Subject: check.Floor,
	Sources: []trade.Source{trade.Geometry, trade.FlooringPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Finished.Path(): "no", ask.Space.FloorAdds.Path(): "1 ± 0 in", ask.Space.Height.Path(): "34-1/2 ± 0 in", ask.Machine.RaisedBy.Path(): "0 in"}, Verdict: Fix, Shows: "H - t = 33-1/2 in (851 mm)"},
	Skip: func(c *Case) check.Phrase {
		if !ask.Space.Finished.Known(c) {
			return check.Say("S-19.unsaid")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		done, adds, height := ask.Space.Finished, ask.Space.FloorAdds, ask.Space.Height
		if done.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("S-19.done"), check.Say("S-19.want"), nil, done)
		}
		if out, lacks := c.Lacking(adds, height); lacks {
			return out
		}
		t, need := adds.Of(c), openingHeightNeed(c)
		left := drainIn(height.Of(c).In(quantity.Inch) - t.In(quantity.Inch))
		steps := []Step{
			entry("H", check.Say("step.opening-height"), height.Of(c)),
			entry("t", check.Say("S-19.adds"), t),
			entry("H - t", check.Say("S-19.left"), left),
			entry("h + r + g", check.Say("step.height-need"), need),
		}
		out := check.From(left, need, check.Say("S-19.low", "t", t, "left", left, "need", need), adds, height, done)
		if out.Verdict == OK {
			out = check.Rule(check.Say("S-19.open", "t", t), check.Say("S-19.want"), check.Say("S-19.again", "t", t), done, adds)
		}
		out.Working = steps
		return out
	},
}

// heatClasses maps the sheet's class to the row of the heat gain table.
var heatClasses = map[string]string{
	"undercounter-chemical":  "undercounter, chemical, standby",
	"undercounter-hot-water": "undercounter, hot water, standby",
	"door-chemical":          "door, chemical, washing",
	"door-hot-water":         "door, hot water, washing",
	"conveyor-chemical":      "conveyor, chemical",
	"conveyor-hot-water":     "conveyor, hot water, standby",
}

// RoomHeat estimates the heat and vapor that the room must take.
var RoomHeat = &Check{
	ID:      "S-15",
	Trade:   Builder,
	Stage:   RoughIn,
	Subject: check.Room,
	Sources: []trade.Source{trade.ASHRAEHeatGain},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Exhaust.Path(): "no"}, Verdict: Confirm, Shows: "q = 6450 Btu/h"},
	Run: func(c *Case) Outcome {
		at, want := ask.Space.Exhaust, check.Say("S-15.want")
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		var steps []Step
		estimate, most := check.Say("S-15.none"), spaceInput(c)
		if h, err := trade.FindHeatGain(heatClasses[c.Machine.Space.HeatClass]); err == nil {
			estimate = check.Say("S-15.estimate", "all", roomHeat(h.Total), "latent", roomHeat(h.Latent))
			steps = []Step{
				entry("class", check.Say("step.heat-class"), check.Quote(h.Class)),
				entry("radiant", check.Say("step.radiant"), roomHeat(h.Radiant)),
				entry("convective", check.Say("step.convective"), roomHeat(h.Convective)),
				entry("latent", check.Say("step.latent"), roomHeat(h.Latent)),
				entry("vapor", check.Say("step.vapor"), quantity.New(trade.VapourLbH(h.Latent), quantity.Pound)),
				entry("q", check.Say("step.room-heat"), roomHeat(h.Total)),
			}
		}
		if !math.IsNaN(most) {
			if len(steps) == 0 {
				estimate = check.Say("S-15.at-most", "most", roomHeat(most))
			}
			steps = append(steps, entry("q max", check.Say("step.heat-most"), roomHeat(most)))
		}
		out := check.Choice(true, check.Say("S-15.drawn", "estimate", estimate), want, nil, at)
		if at.Of(c) != survey.Yes {
			out = check.Rule(check.Say("S-15.left", "estimate", estimate), want, check.Say("S-15.show", "estimate", estimate), at)
		}
		out.Working = steps
		return out
	},
}

// roomHeat says a heat flow, given in Btu/h.
func roomHeat(btuh float64) check.Twin {
	return check.Twin{US: check.Figure{Value: btuh, Unit: "Btu/h"}, SI: check.Figure{Value: btuh / trade.BtuHPerKW, Decimals: 2, Unit: "kW"}}
}

// spaceInput is the heat of all electrical input at the supply option, Btu/h;
// NaN when the sheet doesn't state it.
func spaceInput(c *Case) float64 {
	p := c.Supply
	if !p.HeaterPower.Known() || !p.MotorCurrent.Known() || !p.MotorVolts.Known() {
		return math.NaN()
	}
	phases := 1.0
	if p.Phases == 3 {
		phases = math.Sqrt(3)
	}
	return trade.MaxHeatGainBtuH(p.HeaterPower.In(quantity.Kilowatt) + phases*p.MotorCurrent.In(quantity.Ampere)*p.MotorVolts.In(quantity.Volt)/1000)
}

// spaceAtLeast judges a measured length against the one that is needed.
func spaceAtLeast(c *Case, at survey.Answer[quantity.Length], need quantity.Length, action check.Phrase, onSheet string, steps ...Step) Outcome {
	if out, lacks := c.Lacking(at); lacks {
		return out
	}
	out := check.From(at.Of(c), need, action, at)
	out.Working = steps
	return c.OnSheet(out, onSheet)
}

// spaceEnlarge offers the first practical length from the needed one upward.
func spaceEnlarge(c *Case, k *Check, at survey.Ref, need quantity.Length, work check.Work) []Remedy {
	in := need.In(quantity.Inch)
	var rs []Remedy
	for _, set := range firstOf(c, k, at, lengths(c, in, in+2, 0.25, 5), nil) {
		rs = append(rs, spaceRemedy(c, at, set, work))
	}
	return rs
}

// spaceRemedy words a change of one answer by the value that it leads to.
func spaceRemedy(c *Case, at survey.Ref, set map[string]string, work check.Work) Remedy {
	after, err := c.With(set)
	if err != nil {
		return Remedy{}
	}
	value := at.Value(after)
	if l, ok := value.(quantity.Length); ok {
		value = quantity.New(l.In(quantity.Inch), quantity.Inch)
		if at.Path() == ask.Machine.RaisedBy.Path() && l.In(quantity.Inch) == 0 {
			return Remedy{Change: check.Say("way.no-stand"), Work: work, Set: set}
		}
	}
	return Remedy{Change: check.Say("way."+at.Path(), "value", value), Work: work, Set: set}
}

// spaceSum adds lengths; one that isn't known counts as nothing.
func spaceSum(first quantity.Length, more ...quantity.Length) quantity.Length {
	sum := spaceBare(first)
	for _, l := range more {
		if l.Known() {
			sum = sum.Plus(spaceBare(l))
		}
	}
	return sum
}

// spaceBare is a length without its uncertainty, which the engine applies.
func spaceBare(l quantity.Length) quantity.Length { return l.WithSpread(0, quantity.Inch) }

// spaceGap shows a clearance that may be left out.
func spaceGap(l quantity.Length) any {
	if !l.Known() {
		return check.Word("none")
	}
	return l
}

// spaceSteps lists lengths from one to another in steps that a trade works to:
// of in inches, or of mm millimetres. The first is rounded towards the last.
func spaceSteps(c *Case, from, to quantity.Length, in, mm float64) []string {
	return lengths(c, from.In(quantity.Inch), to.In(quantity.Inch), in, mm)
}
