package main

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// TestHostileInput gives questionnaires that hold nothing, or what a terminal would obey: each is
// refused with its place, and nothing of it reaches the terminal raw.
func TestHostileInput(t *testing.T) {
	for _, tt := range []struct{ name, in, want string }{
		{"an empty group", "{}", "standard input:1:1: the document holds no answers"},
		{"null", "null\n", "standard input:1:1: the document holds no answers"},
		{"in a name", `{"survey":1,"site":{"name":"a\u001b[2Jb"},"machine":{"key":"avocet-r36"}}`, "standard input:1:28: site.name: a control character stands here (U+001B)"},
		{"in a key", `{"survey":1,"site":{"name":"a"},"machine":{"key":"avocet-r36"},"\u001b[2Jx":"y"}`, "a control character stands here (U+001B)"},
		{"in a machine's key", `{"survey":1,"site":{"name":"a"},"machine":{"key":"\u009b2J"}}`, "machine.key: a control character stands here (U+009B)"},
		{"in a quantity", `{"survey":1,"site":{"name":"a"},"machine":{"key":"avocet-r36"},"power":{"breaker":"\u001b20 A"}}`, "power.breaker: a control character stands here"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			if code := run([]string{"check", "-"}, strings.NewReader(tt.in), &out, &errs); code != exitInput {
				t.Errorf("exit %d, want %d", code, exitInput)
			}
			if !strings.Contains(errs.String(), tt.want) {
				t.Errorf("got %q, want %q", errs.String(), tt.want)
			}
			if strings.ContainsAny(out.String()+errs.String(), "\x1b\u009b") {
				t.Errorf("%q reaches the terminal", out.String()+errs.String())
			}
		})
	}
	if _, _, errs := command(t, "check", "\x1b[2Jno.yaml"); strings.Contains(errs, "\x1b") || !strings.Contains(errs, "there is no such file") {
		t.Errorf("a file's name: got %q", errs)
	}
}

// TestEpoch reads SOURCE_DATE_EPOCH: a day, or an error that says what was wanted.
func TestEpoch(t *testing.T) {
	for text, want := range map[string]string{
		"1795564800":      "2026-11-25",
		"1795651199":      "2026-11-25", // the day's last second, UTC
		"0":               "1970-01-01",
		"soon":            `SOURCE_DATE_EPOCH: "soon" is not a number of seconds`,
		"99999999999999":  "is outside the years 1970 to 9999",
		"-99999999999999": "is outside the years 1970 to 9999",
	} {
		a := &app{now: time.Now, getenv: func(string) string { return text }}
		day, err := dated{}.today(a)
		if err == nil && day.String() != want || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, %v, want %s", text, day, err, want)
		}
	}
}

// TestFormComments converts a questionnaire: comments that a person wrote are not carried over, which is
// said; the form's own are no loss.
func TestFormComments(t *testing.T) {
	_, _, errs := command(t, "form", "demo")
	if !strings.Contains(errs, "comments (#) are not carried into the form") {
		t.Errorf("got %q", errs)
	}
	blank := strings.Replace(first(command(t, "form", "--machine", "avocet-r36")), "name: unknown", "name: A Bar", 1)
	for in, want := range map[string]string{blank: "", blank + "# mind the dog\n": "1 comment (#) is not carried"} {
		var out, errs bytes.Buffer
		if code := run([]string{"form", "-"}, strings.NewReader(in), &out, &errs); code != exitReady {
			t.Fatal(errs.String())
		}
		if want == "" && errs.Len() > 0 || !strings.Contains(errs.String(), want) {
			t.Errorf("got %q, want %q", errs.String(), want)
		}
	}
	if code, _, errs := command(t, "form", "--replace", "-o", t.TempDir()); code != exitInput || !strings.Contains(errs, "is a folder; name a file") {
		t.Errorf("onto a folder: exit %d, %q", code, errs)
	}
}

// first is what a command printed.
func first(_ int, out, _ string) string { return out }
