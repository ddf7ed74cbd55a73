package rules

import (
	"firstfill/specs/check"
	"math"

	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A drop is the voltage lost on the way to the machine.
type drop struct {
	amps  float64 // running current
	volts float64 // line to line, or of both conductors of a two-wire circuit
	limit float64 // volts, advisory or of the wiring rules
	share float64 // limit as a share of the site's voltage
	steps []Step
}

// dropVolts is the drop of one conductor size.
func dropVolts(c *Case, w quantity.WireSize, metal trade.Metal, amps float64) (v float64, step Step) {
	length := ask.Power.RunLength.Of(c)
	if onNEC(c) {
		r, err := trade.Resistance(w.AWG(), metal, trade.Stranded)
		if err != nil {
			return math.NaN(), step
		}
		return trade.VoltageDrop(c.Supply.Phases, amps, r, length.In(quantity.Foot)),
			entry("R", check.Say("drop-volts.step", "w", w, "metal", check.Word(metal.String())), check.Say("drop-volts.value", "r", check.Figure{Value: r, Decimals: 3}))
	}
	mv, err := trade.IECMilliVolts(w.MM2(), c.Supply.Phases)
	if err != nil {
		return math.NaN(), step
	}
	return trade.IECDrop(mv, amps, length.In(quantity.Metre)), entry("k", check.Say("drop-volts.step2", "w", w, "metal", check.Word(metal.String())), check.Figure{Value: mv, Decimals: 1, Unit: "mV/A/m"})
}

// dropOf computes the drop at the running current.
func dropOf(c *Case) (p drop, out Outcome, bad bool) {
	w, metal, out, bad := wireOf(c)
	if bad {
		return p, out, true
	}
	if out, lacks := c.Lacking(ask.Power.RunLength); lacks {
		return p, out, true
	}
	d, out, bad := drawOf(c)
	if bad {
		return p, out, true
	}
	v, _ := volts(c)
	site := v.In(quantity.Volt)
	var step Step
	// Whatever else runs on the circuit lowers the voltage over the same wire;
	// where on the run it hangs isn't asked, so all of it is counted.
	p.amps = d.run
	if shared(c) {
		for i, l := range ask.Power.OtherLoads.Of(c) {
			if out, lacks := c.Lacking(ask.Power.OtherLoads.Current.At(i)); lacks {
				return p, out, true
			}
			p.amps += l.Current.In(quantity.Ampere)
		}
	}
	if p.amps > d.run {
		d.steps = append(d.steps, entry("ΣI", check.Say("drop-of.sum"), powerAmps(p.amps)))
	}
	p.volts, step = dropVolts(c, w, metal, p.amps)
	if math.IsNaN(p.volts) {
		return p, check.Rule(w, check.Say("drop-of.want"), check.Say("drop-of.do"), ask.Power.Conductor), true
	}
	p.share = trade.NECBranchDropPct / 100
	if !onNEC(c) {
		p.share = trade.IECDropLimitPct(false, false, ask.Power.RunLength.Of(c).In(quantity.Metre)) / 100
	}
	p.limit = p.share * site
	p.steps = append(d.steps, step, entry("L", check.Say("drop-of.step"), ask.Power.RunLength.Of(c)))
	if onNEC(c) {
		p.steps = append(p.steps, entry("f", check.Say("drop-of.step2"), check.Figure{Value: map[int]float64{1: 2, 3: math.Sqrt(3)}[c.Supply.Phases], Decimals: 3}))
	}
	p.steps = append(p.steps, entry("V_d", check.Say("drop-of.step3"), check.Say("drop-of.value", "volts", powerVolts(p.volts), "value", check.Share(p.volts/site))))
	return p, out, false
}

// VoltageDrop compares the drop with the advisory or wiring-rule limit.
var VoltageDrop = &Check{
	ID:      "E-15",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{trade.NECTable8, trade.NECTable9, trade.NECDropNote, trade.IECCables, trade.IECDropPublic, trade.DropPractice},
	After:   []*Check{ConductorAmpacity},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.LineToLine.Path(): "240 ± 0 V", ask.Power.RunLength.Path(): "100 ± 0 ft"}, Verdict: OK, Shows: "V_d = 3.9 V, 1.6 %"},
	Run: perOption(func(c *Case) Outcome {
		p, out, bad := dropOf(c)
		if bad {
			return out
		}
		v, _ := volts(c)
		site := v.In(quantity.Volt)
		w, _, _, _ := wireOf(c)
		share := check.Share(p.volts / site)
		at := []survey.Ref{ask.Power.Conductor, ask.Power.ConductorOf, ask.Power.RunLength}
		limit := check.Say("E-15.limit", "share", check.Share(p.share), "v", v)
		action := check.Say("E-15.action", "w", w, "value", share, "runlength", ask.Power.RunLength.Of(c))
		ahead := ask.Power.DropAhead.Of(c)
		lost := p.volts
		if !onNEC(c) && ahead.Known() {
			lost += ahead.In(quantity.Volt)
			share = check.Share(lost / site)
			at = append(at, ask.Power.DropAhead)
			p.steps = append(p.steps, entry("V_0", check.Say("E-15.ahead"), ahead))
		}
		out = check.UpTo(powerVolts(lost), powerVolts(p.limit), doubtful(c, action), at...)
		if out.Have.Value != nil {
			out.Have, out.Want = out.Have.In(check.Say("E-15.share", "share", share)), out.Want.In(check.Say("E-15.of", "limit", limit))
		}
		switch {
		case onNEC(c) && out.Verdict == Fix:
			// The NEC's limit is advice in a note, no rule.
			out.Verdict, out.Action = Confirm, doubtful(c, check.Say("E-15.advice", "w", w, "value", share, "limit", check.Share(p.share)))
		case !onNEC(c) && !ahead.Known() && out.Verdict == OK && p.volts > (p.share-dropAhead)*site:
			out = check.Rule(out.Have, out.Want, check.Say("E-15.ask-ahead", "left", powerVolts(p.limit-p.volts)), append(at, ask.Power.DropAhead)...)
		}
		out.Working = append(p.steps, entry("V_lim", limit, powerVolts(p.limit)))
		out.Result = powerVolts(p.volts)
		return out
	}),
	Remedies: rewired,
}

// dropAhead is the share of the voltage that is left to what lies ahead of the
// panel while nobody has said. Source: trade.DropPractice.
const dropAhead = 0.02

// busySag is the share of voltage taken off a reading that wasn't made while
// the bar was running. Common practice, no source.
const busySag = 0.03

// VoltageUnderLoad compares what is left at the machine with the plate's minimum.
var VoltageUnderLoad = &Check{
	ID:      "E-16",
	Trade:   Electrician,
	Stage:   RoughIn,
	Subject: check.Circuit,
	Sources: []trade.Source{sheet, trade.NECTable8, trade.IECCables, {Document: "3 % less for a reading at rest", Mark: trade.CommonPractice}},
	After:   []*Check{PlateVoltage, VoltageDrop, ConductorAmpacity},
	Assumes: []survey.Ref{ask.Codes.Electrical, ask.Power.Phases},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Power.LineToLine.Path(): "208 ± 0 V", ask.Power.RunLength.Path(): "100 ± 0 ft"}, Verdict: OK, Shows: "V_m = 204.27 V"},
	Skip: func(c *Case) check.Phrase {
		if !c.Supply.VoltageMin.Known() {
			return check.Say("E-16.none")
		}
		return check.Phrase{}
	},
	Run: perOption(func(c *Case) Outcome {
		p, out, bad := dropOf(c)
		if bad {
			return out
		}
		v, path := volts(c)
		var at0 survey.Ref = path
		if path == ask.Power.LineToLine {
			for _, a := range lineVolts(c) { // the weakest of three lines
				if a.Of(c).Cmp(v) < 0 {
					v, at0 = a.Of(c), a
				}
			}
		}
		low := c.Supply.VoltageMin
		left := powerVolts(v.In(quantity.Volt) - p.volts)
		at := []survey.Ref{at0, ask.Power.RunLength, ask.Power.Conductor, ask.Power.UnderLoad}
		action := doubtful(c, check.Say("E-16.action", "v", v, "volts", powerVolts(p.volts)))
		out = check.From(left, low, action, at...)
		steps := append(p.steps, entry("V_m", check.Say("E-16.step"), check.Figure{Value: left.In(quantity.Volt), Decimals: 2, Unit: "V"}))
		sagged := powerVolts(v.In(quantity.Volt)*(1-busySag) - p.volts)
		if out.Verdict == OK && ask.Power.UnderLoad.Of(c) != survey.Yes && sagged.Cmp(low) < 0 {
			if out, lacks := c.Lacking(ask.Power.UnderLoad); lacks {
				return out
			}
			out = check.Rule(check.Say("E-16.have", "left", left), check.Say("E-16.want", "low", low),
				check.Say("E-16.do"), at...)
		}
		out.Working = append(steps, entry("V_min", check.Say("E-16.step2"), low))
		out.Result = Dropped{Panel: v, Lost: powerVolts(p.volts), Left: left, Least: low, Amps: powerAmps(p.amps)}
		return onPlate(c, out, "voltage_min")
	}),
	Remedies: func(c *Case, k *Check) []Remedy {
		if voltageInDoubt(c) {
			return nil
		}
		rs := append(rewired(c, k), otherOptions(c)...)
		for _, r := range atNominal(c) {
			rs = append(rs, r)
			for _, u := range upsized(c, k, r.Set) {
				u.Change = check.Say("circuit.change", "parts", check.List{r.Change, u.Change})
				rs = append(rs, u)
			}
		}
		return rs
	},
}
