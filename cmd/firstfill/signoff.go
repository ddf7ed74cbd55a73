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
	Files  []string `arg:"" name:"workbook" help:"Sign-off workbooks (.xlsx). Copies of one revision, as each trade sent its own back, are taken together."`
	Format string   `enum:"text,json,csv" default:"text" help:"text, json or csv."`
	Diff   bool     `help:"List what changed from the first of two workbooks to the second."`
	Merge  bool     `help:"Join copies of one revision's workbook into the one file named with -o; what disagrees stands in rows of its own."`
	Enter  string   `placeholder:"CSV" help:"Type a signed sheet in: a table with the columns id, status, name, date, and where wanted company, license, due, reading, note; - reads standard input. What stands in the workbook already is never written over."`
	Output string   `short:"o" placeholder:"FILE" help:"With --merge or --enter: the workbook to write. --enter without it writes the workbook itself anew, and keeps the old one in the folder replaced."`
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
	case c.Merge && (c.Diff || c.Update != ""):
		return badInput("--merge goes without --diff and --update; write the joined workbook first")
	case c.Merge && (len(c.Files) < 2 || c.Output == ""):
		return badInput("--merge joins two or more copies into one file: firstfill signoff COPY... --merge -o FILE.xlsx")
	case c.Enter != "" && (c.Merge || c.Diff || c.Update != "" || len(c.Files) != 1):
		return badInput("--enter goes with one workbook and nothing else: firstfill signoff WORKBOOK --enter FILE.csv")
	case !c.Merge && c.Enter == "" && c.Output != "":
		return badInput("-o goes with --merge and --enter")
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
	case c.Merge:
		if err := c.merge(a, books); err != nil {
			return err
		}
	case c.Enter != "":
		if books[0], err = c.enter(a, books[0]); err != nil {
			return err
		}
	}
	outdated(a, books)
	var reports progress.Reports
	blocks := 0
	for _, f := range joined(books) {
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

// merge joins copies into one file, beside them.
func (c *signoffCmd) merge(a *app, books []found) error {
	first := books[0]
	var rest []signoff.Book
	for _, f := range books[1:] {
		if !f.Book.SameSite(first.Book) || f.Book.Revision != first.Book.Revision {
			return badInput("%s is of %s, %s of %s: copies of one revision can be joined", first.File, first.Book.Label(), f.File, f.Book.Label())
		}
		rest = append(rest, f.Book)
	}
	data, err := workbook.Merge(first.File, first.data, rest)
	if err != nil {
		return inputError{fmt.Errorf("nothing is written: %w", err)}
	}
	if err := write(c.Output, data, false); err != nil {
		return err
	}
	for _, it := range joined(books)[0].Book.Items {
		for _, m := range it.Others {
			warn(a.err, "%s: %s; but also: %s", it.ID, it.Mark, m)
		}
	}
	talk(a.err, "written: %s, with the words of %s", c.Output, terminal.Plural(len(books), "copy", "copies"))
	return nil
}

// joined takes copies of one revision's workbook together, as when each trade
// sent its own back: they are one site. What disagrees is kept, and told.
func joined(books []found) []found {
	var all []found
	for _, f := range books {
		i := slices.IndexFunc(all, func(g found) bool { return g.Book.SameSite(f.Book) && g.Book.Revision == f.Book.Revision })
		if i < 0 {
			all = append(all, f)
			continue
		}
		all[i].Book = signoff.Merge(all[i].Book, f.Book)
		all[i].File += " + " + f.File
		all[i].Told = append(slices.Clone(all[i].Told), f.Told...)
	}
	return all
}

// outdated warns of workbooks of which a later revision is given too or lies beside them.
func outdated(a *app, books []found) {
	beside := map[string][]found{} // by folder, each read once
	for _, f := range books {
		dir := filepath.Dir(f.File)
		near, read := beside[dir]
		if !read {
			near = neighbours(dir, books)
			beside[dir] = near
		}
		latest := f
		for _, g := range slices.Concat(books, near) {
			if g.Book.SameSite(f.Book) && signoff.CompareRevisions(g.Book.Revision, latest.Book.Revision) > 0 {
				latest = g
			}
		}
		if latest.Book.Revision != f.Book.Revision {
			warn(a.err, "%s is revision %s; a later one is there: %s, revision %s", f.File, f.Book.Revision, latest.File, latest.Book.Revision)
		}
	}
}

// neighbours are the workbooks of a folder that aren't among those read already.
func neighbours(dir string, books []found) (near []found) {
	files, err := filepath.Glob(filepath.Join(escapeGlob(dir), "*"+signoffEnd))
	if err != nil || len(files) > maxFolder {
		return nil
	}
	for _, file := range files {
		if slices.ContainsFunc(books, func(f found) bool { return filepath.Clean(f.File) == filepath.Clean(file) }) {
			continue
		}
		if g, err := readBook(file); err == nil {
			near = append(near, g)
		}
	}
	return near
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
