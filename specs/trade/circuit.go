package trade

import (
	"fmt"
	"math"
)

// An Edition is an edition of the National Electrical Code by its year.
type Edition int

const (
	NEC2014 Edition = 2014
	NEC2017 Edition = 2017
	NEC2020 Edition = 2020
	NEC2023 Edition = 2023
)

func (e Edition) valid() bool {
	switch e {
	case NEC2014, NEC2017, NEC2020, NEC2023:
		return true
	}
	return false
}

// StandardRatings returns the standard ampere ratings of breakers and fuses
// from 10 or 15 A to 200 A. The 10 A step came with the 2023 edition. Source:
// NEC240_6 (from memory).
func StandardRatings(edition Edition) ([]float64, error) {
	if !edition.valid() {
		return nil, rangeError("NEC edition", float64(edition), "2014, 2017, 2020 or 2023")
	}
	rs := []float64{10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200}
	if edition < NEC2023 {
		rs = rs[1:]
	}
	return rs, nil
}

// NextStandardUp returns the smallest standard rating that is at least amps.
// Source: NEC240_6. Example: 118.75 A is 125 A; 20 A is 20 A.
func NextStandardUp(amps float64, edition Edition) (float64, error) {
	rs, err := StandardRatings(edition)
	if err != nil {
		return 0, err
	}
	if !positive(amps) {
		return 0, rangeError("current", amps, "more than 0 A")
	}
	for _, r := range rs {
		if r >= amps {
			return r, nil
		}
	}
	return 0, rangeError("current", amps, "no more than 200 A")
}

// NextStandardDown returns the largest standard rating that is at most amps.
// Source: NEC240_6. Example: 118.75 A is 110 A.
func NextStandardDown(amps float64, edition Edition) (float64, error) {
	rs, err := StandardRatings(edition)
	if err != nil {
		return 0, err
	}
	last := rs[len(rs)-1]
	if !(amps >= rs[0] && amps <= last) {
		return 0, rangeError("current", amps, fmt.Sprintf("%v to %v A", rs[0], last))
	}
	down := rs[0]
	for _, r := range rs {
		if r <= amps {
			down = r
		}
	}
	return down, nil
}

// MinimumCircuit returns the least rating of overcurrent device and of
// conductor before derating.
//
//	I = 1.25 x continuous + 1.00 x other
//
// or the plain sum when the whole overcurrent assembly is listed for 100
// percent. Ampere; NaN unless both are at least zero and one is positive.
// Source: NEC210_20 (confirmed), NEC100Rated (from memory). Example: 95 A
// continuous gives 118.75 A.
func MinimumCircuit(continuousA, otherA float64, listed100 bool) float64 {
	if !notNegative(continuousA, otherA) || continuousA+otherA == 0 {
		return math.NaN()
	}
	if listed100 {
		return continuousA + otherA
	}
	return 1.25*continuousA + otherA
}

// GaugeForBreaker returns the thinnest gauge that a breaker may protect. With
// nextSizeUp the ampacity may fall short as long as the breaker is the next
// standard size above it, which 240.4(B) allows except for a circuit of
// several outlets for portable loads. The small-conductor limit always holds.
// Source: NEC310_16, NEC240_4B (from memory), NEC240_4D. Example: 70 A,
// copper, 75 C: 4 AWG; with the next size up, 6 AWG.
func GaugeForBreaker(breakerA float64, metal Metal, column Column, nextSizeUp bool, edition Edition) (string, error) {
	if !positive(breakerA) {
		return "", rangeError("breaker", breakerA, "more than 0 A")
	}
	if !edition.valid() {
		return "", rangeError("NEC edition", float64(edition), "2014, 2017, 2020 or 2023")
	}
	for _, g := range Gauges() {
		a, err := Ampacity(g, metal, column)
		if err == nil && protects(breakerA, a, g, metal, nextSizeUp, edition) {
			return g, nil
		}
	}
	return "", rangeError("breaker", breakerA, "no more than 1/0 AWG carries here")
}

// protects reports whether the breaker may protect a conductor of the gauge
// with that ampacity.
func protects(breakerA, ampacity float64, gauge string, metal Metal, nextSizeUp bool, edition Edition) bool {
	if limit, ok := SmallConductorLimit(gauge, metal); ok && breakerA > limit {
		return false
	}
	if ampacity >= breakerA {
		return true
	}
	up, err := NextStandardUp(ampacity, edition)
	return nextSizeUp && err == nil && up >= breakerA
}

// ReceptacleRatings returns the receptacle ratings allowed on a circuit with
// two or more outlets. Source: NEC210_21B3 (from memory). "Not over 15" on a
// 15 A circuit is given as 15.
func ReceptacleRatings(circuitA float64) ([]float64, error) {
	switch circuitA {
	case 15:
		return []float64{15}, nil
	case 20:
		return []float64{15, 20}, nil
	case 30:
		return []float64{30}, nil
	case 40:
		return []float64{40, 50}, nil
	case 50:
		return []float64{50}, nil
	}
	return nil, noRow("NEC Table 210.21(B)(3)", fmt.Sprintf("%v A", circuitA))
}

// CordLoadLimit returns the largest single cord-and-plug load on a circuit
// with two or more outlets: 80 percent of a 15, 20 or 30 A circuit. An
// individual circuit may carry any load it is rated for. Source: NEC210_23
// (from memory). Example: 20 A gives 16 A.
func CordLoadLimit(circuitA float64) (float64, error) {
	switch circuitA {
	case 15, 20, 30:
		return 0.8 * circuitA, nil
	}
	return 0, noRow("NEC 210.23", fmt.Sprintf("%v A", circuitA))
}

// FastenedLoadLimit returns the total of equipment fastened in place on a 15
// or 20 A circuit that also supplies lighting or portable loads: 50 percent.
// Source: NEC210_23 (from memory). Example: 20 A gives 10 A.
func FastenedLoadLimit(circuitA float64) (float64, error) {
	switch circuitA {
	case 15, 20:
		return 0.5 * circuitA, nil
	}
	return 0, noRow("NEC 210.23", fmt.Sprintf("%v A", circuitA))
}

// ApplianceOCPD returns the largest overcurrent device for a single non-motor
// appliance: the marked value (markedA, zero when unmarked); unmarked, 20 A up
// to 13.3 A, else the next standard size at or above 150 percent. Source:
// NEC422_11E (from memory). Example: unmarked 24 A: 150 percent is 36 A,
// hence 40 A.
func ApplianceOCPD(ratedA, markedA float64, edition Edition) (float64, error) {
	if !positive(ratedA) || !notNegative(markedA) {
		return 0, fmt.Errorf("rated %v A, marked %v A: %w", ratedA, markedA, ErrRange)
	}
	if markedA > 0 {
		return markedA, nil
	}
	if ratedA <= 13.3 {
		return 20, nil
	}
	return NextStandardUp(1.5*ratedA, edition)
}

// HeaterSubdivisions returns into how many loads of 48 A or less a resistance
// heating appliance is divided; 1 means no division. Exceptions for some
// kitchen and water-heating equipment are not applied. Source: NEC422_11F
// (from memory). Example: 60 A is 2 loads.
func HeaterSubdivisions(amps float64) (int, error) {
	if !positive(amps) || amps > 4800 {
		return 0, rangeError("heater current", amps, "more than 0 A")
	}
	return int(math.Ceil(amps / 48)), nil
}

// Advisory voltage-drop limits in percent. Source: NECDropNote (confirmed);
// not mandatory under the NEC.
const (
	NECBranchDropPct = 3.0
)

// lineFactor is the length factor of a circuit: 2 for single phase, where the
// return conductor drops as much, sqrt 3 for line to line in three phase.
func lineFactor(phases int) float64 {
	switch phases {
	case 1:
		return 2
	case 3:
		return math.Sqrt(3)
	}
	return math.NaN()
}

// VoltageDrop returns the line-to-line drop in volts, or for a two-wire
// circuit the drop of both conductors.
//
//	V = f I Z L / 1000,  f = 2 (single phase) or sqrt 3 (three phase)
//
// I in ampere, Z in ohm per 1000 ft, L one-way length in ft. NaN unless phases
// is 1 or 3 and the rest at least zero. Source: NECTable9 note 2 (confirmed).
// Example: single phase, 4 A, 4.99, 100 ft: 3.992 V.
func VoltageDrop(phases int, amps, ohmPerKFt, lengthFt float64) float64 {
	if !notNegative(amps, ohmPerKFt, lengthFt) {
		return math.NaN()
	}
	return lineFactor(phases) * amps * ohmPerKFt * lengthFt / 1000
}

// HeaterPowerW returns the power of a fixed resistance at another voltage.
//
//	P2 = P1 (V2 / V1)^2
//
// W and V; NaN unless all are positive. Three-phase heaters follow the same
// law. Motors do not. Source: JouleLaw (derived). Example: 240 V element on
// 208 V: 0.7511 of its power.
func HeaterPowerW(ratedW, ratedV, actualV float64) float64 {
	if !positive(ratedW, ratedV, actualV) {
		return math.NaN()
	}
	r := actualV / ratedV
	return ratedW * r * r
}

// HeaterCurrentA returns the current of a fixed resistance at another voltage.
//
//	I2 = I1 V2 / V1
//
// NaN unless all are positive. Source: JouleLaw. Example: 240 V element on
// 208 V: 0.8667 of its current.
func HeaterCurrentA(ratedA, ratedV, actualV float64) float64 {
	if !positive(ratedA, ratedV, actualV) {
		return math.NaN()
	}
	return ratedA * actualV / ratedV
}

// MotorCurrentA estimates a motor's current at another voltage from constant
// shaft power: current varies inversely with voltage. A first estimate only,
// for 0.9 to 1.1 of the rated voltage; NaN outside. Source: MotorEstimate
// (common practice, no source). Example: 10 A at 230 V on 208 V: 11.06 A.
func MotorCurrentA(ratedA, ratedV, actualV float64) float64 {
	if !positive(ratedA, ratedV, actualV) || actualV < 0.9*ratedV || actualV > 1.1*ratedV {
		return math.NaN()
	}
	return ratedA * ratedV / actualV
}

// LineCurrentA returns the line current of a balanced load.
//
//	I = P / (V pf)          single phase
//	I = P / (sqrt 3 V pf)   three phase, V line to line
//
// NaN unless phases is 1 or 3, P and V positive and 0 < pf <= 1. Source:
// JouleLaw. Example: 5000 W, 208 V, single phase, 1: 24.04 A.
func LineCurrentA(watts, volts float64, phases int, powerFactor float64) float64 {
	if !positive(watts, volts) || !(powerFactor > 0 && powerFactor <= 1) {
		return math.NaN()
	}
	switch phases {
	case 1:
		return watts / (volts * powerFactor)
	case 3:
		return watts / (math.Sqrt(3) * volts * powerFactor)
	}
	return math.NaN()
}

// LinePowerW returns the power of a balanced load, the inverse of
// [LineCurrentA].
func LinePowerW(amps, volts float64, phases int, powerFactor float64) float64 {
	if !positive(amps, volts) || !(powerFactor > 0 && powerFactor <= 1) {
		return math.NaN()
	}
	switch phases {
	case 1:
		return volts * amps * powerFactor
	case 3:
		return math.Sqrt(3) * volts * amps * powerFactor
	}
	return math.NaN()
}
