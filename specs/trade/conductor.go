package trade

import (
	"fmt"
	"math"
)

// A Metal is a conductor metal. The zero value is no metal.
type Metal int

const (
	Copper Metal = iota + 1
	Aluminum
)

// String returns the metal's name.
func (m Metal) String() string {
	switch m {
	case Copper:
		return "copper"
	case Aluminum:
		return "aluminum"
	}
	return "unknown metal"
}

// A Stranding is solid or stranded wire.
type Stranding int

const (
	Solid Stranding = iota + 1
	Stranded
)

// A Column is a temperature column of the ampacity table, in degrees Celsius.
type Column int

const (
	Col60 Column = 60
	Col75 Column = 75
	Col90 Column = 90
)

// valid reports whether c is one of the three columns.
func (c Column) valid() bool { return c == Col60 || c == Col75 || c == Col90 }

// wire is a row of Table 8. A zero resistance means that the table has none.
type wire struct {
	gauge                                    string
	cmil                                     float64
	cuSolid, cuStranded, alSolid, alStranded float64
}

// table8 is NEC Chapter 9 Table 8: DC resistance at 75 C, ohm per 1000 ft,
// uncoated copper and aluminum. Source: NECTable8.
var table8 = []wire{
	{"14", 4110, 3.07, 3.14, 5.06, 5.17},
	{"12", 6530, 1.93, 1.98, 3.18, 3.25},
	{"10", 10380, 1.21, 1.24, 2.00, 2.04},
	{"8", 16510, 0.764, 0.778, 1.26, 1.28},
	{"6", 26240, 0, 0.491, 0, 0.808},
	{"4", 41740, 0, 0.308, 0, 0.508},
	{"3", 52620, 0, 0.245, 0, 0.403},
	{"2", 66360, 0, 0.194, 0, 0.319},
	{"1", 83690, 0, 0.154, 0, 0.253},
	{"1/0", 105600, 0, 0.122, 0, 0.201},
}

// Gauges returns the gauges that can carry a branch circuit, from the
// smallest, "14", to the largest tabulated here, "1/0".
func Gauges() []string {
	gs := make([]string, len(table8))
	for i, w := range table8 {
		gs[i] = w.gauge
	}
	return gs
}

func findWire(gauge string) (wire, error) {
	for _, w := range table8 {
		if w.gauge == gauge {
			return w, nil
		}
	}
	return wire{}, noRow("NEC Chapter 9 Table 8", gauge)
}

// gaugeRank orders gauges by size; -1 when unknown.
func gaugeRank(gauge string) int {
	for i, w := range table8 {
		if w.gauge == gauge {
			return i
		}
	}
	return -1
}

// CompareGauges returns a negative number when a is the thinner wire, zero
// when both are the same and a positive number when a is the thicker.
func CompareGauges(a, b string) (int, error) {
	ra, rb := gaugeRank(a), gaugeRank(b)
	if ra < 0 {
		return 0, noRow("NEC Chapter 9 Table 8", a)
	}
	if rb < 0 {
		return 0, noRow("NEC Chapter 9 Table 8", b)
	}
	return ra - rb, nil
}

// CircularMils returns the area of a gauge in circular mils. Source:
// NECTable8. Example: "12" is 6530.
func CircularMils(gauge string) (float64, error) {
	w, err := findWire(gauge)
	if err != nil {
		return 0, err
	}
	return w.cmil, nil
}

// Resistance returns the DC resistance at 75 C in ohm per 1000 ft of one
// conductor. Source: NECTable8. The table has no solid wire above 8 AWG.
// Example: 12 AWG stranded copper is 1.98.
func Resistance(gauge string, metal Metal, stranding Stranding) (ohmPerKFt float64, err error) {
	w, err := findWire(gauge)
	if err != nil {
		return 0, err
	}
	switch {
	case metal == Copper && stranding == Solid:
		ohmPerKFt = w.cuSolid
	case metal == Copper && stranding == Stranded:
		ohmPerKFt = w.cuStranded
	case metal == Aluminum && stranding == Solid:
		ohmPerKFt = w.alSolid
	case metal == Aluminum && stranding == Stranded:
		ohmPerKFt = w.alStranded
	}
	if ohmPerKFt == 0 {
		return 0, noRow(fmt.Sprintf("NEC Chapter 9 Table 8, %v, that stranding,", metal), gauge)
	}
	return ohmPerKFt, nil
}

// ampRow is a row of the ampacity table; zero means not allowed.
type ampRow struct {
	gauge string
	cu    [3]float64 // 60, 75, 90 C
	al    [3]float64
}

// table310 is NEC Table 310.16: ampere, not more than three current-carrying
// conductors, 30 C ambient. Source: NEC310_16. Editions before 2011 differ in
// several cells and must not be mixed in.
var table310 = []ampRow{
	{"14", [3]float64{15, 20, 25}, [3]float64{}},
	{"12", [3]float64{20, 25, 30}, [3]float64{15, 20, 25}},
	{"10", [3]float64{30, 35, 40}, [3]float64{25, 30, 35}},
	{"8", [3]float64{40, 50, 55}, [3]float64{35, 40, 45}},
	{"6", [3]float64{55, 65, 75}, [3]float64{40, 50, 55}},
	{"4", [3]float64{70, 85, 95}, [3]float64{55, 65, 75}},
	{"3", [3]float64{85, 100, 115}, [3]float64{65, 75, 85}},
	{"2", [3]float64{95, 115, 130}, [3]float64{75, 90, 100}},
	{"1", [3]float64{110, 130, 145}, [3]float64{85, 100, 115}},
	{"1/0", [3]float64{125, 150, 170}, [3]float64{100, 120, 135}},
}

func (c Column) index() int { return int(c-Col60) / 15 }

// Ampacity returns the table ampacity in ampere before any correction.
// Source: NEC310_16. Example: 12 AWG copper in the 75 C column is 25.
func Ampacity(gauge string, metal Metal, column Column) (amps float64, err error) {
	if !column.valid() {
		return 0, rangeError("ampacity column", float64(column), "60, 75 or 90")
	}
	for _, r := range table310 {
		if r.gauge != gauge {
			continue
		}
		switch metal {
		case Copper:
			amps = r.cu[column.index()]
		case Aluminum:
			amps = r.al[column.index()]
		}
		if amps == 0 {
			break
		}
		return amps, nil
	}
	return 0, noRow(fmt.Sprintf("NEC Table 310.16, %v,", metal), gauge)
}

// ambientBands is Table 310.15(B)(1)(1), 30 C base: the upper limit of the
// band and the factor for each column; zero means not allowed. Source:
// NEC310Ambient. A table with a 40 C base exists too and never goes with 310.16.
var ambientBands = []struct {
	upToC  float64
	factor [3]float64
}{
	{10, [3]float64{1.29, 1.20, 1.15}},
	{15, [3]float64{1.22, 1.15, 1.12}},
	{20, [3]float64{1.15, 1.11, 1.08}},
	{25, [3]float64{1.08, 1.05, 1.04}},
	{30, [3]float64{1.00, 1.00, 1.00}},
	{35, [3]float64{0.91, 0.94, 0.96}},
	{40, [3]float64{0.82, 0.88, 0.91}},
	{45, [3]float64{0.71, 0.82, 0.87}},
	{50, [3]float64{0.58, 0.75, 0.82}},
	{55, [3]float64{0.41, 0.67, 0.76}},
	{60, [3]float64{0, 0.58, 0.71}},
	{65, [3]float64{0, 0.47, 0.65}},
	{70, [3]float64{0, 0.33, 0.58}},
	{75, [3]float64{0, 0, 0.50}},
	{80, [3]float64{0, 0, 0.41}},
	{85, [3]float64{0, 0, 0.29}},
}

// AmbientFactor returns the ampacity correction for the ambient temperature.
// A temperature between two printed bands takes the warmer one. ErrRange means
// that the table allows no current. Source: NEC310Ambient. Example: 40 C in
// the 75 C column is 0.88.
func AmbientFactor(ambientC float64, column Column) (float64, error) {
	if !column.valid() {
		return 0, rangeError("ampacity column", float64(column), "60, 75 or 90")
	}
	if !finite(ambientC) || ambientC < -60 {
		return 0, rangeError("ambient temperature", ambientC, "a measured temperature in C")
	}
	for _, b := range ambientBands {
		if ambientC <= b.upToC {
			if f := b.factor[column.index()]; f > 0 {
				return f, nil
			}
			break
		}
	}
	return 0, rangeError(fmt.Sprintf("ambient temperature for the %d C column", int(column)), ambientC, "one that the table allows")
}

// BundlingFactor returns the adjustment for the number of current-carrying
// conductors in one raceway or cable. Source: NEC310Bundle. Example: 4 is 0.80.
func BundlingFactor(currentCarrying int) (float64, error) {
	switch n := currentCarrying; {
	case n < 1:
		return 0, rangeError("current-carrying conductors", float64(n), "at least 1")
	case n <= 3:
		return 1, nil
	case n <= 6:
		return 0.80, nil
	case n <= 9:
		return 0.70, nil
	case n <= 20:
		return 0.50, nil
	case n <= 30:
		return 0.45, nil
	case n <= 40:
		return 0.40, nil
	}
	return 0.35, nil
}

// SmallConductorLimit returns the largest overcurrent device that 240.4(D)
// allows on a small conductor, and whether there is such a limit. Source:
// NEC240_4D; 18 and 16 AWG NEC240_4DTiny (from memory, conditional).
// Example: 12 AWG copper is 20 A.
func SmallConductorLimit(gauge string, metal Metal) (amps float64, limited bool) {
	switch metal {
	case Copper:
		switch gauge {
		case "18":
			return 7, true
		case "16":
			return 10, true
		case "14":
			return 15, true
		case "12":
			return 20, true
		case "10":
			return 30, true
		}
	case Aluminum:
		switch gauge {
		case "12":
			return 15, true
		case "10":
			return 25, true
		}
	}
	return 0, false
}

// egcRows is Table 250.122 up to 200 A. Source: NEC250_122.
var egcRows = []struct {
	upToA  float64
	cu, al string
}{
	{15, "14", "12"}, {20, "12", "10"}, {30, "10", "8"}, {40, "10", "8"},
	{60, "10", "8"}, {100, "8", "6"}, {200, "6", "4"},
}

// EGC returns the smallest equipment grounding conductor for an overcurrent
// device up to 200 A. Source: NEC250_122. It need never exceed the circuit
// conductors. Example: 50 A is 10 AWG copper.
func EGC(ocpdA float64, metal Metal) (gauge string, err error) {
	if !positive(ocpdA) {
		return "", rangeError("overcurrent device", ocpdA, "more than 0 A")
	}
	for _, r := range egcRows {
		if ocpdA <= r.upToA {
			switch metal {
			case Copper:
				return r.cu, nil
			case Aluminum:
				return r.al, nil
			}
			return "", noRow("NEC Table 250.122", metal.String())
		}
	}
	return "", rangeError("overcurrent device", ocpdA, "no more than 200 A")
}

// EGCUpsized returns the equipment grounding conductor when the circuit
// conductors were made larger than their minimum, for example against voltage
// drop.
//
//	cmil = cmil(EGC) x cmil(installed) / cmil(minimum), next gauge up
//
// and never larger than the installed circuit conductors. Source: NEC250_122B
// (confirmed). Example: 50 A, minimum 8 AWG, installed 1 AWG: 10380 x
// 83690/16510 = 52617 cmil, hence 3 AWG.
func EGCUpsized(ocpdA float64, metal Metal, minimum, installed string) (gauge string, err error) {
	base, err := EGC(ocpdA, metal)
	if err != nil {
		return "", err
	}
	cm, err := CircularMils(minimum)
	if err != nil {
		return "", err
	}
	ci, err := CircularMils(installed)
	if err != nil {
		return "", err
	}
	if ci < cm {
		return "", fmt.Errorf("installed %s AWG is thinner than the minimum %s AWG: %w", installed, minimum, ErrRange)
	}
	cb, err := CircularMils(base)
	if err != nil {
		return "", err
	}
	need := cb * ci / cm
	for _, g := range Gauges() {
		c, _ := CircularMils(g)
		if c >= need || g == installed {
			return g, nil
		}
	}
	return installed, nil
}

// TerminalColumn returns the column that 110.14(C)(1) lets the terminals use:
// 60 C for circuits of 100 A or less unless every termination is marked 75 C,
// otherwise 75 C. Source: NEC110_14C (read in a secondary text).
func TerminalColumn(circuitA float64, marked75 bool) (Column, error) {
	if !positive(circuitA) {
		return 0, rangeError("circuit rating", circuitA, "more than 0 A")
	}
	if circuitA > 100 || marked75 {
		return Col75, nil
	}
	return Col60, nil
}

// A Derated holds the steps from table ampacity to usable ampacity.
type Derated struct {
	BaseA          float64 // insulation column
	AmbientFactor  float64
	BundlingFactor float64
	DeratedA       float64 // base x both factors
	TerminalA      float64 // terminal column, no factors
	UsableA        float64 // the smaller of the two
}

// DeratedAmpacity starts from the insulation column, applies the ambient and
// bundling factors and caps the result at the terminal column.
//
//	I = min(I(insulation) x f(ambient) x f(bundling), I(terminal))
//
// Currents in ampere; a factor of zero where the table allows no current at the
// ambient. Source: NEC310_16, NEC310Ambient, NEC310Bundle,
// NEC110_14C. Example: 12 AWG copper, 75 C insulation and terminals, 40 C,
// three conductors gives 22.0 A.
func DeratedAmpacity(gauge string, metal Metal, insulation, terminal Column, ambientC float64, currentCarrying int) (Derated, error) {
	var d Derated
	var err error
	if d.BaseA, err = Ampacity(gauge, metal, insulation); err != nil {
		return Derated{}, err
	}
	if d.TerminalA, err = Ampacity(gauge, metal, terminal); err != nil {
		return Derated{}, err
	}
	if d.AmbientFactor, err = AmbientFactor(ambientC, insulation); err != nil {
		d.AmbientFactor = 0
	}
	if d.BundlingFactor, err = BundlingFactor(currentCarrying); err != nil {
		return Derated{}, err
	}
	d.DeratedA = d.BaseA * d.AmbientFactor * d.BundlingFactor
	d.UsableA = math.Min(d.DeratedA, d.TerminalA)
	return d, nil
}
