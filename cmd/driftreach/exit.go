package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"driftreach/geo/parallel"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/result"
	"driftreach/internal/settings"
)

// The exit codes.
const (
	exitDone        = 0
	exitFindings    = 1   // done, with records rejected
	exitUsage       = 2   // wrong command line or setting
	exitInput       = 3   // an input cannot be used
	exitOutput      = 4   // the output could not be written; nothing is left behind
	exitOurs        = 5   // an error of the program itself, or too much memory used; nothing is left behind
	exitInterrupted = 130 // nothing is left behind
)

// exitCodes describes the exit codes in help.
var exitCodes = []struct {
	code int
	text string
}{
	{exitDone, "done"},
	{exitFindings, "done, but some records were rejected: see the findings"},
	{exitUsage, "the command line or a setting is wrong"},
	{exitInput, "an input cannot be used"},
	{exitOutput, "the output could not be written; nothing is left behind"},
	{exitOurs, "a fault of the program itself, or the input needs more memory than --memory or GOMEMLIMIT allows; nothing is left behind"},
	{exitInterrupted, "interrupted; nothing is left behind"},
}

// exitCode returns the exit code for an error.
func exitCode(err error) int {
	var (
		usage    *usageError
		setting  *settings.Error
		input    *inputError
		unusable *format.UnusableError
		output   *folder.OutputError
		previous *earlier.Error
		nothing  *observed.NoEvidenceError
		parts    *part.Error
		fault    *parallel.Fault
		memory   *memoryError
		ours     *result.FaultError
	)
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &fault), errors.As(err, &memory):
		return exitOurs
	case errors.Is(err, errRejected):
		return exitFindings
	case errors.As(err, &usage), errors.As(err, &setting):
		return exitUsage
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &ours):
		return exitOurs
	case errors.As(err, &output):
		return exitOutput
	case errors.As(err, &input), errors.As(err, &unusable), errors.As(err, &previous), errors.As(err, &nothing), errors.As(err, &parts):
		return exitInput
	}
	// an unforeseen error: some input caused it
	return exitInput
}

// report prints an error in the usual form of messages and returns its exit code.
func (p *program) report(err error) int {
	code := exitCode(err)
	switch code {
	case exitDone, exitFindings: // the closing table has reported it
	case exitInterrupted:
		p.say("error", "interrupted; "+left(err))
	default:
		for _, one := range apart(err) {
			p.say("error", one.Error())
		}
		for _, hint := range hints(err) {
			p.say("hint", hint)
		}
		p.tellFault(err)
	}
	return code
}

// tellFault prints where in the program the error occurred, for those who will fix it.
func (p *program) tellFault(err error) {
	var fault *parallel.Fault
	if !errors.As(err, &fault) {
		return
	}
	p.say("hint", "please report it, with the lines below and the command; no other command is needed to clean up")
	for line := range strings.Lines(string(fault.Stack)) {
		fmt.Fprintln(p.stderr, "   ", oneLine(strings.TrimRight(line, "\n")))
	}
}

// apart returns the errors that were joined, or the single one.
func apart(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var all []error
	for _, one := range joined.Unwrap() {
		all = append(all, apart(one)...)
	}
	return all
}

// left says what an interrupted run has left behind.
func left(err error) string {
	var behind *folder.LeftError
	if errors.As(err, &behind) {
		return behind.Error()
	}
	return "nothing was left behind"
}

// say prints one message line.
func (p *program) say(kind, text string) {
	fmt.Fprintf(p.stderr, "driftreach: %s: %s\n", kind, oneLine(text))
}

// hints returns the hints that an error has, if any.
func hints(err error) []string {
	var hinted interface{ Hint() string }
	if errors.As(err, &hinted) && hinted.Hint() != "" {
		return []string{hinted.Hint()}
	}
	var unusable *format.UnusableError
	if errors.As(err, &unusable) && unusable.Remedy != "" {
		return []string{unusable.Remedy}
	}
	return nil
}
