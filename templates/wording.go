package templates

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"github.com/goccy/go-yaml"
)

//go:embed wording.yaml
var wording []byte

// Wording is what the printed sheets say beside the findings: headings,
// cautions, sign-off labels. Every field must be filled in.
type Wording struct {
	Disclaimer  string                `yaml:"disclaimer"`
	Letterhead  Letterhead            `yaml:"letterhead" region:"-"`
	Headings    Headings              `yaml:"headings"`
	Columns     Columns               `yaml:"columns"`
	Stages      Stages                `yaml:"stages"`
	Sentences   Sentences             `yaml:"sentences"`
	Uncertainty []string              `yaml:"uncertainty"`
	SignOff     SignOff               `yaml:"sign_off"`
	Trades      map[string]TradeWords `yaml:"trades"` // by trade
}

// Letterhead is the company that hands the packet out; an empty name is none.
type Letterhead struct {
	Name    string   `yaml:"name"`
	Address string   `yaml:"address"`
	Lines   []string `yaml:"lines"`
}

// Headings of sheets and of blocks on them.
type Headings struct {
	Summary      string `yaml:"summary"`
	Truck        string `yaml:"truck"`
	Trades       string `yaml:"trades"`
	Notes        string `yaml:"notes"`
	Punch        string `yaml:"punch"`
	Open         string `yaml:"open"`
	Measure      string `yaml:"measure"`
	Unread       string `yaml:"unread"`
	Questions    string `yaml:"questions"`
	Way          string `yaml:"way"`
	Bring        string `yaml:"bring"`
	Points       string `yaml:"points"`
	InOrder      string `yaml:"in_order"`
	NotHere      string `yaml:"not_here"`
	Sources      string `yaml:"sources"`
	Calculations string `yaml:"calculations"`
	Uncertainty  string `yaml:"uncertainty"`
	Photos       string `yaml:"photos"`
	Machine      string `yaml:"machine"`
}

// Columns are the heads of tables.
type Columns struct {
	Trade    string `yaml:"trade"`
	State    string `yaml:"state"`
	Sheet    string `yaml:"sheet"`
	Signs    string `yaml:"signs"`
	Step     string `yaml:"step"`
	Point    string `yaml:"point"`
	Who      string `yaml:"who"`
	Number   string `yaml:"number"`
	Needed   string `yaml:"needed"`
	Found    string `yaml:"found"`
	Calc     string `yaml:"calc"`
	Do       string `yaml:"do"`
	Open     string `yaml:"open"`
	Initials string `yaml:"initials"`
	Ask      string `yaml:"ask"`
	How      string `yaml:"how"`
	Where    string `yaml:"where"`
	Question string `yaml:"question"`
	Reading  string `yaml:"reading"`
	Answer   string `yaml:"answer"`
	Place    string `yaml:"place"`
}

// Stages are the names of the stages at which a point must be settled.
type Stages struct {
	BeforeOrder    string `yaml:"before_ordering"`
	RoughIn        string `yaml:"rough_in"`
	BeforeDelivery string `yaml:"before_delivery"`
	BeforeStart    string `yaml:"before_start"`
}

// Sentences hold words in braces that [Fill] replaces.
type Sentences struct {
	Ready       string `yaml:"ready"`
	NoSteps     string `yaml:"no_steps"`
	Uncertain   string `yaml:"uncertain"`
	PunchHow    string `yaml:"punch_how"`
	CalcHow     string `yaml:"calculations_how"`
	NotComputed string `yaml:"not_computed"`
	MachineHow  string `yaml:"machine_how"`
}

// SignOff are the title and the labels of a block to sign.
type SignOff struct {
	Title     string `yaml:"title"`
	Company   string `yaml:"company"`
	Licence   string `yaml:"licence"`
	Name      string `yaml:"name"`
	Signature string `yaml:"signature"`
	Date      string `yaml:"date"`
}

// TradeWords are a trade's own words.
type TradeWords struct {
	Title     string    `yaml:"title"` // of its sheet
	Name      string    `yaml:"name"`
	Statement string    `yaml:"statement"` // what is signed
	Warnings  []Hazard  `yaml:"warnings"`  // what can kill
	Cautions  []Hazard  `yaml:"cautions"`  // what can hurt, or spoil the work
	Readings  []ToWrite `yaml:"readings"`  // to be read and written in
}

// A Hazard is one point of a trade's warnings or cautions. A quantity in braces
// prints in the reader's units.
type Hazard struct {
	Text string   `yaml:"text"`
	Only []string `yaml:"only" region:"-"` // traits that it takes, "nec" or "not hot"; none: always
}

// ToWrite is a table of readings, with the heads of its blanks.
type ToWrite struct {
	Title string    `yaml:"title"`
	Heads []string  `yaml:"heads"`
	Only  []string  `yaml:"only"`
	Rows  []Reading `yaml:"rows"`
}

// A Reading is one line of it; its unit may be "psi|kPa" for the two systems.
type Reading struct {
	Text string   `yaml:"text"`
	Unit string   `yaml:"unit"`
	Only []string `yaml:"only" region:"-"`
}

// Words returns the wording of the printed sheets; the error says what in
// wording.yaml can't be read. The value is shared: do not write to it.
var Words = sync.OnceValues(func() (*Wording, error) { return ParseWording(wording) })

// ParseWording reads a wording file; a name that isn't known is an error.
func ParseWording(data []byte) (*Wording, error) {
	var w Wording
	if err := yaml.UnmarshalWithOptions(data, &w, yaml.Strict()); err != nil {
		return nil, fmt.Errorf("templates/wording.yaml: %w", err)
	}
	return &w, nil
}

// Fill replaces words in braces: Fill("page {n}", "n", "3") is "page 3". Pairs
// are name and value.
func Fill(text string, pairs ...string) string {
	old := make([]string, 0, len(pairs))
	for i := 0; i+1 < len(pairs); i += 2 {
		old = append(old, "{"+pairs[i]+"}", pairs[i+1])
	}
	return strings.NewReplacer(old...).Replace(text)
}
