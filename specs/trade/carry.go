package trade

import (
	"fmt"
	"math"
)

// Lifting guidance, pounds. It is guidance and no law, for healthy adults with
// a good grip, the load close to the body at knuckle height, few lifts and no
// stairs. Anything worse lowers it; a crate's grip and a stair are worse.
const (
	NIOSHLoadLb = 51.0 // NIOSHLifting, load constant, 23 kg
	MaxCarriers = 4    // larger teams are unlikely to work, HSELifting
)

// TeamLiftLb returns what a team may lift when each member may lift a load
// alone.
//
//	1: the load; 2: 2/3 of the sum; 3 and 4: 1/2 of the sum
//
// lb. NaN unless the load is positive and the team has 1 to 4. Source:
// HSELifting for two and three (read in a secondary text); four is taken like
// three. Example: two at 20 kg each 26.7 kg, three at 25 kg each 37.5 kg.
func TeamLiftLb(carriers int, eachLb float64) float64 {
	if carriers < 1 || carriers > MaxCarriers || !positive(eachLb) {
		return math.NaN()
	}
	sum := float64(carriers) * eachLb
	switch carriers {
	case 1:
		return sum
	case 2:
		return sum * 2 / 3
	}
	return sum / 2
}

// Carriers returns the smallest team whose guidance covers a weight. ErrCannot
// when four are not enough: a truck, dolly, stair climber or hoist is wanted.
// ErrRange unless weight and load are positive. Sources: HSELifting,
// NIOSHLifting. Example: at 51 lb each, 51 lb one, 68 lb two, 76.5 lb three,
// 102 lb four, 102.1 lb none.
func Carriers(weightLb, eachLb float64) (int, error) {
	if !positive(weightLb, eachLb) {
		return 0, fmt.Errorf("carrying %v lb at %v lb each: %w", weightLb, eachLb, ErrRange)
	}
	for n := 1; n <= MaxCarriers; n++ {
		if weightLb <= TeamLiftLb(n, eachLb)+1e-9 {
			return n, nil
		}
	}
	return 0, fmt.Errorf("%v lb is more than the %.0f lb that %d people should lift: use a truck or a hoist: %w", weightLb, TeamLiftLb(MaxCarriers, eachLb), MaxCarriers, ErrCannot)
}
