package folder

import (
	"fmt"

	"driftreach/internal/disk"
)

// OutputError says that the output could not be written. Nothing of it is left on disk, except what a
// LeftError joined to it names.
type OutputError struct {
	Path   string
	Remedy string // blank for the usual advice on permissions and disk space
	Err    error
}

// Error returns what could not be written and why.
func (e *OutputError) Error() string { return fmt.Sprintf("write %s: %s", e.Path, disk.Reason(e.Err)) }

// Unwrap returns the reason.
func (e *OutputError) Unwrap() error { return e.Err }

// Hint returns what the user can do about it.
func (e *OutputError) Hint() string {
	if e.Remedy == "" {
		return "see that the folder above it can be written to and that there is room on the disk"
	}
	return e.Remedy
}

// LeftError says what a failed run could not remove.
type LeftError struct {
	Path string
	Err  error
}

// Error returns what is left and why.
func (e *LeftError) Error() string {
	return fmt.Sprintf("%s could not be cleared away (%s); the next run with this --out does it", e.Path, disk.Reason(e.Err))
}

// Unwrap returns the reason.
func (e *LeftError) Unwrap() error { return e.Err }

// arrivedError is an error after the new folder has taken its place.
type arrivedError struct {
	old string // where the old folder is; blank for none
	err error
}

func (e *arrivedError) Error() string {
	where := ""
	if e.old != "" {
		where = "; the old one is at " + e.old
	}
	return "the new one is in place, but the disk has not confirmed it (" + disk.Reason(e.err) + ")" + where
}

func (e *arrivedError) Unwrap() error { return e.err }
