package trade

import (
	"fmt"
	"math"
)

// velocityFactor turns gpm over square inches into ft/s: 231/(60 x 12) x
// 4/pi = 0.408498. Handbooks print 0.4085, one of them 0.4087.
const velocityFactor = In3PerGal / (60 * InPerFt) * 4 / math.Pi

// VelocityFPS returns the mean velocity of a flow.
//
//	v = 0.4085 Q / d^2
//
// gpm, in, ft/s; NaN for a negative flow or a bore that is not positive.
// Source: friction handbooks, exact by definition of the units.
// Example: 3 gpm in 0.545 in: 4.126 ft/s.
func VelocityFPS(flowGPM, idIn float64) float64 {
	if !notNegative(flowGPM) || !positive(idIn) {
		return math.NaN()
	}
	return velocityFactor * flowGPM / (idIn * idIn)
}

// HazenWilliamsPSI returns the friction loss in psi.
//
//	p = 4.52 Q^1.852 / (C^1.852 d^4.8704) x L
//
// Q gpm, d in, L ft. Meant for water near 60 F and turbulent flow at about 3
// ft/s; it knows nothing of temperature. NaN unless C and d are positive and
// the rest at least zero. Source: HazenWilliams. Example: 3 gpm, C
// 150, 0.545 in, 100 ft: 6.20 psi.
func HazenWilliamsPSI(flowGPM, c, idIn, lengthFt float64) float64 {
	if !notNegative(flowGPM, lengthFt) || !positive(c, idIn) {
		return math.NaN()
	}
	return 4.52 * math.Pow(flowGPM/c, 1.852) / math.Pow(idIn, 4.8704) * lengthFt
}

// Reynolds returns the Reynolds number.
//
//	Re = v D / nu
//
// v ft/s, D in, nu m2/s; NaN for a negative velocity or a bore or viscosity
// that is not positive. Source: definition. Example: 4.1259 ft/s, 0.545 in,
// 1.12171e-6: 15520.
func Reynolds(velocityFPS, idIn, nuM2S float64) float64 {
	if !notNegative(velocityFPS) || !positive(idIn, nuM2S) {
		return math.NaN()
	}
	return velocityFPS * MPerFt * idIn * MPerIn / nuM2S
}

// Limits of the flow regimes.
const (
	ReLaminar   = 2000.0 // laminar below
	ReTurbulent = 4000.0 // turbulent above
)

// FrictionLaminar returns the Darcy friction factor of laminar flow, 64/Re;
// NaN unless 0 < Re <= 2000. Source: Hagen-Poiseuille (derived).
func FrictionLaminar(re float64) float64 {
	if !(re > 0 && re <= ReLaminar) {
		return math.NaN()
	}
	return 64 / re
}

// FrictionColebrook solves the Colebrook equation for the Darcy friction
// factor by Newton's method to 1e-12.
//
//	1/sqrt f = -2 log10( (eps/D)/3.7 + 2.51/(Re sqrt f) )
//
// NaN unless 4000 <= Re <= 1e8 and 0 <= eps/D <= 0.05. Source: Colebrook. Example: Re 1e5, smooth: 0.01798977.
func FrictionColebrook(re, relRough float64) float64 {
	if !(re >= ReTurbulent && re <= 1e8 && relRough >= 0 && relRough <= 0.05) {
		return math.NaN()
	}
	// Unknown x = 1/sqrt f; start from the explicit approximation.
	a, b := relRough/3.7, 2.51/re
	x := -2 * math.Log10(a+5.74/math.Pow(re, 0.9))
	for range 50 {
		g := x + 2*math.Log10(a+b*x)
		dg := 1 + 2*b/(math.Ln10*(a+b*x))
		next := x - g/dg
		if math.Abs(next-x) <= 1e-13*x {
			x = next
			break
		}
		x = next
	}
	return 1 / (x * x)
}

// FrictionFactor returns the Darcy friction factor in any regime: laminar to
// Re 2000, Colebrook from 4000, and between them a straight line in Re from
// 0.032 to Colebrook's value at 4000. The flow between is unstable and every
// figure there is a convention, good to perhaps 5 percent. NaN outside
// 0 < Re <= 1e8 and 0 <= eps/D <= 0.05. Source: Colebrook. Example: Re 3000,
// smooth: 0.03595.
func FrictionFactor(re, relRough float64) float64 {
	switch {
	case !(relRough >= 0 && relRough <= 0.05):
		return math.NaN()
	case re <= ReLaminar:
		return FrictionLaminar(re)
	case re >= ReTurbulent:
		return FrictionColebrook(re, relRough)
	case re > ReLaminar:
		lo, hi := FrictionLaminar(ReLaminar), FrictionColebrook(ReTurbulent, relRough)
		return lo + (hi-lo)*(re-ReLaminar)/(ReTurbulent-ReLaminar)
	}
	return math.NaN()
}

// DarcyHeadFt returns the head loss in feet of the flowing water.
//
//	h = f (L/D) v^2 / 2g
//
// f from [FrictionFactor]; Q gpm, D in, L ft, roughness mm, nu m2/s. Zero flow
// loses nothing. NaN where Re or roughness is out of range. Source: Colebrook.
// Example: 3 gpm, 0.545 in, 100 ft, 0.0015 mm, 60 F: 16.18 ft.
func DarcyHeadFt(flowGPM, idIn, lengthFt, roughMM, nuM2S float64) float64 {
	if !notNegative(flowGPM, lengthFt, roughMM) || !positive(idIn, nuM2S) {
		return math.NaN()
	}
	if flowGPM == 0 {
		return 0
	}
	v := VelocityFPS(flowGPM, idIn)
	f := FrictionFactor(Reynolds(v, idIn, nuM2S), roughMM/(idIn*MPerIn*1000))
	return f * lengthFt * InPerFt / idIn * v * v / (2 * GravityFtS2)
}

// DarcyPSI returns the pressure loss of water at a temperature, with the
// water's own density and viscosity.
//
//	p = rho g h
//
// Q gpm, D in, L ft, roughness mm, 32 to 212 F; NaN outside. Source: Colebrook,
// IAPWSIF97. Example: 3 gpm, 0.545 in, 100 ft, 0.0015 mm, 60 F: 7.008 psi.
func DarcyPSI(flowGPM, idIn, lengthFt, roughMM, tempF float64) float64 {
	h := DarcyHeadFt(flowGPM, idIn, lengthFt, roughMM, KinematicViscosityM2S(tempF))
	return h * PSIPerFt(tempF)
}

// PSIPerFt returns the pressure under a foot of water at a temperature,
// rho g; NaN outside 32 to 212 F. Source: IAPWSIF97. Example: 60 F: 0.4332.
func PSIPerFt(tempF float64) float64 {
	return WaterDensityKgM3(tempF) * GravityMS2 * MPerFt / PaPerPSI
}

// CodePSIPerFt is the pressure per foot of height that the plumbing code
// uses. Source: IPCElevation.
const CodePSIPerFt = 0.433

// ElevationPSI returns the pressure lost to a rise (or won by a drop, a
// negative rise) in psi: 0.433 per ft. Source: IPCElevation. Example: 20 ft:
// 8.66 psi.
func ElevationPSI(riseFt float64) float64 { return CodePSIPerFt * riseFt }

// A Fitting is a fitting or valve in the line.
type Fitting string

const (
	Elbow90       Fitting = "90 elbow"
	Elbow45       Fitting = "45 elbow"
	TeeBranch     Fitting = "tee, side branch"
	TeeRun        Fitting = "tee, run"
	BallValve     Fitting = "ball valve"
	GateValve     Fitting = "gate valve"
	GlobeValve    Fitting = "globe valve"
	AngleValve    Fitting = "angle valve"
	CheckValve    Fitting = "swing check valve"
	CheckClearway Fitting = "clearway swing check valve"
)

// A Joint is the way of jointing, which sets the table of equivalent lengths.
type Joint string

const (
	Soldered   Joint = "soldered copper"
	Threaded   Joint = "threaded"
	PVCSlips   Joint = "PVC slip"
	PEXInserts Joint = "PEX insert"
)

// fittingTables gives equivalent feet of tube. A zero in a table that lists
// the fitting means that the table grants no allowance, that is a negligible
// one. Sources: Soldered IPCE103Solder (from memory), Threaded IPCE103Thread
// (from memory), PVCSlips PVCSlip (read in a copy, one source).
var fittingTables = map[Joint]struct {
	source   Source
	fittings []Fitting
	rows     map[string][]float64
}{
	Soldered: {IPCE103Solder,
		[]Fitting{Elbow90, Elbow45, TeeBranch, TeeRun, BallValve, GateValve, CheckValve},
		map[string][]float64{
			"3/8": {0.5, 0, 1.5, 0, 0, 0, 1.5},
			"1/2": {1, 0.5, 2, 0, 0, 0, 2},
			"5/8": {1.5, 0.5, 2, 0, 0, 0, 2.5},
			"3/4": {2, 0.5, 3, 0, 0, 0, 3},
			"1":   {2.5, 1, 4.5, 0, 0.5, 0, 4.5},
		}},
	Threaded: {IPCE103Thread,
		[]Fitting{Elbow90, Elbow45, TeeBranch, TeeRun, GateValve, GlobeValve, AngleValve},
		map[string][]float64{
			"3/8": {1, 0.6, 1.5, 0.3, 0.2, 8, 4},
			"1/2": {2, 1.2, 3, 0.6, 0.4, 15, 8},
			"3/4": {2.5, 1.5, 4, 0.8, 0.5, 20, 12},
			"1":   {3, 1.8, 5, 0.9, 0.6, 25, 15},
		}},
	PVCSlips: {PVCSlip,
		[]Fitting{Elbow90, TeeBranch, TeeRun, Elbow45},
		map[string][]float64{
			"1/2": {1.5, 4, 1.0, 0.8},
			"3/4": {2.0, 5, 1.4, 1.0},
			"1":   {2.3, 6, 1.7, 1.4},
		}},
	// The narrow bore of the insert makes these long: they hold in feet of
	// the tube, without the fitting's bore being counted again.
	PEXInserts: {InsertLength,
		[]Fitting{Elbow90, TeeBranch, TeeRun},
		map[string][]float64{
			"3/8": {9.2, 9.4, 2.9},
			"1/2": {9.4, 10.4, 2.2},
			"3/4": {9.4, 8.9, 1.9},
			"1":   {10.0, 11.0, 2.3},
		}},
}

// EquivalentFt returns the equivalent length of a fitting in feet of its own
// tube. Softeners, filters, meters, regulators, backflow devices and solenoid
// valves have no equivalent length: take their loss from the device's curve.
// Example: soldered 3/4 in 90 elbow: 2 ft.
func EquivalentFt(joint Joint, fitting Fitting, nominal string) (lengthFt float64, src Source, err error) {
	t, ok := fittingTables[joint]
	if !ok {
		return 0, Source{}, noRow("fitting tables", string(joint))
	}
	row, ok := t.rows[nominal]
	if !ok {
		return 0, Source{}, noRow("fitting table, "+string(joint)+",", nominal)
	}
	for i, f := range t.fittings {
		if f == fitting {
			return row[i], t.source, nil
		}
	}
	return 0, Source{}, noRow("fitting table, "+string(joint)+",", string(fitting))
}

// LengthOverDiameter returns the equivalent length of a fitting in bores, for
// turbulent flow. Sources: CraneLD (elbows and tees, read in a copy), CraneLDMemory
// (valves, from memory). Example: 90 elbow 30.
func LengthOverDiameter(fitting Fitting) (ratio float64, src Source, err error) {
	switch fitting {
	case Elbow90:
		return 30, CraneLD, nil
	case Elbow45:
		return 16, CraneLD, nil
	case TeeRun:
		return 20, CraneLD, nil
	case TeeBranch:
		return 60, CraneLD, nil
	case GateValve:
		return 8, CraneLDMemory, nil
	case BallValve:
		return 3, CraneLDMemory, nil
	case CheckValve:
		return 100, CraneLDMemory, nil
	case CheckClearway:
		return 50, CraneLDMemory, nil
	case GlobeValve:
		return 340, CraneLDMemory, nil
	case AngleValve:
		return 150, CraneLDMemory, nil
	}
	return 0, Source{}, noRow("L/D table", string(fitting))
}

// EquivalentFtLD turns an L/D ratio into feet of a bore; NaN unless the bore
// is positive and the ratio at least zero. Source: CraneLD. Example: 30 and
// 0.785 in: 1.9625 ft.
func EquivalentFtLD(ratio, idIn float64) float64 {
	if !notNegative(ratio) || !positive(idIn) {
		return math.NaN()
	}
	return ratio * idIn / InPerFt
}

// A FlowTest is a measurement of pressure with nothing flowing and with a
// known flow at the same point.
type FlowTest struct {
	StaticPSI   float64
	ResidualPSI float64
	FlowGPM     float64
}

// flowExponent is 1/1.852 rounded as NFPA 291 prints it.
const flowExponent = 0.54

func (t FlowTest) valid() error {
	if !finite(t.StaticPSI, t.ResidualPSI, t.FlowGPM) || t.StaticPSI <= 0 || t.ResidualPSI < 0 {
		return fmt.Errorf("flow test of %v psi static, %v psi residual at %v gpm: %w", t.StaticPSI, t.ResidualPSI, t.FlowGPM, ErrRange)
	}
	if t.FlowGPM <= 0 {
		return rangeError("test flow", t.FlowGPM, "more than 0 gpm")
	}
	if t.ResidualPSI >= t.StaticPSI {
		return rangeError("residual pressure", t.ResidualPSI, fmt.Sprintf("less than the static %v psi", t.StaticPSI))
	}
	return nil
}

// FlowAt returns the flow at which the residual falls to a target.
//
//	Q2 = Q1 [ (Ps - P2) / (Ps - P1) ]^0.54
//
// psi and gpm; the target lies from 0 to below the static. Valid for loss that
// follows Q^1.85: plain pipe, not across a pressure regulator, pump or flow
// limiter. Source: NFPA291. Example: static 85, residual 72 at 1100
// gpm, target 20: 2623 gpm.
func (t FlowTest) FlowAt(targetPSI float64) (flowGPM float64, err error) {
	if err := t.valid(); err != nil {
		return 0, err
	}
	if !(targetPSI >= 0 && targetPSI < t.StaticPSI) {
		return 0, rangeError("target pressure", targetPSI, fmt.Sprintf("0 to below the static %v psi", t.StaticPSI))
	}
	return t.FlowGPM * math.Pow((t.StaticPSI-targetPSI)/(t.StaticPSI-t.ResidualPSI), flowExponent), nil
}

// ResidualAt returns the residual at another flow, the exact inverse of
// [FlowTest.FlowAt].
//
//	P2 = Ps - (Ps - P1) (Q2/Q1)^(1/0.54)
//
// ErrCannot when the flow would draw the pressure below zero. Source: NFPA291.
// Example: the test above at 1100 gpm: 72 psi.
func (t FlowTest) ResidualAt(flowGPM float64) (psi float64, err error) {
	if err := t.valid(); err != nil {
		return 0, err
	}
	if !notNegative(flowGPM) {
		return 0, rangeError("flow", flowGPM, "at least 0 gpm")
	}
	p := t.StaticPSI - (t.StaticPSI-t.ResidualPSI)*math.Pow(flowGPM/t.FlowGPM, 1/flowExponent)
	if p < 0 {
		if p > -1e-9*t.StaticPSI { // rounding at exactly zero
			return 0, nil
		}
		return 0, fmt.Errorf("a flow of %v gpm would draw the pressure below zero: %w", flowGPM, ErrCannot)
	}
	return p, nil
}

// ExtrapolationCaution says why an extrapolation is to be trusted less.
type ExtrapolationCaution struct {
	SmallDrop bool // the test drew the pressure down by less than 25 percent
	TooFar    bool // the flow sought is above 1.5 times the test flow
}

// Caution reports why an extrapolation to a flow is to be trusted less. The 25
// percent drop (or full demand) is NFPA291; 1.5 times is
// FlowTeamRule (common practice, no source).
func (t FlowTest) Caution(flowGPM float64) ExtrapolationCaution {
	return ExtrapolationCaution{
		SmallDrop: (t.StaticPSI-t.ResidualPSI) < 0.25*t.StaticPSI && flowGPM > t.FlowGPM,
		TooFar:    flowGPM > 1.5*t.FlowGPM,
	}
}
