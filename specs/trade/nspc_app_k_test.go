package trade

import "testing"

// fillRatios are flow and velocity at a relative depth as multiples of those
// at half full; they depend on nothing else.
func fillRatios(t *testing.T, depth float64) (flow, velocity float64) {
	t.Helper()
	f := value[PipeFlow](t)(Manning(1, 0.01, 0.25, depth))
	h := value[PipeFlow](t)(Manning(1, 0.01, 0.25, HalfFull))
	return f.FlowGPM / h.FlowGPM, f.VelocityFPS / h.VelocityFPS
}

// Source: NSPC 2009 Appendix K: multipliers of the half-full figures, design
// basis, scour velocity.
func TestNSPCAppK(t *testing.T) {
	for _, c := range []struct{ depth, flow, velocity, flow2, velocity2 float64 }{
		{0.25, 0.274, 0.701, 0.2740, 0.7007},
		{0.50, 1, 1, 1, 1},
		{0.75, 1.82, 1.13, 1.8238, 1.1335},
		{1.00, 2.00, 1.00, 2.0000, 1.0000},
	} {
		q, v := fillRatios(t, c.depth)
		rel(t, "flow, published", q, c.flow, 0.0025)
		rel(t, "velocity, published", v, c.velocity, 0.0035)
		near(t, "flow, recomputed", q, c.flow2, 0.00005)
		near(t, "velocity, recomputed", v, c.velocity2, 0.00005)
	}
	q, v := fillRatios(t, TwoThirdsFull)
	near(t, "two thirds, flow", q, 1.5678, 0.00005)
	near(t, "two thirds, velocity", v, 1.1069, 0.00005)
	// It says 1-1/4 to 2 in at 1/4 in/ft stay under 2 fps half full. A 2.00 in
	// bore with n 0.012 does not, so its smooth n must be at least 0.0129.
	at := func(n float64) float64 { return value[PipeFlow](t)(Manning(2, n, 0.25, HalfFull)).VelocityFPS }
	near(t, "n 0.012", at(0.012), 2.15, 0.005)
	same(t, "n 0.0129", at(0.0129) <= 2.0005, true)
	// Slopes of the appendix.
	for _, c := range []struct {
		size string
		want float64
	}{{"1-1/4", 0.25}, {"2", 0.25}, {"2-1/2", 0.25}, {"3", 0.125}, {"4", 0.125}} {
		near(t, c.size, value[float64](t)(MinSlopeInPerFt(NSPC, c.size, false)), c.want, 0)
	}
}
