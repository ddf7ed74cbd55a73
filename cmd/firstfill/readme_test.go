package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"firstfill/render/words"
	"firstfill/specs/rules"
	"firstfill/survey"
)

// answers is the table of the questionnaire's answers.
func answers() string {
	var b strings.Builder
	b.WriteString("| answer | question | as |\n|---|---|---|\n")
	for _, f := range survey.Fields() {
		as := f.Example
		switch {
		case f.Path == "survey":
			continue
		case f.List:
			as = "a list"
		case len(f.Choices) > 0:
			as = strings.Join(f.Choices, ", ")
		case f.YesNo():
			as = "yes, no"
		}
		ask := f.Ask
		if f.How != "" {
			ask += " (" + f.How + ")"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", f.Path, strings.ReplaceAll(ask, "|", "\\|"), strings.ReplaceAll(as, "|", "\\|"))
	}
	return b.String()
}

// TestREADME holds the generated parts of the README against the program:
// the lists of checks and of answers, and what check prints of the demo.
func TestREADME(t *testing.T) {
	file := filepath.Join("..", "..", "README.md")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list strings.Builder
	list.WriteString("| id | trade | check |\n|---|---|---|\n")
	for _, k := range rules.All {
		fmt.Fprintf(&list, "| %s | %s | %s |\n", k.ID, k.Trade, words.Reader{}.About(k.ID).Title)
	}
	_, out, _ := command(t, "check", "demo", "--date", "2026-11-25")
	lines := strings.SplitAfter(out, "\n")
	sample := "```\n$ firstfill check demo --date 2026-11-25\n" + strings.Join(lines[:min(24, len(lines))], "") + "…\n```\n"
	want := string(data)
	for name, text := range map[string]string{"checks": list.String(), "sample": sample, "answers": answers()} {
		begin, end := "<!-- "+name+": written by go test -run README -update -->\n", "<!-- end of "+name+" -->"
		before, rest, ok := strings.Cut(want, begin)
		_, after, ok2 := strings.Cut(rest, end)
		if !ok || !ok2 {
			t.Fatalf("README.md has no place for %s", name)
		}
		want = before + begin + text + end + after
	}
	if want == string(data) {
		return
	}
	if !*update {
		t.Fatal("README.md is behind the program; run go test ./cmd/firstfill -run README -update")
	}
	if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}
