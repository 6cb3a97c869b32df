package folder

import "slices"

// Replaced is the finished batch whose place a folder takes.
type Replaced struct {
	Name    string // as the user named it
	Path    string // where it stands
	listed  map[string]FileSum
	changed []string
}

// Listed returns what its manifest says of a file; false where it lists none of that
// name, or the file was edited since.
func (r *Replaced) Listed(name string) (FileSum, bool) {
	sum, ok := r.listed[name]
	return sum, ok && !slices.Contains(r.changed, name)
}

// Replaces returns the batch whose place f takes; nil where none stands there, where
// Out says that it may be any, and for a folder inside a folder.
func (f *Folder) Replaces() *Replaced {
	s := f.site
	if s == nil || f.prefix != "" || s.out.Other || s.found.quarter == "" {
		return nil
	}
	return &Replaced{Name: s.out.Dir, Path: s.dir, listed: s.found.listed, changed: s.found.edited}
}

// Refuse returns the error that the folder in the place of f is not replaced: why,
// and what to do. It is an *OutputError.
func (f *Folder) Refuse(why, remedy string) error { return f.site.fail(&refusedError{why, remedy}) }
