package survey

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestEdit(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		changes  []Change
		want     string // text, or
		fault    string // part of the fault
	}{
		{"replace keeps comments, blanks and order",
			"survey: 1\n# top\nsite: {name: A}\nmachine:\n  key:   avocet-r36   # which\nwater:\n  # cold first\n  cold:\n    static_pressure:   unknown   # ask again\n\n\n    flow: 4 gpm\n",
			[]Change{{Path: "water.cold.static_pressure", Value: "62 psi"}},
			"survey: 1\n# top\nsite: {name: A}\nmachine:\n  key:   avocet-r36   # which\nwater:\n  # cold first\n  cold:\n    static_pressure:   62 psi   # ask again\n\n\n    flow: 4 gpm\n", ""},
		{"source beside the value",
			"survey: 1\nwater:\n  cold:\n    flow: unknown # x\n",
			[]Change{{Path: "water.cold.flow", Value: "4 gpm", Source: "W-03, Pat Doe"}},
			"survey: 1\nwater:\n  cold:\n    flow: {value: 4 gpm, source: \"W-03, Pat Doe\"} # x\n", ""},
		{"value with a note keeps the note",
			"water:\n  cold:\n    flow: {value: unknown, note: 'ask; it''s shut'}\n",
			[]Change{{Path: "water.cold.flow", Value: "4 gpm", Source: "Pat Doe"}},
			"water:\n  cold:\n    flow: {source: Pat Doe, value: 4 gpm, note: 'ask; it''s shut'}\n", ""},
		{"a left-out answer goes behind its last one-line brother",
			"water:\n  cold:\n    static_pressure: 62 psi # read twice\n    # later\n  hot:\n    flow: 3 gpm\n",
			[]Change{{Path: "water.cold.flow", Value: "4 gpm"}},
			"water:\n  cold:\n    static_pressure: 62 psi # read twice\n    flow: 4 gpm\n    # later\n  hot:\n    flow: 3 gpm\n", ""},
		{"left-out groups are written",
			"survey: 1\nsite: {name: A}\nwater:\n  cold:\n    flow: 4 gpm\n",
			[]Change{{Path: "water.hot.flow", Value: "3 gpm"}, {Path: "drain.run_length", Value: "6 ft"}},
			"survey: 1\ndrain:\n  run_length: 6 ft\nsite: {name: A}\nwater:\n  hot:\n    flow: 3 gpm\n  cold:\n    flow: 4 gpm\n", ""},
		{"empty key", "power:\n  breaker:   # look\n  phases: 1\n", []Change{{Path: "power.breaker", Value: "20 A"}}, "power:\n  breaker: 20 A   # look\n  phases: 1\n", ""},
		{"null", "power:\n  breaker: null # look\n  phases: 1\n", []Change{{Path: "power.breaker", Value: "20 A"}}, "power:\n  breaker: 20 A # look\n  phases: 1\n", ""},
		{"empty group", "power:\nsite:\n  name: A\n", []Change{{Path: "power.breaker", Value: "20 A"}}, "power:\n  breaker: 20 A\nsite:\n  name: A\n", ""},
		{"quoted", "drain: {receptor: \"unknown\", run_length: '?'}\n", []Change{{Path: "drain.run_length", Value: "6 ft"}, {Path: "drain.receptor", Value: "floor-sink"}}, "drain: {receptor: floor-sink, run_length: 6 ft}\n", ""},
		{"flow mapping lacks it", "drain: {receptor: floor-sink}\n", []Change{{Path: "drain.run_length", Value: "6 ft"}}, "drain: {run_length: 6 ft, receptor: floor-sink}\n", ""},
		{"signs before it on the line", "drain: {receptor: floor-sink, run_length: ½ ft} # ½ ünïcode\n", []Change{{Path: "drain.run_length", Value: "6 ft"}}, "drain: {receptor: floor-sink, run_length: 6 ft} # ½ ünïcode\n", ""},
		{"carriage returns stay", "\ufeffpower:\r\n  breaker: unknown\r\n  # c\r\n", []Change{{Path: "power.breaker", Value: "20 A"}, {Path: "power.phases", Value: "1"}}, "\ufeffpower:\r\n  breaker: 20 A\r\n  phases: 1\r\n  # c\r\n", ""},
		{"JSON", `{"survey": 1, "water": {"cold": {"flow": "unknown"}, "hot": {}}}`,
			[]Change{{Path: "water.cold.flow", Value: "4 gpm", Source: "Pat"}, {Path: "water.hot.flow", Value: "3 gpm"}, {Path: "drain.run_length", Value: "6 ft"}},
			`{"drain": {"run_length": "6 ft"}, "survey": 1, "water": {"cold": {"flow": {"value": "4 gpm", "source": "Pat"}}, "hot": {"flow": "3 gpm"}}}`, ""},
		{"item of a list", "space:\n  path:\n    - name: door\n      clear_width: unknown\n    - name: hall\n", []Change{{Path: "space.path[0].clear_width", Value: "34 in"}, {Path: "space.path[1].clear_width", Value: "40 in"}},
			"space:\n  path:\n    - name: door\n      clear_width: 34 in\n    - name: hall\n      clear_width: 40 in\n", ""},
		{"empty list", "power:\n  other_loads: unknown\n", []Change{{Path: "power.other_loads", Value: "[]", Source: "Pat"}}, "power:\n  other_loads: []\n", ""},
		{"signs that need quotes", "site: {name: A}\ndrain:\n  receptor: unknown\n", []Change{{Path: "site.address", Value: "1: \"x\" # y"}}, "site: {address: \"1: \\\"x\\\" # y\", name: A}\ndrain:\n  receptor: unknown\n", ""},

		{"no such answer", "survey: 1\n", []Change{{Path: "water.cold.flo", Value: "4 gpm"}}, "", "site.yaml:1:1: water.cold.flo: there is no answer of this name"},
		{"list", "survey: 1\nspace:\n  path: unknown\n", []Change{{Path: "space.path", Value: "a door"}}, "", "site.yaml:3:9: space.path: this is a list"},
		{"no such item", "space:\n  path:\n    - name: door\n", []Change{{Path: "space.path[4].clear_width", Value: "34 in"}}, "", "the list has no such item"},
		{"several lines", "site:\n  name: A\nnotes: |\n  two\n  lines\n", []Change{{Path: "notes", Value: "x"}}, "", "site.yaml:3:8: notes: the answer runs over several lines"},
		{"unreadable", "a: [", []Change{{Path: "notes", Value: "x"}}, "", "can't be read as YAML"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, problems := Edit("site.yaml", []byte(tt.in), tt.changes)
			if tt.fault != "" {
				if got != nil || !strings.Contains(problems.Error(), tt.fault) {
					t.Fatalf("got %q and %v, want a fault with %q and no text", got, problems, tt.fault)
				}
				return
			}
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			if string(got) != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// TestEditSites changes every answer of three sites, one at a time:
// all other lines must stay as they are.
func TestEditSites(t *testing.T) {
	made := 0
	for _, name := range []string{"block_missing", "pass_knot-c400", "pass_avocet-r36"} {
		file := filepath.Join("..", "testdata", "sites", name+".yaml")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(data), "\n")
		for _, f := range Fields() {
			if f.List || strings.Contains(f.Path, "[]") || f.Path == "survey" {
				continue
			}
			got, problems := Edit(file, data, []Change{{Path: f.Path, Value: "another answer", Source: "Pat Doe"}})
			if err := problems.Err(); err != nil {
				if !strings.Contains(err.Error(), "several lines") {
					t.Errorf("%v", err)
				}
				continue
			}
			made++
			// Every old line but at most one still stands, in order; at most the lines of one answer are new.
			now, kept := strings.Split(string(got), "\n"), 0
			for _, l := range now {
				if kept < len(lines) && l == lines[kept] {
					kept++
				} else if kept+1 < len(lines) && strings.Contains(l, "another answer") && !slices.Contains(lines, l) && len(now) == len(lines) {
					kept++
				}
			}
			if kept != len(lines) || len(now) > len(lines)+3 {
				t.Errorf("%s: %s: %d of %d lines kept, %d now", file, f.Path, kept, len(lines), len(now))
			}
		}
	}
	if made < 300 {
		t.Errorf("only %d edits were made", made)
	}
}

func FuzzEdit(f *testing.F) {
	f.Add("survey: 1\nwater:\n  cold:\n    flow: unknown\n", "4 gpm", "Pat")
	f.Add("{\"water\": {\"cold\": {}}}", "4 \"gpm\"", "")
	f.Add("water: {cold: {flow: {value: 1, note: x}}}", "a: b", "#")
	f.Fuzz(func(t *testing.T, text, value, source string) {
		if len(text) > 4000 {
			return
		}
		// Edit checks itself: the answers read back are the old ones with the change.
		Edit("fuzz.yaml", []byte(text), []Change{{Path: "water.cold.flow", Value: value, Source: source}, {Path: "drain.run_length", Value: value}})
	})
}
