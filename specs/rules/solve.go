package rules

import (
	"sort"

	"firstfill/survey/quantity"
)

// first returns the first of the candidate answers at path with which the
// check is OK under uncertainty, other changes in set applied too. With more than 40
// candidates it assumes that once OK they stay OK, and bisects; the engine
// proves the result in any case.
func (c *Case) first(k *Check, path string, candidates []string, set map[string]string) (string, bool) {
	passes := func(i int) bool {
		try := map[string]string{path: candidates[i]}
		for p, v := range set {
			try[p] = v
		}
		after, err := c.with(try)
		return err == nil && after.judge(k).Verdict == OK
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

// ladder lists values from one to another in steps, as texts in the given
// unit; both ends count. A step of the wrong sign is turned round.
func ladder[D quantity.Dimension](from, to, step float64, u quantity.Unit[D]) []string {
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

// offer solves one answer over candidates and words the remedy; nil when none works.
func (c *Case) offer(k *Check, path string, candidates []string, set map[string]string, word func(value string) string) []Remedy {
	v, ok := c.first(k, path, candidates, set)
	if !ok {
		return nil
	}
	all := map[string]string{path: v}
	for p, t := range set {
		all[p] = t
	}
	return []Remedy{{Change: word(v), Set: all}}
}
