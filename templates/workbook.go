package templates

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed workbook.yaml
var workbook []byte

// maxFooter is what office programs take as a page's footer, in characters.
const maxFooter = 255

// Workbook is the wording of the sign-off workbook.
type Workbook struct {
	Footer   string            `yaml:"footer"`
	Cautions map[string]string `yaml:"cautions"` // by trade
	Guide    []string          `yaml:"guide"`
}

// BookWords returns the wording of the sign-off workbook; the error says what
// in workbook.yaml can't be used.
var BookWords = sync.OnceValues(func() (*Workbook, error) {
	var w Workbook
	if err := yaml.UnmarshalWithOptions(workbook, &w, yaml.Strict()); err != nil {
		return nil, fmt.Errorf("templates/workbook.yaml: %w", err)
	}
	if n := len([]rune(w.Footer)); n == 0 || n > maxFooter {
		return nil, fmt.Errorf("templates/workbook.yaml: footer: it has %d characters; 1 to %d can be printed", n, maxFooter)
	}
	for _, t := range []string{"electrician", "plumber", "builder", "owner", "supplier"} {
		if w.Cautions[t] == "" {
			return nil, fmt.Errorf("templates/workbook.yaml: cautions: %s: it is missing", t)
		}
	}
	return &w, nil
})
