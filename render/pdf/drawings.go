package pdf

import (
	"slices"
	"strings"

	"firstfill/render/drawing"
	"firstfill/render/page"
	"firstfill/specs/check"
)

// The least and the most that drawings take on a sheet, in millimetres: they
// take what is left of the page between them.
const leastDrawing, mostDrawing = 42.0, 86.0

// The builder's sheet is one page where its work is short, the plumber's three.
const builderDrawing, plumberDrawing = 43.0, 66.0

// The way in is drawn where at least this much is left of the supplier's page.
const leastWay, mostWay = 44.0, 75.0

// wayDrawn draws the way in to scale at the end of the supplier's sheet, where
// there is room; its numbers stand in the table.
func (s *sheets) wayDrawn() {
	dr := drawing.Way(s.r)
	if dr.Canvas == nil {
		return
	}
	under := page.Style{Size: 8, Grey: 10, Leading: 1.2}
	text := join(" ", strings.Join(dr.Legend, " "), dr.Note)
	height := min(mostWay, s.Room()-10-lineHeight(under)*float64(len(page.Wrap(s.Clean("drawing", text), s.Width(), under))))
	if height < leastWay {
		return
	}
	s.Strip(height, page.Part{Title: dr.Title, Canvas: dr.Canvas, Share: 1})
	s.StyledParagraph(text, under)
}

// builderHeight is what the builder's drawings take: less where the work is
// longer, so that the sheet stays one page, and where that can't be, more.
func (s *sheets) builderHeight() float64 {
	const (
		least = 37.0
		task  = 11.0  // of one line, in the work list
		words = 135.0 // width of what is to be done
	)
	h := builderDrawing
	for i, k := range s.tasks(check.Builder) {
		st := page.Style{Size: 9.5, Leading: 1.25}
		h -= lineHeight(st) * float64(len(page.Wrap(k.text, words, st))-1)
		if i > 0 {
			h -= task
		}
	}
	if h < least {
		return plumberDrawing
	}
	return h
}

// pictures prints a trade's drawings to scale, side by side, and beside the
// electrician's the receptacle. Owner and supplier have none.
func (s *sheets) pictures(t check.Trade) {
	elevation := drawing.Elevation(s.r, t)
	list := []drawing.Drawing{elevation}
	shares := []float64{1}
	if t != check.Electrician {
		list = append(list, drawing.Plan(s.r, t))
		shares = []float64{0.58, 0.42}
	}
	var parts []page.Part
	var legend, notes []string
	for i, dr := range list {
		if dr.Canvas != nil {
			parts = append(parts, page.Part{Title: dr.Title, Canvas: dr.Canvas, Share: shares[i]})
		}
		for _, l := range dr.Legend {
			if !slices.Contains(legend, l) {
				legend = append(legend, l)
			}
		}
		for _, n := range strings.SplitAfter(dr.Note, ". ") { // what both say is said once
			if n = strings.TrimSpace(n); n != "" && !slices.Contains(notes, n) {
				notes = append(notes, n)
			}
		}
	}
	if faces := s.faces(); t == check.Electrician && len(faces) > 0 {
		parts = append(parts, page.Part{Title: s.say("face.title"), Faces: faces, Share: 0.28})
		notes = append(notes, s.say("face.note"))
	} else if plug := s.supply().Plug; t == check.Electrician && plug != "" && len(faces) == 0 {
		notes = append(notes, s.say("face.none", "name", quote(plug)))
	}
	under := page.Style{Size: 8, Grey: 10, Leading: 1.2}
	text := join(" ", strings.Join(legend, " "), strings.Join(notes, " "))
	if len(parts) > 0 {
		below := 5 + lineHeight(under)*float64(len(page.Wrap(s.Clean("drawing", text), s.Width(), under)))
		height := min(mostDrawing, s.Room()-below)
		switch {
		case t == check.Builder:
			height = s.builderHeight()
		case t == check.Plumber:
			height = plumberDrawing
		case height < leastDrawing:
			height = min(mostDrawing, s.BodyHeight()-below)
		}
		s.Need(height + below)
		s.Strip(height, parts...)
	}
	s.StyledParagraph(text, under)
}
