package batch

import (
	"bufio"
	"context"
	"errors"
	"io"
	"path/filepath"

	"driftreach/internal/disk"
)

// WriteFile writes one file from what write sends, whole or not at all: into a
// hidden sibling, which is synced and takes the file's name. A file of that name
// is replaced. The error is ctx's when that is the reason, else an *OutputError.
func WriteFile(ctx context.Context, d disk.Disk, path string, write func(io.Writer) error) (err error) {
	fail := func(err error) error {
		if errors.Is(err, disk.ErrLocked) {
			return &OutputError{Path: path, Err: err, Remedy: "wait for it to end, or name another file"}
		}
		return &OutputError{Path: path, Err: err}
	}
	s, err := siblingsOf(path)
	if err != nil {
		return fail(err)
	}
	lock, err := d.Lock(s.lock)
	if err != nil {
		return fail(err)
	}
	arrived := false
	defer func() {
		var left error
		if !arrived {
			left = disk.RemoveAll(d, s.work)
		}
		if left = errors.Join(left, lock.Unlock()); left != nil && !arrived {
			err = errors.Join(err, &LeftError{filepath.Join(filepath.Dir(path), filepath.Base(s.work)), left})
		}
	}()
	if err := disk.RemoveAll(d, s.work); err != nil {
		return fail(err)
	}
	if err := fillFile(ctx, d, s.work, write); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return fail(err)
	}
	if err := d.Rename(s.work, s.dir); err != nil {
		return fail(err)
	}
	arrived = true
	if err := d.SyncDir(filepath.Dir(s.dir)); err != nil {
		return fail(&arrivedError{"", err})
	}
	return nil
}

func fillFile(ctx context.Context, d disk.Disk, path string, write func(io.Writer) error) error {
	file, err := d.Create(path)
	if err != nil {
		return err
	}
	to := bufio.NewWriterSize(file, fileBuffer)
	err = errors.Join(write(to), to.Flush())
	if err == nil {
		err = file.Sync()
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = ctx.Err()
	}
	return err
}
