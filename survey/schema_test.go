package survey

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
)

// fits says whether a part of the schema takes a text, as far as its words go.
func fits(t *testing.T, parts, part map[string]any, text string) bool {
	t.Helper()
	if to, ok := part["$ref"].(string); ok {
		next, ok := parts[strings.TrimPrefix(to, "#/$defs/")].(map[string]any)
		if !ok {
			t.Fatalf("the schema refers to %s, which isn't there", to)
		}
		return fits(t, parts, next, text)
	}
	if ways, ok := part["anyOf"].([]any); ok {
		for _, w := range ways {
			if fits(t, parts, w.(map[string]any), text) {
				return true
			}
		}
		return false
	}
	if list, ok := part["enum"].([]any); ok {
		for _, w := range list {
			if w == text {
				return true
			}
		}
		return false
	}
	switch kind := part["type"].(type) {
	case string:
		if kind != "string" {
			return false
		}
	case []any:
		if len(kind) == 0 || kind[0] != "string" {
			return false
		}
	}
	pattern, ok := part["pattern"].(string)
	return !ok || regexp.MustCompile(pattern).MatchString(text)
}

// TestSchemaTakesWhatIsRead holds the schema against the reader: an editor marks
// no word that the questionnaire's reader takes.
func TestSchemaTakesWhatIsRead(t *testing.T) {
	var parts map[string]any
	data, err := json.Marshal(SchemaParts())
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &parts); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, f := range Fields() {
		if len(f.Choices) == 0 {
			continue
		}
		part := ref(f.choicePart())
		var words []string
		for _, w := range append(f.OtherWords(), f.Choices...) {
			words = append(words, w, strings.ToUpper(w), strings.ReplaceAll(w, "-", " "), strings.ReplaceAll(w, " ", "-"))
		}
		for _, w := range append(words, "other: see the photo", "Other - lead", "n/a", "N/A", "don't know", "don’t know", "TBD", "?", "unknown", "not sure.") {
			if _, err := f.choice(w); err != nil {
				continue // not everything folded by hand is a word
			}
			tried++
			if !fits(t, parts, part, w) {
				t.Errorf("%s: %q is read, and the schema marks it", f.Path, w)
			}
		}
		for _, w := range []string{"lots", "other:", "20 psi", "blue cheese"} {
			if _, err := f.choice(w); err != nil && fits(t, parts, part, w) {
				t.Errorf("%s: %q isn't read, and the schema takes it", f.Path, w)
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d words were tried", tried)
	}
	for _, tt := range []struct{ part, yes, no string }{
		{"quantity", "about 60 ft; ~60 ft; 60 ft or so; n/a; don't know; TBD; ?; 3/4 in; 62 ± 2 psi", "62; 3.5"},
		{"yes_no", "Yes; y; NO.; n/a; TBD; ✓; Nope", "maybe; 1"},
		{"count", "3; three; about 600; 1,200; ~ 40; 40 or so; none; ?; n/a", "3 psi please; lots"},
		{"number", "7.4; about 7; .5; unknown", "acid"},
		{"date", "2026-12-14; TBD; unknown", "14.12.2026; soon"},
	} {
		for w := range strings.SplitSeq(tt.yes, "; ") {
			if !fits(t, parts, ref(tt.part), w) {
				t.Errorf("%s: %q is read, and the schema marks it", tt.part, w)
			}
		}
		for w := range strings.SplitSeq(tt.no, "; ") {
			if fits(t, parts, ref(tt.part), w) {
				t.Errorf("%s: %q isn't read, and the schema takes it", tt.part, w)
			}
		}
	}
}
