package main

import (
	"bytes"
	"strings"

	"firstfill/render/terminal"
	"firstfill/specs/rules"
)

type explainCmd struct {
	ID string `arg:"" optional:"" help:"Id of a check, such as D-01; left out, all are listed."`
}

// Run explains one check, or lists them all.
func (c *explainCmd) Run(a *app) error {
	var b bytes.Buffer
	if c.ID == "" {
		terminal.Checks(&b, rules.All)
		return a.give("", b.Bytes(), false)
	}
	k := rules.ByID(strings.ToUpper(c.ID))
	if k == nil {
		return badInput("there is no check %q; \"firstfill explain\" lists them", c.ID)
	}
	terminal.Explain(&b, k, rules.Reads(k))
	return a.give("", b.Bytes(), false)
}
