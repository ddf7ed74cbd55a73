package main

import (
	"bytes"
	"fmt"

	"firstfill/render/pdf"
	"firstfill/render/terminal"
)

type machinesCmd struct {
	Key     string `arg:"" optional:"" help:"Key of a machine; left out, all are listed."`
	Output  string `short:"o" placeholder:"FILE" help:"Print the machine's requirement sheet on one page: a PDF file, or - for standard output."`
	Replace bool   `help:"Overwrite the file."`
	library
	printed
	dated
	shown
}

// Run lists the machines, shows one requirement sheet, or prints it.
func (c *machinesCmd) Run(a *app) error {
	lib, err := c.library.open()
	if err != nil {
		return err
	}
	if c.Key == "" {
		if c.Output != "" {
			return badInput("-o prints one machine's sheet; name its key")
		}
		var b bytes.Buffer
		terminal.Machines(&b, lib.Machines())
		return a.give("", b.Bytes(), false)
	}
	m, err := lib.Machine(c.Key)
	if err != nil {
		return inputError{err}
	}
	if c.Output == "" {
		var b bytes.Buffer
		terminal.Machine(&b, m, c.system())
		return a.give("", b.Bytes(), false)
	}
	today, err := c.today(a)
	if err != nil {
		return err
	}
	o, err := c.options(a, nil)
	if err != nil {
		return err
	}
	o.Units, o.Date = c.system(), today
	sheet, warnings, err := pdf.MachineSheet(m, o)
	if err != nil {
		return fmt.Errorf("laying out the sheet: %w", err)
	}
	for _, w := range warnings {
		warn(a.err, "%s", w)
	}
	return a.give(c.Output, sheet, c.Replace)
}
