package trade

import "testing"

// Source: heat balance with a steam-table library, tank_heatup.csv.
func TestTankHeatUp(t *testing.T) {
	for _, row := range table(t, "tank_heatup.csv", 12) {
		gal, a, b, kw, eff := num(t, row, "volume_gal_at_start_temp"), num(t, row, "start_F"), num(t, row, "end_F"), num(t, row, "heater_kW"), num(t, row, "efficiency")
		name := row["volume_gal_at_start_temp"] + " gal " + row["start_F"] + " to " + row["end_F"]
		near(t, name+" simple", HeatUpMin(gal, a, b, kw, eff), num(t, row, "time_min_simple_8_33_lb_per_gal"), 0.00055)
		// The file took the heat of water at atmospheric pressure, the package
		// at 60 psig: 0.008 percent apart at most, beside the printed digit.
		near(t, name+" exact", HeatUpExactMin(gal, a, b, kw, eff), num(t, row, "time_min_steam_tables"), 0.00055+8e-5*HeatUpMin(gal, a, b, kw, eff))
		loss := value[float64](t)(HeatUpWithLossMin(gal, a, b, kw/eff, kw/eff-kw))
		near(t, name+" loss of the right size cancels", loss, HeatUpMin(gal, a, b, kw, 1), 1e-9)
	}
	near(t, "already hot", value[float64](t)(HeatUpWithLossMin(4, 150, 140, 2, 1)), 0, 0)
	_, err := HeatUpWithLossMin(4, 60, 140, 2, 2)
	fails(t, "loss eats the heater", err, ErrCannot)
	_, err = HeatUpWithLossMin(0, 60, 140, 2, 1)
	fails(t, "no water", err, ErrRange)
}
