package board

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"firstfill/specs"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
)

// Limits on a folder. Past them there is an error rather than a board with sites left out.
const (
	MaxFiles   = 5_000   // questionnaires and workbooks; each takes up to 0.2 MB of memory
	MaxEntries = 200_000 // files and folders of every kind
	MaxDepth   = 40      // folders in folders
	maxFile    = 20 << 20
	batch      = 1000 // entries read from a folder at once
)

// endings of files that are read.
var endings = []string{".yaml", ".yml", ".json", ".xlsx"}

// sheet is the name of a sheet that a packet writes beside its workbook.
var sheet = regexp.MustCompile(`^(.+-[A-Z]{1,3})(?:-calc|-electrician|-plumber|-builder|-owner|-supplier)?\.pdf$`)

// ours says whether a file is a sheet of a packet whose workbook lies beside it:
// it holds nothing that the workbook doesn't.
func ours(name string, beside []fs.DirEntry) bool {
	m := sheet.FindStringSubmatch(name)
	return m != nil && slices.ContainsFunc(beside, func(e fs.DirEntry) bool { return e.Name() == m[1]+"-signoff.xlsx" })
}

// A walker finds the files of a folder. It follows links to files, never to
// folders, so that it can't go round in circles.
type walker struct {
	fsys    fs.FS
	files   []string
	others  []string
	hidden  []string
	locks   []string
	notes   []Note
	entries int
}

func (w *walker) walk() error {
	info, err := fs.Stat(w.fsys, ".")
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return errors.New("it is not a folder")
	}
	if err := w.folder(".", 0); err != nil {
		return err
	}
	for _, list := range []*[]string{&w.files, &w.others, &w.hidden, &w.locks} {
		slices.Sort(*list)
	}
	w.note(w.others, false, "other kinds of file, not read")
	w.note(w.hidden, false, "hidden, not looked at")
	w.note(w.locks, false, "an office program's lock file: somebody may have the workbook open, so that what was typed isn't saved yet")
	return nil
}

func (w *walker) note(files []string, fault bool, format string, args ...any) {
	if len(files) > 0 {
		w.notes = append(w.notes, Note{Files: files, Fault: fault, Text: fmt.Sprintf(format, args...)})
	}
}

// fault notes what is in the way of one file or folder.
func (w *walker) fault(name string, err error) {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	w.note([]string{name}, true, "%v", err)
}

// folder reads one folder. Only what makes the whole board worthless is an error.
func (w *walker) folder(name string, depth int) error {
	entries, err := w.list(name)
	if errors.Is(err, errTooMany) || err != nil && name == "." {
		return err
	}
	if err != nil {
		w.fault(name, fmt.Errorf("the folder can't be read: %w", plainErr(err)))
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	for _, e := range entries {
		at := path.Join(name, e.Name())
		kind := e.Type()
		switch {
		case strings.HasPrefix(e.Name(), "."):
			w.hidden = append(w.hidden, at)
			continue
		case kind&fs.ModeSymlink != 0:
			info, err := fs.Stat(w.fsys, at)
			if err != nil {
				w.fault(at, fmt.Errorf("the link leads nowhere, in a circle or out of the folder: %w", plainErr(err)))
				continue
			}
			if info.IsDir() {
				w.note([]string{at}, false, "a link to a folder; it isn't followed")
				continue
			}
			kind = info.Mode().Type()
		case kind.IsDir():
			if depth == MaxDepth {
				w.fault(at, fmt.Errorf("it lies more than %d folders deep and isn't read", MaxDepth))
				continue
			}
			if err := w.folder(at, depth+1); err != nil {
				return err
			}
			continue
		}
		switch wanted := slices.Contains(endings, strings.ToLower(path.Ext(at))); {
		case strings.HasPrefix(e.Name(), "~$"):
			w.locks = append(w.locks, at)
		case !wanted && ours(e.Name(), entries):
		case !wanted:
			w.others = append(w.others, at)
		case !kind.IsRegular():
			w.fault(at, errors.New("it is not a plain file"))
		default:
			if w.files = append(w.files, at); len(w.files) > MaxFiles {
				return fmt.Errorf("it holds more than %d questionnaires and workbooks; name a folder in it", MaxFiles)
			}
		}
	}
	return nil
}

var errTooMany = fmt.Errorf("it holds more than %d files and folders; name a folder in it", MaxEntries)

// list returns a folder's entries; with an error, those that could be read.
func (w *walker) list(name string) ([]fs.DirEntry, error) {
	f, err := w.fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	dir, ok := f.(fs.ReadDirFile)
	if !ok {
		return nil, errors.New("it can't be listed")
	}
	var all []fs.DirEntry
	for {
		some, err := dir.ReadDir(batch)
		all = append(all, some...)
		if w.entries += len(some); w.entries > MaxEntries {
			return nil, errTooMany
		}
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return all, err
		}
	}
}

// plainErr leaves the name out of an error of the file system.
func plainErr(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// A kind is what a file turned out to be.
type kind int

const (
	broken kind = iota
	questionnaire
	book
	foreign // nothing of ours
)

// A file is one file as read.
type file struct {
	path    string
	kind    kind
	text    string       // why it is broken or foreign
	unread  doc.Problems // answers that count as not answered
	survey  *survey.Survey
	machine *specs.Machine
	digest  string
	book    signoff.Book
	told    []signoff.Notice
}

// A Decoded is what one file's bytes turned out to be.
type Decoded struct {
	Survey   *survey.Survey // a questionnaire, with
	Problems doc.Problems   // its faults
	Book     *signoff.Book  // a sign-off workbook, with
	Told     []signoff.Notice
	Foreign  string // why it is nothing of ours
	Broken   string // why it can't be read
}

// read reads one file; it never fails.
func read(fsys fs.FS, name string, o Options) (f file) {
	defer func() {
		if p := recover(); p != nil {
			f = file{path: name, text: fmt.Sprintf("the program failed on it: %v", p)}
		}
	}()
	f = file{path: name}
	data, err := load(fsys, name)
	if err != nil {
		f.text = err.Error()
		return f
	}
	d := o.Decode(name, data)
	switch {
	case d.Broken != "":
		f.text = d.Broken
	case d.Foreign != "":
		f.kind, f.text = foreign, d.Foreign
	case d.Book != nil:
		f.kind, f.book, f.told = book, *d.Book, d.Told
	default:
		f.questionnaire(d.Survey, d.Problems, o.Library)
	}
	return f
}

func load(fsys fs.FS, name string) ([]byte, error) {
	r, err := fsys.Open(name)
	if err != nil {
		return nil, plainErr(err)
	}
	defer r.Close()
	if info, err := r.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, cmp.Or(plainErr(err), errors.New("it is not a plain file"))
	}
	data, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	switch {
	case err != nil:
		return nil, plainErr(err)
	case len(data) > maxFile:
		return nil, fmt.Errorf("it has more than %d bytes; questionnaires and workbooks are far smaller", maxFile)
	case len(data) == 0:
		return nil, errors.New("it is empty")
	}
	return data, nil
}

// questionnaire takes a questionnaire with its machine.
func (f *file) questionnaire(s *survey.Survey, problems doc.Problems, lib *specs.Library) {
	f.survey = s
	if s != nil && s.Machine.Key != "" {
		m, err := lib.Machine(s.Machine.Key)
		if err == nil && s.Machine.Supply != "" {
			if _, err := m.SupplyNamed(s.Machine.Supply); err != nil {
				problems = append(problems, doc.Problem{Pos: s.Answer("machine.supply").Pos, Path: "machine.supply", Message: err.Error()})
			}
		}
		if err != nil {
			problems = append(problems, doc.Problem{Pos: s.Answer("machine.key").Pos, Path: "machine.key", Message: err.Error()})
		}
		f.machine = m
	}
	problems.Sort()
	whole, single := problems.Split()
	if len(whole) > 0 || s == nil {
		f.kind, f.text = broken, FirstFault(problems)
		return
	}
	f.kind, f.digest, f.unread = questionnaire, s.Digest(), single
}

// FirstFault words the first of a file's faults.
func FirstFault(problems doc.Problems) string {
	if len(problems) == 0 {
		return "it can't be read"
	}
	p := problems[0]
	at := p.Pos
	p.Pos = doc.Pos{Cell: at.Cell}
	text := p.Error()
	if at.Line > 0 && at.Cell == "" {
		text = fmt.Sprintf("line %d, column %d: %s", at.Line, at.Col, text)
	}
	if n := len(problems) - 1; n > 0 {
		text += fmt.Sprintf(" (and %s; \"firstfill check\" lists them)", Count(n, "more fault", "more faults"))
	}
	return text
}
