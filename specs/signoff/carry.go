package signoff

import (
	"firstfill/specs/check"
	"fmt"
	"slices"
	"strings"
)

// Carry takes what people wrote in an earlier book over into a new one.
//
// An item whose verdict, requirement and planned values are unchanged keeps its
// sign-off, whatever else was read anew. A
// changed one keeps it while it is open or in progress; done and not needed are
// reopened, the earlier signature kept with what changed. An item that is gone is kept as closed by
// re-survey. What was changed, deleted or filled in twice by hand is kept
// too, and so is everything written outside the sign-off cells.
func Carry(old, next Book) Book {
	out := next
	out.Items = slices.Clone(next.Items)
	out.Earlier = slices.Clone(old.Earlier)
	out.Loose = slices.Concat(old.Loose, next.Loose)
	out.Absorbed = slices.Clone(old.Absorbed)
	if old.Sum != "" && old.Touched() && !slices.Contains(out.Absorbed, old.Sum) {
		out.Absorbed = append(out.Absorbed, old.Sum)
	}
	for _, was := range old.Items {
		keep := func(m Mark, o Outcome, change string) {
			out.keep(Earlier{ID: was.ID, Trade: was.Trade, Title: was.Title, Revision: old.Revision, Mark: m, Outcome: o, Change: change})
		}
		mark := was.Mark
		switch {
		case was.Gone:
			if !was.Issued.Empty() {
				keep(was.Issued, Deleted, "")
			}
			mark = Mark{}
		case !was.Issued.Empty() && !mark.Keeps(was.Issued):
			keep(was.Issued, Changed, "")
		}
		if len(was.Others) > 0 {
			for _, m := range append([]Mark{mark}, was.Others...) {
				keep(m, Disagreed, "")
			}
			mark = Mark{}
		}
		i := slices.IndexFunc(out.Items, func(it Item) bool { return it.ID == was.ID })
		switch {
		case i < 0:
			change := "the check isn't made any more"
			if now := next.Item(was.ID); now != nil {
				change = describe(was, *now, next.Show)
			}
			keep(mark, Closed, change)
		case unchanged(was, out.Items[i]) || !mark.Closes():
			out.Items[i].Mark = mark.plain()
		default:
			keep(mark, Reopened, describe(was, out.Items[i], next.Show))
		}
	}
	for i := range out.Items {
		out.Items[i].Issued = out.Items[i].Mark
	}
	return out
}

// keep adds an earlier sign-off unless the same is kept already.
func (b *Book) keep(e Earlier) {
	if !slices.Contains(b.Earlier, e) {
		b.Earlier = append(b.Earlier, e)
	}
}

// Merge joins copies of one revision's workbook, as when each trade sent its
// own back. A row that still says what it was issued with gives way to one that was
// filled in; two that disagree are both kept.
func Merge(a, b Book) Book {
	out := a
	out.Items = slices.Clone(a.Items)
	for i := range out.Items {
		it := &out.Items[i]
		j := slices.IndexFunc(b.Items, func(o Item) bool { return o.ID == it.ID })
		if j < 0 {
			continue
		}
		o := b.Items[j]
		switch {
		case o.Gone || o.Untouched():
		case it.Gone || it.Untouched():
			*it = o
		default:
			for _, m := range append([]Mark{o.Mark}, o.Others...) {
				it.Join(m)
			}
		}
		if it.Issued.Empty() {
			it.Issued = o.Issued
		}
	}
	for _, o := range b.Items {
		if !slices.ContainsFunc(out.Items, func(it Item) bool { return it.ID == o.ID }) {
			out.keep(Earlier{ID: o.ID, Trade: o.Trade, Title: o.Title, Revision: b.Revision, Mark: o.Mark, Outcome: TooLate})
		}
	}
	for _, e := range b.Earlier {
		out.keep(e)
	}
	out.Loose = slices.Clone(a.Loose)
	for _, l := range b.Loose {
		if !slices.Contains(out.Loose, l) {
			out.Loose = append(out.Loose, l)
		}
	}
	out.Absorbed = slices.Clone(a.Absorbed)
	for _, s := range append(slices.Clone(b.Absorbed), b.Sum) {
		if s != "" && (s != b.Sum || b.Touched()) && !slices.Contains(out.Absorbed, s) {
			out.Absorbed = append(out.Absorbed, s)
		}
	}
	return out
}

// Join takes in what another row of the same id says.
func (it *Item) Join(m Mark) {
	switch {
	case m.Empty() || m.same(it.Mark) || slices.ContainsFunc(it.Others, m.same):
	case it.Mark.Empty() && len(it.Others) == 0:
		it.Mark = m
	default:
		it.Others = append(it.Others, m)
	}
}

// Late keeps in b what was written into an older revision after a newer one
// was issued. Nothing of it counts; the ids are returned so that people are told.
func (b *Book) Late(older Book) (ids []string) {
	if slices.Contains(b.Absorbed, older.Sum) {
		return nil
	}
	b.Absorbed = append(slices.Clone(b.Absorbed), older.Sum)
	known := func(id string, m Mark) bool {
		if it := b.Item(id); it != nil && (it.Mark.Keeps(m) || it.Issued.Keeps(m)) {
			return true
		}
		return slices.ContainsFunc(b.Earlier, func(e Earlier) bool { return e.ID == id && e.Mark.Keeps(m) })
	}
	for _, it := range older.Items {
		for _, m := range append([]Mark{it.Mark}, it.Others...) {
			if m.Empty() || it.Gone || known(it.ID, m) {
				continue
			}
			b.keep(Earlier{ID: it.ID, Trade: it.Trade, Title: it.Title, Revision: older.Revision, Mark: m, Outcome: TooLate})
			ids = append(ids, it.ID)
		}
	}
	for _, l := range older.Loose {
		if !slices.Contains(b.Loose, l) {
			b.Loose = append(slices.Clone(b.Loose), l)
			ids = append(ids, l.Where)
		}
	}
	return ids
}

// EarlierOf words the earlier sign-offs of one item, the latest first, a line each.
func (b Book) EarlierOf(id string) string {
	var lines []string
	for _, e := range slices.Backward(b.Earlier) {
		if e.ID == id {
			lines = append(lines, e.String())
		}
	}
	return strings.Join(lines, "\n")
}

func (e Earlier) String() string {
	text := fmt.Sprintf("revision %s: %s (%s", e.Revision, e.Mark, e.Outcome)
	if e.Change != "" {
		text += ": " + e.Change
	}
	return text + ")"
}

// A Difference is one thing that differs between two books.
type Difference struct {
	ID     string      `json:"id"`
	Trade  check.Trade `json:"trade"`
	What   string      `json:"what"` // "verdict", "required", "found", "status", "done by" …
	Before string      `json:"before"`
	After  string      `json:"after"`
}

// Diff lists what changed from one book to another, in the order of the checks of the second.
func Diff(a, b Book) []Difference {
	var ds []Difference
	seen := map[string]bool{}
	for _, now := range ordered(b) {
		seen[now.ID] = true
		add := func(what, before, after string) {
			if before != after {
				ds = append(ds, Difference{now.ID, now.Trade, what, before, after})
			}
		}
		was := a.Item(now.ID)
		if was == nil {
			add("check", "", now.Title)
			was = &Item{Verdict: now.Verdict, Trade: now.Trade, Basis: now.Basis, Want: now.Want, Have: now.Have}
		}
		add("verdict", was.Verdict.String(), now.Verdict.String())
		add("trade", string(was.Trade), string(now.Trade))
		if was.Basis.Want != now.Basis.Want {
			add("required", printed(was.Want, now.Want, was.Basis.Want), printed(now.Want, was.Want, now.Basis.Want))
		}
		if was.Basis.Have != now.Basis.Have {
			add("found", printed(was.Have, now.Have, was.Basis.Have), printed(now.Have, was.Have, now.Basis.Have))
		}
		for _, x := range now.Basis.Answers {
			for _, y := range was.Basis.Answers {
				if x.Path == y.Path {
					add(x.Path, y.Text, x.Text)
				}
			}
		}
		m, n := shownMark(*was), shownMark(now)
		for i, c := range Columns {
			add(strings.ToLower(c), m[i], n[i])
		}
	}
	for _, was := range ordered(a) {
		if !seen[was.ID] {
			ds = append(ds, Difference{was.ID, was.Trade, "check", was.Title, ""})
		}
	}
	return ds
}

func ordered(b Book) []Item {
	all := slices.Concat(b.Items, b.Rest)
	slices.SortStableFunc(all, func(x, y Item) int {
		if t := slices.Index(check.Trades, x.Trade) - slices.Index(check.Trades, y.Trade); t != 0 {
			return t
		}
		return strings.Compare(x.ID, y.ID)
	})
	return all
}

func shownMark(it Item) []string {
	m := it.Mark
	if s, ok := ParseStatus(m.Status); ok {
		m.Status = string(s)
	}
	if !it.Work() {
		m.Status = ""
	}
	return []string{m.Status, m.By, m.Company, m.Licence, m.Date, m.Due, m.Reading, m.Note}
}

// Columns names the sign-off columns, in the order in which they are printed.
var Columns = []string{"Status", "Done by", "Company", "License", "Date", "Due", "Reading", "Note"}

// Field points to the part of a mark that a sign-off column holds; nil for any other name.
func (m *Mark) Field(column string) *string {
	switch column {
	case "Status":
		return &m.Status
	case "Done by":
		return &m.By
	case "Company":
		return &m.Company
	case "License":
		return &m.Licence
	case "Date":
		return &m.Date
	case "Due":
		return &m.Due
	case "Reading":
		return &m.Reading
	case "Note":
		return &m.Note
	}
	return nil
}
