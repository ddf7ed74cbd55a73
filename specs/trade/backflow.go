package trade

// A BackflowDevice is a way of keeping used water out of the supply.
type BackflowDevice struct {
	Name               string
	Standard           string
	HighHazard         bool // accepted for high hazard
	BackSiphonage      bool
	BackPressure       bool
	LowHeadOnly        bool // back-pressure from low head only
	ContinuousPressure bool // may stand under pressure; meaningless for an air gap
	Relief             bool // discharges: needs a drain by air gap
	Testable           bool // an assembly to be tested at installation and yearly
	CommercialWasher   bool // in ASSE 1004's list for commercial dishwashing machines
	Source             Source
}

// backflowDevices is IPC Table 608.1. Sources: IPC608_1 (hazard columns from
// memory), ASSE1004 (its list read in a copy; it also names a hose-connection
// backflow preventer, which this table lacks). A plain check valve, or two in line,
// is no backflow preventer and is not here.
var backflowDevices = []BackflowDevice{
	{"air gap", "ASME A112.1.2", true, true, true, false, false, false, false, true, IPC608_1},
	{"atmospheric vacuum breaker", "ASSE 1001", true, true, false, false, false, false, false, true, IPC608_1},
	{"hose-connection vacuum breaker", "ASSE 1011", true, true, true, true, false, false, false, true, IPC608_1},
	{"dual check with intermediate vent", "ASSE 1012", false, true, true, false, true, true, false, false, IPC608_1},
	{"reduced-pressure assembly", "ASSE 1013", true, true, true, false, true, true, true, false, IPC608_1},
	{"double check assembly", "ASSE 1015", false, true, true, false, true, false, true, false, IPC608_1},
	{"pressure vacuum breaker", "ASSE 1020", true, true, false, false, true, false, true, true, IPC608_1},
	{"beverage-equipment preventer", "ASSE 1022", false, true, true, false, true, true, false, false, IPC608_1},
	{"dual check", "ASSE 1024", false, true, true, false, true, false, false, false, IPC608_1},
	{"spill-resistant vacuum breaker", "ASSE 1056", true, true, false, false, true, false, true, true, IPC608_1},
}

// FindBackflowDevice looks a device up by its standard, such as "ASSE 1013".
func FindBackflowDevice(standard string) (BackflowDevice, error) {
	for _, d := range backflowDevices {
		if d.Standard == standard {
			return d, nil
		}
	}
	return BackflowDevice{}, noRow("IPC Table 608.1", standard)
}

// AVBAboveRimIn is how far an atmospheric vacuum breaker stands above the
// highest outlet or flood rim, downstream of the last shut-off. Source:
// ASSE1001 (read in a secondary text).
const AVBAboveRimIn = 6.0

// PressureBreakerIn is how far a pressure-type or a spill-resistant vacuum
// breaker stands above the highest point downstream. Sources: PVBHeight,
// ASSE1056 (read in secondary texts).
const PressureBreakerIn = 12.0

// A BackflowPlace is what a device asks of the place where it stands.
type BackflowPlace struct {
	AboveOutletIn float64 // critical level above the highest outlet, piping or flood rim downstream; zero: any height
	Spills        bool    // under pressure all day, lets water out by a relief port or air inlet: needs a drain or a place for it
	TankAndPump   bool    // leaves no pressure behind it: needs a tank and a pump
	Source        Source
}

// backflowPlaces by standard; a hose-connection breaker is held to an
// atmospheric one's height. Sources: ASSE1001, ASSE1056, PVBHeight (read in
// secondary texts), the rest BackflowHabit (common practice, no source).
var backflowPlaces = map[string]BackflowPlace{
	"ASME A112.1.2": {TankAndPump: true, Source: BackflowHabit},
	"ASSE 1001":     {AboveOutletIn: AVBAboveRimIn, Source: ASSE1001},
	"ASSE 1011":     {AboveOutletIn: AVBAboveRimIn, Source: BackflowHabit},
	"ASSE 1012":     {Spills: true, Source: BackflowHabit},
	"ASSE 1013":     {Spills: true, Source: BackflowHabit},
	"ASSE 1015":     {Source: BackflowHabit},
	"ASSE 1020":     {AboveOutletIn: PressureBreakerIn, Spills: true, Source: PVBHeight},
	"ASSE 1022":     {Spills: true, Source: BackflowHabit},
	"ASSE 1024":     {Source: BackflowHabit},
	"ASSE 1056":     {AboveOutletIn: PressureBreakerIn, Spills: true, Source: ASSE1056},
}

// FindBackflowPlace returns what a device asks of its place, by its standard.
// Example: "ASSE 1020": 12 in above the highest outlet and a place for spillage.
func FindBackflowPlace(standard string) (BackflowPlace, error) {
	p, ok := backflowPlaces[standard]
	if !ok {
		return BackflowPlace{}, noRow("backflow device places", standard)
	}
	return p, nil
}
