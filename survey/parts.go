package survey

import (
	"slices"
	"strings"

	"firstfill/survey/quantity"
)

// A Part of the form is what one hand fills in.
type Part string

// The parts, in the order in which their questions are numbered. What nobody is
// asked may still be answered, and stands in the form of all.
const (
	Whole       Part = ""            // every question, whosever
	Surveyor    Part = "surveyor"    // read with tape, gauge, thermometer, test strips and a telephone's camera; no cover is opened
	Electrician Part = "electrician" // needs a qualified person
	Plumber     Part = "plumber"     // what is in walls, and what was fitted
	Office      Part = "office"      // known before anybody goes: who, where, when, which machine, what the owner wants
	Nobody      Part = "nobody"      // refines what is bounded without it, or is written by the program
)

// Parts lists those that are somebody's.
var Parts = []Part{Surveyor, Electrician, Plumber, Office}

// A FormFor says for which machine, and for whom, a form is made.
type FormFor struct {
	Key    string          // of the machine, empty for any
	Name   string          // of the machine
	Traits []string        // nil: ask everything
	Blocks map[string]bool // paths without which the machine can't be started
	Units  quantity.System // which units are written beside the boxes
	Part   Part            // whose questions
	Known  *Survey         // what is known already, nil for a blank form
}

// Raises says whether the machine raises a question.
func (f FormFor) Raises(q Field) bool { return q.Asked(f.Traits) }

// Asks says whether the form asks a question: one that the machine raises, of
// its part; of a part, one that isn't answered yet.
func (f FormFor) Asks(q Field) bool {
	switch {
	case q.Path == "survey" || strings.Contains(q.Path, "[]") || !f.Raises(q):
		return false
	case f.Part == Whole:
		return true
	}
	return q.By == f.Part && (f.Known == nil || !f.Known.Known(q.Path))
}

// Holds says whether a question stands in the form: because it is asked, or, in
// the form of all, because it is answered.
func (f FormFor) Holds(q Field) bool {
	if f.Asks(q) {
		return true
	}
	return f.Part == Whole && f.Known != nil && q.Path != "survey" && !strings.Contains(q.Path, "[]") && f.Known.Has(q.Path)
}

// Numbers are those of the questions on the forms of a machine: part after
// part, each in the order of the walk, the same on paper, in the workbook and in
// YAML, whatever is known already. What nobody is asked has none.
func (f FormFor) Numbers() map[string]int {
	numbers := map[string]int{}
	for _, part := range Parts {
		for _, q := range (FormFor{Traits: f.Traits, Part: part}).Asked() {
			numbers[q.Path] = len(numbers) + 1
		}
	}
	return numbers
}

// Asked lists the questions of the form in the order of the walk.
func (f FormFor) Asked() []Field {
	var all []Field
	for _, st := range Stations {
		plain, lists := AskedAt(st.Key, f)
		all = append(all, slices.Concat(plain, lists)...)
	}
	return all
}

// A Weight is how much hangs on a question.
type Weight int

// The weights.
const (
	MayBlock Weight = iota // some answers keep the machine from being started
	Blocks                 // without an answer it can't be said that it can be started
	Refines                // makes a result more exact, which is bounded without it
	Told                   // for those who come; no verdict hangs on it
)

// Weight is how much hangs on a question of the form.
func (f FormFor) Weight(q Field) Weight {
	switch {
	case f.Blocks[q.Path] || q.Needed:
		return Blocks
	case q.By == Nobody:
		return Refines
	case q.Told:
		return Told
	}
	return MayBlock
}

// naming are the answers without which a part couldn't be read by itself, or
// told from that of another site.
var naming = []string{"site.name", "site.reference", "machine.key"}

// Naming are the questions that stand on every part, to tell whose it is.
func Naming() []Field {
	fs := make([]Field, len(naming))
	for i, path := range naming {
		fs[i] = FieldAt(path)
	}
	return fs
}
