package trade

import (
	"math"
	"testing"
)

// Source: NEC 240.4(D), wire-table pages; 18 and 16 AWG from memory.
func TestNEC240_4D(t *testing.T) {
	for _, c := range []struct {
		gauge string
		m     Metal
		amps  float64
	}{{"18", Copper, 7}, {"16", Copper, 10}, {"14", Copper, 15}, {"12", Copper, 20}, {"10", Copper, 30}, {"12", Aluminum, 15}, {"10", Aluminum, 25}} {
		a, limited := SmallConductorLimit(c.gauge, c.m)
		same(t, c.gauge+" limited", limited, true)
		near(t, c.gauge, a, c.amps, 0)
	}
	for _, g := range []string{"8", "1/0", ""} {
		_, limited := SmallConductorLimit(g, Copper)
		same(t, "limit of "+g, limited, false)
	}
}

// Source: NEC Table 250.122, engineering page and training newsletter.
func TestNEC250_122(t *testing.T) {
	for _, c := range []struct {
		amps   float64
		cu, al string
	}{
		{15, "14", "12"}, {20, "12", "10"}, {30, "10", "8"}, {40, "10", "8"}, {60, "10", "8"}, {100, "8", "6"}, {200, "6", "4"},
		{25, "10", "8"}, {35, "10", "8"}, {45, "10", "8"}, {50, "10", "8"}, {70, "8", "6"}, {80, "8", "6"}, {90, "8", "6"},
	} {
		same(t, "copper", value[string](t)(EGC(c.amps, Copper)), c.cu)
		same(t, "aluminum", value[string](t)(EGC(c.amps, Aluminum)), c.al)
	}
	for _, a := range []float64{0, -5, 201, math.NaN()} {
		_, err := EGC(a, Copper)
		fails(t, "device out of range", err, ErrRange)
	}
	_, err := EGC(20, 0)
	fails(t, "no metal", err, ErrNotTabulated)
}

// Worked examples of 250.122(B), with their sources.
func TestNEC250_122B(t *testing.T) {
	for _, c := range []struct {
		source           string
		ocpd             float64
		minimum, install string
		want             string
	}{
		{"engineering question page: 50 A, 8 to 1 AWG, 52,617 cmil", 50, "8", "1", "3"},
		{"engineering question page: 20 A, 12 to 1/0 AWG stays one to one", 20, "12", "1/0", "1/0"},
		{"electrical contractors' magazine: 20 A, 12 to 6 AWG", 20, "12", "6", "6"},
		{"code forum: 8 to 4 AWG, 26,242 cmil, 6 AWG is 2 cmil short", 40, "8", "4", "4"},
		{"no increase", 50, "8", "8", "10"},
	} {
		same(t, c.source, value[string](t)(EGCUpsized(c.ocpd, Copper, c.minimum, c.install)), c.want)
	}
	_, err := EGCUpsized(50, Copper, "4", "8")
	fails(t, "installed thinner", err, ErrRange)
	_, err = EGCUpsized(50, Copper, "8", "250")
	fails(t, "unknown gauge", err, ErrNotTabulated)
	_, err = EGCUpsized(500, Copper, "8", "8")
	fails(t, "device too large", err, ErrRange)
}

// Source: NEC 240.6(A), from memory.
func TestNEC240_6(t *testing.T) {
	want := []float64{15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200}
	old := value[[]float64](t)(StandardRatings(NEC2020))
	same(t, "ratings to 200 A", len(old), len(want))
	for i, w := range want {
		near(t, "rating", old[i], w, 0)
		near(t, "up from itself", value[float64](t)(NextStandardUp(w, NEC2020)), w, 0)
		near(t, "down from itself", value[float64](t)(NextStandardDown(w, NEC2020)), w, 0)
		near(t, "up from just below", value[float64](t)(NextStandardUp(w-0.01, NEC2020)), w, 0)
		if i > 0 {
			near(t, "down from just below", value[float64](t)(NextStandardDown(w-0.01, NEC2020)), want[i-1], 0)
		}
	}
	near(t, "10 A since 2023", value[float64](t)(NextStandardUp(8, NEC2023)), 10, 0)
	near(t, "15 A before", value[float64](t)(NextStandardUp(8, NEC2020)), 15, 0)
	for _, a := range []float64{0, 200.5, math.NaN()} {
		_, err := NextStandardUp(a, NEC2023)
		fails(t, "up out of range", err, ErrRange)
		_, err = NextStandardDown(a, NEC2023)
		fails(t, "down out of range", err, ErrRange)
	}
	_, err := StandardRatings(2019)
	fails(t, "edition", err, ErrRange)
}

// Sources: NEC 210.21(B), 210.23 and 422, from memory.
func TestNECLoads(t *testing.T) {
	for _, c := range [][2]float64{{15, 12}, {20, 16}, {30, 24}} {
		near(t, "80 percent", value[float64](t)(CordLoadLimit(c[0])), c[1], 1e-12)
	}
	for _, c := range [][2]float64{{15, 7.5}, {20, 10}} {
		near(t, "50 percent", value[float64](t)(FastenedLoadLimit(c[0])), c[1], 1e-12)
	}
	_, err := CordLoadLimit(50)
	fails(t, "50 A", err, ErrNotTabulated)
	_, err = FastenedLoadLimit(30)
	fails(t, "30 A", err, ErrNotTabulated)

	for _, c := range []struct{ rated, marked, want float64 }{
		{10, 0, 20}, {13.3, 0, 20}, {13.4, 0, 25}, {24, 0, 40}, {24, 30, 30}, {20, 0, 30}, {30, 0, 45},
	} {
		near(t, "422.11(E)", value[float64](t)(ApplianceOCPD(c.rated, c.marked, NEC2020)), c.want, 0)
	}
	_, err = ApplianceOCPD(0, 0, NEC2020)
	fails(t, "no rating", err, ErrRange)
	for _, c := range []struct {
		amps float64
		want int
	}{{48, 1}, {48.1, 2}, {60, 2}, {96, 2}, {97, 3}} {
		same(t, "422.11(F)", value[int](t)(HeaterSubdivisions(c.amps)), c.want)
	}
	_, err = HeaterSubdivisions(-1)
	fails(t, "negative", err, ErrRange)
}

// Source: NEC 110.14(C)(1), read in a secondary text.
func TestTerminalColumn(t *testing.T) {
	for _, c := range []struct {
		amps   float64
		marked bool
		want   Column
	}{{20, false, Col60}, {100, false, Col60}, {100.5, false, Col75}, {20, true, Col75}} {
		same(t, "terminal", value[Column](t)(TerminalColumn(c.amps, c.marked)), c.want)
	}
	_, err := TerminalColumn(0, true)
	fails(t, "no rating", err, ErrRange)
}

// Source: NEC 110.26(A), trade articles 2005 to 2023; 42 and 48 in from memory.
func TestNEC110_26(t *testing.T) {
	for _, c := range []struct {
		volts float64
		cond  int
		want  float64
	}{{120, 1, 36}, {120, 2, 36}, {150, 3, 36}, {151, 1, 36}, {277, 2, 42}, {277, 3, 48}, {600, 3, 48}, {150.5, 3, 48}} {
		near(t, "depth", value[float64](t)(WorkspaceDepthIn(c.volts, c.cond)), c.want, 0)
	}
	for _, v := range []float64{0, -1, 601, math.NaN()} {
		_, err := WorkspaceDepthIn(v, 1)
		fails(t, "voltage", err, ErrRange)
	}
	_, err := WorkspaceDepthIn(120, 4)
	fails(t, "condition", err, ErrRange)
	near(t, "width", WorkspaceMinWidthIn, 30, 0)
	near(t, "height", WorkspaceHeightIn, 6.5*12, 0)
}
