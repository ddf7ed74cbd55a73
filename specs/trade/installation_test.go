package trade

import (
	"math"
	"testing"
)

// IEC 60364-5-52 Tables B.52.2 and B.52.4, method A2 (from memory).
func TestIECInsulatedAmpacity(t *testing.T) {
	for _, tt := range []struct {
		mm2    float64
		loaded int
		want   float64
	}{{1.5, 2, 14}, {2.5, 2, 18.5}, {4, 3, 23}, {16, 3, 52}} {
		if got, err := IECInsulatedAmpacity(tt.mm2, tt.loaded); err != nil || got != tt.want {
			t.Errorf("%v mm2, %d loaded: %v, %v, want %v", tt.mm2, tt.loaded, got, err, tt.want)
		}
	}
	for a := range methodA2 {
		for _, loaded := range []int{2, 3} {
			within, err := IECInsulatedAmpacity(a, loaded)
			if err != nil {
				t.Fatal(err)
			}
			if conduit, _ := IECConduitAmpacity(a, loaded); within >= conduit {
				t.Errorf("%v mm2: %v A within insulation, %v A in conduit on a wall", a, within, conduit)
			}
		}
	}
	if _, err := IECInsulatedAmpacity(25, 2); err == nil {
		t.Error("25 mm2 isn't tabulated")
	}
}

// NEC 250.122(B): 10380 x 105600 / 41740 circular mils, by Chapter 9 Table 8.
func TestEGCGrown(t *testing.T) {
	got, err := EGCGrown(60, Copper, "4", "1/0")
	if err != nil || math.Abs(got-10380.0*105600/41740) > 1e-6 {
		t.Errorf("%v, %v", got, err)
	}
	if got, _ := EGCGrown(60, Copper, "4", "6"); got != 10380 {
		t.Errorf("thinner than needed: %v, want the table's", got)
	}
}

// Names and currents by NEMA WD 6 and the household standards (from memory).
func TestReadPlugForm(t *testing.T) {
	for name, want := range map[string]PlugForm{
		"NEMA 10-30": {"NEMA 10", 30, false}, "1-15R": {"NEMA 1", 15, false}, "nema l6-20": {"NEMA L6", 20, true},
		"TT-30": {"NEMA TT", 30, true}, "CEE 7/3": {"CEE 7", 16, true}, "BS1363": {"BS 1363", 13, true},
		"NEMA 6-20": {"NEMA 6", 20, true},
	} {
		if got, ok := ReadPlugForm(name); !ok || got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	if _, ok := ReadPlugForm("an old three-pin one"); ok {
		t.Error("an unknown form was read")
	}
}
