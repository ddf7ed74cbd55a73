package rules

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// today is the date of every test.
var today = survey.DateOf(time.Date(2026, 11, 10, 0, 0, 0, 0, time.UTC))

// A row is one site for one check: the passing site of a machine with other
// answers laid over it. "± 0" makes a reading exact.
type row struct {
	id      string
	name    string            // just below, at, just above, missing, other units …
	machine string            // key; empty: avocet-r36
	set     map[string]string // answers laid over testdata/sites/pass_KEY.yaml
	spec    map[string]string // values laid over the requirement sheet
	source  string            // of the expected value, when it comes from outside
	want    Verdict
	margin  string // expected margin, when it matters
	have    string // expected part of have
	shows   string // expected step, "symbol = value"
	action  string // expected part of the action
}

// set is short for answers in rows.
type set = map[string]string

// rows of every file, so that the registry test sees all.
var allRows = func() []row {
	return slices.Concat(hotwaterRows, powerRows, wiringRows, waterRows, drainRows, spaceRows, chemicalsRows, throughputRows, recordsRows, auditRows, powerAuditRows)
}

// loaded are the sites of testdata that were read already.
var loaded sync.Map // of *survey.Survey, by name

func site(t testing.TB, name string) *survey.Survey {
	t.Helper()
	if s, ok := loaded.Load(name); ok {
		return s.(*survey.Survey).Clone()
	}
	file := filepath.Join("..", "..", "testdata", "sites", name+".yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := survey.Load(filepath.Base(file), data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	loaded.Store(name, s)
	return s.Clone()
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

// laid returns the passing site and the machine of a row with its answers laid over.
func (r row) laid(t testing.TB) (*survey.Survey, *specs.Machine) {
	t.Helper()
	key := r.machine
	if key == "" {
		key = "avocet-r36"
	}
	name := "pass_" + key
	if key == "bar-rotary" {
		name = "fixture_bar_rotary"
	}
	s, m := site(t, name), machine(t, key)
	if err := s.Apply(r.set); err != nil {
		t.Fatal(err)
	}
	if r.spec != nil {
		var err error
		if m, err = m.With(r.spec); err != nil {
			t.Fatal(err)
		}
	}
	return s, m
}

func step(f told, shows string) bool {
	symbol, value, _ := strings.Cut(shows, " = ")
	for _, s := range f.Working {
		if s.Symbol == symbol && s.Value == value {
			return true
		}
	}
	return false
}

func TestRows(t *testing.T) {
	t.Parallel()
	for _, r := range allRows() {
		t.Run(r.id+" "+r.name, func(t *testing.T) {
			k := ByID(r.id)
			if k == nil {
				t.Fatalf("there is no check %s", r.id)
			}
			s, m := r.laid(t)
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{k}}).Findings[0]
			if f.Verdict != r.want {
				t.Errorf("got %v, want %v; have %q, want %q, margin %q, action %q, working %v", f.Verdict, r.want, f.Have, f.Want, f.Margin, f.Action, f.Working)
			}
			if r.margin != "" && f.Margin != r.margin {
				t.Errorf("margin: got %q, want %q", f.Margin, r.margin)
			}
			if !strings.Contains(f.Have, r.have) {
				t.Errorf("have: got %q, want it to hold %q", f.Have, r.have)
			}
			if !strings.Contains(f.Action, r.action) {
				t.Errorf("action: got %q, want it to hold %q", f.Action, r.action)
			}
			if r.shows != "" && !step(f, r.shows) {
				t.Errorf("no step %q in %v", r.shows, f.Working)
			}
			if f.Verdict == Fix && (f.Action == "" || f.Source == "" || f.Have == "" || f.Want == "") {
				t.Errorf("a FIX must name what was found, what is wanted, the source and the action: %+v", f)
			}
		})
	}
}

func TestRegistry(t *testing.T) {
	got := map[string]map[Verdict]bool{}
	for _, r := range allRows() {
		if got[r.id] == nil {
			got[r.id] = map[Verdict]bool{}
		}
		got[r.id][r.want] = true
	}
	for _, k := range All {
		v := got[k.ID]
		if !v[OK] && !v[NA] || !v[OK] && k.ID[0] != 'R' && !v[Confirm] {
			t.Errorf("%s: no row passes", k.ID)
		}
		if !v[Fix] && !v[Confirm] {
			t.Errorf("%s: no row fails or needs confirming", k.ID)
		}
		if !v[Missing] {
			t.Errorf("%s: no row with a missing answer", k.ID)
		}
	}
}

func TestExamples(t *testing.T) {
	t.Parallel()
	for _, k := range All {
		t.Run(k.ID, func(t *testing.T) {
			e := k.Example
			if e.Machine == "" {
				t.Fatal("every check needs an example")
			}
			s, m := row{machine: e.Machine, set: e.Given}.laid(t)
			f := Evaluate(s, m, Options{Today: today, OnlyCheck: []*Check{k}}).Findings[0]
			if f.Verdict != e.Verdict {
				t.Errorf("got %v (%s; want %s), want %v", f.Verdict, f.Have, f.Want, e.Verdict)
			}
			if e.Shows != "" && !step(f, e.Shows) {
				t.Errorf("no step %q in %v", e.Shows, f.Working)
			}
		})
	}
}

// sites lists every readable site of testdata and the demo.
func sites(t testing.TB) map[string]*survey.Survey {
	t.Helper()
	all := map[string]*survey.Survey{}
	for _, pattern := range []string{"pass_*", "block_*", "fixture_*"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", pattern+".yaml"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no sites for %s: %v", pattern, err)
		}
		for _, f := range files {
			name := strings.TrimSuffix(filepath.Base(f), ".yaml")
			all[name] = site(t, name)
		}
	}
	demo, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	all["demo"] = demo
	return all
}

func TestPassingSites(t *testing.T) {
	for name, s := range sites(t) {
		if !strings.HasPrefix(name, "pass_") {
			continue
		}
		t.Run(name, func(t *testing.T) {
			r := Evaluate(s, machine(t, s.Machine.Key), Options{Today: today})
			for _, f := range r.Findings {
				if f.Verdict.Blocks() {
					t.Errorf("%s %v: have %s, want %s; %s", f.ID, f.Verdict, f.Have, f.Want, f.Action)
				}
			}
		})
	}
}

// TestRemedies applies every remedy of every site and sees its check turn OK,
// and no other turn FIX unless the remedy says so.
func TestRemedies(t *testing.T) {
	t.Parallel()
	applied := 0
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		before := Evaluate(s, m, Options{Today: today})
		for _, f := range before.Findings {
			for _, rem := range f.Remedies {
				applied++
				changed := s.Clone()
				if err := changed.Apply(rem.Set); err != nil {
					t.Errorf("%s %s: %q can't be applied: %v", name, f.ID, rem.Change, err)
					continue
				}
				after := Evaluate(changed, m, Options{Today: today, NoRemedy: true})
				if v := after.Finding(f.ID).Verdict; v != OK {
					t.Errorf("%s %s: %q gives %v", name, f.ID, rem.Change, v)
				}
				for _, g := range after.Findings {
					if g.Verdict == Fix && before.Finding(g.ID).Verdict != Fix && !slices.Contains(rem.Breaks, g.ID) {
						t.Errorf("%s %s: %q breaks %s without saying so", name, f.ID, rem.Change, g.ID)
					}
				}
			}
		}
	}
	if applied == 0 {
		t.Error("no site had a remedy to apply")
	}
}

// TestOrder sees the same findings in any order of checks, twice.
func TestOrder(t *testing.T) {
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		reversed := slices.Clone(All)
		slices.Reverse(reversed)
		a := Evaluate(s, m, Options{Today: today, NoRemedy: true})
		b := Evaluate(s, m, Options{Today: today, NoRemedy: true, OnlyCheck: reversed})
		for _, f := range a.Findings {
			g := b.Finding(f.ID)
			if f.Verdict != g.Verdict || f.Have != g.Have || f.Margin != g.Margin {
				t.Errorf("%s %s: %v %q %q, in reverse %v %q %q", name, f.ID, f.Verdict, f.Have, f.Margin, g.Verdict, g.Have, g.Margin)
			}
		}
	}
}

// TestUnits sees the same verdicts whichever units are printed first.
func TestUnits(t *testing.T) {
	for name, s := range sites(t) {
		m := machine(t, s.Machine.Key)
		us := Evaluate(s, m, Options{Today: today, Units: quantity.US, NoRemedy: true})
		si := Evaluate(s, m, Options{Today: today, Units: quantity.SI, NoRemedy: true})
		for _, f := range us.Findings {
			if g := si.Finding(f.ID); f.Verdict != g.Verdict {
				t.Errorf("%s %s: %v in US units, %v in SI", name, f.ID, f.Verdict, g.Verdict)
			}
		}
	}
}
