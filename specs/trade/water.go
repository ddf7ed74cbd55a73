package trade

import "math"

// waterRow holds properties of liquid water at 60 psig.
type waterRow struct {
	tempF   float64
	density float64 // kg/m3
	nu      float64 // m2/s
}

// waterTable is IAPWS-IF97 at 74.696 psi absolute every 4 F, computed with a
// general-purpose steam-table library. Source: IAPWSIF97.
var waterTable = []waterRow{
	{32, 1000.0547, 1.790727e-06},
	{36, 1000.1578, 1.660127e-06},
	{40, 1000.1776, 1.544254e-06},
	{44, 1000.1199, 1.440931e-06},
	{48, 999.9898, 1.348374e-06},
	{52, 999.7919, 1.265104e-06},
	{56, 999.5301, 1.189893e-06},
	{60, 999.2080, 1.121709e-06},
	{64, 998.8288, 1.059683e-06},
	{68, 998.3952, 1.003080e-06},
	{72, 997.9100, 9.512691e-07},
	{76, 997.3753, 9.037133e-07},
	{80, 996.7934, 8.599486e-07},
	{84, 996.1661, 8.195739e-07},
	{88, 995.4951, 7.822407e-07},
	{92, 994.7821, 7.476450e-07},
	{96, 994.0286, 7.155209e-07},
	{100, 993.2358, 6.856341e-07},
	{104, 992.4052, 6.577785e-07},
	{108, 991.5378, 6.317714e-07},
	{112, 990.6347, 6.074507e-07},
	{116, 989.6969, 5.846719e-07},
	{120, 988.7254, 5.633062e-07},
	{124, 987.7211, 5.432381e-07},
	{128, 986.6847, 5.243638e-07},
	{132, 985.6171, 5.065901e-07},
	{136, 984.5189, 4.898327e-07},
	{140, 983.3909, 4.740154e-07},
	{144, 982.2336, 4.590692e-07},
	{148, 981.0477, 4.449313e-07},
	{152, 979.8337, 4.315447e-07},
	{156, 978.5922, 4.188573e-07},
	{160, 977.3237, 4.068216e-07},
	{164, 976.0285, 3.953939e-07},
	{168, 974.7072, 3.845343e-07},
	{172, 973.3602, 3.742063e-07},
	{176, 971.9878, 3.643760e-07},
	{180, 970.5904, 3.550125e-07},
	{184, 969.1684, 3.460869e-07},
	{188, 967.7220, 3.375730e-07},
	{192, 966.2516, 3.294461e-07},
	{196, 964.7575, 3.216836e-07},
	{200, 963.2398, 3.142645e-07},
	{204, 961.6989, 3.071692e-07},
	{208, 960.1349, 3.003795e-07},
	{212, 958.5481, 2.938786e-07},
}

// Range of the water table in degrees F. At 60 psig water is liquid throughout.
const (
	WaterMinF = 32.0
	WaterMaxF = 212.0
)

// waterAt interpolates a column by the cubic through the four nearest rows,
// whose error stays below 2e-5 of any property; NaN outside the table.
func waterAt(tempF float64, column func(waterRow) float64) float64 {
	if !(tempF >= WaterMinF && tempF <= WaterMaxF) {
		return math.NaN()
	}
	step := waterTable[1].tempF - waterTable[0].tempF
	i := int((tempF-WaterMinF)/step) - 1
	i = max(0, min(i, len(waterTable)-4))
	sum := 0.0
	for j := i; j < i+4; j++ {
		w := 1.0
		for k := i; k < i+4; k++ {
			if k != j {
				w *= (tempF - waterTable[k].tempF) / (waterTable[j].tempF - waterTable[k].tempF)
			}
		}
		sum += w * column(waterTable[j])
	}
	return sum
}

// WaterDensityKgM3 returns the density of water in kg/m3; NaN outside 32 to
// 212 F. Source: IAPWSIF97. Example: 140 F: 983.391.
func WaterDensityKgM3(tempF float64) float64 {
	return waterAt(tempF, func(r waterRow) float64 { return r.density })
}

// KinematicViscosityM2S returns the kinematic viscosity of water in m2/s; NaN
// outside 32 to 212 F. Source: IAPWSIF97. Example: 60 F: 1.12171e-6.
func KinematicViscosityM2S(tempF float64) float64 {
	// Interpolated as a logarithm: viscosity falls nearly exponentially.
	return math.Exp(waterAt(tempF, func(r waterRow) float64 { return math.Log(r.nu) }))
}

// SimpleLbGal is the weight of a gallon of water in trade formulas, right for
// 60 to 70 F. Source: HeaterRecovery.
const SimpleLbGal = 8.33

// MgLPerGPG is hardness in mg/L as CaCO3 per grain per US gallon, 17.118.
// Source: HardnessUnits (derived; 17.1 in practice).
const MgLPerGPG = MgPerGrain / LPerGal

// HardnessClass returns the class of a hardness in mg/L as CaCO3: soft to 60,
// moderately hard to 120, hard to 180, very hard above. Source: USGSHardness.
// ErrRange for a negative value. Example: 150 is "hard".
func HardnessClass(mgL float64) (string, error) {
	switch {
	case !notNegative(mgL):
		return "", rangeError("hardness", mgL, "at least 0 mg/L")
	case mgL <= 60:
		return "soft", nil
	case mgL <= 120:
		return "moderately hard", nil
	case mgL <= 180:
		return "hard", nil
	}
	return "very hard", nil
}
