package plan_test

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var today = survey.DateOf(time.Date(2026, 11, 10, 0, 0, 0, 0, time.UTC))

// sites are all readable sites of testdata, and the demo.
func sites(t testing.TB) map[string]*survey.Survey {
	t.Helper()
	all := map[string]*survey.Survey{}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", "[bpf]*.yaml"))
	if err != nil || len(files) < 10 {
		t.Fatalf("too few sites: %v, %v", files, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s, problems := survey.Load(filepath.Base(file), data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		all[strings.TrimSuffix(filepath.Base(file), ".yaml")] = s
	}
	demo, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	all["demo"] = demo
	return all
}

func machine(t testing.TB, key string) *specs.Machine {
	t.Helper()
	if key == "bar-rotary" {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "machines", key+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		m, problems := specs.Load(key, data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		return m
	}
	m, err := specs.Builtin().Machine(key)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func judge(t testing.TB, s *survey.Survey) *check.Judged {
	t.Helper()
	return rules.Judge(s, machine(t, s.Machine.Key), check.Options{Today: today})
}

// prove says what a plan promises and doesn't keep.
func prove(p *plan.Plan) (faults []string) {
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	built, err := p.Found.Having(p.Set)
	if err != nil {
		return []string{"the plan's answers can't be written: " + err.Error()}
	}
	stands := map[string]bool{}
	for _, s := range p.Stands {
		stands[s.ID] = true
	}
	for i, f := range built.Findings {
		was := p.Found.Findings[i].Verdict
		switch {
		case f.Verdict == check.Fix && !stands[f.ID]:
			fault("%s is FIX on the planned site and no stand names it", f.ID)
		case f.Verdict != check.Fix && stands[f.ID]:
			fault("%s is said to stand and doesn't", f.ID)
		case f.Verdict == check.Missing && was == check.OK:
			fault("%s was OK and is MISSING on the planned site", f.ID)
		case f.Verdict == check.Confirm && was == check.OK && !slices.ContainsFunc(p.Steps, func(st plan.Step) bool { return slices.Contains(st.Doubts, f.ID) }):
			fault("%s was OK and is CONFIRM on the planned site, and no step says so", f.ID)
		case f.Verdict == check.Fix && was == check.Missing || f.Verdict == check.Fix && was == check.OK:
			fault("%s is %v as found and FIX on the planned site", f.ID, was)
		}
	}
	set := map[string]string{}
	for _, st := range p.Steps {
		for path, text := range st.Set {
			if other, twice := set[path]; twice {
				fault("%s is set twice, to %s and to %s", path, other, text)
			}
			set[path] = text
		}
	}
	if !maps.Equal(set, p.Set) {
		fault("the steps set %v, the plan %v", set, p.Set)
	}
	for _, st := range p.Steps {
		rest := maps.Clone(p.Set)
		for path := range st.Set {
			delete(rest, path)
		}
		without, err := p.Found.Having(rest)
		if err != nil {
			fault("step %d can't be left out: %v", st.N, err)
			continue
		}
		back := 0
		for i, f := range without.Findings {
			if f.Verdict == check.Fix && built.Findings[i].Verdict != check.Fix {
				back++
				if !slices.Contains(st.Cures, f.ID) {
					fault("step %d cures %s without saying so", st.N, f.ID)
				}
			}
		}
		if back == 0 {
			fault("step %d (%s) can be left out", st.N, st.Job)
		}
		for _, n := range st.After {
			if n >= st.N {
				fault("step %d comes after %d", st.N, n)
			}
		}
	}
	return faults
}

func TestPlanOfEverySite(t *testing.T) {
	for name, s := range sites(t) {
		t.Run(name, func(t *testing.T) {
			p := plan.Find(judge(t, s), plan.Options{})
			for _, fault := range prove(p) {
				t.Error(fault)
			}
			if strings.HasPrefix(name, "pass_") && len(p.Steps) > 0 {
				t.Errorf("a passing site needs no work, yet there are steps: %v", p.Steps)
			}
		})
	}
}

// TestAnyOrderOfChecks sees one plan whatever the order of the checks.
func TestAnyOrderOfChecks(t *testing.T) {
	reversed := slices.Clone(rules.All)
	slices.Reverse(reversed)
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		a := plan.Find(judge(t, s), plan.Options{})
		b := plan.Find(check.Evaluate(reversed, s, m, check.Options{Today: today}), plan.Options{})
		if !maps.Equal(a.Set, b.Set) || fmt.Sprint(a.Steps) != fmt.Sprint(b.Steps) {
			t.Errorf("%s: plan %v, with the checks in reverse %v", name, a.Set, b.Set)
		}
	}
}

func BenchmarkPlanDemo(b *testing.B) {
	s := sites(b)["demo"]
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		plan.Find(rules.Judge(s, m, check.Options{Today: today}), plan.Options{})
	}
}

func BenchmarkJudgeDemo(b *testing.B) {
	s := sites(b)["demo"]
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		rules.Judge(s, m, check.Options{Today: today})
	}
}

// generated are how many random sites the proof is tried on.
var generated = flag.Int("generated", 120, "random sites to plan")

// TestPlanOfGeneratedSites lays random plausible answers over the sites and
// proves each plan.
func TestPlanOfGeneratedSites(t *testing.T) {
	all := sites(t)
	names := slices.Sorted(maps.Keys(all))
	n := *generated
	if testing.Short() {
		n /= 20
	}
	var fields []survey.Field
	for _, f := range survey.Fields() {
		if !f.List && !strings.Contains(f.Path, "[]") && f.Section != "site" && f.Section != "notes" && f.Section != "photos" && f.Section != "choices" && f.Section != "survey" && f.Section != "machine" {
			fields = append(fields, f)
		}
	}
	machines := map[string]*specs.Machine{}
	for _, name := range names {
		machines[name] = machine(t, all[name].Machine.Key)
	}
	var mu sync.Mutex
	var failed, steps, stands int
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				r := rand.New(rand.NewPCG(9, uint64(i)))
				name := names[i%len(names)]
				s := all[name]
				set := map[string]string{}
				for range 1 + r.IntN(10) {
					f := fields[r.IntN(len(fields))]
					if text := plausible(r, f); text != "" {
						set[f.Path] = text
					}
				}
				settings, err := s.Settings(set)
				if err != nil {
					continue
				}
				laid, _, err := s.With(settings...)
				if err != nil {
					continue
				}
				p := plan.Find(rules.Judge(laid, machines[name], check.Options{Today: today}), plan.Options{})
				faults := prove(p)
				mu.Lock()
				steps += len(p.Steps)
				stands += len(p.Stands)
				if len(faults) > 0 {
					if failed++; failed <= 12 {
						t.Errorf("%s with %v: %s", name, set, strings.Join(faults, "; "))
					}
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	t.Logf("%d sites: %d steps, %d faults that stand, %d plans that don't keep their promise", n, steps, stands, failed)
	if steps < n {
		t.Errorf("only %d steps in %d plans", steps, n)
	}
}

// plausible is a random answer as a surveyor may write it: a choice, a value
// within the plausible range, or unknown.
func plausible(r *rand.Rand, f survey.Field) string {
	if r.IntN(10) == 0 {
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
		return all[r.IntN(min(9, len(all)))].String()
	case reflect.TypeFor[quantity.WireSize]():
		return []string{"14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG"}[r.IntN(6)]
	case reflect.TypeFor[survey.Count]():
		return strconv.Itoa(r.IntN(8))
	}
	low, high, ok := strings.Cut(f.Sane, "..")
	if !ok {
		return ""
	}
	var a, b float64
	var unit string
	fmt.Sscanf(low, "%g %s", &a, &unit)
	fmt.Sscanf(high, "%g", &b)
	if f.Path == "power.breaker" {
		return []string{"15 A", "20 A", "25 A", "30 A", "40 A", "50 A"}[r.IntN(6)]
	}
	return fmt.Sprintf("%.3g %s", a+(b-a)*r.Float64()*r.Float64(), unit)
}
