package rules

import (
	"firstfill/specs/check"
	"firstfill/survey/quantity"
)

// An Arrived is a line's pressure on its way to the machine, while the machine
// draws. It is the result of ColdInlet and HotInlet.
type Arrived struct {
	Flow                    quantity.Flow     // that the machine draws
	Static, Flowing         quantity.Pressure // where it was read: nothing running, and at that flow
	Regulated               quantity.Pressure // behind a regulator; not known without one
	Length                  quantity.Length   // of pipe, fittings counted
	Friction, Rise, Devices quantity.Pressure // lost on the way
	Left                    quantity.Pressure // at the inlet
	Want                    check.Fact        // there, by the machine's sheet
}

// A Dropped is the voltage on its way to the machine while it heats. It is the
// result of VoltageUnderLoad.
type Dropped struct {
	Panel, Lost, Left, Least quantity.Voltage
	Amps                     quantity.Current // that run
}
