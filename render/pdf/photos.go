package pdf

import (
	"firstfill/render/page"
	"firstfill/specs/check"
)

// photos prints the pictures that concern a trade at the end of its sheet, and
// on the summary, for which no trade is named, those that concern none.
func (s *sheets) photos(t check.Trade) {
	var list []page.Photo
	for i, p := range s.o.Photos {
		if p.Concerns != t {
			continue
		}
		caption := p.Caption
		if caption == "" {
			caption = p.Name
		}
		list = append(list, page.Photo{Name: p.Name, Caption: caption, Data: p.Data, Ref: plain(i + 1)})
	}
	if len(list) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Photos)
	s.Photos(list...)
}

// pictures prepares the photographs of a packet, or of one trade's sheet alone.
func (o Options) pictures(alone check.Trade) *page.Pictures {
	var files [][]byte
	for _, p := range o.Photos {
		if alone == "" || p.Concerns == alone {
			files = append(files, p.Data)
		}
	}
	return page.NewPictures(files...)
}
