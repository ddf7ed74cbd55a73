package trade

import "fmt"

// Sources of how soon a fault to earth is cut off.
var (
	FaultLoopTN = Source{"BS 7671", "2018 with amendment 2", "411.4.4 and Table 41.3", ReadCopy} // two trade sites print the rule and the table
	FaultLoopIE = Source{"IEC", "", "60364-4-41 clause 411.4.4", FromMemory}
	FaultLoopTT = Source{"BS 7671", "", "Table 41.5, R_A × I_Δn of no more than 50 V", ReadCopy} // an engineers' forum quotes it
	// FaultLoopCold: what is measured cold may be no more than 80 % of the limit,
	// since conductors warm up under load.
	FaultLoopCold = Source{"BS 7671", "2018 with amendment 2", "Appendix 3, 80 % of the limit when measured", ReadCopy}
	// IECCurves: a breaker of curve B, C or D trips at once at no more than 5,
	// 10 and 20 times its rating.
	IECCurves = Source{"IEC", "", "60898-1", ReadCopy}
)

// Shares and limits of the fault loop.
const (
	LoopVoltageFactor = 0.95 // the least voltage of the supply over its nominal one. Source: FaultLoopTN
	LoopColdShare     = 0.8  // Source: FaultLoopCold
	TouchVoltageV     = 50.0 // Source: FaultLoopTT
	ElectrodeSteady   = 200. // ohm; an electrode of more may dry out. An on-site guide, as an engineers' forum quotes it
)

// MaxLoopOhm is the greatest earth fault loop impedance, in ohm, at which a
// breaker of curve B, C or D trips at once.
//
//	Zs <= 0.95 U0 / (k In); k = 5, 10, 20
//
// u0 is the nominal voltage to earth in V, amps the breaker's rating; both
// above zero. Source: FaultLoopTN, IECCurves. Example: 230 V, B, 16 A: 2.73 ohm.
func MaxLoopOhm(u0, amps float64, curve string) (float64, error) {
	k, ok := map[string]float64{"B": 5, "C": 10, "D": 20}[curve]
	if !ok || !(u0 > 0) || !(amps > 0) {
		return 0, fmt.Errorf("no loop impedance for curve %q, %v A, %v V", curve, amps, u0)
	}
	return LoopVoltageFactor * u0 / (k * amps), nil
}

// MaxElectrodeOhm is the greatest resistance to earth, in ohm, with a
// residual-current device of the given rating in mA.
//
//	R_A <= 50 V / I_dn
//
// Source: FaultLoopTT. Example: 30 mA: 1667 ohm.
func MaxElectrodeOhm(residualMA float64) float64 { return TouchVoltageV / (residualMA / 1000) }
