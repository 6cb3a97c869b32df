package folder

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
)

// counted is a disk that counts how often files are synced, and notes which folders are.
type counted struct {
	disk.Disk
	files atomic.Int32
	open  atomic.Int32 // files that are not closed
	dirs  []string
}

func (c *counted) Create(path string) (disk.File, error) {
	file, err := c.Disk.Create(path)
	c.open.Add(1)
	return &countedFile{file, c}, err
}

func (c *counted) SyncDir(path string) error {
	c.dirs = append(c.dirs, path)
	return c.Disk.SyncDir(path)
}

type countedFile struct {
	disk.File
	of *counted
}

func (f *countedFile) Sync() error {
	f.of.files.Add(1)
	return f.File.Sync()
}

func (f *countedFile) Close() error {
	f.of.open.Add(-1)
	return f.File.Close()
}

// A file is closed, whether its writer fails or not: a system may not remove one that is open.
func TestFilesAreClosed(t *testing.T) {
	for _, fails := range []error{nil, io.ErrUnexpectedEOF} {
		d := &counted{Disk: disk.System()}
		err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "out"), Disk: d}, func(f *Folder) error {
			return f.Write("a", func(w io.Writer) error {
				_, err := io.WriteString(w, "x")
				return errors.Join(err, fails)
			})
		})
		if !errors.Is(err, fails) || d.open.Load() != 0 {
			t.Errorf("a writer that says %v: %d files are open, %v", fails, d.open.Load(), err)
		}
	}
}

// A file is synced once at its end, and a large one on the way, after every 16 MiB at most as often.
func TestFilesAreSynced(t *testing.T) {
	for size, most := range map[int]int32{1000: 1, syncEvery - 1: 1, syncEvery: 2, 2*syncEvery + 1000: 3} {
		d := &counted{Disk: disk.System()}
		err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "out"), Disk: d}, func(f *Folder) error {
			return f.Write("a", func(w io.Writer) error {
				_, err := io.Copy(w, bytes.NewReader(make([]byte, size)))
				return err
			})
		})
		if n := d.files.Load(); err != nil || n > most || n < min(most, 2) {
			t.Errorf("a file of %d bytes: synced %d times, %v", size, n, err)
		}
	}
}

// The names of a new folder and of every folder made above it are made durable, and a disk that fails at
// one of them is told.
func TestNamesAreSynced(t *testing.T) {
	top := t.TempDir()
	d := &counted{Disk: disk.System()}
	if err := Make(t.Context(), Out{Dir: filepath.Join(top, "new", "deep", "out"), Disk: d}, fillWith(nil)); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{top, filepath.Join(top, "new"), filepath.Join(top, "new", "deep")} {
		if !slices.Contains(d.dirs, dir) {
			t.Errorf("%s is not made durable: %q", dir, d.dirs)
		}
	}
	failed := 0
	for n := 0; ; n++ {
		d := faulty.New(disk.System(), faulty.Plan{At: n})
		err := Make(t.Context(), Out{Dir: filepath.Join(t.TempDir(), "new", "deep", "out"), Disk: d}, fillWith(nil))
		if d.Failed() == "" {
			break
		}
		if verb, _, _ := strings.Cut(d.Failed(), " "); verb == "syncdir" || verb == "sync" {
			if failed++; err == nil {
				t.Errorf("%s fails, and nothing is told", d.Failed())
			}
		}
	}
	if failed < 5 {
		t.Errorf("only %d of them failed", failed)
	}
}
