package main

import (
	"fmt"
	"path/filepath"

	"firstfill/render/paperform"
	"firstfill/render/terminal"
	"firstfill/specs"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

type formCmd struct {
	Site    string   `arg:"" optional:"" help:"A questionnaire to convert, or whose lacking answers a part asks; left out, the form is blank."`
	Machine string   `placeholder:"KEY" help:"Ask only what this machine raises."`
	Part    string   `enum:",surveyor,electrician,plumber,office" default:"" help:"Ask only what one hand answers and the site still lacks: surveyor, electrician, plumber, or office (before anybody goes)."`
	Take    []string `placeholder:"FILE" help:"Take the answers of a returned form over into SITE."`
	As      string   `enum:"yaml,xlsx,pdf,schema,machine" default:"yaml" help:"yaml, xlsx, pdf (to fill in by hand), schema (the JSON Schema of questionnaire and requirement sheet), or machine (a blank requirement sheet for a machine of your own)."`
	Output  string   `short:"o" placeholder:"FILE" help:"Where to write; left out, standard output."`
	Paper   string   `enum:"letter,a4" default:"letter" help:"letter or a4."`
	Replace bool     `help:"Overwrite the file."`
	library
	dated
	shown
}

// Run writes the form.
func (c *formCmd) Run(a *app) error {
	lib, err := c.library.open(a)
	if err != nil {
		return err
	}
	if c.As == "machine" {
		return c.sheet(a, lib)
	}
	if c.As == "schema" {
		data, err := schema()
		if err != nil {
			return fmt.Errorf("writing the schema: %w", err)
		}
		return a.give(c.Output, data, c.Replace)
	}
	var src *source
	if c.Site != "" {
		if src, err = a.open(c.Site, lib); err != nil {
			return err
		}
	}
	if len(c.Take) > 0 {
		return c.take(a, lib, src)
	}
	if src != nil {
		if err := src.keeps(); err != nil {
			return err
		}
	}
	form, err := c.form(lib, src)
	if err != nil {
		return err
	}
	if src != nil && c.Part == "" && c.As != "pdf" {
		n, err := ownComments(src)
		if err != nil {
			return err
		}
		if n > 0 {
			warn(a.err, "%s not carried into the form; a remark that should last goes beside its answer, as {value: 62 psi, note: read twice}", terminal.Plural(n, "comment (#) is", "comments (#) are"))
		}
	}
	if form.Part != survey.Whole && c.As != "pdf" && len(form.Asked()) == 0 {
		talk(a.err, "nothing is left to ask of this part: the site has all of it")
	}
	var data []byte
	switch c.As {
	case "pdf":
		today, err := c.today(a)
		if err != nil {
			return err
		}
		data, err = paperform.Write(paperform.Options{Paper: c.Paper, Date: today.Time(), Form: form})
		if err != nil {
			return fmt.Errorf("laying out the form: %w", err)
		}
	case "xlsx":
		data, err = forms.Write(form)
	default:
		var words survey.FormWords
		if words, err = formWords(form); err == nil {
			data = survey.WriteYAML(form, words)
		}
	}
	if err != nil {
		return fmt.Errorf("writing the form: %w", err)
	}
	return a.give(c.Output, data, c.Replace)
}

// sheet writes a blank requirement sheet, with the figures of a machine as examples.
func (c *formCmd) sheet(a *app, lib *specs.Library) error {
	if c.Site != "" {
		return badInput("a requirement sheet is a machine's and not a site's; leave the questionnaire out")
	}
	like := lib.Machines()[0]
	if c.Machine != "" {
		var err error
		if like, err = lib.Machine(c.Machine); err != nil {
			return inputError{err}
		}
	}
	return a.give(c.Output, specs.Blank(like), c.Replace)
}

// form says what the form asks: for the machine that is named, else for that of the site.
func (c *formCmd) form(lib *specs.Library, src *source) (survey.FormFor, error) {
	f := survey.FormFor{Key: c.Machine, Units: c.system(), Part: survey.Part(c.Part)}
	if src != nil {
		f.Known = src.survey
		if f.Key == "" && (c.Part != "" || c.As == "pdf") {
			f.Key = src.survey.Machine.Key
		}
	}
	if f.Key == "" {
		return f, nil
	}
	m, err := lib.Machine(f.Key)
	if err != nil {
		return f, inputError{err}
	}
	f.Traits, f.Name, f.Blocks = m.Traits(), m.Name, rules.Blocking(m)
	if src != nil {
		f.Traits = src.survey.Codes.Traits(f.Traits)
	}
	return f, nil
}

// formWords is how the YAML form is to be filled in.
func formWords(f survey.FormFor) (survey.FormWords, error) {
	said, err := templates.SurveyWords()
	if err != nil {
		return survey.FormWords{}, err
	}
	region := templates.For(f.Units)
	part := said.Part(string(f.Part), region)
	w := survey.FormWords{Head: []string{part.Title + ". " + region.Text(said.YAML)}, Say: region.Text}
	if f.Part != survey.Whole {
		w.Head = append(w.Head, part.HowTo)
	}
	w.Head = append(w.Head, part.Cautions...)
	if f.Blocks != nil {
		w.Weights = map[survey.Weight]string{survey.Blocks: "blocks", survey.MayBlock: "may block", survey.Refines: "refines", survey.Told: "told"}
		w.Head = append(w.Head, region.Text(fmt.Sprintf("Behind each question: [blocks] %s; [may block] %s; [refines] %s; [told] %s.", said.Marks.Blocks, said.Marks.MayBlock, said.Marks.Refines, said.Marks.Told)))
	}
	return w, nil
}

// take takes over what returned forms answer into the site's questionnaire.
func (c *formCmd) take(a *app, lib *specs.Library, src *source) error {
	switch {
	case src == nil:
		return badInput("--take needs the questionnaire that takes the answers: firstfill form SITE --take FILE")
	case src.text == nil:
		return badInput("%s is a workbook; answers are taken into a YAML or JSON questionnaire: make one with \"firstfill form %s -o site.yaml\" and take into that", c.Site, c.Site)
	}
	text := src.text
	for _, file := range c.Take {
		back, err := a.open(file, lib)
		if err != nil {
			return err
		}
		site, problems := survey.Load(c.Site, text)
		if whole, _ := problems.Split(); len(whole) > 0 {
			return inputError{whole}
		}
		changes, conflicts, err := survey.Merge(site, back.survey, filepath.Base(file))
		if err != nil {
			return inputError{fmt.Errorf("%s: %w", file, err)}
		}
		next, problems := survey.Edit(c.Site, text, changes)
		if err := problems.Err(); err != nil {
			return inputError{err}
		}
		text = next
		talk(a.err, "%s: %s taken", file, terminal.Plural(len(changes)-len(conflicts), "answer", "answers"))
		for _, x := range conflicts {
			warn(a.err, "%v", x)
		}
	}
	switch {
	case c.Output != "":
		return a.give(c.Output, text, c.Replace)
	case c.Site == "-" || c.Site == "demo":
		return a.give("", text, false)
	}
	return write(c.Site, text, true)
}

// ownComments counts the comments that a person wrote into a questionnaire,
// beside those that our forms have.
func ownComments(src *source) (int, error) {
	comments := doc.Comments(src.text)
	if len(comments) == 0 {
		return 0, nil
	}
	ours := map[string]bool{}
	kinds := []survey.FormFor{{}}
	if m := src.machine; m != nil {
		kinds = append(kinds, survey.FormFor{Key: m.Key, Traits: m.Traits(), Blocks: rules.Blocking(m)})
	}
	for _, f := range kinds {
		for _, f.Part = range append(survey.Parts, survey.Whole) {
			for _, f.Units = range []quantity.System{quantity.US, quantity.SI} {
				words, err := formWords(f)
				if err != nil {
					return 0, err
				}
				for _, c := range doc.Comments(survey.WriteYAML(f, words)) {
					ours[c] = true
				}
			}
		}
	}
	n := 0
	for _, c := range comments {
		if !ours[c] {
			n++
		}
	}
	return n, nil
}
