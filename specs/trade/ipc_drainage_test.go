package trade

import (
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
		same(t, c.size+" fall", c.ipc*c.slope <= value[float64](t)(NominalIn(c.size)), true)
	}
	_, _, err := TrapArmMaxFt(IPC, "5")
	fails(t, "5 in", err, ErrNotTabulated)
	_, _, err = TrapArmMaxFt(NSPC, "2")
	fails(t, "NSPC", err, ErrNotTabulated)
	near(t, "two diameters", TrapArmMinIn(1.5), 3, 0)
	isNaN(t, "no bore", TrapArmMinIn(0))
}

// Sources: IPC 802.3 (a city code), UPC 803.3 (California 2019), IPC 802.4.3
// (from memory), UPC 804.1.
func TestIndirectWaste(t *testing.T) {
	ipc, upc := value[IndirectLimits](t)(IndirectWaste(IPC)), value[IndirectLimits](t)(IndirectWaste(UPC))
	same(t, "IPC, 30 in and 54 in", [3]float64{ipc.HorizontalIn, ipc.DevelopedIn, ipc.TreatedIn}, [3]float64{30, 54, 0})
	same(t, "UPC, 5 ft and 15 ft", [3]float64{upc.HorizontalIn, upc.DevelopedIn, upc.TreatedIn}, [3]float64{60, 60, 180})
	_, err := IndirectWaste(NSPC)
	fails(t, "NSPC", err, ErrNotTabulated)
	s := value[Standpipe](t)(StandpipeHeights(IPC))
	same(t, "IPC standpipe", [2]float64{s.MinIn, s.MaxIn}, [2]float64{18, 42})
	s = value[Standpipe](t)(StandpipeHeights(UPC))
	same(t, "UPC standpipe", [4]float64{s.MinIn, s.MaxIn, s.TrapMinIn, s.TrapMaxIn}, [4]float64{18, 30, 6, 18})
	_, err = StandpipeHeights(NSPC)
	fails(t, "NSPC", err, ErrNotTabulated)
	near(t, "sewer limit", SewerLimitF, 140, 0)
}
