package trade

import "strings"

// A Mark says how well a figure is attested.
type Mark int

const (
	// ReadText: the figure was read in the code's or standard's own text.
	ReadText Mark = iota + 1
	// ReadCopy: the figure was read in a secondary text: a copy, an adoption,
	// a handbook, a trade article that repeats it.
	ReadCopy
	// FromMemory: the figure is believed to be in the document named and was
	// not seen again; check it against the adopted text.
	FromMemory
	// CommonPractice: a habit of the trade without a document behind it.
	CommonPractice
	// Derived: follows from geometry or a law of physics, with no figure that
	// a document could settle.
	Derived
)

// String returns the mark as it is printed in reports.
func (m Mark) String() string {
	switch m {
	case FromMemory:
		return "from memory"
	case CommonPractice:
		return "common practice, no source"
	case Derived:
		return "derived"
	case ReadText:
		return "read in its own text"
	case ReadCopy:
		return "read in a secondary text"
	}
	return "unmarked"
}

// A Source names where a figure comes from.
type Source struct {
	Document string // "NEC", "ASTM B88"
	Edition  string // "2023"; empty when no edition is meant
	Clause   string // "Table 310.16"
	Mark     Mark
}

// String prints the source with its mark, such as "NEC 2023 Table 310.16 (read
// in a secondary text)"; of a habit of the trade the Document and Clause say
// which habit. A source without a mark is cited as itself, such as a
// requirement sheet.
func (s Source) String() string {
	var parts []string
	for _, p := range []string{s.Document, s.Edition, s.Clause} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if s.Mark == 0 {
		return strings.Join(parts, " ")
	}
	return strings.Join(parts, " ") + " (" + s.Mark.String() + ")"
}

// Electrical sources. An edition is that of the numbering; figures that older
// editions share are the same there unless the table says otherwise.
var (
	NECTable8     = Source{"NEC", "2023", "Chapter 9 Table 8", ReadCopy}
	NECTable9     = Source{"NEC", "2008 to 2023", "Chapter 9 Table 9", ReadCopy}
	NEC310_16     = Source{"NEC", "2023", "Table 310.16", ReadCopy}
	NEC310Ambient = Source{"NEC", "2023", "Table 310.15(B)(1)(1)", ReadCopy}
	NEC310Bundle  = Source{"NEC", "2023", "Table 310.15(C)(1)", ReadCopy}
	NEC240_4D     = Source{"NEC", "2023", "240.4(D)", ReadCopy}
	NEC240_4DTiny = Source{"NEC", "2023", "240.4(D)(1) and (2)", FromMemory}
	NEC240_4B     = Source{"NEC", "2023", "240.4(B)", FromMemory}
	NEC240_6      = Source{"NEC", "2023", "240.6(A)", FromMemory}
	NEC210_20     = Source{"NEC", "2023", "210.19(A)(1) and 210.20(A)", ReadCopy}
	NEC100Rated   = Source{"NEC", "2023", "210.20(A) exception (assembly listed for 100 percent)", FromMemory}
	NEC210_21B1   = Source{"NEC", "2023", "210.21(B)(1)", FromMemory}
	NEC210_21B3   = Source{"NEC", "2023", "Table 210.21(B)(3)", FromMemory}
	NEC210_23     = Source{"NEC", "2023", "210.23", FromMemory}
	NEC110_14C    = Source{"NEC", "2023", "110.14(C)(1)", ReadCopy} // quoted in notes on the code
	NECDropNote   = Source{"NEC", "2023", "210.19 and 215.2 informational notes", ReadCopy}
	NEC422_10     = Source{"NEC", "2023", "422.10(A)", FromMemory}
	NEC422_11E    = Source{"NEC", "2020 to 2023", "422.11(E)", ReadCopy}
	NEC422_11F    = Source{"NEC", "2023", "422.11(F)(1)", FromMemory}
	NEC422_31     = Source{"NEC", "2023", "422.31 and 422.33", FromMemory}
	NEC250_122    = Source{"NEC", "2023", "Table 250.122", ReadCopy}
	NEC250_122B   = Source{"NEC", "2023", "250.122(B)", ReadCopy}
	NEC110_26     = Source{"NEC", "2023", "110.26(A)", ReadCopy}
	NEC110_26Cond = Source{"NEC", "2023", "Table 110.26(A)(1) conditions 2 and 3", ReadCopy}
	NECHighLeg    = Source{"NEC", "2023", "110.15, 408.3(E) and 240.85", FromMemory}
	HighLegVolts  = Source{"Building code forum", "", "240 V high-leg delta, leg to neutral", ReadCopy}
	NECGFCI2014   = Source{"NEC", "2014", "210.8(B) and 210.8(D)", ReadCopy}
	NECGFCI2017   = Source{"NEC", "2017", "210.8(B), 210.8(D) and 422.5(A)", ReadCopy}
	NECGFCI2020   = Source{"NEC", "2020", "210.8(B), 210.8(D) and 422.5(A)(7)", ReadCopy}
	NECGFCI2023   = Source{"NEC", "2023", "210.8(B) and 210.8(D)", ReadCopy}
	NEMAWD6       = Source{"NEMA", "", "WD 6", FromMemory}
	NEMAWD6Family = Source{"NEMA", "", "WD 6 (family: poles, wires, phases)", ReadCopy}
	IEC60309      = Source{"IEC", "", "60309-2", FromMemory}
	ANSIC84       = Source{"ANSI", "2011 and later", "C84.1 Table 1", FromMemory}
	IEC60038      = Source{"IEC", "", "60038", FromMemory}
	IECDropPublic = Source{"IEC", "", "60364-5-52 Table G.52.1 (public supply)", ReadCopy}
	IECDropOwn    = Source{"IEC", "", "60364-5-52 Table G.52.1 (private supply)", FromMemory}
	IECCables     = Source{"BS 7671", "2018", "Tables 4D1B and 4D2A", FromMemory}
	IECFlatCable  = Source{"BS 7671", "2018", "Table 4D5", ReadCopy}
	JouleLaw      = Source{"Ohm's and Joule's laws", "", "", Derived}
	MotorEstimate = Source{"Motor current at constant power", "", "", CommonPractice}
)

// Water sources.
var (
	ASTMB88        = Source{"ASTM B88", "", "Table 1, types K and L", ReadCopy}
	ASTMB88M       = Source{"ASTM B88", "", "Table 1, type M", FromMemory}
	ASTMF876       = Source{"ASTM F876", "", "CTS SDR-9", FromMemory}
	ASTMD1785      = Source{"ASTM D1785", "", "Schedule 40", FromMemory}
	ASTMD2846      = Source{"ASTM D2846", "", "CTS SDR-11", FromMemory}
	Schedule40     = Source{"ASME B36.10", "", "Schedule 40", FromMemory}
	HoseThread     = Source{"ASME B1.20.7", "", "3/4-11.5NH", FromMemory}
	HazenWilliams  = Source{"NFPA 13", "", "friction loss formula", ReadCopy}
	CValues        = Source{"NFPA 13", "", "C-value table", ReadCopy}
	CValuesMemory  = Source{"NFPA 13", "", "C-value table", FromMemory}
	Colebrook      = Source{"Colebrook", "1939", "friction factor", ReadCopy}
	Roughness      = Source{"Moody chart", "1944", "absolute roughness", FromMemory}
	IPCE103Solder  = Source{"IPC", "", "Appendix E Table E103.3(6)", FromMemory}
	IPCE103Thread  = Source{"IPC", "", "Appendix E Table E103.3(5)", FromMemory}
	CraneLD        = Source{"Crane", "", "TP-410 L/D, elbows and tees", ReadCopy}
	CraneLDMemory  = Source{"Crane", "", "TP-410 L/D and turbulent friction factor", FromMemory}
	PVCSlip        = Source{"Irrigation handbook table", "", "PVC slip fittings", ReadCopy}
	CopperVelocity = Source{"Copper Development Association", "", "velocity guidance", ReadCopy}
	IPCVelocity    = Source{"IPC", "", "Appendix E friction charts note", ReadCopy}
	IPCElevation   = Source{"IPC", "", "Appendix E E103.2.2", ReadCopy}
	NFPA291        = Source{"NFPA 291", "2010", "4.3.6 and flow extrapolation", ReadCopy}
	FlowTeamRule   = Source{"A flow test is not trusted beyond 1.5 times its flow", "", "", CommonPractice}
	IAPWSIF97      = Source{"IAPWS-IF97", "1997", "region 1, at 60 psig", ReadCopy}
	IPC604_8       = Source{"IPC", "", "604.8", ReadCopy}
	UPC608_2       = Source{"UPC", "", "608.2", FromMemory}
	IPC607_3       = Source{"IPC", "", "607.3", ReadCopy}
	UPC608_3       = Source{"UPC", "2018", "608.3", ReadCopy}
	IPC604_9       = Source{"IPC", "", "604.9", FromMemory}
	IPC409_2       = Source{"IPC", "", "409.2", ReadCopy}
	ASSE1004       = Source{"ASSE 1004", "2024", "scope", ReadCopy}
	IPC608_1       = Source{"IPC", "", "Table 608.1", FromMemory}
	ASSE1017       = Source{"ASSE 1017", "2023", "scope", ReadCopy}
	ASSE1070       = Source{"ASSE 1070", "", "set point of 120 F or lower", ReadCopy}
	PressureDiff   = Source{"Hot and cold inlet pressures within 20 percent of each other", "", "", CommonPractice}
	MixingBalance  = Source{"Heat balance of mixing", "", "", Derived}
	HeaterRecovery = Source{"Water heater reference guides", "", "recovery formula", ReadCopy}
	MainsDefault   = Source{"Coldest winter mains water 40, 50 or 60 F by region where it was not measured", "", "", CommonPractice}
	Legionella     = Source{"Water safety guidance", "", "storage and growth temperatures", ReadCopy}
	USGSHardness   = Source{"USGS", "", "hardness classes", ReadCopy}
	HardnessUnits  = Source{"Definition of the grain and the US gallon", "", "", Derived}
	SoftenerSizing = Source{"Softener sized on hardness plus 4 grains per mg/L of iron, regenerated at 75 to 85 percent", "", "", CommonPractice}
	UPC609_10      = Source{"UPC", "", "609.10", FromMemory}
	UPC603_2       = Source{"UPC", "", "Table 603.2", FromMemory}
	RegulatorCreep = Source{"A gauge above the setting of the regulator before it means a failed regulator, expansion, or a gauge read ahead of it", "", "", CommonPractice}
	ASSE1001       = Source{"ASSE 1001", "2008", "scope", ReadCopy}
	ASSE1056       = Source{"ASSE 1056", "2013", "scope", ReadCopy}
	ASSE1069       = Source{"ASSE 1069", "2005", "outlet range", ReadCopy}
	PVBHeight      = Source{"City and state cross-connection rules", "", "pressure vacuum breaker 12 in above the highest outlet downstream", ReadCopy}
	BackflowHabit  = Source{"Device without a published height placed to its listing", "", "", CommonPractice}
	PlasticHot     = Source{"Plastic pipe association", "", "PEX and CPVC rated 100 psi at 180 F for hot-water distribution", ReadCopy}
	ASTMF1807      = Source{"ASTM F1807", "2005", "scope, systems to 100 psi and 180 F", ReadCopy}
	InsertLength   = Source{"PEX installation manual", "", "equivalent feet of crimped brass insert fittings", ReadCopy}
	CopperLoss     = Source{"Engineering reference table", "", "heat loss of bare copper tube", ReadCopy}
	CopperLagged   = Source{"Engineering reference table", "", "heat loss of copper tube in 1 in of insulation", ReadCopy}
	NewtonCooling  = Source{"Newton's law of cooling", "", "", Derived}
	ASTMC149       = Source{"ASTM C149", "", "usual pass level for containers", FromMemory}
	GlassShock     = Source{"Bar glasses spared a sudden change of 72 F (40 C)", "", "", CommonPractice}
)

// Sanitising sources. Clauses carry the numbers of the 2022 model; the values
// were read in state adoptions of it (Delaware, Washington, South Dakota), not
// in the federal edition itself.
var (
	FoodCode4_203_13  = Source{"FDA Food Code", "2022", "4-203.13", FromMemory}
	FoodCode4_402     = Source{"FDA Food Code", "2022", "4-402.11 and 4-402.12", ReadCopy}
	FoodCode4_501_112 = Source{"FDA Food Code", "2022", "4-501.112", ReadCopy}
	FoodCode4_501_114 = Source{"FDA Food Code", "2022", "4-501.114", ReadCopy}
	FoodCodeChlorine  = Source{"FDA Food Code", "2022", "4-501.114 (concentration column)", ReadCopy} // as two states print it: 25, 50 and 100
	ChlorineGas       = Source{"Food safety guidance on chlorine solutions", "", "below pH 6 gas escapes and strength is lost", ReadCopy}
	CFR180_940        = Source{"40 CFR", "", "180.940", FromMemory}
	EHSBleach         = Source{"University EHS guidance", "", "bleach and acids", ReadText}
	EyewashZ358       = Source{"ANSI Z358.1", "2014", "", FromMemory}
	ChemicalPractice  = Source{"Feed pump lift of 4 to 6 ft, feed line of 6 to 10 ft, 5 gal container of 45 to 55 lb", "", "", CommonPractice}
)

// Drainage sources.
var (
	IPC704_1      = Source{"IPC", "", "Table 704.1", ReadCopy}
	UPC708        = Source{"UPC", "", "708", ReadCopy}
	NSPCAppK      = Source{"NSPC", "2009", "Appendix K", ReadText}
	IPC709_1      = Source{"IPC", "", "Table 709.1", FromMemory}
	UPCReceptor   = Source{"UPC-derived agency plumbing table", "", "fixture units and traps", ReadCopy}
	UPC703_2      = Source{"UPC", "", "Table 703.2", FromMemory}
	UPC703_2Note  = Source{"UPC", "", "Table 703.2 footnote", ReadCopy}
	IPC909_1      = Source{"IPC", "", "Table 909.1", ReadCopy}
	IPC909_2      = Source{"IPC", "", "909.2", ReadCopy}
	UPC1002_2     = Source{"UPC", "", "Table 1002.2", ReadCopy}
	IPC1002       = Source{"IPC", "", "1002.1 and 1002.4", ReadCopy}
	IPC802_4_3    = Source{"IPC", "2015", "802.4.3", ReadCopy} // quoted by a plumber, as 802.4 of an earlier edition
	UPC804_1      = Source{"UPC", "2018", "804.1", ReadCopy}
	IPC802_1      = Source{"IPC", "2018", "802.1", ReadCopy}
	IPC802_3      = Source{"IPC", "2018", "802.3", ReadCopy}
	UPC803_3      = Source{"UPC", "2019 (state edition)", "803.3", ReadCopy}
	AirGapRule    = Source{"IPC", "", "802.3.1 (twice the opening; a city copy adds the least of 1 in)", ReadCopy}
	IPC701_7      = Source{"IPC", "", "701.7", FromMemory}
	UPC810_1      = Source{"UPC", "", "810.1", ReadCopy}
	DWVPlastic    = Source{"ASTM D2665 and D2661", "", "service temperature", FromMemory}
	DWVMetal      = Source{"ASTM B306, A74 and A888", "", "service temperature", FromMemory}
	DWVCPVC       = Source{"CPVC drainage systems", "", "service temperature", FromMemory}
	ManningEq     = Source{"Manning", "", "uniform flow", ReadCopy}
	ManningN      = Source{"Engineering tables of n", "", "", ReadCopy}
	ManningNMem   = Source{"Engineering tables of n", "", "", FromMemory}
	BoreSch40     = Source{"ASTM D2665", "", "Schedule 40 bore", ReadCopy}
	BoreCopperDWV = Source{"ASTM B306", "", "bore", FromMemory}
	BoreNoHub     = Source{"CISPI 301", "", "bore", FromMemory}
	Torricelli    = Source{"Torricelli's law with a discharge coefficient", "", "", Derived}
	OrificeCd     = Source{"Hydraulics textbooks", "", "discharge coefficients", FromMemory}
	HoseSag       = Source{"Drain hose carried without sag or rise", "", "", CommonPractice}
	UPC801_1      = Source{"UPC", "", "801 (air gap of at least 1 in)", ReadCopy}
	UPC801_3_3    = Source{"UPC", "", "801.3.3", ReadCopy}
	IPC802_1_6    = Source{"IPC", "2018", "802.1.6", ReadCopy}
	IPCHubDrain   = Source{"IPC", "2018", "802.4.2", FromMemory}
	SiphonLaw     = Source{"Siphon", "", "open and lower end of a filled hose", Derived}
)

// Space, heat and capacity sources.
var (
	DoorPractice     = Source{"Two inches of hand room round a crate; a door clears 2 to 3 in less than its leaf", "", "", CommonPractice}
	ADARamp          = Source{"2010 ADA Standards", "2010", "405.2, running slope of a ramp at most 1:12", FromMemory}
	ADAThreshold     = Source{"2010 ADA Standards", "2010", "404.2.5 and 303, thresholds at most 1/2 in", FromMemory}
	WheelPractice    = Source{"What a wheelchair passes a loaded hand truck passes; beyond it a plate, a winch or more hands", "", "", CommonPractice}
	FlooringPractice = Source{"Heights are taken from the finished floor, and again after flooring", "", "", CommonPractice}
	BarHeights       = Source{"Usual heights of bar tops and work tops, and clearances behind a bar", "", "", CommonPractice}
	ASCE7            = Source{"ASCE 7", "", "Table 4.3-1", FromMemory}
	LadderProblem    = Source{"Calculus textbooks", "", "longest ladder round a corner", ReadCopy}
	Geometry         = Source{"Plane geometry", "", "", Derived}
	ASHRAEHeatGain   = Source{"ASHRAE Fundamentals", "2009 to 2017", "chapter 18, warewashing heat gain", FromMemory}
	RackPractice     = Source{"Racks of 20 in planned at 70 percent of their printed rate; 1 to 3 drinks per seat and hour", "", "", CommonPractice}
	ParStock         = Source{"Trade articles", "", "glasses per seat", ReadCopy}
	NIOSHLifting     = Source{"NIOSH revised lifting equation", "1991", "load constant", ReadCopy}
	HSELifting       = Source{"HSE manual handling guidance", "", "guideline figures and team handling", ReadCopy}
	ASMEA17_1        = Source{"ASME A17.1", "", "definition of a freight elevator", ReadCopy}
	HeatUpBalance    = Source{"Heat balance of a heated tank", "", "", Derived}
	ExpansionLaw     = Source{"Conservation of mass", "", "", Derived}
)
