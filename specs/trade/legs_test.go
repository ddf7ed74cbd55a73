package trade

import (
	"math"
	"math/cmplx"
	"testing"
)

func TestVoltageUnbalance(t *testing.T) {
	for _, tt := range []struct {
		ab, bc, ca, want, within float64
		source                   string
	}{
		{203, 210, 212, 0.025, 0.0007, "motor protector's manual, formula of NEMA MG 1: mean 208.3, deviation 5.3, 2.5 % (printed with rounded steps)"},
		{462, 463, 455, 0.0109, 0.0001, "engineering forum, NEMA's definition: mean 460, 5 / 460 = 1.1 %"},
		{480, 476, 472, 0.0084, 0.0001, "knowledge base on MG 1: mean 476, 4 / 476 = 0.84 %"},
		{208, 208, 208, 0, 0, "no deviation"},
	} {
		if got := VoltageUnbalance(tt.ab, tt.bc, tt.ca); math.Abs(got-tt.want) > tt.within {
			t.Errorf("%v, %v, %v V: got %.4f, want %.4f (%s)", tt.ab, tt.bc, tt.ca, got, tt.want, tt.source)
		}
	}
	if !math.IsNaN(VoltageUnbalance(0, 208, 208)) {
		t.Error("a lost phase has no unbalance by this formula")
	}
}

func TestBreakerVoltages(t *testing.T) {
	for _, tt := range []struct {
		marking      string
		line, ground float64
		want         bool
		source       string
	}{
		{"120/240", 240, 120, true, "its own system"},
		{"120/240", 240, 208, false, "code course on 240.85: not on the high leg of a 120/240 V delta, 208 V to ground"},
		{"240", 240, 208, true, "a straight rating holds to ground"},
		{"120/240", 240, 240, false, "code course on 240.85: not on a corner-grounded delta, ground = line"},
		{"120/240", 208, 120, true, "208Y/120 is within both values"},
		{"480Y/277", 480, 277, true, "its own system"},
		{"240", 480, 277, false, "below the line voltage"},
	} {
		b, ok := FindBreakerVoltage(tt.marking)
		if !ok || b.Carries(tt.line, tt.ground) != tt.want {
			t.Errorf("%s on %v V, %v V to ground: got %v, want %v (%s)", tt.marking, tt.line, tt.ground, !tt.want, tt.want, tt.source)
		}
	}
	for _, tt := range []struct {
		line, ground float64
		poles        int
		want         string
	}{{240, 120, 2, "120/240"}, {208, 120, 3, "240"}, {240, 208, 2, "240"}, {480, 277, 3, "480Y/277"}, {480, 480, 3, "480"}, {120, 120, 1, "120/240"}} {
		if got, _ := BreakerMarking(tt.line, tt.ground, tt.poles); got != tt.want {
			t.Errorf("%v V, %v V to ground, %d poles: got %q, want %q", tt.line, tt.ground, tt.poles, got, tt.want)
		}
	}
	if _, ok := BreakerMarking(1000, 577, 3); ok {
		t.Error("no marking carries 1000 V")
	}
}

// TestApplianceOCPDPublished repeats two published calculations of 422.11(E).
func TestApplianceOCPDPublished(t *testing.T) {
	for _, tt := range []struct {
		rated, want float64
		source      string
	}{
		{4500.0 / 240, 30, "trade magazine's code question, 2020: 18.75 A × 150 % = 28 A, next size 30 A"},
		{32, 50, "code forum: 32 A × 150 % = 48 A, next size 50 A"},
		{13.3, 20, "the same article: not above 20 A to 13.3 A"},
	} {
		if got, err := ApplianceOCPD(tt.rated, 0, NEC2020); err != nil || got != tt.want {
			t.Errorf("%v A: got %v, %v, want %v (%s)", tt.rated, got, err, tt.want, tt.source)
		}
	}
}

// TestWorkspacePublished holds the depths against a state's table of the same rule.
func TestWorkspacePublished(t *testing.T) {
	// A state's labor code prints 3.0, 3.5 and 4.0 ft for 151 to 600 V to
	// ground under conditions A, B and C, and 3.0 ft for all to 150 V.
	for condition, feet := range map[int]float64{1: 3, 2: 3.5, 3: 4} {
		if got, err := WorkspaceDepthIn(277, condition); err != nil || got != 12*feet {
			t.Errorf("277 V, condition %d: got %v, %v, want %v in", condition, got, err, 12*feet)
		}
		if got, err := WorkspaceDepthIn(120, condition); err != nil || got != 36 {
			t.Errorf("120 V, condition %d: got %v, %v, want 36 in", condition, got, err)
		}
	}
}

// TestUnbalanceFactor holds the formula against the symmetrical components
// worked out from the phasors: two lines and the angle between them by the law
// of cosines, the third closing the triangle.
func TestUnbalanceFactor(t *testing.T) {
	turn := cmplx.Rect(1, 2*math.Pi/3)
	for _, v := range [][3]float64{{400, 400, 400}, {400, 410, 390}, {380, 400, 415}, {208, 214, 202}, {208, 120, 118}} {
		angle := math.Acos((v[0]*v[0] + v[1]*v[1] - v[2]*v[2]) / (2 * v[0] * v[1]))
		ab, bc := complex(v[0], 0), cmplx.Rect(v[1], angle-math.Pi)
		ca := -ab - bc
		plus, minus := cmplx.Abs(ab+turn*bc+turn*turn*ca), cmplx.Abs(ab+turn*turn*bc+turn*ca)
		want := math.Min(plus, minus) / math.Max(plus, minus)
		if got := UnbalanceFactor(v[0], v[1], v[2]); math.Abs(got-want) > 1e-7 {
			t.Errorf("%v: got %v, want %v by symmetrical components", v, got, want)
		}
	}
	for _, v := range [][3]float64{{0, 400, 400}, {400, 100, 100}} {
		if got := UnbalanceFactor(v[0], v[1], v[2]); !math.IsNaN(got) {
			t.Errorf("%v is no triangle: got %v", v, got)
		}
	}
}
