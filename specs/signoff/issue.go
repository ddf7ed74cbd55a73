package signoff

import (
	"fmt"
	"slices"
	"strings"
)

// A Copy is one workbook's book, with the name under which it was found.
type Copy struct {
	File string
	Own  bool // it bears the name that the program gives to this revision's workbook
	Book Book
	Told []Notice // what was noticed while it was read
}

// An Issue is a revision about to be printed: which one it is, and what became
// of the sign-offs of the one before.
type Issue struct {
	Book     Book
	Before   Book   // the book that the sign-offs come from, as it was signed
	Replace  bool   // it is written over the same revision
	Over     string // the revision that the sign-offs come from; empty for the first
	Stated   string // the questionnaire's own revision, where it was taken already
	Keep     []int  // copies, by their place, that hold what people wrote and are replaced
	Late     []Late // written into an older revision after a newer one was issued
	Kept     int    // items that keep what was written
	Reopened int
	Closed   int
}

// Late names items of an older copy whose sign-offs don't count any more.
type Late struct {
	File, Revision string
	IDs            []string
}

// Unchanged is the error of a revision that says nothing new.
type Unchanged struct{ File, Revision string }

func (e Unchanged) Error() string {
	return fmt.Sprintf("%s is there, with the same answers: there is nothing to revise. Say --replace to write revision %s again, with its sign-offs carried over, or write a later revision into the questionnaire", e.File, e.Revision)
}

// Next decides which revision next is, beside the copies of earlier ones, and
// carries the sign-offs over. stated is the revision that the questionnaire
// names; replace writes the newest revision again where the answers are the
// same. The error is [Unchanged], or nil.
func Next(next Book, stated string, copies []Copy, replace bool) (Issue, error) {
	if len(copies) == 0 {
		return Issue{Book: next, Replace: replace}, nil
	}
	rank := make([]int, len(copies))
	for i := range rank {
		rank[i] = i
	}
	// The newest last; of one revision the program's own workbook comes first:
	// copies that were taken into it already say nothing new.
	slices.SortStableFunc(rank, func(a, b int) int {
		x, y := copies[a], copies[b]
		switch c := CompareRevisions(x.Book.Revision, y.Book.Revision); {
		case c != 0:
			return c
		case x.Own != y.Own:
			return map[bool]int{true: -1, false: 1}[x.Own]
		}
		return strings.Compare(x.File, y.File)
	})
	newest := copies[rank[len(rank)-1]].Book.Revision
	first := slices.IndexFunc(rank, func(i int) bool { return copies[i].Book.Revision == newest })
	older, current := rank[:first], rank[first:]
	old := copies[current[0]].Book
	for _, i := range current[1:] {
		if b := copies[i].Book; !slices.Contains(old.Absorbed, b.Sum) {
			old = Merge(old, b)
		}
	}
	is := Issue{Book: next, Over: newest}
	switch {
	case stated != "" && CompareRevisions(stated, newest) > 0:
		is.Book.Revision = stated
	case old.SameFindings(next) || replace && old.Digest == next.Digest:
		if !replace {
			return Issue{}, Unchanged{copies[current[0]].File, newest}
		}
		is.Book.Revision, is.Replace = newest, true
	default:
		is.Book.Revision, is.Stated = NextRevision(newest), stated
	}
	for _, i := range current {
		if c := copies[i]; is.Replace && c.Own && (c.Book.Touched() || len(c.Told) > 0) {
			is.Keep = append(is.Keep, i)
		}
	}
	is.Before, is.Book = old, Carry(old, is.Book)
	for _, i := range older {
		if ids := is.Book.Late(copies[i].Book); len(ids) > 0 {
			is.Late = append(is.Late, Late{copies[i].File, copies[i].Book.Revision, ids})
		}
	}
	is.count(old)
	return is, nil
}

// count says what became of the sign-offs of old.
func (is *Issue) count(old Book) {
	for _, it := range is.Book.Items {
		if !it.Mark.Empty() {
			is.Kept++
		}
	}
	for _, e := range is.Book.Earlier {
		switch {
		case slices.Contains(old.Earlier, e):
		case e.Outcome == Reopened:
			is.Reopened++
		case e.Outcome == Closed:
			is.Closed++
		}
	}
}
