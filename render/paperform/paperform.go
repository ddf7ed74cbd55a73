// Package paperform prints the questionnaire to fill in by hand, each part on
// its own sheet, in the order of the walk.
package paperform

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"firstfill/render/page"
	wording "firstfill/render/words"
	"firstfill/survey"
	"firstfill/templates"
)

// Options of a paper form.
type Options struct {
	Paper string // "letter" or "a4"
	Date  time.Time
	Form  survey.FormFor // what it knows is printed in
}

// Write lays the form out.
func Write(o Options) ([]byte, error) {
	d, err := layOut(o)
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

// sides is on how many pages a part should lie; the largest type that keeps to
// it is taken.
var sides = map[survey.Part]int{survey.Surveyor: 2, survey.Electrician: 1, survey.Plumber: 1, survey.Office: 1}

// sizes are the type sizes tried, in points.
var sizes = []page.FormType{9, 8.5, 8}

func layOut(o Options) (*page.Doc, error) {
	parts := survey.Parts
	if o.Form.Part != survey.Whole {
		parts = []survey.Part{o.Form.Part}
	}
	chosen := map[survey.Part]page.FormType{}
	for _, part := range parts {
		for _, size := range sizes {
			chosen[part] = size
			d, err := draw(o, []survey.Part{part}, chosen)
			if err != nil {
				return nil, err
			}
			if d.Pages() <= sides[part] {
				break
			}
		}
	}
	if len(parts) == 1 && chosen[parts[0]] == 0 {
		return nil, fmt.Errorf("there is no part %q", parts[0])
	}
	return draw(o, parts, chosen)
}

func draw(o Options, parts []survey.Part, size map[survey.Part]page.FormType) (*page.Doc, error) {
	said, err := templates.SurveyWords()
	if err != nil {
		return nil, err
	}
	short, err := templates.PaperWords()
	if err != nil {
		return nil, err
	}
	w := writer{form: o.Form, said: said, paper: short, reader: wording.Reader{Units: o.Form.Units}, region: templates.For(o.Form.Units), numbers: o.Form.Numbers()}
	paper := page.Letter
	if o.Paper == "a4" {
		paper = page.A4
	}
	name := o.Form.Name
	if name == "" {
		name = short.AnyMachine
	}
	site := w.known("site.name")
	header := func(title string) page.Line { return page.Line{Left: title + " · " + name, Right: site} }
	title := said.Part(string(o.Form.Part), w.region).Title
	return page.New(page.Options{
		Paper: paper, Title: title + ", " + name, Date: o.Date,
		Header: header(title),
		Footer: page.Line{Left: w.region.Text(said.Disclaimer)},
		Number: w.reader.PageNumber,
	}, func(d *page.Doc) {
		for _, part := range parts {
			w.form.Part = part
			if len(w.asked()) == 0 {
				continue
			}
			words := said.Part(string(part), w.region)
			d.Sheet(header(words.Title))
			facts := []page.KV{
				{Key: short.Facts.Site, Value: site, Wide: true},
				{Key: short.Facts.Reference, Value: w.known("site.reference")}, {Key: short.Facts.Date, Value: o.Date.Format(time.DateOnly)},
				{Key: short.Facts.By}, {Key: short.Facts.On},
			}
			text := words.HowTo
			if len(words.Tools) > 0 {
				text += " " + strings.Replace(short.Bring, "{tools}", strings.Join(words.Tools, ", "), 1)
			}
			if w.form.Known != nil {
				text += " " + short.Known
			}
			d.FormHead(page.FormHead{Title: words.Title + " · " + name, Facts: facts, Text: []string{w.region.Text(text)}, Caution: short.Caution, Cautions: words.Cautions})
			w.part(d, size[part])
		}
	})
}

// writer turns a part's questions into those of the page.
type writer struct {
	form    survey.FormFor
	said    *templates.Surveyor
	paper   *templates.Paper
	reader  wording.Reader
	region  templates.Region
	numbers map[string]int
}

// blank is the form as if nothing were known yet: what is known is printed in,
// not left out.
func (w writer) blank() survey.FormFor {
	f := w.form
	f.Known = nil
	return f
}

func (w writer) asked() []survey.Field { return w.blank().Asked() }

// known is an answer that is known already, as it prints.
func (w writer) known(path string) string {
	s := w.form.Known
	if s == nil || !s.Known(path) {
		return ""
	}
	if len(survey.FieldAt(path).Choices) > 0 {
		return w.reader.Answer(s, path)
	}
	return s.Value(path, w.form.Units)
}

// part prints a part's questions, station after station; a list too wide for a
// column takes the whole width.
func (w writer) part(d *page.Doc, size page.FormType) {
	var qs []page.Question
	flush := func() {
		if len(qs) > 0 {
			d.Questions(size, qs...)
			qs = nil
		}
	}
	for _, st := range survey.Stations {
		plain, lists := survey.AskedAt(st.Key, w.blank())
		if len(plain)+len(lists) == 0 {
			continue
		}
		at := len(qs)
		qs = append(qs, w.questions(plain, w.station(st.Key, st.Name))...)
		for _, l := range lists {
			title, blank := w.list(l)
			if len(blank.Heads) > 4 {
				flush()
				at = 0
				d.Blanks(size, title, w.form.Weight(l) == survey.Blocks, blank)
				continue
			}
			qs = append(qs, page.Question{Must: w.form.Weight(l) == survey.Blocks, Text: title, List: &blank})
		}
		for _, l := range lists {
			qs = append(qs, w.photo(l.Path)...)
		}
		if len(plain) == 0 && len(qs) > at && qs[at].List != nil {
			qs[at].Group = w.station(st.Key, st.Name)
		}
	}
	flush()
}

// station is the heading of a station of the walk.
func (w writer) station(key, name string) string {
	if key == "office" && w.form.Part == survey.Surveyor {
		name = w.paper.Along
	}
	return w.region.Text(name)
}

// numbered is a text behind its question's number.
func (w writer) numbered(text string, paths ...string) string {
	var ns []string
	for _, p := range paths {
		if n := w.numbers[p]; n > 0 {
			ns = append(ns, fmt.Sprint(n))
		}
	}
	if len(ns) == 0 {
		return text
	}
	return strings.Join(ns, ", ") + "  " + text
}

// line names a question of the cold line and the hot one alike.
func line(path string) string {
	for _, l := range []string{"water.cold.", "water.hot."} {
		if rest, ok := strings.CutPrefix(path, l); ok {
			return "water.line." + rest
		}
	}
	return path
}

// text is a question and its hint as paper has them.
func (w writer) text(f survey.Field) (ask, how string) {
	ask, how = f.Ask, f.How
	if _, plain, ok := strings.Cut(f.Ask, ": "); ok && line(f.Path) != f.Path {
		ask = strings.ToUpper(plain[:1]) + plain[1:] // the group's heading says which water
	}
	if short, ok := w.paper.Asks[line(f.Path)]; ok {
		if short.Ask != "" {
			ask = short.Ask
		}
		if short.How != nil {
			how = *short.How
		}
	}
	return w.region.Text(ask), w.region.Text(how)
}

func (w writer) box(f survey.Field, label string) page.Box {
	b := page.Box{Label: w.region.Text(label), Unit: f.Unit(w.form.Units), Known: w.known(f.Path), Kind: page.Words}
	switch {
	case b.Unit != "":
		b.Kind = page.Measure
	case f.Plain() && !strings.HasSuffix(f.Name, "_on"):
		b.Kind = page.Short
	}
	return b
}

// words are the answers to tick, as they print.
func (w writer) words(f survey.Field) (all []string) {
	choices := f.Choices
	if f.YesNo() {
		choices = []string{"yes", "no"}
	}
	for _, c := range choices {
		word := w.reader.Word(c)
		if short, ok := w.paper.Words[c]; ok {
			word = w.region.Text(short)
		}
		all = append(all, word)
	}
	return all
}

// ticked is the word of a known answer among those to tick.
func (w writer) ticked(words []string, f survey.Field, path string) string {
	known := w.known(path)
	choices := f.Choices
	if f.YesNo() {
		choices = []string{"yes", "no"}
	}
	for i, c := range choices {
		if known != "" && known == w.reader.Word(c) {
			return words[i]
		}
	}
	return ""
}

// questions are those of a station. What is asked of the cold line and the hot
// one alike stands once, and so does what makes one row of boxes.
func (w writer) questions(fs []survey.Field, station string) []page.Question {
	var qs []page.Question
	done := map[string]bool{}
	find := func(path string) (survey.Field, bool) {
		i := slices.IndexFunc(fs, func(f survey.Field) bool { return f.Path == path })
		if i < 0 {
			return survey.Field{}, false
		}
		return fs[i].In(w.form.Units), true
	}
	twins := slices.ContainsFunc(fs, func(f survey.Field) bool { return strings.HasPrefix(f.Path, "water.cold.") }) &&
		slices.ContainsFunc(fs, func(f survey.Field) bool { return strings.HasPrefix(f.Path, "water.hot.") })
	group := ""
	for _, f := range fs {
		if done[f.Path] {
			continue
		}
		f = f.In(w.form.Units)
		together, labels := []survey.Field{f}, []string{""}
		q := page.Question{}
		q.Text, q.Hint = w.text(f)
		for _, row := range w.paper.Rows {
			if _, in := row.Of[f.Path]; !in {
				continue
			}
			var of []survey.Field
			var names []string
			for _, f := range fs {
				if label, in := row.Of[f.Path]; in {
					of, names = append(of, f.In(w.form.Units)), append(names, label)
				}
			}
			if len(of) > 1 {
				together, labels = of, names
				q.Text, q.Hint = w.region.Text(row.Ask), w.region.Text(row.How)
			}
		}
		g := station
		if line(f.Path) != f.Path {
			g = w.region.Text(f.Group())
		}
		if twins && line(f.Path) != f.Path {
			g = w.said.Twins
			labels[0] = w.said.TwinLetters[0]
			if strings.HasPrefix(f.Path, "water.hot.") {
				labels[0] = w.said.TwinLetters[1]
			} else if hot, ok := find(strings.Replace(f.Path, "water.cold.", "water.hot.", 1)); ok {
				together, labels = append(together, hot), w.said.TwinLetters
			}
		}
		if g != group {
			group, q.Group = g, g
		}
		var paths []string
		for _, f := range together {
			done[f.Path] = true
			paths = append(paths, f.Path)
			q.Must = q.Must || w.form.Weight(f) == survey.Blocks
		}
		q.Text = w.numbered(q.Text, paths...)
		if q.Choices = w.words(f); len(q.Choices) > 0 {
			if labels[0] != "" {
				q.Letters = labels
			}
			for _, path := range paths {
				q.Ticked = append(q.Ticked, w.ticked(q.Choices, f, path))
			}
		} else {
			for i, f := range together {
				q.Boxes = append(q.Boxes, w.box(f, labels[i]))
			}
		}
		qs = append(qs, q)
		qs = append(qs, w.photo(paths[0])...)
	}
	return qs
}

// photo asks for a picture beside the answer that it shows.
func (w writer) photo(path string) []page.Question {
	shows := w.paper.Photos[path]
	if shows == "" || w.form.Part != survey.Surveyor {
		return nil
	}
	return []page.Question{{Photo: true, Text: w.region.Text(strings.Replace(w.paper.Photo, "{shows}", shows, 1)), Boxes: []page.Box{{Label: w.region.Text(w.paper.PhotoLabel)}}}}
}

// list is a table of a list's items, those known printed in.
func (w writer) list(l survey.Field) (title string, b page.Blank) {
	members := survey.Members(l)
	title, _ = w.text(l)
	title = w.numbered(title, l.Path)
	for _, f := range members {
		head, _ := w.text(f)
		if unit := f.Unit(w.form.Units); unit != "" {
			head += " [" + unit + "]"
		}
		b.Heads = append(b.Heads, head)
	}
	for i := 0; w.form.Known != nil && w.form.Known.Has(fmt.Sprintf("%s[%d]", l.Path, i)); i++ {
		var row []string
		for _, f := range members {
			row = append(row, w.known(strings.Replace(f.Path, "[]", fmt.Sprintf("[%d]", i), 1)))
		}
		b.Known = append(b.Known, row)
	}
	b.Rows = max(blanks[l.Path], len(b.Known)+1)
	if len(members) == 2 { // two items a line
		b.Heads = append(b.Heads, b.Heads...)
		var pairs [][]string
		for pair := range slices.Chunk(b.Known, 2) {
			pairs = append(pairs, slices.Concat(pair...))
		}
		b.Known, b.Rows = pairs, (b.Rows+1)/2
	}
	return title, b
}

// blanks is how many empty lines each list gets.
var blanks = map[string]int{
	"space.path": 6, "demand.glasses": 4, "power.other_loads": 2, "heater.other_draws": 2, "drain.shares": 2, "photos": 2,
}
