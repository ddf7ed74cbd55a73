package rules

import (
	"math"

	"firstfill/specs/check"
	"firstfill/specs/trade"
	"firstfill/survey/quantity"
)

// Margins of checks that judge by other means than two quantities of a kind.

// spare gives an outcome its margin: how much there is to spare, or is short.
func spare(out Outcome, value float64, gap any) Outcome {
	out.Margin = Margin{Value: value, Gap: gap, Side: check.Say("margin.spare")}
	if value < 0 {
		out.Margin.Side = check.Say("margin.short")
	}
	return out
}

// sizeSpare is the margin of a nominal pipe size above the least.
func sizeSpare(out Outcome, have, least quantity.PipeSize) Outcome {
	in := have.Inches() - least.Inches()
	return spare(out, in, quantity.GapOf(inches(have.Inches()), inches(least.Inches())))
}

// wireSpare is the margin of a conductor's area above the least, as a share.
func wireSpare(out Outcome, have, least quantity.WireSize) Outcome {
	a, b := have.MM2(), least.MM2()
	if !have.Metric() {
		a, _ = trade.CircularMils(have.AWG())
		b, _ = trade.CircularMils(least.AWG())
	}
	if !(a > 0 && b > 0) {
		return out
	}
	return spare(out, a/b-1, check.Share(math.Abs(a/b-1)))
}

// phSpare is the margin of a pH from its limit.
func phSpare(out Outcome, more float64) Outcome {
	return spare(out, more, check.Figure{Value: math.Abs(more), Decimals: 2})
}

// above is a margin between two quantities of a kind.
func above[D quantity.Dimension](out Outcome, have, least quantity.Of[D]) Outcome {
	gap := quantity.GapOf(have, least)
	return spare(out, gap.Base(), gap)
}
