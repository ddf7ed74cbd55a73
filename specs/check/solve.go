package check

import (
	"maps"
	"sort"

	"firstfill/survey"
	"firstfill/survey/quantity"
)

// First returns the first of the candidate texts of an answer with which the
// check is OK under uncertainty, other changes in set applied too. With more
// than 40 candidates it assumes that once OK they stay OK, and bisects; the
// engine proves the result in any case.
func (c *Case) First(k *Check, answer survey.Ref, candidates []string, set map[string]string) (string, bool) {
	passes := func(i int) bool {
		try := map[string]string{answer.Path(): candidates[i]}
		maps.Copy(try, set)
		after, err := c.With(try)
		return err == nil && after.Passes(k)
	}
	if len(candidates) <= 40 {
		for i := range candidates {
			if passes(i) {
				return candidates[i], true
			}
		}
		return "", false
	}
	i := sort.Search(len(candidates), passes)
	if i == len(candidates) {
		return "", false
	}
	return candidates[i], true
}

// Ladder lists values from one to another in steps, as texts in the given
// unit; both ends count. A step of the wrong sign is turned round.
func Ladder[D quantity.Dimension](from, to, step float64, u quantity.Unit[D]) []string {
	if step == 0 {
		return nil
	}
	if (to-from)*step < 0 {
		step = -step
	}
	var texts []string
	for i := 0; i < 2000; i++ {
		x := from + float64(i)*step
		if step > 0 && x > to+1e-9 || step < 0 && x < to-1e-9 {
			break
		}
		texts = append(texts, u.Write(x))
	}
	return texts
}

// Offer solves one answer over candidates and says the remedy; none when none works.
func (c *Case) Offer(k *Check, answer survey.Ref, candidates []string, set map[string]string, say func(value any) any) []Remedy {
	v, ok := c.First(k, answer, candidates, set)
	if !ok {
		return nil
	}
	all := map[string]string{answer.Path(): v}
	maps.Copy(all, set)
	return []Remedy{{Change: say(c.valueOf(answer, v)), Set: all}}
}

// OfferFirst keeps the first of the remedies that cures the check.
func (c *Case) OfferFirst(k *Check, remedies []Remedy) []Remedy {
	for _, r := range remedies {
		if after, err := c.With(r.Set); err == nil && after.Passes(k) {
			return []Remedy{r}
		}
	}
	return nil
}

// valueOf is an answer's text as the value that it would be.
func (c *Case) valueOf(answer survey.Ref, text string) any {
	after, err := c.With(map[string]string{answer.Path(): text})
	if err != nil {
		return Quote(text)
	}
	switch v := answer.Value(after).(type) {
	case string:
		return Word(v)
	default:
		return v
	}
}
