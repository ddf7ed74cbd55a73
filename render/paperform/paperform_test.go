package paperform

import (
	"bytes"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// TestForms lays out the form of every machine on both papers: at most five
// pages, no text outside its box, every question asked, nothing that the fonts can't show.
func TestForms(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		for _, paper := range []string{"letter", "a4"} {
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				form := survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits(), Units: u}
				d, err := layOut(Options{Paper: paper, Date: day, Form: form})
				if err != nil {
					t.Fatal(err)
				}
				if n := d.Pages(); n > 5 {
					t.Errorf("%s on %s: %d pages, want at most 5", m.Key, paper, n)
				}
				for _, o := range d.Overflows() {
					t.Errorf("%s on %s: %v", m.Key, paper, o)
				}
				for _, w := range d.Warnings() {
					t.Errorf("%s on %s: %v", m.Key, paper, w)
				}
				var text strings.Builder
				for _, p := range d.Placed() {
					text.WriteString(p.Text + " ")
				}
				all := strings.Join(strings.Fields(text.String()), " ")
				for _, want := range []string{"Caution", "qualified person", "pressure gauge", "Static pressure"} {
					if !strings.Contains(all, want) {
						t.Errorf("%s on %s: %q is not on the form", m.Key, paper, want)
					}
				}
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

// TestParts lays out each hand's part: one sheet, front and back, with every
// question's number, and no text outside its place.
func TestParts(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		for _, paper := range []string{"letter", "a4"} {
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				for _, part := range survey.Parts {
					form := survey.FormFor{Key: m.Key, Name: m.Name, Traits: m.Traits(), Units: u, Part: part}
					name := m.Key + " " + string(part) + " on " + paper
					d, err := layOut(Options{Paper: paper, Date: day, Form: form})
					if err != nil {
						t.Fatal(err)
					}
					if n := d.Pages(); n > 2 {
						t.Errorf("%s: %d pages, want one sheet", name, n)
					}
					for _, o := range d.Overflows() {
						t.Errorf("%s: %v", name, o)
					}
					var text strings.Builder
					for _, p := range d.Placed() {
						text.WriteString(p.Text + " ")
					}
					all := strings.NewReplacer(",", "", "\n", " ").Replace(text.String())
					numbers := form.Numbers()
					for _, q := range form.Asked() {
						if n := strconv.Itoa(numbers[q.Path]); !slices.Contains(strings.Fields(all), n) {
							t.Errorf("%s: question %s, %s, is not there", name, n, q.Path)
						}
					}
				}
			}
		}
	}
}
