package rules

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

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
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	var fields []survey.Field
	for _, f := range survey.Fields() {
		if !f.List && !f.Told && f.Section != "site" && f.Section != "notes" && f.Section != "photos" && f.Path != "machine.key" && f.Path != "survey" {
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

// auditRows hold what an audit found wrong: results from answers that allow
// none, and remedies that no trade should carry out.
var auditRows = []row{
	{id: "E-03", name: "0 V", want: Fix, set: set{"power.line_to_line": "0 V"}},
	{id: "E-07", name: "0 V gives no current, so no result", machine: "knot-c400", want: Confirm, have: "no result",
		set: set{"power.line_to_line": "0 V", "power.dedicated": "no", "power.other_loads[0].name": "ice machine", "power.other_loads[0].current": "6 A"}},
	{id: "E-22", name: "metric, breaker without its residual current", machine: "turnstone-u50", want: Confirm, set: set{"power.ground_fault_protection": "breaker"}},
	{id: "W-05", name: "flowing pressure read with nothing flowing", want: Confirm, have: "0 gpm", set: set{"water.cold.flow": "0 gpm"}},
	{id: "W-12", name: "a length below zero", want: Confirm, set: set{"water.hot.from_heater": "-1 ft"}},
	{id: "W-36", name: "a hose below zero", want: Confirm, set: set{"water.cold.hose_distance": "-1 ft"}},
	{id: "W-19", name: "no sanitizer", want: Fix, have: "no sanitizer", set: set{"chemicals.sanitizer": "none"}},
	{id: "D-21", name: "a lift below zero", machine: "sanderling-u24p", want: Confirm, set: set{"drain.lift": "-10 in"}},
	{id: "D-12", name: "at the limit under the UPC", machine: "dunlin-u24", want: Fix, margin: "at the limit, which the line must stay below",
		set: set{"drain.run_length": "15 ± 0 ft", "codes.plumbing": "upc"}, source: "UPC 803.3: less than 15 ft (confirmed)"},
}

// TestHotterRemedies sees that no remedy sets a heater above what is safe to
// ask for, whatever the pipe loses, and that each one cautions.
func TestHotterRemedies(t *testing.T) {
	offered := 0
	for _, key := range []string{"avocet-r36", "dunlin-u24", "sanderling-u24p"} {
		for _, now := range []string{"40 °F", "60 °F", "90 °F", "100 °F", "105 °F"} {
			s, m := row{machine: key, set: set{"water.hot.temperature": now}}.laid(t)
			for _, f := range Evaluate(s, m, Options{Today: today}).Findings {
				for _, rem := range f.Remedies {
					text, raises := rem.Set["water.hot.temperature"]
					if !raises {
						continue
					}
					offered++
					if !strings.Contains(rem.Change, "scald hazard: water at 140 °F") {
						t.Errorf("%s at %s, %s: %q says nothing of scalding", key, now, f.ID, rem.Change)
					}
					if to := quantity.MustParse[quantity.Temperature](text); to.Cmp(m.Water.Hot.TempMax) > 0 {
						t.Errorf("%s at %s, %s: %q is more than the machine bears", key, now, f.ID, rem.Change)
					}
					if sp, ok := rem.Set["heater.set_point"]; ok && quantity.MustParse[quantity.Temperature](sp).In(quantity.Fahrenheit) > 160 { // common practice, no source
						t.Errorf("%s at %s, %s: %q sets the heater too high", key, now, f.ID, rem.Change)
					}
				}
			}
		}
	}
	if offered < 10 {
		t.Errorf("only %d remedies were seen", offered)
	}
}

// TestCauseSaidOnce sees one excess of pressure and one missing sanitizer
// named once, the findings that follow from them pointing there.
func TestCauseSaidOnce(t *testing.T) {
	for _, r := range []struct {
		set          set
		follows, why string
	}{
		{set{"water.cold.static_pressure": "110 psi", "water.cold.flowing_pressure": "105 psi"}, "W-05", "W-03"},
		{set{"water.cold.static_pressure": "110 psi", "water.cold.flowing_pressure": "105 psi"}, "W-01", "W-03"},
		{set{"chemicals.sanitizer": "none"}, "W-19", "C-01"},
		{set{"chemicals.concentration": "0 mg/L"}, "W-19", "C-02"},
	} {
		s, m := row{set: r.set}.laid(t)
		f := Evaluate(s, m, Options{Today: today}).Finding(r.follows)
		if f.Verdict != Fix || f.Cause != r.why {
			t.Errorf("%v: %s %v has cause %q and action %q, want cause %s", r.set, r.follows, f.Verdict, f.Cause, f.Action, r.why)
		}
	}
}

// TestAbsurdIsQuick sees that an absurd temperature doesn't send the search for
// remedies over a hundred thousand steps: it took 45 s once.
func TestAbsurdIsQuick(t *testing.T) {
	s, m := row{set: set{"water.cold.summer_temperature": "1000000 °F"}}.laid(t)
	begin := time.Now()
	f := Evaluate(s, m, Options{Today: today}).Finding("W-13")
	if took := time.Since(begin); took > 10*time.Second {
		t.Errorf("took %v", took)
	}
	if f.Verdict != Fix {
		t.Errorf("W-13 %v: %s", f.Verdict, f.Have)
	}
}
