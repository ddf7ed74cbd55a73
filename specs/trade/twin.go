package trade

// A Twin is one rule in two model codes. The code enforced at the site says
// which of the two is cited.
type Twin struct{ IPC, UPC Source }

// For returns the source to cite under a code family: its own clause under
// the UPC or the IPC. Every other family gets the IPC's clause, named as a
// measure and not as the law of the place.
func (t Twin) For(family CodeFamily) Source {
	switch family {
	case UPC:
		return t.UPC
	case IPC:
		return t.IPC
	}
	s := t.IPC
	s.Document = "model code " + s.Document + ", as a measure,"
	return s
}

// Rules that both model codes have.
var (
	StaticPressureRule   = Twin{IPC604_8, UPC608_2}
	ExpansionRule        = Twin{IPC607_3, UPC608_3}
	HammerRule           = Twin{IPC604_9, UPC609_10}
	BackflowRule         = Twin{IPC608_1, UPC603_2}
	SlopeRule            = Twin{IPC704_1, UPC708}
	BranchRule           = Twin{IPC710_1_2, UPC703_2}
	TrapArmRule          = Twin{IPC909_1, UPC1002_2}
	StandpipeRule        = Twin{IPC802_4_3, UPC804_1}
	IndirectTrapRule     = Twin{IPC802_3, UPC803_3}
	IndirectWasteRule    = Twin{IPC802_1, UPC801_3_3}
	IndirectAirGapRule   = Twin{AirGapRule, UPC801_1}
	DrainTemperatureRule = Twin{IPC701_7, UPC810_1}
)
