// Package faulty is a file system for tests whose n-th operation fails, alone or with every operation
// after it. The method is SQLite's (https://www.sqlite.org/testing.html, section 3.2: "I/O error
// testing").
package faulty

import (
	"fmt"
	"io/fs"
	"sync"
	"syscall"

	"driftreach/internal/disk"
)

// Disk is a disk.Disk that passes all operations to another disk, except those that must fail.
type Disk struct {
	under disk.Disk
	how   Plan

	mu    sync.Mutex
	count int
	what  []string // the operations that failed
}

// Plan says which operations fail.
type Plan struct {
	At  int   // number of the operation, from 0; none fails if negative
	Err error // the error to return; nil for a full disk

	// Dead makes every later operation fail too, without effect, as if the program had been killed.
	// Locks are released, as the system does.
	Dead bool

	// NoExchange makes a disk that cannot exchange two folders in one step.
	NoExchange bool
}

// New returns a disk that wraps under and fails by plan.
func New(under disk.Disk, plan Plan) *Disk {
	if plan.Err == nil {
		plan.Err = syscall.ENOSPC
	}
	return &Disk{under: under, how: plan}
}

// Operations returns the number of operations so far.
func (d *Disk) Operations() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.count
}

// Failed returns the first operation that failed, as "verb path"; blank for none.
func (d *Disk) Failed() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	if len(d.what) == 0 {
		return ""
	}
	return d.what[0]
}

// next counts an operation and returns its error.
func (d *Disk) next(verb, path string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := d.count
	d.count++
	if d.how.At < 0 || n < d.how.At || n > d.how.At && !d.how.Dead {
		return nil
	}
	d.what = append(d.what, fmt.Sprintf("%s %s", verb, path))
	return &fs.PathError{Op: verb, Path: path, Err: d.how.Err}
}

// Open implements disk.Disk.
func (d *Disk) Open(path string) (disk.File, error) {
	if err := d.next("open", path); err != nil {
		return nil, err
	}
	return d.wrap(path, d.under.Open)
}

// Create implements disk.Disk.
func (d *Disk) Create(path string) (disk.File, error) {
	if err := d.next("create", path); err != nil {
		return nil, err
	}
	return d.wrap(path, d.under.Create)
}

func (d *Disk) wrap(path string, open func(string) (disk.File, error)) (disk.File, error) {
	file, err := open(path)
	if err != nil {
		return nil, err
	}
	return &handle{file, d, path}, nil
}

// Mkdir implements disk.Disk.
func (d *Disk) Mkdir(path string) error {
	return d.either("mkdir", path, func() error { return d.under.Mkdir(path) })
}

// Remove implements disk.Disk.
func (d *Disk) Remove(path string) error {
	return d.either("remove", path, func() error { return d.under.Remove(path) })
}

// Rename implements disk.Disk.
func (d *Disk) Rename(from, to string) error {
	return d.either("rename", from, func() error { return d.under.Rename(from, to) })
}

// Exchange implements disk.Disk.
func (d *Disk) Exchange(one, other string) error {
	if d.how.NoExchange {
		return disk.ErrNoExchange
	}
	return d.either("exchange", one, func() error { return d.under.Exchange(one, other) })
}

// SyncDir implements disk.Disk.
func (d *Disk) SyncDir(path string) error {
	return d.either("syncdir", path, func() error { return d.under.SyncDir(path) })
}

func (d *Disk) either(verb, path string, do func() error) error {
	if err := d.next(verb, path); err != nil {
		return err
	}
	return do()
}

// Stat implements disk.Disk.
func (d *Disk) Stat(path string) (fs.FileInfo, error) {
	if err := d.next("stat", path); err != nil {
		return nil, err
	}
	return d.under.Stat(path)
}

// Lstat implements disk.Disk.
func (d *Disk) Lstat(path string) (fs.FileInfo, error) {
	if err := d.next("lstat", path); err != nil {
		return nil, err
	}
	return d.under.Lstat(path)
}

// ReadDir implements disk.Disk.
func (d *Disk) ReadDir(path string) ([]fs.DirEntry, error) {
	if err := d.next("readdir", path); err != nil {
		return nil, err
	}
	return d.under.ReadDir(path)
}

// Lock implements disk.Disk.
func (d *Disk) Lock(path string) (disk.Lock, error) {
	if err := d.next("lock", path); err != nil {
		return nil, err
	}
	lock, err := d.under.Lock(path)
	if err != nil {
		return nil, err
	}
	return &held{lock, d, path}, nil
}

// held is a lock whose Unlock may fail. It is released all the same.
type held struct {
	disk.Lock
	d    *Disk
	path string
}

// Unlock implements disk.Lock.
func (h *held) Unlock() error {
	if err := h.d.next("unlock", h.path); err != nil {
		h.Drop()
		return err
	}
	return h.Lock.Unlock()
}

// handle is an open file whose operations may fail.
type handle struct {
	disk.File
	d    *Disk
	path string
}

// Read implements disk.File.
func (h *handle) Read(b []byte) (int, error) {
	if err := h.d.next("read", h.path); err != nil {
		return 0, err
	}
	return h.File.Read(b)
}

// ReadAt implements disk.File.
func (h *handle) ReadAt(b []byte, at int64) (int, error) {
	if err := h.d.next("read", h.path); err != nil {
		return 0, err
	}
	return h.File.ReadAt(b, at)
}

// Write implements disk.File. If it fails, half is written, as on a full disk.
func (h *handle) Write(b []byte) (int, error) {
	if err := h.d.next("write", h.path); err != nil {
		n := 0
		if h.d.how.Dead && h.d.Failed() == "write "+h.path || !h.d.how.Dead {
			n, _ = h.File.Write(b[:len(b)/2])
		}
		return n, err
	}
	return h.File.Write(b)
}

// Sync implements disk.File.
func (h *handle) Sync() error {
	return h.d.either("sync", h.path, h.File.Sync)
}

// Close implements disk.File. The file is closed even if Close fails.
func (h *handle) Close() error {
	err := h.d.next("close", h.path)
	if closed := h.File.Close(); err == nil {
		err = closed
	}
	return err
}
