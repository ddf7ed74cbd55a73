package trade

// Chemicals at the machine. Chlorine sanitizer gives off toxic gas with acids
// (delimer, phosphoric rinse aid) and with ammonia: EHSBleach.
// Local rules, the product's label and its safety data sheet govern.
//
// A peristaltic feed pump lifts and draws up to so many feet. Source:
// ChemicalPractice (common practice, no source).
const (
	FeedLiftHighFt = 6.0
	FeedLineHighFt = 10.0
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
