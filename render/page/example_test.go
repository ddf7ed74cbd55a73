package page_test

import (
	"fmt"
	"time"

	"firstfill/render/page"
)

func ExampleNew() {
	d, err := page.New(page.Options{
		Paper: page.A4, Title: "Rough-in", Date: time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
		Header: page.Line{Left: "The Tern · GW-40", Right: "Plumber"},
		Footer: page.Line{Left: "packet B"},
		Boxed:  "A survey result, not a design or a permit document.",
	}, func(d *page.Doc) {
		d.Title("Rough-in for the plumber", "The Tern", "PLUMBER")
		d.Heading(1, "Build to these numbers")
		d.KeyValue(2, page.KV{Key: "Cold water, flowing", Value: "55 psi, 15 to 75 psi wanted"})
		d.Paragraph("Drawing on page " + d.PageOf("bay"))
		d.PageBreak()
		d.Anchor("bay")
		c := page.NewCanvas(600, 850)
		c.Rect(0, 0, 600, 850, page.Thick)
		c.DimH(0, 600, 0, "600 mm", page.Bottom)
		d.Draw(c, 90)
		d.SignOff(page.SignOff{Title: "Sign-off: plumber", Labels: page.SignOffLabels{Company: "Company", Licence: "License no.", Name: "Name", Signature: "Signature", Date: "Date"}})
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := d.Bytes()
	fmt.Println(d.Pages(), len(b) > 10_000, len(d.Warnings()), len(d.Overflows()), err)
	// Output: 2 true 0 0 <nil>
}
