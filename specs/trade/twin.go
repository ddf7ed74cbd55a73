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
	IndirectWasteRule = Twin{IPC802_1, UPC801_3_3}
)
