package pdf

import (
	"firstfill/render/drawing"
	"firstfill/render/page"
	"firstfill/specs/check"
)

// The least and the most that drawings take on a sheet, in millimetres: they
// take what is left of the page between them.
const leastDrawing, mostDrawing = 42.0, 86.0

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
	text := drawing.Under(dr)
	height := min(mostWay, s.Room()-10-lineHeight(under)*float64(len(page.Wrap(s.Clean("drawing", text), s.Width(), under))))
	if height < leastWay {
		return
	}
	s.Strip(height, page.Part{Title: dr.Title, Canvas: dr.Canvas, Share: 1})
	s.StyledParagraph(text, under)
}

// fitted is how high the drawings of builder and plumber are: as high as they
// can be without another page. The search sketches them, which is fast and may
// be a line short, so that what it finds is laid out once as it will be printed.
func (s *sheets) fitted(o page.Options, t check.Trade) (height float64, err error) {
	const step = 2.0
	pages := func(h float64, sketch bool) (n int) {
		own := *s
		own.o.Duplex, own.sketch, own.heights = false, sketch, map[check.Trade]float64{t: h}
		d, e := page.Sketch(o, func(d *page.Doc) {
			own.Doc = d
			own.trade(t)
		})
		if e != nil {
			err = e
			return 0
		}
		return d.Pages()
	}
	least := pages(leastDrawing, false)
	low, high := 0, int((mostDrawing-leastDrawing)/step)+1 // in steps above the least; low fits
	for high-low > 1 {
		if mid := (low + high) / 2; pages(leastDrawing+step*float64(mid), true) > least {
			high = mid
		} else {
			low = mid
		}
	}
	for low > 0 && pages(leastDrawing+step*float64(low), false) > least {
		low--
	}
	return leastDrawing + step*float64(low), err
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
	for i, dr := range list {
		if dr.Canvas != nil {
			parts = append(parts, page.Part{Title: dr.Title, Canvas: dr.Canvas, Share: shares[i]})
		}
	}
	text := drawing.Under(list...)
	if faces := s.faces(); t == check.Electrician && len(faces) > 0 {
		parts = append(parts, page.Part{Title: s.say("face.title"), Faces: faces, Share: 0.28})
		text = join(" ", text, s.say("face.note"))
	} else if plug := s.supply().Plug; t == check.Electrician && plug != "" && len(faces) == 0 {
		text = join(" ", text, s.say("face.none", "name", quote(plug)))
	}
	under := page.Style{Size: 8, Grey: 10, Leading: 1.2}
	if len(parts) > 0 {
		below := 5 + lineHeight(under)*float64(len(page.Wrap(s.Clean("drawing", text), s.Width(), under)))
		height := min(mostDrawing, s.Room()-below)
		if h, ok := s.heights[t]; ok {
			height = h
		} else if height < leastDrawing {
			height = min(mostDrawing, s.BodyHeight()-below)
		}
		s.Need(height + below)
		if s.sketch { // a line more, for what finds no room
			s.Advance(height + lineHeight(page.Small) + 2)
			parts = nil
		}
		s.Strip(height, parts...)
	}
	s.StyledParagraph(text, under)
}
