package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"firstfill/render/terminal"
	"firstfill/render/workbook"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/survey"
	"firstfill/survey/quantity/doc"
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
		return badInput("--diff compares two workbooks; %s named", plural(len(c.Files), "was", "were"))
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
		for _, n := range f.told {
			warn(a.err, "%v", n)
		}
	}
	switch {
	case c.Diff:
		return c.diff(a, books[0], books[1])
	case c.Update != "":
		return c.update(a, books, today)
	}
	outdated(a, books)
	var reports []progress
	for _, f := range books {
		reports = append(reports, progress{f, signoff.Judge(f.book, today)})
	}
	if err := c.print(a, reports); err != nil {
		return err
	}
	for _, p := range reports {
		if p.Blocks > 0 {
			return errBlocked
		}
	}
	return nil
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
	return found{file, data, book, told}, nil
}

// outdated warns of workbooks of which a later revision is given too or lies beside them.
func outdated(a *app, books []found) {
	for i, f := range books {
		near := slices.Clone(books)
		if files, err := filepath.Glob(filepath.Join(escapeGlob(filepath.Dir(f.file)), "*"+signoffEnd)); err == nil && len(files) <= maxFolder {
			for _, file := range files {
				if g, err := readBook(file); err == nil {
					near = append(near, g)
				}
			}
		}
		latest := f
		for _, g := range near {
			if g.book.SameSite(f.book) && signoff.CompareRevisions(g.book.Revision, latest.book.Revision) > 0 {
				latest = g
			}
		}
		if latest.book.Revision != f.book.Revision {
			warn(a.err, "%s is revision %s; a later one is there: %s, revision %s", f.file, f.book.Revision, latest.file, latest.book.Revision)
		}
		for _, g := range books[:i] {
			if g.book.SameSite(f.book) && g.book.Revision == f.book.Revision {
				warn(a.err, "%s and %s are both of %s; each is counted by itself", g.file, f.file, f.book.Label())
			}
		}
	}
}

// A progress is one workbook with where its items stand.
type progress struct {
	found
	signoff.Progress
}

func (c *signoffCmd) print(a *app, reports []progress) error {
	var b bytes.Buffer
	switch c.Format {
	case "json":
		list := []any{}
		for _, p := range reports {
			list = append(list, p.json())
		}
		enc := json.NewEncoder(&b)
		enc.SetIndent("", "  ")
		if err := enc.Encode(map[string]any{"format": 1, "workbooks": list}); err != nil {
			return err
		}
	case "csv":
		w := csv.NewWriter(&b)
		rows := [][]string{{"file", "site", "reference", "machine", "revision", "trade", "id", "verdict", "item", "state", "blocks", "status", "done_by", "company", "licence", "date", "due", "reading", "note", "faults"}}
		for _, p := range reports {
			for _, j := range p.Items {
				m := j.Mark
				blocks := "no"
				if j.Blocks {
					blocks = "yes"
				}
				rows = append(rows, []string{p.file, p.book.Site, p.book.Reference, p.book.Machine, p.book.Revision, string(j.Trade), j.ID, j.Verdict.String(), j.Title, string(j.State), blocks,
					m.Status, m.By, m.Company, m.Licence, m.Date, m.Due, m.Reading, m.Note, strings.Join(j.Faults, "; ")})
			}
		}
		if err := w.WriteAll(plainCells(rows)); err != nil {
			return err
		}
	default:
		for i, p := range reports {
			if i > 0 {
				b.WriteString("\n")
			}
			p.text(&b)
		}
		return a.give("", []byte(terminal.Fold(b.String())), false)
	}
	return a.give("", b.Bytes(), false)
}

// plainCells keeps spreadsheet programs from taking people's text for formulas.
func plainCells(rows [][]string) [][]string {
	for _, row := range rows {
		for i, s := range row {
			if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
				row[i] = "'" + s
			}
		}
	}
	return rows
}

func (p progress) text(b *bytes.Buffer) {
	fmt.Fprintf(b, "%s\n%s\n", p.book.Label(), p.file)
	fmt.Fprintf(b, "\n  %-13s%8s%9s%8s%10s%12s%8s\n", "", "open", "in hand", "signed", "reopened", "not needed", "blocks")
	line := func(name string, counts map[signoff.State]int, blocks int) {
		fmt.Fprintf(b, "  %-13s%8d%9d%8d%10d%12d%8d\n", name, counts[signoff.IsOpen], counts[signoff.IsInHand], counts[signoff.IsSigned], counts[signoff.IsReopened], counts[signoff.IsNotNeeded], blocks)
	}
	for _, t := range check.Trades {
		if counts := p.Counts[t]; counts != nil {
			blocks := 0
			for _, j := range p.Items {
				if j.Trade == t && j.Blocks {
					blocks++
				}
			}
			line(string(t), counts, blocks)
		}
	}
	line("all", p.Total, p.Blocks)
	for _, s := range []signoff.State{signoff.IsReopened, signoff.IsOpen, signoff.IsInHand, signoff.IsNotNeeded, signoff.IsSigned} {
		if p.Total[s] == 0 {
			continue
		}
		fmt.Fprintf(b, "\n%s\n", s)
		for _, t := range check.Trades {
			for _, j := range p.Items {
				if j.Trade != t || j.State != s {
					continue
				}
				fmt.Fprintf(b, "  %-5s %-8s %-12s %s\n", j.ID, j.Verdict, j.Trade, terminal.OneLine(j.Title))
				switch {
				case s == signoff.IsSigned || s == signoff.IsNotNeeded:
					fmt.Fprintf(b, "        %s\n", terminal.OneLine(j.Mark.String()))
				default:
					fmt.Fprintf(b, "        %s\n", terminal.OneLine(j.Action))
					if m := j.Mark; !m.Empty() {
						fmt.Fprintf(b, "        written: %s\n", terminal.OneLine(m.String()))
					}
				}
				for _, f := range j.Faults {
					fmt.Fprintf(b, "        ! %s\n", terminal.OneLine(f))
				}
				if s == signoff.IsReopened {
					for _, e := range strings.Split(p.book.EarlierOf(j.ID), "\n") {
						if e != "" {
							fmt.Fprintf(b, "        earlier: %s\n", terminal.OneLine(e))
						}
					}
				}
			}
		}
	}
	var closed []signoff.Earlier
	for _, e := range p.book.Earlier {
		if e.Outcome == signoff.Closed {
			closed = append(closed, e)
		}
	}
	if len(closed) > 0 {
		b.WriteString("\nclosed by re-survey\n")
		for _, e := range closed {
			fmt.Fprintf(b, "  %-5s %-21s %s\n        %s\n", e.ID, e.Trade, terminal.OneLine(e.Title), terminal.OneLine(e.String()))
		}
	}
	b.WriteString("\n")
	if p.Next != "" {
		fmt.Fprintf(b, "Next date: %s.\n", p.Next)
	}
	if n := readingsOf(p.Progress); n > 0 {
		fmt.Fprintf(b, "%s signed; \"firstfill signoff %s --update SITE\" takes %s back into the questionnaire.\n", plural(n, "reading is", "readings are"), p.file, map[bool]string{true: "it", false: "them"}[n == 1])
	}
	if p.Blocks > 0 {
		fmt.Fprintf(b, "Not ready: %s.\n", plural(p.Blocks, "item still blocks", "items still block"))
	} else {
		b.WriteString("Nothing blocks.\n")
	}
}

func readingsOf(p signoff.Progress) int {
	n := 0
	for _, j := range p.Items {
		if j.State == signoff.IsSigned {
			if rs, err := j.Readings(); err == nil {
				n += len(rs)
			}
		}
	}
	return n
}

func (p progress) json() any {
	counts := func(m map[signoff.State]int) map[string]int {
		out := map[string]int{}
		for _, s := range signoff.States {
			out[string(s)] = m[s]
		}
		return out
	}
	trades := map[string]any{}
	for t, m := range p.Counts {
		trades[string(t)] = counts(m)
	}
	type item struct {
		ID      string            `json:"id"`
		Trade   check.Trade       `json:"trade"`
		Verdict check.Verdict     `json:"verdict"`
		Title   string            `json:"title"`
		State   signoff.State     `json:"state"`
		Blocks  bool              `json:"blocks"`
		Print   string            `json:"fingerprint"`
		Written signoff.Mark      `json:"written"`
		Faults  []string          `json:"faults"`
		Earlier []signoff.Earlier `json:"earlier"`
	}
	items := []item{}
	for _, j := range p.Items {
		it := item{j.ID, j.Trade, j.Verdict, j.Title, j.State, j.Blocks, j.Print(), j.Mark, j.Faults, nil}
		if it.Faults == nil {
			it.Faults = []string{}
		}
		it.Earlier = earlierOf(p.book, func(e signoff.Earlier) bool { return e.ID == j.ID })
		items = append(items, it)
	}
	notes := p.book.Loose
	if notes == nil {
		notes = []signoff.Loose{}
	}
	told := []string{}
	for _, n := range p.told {
		told = append(told, n.String())
	}
	return map[string]any{
		"file": p.file, "site": map[string]string{"name": p.book.Site, "reference": p.book.Reference, "revision": p.book.Revision, "digest": p.book.Digest},
		"machine": p.book.Machine, "counts": counts(p.Total), "trades": trades, "blocks": p.Blocks, "next": p.Next, "items": items,
		"closed": earlierOf(p.book, func(e signoff.Earlier) bool { return e.Outcome == signoff.Closed }), "notes": notes, "notices": told,
	}
}

func earlierOf(b signoff.Book, which func(signoff.Earlier) bool) []signoff.Earlier {
	list := []signoff.Earlier{}
	for _, e := range b.Earlier {
		if which(e) {
			list = append(list, e)
		}
	}
	return list
}

// diff prints what changed from one workbook to another.
func (c *signoffCmd) diff(a *app, x, y found) error {
	if !x.book.SameSite(y.book) {
		return badInput("%s is of %s, %s of %s: revisions of one site and machine can be compared", x.file, x.book.Label(), y.file, y.book.Label())
	}
	ds := signoff.Diff(x.book, y.book)
	var b bytes.Buffer
	switch c.Format {
	case "json":
		if ds == nil {
			ds = []signoff.Difference{}
		}
		enc := json.NewEncoder(&b)
		enc.SetIndent("", "  ")
		err := enc.Encode(map[string]any{"format": 1, "from": x.book.Revision, "to": y.book.Revision, "changes": ds})
		if err != nil {
			return err
		}
	case "csv":
		w := csv.NewWriter(&b)
		rows := [][]string{{"id", "trade", "what", "before", "after"}}
		for _, d := range ds {
			rows = append(rows, []string{d.ID, string(d.Trade), d.What, d.Before, d.After})
		}
		if err := w.WriteAll(plainCells(rows)); err != nil {
			return err
		}
	default:
		fmt.Fprintf(&b, "%s, from revision %s to %s\n", strings.TrimSpace(y.book.Reference+" "+y.book.Site), x.book.Revision, y.book.Revision)
		last := ""
		for _, d := range ds {
			if d.ID != last {
				title := ""
				if it := y.book.Item(d.ID); it != nil {
					title = it.Title
				} else if it := x.book.Item(d.ID); it != nil {
					title = it.Title
				}
				fmt.Fprintf(&b, "\n%-5s %-12s %s\n", d.ID, d.Trade, terminal.OneLine(title))
				last = d.ID
			}
			fmt.Fprintf(&b, "      %s: %s -> %s\n", d.What, nothing(d.Before), nothing(d.After))
		}
		if len(ds) == 0 {
			b.WriteString("\nNothing changed.\n")
		}
		return a.give("", []byte(terminal.Fold(b.String())), false)
	}
	return a.give("", b.Bytes(), false)
}

func nothing(s string) string {
	if s = terminal.OneLine(s); s == "" {
		return "nothing"
	}
	return s
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
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	site := signoff.Book{Site: s.Site.Name, Reference: s.Site.Reference, Machine: s.Machine.Key}
	var changes []survey.Change
	taken := map[string]signoff.Reading{}
	problems = nil
	for _, f := range books {
		if !f.book.SameSite(site) {
			return badInput("%s is of %s; the questionnaire %s is of %s, %s", f.file, f.book.Label(), c.Update, strings.TrimSpace(site.Reference+" "+site.Site), site.Machine)
		}
		for _, j := range signoff.Judge(f.book, today).Items {
			if strings.TrimSpace(j.Mark.Reading) == "" {
				continue
			}
			at := doc.Pos{File: f.file, Cell: j.Cells["Reading"]}
			fault := func(path, format string, args ...any) {
				problems = append(problems, doc.Problem{Pos: at, Path: path, Message: fmt.Sprintf(format, args...)})
			}
			if status, _ := signoff.ParseStatus(j.Mark.Status); status == signoff.Done && j.State != signoff.IsSigned {
				rs, _ := j.Readings() // what it can't tell apart is among the item's faults, and not taken
				unusable := len(problems)
				for _, r := range rs {
					if err := r.Unusable(); err != nil {
						fault(r.Path, "%v", err)
					}
				}
				if len(problems) > unusable {
					continue
				}
			}
			if j.State != signoff.IsSigned {
				warn(a.err, "%v: %s: the reading isn't signed, so it is not taken: %q", at, j.ID, j.Mark.Reading)
				continue
			}
			rs, err := j.Readings()
			if err != nil {
				fault(j.ID, "%v", err)
				continue
			}
			for _, r := range rs {
				if other, ok := taken[r.Path]; ok {
					if other.Value != r.Value {
						fault(r.Path, "%s says %q, %s says %q; keep one of them", j.ID, r.Value, other.ID, other.Value)
					}
					continue
				}
				now := ""
				if s.Known(r.Path) {
					now = s.Answer(r.Path).Text
				}
				if now == r.Value {
					continue
				}
				if shown := signoff.AnswerText(s, r.Path); shown != r.Was {
					fault(r.Path, "%s was written against %s, but the questionnaire now says %s (%s); settle it by hand", j.ID, nothing(r.Was), nothing(shown), s.Answer(r.Path).Pos)
					continue
				}
				if err := s.Clone().Apply(map[string]string{r.Path: r.Value}); err != nil {
					for _, p := range asProblems(err) {
						fault(r.Path, "%s", p.Message)
					}
					continue
				}
				taken[r.Path] = r
				source := fmt.Sprintf("sign-off %s, revision %s, %s", r.ID, f.book.Revision, r.By)
				if j.Mark.Company != "" {
					source += ", " + j.Mark.Company
				}
				changes = append(changes, survey.Change{Path: r.Path, Value: r.Value, Source: terminal.OneLine(source + ", " + r.Date)})
			}
		}
	}
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	if len(changes) == 0 {
		fmt.Fprintln(a.out, "No reading to take back.")
		return nil
	}
	slices.SortStableFunc(changes, func(x, y survey.Change) int { return survey.Order(x.Path) - survey.Order(y.Path) })
	next, problems := survey.Edit(c.Update, data, changes)
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	if _, problems := survey.Load(c.Update, next); problems.Err() != nil {
		return inputError{problems}
	}
	if err := write(c.Update, next, true); err != nil {
		return err
	}
	for _, ch := range changes {
		fmt.Fprintln(a.out, terminal.Plain(fmt.Sprintf("%s: %s (%s)", ch.Path, ch.Value, ch.Source)))
	}
	talk(a.err, "%s taken back into %s; check the site again and print the next revision", plural(len(changes), "reading", "readings"), c.Update)
	return nil
}

// asProblems returns the faults that an error holds.
func asProblems(err error) doc.Problems {
	if ps, ok := err.(doc.Problems); ok {
		return ps
	}
	return doc.Problems{{Message: err.Error()}}
}
