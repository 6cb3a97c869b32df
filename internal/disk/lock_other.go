//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package disk

import "os"

// lockHandle does nothing on systems without advisory locks: there, users must not run two commands on
// one folder at once.
func lockHandle(*os.File) error { return nil }

func removeHeld(file *os.File, path string) error {
	err := file.Close()
	_ = os.Remove(path)
	return err
}
