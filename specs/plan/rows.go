package plan

import (
	"firstfill/specs/check"
	"firstfill/survey"
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
	Need  check.Fact // the planned value, else what is required; never what was found
	Found check.Fact
	Mark  Mark
	Step  int // of the plan, 0: none
}

// Rows are the numbers of a subject, in the order of the checks. A check that
// doesn't arise on the planned site has none.
func (p *Plan) Rows(subject check.Subject) []Row {
	var rows []Row
	for i, b := range p.Built.Findings {
		if b.Subject != subject || b.Verdict == check.NA {
			continue
		}
		found := p.Found.Findings[i]
		r := Row{Check: b.Check, Need: b.Want, Found: found.Have}
		switch b.Verdict {
		case check.Missing:
			r.Mark = Read
		case check.Confirm:
			r.Mark = Confirm
		case check.Fix:
			r.Mark = Stands
		}
		if a, ok := p.changed(b); ok {
			r.Need, r.Mark = check.FactOf(Shown(a, p.Built.Survey)), Change
			if absent(a, p.Found.Survey) {
				r.Mark = Add
			}
			r.Found = check.FactOf(Shown(a, p.Found.Survey))
			for _, st := range p.Steps {
				if _, sets := st.Set[a.Path()]; sets {
					r.Step = st.N
				}
			}
		} else if found.Verdict == check.Fix && b.Verdict == check.OK {
			r.Mark = Change // cured by what another row asks for
			for _, st := range p.Steps {
				if len(st.Cures) > 0 && has(st.Cures, b.ID) {
					r.Step = st.N
				}
			}
		}
		rows = append(rows, r)
	}
	return rows
}

func has(ids []string, id string) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// changed is the answer that a finding is about first, where the plan changes
// it and it says by itself what is built.
func (p *Plan) changed(f *check.Finding) (survey.Ref, bool) {
	if len(f.At) == 0 {
		return nil, false
	}
	a := f.At[0]
	_, ok := p.Set[a.Path()]
	return a, ok && things[a.Path()] != nil
}

// Shown is an answer as a value to print: a word of a closed list as such.
func Shown(a survey.Ref, s *survey.Survey) any {
	v := a.Value(s)
	if text, ok := v.(string); ok {
		return check.Word(text)
	}
	return v
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
