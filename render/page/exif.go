package page

import (
	"bytes"
	"encoding/binary"
)

// orientation reads the Exif orientation (1 to 8) from a JPEG or PNG file; 1
// when there is none or it cannot be read. The layout is that of TIFF 6.0
// (header, image file directory, tag 274) inside an APP1 segment or an eXIf
// chunk. Hostile offsets are refused, never followed.
func orientation(data []byte) int {
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xD8}):
		return jpegOrientation(data)
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		return pngOrientation(data)
	}
	return 1
}

func jpegOrientation(data []byte) int {
	for i := 2; i+4 <= len(data); {
		if data[i] != 0xFF {
			return 1
		}
		m := data[i+1]
		switch {
		case m == 0xFF: // fill byte
			i++
			continue
		case m == 0xD8, m == 0x01, m >= 0xD0 && m <= 0xD7:
			i += 2
			continue
		case m == 0xDA, m == 0xD9: // image data begins
			return 1
		}
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		if n < 2 || i+2+n > len(data) {
			return 1
		}
		seg := data[i+4 : i+2+n]
		if m == 0xE1 && bytes.HasPrefix(seg, []byte("Exif\x00\x00")) {
			return tiffOrientation(seg[6:])
		}
		i += 2 + n
	}
	return 1
}

func pngOrientation(data []byte) int {
	for i := 8; i+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[i:]))
		if n < 0 || n > len(data)-i-12 {
			return 1
		}
		switch string(data[i+4 : i+8]) {
		case "eXIf":
			return tiffOrientation(data[i+8 : i+8+n])
		case "IEND":
			return 1
		}
		i += 12 + n
	}
	return 1
}

func tiffOrientation(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var o binary.ByteOrder
	switch string(b[:2]) {
	case "II":
		o = binary.LittleEndian
	case "MM":
		o = binary.BigEndian
	default:
		return 1
	}
	if o.Uint16(b[2:]) != 42 {
		return 1
	}
	off := int64(o.Uint32(b[4:]))
	if off < 8 || off+2 > int64(len(b)) {
		return 1
	}
	n := int64(o.Uint16(b[off:]))
	for k := range n {
		e := off + 2 + 12*k
		if e+12 > int64(len(b)) {
			return 1
		}
		if o.Uint16(b[e:]) != 274 {
			continue
		}
		if o.Uint16(b[e+2:]) != 3 || o.Uint32(b[e+4:]) != 1 { // SHORT, one value
			return 1
		}
		if v := int(o.Uint16(b[e+8:])); v >= 1 && v <= 8 {
			return v
		}
		return 1
	}
	return 1
}
