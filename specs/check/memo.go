package check

import (
	"sync"

	"firstfill/specs"
	"firstfill/survey"
)

// A memo remembers what the checks said of a site and of the changes tried on
// it, by the answers that each read: a check is pure, so that where it read the
// same answers it says the same again, whatever else was changed. Plans that
// differ in a few answers are judged again and again.
type memo struct {
	mu     sync.Mutex
	judged map[*Check]*recall[*Finding]
	passed map[*Check]*recall[bool]
}

func newMemo() *memo {
	return &memo{judged: map[*Check]*recall[*Finding]{}, passed: map[*Check]*recall[bool]{}}
}

// A recall holds one check's results. Which answers a check reads depends on
// the answers themselves, so that there may be several sets of them.
type recall[T any] struct {
	reads   []survey.Bits
	results []map[spelled]T // for each set of answers
}

// spelled is everything that a check looked at.
type spelled struct {
	machine *specs.Machine
	supply  *specs.Supply
	answers string // written since the site was read
}

// recalled gives what a check said of the same answers, and which they are.
func recalled[T any](c *Case, of map[*Check]*recall[T], k *Check) (result T, reads survey.Bits, ok bool) {
	c.memo.mu.Lock()
	defer c.memo.mu.Unlock()
	r := of[k]
	if r == nil {
		return result, reads, false
	}
	var room [256]byte
	for i, reads := range r.reads {
		text := c.Survey.Spell(room[:0], reads)
		if result, ok = r.results[i][spelled{c.Machine, c.Supply, string(text)}]; ok {
			return result, reads, true
		}
	}
	return result, reads, false
}

// remember keeps what a check said of the answers that it read.
func remember[T any](c *Case, of map[*Check]*recall[T], k *Check, result T, reads survey.Bits) {
	c.memo.mu.Lock()
	defer c.memo.mu.Unlock()
	r := of[k]
	if r == nil {
		r = &recall[T]{}
		of[k] = r
	}
	key := spelled{c.Machine, c.Supply, string(c.Survey.Spell(nil, reads))}
	for i := range r.reads {
		if r.reads[i] == reads {
			r.results[i][key] = result
			return
		}
	}
	r.reads = append(r.reads, reads)
	r.results = append(r.results, map[spelled]T{key: result})
}

// remembers says whether what a check says of this case may be kept: not while
// answers are moved to their ends, and not of a check that was made for once.
func (c *Case) remembers(k *Check) bool { return c.memo != nil && !c.moved && k.ID != "" }

// joins notes answers as read.
func (c *Case) joins(reads survey.Bits) {
	if c.reads != nil {
		c.reads.Join(reads)
	}
}
