package pdf

import (
	"strings"
	"testing"

	"firstfill/render/words/wordstest"
	"firstfill/survey/quantity"
)

// TestOneEnglish sees no British word in a packet or its calculations in US
// units and no US word in metric ones, no answer's code, and no trace of a
// phrase that isn't there.
func TestOneEnglish(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sites(t) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			r := s.report(u)
			theirs := wordstest.NotOurs(r.Plan)
			packet, err := packetDoc(r, Options{})
			sound(t, packet, err)
			calc, err := calcDoc(r, Options{})
			sound(t, calc, err)
			for _, p := range append(textOf(packet), textOf(calc)...) {
				text := theirs.Replace(strings.Join(strings.Fields(p), " "))
				for _, found := range wordstest.Faults(u, text) {
					at := strings.Index(text, found)
					near := text[max(0, at-60):min(len(text), at+len(found)+60)]
					if !seen[near] {
						t.Errorf("%s, units %v: %q in %q", s.name, u, found, near)
					}
					seen[near] = true
				}
			}
		}
	}
}
