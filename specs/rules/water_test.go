package rules

var waterRows = []row{
	{id: "W-01", name: "just below", set: set{"water.cold.static_pressure": "94.9 ± 0 psi"}, spec: set{"water.cold.static_pressure_max": "95 psi"}, want: OK},
	{id: "W-01", name: "at", set: set{"water.cold.static_pressure": "95 ± 0 psi"}, spec: set{"water.cold.static_pressure_max": "95 psi"}, want: OK, margin: "0 psi (0 kPa) below the limit"},
	{id: "W-01", name: "just above", set: set{"water.cold.static_pressure": "95.1 ± 0 psi"}, spec: set{"water.cold.static_pressure_max": "95 psi"}, want: Fix},
	{id: "W-01", name: "within the gauge's uncertainty", set: set{"water.cold.static_pressure": "94 psi"}, spec: set{"water.cold.static_pressure_max": "95 psi"}, want: Confirm},
	{id: "W-01", name: "in bar", set: set{"water.cold.static_pressure": "7 ± 0 bar"}, spec: set{"water.cold.static_pressure_max": "95 psi"}, want: Fix},
	{id: "W-01", name: "missing", set: set{"water.cold.static_pressure": "unknown"}, want: Missing},
}
