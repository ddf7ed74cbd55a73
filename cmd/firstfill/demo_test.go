package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"firstfill/survey"
	"firstfill/templates"
)

type listed struct {
	Format  int
	Verdict string
	Counts  map[string]int
	Site    struct{ Name, Reference, Revision, Digest string }
	Machine string

	Findings []struct {
		ID, Trade, Title, Verdict, Have, Want, Margin, Action, Source string

		At       []string
		Remedies []struct {
			Change string
			Set    map[string]string
		}
		Working []struct{ Symbol, Meaning, Value string }
	}
}

func checked(t *testing.T, wantCode int, site string) listed {
	t.Helper()
	code, out, errs := command(t, "check", site, "--format", "json", "--date", "2026-11-25")
	if code != wantCode {
		t.Fatalf("exit %d, want %d: %s", code, wantCode, errs)
	}
	var l listed
	if err := json.Unmarshal([]byte(out), &l); err != nil {
		t.Fatal(err)
	}
	return l
}

var digit = regexp.MustCompile(`[0-9]`)

// TestDemoBlocks sees the demo blocked in several trades, every FIX with
// numbers, source and action.
func TestDemoBlocks(t *testing.T) {
	l := checked(t, exitBlocked, "demo")
	if l.Format != 1 || l.Verdict != "FIX" || l.Machine != "avocet-r36" || l.Site.Name == "" || l.Site.Digest == "" || l.Site.Revision != "A" {
		t.Errorf("got %+v", l)
	}
	trades := map[string]bool{}
	n := map[string]int{}
	for _, f := range l.Findings {
		n[f.Verdict]++
		if f.Verdict != "FIX" {
			continue
		}
		trades[f.Trade] = true
		if !digit.MatchString(f.Have+f.Want) || f.Source == "" || f.Action == "" {
			t.Errorf("%s %s: have %q, want %q, source %q, action %q", f.ID, f.Title, f.Have, f.Want, f.Source, f.Action)
		}
	}
	for v, got := range n {
		if l.Counts[v] != got {
			t.Errorf("counts say %d %s, there are %d", l.Counts[v], v, got)
		}
	}
	if len(trades) < 4 {
		t.Errorf("only %v have something to fix", trades)
	}
}

// corrections put the demo's faults right, as the trades would.
var corrections = map[string]string{
	"power.receptacle":               "NEMA 6-20",
	"power.dedicated":                "yes",
	"power.other_loads":              "[]",
	"water.cold.static_pressure":     "62 psi",
	"water.cold.flowing_pressure":    "55 psi",
	"water.cold.regulator":           "0 psi",
	"water.hot.temperature":          "130 °F",
	"water.hot.from_heater":          "12 ft",
	"water.hot.check_valve":          "yes",
	"treatment.hardness":             "4 gpg",
	"drain.rim_height":               "0 in",
	"drain.run_length":               "4 ft",
	"drain.air_gap":                  "4-1/2 in",
	"drain.pipe_material":            "copper",
	"drain.receptor_outlet_material": "cast-iron",
	"drain.tempering_flow":           "3 gpm",
	"drain.trap_to_vent":             "4 ft",
	"machine.raised_by":              "4 in",
	"demand.turnaround":              "20 min",
	"space.path[0].clear_width":      "36 in",
}

// TestDemoCorrected sees nothing block once the faults are corrected in a copy.
func TestDemoCorrected(t *testing.T) {
	s, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if err := s.Apply(corrections); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "corrected.yaml")
	if err := os.WriteFile(file, survey.WriteYAML(survey.FormFor{Known: s}, survey.FormWords{}), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, errs := command(t, "check", file, "--date", "2026-11-25")
	if code != exitReady {
		t.Fatalf("exit %d: %s\n%s", code, errs, out)
	}
}
