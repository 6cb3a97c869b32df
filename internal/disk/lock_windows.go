package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

func lockHandle(file *os.File) error {
	const flags = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err := windows.LockFileEx(windows.Handle(file.Fd()), flags, 0, 1, 0, new(windows.Overlapped))
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrLocked
	}
	return err
}

// removeHeld closes the file first, because Windows does not remove an open file. If another run has
// locked it by then, that run removes it.
func removeHeld(file *os.File, path string) error {
	err := file.Close()
	_ = os.Remove(path)
	return err
}
