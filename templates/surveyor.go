package templates

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed surveyor.yaml
var surveyor []byte

// Surveyor is the wording of the questionnaire's forms.
type Surveyor struct {
	Disclaimer  string              `yaml:"disclaimer"`
	Marks       Marks               `yaml:"marks"`
	YAML        string              `yaml:"yaml"`
	Workbook    string              `yaml:"workbook"`
	Twins       string              `yaml:"twins"`
	TwinLetters []string            `yaml:"twin_letters"`
	Parts       map[string]FormPart `yaml:"parts"`
	Cautions    map[string]string   `yaml:"cautions"`
	Tools       map[string]Tool     `yaml:"tools"`
}

// Marks say how much hangs on a question.
type Marks struct {
	Blocks   string `yaml:"blocks"`
	MayBlock string `yaml:"may_block"`
	Refines  string `yaml:"refines"`
	Told     string `yaml:"told"`
}

// A FormPart is the wording of what one hand fills in; cautions and tools by name.
type FormPart struct {
	Title    string   `yaml:"title"`
	HowTo    string   `yaml:"how_to"`
	Cautions []string `yaml:"cautions"`
	Tools    []string `yaml:"tools"`
}

// A Tool is what to bring, by the units that it reads.
type Tool struct {
	US string `yaml:"us"`
	SI string `yaml:"si"`
}

// Part is the wording of a part of the form, empty for all of it, with its
// cautions and tools written out for a region. A part that isn't there is a
// programmer's error.
func (s *Surveyor) Part(name string, r Region) FormPart {
	if name == "" {
		name = "all"
	}
	p, ok := s.Parts[name]
	if !ok {
		panic("templates: surveyor.yaml has no part " + name)
	}
	out := FormPart{Title: r.Text(p.Title), HowTo: r.Text(p.HowTo)}
	for _, c := range p.Cautions {
		text := s.Cautions[c]
		if si := s.Cautions[c+"_si"]; si != "" && r == British {
			text = si
		}
		out.Cautions = append(out.Cautions, r.Text(text))
	}
	for _, t := range p.Tools {
		tool := s.Tools[t].US
		if r == British {
			tool = s.Tools[t].SI
		}
		out.Tools = append(out.Tools, r.Text(tool))
	}
	return out
}

// SurveyWords returns the wording of the forms; the error says what in
// surveyor.yaml can't be read, or names that isn't there.
var SurveyWords = sync.OnceValues(func() (*Surveyor, error) {
	var s Surveyor
	if err := yaml.UnmarshalWithOptions(surveyor, &s, yaml.Strict()); err != nil {
		return nil, fmt.Errorf("templates/surveyor.yaml: %w", err)
	}
	for part, p := range s.Parts {
		for _, c := range p.Cautions {
			if s.Cautions[c] == "" {
				return nil, fmt.Errorf("templates/surveyor.yaml: part %s has no caution %q", part, c)
			}
		}
		for _, t := range p.Tools {
			if s.Tools[t] == (Tool{}) {
				return nil, fmt.Errorf("templates/surveyor.yaml: part %s has no tool %q", part, t)
			}
		}
	}
	return &s, nil
})
