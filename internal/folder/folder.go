// Package folder replaces an output folder in one step. Files are written to a folder beside it, hashed
// and synced; then that folder takes its place as a whole, or nothing changes. Of the contents the
// package knows only the manifest, which marks a folder as one of ours.
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

// Folder is an output folder that is being written. Its methods may be called from several goroutines.
type Folder struct {
	ctx    context.Context
	site   *site // nil in tests of single files
	disk   disk.Disk
	root   string // where the files are until the folder is complete
	prefix string // path inside the output folder, ending in a slash; blank at the top
	mu     *sync.Mutex
	files  *[]FileSum
	late   *errgroup.Group // background syncs
}

// Make creates the folder out by calling fill. The folder appears complete or not at all: fill writes
// into a temporary folder beside it. When fill has returned nil and ctx is not done, the temporary
// folder is synced and takes its place. A finished folder of ours with that name is replaced; anything
// else is left alone and is an error. Two calls for the same folder on one machine exclude each other,
// in any processes. Once ctx is done, Make waits for fill a moment and then no longer. The error is
// ctx's if that is the reason, fill's own if it is not about output, and otherwise an *OutputError. A
// *LeftError joined to it names what could not be removed.
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

// patience is how long an interrupted fill may take to stop. Our choice: as long as a person waits
// before trying again.
const patience = 3 * time.Second

// filled calls fill and waits for its files. Once the context is done it waits only a little longer.
func (f *Folder) filled(fill func(*Folder) error) error {
	done := make(chan error, 1)
	go func() {
		done <- outputOf(parallel.Guard(func() error {
			err := fill(f)
			if late := f.Synced(); err == nil {
				err = late
			}
			return err
		}))
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

// outputOf returns the *OutputError with which a task ended in a panic, since nobody up to there could
// return it. Any other error stays as it is.
func outputOf(err error) error {
	var fault *parallel.Fault
	var output *OutputError
	if errors.As(err, &fault) {
		if value, is := fault.Value.(error); is && errors.As(value, &output) {
			return output
		}
	}
	return err
}

// Sub returns the folder called name inside f. Its files belong to f as well.
func (f *Folder) Sub(name string) *Folder {
	sub := *f
	sub.prefix = f.prefix + name + "/"
	return &sub
}

// Synced waits until every file written so far is on disk, in f and in the folders around it.
func (f *Folder) Synced() error { return f.late.Wait() }

// Files returns the finished files in f and below, sorted by name. Names are relative to f.
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

// Dir returns where the files of f are while the folder is being written, for code that reads files
// already written.
func (f *Folder) Dir() string { return f.path("") }

// path returns where a file of f is while the folder is being written.
func (f *Folder) path(name string) string {
	return filepath.Join(f.root, filepath.FromSlash(f.prefix+name))
}

// makeParents makes the folders above a file of f, but never the top folder: if that is missing, the
// run has ended.
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
