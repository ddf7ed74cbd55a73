// Package board shows many sites at once: how ready each is, what is open by
// trade, what blocks, and how long it is to the delivery. Start with Collect,
// which reads a folder, and Board, which the writers of text, JSON, CSV,
// workbook and PDF show.
//
// A site is one machine at one place. What the trades signed counts as the next
// packet would carry it over, so that a signature given for an answer that has changed since doesn't.
package board

import (
	"cmp"
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/signoff"
	"firstfill/survey"
)

// A Readiness is where a site stands.
type Readiness string

// Where a site may stand, the worst first.
const (
	Blocked    Readiness = "blocked"    // a FIX or MISSING isn't signed
	Unreadable Readiness = "unreadable" // a file that can't be read, so nobody knows
	ToConfirm  Readiness = "to confirm" // nothing blocks, but something is open
	Ready      Readiness = "ready"      // nothing is open
)

// Readinesses lists them in the order in which they are printed.
var Readinesses = []Readiness{Blocked, Unreadable, ToConfirm, Ready}

// Disclaimer is printed wherever the board is.
const Disclaimer = "Survey result, not a design or permit document. Local code, the authority having jurisdiction and licensed trades decide."

// A Board is every site of a folder on a day.
type Board struct {
	Folder string // as the caller names it
	Today  survey.Date
	Rows   []Row  // the most urgent first
	Notes  []Note // files that are on no row
	Counts map[Readiness]int
	Trades map[check.Trade]Tally
	Total  Tally
	Faults []Fault // by trade, the most frequent first
}

// A Tally counts items to be worked off.
type Tally struct {
	Open   int // not dealt with, whether it blocks or not
	Blocks int // of the open ones, FIX or MISSING
	Closed int // signed, or confirmed as not needed
}

// Add counts another tally in.
func (t *Tally) Add(o Tally) {
	t.Open += o.Open
	t.Blocks += o.Blocks
	t.Closed += o.Closed
}

// A Row is one site, or one file that can't be read.
type Row struct {
	Readiness   Readiness
	Site        string
	Reference   string
	Machine     string
	MachineName string
	Revision    string      // of the packet, or of the questionnaire when none is issued
	Issued      survey.Date // of the packet; not known when none is issued
	Delivery    survey.Date
	Days        int // to the delivery; negative when it is past; good only when Delivery is known
	Items       []Item
	Trades      map[check.Trade]Tally
	Total       Tally
	Oldest      *Oldest // nil when nothing open is dated
	Next        string  // earliest day promised for an open item, year-month-day
	Remarks     []string
	Error       string // why a file can't be read
	Files       []Source
}

// An Item is one point to be worked off.
type Item struct {
	ID      string
	Trade   check.Trade
	Title   string
	Verdict check.Verdict
	Action  string
	State   signoff.State
	Open    bool
	Blocks  bool
	Due     string // as promised
	Since   survey.Date
	Basis   string // what Since is: "issued with revision A" or "surveyed"
}

// Oldest is the item that has been open longest.
type Oldest struct {
	ID     string
	Since  survey.Date
	Days   int
	Basis  string
	Others int // further items that are as old
}

// A Source is a file that a row rests on, and what it is to it.
type Source struct {
	Path, Role string
}

// A Note is about files that are on no row. A fault means that a site may be missing.
type Note struct {
	Files []string
	Text  string
	Fault bool
}

// A Fault is one check, and at how many sites it found something.
type Fault struct {
	ID      string
	Trade   check.Trade
	Title   string
	Fix     int
	Missing int
	Confirm int
	Open    int // at how many of these it is still open
}

// Found is at how many sites the check found something that blocks.
func (f Fault) Found() int { return f.Fix + f.Missing }

// Name is a site's reference and name.
func (r Row) Name() string { return strings.TrimSpace(r.Reference + " " + r.Site) }

// Blocking lists the ids that block, in the order of the checks.
func (r Row) Blocking(v check.Verdict) []string {
	var ids []string
	for _, it := range r.Items {
		if it.Blocks && it.Verdict == v {
			ids = append(ids, it.ID)
		}
	}
	return ids
}

// BlockedBy words what blocks: "FIX E-03 W-02; MISSING D-04".
func (r Row) BlockedBy() string {
	var parts []string
	for _, v := range []check.Verdict{check.Fix, check.Missing} {
		if ids := r.Blocking(v); len(ids) > 0 {
			parts = append(parts, v.String()+" "+strings.Join(ids, " "))
		}
	}
	return strings.Join(parts, "; ")
}

// ToConfirmIDs lists the ids that are open without blocking.
func (r Row) ToConfirmIDs() string {
	var ids []string
	for _, it := range r.Items {
		if it.Open && !it.Blocks {
			ids = append(ids, it.ID)
		}
	}
	return strings.Join(ids, " ")
}

func (o Oldest) String() string {
	text := o.ID
	if o.Others > 0 {
		text += fmt.Sprintf(" and %d more", o.Others)
	}
	return fmt.Sprintf("%s since %s (%s, %s)", text, o.Since, Count(o.Days, "day", "days"), o.Basis)
}

// OldestText words what has been open longest; empty when nothing is open.
func (r Row) OldestText() string {
	switch {
	case r.Oldest != nil:
		return r.Oldest.String()
	case r.Total.Open > 0:
		return "the files here don't tell since when"
	}
	return ""
}

// Blocks says whether a site is blocked, or a file or folder couldn't be read,
// so that it isn't known.
func (b *Board) Blocks() bool {
	return b.Counts[Blocked] > 0 || b.Counts[Unreadable] > 0 || slices.ContainsFunc(b.Notes, func(n Note) bool { return n.Fault })
}

// Sites is how many sites are on the board.
func (b *Board) Sites() int { return len(b.Rows) - b.Counts[Unreadable] }

// Sentence says in one line how many sites stand where.
func (b *Board) Sentence() string {
	var parts []string
	for _, r := range []Readiness{Blocked, ToConfirm, Ready} {
		if n := b.Counts[r]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, r))
		}
	}
	text := Count(b.Sites(), "site", "sites")
	if len(parts) > 0 {
		text += ": " + strings.Join(parts, ", ")
	}
	if n := b.Counts[Unreadable]; n > 0 {
		text += "; " + Count(n, "file", "files") + " can't be read"
	}
	return text + "."
}

// Next is the soonest delivery of a site that isn't ready, nil when there is none.
func (b *Board) Next() *Row {
	var next *Row
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Readiness == Ready || !r.Delivery.Known() || r.Days < 0 {
			continue
		}
		if next == nil || r.Days < next.Days {
			next = r
		}
	}
	return next
}

// Overdue is how many sites that aren't ready have a delivery date that is past.
func (b *Board) Overdue() int {
	n := 0
	for _, r := range b.Rows {
		if r.Readiness != Ready && r.Delivery.Known() && r.Days < 0 {
			n++
		}
	}
	return n
}

// Outlook words the soonest delivery and those that are past; empty when there is neither.
func (b *Board) Outlook() string {
	var parts []string
	if r := b.Next(); r != nil {
		parts = append(parts, fmt.Sprintf("Next delivery to a site that isn't ready: %s, %s (%s).", r.Delivery, r.Name(), InDays(r.Days)))
	}
	if n := b.Overdue(); n > 0 {
		parts = append(parts, fmt.Sprintf("%s not ready although the delivery date is past.", Count(n, "site is", "sites are")))
	}
	return strings.Join(parts, " ")
}

// InDays words how far a day is.
func InDays(n int) string {
	switch {
	case n == 0:
		return "today"
	case n < 0:
		return Count(-n, "day", "days") + " ago"
	}
	return "in " + Count(n, "day", "days")
}

// Count words a number of things.
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Options of a collection.
type Options struct {
	Folder   string // name that is printed
	Today    survey.Date
	Library  *specs.Library // nil: the built-in machines
	Decode   func(name string, data []byte) Decoded
	Words    func(*check.Report) func(*check.Finding) signoff.Words // words the findings of a site
	Workers  int                                                    // files read at once; 0: one a processor
	Progress func(stage string, done, total int)                    // told after each file and each site, never by two at once
}

// Collect reads every questionnaire and sign-off workbook of a folder and
// those in it. What can't be read becomes a row or a note; an error means that
// the folder itself can't be shown.
func Collect(fsys fs.FS, o Options) (*Board, error) {
	if o.Library == nil {
		o.Library = specs.Builtin()
	}
	w := &walker{fsys: fsys}
	if err := w.walk(); err != nil {
		return nil, err
	}
	files := make([]file, len(w.files))
	o.each("files read", len(files), func(i int) { files[i] = read(fsys, w.files[i], o) })
	b := &Board{Folder: o.Folder, Today: o.Today, Notes: w.notes, Counts: map[Readiness]int{}, Trades: map[check.Trade]Tally{}}
	groups := b.sort(files)
	rows := make([]Row, len(groups))
	o.each("sites checked", len(groups), func(i int) { rows[i] = groups[i].row(o) })
	b.Rows = append(b.Rows, rows...)
	b.finish()
	return b, nil
}

// each runs do for 0 to n-1 and tells how far it is.
func (o Options) each(stage string, n int, do func(i int)) {
	var mu sync.Mutex
	done := 0
	parallel(o.Workers, n, func(i int) {
		do(i)
		if o.Progress != nil {
			mu.Lock()
			defer mu.Unlock()
			done++
			o.Progress(stage, done, n)
		}
	})
}

// parallel runs do for 0 to n-1, a bounded number at once.
func parallel(workers, n int, do func(i int)) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(workers, n) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
			}
		})
	}
	wg.Wait()
}

// finish sorts the rows and counts.
func (b *Board) finish() {
	b.related()
	slices.SortStableFunc(b.Rows, compare)
	slices.SortStableFunc(b.Notes, func(x, y Note) int {
		if x.Fault != y.Fault {
			return map[bool]int{true: -1, false: 1}[x.Fault]
		}
		return cmp.Or(cmp.Compare(x.Text, y.Text), slices.Compare(x.Files, y.Files))
	})
	faults := map[string]*Fault{}
	for _, r := range b.Rows {
		b.Counts[r.Readiness]++
		b.Total.Add(r.Total)
		for t, n := range r.Trades {
			sum := b.Trades[t]
			sum.Add(n)
			b.Trades[t] = sum
		}
		for _, it := range r.Items {
			f := faults[it.ID]
			if f == nil {
				f = &Fault{ID: it.ID, Trade: it.Trade, Title: it.Title}
				faults[it.ID] = f
			}
			switch it.Verdict {
			case check.Fix:
				f.Fix++
			case check.Missing:
				f.Missing++
			case check.Confirm:
				f.Confirm++
			}
			if it.Open {
				f.Open++
			}
		}
	}
	for _, f := range faults {
		b.Faults = append(b.Faults, *f)
	}
	slices.SortFunc(b.Faults, func(x, y Fault) int {
		return cmp.Or(slices.Index(check.Trades, x.Trade)-slices.Index(check.Trades, y.Trade),
			y.Found()-x.Found(), y.Confirm-x.Confirm, strings.Compare(x.ID, y.ID))
	})
}

// compare orders rows by trouble: what blocks first, then the soonest delivery.
func compare(x, y Row) int {
	known := func(r Row) int {
		if r.Delivery.Known() {
			return 0
		}
		return 1
	}
	first := func(r Row) string {
		if len(r.Files) > 0 {
			return r.Files[0].Path
		}
		return ""
	}
	return cmp.Or(slices.Index(Readinesses, x.Readiness)-slices.Index(Readinesses, y.Readiness),
		known(x)-known(y), x.Days-y.Days, y.Total.Blocks-x.Total.Blocks, y.Total.Open-x.Total.Open,
		strings.Compare(x.Reference, y.Reference), strings.Compare(x.Site, y.Site), strings.Compare(x.Machine, y.Machine), strings.Compare(first(x), first(y)))
}

// related notes which rows are of one place with different machines.
func (b *Board) related() {
	at := map[string][]int{}
	for i, r := range b.Rows {
		if r.Readiness == Unreadable {
			continue
		}
		key := "r" + fold(r.Reference)
		if r.Reference == "" {
			key = "n" + fold(r.Site)
		}
		at[key] = append(at[key], i)
	}
	for _, rows := range at {
		for _, i := range rows {
			var others []string
			for _, j := range rows {
				if m := b.Rows[j].Machine; m != b.Rows[i].Machine && !slices.Contains(others, m) {
					others = append(others, m)
				}
			}
			if slices.Sort(others); len(others) > 0 {
				b.Rows[i].Remarks = append(b.Rows[i].Remarks, "the same site is on the board with another machine too: "+strings.Join(others, ", "))
			}
		}
	}
}

func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
