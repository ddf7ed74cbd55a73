// Package rules holds the checks: each declared as data, each a pure function
// of a site and a machine. Start with All for the list and Evaluate for the engine.
package rules

import (
	"fmt"

	"firstfill/specs"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
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

func (s Stage) String() string {
	return [...]string{"before ordering", "rough-in", "before delivery", "before first start"}[s]
}

// A Check is one rule, declared as data. Run is pure: no clock, no files, no globals.
type Check struct {
	ID      string         // a subject letter and two digits, "E-03"; lasting, never reused
	Trade   Trade          // who must act
	Stage   Stage          // by when
	Title   string         // lower case, no full stop
	Why     string         // one or two sentences for the person who must act
	Formula string         // the formula with its symbols and units; empty when nothing is computed
	Range   string         // where the formula holds
	Sources []trade.Source // document, edition, clause, mark; never empty
	Uses    []string       // every answer that Run may read; "space.path" stands for the whole list
	After   []string       // ids of checks whose fault may be the cause of this one
	Example Example        // one worked case, repeated by a test and printed by explain

	// Applies says in words why the check does not arise here; empty when it does. nil: always arises.
	Applies func(c *Case) string
	// Run judges. It may assume that Applies returned empty.
	Run func(c *Case) Outcome
	// Remedies offers changes on site that could cure a FIX; the engine proves
	// each and drops those that don't. nil: none can be computed.
	Remedies func(c *Case, k *Check) []Remedy
}

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
	Supply  *specs.Supply   // the option ordered, or the one that suits the site best
	Today   survey.Date     // the date that is printed
	Units   quantity.System // which units are shown first
}

// An Outcome is what a check's Run says.
type Outcome struct {
	Verdict Verdict
	At      []string // answers it rests on
	Have    string   // what was found, "1 in" or "208 V"
	Want    string   // what is required
	Margin  Margin
	Action  string // what to do, phrased as a verb; empty on OK and N/A
	Working []Step
	Source  string // the machine sheet's own source, when the limit is the machine's
}

// A Margin is how far inside (positive) or outside (negative) the limit the site is.
type Margin struct {
	Text  string
	Value float64 // in any one unit; NaN when there is none
}

// A Step is one line of a calculation: a symbol, what it means, its value with unit.
type Step struct {
	Symbol, Meaning, Value string
}

// A Remedy is a change that makes the check OK.
type Remedy struct {
	Change string            // phrased as a verb, with numbers
	Set    map[string]string // answers that it changes, as they would be written
	Breaks []string          // ids that turn FIX because of it; the change says so
	Cures  []string          // ids of other FIX findings that turn OK with it
}

// A Finding is one check's result for a site.
type Finding struct {
	Check    *Check
	ID       string
	Trade    Trade
	Title    string
	Verdict  Verdict
	At       []string
	Have     string
	Want     string
	Margin   string
	Action   string
	Remedies []Remedy
	Source   string
	Working  []Step
	Worst    string // what was found at the readings' worse ends, and
	Best     string // at their better ends; empty where no reading moves it
	Settle   string // the answer whose better reading would settle a CONFIRM
	Cause    string // id of the check whose fault this one follows from
}

// A Report is every finding of one site.
type Report struct {
	Survey   *survey.Survey
	Machine  *specs.Machine
	Supply   *specs.Supply
	Units    quantity.System
	Today    survey.Date
	Findings []Finding
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
	for i := range r.Findings {
		if r.Findings[i].ID == id {
			return &r.Findings[i]
		}
	}
	return nil
}

// For returns the findings of one trade, in order.
func (r *Report) For(t Trade) []Finding {
	var fs []Finding
	for _, f := range r.Findings {
		if f.Trade == t {
			fs = append(fs, f)
		}
	}
	return fs
}
