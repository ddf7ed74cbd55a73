package trade

import (
	"math"
	"strconv"
	"testing"
)

// Source: the EPANET engine 2.3.5, pressure_loss_epanet.csv. EPANET's psi per
// foot is 0.4333 and its Hazen-Williams constant its own, hence constant
// offsets; its Darcy-Weisbach factor is Swamee-Jain above Re 4000.
func TestEPANET(t *testing.T) {
	const epanetPSIPerFt = 0.4333
	hw, dw, transition := 0, 0, 0
	for _, row := range table(t, "pressure_loss_epanet.csv", 89) {
		name := "case " + row["case"]
		id, q, l := num(t, row, "id_in"), num(t, row, "flow_gpm"), num(t, row, "length_ft")
		tube := value[Tube](t)(FindTube(CopperL, row["nominal_in"]))
		near(t, name+" bore", tube.ID, id, 1e-9)
		v := VelocityFPS(q, id)
		rel(t, name+" velocity", v, num(t, row, "velocity_ft_s"), 5e-5)
		head, psi := num(t, row, "headloss_ft"), num(t, row, "loss_psi")
		if row["formula"] == "H-W" {
			hw++
			c := num(t, row, "hw_c")
			rel(t, name+" H-W psi", HazenWilliamsPSI(q, c, id, l), psi, 0.005)
			continue
		}
		dw++
		nu, err := strconv.ParseFloat(row["nu_m2_s"], 64)
		if err != nil {
			t.Fatal(err)
		}
		rough := num(t, row, "roughness_mm")
		re := Reynolds(v, id, nu)
		tol := 0.015
		if re < ReTurbulent {
			transition++
			tol = 0.05
		}
		rel(t, name+" Colebrook head", DarcyHeadFt(q, id, l, rough, nu), head, tol)
		// With the water's own density the pressure is that of the head.
		temp := num(t, row, "temp_F")
		rel(t, name+" viscosity", KinematicViscosityM2S(temp), nu, 2e-5)
		got := DarcyPSI(q, id, l, rough, temp)
		rel(t, name+" pressure over head", got/DarcyHeadFt(q, id, l, rough, nu), epanetPSIPerFt*WaterDensityKgM3(temp)/999.21, 0.001)
	}
	same(t, "Hazen-Williams rows", hw, 43)
	same(t, "Darcy-Weisbach rows", dw, 46)
	same(t, "rows in transition", transition, 1)
}

// swameeJain is the explicit friction factor that EPANET itself uses above Re
// 4000 (Swamee and Jain, 1976).
func swameeJain(re, relRough float64) float64 {
	l := math.Log10(relRough/3.7 + 5.74/math.Pow(re, 0.9))
	return 0.25 / (l * l)
}

// The measured offset must be what the reference states, so that an error of
// the formula cannot hide in the tolerance.
func TestEPANETOffset(t *testing.T) {
	minHW, maxHW := math.Inf(1), math.Inf(-1)
	minSJ, maxSJ := math.Inf(1), math.Inf(-1)
	for _, row := range table(t, "pressure_loss_epanet.csv", 89) {
		id, q, l := num(t, row, "id_in"), num(t, row, "flow_gpm"), num(t, row, "length_ft")
		if row["formula"] == "H-W" {
			d := HazenWilliamsPSI(q, num(t, row, "hw_c"), id, l)/num(t, row, "loss_psi") - 1
			minHW, maxHW = math.Min(minHW, d), math.Max(maxHW, d)
			continue
		}
		v := VelocityFPS(q, id)
		re := Reynolds(v, id, num(t, row, "nu_m2_s"))
		if re < ReTurbulent {
			continue
		}
		d := swameeJain(re, num(t, row, "roughness_mm")/(id*25.4))*l*12/id*v*v/(2*GravityFtS2)/num(t, row, "headloss_ft") - 1
		minSJ, maxSJ = math.Min(minSJ, d), math.Max(maxSJ, d)
	}
	near(t, "H-W, least", minHW, -0.0034, 0.0002)
	near(t, "H-W, most", maxHW, -0.0029, 0.0002)
	near(t, "Swamee-Jain, least", minSJ, 0.0008, 0.0003)
	near(t, "Swamee-Jain, most", maxSJ, 0.0008, 0.0003)
	t.Logf("H-W %+.3f to %+.3f %%, Swamee-Jain %+.3f to %+.3f %%", 100*minHW, 100*maxHW, 100*minSJ, 100*maxSJ)
}

func TestFrictionEdges(t *testing.T) {
	nan := math.NaN()
	near(t, "no flow", HazenWilliamsPSI(0, 150, 0.545, 100), 0, 0)
	near(t, "no flow", DarcyHeadFt(0, 0.545, 100, 0.0015, 1e-6), 0, 0)
	near(t, "no length", HazenWilliamsPSI(3, 150, 0.545, 0), 0, 0)
	near(t, "no flow", VelocityFPS(0, 0.545), 0, 0)
	for name, got := range map[string]float64{
		"negative flow":      HazenWilliamsPSI(-1, 150, 0.545, 100),
		"no C":               HazenWilliamsPSI(3, 0, 0.545, 100),
		"no bore":            HazenWilliamsPSI(3, 150, 0, 100),
		"NaN length":         HazenWilliamsPSI(3, 150, 1, nan),
		"bore of velocity":   VelocityFPS(3, 0),
		"viscosity":          Reynolds(3, 0.5, 0),
		"laminar beyond":     FrictionLaminar(2001),
		"laminar zero":       FrictionLaminar(0),
		"Colebrook below":    FrictionColebrook(3999, 0),
		"Colebrook rough":    FrictionColebrook(1e5, 0.06),
		"factor of NaN":      FrictionFactor(nan, 0),
		"factor of zero":     FrictionFactor(0, 0),
		"factor, rough":      FrictionFactor(3000, -1),
		"too fast":           FrictionFactor(1.001e8, 0),
		"Darcy negative":     DarcyHeadFt(-1, 0.5, 10, 0.0015, 1e-6),
		"Darcy temperature":  DarcyPSI(3, 0.545, 100, 0.0015, 213),
		"head of cold":       PSIPerFt(31),
		"volume of no bore":  GalPerFt(-1),
		"equivalent of none": EquivalentFtLD(30, 0),
	} {
		isNaN(t, name, got)
	}
	// Continuous at both ends of the transition.
	near(t, "at 2000", FrictionFactor(2000.0001, 0)-FrictionFactor(2000, 0), 0, 1e-8)
	near(t, "at 4000", FrictionFactor(4000, 0.001)-FrictionFactor(3999.9999, 0.001), 0, 1e-8)
	// The head is f L/D v2/2g with roughness over bore in the same unit.
	vel := VelocityFPS(6, 0.824)
	f := FrictionColebrook(Reynolds(vel, 0.824, 1.1e-6), 0.15/(0.824*25.4))
	rel(t, "rough pipe", DarcyHeadFt(6, 0.824, 50, 0.15, 1.1e-6), f*50*12/0.824*vel*vel/(2*GravityFtS2), 1e-9)
	// Losses grow with flow and length and fall with bore.
	for q := 0.5; q < 20; q += 0.5 {
		if !(HazenWilliamsPSI(q+0.5, 150, 0.785, 50) > HazenWilliamsPSI(q, 150, 0.785, 50)) ||
			!(DarcyPSI(q+0.5, 0.785, 50, 0.0015, 140) > DarcyPSI(q, 0.785, 50, 0.0015, 140)) ||
			!(DarcyPSI(q, 0.785, 50, 0.0015, 140) > DarcyPSI(q, 1.025, 50, 0.0015, 140)) {
			t.Errorf("loss is not monotone at %v gpm", q)
		}
	}
}
