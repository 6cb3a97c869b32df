//go:build !windows

package disk

import "os"

// syncDir makes the entries of a folder durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

// patiently calls do once: on these systems an open file can be moved.
func patiently(do func() error) error { return do() }
