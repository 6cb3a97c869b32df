package disk

import "os"

// fileLock is a lock held on a file that exists only while it is held.
type fileLock struct {
	file *os.File
	path string
}

// lockFile takes the lock at path or returns ErrLocked at once.
func lockFile(path string) (*fileLock, error) {
	// The holder may remove the file after we open it and before we lock it. Then we hold the lock of a
	// removed file, and try again.
	for {
		if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
			return nil, &NoFileError{path, info.Mode()}
		}
		file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, err
		}
		if err := lockHandle(file); err != nil {
			file.Close()
			return nil, err
		}
		if samePlace(file, path) {
			return &fileLock{file: file, path: path}, nil
		}
		file.Close()
	}
}

func samePlace(file *os.File, path string) bool {
	held, err := file.Stat()
	if err != nil {
		return false
	}
	named, err := os.Stat(path)
	return err == nil && os.SameFile(held, named)
}

// Unlock implements Lock.
func (l *fileLock) Unlock() error { return removeHeld(l.file, l.path) }

// Drop implements Lock.
func (l *fileLock) Drop() { l.file.Close() }
