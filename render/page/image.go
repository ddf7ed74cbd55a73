package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // photos and drawings come as PNG too
	"runtime"
	"sync"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/draw"
)

// Limits on a picture. Memory is reckoned before it is decoded: a picture of a
// few kilobytes may ask for gigabytes, or be drawn over itself a thousand times.
const (
	maxPixels   = 50_000_000
	maxSide     = 20_000    // pixels
	maxDecoded  = 256 << 20 // bytes that the decoder takes
	maxScans    = 40        // of a progressive JPEG; cameras and web pages write some ten
	maxPhotoW   = 1200      // pixels as printed: 330 to the inch where two stand side by side
	jpegQuality = 82
)

// Photo is a picture with its caption. Data is a JPEG or PNG file.
type Photo struct {
	Name    string // named in warnings and printed when the file cannot be read
	Data    []byte
	Caption string
	Ref     string // short reference, in a circle
	Bare    bool   // without the thin frame
}

// prepared is a picture ready for the document: upright, small, without the
// camera's data.
type prepared struct {
	jpeg []byte
	w, h int
	err  error
}

// Pictures are pictures prepared for printing, kept over the passes of one
// document and for several documents of the same photographs. They aren't safe
// for concurrent use.
//
// The PDF writer orders pictures by pixel width alone and pictures of the same
// width at random, so that every picture here gets a width of its own, given
// out in the order of first use.
type Pictures struct {
	done map[string]prepared // by digest
	used map[int]bool        // widths given out
}

// NewPictures prepares photographs on all processors, one at a time on each.
func NewPictures(files ...[]byte) *Pictures {
	c := &Pictures{done: map[string]prepared{}, used: map[int]bool{}}
	type job struct {
		key string
		sizing
		data []byte
	}
	var jobs []job
	for _, data := range files {
		key := digest(data)
		if _, ok := c.done[key]; ok {
			continue
		}
		size, err := c.size(data)
		if c.done[key] = (prepared{err: err}); err == nil {
			jobs = append(jobs, job{key, size, data})
		}
	}
	results := make([]prepared, len(jobs))
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(len(jobs), runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				results[i] = jobs[i].prepare(jobs[i].data)
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	workers.Wait()
	for i, j := range jobs {
		c.done[j.key] = results[i]
	}
	return c
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func (c *Pictures) get(data []byte) (string, prepared) {
	key := digest(data)
	if p, ok := c.done[key]; ok {
		return key, p
	}
	p := prepared{}
	size, err := c.size(data)
	if p.err = err; err == nil {
		p = size.prepare(data)
	}
	c.done[key] = p
	return key, p
}

// sizing is how a picture will be stored: upright as seen, and as the camera
// wrote it.
type sizing struct {
	w, h        int // as seen
	orientation int
}

// size reads a picture's head, refuses what is out of all bounds and gives it
// its width.
func (c *Pictures) size(data []byte) (sizing, error) {
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return sizing{}, err
	case cfg.Width <= 0 || cfg.Height <= 0:
		return sizing{}, errors.New("picture has no pixels")
	case cfg.Width > maxSide || cfg.Height > maxSide || cfg.Width*cfg.Height > maxPixels:
		return sizing{}, fmt.Errorf("picture of %d × %d pixels is above the limit of %d megapixels and %d pixels a side", cfg.Width, cfg.Height, maxPixels/1_000_000, maxSide)
	case format == "jpeg" && bytes.Count(data, []byte("\xff\xda")) > maxScans: // start of scan, ITU-T T.81, table B.1
		return sizing{}, fmt.Errorf("picture is drawn in more than %d scans; save it anew as a plain JPEG", maxScans)
	case cfg.Width*cfg.Height*bytesPerPixel(data, format, cfg.ColorModel) > maxDecoded:
		return sizing{}, fmt.Errorf("picture of %d × %d pixels takes more than %d MB to read; save it anew as a plain JPEG", cfg.Width, cfg.Height, maxDecoded>>20)
	}
	s := sizing{w: cfg.Width, h: cfg.Height, orientation: orientation(data)}
	if s.orientation >= 5 {
		s.w, s.h = s.h, s.w
	}
	w := c.width(min(s.w, maxPhotoW))
	s.w, s.h = w, max(1, min((s.h*w+s.w/2)/s.w, 4*maxPhotoW))
	return s, nil
}

// bytesPerPixel is what a decoder takes at the most for a pixel.
func bytesPerPixel(data []byte, format string, m color.Model) int {
	n := 4
	switch m {
	case color.RGBA64Model, color.NRGBA64Model:
		n = 8
	case color.GrayModel:
		n = 1
	case color.Gray16Model:
		n = 2
	case color.YCbCrModel:
		n = 3
	}
	const interlaced = 28 // PNG, IHDR: 8 of signature, 8 of length and type, then the thirteenth byte
	switch {
	case format == "jpeg" && bytes.Contains(data, []byte("\xff\xc2")): // progressive, T.81, table B.1: a coefficient of four bytes for each sample
		n += 4 * n
	case format == "png" && len(data) > interlaced && data[interlaced] == 1:
		n *= 2
	}
	return n
}

// prepare decodes a picture and makes it small, upright and white where it is
// clear.
func (s sizing) prepare(data []byte) prepared {
	img, err := decode(data)
	if err != nil {
		return prepared{err: err}
	}
	stored := image.Rect(0, 0, s.w, s.h)
	if s.orientation >= 5 {
		stored = image.Rect(0, 0, s.h, s.w)
	}
	for img.Bounds().Dx() >= 2*stored.Dx() && img.Bounds().Dy() >= 2*stored.Dy() { // at a half, it is the mean of four
		half := image.NewRGBA(image.Rect(0, 0, img.Bounds().Dx()/2, img.Bounds().Dy()/2))
		onWhite(half, img)
		img = half
	}
	dst := image.NewRGBA(stored)
	onWhite(dst, img)
	dst = orient(dst, s.orientation)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, dst, &jpeg.Options{Quality: jpegQuality}); err != nil {
		return prepared{err: err}
	}
	return prepared{jpeg: b.Bytes(), w: s.w, h: s.h}
}

func onWhite(dst *image.RGBA, src image.Image) {
	op := draw.Over
	if o, ok := src.(interface{ Opaque() bool }); ok && o.Opaque() {
		op = draw.Src
	} else {
		draw.Draw(dst, dst.Bounds(), image.White, image.Point{}, draw.Src)
	}
	draw.ApproxBiLinear.Scale(dst, dst.Bounds(), src, src.Bounds(), op, nil)
}

// width gives out a width near want that no other picture has.
func (c *Pictures) width(want int) int {
	for w := want; w >= max(1, want*3/4); w-- {
		if !c.used[w] {
			c.used[w] = true
			return w
		}
	}
	for w := want + 1; ; w++ {
		if !c.used[w] {
			c.used[w] = true
			return w
		}
	}
}

func decode(data []byte) (img image.Image, err error) {
	defer func() { // decoders have met hostile files before
		if r := recover(); r != nil {
			err = fmt.Errorf("decoder failed: %v", r)
		}
	}()
	img, _, err = image.Decode(bytes.NewReader(data))
	return img, err
}

// orient applies an Exif orientation. TIFF 6.0, tag 274, says where row 0 and
// column 0 of the stored picture are seen:
// 1 top left, 2 top right, 3 bottom right, 4 bottom left, 5 left top,
// 6 right top, 7 right bottom, 8 left bottom.
func orient(src *image.RGBA, o int) *image.RGBA {
	if o <= 1 || o > 8 {
		return src
	}
	b := src.Bounds()
	w, h := b.Dx(), b.Dy()
	dw, dh := w, h
	if o >= 5 {
		dw, dh = h, w
	}
	dst := image.NewRGBA(image.Rect(0, 0, dw, dh))
	for y := range h {
		for x := range w {
			var dx, dy int
			switch o {
			case 2:
				dx, dy = w-1-x, y
			case 3:
				dx, dy = w-1-x, h-1-y
			case 4:
				dx, dy = x, h-1-y
			case 5:
				dx, dy = y, x
			case 6:
				dx, dy = h-1-y, x
			case 7:
				dx, dy = h-1-y, w-1-x
			case 8:
				dx, dy = y, w-1-x
			}
			dst.SetRGBA(dx, dy, src.RGBAAt(b.Min.X+x, b.Min.Y+y))
		}
	}
	return dst
}

// Photo draws a picture inside r, aspect kept, at the top left, with a thin
// frame, and returns the height used. A picture that cannot be read becomes a
// frame that says so, and a warning.
func (d *Doc) Photo(r Rect, p Photo) float64 {
	d.ensurePage()
	key, pic := d.pics.get(p.Data)
	if pic.err == nil && d.images[key] == "" {
		info := d.pdf.RegisterImageOptionsReader(key, fpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(pic.jpeg))
		if info != nil && d.pdf.Ok() {
			d.images[key] = key
		}
	}
	if pic.err != nil {
		r.H = min(r.H, r.W*0.75)
		name := d.oneLine("photo", p.Name)
		d.Warn(name, "photo could not be read: "+pic.err.Error())
		d.stroke(0.3, 0)
		d.pdf.SetDashPattern([]float64{2, 1.5}, 0)
		d.pdf.Rect(r.X, r.Y, r.W, r.H, "D")
		d.pdf.SetDashPattern([]float64{}, 0)
		st := Style{Size: 9, Align: Centre}
		lines := d.wrap(name+"\ncould not be read", r.W-6, st)
		if most := int((r.H - 4) / st.line()); len(lines) > most {
			lines = d.wrap("could not be read", r.W-6, st)
		}
		y := r.Y + (r.H-float64(len(lines))*st.line())/2
		for _, s := range lines {
			d.drawLine(s, Rect{r.X + 3, y, r.W - 6, st.line()}, st)
			y += st.line()
		}
		return r.H
	}
	w, h := pic.in(r.W, r.H)
	d.pdf.ImageOptions(key, r.X, r.Y, w, h, false, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
	if !p.Bare {
		d.stroke(0.2, 35)
		d.pdf.Rect(r.X, r.Y, w, h, "D")
	}
	if p.Ref != "" {
		d.Balloon(r.X+4.2, r.Y+4.2, 3, p.Ref)
	}
	return h
}

// in is the printed size inside w × h millimetres, aspect kept.
func (p prepared) in(w, h float64) (float64, float64) {
	ph := w * float64(p.h) / float64(p.w)
	if ph > h {
		return h * float64(p.w) / float64(p.h), h
	}
	return w, ph
}

var captionStyle = Style{Size: 8.5, Leading: 1.28}

// Photos prints pictures two by two, four upright ones to a page, each with its
// caption under it.
func (d *Doc) Photos(photos ...Photo) {
	const gap, most = 6.0, 6
	w := (d.Width() - gap) / 2
	for i := 0; i < len(photos); i += 2 {
		row := photos[i:min(i+2, len(photos))]
		caps := make([][]string, len(row))
		lines := 0
		for k, p := range row {
			if p.Caption != "" {
				caps[k] = d.wrap(d.Clean(p.Name, p.Caption), w, captionStyle)
			}
			lines = max(lines, min(most, len(caps[k])))
		}
		// Two rows share a page, less what a heading already took.
		limit := (d.BodyHeight()-14-2*gap)/2 - float64(lines)*captionStyle.line() - 2
		block := 0.0
		for k, p := range row {
			h := min(limit, w*0.75) // of the frame of an unreadable one
			if _, pic := d.pics.get(p.Data); pic.err == nil {
				_, h = pic.in(w, limit)
			}
			block = max(block, h+1.5+float64(min(most, len(caps[k])))*captionStyle.line())
		}
		d.reserve(block)
		for k, p := range row {
			x := marginX + float64(k)*(w+gap)
			y := d.y + d.Photo(Rect{x, d.y, w, limit}, p) + 1.5
			for n, s := range caps[k] {
				if n == most {
					break
				}
				d.drawLine(s, Rect{x, y, w, captionStyle.line()}, captionStyle)
				y += captionStyle.line()
			}
		}
		d.y += block + gap
		for k := range row {
			if len(caps[k]) > most { // a long caption goes on under the row
				d.flowLines(caps[k][most:], 0, captionStyle)
				d.y += 1.5
			}
		}
	}
}
