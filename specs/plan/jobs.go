package plan

import (
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A Job is what one trade does in one go; all its changes are one step. Its
// name is a wording: "job." and the name.
type Job string

// jobs are the jobs in the order in which a site is prepared: when each is
// done, at the latest, and the answers that it may change. An answer belongs to
// the first whose prefix it has. A step that others wait for moves forward with them.
var jobs = []struct {
	job      Job
	trade    check.Trade
	stage    check.Stage
	prefixes []string
}{
	{orderJob, check.Supplier, check.BeforeOrder, []string{"machine.key", "machine.supply"}},
	{"stand", check.Builder, check.RoughIn, []string{"machine.raised_by"}},
	{"label", check.Electrician, check.BeforeOrder, []string{"power.system", "codes."}},
	{"supply", check.Electrician, check.RoughIn, []string{"power.line_to_line", "power.line_to_neutral", "power.high_leg", "power.middle_leg", "power.legs", "power.frequency", "power.phases", "power.read_under_load"}},
	{"panel", check.Electrician, check.RoughIn, []string{"power.panel_clear", "power.panel_main", "power.panel_opposite", "power.load_calculation", "power.fault_current"}},
	{"circuit", check.Electrician, check.RoughIn, []string{"power."}},
	{"service", check.Plumber, check.RoughIn, []string{"water.closed_system", "water.expansion_tank"}},
	{"arrester", check.Plumber, check.RoughIn, []string{"water.hammer_arrester"}},
	{"hot-water", check.Plumber, check.RoughIn, []string{"heater.", "water.hot.temperature", "water.hot.from_heater"}},
	{"cold-line", check.Plumber, check.RoughIn, []string{"water.cold."}},
	{"hot-line", check.Plumber, check.RoughIn, []string{"water.hot."}},
	{"water", check.Plumber, check.RoughIn, []string{"water."}},
	{"treatment", check.Plumber, check.RoughIn, []string{"treatment."}},
	{"receptor", check.Plumber, check.RoughIn, []string{"drain.receptor", "drain.rim_height", "drain.trap_to_vent", "drain.trap_seal", "drain.vent", "drain.strainer", "drain.accessible", "drain.shares", "drain.standpipe"}},
	{"drain-line", check.Plumber, check.RoughIn, []string{"drain."}},
	{"way", check.Builder, check.BeforeDelivery, []string{"space.path"}},
	{"unpacking", check.Supplier, check.BeforeDelivery, []string{"space.unpacked"}},
	{"floor", check.Builder, check.RoughIn, []string{"space.floor"}},
	{"opening", check.Builder, check.RoughIn, []string{"space."}},
	{"sanitizer", check.Supplier, check.BeforeStart, []string{"chemicals."}},
	{"glasses", check.Owner, check.BeforeStart, []string{"demand."}},
	{"records", check.Supplier, check.BeforeStart, []string{""}},
}

// jobOf is the place in jobs of an answer.
func jobOf(path string) int {
	for i, j := range jobs {
		for _, p := range j.prefixes {
			if strings.HasPrefix(path, p) {
				return i
			}
		}
	}
	return len(jobs) - 1
}

// things are the answers that say by themselves what is built: their phrase,
// "do." and the path, holds the final value in the blank {value}, whatever the
// remedies were that led to it. Other answers are what follows from a change
// (a pressure behind a valve, say); their step says the remedy's own words.
var things = func() map[string]survey.Ref {
	a := survey.Ask
	m := map[string]survey.Ref{}
	for _, r := range []survey.Ref{
		a.Machine.Supply, a.Machine.RaisedBy,
		a.Power.Breaker, a.Power.BreakerPoles, a.Power.Conductor, a.Power.Ground, a.Power.Neutral, a.Power.GFCI,
		a.Power.BreakerVolts, a.Power.Interrupting, a.Power.RCDType, a.Power.OutletFromLeft,
		a.Power.Insulation, a.Power.WetInsulation, a.Power.Bundled, a.Power.DevicesTake, a.Power.ConductorOf, a.Power.GroundOf, a.Power.Conduit,
		a.Power.Receptacle, a.Power.Disconnect, a.Power.ReceptacleRun,
		a.Water.Cold.Regulator, a.Water.Hot.Regulator, a.Water.Cold.Size, a.Water.Hot.Size,
		a.Water.Cold.CheckValve, a.Water.Hot.CheckValve, a.Water.Cold.ShutOff, a.Water.Hot.ShutOff,
		a.Water.Cold.Backflow, a.Water.Hot.Backflow, a.Water.Cold.Thread, a.Water.Hot.Thread,
		a.Water.Expansion, a.Water.Arrester,
		a.Drain.AirGap, a.Drain.RimHeight, a.Drain.Material, a.Drain.Size, a.Drain.Outlet, a.Drain.Tempering, a.Drain.Trap,
		a.Drain.Cleanouts, a.Drain.Strainer, a.Drain.Vent, a.Drain.Connection,
		a.Drain.Receptor, a.Drain.RunLength, a.Drain.Elbows, a.Drain.OutletOf, a.Drain.ReceptorTrap, a.Drain.TrapToVent, a.Drain.TrapSeal,
		a.Drain.Accessible, a.Drain.Standpipe, a.Drain.Lift, a.Drain.HighLoop, a.Drain.HoseVent, a.Drain.Steady,
		a.Space.Height, a.Space.Counter, a.Power.Extension, a.Water.Cold.HoseRun, a.Water.Hot.HoseRun,
	} {
		m[r.Path()] = r
	}
	return m
}()

// say is the phrase of a thing as it will be.
func say(r survey.Ref, built *survey.Survey) check.Phrase {
	return check.Say("do."+r.Path(), "value", Shown(r, built))
}

// ruled is a length in inches as a tape shows it: 4-1/2 in, not 4.5 in.
func ruled(l quantity.Length) quantity.Length {
	if strings.HasSuffix(l.Text(), " in") {
		return quantity.New(l.In(quantity.Inch), quantity.Inch)
	}
	return l
}
