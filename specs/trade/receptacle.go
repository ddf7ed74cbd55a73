package trade

import (
	"fmt"
	"math"
	"strings"
)

// A Receptacle is a plug and receptacle configuration.
type Receptacle struct {
	Config     string   // "NEMA L6-30", "IEC 60309 red 16 A 3P+N+E"
	Family     string   // only plugs of the same family and rating mate
	Rating     string   // "125/250 V"
	MaxV       float64  // highest rated voltage, line to line
	Amps       float64  // rated current
	Poles      int      // without the ground
	Wires      int      // with the ground
	Phases     int      // 1 or 3
	Neutral    bool     // a neutral contact
	Locking    bool     // twist to lock
	EarthHour  int      // clock position of the earth contact, IEC 60309; else 0
	Colour     string   // IEC 60309; else empty
	Conductors []string // "L", "N", "G"
	Supplies   []System // systems it is usually found on
	Source     Source
}

var (
	lng   = []string{"L", "N", "G"}
	llg   = []string{"L", "L", "G"}
	llng  = []string{"L", "L", "N", "G"}
	lllg  = []string{"L", "L", "L", "G"}
	lllng = []string{"L", "L", "L", "N", "G"}

	on120    = []System{Single120, Split120_240, Wye208Y120, Wye208Single}
	onLL     = []System{Split120_240, Wye208Y120, Wye208Single, Delta240, HighLeg240}
	onSplit  = []System{Split120_240, Wye208Y120, Wye208Single}
	onThree  = []System{Wye208Y120, Delta240, HighLeg240}
	onWye    = []System{Wye208Y120}
	on230    = []System{Single230, Wye400Y230}
	on400    = []System{Wye400Y230}
	nemaRate = map[string]string{"5": "125 V", "6": "250 V", "L6": "250 V", "14": "125/250 V", "L14": "125/250 V", "15": "250 V", "L21": "120/208 V"}
)

func nema(family string, amps float64, maxV float64, poles, phases int, neutral bool, conductors []string, supplies []System) Receptacle {
	return Receptacle{
		Config: fmt.Sprintf("NEMA %s-%v", family, amps), Family: "NEMA " + family, Rating: nemaRate[family], MaxV: maxV,
		Amps: amps, Poles: poles, Wires: poles + 1, Phases: phases, Neutral: neutral, Locking: strings.HasPrefix(family, "L"),
		Conductors: conductors, Supplies: supplies, Source: NEMAWD6,
	}
}

func iec309(colour, poles string, amps, maxV float64, n, phases int, neutral bool, conductors []string, supplies []System) Receptacle {
	rating := "380-415 V"
	if colour == "blue" {
		rating = "200-250 V"
	}
	return Receptacle{
		Config: fmt.Sprintf("IEC 60309 %s %v A %s", colour, amps, poles), Family: "IEC 60309 " + colour + " " + poles, Rating: rating, MaxV: maxV,
		Amps: amps, Poles: n, Wires: n + 1, Phases: phases, Neutral: neutral, EarthHour: 6, Colour: colour,
		Conductors: conductors, Supplies: supplies, Source: IEC60309,
	}
}

// receptacles holds the NEMA WD 6 configurations (source NEMAWD6; what a
// family means is NEMAWD6Family, confirmed) and those of IEC 60309 (IEC60309).
// The voltage is a class, not the supply: the 250 V class covers 208 and 240 V.
var receptacles = []Receptacle{
	nema("5", 15, 125, 2, 1, true, lng, on120),
	nema("5", 20, 125, 2, 1, true, lng, on120),
	nema("6", 15, 250, 2, 1, false, llg, onLL),
	nema("6", 20, 250, 2, 1, false, llg, onLL),
	nema("6", 30, 250, 2, 1, false, llg, onLL),
	nema("6", 50, 250, 2, 1, false, llg, onLL),
	nema("L6", 20, 250, 2, 1, false, llg, onLL),
	nema("L6", 30, 250, 2, 1, false, llg, onLL),
	nema("14", 30, 250, 3, 1, true, llng, onSplit),
	nema("14", 50, 250, 3, 1, true, llng, onSplit),
	nema("L14", 30, 250, 3, 1, true, llng, onSplit),
	nema("15", 30, 250, 3, 3, false, lllg, onThree),
	nema("15", 50, 250, 3, 3, false, lllg, onThree),
	nema("L21", 30, 208, 4, 3, true, lllng, onWye),
	iec309("blue", "2P+E", 16, 250, 2, 1, true, lng, on230),
	iec309("blue", "2P+E", 32, 250, 2, 1, true, lng, on230),
	iec309("red", "3P+N+E", 16, 415, 4, 3, true, lllng, on400),
	iec309("red", "3P+N+E", 32, 415, 4, 3, true, lllng, on400),
	iec309("red", "3P+E", 16, 415, 3, 3, false, lllg, on400),
	iec309("red", "3P+E", 32, 415, 3, 3, false, lllg, on400),
}

// Receptacles returns every known configuration.
func Receptacles() []Receptacle {
	rs := make([]Receptacle, len(receptacles))
	for i, r := range receptacles {
		rs[i] = r.clone()
	}
	return rs
}

func (r Receptacle) clone() Receptacle {
	r.Conductors = append([]string(nil), r.Conductors...)
	r.Supplies = append([]System(nil), r.Supplies...)
	return r
}

// FindReceptacle looks a configuration up by its name. The words "NEMA" and
// the suffixes R (receptacle) and P (plug) may be left out or given, and case
// does not matter: "l6-30r" is NEMA L6-30.
func FindReceptacle(config string) (Receptacle, error) {
	key := strings.ToUpper(strings.Join(strings.Fields(config), " "))
	for _, r := range receptacles {
		name := strings.ToUpper(r.Config)
		short := strings.TrimPrefix(name, "NEMA ")
		switch key {
		case name, short:
			return r.clone(), nil
		}
		if strings.HasPrefix(name, "NEMA ") {
			switch key {
			case name + "R", name + "P", short + "R", short + "P":
				return r.clone(), nil
			}
		}
	}
	return Receptacle{}, noRow("receptacle configurations", config)
}

// Mates reports whether a plug goes into a receptacle: the same family and
// rating, or a 15 A straight-blade plug of family 5 or 6 in the 20 A
// receptacle of its family. Source: NEMAWD6, IEC60309 (from memory). Mating
// says nothing about the circuit behind it.
func Mates(plug, receptacle Receptacle) bool {
	if plug.Family != receptacle.Family {
		return false
	}
	if plug.Amps == receptacle.Amps {
		return true
	}
	tSlot := plug.Family == "NEMA 5" || plug.Family == "NEMA 6"
	return tSlot && plug.Amps == 15 && receptacle.Amps == 20
}

// A PlugNeed is what a machine needs of its receptacle.
type PlugNeed struct {
	Phases   int     // 1 or 3
	NominalV float64 // line to line, or line to neutral for a one-leg machine
	LoadA    float64 // nameplate current
	Neutral  bool    // the machine connects a neutral
	OneLeg   bool    // it runs between one line and neutral
}

// Objections returns why a configuration cannot serve the machine; an empty
// list means that the contacts fit. It does not look at the circuit, at GFCI
// protection or at what the machine's listing demands. Source: NEMAWD6Family
// (confirmed), ratings NEMAWD6 (from memory).
func (r Receptacle) Objections(need PlugNeed) []string {
	var why []string
	if need.Phases != 1 && need.Phases != 3 || !positive(need.NominalV, need.LoadA) {
		return []string{"the machine's phases, voltage or current is not given"}
	}
	if need.Phases != r.Phases {
		why = append(why, fmt.Sprintf("%s is %d-phase, the machine is %d-phase", r.Config, r.Phases, need.Phases))
	}
	if need.Neutral && !r.Neutral {
		why = append(why, r.Config+" has no neutral contact, the machine connects a neutral")
	}
	lines := 0
	for _, c := range r.Conductors {
		if c == "L" {
			lines++
		}
	}
	if need.Phases == 1 && r.Phases == 1 {
		if need.OneLeg && !r.Neutral {
			why = append(why, r.Config+" has no neutral contact, the machine runs from line to neutral")
		}
		// A 230 V line-and-neutral outlet carries a 230 V machine of either kind.
		if !need.OneLeg && lines < 2 && r.Colour == "" {
			why = append(why, r.Config+" has one line contact, the machine runs from line to line")
		}
	}
	if limit := r.MaxV; need.NominalV > limit {
		why = append(why, fmt.Sprintf("%s is rated %s, the machine needs %v V", r.Config, r.Rating, need.NominalV))
	}
	if need.LoadA > r.Amps {
		why = append(why, fmt.Sprintf("%s is rated %v A, the machine draws %v A", r.Config, r.Amps, need.LoadA))
	}
	return why
}

// A GFCIAnswer says whether ground-fault protection of personnel is required.
type GFCIAnswer int

const (
	GFCINotRequired GFCIAnswer = iota + 1
	GFCIRequired
	GFCIAskAHJ // the text can be read either way, or depends on what is unknown
)

// String returns the answer in words.
func (a GFCIAnswer) String() string {
	switch a {
	case GFCINotRequired:
		return "not required"
	case GFCIRequired:
		return "required"
	case GFCIAskAHJ:
		return "ask the authority having jurisdiction"
	}
	return "no answer"
}

// A Location is where the outlet is, as far as the GFCI rule asks.
type Location int

const (
	LocationUnknown  Location = iota
	KitchenOrSink             // a kitchen, or within 6 ft of a sink's bowl edge
	BeverageArea              // a bar area with a sink, neither a kitchen nor within 6 ft
	ElsewhereIndoors          // none of these
)

// A GFCIQuery describes the outlet of a machine in other than a dwelling.
type GFCIQuery struct {
	Edition       Edition
	HardWired     bool // otherwise a receptacle
	Location      Location
	Phases        int     // 1 or 3
	Volts         float64 // nominal, line to line or line to neutral
	VoltsToGround float64 // the highest of the circuit's legs
	Amps          float64 // circuit rating
}

// A GFCIRuling is an answer with the clause behind it.
type GFCIRuling struct {
	Answer GFCIAnswer
	Why    string
	Source Source
}

// GFCI applies 210.8(B), and from 2020 the dishwasher rule of 422.5(A), to an
// outlet that is not in a dwelling.
//
//	2014  125 V, 15 and 20 A receptacles
//	2017  receptacles: single phase to 50 A, three phase to 100 A, 150 V to ground
//	2020  the same for 125-250 V; dishwashers to 60 A and 150 V to ground, cord or hard-wired
//	2023  the same limits; food and beverage areas with sinks added
//
// Whether a commercial glass washer is a dishwasher in the sense of 422.5 is
// not for this package: such cases return GFCIAskAHJ. Source: NECGFCI2014 to
// NECGFCI2023 (confirmed for the limits). Example: 2020, 208 V single-phase
// 20 A receptacle near a sink: required; the same hard-wired: ask.
func GFCI(q GFCIQuery) (GFCIRuling, error) {
	if !q.Edition.valid() {
		return GFCIRuling{}, rangeError("NEC edition", float64(q.Edition), "2014, 2017, 2020 or 2023")
	}
	if q.Phases != 1 && q.Phases != 3 {
		return GFCIRuling{}, rangeError("phases", float64(q.Phases), "1 or 3")
	}
	if !positive(q.Volts, q.VoltsToGround, q.Amps) {
		return GFCIRuling{}, fmt.Errorf("%v V, %v V to ground, %v A: %w", q.Volts, q.VoltsToGround, q.Amps, ErrRange)
	}
	src := map[Edition]Source{NEC2014: NECGFCI2014, NEC2017: NECGFCI2017, NEC2020: NECGFCI2020, NEC2023: NECGFCI2023}[q.Edition]
	ruling := func(a GFCIAnswer, why string) (GFCIRuling, error) {
		return GFCIRuling{Answer: a, Why: why, Source: src}, nil
	}
	const maxToGround = 150
	if q.VoltsToGround > maxToGround {
		return ruling(GFCINotRequired, fmt.Sprintf("the rule ends at 150 V to ground; this circuit has %.0f V", q.VoltsToGround))
	}
	applianceRule := q.Edition >= NEC2020 && q.Amps <= 60
	if q.HardWired {
		if applianceRule {
			return ruling(GFCIAskAHJ, "the appliance rule covers dishwashers to 60 A, hard-wired too; the authority decides whether it covers a commercial glass washer")
		}
		if q.Edition >= NEC2020 {
			return ruling(GFCINotRequired, "the appliance rule ends at 60 A and the receptacle rule does not cover a hard-wired machine")
		}
		return ruling(GFCINotRequired, "this edition covers receptacles, and dishwasher outlets in dwellings only")
	}

	inScope := false
	switch {
	case q.Edition == NEC2014:
		inScope = q.Phases == 1 && q.Volts <= 125 && q.Amps <= 20
	case q.Phases == 1:
		inScope = q.Amps <= 50 && q.Volts <= 250
	default:
		inScope = q.Amps <= 100
	}
	if !inScope {
		if applianceRule {
			return ruling(GFCIAskAHJ, "outside the receptacle rule, yet within the 60 A appliance rule for dishwashers; the authority decides whether it covers a glass washer")
		}
		return ruling(GFCINotRequired, "the receptacle rule of this edition does not reach this voltage, phase and rating")
	}
	switch {
	case q.Location == KitchenOrSink:
		return ruling(GFCIRequired, "a receptacle in a kitchen or within 6 ft of a sink")
	case q.Location == BeverageArea && q.Edition >= NEC2023:
		return ruling(GFCIRequired, "a receptacle in a food or beverage area with a sink")
	case q.Location == LocationUnknown:
		return ruling(GFCIAskAHJ, "the rating is covered; whether it is required depends on the distance to a sink and the use of the room, which are not known")
	case applianceRule:
		return ruling(GFCIAskAHJ, "not at a location of the receptacle rule, yet within the 60 A appliance rule for dishwashers; the authority decides whether it covers a glass washer")
	}
	return ruling(GFCINotRequired, "not at a location that this edition lists")
}

// RCDForIECmA is the residual current of the protective device that takes the
// place of a GFCI on 230 V systems. Source: IEC 60364-4-41 (from memory).
const RCDForIECmA = 30.0

// HighLegToNeutralV returns the voltage from the high leg of a delta to its
// neutral.
//
//	V = V(leg to neutral) x sqrt 3
//
// NaN unless positive. Source: HighLegVolts (confirmed). Example: 120 V gives
// 207.85 V.
func HighLegToNeutralV(legToNeutralV float64) float64 {
	if !positive(legToNeutralV) {
		return math.NaN()
	}
	return legToNeutralV * math.Sqrt(3)
}
