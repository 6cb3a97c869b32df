package main

import (
	"fmt"

	"github.com/spf13/pflag"
)

// version is the release. CHANGELOG.md says what each one changed, changes to
// numbers apart.
const version = "0.1.0"

func (p *program) versionCommand() *command {
	return &command{
		name: "version", line: "print the version", text: "Prints the version.",
		example: "driftreach version",
		flags:   pflag.NewFlagSet("version", pflag.ContinueOnError),
		run: func(args []string) error {
			if err := noArguments(args); err != nil {
				return err
			}
			_, err := fmt.Fprintln(p.stdout, "driftreach "+version)
			return err
		},
	}
}
