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
