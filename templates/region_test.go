package templates_test

import (
	"strings"
	"testing"

	"firstfill/survey/quantity"
	"firstfill/templates"
)

func TestRegion(t *testing.T) {
	for _, tt := range []struct{ us, british string }{
		{"Way in from the curb", "Way in from the kerb"},
		{"CURB", "KERB"},
		{"An elevator, a freight elevator and two elevators", "A lift, a goods lift and two lifts"},
		{"the Elevator", "the Lift"},
		{"lift it with two people; lift of the hose", "lift it with two people; lift of the hose"},
		{"{elevator}: the elevator's {color} car", "{elevator}: the lift's {color} car"},
		{"the {aluminum} aluminum wire", "the {aluminum} aluminium wire"},
		{"License no.", "Licence no."},
		{"a licensed plumber", "a licensed plumber"},
		{"conductivity meter", "conductivity meter"},
		{"0.005 % per meter", "0.005 % per metre"},
		{"center-tapped", "centre-tapped"},
		{"epicenter, colorless, curbing", "epicenter, colorless, curbing"},
		{"an aluminum conductor", "an aluminium conductor"},
		{"sanitize with sanitizer", "sanitize with sanitizer"},
		{"program", "program"},
		{"freight\nelevator", "goods lift"},
		{"Ground", "Ground"},
		{"", ""},
	} {
		if got := templates.British.Text(tt.us); got != tt.british {
			t.Errorf("%q: got %q, want %q", tt.us, got, tt.british)
		}
		if got := templates.US.Text(tt.us); got != tt.us {
			t.Errorf("US %q: got %q", tt.us, got)
		}
	}
	if templates.For(quantity.US) != templates.US || templates.For(quantity.SI) != templates.British {
		t.Error("the units' regions are mixed up")
	}
}

// A wording in British words leaves the shared one, and a company's own words, alone.
func TestIn(t *testing.T) {
	w := &templates.Wording{
		Letterhead:  templates.Letterhead{Name: "Elevator Bar", Lines: []string{"Curb Street"}},
		SignOff:     templates.SignOff{Licence: "License no."},
		Uncertainty: []string{"a flashlight"},
		Trades:      map[string]templates.TradeWords{"plumber": {Cautions: []templates.Hazard{{Text: "gray"}}}},
	}
	b := templates.In(templates.British, w)
	if b.SignOff.Licence != "Licence no." || b.Uncertainty[0] != "a torch" || b.Trades["plumber"].Cautions[0].Text != "grey" {
		t.Errorf("got %+v", b)
	}
	if b.Letterhead.Name != "Elevator Bar" || b.Letterhead.Lines[0] != "Curb Street" {
		t.Errorf("the letterhead became %+v", b.Letterhead)
	}
	if w.SignOff.Licence != "License no." || w.Uncertainty[0] != "a flashlight" || w.Trades["plumber"].Cautions[0].Text != "gray" {
		t.Errorf("the shared wording became %+v", w)
	}
	if templates.In(templates.US, w) != w {
		t.Error("the US wording is a copy")
	}
}

// The table of regions is sound: a British word is none of the left side, and
// what the tables say is US English.
func TestRegions(t *testing.T) {
	rows, err := templates.RegionRows()
	if err != nil || len(rows) < 20 {
		t.Fatalf("%d rows: %v", len(rows), err)
	}
	for _, r := range rows {
		if templates.British.Text(r.British) != r.British {
			t.Errorf("%s: its British word is changed again", r.US)
		}
		if r.US == r.British {
			t.Errorf("%s: both sides are alike", r.US)
		}
	}
	phrases, err := templates.Phrases()
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range phrases {
		for _, r := range rows {
			if r.Other == "" && hasWord(text, r.British) {
				t.Errorf("%s is not in US English: %q", name, r.British)
			}
		}
	}
}

func hasWord(text, word string) bool {
	letters := func(r rune) bool { return (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') }
	return strings.Contains(" "+strings.Join(strings.FieldsFunc(strings.ToLower(text), letters), " ")+" ", " "+word+" ")
}
