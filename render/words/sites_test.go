package words_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/jsonreport"
	"firstfill/render/terminal"
	"firstfill/render/words"
	"firstfill/render/words/wordstest"
	"firstfill/render/workbook"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var today = survey.DateOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

// planned are the sites of testdata and the demo, planned once.
var planned = sync.OnceValues(func() (map[string]*plan.Plan, error) {
	lib, problems := specs.With(os.DirFS("../../testdata/machines"), "machines")
	if err := problems.Err(); err != nil {
		return nil, err
	}
	files, err := filepath.Glob("../../testdata/sites/*.yaml")
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("no sites: %w", err)
	}
	all := map[string][]byte{"demo": templates.Demo}
	for _, f := range files {
		if name := filepath.Base(f); !strings.HasPrefix(name, "invalid_") {
			if all[name], err = os.ReadFile(f); err != nil {
				return nil, err
			}
		}
	}
	plans := map[string]*plan.Plan{}
	for name, data := range all {
		s, problems := survey.Load(name, data)
		if err := problems.Err(); err != nil {
			return nil, err
		}
		m, err := lib.Machine(s.Machine.Key)
		if err != nil {
			return nil, err
		}
		plans[name] = plan.Find(rules.Judge(s, m, check.Options{Today: today}), plan.Options{})
	}
	return plans, nil
})

// A printed text, and where it stands.
type printed struct{ where, text string }

// texts are what a site's terminal listing, JSON and workbook say, without what
// people wrote and without the titles of sources.
func texts(t *testing.T, name string, p *plan.Plan, u quantity.System) []printed {
	t.Helper()
	foreign := wordstest.NotOurs(p)
	var list []printed
	add := func(where, text string) {
		if where != "terminal" && strings.Contains(text, "  ") { // there they make columns
			t.Errorf("%s, units %v, %s: two blanks in %q", name, u, where, text)
		}
		text = strings.Join(strings.Fields(text), " ")
		list = append(list, printed{where, foreign.Replace(text)})
	}
	var b bytes.Buffer
	// The other plans for the whole site take long: the demo's stand for all.
	if err := terminal.Report(&b, p, terminal.Options{All: name == "demo", Units: u}); err != nil {
		t.Fatal(err)
	}
	for _, par := range strings.Split(b.String(), "\n\n") {
		add("terminal", par)
	}
	b.Reset()
	if err := jsonreport.Write(&b, p, nil, u); err != nil {
		t.Fatal(err)
	}
	var report any
	if err := json.Unmarshal(b.Bytes(), &report); err != nil {
		t.Fatal(err)
	}
	walk("json", report, add)
	data, err := workbook.Build(words.Planned(p, u), workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		if sheet == "Meta" {
			continue // what the program reads back, in the form of files
		}
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			for j, cell := range row {
				add(fmt.Sprintf("workbook %s row %d column %d", sheet, i+1, j+1), cell)
			}
		}
	}
	return list
}

// codes are the parts of the JSON form that hold what stands in files, no text.
var codes = []string{"set", "at", "source", "machine", "id", "digest", "reference", "trade", "stage", "verdict", "hangs", "cures", "doubts"}

func walk(where string, v any, add func(where, text string)) {
	switch v := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if !slices.Contains(codes, k) {
				walk(where+"."+k, v[k], add)
			}
		}
	case []any:
		for i, x := range v {
			walk(fmt.Sprintf("%s[%d]", where, i), x, add)
		}
	case string:
		add(where, v)
	}
}

// eachText calls f for every text that any site prints.
func eachText(t *testing.T, f func(u quantity.System, site string, p printed)) {
	plans, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			for _, p := range texts(t, name, plans[name], u) {
				f(u, name, p)
			}
		}
	}
}

// TestOneEnglish sees no British word on a US sheet and no US word on a metric
// one, no answer's code, and no trace of a phrase that isn't there.
func TestOneEnglish(t *testing.T) {
	seen := map[string]bool{}
	eachText(t, func(u quantity.System, site string, p printed) {
		for _, found := range wordstest.Faults(u, p.text) {
			if !seen[found+p.text] {
				t.Errorf("%s, units %v, %s: %q in %q", site, u, p.where, found, p.text)
			}
			seen[found+p.text] = true
		}
	})
}

// TestFaults sees that the faults looked for are found.
func TestFaults(t *testing.T) {
	for _, tt := range []struct {
		units      quantity.System
		text, want string
	}{
		{quantity.US, "from the kerb", "kerb"},
		{quantity.SI, "from the kerb", ""},
		{quantity.SI, "an Elevator", "an Elevator"},
		{quantity.US, "how far the pump can lift", ""},
		{quantity.US, "code nec-2023.", " nec-2023."},
		{quantity.US, "pipe copper-L", " copper-L"},
		{quantity.US, "high-leg-delta", "high-leg-delta"},
		{quantity.SI, "an air-gap", " air-gap"},
		{quantity.US, "do <E-01.do> first", "<E-01.do>"},
		{quantity.US, "at {value}", "{value}"},
		{quantity.US, "nothing .", "g ."},
		{quantity.US, "at ( )", "( "},
		{quantity.US, "The end. … . It holds < 5 psi", ""},
	} {
		if got := strings.Join(wordstest.Faults(tt.units, tt.text), "|"); got != tt.want {
			t.Errorf("%q: found %q, want %q", tt.text, got, tt.want)
		}
	}
}
