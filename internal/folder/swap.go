package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"driftreach/internal/disk"
)

// swap puts the finished folder in place. If the system can exchange two folders, there is a complete
// folder at every moment. If it cannot, the old folder waits at the aside path in between, where the
// next run and every reader find it.
func (s *site) swap() error {
	if err := s.found.unchanged(s.disk, s.dir); err != nil {
		return s.fail(err)
	}
	if err := s.place(); err != nil {
		return s.fail(err)
	}
	s.arrived = true
	if err := s.syncNames(); err != nil {
		s.keep = true
		old := s.old
		if old != "" {
			old = s.beside(old)
		}
		return &OutputError{Path: s.out.Dir, Err: &arrivedError{old, err}, Remedy: "see to the disk, and run again"}
	}
	return nil
}

// place moves the new folder to its name.
func (s *site) place() error {
	if s.found.absent {
		return s.disk.Rename(s.work, s.dir)
	}
	err := s.disk.Exchange(s.work, s.dir)
	if err == nil {
		s.old = s.work
	}
	if !errors.Is(err, disk.ErrNoExchange) {
		return err
	}
	if s.found.empty() {
		if err := s.disk.Remove(s.dir); err != nil {
			return err
		}
		return s.disk.Rename(s.work, s.dir)
	}
	return s.placeInTwoSteps()
}

// placeInTwoSteps first moves the old folder aside. If there is already one at the aside path, that may
// be the last complete copy; then the folder in place is removed instead.
func (s *site) placeInTwoSteps() error {
	_, err := s.disk.Lstat(s.aside)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		err = s.disk.Rename(s.dir, s.aside)
	case err == nil:
		err = s.discard(s.dir)
	}
	if err != nil {
		return err
	}
	if err := s.disk.Rename(s.work, s.dir); err != nil {
		if back := s.disk.Rename(s.aside, s.dir); back != nil {
			return fmt.Errorf("%s; the old folder is whole at %s, and the next run puts it back", disk.Reason(err), s.beside(s.aside))
		}
		return err
	}
	s.old = s.aside
	return nil
}

// syncNames makes the new directory entries durable: of the folder and of the parents made for it.
func (s *site) syncNames() error {
	if err := s.disk.SyncDir(filepath.Dir(s.dir)); err != nil {
		return err
	}
	for _, made := range s.made {
		if err := s.disk.SyncDir(filepath.Dir(made)); err != nil {
			return err
		}
	}
	return nil
}
