package specs

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"firstfill/survey/quantity/doc"
)

//go:embed library/*.yaml
var builtin embed.FS

// Library is a set of machines by key.
type Library struct {
	machines []*Machine // a user's own
	builtin  bool       // the built-in ones too, but those of the same key
}

// Builtin returns the machines that come with the program. A sheet is read
// when its machine is asked for.
var Builtin = sync.OnceValue(func() *Library { return &Library{builtin: true} })

// builtins reads the built-in sheets, each once: its file is named by its key.
var builtins = sync.OnceValue(func() map[string]func() *Machine {
	files, err := fs.Glob(builtin, "library/*.yaml")
	if err != nil {
		panic("specs: " + err.Error())
	}
	all := map[string]func() *Machine{}
	for _, file := range files {
		key := strings.TrimSuffix(path.Base(file), ".yaml")
		all[key] = sync.OnceValue(func() *Machine {
			data, err := builtin.ReadFile(file)
			if err != nil {
				panic("specs: built-in library: " + err.Error())
			}
			m, problems := Load(path.Base(file), data)
			if len(problems) > 0 {
				panic("specs: built-in library: " + problems.Error())
			}
			m.complete = true
			return m
		})
	}
	return all
})

// With returns the built-in library with a folder's sheets laid over it; a
// sheet of the same key replaces the built-in one.
func With(dir fs.FS, name string) (*Library, doc.Problems) {
	l := &Library{builtin: true}
	return l, l.Add(dir, name)
}

// maxSheets bounds a folder of requirement sheets.
const maxSheets = 1000

// Add reads every .yaml, .yml and .json sheet of a folder into the library. name
// is the folder's name in messages. A sheet with problems isn't added.
func (l *Library) Add(dir fs.FS, name string) doc.Problems {
	entries, err := fs.ReadDir(dir, ".")
	if err != nil {
		return doc.Problems{{Pos: doc.Pos{File: name}, Message: "the folder can't be read: " + reason(err)}}
	}
	var problems doc.Problems
	from := map[string]string{}
	count := 0
	for _, e := range entries {
		switch path.Ext(e.Name()) {
		case ".yaml", ".yml", ".json":
		default:
			continue
		}
		file := path.Join(name, e.Name())
		if count++; count > maxSheets {
			return append(problems, doc.Problem{Pos: doc.Pos{File: name}, Message: fmt.Sprintf("the folder holds more than %d sheets", maxSheets)})
		}
		if info, err := e.Info(); err == nil && info.Size() > doc.MaxBytes {
			problems = append(problems, doc.Problem{Pos: doc.Pos{File: file}, Message: fmt.Sprintf("the sheet has %d bytes; at most %d are read", info.Size(), doc.MaxBytes)})
			continue
		}
		data, err := fs.ReadFile(dir, e.Name())
		if err != nil {
			problems = append(problems, doc.Problem{Pos: doc.Pos{File: file}, Message: "the sheet can't be read: " + reason(err)})
			continue
		}
		m, ps := Load(file, data)
		if len(ps) > 0 {
			problems = append(problems, ps...)
			continue
		}
		if first, dup := from[m.Key]; dup {
			problems = append(problems, doc.Problem{Pos: doc.Pos{File: file}, Path: "key", Message: fmt.Sprintf("%q is already the key of %s", m.Key, first)})
			continue
		}
		from[m.Key] = file
		l.machines = slices.DeleteFunc(l.machines, func(o *Machine) bool { return o.Key == m.Key })
		l.machines = append(l.machines, m)
	}
	slices.SortFunc(l.machines, func(a, b *Machine) int { return cmp.Compare(a.Key, b.Key) })
	return problems
}

func reason(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// Machines lists the library by key.
func (l *Library) Machines() []*Machine {
	all := slices.Clone(l.machines)
	if l.builtin {
		for key, read := range builtins() {
			if !l.own(key) {
				all = append(all, read())
			}
		}
	}
	slices.SortFunc(all, func(a, b *Machine) int { return cmp.Compare(a.Key, b.Key) })
	return all
}

// own says whether a user's own sheet has that key.
func (l *Library) own(key string) bool {
	return slices.ContainsFunc(l.machines, func(m *Machine) bool { return m.Key == key })
}

// Machine returns the machine of that key; the error names the keys there are.
func (l *Library) Machine(key string) (*Machine, error) {
	for _, m := range l.machines {
		if m.Key == key {
			return m, nil
		}
	}
	if l.builtin {
		if read, ok := builtins()[key]; ok {
			return read(), nil
		}
	}
	var keys []string
	for _, m := range l.Machines() {
		keys = append(keys, m.Key)
	}
	return nil, fmt.Errorf("there is no machine %q; there are %s", key, strings.Join(keys, ", "))
}

// Load reads one requirement sheet written as YAML or JSON. file names it in messages.
func Load(file string, data []byte) (*Machine, doc.Problems) {
	entries, problems := doc.ReadYAML(file, data)
	if entries == nil {
		return nil, problems
	}
	m := &Machine{}
	problems = append(problems, m.fill(entries)...)
	problems = append(problems, m.shape(file)...)
	problems.Sort()
	return m, problems
}

// With returns the machine with other values written into its sheet.
func (m *Machine) With(set map[string]string) (*Machine, error) {
	var entries []doc.Entry
	for p, a := range m.answers {
		if text, ok := set[p]; ok {
			a.Text = text
		}
		a.Path = p
		entries = append(entries, a)
	}
	for p, text := range set {
		if _, ok := m.answers[p]; !ok {
			entries = append(entries, doc.Entry{Path: p, Text: text})
		}
	}
	slices.SortFunc(entries, func(a, b doc.Entry) int { return cmp.Compare(a.Path, b.Path) })
	next := &Machine{}
	problems := next.fill(entries)
	problems = append(problems, next.shape(m.Key)...)
	return next, problems.Err()
}

func (m *Machine) shape(file string) doc.Problems {
	var problems doc.Problems
	for _, f := range doc.ShapeFaults(m) {
		_, p, _ := strings.Cut(f.Namespace(), ".")
		pos := doc.Pos{File: file, Line: 1, Col: 1}
		if a, ok := m.answers[p]; ok {
			pos = a.Pos
		}
		found := fmt.Sprint(f.Value())
		msg := fmt.Sprintf("%q doesn't have the form wanted (%s %s)", found, f.Tag(), f.Param())
		switch f.Tag() {
		case "required":
			msg = "the sheet must say this"
			if p == "machine" {
				msg = fmt.Sprintf("the sheet must start with \"machine: %d\", the version of its form", Version)
			}
		case "oneof":
			msg = fmt.Sprintf("%q is not one of the values; write %s", found, strings.Join(strings.Fields(f.Param()), ", "))
		}
		problems = append(problems, doc.Problem{Pos: pos, Path: p, Message: msg})
	}
	return problems
}
