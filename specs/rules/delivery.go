package rules

import (
	"fmt"
	"maps"
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// The way in: one check for each kind of passage, each reporting the worst of
// its kind. Margins of these checks are shares of what is needed, so that a
// width, a height and a mass can be compared.

// attendantLb is who rides with the crate; common practice, no source.
const attendantLb = 200.0

// DoorsWide compares every door of the way in with the crate.
var DoorsWide = deliveryCheck(&Check{
	ID:      "S-05",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].clear_width": "30 ± 0 in"}, Verdict: Fix, Shows: "w + 2 in = 31 in (787 mm)"},
}, "door", []string{"clear_width", "clear_height"})

// TurnsWide compares every turn of the way in with the crate.
var TurnsWide = deliveryCheck(&Check{
	ID:      "S-06",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[1].clear_width": "34 ± 0 in", "space.path[1].width_after": "34 ± 0 in"}, Verdict: Fix, Shows: "L = 32.51 in (826 mm)"},
}, "turn", []string{"clear_width", "width_after"})

// StairsWide compares every stair of the way in with the crate.
var StairsWide = deliveryCheck(&Check{
	ID:      "S-07",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "stair", "space.path[0].clear_width": "30 ± 0 in"}, Verdict: Fix, Shows: "w + 2 in = 31 in (787 mm)"},
}, "stair", []string{"clear_width"})

// StairCarry says whether a team may carry the machine on a stair.
var StairCarry = &Check{
	ID:      "S-16",
	Trade:   Supplier,
	Stage:   BeforeDelivery,
	Subject: check.Way,
	Sources: []trade.Source{sheet, trade.NIOSHLifting, trade.HSELifting},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "stair", "space.path[0].steps": "12"}, Verdict: Confirm, Shows: "four people = 102 lb (46.3 kg)"},
	Skip:    func(c *Case) check.Phrase { return deliveryAbsent(c, "stair") },
	Run: func(c *Case) Outcome {
		_, mass, load := deliveryLoad(c)
		if !mass.Known() {
			return c.Silent(check.Say("silent.load-mass", "load", load))
		}
		paths := deliveryNeeds(c, "stair", []string{"steps"})
		if out, lacks := c.Lacking(paths...); lacks {
			return out
		}
		steps := 0
		for _, i := range deliveryOf(c, "stair") {
			steps += ask.Space.Path.Of(c)[i].Steps.N()
		}
		team := func(n int) quantity.Mass {
			return quantity.New(trade.TeamLiftLb(n, trade.NIOSHLoadLb), quantity.Pound)
		}
		have, want := check.Say("S-16.have", "load", load, "mass", mass, "steps", steps), check.Say("S-16.want", "two", team(2))
		out := check.Choice(true, have, want, nil, paths...)
		switch people, err := trade.Carriers(mass.In(quantity.Pound), trade.NIOSHLoadLb); {
		case err != nil:
			out = check.Rule(have, want, check.Say("S-16.truck", "mass", mass, "steps", steps), paths...)
		case people > 2:
			out = check.Rule(have, want, check.Say("S-16.team", "mass", mass, "steps", steps, "people", people), paths...)
		}
		out.Working = []Step{
			entry("m", check.Say("step.mass", "load", load), mass),
			entry("steps", check.Say("step.steps"), steps),
			entry("two people", check.Say("step.two"), team(2)),
			entry("three people", check.Say("step.three"), team(3)),
			entry("four people", check.Say("step.four"), team(4)),
		}
		return c.OnSheet(out, "space.crate_mass")
	},
}

// RampsPass compares every ramp of the way in with the crate, and its slope
// with what a loaded hand truck is led over.
var RampsPass = func() *Check {
	k := deliveryCheck(&Check{
		ID:      "S-17",
		Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "ramp", "space.path[0].clear_width": "40 ± 0 in", "space.path[0].rise": "12 ± 0 in", "space.path[0].ramp_length": "8 ± 0 ft"}, Verdict: Confirm, Shows: "12 h = 12 ft (3658 mm)"},
	}, "ramp", []string{"clear_width", "rise", "ramp_length"})
	wide := k.Run
	k.Run = func(c *Case) Outcome {
		out := wide(c)
		if out.Verdict != OK {
			return out
		}
		steepest, at := math.Inf(1), 0
		for _, i := range deliveryOf(c, "ramp") {
			p := ask.Space.Path.Of(c)[i]
			if p.Rise.In(quantity.Inch) <= 0 {
				continue
			}
			if run := p.Length.In(quantity.Inch) / p.Rise.In(quantity.Inch); run < steepest {
				steepest, at = run, i
			}
		}
		if math.IsInf(steepest, 1) { // level
			return out
		}
		p, here := ask.Space.Path.Of(c)[at], deliveryName(c, at)
		need := drainIn(trade.RampRun * p.Rise.In(quantity.Inch))
		_, mass, load := deliveryLoad(c)
		slope := check.From(p.Length, need, check.Say("S-17.steep", "here", here, "load", load, "mass", mass), survey.Named(deliveryPath(at, "rise")), survey.Named(deliveryPath(at, "ramp_length")))
		if slope.Verdict == Fix {
			slope.Verdict = Confirm // it is passed, with more hands
		}
		slope.Have.Phrase, slope.Want.Phrase = check.Say("S-17.have", "here", here), check.Say("S-17.want", "rise", p.Rise)
		slope.Working = append(out.Working, entry("h", check.Say("S-17.rise", "here", here), p.Rise), entry("l", check.Say("S-17.length"), p.Length), entry("12 h", check.Say("S-17.need"), need))
		return c.OnSheet(slope, "space.crate_width")
	}
	return k
}()

// ThresholdsPass says which thresholds wheels don't pass.
var ThresholdsPass = &Check{
	ID:      "S-18",
	Trade:   Supplier,
	Stage:   BeforeDelivery,
	Subject: check.Way,
	Sources: []trade.Source{trade.ADAThreshold, trade.WheelPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "threshold", "space.path[0].rise": "2 ± 0 in"}, Verdict: Confirm, Shows: "h = 2 ± 0 in (51 mm)"},
	Skip:    func(c *Case) check.Phrase { return deliveryAbsent(c, "threshold") },
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(deliveryNeeds(c, "threshold", []string{"rise"})...); lacks {
			return out
		}
		highest := -1
		for _, i := range deliveryOf(c, "threshold") {
			if highest < 0 || ask.Space.Path.Of(c)[i].Rise.Cmp(ask.Space.Path.Of(c)[highest].Rise) > 0 {
				highest = i
			}
		}
		rise, most, here := ask.Space.Path.Of(c)[highest].Rise, drainIn(trade.ThresholdIn), deliveryName(c, highest)
		_, mass, load := deliveryLoad(c)
		out := check.UpTo(rise, most, check.Say("S-18.over", "here", here, "rise", rise, "load", load, "mass", mass), survey.Named(deliveryPath(highest, "rise")))
		if out.Verdict == Fix {
			out.Verdict = Confirm // it is passed, with a plate or by lifting
		}
		out.Working = []Step{entry("h", check.Say("S-18.rise", "here", here), rise), entry("h max", check.Say("S-18.most"), most)}
		return out
	},
}

// LiftsFit compares every lift with the crate.
var LiftsFit = deliveryCheck(&Check{
	ID:      "S-08",
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{"space.path[1].capacity": "190 lb"}, Verdict: Fix, Shows: "m = 195 lb (88.5 kg)"},
}, "lift", []string{"clear_width", "clear_height", "clear_depth", "capacity"})

// WayRecorded asks for the way in at all.
var WayRecorded = &Check{
	ID:      "S-09",
	Trade:   Supplier,
	Stage:   BeforeDelivery,
	Subject: check.Way,
	Sources: []trade.Source{trade.DoorPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Path.Path(): "[]"}, Verdict: Missing},
	Run: func(c *Case) Outcome {
		at, want := ask.Space.Path, check.Say("S-09.want")
		n := map[string]int{}
		for _, p := range at.Of(c) {
			n[p.Kind]++
		}
		if len(n) == 0 {
			return Outcome{Verdict: Missing, At: []survey.Ref{at}, Have: check.FactOf(check.Say("S-09.none")), Want: check.FactOf(want), Action: check.Say("S-09.walk"), Margin: check.NoMargin}
		}
		var counts check.Listed
		for _, kind := range []string{"door", "turn", "stair", "lift", "threshold", "ramp"} {
			name := "S-09." + kind
			if n[kind] != 1 {
				name += "s"
			}
			if n[kind] > 0 || kind != "threshold" && kind != "ramp" {
				counts = append(counts, check.Say(name, "n", n[kind]))
			}
		}
		have := check.Fact{Value: counts}
		if n["door"] == 0 {
			return check.Rule(have, want, check.Say("S-09.again"), at)
		}
		return check.Choice(true, have, want, nil, at)
	},
}

// deliveryCheck completes a check of one kind of passage. needs are the
// answers without which a passage of that kind can't be judged.
func deliveryCheck(k *Check, kind string, needs []string) *Check {
	k.Trade, k.Stage, k.Subject = Supplier, BeforeDelivery, check.Way
	k.Sources = append([]trade.Source{sheet, trade.DoorPractice}, map[string][]trade.Source{
		"turn": {trade.LadderProblem, trade.Geometry}, "stair": {trade.Geometry}, "door": {trade.Geometry}, "lift": {trade.Geometry, trade.ASMEA17_1}, "ramp": {trade.Geometry, trade.ADARamp, trade.WheelPractice},
	}[kind]...)
	k.Skip = func(c *Case) check.Phrase { return deliveryAbsent(c, kind) }
	k.Run = func(c *Case) Outcome {
		ways, mass, load := deliveryLoad(c)
		if len(ways) == 0 || !mass.Known() {
			return c.Silent(check.Say("silent.load", "load", load))
		}
		if out, lacks := c.Lacking(deliveryNeeds(c, kind, needs)...); lacks {
			return out
		}
		var worst deliveryFit
		var failing check.Listed
		for i, at := range deliveryOf(c, kind) {
			f := deliveryBest(c, kind, at)
			if f.worst().fails() {
				failing = append(failing, deliveryName(c, at))
			}
			if i == 0 || f.worst().before(worst.worst()) {
				worst = f
			}
		}
		return c.OnSheet(worst.outcome(c, load, failing), "space.crate_width")
	}
	k.Remedies = func(c *Case, _ *Check) []Remedy {
		var rs []Remedy
		if unpacked := ask.Space.Unpacked; unpacked.Of(c) != survey.Yes {
			rs = append(rs, Remedy{Change: check.Say("way.space.unpacked_outside"), Work: check.Accessory, Set: map[string]string{unpacked.Path(): "yes"}})
		}
		set := map[string]string{}
		var changes check.Listed
		for _, at := range deliveryOf(c, kind) {
			for _, g := range deliveryBest(c, kind, at).gaps {
				if wider, change := g.enlarge(c, at); !change.Zero() {
					maps.Copy(set, wider)
					changes = append(changes, change)
				}
			}
		}
		if len(set) > 0 {
			rs = append(rs, Remedy{Change: check.Say("way.space.path", "changes", changes), Work: check.Carpentry * check.Work(len(changes)), Set: set})
		}
		return rs
	}
	return k
}

// deliveryAbsent says why a kind of passage doesn't arise.
func deliveryAbsent(c *Case, kind string) check.Phrase {
	switch {
	case len(ask.Space.Path.Of(c)) == 0:
		return check.Say("space.no-path")
	case len(deliveryOf(c, kind)) == 0:
		return check.Say("space.no-" + kind)
	}
	return check.Phrase{}
}

// deliveryOf lists the indices of the passages of one kind.
func deliveryOf(c *Case, kind string) []int {
	var at []int
	for i, p := range ask.Space.Path.Of(c) {
		if p.Kind == kind {
			at = append(at, i)
		}
	}
	return at
}

func deliveryPath(i int, name string) string { return fmt.Sprintf("space.path[%d].%s", i, name) }

func deliveryNeeds(c *Case, kind string, names []string) []survey.Ref {
	var paths []survey.Ref
	for _, i := range deliveryOf(c, kind) {
		for _, n := range names {
			paths = append(paths, survey.Named(deliveryPath(i, n)))
		}
	}
	return paths
}

// deliveryName is how the surveyor calls a passage.
func deliveryName(c *Case, i int) any {
	p := ask.Space.Path.Of(c)[i]
	if p.Name == "" {
		return check.Say("passage."+p.Kind, "n", i+1)
	}
	return check.Quote(p.Name)
}

// A deliveryBox is one way to carry the load: across the passage, along it and upward.
type deliveryBox struct{ across, along, tall quantity.Length }

// deliveryLoad is what is carried in: the crate, or the machine when it is
// unpacked outside. ways is empty when the sheet doesn't state its size.
func deliveryLoad(c *Case) (ways []deliveryBox, mass quantity.Mass, load check.Phrase) {
	m := c.Machine.Space
	w, d, h, tilt := m.CrateWidth, m.CrateDepth, m.CrateHeight, m.MayTilt
	mass, load = m.CrateMass, check.Say("load.crate")
	if ask.Space.Unpacked.Of(c) == survey.Yes {
		w, d, h, tilt = m.Width, m.Depth, m.Height, false
		mass, load = m.Mass, check.Say("load.machine")
	}
	if !w.Known() || !d.Known() || !h.Known() {
		return nil, mass, load
	}
	ways = []deliveryBox{{w, d, h}, {d, w, h}}
	if tilt {
		ways = append(ways, deliveryBox{w, h, d}, deliveryBox{h, w, d}, deliveryBox{d, h, w}, deliveryBox{h, d, w})
	}
	return ways, mass, load
}

// A deliveryGap compares one dimension of a passage, or its rated load, with what is needed.
type deliveryGap struct {
	path       string
	what       check.Phrase // "clear width"
	have, need float64
	alone      float64 // rated load that carries the load with nobody beside it; 0 where that makes no difference
	length     bool    // in, else lb
	steps      []Step
	corner     func(more float64) float64 // of a turn: the room when both corridors are that much wider, in
}

// share is the margin as a share of what is needed, 0 at the limit.
func (g deliveryGap) share() float64 {
	if math.Abs(g.have-g.need) < 1e-7 {
		return 0
	}
	return (g.have - g.need) / g.need
}

// fails says whether the load doesn't pass.
func (g deliveryGap) fails() bool { return g.share() < 0 && !g.doubtful() }

// doubtful says whether the load passes with nobody beside it only.
func (g deliveryGap) doubtful() bool {
	return g.share() < 0 && g.alone > 0 && g.have >= g.alone-1e-7
}

// before orders gaps, the gravest first.
func (g deliveryGap) before(o deliveryGap) bool {
	if g.fails() != o.fails() {
		return g.fails()
	}
	return g.share() < o.share()
}

// A deliveryFit is the best way of carrying the load through one passage.
type deliveryFit struct {
	at   int
	box  deliveryBox
	gaps []deliveryGap
}

func (f deliveryFit) worst() deliveryGap {
	worst := f.gaps[0]
	for _, g := range f.gaps[1:] {
		if g.before(worst) {
			worst = g
		}
	}
	return worst
}

// deliveryBest turns the load the way that fits a passage best.
func deliveryBest(c *Case, kind string, i int) deliveryFit {
	ways, mass, load := deliveryLoad(c)
	var best deliveryFit
	for n, box := range ways {
		f := deliveryFit{at: i, box: box, gaps: deliveryGaps(c, kind, i, box, mass, load)}
		if n == 0 || best.worst().before(f.worst()) {
			best = f
		}
	}
	return best
}

// deliveryGaps compares a load, carried one way, with a passage.
func deliveryGaps(c *Case, kind string, i int, box deliveryBox, mass quantity.Mass, load check.Phrase) []deliveryGap {
	p, here := ask.Space.Path.Of(c)[i], deliveryName(c, i)
	line := func(field, what, symbol, letter string, have, size quantity.Length) deliveryGap {
		need := size.In(quantity.Inch) + trade.CrateHandClearance
		name := check.Say("gap." + what)
		return deliveryGap{path: deliveryPath(i, field), what: name, have: have.In(quantity.Inch), need: need, length: true, steps: []Step{
			entry(letter, check.Say("side."+what), size), entry(letter+" + 2 in", check.Say("step.clearance"), drainIn(need)), entry(symbol, check.Say("step.of", "what", name, "here", here), have),
		}}
	}
	var gaps []deliveryGap
	if kind == "turn" {
		gaps = append(gaps, deliveryTurn(c, i, box))
	} else {
		gaps = append(gaps, line("clear_width", "width", "W", "w", p.Width, box.across))
	}
	if p.Height.Known() || kind == "door" || kind == "lift" {
		gaps = append(gaps, line("clear_height", "height", "H", "h", p.Height, box.tall))
	}
	switch {
	case (kind == "stair" || kind == "ramp") && p.Depth.Known():
		gaps = append(gaps, line("clear_depth", "landing", "D", "l", p.Depth, box.along))
	case kind == "lift":
		gaps = append(gaps, line("clear_depth", "depth", "D", "d", p.Depth, box.along), liftLoad(p, i, here, mass, load))
	}
	return gaps
}

// liftLoad compares an elevator's rated load with the load, and with who rides
// along where people may: nobody does in a goods lift.
func liftLoad(p survey.Passage, i int, here any, mass quantity.Mass, load check.Phrase) deliveryGap {
	g := deliveryGap{path: deliveryPath(i, "capacity"), what: check.Say("gap.load"), have: p.Capacity.In(quantity.Pound), need: mass.In(quantity.Pound),
		steps: []Step{entry("m", check.Say("step.mass", "load", load), mass)}}
	if p.Riders != survey.No {
		g.alone = g.need
		g.need += attendantLb
		g.steps = append(g.steps, entry("m + 200 lb", check.Say("step.rider"), quantity.New(g.need, quantity.Pound)))
	}
	g.steps = append(g.steps, entry("rated load", check.Say("step.rated", "here", here), p.Capacity))
	return g
}

// deliveryTurn compares the corner's room with the load's long side.
func deliveryTurn(c *Case, i int, box deliveryBox) deliveryGap {
	p, here := ask.Space.Path.Of(c)[i], deliveryName(c, i)
	long, short := math.Max(box.across.In(quantity.Inch), box.along.In(quantity.Inch)), math.Min(box.across.In(quantity.Inch), box.along.In(quantity.Inch))
	a, b := p.Width.In(quantity.Inch)-trade.CrateHandClearance, p.After.In(quantity.Inch)-trade.CrateHandClearance
	room, how := deliveryCorner(a, b, long, short)
	return deliveryGap{path: deliveryPath(i, "clear_width"), what: check.Say("gap.corner"), have: room, need: long, length: true,
		steps: []Step{
			entry("A - 2 in", check.Say("step.before", "here", here), drainIn(a)),
			entry("B - 2 in", check.Say("step.after"), drainIn(b)),
			entry("w", check.Say("step.short"), drainIn(short)),
			entry("L", check.Say("step.passes", "how", check.Say(how)), drainIn(room)),
			entry("l", check.Say("step.long"), drainIn(long)),
		},
		corner: func(more float64) float64 {
			room, _ := deliveryCorner(a+more, b+more, long, short)
			return room
		}}
}

// How a load passes a corner: the names of two phrases.
const (
	cornerTurned   = "corner.turned"
	cornerSideways = "corner.sideways"
)

// deliveryCorner is how long a load of a width may be to pass the corner of two
// corridors, turned in it or moved on sideways without turning. When its width
// passes neither way the result falls below long by as much as is wanting.
func deliveryCorner(a, b, long, short float64) (room float64, how string) {
	small, large := math.Min(a, b), math.Max(a, b)
	sideways := long + math.Min(small-short, large-long)
	if turned := trade.CornerLengthIn(a, b, short); !math.IsNaN(turned) && turned > sideways {
		return turned, cornerTurned
	}
	return sideways, cornerSideways
}

// outcome judges the worst passage.
func (f deliveryFit) outcome(c *Case, load check.Phrase, failing check.Listed) Outcome {
	g, here := f.worst(), deliveryName(c, f.at)
	have, need, gap := any(quantity.New(g.have, quantity.Pound)), any(quantity.New(g.need, quantity.Pound)), quantity.GapOf(quantity.New(g.have, quantity.Pound), quantity.New(g.need, quantity.Pound))
	if g.length {
		have, need, gap = drainIn(g.have), drainIn(g.need), quantity.GapOf(drainIn(g.have), drainIn(g.need))
	}
	out := Outcome{Verdict: check.Met(g.share() >= 0), At: []survey.Ref{survey.Named(g.path)}, Margin: Margin{Value: g.share(), Gap: gap, Side: check.Phrase{Name: "margin.spare"}}, Working: g.steps,
		Have: check.Fact{Value: have}.In(check.Say("passage.has", "here", here, "what", g.what)),
		Want: check.Fact{Value: need, Bound: check.AtLeast}.In(check.Say("passage.needs", "load", load))}
	if g.corner != nil {
		out.At = append(out.At, survey.Named(deliveryPath(f.at, "width_after")))
		out.Have.Phrase, out.Want.Phrase = check.Say("corner.passes", "here", here), check.Say("corner.needs", "load", load)
	}
	if out.Verdict == OK {
		return out
	}
	out.Margin.Side = check.Phrase{Name: "margin.short"}
	unpack := check.Say("passage.or-unpack")
	if ask.Space.Unpacked.Of(c) == survey.Yes {
		unpack = check.Phrase{}
	}
	blanks := []any{"here", here, "load", load, "what", g.what, "need", need, "have", have, "unpack", unpack}
	switch {
	case g.doubtful():
		out.Verdict, out.Action = Confirm, check.Say("S-08.alone", blanks...)
		out.At = append(out.At, survey.Named(deliveryPath(f.at, "passengers")))
	case g.corner != nil:
		out.Action = check.Say("corner.widen", blanks...)
	case !g.length:
		out.Action = check.Say("S-08.owner", blanks...)
	default:
		out.Action = check.Say("passage.enlarge", blanks...)
	}
	if len(failing) > 1 {
		out.Action = check.Say("passage.all", "action", out.Action, "failing", failing)
	}
	return out
}

// tapeIn is the uncertainty of a tape, in; see survey.Instruments.
const tapeIn = 0.125

// enlarge gives the answers with which a gap closes, a tape's uncertainty
// included, and how to say it; nothing when it is closed already or can't be closed by building.
func (g deliveryGap) enlarge(c *Case, i int) (set map[string]string, change check.Phrase) {
	up := func(inches float64) string { return lengths(c, inches, inches+1, 0.25, 5)[0] }
	p, here := ask.Space.Path.Of(c)[i], deliveryName(c, i)
	switch {
	case !g.length:
		return nil, change
	case g.corner != nil:
		for more := 0.0; more <= 240; more += 0.25 {
			if g.corner(more-tapeIn) < g.need {
				continue
			}
			if more == 0 {
				return nil, change
			}
			before, after := up(p.Width.In(quantity.Inch)+more), up(p.After.In(quantity.Inch)+more)
			return map[string]string{deliveryPath(i, "clear_width"): before, deliveryPath(i, "width_after"): after},
				check.Say("way.corner", "here", here, "before", written(quantity.Inch, before), "after", written(quantity.Inch, after))
		}
		return nil, change
	case g.have-g.need >= tapeIn:
		return nil, change
	}
	text := up(g.need + tapeIn)
	return map[string]string{g.path: text}, check.Say("way.passage", "what", g.what, "here", here, "value", written(quantity.Inch, text))
}
