package trade

import (
	"math"
	"testing"
)

// Source: numerical integration of the drain-down (ODE), tank_drain.csv.
func TestTankDrain(t *testing.T) {
	for _, row := range table(t, "tank_drain.csv", 18) {
		d := Dump{TankFt2: num(t, row, "tank_area_ft2"), OutletIn: num(t, row, "outlet_dia_in"), Cd: num(t, row, "Cd"), StartIn: num(t, row, "head_start_in"), EndIn: num(t, row, "head_end_in")}
		r := value[DumpResult](t)(d.Run())
		c := row["case"]
		rel(t, c+" volume", r.VolumeGal, num(t, row, "volume_drained_gal"), 2e-5)
		rel(t, c+" time by ODE", r.TimeS, num(t, row, "time_ode_s"), 5e-5)
		rel(t, c+" time in closed form", r.TimeS, num(t, row, "time_closed_form_s"), 5e-5)
		rel(t, c+" peak", r.PeakGPM, num(t, row, "peak_flow_gpm"), 2e-4)
		rel(t, c+" mean", r.MeanGPM, num(t, row, "mean_flow_gpm"), 3e-4)
		if d.EndIn == 0 {
			rel(t, c+" mean is half the peak", r.MeanGPM, r.PeakGPM/2, 1e-12)
		}
	}
	good := Dump{TankFt2: 1, OutletIn: 1.5, Cd: 0.61, StartIn: 6}
	for name, mod := range map[string]func(*Dump){
		"no tank":     func(d *Dump) { d.TankFt2 = 0 },
		"no outlet":   func(d *Dump) { d.OutletIn = 0 },
		"no Cd":       func(d *Dump) { d.Cd = 0 },
		"Cd above 1":  func(d *Dump) { d.Cd = 1.01 },
		"no head":     func(d *Dump) { d.StartIn = 0 },
		"upside down": func(d *Dump) { d.EndIn = 7 },
		"negative":    func(d *Dump) { d.EndIn = -1 },
		"NaN":         func(d *Dump) { d.StartIn = math.NaN() },
		"all outlet":  func(d *Dump) { d.OutletIn = 40 },
	} {
		d := good
		mod(&d)
		_, err := d.Run()
		fails(t, name, err, ErrRange)
	}
}
