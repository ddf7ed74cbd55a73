package rules

import (
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
	Uses:    []string{"drain.receptor"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.receptor": "none"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.receptor"); lacks {
			return out
		}
		const at, want = "drain.receptor", "a floor sink, or another receptor that the authority accepts"
		have := strings.ReplaceAll(c.Survey.Drain.Receptor, "-", " ")
		switch c.Survey.Drain.Receptor {
		case "none":
			return choice(false, "no receptor", want, "set a trapped and vented floor sink with a removable strainer near the machine", at)
		case "floor-sink":
			return choice(true, have, want, "", at)
		case "standpipe":
			if c.Machine.Drain.Kind == "pump" {
				return choice(true, have, "a floor sink or, for a pumped drain, a standpipe", "", at)
			}
			return ask(have, want, "ask the authority having jurisdiction whether a standpipe may take a gravity drain; its rim must lie below the end of the line", at)
		case "floor-drain":
			return ask(have, want, "ask the authority having jurisdiction whether a floor drain is accepted, and how splashing is kept off the floor; else set a floor sink", at)
		case "hub":
			return ask(have, want, "ask the authority having jurisdiction whether an open hub is accepted for this machine, and how far it must stand above the floor; else set a floor sink", at)
		}
		return ask(have, want, "make sure that the sink is never used for hands, food or utensils, and ask the authority having jurisdiction whether it is accepted; else set a floor sink", at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.receptor", []string{"floor-sink"}, nil, func(string) string {
			return "set a floor sink near the machine"
		})
	},
}

// receptorLeast is the smallest outlet of the receptor, and why.
func (c *Case) receptorLeast() (least quantity.PipeSize, why string) {
	d := c.Survey.Drain
	least, why = d.Size, "the drain line's own size, never smaller downstream"
	if two := quantity.MustParse[quantity.PipeSize](trade.UPCMinWasherBranch + " in"); two.Cmp(least) > 0 {
		switch {
		case c.drainFamily() == trade.UPC:
			return two, "the least branch for a washer, UPC"
		case d.Receptor == "floor-sink" || d.Receptor == "floor-drain":
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
	Uses:    []string{"drain.receptor_outlet", "drain.pipe_size", "drain.receptor", "codes.plumbing"},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{"drain.receptor_outlet": "1-1/2 in"}, Verdict: Fix, Shows: "least = 2 in (DN 50)"},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.receptor", "drain.receptor_outlet", "drain.pipe_size", "codes.plumbing"); lacks {
			return out
		}
		have := c.Survey.Drain.Outlet
		least, why := c.receptorLeast()
		out := choice(have.Cmp(least) >= 0, have.Show(c.Units), "at least "+least.Show(c.Units),
			"give the receptor an outlet and trap of "+least.Show(c.Units)+" or larger", "drain.receptor_outlet", "drain.pipe_size")
		out.Working = []Step{{"outlet", "receptor's outlet", have.Show(c.Units)}, {"least", why, least.Show(c.Units)}}
		return out
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.receptor_outlet", drainSizes(c.Survey.Drain.Outlet), nil, func(v string) string {
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
	Uses:    []string{"drain.receptor", "drain.receptor_trapped", "drain.vent"},
	After:   []string{"D-02"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.vent": "no"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		d := c.Survey.Drain
		at := []string{"drain.receptor_trapped", "drain.vent"}
		have := fmt.Sprintf("trapped: %s, vented: %s", drainSaid(d.ReceptorTrap), drainSaid(d.Vent))
		const want = "a trap and a vent"
		switch {
		case d.ReceptorTrap == survey.No:
			return choice(false, have, want, "set a trap at the receptor's outlet, with its vent", at...)
		case d.Vent == survey.No:
			return choice(false, have, want, "vent the receptor's trap", at...)
		}
		if out, lacks := c.lacking(at...); lacks {
			return out
		}
		return choice(true, have, want, "", at...)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.vent", []string{"yes"}, map[string]string{"drain.receptor_trapped": "yes"}, func(string) string {
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
func (c *Case) trapArm(p quantity.PipeSize) (ft float64, ok bool) {
	family := c.drainFamily()
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
	Uses:    []string{"drain.receptor", "drain.trap_to_vent", "drain.receptor_outlet", "drain.receptor_outlet_material", "codes.plumbing"},
	After:   []string{"D-13"},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{"drain.trap_to_vent": "6 ft"}, Verdict: Fix, Shows: "l_max = 60 in (1524 mm)"},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("codes.plumbing", "drain.receptor_outlet", "drain.trap_to_vent"); lacks {
			return out
		}
		d := c.Survey.Drain
		ft, ok := c.trapArm(d.Outlet)
		if !ok {
			return ask(d.TrapToVent.Show(c.Units), "the code's own distance", "ask the authority having jurisdiction for the longest trap arm in "+d.Outlet.Show(c.Units)+"; the tables begin at 1-1/4 in", "drain.trap_to_vent", "drain.receptor_outlet")
		}
		bore, boreText := drainBore(d.OutletOf, d.Outlet)
		low, high := drainIn(2*bore), drainFt(ft)
		out := between(c, d.TrapToVent, low, high, "take the vent off at least two pipe diameters, "+show(c, low)+", behind the trap weir",
			"take the vent off at most "+show(c, high)+" behind the trap weir", "drain.trap_to_vent", "drain.receptor_outlet")
		out.Working = []Step{{"d", boreText, show(c, drainIn(bore))}, {"l_min", "two diameters", show(c, low)},
			{"l", "from trap to vent", show(c, d.TrapToVent)}, {"l_max", "longest trap arm in " + d.Outlet.String(), show(c, high)}}
		return c.drainUnlessMet(out, "the distance from trap to vent")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := c.Survey.Drain
		ft, _ := c.trapArm(d.Outlet)
		lengths := ladder(12*ft, 6, 6, quantity.Inch)
		return append(c.offer(k, "drain.trap_to_vent", lengths, nil, func(v string) string {
			return "take the vent off " + c.drainLengthText(v) + " behind the trap weir"
		}), c.offer(k, "drain.receptor_outlet", drainSizes(d.Outlet), nil, func(v string) string {
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
	Uses:    []string{"drain.receptor", "drain.trap_seal", "codes.plumbing"},
	After:   []string{"D-13"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.trap_seal": "1-1/2 in"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.trap_seal", "codes.plumbing"); lacks {
			return out
		}
		low, high := drainIn(trade.TrapSealMinIn), drainIn(trade.TrapSealMaxIn)
		out := between(c, c.Survey.Drain.TrapSeal, low, high, "fit a trap with a seal of at least "+show(c, low), "fit a trap with a seal of at most "+show(c, high)+", unless the authority having jurisdiction asks for a deep seal", "drain.trap_seal")
		return c.drainUnlessMet(out, "the depth of trap seals")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.trap_seal", ladder(2, 4, 0.5, quantity.Inch), nil, func(v string) string {
			return "fit a trap with a seal of " + c.drainLengthText(v)
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
	Uses:    []string{"drain.receptor", "drain.trap_seal_protected"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.trap_seal_protected": "no"}, Verdict: Confirm},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		const at, want = "drain.trap_seal_protected", "a trap that stays wet: primer, barrier device, or daily use"
		if out, lacks := c.lacking(at); lacks {
			return out
		}
		if c.Survey.Drain.SealKept == survey.Yes {
			return choice(true, "protected", want, "", at)
		}
		return ask("not protected", want, "ask the authority having jurisdiction whether daily use of the machine is enough here; else fit a trap primer or a barrier device", at)
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
	Uses:    []string{"drain.receptor", "drain.strainer"},
	After:   []string{"D-02"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.strainer": "no"}, Verdict: Fix},
	Applies: func(c *Case) string {
		switch r := c.Survey.Drain.Receptor; r {
		case "standpipe", "hub":
			return "a " + r + " has no strainer"
		}
		return noReceptor(c)
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.strainer"); lacks {
			return out
		}
		return choice(c.Survey.Drain.Strainer == survey.Yes, "strainer: "+c.Survey.Drain.Strainer.String(), "a removable strainer or basket",
			"fit a removable strainer or basket in the receptor", "drain.strainer")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.strainer", []string{"yes"}, nil, func(string) string {
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
	Uses:    []string{"drain.receptor", "drain.accessible"},
	After:   []string{"D-02"},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{"drain.accessible": "no"}, Verdict: Fix},
	Applies: noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.lacking("drain.accessible"); lacks {
			return out
		}
		return choice(c.Survey.Drain.Accessible == survey.Yes, "within reach: "+c.Survey.Drain.Accessible.String(), "within reach for cleaning, in no closet, storeroom or concealed space",
			"open an access to the receptor, or set one in the bar itself", "drain.accessible")
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return c.offer(k, "drain.accessible", []string{"yes"}, nil, func(string) string {
			return "open an access to the receptor, or set it within reach in the bar"
		})
	},
}
