// Package wordstest reads printed texts for what no sheet should say. Only
// tests use it. Start with Faults.
package wordstest

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"firstfill/render/words"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/survey"
	"firstfill/survey/quantity"
	"firstfill/templates"
)

// broken is the trace of a phrase that isn't there, or of a blank that nothing
// fills: <a name>, {a name}, "nothing ." or "( )".
var broken = regexp.MustCompile(`<[a-zA-Z][\w.-]*>|\{[a-z0-9]*\}|[^.… ] [.,;:](?: |$)|\( |\(\)| \)|%!`)

type finders struct{ us, british, code *regexp.Regexp }

var find = sync.OnceValue(func() finders {
	rows, err := templates.RegionRows()
	if err != nil {
		panic(err)
	}
	var us, british, codes []string
	for _, r := range rows {
		us = append(us, r.US)
		if r.Other == "" {
			british = append(british, r.British)
		}
	}
	for _, f := range survey.Fields() {
		for _, c := range f.Choices {
			if w := (words.Reader{}).Word(c); strings.Contains(c, "-") && !strings.Contains(w, c) {
				codes = append(codes, regexp.QuoteMeta(c))
			}
		}
	}
	return finders{whole(us), whole(british), regexp.MustCompile(`(?:^|[ (:,;])(?:` + strings.Join(codes, "|") + `)(?:$|[ ),:;.])`)}
})

func whole(words []string) *regexp.Regexp {
	for i, w := range words {
		words[i] = regexp.QuoteMeta(w)
	}
	return regexp.MustCompile(`(?i)\b(?:` + strings.Join(words, "|") + `)\b`)
}

// Faults finds words of the other English, answers' codes and broken texts in
// what is printed in these units.
func Faults(u quantity.System, text string) []string {
	f := find()
	foreign := f.british
	if u == quantity.SI {
		foreign = f.us
	}
	var list []string
	for _, re := range []*regexp.Regexp{foreign, f.code, broken} {
		if found := re.FindString(text); found != "" {
			list = append(list, found)
		}
	}
	return list
}

// NotOurs takes out of a text on one line what people wrote, and the titles of
// sources.
func NotOurs(p *plan.Plan) *strings.Replacer {
	theirs := map[string]bool{}
	add := func(text string) {
		if text = strings.Join(strings.Fields(text), " "); len(text) > 4 {
			theirs[text] = true
		}
	}
	for _, a := range p.Found.Survey.Answers() {
		if len(survey.FieldAt(a.Path).Choices) == 0 {
			add(a.Text)
		}
		add(a.Note)
		add(a.Source)
	}
	say := words.Reader{}
	for _, r := range []*check.Report{p.Report(), p.Proven()} {
		for _, f := range r.Findings {
			for _, s := range strings.Split(say.Tell(f, r.Machine).Source, "; ") {
				add(s)
			}
		}
	}
	var pairs []string
	for _, text := range slices.SortedFunc(maps.Keys(theirs), func(a, b string) int { return len(b) - len(a) }) {
		pairs = append(pairs, text, "…")
	}
	return strings.NewReplacer(pairs...)
}
