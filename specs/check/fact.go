package check

import (
	"fmt"
	"strings"

	"firstfill/survey/quantity"
)

// A Phrase is a sentence to be worded by whoever prints: the name of an entry
// in the wording tables, and what goes into its blanks. The zero Phrase says nothing.
type Phrase struct {
	Name   string
	Blanks []Blank
}

// A Blank is one named value of a phrase: a quantity, a Word, a Quote, a Share,
// a Figure, an int, another Phrase, or a List of such.
type Blank struct {
	Name  string
	Value any
}

// Say builds a phrase from the name of a wording and pairs of blank and value:
// Say("circuit.too-small", "need", amps).
func Say(name string, pairs ...any) Phrase {
	p := Phrase{Name: name}
	if len(pairs) > 0 {
		p.Blanks = make([]Blank, len(pairs)/2)
		for i := range p.Blanks {
			p.Blanks[i] = Blank{pairs[2*i].(string), pairs[2*i+1]}
		}
	}
	return p
}

// Zero says whether the phrase says nothing.
func (p Phrase) Zero() bool { return p.Name == "" }

// A Word is an answer out of a closed list, such as "copper-L"; the wording
// tables say how it prints.
type Word string

// A Quote is a text that somebody wrote: a name, a label, a marking. It prints as it is.
type Quote string

// A Share is a part of a whole, 1 being all of it; it prints in percent.
type Share float64

// A Figure is a plain number with the decimals that it prints with, trailing
// zeros left out, and its unit if it has one.
type Figure struct {
	Value    float64
	Decimals int
	Unit     string
}

// A Twin is a figure in each system of units, for steps of a calculation that
// print with more digits than a reading has.
type Twin struct{ US, SI Figure }

// Listed is several values as a sentence lists them: "a, b and c".
type Listed []any

// A List is several values, printed one after the other.
type List []any

// A Bound says how a fact bounds what is found.
type Bound int

// The bounds.
const (
	Is Bound = iota
	AtMost
	AtLeast
	Between // Value to High
)

// A Fact is one thing found or required: a value that can be compared, how it
// bounds, and the phrase around it, in whose blank {value} it stands. Without
// a phrase the value stands alone.
type Fact struct {
	Value  any
	Bound  Bound
	High   any // upper end of Between
	Phrase Phrase
}

// In puts a fact into a phrase; its value goes into the blank {value}.
func (f Fact) In(p Phrase) Fact {
	f.Phrase = p
	return f
}

// Zero says whether the fact says nothing.
func (f Fact) Zero() bool { return f.Value == nil && f.Phrase.Zero() }

// FactOf turns a value, a phrase or a fact into a fact.
func FactOf(x any) Fact {
	switch x := x.(type) {
	case nil:
		return Fact{}
	case Fact:
		return x
	case Phrase:
		return Fact{Phrase: x}
	}
	return Fact{Value: x}
}

// Key spells the fact in a way that no wording changes: for signatures.
func (f Fact) Key() string {
	var b strings.Builder
	b.WriteString([...]string{"", "≤", "≥", "↔"}[f.Bound])
	writeKey(&b, f.Value)
	if f.High != nil {
		b.WriteString("…")
		writeKey(&b, f.High)
	}
	if !f.Phrase.Zero() {
		writeKey(&b, f.Phrase)
	}
	return b.String()
}

func writeKey(b *strings.Builder, x any) {
	switch x := x.(type) {
	case nil:
	case Phrase:
		b.WriteString(x.Name)
		for _, p := range x.Blanks {
			b.WriteString(" " + p.Name + "=")
			writeKey(b, p.Value)
		}
	case List:
		for _, v := range x {
			writeKey(b, v)
			b.WriteString(",")
		}
	case quantity.Quantity:
		b.WriteString(x.Text())
	default:
		fmt.Fprint(b, x)
	}
}

// A Margin is how far inside (positive) or outside (negative) the limit the site is.
type Margin struct {
	Value float64 // in any one unit; NaN when there is none
	Gap   any     // quantity.Gap or Share, for print
	Side  Phrase  // "below the limit", with blank {gap}
}
