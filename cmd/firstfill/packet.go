package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/pdf"
	"firstfill/render/terminal"
	"firstfill/render/words"
	"firstfill/render/workbook"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/signoff"
)

type packetCmd struct {
	Site    string `arg:"" help:"Questionnaire (.yaml, .json or .xlsx), - for standard input, or demo."`
	Output  string `short:"o" placeholder:"DIR" default:"packet" help:"Folder to write to (default: packet). An earlier revision in it is found and its sign-offs are carried over."`
	Replace bool   `help:"Write the same revision again when the answers haven't changed; sign-offs are carried over."`
	Split   bool   `help:"Also write one PDF for each trade, to hand out."`
	Duplex  bool   `help:"Start each part on a front side, with blank backs between, for printing on both sides."`
	Trade   string `enum:",electrician,plumber,builder,owner,supplier" default:"" help:"Write only this trade's PDF: electrician, plumber, builder, owner or supplier."`
	library
	printed
	dated
	shown
}

// Run checks the site and writes its packet.
func (c *packetCmd) Run(a *app) error {
	j, src, err := judge(a, c.Site, c.library, c.dated, c.shown)
	if err != nil {
		return err
	}
	r := words.Planned(a.find(j, src, plan.Options{}), c.system())
	o, err := c.options(a, src)
	if err != nil {
		return err
	}
	o.Duplex = c.Duplex
	if c.Trade != "" {
		return c.handOut(a, r, o)
	}
	issue, err := c.issue(a, r)
	if err != nil {
		return err
	}
	r.Survey.Site.Revision = issue.Book.Revision // what the sheets print
	if issue.Over != "" {
		o.Before, o.Now = &issue.Before, &issue.Book
	}
	sheets, warnings, err := pdf.Packet(r, o)
	if err != nil {
		return fmt.Errorf("laying out the sheets: %w", err)
	}
	for _, w := range warnings {
		warn(a.err, "%s", w)
	}
	wb, err := workbook.Build(r, workbook.Options{Paper: c.Paper, Book: &issue.Book})
	if err != nil {
		return fmt.Errorf("making the workbook: %w", err)
	}
	calc, _, err := pdf.Calculations(r, o)
	if err != nil {
		return fmt.Errorf("laying out the calculations: %w", err)
	}
	files := []product{{stem(r) + ".pdf", sheets}, {stem(r) + "-calc.pdf", calc}, {stem(r) + signoffEnd, wb}}
	if c.Split {
		for _, t := range check.Trades {
			f, _, err := tradeSheet(r, t, o) // what can't be shown was said of the whole packet
			if err != nil {
				return err
			}
			files = append(files, f)
		}
	}
	if err := issue.write(c.Output, files); err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintln(a.out, filepath.Join(c.Output, f.name))
	}
	for _, line := range issue.talk {
		talk(a.err, "%s", line)
	}
	talk(a.err, "%s", check.Sentence(r.Report))
	return nil
}

// handOut writes one trade's sheet of the revision that is there, or of the
// first one; it issues nothing, so it refuses when the answers have changed since.
func (c *packetCmd) handOut(a *app, r *words.Report, o pdf.Options) error {
	next := book(r)
	earlier, err := earlierBooks(c.Output, label(r), next)
	if err != nil {
		return err
	}
	if n := len(earlier); n > 0 {
		newest := earlier[n-1]
		if !newest.Book.SameFindings(next) {
			return badInput("the answers have changed since revision %s (%s); write the new revision's packet first, without --trade", newest.Book.Revision, newest.File)
		}
		r.Survey.Site.Revision = newest.Book.Revision
	}
	f, warnings, err := tradeSheet(r, check.Trade(c.Trade), o)
	if err != nil {
		return err
	}
	for _, w := range warnings {
		warn(a.err, "%s", w)
	}
	file := filepath.Join(c.Output, f.name)
	if err := write(file, f.data, c.Replace); err != nil {
		return err
	}
	fmt.Fprintln(a.out, file)
	return nil
}

// tradeSheet lays out one trade's sheet alone.
func tradeSheet(r *words.Report, t check.Trade, o pdf.Options) (product, []string, error) {
	data, warnings, err := pdf.TradeSheet(r, t, o)
	if err != nil {
		return product{}, nil, fmt.Errorf("laying out the %s's sheet: %w", t, err)
	}
	return product{stem(r) + "-" + string(t) + ".pdf", data}, warnings, nil
}

// signoffEnd ends the names of sign-off workbooks.
const signoffEnd = "-signoff.xlsx"

// stem is what a packet's files are called: reference or name, and revision.
func stem(r *words.Report) string { return label(r) + "-" + r.Survey.Revision() }

// label is the stem without its revision.
func label(r *words.Report) string {
	name := r.Survey.Site.Reference
	if name == "" {
		name = r.Survey.Site.Name
	}
	return slug(name)
}

// A product is one file of a packet.
type product struct {
	name string
	data []byte
}

// A found is a workbook found in a folder, and its bytes.
type found struct {
	signoff.Copy
	data []byte
}

// An issue is one packet about to be written.
type issue struct {
	signoff.Issue
	keep []found // workbooks of the same revision that people wrote in
	talk []string
}

// book is what the packet's findings say, with nothing signed.
func book(r *words.Report) signoff.Book {
	b := signoff.New(r.Report, signoff.Base(r.Report), workbook.Words(r), r.Plan.Planned())
	b.Show = workbook.Show(r)
	return b
}

// issue looks for earlier revisions in the folder and carries their sign-offs over.
func (c *packetCmd) issue(a *app, r *words.Report) (*issue, error) {
	next := book(r)
	earlier, err := earlierBooks(c.Output, label(r), next)
	if err != nil {
		return nil, err
	}
	copies := make([]signoff.Copy, len(earlier))
	for i, f := range earlier {
		copies[i] = f.Copy
	}
	is, err := signoff.Next(next, r.Survey.Site.Revision, copies, c.Replace)
	if err != nil {
		return nil, inputError{err}
	}
	for _, f := range copies {
		for _, n := range f.Told {
			if f.Book.Revision == is.Over {
				warn(a.err, "%v", n)
			}
		}
	}
	p := &issue{Issue: is}
	if is.Over != "" && !is.Replace {
		for _, end := range []string{".pdf", "-calc.pdf", signoffEnd} {
			file := filepath.Join(c.Output, label(r)+"-"+is.Book.Revision+end)
			if _, err := os.Lstat(file); err == nil {
				return nil, badInput("%s is already there and isn't part of this site's packet; choose another folder with -o", file)
			}
		}
	}
	for _, i := range is.Keep {
		p.keep = append(p.keep, earlier[i])
	}
	for _, l := range is.Late {
		warn(a.err, "%s: written into revision %s after revision %s was issued, kept but not counted: %s", l.File, l.Revision, is.Over, strings.Join(l.IDs, ", "))
	}
	if is.Stated != "" {
		p.talk = append(p.talk, fmt.Sprintf("the questionnaire says revision %s; revision %s is there with other answers, so this is revision %s", is.Stated, is.Over, is.Book.Revision))
	}
	if is.Over != "" {
		p.talk = append(p.talk, fmt.Sprintf("revision %s after %s: %s carried over, %d reopened, %d closed by re-survey", is.Book.Revision, is.Over, terminal.Plural(is.Kept, "sign-off", "sign-offs"), is.Reopened, is.Closed))
	}
	return p, nil
}

// maxFolder bounds how many workbooks of one folder are looked at.
const maxFolder = 2000

// earlierBooks reads the workbooks of a site that lie in a folder, in the order of their
// revisions. One that bears the site's name but can't be read is an error: its sign-offs would be lost.
func earlierBooks(dir, label string, next signoff.Book) ([]found, error) {
	files, err := filepath.Glob(filepath.Join(escapeGlob(dir), "*.xlsx"))
	if err != nil {
		return nil, inputError{fmt.Errorf("looking for earlier revisions: %w", err)}
	}
	if len(files) > maxFolder {
		return nil, badInput("%s holds %d workbooks; at most %d are looked at: choose another folder with -o", dir, len(files), maxFolder)
	}
	var books []found
	for _, file := range files {
		base := filepath.Base(file)
		if strings.HasPrefix(base, ".") || strings.HasPrefix(base, "~$") { // an office program's lock file
			continue
		}
		named := strings.HasPrefix(base, label+"-") && strings.HasSuffix(base, signoffEnd)
		data, err := readFile(file)
		if err == nil {
			var f found
			f.File, f.data = file, data
			f.Book, f.Told, err = workbook.Read(file, data)
			f.Own = base == label+"-"+f.Book.Revision+signoffEnd
			if err == nil && f.Book.SameSite(next) {
				books = append(books, f)
				continue
			}
			if err == nil && named && fold(f.Book) == fold(next) {
				err = fmt.Errorf("it belongs to %s", f.Book.Label())
			}
		}
		if err != nil && named {
			return nil, badInput("%s has the name of an earlier revision of this site, but can't be used: %v; mend it, move it away, or choose another folder with -o", file, err)
		}
	}
	slices.SortStableFunc(books, func(x, y found) int { return signoff.CompareRevisions(x.Book.Revision, y.Book.Revision) })
	return books, nil
}

// fold is a book's name in files.
func fold(b signoff.Book) string {
	if b.Reference != "" {
		return slug(b.Reference)
	}
	return slug(b.Site)
}

// escapeGlob makes a folder's name stand for itself in a pattern.
func escapeGlob(dir string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(dir)
}

// write writes all files or none: each beside its place first, then all are
// renamed; a rename that fails takes the others back. Workbooks that people
// wrote in are kept in a folder of their own before they are replaced.
func (p *issue) write(dir string, files []product) (err error) {
	for _, f := range p.keep {
		sum := f.Book.Sum[:min(8, len(f.Book.Sum))]
		name := strings.TrimSuffix(filepath.Base(f.File), ".xlsx") + "-" + sum + ".xlsx"
		file := filepath.Join(dir, "replaced", name)
		if old, err := os.ReadFile(file); err == nil && bytes.Equal(old, f.data) {
			continue
		}
		if err := write(file, f.data, false); err != nil {
			return err
		}
		p.talk = append(p.talk, "the replaced workbook is kept as "+file)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return inputError{fmt.Errorf("making the folder: %w", err)}
	}
	type step struct{ tmp, file, back string }
	var steps []step
	defer func() {
		for _, s := range steps {
			os.Remove(s.tmp)
			if s.back != "" {
				os.Remove(s.back)
			}
		}
	}()
	for _, f := range files {
		s := step{file: filepath.Join(dir, f.name)}
		if _, err := os.Lstat(s.file); err == nil && !p.Replace {
			return badInput("%s is already there; choose another folder with -o", s.file)
		}
		tmp, err := os.CreateTemp(dir, "."+f.name+".*")
		if err != nil {
			return inputError{fmt.Errorf("writing: %w", err)}
		}
		s.tmp = tmp.Name()
		steps = append(steps, s)
		_, err = tmp.Write(f.data)
		if err := errors.Join(err, tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
			return inputError{fmt.Errorf("writing: %w", err)}
		}
	}
	for i := range steps {
		s := &steps[i]
		if _, err := os.Lstat(s.file); err == nil {
			back := s.tmp + ".back"
			if err := os.Link(s.file, back); err == nil {
				s.back = back
			}
		}
		if err := os.Rename(s.tmp, s.file); err != nil {
			for _, done := range steps[:i] {
				if done.back != "" {
					err = errors.Join(err, os.Rename(done.back, done.file))
				} else {
					err = errors.Join(err, os.Remove(done.file))
				}
			}
			return inputError{fmt.Errorf("writing: %w", err)}
		}
	}
	return nil
}
