package paperform

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"firstfill/render/page"
	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// TestForms lays out every part of the form of every machine, and the whole of
// it, on both papers and in both systems of units: each part on the pages that
// it should have, the whole on the parts' together; boxes high enough to write
// in, type large enough to read, every question by its number, cautions, words
// and no codes, no inches on metric paper, nothing outside its place.
func TestForms(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		for _, paper := range []string{"letter", "a4"} {
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				for _, part := range append([]survey.Part{survey.Whole}, survey.Parts...) {
					form := survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits(), Units: u, Part: part}
					t.Run(fmt.Sprint(m.Key, " ", part, " ", paper, " ", u), func(t *testing.T) { sound(t, paper, form) })
				}
			}
		}
	}
}

// codes are answers as a questionnaire's file writes them, and not a person.
var codes = regexp.MustCompile(`copper-[KLM]|nec-20|floor-sink|reduced-pressure$|air-gap|rcd-30ma|switch-in-sight|galvanised-|aluminium-copper|high-leg-delta|as-found`)

// inches are customary units that metric paper has no place for.
var inches = regexp.MustCompile(`(^|[ \[(0-9])(ft|psi|gpm|gph|gal|°F|lb|psf|gpg|AWG|Btu/h)($|[\]) ;:,])|[0-9] in($|[]);:,])|\[in\]`)

func sound(t *testing.T, paper string, form survey.FormFor) {
	d, err := layOut(Options{Paper: paper, Date: day, Form: form})
	if err != nil {
		t.Fatal(err)
	}
	want := sides[form.Part]
	if form.Part == survey.Whole {
		for _, n := range sides {
			want += n
		}
	}
	if n := d.Pages(); n > want {
		t.Errorf("%d pages, want at most %d", n, want)
	}
	for _, o := range d.Overflows() {
		t.Error(o)
	}
	for _, w := range d.Warnings() {
		t.Error(w)
	}
	boxes := d.Writing()
	if len(boxes) < 10 {
		t.Errorf("%d boxes to write in", len(boxes))
	}
	for i, b := range boxes {
		if b.H < 8 || b.W < 10 {
			t.Errorf("page %d: a box of %.1f × %.1f mm, want at least 10 × 8", b.Page, b.W, b.H)
		}
		for _, o := range boxes[:i] {
			if o.Page == b.Page && b.X < o.X+o.W-0.01 && o.X < b.X+b.W-0.01 && b.Y < o.Y+o.H-0.01 && o.Y < b.Y+b.H-0.01 {
				t.Errorf("page %d: boxes at %.1f,%.1f and %.1f,%.1f overlap", b.Page, b.X, b.Y, o.X, o.Y)
			}
		}
	}
	var text strings.Builder
	for _, p := range d.Placed() {
		text.WriteString(p.Text + " ")
		switch {
		case p.Size < 7:
			t.Errorf("%q is printed in %.1f pt, want at least 7", p.Text, p.Size)
		case codes.MatchString(p.Text):
			t.Errorf("%q is a code and no word", p.Text)
		case form.Units == quantity.SI && (inches.MatchString(p.Text) || p.Text == "in" && inBox(boxes, p)):
			t.Errorf("%q stands on metric paper", p.Text)
		}
	}
	all := strings.ReplaceAll(text.String(), ",", " ")
	printed := strings.Fields(all)
	if form.Part != survey.Office && !slices.Contains(printed, "Caution") {
		t.Error("there is no caution")
	}
	numbers := form.Numbers()
	for _, q := range form.Asked() {
		if n := numbers[q.Path]; n > 0 && !slices.Contains(printed, strconv.Itoa(n)) {
			t.Errorf("question %d, %s, is not there", n, q.Path)
		}
	}
}

// inBox says whether a text stands in a box to write in.
func inBox(boxes []page.PlacedBox, p page.Placed) bool {
	return slices.ContainsFunc(boxes, func(b page.PlacedBox) bool {
		return b.Page == p.Page && p.X >= b.X && p.X+p.W <= b.X+b.W && p.Y >= b.Y && p.Y+p.H <= b.Y+b.H
	})
}

// TestPicturesBesideAnswers sees that the surveyor's part has a box for each
// picture that the table names, and that no other part has one.
func TestPicturesBesideAnswers(t *testing.T) {
	m, err := specs.Builtin().Machine("avocet-r36")
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range survey.Parts {
		d, err := layOut(Options{Date: day, Form: survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits(), Part: part}})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, p := range d.Placed() {
			if p.Text == "picture no." {
				n++
			}
		}
		if want := part == survey.Surveyor; (n >= 6) != want || !want && n > 0 {
			t.Errorf("%s: %d boxes for pictures", part, n)
		}
	}
}

// TestKnownIsPrintedIn sees that what a site's questionnaire says already
// stands on its form.
func TestKnownIsPrintedIn(t *testing.T) {
	data, err := os.ReadFile("../../testdata/sites/pass_avocet-r36.yaml")
	if err != nil {
		t.Fatal(err)
	}
	site, problems := survey.Load("pass_avocet-r36.yaml", data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	m, err := specs.Builtin().Machine("avocet-r36")
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range []string{"letter", "a4"} {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			form := survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits(), Units: u, Known: site}
			d, err := layOut(Options{Paper: paper, Date: day, Form: form})
			if err != nil {
				t.Fatal(err)
			}
			var texts []string
			for _, p := range d.Placed() {
				texts = append(texts, p.Text)
			}
			for _, path := range []string{"site.name", "space.opening_width", "water.hot.static_pressure", "power.conductor", "drain.receptor_outlet"} {
				known := site.Value(path, u)
				if known == "" || !slices.ContainsFunc(texts, func(s string) bool {
					return s == known || strings.HasSuffix(s, "…") && strings.HasPrefix(known, strings.TrimSuffix(s, "…")) && len(s) > 6
				}) {
					t.Errorf("%s: %s, %q, is not printed in", paper, path, known)
				}
			}
			for _, o := range d.Overflows() {
				t.Error(o)
			}
		}
	}
}

// TestPaperTable sees that every path of the printed wording is a question.
func TestPaperTable(t *testing.T) {
	p, err := templates.PaperWords()
	if err != nil {
		t.Fatal(err)
	}
	check := func(path string) {
		if rest, ok := strings.CutPrefix(path, "water.line."); ok {
			if survey.HasField("water.cold."+rest) || survey.HasField("water.hot."+rest) {
				return
			}
		}
		if !survey.HasField(path) {
			t.Errorf("templates/paper.yaml: there is no question %s", path)
		}
	}
	for path := range p.Asks {
		check(path)
	}
	for path := range p.Photos {
		check(path)
	}
	for _, row := range p.Rows {
		for path := range row.Of {
			check(path)
			if f := survey.FieldAt(path); len(f.Choices) > 0 || f.YesNo() {
				t.Errorf("templates/paper.yaml: %s is ticked and stands in no row of boxes", path)
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	m := specs.Builtin().Machines()[0]
	o := Options{Paper: "letter", Date: day, Form: survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits()}}
	a, err := Write(o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Write(o)
	if err != nil || !bytes.Equal(a, b) {
		t.Errorf("two forms differ (%v)", err)
	}
	if f := os.Getenv("FIRSTFILL_SPECIMEN"); f != "" {
		if err := os.WriteFile(f, a, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
