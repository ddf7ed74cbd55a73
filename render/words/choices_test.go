package words_test

import (
	"slices"
	"strings"
	"testing"

	"firstfill/render/words"
	"firstfill/survey"
)

// asWritten are answers that print as they are written in a questionnaire.
var asWritten = strings.Fields(`
	none steel copper cable plug breaker receptacle standpipe
	electrician plumber builder owner supplier
	dry damp wet clear grounded live fits exceeds straight crooked
	electric gas instantaneous door turn threshold ramp chlorine iodine quat
	60 70 75 90 AC A F B C D TN-S TN-C-S TT IT`)

// TestChoices sees that every answer out of a closed list has its word, or is
// fit to print as it is.
func TestChoices(t *testing.T) {
	used := map[string]bool{}
	for _, f := range survey.Fields() {
		for _, c := range f.Choices {
			plain := strings.Contains(c, "/") && f.Name == "connection" || slices.Contains(asWritten, c)
			switch w := (words.Reader{}).Word(c); {
			case plain && w != c:
				t.Errorf("%s: %q is listed as fit to print, and prints %q", f.Path, c, w)
			case !plain && w == c:
				t.Errorf("%s: the answer %q has no word.%s in the tables", f.Path, c, c)
			}
			used[c] = true
		}
	}
	for _, c := range asWritten {
		if !used[c] {
			t.Errorf("%q is listed as fit to print, and is no answer", c)
		}
	}
}
