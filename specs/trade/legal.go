package trade

import "math"

// A Print says how a text prints the second unit beside its inches.
type Print int

const (
	// WholeMM is the plumbing codes' and the NEC's way: 6 in (152 mm), 30 in
	// (762 mm), 54 in (1372 mm).
	WholeMM Print = iota
	// FoodCodeCM is the Food Code's way: 6 in (15 cm), 4 in (10 cm).
	FoodCodeCM
)

// PrintedMM returns the millimetres that a text prints beside a limit in
// inches. NaN unless the limit is positive.
//
//	whole mm: 6 in is 152, 12 in 305, 18 in 457, 30 in 762, 54 in 1372
//	Food Code: 6 in is 150 (15 cm), 4 in 100 (10 cm), 1/32 in 1
//
// Sources: UPC804_1, IPC802_3, ASSE1001, ASSE1056, FoodCode4_402 (read in
// secondary texts).
func PrintedMM(p Print, limitIn float64) float64 {
	if !positive(limitIn) {
		return math.NaN()
	}
	mm := limitIn * MMPerIn
	switch {
	case p == FoodCodeCM && mm >= 200:
		return math.Floor(mm/10) * 10 // 20 in is 50 cm
	case p == FoodCodeCM && mm >= 10:
		// Its centimetres are rounded to the half: 3 in is 7.5, 2 in is 5.
		return math.Floor(mm/5) * 5
	}
	return math.Round(mm)
}

// MMPerIn is the millimetres of an inch, exact.
const MMPerIn = 1000 * MPerIn
