package plan

import (
	"cmp"
	"maps"
	"slices"

	"firstfill/specs/check"
	"firstfill/survey"
)

// steps makes one step of each job, says what it cures, and orders them.
func (p *Plan) steps(s *search) {
	byJob := map[int]*Step{}
	said := map[string]bool{}  // things that a remedy's own words say
	taken := map[string]bool{} // answers that a step changes already
	for _, o := range p.ways {
		job := p.jobOf(o)
		st := byJob[job]
		if st == nil {
			st = &Step{Job: jobs[job].job, Trade: jobs[job].trade, Set: map[string]string{}, Stage: check.BeforeStart}
			byJob[job] = st
		}
		st.Work += o.work
		st.Stage = min(st.Stage, o.fault.Stage)
		consequence := false
		for path := range o.remedy.Set {
			if p.Set[path] == o.remedy.Set[path] && !taken[path] {
				st.Set[path], taken[path] = p.Set[path], true
			}
			consequence = consequence || things[path] == nil
		}
		if consequence {
			st.Do = append(st.Do, check.PhraseOf(o.remedy.Change))
			for path := range o.remedy.Set {
				said[path] = said[path] || p.Set[path] == o.remedy.Set[path]
			}
		}
	}
	for _, st := range byJob {
		for _, path := range slices.Sorted(maps.Keys(st.Set)) {
			if r := things[path]; r != nil && !said[path] {
				st.Do = append(st.Do, say(r, p.Built.Survey))
			}
		}
	}
	for _, i := range slices.Sorted(maps.Keys(byJob)) {
		p.Steps = append(p.Steps, *byJob[i])
	}
	p.Found.Each(len(p.Steps), func(c *check.Case, i int) { p.judge(c, &p.Steps[i]) })
	p.doubts()
	p.Steps = slices.DeleteFunc(p.Steps, func(st Step) bool { return len(st.Cures) == 0 })
	p.order()
}

// jobOf is the job of a change: that of the answer which stands first in jobs,
// but a circuit's change of the supply's readings stays with what it fits.
func (p *Plan) jobOf(o option) int {
	job := len(jobs)
	for path := range o.remedy.Set {
		job = min(job, jobOf(path))
	}
	return job
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
	found := faults(p.Found)
	alone := make([][]string, n)
	p.Found.Each(n, func(_ *check.Case, i int) { alone[i] = p.brings(found, p.Steps[i].Set) })
	for i := range p.Steps {
		bad := alone[i]
		if len(bad) == 0 {
			continue
		}
		for k := range p.Steps {
			if k == i {
				continue
			}
			both := maps.Clone(p.Steps[i].Set)
			maps.Copy(both, p.Steps[k].Set)
			if len(p.brings(found, both)) < len(bad) {
				needs[i] = append(needs[i], k)
			}
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
	rank := make([]int, n)
	for i := range rank {
		rank[i] = i
	}
	slices.SortStableFunc(rank, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Steps[a].Stage, p.Steps[b].Stage), cmp.Compare(slices.Index(check.Trades, p.Steps[a].Trade), slices.Index(check.Trades, p.Steps[b].Trade)), cmp.Compare(a, b))
	})
	var order []int
	for len(order) < n {
		took := false
		for _, i := range rank {
			if slices.Contains(order, i) || slices.ContainsFunc(needs[i], func(k int) bool { return !slices.Contains(order, k) && !slices.Contains(needs[k], i) }) {
				continue
			}
			order, took = append(order, i), true
			break
		}
		if !took { // a ring: they are done together
			for _, i := range rank {
				if !slices.Contains(order, i) {
					order = append(order, i)
					break
				}
			}
		}
	}
	at := make([]int, n)
	for pos, i := range order {
		at[i] = pos + 1
	}
	steps := make([]Step, 0, n)
	for _, i := range order {
		st := p.Steps[i]
		st.N = at[i]
		for _, k := range needs[i] {
			if at[k] < st.N {
				st.After = append(st.After, at[k])
			}
		}
		slices.Sort(st.After)
		steps = append(steps, st)
	}
	p.Steps = steps
}

// brings are the faults that some of the plan's answers alone bring.
func (p *Plan) brings(found map[string]bool, set map[string]string) []string {
	j, err := p.Found.Only(func(f *check.Finding) bool { return f.Reads != survey.Every() }).Having(set)
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
	for _, f := range p.Built.Open(check.Fix) {
		p.Stands = append(p.Stands, Stand{f.ID, p.nearest(f)})
	}
}

// nearest says what would cure a fault that nothing here does: an answer that
// isn't read yet, another supply option, another machine, or the authority.
func (p *Plan) nearest(f *check.Finding) check.Phrase {
	_, reads := p.Built.Ways(f)
	var unread check.List
	for _, path := range p.Built.Survey.Unread(reads) {
		unread = append(unread, check.Question(path))
	}
	for _, m := range p.Found.Machines() {
		if m.Key == p.Found.Machine.Key {
			continue
		}
		if o := p.Built.WithMachine(m).Of(f.Check); o != nil && o.Verdict == check.OK {
			return check.Say("stands.machine", "machine", check.Quote(m.Name))
		}
	}
	if len(unread) > 0 {
		return check.Say("stands.unread", "questions", unread)
	}
	return check.Say("stands.authority", "action", f.Action)
}
