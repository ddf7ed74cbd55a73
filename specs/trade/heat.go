package trade

import "math"

// A HeatGain is the heat that a class of machine gives to its room, Btu/h.
type HeatGain struct {
	Class      string
	Rated      float64
	Idle, Wash float64 // input; a negative Wash means none is printed
	Radiant    float64
	Convective float64
	Latent     float64
	Total      float64 // unhooded
	Hooded     float64 // radiant only
	Source     Source
}

// heatGains: source ASHRAEHeatGain (from memory; every total equals its
// parts). There is no row for a glass washer: the nearest class is an estimate
// and must be labelled so.
var heatGains = []HeatGain{
	{"undercounter, chemical, standby", 26600, 1200, 18700, 0, 2280, 4170, 6450, 0, ASHRAEHeatGain},
	{"undercounter, hot water, standby", 26600, 1700, 19700, 800, 1040, 3010, 4850, 800, ASHRAEHeatGain},
	{"door, chemical, washing", 18400, 1200, 13300, 0, 1980, 2790, 4770, 0, ASHRAEHeatGain},
	{"door, hot water, washing", 18400, 1200, 13300, 0, 1980, 2790, 4770, 0, ASHRAEHeatGain},
	{"conveyor, chemical", 46800, 5700, 43600, 0, 4450, 13490, 17940, 0, ASHRAEHeatGain},
	{"conveyor, hot water, standby", 46800, 5700, -1, 0, 4750, 16970, 21720, 0, ASHRAEHeatGain},
	{"booster heater", 130000, 500, -1, 500, 0, 0, 0, 500, ASHRAEHeatGain},
}

// FindHeatGain looks a class up by its name in the table.
func FindHeatGain(class string) (HeatGain, error) {
	for _, h := range heatGains {
		if h.Class == class {
			return h, nil
		}
	}
	return HeatGain{}, noRow("heat gain table", class)
}

// MaxHeatGainBtuH returns the upper bound of a machine's heat gain: all of its
// electrical input, 3412.14 Btu/h per kW. NaN for a negative input. Source:
// conservation of energy (derived).
func MaxHeatGainBtuH(inputKW float64) float64 {
	if !notNegative(inputKW) {
		return math.NaN()
	}
	return inputKW * BtuHPerKW
}

// VapourLbH returns the water vapour of a latent gain, latent/1050; NaN for a
// negative gain. Source: latent heat of water near room temperature (derived).
// Example: 4170 Btu/h: 3.97 lb/h.
func VapourLbH(latentBtuH float64) float64 {
	if !notNegative(latentBtuH) {
		return math.NaN()
	}
	return latentBtuH / 1050
}
