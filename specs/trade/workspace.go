package trade

// Working space at electrical equipment, inches. Source: NEC110_26 (confirmed).
const (
	WorkspaceMinWidthIn = 30.0
	WorkspaceHeightIn   = 78.0 // 6.5 ft, or the equipment's height if greater
)

// WorkspaceDepthIn returns the clear depth in front of equipment that may be
// worked on live.
//
//	0-150 V to ground: 36 in under every condition
//	151-600 V: 36, 42 and 48 in under conditions 1, 2 and 3
//
// Condition 1 faces no live or grounded parts, 2 faces grounded parts
// (concrete, brick and tile walls count), 3 faces live parts. A voltage
// between 150 and 151 takes the higher band. ErrRange above 600 V. Source:
// NEC110_26, conditions NEC110_26Cond (from memory). Example: 208Y/120 is
// 120 V to ground: 36 in.
func WorkspaceDepthIn(voltsToGround float64, condition int) (float64, error) {
	if condition < 1 || condition > 3 {
		return 0, rangeError("working space condition", float64(condition), "1, 2 or 3")
	}
	switch {
	case !positive(voltsToGround) || voltsToGround > 600:
		return 0, rangeError("voltage to ground", voltsToGround, "more than 0 and no more than 600 V")
	case voltsToGround <= 150:
		return 36, nil
	}
	return []float64{36, 42, 48}[condition-1], nil
}
