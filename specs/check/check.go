// Package check is the engine: what a check, a case, a fact, a finding and a
// remedy are, how uncertainty is weighed, and how a change is proven. Start
// with Check for what is declared, and with Judge for what is done with it.
//
// A check yields facts, never sentences: quantities, choices, and phrases that
// name an entry of the wording tables with its blanks. Whoever prints words them.
package check

import (
	"fmt"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey"
)

// A Verdict is what a check says of a site, in order of gravity.
type Verdict int

// The verdicts. A missing answer is never OK.
const (
	Fix     Verdict = iota // does not meet a requirement
	Missing                // an answer is needed and absent
	Confirm                // meets it only within the reading's uncertainty, or somebody with authority must rule
	OK
	NA // does not arise here
)

var verdictWords = [...]string{"FIX", "MISSING", "CONFIRM", "OK", "N/A"}

// Verdicts lists them all, the gravest first.
var Verdicts = []Verdict{Fix, Missing, Confirm, OK, NA}

func (v Verdict) String() string { return verdictWords[v] }

// Blocks says whether the machine can't be started while this stands.
func (v Verdict) Blocks() bool { return v == Fix || v == Missing }

// MarshalText writes the verdict's word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads the verdict's word.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, w := range verdictWords {
		if w == string(text) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a verdict; there are %v", text, verdictWords)
}

// A Trade is who must act.
type Trade string

// The trades.
const (
	Electrician Trade = "electrician"
	Plumber     Trade = "plumber"
	Builder     Trade = "builder"
	Owner       Trade = "owner"
	Supplier    Trade = "supplier" // who delivers, sets and starts the machine
)

// Trades lists them all in the order in which they are printed.
var Trades = []Trade{Electrician, Plumber, Builder, Owner, Supplier}

// A Stage is when a fault must be cured, at the latest.
type Stage int

// The stages, in order.
const (
	BeforeOrder    Stage = iota // decides which machine or option is ordered
	RoughIn                     // trades' work before delivery
	BeforeDelivery              // the way in, the opening
	BeforeStart                 // once the machine stands there
)

var stageNames = [...]string{"before_ordering", "rough_in", "before_delivery", "before_start"}

// String is the stage's name in the wording tables and in JSON.
func (s Stage) String() string { return stageNames[s] }

// MarshalText writes the stage's name.
func (s Stage) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// A Check is one rule, declared as data. Run is pure: no clock, no files, no
// globals. Its words (title, why, range, formula, the label of its row on a
// sheet) stand in the wording tables under its id.
type Check struct {
	ID      string         // a subject letter and two digits, "E-03"; lasting, never reused
	Trade   Trade          // who must act
	Stage   Stage          // by when
	Subject Subject        // what on site it is about: where its number stands on a trade's sheet
	Sources []trade.Source // document, edition, clause, mark; never empty
	After   []*Check       // checks whose fault may be the cause of this one
	Example Example        // one worked case, repeated by a test and printed by explain
	Assumes []survey.Ref   // answers in whose place it takes a usual value: a FIX that one of them, given, would mend is MISSING
	Builds  survey.Ref     // what a trade builds by, where the check judges what follows from it: the conductor, for its ampacity; mostly nil

	// Skip says why the check does not arise here; the zero Phrase when it does. nil: always arises.
	Skip func(c *Case) Phrase
	// Run judges. It may assume that Skip returned the zero Phrase.
	Run func(c *Case) Outcome
	// Remedies offers changes on site that could cure a FIX, the least work
	// first where that is known; the engine proves each and drops those that
	// don't. nil: none can be computed.
	Remedies func(c *Case, k *Check) []Remedy
}

// A Subject is what on site a check is about.
type Subject string

// The subjects, by the sheet they stand on.
const (
	Records     Subject = ""
	Supply      Subject = "supply"     // voltage, phases, frequency, system
	Circuit     Subject = "circuit"    // breaker, conductors, ground, drop
	Receptacle  Subject = "receptacle" // outlet, plug, whip
	Disconnect  Subject = "disconnect"
	GroundFault Subject = "ground-fault"
	Panel       Subject = "panel"
	Cold        Subject = "cold"
	Hot         Subject = "hot"
	BothLines   Subject = "both-lines"
	HeaterSide  Subject = "heater"
	Quality     Subject = "quality" // hardness, iron, solids
	DrainLine   Subject = "drain"
	Receptor    Subject = "receptor"
	Opening     Subject = "opening"
	Floor       Subject = "floor"
	Way         Subject = "way"
	Room        Subject = "room"
	Sanitizer   Subject = "sanitizer"
	Demand      Subject = "demand"
	Machine     Subject = "machine" // what the machine itself does here
)

// An Example is a worked case: answers laid over the passing site of a machine.
type Example struct {
	Machine string            // key of a built-in machine
	Given   map[string]string // answers laid over that machine's passing site
	Verdict Verdict
	Shows   string // "symbol = value", a step of the working that must come out
}

// A Case is one site against one machine: all that a check may look at.
type Case struct {
	Survey  *survey.Survey
	Machine *specs.Machine
	Supply  *specs.Supply // the option ordered, or the one that suits the site best
	Today   survey.Date   // the date that is printed

	lib   func() []*specs.Machine // the library; nil: none at hand
	reads *survey.Bits            // answers read by the check that runs
	moved bool                    // answers are moved within their uncertainty
	memo  *memo                   // what was judged before

	checks []*Check // all that the site is judged by
	silent *silent  // which of them the requirement sheet leaves open; nil: not asked
}

// Reading gives the survey and notes which answer is read from it.
func (c *Case) Reading(id int) *survey.Survey {
	if c.reads != nil {
		c.reads.Add(id)
	}
	return c.Survey
}

// ReadsAll notes that a check reads every answer.
func (c *Case) ReadsAll() *survey.Survey {
	if c.reads != nil {
		*c.reads = survey.Every()
	}
	return c.Survey
}

// Reads are the answers that one check read while judge ran.
func (c *Case) reading(judge func()) survey.Bits {
	was := c.reads
	var b survey.Bits
	c.reads = &b
	judge()
	c.reads = was
	if was != nil {
		was.Join(b)
	}
	return b
}

// An Outcome is what a check's Run says.
type Outcome struct {
	Verdict Verdict
	At      []survey.Ref // answers it rests on
	Have    Fact         // what was found
	Want    Fact         // what is required
	Margin  Margin
	Action  Phrase // what to do; zero on OK and N/A
	Working []Step
	Sheet   string // path of the limit on the machine's sheet, when the limit is the machine's
	Waits   bool   // for something else to be settled first: no reading of its own would settle it
	Result  any    // what the check computed, for checks that follow from it and for drawings
}

// A Step is one line of a calculation: a symbol, what it means, its value.
type Step struct {
	Symbol  string
	Meaning any // a Phrase, mostly
	Value   any
}

// A Remedy is a change that makes the check OK.
type Remedy struct {
	Change any               // Phrase, as a verb with numbers
	Beside Phrase            // what a plan says beside the things that the change sets, where Change says their values too; a blank may be a survey.Ref, its value as it will be
	Work   Work              // how much work it is
	Set    map[string]string // answers that it changes, as they would be written
	Breaks []string          // ids that turn FIX because of it; the change says so
	Cures  []string          // ids of other FIX findings that turn OK with it
	Doubts []string          // ids that turn from OK to CONFIRM because of it
}

// A Finding is one check's result for a site.
type Finding struct {
	*Check
	Outcome
	Remedies []Remedy
	Worst    Fact           // what was found at the readings' worse ends, and
	Best     Fact           // at their better ends; zero where no reading moves it
	Settle   string         // the answer whose better reading would settle a CONFIRM
	Doubt    []string       // answers to be measured again before a FIX is cured; no remedy is offered then
	Unsaid   []specs.Fact   // facts that the requirement sheet would have to state
	Cause    string         // id of the check whose fault this one follows from
	Cites    []trade.Source // the check's sources that hold at this site; in reports
	Reads    survey.Bits
}

// A Report is every finding of one site.
type Report struct {
	Survey   *survey.Survey
	Machine  *specs.Machine
	Supply   *specs.Supply
	Today    survey.Date
	Findings []*Finding
	Assumed  []Assumption
	Verdict  Verdict
	Counts   map[Verdict]int
}

// An Assumption is the uncertainty taken for an answer because none was written.
type Assumption struct {
	Path, Value, Spread, Instrument string
}

// Finding returns the finding of that id, nil when there is none.
func (r *Report) Finding(id string) *Finding {
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	return nil
}

// For returns the findings of one trade, in order.
func (r *Report) For(t Trade) []*Finding {
	var fs []*Finding
	for _, f := range r.Findings {
		if f.Trade == t {
			fs = append(fs, f)
		}
	}
	return fs
}
