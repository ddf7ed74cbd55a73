package trade

import (
	"math"
	"testing"
)

// Source: NEC 2023 Table 310.16, nec_310_16.csv.
func TestNEC310_16(t *testing.T) {
	for _, row := range table(t, "nec_310_16.csv", 10) {
		g := row["awg"]
		for _, c := range []struct {
			key string
			m   Metal
			col Column
		}{
			{"cu60", Copper, Col60}, {"cu75", Copper, Col75}, {"cu90", Copper, Col90},
			{"al60", Aluminum, Col60}, {"al75", Aluminum, Col75}, {"al90", Aluminum, Col90},
		} {
			got, err := Ampacity(g, c.m, c.col)
			if row[c.key] == "" {
				fails(t, g+" "+c.key, err, ErrNotTabulated)
				continue
			}
			ok(t, g+" "+c.key, err)
			near(t, g+" "+c.key, got, num(t, row, c.key), 0)
		}
	}
	_, err := Ampacity("12", Copper, 80)
	fails(t, "no such column", err, ErrRange)
	_, err = Ampacity("4/0", Copper, Col75)
	fails(t, "no such gauge", err, ErrNotTabulated)
}

// Source: NEC Table 310.15(B)(1)(1), nec_ambient.csv: both ends of every band.
func TestNECAmbient(t *testing.T) {
	for _, row := range table(t, "nec_ambient.csv", 16) {
		for _, c := range []struct {
			key string
			col Column
		}{{"c60", Col60}, {"c75", Col75}, {"c90", Col90}} {
			for _, end := range []string{"from_C", "to_C"} {
				got, err := AmbientFactor(num(t, row, end), c.col)
				if row[c.key] == "" {
					fails(t, row[end]+" C "+c.key, err, ErrRange)
					continue
				}
				ok(t, row[end]+" C "+c.key, err)
				near(t, row[end]+" C "+c.key, got, num(t, row, c.key), 0)
			}
		}
	}
	near(t, "between two bands the warmer", value[float64](t)(AmbientFactor(30.5, Col75)), 0.94, 0)
	for _, temp := range []float64{85.1, math.NaN(), -61} {
		_, err := AmbientFactor(temp, Col90)
		fails(t, "ambient out of range", err, ErrRange)
	}
	_, err := AmbientFactor(30, 0)
	fails(t, "no column", err, ErrRange)
}

// Source: NEC Table 310.15(C)(1), an engineering guide page.
func TestNECBundling(t *testing.T) {
	for _, c := range []struct {
		from, to int
		factor   float64
	}{{1, 3, 1}, {4, 6, 0.8}, {7, 9, 0.7}, {10, 20, 0.5}, {21, 30, 0.45}, {31, 40, 0.4}, {41, 99, 0.35}} {
		near(t, "bundling, low end", value[float64](t)(BundlingFactor(c.from)), c.factor, 0)
		near(t, "bundling, high end", value[float64](t)(BundlingFactor(c.to)), c.factor, 0)
	}
	_, err := BundlingFactor(0)
	fails(t, "no conductor", err, ErrRange)
}

func TestDerated(t *testing.T) {
	// Insulation 90 C, four conductors, 40 C, 75 C terminals: 30 x 0.91 x 0.8 = 21.84.
	d := value[Derated](t)(DeratedAmpacity("12", Copper, Col90, Col75, 40, 4))
	near(t, "derated", d.DeratedA, 21.84, 1e-9)
	near(t, "usable", d.UsableA, 21.84, 1e-9)
	// Without derating the terminal column caps the 90 C figure.
	d = value[Derated](t)(DeratedAmpacity("12", Copper, Col90, Col60, 30, 3))
	near(t, "derated", d.DeratedA, 30, 0)
	near(t, "capped", d.UsableA, 20, 0)
	_, err := DeratedAmpacity("14", Aluminum, Col90, Col60, 30, 3)
	fails(t, "no row", err, ErrNotTabulated)
	near(t, "too hot", value[Derated](t)(DeratedAmpacity("12", Copper, Col60, Col60, 60, 3)).UsableA, 0, 0)
	_, err = DeratedAmpacity("12", Copper, Col60, Col60, 30, 0)
	fails(t, "no conductors", err, ErrRange)
	_, err = DeratedAmpacity("12", Copper, Col60, 0, 30, 3)
	fails(t, "no terminal column", err, ErrRange)
}
