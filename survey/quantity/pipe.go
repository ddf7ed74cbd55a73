package quantity

import (
	"cmp"
	"fmt"
	"strconv"
)

// PipeSize is a nominal pipe size: a name, not a length. A 3/4 in pipe
// measures 3/4 in nowhere. The zero value is unknown.
type PipeSize struct {
	n uint8 // 1 + index into pipeSizes
}

// pipeSizes are the sizes there are, in order. The metric names are those of
// ISO 6708 beside the NPS of ASME B36.10M; 5/8 in is a tube size without one.
var pipeSizes = []struct {
	name   string
	inches float64
	dn     int
}{
	{"1/4", 0.25, 8},
	{"3/8", 0.375, 10},
	{"1/2", 0.5, 15},
	{"5/8", 0.625, 0},
	{"3/4", 0.75, 20},
	{"1", 1, 25},
	{"1-1/4", 1.25, 32},
	{"1-1/2", 1.5, 40},
	{"2", 2, 50},
	{"2-1/2", 2.5, 65},
	{"3", 3, 80},
	{"4", 4, 100},
}

// Known reports whether there is a size.
func (p PipeSize) Known() bool { return p.n > 0 }

// String gives the size in inches, as "1-1/2 in"; "unknown" if it is.
func (p PipeSize) String() string {
	if !p.Known() {
		return unknownText
	}
	return pipeSizes[p.n-1].name + " in"
}

// Show gives both names, that of system s first: "1-1/2 in (DN 40)". A size
// without a metric name shows the inch name alone.
func (p PipeSize) Show(s System) string {
	inch, dn := p.String(), p.DN()
	switch {
	case dn == 0:
		return inch
	case s == SI:
		return fmt.Sprintf("DN %d (%s)", dn, inch)
	}
	return fmt.Sprintf("%s (DN %d)", inch, dn)
}

// DN gives the number of the metric name, as 40 for DN 40; 0 if the size has
// none or is unknown.
func (p PipeSize) DN() int {
	if !p.Known() {
		return 0
	}
	return pipeSizes[p.n-1].dn
}

// Inches gives the number in the name, for drawings and labels only: it is no
// bore and no outside diameter. It is 0 if the size is unknown.
func (p PipeSize) Inches() float64 {
	if !p.Known() {
		return 0
	}
	return pipeSizes[p.n-1].inches
}

// Cmp gives -1, 0 or +1 as p is smaller than, the same as or larger than o. An
// unknown size sorts before every known one; ask Known first.
func (p PipeSize) Cmp(o PipeSize) int { return cmp.Compare(p.n, o.n) }

// Next gives the next larger size; unknown after the largest and for unknown.
func (p PipeSize) Next() PipeSize {
	if !p.Known() || int(p.n) == len(pipeSizes) {
		return PipeSize{}
	}
	return PipeSize{p.n + 1}
}

// All lists the sizes there are, smallest first.
func (PipeSize) All() []PipeSize {
	all := make([]PipeSize, len(pipeSizes))
	for i := range all {
		all[i] = PipeSize{uint8(i + 1)}
	}
	return all
}

// MarshalText gives String; empty for an unknown size.
func (p PipeSize) MarshalText() ([]byte, error) { return marshalName(p) }

// UnmarshalText is Parse in place, except that blank text gives an unknown
// size. On error p is unknown.
func (p *PipeSize) UnmarshalText(text []byte) error { return unmarshal(p, text) }

// marshalName is the MarshalText of the types that are names.
func marshalName(n interface {
	Known() bool
	String() string
}) ([]byte, error) {
	if !n.Known() {
		return nil, nil
	}
	return []byte(n.String()), nil
}

const pipeAdvice = `write it as "3/4 in" or "DN 20"`

var (
	pipeDN     = lazily(`(?i)^DN\s*(\d+)$`)
	pipeInch   = lazily(`(?i)^(?:NPS\s*)?(` + unsigned + `)\s*-?\s*(?:in\.?|inch|inches|")?$`)
	pipeMetric = lazily(`(?i)^[\d.]+\s*(?:mm|cm)$`)
)

func (p *PipeSize) parse(text string) error {
	*p = PipeSize{}
	s, subject, err := prepare(text, "a pipe size", pipeAdvice)
	if err != nil {
		return err
	}
	if m := pipeDN().FindStringSubmatch(s); m != nil {
		for _, size := range p.All() {
			if dn := size.DN(); dn > 0 && strconv.Itoa(dn) == m[1] {
				*p = size
				return nil
			}
		}
		return fmt.Errorf("%s is not on the list of pipe sizes; write one of %s", subject, pipeList())
	}
	if pipeMetric().MatchString(s) {
		return fmt.Errorf(`%s is a diameter, not a pipe size; write the nominal size, as "DN 40" or "1-1/2 in"`, subject)
	}
	m := pipeInch().FindStringSubmatch(s)
	if m == nil {
		return fmt.Errorf("%s is not a pipe size; %s", subject, pipeAdvice)
	}
	inches, err := number(m[1])
	if err != nil {
		return fmt.Errorf("%s %w; %s", subject, err, pipeAdvice)
	}
	for _, size := range p.All() {
		if size.Inches() == inches {
			*p = size
			return nil
		}
	}
	return fmt.Errorf("%s is not on the list of pipe sizes; write one of %s", subject, pipeList())
}

// pipeList names all sizes both ways.
func pipeList() string {
	var inch, dn []string
	for _, size := range (PipeSize{}).All() {
		inch = append(inch, pipeSizes[size.n-1].name)
		if n := size.DN(); n > 0 {
			dn = append(dn, strconv.Itoa(n))
		}
	}
	return join(inch) + " in, or DN " + join(dn)
}
