package trade

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Source: ASHRAE Applications fixture demand table, two stored copies,
// ashrae_fixture_demand.csv (storage factors after the first from memory).
func TestASHRAEFixtures(t *testing.T) {
	columns := []string{"apartment", "club", "gymnasium", "hospital", "hotel", "industrial", "office", "school"}
	for _, row := range table(t, "ashrae_fixture_demand.csv", 8) {
		f := row["fixture"]
		for b, col := range columns {
			building := Building(b)
			switch f {
			case "demand factor", "storage factor":
				d, s, err := DemandFactors(building)
				ok(t, f, err)
				if f == "demand factor" {
					near(t, f+" "+col, d, num(t, row, col), 0)
				} else {
					near(t, f+" "+col, s, num(t, row, col), 0)
				}
				continue
			}
			got, err := FixtureDemandGPH(f, building)
			if row[col] == "" {
				fails(t, f+" "+col, err, ErrNotTabulated)
				continue
			}
			ok(t, f+" "+col, err)
			lo, hi, ranged := strings.Cut(row[col], "-")
			if !ranged {
				hi = lo
			}
			for _, v := range []struct {
				text string
				got  float64
			}{{lo, got.Low}, {hi, got.High}} {
				want, err := strconv.ParseFloat(v.text, 64)
				if err != nil {
					t.Fatal(err)
				}
				near(t, f+" "+col, v.got, want, 0)
			}
		}
	}
	_, err := FixtureDemandGPH("bidet", Club)
	fails(t, "bidet", err, ErrNotTabulated)
	_, err = FixtureDemandGPH("slop sink", 8)
	fails(t, "no building", err, ErrNotTabulated)
	_, _, err = DemandFactors(-1)
	fails(t, "no building", err, ErrNotTabulated)
	_, _, err = HotWaterDemand(-1, Club)
	fails(t, "negative", err, ErrRange)
	_, _, err = HotWaterDemand(1, 99)
	fails(t, "no building", err, ErrNotTabulated)
	// Source: county plan-check guide: 18 x 18 in compartments 14 gph; the
	// volume rule gives that at about 10 in depth.
	near(t, "18 x 18 x 12", UtensilSinkGPH(18, 18, 12), 16.875, 1e-9)
	near(t, "18 x 18 x 10", UtensilSinkGPH(18, 18, 10), UtensilSink18GPH, 0.1)
	isNaN(t, "no depth", UtensilSinkGPH(18, 18, 0))
}

// Source: ASHRAE Fundamentals warewashing heat gain, from memory,
// ashrae_heat_gain.csv.
func TestASHRAEHeatGain(t *testing.T) {
	rows := table(t, "ashrae_heat_gain.csv", 7)
	same(t, "rows", len(HeatGains()), len(rows))
	for i, row := range rows {
		h := HeatGains()[i]
		same(t, "class", strings.ReplaceAll(h.Class, ",", ""), row["machine"])
		near(t, h.Class+" rated", h.Rated, num(t, row, "rated"), 0)
		near(t, h.Class+" idle", h.Idle, num(t, row, "idle"), 0)
		if row["wash"] == "" {
			same(t, h.Class+" has no wash figure", h.Wash < 0, true)
		} else {
			near(t, h.Class+" wash", h.Wash, num(t, row, "wash"), 0)
		}
		near(t, h.Class+" radiant", h.Radiant, num(t, row, "radiant"), 0)
		near(t, h.Class+" convective", h.Convective, num(t, row, "convective"), 0)
		near(t, h.Class+" latent", h.Latent, num(t, row, "latent"), 0)
		near(t, h.Class+" total", h.Total, num(t, row, "total"), 0)
		near(t, h.Class+" hooded", h.Hooded, num(t, row, "hooded"), 0)
		// The unhooded total is convective, radiant and latent; the booster,
		// whose row has a hooded figure only, prints none.
		if h.Total > 0 {
			near(t, h.Class+" sum", h.Radiant+h.Convective+h.Latent, h.Total, 0)
		}
		near(t, h.Class+" hooded is radiant", h.Hooded, h.Radiant, 0)
		same(t, h.Class+" found", value[HeatGain](t)(FindHeatGain(h.Class)).Total, h.Total)
	}
	_, err := FindHeatGain("glass washer")
	fails(t, "no such row", err, ErrNotTabulated)
	h := value[HeatGain](t)(FindHeatGain("undercounter, chemical, standby"))
	near(t, "vapour", VapourLbH(h.Latent), 3.97, 0.005)
	near(t, "sensible kW", (h.Radiant+h.Convective)/BtuHPerKW, 0.67, 0.005)
	near(t, "latent kW", h.Latent/BtuHPerKW, 1.22, 0.005)
	near(t, "total kW", h.Total/BtuHPerKW, 1.89, 0.005)
	near(t, "upper bound", MaxHeatGainBtuH(2), 6824.28, 0.01)
	isNaN(t, "negative", MaxHeatGainBtuH(-1))
	isNaN(t, "negative", VapourLbH(-1))
}

// A worked day: 200 racks of 0.9 gal by 60 F, 12 h idle at 0.5 kW, two fills of
// 4 gal from 60 to 150 F.
func TestDayEnergy(t *testing.T) {
	d := DayOfWork{Racks: 200, RinseGal: 0.9, RinseRiseF: 60, IdleHours: 12, IdleKW: 0.5, Fills: 2, FillGal: 4, FillRiseF: 90}
	e := value[DayEnergy](t)(d.Energy())
	near(t, "rinse", e.RinseKWh, 26.37, 0.005)
	near(t, "idle", e.IdleKWh, 6, 1e-12)
	near(t, "fills", e.FillKWh, 1.76, 0.005)
	near(t, "sum", e.TotalKWh, 34.1, 0.05)
	d.MotorKWh = 3
	near(t, "with motor", value[DayEnergy](t)(d.Energy()).TotalKWh, e.TotalKWh+3, 1e-12)
	d.IdleKW = math.NaN()
	_, err := d.Energy()
	fails(t, "missing value", err, ErrRange)
}
