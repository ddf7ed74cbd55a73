package doc

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits on what is read. The parser's time grows with the square of the
// nesting (measured: 100,000 nested brackets, 80 s), of a line's length
// (100,000 times %, 2 to 5 s and 0.5 GB) and of the number of keys (30,000, 2 s),
// so these are refused first. A whole questionnaire has some 10 KB.
const (
	MaxBytes   = 256 << 10 // of a document
	maxLines   = 6_000
	maxLine    = 40_000  // bytes of one line: a whole questionnaire as JSON may stand in one
	longLine   = 1_000   // bytes from which a line counts as long; all long lines have at most maxLine
	maxTried   = 1 << 20 // bytes parsed in search of answers that want quotes
	maxNesting = 50      // open brackets at once, and levels of indentation
	maxIndent  = 200     // columns
	maxText    = 20_000  // bytes of one answer
)

// ReadYAML reads a YAML or JSON document into entries. Unreadable input gives
// no entries and at least one problem; a fault in one place doesn't hide others
// unless the document can't be parsed at all.
func ReadYAML(file string, data []byte) (entries []Entry, problems Problems) {
	defer func() {
		if r := recover(); r != nil {
			entries, problems = nil, Problems{{Pos: Pos{File: file}, Message: fmt.Sprintf("the document can't be read as YAML (%v)", r)}}
		}
	}()
	if p := guard(file, data); p != nil {
		return nil, Problems{*p}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	f, err := parser.ParseBytes(data, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		data = Quoted(data)
		f, err = parser.ParseBytes(data, 0, parser.AllowDuplicateMapKey())
	}
	if err != nil {
		return nil, Problems{syntaxProblem(file, data, err)}
	}
	r := &reader{file: file, seen: map[string]Pos{}, lines: strings.Split(string(data), "\n")}
	var bodies []ast.Node
	for _, d := range f.Docs {
		if d.Body != nil {
			bodies = append(bodies, d.Body)
		}
	}
	switch {
	case len(bodies) == 0:
		return nil, Problems{{Pos: Pos{File: file}, Message: "the document is empty; write a blank one with \"firstfill form\""}}
	case len(bodies) > 1:
		r.fault(bodies[1], "", "a second document starts here; write one site in one file")
	}
	r.walk("", bodies[0], 0)
	if len(r.entries) == 0 && len(r.problems) == 0 {
		r.fault(bodies[0], "", "the document holds no answers; write a blank one with \"firstfill form\"")
	}
	r.problems.Sort()
	return r.entries, r.problems
}

func guard(file string, data []byte) *Problem {
	at := func(line, col int, format string, args ...any) *Problem {
		return &Problem{Pos: Pos{File: file, Line: line, Col: col}, Message: fmt.Sprintf(format, args...)}
	}
	if len(data) > MaxBytes {
		return at(0, 0, "the document has %d KB; at most %d KB are read: one site in one file", len(data)>>10, MaxBytes>>10)
	}
	if !utf8.Valid(data) {
		line := 1
		for i := 0; i < len(data); {
			r, n := utf8.DecodeRune(data[i:])
			if r == utf8.RuneError && n == 1 {
				return at(line, 1, "the text is not UTF-8; save the file as UTF-8")
			}
			if r == '\n' {
				line++
			}
			i += n
		}
	}
	line, col, depth, indent, blank, began, long := 1, 0, 0, 0, true, 0, 0
	for i, c := range string(data) {
		col++
		if i-began == longLine {
			long += longLine
		} else if i-began > longLine {
			long++
		}
		if long > maxLine {
			return at(line, 1, "the document has more than %d bytes in long lines; write the answers below each other", maxLine)
		}
		switch c {
		case '\n':
			line, col, indent, blank, began = line+1, 0, 0, true, i+1
			if line > maxLines {
				return at(line, 1, "the document has more than %d lines; one site in one file", maxLines)
			}
			continue
		case '[', '{':
			depth++
		case ']', '}':
			if depth > 0 {
				depth--
			}
		case 0:
			return at(line, col, "a zero byte stands here; this is not a text file")
		}
		if blank && (c == ' ' || c == '-' || c == '?' || c == ':') {
			if c != ' ' {
				indent++
			}
			if col > maxIndent || indent > maxNesting {
				return at(line, col, "the document is nested too deeply here")
			}
		} else {
			blank = false
		}
		if depth > maxNesting {
			return at(line, col, "more than %d brackets are open here; the document is nested too deeply", maxNesting)
		}
	}
	return nil
}

func syntaxProblem(file string, data []byte, err error) Problem {
	p := Problem{Pos: Pos{File: file}, Message: "the document can't be read as YAML: " + err.Error()}
	var ye yaml.Error
	if errors.As(err, &ye) {
		p.Message = "the document can't be read as YAML: " + strings.TrimSpace(ye.GetMessage())
		p.Pos.Line, p.Pos.Col = syntaxPlace(ye)
		if lines := strings.Split(string(data), "\n"); p.Pos.Line > 0 && p.Pos.Line <= len(lines) && hash.MatchString(lines[p.Pos.Line-1]) {
			p.Message += `; # begins a comment, so write an answer that holds one in quotes, as "#12"`
		}
	}
	return p
}

func syntaxPlace(ye yaml.Error) (line, col int) {
	if t := ye.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line, t.Position.Column
	}
	return 0, 0
}

// hash finds a # that hides what follows it without a blank.
var hash = regexp.MustCompile(`[\s\[{,:]#[^\s#]`)

// answered parts a line into its name and its answer.
var answered = regexp.MustCompile(`^([ \t]*(?:- +)*[A-Za-z_0-9]+:[ \t]+)([^\s"'\[{|>&*!#].*?)([ \t]+#.*|[ \t]*)$`)

// maxQuoted bounds how many lines of a document are put in quotes.
const maxQuoted = 100

// Quoted puts answers in quotes that YAML refuses as they are: "material:
// other: lead" for its second colon, "hardness: -" for its dash. All else stays
// byte for byte; what it can't mend stays for the parser to complain of.
func Quoted(data []byte) []byte {
	for try := range maxQuoted {
		if try*len(data) > maxTried {
			return data
		}
		plain := bytes.TrimPrefix(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")), []byte("\ufeff"))
		_, err := parser.ParseBytes(plain, 0, parser.AllowDuplicateMapKey())
		var ye yaml.Error
		if !errors.As(err, &ye) {
			return data
		}
		line, _ := syntaxPlace(ye)
		lines := bytes.SplitAfter(data, []byte("\n"))
		if line < 1 || line > len(lines) {
			return data
		}
		text := string(lines[line-1])
		body := strings.TrimRight(text, "\r\n")
		m := answered.FindStringSubmatch(body)
		if m == nil || !strings.Contains(m[2], ": ") && !strings.ContainsAny(m[2][:1], "-?@`%") {
			return data
		}
		lines[line-1] = []byte(m[1] + "'" + strings.ReplaceAll(m[2], "'", "''") + "'" + m[3] + text[len(body):])
		data = bytes.Join(lines, nil)
	}
	return data
}

// EmptyList is how an entry says that a list was answered and holds nothing.
const EmptyList = "[]"

type reader struct {
	file     string
	entries  []Entry
	problems Problems
	seen     map[string]Pos
	lines    []string
}

func (r *reader) pos(n ast.Node) Pos {
	return r.tokenPos(n.GetToken())
}

func (r *reader) tokenPos(t *token.Token) Pos {
	p := Pos{File: r.file}
	if t != nil && t.Position != nil {
		p.Line, p.Col = t.Position.Line, t.Position.Column
	}
	return p
}

func (r *reader) fault(n ast.Node, path, format string, args ...any) {
	r.problems = append(r.problems, Problem{Pos: r.pos(n), Path: path, Message: fmt.Sprintf(format, args...)})
}

func (r *reader) walk(path string, n ast.Node, depth int) {
	if depth > maxNesting {
		r.fault(n, path, "the document is nested too deeply here")
		return
	}
	switch n := n.(type) {
	case nil, *ast.NullNode:
	case *ast.MappingNode:
		for _, v := range n.Values {
			r.pair(path, v, depth)
		}
	case *ast.MappingValueNode:
		r.pair(path, n, depth)
	case *ast.SequenceNode:
		if len(n.Values) == 0 {
			r.scalar(path, n, EmptyList)
		}
		for i, v := range n.Values {
			r.walk(fmt.Sprintf("%s[%d]", path, i), v, depth+1)
		}
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode, *ast.MergeKeyNode:
		r.fault(n, path, "anchors, aliases and tags (& * ! <<) are not read here; write the answer out")
	case *ast.LiteralNode:
		r.scalar(path, n, n.Value.Value)
	case *ast.StringNode:
		r.scalar(path, n, n.Value)
	default:
		// Numbers, booleans and dates are kept as written: 010 stays 010.
		r.scalar(path, n, n.GetToken().Value)
	}
}

func (r *reader) pair(path string, v *ast.MappingValueNode, depth int) {
	if _, merge := v.Key.(*ast.MergeKeyNode); merge {
		r.fault(v.Key, path, "merge keys (<<) are not read here; write the answers out")
		return
	}
	key := v.Key.GetToken().Value
	sub := key
	if path != "" {
		sub = path + "." + key
	}
	if first, dup := r.seen[sub]; dup {
		r.twice(v, sub, first)
		return
	}
	r.seen[sub] = r.pos(v.Key)
	if _, null := v.Value.(*ast.NullNode); null || v.Value == nil {
		r.hidden(sub, v.GetToken())
		return
	}
	r.walk(sub, v.Value, depth+1)
}

// twice says that a name stands twice. Of two answers nobody knows which
// holds, so neither does.
func (r *reader) twice(v *ast.MappingValueNode, path string, first Pos) {
	r.fault(v.Key, path, "answered twice; the first answer is in line %d", first.Line)
	if _, leaf := v.Value.(ast.ScalarNode); !leaf {
		return
	}
	at := slices.IndexFunc(r.entries, func(e Entry) bool { return e.Path == path })
	if at >= 0 {
		r.entries = slices.Delete(r.entries, at, at+1)
		r.problems[len(r.problems)-1].Reach = Dropped
	}
}

// hidden takes what stands behind a # right after an empty answer, as in
// "conductor: #12", which YAML takes for a comment. A remark has a blank there.
func (r *reader) hidden(path string, colon *token.Token) {
	pos := r.tokenPos(colon)
	if pos.Line < 1 || pos.Line > len(r.lines) {
		return
	}
	runes := []rune(r.lines[pos.Line-1])
	if pos.Col < 1 || pos.Col > len(runes) || runes[pos.Col-1] != ':' {
		return
	}
	after := string(runes[pos.Col:])
	text := strings.TrimLeft(after, " \t")
	if len(text) < 2 || text[0] != '#' || strings.ContainsAny(text[1:2], " \t#!") {
		return
	}
	pos.Col += 1 + utf8.RuneCountInString(after) - utf8.RuneCountInString(text)
	text, _, _ = strings.Cut(text, " #")
	if text = strings.TrimSpace(text); len(text) <= maxText {
		r.entries = append(r.entries, Entry{Path: path, Text: text, Pos: pos, Hidden: true})
	}
}

func (r *reader) scalar(path string, n ast.Node, text string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return
	}
	if len(text) > maxText {
		r.fault(n, path, "the answer has %d bytes; at most %d are read", len(text), maxText)
		return
	}
	if path == "" {
		r.fault(n, path, "the document is a single value; it should be a list of answers such as \"site:\"")
		return
	}
	r.entries = append(r.entries, Entry{Path: path, Text: text, Pos: r.pos(n)})
}

// Comments returns the comments of a YAML document that ReadYAML can read, in
// their order; what ReadYAML takes for an answer behind a # is none.
func Comments(data []byte) []string {
	var list []string
	for _, t := range lexer.Tokenize(string(data)) {
		if t.Type == token.CommentType && !(t.Prev != nil && t.Prev.Type == token.MappingValueType && t.Prev.Position.Line == t.Position.Line && !strings.HasPrefix(t.Value, " ")) {
			list = append(list, strings.TrimSpace(t.Value))
		}
	}
	return list
}
