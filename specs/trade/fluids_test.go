package trade

import "testing"

// Source: fluids 1.0.22, a general fluid-mechanics library,
// friction_factor_fluids.csv.
func TestFluidsFriction(t *testing.T) {
	turbulent, laminar := 0, 0
	for _, row := range table(t, "friction_factor_fluids.csv", 51) {
		re := num(t, row, "re")
		name := row["re"] + " " + row["eps_over_d"]
		if row["regime"] == "laminar" {
			laminar++
			near(t, name+" laminar", FrictionLaminar(re), num(t, row, "f_colebrook"), 1e-12)
			near(t, name+" any", FrictionFactor(re, 0), num(t, row, "f_colebrook"), 1e-12)
			continue
		}
		turbulent++
		eps := num(t, row, "eps_over_d")
		exact := num(t, row, "f_colebrook")
		// The file prints eight decimals: half a unit of the last is 4e-7 at
		// the smallest factor, inside the 1e-6 asked for.
		rel(t, name+" Colebrook", FrictionColebrook(re, eps), exact, 1e-6)
		rel(t, name+" any", FrictionFactor(re, eps), exact, 1e-6)
		// The explicit approximation of Swamee and Jain, up to 3 percent above.
		rel(t, name+" by Swamee-Jain", FrictionColebrook(re, eps), num(t, row, "f_swamee_jain"), 0.03)
	}
	same(t, "turbulent rows", turbulent, 48)
	same(t, "laminar rows", laminar, 3)
}
