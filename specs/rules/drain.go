package rules

import (
	"firstfill/specs/check"
	"math"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var drain = []*Check{
	DrainConnection, DrainReceptor, DrainFall, DrainAirGap, DrainLineSize, DrainReceptorOutlet,
	DrainLineFlow, DrainReceptorFlow, DrainPipeHeat, DrainSewerHeat,
	DrainLineTrap, DrainLineLength, DrainReceptorTrap, DrainTrapArm, DrainTrapSeal, DrainSealKept,
	DrainStrainer, DrainAccess, DrainCleanouts, DrainSteady, DrainPumpLift, DrainStandpipe,
}

// Sources of the drain checks that specs/trade has no name for.
var (
	receptorRule = trade.Source{Document: "IPC", Edition: "2018", Clause: "802.4 (waste receptors, as adopted by a city)", Mark: trade.Confirmed}
	receptorUPC  = trade.Source{Document: "UPC", Clause: "804.1 (receptors: no splashing or flooding, accessible)", Mark: trade.Confirmed}
	washerWaste  = trade.Source{Document: "IPC", Edition: "2018", Clause: "802.1.6 (commercial dishwashing machines)", Mark: trade.Confirmed}
	indirectSize = trade.Source{Document: "UPC", Clause: "indirect waste pipe not smaller than the outlet", Mark: trade.Confirmed}
	cleanoutRule = trade.Source{Document: "UPC and an IPC city amendment", Clause: "indirect waste pipes, changes of direction", Mark: trade.Confirmed}
	cityLength   = trade.Source{Document: "IPC", Clause: "city amendment, indirect waste pipe at most 15 ft", Mark: trade.Confirmed}
	sealRule     = trade.Source{Document: "IPC", Clause: "1002.4.1 (ASSE 1018, 1044 or 1072)", Mark: trade.FromMemory}
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
func drainByAuthority(c *Case, out Outcome, rule any) Outcome {
	if drainFamily(c) != "" {
		return out
	}
	action := any(check.Say("drain-by-authority.action", "rule", rule))
	if out.Verdict == Fix {
		action = check.Say("drain-by-authority.more", "before", action, "rawtext", rawText(out.Action))
	}
	out.Verdict, out.Action = Confirm, check.Raw(action)
	return out
}

// drainUnlessMet is drainByAuthority for rules that a site may meet by the
// narrower of the model codes: then that stands under any code.
func drainUnlessMet(c *Case, out Outcome, rule any) Outcome {
	if out.Verdict == OK {
		return out
	}
	return drainByAuthority(c, out, rule)
}

// drainNominal is a pipe size as the tables name it: "1-1/2".
func drainNominal(p quantity.PipeSize) string { return strings.TrimSuffix(p.String(), " in") }

// drainSlope is the least slope for a pipe size, in/ft, and what it rests on.
func drainSlope(c *Case, p quantity.PipeSize) (inPerFt float64, meaning any) {
	if f := drainFamily(c); f != "" {
		if s, err := trade.MinSlopeInPerFt(f, drainNominal(p), false); err == nil {
			return s, check.Say("drain-slope.is", "p", p, "f", check.Quote(f))
		}
	}
	return 0.25, check.Say("drain-slope.is2")
}

// drainPipe is the material that the tables know an answer's pipe under. A
// stainless pipe is taken as copper, unknown material as PVC of Schedule 40,
// which has the largest bore.
func drainPipe(material string) (p trade.Drainpipe, note any) {
	switch material {
	case "pvc":
		return trade.PVCDWV, check.Phrase{}
	case "abs":
		return trade.ABSDWV, check.Phrase{}
	case "cpvc":
		return trade.CPVCDrain, check.Phrase{}
	case "copper":
		return trade.CopperDWV, check.Phrase{}
	case "cast-iron":
		return trade.CastIron, check.Phrase{}
	case "stainless":
		return trade.CopperDWV, check.Say("drain-pipe.is")
	}
	return trade.PVCDWV, check.Say("drain-pipe.is2")
}

// drainBore is the bore of a drain pipe in inches, from the tables; else that
// of Schedule 40 plastic; else its nominal size.
func drainBore(material string, p quantity.PipeSize) (in float64, meaning any) {
	pipe, note := drainPipe(material)
	if b, _, err := trade.DrainBoreIn(pipe, drainNominal(p)); err == nil {
		return b, check.Say("drain-bore.is", "p", p, "pipe", check.Quote(pipe), "note", note)
	}
	if pipe == trade.PVCDWV || pipe == trade.ABSDWV || pipe == trade.CPVCDrain {
		if t, err := trade.FindTube(trade.PVC40, drainNominal(p)); err == nil {
			return t.ID, check.Say("drain-bore.is2", "p", p)
		}
	}
	return p.Inches(), check.Say("drain-bore.is3", "p", p)
}

// drainIn, drainFt and drainGPM make quantities of computed numbers.
func drainIn(x float64) quantity.Length { return quantity.New(x, quantity.Inch) }
func drainFt(x float64) quantity.Length { return quantity.New(x, quantity.Foot) }
func drainGPM(x float64) quantity.Flow  { return quantity.New(x, quantity.GPM) }

// roomyGap is the least air gap of a bore in inches, with at least 1/4 in to
// spare for the tape, in steps of 1/4 in.
func roomyGap(bore float64) float64 { return math.Ceil(4*trade.AirGapIn(bore)+1) / 4 }

// drainShorter lists shorter runs in steps of 6 in.
func drainShorter(c *Case) []string {
	now := ask.Drain.RunLength.Of(c).In(quantity.Inch)
	return check.Ladder(6*math.Floor((now-0.01)/6), 6, 6, quantity.Inch)
}

// drainRaise lists higher stands in steps of 1/2 in.
func drainRaise(c *Case) []string {
	now := ask.Machine.RaisedBy.Of(c).In(quantity.Inch)
	return check.Ladder(math.Floor(2*now+1)/2, 36, 0.5, quantity.Inch)
}

// drainSizes lists the drain pipe sizes above one.
func drainSizes(above quantity.PipeSize) []string {
	var texts []string
	for p := above.Next(); p.Known(); p = p.Next() {
		if p.DN() > 0 {
			texts = append(texts, p.String())
		}
	}
	return texts
}

// noReceptor is why a check of the receptor doesn't arise.
func noReceptor(c *Case) string {
	if ask.Drain.Receptor.Of(c) == "none" {
		return "there is no receptor yet; see D-02"
	}
	return ""
}

// gravityOnly is why a check of a falling line doesn't arise.
func gravityOnly(c *Case) string {
	if c.Machine.Drain.Kind == "pump" {
		return "the machine pumps its waste out through a hose"
	}
	return ""
}

// DrainConnection asks for an air gap between machine and sewer.
var DrainConnection = &Check{
	ID:      "D-01",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "how the drain line ends at the receptor",
	Why:     "A washer joined straight to the sewer takes sewage back into its tank when the drain backs up. The drain line must end above a receptor.",
	Sources: []trade.Source{washerWaste, trade.IPC802_1},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Connection.Path(): "direct"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Connection); lacks {
			return out
		}
		want, at := any(check.Say("D-01.want")), ask.Drain.Connection
		switch ask.Drain.Connection.Of(c) {
		case "direct":
			return check.Choice(false, check.Say("D-01.have"), want, check.Say("D-01.do"), at)
		case "air-break":
			return check.Rule(check.Say("D-01.have2"), want, check.Say("D-01.do2"), at)
		}
		return check.Choice(true, check.Say("D-01.want"), want, check.Phrase{}, at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d, set, size := ask.Drain, map[string]string{}, any(check.Say("D-01.size"))
		if d.Size.Of(c).Known() && d.AirGap.Of(c).Known() {
			bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
			if gap := roomyGap(bore); d.AirGap.Of(c).In(quantity.Inch) < gap {
				set[ask.Drain.AirGap.Path()] = quantity.Inch.Write(gap)
				size = check.Say("D-01.more", "before", size, "gap", drainIn(gap))
			}
		}
		return c.Offer(k, ask.Drain.Connection, []string{"air-gap"}, set, func(any) any {
			return check.Say("D-01.way", "size", size)
		})
	},
}

// DrainLineSize keeps the drain line at least as large as the machine's outlet.
var DrainLineSize = &Check{
	ID:      "D-05",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "size of the drain line against the machine's outlet",
	Why:     "A line smaller than the outlet runs full, drains slowly and blocks at the step.",
	Sources: []trade.Source{sheet, indirectSize},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Size.Path(): "1-1/4 in"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		want := c.Machine.Drain.OutletSize
		if !want.Known() {
			return c.Silent(check.Say("D-05.sheet"))
		}
		if out, lacks := c.Lacking(ask.Drain.Size); lacks {
			return out
		}
		have := ask.Drain.Size.Of(c)
		out := check.Choice(have.Cmp(want) >= 0, have, check.Say("D-05.want", "want", want),
			check.Say("D-05.do", "want", want), ask.Drain.Size)
		return c.OnSheet(out, "drain.outlet_size")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainLarger(c, k)
	},
}

// drainLarger offers larger drain lines: the first that cures the check, and
// the same with an air gap to suit, where the one that was stated is too small for it.
func drainLarger(c *Case, k *Check) []Remedy {
	d := ask.Drain
	size, ok := c.First(k, ask.Drain.Size, drainSizes(d.Size.Of(c)), nil)
	if !ok {
		return nil
	}
	p := quantity.MustParse[quantity.PipeSize](size)
	set, change := map[string]string{ask.Drain.Size.Path(): size}, any(check.Say("drain-larger.change", "p", p))
	bore, _ := drainBore(d.Material.Of(c), p)
	if gap := roomyGap(bore); d.AirGap.Of(c).Known() && d.AirGap.Of(c).In(quantity.Inch) < gap {
		set[ask.Drain.AirGap.Path()] = quantity.Inch.Write(gap)
		change = check.Say("drain-larger.more", "before", change, "gap", drainIn(gap))
	}
	return []Remedy{{Change: change, Set: set}}
}

// DrainCleanouts asks for a cleanout where the line turns.
var DrainCleanouts = &Check{
	ID:      "D-19",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "cleanouts where the drain line changes direction",
	Why:     "Glass chips, labels and scale gather at turns; without a cleanout the line must be cut to be cleared.",
	Sources: []trade.Source{cleanoutRule},
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{ask.Drain.Cleanouts.Path(): "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if e := ask.Drain.Elbows.Of(c); e.Known() && e.N() == 0 {
			return "the drain line turns nowhere"
		}
		return gravityOnly(c)
	},
	Run: func(c *Case) Outcome {
		if ask.Drain.Cleanouts.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("D-19.have"), check.Say("D-19.want"), check.Phrase{}, ask.Drain.Cleanouts)
		}
		if out, lacks := c.Lacking(ask.Drain.Elbows, ask.Drain.Cleanouts, ask.Codes.Plumbing); lacks {
			return out
		}
		have := any(check.Say("D-19.have2", "elbows", ask.Drain.Elbows.Of(c).N()))
		want, action := any(check.Say("D-19.want")), any(check.Say("D-19.action", "elbows", ask.Drain.Elbows.Of(c).N()))
		at := []survey.Ref{ask.Drain.Elbows, ask.Drain.Cleanouts}
		if drainFamily(c) == trade.UPC {
			return check.Choice(false, have, want, action, at...)
		}
		return check.Rule(have, want, check.Say("D-19.do", "action", action), at...)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return append(c.Offer(k, ask.Drain.Cleanouts, []string{"yes"}, nil, func(any) any {
			return check.Say("D-19.way")
		}), c.Offer(k, ask.Drain.Elbows, []string{"0"}, nil, func(any) any {
			return check.Say("D-19.way2")
		})...)
	},
}

// DrainSteady asks for a line that falls all the way.
var DrainSteady = &Check{
	ID:      "D-20",
	Trade:   Plumber,
	Stage:   BeforeStart,
	Title:   "drain line without a sag or a rise",
	Why:     "A sag holds dirty water and works as a trap without a vent; a rise above the outlet leaves that depth of water in the tank.",
	Sources: []trade.Source{trade.HoseSag},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Steady.Path(): "no"}, Verdict: Fix},
	Applies: gravityOnly,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Steady); lacks {
			return out
		}
		return check.Choice(ask.Drain.Steady.Of(c) == survey.Yes, check.Say("D-20.have", "steady", ask.Drain.Steady.Of(c)), check.Say("D-20.want"),
			check.Say("D-20.do"), ask.Drain.Steady)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Steady, []string{"yes"}, nil, func(any) any {
			return check.Say("D-20.way")
		})
	},
}
