package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// TestLoopWithoutAnswers goes through packet, sign-off, re-survey and board with
// optional answers left out: one by one those that files and sheets are named
// and dated by, and all at once. A signature of revision A stands in B.
func TestLoopWithoutAnswers(t *testing.T) {
	if testing.Short() {
		t.Skip("it writes and reads many workbooks")
	}
	whole, err := os.ReadFile("../../testdata/sites/block_drain.yaml")
	if err != nil {
		t.Fatal(err)
	}
	whole, _, _ = bytes.Cut(whole, []byte("\nnotes:"))
	without := func(name string) string {
		var lines []string
		for l := range strings.Lines(string(whole)) {
			if strings.TrimSpace(strings.SplitN(l, ":", 2)[0]) != name {
				lines = append(lines, l)
			}
		}
		return strings.Join(lines, "")
	}
	texts := map[string]string{"all": "survey: 1\nsite:\n  name: A Bar\nmachine:\n  key: avocet-r36\n"}
	for _, name := range []string{"delivery_on", "surveyed_on", "reference", "contact", "authority"} {
		texts[name] = without(name)
		if texts[name] == string(whole) {
			t.Fatalf("the site has no %s", name)
		}
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := newDesk(t)
			write := func(text string) {
				if err := os.WriteFile(d.path("site.yaml"), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			write(text)
			d.run(exitReady, "packet", "DIR/site.yaml", "-o", "DIR/out", "--date", "2026-11-10")
			var book string
			for f := range strings.Lines(d.out.String()) {
				if f = strings.TrimSpace(f); strings.HasSuffix(f, "-signoff.xlsx") {
					book = strings.TrimPrefix(f, d.dir+"/")
				}
			}
			id := "R-03"
			d.fill(book, id, "Status", "done", "Done by", "Pat Doe", "Date", "2026-11-11")
			d.run(exitBlocked, "signoff", "DIR/"+book, "--date", "2026-11-12")
			d.says(&d.out, "Pat Doe")
			write(text + "\nnotes: walked again\n")
			d.run(exitReady, "packet", "DIR/site.yaml", "-o", "DIR/out", "--date", "2026-11-13")
			d.says(&d.err, "revision B after A")
			d.run(exitBlocked, "board", "DIR", "--date", "2026-11-14", "-o", "DIR/board.xlsx", "-o", "DIR/board.pdf", "--format", "json")
			d.says(&d.out, `"revision": "B"`)
			if strings.Contains(d.out.String(), "can't be read") {
				t.Errorf("the board can't read something:\n%s", d.out.String())
			}
			d.run(exitBlocked, "signoff", "DIR/"+strings.Replace(book, "-A-signoff", "-B-signoff", 1), "--date", "2026-11-14")
			d.says(&d.out, "Pat Doe")
		})
	}
}
