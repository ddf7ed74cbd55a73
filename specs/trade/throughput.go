package trade

import (
	"fmt"
	"math"
)

// GlassesPerHourRotary returns what a rotary or carousel washer turns out.
//
//	N = 3600 / T x positions x fill
//
// T seconds per revolution, positions on the carousel, fill the share that is
// loaded, above 0 and at most 1. NaN outside. Source: Geometry. Example: 120
// s, 30 positions, all loaded: 900 per hour.
func GlassesPerHourRotary(revolutionS float64, positions int, fill float64) float64 {
	if !positive(revolutionS) || positions < 1 || !(fill > 0 && fill <= 1) {
		return math.NaN()
	}
	return 3600 / revolutionS * float64(positions) * fill
}

// RacksPerHour returns the racks of a batch washer with the time to swap them.
//
//	n = 3600 / (cycle + handling)
//
// seconds; NaN for a cycle that is not positive or a negative handling time. A
// rating printed by a maker has no handling time in it. Source: Geometry.
// Example: 90 s and 30 s: 30 per hour.
func RacksPerHour(cycleS, handlingS float64) float64 {
	if !positive(cycleS) || !notNegative(handlingS) {
		return math.NaN()
	}
	return 3600 / (cycleS + handlingS)
}

// GlassesPerHourRacks returns what a batch washer turns out: racks per hour
// times glasses per rack times the share of each rack that is filled. NaN
// outside. Source: Geometry. Example: 90 s, 30 s, 25 glasses, 0.7: 525.
func GlassesPerHourRacks(cycleS, handlingS float64, perRack int, fill float64) float64 {
	if perRack < 1 || !(fill > 0 && fill <= 1) {
		return math.NaN()
	}
	return RacksPerHour(cycleS, handlingS) * float64(perRack) * fill
}

// PeakGlassesPerHour returns the glasses used in the busiest hour.
//
//	N = seats x drinks per seat-hour x glasses per drink
//
// NaN for negative values. All three are the owner's to say; drinks per seat
// run from 1 to 3 (RackPractice, common practice, no source). Example: 120 x
// 1.5 x 1.2: 216.
func PeakGlassesPerHour(seats, drinksPerSeatHour, glassesPerDrink float64) float64 {
	if !notNegative(seats, drinksPerSeatHour, glassesPerDrink) {
		return math.NaN()
	}
	return seats * drinksPerSeatHour * glassesPerDrink
}

// RacksNeededPerHour returns the racks for a number of glasses, not rounded:
// a plan rounds up. NaN for a negative number, an empty rack or a fill outside
// 0 to 1. Source: RackRule (confirmed). Example: 216 glasses, 25 per rack, 0.7:
// 12.34.
func RacksNeededPerHour(glassesPerHour float64, perRack int, fill float64) float64 {
	if !notNegative(glassesPerHour) || perRack < 1 || !(fill > 0 && fill <= 1) {
		return math.NaN()
	}
	return glassesPerHour / (float64(perRack) * fill)
}

// DerateRacks is the share of a printed rack rating to plan with. Source:
// RackPractice (common practice, no source).
const DerateRacks = 0.70

// Share of a day's volume in its busiest hour. Source: RackPractice (common
// practice, no source).
const (
	PeakShareLow  = 0.15
	PeakShareHigh = 0.25
)

// StockTurnoverMin returns the minutes until a stock of glasses has to be
// washed once through at a rate of use.
//
//	t = 60 x stock / use
//
// NaN for a negative stock or a use that is not positive. Source: Geometry.
// Example: 240 glasses at 216 per hour: 66.7 min.
func StockTurnoverMin(stock, usePerHour float64) float64 {
	if !notNegative(stock) || !positive(usePerHour) {
		return math.NaN()
	}
	return 60 * stock / usePerHour
}

// StockLastsHours returns how long a stock of clean glasses lasts when fewer
// are washed than used: stock/(use - washed); +Inf when washing keeps up. NaN
// for negative values. Source: Geometry. Example: 240, 216 used, 136 washed:
// 3 h.
func StockLastsHours(stock, usePerHour, washedPerHour float64) float64 {
	switch {
	case !notNegative(stock, usePerHour, washedPerHour):
		return math.NaN()
	case washedPerHour >= usePerHour:
		return math.Inf(1)
	}
	return stock / (usePerHour - washedPerHour)
}

// Glasses per seat that a bar keeps in stock. Source: ParStock (confirmed);
// it is stock, not washes per hour.
const (
	ParStockLow  = 2.0
	ParStockHigh = 3.0
	ParStockTop  = 5.0 // the most popular glass
)

// Rack dimensions, inches. Source: RackPractice (common practice, no source).
const (
	RackNominalIn = 20.0
	RackOutsideIn = 19.75
)

// RackGlassMaxIn returns the largest glass diameter of a 20 in rack with 16,
// 25, 36 or 49 compartments. Source: RackPractice (common practice, no
// source). Example: 25: 3.5 in.
func RackGlassMaxIn(compartments int) (float64, error) {
	switch compartments {
	case 16:
		return 4.375, nil
	case 25:
		return 3.5, nil
	case 36:
		return 2.875, nil
	case 49:
		return 2.4375, nil
	}
	return 0, noRow("rack compartments", fmt.Sprint(compartments))
}

// A Building is a column of the fixture demand table. It has no column for a
// restaurant or a bar; club and hotel are the nearest.
type Building int

const (
	Apartment Building = iota
	Club
	Gymnasium
	Hospital
	Hotel
	Industrial
	Office
	School
)

// A Demand is a range of hot water in gph at 140 F.
type Demand struct{ Low, High float64 }

func one(gph float64) Demand { return Demand{gph, gph} }

// fixtureDemand: source ASHRAEFixtures (confirmed). An empty entry means that
// the table has none. The hotel dishwasher's 200 is 210 in one copy.
var fixtureDemand = map[string][8]Demand{
	"private lavatory": {one(2), one(2), one(2), one(2), one(2), one(2), one(2), one(2)},
	"public lavatory":  {one(4), one(6), one(8), one(6), one(8), one(12), one(6), one(15)},
	"dishwasher":       {one(15), {50, 150}, {}, {50, 150}, {50, 200}, {20, 100}, {}, {20, 100}},
	"kitchen sink":     {one(10), one(20), {}, one(20), one(30), one(20), one(20), one(20)},
	"pantry sink":      {one(5), one(10), {}, one(10), one(10), {}, one(10), one(10)},
	"slop sink":        {one(20), one(20), {}, one(20), one(30), one(20), one(20), one(20)},
}

var (
	demandFactors  = [8]float64{0.30, 0.30, 0.40, 0.25, 0.25, 0.40, 0.30, 0.40}
	storageFactors = [8]float64{1.25, 0.90, 1.00, 0.60, 0.80, 1.00, 2.00, 1.00}
)

// FixtureDemandGPH returns the possible hourly demand of a fixture: "private
// lavatory", "public lavatory", "dishwasher", "kitchen sink", "pantry sink" or
// "slop sink". Source: ASHRAEFixtures (confirmed). Example: hotel kitchen
// sink 30.
func FixtureDemandGPH(fixture string, building Building) (Demand, error) {
	row, ok := fixtureDemand[fixture]
	if !ok || building < Apartment || building > School {
		return Demand{}, noRow("fixture demand table", fmt.Sprintf("%s, building %d", fixture, building))
	}
	if row[building] == (Demand{}) {
		return Demand{}, noRow("fixture demand table for that building", fixture)
	}
	return row[building], nil
}

// DemandFactors returns the share of the possible demand that falls in one
// hour and the storage for each gph of it. Sources: ASHRAEFixtures
// (confirmed), ASHRAEStorage (from memory but for apartments). Example:
// apartment 0.30 and 1.25.
func DemandFactors(building Building) (demand, storage float64, err error) {
	if building < Apartment || building > School {
		return 0, 0, noRow("demand factors", fmt.Sprint(int(building)))
	}
	return demandFactors[building], storageFactors[building], nil
}

// HotWaterDemand returns the probable demand in gph and the storage in gal for
// a possible demand.
//
//	probable = possible x demand factor, storage = probable x storage factor
//
// Source: ASHRAEFixtures. Example: 2300 gph in apartments: 690 gph, 862.5 gal.
func HotWaterDemand(possibleGPH float64, building Building) (gph, storageGal float64, err error) {
	d, s, err := DemandFactors(building)
	if err != nil {
		return 0, 0, err
	}
	if !notNegative(possibleGPH) {
		return 0, 0, rangeError("possible demand", possibleGPH, "at least 0 gph")
	}
	return possibleGPH * d, possibleGPH * d * s, nil
}

// Hourly hot water of bar fixtures, gph. Source: CAHotWater (confirmed).
const (
	BarSinkCompartmentGPH = 6.0
	HandSinkGPH           = 5.0
	PrepSinkGPH           = 5.0
	UtensilSink18GPH      = 14.0 // 18 x 18 in compartments
	UtensilSink24GPH      = 25.0 // 24 x 24 in
	HandPreRinseGPH       = 45.0
	JanitorSinkGPH        = 15.0
)

// UtensilSinkGPH returns the hourly hot water of a utensil sink compartment of
// another size: L x W x D (ft) x 7.5 gal; NaN unless positive. Source:
// CAHotWater. Example: 18 x 18 x 12 in: 16.875.
func UtensilSinkGPH(lengthIn, widthIn, depthIn float64) float64 {
	if !positive(lengthIn, widthIn, depthIn) {
		return math.NaN()
	}
	return lengthIn * widthIn * depthIn / (InPerFt * InPerFt * InPerFt) * 7.5
}

// Hot water per meal, gal. Source: ASHRAEMeals (from memory).
const (
	FullMealMaxHourGal = 1.5
	FullMealDayGal     = 2.4
	GrillMealGal       = 0.7
)
