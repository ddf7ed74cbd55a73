//go:build outside

package workbook

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/render/cells"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// office runs LibreOffice with a profile of its own.
func office(t *testing.T, dir string, args ...string) {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		t.Skip("LibreOffice isn't installed: ", err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "soffice", append([]string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless"}, args...)...)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice %v: %v\n%s", args, err, out)
	}
}

// TestOutsideSaved has LibreOffice open and save a workbook: all must come back.
func TestOutsideSaved(t *testing.T) {
	dir := t.TempDir()
	r := mixed(t)
	b := newBook(r)
	b.Items[0].Mark = signoff.Mark{Status: "done", By: "=Pat Doe", Company: "+Example", Licence: "-0", Date: "2026-11-20", Note: "@two\nlines, ½ in, _x0041_"}
	b.Items[2].Mark = signoff.Mark{Status: "in progress", Due: "2026-12-01", Reading: "3/4 in"}
	b.Items[3].Mark = signoff.Mark{Status: "done", By: "Sam Roe", Date: "soon"}
	b.Earlier = []signoff.Earlier{{ID: "E-01", Trade: check.Electrician, Title: "x", Revision: "A", Mark: b.Items[0].Mark, Outcome: signoff.Reopened, Change: "y"}}
	b.Loose = []signoff.Loose{{Revision: "A", Where: "Owner!T4", Text: "=1+1"}}
	file := filepath.Join(dir, "book.xlsx")
	must(t, os.WriteFile(file, build(t, r, &b), 0o644))
	office(t, dir, "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", filepath.Join(dir, "saved"), file)
	data, err := os.ReadFile(filepath.Join(dir, "saved", "book.xlsx"))
	must(t, err)
	got, ns := read(t, data)
	if len(ns) > 0 || len(got.Loose) != 1 || len(got.Earlier) != 1 {
		t.Errorf("got notices %v, notes %v, earlier %v", ns, got.Loose, got.Earlier)
	}
	for i, it := range b.Items {
		m := it.Mark
		if s, ok := signoff.ParseStatus(m.Status); ok {
			m.Status = string(s)
		}
		if got.Items[i].Mark != m {
			t.Errorf("%s: got %+v, want %+v", it.ID, got.Items[i].Mark, m)
		}
	}
	// LibreOffice calculated the formulas itself: they must say what we wrote as their values.
	ours, err := excelize.OpenFile(file)
	must(t, err)
	defer ours.Close()
	theirs, err := excelize.OpenFile(filepath.Join(dir, "saved", "book.xlsx"))
	must(t, err)
	defer theirs.Close()
	n := 0
	for _, sheet := range []string{sheetSummary, sheetAll} {
		for row := 1; row < 60; row++ {
			for col := 1; col < 15; col++ {
				f, err := ours.GetCellFormula(sheet, cells.At(col, row))
				must(t, err)
				if f == "" || strings.Contains(f, "TODAY()") {
					continue
				}
				n++
				x, _ := ours.GetCellValue(sheet, cells.At(col, row), excelize.Options{RawCellValue: true})
				y, _ := theirs.GetCellValue(sheet, cells.At(col, row), excelize.Options{RawCellValue: true})
				a, errA := strconv.ParseFloat(x, 64)
				b, errB := strconv.ParseFloat(y, 64)
				if x != y && (errA != nil || errB != nil || a-b > 1e-9 || b-a > 1e-9) {
					t.Errorf("%s!%s: we wrote %q, LibreOffice has %q: %s", sheet, cells.At(col, row), x, y, f)
				}
			}
		}
	}
	if n < 80 {
		t.Errorf("only %d formulas were compared", n)
	}
	for _, sheet := range []string{"Electrician", "Plumber"} {
		dvs, err := theirs.GetDataValidations(sheet)
		if err != nil || len(dvs) < 4 {
			t.Errorf("%s: %d validations are left, %v", sheet, len(dvs), err)
		}
		cfs, err := theirs.GetConditionalFormats(sheet)
		if err != nil || len(cfs) < 4 {
			t.Errorf("%s: %d conditional formats are left, %v", sheet, len(cfs), err)
		}
	}
}

// fillIn is what a person does in the office program, through its Python bridge: signs, sorts,
// inserts a row and a column, hides, renames, and saves as .xlsx.
const fillIn = `
import sys, time, uno
from com.sun.star.beans import PropertyValue
def prop(n, v):
    p = PropertyValue(); p.Name = n; p.Value = v; return p
port, source, target = sys.argv[1:4]
resolver = uno.getComponentContext().ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", uno.getComponentContext())
for i in range(240):
    try:
        ctx = resolver.resolve("uno:socket,host=127.0.0.1,port=%s;urp;StarOffice.ComponentContext" % port); break
    except Exception:
        time.sleep(0.5)
else:
    sys.exit("no office")
desktop = ctx.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", ctx)
doc = desktop.loadComponentFromURL("file://" + source, "_blank", 0, (prop("Hidden", True),))
def heads(s):
    for r in range(10):
        row = [s.getCellByPosition(c, r).String for c in range(20)]
        if "ID" in row: return r, {n: i for i, n in enumerate(row) if n}
def line(s, id):
    r, h = heads(s)
    for i in range(r + 1, r + 60):
        if s.getCellByPosition(h["ID"], i).String == id: return i, h
e = doc.Sheets.getByName("Electrician")
i, h = line(e, "E-01")
e.getCellByPosition(h["Status"], i).String = "done"
e.getCellByPosition(h["Done by"], i).String = "Pat Doe"
e.getCellByPosition(h["Company"], i).String = "Example Electric"
e.getCellByPosition(h["Date"], i).setFormula("2026-11-20")   # as typed: becomes a date
e.getCellByPosition(h["Note"], i).String = "=tested"
locked = e.getCellByPosition(h["Found"], i).CellProtection.IsLocked and not e.getCellByPosition(h["Note"], i).CellProtection.IsLocked and e.isProtected()
p = doc.Sheets.getByName("Plumber")
p.unprotect("")
i, h = line(p, "W-01")
p.getCellByPosition(h["Status"], i).String = "done"
p.getCellByPosition(h["Done by"], i).String = "Sam Roe"
p.getCellByPosition(h["Date"], i).String = "20 Nov 2026"     # a date typed as text
p.getCellByPosition(h["Reading"], i).String = "62 psi"
p.Rows.insertByIndex(i, 1)
p.getCellByPosition(3, i).String = "call the utility"
p.Columns.insertByIndex(2, 1)
p.getCellByPosition(2, i + 1).String = "own column"
p.Columns.getByIndex(4).IsVisible = False
b = doc.Sheets.getByName("Builder")
i, h = line(b, "S-01")
b.getCellByPosition(h["Status"], i).String = "in progress"
b.getCellByPosition(h["Due"], i).setFormula("2026-12-01")
b.Name = "Carpenter"
doc.calculateAll()
s = doc.Sheets.getByName("Summary")
print(locked, s.getCellByPosition(0, 3).String, "|", s.getCellByPosition(4, 11).String, "|", s.getCellByPosition(9, 11).String)
doc.storeToURL("file://" + target, (prop("FilterName", "Calc MS Excel 2007 XML"),))
doc.close(True)
try: desktop.terminate()
except Exception: pass
`

// TestOutsideFilledIn has LibreOffice's Python bridge fill in sign-offs as a
// person would, reads them back and issues the next revision.
func TestOutsideFilledIn(t *testing.T) {
	const python = "/usr/bin/python3"
	if out, err := exec.Command(python, "-c", "import uno").CombinedOutput(); err != nil {
		t.Skipf("LibreOffice's Python bridge isn't installed: %v %s", err, out)
	}
	dir := t.TempDir()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	port := l.Addr().(*net.TCPAddr).Port
	must(t, l.Close())
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	server := exec.CommandContext(ctx, "soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--norestore", "--nologo",
		fmt.Sprintf("--accept=socket,host=127.0.0.1,port=%d;urp;", port))
	must(t, server.Start())
	done := make(chan error, 1)
	go func() { done <- server.Wait() }()

	r := mixed(t)
	source, target := filepath.Join(dir, "book.xlsx"), filepath.Join(dir, "filled.xlsx")
	must(t, os.WriteFile(source, build(t, r, nil), 0o644))
	script := filepath.Join(dir, "fill.py")
	must(t, os.WriteFile(script, []byte(fillIn), 0o644))
	out, err := exec.CommandContext(ctx, python, script, strconv.Itoa(port), source, target).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	select {
	case <-done:
	case <-time.After(30 * time.Second):
		cancel()
		<-done
	}
	// S-01 and W-02 still block; E-01 and, its date being text, not W-01 count as signed in the live summary.
	if got := strings.TrimSpace(string(out)); got != "True Not ready: 3 of 6 items still block the first fill. | 1 | 2026-12-01" {
		t.Errorf("the office program shows %q", got)
	}
	data, err := os.ReadFile(target)
	must(t, err)
	b, ns := read(t, data)
	for id, want := range map[string]signoff.Mark{
		"E-01": {Status: "done", By: "Pat Doe", Company: "Example Electric", Date: "2026-11-20", Note: "=tested"},
		"W-01": {Status: "done", By: "Sam Roe", Date: "2026-11-20", Reading: "62 psi"},
		"S-01": {Status: "in progress", Due: "2026-12-01"},
		"W-02": {Status: "open"},
	} {
		if got := b.Item(id).Mark; got != want {
			t.Errorf("%s: got %+v, want %+v", id, got, want)
		}
	}
	if len(ns) > 0 {
		t.Errorf("notices: %v", ns)
	}
	var notes []string
	for _, l := range b.Loose {
		notes = append(notes, l.ID+" "+l.Text)
	}
	if got := strings.Join(notes, "|"); got != " call the utility|W-01 own column" && got != "W-01 own column| call the utility" {
		t.Errorf("notes: %q", got)
	}
	// The next revision: W-01 is answered, E-01 unchanged, S-01 found otherwise.
	next := report(t, finding("E-01", check.Electrician, check.Fix, "15 A", "at least 20 A"), finding("W-01", check.Plumber, check.OK, "62 psi", "static pressure"),
		finding("S-01", check.Builder, check.Fix, "23 in", "at least 25 in"))
	nb := newBook(next)
	nb.Revision = "B"
	nb = signoff.Carry(b, nb)
	again, _ := read(t, build(t, next, &nb))
	if again.Item("E-01").Mark != b.Item("E-01").Mark || again.Item("S-01").Mark.Due != "2026-12-01" || len(again.Loose) != 2 {
		t.Errorf("got %+v", again.Items)
	}
	found := false
	for _, e := range again.Earlier {
		found = found || e.ID == "W-01" && e.Outcome == signoff.Closed && e.Mark.Reading == "62 psi"
	}
	if !found {
		t.Errorf("W-01 isn't kept as closed by re-survey: %v", again.Earlier)
	}
}

// TestOutsideMerged joins two copies, has LibreOffice open and save the file,
// and reads every word of both back.
func TestOutsideMerged(t *testing.T) {
	dir := t.TempDir()
	r := mixed(t)
	first, second := newBook(r), newBook(r)
	blank := build(t, r, nil)
	first.Items[0].Mark = signoff.Mark{Status: "done", By: "Pat Doe", Date: "2026-11-20", Note: "two\nlines"}
	second.Items[0].Mark = signoff.Mark{Status: "in progress", By: "Sam Roe", Due: "2026-12-01"}
	second.Items[2].Mark = signoff.Mark{Status: "done", By: "Kim Roe", Date: "2026-11-21"}
	a, _ := read(t, typedInto(t, blank, first))
	b, _ := read(t, typedInto(t, blank, second))
	joint, err := Merge("a.xlsx", typedInto(t, blank, first), []signoff.Book{b})
	must(t, err)
	file := filepath.Join(dir, "book.xlsx")
	must(t, os.WriteFile(file, joint, 0o644))
	office(t, dir, "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", filepath.Join(dir, "saved"), file)
	data, err := os.ReadFile(filepath.Join(dir, "saved", "book.xlsx"))
	must(t, err)
	back, _ := read(t, data)
	must(t, holdsAll(back, []signoff.Book{a, b}))
	if got := back.Items[0]; got.Mark.By != "Pat Doe" || len(got.Others) != 1 || got.Others[0].Due != "2026-12-01" {
		t.Errorf("got %+v, %+v", got.Mark, got.Others)
	}
	if got := back.Items[2].Mark; got.By != "Kim Roe" || got.Date != "2026-11-21" {
		t.Errorf("got %+v", got)
	}
}
