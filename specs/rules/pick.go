package rules

import (
	"firstfill/specs/check"
	"firstfill/survey/quantity"
)

// pick is one of two values.
func pick(first bool, a, b any) any {
	if first {
		return a
	}
	return b
}

// written reads a value that a remedy writes, so that it prints in the reader's units.
func written[D quantity.Dimension](_ quantity.Unit[D], v any) any {
	text, ok := v.(string)
	if !ok {
		return v
	}
	var q quantity.Of[D]
	if err := q.UnmarshalText([]byte(text)); err != nil {
		return check.Quote(text)
	}
	return q
}
