package rules

import (
	"firstfill/specs/check"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// DrainReceptor asks for a receptor that suits the machine.
var DrainReceptor = &Check{
	ID:      "D-02",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "kind of receptor for the machine's waste",
	Why:     "The receptor must take the dump without splashing or flooding, and no sink used for hands, food or utensils may serve as one.",
	Sources: []trade.Source{receptorRule, receptorUPC},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Receptor.Path(): "none"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Receptor); lacks {
			return out
		}
		at, want := ask.Drain.Receptor, any(check.Say("D-02.want"))
		have := any(check.Quote(strings.ReplaceAll(ask.Drain.Receptor.Of(c), "-", " ")))
		switch ask.Drain.Receptor.Of(c) {
		case "none":
			return check.Choice(false, check.Say("D-02.have"), want, check.Say("D-02.do"), at)
		case "floor-sink":
			return check.Choice(true, have, want, check.Phrase{}, at)
		case "standpipe":
			if c.Machine.Drain.Kind == "pump" {
				return check.Choice(true, have, check.Say("D-02.want2"), check.Phrase{}, at)
			}
			return check.Rule(have, want, check.Say("D-02.do2"), at)
		case "floor-drain":
			return check.Rule(have, want, check.Say("D-02.do3"), at)
		case "hub":
			return check.Rule(have, want, check.Say("D-02.do4"), at)
		}
		return check.Rule(have, want, check.Say("D-02.do5"), at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Receptor, []string{"floor-sink"}, nil, func(any) any {
			return check.Say("D-02.way")
		})
	},
}

// receptorLeast is the smallest outlet of the receptor, and why.
func receptorLeast(c *Case) (least quantity.PipeSize, why any) {
	d := ask.Drain
	least, why = d.Size.Of(c), check.Say("receptor-least.why")
	if two := quantity.MustParse[quantity.PipeSize](trade.UPCMinWasherBranch + " in"); two.Cmp(least) > 0 {
		switch {
		case drainFamily(c) == trade.UPC:
			return two, check.Say("receptor-least.is")
		case d.Receptor.Of(c) == "floor-sink" || d.Receptor.Of(c) == "floor-drain":
			return two, check.Say("receptor-least.is2")
		}
	}
	return least, why
}

// DrainReceptorOutlet keeps the receptor's outlet large enough by the tables.
var DrainReceptorOutlet = &Check{
	ID:      "D-06",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "size of the receptor's outlet",
	Why:     "A drain must not get smaller downstream, and the codes set a least size for a receptor that takes a washer's waste.",
	Sources: []trade.Source{trade.UPC703_2Note, trade.UPCReceptor, trade.IPC709_1},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Outlet.Path(): "1-1/2 in"}, Verdict: Fix, Shows: "least = 2 in (DN 50)"},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Receptor, ask.Drain.Outlet, ask.Drain.Size, ask.Codes.Plumbing); lacks {
			return out
		}
		have := ask.Drain.Outlet.Of(c)
		least, why := receptorLeast(c)
		out := check.Choice(have.Cmp(least) >= 0, have, check.Say("wire-of.want2", "least", least),
			check.Say("D-06.do", "least", least), ask.Drain.Outlet, ask.Drain.Size)
		out.Working = []Step{{"outlet", check.Say("D-09.name2"), have}, {"least", why, least}}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Outlet, drainSizes(ask.Drain.Outlet.Of(c)), nil, func(v any) any {
			return check.Say("D-08.way", "mustparse", v)
		})
	},
}

// DrainReceptorTrap asks for a trap and a vent at the receptor.
var DrainReceptorTrap = &Check{
	ID:      "D-13",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "receptor trapped and vented",
	Why:     "Without a trap, or with one that the dump sucks dry for want of a vent, sewer gas enters the bar.",
	Sources: []trade.Source{receptorRule},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Vent.Path(): "no"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		d := ask.Drain
		at := []survey.Ref{ask.Drain.ReceptorTrap, ask.Drain.Vent}
		have := any(check.Say("D-13.have", "drainsaid", drainSaid(d.ReceptorTrap.Of(c)), "drainsaid2", drainSaid(d.Vent.Of(c))))
		const want = "a trap and a vent"
		switch {
		case d.ReceptorTrap.Of(c) == survey.No:
			return check.Choice(false, have, check.Say("D-13.want"), check.Say("D-13.do"), at...)
		case d.Vent.Of(c) == survey.No:
			return check.Choice(false, have, check.Say("D-13.want"), check.Say("D-13.do2"), at...)
		}
		if out, lacks := c.Lacking(at...); lacks {
			return out
		}
		return check.Choice(true, have, check.Say("D-13.want"), check.Phrase{}, at...)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Vent, []string{"yes"}, map[string]string{ask.Drain.ReceptorTrap.Path(): "yes"}, func(any) any {
			return check.Say("D-13.way")
		})
	},
}

// drainSaid words an answer that may be missing.
func drainSaid(a survey.YesNo) any {
	if !a.Known() {
		return check.Say("drain-said.is")
	}
	return a
}

// trapArm is the longest trap arm of a size; of a code without tables here,
// the shorter of the model codes. Of a size without a row, that of the next smaller.
func trapArm(c *Case, p quantity.PipeSize) (ft float64, ok bool) {
	family := drainFamily(c)
	if family == "" {
		family = trade.UPC
	}
	for _, size := range (quantity.PipeSize{}).All() {
		if size.Cmp(p) > 0 {
			break
		}
		if max, _, err := trade.TrapArmMaxFt(family, drainNominal(size)); err == nil {
			ft, ok = max, true
		}
	}
	return ft, ok
}

// DrainTrapArm bounds the length from trap to vent.
var DrainTrapArm = &Check{
	ID:      "D-14",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "distance from the receptor's trap to its vent",
	Why:     "On a longer arm the flow fills the pipe below the vent and sucks the trap dry; on one shorter than two diameters the vent fouls.",
	Formula: "2 d <= l <= l_max by code and size",
	Range:   "trap arms of 1-1/4 in to 4 in; a size without a row takes that of the next smaller",
	Sources: []trade.Source{trade.IPC909_1, trade.UPC1002_2, trade.IPC909_2},
	After:   []*Check{DrainReceptorTrap},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.TrapToVent.Path(): "6 ft"}, Verdict: Fix, Shows: "l_max = 60 in (1524 mm)"},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Codes.Plumbing, ask.Drain.Outlet, ask.Drain.TrapToVent); lacks {
			return out
		}
		d := ask.Drain
		ft, ok := trapArm(c, d.Outlet.Of(c))
		if !ok {
			return check.Rule(d.TrapToVent.Of(c), check.Say("D-14.want"), check.Say("D-14.do", "outlet", d.Outlet.Of(c)), ask.Drain.TrapToVent, ask.Drain.Outlet)
		}
		bore, boreText := drainBore(d.OutletOf.Of(c), d.Outlet.Of(c))
		low, high := drainIn(2*bore), drainFt(ft)
		out := check.Within(d.TrapToVent.Of(c), low, high, check.Say("D-14.do2", "low", low),
			check.Say("D-14.do3", "high", high), ask.Drain.TrapToVent, ask.Drain.Outlet)
		out.Working = []Step{{"d", boreText, drainIn(bore)}, {"l_min", check.Say("D-14.step"), low},
			{"l", check.Say("D-14.step2"), d.TrapToVent.Of(c)}, {"l_max", check.Say("D-14.step3", "outlet", d.Outlet.Of(c)), high}}
		return drainUnlessMet(c, out, check.Say("D-14.arg"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		ft, _ := trapArm(c, d.Outlet.Of(c))
		lengths := check.Ladder(12*ft, 6, 6, quantity.Inch)
		return append(c.Offer(k, ask.Drain.TrapToVent, lengths, nil, func(v any) any {
			return check.Say("D-14.way", "v", v)
		}), c.Offer(k, ask.Drain.Outlet, drainSizes(d.Outlet.Of(c)), nil, func(v any) any {
			return check.Say("D-14.way2", "mustparse", v)
		})...)
	},
}

// DrainTrapSeal bounds the depth of the trap seal.
var DrainTrapSeal = &Check{
	ID:      "D-15",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "depth of the receptor's trap seal",
	Why:     "A shallow seal is blown out or dries up; a deep one doesn't flush itself clean.",
	Sources: []trade.Source{trade.IPC1002},
	After:   []*Check{DrainReceptorTrap},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.TrapSeal.Path(): "1-1/2 in"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.TrapSeal, ask.Codes.Plumbing); lacks {
			return out
		}
		low, high := drainIn(trade.TrapSealMinIn), drainIn(trade.TrapSealMaxIn)
		out := check.Within(ask.Drain.TrapSeal.Of(c), low, high, check.Say("D-15.do", "low", low), check.Say("D-15.do2", "high", high), ask.Drain.TrapSeal)
		return drainUnlessMet(c, out, check.Say("D-15.arg"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.TrapSeal, check.Ladder(2, 4, 0.5, quantity.Inch), nil, func(v any) any {
			return check.Say("D-15.way", "v", v)
		})
	},
}

// DrainSealKept asks how a little-used trap is kept wet.
var DrainSealKept = &Check{
	ID:      "D-16",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "trap seal protected against drying out",
	Why:     "When the bar is closed for weeks the seal evaporates and sewer gas comes up. A primer or a barrier device keeps it.",
	Sources: []trade.Source{sealRule},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.SealKept.Path(): "no"}, Verdict: Confirm},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		at, want := ask.Drain.SealKept, any(check.Say("D-16.want"))
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		if ask.Drain.SealKept.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("D-16.have"), want, check.Phrase{}, at)
		}
		return check.Rule(check.Say("D-16.have2"), want, check.Say("D-16.do"), at)
	},
}

// DrainStrainer asks for a strainer in the receptor.
var DrainStrainer = &Check{
	ID:      "D-17",
	Trade:   Plumber,
	Stage:   BeforeStart,
	Title:   "removable strainer in the receptor",
	Why:     "It catches glass chips, straws and fruit before they reach the trap.",
	Sources: []trade.Source{receptorRule},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Strainer.Path(): "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		switch r := ask.Drain.Receptor.Of(c); r {
		case "standpipe", "hub":
			return "a " + r + " has no strainer"
		}
		return noReceptor(c)
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Strainer); lacks {
			return out
		}
		return check.Choice(ask.Drain.Strainer.Of(c) == survey.Yes, check.Say("D-17.have", "strainer", ask.Drain.Strainer.Of(c)), check.Say("D-17.want"),
			check.Say("D-17.do"), ask.Drain.Strainer)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Strainer, []string{"yes"}, nil, func(any) any {
			return check.Say("D-17.do")
		})
	},
}

// DrainAccess asks for a receptor within reach.
var DrainAccess = &Check{
	ID:      "D-18",
	Trade:   Plumber,
	Stage:   RoughIn,
	Title:   "receptor within reach",
	Why:     "A receptor in a closet, storeroom or concealed space isn't cleaned and floods unseen.",
	Sources: []trade.Source{receptorRule, receptorUPC},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Accessible.Path(): "no"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Accessible); lacks {
			return out
		}
		return check.Choice(ask.Drain.Accessible.Of(c) == survey.Yes, check.Say("D-18.have", "accessible", ask.Drain.Accessible.Of(c)), check.Say("D-18.want"),
			check.Say("D-18.do"), ask.Drain.Accessible)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Accessible, []string{"yes"}, nil, func(any) any {
			return check.Say("D-18.way")
		})
	},
}
