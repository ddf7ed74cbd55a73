package board

import (
	model "firstfill/specs/board"
	"fmt"
	"io"
	"strconv"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs/check"
)

// How much of what can be long is printed; JSON, CSV and workbook hold all of it.
const (
	maxRemarks = 4  // of one site
	maxFaults  = 6  // checks of one trade
	maxNamed   = 12 // files of one note
)

// short heads the column of a trade where room is scarce.
var short = map[check.Trade]string{check.Electrician: "EL", check.Plumber: "PL", check.Builder: "BU", check.Owner: "OW", check.Supplier: "SU"}

// legend explains short.
func legend() string {
	var parts []string
	for _, t := range check.Trades {
		parts = append(parts, short[t]+" "+string(t))
	}
	return strings.Join(parts, ", ") + "."
}

// widths of the text's columns.
const (
	textDate = 10
	textDays = 6
	textSite = 30
	indent   = textDate + textDays + 2
)

var readinessColours = map[model.Readiness]string{model.Blocked: "1;31", model.Unreadable: "1;35", model.ToConfirm: "33", model.Ready: "32"}

// TextOptions of a listing.
type TextOptions struct {
	Color bool // ANSI colours
}

// WriteText writes the board for a terminal, in 80 columns.
func WriteText(w io.Writer, b *model.Board, o TextOptions) error {
	p := &listing{}
	p.para("", terminal.OneLine(fmt.Sprintf("%s, %s", b.Folder, b.Today)))
	p.para("", b.Sentence())
	if t := b.Outlook(); t != "" {
		p.para("", terminal.OneLine(t))
	}
	for _, r := range model.Readinesses {
		if b.Counts[r] == 0 {
			continue
		}
		p.line("")
		title := fmt.Sprintf("%s (%d)", strings.ToUpper(string(r)), b.Counts[r])
		if o.Color {
			p.b.WriteString("\x1b[" + readinessColours[r] + "m" + title + "\x1b[0m\n")
		} else {
			p.line(title)
		}
		if r == model.Unreadable {
			for _, row := range b.Rows {
				if row.Readiness == r {
					p.unreadable(row)
				}
			}
			continue
		}
		p.head()
		for _, row := range b.Rows {
			if row.Readiness == r {
				p.row(row)
			}
		}
	}
	if b.Sites() > 1 {
		p.line("")
		p.line(fmt.Sprintf("%-*s%s", indent, "ALL SITES", p.counts("", b.Total, b.Trades)))
	}
	p.faults(b)
	p.notes(b)
	p.line("")
	p.para("", legend()+" "+model.Disclaimer)
	_, err := io.WriteString(w, p.b.String())
	return err
}

type listing struct{ b strings.Builder }

func (p *listing) line(s string) { p.b.WriteString(strings.TrimRight(s, " ") + "\n") }

func (p *listing) para(head, text string) {
	for i, l := range terminal.Wrap(text, terminal.Width-terminal.Columns(head)) {
		if i == 0 {
			p.line(head + l)
			continue
		}
		p.line(strings.Repeat(" ", terminal.Columns(head)) + l)
	}
}

// counts lays out the numbers of one row behind a name.
func (p *listing) counts(name string, total model.Tally, trades map[check.Trade]model.Tally) string {
	text := pad(name, textSite) + fmt.Sprintf("%6s%6s", number(total.Blocks), number(total.Open))
	for _, t := range check.Trades {
		text += fmt.Sprintf("%4s", number(trades[t].Open))
	}
	return text
}

func (p *listing) head() {
	text := fmt.Sprintf("%-*s%*s  %s%6s%6s", textDate, "delivery", textDays, "days", pad("site", textSite), "blocks", "open")
	for _, t := range check.Trades {
		text += fmt.Sprintf("%4s", short[t])
	}
	p.line(text)
}

func (p *listing) row(r model.Row) {
	day, days := "no date", ""
	if r.Delivery.Known() {
		day, days = r.Delivery.String(), strconv.Itoa(r.Days)
	}
	name := terminal.Wrap(terminal.OneLine(r.Name()), textSite-1)
	p.line(fmt.Sprintf("%-*s%*s  %s", textDate, day, textDays, days, p.counts(name[0], r.Total, r.Trades)))
	more := func(text string) { p.para(strings.Repeat(" ", indent), text) }
	for _, l := range name[1:] {
		more(l)
	}
	more(terminal.OneLine(machine(r)))
	if t := r.BlockedBy(); t != "" {
		more(t)
	}
	if t := r.ToConfirmIDs(); t != "" {
		more(map[bool]string{true: "open too: ", false: "open: "}[r.Total.Blocks > 0] + t)
	}
	if t := r.OldestText(); t != "" {
		more("oldest: " + t)
	}
	if r.Next != "" {
		more("promised next: " + r.Next)
	}
	if t := further(r); t != "" {
		more(terminal.OneLine(t))
	}
	for i, t := range r.Remarks {
		if i == maxRemarks && len(r.Remarks) > maxRemarks+1 {
			more(fmt.Sprintf("! and %d remarks more", len(r.Remarks)-i))
			break
		}
		p.para(strings.Repeat(" ", indent)+"! ", terminal.OneLine(t))
	}
}

// further lists the files of a site of which another counts; empty when there is none.
func further(r model.Row) string {
	var list []string
	for _, f := range r.Files {
		if f.Role != model.RoleSurvey && f.Role != model.RoleBook && f.Role != model.RoleBroken {
			list = append(list, f.Path+" ("+f.Role+")")
		}
	}
	if len(list) == 0 {
		return ""
	}
	if len(list) > maxNamed+1 {
		list = append(list[:maxNamed], fmt.Sprintf("and %d more", len(list)-maxNamed))
	}
	return "also here: " + strings.Join(list, ", ")
}

// machine words what is ordered and which packet is out.
func machine(r model.Row) string {
	text := r.Machine
	if r.Issued.Known() {
		text += ", revision " + r.Revision + ", issued " + r.Issued.String()
	}
	if r.Total.Closed > 0 {
		text += fmt.Sprintf(", %d of %d signed", r.Total.Closed, len(r.Items))
	}
	return text
}

func (p *listing) unreadable(r model.Row) {
	for _, f := range r.Files {
		p.para("  ", terminal.OneLine(f.Path))
	}
	if r.Name() != "" {
		p.para("      ", terminal.OneLine(r.Name()))
	}
	p.para("      ", terminal.OneLine(r.Error))
}

func (p *listing) faults(b *model.Board) {
	if len(b.Faults) == 0 {
		return
	}
	p.line("")
	p.line(fmt.Sprintf("%-53s%9s%9s%9s", "MOST FREQUENT, of "+model.Count(b.Sites(), "site", "sites"), "FIX", "MISSING", "open"))
	for _, t := range check.Trades {
		list := frequent(b, t, maxFaults)
		if len(list) == 0 {
			continue
		}
		p.line(string(t))
		for _, f := range list {
			title := terminal.Wrap(terminal.OneLine(f.Title), 45)
			p.line(fmt.Sprintf("  %-6s%s%8s%9s%9s", f.ID, pad(title[0], 46), number(f.Fix), number(f.Missing), number(f.Open)))
			for _, l := range title[1:] {
				p.line("        " + l)
			}
		}
	}
}

// frequent returns the checks of a trade that found something that blocks, the most frequent first.
func frequent(b *model.Board, t check.Trade, most int) []model.Fault {
	var list []model.Fault
	for _, f := range b.Faults {
		if f.Trade == t && f.Found() > 0 && len(list) < most {
			list = append(list, f)
		}
	}
	return list
}

func (p *listing) notes(b *model.Board) {
	if len(b.Notes) == 0 {
		return
	}
	p.line("")
	p.line("NOT ON THE BOARD")
	for _, n := range b.Notes {
		mark := "  "
		if n.Fault {
			mark = "! "
		}
		p.para(mark, terminal.OneLine(n.Text+": "+named(n)))
	}
}

// named lists a note's files, and how many more there are.
func named(n model.Note) string {
	list := n.Files
	if len(list) > maxNamed+1 {
		return strings.Join(list[:maxNamed], ", ") + fmt.Sprintf(" and %d more", len(list)-maxNamed)
	}
	return strings.Join(list, ", ")
}

func number(n int) string {
	if n == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}

// pad fills up to a width with blanks; the next column needs one.
func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(1, width-terminal.Columns(s)))
}
