package quantity

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// WireSize is a conductor size of one of two families: American wire gauge
// (AWG) or metric, which is named after its area in mm². The zero value is
// unknown. A size says nothing of the current a conductor may carry.
type WireSize struct {
	n uint8 // 1 + index into wireSizes
}

// wireSizes are the sizes there are: each family in order of area. The metric
// ones are the nominal areas of IEC 60228 (from memory).
var wireSizes = []struct {
	gauge int     // AWG; 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3
	mm2   float64 // nominal area of a metric size; 0 for AWG
}{
	{18, 0}, {16, 0}, {14, 0}, {12, 0}, {10, 0}, {8, 0}, {6, 0}, {4, 0}, {3, 0},
	{2, 0}, {1, 0}, {0, 0}, {-1, 0}, {-2, 0}, {-3, 0},
	{0, 1}, {0, 1.5}, {0, 2.5}, {0, 4}, {0, 6}, {0, 10}, {0, 16}, {0, 25}, {0, 35}, {0, 50},
}

// Known reports whether there is a size.
func (w WireSize) Known() bool { return w.n > 0 }

// Metric reports whether the size is a metric one.
func (w WireSize) Metric() bool { return w.MM2() > 0 }

// MM2 gives the nominal area of a metric size in mm²; 0 for any other.
func (w WireSize) MM2() float64 {
	if !w.Known() {
		return 0
	}
	return wireSizes[w.n-1].mm2
}

// AWG gives the gauge, as "12" or "1/0"; nothing for a metric or unknown size.
func (w WireSize) AWG() string {
	if !w.Known() || w.Metric() {
		return ""
	}
	g := wireSizes[w.n-1].gauge
	if g > 0 {
		return strconv.Itoa(g)
	}
	return strconv.Itoa(1-g) + "/0"
}

// String gives the size as "12 AWG" or "2.5 mm²"; "unknown" if it is.
func (w WireSize) String() string {
	switch {
	case !w.Known():
		return unknownText
	case w.Metric():
		return strconv.FormatFloat(w.MM2(), 'f', -1, 64) + " mm²"
	}
	return w.AWG() + " AWG"
}

// area gives the cross-section in mm²: the nominal one of a metric size, and
// for gauge n that of the solid round wire of diameter
//
//	d = 0.127 mm · 92^((36-n)/39)
//
// by the definition of the American wire gauge (ASTM B258, from memory).
func (w WireSize) area() float64 {
	switch {
	case !w.Known():
		return 0
	case w.Metric():
		return w.MM2()
	}
	d := 0.127 * math.Pow(92, float64(36-wireSizes[w.n-1].gauge)/39)
	return math.Pi / 4 * d * d
}

// Cmp gives -1, 0 or +1 as the cross-section of w is less than, the same as or
// more than that of o. Between the families that orders the copper and no
// more: ratings are taken from the table of the one or the other. An unknown
// size sorts before every known one; ask Known first.
func (w WireSize) Cmp(o WireSize) int { return cmp.Compare(w.area(), o.area()) }

// Next gives the next larger size of the same family; unknown after the
// largest and for unknown.
func (w WireSize) Next() WireSize {
	if !w.Known() || int(w.n) == len(wireSizes) {
		return WireSize{}
	}
	if next := (WireSize{w.n + 1}); next.Metric() == w.Metric() {
		return next
	}
	return WireSize{}
}

// All lists the sizes there are: gauges, then metric, smallest first.
func (WireSize) All() []WireSize {
	all := make([]WireSize, len(wireSizes))
	for i := range all {
		all[i] = WireSize{uint8(i + 1)}
	}
	return all
}

// MarshalText gives String; empty for an unknown size.
func (w WireSize) MarshalText() ([]byte, error) { return marshalName(w) }

// UnmarshalText is Parse in place, except that blank text gives an unknown
// size. On error w is unknown.
func (w *WireSize) UnmarshalText(text []byte) error { return unmarshal(w, text) }

const wireAdvice = `write it as "12 AWG" or "2.5 mm²"`

// What may stand around a gauge: 12 AWG, #12, AWG 12, 12 ga.
const gauge = `(\d+(?:\s*/\s*0)?)`

var (
	wireGauge = lazily(`(?i)^(?:#\s*` + gauge + `(?:\s*(?:AWG|ga\.?|gauge))?|AWG\s*#?\s*` + gauge + `|` + gauge + `\s*-?\s*(?:AWG|ga\.?|gauge))$`)
	wireArea  = lazily(`(?i)^(\d+\.?\d*|\.\d+)\s*(?:mm2|sq\.?\s*mm)$`)
	wireBare  = lazily(`^(?:\d+\.?\d*|\.\d+|[1-4]/0)$`)
	wireCable = lazily(`^\d+\s*[/-]\s*[2-9]\b`)
)

func (w *WireSize) parse(text string) error {
	*w = WireSize{}
	s, subject, err := prepare(text, "a wire size", wireAdvice)
	if err != nil {
		return err
	}
	var match func(WireSize) bool
	if m := wireGauge().FindStringSubmatch(s); m != nil {
		name := strings.ReplaceAll(m[1]+m[2]+m[3], " ", "") // two of them are empty
		if zeros := strings.Trim(name, "0") == ""; zeros {
			name = strconv.Itoa(len(name)) + "/0" // 00 is 2/0
		}
		match = func(size WireSize) bool { return size.AWG() == name }
	} else if m := wireArea().FindStringSubmatch(s); m != nil {
		mm2, err := strconv.ParseFloat(m[1], 64)
		match = func(size WireSize) bool { return err == nil && size.Metric() && size.MM2() == mm2 }
	} else if wireBare().MatchString(s) {
		return fmt.Errorf("%s could be a gauge or an area; %s", subject, wireAdvice)
	} else if wireCable().MatchString(s) {
		return fmt.Errorf(`%s names a cable; write the size of one conductor, as "12 AWG"`, subject)
	} else {
		return fmt.Errorf("%s is not a wire size; %s", subject, wireAdvice)
	}
	for _, size := range w.All() {
		if match(size) {
			*w = size
			return nil
		}
	}
	return fmt.Errorf("%s is not on the list of wire sizes; write one of %s", subject, wireList())
}

// wireList names all sizes of both families.
func wireList() string {
	var gauges, areas []string
	for _, size := range (WireSize{}).All() {
		if size.Metric() {
			areas = append(areas, strconv.FormatFloat(size.MM2(), 'f', -1, 64))
		} else {
			gauges = append(gauges, size.AWG())
		}
	}
	return join(gauges) + " AWG, or " + join(areas) + " mm²"
}
