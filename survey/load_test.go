package survey_test

import (
	"slices"
	"strings"
	"testing"

	"firstfill/survey"
)

// TestRoundTrip writes every readable site as YAML and reads the same answers back.
func TestRoundTrip(t *testing.T) {
	for name, s := range demoSites(t) {
		written := survey.WriteYAML(survey.FormFor{Known: s}, survey.FormWords{})
		back, problems := survey.Load("written", written)
		if err := problems.Err(); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, written)
		}
		sameAnswers(t, name, back, s)
	}
}

// TestBlankForm reads a blank form: only the answers that can't be left out are missed.
func TestBlankForm(t *testing.T) {
	_, problems := survey.Load("blank", survey.WriteYAML(survey.FormFor{Key: "avocet-r36"}, survey.FormWords{}))
	var got []string
	for _, p := range problems {
		got = append(got, p.Path)
	}
	if strings.Join(got, " ") != "site.name" {
		t.Errorf("got problems at %q, want only site.name; %v", got, problems)
	}
}

func TestApply(t *testing.T) {
	s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\npower:\n  other_loads:\n    - {name: cooler, current: 4 A}\n    - {name: till, current: 1 A}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	before := s.Digest()
	if err := s.Apply(map[string]string{"power.breaker": "20 psi"}); err == nil {
		t.Error("a wrong answer was taken")
	}
	if s.Digest() != before {
		t.Error("a refused change changed the survey")
	}
	c := s.Clone()
	if err := c.Apply(map[string]string{"power.other_loads": "[]", "power.breaker": "20 A"}); err != nil {
		t.Fatal(err)
	}
	if len(c.Power.OtherLoads) != 0 || !c.Known("power.other_loads") || c.Power.Breaker.Text() != "20 A" {
		t.Errorf("got loads %v (known %v), breaker %q", c.Power.OtherLoads, c.Known("power.other_loads"), c.Power.Breaker.Text())
	}
	if len(s.Power.OtherLoads) != 2 || s.Power.Breaker.Known() {
		t.Error("changing a clone changed the original")
	}
	if err := c.Apply(map[string]string{"power.breaker": "unknown"}); err != nil || c.Known("power.breaker") {
		t.Errorf("forgetting an answer: %v, known %v", err, c.Known("power.breaker"))
	}
}

func TestUncertainty(t *testing.T) {
	s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\nwater:\n  cold: {static_pressure: 62 psi, flowing_pressure: 54 ± 1 psi}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"water.cold.static_pressure":  "62 psi (427 kPa) ± 2 psi",
		"water.cold.flowing_pressure": "54 ± 1 psi (372 kPa)",
	} {
		if got := s.ReadingText(path, 0); got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
}

// TestFields holds the table of fields together: every question has words, examples are readable.
func TestFields(t *testing.T) {
	for _, f := range survey.Fields() {
		if f.Path == "survey" {
			continue
		}
		if f.Ask == "" || f.Walk == "" {
			t.Errorf("%s has no question or no station", f.Path)
		}
		if f.Tool != "" {
			if _, ok := survey.Instruments[f.Tool]; !ok {
				t.Errorf("%s names the instrument %q, which isn't there", f.Path, f.Tool)
			}
		}
		if f.List || strings.Contains(f.Path, "[]") || f.Example == "" {
			continue
		}
		s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\n"))
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		if err := s.Apply(map[string]string{f.Path: f.Example}); err != nil {
			t.Errorf("%s: its example can't be read: %v", f.Path, err)
		}
	}
}

func TestReadable(t *testing.T) {
	for _, tt := range []struct{ path, text, want string }{
		{"treatment.hardness", "9 gpg", ""},
		{"treatment.hardness", "9", `"9" has no unit`},
		{"treatment.hardness", "unknown", ""},
		{"drain.receptor", "floor-sink", ""},
		{"drain.receptor", "bucket", "is not one of the answers; write floor-sink"},
		{"power.dedicated", "maybe", "neither yes nor no"},
		{"space.path[1].clear_width", "30 in", ""},
		{"space.path[1].clear_width", "30 V", "is a voltage, not a length"},
		{"power.other_loads", "[]", ""},
		{"power.other_loads", "cooler", "this is a list"},
		{"site.name", "A Bar", ""},
		{"site.nane", "A Bar", "there is no answer of this name"},
	} {
		err := survey.Readable(tt.path, tt.text)
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)) {
			t.Errorf("Readable(%s, %q) = %v, want %q", tt.path, tt.text, err, tt.want)
		}
	}
}

// TestOneFaultOnce has an answer that is needed and can't be read: that is one fault.
func TestOneFaultOnce(t *testing.T) {
	_, problems := survey.Load("f", []byte("survey: 1\nsite: {name: \"a\\eb\"}\nmachine: {key: k}\n"))
	if len(problems) != 1 || !strings.Contains(problems.Error(), "f:2:14: site.name: a control character stands here (U+001B)") {
		t.Errorf("got %v", problems)
	}
}

// TestTraitsFollowTheCode sees the code enforced raise its questions, whatever
// the machine was built for.
func TestTraitsFollowTheCode(t *testing.T) {
	for _, tt := range []struct{ code, basis, want string }{{"", "iec", "iec"}, {"nec-2026", "iec", "nec"}, {"bs-7671", "nec", "iec"}, {"nec-2014", "nec", "nec"}} {
		got := survey.Codes{Electrical: tt.code}.Traits([]string{tt.basis, "cord"})
		slices.Sort(got)
		if want := []string{"cord", tt.want}; !slices.Equal(got, want) {
			t.Errorf("%q, a machine of %s: got %v, want %v", tt.code, tt.basis, got, want)
		}
	}
}
