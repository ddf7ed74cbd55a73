package check

// Work is how much work a change is, from the smallest to the largest. The
// numbers are ranks for choosing between ways that both put a site right, in
// steps wide enough that a few small things outweigh one large one; they are
// no prices. Common practice, no source.
type Work int

// The kinds of work.
const (
	NoWork       Work = 0
	Noting       Work = 1    // a label, a note
	Adjusting    Work = 2    // a setting of what is there
	Accessory    Work = 4    // something bought and laid or hung there
	Device       Work = 10   // a device that takes the place of one that is there
	Fitting      Work = 14   // a fitting or valve put into a line
	PipeOrWire   Work = 30   // a pipe or wire of some length
	NewCircuit   Work = 60   // a circuit from the panel
	Carpentry    Work = 80   // an opening, a counter, a door
	FloorWork    Work = 160  // plumbing in the floor
	OtherOption  Work = 50   // another supply option of the same machine
	OtherMachine Work = 1000 // another machine
)
