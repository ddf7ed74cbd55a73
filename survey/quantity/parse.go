package quantity

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// Limits on what Parse takes.
const (
	maxBytes = 80   // length of the text
	maxValue = 1e12 // magnitude, in base units
)

// Pattern is what an editor can check of a quantity's text without knowing its
// dimension, as a regular expression of JSON Schema: a number has a unit behind
// it. Words without a number ("unknown") pass.
const Pattern = `^[^0-9½⅓⅔¼¾⅛⅜⅝⅞]*$|[0-9½⅓⅔¼¾⅛⅜⅝⅞].*[A-Za-z°%'"′″Ω²³:]`

// reading is what parse found.
type reading struct {
	v      float64 // in u
	u      *unit
	half   float64 // half-width, base units
	stated bool
	rough  bool // written with "about"
}

// parse reads a value of dimension d with an optional spread.
func (d *dim) parse(text string) (reading, error) {
	if v, u, ok := d.plain(text); ok {
		return reading{v: v, u: u}, nil
	}
	s, subject, err := prepare(text, d.noun(), d.advice())
	if err != nil {
		return reading{}, err
	}
	s, rough := unroughed(s)
	value, spread, stated := strings.Cut(s, "±")
	if stated {
		value = d.borrowUnit(value, spread)
	}
	r := reading{stated: stated, rough: rough && !stated}
	if r.v, r.u, err = d.term(value, subject); err != nil {
		return reading{}, err
	}
	if stated {
		half, err := d.sum(spread)
		if err != nil {
			return reading{}, fmt.Errorf("%s: after ±: %w", subject, err)
		}
		r.half = half.of(r.u.base(r.v))
	}
	if r.rough {
		half, err := d.spreadOf(d.roughSpread())
		if err != nil {
			return reading{}, err
		}
		r.half = d.assumed(half, r.v, r.u)
	}
	return r, nil
}

// The words that say a value is rough, before it and behind it.
var (
	roughBefore = lazily(`(?i)^(?:(?:about|abt\.?|approx\.?|approximately|around|roughly|circa|ca\.?|nearly|almost|say|maybe|estimated|est\.?)(?:\s+|:\s*)|[~≈≅∼]\s*)+(.*)$`)
	roughBehind = lazily(`(?i)^(.*?\S)\s*(?:\?+|\bor so|\bapprox\.?|\bapproximately|\broughly|\bestimated|\best\.?|\((?:about|approx\.?|approximately|estimated|est\.?|estimate|rough)\))$`)
)

// unroughed takes the words off that say a value is rough: "about 60 ft",
// "~60 ft", "60 ft approx.", "60 ft?".
func unroughed(s string) (value string, rough bool) {
	for _, p := range []func() *regexp.Regexp{roughBefore, roughBehind} {
		if m := p().FindStringSubmatch(s); m != nil && m[1] != "" {
			s, rough = m[1], true
		}
	}
	return s, rough
}

// Unroughed gives a text without the words that say it is rough, and whether
// there were any.
func Unroughed(text string) (value string, rough bool) {
	return unroughed(normalised(trimmed(text)))
}

// roughSpreads are the half-widths of values written with "about", by
// dimension: common practice, no source. All others are within 10 %.
var roughSpreads = map[string]string{
	"temperature":            "10 °F",
	"temperature difference": "10 °F",
	"slope":                  "1/8 in/ft",
	"voltage":                "5 %",
	"frequency":              "2 %",
	"hardness":               "20 %",
	"concentration":          "20 %",
}

func (d *dim) roughSpread() string {
	if s, ok := roughSpreads[d.name]; ok {
		return s
	}
	return "10 %"
}

// assumed is the half-width taken for a value. None of a thing is exact: no
// stand is no reading. Only on a scale whose zero is a point like another, of
// a thermometer, it is one.
func (d *dim) assumed(s spread, v float64, u *unit) float64 {
	base := u.base(v)
	if base == 0 && u.zero == 0 && d != temperatureDim {
		return 0
	}
	return s.of(base)
}

// A spread is a half-width: per cent of the value, and base units beside it.
type spread struct{ percent, half float64 }

// of is the half-width at a value of base base units.
func (s spread) of(base float64) float64 { return math.Abs(base)*s.percent/100 + s.half }

// parseSpread reads a half-width alone.
func (d *dim) parseSpread(text string) (spread, error) {
	s, _, err := prepare(text, "a spread", "write it as "+d.spreadExample())
	if err != nil {
		return spread{}, err
	}
	return d.sum(strings.TrimPrefix(s, "±"))
}

// spreads are the half-widths of instruments, read once.
var spreads sync.Map // spreadText to spread

type spreadText struct {
	of   *dim
	text string
}

// spreadOf is parseSpread for the few texts that instruments have.
func (d *dim) spreadOf(text string) (spread, error) {
	if s, ok := spreads.Load(spreadText{d, text}); ok {
		return s.(spread), nil
	}
	s, err := d.parseSpread(text)
	if err == nil {
		spreads.Store(spreadText{d, text}, s)
	}
	return s, err
}

// prepare checks and normalises text for reading; subject is the text quoted
// for an error, noun what was wanted and advice how to write it.
func prepare(text, noun, advice string) (s, subject string, err error) {
	text = trimmed(text)
	switch {
	case text == "":
		return "", "", fmt.Errorf("the text is blank, not %s; %s", noun, advice)
	case len(text) > maxBytes:
		return "", "", fmt.Errorf("%s… is too long for %s: %d bytes, at most %d; %s",
			quote(strings.ToValidUTF8(text[:maxBytes/4], "")), noun, len(text), maxBytes, advice)
	}
	subject = quote(text)
	if strings.ContainsFunc(text, unicode.IsControl) {
		return "", "", fmt.Errorf("%s holds a control character; %s", subject, advice)
	}
	return normalised(text), subject, nil
}

// trimmed is text without surrounding blanks of any kind.
func trimmed(text string) string { return strings.TrimSpace(text) }

// quote quotes text for an error, in single marks if it holds inch marks.
func quote(text string) string {
	if strings.Contains(text, `"`) && strconv.CanBackquote(text) {
		return "'" + text + "'"
	}
	return strconv.Quote(text)
}

// unspaced drops what a unit may be spaced or abbreviated with.
var unspaced = strings.NewReplacer(" ", "", ".", "")

// spellings brings the ways to write one sign together.
var spellings = strings.NewReplacer(
	"⁄", "/", "∕", "/", // fraction and division slash
	"′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`, "′′", `"`,
	"‐", "-", "‑", "-", "‒", "-", "–", "-", "−", "-", // hyphens, en dash, minus
	"+/-", "±", "+-", "±",
	"℃", "°C", "℉", "°F", "º", "°", "˚", "°",
	"²", "2", "³", "3", "^", "",
	"½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
)

// normalised gives text with one spelling for each sign and single blanks.
func normalised(text string) string {
	return strings.Join(strings.Fields(spellings.Replace(text)), " ")
}

// unsigned matches a mixed number, a fraction or a decimal.
const unsigned = `(?:(\d+)(?:\s+|\s*-\s*)(\d+)\s*/\s*(\d+)|(\d+)\s*/\s*(\d+)|(\d+\.?\d*|\.\d+))`

// lazily compiles a pattern when it is first used: most texts need none.
func lazily(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

var (
	bareNumber  = lazily(`^` + unsigned + `$`)
	firstNumber = lazily(`^([+-]?)\s*(` + unsigned + `)`)
	feetAndInch = lazily(`^([+-]?)\s*(\d+)\s*(?:ft\.?|foot|feet|')\s*-?\s*(` + unsigned + `)\s*(?:in\.?|inch|inches|")$`)
	ratio       = lazily(`^([+-]?)\s*(` + unsigned + `)\s*:\s*(` + unsigned + `)$`)

	commaThousand = lazily(`^[+-]?\s*\d{1,3}(?:,\d{3})+(\.\d+)?`)
	commaDecimal  = lazily(`^[+-]?\s*\d+,\d*`)
	blankThousand = lazily(`^([+-]?\s*\d{1,3}(?: \d{3})+)(?:\s*[^\d/\s]|$)`)
	exponent      = lazily(`^[eE][+-]?\d`)
	notFinite     = lazily(`(?i)^[+-]?\s*(inf|infinity|nan)\b`)
	lastNumber    = lazily(`^([^\d.]+?)[\s-]*` + unsigned + `$`)
	secondNumber  = lazily(`(?:^|[^a-zA-Z])(?:-|to|\.\.+)\s*\d`)
)

// number reads one unsigned decimal, fraction or mixed number.
func number(s string) (float64, error) {
	m := bareNumber().FindStringSubmatch(s)
	if m == nil {
		return 0, fmt.Errorf("is not a number")
	}
	whole, num, den := m[1], m[2], m[3]
	if m[5] != "" {
		num, den = m[4], m[5]
	}
	if den == "" {
		return strconv.ParseFloat(m[6], 64)
	}
	n, _ := strconv.ParseFloat(num, 64) // digits only: at worst too large, caught below
	k, _ := strconv.ParseFloat(den, 64)
	w := 0.0
	if whole != "" {
		w, _ = strconv.ParseFloat(whole, 64)
	}
	switch {
	case k == 0:
		return 0, fmt.Errorf("has a fraction over zero")
	case whole != "" && n >= k:
		return 0, fmt.Errorf("has a whole number before the fraction %s/%s, which is not below one", num, den)
	}
	return w + n/k, nil
}

// term reads a number and its unit. The subject, quoted, is what an error is
// about.
func (d *dim) term(s, subject string) (float64, *unit, error) {
	fail := func(format string, args ...any) (float64, *unit, error) {
		return 0, nil, fmt.Errorf("%s %s; %s", subject, fmt.Sprintf(format, args...), d.adviceBut(s))
	}
	s = strings.TrimSpace(s)
	lower := strings.ToLower(s)

	sign, v, u, err := d.special(lower)
	if err != nil {
		return fail("%v", err)
	}
	if u == nil {
		switch {
		case notFinite().MatchString(s):
			return fail("is not a finite number")
		case commaThousand().MatchString(s):
			found := commaThousand().FindString(s)
			hint := strings.ReplaceAll(found, ",", "")
			if strings.Count(found, ",") == 1 && !strings.Contains(found, ".") {
				hint += ", or " + strings.Replace(found, ",", ".", 1) + " if the comma is the decimal mark"
			}
			return 0, nil, fmt.Errorf("%s has a comma; write %s", subject, hint)
		case commaDecimal().MatchString(s):
			return 0, nil, fmt.Errorf("%s has a comma; write %s", subject,
				strings.TrimSuffix(strings.Replace(commaDecimal().FindString(s), ",", ".", 1), "."))
		case blankThousand().MatchString(s):
			return 0, nil, fmt.Errorf("%s has a blank inside the number; write %s", subject,
				strings.ReplaceAll(blankThousand().FindStringSubmatch(s)[1], " ", ""))
		}
		m := firstNumber().FindStringSubmatch(s)
		if m == nil {
			return fail("is not %s", d.noun())
		}
		written := strings.TrimSpace(s[len(m[0]):])
		if exponent().MatchString(written) {
			return fail("has an exponent, which is not read")
		}
		if v, err = number(m[2]); err != nil {
			return fail("%v", err)
		}
		if written == "" {
			return 0, nil, fmt.Errorf("%s has no unit; write it with %s, as in %s", subject,
				d.unitList(), d.exampleBut(s))
		}
		if u = d.find(written); u == nil {
			return 0, nil, d.unitError(subject, m[0], written)
		}
		sign = m[1]
	}
	if sign == "-" {
		if v == 0 {
			return fail("has a minus before zero")
		}
		v = -v
	}
	switch b := u.base(v) + cmpAbsolute; {
	case math.Abs(b) > maxValue:
		return fail("is out of range for %s", d.noun())
	case b < d.floor && d.floor == absoluteZero:
		if b+printedTenth < d.floor {
			return fail("is below absolute zero")
		}
	case b < d.floor:
		return fail("is negative; %s is zero or more", d.noun())
	}
	return v, u, nil
}

// special reads the forms that are more than a number before a unit: feet and
// inches, and a slope as 1:50. It gives no unit for any other.
func (d *dim) special(s string) (sign string, v float64, u *unit, err error) {
	switch d {
	case lengthDim:
		m := feetAndInch().FindStringSubmatch(s)
		if m == nil {
			break
		}
		feet, _ := strconv.ParseFloat(m[2], 64) // digits only
		inches, err := number(m[3])
		if err == nil && inches >= 12 {
			err = fmt.Errorf("has %s in after the feet, where less than 12 fits", m[3])
		}
		return m[1], 12*feet + inches, Inch.unit, err
	case slopeDim:
		m := ratio().FindStringSubmatch(s)
		if m == nil {
			break
		}
		rise, err := number(m[2])
		if err != nil {
			return "", 0, nil, err
		}
		run, err := number(m[9])
		if err == nil && run == 0 {
			err = fmt.Errorf("has a run of zero")
		}
		return m[1], 100 * rise / run, Percent.unit, err
	}
	return "", 0, nil, nil
}

// sum reads the half-width "2 psi", "3 %" or "1 % + 2 V".
func (d *dim) sum(s string) (spread, error) {
	of := d
	if d.diff != nil {
		of = d.diff
	}
	var all spread
	for part := range strings.SplitSeq(s, "+") {
		part = strings.TrimSpace(part)
		subject := quote(part)
		if strings.HasPrefix(part, "-") {
			return spread{}, fmt.Errorf("%s is negative; write the half-width as %s", subject, d.spreadExample())
		}
		if share, ok := percentage(part); ok && of.find("%") == nil {
			if d.diff != nil {
				return spread{}, fmt.Errorf("%s of %s has no meaning; write it in degrees, as %s", subject, d.noun(), d.spreadExample())
			}
			all.percent += share
			continue
		}
		v, u, err := of.term(part, subject)
		if err != nil {
			return spread{}, err
		}
		all.half += v * u.factor
	}
	return all, nil
}

// percentage reads "3 %".
func percentage(s string) (float64, bool) {
	m := firstNumber().FindStringSubmatch(s)
	if m == nil || !Percent.spelled(s[len(m[0]):]) {
		return 0, false
	}
	share, err := number(m[2])
	return share, err == nil
}

// borrowUnit gives value the unit of its spread if it has none: in
// "62 ± 2 psi" both are psi. A spread in per cent lends nothing.
func (d *dim) borrowUnit(value, spread string) string {
	value = strings.TrimSpace(value)
	if m := firstNumber().FindString(value); m == "" || m != value {
		return value
	}
	spread = strings.TrimSpace(spread)
	written := strings.TrimSpace(spread[len(firstNumber().FindString(spread)):])
	if d.find(written) == nil {
		return value
	}
	return value + " " + written
}

// key brings the spellings of a unit together, letter case apart.
func key(written string) string {
	written = strings.ReplaceAll(written, " per ", "/")
	if strings.ContainsAny(written, " .") {
		written = unspaced.Replace(written)
	}
	return strings.TrimPrefix(written, "-") // "6-in"
}

// spelled reports whether written names u.
func (u *unit) spelled(written string) bool {
	k := key(written)
	return u.has(k, strings.ToLower(k))
}

// has reports whether a key, as it stands and in lower case, names u.
func (u *unit) has(exact, lower string) bool {
	return slices.Contains(u.exact, exact) || slices.Contains(u.keys, lower)
}

// find gives the unit of d that is written, nil if none is.
func (d *dim) find(written string) *unit {
	exact := key(written)
	lower := strings.ToLower(exact)
	for _, u := range d.units {
		if u.has(exact, lower) {
			return u
		}
	}
	return nil
}

// refused holds the units that are known and turned away, with the reason.
var refused = map[string]string{}

func init() {
	for reason, keys := range map[string]string{
		"is an absolute pressure, and pressures here are gauge":       "psia psi(a) psiabs psiabsolute bara bar(a) barabs kpaa kpa(a) kpaabs mpaa mpa(a) mpaabs",
		"is in imperial gallons, and gallons here are US":             "impgal impgals impgallon impgallons imperialgal imperialgallon imperialgallons ukgal ukgallon ukgallons igal gal(imp) gal(uk) impgpm igpm imperialgpm impgph igph impgal/min impgal/h",
		"is in tons, which are several units":                         "t ton tons tonne tonnes",
		"is in ounces, which are a weight or a volume":                "oz ounce ounces",
		"is in degrees of a scale not named":                          "° deg degs degree degrees",
		"is on the kelvin scale":                                      "k °k kelvin kelvins",
		"is apparent power, not the power in watts":                   "va kva",
		"is in boiler or brake horsepower, which differ":              "bhp boilerhp boilerhorsepower",
		"has a unit whose letter case decides: m is milli, M is mega": "ma mpa mw ml",
	} {
		for _, k := range strings.Fields(keys) {
			refused[k] = reason
		}
	}
}

// unitError says what is wrong with a unit that d does not have.
func (d *dim) unitError(subject, number, written string) error {
	if Percent.spelled(written) {
		return fmt.Errorf("%s is a percentage, not %s; %s", subject, d.noun(), d.adviceBut(number))
	}
	for _, o := range dims {
		if d == temperatureDim && o == tempDiffDim {
			continue // only kelvins, which are refused below
		}
		if o.find(written) != nil {
			return fmt.Errorf("%s is %s, not %s; %s", subject, o.noun(), d.noun(), d.adviceBut(number))
		}
	}
	if reason, ok := refused[strings.ToLower(key(written))]; ok {
		return fmt.Errorf("%s %s; %s", subject, reason, d.adviceBut(number))
	}
	if m := lastNumber().FindStringSubmatch(written); m != nil && d.find(m[1]) != nil {
		return fmt.Errorf("%s has no unit after its last number; %s", subject, d.adviceBut(number))
	}
	if secondNumber().MatchString(written) {
		return fmt.Errorf("%s holds more than one number; write one value, with ± for a spread", subject)
	}
	return fmt.Errorf("%s has the unknown unit %s; write it with %s, as in %s", subject, quote(written),
		d.unitList(), d.exampleBut(number))
}

// advice ends an error: how to write a value of d.
func (d *dim) advice() string { return "write it as " + join(quoted(d.examples)) }

// adviceBut is advice with other numbers than the one that was written: a hint
// never pairs that with a unit that nobody wrote.
func (d *dim) adviceBut(written string) string {
	return "write it as " + join(quoted(d.examplesBut(written)))
}

// exampleBut is one such example.
func (d *dim) exampleBut(written string) string { return quote(d.examplesBut(written)[0]) }

func (d *dim) examplesBut(written string) []string {
	number := firstNumber().FindString(written)
	but := slices.Clone(d.examples)
	for i, e := range but {
		if firstNumber().FindString(e) == number {
			but[i] = d.spare[i]
		}
	}
	return but
}

// unitList names the usual units of d, as "psi, bar or kPa".
func (d *dim) unitList() string {
	var names []string
	for _, u := range d.units[:d.named] {
		names = append(names, u.name)
	}
	return join(names)
}

// spreadExample shows how to write a half-width, as "1 psi".
func (d *dim) spreadExample() string { return quote("1 " + d.units[0].name) }

func quoted(words []string) []string {
	var q []string
	for _, w := range words {
		q = append(q, quote(w))
	}
	return q
}

// join lists words with commas and a last "or".
func join(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
