package trade

import "math"

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

// BackflowDevices returns the devices of the table.
func BackflowDevices() []BackflowDevice { return append([]BackflowDevice(nil), backflowDevices...) }

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

// A BackflowPlace is what a device asks of the place where it stands. Zero
// heights mean that none is published: place it to its listing.
type BackflowPlace struct {
	AboveOutletIn float64 // critical level above the highest outlet, piping or flood rim downstream
	AboveFloorIn  float64 // above the floor or the highest flood level there
	AfterLastStop bool    // no shut-off downstream of it
	MaxHours      float64 // longest time under pressure; +Inf when continuous
	BackPressure  bool    // may see back-pressure
	SpillagePlace bool    // water that it lets out must be able to fall somewhere
	ReliefDrain   bool    // relief port: needs a drain by air gap, never submerged
	TankAndPump   bool    // leaves no pressure behind it: needs a tank and a pump
	Source        Source
}

// backflowPlaces by standard. The hours and heights of the atmospheric and the
// spill-resistant breaker are those of their standards' scopes; a
// spill-resistant one closes without spilling, yet lets a little out when it
// acts. Sources: ASSE1001, ASSE1056, PVBHeight, RPHeight (read in secondary
// texts), the rest BackflowHabit (common practice, no source).
var backflowPlaces = map[string]BackflowPlace{
	"ASME A112.1.2": {MaxHours: math.Inf(1), BackPressure: true, TankAndPump: true, Source: AirGapSupply},
	"ASSE 1001":     {AboveOutletIn: AVBAboveRimIn, AfterLastStop: true, MaxHours: 12, SpillagePlace: true, Source: ASSE1001},
	"ASSE 1011":     {AfterLastStop: true, MaxHours: 12, SpillagePlace: true, Source: BackflowHabit},
	"ASSE 1012":     {MaxHours: math.Inf(1), BackPressure: true, ReliefDrain: true, Source: BackflowHabit},
	"ASSE 1013":     {AboveFloorIn: 12, MaxHours: math.Inf(1), BackPressure: true, ReliefDrain: true, Source: RPHeight},
	"ASSE 1015":     {MaxHours: math.Inf(1), BackPressure: true, Source: BackflowHabit},
	"ASSE 1020":     {AboveOutletIn: 12, MaxHours: math.Inf(1), SpillagePlace: true, Source: PVBHeight},
	"ASSE 1022":     {MaxHours: math.Inf(1), BackPressure: true, ReliefDrain: true, Source: BackflowHabit},
	"ASSE 1024":     {MaxHours: math.Inf(1), BackPressure: true, Source: BackflowHabit},
	"ASSE 1056":     {AboveOutletIn: 12, MaxHours: math.Inf(1), SpillagePlace: true, Source: ASSE1056},
}

// FindBackflowPlace returns what a device asks of its place, by its standard.
// Example: "ASSE 1020": 12 in above the highest outlet, no back-pressure, a
// place for spillage.
func FindBackflowPlace(standard string) (BackflowPlace, error) {
	p, ok := backflowPlaces[standard]
	if !ok {
		return BackflowPlace{}, noRow("backflow device places", standard)
	}
	return p, nil
}

// HighEnough reports whether the device stands high enough above what lies
// downstream and above the floor, inches, as the codes print it (12 in is
// 304.8 mm, 6 in is 152 mm). A height that isn't asked for may be NaN.
func (p BackflowPlace) HighEnough(aboveOutletIn, aboveFloorIn float64) bool {
	return (p.AboveOutletIn == 0 || AtLeastPrinted(WholeMM, aboveOutletIn, p.AboveOutletIn)) &&
		(p.AboveFloorIn == 0 || AtLeastPrinted(WholeMM, aboveFloorIn, p.AboveFloorIn))
}

// A TemperNeed is what a cold line that tempers a drain must have.
type TemperNeed int

const (
	TemperColdLine TemperNeed = iota + 1 // any cold water at all
	TemperBackflow                       // protection of its own, for a line that ends in a drain
	TemperValve                          // a valve that opens by temperature
	TemperShutOff
)

// TemperNeeds returns everything that a tempering line must have. Without the
// first the others have no meaning. Its pressure and flow are asked as well,
// see [TemperFlow]. Source: TemperingLine (common practice, no source), the
// protection by IPC608_1 and UPC603_2.
func TemperNeeds() []TemperNeed {
	return []TemperNeed{TemperColdLine, TemperBackflow, TemperValve, TemperShutOff}
}
