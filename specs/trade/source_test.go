package trade

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"
)

func TestSourceString(t *testing.T) {
	for _, c := range []struct {
		s    Source
		want string
	}{
		{NEC310_16, "NEC 2023 Table 310.16 (read in a secondary text)"},
		{ASTMB88M, "ASTM B88 Table 1, type M (from memory)"},
		{IPC704_1, "IPC Table 704.1 (read in a secondary text)"},
		{HoseSag, "Drain hose carried without sag or rise (common practice, no source)"},
		{JouleLaw, "Ohm's and Joule's laws (derived)"},
		{Source{Document: "requirement sheet X"}, "requirement sheet X"},
	} {
		same(t, "string", c.s.String(), c.want)
	}
}

// Every package-level Source in source.go is complete, unique and used by
// another file or left for the checks to cite.
func TestSources(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "source.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	n := 0
	for _, d := range f.Decls {
		g, isGen := d.(*ast.GenDecl)
		if !isGen || g.Tok != token.VAR {
			continue
		}
		for _, spec := range g.Specs {
			v := spec.(*ast.ValueSpec)
			lit, isLit := v.Values[0].(*ast.CompositeLit)
			if !isLit || len(lit.Elts) != 4 {
				t.Fatalf("%s: want Source{document, edition, clause, mark}", v.Names[0].Name)
			}
			name := v.Names[0].Name
			text := func(i int) string { return strings.Trim(lit.Elts[i].(*ast.BasicLit).Value, `"`) }
			doc, clause := text(0), text(2)
			mark := lit.Elts[3].(*ast.Ident).Name
			n++
			comparisons.Add(1)
			if doc == "" {
				t.Errorf("%s has no document", name)
			}
			switch mark {
			case "ReadText", "ReadCopy", "FromMemory", "CommonPractice", "Derived":
			default:
				t.Errorf("%s has mark %s", name, mark)
			}
			key := doc + "|" + text(1) + "|" + clause + "|" + mark
			if other, dup := seen[key]; dup && mark != "CommonPractice" {
				t.Errorf("%s repeats %s", name, other)
			}
			seen[key] = name
		}
	}
	if n < 100 {
		t.Errorf("only %d sources", n)
	}
	t.Logf("%d sources", n)
}
