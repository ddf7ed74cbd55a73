// Package pdf lays out the printed sheets of a packet. It shows what the
// checks found and computes nothing. Start with [Packet]; the drawing kit is
// render/page, the wording is in templates/wording.yaml.
package pdf

import (
	"fmt"
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// Options of printed sheets.
type Options struct {
	Paper      string      // "letter" or "a4"; letter when empty
	Letterhead *Letterhead // nil: the one of templates/wording.yaml, if it has a name
	Photos     []Photo     // printed on pages of their own, in this order
	Revision   string      // letter of the revision; empty: the survey's

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
}

// Packet lays out the whole packet of a planned site: summary, punch list, a
// sheet for each trade, photos. The warnings name what could
// not be shown as written.
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
		s.photos()
	})
}

// Calculations lays out every number as a person checks it, in a file of its own.
func Calculations(r *words.Report, o Options) (pdf []byte, warnings []string, err error) {
	d, err := calcDoc(r, o)
	return finished(d, err)
}

func calcDoc(r *words.Report, o Options) (*page.Doc, error) {
	return build(r, o, "", func(s *sheets) {
		s.calculations()
		s.inOrder()
	})
}

func tradeDoc(r *words.Report, t check.Trade, o Options) (*page.Doc, error) {
	if !slices.Contains(check.Trades, t) {
		return nil, fmt.Errorf("there is no trade %q; there are %v", t, check.Trades)
	}
	return build(r, o, t, func(s *sheets) { s.trade(t) })
}

// sheets lays out the sheets of one report. It is made anew for each run of
// the layout.
type sheets struct {
	*page.Doc
	r     *words.Report
	o     Options
	w     *templates.Wording
	rev   string
	alone bool // one trade's sheet alone: nothing to refer to
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
	rev := o.Revision
	if rev == "" {
		rev = r.Survey.Revision()
	}
	title := "Packet: " + r.Survey.Site.Name
	if alone != "" {
		title = w.Trades[string(alone)].Title + ": " + r.Survey.Site.Name
	}
	return page.New(page.Options{
		Paper: paper, Title: title, Subject: machineName(r) + ", revision " + rev, Author: author(o), Date: r.Today.Time(),
		Footer: page.Line{Left: fmt.Sprintf("Revision %s · answers %s · %s", rev, r.Survey.Digest(), r.Today), Centre: author(o)},
		Boxed:  w.Disclaimer,
	}, func(d *page.Doc) {
		lay(&sheets{Doc: d, r: r, o: o, w: w, rev: rev, alone: alone != ""})
	})
}

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

// start begins a sheet on a new page.
func (s *sheets) start(name string) {
	s.Sheet(page.Line{Left: siteName(s.r) + " · " + s.r.Machine.Name, Right: name})
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

// plural is "1 point", "3 points".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
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
