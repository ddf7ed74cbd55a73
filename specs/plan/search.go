package plan

import (
	"cmp"
	"container/heap"
	"encoding/binary"
	"maps"
	"slices"
	"strings"

	"firstfill/specs/check"
	"firstfill/survey"
)

// An option is a change that cures one fault where it was proposed.
type option struct {
	fault  *check.Check
	remedy check.Remedy
	edits  []survey.Setting
	writes survey.Bits
	work   check.Work
	way    string // names it among those of its fault, by the answers that it changes
	worst  string // the answer that isn't read, for the worst of which it is sized; mostly empty
}

// offers are the options of one fault, and the answers that they were found from.
type offers struct {
	finding *check.Finding
	options []option
	reads   survey.Bits
}

// A state is the site after some changes.
type state struct {
	site   *check.Judged
	done   []option
	offers map[*check.Check]*offers
	cost   check.Work
	left   []string // ids of faults that are left standing, since each way of curing them brings another
	stuck  bool     // a fault stands that wasn't there and that nothing cures as long as others stand
}

// An entry of the queue is a change not yet judged.
type entry struct {
	from  *state
	by    option
	guess float64 // cost so far and of the change, and what the rest will cost at least
	order int     // of equals the one that is further on goes first, then the one that came up first
}

type queue []entry

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	return cmp.Or(cmp.Compare(a.guess, b.guess), cmp.Compare(len(b.from.done), len(a.from.done)), cmp.Compare(a.order, b.order)) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(entry)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// Bounds of the search: sites tried in testing need fewer than 60 states.
const (
	maxStates = 400
	maxSteps  = 60
)

type search struct {
	found    *check.Judged
	choices  map[string]string
	machines bool // the library's other machines are moves too
	tried    int
	pushed   int
	queue    queue
	seen     map[string]bool
	cheapest map[string]check.Work // that led to the same faults, by what they were found from
	numbers  map[*check.Finding]int
}

// run is a best-first search. At each state one fault is taken up, causes
// first, and each of its remedies, proposed afresh on the site as changed so
// far, leads on. The cheapest change by what it and the rest will cost at
// least is judged next; a state without a curable fault is the answer.
func (s *search) run() *state {
	s.seen, s.cheapest, s.numbers = map[string]bool{}, map[string]check.Work{}, map[*check.Finding]int{}
	start := &state{site: s.found, offers: map[*check.Check]*offers{}}
	best := start
	if s.expand(start) {
		return start
	}
	for s.queue.Len() > 0 && s.tried < maxStates {
		e := heap.Pop(&s.queue).(entry)
		next := s.apply(e)
		if next == nil || s.dearer(next) {
			continue
		}
		if !next.stuck && open(next.site) < open(best.site) {
			best = next
		}
		if len(next.done) < maxSteps && s.expand(next) {
			return next
		}
	}
	return s.finish(best)
}

// finish takes the least work for one fault after another, where the search
// found no end within its bounds: what can be cured is never left standing for
// want of time. A fault each of whose cures brings one that nothing cures is left.
func (s *search) finish(st *state) *state {
	for range 2 * maxSteps {
		faults := st.taken()
		i := slices.IndexFunc(faults, func(f *check.Finding) bool { return len(s.offersOf(st, f).options) > 0 })
		if i < 0 {
			return st
		}
		next := (*state)(nil)
		for _, by := range s.offersOf(st, faults[i]).options {
			if next = s.apply(entry{from: st, by: by}); next != nil && !next.stuck {
				break
			}
			next = nil
		}
		if next == nil {
			left := *st
			left.left = slices.Sorted(slices.Values(append(slices.Clone(st.left), faults[i].ID)))
			next = &left
		}
		st = next
	}
	return st
}

// dearer says whether another way led to the same faults, found from the same
// answers, with as little work: what is left to do is the same.
func (s *search) dearer(st *state) bool {
	var key []byte
	for _, f := range st.site.Findings {
		if f.Verdict != check.Fix {
			continue
		}
		n, known := s.numbers[f]
		if !known {
			n = len(s.numbers)
			s.numbers[f] = n
		}
		key = binary.AppendUvarint(key, uint64(n))
	}
	key = append(key, strings.Join(st.left, " ")...)
	least, met := s.cheapest[string(key)]
	if met && least <= st.cost {
		return true
	}
	s.cheapest[string(key)] = st.cost
	return false
}

func open(j *check.Judged) int {
	n := 0
	for _, f := range j.Findings {
		if f.Verdict == check.Fix {
			n++
		}
	}
	return n
}

// apply judges a change; nil when it was seen before, takes away what was
// known, or brings a fault that nothing cures. One that others which still stand
// may be in the way of curing is waited for.
func (s *search) apply(e entry) *state {
	next := &state{site: e.from.site, done: e.from.done, offers: map[*check.Check]*offers{}, left: e.from.left}
	if e.by.leave() {
		next.left = slices.Sorted(slices.Values(append(slices.Clone(next.left), e.by.fault.ID)))
	} else {
		next.done = append(slices.Clone(e.from.done), e.by)
	}
	key := settled(next.done) + strings.Join(next.left, " ")
	if s.seen[key] {
		return nil
	}
	s.seen[key] = true
	if !e.by.leave() {
		s.tried++
		site, err := e.from.site.With(e.by.edits...)
		if err != nil {
			return nil
		}
		next.site = site
		for i, f := range site.Findings {
			if f.Verdict == check.Missing && s.found.Findings[i].Verdict == check.OK {
				return nil
			}
		}
	}
	next.cost = cost(next.done)
	for k, o := range e.from.offers {
		if next.site.Of(k) == o.finding && !o.reads.Meets(e.by.writes) {
			next.offers[k] = o
		}
	}
	for i, f := range next.site.Findings {
		if f.Verdict != check.Fix || s.found.Findings[i].Verdict == check.Fix {
			continue
		}
		if slices.Contains(next.left, f.ID) {
			return nil
		}
		next.stuck = next.stuck || len(s.offersOf(next, f).options) == 0
	}
	if next.stuck && !slices.ContainsFunc(next.taken(), func(f *check.Finding) bool { return len(s.offersOf(next, f).options) > 0 }) {
		return nil
	}
	return next
}

// leave says whether the option is to let its fault stand.
func (o option) leave() bool { return o.remedy.Set == nil }

// settled spells the final answers of a list of changes.
func settled(done []option) string {
	all := final(done)
	var b strings.Builder
	for _, p := range slices.Sorted(maps.Keys(all)) {
		b.WriteString(p + "=" + all[p] + "\n")
	}
	return b.String()
}

// final is every answer that the changes leave, the later one's where two set it.
func final(done []option) map[string]string {
	all := map[string]string{}
	for _, o := range done {
		maps.Copy(all, o.remedy.Set)
	}
	return all
}

// live are the changes of which at least one answer stands in the end.
func live(done []option) []option {
	var stands []option
	for i, o := range done {
		for _, e := range o.edits {
			if !slices.ContainsFunc(done[i+1:], func(later option) bool { _, again := later.remedy.Set[e.Path()]; return again }) {
				stands = append(stands, o)
				break
			}
		}
	}
	return stands
}

// cost adds up the work of the changes that stand; the same job done for two
// faults counts once, as the larger.
func cost(done []option) check.Work {
	total := check.NoWork
	stands := live(done)
	for i, o := range stands {
		largest := true
		for j, x := range stands {
			if x.way == o.way && (x.work > o.work || x.work == o.work && j < i) {
				largest = false
			}
		}
		if largest {
			total += o.work
		}
	}
	return total
}

// expand takes up the state's next fault; true when there is none that can be cured.
func (s *search) expand(st *state) bool {
	faults := st.taken()
	for n, f := range faults {
		o := s.offersOf(st, f)
		if len(o.options) == 0 {
			continue
		}
		rest := 0.0
		for _, other := range faults[n+1:] {
			rest += st.least(other)
		}
		// Half of what the others would cost one by one: a change often cures several.
		rest += s.standing(st)
		for _, by := range o.options {
			s.pushed++
			done := append(slices.Clone(st.done), by)
			heap.Push(&s.queue, entry{from: st, by: by, guess: float64(cost(done)) + rest, order: s.pushed})
		}
		s.pushed++
		heap.Push(&s.queue, entry{from: st, by: option{fault: f.Check}, guess: float64(st.cost) + rest + float64(check.OtherMachine), order: s.pushed})
		return false
	}
	return true
}

// least is what a fault costs at the least, a fitting where nothing is proposed yet.
func (st *state) least(f *check.Finding) float64 {
	if o := st.offers[f.Check]; o != nil {
		if len(o.options) == 0 {
			return 0
		}
		return float64(o.least())
	}
	return float64(check.Fitting)
}

// standing is what the faults left standing weigh.
func (s *search) standing(st *state) float64 {
	return float64(len(st.left)) * float64(check.OtherMachine)
}

func (o *offers) least() check.Work {
	least := check.OtherMachine
	for _, x := range o.options {
		least = min(least, x.work)
	}
	return least
}

// taken lists the open faults in the order in which they are taken up: what
// decides the order first, causes before what follows from them, then by id.
func (st *state) taken() []*check.Finding {
	list := slices.DeleteFunc(st.site.Open(check.Fix), func(f *check.Finding) bool { return slices.Contains(st.left, f.ID) })
	rank := map[*check.Check]int{}
	var depth func(k *check.Check) int
	depth = func(k *check.Check) int {
		if d, ok := rank[k]; ok {
			return d
		}
		rank[k] = 0
		for _, a := range k.After {
			if f := st.site.Of(a); f != nil && f.Verdict == check.Fix {
				rank[k] = max(rank[k], depth(a)+1)
			}
		}
		return rank[k]
	}
	slices.SortStableFunc(list, func(a, b *check.Finding) int {
		return cmp.Or(cmp.Compare(a.Stage, b.Stage), cmp.Compare(depth(a.Check), depth(b.Check)), cmp.Compare(a.ID, b.ID))
	})
	return list
}

// offersOf are the remedies of a fault on the site as it is now.
func (s *search) offersOf(st *state, f *check.Finding) *offers {
	if o, ok := st.offers[f.Check]; ok {
		return o
	}
	o := s.offer(st.site.Case, f)
	st.offers[f.Check] = o
	return o
}

func (s *search) offer(c *check.Case, f *check.Finding) *offers {
	o := &offers{finding: f}
	remedies, reads := c.Ways(f)
	o.reads = reads
	chosen := s.choices[f.ID]
	if s.machines {
		remedies = append(remedies, otherMachines(c, f)...)
	}
	for _, r := range remedies {
		if x, err := s.optionOf(c, f.Check, r); err == nil {
			o.options = append(o.options, x)
		}
	}
	if chosen != "" && slices.ContainsFunc(o.options, func(x option) bool { return x.way == chosen }) {
		o.options = slices.DeleteFunc(o.options, func(x option) bool { return x.way != chosen })
	}
	slices.SortStableFunc(o.options, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.work, b.work), cmp.Compare(a.way, b.way))
	})
	return o
}

// optionOf is a remedy as an option of its fault.
func (s *search) optionOf(c *check.Case, fault *check.Check, r check.Remedy) (option, error) {
	edits, err := c.Survey.Settings(r.Set)
	if err != nil {
		return option{}, err
	}
	x := option{fault: fault, remedy: r, edits: edits, work: workOf(r), way: strings.Join(slices.Sorted(maps.Keys(r.Set)), "+")}
	for _, e := range edits {
		x.writes.Add(e.ID())
	}
	return x, nil
}

// otherMachines are those of the library on which a fault doesn't arise.
func otherMachines(c *check.Case, f *check.Finding) []check.Remedy {
	var rs []check.Remedy
	for _, m := range c.Machines() {
		if m.Key == c.Machine.Key {
			continue
		}
		set := map[string]string{survey.Ask.Machine.Key.Path(): m.Key, survey.Ask.Machine.Supply.Path(): "unknown"}
		if after, err := c.With(set); err == nil && !after.Judge(f.Check).Verdict.Blocks() {
			rs = append(rs, check.Remedy{Change: check.Say("machine.other", "machine", check.Quote(m.Name)), Work: check.OtherMachine, Set: set})
		}
	}
	return rs
}

// clean leaves out the changes without which nothing fails, the most work
// first, and gives those that stand with the site as they leave it. What was
// needed only for a change left out later goes too.
func (s *search) clean(goal *state) ([]option, *check.Judged) {
	ways, site := live(goal.done), goal.site
	for again := true; again; {
		again = false
		order := slices.Clone(ways)
		slices.SortStableFunc(order, func(a, b option) int { return cmp.Compare(b.work, a.work) })
		for _, o := range order {
			rest := slices.DeleteFunc(slices.Clone(ways), func(x option) bool { return x.fault == o.fault && x.way == o.way })
			if len(rest) == len(ways) || s.fails(site, rest, o.writes) {
				continue
			}
			if next, err := s.found.Having(final(rest)); err == nil {
				ways, site, again = live(rest), next, true
			}
		}
	}
	return ways, site
}

// fails says whether with these changes alone a check is FIX, or lost its
// answer, that is neither on the planned site.
func (s *search) fails(planned *check.Judged, ways []option, left survey.Bits) bool {
	c, err := s.found.Case.With(final(ways))
	if err != nil {
		return true
	}
	for i, k := range planned.Checks {
		was := planned.Findings[i]
		// A check that reads none of the answers left out is as planned.
		if was.Verdict.Blocks() || c.Supply == planned.Supply && !was.Reads.Meets(left) {
			continue
		}
		// What was missing as found is to be read: nothing is built for want of it.
		if v := c.Judge(k).Verdict; v == check.Fix || v == check.Missing && s.found.Findings[i].Verdict != check.Missing {
			return true
		}
	}
	return false
}

// faults is the set of ids that are FIX.
func faults(j *check.Judged) map[string]bool {
	m := map[string]bool{}
	for _, f := range j.Open(check.Fix) {
		m[f.ID] = true
	}
	return m
}
