package page

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

// exifBlock is a TIFF block with one orientation entry.
func exifBlock(o uint16, order binary.ByteOrder) []byte {
	var b bytes.Buffer
	mark := "II"
	if order == binary.ByteOrder(binary.BigEndian) {
		mark = "MM"
	}
	b.WriteString(mark)
	w := func(v any) { binary.Write(&b, order, v) }
	w(uint16(42))
	w(uint32(8))
	w(uint16(2))
	w(uint16(271)) // another tag before it
	w(uint16(2))
	w(uint32(1))
	w(uint32(0))
	w(uint16(274))
	w(uint16(3))
	w(uint32(1))
	w(o)
	w(uint16(0))
	w(uint32(0))
	return b.Bytes()
}

func withExif(jpg, block []byte) []byte {
	seg := append([]byte("Exif\x00\x00"), block...)
	out := append([]byte{}, jpg[:2]...)
	out = append(out, 0xFF, 0xE1, byte((len(seg)+2)>>8), byte(len(seg)+2))
	out = append(out, seg...)
	return append(out, jpg[2:]...)
}

// sides colours row 0 and column 0 of a stored picture.
func sides(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{255, 255, 255, 255}
			switch {
			case y < h/4:
				c = color.RGBA{255, 0, 0, 255} // row 0
			case x < w/4:
				c = color.RGBA{0, 0, 255, 255} // column 0
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

// Where row 0 and column 0 are seen, word for word from TIFF 6.0 (Adobe,
// 1992), section 8, tag 274 Orientation; Exif 2.3 uses the same tag.
var orientations = []struct {
	o        uint16
	row, col string
}{
	{1, "top", "left"}, {2, "top", "right"}, {3, "bottom", "right"}, {4, "bottom", "left"},
	{5, "left", "top"}, {6, "right", "top"}, {7, "right", "bottom"}, {8, "left", "bottom"},
}

func TestOrientation(t *testing.T) {
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, sides(160, 80), &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	for _, c := range orientations {
		for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
			_, p := NewPictures().get(withExif(jpg.Bytes(), exifBlock(c.o, order)))
			if p.err != nil {
				t.Fatal(p.err)
			}
			img, err := jpeg.Decode(bytes.NewReader(p.jpeg))
			if err != nil {
				t.Fatal(err)
			}
			w, h := img.Bounds().Dx(), img.Bounds().Dy()
			if (c.o >= 5) != (h > w) {
				t.Errorf("orientation %d: got %d × %d", c.o, w, h)
			}
			// The middle of each side: red is row 0, blue is column 0.
			at := map[string]image.Point{"top": {w / 2, h / 10}, "bottom": {w / 2, h - 1 - h/10}, "left": {w / 10, h / 2}, "right": {w - 1 - w/10, h / 2}}
			for side, p := range at {
				r, g, b, _ := img.At(p.X, p.Y).RGBA()
				got := "white"
				if r>>8 > 150 && b>>8 < 100 {
					got = "row 0"
				} else if b>>8 > 150 && r>>8 < 100 {
					got = "column 0"
				}
				want := "white"
				if side == c.row {
					want = "row 0"
				} else if side == c.col {
					want = "column 0"
				}
				if got != want {
					t.Errorf("orientation %d: %s side is %s (%d %d %d), want %s", c.o, side, got, r>>8, g>>8, b>>8, want)
				}
			}
		}
	}
}

func TestOrientationInPNG(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, sides(40, 20)); err != nil {
		t.Fatal(err)
	}
	block := exifBlock(6, binary.BigEndian)
	var chunk bytes.Buffer
	binary.Write(&chunk, binary.BigEndian, uint32(len(block)))
	body := append([]byte("eXIf"), block...)
	chunk.Write(body)
	binary.Write(&chunk, binary.BigEndian, crc32.ChecksumIEEE(body))
	const afterHeader = 8 + 25
	data := append(append(append([]byte{}, b.Bytes()[:afterHeader]...), chunk.Bytes()...), b.Bytes()[afterHeader:]...)
	_, p := NewPictures().get(data)
	if p.err != nil || p.h <= p.w {
		t.Errorf("got %d × %d, error %v; want an upright picture", p.w, p.h, p.err)
	}
}

func FuzzOrientation(f *testing.F) {
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, sides(8, 8), nil); err != nil {
		f.Fatal(err)
	}
	f.Add(withExif(jpg.Bytes(), exifBlock(6, binary.LittleEndian)))
	f.Add(withExif(jpg.Bytes(), []byte("MM\x00\x2a\xff\xff\xff\xff")))
	f.Add([]byte("\x89PNG\r\n\x1a\n\xff\xff\xff\xffeXIf"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if o := orientation(b); o < 1 || o > 8 {
			t.Fatalf("got orientation %d", o)
		}
	})
}

func TestPhotoWidthsAreUnique(t *testing.T) {
	c := NewPictures()
	seen := map[int]bool{}
	for i := range 12 {
		_, p := c.get(testPhoto(64, 48, i+1))
		if p.err != nil {
			t.Fatal(p.err)
		}
		if seen[p.w] {
			t.Errorf("width %d given out twice", p.w)
		}
		seen[p.w] = true
	}
	_, again := c.get(testPhoto(64, 48, 1))
	if !seen[again.w] || len(c.done) != 12 {
		t.Errorf("the same picture was prepared twice")
	}
}

func TestPhotoIsMadeSmall(t *testing.T) {
	_, p := NewPictures().get(testPhoto(2400, 1200, 3))
	if p.err != nil || p.w != maxPhotoW || p.h != maxPhotoW/2 {
		t.Errorf("got %d × %d, %v; want %d × %d", p.w, p.h, p.err, maxPhotoW, maxPhotoW/2)
	}
}

func TestTransparencyIsWhite(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewNRGBA(image.Rect(0, 0, 20, 20))); err != nil {
		t.Fatal(err)
	}
	_, p := NewPictures().get(b.Bytes())
	img, err := jpeg.Decode(bytes.NewReader(p.jpeg))
	if err != nil {
		t.Fatal(err)
	}
	if r, _, _, _ := img.At(10, 10).RGBA(); r>>8 < 250 {
		t.Errorf("a clear picture prints as grey %d", r>>8)
	}
}

func TestUnreadablePhotos(t *testing.T) {
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewGray(image.Rect(0, 0, 2, 2))); err != nil {
		t.Fatal(err)
	}
	huge := append([]byte{}, small.Bytes()...)
	binary.BigEndian.PutUint32(huge[16:], 10_000)
	binary.BigEndian.PutUint32(huge[20:], 10_000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "could not be read"},
		{"text", []byte("hello"), "could not be read"},
		{"cut short", testPhoto(100, 100, 1)[:700], "could not be read"},
		{"100 megapixels", huge, "50 megapixels"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := build(t, func(d *Doc) { d.Photos(Photo{Name: "site.jpg", Data: c.data, Caption: "a caption"}) })
			if w := d.Warnings(); len(w) != 1 || w[0].Field != "site.jpg" || !strings.Contains(w[0].Text, c.want) {
				t.Errorf("got warnings %v, want %q", w, c.want)
			}
			if !hasText(d, "could not be read") || !hasText(d, "site.jpg") || !hasText(d, "a caption") {
				t.Error("the frame, its name or the caption is missing")
			}
			sound(t, d)
		})
	}
}

// TestHeavyPictures are pictures of a few kilobytes that would take seconds or
// gigabytes. They are refused by their head, before anything is decoded.
func TestHeavyPictures(t *testing.T) {
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, image.NewGray(image.Rect(0, 0, 16, 16)), nil); err != nil {
		t.Fatal(err)
	}
	scanned := bytes.Clone(plain.Bytes()[:plain.Len()-2])
	for range maxScans { // each the same empty scan of one component, T.81, B.2.3
		scanned = append(scanned, 0xff, 0xda, 0, 8, 1, 1, 0, 0, 0, 0)
	}
	scanned = append(scanned, 0xff, 0xd9)
	head := func(w, h, depth, kind, interlace byte) []byte {
		b := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
		b = append(b, 0, 0, w, 0, 0, 0, h, 0, depth, kind, 0, 0, interlace)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[12:]))
	}
	for _, tt := range []struct {
		name string
		data []byte
		says string
	}{
		{"scans", scanned, "more than 40 scans"},
		{"pixels", head(30, 30, 8, 2, 0), "above the limit of 50 megapixels"}, // 7,680 a side
		{"side", append([]byte{}, func() []byte {
			b := head(0, 1, 8, 2, 0)
			b[17] = 1
			binary.BigEndian.PutUint32(b[29:], crc32.ChecksumIEEE(b[12:29]))
			return b
		}()...), "20000 pixels a side"},
		{"sixteen bits", head(24, 24, 16, 6, 0), "takes more than 256 MB"}, // 6,144 a side, 8 bytes
		{"interlaced", head(24, 24, 8, 6, 1), "takes more than 256 MB"},
	} {
		_, p := NewPictures().get(tt.data)
		if p.err == nil || !strings.Contains(p.err.Error(), tt.says) || len(p.err.Error()) > 300 {
			t.Errorf("%s: got %v, want %q", tt.name, p.err, tt.says)
		}
	}
	if _, p := NewPictures().get(plain.Bytes()); p.err != nil {
		t.Errorf("a plain picture: %v", p.err)
	}
}

// TestPicturesInParallel holds pictures prepared together against the same ones by themselves.
func TestPicturesInParallel(t *testing.T) {
	var files [][]byte
	for i := range 7 {
		files = append(files, testPhoto(300+i, 200, i+1))
	}
	files = append(files, []byte("none"), files[0])
	together, one := NewPictures(files...), NewPictures()
	for i, data := range files {
		_, got := together.get(data)
		_, want := one.get(data)
		if !bytes.Equal(got.jpeg, want.jpeg) || (got.err == nil) != (want.err == nil) || got.err == nil && len(got.jpeg) == 0 {
			t.Errorf("picture %d differs: %d bytes, %v; %d bytes, %v", i, len(got.jpeg), got.err, len(want.jpeg), want.err)
		}
	}
}
