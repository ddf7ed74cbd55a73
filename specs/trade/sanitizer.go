package trade

import "fmt"

// A WasherKind is a spray-type warewashing machine as the Food Code sorts them.
type WasherKind int

const (
	StationarySingleTemp WasherKind = iota + 1 // hot water sanitising
	StationaryDualTemp                         // hot water sanitising
	ConveyorSingleTank                         // hot water sanitising, dual temperature
	ConveyorMultiTank                          // hot water sanitising
	ChemicalSpray                              // chemical sanitising, any spray type
)

// String returns the kind in words.
func (k WasherKind) String() string {
	switch k {
	case StationarySingleTemp:
		return "stationary rack, single temperature, hot water sanitising"
	case StationaryDualTemp:
		return "stationary rack, dual temperature, hot water sanitising"
	case ConveyorSingleTank:
		return "single tank, conveyor, dual temperature, hot water sanitising"
	case ConveyorMultiTank:
		return "multitank, conveyor, multitemperature, hot water sanitising"
	case ChemicalSpray:
		return "chemical sanitising, spray type"
	}
	return "unknown kind of machine"
}

// WashMinF returns the least wash temperature in degrees F. The data plate may
// ask more. Source: FoodCode4_501_110 (confirmed). Example: chemical 120.
func WashMinF(kind WasherKind) (float64, error) {
	switch kind {
	case StationarySingleTemp:
		return 165, nil
	case StationaryDualTemp, ConveyorMultiTank:
		return 150, nil
	case ConveyorSingleTank:
		return 160, nil
	case ChemicalSpray:
		return 120, nil
	}
	return 0, rangeError("kind of machine", float64(kind), "one of the Food Code's")
}

// Hot-water sanitising, degrees F. Sources: FoodCode4_501_112,
// FoodCode4_703_11, FoodCode4_501_111 (confirmed).
const (
	ManifoldMaxF    = 194.0 // fresh rinse as it enters the manifold
	UtensilSurfaceF = 160.0 // by irreversible indicator
	ManualHotF      = 171.0 // manual immersion
)

// ManifoldMinF returns the least temperature of the fresh hot-water sanitising
// rinse at the manifold: 165 F for stationary rack single temperature, 180 F
// for the others. A chemical machine has none: ErrRange. Source:
// FoodCode4_501_112 (confirmed).
func ManifoldMinF(kind WasherKind) (float64, error) {
	switch kind {
	case StationarySingleTemp:
		return 165, nil
	case StationaryDualTemp, ConveyorSingleTank, ConveyorMultiTank:
		return 180, nil
	}
	return 0, fmt.Errorf("%v has no hot-water sanitising rinse: %w", kind, ErrRange)
}

// Flow pressure of the fresh hot-water sanitising rinse in psi, measured in
// the line at the rinse control valve. Some states still print 15 to 25.
// Source: FoodCode4_501_113 (confirmed).
const (
	RinsePressureMinPSI = 5.0
	RinsePressureMaxPSI = 30.0
)

// RinsePressureApplies reports whether the 5 to 30 psi rule covers a rinse: a
// fresh hot-water sanitising rinse only. It is no limit of the supply line and
// covers neither a chemical-sanitising nor a pumped rinse. Source:
// FoodCode4_501_113.
func RinsePressureApplies(kind WasherKind, pumped bool) bool {
	return kind >= StationarySingleTemp && kind <= ConveyorMultiTank && !pumped
}

// RinsePressureOK reports whether a flow pressure lies in the rule's range;
// NaN does not. The data plate's range holds as well. Source: FoodCode4_501_113.
func RinsePressureOK(psi float64) bool {
	return psi >= RinsePressureMinPSI && psi <= RinsePressureMaxPSI
}

// ChlorineMinF returns the least temperature in degrees F at which a chlorine
// solution sanitises.
//
//	mg/L     pH to 10   pH to 8
//	25-49    120        120
//	50-99    100         75
//	100       55         55
//
// Below 25 mg/L or above pH 10 no row applies: ErrRange. Above 100 mg/L the
// last row is taken; the label's upper limit is not checked. The registered
// label governs. Source: FoodCode4_501_114 (confirmed), concentrations
// FoodCodeChlorine (from memory). Example: 50 mg/L at pH 8: 75 F.
func ChlorineMinF(mgL, pH float64) (float64, error) {
	if !(mgL >= 25) || !finite(mgL) {
		return 0, rangeError("chlorine", mgL, "at least 25 mg/L")
	}
	if !(pH > 0 && pH <= 10) {
		return 0, rangeError("pH of the chlorine solution", pH, "no more than 10")
	}
	switch {
	case mgL < 50:
		return 120, nil
	case mgL >= 100:
		return 55, nil
	case pH <= 8:
		return 75, nil
	}
	return 100, nil
}

// ChlorineFloorF is the temperature below which no chlorine row applies.
// Source: FoodCode4_501_114 (confirmed).
const ChlorineFloorF = 55.0

// ChlorineContactS returns the contact time of a chlorine solution in seconds:
// 7 for 50 mg/L at pH to 10 and 100 F, or pH to 8 and 75 F, otherwise 10.
// Source: FoodCode4_703_11 (confirmed). ErrRange where no row of
// [ChlorineMinF] allows the temperature.
func ChlorineContactS(mgL, pH, tempF float64) (float64, error) {
	min, err := ChlorineMinF(mgL, pH)
	if err != nil {
		return 0, err
	}
	if !(tempF >= min) {
		return 0, rangeError("temperature of the chlorine solution", tempF, fmt.Sprintf("at least %v F", min))
	}
	if mgL >= 50 && (pH <= 8 && tempF >= 75 || tempF >= 100) {
		return 7, nil
	}
	return 10, nil
}

// OtherContactS is the contact time of the other chemicals in seconds. Source:
// FoodCode4_703_11 (confirmed).
const OtherContactS = 30.0

// Limits of iodine and quaternary ammonium solutions. Source:
// FoodCode4_501_114 (confirmed).
const (
	IodineMinF         = 68.0
	IodineMaxPH        = 5.0 // or the maker's limit
	IodineMinMgL       = 12.5
	IodineMaxMgL       = 25.0
	QuatMinF           = 75.0
	QuatMaxHardnessMgL = 500.0 // or the label's limit; concentration per label
	ThermometerErrorF  = 3.0   // FoodCode4_203_12
	GaugeIncrementPSI  = 1.0   // FoodCode4_203_13, from memory
	GaugeAccuracyPSI   = 2.0   // FoodCode4_203_13, from memory
)

// A Sanitizer is a chemical that sanitises glasses.
type Sanitizer int

const (
	Chlorine Sanitizer = iota + 1
	Iodine
	Quat
)

// SanitizerFloorF returns the temperature in degrees F below which a chemical
// cannot sanitise whatever its strength: chlorine 55, iodine 68, quat 75. A
// cold-water rinse in winter may lie below. Source: FoodCode4_501_114.
func SanitizerFloorF(s Sanitizer) (float64, error) {
	switch s {
	case Chlorine:
		return ChlorineFloorF, nil
	case Iodine:
		return IodineMinF, nil
	case Quat:
		return QuatMinF, nil
	}
	return 0, rangeError("sanitizer", float64(s), "chlorine, iodine or quat")
}

// IodineFaults returns what keeps an iodine solution from sanitising; an empty
// list is none. Source: FoodCode4_501_114 (confirmed).
func IodineFaults(mgL, pH, tempF float64) []string {
	var why []string
	if !(mgL >= IodineMinMgL && mgL <= IodineMaxMgL) {
		why = append(why, fmt.Sprintf("iodine at %v mg/L, want 12.5 to 25", mgL))
	}
	if !(pH > 0 && pH <= IodineMaxPH) {
		why = append(why, fmt.Sprintf("pH %v, want no more than 5.0 or the maker's limit", pH))
	}
	if !(tempF >= IodineMinF) {
		why = append(why, fmt.Sprintf("%v F, want at least 68 F", tempF))
	}
	return why
}

// QuatFaults returns what keeps a quaternary ammonium solution from
// sanitising, its concentration (per label) aside. Source: FoodCode4_501_114.
func QuatFaults(hardnessMgL, tempF float64) []string {
	var why []string
	if !(hardnessMgL >= 0 && hardnessMgL <= QuatMaxHardnessMgL) {
		why = append(why, fmt.Sprintf("hardness %v mg/L, want no more than 500 or the label's limit", hardnessMgL))
	}
	if !(tempF >= QuatMinF) {
		why = append(why, fmt.Sprintf("%v F, want at least 75 F", tempF))
	}
	return why
}

// FoodCodeAirGapIn returns the air gap between a water inlet and a flood rim:
// the larger of twice the inlet diameter and 1 in. NaN unless positive.
// Source: FoodCode5_202_13 (from memory). Example: 3/4 in: 1.5 in.
func FoodCodeAirGapIn(inletIn float64) float64 { return AirGapIn(inletIn) }
