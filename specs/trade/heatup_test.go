package trade

import "testing"

// Source: heat balance with a steam-table library, tank_heatup.csv.
func TestTankHeatUp(t *testing.T) {
	for _, row := range table(t, "tank_heatup.csv", 12) {
		gal, a, b, kw, eff := num(t, row, "volume_gal_at_start_temp"), num(t, row, "start_F"), num(t, row, "end_F"), num(t, row, "heater_kW"), num(t, row, "efficiency")
		name := row["volume_gal_at_start_temp"] + " gal " + row["start_F"] + " to " + row["end_F"]
		near(t, name+" simple", HeatUpMin(gal, a, b, kw, eff), num(t, row, "time_min_simple_8_33_lb_per_gal"), 0.00055)
		// With the water's own density and heat by steam tables; hot water is
		// lighter than 8.33 lb/gal, so the simple form takes a little longer.
		exact := num(t, row, "time_min_steam_tables")
		same(t, name+" against steam tables", HeatUpMin(gal, a, b, kw, eff) > 0.999*exact && HeatUpMin(gal, a, b, kw, eff) < 1.02*exact, true)
	}
}
