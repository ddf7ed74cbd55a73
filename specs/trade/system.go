package trade

import (
	"fmt"
	"math"
)

// A System is a supply system at the point of connection.
type System int

const (
	UnknownSystem System = iota
	Single120            // 120 V two-wire
	Split120_240         // 120/240 V single-phase three-wire
	Wye208Y120           // 208Y/120 V three-phase four-wire
	Wye208Single         // 120/208 V single-phase three-wire: two legs of a wye
	HighLeg240           // 120/240 V three-phase four-wire delta
	Delta240             // 240 V three-phase three-wire delta
	Wye480Y277           // 480Y/277 V three-phase four-wire
	Delta480             // 480 V three-phase three-wire delta
	Single230            // 230 V single-phase, line and neutral
	Wye400Y230           // 230/400 V three-phase four-wire
)

// A SystemInfo describes a supply system.
type SystemInfo struct {
	System        System
	Name          string
	Phases        int     // 1 or 3
	Legs          int     // ungrounded conductors
	Neutral       bool    // a neutral is part of the system
	LineLineV     float64 // nominal; zero when there is one leg
	LineNeutralV  float64 // nominal; zero without a neutral
	VoltsToGround float64 // the highest of any leg
	LLMin, LLMax  float64 // readings that can belong to it
	LNMin, LNMax  float64
	Source        Source
}

// systems gives, for recognition, the widest tolerable readings: Range B
// utilization minimum (2011) to Range B service maximum of ANSI C84.1 for the
// American systems, plus and minus 10 percent of IEC 60038 for 230/400 V. An
// ungrounded or corner-grounded delta counts with its full line voltage to
// ground.
var systems = []SystemInfo{
	{Single120, "120 V single-phase", 1, 1, true, 0, 120, 120, 0, 0, 104, 127, ANSIC84},
	{Split120_240, "120/240 V single-phase", 1, 2, true, 240, 120, 120, 208, 254, 104, 127, ANSIC84},
	{Wye208Y120, "208Y/120 V three-phase", 3, 3, true, 208, 120, 120, 180, 220, 104, 127, ANSIC84},
	{Wye208Single, "120/208 V single-phase (two legs of a wye)", 1, 2, true, 208, 120, 120, 180, 220, 104, 127, ANSIC84},
	{HighLeg240, "120/240 V three-phase delta with a high leg", 3, 3, true, 240, 120, 120 * math.Sqrt(3), 208, 254, 104, 127, HighLegVolts},
	{Delta240, "240 V three-phase delta", 3, 3, false, 240, 0, 240, 208, 254, 0, 0, ANSIC84},
	{Wye480Y277, "480Y/277 V three-phase", 3, 3, true, 480, 277, 277, 416, 508, 240, 293, ANSIC84},
	{Delta480, "480 V three-phase delta", 3, 3, false, 480, 0, 480, 416, 508, 0, 0, ANSIC84},
	{Single230, "230 V single-phase", 1, 1, true, 0, 230, 230, 0, 0, 207, 253, IEC60038},
	{Wye400Y230, "230/400 V three-phase", 3, 3, true, 400, 230, 230, 360, 440, 207, 253, IEC60038},
}

// High-leg readings from the high leg to neutral: 120 V x sqrt 3 at the same
// tolerance as the 120 V legs.
const (
	highLegMin = 180.0
	highLegMax = 220.0
)

// Info returns the description of a system; ok is false for UnknownSystem.
func (s System) Info() (info SystemInfo, ok bool) {
	for _, i := range systems {
		if i.System == s {
			return i, true
		}
	}
	return SystemInfo{Name: "unknown system"}, false
}

// String returns the system's name.
func (s System) String() string {
	i, _ := s.Info()
	return i.Name
}

// Systems returns every known system.
func Systems() []SystemInfo { return append([]SystemInfo(nil), systems...) }

// VoltsToGround returns the highest nominal voltage to ground of any leg; NaN
// for an unknown system. A high-leg delta returns 208 V even though its other
// two legs have 120 V. Source: the system's own.
func (s System) VoltsToGround() float64 {
	if i, ok := s.Info(); ok {
		return i.VoltsToGround
	}
	return math.NaN()
}

// Readings are voltages measured at the point of connection. Entries that are
// NaN, and missing ones, were not measured.
type Readings struct {
	LL    []float64 // line to line: A-B, then B-C, C-A
	LN    []float64 // line to neutral: A, B, C
	Legs  int       // ungrounded conductors present; zero when unknown
	NoN   bool      // the surveyor saw that no neutral is present
	Hertz float64   // zero when unknown; 50 Hz excludes the American systems
}

// A Recognition is the set of systems that the readings can belong to.
// Exactly one candidate identifies the system, several leave it ambiguous,
// none means that the readings fit nothing known here.
type Recognition struct {
	Candidates []System
	HighLeg    int // index of the high leg in LN, -1 when there is none
}

// Identified returns the system when there is exactly one candidate.
func (r Recognition) Identified() (System, bool) {
	if len(r.Candidates) == 1 {
		return r.Candidates[0], true
	}
	return UnknownSystem, false
}

// Recognize compares readings with every known system and keeps those that
// explain all of them. It never prefers one candidate: 240 V line to line
// alone fits a split-phase and two delta systems, and is reported so.
//
// Besides the voltage windows it uses the ratio of line-to-line to
// line-to-neutral voltage (sqrt 3 for a wye, 2 for a centre-tapped winding,
// nearer one wins) and the number of legs. An error means that a reading or a
// count is no voltage at all. Source: ANSIC84 and IEC60038 (from memory),
// HighLegVolts (confirmed). Example: 208, 208, 208 and 120, 120, 120 is
// 208Y/120; 240 three times with 120, 208, 120 is a high-leg delta.
func Recognize(r Readings) (Recognition, error) {
	none := Recognition{HighLeg: -1}
	if len(r.LL) > 3 || len(r.LN) > 3 || r.Legs < 0 || r.Legs > 3 {
		return none, fmt.Errorf("%d line-to-line and %d line-to-neutral readings on %d legs, want at most 3 of each: %w", len(r.LL), len(r.LN), r.Legs, ErrRange)
	}
	for _, v := range append(append([]float64{}, r.LL...), r.LN...) {
		if v < 0 || math.IsInf(v, 0) {
			return none, rangeError("voltage reading", v, "at least 0 V")
		}
	}
	if math.IsNaN(r.Hertz) || r.Hertz < 0 {
		return none, rangeError("frequency", r.Hertz, "50 or 60 Hz, or zero when unknown")
	}
	ll, ln := measured(r.LL), measured(r.LN)
	if len(ll)+len(ln) == 0 {
		return none, fmt.Errorf("no voltage was measured: %w", ErrRange)
	}
	out := none
	for _, s := range systems {
		high, ok := fits(s, r, ll, ln)
		if !ok {
			continue
		}
		out.Candidates = append(out.Candidates, s.System)
		if s.System == HighLeg240 {
			out.HighLeg = high
		}
	}
	return out, nil
}

func measured(vs []float64) []float64 {
	var out []float64
	for _, v := range vs {
		if !math.IsNaN(v) {
			out = append(out, v)
		}
	}
	return out
}

// fits reports whether system s explains the readings, and which line to
// neutral reading is the high leg.
func fits(s SystemInfo, r Readings, ll, ln []float64) (highLeg int, ok bool) {
	highLeg = -1
	american := s.System != Single230 && s.System != Wye400Y230
	if american && r.Hertz > 0 && math.Abs(r.Hertz-60) > 5 {
		return highLeg, false
	}
	if r.Legs != 0 && r.Legs != s.Legs {
		return highLeg, false
	}
	maxLL := map[int]int{1: 0, 2: 1, 3: 3}[s.Legs]
	if len(ll) > maxLL || len(ln) > s.Legs || len(ln) > 0 && !s.Neutral || r.NoN && s.Neutral {
		return highLeg, false
	}
	for _, v := range ll {
		if v < s.LLMin || v > s.LLMax {
			return highLeg, false
		}
	}
	var low []float64
	for i, v := range r.LN {
		switch {
		case math.IsNaN(v):
		case v >= s.LNMin && v <= s.LNMax:
			low = append(low, v)
		case s.System == HighLeg240 && highLeg < 0 && v >= highLegMin && v <= highLegMax:
			highLeg = i
		default:
			return highLeg, false
		}
	}
	// With all three legs measured a high-leg delta shows its high leg.
	if s.System == HighLeg240 && len(low) == 3 {
		return highLeg, false
	}
	if len(ll) > 0 && len(low) > 0 {
		want := math.Sqrt(3)
		if s.System == Split120_240 || s.System == HighLeg240 {
			want = 2
		}
		ratio := mean(ll) / mean(low)
		wye, tap := math.Abs(ratio-math.Sqrt(3)), math.Abs(ratio-2)
		if want == 2 && tap > wye || want != 2 && wye >= tap {
			return highLeg, false
		}
	}
	return highLeg, true
}

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

// A VoltRange is an interval of volts.
type VoltRange struct{ Min, Max float64 }

// Contains reports whether the voltage lies in the range; NaN does not.
func (r VoltRange) Contains(volts float64) bool { return volts >= r.Min && volts <= r.Max }

// c84Row is a nominal voltage of ANSI C84.1: service voltage in ranges A and
// B, and the utilization minima of the older and the newer text.
type c84Row struct {
	nominal              float64
	a, b                 VoltRange
	oldA, oldB, newA, nB float64
}

// c84 gives line-to-line volts, 120 and 277 line to neutral. Source: ANSIC84
// and ANSIC84Older (from memory throughout).
var c84 = []c84Row{
	{120, VoltRange{114, 126}, VoltRange{110, 127}, 110, 106, 108, 104},
	{240, VoltRange{228, 252}, VoltRange{220, 254}, 220, 212, 216, 208},
	{208, VoltRange{197, 218}, VoltRange{191, 220}, 191, 184, 187, 180},
	{480, VoltRange{456, 504}, VoltRange{440, 508}, 440, 424, 432, 416},
	{277, VoltRange{263, 291}, VoltRange{254, 293}, 254, 245, 249, 240},
}

// C84Service returns the service voltage ranges A and B for nominal 120, 208,
// 240, 277 or 480 V. Source: ANSIC84 (from memory). Example: 208 is 197 to
// 218 in range A.
func C84Service(nominalV float64) (rangeA, rangeB VoltRange, err error) {
	for _, r := range c84 {
		if r.nominal == nominalV {
			return r.a, r.b, nil
		}
	}
	return VoltRange{}, VoltRange{}, noRow("ANSI C84.1", fmt.Sprintf("%v V", nominalV))
}

// C84Utilization returns the utilization ranges, whose maxima are those of the
// service. older selects the 1995 and 2006 text. Source: ANSIC84,
// ANSIC84Older (from memory). Example: 208 is 187 to 218 in range A, 191 to
// 218 in the older text.
func C84Utilization(nominalV float64, older bool) (rangeA, rangeB VoltRange, err error) {
	for _, r := range c84 {
		if r.nominal != nominalV {
			continue
		}
		if older {
			return VoltRange{r.oldA, r.a.Max}, VoltRange{r.oldB, r.b.Max}, nil
		}
		return VoltRange{r.newA, r.a.Max}, VoltRange{r.nB, r.b.Max}, nil
	}
	return VoltRange{}, VoltRange{}, noRow("ANSI C84.1", fmt.Sprintf("%v V", nominalV))
}

// NameplateV returns the usual nameplate rating for a nominal system voltage:
// 115, 200, 230 and 460 V on 120, 208, 240 and 480 V. Source: ANSIC84 (from
// memory; 460 on 480 confirmed).
func NameplateV(nominalV float64) (float64, error) {
	switch nominalV {
	case 120:
		return 115, nil
	case 208:
		return 200, nil
	case 240:
		return 230, nil
	case 480:
		return 460, nil
	}
	return 0, noRow("nameplate ratings", fmt.Sprintf("%v V", nominalV))
}

// Supply voltage limits outside North America, volts at the supply terminals.
// Sources: IEC60038, EN50160, UKVoltage (all from memory).
var (
	IEC230         = VoltRange{207, 253}     // 230 V, 10 percent either way
	IEC400         = VoltRange{360, 440}     // 400 V, 10 percent either way
	EN50160All     = VoltRange{195.5, 253}   // all 10-minute means of a week
	UKStatutory230 = VoltRange{216.2, 253.0} // +10 and -6 percent
)
