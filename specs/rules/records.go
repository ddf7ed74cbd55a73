package rules

import (
	"firstfill/specs/check"
	"math"
	"slices"
	"strings"

	"firstfill/specs/trade"
	"firstfill/survey"
)

var records = []*Check{SurveyAge, DeliveryDate, SurveyBacking, CodesNamed, PeopleNamed, SpreadsStated, OddAnswers, SecondMachine}

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
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.SurveyedOn.Path(): "2026-11-02"}, Verdict: OK, Shows: "A = 8 days"},
	Skip: func(c *Case) check.Phrase {
		if !c.Today.Known() {
			return check.Say("R-01.skip")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		var path = ask.Site.SurveyedOn
		if out, lacks := c.Lacking(path); lacks {
			return out
		}
		age := ask.Site.SurveyedOn.Of(c).DaysUntil(c.Today)
		have, want := any(check.Say("R-01.have", "recorddays", days(age))), any(check.Say("R-01.want", "recorddays", days(surveyFreshDays)))
		out := check.Choice(true, have, want, check.Phrase{}, path)
		switch {
		case age < 0:
			out = check.Rule(check.Say("R-01.have2", "recorddays", days(-age)), want,
				check.Say("R-01.do", "surveyedon", ask.Site.SurveyedOn.Of(c), "today", c.Today), path)
		case age > surveyStaleDays:
			out = check.Choice(false, have, want, check.Say("R-01.do2", "recorddays", days(age), "recorddays2", days(surveyStaleDays)), path)
		case age > surveyFreshDays:
			out = check.Rule(have, want, check.Say("R-01.do3", "recorddays", days(age)), path)
		}
		if age >= 0 {
			out.Margin = recordMargin(surveyFreshDays-age, "margin.spare", "R-01.old")
		}
		out.Working = []Step{
			entry("S", check.Say("R-01.step"), ask.Site.SurveyedOn.Of(c)),
			entry("D", check.Say("R-01.step2"), c.Today),
			entry("A", check.Say("R-01.step3"), days(age)),
			entry("A max", check.Say("R-01.step4"), days(surveyFreshDays)),
		}
		return out
	},
}

// DeliveryDate sees that the survey comes before the delivery.
var DeliveryDate = &Check{
	ID:      "R-02",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.SurveyedOn.Path(): "2026-11-02", ask.Site.DeliveryOn.Path(): "2026-12-14"}, Verdict: OK, Shows: "T = 42 days"},
	Run: func(c *Case) Outcome {
		on, seen := ask.Site.DeliveryOn, ask.Site.SurveyedOn
		if out, lacks := c.Lacking(on, seen); lacks {
			return out
		}
		s := ask.Site
		lead, left := s.SurveyedOn.Of(c).DaysUntil(s.DeliveryOn.Of(c)), c.Today.DaysUntil(s.DeliveryOn.Of(c))
		have, want := any(check.Say("R-02.have", "recorddays", days(lead))), any(check.Say("R-02.want"))
		out := check.Choice(true, have, want, check.Phrase{}, on, seen)
		switch {
		case lead < 0:
			out = check.Choice(false, check.Say("R-02.have2", "recorddays", days(-lead)), want,
				check.Say("R-02.do", "deliveryon", s.DeliveryOn.Of(c), "surveyedon", s.SurveyedOn.Of(c)), on, seen)
		case left < 0:
			out = check.Rule(check.Say("R-02.have3", "recorddays", days(-left)), check.Say("R-02.want2"),
				check.Say("R-02.do2", "deliveryon", s.DeliveryOn.Of(c)), on)
		}
		out.Margin = recordMargin(lead, "R-02.between", "R-02.early")
		out.Working = []Step{
			entry("S", check.Say("R-01.step"), s.SurveyedOn.Of(c)),
			entry("L", check.Say("R-02.step"), s.DeliveryOn.Of(c)),
			entry("T", check.Say("R-02.step2"), days(lead)),
			entry("T left", check.Say("R-02.step3"), days(left)),
		}
		return out
	},
}

// SurveyBacking asks who surveyed and for photographs.
var SurveyBacking = &Check{
	ID:      "R-03",
	Trade:   Supplier,
	Stage:   BeforeOrder,
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Photos.Path(): "[]"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		if out, lacks := c.Lacking(ask.Site.SurveyedBy); lacks {
			return out
		}
		n := len(ask.Photos.Of(c))
		if n == 0 {
			return check.Rule(check.Say("R-03.have", "surveyedby", check.Word(ask.Site.SurveyedBy.Of(c))), check.Say("R-03.want"),
				check.Say("R-03.do"), ask.Photos)
		}
		photos := any(check.Say("R-03.photos"))
		if n > 1 {
			photos = check.Say("R-03.photos2", "n", n)
		}
		return check.Choice(true, check.Say("R-03.have2", "surveyedby", check.Word(ask.Site.SurveyedBy.Of(c)), "photos", photos), check.Say("R-03.want"), check.Phrase{}, ask.Site.SurveyedBy, ask.Photos)
	},
}

// CodesNamed asks for the editions in force and for the authority.
var CodesNamed = &Check{
	ID:      "R-04",
	Trade:   Owner,
	Stage:   BeforeOrder,
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Codes.Plumbing.Path(): "other"}, Verdict: Confirm},
	Run: func(c *Case) Outcome {
		at := []survey.Ref{ask.Codes.Electrical, ask.Codes.Plumbing, ask.Codes.PlumbingEdition, ask.Codes.Authority}
		if out, lacks := c.Lacking(at...); lacks {
			return out
		}
		k := ask.Codes
		have := any(check.Say("R-04.have", "electrical", check.Word(k.Electrical.Of(c)), "plumbing", check.Word(k.Plumbing.Of(c)), "plumbingedition", check.Word(k.PlumbingEdition.Of(c)), "authority", check.Word(k.Authority.Of(c))))
		iec := k.Electrical.Of(c) == "iec-60364" || k.Electrical.Of(c) == "bs-7671"
		switch {
		case iec != (c.Machine.Basis == "iec"):
			return check.Rule(have, check.Say("R-04.want"), check.Say("R-04.do3", "value", pick(c.Machine.Basis == "iec", check.Say("R-04.do"), check.Say("R-04.do2")), "electrical", check.Word(k.Electrical.Of(c))), ask.Codes.Electrical)
		case k.Plumbing.Of(c) == "other":
			return check.Rule(have, check.Say("R-04.want"), check.Say("R-04.do4"), ask.Codes.Plumbing)
		}
		return check.Choice(true, have, check.Say("R-04.want"), check.Phrase{}, at...)
	},
}

// PeopleNamed asks for the contact and for the licensed trades.
var PeopleNamed = &Check{
	ID:      "R-05",
	Trade:   Owner,
	Stage:   RoughIn,
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
		if len(gone) > 0 {
			return check.Rule(check.Say("R-05.have", "recordlisted", listed(gone)), check.Say("R-05.want"), check.Say("R-05.do", "recordlisted", listed(gone)), where...)
		}
		return check.Choice(true, check.Say("R-05.have2"), check.Say("R-05.want"), check.Phrase{}, append(at, ask.Site.Contact)...)
	},
}

// SecondMachine asks what a second machine at the site shares: its load, its
// discharge and its draws stand under this one's too.
var SecondMachine = &Check{
	ID:      "R-08",
	Trade:   Owner,
	Stage:   RoughIn,
	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Site.SecondAt.Path(): "BW-0418", ask.Site.SecondUses.Path(): "receptor"}, Verdict: Confirm},
	Skip: func(c *Case) check.Phrase {
		if ask.Site.SecondAt.Of(c) == "" {
			return check.Say("R-08.one")
		}
		return check.Phrase{}
	},
	Run: func(c *Case) Outcome {
		at, uses := ask.Site.SecondAt, ask.Site.SecondUses
		second := check.Quote(at.Of(c))
		want := check.Say("R-08.want", "second", second)
		if out, lacks := c.Lacking(uses); lacks {
			return out
		}
		var shared, unlisted check.Listed
		text := strings.ToLower(uses.Of(c))
		for _, thing := range []struct {
			word   string
			list   survey.Ref
			listed bool
		}{
			{"circuit", ask.Power.OtherLoads, named(ask.Power.OtherLoads.Of(c), func(l survey.OtherLoad) string { return l.Name }, at.Of(c))},
			{"receptor", ask.Drain.Shares, named(ask.Drain.Shares.Of(c), func(s survey.Share) string { return s.Name }, at.Of(c))},
			{"heater", ask.Heater.OtherDraws, named(ask.Heater.OtherDraws.Of(c), func(d survey.Draw) string { return d.Name }, at.Of(c))},
			{"softener", ask.Treatment.Others, ask.Treatment.Others.Known(c)},
		} {
			if !strings.Contains(text, thing.word) {
				continue
			}
			shared = append(shared, check.Say("R-08."+thing.word))
			if !thing.listed {
				unlisted = append(unlisted, check.Say("R-08."+thing.word))
			}
		}
		switch {
		case len(unlisted) > 0:
			return check.Rule(check.Say("R-08.unlisted", "second", second, "things", unlisted), want, check.Say("R-08.list", "second", second, "things", unlisted), at, uses)
		case len(shared) > 0:
			return check.Choice(true, check.Say("R-08.listed", "second", second, "things", shared), want, nil, at, uses)
		case text == "none":
			return check.Choice(true, check.Say("R-08.apart", "second", second), want, nil, at, uses)
		}
		return check.Rule(check.Say("R-08.words", "words", check.Quote(uses.Of(c))), want, check.Say("R-08.say"), at, uses)
	},
}

// named says whether an item of a list is called by the reference.
func named[T any](list []T, name func(T) string, reference string) bool {
	return slices.ContainsFunc(list, func(x T) bool {
		return strings.Contains(strings.ToLower(name(x)), strings.ToLower(reference))
	})
}

// SpreadsStated counts the readings whose uncertainty the surveyor wrote. It
// lists no answers in Uses: it reads none of their values, only whether ± stands behind them.
var SpreadsStated = &Check{
	ID:    "R-06",
	Trade: Supplier,
	Stage: BeforeOrder,

	Sources: []trade.Source{recordPractice},
	Example: Example{Machine: "avocet-r36", Given: map[string]string{ask.Water.Cold.Static.Path(): "62 ± 1 psi"}, Verdict: OK},
	Run: func(c *Case) Outcome {
		stated, all := statedReadings(c)
		if all == 0 {
			return noReadings(c)
		}
		have := any(check.Say("R-06.have", "stated", stated, "all", all, "value", all-stated))
		out := check.Choice(true, have, check.Say("R-06.want"), check.Phrase{})
		if stated == 0 {
			out = check.Rule(have, check.Say("R-06.want"), check.Say("R-06.do"))
		}
		out.Working = []Step{
			entry("N", check.Say("R-06.step"), all),
			entry("n", check.Say("R-06.step2"), stated),
			entry("N - n", check.Say("R-06.step3"), all-stated),
		}
		return out
	},
}

// statedReadings counts the measured answers, and those of them with an uncertainty of their own.
func statedReadings(c *Case) (stated, all int) { return c.ReadsAll().Readings() }

// noReadings is the outcome of a site at which nothing was measured.
func noReadings(c *Case) Outcome {
	return Outcome{Verdict: Missing, Have: check.FactOf(check.Say("no-readings.do")), Want: check.FactOf(check.Say("R-06.step")),
		Action: check.Say("no-readings.do2"), Margin: Margin{Value: math.NaN()}}
}

// days is a number of days.
func days(n int) check.Phrase {
	if n == 1 || n == -1 {
		return check.Say("record.day", "n", n)
	}
	return check.Say("record.days", "n", n)
}

func recordMargin(n int, inside, outside string) Margin {
	if n < 0 {
		return Margin{Gap: days(-n), Side: check.Phrase{Name: outside}, Value: float64(n)}
	}
	return Margin{Gap: days(n), Side: check.Phrase{Name: inside}, Value: float64(n)}
}

// listed are names as a sentence lists them.
func listed(names []string) check.Listed {
	l := make(check.Listed, len(names))
	for i, n := range names {
		l[i] = check.Quote(n)
	}
	return l
}
