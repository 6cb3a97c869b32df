package earlier

// Folder is the folder of a finished batch that is to be continued.
type Folder struct {
	Name    string // as the user named it
	Path    string // where it is on disk
	Version string // of this program; a batch made by another version is restated
}

// In returns the same batch at another path.
func (e Folder) In(path string) Folder {
	e.Path = path
	return e
}

// Error says why an earlier batch cannot be continued.
type Error struct {
	Problem string
	Remedy  string
}

// Error returns what is wrong.
func (e *Error) Error() string { return e.Problem }

// Hint returns what the user can do about it.
func (e *Error) Hint() string { return e.Remedy }
