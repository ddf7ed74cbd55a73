package survey

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// closed are the questions with closed lists.
func closed() []Field {
	return slices.DeleteFunc(slices.Clone(Fields()), func(f Field) bool { return len(f.Choices) == 0 })
}

// Every word of the table is read for the questions that it is for, in any
// case, and means one thing within a list.
func TestSynonyms(t *testing.T) {
	used := make([]bool, len(synonyms))
	for _, f := range closed() {
		t.Run(f.Path, func(t *testing.T) {
			means := map[string]string{}
			for _, c := range f.Choices {
				if other, twice := means[folded(c)]; twice {
					t.Errorf("the answers %q and %q are told apart by blanks or case alone", c, other)
				}
				means[folded(c)] = c
			}
			for i, s := range synonyms {
				at := s.at == "" || slices.ContainsFunc(strings.Fields(s.at), func(at string) bool { return strings.HasSuffix("."+f.Path, "."+at) })
				if !at || !slices.Contains(f.Choices, s.choice) {
					continue
				}
				used[i] = true
				for _, c := range strings.Fields(s.or) {
					if !slices.Contains(f.Choices, c) {
						t.Errorf("%q may mean %s, which is no answer here", s.words, c)
					}
				}
				for word := range strings.SplitSeq(s.words, ",") {
					word = strings.TrimSpace(word)
					sense := strings.TrimSpace(s.choice + " " + s.or)
					if was, known := means[folded(word)]; known && was != sense {
						t.Errorf("%q means %s and %s", word, was, sense)
					}
					means[folded(word)] = sense
					if (doc.Entry{Text: word}).Unknown() {
						t.Errorf("%q is a word for unknown too", word)
					}
					for _, text := range []string{word, strings.ToUpper(word), strings.ToLower(word), " " + strings.ReplaceAll(word, " ", "-")} {
						m, err := f.choice(text)
						if err != nil || m.choice != s.choice || strings.Join(m.among, " ") != s.or || m.words != "" {
							t.Errorf("%q: got %+v (%v), want %s", text, m, err, sense)
						}
					}
				}
			}
			for _, c := range f.Choices {
				for _, text := range []string{c, strings.ToUpper(c), strings.ToLower(c), strings.ReplaceAll(c, "-", " "), strings.ReplaceAll(c, "-", "_")} {
					if m, err := f.choice(text); err != nil || m.choice != c || m.among != nil {
						t.Errorf("%q: got %+v (%v), want %s", text, m, err, c)
					}
				}
			}
		})
	}
	for i, s := range synonyms {
		if !used[i] {
			t.Errorf("no question offers %q (%s)", s.choice, s.words)
		}
	}
}

func TestOwnWords(t *testing.T) {
	pipe, code := FieldAt("water.cold.pipe_material"), FieldAt("codes.plumbing")
	for _, c := range []struct {
		f     Field
		text  string
		want  meaning
		fault string
	}{
		{pipe, "other: lead", meaning{words: "lead"}, ""},
		{pipe, "Other - brass, old", meaning{words: "brass, old"}, ""},
		{pipe, "other (polybutylene)", meaning{words: "polybutylene"}, ""},
		{pipe, "other", meaning{}, `say behind it what it is, as "other: `},
		{pipe, "otherwise", meaning{}, `"otherwise" is not one of the answers; write copper-K`},
		{pipe, "lead", meaning{}, `or your own words behind other, as "other: lead"`},
		{code, "other: the state's own code", meaning{choice: "other"}, ""},
		{code, "other", meaning{choice: "other"}, ""},
		{pipe, "don't know", meaning{}, ""},
		{pipe, "TBD", meaning{}, ""},
	} {
		m, err := c.f.choice(c.text)
		if fmt.Sprint(m) != fmt.Sprint(c.want) || c.fault == "" && err != nil || c.fault != "" && (err == nil || !strings.Contains(err.Error(), c.fault)) {
			t.Errorf("%q: got %+v, %v; want %+v, %q", c.text, m, err, c.want, c.fault)
		}
	}
}

// What people write is read as they mean it; what can't be read is one
// complaint, and all else is read.
func TestPeoplesWords(t *testing.T) {
	s, problems := Load("f", []byte(`survey: 1
site: {name: The Crooked Spoon}
machine: {key: avocet-r36}
codes:
  electrical: NEC 2020
  plumbing: IPC
power:
  conductor: #12
  ground: "#12"
  conductor_material: Copper
  insulation: THHN
  conduit: EMT
  run_length: about 60 ft
  breaker_poles: two
  system: TBD
  ground_fault_protection: GFCI
  insulation_typo: 75
water:
  cold:
    pipe_material: other: lead
    backflow: RPZ
    static_pressure: lots
  hot:
    pipe_material: Copper
    static_pressure: n/a
heater:
  kind: tankless
  input: 199 MBH
drain:
  receptor: Floor sink
space:
  path:
    - kind: Elevator
    - kind: other: ramp
demand:
  peak_glasses_per_hour: about 600
`))
	var faults []string
	for _, p := range problems {
		if p.Reach == doc.Whole {
			t.Errorf("spoils all: %v", p)
		}
		faults = append(faults, p.Error())
	}
	want := []string{`f:17:20: power.insulation_typo: there is no answer of this name`, `f:22:22: water.cold.static_pressure: "lots" is not a pressure`}
	if len(faults) != len(want) {
		t.Errorf("got %d faults, want %d:\n%s", len(faults), len(want), strings.Join(faults, "\n"))
	}
	for i := range min(len(faults), len(want)) {
		if !strings.HasPrefix(faults[i], want[i]) {
			t.Errorf("got %s, want %s", faults[i], want[i])
		}
	}
	p := s.Power
	for _, c := range []struct{ got, want any }{
		{s.Codes.Electrical, "nec-2020"}, {s.Codes.Plumbing, "ipc"},
		{p.Conductor.AWG(), "12"}, {p.Ground.AWG(), "12"}, {p.ConductorOf, "copper"}, {p.Insulation, "90"}, {p.Conduit, "steel"},
		{p.RunLength.In(quantity.Foot), 60.0}, {p.RunLength.Spread(quantity.Foot), 6.0}, {p.BreakerPoles.N(), 2}, {p.System, ""},
		{p.GFCI, "receptacle"}, {s.Among("power.ground_fault_protection"), []string{"receptacle", "breaker"}},
		{s.Water.Cold.Material, ""}, {s.OwnWords(Every()), []string{"space.path[1].kind", "water.cold.pipe_material"}}, {s.Water.Cold.Backflow, "reduced-pressure"},
		{s.Water.Cold.Static.Known(), false}, {s.Water.Hot.Static.Known(), false},
		{s.Among("water.hot.pipe_material"), []string{"copper-L", "copper-K", "copper-M"}},
		{s.Heater.Kind, "instantaneous"}, {s.Drain.Receptor, "floor-sink"}, {s.Space.Path[0].Kind, "lift"}, {s.Space.Path[1].Kind, ""},
		{s.Demand.Peak.N(), 600}, {s.Answer("water.cold.pipe_material").Text, "other: lead"}, {s.Answer("power.conductor_material").Text, "Copper"},
	} {
		if fmt.Sprint(c.got) != fmt.Sprint(c.want) {
			t.Errorf("got %v, want %v", c.got, c.want)
		}
	}
	if mbh := s.Heater.Input.In(quantity.BTUPerHour); mbh < 198_999 || mbh > 199_001 {
		t.Errorf("199 MBH is %v Btu/h", mbh)
	}
	// A word that may mean several answers is moved to the others.
	var moved []string
	for _, in := range s.Uncertain(Every()) {
		if in.Path == "water.hot.pipe_material" {
			for _, k := range []float64{-1, +1} {
				undo := in.Set(k)
				moved = append(moved, s.Water.Hot.Material)
				undo()
			}
		}
	}
	if want := []string{"copper-K", "copper-M"}; !slices.Equal(moved, want) || s.Water.Hot.Material != "copper-L" {
		t.Errorf("moved to %v and back to %s, want %v and copper-L", moved, s.Water.Hot.Material, want)
	}
	// What a remedy writes in its place stands.
	mended, _, err := s.With(Ask.Water.Cold.Material.Be("copper-L"), Ask.Water.Hot.Material.Be("pex"))
	if err != nil {
		t.Fatal(err)
	}
	if got := mended.OwnWords(Every()); !slices.Equal(got, []string{"space.path[1].kind"}) || mended.Among("water.hot.pipe_material") != nil {
		t.Errorf("after writing: own words %v, among %v", got, mended.Among("water.hot.pipe_material"))
	}
	if other, problems := Load("g", []byte("survey: 1\nsite: {name: x}\nmachine: {key: a}\npower: {conductor_material: COPPER}\n")); len(problems) > 0 || !other.Holds("power.conductor_material", "copper") || other.Holds("power.conductor_material", "aluminium") {
		t.Errorf("COPPER doesn't hold as copper: %v", problems)
	}
}

// A # that hides an answer is read where nothing else can be meant, and else said.
func TestHiddenAnswers(t *testing.T) {
	const head = "survey: 1\nsite: {name: x}\nmachine: {key: a}\n"
	for _, c := range []struct{ text, fault, path, value string }{
		{"power:\n  conductor: #12\n", "", "power.conductor", "#12"},
		{"power:\n  conductor: #12 AWG # read on the jacket\n", "", "power.conductor", "#12 AWG"},
		{"power:\n  conductor: # read on the jacket\n", "", "power.conductor", ""},
		{"power: #the panel by the door\n  conductor: 12 AWG\n", "", "power.conductor", "12 AWG"},
		{"power:\n  conductor: #2 red and black\n", `f:5:14: power.conductor: what follows # is a comment in YAML`, "power.conductor", "#2 red and black"},
		{"site2:\npower:\n  receptacle: #2 on the wall\n", `f:6:15: power.receptacle: what follows # is a comment in YAML, so this answer is empty; if it is the answer, write it in quotes, as "#2 on the wall"`, "power.receptacle", "#2 on the wall"},
	} {
		s, problems := Load("f", []byte(head+c.text))
		if (c.fault == "") != (len(problems) == 0) || c.fault != "" && !strings.HasPrefix(problems[0].Error(), c.fault) {
			t.Errorf("%q: got %v, want %q", c.text, problems, c.fault)
		}
		if got := s.Answer(c.path).Text; got != c.value {
			t.Errorf("%q: kept %q, want %q", c.text, got, c.value)
		}
	}
}
