package signoff

import (
	"fmt"
	"slices"
	"strings"

	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

// An Unsigned is a reading that was written and not signed, so that it isn't taken.
type Unsigned struct {
	At      doc.Pos
	ID      string
	Reading string
}

// TakeBack finds the signed readings of a site's workbooks that its
// questionnaire doesn't hold yet, as changes in the questionnaire's order. The
// problems name readings that can't be used, and those that contradict each
// other or an answer that was changed since.
func TakeBack(s *survey.Survey, copies []Copy, today survey.Date) ([]survey.Change, []Unsigned, doc.Problems) {
	t := takeBack{survey: s, taken: map[string]Reading{}}
	for _, c := range copies {
		for _, j := range Judge(c.Book, today).Items {
			if strings.TrimSpace(j.Mark.Reading) != "" {
				t.item(c, j, doc.Pos{File: c.File, Cell: j.Cells["Reading"]})
			}
		}
	}
	slices.SortStableFunc(t.changes, func(x, y survey.Change) int { return survey.Order(x.Path) - survey.Order(y.Path) })
	return t.changes, t.unsigned, t.problems
}

type takeBack struct {
	survey   *survey.Survey
	taken    map[string]Reading
	changes  []survey.Change
	unsigned []Unsigned
	problems doc.Problems
}

func (t *takeBack) fault(at doc.Pos, path, format string, args ...any) {
	t.problems = append(t.problems, doc.Problem{Pos: at, Path: path, Message: fmt.Sprintf(format, args...)})
}

// item takes the readings of one item.
func (t *takeBack) item(c Copy, j Judged, at doc.Pos) {
	rs, err := j.Readings()
	if j.State != IsSigned {
		if status, _ := ParseStatus(j.Mark.Status); status == Done && t.unusable(rs, at) {
			return // what it can't tell apart is among the item's faults, and not taken
		}
		t.unsigned = append(t.unsigned, Unsigned{at, j.ID, j.Mark.Reading})
		return
	}
	if err != nil {
		t.fault(at, j.ID, "%v", err)
		return
	}
	for _, r := range rs {
		t.reading(c, j, r, at)
	}
}

func (t *takeBack) unusable(rs []Reading, at doc.Pos) bool {
	n := len(t.problems)
	for _, r := range rs {
		if err := r.Unusable(); err != nil {
			t.fault(at, r.Path, "%v", err)
		}
	}
	return len(t.problems) > n
}

// reading takes one reading, unless the questionnaire says it already.
func (t *takeBack) reading(c Copy, j Judged, r Reading, at doc.Pos) {
	if other, ok := t.taken[r.Path]; ok {
		if other.Value != r.Value {
			t.fault(at, r.Path, "%s says %q, %s says %q; keep one of them", j.ID, r.Value, other.ID, other.Value)
		}
		return
	}
	if t.survey.Known(r.Path) && t.survey.Answer(r.Path).Text == r.Value {
		return
	}
	if now := AnswerText(t.survey, r.Path); now != r.Was {
		t.fault(at, r.Path, "%s was written against %s, but the questionnaire now says %s (%s); settle it by hand", j.ID, orNothing(r.Was), orNothing(now), t.survey.Answer(r.Path).Pos)
		return
	}
	if err := t.survey.Clone().Apply(map[string]string{r.Path: r.Value}); err != nil {
		ps, ok := err.(doc.Problems)
		if !ok {
			ps = doc.Problems{{Message: err.Error()}}
		}
		for _, p := range ps {
			t.fault(at, r.Path, "%s", p.Message)
		}
		return
	}
	t.taken[r.Path] = r
	source := fmt.Sprintf("sign-off %s, revision %s, %s", r.ID, c.Book.Revision, r.By)
	if j.Mark.Company != "" {
		source += ", " + j.Mark.Company
	}
	t.changes = append(t.changes, survey.Change{Path: r.Path, Value: r.Value, Source: source + ", " + r.Date})
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}
