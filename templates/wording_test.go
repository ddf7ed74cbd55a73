package templates_test

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/templates"
)

// walkStrings calls f for every string of the wording, with its name in the file.
func walkStrings(v reflect.Value, name string, f func(name, text string)) {
	switch v.Kind() {
	case reflect.String:
		f(name, v.String())
	case reflect.Struct:
		for i := range v.NumField() {
			walkStrings(v.Field(i), strings.TrimPrefix(name+"."+v.Type().Field(i).Tag.Get("yaml"), "."), f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walkStrings(v.Index(i), fmt.Sprintf("%s[%d]", name, i), f)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			walkStrings(v.MapIndex(k), name+"."+k.String(), f)
		}
	}
}

// braces are the words that the program fills in, by the text's name.
var braces = map[string][]string{
	"sentences.uncertain": {"worst", "best"}, "sentences.not_computed": {"ids"}, "sign_off.title": {"trade"},
}

// figure is a quantity in braces, which prints in the reader's units.
var figure = regexp.MustCompile(`\{[0-9]+ (°F|in|psi)\}`)

func TestWording(t *testing.T) {
	w, err := templates.Words()
	if err != nil {
		t.Fatal(err)
	}
	inBraces := regexp.MustCompile(`\{[^}]*\}?`)
	walkStrings(reflect.ValueOf(*w), "", func(name, text string) {
		optional := strings.HasPrefix(name, "letterhead.") || strings.HasSuffix(name, ".unit") || strings.Contains(name, ".readings[") && strings.HasSuffix(name, ".title")
		if strings.TrimSpace(text) == "" && !optional {
			t.Errorf("%s is empty", name)
		}
		if _, notes := page.Clean(text); len(notes) > 0 {
			t.Errorf("%s can't be printed as written: %v", name, notes)
		}
		if strings.HasPrefix(name, "trades.") && strings.HasSuffix(name, ".text") { // quantities stand there
			text = figure.ReplaceAllString(text, "")
		}
		known := braces[name]
		if strings.HasSuffix(name, ".statement") {
			known = []string{"revision"}
		}
		found := map[string]bool{}
		for _, b := range inBraces.FindAllString(text, -1) {
			word := strings.Trim(b, "{}")
			found[word] = true
			if !slices.Contains(known, word) {
				t.Errorf("%s: %s is not filled in by the program; there are %v", name, b, known)
			}
		}
		for _, k := range known {
			if !found[k] {
				t.Errorf("%s lacks {%s}", name, k)
			}
		}
	})
	for _, tr := range check.Trades {
		words := w.Trades[string(tr)]
		if len(words.Warnings) == 0 || len(words.Cautions) == 0 {
			t.Errorf("%s: %d warnings and %d cautions, want some of each", tr, len(words.Warnings), len(words.Cautions))
		}
	}
	if len(w.Trades) != len(check.Trades) {
		t.Errorf("words for %d trades, want %d", len(w.Trades), len(check.Trades))
	}
	// What a sheet for dangerous work must say, whoever edits it.
	for tr, musts := range map[string][]string{
		"electrician": {"licensed", "authority", "lock out", "data plate", "grounding", "extension"},
		"plumber":     {"licensed", "authority", "scald", "backflow", "air gap", "data plate"},
		"builder":     {"engineer", "licensed", "crush"},
		"owner":       {"Chlorine", "acid", "Safety data sheets", "eyewash"},
		"supplier":    {"lifting aid", "upright", "licensed", "scald", "Acid"},
	} {
		all := ""
		for _, h := range append(slices.Clone(w.Trades[tr].Warnings), w.Trades[tr].Cautions...) {
			all += h.Text + "\n"
		}
		for _, m := range musts {
			if !strings.Contains(all, m) {
				t.Errorf("the cautions of %s don't mention %q", tr, m)
			}
		}
	}
	if !strings.Contains(w.Disclaimer, "not a design or permit document") {
		t.Errorf("the disclaimer says %q", w.Disclaimer)
	}
}

func TestParseWording(t *testing.T) {
	for _, bad := range []string{"headings: {sumary: x}", "headings: [", "disclaimer: {a: b}"} {
		if _, err := templates.ParseWording([]byte(bad)); err == nil || !strings.Contains(err.Error(), "wording.yaml") {
			t.Errorf("%q: got error %v", bad, err)
		}
	}
	if got := templates.Fill("{n} of {m}, {x}", "n", "1", "m", "{n}"); got != "1 of {n}, {x}" {
		t.Errorf("Fill: got %q", got)
	}
}
