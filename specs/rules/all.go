package rules

import "slices"

// All lists every check in the order of reports.
var All = slices.Concat(power, water, drain, space, chemicals, throughput, records)

// ByID returns the check of that id, nil when there is none.
func ByID(id string) *Check {
	for _, c := range All {
		if c.ID == id {
			return c
		}
	}
	return nil
}
