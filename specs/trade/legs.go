package trade

import (
	"math"
	"slices"
)

// Sources of this file.
var (
	NEMAUnbalance    = Source{"NEMA", "", "MG 1, voltage unbalance", ReadCopy}
	ANSIUnbalance    = Source{"ANSI", "", "C84.1 annex, voltage unbalance", ReadCopy}
	NegativeSequence = Source{"IEC", "", "61000-4-30, unbalance from line voltages", FromMemory}
	EN50160Balance   = Source{"EN", "", "50160, supply voltage unbalance", FromMemory}
	NEC240_85        = Source{"NEC", "2002 to 2023", "240.85", ReadCopy}
	NEC240_83C       = Source{"NEC", "2014 to 2023", "240.83(C)", ReadCopy}
	NEC110_9         = Source{"NEC", "2014 to 2023", "110.9 and 110.24", ReadCopy}
	IECInterrupt     = Source{"IEC", "", "60364-4-43 clause 434.5.1", FromMemory}
	LegPractice      = Source{"Legs of a supply alike to 5 V", "", "", CommonPractice}
)

// LegToleranceV returns how far two legs of a supply may differ to neutral
// before its neutral and connections are looked at, in volts: 5 V, on supplies
// above 125 V to neutral 4 %, the same share. Source: LegPractice (common
// practice, no source). Example: 120 V gives 5, 230 V gives 9.2.
func LegToleranceV(toNeutralV float64) float64 { return math.Max(5, 0.04*toNeutralV) }

// LineToleranceV returns how far a line voltage may be off what its legs add
// up to, in volts: 5 V, above 200 V 2.5 %. Source: LegPractice (common
// practice, no source). Example: 240 V gives 6.
func LineToleranceV(lineV float64) float64 { return math.Max(5, 0.025*lineV) }

// Limits of voltage unbalance as shares. They are advice to users, not
// requirements. Sources: ANSIUnbalance, at no load; EN50160Balance.
const (
	UnbalanceANSI = 0.03
	UnbalanceEN   = 0.02
)

// VoltageUnbalance returns the unbalance of three line voltages as a share.
//
//	u = largest deviation from the mean / mean
//
// NaN unless all are positive. Source: NEMAUnbalance. Example: 203, 210 and
// 212 V give 0.0256.
func VoltageUnbalance(ab, bc, ca float64) float64 {
	if !positive(ab, bc, ca) {
		return math.NaN()
	}
	mean := (ab + bc + ca) / 3
	return math.Max(math.Abs(ab-mean), math.Max(math.Abs(bc-mean), math.Abs(ca-mean))) / mean
}

// UnbalanceFactor returns the negative sequence of three line voltages as a
// share of the positive one, which is what EN 50160 limits.
//
//	b = (V_AB^4 + V_BC^4 + V_CA^4) / (V_AB^2 + V_BC^2 + V_CA^2)^2
//	u = sqrt((1 - sqrt(3 - 6 b)) / (1 + sqrt(3 - 6 b)))
//
// NaN unless all are positive and make up a triangle, as line voltages do.
// Source: NegativeSequence. Example: 400, 410 and 390 V give 0.0289.
func UnbalanceFactor(ab, bc, ca float64) float64 {
	if !positive(ab, bc, ca) {
		return math.NaN()
	}
	a, b, c := ab*ab, bc*bc, ca*ca
	beta := (a*a + b*b + c*c) / ((a + b + c) * (a + b + c))
	root := 3 - 6*beta
	if root < 0 {
		return math.NaN()
	}
	return math.Sqrt(math.Max(0, 1-math.Sqrt(root)) / (1 + math.Sqrt(root)))
}

// A BreakerVoltage is what a breaker may switch by the voltage marked on it:
// volts between its lines, and from a line to ground. A slash rating holds to
// its lower value to ground, a straight rating to its whole one. Source:
// NEC240_85.
type BreakerVoltage struct {
	Marking      string
	Line, Ground float64
}

var breakerVoltages = []BreakerVoltage{
	{"120", 120, 120}, {"120/240", 240, 120}, {"240", 240, 240}, {"277", 277, 277}, {"347", 347, 347},
	{"480Y/277", 480, 277}, {"480", 480, 480}, {"600Y/347", 600, 347}, {"600", 600, 600},
}

// FindBreakerVoltage looks a marking up.
func FindBreakerVoltage(marking string) (BreakerVoltage, bool) {
	i := slices.IndexFunc(breakerVoltages, func(b BreakerVoltage) bool { return b.Marking == marking })
	if i < 0 {
		return BreakerVoltage{}, false
	}
	return breakerVoltages[i], true
}

// Carries says whether the breaker may switch conductors of these nominal
// voltages. Source: NEC240_85. Example: 120/240 may not switch the 208 V to
// ground of a high leg, 240 may.
func (b BreakerVoltage) Carries(lineV, groundV float64) bool {
	return b.Line >= lineV && b.Ground >= groundV
}

// BreakerMarking returns the lowest usual marking that carries these voltages
// with the given poles; small breakers are marked 120/240, those of three poles
// never. ok is false when none does. Source: NEC240_85.
func BreakerMarking(lineV, groundV float64, poles int) (marking string, ok bool) {
	for _, b := range breakerVoltages {
		if b.Marking == "120" || poles > 1 && (b.Marking == "277" || b.Marking == "347") || poles > 2 && b.Marking == "120/240" {
			continue
		}
		if b.Carries(lineV, groundV) {
			return b.Marking, true
		}
	}
	return "", false
}

// UnmarkedInterruptingA is the interrupting rating of a breaker that carries
// no marking of one, ampere. Source: NEC240_83C.
const UnmarkedInterruptingA = 5000.0

// InterruptingRatings returns the usual interrupting ratings of breakers,
// ampere, the least first. Common practice, no source.
func InterruptingRatings() []float64 {
	return []float64{6000, 10000, 14000, 22000, 25000, 35000, 42000, 65000, 100000, 200000}
}

// SubdivideAboveA is the current above which resistance heating is subdivided,
// ampere; see HeaterSubdivisions. Source: NEC422_11F (from memory).
const SubdivideAboveA = 48.0

// FullRatedFromA is the smallest breaker that is made listed for 100 % of its
// rating, ampere. Common practice, no source.
const FullRatedFromA = 100.0
