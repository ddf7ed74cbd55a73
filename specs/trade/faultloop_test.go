package trade

import (
	"math"
	"testing"
)

// TestMaxLoopOhm repeats BS 7671 Table 41.3 at 230 V, as two trade sites print it.
func TestMaxLoopOhm(t *testing.T) {
	for _, tt := range []struct {
		curve      string
		amps, want float64
	}{
		{"B", 6, 7.28}, {"B", 16, 2.73}, {"B", 32, 1.37}, {"B", 63, 0.69},
		{"C", 16, 1.37}, {"C", 32, 0.68}, {"C", 50, 0.44},
		{"D", 16, 0.68}, {"D", 32, 0.34}, {"D", 63, 0.17},
	} {
		got, err := MaxLoopOhm(230, tt.amps, tt.curve)
		if err != nil || math.Abs(got-tt.want) > 0.006 {
			t.Errorf("%s%v: got %.3f ohm, %v; want %v", tt.curve, tt.amps, got, err, tt.want)
		}
	}
	for _, bad := range []struct {
		curve    string
		u0, amps float64
	}{{"K", 230, 16}, {"B", 0, 16}, {"B", 230, 0}, {"", 230, 16}} {
		if z, err := MaxLoopOhm(bad.u0, bad.amps, bad.curve); err == nil {
			t.Errorf("%+v: got %v ohm, want an error", bad, z)
		}
	}
	// 50 V / 30 mA; BS 7671 Table 41.5 gives 1667 ohm (read in a secondary text).
	if got := MaxElectrodeOhm(30); math.Abs(got-1667) > 0.5 {
		t.Errorf("30 mA: got %v ohm, want 1667", got)
	}
}
