package trade

import "math"

// Fall-off of a pressure regulator at its rated flow, psi below its setting.
// Its maker's curve is better. Source: RegulatorFall (common practice, no
// source).
const (
	RegulatorFallLowPSI  = 10.0
	RegulatorFallHighPSI = 15.0
)

// RegulatorFlowPSI returns what a regulator gives at its rated flow: the
// setting less a fall-off, between the two figures in use, never below zero.
//
//	low = setting - 15, high = setting - 10
//
// psi. What stands before it must be higher still: [RegulatorGives]. NaN
// unless the setting is positive. Source: RegulatorFall. Example: set at 60:
// 45 to 50 psi.
func RegulatorFlowPSI(settingPSI float64) (low, high float64) {
	if !positive(settingPSI) {
		return math.NaN(), math.NaN()
	}
	return math.Max(0, settingPSI-RegulatorFallHighPSI), math.Max(0, settingPSI-RegulatorFallLowPSI)
}

// RegulatorGives returns the least pressure behind a regulator at flow: it
// cannot give more than its supply has left at that flow, nor more than its
// setting less the fall-off. psi; NaN for a setting that is not positive or a
// negative supply. Source: RegulatorFall. Example: set at 60 with 40 psi left
// in the main: 40.
func RegulatorGives(settingPSI, supplyFlowingPSI float64) float64 {
	low, _ := RegulatorFlowPSI(settingPSI)
	if !notNegative(supplyFlowingPSI) {
		return math.NaN()
	}
	return math.Min(low, supplyFlowingPSI)
}

// A RegulatorState is what a gauge says of the regulator in front of it.
type RegulatorState int

const (
	RegulatorUnknown  RegulatorState = iota // a reading is missing
	RegulatorHolds                          // the gauge stands at or below the setting
	RegulatorExceeded                       // above it: failed, creeping, expansion, or the gauge stood upstream
)

// JudgeRegulator compares a static gauge reading with the setting on the
// regulator's tag, and returns the pressure that a machine behind it is judged
// at: the higher of the two, since until the gauge's place is known the higher
// may reach the machine. tolerancePSI is the gauge's own. psi; unknown and NaN
// for values that are not positive or a negative tolerance. Source:
// RegulatorCreep (common practice, no source). Example: 75 psi behind a tag of
// 60 with 2 psi of tolerance: exceeded, judged at 75.
func JudgeRegulator(gaugePSI, settingPSI, tolerancePSI float64) (RegulatorState, float64) {
	if !positive(gaugePSI, settingPSI) || !notNegative(tolerancePSI) {
		return RegulatorUnknown, math.NaN()
	}
	if gaugePSI-tolerancePSI > settingPSI {
		return RegulatorExceeded, gaugePSI
	}
	return RegulatorHolds, math.Max(gaugePSI, settingPSI)
}

// A Well is a pumped supply that swings between two pressures, psi.
type Well struct{ CutInPSI, CutOutPSI float64 }

// Valid reports whether both are positive and the pump stops above where it
// starts.
func (w Well) Valid() bool {
	return positive(w.CutInPSI, w.CutOutPSI) && w.CutInPSI < w.CutOutPSI
}

// Within reports whether the worst of both ends suits a machine: the cut-in is
// not below its least and the cut-out not above its greatest pressure. Neither
// for an invalid well or NaN. Source: WellSwitch for what the two are.
// Example: 30/50 for 35 to 75 psi: too low, not too high.
func (w Well) Within(leastPSI, greatestPSI float64) (lowOK, highOK bool) {
	if !w.Valid() {
		return false, false
	}
	return w.CutInPSI >= leastPSI, w.CutOutPSI <= greatestPSI
}

// SharedMain returns the pressure left when several flows run from one main at
// once, such as a hot and a cold line that part behind the same meter.
//
//	residual at the sum of the flows, see [FlowTest.ResidualAt]
//
// gpm and psi. ErrRange for negative flows, ErrCannot when the main hasn't
// that much. Source: NFPA291. Example: 60 psi static, 50 at 5 gpm, 4 and 3 gpm
// together: 41.4 psi.
func SharedMain(test FlowTest, flowsGPM ...float64) (float64, error) {
	sum := 0.0
	for _, q := range flowsGPM {
		if !notNegative(q) {
			return 0, rangeError("flow", q, "at least 0 gpm")
		}
		sum += q
	}
	return test.ResidualAt(sum)
}

// WorstImbalance returns the greater of the static and the flowing difference
// between hot and cold as shares of the higher, see [PressureImbalance]. A
// pair that wasn't read is NaN and left out; NaN when neither was. Source:
// PressureDiff. Example: static 60 and 60, flowing 30 and 50: 0.4.
func WorstImbalance(hotStaticPSI, coldStaticPSI, hotFlowPSI, coldFlowPSI float64) float64 {
	static := PressureImbalance(hotStaticPSI, coldStaticPSI)
	flowing := PressureImbalance(hotFlowPSI, coldFlowPSI)
	switch {
	case math.IsNaN(static):
		return flowing
	case math.IsNaN(flowing):
		return static
	}
	return math.Max(static, flowing)
}
