package rules

import (
	"fmt"
	"math"
	"strings"

	"firstfill/survey/quantity"
)

// percent prints a share with one decimal.
func percent(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	return fmt.Sprintf("%.1f %%", 100*x)
}

// number prints a plain number with the given decimals, without trailing zeros.
func number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// show prints a quantity in the case's units.
func show[D quantity.Dimension](c *Case, q quantity.Of[D]) string { return q.Show(c.Units) }
