package rules

import (
	"firstfill/specs/check"
	"strings"

	"firstfill/specs"
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
	HotWaterPeak, HotWaterOnDemand, Hardness, DissolvedSolids, SoftenerSize,
	ColdCheckValve, HotCheckValve, PressureBalance, ColdBackflow, HotBackflow, ThermalExpansion, HammerArrester,
	ColdShutOff, HotShutOff, ColdThread, HotThread, ColdHose, HotHose,
}

// The limits that come from the requirement sheet have this source; the sheet's
// own note is put before it by onSheet.
var sheet = trade.Source{Document: "machine requirement sheet", Mark: trade.Confirmed}

// A waterLine is one of the two supplies. The questionnaire and the
// requirement sheet name them alike.
type waterLine string

const (
	coldLine waterLine = "cold"
	hotLine  waterLine = "hot"
)

var waterLines = []waterLine{coldLine, hotLine}

// ask names the line's answers.
func (l waterLine) ask() survey.LineAnswers {
	if l == hotLine {
		return ask.Water.Hot
	}
	return ask.Water.Cold
}

// at is the path of the sheet's value of that name.
func (l waterLine) at(name string) string { return "water." + string(l) + "." + name }

// of returns the line as found and the inlet as the sheet has it.
func (l waterLine) of(c *Case) (survey.LineAnswers, *specs.Inlet) {
	if l == hotLine {
		return ask.Water.Hot, &c.Machine.Water.Hot
	}
	return ask.Water.Cold, &c.Machine.Water.Cold
}

// unused says that the machine doesn't take this water; empty when it does.
func (l waterLine) unused(c *Case) string {
	if _, inlet := l.of(c); !inlet.Used {
		return "the machine takes no " + string(l) + " water"
	}
	return ""
}

// needs is the Applies of a check that arises when the machine takes this
// water and the sheet states a value.
func (l waterLine) needs(states func(*specs.Inlet) bool, what string) func(*Case) string {
	return func(c *Case) string {
		if why := l.unused(c); why != "" {
			return why
		}
		if _, inlet := l.of(c); !states(inlet) {
			return "the requirement sheet sets no " + what
		}
		return ""
	}
}

// supplyMaterials gives the tables' name of each material of the questionnaire.
var supplyMaterials = map[string]trade.Material{
	"copper-K": trade.CopperK, "copper-L": trade.CopperL, "copper-M": trade.CopperM,
	"pex": trade.PEX, "cpvc": trade.CPVC, "pvc": trade.PVC40, "galvanised": trade.Steel40,
}

// tube finds the line's pipe in the tables. The outcome says so when there is no such pipe.
func (l waterLine) tube(c *Case) (t trade.Tube, out Outcome, ok bool) {
	line, _ := l.of(c)
	t, err := trade.FindTube(supplyMaterials[line.Material.Of(c)], strings.TrimSuffix(line.Size.Of(c).String(), " in"))
	if err != nil {
		return t, check.Rule(check.Say("tube.have", "material", check.Word(line.Material.Of(c)), "size", line.Size.Of(c)), check.Say("tube.want"),
			check.Say("tube.do"),
			[]survey.Ref{l.ask().Material, l.ask().Size}...), false
	}
	return t, Outcome{}, true
}

// largerPipes offers the next sizes of the line's pipe.
func (l waterLine) largerPipes(c *Case, k *Check) []Remedy {
	line, _ := l.of(c)
	var sizes []string
	for s := line.Size.Of(c).Next(); s.Known() && s.Inches() <= 2; s = s.Next() {
		sizes = append(sizes, s.String())
	}
	return c.Offer(k, l.ask().Size, sizes, nil, func(v any) any {
		return check.Say("larger-pipes.way", "l", check.Word(l), "v", v, "material", check.Word(line.Material.Of(c)))
	})
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

// regulated is the static pressure behind a regulator, if one is fitted and set below it.
func regulated(static, setting quantity.Pressure) quantity.Pressure {
	if setting.Known() && setting.In(quantity.PSI) > 0 && setting.Cmp(static) < 0 {
		return setting
	}
	return static
}

// degrees is a number of degrees of difference, given in °F.
func degrees(f float64) check.Twin {
	return check.Twin{US: check.Figure{Value: f, Decimals: 1, Unit: "°F"}, SI: check.Figure{Value: f / 1.8, Decimals: 1, Unit: "°C"}}
}
