package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"firstfill/survey/quantity/doc"
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
		fmt.Fprintf(w, "firstfill: error: %v\n", err)
		return
	}
	for i, p := range ps {
		if i == maxFaults {
			fmt.Fprintf(w, "firstfill: error: and %d more faults\n", len(ps)-i)
			break
		}
		fmt.Fprintf(w, "firstfill: error: %v\n", p)
	}
	fmt.Fprintf(w, "firstfill: hint: %s; unknown answers are written as unknown, or left out\n", plural(len(ps), "fault", "faults")+" to mend")
}

func warn(w io.Writer, format string, args ...any) {
	fmt.Fprintf(w, "firstfill: warning: "+format+"\n", args...)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
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
