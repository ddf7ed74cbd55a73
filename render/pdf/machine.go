package pdf

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"firstfill/render/drawing"
	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// machineDoc lays out a requirement sheet: supply options and inlets as
// tables, the other values in columns.
func machineDoc(m *specs.Machine, o Options) (*page.Doc, error) {
	w, paper, err := o.settle()
	if err != nil {
		return nil, err
	}
	w = templates.In(templates.For(o.Units), w)
	return page.New(page.Options{
		Paper: paper, Title: w.Headings.Machine + ": " + m.Name, Author: author(o), Date: o.Date.Time(),
		Header: page.Line{Left: m.Name + ", " + m.Maker, Right: w.Headings.Machine},
		Footer: page.Line{Left: join(" · ", m.Source, o.Date.String()), Centre: author(o)},
		Number: words.Reader{Units: o.Units}.PageNumber,
	}, func(d *page.Doc) {
		s := &machineSheet{Doc: d, m: m, o: o, w: w}
		s.lay()
	})
}

type machineSheet struct {
	*page.Doc
	m     *specs.Machine
	o     Options
	w     *templates.Wording
	cited []string
}

func (s *machineSheet) lay() {
	m := s.m
	s.cited = nil
	if s.o.Letterhead != nil {
		letterhead(s.Doc, s.o.Letterhead)
	}
	s.Title(m.Name, join(", ", m.Maker, s.say("machine.kind", "kind", quote(m.Kind)), m.Source), strings.ToUpper(m.Kind))
	if m.Summary != "" {
		s.Paragraph(m.Summary)
	}
	s.supplies()
	s.inlets()
	s.others()
	if len(m.Extras) > 0 {
		s.Heading(3, s.w.Headings.Bring)
		st := page.Style{Size: 7.3, Leading: 1.3}
		for _, e := range m.Extras {
			tight(s.Doc, "extras", st, []float64{80, s.Width() - 80}, []bool{true, false}, upperFirst(e.Name), e.Why)
		}
		s.Space(2)
	}
	text := s.w.Sentences.MachineHow
	if len(s.cited) > 0 {
		text += " " + (&citations{s.cited}).run(s.w.Headings.Sources)
	}
	s.StyledParagraph(text, page.Small)
}

// note is the number of a value's own source, "[2]" after a blank; empty when it is the sheet's.
func (s *machineSheet) note(path string) string {
	src := s.m.SourceOf(path)
	if src == s.m.Source {
		return ""
	}
	i := slices.Index(s.cited, src)
	if i < 0 {
		i = len(s.cited)
		s.cited = append(s.cited, src)
	}
	return fmt.Sprintf("\u00a0[%d]", i+1)
}

// value is a value in the units that come first, with its source's number.
func (s *machineSheet) value(q amount, path string) string {
	if !q.Known() {
		return "–"
	}
	return strings.ReplaceAll(in(q, s.o.Units), " ", "\u00a0") + s.note(path)
}

// say fills a phrase of the wording tables in.
func (s *machineSheet) say(name string, pairs ...any) string {
	return words.Reader{Units: s.o.Units}.Say(check.Say(name, pairs...))
}

// heater is a supply option's heater, "1.5 kW at 240 V".
func (s *machineSheet) heater(p specs.Supply) string {
	power, volts := in(p.HeaterPower, s.o.Units), in(p.HeaterVolts, s.o.Units)
	if power == "" || volts == "" {
		return power + volts
	}
	return s.say("machine.at", "power", quote(power), "volts", quote(volts))
}

func (s *machineSheet) supplies() {
	s.Heading(3, s.say("machine.supplies"))
	t := page.Table{Size: 7.5, Columns: []page.Column{
		{Head: s.say("machine.option"), Flex: 1}, {Head: s.say("machine.voltage"), Flex: 1.8}, {Head: s.say("machine.phases"), Width: 13}, {Head: s.say("machine.neutral"), Width: 14}, {Head: s.say("machine.plug"), Flex: 1.1},
		{Head: s.say("machine.heater"), Flex: 1}, {Head: s.say("machine.rated"), Width: 19}, {Head: s.say("machine.min-circuit"), Width: 19}, {Head: s.say("machine.max-breaker"), Width: 19},
	}}
	for i, p := range s.m.Power.Supplies {
		at := fmt.Sprintf("power.supplies[%d].", i)
		plug := p.Plug
		if plug == "" {
			plug = s.m.Power.Connection
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			page.B(p.Name), page.T(join(", ", s.span(in(p.VoltageMin, s.o.Units), in(p.VoltageMax, s.o.Units)), in(p.Frequency, s.o.Units))),
			page.T(fmt.Sprint(p.Phases)), page.T(yesNo(p.Neutral, s.say("machine.yes"), s.say("machine.no"))), page.T(plug),
			page.T(s.heater(p)),
			page.B(s.value(p.RatedCurrent, at+"rated_current")), page.B(s.value(p.MinCircuit, at+"min_circuit")), page.B(s.value(p.MaxBreaker, at+"max_breaker")),
		}})
	}
	s.Table(t)
}

func (s *machineSheet) inlets() {
	w := s.m.Water
	if !w.Cold.Used && !w.Hot.Used {
		return
	}
	s.Heading(3, s.say("machine.waters"))
	t := page.Table{Size: 7.5, Columns: []page.Column{
		{Head: s.say("machine.inlet"), Width: 12}, {Head: s.say("machine.pipe"), Flex: 1.7}, {Head: s.say("machine.flowing"), Flex: 1.2}, {Head: s.say("machine.static")}, {Head: s.say("machine.flow")}, {Head: s.say("machine.temperature"), Flex: 1.1}, {Head: s.say("machine.height")}, {Head: s.say("machine.from-left")},
	}}
	for _, n := range []struct {
		name, at string
		in       specs.Inlet
	}{{s.say("machine.cold"), "water.cold.", w.Cold}, {s.say("machine.hot"), "water.hot.", w.Hot}} {
		if !n.in.Used {
			continue
		}
		pair := func(low, high amount, a, b string) string {
			return s.span(in(low, s.o.Units), in(high, s.o.Units)) + s.note(n.at+a) + s.note(n.at+b)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			page.B(n.name), page.T(join("; ", n.in.Connection, n.in.PipeSize.Show(s.o.Units))),
			page.T(pair(n.in.FlowingMin, n.in.FlowingMax, "flowing_pressure_min", "flowing_pressure_max")), page.T(s.value(n.in.StaticMax, n.at+"static_pressure_max")),
			page.T(s.value(n.in.Flow, n.at+"flow")), page.T(pair(n.in.TempMin, n.in.TempMax, "temperature_min", "temperature_max")),
			page.T(s.value(n.in.Height, n.at+"height")), page.T(s.value(n.in.FromLeft, n.at+"from_left")),
		}})
	}
	s.Table(t)
}

// A line of a requirement sheet; a section's name has no value.
type valueLine struct{ label, value string }

// drawn are the values that stand on the drawing.
var drawn = []string{
	"power.entry_height", "power.entry_from_left", "drain.outlet_height", "drain.outlet_from_left", "space.width", "space.height",
}

// others prints the values that have no table of their own.
func (s *machineSheet) others() {
	var lines []valueLine
	for _, g := range s.m.Values(s.o.Units) {
		head := true
		for _, v := range g.Values {
			switch {
			case strings.HasPrefix(v.Path, "power.supplies["), strings.HasPrefix(v.Path, "extras["), slices.Contains(drawn, v.Path):
				continue
			case strings.HasPrefix(v.Path, "water.cold.") || strings.HasPrefix(v.Path, "water.hot."):
				if !strings.HasSuffix(v.Path, ".hose_length") && !strings.HasSuffix(v.Path, ".check_valve") {
					continue
				}
			}
			if head {
				lines = append(lines, valueLine{label: upperFirst(g.Name)})
				head = false
			}
			text, _, _ := strings.Cut(v.Text, " (") // the units that come first
			if text != "" && text[0] >= '0' && text[0] <= '9' {
				text = strings.ReplaceAll(text, " ", "\u00a0")
			}
			lines = append(lines, valueLine{label(v.Label), text + s.note(v.Path)})
		}
	}
	s.columns(lines)
}

// viewHeight is the height of the front view, in millimetres.
const viewHeight = 58.0

// columns prints lines of label and value in four columns that end at one
// height, the front view above the last two. A section's name, which has no
// value, never ends a column.
func (s *machineSheet) columns(lines []valueLine) {
	const cols, gap = 4, 3.5
	w := (s.Width() - gap*(cols-1)) / cols
	lw := w * 0.57 // of a label
	vw := w - lw
	plain := page.Style{Size: 7.3, Leading: 1.3}
	bold := page.Style{Size: 7.3, Leading: 1.3, Bold: true}
	lh := lineHeight(plain)
	height := func(l valueLine) float64 {
		if l.value == "" {
			return lh * float64(len(page.Wrap(l.label, w, bold)))
		}
		return lh * float64(max(len(page.Wrap(l.label, lw-1, plain)), len(page.Wrap(l.value, vw, bold))))
	}
	// pack puts lines into columns no higher than h and says how many it took.
	room := func(h float64, col int) float64 {
		if col >= cols/2 {
			return h - viewHeight
		}
		return h
	}
	pack := func(lines []valueLine, h float64) (starts []int, taken int) {
		y := math.Inf(1)
		for i, l := range lines {
			need := height(l)
			if l.value == "" && i+1 < len(lines) {
				need += height(lines[i+1])
			}
			for y+need > room(h, len(starts)-1)+0.001 {
				if len(starts) == cols {
					return starts, i
				}
				starts, y = append(starts, i), 0
			}
			y += height(l)
		}
		return starts, len(lines)
	}
	for len(lines) > 0 {
		h, all := viewHeight+lh, false
		for ; !all && h < s.BodyHeight(); h += lh {
			_, n := pack(lines, h)
			all = n == len(lines)
		}
		s.Need(h)
		starts, n := pack(lines, h)
		view := drawing.Machine(s.m, s.o.Units)
		if view.Canvas != nil {
			s.DrawIn(view.Canvas, page.Rect{X: s.Left() + s.Width()/2 + gap, Y: s.Y(), W: s.Width()/2 - gap, H: viewHeight - 4})
		}
		for c, from := range starts {
			to := n
			if c+1 < len(starts) {
				to = starts[c+1]
			}
			x, y := s.Left()+float64(c)*(w+gap), s.Y()+h-room(h, c)
			for _, l := range lines[from:to] {
				if l.value == "" {
					s.TextBox(page.Rect{X: x, Y: y, W: w, H: height(l)}, l.label, bold)
				} else {
					s.TextBox(page.Rect{X: x, Y: y, W: lw - 1, H: height(l)}, l.label, plain)
					s.TextBox(page.Rect{X: x + lw, Y: y, W: vw, H: height(l)}, l.value, bold)
				}
				y += height(l)
			}
		}
		s.Advance(h)
		lines = lines[max(n, 1):]
	}
	s.Space(2)
}

// label words a value's name.
func label(words string) string {
	for _, r := range [][2]string{{" min", " min."}, {" max", " max."}} {
		if t, ok := strings.CutSuffix(words, r[0]); ok {
			words = t + r[1]
		}
	}
	return upperFirst(strings.ReplaceAll(words, "tds", "TDS"))
}

// An amount is a value that prints in either system.
type amount interface {
	Known() bool
	US() string
	SI() string
}

func in(q amount, u quantity.System) string {
	switch {
	case !q.Known():
		return ""
	case u == quantity.SI:
		return q.SI()
	}
	return q.US()
}

// span joins two values of a range: "15 to 75 psi".
func (s *machineSheet) span(low, high string) string {
	switch {
	case low == "" && high == "":
		return ""
	case high == "":
		return s.say("machine.least", "value", quote(low))
	case low == "":
		return s.say("machine.most", "value", quote(high))
	}
	a, b := strings.Fields(low), strings.Fields(high)
	if len(a) == 2 && len(b) == 2 && a[1] == b[1] {
		low = a[0]
	}
	if low == high {
		return low
	}
	return s.say("machine.range", "low", quote(low), "high", quote(high))
}

func yesNo(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}
