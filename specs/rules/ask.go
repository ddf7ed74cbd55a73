package rules

import (
	"firstfill/specs/check"
	"firstfill/survey"
	"firstfill/survey/quantity"
)

// ask names the answers of the questionnaire.
var ask = survey.Ask

// The engine's types and words, without its name before each.
type (
	Case    = check.Case
	Check   = check.Check
	Outcome = check.Outcome
	Remedy  = check.Remedy
	Step    = check.Step
	Example = check.Example
	Margin  = check.Margin
)

const (
	Fix     = check.Fix
	Missing = check.Missing
	Confirm = check.Confirm
	OK      = check.OK
	NA      = check.NA

	Electrician = check.Electrician
	Plumber     = check.Plumber
	Builder     = check.Builder
	Owner       = check.Owner
	Supplier    = check.Supplier

	BeforeOrder    = check.BeforeOrder
	RoughIn        = check.RoughIn
	BeforeDelivery = check.BeforeDelivery
	BeforeStart    = check.BeforeStart
)

// volts is the site's voltage at the chosen supply option, and its answer.
func volts(c *Case) (quantity.Voltage, survey.Ref) {
	v := c.Volts()
	return v.Of(c), v
}

// entry is one line of a calculation: a symbol, what it means, its value.
func entry(symbol string, meaning, value any) Step {
	return Step{Symbol: symbol, Meaning: meaning, Value: value}
}
