package trade

import (
	"fmt"
	"math"
)

// A CodeFamily is a model plumbing code.
type CodeFamily string

const (
	IPC  CodeFamily = "IPC"
	UPC  CodeFamily = "UPC"
	NSPC CodeFamily = "NSPC"
)

// MinSlopeInPerFt returns the least slope of horizontal drainage in inches per
// foot.
//
//	IPC:  to 2-1/2 in 1/4; 3 to 6 in 1/8; 8 in and larger 1/16
//	UPC:  1/4; with the authority's approval 1/8 for 4 in and larger
//	NSPC: to 2 in 1/4; 3 in and larger 1/8
//
// approved is the authority's approval under the UPC and has no meaning
// elsewhere. Sources: IPC704_1, UPC708, NSPCAppK, UPC708Large (from
// memory; some adopted texts say 3 in). A size between two rows takes the
// steeper one. Example: IPC, 1-1/2: 0.25.
func MinSlopeInPerFt(code CodeFamily, nominal string, approved bool) (float64, error) {
	size, err := NominalIn(nominal)
	if err != nil {
		return 0, err
	}
	switch code {
	case IPC:
		switch {
		case size >= 8:
			return 0.0625, nil
		case size >= 3:
			return 0.125, nil
		}
		return 0.25, nil
	case UPC:
		if approved && size >= 4 {
			return 0.125, nil
		}
		return 0.25, nil
	case NSPC:
		if size >= 3 {
			return 0.125, nil
		}
		return 0.25, nil
	}
	return 0, noRow("plumbing codes", string(code))
}

// SlopeRatio turns a slope in inches per foot into feet per foot. Example:
// 0.25 is 0.0208333.
func SlopeRatio(inPerFt float64) float64 { return inPerFt / InPerFt }

// WasherBranchMin is the smallest drain of a receptor that takes a washer of
// more than one fixture unit under the UPC, and of a floor drain or floor sink
// under either code. Sources: UPC703_2Note, UPCReceptor (read in copies),
// IPC709_1 (from memory).
const WasherBranchMin = "2"

// TrapArmMinIn returns the shortest trap arm, from trap weir to vent, twice the
// pipe's bore, inches; NaN unless positive. Source: IPC909_2. Example: 2 in
// bore: 4 in.
func TrapArmMinIn(boreIn float64) float64 {
	if !positive(boreIn) {
		return math.NaN()
	}
	return 2 * boreIn
}

// TrapArmMaxFt returns the longest developed length from trap weir to vent and
// the slope it is given for. Sources: IPC909_1, UPC1002_2 (distances
// read in a copy, slopes from memory). Example: IPC 1-1/2: 6 ft; UPC: 3.5 ft.
func TrapArmMaxFt(code CodeFamily, nominal string) (maxFt, slopeInPerFt float64, err error) {
	rows := map[string][3]float64{
		"1-1/4": {5, 2.5, 0.25}, "1-1/2": {6, 3.5, 0.25}, "2": {8, 5, 0.25},
		"3": {12, 6, 0.125}, "4": {16, 10, 0.125},
	}
	r, ok := rows[nominal]
	if !ok {
		return 0, 0, noRow("trap arm table", nominal)
	}
	switch code {
	case IPC:
		return r[0], r[2], nil
	case UPC:
		return r[1], 0.25, nil
	}
	return 0, 0, noRow("trap arm tables", string(code))
}

// Seal of a trap, inches. Source: IPC1002.
const (
	TrapSealMinIn = 2.0
	TrapSealMaxIn = 4.0
)

// A Standpipe holds the height range of a standpipe above its trap weir, and
// of the trap above the floor where the code gives one, inches.
type Standpipe struct {
	MinIn, MaxIn         float64
	TrapMinIn, TrapMaxIn float64
	Source               Source
}

// StandpipeHeights returns the standpipe rule. Sources: IPC802_4_3 (read
// in a copy), UPC804_1 (read in a copy; clothes-washer wording). Example: UPC 18 to
// 30 in.
func StandpipeHeights(code CodeFamily) (Standpipe, error) {
	switch code {
	case IPC:
		return Standpipe{MinIn: 18, MaxIn: 42, Source: IPC802_4_3}, nil
	case UPC:
		return Standpipe{MinIn: 18, MaxIn: 30, TrapMinIn: 6, TrapMaxIn: 18, Source: UPC804_1}, nil
	}
	return Standpipe{}, noRow("standpipe rules", string(code))
}

// AirGapIn returns the air gap of an indirect waste pipe.
//
//	gap = max(2 d, 1 in)
//
// d is the effective opening in inches, its actual bore where known: 1-1/2 in
// Schedule 40 has 1.610 and needs 3.22, not 3.00. NaN unless positive. Source:
// AirGapRule, the strictest of the texts. Example: 1.5 in: 3.0 in.
func AirGapIn(openingIn float64) float64 {
	if !positive(openingIn) {
		return math.NaN()
	}
	return math.Max(2*openingIn, 1)
}

// IndirectLimits are the lengths of an indirect waste pipe, inches.
type IndirectLimits struct {
	HorizontalIn float64 // horizontal length up to which no trap is needed
	DevelopedIn  float64 // total length up to which none is needed
	TreatedIn    float64 // from here the code doesn't treat it: ask the authority; zero without
	Source       Source
}

// IndirectWaste returns the trap rule of indirect waste pipes.
//
//	IPC: trap when over 30 in horizontal or over 54 in in total
//	UPC: trap when over 5 ft in total; 15 ft and more is not treated
//
// Cities bound the length under the IPC as well. Sources: IPC802_3, UPC803_3.
func IndirectWaste(code CodeFamily) (IndirectLimits, error) {
	switch code {
	case IPC:
		return IndirectLimits{HorizontalIn: 30, DevelopedIn: 54, Source: IPC802_3}, nil
	case UPC:
		return IndirectLimits{HorizontalIn: 5 * InPerFt, DevelopedIn: 5 * InPerFt, TreatedIn: 15 * InPerFt, Source: UPC803_3}, nil
	}
	return IndirectLimits{}, noRow("indirect waste rules", string(code))
}

// SewerLimitF is the hottest water that may enter a sewer, degrees F. Sources:
// IPC701_7 (from memory), UPC810_1. A local sewer-use limit can be lower: 120 F
// is one such; ask.
const SewerLimitF = 140.0

// manningK turns the SI form of Manning's equation to feet: (1/0.3048)^(1/3).
var manningK = math.Cbrt(1 / MPerFt)

// A PipeFlow is uniform flow in a round pipe.
type PipeFlow struct {
	AreaFt2      float64
	PerimeterFt  float64 // wetted
	RadiusFt     float64 // hydraulic
	VelocityFPS  float64
	FlowGPM      float64
	DepthOverDia float64
}

// Manning returns uniform flow in a round pipe at a relative depth.
//
//	V = (k/n) R^(2/3) S^(1/2),  k = 1.48592
//	theta = 2 acos(1 - 2 y/D),  A = D^2/8 (theta - sin theta),  P = D theta/2
//	R = A/P,  Q = A V
//
// Bore in inches, n dimensionless, slope in inches per foot, y/D above 0 and
// at most 1. ErrRange outside. Steady flow only: a dump from a tank is not.
// Source: ManningEq. Example: 1.610 in, n 0.009, 1/4, half full:
// 2.4785 fps and 7.8636 gpm.
func Manning(boreIn, n, slopeInPerFt, depthOverDia float64) (PipeFlow, error) {
	if !positive(boreIn, n, slopeInPerFt) || !(depthOverDia > 0 && depthOverDia <= 1) {
		return PipeFlow{}, fmt.Errorf("bore %v in, n %v, slope %v in/ft, depth %v: %w", boreIn, n, slopeInPerFt, depthOverDia, ErrRange)
	}
	d := boreIn / InPerFt
	theta := 2 * math.Acos(1-2*depthOverDia)
	f := PipeFlow{DepthOverDia: depthOverDia}
	f.AreaFt2 = d * d / 8 * (theta - math.Sin(theta))
	f.PerimeterFt = d * theta / 2
	f.RadiusFt = f.AreaFt2 / f.PerimeterFt
	f.VelocityFPS = manningK / n * math.Cbrt(f.RadiusFt*f.RadiusFt) * math.Sqrt(SlopeRatio(slopeInPerFt))
	f.FlowGPM = f.AreaFt2 * f.VelocityFPS * GPMPerCFS
	return f, nil
}

// Relative depths in use.
const (
	HalfFull      = 0.5 // design depth of sanitary branches, NSPCAppK
	TwoThirdsFull = 2.0 / 3
	FullBore      = 1.0
)

// manningPeakDepth is the relative depth of greatest flow in a round pipe.
const manningPeakDepth = 0.938

// ManningDepth returns the relative depth at which a pipe carries a flow, the
// inverse of [Manning] up to y/D 0.938 where the flow peaks at 1.076 times
// full bore. ErrCannot when the pipe cannot carry it. Source: ManningEq.
// Example: 7.8636 gpm in the pipe above: 0.5.
func ManningDepth(boreIn, n, slopeInPerFt, flowGPM float64) (float64, error) {
	peak, err := Manning(boreIn, n, slopeInPerFt, manningPeakDepth)
	if err != nil {
		return 0, err
	}
	if !positive(flowGPM) {
		return 0, rangeError("flow", flowGPM, "more than 0 gpm")
	}
	if flowGPM > peak.FlowGPM {
		return 0, fmt.Errorf("%v gpm in a pipe that carries at most %.2f gpm: %w", flowGPM, peak.FlowGPM, ErrCannot)
	}
	lo, hi := 0.0, manningPeakDepth
	for range 200 {
		mid := (lo + hi) / 2
		f, err := Manning(boreIn, n, slopeInPerFt, mid)
		if err != nil || mid == lo || mid == hi {
			break
		}
		if f.FlowGPM < flowGPM {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}

// A ManningRange is Manning's n: Smooth for new pipe, Design for the cautious
// figure.
type ManningRange struct {
	Smooth, Design float64
	Source         Source
}

// ManningNOf returns n of a drain material. Sources: ManningN (copper,
// read in a copy), ManningNMem (plastics, and cast iron in service, from memory;
// new cast iron 0.012 read in a copy). Aged and rough pipe is taken at 0.015
// (NSPCAppK, read in a copy). Example: PVC 0.009 to 0.011.
func ManningNOf(material Drainpipe) (ManningRange, error) {
	switch material {
	case PVCDWV, ABSDWV, CPVCDrain:
		return ManningRange{0.009, 0.011, ManningNMem}, nil
	case CopperDWV:
		return ManningRange{0.011, 0.011, ManningN}, nil
	case CastIron:
		return ManningRange{0.012, 0.013, ManningNMem}, nil
	}
	return ManningRange{}, noRow("Manning n", string(material))
}

// ManningNRough is n of aged and rough pipe. Source: NSPCAppK.
const ManningNRough = 0.015

// DrainBoreIn returns the bore of a drain in inches. Sources: BoreSch40
// (read in a copy; PVC and ABS), BoreCopperDWV, BoreNoHub (from memory). CPVC drain
// has none tabulated. Example: PVC 1-1/2: 1.610.
func DrainBoreIn(material Drainpipe, nominal string) (float64, Source, error) {
	type row = map[string]float64
	var rows row
	var src Source
	switch material {
	case PVCDWV, ABSDWV:
		rows, src = row{"1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067, "3": 3.068}, BoreSch40
	case CopperDWV:
		rows, src = row{"1-1/4": 1.295, "1-1/2": 1.541, "2": 2.041, "3": 3.030}, BoreCopperDWV
	case CastIron:
		rows, src = row{"1-1/2": 1.50, "2": 1.96, "3": 2.96}, BoreNoHub
	}
	if b, ok := rows[nominal]; ok {
		return b, src, nil
	}
	return 0, Source{}, noRow("bores of "+string(material), nominal)
}

// CdSharp is the discharge coefficient of a sharp-edged outlet. Source:
// OrificeCd (from memory).
const CdSharp = 0.61

// A Dump is a tank emptying by gravity through an outlet. Heads are measured
// to the level of discharge, not to the tank's floor.
type Dump struct {
	TankFt2    float64 // plan area, constant with height
	OutletIn   float64 // bore
	Cd         float64 // discharge coefficient, above 0 and at most 1
	StartIn    float64 // head at the start
	EndIn      float64 // head at the end, below the start
	gravityFtS float64 // for tests against examples with a rounded g
}

// A DumpResult is what a tank gives off.
type DumpResult struct {
	VolumeGal float64
	TimeS     float64
	PeakGPM   float64
	MeanGPM   float64
}

// Run returns the drain-down in closed form.
//
//	t = 2 A / (Cd a sqrt(2 g)) (sqrt h1 - sqrt h2)
//	Qpeak = Cd a sqrt(2 g h1)
//
// A and a in ft2, h in ft, g = 32.174 ft/s2. The mean of a full drain is half
// the peak. Compare a receptor with the peak. ErrRange for areas, Cd and heads
// that make no tank. Source: Torricelli (derived). Example: 1 ft2, 1.5 in,
// 0.61, 6 in to 0: 23.55 s, peak 19.06 gpm.
func (d Dump) Run() (DumpResult, error) {
	if !positive(d.TankFt2, d.OutletIn, d.Cd, d.StartIn) || !notNegative(d.EndIn) || d.Cd > 1 || d.EndIn >= d.StartIn {
		return DumpResult{}, fmt.Errorf("tank of %v ft2, outlet %v in, Cd %v, head %v to %v in: %w", d.TankFt2, d.OutletIn, d.Cd, d.StartIn, d.EndIn, ErrRange)
	}
	outlet := math.Pi / 4 * d.OutletIn * d.OutletIn / (InPerFt * InPerFt)
	if outlet >= d.TankFt2 {
		return DumpResult{}, rangeError("outlet area in ft2", outlet, "less than the tank's")
	}
	root := math.Sqrt(2 * d.gravity())
	h1, h2 := math.Sqrt(d.StartIn/InPerFt), math.Sqrt(d.EndIn/InPerFt)
	r := DumpResult{
		VolumeGal: d.TankFt2 * (d.StartIn - d.EndIn) * InPerFt * InPerFt / In3PerGal,
		TimeS:     2 * d.TankFt2 / (d.Cd * outlet * root) * (h1 - h2),
		PeakGPM:   d.Cd * outlet * root * h1 * GPMPerCFS,
	}
	r.MeanGPM = r.VolumeGal / r.TimeS * 60
	return r, nil
}

func (d Dump) gravity() float64 {
	if d.gravityFtS > 0 {
		return d.gravityFtS
	}
	return GravityFtS2
}

// A Fall is a gravity drain from a machine's outlet to a receptor. All heights
// are inches above the finished floor at the receptor.
type Fall struct {
	OutletIn     float64 // invert of the outlet
	RimIn        float64 // flood rim of the receptor; negative when recessed
	OpeningIn    float64 // effective opening of the pipe end
	GapIn        float64 // air gap as built; counts where it is more than the least
	AirBreak     bool    // an air break: no gap is kept
	RunFt        float64
	SlopeInPerFt float64
}

// A FallResult compares available and required fall, inches.
type FallResult struct {
	GapIn       float64
	AvailableIn float64
	RequiredIn  float64
	MaxRunFt    float64 // longest run at this slope, zero when none
	Steepest    float64 // slope that height and run allow, in/ft; NaN without a run or a fall
}

// Check returns the fall check.
//
//	gap = max(2 d, 1, the gap as built), or 0 for an air break
//	available = outlet - (rim + gap),  required = slope x run
//	max run = available / slope,  steepest = available / run
//
// A recessed rim counts only if the pipe end is inside the recess and the gap
// stays above the flood rim. All NaN unless opening and slope are positive and
// the run at least zero. Source: AirGapRule and Geometry. Example: outlet 8,
// rim 0, 1.5 in, 6 ft at 1/4: available 5 in, required 1.5 in, longest run 20 ft.
func (f Fall) Check() FallResult {
	nan := math.NaN()
	if !finite(f.OutletIn, f.RimIn) || !positive(f.OpeningIn, f.SlopeInPerFt) || !notNegative(f.RunFt) {
		return FallResult{nan, nan, nan, nan, nan}
	}
	r := FallResult{Steepest: nan}
	if !f.AirBreak {
		r.GapIn = AirGapIn(f.OpeningIn)
		if f.GapIn > r.GapIn {
			r.GapIn = f.GapIn
		}
	}
	r.AvailableIn = f.OutletIn - f.RimIn - r.GapIn
	r.RequiredIn = f.SlopeInPerFt * f.RunFt
	r.MaxRunFt = math.Max(0, r.AvailableIn/f.SlopeInPerFt)
	if f.RunFt > 0 && r.AvailableIn > 0 {
		r.Steepest = r.AvailableIn / f.RunFt
	}
	return r
}
