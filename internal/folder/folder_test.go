package folder

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/disk"
)

// fillWith writes the named texts, and a manifest that lists them.
func fillWith(texts map[string]string) func(*Folder) error {
	return func(f *Folder) error {
		for name, text := range texts {
			if err := f.Write(name, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
				return err
			}
		}
		return f.Write(ManifestName, func(w io.Writer) error {
			return json.NewEncoder(w).Encode(map[string]any{"program": Program, "outputs": f.Files()})
		})
	}
}

// tree returns every path under dir, folders with a slash, with the files' texts.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(at string, entry os.DirEntry, err error) error {
		if err != nil || at == dir {
			return err
		}
		name, _ := filepath.Rel(dir, at)
		if entry.IsDir() {
			found[filepath.ToSlash(name)+"/"] = ""
			return nil
		}
		text, err := os.ReadFile(at)
		found[filepath.ToSlash(name)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// The checksums equal those of the standard library for the files on disk.
func TestMakePutsFilesInPlaceWithTheirSums(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "deep", "out")
	var sums, subSums []FileSum
	err := Make(t.Context(), Out{Dir: dir}, func(f *Folder) error {
		sub := f.Sub("2026Q3")
		if err := fillWith(map[string]string{"b.csv": "b\r\n", "a.csv": strings.Repeat("a", fileBuffer*2+7)})(sub); err != nil {
			return err
		}
		sums, subSums = f.Files(), sub.Files()
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, sum := range sums {
		text, err := os.ReadFile(filepath.Join(dir, sum.Name))
		if err != nil {
			t.Fatal(err)
		}
		hash := sha256.Sum256(text)
		if sum.SHA256 != hex.EncodeToString(hash[:]) || sum.Bytes != int64(len(text)) {
			t.Errorf("%s: sum %+v of %d bytes", sum.Name, sum, len(text))
		}
		if subSums[i].Name != strings.TrimPrefix(sum.Name, "2026Q3/") {
			t.Errorf("sub folder calls %s %s", sum.Name, subSums[i].Name)
		}
	}
	if len(sums) != 3 || sums[0].Name != "2026Q3/a.csv" {
		t.Errorf("files %v", sums)
	}
	if entries, _ := os.ReadDir(filepath.Dir(dir)); len(entries) != 1 {
		t.Errorf("siblings left: %v", entries)
	}
}

func TestFailuresLeaveNothingBehind(t *testing.T) {
	broken := errors.New("broken")
	cases := []struct {
		name string
		dir  string // below the parent folder
		fill func(cancel func()) func(*Folder) error
		want func(error) bool
	}{
		{"the fill fails", "new/deep/out", func(func()) func(*Folder) error {
			return func(f *Folder) error { return errors.Join(fillWith(map[string]string{"a": "1"})(f), broken) }
		}, func(err error) bool { return errors.Is(err, broken) }},
		{"a writer fails", "new/deep/out", func(func()) func(*Folder) error {
			return func(f *Folder) error {
				return f.Write("a", func(w io.Writer) error { io.WriteString(w, "half"); return broken })
			}
		}, func(err error) bool { var out *OutputError; return errors.Is(err, broken) && !errors.As(err, &out) }},
		{"interrupted while writing", "new/out", func(cancel func()) func(*Folder) error {
			return func(f *Folder) error { cancel(); return fillWith(map[string]string{"a": "1"})(f) }
		}, func(err error) bool { return errors.Is(err, context.Canceled) }},
		{"interrupted at the end", "new/out", func(cancel func()) func(*Folder) error {
			return func(f *Folder) error { err := fillWith(map[string]string{"a": "1"})(f); cancel(); return err }
		}, func(err error) bool { return errors.Is(err, context.Canceled) }},
		{"a file of that name twice", "out", func(func()) func(*Folder) error {
			return func(f *Folder) error {
				return errors.Join(fillWith(map[string]string{"a": "1"})(f), fillWith(map[string]string{"a": "1"})(f))
			}
		}, isOutputError},
		{"a file where a parent should be", "file/out", func(func()) func(*Folder) error {
			return func(*Folder) error { t.Error("the fill was called"); return nil }
		}, isOutputError},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			put(t, parent, "file", "mine")
			before := tree(t, parent)
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			if err := Make(ctx, Out{Dir: filepath.Join(parent, c.dir)}, c.fill(cancel)); !c.want(err) {
				t.Errorf("error %v", err)
			}
			if diff := cmp.Diff(before, tree(t, parent)); diff != "" {
				t.Errorf("left behind (-before +after):\n%s", diff)
			}
		})
	}
}

func isOutputError(err error) bool {
	var out *OutputError
	return errors.As(err, &out) && out.Hint() != ""
}

func TestMakeReplacesOnlyItsOwn(t *testing.T) {
	ours := fmt.Sprintf(`{"program": "driftreach", "outputs": [{"name": "old.csv", "bytes": 1, "sha256": "%x"}, {"name": "sub/old.csv", "bytes": 1, "sha256": "%x"}]}`,
		sha256.Sum256([]byte("1")), sha256.Sum256([]byte("2")))
	cases := []struct {
		name    string
		files   map[string]string // below the output folder
		replace bool
	}{
		{"a finished batch", map[string]string{"manifest.json": ours, "old.csv": "1", "sub/old.csv": "2"}, true},
		{"a batch with files taken away", map[string]string{"manifest.json": ours}, true},
		{"a batch with an edited file", map[string]string{"manifest.json": ours, "old.csv": "3", "sub/old.csv": "2"}, false},
		{"a batch with a note of the user's", map[string]string{"manifest.json": ours, "old.csv": "1", "notes.txt": "mine"}, false},
		{"a folder without a manifest", map[string]string{"photo.jpg": "mine"}, false},
		{"another program's manifest", map[string]string{"manifest.json": `{"program": "web"}`}, false},
		{"a manifest that is no JSON", map[string]string{"manifest.json": `driftreach`}, false},
		{"a manifest that is a list", map[string]string{"manifest.json": `[]`}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			for name, text := range c.files {
				put(t, filepath.Join(parent, "out"), name, text)
			}
			before := tree(t, parent)
			err := Make(t.Context(), Out{Dir: filepath.Join(parent, "out")}, fillWith(map[string]string{"new.csv": "n"}))
			after := tree(t, parent)
			if !c.replace {
				if !isOutputError(err) {
					t.Errorf("error %v", err)
				}
				if diff := cmp.Diff(before, after); diff != "" {
					t.Errorf("changed (-before +after):\n%s", diff)
				}
				return
			}
			want := map[string]string{"out/": "", "out/new.csv": "n", "out/manifest.json": after["out/manifest.json"]}
			if diff := cmp.Diff(want, after); err != nil || diff != "" {
				t.Errorf("error %v, folder (-want +got):\n%s", err, diff)
			}
		})
	}
}

func TestAnEmptyFolderIsTakenAndAFileIsNot(t *testing.T) {
	parent := t.TempDir()
	if err := os.Mkdir(filepath.Join(parent, "empty"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := Make(t.Context(), Out{Dir: filepath.Join(parent, "empty")}, fillWith(nil)); err != nil {
		t.Error(err)
	}
	put(t, parent, "file", "mine")
	if err := Make(t.Context(), Out{Dir: filepath.Join(parent, "file")}, fillWith(nil)); !isOutputError(err) {
		t.Errorf("error %v", err)
	}
	if got := tree(t, parent)["file"]; got != "mine" {
		t.Errorf("the file became %q", got)
	}
}

// A run killed at any moment leaves one of these states. The next run leaves only the new folder; a
// next run that fails leaves only the old one.
func TestAKilledRunIsCleanedUpAfter(t *testing.T) {
	ours := `{"program": "driftreach", "outputs": []}`
	states := []struct {
		name  string
		files []string
	}{
		{"while building", []string{".out.driftreach-part/half.csv", "out/manifest.json"}},
		{"between the two renames", []string{".out.driftreach-old/manifest.json", ".out.driftreach-part/half.csv"}},
		{"before the old one was removed", []string{".out.driftreach-old/manifest.json", "out/manifest.json"}},
		{"with its lock", []string{".out.driftreach-lock", "out/manifest.json"}},
	}
	for _, s := range states {
		for _, fails := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, next fails %v", s.name, fails), func(t *testing.T) {
				parent := t.TempDir()
				for _, name := range s.files {
					put(t, parent, name, ours)
				}
				want := map[string]string{"out/": "", "out/manifest.json": ours}
				fill := func(*Folder) error { return errors.New("broken") }
				if !fails {
					fill = fillWith(map[string]string{"new.csv": "n"})
					want["out/new.csv"] = "n"
				}
				if err := Make(t.Context(), Out{Dir: filepath.Join(parent, "out")}, fill); (err != nil) != fails {
					t.Errorf("error %v", err)
				}
				got := tree(t, parent)
				if !fails {
					want["out/manifest.json"] = got["out/manifest.json"]
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("folder (-want +got):\n%s", diff)
				}
			})
		}
	}
}

func TestTwoRunsIntoOneFolderExcludeEachOther(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	err := Make(t.Context(), Out{Dir: dir}, func(f *Folder) error {
		if err := Make(t.Context(), Out{Dir: dir}, fillWith(nil)); !errors.Is(err, disk.ErrLocked) || !isOutputError(err) {
			t.Errorf("the second run gave %v", err)
		}
		return fillWith(map[string]string{"a": "1"})(f)
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := Make(t.Context(), Out{Dir: dir}, fillWith(nil)); err != nil {
		t.Errorf("the lock outlived its run: %v", err)
	}
}

// Many runs at once: each either finds the folder locked or succeeds, and at the end the folder is
// that of one run, complete.
func TestManyRunsAtOnceLeaveOneWholeFolder(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "out")
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for range 20 {
				text := fmt.Sprint(i)
				err := Make(t.Context(), Out{Dir: dir}, fillWith(map[string]string{"a": text, "b": text}))
				if err != nil && !errors.Is(err, disk.ErrLocked) {
					t.Errorf("run %d: %v", i, err)
				}
			}
		})
	}
	wait.Wait()
	got := tree(t, parent)
	if len(got) != 4 || got["out/a"] == "" || got["out/a"] != got["out/b"] {
		t.Errorf("at the end: %v", got)
	}
}
