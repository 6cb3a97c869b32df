package settings

// Error is a setting that cannot be used. It is a usage error, not a problem in the data.
type Error struct {
	Where   string // file and line, or the flag; blank when unknown
	Problem string
	Remedy  string // nearest key, or the allowed range
}

// Error returns the place and the problem.
func (e *Error) Error() string {
	if e.Where == "" {
		return e.Problem
	}
	return e.Where + ": " + e.Problem
}

// Hint returns what to write instead.
func (e *Error) Hint() string { return e.Remedy }
