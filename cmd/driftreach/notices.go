package main

import (
	_ "embed" // for NOTICES.txt
	"io"

	"github.com/spf13/pflag"
)

// notices are the licences of what is linked, as scripts/notices writes them.
//
//go:embed NOTICES.txt
var notices string

func (p *program) noticesCommand() *command {
	return &command{
		name: "notices", line: "print the licences of the libraries in the program",
		text:    "Prints the licences of the libraries in the program, as these licences require.",
		example: "driftreach notices",
		flags:   pflag.NewFlagSet("notices", pflag.ContinueOnError),
		run: func(args []string) error {
			if err := noArguments(args, onlyFlags); err != nil {
				return err
			}
			_, err := io.WriteString(p.stdout, notices)
			return err
		},
	}
}
