package survey

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"firstfill/survey/quantity/doc"
)

// A Change is one answer to be written into a questionnaire.
type Change struct {
	Path   string
	Value  string
	Source string        // who gave it; empty: nothing is noted
	Note   string        // the remark beside it; empty: it stays as it is
	Items  [][]doc.Entry // of a list that has none yet, each answer with its name as path
}

// Edit writes answers into a questionnaire's YAML or JSON text. It splices at
// the places where the answers stand, so that comments, order and layout of
// everything else stay byte for byte. The text is returned only when
// every change could be made, and reading it back gives the old answers with
// the changes and nothing else.
func Edit(file string, data []byte, changes []Change) ([]byte, doc.Problems) {
	before, problems := doc.ReadYAML(file, data)
	if len(problems) > 0 {
		return nil, problems
	}
	where := map[string]doc.Pos{}
	want := map[string]string{}
	for _, e := range before {
		where[e.Path] = e.Pos
		want[e.Path] = e.Text
	}
	text := string(doc.Quoted(data))
	for _, c := range changes {
		fault := func(format string, args ...any) {
			pos := doc.Pos{File: file, Line: 1, Col: 1}
			for p := c.Path; p != ""; p = parent(p) {
				if at, ok := where[p]; ok {
					pos = at
					break
				}
				if at, ok := where[p+".value"]; ok {
					pos = at
					break
				}
			}
			problems = append(problems, doc.Problem{Pos: pos, Path: c.Path, Message: fmt.Sprintf(format, args...)})
		}
		if !HasField(c.Path) {
			fault("there is no answer of this name")
			continue
		}
		if f := FieldAt(c.Path); f.List && index.ReplaceAllString(c.Path, "[]") == f.Path && c.Value != doc.EmptyList && len(c.Items) == 0 {
			fault("this is a list; write its items into the questionnaire by hand, or [] when there are none")
			continue
		}
		next, err := splice(text, c)
		if err != nil {
			fault("%v", err)
			continue
		}
		text = next
		expect(want, c)
	}
	if len(problems) > 0 {
		problems.Sort()
		return nil, problems
	}
	after, more := doc.ReadYAML(file, []byte(text))
	if len(more) > 0 {
		return nil, more
	}
	got := map[string]string{}
	for _, e := range after {
		got[e.Path] = e.Text
	}
	if !reflect.DeepEqual(got, want) {
		return nil, doc.Problems{{Pos: doc.Pos{File: file}, Message: "the answers can't be written into this layout; write them by hand"}}
	}
	return []byte(text), nil
}

// expect records in the answers by path what a change should make of them.
func expect(want map[string]string, c Change) {
	if len(c.Items) > 0 {
		delete(want, c.Path)
		for i, item := range c.Items {
			for _, e := range item {
				expect(want, Change{Path: fmt.Sprintf("%s[%d].%s", c.Path, i, e.Path), Value: e.Text, Note: e.Note, Source: e.Source})
			}
		}
		return
	}
	value := strings.TrimSpace(c.Value)
	plainOne := func(path string) bool {
		_, ok := want[path]
		return ok
	}
	switch {
	case plainOne(c.Path+".value") || plainOne(c.Path+".note") || plainOne(c.Path+".source"):
		want[c.Path+".value"] = value
		if c.Source != "" {
			want[c.Path+".source"] = c.Source
		}
		if c.Note != "" {
			want[c.Path+".note"] = c.Note
		}
	case c.Source == "" && c.Note == "" || value == doc.EmptyList:
		want[c.Path] = value
	default:
		delete(want, c.Path)
		want[c.Path+".value"] = value
		if c.Source != "" {
			want[c.Path+".source"] = c.Source
		}
		if c.Note != "" {
			want[c.Path+".note"] = c.Note
		}
	}
}

// splice makes one change in the text.
func splice(text string, c Change) (string, error) {
	// The parser is given line feeds only; lines keep their own ends.
	f, err := parser.ParseBytes([]byte(strings.TrimPrefix(strings.ReplaceAll(text, "\r\n", "\n"), "\ufeff")), 0)
	if err != nil {
		return "", err
	}
	var root ast.Node
	for _, d := range f.Docs {
		if d.Body != nil {
			root = d.Body
			break
		}
	}
	t := newLines(text)
	parts := strings.Split(strings.ReplaceAll(c.Path, "[", ".["), ".")
	node := root
	var key ast.Node // the key under which node stands
	for i, part := range parts {
		if strings.HasPrefix(part, "[") {
			seq, ok := node.(*ast.SequenceNode)
			n := 0
			if _, err := fmt.Sscanf(part, "[%d]", &n); err != nil || !ok || n >= len(seq.Values) {
				return "", fmt.Errorf("the list has no such item; add it by hand")
			}
			node, key = seq.Values[n], nil
			continue
		}
		pairs, flow, ok := mapping(node)
		if !ok {
			if _, null := node.(*ast.NullNode); !null && node != nil || key == nil {
				return "", fmt.Errorf("a single value stands where a group of answers belongs; mend it by hand")
			}
			return t.insertUnder(key, parts[i:], c)
		}
		at := slices.IndexFunc(pairs, func(p *ast.MappingValueNode) bool { return p.Key.GetToken().Value == part })
		if at < 0 {
			return t.insert(node, pairs, flow, key, parts[i:], c)
		}
		key, node = pairs[at].Key, pairs[at].Value
	}
	return t.replace(key, node, c)
}

// mapping returns the pairs of either kind of mapping.
func mapping(n ast.Node) (pairs []*ast.MappingValueNode, flow, ok bool) {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values, n.IsFlowStyle, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}, false, true
	}
	return nil, false, false
}

// lines is a text cut at its line ends, which stay with their lines.
type lines struct {
	all []string
	end string
	bom string
}

func newLines(text string) *lines {
	t := &lines{end: "\n"}
	if rest, ok := strings.CutPrefix(text, "\ufeff"); ok {
		t.bom, text = "\ufeff", rest
	}
	if strings.Contains(text, "\r\n") {
		t.end = "\r\n"
	}
	t.all = strings.SplitAfter(text, "\n")
	return t
}

func (t *lines) String() string { return t.bom + strings.Join(t.all, "") }

// place finds a token's line and the byte in it. The parser counts columns in characters.
func (t *lines) place(n ast.Node) (line, at int, err error) {
	tok := n.GetToken()
	if tok == nil || tok.Position == nil || tok.Position.Line < 1 || tok.Position.Line > len(t.all) {
		return 0, 0, fmt.Errorf("its place can't be found; write it by hand")
	}
	line = tok.Position.Line - 1
	runes := []rune(t.all[line])
	col := tok.Position.Column - 1
	if col < 0 || col > len(runes) {
		return 0, 0, fmt.Errorf("its place can't be found; write it by hand")
	}
	return line, len(string(runes[:col])), nil
}

// put replaces part of a line.
func (t *lines) put(line, from, to int, text string) string {
	l := t.all[line]
	t.all[line] = l[:from] + text + l[to:]
	return t.String()
}

// add inserts lines behind a line.
func (t *lines) add(line int, text string) string {
	if line >= 0 && !strings.HasSuffix(t.all[line], "\n") {
		t.all[line] += t.end
	}
	t.all = slices.Insert(t.all, line+1, text)
	return t.String()
}

// scalarEnd finds where the value that starts at a place ends, on its line.
func (t *lines) scalarEnd(line, at int, n ast.Node) (int, error) {
	l := t.all[line]
	many := fmt.Errorf("the answer runs over several lines; write it by hand")
	if at >= len(l) {
		return 0, many
	}
	switch q := l[at]; q {
	case '"', '\'':
		for i := at + 1; i < len(l); i++ {
			switch {
			case q == '"' && l[i] == '\\':
				i++
			case l[i] == q && q == '\'' && i+1 < len(l) && l[i+1] == q:
				i++
			case l[i] == q:
				return i + 1, nil
			}
		}
		return 0, many
	case '[':
		if end := strings.IndexByte(l[at:], ']'); end > 0 && strings.TrimSpace(l[at+1:at+end]) == "" {
			return at + end + 1, nil
		}
		return 0, many
	case '|', '>':
		return 0, many
	}
	value := strings.TrimSpace(n.GetToken().Value)
	if value == "" || !strings.HasPrefix(l[at:], value) {
		return 0, many
	}
	return at + len(value), nil
}

// replace writes a change over the value that stands at its path.
func (t *lines) replace(key, node ast.Node, c Change) (string, error) {
	if pairs, _, ok := mapping(node); ok { // value, note and source
		for _, side := range []struct{ name, text string }{{"source", c.Source}, {"note", c.Note}, {"value", c.Value}} {
			if side.text == "" {
				continue
			}
			next, err := splice(t.String(), Change{Path: c.Path + "." + side.name, Value: side.text})
			if err != nil {
				return "", err
			}
			t = newLines(next)
		}
		_ = pairs
		return t.String(), nil
	}
	quote := t.json(key)
	if _, null := node.(*ast.NullNode); null || node == nil {
		line, at, err := t.keyEnd(key)
		if err != nil {
			return "", err
		}
		l := t.all[line]
		if word := strings.TrimLeft(l[at:], " "); strings.HasPrefix(word, "null") || strings.HasPrefix(word, "~") {
			from := len(l) - len(word)
			return t.put(line, from, from+len(word[:len(word)-len(strings.TrimLeft(word, "nul~"))]), written(c, quote)), nil
		}
		return t.put(line, at, at, " "+written(c, quote)), nil
	}
	if seq, ok := node.(*ast.SequenceNode); ok && len(seq.Values) > 0 {
		return "", fmt.Errorf("the list holds items; change it by hand")
	}
	line, at, err := t.place(node)
	if err != nil {
		return "", err
	}
	end, err := t.scalarEnd(line, at, node)
	if err != nil {
		return "", err
	}
	return t.put(line, at, end, written(c, quote)), nil
}

// keyEnd finds the byte behind a key's colon.
func (t *lines) keyEnd(key ast.Node) (line, at int, err error) {
	line, at, err = t.place(key)
	if err != nil {
		return 0, 0, err
	}
	end, err := t.scalarEnd(line, at, key)
	if err != nil {
		return 0, 0, err
	}
	colon := strings.IndexByte(t.all[line][end:], ':')
	if colon < 0 || strings.TrimSpace(t.all[line][end:end+colon]) != "" {
		return 0, 0, fmt.Errorf("its place can't be found; write it by hand")
	}
	return line, end + colon + 1, nil
}

// json says whether a key is written in double quotes, as JSON wants all of them.
func (t *lines) json(key ast.Node) bool {
	if key == nil {
		return false
	}
	line, at, err := t.place(key)
	return err == nil && at < len(t.all[line]) && t.all[line][at] == '"'
}

// insert writes an answer into a group that lacks it.
func (t *lines) insert(group ast.Node, pairs []*ast.MappingValueNode, flow bool, key ast.Node, parts []string, c Change) (string, error) {
	for _, p := range parts {
		if strings.HasPrefix(p, "[") {
			return "", fmt.Errorf("the list has no such item; add it by hand")
		}
	}
	if flow {
		line, at, err := t.place(group)
		if err != nil || at >= len(t.all[line]) || t.all[line][at] != '{' {
			return "", fmt.Errorf("its place can't be found; write it by hand")
		}
		quote := len(pairs) > 0 && t.json(pairs[0].Key) || len(pairs) == 0 && t.json(key)
		text := written(c, quote)
		for i, p := range slices.Backward(parts) {
			if quote {
				p = quoted(p)
			}
			text = p + ": " + text
			if i > 0 {
				text = "{" + text + "}"
			}
		}
		if len(pairs) > 0 {
			text += ", "
		}
		return t.put(line, at+1, at+1, text), nil
	}
	// Behind the last brother whose value ends on its line.
	for _, p := range slices.Backward(pairs) {
		line, at, err := t.place(p.Key)
		if err != nil {
			return "", err
		}
		switch p.Value.(type) {
		case *ast.MappingNode, *ast.MappingValueNode, *ast.SequenceNode, *ast.LiteralNode, *ast.NullNode, nil:
			continue
		}
		vLine, vAt, err := t.place(p.Value)
		if err != nil || vLine != line {
			continue
		}
		if _, err := t.scalarEnd(vLine, vAt, p.Value); err != nil {
			continue
		}
		return t.add(line, t.block(len([]rune(t.all[line][:at])), parts, c)), nil
	}
	if key != nil && len(pairs) > 0 {
		line, _, err := t.place(key)
		if err != nil {
			return "", err
		}
		first, at, err := t.place(pairs[0].Key)
		if err != nil || first == line {
			return "", fmt.Errorf("its place can't be found; write it by hand")
		}
		return t.add(line, t.block(at, parts, c)), nil
	}
	if len(pairs) == 0 {
		return "", fmt.Errorf("its place can't be found; write it by hand")
	}
	_, at, err := t.place(pairs[0].Key)
	if err != nil || at != 0 {
		return "", fmt.Errorf("its place can't be found; write it by hand")
	}
	return t.add(len(t.all)-1, t.block(0, parts, c)), nil
}

// insertUnder writes an answer under a key that has no value yet.
func (t *lines) insertUnder(key ast.Node, parts []string, c Change) (string, error) {
	line, at, err := t.place(key)
	if err != nil {
		return "", err
	}
	_, end, err := t.keyEnd(key)
	if err != nil {
		return "", err
	}
	if rest := strings.TrimSpace(t.all[line][end:]); rest != "" && !strings.HasPrefix(rest, "#") {
		return "", fmt.Errorf("a single value stands where a group of answers belongs; mend it by hand")
	}
	return t.add(line, t.block(at+2, parts, c)), nil
}

// block writes nested groups down to the answer, one line each.
func (t *lines) block(indent int, parts []string, c Change) string {
	var b strings.Builder
	for i, p := range parts {
		b.WriteString(strings.Repeat(" ", indent+2*i) + p + ":")
		if i == len(parts)-1 {
			b.WriteString(" " + written(c, false))
		}
		b.WriteString(t.end)
	}
	return b.String()
}

// written is a change's value as YAML, with its source beside it; with quote
// set, as JSON.
func written(c Change, quote bool) string {
	if len(c.Items) > 0 {
		items := make([]string, len(c.Items))
		for i, item := range c.Items {
			parts := make([]string, len(item))
			for j, e := range item {
				name, text := e.Path, written(Change{Value: e.Text, Note: e.Note, Source: e.Source}, quote)
				if quote {
					name = quoted(name)
				} else if !strings.HasPrefix(text, "{") {
					text = quoted(e.Text) // a comma would end it here
				}
				parts[j] = name + ": " + text
			}
			items[i] = "{" + strings.Join(parts, ", ") + "}"
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	value := strings.TrimSpace(c.Value)
	if value == doc.EmptyList {
		return value
	}
	if !quote {
		return yamlValue(value, doc.Entry{Source: c.Source, Note: c.Note})
	}
	if c.Source == "" && c.Note == "" {
		return quoted(value)
	}
	text := "{" + quoted("value") + ": " + quoted(value)
	if c.Note != "" {
		text += ", " + quoted("note") + ": " + quoted(c.Note)
	}
	if c.Source != "" {
		text += ", " + quoted("source") + ": " + quoted(c.Source)
	}
	return text + "}"
}
