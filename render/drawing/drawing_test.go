package drawing

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

func report(t testing.TB, name string, data []byte, u quantity.System) *words.Report {
	t.Helper()
	s, problems := survey.Load(name, data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine(s.Machine.Key)
	if err != nil {
		t.Fatal(err)
	}
	return words.Tells(rules.Judge(s, m, check.Options{Today: survey.DateOf(day)}).Report(false), u)
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
			d.StyledParagraph(strings.Join(dr.Legend, "; ")+" "+dr.Note, page.Small)
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

// TestSites draws every site in both unit orders.
func TestSites(t *testing.T) {
	for name, data := range sitesData(t) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			t.Run(fmt.Sprint(name, u), func(t *testing.T) {
				r := report(t, name, data, u)
				d := draw(t, []float64{110}, Elevation(r, ""), Plan(r, ""))
				if dir := os.Getenv("FIRSTFILL_SPECIMENS"); dir != "" {
					b, err := d.Bytes()
					if err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.pdf", name, u)), b, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			})
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
	legend := strings.Join(Elevation(r, "").Legend, "; ")
	for _, id := range []string{rules.DrainFall.ID} {
		f := r.Finding(id)
		if f == nil || f.Verdict != check.Fix {
			t.Fatalf("the demo should fail %s", id)
		}
		if !strings.Contains(legend, id) {
			t.Errorf("%s is not marked: %s", id, legend)
		}
	}
}

// TestTradesMarks sees only a trade's own conflicts on its drawing.
func TestTradesMarks(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	for _, trade := range check.Trades {
		legend := strings.Join(Elevation(r, trade).Legend, "; ")
		for _, f := range r.Findings {
			if f.Trade != trade && strings.Contains(legend, f.ID+" ") {
				t.Errorf("%s's drawing marks %s, which is the %s's", trade, f.ID, f.Trade)
			}
		}
	}
	if len(Elevation(r, check.Builder).Legend) != 0 || len(Elevation(r, check.Electrician).Legend) == 0 {
		t.Error("the demo's conflicts aren't marked by trade")
	}
}

// TestSupplies draws the demo's chains: every value in them stands in the working of a check.
func TestSupplies(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	all := Supplies(r)
	if len(all) != 3 {
		t.Fatalf("got %d chains, want cold, hot and power", len(all))
	}
	for _, s := range all {
		f := r.Finding(s.ID)
		values := " " + f.Have + " "
		for _, st := range f.Working {
			values += st.Value + " "
		}
		last := s.Nodes[len(s.Nodes)-1]
		if !strings.Contains(values, last.Value) || last.Value == "" {
			t.Errorf("%s: %q is not in the working of %s", s.Title, last.Value, s.ID)
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

// TestMinus turns signs round in both units.
func TestMinus(t *testing.T) {
	for in, want := range map[string]string{
		"10 psi": "−10 psi", "68.9 kPa (10 psi)": "−68.9 kPa (−10 psi)", "-5 kPa (-0.73 psi)": "+5 kPa (+0.73 psi)",
		"0 psi": "0 psi", "0 kPa (0 psi)": "0 kPa (0 psi)", "": "",
	} {
		if got := minus(in); got != want {
			t.Errorf("minus(%q): got %q, want %q", in, got, want)
		}
	}
}

// TestForeignPlaces sees another trade's places named but not dimensioned.
func TestForeignPlaces(t *testing.T) {
	r := report(t, "demo", templates.Demo, quantity.US)
	text := func(trade check.Trade) string {
		var b strings.Builder
		for _, p := range draw(t, []float64{106}, Elevation(r, trade)).Placed() {
			b.WriteString(p.Text + "\n")
		}
		return b.String()
	}
	plumber, electrician := text(check.Plumber), text(check.Electrician)
	for _, c := range []struct {
		text                 string
		plumber, electrician bool
	}{{"receptacle, 18 in high", false, true}, {"hot water, 16 in high", true, false}, {"\n76 in\n", true, false}, {"\n10 in\n", false, true}, {"\nP\n", false, true}, {"\nC\n", true, false}} {
		if got := strings.Contains(plumber, c.text); got != c.plumber {
			t.Errorf("%q on the plumber's drawing: got %v, want %v", c.text, got, c.plumber)
		}
		if got := strings.Contains(electrician, c.text); got != c.electrician {
			t.Errorf("%q on the electrician's drawing: got %v, want %v", c.text, got, c.electrician)
		}
	}
}
