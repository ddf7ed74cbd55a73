package trade

import (
	"fmt"
	"math"
	"testing"
)

func TestRecognize(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		r    Readings
		want []System
		high int
	}{
		// The two patterns that the survey must tell apart: code forum, high-leg delta.
		{"208Y/120 in full", Readings{LL: []float64{208, 208, 208}, LN: []float64{120, 120, 120}, Legs: 3}, []System{Wye208Y120}, -1},
		{"high leg on B", Readings{LL: []float64{240, 240, 240}, LN: []float64{120, 208, 120}, Legs: 3}, []System{HighLeg240}, 1},
		{"high leg on C, real readings", Readings{LL: []float64{238, 241, 239.5}, LN: []float64{119, 120.5, 207.1}}, []System{HighLeg240}, 2},
		{"480Y/277", Readings{LL: []float64{480, 482, 479}, LN: []float64{277, 278, 276}}, []System{Wye480Y277}, -1},
		{"230/400", Readings{LL: []float64{400, 402, 398}, LN: []float64{230, 231, 229}}, []System{Wye400Y230}, -1},
		{"split phase, two legs known", Readings{LL: []float64{240}, LN: []float64{120, 120}, Legs: 2}, []System{Split120_240}, -1},
		{"two legs of a wye", Readings{LL: []float64{208}, LN: []float64{120, 120}, Legs: 2}, []System{Wye208Single}, -1},
		{"120 V outlet, one leg", Readings{LN: []float64{121}, Legs: 1}, []System{Single120}, -1},
		{"230 V outlet, one leg", Readings{LN: []float64{229}, Legs: 1}, []System{Single230}, -1},
		{"three 240, no neutral seen", Readings{LL: []float64{240, 240, 240}, NoN: true}, []System{Delta240}, -1},
		{"three 480, no neutral seen", Readings{LL: []float64{480, 480, 480}, NoN: true}, []System{Delta480}, -1},
		{"low 208Y/120", Readings{LL: []float64{199, 200, 198}, LN: []float64{115, 115, 114}}, []System{Wye208Y120}, -1},
		// 216 V lies in the windows of 208 and 240; the ratio decides.
		{"high 208Y/120", Readings{LL: []float64{216, 216, 216}, LN: []float64{125, 125, 124}}, []System{Wye208Y120}, -1},
		{"low high-leg delta", Readings{LL: []float64{216, 216, 216}, LN: []float64{108, 187, 108}}, []System{HighLeg240}, 1},
		// Ambiguous: reported so.
		{"one 240 reading", Readings{LL: []float64{240}}, []System{Split120_240, HighLeg240, Delta240}, -1},
		{"three 240 readings", Readings{LL: []float64{240, 240, 240}}, []System{HighLeg240, Delta240}, -1},
		{"240 and two 120", Readings{LL: []float64{240}, LN: []float64{120, 120}}, []System{Split120_240, HighLeg240}, -1},
		{"one 120 reading", Readings{LN: []float64{120}}, []System{Single120, Split120_240, Wye208Y120, Wye208Single, HighLeg240}, -1},
		{"208 alone", Readings{LL: []float64{205}}, []System{Wye208Y120, Wye208Single}, -1},
		{"480 alone", Readings{LL: []float64{480, nan, nan}}, []System{Wye480Y277, Delta480}, -1},
		{"230 alone", Readings{LN: []float64{230}}, []System{Single230, Wye400Y230}, -1},
		{"430 and 248, between two systems", Readings{LL: []float64{430}, LN: []float64{248}}, []System{Wye480Y277, Wye400Y230}, -1},
		{"the same at 50 Hz", Readings{LL: []float64{430}, LN: []float64{248}, Hertz: 50}, []System{Wye400Y230}, -1},
		// Unknown: nothing fits.
		{"a dead leg", Readings{LL: []float64{208, 120, 120}, LN: []float64{120, 120, 0}}, nil, -1},
		{"347/600", Readings{LL: []float64{600, 600, 600}, LN: []float64{347, 347, 347}}, nil, -1},
		{"240 and 140", Readings{LL: []float64{240}, LN: []float64{140}}, nil, -1},
		{"three 120 V legs with 240 V between", Readings{LL: []float64{240, 240, 240}, LN: []float64{120, 120, 120}}, nil, -1},
		{"two high legs", Readings{LL: []float64{240, 240, 240}, LN: []float64{208, 208, 120}}, nil, -1},
		{"208 V at 50 Hz", Readings{LL: []float64{208, 208, 208}, LN: []float64{120, 120, 120}, Hertz: 50}, nil, -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := value[Recognition](t)(Recognize(c.r))
			same(t, "candidates", fmt.Sprint(got.Candidates), fmt.Sprint(c.want))
			same(t, "high leg", got.HighLeg, c.high)
		})
	}
	for name, r := range map[string]Readings{
		"nothing measured": {},
		"all NaN":          {LL: []float64{nan}, LN: []float64{nan, nan}},
		"negative":         {LL: []float64{-208}},
		"infinite":         {LN: []float64{math.Inf(1)}},
		"four readings":    {LL: []float64{208, 208, 208, 208}},
		"four legs":        {LL: []float64{208}, Legs: 4},
		"frequency":        {LL: []float64{208}, Hertz: nan},
	} {
		_, err := Recognize(r)
		fails(t, name, err, ErrRange)
	}
}

func info(t *testing.T, s System) SystemInfo {
	t.Helper()
	i, found := s.Info()
	same(t, s.String()+" is known", found, true)
	return i
}

func TestSystems(t *testing.T) {
	for _, c := range []struct {
		s      System
		ground float64
	}{
		{Single120, 120}, {Split120_240, 120}, {Wye208Y120, 120}, {Wye208Single, 120}, {HighLeg240, 207.846}, {Delta240, 240},
		{Wye480Y277, 277}, {Delta480, 480}, {Single230, 230}, {Wye400Y230, 230},
	} {
		near(t, c.s.String(), info(t, c.s).VoltsToGround, c.ground, 0.001)
	}
	same(t, "systems", len(systems), 10)
	same(t, "unknown", UnknownSystem.String(), "unknown system")
	// Every full set of nominal readings is recognised as its own system.
	for _, i := range systems {
		r := Readings{Legs: i.Legs, NoN: !i.Neutral}
		for range map[int]int{1: 0, 2: 1, 3: 3}[i.Legs] {
			r.LL = append(r.LL, i.LineLineV)
		}
		if i.Neutral {
			for range i.Legs {
				r.LN = append(r.LN, i.LineNeutralV)
			}
		}
		if i.System == HighLeg240 {
			r.LN[1] = i.VoltsToGround
		}
		same(t, i.Name, fmt.Sprint(value[Recognition](t)(Recognize(r)).Candidates), fmt.Sprint([]System{i.System}))
	}
}
