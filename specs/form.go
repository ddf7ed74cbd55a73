package specs

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"firstfill/survey/quantity"
	"firstfill/survey/quantity/doc"
)

// blankHead opens a blank requirement sheet.
const blankHead = `# A machine's requirement sheet. Copy the figures from the maker's own sheet and data plate.
# Leave a line out, or write unknown, where they don't say: the checks that hang on it then say
# so, and nothing is taken for the maker's no. Write none where they say that there is no such
# limit or part. A source stands beside its value: {value: 95 psi, source: data plate}.
# When it is filled in: firstfill machines check FILE
`

// Blank is a blank requirement sheet as commented YAML. Each fact is unknown but
// the version; like is the machine of which the examples are.
func Blank(like *Machine) []byte {
	var b bytes.Buffer
	b.WriteString(blankHead)
	blank(&b, reflect.TypeFor[Machine](), "", 0, like)
	return b.Bytes()
}

func blank(b *bytes.Buffer, t reflect.Type, path string, depth int, like *Machine) {
	pad := strings.Repeat("  ", depth)
	listed := strings.HasSuffix(path, "[0]")
	for i := range t.NumField() {
		f := t.Field(i)
		name := doc.Name(f)
		if name == "" {
			continue
		}
		full := strings.TrimPrefix(path+"."+name, ".")
		lead := pad
		if listed && i == 0 {
			lead = strings.TrimSuffix(pad, "  ") + "- "
		}
		switch {
		case doc.IsLeaf(f.Type):
			value := "unknown"
			if full == "machine" {
				value = fmt.Sprint(Version)
			}
			fmt.Fprintf(b, "%s%s: %s%s\n", lead, name, value, remark(f, full, like))
		case f.Type.Kind() == reflect.Slice:
			if depth == 0 {
				b.WriteString("\n")
			}
			if name == "extras" {
				fmt.Fprintf(b, "%s%s: []  # what must be there beside the crate; an item is {name: two hoses, why: they are not in the crate}\n", pad, name)
				continue
			}
			fmt.Fprintf(b, "%s%s:  # one item for each supply option that can be ordered\n", pad, name)
			blank(b, f.Type.Elem(), full+"[0]", depth+2, like)
		default:
			if depth == 0 {
				b.WriteString("\n")
			}
			fmt.Fprintf(b, "%s%s:\n", pad, name)
			blank(b, f.Type, full, depth+1, like)
		}
	}
}

// remark says what a fact is and how it is written.
func remark(f reflect.StructField, path string, like *Machine) string {
	var parts []string
	tag := f.Tag.Get("validate")
	if strings.Contains(tag, "required") {
		parts = append(parts, "needed")
	}
	if says := f.Tag.Get("says"); says != "" {
		parts = append(parts, says)
	}
	if m := oneOf.FindStringSubmatch(tag); m != nil {
		words := strings.Fields(m[1])
		parts = append(parts, strings.Join(words, ", "))
	} else if f.Type.Kind() == reflect.Bool {
		parts = append(parts, "yes or no")
	} else if example := like.answers[path].Text; example != "" && path != "machine" && !strings.Contains(example, "#") {
		parts = append(parts, "such as "+example)
	} else if q, ok := reflect.New(f.Type).Interface().(quantity.Adjustable); ok {
		units := q.Units()
		parts = append(parts, "in "+strings.Join(units[:min(2, len(units))], " or "))
	}
	if absent := f.Tag.Get("absent"); absent != "" {
		parts = append(parts, "left out: "+absent)
	}
	parts = slices.DeleteFunc(parts, func(p string) bool { return p == "" })
	if len(parts) == 0 {
		return ""
	}
	return "  # " + strings.Join(parts, "; ")
}
