// Package specs holds machine requirement sheets: what each machine needs of
// its site. Start with Builtin and Machine.
package specs

import (
	"fmt"
	"slices"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// Version is the version of the requirement sheet that this program reads.
const Version = 1

// A Machine is one requirement sheet. A zero value means the sheet doesn't
// say; a check that needs it then reports the sheet, not the site. Every value
// may be written as a mapping with value and source; see SourceOf. The tag
// says is what the fact is, beyond its name; absent says what is done without a value, where that is more than to ask for it.
type Machine struct {
	Version    int        `yaml:"machine" validate:"required,eq=1"`
	Key        string     `yaml:"key" validate:"required,max=60"`
	Name       string     `yaml:"name" validate:"required,max=80"`
	Maker      string     `yaml:"maker" validate:"required,max=80"`
	Kind       string     `yaml:"kind" validate:"required,oneof=rotary undercounter conveyor"`
	Basis      string     `yaml:"basis" validate:"required,oneof=nec iec"`
	Source     string     `yaml:"source" validate:"required,max=200"`
	Summary    string     `yaml:"summary" validate:"max=400"`
	Power      Power      `yaml:"power"`
	Water      Water      `yaml:"water"`
	Wash       Wash       `yaml:"wash"`
	Rinse      Rinse      `yaml:"rinse"`
	Drain      Drain      `yaml:"drain"`
	Space      Space      `yaml:"space"`
	Chemicals  Chemicals  `yaml:"chemicals"`
	Throughput Throughput `yaml:"throughput"`
	Extras     []Extra    `yaml:"extras" validate:"max=40,dive"`

	answers  doc.Answers
	complete bool // a sheet of the library: what it leaves out doesn't arise
}

// Power is what the machine asks of the electrical supply.
type Power struct {
	Connection  string          `yaml:"connection" validate:"required,oneof=cord hard-wired"`
	CordLength  quantity.Length `yaml:"cord_length"`
	Dedicated   bool            `yaml:"dedicated_circuit" says:"asks for a circuit that serves nothing else"`
	UnitSwitch  string          `yaml:"unit_switch" validate:"omitempty,oneof=yes no" says:"a switch with a marked off position that cuts every line; left out: the sheet doesn't say"`
	Supplies    []Supply        `yaml:"supplies" validate:"required,min=1,max=12,dive"`
	EntryHeight quantity.Length `yaml:"entry_height" says:"cord or conduit entry above finished floor"`
	EntryLeft   quantity.Length `yaml:"entry_from_left" says:"from the machine's left edge, facing it"`
}

// A Supply is one supply option that the machine can be ordered with.
type Supply struct {
	Name         string             `yaml:"name" validate:"required,max=40"`
	VoltageMin   quantity.Voltage   `yaml:"voltage_min" says:"at the machine, under load"`
	VoltageMax   quantity.Voltage   `yaml:"voltage_max" says:"at the machine"`
	Phases       int                `yaml:"phases" validate:"oneof=1 3"`
	Frequency    quantity.Frequency `yaml:"frequency"`
	Neutral      bool               `yaml:"neutral" says:"needs a neutral conductor"`
	Plug         string             `yaml:"plug" validate:"max=40" says:"configuration of the cord's plug"`
	HeaterPower  quantity.Power     `yaml:"heater_power" says:"resistive load that runs together with the motors, at heater_volts"`
	HeaterVolts  quantity.Voltage   `yaml:"heater_volts" says:"rated voltage of the heater"`
	MotorCurrent quantity.Current   `yaml:"motor_current" says:"motors, pumps and controls, at motor_volts"`
	MotorVolts   quantity.Voltage   `yaml:"motor_volts"`
	RatedCurrent quantity.Current   `yaml:"rated_current" says:"on the data plate"`
	MinCircuit   quantity.Current   `yaml:"min_circuit" says:"minimum circuit ampacity on the plate"`
	MaxBreaker   quantity.Current   `yaml:"max_breaker" says:"maximum overcurrent protection on the plate"`
	Continuous   bool               `yaml:"continuous" says:"may run for 3 h or more"`
}

// Water is what the machine asks of both supplies.
type Water struct {
	Cold        Inlet                  `yaml:"cold"`
	Hot         Inlet                  `yaml:"hot"`
	MixValve    bool                   `yaml:"mixing_valve" says:"hot and cold meet at a mixing valve"`
	Fill        string                 `yaml:"fill" validate:"omitempty,oneof=hot cold mixed"`
	FillVolume  quantity.Volume        `yaml:"fill_volume"`
	HardnessMin quantity.Hardness      `yaml:"hardness_min"`
	HardnessMax quantity.Hardness      `yaml:"hardness_max"`
	TDSMax      quantity.Concentration `yaml:"tds_max"`
	AirGap      string                 `yaml:"built_in_air_gap" validate:"omitempty,oneof=verified none" says:"verified: on the data plate or in the listing"`
	QuickValves bool                   `yaml:"quick_closing_valves"`
}

// Inlet is one water connection; Used is false when the machine has none.
type Inlet struct {
	Used       bool                 `yaml:"used"`
	Connection string               `yaml:"connection" validate:"max=40"`
	PipeSize   quantity.PipeSize    `yaml:"pipe_size" says:"smallest supply pipe"`
	HoseLength quantity.Length      `yaml:"hose_length"`
	FlowingMin quantity.Pressure    `yaml:"flowing_pressure_min" says:"at the inlet, at the fill flow"`
	FlowingMax quantity.Pressure    `yaml:"flowing_pressure_max"`
	StaticMax  quantity.Pressure    `yaml:"static_pressure_max"`
	Flow       quantity.Flow        `yaml:"flow" says:"while filling or rinsing, the larger"`
	TempMin    quantity.Temperature `yaml:"temperature_min"`
	TempMax    quantity.Temperature `yaml:"temperature_max"`
	CheckValve bool                 `yaml:"check_valve" says:"one is asked for close to the machine"`
	Height     quantity.Length      `yaml:"height" says:"above finished floor"`
	FromLeft   quantity.Length      `yaml:"from_left"`
}

// Wash is the wash tank.
type Wash struct {
	TankVolume quantity.Volume      `yaml:"tank_volume"`
	Temp       quantity.Temperature `yaml:"temperature" says:"set point, and the hottest that is dumped"`
	TempMin    quantity.Temperature `yaml:"temperature_min"`
	HeatUpMax  quantity.Time        `yaml:"heat_up_max" says:"longest acceptable time from fill to set point"`
	Heater     quantity.Power       `yaml:"tank_heater" says:"the part of the heater that warms the tank, at the supply's heater_volts"`
}

// Rinse is the final rinse and how it sanitizes.
type Rinse struct {
	Sanitizing  string               `yaml:"sanitizing" validate:"required,oneof=chemical hot-water"`
	Target      quantity.Temperature `yaml:"temperature" says:"aimed at"`
	TempMin     quantity.Temperature `yaml:"temperature_min"`
	TempMax     quantity.Temperature `yaml:"temperature_max"`
	Consumption quantity.Flow        `yaml:"consumption" says:"water used per hour at full use"`
	PerCycle    quantity.Volume      `yaml:"per_cycle" says:"batch machines"`
	Pressure    quantity.Pressure    `yaml:"pressure_max" says:"at the rinse arms"`
	PressureMin quantity.Pressure    `yaml:"pressure_min" says:"at the rinse arms"`
	BoosterRise quantity.TempDiff    `yaml:"booster_rise" says:"what the booster adds at its rated voltage"`
	Booster     quantity.Power       `yaml:"booster_power" says:"at the supply's heater_volts"`
	FeedMin     quantity.Temperature `yaml:"booster_feed_min" says:"hot supply to the booster"`
}

// Drain is the machine's outlet.
type Drain struct {
	Kind         string               `yaml:"kind" validate:"required,oneof=gravity pump"`
	OutletSize   quantity.PipeSize    `yaml:"outlet_size"`
	OutletHeight quantity.Length      `yaml:"outlet_height" says:"invert above finished floor"`
	OutletLeft   quantity.Length      `yaml:"outlet_from_left"`
	TankArea     quantity.Area        `yaml:"tank_area" says:"water surface"`
	TankDepth    quantity.Length      `yaml:"tank_depth" absent:"with a pump, the loop is judged without it" says:"of water above the outlet when full"`
	Discharge    float64              `yaml:"discharge_coefficient" validate:"omitempty,gt=0,lte=1" absent:"0.61 is taken, that of a sharp-edged opening"`
	PumpFlow     quantity.Flow        `yaml:"pump_flow"`
	PumpLift     quantity.Length      `yaml:"pump_lift_max"`
	Temperature  quantity.Temperature `yaml:"temperature" says:"hottest discharge"`
}

// Space is the machine's size, weight and clearances.
type Space struct {
	Width       quantity.Length `yaml:"width"`
	Depth       quantity.Length `yaml:"depth"`
	Height      quantity.Length `yaml:"height" says:"at the middle of the legs' travel"`
	SideGap     quantity.Length `yaml:"clearance_side" says:"each side"`
	TopGap      quantity.Length `yaml:"clearance_top"`
	BackGap     quantity.Length `yaml:"clearance_back"`
	FrontGap    quantity.Length `yaml:"clearance_front" says:"for racks or glasses, and service"`
	ServiceGap  quantity.Length `yaml:"clearance_service"`
	LegMin      quantity.Length `yaml:"leg_min" says:"height under the base, legs in"`
	LegMax      quantity.Length `yaml:"leg_max" says:"legs out"`
	CrateWidth  quantity.Length `yaml:"crate_width"`
	CrateDepth  quantity.Length `yaml:"crate_depth"`
	CrateHeight quantity.Length `yaml:"crate_height"`
	CrateMass   quantity.Mass   `yaml:"crate_mass"`
	Mass        quantity.Mass   `yaml:"mass" says:"empty"`
	MayTilt     bool            `yaml:"crate_may_tilt"`
	Racks       quantity.Mass   `yaml:"load_mass" says:"racks and glasses in it"`
	HeatClass   string          `yaml:"heat_class" validate:"omitempty,oneof=undercounter-chemical undercounter-hot-water door-chemical door-hot-water conveyor-chemical conveyor-hot-water"`
}

// Chemicals is what the machine draws from containers.
type Chemicals struct {
	Sanitizers  string                 `yaml:"sanitizers" validate:"max=80" says:"those it may be set up for, blank-separated"`
	Minimum     quantity.Concentration `yaml:"concentration_min"`
	Maximum     quantity.Concentration `yaml:"concentration_max"`
	TubeLength  quantity.Length        `yaml:"tube_length" absent:"10 ft is taken, common practice"`
	LiftMax     quantity.Length        `yaml:"lift_max" absent:"6 ft is taken, common practice"`
	PumpHeight  quantity.Length        `yaml:"pump_height"`
	AcidProduct bool                   `yaml:"acid_product" says:"draws an acid product too"`
}

// Throughput is how fast it washes.
type Throughput struct {
	Revolution  quantity.Time   `yaml:"revolution" says:"rotary: one turn; conveyor: one passage of the belt's length"`
	Positions   int             `yaml:"positions" validate:"gte=0,lte=2000" says:"glasses on it at once"`
	Cycle       quantity.Time   `yaml:"cycle" says:"batch machines"`
	PerRack     int             `yaml:"glasses_per_rack" validate:"gte=0,lte=200"`
	Handling    float64         `yaml:"handling_factor" validate:"omitempty,gt=0,lte=1" says:"share of the rated rate that staff reach"`
	GlassHeight quantity.Length `yaml:"glass_height_max"`
	GlassWidth  quantity.Length `yaml:"glass_diameter_max"`
}

// An Extra is something to order or bring with the machine.
type Extra struct {
	Name string `yaml:"name" validate:"required,max=160"`
	Why  string `yaml:"why" validate:"max=300"`
}

// SourceOf says where one value of the sheet comes from: its own note, else the sheet's.
func (m *Machine) SourceOf(path string) string {
	if s := m.answers[path].Source; s != "" {
		return s
	}
	return m.Source
}

// Traits are the words by which the questionnaire decides what to ask.
func (m *Machine) Traits() []string {
	t := []string{m.Basis, m.Power.Connection, m.Drain.Kind}
	if slices.ContainsFunc(m.Power.Supplies, func(s Supply) bool { return s.Phases == 3 }) {
		t = append(t, "three-phase")
	}
	if m.Drain.Kind == "pump" {
		t = append(t, "pumped")
	}
	if m.Water.Hot.Used {
		t = append(t, "hot", "hot-only")
	}
	if m.Water.Cold.Used {
		t = append(t, "cold", "cold-only")
	}
	if m.Water.MixValve {
		t = append(t, "mix")
	}
	if m.Rinse.Sanitizing == "chemical" {
		t = append(t, "chemical")
	} else {
		t = append(t, "hot-water")
	}
	return t
}

// Has says whether the machine has a trait.
func (m *Machine) Has(trait string) bool { return slices.Contains(m.Traits(), trait) }

// SupplyNamed returns the supply option of that name.
func (m *Machine) SupplyNamed(name string) (*Supply, error) {
	for i := range m.Power.Supplies {
		if sameWord(m.Power.Supplies[i].Name, name) {
			return &m.Power.Supplies[i], nil
		}
	}
	names := make([]string, len(m.Power.Supplies))
	for i, s := range m.Power.Supplies {
		names[i] = fmt.Sprintf("%q", s.Name)
	}
	return nil, fmt.Errorf("%s has no supply option %q; it has %v", m.Name, name, names)
}
