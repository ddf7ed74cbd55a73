package quantity

import "math"

// Unit is a unit of dimension D. The package variables are the ones there are;
// the zero Unit stands for none.
type Unit[D dimension] struct{ *unit }

// String gives the unit as printed, as "psi".
func (u Unit[D]) String() string {
	if u.unit == nil {
		return ""
	}
	return u.name
}

// unit is what Unit wraps: base = (value - zero) · factor.
type unit struct {
	name   string // as printed
	factor float64
	zero   float64 // value at which the base scale reads 0
	sys    System
	style  style    // how many digits to print
	keys   []string // spellings, lower case without blanks or full stops
	exact  []string // spellings where letter case matters
}

func (u *unit) base(v float64) float64 { return (v - u.zero) * u.factor }
func (u *unit) from(b float64) float64 { return b/u.factor + u.zero }

// Conversion factors. Those marked exact are definitions: the inch, the pound
// and standard gravity by international agreement, the US gallon as 231 in³.
// The rest follow from them. The values agree with NIST SP 811 appendix B.8
// (from memory) and are tested against the tables named in units_test.go.
const (
	mmPerInch  = 25.4                        // exact
	kgPerPound = 0.45359237                  // exact
	gravity    = 9.80665                     // m/s², exact
	lPerGallon = 3.785411784                 // exact: 231 in³
	lPerCuFt   = 28.316846592                // exact: 1728 in³
	jPerBTU    = 1055.05585262               // exact: International Table Btu
	lbfNewton  = kgPerPound * gravity        // 4.448222 N
	sqInchM2   = 0.0254 * 0.0254             // m²
	kPaPerPSI  = lbfNewton / sqInchM2 / 1000 // 6.894757 kPa
	wPerBTUh   = jPerBTU / 3600              // 0.2930711 W; 1 kW = 3412.14 Btu/h
	wPerHP     = 550 * 0.3048 * lbfNewton    // 550 ft·lbf/s = 745.6999 W
	mgPerGrain = kgPerPound * 1e6 / 7000     // 64.79891 mg
	mgLPerGPG  = mgPerGrain / lPerGallon     // 17.11806 mg/L

	// One German degree is 10 mg/L of CaO, as CaCO3 by the ratio of the molar
	// masses 100.087 and 56.077 g/mol (from memory); one French degree is
	// 10 mg/L of CaCO3 (from memory).
	mgLPerGermanDegree = 10 * 100.087 / 56.077
	mgLPerFrenchDegree = 10
)

// The units. Base units, those with factor 1, are what HalfWidth counts in.
var (
	Inch = Unit[length]{&unit{name: "in", factor: mmPerInch, style: fraction,
		keys: []string{"in", "inch", "inches", `"`}}}
	Foot = Unit[length]{&unit{name: "ft", factor: 12 * mmPerInch,
		keys: []string{"ft", "foot", "feet", "'"}}}
	Millimetre = Unit[length]{&unit{name: "mm", factor: 1, sys: SI, style: coarse(10),
		keys: []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}}}
	Centimetre = Unit[length]{&unit{name: "cm", factor: 10, sys: SI,
		keys: []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}}}
	Metre = Unit[length]{&unit{name: "m", factor: 1000, sys: SI, style: decimals(2),
		keys: []string{"m", "metre", "metres", "meter", "meters"}}}

	SquareFoot = Unit[area]{&unit{name: "ft²", factor: 144 * sqInchM2,
		keys: []string{"ft2", "sqft", "squarefoot", "squarefeet"}}}
	SquareInch = Unit[area]{&unit{name: "in²", factor: sqInchM2,
		keys: []string{"in2", "sqin", "squareinch", "squareinches"}}}
	SquareMetre = Unit[area]{&unit{name: "m²", factor: 1, sys: SI,
		keys: []string{"m2", "sqm", "squaremetre", "squaremetres", "squaremeter", "squaremeters"}}}

	Gallon = Unit[volume]{&unit{name: "gal", factor: lPerGallon,
		keys: []string{"gal", "gals", "gallon", "gallons", "usgal", "usgallon", "usgallons"}}}
	Litre = Unit[volume]{&unit{name: "L", factor: 1, sys: SI,
		keys: []string{"l", "litre", "litres", "liter", "liters"}}}
	CubicFoot = Unit[volume]{&unit{name: "ft³", factor: lPerCuFt,
		keys: []string{"ft3", "cuft", "cubicfoot", "cubicfeet"}}}
	millilitre = Unit[volume]{&unit{name: "mL", factor: 0.001, sys: SI, exact: []string{"mL", "ml"},
		keys: []string{"millilitre", "millilitres", "milliliter", "milliliters"}}}

	Pound = Unit[mass]{&unit{name: "lb", factor: kgPerPound,
		keys: []string{"lb", "lbs", "pound", "pounds"}}}
	Kilogram = Unit[mass]{&unit{name: "kg", factor: 1, sys: SI,
		keys: []string{"kg", "kilo", "kilos", "kilogram", "kilograms"}}}

	Second = Unit[duration]{&unit{name: "s", factor: 1, sys: both,
		keys: []string{"s", "sec", "secs", "second", "seconds"}}}
	Minute = Unit[duration]{&unit{name: "min", factor: 60, sys: both,
		keys: []string{"min", "mins", "minute", "minutes"}}}
	Hour = Unit[duration]{&unit{name: "h", factor: 3600, sys: both,
		keys: []string{"h", "hr", "hrs", "hour", "hours"}}}
	Day = Unit[duration]{&unit{name: "d", factor: 86400, sys: both,
		keys: []string{"d", "day", "days"}}}

	Hertz = Unit[frequency]{&unit{name: "Hz", factor: 1, sys: both,
		keys: []string{"hz", "hertz"}}}

	PSI = Unit[pressure]{&unit{name: "psi", factor: kPaPerPSI, style: coarse(20),
		keys: []string{"psi", "psig", "psi(g)", "psigauge", "psigage", "lbf/in2", "lb/in2"}}}
	Bar = Unit[pressure]{&unit{name: "bar", factor: 100, sys: SI,
		keys: []string{"bar", "bars", "barg", "bar(g)", "bargauge"}}}
	Kilopascal = Unit[pressure]{&unit{name: "kPa", factor: 1, sys: SI, style: coarse(20),
		keys: []string{"kpa", "kpag", "kpa(g)", "kpagauge", "kilopascal", "kilopascals"}}}
	megapascal = Unit[pressure]{&unit{name: "MPa", factor: 1000, sys: SI, exact: []string{"MPa", "MPag", "MPa(g)"},
		keys: []string{"megapascal", "megapascals"}}}

	PSF = Unit[load]{&unit{name: "psf", factor: kPaPerPSI / 144, style: decimals(1),
		keys: []string{"psf", "lb/ft2", "lbf/ft2", "lb/sqft", "lbf/sqft"}}}
	KNPerM2 = Unit[load]{&unit{name: "kN/m²", factor: 1, sys: SI, style: decimals(2),
		keys: []string{"kn/m2", "kpa"}}}

	Fahrenheit = Unit[temperature]{&unit{name: "°F", factor: 5.0 / 9, zero: 32, style: decimals(1),
		keys: []string{"°f", "f", "degf", "degreef", "degreesf", "fahrenheit", "degreesfahrenheit"}}}
	Celsius = Unit[temperature]{&unit{name: "°C", factor: 1, sys: SI, style: decimals(1),
		keys: []string{"°c", "c", "degc", "degreec", "degreesc", "celsius", "degreescelsius"}}}

	FahrenheitDiff = Unit[tempDiff]{&unit{name: "°F", factor: 5.0 / 9, style: decimals(1),
		keys: Fahrenheit.keys}}
	CelsiusDiff = Unit[tempDiff]{&unit{name: "°C", factor: 1, sys: SI, style: decimals(1),
		keys: append([]string{"k", "kelvin", "kelvins"}, Celsius.keys...)}}

	GPM = Unit[flow]{&unit{name: "gpm", factor: lPerGallon,
		keys: []string{"gpm", "gal/min", "gal/minute", "gallons/minute", "usgpm", "usgal/min"}}}
	GPH = Unit[flow]{&unit{name: "gph", factor: lPerGallon / 60,
		keys: []string{"gph", "gal/h", "gal/hr", "gal/hour", "gallons/hour", "usgph", "usgal/h"}}}
	LPM = Unit[flow]{&unit{name: "L/min", factor: 1, sys: SI,
		keys: []string{"l/min", "lpm", "l/minute", "litres/minute", "liters/minute"}}}
	LPH = Unit[flow]{&unit{name: "L/h", factor: 1.0 / 60, sys: SI,
		keys: []string{"l/h", "lph", "l/hr", "l/hour", "litres/hour", "liters/hour"}}}
	CubicMetreHour = Unit[flow]{&unit{name: "m³/h", factor: 1000.0 / 60, sys: SI,
		keys: []string{"m3/h", "m3/hr", "m3/hour"}}}
	litreSecond = Unit[flow]{&unit{name: "L/s", factor: 60, sys: SI,
		keys: []string{"l/s", "l/sec", "l/second"}}}

	FootPerSecond = Unit[speed]{&unit{name: "ft/s", factor: 0.3048,
		keys: []string{"ft/s", "ft/sec", "ft/second", "fps", "feet/second"}}}
	MetrePerSecond = Unit[speed]{&unit{name: "m/s", factor: 1, sys: SI,
		keys: []string{"m/s", "m/sec", "m/second", "metres/second", "meters/second"}}}

	InchPerFoot = Unit[slope]{&unit{name: "in/ft", factor: 100.0 / 12, style: fraction,
		keys: []string{"in/ft", "in/foot", "inch/foot", "inch/ft", "inches/foot", `"/ft`, `"/foot`, `"/'`}}}
	Percent = Unit[slope]{&unit{name: "%", factor: 1, sys: SI,
		keys: []string{"%", "percent"}}}
	millimetreMetre = Unit[slope]{&unit{name: "mm/m", factor: 0.1, sys: SI,
		keys: []string{"mm/m", "mm/metre", "mm/meter"}}}

	Volt = Unit[voltage]{&unit{name: "V", factor: 1, sys: both,
		keys: []string{"v", "volt", "volts", "vac"}}}
	kilovolt = Unit[voltage]{&unit{name: "kV", factor: 1000, sys: both,
		keys: []string{"kv", "kilovolt", "kilovolts"}}}

	Ampere = Unit[current]{&unit{name: "A", factor: 1, sys: both,
		keys: []string{"a", "amp", "amps", "ampere", "amperes", "aic"}}}
	kiloampere = Unit[current]{&unit{name: "kA", factor: 1000, sys: both,
		keys: []string{"ka", "kaic", "kiloamp", "kiloamps", "kiloampere", "kiloamperes"}}}
	Milliampere = Unit[current]{&unit{name: "mA", factor: 0.001, sys: both, exact: []string{"mA"},
		keys: []string{"milliamp", "milliamps", "milliampere", "milliamperes"}}}

	Watt = Unit[power]{&unit{name: "W", factor: 1, sys: both,
		keys: []string{"w", "watt", "watts"}}}
	Kilowatt = Unit[power]{&unit{name: "kW", factor: 1000, sys: both,
		keys: []string{"kw", "kilowatt", "kilowatts"}}}
	BTUPerHour = Unit[power]{&unit{name: "Btu/h", factor: wPerBTUh,
		keys: []string{"btu/h", "btu/hr", "btu/hour", "btuh", "btus/h", "btus/hr", "btus/hour"}}}
	thousandBTU = Unit[power]{&unit{name: "MBH", factor: 1000 * wPerBTUh, // M is the Roman thousand
		keys: []string{"mbh", "mbtuh", "mbtu/h", "mbtu/hr", "kbtu/h", "kbtu/hr", "kbtuh"}}}
	Horsepower = Unit[power]{&unit{name: "hp", factor: wPerHP,
		keys: []string{"hp", "horsepower"}}}

	GrainPerGallon = Unit[hardness]{&unit{name: "gpg", factor: mgLPerGPG,
		keys: []string{"gpg", "gr/gal", "grain/gal", "grains/gal", "grain/gallon", "grains/gallon"}}}
	HardnessMgL = Unit[hardness]{&unit{name: "mg/L", factor: 1, sys: SI,
		keys: []string{"mg/l", "ppm", "mg/lascaco3", "ppmascaco3", "mg/lcaco3", "ppmcaco3"}}}
	germanDegree = Unit[hardness]{&unit{name: "°dH", factor: mgLPerGermanDegree, sys: SI,
		keys: []string{"°dh", "dh", "°dgh", "dgh"}}}
	frenchDegree = Unit[hardness]{&unit{name: "°fH", factor: mgLPerFrenchDegree, sys: SI,
		keys: []string{"°fh", "fh"}}}

	Ohm = Unit[resistance]{&unit{name: "Ω", factor: 1, sys: both,
		keys: []string{"ω", "ohm", "ohms"}}}
	Milliohm = Unit[resistance]{&unit{name: "mΩ", factor: 1e-3, sys: both,
		keys: []string{"mω", "mohm", "milliohm", "milliohms"}}}

	MgPerL = Unit[concentration]{&unit{name: "mg/L", factor: 1, sys: both,
		keys: []string{"mg/l", "ppm"}}}
)

// dimension is met by the marker types below and, its method being private,
// by nothing outside the package.
type dimension interface{ info() *dim }

type (
	length        struct{}
	area          struct{}
	volume        struct{}
	mass          struct{}
	duration      struct{}
	frequency     struct{}
	pressure      struct{}
	load          struct{}
	temperature   struct{}
	tempDiff      struct{}
	flow          struct{}
	speed         struct{}
	slope         struct{}
	voltage       struct{}
	current       struct{}
	power         struct{}
	hardness      struct{}
	resistance    struct{}
	concentration struct{}
)

func (length) info() *dim        { return lengthDim }
func (area) info() *dim          { return areaDim }
func (volume) info() *dim        { return volumeDim }
func (mass) info() *dim          { return massDim }
func (duration) info() *dim      { return durationDim }
func (frequency) info() *dim     { return frequencyDim }
func (pressure) info() *dim      { return pressureDim }
func (load) info() *dim          { return loadDim }
func (temperature) info() *dim   { return temperatureDim }
func (tempDiff) info() *dim      { return tempDiffDim }
func (flow) info() *dim          { return flowDim }
func (speed) info() *dim         { return speedDim }
func (slope) info() *dim         { return slopeDim }
func (voltage) info() *dim       { return voltageDim }
func (current) info() *dim       { return currentDim }
func (power) info() *dim         { return powerDim }
func (hardness) info() *dim      { return hardnessDim }
func (resistance) info() *dim    { return resistanceDim }
func (concentration) info() *dim { return concentrationDim }

// dim is what the package knows of one dimension.
type dim struct {
	name     string
	units    []*unit  // customary first
	named    int      // how many of units an error names
	examples []string // how to write one
	spare    []string // the same with other numbers, for a hint about one of those
	print    [2]func(base float64) *unit
	floor    float64 // least value, base units
	diff     *dim    // dimension of differences, if not this one
}

// noun is the name with its article.
func (d *dim) noun() string {
	if d.name[0] == 'a' {
		return "an " + d.name
	}
	return "a " + d.name
}

var negative = math.Inf(-1) // the floor of a dimension without one

const absoluteZero = -273.15 // °C, exact by definition of the scale

// printedTenth is how far below its value a temperature may print, in °C: half
// of a tenth of a degree. What prints as -459.7 °F is read back.
const printedTenth = 0.05

var (
	lengthDim = &dim{name: "length", named: 4, floor: negative,
		units:    []*unit{Inch.unit, Foot.unit, Millimetre.unit, Metre.unit, Centimetre.unit},
		examples: []string{"3/4 in", "10 ft 6 in", "19 mm"},
		spare:    []string{"1-1/2 in", "12 ft 3 in", "25 mm"},
		print:    [2]func(float64) *unit{always(feetInches), steps(Millimetre.unit, Metre.unit, 10)}}
	areaDim = &dim{name: "area", named: 3,
		units:    []*unit{SquareFoot.unit, SquareInch.unit, SquareMetre.unit},
		examples: []string{"12 ft²", "1.1 m²"},
		spare:    []string{"9 ft²", "0.8 m²"},
		print:    [2]func(float64) *unit{always(SquareFoot.unit), always(SquareMetre.unit)}}
	volumeDim = &dim{name: "volume", named: 2,
		units:    []*unit{Gallon.unit, Litre.unit, CubicFoot.unit, millilitre.unit},
		examples: []string{"0.9 gal", "3.4 L"},
		spare:    []string{"4 gal", "15 L"},
		print:    [2]func(float64) *unit{always(Gallon.unit), always(Litre.unit)}}
	massDim = &dim{name: "mass", named: 2,
		units:    []*unit{Pound.unit, Kilogram.unit},
		examples: []string{"150 lb", "68 kg"},
		spare:    []string{"210 lb", "95 kg"},
		print:    [2]func(float64) *unit{always(Pound.unit), always(Kilogram.unit)}}
	durationDim = &dim{name: "time", named: 4,
		units:    []*unit{Second.unit, Minute.unit, Hour.unit, Day.unit},
		examples: []string{"90 s", "5 min"},
		spare:    []string{"60 s", "15 min"},
		print:    same(times)}
	frequencyDim = &dim{name: "frequency", named: 1,
		units:    []*unit{Hertz.unit},
		examples: []string{"60 Hz"},
		spare:    []string{"50 Hz"},
		print:    same(always(Hertz.unit))}
	pressureDim = &dim{name: "pressure", named: 3,
		units:    []*unit{PSI.unit, Bar.unit, Kilopascal.unit, megapascal.unit},
		examples: []string{"55 psi", "380 kPa"},
		spare:    []string{"62 psi", "430 kPa"},
		print:    [2]func(float64) *unit{always(PSI.unit), always(Kilopascal.unit)}}
	loadDim = &dim{name: "floor load", named: 2,
		units:    []*unit{PSF.unit, KNPerM2.unit},
		examples: []string{"100 psf", "4.8 kN/m²"},
		spare:    []string{"150 psf", "7.2 kN/m²"},
		print:    [2]func(float64) *unit{always(PSF.unit), always(KNPerM2.unit)}}
	temperatureDim = &dim{name: "temperature", named: 2, floor: absoluteZero, diff: tempDiffDim,
		units:    []*unit{Fahrenheit.unit, Celsius.unit},
		examples: []string{"140 °F", "60 °C"},
		spare:    []string{"120 °F", "49 °C"},
		print:    [2]func(float64) *unit{always(Fahrenheit.unit), always(Celsius.unit)}}
	tempDiffDim = &dim{name: "temperature difference", named: 2, floor: negative,
		units:    []*unit{FahrenheitDiff.unit, CelsiusDiff.unit},
		examples: []string{"20 °F", "11 °C"},
		spare:    []string{"90 °F", "50 °C"},
		print:    [2]func(float64) *unit{always(FahrenheitDiff.unit), always(CelsiusDiff.unit)}}
	flowDim = &dim{name: "flow", named: 4,
		units:    []*unit{GPM.unit, GPH.unit, LPM.unit, LPH.unit, CubicMetreHour.unit, litreSecond.unit},
		examples: []string{"4 gpm", "15 L/min"},
		spare:    []string{"3 gpm", "11 L/min"},
		print:    [2]func(float64) *unit{always(GPM.unit), always(LPM.unit)}}
	speedDim = &dim{name: "speed", named: 2,
		units:    []*unit{FootPerSecond.unit, MetrePerSecond.unit},
		examples: []string{"5 ft/s", "1.5 m/s"},
		spare:    []string{"8 ft/s", "2.4 m/s"},
		print:    [2]func(float64) *unit{always(FootPerSecond.unit), always(MetrePerSecond.unit)}}
	slopeDim = &dim{name: "slope", named: 3, floor: negative,
		units:    []*unit{InchPerFoot.unit, Percent.unit, millimetreMetre.unit},
		examples: []string{"1/4 in/ft", "2 %", "1:50"},
		spare:    []string{"1/8 in/ft", "1 %", "1:100"},
		print:    [2]func(float64) *unit{always(InchPerFoot.unit), always(Percent.unit)}}
	voltageDim = &dim{name: "voltage", named: 2,
		units:    []*unit{Volt.unit, kilovolt.unit},
		examples: []string{"208 V"},
		spare:    []string{"120 V"},
		print:    same(always(Volt.unit))}
	currentDim = &dim{name: "current", named: 2,
		units:    []*unit{Ampere.unit, Milliampere.unit, kiloampere.unit},
		examples: []string{"12 A"},
		spare:    []string{"20 A"},
		print:    same(always(Ampere.unit))}
	powerDim = &dim{name: "power", named: 4,
		units:    []*unit{Kilowatt.unit, Watt.unit, BTUPerHour.unit, Horsepower.unit, thousandBTU.unit},
		examples: []string{"3.2 kW", "800 W"},
		spare:    []string{"1.5 kW", "600 W"},
		print:    same(steps(Watt.unit, Kilowatt.unit, 1))}
	resistanceDim = &dim{name: "resistance", named: 2,
		units:    []*unit{Ohm.unit, Milliohm.unit},
		examples: []string{"0.6 Ω", "0.6 ohm"},
		spare:    []string{"0.8 Ω", "0.8 ohm"},
		print:    same(always(Ohm.unit))}
	hardnessDim = &dim{name: "hardness", named: 2,
		units:    []*unit{GrainPerGallon.unit, HardnessMgL.unit, germanDegree.unit, frenchDegree.unit},
		examples: []string{"9 gpg", "154 mg/L"},
		spare:    []string{"6 gpg", "103 mg/L"},
		print:    [2]func(float64) *unit{always(GrainPerGallon.unit), always(HardnessMgL.unit)}}
	concentrationDim = &dim{name: "concentration", named: 1,
		units:    []*unit{MgPerL.unit},
		examples: []string{"154 mg/L", "154 ppm"},
		spare:    []string{"75 mg/L", "75 ppm"},
		print:    same(always(MgPerL.unit))}
)

// dims lists all dimensions. A unit of two of them is named after the first.
var dims = []*dim{lengthDim, areaDim, volumeDim, massDim, durationDim, frequencyDim,
	pressureDim, loadDim, temperatureDim, tempDiffDim, flowDim, speedDim, slopeDim,
	voltageDim, currentDim, resistanceDim, powerDim, concentrationDim, hardnessDim}

// always prints in one unit.
func always(u *unit) func(float64) *unit {
	return func(float64) *unit { return u }
}

// steps prints in low below limit units of high, else in high.
func steps(low, high *unit, limit float64) func(float64) *unit {
	return func(base float64) *unit {
		if math.Abs(base) < limit*high.factor {
			return low
		}
		return high
	}
}

// times prints two minutes and more in minutes, two hours and more in hours,
// two days and more in days.
func times(base float64) *unit {
	for _, u := range []*unit{Day.unit, Hour.unit, Minute.unit} {
		if math.Abs(base) >= 2*u.factor {
			return u
		}
	}
	return Second.unit
}

// same prints alike in both systems.
func same(f func(float64) *unit) [2]func(float64) *unit {
	return [2]func(float64) *unit{f, f}
}
