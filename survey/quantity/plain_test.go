package quantity

import (
	"strings"
	"testing"
)

// TestPlainReadsAsTerm sees that the short way of reading gives what the long
// one does, and leaves to it all that it doesn't read.
func TestPlainReadsAsTerm(t *testing.T) {
	numbers := []string{"62", "-3", "+4", "0", "-0", "0.5", ".5", "5.", "1.2.3", "1 000", "1,000", "3/4", "1-1/2", "1 1/2", "1e3", "", "-", "10 ft 6", "1:50", "9999999999999999", "-500", "2 to 3"}
	read := 0
	for _, d := range dims {
		for _, n := range numbers {
			for _, u := range d.units {
				for _, name := range append(append([]string{u.name, u.name + ".", "x" + u.name, ""}, u.keys...), u.exact...) {
					for _, between := range []string{" ", "", "  ", "-", "\t"} {
						text := n + between + name
						v, unit, ok := d.plain(text)
						if !ok {
							continue
						}
						read++
						s, subject, err := prepare(text, d.noun(), d.advice())
						if err != nil {
							t.Fatalf("%s %q: plain reads it, the long way says %v", d.name, text, err)
						}
						if wantV, wantU, err := d.term(s, subject); err != nil || v != wantV || unit != wantU {
							t.Fatalf("%s %q: plain reads %v %v, the long way %v %v, %v", d.name, text, v, unit.name, wantV, wantU, err)
						}
					}
				}
			}
		}
	}
	if read < 1000 {
		t.Errorf("plain read only %d texts", read)
	}
	for _, text := range []string{"", " ", "psi", "62 psi ± 2 psi", "62 psi 3", strings.Repeat("9", 90) + " psi", "-3 psi"} {
		if _, _, ok := pressureDim.plain(text); ok {
			t.Errorf("plain must leave %q to the long way", text)
		}
	}
}
