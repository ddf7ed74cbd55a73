package trade

// Static pressure above which it must be reduced, psi. Sources: IPC604_8 (80
// psi read in a copy), UPC608_2 (from memory). Some cities act only above 100 psi.
const MaxStaticPSI = 80.0

// WaterHammerArrester is the standard of the arrester wanted where
// quick-closing valves, such as a machine's solenoid, are used. Source:
// IPC604_9 (from memory).
const WaterHammerArrester = "ASSE 1010"
