package survey_test

import (
	"os"
	"path/filepath"
	"testing"

	"firstfill/survey"
)

// demoSites reads every readable site of testdata.
func demoSites(t testing.TB) map[string]*survey.Survey {
	t.Helper()
	all := map[string]*survey.Survey{}
	for _, pattern := range []string{"pass_*", "block_*", "fixture_*"} {
		files, err := filepath.Glob(filepath.Join("..", "testdata", "sites", pattern+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, problems := survey.Load(file, data)
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			all[filepath.Base(file)] = s
		}
	}
	if len(all) < 12 {
		t.Fatalf("only %d sites", len(all))
	}
	return all
}

func sameAnswers(t *testing.T, name string, got, want *survey.Survey) {
	t.Helper()
	if got.Digest() == want.Digest() {
		return
	}
	texts := map[string]string{}
	for _, a := range want.Answers() {
		if !a.Unknown() {
			texts[a.Path] = a.Text + "|" + a.Note
		}
	}
	for _, a := range got.Answers() {
		if a.Unknown() {
			continue
		}
		if texts[a.Path] != a.Text+"|"+a.Note {
			t.Errorf("%s: %s: got %q, want %q", name, a.Path, a.Text+"|"+a.Note, texts[a.Path])
		}
		delete(texts, a.Path)
	}
	for p, text := range texts {
		t.Errorf("%s: %s %q was lost", name, p, text)
	}
}
