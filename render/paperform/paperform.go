// Package paperform prints the blank questionnaire for a survey on paper, in
// walking order, on at most four pages.
package paperform

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"firstfill/render/page"
	wording "firstfill/render/words"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// Options of a paper form.
type Options struct {
	Paper string // "letter" or "a4"
	Date  time.Time
	Form  survey.FormFor
}

// Write lays the form out.
func Write(o Options) ([]byte, error) {
	d, err := layOut(o)
	if err != nil {
		return nil, err
	}
	return d.Bytes()
}

func layOut(o Options) (*page.Doc, error) {
	words, err := templates.SurveyWords()
	if err != nil {
		return nil, err
	}
	region := templates.For(o.Form.Units)
	part := words.Part(string(o.Form.Part), region)
	paper := page.Letter
	if o.Paper == "a4" {
		paper = page.A4
	}
	name := o.Form.Name
	if name == "" {
		name = "any machine"
	}
	numbers := o.Form.Numbers()
	return page.New(page.Options{
		Paper: paper, Title: part.Title + ", " + name, Date: o.Date,
		Header: page.Line{Left: part.Title + " · " + name, Right: siteLine(o.Form.Known)},
		Footer: page.Line{Left: region.Text(words.Disclaimer)},
		Number: wording.Reader{Units: o.Form.Units}.PageNumber,
	}, func(d *page.Doc) {
		d.Title(part.Title, name, "SURVEY")
		d.StyledParagraph(part.HowTo, page.Small)
		if len(part.Cautions) > 0 {
			d.Caution(part.Cautions...)
		}
		if len(part.Tools) > 0 {
			d.StyledParagraph("Bring: "+strings.Join(part.Tools, ", ")+".", page.Small)
		}
		for _, st := range survey.Stations {
			plain, lists := survey.AskedAt(st.Key, o.Form)
			if len(plain)+len(lists) == 0 {
				continue
			}
			d.Heading(2, st.Name)
			if len(plain) > 0 {
				d.Questions(questions(plain, o.Form, numbers, words)...)
			}
			for _, l := range lists {
				title, heads, n := list(l, o.Form.Units)
				if q := numbers[l.Path]; q > 0 {
					title = fmt.Sprintf("%d  %s", q, title)
				}
				d.Blanks(title, heads, n, rowHeight(o.Form))
			}
		}
	})
}

// siteLine says which site the form is for, or leaves room to write it.
func siteLine(s *survey.Survey) string {
	if s == nil || s.Site.Name == "" {
		return "site ______________________________"
	}
	return s.Site.Name
}

// rowHeight is that of a list's lines, mm: a part has room for any hand.
func rowHeight(f survey.FormFor) float64 {
	if f.Part != survey.Whole {
		return 8
	}
	return 0
}

// twin is the same question asked of the hot line.
func twin(path string) string {
	if rest, ok := strings.CutPrefix(path, "water.cold."); ok {
		return "water.hot." + rest
	}
	return ""
}

// questions turns fields into questions, headed by the group they lie in. On a
// part, what is asked of the cold line and the hot one alike stands once, with
// a box for each.
func questions(fs []survey.Field, form survey.FormFor, numbers map[string]int, words *templates.Surveyor) []page.Question {
	region := templates.For(form.Units)
	var qs []page.Question
	group := ""
	joined := map[string]bool{}
	asked := func(path string) bool {
		return slices.ContainsFunc(fs, func(f survey.Field) bool { return f.Path == path })
	}
	for _, f := range fs {
		if joined[f.Path] {
			continue
		}
		other := twin(f.Path)
		both := form.Part != survey.Whole && other != "" && asked(other)
		joined[other] = both
		f = f.In(form.Units)
		f.Ask, f.How = region.Text(f.Ask), region.Text(f.How)
		q := page.Question{Must: form.Weight(f) == survey.Blocks, Text: f.Ask, Hint: f.How, Unit: f.Unit(form.Units), Choices: f.Choices}
		g := f.Group()
		if both {
			g = words.Twins
		}
		if g != group {
			group, q.Group = g, g
		}
		q.Tall = form.Part != survey.Whole
		_, plain, ok := strings.Cut(f.Ask, ": ")
		if ok && f.Section == "water" {
			q.Text = strings.ToUpper(plain[:1]) + plain[1:] // the group's heading says which water
		}
		q.Short = f.Plain()
		if f.YesNo() {
			q.Choices = []string{"yes", "no"}
		}
		switch n := numbers[f.Path]; {
		case both:
			q.Text = fmt.Sprintf("%d, %d  %s", n, numbers[other], q.Text)
			q.Twins = words.TwinLetters
			q.Hint = strings.Join(append(q.Choices, slices.DeleteFunc([]string{q.Hint}, func(s string) bool { return s == "" })...), "; ")
			q.Choices = nil
		case n > 0:
			q.Text = fmt.Sprintf("%d  %s", n, q.Text)
		}
		qs = append(qs, q)
	}
	return qs
}

// list is a blank table of a list's items.
func list(l survey.Field, u quantity.System) (title string, heads []string, n int) {
	members := survey.Members(l)
	if len(members) == 2 {
		members = append(members, members...) // two items a line
	}
	for _, f := range members {
		head := templates.For(u).Text(f.Ask)
		if unit := f.Unit(u); unit != "" {
			head += " [" + unit + "]"
		}
		heads = append(heads, head)
	}
	return templates.For(u).Text(l.Ask), heads, blanks[l.Path]
}

// blanks is how many empty lines each list gets.
var blanks = map[string]int{
	"space.path": 6, "demand.glasses": 4, "power.other_loads": 2, "heater.other_draws": 1, "drain.shares": 1, "photos": 3,
}
