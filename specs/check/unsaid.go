package check

import (
	"sync"

	"firstfill/specs"
)

// silent are the checks that the requirement sheet leaves open, with the facts
// that it doesn't state. What a sheet doesn't say is never taken for the maker's
// no: see hangs.
type silent struct {
	once sync.Once
	lack map[*Check][]specs.Fact
}

// lacks gives the facts of the sheet that a check hangs on and that the sheet
// doesn't state. It is worked out once for a machine, at the site as found.
func (c *Case) lacks(k *Check) []specs.Fact {
	if c.silent == nil {
		return nil
	}
	c.silent.once.Do(func() { c.silent.lack = map[*Check][]specs.Fact{}; c.unsaid() })
	return c.silent.lack[k]
}

// unsaid runs every check with stand-ins for each fact that isn't stated.
func (c *Case) unsaid() {
	facts := c.Machine.Unsaid()
	if len(facts) == 0 {
		return
	}
	own := *c
	own.Survey, own.reads, own.silent = c.Survey.Clone(), nil, nil
	plain := make([]Verdict, len(c.checks))
	for i, k := range c.checks {
		plain[i] = own.verdict(k)
	}
	for _, f := range facts {
		open := map[*Check]bool{}
		for _, text := range f.StandIns() {
			m, err := c.Machine.With(map[string]string{f.Path: text})
			if err != nil {
				continue // the rest of the sheet rules it out
			}
			other := own
			other.Machine, other.Supply, other.memo = m, chooseSupply(own.Survey, m), newMemo()
			for i, k := range c.checks {
				if plain[i] == Missing || open[k] {
					continue
				}
				if hangs(f, plain[i], other.verdict(k)) {
					open[k] = true
					c.silent.lack[k] = append(c.silent.lack[k], f)
				}
			}
		}
	}
}

// hangs says whether a check hangs on a fact that isn't stated: where it says
// that it doesn't arise and would with the fact, or where a yes or no that is
// taken for no would change what it says. A check that works without a value,
// by the code's own rule say, stands.
func hangs(f specs.Fact, without, with Verdict) bool {
	if without == NA {
		return with != NA
	}
	return f.YesNo() && with != without && with != Missing
}

// verdict is a check's at the answers as read; a check that can't compute has none.
func (c *Case) verdict(k *Check) (v Verdict) {
	defer func() {
		if recover() != nil {
			v = Missing
		}
	}()
	out := c.run(k)
	return out.Verdict
}
