package trade

import (
	"math"
	"testing"
)

func TestMaxProtection(t *testing.T) {
	for _, r := range []struct {
		gauge   string
		usable  float64
		several bool
		want    float64
		source  string
	}{
		{"10", 35, false, 30, "NEC 240.4(D), wire-table pages (confirmed)"},
		{"12", 25, false, 20, "NEC 240.4(D), wire-table pages (confirmed)"},
		{"8", 44, false, 45, "NEC 240.4(B), from memory"},
		{"8", 44, true, 40, "NEC 240.4(B), from memory"},
		{"6", 65, false, 70, "NEC 240.4(B), from memory"},
		{"8", 50, false, 50, "at a standard rating"},
	} {
		got, err := MaxProtection(r.gauge, Copper, r.usable, r.several, NEC2020)
		if err != nil || got != r.want {
			t.Errorf("%s AWG, %v A, several %v: got %v, %v, want %v (%s)", r.gauge, r.usable, r.several, got, err, r.want, r.source)
		}
	}
	if _, err := MaxProtection("12", Copper, 10, true, NEC2020); err == nil {
		t.Error("10 A with several outlets: no device is small enough, want an error")
	}
	if _, err := MaxProtection("99", Copper, 10, false, NEC2020); err == nil {
		t.Error("unknown gauge: want an error")
	}
}

func TestIECFactors(t *testing.T) {
	// Published with the formula: 20 C 1.118, 40 C 0.866, 50 C 0.707 (public
	// documentation of a cable calculation, clause 523.2).
	for ambient, want := range map[float64]float64{20: 1.118, 30: 1, 40: 0.866, 50: 0.707, 70: 0, 80: 0} {
		if got := IECAmbientFactor(ambient, 70); math.Abs(got-want) > 0.0005 {
			t.Errorf("ambient %v C: got %v, want %v", ambient, got, want)
		}
	}
	if !math.IsNaN(IECAmbientFactor(20, 30)) {
		t.Error("insulation of 30 C: want NaN")
	}
	// From memory: Table B.52.17 item 1.
	for n, want := range map[int]float64{1: 1, 2: 0.8, 3: 0.7, 9: 0.5, 10: 0.45, 20: 0.38} {
		if got, err := IECGroupingFactor(n); err != nil || got != want {
			t.Errorf("%d circuits: got %v, %v, want %v", n, got, err, want)
		}
	}
	for _, n := range []int{0, 21} {
		if _, err := IECGroupingFactor(n); err == nil {
			t.Errorf("%d circuits: want an error", n)
		}
	}
	// From memory: Tables B.52.2 and B.52.4, method B2.
	if got, err := IECConduitAmpacity(4, 3); err != nil || got != 27 {
		t.Errorf("4 mm2 in conduit, 3 loaded: got %v, %v, want 27", got, err)
	}
	if _, err := IECConduitAmpacity(3, 2); err == nil {
		t.Error("3 mm2: want an error")
	}
	// From memory: Table 54.7.
	for area, want := range map[float64]float64{2.5: 2.5, 16: 16, 25: 16, 50: 25} {
		if got := ProtectiveMM2(area); got != want {
			t.Errorf("%v mm2: got %v, want %v", area, got, want)
		}
	}
}

func TestIECRatings(t *testing.T) {
	rs := IECRatings()
	for i := 1; i < len(rs); i++ {
		if rs[i] <= rs[i-1] {
			t.Errorf("%v A does not rise above %v A", rs[i], rs[i-1])
		}
	}
	if len(rs) != 13 || rs[3] != 16 {
		t.Errorf("got %v, want 13 ratings with 16 A the fourth", rs)
	}
}
