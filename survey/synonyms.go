package survey

import (
	"slices"
	"strings"
)

type synonym struct{ choice, at, words, or string }

// counts says whether the words count for a question with these answers.
func (s synonym) counts(choices []string, path string) bool {
	return slices.Contains(choices, s.choice) &&
		(s.at == "" || slices.ContainsFunc(strings.Fields(s.at), func(at string) bool { return strings.HasSuffix("."+path, "."+at) }))
}

// synonyms are the trade's other words for the answers of closed lists. A word
// of a choice counts for every question that offers it, or, where at names
// some (the ends of their paths), for those. Where or is given the words may
// mean those answers too: the first is taken and the checks are run with the
// others as well. Letter case, blanks and dashes don't matter. The words are
// common practice, no source; standards by number are named as the checks name
// them.
var synonyms = []synonym{
	{choice: "none", words: "no, nothing, nil, not any, there is none"},
	{choice: "copper", at: "conductor_material ground_material", words: "cu, copper wire"},
	{choice: "copper", at: "devices_take", words: "cu, cu only, copper only, copper wire only"},
	{choice: "aluminium", at: "conductor_material ground_material", words: "aluminum, al, alum, aluminium alloy, aluminum alloy"},

	{choice: "nec-2014", words: "2014, 2014 NEC, NFPA 70 2014, NEC 14"},
	{choice: "nec-2017", words: "2017, 2017 NEC, NFPA 70 2017, NEC 17"},
	{choice: "nec-2020", words: "2020, 2020 NEC, NFPA 70 2020, NEC 20"},
	{choice: "nec-2023", words: "2023, 2023 NEC, NFPA 70 2023, NEC 23"},
	{choice: "nec-2026", words: "2026, 2026 NEC, NFPA 70 2026, NEC 26"},
	{choice: "iec-60364", words: "IEC, HD 60364"},
	{choice: "bs-7671", words: "BS7671, 18th edition, IET wiring regulations, wiring regulations"},
	{choice: "ipc", words: "international plumbing code, IPC 2012, IPC 2015, IPC 2018, IPC 2021, IPC 2024, 2012 IPC, 2015 IPC, 2018 IPC, 2021 IPC, 2024 IPC"},
	{choice: "upc", words: "uniform plumbing code, UPC 2012, UPC 2015, UPC 2018, UPC 2021, UPC 2024, 2012 UPC, 2015 UPC, 2018 UPC, 2021 UPC, 2024 UPC"},

	{choice: "208Y/120", words: "120/208, 208/120, 208Y120, 120/208Y, 208 wye, 208/120 wye, 120/208 wye, 208Y/120 V, 120/208 V, 208/120 V, 208 V wye"},
	{choice: "120/240", at: "power.system", words: "240/120, 120/240 V, 240/120 V, split phase, single-phase 120/240, 120/240 single phase, 120/240 1-phase"},
	{choice: "240-delta", words: "240 V delta, delta 240"},
	{choice: "high-leg-delta", words: "high leg, wild leg, stinger leg, wild-leg delta, 120/240 delta, 240/120 delta, 120/240 high leg, 120/240 3-phase delta"},
	{choice: "480Y/277", at: "power.system", words: "277/480, 480/277, 480 wye, 480Y277, 480Y/277 V, 277/480 V, 480/277 V"},
	{choice: "400Y/230", words: "230/400, 400/230, 400Y/230 V, 230/400 V, 400/230 V, 400 wye"},
	{choice: "230", words: "230 V"},

	{choice: "120", at: "breaker_voltage", words: "120 V"},
	{choice: "120/240", at: "breaker_voltage", words: "120/240 V, slash, slash rated"},
	{choice: "240", at: "breaker_voltage", words: "240 V, straight, straight 240"},
	{choice: "277", words: "277 V"},
	{choice: "347", words: "347 V"},
	{choice: "480Y/277", at: "breaker_voltage", words: "480Y/277 V, 480/277, 277/480"},
	{choice: "480", words: "480 V"},
	{choice: "600Y/347", words: "600Y/347 V, 600/347, 347/600"},
	{choice: "600", words: "600 V"},

	{choice: "60", at: "power.insulation power.terminals power.wet_insulation", words: "60 C, 60 °C, 60 deg C"},
	{choice: "70", words: "70 C, 70 °C, 70 deg C, PVC cable"},
	{choice: "75", words: "75 C, 75 °C, 75 deg C"},
	{choice: "90", words: "90 C, 90 °C, 90 deg C"},
	{choice: "60", at: "power.insulation", words: "TW, UF, UF-B, NM, NM-B, NM cable, NM-B cable"},
	{choice: "75", at: "power.insulation", words: "THW, THWN, RHW, USE"},
	{choice: "90", at: "power.insulation", words: "THHN, XHHW, XHHW-2, THWN-2, THW-2, RHH, RHW-2, USE-2, THHN/THWN, THHN/THWN-2, THHN THWN-2"},
	{choice: "none", at: "power.wet_insulation", words: "THHN, NM, NM-B, NM cable, dry only"},
	{choice: "60", at: "power.wet_insulation", words: "TW"},
	{choice: "75", at: "power.wet_insulation", words: "THWN, THW, XHHW, RHW, USE, THHN/THWN"},
	{choice: "90", at: "power.wet_insulation", words: "THWN-2, THW-2, XHHW-2, RHW-2, USE-2, THHN/THWN-2, THHN THWN-2"},
	{choice: "copper-aluminium", words: "CO/ALR, AL-CU, AL/CU, CU-AL, CU/AL, AL9CU, AL7CU, copper-aluminum, copper or aluminum, copper and aluminum, both"},

	{choice: "conduit", at: "ground_material", words: "EMT, IMC, RMC, rigid, metal conduit, steel conduit, raceway, metal raceway, the conduit, conduit itself"},
	{choice: "pvc", at: "power.conduit", words: "PVC conduit, RNC, plastic conduit, schedule 40 PVC, schedule 80 PVC, sch 40, sch 80, sch 40 PVC, sch 80 PVC"},
	{choice: "steel", at: "power.conduit", words: "EMT, IMC, RMC, GRC, RGS, rigid, rigid steel, steel conduit, steel EMT, galvanized, galvanised, galvanized steel, galvanized conduit, thinwall"},
	{choice: "aluminium", at: "power.conduit", words: "aluminum, aluminum conduit, aluminum EMT, aluminum rigid, rigid aluminum, al"},
	{choice: "steel", at: "power.conduit", words: "metal, metal conduit, metallic conduit", or: "aluminium"},
	{choice: "flexible", words: "FMC, flex, flexible conduit, flexible metal conduit, flex conduit"},
	{choice: "liquidtight", words: "LFMC, liquid-tight, liquidtight flexible metal conduit, liquidtight flex"},
	{choice: "nm-cable", words: "NM, NM-B, NMB, NMC, nonmetallic sheathed cable, non-metallic cable"},
	{choice: "dry", words: "indoors, dry location, no"},
	{choice: "damp", words: "damp location"},
	{choice: "wet", words: "outdoors, outside, underground, wet location, in earth"},

	{choice: "breaker", words: "GFCI breaker, GFI breaker, GFCI circuit breaker, breaker GFCI, class A breaker"},
	{choice: "receptacle", words: "GFCI receptacle, GFI receptacle, GFCI outlet, GFI outlet, receptacle GFCI, outlet"},
	{choice: "receptacle", words: "GFCI, GFI, GFCI protected", or: "breaker"},
	{choice: "rcd-30ma", words: "30 mA RCD, RCD 30, 30 mA, RCBO 30 mA, 30 mA RCBO, RCCB 30 mA, 30 mA RCCB"},
	{choice: "rcd-other", words: "other RCD, RCD 100 mA, 100 mA RCD, RCD 300 mA, 300 mA RCD, 100 mA, 300 mA, 500 mA"},
	{choice: "rcd-30ma", words: "RCD, RCBO, RCCB", or: "rcd-other"},
	{choice: "plug", words: "cord and plug, cord-and-plug, plug and cord, plug and receptacle, receptacle, attachment plug"},
	{choice: "switch-in-sight", words: "disconnect switch in sight, safety switch in sight, switch within sight, isolator in sight, fused switch in sight"},
	{choice: "lockable-breaker", words: "breaker with lock, lock-off breaker, breaker lockable, breaker that locks, breaker lockout, lockable circuit breaker"},
	{choice: "breaker-in-sight", words: "breaker within sight, breaker visible, panel in sight"},
	{choice: "AC", words: "type AC"}, {choice: "A", words: "type A"}, {choice: "F", words: "type F"}, {choice: "B", at: "rcd_type", words: "type B"},
	{choice: "B", at: "breaker_curve", words: "type B, curve B, B curve"},
	{choice: "C", words: "type C, curve C, C curve"}, {choice: "D", words: "type D, curve D, D curve"},
	{choice: "TN-C-S", words: "PME"},
	{choice: "fits", words: "yes, ok, it fits, has room, room, passes"},
	{choice: "exceeds", words: "no, exceeded, over, too much, no room, doesn't fit, does not fit, overloaded"},
	{choice: "clear", words: "nothing, open, open space, free, none"},
	{choice: "grounded", words: "brick, concrete, tile, block, block wall, brick wall, concrete wall, grounded wall, masonry, metal, earthed"},
	{choice: "live", words: "panel, another panel, live parts, exposed live parts, open panel, switchgear"},

	{choice: "copper-K", words: "type K, type K copper, K copper, copper type K"},
	{choice: "copper-L", words: "type L, type L copper, L copper, copper type L"},
	{choice: "copper-M", words: "type M, type M copper, M copper, copper type M"},
	{choice: "copper-L", words: "copper, cu, copper pipe, copper tube, copper tubing", or: "copper-K copper-M"},
	{choice: "pex", words: "PEX-A, PEX-B, PEX-C, PEX tube, PEX tubing, PEX pipe, crosslinked polyethylene"},
	{choice: "cpvc", words: "CPVC pipe, chlorinated PVC"},
	{choice: "pvc", at: "pipe_material receptor_outlet_material", words: "PVC pipe, schedule 40 PVC, sch 40 PVC, PVC sch 40, PVC schedule 40, PVC DWV"},
	{choice: "abs", words: "ABS pipe, ABS DWV"},
	{choice: "galvanised", words: "galvanized, galv, galvanized steel, galvanised steel, galv steel, galvanized iron, galvanised iron, galvanized pipe, GI"},
	{choice: "copper", at: "drain.pipe_material receptor_outlet_material", words: "cu, copper DWV, DWV copper, copper pipe, copper tube"},
	{choice: "cast-iron", words: "CI, no-hub, hubless, cast iron no-hub, no-hub cast iron, iron"},
	{choice: "stainless", words: "SS, stainless steel"},
	{choice: "insert", words: "crimp, crimped, clamp, clamped, crimp rings, insert fittings"},
	{choice: "full-bore", words: "expansion, expanded, expander, cold expansion, expansion fittings"},
	{choice: "before-regulator", words: "before, ahead, upstream, ahead of it, upstream of it, before it"},
	{choice: "behind-regulator", words: "behind, after, downstream, downstream of it, after it, behind it, after regulator, after the regulator"},

	{choice: "air-gap", words: "AG, air gap device, fixed air gap"},
	{choice: "atmospheric-vacuum-breaker", words: "AVB, atmospheric, ASSE 1001"},
	{choice: "hose-vacuum-breaker", words: "HBVB, HVB, hose bibb vacuum breaker, hose bib vacuum breaker, hose connection vacuum breaker, ASSE 1011"},
	{choice: "pressure-vacuum-breaker", words: "PVB, PVBA, ASSE 1020"},
	{choice: "spill-resistant-vacuum-breaker", words: "SVB, SRVB, SPVB, spill resistant, spill-resistant pressure vacuum breaker, ASSE 1056"},
	{choice: "reduced-pressure", words: "RPZ, RP, RPA, RPBA, RPZA, RPP, reduced pressure zone, reduced pressure zone assembly, reduced pressure principle, reduced-pressure assembly, RPZ valve, ASSE 1013"},
	{choice: "double-check", words: "DC, DCV, DCVA, DCA, double check valve, double check assembly, double check valve assembly, ASSE 1015"},
	{choice: "dual-check", words: "DuC, dual check valve, ASSE 1024"},
	{choice: "intermediate-vent", words: "dual check with intermediate vent, dual check with atmospheric vent, double check with intermediate vent, double check with atmospheric vent, vented dual check, ASSE 1012"},
	{choice: "check-valve", words: "check, swing check, check valve only, non-return valve"},
	{choice: "3/4 GHT", words: "GHT, garden hose, garden hose thread, 3/4 garden hose, 3/4 garden hose thread, 3/4 hose, 3/4 hose thread, 3/4 male GHT, hose thread, hose bibb, hose bib, 3/4 hose bibb, 3/4 MHT"},
	{choice: "1/2 NPT", words: "1/2 MNPT, 1/2 FNPT, 1/2 MIP, 1/2 FIP, 1/2 IPS, NPT 1/2, 1/2 male NPT, 1/2 female NPT"},
	{choice: "3/4 NPT", words: "3/4 MNPT, 3/4 FNPT, 3/4 MIP, 3/4 FIP, 3/4 IPS, NPT 3/4, 3/4 male NPT, 3/4 female NPT"},
	{choice: "1/2 BSP", words: "1/2 BSPP, 1/2 BSPT, BSP 1/2, G 1/2, R 1/2"},
	{choice: "3/4 BSP", words: "3/4 BSPP, 3/4 BSPT, BSP 3/4, G 3/4, R 3/4"},
	{choice: "3/8 compression", words: "3/8 comp, 3/8 OD, 3/8 OD compression, 3/8 OD comp, compression 3/8"},
	{choice: "1/2 compression", words: "1/2 comp, 1/2 OD, 1/2 OD compression, 1/2 OD comp, compression 1/2"},

	{choice: "electric", words: "electrical, elec, electric tank, electric storage, electric resistance"},
	{choice: "gas", words: "natural gas, NG, propane, LP, LPG, LP gas, gas tank, gas storage, gas-fired"},
	{choice: "heat-pump", words: "HPWH, heat pump water heater, hybrid, heat pump hybrid"},
	{choice: "instantaneous", words: "tankless, on demand, on-demand, demand, instant, tankless gas, gas tankless, tankless electric, electric tankless, tankless water heater, continuous flow"},
	{choice: "district", words: "district heat, district heating, heat network"},
	{choice: "floor-sink", words: "FS, floor sink with grate"},
	{choice: "floor-drain", words: "FD, area drain"},
	{choice: "hub", words: "hub drain, hub receptor"},
	{choice: "standpipe", words: "stand pipe, laundry standpipe"},
	{choice: "trapped-sink", words: "sink with trap, sink with a trap"},
	{choice: "air-gap", at: "drain.connection", words: "indirect by air gap, indirect with air gap, gap"},
	{choice: "air-break", words: "indirect by air break, indirect with air break, break"},
	{choice: "direct", words: "hard piped, hard-piped, direct connection, directly connected, hard connected"},
	{choice: "thermostatic", words: "thermostatic valve, thermostat, thermostatic tempering valve"},
	{choice: "solenoid", words: "solenoid valve, timed solenoid"},
	{choice: "hand", words: "manual, by hand, hand valve, manual valve"},
	{choice: "door", words: "doorway, opening, gate, door opening"},
	{choice: "turn", words: "corner, bend, 90 turn, 90° turn"},
	{choice: "stair", words: "stairs, staircase, stairway, steps"},
	{choice: "threshold", words: "sill, door sill, saddle, curb, kerb, single step"},
	{choice: "ramp", words: "slope, wheelchair ramp, dock ramp, loading ramp"},
	{choice: "lift", words: "elevator, freight elevator, passenger elevator, service elevator, goods lift"},
	{choice: "chlorine", words: "bleach, sodium hypochlorite, hypochlorite, Cl, Cl2"},
	{choice: "iodine", words: "iodophor"},
	{choice: "quat", words: "quats, QAC, quaternary, quaternary ammonium, quaternary ammonia"},
	{choice: "none", at: "chemicals.sanitizer", words: "hot water, heat, thermal, high temp, high temperature"},
}
