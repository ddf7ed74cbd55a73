package quantity

import (
	"math"
	"testing"
)

func TestParsePipeSize(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"1/2", "1/2 in"}, {"1/2 in", "1/2 in"}, {`1-1/2"`, "1-1/2 in"}, {"1.5 in", "1-1/2 in"}, {"1 1/2", "1-1/2 in"},
		{"1½ in", "1-1/2 in"}, {"¾″", "3/4 in"}, {"3/4-inch", "3/4 in"}, {"2", "2 in"}, {"NPS 2", "2 in"}, {"0.625 in", "5/8 in"},
		{"DN 40", "1-1/2 in"}, {"DN40", "1-1/2 in"}, {"dn 8", "1/4 in"}, {"DN\u00a0100", "4 in"},
	} {
		p, err := Parse[PipeSize](c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
		}
		wantText(t, c.text, p.String(), c.want)
	}
	const list = `1/4, 3/8, 1/2, 5/8, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3 or 4 in, or DN 8, 10, 15, 20, 25, 32, 40, 50, 65, 80 or 100`
	refusals[PipeSize](t, [][2]string{
		{"40 mm", `"40 mm" is a diameter, not a pipe size; write the nominal size, as "DN 40" or "1-1/2 in"`},
		{"40", `"40" is not on the list of pipe sizes; write one of ` + list},
		{"DN 90", `"DN 90" is not on the list of pipe sizes; write one of ` + list},
		{"DN 0", `"DN 0" is not on the list of pipe sizes; write one of ` + list},
		{"wide", `"wide" is not a pipe size; write it as "3/4 in" or "DN 20"`},
		{"1/0 in", `"1/0 in" has a fraction over zero; write it as "3/4 in" or "DN 20"`},
		{"", `the text is blank, not a pipe size; write it as "3/4 in" or "DN 20"`},
	})
}

// The metric names are those of the table of DN beside NPS in ISO 6708 and
// ASME B36.10M as reproduced at galbraith.plus.com/teched, "Pipe sizes: DN and
// NPS".
func TestPipeMetricNames(t *testing.T) {
	for _, c := range []struct {
		inch string
		dn   int
	}{
		{"1/4", 8}, {"3/8", 10}, {"1/2", 15}, {"3/4", 20}, {"1", 25}, {"1-1/4", 32}, {"1-1/2", 40},
		{"2", 50}, {"2-1/2", 65}, {"3", 80}, {"4", 100},
	} {
		if got := MustParse[PipeSize](c.inch).DN(); got != c.dn {
			t.Errorf("%s in: got DN %d, want DN %d", c.inch, got, c.dn)
		}
	}
}

func TestPipeSizeOrder(t *testing.T) {
	all := PipeSize{}.All()
	if len(all) != 12 {
		t.Fatalf("got %d sizes, want 12", len(all))
	}
	for i, size := range all[1:] {
		smaller := all[i]
		if smaller.Next() != size || smaller.Cmp(size) != -1 || size.Cmp(smaller) != 1 || size.Cmp(size) != 0 {
			t.Errorf("%v does not follow %v", size, smaller)
		}
		if smaller.Inches() >= size.Inches() {
			t.Errorf("%v is not below %v", smaller, size)
		}
		if got := MustParse[PipeSize](size.String()); got != size {
			t.Errorf("%v is read back as %v", size, got)
		}
	}
	if last := all[11]; last.Next().Known() {
		t.Errorf("%v has the next size %v", last, last.Next())
	}
	var none PipeSize
	if none.Known() || none.Next().Known() || none.DN() != 0 || none.Inches() != 0 || none.Cmp(all[0]) != -1 {
		t.Error("the zero size is not unknown")
	}
	wantText(t, "unknown", none.String(), "unknown")
	wantText(t, "US", MustParse[PipeSize]("DN 40").Show(US), "1-1/2 in (DN 40)")
	wantText(t, "SI", MustParse[PipeSize]("DN 40").Show(SI), "DN 40 (1-1/2 in)")
	wantText(t, "without metric name", MustParse[PipeSize]("5/8").Show(SI), "5/8 in")
}

func TestParseWireSize(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"12 AWG", "12 AWG"}, {"12awg", "12 AWG"}, {"#12", "12 AWG"}, {"# 12 AWG", "12 AWG"}, {"AWG 12", "12 AWG"}, {"AWG #12", "12 AWG"},
		{"12 ga", "12 AWG"}, {"12 ga.", "12 AWG"}, {"12-gauge", "12 AWG"}, {"1/0 AWG", "1/0 AWG"}, {"#4/0", "4/0 AWG"},
		{"0 AWG", "1/0 AWG"}, {"0000 AWG", "4/0 AWG"}, {"1⁄0 AWG", "1/0 AWG"},
		{"2.5 mm2", "2.5 mm²"}, {"2.5 mm²", "2.5 mm²"}, {"2.5 sqmm", "2.5 mm²"}, {"2.5 sq mm", "2.5 mm²"}, {"1.0 mm²", "1 mm²"}, {"50mm²", "50 mm²"},
	} {
		w, err := Parse[WireSize](c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
		}
		wantText(t, c.text, w.String(), c.want)
	}
	const list = `18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 1/0, 2/0, 3/0 or 4/0 AWG, or 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35 or 50 mm²`
	refusals[WireSize](t, [][2]string{
		{"12", `"12" could be a gauge or an area; write it as "12 AWG" or "2.5 mm²"`},
		{"1/0", `"1/0" could be a gauge or an area; write it as "12 AWG" or "2.5 mm²"`},
		{"14/2", `"14/2" names a cable; write the size of one conductor, as "12 AWG"`},
		{"7 AWG", `"7 AWG" is not on the list of wire sizes; write one of ` + list},
		{"5/0 AWG", `"5/0 AWG" is not on the list of wire sizes; write one of ` + list},
		{"12 mm²", `"12 mm²" is not on the list of wire sizes; write one of ` + list},
		{"thick", `"thick" is not a wire size; write it as "12 AWG" or "2.5 mm²"`},
		{"", `the text is blank, not a wire size; write it as "12 AWG" or "2.5 mm²"`},
	})
}

// Areas against GNU Units 2.22, a general unit converter:
// circlearea(wiregauge(n)/2) in mm², with n = -3 for 4/0.
func TestGaugeArea(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"18 AWG", 0.823046833731}, {"12 AWG", 3.30877287611}, {"10 AWG", 5.261155}, {"14 AWG", 2.0809077},
		{"1/0 AWG", 53.4751207321}, {"4/0 AWG", 107.219302577},
	} {
		if got := MustParse[WireSize](c.text).area(); math.Abs(got-c.want) > 1e-7*c.want {
			t.Errorf("%s: got %v mm², want %v", c.text, got, c.want)
		}
	}
}

func TestWireSizeOrder(t *testing.T) {
	all := WireSize{}.All()
	if len(all) != 25 {
		t.Fatalf("got %d sizes, want 15 gauges and 10 areas", len(all))
	}
	for i, size := range all[1:] {
		smaller := all[i]
		if got := MustParse[WireSize](size.String()); got != size {
			t.Errorf("%v is read back as %v", size, got)
		}
		if smaller.Metric() != size.Metric() {
			if smaller.Next().Known() {
				t.Errorf("%v leads to %v of the other family", smaller, smaller.Next())
			}
			continue
		}
		if smaller.Next() != size || smaller.Cmp(size) != -1 || size.Cmp(smaller) != 1 || size.Cmp(size) != 0 {
			t.Errorf("%v does not follow %v", size, smaller)
		}
	}
	if last := all[24]; last.Next().Known() {
		t.Errorf("%v has the next size %v", last, last.Next())
	}
	twelve, metric := MustParse[WireSize]("#12"), MustParse[WireSize]("2.5 mm²")
	wantText(t, "AWG", twelve.AWG(), "12")
	wantText(t, "AWG of a metric size", metric.AWG(), "")
	if twelve.MM2() != 0 || metric.MM2() != 2.5 || twelve.Metric() || !metric.Metric() {
		t.Error("the families are mixed up")
	}
	if twelve.Cmp(metric) != 1 || metric.Cmp(twelve) != -1 {
		t.Error("12 AWG (3.31 mm²) is not above 2.5 mm²")
	}
	var none WireSize
	if none.Known() || none.Next().Known() || none.MM2() != 0 || none.AWG() != "" || none.Cmp(all[0]) != -1 {
		t.Error("the zero size is not unknown")
	}
	wantText(t, "unknown", none.String(), "unknown")
}
