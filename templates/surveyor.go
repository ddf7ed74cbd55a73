package templates

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed surveyor.yaml
var surveyor []byte

// Surveyor is the wording of the questionnaire's paper form.
type Surveyor struct {
	HowTo      string   `yaml:"how_to"`
	Disclaimer string   `yaml:"disclaimer"`
	Cautions   []string `yaml:"cautions"`
	Tools      []string `yaml:"tools"`
}

// SurveyWords returns the wording of the paper form; the error says what in
// surveyor.yaml can't be read.
var SurveyWords = sync.OnceValues(func() (*Surveyor, error) {
	var s Surveyor
	if err := yaml.UnmarshalWithOptions(surveyor, &s, yaml.Strict()); err != nil {
		return nil, fmt.Errorf("templates/surveyor.yaml: %w", err)
	}
	return &s, nil
})
