// Package disk is the file system as the program uses it: a short list of
// operations, each of which can be made to fail in a test. Folders are put in
// place by these operations alone, so that what a fault or a kill leaves behind
// can be tried at every one of them.
package disk

import (
	"errors"
	"io"
	"io/fs"
)

// Disk is a file system. Its methods may be called from several places at once.
type Disk interface {
	// Open opens a regular file for reading. What is no file, and could keep a
	// reader waiting for ever, is a *NoFileError.
	Open(path string) (File, error)
	// Create makes a file that is not there yet.
	Create(path string) (File, error)
	// Mkdir makes one folder.
	Mkdir(path string) error
	// Remove removes a file or an empty folder.
	Remove(path string) error
	// Rename gives a file or folder another name. An empty folder of that name is
	// replaced where the system does so.
	Rename(from, to string) error
	// Exchange swaps two files or folders in one step: nobody ever finds one of
	// them missing. The error is ErrNoExchange where the system has no such step.
	Exchange(one, other string) error
	// Stat and Lstat describe a file; Lstat describes a link itself.
	Stat(path string) (fs.FileInfo, error)
	Lstat(path string) (fs.FileInfo, error)
	// ReadDir lists a folder by name.
	ReadDir(path string) ([]fs.DirEntry, error)
	// SyncDir makes the names in a folder durable.
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

// Lock is a lock that is held. The system lets go of it when the process ends,
// however it ends, so that no lock is ever stale.
type Lock interface {
	// Unlock removes the lock's file and lets go.
	Unlock() error
	// Drop lets go as the end of the process does: the file stays.
	Drop()
}

// ErrNoExchange says that the system cannot exchange two folders in one step.
var ErrNoExchange = errors.New("two folders cannot be exchanged in one step here")

// ErrLocked says that another run holds the lock.
var ErrLocked = errors.New("another run is writing it now")

// NoFileError says that a path names something else than a regular file.
type NoFileError struct {
	Path string
	Mode fs.FileMode
}

// Error returns what the path names.
func (e *NoFileError) Error() string { return e.Path + ": " + e.What() }

// What returns what it is, without its path.
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
