// Package folder is the output folder as one exchange: files are written beside the
// place, hashed and synced, and take it whole or not at all. Of what is in them it
// knows the manifest alone, by which a folder is known as ours.
package folder

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"driftreach/geo/parallel"
	"driftreach/internal/disk"
)

// Folder is an output folder under construction. Its methods may be called
// from several goroutines.
type Folder struct {
	ctx    context.Context
	site   *site // its place; nil in tests of files alone
	disk   disk.Disk
	root   string // where the files are until the folder is whole
	prefix string // of a folder inside the folder, with a slash; blank at the top
	mu     *sync.Mutex
	files  *[]FileSum
	late   *errgroup.Group // last syncs under way
}

// Make makes the folder out by calling fill, and puts it in place whole
// or not at all: fill writes into a temporary sibling, which is synced and
// takes the folder's place once fill has returned nil and ctx is not done. A
// finished folder of ours that stands there is replaced; anything else is left
// alone and is an error. Two calls for the same folder, in any processes of one
// machine, exclude each other. Once ctx is done, fill is waited for a moment and
// then left behind. The error is ctx's when that is the reason, fill's own when it
// is not about output, and an *OutputError otherwise; what could not be cleared
// away is a *LeftError joined to it.
func Make(ctx context.Context, out Out, fill func(*Folder) error) (err error) {
	s, err := newSite(out)
	if err != nil {
		return err
	}
	defer func() { err = s.leave(err) }()
	if err := s.prepare(ctx); err != nil {
		return err
	}
	f := &Folder{ctx: ctx, site: s, disk: s.disk, root: s.work, mu: new(sync.Mutex), files: new([]FileSum), late: new(errgroup.Group)}
	if err := f.filled(fill); err != nil {
		return err
	}
	if err := disk.SyncTree(s.disk, s.work); err != nil {
		return s.fail(err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return s.swap()
}

// patience is how long an interrupted fill may take to end by itself. Our choice:
// what a person waits before trying again.
const patience = 3 * time.Second

// filled calls fill and waits for its files, or, once the context is done, not
// much longer.
func (f *Folder) filled(fill func(*Folder) error) error {
	done := make(chan error, 1)
	go func() {
		done <- parallel.Guard(func() error {
			err := fill(f)
			if late := f.Synced(); err == nil {
				err = late
			}
			return err
		})
	}()
	select {
	case err := <-done:
		return err
	case <-f.ctx.Done():
	}
	select {
	case err := <-done:
		return err
	case <-time.After(patience):
		return f.ctx.Err()
	}
}

// Sub returns the folder called name inside f. Its files belong to f as well.
func (f *Folder) Sub(name string) *Folder {
	sub := *f
	sub.prefix = f.prefix + name + "/"
	return &sub
}

// Synced waits until every file written so far, in f and around it, is on the
// disk.
func (f *Folder) Synced() error { return f.late.Wait() }

// Files returns the files finished so far in f and below, by name, named from
// f's own top.
func (f *Folder) Files() []FileSum {
	f.mu.Lock()
	defer f.mu.Unlock()
	var own []FileSum
	for _, sum := range *f.files {
		if name, ok := strings.CutPrefix(sum.Name, f.prefix); ok {
			sum.Name = name
			own = append(own, sum)
		}
	}
	slices.SortFunc(own, func(a, b FileSum) int { return strings.Compare(a.Name, b.Name) })
	return own
}

// Dir returns where the files of f lie while the folder is under construction,
// for whoever reads what was written before.
func (f *Folder) Dir() string { return f.path("") }

// path returns where a file of f lies while the folder is under construction.
func (f *Folder) path(name string) string {
	return filepath.Join(f.root, filepath.FromSlash(f.prefix+name))
}

// makeParents makes the folders above a file of f, but never the top itself: that
// is there, or the run has ended.
func (f *Folder) makeParents(name string) error {
	for i, c := range f.prefix + name {
		if c != '/' {
			continue
		}
		err := f.disk.Mkdir(filepath.Join(f.root, filepath.FromSlash((f.prefix + name)[:i])))
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return nil
}
