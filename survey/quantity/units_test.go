package quantity

import (
	"math"
	"testing"
)

// The factors against GNU Units 2.22, a general unit converter, run with 12
// digits over its own definitions file; the expression is in the name. None of
// these numbers comes from this package.
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"in to mm", New(1, Inch).In(Millimetre), 25.4},
		{"ft to m", New(1, Foot).In(Metre), 0.3048},
		{"cm to mm", New(1, Centimetre).In(Millimetre), 10},
		{"psi to kPa", New(1, PSI).In(Kilopascal), 6.89475729317},
		{"lbf/ft^2 to kPa", New(1, PSF).In(KNPerM2), 0.0478802589803},
		{"bar to kPa", New(1, Bar).In(Kilopascal), 100},
		{"MPa to kPa", MustParse[Pressure]("1 MPa").In(Kilopascal), 1000},
		{"gallon to L", New(1, Gallon).In(Litre), 3.785411784},
		{"ft^3 to L", New(1, CubicFoot).In(Litre), 28.316846592},
		{"gal/min to L/min", New(1, GPM).In(LPM), 3.785411784},
		{"gal/hour to L/min", New(1, GPH).In(LPM), 0.0630901964},
		{"m^3/hour to L/min", New(1, CubicMetreHour).In(LPM), 16.6666666667},
		{"L/h to L/min", New(60, LPH).In(LPM), 1},
		{"btu/hour to W", New(1, BTUPerHour).In(Watt), 0.293071070172},
		{"kW to btu/hour", New(1, Kilowatt).In(BTUPerHour), 3412.14163313},
		{"horsepower to W", New(1, Horsepower).In(Watt), 745.699871582},
		{"lb to kg", New(1, Pound).In(Kilogram), 0.45359237},
		{"ft^2 to m^2", New(1, SquareFoot).In(SquareMetre), 0.09290304},
		{"in^2 to m^2", New(1, SquareInch).In(SquareMetre), 0.00064516},
		{"ft/s to m/s", New(1, FootPerSecond).In(MetrePerSecond), 0.3048},
		{"degF to degC", New(1, FahrenheitDiff).In(CelsiusDiff), 0.555555555556},
		{"tempF(119.6) to tempC", New(119.6, Fahrenheit).In(Celsius), 48.6666666667},
		{"tempF(140) to tempC", New(140, Fahrenheit).In(Celsius), 60},
		{"tempF(-40) to tempC", New(-40, Fahrenheit).In(Celsius), -40},
		{"grain/gallon to mg/L", New(1, GrainPerGallon).In(HardnessMgL), 17.1180610453},
		{"in/ft to percent", New(1, InchPerFoot).In(Percent), 8.33333333333},
		{"mm/m to percent", MustParse[Slope]("20 mm/m").In(Percent), 2},
		{"day to s", New(1, Day).In(Second), 86400},
		{"hour to min", New(1, Hour).In(Minute), 60},
		{"A to mA", New(1, Ampere).In(Milliampere), 1000},
	} {
		if math.Abs(c.got-c.want) > 1e-11*math.Abs(c.want) {
			t.Errorf("%s: got %.12g, want %.12g", c.name, c.got, c.want)
		}
	}
	// Molar masses differ in the last digit between tables: GNU Units 2.22 has
	// 10mg*(calcium+carbon+3oxygen)/(calcium+oxygen) = 17.8480457368 mg.
	if got := MustParse[Hardness]("1 °dH").In(HardnessMgL); math.Abs(got-17.8480457) > 1e-3 {
		t.Errorf("°dH to mg/L: got %v, want 17.848", got)
	}
	// By definition, from memory.
	if got := MustParse[Hardness]("1 °fH").In(HardnessMgL); !near(got, 10) {
		t.Errorf("°fH to mg/L: got %v, want 10", got)
	}
}

// A converter prints these as reference points: FAO, appendix A "Conversion
// Tables" (fao.org/3/X5738E), sections A.1 and A.2, to the digits it has.
func TestPublishedTable(t *testing.T) {
	for _, c := range []struct {
		name          string
		got, want, to float64
	}{
		{"pounds to kilograms", New(1, Pound).In(Kilogram), 0.454, 0.0005},
		{"kilograms to pounds", New(1, Kilogram).In(Pound), 2.205, 0.0005},
		{"feet to centimetres", New(1, Foot).In(Centimetre), 30.48, 0.005},
		{"millimetres to inches", New(1, Millimetre).In(Inch), 0.039, 0.0005},
		{"square inches to square feet via cm²", New(144, SquareInch).In(SquareFoot), 1, 1e-9},
		{"kilowatt-hour to Btu", New(1, Kilowatt).In(BTUPerHour), 3413, 1}, // the table uses another Btu
		{"horsepower to watts", New(1, Horsepower).In(Watt), 746, 0.5},
	} {
		if math.Abs(c.got-c.want) > c.to {
			t.Errorf("%s: got %v, want %v ± %v", c.name, c.got, c.want, c.to)
		}
	}
}

// Every spelling finds one unit of its dimension, every printed name is read,
// and every unit named in an error exists.
func TestSpellings(t *testing.T) {
	for _, d := range dims {
		seen := map[string]string{}
		for _, u := range d.units {
			if d.find(normalised(u.name)) != u {
				t.Errorf("%s: the printed name %q is not read back", d.name, u.name)
			}
			if _, ok := refused[u.name]; ok {
				t.Errorf("%s: %q is both accepted and refused", d.name, u.name)
			}
			for _, k := range append(append([]string{}, u.keys...), u.exact...) {
				if other, ok := seen[k]; ok {
					t.Errorf("%s: %q names both %s and %s", d.name, k, other, u.name)
				}
				seen[k] = u.name
			}
			for _, k := range u.keys {
				if d.find(k) != u {
					t.Errorf("%s: %q is not read as %s", d.name, k, u.name)
				}
			}
		}
		if d.named < 1 || d.named > len(d.units) {
			t.Errorf("%s: named is %d of %d units", d.name, d.named, len(d.units))
		}
		for _, example := range d.examples {
			if _, err := d.parse(example); err != nil {
				t.Errorf("%s: the example %q is refused: %v", d.name, example, err)
			}
		}
	}
}
