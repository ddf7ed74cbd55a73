package page

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"firstfill/templates"
)

func TestClean(t *testing.T) {
	for _, c := range []struct {
		name, in, want string
		notes          int
	}{
		{"plain", "55 psi, 3/4 in", "55 psi, 3/4 in", 0},
		{"trade signs", "½ in ≤ 140 °F × ⌀22 Ω", "½ in ≤ 140 °F × ⌀22 Ω", 0},
		{"tab and CRLF", "a\tb\r\nc\rd", "a b\nc\nd", 0},
		{"thin no-break space", "55\u202fpsi", "55\u00a0psi", 0},
		{"wide spaces", "a\u2003b\u3000c", "a b c", 0},
		{"line separator", "a\u2028b", "a\nb", 0},
		{"bell", "a\ab", "ab", 1},
		{"zero width and direction", "a\u200bb\u202ec", "abc", 2},
		{"emoji with selector", "hot \U0001F525\uFE0F!", "hot □!", 1},
		{"the same twice is noted once", "\U0001F525\U0001F525", "□□", 1},
		{"CJK", "水 water", "□ water", 1},
		{"bad bytes", "a\xff\xfeb", "a□b", 1},
		{"decomposed", "cafe\u0301", "café", 0},
		{"hebrew is printed and noted", "מים", "מים", 1},
		{"DEL", "a\x7fb", "ab", 1},
		{"empty", "", "", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, notes := Clean(c.in)
			if got != c.want || len(notes) != c.notes {
				t.Errorf("Clean(%q): got %q, notes %q; want %q, %d notes", c.in, got, notes, c.want, c.notes)
			}
		})
	}
}

func TestCleanNamesTheField(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.Table(Table{Columns: []Column{{Head: "Note"}}, Rows: []Row{{Cells: []Cell{{Text: "hot \U0001F525", Field: "site.notes"}}}}})
	})
	w := d.Warnings()
	if len(w) != 1 || w[0].Field != "site.notes" || !strings.Contains(w[0].Text, "U+1F525") {
		t.Errorf("got %v, want one warning for site.notes naming U+1F525", w)
	}
	if !hasText(d, "hot □") {
		t.Error("the stand-in is not on the page")
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "A\x00\u0309", "a\xff", "\U0001F525", "e\u0301", "\u1100\u1161", "a\r\n\tb"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, _ := Clean(s)
		if !utf8.ValidString(got) {
			t.Fatalf("Clean(%q) is not UTF-8: %q", s, got)
		}
		for _, r := range got {
			if r != '\n' && !hasGlyph(r) {
				t.Fatalf("Clean(%q) leaves %U", s, r)
			}
		}
		again, _ := Clean(got)
		if again != got {
			t.Fatalf("Clean(%q) is not stable: %q, then %q", s, got, again)
		}
	})
}

func TestWrap(t *testing.T) {
	st := Style{Size: 10}
	wide := func(s string) float64 { return TextWidth(s, st) + 0.01 }
	for _, c := range []struct {
		name, in string
		w        float64
		want     []string
	}{
		{"fits", "one two", wide("one two"), []string{"one two"}},
		{"breaks at a space", "one two", wide("one two") - 0.1, []string{"one", "two"}},
		{"no-break space holds", "flow 55\u00a0psi", wide("flow 55"), []string{"flow", "55\u00a0psi"}},
		{"line feeds", "a\n\nb", 100, []string{"a", "", "b"}},
		{"empty", "", 10, []string{""}},
		{"runs of spaces", "  a   b ", 100, []string{"a b"}},
		{"hyphen between letters", "site-built", wide("built"), []string{"site-", "built"}},
		{"a fraction stays whole", "to 3/4 in", wide("to 3/"), []string{"to", "3/4", "in"}},
		{"long word is cut", "abcdef", wide("abc"), []string{"abc", "def"}},
		{"long word is cut at a separator", "water.cold.pressure", wide("water.cold.pre"), []string{"water.cold.", "pressure"}},
		{"at least one rune a line", "abc", 0.1, []string{"a", "b", "c"}},
		{"mark stays with its letter", "x\u0323y", 0.1, []string{"x\u0323", "y"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Wrap(c.in, c.w, st)
			if strings.Join(got, "|") != strings.Join(c.want, "|") || len(got) != len(c.want) {
				t.Errorf("Wrap(%q, %.2f): got %q, want %q", c.in, c.w, got, c.want)
			}
		})
	}
}

func FuzzWrap(f *testing.F) {
	f.Add("the quick brown fox", 20.0, false)
	f.Add("water.cold.static_pressure 55\u00a0psi", 9.0, true)
	f.Add("a-b/c–d —— \n\n x", 0.0, false)
	f.Add(strings.Repeat("W", 300), 31.7, true)
	f.Fuzz(func(t *testing.T, in string, w float64, bold bool) {
		if math.IsNaN(w) || w > 1000 || len(in) > 5000 {
			t.Skip()
		}
		st := Style{Size: 9, Bold: bold}
		s, _ := Clean(in)
		lines := Wrap(s, w, st)
		flat := func(s string) string {
			return strings.NewReplacer(" ", "", "\n", "").Replace(s)
		}
		if flat(strings.Join(lines, "")) != flat(s) {
			t.Fatalf("Wrap(%q, %g) lost or moved text: %q", s, w, lines)
		}
		for _, l := range lines {
			if strings.Contains(l, "\n") {
				t.Fatalf("line feed inside a line: %q", l)
			}
			if TextWidth(l, st) > w+1e-3 {
				base := 0
				for _, r := range l {
					if !unicode.Is(unicode.M, r) && runeWidth(r, bold) > 0 {
						base++
					}
				}
				if base > 1 {
					t.Fatalf("Wrap(%q, %g): line %q is %.3f wide", s, w, l, TextWidth(l, st))
				}
			}
		}
	})
}

// The widths we lay out with are those of the PDF writer. A second reader of
// the same font files, golang.org/x/image/font/sfnt, must give the same
// advances.
func TestWidthsAgreeWithASecondFontReader(t *testing.T) {
	for k, data := range [][]byte{templates.FontRegular(), templates.FontBold()} {
		f, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		upem := f.UnitsPerEm()
		n := 0
		for r := rune(' '); r < 0xFFFF; r++ {
			if !hasGlyph(r) || unicode.Is(unicode.M, r) || unicode.Is(unicode.Cf, r) {
				continue
			}
			g, err := f.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(err)
			}
			adv, err := f.GlyphAdvance(&buf, g, fixed.I(int(upem)), font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			want := float64(adv) / 64 / float64(upem)
			if got := runeWidth(r, k == 1); want > 0 && math.Abs(got-want) > 0.0011 {
				t.Errorf("font %d, %U: got %.4f em, want %.4f", k, r, got, want)
			}
			n++
		}
		if n < 4000 {
			t.Errorf("font %d: only %d signs compared", k, n)
		}
	}
}

// Every sign the trade uses, and every string in this package's source, can be
// printed in both faces.
func TestGlyphs(t *testing.T) {
	for _, r := range "½¼¾⅛⅜⅝⅞°≤≥≠±≈×÷Øø→←↑↓✓✔✗☐☑☒□■●▲△⚠µΩ′″–—…⌀∅§·•äöüßéèñ€£" {
		if !hasGlyph(r) {
			t.Errorf("no glyph for %c %U", r, r)
		}
	}
	if hasGlyph(0x1F525) || hasGlyph('水') || hasGlyph(-1) {
		t.Error("hasGlyph says yes to what the fonts lack")
	}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, e := range files {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING && lit.Kind != token.CHAR {
				return true
			}
			s, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatalf("%s: %s: %v", e.Name(), lit.Value, err)
			}
			for _, r := range s {
				seen++
				if r >= ' ' && !hasGlyph(r) && r != 0x7F && !unicode.IsControl(r) && r != utf8.RuneError {
					t.Errorf("%s: %q holds %U, which has no glyph", e.Name(), s, r)
				}
			}
			return true
		})
	}
	if seen < 1000 {
		t.Errorf("only %d runes walked", seen)
	}
}

// Emoji make the PDF writer panic; text that slips past Clean must not.
func TestGuard(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.ensurePage()
		d.drawLine("fire \U0001F525", Rect{30, 50, 60, 6}, Body)
	})
	if !hasText(d, "fire □") {
		t.Errorf("got %v", d.Placed())
	}
	if len(d.Warnings()) != 1 {
		t.Errorf("got warnings %v, want one", d.Warnings())
	}
}

func TestStyleIsNeverPale(t *testing.T) {
	if got := (Style{Grey: 90}).norm().Grey; got != MaxGrey {
		t.Errorf("got grey %d, want %d", got, MaxGrey)
	}
}
