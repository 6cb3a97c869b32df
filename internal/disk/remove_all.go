package disk

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
)

// RemoveAll removes a path and everything below it. A missing path is not an error. If something cannot
// be removed, it removes the rest and returns the first error.
func RemoveAll(d Disk, dir string) error {
	info, err := d.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var first error
	if info.IsDir() {
		first = removeIn(d, dir)
	}
	if first != nil {
		return first
	}
	if err := d.Remove(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// removeIn empties a folder.
func removeIn(d Disk, dir string) error {
	entries, err := d.ReadDir(dir)
	if err != nil {
		return err
	}
	var first error
	for _, entry := range entries {
		at := filepath.Join(dir, entry.Name())
		if entry.IsDir() {
			err = RemoveAll(d, at)
		} else if err = d.Remove(at); errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		if first == nil {
			first = err
		}
	}
	return first
}

// SyncTree makes the entries of dir and of every folder below it durable.
func SyncTree(d Disk, dir string) error {
	entries, err := d.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if entry.IsDir() {
			if err := SyncTree(d, filepath.Join(dir, entry.Name())); err != nil {
				return err
			}
		}
	}
	return d.SyncDir(dir)
}

// FilesUnder returns every file below dir, including links and other special files, sorted by name.
// Names are relative to dir, with forward slashes.
func FilesUnder(d Disk, dir string) ([]string, error) { return filesUnder(d, dir, "") }

func filesUnder(d Disk, dir, prefix string) ([]string, error) {
	entries, err := d.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var found []string
	for _, entry := range entries {
		name := path.Join(prefix, entry.Name())
		if !entry.IsDir() {
			found = append(found, name)
			continue
		}
		below, err := filesUnder(d, filepath.Join(dir, entry.Name()), name)
		if err != nil {
			return nil, err
		}
		found = append(found, below...)
	}
	return found, nil
}
