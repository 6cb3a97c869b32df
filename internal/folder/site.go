package folder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"driftreach/internal/disk"
)

// site is the place of one output folder during a run.
type site struct {
	siblings
	out   Out
	disk  disk.Disk
	lock  disk.Lock
	made  []string  // parent folders we made, outermost first
	found *occupant // what was there before

	arrived bool   // the new folder is in place
	old     string // where the replaced folder is, once it has been moved; blank for none
	keep    bool   // do not remove the replaced folder
}

// newSite makes the parents of the folder and locks the place. Guarded files are checked before
// anything is made.
func newSite(out Out) (*site, error) {
	s := &site{out: out, disk: out.disk()}
	var err error
	if s.siblings, err = siblingsOf(out.Dir); err != nil {
		return nil, s.fail(err)
	}
	if err := out.keepApart(s.siblings); err != nil {
		return nil, s.fail(err)
	}
	if s.made, err = s.makeMissing(filepath.Dir(s.dir)); err != nil {
		return nil, s.fail(err)
	}
	if s.lock, err = s.disk.Lock(s.siblings.lock); err != nil {
		return nil, errors.Join(s.fail(err), s.removeMade())
	}
	return s, nil
}

// prepare removes what a killed run left. It refuses a folder that is not ours, or that was edited,
// before any work is done.
func (s *site) prepare(ctx context.Context) error {
	if err := disk.RemoveAll(s.disk, s.work); err != nil {
		return s.fail(err)
	}
	if err := s.restore(ctx); err != nil {
		return s.fail(err)
	}
	if err := s.found.mayBeReplaced(s.out.Edited); err != nil {
		return s.fail(err)
	}
	if err := s.out.keepLinks(s.disk, s.dir, s.found.found); err != nil {
		return s.fail(err)
	}
	if err := s.found.isOf(s.out); err != nil {
		return s.fail(err)
	}
	if err := s.disk.Mkdir(s.work); err != nil {
		return s.fail(err)
	}
	return nil
}

// restore examines the place and completes the work of a run that was killed while it replaced a folder
// in two steps. If no new folder had arrived, the old one is moved back. If a complete new one is
// there, the old one is removed. Otherwise the old one may be the last complete copy, and stays until
// the new folder is in place.
func (s *site) restore(ctx context.Context) (err error) {
	if s.found, err = occupantOf(ctx, s.disk, s.dir); err != nil {
		return err
	}
	if _, err := s.disk.Lstat(s.aside); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	if _, _, err := listedFiles(s.disk, s.aside); err != nil {
		if refused := new(refusedError); !errors.As(err, &refused) {
			return err
		}
		return disk.RemoveAll(s.disk, s.aside) // the rest of a folder whose removal was interrupted after its manifest was gone
	}
	switch {
	case s.found.whole():
		return s.discard(s.aside)
	case s.found.empty():
		if err := s.disk.Remove(s.dir); err != nil {
			return err
		}
	case !s.found.absent:
		return nil
	}
	if err := s.disk.Rename(s.aside, s.dir); err != nil {
		return err
	}
	s.found, err = occupantOf(ctx, s.disk, s.dir)
	return err
}

// discard removes a folder of ours. Its manifest goes first, so that nobody takes the rest for a batch.
func (s *site) discard(dir string) error {
	if err := s.disk.Remove(filepath.Join(dir, ManifestName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return disk.RemoveAll(s.disk, dir)
}

// leave removes everything except the finished folder. It returns the run's error, joined with what
// could not be removed. Once the new folder is in place, a failed removal is not an error: it is
// reported, and the next run removes the rest.
func (s *site) leave(err error) error {
	if s.arrived {
		s.leaveOld()
		return err
	}
	cleared := disk.RemoveAll(s.disk, s.work)
	if cleared != nil { // the work that was interrupted may have made one more file
		cleared = disk.RemoveAll(s.disk, s.work)
	}
	if cleared != nil {
		err = errors.Join(err, &LeftError{s.beside(s.work), cleared})
	}
	if unlocked := s.lock.Unlock(); unlocked != nil {
		err = errors.Join(err, &LeftError{s.beside(s.siblings.lock), unlocked})
	}
	return errors.Join(err, s.removeMade())
}

// leaveOld removes the folder that was replaced.
func (s *site) leaveOld() {
	if s.old != "" && !s.keep {
		if err := s.discard(s.old); err != nil {
			s.out.warn(fmt.Sprintf("the new folder is in place; the old one could not be removed (%s) and is at %s until the next run with this --out",
				disk.Reason(err), s.beside(s.old)))
		}
	}
	if err := s.lock.Unlock(); err != nil {
		s.out.warn(fmt.Sprintf("the new folder is in place; %s could not be removed (%s), and does no harm", s.beside(s.siblings.lock), disk.Reason(err)))
	}
}

// beside returns a sibling's path in the form in which the user named the folder.
func (s *site) beside(path string) string {
	return filepath.Join(filepath.Dir(s.out.Dir), filepath.Base(path))
}

// removeMade removes the parent folders we made, as long as they are empty.
func (s *site) removeMade() error {
	for i := len(s.made) - 1; i >= 0; i-- {
		if err := s.disk.Remove(s.made[i]); err != nil {
			if entries, listed := s.disk.ReadDir(s.made[i]); listed == nil && len(entries) > 0 {
				return nil // somebody has put something into it
			}
			return &LeftError{s.made[i], err}
		}
	}
	return nil
}

// fail returns err as an *OutputError about the folder.
func (s *site) fail(err error) error {
	if errors.Is(err, context.Canceled) {
		return err
	}
	remedy := ""
	var refused *refusedError
	var none *disk.NoFileError
	switch {
	case errors.As(err, &refused):
		remedy = refused.remedy
	case errors.As(err, &none):
		remedy = otherOut
	case errors.Is(err, fs.ErrPermission):
		remedy = "see that the folder above it can be written to, and that no other program has a file in it open"
	case errors.Is(err, disk.ErrLocked):
		remedy = "wait for it to end, or choose another --out"
	}
	return &OutputError{Path: s.out.Dir, Err: err, Remedy: remedy}
}

// makeMissing makes the folder path and returns those it had to make.
func (s *site) makeMissing(path string) ([]string, error) {
	info, err := s.disk.Stat(path)
	switch {
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s is not a folder", path)
	case err == nil:
		return nil, nil
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	made, err := s.makeMissing(filepath.Dir(path))
	if err == nil {
		err = s.disk.Mkdir(path)
	}
	if err == nil {
		return append(made, path), nil
	}
	s.made = made
	return nil, errors.Join(err, s.removeMade())
}
