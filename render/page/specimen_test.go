package page

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"
)

var testDate = time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)

// testPhoto is a generated picture: a gradient with a pattern that depends on
// the seed.
func testPhoto(w, h, seed int) []byte {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(90 + (x*seed+y*3)%120)
			if (x/20+y/20+seed)%3 == 0 {
				v += 40
			}
			img.SetRGBA(x, y, color.RGBA{v, v, uint8(min(255, int(v)+12)), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// specimen uses every part of the kit. The site and the numbers are invented
// for the demonstration.
func specimen(d *Doc) {
	d.Title("Rough-in for the electrician", "Marram Barworks GW-40 at The Tern, back bar · survey of 14 March 2026", "ELECTRICIAN")
	d.KeyValue(3,
		KV{Key: "Site", Value: "The Tern, Harbour Row 8"}, KV{Key: "Machine", Value: "Marram Barworks GW-40"}, KV{Key: "Revision", Value: "B, 14 March 2026"},
		KV{Key: "Your firm"}, KV{Key: "Contact on site"}, KV{Key: "Date of visit"})
	d.Heading(1, "Build to these numbers")
	d.Table(Table{Columns: []Column{{Head: "What", Flex: 1.5}, {Head: "Build", Flex: 1}, {Head: "Note", Flex: 2}, {Head: "Verdict", Width: 24}}, Rows: []Row{
		{Cells: []Cell{T("Supply at the machine"), B("208 V 3-phase"), T("60 Hz, four wires and ground. Measured at the panel on 12 March: 207 V."), {Verdict: OK}}},
		{Cells: []Cell{T("Circuit breaker"), B("30 A"), T("Dedicated circuit. The panel schedule shows 20 A today."), {Verdict: Fix}}},
		{Cells: []Cell{T("Receptacle height above finished floor, to its centre"), B("18 in"), T("Tolerance 2 in either way; behind the machine's left third.")}},
		{Cells: []Cell{T("Cord reach"), {Lines: 1}, T("Write in the distance from the receptacle to the machine's inlet."), {Verdict: Missing}}},
	}})
	d.Heading(2, "The receptacle")
	var faces []FaceSpec
	for _, n := range []string{"L21-30", "14-30", "5-20", "15-50"} {
		f, _ := NEMAFace(n)
		faces = append(faces, f)
	}
	for _, f := range faces {
		d.Need(36 + 2)
		d.Face(d.Left(), d.Y(), 36, f)
		d.Advance(36 + 2)
	}
	d.Heading(2, "How the machine is fed")
	d.Chain([]Node{
		{Name: "Meter", Value: "62 psi", Note: "static, 12 March", Edge: "1 in copper"},
		{Name: "Softener", Value: "2 gpg", Note: "after service", Edge: "¾ in", Verdict: OK},
		{Name: "Pressure regulator", Value: "55 psi", Edge: "¾ in", Verdict: Confirm},
		{Name: "Shut-off valve", Value: "54 psi", Note: "within 6 ft", Edge: "½ in hose", Verdict: Missing},
		{Name: "GW-40", Value: "15 to 75 psi", Note: "needs, flowing", Verdict: Fix},
	})
	d.Heading(1, "Points to settle")
	d.Paragraph("The drawing with the same numbers is on page " + d.PageOf("drawing") + ".")
	rows := []Row{{Group: true, Cells: []Cell{T("Power")}}}
	vs := []Verdict{Fix, Missing, Confirm, OK, NA}
	for i := range 14 {
		if i == 6 {
			rows = append(rows, Row{Group: true, Cells: []Cell{T("Water")}})
		}
		rows = append(rows, Row{Cells: []Cell{
			{Text: fmt.Sprintf("E-%02d", i+1), Bold: true}, {Verdict: vs[i%5]},
			TN("Rating of the circuit that will feed the machine", "Another load on the circuit trips it in the evening rush."),
			TN("20 A", "panel schedule"), T("30 A"), {Text: "Fit a 30 A breaker and check the conductor size with the local code.", Link: "drawing"}, {Tick: true},
		}})
	}
	d.Table(Table{Columns: []Column{{Head: "No.", Width: 12}, {Head: "Verdict", Width: 24}, {Head: "What", Flex: 2.2}, {Head: "Found", Flex: 1}, {Head: "Wanted", Flex: 0.8}, {Head: "Do this", Flex: 2}, {Head: "Done", Width: 11}}, Rows: rows})
	d.Paragraph("CONFIRM means that the reading is within its own uncertainty of the limit, or that somebody with authority must rule.")
	d.Need(95) // the remarks and the signature belong on one page
	d.SignOff(SignOff{Title: "Sign-off: electrician", Statement: "The numbers on this sheet were built as printed, or the difference is written under Remarks.", Labels: SignOffLabels{Company: "Company", Licence: "License no.", Name: "Name", Signature: "Signature", Date: "Date"}})

	d.Sheet(Line{Left: "The Tern · GW-40", Right: "Builder"})
	d.Title("Space and delivery", "Front view of the bay, from the bartender's side", "BUILDER")
	d.Anchor("drawing")
	d.Draw(demoCanvas(), 120)
	d.Heading(2, "Legend")
	d.Table(Table{Columns: []Column{{Head: "Mark", Width: 30}, {Head: "Meaning"}}, Rows: []Row{
		{Cells: []Cell{{Verdict: Fix}, T("Does not meet a requirement.")}},
		{Cells: []Cell{{Verdict: Missing}, T("An answer is needed and absent.")}},
		{Cells: []Cell{{Verdict: Confirm}, T("Meets it only within the reading's own uncertainty, or somebody with authority must rule.")}},
		{Cells: []Cell{{Verdict: OK}, T("Meets the requirement.")}},
		{Cells: []Cell{{Verdict: NA}, T("Does not arise here.")}},
	}})
	d.Heading(2, "To fill in on site")
	form := []Row{}
	for _, q := range []string{"Door width at the narrowest point", "Turn radius in the corridor", "Floor level across the bay"} {
		form = append(form, Row{Cells: []Cell{T(q), {Lines: 1}, {Lines: 1}, {Text: "not needed", Tick: true}}})
	}
	d.Table(Table{Lines: true, Columns: []Column{{Head: "Question", Flex: 1.5}, {Head: "Answer"}, {Head: "How measured"}, {Head: "", Width: 30}}, Rows: form})

	d.Sheet(Line{Left: "The Tern · GW-40", Right: "Photos"})
	d.Heading(1, "Photos")
	var photos []Photo
	for i := range 5 {
		w, h := 400, 300
		if i%2 == 1 {
			w, h = 300, 400
		}
		photos = append(photos, Photo{Name: fmt.Sprintf("photo-%d.jpg", i+1), Data: testPhoto(w, h, i+2), Ref: fmt.Sprint(i + 1), Caption: fmt.Sprintf("Photo %d: the bay with the old machine taken out; the drain is at the left behind the keg.", i+1)})
	}
	photos = append(photos, Photo{Name: "photo-6.jpg", Data: []byte("not a picture"), Caption: "Photo 6: under the counter."})
	d.Photos(photos...)

	d.Sheet(Line{Left: "The Tern · GW-40", Right: "All faces"})
	d.Heading(1, "Receptacle faces")
	faces = nil
	for _, n := range NEMANames {
		f, _ := NEMAFace(n)
		faces = append(faces, f)
	}
	for i, p := range IECNames {
		f, _ := IECFace(p, []int{6, 9, 6}[i])
		faces = append(faces, f)
	}
	for _, f := range faces {
		d.Need(30 + 2)
		d.Face(d.Left(), d.Y(), 30, f)
		d.Advance(30 + 2)
	}
	d.Heading(2, "A longer chain")
	var nodes []Node
	for i, n := range []string{"Street main", "Meter", "Backflow preventer", "Softener", "Water heater", "Mixing valve", "Shut-off valve", "Machine inlet"} {
		nodes = append(nodes, Node{Name: n, Value: fmt.Sprintf("%d psi", 70-3*i), Note: "flowing 4 gpm", Edge: "¾ in × 12 ft"})
	}
	d.Chain(nodes)
}

func demoCanvas() *Canvas {
	c := NewCanvas(1400, 1000)
	c.Block(0, 0, 250, 900, 88, Medium) // cabinet
	c.Block(900, 0, 500, 900, 88, Medium)
	c.Rect(270, 20, 610, 840, Thick) // machine
	c.Line(0, 0, 1400, 0, Thick)
	c.Rect(0, 900, 1400, 40, Medium) // counter
	c.Hatch(0, 900, 1400, 40)
	c.Circle(330, 120, 25, Medium)
	c.Arc(575, 860, 200, 180, 360, Dashed)
	c.Line(270, 500, 880, 500, Dashed)
	c.Name(575, 640, "GW-40")
	c.Name(125, 450, "Cabinet")
	c.Name(1150, 450, "Back bar with ice well")
	c.Label(330, 120, "Drain, 1½ in standpipe")
	c.Label(820, 457, "Receptacle, centre 18 in above floor")
	c.Label(820, 250, "Cold and hot valves")
	c.Circle(820, 457, 18, Medium)
	c.Circle(820, 250, 12, Medium)
	c.Conflict(880, 700, "1")
	c.Conflict(330, 120, "2")
	c.DimH(250, 900, 900, "25 5/8 in clear", Bottom)
	c.DimH(270, 880, 20, "24 in machine", Bottom)
	c.DimH(250, 270, 20, "¾ in", Bottom)
	c.DimH(880, 900, 20, "¾ in", Bottom)
	c.DimH(0, 1400, 0, "55 1/8 in", Bottom)
	c.DimV(0, 900, 0, "35 3/8 in under counter", LeftSide)
	c.DimV(0, 940, 0, "37 in", LeftSide)
	c.DimV(0, 457, 820, "18 in", RightSide)
	c.DimV(0, 250, 820, "10 in", RightSide)
	c.DimV(860, 900, 880, "1½ in", RightSide)
	c.ScaleBar("in")
	return c
}

func specimenOptions() Options {
	return Options{
		Title: "Packet for The Tern", Subject: "Site survey of a glass washer", Date: testDate,
		Header: Line{Left: "The Tern · GW-40", Right: "Electrician"},
		Footer: Line{Left: "firstfill · packet B · 14 March 2026", Centre: "Marram Barworks GW-40"},
		Boxed:  "A survey result, not a design or a permit document. Local code, the authority having jurisdiction and licensed trades decide.",
	}
}

// TestSpecimen builds the specimen on both papers and checks that no text
// leaves its place. With FIRSTFILL_SPECIMEN set to a folder, the files are kept
// there to be looked at.
func TestSpecimen(t *testing.T) {
	dir := os.Getenv("FIRSTFILL_SPECIMEN")
	if dir == "" {
		dir = t.TempDir()
	}
	for _, p := range []struct {
		name  string
		paper Paper
	}{{"letter", Letter}, {"a4", A4}} {
		o := specimenOptions()
		o.Paper = p.paper
		d, err := New(o, specimen)
		if err != nil {
			t.Fatal(err)
		}
		b, err := d.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range d.Overflows() {
			t.Error(o)
		}
		if w := d.Warnings(); len(w) != 1 || w[0].Field != "photo-6.jpg" {
			t.Errorf("got warnings %v, want one for photo-6.jpg", w)
		}
		if !bytes.HasPrefix(b, []byte("%PDF-")) {
			t.Error("not a PDF file")
		}
		if err := os.WriteFile(filepath.Join(dir, "specimen-"+p.name+".pdf"), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
