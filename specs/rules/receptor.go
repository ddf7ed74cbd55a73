package rules

import (
	"firstfill/specs/check"
	"fmt"
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
		at, want := ask.Drain.Receptor, "a floor sink, or another receptor that the authority accepts"
		have := strings.ReplaceAll(ask.Drain.Receptor.Of(c), "-", " ")
		switch ask.Drain.Receptor.Of(c) {
		case "none":
			return check.Choice(false, "no receptor", want, "set a trapped and vented floor sink with a removable strainer near the machine", at)
		case "floor-sink":
			return check.Choice(true, have, want, "", at)
		case "standpipe":
			if c.Machine.Drain.Kind == "pump" {
				return check.Choice(true, have, "a floor sink or, for a pumped drain, a standpipe", "", at)
			}
			return check.Rule(have, want, "ask the authority having jurisdiction whether a standpipe may take a gravity drain; its rim must lie below the end of the line", at)
		case "floor-drain":
			return check.Rule(have, want, "ask the authority having jurisdiction whether a floor drain is accepted, and how splashing is kept off the floor; else set a floor sink", at)
		case "hub":
			return check.Rule(have, want, "ask the authority having jurisdiction whether an open hub is accepted for this machine, and how far it must stand above the floor; else set a floor sink", at)
		}
		return check.Rule(have, want, "make sure that the sink is never used for hands, food or utensils, and ask the authority having jurisdiction whether it is accepted; else set a floor sink", at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Receptor, []string{"floor-sink"}, nil, func(string) any {
			return "set a floor sink near the machine"
		})
	},
}

// receptorLeast is the smallest outlet of the receptor, and why.
func receptorLeast(c *Case) (least quantity.PipeSize, why string) {
	d := ask.Drain
	least, why = d.Size.Of(c), "the drain line's own size, never smaller downstream"
	if two := quantity.MustParse[quantity.PipeSize](trade.UPCMinWasherBranch + " in"); two.Cmp(least) > 0 {
		switch {
		case drainFamily(c) == trade.UPC:
			return two, "the least branch for a washer, UPC"
		case d.Receptor.Of(c) == "floor-sink" || d.Receptor.Of(c) == "floor-drain":
			return two, "the least trap of a floor drain"
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
		out := check.Choice(have.Cmp(least) >= 0, have.Show(c.Units), "at least "+least.Show(c.Units),
			"give the receptor an outlet and trap of "+least.Show(c.Units)+" or larger", ask.Drain.Outlet, ask.Drain.Size)
		out.Working = []Step{{"outlet", "receptor's outlet", have.Show(c.Units)}, {"least", why, least.Show(c.Units)}}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Outlet, drainSizes(ask.Drain.Outlet.Of(c)), nil, func(v string) any {
			return "set a receptor with an outlet of " + quantity.MustParse[quantity.PipeSize](v).Show(c.Units)
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
		have := fmt.Sprintf("trapped: %s, vented: %s", drainSaid(d.ReceptorTrap.Of(c)), drainSaid(d.Vent.Of(c)))
		const want = "a trap and a vent"
		switch {
		case d.ReceptorTrap.Of(c) == survey.No:
			return check.Choice(false, have, want, "set a trap at the receptor's outlet, with its vent", at...)
		case d.Vent.Of(c) == survey.No:
			return check.Choice(false, have, want, "vent the receptor's trap", at...)
		}
		if out, lacks := c.Lacking(at...); lacks {
			return out
		}
		return check.Choice(true, have, want, "", at...)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Vent, []string{"yes"}, map[string]string{ask.Drain.ReceptorTrap.Path(): "yes"}, func(string) any {
			return "set a trap with a vent at the receptor"
		})
	},
}

// drainSaid words an answer that may be missing.
func drainSaid(a survey.YesNo) string {
	if !a.Known() {
		return "not answered"
	}
	return a.String()
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
			return check.Rule(d.TrapToVent.Of(c).Show(c.Units), "the code's own distance", "ask the authority having jurisdiction for the longest trap arm in "+d.Outlet.Of(c).Show(c.Units)+"; the tables begin at 1-1/4 in", ask.Drain.TrapToVent, ask.Drain.Outlet)
		}
		bore, boreText := drainBore(d.OutletOf.Of(c), d.Outlet.Of(c))
		low, high := drainIn(2*bore), drainFt(ft)
		out := check.Within(d.TrapToVent.Of(c), low, high, "take the vent off at least two pipe diameters, "+show(c, low)+", behind the trap weir",
			"take the vent off at most "+show(c, high)+" behind the trap weir", ask.Drain.TrapToVent, ask.Drain.Outlet)
		out.Working = []Step{{"d", boreText, show(c, drainIn(bore))}, {"l_min", "two diameters", show(c, low)},
			{"l", "from trap to vent", show(c, d.TrapToVent.Of(c))}, {"l_max", "longest trap arm in " + d.Outlet.Of(c).String(), show(c, high)}}
		return drainUnlessMet(c, out, "the distance from trap to vent")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		ft, _ := trapArm(c, d.Outlet.Of(c))
		lengths := check.Ladder(12*ft, 6, 6, quantity.Inch)
		return append(c.Offer(k, ask.Drain.TrapToVent, lengths, nil, func(v string) any {
			return "take the vent off " + drainLengthText(c, v) + " behind the trap weir"
		}), c.Offer(k, ask.Drain.Outlet, drainSizes(d.Outlet.Of(c)), nil, func(v string) any {
			return "run the receptor's trap and trap arm in " + quantity.MustParse[quantity.PipeSize](v).Show(c.Units)
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
		out := check.Within(ask.Drain.TrapSeal.Of(c), low, high, "fit a trap with a seal of at least "+show(c, low), "fit a trap with a seal of at most "+show(c, high)+", unless the authority having jurisdiction asks for a deep seal", ask.Drain.TrapSeal)
		return drainUnlessMet(c, out, "the depth of trap seals")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.TrapSeal, check.Ladder(2, 4, 0.5, quantity.Inch), nil, func(v string) any {
			return "fit a trap with a seal of " + drainLengthText(c, v)
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
		at, want := ask.Drain.SealKept, "a trap that stays wet: primer, barrier device, or daily use"
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		if ask.Drain.SealKept.Of(c) == survey.Yes {
			return check.Choice(true, "protected", want, "", at)
		}
		return check.Rule("not protected", want, "ask the authority having jurisdiction whether daily use of the machine is enough here; else fit a trap primer or a barrier device", at)
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
		return check.Choice(ask.Drain.Strainer.Of(c) == survey.Yes, "strainer: "+ask.Drain.Strainer.Of(c).String(), "a removable strainer or basket",
			"fit a removable strainer or basket in the receptor", ask.Drain.Strainer)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Strainer, []string{"yes"}, nil, func(string) any {
			return "fit a removable strainer or basket in the receptor"
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
		return check.Choice(ask.Drain.Accessible.Of(c) == survey.Yes, "within reach: "+ask.Drain.Accessible.Of(c).String(), "within reach for cleaning, in no closet, storeroom or concealed space",
			"open an access to the receptor, or set one in the bar itself", ask.Drain.Accessible)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.Offer(k, ask.Drain.Accessible, []string{"yes"}, nil, func(string) any {
			return "open an access to the receptor, or set it within reach in the bar"
		})
	},
}
