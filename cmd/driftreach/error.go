package main

import "errors"

// usageError is a mistake on the command line.
type usageError struct{ problem, remedy string }

func (e *usageError) Error() string { return e.problem }

// Hint returns what to write instead.
func (e *usageError) Hint() string { return e.remedy }

// inputError is an input that cannot be opened or read.
type inputError struct {
	err    error
	remedy string
}

func (e *inputError) Error() string { return e.err.Error() }

func (e *inputError) Unwrap() error { return e.err }

// Hint returns what the user can do about it.
func (e *inputError) Hint() string { return e.remedy }

// memoryError says that the input needs more memory than the program may use.
type memoryError struct{ problem string }

func (e *memoryError) Error() string { return e.problem }

// Hint returns what the user can do about it.
func (e *memoryError) Hint() string {
	return "allow more, or run the region in parts, each with the streams of whole basins"
}

// errRejected says that a command did its work but rejected records.
var errRejected = errors.New("records were rejected")

// first returns the first of several joined errors.
func first(err error) error {
	var joined interface{ Unwrap() []error }
	if errors.As(err, &joined) {
		return joined.Unwrap()[0]
	}
	return err
}
