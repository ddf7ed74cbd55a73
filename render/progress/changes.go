package progress

import (
	"fmt"
	"io"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs/signoff"
)

// Changes are what differs from one book to another.
type Changes struct {
	from, to signoff.Book
	list     []signoff.Difference
}

// Compare lists what changed between two revisions of one site.
func Compare(from, to signoff.Book) Changes { return Changes{from, to, signoff.Diff(from, to)} }

// JSON writes one object with every change.
func (c Changes) JSON(w io.Writer) error {
	list := c.list
	if list == nil {
		list = []signoff.Difference{}
	}
	return writeJSON(w, map[string]any{"format": 1, "from": c.from.Revision, "to": c.to.Revision, "changes": list})
}

// CSV writes a row for each change.
func (c Changes) CSV(w io.Writer) error {
	rows := [][]string{{"id", "trade", "what", "before", "after"}}
	for _, d := range c.list {
		rows = append(rows, []string{d.ID, string(d.Trade), d.What, d.Before, d.After})
	}
	return writeCSV(w, rows)
}

// Text writes the changes in 80 columns, by item.
func (c Changes) Text(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, from revision %s to %s\n", strings.TrimSpace(c.to.Reference+" "+c.to.Site), c.from.Revision, c.to.Revision)
	last := ""
	for _, d := range c.list {
		if d.ID != last {
			fmt.Fprintf(&b, "\n%-5s %-12s %s\n", d.ID, d.Trade, terminal.OneLine(c.title(d.ID)))
			last = d.ID
		}
		fmt.Fprintf(&b, "      %s: %s -> %s\n", d.What, nothing(d.Before), nothing(d.After))
	}
	if len(c.list) == 0 {
		b.WriteString("\nNothing changed.\n")
	}
	_, err := io.WriteString(w, terminal.Fold(b.String()))
	return err
}

func (c Changes) title(id string) string {
	for _, b := range []signoff.Book{c.to, c.from} {
		if it := b.Item(id); it != nil {
			return it.Title
		}
	}
	return ""
}

func nothing(s string) string {
	if s = terminal.OneLine(s); s == "" {
		return "nothing"
	}
	return s
}
