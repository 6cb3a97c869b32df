package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// grown makes files with folders around them; a name that ends in a slash is a folder. It returns
// the top folder.
func grown(t *testing.T, names ...string) string {
	t.Helper()
	top := t.TempDir()
	for _, name := range names {
		at := filepath.Join(top, filepath.FromSlash(name))
		dir := filepath.Dir(at)
		if strings.HasSuffix(name, "/") {
			dir = at
		}
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if dir != at {
			write(t, at, name)
		}
	}
	return top
}

// odd is a disk on which one operation on one name has an error. It notes what is removed and synced.
type odd struct {
	Disk
	name, verb string
	err        error
	did        []string
}

func (o *odd) on(verb, path string) error {
	o.did = append(o.did, verb+" "+filepath.Base(path))
	if filepath.Base(path) == o.name && o.verb == verb {
		return &fs.PathError{Op: verb, Path: path, Err: o.err}
	}
	return nil
}

// Remove fails; where the error is that the thing is gone, somebody has just removed it.
func (o *odd) Remove(path string) error {
	if err := o.on("remove", path); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			err = errors.Join(err, o.Disk.Remove(path))
		}
		return err
	}
	return o.Disk.Remove(path)
}

func (o *odd) Lstat(path string) (fs.FileInfo, error) {
	if err := o.on("lstat", path); err != nil {
		return nil, err
	}
	return o.Disk.Lstat(path)
}

func (o *odd) ReadDir(path string) ([]fs.DirEntry, error) {
	if err := o.on("readdir", path); err != nil {
		return nil, err
	}
	return o.Disk.ReadDir(path)
}

func (o *odd) SyncDir(path string) error { return o.on("sync", path) }

// A file, an empty folder and a tree are removed whole, and nothing beside them; a link in it is removed
// and not followed; what is missing is no error.
func TestRemoveAll(t *testing.T) {
	top := grown(t, "file", "empty/", "tree/a", "tree/deep/er/b", "tree/none/", "keep/c")
	if err := os.Symlink(filepath.Join(top, "keep"), filepath.Join(top, "tree", "link")); err != nil {
		t.Log("no links here: ", err)
	}
	for _, name := range []string{"file", "empty", "tree", "missing"} {
		if err := RemoveAll(System(), filepath.Join(top, name)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if left, err := FilesUnder(System(), top); err != nil || !slices.Equal(left, []string{"keep/c"}) {
		t.Errorf("left: %q, %v", left, err)
	}
	if entries, err := os.ReadDir(top); err != nil || len(entries) != 1 {
		t.Errorf("left: %v, %v", entries, err)
	}
}

// Where one thing cannot be removed the rest is, and its error is returned, not a later one; a thing
// that somebody else removes in between is no error.
func TestRemoveAllOfWhatResists(t *testing.T) {
	refused := errors.New("refused")
	for _, c := range []struct {
		verb, name string
		err, want  error
		left       string
	}{
		{"remove", "a", refused, refused, "tree/a"},
		{"remove", "m", refused, refused, "tree/deep/m"},
		{"remove", "z", refused, refused, "tree/z"},
		{"remove", "tree", refused, refused, ""},
		{"readdir", "deep", refused, refused, "tree/deep/m"},
		{"readdir", "tree", refused, refused, "tree/a tree/deep/m tree/z"},
		{"lstat", "deep", refused, refused, "tree/deep/m"},
		{"lstat", "tree", refused, refused, "tree/a tree/deep/m tree/z"},
		{"remove", "a", fs.ErrNotExist, nil, ""},
		{"remove", "m", fs.ErrNotExist, nil, ""},
		{"remove", "deep", fs.ErrNotExist, nil, ""},
		{"remove", "tree", fs.ErrNotExist, nil, ""},
	} {
		top := grown(t, "tree/a", "tree/deep/m", "tree/z")
		d := &odd{Disk: System(), verb: c.verb, name: c.name, err: c.err}
		if err := RemoveAll(d, filepath.Join(top, "tree")); !errors.Is(err, c.want) {
			t.Errorf("%s of %s: %v, want %v", c.verb, c.name, err, c.want)
		}
		if left, err := FilesUnder(System(), top); err != nil || strings.Join(left, " ") != c.left {
			t.Errorf("%s of %s leaves %q, %v, want %q", c.verb, c.name, left, err, c.left)
		}
	}
}

// Of two things that cannot be removed the error is about the first by name.
func TestRemoveAllSaysTheFirst(t *testing.T) {
	top := grown(t, "tree/a", "tree/deep/m", "tree/z")
	refused := errors.New("refused")
	d := &odd{Disk: &odd{Disk: System(), verb: "remove", name: "m", err: refused}, verb: "remove", name: "z", err: refused}
	var at *fs.PathError
	if err := RemoveAll(d, filepath.Join(top, "tree")); !errors.As(err, &at) || filepath.Base(at.Path) != "m" {
		t.Error(err)
	}
}

// Every folder of a tree is made durable, the inner ones first, and the first error ends it.
func TestSyncTree(t *testing.T) {
	top := filepath.Join(grown(t, "tree/a", "tree/one/b", "tree/one/deep/", "tree/two/"), "tree")
	synced := func(d *odd) string {
		var names []string
		for _, did := range d.did {
			if name, is := strings.CutPrefix(did, "sync "); is {
				names = append(names, name)
			}
		}
		return strings.Join(names, " ")
	}
	d := &odd{Disk: System()}
	if err := SyncTree(d, top); err != nil || synced(d) != "deep one two tree" {
		t.Errorf("synced %s, %v", synced(d), err)
	}
	refused := errors.New("refused")
	for at, want := range map[string]string{"sync deep": "deep", "sync two": "deep one two", "sync tree": "deep one two tree", "readdir one": "", "readdir two": "deep one"} {
		verb, name, _ := strings.Cut(at, " ")
		d := &odd{Disk: System(), verb: verb, name: name, err: refused}
		if err := SyncTree(d, top); !errors.Is(err, refused) || synced(d) != want {
			t.Errorf("%s refused: synced %s, %v", at, synced(d), err)
		}
	}
}

// Every file with its path below the folder, by name, folder by folder; a folder that cannot be read
// is an error and no shorter list.
func TestFilesUnder(t *testing.T) {
	top := grown(t, "b", "a/2", "a/1/x", "a.csv", "empty/", "c/d/e/f")
	got, err := FilesUnder(System(), top)
	if want := []string{"a/1/x", "a/2", "a.csv", "b", "c/d/e/f"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v", got, err)
	}
	refused := errors.New("refused")
	for _, name := range []string{"1", "empty", "e", filepath.Base(top)} {
		if got, err := FilesUnder(&odd{Disk: System(), verb: "readdir", name: name, err: refused}, top); got != nil || !errors.Is(err, refused) {
			t.Errorf("without %s: %q, %v", name, got, err)
		}
	}
}
