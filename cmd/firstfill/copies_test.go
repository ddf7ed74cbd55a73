package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// TestThreeCopies sends one workbook to three trades: the three that return are
// one site, what two of them say of one item differently is told with both
// words, and nothing of it counts.
func TestThreeCopies(t *testing.T) {
	d := newDesk(t)
	d.site("site.yaml", "block_drain")
	d.run(exitReady, "packet", "DIR/site.yaml", "-o", "DIR/out", "--date", "2026-11-10")
	whole, err := os.ReadFile(d.path("out/bw-0523-A-signoff.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"plumber.xlsx", "builder.xlsx", "office.xlsx"} {
		if err := os.WriteFile(d.path(name), whole, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	d.fill("plumber.xlsx", "D-01", "Status", "done", "Done by", "Pat Doe", "Date", "2026-11-11")
	d.fill("plumber.xlsx", "D-05", "Status", "done", "Done by", "Pat Doe", "Date", "2026-11-11")
	d.fill("builder.xlsx", "D-05", "Status", "in progress", "Done by", "Sam Poe", "Date", "2026-11-12")
	d.fill("office.xlsx", "R-03", "Status", "done", "Done by", "Kim Roe", "Date", "2026-11-12")
	d.run(exitBlocked, "signoff", "DIR/plumber.xlsx", "DIR/builder.xlsx", "DIR/office.xlsx", "--format", "json", "--date", "2026-11-13")
	var js struct {
		Workbooks []struct{ Counts map[string]int }
	}
	if err := json.Unmarshal(d.out.Bytes(), &js); err != nil || len(js.Workbooks) != 1 || js.Workbooks[0].Counts["signed"] != 2 {
		t.Errorf("got %+v, %v; want one site with two signatures", js, err)
	}
	d.run(exitBlocked, "signoff", "DIR/plumber.xlsx", "DIR/builder.xlsx", "DIR/office.xlsx", "--date", "2026-11-13")
	said := strings.Join(strings.Fields(d.out.String()), " ") // folded to the screen's width
	for _, want := range []string{"written: done, Pat Doe, 2026-11-11", `also written, in another row or copy: "in progress, Sam Poe, 2026-11-12"`, "done, Kim Roe, 2026-11-12"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q isn't said:\n%s", want, d.out.String())
		}
	}
	if n := strings.Count(d.out.String(), "revision A\n"); n != 1 {
		t.Errorf("%d reports, want one:\n%s", n, d.out.String())
	}
}
