package page

import (
	"slices"
	"strings"
)

// A Part is one drawing of a strip; Share is its part of the width.
type Part struct {
	Title  string
	Canvas *Canvas
	Share  float64
	Faces  []FaceSpec // receptacles under one another, in place of a drawing
}

var partTitle = Style{Size: 9.5, Bold: true, Leading: 1.25}

// Strip draws several drawings side by side, each with its title, at the same
// height, and under them what found no place in them.
func (d *Doc) Strip(height float64, parts ...Part) {
	const gap = 4.0
	total := 0.0
	for _, p := range parts {
		total += p.Share
	}
	if total == 0 {
		return
	}
	d.reserve(min(height, d.BodyHeight()))
	w := d.Width() - gap*float64(len(parts)-1)
	x := d.left
	text, keys := "", 0
	for _, p := range parts {
		pw := w * p.Share / total
		d.drawLine(d.fit(d.oneLine("drawing", p.Title), pw, partTitle), Rect{x, d.y, pw, partTitle.line()}, partTitle)
		body := Rect{x, d.y + partTitle.line() + 1, pw, height - partTitle.line() - 1}
		if p.Canvas != nil {
			p.Canvas.first, p.Canvas.barIn = keys, Rect{x, d.y, pw, partTitle.line()}
			d.DrawIn(p.Canvas, body)
			keys += len(p.Canvas.keys)
			text = more(text, p.Canvas.leftOver())
		} else {
			d.faceColumn(body, p.Faces)
		}
		x += pw + gap
	}
	d.y += height + 1
	if text != "" {
		d.flowLines(d.wrap(text, d.Width(), Small), 0, Small)
		d.y++
	}
}

// leftOver says what a drawing had no room for: keys of its letters, and what isn't shown.
func (c *Canvas) leftOver() string {
	text := ""
	for i, k := range c.keys {
		text = more(text, keyLetter(c.first+i)+"\u00a0=\u00a0"+k)
	}
	if len(c.hidden) > 0 {
		text = more(text, say("drawing.no-room", "texts", strings.Join(slices.Compact(slices.Sorted(slices.Values(c.hidden))), "; ")))
	}
	return text
}

func more(text, next string) string {
	switch {
	case text == "":
		return next
	case next == "":
		return text
	}
	return text + "  ·  " + next
}

// faceColumn draws receptacles under one another, each with its name under it.
func (d *Doc) faceColumn(r Rect, faces []FaceSpec) {
	if len(faces) == 0 {
		return
	}
	name := Style{Size: 8.5, Bold: true, Align: Centre, Leading: 1.22}
	h := r.H / float64(len(faces))
	for i, f := range faces {
		lines := d.wrap(d.Clean("face", f.Name), r.W, name)
		size := min(r.W-4, h-float64(len(lines))*name.line()-2.5, 30)
		y := r.Y + float64(i)*h
		d.Face(r.X+(r.W-size)/2, y, size, f)
		y += size + 0.6
		for _, l := range lines {
			d.drawLine(l, Rect{r.X, y, r.W, name.line()}, name)
			y += name.line()
		}
	}
}
