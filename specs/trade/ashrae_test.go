package trade

import (
	"strings"
	"testing"
)

// Source: ASHRAE Fundamentals warewashing heat gain, from memory,
// ashrae_heat_gain.csv.
func TestASHRAEHeatGain(t *testing.T) {
	rows := table(t, "ashrae_heat_gain.csv", 7)
	same(t, "rows", len(heatGains), len(rows))
	for i, row := range rows {
		h := heatGains[i]
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
