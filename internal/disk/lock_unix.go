//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package disk

import (
	"errors"
	"os"
	"syscall"
)

func lockHandle(file *os.File) error {
	err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return ErrLocked
	}
	return err
}

// removeHeld removes the file while the lock is held, so that nobody can lock it first and then lose
// it.
func removeHeld(file *os.File, path string) error {
	return errors.Join(os.Remove(path), file.Close())
}
