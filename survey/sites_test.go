package survey_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

const (
	sitesDir = "../testdata/sites"
	demo     = "../templates/demo.yaml"
)

// sites lists the fixture files of a kind: "pass", "block", "fixture", "invalid".
func sites(t *testing.T, kind string, atLeast int) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(sitesDir, kind+"_*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < atLeast {
		t.Fatalf("%d files %s_*.yaml, want at least %d: a lost fixture would make this test pass", len(files), kind, atLeast)
	}
	return files
}

func load(t *testing.T, file string) (*survey.Survey, doc.Problems, string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := survey.Load(filepath.Base(file), data)
	return s, problems, string(data)
}

// machine finds the sheet that a site names, in the library or among the test machines.
func machine(t *testing.T, key string) *specs.Machine {
	t.Helper()
	lib, problems := specs.With(os.DirFS("../testdata/machines"), "testdata/machines")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	m, err := lib.Machine(key)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestSitesLoad(t *testing.T) {
	files := slices.Concat(sites(t, "pass", 6), sites(t, "block", 6), sites(t, "fixture", 1), []string{demo})
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			s, problems, text := load(t, file)
			for _, p := range problems {
				t.Error(p)
			}
			if s == nil {
				t.FailNow()
			}
			if !strings.HasPrefix(text, "# Shows: ") && file != demo {
				t.Error(`doesn't open with a comment "# Shows: …"`)
			}
			if strings.HasPrefix(text, "#") == false {
				t.Error("doesn't open with a comment")
			}
			m := machine(t, s.Machine.Key)
			if _, err := m.SupplyNamed(s.Machine.Supply); err != nil {
				t.Error(err)
			}
			if got := s.Site.SurveyedOn.String(); got != "2026-11-02" {
				t.Errorf("surveyed on %s, want 2026-11-02", got)
			}
			if got := s.Site.SurveyedOn.DaysUntil(s.Site.DeliveryOn); got != 42 {
				t.Errorf("%d days from survey to delivery, want 42", got)
			}
			if !strings.Contains(s.Site.Address, "Exampleton") {
				t.Errorf("address %q isn't the invented town's", s.Site.Address)
			}
		})
	}
}

// A passing site names its machine in its file name.
func TestPassSitesCoverTheLibrary(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		s, _, _ := load(t, filepath.Join(sitesDir, "pass_"+m.Key+".yaml"))
		if s.Machine.Key != m.Key {
			t.Errorf("pass_%s.yaml is for %s", m.Key, s.Machine.Key)
		}
	}
}

// raised says whether a machine raises a question.
func raised(f survey.Field, m *specs.Machine) bool {
	return len(f.For) == 0 || slices.ContainsFunc(f.For, m.Has)
}

// arises says whether a question is to be answered, by the other answers: a
// regulator's, plastic tube's, a backflow device's, a well's.
func arises(f survey.Field, s *survey.Survey) bool {
	line := s.Water.Cold
	if strings.HasPrefix(f.Path, "water.hot.") {
		line = s.Water.Hot
	}
	switch f.Name {
	case "gauge_at", "regulator_fall_off":
		return line.Regulator.Base() > 0
	case "crooked":
		return !line.Elbows.Known()
	case "pipe_fittings":
		return line.Material == "pex"
	case "backflow_height":
		return strings.Contains(line.Backflow, "vacuum")
	case "break_tank":
		return line.Backflow == "air-gap"
	case "floor_to_come":
		return s.Space.Finished == survey.No
	case "second_machine", "second_machine_shares":
		return s.Site.SecondAt != ""
	case "well_cut_in", "well_cut_out":
		return false
	case "tempering_backflow_height":
		return strings.Contains(s.Drain.TemperGuard, "vacuum")
	case "tempering_backflow_drain":
		return s.Drain.Tempering.Base() > 0
	}
	return true
}

// A passing site answers every question that its machine raises, so that no
// check can pass for want of an answer, and every number is plausible.
func TestPassSitesAreFullyAnswered(t *testing.T) {
	for _, file := range slices.Concat(sites(t, "pass", 6), sites(t, "fixture", 1)) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			s, _, _ := load(t, file)
			m := machine(t, s.Machine.Key)
			asked := 0
			for _, f := range survey.Fields() {
				switch {
				case !raised(f, m), strings.Contains(f.Path, "[]"):
					continue
				case f.Path == "photos", f.Path == "choices", f.Told:
					continue // optional
				case f.Path == "drain.standpipe_height" && s.Drain.Receptor != "standpipe":
					continue
				case !arises(f, s):
					continue
				}
				asked++
				if !s.Known(f.Path) {
					t.Errorf("%s isn't answered", f.Path)
				}
			}
			if asked < 80 {
				t.Errorf("only %d questions raised", asked)
			}
			for _, a := range s.Answers() {
				if a.Unknown() {
					t.Errorf("%s is unknown", a.Path)
				}
			}
		})
	}
}

// No fixture holds a number outside its field's plausible range.
func TestSitesArePlausible(t *testing.T) {
	for _, file := range slices.Concat(sites(t, "pass", 6), sites(t, "fixture", 1), sites(t, "block", 6), []string{demo}) {
		s, _, _ := load(t, file)
		checked := 0
		for _, a := range s.Answers() {
			if !survey.HasField(a.Path) || a.Unknown() {
				continue
			}
			f := survey.FieldAt(a.Path)
			low, high, ranged := strings.Cut(f.Sane, "..")
			if !ranged {
				continue
			}
			checked++
			x, lo, hi := base(t, f.Type, a.Text), base(t, f.Type, low), base(t, f.Type, high)
			if x < lo-1e-9 || x > hi+1e-9 {
				t.Errorf("%s: %s = %s lies outside %s", filepath.Base(file), a.Path, a.Text, f.Sane)
			}
		}
		if checked < 25 {
			t.Errorf("%s: only %d numbers checked", filepath.Base(file), checked)
		}
	}
}

// base reads a quantity of a field's type, in the dimension's base unit.
func base(t *testing.T, typ reflect.Type, text string) float64 {
	t.Helper()
	v := reflect.New(typ)
	u, ok := v.Interface().(interface{ UnmarshalText([]byte) error })
	if !ok {
		t.Fatalf("%v can't be read", typ)
	}
	if err := u.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return v.Elem().Interface().(interface{ Base() float64 }).Base()
}

func unknowns(s *survey.Survey) (paths []string, written int) {
	for _, a := range s.Answers() {
		written++
		if a.Unknown() {
			paths = append(paths, a.Path)
		}
	}
	return paths, written
}

func TestDemoForgetsTwoReadings(t *testing.T) {
	s, _, _ := load(t, demo)
	got, _ := unknowns(s)
	want := []string{"drain.trap_to_vent", "treatment.hardness"}
	if !slices.Equal(got, want) {
		t.Errorf("unknown: %v, want %v", got, want)
	}
	if s.Machine.Key != "avocet-r36" {
		t.Errorf("machine %s, want avocet-r36", s.Machine.Key)
	}
	// Remarks behind a value are no part of it.
	if got := s.Answer("power.receptacle").Text; got != "NEMA 5-20" {
		t.Errorf("receptacle %q, want NEMA 5-20", got)
	}
}

func TestMissingSiteLacksHalf(t *testing.T) {
	s, _, _ := load(t, filepath.Join(sitesDir, "block_missing.yaml"))
	got, written := unknowns(s)
	if share := float64(len(got)) / float64(written); share < 0.35 || share > 0.65 {
		t.Errorf("%d of %d answers are unknown, want about half", len(got), written)
	}
}

var fault = regexp.MustCompile(`# fault\s*$`)

// Each invalid file marks its faulty lines; exactly those must be reported.
func TestInvalidSites(t *testing.T) {
	for _, file := range sites(t, "invalid", 8) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			_, problems, text := load(t, file)
			want := map[int]bool{}
			for i, line := range strings.Split(text, "\n") {
				if fault.MatchString(line) {
					want[i+1] = true
				}
			}
			if len(want) == 0 {
				t.Fatal("no line is marked as a fault")
			}
			if !strings.HasPrefix(text, "# Shows: ") {
				t.Error(`doesn't open with a comment "# Shows: …"`)
			}
			got := map[int]bool{}
			for _, p := range problems {
				if p.Pos.Line < 1 || p.Pos.Col < 1 {
					t.Errorf("no place: %v", p)
				}
				if p.Message == "" || !strings.HasPrefix(p.Error(), fmt.Sprintf("%s:%d:", filepath.Base(file), p.Pos.Line)) {
					t.Errorf("a problem without a message or place: %v", p)
				}
				if got[p.Pos.Line] = true; !want[p.Pos.Line] {
					t.Errorf("unexpected: %v", p)
				}
			}
			for line := range want {
				if !got[line] {
					t.Errorf("line %d is marked as a fault and wasn't reported; problems:\n%v", line, problems)
				}
			}
		})
	}
}
