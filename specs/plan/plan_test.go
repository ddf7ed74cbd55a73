package plan_test

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/surveytest"
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
	so := map[string]string{}
	standing := map[string]bool{} // until it is done: what is there, and what the order asks for
	for _, f := range p.Found.Open(check.Fix) {
		standing[f.ID] = true
	}
	for i, st := range p.Steps {
		if st.Job != "machine" {
			continue
		}
		if i > 0 && p.Steps[i-1].Stage > st.Stage {
			fault("step %d orders the machine behind other stages", st.N)
		}
		if ordered, err := p.Found.Having(st.Set); err == nil {
			for _, f := range ordered.Open(check.Fix) {
				standing[f.ID] = true
			}
		}
		for _, other := range p.Steps {
			if other.Trade == check.Electrician && !slices.Contains(other.After, st.N) {
				fault("step %d doesn't wait for the order, step %d", other.N, st.N)
			}
		}
	}
	for _, st := range p.Steps[:max(0, len(p.Steps)-1)] {
		maps.Copy(so, st.Set)
		between, err := p.Found.Having(so)
		if err != nil {
			fault("steps up to %d can't be done alone: %v", st.N, err)
			continue
		}
		for i, f := range between.Findings {
			if f.Verdict == check.Fix && !standing[f.ID] && built.Findings[i].Verdict != check.Fix {
				fault("after step %d of %d (%s) %s is FIX, neither before nor in the end", st.N, len(p.Steps), st.Job, f.ID)
			}
		}
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
		// What is sized for the worst fails without it with some answer.
		for _, path := range st.Worst {
			for _, text := range answersTo(path) {
				worse, err := without.Having(map[string]string{path: text})
				if err != nil {
					continue
				}
				back += len(slices.DeleteFunc(worse.Open(check.Fix), func(f *check.Finding) bool { return !slices.Contains(st.Cures, f.ID) }))
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
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		a := plan.Find(judge(t, s), plan.Options{})
		b := plan.Find(check.Evaluate(reversed(), s, m, check.Options{Today: today}), plan.Options{})
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

// generated are how many random sites the proof is tried on; one alone is tried
// again by its number.
var (
	generated = flag.Int("generated", 60, "random sites to plan")
	from      = flag.Int("from", 0, "number of the first random site")
	alone     = flag.Int("site", -1, "the one random site to plan")
)

// A randomSite is a site of testdata with random answers laid over it, and in
// half of the cases another machine of the library.
type randomSite struct {
	name    string
	set     map[string]string
	site    *survey.Survey
	machine *specs.Machine
}

func (s randomSite) String() string {
	return fmt.Sprintf("%s, %s with %v", s.name, s.machine.Key, s.set)
}

// random makes the i-th random site; its site is nil where the answers can't
// stand together.
func random(t testing.TB, all map[string]*survey.Survey, i int) randomSite {
	t.Helper()
	r := rand.New(rand.NewPCG(9, uint64(i)))
	names := slices.Sorted(maps.Keys(all))
	rs := randomSite{name: names[r.IntN(len(names))]}
	base := all[rs.name].Clone()
	rs.machine = machine(t, base.Machine.Key)
	given := map[string]string{}
	if r.IntN(2) == 0 {
		keys := specs.Builtin().Machines()
		rs.machine = keys[r.IntN(len(keys))]
		given["machine.key"], given["machine.supply"] = rs.machine.Key, "unknown"
		if options := rs.machine.Power.Supplies; r.IntN(3) == 0 && len(options) > 0 {
			given["machine.supply"] = options[r.IntN(len(options))].Name
		}
	}
	if err := base.Apply(given); err != nil {
		t.Fatal(err)
	}
	rs.site, rs.set = surveytest.Lay(r, base)
	return rs
}

// TestPlanOfGeneratedSites lays random plausible answers over the sites and
// proves each plan.
func TestPlanOfGeneratedSites(t *testing.T) {
	all := sites(t)
	first, n := *from, *from+*generated
	if *alone >= 0 {
		first, n = *alone, *alone+1
	} else if testing.Short() {
		n = first + *generated/5
	}
	var mu sync.Mutex
	var failed, planned, steps, stands, longest int
	kinds := map[string]int{}
	var next atomic.Int64
	next.Store(int64(first))
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				rs := random(t, all, i)
				if rs.site == nil {
					continue
				}
				p := plan.Find(rules.Judge(rs.site, rs.machine, check.Options{Today: today}), plan.Options{})
				faults := prove(p)
				if i%10 == 0 {
					q := plan.Find(check.Evaluate(reversed(), rs.site, rs.machine, check.Options{Today: today}), plan.Options{})
					if !maps.Equal(p.Set, q.Set) || fmt.Sprint(p.Steps) != fmt.Sprint(q.Steps) {
						faults = append(faults, fmt.Sprintf("the plan is %v %v, with the checks in reverse %v %v", p.Set, p.Steps, q.Set, q.Steps))
					}
				}
				mu.Lock()
				planned++
				steps += len(p.Steps)
				stands += len(p.Stands)
				longest = max(longest, p.Tried)
				for _, f := range faults {
					kinds[kind(f)]++
				}
				if len(faults) > 0 {
					if failed++; failed <= 12 || *generated > 1000 {
						t.Errorf("site %d, %v: %s", i, rs, strings.Join(faults, "; "))
					}
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	t.Logf("%d sites: %d steps, %d faults that stand, at most %d states tried, %d plans that don't keep their promise: %v", planned, steps, stands, longest, failed, kinds)
	if *alone < 0 && (planned < (n-first)*9/10 || steps < planned) {
		t.Errorf("only %d steps in %d plans", steps, planned)
	}
}

// kind is what a fault of a plan says, its ids and answers left out.
func kind(fault string) string {
	var words []string
	for _, w := range strings.Fields(fault) {
		if w == strings.ToLower(w) && !strings.ContainsAny(w, "0123456789._[(") || w == "FIX" || w == "MISSING" || w == "CONFIRM" || w == "OK" {
			words = append(words, w)
		}
	}
	return strings.Join(words[:min(len(words), 14)], " ")
}

func reversed() []*check.Check {
	r := slices.Clone(rules.All)
	slices.Reverse(r)
	return r
}

// TestStepSaysEachThingOnce sees that a step can be built: each thing is said
// once, at its final value, whatever the ways were that led to it.
func TestStepSaysEachThingOnce(t *testing.T) {
	s := sites(t)["pass_dunlin-u24"]
	// Too thin, too hot, crowded, wet and of the wrong metal, behind too large a breaker.
	if err := s.Apply(map[string]string{
		"power.breaker": "60 A", "power.breaker_poles": "1", "power.conductor": "10 AWG", "power.insulation": "60", "power.ground": "14 AWG",
		"power.conductor_material": "aluminium", "power.devices_take": "copper", "power.run_place": "wet", "power.wet_insulation": "none",
		"power.ambient": "110 °F", "power.conductors_in_conduit": "6",
	}); err != nil {
		t.Fatal(err)
	}
	said := 0
	for _, st := range plan.Find(judge(t, s), plan.Options{}).Steps {
		if st.Job != "circuit" {
			continue
		}
		said++
		if len(st.Do) != 2 || st.Do[0].Name != "order.line" || st.Do[1].Name != "do.power.devices_take" && st.Do[1].Name != "do.power.ground_fault_protection" {
			t.Errorf("want the circuit's line and what stands beside it: %v", st.Do)
		}
		line := words.Reader{Units: quantity.US}.Step(st)
		for _, part := range []string{"2-pole GFCI breaker", "2 x ", "ground,", "insulation", "wet places"} {
			if strings.Count(line, part) != 1 {
				t.Errorf("%q stands %d times in %q", part, strings.Count(line, part), line)
			}
		}
	}
	if said != 1 {
		t.Errorf("%d steps for the circuit, want one", said)
	}
}

// TestOrders reads the steps of sites as a trade does: what belongs together
// stands on one line, at the values of the planned site.
func TestOrders(t *testing.T) {
	for _, c := range []struct {
		site, job string
		given     map[string]string
		want      string
	}{
		{"demo", "hot-water", nil, "hot water: insulate the hot pipe and bring the recirculation loop within 45 ft (13.72 m) of the machine, along the pipe, at the heater's own 140 °F (60 °C), so that 125 °F (51.7 °C) arrives (scald hazard: water at 140 °F (60 °C) burns in seconds; label hot points and keep hand sinks tempered)"},
		{"demo", "hot-line", nil, "hot line: check valve close to the machine (there already: regulator at 62 psi (427 kPa), reduced-pressure assembly, shut-off within reach, 3/4 in (DN 20) pipe, 3/4 GHT)"},
		{"demo", "drain-line", nil, "drain line: 1.5 gpm (5.68 L/min) of cold water mixed into the discharge at the machine's outlet (a branch of the cold line, shut-off within reach, reduced-pressure assembly with a drain for its relief port, thermostatic valve)"},
		{"block_power", "circuit", nil, "circuit: move ice machine and glass froster to another circuit that can carry it, so that this one serves the machine alone; 40 A 2-pole breaker, 2 x 3 AWG copper, insulation 60 °C, 10 AWG ground, 190 ft (57.91 m); free spaces for it in the panel, 2 in a row, or a sub-panel; disconnect: breaker that can be locked off"},
		{"block_drain", "stand", nil, "stand: a stand or plinth of 11 in (279 mm) under the machine; counter's top at 53-1/4 in (1353 mm); counter raised so that the opening's height is 51-1/4 in (1302 mm)"},
		{"block_water", "cold-line", nil, "cold line: check valve close to the machine, listed reduced-pressure assembly with its drain by air gap, if the authority accepts it, shut-off within reach, 1/2 in (DN 15) pipe, 3/4 GHT, all devices together losing no more than 22 psi (152 kPa) (assumed until their curves are at hand); fit a listed booster pump on the cold line that holds 65 psi (448 kPa) at 2.5 gpm (9.46 L/min); chill the machine's cold line to 70 °F (21.1 °C) in summer; connection within 66 in (1676 mm) of the machine's inlet, along the hose"},
	} {
		s := sites(t)[c.site]
		if err := s.Apply(c.given); err != nil {
			t.Fatal(err)
		}
		said := 0
		for _, st := range plan.Find(judge(t, s), plan.Options{}).Steps {
			if string(st.Job) != c.job {
				continue
			}
			said++
			if got := (words.Reader{Units: quantity.US}).Step(st); got != c.want {
				t.Errorf("%s:\n got %s\nwant %s", c.site, got, c.want)
			}
		}
		if said != 1 {
			t.Errorf("%s has %d steps for the %s", c.site, said, c.job)
		}
	}
}

// TestStages sees each job in the stage in which it is done.
func TestStages(t *testing.T) {
	for _, name := range []string{"demo", "block_power", "block_water", "block_drain", "block_way", "block_iec"} {
		last := check.BeforeOrder
		for _, st := range plan.Find(judge(t, sites(t)[name]), plan.Options{}).Steps {
			if st.Stage < last {
				t.Errorf("%s: step %d stands behind a later stage", name, st.N)
			}
			last = st.Stage
			switch st.Job {
			case "machine":
				if st.N != 1 || st.Stage != check.BeforeOrder {
					t.Errorf("%s: what is ordered is step %d, %v", name, st.N, st.Stage)
				}
			case "circuit", "hot-water", "cold-line", "hot-line", "drain-line", "receptor", "stand", "opening":
				if st.Stage != check.RoughIn {
					t.Errorf("%s: %s is done %v", name, st.Job, st.Stage)
				}
			case "way", "unpacking":
				if st.Stage != check.BeforeDelivery {
					t.Errorf("%s: %s is done %v", name, st.Job, st.Stage)
				}
			}
		}
	}
}
