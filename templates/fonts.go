package templates

import (
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
)

// FontRegular returns the TrueType data of the body face, DejaVu Sans
// Condensed. It was chosen because it holds every sign the sheets print
// (fractions, degree, comparison signs, arrows, ticks) and is narrow enough
// for tables. All documents read the same slice: do not write to it.
func FontRegular() []byte { return dejavusanscondensed.TTF }

// FontBold returns the TrueType data of the bold face, DejaVu Sans Condensed
// Bold. All documents read the same slice: do not write to it.
func FontBold() []byte { return dejavusanscondensedbold.TTF }
