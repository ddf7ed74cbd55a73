package trade

// Static pressure above which it must be reduced, psi. Sources: IPC604_8 (80
// psi read in a copy), UPC608_2 (from memory). Some cities act only above 100 psi.
const MaxStaticPSI = 80.0

// NeedsRegulator reports whether a static pressure calls for a reducing valve;
// false for NaN. Source: IPC604_8. Exactly 80 psi does not.
func NeedsRegulator(staticPSI float64) bool { return staticPSI > MaxStaticPSI }

// Least flowing pressures, psi, of common fixtures. Source: IPCE103Min.
const (
	FlushTankMinPSI  = 8.0
	FlushValveMinPSI = 15.0
	BlowoutMinPSI    = 25.0
)

// WaterHammerArrester is the standard of the arrester wanted where
// quick-closing valves, such as a machine's solenoid, are used. Source:
// IPC604_9 (from memory).
const WaterHammerArrester = "ASSE 1010"
