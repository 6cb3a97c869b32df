package batch

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Folder is an output folder under construction. Its methods may be called
// from several goroutines.
type Folder struct {
	ctx    context.Context
	root   string // where the files are until the folder is whole
	prefix string // of a folder inside the folder, with a slash; blank at the top
	mu     *sync.Mutex
	files  *[]FileSum
	late   *errgroup.Group // last syncs under way
}

// FileSum is one finished file of a folder.
type FileSum struct {
	Name   string // from the folder's top, with forward slashes
	SHA256 string // lower-case hexadecimal
	Bytes  int64
}

// OutputError says that the output could not be written. Nothing of it is left
// behind.
type OutputError struct {
	Path   string
	Remedy string // blank for the usual one: permissions and room
	Err    error
}

// Error returns what could not be written and why.
func (e *OutputError) Error() string {
	// The operation and the temporary path of the system's own error would only
	// puzzle.
	reason := e.Err
	var at *fs.PathError
	if errors.As(reason, &at) {
		reason = at.Err
	}
	return fmt.Sprintf("write %s: %v", e.Path, reason)
}

// Unwrap returns the reason.
func (e *OutputError) Unwrap() error { return e.Err }

// Hint returns what the user can do about it.
func (e *OutputError) Hint() string {
	if e.Remedy == "" {
		return "see that the folder above it can be written to and that there is room on the disk"
	}
	return e.Remedy
}

// WriteFolder makes the folder dir by calling fill, and puts it in place whole
// or not at all: fill writes into a temporary sibling, which is synced and
// renamed once fill has returned nil and ctx is not done. A finished folder of
// ours at dir is replaced; anything else there is left alone and is an error.
// Two calls for the same dir, in any processes of one machine, exclude each
// other. The error is ctx's when that is the reason, fill's own when it is not
// about output, and an *OutputError otherwise.
func WriteFolder(ctx context.Context, dir string, fill func(*Folder) error) (err error) {
	s, err := newSite(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.leave()) }()
	if err := s.prepare(); err != nil {
		return err
	}
	f := &Folder{ctx: ctx, root: s.work, mu: new(sync.Mutex), files: new([]FileSum), late: new(errgroup.Group)}
	err = fill(f)
	if lateErr := f.Synced(); err == nil {
		err = lateErr
	}
	if err != nil {
		return err
	}
	if err := syncTree(s.work); err != nil {
		return s.fail(err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return s.swap()
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

// makeParents makes the folders above a path inside the folder.
func makeParents(path string) error { return os.MkdirAll(filepath.Dir(path), 0o777) }
