package survey

import (
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
				at = props[name].(map[string]any)["items"].(map[string]any)
				continue
			}
			if props[name] == nil {
				props[name] = object()
			}
			at = props[name].(map[string]any)
		}
		props := at["properties"].(map[string]any)
		if f.List {
			props[f.Name] = map[string]any{"type": []string{"array", "null"}, "description": hint(f), "items": object()}
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

// schema describes one answer: its value, or the value with a note and a source.
func (f Field) schema() map[string]any {
	value := map[string]any{"type": []string{"string", "number", "boolean", "null"}}
	switch {
	case len(f.Choices) > 0:
		value = map[string]any{"enum": append(append([]string{}, f.Choices...), "unknown")}
	default:
		switch x := f.zero().(type) {
		case *YesNo:
			value = map[string]any{"enum": []any{"yes", "no", "unknown", true, false}}
		case *Count:
			value = map[string]any{"anyOf": []any{map[string]any{"type": "integer", "minimum": 0}, map[string]any{"const": "unknown"}}}
		case *Number:
			value = map[string]any{"anyOf": []any{map[string]any{"type": "number", "minimum": 0}, map[string]any{"const": "unknown"}}}
		case *Date:
			value = map[string]any{"type": "string", "pattern": `^(\d{4}-\d{2}-\d{2}|unknown)$`}
		case quantity.Adjustable:
			value = map[string]any{"type": "string", "description": "with its unit: " + strings.Join(x.Units(), ", ")}
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
