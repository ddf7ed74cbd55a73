package survey

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"firstfill/survey/quantity"
)

// YesNo is an answer that is yes, no, or not given; the zero value is not given.
type YesNo int

// The answers.
const (
	NotSaid YesNo = iota
	No
	Yes
)

// Known says whether the question was answered.
func (a YesNo) Known() bool { return a != NotSaid }

func (a YesNo) String() string {
	return [...]string{"", "no", "yes"}[a]
}

// UnmarshalText reads yes or no.
func (a *YesNo) UnmarshalText(text []byte) error {
	switch strings.ToLower(strings.Trim(string(text), " \t.!,")) {
	case "yes", "y", "true", "yep", "yeah", "✓", "✔":
		*a = Yes
	case "no", "n", "false", "nope", "none":
		*a = No
	default:
		return fmt.Errorf("%q is neither yes nor no; write \"yes\", \"no\" or \"unknown\"", text)
	}
	return nil
}

// MarshalText writes yes or no, and nothing when the answer isn't known.
func (a YesNo) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// Count is a whole number of things, 0 to 100000; the zero value is not given.
type Count struct {
	n     int
	known bool
}

// CountOf returns a known count.
func CountOf(n int) Count { return Count{n, true} }

// Known says whether the question was answered.
func (c Count) Known() bool { return c.known }

// N returns the count, 0 when it isn't known.
func (c Count) N() int { return c.n }

func (c Count) String() string {
	if !c.known {
		return ""
	}
	return strconv.Itoa(c.n)
}

// countWords are the numbers that people write out.
var countWords = map[string]string{"none": "0", "no": "0", "zero": "0", "nil": "0", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12"}

// thousands matches a whole number with commas between its thousands.
var thousands = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+$`)

// UnmarshalText reads a whole number: "3", "three", "1,200", "none", "about 600".
func (c *Count) UnmarshalText(text []byte) error {
	number, _ := quantity.Unroughed(string(text))
	if word, ok := countWords[strings.ToLower(number)]; ok {
		number = word
	}
	if thousands.MatchString(number) {
		number = strings.ReplaceAll(number, ",", "")
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 100_000 {
		return fmt.Errorf("%q is not a count; write a whole number such as \"3\"", text)
	}
	*c = CountOf(n)
	return nil
}

// MarshalText writes the number, and nothing when it isn't known.
func (c Count) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// Number is a plain number without a unit, such as a pH; the zero value is not given.
type Number struct {
	x     float64
	known bool
}

// NumberOf returns a known number.
func NumberOf(x float64) Number { return Number{x, true} }

// Known says whether the question was answered.
func (n Number) Known() bool { return n.known }

// Value returns the number, NaN when it isn't known.
func (n Number) Value() float64 {
	if !n.known {
		return math.NaN()
	}
	return n.x
}

func (n Number) String() string {
	if !n.known {
		return ""
	}
	return strconv.FormatFloat(n.x, 'g', -1, 64)
}

// UnmarshalText reads a decimal number: "7.4", "about 7.4".
func (n *Number) UnmarshalText(text []byte) error {
	s, _ := quantity.Unroughed(string(text))
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || x < 0 || strings.ContainsAny(s, "xXpP_") {
		return fmt.Errorf("%q is not a plain number; write it without a unit, as \"7.4\"", text)
	}
	*n = NumberOf(x)
	return nil
}

// MarshalText writes the number, and nothing when it isn't known.
func (n Number) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// Date is a calendar day; the zero value is not given.
type Date struct{ t time.Time }

// DateOf returns a known date, at midnight UTC.
func DateOf(t time.Time) Date {
	return Date{time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)}
}

// Known says whether the question was answered.
func (d Date) Known() bool { return !d.t.IsZero() }

// Time returns midnight UTC of that day.
func (d Date) Time() time.Time { return d.t }

// DaysUntil counts the days from d to e, negative when e is earlier.
func (d Date) DaysUntil(e Date) int { return int(e.t.Sub(d.t).Hours() / 24) }

func (d Date) String() string {
	if !d.Known() {
		return ""
	}
	return d.t.Format(time.DateOnly)
}

// UnmarshalText reads a date in the form 2026-11-25; other orders are ambiguous.
func (d *Date) UnmarshalText(text []byte) error {
	t, err := time.Parse(time.DateOnly, strings.TrimSpace(string(text)))
	if err != nil || t.Year() < 1990 || t.Year() > 2200 {
		return fmt.Errorf("%q is not a date; write year-month-day, as \"2026-11-25\"", text)
	}
	*d = Date{t}
	return nil
}

// MarshalText writes the date, and nothing when it isn't known.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }
