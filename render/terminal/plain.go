package terminal

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// Plain makes people's text safe for a terminal: a control character, or one
// that turns the direction of writing, becomes a blank where it separates and
// a replacement mark elsewhere. Line feeds stay.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t', r == '\r', r == '\u0085', r == '\u2028', r == '\u2029':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069':
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(s, string(unicode.ReplacementChar)))
}

// OneLine is Plain text on one line, its blanks drawn together. A no-break space stays.
func OneLine(s string) string { return strings.Join(wordsOf(Plain(s)), " ") }

// wordsOf cuts at blanks and line ends, but not at no-break spaces.
func wordsOf(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\t' || r == '\r' || r == '\n' })
}

// Columns is how many columns of a terminal the text takes: two for a wide
// character, none for one that is drawn over the last.
func Columns(s string) int {
	n := 0
	for _, r := range s {
		n += columns(r)
	}
	return n
}

func columns(r rune) int {
	if r < 0x300 { // nothing wide, nothing combining
		return 1
	}
	if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// Plural is "1 point", "3 points".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
