package main

import (
	"fmt"
	"io"

	"github.com/spf13/pflag"
)

const about = `driftreach maps the stands of a stream-side plant that spreads by floating
fragments, finds those in the aquatic zone, and follows the water down from each
to the reach its fragments can take. One run is one survey quarter.
`

func (p *program) helpCommand() *command {
	c := &command{
		name: "help", line: "explain a command", usage: "[COMMAND]",
		text:    "Explains a command, or lists the commands.",
		example: "driftreach help batch",
		flags:   pflag.NewFlagSet("help", pflag.ContinueOnError),
	}
	c.run = func(args []string) error {
		if len(args) == 0 {
			p.printCommands(p.stdout)
			return nil
		}
		all := p.commands()
		for _, other := range all {
			if other.name == args[0] {
				other.flags.SortFlags = false
				p.printHelp(other)
				return nil
			}
		}
		return p.unknownCommand(args[0], all)
	}
	return c
}

func (p *program) printCommands(w io.Writer) {
	fmt.Fprintf(w, "%s\nUsage: driftreach COMMAND [flags]\n\nCommands:\n", about)
	for _, c := range p.commands() {
		fmt.Fprintf(w, "  %-10s %s\n", c.name, c.line)
	}
	fmt.Fprintf(w, "\nBegin with:\n  driftreach demo --out demo\n\n`driftreach COMMAND --help` explains a command, with an example.\n\n%s", exitText)
}

func (p *program) printHelp(c *command) {
	w, columns := p.stdout, width(p.stdout)
	fmt.Fprintln(w, wrapped("Usage: driftreach "+c.name+" "+c.usage, "         ", "", columns))
	fmt.Fprintf(w, "\n%s\n", paragraphs(c.text, columns))
	writeFlags(w, c.flags, columns)
	fmt.Fprintf(w, "\nExample:\n  %s\n\n%s", commandLine(c.example, columns-2), exitText)
}
