// Package page is the drawing kit of the printed sheets: paper, text, tables,
// marks, photos and line drawings on top of a PDF writer. It knows nothing of
// surveys or checks; a caller composes sheets from it.
//
// Start with [New]. Its build function is run at least twice: the first run
// counts the pages and notes where each anchor fell, later runs print the
// numbers. Build must therefore make the same calls each time.
//
// Lengths are millimetres from the top left corner of the page, text sizes are
// points. Everything drawn as text is also written to a log ([Doc.Placed]), so
// a test can prove that no text leaves its box ([Doc.Overflows]).
package page

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"github.com/go-pdf/fpdf"

	"firstfill/templates"
)

// Paper is a sheet size.
type Paper int

// The sheet sizes. The zero value is Letter.
const (
	Letter Paper = iota // 8.5 × 11 in
	A4                  // ISO 216
)

// Size gives width and height in millimetres, upright.
func (p Paper) Size() (w, h float64) {
	if p == A4 {
		return 210, 297
	}
	return 215.9, 279.4
}

// Line is a header or footer line. Text that does not fit is shortened with an
// ellipsis and a warning.
type Line struct{ Left, Centre, Right string }

// Options set up a document. Date is required: a document is a function of its
// input, so the clock is never read.
type Options struct {
	Paper     Paper
	Landscape bool
	Title     string
	Subject   string
	Author    string
	Lang      string    // language tag of the text; "en" when empty
	Date      time.Time // printed in the file's metadata, as UTC
	Header    Line
	Footer    Line                         // Right is the page's number when empty
	Number    func(page, pages int) string // words it; "3 / 10" when nil
	Boxed     string                       // a line of small print in a thin box above the footer
	Pictures  *Pictures                    // those prepared before; nil: each is when it is met
}

// Rect is a rectangle on the page in millimetres.
type Rect struct{ X, Y, W, H float64 }

// Warning is something the reader of the sheet should know: a sign that could
// not be printed, a shortened line, an unreadable picture.
type Warning struct {
	Page  int
	Field string // the field named by the caller, or empty
	Text  string
}

func (w Warning) String() string {
	if w.Field == "" {
		return fmt.Sprintf("page %d: %s", w.Page, w.Text)
	}
	return fmt.Sprintf("%s: %s", w.Field, w.Text)
}

type place struct {
	page int
	y    float64
}

// passInfo is what one run of the build function learns for the next.
type passInfo struct {
	pages   int
	anchors map[string]place
}

func (p passInfo) same(q passInfo) bool {
	if p.pages != q.pages || len(p.anchors) != len(q.anchors) {
		return false
	}
	for k, a := range p.anchors {
		if b, ok := q.anchors[k]; !ok || a.page != b.page {
			return false
		}
	}
	return true
}

const (
	marginX  = 16.0 // left and right page margin
	edge     = 6.5  // header text and footer text keep this off the paper's edge
	bodyTop  = 15.5
	footBand = 12.5 // height kept for the footer line
	maxPass  = 6
)

// Doc is a document being built. Its methods are not safe for concurrent use;
// two documents may be built at once.
type Doc struct {
	o    Options
	pdf  *fpdf.Fpdf
	pw   float64
	ph   float64
	bot  float64 // lowest y of the body
	y    float64
	deep float64 // the deepest column of this page, when columns run over its end
	left float64 // of the column, or of the body
	cols columns
	prev passInfo

	anchors     map[string]place
	links       map[string]int
	linkNames   []string
	pendAnchors []string
	pending     []heading
	lastLevel   int         // last bookmark level; -1 before the first
	titled      bool        // a sheet's title was printed
	writing     []PlacedBox // boxes of forms

	header Line
	boxed  []string

	warnings []Warning
	warned   map[string]bool
	placed   []Placed
	depths   []float64         // how far down each page is used, as far as it is done
	starts   []int             // pages on which a sheet starts
	blanks   []int             // pages left blank so that a sheet starts on a front side
	images   map[string]string // digest to registered name, this pass
	pics     *Pictures         // survives the passes

	fontBold bool
	fontSize float64
	inFrame  bool // header or footer is being drawn

	out []byte
}

// New runs build until page numbers and references have settled and returns
// the finished document.
func New(o Options, build func(*Doc)) (*Doc, error) {
	if o.Date.IsZero() {
		return nil, errors.New("page: Options.Date is not set; give a fixed date")
	}
	if _, err := loadFonts(); err != nil {
		return nil, err
	}
	var prev passInfo
	if o.Pictures == nil {
		o.Pictures = NewPictures()
	}
	for pass := 1; ; pass++ {
		d := newPass(o, prev)
		build(d)
		d.finish()
		if err := d.pdf.Error(); err != nil {
			return nil, fmt.Errorf("page: laying out %q: %w", o.Title, err)
		}
		now := passInfo{d.Pages(), d.anchors}
		if pass > 1 && now.same(prev) {
			return d, nil
		}
		if pass == maxPass {
			d.Warn("", "page references did not settle and may be off by one")
			return d, nil
		}
		prev = now
	}
}

// Sketch runs build once, for what it takes of pages: references aren't
// resolved, and the document isn't to be written.
func Sketch(o Options, build func(*Doc)) (*Doc, error) {
	if _, err := loadFonts(); err != nil {
		return nil, err
	}
	if o.Pictures == nil {
		o.Pictures = NewPictures()
	}
	d := newPass(o, passInfo{})
	build(d)
	d.finish()
	return d, d.pdf.Error()
}

func newPass(o Options, prev passInfo) *Doc {
	w, h := o.Paper.Size()
	if o.Landscape {
		w, h = h, w
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: w, Ht: h}})
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(o.Date.UTC())
	pdf.SetModificationDate(o.Date.UTC())
	pdf.SetProducer("firstfill", true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetDisplayMode("fullpage", "single")
	pdf.AddUTF8FontFromBytes("body", "", templates.FontRegular())
	pdf.AddUTF8FontFromBytes("body", "B", templates.FontBold())
	pdf.SetFont("body", "", 10)

	d := &Doc{
		o: o, pdf: pdf, pw: w, ph: h, left: marginX, prev: prev, pics: o.Pictures,
		anchors: map[string]place{}, links: map[string]int{}, warned: map[string]bool{},
		images: map[string]string{}, lastLevel: -1, fontSize: 10,
	}
	lang := o.Lang
	if lang == "" {
		lang = "en"
	}
	pdf.SetLang(lang)
	pdf.SetTitle(d.Clean("title", o.Title), true)
	if o.Subject != "" {
		pdf.SetSubject(d.Clean("subject", o.Subject), true)
	}
	if o.Author != "" {
		pdf.SetAuthor(d.Clean("author", o.Author), true)
	}
	d.header = d.cleanLine("header", o.Header)
	d.o.Footer = d.cleanLine("footer", o.Footer)
	d.bot = h - footBand
	if o.Boxed != "" {
		d.boxed = d.wrap(d.Clean("disclaimer", o.Boxed), d.Width()-5, boxedStyle)
		d.bot -= d.boxedHeight() + 3
	} else {
		d.bot -= 2
	}
	return d
}

func (d *Doc) cleanLine(field string, l Line) Line {
	return Line{d.oneLine(field, l.Left), d.oneLine(field, l.Centre), d.oneLine(field, l.Right)}
}

// Width is the width of the body in millimetres, or of a column of it.
func (d *Doc) Width() float64 {
	if d.cols.n > 1 {
		return d.cols.w
	}
	return d.fullWidth()
}

func (d *Doc) fullWidth() float64 { return d.pw - 2*marginX }

// Left is the x of the left edge of the body, or of the column.
func (d *Doc) Left() float64 { return d.left }

// columns are how the body is divided; n is 0 or 1 when it isn't.
type columns struct {
	n, at  int // how many, which one
	w, gap float64
	top    float64 // where the columns of this page start
	low    float64 // how far the columns before this one reach
}

// Columns divides the body from here on: what follows fills one column after
// the other, and a page break comes after the last. EndColumns ends it. Headings,
// paragraphs, lists and tables go into columns.
func (d *Doc) Columns(n int, gap float64) {
	d.EndColumns()
	d.reserve(0)
	n = max(1, n)
	d.cols = columns{n: n, w: (d.fullWidth() - gap*float64(n-1)) / float64(n), gap: gap, top: d.y}
}

// EndColumns goes on over the whole width, under the longest column.
func (d *Doc) EndColumns() {
	d.flush()
	if d.cols.n > 1 {
		d.y = max(d.y, d.cols.low)
	}
	d.cols, d.left = columns{}, marginX
}

// colTop is where the body, or the column, starts on this page.
func (d *Doc) colTop() float64 {
	if d.cols.n > 1 {
		return d.cols.top
	}
	return bodyTop
}

// Y is the height of the cursor: where the next thing is put, unless a page
// break comes first.
func (d *Doc) Y() float64 { return d.y }

// Room is the height left on this page, in millimetres.
func (d *Doc) Room() float64 {
	if d.Pages() == 0 {
		return d.bot - bodyTop
	}
	return d.bot - d.y - d.pendingHeight()
}

// BodyHeight is the height of an empty page's body.
func (d *Doc) BodyHeight() float64 { return d.bot - bodyTop }

// Pages is the number of pages so far.
func (d *Doc) Pages() int { return d.pdf.PageCount() }

// Warnings lists what could not be printed as given, in order.
func (d *Doc) Warnings() []Warning { return append([]Warning(nil), d.warnings...) }

// Warn adds a warning; the same field and text are noted once.
func (d *Doc) Warn(field, text string) {
	key := field + "\x00" + text
	if d.warned[key] {
		return
	}
	d.warned[key] = true
	p := d.Pages()
	if p == 0 {
		p = 1
	}
	d.warnings = append(d.warnings, Warning{p, field, text})
}

// SetHeader changes the header line from the next page on.
func (d *Doc) SetHeader(l Line) { d.header = d.cleanLine("header", l) }

// PageBreak starts a new page unless the cursor is at the top of one. It ends columns.
func (d *Doc) PageBreak() {
	d.EndColumns()
	if d.Pages() > 0 && d.y > bodyTop+0.01 {
		d.newPage()
	}
}

// Sheet starts a new page under a new header line.
func (d *Doc) Sheet(header Line) {
	d.EndColumns()
	d.SetHeader(header)
	if d.Pages() > 0 {
		d.newPage()
	}
	d.starts = append(d.starts, max(1, d.Pages()))
}

// Front leaves a page blank but for its frame and a line of text where the next
// sheet would start on the back of another.
func (d *Doc) Front(text string) {
	if d.Pages()%2 == 0 {
		return
	}
	d.EndColumns()
	d.newPage()
	d.blanks = append(d.blanks, d.Pages())
	d.drawLine(d.fit(d.oneLine("blank", text), d.Width(), Small), Rect{d.left, d.y + d.BodyHeight()/2, d.Width(), Small.line()}, Small.with(func(s *Style) { s.Align = Centre }))
	d.y = d.bot
}

// Fill says how much of a page's body is used, from 0 to 1.
func (d *Doc) Fill(page int) float64 {
	y := d.y
	if page <= len(d.depths) {
		y = d.depths[page-1]
	}
	return max(0, min(1, (y-bodyTop)/(d.bot-bodyTop)))
}

// Starts are the pages on which sheets start.
func (d *Doc) Starts() []int { return append([]int(nil), d.starts...) }

// LeftBlank are the pages left blank so that a sheet starts on a front side.
func (d *Doc) LeftBlank() []int { return append([]int(nil), d.blanks...) }

// Place is the page on which an anchor fell, 0 when there is none of that name.
func (d *Doc) Place(anchor string) int { return d.anchors[anchor].page }

// newPage goes on in the next column, or on a new page after the last.
func (d *Doc) newPage() {
	if c := &d.cols; c.n > 1 {
		c.low = max(c.low, d.y)
		if c.at+1 < c.n {
			c.at++
			d.left = marginX + float64(c.at)*(c.w+c.gap)
			d.y = c.top
			return
		}
		d.deep = c.low
		c.at, c.top, c.low = 0, bodyTop, 0
		d.left = marginX
	}
	if n := d.Pages(); n > 0 {
		d.depths = append(d.depths, max(d.y, d.deep))
	}
	d.deep = 0
	d.pdf.AddPage()
	d.y = bodyTop
	d.frame()
}

// frame draws the header and footer of the page just started.
func (d *Doc) frame() {
	d.inFrame = true
	defer func() { d.inFrame = false }()
	l, r := marginX, d.pw-marginX
	if d.header != (Line{}) {
		d.threeParts(d.header, edge, headStyle, headStyle.with(func(s *Style) { s.Bold = true }))
		d.stroke(0.25, 0)
		d.pdf.Line(l, edge+6, r, edge+6)
	}
	foot := d.o.Footer
	if foot.Right == "" {
		total := d.prev.pages
		if total < d.Pages() {
			total = d.Pages()
		}
		if foot.Right = fmt.Sprintf("%d / %d", d.Pages(), total); d.o.Number != nil {
			foot.Right = d.o.Number(d.Pages(), total)
		}
	}
	top := d.ph - footBand + 1
	d.stroke(0.25, 0)
	d.pdf.Line(l, top, r, top)
	d.threeParts(foot, top+1.4, headStyle, headStyle)
	if len(d.boxed) > 0 {
		h := d.boxedHeight()
		y := top - 2 - h
		d.stroke(0.2, 35)
		d.pdf.Rect(l, y, r-l, h, "D")
		for i, s := range d.boxed {
			d.drawLine(s, Rect{l + 2.5, y + 1.2 + float64(i)*boxedStyle.line(), r - l - 5, boxedStyle.line()}, boxedStyle)
		}
	}
}

func (d *Doc) boxedHeight() float64 { return float64(len(d.boxed))*boxedStyle.line() + 2.4 }

// threeParts prints left, centre and right text in one line, the left in its
// own style.
func (d *Doc) threeParts(l Line, y float64, st, left Style) {
	w := d.fullWidth()
	const gap = 4
	rw := min(d.width(l.Right, st), w*0.4)
	cw := 0.0
	if l.Centre != "" {
		cw = min(d.width(l.Centre, st), w*0.4)
	}
	lw := w - rw - gap
	if cw > 0 {
		lw = (w-cw)/2 - gap
		rw = min(rw, lw)
	}
	if rw == 0 {
		lw += gap
	}
	h := st.line()
	d.drawLine(d.fit(l.Left, lw, left), Rect{marginX, y, lw, h}, left)
	if cw > 0 {
		c := st
		c.Align = Centre
		d.drawLine(d.fit(l.Centre, cw+0.01, st), Rect{marginX + (w-cw)/2 - 0.1, y, cw + 0.2, h}, c)
	}
	if rw > 0 {
		r := st
		r.Align = Right
		d.drawLine(d.fit(l.Right, rw+0.01, st), Rect{d.pw - marginX - rw - 0.1, y, rw + 0.1, h}, r)
	}
}

// Anchor names the place where the next thing is put, for [Doc.PageOf] and for
// links.
func (d *Doc) Anchor(name string) { d.pendAnchors = append(d.pendAnchors, name) }

// PageOf is the page number of an anchor, "?" while it is not known. After the
// last run an unknown anchor is a warning.
func (d *Doc) PageOf(name string) string {
	if a, ok := d.prev.anchors[name]; ok {
		return fmt.Sprint(a.page)
	}
	if d.prev.pages > 0 {
		d.Warn("", fmt.Sprintf("reference to unknown place %q", name))
	}
	return "?"
}

// link makes a rectangle of the page clickable.
func (d *Doc) link(name string, r Rect) {
	if name == "" {
		return
	}
	if _, ok := d.prev.anchors[name]; !ok {
		if d.prev.pages > 0 {
			d.Warn("", fmt.Sprintf("link to unknown place %q", name))
		}
		return
	}
	id, ok := d.links[name]
	if !ok {
		id = d.pdf.AddLink()
		d.links[name] = id
		d.linkNames = append(d.linkNames, name)
	}
	d.pdf.Link(r.X, r.Y, r.W, r.H, id)
}

func (d *Doc) setAnchor(name string) {
	if _, dup := d.anchors[name]; dup {
		d.Warn("", fmt.Sprintf("two places are named %q; the first counts", name))
		return
	}
	d.anchors[name] = place{d.Pages(), d.y}
}

// Bookmark adds an entry to the reader's outline at the cursor. Level 0 is the
// top; a level more than one below the last is raised.
func (d *Doc) Bookmark(level int, text string) {
	level = max(0, min(level, d.lastLevel+1))
	d.lastLevel = level
	d.pdf.Bookmark(d.oneLine("bookmark", text), level, max(0, d.y-2))
}

// reserve makes sure that the waiting headings and h millimetres after them
// stay on one page, and prints the headings. An h above a page's height is
// taken as a page's height.
func (d *Doc) reserve(h float64) {
	if d.Pages() == 0 {
		d.newPage()
	}
	need := d.pendingHeight() + h
	for d.y+need > d.bot+0.001 && d.y > bodyTop+0.01 { // twice where columns start low
		d.newPage()
	}
	for _, n := range d.pendAnchors {
		d.setAnchor(n)
	}
	d.pendAnchors = nil
	p := d.pending
	d.pending = nil
	for _, hd := range p {
		d.drawHeading(hd)
	}
}

// flush prints what is waiting for company.
func (d *Doc) flush() {
	if len(d.pending) > 0 || len(d.pendAnchors) > 0 {
		d.reserve(0)
	}
}

func (d *Doc) finish() {
	d.EndColumns()
	if d.Pages() == 0 {
		d.newPage()
	}
	for _, n := range d.linkNames {
		if a, ok := d.anchors[n]; ok {
			d.pdf.SetLink(d.links[n], max(0, a.y-2), a.page)
		} else { // the anchor was there in the last pass and is gone
			d.pdf.SetLink(d.links[n], 0, 1)
		}
	}
}

// Bytes is the finished PDF file.
func (d *Doc) Bytes() ([]byte, error) {
	if d.out != nil {
		return d.out, nil
	}
	var b bytes.Buffer
	if err := d.pdf.Output(&b); err != nil {
		return nil, fmt.Errorf("page: writing %q: %w", d.o.Title, err)
	}
	d.out = b.Bytes()
	return d.out, nil
}

// stroke sets line width (mm) and grey level (per cent towards white).
func (d *Doc) stroke(w float64, grey int) {
	d.pdf.SetLineWidth(w)
	v := level(grey)
	d.pdf.SetDrawColor(v, v, v)
}

// fill sets the fill colour to a grey level (per cent towards white).
func (d *Doc) fill(grey int) {
	v := level(grey)
	d.pdf.SetFillColor(v, v, v)
}

// tint sets the fill colour to the one accent, a pale blue-grey that prints as
// a clean 10 % grey.
func (d *Doc) tint() { d.pdf.SetFillColor(226, 233, 238) }

func level(grey int) int { return max(0, min(255, grey*255/100)) }
