package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"
)

const about = `driftreach maps the stands of a stream-side plant that spreads by floating
fragments, finds those in the aquatic zone, and follows the water down from each
to the reach its fragments can take. One run is one survey quarter.
`

// helpCommand explains the commands that all returns.
func (p *program) helpCommand(all func() []*command) *command {
	c := &command{
		name: "help", line: "explain a command", usage: "[COMMAND]",
		text:    "Explains a command, or lists the commands.",
		example: "driftreach help batch",
		flags:   pflag.NewFlagSet("help", pflag.ContinueOnError),
	}
	c.run = func(args []string) error {
		if len(args) == 0 {
			printCommands(p.stdout, width(p.stdout), all())
			return nil
		}
		commands := all()
		for _, other := range commands {
			if other.name == args[0] {
				other.flags.SortFlags = false
				p.printHelp(other, width(p.stdout))
				return nil
			}
		}
		return unknownCommand(args[0], commands)
	}
	return c
}

func printCommands(w io.Writer, columns int, commands []*command) {
	fmt.Fprintf(w, "%s\n\nUsage: driftreach COMMAND [flags]\n\nCommands:\n", paragraphs(about, columns))
	for _, c := range commands {
		fmt.Fprintln(w, hanging(c.name, 10, c.line, columns))
	}
	fmt.Fprintf(w, "\nBegin with:\n  driftreach demo --out demo\n\n%s\n\n%s",
		wrapped("`driftreach COMMAND --help` explains a command, with an example.", "", "", columns), exitText(columns))
}

func (p *program) printHelp(c *command, columns int) {
	w := p.stdout
	fmt.Fprintln(w, wrapped("Usage: driftreach "+c.name+" "+c.usage, "         ", "", columns))
	fmt.Fprintf(w, "\n%s\n", paragraphs(c.text, columns))
	writeFlags(w, c.flags, columns)
	fmt.Fprintf(w, "\nExample:\n  %s\n\n%s", commandLine(c.example, columns-2), exitText(columns))
}

// exitText describes the exit codes for help, at most columns wide.
func exitText(columns int) string {
	var b strings.Builder
	b.WriteString("Exit codes:\n")
	for _, e := range exitCodes {
		b.WriteString(hanging(fmt.Sprint(e.code), 4, e.text, columns) + "\n")
	}
	return b.String()
}

// hanging writes a word in the left column, indented by two blanks, and its description in the right
// one.
func hanging(word string, column int, text string, columns int) string {
	edge := column + 3
	beside := strings.ReplaceAll(wrapped(text, "", "", columns-edge), "\n", "\n"+strings.Repeat(" ", edge))
	return fmt.Sprintf("  %-*s %s", column, word, beside)
}
