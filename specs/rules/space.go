package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var space = []*Check{
	OpeningWidth, OpeningHeight, OpeningDepth, CounterTop,
	DoorsWide, TurnsWide, StairsWide, LiftsFit, WayRecorded,
	FloorLevel, FloorCarries, FrontClear, ServiceClear, CleanBeneath, RoomHeat, StairCarry,
}

// OpeningWidth compares the opening's width with the machine and its side clearances.
var OpeningWidth = &Check{
	ID:      "S-01",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "opening's width",
	Why:     "A machine that has to be forced in can't be pulled out for service, and its sides need air.",
	Formula: "W ≥ w + 2 g; w width of the machine, g clearance at each side",
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Width.Path(): "37 ± 0 in"}, Verdict: Fix, Shows: "w + 2 g = 38 in (965 mm)"},
	Run: func(c *Case) Outcome {
		m := c.Machine.Space
		if !m.Width.Known() {
			return c.Silent(check.Say("S-01.sheet"))
		}
		need := spaceSum(m.Width, m.SideGap, m.SideGap)
		out := spaceAtLeast(c, ask.Space.Width, ask.Space.Width.Of(c), need, check.Say("S-01.arg", "need", need))
		return spaceWorking(c, out, "space.width", Step{"W", check.Say("S-01.step"), ask.Space.Width.Of(c)},
			Step{"w", check.Say("S-01.step2"), m.Width}, Step{"g", check.Say("S-01.step3"), spaceGap(m.SideGap)},
			Step{"w + 2 g", check.Say("S-01.step4"), need})
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		need := spaceSum(c.Machine.Space.Width, c.Machine.Space.SideGap, c.Machine.Space.SideGap)
		return spaceEnlarge(c, k, ask.Space.Width, need, nil, check.Say("S-01.arg2"))
	},
}

// OpeningHeight compares the opening's height with the machine, its stand and the clearance above.
var OpeningHeight = &Check{
	ID:      "S-02",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "opening's height",
	Why:     "The machine must go in under the counter on its legs, stand or plinth included, with room above to open and cool.",
	Formula: "H ≥ h + r + g; h height at the middle of the legs' travel, r stand or plinth, g clearance above",
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Height.Path(): "35 ± 0 in", ask.Machine.RaisedBy.Path(): "2 ± 0 in"}, Verdict: Fix, Shows: "h + r + g = 36 in (914 mm)"},
	Run: func(c *Case) Outcome {
		m, raised := c.Machine.Space, ask.Machine.RaisedBy.Of(c)
		if !m.Height.Known() {
			return c.Silent(check.Say("S-02.sheet"))
		}
		need := spaceSum(m.Height, raised, m.TopGap)
		out := spaceAtLeast(c, ask.Space.Height, ask.Space.Height.Of(c), need, check.Say("S-02.arg", "need", need))
		if raised.Known() {
			out.At = append(out.At, ask.Machine.RaisedBy)
		}
		return spaceWorking(c, out, "space.height", Step{"H", check.Say("S-02.step"), ask.Space.Height.Of(c)},
			Step{"h", check.Say("S-02.step2"), m.Height}, Step{"r", check.Say("S-02.step3"), spaceGap(raised)},
			Step{"g", check.Say("S-02.step4"), spaceGap(m.TopGap)}, Step{"h + r + g", check.Say("S-02.step5"), need})
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		m, raised := c.Machine.Space, ask.Machine.RaisedBy.Of(c)
		rs := []Remedy{}
		if raised.Known() && raised.In(quantity.Inch) > 0 {
			rs = c.Offer(k, ask.Machine.RaisedBy, spaceSteps(c, raised, quantity.New(0, quantity.Inch), 0.25, 5), nil, func(v any) any {
				return check.Say("S-02.way", "raised", raised, "v", v)
			})
		}
		s := ask.Space
		for _, r := range spaceEnlarge(c, k, ask.Space.Height, spaceSum(m.Height, raised, m.TopGap), nil, check.Say("S-02.arg2")) {
			if s.Counter.Of(c).Known() && s.Height.Of(c).Known() { // the top goes up with its underside
				up := quantity.MustParse[quantity.Length](r.Set[ask.Space.Height.Path()]).In(quantity.Inch) - s.Height.Of(c).In(quantity.Inch)
				r.Set[ask.Space.Counter.Path()] = quantity.Inch.Write(s.Counter.Of(c).In(quantity.Inch) + up)
			}
			rs = append(rs, r)
		}
		return rs
	},
}

// OpeningDepth compares the opening's depth with the machine and the clearance behind it.
var OpeningDepth = &Check{
	ID:      "S-03",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "opening's depth",
	Why:     "Hoses, drain and cord need room behind the machine; kinked they fail.",
	Formula: "D ≥ d + g; d depth of the machine, g clearance behind it",
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Depth.Path(): "26 ± 0 in"}, Verdict: Fix, Shows: "d + g = 27 in (686 mm)"},
	Run: func(c *Case) Outcome {
		m := c.Machine.Space
		if !m.Depth.Known() {
			return c.Silent(check.Say("S-03.sheet"))
		}
		need := spaceSum(m.Depth, m.BackGap)
		out := spaceAtLeast(c, ask.Space.Depth, ask.Space.Depth.Of(c), need, check.Say("S-03.arg", "need", need))
		return spaceWorking(c, out, "space.depth", Step{"D", check.Say("S-03.step"), ask.Space.Depth.Of(c)},
			Step{"d", check.Say("S-03.step2"), m.Depth}, Step{"g", check.Say("S-03.step3"), spaceGap(m.BackGap)},
			Step{"d + g", check.Say("S-03.step4"), need})
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return spaceEnlarge(c, k, ask.Space.Depth, spaceSum(c.Machine.Space.Depth, c.Machine.Space.BackGap), nil, check.Say("S-03.arg2"))
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
	Title:   "counter's top against the opening's height",
	Why:     "The two heights check each other: if the top lies below the underside, one of them was misread and the machine may not fit.",
	Formula: "t = C - H; C top of the counter, H height of the opening; 0 ≤ t ≤ 6 in",
	Sources: []trade.Source{trade.Geometry, trade.BarHeights},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Counter.Path(): "40 ± 0 in", ask.Space.Height.Path(): "38 ± 0 in"}, Verdict: OK, Shows: "t = 2 in (51 mm)"},
	Run: func(c *Case) Outcome {
		top, under := ask.Space.Counter, ask.Space.Height
		if out, lacks := c.Lacking(top, under); lacks {
			return out
		}
		s := ask.Space
		t := spaceBare(s.Counter.Of(c)).Minus(spaceBare(s.Height.Of(c)))
		out := check.Within(t, quantity.New(0, quantity.Inch), counterThickest, check.Say("S-04.do"), check.Phrase{}, top, under)
		out.Have = check.FactOf(check.Say("S-04.do2", "counter", s.Counter.Of(c), "height", s.Height.Of(c)))
		out.Want = check.FactOf(check.Say("S-04.do3", "counterthickest", counterThickest))
		if t.Cmp(counterThickest) > 0 {
			m := out.Margin
			out = check.Rule(out.Have, out.Want, check.Say("S-04.do4", "t", t), top, under)
			out.Margin = m
		}
		out.Working = []Step{{"C", check.Say("S-04.step"), s.Counter.Of(c)}, {"H", check.Say("S-02.step"), s.Height.Of(c)}, {"t", check.Say("S-04.step2"), t}}
		return out
	},
}

// FloorLevel compares the floor's unevenness with the travel of the legs.
var FloorLevel = &Check{
	ID:      "S-10",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "floor out of level against the legs' travel",
	Why:     "A machine out of level drains badly, reads its level wrong and overflows at one side.",
	Formula: "e ≤ b - a; e unevenness over the base, a and b height under the base with legs in and out",
	Sources: []trade.Source{sheet, trade.Geometry},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.OutOfLevel.Path(): "1/2 ± 0 in"}, Verdict: OK, Shows: "b - a = 2 in (51 mm)"},
	Run: func(c *Case) Outcome {
		var path = ask.Space.OutOfLevel
		m := c.Machine.Space
		if !m.LegMin.Known() || !m.LegMax.Known() {
			return c.Silent(check.Say("S-10.sheet"))
		}
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		travel := m.LegMax.Minus(m.LegMin)
		have := ask.Space.OutOfLevel.Of(c)
		out := check.UpTo(have, travel, check.Say("S-10.do", "travel", travel), path)
		return spaceWorking(c, out, "space.leg_max", Step{"e", check.Say("S-10.step"), have},
			Step{"a", check.Say("S-10.step2"), m.LegMin}, Step{"b", check.Say("S-10.step3"), m.LegMax},
			Step{"b - a", check.Say("S-10.step4"), travel})
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		travel := c.Machine.Space.LegMax.Minus(c.Machine.Space.LegMin)
		return c.Offer(k, ask.Space.OutOfLevel, spaceSteps(c, travel, quantity.New(0, quantity.Inch), 0.125, 1), nil, func(v any) any {
			return check.Say("S-10.way", "v", v)
		})
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
	Title:   "floor's capacity under the full machine",
	Why:     "Machine, water and racks stand on a few square feet for years. A doubtful floor is for a structural engineer to judge.",
	Formula: "p = (m + 8.34 V + k) / (w d / 144), in psf; m machine lb, V tank gal, k racks and glasses lb, w and d base in",
	Range:   "load spread over the base; single legs on a weak spot are not covered",
	Sources: []trade.Source{trade.Geometry, waterWeight, trade.ASCE7},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.FloorLoad.Path(): "40 psf"}, Verdict: Fix, Shows: "p = 45.3 psf (2.17 kN/m²)"},
	Run: func(c *Case) Outcome {
		var path = ask.Space.FloorLoad
		m := c.Machine.Space
		if !m.Mass.Known() || !m.Width.Known() || !m.Depth.Known() {
			return c.Silent(check.Say("S-11.sheet"))
		}
		water := 0.0
		if v := c.Machine.Wash.TankVolume; v.Known() {
			water = waterLbGal * v.In(quantity.Gallon)
		}
		total := m.Mass.In(quantity.Pound) + water
		if m.Racks.Known() {
			total += m.Racks.In(quantity.Pound)
		}
		load := quantity.New(trade.FloorLoadPSF(total, m.Width.In(quantity.Inch), m.Depth.In(quantity.Inch)), quantity.PSF)
		limit, assumed := ask.Space.FloorLoad.Of(c), !ask.Space.FloorLoad.Of(c).Known()
		if assumed {
			limit = quantity.New(trade.FloorLiveLoadPSF, quantity.PSF)
		}
		out := check.UpTo(load, limit, check.Say("S-11.do", "load", load), path)
		meaning := any(check.Say("S-11.meaning"))
		if assumed {
			meaning = check.Say("S-11.meaning2")
			m := out.Margin
			out = check.Rule(out.Have, out.Want.Also(check.Say("S-11.also")), check.Say("S-11.do2", "load", load), path)
			out.Margin = m
		}
		racks, tank := any(check.Say("S-11.racks")), any(check.Say("S-11.racks"))
		if m.Racks.Known() {
			racks = m.Racks
		}
		if c.Machine.Wash.TankVolume.Known() {
			tank = quantity.New(water, quantity.Pound)
		}
		out.Working = []Step{
			{"m", check.Say("S-11.step"), m.Mass},
			{"8.34 V", check.Say("S-11.step2"), tank},
			{"k", check.Say("S-11.step3"), racks},
			{"w d", check.Say("S-11.step4"), quantity.New(m.Width.In(quantity.Inch)*m.Depth.In(quantity.Inch), quantity.SquareInch)},
			{"leg", check.Say("S-11.step5"), quantity.New(trade.LegLoadLb(total, 4), quantity.Pound)},
			{"p", check.Say("S-11.step6"), load},
			{"p max", meaning, limit},
		}
		return c.OnSheet(out, "space.mass")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Space.FloorLoad, check.Ladder(45, 500, 5, quantity.PSF), nil, func(v any) any {
			return check.Say("S-11.way", "mustparse", v)
		})
	},
}

// FrontClear compares the clear floor in front with what the sheet asks.
var FrontClear = spaceClearance(&Check{
	ID:      "S-12",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "clear floor in front of the machine",
	Why:     "Racks or glasses go in and out there, staff pass, and the front comes off for service.",
	Formula: "F ≥ f; f clearance on the sheet",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Front.Path(): "28 ± 0 in"}, Verdict: Fix, Shows: "f = 30 in (762 mm)"},
}, "F", "f", ask.Space.Front, "space.clearance_front", check.Say("front-clear.arg"),
	func(s survey.SpaceAnswers, c *Case) quantity.Length { return s.Front.Of(c) }, func(c *Case) quantity.Length { return c.Machine.Space.FrontGap })

// ServiceClear compares the space at the service side with what the sheet asks.
var ServiceClear = spaceClearance(&Check{
	ID:      "S-13",
	Trade:   Builder,
	Stage:   BeforeDelivery,
	Title:   "clear space at the service side",
	Why:     "Without it pump, valves and heater can only be reached by pulling the machine out.",
	Formula: "V ≥ v; v clearance on the sheet",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.ServiceGap.Path(): "3 ± 0 in"}, Verdict: Fix, Shows: "v = 4 in (102 mm)"},
}, "V", "v", ask.Space.ServiceGap, "space.clearance_service", check.Say("service-clear.arg"),
	func(s survey.SpaceAnswers, c *Case) quantity.Length { return s.ServiceGap.Of(c) }, func(c *Case) quantity.Length { return c.Machine.Space.ServiceGap })

// spaceClearance completes a check of one clearance of the sheet.
func spaceClearance(k *Check, haveSymbol, wantSymbol string, path survey.Ref, onSheet string, action any, have func(survey.SpaceAnswers, *Case) quantity.Length, want func(*Case) quantity.Length) *Check {
	k.Sources = []trade.Source{sheet}
	k.Applies = func(c *Case) string {
		if !want(c).Known() {
			return "the requirement sheet sets no such clearance"
		}
		return ""
	}
	k.Run = func(c *Case) Outcome {
		need := want(c)
		out := spaceAtLeast(c, path, have(ask.Space, c), need, check.Say("space-clearance.arg", "action", action, "need", need))
		return spaceWorking(c, out, onSheet, Step{haveSymbol, check.Question(path.Path()), have(ask.Space, c)},
			Step{wantSymbol, check.Say("space-clearance.step"), need})
	}
	k.Remedies = func(c *Case, k *Check) []Remedy { return spaceEnlarge(c, k, path, want(c), nil, action) }
	return k
}

// CleanBeneath asks for room to clean under the machine, or a sealed base.
var CleanBeneath = &Check{
	ID:      "S-14",
	Trade:   Builder,
	Stage:   BeforeStart,
	Title:   "room to clean beneath, or sealed to the floor",
	Why:     "Spilled drink under a machine breeds flies and rots the floor; the health authority asks for legs or a seal.",
	Formula: "B ≥ 6 in, or ≥ 4 in where no point of the floor is more than 6 in from cleaning access",
	Range:   "floor-mounted and not easily movable; cleaned from the front, assumed",
	Sources: []trade.Source{trade.FoodCode4_402},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Underneath.Path(): "5 ± 0 in", ask.Space.SealedBase.Path(): "no"}, Verdict: Fix, Shows: "B min = 6 in (152 mm)"},
	Run: func(c *Case) Outcome {
		path, sealed := ask.Space.Underneath, ask.Space.SealedBase
		s := ask.Space
		if s.SealedBase.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("S-14.have"), check.Say("S-14.want"), check.Phrase{}, sealed)
		}
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		need := spaceBeneath(c)
		out := check.From(s.Underneath.Of(c), need, check.Say("S-14.do", "need", need), path, sealed)
		out.Working = []Step{
			{"B", check.Say("S-14.step"), s.Underneath.Of(c)},
			{"reach", check.Say("S-14.step2"), c.Machine.Space.Depth},
			{"B min", check.Say("S-14.step3"), need},
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		if m := c.Machine.Space; m.LegMin.Known() && m.LegMax.Known() {
			// Not above mid travel, at which the sheet states the machine's height.
			mid := quantity.New((m.LegMin.In(quantity.Inch)+m.LegMax.In(quantity.Inch))/2, quantity.Inch)
			if need := spaceBeneath(c); need.Cmp(mid) <= 0 {
				rs = c.Offer(k, ask.Space.Underneath, spaceSteps(c, need, mid, 0.125, 1), nil, func(v any) any {
					return check.Say("S-14.way", "v", v)
				})
			}
		}
		return append(rs, Remedy{Change: check.Say("S-14.way2"), Set: map[string]string{ask.Space.SealedBase.Path(): "yes"}})
	},
}

// spaceBeneath is the cleaning height that the Food Code asks under the machine.
func spaceBeneath(c *Case) quantity.Length {
	reach := trade.FloorLegReachIn + 1 // depth not stated: the stricter rule
	if d := c.Machine.Space.Depth; d.Known() {
		reach = d.In(quantity.Inch)
	}
	return quantity.New(trade.FloorLegRequiredIn(reach), quantity.Inch)
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

// RoomHeat estimates the heat and vapour that the room must take.
var RoomHeat = &Check{
	ID:      "S-15",
	Trade:   Builder,
	Stage:   RoughIn,
	Title:   "heat and vapour to the room, an estimate",
	Why:     "Warm, damp air behind a bar fogs glasses and drips from cold surfaces; who designs the ventilation must know of it.",
	Formula: "q = radiant + convective + latent, in Btu/h; vapour = latent / 1050, in lb/h",
	Range:   "the nearest class of warewasher in a handbook table, not this machine's own figure",
	Sources: []trade.Source{trade.ASHRAEHeatGain},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Exhaust.Path(): "no"}, Verdict: Confirm, Shows: "q = 6450 Btu/h (1.89 kW)"},
	Run: func(c *Case) Outcome {
		path, want := ask.Space.Exhaust, any(check.Say("S-15.want"))
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		btu := func(x float64) string { return fmt.Sprintf("%.0f Btu/h (%.2f kW)", x, x/trade.BtuHPerKW) }
		var steps []Step
		estimate, most := any(check.Say("S-15.estimate")), spaceInput(c)
		if h, err := trade.FindHeatGain(heatClasses[c.Machine.Space.HeatClass]); err == nil {
			estimate = check.Say("S-15.estimate2", "btu", check.Quote(btu(h.Total)), "btu2", check.Quote(btu(h.Latent)))
			vapour := quantity.New(trade.VapourLbH(h.Latent), quantity.Pound)
			steps = []Step{
				{"class", check.Say("S-15.step"), check.Quote(h.Class)},
				{"radiant", check.Say("S-15.step2"), check.Quote(btu(h.Radiant))},
				{"convective", check.Say("S-15.step3"), check.Quote(btu(h.Convective))},
				{"latent", check.Say("S-15.step4"), check.Quote(btu(h.Latent))},
				{"vapour", check.Say("S-15.step5"), vapour},
				{"q", check.Say("S-15.step6"), check.Quote(btu(h.Total))},
			}
		}
		if !math.IsNaN(most) {
			steps = append(steps, Step{"q max", check.Say("S-15.step7"), check.Quote(btu(most))})
			if len(steps) == 1 {
				estimate = check.Say("S-15.more", "before", estimate, "btu", check.Quote(btu(most)))
			}
		}
		out := check.Choice(true, check.Say("S-15.have", "estimate", estimate), want, check.Phrase{}, path)
		if ask.Space.Exhaust.Of(c) != survey.Yes {
			out = check.Rule(check.Say("S-15.have2", "estimate", estimate), want, check.Say("S-15.do", "estimate", estimate), path)
		}
		out.Working = steps
		return out
	},
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
func spaceAtLeast(c *Case, path survey.Ref, have, need quantity.Length, action any) Outcome {
	if out, lacks := c.Lacking(path); lacks {
		return out
	}
	return check.From(have, need, action, path)
}

// spaceWorking adds the steps and the sheet's note to a judged outcome.
func spaceWorking(c *Case, out Outcome, onSheet string, steps ...Step) Outcome {
	if out.Verdict == Missing {
		return out
	}
	out.Working = steps
	return c.OnSheet(out, onSheet)
}

// spaceEnlarge offers the first practical length from the needed one upward.
func spaceEnlarge(c *Case, k *Check, path survey.Ref, need quantity.Length, set map[string]string, change any) []Remedy {
	most := quantity.New(need.In(quantity.Inch)+2, quantity.Inch)
	return c.Offer(k, path, spaceSteps(c, need, most, 0.25, 5), set, func(v any) any { return check.Say("space-enlarge.way", "change", change, "v", v) })
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
// of in inches, or of mm millimetres when SI units are shown first. The first
// is rounded towards the last.
func spaceSteps(c *Case, from, to quantity.Length, in, mm float64) []string {
	step, u := in, quantity.Inch
	if c.Units == quantity.SI {
		step, u = mm, quantity.Millimetre
	}
	a, b := from.In(u), to.In(u)
	if a <= b {
		a = math.Ceil(a/step-1e-9) * step
	} else {
		a = math.Floor(a/step+1e-9) * step
	}
	return check.Ladder(a, b, step, u)
}

// spaceLength shows a length written by spaceSteps.
func spaceLength(c *Case, text string) string {
	q, err := quantity.Parse[quantity.Length](text)
	if err != nil {
		return text
	}
	return show(c, quantity.New(q.In(quantity.Inch), quantity.Inch))
}
