package trade

import "math"

// A ColdInlet lists what stands between the main and a storage heater.
type ColdInlet struct {
	CheckValve   bool
	Regulator    bool // pressure-reducing valve; one with a bypass still counts
	Backflow     bool // any backflow preventer
	MeterChecked bool // the meter has its own check
}

// Closed reports whether the system is closed, so that a storage heater needs
// control of thermal expansion on its cold line downstream of all of them.
// Adding a check valve or backflow preventer for a machine can close an open
// system. Source: IPC607_3, UPC608_3 (both read in secondary texts).
func (c ColdInlet) Closed() bool {
	return c.CheckValve || c.Regulator || c.Backflow || c.MeterChecked
}

// ExpansionGal returns by how much stored water grows on heating.
//
//	dV = V (rho cold / rho hot - 1)
//
// gal, degrees F from 32 to 212; negative when it cools, NaN outside. The tank
// and pipes grow too, by far less. Source: IAPWSIF97 and ExpansionLaw
// (derived). Example: 40 gal, 90 to 140 F: 0.478 gal.
func ExpansionGal(volumeGal, coldF, hotF float64) float64 {
	if !notNegative(volumeGal) {
		return math.NaN()
	}
	return volumeGal * (WaterDensityKgM3(coldF)/WaterDensityKgM3(hotF) - 1)
}

// A HeaterKind says whether a water heater stores hot water.
type HeaterKind int

const (
	StorageHeater HeaterKind = iota + 1
	TanklessHeater
)

// NeedsExpansionControl reports whether a code wants thermal expansion
// controlled, and cites it.
//
//	IPC and others: a storage heater on a closed system
//	UPC:            any heater on a closed system, whatever its kind
//
// Sources: IPC607_3, UPC608_3 (read in secondary texts; UPC editions before
// 2015 are worded otherwise). Example: a tankless heater alone behind a
// backflow preventer: not under the IPC, under the UPC yes.
func NeedsExpansionControl(family CodeFamily, heater HeaterKind, inlet ColdInlet) (bool, Source) {
	src := ExpansionRule.For(family)
	if !inlet.Closed() {
		return false, src
	}
	return heater == StorageHeater || family == UPC && heater == TanklessHeater, src
}
