//go:build outside

package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"firstfill/templates"
)

// resave has LibreOffice open a workbook and save it again, and gives the saved file.
func resave(t *testing.T, file string) string {
	t.Helper()
	dir := t.TempDir()
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", dir, file)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	return filepath.Join(dir, filepath.Base(file))
}

// sign writes into the row of an item, as a person would.
func sign(t *testing.T, file, sheet, id string, marks map[string]string) {
	t.Helper()
	f, err := excelize.OpenFile(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var heads []string
	for i, row := range rows {
		if slices.Contains(row, "Status") {
			heads = row
		}
		if heads == nil || !slices.Contains(row, id) {
			continue
		}
		for name, text := range marks {
			cell, err := excelize.CoordinatesToCellName(slices.Index(heads, name)+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellStr(sheet, cell, text); err != nil {
				t.Fatal(err)
			}
		}
		if err := f.Save(); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Fatalf("%s has no row %s", sheet, id)
}

// TestOutsidePacket issues the demo's packet, has two items signed and the
// workbook saved by LibreOffice, and re-surveys: the unchanged item stays
// signed, also where another number was read, and the one with another limit reopens. The PDFs pass qpdf's check.
func TestOutsidePacket(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "packet")
	if code, _, errs := command(t, "packet", "demo", "-o", out, "--split", "--date", "2026-11-10"); code != exitReady {
		t.Fatal(code, errs)
	}
	pdfs, err := filepath.Glob(filepath.Join(out, "*.pdf"))
	if err != nil || len(pdfs) != 7 {
		t.Fatalf("%d PDFs: %v", len(pdfs), err)
	}
	for _, f := range pdfs {
		if said, err := exec.Command("qpdf", "--check", f).CombinedOutput(); err != nil {
			t.Errorf("qpdf --check %s: %v\n%s", filepath.Base(f), err, said)
		}
	}
	book := filepath.Join(out, "bw-0417-A-signoff.xlsx")
	done := map[string]string{"Status": "done", "Done by": "Pat Doe", "Company": "Example Trades", "Date": "2026-11-20"}
	sign(t, book, "Electrician", "E-17", done)
	sign(t, book, "Plumber", "W-03", done)
	saved := resave(t, book)
	data, err := os.ReadFile(saved)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(book, data, 0o644); err != nil {
		t.Fatal(err)
	}
	code, text, errs := command(t, "signoff", book, "--format", "csv", "--date", "2026-11-25")
	if code != exitBlocked || strings.Count(text, "Pat Doe") != 2 {
		t.Fatalf("exit %d, %q, %s", code, errs, text)
	}
	changed := filepath.Join(dir, "demo.yaml")
	survey := strings.NewReplacer("receptacle: NEMA 5-20", "receptacle: NEMA 5-15", "pressure_limit: 80 psi", "pressure_limit: 72 psi").Replace(string(templates.Demo))
	if err := os.WriteFile(changed, []byte(survey), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := command(t, "packet", changed, "-o", out, "--date", "2026-11-25"); code != exitReady || !strings.Contains(errs, "revision B after A: 1 sign-off carried over, 1 reopened") {
		t.Fatalf("exit %d: %s", code, errs)
	}
	_, text, _ = command(t, "signoff", filepath.Join(out, "bw-0417-B-signoff.xlsx"), "--date", "2026-11-25")
	if !strings.Contains(text, "reopened") || !strings.Contains(text, "Pat Doe") {
		t.Errorf("the sign-offs didn't reach revision B: %s", text)
	}
}

// TestOutsideForm has LibreOffice save a filled form: it must give the same result as the questionnaire.
func TestOutsideForm(t *testing.T) {
	file := filepath.Join(t.TempDir(), "form.xlsx")
	if code, _, errs := command(t, "form", "demo", "--as", "xlsx", "-o", file); code != exitReady {
		t.Fatal(errs)
	}
	_, want, _ := command(t, "check", "demo", "--date", "2026-11-25")
	if _, got, errs := command(t, "check", resave(t, file), "--date", "2026-11-25"); got != want {
		t.Errorf("the form saved by LibreOffice gives another result: %s\n%s", errs, got)
	}
}
