package check

import (
	"reflect"
	"strings"
	"sync"

	"firstfill/survey"
)

// unassumed turns a FIX that rests on an answer nobody gave into MISSING: one
// in whose place the check takes a usual value, and with which, given, it would
// not be FIX.
func (c *Case) unassumed(k *Check, out Outcome) Outcome {
	for _, a := range k.Assumes {
		if a.Known(c) {
			continue
		}
		for _, text := range plausible(a.Path()) {
			after, err := c.With(map[string]string{a.Path(): text})
			if err != nil {
				continue
			}
			if v := after.tried(k); v == OK || v == NA {
				lacking, _ := c.Lacking(a)
				lacking.Working = out.Working
				return lacking
			}
		}
	}
	return out
}

// tried is a check's verdict at the answers as they stand, whatever it assumes.
func (c *Case) tried(k *Check) Verdict {
	if k.Skip != nil && !k.Skip(c).Zero() {
		return NA
	}
	return k.Run(c).Verdict
}

// plausible are answers to a question that between them show what it may
// change: each of a closed list, else its example and the ends of its range.
func plausible(path string) []string {
	if list, ok := plausibles.Load(path); ok {
		return list.([]string)
	}
	f := survey.FieldAt(path)
	list := f.Choices
	switch {
	case f.Type == reflect.TypeFor[survey.YesNo]():
		list = []string{"yes", "no"}
	case path == survey.Ask.Power.Phases.Path():
		list = []string{"1", "3"}
	}
	if len(list) == 0 {
		low, high, _ := strings.Cut(f.Sane, "..")
		for _, text := range []string{f.Example, low, high} {
			if text != "" {
				list = append(list, text)
			}
		}
	}
	plausibles.Store(path, list)
	return list
}

var plausibles sync.Map // of []string, by path
