package rules

import (
	"firstfill/specs/check"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// hardWired says why the questions of plug and cord don't arise.
func hardWired(c *Case) check.Phrase {
	if !byCord(c) {
		return check.Say("cord.hard-wired")
	}
	return check.Phrase{}
}

// receptacleNamed looks a configuration up; an industrial one may be named by
// its voltage as well as by its colour.
func receptacleNamed(name string) (trade.Receptacle, error) {
	for volts, colour := range map[string]string{"230 V": "blue", "200-250 V": "blue", "400 V": "red", "380-415 V": "red"} {
		name = strings.Replace(name, volts, colour, 1)
	}
	return trade.FindReceptacle(name)
}

// nameLike names a receptacle in the manner of the requirement sheet's plug.
func nameLike(c *Case, r trade.Receptacle) string {
	if p, err := receptacleNamed(c.Supply.Plug); err == nil && p.Config == r.Config {
		return c.Supply.Plug
	}
	return r.Config
}

// noReceptacle says whether there is none.
func noReceptacle(c *Case) bool {
	switch strings.ToLower(ask.Power.Receptacle.Of(c)) {
	case "none", "no", "hardwired", "hard-wired", "hard wired", "junction box", "blank", "blank plate":
		return true
	}
	return false
}

// takers lists the receptacles that take the plug, the closest first.
func takers(plug trade.Receptacle) []trade.Receptacle {
	var same, more []trade.Receptacle
	for _, r := range trade.Receptacles() {
		switch {
		case !trade.Mates(plug, r):
		case r.Amps == plug.Amps:
			same = append(same, r)
		default:
			more = append(more, r)
		}
	}
	return append(same, more...)
}

// largerReceptacle is a receptacle for a breaker of that size which takes the
// plug; ok is false when the one there will do or none would.
func largerReceptacle(c *Case, amps float64) (string, bool) {
	have, err := receptacleNamed(ask.Power.Receptacle.Of(c))
	plug, perr := receptacleNamed(c.Supply.Plug)
	if !byCord(c) || err != nil || perr != nil || have.Amps >= amps {
		return "", false
	}
	for _, r := range takers(plug) {
		if r.Amps >= amps {
			return nameLike(c, r), true
		}
	}
	return "", false
}

// ReceptacleFits compares the receptacle with the cord's plug.
var ReceptacleFits = &Check{
	ID:      "E-17",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Receptacle,
	Sources: []trade.Source{sheet, trade.NEMAWD6Family, trade.NEMAWD6, trade.IEC60309},
	Assumes: []survey.Ref{ask.Power.Phases},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Receptacle.Path(): "NEMA 5-20"}, Verdict: Fix},
	Skip:    hardWired,
	Run: perOption(func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Receptacle); lacks {
			return out
		}
		have, plug := ask.Power.Receptacle.Of(c), c.Supply.Plug
		if plug == "" {
			return receptacleSuits(c)
		}
		want := check.Say("E-17.want", "plug", check.Quote(plug))
		action := check.Say("E-17.action", "plug", check.Quote(plug))
		p, perr := receptacleNamed(plug)
		r, rerr := receptacleNamed(have)
		var out Outcome
		switch {
		case noReceptacle(c):
			out = check.Choice(false, check.Say("E-17.have"), want, action, ask.Power.Receptacle)
		case strings.EqualFold(have, plug) || perr == nil && rerr != nil && fitsForm(have, p):
			out = check.Choice(true, check.Quote(have), want, check.Phrase{}, ask.Power.Receptacle)
		case perr == nil && rerr == nil:
			out = check.Choice(trade.Mates(p, r), check.Quote(have), want, action, ask.Power.Receptacle)
			out.Working = []Step{describe("plug", p), describe("receptacle", r)}
		case strangers(have, plug):
			out = check.Choice(false, check.Quote(have), want, action, ask.Power.Receptacle)
		default:
			out = check.Rule(check.Quote(have), want, check.Say("E-17.do", "plug", check.Quote(plug), "have", check.Quote(have)), ask.Power.Receptacle)
		}
		return onPlate(c, out, "plug")
	}),
	Remedies: func(c *Case, k *Check) []Remedy {
		var rs []Remedy
		if c.Supply.Plug == "" {
			var names []string
			for _, r := range trade.Receptacles() {
				names = append(names, r.Config)
			}
			rs = c.Offer(k, ask.Power.Receptacle, names, nil, func(v any) any {
				return check.Say("E-17.way", "v", v)
			})
		}
		if p, err := receptacleNamed(c.Supply.Plug); err == nil {
			for _, r := range takers(p) {
				n := nameLike(c, r)
				rs = append(rs, Remedy{Change: check.Say("E-17.way2", "n", check.Quote(n)), Work: check.Device, Set: map[string]string{ask.Power.Receptacle.Path(): n}})
			}
		} else if c.Supply.Plug != "" {
			rs = append(rs, Remedy{Change: check.Say("E-17.way3", "plug", check.Quote(c.Supply.Plug)), Work: check.Device, Set: map[string]string{ask.Power.Receptacle.Path(): c.Supply.Plug}})
		}
		return append(rs, otherOptions(c)...)
	},
}

// plugForm is what a name tells of a plug or receptacle.
func plugForm(name string) (trade.PlugForm, bool) {
	if r, err := receptacleNamed(name); err == nil {
		return trade.PlugForm{Family: r.Family, Amps: r.Amps, Grounded: true}, true
	}
	return trade.ReadPlugForm(name)
}

// fitsForm says whether a receptacle's name, with words beside its
// configuration ("duplex"), tells of one that takes the plug.
func fitsForm(receptacle string, plug trade.Receptacle) bool {
	f, ok := plugForm(receptacle)
	return ok && trade.Mates(plug, trade.Receptacle{Family: f.Family, Amps: f.Amps})
}

// strangers says whether two names tell of forms that don't mate, though a
// table of configurations lacks one of them.
func strangers(receptacle, plug string) bool {
	r, ok := plugForm(receptacle)
	p, named := plugForm(plug)
	return ok && named && (r.Family != p.Family || p.Amps > r.Amps)
}

func describe(symbol string, r trade.Receptacle) Step {
	return entry(symbol, check.Quote(r.Config), check.Say("describe.value", "rating", check.Quote(r.Rating), "amps", r.Amps, "join", check.Quote(strings.Join(r.Conductors, " "))))
}

// receptacleSuits judges the contacts when the sheet names no plug.
func receptacleSuits(c *Case) Outcome {
	v, path := volts(c)
	if out, lacks := c.Lacking(path); lacks {
		return out
	}
	if !c.Supply.RatedCurrent.Known() {
		return c.Silent(check.Say("receptacle-suits.sheet", "name", check.Quote(c.Supply.Name)))
	}
	var at = ask.Power.Receptacle
	have, want := ask.Power.Receptacle.Of(c), check.Say("receptacle-suits.want")
	r, err := receptacleNamed(have)
	switch {
	case noReceptacle(c):
		return check.Choice(false, check.Say("E-17.have"), want, check.Say("receptacle-suits.do"), at)
	case err != nil:
		if f, known := trade.ReadPlugForm(have); known && (!f.Grounded || powerAmps(f.Amps).Cmp(c.Supply.RatedCurrent) < 0) {
			return check.Choice(false, check.Quote(have), want, check.Say("receptacle-suits.do4"), at)
		}
		return check.Rule(check.Quote(have), want, check.Say("receptacle-suits.do2", "have", check.Quote(have)), at)
	}
	// The voltage class counts, not the reading of the day.
	nominal := min(v.In(quantity.Volt), c.Supply.VoltageMin.In(quantity.Volt))
	against := r.Objections(trade.PlugNeed{Phases: c.Supply.Phases, NominalV: nominal, LoadA: c.Supply.RatedCurrent.In(quantity.Ampere),
		Neutral: c.Supply.Neutral, OneLeg: path == ask.Power.LineToNeutral})
	return check.Choice(len(against) == 0, check.Quote(have), want, check.Say("receptacle-suits.do3", "join", check.Quote(strings.Join(against, "; "))), at, path)
}

// ReceptacleRating compares the receptacle's rating with the breaker behind it.
var ReceptacleRating = &Check{
	ID:      "E-18",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Receptacle,
	Sources: []trade.Source{trade.NEC210_21Seen, trade.NEC210_21B1, trade.NEC210_21B3, trade.NEMAWD6, trade.IEC60309, trade.IECOverload},
	After:   []*Check{ReceptacleFits, MaximumBreaker},
	Assumes: []survey.Ref{ask.Codes.Electrical},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Receptacle.Path(): "NEMA 6-15"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		if noReceptacle(c) && byCord(c) {
			return check.Say("E-18.none")
		}
		return hardWired(c)
	},
	Run: perOption(func(c *Case) Outcome {
		need := []survey.Ref{ask.Power.Receptacle, ask.Power.Breaker}
		if onNEC(c) {
			need = append(need, ask.Power.Dedicated)
		}
		if out, lacks := c.Lacking(need...); lacks {
			return out
		}
		p := ask.Power
		r, err := receptacleNamed(p.Receptacle.Of(c))
		if err != nil {
			f, known := trade.ReadPlugForm(p.Receptacle.Of(c))
			if !known {
				return check.Rule(check.Quote(p.Receptacle.Of(c)), check.Say("E-18.want", "breaker", p.Breaker.Of(c)), check.Say("E-18.do", "breaker", p.Breaker.Of(c)), need...)
			}
			r.Amps = f.Amps
		}
		action := check.Say("E-18.action", "breaker", p.Breaker.Of(c))
		if a, fits := smallerSize(c); fits && a <= r.Amps {
			action = check.Say("E-18.either", "breaker", p.Breaker.Of(c), "amps", powerAmps(a))
		}
		n := p.Breaker.Of(c).In(quantity.Ampere)
		if !onNEC(c) || p.Dedicated.Of(c) == survey.Yes {
			return check.From(powerAmps(r.Amps), p.Breaker.Of(c), action, need...)
		}
		ratings, err := trade.ReceptacleRatings(n)
		if err != nil {
			return check.Choice(false, check.Say("E-18.have", "breaker", p.Breaker.Of(c)), check.Say("E-18.want2"), check.Say("E-18.do2"), need...)
		}
		var either any
		ok := false
		for i, a := range ratings {
			ok = ok || a == r.Amps
			if either = powerAmps(a); i > 0 {
				either = check.Say("either", "this", powerAmps(ratings[0]), "that", powerAmps(a))
			}
		}
		want := check.Say("E-18.want3", "join", either, "breaker", p.Breaker.Of(c))
		return check.Choice(ok, powerAmps(r.Amps), want, check.Say("E-18.do3", "want", want), need...)
	}),
	Remedies: func(c *Case, k *Check) []Remedy {
		p := ask.Power
		var rs []Remedy
		if plug, err := receptacleNamed(c.Supply.Plug); err == nil {
			for _, r := range takers(plug) {
				n := nameLike(c, r)
				rs = append(rs, Remedy{Change: check.Say("E-18.way", "n", check.Quote(n)), Work: check.Device, Set: map[string]string{ask.Power.Receptacle.Path(): n}})
			}
		}
		if p.Dedicated.Of(c) == survey.No {
			rs = append(rs, Remedy{Change: check.Say("E-18.way2"), Work: check.NewCircuit, Set: map[string]string{ask.Power.Dedicated.Path(): "yes", ask.Power.OtherLoads.Path(): "[]"}})
		}
		need := 0.0
		if d, _, bad := drawOf(c); !bad {
			need, _, _ = minimumOf(c, d)
		}
		return append(rs, smallerBreaker(c, k, need)...)
	},
}

// CordReach compares the way to the receptacle with the cord.
var CordReach = &Check{
	ID:      "E-19",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Receptacle,
	Sources: []trade.Source{sheet, trade.NEC400_12},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.ReceptacleRun.Path(): "7 ft"}, Verdict: Fix},
	Skip:    hardWired,
	Run: onceSettled(func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.ReceptacleRun); lacks {
			return out
		}
		length := c.Machine.Power.CordLength
		if !length.Known() {
			return c.Silent(check.Say("E-19.sheet"))
		}
		out := check.UpTo(ask.Power.ReceptacleRun.Of(c), length, check.Say("E-19.do", "length", length), ask.Power.ReceptacleRun)
		return c.OnSheet(out, "power.cord_length")
	}),
	Remedies: settled(func(c *Case, k *Check) []Remedy {
		length := c.Machine.Power.CordLength
		texts := check.Ladder(length.In(quantity.Foot), 0.5, 0.5, quantity.Foot)
		if !onNEC(c) {
			texts = check.Ladder(length.In(quantity.Millimetre), 100, 100, quantity.Millimetre)
		}
		rs := c.Offer(k, ask.Power.ReceptacleRun, texts, nil, func(v any) any {
			return check.Say("E-19.way", "v", v)
		})
		for i := range rs {
			rs[i].Work = check.PipeOrWire
		}
		return rs
	}),
}

// ExtensionCord forbids extension cords and adapters.
var ExtensionCord = &Check{
	ID:      "E-20",
	Trade:   Owner,
	Stage:   BeforeStart,
	Subject: check.Receptacle,
	Sources: []trade.Source{trade.NEC400_12, {Document: "Cords don't replace fixed wiring", Mark: trade.CommonPractice}},
	After:   []*Check{ReceptacleFits, CordReach},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.Extension.Path(): "yes"}, Verdict: Fix},
	Skip:    hardWired,
	Run: onceSettled(func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Power.Extension); lacks {
			return out
		}
		yes := ask.Power.Extension.Of(c) == survey.Yes
		return check.Choice(!yes, pick(yes, check.Say("E-20.have"), check.Say("E-20.none")), check.Say("E-20.none"),
			check.Say("E-20.do"), ask.Power.Extension)
	}),
	Remedies: settled(func(c *Case, _ *Check) []Remedy {
		return []Remedy{{Change: check.Say("E-20.way"), Work: check.Adjusting, Set: map[string]string{ask.Power.Extension.Path(): "no"}}}
	}),
}
