package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/pdf"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
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
		o.Photos, o.Unread = photos(a, src), src.unread
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
		Name, Address, Logo string
		Lines               []string
	}
	entries, problems := doc.ReadYAML(file, data)
	for _, e := range entries {
		switch list, _, item := strings.Cut(e.Path, "["); {
		case e.Path == "name":
			l.Name = e.Text
		case e.Path == "address":
			l.Address = e.Text
		case e.Path == "logo":
			l.Logo = e.Text
		case item && list == "lines":
			l.Lines = append(l.Lines, e.Text)
		default:
			problems = append(problems, doc.Problem{Pos: e.Pos, Path: e.Path, Message: "a letterhead holds name, address, lines (a list) and logo (a file)"})
		}
	}
	if len(problems) > 0 {
		return nil, inputError{problems}
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

// photos reads the survey's photos, which lie beside the questionnaire; those
// that sift left.
func photos(a *app, src *source) []pdf.Photo {
	var all []pdf.Photo
	for _, p := range src.survey.Photos {
		data, err := beside(src.folder, p.File)
		if err != nil {
			warn(a.err, "photograph %s: %v", p.File, err)
		}
		all = append(all, pdf.Photo{Name: p.File, Caption: p.Caption, Data: data, Concerns: check.Trade(p.Concerns)})
	}
	return all
}

// sift leaves only those photographs with the survey that are there and can be
// printed, and warns of each other one. Nothing is taken from the questionnaire.
func (s *source) sift(a *app) {
	var good []survey.Photo
	for _, p := range s.survey.Photos {
		if why := unprintable(s.folder, p.File); why != "" {
			warn(a.err, "photograph %s doesn't count: %s", p.File, why)
			continue
		}
		good = append(good, p)
	}
	if s.survey.Photos != nil {
		s.survey.Photos = append([]survey.Photo{}, good...)
	}
}

// unprintable says why a file is no photograph that can be printed, by its
// first bytes; nothing when it is one.
func unprintable(folder, name string) string {
	if !filepath.IsLocal(name) {
		return "it must lie beside the questionnaire"
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return "the folder can't be read: " + err.Error()
	}
	defer root.Close()
	info, err := root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Sprintf("there is no such file in %s; lay it beside the questionnaire", folder)
	case err != nil:
		return fmt.Sprintf("it can't be read from %s: %v", folder, err)
	case !info.Mode().IsRegular():
		return doc.ErrSpecial.Error()
	}
	f, err := root.Open(name)
	if err != nil {
		return fmt.Sprintf("it can't be read from %s: %v", folder, err)
	}
	defer f.Close()
	head := make([]byte, 12)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return fmt.Sprintf("it can't be read: %v", err)
	}
	head = head[:n]
	switch {
	case bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("\x89PNG")):
		return ""
	case n == 12 && string(head[4:8]) == "ftyp" && slices.Contains(heic, string(head[8:12])):
		return "it is a HEIC picture, which isn't read; open it and export or save it as JPEG (on a phone: set the camera's format to most compatible, or send the picture by mail), and name that file"
	case n == 0:
		return "the file is empty"
	}
	return "it is neither a JPEG nor a PNG picture; save it as JPEG and name that file"
}

// heic are the brands of pictures coded as HEIF and AVIF files, ISO/IEC 23008-12 (from memory).
var heic = []string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif"}

// beside reads a file that another one names; it may not lie outside that one's folder.
func beside(folder, name string) ([]byte, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	data, err := doc.ReadFile(root.FS(), filepath.ToSlash(filepath.Clean(name)), maxInput)
	if err != nil {
		return nil, fmt.Errorf("%s can't be read from %s: %w", name, folder, err)
	}
	return data, nil
}
