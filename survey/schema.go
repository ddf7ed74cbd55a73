package survey

import (
	"strconv"
	"strings"

	"firstfill/survey/quantity"
)

// Schema returns the JSON Schema of the questionnaire, made from its fields.
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
				map[string]any{"type": "array", "items": object()}, map[string]any{"enum": []any{"unknown", nil}}}}
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

// schema describes one answer: its value, or the value with a note and a
// source. An answer left empty counts as left out.
func (f Field) schema() map[string]any {
	value := map[string]any{"type": []string{"string", "number", "boolean", "null"}}
	switch {
	case len(f.Choices) > 0:
		var words []any
		for _, c := range f.Choices {
			words = append(words, c)
			if n, err := strconv.Atoi(c); err == nil { // YAML takes it for a number
				words = append(words, n)
			}
		}
		value = map[string]any{"enum": append(words, "unknown", nil)}
	default:
		switch x := f.Zero().(type) {
		case *YesNo:
			value = map[string]any{"enum": []any{"yes", "no", "unknown", true, false, nil}}
		case *Count:
			value = map[string]any{"anyOf": []any{map[string]any{"type": "integer", "minimum": 0}, map[string]any{"type": "string", "pattern": `^\d+$`}, map[string]any{"enum": []any{"unknown", nil}}}}
		case *Number:
			value = map[string]any{"anyOf": []any{map[string]any{"type": "number", "minimum": 0}, map[string]any{"type": "string", "pattern": `^\d*[.]?\d+$`}, map[string]any{"enum": []any{"unknown", nil}}}}
		case *Date:
			value = map[string]any{"type": []string{"string", "null"}, "pattern": `^(\d{4}-\d{2}-\d{2}|unknown)$`}
		case quantity.Adjustable:
			value = map[string]any{"type": []string{"string", "null"}, "pattern": quantity.Pattern, "description": "with its unit: " + strings.Join(x.Units(), ", ")}
		}
	}
	s := map[string]any{
		"description": hint(f),
		"anyOf": []any{value, map[string]any{"type": "object", "additionalProperties": false, "required": []string{"value"},
			"properties": map[string]any{"value": value, "note": map[string]any{"type": "string"}, "source": map[string]any{"type": "string"}}}},
	}
	if f.Example != "" {
		s["examples"] = []string{f.Example}
	}
	return s
}
