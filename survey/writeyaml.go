package survey

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"firstfill/survey/quantity/doc"
)

// Asked says whether a machine with these traits raises a question. A field
// with several traits is raised by any of them.
func (f Field) Asked(traits []string) bool {
	if len(f.For) == 0 || traits == nil {
		return true
	}
	return slices.ContainsFunc(f.For, func(t string) bool { return slices.Contains(traits, t) })
}

// schemaLine tells editors where the form's schema lies.
const schemaLine = "# yaml-language-server: $schema=./firstfill.schema.json\n"

// WriteYAML writes a form as commented YAML: blank, with "unknown" for every
// answer, or with what is known. The form of a part says which site and machine
// it is for, and asks what that site still lacks.
func WriteYAML(f FormFor, words FormWords) []byte {
	w := &yamlWriter{form: f, s: f.Known, words: words, numbers: f.Numbers(), asks: f.Known == nil || f.Part != Whole}
	w.b.WriteString(schemaLine)
	for _, line := range words.Head {
		w.comment(0, line)
	}
	fmt.Fprintf(&w.b, "survey: %d\n", Version)
	fs := Fields()
	for i := 0; i < len(fs); i++ {
		f := fs[i]
		if f.Section == "survey" || strings.Contains(f.Path, "[]") {
			continue
		}
		if f.List {
			end := i + 1
			for end < len(fs) && strings.HasPrefix(fs[end].Path, f.Path+"[]") {
				end++
			}
			w.list(f, fs[i+1:end])
			continue
		}
		w.field(f)
	}
	return w.b.Bytes()
}

// FormWords are what a form says beside its questions.
type FormWords struct {
	Head    []string                 // how to fill it in, and cautions
	Weights map[Weight]string        // how much hangs on a question
	Say     func(text string) string // the reader's English; nil: as it stands
}

type yamlWriter struct {
	b       bytes.Buffer
	form    FormFor
	s       *Survey
	words   FormWords
	numbers map[string]int
	asks    bool     // questions are written out, beside what is known
	open    []string // groups whose heading is written
}

func (w *yamlWriter) answered(path string) bool {
	if w.s == nil {
		return false
	}
	for p := range w.s.answers() {
		if under(p, path) {
			return true
		}
	}
	return false
}

// enter writes the headings of the groups that a path lies in.
func (w *yamlWriter) enter(path string) (indent int) {
	parts := strings.Split(path, ".")
	groups := parts[:len(parts)-1]
	for i, g := range groups {
		if i < len(w.open) && w.open[i] == g {
			continue
		}
		w.open = append(w.open[:min(i, len(w.open))], g)
		if i == 0 {
			w.b.WriteString("\n")
		}
		fmt.Fprintf(&w.b, "%s%s:\n", strings.Repeat("  ", i), g)
	}
	w.open = w.open[:len(groups)]
	return len(groups)
}

func (w *yamlWriter) field(f Field) {
	named := w.form.Part != Whole && slices.Contains(naming, f.Path) && (f.Needed || w.answered(f.Path))
	switch {
	case !w.form.Holds(f) && !named:
		return
	case !w.asks && !w.answered(f.Path) && w.form.Traits == nil: // only what is known
		return
	}
	indent := w.enter(f.Path)
	if w.asks && w.form.Asks(f) {
		w.comment(indent, w.ask(f))
	}
	text := "unknown"
	if f.Path == "machine.key" && w.form.Key != "" {
		text = w.form.Key
	}
	var e doc.Entry
	if w.answered(f.Path) {
		e = w.s.answers()[f.Path]
		if e.Text != "" {
			text = e.Text
		}
	}
	fmt.Fprintf(&w.b, "%s%s: %s\n", strings.Repeat("  ", indent), f.Name, yamlValue(text, e))
}

// ask is a question with its number, what hangs on it, and how to answer it.
func (w *yamlWriter) ask(f Field) string {
	h := hint(f.In(w.form.Units))
	if n := w.numbers[f.Path]; n > 0 {
		h = fmt.Sprintf("%d. %s", n, h)
	}
	if word := w.words.Weights[w.form.Weight(f)]; word != "" {
		h += " [" + word + "]"
	}
	if w.words.Say != nil {
		h = w.words.Say(h)
	}
	return h
}

func hint(f Field) string {
	h := f.Ask
	if f.How != "" {
		h += " (" + f.How + ")"
	}
	sep := "; "
	if strings.HasSuffix(h, "?") {
		sep = " "
	}
	switch {
	case len(f.Choices) > 0:
		h += sep + "one of " + strings.Join(f.Choices, ", ")
	case f.Example != "":
		h += sep + "for example " + f.Example
	}
	return h
}

func (w *yamlWriter) list(f Field, items []Field) {
	if !w.form.Holds(f) || !w.asks && !w.answered(f.Path) {
		return
	}
	indent := w.enter(f.Path)
	pad := strings.Repeat("  ", indent)
	if w.asks {
		w.comment(indent, w.ask(f)+". An item looks like this; write as many as there are:")
		for i, it := range items {
			dash := "  "
			if i == 0 {
				dash = "- "
			}
			it = it.In(w.form.Units)
			example := it.Example
			if example == "" {
				example = "..."
			}
			fmt.Fprintf(&w.b, "%s#   %s%s: %s   # %s\n", pad, dash, it.Name, yamlValue(example, doc.Entry{}), it.Ask)
		}
		fmt.Fprintf(&w.b, "%s%s: unknown\n", pad, f.Name)
		return
	}
	n := 0
	for w.answered(fmt.Sprintf("%s[%d]", f.Path, n)) {
		n++
	}
	if n == 0 {
		fmt.Fprintf(&w.b, "%s%s: %s\n", pad, f.Name, w.s.answers()[f.Path].Text)
		return
	}
	fmt.Fprintf(&w.b, "%s%s:\n", pad, f.Name)
	for i := range n {
		dash := "- "
		for _, it := range items {
			path := fmt.Sprintf("%s[%d].%s", f.Path, i, it.Name)
			e, ok := w.s.answers()[path]
			if !ok {
				continue
			}
			fmt.Fprintf(&w.b, "%s  %s%s: %s\n", pad, dash, it.Name, yamlValue(e.Text, e))
			dash = "  "
		}
	}
}

// comment writes a comment wrapped to 96 columns.
func (w *yamlWriter) comment(indent int, text string) {
	pad := strings.Repeat("  ", indent)
	line := pad + "#"
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > 96 {
			w.b.WriteString(line + "\n")
			line = pad + "#"
		}
		line += " " + word
	}
	w.b.WriteString(line + "\n")
}

// plain matches text that YAML reads back as written without quotes.
var plain = regexp.MustCompile(`^[\p{L}\p{N}.½¼¾-][\p{L}\p{N} _./%°±²½¼¾()+-]*$`)

func yamlValue(text string, e doc.Entry) string {
	v := yamlScalar(text)
	if e.Note == "" && e.Source == "" {
		return v
	}
	v = "{value: " + v
	if e.Note != "" {
		v += ", note: " + quoted(e.Note)
	}
	if e.Source != "" {
		v += ", source: " + quoted(e.Source)
	}
	return v + "}"
}

func yamlScalar(text string) string {
	if text == doc.EmptyList {
		return text
	}
	if plain.MatchString(text) && !strings.HasPrefix(text, "- ") && !strings.HasPrefix(text, "---") && !strings.HasSuffix(text, " ") {
		return text
	}
	return quoted(text)
}

// quoted writes a double-quoted YAML scalar; JSON's escapes are YAML's too.
func quoted(text string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(text); err != nil {
		panic("survey: " + err.Error()) // a string always encodes
	}
	return strings.TrimSuffix(b.String(), "\n")
}
