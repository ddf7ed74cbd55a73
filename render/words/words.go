// Package words turns facts into sentences: the phrases of the wording tables
// with their blanks filled in, in the reader's units. Start with Reader.
package words

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// A Reader is who reads: the units shown first.
type Reader struct {
	Units quantity.System
	Gauge bool // figures as a tape or a gauge reads, in these units alone
	Alone bool // figures in these units alone, as exact as they were worked out
}

// Say words a phrase. A phrase that the tables lack prints its name in angle
// brackets, so that it is seen; a test sees to it that none does.
func (r Reader) Say(p check.Phrase) string {
	if p.Zero() {
		return ""
	}
	if p.Name == "question" && len(p.Blanks) == 1 {
		return r.Question(r.Value(p.Blanks[0].Value))
	}
	text, ok := r.phrase(p.Name)
	if !ok {
		return "<" + p.Name + ">"
	}
	return r.fill(p, text)
}

// fill fills the blanks of a phrase's text in.
func (r Reader) fill(p check.Phrase, text string) string {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '{')
		j := strings.IndexByte(text, '}')
		if i < 0 || j < i {
			b.WriteString(text)
			return b.String()
		}
		b.WriteString(text[:i])
		b.WriteString(r.blank(p, text[i+1:j]))
		text = text[j+1:]
	}
}

func (r Reader) blank(p check.Phrase, name string) string {
	for _, v := range p.Blanks {
		if v.Name == name {
			return r.Value(v.Value)
		}
	}
	if q := r.quantity(name); q != "" {
		return q
	}
	return "{" + name + "}"
}

// quantity words a quantity that stands in a phrase's braces in the reader's
// units: "{140 °F}". It is empty when the text isn't one.
func (r Reader) quantity(text string) string {
	if text == "" || text[0] < '0' || text[0] > '9' {
		return ""
	}
	if q, err := quantity.Parse[quantity.Temperature](text); err == nil {
		return r.Value(q)
	}
	if q, err := quantity.Parse[quantity.Length](text); err == nil {
		return r.Value(q)
	}
	if q, err := quantity.Parse[quantity.Pressure](text); err == nil {
		return r.Value(q)
	}
	return ""
}

// Text words a sentence of the tables that has no name, with quantities in its braces.
func (r Reader) Text(text string) string { return r.fill(check.Phrase{}, r.Region().Text(text)) }

// PageNumber words the number of a page of so many.
func (r Reader) PageNumber(page, pages int) string {
	return r.Say(check.Say("page.number", "page", page, "pages", pages))
}

// Region is whose English the reader reads.
func (r Reader) Region() templates.Region { return templates.For(r.Units) }

// phrase is the text of a name without its blanks filled, and whether there is one.
func (r Reader) phrase(name string) (string, bool) {
	all, err := r.Region().Phrases()
	if err != nil {
		panic(err)
	}
	text, ok := all[name]
	return text, ok
}

// Value words whatever may stand in a blank.
func (r Reader) Value(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case check.Phrase:
		return r.Say(v)
	case check.Fact:
		return r.Fact(v)
	case check.Word:
		return r.Word(string(v))
	case check.Quote:
		return string(v)
	case check.Share:
		return percent(float64(v))
	case check.Figure:
		return figure(v)
	case check.Twin:
		if r.Units == quantity.SI {
			return figure(v.SI)
		}
		return figure(v.US)
	case check.Listed:
		text := ""
		for i, x := range v {
			switch {
			case i == 0:
				text = r.Value(x)
			case i == len(v)-1:
				text = r.Say(check.Say("list.last", "before", check.Quote(text), "last", x))
			default:
				text = r.Say(check.Say("list.next", "before", check.Quote(text), "next", x))
			}
		}
		return text
	case check.List:
		parts := make([]string, 0, len(v))
		for _, x := range v {
			if t := r.Value(x); t != "" {
				parts = append(parts, t)
			}
		}
		return strings.Join(parts, ", ")
	case check.Reading:
		return r.alone(r.Answer(v.Survey, v.Path))
	case quantity.Gap:
		return r.alone(v.Show(r.Units))
	case quantity.PipeSize:
		if r.Units == quantity.SI { // the nominal trade size stays
			return v.Show(r.Units)
		}
		return r.alone(v.Show(r.Units))
	case gauged:
		if r.Gauge {
			return v.Gauge(r.Units, quantity.Nearest)
		}
		return r.alone(v.(interface{ Show(quantity.System) string }).Show(r.Units))
	case interface{ Show(quantity.System) string }:
		return r.alone(v.Show(r.Units))
	case trade.Source:
		return v.String()
	case int:
		return strconv.Itoa(v)
	case string:
		return v
	case fmt.Stringer:
		return v.String()
	}
	return fmt.Sprint(v)
}

var others = regexp.MustCompile(` \([^()]*\)`)

// alone leaves out the figure in the other units, which stands in parentheses,
// where the reader wants these units alone.
func (r Reader) alone(text string) string {
	if r.Gauge || r.Alone {
		return others.ReplaceAllString(text, "")
	}
	return text
}

// gauged is a quantity that prints as a tape or a gauge reads.
type gauged interface {
	Gauge(quantity.System, quantity.Way) string
}

// bounded words a limit: a least is rounded up and a most down.
func (r Reader) bounded(v any, w quantity.Way) string {
	if g, ok := v.(gauged); ok && r.Gauge {
		return g.Gauge(r.Units, w)
	}
	return r.Value(v)
}

// Word is an answer out of a closed list as it prints.
func (r Reader) Word(v string) string {
	if text, ok := r.phrase("word." + v); ok {
		return text
	}
	return v
}

// Question is how the table of fields asks for an answer.
func (r Reader) Question(path string) string { return r.Region().Text(survey.Question(path)) }

// Answer is what was answered: a reading with the uncertainty that applies to
// it, an answer out of a closed list in words.
func (r Reader) Answer(s *survey.Survey, path string) string {
	text := s.ReadingText(path, r.Units)
	if survey.HasField(path) && len(survey.FieldAt(path).Choices) > 0 {
		return r.Word(text)
	}
	return text
}

// AnswerText words an answer as it may be written into a questionnaire, or as
// a reading prints in both systems.
func (r Reader) AnswerText(path, text string) string {
	if !survey.HasField(path) {
		return text
	}
	f := survey.FieldAt(path)
	if len(f.Choices) > 0 {
		return r.Word(text)
	}
	zero := f.Zero()
	if _, ok := zero.(quantity.Quantity); !ok || zero.(encoding.TextUnmarshaler).UnmarshalText([]byte(others.ReplaceAllString(text, ""))) != nil {
		return text
	}
	return r.Value(reflect.ValueOf(zero).Elem().Interface())
}

func percent(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	return fmt.Sprintf("%.1f %%", 100*x)
}

// figure prints a plain number without trailing zeros.
func figure(f check.Figure) string {
	if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) {
		return "unknown"
	}
	s := strconv.FormatFloat(f.Value, 'f', f.Decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	if f.Unit != "" {
		s += " " + f.Unit
	}
	return s
}

// Fact words a fact alone.
func (r Reader) Fact(f check.Fact) string {
	way := [...]quantity.Way{check.Is: quantity.Nearest, check.AtMost: quantity.Down, check.AtLeast: quantity.Up, check.Between: quantity.Up}[f.Bound]
	return r.fact(f, r.bounded(f.Value, way), r.bounded(f.High, quantity.Down))
}

func (r Reader) fact(f check.Fact, value, high string) string {
	text := value
	switch f.Bound {
	case check.AtMost:
		text = r.Say(check.Say("bound.at-most", "value", check.Quote(value)))
	case check.AtLeast:
		text = r.Say(check.Say("bound.at-least", "value", check.Quote(value)))
	case check.Between:
		text = r.Say(check.Say("bound.between", "low", check.Quote(value), "high", check.Quote(high)))
	}
	if f.Phrase.Zero() {
		return text
	}
	p := f.Phrase
	if text == "" { // the phrase says it all, with a {value} of its own or none
		return r.Say(p)
	}
	p.Blanks = append([]check.Blank{{Name: "value", Value: check.Quote(text)}}, p.Blanks...)
	return r.Say(p)
}

// Found words what was found and what is required, so that rounding never
// makes a near miss look like a match.
func (r Reader) Found(o *check.Outcome) (have, want string) {
	if r.Gauge {
		if h, w, high := r.Value(o.Have.Value), r.Value(o.Want.Value), r.Value(o.Want.High); h != w && h != high {
			return r.Fact(o.Have), r.Fact(o.Want)
		}
	}
	h, w := r.Value(o.Have.Value), r.Value(o.Want.Value)
	if a, b, ok := quantity.DistinctAny(o.Have.Value, o.Want.Value, r.Units); ok {
		h, w = r.alone(a), r.alone(b)
	}
	high := r.Value(o.Want.High)
	if a, b, ok := quantity.DistinctAny(o.Have.Value, o.Want.High, r.Units); ok {
		if len(a) > len(h) {
			h = r.alone(a)
		}
		high = r.alone(b)
	}
	return r.fact(o.Have, h, ""), r.fact(o.Want, w, high)
}

// Have words what was found.
func (r Reader) Have(o *check.Outcome) string { h, _ := r.Found(o); return h }

// Want words what is required.
func (r Reader) Want(o *check.Outcome) string { _, w := r.Found(o); return w }

// Margin words a margin; empty when there is none.
func (r Reader) Margin(m check.Margin) string {
	if m.Gap == nil {
		return ""
	}
	return r.Say(check.Phrase{Name: m.Side.Name, Blanks: append([]check.Blank{{Name: "gap", Value: m.Gap}}, m.Side.Blanks...)})
}

// Action words what to do about a finding.
func (r Reader) Action(f *check.Finding) string { return r.Say(f.Action) }

// Source names where a finding's limit and rules come from, each with its mark.
func Source(f *check.Finding, sheet func(path string) string) string {
	var parts []string
	seen := map[string]bool{}
	add := func(t string) {
		if t != "" && !seen[t] {
			seen[t] = true
			parts = append(parts, t)
		}
	}
	if f.Sheet != "" {
		add(sheet(f.Sheet))
	}
	for _, s := range f.Cites {
		add(s.String())
	}
	return strings.Join(parts, "; ")
}

// A Told finding is one in words.
type Told struct {
	*check.Finding
	About
	Have, Want, Margin, Action, Worst, Best, Source string
	Working                                         []Line
	Remedies                                        []Way
}

// A Line is one line of a calculation in words.
type Line struct{ Symbol, Meaning, Value string }

// A Way is a remedy in words.
type Way struct {
	Change string
	Set    map[string]string
}

// Tell words a finding.
func (r Reader) Tell(f *check.Finding, m *specs.Machine) Told {
	t := Told{Finding: f, About: r.About(f.ID), Margin: r.Margin(f.Outcome.Margin), Action: r.Action(f), Worst: r.Fact(f.Worst), Best: r.Fact(f.Best),
		Source: Source(f, func(path string) string { return m.Name + " " + path + ": " + m.SourceOf(path) })}
	t.Have, t.Want = r.Found(&f.Outcome)
	if t.Worst == t.Best {
		t.Worst, t.Best = "", ""
	}
	for _, s := range f.Outcome.Working {
		t.Working = append(t.Working, Line{r.Region().Text(s.Symbol), r.Value(s.Meaning), r.Value(s.Value)})
	}
	for _, w := range f.Remedies {
		t.Remedies = append(t.Remedies, Way{r.Value(w.Change), w.Set})
	}
	return t
}
