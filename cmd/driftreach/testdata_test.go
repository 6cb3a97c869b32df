package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTestdataIsWhole holds every file that tests compare with or read to the list in
// testdata/files.txt, so that one that is lost fails also where a test goes through
// whatever a folder holds. -update writes the list.
func TestTestdataIsWhole(t *testing.T) {
	list := filepath.Join(top, "testdata", "files.txt")
	got := strings.Join(testdataFiles(t), "\n") + "\n"
	if *update {
		if err := os.WriteFile(list, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("other files than testdata/files.txt lists (-lost +new; -update writes it):\n%s", diff)
	}
}

// testdataFiles are the files below every folder called testdata, but for its own list
// and what fuzzing and property tests leave there.
func testdataFiles(t *testing.T) (files []string) {
	err := filepath.WalkDir(top, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		at, err := filepath.Rel(top, path)
		if err != nil {
			return err
		}
		parts := strings.Split(filepath.ToSlash(at), "/")
		inside := slices.Contains(parts, "testdata")
		switch name := entry.Name(); {
		case entry.IsDir() && (at != "." && strings.HasPrefix(name, ".") || name == "node_modules" || inside && (name == "rapid" || name == "fuzz")):
			return fs.SkipDir
		case !entry.IsDir() && inside && at != filepath.Join("testdata", "files.txt"):
			files = append(files, filepath.ToSlash(at))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	return files
}
