package pdf

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var update = flag.Bool("update", false, "rewrite golden files")

// budget is how many pages a site's packet and its calculations take at most.
// The demo is the measure: ten and eight. Sites with more faults or with twice
// the words in a plan take more.
var budget = map[string]struct{ packet, calc int }{
	"demo": {10, 8},
	// Nothing but its name was answered: each question that the machine raises
	// is a row of its own, with how it is read and room for the answer.
	"block_missing": {14, 8},
}

// most is the budget of a site that has none of its own.
var most = struct{ packet, calc int }{12, 10}

// least is how much of a page's body is used at least, but of a part's last one.
const least = 0.55

// TestPagesFit lays every site out on both papers, in both unit orders: no text
// outside its box or over other text, none too small, nothing replaced,
// shortened or dangling, no page half empty, and within the budget.
func TestPagesFit(t *testing.T) {
	for i, s := range sites(t) {
		if (raceOn || testing.Short()) && i%5 != 0 {
			continue // ten times slower there, and nothing of it runs at once
		}
		t.Run(s.name, func(t *testing.T) {
			want, ok := budget[s.name]
			if !ok {
				want = most
			}
			var counts []int
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				r := s.report(u)
				for _, paper := range []string{"letter", "a4"} {
					d, err := packetDoc(r, Options{Paper: paper})
					fit(t, fmt.Sprintf("%s, units %v", paper, u), d, err)
					calc, err := calcDoc(r, Options{Paper: paper})
					sound(t, calc, err)
					if w := calc.Warnings(); len(w) > 0 {
						t.Errorf("%s, units %v: calculations: warnings %v", paper, u, w)
					}
					counts = append(counts, d.Pages(), calc.Pages())
					if n, m := d.Pages(), calc.Pages(); n > want.packet || m > want.calc {
						t.Errorf("%s, units %v: %d pages and %d of calculations, want at most %d and %d", paper, u, n, m, want.packet, want.calc)
					}
				}
			}
			t.Logf("packet and calculations, letter and A4 in US units, then in SI: %v", counts)
		})
	}
}

// fit is sound, and that no page is half empty and no text too small.
func fit(t *testing.T, what string, d *page.Doc, err error) {
	t.Helper()
	sound(t, d, err)
	if w := d.Warnings(); len(w) > 0 {
		t.Errorf("%s: warnings %v", what, w)
	}
	if text := strings.Join(textOf(d), ""); strings.ContainsRune(text, page.StandIn) {
		t.Errorf("%s: a sign is missing", what)
	}
	for _, p := range d.Placed() {
		if p.Size < 7 {
			t.Errorf("%s: page %d: %q is set in %.1f points, want 7 at least", what, p.Page, p.Text, p.Size)
		}
	}
	last := append(d.Starts(), d.Pages()+1)
	for n := 1; n <= d.Pages(); n++ {
		if got := d.Fill(n); got < least && !slices.Contains(last, n+1) {
			t.Errorf("%s: page %d is %.0f %% full, want %.0f %% at least", what, n, 100*got, 100*least)
		}
	}
}

// TestTradeSheetsFit lays each trade's sheet of the demo out alone.
func TestTradeSheetsFit(t *testing.T) {
	r := demo(t)
	most := map[check.Trade]int{check.Electrician: 2, check.Plumber: 3, check.Builder: 1, check.Owner: 1, check.Supplier: 1}
	for _, tr := range check.Trades {
		for _, paper := range []string{"letter", "a4"} {
			d, err := tradeDoc(r, tr, Options{Paper: paper})
			fit(t, string(tr)+" on "+paper, d, err)
			if n := d.Pages(); n > most[tr] {
				t.Errorf("%s on %s: %d pages, want %d at most", tr, paper, n, most[tr])
			}
		}
	}
	if _, _, err := TradeSheet(r, "glazier", Options{}); err == nil {
		t.Error("a sheet for an unknown trade: no error")
	}
	if _, _, err := Packet(r, Options{Paper: "foolscap"}); err == nil {
		t.Error("an unknown paper: no error")
	}
}

// TestDuplex starts every part on a front side, and only with Duplex.
func TestDuplex(t *testing.T) {
	r := demo(t)
	d, err := packetDoc(r, Options{Duplex: true})
	sound(t, d, err)
	if len(d.LeftBlank()) == 0 {
		t.Error("no back was left blank, so this shows nothing")
	}
	for _, n := range d.Starts() {
		if n%2 == 0 {
			t.Errorf("a part starts on page %d, a back", n)
		}
	}
	d, err = packetDoc(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(d.LeftBlank()); n > 0 {
		t.Errorf("%d blank pages without Duplex", n)
	}
}

// TestEachStepOnce finds each step of the plan once on the punch list and once
// in the work list of its trade.
func TestEachStepOnce(t *testing.T) {
	for _, site := range sites(t) {
		r := site.report(quantity.US)
		s := &sheets{r: r, to: words.Reader{Gauge: true}}
		var got []int
		for _, tr := range check.Trades {
			for _, k := range s.tasks(tr) {
				for _, st := range k.steps {
					if st.Trade != tr {
						t.Errorf("%s: step %d of the %s stands with the %s", site.name, st.N, st.Trade, tr)
					}
					got = append(got, st.N)
				}
			}
		}
		slices.Sort(got)
		for i, n := range got {
			if n != i+1 {
				t.Fatalf("%s: steps on the work lists: %v, want each of %d once", site.name, got, len(r.Plan.Steps))
			}
		}
		if len(got) != len(r.Plan.Steps) {
			t.Errorf("%s: %d steps on the work lists, want %d", site.name, len(got), len(r.Plan.Steps))
		}
	}
}

// TestReadySite says GO to every trade of a site on which nothing is open.
func TestReadySite(t *testing.T) {
	for _, site := range sites(t) {
		if !strings.HasPrefix(site.name, "pass_") {
			continue
		}
		d, err := packetDoc(site.report(quantity.US), Options{})
		sound(t, d, err)
		for i, text := range textOf(d) {
			if slices.Contains(strings.Split(text, "\n"), "HOLD") {
				t.Errorf("%s: page %d says HOLD", site.name, i+1)
			}
		}
	}
}

// TestUnitsAlone finds no figure of the other system on metric sheets, but
// nominal trade sizes, and no US code where the machine is built to IEC.
func TestUnitsAlone(t *testing.T) {
	us := regexp.MustCompile(`[1-9][0-9]* ?(psi|gpm|gph|gal|°F|ft|lb|Btu/h|gpg)\b`)
	codes := regexp.MustCompile(`\b(NEC|OSHA|NFPA)\b`)
	for _, site := range sites(t) {
		d, err := packetDoc(site.report(quantity.SI), Options{Paper: "a4"})
		if err != nil {
			t.Fatal(err)
		}
		for i, text := range textOf(d) {
			text = strings.ReplaceAll(text, "\u00a0", " ")
			for line := range strings.Lines(text) {
				extra := slices.ContainsFunc(site.machine.Extras, func(e specs.Extra) bool {
					return strings.Contains(strings.ToLower(e.Name), strings.ToLower(strings.TrimSpace(line)))
				})
				if us.MatchString(line) && !extra { // what is ordered is named as its sheet names it
					t.Errorf("%s, page %d: %q", site.name, i+1, line)
				}
				if site.machine.Basis == "iec" && codes.MatchString(line) {
					t.Errorf("%s, page %d: %q cites a US code", site.name, i+1, line)
				}
			}
		}
	}
}

// TestGolden compares the text of every page of a report made by hand.
func TestGolden(t *testing.T) {
	r := fixture(t)
	for _, u := range []struct {
		name  string
		units quantity.System
	}{{"us", quantity.US}, {"si", quantity.SI}} {
		r := words.Planned(r.Plan, u.units)
		d, err := packetDoc(r, Options{Photos: []Photo{{Name: "panel.jpg", Caption: "the panel, cover on", Data: picture(60, 40, 3, false)}},
			Letterhead: &Letterhead{Name: "Example Bar Supply", Address: "9 Sample Road, Exampleton", Lines: []string{"555 0142"}}})
		sound(t, d, err)
		var b strings.Builder
		for i, text := range textOf(d) {
			fmt.Fprintf(&b, "== page %d\n%s", i+1, text)
		}
		compare(t, "testdata/packet-"+u.name+".txt", b.String())
	}
	d, err := machineDoc(r.Machine, Options{Date: today})
	sound(t, d, err)
	compare(t, "testdata/machine.txt", strings.Join(textOf(d), "== next page\n"))
}

func compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			t.Fatalf("%s differs at line %d: got %q, want %q; go test ./render/pdf -update rewrites it", file, i+1, g[i], slices.Concat(w, make([]string, len(g)))[i])
		}
	}
	t.Fatalf("%s has %d lines more than the output", file, len(w)-len(g))
}

// TestEveryPage asks of every page what lets a sheet that was torn off be
// found again.
func TestEveryPage(t *testing.T) {
	r := demo(t)
	d, err := packetDoc(r, Options{Revision: "C"})
	if err != nil {
		t.Fatal(err)
	}
	w, err := templates.Words()
	if err != nil {
		t.Fatal(err)
	}
	disclaimer := strings.Join(strings.Fields(w.Disclaimer), " ")
	for i, text := range textOf(d) {
		flat := strings.Join(strings.Fields(text), " ")
		for _, want := range []string{r.Survey.Site.Name, "Revision C", r.Survey.Digest(), today.String(), fmt.Sprintf("Page %d of %d", i+1, d.Pages()), disclaimer} {
			if !strings.Contains(flat, want) {
				t.Errorf("page %d lacks %q", i+1, want)
			}
		}
	}
}

// pagesOf are the pages whose header names a sheet.
func pagesOf(d *page.Doc, sheet string) (numbers []int, text string) {
	for i, p := range textOf(d) {
		if lines := strings.SplitN(p, "\n", 3); len(lines) == 3 && lines[1] == sheet {
			numbers = append(numbers, i+1)
			text += p
		}
	}
	return numbers, text
}

// TestHostileText gives every free field what people paste into them.
func TestHostileText(t *testing.T) {
	r := fixture(t)
	r.Survey.Site.Name = strings.Repeat("The Very Long Name of a Bar by the Harbour ", 3)
	r.Survey.Site.Address = strings.Repeat("9", 300)
	r.Survey.Site.Electrician = strings.Repeat("W", 160)
	r.Survey.Site.Contact = "\x01 שלום 🍺\u202e"
	r.Survey.Notes = "🍺 " + strings.Repeat("note ", 1600)
	r.Survey.Site.Phone = "tab\there\r\nline \x00\xff 中文"
	_, warnings, err := Packet(r, Options{Letterhead: &Letterhead{Name: strings.Repeat("Letterhead ", 40), Logo: []byte("no picture")},
		Photos: []Photo{{Name: "broken.jpg", Data: []byte("no picture"), Caption: strings.Repeat("caption ", 100)}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"U+1F37A", "notes: ", "broken.jpg", "letterhead's logo", "UTF-8", "line shortened"} {
		if !slices.ContainsFunc(warnings, func(w string) bool { return strings.Contains(w, want) }) {
			t.Errorf("no warning of %q in %q", want, warnings)
		}
	}
	d, err := packetDoc(r, Options{Paper: "a4"})
	sound(t, d, err)
	if !strings.ContainsRune(strings.Join(textOf(d), ""), page.StandIn) {
		t.Error("what can't be printed leaves no visible mark")
	}
}

// TestSameBytes builds a packet with photos of one width 20 times over.
func TestSameBytes(t *testing.T) {
	o := Options{Letterhead: &Letterhead{Name: "Example Bar Supply", Logo: picture(80, 40, 9, true)}}
	for i := range 6 {
		o.Photos = append(o.Photos, Photo{Name: fmt.Sprint(i), Caption: "photo", Data: picture(200, 150+20*i, uint8(20+i), i%2 == 0)})
	}
	builds := 20
	if raceOn {
		builds = 4
	}
	var first []byte
	for i := range builds {
		b, _, err := Packet(fixture(t), o)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = b
		} else if !bytes.Equal(b, first) {
			t.Fatalf("build %d differs from the first", i+1)
		}
	}
}

// TestTwoAtOnce builds packets of one report in parallel; run it with -race.
func TestTwoAtOnce(t *testing.T) {
	r := fixture(t)
	var wg sync.WaitGroup
	out := make([][]byte, 4)
	for i := range out {
		wg.Add(1)
		go func() {
			defer wg.Done()
			b, _, err := Packet(r, Options{})
			if err != nil {
				t.Error(err)
			}
			out[i] = b
		}()
	}
	wg.Wait()
	for i := range out {
		if !bytes.Equal(out[i], out[0]) {
			t.Errorf("build %d differs", i)
		}
	}
}

// TestPhotos prints each photo with its caption on the sheet of the trade that
// it concerns, in the packet and alone, and one that concerns none on the summary.
func TestPhotos(t *testing.T) {
	var o Options
	for i := range 9 {
		p := Photo{Name: fmt.Sprintf("p%d.jpg", i), Caption: fmt.Sprintf("caption %d", i), Data: picture(90, 120, uint8(i+1), false)}
		if i > 2 {
			p.Concerns = check.Plumber
		}
		o.Photos = append(o.Photos, p)
	}
	o.Photos[3].Caption = ""
	holds := func(d *page.Doc, err error, sheet string, want ...int) {
		t.Helper()
		sound(t, d, err)
		_, text := pagesOf(d, sheet)
		for i := range 9 {
			caption := fmt.Sprintf("caption %d\n", i)
			if i == 3 {
				caption = "p3.jpg\n"
			}
			if got, want := strings.Count(text, caption), strings.Count(fmt.Sprint(want), fmt.Sprint(i)); got != want {
				t.Errorf("%s holds photo %d %d times, want %d", sheet, i, got, want)
			}
		}
	}
	r := fixture(t)
	d, err := packetDoc(r, o)
	holds(d, err, "Summary", 0, 1, 2)
	holds(d, err, "PLUMBER", 3, 4, 5, 6, 7, 8)
	holds(d, err, "ELECTRICIAN")
	d, err = tradeDoc(r, check.Plumber, o)
	holds(d, err, "PLUMBER", 3, 4, 5, 6, 7, 8)
}

// TestMachineSheets keeps each built-in machine's sheet on one page, in both
// unit orders, with the values that a trade asks for first.
func TestMachineSheets(t *testing.T) {
	for _, m := range specs.Builtin().Machines() {
		for _, u := range []quantity.System{quantity.US, quantity.SI} {
			for _, paper := range []string{"letter", "a4"} {
				d, err := machineDoc(m, Options{Date: today, Units: u, Paper: paper})
				sound(t, d, err)
				if d.Pages() != 1 || len(d.Warnings()) > 0 {
					t.Errorf("%s, %s: %d pages, warnings %v", m.Key, paper, d.Pages(), d.Warnings())
				}
				text := strings.Join(textOf(d), "")
				for _, want := range []string{m.Name, m.Source, m.Power.Supplies[0].Name, in(m.Power.Supplies[0].MaxBreaker, u), in(m.Space.CrateMass, u)} {
					if !strings.Contains(strings.NewReplacer("\u00a0", " ", "\n", " ").Replace(text), want) {
						t.Errorf("%s: no %q on its sheet", m.Key, want)
					}
				}
			}
		}
	}
	if _, _, err := MachineSheet(specs.Builtin().Machines()[0], Options{}); err == nil {
		t.Error("a sheet without a date: no error")
	}
}

// TestFaces draws the receptacle of every built-in machine that has a plug.
func TestFaces(t *testing.T) {
	n := 0
	for _, m := range specs.Builtin().Machines() {
		for _, s := range m.Power.Supplies {
			if s.Plug == "" {
				continue
			}
			n++
			if _, ok := face(s.Plug); !ok {
				t.Errorf("%s: no face of %s", m.Key, s.Plug)
			}
		}
	}
	if n == 0 {
		t.Error("no machine has a plug")
	}
	for _, none := range []string{"", "none", "IEC 60309 110 V 16 A 2P+E", "IEC 60309", "9-99"} {
		if _, ok := face(none); ok {
			t.Errorf("a face of %q", none)
		}
	}
}
