package check

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
)

// ids are a subject letter and two digits.
var ids = regexp.MustCompile(`^[A-Z]-\d\d$`)

// Register puts checks together into one list, in order. The error names every
// check that can't be trusted: one without an id of a letter and two digits, with
// the id of another, without a trade, a source or anything to run, without words
// (worded says whether there is a wording of that name), or that follows from a
// check that isn't in the list, or from itself.
func Register(worded func(name string) bool, groups ...[]*Check) ([]*Check, error) {
	all := slices.Concat(groups...)
	var errs []error
	bad := func(k *Check, format string, args ...any) {
		errs = append(errs, fmt.Errorf("check %s: %s", k.ID, fmt.Sprintf(format, args...)))
	}
	seen := map[string]bool{}
	for i, k := range all {
		if k == nil {
			errs = append(errs, fmt.Errorf("check %d of the list is nil", i+1))
			continue
		}
		if !ids.MatchString(k.ID) {
			bad(k, "its id %q isn't a letter and two digits, such as E-03", k.ID)
		}
		if seen[k.ID] {
			bad(k, "another check has its id")
		}
		seen[k.ID] = true
		if !slices.Contains(Trades, k.Trade) {
			bad(k, "nobody acts: its trade is %q", k.Trade)
		}
		if len(k.Sources) == 0 {
			bad(k, "it has no source; common practice is written as such")
		}
		if k.Run == nil {
			bad(k, "it has nothing to run")
		}
		for _, part := range []string{"title", "why"} {
			if !worded(part + "." + k.ID) {
				bad(k, "there is no wording %s.%s", part, k.ID)
			}
		}
		for _, a := range k.After {
			if !slices.Contains(all, a) {
				bad(k, "it follows from a check that isn't in the list")
			}
		}
	}
	if ring := ringOf(all); ring != nil {
		errs = append(errs, fmt.Errorf("checks follow from themselves: %v", ring))
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return all, nil
}

// MustRegister is Register that panics: a program with a bad check doesn't start.
func MustRegister(worded func(name string) bool, groups ...[]*Check) []*Check {
	all, err := Register(worded, groups...)
	if err != nil {
		panic(err)
	}
	return all
}

// ringOf gives the ids of checks each of which follows from the next, and the
// last from the first; nil where there are none.
func ringOf(all []*Check) []string {
	done := map[*Check]bool{}
	var path []*Check
	var walk func(k *Check) []string
	walk = func(k *Check) []string {
		if i := slices.Index(path, k); i >= 0 {
			var ring []string
			for _, x := range path[i:] {
				ring = append(ring, x.ID)
			}
			return ring
		}
		if k == nil || done[k] {
			return nil
		}
		path = append(path, k)
		for _, a := range k.After {
			if ring := walk(a); ring != nil {
				return ring
			}
		}
		path = path[:len(path)-1]
		done[k] = true
		return nil
	}
	for _, k := range all {
		if ring := walk(k); ring != nil {
			return ring
		}
	}
	return nil
}
