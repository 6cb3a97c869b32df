package main

import (
	"errors"
	"io"

	"github.com/spf13/pflag"

	"driftreach/internal/settings"
)

// commands returns every command, in the order in which help lists them.
func (p *program) commands() []*command {
	return []*command{
		p.demoCommand(), p.checkCommand(), p.batchCommand(), p.splitCommand(), p.mergeCommand(), p.trendCommand(), p.learnCommand(), p.verifyCommand(), p.settingsCommand(), p.inputsCommand(), p.fieldsCommand(), p.findingsCommand(), p.completionCommand(p.commands), p.helpCommand(p.commands), p.noticesCommand(), p.versionCommand(),
	}
}

// run runs the command that args name.
func (p *program) run(args []string) error {
	if len(args) == 0 {
		printCommands(p.stderr, width(p.stderr), p.commands())
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
	return unknownCommand(args[0], all)
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
