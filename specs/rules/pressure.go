package rules

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// What the readings of a line say of the pressure at the machine, given where
// the gauge stood, what a regulator does at flow, and how a well pump swings.

const (
	// contradictionPSI is how far one gauge may read above another, or above a
	// regulator's tag, before they contradict each other: two gauges off by 2 psi each.
	contradictionPSI = 2 * trade.GaugeAccuracyPSI
)

var fallOffPractice = trade.Source{Document: "Fall-off of a regulator at flow", Mark: trade.CommonPractice}

// Places of the gauge.
const (
	beforeRegulator = "before-regulator"
	behindRegulator = "behind-regulator"
)

// tag is the setting of the line's own regulator; ok when there is one.
func (l waterLine) tag(c *Case) (p quantity.Pressure, ok bool) {
	p = l.ask().Regulator.Of(c)
	return p, p.Known() && p.Base() > 0
}

// ahead says whether the pressures were read ahead of the line's own regulator.
func (l waterLine) ahead(c *Case) bool {
	_, fitted := l.tag(c)
	return fitted && l.ask().GaugeAt.Of(c) == beforeRegulator
}

// swings says whether a well pump's swing reaches the place where the pressures were read.
func (l waterLine) swings(c *Case) bool {
	_, fitted := l.tag(c)
	return !fitted || l.ahead(c)
}

// read is the highest static pressure where it was read: the reading, or what
// a well pump stops at where that is higher.
func (l waterLine) read(c *Case) quantity.Pressure {
	p := l.ask().Static.Of(c)
	if out := ask.Water.CutOut.Of(c); l.swings(c) && out.Known() && p.Known() && out.Cmp(p) > 0 {
		return out
	}
	return p
}

// static is the highest static pressure at the machine: what was read, or the
// setting of a regulator between the gauge and the machine. A gauge that may
// have stood behind the regulator is believed before the regulator's tag.
func (l waterLine) static(c *Case) quantity.Pressure {
	p := l.read(c)
	if set, fitted := l.tag(c); fitted && l.ahead(c) && set.Cmp(p) < 0 {
		return set
	}
	return p
}

// aboveTag says whether the static pressure reads above the tag of a regulator
// that isn't known to stand behind the gauge.
func (l waterLine) aboveTag(c *Case) bool {
	set, fitted := l.tag(c)
	static := l.ask().Static.Of(c)
	return fitted && !l.ahead(c) && static.Known() && trade.AboveTag(static.In(quantity.PSI), set.In(quantity.PSI), contradictionPSI)
}

// failed says whether a gauge behind the regulator reads above its tag.
func (l waterLine) failed(c *Case) bool {
	return l.ask().GaugeAt.Of(c) == behindRegulator && l.aboveTag(c)
}

// doubt says why the line's pressures must be read again before anything is
// built on them; the zero phrase when there is no reason to.
func (l waterLine) doubt(c *Case) check.Phrase {
	if l.aboveTag(c) && !l.failed(c) {
		set, _ := l.tag(c)
		return check.Say("line.above-tag", "line", l.word(), "static", l.ask().Static.Of(c), "set", set)
	}
	return l.misread(c)
}

// misread is the doubt in the readings themselves, wherever the gauge stood.
func (l waterLine) misread(c *Case) check.Phrase {
	a := l.ask()
	if over := a.Flowing.Of(c).In(quantity.PSI) - a.Static.Of(c).In(quantity.PSI); over > contradictionPSI {
		return check.Say("line.contradiction", "line", l.word(), "flowing", a.Flowing.Of(c), "static", a.Static.Of(c))
	}
	if why := plausible(a.Static)(c); !why.Zero() {
		return why
	}
	return plausible(a.Flowing)(c)
}

// absurd says whether a reading lies outside what is plausible for its
// question, and no note beside it confirms it.
func absurd[D quantity.Dimension](c *Case, a survey.Answer[quantity.Of[D]]) bool {
	v := a.Of(c)
	if !v.Known() {
		return false
	}
	r, ok := plausibleRanges.Load(a.Path())
	if !ok {
		r = plausibleRange[D](survey.FieldAt(a.Path()).Sane)
		plausibleRanges.Store(a.Path(), r)
	}
	if ends := r.([2]float64); !(v.Base() < ends[0] || v.Base() > ends[1]) {
		return false
	}
	return !strings.Contains(strings.ToLower(c.Survey.Answer(a.Path()).Note), "confirmed")
}

// plausibleRanges are the ranges of questions by path, as read from the table of fields.
var plausibleRanges sync.Map

// plausibleRange reads "15 psi..150 psi"; NaN without one.
func plausibleRange[D quantity.Dimension](text string) [2]float64 {
	from, to, _ := strings.Cut(text, "..")
	var low, high quantity.Of[D]
	if low.UnmarshalText([]byte(from)) != nil || high.UnmarshalText([]byte(to)) != nil {
		return [2]float64{math.NaN(), math.NaN()}
	}
	return [2]float64{low.Base(), high.Base()}
}

// heeding replaces an order of work by the reading to be made first, where there is one.
func heeding(c *Case, out Outcome, doubt func(*Case) check.Phrase) Outcome {
	if out.Verdict != Fix && out.Verdict != Confirm {
		return out
	}
	if why := doubt(c); !why.Zero() {
		out.Action = why
	}
	return out
}

// plausible doubts a reading that is absurd.
func plausible[D quantity.Dimension](a survey.Answer[quantity.Of[D]]) func(*Case) check.Phrase {
	return func(c *Case) check.Phrase {
		if !absurd(c, a) {
			return check.Phrase{}
		}
		return check.Say("reading.absurd", "question", check.Question(a.Path()), "reading", a.Of(c))
	}
}

// closedBar says whether the pressures were read while nothing else drew.
func closedBar(c *Case) bool {
	switch ask.Water.ReadBusy.Of(c) {
	case survey.Yes:
		return false
	case survey.No:
		return true
	}
	at := strings.ToLower(ask.Water.ReadAt.Of(c))
	for _, word := range []string{"closed", "before opening", "empty", "not open"} {
		if strings.Contains(at, word) {
			return true
		}
	}
	return false
}

// whenRead says whether anything tells of the hour: the answer about the bar,
// a word of it, or an hour of the evening.
func whenRead(c *Case) bool {
	if ask.Water.ReadBusy.Known(c) {
		return true
	}
	at := strings.ToLower(ask.Water.ReadAt.Of(c))
	for _, word := range []string{"full", "busy", "peak", "rush", "open", "service", "evening", "night"} {
		if strings.Contains(at, word) {
			return true
		}
	}
	if m := hourRead.FindStringSubmatch(at); m != nil {
		hour, _ := strconv.Atoi(m[1] + m[2])
		if strings.Contains(m[0], "pm") && hour < 12 {
			hour += 12
		}
		return hour >= 17 || hour < 3
	}
	return false
}

// hourRead finds the hour in what was written of when the pressures were read.
var hourRead = regexp.MustCompile(`\b(\d{1,2})(?:[:.]\d\d)\s*(?:pm)?|\b(\d{1,2})\s*pm\b`)

// Regulators.

// writtenIn says whether a reading was written in a unit; one not known was in any.
func writtenIn[D quantity.Dimension](q quantity.Of[D], unit string) bool {
	value, _, _ := strings.Cut(q.Text(), "±")
	return !q.Known() || strings.HasSuffix(strings.TrimSpace(value), unit)
}

// reduced offers a lower pressure: at the building's service where the building
// needs that anyway, with the same value for both lines; else at the line's own regulator.
func (l waterLine) reduced(c *Case, k *Check, top float64) []Remedy {
	if !l.doubt(c).Zero() {
		return nil
	}
	limit := buildingLimit(c)
	for _, any := range waterLines {
		if _, inlet := any.of(c); inlet.Used && any.read(c).Known() && any.read(c).Cmp(limit) > 0 {
			return service(c, k, limit.In(quantity.PSI))
		}
	}
	settings := l.lowered(c, top)
	if set, _ := l.tag(c); l.failed(c) && set.In(quantity.PSI) <= top {
		unit := "psi"
		if !writtenIn(set, unit) {
			unit = "kPa"
		}
		settings = append([]string{writeLike(unit, set.In(quantity.PSI))}, settings...) // as it was meant to be
	}
	return l.regulators(c, k, settings)
}

// lowered are the settings from a limit down, the highest first.
func (l waterLine) lowered(c *Case, top float64) []string {
	return l.settings(c, min(top, trade.MaxStaticPSI), 20)
}

// settings are the round settings of a regulator from one pressure down to
// another, in steps of 5 psi, or of 50 kPa where the readings are metric.
func (l waterLine) settings(c *Case, from, to float64) []string {
	if !writtenIn(l.ask().Static.Of(c), "psi") {
		const kPa = 6.894757
		return check.Ladder(floorTo(from*kPa, 50), to*kPa, 50, quantity.Kilopascal)
	}
	return check.Ladder(floorTo(from, 5), to, 5, quantity.PSI)
}

func floorTo(x, step float64) float64 {
	n := float64(int(x / step))
	return n * step
}

// regulators offers the one regulator of the line at one of the settings, in
// the order in which they are given.
func (l waterLine) regulators(c *Case, k *Check, settings []string) []Remedy {
	if !l.doubt(c).Zero() {
		return nil
	}
	a := l.ask()
	_, fitted := l.tag(c)
	name, work := "line.regulator-fit", check.Fitting
	switch {
	case l.failed(c):
		name, work = "line.regulator-replace", check.Device
	case fitted:
		name, work = "line.regulator-set", check.Adjusting
	}
	var rs []Remedy
	for _, text := range settings {
		set := map[string]string{a.Regulator.Path(): text}
		if fitted && !l.ahead(c) {
			// The gauge stays behind the regulator: it will read what is set.
			p := quantity.MustParse[quantity.Pressure](text)
			fallen := a.Static.Of(c).Minus(a.Flowing.Of(c))
			set[a.Static.Path()] = text
			if a.Flowing.Known(c) {
				set[a.Flowing.Path()] = writeLike(text, max(0, p.In(quantity.PSI)-fallen.In(quantity.PSI)))
			}
			set[a.GaugeAt.Path()] = behindRegulator
		} else {
			set[a.GaugeAt.Path()] = beforeRegulator
		}
		rs = append(rs, Remedy{Change: check.Say(name, "line", l.word(), "set", quantity.MustParse[quantity.Pressure](text)), Work: work, Set: set})
	}
	return together(c, k, rs)
}

// writeLike writes a pressure in psi in the unit of another one's text.
func writeLike(text string, p float64) string {
	q := psi(math.Floor(10*p+1e-6) / 10)
	if strings.HasSuffix(text, "psi") {
		return quantity.PSI.Write(q.In(quantity.PSI))
	}
	return quantity.Kilopascal.Write(math.Floor(psi(p).In(quantity.Kilopascal) + 1e-6))
}

// service offers a pressure-reducing valve on the building's service, which
// both lines have in common, at the highest setting that cures the check and
// leaves what else hangs on either line's pressure right.
func service(c *Case, k *Check, top float64) []Remedy {
	for _, l := range waterLines {
		if _, inlet := l.of(c); inlet.Used && !l.misread(c).Zero() {
			return nil
		}
	}
	// The readings are written as those of a line that the machine takes.
	line := coldLine
	if !c.Machine.Water.Cold.Used {
		line = hotLine
	}
	var rs []Remedy
	for _, text := range line.settings(c, min(top, trade.MaxStaticPSI), 30) {
		set := map[string]string{}
		for _, l := range waterLines {
			a, inlet := l.of(c)
			p := quantity.MustParse[quantity.Pressure](text)
			static := a.Static.Of(c)
			if !inlet.Used || !static.Known() || l.read(c).Cmp(p) <= 0 {
				continue
			}
			set[a.Static.Path()] = text
			if a.Flowing.Known(c) {
				// The pipes lose as much as before, and the valve falls off at the machine's flow.
				lost := static.In(quantity.PSI) - a.Flowing.Of(c).In(quantity.PSI)
				if q := a.Flow.Of(c).In(quantity.GPM) / inlet.Flow.In(quantity.GPM); q > 0 {
					lost += trade.RegulatorFallPSI * math.Pow(min(q, 1), 1/0.54)
				}
				set[a.Flowing.Path()] = writeLike(text, max(0, p.In(quantity.PSI)-lost))
			}
		}
		if out := ask.Water.CutOut.Of(c); out.Known() {
			p := quantity.MustParse[quantity.Pressure](text)
			if out.Cmp(p) > 0 {
				set[ask.Water.CutOut.Path()] = text
			}
			if in := ask.Water.CutIn.Of(c); in.Known() && in.Cmp(p) > 0 {
				set[ask.Water.CutIn.Path()] = text
			}
		}
		if c.Machine.Water.Hot.Used {
			set[ask.Water.Closed.Path()], set[ask.Water.Expansion.Path()] = "yes", "yes"
		}
		rs = append(rs, Remedy{Change: check.Say("service.regulator", "set", quantity.MustParse[quantity.Pressure](text)), Work: check.Fitting + check.Accessory, Set: set})
	}
	return together(c, k, rs)
}

// together takes of several ways of curing a check the first that leaves every
// check of the pressures right that a regulator reaches; when none does, the
// first of those that leave the fewest of them failing.
func together(c *Case, k *Check, ways []Remedy) []Remedy {
	watched := pressureChecks()
	type tried struct {
		way   Remedy
		after *Case
		fails int
		well  bool // every one right at the readings as they stand
	}
	var best []Remedy
	// take says whether a way is the one to take, and keeps the first that cures.
	take := func(t tried) bool {
		if best != nil && !t.well || !t.after.Passes(k) {
			return false
		}
		if best == nil {
			best = []Remedy{t.way}
		}
		return t.well && right(t.after, watched)
	}
	var rest []tried
	for _, r := range ways {
		after, err := c.With(r.Set)
		if err != nil || after.Run(k).Verdict != OK {
			continue
		}
		t := tried{r, after, 0, true}
		for _, w := range watched {
			switch after.Run(w).Verdict {
			case Fix:
				t.fails++
				t.well = false
			case Confirm, Missing:
				t.well = false
			}
		}
		if t.fails > 0 {
			rest = append(rest, t)
		} else if take(t) {
			return []Remedy{r}
		}
	}
	slices.SortStableFunc(rest, func(a, b tried) int { return a.fails - b.fails })
	for _, t := range rest {
		if take(t) {
			return []Remedy{t.way}
		}
	}
	return best
}

// right says whether all of some checks hold under uncertainty, or don't arise.
func right(c *Case, checks []*Check) bool {
	for _, k := range checks {
		if k.Skip(c).Zero() && !c.Passes(k) {
			return false
		}
	}
	return true
}

// pressureChecks are the checks that a regulator reaches, bare of remedies.
var pressureChecks = sync.OnceValue(func() []*Check {
	ks := []*Check{{ID: "balance", Skip: skipBalance, Run: runBalance}}
	for _, l := range waterLines {
		ks = append(ks, &Check{ID: "static", Skip: l.skipStatic, Run: l.runStatic}, &Check{ID: "building", Skip: l.skip, Run: l.runBuilding}, &Check{ID: "inlet", Skip: l.skipInlet, Run: l.runInlet})
	}
	return ks
})
