package trade

// Chemicals at the machine. Chlorine sanitizer gives off toxic gas with acids
// (delimer, phosphoric rinse aid) and with ammonia: EHSBleach.
// Local rules, the product's label and its safety data sheet govern.
const (
	// Peristaltic feed pumps. Source: ChemicalPractice (common practice, no
	// source).
	FeedLiftLowFt  = 4.0
	FeedLiftHighFt = 6.0
	FeedLineLowFt  = 6.0
	FeedLineHighFt = 10.0
	// Weight of a full 5 gal container. Source: ChemicalPractice.
	Pail5GalLowLb  = 45.0
	Pail5GalHighLb = 55.0
	// Eyewash. Source: EyewashZ358 (from memory).
	EyewashReachS  = 10.0
	EyewashReachFt = 55.0
	EyewashGPM     = 0.4
	EyewashMin     = 15.0
	EyewashLowF    = 60.0
	EyewashHighF   = 100.0
)

// A ChemicalKind is a product stored at or fed to the machine.
type ChemicalKind int

const (
	Detergent ChemicalKind = iota + 1
	ChlorineSanitizer
	OtherSanitizer
	AcidRinseAid
	Delimer
	AmmoniaCleaner
)

// MustSeparate reports whether two products must be kept and fed apart:
// chlorine from acids and from ammonia. Source: EHSBleach.
func MustSeparate(a, b ChemicalKind) bool {
	reacts := func(k ChemicalKind) bool { return k == AcidRinseAid || k == Delimer || k == AmmoniaCleaner }
	return a == ChlorineSanitizer && reacts(b) || b == ChlorineSanitizer && reacts(a)
}
