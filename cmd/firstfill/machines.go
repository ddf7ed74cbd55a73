package main

import (
	"bytes"

	"firstfill/render/terminal"
)

type machinesCmd struct {
	Key string `arg:"" optional:"" help:"Key of a machine; left out, all are listed."`
	library
	shown
}

// Run lists the machines or shows one requirement sheet.
func (c *machinesCmd) Run(a *app) error {
	lib, err := c.library.open()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if c.Key == "" {
		terminal.Machines(&b, lib.Machines())
		return a.give("", b.Bytes(), false)
	}
	m, err := lib.Machine(c.Key)
	if err != nil {
		return inputError{err}
	}
	terminal.Machine(&b, m, c.system())
	return a.give("", b.Bytes(), false)
}
