package rules

import (
	"maps"
	"math"
	"slices"
	"sort"

	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// One drain. Its numbers hang on each other: the pipe's size sets the air gap,
// the gap takes the fall, cold water mixed in takes the pipe. The first remedy
// of each of its faults therefore sets values of one solution of them all, and
// takes along what it would break by itself.

// A drainPoint is a check of the drain on which remedies of others hang, and
// changes that could cure it by themselves, the least work first. Points of
// one stage are cured by the same change.
type drainPoint struct {
	check   *Check
	stage   string
	propose func(*Case) []map[string]string
}

// drainPoints stand in the order in which their values follow from each other.
var drainPoints = []drainPoint{
	{&Check{ID: "D-10", Run: runSewerHeat}, "heat", coolings},
	{&Check{ID: "D-09", Run: runPipeHeat}, "pipe heat", heatproof},
	{&Check{ID: "D-05", Run: runLineSize}, "size", largerLine},
	{&Check{ID: "D-07", Skip: gravityOnly, Run: runLineFlow}, "size", oneOrOther(lessTempering(&Check{Skip: gravityOnly, Run: runLineFlow}), largerLine)},
	{&Check{ID: "D-06", Skip: noReceptor, Run: runReceptorOutlet}, "outlet", largerOutlet},
	{&Check{ID: "D-08", Skip: noReceptor, Run: runReceptorFlow}, "outlet", oneOrOther(lessTempering(&Check{Skip: noReceptor, Run: runReceptorFlow}), oneOrOther(lessIntoLarger, largerOutlet))},
	{&Check{ID: "D-22", Skip: noStandpipe, Run: runStandpipe}, "standpipe", standpipes},
	{&Check{ID: "D-23", Skip: noCooling, Run: runCoolingSupply}, "cooling", oneOrOther(coolingLine, lessTempering(&Check{Skip: noCooling, Run: runCoolingSupply}))},
	{&Check{ID: "D-24", Skip: noCooling, Run: runCoolingValve}, "cooling", coolingLine},
	{&Check{ID: "D-04", Skip: noAirGap, Run: runAirGap}, "gap", widerGap},
	{&Check{ID: "D-03", Skip: gravityOnly, Run: runFall}, "fall", moreFall},
	{&Check{ID: "D-21", Skip: pumpOnly, Run: runPumpLift}, "lift", lessLift},
	{&Check{ID: "D-25", Skip: pumpOnly, Run: runHighLoop}, "loop", loops},
}

// oneOrOther lists the changes of two ways, the first way's first.
func oneOrOther(a, b func(*Case) []map[string]string) func(*Case) []map[string]string {
	return func(c *Case) []map[string]string { return append(a(c), b(c)...) }
}

// fails says whether a point is a fault whatever the readings' uncertainty.
func (p drainPoint) fails(c *Case) bool {
	return c.Run(p.check).Verdict == Fix && c.Judge(p.check).Verdict == Fix
}

// A cure is what one stage of the solution sets.
type cure struct {
	stage string
	set   map[string]string
}

// solved is the solution of all faults of the drain: each stage's cure, worked
// out on the site with those before it.
func solved(c *Case) []cure {
	var cures []cure
	for round := range 2 { // what a later stage breaks is cured in a second round
		if round > 0 && len(cures) == 0 {
			break
		}
		for _, p := range drainPoints {
			if !p.fails(c) {
				continue
			}
			for _, set := range p.propose(c) {
				if after, err := c.With(set); err == nil && after.Passes(p.check) {
					cures, c = append(cures, cure{p.stage, set}), after
					break
				}
			}
		}
	}
	return cures
}

// joinedCures joins the cures of some stages, later ones over earlier ones.
func joinedCures(cures []cure, stages map[string]bool) map[string]string {
	set := map[string]string{}
	for _, x := range cures {
		if stages[x.stage] {
			maps.Copy(set, x.set)
		}
	}
	return set
}

// broken is the first point that a change makes a fault.
func broken(c, after *Case) (drainPoint, bool) {
	for _, p := range drainPoints {
		if p.fails(after) && !p.fails(c) {
			return p, true
		}
	}
	return drainPoint{}, false
}

// share is the part of the solution that cures one check and breaks nothing of
// the drain: its own stage, and the others that this takes.
func share(c *Case, k *Check, stage string) (map[string]string, bool) {
	cures := solved(c)
	in := map[string]bool{stage: true}
	for range len(cures) + 1 {
		set := joinedCures(cures, in)
		after, err := c.With(set)
		if err != nil {
			return nil, false
		}
		p, bad := broken(c, after)
		if !bad && after.Passes(k) {
			return set, true
		}
		more := p.stage
		if in[more] || !bad {
			more = ""
		}
		for _, x := range cures {
			if more == "" && !in[x.stage] {
				more = x.stage
			}
		}
		if more == "" {
			return nil, false
		}
		in[more] = true
	}
	return nil, false
}

// fitted adds to a change what it would break of the drain otherwise; false
// when that can't be, or the check isn't cured by it.
func fitted(c *Case, k *Check, set map[string]string) (map[string]string, bool) {
	all := maps.Clone(set)
	for range len(drainPoints) {
		after, err := c.With(all)
		if err != nil {
			return nil, false
		}
		p, bad := broken(c, after)
		if !bad {
			return all, after.Passes(k)
		}
		ok := false
		for _, more := range p.propose(after) {
			if clash(more, set) {
				continue // it would undo the change itself
			}
			try := maps.Clone(all)
			maps.Copy(try, more)
			if site, err := c.With(try); err == nil && site.Passes(p.check) {
				all, ok = try, true
				break
			}
		}
		if !ok {
			return nil, false
		}
	}
	return nil, false
}

// clash says whether two changes set the same answer.
func clash(a, b map[string]string) bool {
	for path := range a {
		if _, both := b[path]; both {
			return true
		}
	}
	return false
}

// drainWays makes remedies of a check: first its share of the solution, where
// it is a point of it, then each change with what it takes along.
func drainWays(c *Case, k *Check, changes ...map[string]string) []Remedy {
	var rs []Remedy
	add := func(set map[string]string, ok bool) {
		if ok && !slices.ContainsFunc(rs, func(r Remedy) bool { return maps.Equal(r.Set, set) }) {
			rs = append(rs, drainRemedy(c, set))
		}
	}
	if i := slices.IndexFunc(drainPoints, func(p drainPoint) bool { return p.check.ID == k.ID }); i >= 0 {
		add(share(c, k, drainPoints[i].stage))
	}
	for _, set := range changes {
		add(fitted(c, k, set))
	}
	return rs
}

// drainChanges words each answer that a remedy of the drain may change, as a
// phrase "way." and its path, and says what work it is.
var drainChanges = []struct {
	at   survey.Ref
	work check.Work
}{
	{ask.Machine.RaisedBy, check.Device},
	{ask.Space.Height, check.Carpentry},
	{ask.Space.Counter, check.NoWork},
	{ask.Drain.Receptor, check.FloorWork},
	{ask.Drain.Connection, check.Fitting},
	{ask.Drain.Material, check.PipeOrWire},
	{ask.Drain.Size, check.PipeOrWire},
	{ask.Drain.RunLength, check.PipeOrWire},
	{ask.Drain.Elbows, check.PipeOrWire},
	{ask.Drain.AirGap, check.Fitting},
	{ask.Drain.RimHeight, check.FloorWork},
	{ask.Drain.Outlet, check.FloorWork},
	{ask.Drain.OutletOf, check.FloorWork},
	{ask.Drain.Shares, check.FloorWork},
	{ask.Drain.Cleanouts, check.Fitting},
	{ask.Drain.Trap, check.Fitting},
	{ask.Drain.ReceptorTrap, check.FloorWork},
	{ask.Drain.Vent, check.FloorWork},
	{ask.Drain.TrapToVent, check.FloorWork},
	{ask.Drain.TrapSeal, check.Fitting},
	{ask.Drain.Strainer, check.Accessory},
	{ask.Drain.Accessible, check.Carpentry},
	{ask.Drain.Standpipe, check.Fitting},
	{ask.Drain.Lift, check.Adjusting},
	{ask.Drain.HighLoop, check.Adjusting},
	{ask.Drain.HoseVent, check.Accessory},
	{ask.Drain.Steady, check.Accessory},
	{ask.Drain.Tempering, check.Fitting},
	{ask.Drain.TemperLine, check.PipeOrWire},
	{ask.Drain.TemperValve, check.Device},
	{ask.Drain.TemperShut, check.Accessory},
	{ask.Drain.TemperGuard, check.Device},
	{ask.Drain.TemperSpill, check.Accessory},
}

// drainRemedy words a change of the drain by the values that it leads to.
func drainRemedy(c *Case, set map[string]string) Remedy {
	after, err := c.With(set)
	if err != nil {
		return Remedy{}
	}
	r := Remedy{Set: set}
	var parts check.List
	for _, x := range drainChanges {
		if _, ok := set[x.at.Path()]; !ok {
			continue
		}
		work, name := x.work, "way."+x.at.Path()
		if ask.Drain.Receptor.Of(after) == "standpipe" && ask.Drain.RimHeight.Known(after) {
			_, pipe := set[ask.Drain.Standpipe.Path()]
			_, rim := set[ask.Drain.RimHeight.Path()]
			switch {
			case x.at == survey.Ref(ask.Drain.Standpipe) && !rim: // its rim stays: the trap moves
				work, name = work+check.PipeOrWire, "way.standpipe-trap"
			case x.at == survey.Ref(ask.Drain.RimHeight) && pipe: // cut or built up
				work = check.NoWork
			case x.at == survey.Ref(ask.Drain.RimHeight):
				work, name = check.Fitting+check.PipeOrWire, "way.standpipe-whole"
			}
		}
		r.Work += work
		value := x.at.Value(after)
		switch v := value.(type) {
		case string:
			value = check.Word(v)
		case quantity.Length:
			value = quantity.New(v.In(quantity.Inch), quantity.Inch)
		case quantity.Flow:
			value = quantity.New(v.In(quantity.GPM), quantity.GPM)
		}
		parts = append(parts, check.Say(name, "value", value))
	}
	r.Change = parts[0]
	if len(parts) > 1 {
		r.Change = check.Say("way", "parts", parts)
	}
	return r
}

// eachOf sets one answer to each of several texts.
func eachOf(at survey.Ref, texts ...string) []map[string]string {
	var sets []map[string]string
	for _, t := range texts {
		sets = append(sets, map[string]string{at.Path(): t})
	}
	return sets
}

// firstOf is the first of the texts of one answer with which a point passes, with what it takes along.
func firstOf(c *Case, k *Check, at survey.Ref, texts []string, with map[string]string) []map[string]string {
	setOf := func(i int) map[string]string {
		set := map[string]string{at.Path(): texts[i]}
		maps.Copy(set, with)
		return set
	}
	passes := func(i int) bool {
		after, err := c.With(setOf(i))
		return err == nil && after.Passes(k)
	}
	i := 0
	if len(texts) > 8 { // once met stays met, or the first is met
		i = sort.Search(len(texts), passes)
	} else {
		for i < len(texts) && !passes(i) {
			i++
		}
	}
	if i == len(texts) {
		return nil
	}
	return []map[string]string{setOf(i)}
}

// metric says whether lengths are built to in millimetres at the site.
func metric(c *Case) bool {
	switch ask.Codes.Electrical.Of(c) {
	case "":
		return c.Machine.Basis != "nec"
	case "iec-60364", "bs-7671":
		return true
	}
	return false
}

// lengths lists lengths from one to another, in inches, in steps that a trade
// works to: of in inches, or of mm millimetres. The first is rounded towards the last.
func lengths(c *Case, from, to, in, mm float64) []string {
	step, u := in, quantity.Inch
	if metric(c) {
		step, u, from, to = mm, quantity.Millimetre, from*25.4, to*25.4
	}
	if from <= to {
		from = math.Ceil(from/step-1e-9) * step
	} else {
		from = math.Floor(from/step+1e-9) * step
	}
	return check.Ladder(from, to, step, u)
}

// shorterRuns lists shorter runs of the drain line.
func shorterRuns(c *Case) []string {
	return lengths(c, ask.Drain.RunLength.Of(c).In(quantity.Inch)-0.01, 6, 6, 100)
}

// stands lists higher stands under the machine.
func stands(c *Case) []string {
	return lengths(c, ask.Machine.RaisedBy.Of(c).In(quantity.Inch)+0.01, 36, 0.5, 10)
}

// largerSizes lists the drain pipe sizes above one.
func largerSizes(above quantity.PipeSize) []string {
	var texts []string
	for p := above.Next(); p.Known(); p = p.Next() {
		if p.DN() > 0 {
			texts = append(texts, p.String())
		}
	}
	return texts
}

// largerLine is the least line that is as large as the outlet and carries the
// peak at the code's slope; one that carries it on a steeper slope will do
// where the present one does.
func largerLine(c *Case) []map[string]string {
	d := ask.Drain
	flow := &Check{Skip: gravityOnly, Run: runLineFlow}
	short := c.Run(flow).Verdict == Fix
	for _, s := range largerSizes(d.Size.Of(c)) {
		set := map[string]string{d.Size.Path(): s}
		after, err := c.With(set)
		if err != nil || runLineSize(after).Verdict != OK || c.Machine.Drain.Kind != "pump" && (short && !after.Passes(flow) || after.Run(flow).Verdict == Fix) {
			continue
		}
		return []map[string]string{set}
	}
	return nil
}

// largerOutlet is the least outlet of the receptor that suits the line and carries what comes.
func largerOutlet(c *Case) []map[string]string {
	d := ask.Drain
	both := &Check{Run: func(c *Case) Outcome { return graver(runReceptorOutlet(c), runReceptorFlow(c)) }}
	sizes := largerSizes(d.Outlet.Of(c))
	if sets := firstOf(c, both, d.Outlet, sizes, nil); sets != nil {
		return sets
	}
	for _, s := range sizes {
		set := map[string]string{d.Outlet.Path(): s}
		if after, err := c.With(set); err == nil && runReceptorOutlet(after).Verdict == OK && runReceptorFlow(after).Verdict != Fix {
			return []map[string]string{set}
		}
	}
	return nil
}

// widerGap is the air gap that the line's size needs.
func widerGap(c *Case) []map[string]string {
	d := ask.Drain
	bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
	return eachOf(d.AirGap, lengths(c, roomyGap(bore)-0.125, 12, 0.25, 5)[:1]...)
}

// moreFall are the ways to more fall: a gap no larger than it must be, a
// stand, a lower rim, a shorter line; a stand that the counter doesn't allow
// stands last.
func moreFall(c *Case) []map[string]string {
	d, k := ask.Drain, &Check{Run: runFall}
	var sets []map[string]string
	bore, _ := drainBore(d.Material.Of(c), d.Size.Of(c))
	gap := map[string]string{}
	if least := roomyGap(bore); d.AirGap.Of(c).In(quantity.Inch) > least {
		gap[d.AirGap.Path()] = lengths(c, least-0.125, 12, 0.25, 5)[0]
		if after, err := c.With(gap); err == nil && after.Passes(k) {
			sets = append(sets, gap)
		}
	}
	stand := firstOf(c, k, ask.Machine.RaisedBy, stands(c), nil)
	low := stand != nil && !fitsUnder(c, stand[0])
	if !low {
		sets = append(sets, stand...)
	}
	sets = append(sets, firstOf(c, k, d.RunLength, shorterRuns(c), nil)...)
	if rim := d.RimHeight.Of(c).In(quantity.Inch); rim > 0 {
		sets = append(sets, firstOf(c, k, d.RimHeight, lengths(c, rim-0.01, 0, 0.5, 10), nil)...)
	}
	if low {
		sets = append(sets, raisedCounter(c, stand[0]))
	}
	return sets
}

// raisedCounter is a stand with the counter raised for it.
func raisedCounter(c *Case, stand map[string]string) map[string]string {
	after, err := c.With(stand)
	if err != nil {
		return stand
	}
	s, set := ask.Space, maps.Clone(stand)
	in := openingHeightNeed(after).In(quantity.Inch)
	for _, high := range firstOf(after, &Check{Run: runOpeningHeight}, s.Height, lengths(c, in, in+2, 0.25, 5), nil) {
		maps.Copy(set, high)
		maps.Copy(set, counterWith(c, high[s.Height.Path()]))
	}
	return set
}

// fitsUnder says whether the machine still goes under the counter, if it did before.
func fitsUnder(c *Case, set map[string]string) bool {
	after, err := c.With(set)
	return err == nil && (runOpeningHeight(c).Verdict != OK || runOpeningHeight(after).Verdict != Fix)
}
