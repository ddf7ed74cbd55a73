package rules

import (
	"testing"

	"firstfill/specs/check"
)

func BenchmarkEvaluate(b *testing.B) {
	s := site(b, "block_drain")
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		check.Evaluate(All, s, m, check.Options{Today: today})
	}
}

func BenchmarkReport(b *testing.B) {
	s := site(b, "block_drain")
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		check.Evaluate(All, s, m, check.Options{Today: today}).Report(true)
	}
}
