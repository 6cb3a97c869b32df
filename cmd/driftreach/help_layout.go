package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"
)

// The groups in which help shows flags, in order.
const (
	inputGroup    = "Inputs"
	outputGroup   = "Output"
	systemGroup   = "Reference systems"
	settingsGroup = "Settings"
)

// groupMark is the annotation that gives the group of a flag.
const groupMark = "group"

// group puts all flags without a group into the given one.
func group(flags *pflag.FlagSet, name string) {
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Annotations[groupMark] == nil {
			f.Annotations = map[string][]string{groupMark: {name}}
		}
	})
}

// fewFlags is the number of flags that are shown without groups. Our choice: as many as are read at a
// glance.
const fewFlags = 5

// writeFlags writes a command's flags by group, at most width wide.
func writeFlags(w io.Writer, flags *pflag.FlagSet, width int) {
	all := 0
	flags.VisitAll(func(*pflag.Flag) { all++ })
	if all == 0 {
		return
	}
	if all <= fewFlags {
		fmt.Fprintf(w, "\nFlags:\n%s", flags.FlagUsagesWrapped(width))
		return
	}
	for _, name := range []string{inputGroup, outputGroup, systemGroup, settingsGroup, ""} {
		part := pflag.NewFlagSet(name, pflag.ContinueOnError)
		part.SortFlags = false
		flags.VisitAll(func(f *pflag.Flag) {
			if of := f.Annotations[groupMark]; len(of) == 1 && of[0] == name || name == "" && of == nil {
				part.AddFlag(f)
			}
		})
		if !part.HasFlags() {
			continue
		}
		if name == "" {
			name = "Other"
		}
		fmt.Fprintf(w, "\n%s:\n%s", name, part.FlagUsagesWrapped(width))
	}
}

// Widths of help. Common practice: 80 columns if the width is not known. Our choice: no line longer
// than is easy to read, and none too short for a flag and a word.
const (
	plainWidth  = 80
	widestHelp  = 120
	narrowsHelp = 50
)

// width returns the width in columns for output to w: that of the terminal, or 80 for a pipe or file.
func width(w io.Writer) int {
	file, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return plainWidth
	}
	columns, _, err := term.GetSize(int(file.Fd()))
	if err != nil || columns <= 0 {
		return plainWidth
	}
	return min(max(columns, narrowsHelp), widestHelp)
}

// wrapped breaks a text at blanks, so that no line is wider than width unless a word is. All lines but
// the first begin with indent, and all but the last end with more.
func wrapped(text, indent, more string, width int) string {
	var b strings.Builder
	at := 0
	for _, word := range strings.Fields(text) {
		switch {
		case at == 0:
		case at+1+len(word)+len(more) > width:
			b.WriteString(more + "\n" + indent)
			at = len(indent)
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += len(word)
	}
	return b.String()
}

// commandLine wraps a command so that a shell can read it, with each flag and its value on the same
// line.
func commandLine(text string, width int) string {
	const tie = "\x00"
	words := strings.Fields(text)
	var b strings.Builder
	for i, word := range words {
		switch {
		case i == 0:
		case strings.HasPrefix(words[i-1], "--") && !strings.HasPrefix(word, "-"):
			b.WriteString(tie)
		default:
			b.WriteByte(' ')
		}
		b.WriteString(word)
	}
	return strings.ReplaceAll(wrapped(b.String(), "      ", ` \`, width), tie, " ")
}

// paragraphs wraps each paragraph of a text.
func paragraphs(text string, width int) string {
	var out []string
	for _, p := range strings.Split(text, "\n\n") {
		out = append(out, wrapped(p, "", "", width))
	}
	return strings.Join(out, "\n\n")
}
