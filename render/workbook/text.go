package workbook

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// maxCell is how many UTF-16 units a cell holds; the library cuts silently behind it.
const maxCell = 32_767

// escape keeps a literal such as _x0041_ from being read as the letter that it
// stands for in this file format: its first underscore is written as _x005F_.
func escape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		if s[i] == '_' && escaped.MatchString(s[i:]) {
			b.WriteString("_x005F")
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

var escaped = regexp.MustCompile(`^_x[0-9a-fA-F]{4}_`)

// clean makes text fit for a cell: no control characters but line feeds, valid
// UTF-8, nothing that XML can't hold.
func clean(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\t', r == '\r', r == '\u202f', r == '\u2028', r == '\u2029':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff, r == '\ufeff':
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// fit cuts text for a cell that only shows what is kept elsewhere.
func fit(s string, units int) string {
	n := 0
	for i, r := range s {
		n += utf16.RuneLen(r)
		if n >= units {
			return s[:i] + "…"
		}
	}
	return s
}

// chunk is how many bytes of a hidden row go into one cell.
const chunk = 30_000

// encode writes a value as JSON in pieces that fit into cells. An underscore before
// an x is escaped, since office programs read _x0041_ as an A.
func encode(v any) []string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("workbook: %v", err)) // plain data always encodes
	}
	text := strings.ReplaceAll(string(data), "_x", `\u005fx`)
	var parts []string
	for len(text) > chunk {
		n := chunk
		for !utf8.RuneStart(text[n]) {
			n--
		}
		parts = append(parts, text[:n])
		text = text[n:]
	}
	return append(parts, text)
}
