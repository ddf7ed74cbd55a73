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
