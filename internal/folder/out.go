package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"driftreach/internal/disk"
)

// Out is the folder that a command writes, and the rules for what it may replace.
type Out struct {
	Dir     string
	Kind    Kind         // of the new folder; blank may replace any folder of ours
	Quarter string       // of the new batch; blank if it is not a batch
	Other   bool         // replace it even if it has another kind, quarter or area
	Edited  bool         // replace it even if its files were edited
	Guarded []Guarded    // what must not be overwritten
	Disk    disk.Disk    // nil for the machine's own
	Warn    func(string) // gets messages about problems that did not stop the work; may be nil
}

// Guarded is a file or folder that the run reads. It must not be inside the folder that the run writes.
type Guarded struct {
	What string // such as "the input points.csv"
	Path string
}

func (o Out) disk() disk.Disk {
	if o.Disk == nil {
		return disk.System()
	}
	return o.Disk
}

func (o Out) warn(text string) {
	if o.Warn != nil {
		o.Warn(text)
	}
}

// siblings are the paths beside an output folder that a run uses.
type siblings struct {
	dir   string // the folder itself, absolute
	work  string // the folder in which it is built
	aside string // where the old folder waits if the system cannot exchange two folders
	lock  string
}

// siblingsOf returns these paths. Their names are fixed, so that the next run cleans up after one that
// was killed.
func siblingsOf(dir string) (siblings, error) {
	full, err := filepath.Abs(dir)
	if err != nil {
		return siblings{}, err
	}
	parent, name := filepath.Split(full)
	if name == "" {
		return siblings{}, errors.New("it is the top of the file system")
	}
	hidden := filepath.Join(parent, "."+name+".driftreach-")
	return siblings{full, hidden + "part", hidden + "old", hidden + "lock"}, nil
}

// Standing returns where the finished folder is that a user names: at its name, or at the aside path if
// a killed run had just moved it there.
func Standing(d disk.Disk, dir string) (path string, aside bool) {
	if _, err := d.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return dir, false
	}
	s, err := siblingsOf(dir)
	if err != nil {
		return dir, false
	}
	path = filepath.Join(filepath.Dir(dir), filepath.Base(s.aside))
	if _, err := d.Stat(filepath.Join(path, ManifestName)); err != nil {
		return dir, false
	}
	return path, true
}

// Left says whether files of a running or killed run are beside the folder.
func Left(d disk.Disk, dir string) bool {
	s, err := siblingsOf(dir)
	if err != nil {
		return false
	}
	for _, place := range []string{s.work, s.aside, s.lock} {
		if _, err := d.Lstat(place); err == nil {
			return true
		}
	}
	return false
}

// keepApart refuses the run if a guarded file or folder is inside the output folder or one of its work
// folders.
func (o Out) keepApart(s siblings) error {
	for _, g := range o.Guarded {
		for _, place := range []string{s.dir, s.work, s.aside, s.lock} {
			switch {
			case !disk.Within(g.Path, place):
			case disk.Within(place, g.Path):
				return &refusedError{"it is " + g.What, "choose another --out"}
			default:
				return &refusedError{g.What + " lies in it", "choose another --out"}
			}
		}
	}
	return nil
}

// keepLinks refuses a folder in which a file is a link to one of the guarded files.
func (o Out) keepLinks(d disk.Disk, dir string, found []string) error {
	guarded, err := o.guardedFiles(d)
	if err != nil {
		return err
	}
	for _, name := range found {
		info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			continue // a broken link is not a file of the run
		}
		for _, g := range guarded {
			if os.SameFile(info, g.info) {
				return &refusedError{name + " in it is, by another name, " + g.what, "choose another --out"}
			}
		}
	}
	return nil
}

type guardedFile struct {
	what string
	info fs.FileInfo
}

// guardedFiles returns all guarded files, with those inside guarded folders one by one.
func (o Out) guardedFiles(d disk.Disk) ([]guardedFile, error) {
	var all []guardedFile
	for _, g := range o.Guarded {
		info, err := os.Stat(g.Path)
		if err != nil {
			continue // its reader reports the error
		}
		if !info.IsDir() {
			all = append(all, guardedFile{g.What, info})
			continue
		}
		names, err := disk.FilesUnder(d, g.Path)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			if info, err := os.Stat(filepath.Join(g.Path, filepath.FromSlash(name))); err == nil {
				all = append(all, guardedFile{name + " of " + g.What, info})
			}
		}
	}
	return all, nil
}

// isOf refuses a folder of ours that is of another kind than the new one, or a batch of another
// quarter.
func (o *occupant) isOf(out Out) error {
	if o.absent || o.empty() || out.Kind == "" || o.kind == out.Kind && o.quarter == out.Quarter || out.Other {
		return nil
	}
	const remedy = "choose another --out, or give --replace-other to let it go"
	there, here := string(o.kind), string(out.Kind)
	if o.kind == "" {
		there = "something else of ours"
	}
	switch o.kind {
	case Batch:
		there = "the finished batch of " + o.quarter
	case PublicEdition:
		there = "the public edition of " + o.quarter
	}
	switch out.Kind {
	case Batch:
		here = "the batch of " + out.Quarter
	case PublicEdition:
		here = "the public edition of " + out.Quarter
	}
	return &refusedError{fmt.Sprintf("the folder holds %s, and this is %s", there, here), remedy}
}
