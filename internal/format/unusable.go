package format

import "fmt"

// UnusableError says that nothing can be made of a file.
type UnusableError struct {
	File   string // as the user named it
	Place  string // where in it, for example "row 12" or "byte 3041"; may be blank
	Found  string // what is wrong
	Remedy string // what the user can do
}

// Error returns file, place and what was found; the remedy is for a hint line.
func (e *UnusableError) Error() string {
	if e.Place == "" {
		return fmt.Sprintf("%s: %s", e.File, e.Found)
	}
	return fmt.Sprintf("%s, %s: %s", e.File, e.Place, e.Found)
}
