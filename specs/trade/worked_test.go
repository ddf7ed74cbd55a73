package trade

import (
	"fmt"
	"testing"
)

// The worked values of doc comments that no other test repeats. Their figures
// follow from the formula beside them; the outside values are in the tests
// named after their sources.
func TestWorkedValues(t *testing.T) {
	near(t, "VelocityFPS", VelocityFPS(3, 0.545), 4.126, 0.0005)
	near(t, "velocity factor, handbooks 0.4085", velocityFactor, 0.4085, 0.00001)
	near(t, "HazenWilliamsPSI", HazenWilliamsPSI(3, 150, 0.545, 100), 6.20, 0.005)
	near(t, "Reynolds", Reynolds(4.1259, 0.545, 1.12171e-6), 15520, 1)
	near(t, "FrictionFactor", FrictionFactor(3000, 0), 0.03595, 0.000005)
	near(t, "DarcyHeadFt", DarcyHeadFt(3, 0.545, 100, 0.0015, KinematicViscosityM2S(60)), 16.18, 0.005)
	near(t, "DarcyPSI", DarcyPSI(3, 0.545, 100, 0.0015, 60), 7.008, 0.0005)
	near(t, "PSIPerFt", PSIPerFt(60), 0.4332, 0.00005)
	near(t, "code against density", PSIPerFt(60)/CodePSIPerFt, 1, 0.001)
	near(t, "NextStandardUp", value[float64](t)(NextStandardUp(118.75, NEC2023)), 125, 0)
	near(t, "NextStandardDown", value[float64](t)(NextStandardDown(118.75, NEC2023)), 110, 0)
	near(t, "HeatUpMin", HeatUpMin(4, 60, 150, 2, 1), 26.37, 0.005)
	near(t, "CornerLengthIn", CornerLengthIn(36, 48, 0), 118.4, 0.05)
	near(t, "ManningDepth", value[float64](t)(ManningDepth(1.610, 0.009, 0.25, 7.8636)), 0.5, 0.00005)
	near(t, "MotorCurrentA", MotorCurrentA(10, 230, 208), 11.06, 0.005)
	near(t, "ElevationPSI of a drop", ElevationPSI(-10), -4.33, 1e-12)
	near(t, "NominalIn", value[float64](t)(NominalIn("1-1/2")), 1.5, 0)
	near(t, "AmbientFactor", value[float64](t)(AmbientFactor(40, Col75)), 0.88, 0)

	// Units that hold by definition.
	near(t, "Btu/h per kW, published 3412.14", BtuHPerKW, 3412.14, 0.005)
	near(t, "W per Btu/h", WPerBtuH*BtuHPerKW, 1000, 1e-6)
	near(t, "psi in Pa", PaPerPSI, KgPerLb*GravityMS2/(MPerIn*MPerIn), 1e-6)
	near(t, "gallon in litres", LPerGal, In3PerGal*MPerIn*MPerIn*MPerIn*1000, 1e-12)
}

// The gauges are ordered and known.
func TestGauges(t *testing.T) {
	for i, a := range Gauges() {
		for j, b := range Gauges() {
			n, err := CompareGauges(a, b)
			ok(t, a, err)
			same(t, a+" against "+b, sign(n), sign(i-j))
		}
	}
	_, err := CompareGauges("12", "x")
	fails(t, "x", err, ErrNotTabulated)
	_, err = CompareGauges("x", "12")
	fails(t, "x", err, ErrNotTabulated)
	_, err = CircularMils("x")
	fails(t, "x", err, ErrNotTabulated)
	_, err = Resistance("x", Copper, Solid)
	fails(t, "x", err, ErrNotTabulated)
	_, err = Resistance("12", 0, Solid)
	fails(t, "no metal", err, ErrNotTabulated)
	_, err = EGCUpsized(50, Copper, "x", "8")
	fails(t, "x", err, ErrNotTabulated)
	isNaN(t, "no leg", HighLegToNeutralV(0))
	isNaN(t, "no power", LineCurrentA(0, 208, 1, 1))
	isNaN(t, "no current", LinePowerW(0, 208, 1, 1))
	_, err = NextStandardDown(150, 1)
	fails(t, "edition", err, ErrRange)
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// Every enumeration has words, and none for what it does not know.
func TestWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Copper.String(), "copper"}, {Aluminum.String(), "aluminum"}, {Metal(0).String(), "unknown metal"},
		{ReadText.String(), "read in its own text"}, {ReadCopy.String(), "read in a secondary text"}, {FromMemory.String(), "from memory"}, {CommonPractice.String(), "common practice, no source"},
		{Derived.String(), "derived"}, {Mark(0).String(), "unmarked"},
		{GFCIRequired.String(), "required"}, {GFCINotRequired.String(), "not required"}, {GFCIAnswer(0).String(), "no answer"},
		{Wye208Y120.String(), "208Y/120 V three-phase"}, {fmt.Sprint(NEC310_16), "NEC 2023 Table 310.16 (read in a secondary text)"},
	} {
		same(t, "words", c.got, c.want)
	}
}
