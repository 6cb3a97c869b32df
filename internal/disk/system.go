package disk

import (
	"io/fs"
	"os"
)

// System returns the file system of the machine.
func System() Disk { return system{} }

type system struct{}

// Open implements Disk. It checks the file before opening it, so that a pipe without a writer
// cannot block us.
func (system) Open(path string) (File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &NoFileError{path, info.Mode()}
	}
	return opened(os.Open(path))
}

func (system) Create(path string) (File, error) {
	return opened(os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666))
}

// opened avoids returning a nil *os.File inside a non-nil interface.
func opened(file *os.File, err error) (File, error) {
	if err != nil {
		return nil, err
	}
	return file, nil
}

func (system) Mkdir(path string) error  { return os.Mkdir(path, 0o777) }
func (system) Remove(path string) error { return patiently(func() error { return os.Remove(path) }) }
func (system) Rename(from, to string) error {
	return patiently(func() error { return os.Rename(from, to) })
}
func (system) Exchange(one, other string) error           { return exchange(one, other) }
func (system) Stat(path string) (fs.FileInfo, error)      { return os.Stat(path) }
func (system) Lstat(path string) (fs.FileInfo, error)     { return os.Lstat(path) }
func (system) ReadDir(path string) ([]fs.DirEntry, error) { return os.ReadDir(path) }
func (system) SyncDir(path string) error                  { return syncDir(path) }

func (system) Lock(path string) (Lock, error) {
	lock, err := lockFile(path)
	if err != nil {
		return nil, err
	}
	return lock, nil
}
