package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/progress"
	"firstfill/render/terminal"
	"firstfill/render/workbook"
	"firstfill/specs/signoff"
	"firstfill/survey"
)

type signoffCmd struct {
	Files  []string `arg:"" name:"workbook" help:"Sign-off workbooks (.xlsx)."`
	Format string   `enum:"text,json,csv" default:"text" help:"text, json or csv."`
	Diff   bool     `help:"List what changed from the first of two workbooks to the second."`
	Update string   `placeholder:"SITE" help:"Take signed readings back into this questionnaire (.yaml or .json)."`
	dated
}

// Run prints where the sign-offs stand, compares two workbooks, or takes readings back.
func (c *signoffCmd) Run(a *app) error {
	today, err := c.dated.today(a)
	if err != nil {
		return err
	}
	switch {
	case c.Diff && c.Update != "":
		return badInput("--diff and --update are two different things; say one of them")
	case c.Diff && len(c.Files) != 2:
		return badInput("--diff compares two workbooks; %s named", terminal.Plural(len(c.Files), "was", "were"))
	}
	var books []found
	for _, file := range c.Files {
		f, err := readBook(file)
		if err != nil {
			return err
		}
		books = append(books, f)
	}
	for _, f := range books {
		for _, n := range f.Told {
			warn(a.err, "%v", n)
		}
	}
	switch {
	case c.Diff:
		x, y := books[0], books[1]
		if !x.Book.SameSite(y.Book) {
			return badInput("%s is of %s, %s of %s: revisions of one site and machine can be compared", x.File, x.Book.Label(), y.File, y.Book.Label())
		}
		return c.give(a, progress.Compare(x.Book, y.Book))
	case c.Update != "":
		return c.update(a, books, today)
	}
	outdated(a, books)
	var reports progress.Reports
	blocks := 0
	for _, f := range books {
		p := signoff.Judge(f.Book, today)
		blocks += p.Blocks
		reports = append(reports, progress.Report{Copy: f.Copy, Progress: p})
	}
	if err := c.give(a, reports); err != nil {
		return err
	}
	if blocks > 0 {
		return errBlocked
	}
	return nil
}

// give prints in the format that was asked for.
func (c *signoffCmd) give(a *app, p progress.Printer) error {
	var b bytes.Buffer
	show := p.Text
	switch c.Format {
	case "json":
		show = p.JSON
	case "csv":
		show = p.CSV
	}
	if err := show(&b); err != nil {
		return err
	}
	return a.give("", b.Bytes(), false)
}

func readBook(file string) (found, error) {
	data, err := readFile(file)
	if err != nil {
		return found{}, err
	}
	book, told, err := workbook.Read(file, data)
	if err != nil {
		return found{}, inputError{err}
	}
	return found{signoff.Copy{File: file, Book: book, Told: told}, data}, nil
}

// outdated warns of workbooks of which a later revision is given too or lies beside them.
func outdated(a *app, books []found) {
	for i, f := range books {
		near := slices.Clone(books)
		if files, err := filepath.Glob(filepath.Join(escapeGlob(filepath.Dir(f.File)), "*"+signoffEnd)); err == nil && len(files) <= maxFolder {
			for _, file := range files {
				if g, err := readBook(file); err == nil {
					near = append(near, g)
				}
			}
		}
		latest := f
		for _, g := range near {
			if g.Book.SameSite(f.Book) && signoff.CompareRevisions(g.Book.Revision, latest.Book.Revision) > 0 {
				latest = g
			}
		}
		if latest.Book.Revision != f.Book.Revision {
			warn(a.err, "%s is revision %s; a later one is there: %s, revision %s", f.File, f.Book.Revision, latest.File, latest.Book.Revision)
		}
		for _, g := range books[:i] {
			if g.Book.SameSite(f.Book) && g.Book.Revision == f.Book.Revision {
				warn(a.err, "%s and %s are both of %s; each is counted by itself", g.File, f.File, f.Book.Label())
			}
		}
	}
}

// update takes signed readings back into the questionnaire.
func (c *signoffCmd) update(a *app, books []found, today survey.Date) error {
	switch ext := strings.ToLower(filepath.Ext(c.Update)); {
	case ext != ".yaml" && ext != ".yml" && ext != ".json":
		return badInput("--update writes into a .yaml or .json questionnaire, not into %s", c.Update)
	}
	data, err := readFile(c.Update)
	if err != nil {
		return err
	}
	s, problems := survey.Load(c.Update, data)
	whole, single := problems.Split()
	if len(whole) > 0 {
		return inputError{problems}
	}
	complain(a.err, single)
	site := signoff.Book{Site: s.Site.Name, Reference: s.Site.Reference, Machine: s.Machine.Key}
	copies := make([]signoff.Copy, len(books))
	for i, f := range books {
		if !f.Book.SameSite(site) {
			return badInput("%s is of %s; the questionnaire %s is of %s, %s", f.File, f.Book.Label(), c.Update, strings.TrimSpace(site.Reference+" "+site.Site), site.Machine)
		}
		copies[i] = f.Copy
	}
	changes, unsigned, problems := signoff.TakeBack(s, copies, today)
	for _, u := range unsigned {
		warn(a.err, "%v: %s: the reading isn't signed, so it is not taken: %q", u.At, u.ID, u.Reading)
	}
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	if len(changes) == 0 {
		fmt.Fprintln(a.out, "No reading to take back.")
		return nil
	}
	for i := range changes {
		changes[i].Source = terminal.OneLine(changes[i].Source)
	}
	next, problems := survey.Edit(c.Update, data, changes)
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	_, problems = survey.Load(c.Update, next)
	if whole, _ := problems.Split(); len(whole) > 0 {
		return inputError{whole}
	}
	if err := write(c.Update, next, true); err != nil {
		return err
	}
	for _, ch := range changes {
		fmt.Fprintln(a.out, terminal.Plain(fmt.Sprintf("%s: %s (%s)", ch.Path, ch.Value, ch.Source)))
	}
	talk(a.err, "%s taken back into %s; check the site again and print the next revision", terminal.Plural(len(changes), "reading", "readings"), c.Update)
	return nil
}
