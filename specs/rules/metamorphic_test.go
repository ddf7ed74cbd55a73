package rules

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/surveytest"
)

// How a verdict must move when the site is changed in a way whose effect is
// known, over random sites.

var generated = flag.Int("generated", 12, "random sites of each metamorphic test")

// aSite is a random site on a machine of the library.
type aSite struct {
	n       int
	name    string
	set     map[string]string
	survey  *survey.Survey
	machine *specs.Machine
}

func (a aSite) String() string {
	return fmt.Sprintf("site %d, %s on %s with %v", a.n, a.name, a.machine.Key, a.set)
}

func (a aSite) judged(s *survey.Survey) *check.Judged {
	return Judge(s, a.machine, check.Options{Today: today})
}

// randomSites visits random sites; the same seed gives the same ones.
func randomSites(t *testing.T, seed uint64, visit func(r *rand.Rand, a aSite)) {
	t.Helper()
	all := sites(t)
	names := slices.Sorted(maps.Keys(all))
	keys := specs.Builtin().Machines()
	for i := range *generated {
		r := rand.New(rand.NewPCG(seed, uint64(i)))
		a := aSite{n: i, name: names[r.IntN(len(names))], machine: keys[r.IntN(len(keys))]}
		s := all[a.name].Clone()
		if err := s.Apply(set{"machine.key": a.machine.Key, "machine.supply": "unknown"}); err != nil {
			t.Fatal(err)
		}
		if a.survey, a.set = surveytest.Lay(r, s); a.survey != nil {
			visit(r, a)
		}
	}
}

// TestSameInEachUnit writes a site in US and in SI units, to twelve digits,
// and sees the same verdicts.
func TestSameInEachUnit(t *testing.T) {
	t.Parallel()
	same := func(name string, s *survey.Survey, m *specs.Machine) {
		us, err := surveytest.InUnits(s, quantity.US)
		if err != nil {
			t.Fatal(err)
		}
		si, err := surveytest.InUnits(s, quantity.SI)
		if err != nil {
			t.Fatal(err)
		}
		a, b := Judge(us, m, check.Options{Today: today}), Judge(si, m, check.Options{Today: today})
		for i, f := range a.Findings {
			if g := b.Findings[i]; f.Verdict != g.Verdict {
				t.Errorf("%s: %s is %v in US units and %v in SI: %v, %v", name, f.ID, f.Verdict, g.Verdict, f.Have, g.Have)
			}
		}
	}
	for name, s := range sites(t) {
		same(name, s, machine(t, s.Machine.Key))
	}
	randomSites(t, 1, func(_ *rand.Rand, a aSite) { same(a.String(), a.survey, a.machine) })
}

// A worsening is an answer and the direction in which it is worse for checks.
type worsening struct {
	path string
	up   bool // more is worse
	ids  string
}

// worsenings by answer. Checks that bound from both sides are left out, or have
// the other bound taken away (see open).
var worsenings = []worsening{
	{"power.breaker", false, "E-08"}, {"power.breaker", true, "E-09 E-13"},
	{"power.conductor", false, "E-12 E-13 E-15 E-16"}, {"power.ground", false, "E-14"},
	{"power.ambient", true, "E-12 E-13"}, {"power.conductors_in_conduit", true, "E-12 E-13"},
	{"power.run_length", true, "E-15 E-16"}, {"power.drop_ahead", true, "E-15"},
	{"power.receptacle_distance", true, "E-19"},
	{"power.panel_clear_depth", false, "E-26"}, {"power.panel_clear_width", false, "E-26"}, {"power.panel_clear_height", false, "E-26"},
	{"power.fault_current", true, "E-31"}, {"power.interrupting_rating", false, "E-31"}, {"power.panel_spaces", false, "E-25"},
	{"water.cold.static_pressure", true, "W-01 W-03"}, {"water.hot.static_pressure", true, "W-02 W-04"},
	{"codes.pressure_limit", false, "W-03 W-04"},
	{"water.cold.device_loss", true, "W-05"}, {"water.hot.device_loss", true, "W-06"},
	{"water.cold.rise", true, "W-05"}, {"water.hot.rise", true, "W-06"},
	{"water.cold.run_length", true, "W-05"}, {"water.hot.run_length", true, "W-06"},
	{"water.cold.elbows", true, "W-05"}, {"water.hot.elbows", true, "W-06"},
	{"water.cold.pipe_size", false, "W-05 W-07 W-09"}, {"water.hot.pipe_size", false, "W-06 W-08 W-10"},
	{"water.hot.from_heater", true, "W-12"}, {"water.cold.hose_distance", true, "W-36"}, {"water.hot.hose_distance", true, "W-37"},
	{"treatment.hardness", true, "W-22"}, {"treatment.tds", true, "W-23"},
	{"treatment.softener_others", true, "W-24"}, {"treatment.softener_days", true, "W-24"}, {"treatment.softener_grains", false, "W-24"}, {"treatment.raw_hardness", true, "W-24"},
	{"heater.storage", false, "W-20"}, {"heater.recovery", false, "W-20"},
	{"drain.rim_height", true, "D-03"}, {"drain.run_length", true, "D-03 D-12"}, {"drain.floor_falls", false, "D-03"},
	{"machine.raised_by", false, "D-03"}, {"machine.raised_by", true, "S-02"},
	{"drain.air_gap", false, "D-04"}, {"drain.air_gap", true, "D-03"},
	{"drain.tempering_flow", true, "D-07 D-08 D-23"}, {"drain.tempering_flow", false, "D-09 D-10"},
	{"drain.receptor_outlet", false, "D-06 D-08"}, {"drain.pipe_size", false, "D-05"},
	{"codes.sewer_limit", false, "D-10"}, {"drain.lift", true, "D-21"},
	{"space.opening_width", false, "S-01"}, {"space.opening_height", false, "S-02"}, {"space.opening_depth", false, "S-03"},
	{"space.floor_out_of_level", true, "S-10"}, {"space.floor_capacity", false, "S-11"},
	{"space.front_clearance", false, "S-12"}, {"space.service_clearance", false, "S-13"}, {"space.clear_beneath", false, "S-14"},
	{"chemicals.tube_run", true, "C-03"}, {"chemicals.lift", true, "C-04"},
	{"demand.peak_glasses_per_hour", true, "T-01"}, {"demand.turnaround", true, "T-04"},
}

// open takes away the bounds on the other side.
var open = set{"water.cold.flowing_pressure_max": "unknown", "water.hot.flowing_pressure_max": "unknown", "water.hardness_min": "unknown"}

// ladder are four answers to a question from the least to the most.
func ladder(r *rand.Rand, f survey.Field) []string {
	switch f.Zero().(type) {
	case *quantity.PipeSize:
		if f.Section == "drain" {
			return []string{"1-1/4 in", "1-1/2 in", "2 in", "3 in", "4 in"}
		}
		return []string{"3/8 in", "1/2 in", "3/4 in", "1 in"} // larger ones aren't tabulated for every tube
	case *quantity.WireSize:
		return []string{"14 AWG", "10 AWG", "6 AWG", "1/0 AWG"}
	case *survey.Count:
		a, b := 1+r.IntN(3), 4+r.IntN(5)
		if len(f.Example) > 1 {
			a, b = 1+r.IntN(300), 301+r.IntN(1500)
		}
		return []string{fmt.Sprint(a), fmt.Sprint(b), fmt.Sprint(3 * b)}
	}
	low, high, ok := surveytest.Range(f)
	if !ok {
		return nil
	}
	var texts []string
	xs := []float64{low + (high-low)*r.Float64(), low + (high-low)*r.Float64()*r.Float64(), low + (high-low)*r.Float64()*r.Float64()*r.Float64(), low + (high-low)*0.1*r.Float64()}
	slices.Sort(xs)
	for _, x := range xs {
		texts = append(texts, surveytest.Text(f, x, quantity.System(r.IntN(2)), 6))
	}
	return texts
}

// TestWorseIsNeverBetter makes one answer worse step by step and sees that the
// verdict of each check it is worse for never gets better.
func TestWorseIsNeverBetter(t *testing.T) {
	t.Parallel()
	merit := map[Verdict]int{Fix: 0, Confirm: 1, OK: 2}
	judged := 0
	told := map[string]bool{}
	randomSites(t, 2, func(r *rand.Rand, a aSite) {
		m, err := a.machine.With(open)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range worsenings {
			texts := ladder(r, survey.FieldAt(w.path))
			if texts == nil {
				t.Fatalf("%s has no range", w.path)
			}
			if !w.up {
				slices.Reverse(texts)
			}
			last := map[string]int{}
			was := ""
			for _, text := range texts {
				s := a.survey.Clone()
				if err := s.Apply(set{w.path: text}); err != nil {
					t.Fatalf("%s: %s: %v", w.path, text, err)
				}
				c := check.NewCase(s, m, check.Options{Today: today})
				for _, id := range strings.Fields(w.ids) {
					f := c.Judge(ByID(id))
					now, counts := merit[f.Verdict]
					if !counts || f.Doubt != nil {
						continue // a reading in doubt says nothing
					}
					judged++
					if before, ok := last[id]; ok && now > before && !told[id+w.path] {
						told[id+w.path] = true
						t.Errorf("%v: %s is %v at %s of %s, better than at %s; have %v, want %v", a, id, f.Verdict, text, w.path, was, f.Have, f.Want)
						worse := a.survey.Clone()
						if worse.Apply(set{w.path: was}) == nil {
							f := check.NewCase(worse, m, check.Options{Today: today}).Judge(ByID(id))
							t.Logf("there %v; have %v, want %v; %v", f.Verdict, f.Have, f.Want, f.Action)
						}
					}
					last[id] = now
				}
				was = text
			}
		}
	})
	if judged < 40**generated {
		t.Errorf("only %d findings were judged", judged)
	}
}

// TestAnswersOnlyHelp adds an answer to one that was missing, and makes readings
// exact: a FIX never turns MISSING, an OK never FIX for being read more exactly.
func TestAnswersOnlyHelp(t *testing.T) {
	t.Parallel()
	added, narrowed := 0, 0
	told := map[string]bool{}
	randomSites(t, 3, func(r *rand.Rand, a aSite) {
		before := a.judged(a.survey)
		for range 4 {
			plain := surveytest.Plain()
			f := plain[r.IntN(len(plain))]
			text := surveytest.Answer(r, f)
			if a.survey.Known(f.Path) {
				// Without the answer it is the site before it was given.
				without := a.survey.Clone()
				if without.Apply(set{f.Path: "unknown"}) != nil {
					continue
				}
				missingNever(t, told, a, a.judged(without), before, f.Path, a.survey.Answer(f.Path).Text)
				added++
				continue
			}
			if text == "" || text == "unknown" {
				continue
			}
			with := a.survey.Clone()
			if with.Apply(set{f.Path: text}) != nil {
				continue
			}
			missingNever(t, told, a, before, a.judged(with), f.Path, text)
			added++
		}
		exact := map[string]string{}
		for _, e := range a.survey.Answers() {
			f := survey.FieldAt(e.Path)
			text, _, _ := strings.Cut(e.Text, " ±")
			if _, ok := surveytest.Base(f, text); !ok || f.Tool == "" {
				continue
			}
			exact[e.Path] = text + " ± 0 " + f.Unit(quantity.US)
		}
		s := a.survey.Clone()
		if err := s.Apply(exact); err != nil {
			t.Fatal(err)
		}
		for i, g := range a.judged(s).Findings {
			f := before.Findings[i]
			narrowed++
			if f.Verdict == OK && g.Verdict == Fix || f.Verdict == Fix && g.Verdict == OK {
				t.Errorf("%v: %s is %v within its uncertainty and %v exactly", a, f.ID, f.Verdict, g.Verdict)
			}
		}
	})
	if added < *generated || narrowed < 50**generated {
		t.Errorf("only %d answers added and %d findings judged exactly", added, narrowed)
	}
}

func missingNever(t *testing.T, told map[string]bool, a aSite, before, after *check.Judged, path, text string) {
	t.Helper()
	for i, f := range before.Findings {
		if g := after.Findings[i]; f.Verdict == Fix && g.Verdict == Missing && !told[f.ID+path] {
			told[f.ID+path] = true
			t.Errorf("%v: %s is FIX without %s and MISSING with %s: %v, %v", a, f.ID, path, text, f.Have, g.At)
		}
	}
}

// TestOrderOfLists turns every list of answers round and sees the same verdicts.
func TestOrderOfLists(t *testing.T) {
	turned := 0
	randomSites(t, 4, func(_ *rand.Rand, a aSite) {
		s := a.survey.Clone()
		slices.Reverse(s.Power.OtherLoads)
		slices.Reverse(s.Heater.OtherDraws)
		slices.Reverse(s.Drain.Shares)
		slices.Reverse(s.Demand.Glasses)
		slices.Reverse(s.Space.Path)
		turned += len(s.Space.Path) + len(s.Demand.Glasses)
		b := a.judged(s)
		for i, f := range a.judged(a.survey).Findings {
			if g := b.Findings[i]; f.Verdict != g.Verdict || f.Margin.Value != g.Margin.Value && f.Margin.Value == f.Margin.Value {
				t.Errorf("%v: %s is %v, with lists turned round %v; %v, %v", a, f.ID, f.Verdict, g.Verdict, f.Margin, g.Margin)
			}
		}
	})
	if turned == 0 {
		t.Error("no site had a list")
	}
}

// TestPassingUnderEveryCode sees a machine's own passing site stay passing
// under every code that its plate suits.
func TestPassingUnderEveryCode(t *testing.T) {
	t.Parallel()
	seen := 0
	for _, m := range specs.Builtin().Machines() {
		s := site(t, "pass_"+m.Key)
		for _, electrical := range survey.FieldAt("codes.electrical").Choices {
			if strings.HasPrefix(electrical, "nec-") != (m.Basis == "nec") {
				continue
			}
			for _, plumbing := range []string{"ipc", "upc"} {
				changed := s.Clone()
				if err := changed.Apply(set{"codes.electrical": electrical, "codes.plumbing": plumbing}); err != nil {
					t.Fatal(err)
				}
				seen++
				for _, f := range Judge(changed, m, check.Options{Today: today}).Findings {
					if f.Verdict.Blocks() {
						t.Errorf("%s under %s and %s: %s is %v; have %v, want %v", m.Key, electrical, plumbing, f.ID, f.Verdict, f.Have, f.Want)
					}
				}
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d sites", seen)
	}
}
