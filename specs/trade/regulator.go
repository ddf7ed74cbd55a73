package trade

// RegulatorFallPSI is by how much a pressure regulator is taken to give less
// than its setting at the machine's flow when its curve isn't known. Common
// practice, no source: curves of small regulators show 5 to 15 psi. It decides
// nothing alone.
const RegulatorFallPSI = 10.0

// AboveTag reports whether a static gauge reading stands above the setting on
// the tag of the regulator in front of it by more than both gauges may be off,
// psi: the regulator failed or creeps, water expanded, or the gauge stood ahead
// of it. False for NaN. Source: RegulatorCreep (common practice, no source).
// Example: 75 psi behind a tag of 60 with 4 psi of tolerance: yes.
func AboveTag(gaugePSI, settingPSI, tolerancePSI float64) bool {
	return gaugePSI > settingPSI+tolerancePSI
}
