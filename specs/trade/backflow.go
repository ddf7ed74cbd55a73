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
// memory), ASSE1004 (its list confirmed; it also names a hose-connection
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
// IPC608_1 (from memory).
const AVBAboveRimIn = 6.0
