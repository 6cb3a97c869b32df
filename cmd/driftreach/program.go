package main

import (
	"context"
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

func unknownCommand(word string, all []*command) error {
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

// Remedies of noArguments, for commands that read input files and for the others.
const (
	filesHaveFlags = "name each file with its flag, as in --points FILE --streams FILE --out DIR; a name with spaces needs quotes"
	onlyFlags      = "this command takes flags only; --help shows them"
)

// noArguments refuses arguments that are not flags.
func noArguments(args []string, remedy string) error {
	if len(args) == 0 {
		return nil
	}
	return &usageError{fmt.Sprintf("unexpected %q", args[0]), remedy}
}

// oneLine puts text on one line, without characters that would control a terminal.
func oneLine(text string) string {
	return check.Visible(strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ").Replace(text))
}
