package quantity

import (
	"math"
	"testing"
)

// TestFloorLoad holds the conversion against a public table of units: one
// pound-force per square foot is 47.880259 Pa.
func TestFloorLoad(t *testing.T) {
	q := MustParse[FloorLoad]("100 psf")
	if got, want := q.In(KNPerM2), 4.7880259; math.Abs(got-want) > 5e-8 {
		t.Errorf("100 psf: got %v kN/m², want %v", got, want)
	}
	if got, want := q.Show(SI), "4.79 kN/m² (100 psf)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for _, text := range []string{"4.8 kN/m2", "4.8 kPa"} {
		if p, err := Parse[FloorLoad](text); err != nil || math.Abs(p.In(PSF)-100.25) > 0.01 {
			t.Errorf("%s: got %v, %v, want about 100.25 psf", text, p, err)
		}
	}
	if _, err := Parse[FloorLoad]("100 psi"); err == nil {
		t.Error("100 psi was read as a floor load")
	}
}
