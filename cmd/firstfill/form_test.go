package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/xuri/excelize/v2"

	"firstfill/survey"
	"firstfill/templates"
)

// command runs the program as main does.
func command(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(args, strings.NewReader(""), &o, &e)
	return code, o.String(), e.String()
}

// typist fills a form as a person does: it can only write into unlocked boxes.
type typist struct {
	t *testing.T
	f *excelize.File
}

func (p typist) unlocked(sheet, cell string) bool {
	id, err := p.f.GetCellStyle(sheet, cell)
	if err != nil {
		p.t.Fatal(err)
	}
	st, err := p.f.GetStyle(id)
	if err != nil {
		p.t.Fatal(err)
	}
	return st.Protection != nil && !st.Protection.Locked
}

func (p typist) write(sheet string, col, row int, text string) string {
	cell, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		p.t.Fatal(err)
	}
	if !p.unlocked(sheet, cell) {
		p.t.Fatalf("%s!%s is locked", sheet, cell)
	}
	if err := p.f.SetCellStr(sheet, cell, text); err != nil {
		p.t.Fatal(err)
	}
	return sheet + "!" + cell
}

// answer types one answer, and its remark, where the question stands.
func (p typist) answer(path, text, note string) string {
	list, item, isItem := strings.Cut(path, "[")
	for _, sheet := range p.f.GetSheetList() {
		rows, err := p.f.GetRows(sheet)
		if err != nil {
			p.t.Fatal(err)
		}
		for i, row := range rows {
			switch {
			case !isItem && len(row) > 7 && row[7] == path:
				if note != "" {
					p.write(sheet, 5, i+1, note)
				}
				return p.write(sheet, 3, i+1, text)
			case len(row) > 1 && row[0] == list && (isItem || text == "[]"):
				if text == "[]" {
					for k := i; k < len(rows); k++ {
						if len(rows[k]) > 1 && rows[k][1] == "nothing to list" {
							return p.write(sheet, 3, k+1, "yes")
						}
					}
				}
				n, name, _ := strings.Cut(item, "].")
				var k int
				fmt.Sscan(n, &k)
				for j, h := range row {
					if h == name {
						return p.write(sheet, j+1, i+3+k, text)
					}
				}
			}
		}
	}
	p.t.Fatalf("the form doesn't ask %s", path)
	return ""
}

// TestFormAsAUser makes the form of the demo's machine, types the demo's
// answers into the unlocked boxes, with three slips, and checks: the slips are
// complained of at their cells; mended, the form gives what the YAML gives.
func TestFormAsAUser(t *testing.T) {
	demo, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	form := filepath.Join(dir, "form.xlsx")
	if code, _, errs := command(t, "form", "--machine", "avocet-r36", "--as", "xlsx", "-o", form); code != exitReady {
		t.Fatal(code, errs)
	}
	f, err := excelize.OpenFile(form)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p := typist{t, f}
	for _, a := range demo.Answers() {
		if a.Path != "survey" {
			p.answer(a.Path, a.Text, a.Note)
		}
	}
	slips := map[string]string{
		"water.cold.static_pressure": "1,500",
		"drain.receptor":             "bucket",
		"space.path[0].clear_width":  "50 psi",
	}
	cells := map[string]string{}
	right := map[string]string{}
	for path, text := range slips {
		right[path] = demo.Answer(path).Text
		cells[path] = p.answer(path, text, "")
	}
	save := func() {
		if err := f.SaveAs(form); err != nil {
			t.Fatal(err)
		}
	}
	save()
	code, out, errs := command(t, "check", form)
	if code != exitBlocked || !strings.Contains(out, "find out: kind of receptor") {
		t.Errorf("with slips: exit %d, want %d and the receptor among what to find out:\n%s", code, exitBlocked, out)
	}
	for path, cell := range cells {
		if !strings.Contains(errs, form+":"+cell+": "+path+": ") {
			t.Errorf("the slip in %s is not complained of at %s:\n%s", path, cell, errs)
		}
	}
	if n := strings.Count(errs, "warning:"); n != len(slips) {
		t.Errorf("%d complaints, want %d:\n%s", n, len(slips), errs)
	}
	for path, text := range right {
		p.answer(path, text, "")
	}
	save()
	code, out, errs = command(t, "check", form, "--date", "2026-11-25")
	wantCode, want, _ := command(t, "check", "demo", "--date", "2026-11-25")
	if code != wantCode || out != want {
		t.Errorf("mended: exit %d, want %d; the list differs from the YAML's: %s", code, wantCode, errs)
	}
}

// TestConvert turns a site into each form and back, by command.
func TestConvert(t *testing.T) {
	dir := t.TempDir()
	site := filepath.Join("..", "..", "testdata", "sites", "pass_knot-c400.yaml")
	_, want, _ := command(t, "check", site, "--format", "json", "--date", "2026-11-25")
	for _, as := range []string{"yaml", "xlsx"} {
		file := filepath.Join(dir, "site."+as)
		if code, _, errs := command(t, "form", site, "--as", as, "-o", file); code != exitReady {
			t.Fatalf("%s: %d %s", as, code, errs)
		}
		if _, got, errs := command(t, "check", file, "--format", "json", "--date", "2026-11-25"); got != want {
			t.Errorf("%s: the converted site gives another result: %s", as, errs)
		}
		if code, _, errs := command(t, "form", site, "--as", as, "-o", file); code != exitInput || !strings.Contains(errs, "is already there") {
			t.Errorf("%s: a form was overwritten: %d %s", as, code, errs)
		}
	}
}

// TestSchema holds the schema against files that the program reads, and against ones that it
// refuses. The program's own forms are among them.
func TestSchema(t *testing.T) {
	code, out, errs := command(t, "form", "--as", "schema")
	if code != exitReady {
		t.Fatal(errs)
	}
	var root map[string]any
	if err := json.Unmarshal([]byte(out), &root); err != nil {
		t.Fatal(err)
	}
	valid := func(t *testing.T, data []byte) []string {
		t.Helper()
		var v any
		if err := yaml.Unmarshal(data, &v); err != nil {
			t.Fatal(err)
		}
		plain, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(plain, &v); err != nil {
			t.Fatal(err)
		}
		return faultsBySchema(t, root, root, v, "")
	}
	files := map[string][]byte{"demo": templates.Demo}
	for _, pattern := range []string{"testdata/sites/pass_*", "testdata/sites/block_*", "testdata/sites/fixture_*", "testdata/machines/*", "specs/library/*"} {
		names, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(pattern+".yaml")))
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %d files, %v", pattern, len(names), err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			files[filepath.Base(name)] = data
		}
	}
	for _, args := range [][]string{{"form"}, {"form", "--machine", "knot-c400"}, {"form", "demo"}} {
		_, out, _ := command(t, args...)
		files[strings.Join(args, " ")] = []byte(out)
	}
	files["left empty"] = []byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\nwater:\npower: {breaker: , phases: , dedicated: , system: , other_loads: }\n")
	for name, data := range files {
		for _, f := range valid(t, data) {
			t.Errorf("%s: %s", name, f)
		}
	}
	for name, text := range map[string]string{
		"an unknown name":    "survey: 1\nsite: {name: X, adress: Y}\nmachine: {key: k}\n",
		"a bare number":      "survey: 1\nsite: {name: X}\nmachine: {key: k}\npower: {breaker: 20}\n",
		"a choice of ours":   "survey: 1\nsite: {name: X}\nmachine: {key: k}\npower: {system: lots}\n",
		"no version":         "site: {name: X}\nmachine: {key: k}\n",
		"no name":            "survey: 1\nsite: {}\nmachine: {key: k}\n",
		"a list's items":     "survey: 1\nsite: {name: X}\nmachine: {key: k}\nspace: {path: [{kind: window}]}\n",
		"neither yes nor no": "survey: 1\nsite: {name: X}\nmachine: {key: k}\npower: {dedicated: maybe}\n",
	} {
		if len(valid(t, []byte(text))) == 0 {
			t.Errorf("%s: the schema lets it through", name)
		}
	}
}

// faultsBySchema checks a value against the parts of JSON Schema 2020-12 that we
// write; one that it doesn't know fails the test.
func faultsBySchema(t *testing.T, root, s map[string]any, v any, at string) (faults []string) {
	t.Helper()
	sub := func(s any, v any, at string) []string { return faultsBySchema(t, root, s.(map[string]any), v, at) }
	kind := map[bool]string{true: "null"}[v == nil]
	switch x := v.(type) {
	case string:
		kind = "string"
	case bool:
		kind = "boolean"
	case float64:
		kind = "number"
		if x == float64(int64(x)) {
			kind = "integer"
		}
	case []any:
		kind = "array"
	case map[string]any:
		kind = "object"
	}
	bad := func(format string, args ...any) { faults = append(faults, at+": "+fmt.Sprintf(format, args...)) }
	object, _ := v.(map[string]any)
	for word, rule := range s {
		switch word {
		case "$schema", "$defs", "title", "description", "examples", "then", "else", "properties":
		case "$ref":
			name := strings.TrimPrefix(rule.(string), "#/$defs/")
			faults = append(faults, sub(root["$defs"].(map[string]any)[name], v, at)...)
		case "if":
			next := "then"
			if len(sub(rule, v, at)) > 0 {
				next = "else"
			}
			faults = append(faults, sub(s[next], v, at)...)
		case "anyOf":
			var all []string
			fits := false
			for _, r := range rule.([]any) {
				fs := sub(r, v, at)
				fits = fits || len(fs) == 0
				all = append(all, fs...)
			}
			if !fits {
				faults = append(faults, all...)
			}
		case "type":
			words, many := rule.([]any)
			if !many {
				words = []any{rule}
			}
			if !slices.ContainsFunc(words, func(w any) bool { return w == kind || w == "number" && kind == "integer" }) {
				bad("%v is not %v", v, rule)
			}
		case "enum":
			if !slices.ContainsFunc(rule.([]any), func(w any) bool { return reflect.DeepEqual(w, v) }) {
				bad("%v is not one of %v", v, rule)
			}
		case "const":
			if !reflect.DeepEqual(rule, v) {
				bad("%v is not %v", v, rule)
			}
		case "minimum":
			if n, ok := v.(float64); ok && n < rule.(float64) {
				bad("%v is less than %v", v, rule)
			}
		case "pattern":
			if text, ok := v.(string); ok && !regexp.MustCompile(rule.(string)).MatchString(text) {
				bad("%q doesn't match %v", text, rule)
			}
		case "items":
			list, _ := v.([]any)
			for i, item := range list {
				faults = append(faults, sub(rule, item, fmt.Sprintf("%s[%d]", at, i))...)
			}
		case "required":
			for _, name := range rule.([]any) {
				if _, ok := object[name.(string)]; object != nil && !ok {
					bad("lacks %v", name)
				}
			}
		case "additionalProperties":
			if rule != false {
				t.Fatalf("additionalProperties: %v isn't checked here", rule)
			}
			for name := range object {
				if _, ok := s["properties"].(map[string]any)[name]; !ok {
					bad("%s isn't known", name)
				}
			}
		default:
			t.Fatalf("%s isn't checked here", word)
		}
	}
	if props, ok := s["properties"].(map[string]any); ok {
		for name, item := range object {
			if p, ok := props[name]; ok {
				faults = append(faults, sub(p, item, at+"/"+name)...)
			}
		}
	}
	return faults
}

// TestPaperForm writes the paper form of a machine.
func TestPaperForm(t *testing.T) {
	file := filepath.Join(t.TempDir(), "form.pdf")
	if code, _, errs := command(t, "form", "--machine", "godwit-c44", "--as", "pdf", "-o", file, "--date", "2026-11-25"); code != exitReady {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(file)
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF")) {
		t.Errorf("no PDF was written: %v", err)
	}
	if code, out, errs := command(t, "form", "demo", "--as", "pdf", "--date", "2026-11-25"); code != exitReady || !strings.HasPrefix(out, "%PDF") || errs != "" {
		t.Errorf("a form with what is known printed in: exit %d, %q", code, errs)
	}
}
