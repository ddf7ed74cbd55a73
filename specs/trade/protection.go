package trade

import (
	"fmt"
	"math"
)

// Sources of this file.
var (
	IEC60898      = Source{"IEC", "", "60898-1 preferred rated currents", ReadCopy}
	IECAmbient    = Source{"IEC", "", "60364-5-52 clause 523, square-root rule of ambient", ReadCopy}
	IECGrouping   = Source{"IEC", "", "60364-5-52 Table B.52.17 item 1", FromMemory}
	IECMethodB2   = Source{"IEC", "", "60364-5-52 Tables B.52.2 and B.52.4, method B2", FromMemory}
	IECOverload   = Source{"IEC", "", "60364-4-43 clause 433.1", FromMemory}
	IECProtective = Source{"IEC", "", "60364-5-54 Table 54.7", FromMemory}
	IECResidual   = Source{"IEC", "", "60364-4-41 clause 411.3.3", FromMemory}
	IECIsolation  = Source{"IEC", "", "60364-5-53 clause 537", FromMemory}
	NEC400_12     = Source{"NEC", "2023", "400.12 and 110.3(B)", FromMemory}
	NEC422_30     = Source{"NEC", "2023", "422.30 and 210.4(B)", FromMemory}
	NEC210_21Seen = Source{"NEC", "2014", "210.21(B)(1)", ReadCopy}
	NEC422_31Edit = Source{"NEC", "2014 and 2017", "422.31(C)", ReadCopy}
)

// MaxProtection returns the largest standard overcurrent device that may
// protect a conductor: its usable ampacity, the next standard size up when
// 240.4(B) allows it (not for several outlets for portable loads, then the
// next one down), and never more than the small-conductor limit. Ampere.
// Source: NEC240_4B (from memory), NEC240_4D, NEC240_6. Example: 10 AWG
// copper, 35 A usable: 30 A; 8 AWG copper, 44 A usable: 45 A.
func MaxProtection(gauge string, metal Metal, usableA float64, severalOutlets bool, edition Edition) (float64, error) {
	if _, err := findWire(gauge); err != nil {
		return 0, err
	}
	step := NextStandardUp
	if severalOutlets {
		step = NextStandardDown
	}
	limit, err := step(usableA, edition)
	if err != nil {
		return 0, err
	}
	if small, ok := SmallConductorLimit(gauge, metal); ok {
		limit = math.Min(limit, small)
	}
	return limit, nil
}

// IECRatings returns the preferred rated currents of miniature breakers,
// ampere. Source: IEC60898.
func IECRatings() []float64 {
	return []float64{6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125}
}

// methodB2 is the ampacity of copper cable with 70 C thermoplastic insulation
// in conduit on a wall, 30 C, one circuit: 2 and 3 loaded conductors.
// Source: IECMethodB2 (from memory).
var methodB2 = map[float64][2]float64{
	1.5: {16.5, 15}, 2.5: {23, 20}, 4: {30, 27}, 6: {38, 34}, 10: {52, 46}, 16: {69, 62},
}

// IECConduitAmpacity returns the ampacity in ampere of copper cable in conduit
// on a wall with 2 or 3 loaded conductors. Source: IECMethodB2 (from memory).
// Example: 4 mm2, 3 loaded: 27.
func IECConduitAmpacity(areaMM2 float64, loaded int) (float64, error) {
	r, ok := methodB2[areaMM2]
	if !ok || loaded != 2 && loaded != 3 {
		return 0, noRow("method B2 table", fmt.Sprintf("%v mm2, %d loaded", areaMM2, loaded))
	}
	return r[loaded-2], nil
}

// IECAmbientFactor returns the ampacity correction for the ambient air.
//
//	Ca = sqrt((T(max) - T(ambient)) / (T(max) - 30))
//
// Degrees C, T(max) the insulation's rating. NaN unless T(max) is above 30;
// zero when the ambient reaches T(max). The printed table is this, rounded to
// two decimals. Source: IECAmbient (confirmed). Example: 70 C insulation at
// 40 C: 0.866.
func IECAmbientFactor(ambientC, insulationC float64) float64 {
	if !finite(ambientC, insulationC) || insulationC <= 30 {
		return math.NaN()
	}
	return math.Sqrt(math.Max(0, insulationC-ambientC) / (insulationC - 30))
}

// IECGroupingFactor returns the reduction for circuits bunched in one conduit
// or on one surface; a number between two printed ones takes the greater.
// Source: IECGrouping (from memory). Example: 2 circuits: 0.80.
func IECGroupingFactor(circuits int) (float64, error) {
	if circuits < 1 {
		return 0, rangeError("circuits", float64(circuits), "at least 1")
	}
	for _, r := range []struct {
		upTo   int
		factor float64
	}{{1, 1}, {2, 0.80}, {3, 0.70}, {4, 0.65}, {5, 0.60}, {6, 0.57}, {7, 0.54}, {8, 0.52}, {9, 0.50}, {12, 0.45}, {16, 0.41}, {20, 0.38}} {
		if circuits <= r.upTo {
			return r.factor, nil
		}
	}
	return 0, rangeError("circuits", float64(circuits), "no more than 20")
}

// ProtectiveMM2 returns the protective conductor that needs no calculation:
// the line conductor's area up to 16 mm2, 16 mm2 up to 35, half of it above.
// A smaller one can be proved by calculation. NaN unless positive. Source:
// IECProtective (from memory). Example: 4 mm2 gives 4.
func ProtectiveMM2(lineMM2 float64) float64 {
	switch {
	case !positive(lineMM2):
		return math.NaN()
	case lineMM2 <= 16:
		return lineMM2
	case lineMM2 <= 35:
		return 16
	}
	return lineMM2 / 2
}
