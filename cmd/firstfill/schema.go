package main

import (
	"encoding/json"

	"firstfill/specs"
	"firstfill/survey"
)

// schema is the JSON Schema of both files that people write: a document that
// has a "survey" or a "site" is a questionnaire, any other a sheet.
func schema() ([]byte, error) {
	parts := survey.SchemaParts()
	parts["questionnaire"], parts["requirement_sheet"] = survey.Schema(), specs.Schema()
	data, err := json.MarshalIndent(map[string]any{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       "firstfill",
		"description": "site questionnaire, or a machine's requirement sheet",
		"if":          map[string]any{"anyOf": []any{map[string]any{"required": []string{"survey"}}, map[string]any{"required": []string{"site"}}}},
		"then":        map[string]any{"$ref": "#/$defs/questionnaire"},
		"else":        map[string]any{"$ref": "#/$defs/requirement_sheet"},
		"$defs":       parts,
	}, "", "  ")
	return append(data, '\n'), err
}
