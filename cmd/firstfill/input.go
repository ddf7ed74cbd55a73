package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs"
	"firstfill/survey"
	"firstfill/survey/forms"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

// maxInput bounds what is read of one input, before its reader's own limits.
const maxInput = 20 << 20

// library is the flag of commands that need machines.
type library struct {
	Dir string `placeholder:"DIR" type:"path" help:"Folder of your own requirement sheets, added to the built-in ones."`
}

// open reads the folder, if one is named. A sheet with faults blocks only
// itself; what is no sheet is skipped with a word.
func (l library) open(a *app) (*specs.Library, error) {
	if l.Dir == "" {
		return specs.Builtin(), nil
	}
	if info, err := os.Stat(l.Dir); err != nil || !info.IsDir() {
		return nil, badInput("--dir %s: there is no such folder", l.Dir)
	}
	lib, problems := specs.With(os.DirFS(l.Dir), l.Dir)
	for _, n := range lib.Notes {
		warn(a.err, "%s", n)
	}
	for i, p := range problems {
		if i == maxFaults {
			warn(a.err, "and %d more faults of sheets", len(problems)-i)
			break
		}
		warn(a.err, "%v", p)
	}
	if len(problems) > 0 {
		talk(a.err, "hint: sheets with faults are left out; \"firstfill machines check FILE\" looks at one")
	}
	return lib, nil
}

// A source is a questionnaire as read, and where its photos lie.
type source struct {
	survey  *survey.Survey
	machine *specs.Machine
	folder  string
	text    []byte       // of a YAML or JSON file
	unread  doc.Problems // answers that can't be read; they count as unknown
}

// keeps refuses to write a questionnaire anew that would lose what somebody entered.
func (s *source) keeps() error {
	lost := slices.DeleteFunc(slices.Clone(s.unread), func(p doc.Problem) bool { return p.Reach != doc.Dropped })
	if len(lost) == 0 {
		return nil
	}
	return badInput("%s of this questionnaire would be lost in writing it anew; mend what is warned of above first", terminal.Plural(len(lost), "entry", "entries"))
}

// open reads SITE: a questionnaire's file, - for standard input, or demo.
func (a *app) open(site string, lib *specs.Library) (*source, error) {
	name, data, err := a.read(site)
	if err != nil {
		return nil, err
	}
	src := &source{folder: filepath.Dir(site)}
	var problems doc.Problems
	if forms.Is(data) {
		src.survey, problems = forms.Load(name, data)
	} else {
		src.survey, problems = survey.Load(name, data)
		src.text = data
	}
	if src.survey != nil && src.survey.Machine.Key != "" {
		src.machine, err = lib.Machine(src.survey.Machine.Key)
		if err != nil {
			problems = append(problems, doc.Problem{Pos: src.survey.Answer("machine.key").Pos, Path: "machine.key", Message: err.Error()})
		} else if src.survey.Machine.Key = src.machine.Key; src.survey.Machine.Supply != "" { // as its sheet spells it
			s := src.survey.Machine.Supply
			if _, err := src.machine.SupplyNamed(s); err != nil {
				problems = append(problems, doc.Problem{Pos: src.survey.Answer("machine.supply").Pos, Path: "machine.supply", Message: err.Error()})
			}
		}
	}
	problems.Sort()
	whole, single := problems.Split()
	if len(whole) > 0 {
		return nil, inputError{problems}
	}
	src.unread = single
	complain(a.err, src.unread)
	return src, nil
}

func (a *app) read(site string) (name string, data []byte, err error) {
	switch site {
	case "demo":
		return "demo", templates.Demo, nil
	case "-":
		if data, err = doc.ReadAll(a.in, maxInput); err != nil {
			err = badInput("standard input: %v", err)
		}
		return "standard input", data, err
	}
	data, err = readFile(site)
	if _, gone := os.Stat(site); errors.Is(gone, fs.ErrNotExist) {
		err = badInput("%v; write a blank one with \"firstfill form\"", err)
	}
	return site, data, err
}

// readFile reads a file that the command line names. Links in its path are followed.
func readFile(file string) ([]byte, error) {
	data, err := doc.ReadFile(os.DirFS(filepath.Dir(file)), filepath.Base(file), maxInput)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, badInput("%s: there is no such file", file)
	case errors.Is(err, doc.ErrFolder):
		return nil, badInput("%s is a folder; name one file", file)
	case err != nil:
		return nil, badInput("%s can't be read: %v", file, err)
	}
	return data, nil
}

// write writes a file beside its place and renames it, so that a reader never
// sees half of it. It refuses to overwrite unless replace is set.
func write(file string, data []byte, replace bool) error {
	if info, err := os.Stat(file); err == nil && info.IsDir() {
		return badInput("%s is a folder; name a file", file)
	}
	if _, err := os.Lstat(file); err == nil && !replace {
		return badInput("%s is already there; choose another name with -o, or say --replace", file)
	}
	dir := filepath.Dir(file)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return inputError{fmt.Errorf("making the folder: %w", err)}
	}
	tmp, err := os.CreateTemp(dir, "."+filepath.Base(file)+".*")
	if err != nil {
		return inputError{fmt.Errorf("writing: %w", err)}
	}
	defer os.Remove(tmp.Name())
	if _, err := tmp.Write(data); err != nil {
		tmp.Close()
		return inputError{fmt.Errorf("writing: %w", err)}
	}
	if err := errors.Join(tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return inputError{fmt.Errorf("writing: %w", err)}
	}
	if err := os.Rename(tmp.Name(), file); err != nil {
		return inputError{fmt.Errorf("writing: %w", err)}
	}
	return nil
}

// give writes a product to the named file, or to standard output when none is named.
func (a *app) give(file string, data []byte, replace bool) error {
	if file == "" || file == "-" {
		_, err := a.out.Write(data)
		return err
	}
	return write(file, data, replace)
}

// slug turns a name into one for files: lower case letters, digits and dashes.
func slug(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= 60 {
			break
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "site"
}
