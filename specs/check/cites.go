package check

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"firstfill/specs/trade"
)

// sheetDocument is the source of a limit that stands on the machine's
// requirement sheet.
const sheetDocument = "machine requirement sheet"

// numbering is the edition of the NEC whose clause numbers stand in the tables.
const numbering = 2023

// Cites are the sources of a check that hold at the site: those of the codes
// enforced there, never of another code or of another edition's own rule. A
// clause whose number is that of another edition than the one enforced says so.
// The machine's sheet is cited as itself.
func (c *Case) Cites(k *Check) []trade.Source {
	nec, edition := c.Machine.Basis == "nec", 0
	if code := c.Survey.Codes.Electrical; code != "" {
		var year string
		year, nec = strings.CutPrefix(code, "nec-")
		edition, _ = strconv.Atoi(year)
	}
	cites := slices.DeleteFunc(slices.Clone(k.Sources), func(s trade.Source) bool {
		return nec && metric(s) || !nec && american(s)
	})
	for i, s := range cites {
		if s.Document == sheetDocument {
			cites[i] = trade.Source{Document: c.Machine.Source} // that sheet, whoever wrote it; not attested by us
		}
	}
	cites = plumbing(cites, c.Survey.Codes.Plumbing)
	if !nec || edition == 0 {
		return cites
	}
	return editionOf(cites, edition)
}

// american says whether a source is of the NEC or of a standard that goes with it.
func american(s trade.Source) bool {
	return slices.Contains([]string{"NEC", "NEMA", "ANSI", "Building code forum"}, s.Document)
}

// metric says whether a source is of the IEC's rules for installations, or of
// a national form of them.
func metric(s trade.Source) bool {
	return slices.Contains([]string{"IEC", "EN", "UK supply regulations"}, s.Document) || strings.HasPrefix(s.Document, "BS ")
}

// plumbing keeps the sources of the plumbing code enforced where a check cites both.
func plumbing(cites []trade.Source, code string) []trade.Source {
	families := map[string]string{"ipc": "IPC", "upc": "UPC"}
	own, ok := families[code]
	if !ok || !slices.ContainsFunc(cites, func(s trade.Source) bool { return strings.HasPrefix(s.Document, own) }) {
		return cites
	}
	return slices.DeleteFunc(cites, func(s trade.Source) bool {
		for _, other := range families {
			if other != own && strings.HasPrefix(s.Document, other) && !strings.Contains(s.Document, own) {
				return true
			}
		}
		return false
	})
}

// editionOf drops the rules that only other editions of the NEC have, and the
// clauses that the enforced edition has a source of its own for; the others
// say whose numbers they carry.
func editionOf(cites []trade.Source, edition int) []trade.Source {
	var kept []trade.Source
	for _, s := range cites {
		switch {
		case s.Document != "NEC" || s.Edition == "" || covers(s.Edition, edition):
			kept = append(kept, s)
		case !covers(s.Edition, numbering):
			// another edition's own rule
		case slices.ContainsFunc(cites, func(o trade.Source) bool {
			return o.Document == "NEC" && o.Edition != "" && covers(o.Edition, edition) && section(o) == section(s)
		}):
			// the enforced edition's own text stands beside it
		default:
			s.Edition, s.Clause = "", s.Clause+", numbering of edition "+strconv.Itoa(numbering)
			kept = append(kept, s)
		}
	}
	return kept
}

var years = regexp.MustCompile(`\d{4}`)

// covers says whether an edition, as a source names it ("2023", "2014 and
// 2017", "2008 to 2023"), holds a year.
func covers(named string, edition int) bool {
	ys := years.FindAllString(named, -1)
	if slices.Contains(ys, strconv.Itoa(edition)) {
		return true
	}
	if len(ys) == 2 && strings.Contains(named, " to ") {
		from, _ := strconv.Atoi(ys[0])
		to, _ := strconv.Atoi(ys[1])
		return from <= edition && edition <= to
	}
	return false
}

// section is the first clause that a source names, without its paragraphs.
func section(s trade.Source) string {
	name, _, _ := strings.Cut(s.Clause, "(")
	name, _, _ = strings.Cut(name, " and ")
	return name
}
