package rules

import (
	"math"
	"strings"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var drain = []*Check{
	DrainConnection, DrainReceptor, DrainFall, DrainAirGap, DrainLineSize, DrainReceptorOutlet,
	DrainLineFlow, DrainReceptorFlow, DrainPipeHeat, DrainSewerHeat, DrainCoolingSupply, DrainCoolingValve,
	DrainLineTrap, DrainLineLength, DrainReceptorTrap, DrainTrapArm, DrainTrapSeal, DrainSealKept,
	DrainStrainer, DrainAccess, DrainCleanouts, DrainSteady, DrainPumpLift, DrainHighLoop, DrainStandpipe,
}

// Sources of the drain checks that specs/trade has no name for. Those of the
// IPC were read in a city's adoption of it.
var (
	receptorRule = trade.Source{Document: "IPC", Edition: "2018", Clause: "802.4 (waste receptors)", Mark: trade.ReadCopy}
	receptorUPC  = trade.Source{Document: "UPC", Edition: "2024", Clause: "804.1 (receptors: no splashing or flooding, accessible)", Mark: trade.ReadCopy}
	washerUPC    = trade.Source{Document: "UPC", Edition: "2021", Clause: "801.3.3 (food-handling equipment: air gap)", Mark: trade.ReadCopy}
	gapUPC       = trade.Source{Document: "UPC", Clause: "801 (air gap of at least 1 in, from the pipe's end to the flood rim)", Mark: trade.ReadCopy}
	gapASME      = trade.Source{Document: "ASME A112.1.2", Clause: "twice the effective opening", Mark: trade.FromMemory}
	indirectSize = trade.Source{Document: "UPC", Clause: "801.3.3 (indirect waste pipe not smaller than the outlet)", Mark: trade.ReadCopy}
	noSmaller    = trade.Source{Document: "IPC", Clause: "704.2 (no smaller pipe downstream)", Mark: trade.FromMemory}
	cleanoutUPC  = trade.Source{Document: "UPC", Clause: "indirect waste pipes, changes of direction", Mark: trade.ReadCopy}
	cleanoutCity = trade.Source{Document: "IPC", Clause: "city amendment, cleanouts at every 90° turn", Mark: trade.ReadCopy}
	cityLength   = trade.Source{Document: "IPC", Clause: "city amendment, indirect waste pipe at most 15 ft", Mark: trade.ReadCopy}
	sealRule     = trade.Source{Document: "IPC", Clause: "1002.4.1 (ASSE 1018, 1044 or 1072)", Mark: trade.FromMemory}
	sealUPC      = trade.Source{Document: "UPC", Clause: "1005.0 and 1007.0 (trap seals)", Mark: trade.FromMemory}
	trapUPC      = trade.Source{Document: "UPC", Clause: "1001.2 and 901.2 (traps and vents)", Mark: trade.FromMemory}
	pumpHose     = trade.Source{Document: "Drain pump hoses", Mark: trade.CommonPractice}
)

// drainFamily is the model code that the authority enforces; "" when it is
// another one, of which no tables are held.
func drainFamily(c *Case) trade.CodeFamily {
	switch ask.Codes.Plumbing.Of(c) {
	case "ipc":
		return trade.IPC
	case "upc":
		return trade.UPC
	}
	return ""
}

// drainByAuthority turns a result into one that the authority must rule on,
// when no table of its code is held.
func drainByAuthority(c *Case, out Outcome, rule check.Phrase) Outcome {
	if drainFamily(c) != "" {
		return out
	}
	action := check.Say("drain.ask", "rule", rule)
	if out.Verdict == Fix {
		action = check.Say("drain.ask-else", "rule", rule, "action", out.Action)
	}
	out.Verdict, out.Action = Confirm, action
	return out
}

// drainUnlessMet is drainByAuthority for rules that a site may meet by the
// narrower of the model codes: then that stands under any code.
func drainUnlessMet(c *Case, out Outcome, rule check.Phrase) Outcome {
	if out.Verdict == OK {
		return out
	}
	return drainByAuthority(c, out, rule)
}

// drainNominal is a pipe size as the tables name it: "1-1/2".
func drainNominal(p quantity.PipeSize) string { return strings.TrimSuffix(p.String(), " in") }

// drainSlope is the least slope for a pipe size, in/ft, and what it rests on.
func drainSlope(c *Case, p quantity.PipeSize) (inPerFt float64, meaning check.Phrase) {
	if f := drainFamily(c); f != "" {
		if s, err := trade.MinSlopeInPerFt(f, drainNominal(p), false); err == nil {
			return s, check.Say("step.slope", "size", p, "code", check.Word(f))
		}
	}
	return 0.25, check.Say("step.slope-assumed")
}

// drainPipe is the material that the tables know an answer's pipe under. A
// stainless pipe is taken as copper, unknown material as PVC of Schedule 40,
// which has the largest bore.
func drainPipe(material string) (p trade.Drainpipe, note check.Phrase) {
	switch material {
	case "pvc":
		return trade.PVCDWV, note
	case "abs":
		return trade.ABSDWV, note
	case "cpvc":
		return trade.CPVCDrain, note
	case "copper":
		return trade.CopperDWV, note
	case "cast-iron":
		return trade.CastIron, note
	case "stainless":
		return trade.CopperDWV, check.Say("drain.as-copper")
	}
	return trade.PVCDWV, check.Say("drain.as-plastic")
}

// drainBore is the bore of a drain pipe in inches, from the tables; else that
// of Schedule 40 plastic; else its nominal size.
func drainBore(material string, p quantity.PipeSize) (in float64, meaning check.Phrase) {
	pipe, note := drainPipe(material)
	if b, _, err := trade.DrainBoreIn(pipe, drainNominal(p)); err == nil {
		return b, check.Say("step.bore", "size", p, "pipe", check.Quote(pipe), "note", note)
	}
	if pipe == trade.PVCDWV || pipe == trade.ABSDWV || pipe == trade.CPVCDrain {
		if t, err := trade.FindTube(trade.PVC40, drainNominal(p)); err == nil {
			return t.ID, check.Say("step.bore-plastic", "size", p)
		}
	}
	return p.Inches(), check.Say("step.bore-nominal", "size", p)
}

// narrowest is the material of the smallest bore: what unknown pipe may be.
const narrowest = "cast-iron"

// drainIn, drainFt, drainGPM and drainSlopeOf make quantities of computed numbers.
func drainIn(x float64) quantity.Length     { return quantity.New(x, quantity.Inch) }
func drainFt(x float64) quantity.Length     { return quantity.New(x, quantity.Foot) }
func drainGPM(x float64) quantity.Flow      { return quantity.New(x, quantity.GPM) }
func drainSlopeOf(x float64) quantity.Slope { return quantity.New(x, quantity.InchPerFoot) }

// leastPrinted is a lower limit in inches as a code prints it: in inches, or as
// the rounded metric equivalent beside them where only that is met.
func leastPrinted(have quantity.Length, inches, mm float64) quantity.Length {
	if in, other := drainIn(inches), quantity.New(mm, quantity.Millimetre); !have.Known() || have.Cmp(in) >= 0 || have.Cmp(other) < 0 {
		return in
	}
	return quantity.New(mm, quantity.Millimetre)
}

// codeLeast and codeMost are limits in inches that a plumbing code prints with
// whole millimetres beside them: either will do.
func codeLeast(have quantity.Length, inches float64) quantity.Length {
	return leastPrinted(have, inches, trade.PrintedMM(trade.WholeMM, inches))
}

func codeMost(have quantity.Length, inches float64) quantity.Length {
	if in, other := drainIn(inches), quantity.New(trade.PrintedMM(trade.WholeMM, inches), quantity.Millimetre); have.Known() && have.Cmp(in) > 0 && have.Cmp(other) <= 0 {
		return other
	}
	return drainIn(inches)
}

// roomyGap is the least air gap of a bore in inches, with at least 1/4 in to
// spare for the tape, in steps of 1/4 in.
func roomyGap(bore float64) float64 { return math.Ceil(4*trade.AirGapIn(bore)+1) / 4 }

// noReceptor is why a check of the receptor doesn't arise.
func noReceptor(c *Case) check.Phrase {
	if ask.Drain.Receptor.Of(c) == "none" {
		return check.Say("drain.no-receptor")
	}
	return check.Phrase{}
}

// gravityOnly is why a check of a falling line doesn't arise.
func gravityOnly(c *Case) check.Phrase {
	if c.Machine.Drain.Kind == "pump" {
		return check.Say("drain.pumped")
	}
	return check.Phrase{}
}

// DrainConnection asks for an air gap, or where the code allows it an air break, between machine and sewer.
var DrainConnection = &Check{
	ID:      "D-01",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.IPC802_1_6, trade.IPC802_1, washerUPC},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Connection.Path(): "direct"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		at := ask.Drain.Connection
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		have, want := check.Word(at.Of(c)), any(check.Word("air-gap"))
		rule, _ := trade.AirBreak(drainFamily(c))
		if rule == trade.AirBreakAllowed {
			want = check.Say("D-01.either")
		}
		switch at.Of(c) {
		case "direct":
			return check.Choice(false, have, want, check.Say("D-01.cut"), at)
		case "air-break":
			if rule == trade.AirBreakAllowed {
				return check.Choice(true, have, want, nil, at, ask.Codes.Plumbing)
			}
			return check.Rule(have, want, check.Say("D-01.ask"), at)
		}
		return check.Choice(true, have, want, nil, at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		set := map[string]string{ask.Drain.Connection.Path(): "air-gap"}
		if d := ask.Drain; d.Size.Of(c).Known() && d.AirGap.Of(c).Known() {
			bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
			if gap := roomyGap(bore); d.AirGap.Of(c).In(quantity.Inch) < gap {
				set[d.AirGap.Path()] = quantity.Inch.Write(gap)
			}
		}
		return drainWays(c, k, set)
	},
}

// DrainLineSize keeps the drain line at least as large as the machine's outlet.
var DrainLineSize = &Check{
	ID:       "D-05",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.DrainLine,
	Sources:  []trade.Source{sheet, indirectSize, noSmaller},
	Example:  Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Size.Path(): "1-1/4 in"}, Verdict: Fix},
	Run:      runLineSize,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, largerLine(c)...) },
}

func runLineSize(c *Case) Outcome {
	want := c.Machine.Drain.OutletSize
	if !want.Known() {
		return c.Silent(check.Say("silent.outlet-size"))
	}
	if out, lacks := c.Lacking(ask.Drain.Size); lacks {
		return out
	}
	have := ask.Drain.Size.Of(c)
	out := check.Choice(have.Cmp(want) >= 0, have, check.Fact{Value: want, Bound: check.AtLeast}, check.Say("D-05.run", "size", want), ask.Drain.Size)
	return c.OnSheet(sizeSpare(out, have, want), "drain.outlet_size")
}

// DrainCleanouts asks for a cleanout where the line turns.
var DrainCleanouts = &Check{
	ID:      "D-19",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.DrainLine,
	Sources: []trade.Source{cleanoutUPC, cleanoutCity},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.Cleanouts.Path(): "no"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if e := ask.Drain.Elbows.Of(c); e.Known() && e.N() == 0 {
			return check.Say("D-19.straight")
		}
		return gravityOnly(c)
	},
	Run: func(c *Case) Outcome {
		d, want := ask.Drain, check.Say("D-19.want")
		if d.Cleanouts.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("D-19.there"), want, nil, d.Cleanouts)
		}
		if out, lacks := c.Lacking(d.Elbows, d.Cleanouts, ask.Codes.Plumbing); lacks {
			return out
		}
		have, fit := check.Say("D-19.have", "turns", d.Elbows.Of(c).N()), check.Say("D-19.fit", "turns", d.Elbows.Of(c).N())
		if drainFamily(c) == trade.UPC {
			return check.Choice(false, have, want, fit, d.Elbows, d.Cleanouts)
		}
		return check.Rule(have, want, check.Say("D-19.ask", "action", fit), d.Elbows, d.Cleanouts)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, map[string]string{ask.Drain.Cleanouts.Path(): "yes"}, map[string]string{ask.Drain.Elbows.Path(): "0"})
	},
}

// DrainSteady asks for a line that falls all the way.
var DrainSteady = &Check{
	ID:      "D-20",
	Trade:   Plumber,
	Stage:   BeforeStart,
	Subject: check.DrainLine,
	Sources: []trade.Source{trade.HoseSag},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Steady.Path(): "no"}, Verdict: Fix},
	Skip:    gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Steady); lacks {
			return out
		}
		ok := ask.Drain.Steady.Of(c) == survey.Yes
		return check.Choice(ok, eitherWay(ok, "D-20.falls", "D-20.sags"), check.Say("D-20.want"), check.Say("D-20.run"), ask.Drain.Steady)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, map[string]string{ask.Drain.Steady.Path(): "yes"})
	},
}

// eitherWay says one of two phrases.
func eitherWay(ok bool, yes, no string) check.Phrase {
	if ok {
		return check.Say(yes)
	}
	return check.Say(no)
}
