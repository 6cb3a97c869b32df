package batch

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// site is the place of one output folder: the folder itself and its siblings
// while a run is on. The siblings' names are fixed, so that a run that was
// killed is cleaned up after by the next one.
type site struct {
	shown string // the folder as the user named it
	dir   string // the folder
	work  string // where it is built
	aside string // where the folder that is replaced waits
	lock  *fileLock
	made  []string // parents we made, outermost first
}

// newSite makes the parents of dir and locks the place.
func newSite(dir string) (*site, error) {
	s := &site{shown: dir}
	full, err := filepath.Abs(dir)
	if err != nil {
		return nil, s.fail(err)
	}
	parent, name := filepath.Split(full)
	if name == "" {
		return nil, s.fail(errors.New("it is the top of the file system"))
	}
	s.dir = full
	s.work = filepath.Join(parent, "."+name+".driftreach-part")
	s.aside = filepath.Join(parent, "."+name+".driftreach-old")
	if s.made, err = makeMissing(filepath.Clean(parent)); err != nil {
		return nil, s.fail(err)
	}
	if s.lock, err = lockFile(filepath.Join(parent, "."+name+".driftreach-lock")); err != nil {
		s.removeMade()
		return nil, s.fail(err)
	}
	return s, nil
}

// prepare clears what a killed run left, and refuses a folder that is not ours
// before any work is done.
func (s *site) prepare() error {
	if err := os.RemoveAll(s.work); err != nil {
		return s.fail(err)
	}
	if err := s.restore(); err != nil {
		return s.fail(err)
	}
	if err := mayReplace(s.dir); err != nil {
		return s.fail(err)
	}
	if err := os.Mkdir(s.work, 0o777); err != nil {
		return s.fail(err)
	}
	return nil
}

// restore settles a swap that a killed run began: the old folder goes back when
// the new one had not arrived, and goes away when it had.
func (s *site) restore() error {
	if _, err := os.Lstat(s.aside); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if _, err := os.Lstat(s.dir); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(s.aside, s.dir)
	}
	return os.RemoveAll(s.aside)
}

// swap puts the finished folder in place. The old one, if any, is gone only
// when the new one has arrived.
func (s *site) swap() error {
	if err := mayReplace(s.dir); err != nil {
		return s.fail(err)
	}
	switch err := os.Rename(s.dir, s.aside); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return s.fail(err)
	}
	if err := os.Rename(s.work, s.dir); err != nil {
		return s.fail(errors.Join(err, s.restore()))
	}
	s.made = nil
	if err := syncDir(filepath.Dir(s.dir)); err != nil {
		return s.fail(err)
	}
	if err := os.RemoveAll(s.aside); err != nil {
		return s.fail(err)
	}
	return nil
}

// leave removes whatever of the run is not the finished folder.
func (s *site) leave() error {
	err := os.RemoveAll(s.work)
	err = errors.Join(err, s.lock.unlock())
	s.removeMade()
	if err != nil {
		return s.fail(err)
	}
	return nil
}

// removeMade removes the parents we made, as far as they are empty.
func (s *site) removeMade() {
	for i := len(s.made) - 1; i >= 0; i-- {
		if os.Remove(s.made[i]) != nil {
			return
		}
	}
}

// fail returns err as an *OutputError about the folder.
func (s *site) fail(err error) error {
	remedy := ""
	var refused *refusedError
	switch {
	case errors.As(err, &refused):
		remedy = "choose another --out, or move that folder away"
	case errors.Is(err, errLocked):
		remedy = "wait for it to end, or choose another --out"
	}
	return &OutputError{Path: s.shown, Err: err, Remedy: remedy}
}

// makeMissing makes the folder path and returns those it had to make.
func makeMissing(path string) ([]string, error) {
	info, err := os.Stat(path)
	switch {
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s is not a folder", path)
	case err == nil:
		return nil, nil
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	made, err := makeMissing(filepath.Dir(path))
	if err == nil {
		err = os.Mkdir(path, 0o777)
	}
	if err == nil {
		return append(made, path), nil
	}
	for i := len(made) - 1; i >= 0; i-- {
		os.Remove(made[i])
	}
	return nil, err
}
