package trade

// Efficiency of a water heater whose plate doesn't state one: the share of the
// input that reaches the water. Source: HeaterDefaults (common practice, no
// source). Mark a figure from them as assumed.
const (
	ElectricHeaterEfficiency = 0.98
	GasHeaterEfficiency      = 0.80
)

// HeaterDefaults is the source of the efficiencies assumed.
var HeaterDefaults = Source{"A water heater without a plate passes on 98 percent (electric) or 80 percent (gas) of its input", "", "", CommonPractice}
