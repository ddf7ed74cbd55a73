package templates

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed paper.yaml
var paper []byte

// Paper is the wording of the questionnaire as it is printed to fill in by hand.
type Paper struct {
	Tag        string              `yaml:"tag"`
	Caution    string              `yaml:"caution"`
	AnyMachine string              `yaml:"any_machine"`
	Bring      string              `yaml:"bring"`
	Known      string              `yaml:"known"`
	Facts      PaperFacts          `yaml:"facts"`
	Photo      string              `yaml:"photo"` // {shows}
	PhotoLabel string              `yaml:"photo_label"`
	Along      string              `yaml:"along"` // over what the surveyor notes all along the walk
	Words      map[string]string   `yaml:"words"` // answers to tick, where paper has a shorter word
	Rows       []PaperRow          `yaml:"rows"`
	Asks       map[string]PaperAsk `yaml:"asks"`   // by path
	Photos     map[string]string   `yaml:"photos"` // what a picture shows, by the path of the answer beside it
}

// PaperFacts name what a form's head says.
type PaperFacts struct {
	Site      string `yaml:"site"`
	Reference string `yaml:"reference"`
	Date      string `yaml:"date"`
	By        string `yaml:"by"`
	On        string `yaml:"on"`
}

// A PaperRow asks several questions in one row of boxes, in the order of the walk.
type PaperRow struct {
	Ask string            `yaml:"ask"`
	How string            `yaml:"how"`
	Of  map[string]string `yaml:"of"` // a box's label, by path
}

// A PaperAsk is a question as paper has it; nil keeps the table's hint.
type PaperAsk struct {
	Ask string  `yaml:"ask"`
	How *string `yaml:"how"`
}

// PaperWords returns the wording of the printed form.
var PaperWords = sync.OnceValues(func() (*Paper, error) {
	var p Paper
	if err := yaml.UnmarshalWithOptions(paper, &p, yaml.Strict()); err != nil {
		return nil, fmt.Errorf("templates/paper.yaml: %w", err)
	}
	return &p, nil
})
