package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// plans are the plans of the sites, by name: each is found once.
var plans sync.Map

func report(t testing.TB, name string, data []byte, u quantity.System) *words.Report {
	t.Helper()
	if p, ok := plans.Load(name); ok {
		return words.Planned(p.(*plan.Plan), u)
	}
	s, problems := survey.Load(name, data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	p := planned(t, s)
	plans.Store(name, p)
	return words.Planned(p, u)
}

func planned(t testing.TB, s *survey.Survey) *plan.Plan {
	t.Helper()
	m, err := specs.Builtin().Machine(s.Machine.Key)
	if err != nil {
		t.Fatal(err)
	}
	return plan.Find(rules.Judge(s, m, check.Options{Today: survey.DateOf(day)}), plan.Options{})
}

func draw(t testing.TB, heights []float64, ds ...Drawing) *page.Doc {
	t.Helper()
	d, err := page.New(page.Options{Paper: page.Letter, Title: "drawings", Date: day}, func(d *page.Doc) {
		for i, dr := range ds {
			if dr.Canvas == nil {
				continue
			}
			d.Heading(2, dr.Title)
			d.Draw(dr.Canvas, heights[i%len(heights)])
			d.StyledParagraph(Under(dr), page.Small)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range d.Overflows() {
		t.Errorf("%v", o)
	}
	for _, dr := range ds {
		if dr.Canvas != nil {
			for _, c := range dr.Canvas.Collisions() {
				t.Errorf("%s: %s", dr.Title, c)
			}
		}
	}
	return d
}

func sitesData(t testing.TB) map[string][]byte {
	t.Helper()
	all := map[string][]byte{"demo": templates.Demo}
	for _, pattern := range []string{"pass_*", "block_*"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", pattern+".yaml"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no sites %s: %v", pattern, err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			all[strings.TrimSuffix(filepath.Base(f), ".yaml")] = data
		}
	}
	return all
}

// A sheetDrawing is a drawing as the sheets print it.
type sheetDrawing struct {
	name   string
	draw   func(*words.Report) Drawing
	height float64
}

// printed are the drawings of the trades' sheets, at their heights there.
func printed() []sheetDrawing {
	of := func(view func(*words.Report, check.Trade) Drawing, t check.Trade) func(*words.Report) Drawing {
		return func(r *words.Report) Drawing { return view(r, t) }
	}
	return []sheetDrawing{
		{"electrician", of(Elevation, check.Electrician), 90},
		{"plumber", of(Elevation, check.Plumber), 96},
		{"plumber's plan", of(Plan, check.Plumber), 70},
		{"builder", of(Elevation, check.Builder), 62},
		{"builder's plan", of(Plan, check.Builder), 60},
		{"electrician, low", of(Elevation, check.Electrician), 58},
		{"plumber, low", of(Elevation, check.Plumber), 70},
	}
}

// TestSites draws every site as the sheets do, on both papers and in both
// units: no text lies on another, on a line or on hatching, and every figure is
// one of the facts.
func TestSites(t *testing.T) {
	for name, data := range sitesData(t) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			for _, paper := range []page.Paper{page.Letter, page.A4} {
				t.Run(fmt.Sprint(name, u, paper), func(t *testing.T) {
					r := report(t, name, data, u)
					d, err := page.New(page.Options{Paper: paper, Title: name, Date: day}, func(d *page.Doc) {
						for _, s := range printed() {
							dr := s.draw(r)
							if dr.Canvas != nil {
								d.Need(d.DrawnHeight(dr.Canvas, s.height) + 20)
								d.Heading(2, name+", "+s.name+": "+dr.Title)
								d.Draw(dr.Canvas, s.height)
								for _, c := range append(dr.Canvas.Collisions(), dr.Canvas.Hidden()...) {
									t.Errorf("%s: %s", s.name, c)
								}
							}
							d.StyledParagraph(Under(dr), page.Small)
						}
					})
					if err != nil {
						t.Fatal(err)
					}
					for _, o := range d.Overflows() {
						t.Errorf("%v", o)
					}
					if dir := os.Getenv("FIRSTFILL_SPECIMENS"); dir != "" {
						b, err := d.Bytes()
						if err != nil {
							t.Fatal(err)
						}
						if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d-%d.pdf", name, u, paper)), b, 0o644); err != nil {
							t.Fatal(err)
						}
					}
				})
			}
		}
	}
}

// TestGeneratedSites draws hundreds of sites of random plausible geometry:
// no text may lie on another, on a dimension line, or outside its box.
func TestGeneratedSites(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2026))
	machines := specs.Builtin().Machines()
	in := func(lo, hi float64) string {
		return quantity.Inch.Write(float64(int((lo+rng.Float64()*(hi-lo))*4)) / 4)
	}
	for run := range 40 {
		var ds []Drawing
		for range 5 {
			m := machines[rng.IntN(len(machines))]
			s, problems := survey.Load("generated", []byte("survey: 1\nsite: {name: generated}\nmachine: {key: "+m.Key+"}\n"))
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			set := map[string]string{
				"machine.raised_by": in(0, 12), "space.opening_width": in(20, 90), "space.opening_height": in(28, 60),
				"space.counter_height": in(34, 62), "space.opening_depth": in(18, 48), "space.front_clearance": in(0, 60),
				"power.outlet_height": in(0, 60), "power.outlet_from_left": in(-60, 120),
				"water.cold.height": in(0, 48), "water.cold.from_left": in(-60, 120),
				"water.hot.height": in(0, 48), "water.hot.from_left": in(-60, 120),
				"drain.rim_height": in(-8, 24), "drain.receptor_from_left": in(-120, 240), "drain.run_length": in(6, 240),
				"drain.air_gap": in(0, 8), "drain.pipe_size": "1-1/2 in", "drain.pipe_material": "pvc", "codes.plumbing": "ipc",
				"drain.connection": "air-gap", "drain.floor_falls": in(-4, 4), "drain.lift": in(0, 60), "drain.receptor": "floor-sink",
			}
			for p := range set {
				if rng.IntN(12) == 0 {
					delete(set, p)
				}
			}
			if err := s.Apply(set); err != nil {
				t.Fatal(err)
			}
			r := words.Tells(rules.Judge(s, m, check.Options{Today: survey.DateOf(day)}).Report(false), quantity.System(rng.IntN(2)))
			ds = append(ds, Elevation(r, ""), Plan(r, ""))
		}
		draw(t, []float64{70 + rng.Float64()*80, 60 + rng.Float64()*100}, ds...)
		if t.Failed() {
			t.Fatalf("run %d", run)
		}
	}
}

// TestConflictMarks sees the faults of the demo marked where they are.
func TestConflictMarks(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	dr := Elevation(r, "")
	for _, id := range []string{rules.DrainFall.ID} {
		f := r.Finding(id)
		if f == nil || f.Verdict != check.Fix {
			t.Fatalf("the demo should fail %s", id)
		}
		if !slices.Contains(dr.Marked, id) {
			t.Errorf("%s is not marked: %v", id, dr.Marked)
		}
		step := slices.IndexFunc(r.Plan.Steps, func(s plan.Step) bool { return slices.Contains(s.Cures, id) })
		if step < 0 || newDrawer(r, "").step(id) != r.Plan.Steps[step].N {
			t.Errorf("%s is marked with step %d", id, newDrawer(r, "").step(id))
		}
	}
}

// TestTradesMarks sees only a trade's own conflicts on its drawing.
func TestTradesMarks(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	for _, trade := range check.Trades {
		marked := Elevation(r, trade).Marked
		for _, f := range r.Findings {
			if f.Trade != trade && slices.Contains(marked, f.ID) {
				t.Errorf("%s's drawing marks %s, which is the %s's", trade, f.ID, f.Trade)
			}
		}
	}
	if len(Elevation(r, check.Builder).Marked) != 0 || len(Elevation(r, check.Electrician).Marked) == 0 {
		t.Error("the demo's conflicts aren't marked by trade")
	}
}

// TestSupplies draws the demo's chains, each from the typed result of its check.
func TestSupplies(t *testing.T) {
	all := Supplies(report(t, "demo", templates.Demo, quantity.US))
	// By hand: the machine draws 2.5 gpm, the readings were taken at 5 gpm, so a
	// share 0.5^1.852 = 0.277 of what they fell by is lost: 96 - 0.277 × 12 =
	// 92.7 psi and 62 - 0.277 × 7 = 60.1 psi; the devices take 10 psi, pipe and
	// fittings less than 1 psi.
	want := map[string][]string{
		rules.ColdInlet.ID:        {"96 psi", "93 psi", "0 psi\n−10 psi", "82 psi"},
		rules.HotInlet.ID:         {"62 psi", "60 psi", "0 psi\n−10 psi", "50 psi"},
		rules.VoltageUnderLoad.ID: {"241 V", "239 V"},
	}
	if len(all) != len(want) {
		t.Fatalf("got %d chains, want cold, hot and power", len(all))
	}
	for _, s := range all {
		var got []string
		for _, n := range s.Nodes {
			got = append(got, n.Value)
		}
		if !slices.Equal(got, want[s.ID]) {
			t.Errorf("%s: got %q, want %q", s.Title, got, want[s.ID])
		}
	}
	d, err := page.New(page.Options{Paper: page.Letter, Title: "chains", Date: day}, func(d *page.Doc) {
		for _, s := range all {
			d.Heading(2, s.Title)
			d.Chain(s.Nodes)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range d.Overflows() {
		t.Errorf("%v", o)
	}
	if f := os.Getenv("FIRSTFILL_SPECIMENS"); f != "" {
		b, err := d.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(f, "chains.pdf"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestMachines draws every machine's requirement sheet.
func TestMachines(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			draw(t, []float64{110}, Machine(m, u))
		}
	}
}

// texts are what stands on a drawing, one a line, at its size on a sheet.
func texts(t testing.TB, dr Drawing) string {
	t.Helper()
	var b strings.Builder
	for _, p := range draw(t, []float64{96}, dr).Placed() {
		b.WriteString("\n" + p.Text)
	}
	return b.String() + "\n"
}

// flat is text with its lines joined, for labels that are wrapped.
func flat(text string) string { return strings.ReplaceAll(text, "\n", " ") }

// TestForeignPlaces sees on each trade's drawing what concerns that trade alone.
func TestForeignPlaces(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	plumber, electrician := texts(t, Elevation(r, check.Plumber)), texts(t, Elevation(r, check.Electrician))
	for _, c := range []struct {
		text                 string
		plumber, electrician bool
	}{
		{" NEMA 6-20, 18 in high ", false, true}, {" 4 in left of the jamb ", false, true}, {" power entry, 12 in high ", false, true}, {" P ", false, true},
		{" hot water, 16 in high ", true, false}, {" 78 in ", true, false}, {" C ", true, false}, {" drain outlet, 10 in high ", true, false},
		{" left jamb ", true, true}, {" Avocet R36 ", true, true},
	} {
		if got := strings.Contains(flat(plumber), c.text); got != c.plumber {
			t.Errorf("%q on the plumber's drawing: got %v, want %v", c.text, got, c.plumber)
		}
		if got := strings.Contains(flat(electrician), c.text); got != c.electrician {
			t.Errorf("%q on the electrician's drawing: got %v, want %v", c.text, got, c.electrician)
		}
	}
	for _, word := range []string{"water", "drain", "sink", "gap"} {
		if strings.Contains(electrician, word) {
			t.Errorf("the electrician's drawing speaks of %q", word)
		}
	}
	builder := texts(t, Elevation(r, check.Builder))
	for _, word := range []string{"water", "drain", "sink", "NEMA", "entry"} {
		if strings.Contains(builder, word) {
			t.Errorf("the builder's drawing speaks of %q", word)
		}
	}
}

// site changes answers of a site of testdata.
func site(t testing.TB, name string, u quantity.System, set map[string]string) *words.Report {
	t.Helper()
	s, problems := survey.Load(name, sitesData(t)[name])
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if err := s.Apply(set); err != nil {
		t.Fatal(err)
	}
	return words.Planned(planned(t, s), u)
}

// TestSaid sees what a trade sets out from, word for word.
func TestSaid(t *testing.T) {
	for _, c := range []struct {
		name, site string
		u          quantity.System
		set        map[string]string
		trade      check.Trade
		says       []string
		never      []string
	}{
		{"the drain as planned, and as found where that can't drain", "demo", quantity.US, nil, check.Plumber,
			[]string{" gap 4-1/4 in ", " 2 in line, falls at least 1-1/4 in ", " as found: outlet 2-1/8 in too low ", " floor sink, rim 4 in above the floor ", " stand 4 in "}, []string{" -"}},
		{"the same in SI, with nominal sizes alone in the trade's own", "demo", quantity.SI, nil, check.Plumber,
			[]string{" gap 106 mm ", " DN 50 line, falls at least 32 mm ", " as found: outlet 54 mm too low ", " stand 102 mm ", " 1981 mm "}, []string{"psi", "°F", "2 in"}},
		{"far to the left", "block_water", quantity.US, nil, check.Plumber, []string{" 68 in left of the jamb "}, []string{"-68", "-70"}},
		{"the stand in every height, and said once", "pass_avocet-r36", quantity.US, nil, check.Plumber, []string{" drain outlet, 8 in high ", " stand 2 in "}, nil},
		{"a pumped hose with its loop into a standpipe", "pass_sanderling-u24p", quantity.US, nil, check.Plumber,
			[]string{" hose rises 26-1/2 in ", " high loop, clipped up ", " standpipe, rim 28 in above the floor ", " gap 2-1/2 in "}, []string{"falls at least"}},
		{"a floor that falls", "pass_avocet-r36", quantity.US, map[string]string{"drain.floor_falls": "1-1/2 in"}, check.Plumber, []string{" floor falls 1-1/2 in "}, nil},
		{"a floor that rises", "block_drain", quantity.US, nil, check.Plumber, []string{" floor rises 2 in ", " 32 ft "}, nil},
		{"a rim in a recess", "pass_avocet-r36", quantity.US, map[string]string{"drain.rim_height": "-2 in"}, check.Plumber, []string{" rim 2 in below the floor "}, nil},
		{"no opening measured", "block_missing", quantity.US, nil, check.Electrician, []string{" machine's left edge ", "since the opening isn't measured"}, []string{"jamb"}},
		{"the opening as planned and as found", "block_way", quantity.US, nil, check.Builder, []string{" opening 38-1/4 in ", " as found: 35 in wide, 32 in high "}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			dr := Elevation(site(t, c.site, c.u, c.set), c.trade)
			got := flat(texts(t, dr))
			for _, want := range c.says {
				if !strings.Contains(got, want) {
					t.Errorf("lacks %q: %s", want, got)
				}
			}
			for _, no := range c.never {
				if strings.Contains(got, no) {
					t.Errorf("says %q: %s", no, got)
				}
			}
			if strings.Count(got, "stand ") > 1 {
				t.Errorf("says the stand twice: %s", got)
			}
		})
	}
}

// figure finds what reads as a measured figure.
var figure = regexp.MustCompile(`(?:\d+ ft )?\d[\d/.-]* (?:in|ft|mm|m)\b`)

// TestFigures asks of every figure on every drawing whether it is a fact: an
// answer, a number of the sheet, what a check computed, or one of these from
// the jamb or with the stand.
func TestFigures(t *testing.T) {
	for name, data := range sitesData(t) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			r := report(t, name, data, u)
			allowed := facts(r)
			seen := 0
			for _, p := range printed() {
				dr := p.draw(r)
				if dr.Canvas == nil {
					continue
				}
				for _, f := range figure.FindAllString(flat(texts(t, Drawing{Title: dr.Title, Canvas: dr.Canvas})), -1) {
					seen++
					if !allowed[f] && !scaleBars[u][f] {
						t.Errorf("%s, %s: %q is no fact", name, p.name, f)
					}
				}
			}
			if seen < 20 {
				t.Errorf("%s: only %d figures seen", name, seen)
			}
		}
	}
}

// scaleBars are the lengths of a scale bar.
var scaleBars = map[quantity.System]map[string]bool{
	quantity.US: {"10 in": true, "20 in": true, "50 in": true}, quantity.SI: {"200 mm": true, "500 mm": true, "1000 mm": true},
}

// facts are all figures that a drawing of a report may show.
func facts(r *words.Report) map[string]bool {
	all := map[string]bool{}
	m, inch := r.Plan.Built.Machine, 25.4
	show := func(v float64) {
		l := quantity.New(v, quantity.Millimetre)
		for _, w := range []quantity.Way{quantity.Nearest, quantity.Up, quantity.Down} {
			all[l.Gauge(r.Units, w)] = true
		}
	}
	of := func(l quantity.Length) float64 { return l.In(quantity.Inch) * inch }
	for _, s := range []*survey.Survey{r.Plan.Found.Survey, r.Plan.Built.Survey} {
		for _, l := range []quantity.Length{s.Space.Width, s.Space.Height, s.Space.Depth, s.Space.Counter, s.Space.Front, s.Space.OutOfLevel, s.Machine.RaisedBy,
			s.Power.OutletHeight, s.Water.Cold.Height, s.Water.Hot.Height, s.Drain.Standpipe, s.Drain.Lift} {
			show(of(l))
		}
		show(math.Abs(of(s.Drain.FloorFalls)))
		show(math.Abs(of(s.Drain.RimHeight)))
		if r.Units == quantity.US {
			all[s.Drain.Size.String()] = true
		}
	}
	for _, l := range []quantity.Length{m.Space.Width, m.Space.Height, m.Space.Depth, m.Space.FrontGap, m.Space.BackGap} {
		show(of(l))
	}
	s := r.Plan.Built.Survey
	for _, l := range []quantity.Length{m.Power.EntryHeight, m.Drain.OutletHeight} {
		show(of(l) + of(s.Machine.RaisedBy))
	}
	jamb := 0.0
	if s.Space.Width.Known() {
		jamb = (of(s.Space.Width) - of(m.Space.Width)) / 2
	}
	for _, l := range []quantity.Length{s.Power.OutletFromLeft, s.Water.Cold.FromLeft, s.Water.Hot.FromLeft, s.Drain.FromLeft, m.Power.EntryLeft, m.Drain.OutletLeft} {
		show(math.Abs(of(l) + jamb))
	}
	for _, j := range []*check.Judged{r.Plan.Found, r.Plan.Built} {
		for _, k := range []*check.Check{rules.DrainFall, rules.DrainPumpLift} {
			if f, ok := j.Of(k).Result.(rules.Fall); ok {
				for _, l := range []quantity.Length{f.Gap, f.Available, f.Required, f.Available.Times(-1)} {
					show(of(l))
				}
			}
		}
	}
	return all
}

// TestAxis folds the longest empty stretch, keeps the datum at 0, and cuts
// lines where something is left out.
func TestAxis(t *testing.T) {
	var a axis
	a.keep(0, 1000)
	a.keep(-2000, -2000)
	a.keep(9000, 9000)
	a.fold(4000)
	if len(a.cuts) != 1 || a.cuts[0] != (stretch{1000 + air, 9000 - air}) {
		t.Fatalf("cuts %v, want the long one on the right alone", a.cuts)
	}
	lost := a.cuts[0].to - a.cuts[0].from - slit
	for x, want := range map[float64]float64{0: 0, -2000: -2000, 1000: 1000, 9000: 9000 - lost} {
		if got := a.at(x); got != want {
			t.Errorf("at(%g): got %g, want %g", x, got, want)
		}
	}
	for _, c := range []struct{ p, q point }{{point{0, 0}, point{9000, 90}}, {point{9000, 90}, point{0, 0}}} {
		parts := a.parts(c.p, c.q)
		if len(parts) != 2 || parts[0][0] != c.p || parts[1][1] != c.q {
			t.Errorf("from %v: got %v", c.p, parts)
		}
		for _, s := range parts {
			for _, e := range s {
				if math.Abs(e.y-e.x/100) > 1e-6 || e.x > a.cuts[0].from+1e-6 && e.x < a.cuts[0].to-1e-6 {
					t.Errorf("%v isn't on the line or lies in the cut", e)
				}
			}
		}
	}
	if got := a.shown(2000); got > a.cuts[0].from {
		t.Errorf("shown(2000): got %g, want a place before the cut", got)
	}
	var near axis
	near.keep(0, 1000)
	near.keep(1500, 1500)
	near.fold(4000)
	if len(near.cuts) != 0 {
		t.Errorf("a drawing that is narrow enough was cut: %v", near.cuts)
	}
}

// TestSplit hides the part of a line that lies behind something.
func TestSplit(t *testing.T) {
	got := split(point{0, 5}, point{30, 5}, []region{{10, 0, 20, 10}})
	want := []hiddenPart{{point{0, 5}, point{10, 5}, false}, {point{10, 5}, point{20, 5}, true}, {point{20, 5}, point{30, 5}, false}}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := split(point{0, 5}, point{9, 5}, []region{{10, 0, 20, 10}}); len(got) != 1 || got[0].hidden {
		t.Errorf("beside it: got %v", got)
	}
}

// TestLineEnd ends a line above the rim by its gap, or inside for an air break.
func TestLineEnd(t *testing.T) {
	if got := lineEnd(point{5, 100}, rules.Fall{Gap: length(80)}); got != (point{5, 180}) {
		t.Errorf("got %v", got)
	}
	if got := lineEnd(point{5, 100}, rules.Fall{Gap: length(0)}); got.y >= 100 {
		t.Errorf("an air break ends at %v, above the rim", got)
	}
}

// TestFarReceptor draws the machine no smaller for a receptor that is far away.
func TestFarReceptor(t *testing.T) {
	wide := func(from string) float64 {
		dr := Elevation(site(t, "pass_avocet-r36", quantity.US, map[string]string{"drain.receptor_from_left": from}), check.Plumber)
		d := draw(t, []float64{96}, dr)
		// The scale shows in the bar: its end moves with it.
		for _, p := range d.Placed() {
			if p.Text == "20 in" {
				return p.X
			}
		}
		return 0
	}
	near, far := wide("60 in"), wide("400 in")
	if near == 0 || far < near*0.8 {
		t.Errorf("the bar of 20 in ends at %.1f mm with a far receptor, at %.1f mm with a near one", far, near)
	}
}

// TestWay draws every way in, as found, with what is carried through it.
func TestWay(t *testing.T) {
	for name, data := range sitesData(t) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			r := report(t, name, data, u)
			dr := Way(r)
			if dr.Canvas == nil {
				if len(r.Survey.Space.Path) > 0 {
					t.Errorf("%s: not drawn: %s", name, Under(dr))
				}
				continue
			}
			got := flat(texts(t, dr))
			for _, p := range r.Survey.Space.Path {
				if p.Width.Known() && !strings.Contains(got, quantity.New(p.Width.In(quantity.Millimetre), quantity.Millimetre).Gauge(u, quantity.Nearest)) {
					t.Errorf("%s: %s isn't drawn: %s", name, p.Width.Text(), got)
				}
			}
			if len(dr.Canvas.Hidden()) > 0 {
				t.Errorf("%s: hidden: %v", name, dr.Canvas.Hidden())
			}
			if f := os.Getenv("FIRSTFILL_SPECIMENS"); f != "" {
				b, err := draw(t, []float64{60}, dr).Bytes()
				if err == nil {
					err = os.WriteFile(filepath.Join(f, fmt.Sprintf("way-%s-%d.pdf", name, u)), b, 0o644)
				}
				if err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
