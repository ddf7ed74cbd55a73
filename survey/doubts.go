package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// A Doubt is a question about answers that can be read but look odd: it
// doesn't refuse them. It stands until the note beside one of the answers says
// "confirmed".
type Doubt struct {
	Paths []string // the answers in question, the first one named
	Text  string   // what is odd, and what may have been meant
}

// Doubts asks about implausible values, likely slips of the unit, and
// contradictions, in the order of the questionnaire.
func (s *Survey) Doubts() []Doubt {
	var ds []Doubt
	add := func(text string, paths ...string) {
		for _, p := range paths {
			if strings.Contains(strings.ToLower(s.loaded[p].Note), "confirmed") {
				return
			}
		}
		ds = append(ds, Doubt{paths, text})
	}
	s.eachAnswer(func(a answered) {
		path, text := a.path, a.text
		if a.odd != "" {
			add(a.odd, path)
		}
		if ways := s.Among(path); ways != nil {
			add(fmt.Sprintf("%q may mean %s; %s is taken, and the checks are run with the others too", text, oneOfThem(ways), ways[0]), path)
		}
		if a.rough != "" {
			add(a.rough, path)
		}
	})
	for _, c := range contradictions {
		if !s.allKnown(c.paths) {
			continue
		}
		if text := c.odd(s); text != "" {
			add(text, c.paths...)
		}
	}
	return ds
}

// Roughs are the answers that were written with "about" and are read with a
// wider uncertainty for it, in the order of the questionnaire. They aren't odd.
func (s *Survey) Roughs(units quantity.System) []Doubt {
	var ds []Doubt
	s.eachAnswer(func(a answered) {
		if _, ok := FieldAt(a.path).Zero().(quantity.Adjustable); !ok {
			return
		}
		if _, rough := quantity.Unroughed(a.text); rough && !s.isStated(a.path) {
			ds = append(ds, Doubt{[]string{a.path}, fmt.Sprintf("%q is read as %s", a.text, strings.TrimPrefix(s.ReadingText(a.path, units), "about "))})
		}
	})
	return ds
}

// InDoubt are the doubts about answers of a set that leave open what was read:
// values that are out of all proportion, and readings that can't both be right.
// Contradictions that the checks judge by themselves are left to them.
func (s *Survey) InDoubt(of Bits) []Doubt {
	var ds []Doubt
	add := func(text string, paths ...string) {
		for _, p := range paths {
			if strings.Contains(strings.ToLower(s.loaded[p].Note), "confirmed") {
				return
			}
		}
		ds = append(ds, Doubt{paths, text})
	}
	of.Each(func(id int) {
		f := fields[id]
		if !HasField(f.path) || !known(f.ptr(s)) {
			return
		}
		if why := s.implausible(f.path, s.textAt(f.path)); why != "" {
			add(why, f.path)
		}
	})
	for _, c := range contradictions {
		if !c.measure || !slices.ContainsFunc(c.paths, func(p string) bool { id, ok := idOf(p); return ok && of.Has(id) }) || !s.allKnown(c.paths) {
			continue
		}
		if text := c.odd(s); text != "" {
			add(text, c.paths...)
		}
	}
	return ds
}

// oneOfThem lists ways with a last "or".
func oneOfThem(ways []string) string {
	last := len(ways) - 1
	return strings.Join(ways[:last], ", ") + " or " + ways[last]
}

// roughCount reads a count or a plain number that was written with "about".
func roughCount(f Field, text string) (number string, ok bool) {
	switch f.Zero().(type) {
	case *Count, *Number:
		return quantity.Unroughed(text)
	}
	return "", false
}

// textAt is an answer as it stands now, without merging all that was written since.
func (s *Survey) textAt(path string) string {
	for _, w := range s.since {
		if w.path == path {
			return w.text
		}
	}
	return s.loaded[path].Text
}

// eachAnswer visits every known answer, as read or as written since, in the
// order of paths; what was written anew comes last.
func (s *Survey) eachAnswer(visit func(answered)) {
	since := map[string]string{}
	var emptied []string
	for _, w := range s.since {
		since[w.path] = w.text
		if w.list {
			emptied = append(emptied, w.path)
		}
	}
	gone := func(path string) bool {
		return slices.ContainsFunc(emptied, func(list string) bool { return path != list && under(path, list) })
	}
	see := func(path, text string) {
		if a := s.answered(path, text); a.known {
			visit(a)
		}
	}
	for _, a := range s.inOrder() {
		text, changed := since[a.path]
		delete(since, a.path)
		switch {
		case gone(a.path):
		case changed:
			see(a.path, text)
		case a.known:
			visit(a)
		}
	}
	for _, path := range sortedKeys(since) {
		see(path, since[path])
	}
}

// answered is an answer with what looks odd about it by itself.
type answered struct {
	path, text string
	known      bool
	odd        string // why it is outside its plausible range
	rough      string // what a rough number was read as
}

func (s *Survey) answered(path, text string) answered {
	a := answered{path: path, text: text}
	if a.known = !(doc.Entry{Text: text}).Unknown() && HasField(path); !a.known {
		return a
	}
	a.odd = s.implausible(path, text)
	if n, ok := roughCount(FieldAt(path), text); ok {
		a.rough = fmt.Sprintf("%q is read as %s, without an uncertainty; write the most that there may be", text, n)
	}
	return a
}

// inOrder are the answers as read, in the order of paths, looked at once.
func (s *Survey) inOrder() []answered {
	type order struct{}
	if s.asked != nil {
		if list, ok := s.asked.Load(order{}); ok {
			return list.([]answered)
		}
	}
	list := make([]answered, 0, len(s.loaded))
	for _, a := range s.loaded {
		list = append(list, s.answered(a.Path, a.Text))
	}
	slices.SortFunc(list, func(a, b answered) int { return comparePaths(a.path, b.path) })
	if s.asked != nil {
		s.asked.Store(order{}, list)
	}
	return list
}

// implausible remembers what it found, since surveys that differ in a few
// answers are asked again and again.
func (s *Survey) implausible(path, text string) string {
	key := path + "=" + text
	if s.asked != nil {
		if was, ok := s.asked.Load(key); ok {
			return was.(string)
		}
	}
	why := implausible(FieldAt(path), text)
	if s.asked != nil {
		s.asked.Store(key, why)
	}
	return why
}

func (s *Survey) allKnown(paths []string) bool {
	for _, p := range paths {
		if !s.Known(p) {
			return false
		}
	}
	return true
}

// implausible says why a value is outside its field's plausible range, and
// which unit would make sense of its number.
func implausible(f Field, text string) string {
	q, low, high, ok := f.sane(text)
	if run, is := f.Zero().(*quantity.Length); ok && is && strings.HasSuffix(f.Example, " ft") && run.UnmarshalText([]byte(text)) == nil {
		if mm := run.In(quantity.Millimetre); mm > 0 && mm < shortestRunMM {
			return fmt.Sprintf("%s is very short for a run; read it again, with its unit", text)
		}
	}
	// A limit written in the other system, rounded as one rounds, is within it.
	rounded := 2e-4 * (high - low)
	if !ok || q >= low-rounded && q <= high+rounded {
		return ""
	}
	why := fmt.Sprintf("%s is outside what is plausible here (%s)", text, strings.Replace(f.Sane, "..", " to ", 1))
	i := strings.LastIndexAny(text, "0123456789")
	number := text[:i+1]
	for _, u := range f.Zero().(quantity.Adjustable).Units() {
		if try := number + " " + u; !strings.HasSuffix(text, u) {
			if x, low, high, ok := f.sane(try); ok && x >= low && x <= high {
				return why + fmt.Sprintf("; was it %s?", try)
			}
		}
	}
	return why
}

// shortestRunMM is the length below which a run was probably written in the
// wrong unit, mm. Common practice, no source.
const shortestRunMM = 50

// A contradiction is a pair of answers that can't both be right, or hardly.
type contradiction struct {
	paths   []string
	odd     func(*Survey) string
	measure bool // nothing may be built on them before they are measured again; else the checks that read them judge it
}

// above words the doubt that one answer is higher than another that should not be lower.
func above[D quantity.Dimension](a, b quantity.Of[D], what string) string {
	if a.Cmp(b) <= 0 {
		return ""
	}
	x, y := quantity.Distinct(a, b, quantity.US)
	return fmt.Sprintf(what, x, y)
}

// aboveCutOut doubts a static pressure that the well's pump, by its switch,
// never makes. A faucet some feet below the switch may read 5 psi more; common
// practice, no source.
func aboveCutOut(line string, static func(*Survey) quantity.Pressure) func(*Survey) string {
	return func(s *Survey) string {
		most := s.Water.CutOut.Plus(quantity.New(5, quantity.PSI))
		return above(static(s), most, "the "+line+" static pressure, %s, is above what the well's pump makes before it stops (%s with 5 psi to spare)")
	}
}

var contradictions = []contradiction{
	{[]string{"water.cold.flowing_pressure", "water.cold.static_pressure"}, func(s *Survey) string {
		return above(s.Water.Cold.Flowing, s.Water.Cold.Static, "the cold flowing pressure, %s, is above the static one, %s")
	}, false},
	{[]string{"water.hot.flowing_pressure", "water.hot.static_pressure"}, func(s *Survey) string {
		return above(s.Water.Hot.Flowing, s.Water.Hot.Static, "the hot flowing pressure, %s, is above the static one, %s")
	}, false},
	{[]string{"water.cold.winter_temperature", "water.cold.summer_temperature"}, func(s *Survey) string {
		return above(s.Water.Cold.Winter, s.Water.Cold.Summer, "the cold water's winter temperature, %s, is above its summer one, %s")
	}, true},
	{[]string{"water.cold.winter_temperature", "water.cold.temperature"}, func(s *Survey) string {
		return above(s.Water.Cold.Winter, s.Water.Cold.Temperature, "the coldest of the year, %s, is above today's temperature, %s")
	}, true},
	{[]string{"water.cold.temperature", "water.cold.summer_temperature"}, func(s *Survey) string {
		return above(s.Water.Cold.Temperature, s.Water.Cold.Summer, "today's cold water, %s, is above the warmest of the year, %s")
	}, true},
	{[]string{"water.cold.temperature", "water.hot.temperature"}, func(s *Survey) string {
		return above(s.Water.Cold.Temperature, s.Water.Hot.Temperature, "the cold water, %s, is warmer than the hot, %s")
	}, true},
	{[]string{"water.hot.temperature"}, func(s *Survey) string {
		t := s.Water.Hot.Temperature
		if t.In(quantity.Fahrenheit) >= 90 || s.Water.Hot.Temperature.In(quantity.Fahrenheit) < 33 {
			return ""
		}
		return fmt.Sprintf("hot water of %s is cool; was it °C, or was the faucet not run long enough?", t.Show(quantity.US))
	}, false},
	{[]string{"water.hot.temperature", "heater.set_point"}, func(s *Survey) string {
		return above(s.Water.Hot.Temperature, quantity.Warmer(s.Heater.SetPoint, quantity.New(10, quantity.FahrenheitDiff)), "the hot water, %s, is more than 10 °F above the heater's set point (%s with those 10 °F)")
	}, true},
	{[]string{"treatment.hardness", "treatment.raw_hardness"}, func(s *Survey) string {
		return above(s.Treatment.Hardness, s.Treatment.RawHardness, "the hardness at the machine, %s, is above that of the raw water, %s")
	}, true},
	{[]string{"water.cold.static_pressure", "water.well_cut_out"}, aboveCutOut("cold", func(s *Survey) quantity.Pressure { return s.Water.Cold.Static }), true},
	{[]string{"water.hot.static_pressure", "water.well_cut_out"}, aboveCutOut("hot", func(s *Survey) quantity.Pressure { return s.Water.Hot.Static }), true},
	{[]string{"space.opening_height", "space.counter_height"}, func(s *Survey) string {
		return above(s.Space.Height, s.Space.Counter, "the opening, %s high, is higher than the counter above it, %s")
	}, false},
	{[]string{"power.line_to_neutral", "power.line_to_line"}, func(s *Survey) string {
		ll, ln := s.Power.LineToLine.In(quantity.Volt), s.Power.LineToNeutral.In(quantity.Volt)
		if ln <= 0 {
			return ""
		}
		// Line to line is √3 (wye), 2 (split phase) or 1 (one pole) times line to neutral.
		for _, k := range []float64{math.Sqrt(3), 2, 1} {
			if math.Abs(ll/ln-k) <= 0.06*k {
				return ""
			}
		}
		return fmt.Sprintf("%s line to line doesn't go with %s line to neutral in any usual system; read both again", s.Power.LineToLine.Text(), s.Power.LineToNeutral.Text())
	}, false},
	{[]string{"power.breaker", "power.other_loads"}, func(s *Survey) string {
		sum := quantity.New(0, quantity.Ampere)
		for _, l := range s.Power.OtherLoads {
			if l.Current.Known() {
				sum = sum.Plus(l.Current)
			}
		}
		return above(sum, s.Power.Breaker, "the other loads on the circuit add up to %s, more than its breaker of %s")
	}, false},
	{[]string{"power.dedicated", "power.other_loads"}, func(s *Survey) string {
		switch {
		case s.Power.Dedicated == Yes && len(s.Power.OtherLoads) > 0:
			return "the circuit is said to serve the machine alone, and other loads are listed"
		case s.Power.Dedicated == No && len(s.Power.OtherLoads) == 0:
			return "the circuit is said to serve other things too, and none is listed"
		}
		return ""
	}, false},
}

// Readings counts the measured answers, and those of them whose uncertainty
// the surveyor wrote.
func (s *Survey) Readings() (stated, all int) {
	s.eachAnswer(func(a answered) {
		f, ok := byPath()[generic(a.path)]
		if !ok || f.Tool == "" {
			return
		}
		all++
		if s.isStated(a.path) {
			stated++
		}
	})
	return stated, all
}
