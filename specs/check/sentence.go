package check

import (
	"fmt"
	"strings"
)

// Sentence says a report's verdict in one sentence: "Not ready: 4 to fix, 2 to measure."
func Sentence(r *Report) string {
	var parts []string
	add := func(v Verdict, text string) {
		if n := r.Counts[v]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, text))
		}
	}
	add(Fix, "to fix")
	add(Missing, "to find out")
	add(Confirm, "to confirm")
	switch {
	case r.Verdict.Blocks():
		return "Not ready: " + strings.Join(parts, ", ") + "."
	case len(parts) > 0:
		return "Nothing blocks: " + strings.Join(parts, ", ") + "."
	}
	return "Ready: everything asked for is there."
}
