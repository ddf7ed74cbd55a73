package trade

import "testing"

// Source: NEC Chapter 9 Table 8, nec_table8.csv (transcribed apart from the Go
// table).
func TestNECTable8(t *testing.T) {
	rows := table(t, "nec_table8.csv", 10)
	for i, row := range rows {
		g := row["awg"]
		same(t, "gauge order", Gauges()[i], g)
		near(t, g+" cmil", value[float64](t)(CircularMils(g)), num(t, row, "cmil"), 0)
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
	}
	same(t, "rows", len(Gauges()), len(rows))
}

// Source: electrical training texts, K of the circular-mil method at 75 C:
// 12.9 copper, 21.2 aluminum. Every stranded row of Table 8 stays within 1
// percent of them.
func TestNECTable8ByK(t *testing.T) {
	for _, g := range Gauges() {
		cmil := value[float64](t)(CircularMils(g))
		rel(t, "K of copper "+g, value[float64](t)(Resistance(g, Copper, Stranded))*cmil/1000, 12.9, 0.01)
		rel(t, "K of aluminum "+g, value[float64](t)(Resistance(g, Aluminum, Stranded))*cmil/1000, 21.2, 0.01)
	}
}
