package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	if code != exitInput || out != "" {
		t.Errorf("with slips: exit %d, output %q; want %d and none", code, out, exitInput)
	}
	for path, cell := range cells {
		if !strings.Contains(errs, form+":"+cell+": "+path+": ") {
			t.Errorf("the slip in %s is not complained of at %s:\n%s", path, cell, errs)
		}
	}
	if n := strings.Count(errs, "error:"); n != len(slips) {
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

// TestSchema holds the schema against the demo: every name in it is known.
func TestSchema(t *testing.T) {
	code, out, errs := command(t, "form", "--as", "schema")
	if code != exitReady {
		t.Fatal(errs)
	}
	var s struct {
		Defs map[string]map[string]any `json:"$defs"`
	}
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	demo, problems := survey.Load("demo", templates.Demo)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, a := range demo.Answers() {
		at := any(s.Defs["questionnaire"])
		for _, part := range strings.FieldsFunc(a.Path, func(r rune) bool { return r == '.' }) {
			name, _, item := strings.Cut(part, "[")
			props, _ := at.(map[string]any)["properties"].(map[string]any)
			if props[name] == nil {
				t.Fatalf("%s is not in the schema", a.Path)
			}
			at = props[name]
			if item {
				at = at.(map[string]any)["items"]
			}
		}
		n++
	}
	if n < 50 {
		t.Errorf("only %d answers compared", n)
	}
	if s.Defs["requirement_sheet"]["properties"].(map[string]any)["power"] == nil {
		t.Error("the schema lacks the requirement sheet")
	}
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
	if code, _, _ := command(t, "form", "demo", "--as", "pdf"); code != exitInput {
		t.Errorf("a filled paper form: exit %d, want %d", code, exitInput)
	}
}
