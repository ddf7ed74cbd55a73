package words_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"firstfill/specs/check"
	"firstfill/specs/rules"
	"firstfill/survey"
	"firstfill/templates"
)

// A spoken phrase is one that the code names in full, with its blanks.
type spoken struct {
	at     token.Position
	name   string
	blanks []string
	all    bool // every blank is named in the call
}

// code is what the program's own files say of phrases.
type code struct {
	said     []spoken
	literals map[string]bool // every text constant
}

// readCode reads the program's files that word something, without its tests.
func readCode(t *testing.T) code {
	t.Helper()
	c := code{literals: map[string]bool{}}
	fset := token.NewFileSet()
	for _, dir := range []string{"specs", "render", "cmd"} {
		err := filepath.WalkDir(filepath.Join("..", "..", dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(fset, path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BasicLit:
					if text, ok := constant(n); ok {
						c.literals[text] = true
					}
				case *ast.CallExpr:
					if s, ok := say(n); ok {
						s.at = fset.Position(n.Pos())
						c.said = append(c.said, s)
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return c
}

func constant(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// say reads a call of a function named say or Say whose first argument is a
// name; the blanks follow in pairs.
func say(call *ast.CallExpr) (spoken, bool) {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.Ident:
		name = f.Name
	case *ast.SelectorExpr:
		name = f.Sel.Name
	}
	if name != "Say" && name != "say" || len(call.Args) == 0 {
		return spoken{}, false
	}
	s := spoken{all: call.Ellipsis == token.NoPos}
	var ok bool
	if s.name, ok = constant(call.Args[0]); !ok {
		return s, false
	}
	for i := 1; i < len(call.Args); i += 2 {
		if blank, ok := constant(call.Args[i]); ok {
			s.blanks = append(s.blanks, blank)
		} else {
			s.all = false
		}
	}
	return s, true
}

// blanksOf are the names in a text's braces; what begins with a digit is a
// quantity that prints in the reader's units.
func blanksOf(text string) []string {
	set := map[string]bool{}
	for _, m := range regexp.MustCompile(`\{([^}]*)\}`).FindAllStringSubmatch(text, -1) {
		if name := m[1]; name == "" || name[0] < '0' || name[0] > '9' {
			set[name] = true
		}
	}
	return slices.Sorted(maps.Keys(set))
}

// filled are blanks that are filled in where the phrase is used, not where it
// is named: a fact's value and a margin's gap.
var filled = []string{"value", "gap"}

// TestPhrases sees that every phrase that the code names is in the tables, with
// the blanks that are given to it.
func TestPhrases(t *testing.T) {
	tables, err := templates.Phrases()
	if err != nil {
		t.Fatal(err)
	}
	c := readCode(t)
	if len(c.said) < 500 {
		t.Fatalf("only %d phrases found in the code", len(c.said))
	}
	for _, s := range c.said {
		if s.name == "question" {
			continue // the table of fields words it
		}
		text, ok := tables[s.name]
		if !ok {
			t.Errorf("%s: %s is in no table", s.at, s.name)
			continue
		}
		has := blanksOf(text)
		for _, b := range s.blanks {
			if !slices.Contains(has, b) {
				t.Errorf("%s: %s has no blank {%s}: %q", s.at, s.name, b, text)
			}
		}
		for _, b := range has {
			if s.all && !slices.Contains(s.blanks, b) && !slices.Contains(filled, b) {
				t.Errorf("%s: nothing fills {%s} of %s: %q", s.at, b, s.name, text)
			}
		}
	}
}

// A built name is put together by the code out of a fixed part and what it
// stands for.
type built struct {
	from, to string                   // what the name begins and ends with
	part     func(middle string) bool // whether the code can put that between them
}

// oneOf says whether a text is one of some.
func oneOf(list string) func(string) bool {
	return func(text string) bool { return slices.Contains(strings.Fields(list), text) }
}

func isCheck(id string) bool {
	return slices.ContainsFunc(rules.All, func(k *check.Check) bool { return k.ID == id })
}

func isChoice(text string) bool {
	return slices.ContainsFunc(survey.Fields(), func(f survey.Field) bool { return slices.Contains(f.Choices, text) })
}

const (
	kinds = "door turn stair lift threshold ramp" // of a passage
	guard = "breaker receptacle rcd-30ma rcd-other"
)

// builtNames are all the ways in which the code puts names together. A name of
// the tables that none of these gives, and that no code names, is unused.
var builtNames = []built{
	// What a check is called, why it is made and how it is computed.
	{"title.", "", isCheck}, {"why.", "", isCheck}, {"formula.", "", isCheck}, {"holds.", "", isCheck},
	// Its label on a trade's sheet, in a row or in the list of what stays.
	{"row.", "", isCheck}, {"also.", "", isCheck},
	// An answer out of a closed list.
	{"word.", "", isChoice}, {"word.", "", oneOf("aluminum")}, // the tables of the trade spell the metal so
	// What the plan sets, and how a remedy names it.
	{"do.", "", survey.HasField}, {"way.", "", survey.HasField},
	{"stage.", "", func(text string) bool {
		return slices.ContainsFunc(rules.All, func(k *check.Check) bool { return k.Stage.String() == text })
	}},
	{"subject.", "", func(text string) bool {
		return slices.ContainsFunc(rules.All, func(k *check.Check) bool { return string(k.Subject) == text })
	}},
	{"job.", "", oneOf("machine stand label supply panel circuit service arrester hot-water cold-line hot-line water treatment receptor drain-line way unpacking floor opening sanitizer glasses records")},
	// The letter of the ids of a group of checks.
	{"letter.", "", func(text string) bool {
		return slices.ContainsFunc(rules.All, func(k *check.Check) bool { return strings.HasPrefix(k.ID, text+"-") })
	}},
	{"state.", "", oneOf("fix missing confirm")}, // a verdict that is open
	{"count.", "s", oneOf("step answer")},        // more than one
	{"build.guard.nec.", "", oneOf(guard)}, {"build.guard.iec.", "", oneOf(guard)},
	// Passages of the way in.
	{"passage.", "", oneOf(kinds)}, {"space.no-", "", oneOf(kinds)}, {"R-08.", "", oneOf("circuit receptor heater softener")}, {"S-09.", "", oneOf(kinds)}, {"S-09.", "s", oneOf(kinds)},
	{"drawing.way-", "", oneOf("width " + kinds)},
	{"gap.", "", oneOf("width height landing depth")}, {"side.", "", oneOf("width height landing depth")},
	{"clear.", "", survey.HasField},
	{"reading.", "", oneOf("line-to-line line-to-neutral middle-leg high-leg")},
	{"E-07.", "-share", oneOf("cord half")},
	{"E-24.", "-or-order", oneOf("hotter tell")},
	{"E-26.", "", oneOf("width height")},
	{"E-34.", "-wired", oneOf("want do way")},                     // a hard-wired machine has no receptacle
	{"order.ground", "", oneOf("-of -protective -protective-of")}, // by the code's term, and with its metal where it is known
	{"W-24.", "-alone", oneOf("oftener fit")},                     // the softener for the machine alone
	{"W-27.", "-ask", oneOf("apart apart-flowing")},
	{"backflow.way-", "", isChoice},
	// Drawings: notes by their datum, connections by their service, what can't be drawn.
	{"drawing.", "-of", oneOf("jamb edge")}, {"drawing.", "-note", oneOf("jamb edge")}, {"drawing.", "-plan", oneOf("jamb edge")},
	{"drawing.letter-", "", oneOf("P C H D")}, {"drawing.plan-", "", oneOf("P C H D R")}, {"drawing.place-", "", oneOf("P C H D R")},
	{"drawing.", "-place", oneOf("receptacle junction-box cold hot drain receptor")}, {"drawing.", "-at", oneOf("receptacle junction-box cold hot")},
	{"drawing.", "", oneOf("power cold hot drain-outlet")},
	{"drawing.", "", oneOf("opening-width opening-height opening-depth clear-floor rim-height fall lift")},
	{"drawing.rim-", "", isChoice},
}

func (b built) gives(name string) bool {
	rest, ok := strings.CutPrefix(name, b.from)
	if !ok {
		return false
	}
	rest, ok = strings.CutSuffix(rest, b.to)
	return ok && b.part(rest)
}

// TestEveryPhraseIsSaid sees no phrase in the tables that no code says, and no
// way of building names that gives none.
func TestEveryPhraseIsSaid(t *testing.T) {
	tables, err := templates.Phrases()
	if err != nil {
		t.Fatal(err)
	}
	c := readCode(t)
	said := map[string]bool{}
	for _, s := range c.said {
		said[s.name] = true
	}
	gave := make([]bool, len(builtNames))
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		// A name without a full stop may be any word of the code.
		used := said[name] || c.literals[name] && strings.Contains(name, ".")
		for i, b := range builtNames {
			if b.gives(name) {
				used, gave[i] = true, true
			}
		}
		if !used {
			t.Errorf("%s is in the tables, and no code says it: %q", name, tables[name])
		}
	}
	for i, b := range builtNames {
		if !gave[i] {
			t.Errorf("no phrase is named %s…%s as declared", b.from, b.to)
		}
	}
}
