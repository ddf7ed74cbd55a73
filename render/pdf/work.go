package pdf

import (
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// A task is one row of a work list: a step of the plan, or the steps of the
// cold and the hot line that are done together.
type task struct {
	steps []plan.Step
	text  string
}

// twin names the jobs whose steps are one row.
var twin = []plan.Job{"cold-line", "hot-line"}

// tasks are a trade's steps in the plan's order.
func (s *sheets) tasks(t check.Trade) []task {
	var out []task
	var joined []plan.Step
	for _, st := range s.r.Plan.Steps {
		if st.Trade == t && slices.Contains(twin, st.Job) {
			joined = append(joined, st)
		}
	}
	together := len(joined) == 2 && joined[0].Stage == joined[1].Stage && joined[0].Job != joined[1].Job
	for _, st := range s.r.Plan.Steps {
		switch {
		case st.Trade != t, together && st.N == joined[1].N:
		case together && st.N == joined[0].N:
			out = append(out, task{joined, s.both(joined[0], joined[1])})
		default:
			out = append(out, task{[]plan.Step{st}, upperFirst(tied(s.to.Step(st)))})
		}
	}
	return out
}

// both words two steps together: what is done to both once.
func (s *sheets) both(a, b plan.Step) string {
	said := func(st plan.Step) []string {
		var parts []string
		for _, p := range st.Parts() {
			parts = append(parts, s.phrase(p))
		}
		return parts
	}
	pa, pb := said(a), said(b)
	var common []string
	for _, x := range pa {
		if slices.Contains(pb, x) {
			common = append(common, x)
		}
	}
	rest := func(parts []string) string {
		return strings.Join(slices.DeleteFunc(slices.Clone(parts), func(x string) bool { return slices.Contains(common, x) }), "; ")
	}
	part := func(name, text string) string {
		if text == "" {
			return ""
		}
		return s.say("work.part", "job", check.Say(name), "text", quote(text))
	}
	return upperFirst(join(". ", part("work.both", strings.Join(common, "; ")), part("job."+string(a.Job), rest(pa)), part("job."+string(b.Job), rest(pb))))
}

// work is a trade's share of the plan, a task a row, to tick and initial.
func (s *sheets) work(t check.Trade) {
	c := s.w.Columns
	table := page.Table{Lines: true, Columns: []page.Column{{Head: c.Step, Width: 15}, {Head: c.Do}, {Head: c.Initials, Width: 27}}}
	for _, k := range s.tasks(t) {
		var ns []int
		for _, st := range k.steps {
			ns = append(ns, st.N)
		}
		table.Rows = append(table.Rows, page.Row{MinHeight: 8, Cells: []page.Cell{
			{Text: numbers(ns), Tick: true, Bold: true, Size: 9.5},
			{Text: k.text, Size: 9.5, Note: s.beside(k), Field: string(k.steps[0].Job)}, {},
		}})
	}
	if len(table.Rows) > 0 {
		s.Heading(2, s.w.Headings.Points)
		s.Table(table)
	}
	s.questions(t)
}

// beside is the small print of a task: what it cures, where that is worked, what goes before.
func (s *sheets) beside(k task) string {
	var cures, doubts, rests, worst []string
	var after []int
	for _, st := range k.steps {
		cures = append(cures, st.Cures...)
		doubts = append(doubts, st.Doubts...)
		rests, worst = added(rests, st.Rests), added(worst, st.Worst)
		for _, n := range st.After {
			if !slices.Contains(after, n) && !slices.ContainsFunc(k.steps, func(o plan.Step) bool { return o.N == n }) {
				after = append(after, n)
			}
		}
	}
	parts := []string{strings.Join(cures, " ")}
	if pages := s.calcPage(cures); pages != "" {
		parts = append(parts, s.say("work.calc", "pages", quote(pages)))
	}
	if len(after) > 0 {
		parts = append(parts, s.say("plan.after", "steps", quote(numbers(after))))
	}
	if len(doubts) > 0 {
		parts = append(parts, s.say("plan.doubts", "ids", quote(strings.Join(doubts, ", "))))
	}
	return join("; ", append(parts, s.to.Rests(rests, worst)...)...)
}

// added is a list with those of another that it lacks.
func added(list, more []string) []string {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}

// questions are what somebody with authority must rule on, each with room for the answer.
func (s *sheets) questions(t check.Trade) {
	var texts []string
	ids := map[string][]string{} // of what asks the same
	for _, f := range s.r.For(t) {
		if f.Verdict != check.Confirm || f.Settle != "" || f.Subject == check.Records { // the record's stand on the punch list
			continue
		}
		if b := s.r.Plan.Built.Of(f.Check); b != nil && b.Verdict == check.OK {
			continue // the plan settles it
		}
		text := upperFirst(s.phrase(f.Finding.Action))
		if ids[text] == nil {
			texts = append(texts, text)
		}
		ids[text] = append(ids[text], f.ID)
	}
	table := page.Table{Lines: true, Columns: []page.Column{{Head: s.w.Columns.Question}, {Head: s.w.Columns.Answer, Width: 50}}}
	for _, text := range texts {
		of := strings.Join(ids[text], " ")
		table.Rows = append(table.Rows, page.Row{MinHeight: 8, Cells: []page.Cell{
			{Text: s.say("question.line", "text", quote(text), "id", quote(of)), Size: rowSize, Tick: true, Field: of}, {},
		}})
	}
	if len(table.Rows) > 0 {
		s.Heading(2, s.w.Headings.Questions)
		s.Table(table)
	}
}

// readings are what a trade reads and writes in: first what must be known
// before it builds, then the values as built.
func (s *sheets) readings(t check.Trade) {
	s.unread(t)
	for _, group := range s.w.Trades[string(t)].Readings {
		if !s.holds(group.Only) {
			continue
		}
		var rows []templates.Reading
		for _, r := range group.Rows {
			if s.holds(r.Only) {
				rows = append(rows, r)
			}
		}
		if len(rows) == 0 {
			continue
		}
		if group.Title != "" {
			s.Heading(2, group.Title)
		}
		s.blanks(group.Heads, rows)
	}
}

// blanks prints readings to write in, in two halves side by side where each
// has one blank.
func (s *sheets) blanks(heads []string, rows []templates.Reading) {
	const line = 6.6
	table := page.Table{Lines: true}
	cell := func(r templates.Reading) page.Cell {
		text := s.figures(r.Text)
		if r.Unit != "" {
			text = s.say("reading.unit", "what", quote(text), "unit", quote(s.unit(r.Unit)))
		}
		return page.Cell{Text: text, Size: rowSize}
	}
	if len(heads) == 1 {
		for range 2 {
			table.Columns = append(table.Columns, page.Column{Head: s.w.Columns.Reading}, page.Column{Head: heads[0], Width: 24})
		}
		half := (len(rows) + 1) / 2
		for i := range half {
			row := page.Row{MinHeight: line, Cells: []page.Cell{cell(rows[i]), {}}}
			if i+half < len(rows) {
				row.Cells = append(row.Cells, cell(rows[i+half]))
			}
			table.Rows = append(table.Rows, row)
		}
	} else if len(rows) > 4 { // in two halves
		for range 2 {
			table.Columns = append(table.Columns, page.Column{Head: s.w.Columns.Reading})
			for _, h := range heads {
				table.Columns = append(table.Columns, page.Column{Head: h, Width: 26})
			}
		}
		half := (len(rows) + 1) / 2
		for i := range half {
			row := page.Row{MinHeight: line, Cells: []page.Cell{cell(rows[i])}}
			if i+half < len(rows) {
				row.Cells = slices.Concat(row.Cells, make([]page.Cell, len(heads)), []page.Cell{cell(rows[i+half])})
			}
			table.Rows = append(table.Rows, row)
		}
	} else {
		table.Columns = append(table.Columns, page.Column{Head: s.w.Columns.Reading})
		for _, h := range heads {
			table.Columns = append(table.Columns, page.Column{Head: h, Width: 36})
		}
		for _, r := range rows {
			table.Rows = append(table.Rows, page.Row{MinHeight: line, Cells: []page.Cell{cell(r)}})
		}
	}
	s.Table(table)
}

// An ask is an answer that isn't known, or not well enough.
type ask struct {
	path    string
	missing bool
	ids     []string
}

// asks are what a trade reads first, in walking order.
func (s *sheets) asks(t check.Trade) []ask {
	var asks []ask
	put := func(path, id string, missing bool) {
		i := slices.IndexFunc(asks, func(a ask) bool { return a.path == path })
		if i < 0 {
			i = len(asks)
			asks = append(asks, ask{path: path})
		}
		asks[i].missing = asks[i].missing || missing
		asks[i].ids = append(asks[i].ids, id)
	}
	for _, f := range s.r.For(t) {
		switch {
		case f.Verdict == check.Missing:
			for _, p := range survey.Paths(f.At) {
				put(p, f.ID, true)
			}
		case f.Verdict == check.Confirm && f.Settle != "":
			put(f.Settle, f.ID, false)
		}
	}
	slices.SortStableFunc(asks, func(a, b ask) int { return survey.Order(a.path) - survey.Order(b.path) })
	return asks
}

// unread asks for what isn't known, or not well enough.
func (s *sheets) unread(t check.Trade) {
	asks := s.asks(t)
	if len(asks) == 0 {
		return
	}
	c := s.w.Columns
	table := page.Table{Lines: true, Columns: []page.Column{{Head: c.Ask, Flex: 1.2}, {Head: c.How}, {Head: c.Answer, Width: 42}}}
	for _, a := range asks {
		answer := page.Cell{Size: 8}
		if !a.missing {
			answer.Text = s.say("measure.now", "value", check.Read(s.r.Survey, a.path))
		}
		table.Rows = append(table.Rows, page.Row{MinHeight: 7, Cells: []page.Cell{
			{Text: s.say("measure.line", "question", quote(upperFirst(s.to.Say(check.Question(a.path)))), "ids", quote(strings.Join(a.ids, " "))), Tick: true, Size: rowSize, Field: a.path},
			{Text: s.how(a.path), Size: 8}, answer,
		}})
	}
	s.Heading(2, s.w.Headings.Unread)
	s.Table(table)
}

// how says how an answer is measured and what it may be.
func (s *sheets) how(path string) string {
	f := survey.FieldAt(path)
	var how []string
	if f.How != "" {
		how = append(how, upperFirst(s.to.Region().Text(f.How))+".")
	}
	if tool, ok := survey.Instruments[f.Tool]; ok {
		how = append(how, s.say("measure.with", "tool", quote(tool.Name)))
	}
	if len(f.Choices) > 0 {
		list := make([]string, len(f.Choices))
		for i, c := range f.Choices {
			list[i] = s.to.Word(c)
		}
		how = append(how, s.say("measure.one-of", "list", quote(strings.Join(list, "; "))))
	}
	return strings.Join(how, " ")
}

// unit is a unit of a reading: "psi|kPa" is the one that is read here.
func (s *sheets) unit(text string) string {
	us, si, two := strings.Cut(text, "|")
	if two && s.r.Units == quantity.SI {
		return si
	}
	return us
}

// figures prints quantities that stand in braces in the reader's units:
// "{140 °F}" is "60 °C" on metric sheets.
func (s *sheets) figures(text string) string { return tied(s.to.Text(text)) }

// order is what the supplier orders: machine and option from the plan, and
// what comes with them.
func (s *sheets) order() {
	s.Heading(2, s.w.Headings.Bring)
	p := s.supply()
	name := "order.option"
	if p.Plug == "" {
		name = "order.option-wired"
	}
	cells := []page.Cell{{Text: s.say("order.machine", "machine", quote(s.r.Plan.Built.Machine.Name), "option", quote(p.Name)), Tick: true, Bold: true, Size: rowSize,
		Note: s.say(name, "volts", check.Fact{Value: p.VoltageMin, Bound: check.Between, High: p.VoltageMax}, "phases", p.Phases, "hertz", p.Frequency, "plug", quote(p.Plug))}}
	for _, e := range s.r.Plan.Built.Machine.Extras {
		cells = append(cells, page.Cell{Text: upperFirst(e.Name), Tick: true, Size: rowSize, Field: "extras"})
	}
	table := page.Table{Tight: true, Columns: []page.Column{{}, {}}}
	for i := 0; i < len(cells); i += 2 {
		table.Rows = append(table.Rows, page.Row{Cells: cells[i:min(i+2, len(cells))]})
	}
	s.Table(table)
}

// wayIn is the way from the curb to the bar: what the machine needs of each
// place, what was found, and whether it passes.
func (s *sheets) wayIn() (ls []line, rest aside) {
	ps := s.r.Survey.Space.Path
	ls, rest = s.lines(check.Supplier, check.Way)
	if len(ps) == 0 {
		return ls, rest
	}
	s.Heading(2, s.w.Headings.Way)
	c := s.w.Columns
	t := page.Table{Tight: true, Columns: []page.Column{{Width: 7, Align: page.Right}, {Head: c.Place, Width: 42}, {Head: c.Needed, Flex: 1.1}, {Head: c.Found}, {Head: c.State, Width: 24}}}
	for i, p := range ps {
		found := join("; ", s.size("way.wide", p.Width), s.size("way.high", p.Height), s.size("way.after", p.After), s.size("way.deep", p.Depth), s.size("way.carries", p.Capacity))
		if p.Steps.Known() {
			found = join("; ", found, s.say("way.steps", "n", p.Steps.N()))
		}
		row := page.Row{Cells: []page.Cell{
			page.T(plain(i + 1)), {Text: upperFirst(join(": ", s.to.Value(check.Word(p.Kind)), p.Name)), Size: rowSize, Field: "space.path"}, {}, {Text: found, Size: rowSize},
		}}
		if k := slices.IndexFunc(ls, func(l line) bool { return len(s.about(l, p.Kind)) > 0 }); k >= 0 {
			cells := s.cells(ls[k])
			row.Bar = ls[k].changed()
			row.Cells[2] = cells[0]
			// The tightest of its kind was judged; another is judged by itself.
			if slices.Contains(s.about(ls[k], p.Kind), i) {
				row.Cells = append(row.Cells, cells[2])
			} else if mark, ok := s.r.Plan.PlaceMark(ls[k].ids, i); ok {
				own := line{mark: mark}
				if mark == plan.Change {
					own.steps = ls[k].steps
				}
				row.Cells = append(row.Cells, s.cells(own)[2])
			}
		}
		t.Rows = append(t.Rows, row)
	}
	s.Table(t)
	ls = slices.DeleteFunc(ls, func(l line) bool {
		return slices.ContainsFunc(ps, func(p survey.Passage) bool { return len(s.about(l, p.Kind)) > 0 })
	})
	return ls, rest
}

// about gives the places of one kind on the way in that a line was judged by:
// the tightest, whose need is that of all of its kind.
func (s *sheets) about(l line, kind string) (places []int) {
	for _, id := range l.ids {
		f := s.r.Report.Finding(id)
		for i, p := range s.r.Survey.Space.Path {
			if f != nil && p.Kind == kind && slices.ContainsFunc(f.At, func(a survey.Ref) bool { return survey.Ask.Space.Path.Holds(i, a) }) {
				places = append(places, i)
			}
		}
	}
	return places
}

func (s *sheets) size(name string, q amount) string {
	if !q.Known() {
		return ""
	}
	return s.say(name, "value", q)
}
