// Package disk is the file system as the program uses it: a short list of operations, each of which can
// be made to fail in a test. Output folders are put in place with these operations only, so a test can
// make each of them fail and look at what a fault or a kill leaves behind.
package disk

import (
	"errors"
	"io"
	"io/fs"
)

// Disk is a file system. Its methods may be called from several goroutines.
type Disk interface {
	// Open opens a regular file for reading. Anything else could block a reader for ever and is a
	// *NoFileError.
	Open(path string) (File, error)
	// Create makes a new file. It must not exist.
	Create(path string) (File, error)
	// Mkdir makes one folder.
	Mkdir(path string) error
	// Remove removes a file or an empty folder.
	Remove(path string) error
	// Rename moves a file or folder to another name. On some systems it replaces an empty folder of
	// that name.
	Rename(from, to string) error
	// Exchange swaps two files or folders in one step: at no moment is one of them missing. The error
	// is ErrNoExchange if the system cannot do that.
	Exchange(one, other string) error
	// Stat and Lstat describe a file; Lstat describes a link itself.
	Stat(path string) (fs.FileInfo, error)
	Lstat(path string) (fs.FileInfo, error)
	// ReadDir lists a folder by name.
	ReadDir(path string) ([]fs.DirEntry, error)
	// SyncDir makes the entries of a folder durable.
	SyncDir(path string) error
	// Lock takes the lock at path, or returns ErrLocked at once.
	Lock(path string) (Lock, error)
}

// File is an open file.
type File interface {
	io.Reader
	io.ReaderAt
	io.Writer
	io.Closer
	Sync() error
	Stat() (fs.FileInfo, error)
}

// Lock is a lock that is held. The system releases it when the process ends for any reason, so no lock
// is ever stale.
type Lock interface {
	// Unlock removes the lock file and releases the lock.
	Unlock() error
	// Drop releases the lock as the end of the process does: the file stays.
	Drop()
}

// ErrNoExchange says that the system cannot exchange two folders in one step.
var ErrNoExchange = errors.New("two folders cannot be exchanged in one step here")

// ErrLocked says that another run holds the lock.
var ErrLocked = errors.New("another run is writing it now")

// NoFileError says that a path is not a regular file.
type NoFileError struct {
	Path string
	Mode fs.FileMode
}

// Error returns the path and what is there.
func (e *NoFileError) Error() string { return e.Path + ": " + e.What() }

// What returns what is there, without the path.
func (e *NoFileError) What() string {
	switch {
	case e.Mode.IsDir():
		return "it is a folder"
	case e.Mode&fs.ModeNamedPipe != 0:
		return "it is a pipe, which can be read only once"
	case e.Mode&fs.ModeSocket != 0:
		return "it is a socket"
	case e.Mode&fs.ModeDevice != 0:
		return "it is a device"
	}
	return "it is no regular file"
}

// Remedy returns what the user can do instead.
func (e *NoFileError) Remedy() string {
	if e.Mode.IsDir() {
		return "name a file in it"
	}
	return "write its content to a file, and name that"
}
