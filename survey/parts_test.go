package survey_test

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// TestParts sees that every question is somebody's, that the surveyor's part is
// at most 40 answers beside the photographs, and that what a part asks keeps its
// number when others are answered.
func TestParts(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		form := survey.FormFor{Key: m.Key, Traits: m.Traits()}
		numbers := form.Numbers()
		seen := map[string]survey.Part{}
		for _, part := range survey.Parts {
			form.Part, form.Known = part, nil
			n := 0
			for _, q := range form.Asked() {
				if other, twice := seen[q.Path]; twice {
					t.Errorf("%s: %s is asked by %s and %s", m.Key, q.Path, other, part)
				}
				seen[q.Path] = part
				if numbers[q.Path] == 0 {
					t.Errorf("%s: %s has no number", m.Key, q.Path)
				}
				if q.Path != "photos" {
					n++
				}
			}
			if part == survey.Surveyor && (n > 40 || n < 25) {
				t.Errorf("%s: the surveyor's part has %d answers, want at most 40", m.Key, n)
			}
		}
		for _, q := range (survey.FormFor{Traits: m.Traits()}).Asked() {
			if q.By != survey.Nobody && seen[q.Path] == "" {
				t.Errorf("%s: %s is in no part", m.Key, q.Path)
			}
		}
		if got := slices.Sorted(maps.Values(numbers)); !slices.IsSorted(got) || got[0] != 1 || got[len(got)-1] != len(got) {
			t.Errorf("%s: numbers run from %d to %d for %d questions", m.Key, got[0], got[len(got)-1], len(got))
		}
	}
}

// TestPartAsksWhatLacks fills in an answer and sees it gone from its part, and
// unknown ones still there.
func TestPartAsksWhatLacks(t *testing.T) {
	s, problems := survey.Load("s", []byte("survey: 1\nsite: {name: X}\nmachine: {key: avocet-r36}\npower: {breaker: 20 A, breaker_poles: unknown}\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	form := survey.FormFor{Part: survey.Surveyor, Known: s}
	var paths []string
	for _, q := range form.Asked() {
		paths = append(paths, q.Path)
	}
	if slices.Contains(paths, "power.breaker") || !slices.Contains(paths, "power.breaker_poles") {
		t.Errorf("got %v, want what is answered left out and what is unknown asked", paths)
	}
	yaml := string(survey.WriteYAML(form, survey.FormWords{}))
	if !strings.Contains(yaml, "name: X\n") || strings.Contains(yaml, "breaker: ") || !strings.Contains(yaml, "breaker_poles: unknown") {
		t.Errorf("the part's form:\n%s", yaml)
	}
	if _, problems := survey.Load("part", []byte(yaml)); problems.Err() != nil {
		t.Errorf("the part's form can't be read: %v", problems.Err())
	}
}

// TestNoCoverIsOpened reads the surveyor's questions as an unqualified person.
func TestNoCoverIsOpened(t *testing.T) {
	for _, q := range (survey.FormFor{Part: survey.Surveyor}).Asked() {
		text := strings.ToLower(q.Ask + " " + q.How)
		for _, word := range []string{"cover off", "open the panel", "remove the cover", "switch the breaker off", "qualified person", "voltage"} {
			if strings.Contains(text, word) {
				t.Errorf("%s tells the surveyor %q: %s (%s)", q.Path, word, q.Ask, q.How)
			}
		}
	}
}

func merged(t *testing.T, site, back string) (string, []survey.Conflict) {
	t.Helper()
	a, problems := survey.Load("site.yaml", []byte(site))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	b, problems := survey.Load("back.yaml", []byte(back))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	changes, conflicts, err := survey.Merge(a, b, "back.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text, problems := survey.Edit("site.yaml", []byte(site), changes)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return string(text), conflicts
}

func TestMerge(t *testing.T) {
	head := "survey: 1\nsite: {name: X, reference: R1}\nmachine: {key: avocet-r36}\n"
	for _, c := range []struct{ name, site, back, want, conflict string }{
		{"an answer that lacks", "power:\n  breaker: unknown # to be read\n", "power: {breaker: 20 A}\n", "power:\n  breaker: 20 A # to be read\n", ""},
		{"its remark and source", "power: {breaker: unknown}\n", "power: {breaker: {value: 20 A, note: left column, source: label}}\n",
			"power: {breaker: {value: 20 A, note: \"left column\", source: \"label\"}}\n", ""},
		{"a remark alone", "power: {breaker: unknown}\n", "power: {breaker: {value: unknown, note: locked}}\n", "power: {breaker: {value: unknown, note: \"locked\"}}\n", ""},
		{"the same answer", "power: {breaker: 20 A}\n", "power: {breaker: 20 A}\n", "power: {breaker: 20 A}\n", ""},
		{"unknown takes nothing away", "power: {breaker: 20 A}\n", "power: {breaker: unknown}\n", "power: {breaker: 20 A}\n", ""},
		{"another answer", "power: {breaker: 20 A}\n", "power: {breaker: 15 A}\n", "power: {breaker: {value: 20 A, note: \"back.yaml says 15 A\"}}\n",
			"power.breaker: breaker or fuse rating; the questionnaire has 20 A, the returned form says 15 A; the questionnaire's answer stays, and the form's is noted beside it"},
		{"a list that lacks", "power:\n  other_loads: unknown\n", "power:\n  other_loads:\n    - {name: \"cooler, big\", current: 4 A}\n    - {name: fan, current: 1 A}\n",
			"power:\n  other_loads: [{name: \"cooler, big\", current: \"4 A\"}, {name: \"fan\", current: \"1 A\"}]\n", ""},
		{"an empty list", "power:\n  other_loads: unknown\n", "power: {other_loads: []}\n", "power:\n  other_loads: []\n", ""},
		{"two lists", "power:\n  other_loads:\n    - {name: cooler, current: 4 A}\n", "power:\n  other_loads:\n    - {name: fan, current: 1 A}\n    - {name: ice, current: 6 A}\n",
			"power:\n  other_loads:\n    - {name: cooler, current: 4 A}\n",
			"power.other_loads: what else is on this circuit; the questionnaire has 1 item, the returned form says 2 items; the questionnaire's list stays, join the two by hand"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, conflicts := merged(t, head+c.site, head+c.back)
			// Entries of a list item come in the order of their names.
			want := strings.ReplaceAll(head+c.want, `{name: "cooler, big", current: "4 A"}, {name: "fan", current: "1 A"}`, `{current: "4 A", name: "cooler, big"}, {current: "1 A", name: "fan"}`)
			if got != want {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
			said := ""
			if len(conflicts) > 0 {
				said = conflicts[0].String()
			}
			if said != c.conflict || len(conflicts) > 1 {
				t.Errorf("conflicts: got %q, want %q", conflicts, c.conflict)
			}
			// Taken twice, it changes nothing more.
			if again, _ := merged(t, got, head+c.back); again != got {
				t.Errorf("taken again:\n%s", again)
			}
		})
	}
	if got, _ := merged(t, head, head+"power: {conductor: 12 AWG}\n"); got != strings.Replace(head, "survey: 1\n", "survey: 1\npower:\n  conductor: 12 AWG\n", 1) {
		t.Errorf("a group that lacks: got:\n%s", got)
	}
	a, _ := survey.Load("a", []byte(head))
	b, _ := survey.Load("b", []byte(strings.ReplaceAll(head, "R1", "R2")))
	if _, _, err := survey.Merge(a, b, "b"); err == nil || !strings.Contains(err.Error(), "another site") {
		t.Errorf("a form of another site: got %v", err)
	}
}

var usUnit = regexp.MustCompile(`[0-9] ?(psi|gal|gpm|gph|ft|in|°F|gpg|Btu/h|lb|psf|AWG)([;),]| for| is|$)`)

// TestSIQuestions sees no US unit in a question for those who measure in SI.
func TestSIQuestions(t *testing.T) {
	for _, q := range survey.Fields() {
		f := q.In(quantity.SI)
		if text := f.Ask + "; " + f.How + "; " + f.Example + "; 1 " + f.Unit(quantity.SI); usUnit.MatchString(text) {
			t.Errorf("%s: %q stands in %q", q.Path, usUnit.FindString(text), text)
		}
	}
}
