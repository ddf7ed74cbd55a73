package trade

import (
	"fmt"
	"math"
)

// A lossRow is the heat loss of a copper tube to still air, watts per metre:
// bare at 22, 38 and 55 C above the air, and in 1 in (25 mm) of insulation of
// 0.043 W/m-K at 55 C (zero where the table has none).
type lossRow struct {
	bare   [3]float64
	lagged float64
}

// lossAtC are the differences of the bare columns, degrees C.
var lossAtC = [3]float64{22, 38, 55}

// copperLoss by nominal size. The table names tubes by their bore in mm (15,
// 22, 28, 35, 42, 54). Sources: CopperLoss, CopperLagged (read in a secondary
// text).
var copperLoss = map[string]lossRow{
	"1/2":   {[3]float64{21, 32, 45}, 0},
	"3/4":   {[3]float64{28, 43, 60}, 8},
	"1":     {[3]float64{34, 53, 76}, 10},
	"1-1/4": {[3]float64{41, 64, 89}, 0},
	"1-1/2": {[3]float64{47, 74, 104}, 11.5},
	"2":     {[3]float64{59, 93, 131}, 14.5},
}

// wPerMKToBtuHFtF turns W/m-K into Btu/h-ft-F.
const wPerMKToBtuHFtF = MPerFt / WPerBtuH / 1.8

// PipeLossBtuHFtF returns what a foot of copper tube loses to still air per
// degree F, Btu/h-ft-F, at a difference between water and air.
//
//	bare:      the table's loss over its difference, linear between columns,
//	           the nearest column outside them
//	insulated: the table's one column; 1/2 and 1-1/4 in take the next larger
//
// differenceF in degrees F, above 0 and at most 150. Other tubes lose less
// than bare copper. Sources: CopperLoss, CopperLagged. Example: bare 3/4 in at
// 99 F: 0.630; insulated 0.084.
func PipeLossBtuHFtF(nominal string, insulated bool, differenceF float64) (float64, error) {
	if !positive(differenceF) || differenceF > 150 {
		return 0, rangeError("difference between water and air", differenceF, "more than 0 and no more than 150 F")
	}
	row, ok := copperLoss[nominal]
	if !ok {
		return 0, noRow("heat loss of copper tube", nominal)
	}
	if insulated {
		w := row.lagged
		switch nominal {
		case "1/2":
			w = copperLoss["3/4"].lagged
		case "1-1/4":
			w = copperLoss["1-1/2"].lagged
		}
		return w / lossAtC[2] * wPerMKToBtuHFtF, nil
	}
	d := differenceF / 1.8
	per := func(i int) float64 { return row.bare[i] / lossAtC[i] }
	i := 0
	if d > lossAtC[1] {
		i = 1
	}
	share := math.Min(1, math.Max(0, (d-lossAtC[i])/(lossAtC[i+1]-lossAtC[i])))
	return (per(i) + share*(per(i+1)-per(i))) * wPerMKToBtuHFtF, nil
}

// StandingF returns the temperature of water that has stood in a tube.
//
//	T = Tair + (T0 - Tair) exp(-U t / m),  m = gal/ft x 8.33 lb
//
// U in Btu/h-ft-F from [PipeLossBtuHFtF], t in hours (minutes/60), water at 1
// Btu/lb-F. The heat of the metal is left out: the true water stays a little
// warmer, so the answer errs to the cold side. NaN for a negative time or a
// value that isn't positive. Source: NewtonCooling (derived). Example: 140 F
// in 3/4 in bare copper (0.02514 gal/ft, U 0.630), 70 F air, 15 min: 103 F.
func StandingF(startF, airF, minutes, lossBtuHFtF, galPerFt float64) float64 {
	if !finite(startF, airF) || !notNegative(minutes) || !positive(lossBtuHFtF, galPerFt) {
		return math.NaN()
	}
	return airF + (startF-airF)*math.Exp(-lossBtuHFtF*minutes/60/(galPerFt*SimpleLbGal))
}

// DeadLegF returns the temperature of the water that stood in a hot branch of
// copper between two cycles, by [PipeLossBtuHFtF] and [StandingF]. A branch no
// warmer than the air keeps its temperature.
func DeadLegF(nominal string, insulated bool, idIn, hotF, airF, minutes float64) (float64, error) {
	if !finite(hotF, airF) || !notNegative(minutes) || !positive(idIn) {
		return 0, fmt.Errorf("%v F in a bore of %v in, air %v F, %v min: %w", hotF, idIn, airF, minutes, ErrRange)
	}
	if hotF <= airF {
		return hotF, nil
	}
	u, err := PipeLossBtuHFtF(nominal, insulated, hotF-airF)
	if err != nil {
		return 0, err
	}
	return StandingF(hotF, airF, minutes, u, GalPerFt(idIn)), nil
}

// CycleIntakeF returns the mean temperature of what one cycle takes in when
// the dead leg comes first and hot water after it.
//
//	T = (v Tleg + (V - v) Thot) / V,  v = the leg's volume, at most V
//
// gal, degrees F. When the leg holds a cycle or more, the machine sees nothing
// but the leg. NaN for a negative leg or an intake that isn't positive.
// Source: MixingBalance (derived). Example: 0.5 gal at 80 F before 140 F, 1
// gal in all: 110 F.
func CycleIntakeF(deadLegGal, cycleGal, legF, hotF float64) float64 {
	if !notNegative(deadLegGal) || !positive(cycleGal) || !finite(legF, hotF) {
		return math.NaN()
	}
	v := math.Min(deadLegGal, cycleGal)
	return MixedTemp(v, legF, cycleGal-v, hotF)
}
