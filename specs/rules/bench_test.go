package rules

import "testing"

func BenchmarkEvaluate(b *testing.B) {
	s := site(b, "block_drain")
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		Evaluate(s, m, Options{Today: today})
	}
}

func BenchmarkEvaluateNoRemedy(b *testing.B) {
	s := site(b, "block_drain")
	m := machine(b, s.Machine.Key)
	for b.Loop() {
		Evaluate(s, m, Options{Today: today, NoRemedy: true})
	}
}
