//go:build !windows

package disk

import "os"

// syncDir makes the names in a folder durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

// patiently does it once: nothing holds a file against its being moved here.
func patiently(do func() error) error { return do() }
