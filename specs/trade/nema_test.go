package trade

import (
	"strings"
	"testing"
)

// Source: NEMA WD 6 (families seen in equipment lists and an encyclopaedia,
// rows from memory).
func TestNEMA(t *testing.T) {
	for _, c := range []struct {
		config         string
		rating         string
		amps           float64
		poles, wires   int
		phases         int
		conductors     string
		locking        bool
		on208y, on240s bool
	}{
		{"5-15", "125 V", 15, 2, 3, 1, "L N G", false, true, true},
		{"5-20", "125 V", 20, 2, 3, 1, "L N G", false, true, true},
		{"6-15", "250 V", 15, 2, 3, 1, "L L G", false, true, true},
		{"6-20", "250 V", 20, 2, 3, 1, "L L G", false, true, true},
		{"6-30", "250 V", 30, 2, 3, 1, "L L G", false, true, true},
		{"6-50", "250 V", 50, 2, 3, 1, "L L G", false, true, true},
		{"L6-20", "250 V", 20, 2, 3, 1, "L L G", true, true, true},
		{"L6-30", "250 V", 30, 2, 3, 1, "L L G", true, true, true},
		{"14-30", "125/250 V", 30, 3, 4, 1, "L L N G", false, true, true},
		{"14-50", "125/250 V", 50, 3, 4, 1, "L L N G", false, true, true},
		{"L14-30", "125/250 V", 30, 3, 4, 1, "L L N G", true, true, true},
		{"15-30", "250 V", 30, 3, 4, 3, "L L L G", false, true, false},
		{"15-50", "250 V", 50, 3, 4, 3, "L L L G", false, true, false},
		{"L21-30", "120/208 V", 30, 4, 5, 3, "L L L N G", true, true, false},
	} {
		r := value[Receptacle](t)(FindReceptacle(c.config))
		same(t, c.config, r.Config, "NEMA "+c.config)
		same(t, c.config+" rating", r.Rating, c.rating)
		near(t, c.config+" amps", r.Amps, c.amps, 0)
		same(t, c.config+" poles", r.Poles, c.poles)
		same(t, c.config+" wires", r.Wires, c.wires)
		same(t, c.config+" phases", r.Phases, c.phases)
		same(t, c.config+" conductors", strings.Join(r.Conductors, " "), c.conductors)
		same(t, c.config+" neutral", r.Neutral, strings.Contains(c.conductors, "N"))
		same(t, c.config+" locking", r.Locking, c.locking)
		has := func(s System) bool {
			for _, x := range r.Supplies {
				if x == s {
					return true
				}
			}
			return false
		}
		same(t, c.config+" on 208Y/120", has(Wye208Y120), c.on208y)
		same(t, c.config+" on 120/240", has(Split120_240), c.on240s)
	}
	// Source: IEC 60309, from memory.
	for _, c := range []struct {
		config     string
		amps       float64
		conductors string
		phases     int
	}{
		{"IEC 60309 blue 16 A 2P+E", 16, "L N G", 1}, {"IEC 60309 blue 32 A 2P+E", 32, "L N G", 1},
		{"IEC 60309 red 16 A 3P+N+E", 16, "L L L N G", 3}, {"IEC 60309 red 32 A 3P+N+E", 32, "L L L N G", 3},
		{"IEC 60309 red 16 A 3P+E", 16, "L L L G", 3}, {"IEC 60309 red 32 A 3P+E", 32, "L L L G", 3},
	} {
		r := value[Receptacle](t)(FindReceptacle(c.config))
		near(t, c.config, r.Amps, c.amps, 0)
		same(t, c.config, strings.Join(r.Conductors, " "), c.conductors)
		same(t, c.config, r.Phases, c.phases)
		same(t, c.config+" earth", r.EarthHour, 6)
	}
	same(t, "configurations", len(Receptacles()), 20)
	seen := map[string]bool{}
	for _, r := range Receptacles() {
		same(t, r.Config+" twice", seen[r.Config], false)
		seen[r.Config] = true
		same(t, r.Config+" wires", r.Wires, len(r.Conductors))
		same(t, r.Config+" wires", r.Wires, r.Poles+1)
		if len(r.Supplies) == 0 || r.Source.Document == "" {
			t.Errorf("%s has no supply or source", r.Config)
		}
	}
}

func TestReceptacleUse(t *testing.T) {
	find := value[Receptacle](t)
	for _, name := range []string{"L6-30", "l6-30r", "NEMA L6-30P", " nema  l6-30 "} {
		same(t, name, find(FindReceptacle(name)).Config, "NEMA L6-30")
	}
	for _, name := range []string{"", "7-15", "6-30X", "IEC 60309 blue 16 A 2P+ER"} {
		_, err := FindReceptacle(name)
		fails(t, name, err, ErrNotTabulated)
	}
	for _, c := range []struct {
		plug, receptacle string
		want             bool
	}{
		{"6-20", "6-20", true}, {"6-15", "6-20", true}, {"5-15", "5-20", true}, {"6-20", "6-15", false},
		{"6-30", "6-20", false}, {"6-20", "L6-20", false}, {"5-20", "6-20", false}, {"L6-20", "L6-30", false}, {"14-30", "14-50", false},
		{"IEC 60309 red 16 A 3P+E", "IEC 60309 red 16 A 3P+N+E", false}, {"IEC 60309 red 16 A 3P+E", "IEC 60309 red 16 A 3P+E", true},
		{"IEC 60309 blue 16 A 2P+E", "IEC 60309 blue 32 A 2P+E", false},
	} {
		same(t, c.plug+" into "+c.receptacle, Mates(find(FindReceptacle(c.plug)), find(FindReceptacle(c.receptacle))), c.want)
	}
	for _, c := range []struct {
		name, config string
		need         PlugNeed
		objections   int
	}{
		{"208 V two-wire on 6-30", "6-30", PlugNeed{1, 208, 24, false, false}, 0},
		{"neutral wanted, family 6", "6-30", PlugNeed{1, 208, 24, true, false}, 1},
		{"neutral wanted, family L6", "L6-30", PlugNeed{1, 208, 24, true, false}, 1},
		{"neutral wanted, family 15", "15-30", PlugNeed{3, 208, 24, true, false}, 1},
		{"single-phase machine on 15", "15-30", PlugNeed{1, 208, 24, false, false}, 1},
		{"single-phase machine on L21", "L21-30", PlugNeed{1, 208, 24, false, false}, 1},
		{"three-phase with neutral on L21", "L21-30", PlugNeed{3, 208, 24, true, false}, 0},
		{"too much current", "6-20", PlugNeed{1, 208, 24, false, false}, 1},
		{"exactly the rating", "6-20", PlugNeed{1, 240, 20, false, false}, 0},
		{"208 V on a 125 V outlet", "5-20", PlugNeed{1, 208, 12, false, false}, 2},
		{"120 V machine on 5-20", "5-20", PlugNeed{1, 120, 12, true, true}, 0},
		{"120 V machine on 6-20", "6-20", PlugNeed{1, 120, 12, true, true}, 2},
		{"120 V machine on 14-30", "14-30", PlugNeed{1, 120, 12, true, true}, 0},
		{"480 V machine on 15-30", "15-30", PlugNeed{3, 480, 12, false, false}, 1},
		{"230 V machine on blue", "IEC 60309 blue 16 A 2P+E", PlugNeed{1, 230, 13, false, false}, 0},
		{"nothing known", "6-20", PlugNeed{}, 1},
	} {
		got := find(FindReceptacle(c.config)).Objections(c.need)
		if comparisons.Add(1); len(got) != c.objections {
			t.Errorf("%s: got %q, want %d objections", c.name, got, c.objections)
		}
	}
	// A caller cannot change the table.
	r := find(FindReceptacle("6-30"))
	r.Conductors[0] = "X"
	same(t, "table untouched", find(FindReceptacle("6-30")).Conductors[0], "L")
}
