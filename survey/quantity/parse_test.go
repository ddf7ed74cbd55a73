package quantity

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// accepts runs rows of text and value for one dimension.
func accepts[D dimension](t *testing.T, u Unit[D], rows []struct {
	text string
	want float64
}) {
	t.Helper()
	for _, row := range rows {
		q, err := Parse[Of[D]](row.text)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		if got := q.In(u); !near(got, row.want) {
			t.Errorf("%q: got %v %s, want %v", row.text, got, u, row.want)
		}
		wantText(t, "Text", q.Text(), strings.TrimSpace(row.text))
	}
}

type rows = []struct {
	text string
	want float64
}

func TestParseLength(t *testing.T) {
	accepts(t, Inch, rows{
		{"3/4 in", 0.75}, {"0.75 in", 0.75}, {".75in", 0.75}, {`1-1/2"`, 1.5}, {"1 1/2 in", 1.5},
		{"½ in", 0.5}, {`1½"`, 1.5}, {"1-½ in", 1.5}, {"1⅛ in", 1.125}, {"1⁄2 in", 0.5}, {"1∕2 in", 0.5},
		{"10/4 in", 2.5}, {"1 - 1/2 inches", 1.5}, {"3/4-in", 0.75}, {"6 in.", 6}, {"+2 in", 2},
		{"10 ft 6 in", 126}, {"10'-6\"", 126}, {`10' 6 1/2"`, 126.5}, {`10'6"`, 126}, {"10ft 6in", 126},
		{`10'-6-1/2"`, 126.5}, {`10' 6½"`, 126.5}, {"10′ 6″", 126}, {"10’ 6”", 126}, {"10 ft. 6 in.", 126},
		{"10 feet 6.5 inches", 126.5}, {"10.5 ft", 126}, {"10'", 120}, {"0 ft 11.99 in", 11.99}, {"6''", 6},
		{"-2 in", -2}, {"−2 in", -2}, {"–2 in", -2}, {"- 2 in", -2}, {"-1-1/2 in", -1.5}, {"-10 ft 6 in", -126},
		{"25.4 mm", 1}, {"2.54 cm", 1}, {"1 m", 39.37007874015748}, {"1 METRE", 39.37007874015748},
		{"6\u00a0in", 6}, {"6\u2009in", 6}, {"6\u202fin", 6}, {"\u00a06 in ", 6}, {"1\u00a01/2\u2009in", 1.5},
		{"10 ± 1/8 in", 10}, {`10'-6" ± 1/2"`, 126},
	})
}

func TestParseOtherDimensions(t *testing.T) {
	accepts(t, PSI, rows{
		{"55 psi", 55}, {"55 psig", 55}, {"55 PSI", 55}, {"55psi", 55}, {"55 psi gauge", 55}, {"0 psi", 0},
	})
	accepts(t, Kilopascal, rows{
		{"3.8 bar", 380}, {"3.8 barg", 380}, {"380 kPa", 380}, {"380 KPA", 380}, {"0.38 MPa", 380}, {"380 kPa(g)", 380},
	})
	accepts(t, PSI, rows{
		{"62 ± 2 psi", 62}, {"62 psi ± 3 %", 62}, {"62 +/- 2 psi", 62}, {"62 +- 2 psi", 62}, {"62±2psi", 62},
	})
	accepts(t, PSF, rows{{"100 psf", 100}, {"100 lb/sq ft", 100}, {"100 lb/ft²", 100}})
	accepts(t, KNPerM2, rows{{"4.8 kN/m²", 4.8}, {"4.8 kPa", 4.8}})
	accepts(t, Fahrenheit, rows{
		{"140 °F", 140}, {"140F", 140}, {"140 f", 140}, {"140 deg F", 140}, {"140℉", 140}, {"140 ºF", 140},
		{"60 C", 140}, {"60 °C", 140}, {"60℃", 140}, {"-40 °C", -40}, {"-459.67 °F", -459.67}, {"140 ± 2 °F", 140},
	})
	accepts(t, FahrenheitDiff, rows{{"20 °F", 20}, {"-20 °F", -20}, {"10 K", 18}, {"10 °C", 18}})
	accepts(t, GPM, rows{{"4 gpm", 4}, {"40 gph", 40.0 / 60}, {"4 gal/min", 4}, {"4 gal per minute", 4}})
	accepts(t, LPM, rows{{"15 l/min", 15}, {"15 L / min", 15}, {"15 lpm", 15}, {"120 L/h", 2}, {"6 m³/h", 100}, {"6 m^3/h", 100}, {"2 L/s", 120}})
	accepts(t, Gallon, rows{{"0.9 gal", 0.9}, {"9/10 gallons", 0.9}, {"1 U.S. gal", 1}, {"231 ft³", 1728}})
	accepts(t, Litre, rows{{"3.4 L", 3.4}, {"3.4 l", 3.4}, {"500 mL", 0.5}, {"500 ml", 0.5}})
	accepts(t, GrainPerGallon, rows{{"9 gpg", 9}, {"9 grains/gal", 9}, {"9 grains per gallon", 9}})
	accepts(t, HardnessMgL, rows{{"154 mg/L", 154}, {"154 ppm", 154}, {"154 mg/L as CaCO3", 154}, {"3 °fH", 30}})
	accepts(t, Ohm, rows{{"0.6 Ω", 0.6}, {"0.6 \u2126", 0.6}, {"0.6ohm", 0.6}, {"600 mΩ", 0.6}, {"21 ohms", 21}})
	accepts(t, MgPerL, rows{{"154 mg/L", 154}, {"154 PPM", 154}})
	accepts(t, Volt, rows{{"208 V", 208}, {"208 volts", 208}, {"0.4 kV", 400}, {"208 V ac", 208}})
	accepts(t, Ampere, rows{{"12 A", 12}, {"12 amps", 12}, {"300 mA", 0.3}, {"10 kA", 10000}, {"10000 AIC", 10000}, {"22 kAIC", 22000}})
	accepts(t, Watt, rows{{"3.2 kW", 3200}, {"800 W", 800}, {"800 watts", 800}})
	accepts(t, Horsepower, rows{{"1.5 HP", 1.5}, {"1.5 hp", 1.5}})
	accepts(t, BTUPerHour, rows{{"40000 Btu/h", 40000}, {"40000 BTU/hr", 40000}, {"40000 BTUH", 40000}, {"40 MBH", 40000}, {"40 mbh", 40000}, {"75.1 kBtu/h", 75100}, {"40000 BTU per hour", 40000}})
	accepts(t, Percent, rows{{"2 %", 2}, {"2%", 2}, {"-2 %", -2}, {"20 mm/m", 2}, {"1:50", 2}, {"1 : 50", 2}, {"1/2:25", 2}, {"-1:50", -2}})
	accepts(t, InchPerFoot, rows{{"1/4 in/ft", 0.25}, {`1/4" per ft`, 0.25}, {"1/4 in per foot", 0.25}, {"¼ in/ft", 0.25}})
	accepts(t, FootPerSecond, rows{{"5 ft/s", 5}, {"5 fps", 5}, {"1.524 m/s", 5}})
	accepts(t, SquareFoot, rows{{"12 ft2", 12}, {"12 ft²", 12}, {"12 sq ft", 12}, {"12 sq. ft.", 12}, {"144 in²", 1}})
	accepts(t, SquareMetre, rows{{"1.1 m²", 1.1}, {"1.1 m2", 1.1}})
	accepts(t, Pound, rows{{"150 lb", 150}, {"150 lbs", 150}})
	accepts(t, Kilogram, rows{{"68 kg", 68}})
	accepts(t, Second, rows{{"90 s", 90}, {"90 sec", 90}, {"5 min", 300}, {"2 h", 7200}, {"2 hrs", 7200}, {"1 day", 86400}})
	accepts(t, Hertz, rows{{"60 Hz", 60}})
}

// A value written as rough carries the wider spread that is taken for it, and
// keeps its own words.
func TestRough(t *testing.T) {
	feet := func(text string, value, half float64) {
		t.Helper()
		q, err := Parse[Length](text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			return
		}
		if err := q.AssumeSpread("1/8 in"); err != nil {
			t.Fatal(err)
		}
		if !near(q.In(Foot), value) || !near(q.Spread(Foot), half) || q.SpreadStated() || q.Rough() != "10 %" || q.Text() != text {
			t.Errorf("%q: got %v ft ± %v ft (stated %v, rough %q), as text %q; want %v ± %v", text, q.In(Foot), q.Spread(Foot), q.SpreadStated(), q.Rough(), q.Text(), value, half)
		}
	}
	for _, text := range []string{"about 60 ft", "About 60 ft", "~60 ft", "~ 60 ft", "≈60 ft", "approx. 60 ft", "approx 60 ft", "approximately 60 ft", "ca. 60 ft", "circa 60 ft",
		"around 60 ft", "roughly 60 ft", "say 60 ft", "est. 60 ft", "60 ft?", "60 ft ?", "60 ft approx.", "60 ft or so", "60 ft (est.)", "about ~60 ft"} {
		feet(text, 60, 6)
	}
	feet("about 1 in", 1.0/12, 0.125/12) // no finer than the tape
	feet("about 0 ft", 0, 0)             // none of a thing is exact
	for _, c := range []struct {
		q     Adjustable
		text  string
		rough string
		half  float64
	}{
		{new(Temperature), "about 140 °F", "10 °F", 10 * 5.0 / 9},
		{new(Voltage), "~208 V", "5 %", 10.4},
		{new(Slope), "about 1/4 in/ft", "1/8 in/ft", 12.5 / 12},
		{new(Pressure), "60 psi approx", "10 %", 6 * kPaPerPSI},
		{new(Hardness), "about 10 gpg", "20 %", 2 * mgLPerGPG},
	} {
		if err := c.q.UnmarshalText([]byte(c.text)); err != nil || c.q.Rough() != c.rough || !near(c.q.HalfWidth(), c.half) {
			t.Errorf("%q: got %q, ± %v base units (%v), want %q, ± %v", c.text, c.q.Rough(), c.q.HalfWidth(), err, c.rough, c.half)
		}
	}
	// What is stated stands.
	if q := MustParse[Length]("about 60 ± 1 ft"); !q.SpreadStated() || q.Rough() != "" || !near(q.Spread(Foot), 1) {
		t.Errorf("about 60 ± 1 ft: got ± %v ft, rough %q", q.Spread(Foot), q.Rough())
	}
	if _, err := Parse[Length]("about"); err == nil {
		t.Error(`"about" was read as a length`)
	}
}

// A hint never pairs the number that was written with a unit that wasn't.
func TestHintsNameAnotherValue(t *testing.T) {
	for _, d := range dims {
		if len(d.spare) != len(d.examples) {
			t.Errorf("%s: %d spare examples for %d", d.name, len(d.spare), len(d.examples))
			continue
		}
		for _, e := range slices.Concat(d.examples, d.spare) {
			if _, err := d.parse(e); err != nil {
				t.Errorf("%s: the example %q can't be read: %v", d.name, e, err)
			}
			number := firstNumber().FindString(e)
			for _, text := range []string{number, number + " bananas", number + " °", number + " impgal"} {
				_, err := d.parse(text)
				if err == nil {
					continue // a slope as 1:50
				}
				_, hint, _ := strings.Cut(err.Error(), ";")
				for _, u := range d.units {
					if strings.Contains(hint, quote(number+" "+u.name)) {
						t.Errorf("%s: %q is told %q", d.name, text, hint)
					}
				}
			}
		}
	}
}

// refusals runs rows of text and the whole error for one type.
func refusals[Q any, P parser[Q]](t *testing.T, rows [][2]string) {
	t.Helper()
	for _, row := range rows {
		q, err := Parse[Q, P](row[0])
		if err == nil {
			t.Errorf("%q: got %v, want the error %s", row[0], q, row[1])
			continue
		}
		wantText(t, row[0], err.Error(), row[1])
	}
}

func TestParseErrors(t *testing.T) {
	refusals[Pressure](t, [][2]string{
		{"62", `"62" has no unit; write it with psi, bar or kPa, as in "55 psi"`},
		{"62 ± 3 %", `"62 ± 3 %" has no unit; write it with psi, bar or kPa, as in "55 psi"`},
		{"62 psi ± 2", `"62 psi ± 2": after ±: "2" has no unit; write it with psi, bar or kPa, as in "55 psi"`},
		{"62 psi ± -2 psi", `"62 psi ± -2 psi": after ±: "-2 psi" is negative; write the half-width as "1 psi"`},
		{"62 psi ± 2 A", `"62 psi ± 2 A": after ±: "2 A" is a current, not a pressure; write it as "55 psi" or "380 kPa"`},
		{"62 psi ±", `"62 psi ±": after ±: "" is not a pressure; write it as "55 psi" or "380 kPa"`},
		{"140 °F", `"140 °F" is a temperature, not a pressure; write it as "55 psi" or "380 kPa"`},
		{`62"`, `'62"' is a length, not a pressure; write it as "55 psi" or "380 kPa"`},
		{"5 %", `"5 %" is a percentage, not a pressure; write it as "55 psi" or "380 kPa"`},
		{"lots", `"lots" is not a pressure; write it as "55 psi" or "380 kPa"`},
		{"62 foo", `"62 foo" has the unknown unit "foo"; write it with psi, bar or kPa, as in "55 psi"`},
		{"-5 psi", `"-5 psi" is negative; a pressure is zero or more; write it as "55 psi" or "380 kPa"`},
		{"-0 psi", `"-0 psi" has a minus before zero; write it as "55 psi" or "380 kPa"`},
		{"", `the text is blank, not a pressure; write it as "55 psi" or "380 kPa"`},
		{" \u00a0", `the text is blank, not a pressure; write it as "55 psi" or "380 kPa"`},
		{"inf psi", `"inf psi" is not a finite number; write it as "55 psi" or "380 kPa"`},
		{"NaN", `"NaN" is not a finite number; write it as "55 psi" or "380 kPa"`},
		{"1e999 psi", `"1e999 psi" has an exponent, which is not read; write it as "55 psi" or "380 kPa"`},
		{"9999999999999 psi", `"9999999999999 psi" is out of range for a pressure; write it as "55 psi" or "380 kPa"`},
		{"55\npsi", `"55\npsi" holds a control character; write it as "55 psi" or "380 kPa"`},
		{"55 psia", `"55 psia" is an absolute pressure, and pressures here are gauge; write it as "62 psi" or "380 kPa"`},
		{"3.8 bar abs", `"3.8 bar abs" is an absolute pressure, and pressures here are gauge; write it as "55 psi" or "380 kPa"`},
		{"0.38 mpa", `"0.38 mpa" has a unit whose letter case decides: m is milli, M is mega; write it as "55 psi" or "380 kPa"`},
		{"55-60 psi", `"55-60 psi" holds more than one number; write one value, with ± for a spread`},
		{"55 to 60 psi", `"55 to 60 psi" holds more than one number; write one value, with ± for a spread`},
		{strings.Repeat("5", 78) + " psi", `"55555555555555555555"… is too long for a pressure: 82 bytes, at most 80; write it as "55 psi" or "380 kPa"`},
	})
	refusals[FloorLoad](t, [][2]string{{"-1 psf", `"-1 psf" is negative; a floor load is zero or more; write it as "100 psf" or "4.8 kN/m²"`}})
	refusals[Temperature](t, [][2]string{
		{"62 psi", `"62 psi" is a pressure, not a temperature; write it as "140 °F" or "60 °C"`},
		{"140", `"140" has no unit; write it with °F or °C, as in "120 °F"`},
		{"140°", `"140°" is in degrees of a scale not named; write it as "120 °F" or "60 °C"`},
		{"333 K", `"333 K" is on the kelvin scale; write it as "140 °F" or "60 °C"`},
		{"-459.8 °F", `"-459.8 °F" is below absolute zero; write it as "140 °F" or "60 °C"`},
		{"140 °F ± 2 %", `"140 °F ± 2 %": after ±: "2 %" of a temperature has no meaning; write it in degrees, as "1 °F"`},
	})
	refusals[Length](t, [][2]string{
		{"1 1/2", `"1 1/2" has no unit; write it with in, ft, mm or m, as in "3/4 in"`},
		{"3/0 in", `"3/0 in" has a fraction over zero; write it as "3/4 in", "10 ft 6 in" or "19 mm"`},
		{"10' 1/0\"", `'10' 1/0"' has a fraction over zero; write it as "3/4 in", "12 ft 3 in" or "19 mm"`},
		{"1 3/2 in", `"1 3/2 in" has a whole number before the fraction 3/2, which is not below one; write it as "3/4 in", "10 ft 6 in" or "19 mm"`},
		{"10 ft 12 in", `"10 ft 12 in" has 12 in after the feet, where less than 12 fits; write it as "3/4 in", "12 ft 3 in" or "19 mm"`},
		{"10' 6", `"10' 6" has no unit after its last number; write it as "3/4 in", "12 ft 3 in" or "19 mm"`},
		{"1,500 mm", `"1,500 mm" has a comma; write 1500, or 1.500 if the comma is the decimal mark`},
		{"1,234,567 mm", `"1,234,567 mm" has a comma; write 1234567`},
		{"1,500.5 mm", `"1,500.5 mm" has a comma; write 1500.5`},
		{"3,4 m", `"3,4 m" has a comma; write 3.4`},
		{"1 500 mm", `"1 500 mm" has a blank inside the number; write 1500`},
		{"5 tons", `"5 tons" is in tons, which are several units; write it as "3/4 in", "10 ft 6 in" or "19 mm"`},
		{"12 A", `"12 A" is a current, not a length; write it as "3/4 in", "10 ft 6 in" or "19 mm"`},
	})
	refusals[Volume](t, [][2]string{
		{"3 imp gal", `"3 imp gal" is in imperial gallons, and gallons here are US; write it as "0.9 gal" or "3.4 L"`},
		{"5 oz", `"5 oz" is in ounces, which are a weight or a volume; write it as "0.9 gal" or "3.4 L"`},
		{"5 ML", `"5 ML" has a unit whose letter case decides: m is milli, M is mega; write it as "0.9 gal" or "3.4 L"`},
		{"4 gpm", `"4 gpm" is a flow, not a volume; write it as "0.9 gal" or "3.4 L"`},
		{"-1 gal", `"-1 gal" is negative; a volume is zero or more; write it as "0.9 gal" or "3.4 L"`},
	})
	refusals[Flow](t, [][2]string{
		{"-4 gpm", `"-4 gpm" is negative; a flow is zero or more; write it as "4 gpm" or "15 L/min"`},
		{"12 ft²", `"12 ft²" is an area, not a flow; write it as "4 gpm" or "15 L/min"`},
		{"4 imp gal/min", `"4 imp gal/min" is in imperial gallons, and gallons here are US; write it as "3 gpm" or "15 L/min"`},
	})
	refusals[Power](t, [][2]string{
		{"40,000 Btu/h", `"40,000 Btu/h" has a comma; write 40000, or 40.000 if the comma is the decimal mark`},
		{"3 kVA", `"3 kVA" is apparent power, not the power in watts; write it as "3.2 kW" or "800 W"`},
	})
	refusals[Slope](t, [][2]string{
		{"1:0", `"1:0" has a run of zero; write it as "1/4 in/ft", "2 %" or "1:100"`},
		{"1/4 in", `"1/4 in" is a length, not a slope; write it as "1/8 in/ft", "2 %" or "1:50"`},
	})
	refusals[Current](t, [][2]string{
		{"300 MA", `"300 MA" has a unit whose letter case decides: m is milli, M is mega; write it as "12 A"`},
	})
	refusals[Area](t, [][2]string{{"-1 m²", `"-1 m²" is negative; an area is zero or more; write it as "12 ft²" or "1.1 m²"`}})
}

// roundTrip checks what must hold of any text: no panic, and of one that is
// read, that its own text and both printed forms are read back.
func roundTrip[D dimension](t *testing.T, text string) {
	q, err := Parse[Of[D]](text)
	if err != nil {
		if q.Known() || err.Error() == "" {
			t.Fatalf("%q: value %v beside the error %q", text, q, err)
		}
		return
	}
	again, err := Parse[Of[D]](q.Text())
	if err != nil || again != q {
		t.Fatalf("%q: its own text %q is read as %v (%v)", text, q.Text(), again, err)
	}
	if math.Abs(q.base()) > maxValue/2 {
		return // its printed form may round past the limit
	}
	computed := q.fromBase(q.base())
	for _, s := range []System{US, SI} {
		_, reads := computed.rendered(s, 0)
		printed := computed.form(s, 0)
		back, err := Parse[Of[D]](printed)
		if err != nil {
			t.Fatalf("%q: printed as %q, which is refused: %v", text, printed, err)
		}
		if got := back.base(); math.Abs(got-reads) > 1e-9*(math.Abs(reads)+1) {
			t.Fatalf("%q: printed as %q, which reads %v, not %v", text, printed, got, reads)
		}
		// Half of the last place printed: half a unit of the form at most, and
		// no more than half a per cent where three digits are kept.
		u := q.dim().print[s](q.base())
		if off := math.Abs(reads - q.base()); off > max(0.005*math.Abs(q.base()), 0.5001*u.factor) {
			t.Fatalf("%q: printed as %q, off by %v", text, printed, off)
		}
		if strings.HasPrefix(printed, "-0 ") {
			t.Fatalf("%q: printed as %q", text, printed)
		}
	}
	if !strings.Contains(q.Show(SI), q.Text()) {
		t.Fatalf("%q: shown as %q, without its own words", text, q.Show(SI))
	}
}

// nameRoundTrip is roundTrip for the types that are names.
func nameRoundTrip[Q comparable, P interface {
	parser[Q]
	String() string
}](t *testing.T, text string) {
	q, err := Parse[Q, P](text)
	if err != nil {
		return
	}
	if again, err := Parse[Q, P](P(&q).String()); err != nil || again != q {
		t.Fatalf("%q: %q is read as %v (%v)", text, P(&q).String(), again, err)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"3/4 in", `1-1/2"`, `10'-6 1/2"`, "-2 in", "62 ± 2 psi", "62 psi ± 1 % + 2 kPa", "60 °C", "140F ± 1 K",
		"4 gpm", "6 m³/h", "9 °dH", "0.4 kV", "1.5 hp", "40000 Btu/h", "1:50", `1/4" per ft`, "2 ± 0.5 %",
		"90 s", "2 h", "12 sq ft", "154 ppm", "1½ in", "DN 40", "1/2", "#12", "4/0 AWG", "2.5 mm²",
		"1,500 psi", "3/0 in", "inf psi", "1e999 V", "55-60 psi", "1 500 L", "\xff psi", "± psi", "10 ft 12 in",
		"0.0000004 mL", "123456.789 lb", "9999.6 mm", "119.9999 in", "1.99 d",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		roundTrip[length](t, s)
		roundTrip[area](t, s)
		roundTrip[volume](t, s)
		roundTrip[mass](t, s)
		roundTrip[duration](t, s)
		roundTrip[frequency](t, s)
		roundTrip[pressure](t, s)
		roundTrip[load](t, s)
		roundTrip[temperature](t, s)
		roundTrip[tempDiff](t, s)
		roundTrip[flow](t, s)
		roundTrip[speed](t, s)
		roundTrip[slope](t, s)
		roundTrip[voltage](t, s)
		roundTrip[current](t, s)
		roundTrip[power](t, s)
		roundTrip[hardness](t, s)
		roundTrip[concentration](t, s)
		nameRoundTrip[PipeSize](t, s)
		nameRoundTrip[WireSize](t, s)
	})
}

// FuzzDistinct checks that unequal values read unequal, and in order, in both
// systems as printed.
func FuzzDistinct(f *testing.F) {
	for _, p := range [][2]float64{{119.6, 120}, {119.9999999, 120}, {0.75, 0.7515}, {-0.001, 0}, {131.99, 132}, {1e6, 1e6 + 0.01}, {-459.67, 20}, {-459.665, -459.66}} {
		f.Add(p[0], p[1])
	}
	f.Fuzz(func(t *testing.T, a, b float64) {
		if !(math.Abs(a) < 1e7 && math.Abs(b) < 1e7) {
			return
		}
		parted2(t, New(a, Inch), New(b, Inch))
		parted2(t, New(a, Fahrenheit), New(b, Fahrenheit))
		parted2(t, New(a, FahrenheitDiff), New(b, FahrenheitDiff))
		parted2(t, New(a, InchPerFoot), New(b, InchPerFoot))
		parted2(t, New(math.Abs(a), PSI), New(math.Abs(b), PSI))
		parted2(t, New(math.Abs(a), GPM), New(math.Abs(b), GPM))
		parted2(t, New(math.Abs(a), Watt), New(math.Abs(b), Watt))
	})
}

func parted2[D dimension](t *testing.T, a, b Of[D]) {
	t.Helper()
	if a.base() < a.dim().floor || b.base() < a.dim().floor {
		return // cannot be read back
	}
	x, y := Distinct(a, b, US)
	first, second, _ := strings.Cut(strings.TrimSuffix(x, ")"), " (")
	third, fourth, _ := strings.Cut(strings.TrimSuffix(y, ")"), " (")
	for _, pair := range [][2]string{{first, third}, {second, fourth}} {
		if pair[0] == "" && pair[1] == "" {
			continue // a dimension of one form
		}
		p, err := Parse[Of[D]](pair[0])
		if err != nil {
			t.Fatal(err)
		}
		q, err := Parse[Of[D]](pair[1])
		if err != nil {
			t.Fatal(err)
		}
		order := a.Cmp(b)
		if order != 0 && float64(order)*(p.base()-q.base()) <= 0 {
			t.Fatalf("%v and %v compare as %d but print as %q and %q", a.base(), b.base(), order, pair[0], pair[1])
		}
	}
}

// TestPattern holds the schema's pattern against the reader: what is read matches, a bare number doesn't.
func TestPattern(t *testing.T) {
	p := regexp.MustCompile(Pattern)
	for _, text := range []string{"62 psi", "62 ± 2 psi", "3/4 in", "1-1/2 in", "½ in", "10 ft 6 in", `6"`, "1:50", "2 %", "140 °F", "unknown", "n/a", "?", "about 60 ft", "2.5 mm²", "4.8 kN/m²", "0.6 Ω"} {
		if !p.MatchString(text) {
			t.Errorf("%q doesn't match", text)
		}
	}
	for _, text := range []string{"62", "62.5", "1/2", "62 ± 2", "-3"} {
		if p.MatchString(text) {
			t.Errorf("%q matches without a unit", text)
		}
	}
}
