package specs_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"firstfill/specs"
	"firstfill/survey/quantity"
)

func TestLibrary(t *testing.T) {
	want := []string{"avocet-r36", "dunlin-u24", "godwit-c44", "knot-c400", "sanderling-u24p", "turnstone-u50"}
	var keys []string
	for _, m := range specs.Builtin().Machines() {
		keys = append(keys, m.Key)
		if m.Maker != "Marram Barworks" {
			t.Errorf("%s: maker %q, want the invented one", m.Key, m.Maker)
		}
		if !strings.HasPrefix(m.Source, "requirement sheet MB-") {
			t.Errorf("%s: source %q", m.Key, m.Source)
		}
		if len(m.Extras) == 0 {
			t.Errorf("%s: no extras", m.Key)
		}
	}
	if !slices.Equal(keys, want) {
		t.Errorf("keys %v, want %v", keys, want)
	}
}

// sheets loads every sheet of the library and of the test machines from its
// file, so that a problem is shown instead of a panic.
func sheets(t *testing.T) map[string]*specs.Machine {
	t.Helper()
	found := map[string]*specs.Machine{}
	for _, glob := range []string{"library/*.yaml", "../testdata/machines/*.yaml"} {
		files, err := filepath.Glob(glob)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", glob, len(files), err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			m, problems := specs.Load(file, data)
			for _, p := range problems {
				t.Error(p)
			}
			if m == nil {
				t.FailNow()
			}
			if name := strings.TrimSuffix(filepath.Base(file), ".yaml"); m.Key != name {
				t.Errorf("%s: key %q, want the file's name", file, m.Key)
			}
			found[m.Key] = m
		}
	}
	return found
}

func TestSheetsLoad(t *testing.T) {
	if n := len(sheets(t)); n < 7 {
		t.Errorf("%d sheets, want at least 7", n)
	}
}

// The library's machines raise different questions, and no trait is common to
// all or held by none, so that each branch of the questionnaire is walked.
func TestTraitsDiffer(t *testing.T) {
	ms := specs.Builtin().Machines()
	seen := map[string]string{}
	held := map[string]int{}
	for _, m := range ms {
		traits := m.Traits()
		slices.Sort(traits)
		set := strings.Join(traits, " ")
		if first, dup := seen[set]; dup {
			t.Errorf("%s and %s have the same traits: %s", first, m.Key, set)
		}
		seen[set] = m.Key
		for _, tr := range traits {
			held[tr]++
		}
	}
	for _, tr := range []string{"nec", "iec", "three-phase", "cord", "hard-wired", "gravity", "pump", "pumped", "hot", "cold", "mix", "chemical", "hot-water"} {
		if held[tr] == 0 || held[tr] == len(ms) {
			t.Errorf("trait %s is held by %d of %d machines", tr, held[tr], len(ms))
		}
	}
}

// standardOCPD are the standard ratings up to 60 A of NEC 240.6(A) (from memory), and 16 and
// 32 A of IEC 60898-1 (from memory).
var standardOCPD = map[string][]float64{
	"nec": {15, 20, 25, 30, 35, 40, 45, 50, 60},
	"iec": {6, 10, 13, 16, 20, 25, 32, 40, 50, 63},
}

// The plate agrees with itself: rated current against heater and motors,
// minimum circuit against rated current, overcurrent protection against both.
func TestPlates(t *testing.T) {
	for key, m := range sheets(t) {
		for _, s := range m.Power.Supplies {
			lines := 1.0
			if s.Phases == 3 {
				lines = math.Sqrt(3)
			}
			heater := s.HeaterPower.In(quantity.Watt) / (lines * s.HeaterVolts.In(quantity.Volt))
			sum := heater + s.MotorCurrent.In(quantity.Ampere)
			rated := s.RatedCurrent.In(quantity.Ampere)
			if !(math.Abs(rated-sum) <= 0.15*sum) {
				t.Errorf("%s %s: rated %.1f A, heater and motors %.1f A", key, s.Name, rated, sum)
			}
			least := s.MinCircuit.In(quantity.Ampere)
			if s.Continuous && !(least >= 1.25*rated-0.1 && least <= 1.25*rated+1) {
				t.Errorf("%s %s: minimum circuit %.1f A, want 125 %% of %.1f A", key, s.Name, least, rated)
			}
			most := s.MaxBreaker.In(quantity.Ampere)
			if !(least <= most) {
				t.Errorf("%s %s: minimum circuit %.1f A over maximum breaker %.1f A", key, s.Name, least, most)
			}
			if !slices.Contains(standardOCPD[m.Basis], most) {
				t.Errorf("%s %s: maximum breaker %.1f A isn't a standard rating", key, s.Name, most)
			}
			if s.VoltageMin.Cmp(s.VoltageMax) >= 0 || s.HeaterVolts.Cmp(s.VoltageMin) < 0 || s.HeaterVolts.Cmp(s.VoltageMax) > 0 {
				t.Errorf("%s %s: heater's %v not within %v to %v", key, s.Name, s.HeaterVolts, s.VoltageMin, s.VoltageMax)
			}
			parts := m.Wash.Heater.In(quantity.Watt)
			if m.Rinse.Booster.Known() {
				parts += m.Rinse.Booster.In(quantity.Watt)
			}
			if all := s.HeaterPower.In(quantity.Watt); parts > all+1 {
				t.Errorf("%s %s: tank heater and booster %.0f W over %.0f W", key, s.Name, parts, all)
			}
			if (m.Power.Connection == "cord") != (s.Plug != "") {
				t.Errorf("%s %s: %s with plug %q", key, s.Name, m.Power.Connection, s.Plug)
			}
		}
	}
}

// Volumes, sizes, weights and rates agree with each other.
func TestSheetsAgreeWithThemselves(t *testing.T) {
	for key, m := range sheets(t) {
		if m.Drain.Kind == "gravity" {
			litres := m.Drain.TankArea.In(quantity.SquareMetre) * m.Drain.TankDepth.In(quantity.Metre) * 1000
			tank := m.Wash.TankVolume.In(quantity.Litre)
			if !(litres > 0.85*tank && litres < 1.05*tank) {
				t.Errorf("%s: area by depth is %.1f L, the tank %.1f L", key, litres, tank)
			}
			if m.Drain.PumpFlow.Known() {
				t.Errorf("%s: gravity drain with a pump", key)
			}
		} else if !m.Drain.PumpFlow.Known() || !m.Drain.PumpLift.Known() {
			t.Errorf("%s: pump drain without flow or lift", key)
		}
		if m.Kind == "undercounter" {
			racks := 3600 / m.Throughput.Cycle.In(quantity.Second)
			want := racks * m.Rinse.PerCycle.In(quantity.Litre)
			if got := m.Rinse.Consumption.In(quantity.LPH); !(math.Abs(got-want) <= 0.01*want) {
				t.Errorf("%s: consumption %.1f L/h, %.0f cycles take %.1f L", key, got, racks, want)
			}
		}
		sp := m.Space
		if sp.CrateWidth.Cmp(sp.Width) <= 0 || sp.CrateDepth.Cmp(sp.Depth) <= 0 || sp.CrateHeight.Cmp(sp.Height) <= 0 || sp.CrateMass.Cmp(sp.Mass) <= 0 {
			t.Errorf("%s: the crate isn't larger and heavier than the machine", key)
		}
		if sp.LegMin.Cmp(sp.LegMax) >= 0 {
			t.Errorf("%s: legs don't move", key)
		}
		for name, pair := range map[string][2]quantity.Temperature{
			"rinse":         {m.Rinse.TempMin, m.Rinse.Target},
			"rinse maximum": {m.Rinse.Target, m.Rinse.TempMax},
			"wash":          {m.Wash.TempMin, m.Wash.Temp},
			"discharge":     {m.Wash.Temp, m.Drain.Temperature},
		} {
			if !pair[0].Known() || !pair[1].Known() || pair[0].Cmp(pair[1]) > 0 {
				t.Errorf("%s: %s: %v over %v", key, name, pair[0], pair[1])
			}
		}
		for name, in := range map[string]specs.Inlet{"cold": m.Water.Cold, "hot": m.Water.Hot} {
			if !in.Used {
				if in.Flow.Known() || in.Connection != "" {
					t.Errorf("%s: unused %s inlet has data", key, name)
				}
				continue
			}
			if in.FlowingMin.Cmp(in.FlowingMax) >= 0 || in.FlowingMax.Cmp(in.StaticMax) > 0 || in.TempMin.Cmp(in.TempMax) >= 0 {
				t.Errorf("%s: %s inlet: limits cross", key, name)
			}
			if m.Water.MixValve && !in.CheckValve {
				t.Errorf("%s: %s inlet feeds a mixing valve and asks for no check valve", key, name)
			}
		}
		if (m.Rinse.Sanitizing == "hot-water") != m.Rinse.Booster.Known() {
			t.Errorf("%s: %s sanitizing, booster %v", key, m.Rinse.Sanitizing, m.Rinse.Booster)
		}
	}
}

// FDA Food Code 2022, 4-501.112: a fresh hot-water sanitizing rinse at least 180 °F but
// for single-temperature stationary racks, at most 194 °F; 4-501.110: chemical-sanitizing
// washers wash at 120 °F or more (state copies of the model text).
func TestSanitizingTemperatures(t *testing.T) {
	f := func(q quantity.Temperature) float64 { return q.In(quantity.Fahrenheit) }
	hot := 0
	for key, m := range sheets(t) {
		if m.Rinse.Sanitizing == "hot-water" {
			hot++
			if f(m.Rinse.TempMin) < 180-1e-9 || f(m.Rinse.TempMax) > 194+1e-9 {
				t.Errorf("%s: rinse %v to %v, want 180 to 194 °F", key, m.Rinse.TempMin, m.Rinse.TempMax)
			}
		} else if f(m.Wash.TempMin) < 120 {
			t.Errorf("%s: washes from %v, want 120 °F or more", key, m.Wash.TempMin)
		}
	}
	if hot == 0 {
		t.Error("no hot-water machine was looked at")
	}
}

func TestSourceOf(t *testing.T) {
	m, err := specs.Builtin().Machine("sanderling-u24p")
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"water.hot.flowing_pressure_min":    "data plate",
		"power.supplies[0].max_breaker":     "data plate",
		"drain.pump_lift_max":               "pump curve, sheet MB-U24P-01 page 5",
		"water.hot.static_pressure_max":     "requirement sheet MB-U24P-01, rev C, 2026",
		"there.is.no.such.value.on.a.sheet": "requirement sheet MB-U24P-01, rev C, 2026",
	} {
		if got := m.SourceOf(path); got != want {
			t.Errorf("source of %s is %q, want %q", path, got, want)
		}
	}
	if got := m.Water.Hot.FlowingMin.In(quantity.PSI); math.Abs(got-15) > 1e-9 {
		t.Errorf("a value written with a source reads %v psi, want 15", got)
	}
}

// The fixture machine keeps to what is common practice of small rotary
// washers (common practice, no source).
func TestBarRotary(t *testing.T) {
	m := sheets(t)["bar-rotary"]
	if m == nil {
		t.Fatal("no bar-rotary")
	}
	s := m.Power.Supplies[0]
	if s.Plug != "NEMA 6-15" || s.MaxBreaker.In(quantity.Ampere) != 15 {
		t.Errorf("plug %s, breaker %v", s.Plug, s.MaxBreaker)
	}
	if got := m.Rinse.Target.In(quantity.Fahrenheit); math.Abs(got-75) > 1e-9 {
		t.Errorf("final rinse %v °F, want 75", got)
	}
	if got := m.Water.Cold.StaticMax.In(quantity.PSI); math.Abs(got-95) > 1e-9 {
		t.Errorf("static limit %v psi, want 95", got)
	}
	if m.Source != "common practice, no source" {
		t.Errorf("source %q", m.Source)
	}
}

// loaded reads the avocet's sheet with other text in places.
func loaded(t *testing.T, pairs ...string) (*specs.Machine, string) {
	t.Helper()
	data, err := os.ReadFile("library/avocet-r36.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the sheet has no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	m, problems := specs.Load("own.yaml", []byte(text))
	if err := problems.Err(); err != nil {
		return m, err.Error()
	}
	return m, ""
}

func TestAbsurdSheets(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"voltage_min: 198 V", "voltage_min: 298 V", "own.yaml:19:20: power.supplies[0].voltage_min: 298 V is above voltage_max, 252 V; were the two swapped?"},
		{"voltage_min: 198 V", "voltage_min: 252 V", ""},
		{"rated_current: {value: 10 A", "rated_current: {value: 0 A", "power.supplies[0].rated_current: 0 A can't be: no machine has none of it"},
		{"motor_current: 3.6 A", "motor_current: 0 A", ""},
		{"min_circuit: {value: 12.5 A", "min_circuit: {value: 22.5 A", "power.supplies[0].min_circuit: 22.5 A is above max_breaker, 20 A"},
		{"width: 36 in", "width: 0 in", "space.width: 0 in can't be"},
		{"clearance_side: 1 in", "clearance_side: 0 in", ""},
		{"height: 8 in", "height: 0 in", ""},
		{"temperature_min: 110 °F", "temperature_min: 160 °F", "water.hot.temperature_min: 160 °F is above temperature_max, 150 °F"},
		{"connection: cord", "connection: Cord", ""},
		{"kind: rotary", "kind: unknown", "own.yaml:6:7: kind: the sheet must say this: rotary, undercounter, conveyor"},
		{"phases: 1", "phases: unknown", "power.supplies[0].phases: the sheet must say this: 1, 3"},
		{"phases: 1", "phases: one", `power.supplies[0].phases: "one" is not a whole number`},
		{"tds_max: 350 mg/L", "tds_max: none", ""},
		{"tds_max: 350 mg/L", "tds_max: lots", "water.tds_max: \"lots\" is not a concentration"},
	} {
		if _, got := loaded(t, c.from, c.to); (c.want == "") != (got == "") || !strings.Contains(got, c.want) || strings.Count(got, "\n") > 0 {
			t.Errorf("%s: got %q, want %q", c.to, got, c.want)
		}
	}
}

// What a sheet leaves out, or writes as unknown, isn't said; none is.
func TestUnsaid(t *testing.T) {
	m, fault := loaded(t, "tds_max: 350 mg/L", "tds_max: none", "mixing_valve: yes", "mixing_valve: unknown", "  hardness_max: 6 gpg\n", "")
	if fault != "" {
		t.Fatal(fault)
	}
	unsaid := map[string]bool{}
	for _, f := range m.Unsaid() {
		unsaid[f.Path] = true
	}
	for path, want := range map[string]bool{"water.tds_max": false, "water.mixing_valve": true, "water.hardness_max": true, "water.hardness_min": false, "power.supplies[0].neutral": false, "chemicals.lift_max": false} {
		if unsaid[path] != want {
			t.Errorf("%s unsaid: got %v, want %v", path, unsaid[path], want)
		}
	}
	if m.Water.TDSMax.Known() {
		t.Error("none is read as a limit")
	}
}

// A broken sheet blocks only itself, what is no sheet is skipped with a word,
// and a key that hides a built-in machine is said.
func TestFolder(t *testing.T) {
	good, err := os.ReadFile("../testdata/machines/bar-rotary.yaml")
	if err != nil {
		t.Fatal(err)
	}
	lib, problems := specs.With(fstest.MapFS{
		"bar-rotary.yaml": {Data: good},
		"mine.yaml":       {Data: []byte(strings.Replace(string(good), "key: bar-rotary", "key: avocet-r36", 1))},
		"broken.yaml":     {Data: []byte(strings.Replace(strings.Replace(string(good), "key: bar-rotary", "key: teal-9", 1), "voltage_min: 198 V", "voltage_min: lots", 1))},
		"site.yaml":       {Data: []byte("survey: 1\nsite: {name: A Bar}\nmachine: {key: bar-rotary}\n")},
		"list.json":       {Data: []byte(`{"colours": ["red"]}`)},
		"notes.txt":       {Data: []byte("x")},
	}, "own")
	if len(problems) != 1 || !strings.Contains(problems[0].Error(), `own/broken.yaml:20:20: power.supplies[0].voltage_min: "lots" is not a voltage`) {
		t.Errorf("got %v", problems)
	}
	for _, want := range []string{"own/site.yaml is no machine's requirement sheet and is skipped", "own/list.json is no machine's", "own/mine.yaml has the key avocet-r36 of a built-in machine"} {
		if !slices.ContainsFunc(lib.Notes, func(n string) bool { return strings.HasPrefix(n, want) }) {
			t.Errorf("nothing says %q: %q", want, lib.Notes)
		}
	}
	for _, key := range []string{"bar-rotary", "Bar Rotary", "dunlin-u24", "DUNLIN U24"} {
		if _, err := lib.Machine(key); err != nil {
			t.Error(err)
		}
	}
	if _, err := lib.Machine("teal-9"); err == nil || !strings.Contains(err.Error(), `the sheet of machine "teal-9" has faults: mend own/broken.yaml first`) {
		t.Errorf("got %v", err)
	}
}

// The blank sheet asks for every fact and reads as what it is: only what every
// sheet must say is a fault.
func TestBlank(t *testing.T) {
	like := specs.Builtin().Machines()[0]
	blank := specs.Blank(like)
	_, problems := specs.Load("blank.yaml", blank)
	for _, p := range problems {
		if !strings.HasPrefix(p.Message, "the sheet must say this") {
			t.Errorf("the blank sheet: %v", p)
		}
	}
	for _, name := range []string{"voltage_min", "booster_rise", "crate_may_tilt", "glass_diameter_max", "extras"} {
		if !strings.Contains(string(blank), "  "+name+": ") && !strings.Contains(string(blank), "\n"+name+": ") {
			t.Errorf("the blank sheet doesn't ask for %s", name)
		}
	}
}
