package rules

import "firstfill/specs/check"

// rawText is a raw phrase's text.
func rawText(p check.Phrase) string {
	for _, b := range p.Blanks {
		if q, ok := b.Value.(check.Quote); ok {
			return string(q)
		}
	}
	return ""
}
