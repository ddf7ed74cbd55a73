package trade

import (
	"math"
	"testing"
)

// Sources: a railway safety handbook that repeats the HSE (two at 20 kg lift
// 26.6 kg, three half their sum, no more than four), a safety consultant's
// page (three at 25 kg lift 37.5 kg, two at 16 kg 21 kg), OSHA and CCOHS pages
// on the NIOSH equation (51 lb, 23 kg).
func TestTeamLift(t *testing.T) {
	near(t, "NIOSH load constant, printed 23 kg", NIOSHLoadLb*KgPerLb, 23, 0.15)
	for _, c := range []struct {
		team         int
		each, wantKg float64
	}{{1, 25, 25}, {2, 20, 26.6}, {2, 25, 33.3}, {3, 25, 37.5}, {2, 16, 21.3}, {3, 16, 24}, {4, 25, 50}} {
		near(t, "team, kg", TeamLiftLb(c.team, c.each/KgPerLb)*KgPerLb, c.wantKg, 0.1)
	}
	for _, n := range []int{0, -1, 5} {
		isNaN(t, "no such team", TeamLiftLb(n, 50))
	}
	isNaN(t, "no load", TeamLiftLb(2, 0))
	for _, c := range []struct {
		weight float64
		want   int
	}{{1, 1}, {51, 1}, {51.1, 2}, {68, 2}, {68.1, 3}, {76.5, 3}, {76.6, 4}, {102, 4}} {
		same(t, "carriers", value[int](t)(Carriers(c.weight, NIOSHLoadLb)), c.want)
	}
	_, err := Carriers(102.1, NIOSHLoadLb)
	fails(t, "more than four carry", err, ErrCannot)
	for _, w := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := Carriers(w, NIOSHLoadLb)
		fails(t, "no weight", err, ErrRange)
	}
}

// Sources: UPC 804.1 as its publisher's training text prints it (6 in 152, 18
// in 457, 30 in 762 mm), a city's IPC 802.3 (30 in 762, 54 in 1372, 1 in 25
// mm), the scopes of ASSE 1001 (6 in 152) and ASSE 1056 (12 in 305), Food Code
// 4-402 (6 in 15 cm, 1/32 in 1 mm).
func TestPrinted(t *testing.T) {
	for _, c := range []struct {
		p        Print
		in, want float64
	}{
		{WholeMM, 6, 152}, {WholeMM, 12, 305}, {WholeMM, 18, 457}, {WholeMM, 30, 762}, {WholeMM, 54, 1372}, {WholeMM, 1, 25},
		{FoodCodeCM, 6, 150}, {FoodCodeCM, 4, 100}, {FoodCodeCM, 1.0 / 32, 1},
	} {
		near(t, "printed", PrintedMM(c.p, c.in), c.want, 0)
	}
	isNaN(t, "no limit", PrintedMM(WholeMM, 0))
}

func TestTwin(t *testing.T) {
	same(t, "UPC", IndirectWasteRule.For(UPC).Document, "UPC")
	same(t, "IPC", IndirectWasteRule.For(IPC), IPC802_1)
	for _, f := range []CodeFamily{NSPC, "", "other"} {
		s := IndirectWasteRule.For(f)
		same(t, "as a measure", s.Document, "model code IPC, as a measure,")
		same(t, "same clause", s.Clause, IPC802_1.Clause)
	}
	for i, r := range []Twin{IndirectWasteRule} {
		if r.IPC.Document != "IPC" || r.UPC.Document != "UPC" || r.IPC.Clause == "" || r.UPC.Clause == "" {
			t.Errorf("twin %d is %v and %v", i, r.IPC, r.UPC)
		}
	}
}
