package rules

import (
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
		Uses:    line.paths("check_valve"), // the pressures are only told, and can't change the verdict
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("check_valve"): "no"}, Verdict: Fix},
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
			out := yes(c, line.at("check_valve"), found.CheckValve, fmt.Sprintf("fit a check valve on the %s line close to the machine; it doesn't count as backflow protection", line))
			if out.Verdict == Fix {
				out.Have = "none; " + bothPressures(c)
			}
			return c.onSheet(out, line.at("check_valve"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.offer(k, line.at("check_valve"), []string{"yes"}, nil, func(string) string { return fmt.Sprintf("fit a check valve on the %s line close to the machine", line) })
		},
	}
}

// yes judges a question that wants yes.
func yes(c *Case, path string, answer survey.YesNo, action string) Outcome {
	if out, lacks := c.lacking(path); lacks {
		return out
	}
	return choice(answer == survey.Yes, answer.String(), "yes: "+survey.Question(path), action, path)
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
	Uses:    []string{"water.cold.static_pressure", "water.hot.static_pressure", "water.cold.regulator", "water.hot.regulator"},
	After:   []string{"W-01", "W-02", "W-03", "W-04"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.cold.static_pressure": "60 ± 0 psi", "water.hot.static_pressure": "45 ± 0 psi", "water.cold.regulator": "0 psi", "water.hot.regulator": "0 psi"}, Verdict: Confirm, Shows: "δ = 25.0 %"},
	Applies: func(c *Case) string {
		if !c.Machine.Water.MixValve {
			return "the machine mixes no hot and cold water"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("water.cold.static_pressure", "water.hot.static_pressure"); lacks {
			return out
		}
		w := c.Survey.Water
		cold, hot := regulated(w.Cold.Static, w.Cold.Regulator), regulated(w.Hot.Static, w.Hot.Regulator)
		apart := trade.PressureImbalance(hot.In(quantity.PSI), cold.In(quantity.PSI))
		if math.IsNaN(apart) {
			return ask(show(c, hot)+" hot, "+show(c, cold)+" cold", "both pressures above 0", "read both pressures again", "water.cold.static_pressure", "water.hot.static_pressure")
		}
		out := choice(apart <= trade.PressureImbalanceLimit, fmt.Sprintf("%s hot, %s cold: %s apart", show(c, hot), show(c, cold), percent(apart)), "at most "+percent(trade.PressureImbalanceLimit)+" apart",
			"", "water.cold.static_pressure", "water.hot.static_pressure")
		out.Margin = Margin{Text: percent(math.Abs(trade.PressureImbalanceLimit-apart)) + " below the level to flag", Value: trade.PressureImbalanceLimit - apart}
		if out.Verdict == Fix {
			out.Verdict = Confirm
			out.Margin.Text = percent(apart-trade.PressureImbalanceLimit) + " over the level to flag"
			higher, target := coldLine, hot
			if hot.Cmp(cold) > 0 {
				higher, target = hotLine, cold
			}
			out.Action = fmt.Sprintf("let the plumber bring both pressures together, for example with a regulator on the %s line set to %s, or confirm that the mixing valve bears the difference", higher, show(c, psi(math.Round(target.In(quantity.PSI)))))
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
		Uses:    line.paths("backflow"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("backflow"): "check-valve"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			path := line.at("backflow")
			const want = "an air gap or a backflow preventer listed for a machine with chemicals"
			if c.Machine.Water.AirGap == "verified" {
				out := choice(true, "air gap built into the machine, verified", want+"; ask the authority whether it wants more", "", path)
				return c.onSheet(out, "water.built_in_air_gap")
			}
			if out, lacks := c.lacking(path); lacks {
				return out
			}
			found, _ := line.of(c)
			fit := fmt.Sprintf("fit a listed backflow preventer on the %s line that the authority accepts for a machine with detergent and sanitizer, and a drain for its relief port; should it stand before the water heater too, the system is closed and needs thermal-expansion control", line)
			switch found.Backflow {
			case "none":
				return choice(false, "none, and no verified air gap in the machine", want, fit, path)
			case "check-valve":
				return choice(false, "a check valve, which is no backflow preventer", want, fit, path)
			}
			d, err := trade.FindBackflowDevice(backflowStandards[found.Backflow])
			if err != nil {
				return ask(found.Backflow, want, "ask the authority whether it accepts this device for a machine with chemicals", path)
			}
			name := d.Name + " (" + d.Standard + ")"
			var out Outcome
			switch {
			case !d.HighHazard:
				out = ask(name+", for low hazard", want, "ask the authority: this device is for low hazard and not on the list for commercial washing machines; detergent and sanitizer may count as high hazard", path)
			case !d.ContinuousPressure && found.Backflow != "air-gap":
				out = ask(name+", not for continuous pressure", want, "ask the authority: this device must stand downstream of the last valve, the machine's own included, and above its flood rim, which a supply line seldom allows", path)
			default:
				out = choice(true, name, want, "", path)
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
				if found.DeviceLoss.Known() {
					set[line.at("device_loss")] = quantity.PSI.Write(found.DeviceLoss.In(quantity.PSI) + d.lossPSI)
					loss = "; allow " + show(c, psi(d.lossPSI)) + " for its loss until its own curve is at hand (assumed)"
				}
				rs = append(rs, c.offer(k, line.at("backflow"), []string{d.answer}, set, func(string) string {
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
	Uses:    []string{"water.closed_system", "water.expansion_tank", "heater.storage", "heater.set_point", "water.cold.winter_temperature"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.closed_system": "yes", "water.expansion_tank": "no", "heater.storage": "40 gal", "heater.set_point": "140 °F", "water.cold.winter_temperature": "90 ± 0 °F"}, Verdict: Fix, Shows: "ΔV = 0.48 gal"},
	Applies: hotLine.unused,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("water.closed_system"); lacks {
			return out
		}
		if c.Survey.Water.Closed != survey.Yes {
			return choice(true, "an open system: nothing between the main and the heater holds water back", "room for the water that expands", "", "water.closed_system")
		}
		out := yes(c, "water.expansion_tank", c.Survey.Water.Expansion, "fit thermal-expansion control (an expansion tank sized by the plumber) on the water heater's cold line, downstream of every check valve, regulator and backflow preventer")
		if out.Verdict == Missing {
			return out
		}
		out.At = []string{"water.closed_system", "water.expansion_tank"}
		h, cold := c.Survey.Heater, c.Survey.Water.Cold.Winter
		if grows := trade.ExpansionGal(h.Storage.In(quantity.Gallon), cold.In(quantity.Fahrenheit), h.SetPoint.In(quantity.Fahrenheit)); grows > 0 {
			out.Working = []Step{{"V", "storage", show(c, h.Storage)}, {"t", "from the coldest water to the set point", show(c, cold) + " to " + show(c, h.SetPoint)}, {"ΔV", "by which it grows", number(grows, 2) + " gal"}}
		}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "water.expansion_tank", []string{"yes"}, nil, func(string) string {
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
	Uses:    []string{"water.hammer_arrester"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"water.hammer_arrester": "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		if !c.Machine.Water.QuickValves {
			return "the machine has no quick-closing valves"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		return yes(c, "water.hammer_arrester", c.Survey.Water.Arrester, "fit an "+trade.WaterHammerArrester+" water-hammer arrester on each supply close to the machine")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "water.hammer_arrester", []string{"yes"}, nil, func(string) string {
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
		Uses:    line.paths("shut_off"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("shut_off"): "no"}, Verdict: Fix},
		Applies: line.unused,
		Run: func(c *Case) Outcome {
			found, _ := line.of(c)
			return yes(c, line.at("shut_off"), found.ShutOff, fmt.Sprintf("fit a full-bore shut-off valve on the %s line within reach of the machine, with a strainer behind it", line))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			return c.offer(k, line.at("shut_off"), []string{"yes"}, nil, func(string) string {
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
		Uses:    line.paths("connection"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("connection"): "3/4 NPT"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.Connection != "" }, "thread"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.at("connection")); lacks {
				return out
			}
			found, inlet := line.of(c)
			have := found.Thread
			action := fmt.Sprintf("end the %s line in a valve with a %s outlet, or fit an adapter from %s to %s", line, inlet.Connection, have, inlet.Connection)
			if have == "none" {
				have, action = "no connection yet", fmt.Sprintf("bring the %s line to the machine and end it in a valve with a %s outlet", line, inlet.Connection)
			}
			out := choice(found.Thread == inlet.Connection, have, inlet.Connection, action, line.at("connection"))
			return c.onSheet(out, line.at("connection"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			return c.offer(k, line.at("connection"), []string{inlet.Connection}, nil, func(v string) string {
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
		Uses:    line.paths("hose_distance"),
		Example: Example{Machine: "avocet-r36", Given: map[string]string{line.at("hose_distance"): "9 ft"}, Verdict: Fix},
		Applies: line.needs(func(i *specs.Inlet) bool { return i.HoseLength.Known() }, "length of hose"),
		Run: func(c *Case) Outcome {
			if out, lacks := c.lacking(line.at("hose_distance")); lacks {
				return out
			}
			found, inlet := line.of(c)
			out := atMost(c, found.HoseRun, inlet.HoseLength,
				fmt.Sprintf("bring the %s connection to within %s of the machine's inlet, along the hose; don't join hoses", line, show(c, inlet.HoseLength)), line.at("hose_distance"))
			return c.onSheet(out, line.at("hose_length"))
		},
		Remedies: func(c *Case, k *Check) []Remedy {
			_, inlet := line.of(c)
			top := math.Floor(inlet.HoseLength.In(quantity.Inch)/6) * 6
			return c.offer(k, line.at("hose_distance"), ladder(top, 12, 6, quantity.Inch), nil, func(v string) string {
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
	return "hot " + tell(c.Survey.Water.Hot.Static) + ", cold " + tell(c.Survey.Water.Cold.Static)
}
