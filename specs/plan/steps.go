package plan

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
)

// steps makes one step of each job, says what it cures, and orders them.
func (p *Plan) steps() {
	p.gather(true)
	if slices.ContainsFunc(p.Steps, func(st Step) bool { return len(st.Cures) == 0 }) {
		p.gather(false) // what one trade builds for another's job cures nothing by itself
	}
	p.doubts()
	p.Steps = slices.DeleteFunc(p.Steps, func(st Step) bool { return len(st.Cures) == 0 })
	p.rests()
	p.order()
}

// gather makes the steps, not yet in order. A change that asks for things of
// several trades is divided among them where divide says so.
func (p *Plan) gather(divide bool) {
	byJob := map[int]*Step{}
	ways := map[int][]option{}
	taken := map[string]bool{} // answers that a step changes already
	stepFor := func(job int) *Step {
		st := byJob[job]
		if st == nil {
			st = &Step{Job: jobs[job].job, Trade: jobs[job].trade, Stage: jobs[job].stage, Set: map[string]string{}}
			byJob[job] = st
		}
		return st
	}
	for _, o := range p.ways {
		job, own := p.jobOf(o)
		st := stepFor(job)
		st.Work += o.work
		if o.worst != "" {
			st.Worst = append(st.Worst, o.worst)
		}
		ways[job] = append(ways[job], o)
		for path := range o.remedy.Set {
			if p.Set[path] != o.remedy.Set[path] || taken[path] {
				continue
			}
			taken[path] = true
			if part := jobOf(path); divide && !own && jobs[part].trade != jobs[job].trade {
				stepFor(part).Set[path] = p.Set[path]
				ways[part] = append(ways[part], o)
				continue
			}
			st.Set[path] = p.Set[path]
		}
	}
	p.Steps = nil
	for _, i := range slices.Sorted(maps.Keys(byJob)) {
		st := byJob[i]
		p.word(st, ways[i])
		p.Steps = append(p.Steps, *st)
	}
	p.Found.Each(len(p.Steps), func(c *check.Case, i int) { p.judge(c, &p.Steps[i]) })
}

// word says what a step does: its orders, then what only a remedy's own words
// say, then the things that neither says.
func (p *Plan) word(st *Step, ways []option) {
	b := &building{found: p.Found, built: p.Built, set: maps.Clone(st.Set), ways: ways}
	for _, o := range ways {
		for path, text := range o.remedy.Set {
			// What is built anew as it was found is said too.
			if _, changed := p.Set[path]; !changed && !o.remedy.Beside.Zero() && things[path] != nil {
				b.set[path] = text
			}
		}
	}
	covered := map[string]bool{}
	for _, say := range orders[st.Job] {
		_, of := say(b)
		for _, a := range of {
			covered[a.Path()] = true
		}
	}
	var own []check.Phrase
	for _, o := range ways {
		if !slices.ContainsFunc(slices.Sorted(maps.Keys(o.remedy.Set)), func(path string) bool {
			_, here := st.Set[path]
			return here && p.Set[path] == o.remedy.Set[path] && !covered[path] && !speaks(path, o.remedy.Set)
		}) {
			continue
		}
		if !o.remedy.Beside.Zero() {
			own = append(own, p.final(o.remedy.Beside))
			continue
		}
		own = append(own, check.PhraseOf(o.remedy.Change))
		for path, text := range o.remedy.Set {
			if p.Set[path] == text {
				delete(b.set, path) // it is said then
			}
		}
	}
	said := map[string]bool{}
	for _, say := range orders[st.Job] {
		do, of := say(b)
		st.Do = append(st.Do, do...)
		for _, a := range of {
			said[a.Path()] = true
		}
	}
	st.Do = append(st.Do, own...)
	for _, path := range slices.Sorted(maps.Keys(b.set)) {
		if r := things[path]; r != nil && !said[path] {
			st.Do = append(st.Do, say(r, p.Built.Survey))
		}
	}
}

// final fills a phrase's blanks that name an answer with the answer as it will be.
func (p *Plan) final(words check.Phrase) check.Phrase {
	blanks := slices.Clone(words.Blanks)
	for i, b := range blanks {
		if a, ok := b.Value.(survey.Ref); ok {
			blanks[i].Value = Shown(a, p.Built.Survey)
		}
	}
	words.Blanks = blanks
	return words
}

// speaks says whether an answer of a remedy is said by the thing that it is,
// or by what it follows from.
func speaks(path string, set map[string]string) bool {
	if things[path] != nil {
		return true
	}
	from := implied[path]
	if from == nil {
		return false
	}
	_, ok := set[from.Path()]
	return ok
}

// jobOf is the job of a change, and whether it needs the remedy's own words,
// which aren't divided among trades. The job is that of the answer which stands
// first in jobs; where all is said by things and orders, one of the trade that
// the fault is for goes before.
func (p *Plan) jobOf(o option) (job int, own bool) {
	job = len(jobs)
	trade := len(jobs)
	for path := range o.remedy.Set {
		i := jobOf(path)
		job = min(job, i)
		if jobs[i].trade == o.fault.Trade {
			trade = min(trade, i)
		}
	}
	b := &building{found: p.Found, built: p.Built, set: o.remedy.Set, ways: []option{o}}
	covered := map[string]bool{}
	for _, j := range jobs {
		for _, say := range orders[j.job] {
			_, of := say(b)
			for _, a := range of {
				covered[a.Path()] = true
			}
		}
	}
	for path := range o.remedy.Set {
		own = own || !covered[path] && !speaks(path, o.remedy.Set)
	}
	if !own && trade < len(jobs) {
		job = trade
	}
	return job, own
}

// without is the plan's answers less those of a step.
func (p *Plan) without(steps ...*Step) map[string]string {
	set := maps.Clone(p.Set)
	for _, st := range steps {
		for path := range st.Set {
			delete(set, path)
		}
	}
	return set
}

// judge says what a step cures and what it puts in doubt.
func (p *Plan) judge(found *check.Case, st *Step) {
	c, err := found.With(p.without(st))
	if err != nil {
		return
	}
	wrote := p.writes(st)
	for i, k := range p.Built.Checks {
		built, found := p.Built.Findings[i], p.Found.Findings[i]
		if c.Supply == p.Built.Supply && !built.Reads.Meets(wrote) {
			continue
		}
		if found.Reads == survey.Every() {
			continue
		}
		without := c.Judge(k).Verdict
		if without == check.Fix && built.Verdict != check.Fix {
			st.Cures = append(st.Cures, k.ID)
		}
		if built.Verdict == check.Confirm && found.Verdict == check.OK && without == check.OK {
			st.Doubts = append(st.Doubts, k.ID)
		}
	}
	for _, path := range st.Worst {
		for _, text := range likely(survey.FieldAt(path)) {
			answer := map[string]string{path: text}
			worse, err := c.With(answer)
			if err != nil {
				continue
			}
			for i, k := range p.Built.Checks {
				if p.Built.Findings[i].Verdict == check.Fix || p.Found.Findings[i].Reads == survey.Every() || slices.Contains(st.Cures, k.ID) {
					continue
				}
				if f := worse.Judge(k); f.Verdict != check.Fix || !f.Reads.Meets(wrote) {
					continue
				}
				if then, err := p.Built.Case.With(answer); err == nil && then.Judge(k).Verdict != check.Fix {
					st.Cures = append(st.Cures, k.ID)
				}
			}
		}
	}
	slices.Sort(st.Cures)
}

// doubts names what the plan as a whole puts in doubt in every step that it
// rests on, where no single step did.
func (p *Plan) doubts() {
	for i, f := range p.Built.Findings {
		if f.Verdict != check.Confirm || p.Found.Findings[i].Verdict != check.OK ||
			slices.ContainsFunc(p.Steps, func(st Step) bool { return slices.Contains(st.Doubts, f.ID) }) {
			continue
		}
		for k := range p.Steps {
			if p.writes(&p.Steps[k]).Meets(f.Reads) || p.Built.Supply != p.Found.Supply {
				p.Steps[k].Doubts = append(p.Steps[k].Doubts, f.ID)
			}
		}
	}
	for k := range p.Steps {
		slices.Sort(p.Steps[k].Doubts)
	}
}

// writes is the set of answers that a step changes.
func (p *Plan) writes(st *Step) survey.Bits {
	var b survey.Bits
	if settings, err := p.Built.Survey.Settings(st.Set); err == nil {
		for _, x := range settings {
			b.Add(x.ID())
		}
	}
	return b
}

// order puts the steps in the order in which they are done: by stage, a step
// behind those without which it would bring a fault that wasn't there.
func (p *Plan) order() {
	n := len(p.Steps)
	needs := make([][]int, n)
	// What is ordered is paper until it is delivered, and what is built is built
	// for it: the order goes first, and what it asks for stands until it is done.
	found, order := p.ordered()
	alone := make([][]string, n)
	p.Found.Each(n, func(_ *check.Case, i int) {
		if p.Steps[i].Job != orderJob {
			alone[i] = p.brings(found, withAll(order, p.Steps[i].Set))
		}
	})
	for i := range p.Steps {
		bad := alone[i]
		if len(bad) == 0 {
			continue
		}
		for k := range p.Steps {
			if k == i {
				continue
			}
			if len(p.brings(found, withAll(order, p.Steps[i].Set, p.Steps[k].Set))) < len(bad) {
				needs[i] = append(needs[i], k)
			}
		}
	}
	for i := range p.Steps {
		if k := slices.IndexFunc(p.Steps, func(st Step) bool { return st.Job == orderJob }); k >= 0 && p.sizedBy(&p.Steps[i], &p.Steps[k]) {
			needs[i] = append(needs[i], k)
		}
	}
	// A step's stage is at the latest that of the steps that wait for it.
	for range n {
		for i := range needs {
			for _, k := range needs[i] {
				p.Steps[k].Stage = min(p.Steps[k].Stage, p.Steps[i].Stage)
			}
		}
	}
	sequence := p.sequence(needs)
	// Two steps each of which is harmless may bring a fault together that a third
	// takes away: it is done before the second.
	for range n * n {
		i, k := p.early(found, sequence, needs)
		if i < 0 || slices.Contains(needs[i], k) {
			break
		}
		needs[i] = append(needs[i], k)
		p.Steps[k].Stage = min(p.Steps[k].Stage, p.Steps[i].Stage)
		sequence = p.sequence(needs)
	}
	at := make([]int, n)
	for pos, i := range sequence {
		at[i] = pos + 1
	}
	steps := make([]Step, 0, n)
	for _, i := range sequence {
		st := p.Steps[i]
		st.N = at[i]
		for _, k := range needs[i] {
			if at[k] < st.N {
				st.After = append(st.After, at[k])
			}
		}
		slices.Sort(st.After)
		st.After = slices.Compact(st.After)
		steps = append(steps, st)
	}
	p.Steps = steps
}

// orderJob is the job of ordering a machine with its supply option.
const orderJob Job = "machine"

// ordered are the faults of the site before any work, with the machine as it
// is ordered, and what the order sets.
func (p *Plan) ordered() (standing map[string]bool, order map[string]string) {
	standing = faults(p.Found)
	for _, st := range p.Steps {
		if st.Job == orderJob {
			order = st.Set
			if j, err := p.Found.Having(st.Set); err == nil {
				maps.Copy(standing, faults(j))
			}
		}
	}
	return standing, order
}

// sizedBy says whether a step is sized for what another orders: the circuit
// for its option, and everything for another machine.
func (p *Plan) sizedBy(st, order *Step) bool {
	_, machine := order.Set[survey.Ask.Machine.Key.Path()]
	return st != order && st.Job != orderJob && (machine || st.Trade == check.Electrician)
}

// withAll is several sets of answers as one.
func withAll(sets ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, set := range sets {
		maps.Copy(all, set)
	}
	return all
}

// sequence orders the steps by stage and trade, each behind those that it needs.
func (p *Plan) sequence(needs [][]int) (order []int) {
	n := len(p.Steps)
	rank := make([]int, n)
	for i := range rank {
		rank[i] = i
	}
	slices.SortStableFunc(rank, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Steps[a].Stage, p.Steps[b].Stage), cmp.Compare(slices.Index(check.Trades, p.Steps[a].Trade), slices.Index(check.Trades, p.Steps[b].Trade)), cmp.Compare(a, b))
	})
	for len(order) < n {
		waits := func(i int) bool {
			return slices.Contains(order, i) || slices.ContainsFunc(needs[i], func(k int) bool { return !slices.Contains(order, k) && !slices.Contains(needs[k], i) })
		}
		next := slices.IndexFunc(rank, func(i int) bool { return !waits(i) })
		if next < 0 { // a ring: they are done together
			next = slices.IndexFunc(rank, func(i int) bool { return !slices.Contains(order, i) })
		}
		order = append(order, rank[next])
	}
	return order
}

// early finds the first step after which a fault stands that neither was there
// nor stays, and the later step that takes it away, with those that it needs
// itself; -1 where there is none.
func (p *Plan) early(found map[string]bool, order []int, needs [][]int) (i, k int) {
	last := faults(p.Built)
	maps.Copy(last, found)
	done := map[string]string{}
	for pos, i := range order[:max(0, len(order)-1)] {
		maps.Copy(done, p.Steps[i].Set)
		if len(p.brings(last, done)) == 0 {
			continue
		}
		for _, k := range order[pos+1:] {
			with := maps.Clone(done)
			var do func(k int, seen []int)
			do = func(k int, seen []int) {
				if slices.Contains(seen, k) {
					return // a ring
				}
				for _, first := range needs[k] {
					do(first, append(seen, k))
				}
				maps.Copy(with, p.Steps[k].Set)
			}
			do(k, []int{i})
			if len(p.brings(last, with)) == 0 {
				return i, k
			}
		}
		return -1, -1
	}
	return -1, -1
}

// brings are the faults that some of the plan's answers alone bring.
func (p *Plan) brings(found map[string]bool, set map[string]string) []string {
	j, err := unpapered(p.Found).Having(set)
	if err != nil {
		return nil
	}
	var ids []string
	for _, f := range j.Findings {
		if f.Verdict == check.Fix && !found[f.ID] {
			ids = append(ids, f.ID)
		}
	}
	return ids
}

// stands names the faults that the plan leaves, and why.
func (p *Plan) stands() {
	faults := map[string]int{} // of the library's machines here, by key; filled when asked for
	for _, f := range p.Built.Open(check.Fix) {
		p.Stands = append(p.Stands, Stand{f.ID, p.nearest(f, faults)})
	}
}

// nearest says what would cure a fault that nothing here does: an answer that
// isn't read yet, another supply option, another machine, or the authority.
func (p *Plan) nearest(f *check.Finding, faults map[string]int) check.Phrase {
	if f.Action.Name == "supply.settle" {
		return check.Say("stands.settle", "action", f.Action) // another fault's cure comes first
	}
	if f.Doubt != nil {
		return check.Say("stands.doubt", "action", f.Action)
	}
	if unread := p.unread(f); len(unread) > 0 {
		return check.Say("stands.unread", "questions", unread)
	}
	for _, o := range p.Built.Machine.Power.Supplies {
		if o.Name == p.Built.Supply.Name {
			continue
		}
		if c, err := p.Built.Case.With(map[string]string{survey.Ask.Machine.Supply.Path(): o.Name}); err == nil && c.Judge(f.Check).Verdict == check.OK {
			return check.Say("stands.option", "option", check.Quote(o.Name))
		}
	}
	var best *specs.Machine
	for _, m := range p.Found.Machines() {
		if m.Key == p.Found.Machine.Key {
			continue
		}
		if _, seen := faults[m.Key]; !seen {
			faults[m.Key] = len(p.Built.WithMachine(m).Open(check.Fix))
		}
		if best != nil && faults[best.Key] <= faults[m.Key] {
			continue
		}
		if c, err := p.Built.Case.With(map[string]string{survey.Ask.Machine.Key.Path(): m.Key, survey.Ask.Machine.Supply.Path(): "unknown"}); err == nil && c.Judge(f.Check).Verdict == check.OK {
			best = m
		}
	}
	if best != nil {
		return check.Say("stands.machine", "machine", check.Quote(best.Name))
	}
	return check.Say("stands.authority", "action", f.Action)
}

// unread are the answers not given without which a fault can't be cured: with
// some answer to each, it is cured or a remedy is found. Each is tried.
func (p *Plan) unread(f *check.Finding) (questions check.List) {
	_, reads := p.Built.Ways(f)
	for _, path := range p.Built.Survey.Unread(reads) {
		for _, text := range likely(survey.FieldAt(path)) {
			c, err := p.Built.Case.With(map[string]string{path: text})
			if err != nil {
				continue
			}
			then := c.Judge(f.Check)
			ways, _ := c.Ways(then)
			if then.Verdict == check.OK || len(ways) > 0 {
				questions = append(questions, check.Question(path))
				break
			}
		}
	}
	return questions
}

// likely are answers that a question may get.
func likely(f survey.Field) []string {
	switch {
	case len(f.Choices) > 0:
		return f.Choices
	case f.YesNo():
		return []string{"yes", "no"}
	}
	var texts []string
	if f.Example != "" {
		texts = append(texts, f.Example)
	}
	if low, high, ok := strings.Cut(f.Sane, ".."); ok {
		texts = append(texts, low, high)
	}
	return texts
}
