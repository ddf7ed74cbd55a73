package signoff

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

// A State is where an item stands, once its sign-off has been judged.
type State string

// The states.
const (
	IsOpen       State = "open"
	IsInProgress State = "in progress"
	IsSigned     State = "signed"
	IsReopened   State = "reopened" // an earlier signature no longer stands
	IsNotNeeded  State = "not needed"
)

// States lists them in the order in which they are printed.
var States = []State{IsOpen, IsInProgress, IsSigned, IsReopened, IsNotNeeded}

// A Judged is an item with where it stands.
type Judged struct {
	Item
	State  State
	Blocks bool     // FIX or MISSING and not signed
	Faults []string // why a sign-off doesn't count, or what is doubtful about it
}

// A Progress is where a book stands on a day.
type Progress struct {
	Items  []Judged
	Counts map[check.Trade]map[State]int
	Total  map[State]int
	Blocks int
	Next   string // earliest day promised for an item that isn't dealt with, year-month-day; empty when none is
}

// Judge says where every item stands. A signature counts only with a person's
// name, a date no later than today and, where a reading was asked for, the
// reading. "Not needed" settles what had to be confirmed; a FIX or
// MISSING goes on blocking until it is done or a re-survey closes it.
func Judge(b Book, today survey.Date) Progress {
	p := Progress{Counts: map[check.Trade]map[State]int{}, Total: map[State]int{}}
	given := map[string]bool{}
	for _, it := range b.Items {
		rs, err := it.Readings()
		for _, r := range rs {
			given[r.Path] = given[r.Path] || err == nil && r.Unusable() == nil
		}
	}
	for _, it := range b.Items {
		j := judge(b, it, today, given)
		p.Items = append(p.Items, j)
		if p.Counts[it.Trade] == nil {
			p.Counts[it.Trade] = map[State]int{}
		}
		p.Counts[it.Trade][j.State]++
		p.Total[j.State]++
		if j.Blocks {
			p.Blocks++
		}
		if due, err := ParseDate(it.Mark.Due); err == nil && due != "" && j.State != IsSigned && j.State != IsNotNeeded && (p.Next == "" || due < p.Next) {
			p.Next = due
		}
	}
	return p
}

// judge says where one item stands. given holds the answers for which some item has a reading: one that several
// items ask for need be written only once.
func judge(b Book, it Item, today survey.Date, given map[string]bool) Judged {
	j := Judged{Item: it, State: IsOpen}
	fault := func(format string, args ...any) { j.Faults = append(j.Faults, fmt.Sprintf(format, args...)) }
	status, ok := ParseStatus(it.Mark.Status)
	closing := false
	switch {
	case len(it.Others) > 0:
		for _, m := range it.Others {
			fault("also written, in another row or copy: %q; keep one of them", m)
		}
	case !ok:
		fault("%q is not a status; choose open, in progress, done or not needed", it.Mark.Status)
	case status == InProgress:
		j.State = IsInProgress
	case status == Done || status == NotNeeded:
		closing = true
		if why := notAPerson(it.Mark.By); why != "" {
			fault("%s, but %s", status, why)
		}
		if why := badDate(it.Mark.Date, today); why != "" {
			fault("%s, but %s", status, why)
		}
		switch {
		case status == NotNeeded && strings.TrimSpace(it.Mark.Note) == "":
			fault("not needed, but the note doesn't say why")
		case status == Done && it.Verdict == check.Missing && slices.ContainsFunc(readings(it), func(r Reading) bool { return r.Unusable() != nil }):
			for _, r := range readings(it) {
				if err := r.Unusable(); err != nil {
					fault("done, but the reading can't be used: %v", err)
				}
			}
		case status == Done && it.Verdict == check.Missing && len(it.Asks) > 0 && slices.ContainsFunc(it.Asks, func(path string) bool { return !given[path] }):
			if _, err := it.Readings(); err != nil {
				fault("done, but %v", err)
				break
			}
			fault("done, but the reading isn't given; write it in the reading column: %s", it.Want)
		case status == Done && it.Verdict == check.Missing && strings.TrimSpace(it.Mark.Reading+it.Mark.Note) == "" && len(it.Asks) == 0:
			fault("done, but the answer isn't given; write it in the note")
		}
		if len(j.Faults) == 0 {
			j.State = IsSigned
			if status == NotNeeded {
				j.State = IsNotNeeded
			}
		}
	case strings.TrimSpace(it.Mark.By) != "" && strings.TrimSpace(it.Mark.Date) != "":
		fault("a name and a date are given, but the status says open")
	}
	for _, c := range it.Blank {
		fault("the column %q isn't found on its sheet, so what it held isn't read", c)
	}
	if len(it.Blank) > 0 && closing {
		j.State = IsOpen
	}
	if _, err := ParseDate(it.Mark.Due); err != nil {
		fault("due: %v", err)
	}
	if j.State == IsOpen && slices.ContainsFunc(b.Earlier, func(e Earlier) bool { return e.ID == it.ID && e.Mark.Closes() }) {
		j.State = IsReopened
	}
	j.Blocks = it.Verdict.Blocks() && j.State != IsSigned
	return j
}

// notAPerson says why a text doesn't name a person, or nothing when it does.
func notAPerson(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return "nobody's name is given"
	}
	words := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) })
	longest, letters := 0, 0
	for _, w := range words {
		n := len([]rune(w))
		letters += n
		longest = max(longest, n)
	}
	capitals := text == strings.ToUpper(text) && text != strings.ToLower(text)
	if longest < 2 || letters <= 3 && capitals {
		return fmt.Sprintf("%q doesn't name a person; write first name and surname", text)
	}
	return ""
}

func badDate(text string, today survey.Date) string {
	if strings.TrimSpace(text) == "" {
		return "no date is given"
	}
	day, err := ParseDate(text)
	if err != nil {
		return err.Error()
	}
	if today.Known() && day > today.String() {
		return fmt.Sprintf("its date %s lies after %s", day, today)
	}
	return ""
}

var (
	numericDate = regexp.MustCompile(`^(\d{1,4})\s*([./-])\s*(\d{1,2})\s*([./-])\s*(\d{1,4})\.?$`)
	isoTime     = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})[T ]\d{2}:\d{2}(:\d{2})?(\.\d+)?Z?$`)
)

// ParseDate reads a date as people type it and returns it as year-month-day;
// nothing for nothing. Day and month in numbers are taken only where they can't be mixed up.
func ParseDate(text string) (string, error) {
	t := strings.Join(strings.Fields(text), " ")
	if t == "" {
		return "", nil
	}
	if m := isoTime.FindStringSubmatch(t); m != nil {
		t = m[1]
	}
	bad := fmt.Errorf("%q is not a date; write year-month-day, as \"2026-11-25\"", text)
	if m := numericDate.FindStringSubmatch(t); m != nil {
		n := func(s string) int { i, _ := strconv.Atoi(s); return i }
		a, b, c := n(m[1]), n(m[3]), n(m[5])
		switch {
		case m[2] != m[4]:
			return "", bad
		case len(m[1]) == 4 && len(m[5]) <= 2:
			return day(a, b, c, bad)
		case len(m[5]) != 4 || len(m[1]) > 2:
			return "", bad
		case m[2] == ".": // day.month.year wherever dots are used
			return day(c, b, a, bad)
		case a > 12:
			return day(c, b, a, bad)
		case b > 12 || a == b:
			return day(c, a, b, bad)
		}
		return "", fmt.Errorf("%q may be two dates; write year-month-day, as \"%04d-%02d-%02d\"", text, c, a, b)
	}
	plain := strings.NewReplacer(",", " ", ".", " ").Replace(t)
	plain = strings.Join(strings.Fields(plain), " ")
	for _, layout := range []string{"2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2-Jan-2006", "20060102", "Monday 2 January 2006", "Mon 2 Jan 2006", "Mon Jan 2 2006"} {
		if d, err := time.Parse(layout, plain); err == nil {
			return day(d.Year(), int(d.Month()), d.Day(), bad)
		}
	}
	return "", bad
}

func day(y, m, d int, bad error) (string, error) {
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if t.Year() != y || int(t.Month()) != m || t.Day() != d || y < 1990 || y > 2200 {
		return "", bad
	}
	return t.Format(time.DateOnly), nil
}

// A Reading is an answer that a person gave in the reading column.
type Reading struct {
	ID, Path, Value, By, Date string
	Was                       string // what the questionnaire held when the workbook was issued
}

// Readings reads the reading column of an item. Several answers are separated
// by semicolons, in the order in which they were asked, or each as "path = value"; "?"
// leaves one out.
func (it Item) Readings() ([]Reading, error) {
	text := strings.TrimSpace(it.Mark.Reading)
	if text == "" || len(it.Asks) == 0 {
		return nil, nil
	}
	was := map[string]string{}
	for _, a := range it.Basis.Answers {
		was[a.Path] = a.Text
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	var rs []Reading
	for i, part := range parts {
		path, value, named := strings.Cut(part, "=")
		path, value = strings.TrimSpace(path), strings.TrimSpace(value)
		if !named {
			value = strings.TrimSpace(part)
			if len(parts) != len(it.Asks) {
				return nil, fmt.Errorf("%s %s asked for, %s given; separate them by semicolons, in the order asked: %s",
					count(len(it.Asks), "reading"), verb(len(it.Asks)), count(len(parts), "reading"), it.Want)
			}
			path = it.Asks[i]
		}
		if !slices.Contains(it.Asks, path) {
			return nil, fmt.Errorf("%q wasn't asked for here; asked for: %s", path, strings.Join(it.Asks, ", "))
		}
		if value == "" || value == "?" {
			continue
		}
		rs = append(rs, Reading{ID: it.ID, Path: path, Value: value, By: it.Mark.By, Date: it.Mark.Date, Was: was[path]})
	}
	return rs, nil
}

// readings is Readings without what can't be told apart.
func readings(it Item) []Reading {
	rs, _ := it.Readings()
	return rs
}

// Unusable says why a reading can't become an answer, or nothing when it can.
func (r Reading) Unusable() error {
	if (doc.Entry{Text: r.Value}).Unknown() {
		return fmt.Errorf("%q is no reading; leave the item open until it is known", r.Value)
	}
	return survey.Readable(r.Path, r.Value)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func verb(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
