package trade

import (
	"math"
	"testing"
)

// Source: heat balance with a steam-table library, temper_mix.csv.
func TestTemperMix(t *testing.T) {
	for _, row := range table(t, "temper_mix.csv", 40) {
		h, c, target := num(t, row, "hot_F"), num(t, row, "cold_F"), num(t, row, "target_F")
		name := row["hot_F"] + "/" + row["cold_F"] + " to " + row["target_F"]
		simple := value[float64](t)(ColdPerHot(h, c, target))
		mass, volume := num(t, row, "cold_per_hot_mass_steam_tables"), num(t, row, "cold_per_hot_volume_steam_tables")
		near(t, name+" simple", simple, num(t, row, "cold_per_hot_simple"), 0.00006)
		// The simple form by volume asks 1.5 to 3.5 percent more; by mass at
		// most 0.31 percent less (195 with 80 to 140 F).
		same(t, name+" safe side", simple > volume && simple < 1.036*volume, true)
		same(t, name+" by mass", simple > 0.9969*mass && simple < 1.001*mass, true)
		// The mixture is at the target.
		near(t, name+" balance", MixedTemp(1, h, simple, c), target, 1e-9)
		f := value[float64](t)(HotFraction(h, c, target))
		near(t, name+" share", simple, (1-f)/f, 1e-9)
	}
	near(t, "19.1 gpm at 160 F", 19.1*value[float64](t)(ColdPerHot(160, 60, 140)), 4.8, 0.03)
	near(t, "nothing to temper", value[float64](t)(ColdPerHot(120, 60, 140)), 0, 0)
	_, err := ColdPerHot(180, 140, 140)
	fails(t, "cold at the target", err, ErrCannot)
	_, err = ColdPerHot(180, 150, 140)
	fails(t, "cold above the target", err, ErrCannot)
	_, err = ColdPerHot(math.NaN(), 60, 140)
	fails(t, "NaN", err, ErrRange)
}

func TestMixingEdges(t *testing.T) {
	near(t, "all hot", value[float64](t)(HotFraction(140, 60, 140)), 1, 0)
	near(t, "all cold", value[float64](t)(HotFraction(140, 60, 60)), 0, 0)
	for _, c := range [][3]float64{{140, 60, 141}, {140, 60, 59}, {60, 60, 60}, {50, 60, 55}} {
		_, err := HotFraction(c[0], c[1], c[2])
		fails(t, "cannot", err, ErrCannot)
	}
	_, err := HotFraction(140, math.NaN(), 100)
	fails(t, "NaN", err, ErrRange)
	near(t, "equal flows", MixedTemp(1, 140, 1, 60), 100, 0)
	isNaN(t, "no flow", MixedTemp(0, 140, 0, 60))
	isNaN(t, "negative", MixedTemp(-1, 140, 2, 60))
	for name, got := range map[string]float64{
		"no rise":         RecoveryGasGPH(40000, 0, 0.8),
		"efficiency":      RecoveryGasGPH(40000, 80, 1.1),
		"no power":        RecoveryGasGPH(0, 80, 1),
		"NaN":             RecoveryGasGPH(math.NaN(), 60, 1),
		"share above 1":   FirstHourGal(50, 1.1, 40),
		"negative tank":   FirstHourGal(-1, 0.7, 40),
		"imbalance of 0":  PressureImbalance(0, 60),
		"NaN glass":       GlassShockF(math.NaN(), 60),
		"heat-up, eff":    HeatUpMin(4, 60, 150, 2, 1.1),
		"heat-up no kW":   HeatUpMin(4, 60, 150, 0, 1),
		"heat-up, no vol": HeatUpMin(0, 60, 130, 2, 1),
	} {
		isNaN(t, name, got)
	}
	near(t, "already hot", HeatUpMin(4, 150, 150, 2, 1), 0, 0)
	near(t, "cooling", HeatUpMin(4, 150, 140, 2, 1), 0, 0)
	near(t, "first hour", FirstHourGal(50, UsableShare, 40), 75, 1e-9)
	near(t, "imbalance", PressureImbalance(60, 45), 0.25, 0)
	near(t, "either way", PressureImbalance(45, 60), 0.25, 0)
	near(t, "shock", GlassShockF(140, 40), 100, 0)
	// 40 C is 72 F of difference.
	near(t, "caution", GlassCautionF, 40*1.8, 1e-12)
	v := value[MixingValve](t)(PickMixingValve(MixAtSource, 120))
	same(t, "ASSE 1017", [5]float64{v.HotMinF, v.HotMaxF, v.ColdMinF, v.ColdMaxF, v.HotAboveSetF}, [5]float64{125, 180, 35, 80, 20})
}
