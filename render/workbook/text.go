package workbook

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"
)

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
