package trade

import (
	"math"
	"testing"
)

// Source: BS 7671:2018 and IEC 60364-5-52, iec_cables.csv.
func TestBS7671(t *testing.T) {
	rows := table(t, "iec_cables.csv", 6)
	for i, row := range rows {
		a := num(t, row, "mm2")
		same(t, "area", iecCables[i].mm2, a)
		near(t, row["mm2"]+" two-core", value[float64](t)(IECMilliVolts(a, 1)), num(t, row, "mv2"), 0)
		near(t, row["mm2"]+" three-core", value[float64](t)(IECMilliVolts(a, 3)), num(t, row, "mv3"), 0)
		near(t, row["mm2"]+" C, 2 loaded", value[float64](t)(IECAmpacity(a, Multicore, 2)), num(t, row, "c2"), 0)
		near(t, row["mm2"]+" C, 3 loaded", value[float64](t)(IECAmpacity(a, Multicore, 3)), num(t, row, "c3"), 0)
		near(t, row["mm2"]+" flat", value[float64](t)(IECAmpacity(a, FlatCable, 2)), num(t, row, "flat"), 0)
		// IEC 60364-5-52 Annex G, copper at 0.0225 ohm mm2/m: there and back in
		// single phase, sqrt 3 in three phase.
		rel(t, row["mm2"]+" by Annex G", 2*1000*0.0225/a, num(t, row, "mv2"), 0.04)
		rel(t, row["mm2"]+" by Annex G, 3 phase", math.Sqrt(3)*1000*0.0225/a, num(t, row, "mv3"), 0.05)
	}
	same(t, "areas", len(iecCables), 6)
	_, err := IECMilliVolts(3, 1)
	fails(t, "3 mm2", err, ErrNotTabulated)
	_, err = IECMilliVolts(2.5, 2)
	fails(t, "two phases", err, ErrRange)
	_, err = IECAmpacity(2.5, FlatCable, 3)
	fails(t, "flat, three loaded", err, ErrNotTabulated)
	_, err = IECAmpacity(3, FlatCable, 2)
	fails(t, "3 mm2", err, ErrNotTabulated)
	isNaN(t, "negative", IECDrop(18, -1, 18))
	for _, c := range []struct {
		private, lighting bool
		length, want      float64
	}{
		{false, true, 50, 3}, {false, false, 100, 5}, {false, false, 150, 5.25}, {false, false, 200, 5.5}, {false, false, 500, 5.5},
		{true, true, 10, 6}, {true, false, 10, 8},
	} {
		near(t, "limit", IECDropLimitPct(c.private, c.lighting, c.length), c.want, 1e-12)
	}
	isNaN(t, "negative length", IECDropLimitPct(false, false, -1))
}
