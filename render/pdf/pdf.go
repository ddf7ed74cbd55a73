// Package pdf lays out the printed sheets of a packet. It shows what the
// checks found and computes nothing. Start with [Packet]; the drawing kit is
// render/page, the wording is in templates/wording.yaml.
package pdf

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

// Options of printed sheets.
type Options struct {
	Paper      string        // "letter" or "a4"; letter when empty
	Letterhead *Letterhead   // nil: the one of templates/wording.yaml, if it has a name
	Photos     []Photo       // in this order, on the sheets of those whom they concern
	Revision   string        // letter of the revision; empty: the survey's
	Duplex     bool          // each part starts on a front side, behind a blank back where need be
	Before     *signoff.Book // the revision before this one, as signed; nil when there is none
	Now        *signoff.Book // this revision's book, with what was carried over
	Unread     doc.Problems  // answers that can't be read, which count as not given

	// Of a MachineSheet only, which has no report to take them from.
	Units quantity.System
	Date  survey.Date
}

// Letterhead is the company that hands the packet out.
type Letterhead struct {
	Name, Address string
	Lines         []string // telephone, licence, anything
	Logo          []byte   // JPEG or PNG
}

// Photo is a picture of the survey; Data is a JPEG or PNG file.
type Photo struct {
	Name, Caption string
	Data          []byte
	Concerns      check.Trade // the trade on whose sheet it is printed; empty: the summary
}

// Packet lays out the whole packet of a planned site: summary, punch list, a
// sheet for each trade, each with its photos. The warnings name what could not
// be shown as written.
func Packet(r *words.Report, o Options) (pdf []byte, warnings []string, err error) {
	d, err := packetDoc(r, o)
	return finished(d, err)
}

// TradeSheet lays out one trade's sheet alone.
func TradeSheet(r *words.Report, trade check.Trade, o Options) (pdf []byte, warnings []string, err error) {
	d, err := tradeDoc(r, trade, o)
	return finished(d, err)
}

// MachineSheet lays out a machine's requirement sheet.
func MachineSheet(m *specs.Machine, o Options) (pdf []byte, warnings []string, err error) {
	d, err := machineDoc(m, o)
	return finished(d, err)
}

func finished(d *page.Doc, err error) ([]byte, []string, error) {
	if err != nil {
		return nil, nil, err
	}
	var warnings []string
	for _, w := range d.Warnings() {
		if s := w.String(); !slices.Contains(warnings, s) {
			warnings = append(warnings, s)
		}
	}
	b, err := d.Bytes()
	return b, warnings, err
}

func packetDoc(r *words.Report, o Options) (*page.Doc, error) {
	return build(r, o, "", func(s *sheets) {
		s.summary()
		s.punchList()
		for _, t := range check.Trades {
			s.trade(t)
		}
	})
}

// Calculations lays out every number as a person checks it, in a file of its own.
func Calculations(r *words.Report, o Options) (pdf []byte, warnings []string, err error) {
	d, err := calcDoc(r, o)
	return finished(d, err)
}

func calcDoc(r *words.Report, o Options) (*page.Doc, error) {
	return build(r, o, calcPart, func(s *sheets) { s.calculations() })
}

func tradeDoc(r *words.Report, t check.Trade, o Options) (*page.Doc, error) {
	if !slices.Contains(check.Trades, t) {
		return nil, fmt.Errorf("there is no trade %q; there are %v", t, check.Trades)
	}
	return build(r, o, t, func(s *sheets) { s.trade(t) })
}

// calcPart is the file of calculations, in place of a trade's sheet alone.
const calcPart check.Trade = "calc"

// sheets lays out the sheets of one report. It is made anew for each run of
// the layout.
type sheets struct {
	*page.Doc
	r     *words.Report
	o     Options
	w     *templates.Wording
	to    words.Reader // figures as a tape or a gauge reads
	rev   string
	alone bool           // one trade's sheet alone
	calcs map[string]int // pages of the calculations, by check id
	now   map[string]change

	heights map[check.Trade]float64 // of the drawings of those whose sheets are fitted
	sketch  bool                    // only what it takes of pages is asked
}

// settle gives the wording and the paper, and takes the wording's own letterhead where none is given.
func (o *Options) settle() (*templates.Wording, page.Paper, error) {
	w, err := templates.Words()
	if err != nil {
		return nil, 0, err
	}
	if o.Letterhead == nil && w.Letterhead.Name != "" {
		o.Letterhead = &Letterhead{Name: w.Letterhead.Name, Address: w.Letterhead.Address, Lines: w.Letterhead.Lines}
	}
	paper, err := paperOf(o.Paper)
	return w, paper, err
}

func build(r *words.Report, o Options, alone check.Trade, lay func(*sheets)) (*page.Doc, error) {
	w, paper, err := o.settle()
	if err != nil {
		return nil, err
	}
	w = templates.In(r.Say.Region(), w)
	s := sheets{r: r, o: o, w: w, to: words.Reader{Units: r.Units, Gauge: true}, rev: o.Revision, alone: alone != "", now: changes(o.Before, o.Now)}
	if s.rev == "" {
		s.rev = r.Survey.Revision()
	}
	kind := s.say("doc.packet")
	switch {
	case alone == calcPart:
		kind = w.Headings.Calculations
	case alone != "":
		kind = w.Trades[string(alone)].Title
	}
	if alone != calcPart {
		calc, err := calcDoc(r, o)
		if err != nil {
			return nil, err
		}
		s.calcs = map[string]int{}
		for _, f := range r.Findings {
			if n := calc.Place(calcAnchor(f.ID)); n > 0 {
				s.calcs[f.ID] = n
			}
		}
	}
	po := page.Options{
		Paper: paper, Title: s.say("doc.title", "kind", quote(kind), "site", quote(r.Survey.Site.Name)),
		Subject: s.say("doc.subject", "machine", quote(machineName(r)), "revision", quote(s.rev)), Author: author(o), Date: r.Today.Time(),
		Footer: page.Line{Left: s.say("doc.foot", "revision", quote(s.rev), "digest", quote(r.Survey.Digest()), "date", quote(r.Today.String())), Centre: author(o)},
		Number: s.to.PageNumber,
		Boxed:  w.Disclaimer, Pictures: o.pictures(alone),
	}
	s.heights = map[check.Trade]float64{}
	for _, t := range []check.Trade{check.Plumber, check.Builder} {
		if alone == "" || alone == t {
			if s.heights[t], err = s.fitted(po, t); err != nil {
				return nil, err
			}
		}
	}
	return page.New(po, func(d *page.Doc) {
		own := s
		own.Doc = d
		lay(&own)
	})
}

// quote is a text that prints as it is.
func quote(text string) check.Quote { return check.Quote(text) }

// say fills a phrase of the wording tables in for the reader; pairs are blanks and values.
func (s *sheets) say(name string, pairs ...any) string { return s.phrase(check.Say(name, pairs...)) }

// phrase words a phrase so that no figure is parted from its unit.
func (s *sheets) phrase(p check.Phrase) string { return tied(s.to.Say(p)) }

// fact words a fact as a tape or a gauge reads it, with a capital.
func (s *sheets) fact(f check.Fact) string { return upperFirst(tied(s.to.Fact(f))) }

var figure = regexp.MustCompile(`(\d) ((?:°|k|m|µ)?(?:in|ft|psi|gpm|gph|gal|L|L/min|A|V|W|Hz|h|min|s|C|F|m|mm|kPa|Pa|kg|lb|mg/L|gpg|AWG|mm²|%|psf|Btu/h)(?:/ft|/m|/s)?)($|[\s,;.:)])`)

// tied keeps figures and their units on one line.
func tied(text string) string { return figure.ReplaceAllString(text, "$1\u00a0$2$3") }

func author(o Options) string {
	if o.Letterhead == nil {
		return ""
	}
	return o.Letterhead.Name
}

func paperOf(name string) (page.Paper, error) {
	switch strings.ToLower(name) {
	case "", "letter":
		return page.Letter, nil
	case "a4":
		return page.A4, nil
	}
	return 0, fmt.Errorf("%q is not a paper; there are letter and a4", name)
}

// machineName is the machine with its supply option.
func machineName(r *words.Report) string {
	name := r.Machine.Name
	if r.Supply != nil && r.Supply.Name != "" {
		name += ", " + r.Supply.Name
	}
	return name
}

// siteName is the site with its reference.
func siteName(r *words.Report) string {
	name := r.Survey.Site.Name
	if ref := r.Survey.Site.Reference; ref != "" {
		name += " (" + ref + ")"
	}
	return name
}

// start begins a sheet on a new page, a front side where that is asked for.
func (s *sheets) start(name string) {
	if s.o.Duplex {
		s.Front(s.say("page.blank"))
	}
	s.Sheet(page.Line{Left: siteName(s.r) + " · " + s.r.Machine.Name, Right: name})
}

// title is a sheet's own, with the revision.
func (s *sheets) title(text, sub string) {
	s.Title(text, sub, s.say("sheet.revision", "revision", quote(s.rev)))
}

// letterhead prints the company's block at the top of a sheet.
func (s *sheets) letterhead() {
	l := s.o.Letterhead
	if l == nil {
		return
	}
	letterhead(s.Doc, l)
}

func letterhead(d *page.Doc, l *Letterhead) {
	lines := []string{}
	if l.Address != "" {
		lines = append(lines, l.Address)
	}
	lines = append(lines, l.Lines...)
	x, w := d.Left(), d.Width()
	d.Need(18)
	top, logo := d.Y(), 0.0
	if len(l.Logo) > 0 {
		logo = d.Photo(page.Rect{X: x, Y: top, W: 42, H: 16}, page.Photo{Name: "letterhead's logo", Data: l.Logo, Bare: true})
		x, w = x+46, w-46
	}
	name, small := page.Large, page.Small
	y := top + d.TextBox(page.Rect{X: x, Y: top, W: w, H: 60}, l.Name, name)
	for _, t := range lines {
		y += d.TextBox(page.Rect{X: x, Y: y, W: w, H: 30}, t, small)
	}
	d.Advance(max(logo, y-top) + 4)
}

// stageName is the heading of a stage.
func (s *sheets) stageName(st check.Stage) string {
	switch st {
	case check.BeforeOrder:
		return s.w.Stages.BeforeOrder
	case check.RoughIn:
		return s.w.Stages.RoughIn
	case check.BeforeDelivery:
		return s.w.Stages.BeforeDelivery
	}
	return s.w.Stages.BeforeStart
}

func (s *sheets) tradeName(t check.Trade) string {
	if n := s.w.Trades[string(t)].Name; n != "" {
		return n
	}
	return string(t)
}

// Names of places.
func tradeAnchor(t check.Trade) string { return "trade " + string(t) }
func calcAnchor(id string) string      { return "calculation " + id }

// verdict is the mark of a finding's verdict.
func verdict(v check.Verdict) page.Verdict { return page.Verdict(v.String()) }

// upperFirst makes a title of a check's title.
func upperFirst(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// count words a number of things: the phrase of that name for one, and with "s" for more.
func (s *sheets) count(n int, name string) string {
	if n != 1 {
		name += "s"
	}
	return s.say(name, "n", n)
}

// citations numbers sources in the order in which they are cited.
type citations struct{ list []string }

// cite returns the finding's numbers, "[1, 4]"; nothing for a finding without a source.
func (c *citations) cite(f *words.Told) string {
	var nums []string
	for _, src := range sourcesOf(f) {
		i := slices.Index(c.list, src)
		if i < 0 {
			i = len(c.list)
			c.list = append(c.list, src)
		}
		nums = append(nums, fmt.Sprint(i+1))
	}
	if len(nums) == 0 {
		return ""
	}
	return "[" + strings.Join(nums, ", ") + "]"
}

// run is the list as running text.
func (c *citations) run(heading string) string {
	parts := make([]string, len(c.list))
	for i, src := range c.list {
		parts[i] = fmt.Sprintf("[%d]\u00a0%s", i+1, src)
	}
	return heading + ": " + strings.Join(parts, "; ") + "."
}

// tight prints one line of a list set close: texts side by side in columns of
// the given widths, wrapped, without rules. It is never divided.
func tight(d *page.Doc, field string, st page.Style, widths []float64, bold []bool, texts ...string) {
	h := 0.0
	lines := make([][]string, len(texts))
	styles := make([]page.Style, len(texts))
	for i, t := range texts {
		styles[i] = st
		styles[i].Bold = bold[i]
		lines[i] = page.Wrap(d.Clean(field, t), widths[i]-2, styles[i])
		h = max(h, float64(len(lines[i]))*lineHeight(st))
	}
	d.Need(h)
	x := d.Left() // of this column
	for i := range texts {
		d.TextBox(page.Rect{X: x, Y: d.Y(), W: widths[i] - 2, H: h + 1}, strings.Join(lines[i], "\n"), styles[i])
		x += widths[i]
	}
	d.Advance(h)
}

// lineHeight of a style in millimetres.
func lineHeight(st page.Style) float64 { return st.Size * st.Leading * 25.4 / 72 }

// sourcesOf takes a finding's sources apart: the machine sheet's own, then the check's.
func sourcesOf(f *words.Told) []string {
	if f.Source == "" {
		return nil
	}
	if f.Check == nil {
		return []string{f.Source}
	}
	var own []string
	for _, src := range f.Cites {
		if t := src.String(); !slices.Contains(own, t) {
			own = append(own, t)
		}
	}
	head, ok := strings.CutSuffix(f.Source, strings.Join(own, "; "))
	switch head = strings.TrimSuffix(head, "; "); {
	case !ok:
		return []string{f.Source}
	case head == "":
		return own
	}
	return append([]string{head}, own...)
}
