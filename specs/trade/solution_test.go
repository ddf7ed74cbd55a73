package trade

import (
	"math"
	"testing"
)

// Source: FDA Food Code 4-501.114 in state copies (a Utah copy prints the same
// chlorine, iodine and quat figures); 40 CFR 180.940 limits from memory.
func TestSolution(t *testing.T) {
	nan := math.NaN()
	for s, want := range map[Sanitizer][2]float64{Chlorine: {200, 200}, Iodine: {25, 25}, Quat: {200, 400}} {
		a, b, err := NoRinse(s)
		ok(t, "no-rinse", err)
		near(t, "no-rinse", a, want[0], 0)
		near(t, "no-rinse by label", b, want[1], 0)
	}
	_, _, err := NoRinse(0)
	fails(t, "no sanitizer", err, ErrRange)
	for _, c := range [][3]float64{{7, 120, 25}, {10, 119.9, 50}, {10, 100, 50}, {8, 99.9, 50}, {8, 75, 50}, {8.1, 99.9, 100}, {8, 74.9, 100}, {10, 55, 100}} {
		mg := value[float64](t)(ChlorineNeedMgL(c[0], c[1]))
		near(t, "chlorine needed", mg, c[2], 0)
		same(t, "agrees with the table", value[float64](t)(ChlorineMinF(mg, c[0])) <= c[1], true)
	}
	for _, c := range [][2]float64{{7, 54.9}, {10.1, 120}} {
		_, err := ChlorineNeedMgL(c[0], c[1])
		fails(t, "no strength does", err, ErrCannot)
	}
	_, err = ChlorineNeedMgL(nan, 70)
	fails(t, "no pH", err, ErrRange)
	for _, c := range []struct {
		target, tol, floor float64
		want               bool
	}{{50, 5, 50, true}, {55, 5, 50, false}, {54.9, 5, 50, true}, {50, 0, 50, false}, {49, 5, 50, false}, {nan, 5, 50, false}} {
		same(t, "dips", DipsBelow(c.target, c.tol, c.floor), c.want)
	}
}

// Sources: scopes of ASSE 1001-2008 (6 in) and ASSE 1056-2013 (12 in) on
// catalogue pages; city cross-connection rules (12 in for pressure vacuum
// breakers).
func TestBackflowPlace(t *testing.T) {
	for _, d := range backflowDevices {
		p := value[BackflowPlace](t)(FindBackflowPlace(d.Standard))
		if d.Relief {
			same(t, d.Name+": its relief port spills", p.Spills, true)
		}
		if !d.BackPressure {
			same(t, d.Name+": spills where it stands under pressure", p.Spills, d.ContinuousPressure)
		}
		if !d.LowHeadOnly {
			same(t, d.Name+": height asked where it only breaks vacuum", p.AboveOutletIn > 0, !d.BackPressure)
		}
		if p.Source.Document == "" {
			t.Errorf("%s has no source", d.Name)
		}
	}
	for standard, want := range map[string]float64{"ASSE 1001": 6, "ASSE 1011": 6, "ASSE 1020": 12, "ASSE 1056": 12, "ASSE 1013": 0} {
		near(t, standard, value[BackflowPlace](t)(FindBackflowPlace(standard)).AboveOutletIn, want, 0)
	}
	same(t, "an air gap needs tank and pump", value[BackflowPlace](t)(FindBackflowPlace("ASME A112.1.2")).TankAndPump, true)
	_, err := FindBackflowPlace("check valve")
	fails(t, "a check valve is none", err, ErrNotTabulated)
}

// Common practice, no source.
func TestRegulator(t *testing.T) {
	for _, c := range []struct {
		gauge, tag, tol float64
		want            bool
	}{{60, 60, 4, false}, {64, 60, 4, false}, {64.1, 60, 4, true}, {75, 60, 4, true}, {50, 60, 4, false}, {60.1, 60, 0, true}, {math.NaN(), 60, 4, false}} {
		same(t, "above its tag", AboveTag(c.gauge, c.tag, c.tol), c.want)
	}
	near(t, "fall-off", RegulatorFallPSI, 10, 0)
}
