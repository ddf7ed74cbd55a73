package main

import (
	"fmt"

	"firstfill/render/paperform"
	"firstfill/render/terminal"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity/doc"
)

type formCmd struct {
	Site    string `arg:"" optional:"" help:"A questionnaire to convert; left out, the form is blank."`
	Machine string `placeholder:"KEY" help:"Ask only what this machine raises."`
	As      string `enum:"yaml,xlsx,pdf,schema" default:"yaml" help:"yaml, xlsx, pdf (to fill in by hand), or schema (the JSON Schema of questionnaire and requirement sheet)."`
	Output  string `short:"o" placeholder:"FILE" help:"Where to write; left out, standard output."`
	Paper   string `enum:"letter,a4" default:"letter" help:"letter or a4."`
	Replace bool   `help:"Overwrite the file."`
	library
	dated
	shown
}

// Run writes the form.
func (c *formCmd) Run(a *app) error {
	lib, err := c.library.open()
	if err != nil {
		return err
	}
	var s *survey.Survey
	var traits []string
	var name string
	var blocks map[string]bool
	key := c.Machine
	if c.Site != "" {
		src, err := a.open(c.Site, lib)
		if err != nil {
			return err
		}
		s = src.survey
		if n := ownComments(src.text); n > 0 {
			warn(a.err, "%s not carried into the form; a remark that should last goes beside its answer, as {value: 62 psi, note: read twice}", terminal.Plural(n, "comment (#) is", "comments (#) are"))
		}
	}
	if key != "" {
		m, err := lib.Machine(key)
		if err != nil {
			return inputError{err}
		}
		traits = m.Traits()
		if s != nil {
			traits = s.Codes.Traits(traits)
		}
		name, blocks = m.Name, rules.Blocking(m)
	}
	form := survey.FormFor{Key: key, Name: name, Traits: traits, Blocks: blocks, Units: c.system()}
	var data []byte
	switch c.As {
	case "schema":
		data, err = schema()
	case "pdf":
		if c.Site != "" {
			return badInput("a paper form is blank; leave the questionnaire out")
		}
		today, err := c.today(a)
		if err != nil {
			return err
		}
		data, err = paperform.Write(paperform.Options{Paper: c.Paper, Date: today.Time(), Form: form})
		if err != nil {
			return fmt.Errorf("laying out the form: %w", err)
		}
	case "xlsx":
		data, err = forms.Write(s, form)
	default:
		data = survey.WriteYAML(s, key, traits)
	}
	if err != nil {
		return fmt.Errorf("writing the form: %w", err)
	}
	return a.give(c.Output, data, c.Replace)
}

// ownComments counts the comments that a person wrote into a questionnaire,
// beside those that the blank form has.
func ownComments(data []byte) int {
	ours := map[string]bool{}
	for _, c := range doc.Comments(survey.WriteYAML(nil, "", nil)) {
		ours[c] = true
	}
	n := 0
	for _, c := range doc.Comments(data) {
		if !ours[c] {
			n++
		}
	}
	return n
}
