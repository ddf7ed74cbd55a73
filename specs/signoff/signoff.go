// Package signoff is the model behind the sign-off workbook: the items that the
// trades work off, what people wrote beside them, and how that is carried from
// one revision to the next so that nobody's words are lost. It is pure: files
// are render/workbook's. Start with Book, New and Carry.
package signoff

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// A Mark is what people wrote beside one item. Dates are year-month-day, or as
// typed when they can't be read; Status is as typed.
type Mark struct {
	Status  string `json:"status,omitempty"`
	By      string `json:"by,omitempty"`
	Company string `json:"company,omitempty"`
	Licence string `json:"licence,omitempty"`
	Date    string `json:"date,omitempty"` // of the signature
	Due     string `json:"due,omitempty"`  // promised for
	Reading string `json:"reading,omitempty"`
	Note    string `json:"note,omitempty"`
}

// fields returns what was written besides the status.
func (m Mark) fields() []string {
	return []string{m.By, m.Company, m.Licence, m.Date, m.Due, m.Reading, m.Note}
}

// Empty says whether nobody wrote anything: no words and the status untouched.
func (m Mark) Empty() bool {
	s, ok := ParseStatus(m.Status)
	return ok && s == Open && strings.Join(m.fields(), "") == ""
}

// Closes says whether the status claims that the item is dealt with. A status
// that can't be read counts as such a claim, so that it is never carried over a change.
func (m Mark) Closes() bool {
	s, ok := ParseStatus(m.Status)
	return !ok || s == Done || s == NotNeeded
}

// same says whether two marks say the same.
func (m Mark) same(o Mark) bool { return m.plain() == o.plain() }

// plain writes the status as the drop-down does; open is left out.
func (m Mark) plain() Mark {
	if s, ok := ParseStatus(m.Status); ok {
		if m.Status = string(s); s == Open {
			m.Status = ""
		}
	}
	return m
}

// Keeps says whether every word of the earlier mark still stands in m: nothing was taken away.
func (m Mark) Keeps(earlier Mark) bool {
	now := m.fields()
	for i, was := range earlier.fields() {
		if was != "" && !holds(now[i], was) {
			return false
		}
	}
	return !earlier.Closes() || m.Closes()
}

// With adds what another mark says to one, where nothing else is said already;
// ok is false where the two disagree. An open status gives way to any other.
func (m Mark) With(o Mark) (both Mark, ok bool) {
	both = m
	for _, c := range Columns {
		was, says := both.Field(c), *o.Field(c)
		switch {
		case says == "" || says == *was:
		case *was == "" || c == "Status" && Mark{Status: *was}.Empty():
			*was = says
		case c == "Status" && Mark{Status: says}.same(Mark{Status: *was}):
		default:
			return m, false
		}
	}
	return both, true
}

// holds says whether a text holds another as whole words: Pat Doering doesn't hold Pat Doe.
func holds(text, part string) bool {
	inWord := func(r rune, size int) bool { return size > 0 && (unicode.IsLetter(r) || unicode.IsDigit(r)) }
	for from := 0; ; {
		i := strings.Index(text[from:], part)
		if i < 0 {
			return false
		}
		i += from
		before, n := utf8.DecodeLastRuneInString(text[:i])
		after, m := utf8.DecodeRuneInString(text[i+len(part):])
		if !inWord(before, n) && !inWord(after, m) {
			return true
		}
		_, size := utf8.DecodeRuneInString(text[i:])
		from = i + size
	}
}

// String words a mark on one line: "done, Pat Doe, Example Electric, 2026-11-20; note: …".
func (m Mark) String() string {
	parts := []string{m.Status}
	if m.Status == "" {
		parts[0] = string(Open)
	}
	for _, s := range []string{m.By, m.Company, m.Licence, m.Date} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	text := strings.Join(parts, ", ")
	for _, p := range [][2]string{{"due", m.Due}, {"reading", m.Reading}, {"note", m.Note}} {
		if p[1] != "" {
			text += "; " + p[0] + ": " + p[1]
		}
	}
	return text
}

// A Status is what a person chose for an item.
type Status string

// The choices.
const (
	Open       Status = "open"
	InProgress Status = "in progress"
	Done       Status = "done"
	NotNeeded  Status = "not needed"
)

// Statuses lists the choices in the order of the drop-down.
var Statuses = []Status{Open, InProgress, Done, NotNeeded}

// ParseStatus reads a status; nothing written is open. ok is false for any other word.
func ParseStatus(text string) (s Status, ok bool) {
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if t == "" {
		return Open, true
	}
	if i := slices.Index(Statuses, Status(t)); i >= 0 {
		return Statuses[i], true
	}
	return Open, false
}

// An Answer is one answer that a finding rests on, in US units whatever was printed.
type Answer struct {
	Path string `json:"path"`
	Text string `json:"text"`
}

// A Basis is what a signature was given for. It is taken from an evaluation in
// US units on the survey's own day, so that --units and --date don't change it.
type Basis struct {
	Want    string   `json:"want"`
	Have    string   `json:"have"`
	Limit   string   `json:"limit,omitempty"` // place of the limit on the machine's sheet
	Plan    []Answer `json:"plan,omitempty"`  // what the plan builds for it; nil when nothing was planned
	Answers []Answer `json:"answers,omitempty"`
}

// An Item is one finding and what was written beside it.
type Item struct {
	ID      string            `json:"id"`
	Trade   check.Trade       `json:"trade"`
	Stage   string            `json:"stage"`
	Title   string            `json:"title"`
	Verdict check.Verdict     `json:"verdict"`
	Action  string            `json:"action,omitempty"`
	Want    string            `json:"want,omitempty"`
	Have    string            `json:"have,omitempty"`
	Margin  string            `json:"margin,omitempty"`
	Source  string            `json:"source,omitempty"`
	Basis   Basis             `json:"basis"`
	Asks    []string          `json:"asks,omitempty"` // answers that a reading would give
	Issued  Mark              `json:"issued"`         // what the workbook held when it was written
	Mark    Mark              `json:"-"`              // what it holds now
	Others  []Mark            `json:"-"`              // what further rows of the same id say, where they disagree
	Gone    bool              `json:"-"`              // its row isn't there any more
	Where   string            `json:"-"`              // "Electrician!A7", in the file it was read from
	Blank   []string          `json:"-"`              // sign-off columns that weren't found
	File    string            `json:"-"`              // file it was read from
	Cells   map[string]string `json:"-"`              // cell of each sign-off column
}

// Work says whether somebody must act on the item.
func (it Item) Work() bool { return it.Verdict < check.OK }

// Print is the fingerprint of what a signature was given for: the verdict and
// what is required, by whose limit. What was found, and another number of the
// sentence, may change without it.
func (it Item) Print() string {
	data, err := json.Marshal([]any{it.ID, it.Verdict, it.Basis.Want, it.Basis.Limit})
	if err != nil {
		panic("signoff: " + err.Error()) // plain data always encodes
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])[:12]
}

// An Outcome is what became of an earlier sign-off.
type Outcome string

// The outcomes.
const (
	Reopened  Outcome = "reopened"               // verdict, requirement or plan changed
	Closed    Outcome = "closed by re-survey"    // the item isn't on the list any more
	Changed   Outcome = "changed by hand"        // taken away or rewritten in the workbook
	Deleted   Outcome = "row deleted by hand"    // the item's row was deleted
	Disagreed Outcome = "two rows disagree"      // the same id was filled in twice, differently
	TooLate   Outcome = "came in late, not used" // written into an older revision after a newer one was issued
)

// An Earlier is a sign-off that no longer stands, kept with the reason.
type Earlier struct {
	ID       string      `json:"id"`
	Trade    check.Trade `json:"trade"`
	Title    string      `json:"title"`
	Revision string      `json:"revision"` // in which it was written
	Mark     Mark        `json:"mark"`
	Outcome  Outcome     `json:"outcome"`
	Change   string      `json:"change,omitempty"` // what changed since
}

// A Loose is something that people wrote outside the sign-off cells.
type Loose struct {
	Revision string `json:"revision"`
	Where    string `json:"where"`        // "Electrician!R7"
	ID       string `json:"id,omitempty"` // of the item in whose row it stood
	Text     string `json:"text"`
}

// A Book is one revision's sign-off workbook.
type Book struct {
	Site        string      `json:"site"`
	Reference   string      `json:"reference,omitempty"`
	Machine     string      `json:"machine"`
	MachineName string      `json:"machine_name"`
	Revision    string      `json:"revision"`
	Digest      string      `json:"digest"` // of the answers
	Date        survey.Date `json:"date,omitzero"`
	Delivery    survey.Date `json:"delivery,omitzero"`
	Absorbed    []string    `json:"absorbed,omitempty"` // sums of the files whose sign-offs are in here
	Items       []Item      `json:"-"`                  // to be worked off, in the order of the checks
	Rest        []Item      `json:"-"`                  // OK and N/A
	Earlier     []Earlier   `json:"-"`
	Loose       []Loose     `json:"-"`
	Sum         string      `json:"-"` // of the file it was read from
	Notes       int         `json:"-"` // how many of Loose it was issued with

	// Show words an answer of a basis for who reads the book; nil leaves it in US units.
	Show func(path, text string) string `json:"-"`
}

// BaseDay is the day on which findings are compared: the survey's own, so that
// what only ages doesn't count as a change.
func BaseDay(s *survey.Survey) survey.Date {
	if s.Site.SurveyedOn.Known() {
		return s.Site.SurveyedOn
	}
	return survey.DateOf(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
}

// Base is the evaluation from which bases are taken.
func Base(r *check.Report) *check.Report {
	return rules.Judge(r.Survey, r.Machine, check.Options{Today: BaseDay(r.Survey)}).Report(false)
}

// Words are what an item says in print; a book keeps them for the reader.
type Words struct{ Title, Have, Want, Margin, Action, Source, Stage string }

// New makes the book of a report, with nothing signed. base is Base(r); tell
// words a finding. planned is what the plan builds for each finding, nil when
// nothing was planned.
func New(r, base *check.Report, tell func(*check.Finding) Words, planned map[string]map[string]string) Book {
	b := Book{Date: r.Today}
	if s := r.Survey; s != nil {
		b.Site, b.Reference, b.Revision, b.Digest, b.Delivery = s.Site.Name, s.Site.Reference, s.Revision(), s.Digest(), s.Site.DeliveryOn
		b.Machine = s.Machine.Key
	}
	if r.Machine != nil {
		b.MachineName = r.Machine.Name
	}
	for _, f := range r.Findings {
		w := tell(f)
		it := Item{ID: f.ID, Trade: f.Trade, Title: w.Title, Verdict: f.Verdict, Action: w.Action,
			Want: w.Want, Have: w.Have, Margin: w.Margin, Source: w.Source}
		if f.Check != nil {
			it.Stage = w.Stage
		}
		switch {
		case f.Verdict == check.Missing:
			it.Asks = survey.Paths(f.At)
		case f.Verdict == check.Confirm && f.Settle != "":
			it.Asks = []string{f.Settle}
		}
		if g := base.Finding(f.ID); g != nil {
			it.Basis = Basis{Want: g.Want.Key(), Have: g.Have.Key(), Limit: g.Sheet}
			for _, path := range slices.Sorted(maps.Keys(planned[f.ID])) {
				it.Basis.Plan = append(it.Basis.Plan, Answer{path, planned[f.ID][path]})
			}
			for _, path := range slices.Compact(slices.Sorted(slices.Values(append(survey.Paths(g.At), it.Asks...)))) {
				it.Basis.Answers = append(it.Basis.Answers, Answer{path, AnswerText(base.Survey, path)})
			}
		}
		if it.Work() {
			b.Items = append(b.Items, it)
		} else {
			b.Rest = append(b.Rest, it)
		}
	}
	return b
}

// AnswerText is an answer in US units, as bases hold it; nothing when it isn't known.
func AnswerText(s *survey.Survey, path string) string {
	if s == nil {
		return ""
	}
	if !s.Known(path) {
		return ""
	}
	if t := s.ReadingText(path, quantity.US); t != "" {
		return t
	}
	return s.Answer(path).Text
}

// Label names a book in messages: "BW-0417 The Crooked Spoon, avocet-r36, revision A".
func (b Book) Label() string {
	return strings.TrimSpace(b.Reference+" "+b.Site) + ", " + b.Machine + ", revision " + b.Revision
}

// SameSite says whether two books are of the same machine on the same site: by
// the reference where both have one, else by the site's name.
func (b Book) SameSite(o Book) bool {
	if b.Machine != o.Machine {
		return false
	}
	if b.Reference != "" && o.Reference != "" {
		return fold(b.Reference) == fold(o.Reference)
	}
	return fold(b.Site) == fold(o.Site)
}

func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// SameFindings says whether two books rest on the same answers and say the same of every check.
func (b Book) SameFindings(o Book) bool {
	if b.Digest != o.Digest {
		return false
	}
	prints := func(b Book) map[string]string {
		m := map[string]string{}
		for _, it := range slices.Concat(b.Items, b.Rest) {
			data, _ := json.Marshal(it.Basis)
			m[it.ID] = string(data)
		}
		return m
	}
	p, q := prints(b), prints(o)
	if len(p) != len(q) {
		return false
	}
	for id, v := range p {
		if w, ok := q[id]; !ok || v != w {
			return false
		}
	}
	return true
}

// Item returns the item of that id, whether it is to be worked off or not.
func (b *Book) Item(id string) *Item {
	for _, list := range [][]Item{b.Items, b.Rest} {
		for i := range list {
			if list[i].ID == id {
				return &list[i]
			}
		}
	}
	return nil
}

// Changed gives, by id, the items as they were in an earlier book whose
// verdict, requirement, finding or planned value is another one now.
func (b Book) Changed(earlier Book) map[string]Item {
	m := map[string]Item{}
	for _, it := range slices.Concat(b.Items, b.Rest) {
		was := earlier.Item(it.ID)
		if was == nil || was.Verdict == it.Verdict && was.Basis.Want == it.Basis.Want && was.Basis.Have == it.Basis.Have && slices.Equal(was.Basis.Plan, it.Basis.Plan) {
			continue
		}
		m[it.ID] = *was
	}
	return m
}

// Untouched says whether the item's row still says what it was issued with.
func (it Item) Untouched() bool {
	return !it.Gone && len(it.Others) == 0 && len(it.Blank) == 0 && it.Mark.same(it.Issued)
}

// Touched says whether people changed the workbook since it was issued.
func (b Book) Touched() bool {
	return len(b.Loose) > b.Notes || slices.ContainsFunc(b.Items, func(it Item) bool { return !it.Untouched() })
}

// NextRevision counts on: A, B … Z, AA, AB … ZZZ.
func NextRevision(rev string) string {
	digits := []byte(rev)
	for i := len(digits) - 1; i >= 0; i-- {
		if digits[i] < 'Z' {
			digits[i]++
			return string(digits)
		}
		digits[i] = 'A'
	}
	return "A" + string(digits)
}

// CompareRevisions orders revisions: shorter ones come first.
func CompareRevisions(a, b string) int {
	if len(a) != len(b) {
		return len(a) - len(b)
	}
	return strings.Compare(a, b)
}

// A Notice is something about a workbook that a person should know. A fault
// keeps a sign-off from counting; the others are for information.
type Notice struct {
	Fault bool
	Where string // "file.xlsx:Electrician!H7"
	ID    string
	Text  string
}

func (n Notice) String() string {
	var parts []string
	for _, p := range []string{n.Where, n.ID} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(append(parts, n.Text), ": ")
}

// asked names an answer by its question, "breaker or fuse rating".
func asked(path string) string {
	ask := survey.FieldAt(path).Ask
	if ask == "" {
		return path
	}
	return strings.ToLower(ask[:1]) + ask[1:]
}

// describe words what differs between two states of one item, in the words that were printed.
func describe(was, now Item, show func(path, text string) string) string {
	if show == nil {
		show = func(_, text string) string { return text }
	}
	var parts []string
	add := func(what, a, b string) {
		if a == "" {
			a = "nothing"
		}
		if b == "" {
			b = "nothing"
		}
		parts = append(parts, fmt.Sprintf("%s was %s, is now %s", what, a, b))
	}
	if was.Verdict != now.Verdict {
		parts = append(parts, fmt.Sprintf("%v became %v", was.Verdict, now.Verdict))
	}
	if was.Basis.Want != now.Basis.Want {
		add("required", printed(was.Want, now.Want, was.Basis.Want), printed(now.Want, was.Want, now.Basis.Want))
	}
	if was.Basis.Have != now.Basis.Have {
		add("found", printed(was.Have, now.Have, was.Basis.Have), printed(now.Have, was.Have, now.Basis.Have))
	}
	if was.Basis.Limit != now.Basis.Limit {
		add("the limit's place", was.Basis.Limit, now.Basis.Limit)
	}
	if a, b := was.Basis.Plan, now.Basis.Plan; a != nil && b != nil {
		for _, x := range a {
			if y := planned(b, x.Path); x.Text != y {
				add("planned "+asked(x.Path), show(x.Path, x.Text), show(x.Path, y))
			}
		}
		for _, y := range b {
			if planned(a, y.Path) == "" {
				add("planned "+asked(y.Path), "", show(y.Path, y.Text))
			}
		}
	}
	before := map[string]string{}
	for _, a := range was.Basis.Answers {
		before[a.Path] = a.Text
	}
	for _, a := range now.Basis.Answers {
		if t, ok := before[a.Path]; ok && t != a.Text && t != was.Basis.Have {
			add(asked(a.Path), show(a.Path, t), show(a.Path, a.Text))
		}
	}
	return strings.Join(parts, "; ")
}

// printed takes the printed text unless it reads the same on both sides, as
// when the two were printed in different units; then the compared text.
func printed(text, other, compared string) string {
	if text == other {
		return compared
	}
	return text
}

func planned(list []Answer, path string) string {
	if i := slices.IndexFunc(list, func(a Answer) bool { return a.Path == path }); i >= 0 {
		return list[i].Text
	}
	return ""
}

// unchanged says whether a signature given for was still stands for now.
func unchanged(was, now Item) bool {
	a, b := was.Basis.Plan, now.Basis.Plan
	return was.Print() == now.Print() && (a == nil || b == nil || slices.Equal(a, b))
}
