package main

import (
	"firstfill/render/jsonreport"
	"firstfill/render/terminal"
	"firstfill/specs/rules"
)

type checkCmd struct {
	Site   string `arg:"" help:"Questionnaire (.yaml, .json or .xlsx), - for standard input, or demo."`
	Format string `enum:"text,json" default:"text" help:"text or json."`
	All    bool   `help:"Print what is in order in full, too."`
	library
	dated
	shown
}

// Run checks the site and prints the punch list.
func (c *checkCmd) Run(a *app) error {
	r, _, err := evaluate(a, c.Site, c.library, c.dated, c.shown)
	if err != nil {
		return err
	}
	if c.Format == "json" {
		err = jsonreport.Write(a.out, r)
	} else {
		err = terminal.Report(a.out, r, terminal.Options{Color: color(a, a.out), All: c.All})
	}
	if err == nil && r.Verdict.Blocks() {
		return errBlocked
	}
	return err
}

// evaluate reads a site and runs every check on it.
func evaluate(a *app, site string, l library, d dated, s shown) (*rules.Report, *source, error) {
	today, err := d.today(a)
	if err != nil {
		return nil, nil, err
	}
	lib, err := l.open()
	if err != nil {
		return nil, nil, err
	}
	src, err := a.open(site, lib)
	if err != nil {
		return nil, nil, err
	}
	return rules.Evaluate(src.survey, src.machine, rules.Options{Today: today, Units: s.system()}), src, nil
}
