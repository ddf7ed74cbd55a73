package words_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/jsonreport"
	"firstfill/render/terminal"
	"firstfill/render/words"
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
	foreign := notOurs(p)
	var list []printed
	add := func(where, text string) {
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
	if err := jsonreport.Write(&b, p, u); err != nil {
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

// notOurs takes out of a text what people wrote, and the titles of sources.
func notOurs(p *plan.Plan) *strings.Replacer {
	theirs := map[string]bool{}
	add := func(text string) {
		if text = strings.Join(strings.Fields(text), " "); len(text) > 4 {
			theirs[text] = true
		}
	}
	for _, a := range p.Found.Survey.Answers() {
		if f := survey.FieldAt(a.Path); len(f.Choices) == 0 {
			add(a.Text)
		}
		add(a.Note)
		add(a.Source)
	}
	say := words.Reader{}
	for _, f := range p.Report().Findings {
		for _, s := range strings.Split(say.Tell(f, p.Found.Machine).Source, "; ") {
			add(s)
		}
	}
	for _, f := range p.Proven().Findings {
		for _, s := range strings.Split(say.Tell(f, p.Found.Machine).Source, "; ") {
			add(s)
		}
	}
	var pairs []string
	for _, text := range slices.SortedFunc(maps.Keys(theirs), func(a, b string) int { return len(b) - len(a) }) {
		pairs = append(pairs, text, "…")
	}
	return strings.NewReplacer(pairs...)
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

// whole finds any of the words, whole.
func whole(words []string) *regexp.Regexp {
	for i, w := range words {
		words[i] = regexp.QuoteMeta(w)
	}
	return regexp.MustCompile(`(?i)\b(?:` + strings.Join(words, "|") + `)\b`)
}

// TestOneEnglish sees no British word on a US sheet and no US word on a metric
// one, no answer's code, and no trace of a phrase that isn't there.
func TestOneEnglish(t *testing.T) {
	rows, err := templates.RegionRows()
	if err != nil {
		t.Fatal(err)
	}
	var us, british []string
	for _, r := range rows {
		us = append(us, r.US)
		if r.Other == "" {
			british = append(british, r.British)
		}
	}
	foreign := map[quantity.System]*regexp.Regexp{quantity.US: whole(british), quantity.SI: whole(us)}
	var coded []string
	for _, f := range survey.Fields() {
		for _, c := range f.Choices {
			if w := (words.Reader{}).Word(c); strings.Contains(c, "-") && !strings.Contains(w, c) {
				coded = append(coded, c)
			}
		}
	}
	code := regexp.MustCompile(`(?:^|[ (:,;])(?:` + strings.Join(coded, "|") + `)(?:$|[ ),:;.])`)
	broken := regexp.MustCompile(`<[a-zA-Z][\w.-]*>|\{[a-z0-9]*\}|[^.… ] [.,;:](?: |$)|\( |\(\)| \)|%!`)
	seen := map[string]bool{}
	eachText(t, func(u quantity.System, site string, p printed) {
		for what, find := range map[string]*regexp.Regexp{"a word of the other English": foreign[u], "an answer's code": code, "a broken text": broken} {
			found := find.FindString(p.text)
			if found == "" || seen[found+p.text] {
				continue
			}
			seen[found+p.text] = true
			t.Errorf("%s, units %v, %s: %s, %q, in %q", site, u, p.where, what, found, p.text)
		}
	})
}
