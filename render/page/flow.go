package page

import (
	"strings"
)

type heading struct {
	level  int
	text   string
	lines  []string
	tag    string
	anchor string
}

var headingStyles = [4]Style{
	{Size: 18, Bold: true, Leading: 1.15},
	{Size: 13, Bold: true, Leading: 1.2},
	{Size: 11, Bold: true, Leading: 1.25},
	{Size: 9.5, Bold: true, Leading: 1.3},
}

var headingGaps = [4]struct{ before, after float64 }{{0, 3}, {4, 1.4}, {3, 1}, {2.6, 0.8}}

// Heading adds a heading of level 1 to 3 and its bookmark. It stays with what
// follows: it is never the last thing on a page.
func (d *Doc) Heading(lvl int, text string) { d.AnchoredHeading(lvl, text, "") }

// AnchoredHeading is Heading with a name for references.
func (d *Doc) AnchoredHeading(lvl int, text, anchor string) {
	lvl = max(1, min(3, lvl))
	text = d.oneLine("heading", text)
	d.pending = append(d.pending, heading{lvl, text, d.wrap(text, d.Width(), headingStyles[lvl]), "", anchor})
}

var tagStyle = Style{Size: 10.5, Bold: true}

// Title adds the title of a sheet: the largest line, a grey line under it, and
// a word in a black field at the right (the trade, say). Any part may be empty.
func (d *Doc) Title(text, sub, tag string) {
	text, tag = d.oneLine("title", text), d.oneLine("title", tag)
	st := headingStyles[0]
	w := d.Width()
	tw := 0.0
	if tag != "" {
		tag = d.fit(tag, w*0.35, tagStyle)
		tw = TextWidth(tag, tagStyle) + 8
	}
	lines := d.wrap(text, w-tw-4, st)
	subLines := d.wrap(d.Clean("title", sub), w, Style{Size: 10.5, Grey: 25})
	h := float64(len(lines))*st.line() + 3
	d.reserve(h + 14)
	d.Bookmark(0, text)
	d.titled = true
	if tag != "" {
		r := Rect{d.left + w - tw, d.y + 0.8, tw, 7.4}
		d.fill(0)
		d.pdf.Rect(r.X, r.Y, r.W, r.H, "F")
		s := tagStyle
		s.white = true
		s.Align = Centre
		d.drawLine(tag, r, s)
	}
	for _, s := range lines {
		d.drawLine(s, Rect{d.left, d.y, w - tw - 4, st.line()}, st)
		d.y += st.line()
	}
	if sub != "" {
		s := Style{Size: 10.5, Grey: 25}
		d.y += 0.6
		for _, l := range subLines {
			d.drawLine(l, Rect{d.left, d.y, w, s.line()}, s)
			d.y += s.line()
		}
	}
	d.y += 1.6
	d.stroke(0.7, 0)
	d.pdf.Line(d.left, d.y, d.left+w, d.y)
	d.y += 2.6
}

func (d *Doc) headingHeight(h heading, first bool) float64 {
	g := headingGaps[h.level]
	v := float64(len(h.lines))*headingStyles[h.level].line() + g.after
	if !first {
		v += g.before
	}
	return v
}

func (d *Doc) pendingHeight() float64 {
	t := 0.0
	for i, h := range d.pending {
		t += d.headingHeight(h, i == 0 && d.y <= d.colTop()+0.01)
	}
	return t
}

func (d *Doc) drawHeading(h heading) {
	if d.y > d.colTop()+0.01 {
		d.y += headingGaps[h.level].before
	}
	if h.anchor != "" {
		d.setAnchor(h.anchor)
	}
	if d.titled { // headings hang under the sheet's title
		d.Bookmark(h.level, h.text)
	} else {
		d.Bookmark(h.level-1, h.text)
	}
	st := headingStyles[h.level]
	for _, s := range h.lines {
		d.drawLine(s, Rect{d.left, d.y, d.Width(), st.line()}, st)
		d.y += st.line()
	}
	d.y += headingGaps[h.level].after
}

// Space moves the cursor down, but not over a page break.
func (d *Doc) Space(mm float64) {
	d.flush()
	if d.y > d.colTop()+0.01 {
		d.y += mm
	}
}

// Advance moves the cursor down past what was drawn at it with TextBox,
// Verdict or Photo, at the top of a page too.
func (d *Doc) Advance(mm float64) {
	d.flush()
	d.y += mm
}

// Need starts a new page unless mm millimetres are left on this one, so that
// what follows stays together. More than a page's height is taken as a page's
// height.
func (d *Doc) Need(mm float64) { d.reserve(min(mm, d.BodyHeight())) }

// Paragraph prints wrapped text over the width of the body. At least two lines
// stay together at either side of a page break.
func (d *Doc) Paragraph(text string) { d.StyledParagraph(text, Body) }

// StyledParagraph is Paragraph in a style.
func (d *Doc) StyledParagraph(text string, st Style) {
	d.flowLines(d.wrap(d.Clean("", text), d.Width(), st), 0, st)
	d.y += 2
}

// flowLines prints lines over page breaks, two at least on each side.
func (d *Doc) flowLines(lines []string, indent float64, st Style) {
	lh := st.line()
	for i := 0; i < len(lines); {
		keep := 1
		left := len(lines) - i
		if i == 0 || left == 2 {
			keep = min(2, left)
		}
		if left == 3 && i == 0 {
			keep = 3
		}
		d.reserve(float64(keep) * lh)
		for range keep {
			r := Rect{d.left + indent, d.y, d.Width() - indent, lh}
			d.drawLine(lines[i], r, st)
			d.y += lh
			i++
		}
	}
}

// writeLine is the height of a line to write on by hand.
const writeLine = 8.0

// KV is one pair of a key-value grid. An empty value becomes a line to write
// on.
type KV struct {
	Key, Value string
	Field      string // named in warnings
	Wide       bool   // takes a whole row
}

// KeyValue prints pairs in columns: small grey key, value under it, a thin
// rule under each row.
func (d *Doc) KeyValue(cols int, pairs ...KV) {
	cols = max(1, cols)
	const gap = 5.0
	cw := (d.Width() - gap*float64(cols-1)) / float64(cols)
	vst := Style{Size: 9.5, Leading: 1.26}
	type cell struct {
		x, w     float64
		key, val []string
		blank    bool
	}
	var row []cell
	draw := func() {
		if len(row) == 0 {
			return
		}
		h := 0.0
		for _, c := range row {
			v := float64(len(c.val)) * vst.line()
			if c.blank {
				v = writeLine - 1.5
			}
			h = max(h, float64(len(c.key))*labelStyle.line()+v)
		}
		d.reserve(min(h+1.6, d.BodyHeight()))
		if h+1.6 > d.BodyHeight() { // a novel in a field: let it flow
			for _, c := range row {
				d.flowLines(c.key, 0, labelStyle)
				d.flowLines(c.val, 0, vst)
			}
			row = nil
			return
		}
		for _, c := range row {
			y := d.y
			for _, s := range c.key {
				d.drawLine(s, Rect{c.x, y, c.w, labelStyle.line()}, labelStyle)
				y += labelStyle.line()
			}
			for _, s := range c.val {
				d.drawLine(s, Rect{c.x, y, c.w, vst.line()}, vst)
				y += vst.line()
			}
			d.stroke(0.15, 45)
			d.pdf.Line(c.x, d.y+h+0.5, c.x+c.w, d.y+h+0.5)
		}
		d.y += h + 1.6
		row = nil
	}
	x := 0.0
	for _, p := range pairs {
		w := cw
		if p.Wide {
			draw()
			x, w = 0, d.Width()
		}
		c := cell{x: d.left + x, w: w, key: d.wrap(d.oneLine("label", p.Key), w, labelStyle)}
		if v := d.Clean(p.Field, p.Value); strings.TrimSpace(v) == "" {
			c.blank = true
		} else {
			c.val = d.wrap(v, w, vst)
		}
		row = append(row, c)
		x += w + gap
		if p.Wide || len(row) == cols {
			draw()
			x = 0
		}
	}
	draw()
	d.y += 2
}

// A Signal is a block of hazards under one signal word.
type Signal struct {
	Word   string
	Lethal bool // the word stands white on black
	Texts  []string
}

var (
	signalStyle = Style{Size: 9, Leading: 1.24}
	signalWord  = Style{Size: 10.5, Bold: true, Leading: 1.25, Align: Centre}
)

// cautionBar is how wide the bar beside a caution is.
const cautionBar = 2.6

const signalPad, signalGap, signalIndent, signalWide = 1.3, 0.4, 2.6, 25.0

func (d *Doc) signalLines(s Signal) (lines [][]string, h float64) {
	h = 2 * signalPad
	for _, t := range s.Texts {
		ls := d.wrap(d.Clean("", t), d.Width()-signalWide-4-signalIndent, signalStyle)
		lines = append(lines, ls)
		h += float64(len(ls))*signalStyle.line() + signalGap
	}
	return lines, max(h, signalWord.line()+2*signalPad)
}

// SignalHeight is how high a block would be, with the air after it.
func (d *Doc) SignalHeight(s Signal) float64 {
	_, h := d.signalLines(s)
	return h + 1.6
}

// Signal prints a block of hazards: the signal word in a field at the left,
// white on black where it is a matter of life, a point for each hazard beside
// it. It goes over to the next page as a whole, unless it is higher than a page.
func (d *Doc) Signal(s Signal) {
	lines, h := d.signalLines(s)
	for n := len(s.Texts); h > d.BodyHeight() && n > 1; n = len(s.Texts) {
		d.Signal(Signal{s.Word, s.Lethal, s.Texts[:n/2]})
		s.Texts = s.Texts[n/2:]
		lines, h = d.signalLines(s)
	}
	d.reserve(min(h, d.BodyHeight()))
	top := d.y
	word := signalWord
	if s.Lethal {
		d.fill(0)
		word.white = true
	} else {
		d.tint()
	}
	d.pdf.Rect(d.left, top, signalWide, h, "F")
	d.drawLine(d.fit(d.oneLine("signal", s.Word), signalWide-2, word), Rect{d.left + 1, top + signalPad - 0.4, signalWide - 2, word.line()}, word)
	x := d.left + signalWide + 2
	d.y += signalPad
	for _, ls := range lines {
		d.drawLine("•", Rect{x, d.y, signalIndent, signalStyle.line()}, signalStyle)
		for _, l := range ls {
			d.drawLine(l, Rect{x + signalIndent, d.y, d.Width() - signalWide - 4 - signalIndent, signalStyle.line()}, signalStyle)
			d.y += signalStyle.line()
		}
		d.y += signalGap
	}
	d.y = top + h
	d.stroke(0.4, 0)
	d.pdf.Rect(d.left, top, d.Width(), h, "D")
	d.y += 1.6
}

var (
	bannerWord = Style{Size: 17, Bold: true, Align: Centre}
	bannerText = Style{Size: 10, Bold: true, Leading: 1.25}
)

// Banner prints a word that is seen first, white on black where it stops the
// work and in a plain frame where it doesn't, with what it means beside it.
func (d *Doc) Banner(word, text string, stop bool) {
	const wide, pad = 30.0, 2.0
	w := d.Width() - wide - 3*pad
	lines := d.wrap(d.Clean("banner", text), w, bannerText)
	h := max(10.5, float64(len(lines))*bannerText.line()+2*pad)
	d.reserve(min(h, d.BodyHeight()))
	if h > d.BodyHeight() { // a novel: let it flow
		d.flowLines(lines, 0, bannerText)
		return
	}
	st := bannerWord
	if stop {
		d.fill(0)
		d.pdf.Rect(d.left, d.y, wide, h, "F")
		st.white = true
	}
	d.stroke(0.6, 0)
	d.pdf.Rect(d.left, d.y, d.Width(), h, "D")
	d.pdf.Line(d.left+wide, d.y, d.left+wide, d.y+h)
	d.drawLine(d.fit(d.oneLine("banner", word), wide-2, st), Rect{d.left + 1, d.y + (h-st.line())/2, wide - 2, st.line()}, st)
	y := d.y + (h-float64(len(lines))*bannerText.line())/2
	for _, l := range lines {
		d.drawLine(l, Rect{d.left + wide + 2*pad, y, w, bannerText.line()}, bannerText)
		y += bannerText.line()
	}
	d.y += h + 2.4
}

// SignOff is a block for one trade to sign. Known parts are printed on their
// line, the others are left blank.
type SignOff struct {
	Title     string // "Electrician"
	Statement string // what is being signed
	Company   string
	Licence   string
	Name      string
	Field     string
	Labels    SignOffLabels
}

// SignOffLabels are the words under the lines.
type SignOffLabels struct{ Company, Licence, Name, Signature, Date string }

const signPad, signRow = 2.0, 10.6

var (
	signTitle = Style{Size: 10.5, Bold: true, Leading: 1.25}
	signText  = Style{Size: 9, Leading: 1.25}
)

// SignOffHeight is how high a block would be, with the air after it.
func (d *Doc) SignOffHeight(s SignOff) float64 {
	_, _, _, h := d.signOffSize(s)
	return min(h, d.BodyHeight())
}

func (d *Doc) signOffSize(s SignOff) (w float64, title, statement []string, h float64) {
	w = d.Width() - 2*signPad
	title = d.wrap(d.oneLine(s.Field, s.Title), w, signTitle)
	if s.Statement != "" {
		statement = d.wrap(d.Clean(s.Field, s.Statement), w, signText)
	}
	return w, title, statement, 2*signPad + float64(len(title))*signTitle.line() + float64(len(statement))*signText.line() + 2*signRow
}

// SignOff prints the block: company, licence number, name, signature, date. It
// is never divided by a page break.
func (d *Doc) SignOff(s SignOff) {
	w, title, st, h := d.signOffSize(s)
	if h > d.BodyHeight() { // a long statement goes before the block
		d.flowLines(st, 0, signText)
		h -= float64(len(st)) * signText.line()
		st = nil
	}
	d.reserve(h)
	d.stroke(0.4, 0)
	d.pdf.Rect(d.left, d.y, d.Width(), h, "D")
	const rowH, gap = signRow, 6.0
	x, y := d.left+signPad, d.y+signPad
	for _, l := range title {
		d.drawLine(l, Rect{x, y, w, signTitle.line()}, signTitle)
		y += signTitle.line()
	}
	for _, l := range st {
		d.drawLine(l, Rect{x, y, w, signText.line()}, signText)
		y += signText.line()
	}
	type blank struct{ label, value string }
	row := func(shares []float64, fields []blank) {
		fx := x
		for i, f := range fields {
			fw := (w - gap*float64(len(fields)-1)) * shares[i]
			base := y + rowH - labelStyle.line() - 0.6
			d.stroke(0.25, 20)
			d.pdf.Line(fx, base, fx+fw, base)
			if v := d.oneLine(s.Field, f.value); v != "" {
				v = d.fit(v, fw, Body)
				d.drawLine(v, Rect{fx, base - Body.line() - 0.2, fw, Body.line()}, Body)
			}
			d.drawLine(d.fit(d.oneLine("label", f.label), fw, labelStyle), Rect{fx, base + 0.4, fw, labelStyle.line()}, labelStyle)
			fx += fw + gap
		}
		y += rowH
	}
	lb := s.Labels
	row([]float64{0.62, 0.38}, []blank{{lb.Company, s.Company}, {lb.Licence, s.Licence}})
	row([]float64{0.38, 0.38, 0.24}, []blank{{lb.Name, s.Name}, {lb.Signature, ""}, {lb.Date, ""}})
	d.y += h + 2
}
