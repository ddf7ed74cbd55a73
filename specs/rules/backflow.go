package rules

import (
	"firstfill/specs/check"
	"math"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// inletCheckValve sees the check valve that the sheet asks for.
func inletCheckValve(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   "check valve on the " + string(line) + " line",
		Why:     "Where hot and cold meet at a valve the stronger supply pushes into the weaker; a check valve at the machine stops it. It is no backflow preventer.",
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().CheckValve.Path(): "no"}, Verdict: Fix},
		Applies: func(c *Case) string {
			if why := line.unused(c); why != "" {
				return why
			}
			if _, inlet := line.of(c); !inlet.CheckValve {
				return "the requirement sheet asks for no check valve on the " + string(line) + " line"
			}
			return ""
		},
		Run: func(c *Case) Outcome {
			found, _ := line.of(c)
			out := yes(c, line.ask().CheckValve, found.CheckValve.Of(c), check.Say("inlet-check-valve.arg", "line", check.Quote(line)))
			if out.Verdict == Fix {
				out.Have = check.FactOf(check.Say("inlet-check-valve.do", "bothpressures", bothPressures(c)))
			}
			return c.OnSheet(out, line.at("check_valve"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.Offer(k, line.ask().CheckValve, []string{"yes"}, nil, func(any) any { return check.Say("inlet-check-valve.way", "line", check.Quote(line)) })
		},
	}
}

// yes judges a question that wants yes.
func yes(c *Case, path survey.Ref, answer survey.YesNo, action any) Outcome {
	if out, lacks := c.Lacking(path); lacks {
		return out
	}
	return check.Choice(answer == survey.Yes, answer, check.Say("yes.want", "question", check.Question(path.Path())), action, path)
}

// PressureBalance compares hot and cold pressure at the mixing valve.
var PressureBalance = &Check{
	ID:      "W-27",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "hot and cold pressure against each other",
	Why:     "Far apart, they disturb the mix: the rinse swings whenever something else runs, and a leaking check valve lets one into the other.",
	Formula: "δ = |p_h − p_c| / the higher; static pressures in psi",
	Range:   "a team rule without a published limit",
	Sources: []trade.Source{trade.PressureDiff},
	After:   []*Check{ColdStaticMax, HotStaticMax, ColdBuilding, HotBuilding},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Static.Path(): "60 ± 0 psi", ask.Water.Hot.Static.Path(): "45 ± 0 psi", ask.Water.Cold.Regulator.Path(): "0 psi", ask.Water.Hot.Regulator.Path(): "0 psi"}, Verdict: Confirm, Shows: "δ = 25.0 %"},
	Applies: func(c *Case) string {
		if !c.Machine.Water.MixValve {
			return "the machine mixes no hot and cold water"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Cold.Static, ask.Water.Hot.Static); lacks {
			return out
		}
		w := ask.Water
		cold, hot := regulated(w.Cold.Static.Of(c), w.Cold.Regulator.Of(c)), regulated(w.Hot.Static.Of(c), w.Hot.Regulator.Of(c))
		apart := trade.PressureImbalance(hot.In(quantity.PSI), cold.In(quantity.PSI))
		if math.IsNaN(apart) {
			return check.Rule(check.Say("W-27.have", "hot", hot, "cold", cold), check.Say("W-27.want"), check.Say("W-27.do"), ask.Water.Cold.Static, ask.Water.Hot.Static)
		}
		out := check.Choice(apart <= trade.PressureImbalanceLimit, check.Say("W-27.have2", "hot", hot, "cold", cold, "apart", check.Share(apart)), check.Say("W-27.want2", "pressureimbalancelimit", check.Share(trade.PressureImbalanceLimit)),
			check.Phrase{}, ask.Water.Cold.Static, ask.Water.Hot.Static)
		out.Margin = Margin{Gap: check.Share(math.Abs(trade.PressureImbalanceLimit - apart)), Side: check.Say("margin.below-flag"), Value: trade.PressureImbalanceLimit - apart}
		if out.Verdict == Fix {
			out.Verdict = Confirm
			out.Margin.Gap, out.Margin.Side = check.Share(apart-trade.PressureImbalanceLimit), check.Say("margin.over-flag")
			higher, target := any(check.Say("W-27.higher")), hot
			if hot.Cmp(cold) > 0 {
				higher, target = check.Say("W-27.higher2"), cold
			}
			out.Action = check.PhraseOf(check.Say("W-27.do2", "higher", higher, "round", psi(math.Round(target.In(quantity.PSI)))))
		}
		out.Working = []Step{{"p_c", check.Say("W-27.step"), cold}, {"p_h", check.Say("W-27.step2"), hot},
			{"δ", check.Say("W-27.step3"), check.Share(apart)}, {"δ_max", check.Say("W-27.step4"), check.Share(trade.PressureImbalanceLimit)}}
		return out
	},
}

// backflowStandards gives the standard of each device of the questionnaire.
var backflowStandards = map[string]string{
	"air-gap": "ASME A112.1.2", "atmospheric-vacuum-breaker": "ASSE 1001", "hose-vacuum-breaker": "ASSE 1011",
	"pressure-vacuum-breaker": "ASSE 1020", "spill-resistant-vacuum-breaker": "ASSE 1056", "reduced-pressure": "ASSE 1013",
	"double-check": "ASSE 1015", "dual-check": "ASSE 1024", "intermediate-vent": "ASSE 1012",
}

// backflowDevice sees that a line is protected against backflow from the
// machine. A check valve never counts.
func backflowDevice(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   "backflow protection of the " + string(line) + " line",
		Why:     "Detergent and sanitizer must never get back into the drinking water. A check valve, or two in line, isn't listed for that.",
		Sources: []trade.Source{trade.IPC409_2, trade.ASSE1004, trade.IPC608_1},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Backflow.Path(): "check-valve"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			path := line.ask().Backflow
			const want = "an air gap or a backflow preventer listed for a machine with chemicals"
			if c.Machine.Water.AirGap == "verified" {
				out := check.Choice(true, check.Say("backflow-device.have"), check.Say("backflow-device.want"), check.Phrase{}, path)
				return c.OnSheet(out, "water.built_in_air_gap")
			}
			if out, lacks := c.Lacking(path); lacks {
				return out
			}
			found, _ := line.of(c)
			fit := any(check.Say("backflow-device.fit", "line", check.Quote(line)))
			switch found.Backflow.Of(c) {
			case "none":
				return check.Choice(false, check.Say("backflow-device.have2"), check.Say("backflow-device.want2"), fit, path)
			case "check-valve":
				return check.Choice(false, check.Say("backflow-device.have3"), check.Say("backflow-device.want2"), fit, path)
			}
			d, err := trade.FindBackflowDevice(backflowStandards[found.Backflow.Of(c)])
			if err != nil {
				return check.Rule(check.Word(found.Backflow.Of(c)), check.Say("backflow-device.want2"), check.Say("backflow-device.do"), path)
			}
			name := any(check.Say("backflow-device.name", "name", check.Quote(d.Name), "standard", check.Quote(d.Standard)))
			var out Outcome
			switch {
			case !d.HighHazard:
				out = check.Rule(check.Say("backflow-device.have4", "name", name), check.Say("backflow-device.want2"), check.Say("backflow-device.do2"), path)
			case !d.ContinuousPressure && found.Backflow.Of(c) != "air-gap":
				out = check.Rule(check.Say("backflow-device.have5", "name", name), check.Say("backflow-device.want2"), check.Say("backflow-device.do3"), path)
			default:
				out = check.Choice(true, name, check.Say("backflow-device.want2"), check.Phrase{}, path)
			}
			out.Working = []Step{
				{"device", check.Say("backflow-device.step"), name},
				{"hazard", check.Say("backflow-device.step2", "source", d.Source), pick(d.HighHazard, check.Say("backflow-device.value"), check.Say("backflow-device.value2"))},
				{"list", check.Say("backflow-device.step3", "asse1004", trade.ASSE1004), pick(d.CommercialWasher, check.Say("backflow-device.value3"), check.Say("backflow-device.value4"))},
			}
			if d.Testable {
				out.Working = append(out.Working, Step{"test", check.Say("backflow-device.step4"), check.Say("backflow-device.value5")})
			}
			return out
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			found, _ := line.of(c)
			var rs []Remedy
			for _, d := range []struct {
				answer, name string
				lossPSI      float64
			}{{"spill-resistant-vacuum-breaker", "spill-resistant vacuum breaker (ASSE 1056)", 5}, {"reduced-pressure", "reduced-pressure assembly (ASSE 1013) with a drain for its relief port", 12}} {
				set := map[string]string{}
				loss := any(check.Phrase{})
				if found.DeviceLoss.Of(c).Known() {
					set[line.ask().DeviceLoss.Path()] = quantity.PSI.Write(found.DeviceLoss.Of(c).In(quantity.PSI) + d.lossPSI)
					loss = check.Say("backflow-device.loss", "losspsi", psi(d.lossPSI))
				}
				rs = append(rs, c.Offer(k, line.ask().Backflow, []string{d.answer}, set, func(any) any {
					return check.Say("backflow-device.way", "name", check.Word(d.name), "line", check.Quote(line), "loss", loss)
				})...)
			}
			return rs
		},
	}
}

// ThermalExpansion sees that a closed system has room for water that expands.
var ThermalExpansion = &Check{
	ID:      "W-30",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "thermal expansion in a closed system",
	Why:     "Water that is heated behind a check valve has nowhere to go: pressure climbs until the relief valve drips or something bursts.",
	Formula: "ΔV = V (ρ_cold / ρ_hot − 1); gal",
	Sources: []trade.Source{trade.IPC607_3, trade.UPC608_3, trade.IAPWSIF97},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Closed.Path(): "yes", ask.Water.Expansion.Path(): "no", ask.Heater.Storage.Path(): "40 gal", ask.Heater.SetPoint.Path(): "140 °F", ask.Water.Cold.Winter.Path(): "90 ± 0 °F"}, Verdict: Fix, Shows: "ΔV = 0.48 gal"},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Water.Closed); lacks {
			return out
		}
		if ask.Water.Closed.Of(c) != survey.Yes {
			return check.Choice(true, check.Say("W-30.have"), check.Say("W-30.want"), check.Phrase{}, ask.Water.Closed)
		}
		out := yes(c, ask.Water.Expansion, ask.Water.Expansion.Of(c), check.Say("W-30.arg"))
		if out.Verdict == Missing {
			return out
		}
		out.At = []survey.Ref{ask.Water.Closed, ask.Water.Expansion}
		h, cold := ask.Heater, ask.Water.Cold.Winter.Of(c)
		if grows := trade.ExpansionGal(h.Storage.Of(c).In(quantity.Gallon), cold.In(quantity.Fahrenheit), h.SetPoint.Of(c).In(quantity.Fahrenheit)); grows > 0 {
			out.Working = []Step{{"V", check.Say("W-30.step"), h.Storage.Of(c)}, {"t", check.Say("W-30.step2"), check.Say("W-30.value", "cold", cold, "setpoint", h.SetPoint.Of(c))}, {"ΔV", check.Say("W-30.step3"), check.Figure{Value: grows, Decimals: 2, Unit: "gal"}}}
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Expansion, []string{"yes"}, nil, func(any) any {
			return check.Say("W-30.way")
		})
	},
}

// HammerArrester sees that quick-closing valves have arresters.
var HammerArrester = &Check{
	ID:      "W-31",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "water-hammer arresters",
	Why:     "The machine's valves shut in an instant; the water's momentum hammers pipes and wears joints.",
	Sources: []trade.Source{trade.IPC604_9, sheet},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Arrester.Path(): "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if !c.Machine.Water.QuickValves {
			return "the machine has no quick-closing valves"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		return yes(c, ask.Water.Arrester, ask.Water.Arrester.Of(c), check.Say("W-31.arg", "waterhammerarrester", check.Quote(trade.WaterHammerArrester)))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Arrester, []string{"yes"}, nil, func(any) any {
			return check.Say("W-31.arg", "waterhammerarrester", check.Quote(trade.WaterHammerArrester))
		})
	},
}

// accessPractice is the source of shut-off valves and hoses.
var accessPractice = trade.Source{Document: "Shut-off valves and hoses", Mark: trade.CommonPractice}

// supplyShutOff sees that a line can be shut off at the machine.
func supplyShutOff(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   "shut-off on the " + string(line) + " line",
		Why:     "Without one within reach a burst hose floods the bar, and every service shuts down the building.",
		Sources: []trade.Source{accessPractice},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().ShutOff.Path(): "no"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			found, _ := line.of(c)
			return yes(c, line.ask().ShutOff, found.ShutOff.Of(c), check.Say("supply-shut-off.arg", "line", check.Quote(line)))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.Offer(k, line.ask().ShutOff, []string{"yes"}, nil, func(any) any {
				return check.Say("supply-shut-off.way", "line", check.Quote(line))
			})
		},
	}
}

// supplyThread compares the connection's thread with the machine's.
func supplyThread(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   "thread of the " + string(line) + " connection",
		Why:     "Hose, pipe and parallel threads of one nominal size don't make up; forced together they leak.",
		Sources: []trade.Source{sheet, trade.HoseThread},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().Thread.Path(): "3/4 NPT"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.Connection != "" }, "thread"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(line.ask().Thread); lacks {
				return out
			}
			found, inlet := line.of(c)
			have := found.Thread.Of(c)
			action := any(check.Say("supply-thread.action", "line", check.Quote(line), "connection", check.Quote(inlet.Connection), "have", check.Quote(have)))
			if have == "none" {
				have, action = "no connection yet", check.Say("supply-thread.action2", "line", check.Quote(line), "connection", check.Quote(inlet.Connection))
			}
			out := check.Choice(found.Thread.Of(c) == inlet.Connection, check.Quote(have), check.Quote(inlet.Connection), action, line.ask().Thread)
			return c.OnSheet(out, line.at("connection"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			return c.Offer(k, line.ask().Thread, []string{inlet.Connection}, nil, func(v any) any {
				return check.Say("supply-thread.way", "line", check.Quote(line), "v", v)
			})
		},
	}
}

// supplyHose sees that the machine's hose reaches its connection.
func supplyHose(id string, line waterLine) *Check {
	return &Check{
		ID:      id,
		Trade:   Plumber,
		Stage:   RoughIn,
		Title:   "reach of the " + string(line) + " hose",
		Why:     "A hose that is stretched or joined to another is what bursts; the connection must lie within its length.",
		Sources: []trade.Source{sheet},
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.ask().HoseRun.Path(): "9 ft"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.HoseLength.Known() }, "length of hose"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.Lacking(line.ask().HoseRun); lacks {
				return out
			}
			found, inlet := line.of(c)
			out := check.UpTo(found.HoseRun.Of(c), inlet.HoseLength,
				check.Say("supply-hose.do", "line", check.Quote(line), "hoselength", inlet.HoseLength), line.ask().HoseRun)
			return c.OnSheet(out, line.at("hose_length"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			top := math.Floor(inlet.HoseLength.In(quantity.Inch)/6) * 6
			return c.Offer(k, line.ask().HoseRun, check.Ladder(top, 12, 6, quantity.Inch), nil, func(v any) any {
				return check.Say("supply-hose.way", "line", check.Quote(line), "inch", written(quantity.Inch, v))
			})
		},
	}
}

// bothPressures tells the pressures that meet at the mixing valve.
func bothPressures(c *Case) any {
	tell := func(p quantity.Pressure) string {
		if !p.Known() {
			return "not known"
		}
		return show(c, p)
	}
	return check.Say("both-pressures.is", "tell", check.Quote(tell(ask.Water.Hot.Static.Of(c))), "tell2", check.Quote(tell(ask.Water.Cold.Static.Of(c))))
}
