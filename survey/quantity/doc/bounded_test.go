package doc_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"firstfill/survey/quantity/doc"
)

// unopened fails when a file that must not be opened is: opening a pipe waits.
type unopened struct {
	fstest.MapFS
	t *testing.T
}

func (u unopened) Open(name string) (fs.File, error) {
	if f := u.MapFS[name]; f != nil && f.Mode&fs.ModeNamedPipe != 0 {
		u.t.Errorf("%s was opened", name)
	}
	return u.MapFS.Open(name)
}

func TestReadFile(t *testing.T) {
	fsys := unopened{fstest.MapFS{
		"site.yaml": {Data: []byte("survey: 1")},
		"exact":     {Data: make([]byte, 2048)},
		"over":      {Data: make([]byte, 2049)},
		"fifo":      {Mode: fs.ModeNamedPipe},
		"tape":      {Mode: fs.ModeDevice},
		"folder/x":  {Data: []byte("x")},
	}, t}
	for _, tt := range []struct {
		name, says string
		is         error
	}{
		{"site.yaml", "", nil},
		{"exact", "", nil},
		{"over", "more than 2 KB", nil},
		{"fifo", "not a plain file", doc.ErrSpecial},
		{"tape", "not a plain file", doc.ErrSpecial},
		{"folder", "it is a folder", doc.ErrFolder},
		{"gone", "not exist", fs.ErrNotExist},
	} {
		data, err := doc.ReadFile(fsys, tt.name, 2048)
		switch {
		case tt.says == "" && (err != nil || len(data) != len(fsys.MapFS[tt.name].Data)):
			t.Errorf("%s: %d bytes, %v", tt.name, len(data), err)
		case tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says) || strings.Contains(err.Error(), tt.name) && tt.name != "folder"):
			t.Errorf("%s: got %v, want %q without the file's name", tt.name, err, tt.says)
		case tt.is != nil && !errors.Is(err, tt.is):
			t.Errorf("%s: %v isn't %v", tt.name, err, tt.is)
		}
	}
	if _, err := doc.ReadAll(endless{}, 1<<20); err == nil || !strings.Contains(err.Error(), "1 MB") {
		t.Errorf("an endless stream: %v", err)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) { return len(b), nil }

// TestHeavyDocuments are documents that take seconds or gigabytes where they
// are read without limits, as measured.
func TestHeavyDocuments(t *testing.T) {
	line := strings.Repeat("%", 39_000) + "\n"
	for _, tt := range []struct{ name, text, says string }{
		{"one long line", strings.Repeat("%", 100_000), "in long lines"},
		{"several long lines", line + line, "in long lines"},
		{"many lines", strings.Repeat("a: #1\n", 6001), "more than 6000 lines"},
		{"many answers that want quotes", strings.Repeat("a: b: c\n", 5000), "can't be read as YAML"},
		{"brackets", strings.Repeat("[", 100_000), "brackets are open"},
		{"large", strings.Repeat("a: 1234567890\n", 20_000), "256 KB"},
		{"a name without end", "survey: 1\n" + strings.Repeat("k", 30_000) + ": 1\n", "kkk…: there is no answer of this name"},
	} {
		entries, problems := doc.ReadYAML("f", []byte(tt.text))
		if tt.name == "a name without end" {
			var into struct {
				Survey string `yaml:"survey"`
			}
			_, problems = doc.Fill(&into, entries)
		}
		if len(problems) == 0 {
			t.Errorf("%s: no problem", tt.name)
			continue
		}
		if got := problems[0].Error(); !strings.Contains(got, tt.says) || len(got) > 300 {
			t.Errorf("%s: got %q, want %q in at most 300 bytes", tt.name, got, tt.says)
		}
	}
}
