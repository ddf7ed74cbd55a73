package pdf

import (
	"firstfill/render/page"
	"firstfill/specs/check"
)

// photos prints the survey's pictures with their captions: all of them, or
// those that concern one trade.
func (s *sheets) photos(t check.Trade) {
	var list []page.Photo
	for i, p := range s.o.Photos {
		if t != "" && p.Concerns != "" && p.Concerns != t {
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
	s.start(s.w.Headings.Photos)
	s.title(s.w.Headings.Photos, siteName(s.r))
	s.Photos(list...)
}
