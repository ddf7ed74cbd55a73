package survey_test

import (
	"strings"
	"testing"

	"firstfill/survey"
)

func TestDoubts(t *testing.T) {
	tests := []struct {
		name    string
		answers map[string]string
		want    string // part of the doubt; empty: none
	}{
		{"plausible", map[string]string{"water.cold.static_pressure": "62 psi"}, ""},
		{"at the end of the range", map[string]string{"water.cold.static_pressure": "150 psi"}, ""},
		{"absurd", map[string]string{"water.cold.static_pressure": "800 psi"}, "800 psi is outside what is plausible here (15 psi to 150 psi); was it 800 kPa?"},
		{"a bar that was written psi", map[string]string{"water.cold.static_pressure": "3.8 psi"}, "was it 3.8 bar?"},
		{"20 V", map[string]string{"power.line_to_line": "20 V"}, "20 V is outside what is plausible here"},
		{"boiling cold water", map[string]string{"water.cold.temperature": "212 °F"}, "outside what is plausible"},
		{"hot water in °C", map[string]string{"water.hot.temperature": "60 °F"}, "was it °C"},
		{"hot water", map[string]string{"water.hot.temperature": "60 °C"}, ""},
		{"flowing above static", map[string]string{"water.cold.static_pressure": "50 psi", "water.cold.flowing_pressure": "3.8 bar"}, "flowing pressure, 55 psi (3.8 bar), is above the static one, 50 psi"},
		{"flowing at static", map[string]string{"water.cold.static_pressure": "50 psi", "water.cold.flowing_pressure": "50 psi"}, ""},
		{"a well that stops at 50 psi", map[string]string{"water.cold.static_pressure": "62 psi", "water.well_cut_out": "50 psi"}, "above what the well's pump makes"},
		{"a well, the faucet some feet below its switch", map[string]string{"water.cold.static_pressure": "55 psi", "water.well_cut_out": "50 psi"}, ""},
		{"winter above summer", map[string]string{"water.cold.winter_temperature": "70 °F", "water.cold.summer_temperature": "60 °F"}, "winter temperature, 70 °F"},
		{"208Y/120", map[string]string{"power.line_to_line": "208 V", "power.line_to_neutral": "120 V"}, ""},
		{"120/240", map[string]string{"power.line_to_line": "240 V", "power.line_to_neutral": "120 V"}, ""},
		{"a run of 6 mm", map[string]string{"power.run_length": "6 mm"}, "6 mm is very short for a run"},
		{"no run", map[string]string{"water.cold.run_length": "0 mm"}, ""},
		{"a run of 6 m", map[string]string{"power.run_length": "6 m"}, ""},
		{"no system", map[string]string{"power.line_to_line": "240 V", "power.line_to_neutral": "180 V"}, "doesn't go with 180 V line to neutral"},
		{"overloaded breaker", map[string]string{"power.breaker": "15 A", "power.other_loads[0].name": "cooler", "power.other_loads[0].current": "16 A"}, "add up to 16 A, more than its breaker of 15 A"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\n"))
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			if err := s.Apply(tt.answers); err != nil {
				t.Fatal(err)
			}
			ds := s.Doubts()
			if tt.want == "" {
				if len(ds) != 0 {
					t.Errorf("got %v, want no doubt", ds)
				}
				return
			}
			if len(ds) == 0 || !strings.Contains(ds[0].Text, tt.want) {
				t.Errorf("got %v, want %q", ds, tt.want)
			}
		})
	}
}

// TestDoubtConfirmed sees a doubt go when the answer's note confirms it.
func TestDoubtConfirmed(t *testing.T) {
	for note, want := range map[string]int{"": 1, "read twice": 1, "confirmed with the utility": 0} {
		s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\nwater:\n  cold:\n    static_pressure: {value: 180 psi, note: \""+note+"\"}\n"))
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		if ds := s.Doubts(); len(ds) != want {
			t.Errorf("note %q: got %v, want %d doubts", note, ds, want)
		}
	}
}

func TestSitesHaveNoDoubts(t *testing.T) {
	for name, s := range demoSites(t) {
		if strings.HasPrefix(name, "pass_") || strings.HasPrefix(name, "fixture_") {
			for _, d := range s.Doubts() {
				t.Errorf("%s: %v: %s", name, d.Paths, d.Text)
			}
		}
	}
}
