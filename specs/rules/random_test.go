package rules

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"firstfill/survey"
	"firstfill/survey/quantity"
)

// randomAnswer picks an answer of a field: one of its choices, an end of its
// plausible range or beyond, nothing at all, or a plain number.
func randomAnswer(r *rand.Rand, f survey.Field) string {
	if r.IntN(8) == 0 {
		return "unknown"
	}
	if len(f.Choices) > 0 {
		return f.Choices[r.IntN(len(f.Choices))]
	}
	switch f.Type {
	case reflect.TypeFor[survey.YesNo]():
		return []string{"yes", "no"}[r.IntN(2)]
	case reflect.TypeFor[quantity.PipeSize]():
		all := (quantity.PipeSize{}).All()
		return all[r.IntN(len(all))].String()
	}
	_, unit, ok := strings.Cut(f.Example, " ")
	if low, high, found := strings.Cut(f.Sane, ".."); found {
		if r.IntN(3) == 0 {
			return []string{low, high}[r.IntN(2)]
		}
		_, unit, ok = strings.Cut(low, " ")
	}
	number := []string{"0", "1", "-1", "0.001", "2", "7", "14", "60", "250", "1000000"}[r.IntN(10)]
	if !ok {
		return number
	}
	return number + " " + unit
}

// TestRandomAnswers lays random answers over every site and sees that each
// check gives a verdict in words: no panic, no number that is none, an action
// wherever somebody must act.
func TestRandomAnswers(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var fields []survey.Field
	for _, f := range survey.Fields() {
		if !f.List && f.Section != "site" && f.Section != "notes" && f.Section != "photos" && f.Path != "machine.key" && f.Path != "survey" {
			fields = append(fields, f)
		}
	}
	laid, told := 0, map[string]bool{}
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		for range 12 {
			changed, was := s.Clone(), map[string]string{}
			for range 1 + r.IntN(12) {
				f := fields[r.IntN(len(fields))]
				path, text := strings.ReplaceAll(f.Path, "[]", "[0]"), randomAnswer(r, f)
				if changed.Apply(map[string]string{path: text}) == nil {
					was[path] = text
					laid++
				}
			}
			for _, f := range Evaluate(changed, m, Options{Today: today, Units: quantity.System(r.IntN(2))}).Findings {
				texts := fmt.Sprint(f.Have, "|", f.Want, "|", f.Margin, "|", f.Action, "|", f.Worst, "|", f.Best, "|", f.Working, f.Remedies)
				fault := ""
				switch {
				case strings.Contains(texts, "internal error"):
					fault = "panics"
				case strings.Contains(texts, "NaN") || strings.Contains(texts, "Inf ") || strings.Contains(texts, "%!"):
					fault = "prints a number that is none"
				case f.Verdict != OK && f.Verdict != NA && f.Action == "":
					fault = "says nothing to do"
				}
				if fault != "" && !told[f.ID+fault] {
					told[f.ID+fault] = true
					t.Errorf("%s with %v: %s %v %s: %s", name, was, f.ID, f.Verdict, fault, texts)
				}
			}
		}
	}
	if laid < 1000 {
		t.Errorf("only %d answers could be laid over the sites", laid)
	}
}
