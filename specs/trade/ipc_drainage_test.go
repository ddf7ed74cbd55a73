package trade

import (
	"math"
	"testing"
)

// Sources: IPC Table 704.1 (an IPC-based city code), UPC 708 (forum quotation;
// 4 in and larger from memory).
func TestMinSlope(t *testing.T) {
	for _, c := range []struct {
		code     CodeFamily
		size     string
		approved bool
		want     float64
	}{
		{IPC, "1-1/4", false, 0.25}, {IPC, "1-1/2", false, 0.25}, {IPC, "2", false, 0.25}, {IPC, "2-1/2", false, 0.25},
		{IPC, "3", false, 0.125}, {IPC, "4", false, 0.125}, {IPC, "6", false, 0.125}, {IPC, "8", false, 0.0625}, {IPC, "10", false, 0.0625},
		{UPC, "1-1/2", false, 0.25}, {UPC, "4", false, 0.25}, {UPC, "3", true, 0.25}, {UPC, "4", true, 0.125}, {IPC, "2", true, 0.25},
	} {
		near(t, string(c.code)+" "+c.size, value[float64](t)(MinSlopeInPerFt(c.code, c.size, c.approved)), c.want, 0)
	}
	_, err := MinSlopeInPerFt("none", "2", false)
	fails(t, "code", err, ErrNotTabulated)
	_, err = MinSlopeInPerFt(IPC, "two", false)
	fails(t, "size", err, ErrNotTabulated)
	for _, c := range [][2]float64{{0.25, 0.0208333}, {0.125, 0.0104167}, {0.5, 0.0416667}} {
		near(t, "slope", SlopeRatio(c[0]), c[1], 5e-8)
	}
}

// Sources: IPC 2018 Table 710.1(1), IPC 2012 Table 710.1(2), UPC 703.2 (from
// memory), branch_capacity.csv.
func TestBranchCapacity(t *testing.T) {
	for _, row := range table(t, "branch_capacity.csv", 6) {
		for _, c := range []struct {
			key   string
			table BranchTable
			slope float64
		}{
			{"ipc1_eighth", IPCBuildingDrain, 0.125}, {"ipc1_quarter", IPCBuildingDrain, 0.25}, {"ipc1_half", IPCBuildingDrain, 0.5},
			{"ipc2_branch", IPCBranch, 0.25}, {"upc_horizontal", UPCHorizontalPipe, 0.25},
		} {
			got, err := BranchCapacityDFU(c.table, row["size"], c.slope)
			if row[c.key] == "" {
				fails(t, row["size"]+" "+c.key, err, ErrNotTabulated)
				continue
			}
			ok(t, row["size"]+" "+c.key, err)
			near(t, row["size"]+" "+c.key, got, num(t, row, c.key), 0)
		}
	}
	near(t, "between two slopes the flatter", value[float64](t)(BranchCapacityDFU(IPCBuildingDrain, "3", 0.2)), 36, 0)
	_, err := BranchCapacityDFU(IPCBuildingDrain, "3", 0.1)
	fails(t, "too flat", err, ErrNotTabulated)
	_, err = BranchCapacityDFU(IPCBranch, "3", 0)
	fails(t, "level", err, ErrRange)
	_, err = BranchCapacityDFU(0, "3", 0.25)
	fails(t, "no table", err, ErrNotTabulated)
	_, err = BranchCapacityDFU(IPCBranch, "5", 0.25)
	fails(t, "5 in", err, ErrNotTabulated)
}

// Sources: IPC 709 (from memory, 709.4 seen), an agency's UPC-derived table.
func TestFixtureUnits(t *testing.T) {
	near(t, "sum governs", ReceptorDFU(2, 2, 1), 3, 0)
	near(t, "own value governs", ReceptorDFU(2, 1), 2, 0)
	near(t, "nothing discharges", ReceptorDFU(2), 2, 0)
	isNaN(t, "negative", ReceptorDFU(2, -1))
	want := map[string][3]any{
		"floor drain": {2.0, "2", ""}, "emergency floor drain": {0.0, "2", ""}, "domestic dishwasher": {2.0, "1-1/2", ""},
		"UPC receptor for commercial sinks or dishwashers": {3.0, "2", ""}, "UPC receptor for refrigerators, coffee urns and the like": {1.0, "1-1/2", ""},
		"UPC commercial bar sink": {2.0, "1-1/2", "2"}, "UPC commercial sink, dishwasher included": {3.0, "1-1/2", "2"},
	}
	same(t, "receptors", len(Receptors()), len(want))
	for _, r := range Receptors() {
		same(t, r.Name, [3]any{r.DFU, r.TrapIn, r.Waste}, want[r.Name])
	}
}

// Sources: IPC 909.1 (trade article), UPC 1002.2 (manual and exam texts).
func TestTrapArm(t *testing.T) {
	for _, c := range []struct {
		size            string
		ipc, slope, upc float64
	}{{"1-1/4", 5, 0.25, 2.5}, {"1-1/2", 6, 0.25, 3.5}, {"2", 8, 0.25, 5}, {"3", 12, 0.125, 6}, {"4", 16, 0.125, 10}} {
		l, s, err := TrapArmMaxFt(IPC, c.size)
		ok(t, c.size, err)
		near(t, c.size+" IPC", l, c.ipc, 0)
		near(t, c.size+" IPC slope", s, c.slope, 0)
		l, s, err = TrapArmMaxFt(UPC, c.size)
		ok(t, c.size, err)
		near(t, c.size+" UPC", l, c.upc, 0)
		near(t, c.size+" UPC slope", s, 0.25, 0)
		// 909.2: at its own slope no IPC length falls by more than the diameter.
		same(t, c.size+" fall", TrapArmFallOK(c.ipc, c.slope, value[float64](t)(NominalIn(c.size))), true)
	}
	_, _, err := TrapArmMaxFt(IPC, "5")
	fails(t, "5 in", err, ErrNotTabulated)
	_, _, err = TrapArmMaxFt(NSPC, "2")
	fails(t, "NSPC", err, ErrNotTabulated)
	same(t, "too steep", TrapArmFallOK(6, 0.26, 1.5), false)
	same(t, "too short", TrapArmFallOK(0.24, 0.25, 1.5), false)
	same(t, "two diameters", TrapArmFallOK(0.25, 0.25, 1.5), true)
	same(t, "NaN", TrapArmFallOK(math.NaN(), 0.25, 1.5), false)
}

// Sources: IPC 802.3 (a city code), UPC 803.3 (California 2019), IPC 802.4.3
// (from memory), UPC 804.1.
func TestIndirectWaste(t *testing.T) {
	for _, c := range []struct {
		code         CodeFamily
		horiz, total float64
		want         IndirectTrap
	}{
		{IPC, 30, 54, TrapNotNeeded}, {IPC, 30.1, 54, TrapNeeded}, {IPC, 30, 54.1, TrapNeeded}, {IPC, 0, 0, TrapNotNeeded},
		{UPC, 60, 60, TrapNotNeeded}, {UPC, 30, 60.1, TrapNeeded}, {UPC, 30, 179.9, TrapNeeded}, {UPC, 30, 180, PipeTooLong},
	} {
		same(t, string(c.code), value[IndirectTrap](t)(IndirectTrapNeeded(c.code, c.horiz, c.total)), c.want)
	}
	_, err := IndirectTrapNeeded(IPC, 31, 30)
	fails(t, "horizontal beyond total", err, ErrRange)
	_, err = IndirectTrapNeeded(IPC, -1, 30)
	fails(t, "negative", err, ErrRange)
	_, err = IndirectTrapNeeded(NSPC, 1, 30)
	fails(t, "NSPC", err, ErrNotTabulated)
	s := value[Standpipe](t)(StandpipeHeights(IPC))
	same(t, "IPC standpipe", [2]float64{s.MinIn, s.MaxIn}, [2]float64{18, 42})
	s = value[Standpipe](t)(StandpipeHeights(UPC))
	same(t, "UPC standpipe", [4]float64{s.MinIn, s.MaxIn, s.TrapMinIn, s.TrapMaxIn}, [4]float64{18, 30, 6, 18})
	_, err = StandpipeHeights(NSPC)
	fails(t, "NSPC", err, ErrNotTabulated)
	near(t, "sewer limit", SewerLimitF, 140, 0)
}
