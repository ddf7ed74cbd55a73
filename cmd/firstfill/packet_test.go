package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"firstfill/templates"
)

func read(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestSameBytes writes the demo's packet twice: the same input and date give the same bytes.
func TestSameBytes(t *testing.T) {
	var first map[string][]byte
	for range 2 {
		dir := t.TempDir()
		if code, _, errs := command(t, "packet", "demo", "-o", dir, "--split", "--date", "2026-11-25"); code != exitReady {
			t.Fatal(code, errs)
		}
		files, err := filepath.Glob(filepath.Join(dir, "*"))
		if err != nil {
			t.Fatal(err)
		}
		got := map[string][]byte{}
		for _, f := range files {
			got[filepath.Base(f)] = read(t, f)
		}
		if len(got) != 8 {
			t.Errorf("%d files, want packet, calculations, workbook and five trades' sheets: %v", len(got), files)
		}
		if first == nil {
			first = got
			continue
		}
		for name, data := range got {
			if !bytes.Equal(data, first[name]) {
				t.Errorf("%s differs between two runs", name)
			}
		}
	}
}

// TestTradeOnly hands one trade's sheet out of an issued packet.
func TestTradeOnly(t *testing.T) {
	dir := t.TempDir()
	sheet := filepath.Join(dir, "bw-0417-A-plumber.pdf")
	if code, out, errs := command(t, "packet", "demo", "-o", dir, "--trade", "plumber", "--date", "2026-11-25"); code != exitReady || strings.TrimSpace(out) != sheet {
		t.Fatal(code, out, errs)
	}
	if code, _, errs := command(t, "packet", "demo", "-o", dir, "--trade", "plumber"); code != exitInput || !strings.Contains(errs, "--replace") {
		t.Errorf("a sheet was overwritten: %d %s", code, errs)
	}
	if code, _, errs := command(t, "packet", "demo", "-o", dir, "--date", "2026-11-25"); code != exitReady {
		t.Fatal(code, errs)
	}
	changed := filepath.Join(t.TempDir(), "demo.yaml")
	if err := os.WriteFile(changed, bytes.Replace(templates.Demo, []byte("96 psi"), []byte("97 psi"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := command(t, "packet", changed, "-o", dir, "--trade", "plumber", "--replace"); code != exitInput || !strings.Contains(errs, "the answers have changed since revision A") {
		t.Errorf("a sheet of answers that were never issued: %d %s", code, errs)
	}
	if code, _, _ := command(t, "packet", "demo", "-o", dir, "--trade", "mason"); code != exitInput {
		t.Errorf("an unknown trade: exit %d", code)
	}
}

// TestPhotosAndLetterhead prints a site with photos and the dealer's own letterhead.
func TestPhotosAndLetterhead(t *testing.T) {
	dir := t.TempDir()
	picture := func(w, h int) string {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	files := map[string]string{
		"panel.jpg": picture(64, 48),
		"logo.jpg":  picture(40, 20),
		"site.yaml": string(templates.Demo) + "\nphotos:\n  - {file: panel.jpg, caption: \"panel, cover on\"}\n  - {file: gone.jpg, caption: drain}\n  - {file: ../outside.jpg, caption: outside}\n",
		"head.yaml": "name: Example Bar Supply\naddress: 1 Sample Street\nlines: [555 0100]\nlogo: logo.jpg\n",
		"bad.yaml":  "nam: Example\n",
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	site, out := filepath.Join(dir, "site.yaml"), filepath.Join(dir, "out")
	code, _, errs := command(t, "packet", site, "-o", out, "--letterhead", filepath.Join(dir, "head.yaml"), "--date", "2026-11-25")
	if code != exitReady {
		t.Fatal(code, errs)
	}
	for _, want := range []string{"photograph gone.jpg doesn't count: there is no such file", "photograph ../outside.jpg doesn't count: it must lie beside the questionnaire"} {
		if !strings.Contains(errs, want) {
			t.Errorf("no warning %q in %s", want, errs)
		}
	}
	if pdf := read(t, filepath.Join(out, "bw-0417-A.pdf")); bytes.Count(pdf, []byte("/Subtype /Image")) < 2 {
		t.Error("photo and logo are not in the PDF")
	}
	if code, _, errs := command(t, "packet", site, "-o", out, "--letterhead", filepath.Join(dir, "bad.yaml")); code != exitInput || !strings.Contains(errs, "a letterhead holds name") {
		t.Errorf("a faulty letterhead: %d %s", code, errs)
	}
}

// TestMachineSheet prints a machine's requirement sheet on one page.
func TestMachineSheet(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if code, _, errs := command(t, "machines", "knot-c400", "-o", file, "--units", "si", "--paper", "a4", "--date", "2026-11-25"); code != exitReady {
		t.Fatal(code, errs)
	}
	if n := bytes.Count(read(t, file), []byte("/Type /Page\n")); n != 1 {
		t.Errorf("%d pages, want 1", n)
	}
	if code, _, errs := command(t, "machines", "-o", file); code != exitInput || !strings.Contains(errs, "name its key") {
		t.Errorf("a sheet of no machine: %d %s", code, errs)
	}
}
