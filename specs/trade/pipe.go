package trade

import (
	"fmt"
	"math"
	"sync"
)

// A Material is a supply pipe or tube of one dimension standard.
type Material string

const (
	CopperK Material = "copper K"
	CopperL Material = "copper L"
	CopperM Material = "copper M"
	PEX     Material = "PEX"      // CTS SDR-9
	PVC40   Material = "PVC 40"   // Schedule 40, cold water only
	CPVC    Material = "CPVC"     // CTS SDR-11
	Steel40 Material = "steel 40" // galvanised Schedule 40
)

// Materials returns every supply material.
func Materials() []Material {
	return []Material{CopperK, CopperL, CopperM, PEX, PVC40, CPVC, Steel40}
}

// A Tube is one nominal size of one material, inches.
type Tube struct {
	Material Material
	Nominal  string
	OD, Wall float64
	ID       float64 // the bore to use for friction and volume
	MaxID    float64 // OD less twice the minimum wall; differs from ID for PEX
	Source   Source
}

// copperRows: outside diameter and wall by type; zero wall means no such tube.
// Source: ASTMB88 (K and L read in a copy), ASTMB88M (from memory).
var copperRows = []struct {
	nominal string
	od      float64
	k, l, m float64
}{
	{"1/4", 0.375, 0.035, 0.030, 0},
	{"3/8", 0.500, 0.049, 0.035, 0.025},
	{"1/2", 0.625, 0.049, 0.040, 0.028},
	{"5/8", 0.750, 0.049, 0.042, 0},
	{"3/4", 0.875, 0.065, 0.045, 0.032},
	{"1", 1.125, 0.065, 0.050, 0.035},
	{"1-1/4", 1.375, 0.065, 0.055, 0.042},
	{"1-1/2", 1.625, 0.072, 0.060, 0.049},
	{"2", 2.125, 0.083, 0.070, 0.058},
}

// pexRows: minimum wall and the mean bore at mid tolerance. Source: ASTMF876
// (from memory). 3/8 is not true SDR-9: its wall is held at 0.070.
var pexRows = []struct {
	nominal          string
	od, wall, meanID float64
}{
	{"3/8", 0.500, 0.070, 0.350},
	{"1/2", 0.625, 0.070, 0.475},
	{"5/8", 0.750, 0.083, 0.574},
	{"3/4", 0.875, 0.097, 0.671},
	{"1", 1.125, 0.125, 0.862},
}

// ipsRows: iron pipe size Schedule 40, plastic and steel. Source: ASTMD1785
// and Schedule40 (from memory).
var ipsRows = []struct {
	nominal  string
	od, wall float64
}{
	{"3/8", 0.675, 0.091}, {"1/2", 0.840, 0.109}, {"3/4", 1.050, 0.113}, {"1", 1.315, 0.133},
	{"1-1/4", 1.660, 0.140}, {"1-1/2", 1.900, 0.145}, {"2", 2.375, 0.154},
}

// cpvcRows: CTS SDR-11, minimum wall. Source: ASTMD2846 (from memory).
var cpvcRows = []struct {
	nominal  string
	od, wall float64
}{
	{"1/2", 0.625, 0.068}, {"3/4", 0.875, 0.080}, {"1", 1.125, 0.102},
	{"1-1/4", 1.375, 0.125}, {"1-1/2", 1.625, 0.148}, {"2", 2.125, 0.193},
}

// tubes are the sizes of each material, smallest first, worked out once.
var tubes = sync.OnceValue(func() map[Material][]Tube {
	all := map[Material][]Tube{}
	for _, m := range []Material{CopperK, CopperL, CopperM, PEX, CPVC, PVC40, Steel40} {
		all[m] = tubesOf(m)
	}
	return all
})

func tubesOf(material Material) []Tube {
	var ts []Tube
	add := func(nominal string, od, wall, id float64, src Source) {
		max := od - 2*wall
		if id == 0 {
			id = max
		}
		ts = append(ts, Tube{material, nominal, od, wall, id, max, src})
	}
	switch material {
	case CopperK, CopperL, CopperM:
		for _, r := range copperRows {
			wall, src := r.k, ASTMB88
			switch material {
			case CopperL:
				wall = r.l
			case CopperM:
				wall, src = r.m, ASTMB88M
			}
			if wall > 0 {
				add(r.nominal, r.od, wall, 0, src)
			}
		}
	case PEX:
		for _, r := range pexRows {
			add(r.nominal, r.od, r.wall, r.meanID, ASTMF876)
		}
	case PVC40, Steel40:
		src := ASTMD1785
		if material == Steel40 {
			src = Schedule40
		}
		for _, r := range ipsRows {
			add(r.nominal, r.od, r.wall, 0, src)
		}
	case CPVC:
		for _, r := range cpvcRows {
			add(r.nominal, r.od, r.wall, 0, ASTMD2846)
		}
	}
	return ts
}

// FindTube returns the tube of a material and nominal size. Example: copper L,
// "1/2": bore 0.545 in. The bore of plastics is that of the minimum wall,
// except PEX, which has its mean bore; average bores of the others run about
// 0.020 in smaller, and insert fittings are narrower than any of them.
func FindTube(material Material, nominal string) (Tube, error) {
	ts := tubes()[material]
	if len(ts) == 0 {
		return Tube{}, noRow("supply materials", string(material))
	}
	for _, t := range ts {
		if t.Nominal == nominal {
			return t, nil
		}
	}
	return Tube{}, noRow(string(material), nominal)
}

// CValue returns the Hazen-Williams coefficient of clean pipe, and a lower one
// for conservative work. Sources: CValues (copper, plastic and wet galvanised
// read in a copy), the lower values CValuesMemory. Example: copper is 150 and 140.
func CValue(material Material) (clean, conservative float64, src Source, err error) {
	switch material {
	case CopperK, CopperL, CopperM:
		return 150, 140, CValues, nil
	case PVC40, CPVC:
		return 150, 140, CValues, nil
	case PEX:
		return 150, 140, CValuesMemory, nil
	case Steel40:
		return 120, 100, CValues, nil
	}
	return 0, 0, Source{}, noRow("Hazen-Williams coefficients", string(material))
}

// RoughnessMM returns the absolute roughness of new pipe in mm: 0.0015 for
// drawn and extruded tube, 0.007 for PEX (the upper end of 0.0015 to 0.007),
// 0.15 for galvanised steel. Source: Roughness (from memory).
func RoughnessMM(material Material) (float64, error) {
	switch material {
	case CopperK, CopperL, CopperM, PVC40, CPVC:
		return 0.0015, nil
	case PEX:
		return 0.007, nil
	case Steel40:
		return 0.15, nil
	}
	return 0, noRow("roughness", string(material))
}

// A TempLimit is the highest water temperature of a pipe.
type TempLimit struct {
	MaxF   float64
	Note   string
	Source Source
}

// SupplyTempLimit returns the highest temperature of pressure pipe. Sources:
// PlasticHot for PEX and CPVC (read in a secondary text), ASTMD1785 for PVC and
// DWVMetal for metals (from memory).
func SupplyTempLimit(material Material) (TempLimit, error) {
	switch material {
	case CopperK, CopperL, CopperM, Steel40:
		return TempLimit{212, "metal pipe; check gaskets and jointing", DWVMetal}, nil
	case PEX:
		return TempLimit{180, "at 100 psi; check the tube's own marking", PlasticHot}, nil
	case CPVC:
		return TempLimit{180, "at 100 psi", PlasticHot}, nil
	case PVC40:
		return TempLimit{140, "not accepted for hot-water distribution", ASTMD1785}, nil
	}
	return TempLimit{}, noRow("supply temperature limits", string(material))
}

// HotWaterAllowed reports whether a material is accepted for hot-water
// distribution at all. Source: ASTMD1785 (from memory): PVC is not.
func HotWaterAllowed(material Material) (bool, error) {
	for _, m := range Materials() {
		if m == material {
			return material != PVC40, nil
		}
	}
	return false, noRow("supply materials", string(material))
}

// A Velocity is a velocity limit in ft/s: Low is the cautious end of the
// guidance, High the upper end.
type Velocity struct {
	Low, High float64
	Source    Source
}

// VelocityLimit returns the guidance for a material carrying cold water, or
// hot water of tempF.
//
//	copper: cold 8; hot to 140 F 5; routinely above 140 F 2 to 3
//	others: 5 to 8
//
// Sources: CopperVelocity and IPCVelocity. Example: copper, hot,
// 180 F: 2 to 3 ft/s.
func VelocityLimit(material Material, hot bool, tempF float64) (Velocity, error) {
	switch material {
	case CopperK, CopperL, CopperM:
		switch {
		case !hot:
			return Velocity{8, 8, CopperVelocity}, nil
		case !(tempF > 32 && tempF <= 212):
			return Velocity{}, rangeError("hot-water temperature", tempF, "32 to 212 F")
		case tempF <= 140:
			return Velocity{5, 5, CopperVelocity}, nil
		}
		return Velocity{2, 3, CopperVelocity}, nil
	case PEX, PVC40, CPVC, Steel40:
		return Velocity{5, 8, IPCVelocity}, nil
	}
	return Velocity{}, noRow("velocity limits", string(material))
}

// FlowAtVelocityGPM returns the flow at which a bore reaches a velocity.
//
//	Q = v d^2 / 0.4085
//
// gpm, ft/s, in; NaN unless both are positive. Source: definition of the
// units. Example: 8 ft/s in 0.545 in: 5.82 gpm.
func FlowAtVelocityGPM(velocityFPS, idIn float64) float64 {
	if !positive(velocityFPS, idIn) {
		return math.NaN()
	}
	return velocityFPS * idIn * idIn / velocityFactor
}

// GalPerFt returns the volume of a foot of bore.
//
//	V = pi/4 d^2 x 12 / 231
//
// US gallon, in; NaN unless positive. Source: Geometry. Example: 0.785 in
// holds 0.02514 gal/ft.
func GalPerFt(idIn float64) float64 {
	if !positive(idIn) {
		return math.NaN()
	}
	return math.Pi / 4 * idIn * idIn * InPerFt / In3PerGal
}

// A Drainpipe is a material of drain, waste and vent pipe.
type Drainpipe string

const (
	PVCDWV    Drainpipe = "PVC DWV"
	ABSDWV    Drainpipe = "ABS DWV"
	CPVCDrain Drainpipe = "CPVC drain"
	CopperDWV Drainpipe = "copper DWV"
	CastIron  Drainpipe = "cast iron"
)

// DrainTempLimit returns the highest service temperature of a drain material.
// Sources: DWVPlastic, DWVCPVC, DWVMetal (all from memory). Example: PVC and
// ABS 140 F.
func DrainTempLimit(material Drainpipe) (TempLimit, error) {
	switch material {
	case PVCDWV, ABSDWV:
		return TempLimit{140, "maximum service temperature", DWVPlastic}, nil
	case CPVCDrain:
		return TempLimit{180, "special-waste systems to about 210 F for short times", DWVCPVC}, nil
	case CopperDWV, CastIron:
		return TempLimit{212, "check the gaskets", DWVMetal}, nil
	}
	return TempLimit{}, noRow("drain temperature limits", string(material))
}

// String names a tube for messages.
func (t Tube) String() string { return fmt.Sprintf("%s %s in", t.Material, t.Nominal) }
