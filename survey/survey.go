// Package survey holds the site questionnaire: its answers, how each is asked,
// and reading and writing it. Start with Survey, whose struct tags are the one
// table of fields, and Load.
//
// Tags: yaml is the answer's name; ask the question; how where and how to
// measure; eg an example; tool the instrument, whose default uncertainty
// applies (see Instruments); sane the plausible range; for the traits of a
// machine that raise the question (any of them; none: every machine raises it);
// walk the station of the walk round the bar at which a section is answered;
// validate the shape, for validator/v10.
package survey

import (
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"sync"
)

// Version is the version of the questionnaire that this program reads.
const Version = 1

// A Survey is one site questionnaire. Every answer's zero value means not
// known: left out and written as "unknown" are the same to a check.
type Survey struct {
	Version   int       `yaml:"survey" validate:"required,eq=1"`
	Site      Site      `yaml:"site" walk:"office" by:"office"`
	Machine   Choice    `yaml:"machine" walk:"office" by:"office"`
	Codes     Codes     `yaml:"codes" walk:"office" by:"office"`
	Power     Power     `yaml:"power" walk:"panel" by:"electrician"`
	Water     Water     `yaml:"water" walk:"water" by:"plumber"`
	Heater    Heater    `yaml:"heater" walk:"heater" for:"hot" by:"surveyor"`
	Treatment Treatment `yaml:"treatment" walk:"water" by:"surveyor"`
	Drain     Drain     `yaml:"drain" walk:"drain" by:"plumber"`
	Space     Space     `yaml:"space" walk:"counter" by:"surveyor"`
	Chemicals Chemicals `yaml:"chemicals" walk:"counter" for:"chemical" by:"office"`
	Demand    Demand    `yaml:"demand" walk:"counter" by:"office"`
	Notes     string    `yaml:"notes" ask:"Anything else worth knowing" validate:"max=8000" walk:"office" by:"surveyor" weight:"told"`
	Choices   string    `yaml:"choices" ask:"Ways chosen where several would do" how:"written by check --choose; finding=way, separated by semicolons" validate:"max=2000" walk:"office" by:"nobody"`
	Photos    []Photo   `yaml:"photos" ask:"Photos" validate:"max=40,dive" walk:"office" by:"surveyor" weight:"told"`

	loaded doc.Answers     // as read; see answers
	stated map[string]bool // paths whose uncertainty the surveyor wrote
	since  []later         // answers written since, by id and path; shared by copies, never changed in place
	asked  *sync.Map       // what is odd about answers, by path and text; shared by copies
	merged doc.Answers     // both together, when asked for

	inWords map[string]string   // answers in the surveyor's own words, by path, as read
	among   map[string][]string // what else a word may mean that was read, by path
}

// Site says where the machine goes, who asks and by when.
type Site struct {
	Name        string `yaml:"name" ask:"Name of the site" eg:"The Example Bar" validate:"required,max=120" weight:"told"`
	Reference   string `yaml:"reference" ask:"Our reference" eg:"BW-0417" validate:"max=40" weight:"told"`
	Address     string `yaml:"address" ask:"Address" eg:"1 Sample Street, Exampleton" validate:"max=300" weight:"told"`
	Contact     string `yaml:"contact" ask:"Contact on site" eg:"the bar manager" validate:"max=120"`
	Phone       string `yaml:"phone" ask:"Telephone of the contact" eg:"555 0100" validate:"max=60"`
	SurveyedBy  string `yaml:"surveyed_by" ask:"Surveyed by" validate:"max=120"`
	SurveyedOn  Date   `yaml:"surveyed_on" ask:"Surveyed on" how:"year-month-day" eg:"2026-11-02"`
	DeliveryOn  Date   `yaml:"delivery_on" ask:"Machine is delivered on" how:"year-month-day" eg:"2026-12-14"`
	Revision    string `yaml:"revision" ask:"Revision of this survey" eg:"A" validate:"omitempty,max=3,alpha,uppercase" by:"nobody"`
	Electrician string `yaml:"electrician" ask:"Electrician, company and license number" validate:"max=160"`
	Plumber     string `yaml:"plumber" ask:"Plumber, company and license number" validate:"max=160"`
	Builder     string `yaml:"builder" ask:"Builder or carpenter" validate:"max=160" weight:"told"`
	Access      string `yaml:"access" ask:"When and how may the trades get in?" how:"working hours, keys, alarm, parking" eg:"weekdays before 11:00, key at the bakery next door" validate:"max=300" weight:"told"`
	OldMachine  string `yaml:"old_machine" ask:"What stands there now, and who takes it away?" how:"none when the place is empty" eg:"old rack washer; the supplier takes it along" validate:"max=300" weight:"told"`
	SecondAt    string `yaml:"second_machine" ask:"Reference of the survey of another machine at the same site" how:"each machine has its own questionnaire; left out when there is one machine" eg:"BW-0418" validate:"max=40"`
	SecondUses  string `yaml:"second_machine_shares" ask:"What the two machines share" how:"of circuit, receptor, heater and softener; none when each has its own" eg:"receptor, heater" validate:"max=120"`
}

// Choice says which machine goes there, and how it is set up.
type Choice struct {
	Key      string          `yaml:"key" ask:"Machine" how:"a key from \"firstfill machines\"" eg:"avocet-r36" validate:"required,max=60"`
	Supply   string          `yaml:"supply" ask:"Supply option ordered" how:"one of the supply options on the machine's requirement sheet; left out, the one that suits the site is taken" eg:"208 V" validate:"max=40"`
	RaisedBy quantity.Length `yaml:"raised_by" ask:"Height of stand or plinth under the machine" how:"0 in when it stands on the floor" eg:"0 in" sane:"0 in..36 in" tool:"tape" how_si:"0 mm when it stands on the floor"`
}

// Codes says which rules the authority having jurisdiction enforces.
type Codes struct {
	Electrical      string               `yaml:"electrical" ask:"Electrical code edition enforced" how:"ask the building department" eg:"nec-2023" validate:"omitempty,oneof=nec-2014 nec-2017 nec-2020 nec-2023 nec-2026 iec-60364 bs-7671"`
	Plumbing        string               `yaml:"plumbing" ask:"Plumbing code family enforced" how:"ask the building department" eg:"ipc" validate:"omitempty,oneof=ipc upc other"`
	PlumbingEdition string               `yaml:"plumbing_edition" ask:"Plumbing code edition" eg:"2021" validate:"max=40"`
	Authority       string               `yaml:"authority" ask:"Authority having jurisdiction, contact" validate:"max=160"`
	PressureLimit   quantity.Pressure    `yaml:"pressure_limit" ask:"Local limit of static pressure in the building" how:"left out, 80 psi applies" eg:"80 psi" sane:"40 psi..150 psi" by:"nobody" how_si:"left out, 550 kPa applies"`
	SewerLimit      quantity.Temperature `yaml:"sewer_limit" ask:"Local limit of discharge temperature to the sewer" how:"from the sewer-use ordinance; left out, 140 °F applies" eg:"140 °F" sane:"90 °F..180 °F" by:"nobody" how_si:"from the sewer-use ordinance; left out, 60 °C applies"`
}

// Power is the electrical supply as found.
type Power struct {
	System         string               `yaml:"system" ask:"Supply system, if labeled" how:"from the panel's label" eg:"208Y/120" validate:"omitempty,oneof=208Y/120 120/240 240-delta high-leg-delta 480Y/277 400Y/230 230"`
	LineToLine     quantity.Voltage     `yaml:"line_to_line" ask:"Voltage line to line" how:"measured by a qualified person at the panel or receptacle" eg:"208 V" sane:"180 V..520 V" tool:"voltmeter" eg_si:"400 V"`
	LineToNeutral  quantity.Voltage     `yaml:"line_to_neutral" ask:"Voltage line to neutral (the lowest leg)" how:"measured by a qualified person; read every leg" eg:"120 V" sane:"100 V..300 V" tool:"voltmeter" eg_si:"230 V"`
	HighLeg        quantity.Voltage     `yaml:"high_leg_to_neutral" ask:"Voltage line to neutral of the highest leg" how:"the same as the lowest on a wye system" eg:"120 V" sane:"100 V..300 V" tool:"voltmeter" for:"nec,three-phase"`
	MiddleLeg      quantity.Voltage     `yaml:"middle_leg_to_neutral" ask:"Voltage line to neutral of the third leg" how:"the leg that is neither the lowest nor the highest" eg:"120 V" sane:"100 V..300 V" tool:"voltmeter" for:"three-phase"`
	LineBC         quantity.Voltage     `yaml:"line_to_line_bc" ask:"Voltage line to line, legs B and C" how:"measured by a qualified person; line to line above is legs A and B" eg:"208 V" sane:"180 V..520 V" tool:"voltmeter" for:"three-phase"`
	LineCA         quantity.Voltage     `yaml:"line_to_line_ca" ask:"Voltage line to line, legs C and A" how:"measured by a qualified person" eg:"208 V" sane:"180 V..520 V" tool:"voltmeter" for:"three-phase"`
	OnHighLeg      YesNo                `yaml:"on_high_leg" ask:"Is the high leg (orange) one of this circuit's conductors?" how:"only where one leg reads far above the others to neutral; no elsewhere" eg:"no" for:"nec"`
	UnderLoad      YesNo                `yaml:"read_under_load" ask:"Were the voltages read while the bar was running?" eg:"yes"`
	Phases         Count                `yaml:"phases" ask:"Phases at the machine" how:"1 or 3" eg:"1" validate:"-"`
	Frequency      quantity.Frequency   `yaml:"frequency" ask:"Frequency" eg:"60 Hz" sane:"45 Hz..65 Hz" eg_si:"50 Hz"`
	Breaker        quantity.Current     `yaml:"breaker" ask:"Breaker or fuse rating" how:"printed on its handle" eg:"20 A" sane:"5 A..200 A" by:"surveyor"`
	BreakerPoles   Count                `yaml:"breaker_poles" ask:"Poles of the breaker" eg:"2" by:"surveyor"`
	BreakerVolts   string               `yaml:"breaker_voltage" ask:"Voltage marked on the breaker" how:"120/240 is a slash rating, 240 a straight one" eg:"120/240" validate:"omitempty,oneof=120 120/240 240 277 347 480Y/277 480 600Y/347 600" for:"nec"`
	Interrupting   quantity.Current     `yaml:"interrupting_rating" ask:"Interrupting rating of the breaker" how:"printed on it: 10,000 AIC is 10000 A; in a box, 6000" eg:"10000 A" sane:"1000 A..200000 A"`
	FullRated      YesNo                `yaml:"breaker_listed_100_percent" ask:"Is the breaker assembly listed for 100 % continuous load?" how:"no unless it is marked so" eg:"no" for:"nec" by:"nobody"`
	Conductor      quantity.WireSize    `yaml:"conductor" ask:"Conductor size" how:"printed on the jacket" eg:"12 AWG" eg_si:"2.5 mm²"`
	ConductorOf    string               `yaml:"conductor_material" ask:"Conductor material" eg:"copper" validate:"omitempty,oneof=copper aluminium"`
	Insulation     string               `yaml:"insulation" ask:"Insulation temperature rating" how:"THHN, XHHW 90; THW, THWN 75; TW, NM cable 60; PVC cable 70" eg:"75" validate:"omitempty,oneof=60 70 75 90"`
	Terminals      string               `yaml:"terminals" ask:"Terminal temperature rating" how:"marked on breaker and receptacle; 60 if in doubt" eg:"60" validate:"omitempty,oneof=60 75" for:"nec"`
	Ground         quantity.WireSize    `yaml:"ground" ask:"Equipment grounding (protective) conductor size" eg:"12 AWG" eg_si:"2.5 mm²"`
	GroundOf       string               `yaml:"ground_material" ask:"What the grounding (protective) conductor is made of" how:"conduit: the metal conduit itself, no wire in it" eg:"copper" validate:"omitempty,oneof=copper aluminium conduit"`
	Neutral        YesNo                `yaml:"neutral" ask:"Is a neutral run to the machine?" eg:"no"`
	Conduit        string               `yaml:"conduit" ask:"Conduit or cable" how:"cable: fixed to a surface; nm-cable: NM cable; in-insulation: cable or conduit within thermal insulation; flexible, liquidtight: metal conduit of which any part is so" eg:"pvc" validate:"omitempty,oneof=pvc aluminium steel flexible liquidtight cable nm-cable in-insulation"`
	RunPlace       string               `yaml:"run_place" ask:"Is any part of the run in a damp or wet place?" how:"wet: outdoors, in earth or in a slab on it, under hosing; the worst part counts" eg:"dry" validate:"omitempty,oneof=dry damp wet" for:"nec"`
	WetInsulation  string               `yaml:"wet_insulation" ask:"Insulation's rating in wet places" how:"THWN, THW, XHHW 75; THWN-2, XHHW-2 90; TW 60; THHN, NM cable none. Only where the run is wet" eg:"75" validate:"omitempty,oneof=none 60 75 90" for:"nec"`
	DevicesTake    string               `yaml:"devices_take" ask:"Which wire do breaker and receptacle take?" how:"CO/ALR, AL-CU or AL9CU on the device: copper-aluminium; no mark: copper" eg:"copper" validate:"omitempty,oneof=copper copper-aluminium" for:"nec"`
	Bundled        Count                `yaml:"conductors_in_conduit" ask:"Current-carrying conductors in the same conduit" how:"count this circuit's too; neutrals that carry only imbalance don't count" eg:"2"`
	RunLength      quantity.Length      `yaml:"run_length" ask:"Run from panel to machine, one way" how:"along the conduit" eg:"60 ft" sane:"1 ft..600 ft" tool:"tape-long"`
	DropAhead      quantity.Voltage     `yaml:"drop_ahead" ask:"Voltage drop from the origin of the installation to this panel" how:"ask the electrician; 0 V where the panel is at the origin" eg:"0 V" sane:"0 V..20 V" for:"iec"`
	Ambient        quantity.Temperature `yaml:"ambient" ask:"Hottest ambient along the run" how:"at the hottest place of the run, such as over the ceiling" eg:"86 °F" sane:"32 °F..150 °F" tool:"thermometer"`
	OtherLoads     []OtherLoad          `yaml:"other_loads" ask:"What else is on this circuit" how:"write [] if nothing is" validate:"max=30,dive"`
	Dedicated      YesNo                `yaml:"dedicated" ask:"Does the circuit serve the machine alone?" how:"for the electrician to establish" eg:"yes"`
	Receptacle     string               `yaml:"receptacle" ask:"Receptacle" how:"the configuration on its face, none if there is none" eg:"NEMA 6-20" validate:"max=40" for:"cord" by:"surveyor" eg_si:"IEC 60309 230 V 16 A 2P+E"`
	ReceptacleRun  quantity.Length      `yaml:"receptacle_distance" ask:"From the machine's cord entry to the receptacle, along the cord" eg:"4 ft" sane:"0 ft..60 ft" tool:"tape" for:"cord"`
	OutletHeight   quantity.Length      `yaml:"outlet_height" ask:"Height of receptacle or junction box above finished floor" eg:"18 in" sane:"0 in..120 in" tool:"tape" by:"surveyor"`
	OutletFromLeft quantity.Length      `yaml:"outlet_from_left" ask:"Receptacle or junction box from the machine's left edge" how:"facing the machine; negative to the left of it" eg:"10 in" sane:"-120 in..240 in" tool:"tape" by:"surveyor"`
	Extension      YesNo                `yaml:"extension_cord" ask:"Would an extension cord or adapter be used?" eg:"no" for:"cord" by:"office"`
	NearSink       YesNo                `yaml:"near_sink" ask:"Is the outlet in a kitchen, or within 6 ft (1.8 m) of a sink?" how:"to the nearest edge of the bowl, in a straight line" eg:"yes" walk:"counter" for:"nec" by:"surveyor" ask_si:"Is the outlet in a kitchen, or within 1.8 m of a sink?"`
	GFCI           string               `yaml:"ground_fault_protection" ask:"Ground-fault protection of the circuit" eg:"breaker" validate:"omitempty,oneof=none breaker receptacle rcd-30ma rcd-other"`
	Disconnect     string               `yaml:"disconnect" ask:"Means of disconnect" eg:"plug" validate:"omitempty,oneof=none plug switch-in-sight lockable-breaker breaker-in-sight"`
	RCDType        string               `yaml:"rcd_type" ask:"Type of the residual-current device" how:"by the wave signs on its face" eg:"A" validate:"omitempty,oneof=AC A F B" for:"iec"`
	Earthing       string               `yaml:"earthing" ask:"Earthing system of the supply" how:"ask the electrician" eg:"TN-C-S" validate:"omitempty,oneof=TN-S TN-C-S TT IT" for:"iec"`
	BreakerCurve   string               `yaml:"breaker_curve" ask:"Curve of the breaker" how:"the letter before its rating; leave out for a fuse" eg:"C" validate:"omitempty,oneof=B C D" for:"iec"`
	FaultLoop      quantity.Resistance  `yaml:"fault_loop" ask:"Earth fault loop impedance of the circuit, measured" how:"ask the electrician; where the earthing system is TT, the resistance of the earth electrode will do" eg:"0.6 Ω" sane:"0.01 Ω..2000 Ω" for:"iec"`
	PanelSpaces    Count                `yaml:"panel_spaces" ask:"Free spaces in the panel" how:"single-pole spaces; 0 is an answer. From the panel's directory and blanks, cover on" eg:"4"`
	Adjacent       Count                `yaml:"panel_spaces_adjacent" ask:"How many of the free spaces lie side by side?" how:"the longest row of them; a breaker of two poles takes two neighbors" eg:"2"`
	PanelName      string               `yaml:"panel_name" ask:"Name of the panel" how:"on its door" eg:"LP-1" validate:"max=60" weight:"told"`
	CircuitNumber  string               `yaml:"circuit_number" ask:"Number of the circuit" how:"in the panel's directory" eg:"14/16" validate:"max=40" weight:"told"`
	PanelMain      quantity.Current     `yaml:"panel_main" ask:"Rating of the panel's main breaker" how:"printed on its handle; ask the electrician" eg:"200 A" sane:"30 A..1200 A"`
	LoadFits       string               `yaml:"load_calculation" ask:"Does the electrician's load calculation have room for the machine?" how:"asked where its circuit is new or larger; leave out when none was made" eg:"fits" validate:"omitempty,oneof=fits exceeds"`
	FaultCurrent   quantity.Current     `yaml:"fault_current" ask:"Available fault current at the panel" how:"ask the electrician; on the service's label" eg:"8000 A" sane:"500 A..200000 A"`
	PanelDepth     quantity.Length      `yaml:"panel_clear_depth" ask:"Clear depth in front of the panel" eg:"36 in" sane:"0 in..240 in" tool:"tape" for:"nec" by:"surveyor"`
	PanelWidth     quantity.Length      `yaml:"panel_clear_width" ask:"Clear width in front of the panel" eg:"30 in" sane:"0 in..240 in" tool:"tape" for:"nec" by:"surveyor"`
	PanelHeight    quantity.Length      `yaml:"panel_clear_height" ask:"Clear height in front of the panel" eg:"78 in" sane:"0 in..240 in" tool:"tape" for:"nec"`
	Opposite       string               `yaml:"panel_opposite" ask:"What stands opposite the panel?" how:"brick, concrete and tile count as grounded; live: another open panel" eg:"clear" validate:"omitempty,oneof=clear grounded live" for:"nec"`
}

// An OtherLoad is something else on the machine's circuit.
type OtherLoad struct {
	Name       string           `yaml:"name" ask:"What it is" eg:"back-bar cooler" validate:"required,max=80"`
	Current    quantity.Current `yaml:"current" ask:"Its current" how:"from its plate" eg:"4 A" sane:"0 A..100 A"`
	Continuous YesNo            `yaml:"continuous" ask:"Does it run for three hours or more?" how:"coolers and ice machines do" eg:"yes"`
}

// Water is both supplies.
type Water struct {
	Cold      Line              `yaml:"cold" ask:"Cold water"`
	Hot       Line              `yaml:"hot" ask:"Hot water" for:"hot"`
	Closed    YesNo             `yaml:"closed_system" ask:"Is there a check valve, regulator or backflow preventer between the main and the heater?" how:"look beside the meter" eg:"no" for:"hot"`
	Expansion YesNo             `yaml:"expansion_tank" ask:"Is thermal expansion controlled (expansion tank)?" eg:"yes" for:"hot"`
	Arrester  YesNo             `yaml:"hammer_arrester" ask:"Water-hammer arresters at the machine's connections?" eg:"yes"`
	ReadAt    string            `yaml:"read_at" ask:"When the pressures were read" how:"at peak use is best" eg:"Friday 19:30" validate:"max=80" by:"nobody"`
	ReadBusy  YesNo             `yaml:"read_busy" ask:"Were the pressures read while the bar was running?" how:"a closed bar says nothing about the evening" eg:"yes" by:"surveyor"`
	Together  YesNo             `yaml:"read_together" ask:"Did hot and cold run together when the flowing pressures were read?" how:"the machine draws both at once; open both faucets" eg:"yes" for:"mix" by:"surveyor"`
	CutIn     quantity.Pressure `yaml:"well_cut_in" ask:"Well pump: pressure at which it starts" how:"on its switch; leave out on a utility's main" eg:"40 psi" sane:"15 psi..80 psi"`
	CutOut    quantity.Pressure `yaml:"well_cut_out" ask:"Well pump: pressure at which it stops" how:"on its switch; leave out on a utility's main" eg:"60 psi" sane:"30 psi..110 psi"`
}

// Line is one supply line, hot or cold, from where its pressure was read to the machine.
type Line struct {
	Static      quantity.Pressure    `yaml:"static_pressure" ask:"Static pressure" how:"gauge on the nearest faucet, nothing running" eg:"62 psi" sane:"15 psi..150 psi" tool:"gauge" by:"surveyor"`
	Flowing     quantity.Pressure    `yaml:"flowing_pressure" ask:"Flowing pressure" how:"same gauge, while the flow below runs" eg:"54 psi" sane:"3 psi..140 psi" tool:"gauge" by:"surveyor"`
	Flow        quantity.Flow        `yaml:"flow" ask:"Flow at which the flowing pressure was read" how:"seconds to fill a 1 gal jug: 60 / seconds = gpm" eg:"4 gpm" sane:"0.3 gpm..40 gpm" tool:"bucket" by:"surveyor" how_si:"seconds to fill a 5 L bucket: 300 / seconds = L/min"`
	Temperature quantity.Temperature `yaml:"temperature" ask:"Temperature today" how:"at the machine's connection after a full minute" eg:"140 °F" sane:"33 °F..190 °F" tool:"thermometer" by:"surveyor"`
	Winter      quantity.Temperature `yaml:"winter_temperature" ask:"Coldest of the year" how:"ask the water utility" eg:"42 °F" sane:"32 °F..80 °F" tool:"thermometer" for:"cold-only,hot,gravity" by:"office"`
	Summer      quantity.Temperature `yaml:"summer_temperature" ask:"Warmest of the year" how:"ask the water utility" eg:"72 °F" sane:"40 °F..95 °F" tool:"thermometer" for:"cold-only,hot,gravity" by:"office"`
	Material    string               `yaml:"pipe_material" ask:"Pipe material" eg:"copper-L" validate:"omitempty,oneof=copper-K copper-L copper-M pex cpvc pvc galvanised"`
	Size        quantity.PipeSize    `yaml:"pipe_size" ask:"Nominal pipe size" eg:"1/2 in" eg_si:"DN 20"`
	RunLength   quantity.Length      `yaml:"run_length" ask:"Pipe run from where the pressure was read to the machine" eg:"20 ft" sane:"0 ft..500 ft" tool:"tape-long"`
	Crooked     string               `yaml:"crooked" ask:"How crooked is that run?" how:"straight: hardly a bend; usual: a bend every 8 ft; crooked: around everything. It bounds the fittings where they aren't counted" how_si:"straight: hardly a bend; usual: a bend every 2.5 m; crooked: around everything. It bounds the fittings where they aren't counted" eg:"usual" validate:"omitempty,oneof=straight usual crooked"`
	Elbows      Count                `yaml:"elbows" ask:"90° elbows on that run" eg:"4" by:"nobody"`
	Elbows45    Count                `yaml:"elbows_45" ask:"45° elbows on that run" eg:"0" by:"nobody"`
	TeesRun     Count                `yaml:"tees_run" ask:"Tees passed straight through" eg:"1" by:"nobody"`
	TeesBranch  Count                `yaml:"tees_branch" ask:"Tees turned at the branch" eg:"1" by:"nobody"`
	Valves      Count                `yaml:"valves" ask:"Ball valves on that run" eg:"1" by:"nobody"`
	Fittings    string               `yaml:"pipe_fittings" ask:"Fittings of plastic tube" how:"insert: pushed into the tube and crimped or clamped; full-bore: over an expanded tube" eg:"insert" validate:"omitempty,oneof=insert full-bore"`
	Rise        quantity.Length      `yaml:"rise" ask:"Rise from where the pressure was read to the machine's inlet" how:"negative if the machine is lower" eg:"0 ft" sane:"-100 ft..100 ft" tool:"tape"`
	DeviceLoss  quantity.Pressure    `yaml:"device_loss" ask:"Pressure lost in softener, filter, meter, backflow device on that run" how:"from each device's own curve at the fill flow; 0 psi if there are none" eg:"0 psi" sane:"0 psi..40 psi" how_si:"from each device's own curve at the fill flow; 0 kPa if there are none"`
	FromHeater  quantity.Length      `yaml:"from_heater" ask:"Hot pipe from the heater (or the recirculation loop) to the machine" eg:"35 ft" sane:"0 ft..500 ft" tool:"tape-long" for:"hot-only"`
	Regulator   quantity.Pressure    `yaml:"regulator" ask:"Setting of a pressure regulator on this line" how:"0 psi when there is none" eg:"0 psi" sane:"0 psi..100 psi" how_si:"0 kPa when there is none"`
	GaugeAt     string               `yaml:"gauge_at" ask:"Where did the gauge stand, seen from that regulator?" how:"leave out when there is no regulator" eg:"behind-regulator" validate:"omitempty,oneof=before-regulator behind-regulator"`
	FallOff     quantity.Pressure    `yaml:"regulator_fall_off" ask:"By how much that regulator's pressure falls at the machine's flow" how:"from its own curve; leave out when not known" eg:"5 psi" sane:"0 psi..30 psi" by:"nobody"`
	ShutOff     YesNo                `yaml:"shut_off" ask:"Shut-off valve within reach of the machine?" eg:"yes"`
	CheckValve  YesNo                `yaml:"check_valve" ask:"Check valve close to the machine?" eg:"yes"`
	Backflow    string               `yaml:"backflow" ask:"Backflow device on this line" how:"read its label; a check valve is not one" eg:"none" validate:"omitempty,oneof=none air-gap atmospheric-vacuum-breaker hose-vacuum-breaker pressure-vacuum-breaker spill-resistant-vacuum-breaker reduced-pressure double-check dual-check intermediate-vent check-valve"`
	DeviceAbove quantity.Length      `yaml:"backflow_height" ask:"Height of the backflow device above everything it feeds" how:"above the highest pipe, outlet or rim downstream; negative when below" eg:"12 in" sane:"-60 in..120 in" tool:"tape"`
	Spill       YesNo                `yaml:"backflow_drain" ask:"May what that device spills run away?" how:"relief port into a drain by an air gap, or a place where spillage harms nothing" eg:"yes"`
	BreakTank   YesNo                `yaml:"break_tank" ask:"Are there a tank and a pump behind the air gap?" how:"only where the device is an air gap on the line" eg:"yes"`
	Thread      string               `yaml:"connection" ask:"Thread of the connection" eg:"3/4 GHT" validate:"omitempty,oneof='3/4 GHT' '1/2 NPT' '3/4 NPT' '1/2 BSP' '3/4 BSP' '3/8 compression' '1/2 compression' none"`
	HoseRun     quantity.Length      `yaml:"hose_distance" ask:"From this connection to the machine's inlet, along the hose" eg:"4 ft" sane:"0 ft..60 ft" tool:"tape"`
	Height      quantity.Length      `yaml:"height" ask:"Height of the connection above finished floor" eg:"16 in" sane:"0 in..120 in" tool:"tape"`
	FromLeft    quantity.Length      `yaml:"from_left" ask:"Connection from the machine's left edge" how:"facing the machine; negative to the left of it" eg:"6 in" sane:"-120 in..240 in" tool:"tape"`
}

// Heater is the building's water heater.
type Heater struct {
	Kind         string               `yaml:"kind" ask:"Kind of water heater" eg:"gas" validate:"omitempty,oneof=electric gas heat-pump instantaneous district"`
	Storage      quantity.Volume      `yaml:"storage" ask:"Storage" how:"on its plate; 0 gal if it heats on demand" eg:"75 gal" sane:"0 gal..1000 gal" how_si:"on its plate; 0 L if it heats on demand"`
	Input        quantity.Power       `yaml:"input" ask:"Input" how:"on its plate" eg:"75100 Btu/h" sane:"1 kW..600 kW"`
	Efficiency   Number               `yaml:"efficiency" ask:"Efficiency, 0 to 1" how:"on its plate; left out, 0.98 electric and 0.80 gas are taken" eg:"0.80" by:"nobody"`
	Recovery     quantity.Flow        `yaml:"recovery" ask:"Recovery" how:"on its plate, instead of the input" eg:"73 gph" sane:"5 gph..2000 gph" by:"nobody"`
	RecoveryRise quantity.TempDiff    `yaml:"recovery_rise" ask:"Temperature rise at which that recovery is stated" eg:"90 °F" sane:"20 °F..150 °F" by:"nobody"`
	SetPoint     quantity.Temperature `yaml:"set_point" ask:"Set point" eg:"140 °F" sane:"100 °F..190 °F"`
	SinksLimited YesNo                `yaml:"sinks_limited" ask:"Is the water of hand sinks limited to 120 °F (49 °C)?" how:"by a valve to ASSE 1070 under each, or all of it tempered; no where stored water reaches a hand sink as it is" eg:"yes" by:"plumber" ask_si:"Is the water of hand sinks limited to 49 °C?"`
	OtherDraws   []Draw               `yaml:"other_draws" ask:"Other draws of hot water in the same hour" how:"write [] if there are none" validate:"max=30,dive" by:"plumber"`
}

// A Draw is another use of hot water in the peak hour.
type Draw struct {
	Name string        `yaml:"name" ask:"What it is" eg:"three-compartment sink" validate:"required,max=80"`
	Flow quantity.Flow `yaml:"flow" ask:"Hot water it takes" eg:"42 gph" sane:"0 gph..1000 gph"`
}

// Treatment is the water's quality and what is done to it.
type Treatment struct {
	Hardness    quantity.Hardness      `yaml:"hardness" ask:"Hardness at the machine's connection" how:"test strip, after any softener" eg:"6 gpg" sane:"0 gpg..60 gpg" tool:"strip"`
	RawHardness quantity.Hardness      `yaml:"raw_hardness" ask:"Hardness before any softener" how:"test strip at an untreated faucet, or the utility's report" eg:"12 gpg" sane:"0 gpg..60 gpg" tool:"strip" by:"office"`
	Iron        quantity.Concentration `yaml:"iron" ask:"Iron" how:"test strip or the utility's report" eg:"0 mg/L" sane:"0 mg/L..10 mg/L" by:"office"`
	TDS         quantity.Concentration `yaml:"tds" ask:"Total dissolved solids" how:"conductivity meter" eg:"180 mg/L" sane:"0 mg/L..3000 mg/L" tool:"tds-meter" by:"office"`
	Softener    YesNo                  `yaml:"softener" ask:"Is there a softener?" eg:"no" by:"plumber"`
	Grains      Count                  `yaml:"softener_grains" ask:"Capacity of the softener in grains" how:"on its plate" eg:"30000" by:"plumber"`
	Days        Count                  `yaml:"softener_days" ask:"Days between regenerations" eg:"3" by:"plumber"`
	Others      quantity.Volume        `yaml:"softener_others" ask:"Other water through the softener in a day" how:"whatever else it feeds; 0 gal when it feeds the machine alone" eg:"0 gal" sane:"0 gal..5000 gal" by:"plumber" how_si:"whatever else it feeds; 0 L when it feeds the machine alone"`
}

// Drain is where the machine's waste goes.
type Drain struct {
	Receptor     string            `yaml:"receptor" ask:"Kind of receptor" eg:"floor-sink" validate:"omitempty,oneof=floor-sink floor-drain hub standpipe trapped-sink none" by:"surveyor"`
	Connection   string            `yaml:"connection" ask:"How the drain line ends" eg:"air-gap" validate:"omitempty,oneof=air-gap air-break direct" by:"surveyor"`
	AirGap       quantity.Length   `yaml:"air_gap" ask:"Air gap, end of the line to the flood rim" how:"measured, or as it will be built; left out, the smallest one allowed is planned" eg:"3-1/4 in" sane:"0 in..24 in" tool:"tape"`
	RimHeight    quantity.Length   `yaml:"rim_height" ask:"Height of the receptor's flood rim above finished floor" how:"negative if the rim is recessed below the floor" eg:"0 in" sane:"-12 in..48 in" tool:"level" by:"surveyor" eg_si:"0 mm"`
	FloorFalls   quantity.Length   `yaml:"floor_falls" ask:"How much lower the floor is at the receptor than at the machine" how:"level and tape; 0 in if flat" eg:"0 in" sane:"-12 in..12 in" tool:"level" by:"surveyor" how_si:"level and tape; 0 mm if flat"`
	RunLength    quantity.Length   `yaml:"run_length" ask:"Drain line from the machine's outlet to the receptor" how:"along the line" eg:"6 ft" sane:"0 ft..60 ft" tool:"tape" by:"surveyor"`
	Material     string            `yaml:"pipe_material" ask:"Material of the drain line" eg:"pvc" validate:"omitempty,oneof=pvc abs cpvc copper cast-iron stainless"`
	Size         quantity.PipeSize `yaml:"pipe_size" ask:"Nominal size of the drain line" eg:"1-1/2 in" eg_si:"DN 40"`
	Elbows       Count             `yaml:"elbows" ask:"90° elbows on the drain line" eg:"1"`
	Cleanouts    YesNo             `yaml:"cleanouts" ask:"Cleanouts at changes of direction?" eg:"yes"`
	Outlet       quantity.PipeSize `yaml:"receptor_outlet" ask:"Nominal size of the receptor's own outlet" eg:"3 in" eg_si:"DN 80"`
	OutletOf     string            `yaml:"receptor_outlet_material" ask:"Material of the receptor's outlet pipe" eg:"cast-iron" validate:"omitempty,oneof=pvc abs cpvc copper cast-iron stainless"`
	Shares       []Share           `yaml:"shares" ask:"What else drains into the receptor" how:"write [] if nothing does" validate:"max=30,dive"`
	Trap         YesNo             `yaml:"trap" ask:"Is there a trap on the drain line itself?" eg:"no"`
	ReceptorTrap YesNo             `yaml:"receptor_trapped" ask:"Is the receptor trapped?" eg:"yes"`
	Vent         YesNo             `yaml:"vent" ask:"Is the receptor's trap vented?" eg:"yes"`
	TrapToVent   quantity.Length   `yaml:"trap_to_vent" ask:"Distance from the receptor's trap to its vent" eg:"4 ft" sane:"0 ft..40 ft" tool:"tape"`
	TrapSeal     quantity.Length   `yaml:"trap_seal" ask:"Depth of the trap seal" eg:"2 in" sane:"0 in..8 in"`
	SealKept     YesNo             `yaml:"trap_seal_protected" ask:"Is a little-used trap kept wet (primer or barrier device)?" eg:"yes"`
	Strainer     YesNo             `yaml:"strainer" ask:"Removable strainer in the receptor?" eg:"yes" by:"surveyor"`
	Accessible   YesNo             `yaml:"accessible" ask:"Can the receptor be reached for cleaning?" how:"not in a closet, storeroom or concealed space" eg:"yes" by:"plumber"`
	FromLeft     quantity.Length   `yaml:"receptor_from_left" ask:"Receptor from the machine's left edge" how:"facing the machine; negative to the left of it" eg:"40 in" sane:"-240 in..480 in" tool:"tape" by:"surveyor"`
	Standpipe    quantity.Length   `yaml:"standpipe_height" ask:"Height of the standpipe above its trap weir" eg:"30 in" sane:"6 in..60 in" tool:"tape"`
	Lift         quantity.Length   `yaml:"lift" ask:"Rise from the machine's pump outlet to the highest point of the drain hose" eg:"24 in" sane:"0 in..120 in" tool:"tape" for:"pumped"`
	HighLoop     YesNo             `yaml:"high_loop" ask:"Does the drain hose rise above the water in the machine's tank before it goes down?" how:"held there by a clip; an air vent at the top counts too" eg:"yes" for:"pumped"`
	HoseVent     YesNo             `yaml:"hose_vent" ask:"Is there an air vent (siphon break) at the top of the drain hose?" how:"needed where the hose ends lower than the water in the machine's tank" eg:"yes" for:"pumped"`
	Steady       YesNo             `yaml:"falls_throughout" ask:"Will the drain line fall all the way, without a sag or a rise?" how:"rigid pipe, or a hose held along its whole length" eg:"yes" for:"gravity"`
	Tempering    quantity.Flow     `yaml:"tempering_flow" ask:"Cold water mixed into the discharge to cool it" how:"0 gpm if none" eg:"0 gpm" sane:"0 gpm..30 gpm" how_si:"0 L/min if none"`
	TemperLine   YesNo             `yaml:"tempering_line" ask:"Is there a cold-water line at the machine for cooling the discharge?" how:"its own branch, or the machine's cold line" eg:"yes"`
	TemperValve  string            `yaml:"tempering_valve" ask:"What lets the cooling water in" eg:"thermostatic" validate:"omitempty,oneof=thermostatic solenoid hand none"`
	TemperShut   YesNo             `yaml:"tempering_shut_off" ask:"Shut-off valve on the cooling water, within reach of the machine?" eg:"yes"`
	TemperGuard  string            `yaml:"tempering_backflow" ask:"Backflow device on the cooling water" how:"read its label; a check valve is not one" eg:"reduced-pressure" validate:"omitempty,oneof=none air-gap atmospheric-vacuum-breaker hose-vacuum-breaker pressure-vacuum-breaker spill-resistant-vacuum-breaker reduced-pressure double-check dual-check intermediate-vent check-valve"`
	TemperAbove  quantity.Length   `yaml:"tempering_backflow_height" ask:"Height of that device above everything it feeds" how:"above the highest pipe, outlet or rim downstream; only a vacuum breaker needs it" eg:"12 in" sane:"-60 in..120 in" tool:"tape"`
	TemperSpill  YesNo             `yaml:"tempering_backflow_drain" ask:"May what that device spills run away?" how:"relief port into a drain by an air gap, or a place where spillage harms nothing" eg:"yes"`
}

// A Share is something else that drains into the receptor.
type Share struct {
	Name string        `yaml:"name" ask:"What it is" eg:"ice machine" validate:"required,max=80"`
	Flow quantity.Flow `yaml:"flow" ask:"Its peak flow" eg:"1 gpm" sane:"0 gpm..60 gpm"`
}

// Space is the opening, the floor and the way in.
type Space struct {
	Width      quantity.Length      `yaml:"opening_width" ask:"Width of the opening" how:"at its narrowest, at three heights" eg:"38 in" sane:"12 in..240 in" tool:"tape"`
	Height     quantity.Length      `yaml:"opening_height" ask:"Height of the opening" how:"finished floor to the underside of the counter" eg:"36 in" sane:"20 in..120 in" tool:"tape"`
	Depth      quantity.Length      `yaml:"opening_depth" ask:"Depth of the opening" how:"front edge to the wall or the first pipe" eg:"28 in" sane:"12 in..120 in" tool:"tape"`
	Counter    quantity.Length      `yaml:"counter_height" ask:"Height of the counter's top above finished floor" eg:"38 in" sane:"24 in..60 in" tool:"tape"`
	OutOfLevel quantity.Length      `yaml:"floor_out_of_level" ask:"How far the floor is out of level over the machine's base" how:"level across, front to back and on the diagonal; the largest" eg:"1/4 in" sane:"0 in..4 in" tool:"level"`
	FloorLoad  quantity.FloorLoad   `yaml:"floor_capacity" ask:"Floor's stated live load" how:"from the building's drawings; left out, 100 psf is taken for a ground floor and the owner must confirm" eg:"100 psf" sane:"40 psf..500 psf" by:"office" how_si:"from the building's drawings; left out, 4.8 kN/m² is taken for a ground floor and the owner must confirm"`
	Finished   YesNo                `yaml:"finished_floor" ask:"Is the floor finished, so that heights were taken from it?" how:"no where tiles, screed or mats are still to come" eg:"yes"`
	FloorAdds  quantity.Length      `yaml:"floor_to_come" ask:"How much the floor will still rise" how:"tiles, screed and mats together; 0 in when it is finished" eg:"0 in" sane:"0 in..12 in" tool:"tape" by:"office" how_si:"tiles, screed and mats together; 0 mm when it is finished"`
	Front      quantity.Length      `yaml:"front_clearance" ask:"Clear floor in front of the machine" eg:"36 in" sane:"0 in..240 in" tool:"tape"`
	ServiceGap quantity.Length      `yaml:"service_clearance" ask:"Clear space on the machine's service side" eg:"4 in" sane:"0 in..240 in" tool:"tape" by:"office"`
	Underneath quantity.Length      `yaml:"clear_beneath" ask:"Cleaning height that stays free under the machine" how:"0 in when it is sealed to the floor" eg:"6 in" sane:"0 in..24 in" tool:"tape" by:"office" how_si:"0 mm when it is sealed to the floor"`
	SealedBase YesNo                `yaml:"sealed_to_floor" ask:"Will the machine be sealed to the floor?" eg:"no" by:"office"`
	RoomTemp   quantity.Temperature `yaml:"room_temperature" ask:"Temperature of the room" eg:"72 °F" sane:"32 °F..120 °F" tool:"thermometer"`
	Exhaust    YesNo                `yaml:"exhaust" ask:"Is the air above the machine drawn off (hood or fan)?" eg:"no" by:"office"`
	Unpacked   YesNo                `yaml:"unpacked_outside" ask:"Will the machine be unpacked before it is carried in?" how:"left out, it goes in crated" eg:"no" by:"office"`
	Path       []Passage            `yaml:"path" ask:"The way in, from the curb to the bar" how:"every door, threshold, ramp, turn, stair and elevator in order" validate:"max=60,dive" walk:"way"`
}

// A Passage is one point of the way in.
type Passage struct {
	Kind     string          `yaml:"kind" ask:"What it is" eg:"door" validate:"required,oneof=door turn stair lift threshold ramp"`
	Name     string          `yaml:"name" ask:"Where it is" eg:"back door" validate:"max=80"`
	Width    quantity.Length `yaml:"clear_width" ask:"Clear width" how:"with the door open, not the leaf; of a turn, the corridor before it" eg:"34 in" sane:"12 in..300 in" tool:"tape"`
	Height   quantity.Length `yaml:"clear_height" ask:"Clear height" eg:"80 in" sane:"40 in..300 in" tool:"tape"`
	After    quantity.Length `yaml:"width_after" ask:"Width of the corridor after the turn" eg:"40 in" sane:"12 in..300 in" tool:"tape"`
	Depth    quantity.Length `yaml:"clear_depth" ask:"Depth of the elevator car or landing" eg:"54 in" sane:"12 in..300 in" tool:"tape"`
	Steps    Count           `yaml:"steps" ask:"Steps" eg:"12"`
	Capacity quantity.Mass   `yaml:"capacity" ask:"Rated load of the elevator" eg:"1500 lb" sane:"100 lb..20000 lb"`
	Rise     quantity.Length `yaml:"rise" ask:"Height of the threshold, or how far the ramp rises" how:"to its highest edge; a ramp from its foot to its top" eg:"1/2 in" sane:"0 in..120 in" tool:"tape"`
	Length   quantity.Length `yaml:"ramp_length" ask:"Length of the ramp" how:"along its slope" eg:"8 ft" sane:"6 in..100 ft" tool:"tape"`
	Riders   YesNo           `yaml:"passengers" ask:"May people ride in the elevator?" how:"the notice in the car; nobody rides in a freight elevator" eg:"yes"`
}

// Chemicals is the sanitizer and where the containers stand.
type Chemicals struct {
	Sanitizer     string                 `yaml:"sanitizer" ask:"Sanitizer" eg:"chlorine" validate:"omitempty,oneof=chlorine iodine quat none"`
	Concentration quantity.Concentration `yaml:"concentration" ask:"Sanitizer concentration in the final rinse" how:"from the supplier; test strip later" eg:"75 mg/L" sane:"0 mg/L..500 mg/L" tool:"strip"`
	PH            Number                 `yaml:"ph" ask:"pH of the sanitizing solution" how:"test strip in the final rinse, sanitizer in it; not the tap water's" eg:"7.6"`
	Place         string                 `yaml:"container_place" ask:"Where the containers will stand" eg:"under the drainboard, left" validate:"max=120" for:"chemical,hot-water"`
	TubeRun       quantity.Length        `yaml:"tube_run" ask:"Tube run from container to machine" eg:"5 ft" sane:"0 ft..60 ft" tool:"tape" for:"chemical,hot-water"`
	Lift          quantity.Length        `yaml:"lift" ask:"Height from the container's bottom to the machine's pump" eg:"2 ft" sane:"-3 ft..20 ft" tool:"tape" for:"chemical,hot-water"`
	AcidBeside    YesNo                  `yaml:"acid_beside_chlorine" ask:"Is an acid (delimer, acid rinse aid) or ammonia stored beside the chlorine?" eg:"no"`
	DataSheets    YesNo                  `yaml:"safety_data_sheets" ask:"Are the safety data sheets at the bar?" eg:"yes" for:"chemical,hot-water"`
	Eyewash       YesNo                  `yaml:"eyewash" ask:"Eyewash near where the containers are changed?" eg:"yes" for:"chemical,hot-water"`
}

// Demand is how many glasses the bar needs, of which kinds.
type Demand struct {
	Peak       Count         `yaml:"peak_glasses_per_hour" ask:"Glasses to wash in the busiest hour" eg:"600"`
	Seats      Count         `yaml:"seats" ask:"Seats, if the peak must be estimated" eg:"120" by:"nobody"`
	Drinks     Number        `yaml:"drinks_per_seat_hour" ask:"Drinks per seat in the busiest hour" how:"1 to 2 on average, 2 to 3 in a busy bar" eg:"1.5" by:"nobody"`
	PerDrink   Number        `yaml:"glasses_per_drink" ask:"Glasses per drink" how:"more than 1 where water is served" eg:"1.2" by:"nobody"`
	Rush       quantity.Time `yaml:"rush" ask:"How long the busiest time of an evening lasts" how:"the machine and the other draws running all through" eg:"3 h" sane:"15 min..12 h" for:"hot"`
	Fills      Count         `yaml:"fills_per_day" ask:"Tank fills per day" eg:"3"`
	Hours      Number        `yaml:"hours_per_day" ask:"Hours of washing per day" eg:"8"`
	Turnaround quantity.Time `yaml:"turnaround" ask:"How long a glass is away: used, carried, washed, cooled, back on the shelf" eg:"30 min" sane:"2 min..6 h"`
	Glasses    []Glass       `yaml:"glasses" ask:"Kinds of glass" validate:"max=60,dive"`
}

// A Glass is one kind of glass.
type Glass struct {
	Name     string          `yaml:"name" ask:"Kind" eg:"pint" validate:"required,max=80"`
	Height   quantity.Length `yaml:"height" ask:"Height" eg:"6 in" sane:"1 in..16 in" tool:"tape"`
	Diameter quantity.Length `yaml:"diameter" ask:"Largest diameter" eg:"3-1/2 in" sane:"1 in..8 in" tool:"tape"`
	Stock    Count           `yaml:"stock" ask:"How many there are" eg:"300"`
}

// A Photo of the survey.
type Photo struct {
	File    string `yaml:"file" ask:"File" how:"beside the questionnaire" eg:"panel.jpg" validate:"required,max=200"`
	Caption string `yaml:"caption" ask:"What it shows" eg:"panel, cover on" validate:"max=200"`
	// The trade on whose sheet it is printed; empty: the summary.
	Concerns string `yaml:"concerns" ask:"Whom it concerns" eg:"electrician" validate:"omitempty,oneof=electrician plumber builder owner supplier"`
}

// Revision is the survey's revision letter, A when none is written.
func (s *Survey) Revision() string {
	if s.Site.Revision == "" {
		return "A"
	}
	return s.Site.Revision
}
