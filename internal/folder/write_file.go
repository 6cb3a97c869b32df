package folder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"driftreach/internal/disk"
)

// WriteFile writes the single file out from what write sends, completely or not at all: into a hidden
// file beside it, which is synced and then renamed. It replaces a file of that name. The error is ctx's
// if that is the reason, else an *OutputError.
func WriteFile(ctx context.Context, out Out, write func(io.Writer) error) (err error) {
	d, path := out.disk(), out.Dir
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
		beside := func(at string) string { return filepath.Join(filepath.Dir(path), filepath.Base(at)) }
		if !arrived {
			if left := disk.RemoveAll(d, s.work); left != nil {
				err = errors.Join(err, &LeftError{beside(s.work), left})
			}
		}
		switch left := lock.Unlock(); {
		case left != nil && arrived:
			out.warn(fmt.Sprintf("%s could not be removed (%s), and does no harm", beside(s.lock), disk.Reason(left)))
		case left != nil:
			err = errors.Join(err, &LeftError{beside(s.lock), left})
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
	err = buffered(file, write)
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
