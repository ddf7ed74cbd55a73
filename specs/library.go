package specs

import (
	"bytes"
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
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
	machines []*Machine        // a user's own
	builtin  bool              // the built-in ones too, but those of the same key
	broken   map[string]string // keys, or names without their ending, of sheets with faults, to their files
	Notes    []string          // files that are no sheets, and keys that hide a built-in machine
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
		data, err := doc.ReadFile(dir, e.Name(), doc.MaxBytes)
		if err != nil {
			problems = append(problems, doc.Problem{Pos: doc.Pos{File: file}, Message: "the sheet can't be read: " + reason(err)})
			continue
		}
		m, ps := Load(file, data)
		if len(ps) > 0 && !looksSheet(file, data) {
			l.Notes = append(l.Notes, file+" is no machine's requirement sheet and is skipped")
			continue
		}
		if len(ps) > 0 {
			problems = append(problems, ps...)
			l.breaks(strings.TrimSuffix(e.Name(), path.Ext(e.Name())), file)
			if m != nil {
				l.breaks(m.Key, file)
			}
			continue
		}
		if first, dup := from[m.Key]; dup {
			problems = append(problems, doc.Problem{Pos: doc.Pos{File: file}, Path: "key", Message: fmt.Sprintf("%q is already the key of %s", m.Key, first)})
			continue
		}
		from[m.Key] = file
		if _, hides := builtins()[m.Key]; hides && l.builtin {
			l.Notes = append(l.Notes, fmt.Sprintf("%s has the key %s of a built-in machine, which it stands in for", file, m.Key))
		}
		l.machines = slices.DeleteFunc(l.machines, func(o *Machine) bool { return o.Key == m.Key })
		l.machines = append(l.machines, m)
	}
	slices.SortFunc(l.machines, func(a, b *Machine) int { return cmp.Compare(a.Key, b.Key) })
	return problems
}

func (l *Library) breaks(key, file string) {
	if l.broken == nil {
		l.broken = map[string]string{}
	}
	if key != "" {
		l.broken[key] = file
	}
}

// looksSheet says whether a document was meant as a requirement sheet: it says
// its version, or it has a sheet's sections and is no questionnaire. One that
// can't be taken apart at all counts as meant, since nobody knows what it holds.
func looksSheet(file string, data []byte) bool {
	entries, _ := doc.ReadYAML(file, data)
	if len(entries) == 0 {
		return len(bytes.TrimSpace(data)) > 0
	}
	has := map[string]bool{}
	for _, e := range entries {
		section, _, _ := strings.Cut(e.Path, ".")
		has[section] = true
		if e.Path == "machine" {
			return true
		}
	}
	return has["key"] && !has["survey"] && !has["site"]
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
	if file, ok := l.broken[key]; ok {
		return nil, fmt.Errorf("the sheet of machine %q has faults: mend %s first", key, file)
	}
	if l.builtin {
		if read, ok := builtins()[key]; ok {
			return read(), nil
		}
	}
	for _, m := range l.Machines() { // however its key or name is written
		if sameWord(m.Key, key) || sameWord(m.Name, key) {
			return m, nil
		}
	}
	var keys []string
	for _, m := range l.Machines() {
		keys = append(keys, m.Key)
	}
	return nil, fmt.Errorf("there is no machine %q; there are %s", key, strings.Join(keys, ", "))
}

var joints = strings.NewReplacer(" ", "", "-", "", "_", "")

// sameWord compares names without letter case, blanks and dashes.
func sameWord(a, b string) bool {
	return strings.EqualFold(joints.Replace(a), joints.Replace(b))
}

// Load reads one requirement sheet written as YAML or JSON. file names it in messages.
func Load(file string, data []byte) (*Machine, doc.Problems) {
	entries, problems := doc.ReadYAML(file, data)
	if entries == nil {
		return nil, problems
	}
	m := &Machine{}
	problems = append(problems, m.fill(entries)...)
	faulty := map[string]bool{}
	for _, p := range problems {
		faulty[p.Path] = true
	}
	for _, p := range append(m.shape(file), m.absurd(file)...) {
		if !faulty[p.Path] { // what can't be read isn't missing too
			problems = append(problems, p)
		}
	}
	problems.Sort()
	return m, problems
}

// With returns the machine with other values written into its sheet.
func (m *Machine) With(set map[string]string) (*Machine, error) {
	next, problems := m.overwritten(set)
	if next == nil {
		next = &Machine{}
		problems = next.fill(m.entriesWith(set))
	}
	problems = append(problems, next.shape(m.Key)...)
	problems = append(problems, next.absurd(m.Key)...)
	return next, problems.Err()
}

// overwritten is a copy of the sheet with other values read into it. It gives
// none where a value takes another away or adds a supply option: then the whole
// sheet is read anew.
func (m *Machine) overwritten(set map[string]string) (*Machine, doc.Problems) {
	var entries []doc.Entry
	for _, path := range slices.Sorted(maps.Keys(set)) {
		e := doc.Entry{Path: path, Text: set[path]}
		if old, ok := m.answers[path]; ok {
			e.Note, e.Source, e.Pos = old.Note, old.Source, old.Pos
		}
		if e.Unknown() || strings.EqualFold(e.Text, "none") || e.Text == doc.EmptyList || strings.Contains(path, "[") || m.answers == nil {
			return nil, nil
		}
		entries = append(entries, e)
	}
	next := *m
	next.complete = false
	next.Power.Supplies = slices.Clone(m.Power.Supplies)
	next.Extras = slices.Clone(m.Extras)
	read, _ := next.withoutNone(entries)
	answers, problems := doc.Fill(&next, read)
	next.answers = maps.Clone(m.answers)
	maps.Copy(next.answers, answers)
	return &next, problems
}

// entriesWith are the sheet's entries with others in their place or beside them.
func (m *Machine) entriesWith(set map[string]string) []doc.Entry {
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
	return entries
}

func (m *Machine) shape(file string) doc.Problems {
	var problems doc.Problems
	for _, f := range doc.ShapeFaults(m) {
		_, p, _ := strings.Cut(f.Namespace(), ".")
		pos := m.place(file, p)
		found := fmt.Sprint(f.Value())
		msg := fmt.Sprintf("%q doesn't have the form wanted (%s %s)", found, f.Tag(), f.Param())
		switch f.Tag() {
		case "required":
			msg = "the sheet must say this"
			if c := m.choicesAt(p); c != nil {
				msg += ": " + strings.Join(c, ", ")
			}
			if p == "machine" {
				msg = fmt.Sprintf("the sheet must start with \"machine: %d\", the version of its form", Version)
			}
		case "oneof":
			if a := m.answers[p]; a.Text == "" || a.Unknown() {
				msg = "the sheet must say this: " + strings.Join(strings.Fields(f.Param()), ", ")
				break
			}
			msg = fmt.Sprintf("%q is not one of the values; write %s", found, strings.Join(strings.Fields(f.Param()), ", "))
		}
		problems = append(problems, doc.Problem{Pos: pos, Path: p, Message: msg})
	}
	return problems
}

// place is where a fact stands, or what is nearest above it.
func (m *Machine) place(file, fact string) doc.Pos {
	for p := fact; p != ""; p = parent(p) {
		if a, ok := m.answers[p]; ok {
			return a.Pos
		}
		first := doc.Pos{}
		for q, a := range m.answers {
			if (strings.HasPrefix(q, p+".") || strings.HasPrefix(q, p+"[")) && (first.Line == 0 || a.Pos.Line < first.Line || a.Pos.Line == first.Line && a.Pos.Col < first.Col) {
				first = a.Pos
			}
		}
		if first.Line > 0 {
			return first
		}
	}
	return doc.Pos{File: file, Line: 1, Col: 1}
}

func parent(p string) string {
	i := strings.LastIndexAny(p, ".[")
	if i < 0 {
		return ""
	}
	return p[:i]
}
