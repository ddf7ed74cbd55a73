package main

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"firstfill/render/workbook"
	"firstfill/specs/signoff"
)

// TestThreeCopies sends one workbook to three trades: the three that return are
// one site, what two of them say of one item differently is told with both
// words, and nothing of it counts.
func TestThreeCopies(t *testing.T) {
	if testing.Short() {
		t.Skip("it writes and reads many workbooks")
	}
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

	// Joined into one file, which says the same; a note outside the table comes along.
	f, err := excelize.OpenFile(d.path("office.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellStr("Plumber", "C90", "ask the landlord about the trap"); err != nil {
		t.Fatal(err)
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
	d.run(exitBlocked, "signoff", "DIR/plumber.xlsx", "DIR/builder.xlsx", "DIR/office.xlsx", "--merge", "-o", "DIR/all.xlsx", "--date", "2026-11-13")
	d.says(&d.err, "D-05: done, Pat Doe, 2026-11-11; but also: in progress, Sam Poe, 2026-11-12", "with the words of 3 copies")
	joint, err := os.ReadFile(d.path("all.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	book, _, err := workbook.Read("all.xlsx", joint)
	if err != nil {
		t.Fatal(err)
	}
	if it := book.Item("D-01"); it.Mark.By != "Pat Doe" || it.Mark.Date != "2026-11-11" || len(it.Others) != 0 {
		t.Errorf("D-01: %+v, %v", it.Mark, it.Others)
	}
	if it := book.Item("D-05"); it.Mark.By != "Pat Doe" || len(it.Others) != 1 || it.Others[0].By != "Sam Poe" || it.Others[0].Date != "2026-11-12" {
		t.Errorf("D-05: %+v, %+v", it.Mark, it.Others)
	}
	if it := book.Item("R-03"); it.Mark.By != "Kim Roe" {
		t.Errorf("R-03: %+v", it.Mark)
	}
	if !slices.ContainsFunc(book.Loose, func(l signoff.Loose) bool { return strings.Contains(l.Text, "ask the landlord about the trap") }) {
		t.Errorf("the note is gone: %v", book.Loose)
	}
	again := func(out string) []byte {
		d.run(exitBlocked, "signoff", "DIR/plumber.xlsx", "DIR/builder.xlsx", "DIR/office.xlsx", "--merge", "-o", "DIR/"+out, "--date", "2026-11-13")
		data, err := os.ReadFile(d.path(out))
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	if !bytes.Equal(again("b.xlsx"), joint) {
		t.Error("the same copies give other bytes")
	}
	d.run(exitInput, "signoff", "DIR/plumber.xlsx", "DIR/builder.xlsx", "--merge", "-o", "DIR/all.xlsx")
	d.says(&d.err, "already there")
	d.run(exitInput, "signoff", "DIR/plumber.xlsx", "--merge", "-o", "DIR/c.xlsx")
	d.says(&d.err, "two or more copies")
	d.run(exitBlocked, "signoff", "DIR/all.xlsx", "--date", "2026-11-13")
	d.says(&d.out, "Kim Roe, 2026-11-12")
}
