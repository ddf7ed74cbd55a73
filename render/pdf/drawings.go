package pdf

import (
	"firstfill/render/page"
	"firstfill/specs"
	"firstfill/specs/rules"
)

// drawings prints a trade's drawings to scale and its supply diagram, under the
// numbers of its sheet. There are none yet: it takes no space.
func drawings(d *page.Doc, r *rules.Report, t rules.Trade) {}

// machineDrawings prints the drawings of a requirement sheet. There are none
// yet: it takes no space.
func machineDrawings(d *page.Doc, m *specs.Machine) {}
