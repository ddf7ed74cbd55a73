package rules

import (
	"strings"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// The checks of both lines.
var (
	ColdBuilding, HotBuilding   = buildingPressure("W-03", coldLine), buildingPressure("W-04", hotLine)
	ColdStaticMax, HotStaticMax = staticMax("W-01", coldLine, ColdBuilding), staticMax("W-02", hotLine, HotBuilding)
	ColdSize, HotSize           = supplySize("W-09", coldLine), supplySize("W-10", hotLine)
	ColdInlet                   = inletPressure("W-05", coldLine, ColdSize, ColdBuilding, ColdStaticMax)
	HotInlet                    = inletPressure("W-06", hotLine, HotSize, HotBuilding, HotStaticMax)
	ColdVelocity, HotVelocity   = pipeVelocity("W-07", coldLine, ColdSize), pipeVelocity("W-08", hotLine, HotSize)
	WinterMix, SummerMix        = rinseMix("W-16", winter, HotTemperature), rinseMix("W-17", summer, ColdTemperature)

	ColdCheckValve, HotCheckValve = inletCheckValve("W-25", coldLine), inletCheckValve("W-26", hotLine)
	ColdBackflow, HotBackflow     = backflowDevice("W-28", coldLine), backflowDevice("W-29", hotLine)
	ColdShutOff, HotShutOff       = supplyShutOff("W-32", coldLine), supplyShutOff("W-33", hotLine)
	ColdThread, HotThread         = supplyThread("W-34", coldLine), supplyThread("W-35", hotLine)
	ColdHose, HotHose             = supplyHose("W-36", coldLine), supplyHose("W-37", hotLine)
)

var water = []*Check{
	ColdStaticMax, HotStaticMax, ColdBuilding, HotBuilding, ColdInlet, HotInlet, ColdVelocity, HotVelocity, ColdSize, HotSize,
	HotPipeMaterial, HotDeadLeg, ColdTemperature, HotTemperature, BoosterFeed, WinterMix, SummerMix, GlassShock, SanitizerTemperature,
	HotWaterPeak, HotWaterRush, HotWaterOnDemand, HotWaterStored, Hardness, DissolvedSolids, SoftenerSize,
	ColdCheckValve, HotCheckValve, PressureBalance, ColdBackflow, HotBackflow, ThermalExpansion, HammerArrester,
	ColdShutOff, HotShutOff, ColdThread, HotThread, ColdHose, HotHose,
}

// The limits that come from the requirement sheet have this source; the sheet's
// own note is put before it by onSheet.
var sheet = trade.Source{Document: "machine requirement sheet"}

// A waterLine is one of the two supplies. The questionnaire and the
// requirement sheet name them alike.
type waterLine string

const (
	coldLine waterLine = "cold"
	hotLine  waterLine = "hot"
)

var waterLines = []waterLine{coldLine, hotLine}

// ask names the line's answers.
func (l waterLine) ask() *survey.LineAnswers {
	if l == hotLine {
		return &ask.Water.Hot
	}
	return &ask.Water.Cold
}

// at is the path of the sheet's value of that name.
func (l waterLine) at(name string) string { return "water." + string(l) + "." + name }

// of returns the line as found and the inlet as the sheet has it.
func (l waterLine) of(c *Case) (*survey.LineAnswers, *specs.Inlet) {
	if l == hotLine {
		return &ask.Water.Hot, &c.Machine.Water.Hot
	}
	return &ask.Water.Cold, &c.Machine.Water.Cold
}

// skip says that the machine doesn't take this water; the zero phrase when it does.
func (l waterLine) skip(c *Case) check.Phrase {
	if _, inlet := l.of(c); !inlet.Used {
		return check.Say("line.unused", "line", l.word())
	}
	return check.Phrase{}
}

// word is the line's name in a phrase.
func (l waterLine) word() check.Word { return check.Word(l) }

// needs is the Skip of a check that arises when the machine takes this water
// and the sheet states a value, which the phrase of that name calls.
func (l waterLine) needs(states func(*specs.Inlet) bool, what string) func(*Case) check.Phrase {
	return func(c *Case) check.Phrase {
		if why := l.skip(c); !why.Zero() {
			return why
		}
		if _, inlet := l.of(c); !states(inlet) {
			return check.Say("sheet.none", "what", check.Say(what))
		}
		return check.Phrase{}
	}
}

// supplyMaterials gives the tables' name of each material of the questionnaire.
var supplyMaterials = map[string]trade.Material{
	"copper-K": trade.CopperK, "copper-L": trade.CopperL, "copper-M": trade.CopperM,
	"pex": trade.PEX, "cpvc": trade.CPVC, "pvc": trade.PVC40, "galvanised": trade.Steel40,
}

// tube finds the line's pipe in the tables. The outcome says so when there is no such pipe.
func (l waterLine) tube(c *Case) (t trade.Tube, out Outcome, ok bool) {
	line := l.ask()
	t, err := trade.FindTube(supplyMaterials[line.Material.Of(c)], strings.TrimSuffix(line.Size.Of(c).String(), " in"))
	if err != nil {
		return t, check.Rule(check.Say("line.pipe", "material", check.Word(line.Material.Of(c)), "size", line.Size.Of(c)), check.Say("line.pipe-known"),
			check.Say("line.pipe-read"), line.Material, line.Size), false
	}
	return t, Outcome{}, true
}

// bore is the step that names the pipe's bore.
func bore(t trade.Tube) Step {
	return entry("d", check.Say("line.bore", "tube", t, "source", t.Source), check.Figure{Value: t.ID, Decimals: 3, Unit: "in"})
}

// hottest is the warmest water that the line carries: what was measured, or on
// the hot line the heater's set point where that is higher.
func (l waterLine) hottest(c *Case) quantity.Temperature {
	t := l.ask().Temperature.Of(c)
	if l == hotLine {
		if sp := ask.Heater.SetPoint.Of(c); sp.Known() && !(t.Known() && t.Cmp(sp) > 0) {
			return sp
		}
	}
	return t
}

// bears says whether a pipe of that material may carry the line's water at all.
func (l waterLine) bears(c *Case, material string) bool {
	m := supplyMaterials[material]
	// PVC isn't accepted for the distribution of water in a building, hot or cold.
	if allowed, err := trade.HotWaterAllowed(m); err != nil || !allowed {
		return false
	}
	limit, err := trade.SupplyTempLimit(m)
	t := l.hottest(c)
	return err == nil && !(t.Known() && t.In(quantity.Fahrenheit) > limit.MaxF)
}

// largerPipes offers the next size of the line's pipe that cures; copper where
// the present material isn't made so large or doesn't bear the water.
func (l waterLine) largerPipes(c *Case, k *Check) []Remedy {
	line := l.ask()
	now, size := line.Material.Of(c), line.Size.Of(c)
	try := func(material string, from quantity.PipeSize) []Remedy {
		var sizes []string
		for s := from; s.Known() && s.Inches() <= 2; s = s.Next() {
			if _, err := trade.FindTube(supplyMaterials[material], strings.TrimSuffix(s.String(), " in")); err == nil {
				sizes = append(sizes, s.String())
			}
		}
		set := map[string]string{}
		if material != now {
			set[line.Material.Path()] = material
		}
		rs := c.Offer(k, line.Size, sizes, set, func(v any) any {
			return check.Say("line.run-in", "line", l.word(), "size", v, "material", check.Word(material))
		})
		for i := range rs {
			rs[i].Work = check.PipeOrWire
		}
		return rs
	}
	if l.bears(c, now) {
		if rs := try(now, size.Next()); len(rs) > 0 {
			return rs
		}
	}
	return try("copper-L", size)
}

// ownCode is a source of the IPC, or its like where the UPC is enforced.
func ownCode(c *Case, ipc, upc trade.Source) trade.Source {
	if ask.Codes.Plumbing.Of(c) == "upc" && strings.HasPrefix(ipc.Document, "IPC") {
		return upc
	}
	return ipc
}

// graver returns the outcome that weighs more: by verdict, then by margin.
func graver(outs ...Outcome) Outcome {
	worst := outs[0]
	for _, o := range outs[1:] {
		if o.Verdict < worst.Verdict || o.Verdict == worst.Verdict && o.Margin.Value < worst.Margin.Value {
			worst = o
		}
	}
	return worst
}

// fahrenheit, psi and gpm wrap a computed number.
func fahrenheit(f float64) quantity.Temperature { return quantity.New(f, quantity.Fahrenheit) }
func psi(p float64) quantity.Pressure           { return quantity.New(p, quantity.PSI) }
func gph(f float64) quantity.Flow               { return quantity.New(f, quantity.GPH) }

// inPSI, inGPH are a step of a calculation with more digits than a reading has.
func inPSI(p float64) check.Twin {
	return check.Twin{US: check.Figure{Value: p, Decimals: 2, Unit: "psi"}, SI: check.Figure{Value: psi(p).In(quantity.Kilopascal), Decimals: 1, Unit: "kPa"}}
}

func inGPH(f float64) check.Twin {
	return check.Twin{US: check.Figure{Value: f, Decimals: 1, Unit: "gph"}, SI: check.Figure{Value: gph(f).In(quantity.LPH), Decimals: 0, Unit: "L/h"}}
}

// degrees is a number of degrees of difference, given in °F.
func degrees(f float64) check.Twin {
	return check.Twin{US: check.Figure{Value: f, Decimals: 1, Unit: "°F"}, SI: check.Figure{Value: f / 1.8, Decimals: 1, Unit: "°C"}}
}
