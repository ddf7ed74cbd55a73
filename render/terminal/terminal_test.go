package terminal

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var today = survey.DateOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

func plans(t *testing.T, u quantity.System) map[string]*plan.Plan {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", "pass_*.yaml"))
	if err != nil || len(files) < 6 {
		t.Fatalf("%d sites: %v", len(files), err)
	}
	all := map[string][]byte{"demo": templates.Demo}
	for _, f := range files {
		if all[filepath.Base(f)], err = os.ReadFile(f); err != nil {
			t.Fatal(err)
		}
	}
	rs := map[string]*plan.Plan{}
	for name, data := range all {
		s, problems := survey.Load(name, data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		m, err := specs.Builtin().Machine(s.Machine.Key)
		if err != nil {
			t.Fatal(err)
		}
		rs[name] = plan.Find(rules.Judge(s, m, check.Options{Today: today}), plan.Options{})
	}
	return rs
}

// TestShort holds what check prints of the demo without --all to a screen and a half.
func TestShort(t *testing.T) {
	for _, u := range []quantity.System{quantity.US, quantity.SI} {
		var b bytes.Buffer
		if err := Report(&b, plans(t, u)["demo"], Options{Units: u}); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), "\n"); n > 60 {
			t.Errorf("%d lines, want at most 60", n)
		}
	}
}

// TestTerminalWidth sees the terminal's own width taken, within reason.
func TestTerminalWidth(t *testing.T) {
	for width, want := range map[int]int{0: Width, 20: narrowest, 72: 72, 100: 100, 400: widest} {
		var b bytes.Buffer
		if err := Report(&b, plans(t, quantity.US)["demo"], Options{Width: width}); err != nil {
			t.Fatal(err)
		}
		longest := 0
		for _, l := range strings.Split(b.String(), "\n") {
			longest = max(longest, utf8.RuneCountInString(l))
		}
		if longest > want || longest < want-12 {
			t.Errorf("width %d: the longest line has %d columns, want about %d", width, longest, want)
		}
	}
}

// TestWidth sees no line wider than 80 columns, and every finding that must be acted on listed.
func TestWidth(t *testing.T) {
	for _, u := range []quantity.System{quantity.US, quantity.SI} {
		for name, r := range plans(t, u) {
			for _, all := range []bool{false, true} {
				if all && name != "demo" && name != "block_iec.yaml" {
					continue // every finding in full, with every other plan: two sites stand for all
				}
				var b bytes.Buffer
				if err := Report(&b, r, Options{All: all, Units: u}); err != nil {
					t.Fatal(err)
				}
				for _, l := range strings.Split(b.String(), "\n") {
					if n := utf8.RuneCountInString(l); n > Width {
						t.Errorf("%s: %d columns: %q", name, n, l)
					}
				}
				for _, f := range r.Found.Findings {
					settled := f.Verdict == check.OK || f.Verdict == check.NA
					if (all || !settled) && !strings.Contains(b.String(), f.ID) {
						t.Errorf("%s: %s is not mentioned", name, f.ID)
					}
				}
				if strings.Contains(b.String(), "\x1b") {
					t.Errorf("%s: colour without being asked for", name)
				}
			}
		}
	}
}

func TestColor(t *testing.T) {
	var b bytes.Buffer
	if err := Report(&b, plans(t, quantity.US)["demo"], Options{Color: true, All: true}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "\x1b[1;31mNot ready: ") {
		t.Error("the state isn't coloured")
	}
	if !strings.Contains(b.String(), "\x1b[1;31m  FIX     \x1b[0m") {
		t.Error("a FIX isn't coloured")
	}
}

func TestExplainWidth(t *testing.T) {
	for _, k := range rules.All {
		var b bytes.Buffer
		Explain(&b, k, rules.Reads(k))
		for _, l := range strings.Split(b.String(), "\n") {
			if n := utf8.RuneCountInString(l); n > Width {
				t.Errorf("%s: %d columns: %q", k.ID, n, l)
			}
		}
		for _, want := range []string{k.ID, "why", "source", "example", "gives"} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("explain %s lacks %q", k.ID, want)
			}
		}
		if (words.Reader{}).About(k.ID).Formula != "" && (!strings.Contains(b.String(), "holds for") || !strings.Contains(b.String(), "formula")) {
			t.Errorf("explain %s: a formula needs its range of validity", k.ID)
		}
	}
}

func TestWrap(t *testing.T) {
	tests := []struct {
		in    string
		width int
		want  []string
	}{
		{"one two three", 7, []string{"one two", "three"}},
		{"exactly7 x", 8, []string{"exactly7", "x"}},
		{"55\u00a0psi here", 6, []string{"55\u00a0psi", "here"}},
		{strings.Repeat("x", 10), 4, []string{"xxxx", "xxxx", "xx"}},
		{"", 5, []string{""}},
		{"a\nb", 5, []string{"a", "b"}},
	}
	for _, tt := range tests {
		if got := Wrap(tt.in, tt.width); strings.Join(got, "|") != strings.Join(tt.want, "|") {
			t.Errorf("Wrap(%q, %d) = %q, want %q", tt.in, tt.width, got, tt.want)
		}
	}
}

func TestFold(t *testing.T) {
	long := "    " + strings.Repeat("word ", 30)
	got := Fold("short\n" + long + "\nend\n")
	for _, l := range strings.Split(got, "\n") {
		if n := utf8.RuneCountInString(l); n > Width {
			t.Errorf("%d columns: %q", n, l)
		}
	}
	columns := "  D-09  FIX      plumber      " + strings.Repeat("word ", 12)
	if got := Fold(columns); !strings.HasPrefix(got, "  D-09  FIX      plumber      word") || !strings.Contains(got, "\n    word") {
		t.Errorf("columns are lost: %q", got)
	}
	if words := strings.Fields(got); len(words) != 32 || !strings.HasPrefix(got, "short\n    word") || !strings.HasSuffix(got, "\nend\n") {
		t.Errorf("got %q", got)
	}
}

// TestPlain sees that nothing of people's text can steer a terminal, and that lines stay within
// 80 columns whatever the text is made of.
func TestPlain(t *testing.T) {
	tests := []struct{ in, want string }{
		{"a\x1b[31mb", "a\ufffd[31mb"},
		{"bell\a back\b", "bell\ufffd back\ufffd"},
		{"c1 \u009b2J", "c1 \ufffd2J"},
		{"turned \u202eb\u2066", "turned \ufffdb\ufffd"},
		{"tab\tnext\u2028line\r", "tab next line "},
		{"bad \xff", "bad \ufffd"},
		{"two\nlines, 55\u00a0psi", "two\nlines, 55\u00a0psi"},
	}
	for _, tt := range tests {
		if got := Plain(tt.in); got != tt.want {
			t.Errorf("Plain(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
	if got, want := OneLine(" a \n\tb\u00a0c "), "a b\u00a0c"; got != want {
		t.Errorf("OneLine: got %q, want %q", got, want)
	}
	// Unicode's East Asian Width property (UAX 11): W and F take two columns.
	for text, want := range map[string]int{"abc": 3, "居酒屋": 6, "ｱ": 1, "Ａ": 2, "e\u0301": 1, "a\u200bb": 2, "": 0} {
		if got := Columns(text); got != want {
			t.Errorf("Columns(%q) = %d, want %d", text, got, want)
		}
	}
	r := plans(t, quantity.US)["demo"]
	for _, name := range []string{
		strings.Repeat("居酒屋", 60), strings.Repeat("long\u00a0", 40), strings.Repeat("x", 500), "\x1b[2J\x1b]0;title\a", strings.Repeat("Ａ b", 50),
	} {
		r.Found.Survey.Site.Name = name
		var b bytes.Buffer
		if err := Report(&b, r, Options{}); err != nil {
			t.Fatal(err)
		}
		for _, l := range strings.Split(b.String(), "\n") {
			if n := Columns(l); n > Width {
				t.Errorf("%d columns: %q", n, l)
			}
		}
		if strings.ContainsAny(b.String(), "\x1b\a") {
			t.Errorf("%q reached the terminal", name)
		}
		for _, l := range strings.Split(Fold("  "+name), "\n") {
			if n := Columns(l); n > Width {
				t.Errorf("Fold: %d columns: %q", n, l)
			}
		}
	}
}
