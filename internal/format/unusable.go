package format

import "fmt"

// UnusableError says that a file cannot be used.
type UnusableError struct {
	File   string // as the user named it
	Place  string // where in the file, such as "row 12" or "byte 3041"; may be blank
	Found  string // what is wrong
	Remedy string // what the user can do
}

// Error returns file, place and what was found. The remedy goes into a hint line.
func (e *UnusableError) Error() string {
	if e.Place == "" {
		return fmt.Sprintf("%s: %s", e.File, e.Found)
	}
	return fmt.Sprintf("%s, %s: %s", e.File, e.Place, e.Found)
}
