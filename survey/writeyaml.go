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

// WriteYAML writes a questionnaire as commented YAML. With s nil it is blank, with
// "unknown" for every answer; else it holds what s holds. Questions that
// traits don't raise are left out unless s answers them; traits nil raises all.
func WriteYAML(s *Survey, key string, traits []string) []byte {
	w := &yamlWriter{s: s, traits: traits, key: key}
	w.b.WriteString(schemaLine)
	w.comment(0, "Site questionnaire. Write each answer with its unit, as in the example behind it; write unknown, or leave a line out, when you don't know. A reading may carry its uncertainty: 62 ± 2 psi. A remark goes beside it: {value: 62 psi, note: read twice}.")
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

type yamlWriter struct {
	b      bytes.Buffer
	s      *Survey
	traits []string
	key    string
	open   []string // groups whose heading is written
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
	if !f.Asked(w.traits) && !w.answered(f.Path) {
		return
	}
	if w.s != nil && !w.answered(f.Path) && w.traits == nil {
		return
	}
	indent := w.enter(f.Path)
	if w.s == nil {
		w.comment(indent, hint(f))
	}
	text := "unknown"
	if f.Path == "machine.key" && w.key != "" {
		text = w.key
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
	if !f.Asked(w.traits) && !w.answered(f.Path) {
		return
	}
	if w.s != nil && !w.answered(f.Path) {
		return
	}
	indent := w.enter(f.Path)
	pad := strings.Repeat("  ", indent)
	if w.s == nil {
		w.comment(indent, hint(f)+". An item looks like this; write as many as there are:")
		for i, it := range items {
			dash := "  "
			if i == 0 {
				dash = "- "
			}
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
