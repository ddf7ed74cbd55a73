package page

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"firstfill/templates"
)

// Align is the horizontal place of text in its box.
type Align int

// Alignments. The zero value is Left.
const (
	Left Align = iota
	Centre
	Right
)

// MaxGrey is the lightest text, in per cent towards white. Lighter text is
// lost on a black-and-white printer.
const MaxGrey = 35

// Style is how text looks. The zero value is body text.
type Style struct {
	Size    float64 // points; 9.5 when zero
	Bold    bool
	Grey    int // 0 is black; more than MaxGrey is taken as MaxGrey
	Align   Align
	Leading float64 // line height as a multiple of Size; 1.34 when zero

	white bool // knocked out of a filled mark
}

// The styles of the kit. Sheets should need no others.
var (
	Body  = Style{Size: 9.5}
	Bold  = Style{Size: 9.5, Bold: true}
	Small = Style{Size: 8, Grey: 25}
	Large = Style{Size: 12, Bold: true}

	headStyle  = Style{Size: 8, Grey: 15}
	boxedStyle = Style{Size: 7.2, Grey: 10, Leading: 1.3}
	cellStyle  = Style{Size: 8.5, Leading: 1.22}
	cellNote   = Style{Size: 7.5, Grey: 25}
	labelStyle = Style{Size: 7.5, Grey: 25}
)

func (s Style) with(f func(*Style)) Style { f(&s); return s }

func (s Style) norm() Style {
	if s.Size == 0 {
		s.Size = 9.5
	}
	if s.Leading == 0 {
		s.Leading = 1.34
	}
	s.Grey = max(0, min(s.Grey, MaxGrey))
	return s
}

const mmPerPoint = 25.4 / 72

// em is the type size in millimetres.
func (s Style) em() float64 { return s.norm().Size * mmPerPoint }

// line is the height of one line in millimetres.
func (s Style) line() float64 { s = s.norm(); return s.Size * s.Leading * mmPerPoint }

// The highest lower-case stroke and the lowest descender of the body face, in
// em; together the height that the box log gives a line of text.
const (
	ascent  = 0.76
	descent = 0.24
)

// Placed is one line of text on the page.
type Placed struct {
	Page       int
	X, Y, W, H float64 // the text's own extent, turned text included
	Text       string
	Box        Rect    // where it was allowed to be
	Size       float64 // of the type, in points
}

// Overflow is text that leaves its box or the page's margins.
type Overflow struct {
	Placed
	By float64 // millimetres
}

func (o Overflow) String() string {
	return fmt.Sprintf("page %d: %q at %.1f,%.1f size %.1f×%.1f leaves its box by %.2f mm", o.Page, o.Text, o.X, o.Y, o.W, o.H, o.By)
}

// Placed lists every line of text in drawing order.
func (d *Doc) Placed() []Placed { return append([]Placed(nil), d.placed...) }

// Overflows lists the text that is not where it may be. A sound document has
// none.
func (d *Doc) Overflows() []Overflow {
	var out []Overflow
	for _, p := range d.placed {
		by := 0.0
		for _, b := range []Rect{p.Box, {marginX - 0.3, edge - 1, d.Width() + 0.6, d.ph - 2*edge + 5}} {
			by = max(by, b.X-p.X, b.Y-p.Y, p.X+p.W-b.X-b.W, p.Y+p.H-b.Y-b.H)
		}
		if by > 0.05 || math.IsNaN(by) {
			out = append(out, Overflow{p, by})
		}
	}
	return out
}

// fontSet is what is known of the two faces; it is built once and only read.
type fontSet struct {
	widths [2][0x10000]uint16 // thousandths of an em, as the PDF writer counts
	has    [0x10000]bool      // both faces have a glyph
}

var loadFonts = sync.OnceValues(func() (*fontSet, error) {
	fs := new(fontSet)
	for i := range fs.has {
		fs.has[i] = true
	}
	for k, data := range [][]byte{templates.FontRegular(), templates.FontBold()} {
		f, err := sfnt.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("page: reading font %d: %w", k, err)
		}
		var buf sfnt.Buffer
		for r := range fs.has {
			if g, err := f.GlyphIndex(&buf, rune(r)); err != nil || g == 0 {
				fs.has[r] = false
			}
		}
		pdf := fpdf.New("P", "mm", "A4", "")
		pdf.AddUTF8FontFromBytes("m", "", data)
		pdf.SetFont("m", "", 10)
		if err := pdf.Error(); err != nil {
			return nil, fmt.Errorf("page: reading font %d: %w", k, err)
		}
		for r := range fs.has {
			if fs.has[r] {
				fs.widths[k][r] = uint16(pdf.GetStringSymbolWidth(string(rune(r))))
			}
		}
	}
	return fs, nil
})

// hasGlyph says whether a rune can be printed in both faces.
func hasGlyph(r rune) bool {
	fs, err := loadFonts()
	return err == nil && r >= 0 && r <= 0xFFFF && fs.has[r]
}

// StandIn is printed for a sign that the fonts do not have.
const StandIn = '□'

// Clean makes text printable: composed form, plain spaces and line feeds, no
// control characters, and [StandIn] for bytes that are not text and signs the
// fonts lack. What was replaced is described in notes. Cleaning twice changes
// nothing more.
func Clean(text string) (clean string, notes []string) {
	plain := true
	for i := 0; i < len(text); i++ {
		if c := text[i]; c < ' ' && c != '\n' || c >= 0x7F {
			plain = false
			break
		}
	}
	if plain {
		return text, nil
	}
	seen := map[string]bool{}
	note := func(format string, a ...any) {
		s := fmt.Sprintf(format, a...)
		if !seen[s] {
			seen[s] = true
			notes = append(notes, s)
		}
	}
	if !utf8.ValidString(text) {
		note("bytes that are not UTF-8 text are printed as %c", StandIn)
		text = strings.ToValidUTF8(text, string(StandIn))
	}
	// What is left out goes first, so that composing sees the final neighbours.
	var b strings.Builder
	prev := rune(0)
	for _, r := range text {
		switch {
		case r == '\n' && prev == '\r':
		case r == '\n', r == '\r', r == 0x2028, r == 0x2029, r == 0x85, r == '\v', r == '\f':
			b.WriteByte('\n')
		case r == '\t':
			b.WriteByte(' ')
		case r == 0x00A0, r == 0x202F, r == 0x2007:
			b.WriteRune(0x00A0) // spaces that must not break
		case unicode.Is(unicode.Zs, r):
			b.WriteByte(' ')
		case r == 0xAD, r >= 0xFE00 && r <= 0xFE0F, r == 0x200D: // soft hyphen, variation selectors, joiner: nothing to see
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r):
			note("control character %U is left out", r)
		default:
			b.WriteRune(r)
		}
		prev = r
	}
	text = norm.NFC.String(b.String())
	b.Reset()
	for _, r := range text {
		switch {
		case r == '\n':
			b.WriteByte('\n')
		case !hasGlyph(r):
			note("%U cannot be printed and is shown as %c", r, StandIn)
			b.WriteRune(StandIn)
		default:
			if unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko) {
				note("right-to-left text is printed in the order it was stored")
			}
			b.WriteRune(r)
		}
	}
	return b.String(), notes
}

// Clean makes a caller's text printable and notes what was replaced under the
// field's name. Every method that takes text cleans it; call Clean first when
// the text has a field to blame.
func (d *Doc) Clean(field, text string) string {
	s, notes := Clean(text)
	for _, n := range notes {
		d.Warn(field, n)
	}
	return s
}

// oneLine is Clean with line feeds as spaces.
func (d *Doc) oneLine(field, text string) string {
	words := strings.Split(strings.ReplaceAll(d.Clean(field, text), "\n", " "), " ")
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), " ")
}

func runeWidth(r rune, bold bool) float64 {
	fs, err := loadFonts()
	if err != nil || r < 0 || r > 0xFFFF {
		return 0.5
	}
	k := 0
	if bold {
		k = 1
	}
	return float64(fs.widths[k][r]) / 1000
}

// TextWidth is the printed width of one line in millimetres.
func TextWidth(s string, st Style) float64 {
	w := 0.0
	for _, r := range s {
		w += runeWidth(r, st.Bold)
	}
	return w * st.em()
}

func (d *Doc) width(s string, st Style) float64 { return TextWidth(s, st) }

// fit shortens a line to a width with an ellipsis, and warns.
func (d *Doc) fit(s string, w float64, st Style) string {
	if TextWidth(s, st) <= w {
		return s
	}
	d.Warn("", fmt.Sprintf("line shortened to fit: %q", s))
	r := []rune(s)
	for len(r) > 0 && TextWidth(string(r)+"…", st) > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " \u00a0") + "…"
}

// Wrap breaks cleaned text into lines no wider than w. It breaks at spaces,
// after a hyphen or slash between letters, and at line feeds; never at a
// no-break space, so that a value stays with its unit. A word wider than w is
// cut, after a separator where there is one. At least one rune goes on each
// line, whatever w is.
func Wrap(text string, w float64, st Style) []string {
	var lines []string
	for _, para := range strings.Split(text, "\n") {
		lines = append(lines, wrapPara(para, w, st)...)
	}
	return lines
}

func (d *Doc) wrap(text string, w float64, st Style) []string { return Wrap(text, w, st) }

const slack = 1e-6

func wrapPara(para string, w float64, st Style) []string {
	space := runeWidth(' ', st.Bold) * st.em()
	var lines []string
	line, lw := "", 0.0
	has := false
	for _, word := range strings.Split(para, " ") {
		if word == "" {
			continue
		}
		glue := false // no space before this piece
		for _, piece := range pieces(word) {
			pw := TextWidth(piece, st)
			gap := space
			if glue {
				gap = 0
			}
			if has && lw+gap+pw <= w+slack {
				if !glue {
					line += " "
				}
				line, lw = line+piece, lw+gap+pw
				glue = true
				continue
			}
			if has {
				lines = append(lines, line)
			}
			for pw > w+slack {
				head := cut(piece, w, st)
				if head == len(piece) {
					break
				}
				lines = append(lines, piece[:head])
				piece = piece[head:]
				pw = TextWidth(piece, st)
			}
			line, lw, has, glue = piece, pw, true, true
		}
	}
	if has || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// pieces splits a word after each hyphen, dash or slash that stands between
// letters ("site-built", "and/or"; not "3/4" or "-5").
func pieces(word string) []string {
	if !strings.ContainsAny(word, "-/–—") {
		return []string{word}
	}
	var out []string
	rs := []rune(word)
	start := 0
	for i := 1; i+1 < len(rs); i++ {
		if strings.ContainsRune("-/–—", rs[i]) && unicode.IsLetter(rs[i-1]) && unicode.IsLetter(rs[i+1]) {
			out = append(out, string(rs[start:i+1]))
			start = i + 1
		}
	}
	return append(out, string(rs[start:]))
}

// cut finds how many bytes of an overlong word go on a line.
func cut(word string, w float64, st Style) int {
	used, end, good := 0.0, 0, 0
	for i, r := range word {
		rw := runeWidth(r, st.Bold) * st.em()
		if used+rw > w+slack && end > 0 && !unicode.Is(unicode.M, r) {
			break
		}
		used += rw
		end = i + utf8.RuneLen(r)
		if strings.ContainsRune("-/._,;:@&=?+|\\", r) {
			good = end
		}
	}
	if good > 0 && good < end && TextWidth(word[:good], st) > w/2 {
		return good
	}
	return end
}

// drawLine prints one line inside a box of one line's height.
func (d *Doc) drawLine(s string, box Rect, st Style) {
	if s == "" {
		return
	}
	st = st.norm()
	w := TextWidth(s, st)
	x := box.X
	switch st.Align {
	case Centre:
		x += (box.W - w) / 2
	case Right:
		x += box.W - w
	}
	top := box.Y + (box.H-st.em())/2
	d.drawAt(s, x, top, st, box)
}

// drawAt prints one line with its left edge and its top (ascent) given.
func (d *Doc) drawAt(s string, x, top float64, st Style, box Rect) {
	st = st.norm()
	s = d.guard(s)
	d.setFont(st)
	d.pdf.Text(x, top+ascent*st.em(), s)
	d.placed = append(d.placed, Placed{d.Pages(), x, top, TextWidth(s, st), st.em(), s, box, st.Size})
}

// drawTurned prints one line turned a quarter to the left, reading upwards;
// x, y are the top left corner of the turned text.
func (d *Doc) drawTurned(s string, x, y float64, st Style, box Rect) {
	st = st.norm()
	s = d.guard(s)
	w := TextWidth(s, st)
	d.setFont(st)
	d.pdf.TransformBegin()
	bx, by := x+ascent*st.em(), y+w
	d.pdf.TransformRotate(90, bx, by)
	d.pdf.Text(bx, by, s)
	d.pdf.TransformEnd()
	d.placed = append(d.placed, Placed{d.Pages(), x, y, st.em(), w, s, box, st.Size})
}

// guard is the last line of defence: the writer panics on runes it does not
// know. Text that came through Clean passes unchanged.
func (d *Doc) guard(s string) string {
	for _, r := range s {
		if !hasGlyph(r) {
			return strings.ReplaceAll(d.Clean("", s), "\n", " ")
		}
	}
	return s
}

func (d *Doc) setFont(st Style) {
	if st.Bold != d.fontBold || st.Size != d.fontSize {
		b := ""
		if st.Bold {
			b = "B"
		}
		d.pdf.SetFont("body", b, st.Size)
		d.fontBold, d.fontSize = st.Bold, st.Size
	}
	v := level(st.Grey)
	if st.white {
		v = 255
	}
	d.pdf.SetTextColor(v, v, v)
}

// TextBox prints wrapped text at a fixed place, from the top of r, and returns
// the height used. It does not move the cursor. Text that needs more height
// than r has shows up in Overflows.
func (d *Doc) TextBox(r Rect, text string, st Style) float64 {
	if d.Pages() == 0 {
		d.newPage()
	}
	lines := d.wrap(d.Clean("", text), r.W, st)
	for i, s := range lines {
		box := Rect{r.X, r.Y + float64(i)*st.line(), r.W, st.line()}
		d.drawLine(s, box, st)
		if n := len(d.placed); s != "" && n > 0 {
			d.placed[n-1].Box = r
		}
	}
	return float64(len(lines)) * st.line()
}
