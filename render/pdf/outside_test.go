//go:build outside

package pdf

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"firstfill/specs"
)

// TestOutsidePrograms has other programs read what was written: qpdf checks the
// file's structure, poppler reads the text, the outline and the page count.
func TestOutsidePrograms(t *testing.T) {
	r := demo(t)
	o := Options{Photos: []Photo{{Name: "a", Caption: "the panel", Data: picture(300, 200, 7, false)}, {Name: "b", Caption: "the drain", Data: picture(300, 220, 8, true)}}}
	packet, _, err := Packet(r, o)
	if err != nil {
		t.Fatal(err)
	}
	trade, _, err := TradeSheet(r, "plumber", Options{Paper: "a4"})
	if err != nil {
		t.Fatal(err)
	}
	machine, _, err := MachineSheet(specs.Builtin().Machines()[0], Options{Date: today})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []struct {
		name string
		data []byte
		want []string
	}{
		{"packet", packet, []string{"The Saltmarsh Tap", "REVISION A", "Punch list", "What to measure next", "Electrician's sheet", "the panel", "not a design or permit document"}},
		{"trade", trade, []string{"Plumber's sheet", "Sign-off: plumber", "CAUTION", "3/4 GHT"}},
		{"machine", machine, []string{specs.Builtin().Machines()[0].Name, "Supply options"}},
	} {
		file := filepath.Join(t.TempDir(), f.name+".pdf")
		if err := os.WriteFile(file, f.data, 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("qpdf", "--check", file).CombinedOutput(); err != nil {
			t.Errorf("%s: qpdf --check: %v\n%s", f.name, err, out)
		}
		out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
		if err != nil {
			t.Fatalf("%s: pdftotext: %v", f.name, err)
		}
		for _, want := range f.want {
			if !strings.Contains(string(out), want) {
				t.Errorf("%s: pdftotext finds no %q", f.name, want)
			}
		}
	}
}
