package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/goccy/go-yaml"

	"firstfill/render/pdf"
)

// printed is the flags of commands that print sheets.
type printed struct {
	Paper      string `enum:"letter,a4" default:"letter" help:"letter or a4."`
	Letterhead string `placeholder:"FILE" help:"YAML file with your own letterhead: name, address, lines, logo (a JPEG or PNG beside the file)."`
}

// options are the sheets' options, with the survey's photos if there is one.
func (p printed) options(a *app, src *source) (pdf.Options, error) {
	o := pdf.Options{Paper: p.Paper}
	if p.Letterhead != "" {
		var err error
		if o.Letterhead, err = letterhead(p.Letterhead); err != nil {
			return o, err
		}
	}
	if src != nil {
		o.Photos = photos(a, src)
	}
	return o, nil
}

// letterhead reads a letterhead and its logo.
func letterhead(file string) (*pdf.Letterhead, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	var l struct {
		Name    string   `yaml:"name"`
		Address string   `yaml:"address"`
		Lines   []string `yaml:"lines"`
		Logo    string   `yaml:"logo"`
	}
	if err := yaml.UnmarshalWithOptions(data, &l, yaml.Strict()); err != nil {
		return nil, badInput("%s: a letterhead holds name, address, lines (a list) and logo (a file): %v", file, err)
	}
	if l.Name == "" {
		return nil, badInput("%s: a letterhead needs a name; write it as \"name: Example Bar Supply\"", file)
	}
	head := &pdf.Letterhead{Name: l.Name, Address: l.Address, Lines: l.Lines}
	if l.Logo != "" {
		if head.Logo, err = beside(filepath.Dir(file), l.Logo); err != nil {
			return nil, badInput("%s: logo: %v", file, err)
		}
	}
	return head, nil
}

// photos reads the survey's photos, which lie beside the questionnaire. One that can't be
// read is a warning, and a frame that says so on the page.
func photos(a *app, src *source) []pdf.Photo {
	var all []pdf.Photo
	for i, p := range src.survey.Photos {
		data, err := beside(src.folder, p.File)
		if err != nil {
			warn(a.err, "photos[%d]: %v", i, err)
		}
		all = append(all, pdf.Photo{Name: p.File, Caption: p.Caption, Data: data})
	}
	return all
}

// beside reads a file that another one names; it may not lie outside that one's folder.
func beside(folder, name string) ([]byte, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	f, err := root.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s can't be read from %s: %w", name, folder, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxInput+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	if len(data) > maxInput {
		return nil, fmt.Errorf("%s has more than %d bytes", name, maxInput)
	}
	return data, nil
}
