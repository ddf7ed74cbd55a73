package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

// subjects are what a trade's rows are about, in the order of its sheet.
var subjects = map[check.Trade][]check.Subject{
	check.Electrician: {check.Supply, check.Circuit, check.Receptacle, check.Disconnect, check.GroundFault, check.Panel},
	check.Plumber:     {check.Cold, check.Hot, check.BothLines, check.HeaterSide, check.Quality, check.DrainLine, check.Receptor},
	check.Builder:     {check.Opening, check.Floor, check.Room},
	check.Owner:       {check.Panel, check.Quality, check.Demand, check.Sanitizer},
	check.Supplier:    {check.Supply, check.Machine, check.Way, check.Sanitizer},
}

// marks name what a row asks of the trade, and how it is marked.
var marks = map[plan.Mark]struct {
	name string
	bold bool
}{
	plan.Keep: {"mark.keep", false}, plan.Change: {"mark.change", true}, plan.Add: {"mark.add", true},
	plan.Read: {"mark.read", true}, plan.Confirm: {"mark.confirm", true}, plan.Stands: {"mark.stands", true},
}

// numbers prints what a trade builds to: the planned value, else what is
// required, beside what was found. A check has a row when the wording tables
// hold a label for it.
func (s *sheets) numbers(t check.Trade) {
	c := s.w.Columns
	table := page.Table{Tight: true, Columns: []page.Column{
		{Head: c.Number, Width: 42}, {Head: c.Needed, Flex: 1.2}, {Head: c.Found, Flex: 1}, {Head: c.State, Width: 20},
	}}
	say := words.Reader{Units: s.r.Units, Gauge: true}
	for _, subject := range subjects[t] {
		head := false
		for _, r := range s.r.Plan.Rows(subject) {
			label, ok := words.Label(r.Check.ID)
			if !ok || r.Check.Trade != t {
				continue
			}
			if !head {
				table.Rows = append(table.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(say.Say(check.Say("subject." + string(subject))))}})
				head = true
			}
			m := marks[r.Mark]
			state := say.Say(check.Say(m.name))
			if r.Step > 0 {
				state += " " + strconv.Itoa(r.Step)
			}
			need := page.Cell{Text: upperFirst(say.Fact(r.Need)), Bold: true, Size: 9, Field: r.Check.ID}
			table.Rows = append(table.Rows, page.Row{Cells: []page.Cell{
				{Text: label, Size: 9}, need, {Text: say.Fact(r.Found), Size: 9, Field: r.Check.ID}, {Text: state, Bold: m.bold, Size: 9},
			}})
		}
	}
	if len(table.Rows) > 0 {
		s.Heading(1, s.w.Headings.Numbers)
		s.Table(table)
	}
}

// work is a trade's share of the plan, a step a row, to tick and initial.
func (s *sheets) work(t check.Trade) {
	say := words.Reader{Units: s.r.Units, Gauge: true}
	c := s.w.Columns
	table := page.Table{Lines: true, Columns: []page.Column{{Head: c.Step, Width: 12}, {Head: c.Do}, {Head: c.Initials, Width: 25}}}
	for _, st := range s.r.Plan.Steps {
		if st.Trade != t {
			continue
		}
		table.Rows = append(table.Rows, s.stepRow(say, st))
	}
	if len(table.Rows) > 0 {
		s.Heading(1, s.w.Headings.Points)
		s.Table(table)
	}
	s.open(t)
}

func (s *sheets) stepRow(say words.Reader, st plan.Step) page.Row {
	note := strings.Join(st.Cures, " ")
	if len(st.After) > 0 {
		after := make([]string, len(st.After))
		for i, n := range st.After {
			after[i] = strconv.Itoa(n)
		}
		note = join("; ", note, say.Say(check.Say("plan.after", "steps", check.Quote(strings.Join(after, ", ")))))
	}
	if len(st.Doubts) > 0 {
		note = join("; ", note, say.Say(check.Say("plan.doubts", "ids", check.Quote(strings.Join(st.Doubts, ", ")))))
	}
	return page.Row{MinHeight: 9, Cells: []page.Cell{
		{Text: strconv.Itoa(st.N), Tick: true, Bold: true, Size: 9.5},
		{Text: upperFirst(say.Step(st)), Size: 9.5, Note: note, Field: string(st.Job)}, {},
	}}
}

// open lists what of a trade is to be found out or confirmed, and what stands.
func (s *sheets) open(t check.Trade) {
	say := words.Reader{Units: s.r.Units, Gauge: true}
	table := page.Table{Lines: true, Columns: []page.Column{{Head: s.w.Columns.Point, Width: 31}, {Head: s.w.Columns.Do}, {Head: s.w.Columns.Initials, Width: 25}}}
	stands := map[string]check.Phrase{}
	for _, st := range s.r.Plan.Stands {
		stands[st.ID] = st.Why
	}
	for _, f := range s.r.For(t) {
		text := say.Say(f.Finding.Action)
		why, stand := stands[f.ID]
		switch {
		case stand:
			text = say.Say(why)
		case f.Verdict == check.Missing, f.Verdict == check.Confirm:
		default:
			continue
		}
		table.Rows = append(table.Rows, page.Row{Cells: []page.Cell{
			{Verdict: verdict(f.Verdict), Text: f.ID, Tick: true, Size: 9}, {Text: upperFirst(text), Size: 9, Note: upperFirst(f.Title), Field: f.ID}, {},
		}})
	}
	if len(table.Rows) > 0 {
		s.Heading(2, s.w.Headings.Measure)
		s.Table(table)
	}
}

// extras are what a trade's sheet holds beside its rows.
func (s *sheets) extras(t check.Trade) {
	switch t {
	case check.Electrician:
		s.receptacle()
	case check.Plumber:
		s.raised()
	case check.Owner:
		s.glasses()
	case check.Supplier:
		s.wayIn()
		s.bring()
	}
}

// receptacle draws the faces of the receptacle that is needed and, where it
// is another one, of the one that was found.
func (s *sheets) receptacle() {
	if s.r.Machine.Power.Connection == "hard-wired" || s.supply().Plug == "" {
		return
	}
	plug, found := s.supply().Plug, s.read("power.receptacle")
	need, ok := face(plug)
	if !ok {
		s.StyledParagraph(templates.Fill(s.w.Sentences.NoFace, "name", plug), page.Small)
		return
	}
	s.Heading(2, s.w.Headings.Receptacle)
	need.Name = "Needed: " + need.Name
	faces := []page.FaceSpec{need}
	if f, ok := face(found); ok && f.Name != strings.TrimPrefix(need.Name, "Needed: ") {
		f.Name = "Found: " + f.Name
		faces = append(faces, f)
	}
	s.Faces(36, faces...)
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

// raised reminds of a stand under the machine.
func (s *sheets) raised() {
	up := s.r.Survey.Machine.RaisedBy
	if up.Known() && up.In(quantity.Inch) > 0 {
		s.StyledParagraph(templates.Fill(s.w.Sentences.Raised, "height", up.Show(s.r.Units)), page.Bold)
	}
}

// wayIn lists the way from the kerb to the bar as it was measured.
func (s *sheets) wayIn() {
	ps := s.r.Survey.Space.Path
	if len(ps) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Way)
	u := s.r.Units
	t := page.Table{Columns: []page.Column{{Head: "", Width: 9, Align: page.Right}, {Head: "Place"}, {Head: "Clear width", Width: 38}, {Head: "Clear height", Width: 38}, {Head: "Other", Flex: 1.2}}}
	for i, p := range ps {
		rest := join("; ", with("{} wide after the turn", show(p.After, u)), with("{} deep", show(p.Depth, u)), with("steps: {}", p.Steps.String()), with("carries {}", show(p.Capacity, u)))
		field := fmt.Sprintf("space.path[%d]", i)
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			page.T(fmt.Sprint(i + 1)), {Text: join(": ", p.Kind, p.Name), Field: field},
			{Text: show(p.Width, u), Bold: true, Size: 9.5}, {Text: show(p.Height, u), Bold: true, Size: 9.5}, page.T(rest),
		}})
	}
	s.Table(t)
}

// show is a value in both systems, empty when it isn't known.
func show[D quantity.Dimension](q quantity.Of[D], u quantity.System) string {
	if !q.Known() {
		return ""
	}
	return q.Show(u)
}

// glasses lists the kinds of glass and their stock.
func (s *sheets) glasses() {
	gs := s.r.Survey.Demand.Glasses
	if len(gs) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Glasses)
	u := s.r.Units
	t := page.Table{Columns: []page.Column{{Head: "Kind", Flex: 1.4}, {Head: "Height"}, {Head: "Diameter"}, {Head: "There are", Align: page.Right}}}
	for i, g := range gs {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			{Text: g.Name, Field: fmt.Sprintf("demand.glasses[%d]", i)}, page.T(show(g.Height, u)), page.T(show(g.Diameter, u)), page.B(g.Stock.String()),
		}})
	}
	s.Table(t)
}

// bring is the list of what is ordered and brought with the machine.
func (s *sheets) bring() {
	if len(s.r.Machine.Extras) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Bring)
	var items []page.Check
	for _, e := range s.r.Machine.Extras {
		items = append(items, page.Check{Text: upperFirst(e.Name), Note: e.Why})
	}
	s.Checklist(items...)
}

func (s *sheets) supply() *specs.Supply {
	if s.r.Supply != nil {
		return s.r.Supply
	}
	return &specs.Supply{}
}

// read is an answer in the units that come first; empty when it isn't known.
func (s *sheets) read(path string) string {
	if !s.r.Survey.Known(path) {
		return ""
	}
	if leaf, ok := doc.At(s.r.Survey, path); ok {
		if q, ok := leaf.Addr().Interface().(amount); ok {
			return in(q, s.r.Units)
		}
	}
	return s.r.Survey.ReadingText(path, s.r.Units)
}
