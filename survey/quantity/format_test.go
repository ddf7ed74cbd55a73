package quantity

import "testing"

func TestShow(t *testing.T) {
	for _, c := range []struct {
		name   string
		q      Quantity
		us, si string // want of Show
	}{
		{"own words, US", MustParse[Length]("3/4 in"), "3/4 in (19 mm)", "19 mm (3/4 in)"},
		{"own words, SI", MustParse[Pressure]("3.8 bar"), "55 psi (3.8 bar)", "3.8 bar (55 psi)"},
		{"own words with spread", MustParse[Pressure]("62 ± 2 psi"), "62 ± 2 psi (427 kPa)", "427 kPa (62 ± 2 psi)"},
		{"pressure", New(55, PSI), "55 psi (379 kPa)", "379 kPa (55 psi)"},
		{"pressure below 20", New(19.54, PSI), "19.5 psi (135 kPa)", "135 kPa (19.5 psi)"},
		{"pressure at 20", New(20.4, PSI), "20 psi (141 kPa)", "141 kPa (20 psi)"},
		{"trailing zero", New(15, PSI), "15 psi (103 kPa)", "103 kPa (15 psi)"},
		{"floor load", New(100, PSF), "100 psf (4.79 kN/m²)", "4.79 kN/m² (100 psf)"},
		{"temperature", New(119.6, Fahrenheit), "119.6 °F (48.7 °C)", "48.7 °C (119.6 °F)"},
		{"no trailing .0", New(60, Celsius), "140 °F (60 °C)", "60 °C (140 °F)"},
		{"difference", New(20, FahrenheitDiff), "20 °F (11.1 °C)", "11.1 °C (20 °F)"},
		{"flow", New(4, GPM), "4 gpm (15.1 L/min)", "15.1 L/min (4 gpm)"},
		{"volume", New(3.4, Litre), "0.898 gal (3.4 L)", "3.4 L (0.898 gal)"},
		{"hardness", New(9, GrainPerGallon), "9 gpg (154 mg/L)", "154 mg/L (9 gpg)"},
		{"mass", New(150, Pound), "150 lb (68 kg)", "68 kg (150 lb)"},
		{"speed", New(5, FootPerSecond), "5 ft/s (1.52 m/s)", "1.52 m/s (5 ft/s)"},
		{"area", New(1.1, SquareMetre), "11.8 ft² (1.1 m²)", "1.1 m² (11.8 ft²)"},
		{"slope", New(0.25, InchPerFoot), "1/4 in/ft (2.08 %)", "2.08 % (1/4 in/ft)"},
		{"slope as a ratio", MustParse[Slope]("1:50"), "0.24 in/ft (1:50)", "1:50 (0.24 in/ft)"},
		{"voltage", New(208, Volt), "208 V", "208 V"},
		{"voltage as written", MustParse[Voltage]("0.4 kV"), "0.4 kV", "0.4 kV"},
		{"current", New(0.5, Ampere), "0.5 A", "0.5 A"},
		{"resistance", New(0.68, Ohm), "0.68 Ω", "0.68 Ω"},
		{"concentration", New(154, MgPerL), "154 mg/L", "154 mg/L"},
		{"frequency", New(60, Hertz), "60 Hz", "60 Hz"},
		{"power below 1 kW", New(0.9, Kilowatt), "900 W", "900 W"},
		{"power at 1 kW", New(1000, Watt), "1 kW", "1 kW"},
		{"power as written", MustParse[Power]("40000 Btu/h"), "40000 Btu/h (11.7 kW)", "11.7 kW (40000 Btu/h)"},
		{"large", New(123456, Watt), "123 kW", "123 kW"},
		{"no rounding left of the point", New(1234, Litre), "326 gal (1234 L)", "1234 L (326 gal)"},
		{"seconds", New(119, Second), "119 s", "119 s"},
		{"minutes", New(120, Second), "2 min", "2 min"},
		{"hours", New(120, Minute), "2 h", "2 h"},
		{"days", New(48, Hour), "2 d", "2 d"},
		{"no -0", New(-1e-9, Inch), "0 in (0 mm)", "0 mm (0 in)"},
		{"no -0 °C", New(-0.04, Celsius), "31.9 °F (0 °C)", "0 °C (31.9 °F)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantText(t, "US", c.q.Show(US), c.us)
			wantText(t, "SI", c.q.Show(SI), c.si)
		})
	}
}

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		name   string
		inches float64
		us, si string
	}{
		{"zero", 0, "0 in", "0 mm"},
		{"sixteenth", 1.0 / 16, "1/16 in", "1.6 mm"},
		{"reduced", 0.5, "1/2 in", "13 mm"},
		{"mixed", 1.5, "1-1/2 in", "38 mm"},
		{"within 0.002 in", 0.7515, "3/4 in", "19 mm"},
		{"beyond 0.002 in", 0.7530, "0.75 in", "19 mm"},
		{"decimals", 0.33, "0.33 in", "8.4 mm"},
		{"negative", -2.25, "-2-1/4 in", "-57 mm"},
		{"below 10 ft", 119.5, "119-1/2 in", "3035 mm"},
		{"just below 10 ft", 119.99, "119.99 in", "3048 mm"},
		{"10 ft", 120, "10 ft", "3048 mm"},
		{"10 ft but for the last digit", 120 - 1e-10, "10 ft", "3048 mm"},
		{"feet and inches", 126, "10 ft 6 in", "3200 mm"},
		{"feet and a fraction", 126.5, "10 ft 6-1/2 in", "3213 mm"},
		{"to the sixteenth", 3200 / 25.4, "10 ft 6 in", "3200 mm"},
		{"carries to the next foot", 131.99, "11 ft", "3353 mm"},
		{"negative run", -126, "-10 ft 6 in", "-3200 mm"},
		{"below 10 m", 9999 / 25.4, "32 ft 9-11/16 in", "9999 mm"},
		{"10 m", 10000 / 25.4, "32 ft 9-11/16 in", "10 m"},
		{"metres", 12345 / 25.4, "40 ft 6 in", "12.35 m"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := New(c.inches, Inch)
			wantText(t, "US", q.US(), c.us)
			wantText(t, "SI", q.SI(), c.si)
		})
	}
}

func TestShowIn(t *testing.T) {
	q := MustParse[Length]("10 ft 6 in")
	wantText(t, "ft", q.ShowIn(Foot), "10.5 ft")
	wantText(t, "in", q.ShowIn(Inch), "126 in")
	wantText(t, "cm", q.ShowIn(Centimetre), "320 cm")
	wantText(t, "bar", New(55, PSI).ShowIn(Bar), "3.79 bar")
	wantText(t, "zero unit", q.ShowIn(Unit[length]{}), "unknown")
}

func TestDistinct(t *testing.T) {
	check := func(name, gotA, gotB, wantA, wantB string) {
		t.Helper()
		wantText(t, name+", first", gotA, wantA)
		wantText(t, name+", second", gotB, wantB)
	}
	a, b := Distinct(MustParse[Temperature]("119.6 °F"), New(120, Fahrenheit), US)
	check("near fail", a, b, "119.6 °F (48.7 °C)", "120 °F (48.9 °C)")
	a, b = Distinct(New(119.98, Fahrenheit), MustParse[Temperature]("120 °F"), US)
	check("nearer", a, b, "119.98 °F (48.88 °C)", "120 °F (48.89 °C)")
	a, b = Distinct(New(119.9999, Fahrenheit), New(120, Fahrenheit), SI)
	check("very near", a, b, "48.8888 °C (119.9999 °F)", "48.8889 °C (120 °F)")
	a, b = Distinct(MustParse[Length]("19 mm"), MustParse[Length]("3/4 in"), US)
	check("a fraction gives way", a, b, "0.748 in (19 mm)", "3/4 in (19.05 mm)")
	a, b = Distinct(New(120.001, Inch), New(120, Inch), US)
	check("runs", a, b, "10 ft 0.001 in (3048.03 mm)", "10 ft (3048 mm)")
	a, b = Distinct(New(999.9, Watt), New(1, Kilowatt), US)
	check("across a step of units", a, b, "999.9 W", "1 kW")
	a, b = Distinct(MustParse[Pressure]("20.4 psi"), MustParse[Pressure]("20 psi"), US)
	check("own words stay", a, b, "20.4 psi (140.7 kPa)", "20 psi (137.9 kPa)")
	a, b = Distinct(MustParse[Length]("0.75 in"), MustParse[Length]("3/4 in"), US)
	check("equal values", a, b, "0.75 in (19 mm)", "3/4 in (19 mm)")
	a, b = Distinct(Pressure{}, New(20, PSI), US)
	check("unknown", a, b, "unknown", "20 psi (138 kPa)")
}
