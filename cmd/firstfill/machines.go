package main

import (
	"bytes"
	"fmt"

	"firstfill/render/pdf"
	"firstfill/render/terminal"
	"firstfill/specs"
	"firstfill/specs/rules"
	"firstfill/survey/quantity/doc"
)

type machinesCmd struct {
	Key     string   `arg:"" optional:"" help:"Key of a machine; left out, all are listed. Or check: look at your own sheets."`
	Files   []string `arg:"" optional:"" help:"After check: requirement sheets to look at."`
	Output  string   `short:"o" placeholder:"FILE" help:"Print the machine's requirement sheet on one page: a PDF file, or - for standard output."`
	Replace bool     `help:"Overwrite the file."`
	library
	printed
	dated
	shown
}

// Run lists the machines, shows one requirement sheet, or prints it.
func (c *machinesCmd) Run(a *app) error {
	if c.Key == "check" {
		return c.check(a)
	}
	if len(c.Files) > 0 {
		return badInput("machines shows one machine; name one key, or say check before the files")
	}
	lib, err := c.library.open(a)
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

// check looks at requirement sheets: their faults, and which checks they serve
// and lack.
func (c *machinesCmd) check(a *app) error {
	if len(c.Files) == 0 {
		return badInput("name the sheets: firstfill machines check FILE...")
	}
	var faults doc.Problems
	var b bytes.Buffer
	for _, file := range c.Files {
		data, err := readFile(file)
		if err != nil {
			return err
		}
		m, problems := specs.Load(file, data)
		if len(problems) > 0 {
			faults = append(faults, problems...)
			continue
		}
		var hides *specs.Machine
		for _, own := range specs.Builtin().Machines() {
			if own.Key == m.Key {
				hides = own
			}
		}
		served, err := rules.ServedBy(m)
		if err != nil {
			return err
		}
		terminal.Served(&b, file, m, hides != nil, served)
	}
	if err := a.give("", b.Bytes(), false); err != nil {
		return err
	}
	if len(faults) > 0 {
		return inputError{faults}
	}
	return nil
}
