package trade

import (
	"testing"
)

// Sources: FDA Food Code 4-402 as adopted in
// Pennsylvania 46.652, Washington and California, ASCE 7 (from memory).
func TestSpace(t *testing.T) {
	for _, c := range [][2]float64{{0, 4}, {6, 4}, {6.1, 6}, {24, 6}} {
		near(t, "floor legs", FloorLegRequiredIn(c[0]), c[1], 0)
	}
	isNaN(t, "floor legs", FloorLegRequiredIn(-1))
	// Worked example: 250 + 33 + 40 lb on 24 x 25 in.
	near(t, "floor load", FloorLoadPSF(323, 24, 25), 77.5, 0.05)
	near(t, "one leg", LegLoadLb(323, 4), 81, 0.3)
	same(t, "under the live load", FloorLoadPSF(323, 24, 25) < FloorLiveLoadPSF, true)
	isNaN(t, "no footprint", FloorLoadPSF(323, 0, 25))
	isNaN(t, "two legs", LegLoadLb(323, 2))
}

// Sources: plane geometry; the weight of the 4 gal fill is 33 lb as in the
// worked floor load.
func TestVolumesAndThroughput(t *testing.T) {
	near(t, "water of a 4 gal fill", 4*SimpleLbGal, 33, 0.4)
	near(t, "3/4 L per foot", GalPerFt(0.785), 0.02514, 0.000005)
	// Source: plumbing forum, 40 ft of 3/4 in type L hold about a gallon
	// (39.76 ft per gallon with pi 3.142).
	near(t, "feet per gallon", 1/GalPerFt(0.785), 39.76, 0.03)
	near(t, "50 ft", DeadLegGal(0.785, 50), 1.257, 0.0005)
	near(t, "wait", DeadLegWaitS(DeadLegGal(0.785, 50), 2), 37.7, 0.05)
	// Source: maths question page: 13 ft of 0.75 in and 8 ft of 0.5 in bore at
	// 1.5 gpm: 0.38 gal and 0.25 min.
	v := DeadLegGal(0.75, 13) + DeadLegGal(0.5, 8)
	near(t, "published volume", v, 0.38, 0.005)
	near(t, "published wait", DeadLegWaitS(v, 1.5)/60, 0.25, 0.005)
	near(t, "fills", DeadLegFills(1.257, 0.5), 2.514, 1e-9)
	isNaN(t, "negative length", DeadLegGal(0.785, -1))
	isNaN(t, "no flow", DeadLegWaitS(1, 0))
	isNaN(t, "no fill", DeadLegFills(1, 0))

	near(t, "rotary", GlassesPerHourRotary(120, 30, 1), 900, 1e-9)
	near(t, "racks", RacksPerHour(90, 30), 30, 1e-9)
	near(t, "glasses from racks", GlassesPerHourRacks(90, 30, 25, 0.7), 525, 1e-9)
	// Worked example: 120 seats x 1.5 x 1.2 = 216; 8.64 racks an hour full,
	// 12.34 at 70 percent.
	peak := PeakGlassesPerHour(120, 1.5, 1.2)
	near(t, "peak", peak, 216, 1e-9)
	near(t, "full racks", GlassesPerHourRacks(3600/8.64, 0, 25, 1), peak, 1e-9)
	near(t, "racks at 70 percent", GlassesPerHourRacks(3600/12.34, 0, 25, 0.7), peak, 0.1)
	near(t, "stock once through", StockTurnoverMin(240, 216), 66.7, 0.05)
	for name, got := range map[string]float64{
		"no time":       GlassesPerHourRotary(0, 30, 1),
		"no position":   GlassesPerHourRotary(120, 0, 1),
		"rack overfull": GlassesPerHourRacks(90, 30, 25, 1.1),
		"overfull":      GlassesPerHourRotary(120, 30, 1.1),
		"no cycle":      RacksPerHour(0, 30),
		"handling":      RacksPerHour(90, -1),
		"no rack":       GlassesPerHourRacks(90, 30, 0, 1),
		"seats":         PeakGlassesPerHour(-1, 1, 1),
		"use":           StockTurnoverMin(240, 0),
	} {
		isNaN(t, name, got)
	}
}

// Source: heater safety page: 40 gal from 90 to 140 F grows by almost half a
// gallon. Rejected and not used: a page that says 50 gal grows to 52 on
// heating to 120 F; the densities give 50.6.
func TestExpansion(t *testing.T) {
	g := ExpansionGal(40, 90, 140)
	near(t, "almost half a gallon", g, 0.5, 0.03)
	near(t, "by the densities", g, 40*(995.1438/983.3909-1), 1e-4)
	near(t, "50 gal to 120 F", ExpansionGal(50, 40, 120), 0.579, 0.001)
	same(t, "cooling", ExpansionGal(40, 140, 90) < 0, true)
	near(t, "no change", ExpansionGal(40, 100, 100), 0, 0)
	isNaN(t, "negative volume", ExpansionGal(-1, 90, 140))
	isNaN(t, "too hot", ExpansionGal(40, 90, 213))
}

// Source: worked sizing, 400 gal/day x 12 gpg x 3 days (common practice).
func TestSoftener(t *testing.T) {
	d := SoftenerGrainsPerDay(400, 12, 0)
	near(t, "grains a day", d, 4800, 0)
	near(t, "three days", SoftenerCapacityGrains(d, 3, 1), 14400, 0)
	near(t, "at 0.8", SoftenerCapacityGrains(d, 3, 0.8), 18000, 1e-9)
	near(t, "with iron", SoftenerGrainsPerDay(400, 12, 1), 6400, 0)
	isNaN(t, "negative", SoftenerGrainsPerDay(-1, 12, 0))
	isNaN(t, "no days", SoftenerCapacityGrains(d, 0, 1))
	isNaN(t, "efficiency", SoftenerCapacityGrains(d, 3, 1.1))
}
