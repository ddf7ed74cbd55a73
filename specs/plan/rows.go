package plan

import (
	"reflect"
	"slices"
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A Mark says what a row asks of the trade.
type Mark int

// The marks.
const (
	Keep    Mark = iota // it is as it must be
	Change              // it is there and must become another
	Add                 // it isn't there yet
	Read                // it isn't known: to be read before it is built
	Confirm             // somebody with authority, or a better reading, decides
	Stands              // it is wrong and nothing here cures it
)

// A Row is one number that a trade builds to, from the check that judges it on
// the planned site.
type Row struct {
	Check *check.Check
	Need  check.Fact // the planned value of what the check judges, else what it requires; never what was found, nor another thing's value
	Found check.Fact
	Plan  check.Fact // what will be there, where the plan changes it and Need is a limit
	Mark  Mark
	Step  int // of the plan, 0: none
}

// Rows are the numbers of a subject, in the order of the checks. A check that
// doesn't arise on the planned site has none.
func (p *Plan) Rows(subject check.Subject) []Row {
	var rows []Row
	for i, b := range p.Built.Findings {
		if b.Subject == subject && b.Verdict != check.NA {
			rows = append(rows, p.row(i))
		}
	}
	return rows
}

// RowOf is the row of a check by its id; false where it doesn't arise on the
// planned site.
func (p *Plan) RowOf(id string) (Row, bool) {
	for i, b := range p.Built.Findings {
		if b.ID == id && b.Verdict != check.NA {
			return p.row(i), true
		}
	}
	return Row{}, false
}

// row is the row of a finding by its place.
func (p *Plan) row(i int) Row {
	found, b := p.Found.Findings[i], p.Built.Findings[i]
	r := Row{Check: b.Check, Need: b.Want, Found: found.Have}
	switch b.Verdict {
	case check.Missing:
		r.Mark = Read
		r.Need = p.limit(b)
	case check.Confirm:
		r.Mark = Confirm
	case check.Fix:
		r.Mark = Stands
	}
	for _, st := range p.Steps {
		if slices.Contains(st.Cures, b.ID) {
			r.Step = st.N
		}
	}
	if found.Verdict == check.Fix && b.Verdict == check.OK {
		r.Mark = Change // by what its own row asks for, or another's
		if b.Have.Key() != found.Have.Key() {
			r.Plan = b.Have
		}
	}
	if b.Verdict == check.Confirm && found.Verdict != check.NA && b.Have.Key() != found.Have.Key() {
		r.Plan = b.Have // another step moves it, and what it becomes must be ruled on
	}
	if found.Verdict == check.NA && b.Verdict == check.OK {
		r.Mark = Add // it arises because of a step, which sees to it
		for _, a := range b.At {
			r.Step = max(r.Step, p.stepThatSets(a))
		}
	}
	if a := own(b, p.Built.Survey); a != nil && p.sets(a) {
		// What must be there says more than a bare yes, or than one part of what wasn't asked for as found.
		if v := Shown(a, p.Built.Survey); v != survey.Yes && found.Verdict != check.NA {
			r.Need, r.Found, r.Plan = check.FactOf(v), check.FactOf(Shown(a, p.Found.Survey)), check.Fact{}
		}
		r.Step = p.stepThatSets(a)
		if b.Verdict == check.OK {
			r.Mark = Change
			if things[a.Path()] != nil && absent(a, p.Found.Survey) {
				r.Mark = Add
			}
		}
	}
	return r
}

// limit is what a check requires whose one answer isn't known, where that
// doesn't hang on the answer: it asks the same at either end of what is
// plausible, or at every choice. Else it is zero.
func (p *Plan) limit(f *check.Finding) check.Fact {
	if len(f.At) != 1 || f.Check == nil {
		return check.Fact{}
	}
	field := survey.FieldAt(f.At[0].Path())
	values := field.Choices
	if low, high, ok := strings.Cut(field.Sane, ".."); ok {
		values = []string{low, high}
	}
	var want check.Fact
	for _, v := range values {
		c, err := p.Built.Case.With(map[string]string{f.At[0].Path(): v})
		if err != nil {
			return check.Fact{}
		}
		out := c.Run(f.Check)
		switch {
		case out.Verdict == check.Missing || out.Verdict == check.NA || out.Want.Zero(), !want.Zero() && out.Want.Key() != want.Key():
			return check.Fact{}
		}
		want = out.Want
	}
	return want
}

// own is the answer that a check judges as such: the breaker's rating, say, or
// the device in the line. Where the check judges what is computed from several
// answers (the fall from stand, rim and run), it is the one that the check
// names to build by, else none: another answer's value would be read as its own.
func own(f *check.Finding, s *survey.Survey) survey.Ref {
	if f.Builds != nil {
		return f.Builds
	}
	if len(f.At) == 0 || !f.At[0].Known(s) {
		return nil
	}
	a := f.At[0]
	v := Shown(a, s)
	if _, word := v.(check.Word); (word || v == survey.Yes) && f.Have.Value == nil || reflect.DeepEqual(f.Have.Value, v) || reflect.DeepEqual(f.Have.Value, a.Value(s)) {
		return a
	}
	return nil
}

func (p *Plan) sets(a survey.Ref) bool {
	_, ok := p.Set[a.Path()]
	return ok
}

// stepThatSets is the number of the step that changes an answer, 0 for none.
func (p *Plan) stepThatSets(a survey.Ref) int {
	for _, st := range p.Steps {
		if _, sets := st.Set[a.Path()]; sets {
			return st.N
		}
	}
	return 0
}

// Thing is the row of an answer that has no check of its own: what the plan
// makes of it, and what was found. Its need is zero where the plan leaves it.
func (p *Plan) Thing(a survey.Ref) Row {
	r := Row{Found: check.FactOf(Shown(a, p.Found.Survey))}
	if !p.sets(a) {
		return r
	}
	r.Need, r.Mark, r.Step = check.FactOf(Shown(a, p.Built.Survey)), Change, p.stepThatSets(a)
	if absent(a, p.Found.Survey) {
		r.Mark = Add
	}
	return r
}

// ThingAt is the answer at a path, where it says by itself what is built.
func ThingAt(path string) (survey.Ref, bool) {
	r := things[path]
	return r, r != nil
}

// Shown is an answer as a value to print: a word of a closed list as such,
// inches as a tape shows them.
func Shown(a survey.Ref, s *survey.Survey) any {
	switch v := a.Value(s).(type) {
	case string:
		return check.Word(v)
	case quantity.Length:
		return ruled(v)
	default:
		return v
	}
}

// absent says whether an answer tells that there is nothing of the kind yet.
func absent(a survey.Ref, s *survey.Survey) bool {
	if !a.Known(s) {
		return true
	}
	switch v := a.Value(s).(type) {
	case string:
		return v == "none"
	case survey.YesNo:
		return v == survey.No
	case interface{ Base() float64 }:
		return v.Base() == 0
	}
	return false
}

// PlaceMark is the state of one place on the way in by the checks of its kind,
// which judge the tightest: kept where the place alone passes as found, to be
// changed where it passes with the plan alone. ok is false where neither is so.
func (p *Plan) PlaceMark(ids []string, place int) (mark Mark, ok bool) {
	passes := func(j *check.Judged) bool {
		if place >= len(j.Survey.Space.Path) {
			return false
		}
		s := j.Survey.Clone()
		s.Space.Path = s.Space.Path[place : place+1]
		for _, k := range j.Checks {
			if !slices.Contains(ids, k.ID) {
				continue
			}
			if v := check.Evaluate([]*check.Check{k}, s, j.Machine, check.Options{Today: j.Today}).Findings[0].Verdict; v != check.OK && v != check.NA {
				return false
			}
		}
		return true
	}
	switch {
	case passes(p.Found):
		return Keep, true
	case passes(p.Built):
		return Change, true
	}
	return Keep, false
}

// Stricter says which of two limits of one thing rules: the lower of two mosts,
// the higher of two leasts. ok is false where they can't be compared.
func Stricter(a, b check.Fact) (second, ok bool) {
	type sized interface {
		Base() float64
		Dimension() string
		Known() bool
	}
	x, is := a.Value.(sized)
	y, isToo := b.Value.(sized)
	switch {
	case !is || !isToo || a.Bound != b.Bound || !x.Known() || !y.Known() || x.Dimension() != y.Dimension() || !a.Phrase.Zero() || !b.Phrase.Zero():
		return false, false
	case a.Bound == check.AtMost:
		return y.Base() < x.Base(), true
	case a.Bound == check.AtLeast:
		return y.Base() > x.Base(), true
	}
	return false, false
}
