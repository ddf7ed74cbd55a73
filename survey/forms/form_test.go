package forms_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity"
)

// demoSites reads every readable site of testdata.
func demoSites(t testing.TB) map[string]*survey.Survey {
	t.Helper()
	all := map[string]*survey.Survey{}
	for _, pattern := range []string{"pass_*", "block_*", "fixture_*"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sites", pattern+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, problems := survey.Load(file, data)
			if err := problems.Err(); err != nil {
				t.Fatal(err)
			}
			all[filepath.Base(file)] = s
		}
	}
	if len(all) < 12 {
		t.Fatalf("only %d sites", len(all))
	}
	return all
}

func sameAnswers(t *testing.T, name string, got, want *survey.Survey) {
	t.Helper()
	if got.Digest() == want.Digest() {
		return
	}
	texts := map[string]string{}
	for _, a := range want.Answers() {
		if !a.Unknown() {
			texts[a.Path] = a.Text + "|" + a.Note
		}
	}
	for _, a := range got.Answers() {
		if a.Unknown() {
			continue
		}
		if texts[a.Path] != a.Text+"|"+a.Note {
			t.Errorf("%s: %s: got %q, want %q", name, a.Path, a.Text+"|"+a.Note, texts[a.Path])
		}
		delete(texts, a.Path)
	}
	for p, text := range texts {
		t.Errorf("%s: %s %q was lost", name, p, text)
	}
}

// TestFormRoundTrip converts every site to a workbook form and reads the same survey back.
func TestFormRoundTrip(t *testing.T) {
	for name, s := range demoSites(t) {
		data, err := forms.Write(survey.FormFor{Known: s, Key: s.Machine.Key})
		if err != nil {
			t.Fatal(err)
		}
		again, err := forms.Write(survey.FormFor{Known: s, Key: s.Machine.Key})
		if err != nil || !bytes.Equal(data, again) {
			t.Errorf("%s: two forms of the same answers differ (%v)", name, err)
		}
		back, problems := forms.Load(name+".xlsx", data)
		if err := problems.Err(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		sameAnswers(t, name, back, s)
	}
}

// fill writes into the answer box of a question, as a person would type it.
func fill(t *testing.T, f *excelize.File, path, text string) (cell string) {
	t.Helper()
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			if len(row) > 7 && row[7] == path {
				at, _ := excelize.CoordinatesToCellName(3, i+1)
				if err := f.SetCellValue(sheet, at, text); err != nil {
					t.Fatal(err)
				}
				return sheet + "!" + at
			}
		}
	}
	t.Fatalf("the form doesn't ask %s", path)
	return ""
}

// filled makes a form, types the answers and reads it.
func filled(t *testing.T, u quantity.System, set map[string]string) (*survey.Survey, string, map[string]string) {
	t.Helper()
	data, err := forms.Write(survey.FormFor{Key: "avocet-r36", Units: u})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cells := map[string]string{}
	fill(t, f, "site.name", "The Crooked Spoon")
	for p, text := range set {
		cells[p] = fill(t, f, p, text)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	s, problems := forms.Load("form.xlsx", b.Bytes())
	text := ""
	if err := problems.Err(); err != nil {
		text = err.Error()
	}
	return s, text, cells
}

func TestFormTyping(t *testing.T) {
	const static, winter, size, on = "water.cold.static_pressure", "water.cold.winter_temperature", "water.cold.pipe_size", "site.surveyed_on"
	tests := []struct {
		name  string
		units quantity.System
		path  string
		typed string
		want  string // answer as read
		fault string
	}{
		{"a bare number takes the unit beside it", quantity.US, static, "62", "62 psi", ""},
		{"in the other system", quantity.SI, static, "430", "430 kPa", ""},
		{"with its uncertainty", quantity.US, static, "62 ± 1", "62 ± 1 psi", ""},
		{"with its own unit", quantity.US, static, "3.8 bar", "3.8 bar", ""},
		{"at the end of the plausible range", quantity.US, static, "150", "150 psi", ""},
		{"absurd without a unit", quantity.US, static, "800", "", "800 psi is outside what is plausible here (15 psi to 150 psi)"},
		{"absurd with a unit is a question, not a fault", quantity.US, static, "800 psi", "800 psi", ""},
		{"ambiguous", quantity.US, static, "1,500", "", "1500"},
		{"wrong dimension", quantity.US, winter, "42 psi", "", "is a pressure, not a temperature"},
		{"a size is a name", quantity.US, size, "1/2", "1/2", ""},
		{"a day number", quantity.US, on, "46328", "2026-11-02", ""},
		{"a date in another order", quantity.US, on, "11/02/2026", "", "write year-month-day"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, fault, cells := filled(t, tt.units, map[string]string{tt.path: tt.typed})
			if tt.fault == "" {
				if fault != "" {
					t.Fatal(fault)
				}
				if got := s.Answer(tt.path).Text; got != tt.want {
					t.Errorf("got %q, want %q", got, tt.want)
				}
				return
			}
			if !strings.Contains(fault, tt.fault) || !strings.Contains(fault, "form.xlsx:"+cells[tt.path]+": "+tt.path) {
				t.Errorf("got %q, want a fault at %s with %q", fault, cells[tt.path], tt.fault)
			}
		})
	}
}

// TestFormLists converts lists with remarks, sources and more items than the form has
// room for at first, and reads them back.
func TestFormLists(t *testing.T) {
	var b strings.Builder
	b.WriteString("survey: 1\nsite: {name: X}\nmachine: {key: avocet-r36}\nspace:\n  path:\n")
	for i := range 40 {
		fmt.Fprintf(&b, "    - kind: {value: door, note: \"the lock: number %d\\nsecond line\"}\n      clear_width: {value: %d in, note: narrow, source: the builder}\n", i, 30+i)
	}
	s, problems := survey.Load("lists", []byte(b.String()))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	data, err := forms.Write(survey.FormFor{Known: s})
	if err != nil {
		t.Fatal(err)
	}
	back, problems := forms.Load("lists.xlsx", data)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	sameAnswers(t, "lists", back, s)
	if got := back.Answer("space.path[39].clear_width"); got.Source != "the builder" || got.Note != "narrow" {
		t.Errorf("got %+v", got)
	}
}

// TestFormStray types where no question asks: it is complained of at its cell, never dropped.
func TestFormStray(t *testing.T) {
	data, err := forms.Write(survey.FormFor{Key: "avocet-r36"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, sheet string
		edit        func(f *excelize.File, sheet string) (cell string, err error)
		want        string
	}{
		{"beside no question", "Before you go", func(f *excelize.File, sheet string) (string, error) {
			return "C200", f.SetCellStr(sheet, "C200", "the key is with the baker")
		}, `"the key is with the baker" answers no question of this form`},
		{"a question copied", "Before you go", func(f *excelize.File, sheet string) (string, error) {
			if err := f.SetCellStr(sheet, "C200", "Another Bar"); err != nil {
				return "", err
			}
			return "C200", f.SetCellStr(sheet, "H200", "site.name")
		}, "site.name: answered twice; the first answer is in Before you go!C6"},
		{"beside a list", "Way to the door", func(f *excelize.File, sheet string) (string, error) {
			return "Z6", f.SetCellStr(sheet, "Z6", "mind the step")
		}, `"mind the step" stands in a column of its own`},
		{"a remark on no item", "Way to the door", func(f *excelize.File, sheet string) (string, error) {
			rows, err := f.GetRows(sheet)
			if err != nil {
				return "", err
			}
			at, err := excelize.CoordinatesToCellName(len(rows[2]), 6)
			if err != nil {
				return "", err
			}
			return at, f.SetCellStr(sheet, at, "mind the step")
		}, "the remark belongs to no item"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f, err := excelize.OpenReader(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := f.SetCellStr("Before you go", "C6", "A Bar"); err != nil {
				t.Fatal(err)
			}
			at, err := tt.edit(f, tt.sheet)
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := f.Write(&b); err != nil {
				t.Fatal(err)
			}
			_, problems := forms.Load("form.xlsx", b.Bytes())
			if err := problems.Err(); err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "form.xlsx:"+tt.sheet+"!"+at) {
				t.Errorf("got %v, want %q at %s", err, tt.want, at)
			}
		})
	}
	if _, problems := forms.Load("form.xlsx", data); !strings.Contains(problems.Error(), "form.xlsx:Before you go!C6: site.name: this answer is needed") {
		t.Errorf("a missing name: got %v", problems)
	}
}

func TestLoadXLSXHostile(t *testing.T) {
	for name, data := range map[string][]byte{
		"empty":     nil,
		"not a zip": []byte("hello"),
		"cut zip":   []byte("PK\x03\x04abc"),
		"too large": make([]byte, 9<<20),
	} {
		if _, problems := forms.Load(name, data); problems.Err() == nil {
			t.Errorf("%s: no problem reported", name)
		}
	}
	f := excelize.NewFile()
	defer f.Close()
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	if _, problems := forms.Load("other.xlsx", b.Bytes()); problems.Err() == nil || !strings.Contains(problems.Error(), "not a filled questionnaire") {
		t.Errorf("another workbook: got %v", problems)
	}
}

func FuzzLoadXLSX(f *testing.F) {
	data, err := forms.Write(survey.FormFor{Key: "avocet-r36"})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		if s, problems := forms.Load("f", data); s == nil && problems.Err() == nil {
			t.Error("neither a survey nor a problem")
		}
	})
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte("survey: 1\nsite: {name: X}\nmachine: {key: k}\nwater:\n  cold: {static_pressure: 62 ± 2 psi}\nspace:\n  path: [{kind: door, clear_width: 34 in}]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, problems := survey.Load("f", data)
		if s == nil || problems.Err() != nil {
			return
		}
		back, problems := survey.Load("back", survey.WriteYAML(survey.FormFor{Known: s}, survey.FormWords{}))
		if err := problems.Err(); err != nil {
			t.Fatalf("what was read can't be written and read again: %v", err)
		}
		if back.Digest() != s.Digest() {
			t.Error("what was read changed when it was written and read again")
		}
	})
}

// TestMetricBoxes types bare numbers into the boxes of a form in SI, as metric
// trades write them.
func TestMetricBoxes(t *testing.T) {
	s, text, _ := filled(t, quantity.SI, map[string]string{
		"power.run_length": "18", "water.cold.run_length": "6", "water.cold.flow": "15", "heater.recovery": "276",
		"water.cold.static_pressure": "430", "drain.rim_height": "150", "heater.set_point": "60", "space.floor_capacity": "4.8",
	})
	if text != "" {
		t.Fatal(text)
	}
	for path, want := range map[string]string{
		"power.run_length": "18 m", "water.cold.run_length": "6 m", "water.cold.flow": "15 L/min", "heater.recovery": "276 L/h",
		"water.cold.static_pressure": "430 kPa", "drain.rim_height": "150 mm", "heater.set_point": "60 °C", "space.floor_capacity": "4.8 kN/m²",
	} {
		if got := s.Answer(path).Text; got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
}

// TestFormWords types the words that people write into the boxes of closed
// lists, and reads what the same words read in YAML.
func TestFormWords(t *testing.T) {
	var asked []survey.Field
	most := 0
	for _, f := range (survey.FormFor{Key: "avocet-r36"}).Asked() {
		if len(f.Choices) > 0 && !strings.Contains(f.Path, "[]") {
			asked = append(asked, f)
			most = max(most, len(f.OtherWords()))
		}
	}
	data, err := forms.Write(survey.FormFor{Key: "avocet-r36"})
	if err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	fill(t, book, "site.name", "The Crooked Spoon")
	cells := map[string][2]string{}
	for _, f := range asked {
		sheet, cell, _ := strings.Cut(fill(t, book, f.Path, ""), "!")
		cells[f.Path] = [2]string{sheet, cell}
	}
	tried := 0
	for n := range most + 4 {
		set := map[string]string{}
		for _, f := range asked {
			words := append(f.OtherWords(), "other: see the photo", "don't know", "n/a", strings.ToUpper(f.Choices[0]))
			word := ""
			if n < len(words) {
				word = words[n]
				set[f.Path] = word
			}
			if err := book.SetCellValue(cells[f.Path][0], cells[f.Path][1], word); err != nil {
				t.Fatal(err)
			}
		}
		var b bytes.Buffer
		if err := book.Write(&b); err != nil {
			t.Fatal(err)
		}
		s, problems := forms.Load("form.xlsx", b.Bytes())
		if err := problems.Err(); err != nil || s == nil {
			t.Fatal(err)
		}
		want, problems := survey.Load("f.yaml", []byte("survey: 1\nsite:\n  name: The Crooked Spoon\nmachine:\n  key: avocet-r36\n"))
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		if err := want.Apply(set); err != nil {
			t.Fatal(err)
		}
		for _, f := range asked {
			if set[f.Path] == "" {
				continue
			}
			tried++
			got, in := survey.Named(f.Path).Value(s), survey.Named(f.Path).Value(want)
			if s.Known(f.Path) != want.Known(f.Path) || got != in {
				t.Errorf("%s: %q typed into the workbook is %v, in YAML %v", f.Path, set[f.Path], got, in)
			}
		}
	}
	if len(asked) < 20 || tried < 300 {
		t.Errorf("only %d questions and %d words", len(asked), tried)
	}
}
