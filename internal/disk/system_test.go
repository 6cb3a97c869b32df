package disk

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// What stands at a path that is no regular file, and what to do about it, by kind. A device that is
// read by characters has two bits set, as fs.FileMode documents.
func TestWhatIsNoFile(t *testing.T) {
	const folder, other = "name a file in it", "write its content to a file, and name that"
	for _, c := range []struct {
		mode         fs.FileMode
		what, remedy string
	}{
		{fs.ModeDir | 0o755, "it is a folder", folder},
		{fs.ModeNamedPipe | 0o644, "it is a pipe, which can be read only once", other},
		{fs.ModeSocket | 0o644, "it is a socket", other},
		{fs.ModeDevice | 0o644, "it is a device", other},
		{fs.ModeDevice | fs.ModeCharDevice | 0o644, "it is a device", other},
		{fs.ModeIrregular, "it is no regular file", other},
		{fs.ModeSymlink | 0o777, "it is no regular file", other},
	} {
		e := &NoFileError{Path: "in/points.csv", Mode: c.mode}
		if e.What() != c.what || e.Error() != "in/points.csv: "+c.what || e.Remedy() != c.remedy {
			t.Errorf("%v: %q, %q, %q", c.mode, e.What(), e.Error(), e.Remedy())
		}
	}
}

// The text of an error without the operation and the path that the system puts before it.
func TestReason(t *testing.T) {
	plain := errors.New("the disk is full")
	for name, err := range map[string]error{
		"of a path":       &fs.PathError{Op: "write", Path: "/tmp/x", Err: plain},
		"of a link":       &os.LinkError{Op: "rename", Old: "/tmp/x", New: "/tmp/y", Err: plain},
		"its own":         plain,
		"the first of":    errors.Join(&fs.PathError{Op: "sync", Path: "/tmp/x", Err: plain}, errors.New("something else")),
		"joined in joint": errors.Join(errors.Join(plain, fs.ErrExist), fs.ErrNotExist),
	} {
		if got := Reason(err); got != "the disk is full" {
			t.Errorf("%s: %q", name, got)
		}
	}
	if got := Reason(&NoFileError{Path: "/tmp/x", Mode: fs.ModeDir}); got != "it is a folder" {
		t.Errorf("of a folder: %q", got)
	}
}

// A file is made anew and never over another one; what is no regular file is not opened.
func TestOpenAndCreate(t *testing.T) {
	d, dir := System(), t.TempDir()
	path := filepath.Join(dir, "a.csv")
	file, err := d.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(file, "text"); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(file.Sync(), file.Close()); err != nil {
		t.Fatal(err)
	}
	if again, err := d.Create(path); again != nil || !errors.Is(err, fs.ErrExist) {
		t.Errorf("made again: %v, %v", again, err)
	}
	if file, err = d.Open(path); err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(file)
	if err != nil || string(text) != "text" {
		t.Errorf("read %q, %v", text, err)
	}
	if err := file.Close(); err != nil {
		t.Error(err)
	}
	if none, err := d.Open(path + "x"); none != nil || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v, %v", none, err)
	}
	var no *NoFileError
	if of, err := d.Open(dir); of != nil || !errors.As(err, &no) || no.Path != dir || !no.Mode.IsDir() {
		t.Errorf("a folder: %v, %v", of, err)
	}
}

// Two folders, and a folder and a file, change places; a path that is missing is an error with both
// names, and moves nothing. A folder cannot change places with one inside it: EINVAL in
// rename(2), by which a system also says that it has no such step.
func TestExchange(t *testing.T) {
	d, dir := System(), t.TempDir()
	at := func(name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	for _, name := range []string{"one", "other", "other/in"} {
		if err := d.Mkdir(at(name)); err != nil {
			t.Fatal(err)
		}
	}
	write(t, at("one/1"), "1")
	write(t, at("other/2"), "2")
	switch err := d.Exchange(at("one"), at("other")); {
	case errors.Is(err, ErrNoExchange):
		t.Skip(err)
	case err != nil:
		t.Fatal(err)
	}
	for _, name := range []string{"one/2", "one/in", "other/1"} {
		if _, err := d.Stat(at(name)); err != nil {
			t.Error(err)
		}
	}
	err := d.Exchange(at("one"), at("none"))
	var link *os.LinkError
	if !errors.As(err, &link) || link.Op != "exchange" || link.Old != at("one") || link.New != at("none") || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("with a missing folder: %v", err)
	}
	if err := d.Exchange(at("one"), at("one/in")); !errors.Is(err, ErrNoExchange) {
		t.Errorf("with a folder inside it: %v", err)
	}
	if _, err := d.Stat(at("one/in")); err != nil {
		t.Error(err)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// What the system says of the lock's path, and a lock that is dropped: its file stays, and the next
// run takes it.
func TestLockOfTheSystem(t *testing.T) {
	d, dir := System(), t.TempDir()
	var no *NoFileError
	if lock, err := d.Lock(dir); lock != nil || !errors.As(err, &no) || no.Path != dir || no.What() != "it is a folder" {
		t.Errorf("a folder: %v, %v", lock, err)
	}
	if lock, err := d.Lock(filepath.Join(dir, "none", "lock")); lock != nil || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("in a missing folder: %v, %v", lock, err)
	}
	path := filepath.Join(dir, "lock")
	first, err := d.Lock(path)
	if err != nil {
		t.Fatal(err)
	}
	if second, err := d.Lock(path); second != nil || !errors.Is(err, ErrLocked) {
		t.Errorf("held already: %v, %v", second, err)
	}
	first.Drop()
	if _, err := d.Stat(path); err != nil {
		t.Errorf("the file of a dropped lock: %v", err)
	}
	again, err := d.Lock(path)
	if err != nil {
		t.Fatalf("after it was dropped: %v", err)
	}
	if err := again.Unlock(); err != nil {
		t.Error(err)
	}
}

// At no moment do two hold the lock, though each holder removes its file while others open it.
func TestOneHolderAtATime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	var holders, held atomic.Int32
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for range 300 {
				lock, err := System().Lock(path)
				if err != nil {
					if !errors.Is(err, ErrLocked) {
						t.Error(err)
					}
					continue
				}
				if n := holders.Add(1); n != 1 {
					t.Errorf("%d hold it", n)
				}
				held.Add(1)
				holders.Add(-1)
				if err := lock.Unlock(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	if held.Load() == 0 {
		t.Error("nobody got it")
	}
}

// A folder lists its entries by name, and what is missing or no folder is an error about its path.
func TestFoldersOfTheSystem(t *testing.T) {
	d, dir := System(), t.TempDir()
	for _, name := range []string{"b", "a", "c"} {
		write(t, filepath.Join(dir, name), name)
	}
	entries, err := d.ReadDir(dir)
	var names []string
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	if err != nil || strings.Join(names, " ") != "a b c" {
		t.Errorf("%q, %v", names, err)
	}
	if err := d.SyncDir(dir); err != nil {
		t.Error(err)
	}
	if err := d.Rename(filepath.Join(dir, "a"), filepath.Join(dir, "d")); err != nil {
		t.Error(err)
	}
	if err := d.Remove(filepath.Join(dir, "b")); err != nil {
		t.Error(err)
	}
	for name, there := range map[string]bool{"a": false, "b": false, "c": true, "d": true} {
		if _, err := d.Lstat(filepath.Join(dir, name)); (err == nil) != there {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := d.Mkdir(dir); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a folder made twice: %v", err)
	}
	if err := d.Remove(filepath.Join(dir, "b")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("removed twice: %v", err)
	}
}
