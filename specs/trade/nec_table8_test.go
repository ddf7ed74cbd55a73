package trade

import (
	"math"
	"testing"
)

// Source: NEC Chapter 9 Table 8, nec_table8.csv (transcribed apart from the Go
// table).
func TestNECTable8(t *testing.T) {
	rows := table(t, "nec_table8.csv", 10)
	for i, row := range rows {
		g := row["awg"]
		same(t, "gauge order", Gauges()[i], g)
		near(t, g+" cmil", value[float64](t)(CircularMils(g)), num(t, row, "cmil"), 0)
		near(t, g+" mm2", value[float64](t)(AreaMM2(g)), num(t, row, "mm2"), 0)
		for _, c := range []struct {
			key string
			m   Metal
			s   Stranding
		}{{"cu_solid", Copper, Solid}, {"cu_stranded", Copper, Stranded}, {"al_solid", Aluminum, Solid}, {"al_stranded", Aluminum, Stranded}} {
			got, err := Resistance(g, c.m, c.s)
			if row[c.key] == "" {
				fails(t, g+" "+c.key, err, ErrNotTabulated)
				continue
			}
			ok(t, g+" "+c.key, err)
			near(t, g+" "+c.key, got, num(t, row, c.key), 0)
		}
		// cmil and mm2 are the same area: 1 cmil = 5.067e-4 mm2 by definition.
		rel(t, g+" cmil in mm2", num(t, row, "cmil")*math.Pi/4*0.0254*0.0254, num(t, row, "mm2"), 0.002)
	}
	same(t, "rows", len(Gauges()), len(rows))
}

func TestNECTable8Temperature(t *testing.T) {
	// Source: NEC Chapter 9 Table 8 note 2 (from memory), factors computed.
	for _, c := range []struct {
		tempC, factor float64
	}{{20, 0.8224}, {60, 0.9516}, {90, 1.0485}, {75, 1}} {
		near(t, "copper factor", ResistanceAt(1, Copper, c.tempC), c.factor, 0.00006)
	}
	near(t, "aluminum at 90", ResistanceAt(1, Aluminum, 90), 1.0495, 1e-9)
	isNaN(t, "unknown metal", ResistanceAt(1, 0, 20))
	isNaN(t, "below range", ResistanceAt(1, Copper, -51))
	isNaN(t, "above range", ResistanceAt(1, Copper, 151))
	isNaN(t, "NaN", ResistanceAt(math.NaN(), Copper, 20))
}

func TestKConstant(t *testing.T) {
	// Source: electrical training texts, K 12.9 copper and 21.2 aluminum.
	same(t, "copper", KConstant(Copper), 12.9)
	same(t, "aluminum", KConstant(Aluminum), 21.2)
	isNaN(t, "none", KConstant(0))
	near(t, "12 AWG stranded", KOf(1.98, 6530), 12.93, 0.005)
	near(t, "12 AWG solid", KOf(1.93, 6530), 12.60, 0.005)
	isNaN(t, "zero area", KOf(1.98, 0))
	// Every stranded row of Table 8 stays within 1 percent of the constants.
	for _, g := range Gauges() {
		c := value[float64](t)(CircularMils(g))
		rel(t, "K of copper "+g, KOf(value[float64](t)(Resistance(g, Copper, Stranded)), c), 12.9, 0.01)
		rel(t, "K of aluminum "+g, KOf(value[float64](t)(Resistance(g, Aluminum, Stranded)), c), 21.2, 0.01)
	}
}
