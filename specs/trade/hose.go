package trade

import "math"

// A HoseState is what a pumped drain hose does once the pump has stopped.
type HoseState int

const (
	HoseUnknown HoseState = iota // a height is missing
	HoseHolds                    // nothing runs by itself
	HoseRuns                     // its whole length lies below the water: the tank runs empty
	HoseSiphons                  // it rises above the water but, once filled, siphons it out
)

// A Hose is a pumped drain hose. Heights are inches above one level, such as
// the finished floor; NaN is one that isn't known.
type Hose struct {
	WaterIn float64 // highest water level of the tank
	TopIn   float64 // top of the hose's highest loop
	EndIn   float64 // its end, or the water it dips into
	AirIn   bool    // air enters at the top: a vented loop, a vacuum breaker or a gap there
}

// State returns what the hose does.
//
//	end not below the water:       holds
//	top not above the water:       runs, pumped or not
//	top above, end below the water: siphons once the pump has filled it,
//	                               unless air enters at the top
//
// Source: SiphonLaw (derived). Example: water at 14 in, loop at 20 in, end at
// 2 in: siphons; with the end in a standpipe at 24 in: holds.
func (h Hose) State() HoseState {
	switch {
	case !finite(h.WaterIn, h.EndIn):
		return HoseUnknown
	case h.EndIn >= h.WaterIn:
		return HoseHolds
	case !finite(h.TopIn):
		return HoseUnknown
	case h.TopIn <= h.WaterIn:
		return HoseRuns
	case h.AirIn:
		return HoseHolds
	}
	return HoseSiphons
}

// TrapDepthIn returns how far a trap reaches below its weir: its bore and its
// seal. A trap added to a pipe needs that much room below the pipe, and the
// pipe's end must reach its inlet. NaN unless the bore is positive and the
// seal within 2 to 4 in. Source: Geometry, the seal IPC1002. Example: 1.610 in
// bore with a 2 in seal: 3.61 in.
func TrapDepthIn(boreIn, sealIn float64) float64 {
	if !positive(boreIn) || !(sealIn >= TrapSealMinIn && sealIn <= TrapSealMaxIn) {
		return math.NaN()
	}
	return boreIn + sealIn
}

// HubRimIn is the least height of an open hub drain's rim above a floor that
// water doesn't pass. Source: IPCHubDrain (from memory).
const HubRimIn = 1.0

// An AirBreakRule says whether a machine's waste may end in an air break.
type AirBreakRule int

const (
	AirBreakAsk     AirBreakRule = iota // ask the authority
	AirBreakAllowed                     // the code allows it as well as an air gap
)

// AirBreak returns the rule for a commercial dishwashing or glass washing
// machine and its source: the IPC allows air gap or air break, other codes
// must be asked. Source: IPC802_1_6 (read in a secondary text), IndirectWasteRule.
func AirBreak(code CodeFamily) (AirBreakRule, Source) {
	if code == IPC {
		return AirBreakAllowed, IPC802_1_6
	}
	return AirBreakAsk, IndirectWasteRule.For(code)
}
