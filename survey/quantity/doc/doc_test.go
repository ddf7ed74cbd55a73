package doc_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"firstfill/survey/quantity/doc"
)

func TestReadYAML(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"plain", "a: 1\nb:\n  c: 3/4 in # note\n", `a="1"@1:4 b.c="3/4 in"@2... `},
		{"list", "p:\n  - k: door\n  - {k: turn}\n", `p[0].k="door" p[1].k="turn"`},
		{"empty list is an answer", "p: []\n", `p="[]"`},
		{"json", `{"a": {"b": "62 psi"}}`, `a.b="62 psi"`},
		{"octal stays text", "a: 010\n", `a="010"`},
		{"yes stays text", "a: yes\nb: true\n", `a="yes" b="true"`},
		{"null is left out", "a: ~\nb:\nc: 1\n", `c="1"`},
		{"crlf and byte order mark", "\ufeffa: 1\r\nb: 2\r\n", `a="1" b="2"`},
		{"block text", "n: |\n  two\n  lines\n", `n="two\nlines"`},
		{"quoted feet", `a: '10''-6"'`, `a="10'-6\""`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			entries, problems := doc.ReadYAML("f", []byte(tt.in))
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, e := range entries {
				got = append(got, fmt.Sprintf("%s=%q", e.Path, e.Text))
			}
			want := tt.want
			if tt.name == "plain" {
				want = `a="1" b.c="3/4 in"`
				if entries[1].Pos != (doc.Pos{File: "f", Line: 3, Col: 6}) {
					t.Errorf("place: got %v", entries[1].Pos)
				}
			}
			if s := strings.Join(got, " "); s != want {
				t.Errorf("got %s, want %s", s, want)
			}
		})
	}
}

func TestReadYAMLFaults(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"empty", "", "f: the document is empty"},
		{"comment only", "# nothing\n", "the document is empty"},
		{"empty group", "{}", "f:1:1: the document holds no answers; write a blank one"},
		{"null", "null\n", "f:1:1: the document holds no answers"},
		{"nulls only", "site:\n  name:\n", "the document holds no answers"},
		{"syntax", "a: [1\n", "f:1:4: the document can't be read as YAML"},
		{"twice", "a: 1\nb: 2\na: 3\n", "f:3:1: a: answered twice; the first answer is in line 1"},
		{"anchor", "a: &x 1\nb: *x\n", "f:1:4: a: anchors, aliases and tags"},
		{"merge", "a: {b: 1}\nc:\n  <<: {d: 1}\n", "merge keys (<<) are not read here"},
		{"two documents", "a: 1\n---\nb: 2\n", "a second document starts here"},
		{"a single value", "hello\n", "the document is a single value"},
		{"brackets", strings.Repeat("[", 60), "f:1:51: more than 50 brackets are open here"},
		{"indentation", strings.Repeat(" ", 250) + "a: 1", "nested too deeply"},
		{"dashes", strings.Repeat("- ", 70) + "1", "nested too deeply"},
		{"not utf-8", "a: \xff\n", "f:1:1: the text is not UTF-8"},
		{"binary", "a: \x00\n", "this is not a text file"},
		{"size", "a: " + strings.Repeat("x", doc.MaxBytes), "at most 256 KB are read"},
		{"long answer", "a: " + strings.Repeat("x", 30_000), "f:1:4: a: the answer has 30000 bytes"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			start := time.Now()
			_, problems := doc.ReadYAML("f", []byte(tt.in))
			if err := problems.Err(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
			if d := time.Since(start); d > 20*time.Second {
				t.Errorf("took %v", d)
			}
		})
	}
}

type thing struct {
	Name  string  `yaml:"name"`
	N     int     `yaml:"n"`
	Share float64 `yaml:"share"`
	On    bool    `yaml:"on"`
	Items []struct {
		Kind string `yaml:"kind"`
	} `yaml:"items"`
	Deep struct {
		Text string `yaml:"text"`
	} `yaml:"deep"`
}

func TestFill(t *testing.T) {
	var v thing
	entries, problems := doc.ReadYAML("f", []byte("name: {value: Ada, note: by hand, source: plate}\nn: 3\nshare: 0.5\non: yes\nitems: [{kind: door}, {kind: lift}]\ndeep: {text: unknown}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	answers, problems := doc.Fill(&v, entries)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if v.Name != "Ada" || v.N != 3 || v.Share != 0.5 || !v.On || len(v.Items) != 2 || v.Items[1].Kind != "lift" || v.Deep.Text != "" {
		t.Errorf("got %+v", v)
	}
	if a := answers["name"]; a.Note != "by hand" || a.Source != "plate" || a.Text != "Ada" {
		t.Errorf("got answer %+v", a)
	}
	if !answers["deep.text"].Unknown() {
		t.Error("an unknown answer isn't kept as such")
	}
}

func TestFillFaults(t *testing.T) {
	tests := []struct{ in, want string }{
		{"nane: x", `f:1:7: nane: there is no answer of this name; did you mean "name"?`},
		{"zzzzzzzz: x", "there are deep, items, n, name, on, share"},
		{`name: "a\e[31mb"`, "f:1:7: name: a control character stands here (U+001B)"},
		{`name: {value: a, note: "b\u009bc"}`, "a control character stands here (U+009B)"},
		{`name: "a\u202eb"`, "a control character stands here (U+202E)"},
		{`"na\u0007me": b`, "a control character stands here (U+0007)"},
		{"n: lots", `f:1:4: n: "lots" is not a whole number`},
		{"share: .nan", "is not a number"},
		{"on: perhaps", "is neither yes nor no"},
		{"items: x", "a list was expected"},
		{"items: {kind: x}", "this is a list; write each item with a dash"},
		{"deep: x", "a group was expected, with text"},
		{"deep: [x]", "a list stands here"},
		{"name: {vale: x}", `beside its value only note and source can be written, not "vale"`},
	}
	for _, tt := range tests {
		t.Run(tt.in, func(t *testing.T) {
			entries, problems := doc.ReadYAML("f", []byte(tt.in))
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			var v thing
			_, problems = doc.Fill(&v, entries)
			if err := problems.Err(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}

func TestFillListLimit(t *testing.T) {
	var v thing
	_, problems := doc.Fill(&v, []doc.Entry{{Path: "items[99999999].kind", Text: "x"}})
	if problems.Err() == nil || len(v.Items) != 0 {
		t.Errorf("got %v and %d items", problems.Err(), len(v.Items))
	}
}

func FuzzReadYAML(f *testing.F) {
	for _, s := range []string{"a: 1", "a: [{b: 1}]", "{? {? `", "true :", ">\n>", "*-0", "10.:", "items: [{kind: x}]", "name: {value: a, note: b}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		entries, problems := doc.ReadYAML("f", data)
		if len(entries) == 0 && len(problems) == 0 {
			t.Error("neither answers nor faults")
		}
		var v thing
		answers, _ := doc.Fill(&v, entries)
		if len(answers) > len(entries) {
			t.Errorf("%d answers of %d entries", len(answers), len(entries))
		}
	})
}
