package rules

import (
	"firstfill/specs/check"
	"fmt"
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
			out := yes(c, line.ask().CheckValve, found.CheckValve.Of(c), fmt.Sprintf("fit a check valve on the %s line close to the machine; it doesn't count as backflow protection", line))
			if out.Verdict == Fix {
				out.Have = check.FactOf("none; " + bothPressures(c))
			}
			return c.OnSheet(out, line.at("check_valve"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.Offer(k, line.ask().CheckValve, []string{"yes"}, nil, func(string) any { return fmt.Sprintf("fit a check valve on the %s line close to the machine", line) })
		},
	}
}

// yes judges a question that wants yes.
func yes(c *Case, path survey.Ref, answer survey.YesNo, action string) Outcome {
	if out, lacks := c.Lacking(path); lacks {
		return out
	}
	return check.Choice(answer == survey.Yes, answer.String(), "yes: "+survey.Question(path.Path()), action, path)
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
			return check.Rule(show(c, hot)+" hot, "+show(c, cold)+" cold", "both pressures above 0", "read both pressures again", ask.Water.Cold.Static, ask.Water.Hot.Static)
		}
		out := check.Choice(apart <= trade.PressureImbalanceLimit, fmt.Sprintf("%s hot, %s cold: %s apart", show(c, hot), show(c, cold), percent(apart)), "at most "+percent(trade.PressureImbalanceLimit)+" apart",
			"", ask.Water.Cold.Static, ask.Water.Hot.Static)
		out.Margin = Margin{Text: percent(math.Abs(trade.PressureImbalanceLimit-apart)) + " below the level to flag", Value: trade.PressureImbalanceLimit - apart}
		if out.Verdict == Fix {
			out.Verdict = Confirm
			out.Margin.Text = percent(apart-trade.PressureImbalanceLimit) + " over the level to flag"
			higher, target := coldLine, hot
			if hot.Cmp(cold) > 0 {
				higher, target = hotLine, cold
			}
			out.Action = check.PhraseOf(fmt.Sprintf("let the plumber bring both pressures together, for example with a regulator on the %s line set to %s, or confirm that the mixing valve bears the difference", higher, show(c, psi(math.Round(target.In(quantity.PSI))))))
		}
		out.Working = []Step{{"p_c", "cold static pressure at the machine", show(c, cold)}, {"p_h", "hot static pressure at the machine", show(c, hot)},
			{"δ", "apart, as a share of the higher", percent(apart)}, {"δ_max", "level to flag", percent(trade.PressureImbalanceLimit)}}
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
				out := check.Choice(true, "air gap built into the machine, verified", want+"; ask the authority whether it wants more", "", path)
				return c.OnSheet(out, "water.built_in_air_gap")
			}
			if out, lacks := c.Lacking(path); lacks {
				return out
			}
			found, _ := line.of(c)
			fit := fmt.Sprintf("fit a listed backflow preventer on the %s line that the authority accepts for a machine with detergent and sanitizer, and a drain for its relief port; should it stand before the water heater too, the system is closed and needs thermal-expansion control", line)
			switch found.Backflow.Of(c) {
			case "none":
				return check.Choice(false, "none, and no verified air gap in the machine", want, fit, path)
			case "check-valve":
				return check.Choice(false, "a check valve, which is no backflow preventer", want, fit, path)
			}
			d, err := trade.FindBackflowDevice(backflowStandards[found.Backflow.Of(c)])
			if err != nil {
				return check.Rule(found.Backflow.Of(c), want, "ask the authority whether it accepts this device for a machine with chemicals", path)
			}
			name := d.Name + " (" + d.Standard + ")"
			var out Outcome
			switch {
			case !d.HighHazard:
				out = check.Rule(name+", for low hazard", want, "ask the authority: this device is for low hazard and not on the list for commercial washing machines; detergent and sanitizer may count as high hazard", path)
			case !d.ContinuousPressure && found.Backflow.Of(c) != "air-gap":
				out = check.Rule(name+", not for continuous pressure", want, "ask the authority: this device must stand downstream of the last valve, the machine's own included, and above its flood rim, which a supply line seldom allows", path)
			default:
				out = check.Choice(true, name, want, "", path)
			}
			out.Working = []Step{
				{"device", "as labelled", name},
				{"hazard", "accepted for (" + d.Source.String() + ")", map[bool]string{true: "high and low", false: "low"}[d.HighHazard]},
				{"list", "listed for commercial washing machines (" + trade.ASSE1004.String() + ")", map[bool]string{true: "yes", false: "no: by the code's own table"}[d.CommercialWasher]},
			}
			if d.Testable {
				out.Working = append(out.Working, Step{"test", "by a certified tester", "at installation, after repair, yearly"})
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
				loss := ""
				if found.DeviceLoss.Of(c).Known() {
					set[line.ask().DeviceLoss.Path()] = quantity.PSI.Write(found.DeviceLoss.Of(c).In(quantity.PSI) + d.lossPSI)
					loss = "; allow " + show(c, psi(d.lossPSI)) + " for its loss until its own curve is at hand (assumed)"
				}
				rs = append(rs, c.Offer(k, line.ask().Backflow, []string{d.answer}, set, func(string) any {
					return fmt.Sprintf("fit a listed %s on the %s line, if the authority accepts it%s", d.name, line, loss)
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
			return check.Choice(true, "an open system: nothing between the main and the heater holds water back", "room for the water that expands", "", ask.Water.Closed)
		}
		out := yes(c, ask.Water.Expansion, ask.Water.Expansion.Of(c), "fit thermal-expansion control (an expansion tank sized by the plumber) on the water heater's cold line, downstream of every check valve, regulator and backflow preventer")
		if out.Verdict == Missing {
			return out
		}
		out.At = []survey.Ref{ask.Water.Closed, ask.Water.Expansion}
		h, cold := ask.Heater, ask.Water.Cold.Winter.Of(c)
		if grows := trade.ExpansionGal(h.Storage.Of(c).In(quantity.Gallon), cold.In(quantity.Fahrenheit), h.SetPoint.Of(c).In(quantity.Fahrenheit)); grows > 0 {
			out.Working = []Step{{"V", "storage", show(c, h.Storage.Of(c))}, {"t", "from the coldest water to the set point", show(c, cold) + " to " + show(c, h.SetPoint.Of(c))}, {"ΔV", "by which it grows", number(grows, 2) + " gal"}}
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Expansion, []string{"yes"}, nil, func(string) any {
			return "fit an expansion tank, sized by the plumber, on the water heater's cold line"
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
		return yes(c, ask.Water.Arrester, ask.Water.Arrester.Of(c), "fit an "+trade.WaterHammerArrester+" water-hammer arrester on each supply close to the machine")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Water.Arrester, []string{"yes"}, nil, func(string) any {
			return "fit an " + trade.WaterHammerArrester + " water-hammer arrester on each supply close to the machine"
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
			return yes(c, line.ask().ShutOff, found.ShutOff.Of(c), fmt.Sprintf("fit a full-bore shut-off valve on the %s line within reach of the machine, with a strainer behind it", line))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.Offer(k, line.ask().ShutOff, []string{"yes"}, nil, func(string) any {
				return fmt.Sprintf("fit a full-bore shut-off valve on the %s line within reach of the machine", line)
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
			action := fmt.Sprintf("end the %s line in a valve with a %s outlet, or fit an adapter from %s to %s", line, inlet.Connection, have, inlet.Connection)
			if have == "none" {
				have, action = "no connection yet", fmt.Sprintf("bring the %s line to the machine and end it in a valve with a %s outlet", line, inlet.Connection)
			}
			out := check.Choice(found.Thread.Of(c) == inlet.Connection, have, inlet.Connection, action, line.ask().Thread)
			return c.OnSheet(out, line.at("connection"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			return c.Offer(k, line.ask().Thread, []string{inlet.Connection}, nil, func(v string) any {
				return fmt.Sprintf("end the %s line in a valve with a %s outlet", line, v)
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
				fmt.Sprintf("bring the %s connection to within %s of the machine's inlet, along the hose; don't join hoses", line, show(c, inlet.HoseLength)), line.ask().HoseRun)
			return c.OnSheet(out, line.at("hose_length"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			top := math.Floor(inlet.HoseLength.In(quantity.Inch)/6) * 6
			return c.Offer(k, line.ask().HoseRun, check.Ladder(top, 12, 6, quantity.Inch), nil, func(v string) any {
				return fmt.Sprintf("move the %s connection to within %s of the machine's inlet, along the hose", line, shown(c, quantity.Inch, v))
			})
		},
	}
}

// bothPressures tells the pressures that meet at the mixing valve.
func bothPressures(c *Case) string {
	tell := func(p quantity.Pressure) string {
		if !p.Known() {
			return "not known"
		}
		return show(c, p)
	}
	return "hot " + tell(ask.Water.Hot.Static.Of(c)) + ", cold " + tell(ask.Water.Cold.Static.Of(c))
}
