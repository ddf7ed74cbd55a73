package page

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
)

func build(t testing.TB, f func(*Doc)) *Doc {
	t.Helper()
	d, err := New(Options{Title: "test", Date: testDate}, f)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Bytes(); err != nil {
		t.Fatal(err)
	}
	return d
}

func hasText(d *Doc, s string) bool {
	for _, p := range d.Placed() {
		if p.Text == s {
			return true
		}
	}
	return false
}

// sound reports every fault of placing: text outside its box, text on text.
func sound(t testing.TB, d *Doc) {
	t.Helper()
	for _, o := range d.Overflows() {
		t.Error(o)
	}
	byPage := map[int][]Placed{}
	for _, p := range d.Placed() {
		byPage[p.Page] = append(byPage[p.Page], p)
	}
	const tol = 0.06
	for _, ps := range byPage {
		for i, a := range ps {
			for _, b := range ps[i+1:] {
				if a.X+a.W > b.X+tol && b.X+b.W > a.X+tol && a.Y+a.H > b.Y+tol && b.Y+b.H > a.Y+tol {
					t.Errorf("page %d: %q lies on %q (%.1f,%.1f %.1f,%.1f)", a.Page, a.Text, b.Text, a.X, a.Y, b.X, b.Y)
				}
			}
		}
	}
}

func TestOptionsNeedADate(t *testing.T) {
	if _, err := New(Options{Title: "x"}, func(*Doc) {}); err == nil || !strings.Contains(err.Error(), "Date") {
		t.Errorf("got %v, want an error about Date", err)
	}
}

// Sizes: ISO 216 for A4; Letter is 8.5 in × 11 in (ANSI/ASME Y14.1, size A).
// The MediaBox is in points, 72 to the inch.
func TestPaper(t *testing.T) {
	for _, c := range []struct {
		name      string
		paper     Paper
		landscape bool
		box       string
	}{
		{"letter", Letter, false, "[0 0 612.00 792.00]"},
		{"a4", A4, false, "[0 0 595.28 841.89]"},
		{"letter landscape", Letter, true, "[0 0 792.00 612.00]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := New(Options{Title: "x", Date: testDate, Paper: c.paper, Landscape: c.landscape}, func(d *Doc) { d.Paragraph("x") })
			if err != nil {
				t.Fatal(err)
			}
			b, err := d.Bytes()
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Contains(b, []byte("/MediaBox "+c.box)) {
				t.Errorf("no MediaBox %s in %s", c.box, regexp.MustCompile(`/MediaBox \[[^]]*\]`).Find(b))
			}
		})
	}
}

func TestDeterminism(t *testing.T) {
	for _, c := range []struct {
		name   string
		builds int
		build  func(*Doc)
	}{
		{"specimen", 4, specimen},
		{"six photos of one size", 20, func(d *Doc) {
			var photos []Photo
			for k := range 6 {
				photos = append(photos, Photo{Name: fmt.Sprint(k), Data: testPhoto(160, 120, 50+k), Caption: "same size"})
			}
			d.Photos(photos...)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var first []byte
			for i := range c.builds {
				d, err := New(specimenOptions(), c.build)
				if err != nil {
					t.Fatal(err)
				}
				b, err := d.Bytes()
				if err != nil {
					t.Fatal(err)
				}
				if i == 0 {
					first = b
				} else if !bytes.Equal(first, b) {
					t.Fatalf("build %d differs from the first", i+1)
				}
			}
		})
	}
}

func TestTwoDocumentsAtOnce(t *testing.T) {
	alone, err := New(specimenOptions(), specimen)
	if err != nil {
		t.Fatal(err)
	}
	want, err := alone.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			d, err := New(specimenOptions(), specimen)
			if err != nil {
				t.Error(err)
				return
			}
			b, err := d.Bytes()
			if err != nil || !bytes.Equal(b, want) {
				t.Errorf("built beside another, the document differs (error %v)", err)
			}
		})
	}
	wg.Wait()
}

func TestPagesAreCountedAndReferencesResolved(t *testing.T) {
	for _, n := range []int{1, 8, 9, 10, 99, 104} { // where numbers grow a digit
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			runs := 0
			d := build(t, func(d *Doc) {
				runs++
				d.Paragraph("see page " + d.PageOf("end"))
				for range n - 1 {
					d.PageBreak()
					d.Paragraph("filler")
				}
				d.Anchor("end")
				d.Heading(2, "End")
				d.Paragraph("the end")
			})
			if runs < 2 {
				t.Errorf("build ran %d times", runs)
			}
			if d.Pages() != n {
				t.Fatalf("got %d pages, want %d", d.Pages(), n)
			}
			if want := fmt.Sprintf("see page %d", n); !hasText(d, want) {
				t.Errorf("no %q on the sheet", want)
			}
			for i := 1; i <= n; i++ {
				if want := fmt.Sprintf("%d / %d", i, n); !hasText(d, want) {
					t.Errorf("no %q", want)
				}
			}
			if w := d.Warnings(); len(w) > 0 {
				t.Error(w)
			}
			sound(t, d)
		})
	}
}

func TestUnknownReferenceWarns(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.Paragraph("see page " + d.PageOf("nowhere"))
		d.Table(Table{Columns: []Column{{Head: "Go"}}, Rows: []Row{{Cells: []Cell{Go("there", "nowhere")}}}})
	})
	if len(d.Warnings()) != 2 {
		t.Errorf("got %v, want two warnings", d.Warnings())
	}
	if !hasText(d, "see page ?") {
		t.Error("no question mark for the unknown page")
	}
	if b, _ := d.Bytes(); bytes.Contains(b, []byte("/Subtype /Link")) {
		t.Error("a link to nowhere was written")
	}
}

func TestLinksAndBookmarks(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.Heading(3, "Deep first") // raised to the top level
		d.Heading(1, "One")
		d.Heading(3, "Deep")
		d.Table(Table{Columns: []Column{{Head: "Go"}}, Rows: []Row{{Cells: []Cell{Go("there", "x")}}, {Cells: []Cell{T("here")}, Anchor: "x"}}})
		d.Heading(2, "Two")
		d.Paragraph("text")
	})
	b, _ := d.Bytes()
	if n := bytes.Count(b, []byte("/Subtype /Link")); n != 1 {
		t.Errorf("got %d links, want 1", n)
	}
	if n := bytes.Count(b, []byte("<</Title ")); n != 4 {
		t.Errorf("got %d bookmarks, want 4", n)
	}
}

const lorem = "The bay was measured twice, once from the finished floor and once from the top of the drain; both readings are given where they differ. "

func stress(d *Doc) {
	d.Title(strings.Repeat("A very long title ", 9), strings.Repeat("sub ", 90), strings.Repeat("TAG", 30))
	long := strings.Repeat("x", 300)
	d.Heading(1, long)
	d.Paragraph(long + " \U0001F525 水道 \xff " + lorem)
	d.KeyValue(3, KV{Key: long, Value: long}, KV{Key: "a", Value: strings.Repeat(lorem, 6)}, KV{Key: "b"}, KV{Key: "novel", Value: strings.Repeat(lorem, 80), Wide: true})
	var rows []Row
	for i := range 200 {
		if i%37 == 0 {
			rows = append(rows, Row{Group: true, Cells: []Cell{T(strings.Repeat("Group ", 40))}})
		}
		rows = append(rows, Row{Cells: []Cell{
			{Text: fmt.Sprintf("R-%03d", i), Bold: true}, {Verdict: Verdicts[i%5]}, T(strings.Repeat(lorem, i%5)),
			TN("水 "+long[:i], lorem), {Text: lorem, Tick: true}, {Lines: i % 3}}})
	}
	rows = append(rows, Row{Cells: []Cell{T("tall"), {Verdict: "SOMETHING QUITE ELSE"}, T(strings.Repeat(lorem, 90)), T(long), {Tick: true}}})
	rows = append(rows, Row{Cells: []Cell{T("last")}})
	d.Table(Table{Lines: true, Columns: []Column{{Head: "No.", Width: 14}, {Head: "Verdict", Width: 18}, {Head: "A head that is long enough to need lines", Flex: 2}, {Head: long}, {Head: "Tick"}, {Head: "Write", Align: Right}}, Rows: rows})
	d.SignOff(SignOff{Title: long, Statement: strings.Repeat(lorem, 50), Company: long, Licence: long, Name: long})
	d.Chain([]Node{{Name: long, Value: long, Note: lorem, Edge: long, Verdict: Fix}, {Name: lorem, Edge: lorem}, {Name: "c"}, {Value: "1"}, {}, {Name: "f", Edge: "水"}, {Name: "g"}})
	d.Photos(Photo{Name: long, Data: nil, Caption: strings.Repeat(lorem, 12)}, Photo{Data: testPhoto(3, 900, 1), Ref: "123456"}, Photo{Data: testPhoto(900, 3, 1), Caption: long})
	d.Need(26)
	d.Face(d.Left(), d.Y(), 24, FaceSpec{Name: long, Note: lorem, Slots: []Slot{{X: 0.5, Label: "L1"}}})
	d.Advance(26)
	d.Draw(stressCanvas(rand.New(rand.NewPCG(1, 2))), 110)
}

func TestStressStaysInPlace(t *testing.T) {
	for _, land := range []bool{false, true} {
		o := specimenOptions()
		o.Landscape = land
		if land {
			o.Paper = A4
		}
		o.Header = Line{strings.Repeat("left ", 40), strings.Repeat("centre ", 40), strings.Repeat("right ", 40)}
		o.Footer = o.Header
		o.Boxed = strings.Repeat(lorem, 3)
		d, err := New(o, stress)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := d.Bytes(); err != nil {
			t.Fatal(err)
		}
		sound(t, d)
		for i := range 200 {
			if !hasText(d, fmt.Sprintf("R-%03d", i)) {
				t.Errorf("row %d is missing", i)
			}
		}
	}
}

func TestOverflowIsSeen(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.TextBox(Rect{30, 50, 20, 4}, "one two three four five six seven", Body) // too low a box
		d.TextBox(Rect{2, 80, 40, 10}, "in the margin", Body)
		d.TextBox(Rect{30, 100, 100, 10}, "well placed", Body)
	})
	over := map[string]bool{}
	for _, o := range d.Overflows() {
		over[o.Text] = true
	}
	if !over["in the margin"] || over["well placed"] || len(over) < 3 {
		t.Errorf("got %v", d.Overflows())
	}
}

// Nothing is left alone by a page break, wherever it falls: a heading, the
// first or last row of a table, a group heading, a sign-off block.
func TestPageBreaks(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for run := range 40 {
		n := 2 + rng.IntN(40)
		lead := rng.IntN(60)
		var sizes []int
		for range n {
			sizes = append(sizes, 1+rng.IntN(4))
		}
		d := build(t, func(d *Doc) {
			for i := range lead {
				d.Paragraph(fmt.Sprintf("lead %d", i))
			}
			d.Heading(1, "HEADING")
			d.Heading(2, "SUBHEADING")
			var rows []Row
			for i := range n {
				if i%7 == 3 {
					rows = append(rows, Row{Group: true, Cells: []Cell{T(fmt.Sprintf("group %d", i))}})
				}
				rows = append(rows, Row{Cells: []Cell{T(fmt.Sprintf("row %d", i)), T(strings.TrimSpace(strings.Repeat("line\n", sizes[i])))}})
			}
			d.Table(Table{Columns: []Column{{Head: "HEAD"}, {Head: "Text"}}, Rows: rows})
			d.SignOff(SignOff{Title: "SIGN", Statement: lorem, Labels: SignOffLabels{Company: "Company", Licence: "License no.", Name: "Name", Signature: "Signature", Date: "Date"}})
		})
		sound(t, d)
		pages := map[string]int{}
		var order []string
		perPage := map[int][]string{}
		heads := map[int]int{}
		for _, p := range d.Placed() {
			if p.Text == "HEAD" {
				heads[p.Page]++
			}
			if strings.HasPrefix(p.Text, "row ") || strings.HasPrefix(p.Text, "group ") {
				order = append(order, p.Text)
				perPage[p.Page] = append(perPage[p.Page], p.Text)
			}
			if _, ok := pages[p.Text]; !ok {
				pages[p.Text] = p.Page
			}
		}
		want := 0
		for _, s := range order {
			if strings.HasPrefix(s, "row ") {
				if s != fmt.Sprintf("row %d", want) {
					t.Fatalf("run %d: got %s, want row %d", run, s, want)
				}
				want++
			}
		}
		if want != n {
			t.Fatalf("run %d: %d of %d rows", run, want, n)
		}
		if pages["HEADING"] != pages["SUBHEADING"] || pages["HEADING"] != pages["row 0"] {
			t.Errorf("run %d: heading on page %d, row 0 on page %d", run, pages["HEADING"], pages["row 0"])
		}
		if pages["row 0"] != pages["row 1"] {
			t.Errorf("run %d: the first row stands alone", run)
		}
		if pages[fmt.Sprintf("row %d", n-1)] != pages[fmt.Sprintf("row %d", n-2)] && (n-1)%7 != 3 {
			t.Errorf("run %d: the last row stands alone", run)
		}
		for pg, rows := range perPage {
			if strings.HasPrefix(rows[len(rows)-1], "group ") {
				t.Errorf("run %d: page %d ends with a group heading", run, pg)
			}
			if heads[pg] != 1 {
				t.Errorf("run %d: page %d has rows and %d header rows", run, pg, heads[pg])
			}
		}
		if pages["SIGN"] != pages["Company"] || pages["SIGN"] != pages["Signature"] || pages["SIGN"] != pages["Date"] {
			t.Errorf("run %d: the sign-off block is divided", run)
		}
	}
}

func TestTallRowIsDividedWithoutLoss(t *testing.T) {
	var lines []string
	for i := range 150 {
		lines = append(lines, fmt.Sprintf("line %d", i))
	}
	d := build(t, func(d *Doc) {
		d.Table(Table{Columns: []Column{{Head: "HEAD"}, {Head: "B"}}, Rows: []Row{{Cells: []Cell{T("a"), T(strings.Join(lines, "\n"))}}, {Cells: []Cell{T("b")}}}})
	})
	sound(t, d)
	n := 0
	for _, p := range d.Placed() {
		if p.Text == fmt.Sprintf("line %d", n) {
			n++
		}
	}
	if n != 150 {
		t.Errorf("got %d of 150 lines in order", n)
	}
	if d.Pages() < 3 {
		t.Errorf("got %d pages, want 3 or more", d.Pages())
	}
}

func TestParagraphLeavesNoSingleLine(t *testing.T) {
	for lead := 38; lead < 58; lead++ { // the page holds about 50 lines
		d := build(t, func(d *Doc) {
			for range lead {
				d.flowLines([]string{"lead"}, 0, Body)
			}
			d.Paragraph("p1\np2\np3\np4\np5")
		})
		count := map[int]int{}
		for _, p := range d.Placed() {
			if len(p.Text) == 2 && p.Text[0] == 'p' {
				count[p.Page]++
			}
		}
		for pg, n := range count {
			if n == 1 {
				t.Errorf("lead %d: one line alone on page %d", lead, pg)
			}
		}
	}
}

// An outside reader must find what the box log claims: the same words, on the
// same pages, within the margins.
func TestAgainstPoppler(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed; this check needs an outside reader")
	}
	d, err := New(specimenOptions(), specimen)
	if err != nil {
		t.Fatal(err)
	}
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("pdftotext", "-bbox", "-", "-")
	cmd.Stdin = bytes.NewReader(b)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	re := regexp.MustCompile(`<page |<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">([^<]*)</word>`)
	page, words := 0, 0
	got := map[string]int{}
	for _, m := range re.FindAllStringSubmatch(string(out), -1) {
		if m[5] == "" && strings.HasPrefix(m[0], "<page") {
			page++
			continue
		}
		words++
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
			v[i] *= mmPerPoint
		}
		if v[0] < marginX-0.3 || v[2] > d.pw-marginX+0.3 || v[1] < 5 || v[3] > d.ph-5 {
			t.Errorf("page %d: %q at %.1f to %.1f mm is in the margin", page, m[5], v[0], v[2])
		}
		got[fmt.Sprintf("%d", page)] += len([]rune(strings.NewReplacer("&amp;", "&", "&lt;", "<", "&gt;", ">", "&quot;", `"`).Replace(m[5])))
	}
	if page != d.Pages() {
		t.Errorf("poppler sees %d pages, we say %d", page, d.Pages())
	}
	want := map[string]int{}
	for _, p := range d.Placed() {
		want[fmt.Sprint(p.Page)] += len([]rune(strings.NewReplacer(" ", "", "\u00a0", "").Replace(p.Text)))
	}
	for pg, w := range want {
		// The signs inside verdict marks are drawn but not logged.
		if g := got[pg]; g < w || g > w+20 {
			t.Errorf("page %s: poppler sees %d signs, the log has %d", pg, g, w)
		}
	}
	if words < 300 {
		t.Errorf("only %d words seen", words)
	}
}

func TestChains(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	word := func(n int) string {
		var s []string
		for range rng.IntN(n) {
			s = append(s, strings.Repeat("m", 1+rng.IntN(14)))
		}
		return strings.Join(s, " ")
	}
	for range 8 {
		var chains [10][]Node
		for i := range chains {
			for range 1 + rng.IntN(12) {
				chains[i] = append(chains[i], Node{Name: word(5), Value: word(3), Note: word(6), Edge: word(4), Verdict: Verdicts[rng.IntN(5)]})
			}
		}
		d := build(t, func(d *Doc) {
			for i, c := range chains {
				d.Space(float64(3 * i))
				d.Chain(c)
			}
		})
		sound(t, d)
	}
}

func TestVerdictMarks(t *testing.T) {
	d := build(t, func(d *Doc) {
		y := 30.0
		for _, v := range append(append([]Verdict(nil), Verdicts...), "OTHER") {
			if w := d.Verdict(30, y, 4, v); w != VerdictWidth(4, v) {
				t.Errorf("%s: drew %.2f wide, said %.2f", v, w, VerdictWidth(4, v))
			}
			y += 10
		}
	})
	sound(t, d)
	for _, v := range Verdicts { // word and shape: the word must be there
		if !hasText(d, string(v)) {
			t.Errorf("the word %s is not printed", v)
		}
	}
}

func TestBookmarksHangUnderTheTitle(t *testing.T) {
	d := build(t, func(d *Doc) {
		d.Title("Sheet", "", "")
		d.Heading(1, "Part")
		d.Paragraph("text")
	})
	b, _ := d.Bytes()
	// The part's parent is the title's outline object, which has it as its
	// first and last child.
	if !bytes.Contains(b, []byte("/First")) || bytes.Count(b, []byte("/First ")) != 2 {
		t.Errorf("got %d outline levels with children, want 2 (root and title)", bytes.Count(b, []byte("/First ")))
	}
}
