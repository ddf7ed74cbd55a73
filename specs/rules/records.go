package rules

import (
	"firstfill/specs/check"
	"fmt"
	"math"
	"strconv"

	"firstfill/specs/trade"
	"firstfill/survey"
)

var records = []*Check{SurveyAge, DeliveryDate, SurveyBacking, CodesNamed, PeopleNamed, SpreadsStated, OddAnswers}

// How long a survey is believed. Bars are rebuilt and re-piped between seasons.
const (
	surveyFreshDays = 90  // common practice, no source
	surveyStaleDays = 365 // common practice, no source
)

var recordSource = []trade.Source{recordPractice}

var recordPractice = trade.Source{Document: "Age and backing of a site survey", Mark: trade.CommonPractice}

// SurveyAge compares the day of the survey with the day of the report.
var SurveyAge = &Check{
	ID:      "R-01",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Title:   "age of the survey",
	Why:     "Circuits, pipes and counters are changed between a survey and a delivery; an old reading describes another bar.",
	Formula: "A = D - S, in days; D the date of this report, S the day of the survey",
	Range:   "survey day no later than the report",
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.SurveyedOn.Path(): "2026-11-02"}, Verdict: OK, Shows: "A = 8 days"},
	Applies: func(c *Case) string {
		if !c.Today.Known() {
			return "this report carries no date"
		}
		return ""
	},
	Run: func(c *Case) Outcome {
		var path = ask.Site.SurveyedOn
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		age := ask.Site.SurveyedOn.Of(c).DaysUntil(c.Today)
		have, want := recordDays(age)+" old", "at most "+recordDays(surveyFreshDays)+" old"
		out := check.Choice(true, have, want, "", path)
		switch {
		case age < 0:
			out = check.Rule("dated "+recordDays(-age)+" after this report", want,
				fmt.Sprintf("correct the survey's date, %s: it lies after the date of this report, %s", ask.Site.SurveyedOn.Of(c), c.Today), path)
		case age > surveyStaleDays:
			out = check.Choice(false, have, want, fmt.Sprintf("survey the site again: %s is more than %s", recordDays(age), recordDays(surveyStaleDays)), path)
		case age > surveyFreshDays:
			out = check.Rule(have, want, fmt.Sprintf("walk the site again and confirm that nothing has changed in the %s since the survey", recordDays(age)), path)
		}
		if age >= 0 {
			out.Margin = recordMargin(surveyFreshDays-age, "to spare", "too old")
		}
		out.Working = []Step{
			{"S", "day of the survey", ask.Site.SurveyedOn.Of(c).String()},
			{"D", "date of this report", c.Today.String()},
			{"A", "age of the survey, D - S", recordDays(age)},
			{"A max", "longest that a survey is believed unseen", recordDays(surveyFreshDays)},
		}
		return out
	},
}

// DeliveryDate sees that the survey comes before the delivery.
var DeliveryDate = &Check{
	ID:      "R-02",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Title:   "delivery date against survey date",
	Why:     "What a trade must put right needs a day by which it must be done; without one the machine arrives at an unready bar.",
	Formula: "T = L - S, in days; L the day of delivery, S the day of the survey",
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.SurveyedOn.Path(): "2026-11-02", ask.Site.DeliveryOn.Path(): "2026-12-14"}, Verdict: OK, Shows: "T = 42 days"},
	Run: func(c *Case) Outcome {
		on, seen := ask.Site.DeliveryOn, ask.Site.SurveyedOn
		if out, lacks := c.Lacking(on, seen); lacks {
			return out
		}
		s := ask.Site
		lead, left := s.SurveyedOn.Of(c).DaysUntil(s.DeliveryOn.Of(c)), c.Today.DaysUntil(s.DeliveryOn.Of(c))
		have, want := "delivery "+recordDays(lead)+" after the survey", "delivery after the survey"
		out := check.Choice(true, have, want, "", on, seen)
		switch {
		case lead < 0:
			out = check.Choice(false, "delivery "+recordDays(-lead)+" before the survey", want,
				fmt.Sprintf("correct one of the two dates: delivery on %s lies before the survey of %s", s.DeliveryOn.Of(c), s.SurveyedOn.Of(c)), on, seen)
		case left < 0:
			out = check.Rule("delivery "+recordDays(-left)+" ago", "delivery still to come",
				fmt.Sprintf("say whether the machine was delivered on %s; if not, set the new date", s.DeliveryOn.Of(c)), on)
		}
		out.Margin = recordMargin(lead, "between the two", "too early")
		out.Working = []Step{
			{"S", "day of the survey", s.SurveyedOn.Of(c).String()},
			{"L", "day of delivery", s.DeliveryOn.Of(c).String()},
			{"T", "days from survey to delivery, L - S", recordDays(lead)},
			{"T left", "days from this report to delivery", recordDays(left)},
		}
		return out
	},
}

// SurveyBacking asks who surveyed and for photographs.
var SurveyBacking = &Check{
	ID:      "R-03",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Title:   "surveyor named and photographs kept",
	Why:     "A doubtful reading can only be settled from afar with a photograph and somebody to ask.",
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Photos.Path(): "[]"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Site.SurveyedBy); lacks {
			return out
		}
		const want = "the surveyor's name and at least one photograph"
		n := len(ask.Photos.Of(c))
		if n == 0 {
			return check.Rule("surveyed by "+ask.Site.SurveyedBy.Of(c)+", no photographs", want,
				"photograph the panel with its cover on, the water connections, the drain, the opening and the way in, and list the files under photos", ask.Photos)
		}
		photos := "1 photograph"
		if n > 1 {
			photos = fmt.Sprintf("%d photographs", n)
		}
		return check.Choice(true, "surveyed by "+ask.Site.SurveyedBy.Of(c)+", "+photos, want, "", ask.Site.SurveyedBy, ask.Photos)
	},
}

// CodesNamed asks for the editions in force and for the authority.
var CodesNamed = &Check{
	ID:      "R-04",
	Trade:   Owner,
	Stage:   BeforeOrder,
	Title:   "code editions and authority named",
	Why:     "The limits that are checked here differ between code editions and local amendments; only the authority having jurisdiction says which are in force.",
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Codes.Plumbing.Path(): "other"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		at := []survey.Ref{ask.Codes.Electrical, ask.Codes.Plumbing, ask.Codes.PlumbingEdition, ask.Codes.Authority}
		if out, lacks := c.Lacking(at...); lacks {
			return out
		}
		k := ask.Codes
		have := fmt.Sprintf("%s, %s %s, %s", k.Electrical.Of(c), k.Plumbing.Of(c), k.PlumbingEdition.Of(c), k.Authority.Of(c))
		const want = "electrical and plumbing code with editions that the program knows, and the authority"
		iec := k.Electrical.Of(c) == "iec-60364" || k.Electrical.Of(c) == "bs-7671"
		switch {
		case iec != (c.Machine.Basis == "iec"):
			return check.Rule(have, want, fmt.Sprintf("ask the authority whether it accepts a machine whose sheet is written for %s under %s",
				map[bool]string{true: "IEC practice", false: "the NEC"}[c.Machine.Basis == "iec"], k.Electrical.Of(c)), ask.Codes.Electrical)
		case k.Plumbing.Of(c) == "other":
			return check.Rule(have, want, "show the drain and water findings to the authority: its plumbing code is none of those that are checked here", ask.Codes.Plumbing)
		}
		return check.Choice(true, have, want, "", at...)
	},
}

// PeopleNamed asks for the contact and for the licensed trades.
var PeopleNamed = &Check{
	ID:      "R-05",
	Trade:   Owner,
	Stage:   RoughIn,
	Title:   "contact and licensed trades named",
	Why:     "Each sheet of the packet needs somebody who takes it; work on power and water belongs to licensed trades.",
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.Plumber.Path(): "unknown"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Site.Contact); lacks {
			return out
		}
		at := []survey.Ref{ask.Site.Phone, ask.Site.Electrician, ask.Site.Plumber}
		names := []string{"a telephone number of the contact", "a licensed electrician", "a licensed plumber"}
		var gone []string
		var where []survey.Ref
		for i, p := range at {
			if !p.Known(c) {
				gone, where = append(gone, names[i]), append(where, p)
			}
		}
		const want = "a contact with telephone number, a licensed electrician and a licensed plumber"
		if len(gone) > 0 {
			return check.Rule("not named: "+recordListed(gone), want, "name "+recordListed(gone), where...)
		}
		return check.Choice(true, "all named", want, "", append(at, ask.Site.Contact)...)
	},
}

// SpreadsStated counts the readings whose uncertainty the surveyor wrote. It
// lists no answers in Uses: it reads none of their values, only whether ± stands behind them.
var SpreadsStated = &Check{
	ID:    "R-06",
	Trade: Supplier,
	Stage: BeforeOrder,
	Title: "uncertainty of the readings",
	Why:   "Where none is written the instrument's usual uncertainty is taken; a close result then rests on an assumption.",

	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Static.Path(): "62 ± 1 psi"}, Verdict: OK},
	Run: func(c *Case) Outcome {
		stated, all := statedReadings(c)
		if all == 0 {
			return noReadings(c)
		}
		const want = "an uncertainty of its own on at least one reading"
		have := fmt.Sprintf("%d of %d readings state their own uncertainty, %d take their instrument's", stated, all, all-stated)
		out := check.Choice(true, have, want, "")
		if stated == 0 {
			out = check.Rule(have, want, "write how exact the instruments were behind the readings that decide, as \"62 ± 1 psi\"; or confirm that the usual figures hold for them")
		}
		out.Working = []Step{
			{"N", "measured readings", strconv.Itoa(all)},
			{"n", "of these with an uncertainty of their own", strconv.Itoa(stated)},
			{"N - n", "with their instrument's usual uncertainty, assumed", strconv.Itoa(all - stated)},
		}
		return out
	},
}

// statedReadings counts the measured answers, and those of them with an uncertainty of their own.
func statedReadings(c *Case) (stated, all int) {
	for _, in := range c.Survey.Adjustables(recordSections) {
		if in.Instrument == "" {
			continue
		}
		all++
		if in.Stated {
			stated++
		}
	}
	return stated, all
}

// noReadings is the outcome of a site at which nothing was measured.
func noReadings(c *Case) Outcome {
	return Outcome{Verdict: Missing, Have: check.FactOf(check.Raw("no measured reading")), Want: check.FactOf(check.Raw("measured readings")),
		Action: check.Raw("measure the site with the questionnaire in hand"), Margin: Margin{Value: math.NaN()}}
}

// recordSections are the sections that hold measured readings.
var recordSections = func() []string {
	var names []string
	seen := map[string]bool{}
	for _, f := range survey.Fields() {
		if f.Tool != "" && !seen[f.Section] {
			seen[f.Section] = true
			names = append(names, f.Section)
		}
	}
	return names
}()

func recordDays(n int) string {
	if n == 1 || n == -1 {
		return fmt.Sprintf("%d day", n)
	}
	return fmt.Sprintf("%d days", n)
}

func recordMargin(days int, inside, outside string) Margin {
	if days < 0 {
		return Margin{Text: recordDays(-days) + " " + outside, Value: float64(days)}
	}
	return Margin{Text: recordDays(days) + " " + inside, Value: float64(days)}
}

// recordListed joins words as a sentence does: "a, b and c".
func recordListed(words []string) string {
	text := ""
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			text += " and "
		default:
			text += ", "
		}
		text += w
	}
	return text
}
