package page

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// stressCanvas is a random drawing with dimensions, labels and marks.
func stressCanvas(rng *rand.Rand) *Canvas {
	w, h := 100+rng.Float64()*3000, 100+rng.Float64()*2500
	c := NewCanvas(w, h)
	x := func() float64 { return rng.Float64() * w }
	y := func() float64 { return rng.Float64() * h }
	for range rng.IntN(12) {
		switch rng.IntN(6) {
		case 0:
			c.Line(x(), y(), x(), y(), Medium)
		case 1:
			c.Rect(x(), y(), w/5, h/5, Thick)
		case 2:
			c.Circle(x(), y(), w/10, Thin)
		case 3:
			c.Hatch(x(), y(), w/6, h/9)
		case 4:
			c.Line(x(), y(), x(), y(), Dashed)
		case 5:
			c.Polyline(Dashed, true, Point{x(), y()}, Point{x(), y()}, Point{x(), y()})
		}
	}
	texts := []string{"18 in", "¾ in", "1½ in", "25 5/8 in clear width", "600 mm", "7", "34 1/2 in to the underside of the counter"}
	text := func() string { return texts[rng.IntN(len(texts))] }
	for range rng.IntN(7) {
		a := x()
		b := a + rng.Float64()*rng.Float64()*(w-a)
		c.DimH(a, b, y(), text(), Side(rng.IntN(2)))
	}
	for range rng.IntN(6) {
		a := y()
		b := a + rng.Float64()*rng.Float64()*(h-a)
		c.DimV(a, b, x(), text(), LeftSide+Side(rng.IntN(2)))
	}
	for i := range rng.IntN(9) {
		switch rng.IntN(3) {
		case 0:
			c.Label(x(), y(), "Receptacle, centre "+text())
		case 1:
			c.Name(x(), y(), "Cabinet")
		case 2:
			c.Conflict(x(), y(), fmt.Sprint(i+1))
		}
	}
	if rng.IntN(2) == 0 {
		c.ScaleBar([]string{"mm", "in"}[rng.IntN(2)])
	}
	return c
}

func TestGeneratedDrawings(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 4))
	texts, hidden, keyed, broken := 0, 0, 0, 0
	for run := range 40 { // ten drawings to a document
		var drawings [10]*Canvas
		var heights [10]float64
		for i := range drawings {
			drawings[i], heights[i] = stressCanvas(rng), 60+rng.Float64()*150
		}
		d := build(t, func(d *Doc) {
			for i, c := range drawings {
				d.Draw(c, heights[i])
			}
		})
		sound(t, d)
		flat, want := "", 0
		all := map[string]bool{}
		for _, p := range d.Placed() {
			flat += p.Text
			for _, w := range strings.FieldsFunc(p.Text, func(r rune) bool { return r == ' ' || r == 0xA0 || r == ';' }) {
				all[w] = true
			}
		}
		for i, c := range drawings {
			for _, s := range c.Collisions() {
				t.Errorf("run %d, drawing %d: %s", run, i, s)
			}
			texts += len(c.dims) + len(c.labels)
			hidden += len(c.hidden)
			keyed += len(c.keys)
			want += len(c.keys)
			for _, dm := range c.dims {
				if len(dm.extensions) > 2 {
					broken++
				}
			}
			// What is not in the drawing must be printed under it.
			for _, h := range append(c.Hidden(), c.Keys()...) {
				for _, w := range strings.Fields(h) {
					if !all[w] {
						t.Errorf("run %d, drawing %d: %q is neither in the drawing nor under it", run, i, h)
					}
				}
			}
		}
		if got := strings.Count(flat, "\u00a0=\u00a0"); got != want {
			t.Errorf("run %d: %d letters explained, want %d", run, got, want)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d texts: %d stand under the drawing with a letter in it, %d found no place, %d have a broken extension line", texts, keyed, hidden, broken)
	if texts < 3000 {
		t.Errorf("only %d texts were tried", texts)
	}
	if hidden*500 > texts {
		t.Errorf("%d of %d texts found no place; want less than one in five hundred", hidden, texts)
	}
}

// Both checks must be able to fail.
func TestCollisionsAreSeen(t *testing.T) {
	c := NewCanvas(100, 100)
	c.taken.texts = []namedBox{{Rect{0, 0, 10, 4}, "a", false}, {Rect{9, 3, 10, 4}, "b", false}, {Rect{30, 0, 5, 5}, "c", false}}
	for _, k := range []struct {
		name string
		more func(*taken)
		want int
	}{
		{"an overlap", func(*taken) {}, 1},
		{"and a text on a line", func(t *taken) { t.lines = []segment{{31, -1, 33, 9}, {50, 0, 60, 0}} }, 2},
		{"and one on hatching", func(t *taken) { t.hatched = []Rect{{34, 4, 5, 5}, {50, 4, 5, 5}} }, 3},
		{"and one on a symbol", func(t *taken) { t.signs = []Rect{{28, 1, 4, 2}, {50, -1, 8, 8}} }, 4},
	} {
		k.more(&c.taken)
		if got := c.Collisions(); len(got) != k.want {
			t.Errorf("%s: got %v, want %d", k.name, got, k.want)
		}
	}
	c.taken.texts = []namedBox{{Rect{29, 1, 2, 1}, "a letter in its symbol", true}}
	if got := c.Collisions(); len(got) != 0 {
		t.Errorf("a letter in its symbol: got %v", got)
	}
	c.taken = taken{dimLines: []segment{{0, 5, 10, 5}, {10, 5, 20, 5}, {18, 5, 30, 5}, {7, 0, 7, 4}, {7, 3, 7, 9}}}
	if got := c.Collisions(); len(got) != 2 {
		t.Errorf("got %v, want two pairs of lines on each other", got)
	}
}

func TestSegmentCrosses(t *testing.T) {
	r := Rect{10, 10, 10, 10}
	for _, c := range []struct {
		name string
		s    segment
		want bool
	}{
		{"through", segment{0, 15, 30, 15}, true},
		{"inside", segment{12, 12, 14, 14}, true},
		{"ends inside", segment{0, 0, 15, 15}, true},
		{"beside", segment{0, 25, 30, 25}, false},
		{"stops short", segment{0, 15, 9, 15}, false},
		{"past the corner", segment{0, 15, 15, 31}, false},
		{"a point inside", segment{15, 15, 15, 15}, true},
		{"a point outside", segment{5, 5, 5, 5}, false},
	} {
		if got := c.s.crosses(r); got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// Lengths on paper keep the drawing's proportions: one scale for both axes.
func TestScaleIsOne(t *testing.T) {
	c := NewCanvas(1400, 1000)
	c.Rect(0, 0, 1400, 1000, Medium)
	c.DimH(0, 1400, 0, "w", Bottom)
	c.DimV(0, 1000, 0, "h", LeftSide)
	build(t, func(d *Doc) { d.Draw(c, 100) })
	w, h := c.dims[0].pb-c.dims[0].pa, c.dims[1].pb-c.dims[1].pa
	if math.Abs(w/h-1.4) > 1e-9 {
		t.Errorf("got %.3f × %.3f mm, ratio %.4f; want 1.4", w, h, w/h)
	}
	if h < 80 {
		t.Errorf("the drawing is %.1f mm high in a room of 100", h)
	}
}

func TestDimensionsThatMeetShareALane(t *testing.T) {
	c := NewCanvas(1200, 400)
	for i := range 4 {
		c.DimH(float64(i)*300, float64(i+1)*300, 0, fmt.Sprintf("%d mm", 300), Bottom)
	}
	c.DimH(0, 1200, 0, "1200 mm", Bottom)
	build(t, func(d *Doc) { d.Draw(c, 80) })
	for i := range 4 {
		if c.dims[i].lane != 0 {
			t.Errorf("part %d is in lane %d, want 0", i, c.dims[i].lane)
		}
	}
	if c.dims[4].lane != 1 {
		t.Errorf("the whole is in lane %d, want 1", c.dims[4].lane)
	}
}

func TestNarrowDimensionLeadsOut(t *testing.T) {
	c := NewCanvas(1000, 500)
	c.DimH(500, 510, 0, "10 mm", Bottom)
	build(t, func(d *Doc) { d.Draw(c, 80) })
	dm := c.dims[0]
	if dm.ta < dm.pb && dm.tb > dm.pa {
		t.Errorf("text from %.1f to %.1f stands between %.1f and %.1f", dm.ta, dm.tb, dm.pa, dm.pb)
	}
	if dm.lb < dm.tb-0.01 && dm.la > dm.ta+0.01 {
		t.Error("the line does not lead to the text")
	}
}

func TestHostileNumbers(t *testing.T) {
	c := NewCanvas(math.NaN(), math.Inf(1))
	c.Line(0, 0, math.Inf(1), 5, Medium)
	c.Circle(math.NaN(), 0, 5, Medium)
	c.DimH(0, math.NaN(), 0, "x", Top)
	c.Label(math.Inf(-1), 0, "x")
	c.Conflict(1, 1, "1")
	d := build(t, func(d *Doc) { d.Draw(c, 60) })
	sound(t, d)
	if len(d.Warnings()) == 0 {
		t.Error("no warning")
	}
}

func TestFaces(t *testing.T) {
	// Wires by the series number of NEMA WD 6 (poles and wires of each series);
	// from memory. A grounding device has one wire more than poles.
	wires := map[string]int{
		"5-15": 3, "5-20": 3, "6-15": 3, "6-20": 3, "6-30": 3, "6-50": 3, "L6-20": 3, "L6-30": 3,
		"14-30": 4, "14-50": 4, "L14-30": 4, "15-30": 4, "15-50": 4, "L21-30": 5,
	}
	if len(wires) != len(NEMANames) {
		t.Fatalf("%d faces known, %d in the table", len(NEMANames), len(wires))
	}
	for _, n := range NEMANames {
		f, ok := NEMAFace(n)
		if !ok {
			t.Errorf("no face for %s", n)
			continue
		}
		checkFace(t, f, wires[n])
		if g := labels(f)["G"]; g != 1 {
			t.Errorf("%s: %d grounds", n, g)
		}
	}
	if f, ok := NEMAFace(" nema l6-30R "); !ok || f.Name != "NEMA L6-30R" {
		t.Errorf("a name as people write it: got %q, %v", f.Name, ok)
	}
	if _, ok := NEMAFace("99-99"); ok {
		t.Error("a face for 99-99")
	}
	for i, p := range IECNames {
		for hour := 1; hour <= 12; hour++ {
			f, ok := IECFace(p, hour)
			if !ok {
				t.Fatalf("no face for %s", p)
			}
			checkFace(t, f, 3+i) // the name itself counts the contacts
			// EN 60309-2: main key at six o'clock, earth at the stated hour,
			// seen from the front; clock angle from twelve, clockwise.
			e := f.Slots[0]
			clock := math.Mod(math.Atan2(e.X, e.Y)*180/math.Pi+360, 360)
			if diff := math.Abs(clock - float64(hour%12)*30); e.Label != "PE" || diff > 0.01 && diff < 359.99 || f.Key != 6 {
				t.Errorf("%s %dh: earth at %.0f°, key at %d", p, hour, clock, f.Key)
			}
		}
	}
	if _, ok := IECFace("3P+E", 13); ok {
		t.Error("a face for 13h")
	}
}

func labels(f FaceSpec) map[string]int {
	m := map[string]int{}
	for _, s := range f.Slots {
		m[s.Label]++
	}
	return m
}

func checkFace(t *testing.T, f FaceSpec, wires int) {
	t.Helper()
	if len(f.Slots) != wires || f.Wires != wires {
		t.Errorf("%s: %d slots, %d wires, want %d", f.Name, len(f.Slots), f.Wires, wires)
	}
	for l, n := range labels(f) {
		if n != 1 || l == "" {
			t.Errorf("%s: label %q %d times", f.Name, l, n)
		}
	}
}

// Labels stay in the face's square and off each other, whatever its size.
func TestFaceLabels(t *testing.T) {
	var faces []FaceSpec
	for _, n := range NEMANames {
		f, _ := NEMAFace(n)
		faces = append(faces, f)
	}
	for _, p := range IECNames {
		for hour := 1; hour <= 12; hour++ {
			f, _ := IECFace(p, hour)
			faces = append(faces, f)
		}
	}
	sizes := []float64{20, 30, 45}
	d := build(t, func(d *Doc) {
		for _, f := range faces {
			d.newPage()
			for i, size := range sizes {
				d.Face(40, 40+60*float64(i), size, f)
			}
		}
	})
	sound(t, d)
	count := map[int]int{}
	for _, p := range d.Placed() {
		if labels(faces[p.Page-1])[p.Text] > 0 {
			count[p.Page]++
		}
	}
	for i, f := range faces {
		if got, want := count[i+1], f.Wires*len(sizes); got != want {
			t.Errorf("%s: %d labels printed, want %d", f.Name, got, want)
		}
	}
}

// A 20 A plug for one voltage must not be drawn so that it would enter the
// receptacle for the other; the T-slot is the place where the 15 A plug of the
// same voltage enters too.
func TestTSlotFacesDoNotMate(t *testing.T) {
	form := func(n string) (left, right SlotShape) {
		f, _ := NEMAFace(n)
		return f.Slots[0].Shape, f.Slots[1].Shape
	}
	takes := func(slot, blade SlotShape) bool { return slot == blade || slot == TSlot }
	l5, r5 := form("5-15")
	l6, r6 := form("6-15")
	l520, r520 := form("5-20")
	l620, r620 := form("6-20")
	if !takes(l520, l5) || !takes(r520, r5) || !takes(l620, l6) || !takes(r620, r6) {
		t.Error("a 20 A face does not take its own 15 A plug")
	}
	if takes(l620, l5) && takes(r620, r5) || takes(l520, l6) && takes(r520, r6) {
		t.Error("a face takes the other voltage's plug")
	}
	// The 20 A plug has its blade across where the 15 A plug's stands along.
	plug20 := func(left, right, l15, r15 SlotShape) (SlotShape, SlotShape) {
		turned := map[SlotShape]SlotShape{VerticalSlot: HorizontalSlot, HorizontalSlot: VerticalSlot}
		if left == TSlot {
			return turned[l15], right
		}
		return left, turned[r15]
	}
	a, b := plug20(l520, r520, l5, r5)
	if !takes(l520, a) || !takes(r520, b) || takes(l620, a) && takes(r620, b) {
		t.Error("the 20 A plug of series 5 enters the face of series 6, or not its own")
	}
	a, b = plug20(l620, r620, l6, r6)
	if !takes(l620, a) || !takes(r620, b) || takes(l520, a) && takes(r520, b) {
		t.Error("the 20 A plug of series 6 enters the face of series 5, or not its own")
	}
}

// TestColumns fills two columns and goes on under the longer one: no text of
// one column lies in the other, and the page changes after the second only.
func TestColumns(t *testing.T) {
	var under float64
	d, err := New(Options{Title: "columns", Date: testDate}, func(d *Doc) {
		d.Paragraph("over both")
		d.Columns(2, 8)
		for i := range 60 {
			d.Heading(3, fmt.Sprintf("part %d", i))
			d.Table(Table{Tight: true, Columns: []Column{{Width: 20}, {}}, Rows: []Row{{Cells: []Cell{{Verdict: OK}, T("a line of a column that is long enough to be wrapped")}}}})
		}
		d.EndColumns()
		under = d.Y()
		d.Paragraph("under both")
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range d.Overflows() {
		t.Errorf("%v", o)
	}
	half := d.pw / 2
	left, right, low := 0, 0, 0.0
	for _, p := range d.placed {
		if !strings.HasPrefix(p.Text, "part ") && !strings.HasPrefix(p.Text, "a line") {
			continue
		}
		switch {
		case p.Box.X+p.Box.W <= half-3.9:
			left++
		case p.Box.X >= half+3.9:
			right++
		default:
			t.Errorf("%q lies across the gap: %v", p.Text, p.Box)
		}
		if p.Page == d.Pages() {
			low = max(low, p.Box.Y+p.Box.H)
		}
	}
	if left == 0 || right == 0 || d.Pages() < 2 {
		t.Errorf("%d texts left, %d right on %d pages: nothing was proved", left, right, d.Pages())
	}
	if under < low {
		t.Errorf("the text after the columns stands at %.1f, above their end at %.1f", under, low)
	}
	if d.Width() != d.pw-2*marginX || d.Left() != marginX {
		t.Error("the width of the body isn't given back")
	}
}

// TestSymbols sees a letter in a symbol, none where it would lie on another's,
// and a flat drawing take less height than it is offered.
func TestSymbols(t *testing.T) {
	c := NewCanvas(4000, 200)
	c.Symbol(500, 100, Symbol{Dash: true, Letter: "C"})
	c.Symbol(505, 100, Symbol{Dash: true, Letter: "H"})
	c.Symbol(3000, 100, Symbol{Square: true, Dash: true, Letter: "P"})
	d, err := New(Options{Title: "symbols", Date: testDate}, func(d *Doc) {
		if h := d.DrawnHeight(c, 100); h > 40 {
			t.Errorf("a drawing 20 times as wide as high takes %.1f mm of 100", h)
		}
		d.Draw(c, 100)
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Collisions(); len(got) > 0 {
		t.Error(got)
	}
	var letters string
	for _, p := range d.placed {
		if len(p.Text) == 1 {
			letters += p.Text
		}
	}
	if letters != "CP" {
		t.Errorf("got letters %q, want C and P alone", letters)
	}
}
