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
	"sentences.delivery_today": {"date"}, "sentences.delivery_in": {"date", "n"}, "sentences.delivery_gone": {"date", "n"},
	"sentences.blocks_delivery": {"n", "ids"}, "sentences.blocks_start": {"n", "ids"}, "sentences.more_on_list": {"n", "page"},
	"sentences.follows": {"id"}, "sentences.remark": {"text"}, "sentences.range": {"text"}, "sentences.uncertain": {"worst", "best"}, "sentences.not_computed": {"ids"},
	"sentences.no_face": {"name"}, "sentences.raised": {"height"}, "sign_off.title": {"trade"},
}

func TestWording(t *testing.T) {
	w, err := templates.Words()
	if err != nil {
		t.Fatal(err)
	}
	inBraces := regexp.MustCompile(`\{[^}]*\}?`)
	walkStrings(reflect.ValueOf(*w), "", func(name, text string) {
		if strings.TrimSpace(text) == "" && !strings.HasPrefix(name, "letterhead.") {
			t.Errorf("%s is empty", name)
		}
		if _, notes := page.Clean(text); len(notes) > 0 {
			t.Errorf("%s can't be printed as written: %v", name, notes)
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
		if len(words.Cautions) < 4 {
			t.Errorf("%s: %d cautions, want 4 at least", tr, len(words.Cautions))
		}
	}
	if len(w.Trades) != len(check.Trades) {
		t.Errorf("words for %d trades, want %d", len(w.Trades), len(check.Trades))
	}
	// What a sheet for dangerous work must say, whoever edits it.
	for tr, musts := range map[string][]string{
		"electrician": {"licensed", "authority having jurisdiction", "lock out", "data plate", "grounding", "extension"},
		"plumber":     {"licensed", "authority having jurisdiction", "scald", "backflow", "air gap", "data plate"},
		"builder":     {"engineer", "authority having jurisdiction", "crush"},
		"owner":       {"chlorine", "acid", "safety data sheets", "eyewash"},
		"supplier":    {"Lift", "upright", "licensed", "scald", "acid"},
	} {
		all := strings.Join(w.Trades[tr].Cautions, "\n")
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
