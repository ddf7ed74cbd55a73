package pdf

import (
	"firstfill/render/drawing"
	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs/check"
)

// The most that one drawing takes on a sheet, in millimetres; the plumber's has
// the most in it.
const drawingHeight, plumbingHeight = 90.0, 106.0

// drawings prints a trade's drawings to scale and its supply diagrams, under
// the numbers of its sheet. Owner and supplier have none.
func drawings(d *page.Doc, r *words.Report, t check.Trade) {
	switch t {
	case check.Electrician:
		put(d, drawing.Elevation(r, t), drawingHeight)
		supplies(d, r, 'E')
	case check.Plumber:
		put(d, drawing.Elevation(r, t), plumbingHeight)
		supplies(d, r, 'W')
	case check.Builder:
		put(d, drawing.Elevation(r, t), drawingHeight)
		put(d, drawing.Plan(r, t), drawingHeight)
	}
}

// put prints a drawing with its conflicts and its notes.
func put(d *page.Doc, dr drawing.Drawing, height float64) {
	if dr.Canvas != nil { // with its heading and legend
		d.Need(d.DrawnHeight(dr.Canvas, height) + 20 + 5*float64(len(dr.Legend)))
	}
	d.Heading(2, dr.Title)
	if dr.Canvas != nil {
		d.Draw(dr.Canvas, height)
	}
	for _, l := range dr.Legend {
		d.StyledParagraph(l, page.Body)
	}
	d.StyledParagraph(dr.Note, page.Small)
}

// supplies prints the chains that checks of one subject computed.
func supplies(d *page.Doc, r *words.Report, subject byte) {
	for _, s := range drawing.Supplies(r) {
		if s.ID[0] == subject {
			d.Heading(3, s.Title)
			d.Chain(s.Nodes)
		}
	}
}
