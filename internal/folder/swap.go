package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"driftreach/internal/disk"
)

// swap puts the finished folder in place. At no moment is there no whole folder,
// where the system can exchange two; where it cannot, the old one waits aside in
// between, and the next run and every reader find it there.
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

// place moves the folder to its name.
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

// placeInTwoSteps sets the old folder aside first. One that waits there already
// may be the last whole copy: then what is in the place goes instead of it.
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

// syncNames makes the new names durable: that of the folder and those of the
// parents made for it.
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
