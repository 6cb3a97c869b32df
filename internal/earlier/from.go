package earlier

// Folder is the folder of a finished batch to continue.
type Folder struct {
	Name    string // as the user named it
	Path    string // where it is
	Version string // of this program; what another version made is restated
}

// In returns the same batch at its present path.
func (e Folder) In(path string) Folder {
	e.Path = path
	return e
}

// Error is an earlier batch that cannot be continued.
type Error struct {
	Problem string
	Remedy  string
}

// Error returns what is wrong with it.
func (e *Error) Error() string { return e.Problem }

// Hint returns what the user can do about it.
func (e *Error) Hint() string { return e.Remedy }
