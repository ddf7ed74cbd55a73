package trade

import (
	"math"
	"testing"
)

// Source: IAPWS-IF97 at 60 psig by a steam-table library,
// water_properties_iapws.csv: 58 rows, 20 of them off the package's 4 F grid.
func TestIAPWS(t *testing.T) {
	off := 0
	for _, row := range table(t, "water_properties_iapws.csv", 58) {
		f := num(t, row, "temp_F")
		if math.Mod(f, 4) != 0 {
			off++
		}
		name := row["temp_F"] + " F"
		rel(t, name+" density", WaterDensityKgM3(f), num(t, row, "density_kg_m3"), 2e-7)
		rel(t, name+" kinematic viscosity", KinematicViscosityM2S(f), num(t, row, "kinematic_viscosity_m2_s"), 2e-5)
	}
	if off < 20 {
		t.Errorf("only %d rows off the grid", off)
	}
	t.Logf("%d rows off the grid", off)
}

// Source: the same library at 41 temperatures between the grid's rows and
// above 180 F, water_midpoints_iapws.csv.
func TestIAPWSMidpoints(t *testing.T) {
	for _, row := range table(t, "water_midpoints_iapws.csv", 41) {
		f := num(t, row, "temp_F")
		name := row["temp_F"] + " F"
		rel(t, name+" density", WaterDensityKgM3(f), num(t, row, "density_kg_m3"), 1e-6)
		rel(t, name+" kinematic viscosity", KinematicViscosityM2S(f), num(t, row, "kinematic_viscosity_m2_s"), 2e-5)
	}
}

func TestWaterEdges(t *testing.T) {
	for _, f := range []float64{31.999, 212.001, math.NaN(), math.Inf(1), math.Inf(-1)} {
		isNaN(t, "density", WaterDensityKgM3(f))
		isNaN(t, "viscosity", KinematicViscosityM2S(f))
	}
	near(t, "first row", WaterDensityKgM3(32), 1000.0547, 1e-9)
	near(t, "last row", WaterDensityKgM3(212), 958.5481, 1e-9)
	// Density and viscosity fall with temperature from the maximum near 39 F.
	for f := 40.0; f < 212; f++ {
		if !(WaterDensityKgM3(f+1) < WaterDensityKgM3(f)) || !(KinematicViscosityM2S(f+1) < KinematicViscosityM2S(f)) {
			t.Errorf("not monotone at %v F", f)
		}
	}
	// 8.33 lb/gal is 60 to 70 F water and 1.5 percent high at 140 F.
	lbGal := func(f float64) float64 { return WaterDensityKgM3(f) / KgPerLb * LPerGal / 1000 }
	rel(t, "65 F", lbGal(65), SimpleLbGal, 0.001)
	near(t, "140 F", SimpleLbGal/lbGal(140)-1, 0.015, 0.0005)
}

// Source: USGS classes; 1 grain per gallon is 17.118 mg/L by definition, 17.1
// in practice.
func TestHardness(t *testing.T) {
	near(t, "1 gpg", MgLPerGPG, 17.118, 0.0005)
	for _, c := range []struct {
		mgL  float64
		want string
	}{
		{0, "soft"}, {60, "soft"}, {60.1, "moderately hard"}, {120, "moderately hard"}, {121, "hard"}, {180, "hard"}, {180.1, "very hard"}, {500, "very hard"},
	} {
		got, err := HardnessClass(c.mgL)
		ok(t, "class", err)
		same(t, "class", got, c.want)
	}
	// The printed gpg limits are the mg/L limits rounded.
	for _, c := range [][2]float64{{60, 3.5}, {120, 7.0}, {180, 10.5}} {
		near(t, "limit in gpg", c[0]/MgLPerGPG, c[1], 0.05)
	}
	for _, v := range []float64{-1, math.NaN()} {
		_, err := HardnessClass(v)
		fails(t, "hardness", err, ErrRange)
	}
}
