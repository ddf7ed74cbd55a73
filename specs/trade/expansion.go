package trade

import "math"

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
// controlled on a closed system.
//
//	IPC and others: where a storage heater is fed
//	UPC:            whatever the kind of heater
//
// Sources: IPC607_3, UPC608_3 (read in secondary texts; UPC editions before
// 2015 are worded otherwise). Example: a tankless heater alone behind a
// backflow preventer: not under the IPC, under the UPC yes.
func NeedsExpansionControl(family CodeFamily, heater HeaterKind) bool {
	return heater == StorageHeater || family == UPC && heater == TanklessHeater
}
