// Package drawing draws a site to scale: the front elevation and the plan that
// a trade sets out from, the way in, and the supplies as chains. What is
// planned is bold, what was found thin, what is hidden dashed. It shows the
// answers, the requirement sheet and what the checks computed; it computes
// nothing but places on paper. Its words are in templates/checks/drawing.txt.
// Start with Elevation.
package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// ask names the answers of the questionnaire.
var ask = survey.Ask

// A Drawing is a canvas with the words that belong under it.
type Drawing struct {
	Title  string
	Canvas *page.Canvas // nil when it could not be drawn
	Legend []string     // what the conflict marks stand for
	Marked []string     // ids of the findings that are marked on it
	Notes  []string     // datum and lines

	letters, absent []string // what its symbols stand for, what isn't known and so isn't drawn
	reader          words.Reader
}

// Under are the words that belong under some drawings, each said once.
func Under(list ...Drawing) string {
	var legend, notes, letters, absent []string
	for _, d := range list {
		legend = once(legend, d.Legend...)
		for _, n := range d.Notes {
			for s := range strings.SplitAfterSeq(n, ". ") {
				notes = once(notes, strings.TrimSpace(s))
			}
		}
		letters, absent = once(letters, d.letters...), once(absent, d.absent...)
	}
	say := func(name, blank string, texts []string) {
		if len(texts) > 0 {
			notes = append(notes, list[0].reader.Say(check.Say(name, blank, check.Quote(strings.Join(texts, ", ")))))
		}
	}
	say("drawing.letters", "letters", letters)
	say("drawing.absent", "what", absent)
	return strings.Join(append(legend, notes...), " ")
}

// once puts texts that aren't there yet behind a list.
func once(list []string, texts ...string) []string {
	for _, t := range texts {
		if !slices.Contains(list, t) {
			list = append(list, t)
		}
	}
	return list
}

// A drawer draws one report.
type drawer struct {
	trade        check.Trade // whose places are shown; empty: everybody's
	r            *words.Report
	reader       words.Reader
	found, built *survey.Survey // as it was found, and with the plan applied
	m            *specs.Machine
	c            *page.Canvas
	axis         axis

	jamb   float64 // the machine's left edge from the datum
	onEdge bool    // the datum is the machine's own edge: the opening isn't known
	up     float64 // height of the stand, as planned

	marks   []mark
	dims    []float64 // places that are dimensioned
	absent  []string
	letters []string
	notes   []string
}

// A mark is a place where something found conflicts with what is required. Its
// number is that of the step that puts it right.
type mark struct {
	ids   []string
	stand []string // those that no step puts right
}

func newDrawer(r *words.Report, trade check.Trade) *drawer {
	d := &drawer{trade: trade, r: r, reader: words.Reader{Units: r.Units, Gauge: true}, found: r.Survey, built: r.Survey, m: r.Machine}
	if r.Plan != nil {
		d.built, d.m = r.Plan.Built.Survey, r.Plan.Built.Machine
	}
	if raised := d.built.Machine.RaisedBy; drawable(raised) {
		d.up = mm(raised)
	}
	d.onEdge = !drawable(d.built.Space.Width) || !drawable(d.m.Space.Width)
	if !d.onEdge {
		d.jamb = (mm(d.built.Space.Width) - mm(d.m.Space.Width)) / 2
	}
	return d
}

// shows says whether a trade's places stand on this drawing.
func (d *drawer) shows(t check.Trade) bool { return d.trade == "" || d.trade == t }

// place is the distance from the datum of something measured from the
// machine's left edge.
func (d *drawer) place(fromLeft quantity.Length) float64 { return mm(fromLeft) + d.jamb }

// say words a phrase, with figures as a tape reads.
func (d *drawer) say(name string, pairs ...any) string {
	return d.reader.Say(check.Say(name, pairs...))
}

func mm(l quantity.Length) float64 { return l.In(quantity.Millimetre) }

// length is a distance on the drawing as a quantity, without anybody's words.
func length(mm float64) quantity.Length { return quantity.New(mm, quantity.Millimetre) }

// tape is a length as a tape reads.
func (d *drawer) tape(l quantity.Length) string {
	return length(mm(l)).Gauge(d.r.Units, quantity.Nearest)
}

// nominal is a pipe's nominal size as the trade of that system names it.
func (d *drawer) nominal(p quantity.PipeSize) check.Quote {
	if d.r.Units == quantity.SI {
		return check.Quote(d.say("drawing.dn", "dn", p.DN()))
	}
	return check.Quote(p.String())
}

// rounded is a length as a tape reads, to one side.
func (d *drawer) rounded(l quantity.Length, w quantity.Way) check.Quote {
	return check.Quote(length(mm(l)).Gauge(d.r.Units, w))
}

// drawable says whether a size is one that a drawing can show.
func drawable(l quantity.Length) bool { return l.Known() && math.Abs(mm(l)) < 20_000 }

// lack notes an answer that the drawing would need.
func (d *drawer) lack(l quantity.Length, what string) bool {
	if drawable(l) {
		return false
	}
	d.lacks(what)
	return true
}

func (d *drawer) lacks(what string) {
	d.absent = once(d.absent, d.say("drawing."+what))
}

// line draws a run of lines from place to place, dashed where a region hides
// it, interrupted at the break lines.
func (d *drawer) line(pen page.Pen, hidden []region, pts ...point) {
	dashed := pen
	dashed.Dash = true
	for i := 1; i < len(pts); i++ {
		for _, s := range d.axis.parts(pts[i-1], pts[i]) {
			for _, part := range split(s[0], s[1], hidden) {
				p := pen
				if part.hidden {
					p = dashed
				}
				d.c.Line(d.axis.at(part.p.x), part.p.y, d.axis.at(part.q.x), part.q.y, p)
			}
		}
	}
}

// distance dimensions a place from the datum; one to the left of it says so.
func (d *drawer) distance(x, y float64) {
	if math.Abs(x) < 0.5 {
		return
	}
	text := d.tape(length(math.Abs(x)))
	if slices.ContainsFunc(d.dims, func(o float64) bool { return math.Abs(o-x) < 2 }) {
		return // one line says it for what stands above one another
	}
	d.dims = append(d.dims, x)
	if x < 0 {
		text = d.say("drawing.left-of", "distance", check.Quote(text), "datum", check.Say(d.datum()+"-of"))
	}
	d.c.DimH(d.axis.at(min(x, 0)), d.axis.at(max(x, 0)), y, text, page.Bottom)
}

// datum names what distances are measured from.
func (d *drawer) datum() string {
	if d.onEdge {
		return "drawing.edge"
	}
	return "drawing.jamb"
}

// conflict marks a place when a finding about one of the answers is a FIX that
// isn't marked yet.
func (d *drawer) conflict(x, y float64, about func(path string) bool) {
	var ids []string
	for _, f := range d.r.Findings {
		if f.Verdict != check.Fix || !d.shows(f.Trade) || d.marked(f.ID) {
			continue
		}
		if slices.ContainsFunc(survey.Paths(f.At), about) {
			ids = append(ids, f.ID)
		}
	}
	if len(ids) == 0 {
		return
	}
	m := mark{ids: ids}
	var steps []string
	for _, id := range ids {
		n := d.step(id)
		if n == 0 {
			m.stand = append(m.stand, id)
		} else if text := strconv.Itoa(n); !slices.Contains(steps, text) {
			steps = append(steps, text)
		}
	}
	if len(m.stand) > 0 {
		steps = append(steps, stands)
	}
	d.marks = append(d.marks, m)
	d.c.Conflict(d.axis.at(x), y, strings.Join(steps, " "))
}

// stands marks what no step puts right.
const stands = "!"

// step is the number of the plan's step that puts a finding right, 0 when none does.
func (d *drawer) step(id string) int {
	if d.r.Plan != nil {
		for _, st := range d.r.Plan.Steps {
			if slices.Contains(st.Cures, id) {
				return st.N
			}
		}
	}
	return 0
}

func (d *drawer) marked(id string) bool {
	return slices.ContainsFunc(d.marks, func(m mark) bool { return slices.Contains(m.ids, id) })
}

// of says whether a path is one of some answers.
func of(answers ...survey.Ref) func(string) bool {
	return func(path string) bool {
		return slices.ContainsFunc(answers, func(a survey.Ref) bool { return a.Path() == path })
	}
}

// under says whether a path belongs to one of some parts of the questionnaire.
func under(parts ...string) func(string) bool {
	return func(path string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return strings.HasPrefix(path, p+".") })
	}
}

func either(a, b func(string) bool) func(string) bool {
	return func(path string) bool { return a(path) || b(path) }
}

// fall is what the check of the drain's fall, or of the pump's lift, computed.
func fallOf(of func(*check.Check) *check.Finding) (rules.Fall, bool) {
	for _, k := range []*check.Check{rules.DrainFall, rules.DrainPumpLift} {
		if f := of(k); f != nil {
			if fall, ok := f.Result.(rules.Fall); ok {
				return fall, true
			}
		}
	}
	return rules.Fall{}, false
}

// falls are the drain's fall as found and as planned.
func (d *drawer) falls() (found, built rules.Fall, haveFound, haveBuilt bool) {
	found, haveFound = fallOf(func(k *check.Check) *check.Finding { return d.r.Report.Finding(k.ID) })
	if d.r.Plan == nil {
		return found, found, haveFound, haveFound
	}
	built, haveBuilt = fallOf(d.r.Plan.Built.Of)
	return found, built, haveFound, haveBuilt
}

// done gives the drawing its words.
func (d *drawer) done(title string) Drawing {
	out := Drawing{Title: d.say(title), Canvas: d.c, Notes: d.notes, letters: d.letters, absent: d.absent, reader: d.reader}
	var stand check.List
	numbered := false
	for _, m := range d.marks {
		out.Marked = append(out.Marked, m.ids...)
		numbered = numbered || len(m.stand) < len(m.ids)
		for _, id := range m.stand {
			stand = append(stand, check.Quote(id))
		}
	}
	if numbered {
		out.Legend = append(out.Legend, d.say("drawing.marks"))
	}
	if len(stand) > 0 {
		out.Legend = append(out.Legend, d.say("drawing.stands", "points", stand))
	}
	return out
}

// scaleBar adds the bar in the reader's units.
func (d *drawer) scaleBar() {
	unit := "in"
	if d.r.Units == quantity.SI {
		unit = "mm"
	}
	d.c.ScaleBar(unit)
}

// sizeless is the drawing of a machine whose sheet states no size.
func (d *drawer) sizeless(title string) Drawing {
	return Drawing{Title: d.say(title), Notes: []string{d.say("drawing.sizeless")}, reader: d.reader}
}
