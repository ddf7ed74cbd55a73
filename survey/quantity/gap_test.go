package quantity_test

import (
	"testing"

	"firstfill/survey/quantity"
)

func TestGap(t *testing.T) {
	f := func(x float64) quantity.Temperature { return quantity.New(x, quantity.Fahrenheit) }
	psi := func(x float64) quantity.Pressure { return quantity.New(x, quantity.PSI) }
	tests := []struct {
		name   string
		gap    quantity.Gap
		sign   int
		us, si string
	}{
		{"above", quantity.GapOf(psi(96), psi(80)), 1, "16 psi (110 kPa)", "110 kPa (16 psi)"},
		{"below", quantity.GapOf(psi(79.5), psi(80)), -1, "0.5 psi (3.4 kPa)", "3.4 kPa (0.5 psi)"},
		{"equal in other units", quantity.GapOf(quantity.MustParse[quantity.Length]("3/4 in"), quantity.MustParse[quantity.Length]("19.05 mm")), 0, "0 in (0 mm)", "0 mm (0 in)"},
		{"degrees have no offset", quantity.GapOf(f(150), f(140)), 1, "10 °F (5.6 °C)", "5.6 °C (10 °F)"},
		{"a tiny gap is not nothing", quantity.GapOf(psi(80.00001), psi(80)), 1, "0.00001 psi (0.0001 kPa)", "0.0001 kPa (0.00001 psi)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := tt.gap.Base()
			if b > 0 != (tt.sign > 0) || b < 0 != (tt.sign < 0) {
				t.Errorf("got base %v, want sign %d", b, tt.sign)
			}
			if got := tt.gap.Show(quantity.US); got != tt.us {
				t.Errorf("US: got %q, want %q", got, tt.us)
			}
			if got := tt.gap.Show(quantity.SI); got != tt.si {
				t.Errorf("SI: got %q, want %q", got, tt.si)
			}
		})
	}
}

func TestUnitWrite(t *testing.T) {
	for _, x := range []float64{0, 0.25, 3.1416, 118, -2} {
		text := quantity.Inch.Write(x)
		q, err := quantity.Parse[quantity.Length](text)
		if err != nil || q.In(quantity.Inch) != x {
			t.Errorf("%v is written %q and read as %v, %v", x, text, q.In(quantity.Inch), err)
		}
	}
}
