package quantity

import "testing"

// TestGauge prints figures as a tape or gauge reads them, a least rounded up
// and a most down. The values follow from 1 in = 25.4 mm and 1 psi = 6.894757 kPa, both exact by definition.
func TestGauge(t *testing.T) {
	for _, tt := range []struct {
		name string
		got  string
		want string
	}{
		{"inches in eighths", New(3.22, Inch).Gauge(US, Nearest), "3-1/4 in"},
		{"a least is rounded up", New(3.27, Inch).Gauge(US, Up), "3-3/8 in"},
		{"a most is rounded down", New(3.27, Inch).Gauge(US, Down), "3-1/4 in"},
		{"a least on the mark stays", New(3.25, Inch).Gauge(US, Up), "3-1/4 in"},
		{"metres of a run", New(12.34, Metre).Gauge(SI, Nearest), "12.3 m"},
		{"whole millimetres", New(3.22, Inch).Gauge(SI, Up), "82 mm"},
		{"feet and inches", New(30, Foot).Gauge(US, Nearest), "30 ft"},
		{"whole psi, least", New(20.01, PSI).Gauge(US, Up), "21 psi"},
		{"kPa in fives, most", New(80, PSI).Gauge(SI, Down), "550 kPa"},
		{"own words", MustParse[Pressure]("96 psi").Gauge(US, Nearest), "96 psi"},
		{"own words of the other system are turned", MustParse[Pressure]("96 psi").Gauge(SI, Nearest), "660 kPa"},
		{"a spread isn't printed", MustParse[Pressure]("62 ± 1 psi").Gauge(US, Nearest), "62 psi"},
		{"unknown", Pressure{}.Gauge(US, Nearest), "unknown"},
		{"slope", New(0.25, InchPerFoot).Gauge(US, Up), "1/4 in/ft"},
		{"minus", New(-70, Inch).Gauge(US, Nearest), "-70 in"},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, tt.got, tt.want)
		}
	}
}
