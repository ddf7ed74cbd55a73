package rules

import (
	"firstfill/specs/check"
	"fmt"
	"maps"
	"math"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// The way in: one check for each kind of passage, each reporting the worst of
// its kind. Margins of these checks are shares of what is needed, so that a
// width, a height and a mass can be compared.

var niosh = trade.Source{Document: "NIOSH 94-110, revised lifting equation", Edition: "1994", Clause: "load constant, 51 lb", Mark: trade.Confirmed}

const (
	nioshLb     = 51.0  // what one person is taken to lift under the best conditions; niosh
	attendantLb = 200.0 // who rides with the crate; common practice, no source
)

// DoorsWide compares every door of the way in with the crate.
var DoorsWide = deliveryCheck(&Check{
	ID:      "S-05",
	Title:   "doors of the way in",
	Why:     "A crate that stops at a door is unpacked on the pavement or goes back. Measure clear, with the door open, not the leaf.",
	Formula: "W ≥ w + 2 in and H ≥ h + 2 in; w the side that leads, h the crate's height; the way round that fits best",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].clear_width": "30 ± 0 in"}, Verdict: Fix, Shows: "w + 2 in = 31 in (787 mm)"},
}, "door", []string{"clear_width", "clear_height"})

// TurnsWide compares every turn of the way in with the crate.
var TurnsWide = deliveryCheck(&Check{
	ID:      "S-06",
	Title:   "turns of the way in",
	Why:     "A crate that passes both corridors may still stick in the corner between them.",
	Formula: "L ≥ l, L = min over t of ((A - 2 in) sin t + (B - 2 in) cos t - w) / (sin t cos t); or w and l pass the two corridors without turning",
	Range:   "corridors at a right angle, crate kept upright; A and B their clear widths, l and w the crate's long and short side",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[1].clear_width": "34 ± 0 in", "space.path[1].width_after": "34 ± 0 in"}, Verdict: Fix, Shows: "L = 32.51 in (826 mm)"},
}, "turn", []string{"clear_width", "width_after"})

// StairsWide compares every stair of the way in with the crate.
var StairsWide = deliveryCheck(&Check{
	ID:      "S-07",
	Title:   "stairs of the way in",
	Why:     "A crate that jams on a stair can neither go on nor safely go back.",
	Formula: "W ≥ w + 2 in; where they are given H ≥ h + 2 in and landing ≥ l + 2 in; the way round that fits best",
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "stair", "space.path[0].clear_width": "30 ± 0 in"}, Verdict: Fix, Shows: "w + 2 in = 31 in (787 mm)"},
}, "stair", []string{"clear_width"})

// StairCarry says how many people a stair takes.
var StairCarry = &Check{
	ID:      "S-16",
	Trade:   Supplier,
	Stage:   BeforeDelivery,
	Title:   "people to carry the machine on stairs",
	Why:     "A crate on a stair can crush whoever is below it. Two people or more who have done it before, or a stair-climbing truck; nobody stands below the load.",
	Formula: "people = max(2, m / 51 lb rounded up)",
	Range:   "51 lb is one person's lift under the best conditions; a stair is none, so this is a least number",
	Sources: []trade.Source{sheet, niosh, {Document: "Carrying on stairs", Mark: trade.CommonPractice}},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"space.path[0].kind": "stair", "space.path[0].steps": "12"}, Verdict: Confirm, Shows: "people = 6"},
	Applies: func(c *Case) string { return deliveryAbsent(c, "stair") },
	Run: func(c *Case) Outcome {
		_, mass, name := deliveryLoad(c)
		if !mass.Known() {
			return c.Silent(check.Say("S-16.sheet", "name", check.Quote(name)))
		}
		paths := deliveryNeeds(c, "stair", []string{"steps"})
		if out, lacks := c.Lacking(paths...); lacks {
			return out
		}
		people := max(2, int(math.Ceil(mass.In(quantity.Pound)/nioshLb-1e-9)))
		steps := 0
		for _, i := range deliveryOf(c, "stair") {
			steps += ask.Space.Path.Of(c)[i].Steps.N()
		}
		have, want := any(check.Say("S-16.have", "name", check.Quote(name), "mass", mass, "steps", steps)), any(check.Say("S-16.want"))
		out := check.Choice(true, have, want, check.Phrase{}, paths...)
		if people > 2 {
			out = check.Rule(have, want, check.Say("S-16.do", "mass", mass, "steps", steps, "people", people), paths...)
		}
		out.Working = []Step{
			{"m", check.Say("S-16.step", "trimprefix", check.Quote(strings.TrimPrefix(name, "the "))), mass},
			{"steps", check.Say("S-16.step2"), check.Figure{Value: float64(steps), Decimals: 0}},
			{"people", check.Say("S-16.step3"), check.Figure{Value: float64(people), Decimals: 0}},
		}
		return c.OnSheet(out, "space.crate_mass")
	},
}

// LiftsFit compares every lift with the crate.
var LiftsFit = deliveryCheck(&Check{
	ID:      "S-08",
	Title:   "lifts of the way in",
	Why:     "The crate must go in, let the door close, and weigh no more than the lift is rated for.",
	Formula: "W ≥ w + 2 in, D ≥ d + 2 in, H ≥ h + 2 in, and rated load ≥ m + 200 lb for who rides with it",
	Example: Example{Machine: "dunlin-u24", Given: map[string]string{"space.path[1].capacity": "300 lb"}, Verdict: Fix, Shows: "m + 200 lb = 395 lb (179 kg)"},
}, "lift", []string{"clear_width", "clear_height", "clear_depth", "capacity"})

// WayRecorded asks for the way in at all.
var WayRecorded = &Check{
	ID:      "S-09",
	Trade:   Supplier,
	Stage:   BeforeDelivery,
	Title:   "way in recorded from the kerb to the bar",
	Why:     "What was not walked was not measured: doors, turns, stairs and lifts decide whether the machine arrives.",
	Sources: []trade.Source{trade.DoorPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Space.Path.Path(): "[]"}, Verdict: Missing},
	Run: func(c *Case) Outcome {
		path, want := ask.Space.Path, any(check.Say("S-09.want"))
		n := map[string]int{}
		for _, p := range ask.Space.Path.Of(c) {
			n[p.Kind]++
		}
		var counts check.Listed
		for _, kind := range []string{"door", "turn", "stair", "lift"} {
			name := "S-09." + kind
			if n[kind] != 1 {
				name += "s"
			}
			counts = append(counts, check.Say(name, "n", n[kind]))
		}
		have := any(counts)
		switch {
		case len(ask.Space.Path.Of(c)) == 0:
			return Outcome{Verdict: Missing, At: []survey.Ref{path}, Have: check.FactOf(check.Raw(check.Say("S-09.do"))), Want: check.FactOf(check.Raw(want)), Margin: Margin{Value: math.NaN()},
				Action: check.Raw(check.Say("S-09.do2"))}
		case n["door"] == 0:
			return check.Rule(have, want, check.Say("S-09.do3"), path)
		}
		return check.Choice(true, have, want, check.Phrase{}, path)
	},
}

// deliveryCheck completes a check of one kind of passage. needs are the
// answers without which a passage of that kind can't be judged.
func deliveryCheck(k *Check, kind string, needs []string) *Check {
	k.Trade, k.Stage = Supplier, BeforeDelivery
	k.Sources = append([]trade.Source{sheet, trade.DoorPractice}, map[string][]trade.Source{
		"turn": {trade.LadderProblem, trade.Geometry}, "stair": {trade.Geometry}, "door": {trade.Geometry}, "lift": {trade.Geometry},
	}[kind]...)
	k.Applies = func(c *Case) string { return deliveryAbsent(c, kind) }
	k.Run = func(c *Case) Outcome {
		ways, mass, name := deliveryLoad(c)
		if len(ways) == 0 || !mass.Known() {
			return c.Silent(check.Say("delivery-check.sheet", "name", check.Quote(name)))
		}
		if out, lacks := c.Lacking(deliveryNeeds(c, kind, needs)...); lacks {
			return out
		}
		var worst deliveryFit
		var failing []string
		for i, at := range deliveryOf(c, kind) {
			f := deliveryBest(c, kind, at)
			if f.worst().share() < 0 {
				failing = append(failing, deliveryName(c, at))
			}
			if i == 0 || f.worst().share() < worst.worst().share() {
				worst = f
			}
		}
		out := worst.outcome(c, check.Quote(name), failing)
		return c.OnSheet(out, "space.crate_width")
	}
	k.Remedies = func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		if ask.Space.Unpacked.Of(c) != survey.Yes {
			rs = append(rs, Remedy{Change: check.Say("delivery-check.way"), Set: map[string]string{ask.Space.Unpacked.Path(): "yes"}})
		}
		set := map[string]string{}
		var changes []string
		for _, at := range deliveryOf(c, kind) {
			for _, g := range deliveryBest(c, kind, at).gaps {
				if wider, change := g.enlarge(c, at); change != "" {
					maps.Copy(set, wider)
					changes = append(changes, change)
				}
			}
		}
		if len(set) > 0 {
			rs = append(rs, Remedy{Change: check.Quote(strings.Join(changes, ", and ")), Set: set})
		}
		return rs
	}
	return k
}

// deliveryAbsent says why a kind of passage doesn't arise.
func deliveryAbsent(c *Case, kind string) string {
	switch {
	case len(ask.Space.Path.Of(c)) == 0:
		return "the way in is not recorded (S-09)"
	case len(deliveryOf(c, kind)) == 0:
		return "there is no " + kind + " on the way in"
	}
	return ""
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
func deliveryName(c *Case, i int) string {
	p := ask.Space.Path.Of(c)[i]
	if p.Name == "" {
		return fmt.Sprintf("%s %d", p.Kind, i+1)
	}
	return p.Name
}

// A deliveryBox is one way to carry the load: across the passage, along it and upward.
type deliveryBox struct{ across, along, tall quantity.Length }

// deliveryLoad is what is carried in: the crate, or the machine when it is
// unpacked outside. ways is empty when the sheet doesn't state its size.
func deliveryLoad(c *Case) (ways []deliveryBox, mass quantity.Mass, name string) {
	m := c.Machine.Space
	w, d, h, tilt := m.CrateWidth, m.CrateDepth, m.CrateHeight, m.MayTilt
	mass, name = m.CrateMass, "the crate"
	if ask.Space.Unpacked.Of(c) == survey.Yes {
		w, d, h, tilt = m.Width, m.Depth, m.Height, false
		mass, name = m.Mass, "the unpacked machine"
	}
	if !w.Known() || !d.Known() || !h.Known() {
		return nil, mass, name
	}
	ways = []deliveryBox{{w, d, h}, {d, w, h}}
	if tilt {
		ways = append(ways, deliveryBox{w, h, d}, deliveryBox{h, w, d}, deliveryBox{d, h, w}, deliveryBox{h, d, w})
	}
	return ways, mass, name
}

// A deliveryGap compares one dimension of a passage, or its rated load, with what is needed.
type deliveryGap struct {
	path       string
	what       string // "clear width"
	have, need float64
	length     bool // in, else lb
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

// A deliveryFit is the best way of carrying the load through one passage.
type deliveryFit struct {
	at   int
	box  deliveryBox
	gaps []deliveryGap
}

func (f deliveryFit) worst() deliveryGap {
	worst := f.gaps[0]
	for _, g := range f.gaps[1:] {
		if g.share() < worst.share() {
			worst = g
		}
	}
	return worst
}

// deliveryBest turns the load the way that fits a passage best.
func deliveryBest(c *Case, kind string, i int) deliveryFit {
	ways, mass, _ := deliveryLoad(c)
	var best deliveryFit
	for n, box := range ways {
		f := deliveryFit{at: i, box: box, gaps: deliveryGaps(c, kind, i, box, mass)}
		if n == 0 || f.worst().share() > best.worst().share() {
			best = f
		}
	}
	return best
}

// deliveryGaps compares a load, carried one way, with a passage.
func deliveryGaps(c *Case, kind string, i int, box deliveryBox, mass quantity.Mass) []deliveryGap {
	p := ask.Space.Path.Of(c)[i]
	across, along, tall := box.across.In(quantity.Inch), box.along.In(quantity.Inch), box.tall.In(quantity.Inch)
	inch := func(x float64) string { return show(c, quantity.New(x, quantity.Inch)) }
	line := func(field string, what string, symbol string, side any, letter string, have quantity.Length, size float64) deliveryGap {
		need := size + trade.CrateHandClearance
		return deliveryGap{path: deliveryPath(i, field), what: what, have: have.In(quantity.Inch), need: need, length: true, steps: []Step{
			{letter, side, check.Quote(inch(size))}, {letter + " + 2 in", check.Say("delivery-gaps.step"), check.Quote(inch(need))}, {symbol, check.Say("delivery-gaps.step2", "what", check.Quote(what), "deliveryname", check.Quote(deliveryName(c, i))), have},
		}}
	}
	if kind == "turn" {
		return append([]deliveryGap{deliveryTurn(c, i, box)}, deliveryHeadroom(p, line, tall)...)
	}
	gaps := []deliveryGap{line("clear_width", "clear width", "W", check.Say("delivery-gaps.arg"), "w", p.Width, across)}
	switch kind {
	case "door":
		gaps = append(gaps, line("clear_height", "clear height", "H", check.Say("delivery-gaps.arg2"), "h", p.Height, tall))
	case "stair":
		gaps = append(gaps, deliveryHeadroom(p, line, tall)...)
		if p.Depth.Known() {
			gaps = append(gaps, line("clear_depth", "landing", "D", check.Say("delivery-gaps.arg3"), "l", p.Depth, along))
		}
	case "lift":
		gaps = append(gaps, line("clear_height", "clear height", "H", check.Say("delivery-gaps.arg2"), "h", p.Height, tall),
			line("clear_depth", "depth", "D", check.Say("delivery-gaps.arg4"), "d", p.Depth, along))
		need := mass.In(quantity.Pound) + attendantLb
		gaps = append(gaps, deliveryGap{path: deliveryPath(i, "capacity"), what: "rated load", have: p.Capacity.In(quantity.Pound), need: need, steps: []Step{
			{"m", check.Say("delivery-gaps.step3"), mass},
			{"m + 200 lb", check.Say("delivery-gaps.step4"), quantity.New(need, quantity.Pound)},
			{"rated load", check.Say("delivery-gaps.step5", "deliveryname", check.Quote(deliveryName(c, i))), p.Capacity},
		}})
	}
	return gaps
}

// deliveryHeadroom compares the height only where it was measured.
func deliveryHeadroom(p survey.Passage, line func(field, what, symbol string, side any, letter string, have quantity.Length, size float64) deliveryGap, tall float64) []deliveryGap {
	if !p.Height.Known() {
		return nil
	}
	return []deliveryGap{line("clear_height", "clear height", "H", "height as carried", "h", p.Height, tall)}
}

// deliveryTurn compares the corner's room with the load's long side.
func deliveryTurn(c *Case, i int, box deliveryBox) deliveryGap {
	p := ask.Space.Path.Of(c)[i]
	long, short := math.Max(box.across.In(quantity.Inch), box.along.In(quantity.Inch)), math.Min(box.across.In(quantity.Inch), box.along.In(quantity.Inch))
	a, b := p.Width.In(quantity.Inch)-trade.CrateHandClearance, p.After.In(quantity.Inch)-trade.CrateHandClearance
	room, how := deliveryCorner(a, b, long, short)
	inch := func(x float64) string { return show(c, quantity.New(x, quantity.Inch)) }
	g := deliveryGap{path: deliveryPath(i, "clear_width"), what: "longest load that passes the corner", have: room, need: long, length: true, steps: []Step{
		{"A - 2 in", check.Say("delivery-turn.step", "deliveryname", check.Quote(deliveryName(c, i))), check.Quote(inch(a))},
		{"B - 2 in", check.Say("delivery-turn.step2"), check.Quote(inch(b))},
		{"w", check.Say("delivery-turn.step3"), check.Quote(inch(short))},
		{"L", check.Say("delivery-turn.step4", "how", how), check.Quote(inch(room))},
		{"l", check.Say("delivery-turn.step5"), check.Quote(inch(long))},
	}}
	g.corner = func(more float64) float64 {
		room, _ := deliveryCorner(a+more, b+more, long, short)
		return room
	}
	return g
}

// deliveryCorner is how long a load of a width may be to pass the corner of two
// corridors, turned in it or moved on sideways without turning. When its width
// passes neither way the result falls below long by as much as is wanting.
func deliveryCorner(a, b, long, short float64) (room float64, how any) {
	small, large := math.Min(a, b), math.Max(a, b)
	sideways := long + math.Min(small-short, large-long)
	if turned := trade.CornerLengthIn(a, b, short); !math.IsNaN(turned) && turned > sideways {
		return turned, check.Say("delivery-corner.is")
	}
	return sideways, check.Say("delivery-corner.is2")
}

// outcome words the worst passage.
func (f deliveryFit) outcome(c *Case, name any, failing []string) Outcome {
	g := f.worst()
	text := func(have, need float64) (string, string, string) {
		if g.length {
			h, n := quantity.New(have, quantity.Inch), quantity.New(need, quantity.Inch)
			a, b := quantity.Distinct(h, n, c.Units)
			return a, b, quantity.GapOf(h, n).Show(c.Units)
		}
		h, n := quantity.New(have, quantity.Pound), quantity.New(need, quantity.Pound)
		a, b := quantity.Distinct(h, n, c.Units)
		return a, b, quantity.GapOf(h, n).Show(c.Units)
	}
	have, need, gap := text(g.have, g.need)
	ok := g.share() >= 0
	here := any(check.Quote(deliveryName(c, f.at)))
	out := Outcome{Verdict: check.Met(ok), At: []survey.Ref{survey.Named(g.path)}, Have: check.FactOf(check.Raw(check.Say("outcome.do", "here", here, "what", check.Quote(g.what), "have", have))), Want: check.FactOf(check.Raw(check.Say("outcome.do2", "need", need, "name", name))),
		Margin: Margin{Text: gap + " to spare", Value: g.share()}, Working: g.steps}
	if g.corner != nil {
		out.At = append(out.At, survey.Named(deliveryPath(f.at, "width_after")))
		out.Have, out.Want = check.FactOf(check.Raw(check.Say("outcome.do3", "here", here, "have", have))), check.FactOf(check.Raw(check.Say("outcome.do4", "need", need, "name", name)))
	}
	if ok {
		return out
	}
	out.Margin.Text = gap + " short"
	unpack := any(check.Say("outcome.unpack"))
	if ask.Space.Unpacked.Of(c) == survey.Yes {
		unpack = check.Phrase{}
	}
	switch {
	case g.corner != nil:
		out.Action = check.PhraseOf(check.Say("outcome.do5", "here", here, "unpack", unpack, "name", name, "need", need, "have", have))
	case !g.length:
		out.Action = check.PhraseOf(check.Say("outcome.do6", "unpack", unpack, "name", name, "need", need, "here", here, "have", have))
	default:
		out.Action = check.PhraseOf(check.Say("outcome.do7", "here", here, "unpack", unpack, "name", name, "what", check.Quote(g.what), "need", need, "have", have))
	}
	if len(failing) > 1 {
		out.Action = check.Raw(check.Say("outcome.do8", "rawtext", rawText(out.Action), "recordlisted", listed(failing)))
	}
	return out
}

// tapeIn is the uncertainty of a tape, in; see survey.Instruments.
const tapeIn = 0.125

// enlarge gives the answers with which a gap closes, a tape's uncertainty
// included, and how to say it; nothing when it is closed already or can't be closed by building.
func (g deliveryGap) enlarge(c *Case, i int) (set map[string]string, change string) {
	step, u := 0.25, quantity.Inch
	if c.Units == quantity.SI {
		step, u = 5, quantity.Millimetre
	}
	up := func(inches float64) string {
		return u.Write(math.Ceil(quantity.New(inches, quantity.Inch).In(u)/step-1e-9) * step)
	}
	p := ask.Space.Path.Of(c)[i]
	switch {
	case !g.length:
		return nil, ""
	case g.corner != nil:
		for more := 0.0; more <= 240; more += 0.25 {
			if g.corner(more-tapeIn) < g.need {
				continue
			}
			if more == 0 {
				return nil, ""
			}
			before, after := up(p.Width.In(quantity.Inch)+more), up(p.After.In(quantity.Inch)+more)
			return map[string]string{deliveryPath(i, "clear_width"): before, deliveryPath(i, "width_after"): after},
				fmt.Sprintf("widen the corridors at %s to %s before and %s after it", deliveryName(c, i), spaceLength(c, before), spaceLength(c, after))
		}
		return nil, ""
	case g.have-g.need >= tapeIn:
		return nil, ""
	}
	text := up(g.need + tapeIn)
	return map[string]string{g.path: text}, fmt.Sprintf("make the %s of %s %s", g.what, deliveryName(c, i), spaceLength(c, text))
}
