package cells

import (
	"strings"
	"testing"
)

func TestNames(t *testing.T) {
	if got := At(28, 3); got != "AB3" {
		t.Errorf("got %s, want AB3", got)
	}
	if got := Column(27); got != "AA" {
		t.Errorf("got %s, want AA", got)
	}
}

func TestText(t *testing.T) {
	for in, want := range map[string]string{
		"a\tb\r\nc":        "a b\nc",
		"bell\a, \xff":     "bell, \ufffd",
		"=1+1":             "=1+1",
		"\ufeffmark\u202f": "mark ",
	} {
		if got := Clean(in); got != want {
			t.Errorf("Clean(%q) = %q, want %q", in, got, want)
		}
	}
	for in, want := range map[string]string{
		"_x0041_":        "_x005F_x0041_",
		"_x0041__x0042_": "_x005F_x0041__x005F_x0042_",
		"_xylo_":         "_xylo_",
	} {
		if got := Escape(in); got != want {
			t.Errorf("Escape(%q) = %q, want %q", in, got, want)
		}
	}
	if got := Fit(strings.Repeat("x", 10), 5); got != "xxxx…" {
		t.Errorf("Fit = %q", got)
	}
	if got := Fit("short", 10); got != "short" {
		t.Errorf("Fit = %q", got)
	}
}
