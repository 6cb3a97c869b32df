package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/check"
	"driftreach/internal/disk"
	"driftreach/internal/settings"
)

// program is one run of the program, with its input and output.
type program struct {
	ctx            context.Context
	stdout, stderr io.Writer
	disk           disk.Disk
}

// command is one command of the program.
type command struct {
	name    string
	line    string // one line for the list of commands
	usage   string // what follows the name
	text    string // one or two paragraphs for its --help
	example string
	flags   *pflag.FlagSet
	run     func(args []string) error
}

// commands returns every command, in the order in which help lists them.
func (p *program) commands() []*command {
	return []*command{
		p.demoCommand(), p.checkCommand(), p.batchCommand(), p.splitCommand(), p.mergeCommand(), p.trendCommand(), p.learnCommand(), p.verifyCommand(), p.settingsCommand(), p.inputsCommand(), p.fieldsCommand(), p.findingsCommand(), p.completionCommand(), p.helpCommand(), p.noticesCommand(), p.versionCommand(),
	}
}

// run runs the command that args name.
func (p *program) run(args []string) error {
	if len(args) == 0 {
		p.printCommands(p.stderr, width(p.stderr))
		return &usageError{"no command", "begin with `driftreach demo`"}
	}
	switch args[0] {
	case "-h", "--help":
		args = []string{"help"}
	case "--version":
		args = []string{"version"}
	}
	all := p.commands()
	for _, c := range all {
		if c.name == args[0] {
			return p.runCommand(c, args[1:])
		}
	}
	return p.unknownCommand(args[0], all)
}

func (p *program) runCommand(c *command, args []string) error {
	c.flags.SetOutput(io.Discard)
	c.flags.SortFlags = false
	c.flags.Usage = func() {}
	err := c.flags.Parse(args)
	switch {
	case errors.Is(err, pflag.ErrHelp):
		p.printHelp(c, width(p.stdout))
		return nil
	case err != nil:
		return flagError(c, err)
	}
	return c.run(c.flags.Args())
}

func (p *program) unknownCommand(word string, all []*command) error {
	if strings.HasPrefix(word, "-") {
		return &usageError{"flag " + word + " before a command", "write the command first, for example `driftreach batch " + word + "`"}
	}
	var names []string
	for _, c := range all {
		names = append(names, c.name)
	}
	if near := settings.Nearest(word, names); near != "" {
		return &usageError{"unknown command " + word, "did you mean " + near + "?"}
	}
	return &usageError{"unknown command " + word, "`driftreach help` lists the commands"}
}

// flagError describes a wrong flag and names the nearest correct one.
func flagError(c *command, err error) error {
	remedy := "`driftreach " + c.name + " --help` explains the flags"
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		var names []string
		c.flags.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := settings.Nearest(unknown.GetSpecifiedName(), names); near != "" {
			remedy = "did you mean --" + near + "?"
		}
	}
	return &usageError{err.Error(), remedy}
}

// noArguments refuses arguments that are not flags.
func noArguments(args []string) error {
	if len(args) == 0 {
		return nil
	}
	return &usageError{
		fmt.Sprintf("unexpected %q", args[0]),
		"every input has a flag before it; a name with spaces needs quotes",
	}
}

// oneLine puts text on one line, without characters that would control a terminal.
func oneLine(text string) string {
	return check.Visible(strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ").Replace(text))
}
