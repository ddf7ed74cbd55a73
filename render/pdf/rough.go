package pdf

import (
	"fmt"
	"slices"
	"strings"

	"firstfill/render/page"
	"firstfill/render/words"
	"firstfill/specs"
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
	"firstfill/templates"
)

// A number is one line of a sheet's first table: what a trade builds to, and
// what the survey found.
type number struct {
	group string // starts a group of lines
	label string
	need  string   // large; from the requirement sheet, or proven by a check
	note  string   // small, under the label: other units, what it holds for
	found string   // as surveyed
	ids   []string // the checks that the line is about: it shows the worst of their verdicts
}

// roughIn prints the numbers of a trade.
func (s *sheets) roughIn(t check.Trade) {
	switch t {
	case check.Electrician:
		s.numbers(t, s.electrical())
		s.receptacle()
	case check.Plumber:
		s.numbers(t, s.plumbing())
		s.raised()
	case check.Builder:
		s.numbers(t, s.building())
		s.wayIn()
	case check.Owner:
		s.numbers(t, s.owning())
		s.glasses()
	case check.Supplier:
		s.numbers(t, s.supplying())
		s.wayIn()
		s.bring()
	}
}

// numbers prints the lines of which something is known.
func (s *sheets) numbers(t check.Trade, ns []number) {
	c := s.w.Columns
	table := page.Table{Columns: []page.Column{
		{Head: c.Number, Flex: 1.25}, {Head: c.Needed, Width: 48}, {Head: c.Found, Flex: 1}, {Head: c.State, Width: 26},
	}}
	group := ""
	for _, n := range ns {
		if n.group != "" {
			group = n.group
		}
		if n.label == "" || n.need == "" && n.found == "" {
			continue
		}
		if group != "" {
			table.Rows = append(table.Rows, page.Row{Group: true, Cells: []page.Cell{page.T(group)}})
			group = ""
		}
		need := page.Cell{Text: n.need, Bold: true, Size: 13.5}
		if len([]rune(n.need)) > 17 {
			need.Size = 10
		}
		if n.need == "" {
			need = page.Cell{Text: "–", Size: 10}
		}
		state := page.Cell{}
		if v, ids := s.stateOf(t, n); v != "" {
			state.Verdict = v
			if len(ids) > 0 {
				state.Text, state.Link = strings.Join(ids, ", "), findingAnchor(ids[0])
			}
		}
		table.Rows = append(table.Rows, page.Row{Cells: []page.Cell{
			{Text: n.label, Note: n.note, Size: 9.5}, need, {Text: n.found, Field: n.label, Size: 9}, state,
		}})
	}
	s.Table(table)
}

// stateOf is the worst verdict of the checks that a line is about, and the ids
// that are open. Checks of other trades don't count.
func (s *sheets) stateOf(t check.Trade, n number) (page.Verdict, []string) {
	worst := check.NA
	var ids []string
	for _, id := range n.ids {
		f := s.r.Finding(id)
		if f == nil || f.Trade != t {
			continue
		}
		worst = min(worst, f.Verdict)
		if f.Verdict <= check.Confirm {
			ids = append(ids, id)
		}
	}
	if worst == check.NA {
		return "", nil
	}
	return verdict(worst), ids
}

// An amount is a value that prints in either system.
type amount interface {
	Known() bool
	US() string
	SI() string
}

// first is a value in the units that come first, second in the others; empty when unknown.
func (s *sheets) first(q amount) string  { return in(q, s.r.Units) }
func (s *sheets) second(q amount) string { return other(q, s.r.Units) }

func in(q amount, u quantity.System) string {
	switch {
	case !q.Known():
		return ""
	case u == quantity.SI:
		return q.SI()
	}
	return q.US()
}

// other is the value in the other units; empty when that reads the same.
func other(q amount, u quantity.System) string {
	o := quantity.SI
	if u == quantity.SI {
		o = quantity.US
	}
	if t := in(q, o); t != in(q, u) {
		return t
	}
	return ""
}

// span joins two values of a range: "15 to 75 psi".
func span(low, high string) string {
	switch {
	case low == "" && high == "":
		return ""
	case high == "":
		return "at least " + low
	case low == "":
		return "at most " + high
	}
	a, b := strings.Fields(low), strings.Fields(high)
	if len(a) == 2 && len(b) == 2 && a[1] == b[1] {
		low = a[0]
	}
	if low == high {
		return low
	}
	return low + " to " + high
}

// by joins sizes: "36 × 25 × 33 in", the unit once where it is one.
func by(sizes ...string) string {
	unit, same := "", true
	nums := make([]string, len(sizes))
	for i, t := range sizes {
		f := strings.Fields(t)
		if len(f) != 2 || unit != "" && f[1] != unit {
			same = false
			break
		}
		nums[i], unit = f[0], f[1]
	}
	if same && unit != "" {
		return strings.Join(nums, " × ") + " " + unit
	}
	return join(" × ", sizes...)
}

func (s *sheets) range1(low, high amount) string { return span(s.first(low), s.first(high)) }
func (s *sheets) range2(low, high amount) string { return span(s.second(low), s.second(high)) }

// read is an answer in the units that come first; empty when it isn't known.
func (s *sheets) read(path string) string {
	if !s.r.Survey.Known(path) {
		return ""
	}
	if leaf, ok := doc.At(s.r.Survey, path); ok {
		if q, ok := leaf.Addr().Interface().(amount); ok {
			return s.first(q)
		}
	}
	return s.r.Survey.ReadingText(path, s.r.Units)
}

// yes words a yes-or-no answer.
func (s *sheets) yes(path, yes, no string) string {
	switch s.read(path) {
	case "yes", "y", "true", "Yes":
		return yes
	case "":
		return ""
	}
	return no
}

// with puts a word before or behind what is known: "{} up", "along the cord {}".
func with(format, value string) string {
	if value == "" {
		return ""
	}
	return strings.ReplaceAll(format, "{}", value)
}

// missed is what was found, or that nothing was.
func missed(found string) string {
	if found == "" {
		return "not measured"
	}
	return found
}

// pipe is a pipe size in the units that come first, with its note in the others.
func (s *sheets) pipe(p quantity.PipeSize) (text, note string) {
	switch {
	case !p.Known():
		return "", ""
	case s.r.Units == quantity.SI && p.DN() > 0:
		return fmt.Sprintf("DN %d", p.DN()), p.String()
	case p.DN() > 0:
		return p.String(), fmt.Sprintf("DN %d", p.DN())
	}
	return p.String(), ""
}

// want is what the check of that id requires; empty when it requires nothing that is known.
func (s *sheets) want(id string) string {
	if f := s.r.Finding(id); f != nil && f.Verdict != check.NA && f.Verdict != check.Missing {
		return f.Want
	}
	return ""
}

// A proof is a conductor with which the checks turn OK.
type proof struct {
	size quantity.WireSize
	note string
	set  map[string]string // the remedy it is taken from
}

// conductor finds the conductor to pull: as surveyed where none of the checks
// is open, else the largest that a remedy of theirs needs.
func (s *sheets) conductor(path string, found quantity.WireSize, ids ...string) (p proof) {
	open, seen := false, false
	for _, id := range ids {
		f := s.r.Finding(id)
		if f == nil || f.Verdict == check.NA {
			continue
		}
		seen = true
		if f.Verdict > check.Confirm {
			continue
		}
		open = true
		for _, rem := range f.Remedies {
			size, err := quantity.Parse[quantity.WireSize](rem.Set[path])
			if err != nil {
				continue
			}
			if size.Cmp(p.size) > 0 {
				p = proof{size, "puts " + id + " right", rem.Set}
			}
			break
		}
	}
	if seen && !open {
		return proof{size: found, note: "as found"}
	}
	return p
}

// large is a conductor's size, empty when there is none.
func (p proof) large() string {
	if !p.size.Known() {
		return ""
	}
	return p.size.String()
}

func (s *sheets) supply() *specs.Supply {
	if s.r.Supply != nil {
		return s.r.Supply
	}
	return &specs.Supply{}
}

func (s *sheets) electrical() []number {
	m, p, sv := s.r.Machine.Power, s.supply(), s.r.Survey.Power
	wire := s.conductor("power.conductor", sv.Conductor, "E-12", "E-13", "E-15", "E-16")
	ground := s.conductor("power.ground", sv.Ground, "E-14")
	if size, err := quantity.Parse[quantity.WireSize](wire.set["power.ground"]); err == nil && size.Cmp(ground.size) > 0 {
		ground = proof{size: size, note: "with that wire"}
	}
	entry := "Cord leaves the machine"
	if m.Connection == "hard-wired" {
		entry = "Conduit enters the machine"
	}
	ns := []number{
		{label: "Voltage", need: s.range1(p.VoltageMin, p.VoltageMax), note: join("; ", "at the machine, under load", with("supply option {}", p.Name)),
			found: missed(join("; ", with("{} line to line", s.read("power.line_to_line")), with("{} line to neutral", s.read("power.line_to_neutral")))),
			ids:   []string{"E-01", "E-02", "E-03"}},
		{label: "Phases and frequency", need: join(", ", plural(p.Phases, "phase", "phases"), s.first(p.Frequency)),
			found: missed(join(", ", phases(sv.Phases), s.read("power.frequency"))), ids: []string{"E-04", "E-05"}},
		{label: "Neutral", need: yesNo(p.Neutral, "needed", "not needed"), found: s.yes("power.neutral", "there is one", "none"), ids: []string{"E-06"}},
		{label: "Breaker", need: span(s.first(p.MinCircuit), s.first(p.MaxBreaker)), note: join("; ", "minimum circuit to maximum breaker on the plate", with("rated current {}", s.first(p.RatedCurrent))),
			found: missed(join(", ", s.read("power.breaker"), poles(sv.BreakerPoles))), ids: []string{"E-08", "E-09", "E-10", "E-11"}},
		{label: "Circuit serves", need: "the machine alone", note: circuitNote(s.r.Machine.Power.Dedicated), found: s.yes("power.dedicated", "the machine alone", orOthers(sv.OtherLoads)+" too"), ids: []string{"E-07", "E-28"}},
		{label: "Wire", need: wire.large(), note: join("; ", wire.note, with("run of {}", s.read("power.run_length"))),
			found: missed(join(", ", s.read("power.conductor"), s.read("power.conductor_material"), with("{} °C insulation", s.read("power.insulation")))), ids: []string{"E-12", "E-13", "E-15", "E-16"}},
		{label: "Grounding (protective) conductor", need: ground.large(), note: ground.note, found: missed(s.read("power.ground")), ids: []string{"E-14"}},
	}
	if m.Connection == "hard-wired" {
		ns = append(ns, number{label: "Connection", need: "hard-wired", found: missed(join(", ", with("box {} up", s.read("power.outlet_height")), with("{} from left edge", s.read("power.outlet_from_left"))))})
	} else {
		ns = append(ns,
			number{label: "Receptacle", need: p.Plug, note: "for the plug on the machine's cord", found: missed(s.read("power.receptacle")), ids: []string{"E-17", "E-18"}},
			number{label: "Cord reaches", need: s.first(m.CordLength), note: s.second(m.CordLength),
				found: join(", ", with("receptacle at {} along it", s.read("power.receptacle_distance")), with("{} above floor", s.read("power.outlet_height")), with("{} from left edge", s.read("power.outlet_from_left"))),
				ids:   []string{"E-19"}})
	}
	ns = append(ns,
		number{label: entry, need: join(", ", with("{} up", s.first(m.EntryHeight)), with("{} from left", s.first(m.EntryLeft))),
			note: join(", ", with("{} above the floor", s.second(m.EntryHeight)), with("{} from its left edge, facing it", s.second(m.EntryLeft)))},
		number{label: "Ground-fault protection", need: s.want("E-22"), found: missed(s.read("power.ground_fault_protection")), ids: []string{"E-22"}},
		number{label: "Disconnect", need: s.want("E-21"), found: missed(s.read("power.disconnect")), ids: []string{"E-21"}},
	)
	return ns
}

func poles(n survey.Count) string {
	if !n.Known() {
		return ""
	}
	return plural(n.N(), "pole", "poles")
}

func phases(n survey.Count) string {
	if !n.Known() {
		return ""
	}
	return plural(n.N(), "phase", "phases")
}

func yesNo(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}

func orOthers(loads []survey.OtherLoad) string {
	var names []string
	for _, l := range loads {
		names = append(names, l.Name)
	}
	if len(names) == 0 {
		return "other loads"
	}
	return strings.Join(names, ", ")
}

// receptacle draws the faces of the receptacle that is needed and, where it
// is another one, of the one that was found.
func (s *sheets) receptacle() {
	if s.r.Machine.Power.Connection == "hard-wired" || s.supply().Plug == "" {
		return
	}
	plug, found := s.supply().Plug, s.read("power.receptacle")
	need, ok := face(plug)
	if !ok {
		s.StyledParagraph(templates.Fill(s.w.Sentences.NoFace, "name", plug), page.Small)
		return
	}
	s.Heading(2, s.w.Headings.Receptacle)
	need.Name = "Needed: " + need.Name
	faces := []page.FaceSpec{need}
	if f, ok := face(found); ok && f.Name != strings.TrimPrefix(need.Name, "Needed: ") {
		f.Name = "Found: " + f.Name
		faces = append(faces, f)
	}
	s.Faces(36, faces...)
}

// face is the drawing of a receptacle by the name of its configuration.
func face(name string) (page.FaceSpec, bool) {
	if f, ok := page.NEMAFace(name); ok {
		return f, true
	}
	words := strings.Fields(strings.ToUpper(name))
	if len(words) < 3 || words[0] != "IEC" || words[1] != "60309" {
		return page.FaceSpec{}, false
	}
	// The earth contact stands at six o'clock for 230 V and 400 V alike.
	if !slices.ContainsFunc(words, func(w string) bool { return w == "230" || w == "400" || w == "BLUE" || w == "RED" }) {
		return page.FaceSpec{}, false
	}
	f, ok := page.IECFace(words[len(words)-1], 6)
	if ok {
		f.Name = name
	}
	return f, ok
}

func (s *sheets) plumbing() []number {
	m, sv := s.r.Machine, s.r.Survey
	var ns []number
	if m.Water.Cold.Used {
		ns = append(ns, s.inlet("Cold water", "water.cold", m.Water.Cold, coldChecks)...)
	}
	if m.Water.Hot.Used {
		ns = append(ns, s.inlet("Hot water", "water.hot", m.Water.Hot, hotChecks)...)
	}
	if m.Water.Hot.Used || m.Water.Cold.Used {
		ns = append(ns, number{label: "Water-hammer arresters", need: yesNo(s.want("W-31") != "", "fitted", ""), note: yesNo(m.Water.QuickValves, "the machine's valves close quickly", ""),
			found: missed(s.yes("water.hammer_arrester", "fitted", "none")), ids: []string{"W-31"}})
	}
	d := m.Drain
	size, sizeNote := s.pipe(d.OutletSize)
	ns = append(ns, number{group: "Drain"},
		number{label: "Machine's outlet", need: size, note: join("; ", sizeNote, yesNo(d.Kind == "pump", "drain pump", "drains by gravity"))},
		number{label: "Outlet above floor", need: s.first(d.OutletHeight), note: join(", ", s.second(d.OutletHeight), "to its invert")},
		number{label: "Outlet from the left edge", need: s.first(d.OutletLeft), note: join(", ", s.second(d.OutletLeft), "facing the machine"), found: with("receptor at {}", s.read("drain.receptor_from_left"))},
		number{label: "Drain line, at least", need: size, note: sizeNote, found: missed(join(", ", s.read("drain.pipe_size"), s.read("drain.pipe_material"))), ids: []string{"D-05"}},
	)
	if d.Kind == "pump" {
		ns = append(ns, number{label: "Lift of the hose, at most", need: s.first(d.PumpLift), note: join("; ", s.second(d.PumpLift), with("pump gives {}", s.first(d.PumpFlow))),
			found: missed(s.read("drain.lift")), ids: []string{"D-21"}})
	} else {
		ns = append(ns, number{label: "Fall to the receptor", need: short(s.want("D-03")), found: missed(short(foundBy(s.r, "D-03"))), ids: []string{"D-03"}})
	}
	ns = append(ns,
		number{label: "Air gap", need: short(s.want("D-04")), note: "end of the line to the flood rim", found: missed(join(", ", s.read("drain.air_gap"), with("rim {} above floor", s.read("drain.rim_height")))), ids: []string{"D-04"}},
		number{label: "Receptor", need: s.want("D-02"), found: missed(join(", ", s.read("drain.receptor"), with("outlet {}", s.read("drain.receptor_outlet")))), ids: []string{"D-02", "D-06", "D-08"}},
		number{label: "Hottest discharge", need: s.first(d.Temperature), note: join("; ", s.second(d.Temperature), with("sewer takes {}", in(sv.Codes.SewerLimit, s.r.Units))),
			found: s.tempered(), ids: []string{"D-09", "D-10"}},
	)
	return ns
}

// tempered says how much cold water is mixed into the discharge.
func (s *sheets) tempered() string {
	t := s.r.Survey.Drain.Tempering
	if t.Known() && t.In(quantity.GPM) <= 0 {
		return "not tempered"
	}
	return with("tempered with {} of cold water", s.first(t))
}

// short drops the words around a limit, so that it can stand large.
func short(want string) string {
	want = strings.TrimSuffix(strings.TrimPrefix(want, "at least "), " of fall")
	if i := strings.Index(want, " ("); i > 0 {
		if j := strings.Index(want[i:], ")"); j > 0 {
			want = want[:i] + want[i+j+1:]
		}
	}
	return want
}

// foundBy is what a check found.
func foundBy(r *words.Report, id string) string {
	if f := r.Finding(id); f != nil && f.Verdict != check.NA && f.Verdict != check.Missing {
		return f.Have
	}
	return ""
}

// lineChecks are the checks of one supply line.
type lineChecks struct {
	thread, pipe, flowing, static, temperature, hose, valves, backflow []string
}

var (
	coldChecks = lineChecks{
		thread: []string{"W-34"}, pipe: []string{"W-07", "W-09"}, flowing: []string{"W-05"}, static: []string{"W-01", "W-03"},
		temperature: []string{"W-13"}, hose: []string{"W-36"}, valves: []string{"W-25", "W-32"}, backflow: []string{"W-28"},
	}
	hotChecks = lineChecks{
		thread: []string{"W-35"}, pipe: []string{"W-08", "W-10", "W-11"}, flowing: []string{"W-06"}, static: []string{"W-02", "W-04"},
		temperature: []string{"W-12", "W-14", "W-15"}, hose: []string{"W-37"}, valves: []string{"W-26", "W-33"}, backflow: []string{"W-29"},
	}
)

func (s *sheets) inlet(group, path string, in specs.Inlet, ids lineChecks) []number {
	size, sizeNote := s.pipe(in.PipeSize)
	p := func(name string) string { return path + "." + name }
	return []number{
		{group: group},
		{label: "Connection", need: in.Connection, note: "thread on the machine's hose or inlet", found: missed(s.read(p("connection"))), ids: ids.thread},
		{label: "Supply pipe, at least", need: size, note: sizeNote, found: missed(join(", ", s.read(p("pipe_size")), s.read(p("pipe_material")))), ids: ids.pipe},
		{label: "Pressure while flowing", need: s.range1(in.FlowingMin, in.FlowingMax), note: join(", ", s.range2(in.FlowingMin, in.FlowingMax), with("at {}", s.first(in.Flow))),
			found: missed(join(" at ", s.read(p("flowing_pressure")), s.read(p("flow")))), ids: ids.flowing},
		{label: "Static pressure, at most", need: s.first(in.StaticMax), note: s.second(in.StaticMax),
			found: missed(join(", ", s.read(p("static_pressure")), s.regulator(p("regulator")))), ids: ids.static},
		{label: "Temperature", need: s.range1(in.TempMin, in.TempMax), note: s.range2(in.TempMin, in.TempMax),
			found: missed(join("; ", s.read(p("temperature")), with("winter {}", s.read(p("winter_temperature"))), with("summer {}", s.read(p("summer_temperature"))))), ids: ids.temperature},
		{label: "Inlet above floor", need: s.first(in.Height), note: s.second(in.Height), found: with("connection at {}", s.read(p("height")))},
		{label: "Inlet from the left edge", need: s.first(in.FromLeft), note: join(", ", s.second(in.FromLeft), "facing the machine"), found: with("connection at {}", s.read(p("from_left")))},
		{label: "Hose reaches", need: s.first(in.HoseLength), note: s.second(in.HoseLength), found: missed(with("connection at {} along it", s.read(p("hose_distance")))), ids: ids.hose},
		{label: "Valves on this line", need: yesNo(in.CheckValve, "shut-off, check valve", "shut-off"),
			found: missed(join(", ", s.yes(p("shut_off"), "shut-off", "no shut-off"), s.yes(p("check_valve"), "check valve", "no check valve"))), ids: ids.valves},
		{label: "Backflow protection", need: s.want(ids.backflow[0]), note: "as the authority rules; a check valve is none", found: missed(s.read(p("backflow"))), ids: ids.backflow},
	}
}

// regulator says how a pressure regulator is set; "0 psi" means that there is none.
func (s *sheets) regulator(path string) string {
	if !s.r.Survey.Known(path) {
		return ""
	}
	line := s.r.Survey.Water.Cold
	if strings.HasPrefix(path, "water.hot.") {
		line = s.r.Survey.Water.Hot
	}
	if line.Regulator.In(quantity.PSI) <= 0 {
		return "no regulator"
	}
	return "regulator set to " + in(line.Regulator, s.r.Units)
}

// raised reminds of a stand under the machine.
func (s *sheets) raised() {
	up := s.r.Survey.Machine.RaisedBy
	if up.Known() && up.In(quantity.Inch) > 0 {
		s.StyledParagraph(templates.Fill(s.w.Sentences.Raised, "height", up.Show(s.r.Units)), page.Bold)
	}
}

func (s *sheets) building() []number {
	m, sv := s.r.Machine.Space, s.r.Survey.Space
	size := func(parts ...amount) (a, b string) {
		var x, y []string
		for _, q := range parts {
			x, y = append(x, s.first(q)), append(y, s.second(q))
		}
		return by(x...), by(y...)
	}
	body, bodyNote := size(m.Width, m.Depth, m.Height)
	crate, crateNote := size(m.CrateWidth, m.CrateDepth, m.CrateHeight)
	ns := []number{
		{group: "Opening"},
		{label: "Width, at least", need: short(s.want("S-01")), note: join("; ", with("machine {}", s.first(m.Width)), with("each side {}", s.first(m.SideGap))), found: missed(s.read("space.opening_width")), ids: []string{"S-01"}},
		{label: "Height, at least", need: short(s.want("S-02")), note: join("; ", with("machine {}", s.first(m.Height)), with("above {}", s.first(m.TopGap)), with("stand {}", in(s.r.Survey.Machine.RaisedBy, s.r.Units))), found: missed(s.read("space.opening_height")), ids: []string{"S-02"}},
		{label: "Depth, at least", need: short(s.want("S-03")), note: join("; ", with("machine {}", s.first(m.Depth)), with("behind {}", s.first(m.BackGap))), found: missed(s.read("space.opening_depth")), ids: []string{"S-03"}},
		{label: "Counter's top above floor", need: in(sv.Counter, s.r.Units), note: "as found", ids: []string{"S-04"}},
		{label: "Clear floor in front, at least", need: s.first(m.FrontGap), note: s.second(m.FrontGap), found: missed(s.read("space.front_clearance")), ids: []string{"S-12"}},
		{label: "Clear at the service side, at least", need: s.first(m.ServiceGap), note: s.second(m.ServiceGap), found: missed(s.read("space.service_clearance")), ids: []string{"S-13"}},
		{group: "Floor"},
		{label: "Out of level, at most", need: short(strings.TrimPrefix(s.want("S-10"), "at most ")), note: "over the machine's base; the travel of its legs", found: missed(s.read("space.floor_out_of_level")), ids: []string{"S-10"}},
		{label: "Floor must carry", need: short(foundBy(s.r, "S-11")), note: join("; ", with("machine {} empty", s.first(m.Mass)), with("racks and glasses {}", s.first(m.Racks))), found: with("stated live load {}", s.read("space.floor_capacity")), ids: []string{"S-11"}},
		{label: "Free beneath, for cleaning", need: short(s.want("S-14")), found: missed(join("; ", s.read("space.clear_beneath"), s.yes("space.sealed_to_floor", "sealed to the floor", ""))), ids: []string{"S-14"}},
		{group: "Machine and crate"},
		{label: "Machine, width × depth × height", need: body, note: bodyNote},
		{label: "Crate, width × depth × height", need: crate, note: join("; ", crateNote, yesNo(m.MayTilt, "may be tilted", "must stay upright"))},
		{label: "Crate's weight", need: s.first(m.CrateMass), note: s.second(m.CrateMass)},
		{label: "Air above the machine", need: s.want("S-15"), found: missed(s.yes("space.exhaust", "drawn off", "not drawn off")), ids: []string{"S-15"}},
	}
	return ns
}

// wayIn lists the way from the kerb to the bar as it was measured.
func (s *sheets) wayIn() {
	ps := s.r.Survey.Space.Path
	if len(ps) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Way)
	u := s.r.Units
	t := page.Table{Columns: []page.Column{{Head: "", Width: 9, Align: page.Right}, {Head: "Place"}, {Head: "Clear width", Width: 38}, {Head: "Clear height", Width: 38}, {Head: "Other", Flex: 1.2}}}
	for i, p := range ps {
		rest := join("; ", with("{} wide after the turn", show(p.After, u)), with("{} deep", show(p.Depth, u)), with("steps: {}", p.Steps.String()), with("carries {}", show(p.Capacity, u)))
		field := fmt.Sprintf("space.path[%d]", i)
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			page.T(fmt.Sprint(i + 1)), {Text: join(": ", p.Kind, p.Name), Field: field},
			{Text: show(p.Width, u), Bold: true, Size: 9.5}, {Text: show(p.Height, u), Bold: true, Size: 9.5}, page.T(rest),
		}})
	}
	s.Table(t)
}

// show is a value in both systems, empty when it isn't known.
func show[D quantity.Dimension](q quantity.Of[D], u quantity.System) string {
	if !q.Known() {
		return ""
	}
	return q.Show(u)
}

func (s *sheets) owning() []number {
	m := s.r.Machine
	return []number{
		{group: "Water treatment"},
		{label: "Hardness", need: s.range1(m.Water.HardnessMin, m.Water.HardnessMax), note: join("; ", s.range2(m.Water.HardnessMin, m.Water.HardnessMax), "at the machine's connection"),
			found: missed(join("; ", s.read("treatment.hardness"), with("before any softener {}", s.read("treatment.raw_hardness")))), ids: []string{"W-22"}},
		{label: "Dissolved solids, at most", need: s.first(m.Water.TDSMax), found: missed(s.read("treatment.tds")), ids: []string{"W-23"}},
		{label: "Softener", need: with("{} grains", s.grains()), found: missed(join("; ", s.yes("treatment.softener", "there is one", "none"), with("{} grains", s.read("treatment.softener_grains")), with("days between regenerations: {}", s.read("treatment.softener_days")))),
			ids: []string{"W-24"}},
		{group: "Chemicals"},
		{label: "Sanitizer", need: strings.Join(strings.Fields(m.Chemicals.Sanitizers), " or "), found: missed(s.read("chemicals.sanitizer")), ids: []string{"C-01"}},
		{label: "Concentration in the final rinse", need: s.dose(), found: s.read("chemicals.concentration"), ids: []string{"C-02"}},
		{label: "Containers stand", need: with("within {} of tube", s.first(m.Chemicals.TubeLength)), found: missed(s.read("chemicals.container_place")), ids: []string{"C-03"}},
		{label: "Acid and ammonia", need: s.want("C-05"), found: s.yes("chemicals.acid_beside_chlorine", "beside the chlorine", "stored apart"), ids: []string{"C-05"}},
		{label: "Safety data sheets", need: s.want("C-06"), found: s.yes("chemicals.safety_data_sheets", "there", "not there"), ids: []string{"C-06"}},
		{label: "Eyewash", need: s.want("C-07"), found: s.yes("chemicals.eyewash", "there", "not there"), ids: []string{"C-07"}},
		{group: "Glasses"},
		{label: "Washed in the busiest hour", need: short(s.want("T-01")), found: with("machine washes {}", foundBy(s.r, "T-01")), ids: []string{"T-01"}},
		{label: "Stock of glasses", need: short(s.want("T-04")), found: missed(join(", away for ", foundBy(s.r, "T-04"), s.read("demand.turnaround"))), ids: []string{"T-04"}},
		{label: "Tallest glass", need: s.first(m.Throughput.GlassHeight), note: s.second(m.Throughput.GlassHeight), found: missed(short(foundBy(s.r, "T-02"))), ids: []string{"T-02"}},
		{label: "Widest glass", need: s.first(m.Throughput.GlassWidth), note: s.second(m.Throughput.GlassWidth), found: missed(short(foundBy(s.r, "T-03"))), ids: []string{"T-03"}},
	}
}

// grains is the softener's capacity that its check asks for.
func (s *sheets) grains() string { return strings.TrimSuffix(short(s.want("W-24")), " grains") }

// dose is the sanitizer's concentration, as its check narrows it for the
// sanitizer that was chosen.
func (s *sheets) dose() string {
	if w := s.want("C-02"); w != "" {
		if low, high, ok := strings.Cut(short(w), " to "); ok {
			return span(low, high)
		}
		return short(w)
	}
	c := s.r.Machine.Chemicals
	return s.range1(c.Minimum, c.Maximum)
}

// glasses lists the kinds of glass and their stock.
func (s *sheets) glasses() {
	gs := s.r.Survey.Demand.Glasses
	if len(gs) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Glasses)
	u := s.r.Units
	t := page.Table{Columns: []page.Column{{Head: "Kind", Flex: 1.4}, {Head: "Height"}, {Head: "Diameter"}, {Head: "There are", Align: page.Right}}}
	for i, g := range gs {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			{Text: g.Name, Field: fmt.Sprintf("demand.glasses[%d]", i)}, page.T(show(g.Height, u)), page.T(show(g.Diameter, u)), page.B(g.Stock.String()),
		}})
	}
	s.Table(t)
}

func (s *sheets) supplying() []number {
	m, p := s.r.Machine, s.supply()
	crate := by(s.first(m.Space.CrateWidth), s.first(m.Space.CrateDepth), s.first(m.Space.CrateHeight))
	crateNote := by(s.second(m.Space.CrateWidth), s.second(m.Space.CrateDepth), s.second(m.Space.CrateHeight))
	ordered := s.read("machine.supply")
	if ordered == "" {
		ordered = "not said; the one that suits the site was taken"
	}
	return []number{
		{label: "Supply option to order", need: p.Name, note: join("; ", s.range1(p.VoltageMin, p.VoltageMax), with("plug {}", p.Plug)), found: ordered},
		{label: "Stand or plinth", need: in(s.r.Survey.Machine.RaisedBy, s.r.Units), note: "as planned"},
		{label: "Crate, width × depth × height", need: crate, note: join("; ", crateNote, yesNo(m.Space.MayTilt, "may be tilted", "must stay upright")),
			found: s.yes("space.unpacked_outside", "unpacked before it is carried in", "goes in crated")},
		{label: "Weight, crated", need: s.first(m.Space.CrateMass), note: join("; ", s.second(m.Space.CrateMass), with("empty machine {}", s.first(m.Space.Mass)))},
		{label: "Sanitizer to set up", need: strings.Join(strings.Fields(m.Chemicals.Sanitizers), " or "), found: missed(s.read("chemicals.sanitizer")), ids: []string{"C-01"}},
		{label: "Concentration in the final rinse", need: s.dose(), found: s.read("chemicals.concentration"), ids: []string{"C-02"}},
		{label: "Chemical tubes reach", need: s.first(m.Chemicals.TubeLength), note: join("; ", s.second(m.Chemicals.TubeLength), with("lift at most {}", s.first(m.Chemicals.LiftMax))),
			found: missed(join("; ", with("run {}", s.read("chemicals.tube_run")), with("lift {}", s.read("chemicals.lift")))), ids: []string{"C-03", "C-04"}},
	}
}

// bring is the list of what is ordered and brought with the machine.
func (s *sheets) bring() {
	if len(s.r.Machine.Extras) == 0 {
		return
	}
	s.Heading(2, s.w.Headings.Bring)
	var items []page.Check
	for _, e := range s.r.Machine.Extras {
		items = append(items, page.Check{Text: upperFirst(e.Name), Note: e.Why})
	}
	s.Checklist(items...)
}

// circuitNote says what the sheet allows beside the machine on its circuit.
func circuitNote(dedicated bool) string {
	if dedicated {
		return "as the requirement sheet asks"
	}
	return "or together no more than it carries"
}
