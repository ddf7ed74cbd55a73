// Package paperform prints the blank questionnaire for a survey on paper, in
// walking order, on at most four pages.
package paperform

import (
	"strings"
	"time"

	"firstfill/render/page"
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
	words = templates.In(region, words)
	paper := page.Letter
	if o.Paper == "a4" {
		paper = page.A4
	}
	name := o.Form.Name
	if name == "" {
		name = "any machine"
	}
	return page.New(page.Options{
		Paper: paper, Title: "Site questionnaire, " + name, Date: o.Date,
		Header: page.Line{Left: "Site questionnaire · " + name, Right: "site ______________________________"},
		Footer: page.Line{Left: words.Disclaimer},
	}, func(d *page.Doc) {
		d.Title("Site questionnaire", name, "SURVEY")
		d.StyledParagraph(words.HowTo, page.Small)
		d.Caution(words.Cautions...)
		d.StyledParagraph("Bring: "+strings.Join(words.Tools, ", ")+".", page.Small)
		for _, st := range survey.Stations {
			plain, lists := survey.AskedAt(st.Key, o.Form)
			if len(plain)+len(lists) == 0 {
				continue
			}
			d.Heading(2, st.Name)
			if len(plain) > 0 {
				d.Questions(questions(plain, o.Form)...)
			}
			for _, l := range lists {
				d.Blanks(list(l, o.Form.Units))
			}
		}
	})
}

// questions turns fields into questions, headed by the group they lie in.
func questions(fs []survey.Field, form survey.FormFor) []page.Question {
	region := templates.For(form.Units)
	var qs []page.Question
	group := ""
	for _, f := range fs {
		f.Ask, f.How = region.Text(f.Ask), region.Text(f.How)
		q := page.Question{Must: form.Blocks[f.Path] || f.Needed, Text: f.Ask, Hint: f.How, Unit: f.Unit(form.Units), Choices: f.Choices}
		if g := f.Group(); g != group {
			group, q.Group = g, g
		}
		_, plain, ok := strings.Cut(f.Ask, ": ")
		if ok && f.Section == "water" {
			q.Text = strings.ToUpper(plain[:1]) + plain[1:] // the group's heading says which water
		}
		q.Short = f.Plain()
		if f.YesNo() {
			q.Choices = []string{"yes", "no"}
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
