package trade

import (
	"fmt"
	"math"
)

// iecRow is a copper cable with 70 C thermoplastic insulation: drop in mV per
// ampere and metre (the two-core figure includes the return conductor) and
// ampacity by reference method C at 30 C, one circuit.
type iecRow struct {
	mm2              float64
	mv2, mv3         float64
	method2, method3 float64
	flat             float64
}

// iecCables: source IECCables (from memory, the 2-core drops of 2.5 and
// 10 mm2 confirmed), flat twin and earth IECFlatCable (confirmed).
var iecCables = []iecRow{
	{1.5, 29, 25, 19.5, 17.5, 20},
	{2.5, 18, 15, 27, 24, 27},
	{4, 11, 9.5, 36, 32, 37},
	{6, 7.3, 6.4, 46, 41, 47},
	{10, 4.4, 3.8, 63, 57, 64},
	{16, 2.8, 2.4, 85, 76, 85},
}

func findIEC(areaMM2 float64) (iecRow, error) {
	for _, r := range iecCables {
		if r.mm2 == areaMM2 {
			return r, nil
		}
	}
	return iecRow{}, noRow("cable table", fmt.Sprintf("%v mm2", areaMM2))
}

// IECMilliVolts returns the tabulated drop in mV per ampere and metre of a
// copper cable: phases 1 for two-core, 3 for three- or four-core. Source:
// IECCables. Example: 2.5 mm2 two-core is 18.
func IECMilliVolts(areaMM2 float64, phases int) (mVPerAM float64, err error) {
	r, err := findIEC(areaMM2)
	if err != nil {
		return 0, err
	}
	switch phases {
	case 1:
		return r.mv2, nil
	case 3:
		return r.mv3, nil
	}
	return 0, rangeError("phases", float64(phases), "1 or 3")
}

// An IECCable is a cable construction of the ampacity table.
type IECCable int

const (
	Multicore IECCable = iota + 1 // multicore, method C
	FlatCable                     // flat twin and earth, method C
)

// IECAmpacity returns the method C ampacity in ampere with 2 or 3 loaded
// conductors. Source: IECCables, IECFlatCable. Example: 4 mm2 flat is 37.
func IECAmpacity(areaMM2 float64, cable IECCable, loaded int) (amps float64, err error) {
	r, err := findIEC(areaMM2)
	if err != nil {
		return 0, err
	}
	switch {
	case cable == Multicore && loaded == 2:
		return r.method2, nil
	case cable == Multicore && loaded == 3:
		return r.method3, nil
	case cable == FlatCable && loaded == 2:
		return r.flat, nil
	}
	return 0, fmt.Errorf("cable kind %d with %d loaded conductors: %w", cable, loaded, ErrNotTabulated)
}

// IECDrop returns the drop in volts from the tabulated figure.
//
//	V = (mV/A/m) I L / 1000
//
// I in ampere, L one-way length in m; no factor of 2, the table has it. NaN
// unless all are at least zero. Source: IECCables method (confirmed).
// Example: 18, 16 A, 18 m: 5.184 V.
func IECDrop(mVPerAM, amps, lengthM float64) float64 {
	if !notNegative(mVPerAM, amps, lengthM) {
		return math.NaN()
	}
	return mVPerAM * amps * lengthM / 1000
}

// IECDropLimitPct returns the voltage-drop limit in percent between the origin
// of the installation and the load.
//
//	public supply: 3 lighting, 5 other; private supply: 6 and 8
//	plus 0.005 per metre beyond 100 m, at most 0.5
//
// NaN for a negative length. Source: IECDropPublic (confirmed), IECDropOwn
// (from memory). Example: public, other uses, 150 m: 5.25.
func IECDropLimitPct(private, lighting bool, lengthM float64) float64 {
	if !notNegative(lengthM) {
		return math.NaN()
	}
	limit := 5.0
	switch {
	case private && lighting:
		limit = 6
	case private:
		limit = 8
	case lighting:
		limit = 3
	}
	return limit + math.Min(0.5, 0.005*math.Max(0, lengthM-100))
}
