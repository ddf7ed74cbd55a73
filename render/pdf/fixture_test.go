package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
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

var today = survey.DateOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

// A site is a questionnaire with its machine.
type site struct {
	name    string
	survey  *survey.Survey
	machine *specs.Machine
}

// report checks the site, once for each order of units; tests only read it.
func (s site) report(u quantity.System) *words.Report {
	key := fmt.Sprint(s.name, u)
	if r, ok := reports.Load(key); ok {
		return r.(*words.Report)
	}
	r, _ := reports.LoadOrStore(key, words.Planned(plan.Find(rules.Judge(s.survey, s.machine, check.Options{Today: today}), plan.Options{}), u))
	return r.(*words.Report)
}

var reports sync.Map

// sites loads every readable site of testdata, and the demo.
func sites(t *testing.T) []site {
	t.Helper()
	lib, problems := specs.With(os.DirFS("../../testdata/machines"), "machines")
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	var list []site
	add := func(name string, data []byte) {
		sv, problems := survey.Load(name, data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		m, err := lib.Machine(sv.Machine.Key)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, site{name, sv, m})
	}
	for _, kind := range []string{"pass_", "block_", "fixture_"} {
		files, err := filepath.Glob("../../testdata/sites/" + kind + "*.yaml")
		if err != nil || len(files) == 0 {
			t.Fatalf("no sites %s: %v", kind, err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			add(strings.TrimSuffix(filepath.Base(f), ".yaml"), data)
		}
	}
	add("demo", templates.Demo)
	return list
}

func demo(t *testing.T) *words.Report {
	t.Helper()
	list := sites(t)
	return list[len(list)-1].report(quantity.US)
}

const fixtureSite = `survey: 1
site:
  name: The Sample Arms
  reference: T-01
  address: 2 Test Lane, Exampleton
  contact: the landlord
  phone: 555 0199
  surveyed_by: the surveyor
  surveyed_on: 2026-11-02
  delivery_on: 2026-12-01
  electrician: Example Electric, licence E-0000
machine: {key: fixture}
codes: {electrical: nec-2023, plumbing: upc, authority: Exampleton building department}
power:
  line_to_line: 208 V
  phases: 1
  breaker: 15 A
  breaker_poles: 2
  conductor: 14 AWG
  receptacle: NEMA 5-15
water:
  cold: {static_pressure: {value: 90 psi, note: read twice}, pipe_size: 1/2 in, connection: 3/4 GHT}
space:
  opening_width: 30 in
  path:
    - {kind: door, name: back door, clear_width: 34 in, clear_height: 80 in}
demand:
  glasses:
    - {name: pint, height: 6 in, diameter: 3-1/2 in, stock: 120}
notes: The cellar is wet.
`

const fixtureMachine = `machine: 1
key: fixture
name: Fixture 1
maker: no maker
kind: undercounter
basis: nec
source: fixture sheet 1
summary: A machine for tests.
power:
  connection: cord
  cord_length: 6 ft
  supplies:
    - name: 208 V
      voltage_min: 198 V
      voltage_max: 220 V
      phases: 1
      frequency: 60 Hz
      plug: NEMA 6-20
      min_circuit: {value: 14 A, source: data plate}
      max_breaker: {value: 20 A, source: data plate}
water:
  cold: {used: yes, connection: 3/4 GHT, pipe_size: 1/2 in, flowing_pressure_min: 15 psi, flowing_pressure_max: 75 psi, static_pressure_max: 80 psi, height: 16 in}
rinse: {sanitizing: chemical}
drain: {kind: gravity, outlet_size: 1-1/2 in, outlet_height: 10 in}
space: {width: 24 in, depth: 24 in, height: 34 in, crate_mass: 200 lb}
extras:
  - {name: pallet truck, why: the crate weighs 200 lb}
`

// fixture is a small planned site, made anew, that a test may spoil.
func fixture(t *testing.T) *words.Report {
	t.Helper()
	sv, problems := survey.Load("fixture", []byte(fixtureSite))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, problems := specs.Load("fixture", []byte(fixtureMachine))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return words.Planned(plan.Find(rules.Judge(sv, m, check.Options{Today: today}), plan.Options{}), quantity.US)
}

// textOf is the text of each page, in drawing order, a line each.
func textOf(d *page.Doc) []string {
	pages := make([]string, d.Pages())
	for _, p := range d.Placed() {
		pages[p.Page-1] += p.Text + "\n"
	}
	return pages
}

// overlaps lists texts of one page that lie over each other.
func overlaps(d *page.Doc) []string {
	const slack = 0.35 // mm; a line's box holds its accents and descenders
	var out []string
	byPage := map[int][]page.Placed{}
	for _, p := range d.Placed() {
		byPage[p.Page] = append(byPage[p.Page], p)
	}
	for n := 1; n <= d.Pages(); n++ {
		ps := byPage[n]
		for i, a := range ps {
			for _, b := range ps[:i] {
				if a.X+a.W > b.X+slack && b.X+b.W > a.X+slack && a.Y+a.H > b.Y+slack && b.Y+b.H > a.Y+slack {
					out = append(out, fmt.Sprintf("page %d: %q lies over %q at %.1f,%.1f", n, a.Text, b.Text, a.X, a.Y))
				}
			}
		}
	}
	return out
}

// sound fails the test for text outside its box or over other text, and for an
// empty page.
func sound(t *testing.T, d *page.Doc, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range d.Overflows() {
		if i == 5 {
			break
		}
		t.Errorf("overflow: %s", o)
	}
	for i, o := range overlaps(d) {
		if i == 5 {
			break
		}
		t.Errorf("overlap: %s", o)
	}
	for i, text := range textOf(d) {
		if slices.Contains(d.LeftBlank(), i+1) {
			continue
		}
		if n := strings.Count(text, "\n"); n < 7 { // header, footer and disclaimer alone are 6 lines
			t.Errorf("page %d holds next to nothing: %q", i+1, text)
		}
	}
}

// picture is a photo with content of its own.
func picture(w, h int, seed uint8, asPNG bool) []byte {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{uint8(x) + seed, uint8(y) * seed, seed, 255})
		}
	}
	var b bytes.Buffer
	if asPNG {
		_ = png.Encode(&b, img) // writing to memory
	} else {
		_ = jpeg.Encode(&b, img, nil)
	}
	return b.Bytes()
}
