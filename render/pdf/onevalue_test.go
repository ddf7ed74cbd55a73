package pdf

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"firstfill/render/jsonreport"
	"firstfill/render/terminal"
	"firstfill/render/words"
	"firstfill/render/workbook"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey/quantity"
)

// flat is text on one line, as a reader takes it in whatever the page's width.
func flat(text string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("\u00a0", " ", "- ", "-").Replace(text)), " ")
}

// TestOneValue reads sheets, workbook, JSON and terminal of every site: each
// thing that the plan builds is said with the same value in all four, and
// nobody is asked for another one.
func TestOneValue(t *testing.T) {
	said := 0
	for _, s := range sites(t) {
		t.Run(s.name, func(t *testing.T) {
			r := s.report(quantity.US)
			d, err := packetDoc(r, Options{})
			if err != nil {
				t.Fatal(err)
			}
			sheets := flat(strings.Join(textOf(d), " "))
			var b bytes.Buffer
			if err := terminal.Report(&b, r.Plan, terminal.Options{}); err != nil {
				t.Fatal(err)
			}
			screen := flat(b.String())
			b.Reset()
			if err := jsonreport.Write(&b, r.Plan, nil, quantity.US); err != nil {
				t.Fatal(err)
			}
			var js struct {
				Plan struct {
					Set   map[string]string
					Steps []struct {
						N      int
						Change string
						Set    map[string]string
						Cures  []string
					}
				}
			}
			if err := json.Unmarshal(b.Bytes(), &js); err != nil {
				t.Fatal(err)
			}
			data, err := workbook.Build(r, workbook.Options{})
			if err != nil {
				t.Fatal(err)
			}
			book, _, err := workbook.Read("book.xlsx", data)
			if err != nil {
				t.Fatal(err)
			}
			if len(js.Plan.Steps) != len(r.Plan.Steps) {
				t.Fatalf("JSON has %d steps, the plan %d", len(js.Plan.Steps), len(r.Plan.Steps))
			}
			plain, gauge := words.Reader{Units: quantity.US}, words.Reader{Units: quantity.US, Gauge: true}
			for i, st := range r.Plan.Steps {
				change := flat(js.Plan.Steps[i].Change)
				if !strings.Contains(screen, change) {
					t.Errorf("step %d: the terminal doesn't say %q", st.N, change)
				}
				onPaper := flat(gauge.Step(st)) // as a tape or a gauge reads, like the sheets
				for _, id := range st.Cures {
					found := r.Finding(id)
					if found.Verdict != check.Fix {
						continue // it would turn FIX by the other steps alone
					}
					if it := book.Item(id); it == nil || !strings.Contains(flat(it.Action), onPaper) {
						t.Errorf("step %d: the workbook's %s doesn't say %q", st.N, id, onPaper)
					}
				}
				for path, text := range st.Set {
					if js.Plan.Set[path] != text {
						t.Errorf("%s: JSON's set says %q, its step %q", path, js.Plan.Set[path], text)
					}
					ref, ok := plan.ThingAt(path)
					if !ok {
						continue
					}
					value := check.FactOf(plan.Shown(ref, r.Plan.Built.Survey))
					if word := plain.Fact(value); word != "yes" && !strings.Contains(change, word) {
						t.Errorf("step %d: %s is %s, and the step says %q", st.N, path, word, change)
					}
					if word := gauge.Fact(value); word != "yes" && !strings.Contains(sheets, alone(word)) && !strings.Contains(sheets, word) {
						t.Errorf("step %d: %s is %s, which no sheet says", st.N, path, word)
					}
					said++
				}
			}
			// A check that judges a thing as such asks for the planned one in its row and in the workbook.
			for i, f := range r.Plan.Built.Findings {
				if f.Builds == nil || f.Verdict == check.NA || !slices.Contains(r.Plan.Found.Open(check.Fix), r.Plan.Found.Findings[i]) {
					continue
				}
				if _, sets := r.Plan.Change(f.Builds); !sets {
					continue
				}
				want := plain.Fact(check.FactOf(plan.Shown(f.Builds, r.Plan.Built.Survey)))
				if it := book.Item(f.ID); it == nil || !strings.Contains(it.Want, want) {
					t.Errorf("%s: the workbook's row doesn't ask for %s", f.ID, want)
				}
			}
		})
	}
	if said < 30 {
		t.Errorf("%d values were compared, too few to prove anything", said)
	}
}

// alone is a value as sheets of one unit system print it, without the other's in brackets.
func alone(value string) string {
	if i := strings.LastIndex(value, " ("); i > 0 && strings.HasSuffix(value, ")") {
		return value[:i]
	}
	return value
}
