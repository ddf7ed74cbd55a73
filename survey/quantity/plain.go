package quantity

import (
	"math"
	"strconv"
	"strings"
)

// plain reads what nearly every answer looks like, a decimal number and a unit
// as "62 psi". Whatever else is written, and every fault, is left to term,
// which gives the same for what plain reads.
func (d *dim) plain(text string) (float64, *unit, bool) {
	text = trimmed(text)
	if len(text) > maxBytes {
		return 0, nil, false
	}
	end := 0
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "+") {
		end = 1
	}
	from, points := end, 0
	for end < len(text) && (text[end] >= '0' && text[end] <= '9' || text[end] == '.') {
		if text[end] == '.' {
			points++
		}
		end++
	}
	written := strings.TrimLeft(text[end:], " ")
	if end-from == points || points > 1 || written == "" {
		return 0, nil, false
	}
	if c := written[0]; c <= '/' && c != '%' && c != '"' && c != '\'' || c >= '0' && c <= '9' || c == ':' {
		return 0, nil, false
	}
	u := d.find(written)
	if u == nil {
		return 0, nil, false
	}
	v, err := strconv.ParseFloat(text[:end], 64)
	if err != nil || v == 0 && text[0] == '-' {
		return 0, nil, false
	}
	if b := u.base(v) + cmpAbsolute; math.Abs(b) > maxValue || b < d.floor {
		return 0, nil, false
	}
	return v, u, true
}
