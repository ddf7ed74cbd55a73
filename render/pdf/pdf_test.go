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
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

var update = flag.Bool("update", false, "rewrite golden files")

// TestPagesFit lays every site out on both papers, in both unit orders: no text
// outside its box or over other text, nothing replaced, shortened or dangling,
// and a packet of a size that is carried.
func TestPagesFit(t *testing.T) {
	for i, s := range sites(t) {
		if raceOn && i%5 != 0 {
			continue // ten times slower there, and nothing of it runs at once
		}
		t.Run(s.name, func(t *testing.T) {
			for _, u := range []quantity.System{quantity.US, quantity.SI} {
				r := s.report(u)
				for _, paper := range []string{"letter", "a4"} {
					d, err := packetDoc(r, Options{Paper: paper})
					sound(t, d, err)
					if w := d.Warnings(); len(w) > 0 {
						t.Errorf("%s, units %v: warnings %v", paper, u, w)
					}
					if n := d.Pages(); n < 12 || n > 70 {
						t.Errorf("%s, units %v: %d pages, want 12 to 70", paper, u, n)
					}
					if text := strings.Join(textOf(d), ""); strings.ContainsRune(text, page.StandIn) {
						t.Errorf("%s, units %v: a sign is missing", paper, u)
					}
				}
			}
		})
	}
}

// TestTradeSheetsFit lays each trade's sheet of the demo out alone.
func TestTradeSheetsFit(t *testing.T) {
	r := demo(t)
	for _, tr := range check.Trades {
		d, err := tradeDoc(r, tr, Options{Paper: "a4"})
		sound(t, d, err)
		if w := d.Warnings(); len(w) > 0 {
			t.Errorf("%s: warnings %v", tr, w)
		}
		if n := d.Pages(); n < 2 || n > 8 {
			t.Errorf("%s: %d pages, want 2 to 8", tr, n)
		}
	}
	if _, _, err := TradeSheet(r, "glazier", Options{}); err == nil {
		t.Error("a sheet for an unknown trade: no error")
	}
	if _, _, err := Packet(r, Options{Paper: "foolscap"}); err == nil {
		t.Error("an unknown paper: no error")
	}
}

// TestGolden compares the text of every page of a report made by hand.
func TestGolden(t *testing.T) {
	r := fixture(t)
	for _, u := range []struct {
		name  string
		units quantity.System
	}{{"us", quantity.US}, {"si", quantity.SI}} {
		r.Units = u.units
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
	words, err := templates.Words()
	if err != nil {
		t.Fatal(err)
	}
	disclaimer := strings.Join(strings.Fields(words.Disclaimer), " ")
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

// TestOpenPoints looks for every open point on the path, the punch list and its
// own trade's sheet, with its verdict as a word, and on no other trade's.
func TestOpenPoints(t *testing.T) {
	r := demo(t)
	d, err := packetDoc(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, punch := pagesOf(d, "Punch list")
	_, summary := pagesOf(d, "Summary")
	open := 0
	for _, f := range r.Findings {
		if f.Verdict > check.Confirm {
			continue
		}
		open++
		title := f.ID + " " + upperFirst(f.Title)
		if !strings.Contains(punch, "\n"+f.ID+"\n") {
			t.Errorf("the punch list lacks %s", f.ID)
		}
		if !strings.Contains(summary, "\n"+f.ID+" ") {
			t.Errorf("the summary lacks %s", f.ID)
		}
		for _, tr := range check.Trades {
			_, sheet := pagesOf(d, strings.ToUpper(string(tr)))
			if has := strings.Contains(sheet, "\n"+title); has != (tr == f.Trade) {
				t.Errorf("%s on the %s's sheet: got %v, want %v", f.ID, tr, has, tr == f.Trade)
			}
			if tr == f.Trade && !strings.Contains(sheet, "\n"+f.Verdict.String()+"\n") {
				t.Errorf("the %s's sheet lacks the word %s", tr, f.Verdict)
			}
		}
	}
	if open < 5 {
		t.Errorf("the demo has %d open points, too few to prove anything", open)
	}
}

// TestReferences follows the page numbers that are printed: the punch list's to
// the trades' sheets, the sheets' to the calculations.
func TestReferences(t *testing.T) {
	d, err := packetDoc(fixture(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	pages := textOf(d)
	_, punch := pagesOf(d, "Punch list")
	for _, want := range []struct{ id, title, trade string }{{"E-12", "Conductor", "Electrician"}, {"T-04", "Stock of glasses", "Owner"}, {"S-05", "Doors", "Supplier"}} {
		m := regexp.MustCompile(`(?s)\n` + want.id + `\n` + want.title + `\n.*?\n` + want.trade + `\n(\d+)\n`).FindStringSubmatch(punch)
		if m == nil {
			t.Errorf("%s isn't on the punch list with a page", want.id)
			continue
		}
		n := 0
		fmt.Sscan(m[1], &n)
		if !strings.Contains(pages[n-1], want.id+" "+want.title+"\n") || !strings.Contains(pages[n-1], strings.ToUpper(want.trade)) {
			t.Errorf("%s is not on page %d as the punch list says", want.id, n)
		}
		m = regexp.MustCompile(`(?s)` + want.id + ` ` + want.title + `\n.*?worked on page (\d+)`).FindStringSubmatch(pages[n-1])
		if m == nil {
			t.Errorf("the sheet of %s names no calculation", want.id)
			continue
		}
		fmt.Sscan(m[1], &n)
		if !strings.Contains(pages[n-1], want.id+" "+want.title+"\n") || !strings.Contains(pages[n-1], "Calculations\n") {
			t.Errorf("%s isn't worked on page %d as its sheet says", want.id, n)
		}
	}
}

// TestOrder sees that a cause stands before what follows from it, and stages in order.
func TestOrder(t *testing.T) {
	var got []string
	for _, st := range order(fixture(t)) {
		got = append(got, st.f.ID)
	}
	if want := "E-08 E-12 D-14 W-01 S-05 T-04"; strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	// A cause of a later stage is drawn forward to its consequence's, even over
	// a third; a circle of causes ends.
	r := fixture(t)
	r.Findings = []*words.Told{
		finding(check("A-01", check.Owner, check.BeforeOrder, "first", "A-02"), check.Fix, "", "", "", ""),
		finding(check("A-02", check.Owner, check.RoughIn, "second", "A-03"), check.Confirm, "", "", "", ""),
		finding(check("A-03", check.Owner, check.BeforeStart, "third", "A-01"), check.Fix, "", "", "", ""),
		finding(check("A-04", check.Owner, check.BeforeOrder, "settled"), check.OK, "", "", "", ""),
	}
	got = nil
	for _, st := range order(r) {
		got = append(got, st.f.ID+" "+st.stage.String())
	}
	if want := "A-03 before ordering, A-02 before ordering, A-01 before ordering"; strings.Join(got, ", ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	for _, s := range sites(t) {
		steps := order(s.report(quantity.US))
		for i, st := range steps {
			if i > 0 && st.stage < steps[i-1].stage {
				t.Errorf("%s: %s stands after %s of a later stage", s.name, st.f.ID, steps[i-1].f.ID)
			}
			if st.f.Cause != "" && !slices.ContainsFunc(steps[:i], func(b step) bool { return b.f.ID == st.f.Cause }) {
				t.Errorf("%s: %s stands before its cause %s", s.name, st.f.ID, st.f.Cause)
			}
		}
	}
}

// TestNumbers sees that each line of a sheet's numbers names checks that there
// are, and that the sheets' own trades' checks are theirs.
func TestNumbers(t *testing.T) {
	named := map[string]bool{}
	for _, s := range sites(t) {
		sh := &sheets{r: s.report(quantity.US)}
		for _, g := range []struct {
			trade check.Trade
			ns    []number
		}{{check.Electrician, sh.electrical()}, {check.Plumber, sh.plumbing()}, {check.Builder, sh.building()}, {check.Owner, sh.owning()}, {check.Supplier, sh.supplying()}} {
			for _, n := range g.ns {
				for _, id := range n.ids {
					k := rules.ByID(id)
					if k == nil {
						t.Fatalf("%s: line %q names %s, which is no check", g.trade, n.label, id)
					}
					if own := g.trade != check.Owner && g.trade != check.Supplier; own && k.Trade != g.trade {
						t.Errorf("%s: line %q names %s, a %s's check", g.trade, n.label, id, k.Trade)
					}
					named[id] = true
				}
			}
		}
	}
	if len(named) < 45 {
		t.Errorf("%d checks are named by the numbers, want 45 at least", len(named))
	}
}

// TestNumbersSay reads the large figures of the sheets made by hand.
func TestNumbersSay(t *testing.T) {
	s := &sheets{r: fixture(t)}
	want := map[string]string{
		"Voltage": "198 to 220 V", "Phases and frequency": "1 phase, 60 Hz", "Breaker": "14 to 20 A", "Wire": "12 AWG",
		"Grounding (protective) conductor": "12 AWG", "Receptacle": "NEMA 6-20", "Cord reaches": "6 ft",
		"Connection": "3/4 GHT", "Pressure while flowing": "15 to 75 psi", "Static pressure, at most": "80 psi", "Inlet above floor": "16 in",
		"Width, at least": "26 in", "Machine, width × depth × height": "24 × 24 × 34 in", "Supply option to order": "208 V",
	}
	for _, n := range slices.Concat(s.electrical(), s.plumbing(), s.building(), s.owning(), s.supplying()) {
		if w, ok := want[n.label]; ok && n.need != w {
			t.Errorf("%s: got %q, want %q", n.label, n.need, w)
		}
		delete(want, n.label)
	}
	for label := range want {
		t.Errorf("no line %q", label)
	}
	s.r.Units = quantity.SI
	if got := s.plumbing()[3]; got.need != "103 to 517 kPa" || got.note != "15 to 75 psi" {
		t.Errorf("in SI: got %q, note %q", got.need, got.note)
	}
}

// TestDelivery words the date for every side of it.
func TestDelivery(t *testing.T) {
	r := fixture(t)
	w, err := templates.Words()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ date, want string }{
		{"", "No delivery date is given."}, {"2026-11-25", "Delivery is today, 2026-11-25."}, {"2026-11-26", "Delivery is on 2026-11-26, in 1 day."},
		{"2026-11-20", "Delivery was on 2026-11-20, 5 days ago."}, {"2027-11-25", "Delivery is on 2027-11-25, in 365 days."},
	} {
		r.Survey.Site.DeliveryOn = survey.Date{}
		if c.date != "" {
			if err := r.Survey.Site.DeliveryOn.UnmarshalText([]byte(c.date)); err != nil {
				t.Fatal(err)
			}
		}
		s := &sheets{r: r, w: w, path: order(r)}
		rest := " 4 points must be settled before it: E-08, E-12, D-14, S-05. 1 point more before the first start: T-04."
		if got := s.deliveryText(); got != c.want+rest {
			t.Errorf("%s: got %q, want %q", c.date, got, c.want+rest)
		}
	}
}

// TestManyFindings lays out 200 findings with long texts.
func TestManyFindings(t *testing.T) {
	r := fixture(t)
	long := strings.Repeat("a long remark about what was found behind the counter, ", 12)
	word := strings.Repeat("unbreakable", 30)
	r.Findings = nil
	many := 200
	if raceOn {
		many = 40
	}
	for i := range many {
		tr := check.Trades[i%len(check.Trades)]
		f := finding(check(fmt.Sprintf("%c-%03d", "EWDSCTR"[i%7], i), tr, check.Stage(i%4), "point of a title that is rather long and goes on"), check.Verdict(i%4), long, long+word, long, long)
		f.Remedies = []check.Remedy{{Change: long}, {Change: word}}
		f.At = []string{"water.cold.static_pressure"}
		r.Findings = append(r.Findings, f)
	}
	for _, paper := range []string{"letter", "a4"} {
		d, err := packetDoc(r, Options{Paper: paper})
		sound(t, d, err)
		text := strings.Join(textOf(d), "")
		for _, f := range r.Findings {
			if !strings.Contains(text, f.ID) {
				t.Errorf("%s: %s is lost", paper, f.ID)
			}
		}
		if d.Pages() > 700 {
			t.Errorf("%s: %d pages", paper, d.Pages())
		}
	}
}

// TestHostileText gives every free field what people paste into them.
func TestHostileText(t *testing.T) {
	r := fixture(t)
	r.Survey.Site.Name = strings.Repeat("The Very Long Name of a Bar by the Harbour ", 3)
	r.Survey.Site.Address = strings.Repeat("9", 300)
	r.Survey.Site.Electrician = strings.Repeat("W", 160)
	r.Survey.Site.Contact = "\x01 שלום 🍺\u202e"
	r.Survey.Notes = "🍺 " + strings.Repeat("note ", 1600)
	r.Findings[0].Action = "tab\there\r\nline \x00\xff 中文"
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

// TestPhotos prints each photo with its caption on pages of their own.
func TestPhotos(t *testing.T) {
	var o Options
	for i := range 9 {
		o.Photos = append(o.Photos, Photo{Name: fmt.Sprintf("p%d.jpg", i), Caption: fmt.Sprintf("caption %d", i), Data: picture(90, 120, uint8(i+1), false)})
	}
	o.Photos[3].Caption = ""
	d, err := packetDoc(fixture(t), o)
	sound(t, d, err)
	numbers, text := pagesOf(d, "Photos")
	if len(numbers) != 3 {
		t.Errorf("9 photos on %d pages, want 3", len(numbers))
	}
	for i := range 9 {
		want := fmt.Sprintf("caption %d\n", i)
		if i == 3 {
			want = "p3.jpg\n"
		}
		if !strings.Contains(text, want) {
			t.Errorf("no %q on the photo pages", want)
		}
	}
}

// TestReady lays out a site at which nothing is open.
func TestReady(t *testing.T) {
	r := fixture(t)
	r.Findings, r.Counts, r.Verdict = r.Findings[5:6], map[check.Verdict]int{check.OK: 1}, check.OK
	d, err := packetDoc(r, Options{})
	sound(t, d, err)
	_, summary := pagesOf(d, "Summary")
	if !strings.Contains(summary, "Ready: ") || strings.Contains(summary, "path to ready") {
		t.Errorf("the summary of a ready site: %q", summary)
	}
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
