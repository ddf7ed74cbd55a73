package main

import (
	"firstfill/render/jsonreport"
	"firstfill/render/terminal"
	"firstfill/specs/check"
	"firstfill/specs/plan"
	"firstfill/specs/rules"
	"firstfill/survey"
	"strings"
)

type checkCmd struct {
	Site   string            `arg:"" help:"Questionnaire (.yaml, .json or .xlsx), - for standard input, or demo."`
	Format string            `enum:"text,json" default:"text" help:"text or json."`
	All    bool              `help:"Print every finding in full too, with its working, sources and other ways."`
	Trade  string            `enum:",electrician,plumber,builder,owner,supplier" default:"" help:"Print only this trade's part: electrician, plumber, builder, owner or supplier."`
	Others bool              `name:"other-machines" help:"Let the plan order another machine of the library where nothing on this site cures a fault."`
	Choose map[string]string `placeholder:"ID=WAY" help:"Plan with this way for a finding, as the alternatives name it."`
	library
	dated
	shown
}

// Run checks the site and prints its state and its plan.
func (c *checkCmd) Run(a *app) error {
	p, src, err := c.planned(a)
	if err != nil {
		return err
	}
	if c.Format == "json" {
		err = jsonreport.Write(a.out, p, src.unread, c.system())
	} else {
		err = terminal.Report(a.out, p, terminal.Options{Color: color(a, a.out), All: c.All, Trade: check.Trade(c.Trade), Units: c.system(), Width: width(a.out), Unread: src.unread})
	}
	if err == nil && p.Report().Verdict.Blocks() {
		return errBlocked
	}
	return err
}

func (c *checkCmd) planned(a *app) (*plan.Plan, *source, error) {
	j, src, err := judge(a, c.Site, c.library, c.dated, c.shown)
	if err != nil {
		return nil, nil, err
	}
	if misfits := plan.Misfits(j, c.chosen()); len(misfits) > 0 {
		return nil, nil, inputError{misfits[0]}
	}
	if len(c.Choose) > 0 {
		if err := c.keep(a, src); err != nil {
			return nil, nil, err
		}
	}
	return a.find(j, src, plan.Options{Machines: c.Others}), src, nil
}

// find plans a site with the ways that its questionnaire holds, and says which
// of them the site doesn't offer.
func (a *app) find(j *check.Judged, src *source, o plan.Options) *plan.Plan {
	chosen := src.survey.Chosen()
	for _, m := range plan.Misfits(j, chosen) {
		warn(a.err, "choices in the questionnaire: %v", m)
	}
	o.Choices = chosen
	return plan.Find(j, o)
}

// chosen are the ways of the command line, by check id.
func (c *checkCmd) chosen() map[string]string {
	ways := map[string]string{}
	for id, way := range c.Choose {
		ways[strings.ToUpper(strings.TrimSpace(id))] = strings.TrimSpace(way)
	}
	return ways
}

// keep writes the chosen ways into the questionnaire, where it is a file of its
// own, so that later packets keep them.
func (c *checkCmd) keep(a *app, src *source) error {
	setting := src.survey.Choosing(c.chosen())
	chosen, _, err := src.survey.With(setting)
	if err != nil {
		return inputError{err}
	}
	src.survey = chosen
	if src.text == nil || c.Site == "-" || c.Site == "demo" {
		warn(a.err, "the choice holds for this run only; write choices: %q into the questionnaire to keep it", setting.Text())
		return nil
	}
	text, problems := survey.Edit(c.Site, src.text, []survey.Change{{Path: setting.Path(), Value: setting.Text()}})
	if err := problems.Err(); err != nil {
		return inputError{err}
	}
	return write(c.Site, text, true)
}

// judge reads a site and runs every check on it.
func judge(a *app, site string, l library, d dated, s shown) (*check.Judged, *source, error) {
	today, err := d.today(a)
	if err != nil {
		return nil, nil, err
	}
	lib, err := l.open(a)
	if err != nil {
		return nil, nil, err
	}
	src, err := a.open(site, lib)
	if err != nil {
		return nil, nil, err
	}
	src.sift(a)
	return rules.Judge(src.survey, src.machine, check.Options{Today: today, Machines: lib.Machines}), src, nil
}
