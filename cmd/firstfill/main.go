// Command firstfill checks a bar's site survey against a glass washer's
// requirement sheet and prints what each trade must do before the machine
// ships. This package only wires: commands, flags, exit codes.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"time"

	"github.com/alecthomas/kong"

	"firstfill/survey"
	"firstfill/survey/quantity"
)

func main() {
	debug.SetGCPercent(400)         // a run is short: memory is cheaper than collecting it,
	debug.SetMemoryLimit(200 << 20) // up to here
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// Exit codes. Only run maps errors to them.
const (
	exitReady   = 0 // nothing blocks
	exitBlocked = 1 // there are FIX or MISSING items
	exitInput   = 2 // the input or the command line is wrong
	exitFailed  = 3 // the program failed
)

// errBlocked is returned by a command that did its work and found blocking items.
var errBlocked = errors.New("there are blocking items")

// An inputError is a fault of the input or the command line.
type inputError struct{ err error }

func (e inputError) Error() string { return e.err.Error() }
func (e inputError) Unwrap() error { return e.err }

func badInput(format string, args ...any) error { return inputError{fmt.Errorf(format, args...)} }

type cli struct {
	Check    checkCmd    `cmd:"" help:"Check a site and print the punch list."`
	Packet   packetCmd   `cmd:"" help:"Write the packet of a site: PDF sheets for each trade and the sign-off workbook."`
	Signoff  signoffCmd  `cmd:"" help:"Read sign-off workbooks back: what is open, in progress, signed and reopened."`
	Board    boardCmd    `cmd:"" help:"Show many sites: readiness, open items by trade, what blocks, days to delivery."`
	Form     formCmd     `cmd:"" help:"Write a blank questionnaire, with only the questions that a machine raises."`
	Machines machinesCmd `cmd:"" help:"List the machines, or show one machine's requirement sheet."`
	Explain  explainCmd  `cmd:"" help:"Explain one check: why, formula, source, example."`
	Version  versionFlag `help:"Print the version."`
}

type versionFlag bool

// BeforeReset prints the version and ends.
func (versionFlag) BeforeReset(app *kong.Kong) error {
	version := "devel"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version
	}
	fmt.Fprintln(app.Stdout, "firstfill", version)
	app.Exit(exitReady)
	return nil
}

// An app is what commands need of the outside.
type app struct {
	in       io.Reader
	out, err io.Writer
	now      func() time.Time
	getenv   func(string) string
}

// exited carries an exit asked for by the command-line parser, for --help.
type exited int

func run(args []string, in io.Reader, out, errw io.Writer) (code int) {
	a := &app{in: in, out: out, err: errw, now: time.Now, getenv: os.Getenv}
	defer func() {
		switch p := recover().(type) {
		case nil:
		case exited:
			code = int(p)
		default:
			talk(errw, "error: the program failed: %v", p)
			talk(errw, "hint: please report this with the file that you gave it\n%s", debug.Stack())
			code = exitFailed
		}
	}()
	var c cli
	parser, err := kong.New(&c, kong.Name("firstfill"),
		kong.Description("Checks a bar's site survey against a glass washer's requirement sheet, and prints what each trade must do so that the machine can be started on its first day."),
		kong.Writers(out, errw), kong.Exit(func(code int) { panic(exited(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}), kong.UsageOnError())
	if err != nil {
		panic(err)
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	if err != nil {
		talk(errw, "error: %v", err)
		talk(errw, "hint: \"firstfill --help\" lists commands and flags")
		return exitInput
	}
	err = ctx.Run(a)
	var bad inputError
	switch {
	case err == nil:
		return exitReady
	case errors.Is(err, errBlocked):
		return exitBlocked
	case errors.As(err, &bad):
		say(errw, bad)
		return exitInput
	}
	say(errw, err)
	return exitFailed
}

// dated is the flag of commands that print a date.
type dated struct {
	Date string `placeholder:"YYYY-MM-DD" help:"The date that is printed; left out, today's."`
}

// today is the date that is printed: the flag, SOURCE_DATE_EPOCH, or the clock.
func (d dated) today(a *app) (survey.Date, error) {
	if d.Date != "" {
		var day survey.Date
		if err := day.UnmarshalText([]byte(d.Date)); err != nil {
			return day, badInput("--date: %v", err)
		}
		return day, nil
	}
	if epoch := a.getenv("SOURCE_DATE_EPOCH"); epoch != "" {
		n, err := strconv.ParseInt(epoch, 10, 64)
		if err != nil {
			return survey.Date{}, badInput("SOURCE_DATE_EPOCH: %q is not a number of seconds; write the seconds since 1970-01-01, as 1795564800", epoch)
		}
		at := time.Unix(n, 0).UTC()
		if n < 0 || at.Year() > 9999 {
			return survey.Date{}, badInput("SOURCE_DATE_EPOCH: %d seconds is outside the years 1970 to 9999; write the seconds since 1970-01-01, as 1795564800", n)
		}
		return survey.DateOf(at), nil
	}
	return survey.DateOf(a.now()), nil
}

// shown is the flag of commands that print quantities.
type shown struct {
	Units string `enum:"us,si" default:"us" help:"Which units come first: us or si."`
}

func (s shown) system() quantity.System {
	if s.Units == "si" {
		return quantity.SI
	}
	return quantity.US
}
