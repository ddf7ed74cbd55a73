package survey

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Schema returns the JSON Schema of the questionnaire, made from its fields. It
// refers to SchemaParts, which stand beside it.
func Schema() map[string]any {
	root := object()
	root["properties"].(map[string]any)["survey"] = map[string]any{"const": Version, "description": "version of the questionnaire's form"}
	root["required"] = []string{"survey", "site", "machine"}
	for _, f := range Fields() {
		if f.Path == "survey" {
			continue
		}
		at := root
		parts := strings.Split(f.Path, ".")
		for _, p := range parts[:len(parts)-1] {
			name, item := strings.CutSuffix(p, "[]")
			props := at["properties"].(map[string]any)
			if item {
				at = props[name].(map[string]any)["anyOf"].([]any)[0].(map[string]any)["items"].(map[string]any)
				continue
			}
			if props[name] == nil {
				props[name] = group()
			}
			at = props[name].(map[string]any)
		}
		props := at["properties"].(map[string]any)
		if f.List {
			props[f.Name] = map[string]any{"description": hint(f), "anyOf": []any{
				map[string]any{"type": "array", "items": object()}, ref("not_known")}}
			continue
		}
		props[f.Name] = f.schema()
		if f.Needed {
			need, _ := at["required"].([]string)
			at["required"] = append(need, f.Name)
		}
	}
	return root
}

func object() map[string]any {
	return map[string]any{"type": "object", "additionalProperties": false, "properties": map[string]any{}}
}

// group is an object that may be left empty, as an editor does while one types.
func group() map[string]any {
	g := object()
	g["type"] = []string{"object", "null"}
	return g
}

// ref names one of the parts of SchemaParts.
func ref(name string) map[string]any { return map[string]any{"$ref": "#/$defs/" + name} }

// SchemaParts are what the schema of the questionnaire refers to: how the kinds
// of answers are written, by people and not only by us.
func SchemaParts() map[string]any {
	text := func(pattern string) map[string]any { return map[string]any{"type": "string", "pattern": pattern} }
	not := map[string]any{"anyOf": []any{text(doc.UnknownPattern()), map[string]any{"type": "null"}}, "description": "not known"}
	or := func(ways ...any) map[string]any { return map[string]any{"anyOf": append(ways, ref("not_known"))} }
	const about = `^\s*[A-Za-z.:~≈≅∼\s]*`
	const orSo = `\s*(?:\?+|[Oo]r so|[A-Za-z.]+|\([A-Za-z.\s]+\))?\s*$`
	var counts []string
	for _, w := range slices.Sorted(maps.Keys(countWords)) {
		counts = append(counts, doc.AnyCase(w))
	}
	parts := map[string]any{
		"not_known": not,
		"own_words": text(`^[Oo][Tt][Hh][Ee][Rr][^A-Za-z].*[A-Za-z0-9]`),
		"quantity":  map[string]any{"type": []string{"string", "null"}, "pattern": quantity.Pattern},
		"yes_no":    or(map[string]any{"enum": []any{"yes", "no", true, false}}, text(`^[\s.!,]*(?:`+anyOf("yes", "y", "true", "yep", "yeah", "✓", "✔", "no", "n", "false", "nope", "none")+`)[\s.!,]*$`)),
		"count":     or(map[string]any{"type": "integer", "minimum": 0}, text(about+`\d[\d,]*`+orSo), text(about+`(?:`+strings.Join(counts, "|")+`)`+orSo)),
		"number":    or(map[string]any{"type": "number", "minimum": 0}, text(about+`\d*[.]?\d+`+orSo)),
		"date":      or(text(`^\s*\d{4}-\d{2}-\d{2}\s*$`)),
		"text":      map[string]any{"type": []string{"string", "number", "boolean", "null"}},
	}
	for _, f := range Fields() {
		if len(f.Choices) > 0 {
			parts[f.choicePart()] = f.choiceSchema()
		}
	}
	return parts
}

func anyOf(words ...string) string {
	for i, w := range words {
		words[i] = doc.AnyCase(w)
	}
	return strings.Join(words, "|")
}

// choicePart names the part with the words of a closed list.
func (f Field) choicePart() string {
	return "answers_" + strings.NewReplacer(".", "_", "[]", "").Replace(f.Path)
}

// choiceSchema is a closed list as people write it: our words, which an editor
// offers, the trade's other words, or own words behind "other".
func (f Field) choiceSchema() map[string]any {
	var words []any
	add := func(w string) {
		words = append(words, w)
		if n, err := strconv.Atoi(w); err == nil { // YAML takes it for a number
			words = append(words, n)
		}
	}
	for _, c := range f.Choices {
		add(c)
	}
	var other []string
	for _, w := range f.OtherWords() {
		if n, err := strconv.Atoi(w); err == nil {
			words = append(words, n)
		}
		other = append(other, doc.AnyCase(w))
	}
	for _, c := range f.Choices {
		other = append(other, doc.AnyCase(c))
	}
	slices.Sort(other)
	return map[string]any{"anyOf": []any{map[string]any{"enum": words},
		map[string]any{"type": "string", "pattern": `^\s*(?:` + strings.Join(slices.Compact(other), "|") + `)\s*$`}, ref("own_words"), ref("not_known")}}
}

// schema describes one answer: its value, or the value with a note and a
// source. An answer left empty counts as left out.
func (f Field) schema() map[string]any {
	value := ref("text")
	about := hint(f)
	switch {
	case len(f.Choices) > 0:
		value = ref(f.choicePart())
	default:
		switch x := f.Zero().(type) {
		case *YesNo:
			value = ref("yes_no")
		case *Count:
			value = ref("count")
		case *Number:
			value = ref("number")
		case *Date:
			value = ref("date")
		case quantity.Adjustable:
			value = ref("quantity")
			about += "; with its unit: " + strings.Join(x.Units(), ", ")
		}
	}
	s := map[string]any{
		"description": about,
		"anyOf": []any{value, map[string]any{"type": "object", "additionalProperties": false, "required": []string{"value"},
			"properties": map[string]any{"value": value, "note": ref("text"), "source": ref("text")}}},
	}
	if f.Example != "" {
		s["examples"] = []string{f.Example}
	}
	return s
}
