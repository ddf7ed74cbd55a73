package trade

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Sources of how a circuit is laid and of what its ends take.
var (
	NEC110_14  = Source{"NEC", "2023", "110.14, 404.14(C) and 406.3(C)", FromMemory}
	NEC250_118 = Source{"NEC", "2023", "250.118", FromMemory}
	// An electricians' forum prints (6)'s text, a course's code summary (5)'s.
	NEC250_118Flex = Source{"NEC", "2020 and earlier", "250.118(5) and (6)", ReadCopy}
	NEC250_120     = Source{"NEC", "2008", "250.120(B)", ReadCopy} // an electricians' forum prints its text
	NEC310_4       = Source{"NEC", "2023", "Table 310.4(1)", FromMemory}
	NEC334_12      = Source{"NEC", "2023", "334.12(B)", FromMemory}
	NEC334_80      = Source{"NEC", "2023", "334.80", ReadCopy} // quoted from the 2011 edition
	IECMethodA2    = Source{"IEC", "", "60364-5-52 Tables B.52.2 and B.52.4, method A2", FromMemory}
	NEC404_8       = Source{"NEC", "", "404.8(A), 6 ft 7 in as the height within reach", FromMemory}
	DropPractice   = Source{Document: "IEC installations: 2 % of the voltage drop is left to what lies ahead of the panel", Mark: CommonPractice}
)

// What flexible metal conduit may ground, of NEC250_118Flex: itself behind 20 A,
// liquidtight of trade sizes 3/8 and 1/2 behind 20 A and of 3/4 to 1-1/4 behind
// 60 A; the flexible lengths of a fault's path are 6 ft (1.8 m) together.
const (
	FlexGroundMaxA        = 20.0
	LiquidtightGroundMaxA = 60.0
)

// AluminumFromEarthIn is how far above earth an aluminum grounding conductor
// must end, in. Source: NEC250_120.
const AluminumFromEarthIn = 18.0

// methodA2 is the ampacity of copper cable with 70 C thermoplastic insulation
// in conduit in a thermally insulating wall, 30 C, one circuit: 2 and 3 loaded
// conductors. Source: IECMethodA2 (from memory).
var methodA2 = map[float64][2]float64{
	1.5: {14, 13}, 2.5: {18.5, 17.5}, 4: {25, 23}, 6: {32, 29}, 10: {43, 39}, 16: {57, 52},
}

// IECInsulatedAmpacity returns the ampacity in ampere of copper cable within
// thermal insulation with 2 or 3 loaded conductors. Source: IECMethodA2.
// Example: 2.5 mm2, 2 loaded: 18.5.
func IECInsulatedAmpacity(areaMM2 float64, loaded int) (float64, error) {
	r, ok := methodA2[areaMM2]
	if !ok || loaded != 2 && loaded != 3 {
		return 0, noRow("method A2 table", fmt.Sprintf("%v mm2, %d loaded", areaMM2, loaded))
	}
	return r[loaded-2], nil
}

// EGCGrown returns the circular mils that a grounding conductor must have when
// the circuit conductors were made larger than their minimum.
//
//	cmil = cmil(EGC) x cmil(installed) / cmil(minimum)
//
// Source: NEC250_122B. Example: 60 A, copper, minimum 4 AWG, installed
// 1/0 AWG: 10380 x 105600/41740 = 26261 cmil.
func EGCGrown(ocpdA float64, metal Metal, minimum, installed string) (cmil float64, err error) {
	base, err := EGC(ocpdA, metal)
	if err != nil {
		return 0, err
	}
	cb, err := CircularMils(base)
	if err != nil {
		return 0, err
	}
	cm, err := CircularMils(minimum)
	if err != nil {
		return 0, err
	}
	ci, err := CircularMils(installed)
	if err != nil {
		return 0, err
	}
	return cb * max(ci/cm, 1), nil
}

// A PlugForm is what the name of a plug or receptacle tells of it, also of
// those that the table of configurations doesn't hold.
type PlugForm struct {
	Family   string  // only the same family mates: "NEMA L6", "BS 1363"
	Amps     float64 // rated current
	Grounded bool
}

var nemaName = regexp.MustCompile(`^(?:NEMA )?(TT|L?\d{1,2}|[CM]L\d)-(\d{2})[RP]?$`)

// californian names the locking family that is numbered like "CS6365".
var californian = regexp.MustCompile(`^CS ?\d{4}[A-Z]?$`)

// besides are words that say how a receptacle is built or mounted, not its form.
var besides = regexp.MustCompile(`\b(SINGLE|DUPLEX|RECEPTACLE|OUTLET|SOCKET|GFCI|GFI|SWITCHED|UNSWITCHED|TWIN|DOUBLE|WALL|TAMPER-RESISTANT)\b`)

// otherForms are household forms outside the NEMA's and the IEC 60309's, by
// how their names begin and by the letters of the world's plugs.
// Source: BS 1363, BS 546, CEE 7, AS/NZS 3112 and the letters of IEC/TR 60083
// (from memory).
var otherForms = []struct {
	names []string
	form  PlugForm
}{
	{[]string{"BS 1363", "TYPE G", "UK 3-PIN", "13 A"}, PlugForm{"BS 1363", 13, true}},
	{[]string{"BS 546", "TYPE M"}, PlugForm{"BS 546", 15, true}},
	{[]string{"TYPE D"}, PlugForm{"BS 546", 5, true}},
	{[]string{"CEE 7/16", "TYPE C"}, PlugForm{"CEE 7/16", 2.5, false}},
	{[]string{"CEE 7", "SCHUKO", "TYPE E", "TYPE F"}, PlugForm{"CEE 7", 16, true}},
	{[]string{"AS/NZS 3112", "TYPE I"}, PlugForm{"AS/NZS 3112", 10, true}},
	{[]string{"SEV 1011", "TYPE J"}, PlugForm{"SEV 1011", 10, true}},
	{[]string{"TYPE A"}, PlugForm{"NEMA 1", 15, false}},
	{[]string{"TYPE B"}, PlugForm{"NEMA 5", 15, true}},
}

// ReadPlugForm reads the name of a plug or receptacle. ok is false when it
// names no form known here. Source: NEMAWD6Family; families 1, 2 and 10 have
// no ground contact (from memory). Example: "10-30R" is NEMA 10, 30 A, not grounded.
func ReadPlugForm(name string) (f PlugForm, ok bool) {
	name = strings.Join(strings.Fields(besides.ReplaceAllString(strings.ToUpper(name), " ")), " ")
	if californian.MatchString(name) {
		return PlugForm{"CS", 50, true}, true
	}
	if m := nemaName.FindStringSubmatch(name); m != nil {
		amps, _ := strconv.ParseFloat(m[2], 64)
		bare := m[1] == "1" || m[1] == "2" || m[1] == "10" || m[1] == "L1" || m[1] == "L2" || m[1] == "L10"
		return PlugForm{"NEMA " + m[1], amps, !bare}, true
	}
	if r, err := FindReceptacle(name); err == nil {
		return PlugForm{r.Family, r.Amps, true}, true
	}
	for _, o := range otherForms {
		for _, n := range o.names {
			if name == n || strings.HasPrefix(name, n) && !strings.HasPrefix(n, "TYPE") || strings.HasPrefix(name, strings.ReplaceAll(n, " ", "")) {
				return o.form, true
			}
		}
	}
	return f, false
}
