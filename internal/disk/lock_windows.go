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

// removeHeld closes first: Windows removes no open file. Another run may have
// taken it up by then, which is as good as removed.
func removeHeld(file *os.File, path string) error {
	err := file.Close()
	_ = os.Remove(path)
	return err
}
