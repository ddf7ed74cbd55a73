package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"firstfill/render/board"
	model "firstfill/specs/board"
)

type boardCmd struct {
	Folder  string   `arg:"" name:"dir" help:"Folder of questionnaires and sign-off workbooks; folders in it are read too."`
	Output  []string `short:"o" sep:"none" placeholder:"FILE" help:"Write a file for the meeting: .xlsx, .pdf, .json, .csv or .txt. May be given several times."`
	Format  string   `enum:"text,json,csv," default:"" placeholder:"FORMAT" help:"What is printed: text, json or csv. Left out, text, and with -o nothing."`
	Paper   string   `enum:"letter,a4" default:"letter" help:"letter or a4."`
	Replace bool     `help:"Write over files that are already there."`
	library
	shown
	dated
}

// Help is printed below the command's line of help.
func (*boardCmd) Help() string {
	return "A site is a machine at a place: its questionnaire, its sign-off workbooks, or both. Of several revisions the latest counts. " +
		"A signature counts as long as the finding that it was given for is unchanged. " +
		"Exit code 1 says that a site is blocked, or that a file or folder can't be read, so that nobody knows."
}

// Run collects the folder's sites and shows where they stand.
func (c *boardCmd) Run(a *app) error {
	today, err := c.dated.today(a)
	if err != nil {
		return err
	}
	if err := c.outputs(); err != nil {
		return err
	}
	lib, err := c.library.open(a)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(c.Folder)
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return badInput("%s: the folder can't be read: %v", c.Folder, err)
	}
	defer root.Close()
	p := newProgress(a)
	b, err := model.Collect(root.FS(), model.Options{Folder: c.Folder, Today: today, Library: lib, Decode: board.Decode, Words: board.Words(c.system()), Progress: p.tell})
	p.clear()
	if err != nil {
		return badInput("%s: %v", c.Folder, err)
	}
	if len(b.Rows) == 0 && !b.Blocks() {
		return badInput("%s: there is no questionnaire and no sign-off workbook in it", c.Folder)
	}
	if err := c.write(a, b); err != nil {
		return err
	}
	if c.Format != "" || len(c.Output) == 0 {
		if err := printBoard(a.out, b, c.Format, color(a, a.out)); err != nil {
			return err
		}
	}
	if b.Blocks() {
		return errBlocked
	}
	return nil
}

// outputs looks after the names of the files before any work is done.
func (c *boardCmd) outputs() error {
	seen := map[string]bool{}
	for _, file := range c.Output {
		switch ext := strings.ToLower(filepath.Ext(file)); ext {
		case ".xlsx", ".pdf", ".json", ".csv", ".txt":
		default:
			return badInput("-o %s: write a name that ends in .xlsx, .pdf, .json, .csv or .txt", file)
		}
		if seen[filepath.Clean(file)] {
			return badInput("-o %s is given twice", file)
		}
		seen[filepath.Clean(file)] = true
		if _, err := os.Lstat(file); err == nil && !c.Replace {
			return badInput("%s is already there; choose another name with -o, or say --replace", file)
		}
	}
	return nil
}

// write makes all files, then writes them.
func (c *boardCmd) write(a *app, b *model.Board) error {
	made := make([][]byte, len(c.Output))
	for i, file := range c.Output {
		var err error
		var warnings []string
		var buf bytes.Buffer
		switch strings.ToLower(filepath.Ext(file)) {
		case ".xlsx":
			made[i], err = board.Workbook(b, c.Paper)
		case ".pdf":
			made[i], warnings, err = board.PDF(b, c.Paper)
		default:
			err = printBoard(&buf, b, strings.TrimPrefix(strings.ToLower(filepath.Ext(file)), "."), false)
			made[i] = buf.Bytes()
		}
		if err != nil {
			return fmt.Errorf("making %s: %w", file, err)
		}
		for _, w := range warnings {
			warn(a.err, "%s: %s", file, w)
		}
	}
	for i, file := range c.Output {
		if err := write(file, made[i], c.Replace); err != nil {
			return err
		}
		talk(a.err, "written: %s", file)
	}
	if len(c.Output) > 0 && c.Format == "" {
		talk(a.err, "%s", b.Sentence())
	}
	return nil
}

func printBoard(w io.Writer, b *model.Board, format string, colour bool) error {
	switch format {
	case "json":
		return board.WriteJSON(w, b)
	case "csv":
		return board.WriteCSV(w, b)
	}
	return board.WriteText(w, b, board.TextOptions{Color: colour})
}

// A boardProgress shows on a terminal how far the board is; elsewhere it shows nothing.
type boardProgress struct {
	mu   sync.Mutex
	w    io.Writer // nil: nothing is shown
	now  func() time.Time
	last time.Time
	open bool // a line stands there
}

func newProgress(a *app) *boardProgress {
	p := &boardProgress{now: a.now}
	if f, ok := a.err.(*os.File); ok && a.getenv("TERM") != "dumb" {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			p.w = a.err
		}
	}
	p.last = p.now()
	return p
}

// every is how often the line is drawn anew.
const every = 200 * time.Millisecond

func (p *boardProgress) tell(stage string, done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w == nil || p.now().Sub(p.last) < every {
		return
	}
	p.last, p.open = p.now(), true
	fmt.Fprintf(p.w, "\r%d of %d %s\x1b[K", done, total, stage)
}

func (p *boardProgress) clear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.open {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
