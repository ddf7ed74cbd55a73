package board

import (
	model "firstfill/specs/board"
	"fmt"
	"strconv"
	"strings"
	"time"

	"firstfill/render/page"
	"firstfill/render/terminal"
	"firstfill/render/words"
	"firstfill/specs/check"
)

// chartedPDF is how many sites are drawn on paper.
const chartedPDF = 60

// PDF prints the board on landscape paper for a meeting. The warnings name
// what could not be shown as written.
func PDF(b *model.Board, paper string) (data []byte, warnings []string, err error) {
	d, err := layOut(b, paper)
	if err != nil {
		return nil, nil, err
	}
	for _, w := range d.Warnings() {
		warnings = append(warnings, w.String())
	}
	data, err = d.Bytes()
	return data, warnings, err
}

func layOut(b *model.Board, paper string) (*page.Doc, error) {
	o := page.Options{Landscape: true, Title: "Sites, " + b.Today.String(), Date: b.Today.Time(),
		Header: page.Line{Left: "Sites · " + cut(terminal.OneLine(b.Folder), 60), Right: b.Today.String()}, Boxed: model.Disclaimer, Number: words.Reader{}.PageNumber}
	if paper == "a4" {
		o.Paper = page.A4
	}
	if !b.Today.Known() {
		o.Date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return page.New(o, func(d *page.Doc) {
		d.Title("Sites, "+b.Today.String(), strings.TrimSpace(b.Sentence()+" "+b.Outlook()), "BOARD")
		if b.Sites() > 0 {
			d.StyledParagraph("Open items by trade: "+legend()+where(d, b), page.Small)
		}
		for _, r := range model.Readinesses {
			if b.Counts[r] == 0 {
				continue
			}
			d.Heading(2, fmt.Sprintf("%s (%d)", title(string(r)), b.Counts[r]))
			if r == model.Unreadable {
				d.Table(unreadableTable(b))
				continue
			}
			d.Table(siteTable(b, r))
		}
		if len(b.Rows) == 0 {
			d.Paragraph("No site is on the board.")
		}
		drawChart(d, b)
		if t := faultTable(b); len(t.Rows) > 0 {
			d.AnchoredHeading(2, fmt.Sprintf("Most frequent faults, of %s", model.Count(b.Sites(), "site", "sites")), anchorFaults)
			d.Table(t)
		}
		if len(b.Notes) > 0 {
			d.Heading(2, "Not on the board")
			t := page.Table{Columns: []page.Column{{Head: "", Width: 18}, {Head: "What", Flex: 1}, {Head: "Files", Flex: 1.4}}}
			for _, n := range b.Notes {
				kind := page.T("note")
				if n.Fault {
					kind = page.B("fault")
				}
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{kind, page.T(terminal.OneLine(n.Text)), page.T(terminal.OneLine(named(n)))}})
			}
			d.Table(t)
		}
	})
}

// Places that the first page names.
const (
	anchorChart  = "chart"
	anchorFaults = "faults"
)

// where says on which pages chart and faults are.
func where(d *page.Doc, b *model.Board) string {
	text := ""
	if shown, _ := chartedFaults(b, 1); len(shown) > 0 {
		text += " Drawn by trade and site on page " + d.PageOf(anchorChart) + "."
	}
	if len(faultTable(b).Rows) > 0 {
		text += " Most frequent faults on page " + d.PageOf(anchorFaults) + "."
	}
	return text
}

func siteTable(b *model.Board, of model.Readiness) page.Table {
	t := page.Table{Columns: []page.Column{{Head: "Delivery", Width: 20}, {Head: "Days", Width: 12, Align: page.Right}, {Head: "Site", Flex: 1.15}, {Head: "Blocks", Width: 14, Align: page.Right}, {Head: "Open", Width: 12, Align: page.Right}}}
	for _, trade := range check.Trades {
		t.Columns = append(t.Columns, page.Column{Head: short[trade], Width: 9, Align: page.Right})
	}
	head := "What blocks"
	if of != model.Blocked {
		head = "Open"
	}
	t.Columns = append(t.Columns, page.Column{Head: head, Flex: 1.5}, page.Column{Head: "Oldest open, dates, remarks", Flex: 1.4})
	for _, r := range b.Rows {
		if r.Readiness != of {
			continue
		}
		day, days := page.T("no date"), page.T("")
		if r.Delivery.Known() {
			day, days = page.T(r.Delivery.String()), page.B(strconv.Itoa(r.Days))
		}
		name := page.TN(terminal.OneLine(r.Name()), terminal.OneLine(machine(r)))
		name.Bold = true
		blocks := page.T(number(r.Total.Blocks))
		blocks.Bold = r.Total.Blocks > 0
		row := page.Row{Cells: []page.Cell{day, days, name, blocks, page.T(number(r.Total.Open))}}
		for _, trade := range check.Trades {
			row.Cells = append(row.Cells, page.T(number(r.Trades[trade].Open)))
		}
		what := page.T(r.BlockedBy())
		if open := r.ToConfirmIDs(); open != "" {
			if what.Text == "" {
				what.Text = open
			} else {
				what.Note = "open too: " + open
			}
		}
		if what.Text == "" {
			what.Text = "-"
		}
		said := page.Cell{Text: r.OldestText()}
		if r.Next != "" {
			said.Text = strings.TrimPrefix(said.Text+"\n", "\n") + "promised next: " + r.Next
		}
		var remarks []string
		if t := further(r); t != "" {
			remarks = append(remarks, terminal.OneLine(t))
		}
		for i, s := range r.Remarks {
			if i == maxRemarks && len(r.Remarks) > maxRemarks+1 {
				remarks = append(remarks, fmt.Sprintf("and %d remarks more", len(r.Remarks)-i))
				break
			}
			remarks = append(remarks, terminal.OneLine(s))
		}
		said.Note = strings.Join(remarks, "\n")
		row.Cells = append(row.Cells, what, said)
		t.Rows = append(t.Rows, row)
	}
	return t
}

func unreadableTable(b *model.Board) page.Table {
	t := page.Table{Columns: []page.Column{{Head: "File", Flex: 1}, {Head: "Site, as far as it can be read", Flex: 0.8}, {Head: "Why", Flex: 1.6}}}
	for _, r := range b.Rows {
		if r.Readiness != model.Unreadable {
			continue
		}
		var files []string
		for _, f := range r.Files {
			files = append(files, terminal.OneLine(f.Path))
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{page.B(strings.Join(files, "\n")), page.T(terminal.OneLine(r.Name())), page.T(terminal.OneLine(r.Error))}})
	}
	return t
}

func faultTable(b *model.Board) page.Table {
	right := func(head string) page.Column { return page.Column{Head: head, Width: 24, Align: page.Right} }
	t := page.Table{Columns: []page.Column{{Head: "ID", Width: 16}, {Head: "Check"}, right("Sites"), right("FIX"), right("MISSING"), right("Still open")}}
	for _, trade := range check.Trades {
		list := frequent(b, trade, maxFaults)
		if len(list) > 0 {
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{page.B(title(string(trade)))}})
		}
		for _, f := range list {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{page.B(f.ID), page.T(terminal.OneLine(f.Title)), page.T(number(f.Found())), page.T(number(f.Fix)), page.T(number(f.Missing)), page.T(number(f.Open))}})
		}
	}
	return t
}

// Measures of the chart in millimetres.
const (
	barStep  = 6.0
	barHigh  = 3.7
	barLabel = 66.0
	barText  = 9.0 // behind a bar
	inset    = 1.5 // the kit's margin round a drawing
)

// drawChart draws a row of bars for each site, one column a trade, all to one
// scale: what blocks filled, what else is open outlined, the number behind it.
func drawChart(d *page.Doc, b *model.Board) {
	shown, more := chartedFaults(b, chartedPDF)
	if len(shown) == 0 {
		return
	}
	d.PageBreak()
	d.AnchoredHeading(2, "Open items by trade and site", anchorChart)
	text := "Filled: FIX or MISSING, it blocks. Outlined: open, but it doesn't block. The number is all that is open, one scale for all trades."
	if more > 0 {
		text += fmt.Sprintf(" The %d most urgent of %d sites with open items are drawn; the others are in the tables.", len(shown), len(shown)+more)
	}
	d.StyledParagraph(text, page.Small)
	most := 1
	for _, r := range shown {
		for _, t := range check.Trades {
			most = max(most, r.Trades[t].Open)
		}
	}
	for len(shown) > 0 {
		n := min(len(shown), int((d.Room()-barStep-4)/barStep))
		if n < 1 {
			d.PageBreak()
			continue
		}
		drawBars(d, shown[:n], most)
		shown = shown[n:]
		if len(shown) > 0 {
			d.PageBreak()
		}
	}
	if b.Sites() > 1 {
		d.Heading(3, "All sites together")
		total := model.Row{Site: model.Count(b.Sites(), "site", "sites"), Trades: b.Trades}
		most = 1
		for _, t := range check.Trades {
			most = max(most, b.Trades[t].Open)
		}
		drawBars(d, []model.Row{total}, most)
	}
}

func drawBars(d *page.Doc, rows []model.Row, most int) {
	h := barStep*float64(len(rows)+1) + 1 // the last bar keeps off the drawing's margin
	d.Need(h + 2)
	top, left := d.Y(), d.Left()
	step := (d.Width() - barLabel) / float64(len(check.Trades))
	scale := (step - barText - 2) / float64(most)
	w, high := d.Width()-2*inset, h-2*inset
	c := page.NewCanvas(w, high)
	// at turns a place below the chart's top into the drawing's own.
	at := func(x, y float64) (float64, float64) { return x - inset, high + inset - y }
	box := func(x, y, width, height float64, filled bool) {
		x0, y0 := at(x, y+height)
		if filled {
			c.Block(x0, y0, width, height, 30, page.Pen{Width: 0.15})
			return
		}
		c.Rect(x0, y0, width, height, page.Pen{Width: 0.25})
	}
	rule := func(y float64) {
		x0, y0 := at(inset, y)
		c.Line(x0, y0, w, y0, page.Pen{Width: 0.12, Grey: 60})
	}
	head := page.Style{Size: 8, Bold: true}
	for k, t := range check.Trades {
		d.TextBox(page.Rect{X: left + barLabel + float64(k)*step, Y: top + 0.8, W: step - 1, H: barStep}, title(string(t)), head)
		x0, y0 := at(barLabel+float64(k)*step, barStep)
		_, y1 := at(0, h-inset-0.5)
		c.Line(x0, y0, x0, y1, page.Pen{Width: 0.3})
	}
	label := page.Style{Size: 8}
	for i, r := range rows {
		y := barStep * float64(i+1)
		rule(y)
		d.TextBox(page.Rect{X: left + inset, Y: top + y + 0.9, W: barLabel - inset - 2, H: barStep}, fitted(r.Name(), barLabel-inset-2, label), label)
		for k, t := range check.Trades {
			n := r.Trades[t]
			x := barLabel + float64(k)*step
			blocks, open := float64(n.Blocks)*scale, float64(n.Open-n.Blocks)*scale
			pad := (barStep - barHigh) / 2
			if n.Blocks > 0 {
				box(x, y+pad, blocks, barHigh, true)
			}
			if n.Open > n.Blocks {
				box(x+blocks, y+pad, open, barHigh, false)
			}
			if n.Open > 0 {
				st := label
				st.Bold = n.Blocks > 0
				d.TextBox(page.Rect{X: left + x + blocks + open + 1, Y: top + y + 0.9, W: barText, H: barStep}, strconv.Itoa(n.Open), st)
			}
		}
	}
	d.DrawIn(c, page.Rect{X: left, Y: top, W: d.Width(), H: h})
	d.Space(h + 2)
}

// fitted shortens text to one line of a width.
func fitted(s string, w float64, st page.Style) string {
	s, _ = page.Clean(terminal.OneLine(s))
	if page.TextWidth(s, st) <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && page.TextWidth(string(r)+"…", st) > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}
