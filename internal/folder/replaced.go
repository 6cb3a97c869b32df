package folder

import "slices"

// Replaced is the finished batch that a new folder replaces.
type Replaced struct {
	Name    string // as the user named it
	Path    string // where it is
	listed  map[string]FileSum
	changed []string
}

// Listed returns the manifest's entry for a file. It returns false if there is none, or if the file was
// edited.
func (r *Replaced) Listed(name string) (FileSum, bool) {
	sum, ok := r.listed[name]
	return sum, ok && !slices.Contains(r.changed, name)
}

// Replaces returns the batch that f will replace. It returns nil if there is none, if Out allows any
// folder to be replaced, and for a folder inside a folder.
func (f *Folder) Replaces() *Replaced {
	s := f.site
	if s == nil || f.prefix != "" || s.out.Other || s.found.quarter == "" {
		return nil
	}
	return &Replaced{Name: s.out.Dir, Path: s.dir, listed: s.found.listed, changed: s.found.edited}
}

// Refuse returns the error for not replacing the folder: why, and what to do. It is an *OutputError.
func (f *Folder) Refuse(why, remedy string) error { return f.site.fail(&refusedError{why, remedy}) }
