//go:build darwin || linux

package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// A new file and a new lock may be read and written by everybody, and a new folder entered too, as far
// as the user's mask allows (umask(2)): with no mask all of it, with the usual one nobody else writes.
func TestModesFollowTheMask(t *testing.T) {
	for _, c := range []struct {
		mask         int
		file, folder fs.FileMode
	}{{0, 0o666, 0o777}, {0o022, 0o644, 0o755}, {0o077, 0o600, 0o700}} {
		dir := t.TempDir()
		old := syscall.Umask(c.mask)
		file, err := System().Create(filepath.Join(dir, "file"))
		lock, lockErr := System().Lock(filepath.Join(dir, "lock"))
		dirErr := System().Mkdir(filepath.Join(dir, "folder"))
		syscall.Umask(old)
		if err := errors.Join(err, lockErr, dirErr); err != nil {
			t.Fatal(err)
		}
		for name, want := range map[string]fs.FileMode{"file": c.file, "lock": c.file, "folder": c.folder} {
			info, err := os.Lstat(filepath.Join(dir, name))
			if err != nil || info.Mode().Perm() != want {
				t.Errorf("mask %o: %s is %v, %v", c.mask, name, info.Mode().Perm(), err)
			}
		}
		if err := errors.Join(file.Close(), lock.Unlock()); err != nil {
			t.Error(err)
		}
	}
}

// A pipe without a writer would keep a reader for ever: it is told, and not opened, nor is it a lock.
func TestAPipeIsNotOpened(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no pipes here: ", err)
	}
	var no *NoFileError
	if file, err := System().Open(path); file != nil || !errors.As(err, &no) || no.Mode&fs.ModeNamedPipe == 0 {
		t.Errorf("opened: %v, %v", file, err)
	}
	if lock, err := System().Lock(path); lock != nil || !errors.As(err, &no) || no.Mode&fs.ModeNamedPipe == 0 {
		t.Errorf("locked: %v, %v", lock, err)
	}
}
