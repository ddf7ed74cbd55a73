package page

import "strconv"

// A Question is one question of a form to be filled in by hand.
type Question struct {
	Group   string   // heading over this question and those after it
	Must    bool     // marked with a filled square
	Text    string   // the question
	Hint    string   // small print under it
	Unit    string   // printed behind the box
	Choices []string // words to tick instead of a box
	Short   bool     // a short box, for a count
	Tall    bool     // a box high enough for any hand: 8 mm
	Twins   []string // letters in two boxes side by side, for what is asked of each of two lines
}

var (
	questionStyle = Style{Size: 7.8, Leading: 1.14}
	hintStyle     = Style{Size: 6.5, Grey: 30, Leading: 1.12}
	choiceStyle   = Style{Size: 7.2, Leading: 1.3}
	groupStyle    = Style{Size: 8.6, Bold: true, Leading: 1.3}
)

const (
	questionCols = 2
	questionGap  = 5.0  // between the columns
	questionPad  = 0.55 // under a question
	boxWidth     = 20.0
	wideBox      = 38.0 // for words
	shortBox     = 12.0 // for a count
	unitWidth    = 9.0
	boxHeight    = 4.9
	tallBox      = 8.4 // with the gap under it: 8 mm to write in
	twinBox      = 17.0
	mustWidth    = 3.4
)

// questionLayout is a question measured for a column.
type questionLayout struct {
	q           Question
	text, hint  []string
	choices     [][]string // lines of words
	height      float64
	boxH        float64
	textW, boxW float64
	beside      bool // the words to tick stand beside the question
}

// Questions prints questions in two columns, the left one filled first, over
// as many pages as they need. Headings waiting above stay with the first.
func (d *Doc) Questions(qs ...Question) {
	colW := (d.Width() - questionGap) / questionCols
	var ls []questionLayout
	for _, q := range qs {
		ls = append(ls, d.measureQuestion(q, colW))
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

func (d *Doc) measureQuestion(q Question, colW float64) questionLayout {
	l := questionLayout{q: q}
	l.q.Text, l.q.Group, l.q.Unit = d.oneLine("question", q.Text), d.oneLine("question", q.Group), d.oneLine("question", q.Unit)
	inner := colW - mustWidth
	l.textW = inner
	l.boxH = boxHeight
	if q.Tall {
		l.boxH = tallBox
	}
	switch {
	case len(q.Twins) > 0:
		l.boxW = twinBox*float64(len(q.Twins)) + 1
		l.textW = inner - l.boxW - unitWidth - 2
	case len(q.Choices) == 0:
		l.boxW = boxWidth
		if q.Unit == "" {
			l.boxW = wideBox
			if q.Short {
				l.boxW = shortBox
			}
			l.textW = inner - l.boxW - 2
		} else {
			l.textW = inner - boxWidth - unitWidth - 2
		}
	}
	beside := 0.0
	for _, word := range q.Choices {
		beside += choiceWidth(word)
	}
	if l.beside = len(q.Choices) > 0 && beside < inner*0.42; l.beside {
		l.textW = inner - beside - 1
	}
	l.text = d.wrap(l.q.Text, l.textW, questionStyle)
	if q.Hint != "" {
		l.hint = d.wrap(d.Clean("question", q.Hint), l.textW, hintStyle)
	}
	row, w := []string{}, 0.0
	for _, word := range q.Choices {
		word = d.oneLine("question", word)
		need := choiceWidth(word)
		if len(row) > 0 && w+need > inner {
			l.choices = append(l.choices, row)
			row, w = nil, 0
		}
		row = append(row, word)
		w += need
	}
	if len(row) > 0 {
		l.choices = append(l.choices, row)
	}
	l.height = float64(len(l.text))*questionStyle.line() + float64(len(l.hint))*hintStyle.line()
	if !l.beside {
		l.height += float64(len(l.choices)) * choiceLine
	} else {
		l.height = max(l.height, choiceLine)
	}
	if len(q.Choices) == 0 {
		l.height = max(l.height, l.boxH)
	}
	l.height += questionPad
	if q.Group != "" {
		l.height += groupStyle.line() + 1.2
	}
	return l
}

const choiceLine = 3.5

func choiceWidth(word string) float64 { return TextWidth(word, choiceStyle) + 3.0 + 2.6 }

func (d *Doc) drawQuestion(l questionLayout, x, y, colW float64) {
	if l.q.Group != "" {
		y += 0.8
		d.drawLine(l.q.Group, Rect{x, y, colW, groupStyle.line()}, groupStyle)
		y += groupStyle.line()
		d.stroke(0.25, 0)
		d.pdf.Line(x, y, x+colW, y)
		y += 0.4
	}
	if l.q.Must {
		d.fill(0)
		d.pdf.Rect(x, y+0.9, 1.9, 1.9, "F")
	}
	if len(l.q.Choices) == 0 {
		bx := x + colW - l.boxW
		if l.q.Unit != "" {
			bx -= unitWidth
			d.drawLine(d.fit(l.q.Unit, unitWidth-1, choiceStyle), Rect{bx + l.boxW + 1, y, unitWidth - 1, boxHeight}, choiceStyle)
		}
		d.stroke(0.25, 0)
		if len(l.q.Twins) == 0 {
			d.pdf.Rect(bx, y, l.boxW, l.boxH-0.4, "D")
		}
		for i, letter := range l.q.Twins {
			at := bx + float64(i)*(twinBox+1)
			d.pdf.Rect(at, y, twinBox, l.boxH-0.4, "D")
			d.drawLine(letter, Rect{at + 0.7, y, 3, questionStyle.line()}, hintStyle)
		}
	}
	tx, ty := x+mustWidth, y
	for _, s := range l.text {
		d.drawLine(s, Rect{tx, ty, l.textW, questionStyle.line()}, questionStyle)
		ty += questionStyle.line()
	}
	for _, s := range l.hint {
		d.drawLine(s, Rect{tx, ty, l.textW, hintStyle.line()}, hintStyle)
		ty += hintStyle.line()
	}
	if l.beside {
		tx, ty = tx+l.textW+1, y-0.3
	}
	for _, row := range l.choices {
		cx := tx
		for _, word := range row {
			d.TickBox(cx, ty+0.5, 2.3)
			d.drawLine(word, Rect{cx + 3.0, ty, TextWidth(word, choiceStyle) + 0.01, choiceLine - 0.3}, choiceStyle)
			cx += choiceWidth(word)
		}
		ty += choiceLine
	}
}

// Blanks prints a table to fill in by hand: heads, and n numbered empty lines of a height, mm.
func (d *Doc) Blanks(title string, heads []string, n int, rowH float64) {
	rowH = max(rowH, boxHeight)
	title = d.oneLine("form", title)
	numW := 6.0
	w := (d.Width() - numW) / float64(max(1, len(heads)))
	headH := 0.0
	var lines [][]string
	for _, h := range heads {
		ls := d.wrap(d.oneLine("form", h), w-1.4, hintStyle)
		lines = append(lines, ls)
		headH = max(headH, float64(len(ls))*hintStyle.line()+1)
	}
	d.reserve(groupStyle.line() + headH + float64(n)*rowH + 3)
	d.y += 1.6
	d.drawLine(d.fit(title, d.Width(), groupStyle), Rect{marginX, d.y, d.Width(), groupStyle.line()}, groupStyle)
	d.y += groupStyle.line() + 0.4
	for i, ls := range lines {
		y := d.y + headH - float64(len(ls))*hintStyle.line() - 0.4
		for _, s := range ls {
			d.drawLine(s, Rect{marginX + numW + float64(i)*w + 0.6, y, w - 1.2, hintStyle.line()}, hintStyle)
			y += hintStyle.line()
		}
	}
	d.y += headH
	d.stroke(0.25, 0)
	for r := range n {
		d.drawLine(strconv.Itoa(r+1), Rect{marginX, d.y, numW - 1, boxHeight}, hintStyle)
		for i := range heads {
			d.pdf.Rect(marginX+numW+float64(i)*w, d.y, w, rowH, "D")
		}
		d.y += rowH
	}
	d.y += 1
}
