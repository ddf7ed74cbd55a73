package trade

import (
	"math"
	"testing"
)

// Source: an engineering reference table of heat loss from bare and insulated
// copper tube, copper_heat_loss.csv, in W/m; its Btu/h-ft column is the same
// loss rounded once more.
func TestPipeLoss(t *testing.T) {
	for _, row := range table(t, "copper_heat_loss.csv", 6) {
		n := row["nominal"]
		for _, c := range []string{"22", "38", "55"} {
			d := 1.8 * map[string]float64{"22": 22, "38": 38, "55": 55}[c]
			u := value[float64](t)(PipeLossBtuHFtF(n, false, d))
			rel(t, n+" bare", u*d*WPerBtuH/MPerFt, num(t, row, "bare_"+c), 1e-9)
		}
		if row["lagged_55"] == "" {
			continue
		}
		u := value[float64](t)(PipeLossBtuHFtF(n, true, 99))
		rel(t, n+" insulated", u*99*WPerBtuH/MPerFt, num(t, row, "lagged_55"), 1e-9)
	}
	// The table prints 60 W/m of bare 3/4 in and 8 W/m of insulated; 62.4 and
	// 8.3 Btu/h-ft.
	near(t, "bare 3/4", value[float64](t)(PipeLossBtuHFtF("3/4", false, 99)), 0.630, 0.0005)
	near(t, "insulated 3/4", value[float64](t)(PipeLossBtuHFtF("3/4", true, 99)), 0.084, 0.0005)
	same(t, "insulated 1/2 as 3/4", value[float64](t)(PipeLossBtuHFtF("1/2", true, 60)), value[float64](t)(PipeLossBtuHFtF("3/4", true, 60)))
	same(t, "insulated 1-1/4 as 1-1/2", value[float64](t)(PipeLossBtuHFtF("1-1/4", true, 60)), value[float64](t)(PipeLossBtuHFtF("1-1/2", true, 60)))
	same(t, "nearest column below", value[float64](t)(PipeLossBtuHFtF("1", false, 1)), value[float64](t)(PipeLossBtuHFtF("1", false, 22*1.8)))
	same(t, "nearest column above", value[float64](t)(PipeLossBtuHFtF("1", false, 150)), value[float64](t)(PipeLossBtuHFtF("1", false, 99)))
	for _, d := range []float64{0, -1, 150.1, math.NaN()} {
		_, err := PipeLossBtuHFtF("1", false, d)
		fails(t, "difference", err, ErrRange)
	}
	_, err := PipeLossBtuHFtF("5/8", false, 50)
	fails(t, "no such tube", err, ErrNotTabulated)
}

// Newton's law: the excess over the air halves in ln 2 of its time constant;
// derived.
func TestStandingWater(t *testing.T) {
	near(t, "example", StandingF(140, 70, 15, 0.630, GalPerFt(0.785)), 103, 0.1)
	half := math.Ln2 * GalPerFt(0.785) * SimpleLbGal / 0.630 * 60
	near(t, "half-time", StandingF(140, 70, half, 0.630, GalPerFt(0.785)), 105, 1e-9)
	near(t, "at once", StandingF(140, 70, 0, 0.630, 0.025), 140, 0)
	near(t, "for ever", StandingF(140, 70, 1e6, 0.630, 0.025), 70, 1e-9)
	isNaN(t, "negative time", StandingF(140, 70, -1, 0.630, 0.025))
	isNaN(t, "no loss", StandingF(140, 70, 1, 0, 0.025))
	bare := value[float64](t)(DeadLegF("3/4", false, 0.785, 140, 70, 15))
	lagged := value[float64](t)(DeadLegF("3/4", true, 0.785, 140, 70, 15))
	same(t, "insulation keeps it warm", lagged > bare && bare > 70 && lagged < 140, true)
	near(t, "colder than the air", value[float64](t)(DeadLegF("3/4", false, 0.785, 60, 70, 15)), 60, 0)
	_, err := DeadLegF("3/4", false, 0, 140, 70, 15)
	fails(t, "no bore", err, ErrRange)
	_, err = DeadLegF("9", false, 1, 140, 70, 15)
	fails(t, "no tube", err, ErrNotTabulated)
	for _, c := range [][5]float64{{0.5, 1, 80, 140, 110}, {1, 1, 80, 140, 80}, {2, 1, 80, 140, 80}, {0, 1, 80, 140, 140}} {
		near(t, "intake", CycleIntakeF(c[0], c[1], c[2], c[3]), c[4], 1e-12)
	}
	isNaN(t, "no intake", CycleIntakeF(1, 0, 80, 140))
}

// Sources: heat balance (derived) with the trade's 8.33 and 3412; UPC 608.3 as
// its publisher's training text prints it ("independent of the type of water
// heater used"), IPC 607.3 in a city's copy (a storage water heater).
func TestHeaters(t *testing.T) {
	near(t, "a tankless heater's gpm", RecoveryGasGPH(199000, 80, 0.82)/60, 4.08, 0.005)
	near(t, "rush", RushHours(80, UsableShare, 40, 75), 1.6, 1e-12)
	same(t, "keeps up", math.IsInf(RushHours(80, UsableShare, 40, 40), 1), true)
	isNaN(t, "negative", RushHours(-1, UsableShare, 40, 75))
	near(t, "first hour", RushGPH(50, UsableShare, 40, 1), FirstHourGal(50, UsableShare, 40), 1e-12)
	near(t, "four hours", RushGPH(80, UsableShare, 40, 4), 54, 1e-12)
	near(t, "the rush that it lasts", RushHours(80, UsableShare, 40, RushGPH(80, UsableShare, 40, 2.5)), 2.5, 1e-9)
	isNaN(t, "no hours", RushGPH(80, UsableShare, 40, 0))
	for _, c := range []struct {
		l     HeaterLimits
		want  float64
		bound HeaterBound
	}{
		{HeaterLimits{PlateF: 180, ValveF: 180, PipeF: 180}, 180, PlateBound},
		{HeaterLimits{PlateF: 190, ValveF: 180, PipeF: 212}, 180, ValveBound},
		{HeaterLimits{PlateF: 190, ValveF: math.NaN(), PipeF: 140}, 140, PipeBound},
		{HeaterLimits{PlateF: 190, CodeF: 130, PipeF: 140}, 130, CodeBound},
	} {
		f, b := c.l.Ceiling()
		near(t, "ceiling", f, c.want, 0)
		same(t, "bound", b, c.bound)
	}
	f, b := HeaterLimits{}.Ceiling()
	isNaN(t, "no limit", f)
	same(t, "no limit", b, NoHeaterBound)
	for f, want := range map[float64]bool{139.9: true, 140: false, 160: false} {
		same(t, "storage", StorageTooCool(f), want)
	}
	for f, want := range map[float64]bool{120: false, 120.1: true} {
		same(t, "hand sink", HandSinkTooHot(f), want)
	}
	same(t, "NaN", StorageTooCool(math.NaN()) || HandSinkTooHot(math.NaN()), false)
	for _, c := range []struct {
		code CodeFamily
		kind HeaterKind
		want bool
	}{{IPC, StorageHeater, true}, {IPC, TanklessHeater, false}, {UPC, StorageHeater, true}, {UPC, TanklessHeater, true}, {"other", TanklessHeater, false}, {"other", StorageHeater, true}, {UPC, 0, false}} {
		same(t, "expansion", NeedsExpansionControl(c.code, c.kind), c.want)
	}
}

// Sources: scope of ASSE 1017-2023 on a catalogue page (105 to 120 F, hot 125
// to 180, cold 35 to 80, 20 F above the set point); ASSE 1070 at 120 F or
// lower; a chart that compares the editions of 2004 and 2005 (1070 from 105 F,
// 1069 from 100 to 115 F).
func TestMixingValves(t *testing.T) {
	for _, c := range []struct {
		purpose MixingPurpose
		set     float64
		want    string // empty: refused
	}{
		{MixAtSource, 105, "ASSE 1017"}, {MixAtSource, 120, "ASSE 1017"}, {MixAtSource, 104.9, ""}, {MixAtSource, 120.1, ""}, {MixAtSource, 140, ""},
		{MixAtSink, 110, "ASSE 1070"}, {MixAtSink, 120, "ASSE 1070"}, {MixAtSink, 120.1, ""}, {MixAtSink, math.NaN(), ""},
		{MixForWashers, 100, "ASSE 1069"}, {MixForWashers, 115, "ASSE 1069"}, {MixForWashers, 115.1, ""}, {0, 110, ""},
	} {
		v, err := PickMixingValve(c.purpose, c.set)
		if c.want == "" {
			fails(t, "refused", err, ErrRange)
			continue
		}
		ok(t, c.want, err)
		same(t, "type", v.Standard, c.want)
	}
	v := value[MixingValve](t)(PickMixingValve(MixAtSource, 120))
	for _, c := range []struct {
		set, hot, cold float64
		want           bool
	}{
		{120, 140, 60, true}, {120, 139.9, 60, false}, {105, 125, 60, true}, {105, 124.9, 60, false}, {120, 180, 60, true}, {120, 180.1, 60, false},
		{120, 140, 80, true}, {120, 140, 80.1, false}, {120, 140, 34.9, false}, {120, math.NaN(), 60, false},
	} {
		same(t, "supplies suit", v.Suits(c.set, c.hot, c.cold) == nil, c.want)
	}
	same(t, "no scald protection", v.ScaldProtection, false)
	// Worked example of the drainage table: 19.1 gpm at 160 F with 60 F cold.
	near(t, "cold, published 4.8", value[float64](t)(TemperFlow(19.1, 160, 60, 140)), 4.775, 1e-9)
	near(t, "cool enough", value[float64](t)(TemperFlow(5, 130, 60, 140)), 0, 0)
	_, err := TemperFlow(5, 160, 140, 140)
	fails(t, "no colder", err, ErrCannot)
	_, err = TemperFlow(0, 160, 60, 140)
	fails(t, "no flow", err, ErrRange)
}
