package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"firstfill/render/page"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
)

// order is that of the subjects on a sheet; a trade's sheet holds those that
// its checks are about.
var order = []check.Subject{
	check.Machine, check.Supply, check.Circuit, check.Receptacle, check.Disconnect, check.GroundFault, check.Panel,
	check.Cold, check.Hot, check.BothLines, check.HeaterSide, check.Quality, check.DrainLine, check.Receptor,
	check.Opening, check.Floor, check.Room, check.Way, check.Demand, check.Sanitizer,
}

// marks name what a row asks of the trade, and how it is marked.
var marks = map[plan.Mark]struct {
	name string
	bold bool
}{
	plan.Keep: {"mark.keep", false}, plan.Change: {"mark.change", true}, plan.Add: {"mark.add", true},
	plan.Read: {"mark.read", true}, plan.Confirm: {"mark.confirm", true}, plan.Stands: {"mark.stands", true},
}

// gravity orders marks, the one that asks most first.
var gravity = []plan.Mark{plan.Stands, plan.Read, plan.Add, plan.Change, plan.Confirm, plan.Keep}

// A line is one line of a table of numbers: the rows of one subject that have
// the same label.
type line struct {
	label       string
	need, found []string
	was         change // of the revision before
	mark        plan.Mark
	steps       []int
	ids         []string
	bare        bool       // nothing is asked: a fact to read
	limit       check.Fact // that the last of need words
}

// An aside names what has no line of its own.
type aside struct {
	also  []string // checked too, stays as it is
	waits []string // can't be said before something is read
}

func (a aside) with(b aside) aside { return aside{join2(a.also, b.also), join2(a.waits, b.waits)} }

// lines gives a trade's lines of a subject, and what has none.
func (s *sheets) lines(t check.Trade, subject check.Subject) (own []line, rest aside) {
	for _, r := range s.r.Plan.Rows(subject) {
		label, row, ok := s.to.Label(r.Check.ID)
		if !ok || r.Check.Trade != t {
			continue
		}
		_, changed := s.now[r.Check.ID]
		switch {
		case !row && r.Mark == plan.Keep && !changed:
			rest.also = join2(rest.also, []string{label})
		case r.Mark == plan.Read && r.Need.Zero() && !changed:
			rest.waits = join2(rest.waits, []string{label})
		default:
			own = s.add(own, label, r)
		}
	}
	return own, rest
}

// add puts a row on the line of its label, or on a new one.
func (s *sheets) add(ls []line, label string, r plan.Row) []line {
	i := slices.IndexFunc(ls, func(l line) bool { return l.label == label })
	if i < 0 {
		i = len(ls)
		ls = append(ls, line{label: label, mark: plan.Keep})
	}
	l := &ls[i]
	need, found := s.fact(r.Need), s.fact(r.Found)
	if planned := s.fact(r.Plan); planned != "" && !says(need, planned) {
		need = s.say("row.planned", "need", quote(need), "plan", quote(lowerFirst(planned)))
	}
	if r.Check != nil && r.Check.Subject == check.GroundFault && s.r.Survey.Codes.Electrical != "" {
		need = s.say("row.by-code", "need", quote(need), "code", check.Word(s.r.Survey.Codes.Electrical))
	}
	if r.Check == rules.ConductorAmpacity && r.Need.Bound == check.AtLeast {
		if w, ok := rules.LeastWire(s.r.Plan.Built.Case); ok {
			need = s.say("row.wire", "wire", w, "metal", plan.Shown(survey.Ask.Power.ConductorOf, s.r.Plan.Built.Survey), "need", quote(lowerFirst(need)))
		}
	}
	if r.Mark == plan.Read {
		if found = s.say("row.not-read"); r.Need.Zero() {
			need = s.say("row.unread")
		}
	}
	if r.Check != nil {
		l.ids = append(l.ids, r.Check.ID)
		if was, ok := s.now[r.Check.ID]; ok {
			l.was.changed = true
			l.was.need, l.was.found = join(", ", l.was.need, upperFirst(was.need)), join(", ", l.was.found, upperFirst(was.found))
		}
	}
	put := func(list []string, text string) []string {
		if text == "" || slices.ContainsFunc(list, func(x string) bool { return strings.EqualFold(x, text) }) {
			return list
		}
		if len(list) > 0 {
			text = lowerFirst(text)
		}
		return append(list, text)
	}
	switch second, ok := plan.Stricter(l.limit, r.Need); {
	case !ok:
		l.need, l.limit = put(l.need, need), r.Need
	case second: // one number for one thing: the limit that rules
		l.need, l.limit = put(l.need[:len(l.need)-1], need), r.Need
	}
	l.found = put(l.found, found)
	if slices.Index(gravity, r.Mark) < slices.Index(gravity, l.mark) {
		l.mark = r.Mark
	}
	if r.Step > 0 && !slices.Contains(l.steps, r.Step) {
		l.steps = append(l.steps, r.Step)
	}
	return ls
}

// says whether a need names the planned value itself, as in "a plug NEMA 6-20".
func says(need, planned string) bool {
	need, planned = strings.ToLower(need), strings.ToLower(planned)
	head, tail, ok := strings.Cut(need, planned)
	edge := func(s string, first bool) bool {
		if s == "" {
			return true
		}
		r := s[len(s)-1]
		if first {
			r = s[0]
		}
		return r == ' ' || r == ',' || r == ';' || r == '('
	}
	return ok && edge(head, false) && edge(tail, true)
}

// state words a line's mark with its steps.
func (s *sheets) state(l line) string {
	text := s.say(marks[l.mark].name)
	if len(l.steps) > 0 {
		text += " " + numbers(l.steps)
	}
	return text
}

func numbers(ns []int) string {
	parts := make([]string, len(ns))
	for i, n := range ns {
		parts[i] = strconv.Itoa(n)
	}
	return strings.Join(parts, ", ")
}

// calcPage is the page of the calculations on which a line is worked.
func (s *sheets) calcPage(ids []string) string {
	var pages []string
	for _, id := range ids {
		if n := s.calcs[id]; n > 0 && !slices.Contains(pages, strconv.Itoa(n)) {
			pages = append(pages, strconv.Itoa(n))
		}
	}
	return strings.Join(pages, ", ")
}

const rowSize = 9.0 // points; the body of a sheet

// cells are a line's needed, found and state.
func (s *sheets) cells(l line) []page.Cell {
	field := strings.Join(l.ids, " ")
	need := page.Cell{Text: strings.Join(l.need, ", "), Bold: true, Size: rowSize, Field: field}
	found := page.Cell{Text: strings.Join(l.found, ", "), Size: rowSize, Field: field}
	if l.was.need != "" && !strings.EqualFold(l.was.need, need.Text) {
		need.Was = l.was.need
	}
	if l.was.found != "" && !strings.EqualFold(l.was.found, found.Text) {
		found.Was = l.was.found
	}
	state := page.Cell{Text: s.state(l), Bold: marks[l.mark].bold, Size: 8.5}
	if l.bare {
		state = page.Cell{}
	}
	return []page.Cell{need, found, state}
}

func (l line) changed() bool { return l.was != change{} }

// tables prints what a trade builds to, after lines that are there already,
// subject after subject: the planned value, else what is required, beside what
// was found.
func (s *sheets) tables(t check.Trade, first []line, rest aside, skip ...check.Subject) {
	c := s.w.Columns
	table := page.Table{Tight: true, Columns: []page.Column{
		{Head: c.Number, Width: 33}, {Head: c.Needed, Flex: 1.35}, {Head: c.Found, Flex: 1}, {Head: c.State, Width: 22}, {Head: c.Calc, Width: 13, Align: page.Right},
	}}
	put := func(ls []line) {
		for _, l := range ls {
			table.Rows = append(table.Rows, page.Row{Bar: l.changed(), Cells: slices.Concat([]page.Cell{{Text: l.label, Size: rowSize}}, s.cells(l), []page.Cell{page.T(s.calcPage(l.ids))})})
		}
	}
	put(first)
	for _, subject := range order {
		if slices.Contains(skip, subject) {
			continue
		}
		ls, more := s.lines(t, subject)
		rest = rest.with(more)
		if subject == check.Supply && t == check.Electrician {
			ls = append(ls, s.plate())
		}
		put(ls)
	}
	if len(table.Rows) > 0 {
		s.Table(table)
	}
	s.aside(rest)
}

// join2 puts what isn't there yet behind a list.
func join2(list, more []string) []string {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}

// aside names what waits for a reading, and what was checked too and stays as it was found.
func (s *sheets) aside(a aside) {
	for _, p := range []struct {
		name   string
		labels []string
	}{{"row.waits", a.waits}, {"row.also", a.also}} {
		if len(p.labels) > 0 {
			s.StyledParagraph(s.say(p.name, "list", quote(strings.Join(p.labels, "; "))), page.Style{Size: 8, Leading: 1.25})
		}
	}
}

// plate is what the machine's data plate says of its load.
func (s *sheets) plate() line {
	p := s.supply()
	part := func(name string, q amount) string {
		if !q.Known() {
			return ""
		}
		return s.say(name, "value", q)
	}
	heater := ""
	if p.HeaterPower.Known() {
		heater = s.say("plate.heater", "power", p.HeaterPower, "volts", p.HeaterVolts)
	}
	motors := ""
	if p.MotorCurrent.Known() {
		motors = s.say("plate.motors", "current", p.MotorCurrent, "volts", p.MotorVolts)
	}
	text := join("; ", heater, motors, part("plate.rated", p.RatedCurrent), part("plate.min-circuit", p.MinCircuit), part("plate.max-breaker", p.MaxBreaker))
	l := line{label: s.say("plate.label"), need: []string{upperFirst(text)}, bare: true}
	if f := s.r.Plan.Built.Report(false).Finding("E-23"); f != nil && f.Verdict < check.NA && f.Verdict != check.Missing {
		l.found = []string{s.say("plate.here", "power", f.Have)}
		l.ids = []string{f.ID}
	}
	return l
}

// twins prints two subjects side by side, lines with the same label together.
// It gives back the lines that hold for both and don't stand well in it, and
// what else was checked.
func (s *sheets) twins(t check.Trade, a, b check.Subject, more func(check.Subject) []line) (both []line, rest aside) {
	la, rest := s.lines(t, a)
	lb, other := s.lines(t, b)
	la, lb = append(la, more(a)...), append(lb, more(b)...)
	rest = rest.with(other)
	if len(la) == 0 || len(lb) == 0 {
		return append(la, lb...), rest
	}
	both = s.common(&la, &lb)
	c := s.w.Columns
	const state = 20.5
	head := func(subject check.Subject) string {
		return s.say("twin.needed", "subject", check.Say("subject."+string(subject)))
	}
	table := page.Table{Tight: true, Lines: true, Columns: []page.Column{{Head: c.Number, Width: 26},
		{Head: head(a), Flex: 1.1}, {Head: c.Found}, {Head: c.State, Width: state}, {Head: head(b), Flex: 1.1}, {Head: c.Found}, {Head: c.State, Width: state}}}
	var labels []string
	for _, l := range append(slices.Clone(la), lb...) {
		if !slices.Contains(labels, l.label) {
			labels = append(labels, l.label)
		}
	}
	for _, label := range labels {
		row := page.Row{Cells: []page.Cell{{Text: label, Size: rowSize}}}
		for _, ls := range [][]line{la, lb} {
			i := slices.IndexFunc(ls, func(l line) bool { return l.label == label })
			if i < 0 {
				row.Cells = append(row.Cells, page.Cell{}, page.Cell{}, page.Cell{})
				continue
			}
			row.Bar = row.Bar || ls[i].changed()
			row.Cells = append(row.Cells, s.cells(ls[i])...)
		}
		table.Rows = append(table.Rows, row)
	}
	s.Table(table)
	return both, rest
}

// wide is the length of a need that doesn't stand well in a twin's narrow column, in signs.
const wide = 44

// common takes the lines out of both lists whose need is the same long text.
func (s *sheets) common(la, lb *[]line) (both []line) {
	for _, l := range slices.Clone(*la) {
		k := slices.IndexFunc(*lb, func(o line) bool { return o.label == l.label })
		if k < 0 || len(strings.Join(l.need, ", ")) < wide || !slices.Equal(l.need, (*lb)[k].need) {
			continue
		}
		o := (*lb)[k]
		m := l
		m.ids = append(slices.Clone(l.ids), o.ids...)
		if !slices.Equal(l.found, o.found) {
			m.found = []string{s.say("twin.found", "cold", quote(strings.Join(l.found, ", ")), "hot", quote(lowerFirst(strings.Join(o.found, ", "))))}
		}
		if slices.Index(gravity, o.mark) < slices.Index(gravity, l.mark) {
			m.mark = o.mark
		}
		for _, n := range o.steps {
			if !slices.Contains(m.steps, n) {
				m.steps = append(slices.Clone(m.steps), n)
			}
		}
		if m.was == (change{}) {
			m.was = o.was
		}
		both = append(both, m)
		*la = slices.DeleteFunc(slices.Clone(*la), func(x line) bool { return x.label == l.label })
		*lb = slices.DeleteFunc(slices.Clone(*lb), func(x line) bool { return x.label == l.label })
	}
	return both
}

// settings are lines of a water line that have no check of their own.
func (s *sheets) settings(subject check.Subject) []line {
	a := survey.Ask.Water.Cold.Regulator
	if subject == check.Hot {
		a = survey.Ask.Water.Hot.Regulator
	}
	r := s.r.Plan.Thing(a)
	if r.Need.Zero() {
		if q := a.Value(s.r.Survey).(amount); !q.Known() || strings.HasPrefix(q.US(), "0 ") {
			return nil
		}
		r.Need = check.FactOf(check.Say("row.regulator-stays"))
	}
	return s.add(nil, s.say("row.regulator"), r)
}

// circuit is the circuit as it will be built, in one line.
func (s *sheets) circuit() string {
	a, b := survey.Ask.Power, s.r.Plan.Built.Survey
	blank := func(x survey.Ref) any {
		if !x.Known(b) {
			return quote(s.say("build.blank"))
		}
		return plan.Shown(x, b)
	}
	wires, neutral := s.lineConductors(), s.say("build.no-neutral")
	if wires == 1 || s.supply().Neutral {
		wires, neutral = wires+1, s.say("build.neutral")
	}
	dedicated := ""
	switch {
	case a.Dedicated.Of(s.r.Plan.Built.Case) == survey.Yes:
		dedicated = s.say("build.dedicated")
	case a.Dedicated.Of(s.r.Plan.Built.Case) == survey.No:
		dedicated = s.say("build.shared")
	}
	guard := ""
	switch g := a.GFCI.Of(s.r.Plan.Built.Case); g {
	case "", "none":
	default:
		guard = s.say("build.guard." + s.r.Machine.Basis + "." + g)
	}
	return s.say("build.circuit", "breaker", blank(a.Breaker), "poles", blank(a.BreakerPoles), "guard", quote(guard), "n", wires,
		"conductor", blank(a.Conductor), "metal", blank(a.ConductorOf), "insulation", blank(a.Insulation), "ground", blank(a.Ground),
		"conduit", blank(a.Conduit), "run", blank(a.RunLength), "dedicated", quote(dedicated), "neutral", quote(neutral))
}

// face is the drawing of a receptacle by the name of its configuration.
func face(name string) (page.FaceSpec, bool) {
	if f, ok := page.NEMAFace(name); ok {
		return f, true
	}
	words := strings.Fields(strings.ToUpper(name))
	if len(words) < 3 || words[0] != "IEC" || words[1] != "60309" {
		return page.FaceSpec{}, false
	}
	// The earth contact stands at six o'clock for 230 V and 400 V alike.
	if !slices.ContainsFunc(words, func(w string) bool { return w == "230" || w == "400" || w == "BLUE" || w == "RED" }) {
		return page.FaceSpec{}, false
	}
	f, ok := page.IECFace(words[len(words)-1], 6)
	if ok {
		f.Name = name
	}
	return f, ok
}

// faces are the receptacle that is needed and, where it is another one, the one that was found.
func (s *sheets) faces() []page.FaceSpec {
	plug, found := s.supply().Plug, s.r.Survey.Power.Receptacle
	if s.r.Machine.Power.Connection == "hard-wired" || plug == "" {
		return nil
	}
	need, ok := face(plug)
	if !ok {
		return nil
	}
	name := need.Name
	need.Name = s.say("face.needed", "name", quote(name))
	faces := []page.FaceSpec{need}
	if f, ok := face(found); ok && f.Name != name {
		f.Name = s.say("face.found", "name", quote(f.Name))
		faces = append(faces, f)
	}
	return faces
}

// lineConductors is how many lines the machine takes as it will be connected.
func (s *sheets) lineConductors() int {
	if s.r.Plan.Built.Supply == nil {
		return 2
	}
	return rules.LineConductors(s.r.Plan.Built.Case)
}

// supply is the option that will be ordered.
func (s *sheets) supply() *specs.Supply {
	if p := s.r.Plan.Built.Supply; p != nil {
		return p
	}
	if s.r.Supply != nil {
		return s.r.Supply
	}
	return &specs.Supply{}
}

func lowerFirst(text string) string {
	r := []rune(text)
	if len(r) > 1 && strings.ToUpper(string(r[:2])) == string(r[:2]) { // an abbreviation
		return text
	}
	if len(r) == 0 {
		return text
	}
	return strings.ToLower(string(r[0])) + string(r[1:])
}

func plain(n int) string { return fmt.Sprint(n) }
