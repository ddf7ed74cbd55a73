package progress

import (
	"io"
	"strings"

	"firstfill/specs/check"
	"firstfill/specs/signoff"
)

// JSON writes one object with every workbook.
func (rs Reports) JSON(w io.Writer) error {
	list := []any{}
	for _, p := range rs {
		list = append(list, p.json())
	}
	return writeJSON(w, map[string]any{"format": 1, "workbooks": list})
}

// CSV writes a row for each item.
func (rs Reports) CSV(w io.Writer) error {
	rows := [][]string{{"file", "site", "reference", "machine", "revision", "trade", "id", "verdict", "item", "state", "blocks", "status", "done_by", "company", "licence", "date", "due", "reading", "note", "faults"}}
	for _, p := range rs {
		for _, j := range p.Items {
			m := j.Mark
			blocks := "no"
			if j.Blocks {
				blocks = "yes"
			}
			rows = append(rows, []string{p.File, p.Book.Site, p.Book.Reference, p.Book.Machine, p.Book.Revision, string(j.Trade), j.ID, j.Verdict.String(), j.Title, string(j.State), blocks,
				m.Status, m.By, m.Company, m.Licence, m.Date, m.Due, m.Reading, m.Note, strings.Join(j.Faults, "; ")})
		}
	}
	return writeCSV(w, rows)
}

func (p Report) json() any {
	counts := func(m map[signoff.State]int) map[string]int {
		out := map[string]int{}
		for _, s := range signoff.States {
			out[string(s)] = m[s]
		}
		return out
	}
	trades := map[string]any{}
	for t, m := range p.Counts {
		trades[string(t)] = counts(m)
	}
	type item struct {
		ID      string            `json:"id"`
		Trade   check.Trade       `json:"trade"`
		Verdict check.Verdict     `json:"verdict"`
		Title   string            `json:"title"`
		State   signoff.State     `json:"state"`
		Blocks  bool              `json:"blocks"`
		Print   string            `json:"fingerprint"`
		Written signoff.Mark      `json:"written"`
		Faults  []string          `json:"faults"`
		Earlier []signoff.Earlier `json:"earlier"`
	}
	items := []item{}
	for _, j := range p.Items {
		it := item{j.ID, j.Trade, j.Verdict, j.Title, j.State, j.Blocks, j.Print(), j.Mark, j.Faults, nil}
		if it.Faults == nil {
			it.Faults = []string{}
		}
		it.Earlier = earlierOf(p.Book, func(e signoff.Earlier) bool { return e.ID == j.ID })
		items = append(items, it)
	}
	notes := p.Book.Loose
	if notes == nil {
		notes = []signoff.Loose{}
	}
	told := []string{}
	for _, n := range p.Told {
		told = append(told, n.String())
	}
	return map[string]any{
		"file": p.File, "site": map[string]string{"name": p.Book.Site, "reference": p.Book.Reference, "revision": p.Book.Revision, "digest": p.Book.Digest},
		"machine": p.Book.Machine, "counts": counts(p.Total), "trades": trades, "blocks": p.Blocks, "next": p.Next, "items": items,
		"closed": earlierOf(p.Book, func(e signoff.Earlier) bool { return e.Outcome == signoff.Closed }), "notes": notes, "notices": told,
	}
}

func earlierOf(b signoff.Book, which func(signoff.Earlier) bool) []signoff.Earlier {
	list := []signoff.Earlier{}
	for _, e := range b.Earlier {
		if which(e) {
			list = append(list, e)
		}
	}
	return list
}
