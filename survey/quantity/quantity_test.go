package quantity

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

var (
	_ Quantity   = Length{}
	_ Adjustable = (*Temperature)(nil)
)

// near reports whether got is want to one part in 1e9.
func near(got, want float64) bool {
	return math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))
}

// wantText fails t unless got is want.
func wantText(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func TestZeroIsUnknown(t *testing.T) {
	var q Pressure
	if q.Known() {
		t.Error("the zero value is known")
	}
	if v := q.In(PSI); !math.IsNaN(v) {
		t.Errorf("In: got %v, want NaN", v)
	}
	wantText(t, "Text", q.Text(), "")
	for _, s := range []string{q.String(), q.Show(SI), q.US(), q.SI(), q.ShowIn(Bar)} {
		wantText(t, "shown", s, "unknown")
	}
	wantText(t, "SpreadText", q.SpreadText(US), "")
	q.Nudge(1)
	if err := q.AssumeSpread("1 %"); err != nil {
		t.Errorf("AssumeSpread: %v", err)
	}
	if q = q.WithSpread(2, PSI); q.Known() || q.HalfWidth() != 0 {
		t.Errorf("a spread made the unknown value %v", q)
	}
	if q.Times(2).Known() || q.Plus(New(1, PSI)).Known() || New(1, PSI).Minus(q).Known() {
		t.Error("arithmetic on an unknown value gave a known one")
	}
}

func TestNew(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if New(v, PSI).Known() {
			t.Errorf("New(%v) is known", v)
		}
	}
	if New(1, Unit[pressure]{}).Known() {
		t.Error("a value in the zero unit is known")
	}
	q := New(math.Copysign(0, -1), Inch)
	wantText(t, "New(-0)", q.String(), "0 in (0 mm)")
	wantText(t, "Text of a computed value", New(3.8, Bar).Text(), "55 psi")
	wantText(t, "Unit", PSI.String(), "psi")
	wantText(t, "zero Unit", Unit[length]{}.String(), "")
}

func TestInIsExactInOwnUnit(t *testing.T) {
	for _, v := range []float64{0.1, 55, 119.6, 140, 1.0 / 3} {
		if got := New(v, Fahrenheit).In(Fahrenheit); got != v {
			t.Errorf("In(°F): got %v, want %v", got, v)
		}
		if got := New(v, PSI).In(PSI); got != v {
			t.Errorf("In(psi): got %v, want %v", got, v)
		}
	}
}

func TestCmp(t *testing.T) {
	length := MustParse[Length]
	temp := MustParse[Temperature]
	for _, c := range []struct {
		name string
		got  int
		want int
	}{
		{"fraction and decimal", length("3/4 in").Cmp(length("0.75 in")), 0},
		{"inch and mm", length("1 in").Cmp(length("25.4 mm")), 0},
		{"feet and inches", length("10 ft 6 in").Cmp(length("126 in")), 0},
		{"three tenths", New(0.1, Inch).Plus(New(0.2, Inch)).Cmp(New(0.3, Inch)), 0},
		{"just below", length("0.7499999 in").Cmp(length("3/4 in")), -1},
		{"just above", length("0.7500001 in").Cmp(length("3/4 in")), 1},
		{"scales agree", temp("140 °F").Cmp(temp("60 °C")), 0},
		{"scales meet at -40", temp("-40 °F").Cmp(temp("-40 °C")), 0},
		{"freezing, both scales", temp("32 °F").Cmp(temp("0 °C")), 0},
		{"near miss", temp("119.6 °F").Cmp(temp("120 °F")), -1},
		{"spread plays no part", MustParse[Pressure]("62 ± 2 psi").Cmp(New(62, PSI)), 0},
		{"unknown first", Length{}.Cmp(length("-2 in")), -1},
		{"known last", length("-2 in").Cmp(Length{}), 1},
		{"both unknown", Length{}.Cmp(Length{}), 0},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %d, want %d", c.name, c.got, c.want)
		}
	}
}

func TestArithmetic(t *testing.T) {
	sum := MustParse[Length]("10 ft ± 1 in").Plus(MustParse[Length]("254 mm ± 25.4 mm"))
	if got := sum.In(Inch); !near(got, 130) {
		t.Errorf("10 ft + 254 mm: got %v in, want 130", got)
	}
	if got := sum.Spread(Inch); !near(got, 2) {
		t.Errorf("spread of the sum: got %v in, want 2", got)
	}
	wantText(t, "difference", MustParse[Pressure]("62 psi").Minus(MustParse[Pressure]("55 psi")).String(), "7 psi (48 kPa)")
	wantText(t, "below zero", New(5.0, PSI).Minus(New(6.0, PSI)).US(), "-1 psi")
	half := New(3, GPM).WithSpread(1, GPM).Times(-0.5)
	if half.In(GPM) != -1.5 || !near(half.Spread(GPM), 0.5) {
		t.Errorf("Times: got %v ± %v, want -1.5 ± 0.5", half.In(GPM), half.Spread(GPM))
	}
	if a := MustParse[Temperature]("140 °F"); a.Plus(a).Known() || a.Minus(a).Known() || a.Times(2).Known() {
		t.Error("temperatures were added")
	}

	wantText(t, "warmer", Warmer(MustParse[Temperature]("120 °F"), MustParse[TempDiff]("10 K")).US(), "138 °F")
	wantText(t, "colder", Warmer(New(60, Celsius), New(-18, FahrenheitDiff)).SI(), "50 °C")
	if Warmer(New(1, Celsius), TempDiff{}).Known() {
		t.Error("an unknown temperature gave a known result")
	}
}

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       float64 // psi
		stated     bool
	}{
		{"none", "62 psi", 0, false},
		{"unit once", "62 ± 2 psi", 2, true},
		{"unit twice", "62 psi ± 2 psi", 2, true},
		{"typed", "62 +/- 2 psi", 2, true},
		{"per cent", "62 psi ± 3 %", 1.86, true},
		{"other unit", "62 psi ± 6.894757293168 kPa", 1, true},
		{"sum", "50 psi ± 2 % + 0.5 psi", 1.5, true},
		{"zero", "62 ± 0 psi", 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := MustParse[Pressure](c.text)
			if got := q.Spread(PSI); !near(got, c.want) {
				t.Errorf("%q: got spread %v psi, want %v", c.text, got, c.want)
			}
			if q.SpreadStated() != c.stated {
				t.Errorf("%q: got stated %v, want %v", c.text, q.SpreadStated(), c.stated)
			}
			if q.Spread(Unit[pressure]{}) != 0 {
				t.Error("a spread in the zero unit")
			}
		})
	}
	temp := MustParse[Temperature]("140 ± 1.8 °F")
	if got := temp.Spread(Celsius); !near(got, 1) {
		t.Errorf("spread of a temperature: got %v °C, want 1 and no offset", got)
	}
	if got := temp.HalfWidth(); !near(got, 1) {
		t.Errorf("HalfWidth: got %v °C, want 1", got)
	}
	if got := MustParse[Slope]("2 ± 0.5 %").Spread(Percent); !near(got, 0.5) {
		t.Errorf("a slope's per cent is its unit: got %v, want 0.5", got)
	}
}

func TestWithSpread(t *testing.T) {
	q := MustParse[Pressure]("62 ± 2 psi").WithSpread(-3, PSI)
	if got := q.Spread(PSI); !near(got, 3) || q.SpreadStated() {
		t.Errorf("got ± %v psi, stated %v; want 3, false", got, q.SpreadStated())
	}
	if got := q.WithSpread(math.Inf(1), PSI).HalfWidth(); got != 0 {
		t.Errorf("an infinite spread: got %v, want none", got)
	}
}

func TestSpreadText(t *testing.T) {
	for _, c := range []struct{ name, got, want string }{
		{"psi", MustParse[Pressure]("62 ± 2 psi").SpreadText(US), "± 2 psi"},
		{"kPa", MustParse[Pressure]("62 ± 2 psi").SpreadText(SI), "± 13.8 kPa"},
		{"no offset", MustParse[Temperature]("140 ± 2 °F").SpreadText(US), "± 2 °F"},
		{"°C", MustParse[Temperature]("140 ± 2 °F").SpreadText(SI), "± 1.1 °C"},
		{"fraction", MustParse[Length](`10' ± 1/8"`).SpreadText(US), "± 1/8 in"},
		{"too small for the usual digits", New(60, Celsius).WithSpread(0.004, Celsius).SpreadText(SI), "± 0.004 °C"},
		{"none", New(60, Celsius).SpreadText(SI), ""},
	} {
		wantText(t, c.name, c.got, c.want)
	}
}

func TestAssumeSpread(t *testing.T) {
	volts := MustParse[Voltage]("208 V")
	for _, c := range []struct {
		text string
		want float64
	}{{"2 V", 2}, {"1 %", 2.08}, {"1 % + 2 V", 4.08}, {"± 3 V", 3}, {"0.001 kV", 1}} {
		if err := volts.AssumeSpread(c.text); err != nil {
			t.Errorf("%q: %v", c.text, err)
		}
		if got := volts.Spread(Volt); !near(got, c.want) || volts.SpreadStated() {
			t.Errorf("%q: got ± %v V, stated %v; want ± %v, false", c.text, got, volts.SpreadStated(), c.want)
		}
	}

	stated := MustParse[Pressure]("62 ± 2 psi")
	if err := stated.AssumeSpread("9 psi"); err != nil || !near(stated.Spread(PSI), 2) {
		t.Errorf("a stated spread was changed to %v psi (%v)", stated.Spread(PSI), err)
	}
	exact := MustParse[Pressure]("62 ± 0 psi")
	if err := exact.AssumeSpread("9 psi"); err != nil || exact.Spread(PSI) != 0 {
		t.Errorf("a stated spread of zero was changed to %v psi (%v)", exact.Spread(PSI), err)
	}
	negative := New(-4, Inch)
	if err := negative.AssumeSpread("25 %"); err != nil || !near(negative.Spread(Inch), 1) {
		t.Errorf("25 %% of -4 in: got ± %v in (%v), want 1", negative.Spread(Inch), err)
	}
	rise := New(1.0, CelsiusDiff)
	if err := rise.AssumeSpread("10 %"); err != nil || !near(rise.Spread(CelsiusDiff), 0.1) {
		t.Errorf("10 %% of a rise of 1 °C: got ± %v (%v), want 0.1", rise.Spread(CelsiusDiff), err)
	}

	temp := MustParse[Temperature]("140 °F")
	if err := temp.AssumeSpread("2 °F"); err != nil || !near(temp.Spread(Fahrenheit), 2) {
		t.Errorf("2 °F: got ± %v °F (%v)", temp.Spread(Fahrenheit), err)
	}
	for _, c := range []struct{ text, want string }{
		{"1 %", `"1 %" of a temperature has no meaning; write it in degrees, as "1 °F"`},
		{"2 psi", `"2 psi" is a pressure, not a temperature difference; write it as "20 °F" or "11 °C"`},
		{"2", `"2" has no unit; write it with °F or °C, as in "20 °F"`},
		{"-2 °F", `"-2 °F" is negative; write the half-width as "1 °F"`},
		{"", `the text is blank, not a spread; write it as "1 °F"`},
		{"1 °F +", `"" is not a temperature difference; write it as "20 °F" or "11 °C"`},
	} {
		before := temp
		err := temp.AssumeSpread(c.text)
		if err == nil {
			t.Errorf("%q: no error, want %s", c.text, c.want)
			continue
		}
		wantText(t, c.text, err.Error(), c.want)
		if temp != before {
			t.Errorf("%q: the error changed the value", c.text)
		}
	}
	if err := new(Voltage).AssumeSpread("2 A"); err == nil {
		t.Error("an unknown value took a spread of another dimension")
	}
}

func TestNudge(t *testing.T) {
	nudged := func(text string, k float64) Pressure {
		q := MustParse[Pressure](text)
		q.Nudge(k)
		return q
	}
	for _, c := range []struct {
		name string
		q    Pressure
		psi  float64
		text string
	}{
		{"low end", nudged("62 ± 2 psi", -1), 60, "60 psi"},
		{"high end", nudged("62 ± 2 psi", 1), 64, "64 psi"},
		{"half way", nudged("62 ± 2 psi", 0.5), 63, "63 psi"},
		{"nowhere", nudged("62 ± 2 psi", 0), 62, "62 psi"},
		{"nowhere, not finite", nudged("62 ± 2 psi", math.NaN()), 62, "62 psi"},
		{"no spread keeps the text", nudged("62 PSI", -1), 62, "62 PSI"},
		{"not below zero", nudged("1 ± 2 psi", -1), 0, "0 psi"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.q.In(PSI); !near(got, c.psi) {
				t.Errorf("got %v psi, want %v", got, c.psi)
			}
			wantText(t, "text", c.q.Text(), c.text)
			if c.q.HalfWidth() != 0 || c.q.SpreadStated() {
				t.Errorf("a spread of %v is left", c.q.HalfWidth())
			}
		})
	}
	cold := MustParse[Temperature]("33 ± 2 °F")
	cold.Nudge(-1)
	wantText(t, "temperatures go below zero", cold.SI(), "-0.6 °C")
	short := New(-1, PSI).WithSpread(1, PSI) // a computed shortfall
	short.Nudge(-1)
	if got := short.In(PSI); !near(got, -1) {
		t.Errorf("nudged down from below the floor: got %v psi, want -1", got)
	}
}

func TestMarshal(t *testing.T) {
	type site struct {
		Hot, Cold Temperature
		Inlet     PipeSize
		Supply    WireSize
	}
	in := `{"Hot":"140F","Cold":"","Inlet":"1½ in","Supply":"#12"}`
	var s site
	if err := json.Unmarshal([]byte(in), &s); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	wantText(t, "JSON", string(out), `{"Hot":"140F","Cold":"","Inlet":"1-1/2 in","Supply":"12 AWG"}`)
	empty, err := json.Marshal(site{})
	if err != nil {
		t.Fatal(err)
	}
	wantText(t, "JSON of unknowns", string(empty), `{"Hot":"","Cold":"","Inlet":"","Supply":""}`)

	q := MustParse[Temperature]("140 °F")
	if err := q.UnmarshalText([]byte("lots")); err == nil || q.Known() {
		t.Errorf("after an error: got %v, want unknown (%v)", q, err)
	}
	q = MustParse[Temperature]("140 °F")
	if err := q.UnmarshalText([]byte(" \u00a0")); err != nil || q.Known() {
		t.Errorf("after blank text: got %v (%v), want unknown", q, err)
	}
}

func TestMustParsePanics(t *testing.T) {
	defer func() {
		if r, _ := recover().(string); !strings.HasPrefix(r, `quantity: "lots" is not a flow`) {
			t.Errorf("got panic %q", r)
		}
	}()
	MustParse[Flow]("lots")
}

func TestDimensionAndUnits(t *testing.T) {
	var q Adjustable = new(Pressure)
	wantText(t, "Dimension", q.Dimension(), "pressure")
	wantText(t, "Units", strings.Join(q.Units(), " "), "psi bar kPa MPa")
}
