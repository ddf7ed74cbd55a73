package words_test

import (
	"slices"
	"strings"
	"testing"

	"firstfill/render/words"
	"firstfill/specs/rules"
	"firstfill/survey/quantity"
)

// Every check has its words: a title in lower case without a full stop and a
// why; a formula comes with a worked value, and what holds with a formula.
func TestAbout(t *testing.T) {
	capital := []string{"GFCI", "TDS", "pH"}
	for _, k := range rules.All {
		a := words.Reader{Units: quantity.US}.About(k.ID)
		switch {
		case a.Title == "" || a.Why == "":
			t.Errorf("%s: has no title or no why", k.ID)
		case strings.ToLower(a.Title[:1]) != a.Title[:1] && !slices.Contains(capital, strings.Fields(a.Title)[0]) || strings.HasSuffix(a.Title, "."):
			t.Errorf("%s: title %q must be lower case without a full stop", k.ID, a.Title)
		case a.Formula != "" && k.Example.Shows == "":
			t.Errorf("%s: a check with a formula needs a worked value", k.ID)
		}
	}
}
