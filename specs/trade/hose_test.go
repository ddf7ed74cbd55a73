package trade

import (
	"math"
	"testing"
)

// Source: a siphon runs while its lower end lies below the water it is fed
// from and no air enters at its top (derived).
func TestHose(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		h    Hose
		want HoseState
	}{
		{"loop and low end", Hose{14, 20, 2, false}, HoseSiphons},
		{"air at the top", Hose{14, 20, 2, true}, HoseHolds},
		{"end in a standpipe above", Hose{14, 30, 24, false}, HoseHolds},
		{"end level with the water", Hose{14, 14, 14, false}, HoseHolds},
		{"end just below", Hose{14, 20, 13.9, false}, HoseSiphons},
		{"no loop", Hose{14, 14, 2, false}, HoseRuns},
		{"air cannot help a hose that lies below", Hose{14, 10, 2, true}, HoseRuns},
		{"loop not known", Hose{14, nan, 2, false}, HoseUnknown},
		{"loop not needed", Hose{14, nan, 20, false}, HoseHolds},
		{"end not known", Hose{14, 20, nan, false}, HoseUnknown},
	} {
		same(t, c.name, c.h.State(), c.want)
	}
}

// Sources: UPC 804.1 as its publisher's training text prints it, with its
// total rise of 24 to 48 in above the floor; IPC 802.4.3 (18 to 42 in above
// the weir) and the open hub (1 in above the floor) from memory; IPC 802.1.6
// in a state's copy.
func TestStandpipeTrapHub(t *testing.T) {
	// Its total rise of 24 to 48 in above the floor, as the text prints it.
	upc := value[Standpipe](t)(StandpipeHeights(UPC))
	near(t, "UPC, published 24", upc.TrapMinIn+upc.MinIn, 24, 0)
	near(t, "UPC, published 48", upc.TrapMaxIn+upc.MaxIn, 48, 0)
	near(t, "1-1/2 in trap", TrapDepthIn(1.610, TrapSealMinIn), 3.61, 1e-12)
	isNaN(t, "shallow seal", TrapDepthIn(1.610, 1.9))
	isNaN(t, "deep seal", TrapDepthIn(1.610, 4.1))
	near(t, "hub", HubRimIn, 1, 0)
	r, src := AirBreak(IPC)
	same(t, "IPC allows it", r, AirBreakAllowed)
	same(t, "clause", src, IPC802_1_6)
	for _, c := range []CodeFamily{UPC, NSPC, "other"} {
		r, src = AirBreak(c)
		same(t, "ask", r, AirBreakAsk)
		same(t, "clause", src, IndirectWasteRule.For(c))
	}
}

// Source: lengths as an installation manual prints them (1/2 in: elbow 9.4,
// branch 10.4, run 2.2 ft).
func TestPEXInserts(t *testing.T) {
	ell, src, err := EquivalentFt(PEXInserts, Elbow90, "1/2")
	ok(t, "insert elbow", err)
	near(t, "insert elbow", ell, 9.4, 0)
	same(t, "mark", src.Mark, ReadCopy)
	solder, _, err := EquivalentFt(Soldered, Elbow90, "1/2")
	ok(t, "soldered elbow", err)
	same(t, "many times a soldered elbow", ell > 5*solder, true)
	_, _, err = EquivalentFt(PEXInserts, BallValve, "1/2")
	fails(t, "no column", err, ErrNotTabulated)
}
