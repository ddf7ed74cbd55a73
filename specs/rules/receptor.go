package rules

import (
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// DrainReceptor asks for a receptor that suits the machine.
var DrainReceptor = &Check{
	ID:      "D-02",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{receptorRule, trade.IPCHubDrain, receptorUPC},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Receptor.Path(): "none"}, Verdict: Fix},
	Run: func(c *Case) Outcome {
		at := ask.Drain.Receptor
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		have, want := check.Word(at.Of(c)), check.Say("D-02.want")
		switch at.Of(c) {
		case "none":
			return check.Choice(false, check.Say("D-02.none"), want, check.Say("D-02.set"), at)
		case "floor-sink":
			return check.Choice(true, have, want, nil, at)
		case "standpipe":
			if c.Machine.Drain.Kind == "pump" {
				return check.Choice(true, have, check.Say("D-02.want-pumped"), nil, at)
			}
			return check.Rule(have, want, check.Say("D-02.standpipe"), at)
		case "floor-drain":
			return check.Rule(have, want, check.Say("D-02.floor-drain"), at)
		case "hub":
			return hub(c)
		}
		return check.Rule(have, want, check.Say("D-02.sink"), at)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, map[string]string{ask.Drain.Receptor.Path(): "floor-sink"})
	},
}

// hub judges an open hub: by the IPC one that lies lower than its rule is
// wrong; any other is for the authority to accept.
func hub(c *Case) Outcome {
	at, rim := ask.Drain.Receptor, ask.Drain.RimHeight
	height := rim.Of(c)
	least := codeLeast(height, trade.HubRimIn)
	if drainFamily(c) == trade.IPC && height.Known() && height.Cmp(least) < 0 {
		out := check.From(height, least, check.Say("D-02.hub-low", "least", drainIn(trade.HubRimIn)), rim, at)
		out.Have, out.Want = out.Have.In(check.Say("D-02.hub-have")), out.Want.In(check.Say("D-02.hub-want"))
		return out
	}
	return check.Rule(check.Word("hub"), check.Say("D-02.want"), check.Say("D-02.hub", "least", drainIn(trade.HubRimIn)), at, rim)
}

// receptorLeast is the smallest outlet of the receptor, and why.
func receptorLeast(c *Case) (least quantity.PipeSize, why check.Phrase) {
	d := ask.Drain
	least = d.Size.Of(c)
	if two := quantity.MustParse[quantity.PipeSize](trade.WasherBranchMin + " in"); two.Cmp(least) > 0 {
		switch {
		case drainFamily(c) == trade.UPC:
			return two, check.Say("step.least-washer")
		case d.Receptor.Of(c) == "floor-sink" || d.Receptor.Of(c) == "floor-drain":
			return two, check.Say("step.least-floor-drain")
		}
	}
	return least, check.Say("step.least-line")
}

// DrainReceptorOutlet keeps the receptor's outlet large enough by the tables.
var DrainReceptorOutlet = &Check{
	ID:       "D-06",
	Trade:    Plumber,
	Stage:    RoughIn,
	Subject:  check.Receptor,
	Sources:  []trade.Source{trade.UPC703_2Note, trade.UPCReceptor, trade.IPC709_1},
	Example:  Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.Outlet.Path(): "1-1/2 in"}, Verdict: Fix, Shows: "least = 2 in (DN 50)"},
	Skip:     noReceptor,
	Run:      runReceptorOutlet,
	Remedies: func(c *Case, k *Check) []Remedy { return drainWays(c, k, largerOutlet(c)...) },
}

func runReceptorOutlet(c *Case) Outcome {
	d := ask.Drain
	if out, lacks := c.Lacking(d.Receptor, d.Outlet, d.Size, ask.Codes.Plumbing); lacks {
		return out
	}
	have := d.Outlet.Of(c)
	least, why := receptorLeast(c)
	out := check.Choice(have.Cmp(least) >= 0, have, check.Fact{Value: least, Bound: check.AtLeast}, check.Say("D-06.give", "size", least), d.Outlet, d.Size)
	out.Working = []Step{entry("outlet", check.Say("step.receptor-outlet"), have), entry("least", why, least)}
	return sizeSpare(out, have, least)
}

// DrainReceptorTrap asks for a trap and a vent at the receptor.
var DrainReceptorTrap = &Check{
	ID:      "D-13",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{receptorRule, trapUPC},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Vent.Path(): "no"}, Verdict: Fix},
	Skip:    noReceptor,
	Run: func(c *Case) Outcome {
		d := ask.Drain
		trap, vent, want := d.ReceptorTrap.Of(c), d.Vent.Of(c), check.Say("D-13.want")
		have := check.Say("D-13.have", "trapped", drainSaid(trap), "vented", drainSaid(vent))
		switch {
		case trap == survey.No:
			return check.Choice(false, have, want, check.Say("D-13.trap"), d.ReceptorTrap, d.Vent)
		case vent == survey.No:
			return check.Choice(false, have, want, check.Say("D-13.vent"), d.ReceptorTrap, d.Vent)
		}
		if out, lacks := c.Lacking(d.ReceptorTrap, d.Vent); lacks {
			return out
		}
		return check.Choice(true, have, want, nil, d.ReceptorTrap, d.Vent)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		set := map[string]string{}
		if ask.Drain.ReceptorTrap.Of(c) != survey.Yes {
			set[ask.Drain.ReceptorTrap.Path()] = "yes"
		}
		if ask.Drain.Vent.Of(c) != survey.Yes {
			set[ask.Drain.Vent.Path()] = "yes"
		}
		return drainWays(c, k, set)
	},
}

// drainSaid words an answer that may be missing.
func drainSaid(a survey.YesNo) check.Phrase {
	switch a {
	case survey.Yes:
		return check.Say("said.yes")
	case survey.No:
		return check.Say("said.no")
	}
	return check.Say("missing.have")
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
		if most, _, err := trade.TrapArmMaxFt(family, drainNominal(size)); err == nil {
			ft, ok = most, true
		}
	}
	return ft, ok
}

// DrainTrapArm bounds the length from trap to vent.
var DrainTrapArm = &Check{
	ID:      "D-14",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{trade.IPC909_1, trade.UPC1002_2, trade.IPC909_2},
	After:   []*Check{DrainReceptorTrap},
	Example: Example{Machine: "sanderling-u24p", Given: map[string]string{ask.Drain.TrapToVent.Path(): "6 ft"}, Verdict: Fix, Shows: "l_max = 60 in (1524 mm)"},
	Skip:    noReceptor,
	Run: func(c *Case) Outcome {
		d := ask.Drain
		if out, lacks := c.Lacking(ask.Codes.Plumbing, d.Outlet, d.TrapToVent); lacks {
			return out
		}
		have, size := d.TrapToVent.Of(c), d.Outlet.Of(c)
		ft, ok := trapArm(c, size)
		if !ok {
			return check.Rule(check.Fact{Value: have}, check.Say("D-14.own"), check.Say("D-14.ask", "size", size), d.TrapToVent, d.Outlet)
		}
		bore, boreText := drainBore(d.OutletOf.Of(c), size)
		low, high := drainIn(trade.TrapArmMinIn(bore)), codeMost(have, 12*ft)
		out := check.Within(have, low, high, check.Say("D-14.least", "low", low), check.Say("D-14.most", "high", high), d.TrapToVent, d.Outlet)
		out.Working = []Step{entry("d", boreText, drainIn(bore)), entry("l_min", check.Say("step.two-diameters"), low),
			entry("l", check.Say("step.trap-arm"), have), entry("l_max", check.Say("step.longest-arm", "size", size), drainFt(ft))}
		return drainUnlessMet(c, out, check.Say("rule.trap-arm"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		d := ask.Drain
		ft, _ := trapArm(c, d.Outlet.Of(c))
		return drainWays(c, k, append(firstOf(c, k, d.TrapToVent, lengths(c, 12*ft, 6, 6, 100), nil),
			firstOf(c, k, d.Outlet, largerSizes(d.Outlet.Of(c)), nil)...)...)
	},
}

// DrainTrapSeal bounds the depth of the trap seal.
var DrainTrapSeal = &Check{
	ID:      "D-15",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{trade.IPC1002, sealUPC},
	After:   []*Check{DrainReceptorTrap},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.TrapSeal.Path(): "1-1/2 in"}, Verdict: Fix},
	Skip:    noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.TrapSeal, ask.Codes.Plumbing); lacks {
			return out
		}
		have := ask.Drain.TrapSeal.Of(c)
		low, high := codeLeast(have, trade.TrapSealMinIn), codeMost(have, trade.TrapSealMaxIn)
		out := check.Within(have, low, high, check.Say("D-15.least", "low", low), check.Say("D-15.most", "high", high), ask.Drain.TrapSeal)
		return drainUnlessMet(c, out, check.Say("rule.seal"))
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, firstOf(c, k, ask.Drain.TrapSeal, lengths(c, 2, 4, 0.5, 10), nil)...)
	},
}

// DrainSealKept asks how a little-used trap is kept wet.
var DrainSealKept = &Check{
	ID:      "D-16",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{sealRule, sealUPC},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.SealKept.Path(): "no"}, Verdict: Confirm},
	Skip:    noReceptor,
	Run: func(c *Case) Outcome {
		at, want := ask.Drain.SealKept, check.Say("D-16.want")
		if out, lacks := c.Lacking(at); lacks {
			return out
		}
		if at.Of(c) == survey.Yes {
			return check.Choice(true, check.Say("D-16.kept"), want, nil, at)
		}
		return check.Rule(check.Say("D-16.open"), want, check.Say("D-16.ask"), at)
	},
}

// DrainStrainer asks for a strainer in the receptor.
var DrainStrainer = &Check{
	ID:      "D-17",
	Trade:   Plumber,
	Stage:   BeforeStart,
	Subject: check.Receptor,
	Sources: []trade.Source{receptorRule, receptorUPC},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Strainer.Path(): "no"}, Verdict: Fix},
	Skip: func(c *Case) check.Phrase {
		switch r := ask.Drain.Receptor.Of(c); r {
		case "standpipe", "hub":
			return check.Say("D-17.none", "receptor", check.Word(r))
		}
		return noReceptor(c)
	},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Strainer); lacks {
			return out
		}
		ok := ask.Drain.Strainer.Of(c) == survey.Yes
		return check.Choice(ok, eitherWay(ok, "D-17.there", "D-17.lacking"), check.Say("D-17.want"), check.Say("D-17.fit"), ask.Drain.Strainer)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, map[string]string{ask.Drain.Strainer.Path(): "yes"})
	},
}

// DrainAccess asks for a receptor within reach.
var DrainAccess = &Check{
	ID:      "D-18",
	Trade:   Plumber,
	Stage:   RoughIn,
	Subject: check.Receptor,
	Sources: []trade.Source{receptorRule, receptorUPC},
	After:   []*Check{DrainReceptor},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Drain.Accessible.Path(): "no"}, Verdict: Fix},
	Skip:    noReceptor,
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Drain.Accessible); lacks {
			return out
		}
		ok := ask.Drain.Accessible.Of(c) == survey.Yes
		return check.Choice(ok, eitherWay(ok, "D-18.reached", "D-18.hidden"), check.Say("D-18.want"), check.Say("D-18.open"), ask.Drain.Accessible)
	},
	Remedies: func(c *Case, k *Check) []Remedy {
		return drainWays(c, k, map[string]string{ask.Drain.Accessible.Path(): "yes"})
	},
}
