package plan

import (
	"strings"

	"firstfill/specs/check"
)

// works is how much work it is to change an answer, by the answers' prefixes;
// the first that fits counts. A remedy that says its own work is taken at its
// word. Ranks of common practice, no source.
var works = []struct {
	prefix string
	work   check.Work
}{
	{"machine.key", check.OtherMachine},
	{"machine.supply", check.OtherOption},
	{"machine.raised_by", check.Device},
	{"codes.", check.Noting},
	{"power.system", check.Noting},
	{"power.extension_cord", check.Noting},
	{"power.line_to", check.FloorWork}, // the utility's or the building's transformer
	{"power.frequency", check.OtherMachine},
	{"power.phases", check.NewCircuit},
	{"power.neutral", check.PipeOrWire},
	{"power.conductor", check.PipeOrWire},
	{"power.insulation", check.PipeOrWire},
	{"power.ground", check.PipeOrWire},
	{"power.run_length", check.NewCircuit},
	{"power.other_loads", check.PipeOrWire},
	{"power.dedicated", check.PipeOrWire},
	{"power.panel_clear", check.Carpentry},
	{"power.panel_spaces", check.NewCircuit},
	{"power.panel", check.NewCircuit},
	{"power.", check.Device},
	{"water.cold.pipe", check.PipeOrWire},
	{"water.hot.pipe", check.PipeOrWire},
	{"water.cold.run_length", check.PipeOrWire},
	{"water.hot.run_length", check.PipeOrWire},
	{"water.hot.from_heater", check.NewCircuit}, // a loop with its pump
	{"water.cold.device_loss", check.Device},
	{"water.hot.device_loss", check.Device},
	{"water.cold.hose_distance", check.PipeOrWire},
	{"water.hot.hose_distance", check.PipeOrWire},
	{"water.cold.summer", check.NewCircuit}, // a chiller
	{"water.hot.temperature", check.Adjusting},
	{"water.", check.Fitting},
	{"heater.set_point", check.Adjusting},
	{"heater.other_draws", check.Adjusting},
	{"heater.", check.NewCircuit}, // another heater
	{"treatment.softener_days", check.Adjusting},
	{"treatment.", check.Device},
	{"drain.air_gap", check.Adjusting},
	{"drain.lift", check.Adjusting},
	{"drain.falls_throughout", check.Adjusting},
	{"drain.strainer", check.Accessory},
	{"drain.cleanouts", check.Fitting},
	{"drain.trap_seal_protected", check.Fitting},
	{"drain.tempering", check.Fitting},
	{"drain.trap_seal", check.FloorWork},
	{"drain.trap_to_vent", check.FloorWork},
	{"drain.trap", check.Fitting},
	{"drain.connection", check.Fitting},
	{"drain.pipe", check.PipeOrWire},
	{"drain.elbows", check.PipeOrWire},
	{"drain.run_length", check.FloorWork}, // the receptor comes nearer
	{"drain.accessible", check.Carpentry},
	{"drain.shares", check.PipeOrWire},
	{"drain.", check.FloorWork},
	{"space.unpacked_outside", check.Noting},
	{"space.sealed_to_floor", check.Noting},
	{"space.clear_beneath", check.Accessory},
	{"space.front_clearance", check.Adjusting},
	{"space.service_clearance", check.Adjusting},
	{"space.exhaust", check.NewCircuit},
	{"space.", check.Carpentry},
	{"chemicals.container_place", check.Accessory},
	{"chemicals.tube_run", check.Accessory},
	{"chemicals.lift", check.Accessory},
	{"chemicals.eyewash", check.Fitting},
	{"chemicals.", check.Adjusting},
	{"demand.", check.Accessory},
}

// workOf is how much work a remedy is: its own word, else that of the largest
// of its changes.
func workOf(r check.Remedy) check.Work {
	if r.Work > 0 {
		return r.Work
	}
	most := check.Noting
	for path := range r.Set {
		for _, w := range works {
			if strings.HasPrefix(path, w.prefix) {
				most = max(most, w.work)
				break
			}
		}
	}
	return most
}
