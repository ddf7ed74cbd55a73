package pdf

import (
	"firstfill/specs/signoff"
)

// A change is what became of a point since the revision before.
type change struct {
	need, found string // as they were printed; empty where they are the same
	changed     bool
}

// changes lists the points of which what is required, found or the verdict
// changed, as the sign-off books hold them.
func changes(before, now *signoff.Book) map[string]change {
	if before == nil || now == nil {
		return nil
	}
	m := map[string]change{}
	for id, was := range now.Changed(*before) {
		c := change{changed: true}
		if is := now.Item(id); is != nil {
			if was.Basis.Want != is.Basis.Want {
				c.need = was.Want
			}
			if was.Basis.Have != is.Basis.Have {
				c.found = was.Have
			}
		}
		m[id] = c
	}
	return m
}
