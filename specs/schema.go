package specs

import (
	"reflect"
	"regexp"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Schema returns the JSON Schema of the requirement sheet, made from its struct.
func Schema() map[string]any {
	s := schemaOf(reflect.TypeFor[Machine]())
	s["properties"].(map[string]any)["machine"] = map[string]any{"const": Version, "description": "version of the sheet's form"}
	return s
}

var oneOf = regexp.MustCompile(`oneof=([^,]*)`)

func schemaOf(t reflect.Type) map[string]any {
	props, need := map[string]any{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		name := doc.Name(f)
		if name == "" {
			continue
		}
		if strings.Contains(f.Tag.Get("validate"), "required") {
			need = append(need, name)
		}
		switch {
		case doc.IsLeaf(f.Type):
			props[name] = leafSchema(f)
		case f.Type.Kind() == reflect.Slice:
			props[name] = map[string]any{"type": "array", "items": schemaOf(f.Type.Elem())}
		default:
			props[name] = schemaOf(f.Type)
		}
	}
	s := map[string]any{"type": "object", "additionalProperties": false, "properties": props}
	if len(need) > 0 {
		s["required"] = need
	}
	return s
}

func leafSchema(f reflect.StructField) map[string]any {
	value := map[string]any{"type": []string{"string", "number"}}
	if m := oneOf.FindStringSubmatch(f.Tag.Get("validate")); m != nil && f.Type.Kind() == reflect.String {
		value = map[string]any{"enum": strings.Fields(m[1])}
	} else if q, ok := reflect.New(f.Type).Interface().(quantity.Adjustable); ok {
		value = map[string]any{"type": "string", "pattern": quantity.Pattern, "description": "with its unit: " + strings.Join(q.Units(), ", ")}
	} else {
		switch f.Type.Kind() {
		case reflect.Int:
			value = map[string]any{"type": "integer"}
		case reflect.Float64:
			value = map[string]any{"type": "number"}
		case reflect.Bool:
			value = map[string]any{"enum": []any{"yes", "no", true, false}}
		}
	}
	return map[string]any{"anyOf": []any{value, map[string]any{"type": "object", "additionalProperties": false, "required": []string{"value"},
		"properties": map[string]any{"value": value, "note": map[string]any{"type": "string"}, "source": map[string]any{"type": "string"}}}}}
}
