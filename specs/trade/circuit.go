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

// IsStandardRating reports whether amps is a standard rating up to 200 A.
func IsStandardRating(amps float64, edition Edition) bool {
	rs, err := StandardRatings(edition)
	if err != nil {
		return false
	}
	for _, r := range rs {
		if r == amps {
			return true
		}
	}
	return false
}

// ContinuousHours is the time at maximum current from which a load is
// continuous. Source: NEC article 100 (confirmed).
const ContinuousHours = 3.0

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

// MaxContinuous returns the largest continuous load on an overcurrent device
// that is not listed for 100 percent: 0.8 times its rating. NaN unless
// positive. Source: NEC210_20. Example: 60 A allows 48 A.
func MaxContinuous(ocpdA float64) float64 {
	if !positive(ocpdA) {
		return math.NaN()
	}
	return 0.8 * ocpdA
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

// ReceptacleCordLimit returns the largest cord-and-plug load on a receptacle
// of a circuit with two or more outlets. Source: NEC210_21B2 (from memory).
// Example: 20 A circuit, 15 A receptacle: 12 A.
func ReceptacleCordLimit(circuitA, receptacleA float64) (float64, error) {
	switch {
	case (circuitA == 15 || circuitA == 20) && receptacleA == 15:
		return 12, nil
	case circuitA == 20 && receptacleA == 20:
		return 16, nil
	case circuitA == 30 && receptacleA == 30:
		return 24, nil
	}
	return 0, noRow("NEC Table 210.21(B)(2)", fmt.Sprintf("%v A circuit, %v A receptacle", circuitA, receptacleA))
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

// ReceptacleAllowed reports whether a receptacle's rating suits the circuit: a
// single receptacle alone on its circuit is rated at least as the circuit, one
// of several follows [ReceptacleRatings]. Source: NEC210_21B1, NEC210_21B3
// (both from memory).
func ReceptacleAllowed(circuitA, receptacleA float64, outlets int) (bool, error) {
	if !positive(circuitA, receptacleA) || outlets < 1 {
		return false, fmt.Errorf("circuit %v A, receptacle %v A, %d outlets: %w", circuitA, receptacleA, outlets, ErrRange)
	}
	if outlets == 1 {
		return receptacleA >= circuitA, nil
	}
	rs, err := ReceptacleRatings(circuitA)
	if err != nil {
		return false, err
	}
	for _, r := range rs {
		if r == receptacleA {
			return true, nil
		}
	}
	return false, nil
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

// A Disconnect says what may serve as the disconnecting means of an appliance.
type Disconnect int

const (
	// DisconnectBranch: the branch-circuit device may serve.
	DisconnectBranch Disconnect = iota + 1
	// DisconnectSightOrLock: in sight, or capable of being locked open.
	DisconnectSightOrLock
	// DisconnectSight: in sight of the motor-operated appliance.
	DisconnectSight
	// DisconnectPlug: the accessible plug and receptacle may serve.
	DisconnectPlug
)

// String returns the rule in words.
func (d Disconnect) String() string {
	switch d {
	case DisconnectBranch:
		return "the branch-circuit overcurrent device may serve as disconnect"
	case DisconnectSightOrLock:
		return "a switch or breaker within sight of the appliance, or one that can be locked open"
	case DisconnectSight:
		return "a disconnect within sight of the motor-operated appliance"
	case DisconnectPlug:
		return "an accessible plug and receptacle may serve as disconnect"
	}
	return "unknown disconnect rule"
}

// ApplianceDisconnect returns the disconnect rule for an appliance: cord and
// plug, or permanently connected with its volt-amperes and its largest motor
// in horsepower (zero without one). Source: NEC422_31 (from memory).
func ApplianceDisconnect(voltAmps, motorHP float64, cord bool) (Disconnect, error) {
	if !positive(voltAmps) || !notNegative(motorHP) {
		return 0, fmt.Errorf("appliance of %v VA and %v hp: %w", voltAmps, motorHP, ErrRange)
	}
	switch {
	case cord:
		return DisconnectPlug, nil
	case motorHP > 0.125:
		return DisconnectSight, nil
	case voltAmps <= 300:
		return DisconnectBranch, nil
	}
	return DisconnectSightOrLock, nil
}

// BuiltInCordFt returns the cord length range that 422.16(B)(2) gives for a
// built-in dishwasher, plug face to the rear plane. It is written for built-in
// domestic units: do not apply it to a commercial or free-standing glass
// washer, whose listing and instructions govern. Source: NEC422_16 (from memory).
func BuiltInCordFt(edition Edition) (minFt, maxFt float64, err error) {
	switch {
	case !edition.valid():
		return 0, 0, rangeError("NEC edition", float64(edition), "2014, 2017, 2020 or 2023")
	case edition < NEC2017:
		return 3, 4, nil
	}
	return 3, 6.5, nil
}

// Advisory voltage-drop limits in percent. Source: NECDropNote (confirmed);
// not mandatory under the NEC.
const (
	NECBranchDropPct = 3.0
	NECTotalDropPct  = 5.0
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

// VoltageDropK returns the drop in volts by the circular-mil method.
//
//	V = f K I L / cmil
//
// K in ohm-cmil per ft, the rest as in [VoltageDrop]. Source: KConstants
// (confirmed). Example: 12.9, 20 A, 100 ft, 6530 cmil: 7.902 V.
func VoltageDropK(phases int, k, amps, lengthFt, cmil float64) float64 {
	if !notNegative(k, amps, lengthFt) || !positive(cmil) {
		return math.NaN()
	}
	return lineFactor(phases) * k * amps * lengthFt / cmil
}

// DropPercent returns a drop as a percentage of the system voltage; NaN
// unless the voltage is positive.
func DropPercent(dropV, systemV float64) float64 {
	if !notNegative(dropV) || !positive(systemV) {
		return math.NaN()
	}
	return 100 * dropV / systemV
}

// MaxLengthFt returns the one-way length at which the drop reaches dropV, the
// inverse of [VoltageDrop]. NaN unless all are positive.
func MaxLengthFt(phases int, amps, ohmPerKFt, dropV float64) float64 {
	if !positive(amps, ohmPerKFt, dropV) {
		return math.NaN()
	}
	return dropV * 1000 / (lineFactor(phases) * amps * ohmPerKFt)
}

// A DropMethod is one way to compute a voltage drop, with its result.
type DropMethod struct {
	Name   string
	DropV  float64
	Source Source
}

// DropByMethods computes the drop of one circuit in every tabulated way, so
// that a report can state its method and the spread: Table 8 stranded, the
// K constant, Table 9 R, Table 9 R and X at the power factor. A method without
// a row is left out. Source: as named in each result. Example: 20 A, 100 ft,
// 12 AWG copper in PVC, power factor 1: 7.92, 7.90, 8.00 and 8.00 V.
func DropByMethods(phases int, amps, lengthFt float64, gauge string, metal Metal, conduit Conduit, powerFactor float64) ([]DropMethod, error) {
	if phases != 1 && phases != 3 || !positive(amps, lengthFt) || !(powerFactor > 0 && powerFactor <= 1) {
		return nil, fmt.Errorf("%d phases, %v A, %v ft, power factor %v: %w", phases, amps, lengthFt, powerFactor, ErrRange)
	}
	if _, err := findWire(gauge); err != nil {
		return nil, err
	}
	var ms []DropMethod
	if r, err := Resistance(gauge, metal, Stranded); err == nil {
		ms = append(ms, DropMethod{"Table 8, stranded, 75 C", VoltageDrop(phases, amps, r, lengthFt), NECTable8})
	}
	if c, err := CircularMils(gauge); err == nil {
		if k := KConstant(metal); !math.IsNaN(k) {
			ms = append(ms, DropMethod{"K constant", VoltageDropK(phases, k, amps, lengthFt, c), KConstants})
		}
	}
	if r, err := ACResistance(gauge, metal, conduit); err == nil {
		ms = append(ms, DropMethod{"Table 9, R", VoltageDrop(phases, amps, r, lengthFt), NECTable9})
		if x, err := Reactance(gauge, conduit); err == nil {
			ms = append(ms, DropMethod{"Table 9, R cos + X sin", VoltageDrop(phases, amps, EffectiveZ(r, x, powerFactor), lengthFt), NECTable9})
		}
	}
	if len(ms) == 0 {
		return nil, noRow(metal.String(), gauge)
	}
	return ms, nil
}

// GaugeForDrop returns the thinnest gauge whose drop stays within limitPct of
// systemV by Table 8 stranded at 75 C. It looks at drop alone, never at
// ampacity. Source: NECTable8.
func GaugeForDrop(phases int, amps, lengthFt, systemV, limitPct float64, metal Metal) (string, error) {
	if phases != 1 && phases != 3 || !positive(amps, lengthFt, systemV, limitPct) {
		return "", fmt.Errorf("%d phases, %v A, %v ft, %v V, %v %%: %w", phases, amps, lengthFt, systemV, limitPct, ErrRange)
	}
	for _, g := range Gauges() {
		r, err := Resistance(g, metal, Stranded)
		if err != nil {
			return "", err
		}
		if DropPercent(VoltageDrop(phases, amps, r, lengthFt), systemV) <= limitPct {
			return g, nil
		}
	}
	return "", rangeError("voltage drop", amps*lengthFt, "no more than 1/0 AWG allows")
}

// A Circuit describes a branch circuit whose conductor is to be checked.
type Circuit struct {
	ContinuousA, OtherA float64 // load
	Listed100           bool    // overcurrent assembly listed for 100 percent
	Metal               Metal
	Insulation          Column  // where derating starts
	SourceTerminal      Column  // at the overcurrent device
	LoadTerminal        Column  // at the appliance or receptacle
	AmbientC            float64 // 30 is the table's base
	CurrentCarrying     int     // conductors in the raceway or cable
	OCPDA               float64 // zero: the next standard size up
	SeveralOutlets      bool    // 240.4(B) next size up not allowed
	Edition             Edition
}

// A Selection holds each step of [SelectConductor].
type Selection struct {
	MinimumCircuitA float64 // 125 percent rule
	OCPDA           float64
	ByContinuous    string // minimum circuit in the source-terminal column
	ByDerating      string // real load at the derated insulation column
	ByLoadTerminal  string // real load in the load-terminal column
	ByOCPD          string // what the overcurrent device may protect
	Gauge           string // the thickest of the four
}

// SelectConductor returns the thinnest conductor that meets four separate
// conditions: the 125 percent rule before derating in the source-terminal
// column, the real load after derating, the real load at the appliance's
// terminals, and protection by the overcurrent device. Voltage drop is apart,
// see [GaugeForDrop]. Sources: NEC210_20, NEC310_16, NEC310Ambient,
// NEC310Bundle, NEC110_14C, NEC240_4B, NEC240_4D. Example: 95 A continuous,
// copper, 75 C, appliance end 60 C: 125 A and 1 AWG.
func SelectConductor(c Circuit) (Selection, error) {
	var s Selection
	s.MinimumCircuitA = MinimumCircuit(c.ContinuousA, c.OtherA, c.Listed100)
	if math.IsNaN(s.MinimumCircuitA) {
		return Selection{}, fmt.Errorf("load of %v A continuous and %v A other: %w", c.ContinuousA, c.OtherA, ErrRange)
	}
	up, err := NextStandardUp(s.MinimumCircuitA, c.Edition)
	if err != nil {
		return Selection{}, err
	}
	s.OCPDA = up
	if c.OCPDA != 0 {
		s.OCPDA = c.OCPDA
	}
	if !(s.OCPDA >= s.MinimumCircuitA) {
		return Selection{}, fmt.Errorf("overcurrent device of %v A for a minimum circuit of %v A: %w", s.OCPDA, s.MinimumCircuitA, ErrCannot)
	}
	load := c.ContinuousA + c.OtherA
	if s.ByContinuous, err = SmallestGauge(s.MinimumCircuitA, c.Metal, c.SourceTerminal); err != nil {
		return Selection{}, err
	}
	if s.ByLoadTerminal, err = SmallestGauge(load, c.Metal, c.LoadTerminal); err != nil {
		return Selection{}, err
	}
	// Range errors of the factors would otherwise look like "no gauge".
	if _, err := AmbientFactor(c.AmbientC, c.Insulation); err != nil {
		return Selection{}, err
	}
	if _, err := BundlingFactor(c.CurrentCarrying); err != nil {
		return Selection{}, err
	}
	for _, g := range Gauges() {
		d, err := DeratedAmpacity(g, c.Metal, c.Insulation, c.SourceTerminal, c.AmbientC, c.CurrentCarrying)
		if err != nil {
			continue
		}
		if s.ByDerating == "" && d.DeratedA >= load {
			s.ByDerating = g
		}
		if s.ByOCPD == "" && protects(s.OCPDA, d.UsableA, g, c.Metal, !c.SeveralOutlets, c.Edition) {
			s.ByOCPD = g
		}
	}
	if s.ByDerating == "" || s.ByOCPD == "" {
		return Selection{}, rangeError("load", load, "no more than 1/0 AWG carries here after derating")
	}
	for _, g := range []string{s.ByContinuous, s.ByDerating, s.ByLoadTerminal, s.ByOCPD} {
		if gaugeRank(g) > gaugeRank(s.Gauge) {
			s.Gauge = g
		}
	}
	return s, nil
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

// RecoveryFactor returns by how much a heating time grows at another voltage:
// (V1/V2)^2. Source: JouleLaw. Example: 240 V element on 208 V: 1.331.
func RecoveryFactor(ratedV, actualV float64) float64 {
	if !positive(ratedV, actualV) {
		return math.NaN()
	}
	r := ratedV / actualV
	return r * r
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
