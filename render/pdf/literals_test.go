package pdf

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// allowed are literals with words that no sheet prints as a sentence.
var allowed = map[string]string{
	"there is no trade %q; there are %v":         "an error for the program's caller",
	"%q is not a paper; there are letter and a4": "an error for the program's caller",
	"letterhead's logo":                          "the name of a picture, for a warning",
	"trade ":                                     "the name of a place in the file",
	"calculation ":                               "the name of a place in the file",
	"not ":                                       "the denial of a trait in the wording",
	"power.supplies[%d].":                        "a path of the requirement sheet",
	"3-phase":                                    "a trait",
	"1-phase":                                    "a trait",
	"1-line":                                     "a trait",
	"IEC":                                        "part of a plug's name, which is read",
	"BLUE":                                       "part of a plug's name, which is read",
	"RED":                                        "part of a plug's name, which is read",
	" min":                                       "a label's ending that gets its full stop",
	" min.":                                      "a label's ending that gets its full stop",
	" max":                                       "a label's ending that gets its full stop",
	" max.":                                      "a label's ending that gets its full stop",
	"TDS":                                        "an abbreviation that is put in capitals",
}

// TestNoSentencesInCode finds no literal in the code of the sheets and the
// drawings that a sheet could print: what is printed stands in templates, so
// that another language needs no code. Names of phrases and paths, which are
// one small word with full stops and hyphens, may stand there.
func TestNoSentencesInCode(t *testing.T) {
	worded := regexp.MustCompile(`\p{L}{2,}`)
	name := regexp.MustCompile(`^[-.]?[a-z][a-zA-Z0-9_.-]*(\[\]?\.?)?$`)
	used := map[string]bool{}
	n := 0
	for _, dir := range []string{".", "../drawing"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			set := token.NewFileSet()
			parsed, err := parser.ParseFile(set, file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(parsed, func(node ast.Node) bool {
				switch node := node.(type) {
				case *ast.ImportSpec:
					return false
				case *ast.CallExpr: // an expression is no text
					if f, ok := node.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "MustCompile" {
						return false
					}
				case *ast.BasicLit:
					text, err := strconv.Unquote(node.Value)
					if node.Kind != token.STRING || err != nil {
						return true
					}
					n++
					if _, ok := allowed[text]; ok {
						used[text] = true
					} else if worded.MatchString(text) && !name.MatchString(text) {
						t.Errorf("%v: %q belongs in templates/checks", set.Position(node.Pos()), text)
					}
				}
				return true
			})
		}
	}
	if n < 300 {
		t.Errorf("%d literals were read", n)
	}
	for text := range allowed {
		if !used[text] {
			t.Errorf("%q isn't in the code any more", text)
		}
	}
}
