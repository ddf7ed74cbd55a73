package board

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/specs/signoff"
	"firstfill/survey"
)

// A group is every file of one machine at one place.
type group struct {
	surveys []file
	books   []file
	remarks []string
}

// who says of which site a file is.
func (f file) who() signoff.Book {
	if f.kind == book {
		return f.book
	}
	s := f.survey
	return signoff.Book{Site: s.Site.Name, Reference: s.Site.Reference, Machine: s.Machine.Key}
}

// sort puts files of one site together, and makes rows and notes of those that can't be read.
//
// Files belong together when machine and reference are the same. A file
// without a reference goes by the site's name; where several references have that name it stays alone.
func (b *Board) sort(files []file) []*group {
	groups := map[string]*group{}
	var order []string
	add := func(key string, f file) *group {
		g := groups[key]
		if g == nil {
			g = &group{}
			groups[key] = g
			order = append(order, key)
		}
		if f.kind == book {
			g.books = append(g.books, f)
		} else {
			g.surveys = append(g.surveys, f)
		}
		return g
	}
	named := map[string][]string{} // machine and name to keys of groups with a reference
	var nameless []file
	aside := map[string][]string{}
	for _, f := range files {
		switch f.kind {
		case broken:
			r := Row{Readiness: Unreadable, Error: f.text, Files: []Source{{f.path, "unreadable"}}, Trades: map[check.Trade]Tally{}}
			if s := f.survey; s != nil {
				r.Site, r.Reference, r.Machine = s.Site.Name, s.Site.Reference, s.Machine.Key
			}
			b.Rows = append(b.Rows, r)
			continue
		case foreign:
			aside[f.text] = append(aside[f.text], f.path)
			continue
		}
		who := f.who()
		if who.Reference == "" {
			nameless = append(nameless, f)
			continue
		}
		key := fmt.Sprintf("%q r%q", who.Machine, fold(who.Reference))
		add(key, f)
		name := fmt.Sprintf("%q n%q", who.Machine, fold(who.Site))
		if !slices.Contains(named[name], key) {
			named[name] = append(named[name], key)
		}
	}
	for _, f := range nameless {
		who := f.who()
		name := fmt.Sprintf("%q n%q", who.Machine, fold(who.Site))
		if keys := named[name]; len(keys) == 1 {
			add(keys[0], f)
			continue
		}
		g := add(name, f)
		if n := len(named[name]); n > 1 && len(g.remarks) == 0 {
			g.remarks = append(g.remarks, fmt.Sprintf("it has no reference, and %d other sites have its name: which of them it is can't be told", n))
		}
	}
	for text, paths := range aside {
		b.Notes = append(b.Notes, Note{Files: paths, Text: text})
	}
	list := make([]*group, 0, len(order))
	for _, key := range order {
		list = append(list, groups[key])
	}
	return list
}

// What a file is to a site.
const (
	RoleBroken    = "unreadable"
	RoleSurvey    = "questionnaire"
	RoleSame      = "questionnaire, the same answers"
	RoleOld       = "questionnaire, earlier"
	RoleRival     = "questionnaire, not counted"
	RoleBook      = "workbook"
	RoleCopy      = "workbook, another copy"
	RoleAgain     = "workbook, the same again"
	RoleTaken     = "workbook, taken into another already"
	RoleOldBook   = "workbook of an earlier revision"
	RoleRivalBook = "workbook, not counted"
)

// row judges one site.
func (g *group) row(o Options) (r Row) {
	defer func() {
		if p := recover(); p != nil {
			r = Row{Readiness: Unreadable, Error: fmt.Sprintf("the program failed on this site: %v", p), Trades: map[check.Trade]Tally{}}
			for _, f := range slices.Concat(g.surveys, g.books) {
				r.Files = append(r.Files, Source{f.path, RoleBroken})
			}
		}
	}()
	s := &site{today: o.Today, tell: o.Words, row: Row{Remarks: slices.Clone(g.remarks), Trades: map[check.Trade]Tally{}}}
	s.issues(g.books, g.surveys)
	s.choose(g.surveys)
	s.names(g)
	s.judge()
	return s.row
}

// A site is one site being judged.
type site struct {
	today  survey.Date
	tell   func(*check.Report) func(*check.Finding) signoff.Words
	row    Row
	survey *file // the questionnaire that counts, nil when there is none
	report *check.Report
	issued []signoff.Book // one a revision, the latest first, copies merged
	late   []string       // sign-offs in older revisions that came after a newer one was issued
	told   []signoff.Notice
}

func (s *site) remark(format string, args ...any) {
	s.row.Remarks = append(s.row.Remarks, fmt.Sprintf(format, args...))
}

func (s *site) source(f file, role string) {
	s.row.Files = append(s.row.Files, Source{f.path, role})
}

// issues sorts the workbooks by revision. The latest counts; copies of it, as
// when each trade sends its own back, are merged.
func (s *site) issues(books []file, surveys []file) {
	slices.SortStableFunc(books, func(x, y file) int {
		return cmp.Or(signoff.CompareRevisions(y.book.Revision, x.book.Revision), strings.Compare(y.book.Date.String(), x.book.Date.String()), strings.Compare(x.path, y.path))
	})
	for len(books) > 0 {
		n := slices.IndexFunc(books, func(f file) bool { return f.book.Revision != books[0].book.Revision })
		if n < 0 {
			n = len(books)
		}
		s.revision(books[:n], surveys)
		books = books[n:]
	}
}

// revision takes the workbooks of one revision.
func (s *site) revision(books, surveys []file) {
	latest := len(s.issued) == 0
	chosen := books[0].book.Digest
	for _, f := range books {
		if slices.ContainsFunc(surveys, func(q file) bool { return q.digest == f.book.Digest }) {
			chosen = f.book.Digest
			break
		}
	}
	var first *file
	var merged signoff.Book
	seen := map[string]bool{}
	var others []file
	for i, f := range books {
		taken := slices.ContainsFunc(books, func(o file) bool { return slices.Contains(o.book.Absorbed, f.book.Sum) })
		switch {
		case f.book.Digest != chosen:
			others = append(others, f)
		case seen[f.book.Sum]:
			s.source(f, RoleAgain)
		case taken:
			s.source(f, RoleTaken)
		case !latest:
			s.source(f, RoleOldBook)
			s.after(f)
		case first == nil:
			s.source(f, RoleBook)
		default:
			s.source(f, RoleCopy)
		}
		if f.book.Digest != chosen || seen[f.book.Sum] || taken {
			continue
		}
		seen[f.book.Sum] = true
		if latest {
			s.told = append(s.told, f.told...)
		}
		if first == nil {
			first, merged = &books[i], f.book
			continue
		}
		merged = signoff.Merge(merged, f.book)
	}
	for _, f := range others {
		s.source(f, RoleRivalBook)
		s.remark("%s and %s are both of revision %s, with different answers; the first counts", first.path, f.path, f.book.Revision)
	}
	s.issued = append(s.issued, merged)
}

// after looks for what was written into an older revision after the latest was issued.
func (s *site) after(f file) {
	latest := s.issued[0]
	latest.Earlier = slices.Clone(latest.Earlier)
	latest.Loose = slices.Clone(latest.Loose)
	if ids := latest.Late(f.book); len(ids) > 0 {
		s.late = append(s.late, fmt.Sprintf("written into revision %s after revision %s was issued, not counted: %s (%s)", f.book.Revision, latest.Revision, strings.Join(ids, ", "), f.path))
	}
}

// choose picks the questionnaire that counts: the latest revision, then the
// latest survey; of two that can't be ordered the one that blocks more.
func (s *site) choose(surveys []file) {
	if len(surveys) == 0 {
		return
	}
	slices.SortStableFunc(surveys, func(x, y file) int {
		a, b := x.survey, y.survey
		return cmp.Or(signoff.CompareRevisions(b.Revision(), a.Revision()), strings.Compare(b.Site.SurveyedOn.String(), a.Site.SurveyedOn.String()), strings.Compare(x.path, y.path))
	})
	top := 0
	if s.stale(surveys[0]) {
		if i := slices.IndexFunc(surveys, func(f file) bool { return f.digest == s.issued[0].Digest }); i > 0 {
			top = i
		}
	}
	as := func(i int) (string, survey.Date) {
		return surveys[i].survey.Revision(), surveys[i].survey.Site.SurveyedOn
	}
	rev, day := as(top)
	s.report = s.evaluate(surveys[top])
	best := top
	var rivals []string
	for i, f := range surveys {
		r, d := as(i)
		if i == top || r != rev || d != day || f.digest == surveys[top].digest {
			continue
		}
		rivals = append(rivals, f.path)
		rep := s.evaluate(f)
		if more := rep.Counts[check.Fix] + rep.Counts[check.Missing] - s.report.Counts[check.Fix] - s.report.Counts[check.Missing]; more > 0 || more == 0 && rep.Counts[check.Confirm] > s.report.Counts[check.Confirm] {
			best, s.report = i, rep
		}
	}
	s.survey = &surveys[best]
	if n := len(s.survey.unread); n > 0 {
		s.remark("%s can't be read: %s", Count(n, "answer", "answers"), FirstFault(s.survey.unread))
	}
	for i, f := range surveys {
		r, d := as(i)
		switch {
		case i == best:
			s.source(f, RoleSurvey)
		case f.digest == surveys[best].digest:
			s.source(f, RoleSame)
		case r == rev && d == day:
			s.source(f, RoleRival)
		default:
			s.source(f, RoleOld)
		}
	}
	if len(rivals) > 0 {
		all := append(rivals, surveys[top].path)
		slices.Sort(all)
		s.remark("%s say different things of one survey; %s counts, because it leaves more to do", strings.Join(all, " and "), s.survey.path)
	}
	if s.stale(*s.survey) {
		s.remark("the questionnaire holds the answers of an earlier revision; the workbook of revision %s counts", s.issued[0].Revision)
		i := slices.IndexFunc(s.row.Files, func(f Source) bool { return f.Path == s.survey.path })
		s.row.Files[i].Role = RoleOld
		s.survey, s.report = nil, nil
	}
}

// stale says whether a questionnaire is the one behind an earlier revision than the latest.
func (s *site) stale(f file) bool {
	return len(s.issued) > 1 && f.digest != s.issued[0].Digest && slices.ContainsFunc(s.issued[1:], func(b signoff.Book) bool { return b.Digest == f.digest })
}

func (s *site) evaluate(f file) *check.Report {
	return rules.Judge(f.survey, f.machine, check.Options{Today: s.today}).Report(false)
}

// names says under which names the files know the site, where they differ.
func (s *site) names(g *group) {
	var names []string
	for _, f := range slices.Concat(g.surveys, g.books) {
		name := strings.Join(strings.Fields(f.who().Site), " ")
		if !slices.ContainsFunc(names, func(n string) bool { return fold(n) == fold(name) }) {
			names = append(names, name)
		}
	}
	if len(names) > 1 {
		s.remark("files with this reference name different sites: %s; they count as one", strings.Join(names, ", "))
	}
}

// judge says where the site stands, once it is clear which files count.
func (s *site) judge() {
	r := &s.row
	var b signoff.Book
	var before *signoff.Book // the latest packet, before the answers of now are laid over it
	if len(s.issued) > 0 {
		before = &s.issued[0]
	}
	switch {
	case s.survey == nil:
		b = *before
		if !slices.ContainsFunc(r.Files, func(f Source) bool { return strings.HasPrefix(f.Role, RoleSurvey) }) {
			s.remark("no questionnaire here: as the workbook says")
		}
	case before == nil:
		b = signoff.New(s.report, s.report, s.tell(s.report), nil)
		s.remark("no packet issued")
	default:
		next := signoff.New(s.report, signoff.Base(s.report), s.tell(s.report), nil)
		switch {
		case before.Digest != next.Digest:
			s.remark("re-survey not issued: the answers aren't those of revision %s", issuedAs(*before))
		case !before.SameFindings(next):
			s.remark("checks or requirement sheet changed since revision %s: print the next revision", issuedAs(*before))
		}
		b = signoff.Carry(*before, next)
	}
	r.Site, r.Reference, r.Machine, r.MachineName, r.Delivery, r.Revision = b.Site, b.Reference, b.Machine, b.MachineName, b.Delivery, b.Revision
	if before != nil {
		r.Revision, r.Issued = before.Revision, before.Date
	}
	if r.Delivery.Known() && s.today.Known() {
		r.Days = s.today.DaysUntil(r.Delivery)
	}
	p := signoff.Judge(b, s.today)
	r.Next = p.Next
	for _, j := range p.Items {
		it := Item{ID: j.ID, Trade: j.Trade, Title: j.Title, Verdict: j.Verdict, Action: j.Action, State: j.State, Blocks: j.Blocks,
			Open: j.Blocks || j.State != signoff.IsSigned && j.State != signoff.IsNotNeeded}
		if it.Open {
			if day, err := signoff.ParseDate(j.Mark.Due); err == nil {
				it.Due = day
			}
		}
		r.Items = append(r.Items, it)
		n := Tally{Closed: 1}
		if it.Open {
			n = Tally{Open: 1}
		}
		if it.Blocks {
			n.Blocks = 1
		}
		sum := r.Trades[it.Trade]
		sum.Add(n)
		r.Trades[it.Trade] = sum
		r.Total.Add(n)
		for _, fault := range j.Faults {
			s.remark("%s: %s", j.ID, fault)
		}
	}
	for _, n := range s.told {
		if n.Fault {
			n.Where = path.Base(n.Where)
			s.remark("%v", n)
		}
	}
	for _, text := range s.late {
		s.remark("%s", text)
	}
	switch {
	case r.Total.Blocks > 0:
		r.Readiness = Blocked
	case r.Total.Open > 0:
		r.Readiness = ToConfirm
	default:
		r.Readiness = Ready
	}
	s.ages()
}

func issuedAs(b signoff.Book) string {
	if b.Date.Known() {
		return b.Revision + ", issued " + b.Date.String()
	}
	return b.Revision
}

// ages says since when items are open, as far as the files here tell.
//
// An item counts from the oldest of the packets in a row that list it as open,
// by the day on which that packet was issued. One that no packet lists counts
// from the survey, if that is later than the latest packet. An item that was
// signed in between counts anew. What the files don't tell stays unknown.
func (s *site) ages() {
	open := make([]map[string]bool, len(s.issued))
	for i, b := range s.issued {
		open[i] = map[string]bool{}
		for _, j := range signoff.Judge(b, s.today).Items {
			open[i][j.ID] = j.Blocks || j.State != signoff.IsSigned && j.State != signoff.IsNotNeeded
		}
	}
	r := &s.row
	for i := range r.Items {
		it := &r.Items[i]
		if !it.Open {
			continue
		}
		for k, b := range s.issued {
			if !open[k][it.ID] {
				break
			}
			if b.Date.Known() {
				it.Since, it.Basis = b.Date, "issued with revision "+b.Revision
			}
			if it.State == signoff.IsReopened {
				break
			}
		}
		if day := s.surveyed(); !it.Since.Known() && day.Known() && (len(s.issued) == 0 || s.issued[0].Date.Known() && s.issued[0].Date.DaysUntil(day) > 0) {
			it.Since, it.Basis = day, "surveyed"
		}
		days := it.Since.DaysUntil(s.today)
		if !it.Since.Known() || !s.today.Known() || days < 0 {
			it.Since, it.Basis = survey.Date{}, ""
			continue
		}
		switch o := r.Oldest; {
		case o == nil || days > o.Days:
			r.Oldest = &Oldest{ID: it.ID, Since: it.Since, Days: days, Basis: it.Basis}
		case days == o.Days:
			o.Others++
		}
	}
}

func (s *site) surveyed() survey.Date {
	if s.survey == nil {
		return survey.Date{}
	}
	return s.survey.survey.Site.SurveyedOn
}
