package page

import (
	"slices"
	"strings"
)

// A Question is one question of a form to be filled in by hand: boxes to write
// in, words to tick, or a list's empty lines.
type Question struct {
	Group   string // heading over this question and those after it
	Must    bool   // marked with a filled square
	Text    string // the question
	Hint    string // small print under it
	Boxes   []Box
	Choices []string // words to tick instead of boxes
	Letters []string // in the squares to tick, one for each of two lines; none: one empty square
	Ticked  []string // the words that are known already, one for each letter
	Photo   bool     // a square to tick before the text, for a picture that is taken
	List    *Blank   // a list's lines instead
}

// A Box is a place to write in.
type Box struct {
	Label string // small, in its upper left corner
	Unit  string // small, in its lower right corner
	Known string // what is known already; the writer corrects it
	Kind  BoxKind
}

// A BoxKind says how much room an answer needs.
type BoxKind int

// The kinds of box.
const (
	Measure BoxKind = iota // a reading with its unit
	Short                  // a count
	Words                  // a name
)

// A Blank is a table to fill in by hand.
type Blank struct {
	Heads []string
	Known [][]string // lines that are known already
	Rows  int        // lines in all
}

// A FormHead opens a form to be filled in by hand.
type FormHead struct {
	Title    string
	Facts    []KV // what form it is; an empty one leaves a line to write on
	Text     []string
	Caution  string // the word before the cautions
	Cautions []string
}

// A FormType is the size of type in which questions are set; hints and labels
// never go below 7 pt.
type FormType float64

// BoxHeight is that of every box to write in, mm: room for any hand.
const BoxHeight = 8.0

const (
	questionCols = 2
	questionGap  = 4.0 // between the columns
	questionPad  = 0.7 // under a question
	boxGap       = 0.8
	mustWidth    = 2.9
	tickSize     = 2.9
	leastText    = 30.0 // beside boxes, the question has at least this
)

var boxWidths = map[BoxKind]float64{Measure: 24, Short: 14, Words: 40}

func (t FormType) question() Style { return Style{Size: float64(t), Leading: 1.13} }
func (t FormType) choice() Style   { return Style{Size: max(8, float64(t)-0.5), Leading: 1.2} }
func (t FormType) hint() Style     { return Style{Size: 7, Grey: 25, Leading: 1.1} }
func (t FormType) group() Style    { return Style{Size: float64(t) + 1, Bold: true, Leading: 1.2} }
func (t FormType) line() float64   { return max(3.6, t.choice().line()) }

// questionLayout is a question measured for a column.
type questionLayout struct {
	q          Question
	t          FormType
	text, hint []string
	choices    [][]string // lines of words
	heads      [][]string // of a list
	headH      float64
	height     float64
	textW      float64
	boxes      []float64 // widths
	beside     bool      // boxes or words stand beside the question
}

// Questions prints questions in two columns, the left one filled first, over
// as many pages as they need. Headings waiting above stay with the first.
func (d *Doc) Questions(t FormType, qs ...Question) {
	colW := (d.Width() - questionGap) / questionCols
	var ls []questionLayout
	for _, q := range qs {
		ls = append(ls, d.measureQuestion(t, q, colW))
	}
	for len(ls) > 0 {
		d.reserve(min(30, ls[0].height+1))
		height := d.Room()
		n, h := fitColumns(ls, height)
		top := d.y
		deepest := 0.0
		i := 0
		for col := range questionCols {
			y := top
			for i < n && (y-top)+ls[i].height <= h+0.001 {
				d.drawQuestion(ls[i], marginX+float64(col)*(colW+questionGap), y, colW)
				y += ls[i].height
				i++
			}
			deepest = max(deepest, y-top)
		}
		d.y = top + deepest
		ls = ls[i:]
		if len(ls) > 0 {
			d.newPage()
		}
	}
}

// fitColumns returns how many questions fit on the rest of a page, and the
// least column height that takes them.
func fitColumns(ls []questionLayout, height float64) (n int, h float64) {
	count := func(h float64) int {
		i := 0
		for range questionCols {
			y := 0.0
			for i < len(ls) && y+ls[i].height <= h+0.001 {
				y += ls[i].height
				i++
			}
		}
		return i
	}
	n = max(1, count(height))
	h = height
	for h > 5 && count(h-1) >= n {
		h--
	}
	if n == 1 {
		h = max(h, ls[0].height)
	}
	return n, h
}

func (d *Doc) measureQuestion(t FormType, q Question, colW float64) questionLayout {
	l := questionLayout{q: q, t: t}
	l.q.Text, l.q.Group = d.oneLine("question", q.Text), d.oneLine("question", q.Group)
	inner := colW - mustWidth
	l.textW = inner
	if q.Photo {
		l.textW -= tickSize + 1
	}
	boxH := 0.0
	switch {
	case q.List != nil:
		l.headH = d.measureHeads(&l, inner)
	case len(q.Choices) > 0:
		beside := 0.0
		for i, word := range q.Choices {
			l.q.Choices[i] = d.oneLine("question", word)
			beside += l.choiceWidth(word)
		}
		if l.beside = beside < inner*0.5; l.beside {
			l.textW = inner - beside - 1
		}
	default:
		total := boxGap * float64(len(q.Boxes)-1)
		for _, b := range q.Boxes {
			l.boxes = append(l.boxes, boxWidths[b.Kind])
			total += boxWidths[b.Kind]
		}
		if l.beside = l.textW-total-1.5 >= leastText; l.beside {
			l.textW -= total + 1.5
		} else {
			for i := range l.boxes { // the whole width, for all that stand under the question
				l.boxes[i] += (inner - total) / float64(len(l.boxes))
			}
		}
		boxH = BoxHeight
	}
	l.text = d.wrap(l.q.Text, l.textW, t.question())
	if q.Hint != "" {
		l.hint = d.wrap(d.Clean("question", q.Hint), l.textW, t.hint())
	}
	var widths []float64
	for _, word := range l.q.Choices { // into the first line with room for it
		need := l.choiceWidth(word)
		i := slices.IndexFunc(widths, func(w float64) bool { return w+need <= inner })
		if i < 0 {
			i = len(widths)
			widths, l.choices = append(widths, 0), append(l.choices, nil)
		}
		widths[i] += need
		l.choices[i] = append(l.choices[i], word)
	}
	l.height = float64(len(l.text))*t.question().line() + float64(len(l.hint))*t.hint().line()
	switch {
	case q.List != nil:
		l.height += l.headH + float64(q.List.Rows)*BoxHeight + 0.6
	case len(q.Choices) > 0 && l.beside:
		l.height = max(l.height, t.line())
	case len(q.Choices) > 0:
		l.height += float64(len(l.choices)) * t.line()
	case l.beside:
		l.height = max(l.height, boxH)
	default:
		l.height += boxH + 0.3
	}
	l.height += questionPad
	if q.Group != "" {
		l.height += t.group().line() + 1.6
	}
	return l
}

func (d *Doc) measureHeads(l *questionLayout, inner float64) (h float64) {
	w := inner / float64(max(1, len(l.q.List.Heads)))
	for _, head := range l.q.List.Heads {
		ls := d.wrap(d.oneLine("form", head), w-1.4, l.t.hint())
		l.heads = append(l.heads, ls)
		h = max(h, float64(len(ls))*l.t.hint().line()+0.8)
	}
	return h
}

func (l questionLayout) choiceWidth(word string) float64 {
	squares := float64(max(1, len(l.q.Letters)))
	return squares*(tickSize+0.5) + 0.5 + TextWidth(word, l.t.choice()) + 1.8
}

func (d *Doc) drawQuestion(l questionLayout, x, y, colW float64) {
	t := l.t
	if l.q.Group != "" {
		y += 0.8
		d.drawLine(l.q.Group, Rect{x, y, colW, t.group().line()}, t.group())
		y += t.group().line()
		d.stroke(0.25, 0)
		d.pdf.Line(x, y, x+colW, y)
		y += 0.8
	}
	if l.q.Must {
		d.fill(0)
		d.pdf.Rect(x, y+0.7, 1.9, 1.9, "F")
	}
	tx, ty := x+mustWidth, y
	if l.q.Photo {
		d.TickBox(tx, y+0.3, tickSize)
		tx += tickSize + 1
	}
	for _, s := range l.text {
		d.drawLine(s, Rect{tx, ty, l.textW, t.question().line()}, t.question())
		ty += t.question().line()
	}
	for _, s := range l.hint {
		d.drawLine(s, Rect{tx, ty, l.textW, t.hint().line()}, t.hint())
		ty += t.hint().line()
	}
	switch {
	case l.q.List != nil:
		d.drawBlank(l, x+mustWidth, ty, colW-mustWidth)
	case len(l.q.Choices) > 0:
		if l.beside {
			tx, ty = tx+l.textW+1, y
		}
		d.drawChoices(l, tx, ty)
	case len(l.boxes) > 0:
		bx, by := x+mustWidth, ty+0.3
		if l.beside {
			bx, by = tx+l.textW+1.5, y
		}
		for i, b := range l.q.Boxes {
			d.drawBox(t, b, Rect{bx, by, l.boxes[i], BoxHeight})
			bx += l.boxes[i] + boxGap
		}
	}
}

func (d *Doc) drawBox(t FormType, b Box, r Rect) {
	hint := t.hint()
	d.stroke(0.25, 0)
	d.pdf.Rect(r.X, r.Y, r.W, r.H, "D")
	d.writing = append(d.writing, PlacedBox{max(1, d.Pages()), r})
	if b.Label != "" {
		d.drawLine(d.fit(d.oneLine("question", b.Label), r.W-1.4, hint), Rect{r.X + 0.7, r.Y + 0.5, r.W - 1.4, hint.line()}, hint)
	}
	low := r.Y + r.H - hint.line() - 0.3
	room := r.W - 1.4
	if b.Unit != "" {
		w := TextWidth(b.Unit, hint) + 0.2
		room -= w + 0.6
		d.drawLine(b.Unit, Rect{r.X + r.W - w - 0.6, low, w, hint.line()}, hint)
	}
	if b.Known != "" {
		st := Style{Size: 8, Bold: true, Leading: 1.1}
		known := d.oneLine("answer", b.Known)
		lines := []string{known}
		if TextWidth(known, st) > room && b.Label == "" { // two lines of small type
			st.Size = 7
			lines = d.wrap(known, room, st)
			if len(lines) > 2 {
				lines = []string{lines[0], strings.Join(lines[1:], " ")}
			}
		}
		for i, s := range lines {
			y := r.Y + r.H - float64(len(lines)-i)*st.line() - 0.3
			d.drawLine(d.fit(s, room, st), Rect{r.X + 0.7, y, room, st.line()}, st)
		}
	}
}

func (d *Doc) drawChoices(l questionLayout, x, y float64) {
	letters := l.q.Letters
	if len(letters) == 0 {
		letters = []string{""}
	}
	for _, row := range l.choices {
		cx := x
		for _, word := range row {
			st := l.t.choice()
			at := cx
			for i, letter := range letters {
				d.TickBox(at, y+0.25, tickSize)
				if letter != "" {
					d.drawLine(letter, Rect{at, y + 0.25, tickSize, tickSize}, Style{Size: 7, Leading: 1.1, Align: Centre})
				}
				if i < len(l.q.Ticked) && l.q.Ticked[i] == word {
					d.stroke(0.5, 0)
					d.pdf.Line(at, y+0.25, at+tickSize, y+0.25+tickSize)
					d.pdf.Line(at, y+0.25+tickSize, at+tickSize, y+0.25)
				}
				at += tickSize + 0.5
			}
			d.drawLine(word, Rect{at + 0.5, y, TextWidth(word, st) + 0.01, st.line()}, st)
			cx += l.choiceWidth(word)
		}
		y += l.t.line()
	}
}

func (d *Doc) drawBlank(l questionLayout, x, y, w float64) {
	b := l.q.List
	hint := l.t.hint()
	cell := w / float64(max(1, len(l.heads)))
	for i, ls := range l.heads {
		hy := y + l.headH - float64(len(ls))*hint.line() - 0.3
		for _, s := range ls {
			d.drawLine(s, Rect{x + float64(i)*cell + 0.6, hy, cell - 1.2, hint.line()}, hint)
			hy += hint.line()
		}
	}
	y += l.headH
	for r := range b.Rows {
		for i := range l.heads {
			box := Box{}
			if r < len(b.Known) && i < len(b.Known[r]) {
				box.Known = b.Known[r][i]
			}
			d.drawBox(l.t, box, Rect{x + float64(i)*cell, y, cell, BoxHeight})
		}
		y += BoxHeight
	}
}

// Blanks prints a table to fill in by hand over the whole width.
func (d *Doc) Blanks(t FormType, title string, must bool, b Blank) {
	q := Question{Text: title, Must: must, List: &b}
	l := d.measureQuestion(t, q, d.Width())
	d.reserve(l.height + 1)
	d.drawQuestion(l, marginX, d.y, d.Width())
	d.y += l.height + 0.5
}

// FormHead prints the head of a form: its title, which form it is, how to fill
// it in, and the cautions.
func (d *Doc) FormHead(h FormHead) {
	title := Style{Size: 15, Bold: true, Leading: 1.2}
	text := Style{Size: 8, Leading: 1.18}
	bold := text.with(func(s *Style) { s.Bold = true })
	d.reserve(60)
	d.Bookmark(0, h.Title)
	d.titled = true
	name := d.oneLine("title", h.Title)
	d.drawLine(name, Rect{d.left, d.y, d.Width(), title.line()}, title)
	d.y += title.line() + 0.8
	parts := 0.0
	weight := func(f KV) float64 {
		if f.Wide {
			return 2
		}
		return 1
	}
	for _, f := range h.Facts {
		parts += weight(f)
	}
	x := d.left
	for _, f := range h.Facts {
		w := d.Width() * weight(f) / parts
		key := d.oneLine("fact", f.Key)
		kw := TextWidth(key, text) + 1.4
		d.drawLine(key, Rect{x, d.y, kw, text.line()}, text)
		if f.Value != "" {
			d.drawLine(d.fit(d.oneLine("fact", f.Value), w-kw-2, bold), Rect{x + kw, d.y, w - kw - 2, text.line()}, bold)
		} else {
			d.stroke(0.25, 0)
			d.pdf.Line(x+kw, d.y+text.line(), x+w-3, d.y+text.line())
		}
		x += w
	}
	d.y += text.line() + 1.4
	for _, p := range h.Text {
		for _, s := range d.wrap(d.Clean("form", p), d.Width(), text) {
			d.drawLine(s, Rect{d.left, d.y, d.Width(), text.line()}, text)
			d.y += text.line()
		}
	}
	d.y += 1
	if len(h.Cautions) > 0 {
		st := Style{Size: 8.5, Leading: 1.2}
		const pad = 1.2
		var lines []string
		for _, c := range h.Cautions {
			lines = append(lines, d.wrap(d.Clean("form", c), d.Width()-26, st)...)
		}
		height := float64(len(lines))*st.line() + 2*pad
		d.tint()
		d.pdf.Rect(d.left, d.y, d.Width(), height, "F")
		d.fill(0)
		d.pdf.Rect(d.left, d.y, cautionBar, height, "F")
		d.drawLine(h.Caution, Rect{d.left + 5, d.y + pad, 18, st.line()}, st.with(func(s *Style) { s.Bold = true }))
		for i, s := range lines {
			d.drawLine(s, Rect{d.left + 24, d.y + pad + float64(i)*st.line(), d.Width() - 26, st.line()}, st)
		}
		d.y += height + 0.8
	}
}

// A PlacedBox is a box to write in, and its page.
type PlacedBox struct {
	Page int
	Rect
}

// Writing lists the boxes to write in, in drawing order.
func (d *Doc) Writing() []PlacedBox { return append([]PlacedBox(nil), d.writing...) }
