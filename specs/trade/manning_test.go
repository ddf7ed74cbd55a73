package trade

import (
	"math"
	"testing"
)

// Source: Manning's equation checked three ways (circular segment, numerical
// integral of the chord, a general fluids library), manning_capacity.csv.
func TestManningCapacity(t *testing.T) {
	pipes := map[string]Drainpipe{"PVC Sch40 DWV": PVCDWV, "Copper DWV": CopperDWV, "Cast iron no-hub": CastIron}
	depths := map[string]int{}
	for _, row := range table(t, "manning_capacity.csv", 207) {
		bore, n, slope := num(t, row, "id_in"), num(t, row, "n"), num(t, row, "slope_in_per_ft")
		name := row["material"] + " " + row["nominal_in"] + " n " + row["n"] + " " + row["slope_in_per_ft"] + " " + row["depth_label"]
		depth := map[string]float64{"1/2": HalfFull, "2/3": TwoThirdsFull, "full": FullBore}[row["depth_label"]]
		depths[row["depth_label"]]++
		f := value[PipeFlow](t)(Manning(bore, n, slope, depth))
		rel(t, name+" area", f.AreaFt2, num(t, row, "area_ft2"), 2e-5)
		rel(t, name+" perimeter", f.PerimeterFt, num(t, row, "wetted_perimeter_ft"), 2e-5)
		rel(t, name+" radius", f.RadiusFt, num(t, row, "hydraulic_radius_ft"), 2e-5)
		rel(t, name+" velocity", f.VelocityFPS, num(t, row, "velocity_fps"), 1e-4)
		rel(t, name+" flow", f.FlowGPM, num(t, row, "flow_gpm"), 1e-4)
		rel(t, name+" litres", f.FlowGPM*LPerGal/60, num(t, row, "flow_L_per_s"), 1e-4)
		rel(t, name+" slope", SlopeRatio(slope), num(t, row, "slope_ft_per_ft"), 1e-5)
		if depth < 0.9 {
			near(t, name+" depth", value[float64](t)(ManningDepth(bore, n, slope, f.FlowGPM)), depth, 1e-9)
		}
		if m, tabulated := pipes[row["material"]]; tabulated {
			b, src, err := DrainBoreIn(m, row["nominal_in"])
			ok(t, name, err)
			near(t, name+" bore", b, bore, 0)
			if src.Document == "" {
				t.Errorf("%s: bore without source", name)
			}
			r := value[ManningRange](t)(ManningNOf(m))
			same(t, name+" n", r.Smooth == n || r.Design == n, true)
		}
	}
	for _, d := range []string{"1/2", "2/3", "full"} {
		same(t, "rows at "+d, depths[d], 69)
	}
}

func TestManningEdges(t *testing.T) {
	for _, c := range [][4]float64{{0, 0.01, 0.25, 0.5}, {1.5, 0, 0.25, 0.5}, {1.5, 0.01, 0, 0.5}, {1.5, 0.01, 0.25, 0}, {1.5, 0.01, 0.25, 1.01}, {math.NaN(), 0.01, 0.25, 0.5}, {1.5, 0.01, -0.25, 0.5}} {
		_, err := Manning(c[0], c[1], c[2], c[3])
		fails(t, "Manning", err, ErrRange)
	}
	_, err := ManningDepth(1.61, 0.009, 0.25, 17)
	fails(t, "more than it carries", err, ErrCannot)
	_, err = ManningDepth(1.61, 0.009, 0.25, 0)
	fails(t, "no flow", err, ErrRange)
	_, err = ManningDepth(0, 0.009, 0.25, 1)
	fails(t, "no bore", err, ErrRange)
	// Flow rises to 0.938 and is 1.076 times full bore there: textbook figures.
	full := value[PipeFlow](t)(Manning(2, 0.01, 0.25, 1))
	peak := value[PipeFlow](t)(Manning(2, 0.01, 0.25, 0.938))
	near(t, "peak over full", peak.FlowGPM/full.FlowGPM, 1.076, 0.0005)
	for y := 0.02; y < 0.93; y += 0.01 {
		a, b := value[PipeFlow](t)(Manning(2, 0.01, 0.25, y)), value[PipeFlow](t)(Manning(2, 0.01, 0.25, y+0.005))
		if !(b.FlowGPM > a.FlowGPM) {
			t.Errorf("flow falls at depth %v", y)
		}
	}
	_, err = ManningNOf("lead")
	fails(t, "lead", err, ErrNotTabulated)
	_, _, err = DrainBoreIn("lead", "2")
	fails(t, "lead", err, ErrNotTabulated)
	_, _, err = DrainBoreIn(CastIron, "1-1/4")
	fails(t, "no such size", err, ErrNotTabulated)
	near(t, "k in feet, 1.48592", manningK, 1.48592, 0.00001)
	near(t, "gpm per ft3/s, published 448.831", GPMPerCFS, 448.831, 0.0005)
}

// Source: plumbing engineering handbook Vol. 2 ch. 1 half-full table, n 0.015
// (from memory), half_full_n015_published.csv: 18 rows, 1.5 percent because
// the handbook's bores are rounded.
func TestHalfFullPublished(t *testing.T) {
	for _, row := range table(t, "half_full_n015_published.csv", 18) {
		name := row["bore_in"] + " at " + row["slope_in_per_ft"]
		f := value[PipeFlow](t)(Manning(num(t, row, "bore_in"), ManningNRough, num(t, row, "slope_in_per_ft"), HalfFull))
		rel(t, name+" gpm", f.FlowGPM, num(t, row, "published_gpm"), 0.015)
		rel(t, name+" fps", f.VelocityFPS, num(t, row, "published_fps"), 0.004)
		rel(t, name+" gpm recomputed", f.FlowGPM, num(t, row, "recomputed_gpm"), 2e-5)
		rel(t, name+" fps recomputed", f.VelocityFPS, num(t, row, "recomputed_fps"), 5e-5)
	}
}
