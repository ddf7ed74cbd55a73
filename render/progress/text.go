package progress

import (
	"fmt"
	"io"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// Text writes the reports in 80 columns.
func (rs Reports) Text(w io.Writer) error {
	var b strings.Builder
	for i, p := range rs {
		if i > 0 {
			b.WriteString("\n")
		}
		p.text(&b)
	}
	_, err := io.WriteString(w, terminal.Fold(b.String()))
	return err
}

func (p Report) text(b *strings.Builder) {
	fmt.Fprintf(b, "%s\n%s\n", p.Book.Label(), p.File)
	fmt.Fprintf(b, "\n  %-13s%6s%13s%8s%10s%12s%8s\n", "", "open", "in progress", "signed", "reopened", "not needed", "blocks")
	line := func(name string, counts map[signoff.State]int, blocks int) {
		fmt.Fprintf(b, "  %-13s%6d%13d%8d%10d%12d%8d\n", name, counts[signoff.IsOpen], counts[signoff.IsInProgress], counts[signoff.IsSigned], counts[signoff.IsReopened], counts[signoff.IsNotNeeded], blocks)
	}
	for _, t := range check.Trades {
		if counts := p.Counts[t]; counts != nil {
			blocks := 0
			for _, j := range p.Items {
				if j.Trade == t && j.Blocks {
					blocks++
				}
			}
			line(string(t), counts, blocks)
		}
	}
	line("all", p.Total, p.Blocks)
	for _, s := range []signoff.State{signoff.IsReopened, signoff.IsOpen, signoff.IsInProgress, signoff.IsNotNeeded, signoff.IsSigned} {
		if p.Total[s] == 0 {
			continue
		}
		fmt.Fprintf(b, "\n%s\n", s)
		for _, t := range check.Trades {
			for _, j := range p.Items {
				if j.Trade != t || j.State != s {
					continue
				}
				fmt.Fprintf(b, "  %-5s %-8s %-12s %s\n", j.ID, j.Verdict, j.Trade, terminal.OneLine(j.Title))
				switch {
				case s == signoff.IsSigned || s == signoff.IsNotNeeded:
					fmt.Fprintf(b, "        %s\n", terminal.OneLine(j.Mark.String()))
				default:
					fmt.Fprintf(b, "        %s\n", terminal.OneLine(j.Action))
					if m := j.Mark; !m.Empty() {
						fmt.Fprintf(b, "        written: %s\n", terminal.OneLine(m.String()))
					}
				}
				for _, f := range j.Faults {
					fmt.Fprintf(b, "        ! %s\n", terminal.OneLine(f))
				}
				if s == signoff.IsReopened {
					for _, e := range strings.Split(p.Book.EarlierOf(j.ID), "\n") {
						if e != "" {
							fmt.Fprintf(b, "        earlier: %s\n", terminal.OneLine(e))
						}
					}
				}
			}
		}
	}
	var closed []signoff.Earlier
	for _, e := range p.Book.Earlier {
		if e.Outcome == signoff.Closed {
			closed = append(closed, e)
		}
	}
	if len(closed) > 0 {
		b.WriteString("\nclosed by re-survey\n")
		for _, e := range closed {
			fmt.Fprintf(b, "  %-5s %-21s %s\n        %s\n", e.ID, e.Trade, terminal.OneLine(e.Title), terminal.OneLine(e.String()))
		}
	}
	b.WriteString("\n")
	if p.Next != "" {
		fmt.Fprintf(b, "Next date: %s.\n", p.Next)
	}
	if n := readingsOf(p.Progress); n > 0 {
		fmt.Fprintf(b, "%s signed; \"firstfill signoff %s --update SITE\" takes %s back into the questionnaire.\n", terminal.Plural(n, "reading is", "readings are"), strings.ReplaceAll(p.File, " + ", " "), map[bool]string{true: "it", false: "them"}[n == 1])
	}
	if p.Blocks > 0 {
		fmt.Fprintf(b, "Not ready: %s.\n", terminal.Plural(p.Blocks, "item still blocks", "items still block"))
	} else {
		b.WriteString("Nothing blocks.\n")
	}
}

func readingsOf(p signoff.Progress) int {
	n := 0
	for _, j := range p.Items {
		if j.State == signoff.IsSigned {
			if rs, err := j.Readings(); err == nil {
				n += len(rs)
			}
		}
	}
	return n
}
