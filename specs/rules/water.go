package rules

import (
	"fmt"
	"strings"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var water = []*Check{
	staticMax("W-01", coldLine, "W-03"), staticMax("W-02", hotLine, "W-04"),
	buildingPressure("W-03", coldLine), buildingPressure("W-04", hotLine),
	inletPressure("W-05", coldLine, "W-09", "W-03", "W-01"), inletPressure("W-06", hotLine, "W-10", "W-04", "W-02"),
	pipeVelocity("W-07", coldLine, "W-09"), pipeVelocity("W-08", hotLine, "W-10"),
	supplySize("W-09", coldLine), supplySize("W-10", hotLine),
	HotPipeMaterial, HotDeadLeg,
	ColdTemperature, HotTemperature, BoosterFeed,
	rinseMix("W-16", winter, "W-14"), rinseMix("W-17", summer, "W-13"),
	GlassShock, SanitizerTemperature,
	HotWaterPeak, HotWaterOnDemand,
	Hardness, DissolvedSolids, SoftenerSize,
	inletCheckValve("W-25", coldLine), inletCheckValve("W-26", hotLine), PressureBalance,
	backflowDevice("W-28", coldLine), backflowDevice("W-29", hotLine),
	ThermalExpansion, HammerArrester,
	supplyShutOff("W-32", coldLine), supplyShutOff("W-33", hotLine),
	supplyThread("W-34", coldLine), supplyThread("W-35", hotLine),
	supplyHose("W-36", coldLine), supplyHose("W-37", hotLine),
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

// at is the path of the line's answer, or of the sheet's value, of that name.
func (l waterLine) at(name string) string { return "water." + string(l) + "." + name }

// paths are those of several answers of the line.
func (l waterLine) paths(names ...string) []string {
	ps := make([]string, len(names))
	for i, n := range names {
		ps[i] = l.at(n)
	}
	return ps
}

// of returns the line as found and the inlet as the sheet has it.
func (l waterLine) of(c *Case) (*survey.Line, *specs.Inlet) {
	if l == hotLine {
		return &c.Survey.Water.Hot, &c.Machine.Water.Hot
	}
	return &c.Survey.Water.Cold, &c.Machine.Water.Cold
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
	t, err := trade.FindTube(supplyMaterials[line.Material], strings.TrimSuffix(line.Size.String(), " in"))
	if err != nil {
		return t, ask(line.Material+" "+line.Size.String(), "a size that the pipe tables hold",
			"read the pipe's material and nominal size again from its marking; if both are right, let the plumber work this point out from the maker's own table",
			l.paths("pipe_material", "pipe_size")...), false
	}
	return t, Outcome{}, true
}

// largerPipes offers the next sizes of the line's pipe.
func (l waterLine) largerPipes(c *Case, k *Check) []Remedy {
	line, _ := l.of(c)
	var sizes []string
	for s := line.Size.Next(); s.Known() && s.Inches() <= 2; s = s.Next() {
		sizes = append(sizes, s.String())
	}
	return c.offer(k, l.at("pipe_size"), sizes, nil, func(v string) string {
		return "run the " + string(l) + " line in " + v + " " + line.Material + " from where the pressure was read to the machine"
	})
}

// offerFirst returns the first of the remedies with which the check is OK.
func (c *Case) offerFirst(k *Check, remedies []Remedy) []Remedy {
	for _, r := range remedies {
		if after, err := c.with(r.Set); err == nil && after.judge(k).Verdict == OK {
			return []Remedy{r}
		}
	}
	return nil
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

// inPSI, inGPH print a step of a calculation with more digits than a reading has.
func inPSI(c *Case, p float64) string {
	text := number(p, 2) + " psi"
	if c.Units == quantity.SI {
		return number(psi(p).In(quantity.Kilopascal), 1) + " kPa (" + text + ")"
	}
	return text
}
func inGPH(f float64) string { return number(f, 1) + " gph" }

// regulated is the static pressure behind a regulator, if one is fitted and set below it.
func regulated(static, setting quantity.Pressure) quantity.Pressure {
	if setting.Known() && setting.In(quantity.PSI) > 0 && setting.Cmp(static) < 0 {
		return setting
	}
	return static
}

// shown prints a value that was written in one unit in both systems.
func shown[D quantity.Dimension](c *Case, u quantity.Unit[D], text string) string {
	var q quantity.Of[D]
	if err := q.UnmarshalText([]byte(text)); err != nil {
		panic(err) // the unit wrote it
	}
	return show(c, quantity.New(q.In(u), u))
}

// degrees prints a number of degrees of difference.
func degrees(f float64) string { return fmt.Sprintf("%s °F", number(f, 1)) }
