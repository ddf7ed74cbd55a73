package check_test

import (
	"slices"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/specs/trade"
	"firstfill/survey"
)

// onlyElsewhere are checks of one code alone, which don't arise under another.
var onlyElsewhere = map[string]bool{"E-36": true, "E-26": true, "E-33": true, "E-29": true, "E-34": true, "E-35": true}

// TestCites sees that a packet cites the codes enforced at its site and no
// others, with the numbers of the edition enforced or a word about them.
func TestCites(t *testing.T) {
	builtin := func(key string) *specs.Machine {
		m, err := specs.Builtin().Machine(key)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	texts := func(id, electrical, plumbing string) []string {
		s := &survey.Survey{Codes: survey.Codes{Electrical: electrical, Plumbing: plumbing}}
		var all []string
		for _, src := range check.NewCase(s, builtin("avocet-r36"), check.Options{}).Cites(rules.ByID(id)) {
			all = append(all, src.String())
		}
		return all
	}
	for _, tt := range []struct {
		id, electrical string
		has, hasNot    []string
	}{
		{"E-22", "nec-2017", []string{"NEC 2017 210.8(B)"}, []string{"2014", "2020", "2023", "IEC"}},
		{"E-22", "nec-2026", []string{"NEC 210.8(B) and 210.8(D), numbering of edition 2023"}, []string{"2014", "2017", "2020", "IEC"}},
		{"E-22", "iec-60364", []string{"IEC"}, []string{"NEC"}},
		{"E-12", "bs-7671", []string{"BS 7671"}, []string{"NEC"}},
		{"E-12", "nec-2023", []string{"NEC 2023 Table 310.16"}, []string{"IEC", "BS 7671", "numbering"}},
		{"E-12", "nec-2014", []string{"NEC Table 310.16, numbering of edition 2023"}, []string{"IEC", "NEC 2023"}},
		{"E-12", "", []string{"NEC 2023 Table 310.16"}, []string{"IEC"}}, // the machine's home code
		{"E-01", "iec-60364", []string{"IEC 60038"}, []string{"ANSI"}},
		{"E-03", "nec-2023", []string{"MB-R36-02"}, []string{"confirmed", "unmarked"}},
	} {
		all := strings.Join(texts(tt.id, tt.electrical, ""), "; ")
		for _, w := range tt.has {
			if !strings.Contains(all, w) {
				t.Errorf("%s under %q cites %q, want %q in it", tt.id, tt.electrical, all, w)
			}
		}
		for _, w := range tt.hasNot {
			if strings.Contains(all, w) {
				t.Errorf("%s under %q cites %q, want no %q", tt.id, tt.electrical, all, w)
			}
		}
	}
	// Nothing of another family, whatever the check.
	for _, k := range rules.All {
		for _, code := range []string{"nec-2014", "nec-2023", "iec-60364", "bs-7671"} {
			s := &survey.Survey{Codes: survey.Codes{Electrical: code, Plumbing: "upc"}}
			if c := check.NewCase(s, builtin("knot-c400"), check.Options{}); len(c.Cites(k)) == 0 && !onlyElsewhere[k.ID] {
				t.Errorf("%s cites nothing under %s", k.ID, code)
			}
			for _, src := range check.NewCase(s, builtin("knot-c400"), check.Options{}).Cites(k) {
				if nec := strings.HasPrefix(code, "nec"); src.Document == "NEC" && !nec || nec && slices.Contains([]string{"IEC", "BS 7671"}, src.Document) {
					t.Errorf("%s under %s cites %v", k.ID, code, src)
				}
			}
		}
	}
	both := &check.Check{Sources: []trade.Source{{Document: "IPC", Clause: "1"}, {Document: "UPC", Clause: "2"}}}
	one := &check.Check{Sources: []trade.Source{{Document: "IPC", Clause: "1"}}}
	s := &survey.Survey{Codes: survey.Codes{Plumbing: "upc"}}
	c := check.NewCase(s, builtin("avocet-r36"), check.Options{})
	if got := c.Cites(both); len(got) != 1 || got[0].Document != "UPC" {
		t.Errorf("a UPC site cites %v of both codes", got)
	}
	if got := c.Cites(one); len(got) != 1 {
		t.Errorf("a check with the IPC alone cites %v", got)
	}
}
