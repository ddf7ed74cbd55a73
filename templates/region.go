package templates

import (
	_ "embed"
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"firstfill/survey/quantity"
)

//go:embed regions.txt
var regions string

// A Region is whose English a sheet is in. The tables are in that of the zero
// value, the US.
type Region int

// The regions.
const (
	US Region = iota
	British
)

// For gives the region of those who read these units first: SI is read in
// British English.
func For(u quantity.System) Region {
	if u == quantity.SI {
		return British
	}
	return US
}

// A RegionRow is one row of the table of regions.
type RegionRow struct {
	US, British string
	Other       string // what the British word means in US English, empty when it isn't one
}

// RegionRows lists the table of regions, as regions.txt has it.
var RegionRows = sync.OnceValues(func() ([]RegionRow, error) { return readRegions(regions) })

func readRegions(text string) ([]RegionRow, error) {
	var rows []RegionRow
	seen := map[string]bool{}
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, "|")
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		if len(parts) < 2 || len(parts) > 3 || slices.Contains(parts, "") || parts[0] != strings.ToLower(parts[0]) {
			return nil, fmt.Errorf("templates/regions.txt:%d: write a row as \"US | British\" in lower case, with a third part where the British word has another meaning", n)
		}
		if seen[parts[0]] {
			return nil, fmt.Errorf("templates/regions.txt:%d: %s has a row already", n, parts[0])
		}
		seen[parts[0]] = true
		row := RegionRow{US: parts[0], British: parts[1]}
		if len(parts) == 3 {
			row.Other = parts[2]
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// british finds what reads otherwise in British English, and how it reads then.
var british = sync.OnceValues(func() (*regexp.Regexp, map[string]string) {
	rows, err := RegionRows()
	if err != nil {
		panic(err) // it is part of the program; a test reads it
	}
	as := map[string]string{}
	for _, r := range rows {
		as[r.US] = r.British
	}
	longestFirst := func(a, b string) int { return len(b) - len(a) }
	var ways []string
	for _, w := range slices.SortedStableFunc(maps.Keys(as), longestFirst) {
		ways = append(ways, strings.ReplaceAll(regexp.QuoteMeta(w), " ", `\s+`))
	}
	// A blank's name is none of the text.
	return regexp.MustCompile(`\{[^}]*\}|(?i:\b(?:` + strings.Join(ways, "|") + `)\b)`), as
})

// Text gives a text of the tables, written in US English, in the region's
// words. Blanks stay as they are. It isn't for what a person wrote.
func (r Region) Text(s string) string {
	if r == US {
		return s
	}
	find, as := british()
	return find.ReplaceAllStringFunc(s, func(found string) string {
		if found[0] == '{' {
			return found
		}
		return capitals(found, as[strings.ToLower(strings.Join(strings.Fields(found), " "))])
	})
}

// capitals writes a text with the capitals of another one.
func capitals(like, text string) string {
	first, _ := utf8.DecodeRuneInString(like)
	switch {
	case like == strings.ToUpper(like):
		return strings.ToUpper(text)
	case unicode.IsUpper(first):
		return strings.ToUpper(text[:1]) + text[1:]
	}
	return text
}

var britishPhrases = sync.OnceValues(func() (map[string]string, error) {
	all, err := Phrases()
	if err != nil {
		return nil, err
	}
	own := make(map[string]string, len(all))
	for name, text := range all {
		own[name] = British.Text(text)
	}
	return own, nil
})

// Phrases is [Phrases] in the region's words.
func (r Region) Phrases() (map[string]string, error) {
	if r == British {
		return britishPhrases()
	}
	return Phrases()
}

// In gives a wording in the region's words; what it was made from stays as it
// is. Fields tagged `region:"-"` are somebody's own words and stay too.
func In[T any](r Region, words *T) *T {
	if r == US || words == nil {
		return words
	}
	own := reword(r, reflect.ValueOf(*words)).Interface().(T)
	return &own
}

func reword(r Region, v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.String:
		out.SetString(r.Text(v.String()))
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Tag.Get("region") != "-" {
				out.Field(i).Set(reword(r, v.Field(i)))
			}
		}
	case reflect.Slice:
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(reword(r, v.Index(i)))
		}
	case reflect.Map:
		out.Set(reflect.MakeMapWithSize(v.Type(), v.Len()))
		for _, k := range v.MapKeys() {
			out.SetMapIndex(k, reword(r, v.MapIndex(k)))
		}
	}
	return out
}
