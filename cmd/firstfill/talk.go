package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"firstfill/render/terminal"
	"firstfill/survey/quantity/doc"

	"golang.org/x/term"
)

// Rules for what is said on standard error:
//   - lower case, no full stop, the program's name first;
//   - "error:" what was found and what was wanted, "hint:" what to do about it,
//     "warning:" what was done all the same;
//   - one line a fault; faults of a file start with file:line:column.

// maxFaults bounds how many faults of one input are printed.
const maxFaults = 100

func say(w io.Writer, err error) {
	var ps doc.Problems
	if !errors.As(err, &ps) {
		talk(w, "error: %v", err)
		return
	}
	for i, p := range ps {
		if i == maxFaults {
			talk(w, "error: and %d more faults", len(ps)-i)
			break
		}
		talk(w, "error: %v", p)
	}
	if slices.ContainsFunc(ps, func(p doc.Problem) bool { return p.Path != "" }) {
		talk(w, "hint: %s to mend; unknown answers are written as unknown, or left out", terminal.Plural(len(ps), "fault", "faults"))
	}
}

// complain says which answers can't be read. The site is judged without them.
func complain(w io.Writer, single doc.Problems) {
	for i, p := range single {
		if i == maxFaults {
			warn(w, "and %d more answers that can't be read", len(single)-i)
			break
		}
		warn(w, "%v", p)
	}
	if len(single) > 0 {
		talk(w, "hint: %s to mend; what can't be read counts as not answered", terminal.Plural(len(single), "answer", "answers"))
	}
}

func warn(w io.Writer, format string, args ...any) {
	talk(w, "warning: "+format, args...)
}

// talk says one thing. What it quotes of people's files can't steer the terminal.
func talk(w io.Writer, format string, args ...any) {
	fmt.Fprintln(w, "firstfill:", terminal.Plain(fmt.Sprintf(format, args...)))
}

// width is that of the terminal that is written to, in columns; 0 where there is none.
func width(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok {
		return 0
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return columns
}

// color says whether to colour what goes to w: a terminal, unless NO_COLOR is set.
func color(a *app, w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || a.getenv("NO_COLOR") != "" || a.getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
